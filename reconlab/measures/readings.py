"""How can the units of a quantity be understood? What one of each comes to, under whose custom, solid or fluid."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from itertools import chain, product

from reconlab.domestic import held, is_domestic, missing
from reconlab.errors import InputError
from reconlab.materia import bulk_density, density, identify, state_by_name, thing
from reconlab.measures.customs import (
    custom_question,
    customs_by_sign,
    customs_of,
    for_liquid,
    liquids_question,
    options_of,
)
from reconlab.measures.own_rule import how_of_units
from reconlab.measures.sizes import (
    ANY,
    AS_WEIGHT,
    FLUID,
    ONLY_FLUID,
    has_own,
    kinds_of,
    may_be_fluid,
    metric,
    size,
    unit_reason,
)
from reconlab.measures.stated import Stated, stated
from reconlab.reading.rules import BY_MEASURE, BY_WEIGHT
from reconlab.reasons import STANDINGS, Option, Reason, Standing, Value, figure
from reconlab.receipts import Amount, Measured, Quantity, Setting
from reconlab.tables import Measure, by_id, rows

Units = tuple[tuple[str, str], ...]  # of each part of a quantity: its unit token, and how it was printed


@dataclass(frozen=True, slots=True)
class Sized:
    """What one of a unit comes to: grams, millilitres, or both where a density joins them; usual, lowest, highest."""

    g: tuple[float, float, float] | None
    ml: tuple[float, float, float] | None
    name: str
    reason: Reason


@dataclass(frozen=True, slots=True)
class Reading:
    """One way to understand the units of a quantity: what one of each comes to, under which customs, and why."""

    units: tuple[str, ...]  # as understood: a fluid ounce for an ounce of a liquid
    sized: tuple[Sized, ...]
    custom: str
    standing: Standing
    because: tuple[Reason, ...]

    @property
    def measure(self) -> str:
        """The measures it is reckoned with, in words."""
        return " and ".join(dict.fromkeys(sized.name for sized in self.sized))

    @property
    def adds_up(self) -> bool:
        """Whether all its parts weigh, or all measure."""
        return all(sized.g for sized in self.sized) or all(sized.ml for sized in self.sized)

    @property
    def factors(self) -> tuple[object, ...]:
        """What tells it from another reading."""
        return tuple((sized.g, sized.ml) for sized in self.sized)

    def comes_to(self, amounts: Sequence[float], which: int, *, mass: bool) -> float | None:
        """Return the grams or millilitres of so many of each unit: usual 0, lowest 1, highest 2; None if not known."""
        found = [sized.g if mass else sized.ml for sized in self.sized]
        return None if None in found else sum(n * f[which] for n, f in zip(amounts, found, strict=True) if f)


def units_of(quantity: Quantity) -> Units:
    """Return the units of a quantity, each with how it was printed.

    Parameters
    ----------
    quantity : Quantity
        As read.

    Returns
    -------
    tuple of (str, str)
        Unit token, and sign, abbreviation or word.

    Examples
    --------
    >>> from reconlab.measures.sizes import parse_quantity
    >>> units_of(parse_quantity("ʒiij"))
    (('drachm', 'sign'),)
    """
    return tuple((str(part.unit), part.written) for part in quantity.parts)


@lru_cache(maxsize=4096)
def readings(units: Units, setting: Setting, key: str) -> tuple[Reading, ...]:
    """Return every way the units of a quantity can be understood, the surest first.

    Parameters
    ----------
    units : tuple of (str, str)
        Each unit token with how it was printed.
    setting : Setting
        When, where, in what kind of book, and its author's rule.
    key : str
        Id of the substance; empty where none is named.

    Returns
    -------
    tuple of Reading
        Ways that come to different figures.

    Raises
    ------
    InputError
        If a unit has no size on file, or cannot be said of the substance.

    Examples
    --------
    >>> [reading.custom for reading in readings((("gram", "word"),), Setting(), "")]
    ['metric']
    """
    units = tuple((_weighed_as(unit, key), written) for unit, written in units)
    _refuse_impossible(units, key)
    by_author = tuple(stated(unit, written, setting, key) for unit, written in units)
    if any(by_author):
        return _by_author(units, by_author, setting, key)
    return _by_custom(units, setting, key, _senses(units, setting, key))


def _by_author(units: Units, by_author: Sequence[Stated | None], setting: Setting, key: str) -> tuple[Reading, ...]:
    """Return the readings of units whose size the author gives, by those of the units he gives it in."""
    own = tuple((said.unit, "word") if said else unit for unit, said in zip(units, by_author, strict=True))
    weighed = any(said.weighed for said in by_author if said)
    told = next((said.substance for said in by_author if said and said.substance), "")
    # An author who sizes his ounce still measures liquids by the fluid one.
    senses = _senses(units, setting, key) if any(unit in FLUID for unit, _ in units) else _senses(own, setting, key)
    senses = (_WEIGHED,) if weighed else senses
    fluid = tuple(sense for sense in senses if sense.fluid and any(unit in FLUID for unit, _ in units))
    rest = tuple(sense for sense in senses if sense not in fluid)
    stated_in = _by_custom(own, setting, told or key, rest) if rest else ()
    found = [_scaled(reading, units, by_author, key) for reading in stated_in]
    found += _by_custom(units, setting, key, fluid) if fluid else ()
    if all(kinds_of(unit) for unit, _ in units):  # what law or custom made of it stays an answer
        found += [replace(legal, standing="unlikely") for legal in _by_custom(units, setting, key, senses)]
    found.sort(key=lambda reading: STANDINGS.index(reading.standing))
    distinct: dict[tuple[object, ...], Reading] = {}
    for reading in found:
        distinct.setdefault(reading.factors, reading)
    return tuple(distinct.values())


def _scaled(reading: Reading, units: Units, by_author: Sequence[Stated | None], key: str) -> Reading:
    sized = [
        _times(one, said, unit.replace("_", " "), key) if said else one
        for one, said, (unit, _) in zip(reading.sized, by_author, units, strict=True)
    ]
    tokens = tuple(
        unit if said else token for token, said, (unit, _) in zip(reading.units, by_author, units, strict=True)
    )
    kept = () if reading.custom in _FIXED.values() else (reading.custom,)
    return replace(reading, units=tokens, sized=tuple(sized), custom=" and ".join(("the author's own rule", *kept)))


def _times(one: Sized, said: Stated, words: str, key: str) -> Sized:
    """Return so many of a size; of a vessel said to hold so much water, its room."""
    factor = float(said.factor)
    grams, room = ([factor * figure for figure in own] if own else None for own in (one.g, one.ml))
    if said.substance and grams and not room:
        room = [figure / density_of(said.substance).number for figure in grams]
    because: tuple[Reason, ...] = (one.reason,)
    if said.substance and room and key != said.substance and (key or said.said[-1].substance):
        dense = density_of(key) if key and thing(key).on_file else None
        figures = (dense.number, dense.low, dense.high) if dense else ()
        grams = [ml * figure for ml, figure in zip(room, figures, strict=True)] if dense else None
        because = (one.reason, dense.reason) if dense else because
    says = Reason(f"{words}, as the author says: {said.words}", (), because)
    return Sized(_three(grams), _three(room), f"{words} of the author", says)


def _three(figures: Sequence[float] | None) -> tuple[float, float, float] | None:
    return None if figures is None else (figures[0], figures[1], figures[2])


def _by_custom(units: Units, setting: Setting, key: str, senses: Sequence[_Sense]) -> tuple[Reading, ...]:
    weights, volumes = (_customs_for(units, which, setting, key) for which in ("weights", "measures"))
    if all(written == "sign" for _, written in units):
        weights = customs_by_sign(weights, setting)

    def of_sense(sense: _Sense) -> list[Reading]:
        return _of_sense(units, sense, key, setting=setting, customs=(weights, volumes))

    by_sense = [of_sense(sense) for sense in senses]
    if sum(map(bool, by_sense)) == 1 < len(senses):  # where liquids were weighed, an ounce of one has no second sense
        only = next(sense for sense, found in zip(senses, by_sense, strict=True) if found)
        by_sense = [of_sense(replace(only, standing="likely"))]
    made = [reading for found in by_sense for reading in found]
    if not made:
        unknown = next((unit for unit, _ in units if not kinds_of(unit)), units[0][0])
        raise InputError(
            f"no size of a {unknown.replace('_', ' ')} is on file",
            quantity_words(units),
            "Weigh one, or add a row with its source to your own tables.",
        )
    made = [reading for reading in made if reading.adds_up]
    if not made:
        raise InputError(
            "a weight and a measure do not add up without a density", quantity_words(units), "Name the substance."
        )
    made.sort(key=lambda reading: STANDINGS.index(reading.standing))
    made += [rival for reading in made if reading.standing != "unlikely" for rival in _rivals(reading)]
    made.sort(key=lambda reading: STANDINGS.index(reading.standing))
    distinct: dict[tuple[object, ...], Reading] = {}
    for reading in made:
        distinct.setdefault(reading.factors, reading)
    return tuple(distinct.values())


def _customs_for(units: Units, which: str, setting: Setting, key: str) -> tuple[Option, ...]:
    """Return the customs of the place; for a unit that none of them has, such as a Loth in London, those that do."""
    here = {question: custom_question(question, setting).options for question in ("weights", "measures")}
    strange = [
        (unit, written)
        for unit, written in units
        if not any(size(unit, written, option.key) for options in here.values() for option in options)
    ]
    have = [custom for custom in customs_of(which) if any(size(unit, how, custom) for unit, how in strange)]
    if have or not key:
        return options_of(have, which, setting.of_text) or here[which]
    own = for_liquid(here[which], which, setting, key)
    return own if all(size(unit, written, own[0].key) for unit, written in units) else here[which]


def _of_sense(
    units: Units, sense: _Sense, key: str, *, setting: Setting, customs: tuple[Sequence[Option], Sequence[Option]]
) -> list[Reading]:
    each = product(*customs)
    own = {option for which in ("weights", "measures") for option in custom_question(which, setting).options}
    here = bool(setting.region) and own.issuperset(chain(*customs))
    made = [_reading(units, sense, key, setting=setting, weight=one, measure=other) for one, other in each]
    found = [reading for reading in made if reading is not None]
    # A custom that may hold here and has no such unit does not agree: the unit may be of another time.
    lacking = {
        one.standing
        for (one, _), reading in zip(product(*customs), made, strict=True)
        if reading is None and not one.key.startswith(_METRIC)  # which never has a unit of old
    }
    agreed = () if lacking & {"likely", "possible"} else _agreed(found, sense, nearly=_NEARLY if here else 0.0)
    return [*agreed, *found]


def quantity_words(units: Units) -> str:
    """Return the units of a quantity in words, for a message.

    Parameters
    ----------
    units : tuple of (str, str)
        Each unit token with how it was printed.

    Returns
    -------
    str
        Such as ``"pound and ounce"``.

    Examples
    --------
    >>> quantity_words((("fluid_ounce", "word"),))
    'fluid ounce'
    """
    return " and ".join(unit.replace("_", " ") for unit, _ in units)


def _weighed_as(unit: str, key: str) -> str:
    """Return a cask as the weight it was of a solid: a firkin of butter, a barrel of flour."""
    if kinds_of(own := f"{unit}_of_{key}"):
        return own
    solid = bool(key) and thing(key).on_file and not thing(key).liquid
    return AS_WEIGHT.get(unit, unit) if solid else unit


def _refuse_impossible(units: Units, key: str) -> None:
    what = thing(key)
    solid = bool(key) and what.on_file and not what.liquid
    for unit, _ in units:
        if solid and unit in ONLY_FLUID:
            raise InputError(
                f"{what.name} is a solid, and the {unit} on file is a measure of liquids",
                quantity_words(units),
                "Read the unit again, or name the liquid it was dissolved in.",
            )


@dataclass(frozen=True, slots=True)
class _Sense:
    fluid: bool
    standing: Standing
    because: tuple[Reason, ...] = ()


def _senses(units: Units, setting: Setting, key: str) -> tuple[_Sense, ...]:
    """Return whether ounces and drachms weigh or measure here: the surer sense first, the other left open."""
    if not may_be_fluid([Measured(_ONE, unit, written) for unit, written in units]):
        return (_Sense(fluid=False, standing="likely"),)
    if any("volume" in kinds_of(unit) for unit, _ in units if unit not in FLUID):
        return (_Sense(fluid=True, standing="likely", because=(_BESIDE_A_MEASURE,)),)
    of_units = {unit for unit, _ in units}
    liquids = liquids_question(setting, of_units)
    first, ruled = liquids.options[0], len(liquids.options) == 1
    what = thing(key)
    if first.key in (BY_WEIGHT, BY_MEASURE):
        said = _Sense(first.key == BY_MEASURE, "likely", (first.reason,))
        # What he says of ounces may be meant of solids alone: the fluid ounce of a liquid stays an answer.
        of_solids = first.key == BY_WEIGHT and how_of_units(setting.rule, of_units) and (what.liquid or not key)
        return (said, _Sense(fluid=True, standing="unlikely", because=(_OTHER_SENSE[True],))) if of_solids else (said,)
    if key and not what.on_file and (state := state_by_name(what.name) or _state_of_all(what.name, setting)):
        by_name = Reason(f"{what.name}: {state} by its name, as is common practice")
        liquid = state == "liquid"
        return (_Sense(liquid, "likely", (by_name,)), _Sense(not liquid, "possible", (_OTHER_SENSE[not liquid],)))
    if key and not what.on_file:
        why = Reason(f"whether {what.name} was solid or fluid is not known: weighed or measured, both stand")
        return tuple(_Sense(fluid, "possible", (why,)) for fluid in (False, True))
    liquid = bool(key) and what.liquid
    other = _Sense(not liquid, "possible", (_OTHER_SENSE[not liquid],))
    own = _Sense(liquid, "likely", (first.reason,) if liquid else ())
    return (own,) if ruled and key else (own, other)


def _state_of_all(name: str, setting: Setting) -> str:
    """Return the state of everything a name may mean: each essence of musk on file is a liquid."""
    question = identify(name, setting)
    known = [thing(option.key) for option in question.options] if question is not None else []
    states = {"liquid" if one.liquid else "solid" for one in known if one.on_file}
    return states.pop() if len(states) == 1 and all(one.on_file for one in known) else ""


_BESIDE_A_MEASURE = Reason("an ounce or drachm beside a pint or minim is a measure itself")
_WEIGHED = _Sense(fluid=False, standing="likely", because=(Reason("weighed, as the author says"),))
_ONE = Amount(1.0, 1.0, 1.0, "1")
_OTHER_SENSE = {True: Reason("measured, if it was a liquid"), False: Reason("weighed, as some books weighed liquids")}


def _domestic(unit: str, setting: Setting, key: str) -> Sized:
    """Return what a drop, a spoonful, a handful or one of a count comes to, with its limits."""
    found = held(Measured(_ONE, unit), key, setting)
    words = unit.replace("_", " ")
    if found is None:
        if not key:
            said = 'Name it, such as of="lavender oil"; at the shell: --of "lavender oil".'
            raise InputError(f"how much a {words} is hangs on the thing", words, said)
        remedy = "Weigh one, or add a row with its source to your own tables."
        raise InputError(missing(unit), words, remedy)
    grams, millilitres = (_with_limits(figures) for figures in (found.mass_g, found.volume_ml))
    if key and millilitres and not thing(key).on_file:
        grams = None  # nobody knows its density, as of a pint of it
    return Sized(grams, millilitres, words, Reason(f"how much a {words} is", (), found.reason.because))


def _with_limits(figures: tuple[float | None, float | None, float | None]) -> tuple[float, float, float] | None:
    usual, low, high = figures
    return None if usual is None else (usual, usual if low is None else low, usual if high is None else high)


def _reading(
    units: Units, sense: _Sense, key: str, *, setting: Setting, weight: Option, measure: Option
) -> Reading | None:
    sized, tokens, standings = [], [], [sense.standing]
    customs: dict[str, Reason] = {}
    for token, written in units:
        if is_domestic(token):
            tokens.append(token)
            sized.append(_domestic(token, setting, key))
            customs["household measure"] = Reason("household measure: no law or custom fixed it")
            continue
        unit = FLUID.get(token, token) if sense.fluid else token
        own = size(unit, written, measure.key)
        option = measure if own is not None and own.kind == "volume" else weight
        fixed = metric(unit) or (not has_own(unit, written, option.key) and size(unit, written, ANY))
        found = _one(unit, written, ANY if fixed else option.key, key)
        if found is None:
            return None
        if fixed:
            customs[_FIXED[metric(unit)]] = Reason(f"{_FIXED[metric(unit)]}: the same under every custom")
        else:
            customs[option.words] = option.reason
            standings.append(option.standing)
        tokens.append(unit)
        sized.append(found)
    because = (*customs.values(), *sense.because, *_density_reasons(sized, key))
    standing = max(standings, key=STANDINGS.index)
    return Reading(tuple(tokens), tuple(sized), " and ".join(customs), standing, because)


def _agreed(made: Sequence[Reading], sense: _Sense, *, nearly: float) -> Iterator[Reading]:
    """Give the reading that every custom leads to which may hold here, or nearly: whose it was need not be known."""
    sure = [reading for reading in made if reading.standing != "unlikely"]
    if not sure or sure[0].standing == sense.standing:
        return
    alike = [_spanned([reading.sized[at] for reading in sure], nearly) for at in range(len(sure[0].sized))]
    sized = tuple(one for one in alike if one is not None)
    if len(sized) == len(alike):
        customs = " or ".join(dict.fromkeys(reading.custom for reading in sure))
        because = tuple(dict.fromkeys(reason for reading in sure for reason in reading.because))
        yield replace(sure[0], sized=sized, standing=sense.standing, custom=customs, because=because)


_NEARLY = 0.03  # two pounds of one town, or the medicinal ounces of neighbouring lands
_METRIC = "metric"  # how the ids of the metric customs begin


def _spanned(sizes: Sequence[Sized], nearly: float) -> Sized | None:
    """Return sizes that nearly agree as the first of them, its limits holding all; None where they do not agree."""
    grams, millilitres = (_span(figures, nearly) for figures in ([one.g for one in sizes], [one.ml for one in sizes]))
    alike = all((one.g is None, one.ml is None) == (grams is None, millilitres is None) for one in sizes)
    if not alike:
        return None
    names = " or ".join(dict.fromkeys(one.name for one in sizes))
    reasons = tuple(dict.fromkeys(one.reason for one in sizes))
    if len(reasons) == 1 or (sizes[0].g, sizes[0].ml) == (grams, millilitres):
        return sizes[0]
    says = Reason(f"{names}: they differ by less than {nearly:.1%}, and the limits hold them all", (), reasons)
    return Sized(grams, millilitres, sizes[0].name, says)


def _span(figures: Sequence[tuple[float, float, float] | None], nearly: float) -> tuple[float, float, float] | None:
    known = [each for each in figures if each is not None]
    usual = [each[0] for each in known]
    if len(known) < len(figures) or max(usual) > min(usual) * (1 + nearly):
        return None
    return usual[0], min(each[1] for each in known), max(each[2] for each in known)


_FIXED = {True: "metric", False: "as named"}


def _one(unit: str, written: str, custom: str, key: str) -> Sized | None:
    """Return what one of a unit comes to by its size on file."""
    found = size(unit, written, custom)
    return None if found is None else _sized(found, key, unit_reason(unit, written, custom))


def _sized(measure: Measure, key: str, reason: Reason) -> Sized:
    own = (float(measure.size),) * 3
    dense = density_of(key) if key and thing(key).on_file else None
    if measure.kind == "volume":
        grams = (own[0] * dense.number, own[0] * dense.low, own[0] * dense.high) if dense else None
        return Sized(grams, own, measure.name, reason)
    if dense is None or not thing(key).liquid:
        return Sized(own, None, measure.name, reason)
    volume = (own[0] / dense.number, own[0] / dense.high, own[0] / dense.low)
    return Sized(own, volume, measure.name, reason)


def density_of(key: str) -> Value:
    """Return the density a thing has in a measure: a solid lies there with air in it.

    Parameters
    ----------
    key : str
        Id of a substance.

    Returns
    -------
    Value
        Density [g/mL].

    Examples
    --------
    >>> density_of("water").number, density_of("zinc_oxide").number < 5.6
    (0.997, True)
    """
    return density(key) if thing(key).liquid else bulk_density(key)


def _density_reasons(sized: Iterable[Sized], key: str) -> tuple[Reason, ...]:
    both = any(one.g is not None and one.ml is not None for one in sized)
    return (density_of(key).reason,) if key and both else ()


def _rivals(reading: Reading) -> Iterator[Reading]:
    """Give the reading again with each figure another source prints for the same measure."""
    for at, one in enumerate(reading.sized):
        for row in _rival_rows().get(one.name, ()):
            ratio = float(row.size) / float(one.ml[0] if one.ml and row.kind == "volume" else one.g[0])  # type: ignore[index]
            grams, millilitres = ((t[0] * ratio, t[1] * ratio, t[2] * ratio) if t else None for t in (one.g, one.ml))
            says = row.reason(f"{row.name}: {row.as_printed or figure(float(row.size))}, a figure of another source")
            other = Sized(grams, millilitres, row.name, says)
            sized = (*reading.sized[:at], other, *reading.sized[at + 1 :])
            standing = row.rival_standing if row.rival_standing and reading.standing == "likely" else "unlikely"
            yield replace(reading, sized=sized, standing=standing, because=(says, *reading.because))


@cache
def _rival_rows() -> Mapping[str, tuple[Measure, ...]]:
    """Return by the name of a measure the rows of other sources that print another figure for it."""
    found: dict[str, tuple[Measure, ...]] = {}
    for row in rows(Measure):
        own = by_id(Measure).get(row.rival_of)
        if own is not None:
            found[own.name] = (*found.get(own.name, ()), row)
    return found


def place_of_chosen(standings: Sequence[Standing]) -> int | None:
    """Return which of several answers holds: the first likely one, or the only one that is not unlikely.

    Parameters
    ----------
    standings : sequence of str
        Of answers that differ, the surest first.

    Returns
    -------
    int or None
        Its place [1]; None where nothing is chosen.

    Examples
    --------
    >>> place_of_chosen(["likely", "possible"]), place_of_chosen(["possible", "possible"])
    (0, None)
    """
    if not standings:
        return None
    alone = standings[0] != "unlikely" and all(standing == "unlikely" for standing in standings[1:])
    return 0 if standings[0] == "likely" or alone else None
