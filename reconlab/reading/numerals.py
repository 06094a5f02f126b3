"""How many? Printed numbers, in figures, words and Roman letters, beside a unit: ten to thirty."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from reconlab.reading.roman import roman
from reconlab.reading.tokens import Mark, Token, mark_at, number
from reconlab.reading.units_in_tongues import Number, unit_at

_BEHIND_FRACTION = ("de", "d'", "d\N{RIGHT SINGLE QUOTATION MARK}", "\N{LATIN SMALL LETTER A WITH GRAVE}")
ANDS = ("and", "&", "et", "und")
JOINS = (
    "to",
    "or",
    "-",
    "\N{EN DASH}",
    "\N{EM DASH}",
    "ou",
    "\N{LATIN SMALL LETTER A WITH GRAVE}",
    "bis",
    "oder",
    "vel",
)


def range_at(line: Sequence[Token], at: int) -> Number | None:
    """Return the number at a token, or two joined by "to", "or" or a dash.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Number or None
        None where no number starts here.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> range_at(tokens("ten to thirty drops"), 0)[:2]
    (Fraction(10, 1), Fraction(30, 1))
    """
    low = _count(line, at)
    if low is None or low.after >= len(line):
        return low
    between = at > 0 and line[at - 1].text.lower() == "between" and line[low.after].text.lower() == "and"
    if line[low.after].text.lower() not in JOINS and not between:
        return low
    if line[low.after].text == "\N{EM DASH}" and _counts_receipts(line, at):
        return low  # "No. 1\u20142 oz. of borax"
    high = _count(line, low.after + 1)
    if high and high.high < low.low and _joins_figures(line, low.after) and unit_at(line, high.after):
        return Number(high.low, low.high, high.after)  # 25-10 parts
    return Number(low.low, high.high, high.after) if high and high.high > low.low else low


def _joins_figures(line: Sequence[Token], at: int) -> bool:
    """Return whether a dash hugs the whole figures on both sides of it."""
    before, behind = line[at - 1], line[at + 1]
    whole = before.text.isdecimal() and behind.text.isdecimal()
    return whole and before.end == line[at].start and line[at].end == behind.start


def _count(line: Sequence[Token], at: int) -> Number | None:
    """Read one number in figures, words or Roman letters before a unit."""
    if at >= len(line):
        return None
    token = line[at]
    if token.kind == "number":
        value = number(token.text)
        return Number(value, value, at + 1)
    numeral = roman(token.text) if token.kind == "word" and token.text.lower() not in ("l", "c", "cc") else None
    behind = at + 2 if at + 1 < len(line) and line[at + 1].text == "." else at + 1
    if numeral and unit_at(line, behind):
        return Number(numeral, numeral, behind)
    return words_at(line, at)


_TEN, _DOZEN, _TWENTY, _HUNDRED = 10, 12, 20, 100
_LONGEST_IN_WORDS = 16  # tokens; a longer run is no number, and is not to be read again from each word


def _is_only_unit(line: Sequence[Token], at: int) -> bool:
    """Return whether a unit stands here and no number: "un demi-setier", but not "un quart d'once"."""
    unit = unit_at(line, at)
    return unit is not None and not is_number(line, unit)


def words_at(line: Sequence[Token], at: int) -> Number | None:
    """Return a number in words: twenty-five, half a, three-quarters of an, one and a half, two dozen.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Number or None
        None where no such words start here.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> words_at(tokens("three-quarters of an ounce"), 0).low
    Fraction(3, 4)
    """
    value = _word_value(line, at)
    if value is None:
        return None
    total, after = value
    tens = _word_value(line, after + 1) if total < _TEN and line[after : after + 1] else None
    if tens and line[after].text.lower() == "und" and _TWENTY <= tens[0] < _HUNDRED:  # vier und zwanzig
        return Number(total + tens[0], total + tens[0], tens[1])
    while after - at < _LONGEST_IN_WORDS and not _is_only_unit(line, after):
        following = _word_value(line, after)
        if following is None:
            break
        step = following[0]
        if step < 1 or step == _DOZEN or step >= _HUNDRED:  # a fraction, dozens, hundreds multiply
            total *= step
        elif total >= _TWENTY and step < _TEN:  # twenty-five
            total += step
        else:
            break
        after = following[1]
    if total < 1:
        article = past_article(line, after)
        after = article if article < len(line) and unit_at(line, article) is not None else after  # demie de pommade
        hyphen = after + 1 < len(line) and line[after].text == "-" and unit_at(line, after + 1) is not None
        after += hyphen  # half-ounce, demi-once
        return Number(total, total, after)
    half = _and_fraction(line, after)
    return Number(total + half[0], total + half[0], half[1]) if half else Number(total, total, after)


def _word_value(line: Sequence[Token], at: int) -> tuple[Fraction, int] | None:
    if at < len(line) and line[at].text == "-":
        at += 1
    mark = mark_at(line, at)
    if mark and mark.after > at + 1 and (unit := unit_at(line, mark.after - 1)) and unit.after > mark.after:
        mark = mark_at(line[: mark.after - 1], at)  # un demi-setier: the half belongs to the unit
    if mark is None or not is_number(line, mark):
        return None
    return Fraction(mark.meanings["number"].value), mark.after


def is_part_of_unit(mark: Mark) -> bool:
    """Return whether a word is a part of a unit: the Viertelpfund, the quarteron (of the pound).

    Parameters
    ----------
    mark : Mark
        The word.

    Returns
    -------
    bool
        Whether it is a number and a unit at once, in one tongue.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> is_part_of_unit(mark_at(tokens("ein Viertelpfund"), 1))
    True
    """
    number_row, unit_row = mark.meanings.get("number"), mark.meanings.get("unit")
    return number_row is not None and unit_row is not None and number_row.language == unit_row.language


def is_number(line: Sequence[Token], mark: Mark) -> bool:
    """Return whether a mark is a number here: the "quart" of "un quart d'once" is one, that of "a quart of" is not.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    mark : Mark
        The word.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("un quart d'once")
    >>> is_number(line, mark_at(line, 1))
    True
    """
    if "number" not in mark.meanings or is_part_of_unit(mark):
        return False
    if "unit" not in mark.meanings:
        return True
    behind = past_article(line, mark.after)
    return behind > mark.after and line[mark.after].text.lower() != "of" and unit_at(line, behind) is not None


_ARTICLES = (
    ("of", "a"),
    ("of", "an"),
    ("d'", "une"),
    ("d'", "un"),
    ("d\N{RIGHT SINGLE QUOTATION MARK}", "une"),
    ("d\N{RIGHT SINGLE QUOTATION MARK}", "un"),
    ("von", "einem"),
    ("von", "einer"),
    ("eines",),
    ("einer",),
    ("a",),
    ("an",),
    ("de",),
    ("d'",),
    ("d\N{RIGHT SINGLE QUOTATION MARK}",),
)


def past_hyphen(line: Sequence[Token], at: int) -> int:
    """Pass over the hyphen of "half-ounce", "half-an-ounce".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    int
        The token behind [1].

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> past_hyphen(tokens("half-ounce"), 1)
    2
    """
    hugged = 0 < at < len(line) - 1 and line[at - 1].end == line[at].start and line[at].end == line[at + 1].start
    return at + 1 if hugged and line[at].text == "-" else at


def past_article(line: Sequence[Token], at: int) -> int:
    """Pass over "a", "an", "of a" between a fraction and its unit.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    int
        The token behind [1].

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> past_article(tokens("half of a pint"), 1)
    3
    """
    for words in _ARTICLES:
        after = at
        for word in words:
            after = past_hyphen(line, after)
            if after >= len(line) or line[after].text.lower() != word:
                break
            after += 1
        else:
            return after
    return at


def _and_fraction(line: Sequence[Token], at: int) -> tuple[Fraction, int] | None:
    """Read "and a half", "and one-half", "et semis", with a comma before or without."""
    parted = at + 1 < len(line) and line[at].text == "," and line[at + 1].text.lower() == "and"
    if parted and at + 2 < len(line) and line[at + 2].text.lower() in ("a", "an"):
        at += 1
    if at >= len(line) or line[at].text.lower() not in (*ANDS, "cum"):
        return None
    following = words_at(line, at + 1)
    if following is None or following.low >= 1:
        return None
    return following.low, following.after


def with_fraction_behind(line: Sequence[Token], count: Number, after: int) -> tuple[Number, int]:
    """Add "and a half" printed behind the unit, unless a unit of its own follows.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    count : Number
        The number before the unit.
    after : int
        Token behind the unit [1].

    Returns
    -------
    Number
        The number with it.
    int
        The token behind [1].

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("2 drachms and a half")
    >>> with_fraction_behind(line, range_at(line, 0), 2)[0].low
    Fraction(5, 2)
    """
    half = _and_fraction(line, after) or _lone_fraction(line, count, after) or _quarters_behind(line, count, after)
    if half is None or unit_at(line, half[1]):
        return count, after
    return Number(count.low + half[0], count.high + half[0], half[1]), half[1]


def _lone_fraction(line: Sequence[Token], count: Number, after: int) -> tuple[Fraction, int] | None:
    """Read the fraction of "1 liv. 1/2", "2 onces ½ de cire": it belongs to the unit before it, as none follows."""
    if after >= len(line) or line[after].kind != "number" or line[after - 1].kind == "number":
        return None
    value = number(line[after].text)
    ends = after + 1 == len(line) or line[after + 1].text.lower() in (*_BEHIND_FRACTION, ",", ";", ".", ")", "|")
    whole = count.low == count.high == int(count.low)
    plain = any(sign in line[after].text for sign in "/\N{FRACTION SLASH}") or not line[after].text.isascii()
    return (value, after + 1) if ends and whole and plain and 0 < value < 1 else None


def _counts_receipts(line: Sequence[Token], at: int) -> bool:
    """Return whether a number says which receipt it is: "No. 1", "Ex. 2"."""
    before = at - 2 if at > 1 and line[at - 1].text == "." else at - 1
    return before >= 0 and line[before].text.lower() in ("no", "nr", "ex", "form", "n")


def _quarters_behind(line: Sequence[Token], count: Number, after: int) -> tuple[Fraction, int] | None:
    """Read "one pound three quarters of flour": a fraction in words behind a word's unit, of the thing and no unit."""
    if after >= len(line) or line[after].kind != "word" or line[after - 1].kind != "word":
        return None
    share = words_at(line, after)
    if share is None or not 0 < share.low < 1 or share.after >= len(line) or line[share.after].text.lower() != "of":
        return None
    whole = count.low == count.high == int(count.low)
    of_unit = unit_at(line, share.after + 1) or unit_at(line, share.after + 2)
    thing = share.after + 1 < len(line) and line[share.after + 1].text.lower() not in _BACK  # half of which
    return (share.low, share.after) if whole and thing and of_unit is None else None


