"""Amounts that a scan or a worn type has spoilt: what else they may have been, and why.

A repair never replaces a plain reading. Where the print reads as it stands, that is the item's amount and the repair
another reading; only where it makes no sense (``3ij``, ``l oz.``, ``3i ounces``) the repair comes first, and then the
item is never certain. Which signs a scan takes for which are rows of the notation table (meaning ``scan``).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from dataclasses import replace as changed
from functools import cache, lru_cache

from reconlab.reading.parallel import checked
from reconlab.reading.quantities import Found
from reconlab.reading.roman import roman
from reconlab.reading.tokens import Token, mark_at, number
from reconlab.reasons import Standing
from reconlab.receipts import Amount, Item, Line, Measured, Quantity, Reading
from reconlab.tables import Notation, rows

# A whole number run into the fraction behind it, with its stroke ("21/2" for 2½) or without ("112" for 1½).
_RUN_IN = re.compile(r"(?P<whole>\d+)(?P<above>[1357])/(?P<below>[248])(?!\d)")
_RUN_IN_THIRDS = re.compile(r"(?P<whole>\d+)(?P<above>[12])/(?P<below>3)(?!\d)")
_STROKE_LOST = re.compile(r"(?P<whole>\d)(?P<above>[13])(?P<below>[24])(?!\d)")
_HYPHEN = re.compile(r"(?P<above>[137])\s?-\s?(?P<below>[248])(?![\d/]|\s*an?\b)")  # 1-2 for ½, in American books
_LONE_LETTER = re.compile(r"(?P<letter>[JjIil])\b")
_NUMERAL = re.compile(r"(?:[ivxj]{1,5}(?:ss|ß)?|ss|ß)", re.IGNORECASE)
_HALF_SIGNS = "iJjh^$\N{POUND SIGN}"  # behind a figure: what scans make of ½
_LOST = "$^\N{POUND SIGN}\N{REPLACEMENT CHARACTER}\N{INVERTED QUESTION MARK}"
_PLAIN = re.compile(r"\d{1,2} [a-z]|[a-z]{3}", re.IGNORECASE)  # a short number or a word: nothing is lost in it
_TORN = re.compile(r"\d*\s?[lI]/\d|\d+[OolI]\b|[l!]\s|f(?:ix|even)\b|halfan?\b")


@dataclass(frozen=True, slots=True)
class Doubt:
    """Another reading of a quantity, how sure it is, and why."""

    quantity: Quantity
    standing: Standing
    because: str


def other_readings(quantity: Quantity, *, behind_dots: bool = False) -> tuple[Doubt, ...]:
    """Return what else a quantity may have been before it was spoilt.

    Parameters
    ----------
    quantity : Quantity
        As read.
    behind_dots : bool
        Whether a row of dots leads up to it, the last of which may be taken for a decimal point.

    Returns
    -------
    tuple of Doubt
        None where the figures raise no doubt.

    Examples
    --------
    >>> from reconlab.reading.quantities import quantity_at
    >>> from reconlab.reading.tokens import tokens
    >>> (doubt,) = other_readings(quantity_at(tokens("112 oz."), 0).quantity)
    >>> doubt.quantity.parts[0].amount.value, doubt.standing
    (1.5, 'possible')
    """
    printed = quantity.parts[0].amount.printed
    if quantity.parts[0].written != "sign" and _PLAIN.match(printed):
        return ()
    found = [*_figures(quantity, printed, behind_dots=behind_dots), *_signs(quantity, printed)]
    return tuple(found)


def is_torn(quantity: Quantity) -> bool:
    """Return whether the figures of a quantity were mended in reading it.

    Parameters
    ----------
    quantity : Quantity
        As read.

    Returns
    -------
    bool
        Whether they were.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> is_torn(torn_at(tokens("1O oz"), 0).quantity)
    True
    """
    return _TORN.match(quantity.parts[0].amount.printed) is not None


def damaged_at(line: Sequence[Token], at: int) -> Found | None:
    """Return the amount that starts at a token, if print that makes no sense as it stands can be mended into one.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Found or None
        The likeliest mending.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> part = damaged_at(tokens("3ij."), 0).quantity.parts[0]
    >>> part.amount.value, part.unit
    (2.0, 'drachm')
    """
    return _typed_fraction(line, at) or _scanned_sign(line, at) or _lost_figure(line, at)


def torn_at(line: Sequence[Token], at: int) -> Found | None:
    """Return the amount that starts at a token whose figures run into letters, as in "1O oz.", "3i ounces", "l oz.".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Found or None
        The likeliest mending.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> torn_at(tokens("3i ounces"), 0).quantity.parts[0].amount.value
    3.5
    """
    token = line[at]
    if token.text in ("l", "!"):
        return _l_for_one(line, at, 0, at)
    if at + 1 >= len(line) or not token.text.isdecimal():
        return None
    behind = line[at + 1]
    if behind.text in ("l", "I") and at + 2 < len(line) and line[at + 2].text == "/":
        return _l_for_one(line, at + 1, int(token.text), at)
    digits = token.text + behind.text.translate(_AS_FIGURES)
    value = float(digits) if digits.isdecimal() and behind.kind == "word" else None
    if value is None and behind.text and behind.text in _HALF_SIGNS:
        value = int(token.text) + 0.5
    return _before_unit(line, at, at + 2, value) if value is not None and behind.start == token.end else None


_AS_FIGURES = str.maketrans("OolI", "0011")


@lru_cache(maxsize=1 << 14)
def may_be_figure(word: str) -> bool:
    """Return whether a word that the notation table does not know may still be a number, whole or spoilt.

    Parameters
    ----------
    word : str
        One word.

    Returns
    -------
    bool
        Whether it may.

    Examples
    --------
    >>> may_be_figure("Zij"), may_be_figure("xv"), may_be_figure("zinc")
    (True, True, False)
    """
    scanned = word[0].lower() in _scans() and (len(word) == 1 or _NUMERAL.fullmatch(word[1:]) is not None)
    return word in ("l", "f") or scanned or roman(word) is not None


def may_be_sign(mark: str) -> bool:
    """Return whether a mark that is no word may stand where a figure or the sign of a weight was lost.

    Parameters
    ----------
    mark : str
        One mark of punctuation or the like.

    Returns
    -------
    bool
        Whether it may.

    Examples
    --------
    >>> may_be_sign("$"), may_be_sign(",")
    (True, False)
    """
    return mark == "!" or mark in _LOST or mark in _scans()


def out_of_pattern(item: Item, others: Sequence[Item]) -> Item:
    """Return an item whose figure is far from all others of its unit, with the fraction it may have been.

    Parameters
    ----------
    item : Item
        One item of a receipt.
    others : sequence of Item
        The other items.

    Returns
    -------
    Item
        The same, or one no longer certain with another reading: "12 oz." among ounces and half ounces may be ½.

    Examples
    --------
    >>> from reconlab.reading.lines import read_line
    >>> lines = [read_line(text, 1, among_ingredients=True) for text in ("Wax 14 lb.", "Lard 1 lb.", "Oil 1 lb.")]
    >>> wax, *others = [line.items[0] for line in lines]
    >>> out_of_pattern(wax, others).readings[0].because
    '14 may be 1/4: it is far from the other amounts of this receipt'
    """
    parts = item.quantities[0].parts if item.quantities else ()
    figure = re.match(r"([1357])([248])(?!\d|[./,-])", parts[0].amount.printed) if len(parts) == 1 else None
    if figure is None or int(figure[1]) >= int(figure[2]) or item.readings:
        return item
    beside = [
        part.amount.value
        for other in others
        for quantity in other.quantities[:1]
        for part in quantity.parts[:1]
        if part.unit == parts[0].unit and part.amount.value
    ]
    value = float(figure[0])
    if len(beside) < _FEW or value < _FAR * max(beside):
        return item
    because = f"{figure[0]} may be {figure[1]}/{figure[2]}: it is far from the other amounts of this receipt"
    other = _with_value(item.quantities[0], int(figure[1]) / int(figure[2]), f"{figure[1]}/{figure[2]}", figure.end())
    reading = Reading(changed(item, quantities=(other, *item.quantities[1:])), "possible", because)
    return changed(item, certain=False, readings=(reading,))


def in_pattern(lines: Sequence[Line]) -> tuple[Line, ...]:
    """Return the lines of a receipt, with the amounts that break its pattern no longer certain.

    Parameters
    ----------
    lines : sequence of Line
        The lines of one receipt.

    Returns
    -------
    tuple of Line
        The same lines.

    Examples
    --------
    >>> from reconlab.reading.lines import read_line
    >>> lines = [read_line(text, 1, among_ingredients=True) for text in ("Wax 14 lb.", "Lard 1 lb.", "Oil 1 lb.")]
    >>> [item.certain for line in in_pattern(lines) for item in line.items]
    [False, True, True]
    """
    by_unit: dict[str | None, list[Item]] = {}
    for item in (item for line in lines for item in line.items):
        if _first(item) is not None:
            by_unit.setdefault(item.quantities[0].parts[0].unit, []).append(item)
    # the greatest tell the pattern; one of them may be the item itself
    most = {unit: sorted(items, key=_value, reverse=True)[: _FEW + 1] for unit, items in by_unit.items()}
    return tuple(changed(line, items=tuple(_beside(item, most) for item in line.items)) for line in lines)


def _first(item: Item) -> Measured | None:
    """Return the first part of an item's amount."""
    return item.quantities[0].parts[0] if item.quantities and item.quantities[0].parts else None


