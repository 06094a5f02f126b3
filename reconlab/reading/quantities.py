"""Printed quantities: "two drachms and a half", "ʒiij", "1 lb. 4 oz.", "ten to thirty drops"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace as changed
from fractions import Fraction
from typing import NamedTuple

from reconlab.reading.descending import goes_on
from reconlab.reading.named_systems import named_before, named_behind, weighed_behind
from reconlab.reading.numerals import (
    ANDS,
    JOINS,
    is_part_of_unit,
    numerals_at,
    past_article,
    past_hyphen,
    range_at,
    semis_at,
    with_fraction_behind,
    with_semis,
    words_at,
)
from reconlab.reading.roman import roman
from reconlab.reading.tokens import Mark, Token, mark_at, printed_of
from reconlab.reading.units_in_tongues import (
    Number,
    french_one,
    has_unit_behind,
    in_french,
    is_abbreviated,
    latin_one,
    of_language,
    unit_at,
    with_decimals_behind,
)
from reconlab.receipts import Amount, Measured, Quantity

_NOTHING_BELOW = re.compile(r"[/\N{FRACTION SLASH}\N{DIVISION SLASH}]0+$")
_WORDS = ("word", "alone")  # a word read as a unit, anywhere or only where nothing is named behind it
_OF_NO_SYSTEM = ("ful", "pinch")  # how the units end whose size hangs on the vessel or the hand
WEIGHED = "weight"  # how an amount is written that the page says was weighed
_BY_MEASURE = {"ounce": "fluid_ounce", "drachm": "fluid_drachm", "scruple": "fluid_scruple"}
_MEASURED = ("by measure", "in measure", "fluid measure", "liquid measure")


class Found(NamedTuple):
    """A quantity found in a line, and the token behind it."""

    quantity: Quantity
    after: int


def quantity_at(line: Sequence[Token], at: int) -> Found | None:
    """Return the quantity that starts at a token, with all its parts.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Found or None
        None where no quantity starts here.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> part = quantity_at(tokens("two drachms and a half"), 0).quantity.parts[0]
    >>> part.amount.value, part.unit
    (2.5, 'drachm')
    """
    first = _part(line, at)
    if first is None:
        return None
    parts, after = [first[0]], first[1]
    while (following := _part(line, _skip_and(line, after))) and goes_on(following[0].unit, parts[-1].unit):
        parts.append(following[0])
        after = following[1]
    if len(parts) == 1 and (both := _from_to(line, at, parts[0], after)) is not None:
        return both
    return Found(Quantity(tuple(parts)), after)


_FROM = ("from", "between", "von", "de")
WIDEST = 4  # times the lower end of a range that no word like "from" opens


def _from_to(line: Sequence[Token], at: int, low: Measured, after: int) -> Found | None:
    """Read "from a gallon and a half to two gallons", "an ounce or an ounce and a half": each end has its unit."""
    opened = line[at - 1].text.lower() if at else ""
    if after + 1 >= len(line) or (low.unit == "part" and opened not in _FROM):
        return None  # "1 part to 2 parts of water" is a rate
    joins = JOINS if opened != "between" else ("and",)
    behind = _number_first(line, after + 1) if line[after].text.lower() in joins else None
    if behind is None or behind[0].unit != low.unit:
        return None
    first, last = low.amount, behind[0].amount
    if first.value is None or last.value is None or first.low is None or last.high is None or last.high <= first.low:
        return None
    if opened not in _FROM and last.high > WIDEST * first.low:
        return None  # "1 drachm to 8 drachms of water" is a rate too
    printed = f"{first.printed} {line[after].text} {last.printed}"
    amount = Amount((first.low + last.high) / 2, first.low, last.high, printed)
    return Found(Quantity((changed(low, amount=amount),)), behind[1])


def count_at(line: Sequence[Token], at: int, unit: str) -> Found | None:
    """Return a number that stands without a unit of its own, as a count.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].
    unit : str
        Unit token to give it.

    Returns
    -------
    Found or None
        None where no number starts here.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> count_at(tokens("half a dozen eggs"), 0, "piece").quantity.parts[0].amount.value
    6.0
    """
    count = range_at(line, at)
    if count is None:
        return None
    return Found(Quantity((Measured(_amount(line, count, at, count.after), unit, "count"),)), count.after)


def _skip_and(line: Sequence[Token], at: int) -> int:
    return at + 1 if at < len(line) and line[at].text.lower() in ANDS else at


def _part(line: Sequence[Token], at: int) -> tuple[Measured, int] | None:
    if at >= len(line) or line[at].kind in ("leader", "break") or line[at].text in ",;.":
        return None
    return _number_first(line, at) or _unit_first(line, at)


def _number_first(line: Sequence[Token], at: int) -> tuple[Measured, int] | None:
    start = at
    mark = mark_at(line, at)
    if mark is not None and "approximate" in mark.meanings:
        at = mark.after
    if mark is not None and "some" in mark.meanings:
        return _some(line, start, mark.after)
    count = range_at(line, at)
    if count is None:
        return _part_of_unit(line, Number(Fraction(1), Fraction(1), at), start)
    if line[count.after - 1].kind == "number" and count.high < 1:  # ¾ of a pound
        article = past_article(line, count.after)
        count = count._replace(after=article) if unit_at(line, article) else count
    whole = _part_of_unit(line, count, start)
    if whole:
        return whole
    behind = past_hyphen(line, count.after) if line[count.after - 1].kind == "word" else count.after
    named = named_before(line, behind)
    if named:
        return Measured(_amount(line, count, start, named.after), named.unit, "word"), named.after
    unit = unit_at(line, behind) or _sized_unit(line, behind) or unit_at(line, _behind_size(line, count.after))
    if unit is None:
        return None
    row = of_language(line, start, unit)
    count, behind = with_decimals_behind(line, _or_two(line, count, unit.after), unit)
    count, after = with_fraction_behind(line, count, behind)
    after = max(after, count.after)
    named = named_behind(line, row.value, after)
    token, after = (named.unit, named.after) if named else _measured_by(line, row.value, after)
    written = "word" if row.written == "alone" else row.written
    weighed = weighed_behind(line, after)
    if weighed > after:
        written, after = WEIGHED, weighed
    return Measured(_amount(line, count, start, after), token, written), after


def _some(line: Sequence[Token], start: int, at: int) -> tuple[Measured, int] | None:
    """Read "a few drops": a unit, and no number."""
    unit = unit_at(line, _behind_size(line, at))
    if unit is None:
        return None
    row = unit.meanings["unit"]
    printed = _amount(line, Number(Fraction(0), Fraction(0), at), start, unit.after).printed
    return Measured(Amount(None, None, None, printed), row.value, row.written), unit.after


def _behind_size(line: Sequence[Token], at: int) -> int:
    """Pass over a word of size, or a line's end, between a number and its unit: "two large handfuls"."""
    if at + 1 < len(line) and (line[at].kind == "break" or line[at].text in ("-", ".") or _parts_cells(line, at)):
        at += unit_at(line, at + 1) is not None  # 1 \n pint, two-penny worth, 4. ounces
    mark = mark_at(line, at)
    return mark.after if mark is not None and "sized" in mark.meanings else at


