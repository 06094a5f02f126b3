"""Preparations nobody has a formula of on file: known as a tincture, a syrup, an ointment of some thing, no more."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from reconlab.tables import MadeKind, Substance, by_id, rows

MADE = "formula not on file: "  # starts the id of such a preparation
_OF, _AND = " of ", " + "
ANY = "any"


@dataclass(frozen=True, slots=True)
class Made:
    """A preparation without a formula: its kind, how it was made, and the things it is made of."""

    kind: MadeKind
    making: str  # "compound", "dilute": words that make another preparation of it
    things: tuple[Substance, ...]

    @property
    def id(self) -> str:
        """The id it has wherever ids are kept."""
        made = " ".join(filter(None, (self.making, self.kind.kind)))
        return f"{MADE}{made}{_OF}{_AND.join(one.id for one in self.things)}"

    @property
    def name(self) -> str:
        """What it is called."""
        of = " and ".join(one.name for one in self.things)
        return f"{' '.join(filter(None, (self.making, self.kind.says.format(of))))} (formula not on file)"

    @property
    def never_handled(self) -> str:
        """The poison families of what it is made of."""
        return ", ".join(dict.fromkeys(one.never_handled for one in self.things if one.never_handled))


@lru_cache(maxsize=8192)
def made_of(key: str) -> Made | None:
    """Return the preparation an id stands for.

    Parameters
    ----------
    key : str
        An id.

    Returns
    -------
    Made or None
        None where the id is that of no such preparation.

    Examples
    --------
    >>> made_of("formula not on file: syrup of ginger").name, made_of("ginger")
    ('syrup of ginger (formula not on file)', None)
    """
    if not key.startswith(MADE):
        return None
    head, _, of = key.removeprefix(MADE).partition(_OF)
    things = tuple(by_id(Substance)[one] for one in of.split(_AND) if one in by_id(Substance))
    words = head.split()
    for at in range(len(words)):
        named = " ".join(words[at:])
        # a row of names.csv may name what the classes would not let a rule find: wine of iron
        kind = kind_of(named, things) or next((row for row in rows(MadeKind) if things and row.kind == named), None)
        if kind is not None:
            return Made(kind, " ".join(words[:at]), things)
    return None


def kind_of(head: str, things: Sequence[Substance]) -> MadeKind | None:
    """Return the kind a head word stands for, of these things.

    Parameters
    ----------
    head : str
        The English head word.
    things : sequence of Substance
        What it is made of.

    Returns
    -------
    MadeKind or None
        None where there is no such preparation of one of them: no tincture of chalk.

    Examples
    --------
    >>> from reconlab.tables import Substance, by_id
    >>> kind_of("tincture", [by_id(Substance)["ginger"]]).state, kind_of("tincture", [by_id(Substance)["talc"]])
    ('liquid', None)
    """
    fit = (row for row in rows(MadeKind) if row.kind == head and things and all(_has(row, one) for one in things))
    return next(fit, None)


def _has(row: MadeKind, thing: Substance) -> bool:
    return row.of == (ANY,) or not {thing.class_, thing.state, *thing.functions}.isdisjoint(row.of)


def heads() -> Iterable[str]:
    """Return every head word of a preparation, the longest first.

    Returns
    -------
    iterable of str
        Each once.

    Examples
    --------
    >>> "tincture" in heads()
    True
    """
    return sorted(dict.fromkeys(row.kind for row in rows(MadeKind)), key=len, reverse=True)
