"""What a line takes over from the one before: ditto marks, "the same quantity of", a unit printed once.

`carried_at` finds amounts that lean on another; `resolved` fills them in from the item before.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace as changed
from fractions import Fraction
from functools import cache

from reconlab.reading.known import is_known, takes_head
from reconlab.reading.quantities import Found, count_at
from reconlab.reading.tokens import Token, mark_at, printed_of
from reconlab.receipts import Amount, Item, Line, Measured, Quantity, Reading
from reconlab.tables import NameWord, rows

UNIT, WHOLE = "ditto unit", "ditto amount"  # stand for a unit or an amount that is still to be taken over
_OF = re.compile(r"\b(?:of|de|du|von)\s|\bd['\N{RIGHT SINGLE QUOTATION MARK}]", re.IGNORECASE)
_BEHIND_COUNT = ("of", "de", "d'", "d\N{RIGHT SINGLE QUOTATION MARK}")
_THOSE = (
    "ces",
    "cette",
    "ceux",
    "celles",
    "leur",
    "la",
    "l'",
    "chaque",
    "chacun",
    "chacune",
    "the",
    "them",
    "these",
    "those",
    "it",
    "this",
    "which",
    "each",
)


def carried_at(line: Sequence[Token], at: int, *, seen: bool) -> Found | None:
    """Return the amount that starts at a token and leans on one before it.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].
    seen : bool
        Whether an amount with a unit stands before it in the line.

    Returns
    -------
    Found or None
        An amount whose unit is `UNIT` or `WHOLE`.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> carried_at(tokens('2 "'), 0, seen=False).quantity.parts[0].unit
    'ditto unit'
    >>> carried_at(tokens("the same quantity of wax"), 0, seen=True).quantity.parts[0].unit
    'ditto amount'
    """
    mark = mark_at(line, at)
    if (
        mark is not None
        and "same" in mark.meanings
        and (mark.meanings["same"].written != "alone" or (seen and _is_alone(line, mark.after)))
    ):
        factor = float(Fraction(mark.meanings["same"].value or 1))
        return Found(
            Quantity((Measured(Amount(factor, factor, factor, printed_of(line[at : mark.after])), WHOLE),)), mark.after
        )
    count = count_at(line, at, UNIT)
    if count is None or count.after >= len(line):
        return None
    behind = mark_at(line, count.after)
    if behind is not None and "ditto" in behind.meanings:
        return Found(count.quantity, count.after + 1)
    led = at > 0 and (line[at - 1].kind in ("leader", "word") or line[at - 1].text == ",")
    if led and _is_dash(line, count.after) and line[count.after - 1].kind == "number":
        return Found(count.quantity, count.after + 1)
    if _is_dash_between(line, at, count.after):
        return Found(count.quantity, count.after + 1)
    of = line[count.after].text.lower() in _BEHIND_COUNT and count.after + 1 < len(line)
    named = of and line[count.after + 1].kind == "word" and line[count.after + 1].text.lower() not in _THOSE
    each = behind is not None and "each" in behind.meanings
    return Found(count.quantity, count.after) if seen and (named or each) else None


_STOPS = ",;.:()"
_COMPARING = ("as", "que", "qu'il", "qu'on", "als")


def _is_alone(line: Sequence[Token], at: int) -> bool:
    """Return whether "as much" takes the amount before it: no "as" or "que" behind the name says how much it is."""
    behind = []
    for token in line[at:]:
        if token.text in _STOPS:
            break
        behind.append(token.text.lower())
    return bool(behind) and not any(word in _COMPARING for word in behind)


def _is_dash(line: Sequence[Token], at: int) -> bool:
    """Return whether a dash behind a figure ends its line, and so stands for the unit above: "60 ---" with a dash."""
    ends = at + 1 >= len(line) or line[at + 1].kind == "break"
    return ends and line[at].text in ("\N{EM DASH}", "\N{EN DASH}", "-") and line[at].start > line[at - 1].end


def _is_dash_between(line: Sequence[Token], at: int, dash: int) -> bool:
    """Return whether a dash between a line's first figure and a name stands for the unit above: "12 - Rosmarin"."""
    opens = (at == 0 or line[at - 1].kind == "break") and line[at].kind == "number" and dash + 1 < len(line)
    return (
        opens
        and line[dash].text in ("\N{EM DASH}", "\N{EN DASH}")
        and line[dash].start > line[dash - 1].end
        and line[dash + 1].kind == "word"
        and line[dash + 1].start > line[dash].end
    )


def leans(quantity: Quantity | None) -> bool:
    """Return whether an amount is still to be taken over from another.

    Parameters
    ----------
    quantity : Quantity or None
        As read.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> leans(carried_at(tokens('2 "'), 0, seen=False).quantity), leans(None)
    (True, False)
    """
    return quantity is not None and any(part.unit in (UNIT, WHOLE) for part in quantity.parts)


