"""One line of a receipt: which words are amount, name, preparation and purpose, and what was left unread.

A line is cut into sentences, a sentence into clauses (at semicolons), a clause into pieces. Then the order of its
first pieces tells how to read it: amount first ("two ounces of starch") or amount last ("Starch .... 2 oz.").
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed

from reconlab.reading.counted import PIECE, is_counted
from reconlab.reading.pieces import AMOUNTS, Piece, pieces_of, raw_pieces
from reconlab.reading.quantities import compound, other_reading
from reconlab.reading.tokens import Token, mark_at, tokens
from reconlab.receipts import Item, Line, Purpose, Quantity, Reading, Span
from reconlab.tables import Notation, rows

_FEW_WORDS = 6  # a line without an amount that is longer than this is prose, not an ingredient


@dataclass
class _Draft:
    """An item being read: the pieces that make it up."""

    names: list[Piece] = field(default_factory=list)
    quantity: Piece | None = None
    purpose: Purpose = "ingredient"
    purpose_pieces: list[Piece] = field(default_factory=list)
    each: bool = False


def read_line(text: str, number: int, *, among_ingredients: bool) -> Line:
    """Return a line as read.

    Parameters
    ----------
    text : str
        The printed line; line breaks may stand in it.
    number : int
        Number of the line, from which the ids of its items are made [1].
    among_ingredients : bool
        Whether it stands between ingredient lines: only then is a short line without an amount an ingredient.

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
    pieces = pieces_of(line)
    drafts: list[_Draft] = []
    for sentence in _sentences(pieces, line):
        if not any(piece.kind in AMOUNTS for piece in sentence):
            drafts += _bare(sentence, line) if among_ingredients or len(_named(sentence)) < len(sentence) else []
            continue
        opens = _opens_with_amount(sentence, line)
        for clause in _clauses(sentence, line):
            if any(piece.kind in AMOUNTS for piece in clause):
                opens = _opens_with_amount(clause, line)
            elif any(piece.kind == "direction" for piece in clause):
                continue
            drafts += _amount_first(clause, line) if opens else _amount_last(clause, line)
    built = [_item(draft, line, text) for draft in drafts if _named(draft.names)]
    items = _with_ids(built, number)
    if any(piece.kind == "ditto" for piece in pieces):
        items = tuple(changed(item, certain=False) for item in items)
    has_direction = any(piece.kind == "direction" for piece in pieces)
    kind = "ingredient" if items else "direction" if has_direction or line else "remark"
    return Line(id=str(number), text=text, kind=kind, items=items, unread=_unread(items, text))  # type: ignore[arg-type]


_VARIANT = re.compile(r"\s*(?:[IVX]+|[A-Z])\.\s?[\N{EM DASH}\N{EN DASH}]+\s*")


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
        if mark in (";", "|") or counts or opens:
            if clause:
                yield clause
            clause, amounts, counted = [], False, False
            if not opens:
                continue
        clause.append(piece)
        amounts, counted = amounts or piece.kind in AMOUNTS, counted or piece.counted
    if clause:
        yield clause


def _amount_first(clause: Sequence[Piece], line: Sequence[Token]) -> list[_Draft]:
    """Read "Six drams of glycerine, nine ounces of rosewater": an amount opens an item."""
    drafts: list[_Draft] = []
    each, total = False, False
    for piece in clause:
        last = drafts[-1] if drafts else None
        if piece.kind == "quantity" and total and last and not _names_follow(clause, piece):
            _close_total(drafts, piece, line)
            each, total = False, False
        elif piece.kind in ("quantity", "enough"):
            drafts.append(_opened(piece, each=each and not drafts))
        elif piece.kind == "each":
            each = True
            _share(drafts, piece)
        elif last and piece.kind == "total":
            total = True
            last.purpose_pieces.append(piece)
        elif last and _starts_directions(piece, last, line):
            break
        elif last:
            last.names.append(piece)
    return _spread_out(drafts, line)


def _opened(piece: Piece, *, each: bool) -> _Draft:
    if piece.kind == "enough":
        return _Draft(purpose="enough", purpose_pieces=[piece])
    return _Draft(quantity=piece, each=each)


def _share(drafts: list[_Draft], piece: Piece) -> None:
    """Note that an amount is for each of several; "equal parts of" is an amount itself."""
    if piece.quantity is not None:
        drafts.append(_Draft(quantity=piece))
    if drafts:
        drafts[-1].each = True


