"""Two columns of quantities: for one thing, checked against each other, or for two batches, told from one amount.

"0.13 Gm. or 2 grains" says the same twice. "1 gal.      1 pint" across a gap is either one amount whose units stand in
columns, or the amounts of a large and a small batch: the other lines of the receipt tell which is likelier, and it is
asked about in any case.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace as changed
from functools import cache
from itertools import pairwise

from reconlab.reading.quantities import quantity_at
from reconlab.reading.tokens import tokens
from reconlab.receipts import Item, Line, Measured, Quantity, Reading
from reconlab.tables import Measure, rows

_LOOSE = 0.2  # share by which books round the second column
_GAP = re.compile(r"[^\S\n]{3,}|\t|[^\S\n]*(?:\.[. ]{2,}|\N{HORIZONTAL ELLIPSIS}+|\|)[^\S\n]*")  # between two columns
_ACROSS = "a wide gap parts the amounts: they may be those of two batches, one in each column"
_ADDED = "the units stand in columns: both may be one amount"


def checked(item: Item) -> Item:
    """Return an item whose two printed quantities are held against each other.

    Parameters
    ----------
    item : Item
        As read.

    Returns
    -------
    Item
        The same, or one no longer certain, with the second quantity as another reading, where no measure on file
        makes both the same.

    Examples
    --------
    >>> from reconlab.reading.lines import read_line
    >>> (item,) = read_line("Aloes, 0.13 Gm. or 20 grains", 1, among_ingredients=True).items
    >>> [reading.because for reading in checked(item).readings]
    ['the two columns differ: 0.13 Gm. is not 20 grains']
    """
    columns = [quantity for quantity in item.quantities if len(quantity.parts) == 1]
    both = 2
    if len(item.quantities) != both or len(columns) != both or columns[0].column == columns[1].column:
        return item
    first, second = columns
    if _may_agree(first.parts[0], second.parts[0]):
        return item
    one, two = (quantity.parts[0].amount.printed for quantity in columns)
    because = f"the two columns differ: {one} is not {two.rstrip(' .')}"
    alone: tuple[Quantity, ...] = (changed(second, column=1),)
    reading = Reading(changed(item, quantities=alone, certain=False, readings=()), "possible", because)
    return changed(item, certain=False, readings=(*item.readings, reading))


def _may_agree(one: Measured, two: Measured) -> bool:
    """Return whether some measure on file makes two amounts the same; what cannot be compared is not in conflict."""
    first, second = _sizes(one.unit or ""), _sizes(two.unit or "")
    if not first or not second or not one.amount.value or not two.amount.value:
        return True
    if {kind for kind, _ in first}.isdisjoint(kind for kind, _ in second):
        return True  # weighed beside measured: the density decides
    return any(abs(times - 1) <= _LOOSE for times in times_as_much(one, two))


def times_as_much(one: Measured, two: Measured) -> frozenset[float]:
    """Return how many times as much one amount is as another, by each measure on file that has both.

    Parameters
    ----------
    one, two : Measured
        Two amounts.

    Returns
    -------
    frozenset of float
        None where they cannot be compared: weighed beside measured, or of no fixed size.

    Examples
    --------
    >>> from reconlab.reading.quantities import quantity_at
    >>> half, two = (quantity_at(tokens(text), 0).quantity.parts[0] for text in ("half an ounce", "2 drachms"))
    >>> 2.0 in {round(times, 9) for times in times_as_much(half, two)}
    True
    """
    if not one.amount.value or not two.amount.value:
        return frozenset()
    return frozenset(
        one.amount.value * size / (two.amount.value * by)
        for kind, size in _sizes(one.unit or "")
        for other, by in _sizes(two.unit or "")
        if kind == other
    )


@cache
def _sizes(unit: str) -> frozenset[tuple[str, float]]:
    """Return every size a unit may have, with what it measures."""
    return frozenset(
        (row.kind, float(row.size))
        for row in rows(Measure)
        if unit and (row.id == unit or row.id.startswith(f"{unit}_"))
    )


def across_gap(items: Sequence[Item], text: str) -> list[Item]:
    """Return the items of a line, with the compound amounts that a gap parts no longer certain.

    Parameters
    ----------
    items : sequence of Item
        As read.
    text : str
        The line as printed.

    Returns
    -------
    list of Item
        The same; each column alone is another reading of such an amount.

    Examples
    --------
    >>> from reconlab.reading.lines import read_line
    >>> (item,) = read_line("Spirit of wine ... 1 gal.      1 pint", 1, among_ingredients=True).items
    >>> item.certain, [reading.item.quantities[0].parts[0].unit for reading in item.readings]
    (False, ['gallon', 'pint'])
    """
    return [_in_doubt(item, cut) if (cut := _cut(item, text)) else item for item in items]


def columns_told(lines: Sequence[Line]) -> list[Line]:
    """Return the lines of a receipt, its parallel columns told from compound amounts.

    Parameters
    ----------
    lines : sequence of Line
        The lines of one receipt.

    Returns
    -------
    list of Line
        The same; where other lines show that the columns are two batches, the first column is the likelier reading.

    Examples
    --------
    >>> from reconlab.reading.lines import read_line
    >>> rows = ("Spirit ... 1 gal.    1 pint", "Bergamot .. 4 oz.    4 drachms", "Water ... 2 oz.    3 oz.")
    >>> told = columns_told([read_line(row, 1, among_ingredients=True) for row in rows])
    >>> [len(line.items[0].quantities[0].parts) for line in told]
    [1, 1, 1]
    """
    cuts = [[_cut(item, line.text) for item in line.items] for line in lines]
    if not any(map(any, cuts)) or not (_same_figures(lines, cuts) or any(map(_is_parallel, lines))):
        return list(lines)
    told = []
    for line, own in zip(lines, cuts, strict=True):
        items = [_first_column(item) if cut else item for item, cut in zip(line.items, own, strict=True)]
        told.append(changed(line, items=tuple(items)) if any(own) else line)
    return told


def _cut(item: Item, text: str) -> int:
    """Return behind how many parts of an item's amount a gap stands [1]; 0 where there is none."""
    parts = item.quantities[0].parts if len(item.quantities) == 1 else ()
    printed = len(item.spans.get("unit", ())) >= len(parts) > 1
    if not printed:
        return 0
    spans = sorted((*item.spans["unit"], *item.spans.get("amount", ())))
    units = set(item.spans["unit"])
    behind = 0
    for before, following in pairwise(spans):
        behind += before in units
        gap = _GAP.match(text[before[1] : following[1]].removeprefix("."))
        if gap and before in units and following not in units and behind < len(parts):
            return behind
    return 0


