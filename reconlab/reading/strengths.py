"""Printed strengths in a line: "60 over proof", "sp. gr. .838", "36° Cartier", "95 per cent. by volume".

What the words mark stands in the notation table: a strength's ``value`` says where its words stand by the figure.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from reconlab.reading.tokens import Mark, Token, mark_at
from reconlab.tables import Strength, rows

# A gravity without its sign: three places below one, two and more above: ".880", "1.16". No liquid is below 0.6, and
# nobody prints that of water.
_GRAVITY = re.compile(r"0?\.[6-9]\d{2,3}|1\.(?!0+\b)\d{2,4}")
_LINKS = frozenset(
    ("of", "at", "a", "containing", "marking", "the", "=", ":", "de", "à", "titrant", "marquant", "pesant", "von", "zu")
)


@dataclass(frozen=True, slots=True)
class Strong:
    """Degrees or a strength found in a line."""

    after: int  # token behind it
    kind: str  # strength; degrees, which are one only beside an amount; text, for degrees of heat


def strength_at(line: Sequence[Token], at: int) -> Strong | None:
    """Return the strength that starts at a token.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Strong or None
        None where none starts here; a per cent is an amount as well, and read as one first.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> strength_at(tokens("60 over proof spirit"), 0).after, strength_at(tokens("60 ounces"), 0)
    (3, None)
    """
    if line[at].kind == "number":
        return _degrees(line, at)
    if _mark(line, at, "before") is None:
        return None
    figure = _mark_after(line, at)
    while figure < len(line) and line[figure].text.lower() in _LINKS:
        figure += 1
    if figure < len(line) and line[figure].kind == "number":
        return Strong(figure + 1, "strength")
    return None


def basis_after(line: Sequence[Token], at: int) -> int:
    """Return the token behind "by volume", "by weight" and the like, or the same token where none stands there.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token behind a per cent [1].

    Returns
    -------
    int
        Token behind the words [1].

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> basis_after(tokens("90 per cent, by volume"), 3)
    6
    """
    start = at + 1 if at < len(line) and line[at].text in (",", "(") else at
    mark = _mark(line, start, "basis")
    return at if mark is None else mark.after


def links_before(line: Sequence[Token], at: int) -> int:
    """Return where a strength begins with the words that lead up to it, as in "spirit of 36 degrees".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        First token of the strength [1].

    Returns
    -------
    int
        First of the words that lead up to it [1].

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> links_before(tokens("spirit of the sp. gr. .838"), 3)
    1
    """
    while at > 1 and line[at - 1].kind == "word" and line[at - 1].text.lower() in _LINKS:
        at -= 1
    return at


def is_gravity(printed: str) -> bool:
    """Return whether a figure without a unit has the look of a specific gravity.

    Parameters
    ----------
    printed : str
        The figure.

    Returns
    -------
    bool
        Whether it has.

    Examples
    --------
    >>> is_gravity(".880"), is_gravity("1.5"), is_gravity("0.5")
    (True, False, False)
    """
    return (
        _GRAVITY.fullmatch(printed.strip(" .,()")) is not None or _GRAVITY.fullmatch(printed.strip(" ,()")) is not None
    )


def names_spirit(line: Sequence[Token], at: int) -> bool:
    """Return whether a token alone is the name of a spirit, so that a figure before it is a strength: "95 alcohol".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        The token [1].

    Returns
    -------
    bool
        Whether it is one.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> names_spirit(tokens("95 alcohol"), 1), names_spirit(tokens("2 lemons"), 1)
    (True, False)
    """
    return at < len(line) and line[at].text.lower() in _names()


def _degrees(line: Sequence[Token], at: int) -> Strong | None:
    """Read a figure with a scale behind it, or with a degree sign alone."""
    degree = _mark(line, at + 1, "degree")
    percent = _percent(line, at + 1)
    behind = degree.after if degree else percent or at + 1
    heat = _mark(line, behind, "temperature") if degree else None
    if heat:
        return Strong(heat.after, "text")
    scale = behind + 1 if behind < len(line) and line[behind].text.lower() in ("of", "by", "de", "nach") else behind
    found = _mark(line, scale, "after") or (_mark(line, scale, "after degree") if degree else None)
    if found and not _names_a_spirit(line, scale, found.after):
        return Strong(found.after, "strength")
    return Strong(degree.after, "degrees") if degree else None


def _percent(line: Sequence[Token], at: int) -> int:
    mark = mark_at(line, at) if at < len(line) else None
    return mark.after if mark and "unit" in mark.meanings and mark.meanings["unit"].value == "percent" else 0


def _names_a_spirit(line: Sequence[Token], first: int, after: int) -> bool:
    """Return whether the words of a scale open the name of a spirit: "15 proof spirit" has no strength beside it."""
    words = [token.text.lower() for token in line[first : after + 1] if token.kind == "word"]
    return len(words) > 1 and after - first == 1 and " ".join(words) in _names()


@cache
def _names() -> frozenset[str]:
    return frozenset(name for row in rows(Strength) for name in row.names)


def _mark(line: Sequence[Token], at: int, value: str) -> Mark | None:
    mark = mark_at(line, at) if at < len(line) else None
    meaning = mark.meanings.get("strength") if mark else None
    return mark if meaning is not None and meaning.value == value else None


def _mark_after(line: Sequence[Token], at: int) -> int:
    mark = mark_at(line, at)
    return mark.after if mark else at + 1
