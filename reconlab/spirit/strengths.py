"""What a name of spirit meant, there and then, and what the strength printed beside it comes to."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache

from reconlab.errors import InputError, UnknownNameError, nearest
from reconlab.reasons import Option, Question, Reason, Value, in_order
from reconlab.receipts import Setting
from reconlab.spirit.mixtures import SIXTY_F, by_weight, by_weight_from_gravity, specific_gravity
from reconlab.spirit.scales import from_degrees, scale_row
from reconlab.tables import DensityCoefficient, Strength, StrengthScale, by_id, rows

_UNIT = "% w/w"
_ON_THE_CONTINENT = 15.0  # French and German tables are for this temperature [degrees Celsius]


# ---- names --------------------------------------------------------------------------------------------------


def spirit_question(name: str, setting: Setting) -> Question:
    """Return how strong a spirit of this name was, there and then.

    Parameters
    ----------
    name : str
        Name as printed, such as ``"Rectified spirit"`` or ``"trois-six"``.
    setting : Setting
        When and where the book was printed, and its kind.

    Returns
    -------
    Question
        Every strength on file is an answer, by its id; none is likely where year or place are not known.
        `named_strength` gives the figure of an answer.

    Raises
    ------
    UnknownNameError
        If no strength of that name is on file.

    Examples
    --------
    >>> spirit_question("Rectified spirit", Setting("1911", "England")).chosen.key
    'rectified_spirit_bp_1898'
    """
    wanted = _folded(name)
    found = [row for row in rows(Strength) if wanted in row.names]
    if not found:
        hint = nearest(wanted, {each for row in rows(Strength) for each in row.names})
        remedy = f"Give its strength, as printed, or add a row with its source to your own tables.{hint}"
        raise UnknownNameError(f"no strength of {name!r} is on file", "spirit", remedy)
    known = setting.span is not None and bool(setting.region)
    # Where a source speaks for this year and place, a strength of elsewhere is no answer.
    here = [row for row in found if known and _speaks_for(row, setting)]
    options = [_option(row, setting, known=known, here=bool(here)) for row in here or found]
    return Question(f"spirit: {wanted}", f"How strong was {name}?", in_order(options))


def _option(row: Strength, setting: Setting, *, known: bool, here: bool) -> Option:
    because = (named_strength(row.id).reason,)
    if not here:
        missing = "no source on file speaks for this year and place" if known else "year or place is not given"
        return Option(row.id, "possible", Reason(f"{row.label}: {missing}", (), because), row.label)
    says = row.reason(f"{row.label}, {row.standing} for {setting}: {row.because}", *because)
    return Option(row.id, row.standing, says, row.label)


def _speaks_for(row: Strength, setting: Setting) -> bool:
    of_this_kind = not row.books or not setting.book or setting.book in row.books
    return of_this_kind and setting.within(row.regions, row.from_year, row.to_year)


def named_strength(answer: str) -> Value:
    """Return the strength by weight of one answer to `spirit_question`.

    Parameters
    ----------
    answer : str
        Key of the answer: the id of a row of ``strengths.csv``.

    Returns
    -------
    Value
        Ethanol by weight, with its range [% w/w].

    Raises
    ------
    UnknownNameError
        If there is no such row.

    Examples
    --------
    >>> print(named_strength("rectified_spirit_bp_1885"))
    84 % w/w
    """
    row = by_id(Strength).get(answer)
    if row is None:
        hint = nearest(answer, by_id(Strength))
        raise UnknownNameError(f"no spirit {answer!r} is on file", "strengths.csv", f"Ask spirit_question first.{hint}")
    turn, chain = _turn(row.unit, row.reference_c)
    ends = [turn(figure) for figure in (row.low, row.value, row.high) if figure is not None]
    says = f"{row.label}: {row.as_printed or 'no page was read'}, {turn(row.value):.1f} {_UNIT}"
    return Value(turn(row.value), min(ends), max(ends), _UNIT, row.reason(says, *chain))


def _turn(unit: str, reference_c: float | None) -> tuple[Callable[[float], float], tuple[Reason, ...]]:
    """Return how figures of a unit become % w/w, and on what that rests."""
    temperature = SIXTY_F if reference_c is None else reference_c
    turns: dict[str, tuple[Callable[[float], float], tuple[Reason, ...]]] = {
        "percent_w_w": (float, ()),
        "percent_v_v": (lambda figure: float(by_weight(figure, temperature)), (_formula(),)),
        "sp_gr": (lambda figure: float(by_weight_from_gravity(figure, temperature)), (_formula(),)),
        "over_proof": _scale("uk_over_proof"),
        "cartier": _scale("cartier"),
    }
    return turns[unit]


def _scale(scale: str) -> tuple[Callable[[float], float], tuple[Reason, ...]]:
    row = scale_row(scale)
    return lambda figure: float(from_degrees(figure, scale)), (row.reason(f"{row.label}: {row.as_printed}"), _formula())


def _formula() -> Reason:
    return rows(DensityCoefficient)[0].reason("density of ethanol and water by the international formula")


def _folded(name: str) -> str:
    return " ".join(name.lower().replace(".", " ").replace("\N{RIGHT SINGLE QUOTATION MARK}", "'").split())


# ---- printed strengths --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Printed:
    """A printed figure and how far it may lie off: half a step of its last digit."""

    value: float
    half: float

    @property
    def ends(self) -> tuple[float, float, float]:
        return self.value, self.value - self.half, self.value + self.half


_FRACTIONS = "\N{VULGAR FRACTION ONE QUARTER}\N{VULGAR FRACTION ONE HALF}\N{VULGAR FRACTION THREE QUARTERS}"
_FIGURE = rf"(?P<figure>\d+(?:[.,]\d+)?\s?[{_FRACTIONS}]?|[.,]\d+|[{_FRACTIONS}])"
_DEGREES = r"\s*(?:[\N{DEGREE SIGN}\N{MASCULINE ORDINAL INDICATOR}]|deg(?:r[eé]{1,2}s?)?\b|grade?\b)?"
_PER_CENT = r"\s*(?:%|per ?cents?\b|p ?c\b|pour cent\b|proz(?:ent)?\b)"
_GRAVITY = re.compile(rf"(?:sp(?:ec(?:ific)?)? ?gr(?:av(?:ity)?)?|s ?g|density)\s*(?:of|=|:)?\s*{_FIGURE}")
_BARE_GRAVITY = re.compile(r"(?P<figure>0?[.,]\d{3,5})")
_WEIGHT, _VOLUME = r"(?P<weight>by weight|w/w|wt)", r"(?P<volume>by volume|by measure|v/v|vol(?:ume)?)"
_SHARE = re.compile(rf"{_FIGURE}{_PER_CENT}\s*,?\s*\(?(?:{_WEIGHT}|{_VOLUME})?\)?")
_NO_SCALE = re.compile(rf"{_FIGURE}{_DEGREES}")
_BEFORE_SIKES = re.compile(r"1 (?:to|in) \d+\b.*")
_PROOF_FORMS = ("over proof", "proof")  # their words mean another thing in another time or country


def strength(text: str, setting: Setting) -> Value:
    """Return what a printed strength of spirit comes to by weight.

    Degrees over and under proof, proof, specific gravity, per cents and the degrees of Cartier, Gay-Lussac, Tralles,
    Richter and Baumé are read. The range holds half a step of the last printed digit, and every meaning the figure
    may have there and then: a per cent is by volume or by weight where the page and the time do not say, a British
    proof is 57.10 or 57.06 per cent by volume.

    Parameters
    ----------
    text : str
        The strength as printed, such as ``"60 o.p."``, ``"sp. gr. .838"`` or ``"36 degrees Cartier"``.
    setting : Setting
        When and where the book was printed, and its kind.

    Returns
    -------
    Value
        Ethanol by weight, with its range and its chain [% w/w].

    Raises
    ------
    InputError
        If the words are no strength, the figure is outside its scale, or the page does not say whose proof or whose
        degrees they are.

    Examples
    --------
    >>> print(strength("60 over proof", Setting("1857", "England")))
    87.5 % w/w
    """
    words = _without_stops(text)
    readings = list(_readings(words, text, setting))
    number = readings[0][1][0]
    ends = [end for _, ends in readings for end in ends]
    because = tuple(reason for reason, _ in readings)
    return Value(number, min(ends), max(ends), _UNIT, Reason(f"{text!r} is {number:.1f} {_UNIT}", (), because))


_Reading = tuple[Reason, tuple[float, ...]]


def _without_stops(text: str) -> str:
    """Return the words in one form: a stop stays only before a digit."""
    small = unicodedata.normalize("NFC", text).lower().replace("\N{MIDDLE DOT}", ".")
    return " ".join(re.sub(r"\.(?!\d)", " ", small).split()).strip(" ,;()")


def _readings(words: str, text: str, setting: Setting) -> Iterator[_Reading]:
    """Yield each meaning of the words, the first preferred, with its figure first and then its ends."""
    if _BEFORE_SIKES.fullmatch(words):
        says = "counts gallons of water, as before Sikes's proof; no source on file fixes that proof"
        raise _unclear(text, says, "Give the strength in another way.")
    if match := _GRAVITY.fullmatch(words) or _BARE_GRAVITY.fullmatch(words):
        yield from _gravity(_printed(match["figure"]), text, setting)
    elif match := _SHARE.fullmatch(words):
        yield from _share(_printed(match["figure"]), match["weight"], match["volume"], setting)
    elif any(words in row.names for row in rows(Strength)):
        answer = spirit_question(words, setting).chosen
        if answer is None:
            raise _unclear(text, "has more than one strength on file", "Give year and place, or the strength itself.")
        yield _named(answer.key)
    else:
        yield from _on_scales(words, text, setting)


def _gravity(printed: _Printed, text: str, setting: Setting) -> Iterator[_Reading]:
    thousands = 100 <= printed.value < 2000  # noqa: PLR2004 - "838" is printed for 0.838
    unit = 1000 if thousands else 1
    figure = _Printed(printed.value / unit, printed.half / unit)
    for temperature in _temperatures(setting):
        says = f"specific gravity {figure.value:.4g} at {temperature:.1f} C, if it is ethanol and water alone"
        try:
            value = float(by_weight_from_gravity(figure.value, temperature))
        except InputError as fault:
            raise _unclear(text, "is no specific gravity of spirit and water", fault.remedy) from fault
        lightest = float(specific_gravity(100, temperature))
        ends = [float(by_weight_from_gravity(min(max(end, lightest), 1), temperature)) for end in figure.ends[1:]]
        yield Reason(says, (), (_formula(),)), (value, *ends)


def _temperatures(setting: Setting) -> tuple[float, ...]:
    """Return the temperatures a gravity may be printed for, spirit and water both."""
    if not setting.region:
        return SIXTY_F, _ON_THE_CONTINENT, 20.0
    later = by_id(Strength)["alcohol_usp_1900"].from_year or 0  # from then the U.S.P. gives 25 C too
    return (SIXTY_F, 25.0) if setting.region == "US" and (not setting.span or setting.span[1] >= later) else (SIXTY_F,)


def _share(printed: _Printed, weight: str | None, volume: str | None, setting: Setting) -> Iterator[_Reading]:
    official = not weight and not volume and _counts_by_volume(setting)
    unsaid = "" if weight or volume or official else ", which the page does not say"
    if not weight:
        says = f"{printed.value:g} per cent by volume{unsaid}"
        bp_1898 = by_id(Strength)["rectified_spirit_bp_1898"]
        reason = (
            bp_1898.reason(f"{says}, as the B.P. counts", _formula()) if official else Reason(says, (), (_formula(),))
        )
        yield reason, tuple(float(by_weight(_clipped(end), SIXTY_F)) for end in printed.ends)
    if not volume and not official:
        yield Reason(f"{printed.value:g} per cent by weight{unsaid}"), tuple(_clipped(end) for end in printed.ends)


def _counts_by_volume(setting: Setting) -> bool:
    """Return whether the book follows the pharmacopoeia that counts spirit by volume."""
    row = by_id(Strength)["rectified_spirit_bp_1898"]
    after = setting.span is not None and setting.span[0] > (row.from_year or 0)
    return setting.book in ("pharmacopoeia", "dispensing") and setting.region in row.regions and after


def _clipped(percent: float) -> float:
    if percent > 100 + 0.5:  # half a digit may reach over the end
        raise InputError(f"{percent:g} per cent is no strength", "strength", "Check the figure and its scale.")
    return min(max(percent, 0.0), 100.0)


def _on_scales(words: str, text: str, setting: Setting) -> Iterator[_Reading]:
    found = []
    for row in rows(StrengthScale):
        for names, sign in ((row.said, 1), (row.said_below, -1)):
            match = names and _scale_pattern(names).fullmatch(words)
            if match:
                printed = _printed(match["figure"] or match["figure_after"])
                found.append((row, _Printed(sign * printed.value, printed.half)))
    if not found:
        if _NO_SCALE.fullmatch(words):
            scales = ", ".join(dict.fromkeys(row.scale for row in rows(StrengthScale) if row.said))
            raise _unclear(text, f"has no scale: it may be {scales}", 'Add the scale, such as "36 degrees Cartier".')
        form = 'Write it as "60 o.p.", "sp. gr. .838", "90 per cent. by volume" or "36 degrees Cartier".'
        raise _unclear(text, "is no strength of spirit", form)
    here = [(row, printed) for row, printed in found if setting.within(row.regions, row.from_year, row.to_year)]
    if not here and found[0][0].form in _PROOF_FORMS:
        raise _unclear(text, f"has no meaning on file for {setting}", "Say what spirit is meant, or its strength.")
    kept = sorted(here or found, key=lambda each: not each[0].regions)  # what is bound to a place comes first
    inside = [(row, printed) for row, printed in kept if _inside(row, printed)]
    if not inside:
        row = kept[0][0]
        raise _unclear(text, f"is outside {row.low:g} to {row.high:g} {row.label}", "Check the figure and its scale.")
    yield from (_by_degrees(printed, row) for row, printed in inside)


@cache
def _scale_pattern(names: tuple[str, ...]) -> re.Pattern[str]:
    """Return a pattern of a figure with the words of a scale after it, or before it."""
    words = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    after = _FIGURE.replace("<figure>", "<figure_after>")
    joined = rf"(?:{_DEGREES}|{_PER_CENT})\s*(?:(?:of|de|by|nach)\s)?\s*"
    return re.compile(rf"{_FIGURE}{joined}(?:{words})(?:'s)?|(?:{words})\s*{after}{_DEGREES}")


def _inside(row: StrengthScale, printed: _Printed) -> bool:
    return (row.low is None or row.low <= printed.value) and (row.high is None or printed.value <= row.high)


def _by_degrees(printed: _Printed, row: StrengthScale) -> _Reading:
    low = printed.value if row.low is None else row.low
    high = printed.value if row.high is None else row.high
    figures = [float(from_degrees(min(max(end, low), high), row.id)) for end in printed.ends]
    return row.reason(f"{printed.value:g} {row.label}: {row.as_printed}", _formula()), tuple(figures)


def _named(answer: str) -> _Reading:
    value = named_strength(answer)
    return value.reason, (value.number, value.low, value.high)


def _printed(figure: str) -> _Printed:
    plain = figure.strip().replace(",", ".")
    part = unicodedata.numeric(plain[-1]) if plain[-1] in _FRACTIONS else 0.0
    whole = plain.rstrip(_FRACTIONS).strip()
    digits = len(whole.partition(".")[2])
    return _Printed(float(whole or 0) + part, 0.125 if part else 0.5 * 10.0**-digits)


def _unclear(text: str, what: str, remedy: str) -> InputError:
    return InputError(f"{text!r} {what}", "strength", remedy)
