"""How much of each substance, in every way: amounts, compositions, and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from reconlab import domestic, measures
from reconlab.formula import Formula, FormulaLine, Part, Total, Unweighed
from reconlab.materia import WATER, density, properties, thing
from reconlab.reasons import Question, Reason, Spread
from reconlab.receipts import Item, Measured
from reconlab.tables import Measure, Preparation, by_id
from reconlab.translation._as_printed import printed, reading_key
from reconlab.translation._lookup import PART_UNITS, Entry, fluid_senses, leaves, parts_of, ranged, unit_of
from reconlab.ways import Array, Ways


@dataclass(frozen=True)
class Amount:
    """What an item comes to in every way, and why."""

    figures: Array  # [way], in g or parts; for a total in g, mL or parts
    by_measure: Array  # [way], 1 where a total is a volume
    reason: Reason


def reckon(entry: Entry, ways: Ways, unit: str) -> Amount | Unweighed:
    """Return an item's amount in every way, or why it has none."""
    why = _no_amount(entry, unit)
    if why:
        return Unweighed(entry.item.id, entry.words, entry.item.name, leaves(entry), why, printed(entry.item))
    total = entry.item.purpose == "total"
    figures, by_measure = np.zeros(len(ways)), np.zeros(len(ways))
    for option in entry.name.options:
        amount, measured = _amount_of(entry, ways, option.key, unit, as_total=total)
        here = ways.holds(entry.name, option.key)
        figures, by_measure = figures + amount * here, by_measure + measured * here
    return Amount(figures, by_measure, _line_reason(entry))


def _no_amount(entry: Entry, unit: str) -> str:
    """Say why an item cannot be weighed, or nothing where it can."""
    parts = parts_of(entry.item)
    if not parts:
        return "as much as is needed (q.s.)" if entry.item.purpose == "enough" else "no amount printed"
    return next((why for part in parts if (why := _unweighable(entry, part, unit))), "")


def _unweighable(entry: Entry, part: Measured, unit: str) -> str:
    said = part.amount.printed
    if part.amount.value is None:
        return f"no figure in {said!r}"
    if unit == "part":
        return ""
    if part.unit in PART_UNITS:
        return f"{said}: parts cannot be set beside weights" if part.unit else f"no unit printed with {said!r}"
    if any(unit == part.unit for unit, _ in entry.sizes) or domestic.is_domestic(part.unit):
        return "" if any(unit == part.unit for unit, _ in entry.sizes) else domestic.missing(str(part.unit))
    keys = [option.key for option in entry.name.options]
    if part.unit in measures.ONLY_FLUID and all(thing(key).on_file and not thing(key).liquid for key in keys):
        return f"{said}: a {part.unit} measures liquids, and {entry.item.name} is a solid"
    customs = (*entry.book.weights.options, *entry.book.measures.options)
    known = any(measures.size(str(part.unit), part.written, option.key) for option in customs)
    return "" if known else f"no size of a {str(part.unit).replace('_', ' ')} on file"


def _amount_of(entry: Entry, ways: Ways, key: str, unit: str, *, as_total: bool) -> tuple[Array, Array]:
    """Return the amount of the line in every way if it is this thing, and whether that is in mL: a total by measure."""
    figures, measured = np.zeros(len(ways)), np.zeros(len(ways))
    for key_of_reading, item in _readings_of(entry):
        amount = np.zeros(len(ways))
        for part in parts_of(item):
            if unit == "part":
                in_part, measured = _in_parts(entry, part, ways, key, as_total=as_total)
            else:
                in_part, measured = _part_amount(entry, part, ways, key, as_total=as_total)
            if entry.amount and part is ranged(item) and part.amount.value:
                in_part = in_part * ways.between(entry.amount) / part.amount.value
            amount = amount + in_part
        figures = figures + (amount * ways.holds(entry.reading, key_of_reading) if entry.reading else amount)
    return figures, measured


