"""How strong was a liquid that is no spirit: ammonia, an acid, a lye? By name, degrees, gravity or per cents."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace

from reconlab.display import Card, Shown, Table
from reconlab.errors import InputError
from reconlab.materia import density, identify, properties, thing
from reconlab.materia.made import made_of
from reconlab.reasons import Option, Reason, Standing, Value, figure, in_order
from reconlab.receipts import Setting
from reconlab.spirit import (
    OF_GRAVITY,
    SIXTY_F,
    SPIRIT,
    content_of,
    gravity_from_degrees,
    gravity_in,
    has_table,
    named_gravity,
    percents_from_gravity,
    printed_gravity,
    solute_of,
    solution_gravity,
    spirit_density,
    spirit_options,
    strength_readings,
    without_stops,
)
from reconlab.tables import SolutionDensity, Strength, StrengthScale, rows

_NUMBER = r"(?P<number>\d+(?:[.,]\d+)?|[.,]\d+)"
_BARE_GRAVITY = re.compile(r"(?:^|(?<=\s))(?P<number>[01]?[.,]\d{2,5})(?!\d)")
_PER_CENT = re.compile(rf"{_NUMBER}\s*(?:%|per ?cents?\b|p ?c(?:t|ent)?\b|proz(?:ent)?\b|procent\b|pour cent\b)")
_DEGREES = (
    r"\s*(?:[\N{DEGREE SIGN}\N{MASCULINE ORDINAL INDICATOR}]|deg(?:r[eé]{1,2}s?)?\b|grade?\b)?\s*(?:(?:de|nach)\s)?"
)
_BARE_DEGREES = re.compile(
    _NUMBER + r"\s*(?:[\N{DEGREE SIGN}\N{MASCULINE ORDINAL INDICATOR}]|deg(?:r[eé]{1,2}s?)?\b|grade?\b)"
)
_BESIDE_NAME = re.compile(
    r"^(?:of|de|du|d'|a|à|von|at|the|,)\s+|\s+(?:of|de|a|à|von|zu|at|the|marked|,)$|^[ ,]+|[ ,]+$"
)
_BY_VOLUME = re.compile(r"\bby (?:vol|meas)|\bv/v\b|\bw/v\b|\bvol(?:ume)?\b", re.IGNORECASE)
_WATER_LIKE = 1.0  # a liquid lighter than water is counted on the light scale
_SOLUTIONS = ("acid", "alkali")  # classes whose liquids are solids or acids in water
_UNIT = "% w/w"
_PLAIN_SOLUTION = "solution"  # kind of a preparation that is one thing in water
_ANY_DEGREES = "degrees"  # of a hydrometer the page does not name


@dataclass(frozen=True, slots=True)
class LiquidMeaning:
    """One meaning of a liquid's strength; what its source does not give is None."""

    label: str
    standing: Standing
    gravity: float | None  # specific gravity at the temperature of its source
    value: Value | None  # its substance by weight [% w/w]
    reason: Reason

    @property
    def density(self) -> float | None:
        """Density, taking the gravity to be that at 60 degrees Fahrenheit [g/mL]."""
        return None if self.gravity is None else self.gravity * float(spirit_density(0.0, SIXTY_F))

    @property
    def percent_v_v(self) -> None:
        """Nothing: by volume only spirits are counted."""
        return None


