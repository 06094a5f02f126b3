"""What was the receipt in grams? A receipt and the decisions about it become a formula.

First every line is looked up and its questions are gathered (``_lookup``); only then is it known which ways there are,
and the amounts are worked out in all of them at once (``_reckoning``). A compound preparation is a receipt of another
book, done the same way.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from reconlab.formula import Formula, FormulaLine, Part, Total, Unweighed
from reconlab.materia import identify
from reconlab.reading.lines import has_amount
from reconlab.reasons import Decision
from reconlab.receipts import Item, Line, Receipt, Setting
from reconlab.translation._gathering import gather_ways
from reconlab.translation._lookup import Entry, Overlooked, look_up, overlooked, unit_of
from reconlab.translation._reckoning import Amount, composition, inner_unweighed, merged, reckon
from reconlab.translation._shares import receipt_of_shares
from reconlab.ways import Array, Ways

__all__ = ["formula_of_shares", "translate"]


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
    receipt, decisions = _with_bare_names(receipt), tuple(decisions)
    entries = look_up(receipt, decisions)
    hidden = overlooked(receipt, entries, decisions)
    ways = gather_ways(entries, [one.question for one in hidden])
    unit = unit_of(receipt.items)
    built = [(entry, reckon(entry, ways, unit)) for entry in entries]
    weighed = [(entry, amount) for entry, amount in built if isinstance(amount, Amount)]
    unweighed = [without for _, without in built if isinstance(without, Unweighed)]
    unweighed += [_hidden(one) for one in hidden]
    inner = [u for entry, _ in weighed for u in inner_unweighed(entry)]
    if not weighed:
        return _nothing_weighed(receipt, ways, unweighed, _notes(receipt, entries))
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
        notes=_notes(receipt, entries),
        unread=_amounts_not_read(receipt),
    )
    return formula.solved()


def formula_of_shares(title: str, shares: Sequence[tuple[str, str]]) -> Formula:
    """Return a formula from ingredients and their shares, as a modern label or a CSV has them.

    Parameters
    ----------
    title : str
        What it is called.
    shares : sequence of (str, str)
        Modern name and share as text [% w/w]; a name not on file stays, as not identified.

    Returns
    -------
    Formula
        In parts of the whole. Shares that come to less than 100 leave a rest that is not identified; a name that may be
        several things, or a preparation, is each of them.

    Raises
    ------
    InputError
        If a share is not a number from 0 to 100, a name is missing, or the shares come to more than 100.

    Examples
    --------
    >>> formula_of_shares("cream", [("borax", "1"), ("water", "99")]).share("borax").number
    1.0
    """
    receipt, modern = receipt_of_shares(title, shares)
    return replace(translate(receipt, modern), name="as given")


def _with_bare_names(receipt: Receipt) -> Receipt:
    """Take a line that is nothing but the name of a thing as one without an amount: no poison may be overlooked."""
    lines = [_bare_name(line, receipt.setting) for line in receipt.lines]
    return replace(receipt, lines=tuple(lines))


def _hidden(one: Overlooked) -> Unweighed:
    keys = tuple(option.key for option in one.question.options)
    return Unweighed(one.line, one.text, one.words, keys, "named on the page, not read as an ingredient")


def _bare_name(line: Line, setting: Setting) -> Line:
    if line.kind not in ("direction", "remark") or line.items or identify(line.text, setting) is None:
        return line
    item = Item(id=line.id, name=" ".join(line.text.split()).rstrip(".,"), certain=False)
    return replace(line, kind="ingredient", items=(item,), unread=())


def _nothing_weighed(receipt: Receipt, ways: Ways, unweighed: Sequence[Unweighed], notes: tuple[str, ...]) -> Formula:
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
        notes=(note, *notes),
    )


def _notes(receipt: Receipt, entries: Sequence[Entry]) -> tuple[str, ...]:
    reckoned = {entry.item.id for entry in entries if entry.name.key.startswith("strength: ")}
    notes = []
    for line in receipt.lines:
        words = [line.text[start:end] for start, end in line.unread]
        lost = [word for word in words if has_amount(word)]
        if lost:
            notes.append(
                f"Line {line.id}: an amount was not read: {', '.join(map(repr, lost))}; no figure holds until it is"
            )
        elif line.kind == "ingredient" and words:
            notes.append(f"Line {line.id}: not taken for an ingredient: {', '.join(map(repr, words))}")
        for item in line.items:
            if not item.certain:
                notes.append(f"Line {item.id}: check the reading of {' '.join(line.text.split())!r}")
            if item.strength and item.id not in reckoned:
                notes.append(f"Line {item.id}: a strength is printed and not reckoned with: {item.strength!r}")
    return tuple(notes)


def _amounts_not_read(receipt: Receipt) -> tuple[str, ...]:
    """Return the words with an amount that no line took: a formula without them is not the receipt."""
    texts = (line.text[start:end] for line in receipt.lines for start, end in line.unread)
    return tuple(text for text in texts if has_amount(text))