def resolved(item: Item, before: Item | None, headed: Item | None = None) -> Item:
    """Return an item with what it takes over from the item before it.

    Parameters
    ----------
    item : Item
        As read; ditto marks of its name are spans of the kind ``carried``.
    before : Item or None
        The item before it on the page, itself complete.
    headed : Item or None
        The last item of the same line whose name has a head, as in "oil of cloves".

    Returns
    -------
    Item
        The item; what was taken over is never certain.

    Examples
    --------
    >>> from reconlab.reading.lines import read_line
    >>> line = read_line('Oil of lemon, 1 oz. " bergamot, 2 "', 1, among_ingredients=True)
    >>> [(item.name, item.quantities[0].parts[0].unit) for item in line.items]
    [('Oil of lemon', 'ounce'), ('Oil of bergamot', 'ounce')]
    """
    item = _of_those(item, headed or before)
    if headed is not None and "carried" not in item.spans:
        item = _with_head(item, headed)
    elif "carried" in item.spans:
        item = changed(item, name=_name(item, before), certain=False)
    if not item.quantities or not any(leans(quantity) for quantity in item.quantities):
        return item
    given = before.quantities[0].parts if before is not None and before.quantities else ()
    quantities = tuple(filter(None, (_quantity(quantity, given) for quantity in item.quantities)))
    return changed(item, quantities=quantities, certain=False)


def _with_head(item: Item, before: Item) -> Item:
    """Carry the head of the name before: "Oils of rosemary and lemon, each ..., bergamot ..."."""
    of = _OF.search(before.name)
    words = item.name.split()
    if of is None or len(words) > _FEW_WORDS or _OF.search(item.name) or (len(words) > 1 and is_known(item.name)):
        return changed(item, certain=False) if of and takes_head(before.name[: of.end()], item.name) else item
    head = before.name[: of.end()]
    if _SALT.match(before.name):
        return changed(item, certain=False)  # nitrate of silver, ...; ammonia
    shared = item.each and before.each and item.spans.get("amount") == before.spans.get("amount")
    if not takes_head(head, item.name):
        named = is_known(item.name) or len(words) > 1 or not shared or not head.endswith("of ")
        return changed(item, name=item.name if named else f"{head}{item.name}", certain=item.certain and not shared)
    plural = head.split()[0].lower().endswith("s")
    carries = plural or shared or not is_known(item.name)
    return changed(item, name=f"{head}{item.name}" if carries else item.name, certain=False)


_SALT = re.compile(r"[^\W\d_]{3,}(?:ate|ite|ide|uret|idum|as)\b", re.IGNORECASE)  # of one thing alone

_THAT = re.compile(r"(?:celles?|celui|ceux)\s+(?=d[eu]s?\s|d['\N{RIGHT SINGLE QUOTATION MARK}])", re.IGNORECASE)


def _of_those(item: Item, headed: Item | None) -> Item:
    """Put a name's head for the word that stands for it: "racine de calamus, celle d'aunée"."""
    that, of = _THAT.match(item.name), _OF.search(headed.name) if headed else None
    if that is None or of is None or headed is None:
        return item
    return changed(item, name=f"{headed.name[: of.start()].rstrip()} {item.name[that.end() :]}", certain=False)


_LINK = r"(?:d[eu]s?(?:\s+la\b|\s+l['\N{RIGHT SINGLE QUOTATION MARK}])?\s*|d['\N{RIGHT SINGLE QUOTATION MARK}]\s*)"
_LINKED = re.compile(rf"(?:^|[\s,&]){_LINK}$", re.IGNORECASE)


_LONGEST_LINK = 80  # characters, with the blanks behind it


def _link_before(item: Item, text: str) -> re.Match[str] | None:
    """Return the "de", "d'" or the like that stands before the name of an item."""
    end = item.spans["name"][0][0]
    return _LINKED.search(text, max(end - _LONGEST_LINK, 0), end)


