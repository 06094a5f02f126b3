"""One line of a receipt: which words are amount, name, preparation and purpose, and what was left unread.

A line is cut into sentences, a sentence into clauses (at semicolons), a clause into pieces. Then the order of its
first pieces tells how to read it: amount first ("two ounces of starch") or amount last ("Starch .... 2 oz.").
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from reconlab.reading.carried import resolved
from reconlab.reading.drafts import Draft, amount_first, amount_last, bare, named
from reconlab.reading.grouping import grouped
from reconlab.reading.items import is_empty, item_of, unread_of, with_ids
from reconlab.reading.pieces import AMOUNTS, Piece, pieces_of, raw_pieces
from reconlab.reading.tokens import Token, mark_at, tokens
from reconlab.receipts import Item, Line


def read_line(text: str, number: int, *, among_ingredients: bool, before: Item | None = None) -> Line:
    """Return a line as read.

    Parameters
    ----------
    text : str
        The printed line; line breaks may stand in it.
    number : int
        Number of the line, from which the ids of its items are made [1].
    among_ingredients : bool
        Whether it stands between ingredient lines: only then is a short line without an amount an ingredient.
    before : Item or None
        The last item before it on the page, for ditto marks.

    Returns
    -------
    Line
        Items with their spans; what was not read is listed.

    Examples
    --------
    >>> line = read_line("Oil of bergamot, oil of lemon, of each 20 drops.", 1, among_ingredients=True)
    >>> [(item.name, item.quantities[0].parts[0].unit, item.each) for item in line.items]
    [('Oil of bergamot', 'drop', True), ('oil of lemon', 'drop', True)]
    """
    line = [token for token in tokens(text) if token.start >= _variant_label(text)]
    pieces = grouped(pieces_of(line), line)
    drafts: list[Draft] = []
    for sentence in _sentences(pieces, line):
        if not any(piece.kind in AMOUNTS for piece in sentence):
            drafts += bare(sentence, line) if among_ingredients or len(named(sentence)) < len(sentence) else []
            continue
        opens = _opens_with_amount(sentence, line)
        for clause in _clauses(sentence, line):
            if any(piece.kind in AMOUNTS for piece in clause):
                opens = _opens_with_amount(clause, line)
            elif any(piece.kind == "direction" for piece in clause):
                continue
            drafts += amount_first(clause, line) if opens else amount_last(clause, line)
    built: list[Item] = []
    for draft in drafts:
        if named(draft.names) and not is_empty(named(draft.names), line):
            built.append(resolved(item_of(draft, line, text), built[-1] if built else before))
    items = with_ids(built, number)
    has_direction = any(piece.kind == "direction" for piece in pieces)
    kind = "ingredient" if items else "direction" if has_direction or line else "remark"
    return Line(id=str(number), text=text, kind=kind, items=items, unread=unread_of(items, text, _variant_label(text)))  # type: ignore[arg-type]


_VARIANT = re.compile(
    r"\s*\|?\s*(?:(?:[IVX]+|[A-Z])\.\s?[\N{EM DASH}\N{EN DASH}]+|\(_?[a-h]_?\))\s*"
)  # II.---Starch with a long dash, (_b_) Starch


def _variant_label(text: str) -> int:
    """Return where a line begins behind the number of its variant: "II.---Starch" with a long dash."""
    match = _VARIANT.match(text)
    return match.end() if match else 0


def _opens_with_amount(pieces: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether amounts stand before their names; "then add bay rum one gill, salt ..." has them behind."""
    kinds = [piece.kind for piece in pieces]
    first = next(at for at, kind in enumerate(kinds) if kind in AMOUNTS)
    before = kinds[:first]
    if "direction" not in before:
        return "text" not in before
    told = len(before) - 1 - before[::-1].index("direction")
    named = "text" in before[told:]
    after = pieces[first].after
    ends = after >= len(line) or line[after].text in ",;."
    return not (named and ends)


