"""Looking up: what each line may be, and which questions it raises."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from reconlab import measures
from reconlab.errors import InputError
from reconlab.materia import UNKNOWN, density, drop, folded, identify, properties, substance_id, thing
from reconlab.reading import read
from reconlab.reasons import RANGE_MATTERS, Decision, Option, Question, Reason, Spread
from reconlab.receipts import Item, Measured, Receipt
from reconlab.tables import Custom, Preparation, PreparationLine, by_id, rows
from reconlab.ways import Ways

PART_UNITS = ("part", "part_by_weight", "part_by_measure", "percent", None)
_PARTS = Question(
    "parts",
    "Are the parts by weight or by measure?",
    (
        Option("by weight", "likely", Reason("parts by weight, where the page does not say")),
        Option("by measure", "possible", Reason("parts of liquids by measure")),
    ),
)


@dataclass(frozen=True)
class Book:
    """The questions that are one for all lines of a book."""

    weights: Question
    measures: Question
    liquids: Question
    parts: Question


@dataclass(frozen=True)
class Entry:
    """One item looked up: every thing it may be, each with its own receipt where it is a preparation."""

    item: Item
    words: str
    name: Question
    book: Book
    reading: Question | None
    amount: Spread | None
    inner: Mapping[str, tuple[Entry, ...]]
    drops: Mapping[str, Spread]
    densities: Mapping[str, Spread]


@dataclass(frozen=True)
class _Page:
    """A receipt being looked up: the preparations it came through, and the answers its own questions hang on."""

    receipt: Receipt
    settled: Mapping[tuple[str, str], Decision]
    path: tuple[str, ...] = ()
    needs: tuple[tuple[str, tuple[str, ...]], ...] = ()

    @property
    def preparation(self) -> str:
        return self.path[-1] if self.path else ""

    def asks(self, question: Question) -> Question:
        """Return a question as one of this book, put to a person only if the receipt means this preparation."""
        asks = f"{question.asks[:-1]} in {thing(self.preparation).name}?" if self.path else question.asks
        return replace(question, asks=asks, book=self.preparation, only_if=self.needs)


def look_up(receipt: Receipt, decisions: Iterable[Decision]) -> tuple[Entry, ...]:
    """Return every item of a receipt with all it may be; later decisions win over earlier ones."""
    return _entries(_Page(receipt, {(decision.question, folded(decision.at)): decision for decision in decisions}))


def _entries(page: _Page) -> tuple[Entry, ...]:
    setting = page.receipt.setting
    weights, volumes = measures.custom_question("weights", setting), measures.custom_question("measures", setting)
    questions = [page.asks(q) for q in (weights, volumes, measures.liquids_question(), _PARTS)]
    entries = []
    for line in page.receipt.lines:
        words = " ".join(line.text.split())
        book = Book(*(_close(question, page.settled, words) for question in questions))
        entries += [_entry(item, words, book, page) for item in line.items]
    return tuple(entries)


def _entry(item: Item, words: str, book: Book, page: _Page) -> Entry:
    item, reading = _read_as(item, page.settled, words)
    question = page.asks(identify(item.name, page.receipt.setting) or _unidentified(item.name))
    name = _close(question, page.settled, words, named=True)
    keys = [option.key for option in name.options]
    inner = {key: _entries(_inside(page, name, key)) for key in keys if key in by_id(Preparation)}
    drops = {key: found for key in keys if _in_drops(item) and (found := drop(key))}
    densities = {key: found for key in keys if (found := _density_spread(key, inner))}
    return Entry(
        item=item,
        words=words,
        name=name,
        book=book,
        reading=reading,
        amount=_amount_spread(item, page.settled, words),
        inner=inner,
        drops={key: _close_spread(spread, page.settled, words) for key, spread in drops.items()},
        densities={key: _close_spread(spread, page.settled, words) for key, spread in densities.items()},
    )


def _inside(page: _Page, name: Question, preparation: str) -> _Page:
    """Return a preparation's own page; what it asks hangs on the name having meant it."""
    path = (*page.path, preparation)
    if preparation in page.path:
        raise InputError(
            f"{thing(preparation).name} needs itself", " -> ".join(path), "Mend its lines in preparation_lines.csv."
        )
    needs = (*page.needs, (name.id, (preparation,))) if len(name.options) > 1 else page.needs
    return _Page(_preparation_receipt(preparation), page.settled, path, needs)


def _unidentified(name: str) -> Question:
    reason = Reason(f"nothing on file is called {name!r}; say what it is, and on whose word")
    return Question(
        f"name: {folded(name)}",
        f"What was {name}?",
        (Option(f"{UNKNOWN}{folded(name)}", "likely", reason, f"{name} (not identified)"),),
    )


def _close(
    question: Question, settled: Mapping[tuple[str, str], Decision], words: str, *, named: bool = False
) -> Question:
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
    asked = question.key.split(" @ ")[0]
    if asked == "liquids" and decision.option in (measures.AS_STATE, measures.BY_WEIGHT, measures.BY_MEASURE):
        return decision
    for row in rows(Custom):  # a custom of elsewhere is an answer where a person says so
        if row.question == asked and folded(decision.option) in (folded(row.custom), folded(row.label)):
            return replace(decision, option=row.custom)
    answers = "; ".join(option.words for option in question.options)
    raise InputError(
        f"{decision.option!r} is no answer to {question.asks!r}", question.id, f"The answers are: {answers}."
    )


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
    figure = decision.figure if decision else None
    if figure is not None and not 0 < figure < float("inf"):
        raise InputError(
            f"{figure!r} is no figure for {spread.asks!r}", spread.id, f"Give one above 0 in {spread.unit}."
        )
    return spread.decided(decision) if decision else spread