def _value(item: Item) -> float:
    part = _first(item)
    return (part.amount.value if part is not None else None) or 0


def _beside(item: Item, most: Mapping[str | None, Sequence[Item]]) -> Item:
    part = _first(item)
    others = most[part.unit] if part is not None else ()
    return checked(out_of_pattern(item, [each for each in others if each is not item]))


_FEW = 2
_FAR = 4  # times the greatest other amount


def _with_value(quantity: Quantity, value: float, figures: str, end: int) -> Quantity:
    """Return a quantity with another number in its first part; what is printed behind the figures stays."""
    first = quantity.parts[0]
    amount = Amount(value, value, value, figures + first.amount.printed[end:])
    return Quantity((Measured(amount, first.unit, first.written), *quantity.parts[1:]), quantity.column)


def _figures(quantity: Quantity, printed: str, *, behind_dots: bool) -> Iterator[Doubt]:
    if behind_dots and (whole := re.match(r"\.(\d+)", printed)):
        because = f"the point of {whole[0]} may be the last of the dots before it"
        yield Doubt(_with_value(quantity, float(whole[1]), whole[1], whole.end()), "possible", because)
        return
    stroke = _RUN_IN.match(printed) or _RUN_IN_THIRDS.match(printed)
    match = stroke or _STROKE_LOST.match(printed)
    if match and int(match["above"]) < int(match["below"]):
        figures = f"{match['whole']} {match['above']}/{match['below']}"
        value = int(match["whole"]) + int(match["above"]) / int(match["below"])
        because = f"{match[0]} may be {figures}: the fraction has run into the whole number"
        yield Doubt(_with_value(quantity, value, figures, match.end()), "likely" if stroke else "possible", because)
    hyphen = _HYPHEN.match(printed)
    if hyphen and int(hyphen["above"]) < int(hyphen["below"]):
        figures = f"{hyphen['above']}/{hyphen['below']}"
        because = f"{hyphen[0]} may be {figures}, set with a hyphen for a stroke"
        value = int(hyphen["above"]) / int(hyphen["below"])
        yield Doubt(_with_value(quantity, value, figures, hyphen.end()), "possible", because)