def _starts_directions(piece: Piece, last: _Draft, line: Sequence[Token]) -> bool:
    return piece.kind == "direction" and bool(last.names) and line[piece.first].text[0].isupper()


def _names_follow(clause: Sequence[Piece], amount: Piece) -> bool:
    """Return whether an amount has a name of its own behind it: "1 ounce of wax to 1 pound of oil" makes no total."""
    behind = (piece.kind for piece in clause if piece.first > amount.first and piece.kind in ("quantity", "text"))
    return next(behind, "") == "text"


def _close_total(drafts: list[_Draft], amount: Piece, line: Sequence[Token]) -> None:
    """Give "... and water to make 8 oz." its own item: the last name before the words is the one that fills up."""
    last = drafts[-1]
    *kept, filler = _parts(last.names, line) or [[]]
    if last.quantity is None:  # sufficient rosewater to make up four ounces
        last.purpose, last.quantity = "total", amount
    elif kept:
        words = [piece for piece in last.purpose_pieces if piece.kind == "total"]
        last.purpose_pieces = [piece for piece in last.purpose_pieces if piece.kind != "total"]
        last.names = [piece for part in kept for piece in part]
        drafts.append(_Draft(names=filler, quantity=amount, purpose="total", purpose_pieces=words))
    else:  # an amount to make of nothing named: left unread
        last.purpose_pieces = []


def _amount_last(clause: Sequence[Piece], line: Sequence[Token]) -> list[_Draft]:
    """Read "White wax, 1 oz.": an amount closes the item whose name stands before it."""
    drafts: list[_Draft] = []
    draft = _Draft()
    for piece in clause:
        if piece.kind == "each" and piece.quantity is None:
            (drafts[-1] if drafts and not _named(draft.names) else draft).each = True  # "one drachm each" too
        elif piece.kind == "total":
            draft.purpose = "total"
            draft.purpose_pieces.append(piece)
        elif piece.kind == "enough":
            drafts.append(_enough(draft, piece))
            draft = _Draft()
        elif piece.kind == "quantity" or piece.quantity is not None:
            draft.each = draft.each or piece.kind == "each"
            if drafts and _goes_on(drafts[-1], draft, piece):
                draft = _Draft()
                continue
            if drafts and draft.purpose == "ingredient" and not _named(draft.names) and _names_follow(clause, piece):
                rest = [later for later in clause if later.first >= piece.first]  # ten drops, and a pint of spirit
                return _spread_out(drafts, line) + _amount_first(rest, line)
            draft.quantity = piece
            drafts.append(draft)
            draft = _Draft()
        elif piece.kind == "direction" and drafts and not draft.names:
            break
        else:
            behind = piece.kind == "preparation" and not _named(draft.names) and _ends(clause, piece, line)
            (drafts[-1] if drafts and behind else draft).names.append(piece)
    if _named(draft.names) and not drafts:
        drafts.append(draft)
    return _spread_out(drafts, line)


def _enough(draft: _Draft, piece: Piece) -> _Draft:
    draft.purpose = "total" if draft.purpose == "total" else "enough"
    draft.purpose_pieces.append(piece)
    return draft


def _spread_out(drafts: Sequence[_Draft], line: Sequence[Token]) -> list[_Draft]:
    return [single for draft in drafts for single in (_shared(draft, line) if draft.each else [draft])]


def _goes_on(previous: _Draft, draft: _Draft, amount: Piece) -> bool:
    """Give an amount to the item before it where it goes on with that: q.s. ad 8 oz., and 1 lb., 4 oz."""
    if previous.purpose == "enough" and not draft.names:
        previous.purpose, previous.quantity = "total", amount
        previous.purpose_pieces += draft.purpose_pieces
        return True
    first = previous.quantity
    if _named(draft.names) or first is None or first.quantity is None or amount.quantity is None:
        return False
    both = compound(first.quantity, amount.quantity)
    if both is not None:
        previous.quantity = Piece("quantity", first.first, amount.after, both)
    return both is not None


def _ends(clause: Sequence[Piece], piece: Piece, line: Sequence[Token]) -> bool:
    """Return whether only points stand behind a piece: "2 oz. in fine powder."."""
    return all(line[p.first].kind == "point" or p.kind == "preparation" for p in clause if p.first > piece.first)