def _readings_of(entry: Entry) -> Iterable[tuple[str, Item]]:
    """Return each reading of a doubtful amount once, by the key of its answer: two alike must not be added up."""
    if not entry.reading:
        return [("", entry.item)]
    readings = (entry.item, *(reading.item for reading in entry.item.readings))
    return {reading_key(item, entry.item): item for item in reversed(readings)}.items()


def _in_parts(entry: Entry, part: Measured, ways: Ways, key: str, *, as_total: bool) -> tuple[Array, Array]:
    """Return an amount in parts by weight, or for a total by measure in parts by measure, and where it is that."""
    by_measure = np.full(len(ways), float(part.unit == "part_by_measure"))
    if part.unit in ("part", "percent") and thing(key).liquid:
        by_measure = ways.holds(entry.book.parts, "by measure")
    value = part.amount.value or 0.0
    if as_total:
        return np.full(len(ways), value), by_measure
    return value * np.where(by_measure > 0, _density_of(entry, ways, key), 1.0), np.zeros(len(ways))


def _part_amount(entry: Entry, part: Measured, ways: Ways, key: str, *, as_total: bool) -> tuple[Array, Array]:
    """Return an amount in grams, or for a total by measure in millilitres, and in which ways it is in millilitres."""
    value, book, none = part.amount.value or 0.0, entry.book, np.zeros(len(ways))
    token = str(part.unit)
    if domestic.is_domestic(token) or (token, key) in entry.sizes:
        return _domestic_amount(entry, value, ways, (token, key), as_total=as_total)
    weight = _sizes(token, part.written, book.weights, "mass")
    fluid = measures.FLUID.get(token, token) if measures.may_be_fluid(parts_of(entry.item)) else token
    measure = _sizes(fluid, part.written, book.measures, "volume")
    kind = _by_measure(entry, ways, key, token) if weight and measure else np.full(len(ways), float(bool(measure)))
    by_weight = ways.take(book.weights, weight) if weight else none
    in_ml = ways.take(book.measures, measure) if measure else none
    if as_total:
        return value * np.where(kind > 0, in_ml, by_weight), kind
    return value * np.where(kind > 0, in_ml * _density_in_measure(entry, ways, key), by_weight), none


def _domestic_amount(
    entry: Entry, value: float, ways: Ways, which: tuple[str, str], *, as_total: bool
) -> tuple[Array, Array]:
    """Return so many drops, spoonfuls, handfuls or pieces as `_part_amount` does."""
    size, none = entry.sizes.get(which), np.zeros(len(ways))
    if size is None:
        return none, none
    amount = value * ways.between(size)
    if size.unit == "g":
        return amount, none
    return (amount, none + 1) if as_total else (amount * _density_in_measure(entry, ways, which[1]), none)


def _by_measure(entry: Entry, ways: Ways, key: str, token: str) -> Array:
    """Return, for every way, whether ounces and drachms of this thing are measures."""
    if token not in measures.FLUID:
        return np.zeros(len(ways))
    if entry.fluid is not None and not thing(key).on_file:
        return ways.holds(entry.fluid, measures.BY_MEASURE)
    worth = {measures.AS_STATE: float(thing(key).liquid), measures.BY_WEIGHT: 0.0, measures.BY_MEASURE: 1.0}
    return ways.take(entry.book.liquids, {option.key: worth[option.key] for option in entry.book.liquids.options})


def _sizes(token: str, written: str, question: Question, kind: str) -> dict[str, float]:
    """Return the size of a unit under each custom; one without such a unit took it from the surest that has it."""
    found = {option.key: measures.size(token, written, option.key) for option in question.options}
    sizes = {key: float(size.size) for key, size in found.items() if isinstance(size, Measure) and size.kind == kind}
    return {key: sizes.get(key, next(iter(sizes.values()))) for key in found} if sizes else {}


