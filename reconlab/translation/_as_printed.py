"""How is an amount, or another reading of it, told in words? Each reading of one amount has words of its own."""

from __future__ import annotations

from reconlab.reasons import figure
from reconlab.receipts import Item


def printed(item: Item) -> str:
    """Return the amount of an item in its printed words."""
    return " ".join(part.amount.printed for quantity in item.quantities for part in quantity.parts)


def reading_key(reading: Item, plain: Item) -> str:
    """Return the words of a reading: as printed, or as understood where the print is the same ("3ij": 2 ounce)."""
    words = printed(reading)
    return words if reading is plain or words != printed(plain) else _understood(reading)


def _understood(item: Item) -> str:
    parts = [part for quantity in item.quantities for part in quantity.parts]
    return " ".join(
        " ".join(filter(None, (figure(part.amount.value or 0), (part.unit or "").replace("_", " ")))) for part in parts
    )
