"""May an item be relied on? ``certain`` is a promise, so every general sign of doubt takes it back."""

from __future__ import annotations

import re
from bisect import bisect
from collections.abc import Sequence
from dataclasses import replace as changed
from itertools import pairwise

from reconlab.reading.damage import is_torn
from reconlab.reading.drafts import Draft, is_stray_stop
from reconlab.reading.known import is_known, is_part, is_short_head, is_word_of_names
from reconlab.reading.pieces import Piece
from reconlab.reading.roman import roman
from reconlab.reading.tokens import Token, mark_at
from reconlab.receipts import Item, Quantity, Span

_LONGEST_PLAIN = 7  # words
_FEW_POINTS = 2
_LOST_SPACE = re.compile(r"of(?!fal|fic|ten)[a-z]{3}")  # extract ofstorax
_OPEN_FIGURES = re.compile(r"\d{1,3}(?:\s(?!000)\d{3}\b|\.000\b)")  # 2 500, 10.000: one number, or two
_LEADING_IN = frozenset(("in", "into", "from", "on", "upon", "over", "for", "to", "per", "dans", "aus", "auf"))
_FILLING = ("with", "mit", "avec")
_THE = ("the", "a", "an", "le", "la", "les", "un", "une", "das", "die", "den", "dem", "der", "einen", "eine", "ein")
DOUBTFUL = frozenset({
    "with", "their", "color", "colour",
    "f\N{LATIN SMALL LETTER U WITH DIAERESIS}r", "pour", "vom", "beim", "ist", "sind", "noch", "auf", "avec",
    "dans", "sur", "on", "plus",
    "und", "mit", "man", "auch", "nebst", "dazu", "hinein", "sie", "es", "wird", "aus", "zu", "die", "der", "das",
    "dem", "den", "vel", "ex", "e", "cum", "per", "dein", "simul", "ou", "qui", "que", "les", "le", "tout", "celle",
    "celles", "en", "environ", "adde", "m", "admisce", "oder", "et", "in", "ebensoviel", "and", "or", "it", "its",
    "them", "they", "which", "that", "this", "these", "those", "same", "into", "for", "is", "are", "was", "be",
    "being", "been", "not", "every", "if", "when", "while", "so", "then", "as", "by", "other", "another", "former",
    "latter", "only", "some", "any", "all", "both", "you", "your", "can", "get", "will", "may", "must", "till",
})  # fmt: skip


_WAYS = ("measure", "measures", "weight", "weights")


