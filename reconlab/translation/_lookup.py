"""Looking up: what each line may be, and which questions it raises."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache

from reconlab import measures
from reconlab.errors import InputError
from reconlab.materia import (
    UNKNOWN,
    WATER,
    alarms,
    bulk_density,
    density,
    folded,
    identify,
    not_identified,
    properties,
    state_by_name,
    thing,
)
from reconlab.reading import read
from reconlab.reasons import RANGE_MATTERS, Decision, Option, Question, Reason, Spread, in_order
from reconlab.receipts import Item, Measured, Receipt
from reconlab.tables import Preparation, PreparationLine, by_id, rows
from reconlab.translation._as_printed import printed, reading_key
from reconlab.translation._settled import close, close_spread, decision_for
from reconlab.translation._strong import Strong, strength_asked, strong

PART_UNITS = ("part", "part_by_weight", "part_by_measure", "percent", None)


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
    fluid: Question | None  # asked of a thing nobody knows, whose state is not known either
    sizes: Mapping[tuple[str, str], Spread]  # of a drop, spoonful, handful, piece, by unit token and thing
    densities: Mapping[str, Spread]
    strong: Mapping[str, Strong]  # spirits and other solutions, by the strength they may have
    heaps: Mapping[str, Spread]  # densities of solids as they lie, for amounts by measure
    made: dict[str, object] = field(default_factory=dict, compare=False)  # preparations worked out so far


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

    def of_this_book(self, spread: Spread) -> Spread:
        """Return a size as one of this book: another book had spoons and droppers of its own."""
        asks = f"{spread.asks[:-1]} in {thing(self.preparation).name}?" if self.path else spread.asks
        return replace(spread, asks=asks, book=self.preparation)


def look_up(receipt: Receipt, decisions: Iterable[Decision]) -> tuple[Entry, ...]:
    """Return every item of a receipt with all it may be; later decisions win over earlier ones."""
    return _entries(_Page(receipt, {(decision.question, folded(decision.at)): decision for decision in decisions}))


def _entries(page: _Page) -> tuple[Entry, ...]:
    setting = page.receipt.setting
    weights, volumes = measures.custom_question("weights", setting), measures.custom_question("measures", setting)
    liquids, parts = measures.liquids_question(setting), measures.parts_question(setting)
    questions = [page.asks(q) for q in (weights, volumes, liquids, parts)]
    entries = []
    for line in page.receipt.lines:
        words = " ".join(line.text.split())
        book = Book(*(close(question, page.settled, words) for question in questions))
        entries += [_entry(item, words, _of_units(book, item, page), page) for item in line.items]
    return tuple(entries)


def _of_units(book: Book, item: Item, page: _Page) -> Book:
    """Return the questions of a book as they stand for one item: an author may have weighed all his ounces."""
    liquids = measures.liquids_question(page.receipt.setting, {str(part.unit) for part in parts_of(item)})
    return (
        book if book.liquids.settled or liquids.key == book.liquids.key else replace(book, liquids=page.asks(liquids))
    )


def _entry(item: Item, words: str, book: Book, page: _Page) -> Entry:
    item, reading = _read_as(item, page.settled, words)
    setting = page.receipt.setting
    known = identify(item.name, setting)
    asked = page.asks(known or not_identified(item.name))
    name = close(_as_called(asked, item, page.settled, words), page.settled, words, named=True)
    printed_strength = strength_asked(item, name if known or name.settled else None, setting)
    if printed_strength:  # it goes before the strength the name alone had
        name = close(page.asks(printed_strength), page.settled, words, named=True)
    keys = [option.key for option in name.options]
    book = replace(book, measures=close(measures.question_of_thing(book.measures, keys, setting), page.settled, words))
    inner = {key: _entries(_inside(page, name, key)) for key in keys if key in by_id(Preparation)}
    sizes = _sizes(item, keys, page)
    solutions = {key: solution for key in keys if (solution := strong(key))}
    densities = {key: found for key in keys if key not in solutions and (found := _density_spread(key, inner))}
    heaps = {key: _heap_spread(key) for key in keys if thing(key).on_file and not thing(key).liquid}
    return Entry(
        item=item,
        words=words,
        name=name,
        book=book,
        reading=reading,
        amount=_amount_spread(item, page.settled, words),
        inner=inner,
        fluid=_fluid_question(item, keys, page),
        sizes={key: close_spread(spread, page.settled, words) for key, spread in sizes.items()},
        densities={key: close_spread(spread, page.settled, words) for key, spread in densities.items()},
        strong={key: _closed(found, page.settled, words) for key, found in solutions.items()},
        heaps={key: close_spread(spread, page.settled, words) for key, spread in heaps.items()},
    )


def _as_called(question: Question, item: Item, settled: Mapping[tuple[str, str], Decision], words: str) -> Question:
    """Return the question under the printed name, where that is how a person settled it.

    A name found by rule is asked about under the name on file ("spirit" for "spirit of the shop"); a decision about
    the printed words is for them alone, and goes before one about the name on file.
    """
    printed_name = replace(question, key=f"name: {folded(item.name)}")
    return printed_name if decision_for(printed_name.id, settled, words) else question


def _closed(solution: Strong, settled: Mapping[tuple[str, str], Decision], words: str) -> Strong:
    return replace(solution, percent=close_spread(solution.percent, settled, words))


def _inside(page: _Page, name: Question, preparation: str) -> _Page:
    """Return a preparation's own page; what it asks hangs on the name having meant it."""
    path = (*page.path, preparation)
    if preparation in page.path:
        raise InputError(
            f"{thing(preparation).name} needs itself", " -> ".join(path), "Mend its lines in preparation_lines.csv."
        )
    needs = (*page.needs, (name.id, (preparation,))) if len(name.options) > 1 else page.needs
    return _Page(_preparation_receipt(preparation), page.settled, path, needs)