_BACK = ("which", "it", "this", "that", "them", "these", "the", "whom")


def numerals_at(line: Sequence[Token], at: int) -> Number | None:
    """Return a numeral behind its unit, or two as a range: gtt. x vel xx, gr. v-x.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Number or None
        None where no numeral starts here.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> numerals_at(tokens("gr. v-x"), 2)[:2]
    (Fraction(5, 1), Fraction(10, 1))
    """
    low = _numeral(line, at)
    if low is None or low.after + 1 >= len(line) or line[low.after].text.lower() not in JOINS:
        return low
    high = _numeral(line, low.after + 1)
    unit = high is not None and unit_at(line, high.after) is not None
    return Number(low.low, high.high, high.after) if high and not unit and high.high > low.low else low


def _numeral(line: Sequence[Token], at: int) -> Number | None:
    if at >= len(line):
        return None
    token = line[at]
    if token.kind == "number":
        return Number(number(token.text), number(token.text), at + 1)
    if token.kind == "word":
        value = roman(token.text)
        if value is not None:
            after = at + 2 if at + 1 < len(line) and line[at + 1].text == "." else at + 1
            if after < len(line) and line[after].text.lower() == "ss" and value == int(value):
                return Number(value + Fraction(1, 2), value + Fraction(1, 2), after + 1)
            return Number(value, value, after)
    mark = mark_at(line, at)
    if mark is not None and "number" in mark.meanings and mark.meanings["number"].language == "la":
        value = Fraction(mark.meanings["number"].value)
        return Number(value, value, mark.after)
    return None