def with_head_of_list(item: Item, headed: Item | None, text: str) -> Item:
    """Return an item of a French list with the head of its first name: "fleurs de sureau, de mélilot, de chaque ...".

    Parameters
    ----------
    item : Item
        As read.
    headed : Item or None
        The last item of the line whose name has a head.
    text : str
        The line as printed.

    Returns
    -------
    Item
        The same where the head is not carried: behind a partitive ("de racine de ..., de myrrhe") only a plural is.

    Examples
    --------
    >>> from reconlab.reading.lines import read_line
    >>> line = read_line("fleurs de sureau, d'absinthe, de chaque une once", 1, among_ingredients=True)
    >>> [item.name for item in line.items]
    ['fleurs de sureau', "fleurs d'absinthe"]
    """
    if not item.each or headed is None or "name" not in item.spans:
        return item
    if _OF.search(item.name):  # eau de rose, de fleurs d'oranger: of each water, or the flowers
        return item if _link_before(item, text) is None else changed(item, certain=False)
    if not headed.each or item.spans.get("amount") != headed.spans.get("amount"):
        return item if headed.each else _behind_another(item, headed, text)
    link, of = _link_before(item, text), _OF.search(headed.name)
    noun = headed.name[: of.start()].rstrip() if of else ""
    if link is None or not noun or not _carries(headed, noun, text):
        return item
    words = link[0].lstrip(" ,&\n")
    return changed(item, name=f"{noun} {words}{item.name}", certain=False)


def _behind_another(item: Item, headed: Item, text: str) -> Item:
    """Return an item of a list "de chaque" that may lean on a head with an amount of its own: "; d'aloès, de ..."."""
    link, of = _link_before(item, text), _OF.search(headed.name)
    if link is None or of is None or _link_before(headed, text) is not None:
        return item  # de myrrhe, ...; de safran: each has its own "de"
    noun = headed.name[: of.start()].rstrip()
    if not noun.endswith(("s", "x")) or len(noun.split()) > 1:
        return changed(item, certain=False)
    words = link[0].lstrip(" ,&;\n")
    return changed(item, name=f"{noun} {words}{item.name}", certain=False)


def _carries(headed: Item, noun: str, text: str) -> bool:
    """Return whether a head is said of what follows: a plural is; "racine", "essence" where none has "de" before."""
    partitive = _link_before(headed, text) is not None
    return noun.endswith(("s", "x")) or (not partitive and noun.lower() in _heads_and_parts())


@cache
def _heads_and_parts() -> frozenset[str]:
    return frozenset(row.word for row in rows(NameWord) if row.language == "fr" and row.role in ("part", "head"))


def with_unit_of_column(lines: Sequence[Line]) -> list[Line]:
    r"""Return the lines of a receipt, a bare number behind a line with a unit in that unit: "2 parties", then "150".

    Parameters
    ----------
    lines : sequence of Line
        As read, in order.

    Returns
    -------
    list of Line
        The same; a unit that was taken over is never certain, and the number as parts is its other reading.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> read("Teinture\nSulfate de fer..... 100 livres\nSulfate de cuivre..... 16").items[1].quantities[0].parts[0].unit
    'livre'
    """
    kept: list[Line] = []
    unit: Measured | None = None
    for line in lines:
        if len(line.items) > 1:
            kept.append(changed(line, items=tuple(_with_unit_of_line(line.items))))
            unit = None
            continue
        parts = line.items[0].quantities[0].parts if line.items and line.items[0].quantities else ()
        bare = len(parts) == 1 and parts[0].unit is None and parts[0].amount.value is not None
        named = bare and not any(sign.isdigit() for sign in line.items[0].name)
        if named and unit is not None and not line.items[0].readings:
            kept.append(changed(line, items=(_in_unit(line.items[0], unit),)))
            continue
        kept.append(line)
        unit = parts[-1] if parts and _is_column(parts[-1]) else unit if bare and unit else None
    return kept


def _with_unit_of_line(items: Sequence[Item]) -> Iterator[Item]:
    """Yield the items of a line, a bare number behind a unit in that unit: "bole 3 parts, chalk 2, ochre 1"."""
    unit: Measured | None = None
    for item in items:
        parts = item.quantities[0].parts if len(item.quantities) == 1 else ()
        bare = len(parts) == 1 and parts[0].unit is None and parts[0].amount.value is not None
        led = item.spans.get("name", ((0, 0),))[0] < item.spans.get("amount", ((0, 0),))[0]
        if bare and led and unit is not None and not item.readings:
            yield _in_unit(item, unit)
        else:
            yield item
            unit = parts[-1] if len(parts) == 1 and _is_column(parts[-1]) else None


def _is_column(part: Measured) -> bool:
    return part.unit is not None and part.unit not in ("piece", "drop", UNIT, WHOLE) and part.written != "sign"


def _in_unit(item: Item, given: Measured) -> Item:
    first = item.quantities[0]
    part = first.parts[0]
    taken = changed(item, quantities=(changed(first, parts=(changed(part, unit=given.unit, written=given.written),)),))
    if given.unit == "part":
        return changed(taken, certain=False)
    amount = changed(part.amount, printed=f"{part.amount.printed} parts")
    parts = changed(first, parts=(changed(part, unit="part", amount=amount),))
    why = "the unit is printed in a line above only; a number without one may mean parts"
    other = Reading(changed(item, quantities=(parts,), certain=False), "possible", why)
    return changed(taken, certain=False, readings=(other,))


