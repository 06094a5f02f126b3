"""From the pieces of an item to the item: its words, their places in the line, and whether it can be relied on."""

from __future__ import annotations

from bisect import bisect
from collections.abc import Sequence
from dataclasses import replace as changed

from reconlab.reading.authority import without_authority
from reconlab.reading.certainty import DOUBTFUL, is_sure
from reconlab.reading.counted import PIECE, is_counted
from reconlab.reading.damage import Doubt, other_readings
from reconlab.reading.drafts import Draft
from reconlab.reading.grouping import is_range_over_units
from reconlab.reading.known import is_known
from reconlab.reading.pieces import VESSELS, Piece, is_bare_decimal, is_decimal
from reconlab.reading.tokens import Token, mark_at
from reconlab.receipts import Item, Quantity, Reading, Span


def item_of(draft: Draft, line: Sequence[Token], text: str, number: str) -> Item:
    """Return the item that pieces make up.

    Parameters
    ----------
    draft : Draft
        Its pieces.
    line : sequence of Token
        The tokens of the line.
    text : str
        The line as printed.
    number : str
        Number of the line, for its id [1].

    Returns
    -------
    Item
        Alone in its line; what it takes over from another item is still open.

    Examples
    --------
    >>> from reconlab.reading.sides import amount_last
    >>> from reconlab.reading.tokens import tokens
    >>> from reconlab.reading.pieces import pieces_of
    >>> line = tokens("Starch, 3 oz.")
    >>> item_of(amount_last(pieces_of(line), line)[0], line, "Starch, 3 oz.", "1").name
    'Starch'
    """
    told = _behind_directions(draft.names, line)
    names = _behind_prose(_behind_place(_behind_lead(told, line), line), line)
    kept, authority = without_authority(_name_in(names, line), line)
    if draft.quantity is not None and draft.quantity.counted:
        kept = _without_size(kept, line)
    beside = [piece for piece in names if piece.kind in _BESIDE]
    amount, unit = _amount_and_unit(draft.quantity, line)
    spans = {
        "amount": amount,
        "unit": unit,
        "name": _spans(kept, line),
        "preparation": _spans([piece for piece in beside if piece.kind == "preparation"], line),
        "strength": _spans([piece for piece in beside if piece.kind == "strength"], line),
        "purpose": _spans(draft.purpose_pieces, line),
        "carried": _dittos(beside, line),
    }
    name = _words(spans["name"], text)
    quantities = _quantities(draft.quantity, name)
    decimal = bool(quantities) and is_bare_decimal(quantities[0])
    measured = _in_unit(quantities, "gram") if decimal else quantities
    item = Item(
        id=number,
        name=name,
        preparation=_words(spans["preparation"], text),
        strength=_words(spans["strength"], text),
        purpose=draft.purpose,
        each=draft.each,
        certain=bool(kept) and not authority and len(names) == len(told) and is_sure(draft, measured, kept, line),
        quantities=quantities,
        spans={kind: found for kind, found in spans.items() if found},
    )
    if decimal:
        return _in_grams(item)
    first = draft.quantity.first if draft.quantity else 0
    dots = line[first - 1].text if first > 0 and line[first - 1].kind == "leader" else ""
    doubts = other_readings(quantities[0], dots=dots) if quantities else ()
    item, readings = _likeliest(item, doubts)
    other_end = _other_end(draft.quantity)
    if other_end is not None:
        readings.append(Reading(changed(item, quantities=(other_end,)), "possible", _RANGE))
    return changed(item, certain=False, readings=tuple(readings)) if readings else item


def _likeliest(item: Item, doubts: Sequence[Doubt]) -> tuple[Item, list[Reading]]:
    """Return an item with the likeliest of its readings first; what stands on the page is then another."""
    first, *others = item.quantities or (None,)
    mended = next((doubt for doubt in doubts if doubt.standing == "likely"), None)
    told = [doubt for doubt in doubts if doubt is not mended]
    if first is not None and mended is not None:
        why = f"as it stands: {first.parts[0].amount.printed}; {mended.because}"
        told = [Doubt(first, "possible", why), *told]
        item = changed(item, quantities=(mended.quantity, *others))
    readings = [
        Reading(changed(item, quantities=(doubt.quantity, *others)), doubt.standing, doubt.because) for doubt in told
    ]
    return item, readings


_RANGE = "the page gives a range: this is its other end"


def _other_end(quantity: Piece | None) -> Quantity | None:
    """Return the second end of a range whose ends have units of their own."""
    second = quantity.second.quantity if quantity is not None and quantity.second is not None else None
    return second if quantity is not None and is_range_over_units(quantity.quantity, second) else None