def _read_as(item: Item, settled: Mapping[tuple[str, str], Decision], words: str) -> tuple[Item, Question | None]:
    """Return an item with the question of how its figure is to be read; a reading of the person's own replaces it."""
    key = f"reading: {printed(item)} {item.name}"
    decision = decision_for(key, settled, words)
    offered = {folded(reading_key(one, item)) for one in (item, *(reading.item for reading in item.readings))}
    if decision is None or folded(decision.option) in offered:
        return item, _close_reading(key, item, settled, words)
    own = replace(item, quantities=(measures.parse_quantity(decision.option),), readings=())
    return own, _reading_question(key, item, (_as_printed(item),)).decided(replace(decision, option=printed(own)))


def _close_reading(key: str, item: Item, settled: Mapping[tuple[str, str], Decision], words: str) -> Question | None:
    """Return which of several readings of a doubtful figure holds: each answer is a whole reading."""
    if not item.readings:
        return None
    plain = _as_printed(item)
    told = {reading_key(r.item, item): r for r in reversed(item.readings)}
    others = tuple(
        Option(words_of, r.standing, Reason(r.because))  # type: ignore[arg-type]
        for words_of, r in reversed(told.items())
        if words_of != printed(item)
    )
    worst = tuple(replace(plain, standing="possible") for o in others if o.standing == "likely")
    first = sorted((*others, *(worst or (plain,))), key=lambda option: option.standing != "likely")
    return close(_reading_question(key, item, tuple(first)), settled, words)


def _as_printed(item: Item) -> Option:
    return Option(printed(item), "likely", Reason(f"as read: {printed(item)}"))


def _reading_question(key: str, item: Item, options: tuple[Option, ...]) -> Question:
    return Question(key, f"Was {printed(item)!r} printed for another figure?", options)


def _amount_spread(item: Item, settled: Mapping[tuple[str, str], Decision], words: str) -> Spread | None:
    """Return a printed range ("ten to thirty drops") in the unit it is printed with."""
    part = ranged(item)
    if part is None:
        return None
    said, unit = part.amount, (part.unit or "as printed").replace("_", " ")
    middle, low, high = (float(figure or 0) for figure in (said.value, said.low, said.high))
    reason = Reason(f"printed as a range: {said.printed}")
    key, asks = f"amount: {said.printed} {item.name}", f"How much is {said.printed!r}?"
    return close_spread(Spread(key, asks, middle, low, high, unit, reason), settled, words)


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


def _heap_spread(key: str) -> Spread:
    value, name = bulk_density(key), thing(key).name
    asks = f"How heavy was a measure of {name}?"
    return Spread(f"heap: {name}", asks, value.number, value.low, value.high, "g/mL", value.reason)


def _fluid_question(item: Item, keys: Sequence[str], page: _Page) -> Question | None:
    """Ask of a thing nobody knows whether its ounces were weighed or measured: its state does not tell."""
    unknown = all(not thing(key).on_file for key in keys)
    ruled = measures.liquids_question(page.receipt.setting).chosen
    settled = ruled is not None and ruled.key != measures.AS_STATE  # the author weighs everything, or measures it
    if not unknown or settled or not measures.may_be_fluid(parts_of(item)):
        return None
    state = state_by_name(item.name)
    weighed, measured = (state == "solid", state == "liquid")
    options = in_order(
        (
            Option(measures.BY_WEIGHT, "likely" if weighed else "possible", Reason("weighed, as if it were solid")),
            Option(measures.BY_MEASURE, "likely" if measured else "possible", Reason("measured, as if liquid")),
        )
    )
    asks = f"Was {item.name} weighed or measured?"
    return close(page.asks(Question(f"solid or fluid: {folded(item.name)}", asks, options)), page.settled, item.name)


