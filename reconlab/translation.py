"""What was the receipt in grams? A receipt and the decisions about it become a formula.

First every line is looked up and its questions are gathered; only then is it known which ways there are, and the
amounts are worked out in all of them at once. A compound preparation is a receipt of another book, done the same way.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from reconlab import measures
from reconlab.errors import InputError
from reconlab.formula import Formula, FormulaLine, Part, Total, Unweighed
from reconlab.materia import UNKNOWN, density, drop, folded, identify, substance_id, thing
from reconlab.reading import read
from reconlab.reasons import RANGE_MATTERS, Decision, Option, Question, Reason, Spread
from reconlab.receipts import Item, Measured, Receipt
from reconlab.tables import Measure, Preparation, PreparationLine, by_id, rows
from reconlab.ways import Array, Ways

_PART_UNITS = ("part", "part_by_weight", "part_by_measure", "percent", None)
_PARTS = Question(
    "parts",
    "Are the parts by weight or by measure?",
    (
        Option("by weight", "likely", Reason("parts by weight, where the page does not say")),
        Option("by measure", "possible", Reason("parts of liquids by measure")),
    ),
)


@dataclass(frozen=True)
class _Book:
    """The questions that are one for all lines of a book."""

    weights: Question
    measures: Question
    liquids: Question
    parts: Question


@dataclass(frozen=True)
class _Entry:
    """One item looked up: every thing it may be, each with its own receipt where it is a preparation."""

    item: Item
    words: str
    name: Question
    book: _Book
    reading: Question | None
    amount: Spread | None
    inner: Mapping[str, tuple[_Entry, ...]]
    drops: Mapping[str, Spread]
    densities: Mapping[str, Spread]


def translate(receipt: Receipt, decisions: Iterable[Decision] = ()) -> Formula:
    """Return a receipt in grams, in every way it can be read.

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
    >>> formula = translate(read("Starch, 3 oz.\\nOrris root, 1 oz.", years="1911", place="England"))
    >>> round(formula.share("orris root").number, 1)
    25.0
    """
    settled = {(decision.question, folded(decision.at)): decision for decision in decisions}
    entries = _look_up(receipt, settled, preparation="", path=(), needs=())
    ways = _ways(entries)
    unit = "part" if _all_in_parts(receipt) else "g"
    built = [(entry, _reckon(entry, ways, unit)) for entry in entries]
    weighed = [(entry, amount) for entry, amount in built if isinstance(amount, _Amount)]
    unweighed = [without for _, without in built if isinstance(without, Unweighed)]
    inner = [u for entry, _ in weighed for u in _inner_unweighed(entry)]
    if not weighed:
        return _nothing_weighed(receipt, ways, unweighed)
    parts: list[Part] = []
    shares: list[Array] = []
    densities: list[Array] = []
    for entry, _ in weighed:
        for part, share, dense in _composition(entry, ways, (), entry.item.id):
            parts.append(part)
            shares.append(share)
            densities.append(dense)
    merged_parts, merged_shares, merged_densities = _merged(parts, shares, densities)
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
        totals=tuple(Total(e.item.id, a.kind, a.figures) for e, a in weighed if e.item.purpose == "total"),
        notes=_unread_notes(receipt),
    )
    return formula.solved()


def _nothing_weighed(receipt: Receipt, ways: Ways, unweighed: Sequence[Unweighed]) -> Formula:
    none = np.zeros((0, len(ways)))
    note = "No line has an amount that can be weighed: nothing was reckoned."
    return Formula(
        receipt.title or "receipt without a title", (), (), none, none, none, ways, unweighed=tuple(unweighed),
        notes=(note, *_unread_notes(receipt)),
    )  # fmt: skip


# Looking up: what may each line be, and which questions does it raise?


def _look_up(
    receipt: Receipt,
    settled: Mapping[tuple[str, str], Decision],
    *,
    preparation: str,
    path: tuple[str, ...],
    needs: tuple[tuple[str, tuple[str, ...]], ...],
) -> tuple[_Entry, ...]:
    book = _Book(
        measures.custom_question("weights", receipt.setting, preparation),
        measures.custom_question("measures", receipt.setting, preparation),
        measures.liquids_question(preparation),
        replace(_PARTS, book=preparation),
    )
    entries = []
    for line in receipt.lines:
        for item in line.items:
            words = " ".join(line.text.split())
            own = _Book(*(_close(_asked_in(q, preparation, needs), settled, words) for q in (book.weights, book.measures, book.liquids, book.parts)))
            entries.append(_entry(item, words, own, receipt, settled, path, needs))
    return tuple(entries)


def _entry(
    item: Item,
    words: str,
    book: _Book,
    receipt: Receipt,
    settled: Mapping[tuple[str, str], Decision],
    path: tuple[str, ...],
    needs: tuple[tuple[str, tuple[str, ...]], ...],
) -> _Entry:
    question = identify(item.name, receipt.setting) or _unidentified(item.name)
    name = _close(_asked_in(question, path[-1] if path else "", needs), settled, words, named=True)
    inner: dict[str, tuple[_Entry, ...]] = {}
    for option in name.options:
        if option.key not in by_id(Preparation):
            continue
        if option.key in path:
            raise InputError(f"{thing(option.key).name} needs itself", " -> ".join((*path, option.key)), "Mend its lines in preparation_lines.csv.")
        hangs_on = (*needs, (name.id, (option.key,))) if len(name.options) > 1 else needs
        made = _preparation_receipt(option.key)
        inner[option.key] = _look_up(made, settled, preparation=option.key, path=(*path, option.key), needs=hangs_on)
    keys = [option.key for option in name.options]
    return _Entry(
        item, words, name, book,
        reading=_close_reading(item, settled, words),
        amount=_amount_spread(item, settled, words),
        inner=inner,
        drops={key: _close_spread(found, settled, words) for key in keys if _in_drops(item) and (found := drop(key))},
        densities={key: _close_spread(found, settled, words) for key in keys if (found := _density_spread(key))},
    )  # fmt: skip


def _asked_in(question: Question, preparation: str, needs: tuple[tuple[str, tuple[str, ...]], ...]) -> Question:
    """Return the question as one of a preparation's own book, asked only if the receipt means that preparation."""
    asks = f"{question.asks[:-1]} in {thing(preparation).name}?" if preparation else question.asks
    return replace(question, asks=asks, book=preparation, only_if=needs)