def _bare(sentence: Sequence[Piece], line: Sequence[Token]) -> list[_Draft]:
    """Read a short line without an amount as an ingredient without one."""
    named = _named(sentence)
    if (
        any(p.kind == "direction" for p in sentence)
        or not 0 < len(named) <= _FEW_WORDS
        or line[sentence[0].first].text == "("
    ):
        return []
    return [_Draft(names=list(sentence))]


def _named(pieces: Sequence[Piece]) -> list[Piece]:
    return [piece for piece in pieces if piece.kind == "text"]


def _parts(names: Sequence[Piece], line: Sequence[Token]) -> list[list[Piece]]:
    """Split names at commas, breaks and "and"; a part of preparation words alone stays with the one before it."""
    parts: list[list[Piece]] = [[]]
    for piece in names:
        if line[piece.first].text.lower() in (",", "and", "&", "et", "und", "with", "{", "}") or piece.kind == "break":
            parts.append([])
        else:
            parts[-1].append(piece)
    joined: list[list[Piece]] = []
    for part in parts:
        if _named(part) or not joined:
            joined.append(part)
        else:
            joined[-1] += part
    return [part for part in joined if _named(part)]


def _shared(draft: _Draft, line: Sequence[Token]) -> list[_Draft]:
    """Give a quantity "of each" to every name before or behind it."""
    return [changed(draft, names=part) for part in _parts(draft.names, line)] or [draft]


def _behind_directions(names: Sequence[Piece]) -> list[Piece]:
    """Return the pieces of a name behind the directions before it: "let stand, then add bay rum"."""
    told = [at for at, piece in enumerate(names) if piece.kind == "direction"]
    kept = list(names[told[-1] + 1 :]) if told else []
    return kept if any(piece.kind == "text" for piece in kept) else list(names)


def _item(draft: _Draft, line: Sequence[Token], text: str) -> Item:
    draft = changed(draft, names=_behind_directions(draft.names))
    names = _without_edges(draft.names, line)
    prepared = [piece for piece in draft.names if piece.kind == "preparation"]
    strong = [piece for piece in draft.names if piece.kind == "strength"]
    kept = _without_edges([piece for piece in names if piece.kind not in ("preparation", "strength")], line)
    kept = _without_half_bracket(kept, line) if strong else kept
    amount, unit = _amount_and_unit(draft.quantity, line)
    spans = {
        "amount": amount,
        "unit": unit,
        "name": _spans(kept, line),
        "preparation": _spans(prepared, line),
        "strength": _spans(strong, line),
        "purpose": _spans(draft.purpose_pieces, line),
    }
    quantity = _counted(draft.quantity.quantity, _words(spans["name"], text)) if draft.quantity else None
    parts = quantity.parts if quantity else ()
    bare = any(part.unit is None or part.amount.value is None for part in parts)  # no unit, or an illegible figure
    item = Item(
        id="",
        name=_words(spans["name"], text),
        preparation=_words(spans["preparation"], text),
        strength=_words(spans["strength"], text),
        purpose=draft.purpose,
        each=draft.each,
        certain=bool(kept)
        and not bare
        and not _broken(kept, draft.quantity, line)
        and (quantity is not None or draft.purpose == "enough"),
        quantities=(quantity,) if quantity else (),
        spans={kind: found for kind, found in spans.items() if found},
    )
    first = draft.quantity.first if draft.quantity else 0
    behind_dots = first > 0 and line[first - 1].kind == "leader"
    doubt = other_reading(quantity, behind_dots=behind_dots) if quantity else None
    if doubt is None:
        return item
    other = Reading(changed(item, quantities=(doubt.quantity,)), doubt.standing, doubt.because)
    return changed(item, certain=False, readings=(other,))


def _broken(names: Sequence[Piece], quantity: Piece | None, line: Sequence[Token]) -> bool:
    """Return whether a figure fell apart in print: one stands at the edge of the name, or a unit behind the amount."""
    edges = (line[names[0].first], line[names[-1].after - 1])
    unit = mark_at(line, quantity.after) if quantity and quantity.after < len(line) else None
    lone_unit = unit is not None and "unit" in unit.meanings and unit.meanings["unit"].written not in ("word", "alone")
    return any(token.kind == "number" or token.text in ("l", "I", "O") for token in edges) or lone_unit


