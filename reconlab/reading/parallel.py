"""Two columns of quantities for one thing, checked against each other: "0.13 Gm. or 2 grains"."""

from __future__ import annotations

from dataclasses import replace as changed
from functools import cache

from reconlab.receipts import Item, Measured, Quantity, Reading
from reconlab.tables import Measure, rows

_LOOSE = 0.2  # share by which books round the second column


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
    return any(
        kind == other and abs(one.amount.value * size / (two.amount.value * by) - 1) <= _LOOSE
        for kind, size in first
        for other, by in second
    )


@cache
def _sizes(unit: str) -> frozenset[tuple[str, float]]:
    """Return every size a unit may have, with what it measures."""
    return frozenset(
        (row.kind, float(row.size))
        for row in rows(Measure)
        if unit and (row.id == unit or row.id.startswith(f"{unit}_"))
    )