def _unidentified(name: str) -> Question:
    reason = Reason(f"nothing on file is called {name!r}; say what it is, and on whose word")
    return Question(f"name: {folded(name)}", f"What was {name}?", (Option(f"{UNKNOWN}{name}", "likely", reason, f"{name} (not identified)"),))


def _close(question: Question, settled: Mapping[tuple[str, str], Decision], words: str, *, named: bool = False) -> Question:
    """Return a question closed by the decision about it; one about the words of a line is for that line alone."""
    decision = settled.get((question.id, ""))
    for (key, at), own in settled.items():
        if key == question.id and at and at in folded(words):
            decision = own
            question = replace(question, key=f"{question.key} @ {at}")
    if decision is None:
        return question
    return question.decided(_with_substance(decision) if named else _with_option(decision, question))


def _with_option(decision: Decision, question: Question) -> Decision:
    """Let a person give an answer by its words instead of its key."""
    for option in question.options:
        if folded(decision.option) in (folded(option.key), folded(option.words)):
            return replace(decision, option=option.key)
    known = (measures.AS_STATE, measures.BY_WEIGHT, measures.BY_MEASURE)
    if question.key.split(" @ ")[0] == "liquids" and decision.option in known:
        return decision
    answers = "; ".join(option.words for option in question.options)
    raise InputError(f"{decision.option!r} is no answer to {question.asks!r}", question.id, f"The answers are: {answers}.")


def _with_substance(decision: Decision) -> Decision:
    """Let a person name a thing by its modern name."""
    if decision.option in by_id(Preparation) or decision.option.startswith(UNKNOWN):
        return decision
    prepared = [row.id for row in rows(Preparation) if folded(row.name) == folded(decision.option)]
    return replace(decision, option=prepared[0] if prepared else substance_id(decision.option))


