"""A solvent in enough quantity, before the amount of the thing: "opium dissolved in a little wine, a drachm"."""

from __future__ import annotations

from collections.abc import Sequence

from reconlab.reading.pieces import AMOUNTS, Piece
from reconlab.reading.tokens import Token, says_none

_DONE = frozenset((
    "dissolved", "dissolv'd", "disolved", "digested", "diluted", "diffused", "infused", "macerated", "melted", "mixed",
    "moistened", "rubbed", "softened", "soaked", "steeped", "suspended", "triturated", "dissous", "dissoute",
    "gel\N{LATIN SMALL LETTER O WITH DIAERESIS}st", "aufgel\N{LATIN SMALL LETTER O WITH DIAERESIS}st", "soluti",
    "solutae",
))  # fmt: skip
_IN = frozenset(("in", "with", "dans", "avec", "mit"))
_WORDS = ("text", "preparation", "joining", "ends")


def solvents_aside(pieces: Sequence[Piece], line: Sequence[Token]) -> list[Piece]:
    """Return pieces, what a thing is dissolved in as one of them where the amount of the thing stands behind it.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces of a line.
    line : sequence of Token
        The tokens of the line.

    Returns
    -------
    list of Piece
        The same, or with words of preparation for those of the solvent.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("opium dissolved in a sufficient quantity of wine, a drachm")
    >>> [piece.kind for piece in solvents_aside(pieces_of(line), line)]
    ['text', 'preparation', 'point', 'quantity']
    """
    if says_none(line, _DONE):
        return list(pieces)
    kept: list[Piece] = []
    at = 0
    while at < len(pieces):
        after = _solvent_end(pieces, at, line) if kept and line[pieces[at].first].text.lower() in _DONE else at
        if after > at:
            kept.append(Piece("preparation", pieces[at].first, pieces[after - 1].after))
            at = after
        else:
            kept.append(pieces[at])
            at += 1
    return kept


def _is_named(pieces: Sequence[Piece], at: int, line: Sequence[Token]) -> bool:
    """Return whether a name stands before a piece, with a comma between them or none."""
    before = at - 2 if at > 1 and line[pieces[at - 1].first].text == "," else at - 1
    return pieces[before].kind == "text"


def _solvent_end(pieces: Sequence[Piece], at: int, line: Sequence[Token]) -> int:
    """Return the piece behind a solvent whose words start at a piece; the same piece where none does."""
    if at + 2 >= len(pieces) or line[pieces[at + 1].first].text.lower() not in _IN or not _is_named(pieces, at, line):
        return at
    if pieces[at + 2].kind not in ("enough", "some"):
        return at
    after = at + 3
    while after < len(pieces) and pieces[after].kind in _WORDS:
        after += 1
    parted = after + 1 < len(pieces) and line[pieces[after].first].text == ","
    if not parted or pieces[after + 1].kind != "quantity":
        return at
    behind = pieces[after + 2] if after + 2 < len(pieces) else None
    closes = behind is None or line[behind.first].text in ".,;" or behind.kind in (*AMOUNTS, "break")
    return after if closes else at