def composition(entry: Entry, ways: Ways, path: tuple[str, ...], item: str) -> Iterator[tuple[Part, Array, Array]]:
    """Give every substance an item may be, with its share of the line and its density, in every way."""
    for option in entry.name.options:
        here = ways.holds(entry.name, option.key)
        if option.key in entry.strong:
            yield from _dissolved(entry, ways, (*path, option.key), item)
            continue
        if option.key not in entry.inner:
            yield Part(item, path, option.key), here, _density_of(entry, ways, option.key)
            continue
        # On mixing spirit and water contract, so the preparation's own density holds for all its parts.
        dense = _density_of(entry, ways, option.key)
        for inner, substance, share, _ in _inside(entry, ways, option.key).rows:
            yield Part(item, (*path, option.key, *inner), substance), here * share, dense


def _dissolved(entry: Entry, ways: Ways, path: tuple[str, ...], item: str) -> Iterator[tuple[Part, Array, Array]]:
    """Give what a spirit or another solution holds, and its water; both fill what the solution fills."""
    key = path[-1]
    here, dense = ways.holds(entry.name, key), _density_of(entry, ways, key)
    share = _spread_or_usual(ways, entry.strong[key].percent) / 100
    yield Part(item, path, entry.strong[key].solute), here * share, dense
    if share.min() < 1:
        yield Part(item, path, WATER), here * (1 - share), dense


def _density_of(entry: Entry, ways: Ways, key: str) -> Array:
    """Return a thing's density in every way: published, or of a preparation without one the sum of its parts."""
    if key in entry.densities:
        return _spread_or_usual(ways, entry.densities[key])
    if key in entry.strong and entry.strong[key].percent.low < entry.strong[key].percent.high:
        return entry.strong[key].density(_spread_or_usual(ways, entry.strong[key].percent))
    if key not in entry.inner or properties(key, "density"):
        return np.full(len(ways), density(key).number)
    specific = _inside(entry, ways, key).specific
    return 1 / np.where(specific > 0, specific, 1.0)


def _density_in_measure(entry: Entry, ways: Ways, key: str) -> Array:
    """Return the density of a thing in a measure: a solid lies there with air in it."""
    return _spread_or_usual(ways, entry.heaps[key]) if key in entry.heaps else _density_of(entry, ways, key)


def _spread_or_usual(ways: Ways, spread: Spread) -> Array:
    """Draw a spread only where it is one of the questions: no range has a cause that is not shown."""
    listed = any(spread.id == own.id for own in ways.spreads)
    return ways.between(spread) if listed else np.full(len(ways), spread.usual)


_Inner = tuple[tuple[str, ...], str, Array, Array]  # path inside the preparation, substance, share by mass, density


@dataclass(frozen=True)
class _Made:
    rows: tuple[_Inner, ...]
    specific: Array  # [way], mL in a gram, shrunk as spirit and water do


def _inside(entry: Entry, ways: Ways, key: str) -> _Made:
    """Return the substances of a preparation; worked out once, for its density and its composition alike."""
    if key not in entry.made:
        entry.made[key] = _made(entry.inner[key], ways, key)
    return entry.made[key]  # type: ignore[return-value]


def _made(inner: Sequence[Entry], ways: Ways, key: str) -> _Made:
    unit = unit_of(e.item for e in inner)
    reckoned = [(e, a) for e in inner if isinstance(a := reckon(e, ways, unit), Amount)]
    rows = [(position, row) for position, (e, _) in enumerate(reckoned) for row in composition(e, ways, (), "")]
    if not rows:
        return _Made((), np.zeros(len(ways)))
    formula = Formula(
        key,
        tuple(FormulaLine(str(i), e.words, e.item.name, e.item.purpose, a.reason) for i, (e, a) in enumerate(reckoned)),
        tuple(Part(str(i), row[0].path, row[0].substance) for i, row in rows),
        np.array([a.figures for _, a in reckoned]),
        np.array([row[1] for _, row in rows]),
        np.array([row[2] for _, row in rows]),
        ways,
        totals=tuple(
            Total(str(i), a.by_measure, a.figures) for i, (e, a) in enumerate(reckoned) if e.item.purpose == "total"
        ),
    ).solved()
    whole = formula.amount.sum(axis=0)
    whole = np.where(whole > 0, whole, 1.0)
    shares = (
        (row[0].path, row[0].substance, amount / whole, row[2])
        for (_, row), amount in zip(rows, formula.amount, strict=True)
    )
    return _Made(tuple(shares), formula.volume_ml / whole)


