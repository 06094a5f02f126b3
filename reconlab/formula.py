"""What was in it? A matrix of parts by ways, in grams; all that follows is arithmetic over its columns."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from dataclasses import replace as changed
from functools import cached_property

import numpy as np

from reconlab.display import Card, Shown, Table
from reconlab.errors import AmbiguousError, InputError, UnknownNameError
from reconlab.materia import density, folded, substance_id, thing
from reconlab.pictures import Picture, range_plot, stacked_bar
from reconlab.reasons import RANGE_MATTERS, Question, Reason, Spread, Standing, Value, figure
from reconlab.spirit import filled_up, lost_on_mixing
from reconlab.ways import Array, OtherAnswer, Ways, Where

IF_IT_IS = " (if it is that)"  # behind a thing that is there in another way than the one chosen
IN_PLACE = (
    "A row 'if it is that' stands in another's place, not beside it: the rows together come to more than the whole."
)
_WATERS = ("water", "aromatic water")


@dataclass(frozen=True, slots=True)
class Part:
    """One row of the matrix: a substance an item may be, and the preparations it came through."""

    item: str
    path: tuple[str, ...]
    substance: str


@dataclass(frozen=True, slots=True)
class FormulaLine:
    """One item of the receipt, or what has taken its place."""

    item: str
    words: str  # the printed line
    name: str
    purpose: str
    reason: Reason  # from the printed words to the amount


@dataclass(frozen=True, slots=True)
class Unweighed:
    """An item without an amount: it may be there, nobody can say how much."""

    item: str
    words: str
    name: str
    substances: tuple[str, ...]
    why: str
    amount: str = ""  # as printed, where there is one that could not be reckoned


@dataclass(frozen=True, slots=True)
class Total:
    """A "to make" condition: the item fills the rest up to an amount, solved in every way and after every change."""

    item: str
    by_measure: Array  # [way], 1 where the amount is a volume, 0 where it is a mass
    amount: Array  # [way], in mL, or in g or parts


@dataclass(frozen=True, slots=True, kw_only=True)
class Replacement:
    """A recorded change: one line taken out, something else put in, why, and what it should do."""

    out: str  # words, number or modern name that pick the line
    into: Mapping[str, float]  # modern name -> amount for one of what was there; empty leaves the line out
    basis: str = "mass"  # mass, volume
    kind: str = ""  # safety, law, availability, cost, ethics, legibility, scale
    because: str = ""
    expected: str = ""
    sources: tuple[str, ...] = ()


_MOST_FOR_ONE = 1e6  # of what is put in for one of what was there


@dataclass(frozen=True, slots=True)
class Swing:
    """What one other answer alone does to the share of one substance [% w/w]."""

    question: str
    asks: str
    answer: str
    standing: Standing
    substance: str
    before: float
    after: float

    def __str__(self) -> str:
        """Say it as: if troy: zinc oxide 31 becomes 34 %."""
        name = thing(self.substance).name
        if self.before and figure(self.before) == figure(self.after):
            return f"if {self.answer}: no share changes that is shown"
        before = f"{figure(self.before)} becomes " if self.before else ""
        return f"if {self.answer}: {name} {before}{figure(self.after)} %"

    @property
    def size(self) -> float:
        """How far the share moves, as a part of itself."""
        if self.before == self.after:
            return 0.0
        return abs(self.after - self.before) / self.before if self.before else float("inf")


@dataclass(frozen=True, repr=False)
class Formula(Shown):
    """A receipt in every way at once; immutable, each change gives another version."""

    title: str
    lines: tuple[FormulaLine, ...]
    parts: tuple[Part, ...]
    line_amount: Array  # [line, way], in `unit`
    share_of_line: Array  # [part, way], each line's parts add up to 1 in each way
    density: Array  # [part, way], g/mL
    ways: Ways
    unit: str = "g"  # or part
    unweighed: tuple[Unweighed, ...] = ()
    totals: tuple[Total, ...] = ()
    notes: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()  # words with an amount that no line took
    name: str = "literal"
    parent: str = ""
    changes: tuple[Replacement, ...] = field(default=())

    @cached_property
    def amount(self) -> Array:
        """Amount of each part in each way [g or part]."""
        return self.line_amount[self._line_of_part] * self.share_of_line

    @cached_property
    def _line_of_part(self) -> list[int]:
        position = {line.item: index for index, line in enumerate(self.lines)}
        return [position[part.item] for part in self.parts]

    @cached_property
    def volume_ml(self) -> Array:
        """Volume of all weighed lines mixed, in each way [mL], ethanol and water shrunk as they do at 20 C."""
        return self._added_ml(self.amount) - lost_on_mixing(*self._ethanol_and_water(self.amount))

    @property
    def volume(self) -> Value:
        """Volume of all weighed lines mixed [mL]; powders by their own volume, without the air between."""
        because = tuple(line.reason for line in self.lines)
        says = "volumes of the lines added up, less what ethanol and water lose on mixing"
        return self.ways.value(self.volume_ml, "mL" if self.unit == "g" else "part", Reason(says, (), because))

    @cached_property
    def ethanol_in_water(self) -> float | None:
        """Ethanol in all the ethanol and water of it, as chosen [% w/w]; None where there is no ethanol."""
        ethanol, water = (kind[:, 0].sum() for kind in self._ethanol_and_water(self.amount))
        return float(100 * ethanol / (ethanol + water)) if ethanol > 0 else None

    @cached_property
    def lost_by_parts_ml(self) -> float:
        """How much less than ethanol and water apart they are when mixed, as chosen [mL]."""
        ethanol, water = (kind[:, 0].sum() for kind in self._ethanol_and_water(self.amount))
        lost = lost_on_mixing(np.array([[ethanol], [0.0]]), np.array([[0.0], [water]]))
        return float(lost[0])

    def _added_ml(self, amount: Array) -> Array:
        added: Array = (amount / self.density).sum(axis=0)
        return added

    def _ethanol_and_water(self, amount: Array) -> tuple[Array, Array]:
        """Return the ethanol and the water of each line in each way; aromatic waters count as water."""
        found = np.zeros((2, len(self.lines), len(self.ways)))
        rows_of = (self._ethanol_rows, self._water_rows if self._ethanol_rows else ())
        for kind, rows in enumerate(rows_of):
            for row in rows:
                found[kind, self._line_of_part[row]] += amount[row]
        some = found.any(axis=(0, 2))  # lines of oils and powders have neither
        return found[0, some], found[1, some]

    @cached_property
    def _ethanol_rows(self) -> tuple[int, ...]:
        return tuple(row for row, part in enumerate(self.parts) if thing(part.substance).class_ == "alcohol")

    @cached_property
    def _water_rows(self) -> tuple[int, ...]:
        return tuple(row for row, part in enumerate(self.parts) if thing(part.substance).class_ in _WATERS)

    @cached_property
    def percent_w_w(self) -> Array:
        """Share of each part in each way, of the weighed lines [% w/w]."""
        whole = self.amount.sum(axis=0)
        shares: Array = 100 * self.amount / np.where(whole > 0, whole, np.nan)
        return np.nan_to_num(shares)

    @cached_property
    def substances(self) -> tuple[str, ...]:
        """Everything that may be there, weighed or not, in the order of the receipt."""
        found = dict.fromkeys(part.substance for part in self.parts)
        found.update(dict.fromkeys(key for item in self.unweighed for key in item.substances))
        return tuple(found)

    def shares(self, substance: str) -> Array:
        """Share of a substance over all its lines, in each way [% w/w]."""
        return self._summed(self.percent_w_w, substance)

    def _summed(self, figures: Array, substance: str) -> Array:
        """Add up the rows of a [part, way] matrix that are of one substance."""
        rows = [row for part, row in zip(self.parts, figures, strict=True) if part.substance == substance]
        return np.sum(rows, axis=0) if rows else np.zeros(len(self.ways))

    def share(self, substance: str) -> Value:
        """Return the share of a substance, by id or modern name, with its reasons [% w/w].

        Where a line may be something else, the figure is the share if it is this.
        """
        key = substance if substance in self.substances else substance_id(substance)
        return self.ways.value(self.shares(key), "% w/w", self.reason(key), where=self.there(key))

    def mass(self, substance: str) -> Value:
        """Return the amount of a substance, by id or modern name, with its reasons [g or part]."""
        key = substance if substance in self.substances else substance_id(substance)
        return self.ways.value(self._summed(self.amount, key), self.unit, self.reason(key), where=self.there(key))

    def there(self, key: str) -> Where:
        """Return in which ways a substance is in a weighed line at all."""
        return self._summed(self.share_of_line, key) > 0

    @property
    def whole(self) -> Value:
        """Amount of all weighed lines together [g or part]."""
        because = tuple(line.reason for line in self.lines)
        return self.ways.value(self.amount.sum(axis=0), self.unit, Reason("all weighed lines together", (), because))

    def reason(self, substance: str) -> Reason:
        """Return why a substance is there and how its amount came about."""
        items = dict.fromkeys(part.item for part in self.parts if part.substance == substance)
        lines = tuple(line.reason for line in self.lines if line.item in items)
        return Reason(f"{thing(substance).name}: {len(lines)} of the {len(self.lines)} weighed lines", (), lines)

    def possible(self) -> dict[str, float | None]:
        """Return every substance that may be there and its greatest share, None where only unweighed [% w/w].

        A poison entered as 0, or without an amount, counts: this is what screening and the bench look at.
        """
        weighed = {part.substance for part in self.parts}
        return {key: float(self.shares(key).max()) if key in weighed else None for key in self.substances}

    def as_chosen(self) -> frozenset[str]:
        """Return the substances that are there as chosen: in way 0, or unweighed with no other meaning."""
        here = {part.substance for part, share in zip(self.parts, self.share_of_line, strict=True) if share[0] > 0}
        return frozenset(here | {item.substances[0] for item in self.unweighed if len(item.substances) == 1})

    def swings(self) -> tuple[Swing, ...]:
        """Return, for each other answer, the substance whose share it moves most [% w/w].

        The greatest swing comes first; what an unlikely answer does comes after all others.
        """
        return self._swings

    @cached_property
    def _swings(self) -> tuple[Swing, ...]:
        asks = {q.id: q.asks for q in self.ways.questions} | {s.id: s.asks for s in self.ways.spreads}
        shares = {key: self.shares(key) for key in self.substances}
        others = enumerate(self.ways.others, start=1)
        found = [_swing(way, other, asks[other.question], shares) for way, other in others]
        return tuple(
            sorted((swing for swing in found if swing), key=lambda swing: (swing.standing == "unlikely", -swing.size))
        )

    def matters(self) -> tuple[Swing, ...]:
        """Return the greatest swing of each question that moves a share by more than 2 % of itself."""
        greatest: dict[str, Swing] = {}
        for swing in self.swings():
            if swing.size > RANGE_MATTERS:
                greatest.setdefault(swing.question, swing)
        return tuple(greatest.values())

    def open_questions(self) -> tuple[Question | Spread, ...]:
        """Return every question that is not settled, those that matter first."""
        order = {swing.question: place for place, swing in enumerate(self.matters())}
        still_open: list[Question | Spread] = [q for q in self.ways.questions if q.open and self.ways.asked(q)]
        still_open += [s for s in self.ways.spreads if s.settled is None and s.low < s.high]
        return tuple(sorted(still_open, key=lambda q: order.get(q.id, len(order))))

    def __getitem__(self, words: str) -> Value:
        """Return the amount of the one line a person means, with its reasons [g or part]."""
        line = self.find_line(words)
        rows = [row for own, row in zip(self.lines, self.line_amount, strict=True) if own.item == line.item]
        if not rows:
            raise InputError(f"{line.name} has no weight", self.title, f"It stands as {line.words!r}.")
        return self.ways.value(rows[0], self.unit, line.reason)

    def find_line(self, words: str) -> FormulaLine:
        """Return the one line a person means by its number, its printed words or a modern name in it."""
        words = str(words)  # a number may be written as one
        wanted = folded(words)
        listed = (*self.lines, *self._unweighed_lines())
        by_item = [line for line in listed if line.item == words.strip()]
        by_words = [line for line in listed if wanted == folded(line.words)]
        meant = self._lines_of(wanted, listed)  # "talc" is the line of French chalk too
        by_name = [line for line in listed if wanted == folded(line.name) or line in meant]
        by_part = [line for line in listed if wanted and wanted in folded(line.words)]
        for found in (by_item, by_words, by_name, by_part):
            if len(found) == 1:
                return found[0]
            if found:
                both = "; ".join(f"{line.item} {line.words!r}" for line in found)
                raise AmbiguousError(
                    f"{words!r} may be {len(found)} lines: {both}", self.title, "Use the number of the line."
                )
        raise UnknownNameError(
            f"no line {words!r}",
            self.title,
            f"The lines are: {'; '.join(f'{line.item} {line.name}' for line in listed)}.",
        )

    def _unweighed_lines(self) -> tuple[FormulaLine, ...]:
        weighed = {line.item for line in self.lines}  # what a weighed preparation holds beside is no line of its own
        lines = (FormulaLine(u.item, u.words, u.name, "enough", Reason(u.why)) for u in self.unweighed)
        return tuple(line for line in lines if line.item not in weighed)

    def _lines_of(self, wanted: str, listed: tuple[FormulaLine, ...]) -> list[FormulaLine]:
        """Return the lines that are a substance or preparation of this modern name in the chosen way."""
        items = {
            part.item
            for part, share in zip(self.parts, self.share_of_line, strict=True)
            if share[0] > 0 and wanted in {folded(thing(key).name) for key in (part.substance, *part.path)}
        }
        items |= {u.item for u in self.unweighed if wanted in {folded(thing(key).name) for key in u.substances}}
        return [line for line in listed if line.item in items]

    def replaced(self, change: Replacement, name: str) -> Formula:
        """Return a version in which one line has been taken out, in every way, and something else put in."""
        line = self.find_line(change.out)
        basis = ("mass", "volume")
        if change.basis not in basis:
            raise InputError(
                f"basis {change.basis!r} is not one of {', '.join(basis)}",
                "replace",
                "Choose how amounts are set equal.",
            )
        for what, ratio in change.into.items():
            if not isinstance(ratio, int | float) or not 0 < ratio <= _MOST_FOR_ONE:
                found = f"{ratio!r} of {what} is not a figure above zero that a bench can deal with"
                raise InputError(found, "replace", "Give the amount for one of what was there, such as 1.")
        self._refuse_twice(line, change.out)
        kept = [row for row, part in enumerate(self.parts) if part.item != line.item]
        without = changed(
            self,
            parts=tuple(self.parts[row] for row in kept),
            share_of_line=self.share_of_line[kept],
            density=self.density[kept],
            unweighed=tuple(item for item in self.unweighed if item.item != line.item),
            name=name,
            parent=self.name,
            changes=(*self.changes, change),
        )
        was_weighed = any(line.item == own.item for own in self.lines)
        if change.into and was_weighed:
            return _put_in(without, self, line, change).solved()
        # What stands in for a line without an amount has none either, and may be there all the same.
        why = f"in place of {line.name}, which has no amount"
        put_in = (Unweighed(line.item, line.words, words, (substance_id(words),), why) for words in change.into)
        return _taken_out(changed(without, unweighed=(*without.unweighed, *put_in)), line).solved()

    def _refuse_twice(self, line: FormulaLine, out: str) -> None:
        """Refuse to take out by its old name what another change took out: the doses would be multiplied."""
        changed_before = any(self._was_line(change.out, line) for change in self.changes)
        now = {thing(part.substance).name for part in self.parts if part.item == line.item}
        if not changed_before or folded(out) in {folded(name) for name in now}:
            return
        stands = " and ".join(sorted(now)) or "nothing"
        remedy = "Take that change back (undo), give the version another name, or name what stands there now."
        raise InputError(f"{out} is out of {self.name!r} already; {stands} stands in its place", "replace", remedy)

    def _was_line(self, out: str, line: FormulaLine) -> bool:
        try:
            return self.find_line(out).item == line.item
        except LookupError:  # it was called by what stood there then
            return False

    def solved(self) -> Formula:
        """Return the formula with each "to make" condition filled up again in every way.

        One such condition holds for the whole; of several, each holds for the lines printed before it.
        """
        amounts = self.line_amount.copy()
        for total in self.totals:
            row = next(i for i, line in enumerate(self.lines) if line.item == total.item)
            of_line = np.array(self._line_of_part) == row
            counted = ~of_line if len(self.totals) == 1 else np.array(self._line_of_part) < row
            others = amounts[self._line_of_part] * self.share_of_line * counted[:, None]
            by_volume = self._filled_up(total.amount, others, self.share_of_line * of_line[:, None])
            amounts[row] = np.where(total.by_measure > 0, by_volume, total.amount - others.sum(axis=0))
        negative = {line.item: line for line, row in zip(self.lines, amounts, strict=True) if row.min() < 0}
        notes = [note for note in self.notes if not note.startswith("The whole is less")]
        notes += [
            f"The whole is less than its parts: nothing is left for {line.name} in some readings; check the amounts."
            for line in negative.values()
        ]
        return changed(self, line_amount=np.maximum(amounts, 0.0), notes=tuple(notes))

    def _filled_up(self, wanted_ml: Array, others: Array, of_a_gram: Array) -> Array:
        """Return how much of a line fills others up to a volume [g]; both as [part, way]."""
        ethanol, water = self._ethanol_and_water(others)
        its_ethanol, its_water = (kind.sum(axis=0) for kind in self._ethanol_and_water(of_a_gram))
        volume = self._added_ml(others) - lost_on_mixing(ethanol, water)
        held = (volume, ethanol.sum(axis=0), water.sum(axis=0))
        return filled_up(wanted_ml, held, (self._added_ml(of_a_gram), its_ethanol, its_water))

    def card(self) -> Card:
        """Return the formula as a card: table, the questions that matter, the rest named."""
        heading = "% w/w of the weighed lines" if self.unweighed else "% w/w"
        rows = [self._row(key) for key in self.substances if key in {part.substance for part in self.parts}]
        rows += [(f"{item.name}: {item.why}", "not weighed", "") for item in self.unweighed]
        matters = self.matters()
        asked = Table(
            "Settle first", ("question", "what the other answer does"), tuple((s.asks, str(s)) for s in matters[:3])
        )
        others = [q.asks for q in self.open_questions() if q.id not in {s.question for s in matters[:3]}]
        folded_away = (f"{len(others)} more open: {'; '.join(others)}",) if others else ()
        nothing = [q.asks for q in self.ways.questions if q.chosen is None]
        notes = (
            *self.notes,
            *(f"Nothing on file prefers an answer; shown as if the first: {asks}" for asks in nothing),
        )
        table = Table("", ("substance", "grams" if self.unit == "g" else "parts", heading), tuple(rows))
        bar = self.picture()
        return Card(
            f"{self.title} ({self.name})",
            notes,
            (table, asked) if matters else (table,),
            picture=bar.svg,
            picture_text=bar.text,
            last=(*self.beyond_the_whole(), *folded_away),
        )

    def beyond_the_whole(self) -> tuple[str, ...]:
        """Return why the shares of the table come to more than the whole, where they do."""
        weighed = {part.substance for part in self.parts}
        return (IN_PLACE,) if weighed - self.as_chosen() else ()

    def range_picture(self) -> Picture:
        """Return how far each share may lie off, with its text twin."""
        chosen = [key for key in self.substances if key in self.as_chosen() and self.there(key).any()]
        values = [self.share(key) for key in chosen]
        ranges = [(value.low, value.number, value.high) for value in values]
        return range_plot(f"How sure it is: {self.title}", [thing(key).name for key in chosen], ranges, "%")

    def picture(self) -> Picture:
        """Return the shares as chosen as one stacked bar, with its text twin."""
        shares = {key: float(self.shares(key)[0]) for key in self.substances}
        there = {key: share for key, share in shares.items() if share > 0}
        names = [thing(key).name for key in there]
        return stacked_bar(f"What was in it: {self.title}", names, {"": list(there.values())})

    def _row(self, key: str) -> tuple[str, str, str]:
        mass, share = self.mass(key), self.share(key)
        amount = str(mass).replace(f" {self.unit}", "", 1)
        chosen = thing(key).name + ("" if key in self.as_chosen() else IF_IT_IS)
        return chosen, amount, str(share).replace(" % w/w", "", 1)


def _swing(way: int, other: OtherAnswer, asks: str, shares: Mapping[str, Array]) -> Swing | None:
    moved = [
        Swing(other.question, asks, other.words, other.standing, key, float(share[0]), float(share[way]))
        for key, share in shares.items()
        if share[0] != share[way]
    ]
    return max(moved, key=lambda swing: (swing.size, swing.after), default=None)


def _taken_out(formula: Formula, line: FormulaLine) -> Formula:
    rows = [row for row, own in enumerate(formula.lines) if own.item != line.item]
    return changed(
        formula,
        lines=tuple(formula.lines[row] for row in rows),
        line_amount=formula.line_amount[rows],
        totals=tuple(total for total in formula.totals if total.item != line.item),
    )


def _put_in(formula: Formula, before: Formula, line: FormulaLine, change: Replacement) -> Formula:
    row = next(i for i, own in enumerate(formula.lines) if own.item == line.item)
    keys = [substance_id(name) for name in change.into]
    ratios = np.array(list(change.into.values()))[:, None] * np.ones(len(formula.ways))
    densities = np.array([np.full(len(formula.ways), density(key).number) for key in keys])
    if change.basis == "volume":
        rows = [i for i, part in enumerate(before.parts) if part.item == line.item]
        specific = (before.share_of_line[rows] / before.density[rows]).sum(axis=0)  # mL of the old line in a gram
        ratios = ratios * specific * densities
    factor = ratios.sum(axis=0)
    amounts = formula.line_amount.copy()
    amounts[row] = amounts[row] * factor
    words = " and ".join(change.into)
    reason = Reason(
        f"{words} in place of {line.name}, by {change.basis}: {change.because or 'no reason given'}",
        (),
        (line.reason,),
    )
    lines = tuple(changed(own, name=words, reason=reason) if own.item == line.item else own for own in formula.lines)
    return changed(
        formula,
        lines=lines,
        line_amount=amounts,
        parts=(*formula.parts, *(Part(line.item, (), key) for key in keys)),
        share_of_line=np.vstack([formula.share_of_line, ratios / factor]),
        density=np.vstack([formula.density, densities]),
    )
