"""What could stand in, and what changes? Documented substitutes by what the ingredient did."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reconlab.display import Card, Shown, Table
from reconlab.materia import substance_id, thing
from reconlab.reasons import Reason, figure
from reconlab.receipts import Use
from reconlab.screening import STOPS, rules_for
from reconlab.tables import Substitute, rows


@dataclass(frozen=True, slots=True)
class StandIn:
    """One documented substitute, with what the law asked about says of it."""

    row: Substitute
    law: tuple[str, ...]  # findings in words, for the use
    reason: Reason

    @property
    def ratio(self) -> str:
        """How much for one of the original, as a person reads it."""
        row = self.row
        if row.ratio is None and row.low is not None and row.high is not None:
            return f"{figure(row.low)} to {figure(row.high)} for 1, by {row.basis}"
        if row.ratio is None:
            return f"no ratio in the source (by {row.basis})"
        ends = (
            f" ({figure(row.low)} to {figure(row.high)})"
            if row.low is not None and row.high is not None and row.low < row.high
            else ""
        )
        return f"{figure(row.ratio)}{ends} for 1, by {row.basis}"


@dataclass(frozen=True, repr=False)
class StandIns(Shown):
    """The substitutes on file for one substance."""

    substance: str
    found: tuple[StandIn, ...]

    def card(self) -> Card:
        """Return the substitutes as a card."""
        shown = tuple(
            (
                thing(s.row.substitute).name,
                f"{s.row.did}: {s.row.because}",
                s.ratio,
                s.row.lost,
                "; ".join(filter(None, (s.row.also_change, s.row.cautions))),
                "; ".join(s.law),
            )
            for s in self.found
        )
        heads = ("substitute", "what it does", "how much", "what is lost", "also change, mind", "law")
        notes = (
            ()
            if self.found
            else ("No documented substitute on file: not looked up, which does not mean there is none.",)
        )
        return Card(f"In place of {thing(self.substance).name}", notes, (Table("", heads, shown),) if shown else ())


def substitutes(substance: str, use: Use | None = None) -> StandIns:
    """Return the documented substitutes for a substance, those reported for the form first.

    Parameters
    ----------
    substance : str
        Modern name or id of what is to be replaced.
    use : Use, optional
        The use; with it each substitute is held against the law asked about.

    Returns
    -------
    StandIns
        What is on file, never a poison; a substitute the law does not allow for the use comes last.

    Examples
    --------
    >>> "cetyl palmitate" in str(substitutes("spermaceti"))
    True
    """
    key = substance_id(substance)
    mine = [row for row in rows(Substitute) if row.substance == key and not thing(row.substitute).never_handled]
    found = [_stand_in(row, use) for row in mine]
    return StandIns(key, tuple(sorted(found, key=lambda s: (_forbidden(s.law), not _for_form(s.row, use)))))


def _stand_in(row: Substitute, use: Use | None) -> StandIn:
    law: Sequence[str] = ()
    if use is not None and use.law:
        law = rules_for(row.substitute, use)
    because = row.reason(f"{thing(row.substitute).name} for {thing(row.substance).name}, for {row.did}: {row.because}")
    return StandIn(row, tuple(law), because)


def _forbidden(law: Sequence[str]) -> bool:
    return any(words.startswith(STOPS) for words in law)


def _for_form(row: Substitute, use: Use | None) -> bool:
    return not row.forms or use is None or use.row.physical in row.forms
