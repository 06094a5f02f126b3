"""Which ways are there? The questions and spreads that the figures of a receipt hang on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from reconlab import measures
from reconlab.materia import thing
from reconlab.reasons import Question, Spread
from reconlab.receipts import Measured
from reconlab.translation._lookup import PART_UNITS, Entry, fluid_senses, parts_of
from reconlab.ways import Ways


def gather_ways(entries: Sequence[Entry], others: Iterable[Question] = ()) -> Ways:
    """Return the ways of all questions and spreads; equal ones are one."""
    questions: dict[str, Question] = {}
    spreads: dict[str, Spread] = {}
    asked = (question for entry in _every(entries) for question in _questions_of(entry))
    for question in (*asked, *others):
        known = questions.get(question.id)
        questions[question.id] = known.merged(question) if known else question
    for spread in _spreads(entries):
        spreads.setdefault(spread.id, spread)
    return Ways(tuple(questions.values()), tuple(spreads.values()))


def _every(entries: Iterable[Entry]) -> Iterator[Entry]:
    for entry in entries:
        yield entry
        for inner in entry.inner.values():
            yield from _every(inner)


def _questions_of(entry: Entry) -> Iterator[Question]:
    yield entry.name
    if entry.reading:
        yield entry.reading
    keys = [option.key for option in entry.name.options]
    fluid = any(fluid_senses(entry, key) for key in keys)
    for question, kind in ((entry.book.weights, "mass"), (entry.book.measures, "volume")):
        if any(_hangs_on(part, question, kind, fluid=fluid) for part in parts_of(entry.item)):
            yield question
    if entry.fluid:
        yield entry.fluid
    elif fluid:
        yield entry.book.liquids
    in_parts = any(part.unit in ("part", "percent") for part in parts_of(entry.item))
    if in_parts and any(thing(key).liquid for key in keys):
        yield entry.book.parts


def _hangs_on(part: Measured, question: Question, kind: str, *, fluid: bool) -> bool:
    """Return whether the size of a unit hangs on a book's custom at all: a grain or a gram is the same in each."""
    units = {part.unit, measures.FLUID.get(str(part.unit)) if fluid else part.unit}
    sizes = set()
    for unit in filter(None, units):
        found = (measures.size(unit, part.written, option.key) for option in question.options)
        sizes |= {measure.id for measure in found if measure and measure.kind == kind}
    return len(sizes) > 1 or (
        question.settled is not None and bool(sizes) and part.unit not in ("grain", "gram", "milliliter")
    )


def _spreads(entries: Sequence[Entry]) -> Iterator[Spread]:
    """Give the spreads a receipt's figures hang on: a density only where a volume is turned into a weight, or back."""
    filled = any(e.item.purpose == "total" and _by_volume(e, e.name.options[0].key) for e in entries)
    for entry in entries:
        if entry.amount:
            yield entry.amount
        yield from (size for size in entry.sizes.values() if size.low < size.high or size.settled)
        yield from (
            solution.percent for solution in entry.strong.values() if solution.percent.low < solution.percent.high
        )
        for key in (option.key for option in entry.name.options):
            by_volume = _by_volume(entry, key)
            if by_volume and key in entry.heaps:
                yield entry.heaps[key]
            elif (by_volume or filled) and key in entry.densities:
                yield entry.densities[key]
        for inner in entry.inner.values():
            yield from _spreads(inner)


def _by_volume(entry: Entry, key: str) -> bool:
    """Return whether an amount of this thing is, or may be, printed by measure."""
    return any(_measured(entry, key, part) for part in parts_of(entry.item))


def _measured(entry: Entry, key: str, part: Measured) -> bool:
    if part.unit in PART_UNITS:
        return part.unit == "part_by_measure" or (part.unit in ("part", "percent") and thing(key).liquid)
    unit = str(part.unit)
    if (unit, key) in entry.sizes:
        return entry.sizes[unit, key].unit == "mL"
    if unit in measures.FLUID and fluid_senses(entry, key):
        unit = measures.FLUID[unit]
    sizes = (measures.size(unit, part.written, option.key) for option in entry.book.measures.options)
    return any(found.kind == "volume" for found in sizes if found)