def _signs(quantity: Quantity, printed: str) -> Iterator[Doubt]:
    """Yield what a letter or a sign behind a figure may have been."""
    letter = _LONE_LETTER.match(printed)
    if letter and quantity.parts[0].written != "sign" and len(printed) > 1:
        half = _with_value(quantity, 0.5, "1/2", letter.end())
        standing: Standing = "likely" if letter["letter"] in "Jj" else "possible"
        yield Doubt(half, standing, f"a scan may take the sign of a half for {letter['letter']}")
    scanned = re.match(rf"f?\s?(?P<sign>\D|\d)\s?{_NUMERAL.pattern}\b", printed, re.IGNORECASE)
    row = _scans().get(scanned["sign"].lower()) if scanned else None
    if row is not None and quantity.parts[0].written == "sign":
        first = quantity.parts[0]
        fluid = "fluid_" if str(first.unit).startswith("fluid_") else ""
        for unit in (f"{fluid}{other}" for other in row.value.split()[1:]):
            other = Quantity((Measured(first.amount, unit, "sign"), *quantity.parts[1:]), quantity.column)
            yield Doubt(
                other, "possible", f"a scan takes the sign of the {unit.replace('_', ' ')} for {row.printed} too"
            )
    suffix = re.match(rf"(\d+)[{re.escape(_HALF_SIGNS)}]", printed)
    if suffix and quantity.parts[0].written != "sign":
        whole = int(suffix[1])
        for above in (1, 3):
            figures = f"{whole} {above}/4"
            because = f"a scan may take the sign of {above}/4 for {printed[suffix.end() - 1]}"
            yield Doubt(_with_value(quantity, whole + above / 4, figures, suffix.end()), "possible", because)
    eleven = re.match(r"(\d+)[lI]\b", printed)
    if eleven:
        half = _with_value(quantity, int(eleven[1]) + 0.5, f"{eleven[1]} 1/2", eleven.end())
        yield Doubt(half, "possible", f"a scan may take the sign of a half for {printed[eleven.end() - 1]}")