def _close_spread(spread: Spread, settled: Mapping[tuple[str, str], Decision], words: str) -> Spread:
    decision = settled.get((spread.key, ""))
    for (key, at), own in settled.items():
        if key == spread.key and at and at in folded(words):
            decision = own
            spread = replace(spread, key=f"{spread.key} @ {at}")
    return spread.decided(decision) if decision else spread


def _close_reading(item: Item, settled: Mapping[tuple[str, str], Decision], words: str) -> Question | None:
    """Return which of several readings of a doubtful figure holds: each answer is a whole reading."""
    if not item.readings:
        return None
    plain = Option(_printed(item), "likely", Reason(f"as printed: {_printed(item)}"))
    others = tuple(Option(_printed(r.item), r.standing, Reason(r.because)) for r in item.readings)  # type: ignore[arg-type]
    worst = tuple(replace(plain, standing="possible") for o in others if o.standing == "likely")
    first = sorted((*others, *(worst or (plain,))), key=lambda option: option.standing != "likely")
    question = Question(f"reading: {_printed(item)} {item.name}", f"Was {_printed(item)!r} printed for another figure?", tuple(first))
    decision = settled.get((question.id, ""))
    return question.decided(_with_option(decision, question)) if decision else _close(question, settled, words)


def _printed(item: Item) -> str:
    return " ".join(part.amount.printed for quantity in item.quantities for part in quantity.parts)


def _amount_spread(item: Item, settled: Mapping[tuple[str, str], Decision], words: str) -> Spread | None:
    """Return a printed range ("ten to thirty drops") as a factor on its middle."""
    for part in _parts(item):
        amount = part.amount
        if amount.value and amount.low is not None and amount.high is not None and amount.low < amount.high:
            reason = Reason(f"printed as a range: {amount.printed}")
            low, high = amount.low / amount.value, amount.high / amount.value
            spread = Spread(f"amount: {amount.printed} {item.name}", f"How much is {amount.printed!r}?", 1.0, low, high, "1", reason)
            return _close_spread(spread, settled, words)
    return None


def _density_spread(key: str) -> Spread | None:
    value = density(key)
    if value.high - value.low <= RANGE_MATTERS * value.number:
        return None
    return Spread(f"density: {thing(key).name}", f"How dense was {thing(key).name}?", value.number, value.low, value.high, "g/mL", value.reason)


def _in_drops(item: Item) -> bool:
    return any(part.unit == "drop" for part in _parts(item))


def _parts(item: Item) -> tuple[Measured, ...]:
    return item.quantities[0].parts if item.quantities else ()


@cache
def _preparation_receipt(key: str) -> Receipt:
    row = by_id(Preparation)[key]
    lines = sorted((line for line in rows(PreparationLine) if line.preparation == key), key=lambda line: int(line.line))
    years = "-".join(str(year) for year in (row.from_year, row.to_year) if year)
    return read("\n".join(line.text for line in lines), title=row.title, years=years, place=row.place, book=row.book)


def _all_in_parts(receipt: Receipt) -> bool:
    units = [part.unit for item in receipt.items for part in _parts(item)]
    return bool(units) and all(unit in _PART_UNITS for unit in units)


# Which ways are there?


def _ways(entries: Sequence[_Entry]) -> Ways:
    questions: dict[str, Question] = {}
    spreads: dict[str, Spread] = {}
    for entry in _every(entries):
        for question in _questions_of(entry):
            known = questions.get(question.id)
            questions[question.id] = known.merged(question) if known else question
        for spread in _spreads_of(entry):
            spreads.setdefault(spread.id, spread)
    return Ways(tuple(questions.values()), tuple(spreads.values()))


def _every(entries: Iterable[_Entry]) -> Iterator[_Entry]:
    for entry in entries:
        yield entry
        for inner in entry.inner.values():
            yield from _every(inner)