def _parts_cells(line: Sequence[Token], at: int) -> bool:
    """Return whether a comma or the like hugs what stands on both sides, as between cells: "Starch,10,oz."."""
    hugs = 0 < at < len(line) - 1 and line[at - 1].end == line[at].start and line[at].end == line[at + 1].start
    return hugs and line[at].text in ",;|"


def _or_two(line: Sequence[Token], count: Number, after: int) -> Number:
    """Read "a drop or two" as a range."""
    if count.high != 1 or after + 1 >= len(line) or line[after].text.lower() != "or":
        return count
    high = words_at(line, after + 1)
    alone = high is not None and high.low > 1 and unit_at(line, high.after) is None
    return Number(count.low, high.high, high.after) if high and alone else count


def _part_of_unit(line: Sequence[Token], count: Number, start: int) -> tuple[Measured, int] | None:
    """Read a word that is a part of a unit: "ein Viertelpfund", "un quarteron" (of the pound)."""
    unit = unit_at(line, count.after)
    if unit is None or not is_part_of_unit(unit):
        return None
    part, row = Fraction(unit.meanings["number"].value), unit.meanings["unit"]
    behind, after = with_fraction_behind(line, Number(count.low, count.high, unit.after), unit.after)
    amount = _amount(line, Number(behind.low * part, behind.high * part, after), start, after)
    return Measured(amount, row.value, row.written), after


