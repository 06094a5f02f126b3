"""How a strength is printed: figures with their last digit, per cents, gravities and degrees, in several tongues."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

FRACTIONS = "\N{VULGAR FRACTION ONE QUARTER}\N{VULGAR FRACTION ONE HALF}\N{VULGAR FRACTION THREE QUARTERS}"
FIGURE = rf"(?P<figure>\d+\s+\d/[1-9]|\d+(?:[.,]\d+)?(?:\s?[{FRACTIONS}])?|[.,]\d+|[{FRACTIONS}])"
DEGREES = r"\s*(?:[\N{DEGREE SIGN}\N{MASCULINE ORDINAL INDICATOR}]|deg(?:r[eé]{1,2}s?)?\b|grade?\b)?"
PER_CENT = (
    r"\s*(?:(?P<volume_before>vol(?:ume)?\.?\s?-?)\s*)?"
    r"(?:%|per ?cents?\b|per ?centum\b|p ?ct?\b|pour cent\b|pro[zc](?:ente?)?\b)"
)
_GRAVITY_WORDS = (
    r"(?:sp(?:ec(?:ific)?)? ?gr(?:av(?:ity)?)?|\bs ?g|density|densit[eé]|poids sp[eé]cifique"
    r"|(?:von )?(?:sp|spe[cz](?:if(?:isch(?:es|em|en|er)?)?)?|eigen(?:es|em)?) ?gew(?:icht)?(?:es|e|s)?)"
)
_FIGURE_BEFORE = FIGURE.replace("<figure>", "<figure_before>")
GRAVITY = re.compile(
    rf"{_GRAVITY_WORDS}\s*(?:,\s*)?(?:of|=|:|von|de|about|etwa|environ)?\s*{FIGURE}|{_FIGURE_BEFORE}\s*{_GRAVITY_WORDS}",
)
BARE_GRAVITY = re.compile(r"(?P<figure>0?[.,]\d{3,5})")
WEIGHT, VOLUME = r"(?P<weight>by weight|w/w|wt)", r"(?P<volume>by volume|by measure|v/v|vol(?:ume)?)"
SHARE = re.compile(rf"{FIGURE}{PER_CENT}\s*,?\s*\(?(?:{WEIGHT}|{VOLUME})?\)?")
NO_SCALE = re.compile(rf"{FIGURE}{DEGREES}")
_SHARE_OF = re.compile(r"\b(?P<of>gewichts|raum|volum(?:en)?)-?\s?(?:pro[zc](?:ente?n?)?\b|%)")
_BY = {"gew": "% by weight", "rau": "% by volume", "vol": "% by volume"}
LEADING = re.compile(r"^(?:of the|of|at|a|à|de|von|zu|mit|marking|marked|marquant|containing|about)\s+(?=[\d.,])")


@dataclass(frozen=True, slots=True)
class Printed:
    """A printed figure and how far it may lie off: half a step of its last digit [as printed]."""

    value: float
    half: float

    @property
    def ends(self) -> tuple[float, float, float]:
        """The figure, its lowest and its highest value [as printed]."""
        return self.value, self.value - self.half, self.value + self.half


def gravity_in(words: str) -> str:
    """Return the figure of a specific gravity, named before or behind it or bare.

    Parameters
    ----------
    words : str
        As `plain_words` gives them.

    Returns
    -------
    str
        Empty where the words are no gravity.

    Examples
    --------
    >>> gravity_in("0,912 spec gewicht"), gravity_in("sp gr .838"), gravity_in("60 o p")
    ('0,912', '.838', '')
    """
    named, bare = GRAVITY.fullmatch(words), BARE_GRAVITY.fullmatch(words)
    if named is not None:
        return str(named["figure"] or named["figure_before"]).strip()
    return str(bare["figure"]) if bare is not None else ""


@dataclass(frozen=True, slots=True)
class NamedGravity:
    """A specific gravity said as one, and where it stands."""

    value: float  # specific gravity [1]
    place: tuple[int, int]  # first character, and the one behind the last


def named_gravity(words: str) -> NamedGravity | None:
    """Find a specific gravity that is named as one among other words.

    Parameters
    ----------
    words : str
        As `without_stops` gives them.

    Returns
    -------
    NamedGravity or None
        The first of them.

    Examples
    --------
    >>> named_gravity("ammonia sp gr .880"), named_gravity("0,900 spec gewicht").value
    (NamedGravity(value=0.88, place=(8, 18)), 0.9)
    """
    found = GRAVITY.search(words)
    if found is None:
        return None
    return NamedGravity(printed_figure(found["figure"] or found["figure_before"]).value, found.span())


def plain_words(text: str) -> str:
    """Return the words of a printed strength in one form, without what leads up to it.

    Parameters
    ----------
    text : str
        As printed.

    Returns
    -------
    str
        Without stops, "of the" and the like.

    Examples
    --------
    >>> plain_words("of 60 O.P."), plain_words("96 Gewichtsprozent")
    ('60 o p', '96 % by weight')
    """
    return _SHARE_OF.sub(lambda found: _BY[found["of"][:3]], LEADING.sub("", without_stops(text)))


def without_stops(text: str) -> str:
    """Return printed words in one form: lower case, a stop only before a digit.

    Parameters
    ----------
    text : str
        As printed.

    Returns
    -------
    str
        Without stops at words and at the ends.

    Examples
    --------
    >>> without_stops("60 O.P. ")
    '60 o p'
    """
    small = unicodedata.normalize("NFC", text).lower().replace("\N{MIDDLE DOT}", ".")
    return " ".join(re.sub(r"\.(?!\d)", " ", small).split()).strip(" ,;()")


def printed_figure(figure: str) -> Printed:
    """Return a figure with half a step of its last digit.

    Parameters
    ----------
    figure : str
        Such as ``".838"``, ``"0,900"`` or ``"62 1/2"``.

    Returns
    -------
    Printed
        The figure [as printed].

    Examples
    --------
    >>> printed_figure("0,900")
    Printed(value=0.9, half=0.0005)
    """
    plain = figure.strip().replace(",", ".")
    if "/" in plain:  # 62 1/2
        whole_words, _, fraction = plain.rpartition(" ")
        return Printed(float(whole_words) + float(Fraction(fraction)), 0.125)
    part = unicodedata.numeric(plain[-1]) if plain[-1] in FRACTIONS else 0.0
    whole = plain.rstrip(FRACTIONS).strip()
    digits = len(whole.partition(".")[2])
    return Printed(float(whole or 0) + part, 0.125 if part else 0.5 * 10.0**-digits)
