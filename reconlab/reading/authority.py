"""Who is named before the first thing of a receipt: "(Robertson.) Soft soap, 2 oz.", "Han. Ph. Wax, 2 oz.".

Such a word is no part of the name. It is left unread where the rest is a name on file, and the item is never certain.
"""

from __future__ import annotations

from collections.abc import Sequence

from reconlab.reading.known import is_head, is_known
from reconlab.reading.pieces import Piece
from reconlab.reading.tokens import Token, mark_at

_BOOKS = frozenset(("ph", "phar", "pharm", "cod", "codex", "disp", "dr", "mr", "mrs", "prof", "sir", "u.s", "formul"))
_LEADING = frozenset(("from", "take", "of"))
_LONGEST = 5  # words that name an authority


def without_authority(names: Sequence[Piece], line: Sequence[Token]) -> tuple[list[Piece], bool]:
    """Return the pieces of a name without the authority before it, and whether one may stand there.

    Parameters
    ----------
    names : sequence of Piece
        The pieces of the name.
    line : sequence of Token
        The tokens of the line.

    Returns
    -------
    list of Piece, bool
        What is left, and whether the name is in doubt.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> for text in ("Han. Ph. Wax", "Tinct. Myrrh"):
    ...     line = tokens(text)
    ...     kept, doubtful = without_authority(pieces_of(line), line)
    ...     print([line[piece.first].text for piece in kept], doubtful)
    ['Wax'] True
    ['Tinct', '.', 'Myrrh'] False
    """
    whole = list(names)
    cut = _cut(whole, line)
    if not cut:
        return whole, False
    before, rest = whole[:cut], whole[cut:]
    while len(rest) > 1 and line[rest[0].first].text.lower() in _LEADING:
        rest = rest[1:]
    words = [line[piece.first].text.lower() for piece in before if line[piece.first].kind == "word"]
    if not words or len(words) > _LONGEST or not is_known(_said(rest, line)) or is_known(_said(whole, line)):
        return whole, False
    bracketed = _is_behind_bracket(whole, line, cut)
    if not bracketed and all(map(is_head, words)):
        return whole, False
    quality = any((mark := mark_at(line, piece.first)) is not None and mark.meanings for piece in before)
    if (bracketed and not quality) or not _BOOKS.isdisjoint(words):
        return rest, True
    return whole, True


def _cut(names: Sequence[Piece], line: Sequence[Token]) -> int:
    """Return where a name goes on with a capital behind a stop or a closing bracket [1]; 0 where it does not."""
    for at in range(len(names) - 1, 0, -1):
        first = names[at].first
        if not line[first].text[0].isupper():
            continue
        stop, before = line[first - 1].text, line[first - 2].text
        if stop in (".", "_") or _is_behind_bracket(names, line, at) or stop == before == "-":
            return at
    return 0


def _is_behind_bracket(names: Sequence[Piece], line: Sequence[Token], at: int) -> bool:
    """Return whether the words before a piece stand in brackets, which may have been left off already."""
    opened = "(" in (line[names[0].first].text, line[names[0].first - 1].text if names[0].first else "")
    return opened and line[names[at].first - 1].text == ")"


def _said(names: Sequence[Piece], line: Sequence[Token]) -> str:
    return " ".join(line[piece.first].text for piece in names if line[piece.first].kind == "word")
