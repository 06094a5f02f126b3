"""How strong is a spirit on every scale, and how much water lets it down? The stillroom's arithmetic, with sources."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from reconlab.display import Card, Shown, Table
from reconlab.errors import InputError, text_given
from reconlab.liquids import LiquidAnswer, liquid_strength, none_chosen
from reconlab.materia import ETHANOL, WATER, folded, identify
from reconlab.measures import Answer, convert, parse_quantity
from reconlab.reasons import STANDINGS, Citation, Question, Reason, Standing, Value, figure
from reconlab.receipts import Setting
from reconlab.spirit import (
    SIXTY_F,
    alligation,
    by_volume,
    has_table,
    nearest_names,
    scale_row,
    solute_of,
    specific_gravity,
    spirit_density,
    strength_of,
    strength_question,
    to_degrees,
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
        notes = () if self.chosen else (none_chosen([m.standing for m in self.meanings], self.setting),)
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
    alone = len(meanings) == 1 and first.standing != "unlikely"
    return first if alone or first.standing == "likely" else None


def strength(
    text: str, *, of: str = "", years: str = "", place: str = "", book: str = ""
) -> StrengthAnswer | LiquidAnswer:
    """Return how strong a spirit or another liquid was, by its printed strength or its name.

    What no liquid is named for is a spirit, where it can be one. Of ammonia, acids and lyes the degrees of Baumé and
    Twaddell are told as specific gravity, and as what they held where a table of them is on file.

    Parameters
    ----------
    text : str
        Such as ``"60 over proof"``, ``"sp. gr. .838"``, ``"36 degrees Cartier"``, ``"rectified spirit"``, ``"25°
        Twaddell"`` or ``"ammonia of 26° Baumé"``.
    of : str
        The liquid, where the words do not name it.
    years, place, book : str
        When, where and in what kind of book; without year or place nothing may be chosen.

    Returns
    -------
    StrengthAnswer or LiquidAnswer
        Each meaning with its strength by weight and volume, density, and degrees; of other liquids than spirit by
        weight, and specific gravity.

    Raises
    ------
    InputError
        If the words are neither a strength nor a name of such a liquid on file, or a figure is outside its scale.

    References
    ----------
    .. [1] OIML R 22, 1975, general formula. Key ``oiml_r22_1975``.
    .. [2] As `reconlab.liquids.liquid_strength`. Key ``beringer_assaying``.

    Examples
    --------
    >>> round(strength("60 over proof", place="England", years="1880").chosen.percent_v_v, 1)
    91.4
    """
    setting = Setting(years, place, book)
    liquid = liquid_strength(text_given(text, "text"), setting, text_given(of, "of"))
    if liquid is not None:
        return liquid
    try:
        return StrengthAnswer(text, setting, _meanings(text, setting))
    except InputError as fault:
        known = identify(of or text, setting)
        if known is None:
            raise
        raise InputError(f"no strength of {of or text!r} is on file", "strength", _remedy(of or text, known)) from fault


_SAY_ITS_FIGURE = "Say the figure the page prints: its specific gravity, its degrees or its share by weight."


def _remedy(name: str, known: Question) -> str:
    """Return what to do where a name has no strength on file, with the nearest names that have one."""
    dissolved = {solute_of(option.key) or option.key for option in known.options if has_table(option.key)}
    return f"{_SAY_ITS_FIGURE}{nearest_names(name, '' if dissolved else ETHANOL)}"


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
    if any(sign.isdigit() for sign in text):
        return None  # the figure tells more than the name beside it
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
    added_ml: float
    added_g: float
    made_ml: float
    by: str = WATER  # what is added: water, or the label of a weaker spirit

    @property
    def added_for_one(self) -> float:
        """Measures added to one of the spirit [1]."""
        return self.added_ml / self.spirit_ml

    @property
    def made_of_one(self) -> float:
        """Measures made of one of the spirit [1]."""
        return self.made_ml / self.spirit_ml

    @property
    def lost_ml(self) -> float:
        """How much less it is than spirit and what was added [mL]."""
        return self.spirit_ml + self.added_ml - self.made_ml

    @property
    def reason(self) -> Reason:
        """Why so much: the two strengths and the formula of their densities."""
        says = f"{figure(self.added_for_one)} measures of {self.by} to 1 of spirit, by the masses of ethanol and water"
        return Reason(says, (_FORMULA,), (self.strong.value.reason, self.weak.value.reason))


@dataclass(frozen=True, repr=False)
class Reducing(Shown):
    """How much water lets a spirit down, in every reading of its words."""

    text: str
    to: str
    amount: str
    by: str
    ways: tuple[Reduction, ...]

    @property
    def chosen(self) -> Reduction | None:
        """The reading that holds, or None where no source prefers one."""
        first = self.ways[0]
        return first if len(self.ways) == 1 or first.standing == "likely" else None

    def card(self) -> Card:
        """Return the answer as a card."""
        by = self.by
        measured = ("spirit, mL", f"{by}, mL", f"{by}, g", "makes, mL")
        heads = ("how sure", "from", "to", "measure", f"{by} to 1 of spirit", "makes of 1", *measured)
        rows = tuple(
            (
                way.standing,
                f"{way.strong.label}: {way.strong.percent_v_v:.1f} % v/v",
                f"{way.weak.label}: {way.weak.percent_v_v:.1f} % v/v",
                way.measure,
                f"{way.added_for_one:.3f}",
                f"{way.made_of_one:.3f}",
                *(figure(number) for number in (way.spirit_ml, way.added_ml, way.added_g, way.made_ml)),
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
        with_what = "" if by == WATER else f" with {by}"
        return Card(
            f"Reduce {of}{self.text} to {self.to}{with_what}", tuple(notes), (Table("", heads, rows),), chains=chains
        )


def dilute(
    text: str, to: str, amount: str = "", *, by: str = WATER, years: str = "", place: str = "", book: str = ""
) -> Reducing:
    """Return how much water, or weaker spirit, lets a spirit down to another strength, by weight and by measure.

    Parameters
    ----------
    text : str
        The spirit's strength or name, such as ``"60 o.p."``.
    to : str
        The strength it is to have, such as ``"proof"`` or ``"70 per cent. by volume"``.
    amount : str
        How much of the spirit, as printed, such as ``"1 gallon"``; for 100 mL where it is empty.
    by : str
        What is added: water, or the strength or name of a weaker spirit.
    years, place, book : str
        When, where and in what kind of book.

    Returns
    -------
    Reducing
        What to add, volume made and volume lost, in every reading that is not unlikely.

    Raises
    ------
    InputError
        If a strength or amount cannot be read, or the strength wanted is in no reading between the other two.

    References
    ----------
    .. [1] OIML R 22, 1975, general formula. Key ``oiml_r22_1975``.

    Examples
    --------
    >>> made = dilute("60 o.p.", "proof", "1 gallon", place="England", years="1880").chosen
    >>> round(made.made_of_one, 2), round(made.added_for_one, 2)  # a gallon at 60 over proof is 1.6 of proof spirit
    (1.6, 0.64)
    """
    setting = Setting(years, place, book)
    for where, given in (("text", text), ("to", to), ("amount", amount), ("by", by)):
        text_given(given, where)
    by = WATER if folded(by) in ("", WATER, f"distilled {WATER}") else by
    weakest = [None] if by == WATER else _sure(_meanings(by, setting))
    strongest, wanted = _meanings(text, setting), _meanings(to, setting)
    shared = frozenset(each.key for each in strongest) & frozenset(each.key for each in wanted)
    choices = [
        (strong, weak, added)
        for strong, weak, added in product(_sure(strongest), _sure(wanted), weakest)
        if (added.value.number if added else 0.0) < weak.value.number <= strong.value.number
        and _of_one_scale(strong, weak, shared)
    ]
    amounts = _amounts(amount, years, place, book) if choices else []
    found = [_reduced(*choice, answer) for choice in choices for answer in amounts]
    if not found:
        raise InputError(
            f"{to} does not lie between {text} and {by} in any reading",
            "strength",
            "Water only weakens: take a stronger spirit, or a weaker one to add.",
        )
    return Reducing(text, to, amount, by, tuple(sorted(found, key=lambda way: STANDINGS.index(way.standing))))


def _of_one_scale(strong: Meaning, weak: Meaning, shared: frozenset[str]) -> bool:
    """Return whether two strengths may be meant together: nobody counts one by Cartier and the next by Gay-Lussac."""
    return strong.key == weak.key or not {strong.key, weak.key} <= shared


def _sure(meanings: tuple[Meaning, ...]) -> list[Meaning]:
    """Return the meanings that hold or may hold: what is likely shuts out the rest."""
    chosen = _chosen(meanings)
    return [chosen] if chosen else [m for m in meanings if m.standing != "unlikely"] or list(meanings)


def _amounts(amount: str, years: str, place: str, book: str) -> list[Answer | None]:
    """Return what an amount of spirit may be; None stands for a hundred measures."""
    if not amount:
        return [None]
    for part in parse_quantity(amount).parts:
        if part.amount.low != part.amount.high:
            raise InputError(
                f"{part.amount.printed!r} is a range", "amount", "Give one amount, and the other after it."
            )
    found = convert(amount, years=years, place=place, book=book, of=ETHANOL)  # a liquid: its ounces are measures
    return [found.chosen] if found.chosen else [each for each in found.others if each.standing != "unlikely"]


def _reduced(strong: Meaning, weak: Meaning, added: Meaning | None, answer: Answer | None) -> Reduction:
    """Return the mixture by weight: the rule of alligation holds for masses, and volumes follow from densities."""
    by_weight = added.value.number if added else 0.0
    millilitres = _HUNDRED
    if answer is not None:
        volume = answer.volume_ml
        millilitres = volume if volume is not None else (answer.mass_g or 0.0) / strong.density
    of_strong, of_added = (float(share) for share in alligation(strong.value.number, by_weight, weak.value.number))
    mass = millilitres * strong.density
    grams = mass * of_added / of_strong
    standings = [each.standing for each in (strong, weak, added, answer) if each]
    return Reduction(
        max(standings, key=STANDINGS.index),
        strong,
        weak,
        answer.measure if answer else "",
        millilitres,
        grams / float(spirit_density(by_weight, SIXTY_F)),
        grams,
        (mass + grams) / weak.density,
        added.label if added else WATER,
    )
