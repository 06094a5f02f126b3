"""What a spoilt sign of weight may be, told by the signs beside it in its receipt, and what an odd one hides.

Scans make two different signs of two different weights: beside a 3 for the drachm, a Z stands for the ounce. An O that
is the only pint among grains and scruples may be the scruple sign.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace as changed

from reconlab.reasons import Standing
from reconlab.receipts import Item, Line, Measured, Quantity, Reading

_SMALL = frozenset(("grain", "scruple", "drachm", "minim", "drop"))
_PINT = re.compile(r"O\s?[ivxj]+(?:ss)?\b")
_ODD_DROPS = re.compile(r"(?:gt\.?|gT\.?)\s?(?P<numeral>[ivxlj]+|\d+)", re.IGNORECASE)
_SPOONS = re.compile(r".*\d\s?tbs?\b")
_LOW, _HIGH = re.compile(r"f?[35z]\s?[ivxjs]"), re.compile(r"f?Z\s?[ivxjs\d]")


def signs_told(lines: Sequence[Line]) -> list[Line]:
    """Return the lines of a receipt, its signs of weight held against each other.

    Parameters
    ----------
    lines : sequence of Line
        The lines of one receipt.

    Returns
    -------
    list of Line
        The same; doubtful signs are no longer certain and keep what else they may be.

    Examples
    --------
    >>> from reconlab.reading.lines import read_line
    >>> rows = ("Chalk Ziv.", "Camphor 3iss.")
    >>> told = signs_told([read_line(row, 1, among_ingredients=True) for row in rows])
    >>> [line.items[0].quantities[0].parts[0].unit for line in told]
    ['ounce', 'drachm']
    """
    parts = [part for line in lines for item in line.items for part in _measured(item)]
    units = [part.unit for part in parts if _PINT.match(part.amount.printed) is None]
    small = bool(units) and _SMALL.issuperset(units)
    contrast = any(_LOW.match(part.amount.printed) for part in parts)
    return [
        changed(line, items=tuple(_told(item, small=small, contrast=contrast) for item in line.items))
        if line.items
        else line
        for line in lines
    ]


def _measured(item: Item) -> tuple[Measured, ...]:
    return tuple(part for quantity in item.quantities[:1] for part in quantity.parts)


def _told(item: Item, *, small: bool, contrast: bool) -> Item:
    parts = _measured(item)
    if len(parts) != 1:
        return item
    printed, unit = parts[0].amount.printed, parts[0].unit
    if contrast and _HIGH.match(printed):
        return _ounce_first(item)
    hidden = _hidden(printed, unit, small=small) if not item.readings else None
    return _or_else(item, *hidden) if hidden is not None else item


def _hidden(printed: str, unit: str | None, *, small: bool) -> tuple[str, Standing, str] | None:
    """Return the unit that may stand behind an odd one, how likely that is, and why."""
    if small and unit == "pint" and _PINT.match(printed):
        return "scruple", "likely", "among grains and scruples an O may be what a scan made of the scruple sign"
    odd = _ODD_DROPS.match(printed) if unit == "drop" else None
    if odd is not None and odd["numeral"].lower() not in ("i", "j", "1"):
        return "grain", "possible", "gt. is a single drop: a scan may have made it of gr."
    if unit == "pound" and _SPOONS.match(printed):
        return "tablespoonful", "possible", "tb. is a tablespoonful in kitchen books"
    return None


def _or_else(item: Item, unit: str, standing: Standing, because: str) -> Item:
    (quantity, *others) = item.quantities
    alone = changed(quantity, parts=(changed(quantity.parts[0], unit=unit),))
    amount = changed(alone.parts[0].amount, printed=f"{_number(quantity)} {unit}")
    alone = changed(alone, parts=(changed(alone.parts[0], amount=amount),))
    other = changed(item, quantities=(alone, *others), certain=False, readings=())
    return changed(item, certain=False, readings=(Reading(other, standing, because),))


def _number(quantity: Quantity) -> str:
    value = quantity.parts[0].amount.value
    return "" if value is None else f"{value:g}"


def _ounce_first(item: Item) -> Item:
    """Return an item whose reading as ounces is the first, if it has one that is not."""
    at = next((n for n, one in enumerate(item.readings) if str(_measured(one.item)[0].unit).endswith("ounce")), None)
    if at is None:
        return item
    why = "another sign of this receipt stands for the drachm"
    first = item.readings[at]
    own = Reading(changed(item, readings=()), "possible", f"a scan takes the sign of the drachm for Z too; but {why}")
    rest = tuple(one for n, one in enumerate(item.readings) if n != at)
    return changed(first.item, certain=False, readings=(own, *rest))
