"""What did that sign weigh or hold, there and then? Units, customs and conversions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from reconlab.errors import InputError
from reconlab.materia import density, substance_id, thing
from reconlab.reading.quantities import quantity_at
from reconlab.reading.tokens import tokens
from reconlab.reasons import STANDINGS, Option, Question, Reason, Standing, in_order
from reconlab.receipts import Measured, Quantity, Setting
from reconlab.tables import Custom, CustomUnit, Measure, by_id, rows

# A unit of weight that is also said of liquids, and the measure it then is.
FLUID = {"ounce": "fluid_ounce", "drachm": "fluid_drachm"}
ANY = "any"  # in custom_units.csv: every custom of the question
AS_STATE, BY_WEIGHT, BY_MEASURE = "as its state says", "by weight", "by measure"

_ASKS = {"weights": "Whose pounds and ounces are these?", "measures": "Whose pints and fluid ounces are these?"}


def custom_question(which: str, setting: Setting) -> Question:
    """Return whose weights, or whose measures, a book may have used.

    Parameters
    ----------
    which : str
        ``"weights"`` or ``"measures"``.
    setting : Setting
        When and where the book was printed, and its kind.

    Returns
    -------
    Question
        Every custom of the place, where rows speak for the year those alone; where the place is not known, those the
        table offers to any book. None is likely where year or place are not known.

    Examples
    --------
    >>> custom_question("measures", Setting("1911", "England")).options[0].key
    'imperial'
    """
    found = _customs(which)
    known = setting.span is not None and bool(setting.region)
    # Where sources speak for this year and place, a custom of elsewhere is no answer; the rows name every one that is.
    of_the_place = [rows_ for rows_ in found.values() if any(_in_place(row, setting) for row in rows_)]
    here = [rows_ for rows_ in of_the_place if any(_speaks_for(row, setting) for row in rows_)]
    offered = here or of_the_place or found.values()
    first, last = setting.span or (0, -1)
    speaking = [row for rows_ in here for row in rows_ if _speaks_for(row, setting)]
    spoken = {year for year in range(first, last + 1) if any(_in_force(row, year) for row in speaking)}
    options = [_custom_option(alternatives, setting, spoken, known=known) for alternatives in offered]
    return Question(which, _ASKS[which], in_order(options))


def _customs(which: str) -> Mapping[str, list[Custom]]:
    found: dict[str, list[Custom]] = {}
    for row in rows(Custom):
        if row.question == which:
            found.setdefault(row.custom, []).append(row)
    return found


def _in_force(row: Custom, year: int) -> bool:
    return (row.from_year or year) <= year <= (row.to_year or year)


def _custom_option(alternatives: list[Custom], setting: Setting, spoken: set[int], *, known: bool) -> Option:
    first = alternatives[0]
    here = [row for row in alternatives if _speaks_for(row, setting)]
    if not known or not here:
        missing = "no source on file speaks for this year and place" if known else "year or place is not given"
        return Option(first.custom, "possible", first.reason(f"{first.label}: {missing}"), first.label)
    # Near a change, or where the kind of book is not known, rows may differ: then each answer is possible.
    said = {row.standing for row in here}
    standing = said.pop() if len(said) == 1 else "possible"
    if any(not any(_in_force(row, year) for row in here) for year in spoken) and standing == "likely":
        standing = "possible"  # it came in, or went out, within these years
    because = tuple(row.reason(row.because) for row in here)
    return Option(first.custom, standing, Reason(f"{first.label}, {standing} for {setting}", (), because), first.label)


def _speaks_for(row: Custom, setting: Setting) -> bool:
    of_this_kind = not row.books or not setting.book or setting.book in row.books
    return of_this_kind and _in_place(row, setting) and setting.within((), row.from_year, row.to_year)


def _in_place(row: Custom, setting: Setting) -> bool:
    # Scotland has rows of its own, so a country's row does not speak for it here.
    return setting.region in row.regions if setting.region else row.unplaced == "yes"


def liquids_question() -> Question:
    """Return whether ounces and drachms of liquids were weighed or measured: one question of the book.

    Returns
    -------
    Question
        Liquids by measure and solids by weight first; "by measure" for everything can be settled by a person.

    Examples
    --------
    >>> [option.key for option in liquids_question().options]
    ['as its state says', 'by weight']
    """
    says = Reason("liquids by measure, solids by weight, where the page does not say")
    weighed = Reason("liquids weighed like solids, as some books did")
    options = (
        Option(AS_STATE, "likely", says, "liquids measured, solids weighed"),
        Option(BY_WEIGHT, "possible", weighed, "everything weighed"),
    )
    return Question("liquids", "Were liquids measured or weighed?", options)


def may_be_fluid(parts: Sequence[Measured]) -> bool:
    """Return whether a quantity may be a measure of liquid though its ounces and drachms name weights.

    Parameters
    ----------
    parts : sequence of Measured
        The parts of one quantity: ounces beside pounds or grains are weighed like them.

    Returns
    -------
    bool
        Whether it may be.

    Examples
    --------
    >>> may_be_fluid(parse_quantity("4 oz.").parts), may_be_fluid(parse_quantity("1 lb. 4 oz.").parts)
    (True, False)
    """
    others = {part.unit for part in parts if part.unit not in FLUID}
    beside = {by_id(Measure)[row.measure].kind for row in rows(CustomUnit) if row.unit in others}
    return any(part.unit in FLUID for part in parts) and "mass" not in beside


def size(unit: str, written: str, custom: str) -> Measure | None:
    """Return the measure a unit means under a custom.

    Parameters
    ----------
    unit : str
        Unit token of the reading.
    written : str
        How it was printed: ``sign``, ``abbreviation`` or ``word``.
    custom : str
        Key of the custom.

    Returns
    -------
    Measure or None
        None where the custom has no such unit.

    Examples
    --------
    >>> size("drachm", "sign", "apothecaries").id
    'drachm_apothecaries'
    """
    found = _custom_unit(unit, written, custom)
    if found:
        return by_id(Measure)[found.measure]
    metric = by_id(Measure).get(unit)  # a gram is a gram under every custom
    return metric if metric and metric.system == "metric" else None


def unit_reason(unit: str, written: str, custom: str) -> Reason:
    """Return why a unit has its size under a custom, with the table rows behind it.

    Parameters
    ----------
    unit, written, custom : str
        As in `size`.

    Returns
    -------
    Reason
        The chain.

    Examples
    --------
    >>> unit_reason("drachm", "sign", "apothecaries").says
    'drachm is the drachm, apothecaries, 3.88793 g'
    """
    measure = size(unit, written, custom)
    if measure is None:
        return Reason(f"no size of a {unit} on file for {custom}")
    row = _custom_unit(unit, written, custom)
    kind = "g" if measure.kind == "mass" else "mL"
    says = f"{unit.replace('_', ' ')} is the {measure.name}, {float(measure.size):.6g} {kind}"
    own = measure.reason(f"{measure.name}: {measure.as_printed}")
    return row.reason(says, own) if row else own


def _custom_unit(unit: str, written: str, custom: str) -> CustomUnit | None:
    by_sign = "sign" if written == "sign" else "word"
    return _custom_units().get((custom, unit, by_sign)) or _custom_units().get((custom, unit, "any"))


@cache
def _custom_units() -> Mapping[tuple[str, str, str], CustomUnit]:
    found: dict[tuple[str, str, str], CustomUnit] = {}
    for row in rows(CustomUnit):
        if row.custom != ANY:
            found.setdefault((row.custom, row.unit, row.written), row)
    named = [row for row in rows(CustomUnit) if row.custom == ANY]
    for which, kind in (("weights", "mass"), ("measures", "volume")):
        for row in named:
            if by_id(Measure)[row.measure].kind == kind:
                for custom in _customs(which):
                    found.setdefault((custom, row.unit, row.written), row)
    return found


def parse_quantity(text: str) -> Quantity:
    """Return the quantity a text is, and nothing else.

    Parameters
    ----------
    text : str
        Such as ``"ʒiij"`` or ``"two drachms and a half"``.

    Returns
    -------
    Quantity
        Its parts.

    Raises
    ------
    InputError
        If the text is not one quantity.

    Examples
    --------
    >>> parse_quantity("1 lb. 4 oz.").parts[1].unit
    'ounce'
    """
    line = tokens(text)
    found = quantity_at(line, 0) if line else None
    rest = " ".join(token.text for token in line[found.after :] if token.text not in ".,") if found else text
    if found is None or rest:
        raise InputError(
            f"{rest or text!r} is not an amount with its unit" if found is None else f"{rest!r} was not read",
            text,
            'Write it as printed, such as "1½ oz.", "ʒiij" or "two drachms and a half"; no minus sign.',
        )
    return found.quantity


@dataclass(frozen=True, slots=True)
class Answer:
    """What a quantity comes to under one reading."""

    mass_g: float | None
    volume_ml: float | None
    measure: str  # the measures it was reckoned with, such as drachm, apothecaries
    custom: str
    standing: Standing
    reason: Reason


@dataclass(frozen=True, slots=True)
class Conversion:
    """What a printed quantity comes to: the chosen answer, if there is one, and all others."""

    text: str
    chosen: Answer | None
    others: tuple[Answer, ...]
    density_used: float | None


def convert(text: str, *, years: str = "", place: str = "", book: str = "", of: str = "") -> Conversion:
    """Return what a printed quantity weighed or held, there and then, with every other answer it may have.

    Parameters
    ----------
    text : str
        The quantity as printed.
    years, place, book : str
        When, where and in what kind of book; without year or place nothing is chosen.
    of : str
        The substance, by modern name: it tells solid from liquid and gives grams for a measure.

    Returns
    -------
    Conversion
        Masses [g] and volumes [mL].

    Examples
    --------
    >>> round(convert("ʒiij", years="1890", place="England").chosen.mass_g, 2)
    11.66
    """
    quantity = parse_quantity(text)
    key = substance_id(of) if of else ""
    setting = Setting(years, place, book)
    answers = _distinct(_answers(quantity, setting, key))
    sure = [answer for answer in answers if answer.standing != "unlikely"]
    agreed = len({(answer.mass_g, answer.volume_ml) for answer in sure}) == 1
    chosen = next((a for a in answers if a.standing == "likely"), sure[0] if agreed else None)
    used = (
        density(key).number if key and chosen and chosen.volume_ml is not None and chosen.mass_g is not None else None
    )
    return Conversion(text, chosen, tuple(a for a in answers if a is not chosen), used)


def _answers(quantity: Quantity, setting: Setting, key: str) -> Iterable[Answer]:
    weights, measures = (_options(which, quantity, setting) for which in ("weights", "measures"))
    liquid = bool(key) and thing(key).liquid
    readings = [
        (weight, measure, fluid)
        for weight in weights
        for measure in measures
        for fluid in (liquid, not liquid)
        if (not fluid or may_be_fluid(quantity.parts)) and _has_sizes(quantity, weight.key, measure.key, fluid=fluid)
    ]
    # Where liquids were weighed, an ounce of one has no second sense.
    two_senses = {fluid for *_, fluid in readings} == {True, False}
    for weight, measure, fluid in readings or [(weights[0], measures[0], False)]:
        standing = _joint(weight, measure, quantity, fluid=fluid, expected=liquid if two_senses else fluid)
        yield _answer(quantity, weight, measure, key, fluid=fluid, standing=standing)


def _options(which: str, quantity: Quantity, setting: Setting) -> tuple[Option, ...]:
    """Return the customs of the place; for a unit that none of them has, such as a Loth in London, those that do."""
    here = {question: custom_question(question, setting).options for question in ("weights", "measures")}
    strange = {
        (part.unit, part.written)
        for part in quantity.parts
        if not any(size(str(part.unit), part.written, option.key) for options in here.values() for option in options)
    }
    elsewhere = [
        _custom_option(alternatives, setting, set(), known=True)
        for custom, alternatives in _customs(which).items()
        if any(size(str(unit), written, custom) for unit, written in strange)
    ]
    return in_order(elsewhere) if elsewhere else here[which]


def _has_sizes(quantity: Quantity, weight: str, measure: str, *, fluid: bool) -> bool:
    units = ((FLUID.get(str(p.unit), str(p.unit)) if fluid else str(p.unit), p.written) for p in quantity.parts)
    return all(size(unit, written, measure) or size(unit, written, weight) for unit, written in units)


def _joint(weight: Option, measure: Option, quantity: Quantity, *, fluid: bool, expected: bool) -> Standing:
    """Return the worst standing of the answers that this quantity hangs on."""
    standings: list[Standing] = ["likely"]
    for part in quantity.parts:
        unit = FLUID.get(str(part.unit), str(part.unit)) if fluid else str(part.unit)
        option = measure if size(unit, part.written, measure.key) else weight
        if not _hangs_on_no_custom(unit, part.written, option.key):
            standings.append(option.standing)
    if may_be_fluid(quantity.parts) and fluid != expected:
        standings.append("possible")
    return max(standings, key=STANDINGS.index)


def _answer(
    quantity: Quantity, weight: Option, measure: Option, key: str, *, fluid: bool, standing: Standing
) -> Answer:
    held = {"mass": 0.0, "volume": 0.0}
    kinds, steps, customs, named = set[str](), [], dict[str, Reason](), dict[str, None]()
    for part in quantity.parts:
        unit = str(part.unit)
        unit = FLUID.get(unit, unit) if fluid else unit
        option = measure if size(unit, part.written, measure.key) else weight
        found = size(unit, part.written, option.key)
        if part.amount.value is None:
            raise InputError(
                f"the figure of {part.amount.printed!r} cannot be read", quantity_text(quantity), "Write it out."
            )
        if found is None:
            raise InputError(
                f"no size of a {unit.replace('_', ' ')} is on file",
                part.amount.printed,
                "Weigh one, or add a row with its source to your own tables.",
            )
        if _metric(part.unit):
            customs["metric"] = Reason("a metric unit is the same under every custom")
        elif _hangs_on_no_custom(unit, part.written, option.key):
            customs["as named"] = Reason("the page names the measure: no custom changes it")
        else:
            customs[option.words] = option.reason
        steps.append(_step(part, unit, option))
        named[found.name] = None
        kinds.add(found.kind)
        held[found.kind] += part.amount.value * float(found.size)
    because = [*steps, *customs.values()]
    if key and "volume" in kinds:
        because.append(density(key).reason)
        held["mass"] += held["volume"] * density(key).number
        kinds.add("mass")
    mass, volume = (held[kind] if kind in kinds else None for kind in ("mass", "volume"))
    says = f"{quantity_text(quantity)}, {' and '.join(customs)}"
    return Answer(mass, volume, " and ".join(named), " and ".join(customs), standing, Reason(says, (), tuple(because)))


def _hangs_on_no_custom(unit: str, written: str, custom: str) -> bool:
    row = _custom_unit(unit, written, custom)
    return _metric(unit) if row is None else row.custom == ANY


def _metric(unit: str | None) -> bool:
    row = by_id(Measure).get(str(unit))
    return row is not None and row.system == "metric"


def quantity_text(quantity: Quantity) -> str:
    """Return a quantity as printed.

    Parameters
    ----------
    quantity : Quantity
        As read.

    Returns
    -------
    str
        Its parts, joined by a plus.

    Examples
    --------
    >>> quantity_text(parse_quantity("1 lb. 4 oz."))
    '1 lb. + 4 oz.'
    """
    return " + ".join(part.amount.printed for part in quantity.parts)


def _step(part: Measured, unit: str, option: Option) -> Reason:
    return Reason(
        f"{part.amount.printed!r} is {part.amount.value:g} {unit.replace('_', ' ')}",
        (),
        (unit_reason(unit, part.written, option.key),),
    )


def _distinct(answers: Iterable[Answer]) -> list[Answer]:
    """Return answers that differ in their figures, each with its surest reading, the surest first."""
    found: dict[tuple[float | None, float | None], Answer] = {}
    for answer in sorted(answers, key=lambda a: STANDINGS.index(a.standing)):
        found.setdefault((answer.mass_g, answer.volume_ml), answer)
    return list(found.values())