def amounts_in(text: str) -> int:
    """Return how many amounts stand in a text.

    Parameters
    ----------
    text : str
        A line.

    Returns
    -------
    int
        Their number; words of sufficiency count [1].

    Examples
    --------
    >>> amounts_in("Starch 10 oz.; talc 2 oz."), amounts_in("Mix well.")
    (2, 0)
    """
    return sum(piece.kind in AMOUNTS for piece in raw_pieces(tokens(text)))


def has_amount(text: str) -> bool:
    """Return whether any quantity, or word of sufficiency, stands in a text.

    Parameters
    ----------
    text : str
        A line; the number of a title ("Lip Salve No. 2") is no amount.

    Returns
    -------
    bool
        Whether one was found.

    Examples
    --------
    >>> has_amount("Starch 10 oz."), has_amount("Violet Powder")
    (True, False)
    """
    return any(piece.kind in AMOUNTS for piece in raw_pieces(tokens(text)))


def _sentences(pieces: Sequence[Piece], line: Sequence[Token]) -> Iterator[list[Piece]]:
    """Cut at a full stop behind which a new sentence starts; an abbreviation's stop cuts nothing."""
    sentence: list[Piece] = []
    seen = False
    for index, piece in enumerate(pieces):
        sentence.append(piece)
        seen = seen or piece.kind in ("quantity", "enough")
        following = pieces[index + 1] if index + 1 < len(pieces) else None
        stop = line[piece.after - 1].text == "."
        if following is None or not stop or not seen:
            continue
        capital = line[following.first].text[:1].isupper() or (following.kind == "quantity" and _opens(sentence))
        closes = _closes(sentence) if piece.kind == "quantity" else _is_whole_word(line, piece.first - 1)
        if capital and (following.kind == "direction" or closes):
            yield sentence
            sentence, seen = [], False
    if sentence:
        yield sentence


def _opens(sentence: Sequence[Piece]) -> bool:
    """Return whether its amounts stand before their names; where they stand behind, the next may belong to it."""
    words = next((piece.kind for piece in sentence if piece.kind in ("quantity", "text")), "")
    return words == "quantity" or any(piece.kind == "direction" for piece in sentence)


def _closes(sentence: Sequence[Piece]) -> bool:
    """Return whether the amount that ends a sentence belongs to a name before it: the stop is not its unit's alone."""
    before = [piece.kind for piece in sentence[:-1]]
    if next((kind for kind in before if kind in ("quantity", "text")), "") == "quantity":
        return False  # 2 oz. Starch; 3 oz. Orris root
    since = before[len(before) - before[::-1].index("quantity") :] if "quantity" in before else before
    return "text" in since


def _is_whole_word(line: Sequence[Token], at: int) -> bool:
    longest_abbreviation = 4
    return at >= 0 and (len(line[at].text) > longest_abbreviation or line[at].kind != "word")


_BEHIND_COUNT = (",", "and", "&", "in", "into", "with")


def _prepares(piece: Piece, line: Sequence[Token]) -> bool:
    """Return whether words of preparation start at a piece, or behind it: "1 lemon, sliced"."""
    behind = mark_at(line, piece.after)
    return piece.kind == "preparation" or (behind is not None and "preparation" in behind.meanings)


def _clauses(sentence: Sequence[Piece], line: Sequence[Token]) -> Iterator[list[Piece]]:
    clause: list[Piece] = []
    amounts = counted = False  # of the clause so far
    for piece in sentence:
        mark = line[piece.first].text.lower()
        counts = counted and mark in _BEHIND_COUNT and not _prepares(piece, line)
        opens = piece.counted and amounts
        cell = mark == "|" and not amounts  # the cells of a table: "| Starch | 2 oz. |"
        if (mark in (";", "|") and not cell) or counts or opens:
            if clause:
                yield clause
            clause, amounts, counted = [], False, False
            if not opens:
                continue
        if not cell:
            clause.append(piece)
        amounts, counted = amounts or piece.kind in AMOUNTS, counted or piece.counted
    if clause:
        yield clause
