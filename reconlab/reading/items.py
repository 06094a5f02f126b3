"""From the pieces of an item to the item: its words, their places in the line, and whether it can be relied on."""

from __future__ import annotations

import re
from bisect import bisect
from collections.abc import Sequence
from dataclasses import replace as changed
from functools import cache

from reconlab.reading.counted import PIECE, is_counted
from reconlab.reading.damage import is_torn, other_readings
from reconlab.reading.drafts import Draft
from reconlab.reading.pieces import VESSELS, Piece, is_decimal
from reconlab.reading.tokens import Token, mark_at
from reconlab.receipts import Item, Quantity, Reading, Span
from reconlab.tables import Notation, rows


def item_of(draft: Draft, line: Sequence[Token], text: str) -> Item:
    """Return the item that pieces make up.

    Parameters
    ----------
    draft : Draft
        Its pieces.
    line : sequence of Token
        The tokens of the line.
    text : str
        The line as printed.

    Returns
    -------
    Item
        Without an id; what it takes over from another item is still open.

    Examples
    --------
    >>> from reconlab.reading.drafts import amount_last
    >>> from reconlab.reading.tokens import tokens
    >>> from reconlab.reading.pieces import pieces_of
    >>> line = tokens("Starch, 3 oz.")
    >>> item_of(amount_last(pieces_of(line), line)[0], line, "Starch, 3 oz.").name
    'Starch'
    """
    draft = changed(draft, names=_behind_directions(draft.names))
    names = _without_edges(draft.names, line)
    prepared = [piece for piece in draft.names if piece.kind == "preparation"]
    strong = [piece for piece in draft.names if piece.kind == "strength"]
    kept = _without_edges([piece for piece in names if piece.kind not in ("preparation", "strength", "ditto")], line)
    kept = _without_brackets(kept, line)
    if draft.quantity is not None and draft.quantity.counted:
        kept = _without_size(kept, line)
    amount, unit = _amount_and_unit(draft.quantity, line)
    spans = {
        "amount": amount,
        "unit": unit,
        "name": _spans(kept, line),
        "preparation": _spans(prepared, line),
        "strength": _spans(strong, line),
        "purpose": _spans(draft.purpose_pieces, line),
        "carried": _dittos(draft.names, line),
    }
    name = _words(spans["name"], text)
    quantities = _quantities(draft.quantity, name)
    item = Item(
        id="",
        name=name,
        preparation=_words(spans["preparation"], text),
        strength=_words(spans["strength"], text),
        purpose=draft.purpose,
        each=draft.each,
        certain=bool(kept) and _is_sure(draft, quantities, kept, line),
        quantities=quantities,
        spans={kind: found for kind, found in spans.items() if found},
    )
    if quantities and _is_bare_decimal(quantities[0]):
        return _in_grams(item)
    first = draft.quantity.first if draft.quantity else 0
    behind_dots = first > 0 and line[first - 1].kind == "leader"
    doubts = other_readings(quantities[0], behind_dots=behind_dots) if quantities else ()
    if not doubts:
        return item
    readings = tuple(
        Reading(changed(item, quantities=(doubt.quantity, *quantities[1:])), doubt.standing, doubt.because)
        for doubt in doubts
    )
    return changed(item, certain=False, readings=readings)


def _is_bare_decimal(quantity: Quantity) -> bool:
    part = quantity.parts[0]
    return len(quantity.parts) == 1 and part.unit is None and is_decimal(part.amount.printed)


def _in_grams(item: Item) -> Item:
    """Read a decimal without a unit as grams, as prescriptions with the decimal weight print them; or as parts."""
    first, *others = item.quantities
    part = first.parts[0]
    grams = changed(first, parts=(changed(part, unit="gram"),))
    amount = changed(part.amount, printed=f"{part.amount.printed} parts")
    parts = changed(first, parts=(changed(part, unit="part", amount=amount),))
    why = "the page prints no unit; only prescriptions of the continent leave out the gram behind a decimal comma"
    other = Reading(changed(item, quantities=(parts, *others), certain=False), "possible", why)
    return changed(item, quantities=(grams, *others), certain=False, readings=(other,))


def _quantities(piece: Piece | None, name: str) -> tuple[Quantity, ...]:
    """Return the quantity of an item, and a second one printed beside it."""
    first = _counted(piece.quantity, name) if piece else None
    if piece is None or first is None:
        return ()
    second = piece.second.quantity if piece.second else None
    return (first, changed(second, column=2)) if second else (first,)