_BESIDE = ("preparation", "strength", "ditto")  # in fields of their own


def _name_in(names: Sequence[Piece], line: Sequence[Token]) -> list[Piece]:
    """Return the pieces that name the thing, without what is said beside the name."""
    kept = _without_edges(_behind_bracket(names, line), line)
    if any(piece.kind in _BESIDE for piece in kept):
        kept = _without_edges([piece for piece in kept if piece.kind not in _BESIDE], line)
    return _without_brackets(kept, line)


def _in_grams(item: Item) -> Item:
    """Read a decimal without a unit as grams, as prescriptions with the decimal weight print them; or as parts.

    The other reading keeps whether all but the unit is sure: `gram_or_grain` may know the unit.
    """
    parts = _in_unit(item.quantities, "part")
    amount = changed(parts[0].parts[0].amount, printed=f"{parts[0].parts[0].amount.printed} parts")
    parts = (changed(parts[0], parts=(changed(parts[0].parts[0], amount=amount),)), *parts[1:])
    why = "the page prints no unit; only prescriptions of the continent leave out the gram behind a decimal comma"
    other = Reading(changed(item, quantities=parts), "possible", why)
    return changed(item, quantities=_in_unit(item.quantities, "gram"), certain=False, readings=(other,))


def _in_unit(quantities: Sequence[Quantity], unit: str) -> tuple[Quantity, ...]:
    """Return quantities, the first in a unit that is not printed."""
    first, *others = quantities
    return (changed(first, parts=(changed(first.parts[0], unit=unit),)), *others)


def _behind_bracket(names: Sequence[Piece], line: Sequence[Token]) -> Sequence[Piece]:
    """Return the pieces behind a bracket that stands before a name and tells of the amount: "12 drops (minims) oil"."""
    signs = [line[piece.first].text for piece in names]
    if signs[:1] != ["("] or ")" not in signs:
        return names
    close = signs.index(")")
    marks = (mark_at(line, piece.first) for piece in names[1:close])
    return names[close + 1 :] if any(mark is not None and "unit" in mark.meanings for mark in marks) else names


def _quantities(piece: Piece | None, name: str) -> tuple[Quantity, ...]:
    """Return the quantity of an item, and a second one printed beside it."""
    first = _counted(piece.quantity, name) if piece else None
    if piece is None or first is None:
        return ()
    second = piece.second.quantity if piece.second and not is_range_over_units(first, piece.second.quantity) else None
    return (first, changed(second, column=2)) if second else (first,)


def _without_size(names: list[Piece], line: Sequence[Token]) -> list[Piece]:
    """Leave out the size of a thing that is counted: "a large nutmeg", "rind of three large lemons"."""
    marks = [mark_at(line, piece.first) for piece in names[:-1]]
    kept = [name for name, mark in zip(names, marks, strict=False) if mark is None or "sized" not in mark.meanings]
    return [*kept, *names[-1:]]


def _dittos(names: Sequence[Piece], line: Sequence[Token]) -> tuple[Span, ...]:
    """Return where the ditto marks of a name stand, each by itself."""
    return tuple((line[piece.first].start, line[piece.after - 1].end) for piece in names if piece.kind == "ditto")


def _behind_directions(names: Sequence[Piece], line: Sequence[Token]) -> list[Piece]:
    """Return the pieces of a name behind the directions before it: "let stand, then add bay rum"."""
    if not any(piece.kind in _TELLING for piece in names):
        return list(names)
    told = [at for at, piece in enumerate(names) if piece.kind == "direction" or _is_told(piece, line)]
    if told and any(line[piece.first].text == "(" for piece in names[: told[-1]]):
        return list(names)  # (previously coloured light brown)
    kept = list(names[told[-1] + 1 :]) if told else []
    return kept if any(piece.kind == "text" for piece in kept) else list(names)


def _behind_lead(names: list[Piece], line: Sequence[Token]) -> list[Piece]:
    """Return the pieces of a name behind joining words with a colon: "dazu: schwarz Pech"."""
    colon = next((at for at, piece in enumerate(names[:_LONGEST_LEAD]) if line[piece.first].text == ":"), 0)
    marks = [mark_at(line, piece.first) for piece in names[:colon] if line[piece.first].kind == "word"]
    leads = bool(marks) and all(mark is not None and {"joining", "ends"} & set(mark.meanings) for mark in marks)
    return names[colon + 1 :] if leads and any(piece.kind == "text" for piece in names[colon + 1 :]) else names


