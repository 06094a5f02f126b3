"""The notes of a page: every chain behind a figure once, with where it stands, for print and for plain text."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from reconlab.reasons import Citation, Reason
from reconlab.writeup.references import References

_SHORT = 60  # letters of a step that was written out before


@dataclass
class Notes:
    """The chains behind the figures of one page while it is written."""

    references: References
    places: dict[Reason, dict[str, None]] = field(default_factory=dict)
    written: set[Reason] = field(default_factory=set)

    def keep(self, why: Reason, place: str) -> None:
        """Remember the chain of a figure and where on the page it is asked for."""
        if why not in self.places:
            self.cite(why)
        self.places.setdefault(why, {}).setdefault(place)

    def cite(self, step: Reason) -> None:
        """Count the sources of a chain; one that stands behind words alone is cited there and needs no note."""
        self.references.note(step)
        for citation in step.sources:
            self.references.number(citation)
        for one in step.because:
            self.cite(one)

    def listed(self) -> tuple[tuple[str, Reason], ...]:
        """Return each chain with the places that ask for it, in the order of the page."""
        return tuple((_where(list(filter(None, places))), why) for why, places in self.places.items())

    def steps(self, step: Reason) -> Iterator[tuple[str, tuple[Citation, ...]]]:
        """Give a chain as a row of steps with their sources; a step written out before is named, not written again."""
        again = step in self.written and bool(step.because or len(step.says) > _SHORT)
        self.written.add(step)
        if again:
            yield f"{_beginning(step.says)} (as above)", ()
            return
        yield step.says, step.sources
        for under in step.because:
            yield from self.steps(under)


def _beginning(says: str) -> str:
    return says if len(says) <= _SHORT else f"{says[:_SHORT].rsplit(' ', 1)[0]} \N{HORIZONTAL ELLIPSIS}"


def _where(places: list[str]) -> str:
    """Return the first place that asks for a chain, and how many more do."""
    more = f" (and {len(places) - 1} more)" if len(places) > 1 else ""
    return f"{places[0]}{more}" if places else "This page"
