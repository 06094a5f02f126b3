"""What does a printed quantity come to? The chosen answer, and every other it may have.

All amounts are linear: what one of each unit comes to under each reading is worked out once for a setting and kept
(`readings`); a quantity is then only multiplied.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import lru_cache

from reconlab.display import Card, Shown, Table
from reconlab.errors import AmbiguousError, InputError, UnknownNameError, nearest, text_given
from reconlab.materia import UNKNOWN, folded, identify, substance_id, thing
from reconlab.measures.customs import nearby
from reconlab.measures.of_places import OfPlace, of_place
from reconlab.measures.own_rule import check_rule
from reconlab.measures.printed import Understood, understood
from reconlab.measures.readings import Reading, Units, place_of_chosen, readings, units_of
from reconlab.measures.sizes import ANY, ONLY_FLUID, kinds_of, quantity_text, size
from reconlab.measures.stated import not_said_of
from reconlab.measures.strong_names import spirit_of
from reconlab.reasons import STANDINGS, Reason, Standing, Value, figure
from reconlab.receipts import Amount, Quantity, Setting, one_setting
from reconlab.tables import Substance, rows
from reconlab.units import LARGEST


@dataclass(frozen=True, slots=True)
class Answer:
    """What a quantity comes to under one reading; a figure that is exact has no limits."""

    mass_g: float | None
    volume_ml: float | None
    measure: str  # the measures it was reckoned with, such as drachm, apothecaries
    custom: str
    standing: Standing
    reason: Reason
    mass_low_g: float | None = None
    mass_high_g: float | None = None
    volume_low_ml: float | None = None
    volume_high_ml: float | None = None

    @property
    def limits(self) -> tuple[float, float] | None:
        """The lowest and highest figure of the mass [g], or where it is not known of the volume [mL]."""
        weighed = self.mass_g is not None
        low, high = (self.mass_low_g, self.mass_high_g) if weighed else (self.volume_low_ml, self.volume_high_ml)
        own = self.mass_g if weighed else self.volume_ml
        return None if own is None else (own if low is None else low, own if high is None else high)


@dataclass(frozen=True, repr=False)
class Conversion(Shown):
    """What a printed quantity comes to: the chosen answer, if there is one, and all others."""

    text: str
    chosen: Answer | None
    others: tuple[Answer, ...]
    density_used: float | None
    setting: Setting = field(default_factory=Setting)
    notes: tuple[str, ...] = ()

    def card(self) -> Card:
        """Return every answer as a card, with the reason of the one chosen."""
        answers = (self.chosen, *self.others) if self.chosen else self.others
        shown = tuple(
            (
                "chosen" if answer is self.chosen else answer.standing,
                _words(answer.mass_g, "g"),
                _words(answer.volume_ml, "mL"),
                _range_words(answer),
                answer.measure,
                answer.custom,
            )
            for answer in answers
        )
        heads = ("", "mass", "volume", "range", "reckoned as", "weights and measures")
        first = f"{self.text}: {amount_words(self.chosen)}" if self.chosen else f"{self.text}: nothing chosen"
        notes = (str(self.setting), *self.notes)
        reasons = tuple(answer.reason for answer in ((self.chosen,) if self.chosen else self.others))
        return Card(first, notes, (Table("", heads, shown),), reasons)


def amount_words(answer: Answer) -> str:
    """Return what an answer comes to in a few words.

    Parameters
    ----------
    answer : Answer
        One answer of a conversion.

    Returns
    -------
    str
        Mass and volume, as far as they are known.

    Examples
    --------
    >>> amount_words(convert("2 g").chosen)
    '2 g'
    """
    return " = ".join(filter(None, (_words(answer.mass_g, "g"), _words(answer.volume_ml, "mL"))))


def _words(number: float | None, unit: str) -> str:
    return "" if number is None else f"{figure(number)} {unit}"


def _range_words(answer: Answer) -> str:
    if answer.limits is None:
        return ""
    low, high = answer.limits
    wide = Value(answer.mass_g or answer.volume_ml or 0.0, low, high, "", answer.reason).wide
    return f"{figure(low)} to {figure(high)} {'mL' if answer.mass_g is None else 'g'}" if wide else ""


def convert(
    text: str,
    setting: Setting | None = None,
    *,
    years: str = "",
    place: str = "",
    book: str = "",
    of: str = "",
    rule: str = "",
    text_years: str = "",
    text_place: str = "",
) -> Conversion:
    """Return what a printed quantity weighed or held, there and then, with every other answer it may have.

    Parameters
    ----------
    text : str
        The quantity as printed.
    setting : Setting, optional
        When, where, in what kind of book and by whose rule, in place of the words below.
    years, place, book : str
        When, where and in what kind of book; without year or place nothing is chosen.
    of : str
        The substance: it tells solid from liquid and gives grams for a measure. Of one that is not on file
        the amount may have been weighed or measured, and neither is chosen.
    rule : str
        The author's own rule of weights and measures, such as ``"oz. and lb. avoirdupois, dr. and gr. troy"`` or
        ``"a teaspoonful is one drachm, 4 tablespoonfuls = 1 wineglass"``. His own figures are taken as exact.
    text_years, text_place : str
        Of a reprint or translation, when and where its words were first written.

    Returns
    -------
    Conversion
        Masses [g] and volumes [mL], each with its limits.

    Raises
    ------
    InputError
        If the text is no quantity, its unit has no size on file, or cannot be said of the substance.

    Examples
    --------
    >>> round(convert("ʒiij", years="1890", place="England").chosen.mass_g, 2)
    11.66
    >>> spoons = convert("2 tablespoonfuls", years="1890", place="England").chosen
    >>> round(spoons.volume_ml, 1), spoons.volume_low_ml, spoons.volume_high_ml
    (28.4, 28.0, 30.0)
    >>> convert("2 tablespoonfuls", rule="teaspoonful 5 cc; tablespoonful 15 cc").chosen.volume_ml
    30.0
    """
    setting = one_setting(setting, Setting(years, place, book, rule, text_years, text_place))
    check_rule(setting.rule)
    return answered(text_given(text, "text"), setting, text_given(of, "of"))


def answered(text: str, setting: Setting, of: str) -> Conversion:
    """Return what a printed text comes to, with what else the same print may say as further answers.

    Parameters
    ----------
    text : str
        The quantity as printed, which may name its thing: "2 oz. of borax", "9 eggs".
    setting : Setting
        When, where, in what kind of book, and its author's rule.
    of : str
        The substance; empty where none is named beside the text.

    Returns
    -------
    Conversion
        The answers of the surest reading first.

    Examples
    --------
    >>> answered("3ij", Setting("1890", "England"), "").chosen.measure
    'drachm, apothecaries'
    """
    elsewhere = of_place(text)
    if elsewhere is not None:
        return _of_elsewhere(text, elsewhere, setting, of)
    first, *others = understood(text, setting)
    keys = [_key_of(way, of, setting) for way in (first, *others)]
    found = converted(first.quantity, text, setting, keys[0])
    more = [answer for way, key in zip(others, keys[1:], strict=True) for answer in _answers_of(way, key, setting)]
    contrary = _contrary(first, keys[0], of, setting)
    if not first.because and not more and not contrary:
        return found
    chosen = _with_reason(found.chosen, first) if found.chosen else None
    known = {(answer.mass_g, answer.volume_ml) for answer in (*found.others, *([found.chosen] if found.chosen else []))}
    more = [answer for answer in more if (answer.mass_g, answer.volume_ml) not in known]
    notes = tuple(filter(None, (first.because, contrary)))
    return replace(found, chosen=chosen, others=(*found.others, *more), notes=(*found.notes, *notes))


def _of_elsewhere(text: str, said: OfPlace, setting: Setting, of: str) -> Conversion:
    """Return what a unit comes to of which the page says whose it is, in a book of another land."""
    there = replace(setting, place=said.place, text_place="")
    found = answered(said.text, there, of)
    return replace(found, text=text, notes=(*found.notes, f"reckoned by the units of {said.place}, as the page says"))


def _key_of(way: Understood, of: str, setting: Setting) -> str:
    """Return the id of the thing a reading is said of: the one it names, or the one named beside the text."""
    name = way.name if way.name and (not of or _is_count(way)) else of
    return fluid_of(named(name, setting), name, setting, units_of(way.quantity))


def _contrary(way: Understood, key: str, of: str, setting: Setting) -> str:
    """Say that the text names another thing than the one it is said of."""
    if not way.name or not of or _is_count(way) or named(way.name, setting) == key:
        return ""
    return f"The text names {way.name}; it was reckoned as {of}, which is what was asked."


def _is_count(way: Understood) -> bool:
    return way.quantity.parts[0].unit == "piece"


def _answers_of(way: Understood, key: str, setting: Setting) -> list[Answer]:
    """Return the answers of another reading, none surer than the reading itself."""
    try:
        found = converted(way.quantity, quantity_text(way.quantity), setting, key)
    except InputError:
        return []  # such a unit cannot be said of the thing: the print does not mean it
    answers = (*([found.chosen] if found.chosen else []), *found.others)
    least = STANDINGS.index("possible" if way.standing == "likely" else way.standing)
    made = [_with_reason(answer, way) for answer in answers if answer.standing != "unlikely"]
    return [replace(one, standing=STANDINGS[max(least, STANDINGS.index(one.standing))]) for one in made]


def _with_reason(answer: Answer, way: Understood) -> Answer:
    if not way.because:
        return answer
    return replace(answer, reason=replace(answer.reason, because=(Reason(way.because), *answer.reason.because)))


def converted(quantity: Quantity, text: str, setting: Setting, key: str) -> Conversion:
    """Return what a quantity as read comes to.

    Parameters
    ----------
    quantity : Quantity
        Its parts.
    text : str
        As printed.
    setting : Setting
        When, where, in what kind of book, and its author's rule.
    key : str
        Id of the substance; empty where none is named.

    Returns
    -------
    Conversion
        Masses [g] and volumes [mL].

    Examples
    --------
    >>> from reconlab.measures.sizes import parse_quantity
    >>> converted(parse_quantity("2 g"), "2 g", Setting(), "").chosen.mass_g
    2.0
    """
    asked = readings(units_of(quantity), setting, key)
    answers = _distinct(_answer(quantity, reading) for reading in asked)
    at = place_of_chosen([answer.standing for answer in answers])
    chosen = None if at is None else answers[at]
    used = chosen.mass_g / chosen.volume_ml if chosen and chosen.mass_g is not None and chosen.volume_ml else None
    others = tuple(answer for answer in answers if answer is not chosen)
    return Conversion(text, chosen, others, used, setting, notes_on(units_of(quantity), setting, key))


def named(of: str, setting: Setting) -> str:
    """Return the id of a substance a person names; of one not known, or of several none preferred, an id that says so.

    Parameters
    ----------
    of : str
        Its name; empty where none is given.
    setting : Setting
        When and where the name was used.

    Returns
    -------
    str
        The id.

    Examples
    --------
    >>> named("glycerin", Setting()), named("moon dust", Setting())
    ('glycerin', 'not identified: moon dust')
    """
    if not of.strip():
        return ""
    if strong := spirit_of(of, setting):  # a strength printed beside the name tells more than the name
        return strong
    question = identify(of, setting)  # a spirit or an acid of the book has its own strength, the pure thing another
    if question is not None and question.chosen is not None:
        return question.chosen.key
    try:
        return substance_id(of)
    except (UnknownNameError, AmbiguousError):
        return f"{UNKNOWN}{folded(of) or of.strip()}"


@lru_cache(maxsize=4096)
def fluid_of(key: str, of: str, setting: Setting, units: Units) -> str:
    """Return the liquid a name also means where it is told by drops or minims: of sal volatile the aromatic spirit.

    Parameters
    ----------
    key : str
        Id of what the name means first.
    of : str
        The name.
    setting : Setting
        When and where the name was used.
    units : tuple of (str, str)
        Each unit token with how it was printed.

    Returns
    -------
    str
        Id of that liquid; the same id where the thing is liquid itself, or only solid.

    Examples
    --------
    >>> fluid_of("camphor", "camphor", Setting(), (("minim", "word"),))
    'camphor'
    """
    what = thing(key)
    if not key or not what.on_file or what.liquid or not any(unit in _OF_LIQUIDS for unit, _ in units):
        return key
    question = identify(of, setting)
    options = question.options if question is not None else ()
    return next((option.key for option in options if thing(option.key).liquid), key)


_OF_LIQUIDS = ONLY_FLUID | {"drop", "fluid_drachm", "fluid_ounce"}


def _answer(quantity: Quantity, reading: Reading) -> Answer:
    amounts = [amount_figures(part.amount, quantity) for part in quantity.parts]
    usual, low, high = zip(*amounts, strict=True)
    mass, volume = (reading.comes_to(usual, 0, mass=mass) for mass in (True, False))
    if max(mass or 0.0, volume or 0.0) > LARGEST:
        raise InputError("no receipt holds so much", quantity_text(quantity), "Check the figures.")
    steps = tuple(
        Reason(f"{part.amount.printed!r} is {part.amount.value:g} {unit.replace('_', ' ')}", (), (one.reason,))
        for part, unit, one in zip(quantity.parts, reading.units, reading.sized, strict=True)
    )
    reason = Reason(f"{quantity_text(quantity)}, {reading.custom}", (), (*steps, *reading.because))
    limits: list[float | None] = []
    for weighed in (True, False):
        least, most = reading.comes_to(low, 1, mass=weighed), reading.comes_to(high, 2, mass=weighed)
        limits += [least, most] if least != most else [None, None]
    return Answer(mass, volume, reading.measure, reading.custom, reading.standing, reason, *limits)


def amount_figures(amount: Amount, quantity: Quantity) -> tuple[float, float, float]:
    """Return the usual, lowest and highest figure of an amount.

    Parameters
    ----------
    amount : Amount
        As read.
    quantity : Quantity
        The quantity it is a part of, for the message.

    Returns
    -------
    tuple of float
        Three figures [unit of the page].

    Raises
    ------
    InputError
        If it cannot be read, or is less than nothing.

    Examples
    --------
    >>> from reconlab.measures.sizes import parse_quantity
    >>> two = parse_quantity("2 to 3 oz.")
    >>> amount_figures(two.parts[0].amount, two)
    (2.5, 2.0, 3.0)
    """
    if amount.value is None or amount.low is None or amount.high is None:
        if not any(map(str.isdigit, amount.printed)):  # "a few drops"
            raise InputError(f"{amount.printed!r} gives no figure", quantity_text(quantity), "Say how many.")
        raise InputError(
            f"the figure of {amount.printed!r} cannot be read",
            quantity_text(quantity),
            "Write it out; no receipt means less than nothing.",
        )
    return amount.value, amount.low, amount.high


def _distinct(answers: Iterable[Answer]) -> list[Answer]:
    """Return answers that differ in their figures, the surest first: nothing of an ounce is nothing of any."""
    found: dict[tuple[float | None, float | None], Answer] = {}
    for answer in answers:
        found.setdefault((answer.mass_g, answer.volume_ml), answer)
    return list(found.values())


def notes_on(units: Units, setting: Setting, key: str) -> tuple[str, ...]:
    """Return what to know before an amount is used: nothing on file for this year and place, a thing nobody knows.

    Parameters
    ----------
    units : tuple of (str, str)
        Each unit token with how it was printed.
    setting : Setting
        When and where.
    key : str
        Id of the substance; empty where none is named.

    Returns
    -------
    tuple of str
        In words.

    Examples
    --------
    >>> notes_on((("ounce", "word"),), Setting("1066", "England"), "")[0][:80]
    'weights: no source on file speaks for this year and place: the oldest for Englan'
    """
    asked = {"mass": "weights", "volume": "measures"}
    kinds = {kind for unit, _ in units if size(unit, "word", ANY) is None for kind in kinds_of(unit)}
    found = [
        f"{which}: {words}"
        for kind, which in asked.items()
        if kind in kinds and (words := nearby(which, setting.of_text))
    ]
    found += [note for unit, _ in units if (note := not_said_of(unit, setting, key))]
    if key and not thing(key).on_file:
        found.append(_why_unknown(thing(key).name, setting))
    return tuple(found)


def _why_unknown(name: str, setting: Setting) -> str:
    """Say why nothing is known of what a name means: it may be several things, or none is on file."""
    question = identify(name, setting)
    if question is not None:
        meant = "; ".join(option.words for option in question.options)
        return f"{name} was said of several things, so no density is used; name one: {meant}."
    try:
        substance_id(name)
    except AmbiguousError as fault:
        return f"{fault.found}: no density is used."
    except UnknownNameError:
        pass
    near = nearest(name, {folded(row.name) for row in rows(Substance)})
    return f"{name} is not on file, so its state and density are not known.{near}"