def _behind_place(names: list[Piece], line: Sequence[Token]) -> list[Piece]:
    """Return the pieces of a name behind where it is put: "in an earthen vessel placed in hot water, white wax"."""
    comma = next((at for at in range(len(names) - 1, 0, -1) if line[names[at].first].text == ","), 0)
    if not comma or names[0].first < 1:
        return names
    before = [line[at].text.lower() for at in range(max(names[0].first - _TO_VESSEL, 0), names[comma].first)]
    words = " ".join(line[piece.first].text for piece in names[comma + 1 :] if piece.kind == "text")
    return names[comma + 1 :] if not _PLACING.isdisjoint(before) and is_known(words) else names


def _behind_prose(names: list[Piece], line: Sequence[Token]) -> list[Piece]:
    """Return the pieces of a name behind a sentence that leads to it: "the solution being diluted with water"."""
    at = next((at for at in range(len(names) - 1, 0, -1) if line[names[at].first].text.lower() in _LINKS), 0)
    marks = (mark_at(line, piece.first) for piece in names[: at + 1])
    told = at and any(mark is not None and "ends" in mark.meanings for mark in marks)
    words = " ".join(line[piece.first].text for piece in names[at + 1 :] if piece.kind in ("text", "joining"))
    return names[at + 1 :] if told and is_known(words) else names


_PLACING = frozenset({"in", "into", "upon", "dans", "im", "ins"})
_TO_VESSEL = 3  # words: "in an earthen vessel", "in einem"
_TELLING = ("direction", "heading")
_LINKS = frozenset({"is", "are", "was", "were", "with"})
_LONGEST_LEAD = 4  # pieces
_FEW_LETTERS = 2  # of a prescription's sign, which a name may hold: "Spirit. Vin. R."


def _is_told(piece: Piece, line: Sequence[Token]) -> bool:
    """Return whether words such as "Take of" stand here: what is before them is a title or a lead-in."""
    return piece.kind == "heading" and len(line[piece.first].text) > _FEW_LETTERS and line[piece.first].kind == "word"


def _counted(quantity: Quantity | None, name: str) -> Quantity | None:
    """Return a bare number behind a thing that receipts count as a count: "Eggs, 2"."""
    part = quantity.parts[0] if quantity is not None else None
    if quantity is None or part is None or part.unit is not None or not is_counted(name):
        return quantity
    if is_decimal(part.amount.printed):
        return quantity  # "Cloves 20,0" are grams
    return changed(quantity, parts=(changed(quantity.parts[0], unit=PIECE, written="count"), *quantity.parts[1:]))


def _without_edges(pieces: Sequence[Piece], line: Sequence[Token]) -> list[Piece]:
    """Strip joining words, points, leaders and directions from both ends of a name."""
    kept = list(pieces)
    while kept and (kept[0].kind != "text" or line[kept[0].first].text.lower() in _BEFORE_NAMES) and not _only(kept):
        kept.pop(0)
    while kept and (kept[-1].kind != "text" or _is_behind(line, kept[-1].first)) and not _only(kept):
        if line[kept[-1].first].text == ")" and any(line[piece.first].text == "(" for piece in kept):
            break
        kept.pop()
    return kept


_APOSTROPHES = "'\N{RIGHT SINGLE QUOTATION MARK}"


def _is_behind(line: Sequence[Token], at: int) -> bool:
    """Return whether a word only joins what follows: the "or" of "litharge d'or" is gold."""
    return line[at].text.lower() in _BEHIND_NAMES and not (at and line[at - 1].text[-1] in _APOSTROPHES)


_BEFORE_NAMES = frozenset({
    "these", "this", "those", "any", "in", "ex", "vel", "ou", "oder", "from",
    "together", "well", "le", "la", "les", "der", "die", "das", "den", "dem",
    "and", "of", "the", "or", "just", "also", "then", "a", "an", "add", "but",
})  # fmt: skip
_BEHIND_NAMES = frozenset({
    "and", "or", "in", "into", "with", "to", "from", "on", "upon", "over", "by", "as", "both", "all", "also", "then",
    "\N{LATIN SMALL LETTER A WITH GRAVE}", "le", "la", "les", "de", "von", "avec", "zu", "mit",
    "at", "about", "each", "of", "a", "an", "the", "alone", "only", "apiece", "together", "well", "more", "please",
})  # fmt: skip


_NAMELESS = _BEFORE_NAMES | _BEHIND_NAMES | DOUBTFUL