@cache
def _scans() -> dict[str, Notation]:
    return {row.printed: row for row in rows(Notation) if row.meaning == "scan"}


_WITHIN = ("g", "j")  # letters that stand for a sign only at the head of a word: gviij, Jij


def _scanned_sign(line: Sequence[Token], at: int) -> Found | None:
    """Read ``3ij``, ``f3ij``, ``5ss``, ``Zij``: a sign that a scan took for a figure or a letter."""
    fluid = line[at].text == "f" and at + 1 < len(line) and line[at + 1].start - line[at].end <= 1
    first = at + fluid
    token = line[first]
    row = _scans().get(token.text.lower())
    numeral, after = (line[first + 1].text, first + 2) if row is not None and first + 1 < len(line) else ("", first)
    if row is not None and (token.text.lower() in _WITHIN or line[first + 1 :][:1] == ()):
        return None
    if row is not None and line[first + 1].start - token.end > (len(numeral) > 1):
        return None
    if row is None and token.kind == "word" and len(token.text) > 1 and _NUMERAL.fullmatch(token.text[1:]):
        row, numeral, after = _scans().get(token.text[0].lower()), token.text[1:], first + 1
    value = roman(numeral) if _NUMERAL.fullmatch(numeral) else None
    if row is None or value is None:
        return None
    unit = f"{'fluid_' if fluid else ''}{row.value.split()[0]}"
    amount = Amount(float(value), float(value), float(value), _printed(line, at, after))
    return Found(Quantity((Measured(amount, unit, "sign"),)), after)


def _l_for_one(line: Sequence[Token], at: int, whole: int, first: int) -> Found | None:
    below = line[at + 2] if at + 2 < len(line) and line[at + 1].text == "/" else None
    if below is None:
        return _before_unit(line, first, at + 1, 1.0)
    value = number(below.text) if below.kind == "number" and below.text.isdecimal() else 0
    return _before_unit(line, first, at + 3, float(whole + 1 / value)) if value else None


def _typed_fraction(line: Sequence[Token], at: int) -> Found | None:
    """Read "1-2 an oz.": the article says that it is a fraction."""
    run = [token.text for token in line[at : at + 4]]
    if run[1:2] != ["-"] or run[3:] not in (["a"], ["an"]) or not (run[0] + run[2]).isdecimal():
        return None
    above, below = int(run[0]), int(run[2])
    return _before_unit(line, at, at + 4, above / below) if 0 < above < below else None


def _lost_figure(line: Sequence[Token], at: int) -> Found | None:
    """Read "$ oz.": a fraction stood there that nobody can read."""
    return _before_unit(line, at, at + 1, None) if line[at].kind == "point" and line[at].text in _LOST else None


def _before_unit(line: Sequence[Token], first: int, at: int, value: float | None) -> Found | None:
    mark = mark_at(line, at) if at < len(line) else None
    row = mark.meanings.get("unit") if mark is not None else None
    if mark is None or row is None:
        return None
    amount = Amount(value, value, value, _printed(line, first, mark.after))
    return Found(Quantity((Measured(amount, row.value, row.written),)), mark.after)


def _printed(line: Sequence[Token], at: int, after: int) -> str:
    return "".join((" " if n > at and line[n].start > line[n - 1].end else "") + line[n].text for n in range(at, after))