def with_semis(line: Sequence[Token], numeral: Number) -> Number:
    """Add the single s that old hands write for semis: "\u0292 i s".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    numeral : Number
        What stands before it.

    Returns
    -------
    Number
        The number with it.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("\u0292 i s")
    >>> with_semis(line, numerals_at(line, 1)).low
    Fraction(3, 2)
    """
    semis = semis_at(line, numeral.after)
    whole = numeral.low == numeral.high == int(numeral.low)
    if semis is None or not line[numeral.after - 1].text.isalpha() or not whole:
        return numeral
    half = numeral.low + semis.low
    return Number(half, half, semis.after)


def semis_at(line: Sequence[Token], at: int) -> Number | None:
    """Return the half that one letter alone stands for behind a sign: "\u0292 s".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token behind the sign or its numeral [1].

    Returns
    -------
    Number or None
        None where the letter begins or belongs to a word.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> semis_at(tokens("\u0292 s"), 1).low, semis_at(tokens("\u0292 s. a."), 1)
    (Fraction(1, 2), None)
    """
    if at >= len(line) or line[at].text not in ("s", "\N{LATIN SMALL LETTER LONG S}"):
        return None
    stopped = at + 1 < len(line) and line[at + 1].text == "."
    behind = at + 1 + stopped
    if stopped and behind < len(line) and line[behind].kind == "word" and len(line[behind].text) == 1:
        return None  # secundum artem
    if not stopped and behind < len(line) and line[behind].kind == "word" and line[behind].start <= line[at].end + 1:
        return None
    return Number(Fraction(1, 2), Fraction(1, 2), behind)