def _read_as(item: Item, settled: Mapping[tuple[str, str], Decision], words: str) -> tuple[Item, Question | None]:
    """Return an item with the question of how its figure is to be read; a reading of the person's own replaces it."""
    key = f"reading: {printed(item)} {item.name}"
    decision = settled.get((key, ""))
    offered = {folded(printed(one)) for one in (item, *(reading.item for reading in item.readings))}
    if decision is None or folded(decision.option) in offered:
        return item, _close_reading(key, item, settled, words)
    own = replace(item, quantities=(measures.parse_quantity(decision.option),), readings=())
    as_printed = Option(printed(item), "likely", Reason(f"as printed: {printed(item)}"))
    question = Question(key, f"Was {printed(item)!r} printed for another figure?", (as_printed,))
    return own, question.decided(replace(decision, option=printed(own)))


def _close_reading(key: str, item: Item, settled: Mapping[tuple[str, str], Decision], words: str) -> Question | None:
    """Return which of several readings of a doubtful figure holds: each answer is a whole reading."""
    if not item.readings:
        return None
    plain = Option(printed(item), "likely", Reason(f"as printed: {printed(item)}"))
    others = tuple(Option(printed(r.item), r.standing, Reason(r.because)) for r in item.readings)  # type: ignore[arg-type]
    worst = tuple(replace(plain, standing="possible") for o in others if o.standing == "likely")
    first = sorted((*others, *(worst or (plain,))), key=lambda option: option.standing != "likely")
    question = Question(key, f"Was {printed(item)!r} printed for another figure?", tuple(first))
    decision = settled.get((question.id, ""))
    return question.decided(_with_option(decision, question)) if decision else _close(question, settled, words)


def printed(item: Item) -> str:
    """Return the amount of an item in its printed words."""
    return " ".join(part.amount.printed for quantity in item.quantities for part in quantity.parts)


def _amount_spread(item: Item, settled: Mapping[tuple[str, str], Decision], words: str) -> Spread | None:
    """Return a printed range ("ten to thirty drops") in the unit it is printed with."""
    part = ranged(item)
    if part is None:
        return None
    said, unit = part.amount, (part.unit or "as printed").replace("_", " ")
    middle, low, high = (float(figure or 0) for figure in (said.value, said.low, said.high))
    reason = Reason(f"printed as a range: {said.printed}")
    key, asks = f"amount: {said.printed} {item.name}", f"How much is {said.printed!r}?"
    return _close_spread(Spread(key, asks, middle, low, high, unit, reason), settled, words)


def ranged(item: Item) -> Measured | None:
    """Return the part of an item that is printed as a range."""
    return next((part for part in parts_of(item) if part.amount.value and part.amount.low != part.amount.high), None)


def _density_spread(key: str, inner: Mapping[str, tuple[Entry, ...]]) -> Spread | None:
    value = density(key)
    reckoned_from_parts = key in inner and not properties(key, "density")
    if reckoned_from_parts or value.high - value.low <= RANGE_MATTERS * value.number:
        return None
    return Spread(
        f"density: {thing(key).name}",
        f"How dense was {thing(key).name}?",
        value.number,
        value.low,
        value.high,
        "g/mL",
        value.reason,
    )


def _in_drops(item: Item) -> bool:
    return any(part.unit == "drop" for part in parts_of(item))


def parts_of(item: Item) -> tuple[Measured, ...]:
    """Return the parts of an item's quantity; of parallel quantities the first."""
    return item.quantities[0].parts if item.quantities else ()


@cache
def _preparation_receipt(key: str) -> Receipt:
    row = by_id(Preparation)[key]
    lines = sorted((line for line in rows(PreparationLine) if line.preparation == key), key=lambda line: int(line.line))
    years = "-".join(str(year) for year in (row.from_year, row.to_year) if year)
    return read("\n".join(line.text for line in lines), title=row.title, years=years, place=row.place, book=row.book)


def all_in_parts(receipt: Receipt) -> bool:
    """Return whether a receipt speaks in parts alone: then it gives a formula without grams."""
    units = [part.unit for item in receipt.items for part in parts_of(item)]
    return bool(units) and all(unit in PART_UNITS for unit in units)


# Which ways are there?


def gather_ways(entries: Sequence[Entry]) -> Ways:
    """Return the ways of all questions and spreads; equal ones are one."""
    questions: dict[str, Question] = {}
    spreads: dict[str, Spread] = {}
    for entry in _every(entries):
        for question in _questions_of(entry):
            known = questions.get(question.id)
            questions[question.id] = known.merged(question) if known else question
        for spread in _spreads_of(entry):
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
    units = [part.unit for part in parts_of(entry.item)]
    any_liquid = any(thing(option.key).liquid for option in entry.name.options)
    forced = entry.book.liquids.options[0].key == measures.BY_MEASURE
    fluid = measures.may_be_fluid(parts_of(entry.item)) and (any_liquid or forced)
    for question, kind in ((entry.book.weights, "mass"), (entry.book.measures, "volume")):
        if any(_hangs_on(part, question, kind, fluid=fluid) for part in parts_of(entry.item)):
            yield question
    if fluid:
        yield entry.book.liquids
    if any(unit in ("part", "percent") for unit in units) and any_liquid:
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


def _spreads_of(entry: Entry) -> Iterator[Spread]:
    if entry.amount:
        yield entry.amount
    yield from entry.drops.values()
    by_volume = any(part.unit not in ("drop", "grain", "gram", "scruple", "pound") for part in parts_of(entry.item))
    if by_volume or entry.item.purpose == "total":
        yield from (spread for key, spread in entry.densities.items() if thing(key).liquid)
