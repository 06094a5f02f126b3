"""Which words are units, and what Latin, French and German books leave unsaid of them: a one, a stop, a comma."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from reconlab.reading.tokens import Mark, Token, mark_at
from reconlab.tables import Notation, rows

_OF_ABROAD = frozenset(("de", "d", "di", "del", "dell", "do", "da", "af", "av", "van", "et", "y", "e"))
_FRENCH = frozenset((
    "de", "d'", "d\N{RIGHT SINGLE QUOTATION MARK}", "du", "des", "eau", "huile", "une", "deux", "trois", "quatre",
    "esprit",
))  # fmt: skip
_NEAR = 30  # words that tell the tongue of a number
_SINGULAR = frozenset({
    "uncia", "unciam", "drachma", "drachmam", "libra", "libram", "fluiduncia", "fluidunciam", "fluidrachma",
    "fluidrachmam", "scrupulus", "scrupulum", "granum", "congius", "congium", "octarius", "octarium", "manipulus",
    "manipulum", "pugillus", "pugillum", "fasciculum", "gutta", "guttam", "pars", "partem",
})  # fmt: skip
_METRIC = ("gram", "kilogram", "liter", "meter")


class Number(NamedTuple):
    """A number, or a range of two, and the token behind it."""

    low: Fraction
    high: Fraction
    after: int


def unit_at(line: Sequence[Token], at: int) -> Mark | None:
    """Return the unit at a token.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Mark or None
        None where no unit stands.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> unit_at(tokens("2 oz. of wax"), 1).meanings["unit"].value
    'ounce'
    """
    mark = mark_at(line, at)
    if mark is None or "unit" not in mark.meanings:
        return None
    # A pot, a stop, a canada is a unit only where no English noun follows: "10 Canada balsam" is none.
    row = mark.meanings["unit"]
    if row.language in ("fr", "de") and len(row.printed) <= _SHORT and _is_of(line, mark.after):
        return None  # a lot of wax
    return None if row.written == "alone" and not _stands_alone(line, mark.after) else mark


_SHORT = 3  # letters of a word that another tongue may have too


def _is_of(line: Sequence[Token], at: int) -> bool:
    return at < len(line) and line[at].text.lower() == "of" and line[at - 1].text != "."


def _stands_alone(line: Sequence[Token], at: int) -> bool:
    following = line[at].text.lower() if at < len(line) else ""
    return not any(map(str.isalpha, following)) or following.split("'")[0] in _OF_ABROAD


def of_language(line: Sequence[Token], at: int, unit: Mark) -> Notation:
    """Return the meaning of a unit's word in the language of the number before it: "halfe a pinte" is no French one.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].
    unit : Mark
        The unit word.

    Returns
    -------
    Notation
        The row of that language, or that of the unit where it has none.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("ein Pfund")
    >>> of_language(line, 0, unit_at(line, 1)).language
    'de'
    """
    count = mark_at(line, at)
    language = count.meanings["number"].language if count and "number" in count.meanings else ""
    if line[at].text.lower() == "six" and any(
        near.text.lower() in _FRENCH for near in line[max(at - _NEAR, 0) : at + _NEAR]
    ):
        language = "fr"
    row = unit.meanings["unit"]
    if not language and unit.after < len(line) and line[unit.after].text.lower() in _OF_FRENCH:
        language = "fr"  # 4 pintes d'eau de vie
    return row if row.language == language else _by_language().get((row.printed, language), row)


@cache
def _by_language() -> Mapping[tuple[str, str], Notation]:
    return {(row.printed, row.language): row for row in rows(Notation) if row.meaning == "unit"}


def latin_one(line: Sequence[Token], at: int, unit: Mark) -> Number | None:
    """Read a Latin unit in the singular without a numeral as one: "Hydrargyri unciam, Sevi drachmam".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].
    unit : Mark
        The unit word.

    Returns
    -------
    Number or None
        One, or None where the unit tells no number.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("Sevi drachmam")
    >>> latin_one(line, 1, unit_at(line, 1)).low == 1
    True
    """
    row = unit.meanings["unit"]
    single = row.language == "la" and row.written == "word" and row.printed in _SINGULAR
    stops = unit.after >= len(line) or line[unit.after - 1].text == "."
    ends = stops or line[unit.after].text.lower() in (",", ";", ":", "cum", "et", "&")
    named = at > 0 and line[at - 1].kind == "word" and "number" not in unit.meanings
    return Number(Fraction(1), Fraction(1), unit.after) if single and ends and named else None


def in_french(unit: Mark) -> Notation:
    """Return the row of a unit word in French, or that of the tongue it has: "pinte" is English of old too.

    Parameters
    ----------
    unit : Mark
        The unit word.

    Returns
    -------
    Notation
        One row.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> in_french(unit_at(tokens("pinte"), 0)).language
    'fr'
    """
    row = unit.meanings["unit"]
    return _by_language().get((row.printed, "fr"), row)


_OF_FRENCH = ("de", "d'", "d\N{RIGHT SINGLE QUOTATION MARK}")


def french_one(line: Sequence[Token], at: int, unit: Mark) -> Number | None:
    """Read a French measure without a number as one: "Prenez pinte de vin, chopine d'eau", "deux pintes & chopine".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Where the unit stands [1].
    unit : Mark
        The unit word.

    Returns
    -------
    Number or None
        One, or None where the unit is another tongue's, in the plural, or within other words ("par livre de ...").

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("chopine d'eau rose")
    >>> french_one(line, 0, unit_at(line, 0)).low == 1
    True
    """
    row = in_french(unit)
    single = row.language == "fr" and row.written == "word" and not row.printed.endswith("s")
    before = mark_at(line, at - 1) if at else None
    joined = at > 0 and line[at - 1].text.lower() in ("et", "&")
    told = before is not None and not {"direction", "heading"}.isdisjoint(before.meanings)
    opens = at == 0 or line[at - 1].kind == "point" or joined or told
    ends = unit.after >= len(line) or line[unit.after].text.lower() in _OF_FRENCH or (joined and opens)
    return Number(Fraction(1), Fraction(1), unit.after) if single and opens and ends else None


def is_abbreviated(line: Sequence[Token], unit: Mark, numeral: Number | None) -> bool:
    """Return whether an English word is a Latin abbreviation here: "drachm. ij", "drachm. dimid.".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    unit : Mark
        The unit word.
    numeral : Number or None
        The numeral behind it.

    Returns
    -------
    bool
        Whether it is one.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("drachm. ij")
    >>> is_abbreviated(line, unit_at(line, 0), Number(Fraction(2), Fraction(2), 3))
    True
    """
    stop = line[unit.after - 1].text == "."
    return numeral is not None and stop and line[unit.after].kind == "word" and line[unit.after].text.islower()


def has_unit_behind(line: Sequence[Token], unit: Mark, numeral: Number) -> bool:
    """Return whether a number belongs to the unit behind it: "rührt man 6 Loth" holds no six handfuls (man. vj).

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    unit : Mark
        The unit word.
    numeral : Number
        The numeral behind it.

    Returns
    -------
    bool
        Whether it does.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("man 6 Loth")
    >>> has_unit_behind(line, unit_at(line, 0), Number(Fraction(6), Fraction(6), 2))
    True
    """
    figures = line[numeral.after - 1].kind == "number" and line[unit.after - 1].text != "."
    return figures and unit_at(line, numeral.after) is not None


def with_decimals_behind(line: Sequence[Token], count: Number, unit: Mark) -> tuple[Number, int]:
    """Add decimals printed behind a metric unit, as French books do: "0 g 05", "2 gr. 50".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    count : Number
        The number before it.
    unit : Mark
        The unit word.

    Returns
    -------
    (Number, int)
        The number with them, and the token behind [1].

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("2 gr. 50")
    >>> float(with_decimals_behind(line, Number(Fraction(2), Fraction(2), 1), unit_at(line, 1))[0].low)
    2.5
    """
    at = unit.after
    if at >= len(line) or line[at].kind != "number" or not re.fullmatch(r"\d{1,3}", line[at].text):
        return count, at
    whole = count.low == count.high == int(count.low)
    if not whole or not (unit.meanings["unit"].value in _METRIC or _is_gram(unit)):
        return count, at
    ends = at + 1 == len(line) or line[at + 1].text in (",", ";", ".", ")", "|") or line[at + 1].kind == "break"
    if not ends or unit_at(line, at + 1) or line[at - 1].kind == "number":
        return count, at
    part = Fraction(int(line[at].text), 10 ** len(line[at].text))
    return Number(count.low + part, count.high + part, at + 1), at + 1


def _is_gram(unit: Mark) -> bool:
    return unit.meanings["unit"].printed in ("gr", "gram")
