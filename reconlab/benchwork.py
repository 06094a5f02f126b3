"""How is it made today, small and safely? A plan for the bench, or a refusal that ends in something worth having."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

import numpy as np

from reconlab.display import Card, Shown, Table
from reconlab.errors import InputError
from reconlab.formula import Formula, FormulaLine
from reconlab.materia import alarms, bulk_density, density, drop, folded, thing
from reconlab.reasons import Citation, Reason, Spread, Value, figure
from reconlab.receipts import Use
from reconlab.screening import RESEARCH_AID, Finding, Screening, not_identified, screen
from reconlab.substitution import substitutes
from reconlab.tables import Caution, Phase, rows
from reconlab.units import modern
from reconlab.ways import Array

# A single weighing may be off by 5 %: the official compendia's tolerance, as taught in pharmacy weighing.
WEIGHING_TOLERANCE = 0.05
_MOST_DROPS = 60  # nobody counts more
TOLERANCE_REASON = Reason(
    "the least quantity a balance can weigh within 5 % is its readability divided by 0.05",
    (Citation("unc_pharmlabs_weighing", "Weighing"),),
)


@dataclass(frozen=True, slots=True, repr=False)
class PlannedLine:
    """One line of the bench sheet."""

    item: str
    name: str
    phase: str
    planned_g: float
    rounded_g: float
    weighable: bool
    advice: str
    value: Value  # planned mass with its range and reasons

    @property
    def rounding_percent(self) -> float:
        """How far rounding moves the line [%]."""
        return 100 * (self.rounded_g - self.planned_g) / self.planned_g if self.planned_g else 0.0

    def __repr__(self) -> str:
        """Return what is weighed of what; its reasons are in `value`."""
        return f"{self.name}: {self.rounded_g:g} g"


@dataclass(frozen=True, slots=True)
class Container:
    """Whether the batch goes into the jar."""

    holds_ml: float
    fills: Value  # volume of the batch [mL]

    def __str__(self) -> str:
        """Say it in one sentence."""
        return f"The jar holds {figure(self.holds_ml)} mL, the batch {self.fills}: {self.says}."

    @property
    def says(self) -> str:
        """The answer in words."""
        if self.fills.low > self.holds_ml:
            return "does not fit: take a larger jar or make less"
        if self.fills.high > self.holds_ml:
            return "may not fit: the volume is not known closely enough; have a second jar ready"
        return "fits"


@dataclass(frozen=True, repr=False)
class Plan(Shown):
    """A bench sheet, or a refusal: then ``refused`` holds the findings and there are no lines."""

    title: str
    version: str
    make_g: float
    balance_g: float
    lines: tuple[PlannedLine, ...]
    unweighed: tuple[str, ...]
    container: Container | None
    cautions: tuple[Caution, ...]
    open_questions: tuple[str, ...]
    refused: tuple[Finding, ...] = ()
    instead: tuple[str, ...] = ()
    law: tuple[str, ...] = ()  # what was asked, what is undecided, and the conditions to meet
    doubts: tuple[str, ...] = ()  # what the reading left open

    @property
    def least_weighable_g(self) -> float:
        """The least the balance weighs within 5 % [g]."""
        return self.balance_g / WEIGHING_TOLERANCE

    def shown(self, grams: float) -> str:
        """Return a mass with the decimals the balance shows."""
        decimals = max(0, -int(Decimal(f"{self.balance_g:.6g}").normalize().as_tuple().exponent))
        return f"{grams:.{decimals}f}"

    def card(self) -> Card:
        """Return the bench sheet, or the refusal, as a card."""
        return self._refusal() if self.refused else self._sheet()

    def _refusal(self) -> Card:
        why = tuple(str(finding) for finding in self.refused)
        stops = Table("What stops the bench", ("",), tuple((words,) for words in why))
        instead = Table("What could stand in", ("",), tuple((words,) for words in self.instead))
        return Card(
            f"{self.title} ({self.version}): described, not made",
            (
                f"Not made: {why[0]}.",
                "The formula, why, what it did and what replaces it can be published as they are.",
            ),
            (stops, *((instead,) if self.instead else ())),
            chains=tuple(finding.reason for finding in self.refused),
            last=(RESEARCH_AID,),
        )

    def _sheet(self) -> Card:
        sheet = tuple(
            (
                line.phase,
                line.name,
                self.shown(line.rounded_g),
                f"{round(line.rounding_percent, 1) + 0.0:.1f} %",
                line.advice,
                "",
            )
            for line in self.lines
        )
        notes = (
            (
                f"{figure(self.make_g)} g, on a balance that reads {self.balance_g:g} g"
                f" (at least {self.least_weighable_g:g} g)."
            ),
            *((str(self.container),) if self.container else ()),
            *self.doubts,
            *(f"Not weighed: {words}" for words in self.unweighed),
            *(f"Still open: {words}" for words in self.open_questions),
        )
        heads = ("phase", "take", "g", "rounding", "how", "taken")
        care = Table("Mind", ("step", "caution"), tuple((c.step, c.words) for c in self.cautions))
        law = Table("Law", ("",), tuple((words,) for words in self.law))
        return Card(
            f"{self.title} ({self.version}): bench sheet",
            notes,
            (Table("", heads, sheet), care, law),
            last=(RESEARCH_AID,),
        )


def bench(formula: Formula, *, make: str, balance: str, jar: str = "", use: Use) -> Plan:
    r"""Return a bench sheet for a small batch, or a refusal where something that may be in it stops the bench.

    Lines are rounded to what the balance shows. A line below the least weighable quantity, readability / 5 % [1]_,
    is told how to be taken all the same.

    Parameters
    ----------
    formula : Formula
        The version to make.
    make : str
        How much, such as ``"50 g"``.
    balance : str
        Readability of the balance, such as ``"0.01 g"``.
    jar : str
        What the container holds, such as ``"60 mL"``; empty where there is none yet.
    use : Use
        Form, law, day and wearer.

    Returns
    -------
    Plan
        The sheet or the refusal.

    Raises
    ------
    InputError
        If nothing in the formula has a weight.

    References
    ----------
    .. [1] University of North Carolina, Pharmaceutics and Compounding Laboratory, Weighing.
       Key ``unc_pharmlabs_weighing``.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> from reconlab.translation import translate
    >>> formula = translate(read("Starch, 3 oz.\nOrris root, 1 oz.", years="1911", place="England"))
    >>> plan = bench(formula, make="50 g", balance="0.01 g", use=Use("violet powder"))
    >>> [line.rounded_g for line in plan.lines]
    [37.5, 12.5]
    """
    make_g, balance_g = modern(make, "mass"), modern(balance, "mass")
    found = screen(formula, use)
    stops = (*found.stops, *_stops_by_later_law(formula, use, found), *_not_identified(formula, found))
    if stops:
        return _refusal(formula, make_g, balance_g, found, tuple(dict.fromkeys(stops)))
    lost = (*formula.unread, *(f"{item.amount} {item.name}" for item in formula.unweighed if item.amount))
    if lost:
        raise InputError(
            f"an amount is not reckoned with: {'; '.join(lost)}",
            formula.title,
            "Correct the transcription, settle the reading, or replace the line, before it is made.",
        )
    if not formula.lines or formula.whole.number <= 0:
        raise InputError(
            "no line of it has a weight", formula.title, "Give the amounts, or settle what they are, first."
        )
    whole = formula.line_amount.sum(axis=0)
    factor = make_g / np.where(whole > 0, whole, np.inf)
    planned = [
        _planned(formula, line, amounts * factor, balance_g, use)
        for line, amounts in zip(formula.lines, formula.line_amount, strict=True)
    ]
    order = _order(use)
    planned.sort(key=lambda line: order.get(line.phase, max(order.values())))
    return Plan(
        formula.title,
        formula.name,
        make_g,
        balance_g,
        tuple(planned),
        unweighed=tuple(f"{item.name} ({item.why}): weigh what you use, write it down" for item in formula.unweighed),
        container=_container(formula, make_g, jar, use) if jar else None,
        cautions=found.cautions,
        open_questions=tuple(f"{swing.asks} {swing}" for swing in formula.matters()[:3]),
        law=tuple(_law_words(found)),
        doubts=(
            *formula.notes,
            *(f"On your word alone: {thing(key).name}" for key in _own_words(formula)),
            *(
                f"What is in it is not known: {thing(key).name}"
                for key in formula.substances
                if not thing(key).formula_known
            ),
        ),
    )


def _own_words(formula: Formula) -> list[str]:
    return [key for key in formula.substances if thing(key).identified and not thing(key).on_file]


def _not_identified(formula: Formula, found: Screening) -> Iterator[Finding]:
    """Give what nobody has named: it is not weighed out before someone has said what it is."""
    stopped = {finding.substance for finding in found.stops}
    yield from (finding for finding in not_identified(formula) if finding.substance not in stopped)


def _stops_by_later_law(formula: Formula, use: Use, found: Screening) -> tuple[Finding, ...]:
    """Return what the law on file forbids today, whatever earlier day was asked about."""
    read = max((text.state_of for text in found.texts), default="")
    return screen(formula, replace(use, on=read)).stops if use.on and use.on < read else ()


def _law_words(found: Screening) -> Iterator[str]:
    """Say under which law the sheet stands, what is undecided, and the conditions to meet."""
    use = found.use
    if use.law and found.texts:
        yield f"Asked: {use.law}{f', on {use.on}' if use.on else ''}, for {use.form}"
    yield from (*found.law_notes, *found.shut_out)
    for finding in found.findings:
        if finding.here in ("undecided", "conditions to meet") and (finding.limit is not None or finding.conditions):
            limit = f"at most {figure(finding.limit)} %; " if finding.limit is not None else ""
            words = "; ".join((*finding.conditions, *finding.warnings))
            yield f"{thing(finding.substance).name} ({finding.here}): {limit}{words}"


def _order(use: Use) -> dict[str, int]:
    """Return the place of each phase: in a spirit water the waters and what they hold come after the scent."""
    order = {row.phase: int(row.place) for row in rows(Phase)}
    if use.row.physical == "alcoholic liquid":
        last = max(order.values())
        order |= {row.phase: last + int(row.place) for row in rows(Phase) if row.goes_with == "water"}
    return order


def _refusal(formula: Formula, make_g: float, balance_g: float, found: Screening, stops: tuple[Finding, ...]) -> Plan:
    instead = [words for finding in stops for words in _instead(finding, found.use)]
    return Plan(
        formula.title,
        formula.name,
        make_g,
        balance_g,
        (),
        (),
        None,
        found.cautions,
        found.open_questions,
        refused=stops,
        instead=tuple(dict.fromkeys(instead)),
    )


def _instead(finding: Finding, use: Use) -> Iterator[str]:
    name = thing(finding.substance).name
    if not thing(finding.substance).on_file:
        key = folded(thing(finding.substance).printed)
        yield f'say what {name} is: a decision with question "name: {key}", option the thing, because how you know'
        return
    if finding.here == "over the limit" and finding.limit is not None:
        basis = f" reckoned as {finding.reckoned_as}" if finding.reckoned_as else ""
        yield f"less {name}: up to {figure(finding.limit)} %{basis} is within the limit ({finding.law} {finding.entry})"
    found = substitutes(finding.substance, use).found
    for stand_in in found:
        row = stand_in.row
        said = "; ".join(filter(None, (stand_in.ratio, *stand_in.law)))
        yield f"{thing(row.substitute).name} for {name} ({row.did}), {said}"
    if not found:
        yield f"in place of {name}: no documented substitute on file"


def _planned(formula: Formula, line: FormulaLine, grams: Array, balance_g: float, use: Use) -> PlannedLine:
    value = formula.ways.value(grams, "g", line.reason)
    rounded = round(value.number / balance_g) * balance_g
    weighable = value.number >= balance_g / WEIGHING_TOLERANCE
    key = main_thing(formula, line)
    phase = next((row.phase for row in rows(Phase) if row.class_ == thing(key).class_), "not sorted")
    return PlannedLine(
        line.item,
        _to_take(line.name, key),
        phase,
        value.number,
        round(rounded, 6),
        weighable,
        "" if weighable else _small(formula, line, value.number, balance_g, use),
        value,
    )


def _to_take(name: str, key: str) -> str:
    """Return what the hand is to take: never the name of a poison where something else was settled on."""
    others = {meaning for alarm in alarms(name) for meaning in alarm.meanings} - {key}
    return f"{thing(key).name}, printed {name!r}" if others and folded(thing(key).name) != folded(name) else name


def _small(formula: Formula, line: FormulaLine, grams: float, balance_g: float, use: Use) -> str:
    """Say how to take less than the balance can weigh: by drops, or thinned with another line of its kind."""
    if grams <= 0:
        return "nothing of it in this reading"
    key = main_thing(formula, line)
    one = _drop_of(formula, key) if thing(key).liquid else None
    if one is not None and 1 <= round(grams / one.usual) <= _MOST_DROPS:
        count = round(grams / one.usual)
        return f"too little to weigh: about {count} drop{'s' if count > 1 else ''} of {figure(one.usual)} g"
    enough = balance_g / WEIGHING_TOLERANCE
    stock = enough * int(np.ceil(enough / grams))
    taken = balance_g * round(stock * grams / enough / balance_g)  # what this balance can show
    thinner, has = _thinner(formula, line, use)
    if thinner is None or taken > has * grams / _chosen_g(formula, line) / 2:
        times = int(np.ceil(enough / grams))
        return f"too little to weigh: make {times} times as much, or use a finer balance"
    less = balance_g * round((taken - grams) / balance_g)
    return (
        f"too little to weigh: mix {figure(enough)} g with {figure(stock - enough)} g of the {thinner.name}, "
        f"take {taken:g} g of that, and {less:g} g less of the {thinner.name}"
    )


def _drop_of(formula: Formula, key: str) -> Spread | None:
    """Return a drop of a thing as the formula was reckoned with it, or as it was weighed anywhere."""
    anywhere = drop(key)
    if anywhere is None:
        return None
    return next((spread for spread in formula.ways.spreads if spread.id == anywhere.id), anywhere)


def _thinner(formula: Formula, line: FormulaLine, use: Use) -> tuple[FormulaLine | None, float]:
    """Return the greatest line of what this one goes with, and its amount as chosen."""
    group = _group(main_thing(formula, line), use)
    if group == "nothing":  # nobody knows what it mixes with
        return None, 0.0
    others = [
        (_chosen_g(formula, other), other)
        for other in formula.lines
        if other.item != line.item and _group(main_thing(formula, other), use) == group
    ]
    has, thinner = max(others, key=lambda pair: pair[0], default=(0.0, None))
    return thinner, has


def _group(key: str, use: Use) -> str:
    """Return what a thing is thinned with; in a spirit water the scents go into the spirit."""
    group = next((row.goes_with for row in rows(Phase) if row.class_ == thing(key).class_), "nothing")
    return "spirit" if group == "oil" and use.row.physical == "alcoholic liquid" else group


def _chosen_g(formula: Formula, line: FormulaLine) -> float:
    row = next(i for i, own in enumerate(formula.lines) if own.item == line.item)
    return float(formula.line_amount[row, 0])


def main_thing(formula: Formula, line: FormulaLine) -> str:
    """Return the id of what a line is in the chosen way: the preparation itself where it is one.

    Parameters
    ----------
    formula : Formula
        The formula.
    line : FormulaLine
        One of its lines.

    Returns
    -------
    str
        Id of the substance or preparation with the greatest share of the line.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> from reconlab.translation import translate
    >>> formula = translate(read("Borax, 1 oz."))
    >>> main_thing(formula, formula.lines[0])
    'borax'
    """
    mine = [
        (share[0], part)
        for part, share in zip(formula.parts, formula.share_of_line, strict=True)
        if part.item == line.item
    ]
    part = max(mine, key=lambda pair: pair[0])[1]
    return part.path[0] if part.path else part.substance


def _container(formula: Formula, make_g: float, jar: str, use: Use) -> Container:
    """Compare the batch with the jar: by bulk density where it is a loose powder, else by volumes, spirit shrunk."""
    scale = make_g / formula.amount[:, 0].sum()
    low = high = usual = 0.0
    because: list[Reason] = []
    for part, grams in zip(formula.parts, formula.amount[:, 0] * scale, strict=True):
        if grams <= 0:
            continue
        # a powder takes up what is liquid in it
        as_heap = use.row.physical == "loose powder" and not thing(part.substance).liquid
        value = bulk_density(part.substance) if as_heap else density(part.substance)
        usual, low, high = usual + grams / value.number, low + grams / value.high, high + grams / value.low
        because.append(value.reason)
    lost = formula.lost_by_parts_ml * scale
    says = "volumes of the parts added up" + (f", less {figure(lost)} mL as ethanol and water shrink" if lost else "")
    return Container(
        modern(jar, "volume"),
        Value(usual - lost, low - lost, high - lost, "mL", Reason(says, (), tuple(because))),
    )