@dataclass(frozen=True, repr=False)
class LiquidAnswer(Shown):
    """A liquid's strength in each meaning it may have had there and then."""

    text: str
    of: str
    setting: Setting
    meanings: tuple[LiquidMeaning, ...]

    @property
    def chosen(self) -> LiquidMeaning | None:
        """The meaning that holds, or None where no source prefers one."""
        first = self.meanings[0]
        alone = len(self.meanings) == 1 and first.standing != "unlikely"
        return first if alone or first.standing == "likely" else None

    def card(self) -> Card:
        """Return the answer as a card."""
        heads = ("read as", "how sure", _UNIT, "sp. gr.", "density, g/mL")
        table = tuple(
            (
                each.label,
                each.standing,
                str(each.value).replace(f" {_UNIT}", "", 1) if each.value else "",
                "" if each.gravity is None else f"{each.gravity:.4g}",
                "" if each.density is None else figure(each.density),
            )
            for each in self.meanings
        )
        notes = [f"Read as {self.of}."] if self.of else []
        if not any(each.value for each in self.meanings):
            notes.append("No table of its solutions is on file, so only its weight is told, not what it held.")
        if self.chosen is None:
            notes.append(none_chosen([each.standing for each in self.meanings], self.setting))
        notes.append("Acids, ammonia and lyes burn skin and eyes: local rules and licensed practice come first.")
        return Card(
            f"How strong is {self.text}?",
            tuple(notes),
            (Table("", heads, table),),
            chains=tuple(each.reason for each in self.meanings),
        )


def none_chosen(standings: Iterable[Standing], setting: Setting) -> str:
    """Return what a card says where no meaning of a strength is chosen.

    Parameters
    ----------
    standings : iterable of str
        How sure each meaning is.
    setting : Setting
        When, where and in what kind of book.

    Returns
    -------
    str
        One sentence.

    Examples
    --------
    >>> none_chosen(["unlikely"], Setting("1750", "London"))
    'No strength of its own time and place is on file for London, 1750; those below are of elsewhere or later.'
    """
    if set(standings) == {"unlikely"}:
        return f"No strength of its own time and place is on file for {setting}; those below are of elsewhere or later."
    return f"No source on file prefers a meaning for {setting}; all stand below."


@dataclass(frozen=True, slots=True)
class _Said:
    """A figure found in words, how it counts, and what stands beside it."""

    number: float
    counts: str  # "gravity", "share", or the scale's name
    beside: str


def liquid_strength(text: str, setting: Setting, of: str = "") -> LiquidAnswer | None:
    """Return how strong a liquid other than a spirit was.

    Parameters
    ----------
    text : str
        Such as ``"25° Twaddell"``, ``"ammonia of 26° Baumé"``, ``"liquor ammoniae fortior"`` or ``".880"``.
    setting : Setting
        When, where and in what kind of book.
    of : str
        The liquid, where the words do not name it.

    Returns
    -------
    LiquidAnswer or None
        None where the words are not the strength of such a liquid; a spirit's is `strength`'s to tell.

    Raises
    ------
    InputError
        If a figure is outside its scale.

    References
    ----------
    .. [1] Beringer, A Text-Book of Assaying, Baumé and Twaddell. Key ``beringer_assaying``.
    .. [2] Roberts and Etherington, Baumé. Key ``roberts_etherington_baume``.
    .. [3] As `reconlab.spirit.solution_gravity`. Key ``aqua_ammonia_conversions``.

    Examples
    --------
    >>> round(liquid_strength("25° Twaddell", Setting("1890", "London")).chosen.gravity, 3)
    1.125
    >>> found = liquid_strength("liquor ammoniae fortior", Setting("1885", "London")).chosen
    >>> found.value.number, round(found.gravity, 3)
    (32.5, 0.891)
    """
    if not of.strip() and gravity_in(without_stops(text)):
        return None  # a gravity of nothing named is a spirit's
    said = _figure_in(without_stops(text))
    name = of.strip() or (said.beside if said else text)
    keys = _called(name, setting) or _meant(name, setting)
    solutes = {_dissolved(option.key) for option in keys}
    if SPIRIT in solutes:
        return None
    if said is None:
        found = [_by_name(option) for option in keys if solute_of(option.key)]
        return LiquidAnswer(text, name, setting, tuple(found)) if found and len(found) == len(keys) else None
    if not keys and said.counts == _ANY_DEGREES:
        return None
    if not keys and said.counts != "Twaddell":
        unnamed = not name or said.counts == "share"  # of what nobody knows, per cents tell nothing
        if unnamed or (not of.strip() and _of_spirit(text, setting)):
            return None  # "85 per cent by volume", "0,900 spec. Gewicht": the words beside the figure name no liquid
    if said.counts == "share" and keys and _BY_VOLUME.search(text):
        raise InputError(
            f"no table tells what a share of {name} by volume weighs",
            "strength",
            "Give its gravity or its share by weight.",
        )
    solute = next(iter(solutes)) if len(solutes) == 1 else ""
    weights = set(map(_is_lighter, solutes))
    lighter = weights.pop() if len(weights) == 1 else None
    found = [each for one in _readings(said, setting, lighter=lighter) for each in _with_content(one, solute)]
    return LiquidAnswer(text, name, setting, tuple(found)) if found else None


