"""What was the receipt in grams? A receipt and the decisions about it become a formula.

First every line is looked up and its questions are gathered (``_lookup``); only then is it known which ways there are,
and the amounts are worked out in all of them at once (``_reckoning``). A compound preparation is a receipt of another
book, done the same way.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from reconlab.formula import Formula, FormulaLine, Part, Total, Unweighed
from reconlab.materia import identify, thing
from reconlab.reasons import Decision
from reconlab.receipts import Item, Line, Receipt, Setting
from reconlab.translation._lookup import all_in_parts, gather_ways, look_up
from reconlab.translation._reckoning import Amount, composition, inner_unweighed, merged, reckon
from reconlab.ways import Array, Ways

__all__ = ["translate"]


def translate(receipt: Receipt, decisions: Iterable[Decision] = ()) -> Formula:
    r"""Return a receipt in grams, in every way it can be read.

    Parameters
    ----------
    receipt : Receipt
        As read.
    decisions : iterable of Decision
        What a person has settled; later ones win.

    Returns
    -------
    Formula
        Masses, shares, and the questions left open.

    Raises
    ------
    InputError
        If a preparation needs itself.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> formula = translate(read("Starch, 3 oz.\nOrris root, 1 oz.", years="1911", place="England"))
    >>> round(formula.share("orris root").number, 1)
    25.0
    """
    receipt = _with_bare_names(receipt)
    entries = look_up(receipt, decisions)
    ways = gather_ways(entries)
    unit = "part" if all_in_parts(receipt) else "g"
    built = [(entry, reckon(entry, ways, unit)) for entry in entries]
    weighed = [(entry, amount) for entry, amount in built if isinstance(amount, Amount)]
    unweighed = [without for _, without in built if isinstance(without, Unweighed)]
    inner = [u for entry, _ in weighed for u in inner_unweighed(entry)]
    if not weighed:
        return _nothing_weighed(receipt, ways, unweighed)
    parts: list[Part] = []
    shares: list[Array] = []
    densities: list[Array] = []
    for entry, _ in weighed:
        for part, share, dense in composition(entry, ways, (), entry.item.id):
            parts.append(part)
            shares.append(share)
            densities.append(dense)
    merged_parts, merged_shares, merged_densities = merged(parts, shares, densities)
    formula = Formula(
        title=receipt.title or "receipt without a title",
        lines=tuple(FormulaLine(e.item.id, e.words, e.item.name, e.item.purpose, a.reason) for e, a in weighed),
        parts=merged_parts,
        line_amount=np.array([amount.figures for _, amount in weighed]),
        share_of_line=merged_shares,
        density=merged_densities,
        ways=ways,
        unit=unit,
        unweighed=(*unweighed, *inner),
        totals=tuple(Total(e.item.id, a.by_measure, a.figures) for e, a in weighed if e.item.purpose == "total"),
        notes=_unread_notes(receipt),
    )
    return formula.solved()


def _with_bare_names(receipt: Receipt) -> Receipt:
    """Take a line that is nothing but the name of a thing as one without an amount: no poison may be overlooked."""
    lines = [_bare_name(line, receipt.setting) for line in receipt.lines]
    return replace(receipt, lines=(*_poison_in_title(receipt), *lines))


def _poison_in_title(receipt: Receipt) -> Iterator[Line]:
    """Give the title as a line where it is the name of a poison: it may as well be the first ingredient."""
    question = identify(receipt.title, receipt.setting) if receipt.title else None
    if question and any(thing(option.key).never_handled for option in question.options):
        item = Item(id="title", name=receipt.title, certain=False)
        yield Line(id="title", text=receipt.title, kind="ingredient", items=(item,))


def _bare_name(line: Line, setting: Setting) -> Line:
    if line.kind not in ("direction", "remark") or line.items or identify(line.text, setting) is None:
        return line
    item = Item(id=line.id, name=" ".join(line.text.split()).rstrip(".,"), certain=False)
    return replace(line, kind="ingredient", items=(item,), unread=())


def _nothing_weighed(receipt: Receipt, ways: Ways, unweighed: Sequence[Unweighed]) -> Formula:
    none = np.zeros((0, len(ways)))
    note = "No line has an amount that can be weighed: nothing was reckoned."
    return Formula(
        receipt.title or "receipt without a title",
        (),
        (),
        none,
        none,
        none,
        ways,
        unweighed=tuple(unweighed),
        notes=(note, *_unread_notes(receipt)),
    )


def _unread_notes(receipt: Receipt) -> tuple[str, ...]:
    notes = []
    for line in receipt.lines:
        words = [line.text[start:end] for start, end in line.unread]
        if line.kind == "ingredient" and words:
            notes.append(f"Line {line.id}: not taken for an ingredient: {', '.join(repr(word) for word in words)}")
        notes += [
            f"Line {item.id}: check the reading of {' '.join(line.text.split())!r}"
            for item in line.items
            if not item.certain
        ]
    return tuple(notes)