def is_empty(pieces: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether the words of a name name nothing: "or", "in a".

    Parameters
    ----------
    pieces : sequence of Piece
        Words of the name.
    line : sequence of Token
        The tokens of the line.

    Returns
    -------
    bool
        Whether they do.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> [is_empty(pieces_of(tokens(text)), tokens(text)) for text in ("or", "orris")]
    [True, False]
    """
    words = {line[piece.first].text.lower() for piece in pieces}
    if len(words) == 1 and (words <= set(VESSELS) or all(len(word) == 1 and word.isalpha() for word in words)):
        return True
    return words <= _NAMELESS


def _only(pieces: Sequence[Piece]) -> bool:
    return len(pieces) == 1 and pieces[0].kind == "text"


_FEW_IN_BRACKETS = 2  # words of another name: "verbena (lemon-grass)"


def _without_brackets(pieces: list[Piece], line: Sequence[Token]) -> list[Piece]:
    """Leave out brackets that hold more than another name, and those whose other half is gone."""
    signs = [line[piece.first].text for piece in pieces]
    if "(" not in signs and ")" not in signs:
        return pieces
    closes = [at for at, sign in enumerate(signs) if sign == ")"]
    kept: list[Piece] = []
    at = 0
    while at < len(pieces):
        if signs[at] == ")":
            at += 1
            continue
        if signs[at] != "(":
            kept.append(pieces[at])
            at += 1
            continue
        following = bisect(closes, at)
        close = closes[following] if following < len(closes) else None
        inside = [] if close is None else pieces[at + 1 : close]
        words = [line[piece.first].text for piece in inside if line[piece.first].kind == "word"]
        if (
            close is not None
            and 0 < len(words) <= _most_in_brackets(words, signs[at:close])
            and words[0].lower() not in _REMARKS
        ):
            whole = pieces[close].first - pieces[at].first == close - at  # else a strength stood in it
            kept += pieces[at : close + 1] if whole else inside
        at = at + 1 if close is None else close + 1
    return kept if any(piece.kind == "text" for piece in kept) else pieces


def _most_in_brackets(words: Sequence[str], signs: Sequence[str]) -> int:
    """Return how many words another name may have; one set in other type, or made of two things, may have more."""
    if signs[1] in _OTHER_TYPE and signs[-1] in _OTHER_TYPE:
        return _FEW_IN_BRACKETS + 4
    joint = any(word.lower() in _JOINTS for word in words)
    return _FEW_IN_BRACKETS + ("-" in signs) + ("or" in words) + joint


_OTHER_TYPE = ("~", "_")  # how a transcriber marks italics: (~Carbonate of soda~)
_JOINTS = ("of", "de", "d'", "d\N{RIGHT SINGLE QUOTATION MARK}", "du")
_REMARKS = ("of", "see", "about", "say", "if", "vide", "which", "containing", "as", "not")


def _spans(pieces: Sequence[Piece | None], line: Sequence[Token]) -> tuple[Span, ...]:
    """Return the spans of pieces; pieces with only blanks or a stop or hyphen between them become one span."""
    spans: list[Span] = []
    for piece in pieces:
        if piece is None:
            continue
        start, end = line[piece.first].start, line[piece.after - 1].end
        if start == end:  # the end of a printed line
            continue
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
    if quantity.second is not None:  # the "or" between two amounts for one thing
        between = range(quantity.after, quantity.second.first)
        figures += [Piece("text", at, at + 1) for at in between if line[at].kind == "word"]
    for part in filter(None, (quantity, quantity.second)):
        at = part.first
        while at < part.after:
            mark = mark_at(line, at)
            after = min(mark.after if mark is not None else at + 1, part.after)
            a_unit = mark is not None and ("unit" in mark.meanings or "ditto" in mark.meanings)
            (units if a_unit else figures).append(Piece("text", at, after))
            at = after
    if quantity.second is not None:
        figures.sort(key=lambda piece: piece.first)
    return _spans(figures, line), _spans(units, line)


def _words(spans: Sequence[Span], text: str) -> str:
    if not spans:
        return ""
    return " ".join(" ".join(text[start:end].split()) for start, end in spans)


def with_ids(items: Sequence[Item], number: int) -> tuple[Item, ...]:
    """Return items with the ids of their line.

    Parameters
    ----------
    items : sequence of Item
        The items of one line.
    number : int
        Number of the line [1].

    Returns
    -------
    tuple of Item
        With ids such as 3, or 3a and 3b.

    Examples
    --------
    >>> [item.id for item in with_ids([Item(id="", name="wax"), Item(id="", name="oil")], 3)]
    ['3a', '3b']
    """
    if len(items) == 1:
        return (items[0] if items[0].id == str(number) else changed(items[0], id=str(number)),)
    letters = "abcdefghijklmnopqrstuvwxyz"
    return tuple(changed(item, id=f"{number}{letters[i % 26]}{i // 26 or ''}") for i, item in enumerate(items))
