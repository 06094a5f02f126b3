"""Fractions and units that a scan took for other signs: "2% oz." for 2½ oz., "3 02." for 3 oz., "1 1b." for 1 lb.

What scans make of them are rows of the notation table (meaning ``scan``) of more than a sign of weight: a unit, or the
fractions it may have been, the likeliest first. Only print that makes no sense as it stands is mended, before a unit,
and an amount so mended is never certain.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cache, lru_cache
from typing import NamedTuple

from reconlab.reading.quantities import Found, count_at
from reconlab.reading.tokens import Token, mark_at, number, printed_of
from reconlab.receipts import Amount, Measured, Quantity
from reconlab.tables import Notation, rows

_LONGEST = 4  # tokens that a misread unit may fall into: fl . 0 z
_ONE_LETTER = ("l", "L", "I")


class _Taken(NamedTuple):
    values: tuple[str, ...]  # what the signs may have been, the likeliest first
    after: int


def scanned_at(line: Sequence[Token], at: int) -> Found | None:
    """Return the amount that starts at a token, if a fraction or a unit in it was misread by a scan.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Found or None
        The likeliest mending; None where the print makes sense as it stands, or none that way.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> for text in ("2% oz.", "3 02.", "30z.", "% lb."):
    ...     part = scanned_at(tokens(text), 0).quantity.parts[0]
    ...     print(part.amount.value, part.unit)
    2.5 ounce
    3.0 ounce
    3.0 ounce
    0.5 pound
    >>> scanned_at(tokens("2 oz."), 0) is None
    True
    """
    token = line[at]
    if at and line[at - 1].end == token.start and line[at - 1].text in (".", "-") and token.kind == "number":
        return None
    joined = _joined_unit(line, at)
    if joined is not None:
        return joined
    whole, behind = _whole(line, at)
    fraction = _taken(line, behind, _fractions())
    if fraction is not None and (whole == int(whole)):
        unit = _unit(line, fraction.after)
        if unit is not None:
            value = whole + Fraction(fraction.values[0])
            return _found(line, at, value, unit)
        return None
    count = count_at(line, at, "")
    after = max(at, behind)
    value = whole
    if count is not None and token.kind != "number":
        part = count.quantity.parts[0].amount
        if part.value is None or part.low != part.high:
            return None
        value, after = Fraction(part.value).limit_denominator(1000), count.after
    misread = _taken(line, after, _units()) if after > at else None
    return _found(line, at, value, misread) if misread is not None and _ends(line, misread.after) else None


def may_be_scanned(token: Token) -> bool:
    """Return whether a misread fraction may start at a token.

    Parameters
    ----------
    token : Token
        One token.

    Returns
    -------
    bool
        Whether it may.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> [may_be_scanned(token) for token in tokens("% Yz oil")]
    [True, True, False]
    """
    return token.text.lower() in _first_signs() or token.text in _ONE_LETTER


def fractions_of(printed: str, unit: str | None) -> Iterator[tuple[float, str, str]]:
    """Yield what else a misread fraction at the head of a printed amount may have been.

    Parameters
    ----------
    printed : str
        The amount as printed, with its unit.
    unit : str or None
        The unit it was read in: a real percentage is no misread fraction.

    Yields
    ------
    tuple
        The value [1], its figures, and the misread sign.

    Examples
    --------
    >>> [figures for _, figures, _ in fractions_of("2% oz.", "ounce")]
    ['2 1/4', '2 3/4']
    """
    found = _fraction_printed().match(printed) if unit != "percent" else None
    if found is None:
        return
    whole = found["whole"]
    for value in _fractions()[found["sign"].lower().replace(" ", "")][1:]:
        yield float(int(whole or 0) + Fraction(value)), f"{whole} {value}".strip(), found["sign"]
    if whole.endswith("4") and found["sign"] == "%":  # "14%" for 1½: the bar of the fraction was taken for a 4
        rest = whole[:-1]
        sign = printed[found.end("whole") - 1 : found.end("sign")]
        yield float(int(rest or 0) + Fraction(1, 2)), f"{rest} 1/2".strip(), sign


def far_fractions(figures: str) -> Iterator[tuple[float, str]]:
    """Yield the fractions that two figures far from all others may have been.

    Parameters
    ----------
    figures : str
        Two figures.

    Yields
    ------
    tuple
        The value [1], and its figures.

    Examples
    --------
    >>> list(far_fractions("14")), list(far_fractions("42"))
    ([(0.25, '1/4'), (1.5, '1 1/2'), (1.25, '1 1/4')], [(0.5, '1/2')])
    """
    first, second = map(int, figures)
    if first % 2 and first < second:
        yield first / second, f"{first}/{second}"
    if figures[1] == "4":
        yield from ((first + part, f"{first} {shown}") for part, shown in ((0.5, "1/2"), (0.25, "1/4")))
    if figures == "42":
        yield 0.5, "1/2"


@lru_cache(maxsize=1 << 14)
def is_scanned(printed: str, unit: str | None) -> bool:
    """Return whether a printed amount holds a fraction or a unit that was misread.

    Parameters
    ----------
    printed : str
        The amount as printed, with its unit.
    unit : str or None
        The unit it was read in.

    Returns
    -------
    bool
        Whether it does.

    Examples
    --------
    >>> is_scanned("3 02.", "ounce"), is_scanned("2%", "percent")
    (True, False)
    """
    return _unit_printed().search(printed) is not None or (
        unit != "percent" and _fraction_printed().match(printed) is not None
    )


@cache
def _rows() -> Mapping[str, tuple[str, ...]]:
    return {
        row.printed.replace(" ", ""): tuple(row.value.split())
        for row in rows(Notation)
        if row.meaning == "scan" and row.language != "la"
    }


@cache
def _fractions() -> Mapping[str, tuple[str, ...]]:
    return {printed: values for printed, values in _rows().items() if values[0][0].isdigit()}


@cache
def _units() -> Mapping[str, tuple[str, ...]]:
    return {printed: values for printed, values in _rows().items() if not values[0][0].isdigit()}


@cache
def _first_signs() -> frozenset[str]:
    letters = re.compile(r"[a-z]+|\d+|[^a-z\d]")
    return frozenset(found[0] for printed in _fractions() if (found := letters.match(printed)))


@cache
def _fraction_printed() -> re.Pattern[str]:
    signs = "|".join(
        re.escape(sign) + (r"(?!\w)" if sign.isalnum() else r"(?![\d/])")
        for sign in sorted(_fractions(), key=len, reverse=True)
    )
    return re.compile(rf"(?P<whole>\d*)\s?(?P<sign>{signs})", re.IGNORECASE)


@cache
def _unit_printed() -> re.Pattern[str]:
    units = sorted((unit for unit in _units()), key=len, reverse=True)
    loose = "|".join(r"\.?\s?".join(re.escape(part) for part in re.findall(r"fl|.+", unit)) for unit in units)
    return re.compile(rf"(?:{loose})\.?$", re.IGNORECASE)


def _whole(line: Sequence[Token], at: int) -> tuple[Fraction, int]:
    """Return the number in figures that starts at a token, and the token behind it; nought where none does."""
    token = line[at]
    if token.kind == "number" and (token.text[0] != "0" or not token.text.isdecimal()):
        return number(token.text), at + 1
    return (Fraction(1), at + 1) if token.text in _ONE_LETTER else (Fraction(0), at)


def _taken(line: Sequence[Token], at: int, known: Mapping[str, tuple[str, ...]]) -> _Taken | None:
    """Return the longest run of tokens from here, blanks and stops left out, that is a misread sign."""
    best = None
    text = ""
    for after in range(at, min(at + _LONGEST, len(line))):
        token = line[after]
        hugs = after == at or token.start == line[after - 1].end or text == "fl"
        if not hugs:
            break
        text += token.text.lower() if token.text != "." else ""
        if text in known:
            best = _Taken(known[text], after + 1)
    if best is None:
        return None
    stop = best.after < len(line) and line[best.after].text == "." and known is _units()
    return _Taken(best.values, best.after + stop)


def _unit(line: Sequence[Token], at: int) -> _Taken | None:
    mark = mark_at(line, at) if at < len(line) else None
    if mark is not None and "unit" in mark.meanings and mark.meanings["unit"].value != "percent":
        return _Taken((mark.meanings["unit"].value,), mark.after)
    misread = _taken(line, at, _units())
    return misread if misread is not None and _ends(line, misread.after) else None


def _ends(line: Sequence[Token], at: int) -> bool:
    """Return whether a unit may end before a token: no letter or figure hugs it, and no amount goes on."""
    if at >= len(line):
        return True
    hugs = line[at].start == line[at - 1].end and line[at].kind in ("word", "number")
    return not hugs and line[at].text not in "/%"


def _joined_unit(line: Sequence[Token], at: int) -> Found | None:
    """Read figures run into a misread unit: "30z.", "21b."; "402." alone may be a number."""
    token = line[at]
    if token.kind != "number" or not token.text.isdecimal() or token.text[0] == "0":
        return None
    following = line[at + 1].text.lower() if at + 1 < len(line) and line[at + 1].start == token.end else ""
    for printed, values in _units().items():
        head = len(printed) - len(printed.lstrip("0123456789"))
        digits = token.text.removesuffix(printed[:head])
        if head < len(printed) and digits != token.text and digits and following == printed[head:]:
            stop = at + 2 < len(line) and line[at + 2].text == "."
            return _found(line, at, Fraction(digits), _Taken(values, at + 2 + stop)) if _ends(line, at + 2) else None
    return None


def _found(line: Sequence[Token], at: int, value: Fraction, unit: _Taken) -> Found:
    amount = Amount(float(value), float(value), float(value), printed_of(line[at : unit.after]))
    return Found(Quantity((Measured(amount, unit.values[0], "abbreviation"),)), unit.after)