def _is_sure(draft: Draft, quantities: Sequence[Quantity], names: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether nothing in an item's words raises a doubt."""
    parts = [part for quantity in quantities for part in quantity.parts]
    bare = any(part.unit is None or part.amount.value is None for part in parts)  # no unit, or an illegible figure
    told = bool(quantities) or draft.purpose == "enough"
    torn = any(is_torn(quantity) for quantity in quantities)
    return (
        told
        and not bare
        and not torn
        and not draft.doubtful
        and not _broken(names, draft.quantity, line)
        and _is_plain(names, line)
    )


_LONGEST_PLAIN = 7  # words
_FEW_POINTS = 2
_LOST_SPACE = re.compile(r"of(?!fal|fic|ten)[a-z]{3}")  # extract ofstorax
_DOUBTFUL = frozenset({
    "with", "their", "color", "colour",
    "f\N{LATIN SMALL LETTER U WITH DIAERESIS}r", "pour", "vom", "beim", "ist", "sind", "noch", "auf", "avec",
    "dans", "sur", "on", "plus",
    "und", "mit", "man", "auch", "nebst", "dazu", "hinein", "sie", "es", "wird", "aus", "zu", "die", "der", "das",
    "dem", "den", "vel", "ex", "e", "cum", "per", "dein", "simul", "ou", "qui", "que", "les", "le", "tout", "celle",
    "celles", "en", "environ", "adde", "m", "admisce", "oder", "et", "in", "ebensoviel", "and", "or", "it", "its",
    "them", "they", "which", "that", "this", "these", "those", "same", "into", "for", "is", "are", "was", "be",
    "being", "been", "not", "every", "if", "when", "while", "so", "then", "as", "by", "other", "another", "former",
    "latter", "only", "some", "any", "all", "both",
})  # fmt: skip


def _is_plain(names: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether a name is a run of words that name a thing, and no sentence."""
    words = [line[piece.first] for piece in names]
    points = any(token.kind == "point" and token.text not in ".-_'&" for token in words)
    abbreviated = sum(token.text == "." for token in words) > _FEW_POINTS  # may be two names run together
    return (
        not points
        and not any(_is_number(line, piece) for piece in names)
        and not abbreviated
        and sum(token.kind == "word" for token in words) <= _LONGEST_PLAIN
        and not any(token.text.lower() in _DOUBTFUL or _LOST_SPACE.match(token.text) for token in words)
    )


_ARTICLES_TOO = ("a", "an", "one")


def _is_number(line: Sequence[Token], piece: Piece) -> bool:
    """Return whether a word of a name is a number, whose unit may not be known: "flüssigen Amber ein Qventgen"."""
    token = line[piece.first]
    mark = mark_at(line, piece.first)
    unit = mark.meanings.get("unit") if mark is not None and piece.first else None
    if unit is not None and unit.language in ("fr", "de", "la") and unit.written == "word":
        return True  # an amount that was not understood stands in the name
    told = mark is not None and "number" in mark.meanings and token.text.lower() not in _ARTICLES_TOO
    return token.kind == "number" or (told and mark is not None and mark.meanings["number"].language != "en")


def _without_size(names: list[Piece], line: Sequence[Token]) -> list[Piece]:
    """Leave out the size of a thing that is counted: "a large nutmeg"."""
    at = 0
    while at < len(names) - 1 and (mark := mark_at(line, names[at].first)) is not None and "sized" in mark.meanings:
        at += 1
    return names[at:]


def _dittos(names: Sequence[Piece], line: Sequence[Token]) -> tuple[Span, ...]:
    """Return where the ditto marks of a name stand, each by itself."""
    return tuple((line[piece.first].start, line[piece.after - 1].end) for piece in names if piece.kind == "ditto")


def _behind_directions(names: Sequence[Piece]) -> list[Piece]:
    """Return the pieces of a name behind the directions before it: "let stand, then add bay rum"."""
    told = [at for at, piece in enumerate(names) if piece.kind == "direction"]
    kept = list(names[told[-1] + 1 :]) if told else []
    return kept if any(piece.kind == "text" for piece in kept) else list(names)


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
    "these", "this", "those", "any", "in", "ex", "vel", "ou", "oder",
    "together", "well", "le", "la", "les", "der", "die", "das", "den", "dem",
    "and", "of", "the", "or", "just", "also", "then", "a", "an", "add", "but",
})  # fmt: skip
_BEHIND_NAMES = frozenset({
    "and", "or", "in", "into", "with", "to", "from", "on", "upon", "over", "by", "as", "both", "all", "also", "then",
    "\N{LATIN SMALL LETTER A WITH GRAVE}", "le", "la", "les", "de", "von", "avec", "zu", "mit",
    "at", "about", "each", "of", "a", "an", "the", "alone", "only", "apiece", "together", "well", "more", "please",
})  # fmt: skip


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
    if len(words) == 1 and words <= set(VESSELS):
        return True
    return words <= (_BEFORE_NAMES | _BEHIND_NAMES | _DOUBTFUL)


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
_REMARKS = ("see", "about", "say", "if", "vide", "which", "containing", "as", "not")


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
    figures.sort(key=lambda piece: piece.first)
    return _spans(figures, line), _spans(units, line)


def _words(spans: Sequence[Span], text: str) -> str:
    return " ".join(" ".join(text[start:end].split()) for start, end in spans)


def doubted(items: Sequence[Item], line: Sequence[Token], text: str) -> list[Item]:
    """Return items, none of them certain that stands beside words which were not understood.

    Parameters
    ----------
    items : sequence of Item
        The items of one line.
    line : sequence of Token
        Its tokens.
    text : str
        The line as printed.

    Returns
    -------
    list of Item
        The same, some of them no longer certain.

    Examples
    --------
    >>> doubted([], (), "")
    []
    """
    unread = unread_of(items, text, line)
    if not unread or not items:
        return list(items)
    starts = {token.start: at for at, token in enumerate(line)}
    places = [[span for spans in item.spans.values() for span in spans] for item in items]
    ends = [max(end for _, end in spans) for spans in places]
    kept = list(items)
    for start, end in unread:
        at = starts[start]
        mark = mark_at(line, at)
        told = mark is not None and bool({"direction", "ends"} & set(mark.meanings))
        amount, lost = _amount_in(line, at, end)
        if lost:  # an amount no name was found for: which amount is whose is open in the whole line
            return [changed(item, certain=False) for item in items]
        before = bisect(ends, start) - 1
        for n in (before if amount or not told else -1, before + 1):
            if 0 <= n < len(kept) and (amount or not told):
                kept[n] = changed(kept[n], certain=False)
    return kept


def _amount_in(line: Sequence[Token], at: int, end: int) -> tuple[bool, bool]:
    """Return whether figures stand in words that were not read, and whether an amount does."""
    figures = number = unit = False
    while at < len(line) and line[at].start < end:
        mark = mark_at(line, at)
        meanings = set(mark.meanings) if mark is not None else set()
        figures = figures or line[at].kind in ("number", "sign") or ("number" in meanings and line[at].text != "a")
        number = number or line[at].kind == "number" or "number" in meanings
        unit = unit or "unit" in meanings
        at += 1
    return figures, number and unit


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
        return (changed(items[0], id=str(number)),)
    letters = "abcdefghijklmnopqrstuvwxyz"
    return tuple(changed(item, id=f"{number}{letters[i % 26]}{i // 26 or ''}") for i, item in enumerate(items))


_UNDERSTOOD = {"joining", "each", "heading", "ditto", "approximate"}


def unread_of(items: Sequence[Item], text: str, line: Sequence[Token]) -> tuple[Span, ...]:
    """Return the words no item took. Points, blanks, joining words and a lone "M." between items are no loss.

    Parameters
    ----------
    items : sequence of Item
        The items of the line.
    text : str
        The line as printed.
    line : sequence of Token
        Its tokens, from where it begins behind the number of its variant.

    Returns
    -------
    tuple of (int, int)
        Spans of the text.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> unread_of((), "wax, oil", tokens("wax, oil"))
    ((0, 8),)
    """
    taken = [False] * len(text)
    for item in items:
        for spans in item.spans.values():
            for start, end in spans:
                taken[start:end] = [True] * (end - start)
    unread: list[Span] = []
    at = 0
    while at < len(line):
        token = line[at]
        mark = mark_at(line, at)
        known = mark is not None and bool(_UNDERSTOOD & set(mark.meanings))
        after = mark.after if mark is not None and known else at + 1
        wordless = token.kind in ("point", "leader", "break")
        if not (known or wordless or taken[token.start]):
            # What stands between two unread words is part of what was not read, unless an item took it.
            if unread and not any(taken[unread[-1][1] : token.start]):
                unread[-1] = (unread[-1][0], token.end)
            else:
                unread.append((token.start, token.end))
        at = after
    return tuple(span for span in unread if text[span[0] : span[1]] not in _lone_directions())


@cache
def _lone_directions() -> frozenset[str]:
    marks = (row for row in rows(Notation) if row.meaning == "direction" and row.written == "abbreviation")
    return frozenset(row.printed for row in marks)
