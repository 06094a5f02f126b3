"""How is it shown what was read? The printed words, underlined by what they were understood as, and a table beside."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import groupby
from typing import TYPE_CHECKING

from reconlab.display import Beside, Printed, Table

if TYPE_CHECKING:
    from reconlab.receipts import Item, Line, Receipt

# What words were understood as, first those that win where two claim a word; and the line drawn under them.
_KINDS = {
    "amount": "double",
    "unit": "double",
    "name": "solid",
    "preparation": "dotted",
    "strength": "dotted",
    "purpose": "dashed",
}
MEANS = (
    ("double", "amount and unit"),
    ("solid", "name"),
    ("dotted", "preparation or strength"),
    ("dashed", "what it is for"),
    ("wavy", "not read"),
)
HEADS = ("line", "amount as read", "name", "prepared, strength", "how sure")


def beside(receipt: Receipt, title: str = "", pictured: Callable[[Line], Iterable[bytes]] | None = None) -> Beside:
    """Return a receipt as printed, with what was read of it beside.

    Parameters
    ----------
    receipt : Receipt
        As read.
    title : str
        What stands above.
    pictured : callable, optional
        Gives the pieces of the page's picture that a line stands in.

    Returns
    -------
    Beside
        Its lines with their underlines, and a table.

    Examples
    --------
    >>> from reconlab.receipts import Line, Receipt, Setting
    >>> line = Line(id="1", text="Mix.", kind="direction")
    >>> beside(Receipt(title="", setting=Setting(), lines=(line,), text="Mix.")).lines[0].note
    'direction'
    """
    lines = tuple(_printed(line, b"".join([*pictured(line)][:1]) if pictured else b"") for line in receipt.lines)
    used = {kind for line in lines for _, kind in line.stretches}
    rows = tuple(_row(item) for item in receipt.items)
    means = tuple((kind, word) for kind, word in MEANS if kind in used)
    return Beside(title, lines, means, _table(rows) if rows else None)


def not_sure(receipt: Receipt) -> Iterator[str]:
    """Yield what was not read, and what wants a look, line by line.

    Parameters
    ----------
    receipt : Receipt
        As read.

    Yields
    ------
    str
        A sentence.

    Examples
    --------
    >>> from reconlab.receipts import Line, Receipt, Setting
    >>> line = Line(id="1", text="Starch zz", kind="ingredient", unread=((7, 9),))
    >>> list(not_sure(Receipt(title="", setting=Setting(), lines=(line,), text="Starch zz")))
    ["line 1: 'zz' was not read"]
    """
    for line in receipt.lines:
        if line.kind == "ingredient":
            yield from (f"line {line.id}: {line.text[start:end]!r} was not read" for start, end in line.unread)
        for item in line.items:
            if not item.certain and not item.readings:
                yield f"line {item.id}: check {item.name!r}"
            for other in item.readings:
                yield (
                    f"line {item.id}: {printed(item)!r} may be {amount_as_read(other.item)} {other.item.name} "
                    f"({other.standing}): {other.because}"
                )


def printed(item: Item) -> str:
    """Return the amounts of an item as they are printed, without their units.

    Parameters
    ----------
    item : Item
        As read.

    Returns
    -------
    str
        In the words of the page; empty where it has none.

    Examples
    --------
    >>> from reconlab.receipts import Item
    >>> printed(Item(id="1", name="Starch", purpose="enough"))
    ''
    """
    return " + ".join(part.amount.printed for quantity in item.quantities for part in quantity.parts)


def amount_as_read(item: Item) -> str:
    """Return the amounts of an item as they were understood, in figures.

    Parameters
    ----------
    item : Item
        As read.

    Returns
    -------
    str
        Such as "1.5 ounce"; what the item is for, where it has no amount.

    Examples
    --------
    >>> from reconlab.receipts import Item
    >>> amount_as_read(Item(id="1", name="Starch", purpose="enough"))
    'enough'
    """
    said = []
    for quantity in item.quantities:
        parts = []
        for part in quantity.parts:
            low, high, unit = part.amount.low, part.amount.high, (part.unit or "").replace("_", " ")
            ranged = low is not None and high is not None and low < high
            figure = f"{low:g} to {high:g}" if ranged else "" if part.amount.value is None else f"{part.amount.value:g}"
            parts.append(f"{figure} {unit}".strip())
        said.append(" + ".join(parts))
    amounts = " or ".join(said)
    return " ".join(filter(None, ("to make" if item.purpose == "total" else "", amounts))) if amounts else item.purpose


def _table(rows: tuple[tuple[str, ...], ...]) -> Table:
    """Return the table of what was read; a column in which nothing stands is left out."""
    kept = [at for at, head in enumerate(HEADS) if head == "name" or any(row[at] for row in rows)]
    return Table("", tuple(HEADS[at] for at in kept), tuple(tuple(row[at] for at in kept) for row in rows))


def _row(item: Item) -> tuple[str, ...]:
    prepared = ", ".join(filter(None, (item.preparation, item.strength)))
    others = "; ".join(f"or {amount_as_read(one.item)} ({one.standing})" for one in item.readings)
    sure = others or ("sure" if item.certain else "look at it")
    return (item.id, amount_as_read(item), item.name, prepared, sure)


def _printed(line: Line, picture: bytes) -> Printed:
    return Printed(tuple(_stretches(line)), "" if line.kind == "ingredient" else line.kind, picture)


def _stretches(line: Line) -> Iterator[tuple[str, str]]:
    """Yield the words of a line in turn, each with the line drawn under it."""
    under = [""] * len(line.text)
    for start, end in line.unread if line.kind == "ingredient" else ():
        under[start:end] = ["wavy"] * (end - start)
    for item in line.items:
        for kind, spans in reversed(item.spans.items()):
            for start, end in spans:
                under[start:end] = [_KINDS.get(kind, "dashed")] * (end - start)
    for kind, signs in groupby(zip(line.text, under, strict=True), key=lambda pair: pair[1]):
        yield "".join(sign for sign, _ in signs), kind
