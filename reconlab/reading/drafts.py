"""An item being read, and one amount that several names share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed

from reconlab.reading.known import is_head, is_known, takes_head
from reconlab.reading.pieces import Piece
from reconlab.reading.run_together import run_together
from reconlab.reading.tokens import Token, says_none
from reconlab.receipts import Purpose


@dataclass
class Draft:
    """An item being read: the pieces that make it up."""

    names: list[Piece] = field(default_factory=list)
    quantity: Piece | None = None
    purpose: Purpose = "ingredient"
    purpose_pieces: list[Piece] = field(default_factory=list)
    each: bool = False
    doubtful: bool = False  # one amount before several names
    aside: bool = False  # words behind a direction: an ingredient only if words of sufficiency follow


def spread_out(drafts: Sequence[Draft], line: Sequence[Token]) -> list[Draft]:
    """Return items with one name each, where an amount was for each of several.

    Parameters
    ----------
    drafts : sequence of Draft
        The items.
    line : sequence of Token
        The line they are of.

    Returns
    -------
    list of Draft
        In order; the amount is given to every name.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("wax and lard")
    >>> len(spread_out([Draft(names=pieces_of(line), each=True)], line))
    2
    """
    return [single for draft in drafts for single in (_shared(draft, line) if draft.each else _several(draft, line))]


def _several(draft: Draft, line: Sequence[Token]) -> list[Draft]:
    """Give one amount before several names to each, where each is known and both together are not."""
    if says_none(line, _AND) or not any(line[piece.first].text.lower() in _AND for piece in draft.names):
        return [draft]
    parts = parts_of(draft.names, line)
    known = [is_known(_plain(part, line)) for part in parts]
    if len(parts) == 1 or sum(known) < min(len(parts), _MOST_KNOWN) or is_known(_plain(draft.names, line)):
        return [draft]
    if draft.quantity is not None and draft.purpose != "ingredient":
        return [draft]
    return [changed(draft, names=part, doubtful=True) for part in parts]


_AND = frozenset(("and", "&"))
_MOST_KNOWN = 2  # of a list; the others need not be on file


def _plain(names: Sequence[Piece], line: Sequence[Token]) -> str:
    return " ".join(
        line[piece.first].text for piece in names if piece.kind == "text" and line[piece.first].text != "the"
    )


def named(pieces: Sequence[Piece]) -> list[Piece]:
    """Return the pieces that are words of a name.

    Parameters
    ----------
    pieces : sequence of Piece
        Of a clause or a draft.

    Returns
    -------
    list of Piece
        Those of plain words.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("the white wax")
    >>> len(named(pieces_of(line)))
    2
    """
    return [piece for piece in pieces if piece.kind == "text"]


def parts_of(names: Sequence[Piece], line: Sequence[Token]) -> list[list[Piece]]:
    """Split names at commas, breaks and "and"; a part of preparation words alone stays with the one before it.

    Parameters
    ----------
    names : sequence of Piece
        The pieces of several names.
    line : sequence of Token
        The line they are of.

    Returns
    -------
    list of list of Piece
        The pieces of each name.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("wax, lard and oil")
    >>> len(parts_of(pieces_of(line), line))
    3
    """
    parts: list[list[Piece]] = [[]]
    for at, piece in enumerate(names):
        sign = line[piece.first].text.lower()
        if sign == "," and at + 1 < len(names) and line[names[at + 1].first].text.lower() in _LEANING:
            parts[-1].append(piece)  # racines de calamus, ou jonc odorant
        elif piece.kind == "break" or sign in _BETWEEN or is_stray_stop(line, piece.first):
            parts.append([])
        else:
            parts[-1].append(piece)
    joined: list[list[Piece]] = []
    for part in parts:
        leans = not named(part) or line[part[0].first].text.lower() in _LEANING
        if joined and leans:
            joined[-1] += part
        else:
            joined.append(part)
    return [part for part in joined if named(part)]


def is_stray_stop(line: Sequence[Token], at: int) -> bool:
    """Return whether a full stop hugs the word behind it, and not the one before: a comma's in "Musk .Ambergrise".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        One of them [1].

    Returns
    -------
    bool
        Whether it is one.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> is_stray_stop(tokens("Musk .Amber"), 1), is_stray_stop(tokens("Tinct. Rhei"), 1)
    (True, False)
    """
    if line[at].text != "." or not 0 < at < len(line) - 1:
        return False
    return line[at - 1].end < line[at].start and line[at].end == line[at + 1].start and line[at + 1].kind == "word"


_BETWEEN = frozenset((",", "and", "&", "et", "und", "u", "with", "{", "}"))
_LEANING = frozenset(("or", "ou", "oder", "vel", "seu", "sive", "e", "ex"))  # "calamus, or reed, of each"


def _shared(draft: Draft, line: Sequence[Token]) -> list[Draft]:
    """Give a quantity "of each" to every name before or behind it."""
    parts = parts_of(draft.names, line)
    shares_noun = [_shares_noun(part, parts[-1], line) for part in parts]
    cut = any(_is_abbreviated(part, line) for part in parts[1:])
    cut = cut or any(is_stray_stop(line, piece.first) for piece in draft.names)
    return [
        changed(draft, names=names, doubtful=draft.doubtful or cut or shared or len(apart) > 1)
        for part, shared in zip(parts, shares_noun, strict=True)
        for apart in (run_together(part, line),)
        for names in apart
    ] or [draft]


def _shares_noun(part: Sequence[Piece], last: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether a name may lack the noun of the last: "Citronella and lavender oil, of each"."""
    words = named(last)
    if part is last or len(words) <= len(named(part)):
        return False
    return takes_head(f"{line[words[-1].first].text} of", _plain(part, line))


def _is_abbreviated(part: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether a name begins with a short word that may belong to the one before: "Argent, viv. balsam"."""
    first = line[named(part)[0].first]
    stop = named(part)[0].after
    short = first.text.islower() and stop < len(line) and line[stop].text == "."
    return short and not is_head(first.text)