def _in_doubt(item: Item, cut: int) -> Item:
    if item.readings:
        return changed(item, certain=False)
    parts = item.quantities[0].parts
    columns = [changed(item, quantities=(Quantity(own),), certain=False) for own in (parts[:cut], parts[cut:])]
    return changed(item, certain=False, readings=tuple(Reading(one, "possible", _ACROSS) for one in columns))


def _first_column(item: Item) -> Item:
    """Return an item with its first column as the likelier reading."""
    if not item.readings or item.readings[0].because != _ACROSS:
        return item
    first, *others = item.readings
    added = Reading(changed(item, readings=()), "possible", _ADDED)
    return changed(first.item, certain=False, readings=(*others, added))


def _same_figures(lines: Sequence[Line], cuts: Sequence[Sequence[int]]) -> bool:
    """Return whether the figures of both columns are the same in every line: no sums of pounds and ounces are so."""
    pairs = [
        [part.amount.value for part in item.quantities[0].parts]
        for line, own in zip(lines, cuts, strict=True)
        for item, cut in zip(line.items, own, strict=True)
        if cut
    ]
    return len(pairs) > 1 and all(len(pair) == 1 + 1 and pair[0] == pair[1] for pair in pairs)


def _is_parallel(line: Line) -> bool:
    """Return whether a line prints two amounts across a gap that can be no sum: the second was not read."""
    if len(line.items) != 1 or not line.items[0].quantities:
        return False
    item = line.items[0]
    ends = [end for kind in ("amount", "unit") for _, end in item.spans.get(kind, ())]
    starts = {start for start, _ in line.unread}
    return any(start in starts and start > max(ends, default=0) for start in _amounts_behind(line.text))


def _amounts_behind(text: str) -> Iterator[int]:
    """Yield where amounts stand behind a gap."""
    for gap in _GAP.finditer(text):
        behind = text[gap.end() :]
        if behind and quantity_at(tokens(behind), 0) is not None:
            yield gap.end()