def _of_spirit(text: str, setting: Setting) -> bool:
    try:
        return bool(strength_readings(text, setting))
    except InputError:
        return False


def _meant(name: str, setting: Setting) -> tuple[Option, ...]:
    question = identify(name, setting) if name else None
    return question.options if question else ()


def _called(name: str, setting: Setting) -> tuple[Option, ...]:
    """Return the solutions the table of strengths knows by a name, whatever else it may be the name of."""
    words = without_stops(name)
    found = [row for row in rows(Strength) if words in row.names and row.solute != SPIRIT]
    return in_order(spirit_options(found, setting))


def _dissolved(key: str) -> str:
    """Return what a thing is a solution of, also of one whose formula is not on file; else itself."""
    made = made_of(key)
    plain = made is not None and made.kind.kind == _PLAIN_SOLUTION and not made.making and len(made.things) == 1
    alone = made.things[0].id if made and plain else ""
    return solute_of(key) or (alone if has_table(alone) else key)


def _by_name(option: Option) -> LiquidMeaning:
    key = option.key
    value, solute = content_of(key), solute_of(key)
    assert value is not None  # noqa: S101 - those without one were left out
    gravity = printed_gravity(key)  # its own book knows better than a table of another
    if gravity is None and has_table(solute):
        with suppress(InputError):  # outside its table
            gravity = float(solution_gravity(solute, value.number))
    reason = option.reason if option.standing == "unlikely" else value.reason  # why it is, and its figure below
    return LiquidMeaning(thing(key).name, option.standing, gravity, value, reason)


def _figure_in(words: str) -> _Said | None:
    """Find the one figure of strength in words."""
    for scale, names in _hydrometers().items():
        said = "|".join(map(re.escape, sorted(names, key=len, reverse=True)))
        pattern = rf"{_NUMBER}{_DEGREES}(?:{said})(?!\w)|(?<!\w)(?:{said})\s*{_NUMBER.replace('number', 'after')}"
        if match := re.search(pattern, words):
            return _Said(_number(match["number"] or match["after"]), scale, _beside(words, match.span()))
    if gravity := named_gravity(words):
        return _Said(gravity.value, "gravity", _beside(words, gravity.place))
    for figure_of, counts in ((_PER_CENT, "share"), (_BARE_GRAVITY, "gravity"), (_BARE_DEGREES, _ANY_DEGREES)):
        if match := figure_of.search(words):
            return _Said(_number(match["number"]), counts, _beside(words, match.span()))
    return None


def _hydrometers() -> dict[str, tuple[str, ...]]:
    """Return how each hydrometer of any liquid is called: Baumé's two scales bear one name."""
    found: dict[str, tuple[str, ...]] = {}
    for row in rows(StrengthScale):
        if row.form in OF_GRAVITY and row.said:
            found[row.scale.split()[0]] = row.said
    return found


def _number(printed: str) -> float:
    return float(printed.replace(",", "."))


def _beside(words: str, place: tuple[int, int]) -> str:
    rest = f"{words[: place[0]]} {words[place[1] :]}".strip(" ,()")
    while (shorter := _BESIDE_NAME.sub("", rest).strip(" ,()")) != rest:
        rest = shorter
    return rest


