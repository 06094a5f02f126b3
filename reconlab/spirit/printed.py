"""What the strength printed beside a spirit comes to: every meaning the figure may have had there and then."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from reconlab.errors import InputError, ReconlabError
from reconlab.reasons import Citation, Option, Question, Reason, Standing, Value, in_order
from reconlab.receipts import Setting
from reconlab.spirit.mixtures import SIXTY_F, by_weight, by_weight_from_gravity, specific_gravity
from reconlab.spirit.named import formula_reason, named_strength, nearest_names, spirit_options
from reconlab.spirit.printed_words import (
    DEGREES,
    FIGURE,
    LEADING,
    NO_SCALE,
    PER_CENT,
    SHARE,
    Printed,
    gravity_in,
    plain_words,
    printed_figure,
)
from reconlab.spirit.scales import from_degrees, spirit_scales
from reconlab.tables import Strength, StrengthScale, by_id, rows

PRINTED = "spirit: "  # starts the key of a spirit whose strength is printed: "spirit: 60 o p (uk_over_proof)"
_UNIT = "% w/w"
_ETHANOL = "ethanol"
_ON_THE_CONTINENT = 15.0  # French and German tables are for this temperature [degrees Celsius]
_SAME = 0.3  # readings closer than this are one: scales of two tables, temperatures of two books [% w/w]

_BEFORE_SIKES = re.compile(r"1 (?:to|in) \d+\b.*")
_PROOF_FORMS = ("over proof", "proof")  # their words mean another thing in another time or country


@dataclass(frozen=True, slots=True)
class StrengthReading:
    """One meaning a printed strength may have had."""

    id: str  # of a scale, of a strength on file, or by_volume, by_weight, gravity at a temperature
    label: str
    standing: Standing
    value: Value  # ethanol [% w/w], with half a step of the last digit printed


def strength_readings(text: str, setting: Setting, named: str = "") -> tuple[StrengthReading, ...]:
    """Return every meaning a printed strength of spirit may have had there and then, the surest first.

    Degrees over and under proof, proof, specific gravity, per cents and the degrees of Cartier, Gay-Lussac, Tralles,
    Richter and Baumé are read; degrees without a scale are each of those they fit.

    Parameters
    ----------
    text : str
        The strength as printed, such as ``"60 o.p."``, ``"sp. gr. .838"`` or ``"36 degrees Cartier"``.
    setting : Setting
        When and where the book was printed, and its kind.
    named : str, default ""
        What the page calls the spirit: no French *esprit* was so weak as its degrees would be per cents.

    Returns
    -------
    tuple of StrengthReading
        Ethanol by weight in each [% w/w].

    Raises
    ------
    InputError
        If the words are no strength, or the figure is outside its scale.

    Examples
    --------
    >>> [(each.label, each.standing) for each in strength_readings("95 per cent.", Setting("1890", "England"))]
    [('by volume', 'likely'), ('by weight', 'possible')]
    """
    return _strength_readings(text, setting, named)


@lru_cache(maxsize=512)  # a desk asks the same again at every step
def _strength_readings(text: str, setting: Setting, named: str) -> tuple[StrengthReading, ...]:
    found: list[StrengthReading] = []
    for each in _readings(plain_words(text), text, setting, plain_words(named)):
        near = next((old for old in found if abs(old.value.number - each.value.number) <= _SAME), None)
        if near is None:
            found.append(each)
        else:
            found[found.index(near)] = _joined(near, each)
    order = {option.key: place for place, option in enumerate(in_order(_as_option(each) for each in found))}
    return tuple(sorted(found, key=lambda each: order[each.id]))


def printed_strength(text: str, setting: Setting) -> Value:
    """Return what a printed strength of spirit comes to by weight.

    Parameters
    ----------
    text : str
        The strength as printed.
    setting : Setting
        When and where the book was printed, and its kind.

    Returns
    -------
    Value
        Ethanol by weight as it is read first; the range holds every meaning the figure may well have [% w/w].

    Raises
    ------
    InputError
        If the words are no strength, or the figure is outside its scale.

    Examples
    --------
    >>> print(printed_strength("60 over proof", Setting("1857", "England")))
    87.5 % w/w
    """
    found = strength_readings(text, setting)
    number = found[0].value.number
    held = [each for each in found if each.standing != "unlikely"] or found
    low, high = min(each.value.low for each in held), max(each.value.high for each in held)
    because = tuple(each.value.reason for each in held)
    return Value(number, low, high, _UNIT, Reason(f"{text!r} is {number:.1f} {_UNIT}", (), because))


def strength_question(text: str, setting: Setting, named: str = "") -> Question:
    """Return a printed strength as a question: what this figure meant, there and then.

    Parameters
    ----------
    text : str
        The strength as printed.
    setting : Setting
        When and where the book was printed, and its kind.
    named : str, default ""
        What the page calls the spirit.

    Returns
    -------
    Question
        Each answer's key gives its strength again by `strength_of`.

    Raises
    ------
    InputError
        If the words are no strength, or the figure is outside its scale.

    Examples
    --------
    >>> [option.key for option in strength_question("60 o.p.", Setting("1857", "England")).options]
    ['spirit: 60 o p (uk_over_proof)']
    """
    words = plain_words(text)
    options = (
        Option(
            each.id if each.id in by_id(Strength) else f"{PRINTED}{words} ({each.id})",
            each.standing,
            each.value.reason,
            each.label,
        )
        for each in strength_readings(text, setting, named)
    )
    return Question(f"strength: {words}", f"How strong was spirit of {text.strip(' (),')}?", tuple(options))


def strength_of(key: str) -> Value | None:
    """Return the strength of a spirit by the key of an answer: a strength on file, or one that is printed.

    Parameters
    ----------
    key : str
        Id of a row of ``strengths.csv``, or a key of `strength_question`.

    Returns
    -------
    Value or None
        Ethanol by weight [% w/w]; None where the key is no spirit.

    Examples
    --------
    >>> print(strength_of("spirit: 60 o p (uk_over_proof)"))
    87.5 % w/w
    >>> strength_of("talc") is None
    True
    """
    row = by_id(Strength).get(key)
    if row is not None:
        return named_strength(key) if row.solute == _ETHANOL else None
    return _printed_strength_of(key) if key.startswith(PRINTED) else None


@cache
def _printed_strength_of(key: str) -> Value | None:
    match = re.fullmatch(rf"{PRINTED}(?P<words>.+) \((?P<id>[^()]+)\)", key)
    if match is None:
        return None
    try:
        found = _readings(match["words"], match["words"], None)
        return next((each.value for each in found if each.id == match["id"]), None)
    except ReconlabError:
        return None


def spirit_reference_c(key: str) -> float:
    """Return the temperature a spirit was measured at.

    Parameters
    ----------
    key : str
        Key of an answer.

    Returns
    -------
    float
        That of the source, else 60 degrees Fahrenheit [degrees Celsius].

    Examples
    --------
    >>> spirit_reference_c("trois_six_1877"), round(spirit_reference_c("spirit: 60 o p (uk_over_proof)"), 2)
    (15.0, 15.56)
    """
    row = by_id(Strength).get(key)
    return SIXTY_F if row is None or row.reference_c is None else row.reference_c


def spirit_label(key: str) -> str:
    """Return how a person reads a spirit: its label on file, or its printed strength.

    Parameters
    ----------
    key : str
        Key of an answer.

    Returns
    -------
    str
        Its name.

    Examples
    --------
    >>> spirit_label("spirit: 60 o p (uk_over_proof)"), spirit_label("gin_goddard")
    ('spirit, 60 o p', "gin by a grocer's guide, 47.8 per cent by volume")
    """
    row = by_id(Strength).get(key)
    if row is not None:
        return row.label
    words, _, reading = key.removeprefix(PRINTED).rpartition(" (")
    said = reading.rstrip(")").replace("_", " ")
    return (
        f"spirit, {words}, {said}" if said in ("by volume", "by weight") and said not in words else f"spirit, {words}"
    )


def _as_option(each: StrengthReading) -> Option:
    return Option(each.id, each.standing, each.value.reason, each.label)


def _joined(first: StrengthReading, other: StrengthReading) -> StrengthReading:
    """Let one reading stand for two that hardly differ: its range holds both."""
    one, two = first.value, other.value
    because = replace(one.reason, because=(*one.reason.because, two.reason))
    value = Value(one.number, min(one.low, two.low), max(one.high, two.high), _UNIT, because)
    return replace(first, value=value)


# ---- the words ----------------------------------------------------------------------------------------------


def _readings(words: str, text: str, setting: Setting | None, named: str = "") -> Iterator[StrengthReading]:
    """Yield each meaning of the words beside a name, the preferred first; without a setting, every one on file."""
    where = setting or Setting()
    if _BEFORE_SIKES.fullmatch(words):
        says = "counts gallons of water, as before Sikes's proof; no source on file fixes that proof"
        raise _unclear(text, says, "Give the strength in another way.")
    if figure := gravity_in(words):
        yield from _gravity(printed_figure(figure), text, where)
    elif match := SHARE.fullmatch(words):
        in_volume = match["volume"] or match["volume_before"]
        yield from _share(printed_figure(match["figure"]), match["weight"], in_volume, setting)
    elif found := [row for row in rows(Strength) if words in row.names and row.solute == _ETHANOL]:
        for option in in_order(spirit_options(found, where)):
            yield StrengthReading(option.key, option.label, option.standing, named_strength(option.key))
    elif match := NO_SCALE.fullmatch(words):
        yield from _without_scale(printed_figure(match["figure"]), text, setting, named)
    else:
        try:
            yield from tuple(_on_scales(words, text, setting))
        except InputError as fault:
            name, bare = _name_and_figure(words)
            if bare in ("", words):
                raise
            try:
                yield from tuple(_readings(bare, text, setting, named=name))
            except InputError:
                raise fault from None


def _name_and_figure(words: str) -> tuple[str, str]:
    """Part the name of a spirit from the strength beside it, "rectified spirit" from "56 o p"; empty where none is."""
    names = sorted({name for row in rows(Strength) if row.solute == _ETHANOL for name in row.names}, key=len)
    words = " ".join(re.sub(r",(?!\d)", " ", words).split())
    for name in reversed(names):
        rest = words.removeprefix(f"{name} ").removesuffix(f" {name}").strip(" ,()")
        if rest != words and any(letter.isdigit() for letter in rest):
            bare = LEADING.sub("", rest)
            proof = name.startswith("proof") and NO_SCALE.fullmatch(bare)  # "proof spirit, 100 degrees"
            return name, f"{bare} proof" if proof else bare
    return "", ""


def _reading(key: str, label: str, standing: Standing, reason: Reason, figures: tuple[float, ...]) -> StrengthReading:
    value = Value(figures[0], min(figures), max(figures), _UNIT, reason)
    return StrengthReading(key, label, standing, value)


def _gravity(printed: Printed, text: str, setting: Setting) -> Iterator[StrengthReading]:
    thousands = 100 <= printed.value < 2000  # noqa: PLR2004 - "838" is printed for 0.838
    unit = 1000 if thousands else 1
    figure = Printed(printed.value / unit, printed.half / unit)
    temperatures = _temperatures(setting)
    for temperature in temperatures:
        says = f"specific gravity {figure.value:.4g} at {temperature:.1f} C, if it is ethanol and water alone"
        try:
            value = float(by_weight_from_gravity(figure.value, temperature))
        except InputError as fault:
            raise _unclear(text, "is no specific gravity of spirit and water", fault.remedy) from fault
        lightest = float(specific_gravity(100, temperature))
        ends = (float(by_weight_from_gravity(min(max(end, lightest), 1), temperature)) for end in figure.ends[1:])
        standing: Standing = "likely" if len(temperatures) == 1 else "possible"
        label = f"specific gravity at {temperature:.1f} C"
        reason = Reason(says, (), (formula_reason(),))
        yield _reading(f"gravity {temperature:.1f} C", label, standing, reason, (value, *ends))


def _country(setting: Setting) -> str:
    return setting.region.split("-")[0]  # Berlin is DE-PR


def _temperatures(setting: Setting) -> tuple[float, ...]:
    """Return the temperatures a gravity may be printed for, spirit and water both."""
    if not setting.region:
        return SIXTY_F, _ON_THE_CONTINENT, 20.0, 25.0
    if _country(setting) in ("FR", "DE"):
        return (_ON_THE_CONTINENT,)
    later = by_id(Strength)["alcohol_usp_1900"].from_year or 0  # from then the U.S.P. gives 25 C too
    return (SIXTY_F, 25.0) if setting.region == "US" and (not setting.span or setting.span[1] >= later) else (SIXTY_F,)


def _share(
    printed: Printed, weight: str | None, volume: str | None, setting: Setting | None
) -> Iterator[StrengthReading]:
    said = f"{printed.value:g} per cent"
    official = setting is not None and not weight and not volume and _counts_by_volume(setting)
    by_law = setting is not None and not volume and _counts_by_weight(setting)
    unsaid = "" if weight or volume or official else ", which the page does not say"
    if not weight:
        because = _official(f"{said} by volume, as the B.P. counts") if official else None
        usual = Citation("common_practice", "spirit was bought and sold by measure")
        reason = because or Reason(f"{said} by volume{unsaid}", () if volume else (usual,), (formula_reason(),))
        figures = tuple(float(by_weight(_clipped(end), SIXTY_F)) for end in printed.ends)
        yield _reading("by_volume", "by volume", "possible" if by_law else "likely", reason, figures)
    if not volume and not official:
        scale = by_id(StrengthScale)["tralles"]
        legal = scale.reason(f"{said} by weight, as German law counts from 1888") if by_law else None
        figures = tuple(_clipped(end) for end in printed.ends)
        plainly = legal or Reason(f"{said} by weight{unsaid}")
        yield _reading("by_weight", "by weight", "likely" if weight else "possible", plainly, figures)


def _official(says: str) -> Reason:
    return by_id(Strength)["rectified_spirit"].reason(says, formula_reason())


def _counts_by_volume(setting: Setting) -> bool:
    """Return whether the book follows the pharmacopoeia that counts spirit by volume."""
    row = by_id(Strength)["rectified_spirit"]
    after = setting.span is not None and setting.span[0] > (row.from_year or 0)
    return setting.book in ("pharmacopoeia", "dispensing") and setting.region in row.regions and after


def _counts_by_weight(setting: Setting) -> bool:
    """Return whether the law of the place had put per cents by weight in the place of Tralles."""
    row = by_id(StrengthScale)["tralles"]
    return _country(setting) in row.regions and setting.span is not None and setting.span[1] >= (row.to_year or 0)


def _clipped(percent: float) -> float:
    if percent > 100 + 0.5:  # half a digit may reach over the end
        raise InputError(f"{percent:g} per cent is no strength", "strength", "Check the figure and its scale.")
    return min(max(percent, 0.0), 100.0)


def _on_scales(words: str, text: str, setting: Setting | None) -> Iterator[StrengthReading]:
    found = []
    for row in spirit_scales():
        for names, sign in ((row.said, 1), (row.said_below, -1)):
            match = names and _scale_pattern(names).fullmatch(words)
            if match:
                printed = printed_figure(match["figure"] or match["figure_after"])
                found.append((row, Printed(sign * printed.value, printed.half)))
    if not found:
        form = 'Write it as "60 o.p.", "sp. gr. .838", "90 per cent. by volume" or "36 degrees Cartier".'
        raise _unclear(text, "is no strength of spirit", f"{form}{nearest_names(words)}")
    here = [(row, figure) for row, figure in found if setting is None or _holds(row, setting)]
    abroad = [(row, figure) for row, figure in found if setting is not None and _holds_abroad(row, setting)]
    here, abroad = (here, abroad) if here else (abroad, [])
    if not here and found[0][0].form in _PROOF_FORMS:
        raise _unclear(text, f"has no meaning on file for {setting}", "Say what spirit is meant, or its strength.")
    kept = sorted(here or found, key=lambda each: not each[0].regions)  # what is bound to a place comes first
    inside = [(row, figure) for row, figure in kept if _inside(row, figure)]
    if not inside:
        row = kept[0][0]
        raise _unclear(text, f"is outside {row.low:g} to {row.high:g} {row.label}", "Check the figure and its scale.")
    shared = re.search(PER_CENT, words) is not None and inside[0][0].form == "proof"
    if shared:  # "90 per cent proof" is loosely said of a spirit of 90 per cent too
        yield _proof_loosely_said(inside[0][1])
    bound = [row for row, _ in inside if row.regions and setting is not None and setting.region and not shared]
    known = not shared and (bool(bound) or len({row.scale for row, _ in inside}) == len(inside) == 1)
    known = known and any(setting is None or _holds(row, setting) for row, _ in inside)
    for place, (row, figure) in enumerate(inside):
        yield _by_degrees(figure, row, "likely" if known and place == 0 else "possible")
    # A receipt may be taken over from a book of another country.
    yield from (_by_degrees(figure, row, "unlikely") for row, figure in abroad if _inside(row, figure))


def _proof_loosely_said(printed: Printed) -> StrengthReading:
    figures = tuple(float(by_weight(_clipped(end), SIXTY_F)) for end in printed.ends)
    loosely = Reason(f"{printed.value:g} per cent by volume, proof loosely said", (), (formula_reason(),))
    return _reading("by_volume", "by volume", "possible", loosely, figures)


def _holds(row: StrengthScale, setting: Setting) -> bool:
    return setting.within(row.regions, row.from_year, row.to_year)


def _holds_abroad(row: StrengthScale, setting: Setting) -> bool:
    """Return whether a proof was fixed by law at that time, but in another country."""
    fixed = row.form in _PROOF_FORMS and not _holds(row, setting)
    return fixed and setting.within((), row.from_year, row.to_year)


def _without_scale(printed: Printed, text: str, setting: Setting | None, named: str) -> Iterator[StrengthReading]:
    """Yield every scale of spirits that bare degrees fit: the scale of the country first, else the centesimal one."""
    scales = [row for row in spirit_scales() if row.said and row.form != "over proof" and _inside(row, printed)]
    if not scales:
        raise _unclear(text, "fits no scale of spirits", "Check the figure, or add its scale.")
    known = setting is not None and bool(setting.region) and setting.span is not None
    # In English books a bare degree may be any hydrometer's; French and German ones had one of their own.
    here = [row for row in scales if known and setting and _holds(row, setting) and _country(setting) in ("FR", "DE")]
    scales = [row for row in scales if not here or row in here or row.form not in ("proof", "by weight")]
    own = [row for row in here if row.regions and row.form != "lighter" and row.scale != "Richter"]
    first = own[0] if len(own) == 1 else None
    by_table = next((row for row in scales if row.form == "table"), None)
    if known and setting and _country(setting) == "FR" and by_table and _too_weak(printed, named):
        old = _holds(by_table, setting)
        # Where both scales stood, few per cents are Cartier's; no esprit of any year was sold so weak.
        first = by_table if old or _is_strong(named) else first
    forms = ("table", "by volume")
    order = sorted(scales, key=lambda row: (row is not first, row not in own, *(row.form != form for form in forms)))
    for row in order:
        standing: Standing = "likely" if row is first else "possible" if not own or row in own else "unlikely"
        try:
            yield _by_degrees(printed, row, standing)
        except InputError:  # lighter than any spirit
            continue


def _too_weak(printed: Printed, named: str) -> bool:
    """Return whether so few per cents were no spirit that was sold: below eau-de-vie, of an esprit below that too."""
    row = by_id(Strength)["eau_de_vie_1877"]  # the tariff calls stronger spirits esprits
    return printed.value < float((row.high if _is_strong(named) else row.low) or 0)


def _is_strong(named: str) -> bool:
    return named.startswith(("esprit", "alcool", "trois", "3/6"))


@cache
def _scale_pattern(names: tuple[str, ...]) -> re.Pattern[str]:
    """Return a pattern of a figure with the words of a scale after it, or before it."""
    words = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    after = FIGURE.replace("<figure>", "<figure_after>")
    joined = rf"(?:{DEGREES}|{PER_CENT})\s*(?:(?:of|de|by|nach)\s)?\s*"
    return re.compile(rf"{FIGURE}{joined}(?:{words})(?:'s)?|(?:{words})\s*{after}{DEGREES}")


def _inside(row: StrengthScale, printed: Printed) -> bool:
    return (row.low is None or row.low <= printed.value) and (row.high is None or printed.value <= row.high)


def _by_degrees(printed: Printed, row: StrengthScale, standing: Standing) -> StrengthReading:
    low = printed.value if row.low is None else row.low
    high = printed.value if row.high is None else row.high
    figures = tuple(float(from_degrees(min(max(end, low), high), row.id)) for end in printed.ends)
    reason = row.reason(f"{printed.value:g} {row.label}: {row.as_printed}", formula_reason())
    return _reading(row.id, row.label, standing, reason, figures)


def _unclear(text: str, what: str, remedy: str) -> InputError:
    return InputError(f"{text!r} {what}", "strength", remedy)
