"""Whose unit does the quantity itself say it is? "3 Wiener Loth", "an English pint", "livre de Paris"."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

from reconlab.materia import identify
from reconlab.reading.tokens import Token, mark_at, tokens
from reconlab.receipts import Setting
from reconlab.tables import Region, rows

_WINCHESTER = "winchester"  # its measures were those of corn in all England, not of a town
_OF_LANDS = ("ish", "sche", "scher", "sches", "schen")  # how words end that need no capital
_LONGEST = 2  # words of a place beside a unit
_OF = ("de", "d'", "d\N{RIGHT SINGLE QUOTATION MARK}", "von", "of", "di")


class OfPlace(NamedTuple):
    """A quantity without the place it names, and that place."""

    text: str
    place: str


def of_place(text: str) -> OfPlace | None:
    """Return a quantity whose unit is said to be of a place.

    Parameters
    ----------
    text : str
        As printed.

    Returns
    -------
    OfPlace or None
        None where no place on file stands before the unit, or behind it with "of"; a thing that is called so
        ("a pint of Madeira") is none.

    Examples
    --------
    >>> of_place("3 Wiener Loth"), of_place("livre de Paris").place, of_place("a pint of Madeira")
    (OfPlace(text='3 Loth', place='wiener'), 'paris', None)
    """
    line = tokens(text)
    return _before(text, line) or _behind(text, line)


def _before(text: str, line: Sequence[Token]) -> OfPlace | None:
    for at, after, place in _places_in(line):
        # "a nice handful" is of no town
        named = line[at].text[0].isupper() or line[at].text.endswith(_OF_LANDS)
        if named and after < len(line) and _is_unit(line, after):
            return OfPlace(" ".join(filter(None, (text[: line[at].start].strip(), text[line[after].start :]))), place)
    return None


def _behind(text: str, line: Sequence[Token]) -> OfPlace | None:
    for at, after, place in _places_in(line):
        units = any(_is_unit(line, before) for before in range(max(at - 1, 0)))
        if at and after == len(line) and line[at - 1].text.lower() in _OF and units:
            called = identify(place, Setting()) is not None  # a wine may have the name of its town
            return None if called else OfPlace(text[: line[at - 1].start].strip(), place)
    return None


def _places_in(line: Sequence[Token]) -> list[tuple[int, int, str]]:
    found = []
    for at in range(len(line)):
        for length in range(_LONGEST, 0, -1):
            words = " ".join(token.text.lower() for token in line[at : at + length])
            if at + length <= len(line) and words in _places():
                found.append((at, at + length, words))
                break
    return found


def _is_unit(line: Sequence[Token], at: int) -> bool:
    mark = mark_at(line, at)
    return mark is not None and ("unit" in mark.meanings or "asked" in mark.meanings)


@cache
def _places() -> frozenset[str]:
    return frozenset(row.place.lower() for row in rows(Region)) - {_WINCHESTER}