def _readings(said: _Said, setting: Setting, *, lighter: bool | None) -> Iterator[LiquidMeaning]:
    if said.counts == "share":
        value = Value(said.number, said.number, said.number, _UNIT, Reason(f"{said.number:g} per cent by weight"))
        yield LiquidMeaning("per cent by weight", "likely", None, value, value.reason)
    elif said.counts == "gravity":
        reason = Reason(f"specific gravity {said.number:g}, as printed")
        yield LiquidMeaning("specific gravity", "likely", said.number, None, reason)
    else:
        yield from _on_hydrometer(said, setting, lighter=lighter)


def _on_hydrometer(said: _Said, setting: Setting, *, lighter: bool | None) -> Iterator[LiquidMeaning]:
    meant = _hydrometers_meant(said, setting)
    scales = [row for row in rows(StrengthScale) if row.form in OF_GRAVITY and row.scale.split()[0] in meant]
    scales = [row for row in scales if lighter is None or (row.form == "lighter") is lighter]
    own = [row for row in scales if row.regions and setting.region and _holds(row, setting)]
    likely = own[0] if own and (lighter is not None or len(scales) == 1) else scales[0] if len(scales) == 1 else None
    fault: InputError | None = None
    for row in sorted(scales, key=lambda row: (row is not likely, row not in own, row.form == "lighter")):
        try:
            gravity = float(gravity_from_degrees(said.number, row.id))
        except InputError as outside:
            fault = outside
            continue
        fault = None
        sure = row is likely and len(meant) == 1
        standing: Standing = "likely" if sure else "possible" if row in own or not own else "unlikely"
        yield LiquidMeaning(
            row.label, standing, gravity, None, row.reason(f"{said.number:g} {row.label}: {row.as_printed}")
        )
    if fault:
        raise fault


def _hydrometers_meant(said: _Said, setting: Setting) -> tuple[str, ...]:
    """Return whose degrees a figure counts: bare ones are Baumé's, and where Twaddell's were used his too."""
    if said.counts != _ANY_DEGREES:
        return (said.counts,)
    others = {row.scale for row in rows(StrengthScale) if row.form == "fivefold" and _holds(row, setting)}
    return ("Baumé", *sorted(others))


def _holds(row: StrengthScale, setting: Setting) -> bool:
    return setting.within(row.regions, row.from_year, row.to_year)


def _is_lighter(solute: str) -> bool | None:
    """Tell whether a liquid is lighter than water, by the table of its solutions, its density, or as it is a solid."""
    if has_table(solute):
        return next(row.sp_gr for row in rows(SolutionDensity) if row.substance == solute) < _WATER_LIKE
    if properties(solute, "density") and thing(solute).liquid:
        return density(solute).number < _WATER_LIKE
    dissolved = not thing(solute).liquid or thing(solute).class_ in _SOLUTIONS
    return False if dissolved else None  # of what is dissolved, only gases and spirits make water lighter


def _with_content(one: LiquidMeaning, solute: str) -> Iterator[LiquidMeaning]:
    """Add what the table of solutions tells: the substance of a gravity, the gravity of a share."""
    if not has_table(solute):
        yield one
    elif one.value is not None:
        yield replace(one, gravity=float(solution_gravity(solute, one.value.number)))
    else:
        try:
            percents = percents_from_gravity(solute, one.gravity or 0.0)
        except InputError:
            yield one
            return
        sure: Standing = one.standing if len(percents) == 1 or one.standing != "likely" else "possible"
        for percent in percents:
            says = f"{percent:.1f} {_UNIT} by the table of its solutions"
            table = next(row for row in rows(SolutionDensity) if row.substance == solute).reason(says, one.reason)
            yield replace(one, standing=sure, value=Value(percent, percent, percent, _UNIT, table), reason=table)