def _questions_of(entry: _Entry) -> Iterator[Question]:
    yield entry.name
    if entry.reading:
        yield entry.reading
    units = [part.unit for part in _parts(entry.item)]
    any_liquid = any(thing(option.key).liquid for option in entry.name.options)
    forced = entry.book.liquids.options[0].key == measures.BY_MEASURE
    fluid = any(unit in measures.FLUID for unit in units) and (any_liquid or forced)
    for question, kind in ((entry.book.weights, "mass"), (entry.book.measures, "volume")):
        if any(_hangs_on(part, question, kind, fluid=fluid) for part in _parts(entry.item)):
            yield question
    if fluid:
        yield entry.book.liquids
    if any(unit in ("part", "percent") for unit in units) and any_liquid:
        yield entry.book.parts


def _hangs_on(part: Measured, question: Question, kind: str, *, fluid: bool) -> bool:
    """Return whether the size of a unit hangs on a book's custom at all: a grain or a gram is the same in each."""
    units = {part.unit, measures.FLUID.get(str(part.unit)) if fluid else part.unit}
    sizes = {
        found.id for unit in units if unit for option in question.options
        if (found := measures.size(unit, part.written, option.key)) and found.kind == kind
    }  # fmt: skip
    return len(sizes) > 1 or (question.settled is not None and bool(sizes) and part.unit not in ("grain", "gram", "milliliter"))


def _spreads_of(entry: _Entry) -> Iterator[Spread]:
    if entry.amount:
        yield entry.amount
    yield from entry.drops.values()
    by_volume = any(part.unit not in ("drop", "grain", "gram", "scruple", "pound") for part in _parts(entry.item))
    if by_volume or entry.item.purpose == "total":
        yield from (spread for key, spread in entry.densities.items() if thing(key).liquid)


# Reckoning: amounts and compositions in every way.


@dataclass(frozen=True)
class _Amount:
    figures: Array  # [way], in g or parts; for a total in g, mL or parts
    kind: str  # mass or volume
    reason: Reason


def _reckon(entry: _Entry, ways: Ways, unit: str) -> _Amount | Unweighed:
    """Return an item's amount in every way, or why it has none."""
    why = _no_amount(entry, unit)
    if why:
        names = tuple(option.key for option in entry.name.options)
        return Unweighed(entry.item.id, entry.words, entry.item.name, names, why)
    total = entry.item.purpose == "total"
    figures, kind = np.zeros(len(ways)), "mass"
    for option in entry.name.options:
        amount, option_kind = _amount_of(entry, ways, option.key, unit, as_total=total)
        kind = option_kind if option is entry.name.options[0] else kind
        figures = figures + amount * ways.holds(entry.name, option.key)
    if entry.amount:
        figures = figures * ways.between(entry.amount)
    return _Amount(figures, kind, _line_reason(entry))


def _no_amount(entry: _Entry, unit: str) -> str:
    parts = _parts(entry.item)
    if not parts:
        return "as much as is needed (q.s.)" if entry.item.purpose == "enough" else "no amount printed"
    for part in parts:
        if part.amount.value is None:
            return f"no figure in {part.amount.printed!r}"
        if unit == "part":
            continue
        if part.unit is None:
            return f"no unit printed with {part.amount.printed!r}"
        if part.unit == "drop":
            if not entry.drops:
                return "no drop of it is on file"
        elif part.unit in _PART_UNITS:
            return f"{part.amount.printed}: parts cannot be set beside weights"
        elif not any(measures.size(part.unit, part.written, option.key) for option in _customs(entry)):
            return f"no size of a {part.unit.replace('_', ' ')} on file"
    return ""


def _customs(entry: _Entry) -> tuple[Option, ...]:
    return (*entry.book.weights.options, *entry.book.measures.options)


def _amount_of(entry: _Entry, ways: Ways, key: str, unit: str, *, as_total: bool) -> tuple[Array, str]:
    """Return the amount of the line in every way if it is this thing: in g, or for a total by measure in mL."""
    dense = ways.between(entry.densities[key]) if key in entry.densities else np.full(len(ways), density(key).number)
    figures, kind = np.zeros(len(ways)), "mass"
    readings = (entry.item, *(reading.item for reading in entry.item.readings))
    for item in readings if entry.reading else readings[:1]:
        amount = np.zeros(len(ways))
        for part in _parts(item):
            in_part, kind = _part_amount(entry, part, ways, key, dense, unit, as_total=as_total)
            amount = amount + in_part
        figures = figures + (amount * ways.holds(entry.reading, _printed(item)) if entry.reading else amount)
    return figures, kind