def is_sure(draft: Draft, quantities: Sequence[Quantity], names: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether nothing in an item's words raises a doubt.

    Parameters
    ----------
    draft : Draft
        The pieces of the item.
    quantities : sequence of Quantity
        As read from them.
    names : sequence of Piece
        The words of its name, at least one.
    line : sequence of Token
        The tokens of the line.

    Returns
    -------
    bool
        Whether it may be relied on.

    Examples
    --------
    >>> from reconlab.reading.lines import read_line
    >>> line = read_line("two ounces of starch; a pint of the liquor", 1, among_ingredients=False)
    >>> [item.certain for item in line.items]
    [True, False]
    """
    parts = [part for quantity in quantities for part in quantity.parts]
    bare = any(part.unit is None or not part.amount.value for part in parts)  # no unit, or an illegible figure
    told = bool(quantities) or draft.purpose == "enough"
    torn = any(is_torn(quantity) or _OPEN_FIGURES.match(quantity.parts[0].amount.printed) for quantity in quantities)
    first = draft.quantity.first if draft.quantity is not None else 0
    remarked = first > 0 and line[first - 1].text.lower() == "only"  # some makers put only 1 part to 7
    return (
        told
        and not bare
        and not torn
        and not remarked
        and not draft.doubtful
        and not _is_as_much(names, line)
        and not _broken(names, draft.quantity, line)
        and not _is_cut_at_line_end(names, line)
        and not _refers(names, line)
        and _is_plain(names, line)
    )


def _is_as_much(names: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether "as much" stands before a name: how much, the words behind it tell as they may."""
    first = min((piece.first for piece in names), default=0)
    before = (mark_at(line, at) for at in range(max(first - 2, 0), first))
    return any(mark is not None and "some" in mark.meanings and mark.after == first for mark in before)


def _is_plain(names: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether a name is a run of words that name a thing, and no sentence."""
    words = [line[piece.first] for piece in names]
    points = [token.text for token in words if token.kind == "point"]
    if "." in points and (any(is_stray_stop(line, piece.first) for piece in names[1:-1]) or _is_headed(words)):
        return False
    if points and (any(point not in ".-_'&" for point in points) or points.count(".") > _FEW_POINTS):
        return False  # may be two names run together
    told = [token.text.lower() for token in words if token.kind == "word"]
    if told and told[0] in _LACKING:
        return False  # "Lorbeerblätter 4 Stück ohne Stiel"
    if len(told) < len(words) - len(points) or (len(told) == 1 and is_part(told[0])):
        return False  # a figure in the name, or only a part of a plant
    if len([word for word in told if word not in _JOINING]) > _FEW_WORDS and not is_known(" ".join(told)):
        return False  # may be several names that nothing parts: "flowers of sage rosemary betony"
    return (
        len(told) <= _LONGEST_PLAIN
        and DOUBTFUL.isdisjoint(told)
        and not _directs(names, line)
        and not any(map(_LOST_SPACE.match, told))
        and not _is_torn_apart(told)
        and not _holds_number(names, line)
    )


_LACKING = frozenset(("ohne", "without", "sans", "sine"))  # says what a thing is free from
_JOINING = ("of", "the", "de", "du", "des", "von")
_FEW_WORDS = 3  # in names of one thing


def _directs(names: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether a word that says what to do stands in a name: "hog's grease, boil it"."""
    marks = (mark_at(line, piece.first) for piece in names)
    return any(mark is not None and "direction" in mark.meanings for mark in marks)


def _is_cut_at_line_end(names: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether a name begins a printed line, and the line before ends in a word that may belong to it."""
    first = names[0].first
    return (
        first > 1
        and line[first - 1].kind == "break"
        and (line[first - 2].kind == "word" or line[first - 2].text in _HYPHENS)
    )


_HYPHENS = ("-", "=", "\N{EN DASH}")  # as printers and scans have them
_WHOLE = 6  # letters: a longer word before a stop is hardly an abbreviation


def _is_torn_apart(told: Sequence[str]) -> bool:
    """Return whether a name is on file only without one of its blanks: "al mond oil"."""
    halves = [at for at, (one, two) in enumerate(pairwise(told)) if is_word_of_names(one + two)]
    joined = (" ".join((*told[:at], told[at] + told[at + 1], *told[at + 2 :])) for at in halves)
    return any(map(is_known, joined)) and not is_known(" ".join(told))


def _is_headed(words: Sequence[Token]) -> bool:
    """Return whether a whole word with a stop stands before a capital: "Anodyne. Boiled starch" may be a heading."""
    return any(
        stop.text == "." and len(word.text) >= _WHOLE and following.text[0].isupper() and not is_short_head(word.text)
        for word, stop, following in zip(words, words[1:], words[2:], strict=False)
    )


_ARTICLES = ("a", "an", "one")


def _holds_number(names: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether an amount that was not understood stands in a name: "flüssigen Amber ein Qventgen"."""
    for piece in names:
        mark = mark_at(line, piece.first)
        if mark is None:
            continue
        unit, number = mark.meanings.get("unit") if piece.first else None, mark.meanings.get("number")
        if unit is not None and unit.language in ("fr", "de", "la") and unit.written == "word":
            return True
        if number is not None and number.language != "en" and line[piece.first].text.lower() not in _ARTICLES:
            return True
    return False


def _refers(names: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether the words before a name tie it to others: "dissolved in wine", "a gallon of the liquor"."""
    first = names[0].first
    before = line[first - 1].text.lower() if first else ""
    if before in _LEADING_IN and first > 1:  # "From lard, 2 lbs." opens a receipt
        return True
    if before in _THE and first > 2 and line[first - 2].text.lower() in _LEADING_IN:  # noqa: PLR2004 - "dans la cucurbite"
        return True
    after = names[-1].after
    if before in _THE and after < len(line) and line[after].text.lower() in _FILLING:
        return True  # fill the cavities with myrrh
    of_the = before == "the" and first > 1 and line[first - 2].text.lower() == "of"
    return of_the and not any(line[piece.first].text.lower() == "of" for piece in names)


def _broken(names: Sequence[Piece], quantity: Piece | None, line: Sequence[Token]) -> bool:
    """Return whether a figure fell apart in print: one stands at the edge of the name, or a unit behind the amount."""
    edges = (line[names[0].first], line[names[-1].after - 1])
    unit = mark_at(line, quantity.after) if quantity and quantity.after < len(line) else None
    lone_unit = unit is not None and "unit" in unit.meanings and unit.meanings["unit"].written not in ("word", "alone")
    return (
        lone_unit
        or any(token.kind == "number" or token.text in ("l", "I", "O") for token in edges)
        or (quantity is not None and (_goes_on(quantity, line) or _lost_its_head(quantity, line)))
    )


def _goes_on(quantity: Piece, line: Sequence[Token]) -> bool:
    """Return whether a second numeral, or a letter that hugs it, stands behind an amount: "gr. xv xx", "gr. vC"."""
    behind = line[quantity.after] if quantity.after < len(line) else None
    if behind is None or behind.kind == "key":
        return behind is not None
    numeral = len(behind.text) > 1 and behind.text.islower() and roman(behind.text) is not None
    return numeral and line[quantity.after - 1].kind == "word" and behind.text != "ss"


def _lost_its_head(quantity: Piece, line: Sequence[Token]) -> bool:
    """Return whether a point before a figure may be a stray one: "in .3 pints"."""
    figure = line[quantity.first]
    led = quantity.first > 0 and line[quantity.first - 1].kind == "word"
    return led and figure.kind == "number" and figure.text[0] in ".\N{MIDDLE DOT}"


def doubted(items: Sequence[Item], line: Sequence[Token], unread: Sequence[Span]) -> list[Item]:
    """Return items, none of them certain that stands beside words which were not understood.

    Parameters
    ----------
    items : sequence of Item
        The items of one line.
    line : sequence of Token
        Its tokens.
    unread : sequence of (int, int)
        Its words that no item took.

    Returns
    -------
    list of Item
        The same, some of them no longer certain.

    Examples
    --------
    >>> doubted([], (), [])
    []
    """
    items = _relative_apart(items)
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
            return [in_doubt(item) for item in items]
        before = bisect(ends, start) - 1
        for n in (before if amount or not told else -1, before + 1):
            if 0 <= n < len(kept) and (amount or not told):
                kept[n] = in_doubt(kept[n])
        if 0 <= before < len(kept) and kept[before].each and _words_before(line, at) in _OF_THE:
            kept = [_shared_with(item, kept[before]) for item in kept]  # one dram each of the oil
    return kept


def in_doubt(item: Item) -> Item:
    """Return an item that is not to be relied on, nor is any other reading of it.

    Parameters
    ----------
    item : Item
        As read.

    Returns
    -------
    Item
        The same, not certain.

    Examples
    --------
    >>> in_doubt(Item(id="1", name="wax", certain=True)).certain
    False
    """
    readings = tuple(changed(other, item=changed(other.item, certain=False)) for other in item.readings)
    return changed(item, certain=False, readings=readings)


_OF_THE = ("of the", "of their", "of its")


def _words_before(line: Sequence[Token], at: int) -> str:
    return " ".join(token.text.lower() for token in line[max(at - 2, 0) : at])


def _shared_with(item: Item, last: Item) -> Item:
    """Return an item, not certain where it shares the amount of another that is open."""
    return in_doubt(item) if item.spans.get("amount") == last.spans.get("amount") else item


def _relative_apart(items: Sequence[Item]) -> list[Item]:
    """Return items, none certain that is one of "equal parts" beside amounts in other units: nobody says of what."""
    units = [item.quantities[0].parts[0].unit if item.quantities else None for item in items]
    if not {"part"} < set(units) - {None}:
        return list(items)
    return [changed(item, certain=False) if unit == "part" else item for item, unit in zip(items, units, strict=True)]


def _amount_in(line: Sequence[Token], at: int, end: int) -> tuple[bool, bool]:
    """Return whether figures stand in words that were not read, and whether an amount does."""
    figures = number = unit = False
    start = at
    while at < len(line) and line[at].start < end:
        mark = mark_at(line, at)
        meanings = set(mark.meanings) if mark is not None else set()
        figures = figures or line[at].kind in ("number", "sign") or ("number" in meanings and line[at].text != "a")
        number = number or line[at].kind == "number" or "number" in meanings
        unit = unit or "unit" in meanings
        at += 1
    ways = any(token.text.lower() in _WAYS for token in line[start:at])  # (all by measure): said of every unit
    return figures or unit or ways, ways or (number and unit)