def _counted(quantity: Quantity | None, name: str) -> Quantity | None:
    """Return a bare number behind a thing that receipts count as a count: "Eggs, 2"."""
    if quantity is None or quantity.parts[0].unit is not None or not is_counted(name):
        return quantity
    return changed(quantity, parts=(changed(quantity.parts[0], unit=PIECE, written="count"), *quantity.parts[1:]))


def _without_edges(pieces: Sequence[Piece], line: Sequence[Token]) -> list[Piece]:
    """Strip joining words, points, leaders and directions from both ends of a name."""
    kept = list(pieces)
    while kept and (kept[0].kind != "text" or line[kept[0].first].text.lower() in ("and", "of", "the")):
        kept.pop(0)
    while kept and kept[-1].kind != "text":
        kept.pop()
    return kept


def _spans(pieces: Sequence[Piece | None], line: Sequence[Token]) -> tuple[Span, ...]:
    """Return the spans of pieces; pieces with only blanks or a stop or hyphen between them become one span."""
    spans: list[Span] = []
    for piece in pieces:
        if piece is None:
            continue
        start, end = line[piece.first].start, line[piece.after - 1].end
        if spans and start - spans[-1][1] <= 1:
            spans[-1] = (spans[-1][0], end)
        else:
            spans.append((start, end))
    return tuple(spans)


def _amount_and_unit(quantity: Piece | None, line: Sequence[Token]) -> tuple[tuple[Span, ...], tuple[Span, ...]]:
    """Return where the figures of a quantity stand, and where its units stand."""
    if quantity is None or quantity.kind != "quantity":
        return (), ()
    figures: list[Piece] = []
    units: list[Piece] = []
    at = quantity.first
    while at < quantity.after:
        mark = mark_at(line, at)
        after = min(mark.after if mark is not None else at + 1, quantity.after)
        (units if mark is not None and "unit" in mark.meanings else figures).append(Piece("text", at, after))
        at = after
    return _spans(figures, line), _spans(units, line)


def _without_half_bracket(pieces: list[Piece], line: Sequence[Token]) -> list[Piece]:
    """Drop a bracket whose other half went with a strength: "Spirit (brandy 60 o.p.)"."""
    signs = [line[piece.first].text for piece in pieces]
    if signs.count("(") <= signs.count(")"):
        return pieces
    return [piece for piece, sign in zip(pieces, signs, strict=True) if sign != "("]


def _words(spans: Sequence[Span], text: str) -> str:
    return " ".join(" ".join(text[start:end].split()) for start, end in spans)


def _with_ids(items: Sequence[Item], number: int) -> tuple[Item, ...]:
    if len(items) == 1:
        return (changed(items[0], id=str(number)),)
    letters = "abcdefghijklmnopqrstuvwxyz"
    return tuple(changed(item, id=f"{number}{letters[i % 26]}{i // 26 or ''}") for i, item in enumerate(items))


_UNDERSTOOD = {"joining", "each", "heading", "ditto", "approximate"}


def _unread(items: Sequence[Item], text: str) -> tuple[Span, ...]:
    """Return the words no item took. Points, blanks, joining words and a lone "M." between items are no loss."""
    taken = [False] * len(text)
    for item in items:
        for spans in item.spans.values():
            for start, end in spans:
                taken[start:end] = [True] * (end - start)
    unread: list[Span] = []
    line, label = tokens(text), _variant_label(text)
    at = 0
    while at < len(line):
        token = line[at]
        mark = mark_at(line, at)
        known = mark is not None and bool(_UNDERSTOOD & set(mark.meanings))
        known = known or token.start < label
        after = mark.after if mark is not None and known and token.start >= label else at + 1
        wordless = token.kind in ("point", "leader", "break")
        if not (known or wordless or taken[token.start]):
            # What stands between two unread words is part of what was not read, unless an item took it.
            if unread and not any(taken[unread[-1][1] : token.start]):
                unread[-1] = (unread[-1][0], token.end)
            else:
                unread.append((token.start, token.end))
        at = after
    lone_direction = {
        row.printed for row in rows(Notation) if row.meaning == "direction" and row.written == "abbreviation"
    }
    return tuple(span for span in unread if text[span[0] : span[1]] not in lone_direction)