def _part_amount(
    entry: _Entry, part: Measured, ways: Ways, key: str, dense: Array, unit: str, *, as_total: bool
) -> tuple[Array, str]:
    value = part.amount.value or 0.0
    book = entry.book
    if unit == "part":
        by_measure = np.full(len(ways), float(part.unit == "part_by_measure"))
        if part.unit in ("part", "percent") and thing(key).liquid:
            by_measure = ways.holds(book.parts, "by measure")
        return value * np.where(by_measure > 0, dense, 1.0), "mass"
    if part.unit == "drop":
        return value * (ways.between(entry.drops[key]) if key in entry.drops else np.zeros(len(ways))), "mass"
    token = str(part.unit)
    weight = _sizes(token, part.written, book.weights, "mass")
    measure = _sizes(measures.FLUID.get(token, token), part.written, book.measures, "volume")
    kind = _by_measure(entry, ways, key, token) if weight and measure else np.full(len(ways), float(bool(measure)))
    by_weight = ways.take(book.weights, weight) if weight else np.zeros(len(ways))
    in_ml = ways.take(book.measures, measure) if measure else np.zeros(len(ways))
    if as_total and kind[0] > 0:
        # Where a total by measure may also be by weight, the weight is turned into the volume that weighs as much.
        return value * np.where(kind > 0, in_ml, by_weight / dense), "volume"
    return value * np.where(kind > 0, in_ml * dense, by_weight), "mass"


def _by_measure(entry: _Entry, ways: Ways, key: str, token: str) -> Array:
    """Return, for every way, whether ounces and drachms of this thing are measures."""
    if token not in measures.FLUID:
        return np.zeros(len(ways))
    worth = {measures.AS_STATE: float(thing(key).liquid), measures.BY_WEIGHT: 0.0, measures.BY_MEASURE: 1.0}
    return ways.take(entry.book.liquids, {option.key: worth[option.key] for option in entry.book.liquids.options})


def _sizes(token: str, written: str, question: Question, kind: str) -> dict[str, float]:
    """Return the size of a unit under each custom, empty where it is of the other kind."""
    found = {option.key: measures.size(token, written, option.key) for option in question.options}
    return {key: float(size.size) for key, size in found.items() if isinstance(size, Measure) and size.kind == kind}


def _composition(entry: _Entry, ways: Ways, path: tuple[str, ...], item: str) -> Iterator[tuple[Part, Array, Array]]:
    """Give every substance an item may be, with its share of the line and its density, in every way."""
    for option in entry.name.options:
        here = ways.holds(entry.name, option.key)
        if option.key not in entry.inner:
            dense = ways.between(entry.densities[option.key]) if option.key in entry.densities else np.full(len(ways), density(option.key).number)
            yield Part(item, path, option.key), here, dense
            continue
        yield from _inside(entry, ways, option.key, here, (*path, option.key), item)


def _inside(
    entry: _Entry, ways: Ways, key: str, here: Array, path: tuple[str, ...], item: str
) -> Iterator[tuple[Part, Array, Array]]:
    """Give the substances of a preparation, each with its share by mass."""
    inner = entry.inner[key]
    reckoned = [(e, a) for e in inner if isinstance(a := _reckon(e, ways, _unit_of(inner)), _Amount)]
    rows = [(position, row) for position, (e, _) in enumerate(reckoned) for row in _composition(e, ways, path, item)]
    formula = Formula(
        key,
        tuple(FormulaLine(str(i), e.words, e.item.name, e.item.purpose, a.reason) for i, (e, a) in enumerate(reckoned)),
        tuple(Part(str(i), row[0].path, row[0].substance) for i, row in rows),
        np.array([a.figures for _, a in reckoned]),
        np.array([row[1] for _, row in rows]),
        np.array([row[2] for _, row in rows]),
        ways,
        totals=tuple(Total(str(i), a.kind, a.figures) for i, (e, a) in enumerate(reckoned) if e.item.purpose == "total"),
    ).solved()
    whole = formula.amount.sum(axis=0)
    # The published density of the preparation itself is better than the sum of its parts, which contract on mixing.
    dense = np.full(len(ways), density(key).number)
    for (_, row), amount in zip(rows, formula.amount, strict=True):
        yield row[0], here * amount / np.where(whole > 0, whole, 1.0), dense


