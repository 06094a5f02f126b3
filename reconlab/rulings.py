"""Which rows of law speak of a substance for a use, and what the law of another place lends where a list was not read.

Great Britain kept the EU's Regulation as it stood at the end of 2020 and has amended it by itself since; its lists were
not read. So the EU's rows stand in for them: what a later act of the EU changed is taken over as a ban or as a doubt.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from reconlab.receipts import Use
from reconlab.tables import LawText, Rule, by_id, rows

LENDER = "EU"
KEPT_TO = "2020"  # the last year whose acts of the EU stand in the British text


@dataclass(frozen=True, slots=True)
class Lent:
    """A row of EU law that speaks where the list of the law asked about was not read."""

    rule: Rule
    binding: bool  # whether it is held to as if it were that law's own
    why: str


def own(law: str, substance: str, use: Use) -> tuple[Rule, ...]:
    """Return the rows of a law about a substance for a use.

    Parameters
    ----------
    law : str
        EU, GB, US or CA.
    substance : str
        Id of the substance.
    use : Use
        Form, day and wearer.

    Returns
    -------
    tuple of Rule
        In the order of the table; empty where no row speaks.

    Examples
    --------
    >>> [rule.entry for rule in own("EU", "borax", Use("cold cream"))]
    ['II 1396']
    """
    return tuple(rule for rule in every().get((law, substance), ()) if is_about(rule, use))


def lent(law: str, substance: str, use: Use) -> tuple[Lent, ...]:
    """Return what EU law says of a substance where the list of the law asked about was not read for it.

    Parameters
    ----------
    law : str
        The law asked about.
    substance : str
        Id of the substance.
    use : Use
        Form, day and wearer.

    Returns
    -------
    tuple of Lent
        Under GB the bans and limits that no British row answers; elsewhere only the bans, as doubts; under EU none.

    Examples
    --------
    >>> [(row.rule.entry, row.binding) for row in lent("GB", "chloroform", Use("cold cream"))]
    [('II 366', True)]
    >>> [row.binding for row in lent("CA", "chloroform", Use("cold cream"))]
    [False]
    """
    if law in ("", LENDER):
        return ()
    answered = every().get((law, substance), ())
    return tuple(_lent(law, rule) for rule in own(LENDER, substance, use) if _is_lent(law, rule, answered))


def _is_lent(law: str, rule: Rule, answered: tuple[Rule, ...]) -> bool:
    if law != "GB":
        return rule.rule == "forbidden" and not answered
    if rule.rule not in ("forbidden", "restricted") and rule.limit_percent is None:
        return False
    return rule.entry.split(" (")[0] not in {row.entry.split(" (")[0] for row in answered}


def _lent(law: str, rule: Rule) -> Lent:
    if law != "GB":
        verb = "forbids" if rule.rule == "forbidden" else "limits"
        return Lent(rule, binding=False, why=f"The EU {verb} it; the {law} list was not read for it: find out first.")
    if rule.act and rule.act.rpartition(" ")[2][:4] <= KEPT_TO:
        why = "The British list was not read; the EU's entry is of before 31 December 2020, so Britain kept it."
        return Lent(rule, binding=True, why=f"{why} What Britain changed since was not read.")
    act = f"an act Britain need not follow, {rule.act}" if rule.act else "an act that was not read"
    why = f"The British list was not read; the EU's entry rests on {act}."
    if rule.entry.startswith("II "):
        return Lent(rule, binding=True, why=f"{why} Treated as forbidden until the British list is read.")
    return Lent(rule, binding=False, why=f"{why} Find out whether Britain has the like.")


def is_about(rule: Rule, use: Use) -> bool:
    """Return whether a row is about a use and has not ended on its day.

    Parameters
    ----------
    rule : Rule
        A row of law.
    use : Use
        Form, day and wearer.

    Returns
    -------
    bool
        A row that begins later is about it too: it is pending.

    Examples
    --------
    >>> borax = next(rule for rule in rows(Rule) if rule.id == "eu_ii_1396_borax")
    >>> is_about(borax, Use("cold cream"))
    True
    """
    form = use.row
    ended = bool(use.on and rule.applies_until and rule.applies_until < use.on)
    return not ended and (
        (not rule.on or bool(set(rule.on) & set(form.on)))
        and (not rule.physical or form.physical in rule.physical)
        and rule.dust in ("", form.dust)
        and rule.stays in ("", form.stays)
        and rule.wearer in ("", use.wearer)
    )


@cache
def every() -> dict[tuple[str, str], tuple[Rule, ...]]:
    """Return all rows of law by law and substance.

    Returns
    -------
    dict of tuple of str to tuple of Rule
        In the order of the table.

    Examples
    --------
    >>> ("EU", "borax") in every()
    True
    """
    return {key: tuple(found) for key, found in _gathered()}


def _gathered() -> Iterator[tuple[tuple[str, str], list[Rule]]]:
    gathered: dict[tuple[str, str], list[Rule]] = {}
    for rule in rows(Rule):
        gathered.setdefault((by_id(LawText)[rule.text].law, rule.substance), []).append(rule)
    yield from gathered.items()