def _sizes(item: Item, keys: Sequence[str], page: _Page) -> dict[tuple[str, str], Spread]:
    """Return how much a drop, spoonful, handful or piece of each thing is; "a piece of lemon" is no whole lemon."""
    counted = [part for part in parts_of(item) if part.unit != "piece" or part.written == "count"]
    setting = page.receipt.setting
    found = {(str(p.unit), key): measures.size_here(p, setting, key, item.name) for p in counted for key in keys}
    return {which: page.of_this_book(size) for which, size in found.items() if size}


def parts_of(item: Item) -> tuple[Measured, ...]:
    """Return the parts of an item's quantity; of parallel quantities the first."""
    return item.quantities[0].parts if item.quantities else ()


@cache
def _preparation_receipt(key: str) -> Receipt:
    row = by_id(Preparation)[key]
    lines = sorted((line for line in rows(PreparationLine) if line.preparation == key), key=lambda line: int(line.line))
    years = "-".join(str(year) for year in (row.from_year, row.to_year) if year)
    return read("\n".join(line.text for line in lines), title=row.title, years=years, place=row.place, book=row.book)


def unit_of(items: Iterable[Item]) -> str:
    """Return the unit a receipt's amounts are reckoned in: one that speaks in parts alone has no grams."""
    units = [part.unit for item in items for part in parts_of(item)]
    return "part" if units and all(unit in PART_UNITS for unit in units) else "g"


def leaves(entry: Entry) -> tuple[str, ...]:
    """Return every substance an item may hold, those inside preparations too."""
    found: dict[str, None] = {}
    for option in entry.name.options:
        inner = entry.inner.get(option.key, ())
        found.update(dict.fromkeys(key for one in inner for key in leaves(one)))
        if not inner:
            solution = entry.strong.get(option.key)
            found.update(dict.fromkeys((solution.solute, WATER) if solution else (option.key,)))
    return tuple(found)


@dataclass(frozen=True)
class Overlooked:
    """Words of the page behind which a poison may stand, outside what was read as an ingredient."""

    line: str
    text: str
    words: str
    question: Question


def overlooked(receipt: Receipt, entries: Sequence[Entry], decisions: Iterable[Decision]) -> tuple[Overlooked, ...]:
    """Return the poisons a page names where nobody has read them: in its title, methods, asides and unknown names."""
    settled = {(decision.question, ""): decision for decision in decisions if not decision.at}
    read_names = {folded(entry.item.name) for entry in entries if thing(entry.name.options[0].key).on_file}
    unknown = {entry.item.name for entry in entries} - {
        e.item.name for e in entries if folded(e.item.name) in read_names
    }
    found: dict[str, Overlooked] = {}
    for line, text in _unread_texts(receipt, entries):
        for alarm in alarms(text):
            known = alarm.words in read_names or alarm.words in found
            itself = text in unknown and all(key.startswith(UNKNOWN) for key in alarm.meanings)
            if known or itself:  # an unknown name that holds a poison's word is stopped as it stands
                continue
            options = tuple(Option(key, "possible", alarm.reason, thing(key).name) for key in alarm.meanings)
            question = Question(f"name: {alarm.words}", f"Is there {alarm.words} in it, and what was it?", options)
            closed = close(question, settled, text, named=True)
            found[alarm.words] = Overlooked(line, text, alarm.words, closed)
    return tuple(found.values())


def _unread_texts(receipt: Receipt, entries: Sequence[Entry]) -> Iterator[tuple[str, str]]:
    yield "title", receipt.title
    for line in receipt.lines:
        for start, end in line.unread:
            yield line.id, line.text[start:end]
        if line.kind != "ingredient":
            yield line.id, line.text
    for entry in entries:
        if not thing(entry.name.options[0].key).on_file:
            yield entry.item.id, entry.item.name


def fluid_senses(entry: Entry, key: str) -> bool:
    """Return whether ounces and drachms of this thing may be measures."""
    if not measures.may_be_fluid(parts_of(entry.item)):
        return False
    liquids = {option.key for option in entry.book.liquids.options}
    as_state = measures.AS_STATE in liquids and thing(key).liquid
    return as_state or measures.BY_MEASURE in liquids or (entry.fluid is not None and not thing(key).on_file)