def _inner_unweighed(entry: _Entry) -> Iterator[Unweighed]:
    """Give what a preparation holds without a weight: it may be there all the same."""
    for key, inner in entry.inner.items():
        for e in inner:
            why = _no_amount(e, _unit_of(inner))
            if why:
                names = tuple(option.key for option in e.name.options)
                yield Unweighed(entry.item.id, e.words, f"{e.item.name} in {thing(key).name}", names, why)
            yield from _inner_unweighed(e)


def _unit_of(entries: Iterable[_Entry]) -> str:
    return "part" if all(part.unit in _PART_UNITS for entry in entries for part in _parts(entry.item)) else "g"


def _merged(
    parts: Sequence[Part], shares: Sequence[Array], densities: Sequence[Array]
) -> tuple[tuple[Part, ...], Array, Array]:
    """Add equal parts: the same substance through the same preparations in the same line."""
    row_of: dict[Part, int] = {}
    added: list[Array] = []
    dense: list[Array] = []
    for part, share, own in zip(parts, shares, densities, strict=True):
        if part in row_of:
            added[row_of[part]] = added[row_of[part]] + share
        else:
            row_of[part] = len(added)
            added.append(share)
            dense.append(own)
    return tuple(row_of), np.array(added), np.array(dense)


# Saying why.


def _line_reason(entry: _Entry) -> Reason:
    key = entry.name.options[0].key
    because: list[Reason] = []
    for part in _parts(entry.item):
        because += _part_reasons(entry, part, key)
    because.append(entry.name.options[0].reason)
    if entry.amount:
        because.append(entry.amount.reason)
    for inner in entry.inner.get(key, ()):
        row = by_id(Preparation)[key]
        because.append(row.reason(f"{row.name} by {row.title}: {inner.words}", inner.name.options[0].reason))
    return Reason(f"printed: {entry.words}", (), tuple(because))


def _part_reasons(entry: _Entry, part: Measured, key: str) -> Iterator[Reason]:
    token = str(part.unit)
    if token == "drop":
        spread = entry.drops.get(key)
        yield Reason(f"{part.amount.printed}: {part.amount.value:g} drops", (), (spread.reason,) if spread else ())
        return
    if part.unit in _PART_UNITS:
        yield Reason(f"{part.amount.printed}: {part.amount.value:g} parts")
        return
    liquids = entry.book.liquids.options[0]
    fluid = token in measures.FLUID and (liquids.key == measures.BY_MEASURE or (liquids.key == measures.AS_STATE and thing(key).liquid))
    unit = measures.FLUID[token] if fluid else token
    measure, weight = entry.book.measures.options[0], entry.book.weights.options[0]
    custom = measure if (found := measures.size(unit, part.written, measure.key)) and found.kind == "volume" else weight
    size = measures.unit_reason(unit, part.written, custom.key)
    yield Reason(f"{part.amount.printed!r} is {part.amount.value:g} {unit.replace('_', ' ')}", (), (size, custom.reason))
    if fluid:
        yield liquids.reason
    if custom is measure:
        yield entry.densities[key].reason if key in entry.densities else density(key).reason


def _unread_notes(receipt: Receipt) -> tuple[str, ...]:
    notes = []
    for line in receipt.lines:
        words = [line.text[start:end] for start, end in line.unread]
        if line.kind == "ingredient" and words:
            notes.append(f"Line {line.id}: not read: {', '.join(repr(word) for word in words)}")
        notes += [f"Line {item.id}: check the reading of {' '.join(line.text.split())!r}" for item in line.items if not item.certain]
    return tuple(notes)
