"""Which references does a page cite, and how are they numbered? By first mention; one number a source."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from reconlab.reasons import Citation, Reason
from reconlab.sources import formatted
from reconlab.tables import source_entries
from reconlab.writeup.blocks import BOOK, RECORD, Figure, Page, Text, joined, reasons_in

_UNPUBLISHED = {"from_memory": "from memory", "common_practice": "by common practice"}
_RUN = 3  # so many numbers in a row are written as first to last


@dataclass
class References:
    """The references of one page while it is written: a number for each source, and the places cited in it."""

    page: Page
    numbers: dict[Citation, int] = field(default_factory=dict)
    places: dict[Citation, dict[str, None]] = field(default_factory=dict)
    unread: dict[str, dict[str, None]] = field(default_factory=dict)  # what rests on memory or practice, by key

    def number(self, citation: Citation) -> int:
        """Return the number of a source, a new one at its first mention."""
        source = _source(citation)
        places = self.places.setdefault(source, {})
        if citation.place and source != citation:
            places.setdefault(citation.place)
        return self.numbers.setdefault(source, len(self.numbers) + 1)

    def runs(self, text: Text) -> tuple[tuple[int, int], ...]:
        """Return the numbers of all sources of a text, in order, as runs of first and last.

        A number is left out inside a run only where the note of a figure of the text names it.
        """
        every = {self.number(citation) for why in reasons_in(text) for citation in why.all_sources()}
        noted = {self.number(citation) for run in text if isinstance(run, Figure) for citation in run.why.all_sources()}
        return tuple(
            pair
            for first, last in _in_runs(sorted(every))
            for pair in (
                [(first, last)]
                if noted.issuperset(range(first + 1, last))
                else [(number, number) for number in range(first, last + 1)]
            )
        )

    def note(self, step: Reason) -> None:
        """Count a step that rests on memory or common practice."""
        for citation in step.sources:
            if citation.key in _UNPUBLISHED:
                self.unread.setdefault(citation.key, {}).setdefault(step.says)

    def unpublished(self) -> Text:
        """Return how many statements rest on memory or on common practice, said plainly."""
        said = tuple(
            (
                Figure(count, str(count), Reason(f"counted over the notes of this page, {words}", (Citation(key),))),
                f" {words}",
            )
            for key, words in _UNPUBLISHED.items()
            if (count := len(self.unread.get(key, {})))
        )
        if not said:
            return ("No statement behind the figures of this page rests on memory or on common practice alone.",)
        return (
            "Statements behind the figures of this page for which no published source was read: ",
            *joined(said, ", "),
            ".",
        )

    def listed(self) -> tuple[tuple[int, str], ...]:
        """Return each number with its reference in words."""
        return tuple((number, self._words(source)) for source, number in self.numbers.items())

    def _words(self, source: Citation) -> str:
        if source == BOOK:
            return self.page.book
        if source == RECORD:
            return self.page.record
        places = tuple(self.places[source])
        cited = f" Cited: {'; '.join(places)}." if places else ""
        words = formatted(source)
        return f"{words}{'' if words.endswith('.') else '.'}{cited}"


def _source(citation: Citation) -> Citation:
    """Return what is one reference: a source on file whatever the place in it, else the person's own words."""
    return Citation(citation.key) if citation.key in source_entries() else citation


def _in_runs(numbers: Iterable[int]) -> tuple[tuple[int, int], ...]:
    """Return numbers as runs of first and last; a run of two stays two numbers."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return tuple(
        pair
        for run in runs
        for pair in ([(run[0], run[-1])] if len(run) >= _RUN else [(number, number) for number in run])
    )
