"""Latin names that share one amount and stand with nothing between them: "Oxymel. scillit. Syr. scillit. aa."."""

from __future__ import annotations

from collections.abc import Sequence

from reconlab.reading.pieces import Piece
from reconlab.reading.tokens import Token, mark_at

_WHOLE_NAME = 2  # words; fewer may go on with a head of their own: mucilag. G. arab.


def run_together(names: Sequence[Piece], line: Sequence[Token]) -> list[list[Piece]]:
    """Cut a run of Latin names where a word stands that opens a name.

    Parameters
    ----------
    names : sequence of Piece
        The words of one name or of several.
    line : sequence of Token
        The line they are of.

    Returns
    -------
    list of list of Piece
        The words of each name; one list where nothing tells them apart.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("Oxymel. scillit. Syr. scillit.")
    >>> len(run_together(pieces_of(line), line)), len(run_together(pieces_of(line)[:4], line))
    (2, 1)
    """
    found: list[list[Piece]] = [[]]
    last = max((at for at, piece in enumerate(names) if piece.kind == "text"), default=0)
    for at, piece in enumerate(names):
        if at < last and _opens(piece, line, at) and _is_whole(found[-1], line):
            found.append([])
        found[-1].append(piece)
    return found


def _opens(piece: Piece, line: Sequence[Token], at: int) -> bool:
    """Return whether a word opens a name, and it or the one before is shortened: English names have no stops."""
    mark = mark_at(line, piece.first)
    known = piece.kind in ("text", "preparation") and mark is not None and "opens" in mark.meanings
    stops = (line[at].text for at in (piece.first - 1, piece.first + 1) if 0 <= at < len(line))
    return known and at > 0 and "." in stops


def _is_whole(names: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether words are a name already: two of them, the last no joining word, such as cum or e."""
    words = [piece for piece in names if piece.kind == "text"]
    joins = bool(names) and (names[-1].kind == "joining" or line[names[-1].first].text.lower() in ("e", "vel"))
    head = mark_at(line, words[0].first) if words else None
    alone = head is None or "opens" not in head.meanings  # Camph. Sacch. saturn.
    return len(words) >= _WHOLE_NAME - alone and bool(words) and not joins
