"""What a direction adds without an amount: "add as much camphor as will ...", "colour with a little carmine"."""

from __future__ import annotations

from collections.abc import Sequence

from reconlab.reading.drafts import Draft, named
from reconlab.reading.phrases import phrases
from reconlab.reading.pieces import Piece, raw_pieces
from reconlab.reading.tokens import Token, tokens

_FEW_WORDS = 5  # of the name of a thing
_BETWEEN = ("", "in", "to it", "to this", "to these")  # what may stand between "add" and "a little"
_OF_NAME = ("text", "joining", "preparation", "strength")
_JOINS = ("and", "&", "et", "und", "or")


def added_at(text: str) -> frozenset[int]:
    """Return where the names begin of things that a direction adds without an amount.

    Parameters
    ----------
    text : str
        A line or sentence.

    Returns
    -------
    frozenset of int
        Places in the text.

    Examples
    --------
    >>> sorted(added_at("Mix, and add as much camphor as you like; rub a little on the hands."))
    [21]
    """
    if not any(phrase.meaning == "adds" for phrase in phrases(text)):
        return frozenset()
    line = tokens(text)
    return frozenset(line[draft.names[0].first].start for draft in drafts_added(list(raw_pieces(line)), line, text))


def drafts_added(sentence: Sequence[Piece], line: Sequence[Token], text: str) -> list[Draft]:
    """Return the things that a sentence adds without an amount.

    Parameters
    ----------
    sentence : sequence of Piece
        Its pieces.
    line : sequence of Token
        The line it is of.
    text : str
        The line as printed.

    Returns
    -------
    list of Draft
        In order; none of them is certain.

    Examples
    --------
    >>> line = tokens("Colour with a little carmine.")
    >>> len(drafts_added(list(raw_pieces(line)), line, "Colour with a little carmine."))
    1
    """
    ends = [phrase.end for phrase in phrases(text) if phrase.meaning == "adds"]
    found = []
    for at, piece in enumerate(sentence):
        start = line[piece.first].start
        told = any(end <= start and text[end:start].strip().lower() in _BETWEEN for end in ends)
        names = _name_behind(sentence[at + 1 :], line) if piece.kind == "some" and told else []
        if 0 < len(named(names)) <= _FEW_WORDS:
            found.append(Draft(names=names, doubtful=True))
    return found


def _name_behind(pieces: Sequence[Piece], line: Sequence[Token]) -> list[Piece]:
    names: list[Piece] = []
    for piece in pieces:
        if piece.kind not in _OF_NAME or line[piece.first].text.lower() in _JOINS:
            break
        names.append(piece)
    while names and names[0].kind == "joining":
        names.pop(0)
    return names


def with_directions(pieces: Sequence[Piece], line: Sequence[Token], text: str) -> list[Piece]:
    """Return pieces with every word of a phrase such as "add to this" as a direction, so that none is of a name.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces of a line.
    line : sequence of Token
        The line.
    text : str
        The line as printed.

    Returns
    -------
    list of Piece
        The same; an amount stays one.

    Examples
    --------
    >>> line = tokens("Add to this wax")
    >>> [piece.kind for piece in with_directions(list(raw_pieces(line)), line, "Add to this wax")]
    ['direction', 'ends', 'direction', 'text']
    """
    if not any(piece.kind == "direction" for piece in pieces):
        return list(pieces)
    starts = {line[piece.first].start for piece in pieces if piece.kind == "direction"}
    spans = [(p.start, p.end) for p in phrases(text) if p.meaning == "adds" and p.start in starts]
    return [
        piece._replace(kind="direction")
        if piece.kind == "text" and any(start < line[piece.first].start < end for start, end in spans)
        else piece
        for piece in pieces
    ]
