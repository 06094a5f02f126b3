"""Which amounts of a sentence go into the preparation: no dose, residue, yield, price or part of what is made already.

The line reader finds every amount with a name. Around it stand words that say what it is: those of ``page_words.csv``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from reconlab.reading.phrases import Phrase, phrases
from reconlab.reading.tokens import mark_at, tokens
from reconlab.reading.unmeasured import added_at
from reconlab.receipts import Item

_LONGEST_NAME = 8  # words
_FEW_WORDS = 5  # of a thing named without an amount
_FEW = 8  # words of a sentence that only says "sufficient"
_DENSE = 9  # words for each amount of a sentence that lists what goes in
_NEAR_PRICE = 12  # characters
_CLAUSE = re.compile(r"[,;:.]\s|\s\N{EM DASH}|--|\(")
_RATE = re.compile(
    r"[\s.]*(?:\b(?:per|to the|to each|to every|la|le|auf das|auf die|pro)\s|l['\N{RIGHT SINGLE QUOTATION MARK}])\s*",
    re.IGNORECASE,
)
_BARE_NOUNS = frozenset({"mixture", "preparation", "compound", "mass", "solution", "liquid", "medicine", "remedy"})


def going_in(
    items: Sequence[Item], text: str, told: Sequence[Phrase], *, among: bool, composed: bool = False
) -> tuple[Item, ...]:
    """Return the items of a sentence that go into the preparation.

    Parameters
    ----------
    items : sequence of Item
        As the line reader found them.
    text : str
        The sentence.
    told : sequence of Phrase
        The phrases of the page's words in it.
    among : bool
        Whether it is a line of a list, where less is needed to be sure.
    composed : bool
        Whether it says what the preparation is made of, so that a thing without an amount goes in too.

    Returns
    -------
    tuple of Item
        Those that go in, in order.

    Examples
    --------
    >>> from reconlab.reading.lines import read_line
    >>> text = "Take 2 ounces of wax and boil down to 1 ounce of wax."
    >>> items = read_line(text, 1, among_ingredients=False).items
    >>> [item.name for item in going_in(items, text, list(phrases(text)), among=False)]
    ['wax']
    """
    added = added_at(text)
    kept = [
        item
        for item in items
        if (not item.quantities and _named_at(item) in added and not _again(item.name) and not _is_no_name(item))
        or _goes_in(item, text, told, among=among, composed=composed)
    ]
    return tuple(kept) if among else _in_prose(kept, items, text, told)


def _named_at(item: Item) -> int:
    return min((start for start, _ in item.spans.get("name", ())), default=-1)


def is_priced(items: Sequence[Item], text: str, told: Sequence[Phrase]) -> bool:
    """Return whether a sentence tells a price and nothing that goes in.

    Parameters
    ----------
    items : sequence of Item
        What was found to go in.
    text : str
        The sentence.
    told : sequence of Phrase
        The phrases of the page's words in it.

    Returns
    -------
    bool
        Whether it does.

    Examples
    --------
    >>> text = "Agaric, 10 sols."
    >>> is_priced((), text, list(phrases(text)))
    True
    """
    prices = [phrase for phrase in told if phrase.meaning == "price"]
    figures = any(re.search(r"\d", text[max(0, p.start - _NEAR_PRICE) : p.end + _NEAR_PRICE]) for p in prices)
    return figures and not any("unit" in item.spans for item in items)


def _goes_in(item: Item, text: str, told: Sequence[Phrase], *, among: bool, composed: bool) -> bool:
    units = [part.unit for quantity in item.quantities for part in quantity.parts]
    start, end = _span(item)
    made = _again(item.name) or _points_back(item, text)
    if made or _heads_use(item.name) or _is_rate(end, text) or _is_priced(item, told):
        return False
    at = min((first for kind in ("amount", "unit") for first, _ in item.spans.get(kind, ())), default=start)
    if _is_yield(item, at, text, told):
        return False
    if among:
        return any(letter.isalpha() for letter in item.name)  # a table's sum has none
    counted = bool(item.quantities) and any(units)
    if composed and not item.quantities and len(item.name.split()) <= _FEW_WORDS:
        return not _is_no_name(item)
    if not counted and item.purpose != "enough" and not (item.quantities and item.purpose == "total"):
        return False
    return len(item.name.split()) <= _LONGEST_NAME and not _is_no_name(item) and not _is_used(at, end, text, told)


def _in_prose(kept: Sequence[Item], items: Sequence[Item], text: str, told: Sequence[Phrase]) -> tuple[Item, ...]:
    """Return what goes in of a sentence of prose: it says so, or it is dense with amounts."""
    for again in (item for item in items if _is_measured_again(item)):
        start, _ = _span(again)
        clause = max((found.end() for found in _CLAUSE.finditer(text, 0, start)), default=0)
        kept = [item for item in kept if _span(item)[1] <= clause]
    measured = [item for item in kept if item.quantities]
    if not measured:
        led = any(p.meaning in ("made", "goes_on") and p.start == 0 for p in told) or bool(added_at(text))
        return tuple(kept) if led or len(text.split()) <= _FEW * len(kept) else ()
    first = min(_span(item)[0] for item in measured)
    said = any(p.meaning in ("made", "goes_on", "variant") and p.start <= first for p in told)
    dense = len(text.split()) <= _DENSE * len(measured)
    return tuple(kept) if first == 0 or said or dense or _directs(text[:first]) else ()


def _directs(text: str) -> bool:
    line = tokens(text)
    marks = (mark_at(line, at) for at in range(len(line)))
    return any(mark is not None and {"direction", "heading"} & set(mark.meanings) for mark in marks)


def _span(item: Item) -> tuple[int, int]:
    places = [place for spans in item.spans.values() for place in spans]
    return min((first for first, _ in places), default=0), max((last for _, last in places), default=0)


def _is_yield(item: Item, at: int, text: str, told: Sequence[Phrase]) -> bool:
    """Return whether an amount is what comes out or remains: "boil down to three pints", "makes 12 pills"."""
    if _comes_out(item, at, text, told) or _is_content(item, at, text):
        return True
    purpose = min((first for first, _ in item.spans.get("purpose", ())), default=at)
    return any(
        p.meaning == "yield"
        and p.value != "to"
        and p.start < purpose
        and p.end <= at
        and len(text[p.end : at].split()) <= 1
        and not _CLAUSE.search(text, p.end, at)
        for p in told
    )


_ASSAYED = re.compile(r"\b(?:assayed|standardi[sz]ed)\b[^.;]{0,30}\b(?:to|so\s+that)\b", re.IGNORECASE)
_CONTAINS = re.compile(
    r"\b(?:will\s+contain|contains?|contained|enth(?:\N{LATIN SMALL LETTER A WITH DIAERESIS}|a)lt(?:en)?|contient)\b"
)


def _is_content(item: Item, at: int, text: str) -> bool:
    """Return whether a share tells what a thing holds: "it contains from 8 to 10 per cent of morphia"."""
    if _ASSAYED.search(text, 0, at):
        return True
    if not any(part.unit == "percent" for quantity in item.quantities for part in quantity.parts):
        return False
    clause = max((found.end() for found in _CLAUSE.finditer(text, 0, at)), default=0)
    return _CONTAINS.search(text, clause, at) is not None


_FAR = ("behind", "to")  # words of a yield that need not stand beside its amount
_LEADS_TO = re.compile(r"\b(?:to|till|until|(auf|bis|zu)|(?:jusqu')?\N{LATIN SMALL LETTER A WITH GRAVE})\s+$")


def _comes_out(item: Item, at: int, text: str, told: Sequence[Phrase]) -> bool:
    """Return whether words of its clause say that an amount comes out: "a pint is obtained", "boil ... to 2 oz."."""
    if not item.quantities:
        return False
    end = max((last for kind in ("amount", "unit") for _, last in item.spans.get(kind, ())), default=at)
    named = min((start for start, _ in item.spans.get("name", ())), default=at) > at
    led = _LEADS_TO.search(text, max(0, at - _NEAR_PRICE), at)
    led = led if led and not (named and led[1]) else None  # "giesst es auf 2 Pfund Schmalz"
    for phrase in told:
        if phrase.meaning != "yield" or phrase.value not in _FAR:
            continue
        if phrase.value == "behind" and phrase.start >= end:
            near = len(text[end : phrase.start].split()) <= _FEW_WORDS
            if near and _CLAUSE.search(text, end, phrase.start) is None:
                return True
        elif phrase.value == "to" and led and phrase.end <= at and _CLAUSE.search(text, phrase.end, at) is None:
            return True
    return False


def _is_measured_again(item: Item) -> bool:
    """Return whether the made preparation itself is measured out: "to three ounces of the mixture"."""
    pronoun = len(item.name.split()) == 1 and item.name.lower() not in _BARE_NOUNS
    return bool(item.quantities) and not pronoun and _again(item.name)


def _again(name: str) -> bool:
    """Return whether a name is only the thing made so far: "the mixture", "this"."""
    words = name.lower()
    values = {(p.start, p.end): p.value for p in phrases(words) if p.meaning == "again"}
    if words.split(" ", 1)[0] in ("above", "mixture", "preparation"):
        return True
    if (0, len(words)) in values:
        return values[0, len(words)] == "whole" or words in _BARE_NOUNS
    pointer = [end for (start, end), value in values.items() if start == 0 and value == "pointer"]
    return any(start == end + 1 and last == len(words) for end in pointer for start, last in values)


_POINTING = re.compile(r"\b(?:this|these|said|dieser|dieses|cette|cet|ces)\s+$", re.IGNORECASE)


def _points_back(item: Item, text: str) -> bool:
    """Return whether the words before a name say that it is what is made already: "to a gallon of this water"."""
    at = _named_at(item)
    before = any(start < at for start, _ in item.spans.get("amount", ()))
    return before and at > 0 and _POINTING.search(text, max(at - _NEAR_PRICE, 0), at) is not None


def _is_no_name(item: Item) -> bool:
    """Return whether the words read as a name can be none: "any perfume", "carmine can also be used"."""
    return any(p.meaning == "no_name" and (p.start == 0 or p.value == "within") for p in phrases(item.name))


def _heads_use(name: str) -> bool:
    """Return whether words read as a name are the heading of doses or uses: "Dose 2 to 4"."""
    return any(p.meaning == "section" and p.value == "dose" and p.start == 0 for p in phrases(name[:_NEAR_PRICE]))


def _is_rate(end: int, text: str) -> bool:
    """Return whether an amount is so much for each of another: "3 lb. sugar per gal.", "3 liv. la livre"."""
    behind = _RATE.match(text, end)
    if behind is None:
        return False
    line = tokens(text[behind.end() : behind.end() + 20])
    mark = mark_at(line, 0)
    closes = mark is not None and (mark.after >= len(line) or line[mark.after].kind == "point")
    return mark is not None and "unit" in mark.meanings and (closes or behind[0].strip().lower() == "per")


def _is_used(at: int, end: int, text: str, told: Sequence[Phrase]) -> bool:
    """Return whether an amount is one of use: behind words of use, or before them in its own clause."""
    for use in (phrase for phrase in told if phrase.meaning == "dose"):
        # "some makers put only ...": what follows at once still says how it is used
        resumed = any(p.meaning in ("goes_on", "made") and use.end + 1 < p.start < at for p in told)
        if use.end <= at and not resumed:
            return True
        if at <= use.start < end or (use.start >= end and _CLAUSE.search(text, max(0, end - 1), use.start) is None):
            return True
    return False


def _is_priced(item: Item, told: Sequence[Phrase]) -> bool:
    """Return whether an amount is that of a price: "25 cents", "6 sols l'once"."""
    start, end = _span(item)
    prices = (phrase for phrase in told if phrase.meaning == "price")
    return any(start - _NEAR_PRICE <= price.start <= end + _NEAR_PRICE for price in prices)