def inner_unweighed(entry: Entry) -> Iterator[Unweighed]:
    """Give what a preparation holds without a weight: it may be there all the same."""
    for key, inner in entry.inner.items():
        unit = unit_of(e.item for e in inner)
        for e in inner:
            why = _no_amount(e, unit)
            if why:
                yield Unweighed(entry.item.id, e.words, f"{e.item.name} in {thing(key).name}", leaves(e), why)
            yield from inner_unweighed(e)


def merged(
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


def _line_reason(entry: Entry) -> Reason:
    key = entry.name.options[0].key
    because: list[Reason] = []
    held = entry.item
    if entry.reading:
        chosen = entry.reading.options[0]
        because.append(chosen.reason)
        held = next((r.item for r in entry.item.readings if reading_key(r.item, entry.item) == chosen.key), entry.item)
    for part in parts_of(held):
        because += _part_reasons(entry, part, key)
    because.append(entry.name.options[0].reason)
    if entry.amount:
        because.append(entry.amount.reason)
    for inner in entry.inner.get(key, ()):
        row = by_id(Preparation)[key]
        because.append(row.reason(f"{row.name} by {row.title}: {inner.words}", inner.name.options[0].reason))
    return Reason(f"printed: {entry.words}", (), tuple(because))


def _part_reasons(entry: Entry, part: Measured, key: str) -> Iterator[Reason]:
    if domestic.is_domestic(part.unit) or (str(part.unit), key) in entry.sizes:
        one, unit = entry.sizes.get((str(part.unit), key)), str(part.unit).replace("_", " ")
        yield Reason(f"{part.amount.printed!r} is {part.amount.value:g} {unit}", (), (one.reason,) if one else ())
        if one and one.unit == "mL":
            yield _density_reason(entry, key)
        return
    if part.unit in PART_UNITS:
        yield Reason(f"{part.amount.printed}: {part.amount.value:g} parts")
        return
    token = str(part.unit)
    liquids = entry.fluid.options[0] if entry.fluid else entry.book.liquids.options[0]
    measured = liquids.key == measures.BY_MEASURE or (liquids.key == measures.AS_STATE and thing(key).liquid)
    fluid = token in measures.FLUID and fluid_senses(entry, key) and measured
    unit = measures.FLUID[token] if fluid else token
    measure, weight = entry.book.measures.options[0], entry.book.weights.options[0]
    custom = measure if (found := measures.size(unit, part.written, measure.key)) and found.kind == "volume" else weight
    size = measures.unit_reason(unit, part.written, custom.key)
    yield Reason(
        f"{part.amount.printed!r} is {part.amount.value:g} {unit.replace('_', ' ')}", (), (size, custom.reason)
    )
    if fluid:
        yield liquids.reason
    if custom is measure:
        yield _density_reason(entry, key)


def _density_reason(entry: Entry, key: str) -> Reason:
    if key in entry.heaps:
        return entry.heaps[key].reason
    if key in entry.inner and not properties(key, "density"):
        because = tuple(density(inner.name.options[0].key).reason for inner in entry.inner[key])
        return Reason(f"density of {thing(key).name} from its parts, spirit and water shrunk", (), because)
    return entry.densities[key].reason if key in entry.densities else density(key).reason
