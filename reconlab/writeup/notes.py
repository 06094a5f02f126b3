"""The notes of a page: every chain behind a figure once, with where it stands, for print and for plain text."""

from __future__ import annotations

from dataclasses import dataclass, field

from reconlab.reasons import Reason
from reconlab.writeup.references import References

_SHORT = 60  # letters of a step that was written out before


@dataclass
class Notes:
    """The chains behind the figures of one page while it is written."""

    references: References
    places: dict[Reason, dict[str, None]] = field(default_factory=dict)
    written: set[Reason] = field(default_factory=set)

    def keep(self, why: Reason, place: str) -> None:
        """Remember a chain and where on the page it is asked for."""
        if why not in self.places:
            self._count(why)
        self.places.setdefault(why, {}).setdefault(place)

    def _count(self, step: Reason) -> None:
        self.references.note(step)
        for citation in step.sources:
            self.references.number(citation)
        for one in step.because:
            self._count(one)

    def listed(self) -> tuple[tuple[str, Reason], ...]:
        """Return each chain with the places that ask for it, in the order of the page."""
        return tuple((_where(list(filter(None, places))), why) for why, places in self.places.items())

    def once(self, step: Reason) -> tuple[str, bool]:
        """Return what a step says, and whether it was written out before: then only its beginning."""
        again = step in self.written and bool(step.because or len(step.says) > _SHORT)
        self.written.add(step)
        if not again:
            return step.says, False
        start = (
            step.says if len(step.says) <= _SHORT else f"{step.says[:_SHORT].rsplit(' ', 1)[0]} \N{HORIZONTAL ELLIPSIS}"
        )
        return f"{start} (as above)", True


def _where(places: list[str]) -> str:
    """Return the first place that asks for a chain, and how many more do."""
    more = f" (and {len(places) - 1} more)" if len(places) > 1 else ""
    return f"{places[0]}{more}" if places else "This page"
