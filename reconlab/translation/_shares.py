"""From a modern label, or a table of shares, to a formula: the same questions are asked of its names."""

from __future__ import annotations

from collections.abc import Sequence

from reconlab.errors import InputError
from reconlab.materia import folded, modern_thing
from reconlab.reasons import Decision, figure
from reconlab.receipts import Amount, Item, Line, Measured, Quantity, Receipt, Setting

_ROUNDED = 0.5  # shares on a label are rounded: their sum may be this far from 100 %


def receipt_of_shares(title: str, shares: Sequence[tuple[str, str]]) -> tuple[Receipt, tuple[Decision, ...]]:
    """Return shares as a receipt in parts by weight, its modern names settled."""
    given: list[tuple[str, str, float]] = []
    for number, (name, text) in enumerate(shares, start=1):
        try:
            share = float(text.replace(",", "."))
        except ValueError:
            share = float("nan")
        if not 0 <= share <= 100:  # noqa: PLR2004 - a percentage
            raise InputError(
                f"{text!r} is not a share", f"{title}, row {number} ({name})", "Write a percentage from 0 to 100."
            )
        if not name.strip():
            raise InputError("a share without a name", f"{title}, row {number}", "Name the ingredient.")
        given.append((name, text, share))
    whole = sum(share for *_, share in given)
    if whole > 100 + _ROUNDED:
        raise InputError(f"the shares come to {figure(whole)} %", title, "Check them: they may come to 100 at most.")
    if whole < 100 - _ROUNDED:
        given.append(("the rest", figure(100 - whole), 100 - whole))  # else every share would be taken for more
    lines = tuple(_line(number, *one) for number, one in enumerate(given, start=1))
    modern = ((name, modern_thing(name)) for name, *_ in given)
    settled = tuple(
        Decision(question=f"name: {folded(name)}", option=known, because="its modern name")
        for name, known in modern
        if known
    )
    return Receipt(title=title, setting=Setting(), lines=lines, text=""), settled


def _line(number: int, name: str, text: str, share: float) -> Line:
    amount = Amount(share, share, share, f"{text} %")
    quantity = Quantity((Measured(amount, "part_by_weight"),))
    item = Item(id=str(number), name=name, quantities=(quantity,))
    return Line(id=str(number), text=f"{name} {text} %", kind="ingredient", items=(item,))
