"""Does the page itself say whose unit it is? "1 imperial pint", "2 oz. avoirdupois weight", "1 pint (wine measure)"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from reconlab.reading.tokens import Token, mark_at
from reconlab.tables import CustomUnit, rows

_OPENS, _CLOSES = (",", "("), ")"
_WEIGHED = (("by", "weight"), ("in", "weight"), ("au", "poids"), ("en", "poids"))
_KIND_WORDS = ("weight", "wt", "measure")
_NAMED_IN_FULL = ("_avdp", "_troy")
_ALSO_DRINKS = ("wine", "ale", "scots", "irish")  # behind a unit they name the drink, unless "measure" follows


@dataclass(frozen=True, slots=True)
class NamedUnit:
    """A unit with its system named on the page, and the token behind both."""

    unit: str
    after: int


def named_behind(line: Sequence[Token], unit: str, at: int) -> NamedUnit | None:
    """Return a unit with the system named behind it.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    unit : str
        Unit token read.
    at : int
        Token behind the unit [1].

    Returns
    -------
    NamedUnit or None
        None where no system is named there, or it has no such unit.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> named_behind(tokens("1 pint (wine measure)"), "pint", 2).unit
    'pint_wine'
    """
    if unit.endswith(_NAMED_IN_FULL) and at < len(line) and line[at].text.lower() in _KIND_WORDS:
        return NamedUnit(unit, at + 1)  # "oz. troy" is a unit in itself, and "weight" belongs to it
    opened = at < len(line) and line[at].text in _OPENS
    start = at + 1 if opened else at
    system = _system(line, start)
    if system is None:
        return None
    name, after = system
    kind = after < len(line) and line[after].text.lower() in _KIND_WORDS
    if (name in _ALSO_DRINKS and not kind) or f"{unit}_{name}" not in _named_units():
        return None
    after = _behind_point(line, after + 1 if kind else after)
    bracket = opened and line[at].text == "("
    closed = after < len(line) and line[after].text == _CLOSES
    return None if bracket and not closed else NamedUnit(f"{unit}_{name}", after + 1 if bracket else after)


def named_before(line: Sequence[Token], at: int) -> NamedUnit | None:
    """Return a unit with the system named before it.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    NamedUnit or None
        None where no system is named here, or what follows is no unit of it.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> named_before(tokens("1 imperial pint"), 1).unit
    'pint_imperial'
    """
    system = _system(line, at)
    if system is None:
        return None
    name, after = system
    mark = mark_at(line, after)
    unit = mark.meanings.get("unit") if mark else None
    if mark is None or unit is None or f"{unit.value}_{name}" not in _named_units():
        return None
    return NamedUnit(f"{unit.value}_{name}", mark.after)


def weighed_behind(line: Sequence[Token], at: int) -> int:
    """Return the token behind "by weight", "(by weight)", where the page says that the amount before it was weighed.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token behind the unit [1].

    Returns
    -------
    int
        The same token where nothing of the kind follows [1].

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> weighed_behind(tokens("8 oz. (by weight)"), 3), weighed_behind(tokens("8 oz."), 3)
    (7, 3)
    """
    opened = at < len(line) and line[at].text in _OPENS
    start = at + 1 if opened else at
    if tuple(token.text.lower() for token in line[start : start + 2]) not in _WEIGHED:
        return at
    after = start + 2
    if not opened or line[at].text == ",":
        return after
    return after + 1 if after < len(line) and line[after].text == _CLOSES else at


def _system(line: Sequence[Token], at: int) -> tuple[str, int] | None:
    mark = mark_at(line, at) if at < len(line) else None
    if mark is None or "system" not in mark.meanings:
        return None
    after = mark.after
    if after < len(line) and line[after].text in ("'", "\N{RIGHT SINGLE QUOTATION MARK}"):  # apothecaries' weight
        after += 1
    return mark.meanings["system"].value, after


def _behind_point(line: Sequence[Token], at: int) -> int:
    return at + 1 if at < len(line) and line[at].text == "." else at


@cache
def _named_units() -> frozenset[str]:
    """Return the units whose system is in their name: no custom changes them."""
    return frozenset(row.unit for row in rows(CustomUnit) if row.custom == "any")