def with_suspended_heads(items: Sequence[Item], text: str) -> list[Item]:
    """Return items, those of a German compound broken by a hyphen whole: "Nelken- und Lavendelöl".

    Parameters
    ----------
    items : sequence of Item
        The items of one line.
    text : str
        The line as printed.

    Returns
    -------
    list of Item
        The same; what a hyphen leaves open is never certain.

    Examples
    --------
    >>> from reconlab.reading.lines import read_line
    >>> line = read_line("Nelken- und Lavendelöl, von jedem 1 Skrupel", 1, among_ingredients=True)
    >>> [item.name for item in line.items]
    ['Nelkenöl', 'Lavendelöl']
    """
    kept = list(items)
    if "-" not in text:
        return kept
    for at in range(len(kept) - 1, -1, -1):
        spans = kept[at].spans.get("name", ())
        if not spans or text[spans[-1][1] : spans[-1][1] + 2] not in ("- ", "-,"):
            continue
        name, following = kept[at].name, kept[at + 1].name.lower() if at + 1 < len(kept) else ""
        heads = [head for head in _german_heads() if following.endswith(head) and following != head]
        kept[at] = changed(kept[at], name=name + max(heads, key=len, default=""), certain=False)
    return kept


@cache
def _german_heads() -> frozenset[str]:
    return frozenset(row.word for row in rows(NameWord) if row.language == "de" and row.role in ("head", "part"))


def has_head(item: Item) -> bool:
    """Return whether the name of an item has a head that the next may take over.

    Parameters
    ----------
    item : Item
        As read.

    Returns
    -------
    bool
        Whether it has.

    Examples
    --------
    >>> has_head(Item(id="1", name="Oil of cloves")), has_head(Item(id="1", name="Rose water"))
    (True, False)
    """
    return _OF.search(item.name) is not None


_FEW_WORDS = 2  # more have a head of their own


def _quantity(quantity: Quantity, given: Sequence[Measured]) -> Quantity | None:
    first = quantity.parts[0]
    if first.unit == UNIT:
        last = given[-1] if given else None
        return changed(
            quantity,
            parts=(changed(first, unit=last.unit if last else None, written=last.written if last else "word"),),
        )
    if first.unit != WHOLE:
        return quantity
    if not given:
        return None
    factor = first.amount.value or 1
    taken = [changed(part, amount=_times(part.amount, factor, "")) for part in given]
    taken[0] = changed(taken[0], amount=changed(taken[0].amount, printed=first.amount.printed))
    return changed(quantity, parts=tuple(taken))


def _times(amount: Amount, factor: float, printed: str) -> Amount:
    if amount.value is None or amount.low is None or amount.high is None:
        return changed(amount, printed=printed)
    return Amount(amount.value * factor, amount.low * factor, amount.high * factor, printed)


def _name(item: Item, before: Item | None) -> str:
    """Return a name whose ditto marks are filled in from the name before it."""
    if before is None or not before.name or "name" not in item.spans:
        return item.name
    if before.name.split()[-1] == item.name.split()[-1] and not _OF.search(before.name):
        return item.name  # rose-oil, " acacia-oil: the mark stands for something else
    first = item.spans["name"][0][0]
    leading = sum(start < first for start, _ in item.spans["carried"])
    trailing = len(item.spans["carried"]) - leading
    words = before.name.split()
    name = item.name
    if leading:
        head = _head(before.name, leading)
        name = f"{head}{name}" if head[-1:] != "'" or _OPENS_IN_VOWEL.match(name) else f"{_unelided(head)}{name}"
    if trailing and len(words) > 1 and (leading or len(name.split()) == 1 or "," in before.name):
        name = f"{name} {words[-1]}"
    return name


def _head(name: str, marks: int) -> str:
    """Return the words of a name that so many ditto marks stand for, with the "of" behind them: "Oil of "."""
    of = _OF.search(name)
    words = name.split()
    if of is None:
        return " ".join([*words[: min(marks, len(words) - 1)], ""]).lstrip()
    head = name[: of.end()]
    more = marks - len(head.split()) + 1
    behind = name[of.end() :].replace(",", "").split()
    if more > 0 and marks > 1 and len(behind) > 1:
        return f"{head}{' '.join(behind[:more])} "
    return head


_OPENS_IN_VOWEL = re.compile(r"h?[aeiouyàâéèêëîïôœ]", re.IGNORECASE)


def _unelided(head: str) -> str:
    """Return "Teinture d'" as it stands before another letter: "Teinture de "."""
    return f"{head[:-1]}e "
