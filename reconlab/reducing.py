"""How strong is a spirit on every scale, and how much water lets it down? The stillroom's arithmetic, with sources."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from reconlab.display import Card, Shown, Table
from reconlab.errors import InputError
from reconlab.materia import identify
from reconlab.measures import convert
from reconlab.reasons import STANDINGS, Citation, Question, Reason, Standing, Value, figure
from reconlab.receipts import Setting
from reconlab.spirit import (
    SIXTY_F,
    by_volume,
    scale_row,
    specific_gravity,
    spirit_density,
    strength_of,
    strength_question,
    to_degrees,
    water_by_volume,
)

_SCALES = ("uk_over_proof", "us_proof", "gay_lussac", "tralles", "cartier", "baume_light_146", "baume_light_140")
_HUNDRED = 100.0  # measures reckoned with where no amount is given
_FORMULA = Citation("oiml_r22_1975", "general formula")


@dataclass(frozen=True, slots=True)
class Meaning:
    """One meaning of a strength, and what it comes to."""

    key: str
    label: str
    standing: Standing
    value: Value  # ethanol [% w/w]

    @property
    def percent_v_v(self) -> float:
        """Ethanol by volume at 60 degrees Fahrenheit [% v/v]."""
        return float(by_volume(self.value.number, SIXTY_F))

    @property
    def density(self) -> float:
        """Density at 60 degrees Fahrenheit [g/mL]."""
        return float(spirit_density(self.value.number, SIXTY_F))

    @property
    def gravity(self) -> float:
        """Specific gravity at 60 degrees Fahrenheit [1]."""
        return float(specific_gravity(self.value.number, SIXTY_F))

    def on_scales(self) -> Iterator[tuple[str, str]]:
        """Yield each scale that reaches so far, with what it shows."""
        for key in _SCALES:
            try:
                shown = float(to_degrees(self.value.number, key))
            except InputError:
                continue
            yield scale_row(key).label, _degrees(shown, key)


def _degrees(shown: float, key: str) -> str:
    if scale_row(key).form != "over proof":
        return f"{shown:.1f}"
    return f"{abs(shown):.1f} {'over' if shown >= 0 else 'under'} proof"


@dataclass(frozen=True, repr=False)
class StrengthAnswer(Shown):
    """A strength on every scale, in each meaning it may have had there and then."""

    text: str
    setting: Setting
    meanings: tuple[Meaning, ...]

    @property
    def chosen(self) -> Meaning | None:
        """The meaning that holds, or None where no source prefers one."""
        return _chosen(self.meanings)

    def card(self) -> Card:
        """Return the answer as a card: the meanings, then each scale."""
        heads = ("read as", "how sure", "% v/v at 60 F", "% w/w", "sp. gr. at 60 F", "density, g/mL")
        meanings = tuple(
            (m.label, m.standing, _range(m), str(m.value).replace(" % w/w", "", 1), f"{m.gravity:.4f}", _density(m))
            for m in self.meanings
        )
        first = self.meanings[0]
        notes = () if self.chosen else (f"No source on file prefers a meaning for {self.setting}; all stand below.",)
        scales = Table(f"The same on other scales: {first.label}", ("scale", "shows"), tuple(first.on_scales()))
        chains = tuple(m.value.reason for m in self.meanings)
        return Card(f"How strong is {self.text}?", notes, (Table("", heads, meanings), scales), chains=chains)


def _range(meaning: Meaning) -> str:
    low, high = (float(by_volume(end, SIXTY_F)) for end in (meaning.value.low, meaning.value.high))
    between = f" ({figure(low)} to {figure(high)})" if meaning.value.wide else ""
    return f"{meaning.percent_v_v:.1f}{between}"


def _density(meaning: Meaning) -> str:
    return f"{meaning.density:.4f}"


def _chosen(meanings: tuple[Meaning, ...]) -> Meaning | None:
    first = meanings[0]
    return first if len(meanings) == 1 or first.standing == "likely" else None


def strength(text: str, *, years: str = "", place: str = "", book: str = "") -> StrengthAnswer:
    """Return how strong a spirit was, by its printed strength or its name, on every scale.

    Parameters
    ----------
    text : str
        Such as ``"60 over proof"``, ``"sp. gr. .838"``, ``"36 degrees Cartier"`` or ``"rectified spirit"``.
    years, place, book : str
        When, where and in what kind of book; without year or place nothing may be chosen.

    Returns
    -------
    StrengthAnswer
        Each meaning with its strength by weight and volume, density, and degrees.

    Raises
    ------
    InputError
        If the words are neither a strength nor a name of spirit on file, or a figure is outside its scale.

    References
    ----------
    .. [1] OIML R 22, 1975, general formula. Key ``oiml_r22_1975``.

    Examples
    --------
    >>> round(strength("60 over proof", place="England", years="1880").chosen.percent_v_v, 1)
    91.4
    """
    setting = Setting(years, place, book)
    return StrengthAnswer(text, setting, _meanings(text, setting))


def _meanings(text: str, setting: Setting) -> tuple[Meaning, ...]:
    question = _named(text, setting) or strength_question(text, setting)
    found = ((option, strength_of(option.key)) for option in question.options)
    return tuple(
        Meaning(option.key, option.words, option.standing, _value(value, option.reason))
        for option, value in found
        if value
    )


def _value(value: Value, reason: Reason) -> Value:
    return Value(value.number, value.low, value.high, value.unit, reason)


def _named(text: str, setting: Setting) -> Question | None:
    named = identify(text, setting)
    spirits = named is not None and all(strength_of(option.key) is not None for option in named.options)
    return named if spirits else None


@dataclass(frozen=True, slots=True)
class Reduction:
    """How one spirit is let down to another strength, in one reading of the words."""

    standing: Standing
    strong: Meaning
    weak: Meaning
    measure: str  # the measures its amount was reckoned with; empty where no amount was given
    spirit_ml: float
    water_ml: float
    water_g: float
    made_ml: float

    @property
    def water_for_one(self) -> float:
        """Measures of water to one of the spirit [1]."""
        return self.water_ml / self.spirit_ml

    @property
    def made_of_one(self) -> float:
        """Measures made of one of the spirit [1]."""
        return self.made_ml / self.spirit_ml

    @property
    def lost_ml(self) -> float:
        """How much less it is than spirit and water were [mL]."""
        return self.spirit_ml + self.water_ml - self.made_ml

    @property
    def reason(self) -> Reason:
        """Why so much: the two strengths and the formula of their densities."""
        says = f"{figure(self.water_for_one)} measures of water to 1 of spirit, by the masses of ethanol and water"
        return Reason(says, (_FORMULA,), (self.strong.value.reason, self.weak.value.reason))


@dataclass(frozen=True, repr=False)
class Reducing(Shown):
    """How much water lets a spirit down, in every reading of its words."""

    text: str
    to: str
    amount: str
    ways: tuple[Reduction, ...]

    @property
    def chosen(self) -> Reduction | None:
        """The reading that holds, or None where no source prefers one."""
        first = self.ways[0]
        return first if len(self.ways) == 1 or first.standing == "likely" else None

    def card(self) -> Card:
        """Return the answer as a card."""
        measured = ("spirit, mL", "water, mL", "water, g", "makes, mL")
        heads = ("how sure", "from", "to", "measure", "water to 1 of spirit", "makes of 1", *measured)
        rows = tuple(
            (
                way.standing,
                f"{way.strong.label}: {way.strong.percent_v_v:.1f} % v/v",
                f"{way.weak.label}: {way.weak.percent_v_v:.1f} % v/v",
                way.measure,
                f"{way.water_for_one:.3f}",
                f"{way.made_of_one:.3f}",
                *(figure(number) for number in (way.spirit_ml, way.water_ml, way.water_g, way.made_ml)),
            )
            for way in self.ways
        )
        of = f"{self.amount} of " if self.amount else ""
        notes = [
            "Measures at 60 F; spirit and water shrink on mixing, and so make less than both together.",
            "Mix, let it cool, then fill up to the measure. Spirit burns: no flame, no hot plate.",
        ]
        if self.chosen is None:
            notes.insert(0, "No source on file prefers a reading; year, place and kind of book may decide.")
        chains = tuple(way.reason for way in self.ways)
        return Card(f"Reduce {of}{self.text} to {self.to}", tuple(notes), (Table("", heads, rows),), chains=chains)


def dilute(text: str, to: str, amount: str = "", *, years: str = "", place: str = "", book: str = "") -> Reducing:
    """Return how much water lets a spirit down to another strength, by weight and by measure.

    Parameters
    ----------
    text : str
        The spirit's strength or name, such as ``"60 o.p."``.
    to : str
        The strength it is to have, such as ``"proof"`` or ``"70 per cent. by volume"``.
    amount : str
        How much of the spirit, as printed, such as ``"1 gallon"``; for 100 mL where it is empty.
    years, place, book : str
        When, where and in what kind of book.

    Returns
    -------
    Reducing
        Water to add, volume made and volume lost, in every reading that is not unlikely.

    Raises
    ------
    InputError
        If a strength or amount cannot be read, or the spirit is weaker than what is wanted in every reading.

    References
    ----------
    .. [1] OIML R 22, 1975, general formula. Key ``oiml_r22_1975``.

    Examples
    --------
    >>> made = dilute("60 o.p.", "proof", "1 gallon", place="England", years="1880").chosen
    >>> round(made.made_of_one, 2), round(made.water_for_one, 2)  # a gallon at 60 over proof is 1.6 of proof spirit
    (1.6, 0.64)
    """
    setting = Setting(years, place, book)
    strong, weak = _meanings(text, setting), _meanings(to, setting)
    found = [
        _reduced(one, other, measure, millilitres, _worst(one.standing, other.standing, standing))
        for one, other, (measure, millilitres, standing) in product(
            _sure(strong), _sure(weak), _amounts(amount, years, place, book, strong)
        )
        if other.value.number <= one.value.number
    ]
    if not found:
        raise InputError(
            f"{text} is weaker than {to} in every reading", "strength", "Water only weakens: take a stronger spirit."
        )
    return Reducing(text, to, amount, tuple(sorted(found, key=lambda way: STANDINGS.index(way.standing))))


def _sure(meanings: tuple[Meaning, ...]) -> list[Meaning]:
    """Return the meanings that hold or may hold: what is likely shuts out the rest."""
    chosen = _chosen(meanings)
    return [chosen] if chosen else [m for m in meanings if m.standing != "unlikely"] or list(meanings)


def _amounts(
    amount: str, years: str, place: str, book: str, strong: tuple[Meaning, ...]
) -> list[tuple[str, float, Standing]]:
    """Return the measures an amount may be, in mL."""
    if not amount:
        return [("", _HUNDRED, "likely")]
    found = convert(amount, years=years, place=place, book=book, of="ethanol")  # a liquid: its ounces are measures
    answers = [found.chosen] if found.chosen else [each for each in found.others if each.standing != "unlikely"]
    return [
        (
            answer.measure,
            answer.volume_ml if answer.volume_ml is not None else (answer.mass_g or 0.0) / strong[0].density,
            answer.standing,
        )
        for answer in answers
    ]


def _worst(*standings: Standing) -> Standing:
    return max(standings, key=STANDINGS.index)


def _reduced(strong: Meaning, weak: Meaning, measure: str, millilitres: float, standing: Standing) -> Reduction:
    water = float(water_by_volume(millilitres, strong.percent_v_v, weak.percent_v_v, SIXTY_F))
    made = millilitres * strong.percent_v_v / weak.percent_v_v
    grams = water * float(spirit_density(0.0, SIXTY_F))
    return Reduction(standing, strong, weak, measure, millilitres, water, grams, made)