def _unit_first(line: Sequence[Token], at: int) -> tuple[Measured, int] | None:
    """Read a sign or Latin unit with its numeral behind it: gr. xv, f℥ij, drachmas duas."""
    unit = unit_at(line, at)
    if unit is None:
        return None
    if (alone := french_one(line, at, unit)) is not None:
        row = in_french(unit)
        return Measured(_amount(line, alone, at, unit.after), row.value, row.written), unit.after
    numeral = numerals_at(line, _past_break(line, unit.after)) or latin_one(line, at, unit)
    word = unit.meanings["unit"].written in _WORDS and unit.meanings["unit"].language != "la"
    if word and not (_is_numeral(line, unit.after) or is_abbreviated(line, unit, numeral)):
        return None
    row = unit.meanings["unit"]
    numeral = numeral or (semis_at(line, unit.after) if row.written == "sign" else None)
    if numeral is None or (row.written == "abbreviation" and has_unit_behind(line, unit, numeral)):
        return None
    # "g. vi" is six grains: no metric amount is printed in Roman numerals.
    old_grain = row.value == "gram" and line[unit.after].kind == "word"
    token = "grain" if old_grain else row.value
    if row.written == "word":
        numeral, _ = with_fraction_behind(line, numeral, numeral.after)  # libram unam cum semisse
    if row.written == "sign":
        numeral = with_semis(line, numeral)
    after = weighed_behind(line, numeral.after)
    written = WEIGHED if after > numeral.after else row.written
    return Measured(_amount(line, numeral, at, after), token, written), after


def _past_break(line: Sequence[Token], at: int) -> int:
    """Pass over a line's end before a Latin numeral in words: "unciam", then "unam"."""
    mark = mark_at(line, at + 1) if at + 1 < len(line) and line[at].kind == "break" else None
    numeral = mark.meanings.get("number") if mark is not None else None
    return at + 1 if numeral is not None and numeral.language == "la" else at


def _is_numeral(line: Sequence[Token], at: int) -> bool:
    """Return whether a small Roman numeral of more than a letter follows: "drachms iij", as some tables print it."""
    word = line[at].text if at < len(line) else ""
    return len(word) > 1 and word == word.lower() and set(word) <= set("ivxj") and roman(word) is not None


def _amount(line: Sequence[Token], count: Number, first: int, after: int) -> Amount:
    printed = printed_of(line[first:after])
    if "0" in printed and any(token.kind == "number" and has_nothing_below(token.text) for token in line[first:after]):
        return Amount(None, None, None, printed)  # a fraction over nothing is illegible, not zero
    if _is_negative(line, first):
        return Amount(None, None, None, f"-{printed}")
    low = float(count.low)
    if count.high is count.low:
        return Amount(low, low, low, printed)
    high = float(count.high)
    return Amount((low + high) / 2, low, high, printed)


def has_nothing_below(figures: str) -> bool:
    """Return whether figures are a fraction over nothing, which is illegible and no nought.

    Parameters
    ----------
    figures : str
        A number token.

    Returns
    -------
    bool
        Whether they are.

    Examples
    --------
    >>> has_nothing_below("1/0"), has_nothing_below("1/10")
    (True, False)
    """
    return _NOTHING_BELOW.search(figures) is not None


def _is_negative(line: Sequence[Token], at: int) -> bool:
    """Return whether a minus sign hugs a figure: no receipt means that, so it is marked and not reckoned."""
    if not at or line[at].kind != "number" or line[at - 1].text not in ("-", "\N{MINUS SIGN}"):
        return False
    free = at == 1 or line[at - 2].end < line[at - 1].start  # else it is a hyphen or a range
    return free and line[at - 1].end == line[at].start


def _sized_unit(line: Sequence[Token], at: int) -> Mark | None:
    """Read a spoon, cup, glass or hand behind a word of its size: a small teacupful, 2 large handfuls."""
    size = mark_at(line, at)
    if size is None or "size" not in size.meanings:
        return None
    unit = unit_at(line, size.after)
    return unit if unit and unit.meanings["unit"].value.endswith(_OF_NO_SYSTEM) else None


def _measured_by(line: Sequence[Token], unit: str, at: int) -> tuple[str, int]:
    """Read "8 oz. by measure", "8 oz. (by measure)": fluid ounces, whatever the thing is."""
    if unit not in _BY_MEASURE:
        return unit, at
    opened = at < len(line) and line[at].text in (",", "(")
    start = at + 1 if opened else at
    words = " ".join(token.text.lower() for token in line[start : start + 2])
    after = start + 2
    if words not in _MEASURED:
        return unit, at
    if not opened or line[at].text == ",":
        return _BY_MEASURE[unit], after
    return (_BY_MEASURE[unit], after + 1) if after < len(line) and line[after].text == ")" else (unit, at)
