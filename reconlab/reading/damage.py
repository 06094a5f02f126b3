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

from reconlab.reading.parallel import checked, columns_told
from reconlab.reading.quantities import Found
from reconlab.reading.roman import roman
from reconlab.reading.scanned import far_fractions, fractions_of, is_scanned, may_be_scanned, scanned_at
from reconlab.reading.signs_beside import signs_told
from reconlab.reading.tokens import Token, mark_at, number, printed_of
from reconlab.reasons import Standing
from reconlab.receipts import Amount, Item, Line, Measured, Quantity, Reading
from reconlab.tables import Notation, rows

# A whole number run into the fraction behind it, with its stroke ("21/2" for 2½) or without ("112" for 1½).
_STROKE = r"[/\N{FRACTION SLASH}\N{DIVISION SLASH}]"
_RUN_IN = re.compile(rf"(?P<whole>\d+)(?P<above>[1357]){_STROKE}(?P<below>[248])(?!\d)")
_RUN_IN_THIRDS = re.compile(rf"(?P<whole>\d+)(?P<above>[12]){_STROKE}(?P<below>3)(?!\d)")
_STROKE_LOST = re.compile(r"(?P<whole>\d)(?P<above>[13])(?P<below>[24])(?!\d)")
_RUN_TOGETHER = re.compile(r"([1-9])([248])(?!\d|[./,-])")  # a fraction without its stroke, or a number: 14, 42
_HYPHEN = re.compile(r"(?P<above>[137])\s?-\s?(?P<below>[248])(?![\d/]|\s*an?\b)")  # 1-2 for ½, in American books
_LONE_LETTER = re.compile(r"(?P<letter>[JjIil])\b")
_NUMERAL = re.compile(r"(?:[ivxj]{1,5}(?:ss|ß)?|ss|ß)", re.IGNORECASE)
_SCANNED = re.compile(
    rf"f?(?P<sign>\D|\d)\s?(?:{_NUMERAL.pattern}\b|[\d\N{{VULGAR FRACTION ONE HALF}}])", re.IGNORECASE
)
_HALF_SIGNS = "iJjh^$\N{POUND SIGN}"  # behind a figure: what scans make of ½
_LOST = "$^\N{POUND SIGN}\N{REPLACEMENT CHARACTER}\N{INVERTED QUESTION MARK}"
_PLAIN = re.compile(r"\d{1,2} [a-z]|[a-z]{3}", re.IGNORECASE)  # a short number or a word: nothing is lost in it
_TORN = re.compile(r"\d*\s?[lI]/\d|\d+[OolI]\b|[lL!]\s|f(?:ix|even)\b|halfan?\b")


@dataclass(frozen=True, slots=True)
class Doubt:
    """Another reading of a quantity, how sure it is, and why."""

    quantity: Quantity
    standing: Standing
    because: str


@lru_cache(maxsize=1 << 14)
def other_readings(quantity: Quantity, *, dots: str = "") -> tuple[Doubt, ...]:
    """Return what else a quantity may have been before it was spoilt.

    Parameters
    ----------
    quantity : Quantity
        As read.
    dots : str
        The row of dots that leads up to it, the last of which may be taken for a decimal point; empty without one.

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
    printed, unit = quantity.parts[0].amount.printed, quantity.parts[0].unit
    fractions = [
        _fraction_doubt(quantity, value, figures, sign) for value, figures, sign in fractions_of(printed, unit)
    ]
    fractions += [*_turned(quantity, printed), *_run_into_unit(quantity, printed)]
    if fractions:
        return tuple(fractions)
    if quantity.parts[0].written != "sign" and _PLAIN.match(printed):
        return ()
    found = [*_figures(quantity, printed, dots), *_signs(quantity, printed)]
    return tuple(found)


def _run_into_unit(quantity: Quantity, printed: str) -> list[Doubt]:
    """Return "402." without a unit as 4 oz.: a scan may have run the figure into what it made of the unit."""
    found = re.fullmatch(r"([1-9]\d?)02\.?", printed) if quantity.parts[0].unit is None else None
    if found is None:
        return []
    value = float(found[1])
    part = Measured(Amount(value, value, value, f"{found[1]} oz."), "ounce", "abbreviation")
    return [Doubt(Quantity((part,), quantity.column), "possible", f"{printed} may be {found[1]} oz., run together")]


_TURNED = re.compile(r"(?P<high>\d+)[-\N{EN DASH}](?P<low>\d+)(?![\d/.,])")


def _turned(quantity: Quantity, printed: str) -> list[Doubt]:
    """Return each figure alone of a range whose greater figure comes first: "25-10 parts"."""
    found = _TURNED.match(printed)
    if found is None or int(found["high"]) <= int(found["low"]):
        return []
    because = f"{found[0]} is no range as it stands: the greater figure comes first"
    ends = (found["high"], found["low"])
    return [Doubt(_with_value(quantity, float(one), one, found.end()), "possible", because) for one in ends]


def _fraction_doubt(quantity: Quantity, value: float, figures: str, sign: str) -> Doubt:
    end = quantity.parts[0].amount.printed.index(sign) + len(sign)
    because = f"a scan may take the fraction of {figures} for {sign}"
    return Doubt(_with_value(quantity, value, figures, end), "possible", because)


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
    return _TORN.match(quantity.parts[0].amount.printed) is not None or any(
        is_scanned(part.amount.printed, part.unit) for part in quantity.parts
    )


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
    mark = mark_at(line, at)
    counts = token.kind == "number" or (mark is not None and "number" in mark.meanings)
    scanned = scanned_at(line, at) if counts or may_be_scanned(token) else None
    if scanned is not None:
        return scanned
    if token.text in ("l", "L", "!"):
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
    sign = word[1:] if word[0] == "f" and len(word) > 1 + 1 else word  # fZij
    scanned = sign[0].lower() in _scans() and (len(sign) == 1 or _NUMERAL.fullmatch(sign[1:]) is not None)
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
    figure = _RUN_TOGETHER.match(parts[0].amount.printed) if len(parts) == 1 else None
    if figure is None or item.readings:
        return item
    told = [part for part in map(_first, others) if part and part.unit == parts[0].unit and part.amount.value]
    beside = [part.amount.value or 0 for part in told if not _RUN_TOGETHER.match(part.amount.printed)]
    if len(told) < _FEW or not beside or float(figure[0]) < _FAR * max(beside):
        return item
    first, *rest = item.quantities
    readings = tuple(
        Reading(
            changed(item, quantities=(_with_value(first, other, shown, figure.end()), *rest)),
            "possible",
            f"{figure[0]} may be {shown}: it is far from the other amounts of this receipt",
        )
        for other, shown in far_fractions(figure[1] + figure[2])
    )
    return changed(item, certain=False, readings=readings) if readings else item


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
    most = {unit: sorted(items, key=_value, reverse=True)[:_MOST] for unit, items in by_unit.items()}
    told = [changed(line, items=tuple(_beside(item, most) for item in line.items)) for line in lines]
    return tuple(signs_told(columns_told(told)))


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
_MOST = 6
_FAR = 4  # times the greatest other amount


def _with_value(quantity: Quantity, value: float, figures: str, end: int) -> Quantity:
    """Return a quantity with another number in its first part; what is printed behind the figures stays."""
    first = quantity.parts[0]
    amount = Amount(value, value, value, figures + first.amount.printed[end:])
    return Quantity((Measured(amount, first.unit, first.written), *quantity.parts[1:]), quantity.column)


def _figures(quantity: Quantity, printed: str, dots: str) -> Iterator[Doubt]:
    if dots and (whole := re.match(r"\.(\d+)", printed)):
        because = f"the point of {whole[0]} may be the last of the dots before it"
        dot_standing: Standing = "likely" if " " in dots else "possible"  # . . . .5 is one dot more
        yield Doubt(_with_value(quantity, float(whole[1]), whole[1], whole.end()), dot_standing, because)
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
        single = printed.lower().endswith(str(quantity.parts[0].unit))  # "1-2 pint": of one to two it were pints
        yield Doubt(_with_value(quantity, value, figures, hyphen.end()), "likely" if single else "possible", because)


def _signs(quantity: Quantity, printed: str) -> Iterator[Doubt]:
    """Yield what a letter or a sign behind a figure may have been."""
    letter = _LONE_LETTER.match(printed)
    if letter and quantity.parts[0].written != "sign" and len(printed) > 1:
        half = _with_value(quantity, 0.5, "1/2", letter.end())
        half_standing: Standing = "likely" if letter["letter"] in "Jj" else "possible"
        yield Doubt(half, half_standing, f"a scan may take the sign of a half for {letter['letter']}")
    scanned = re.match(
        rf"f?\s?(?P<sign>\D|\d)\s?(?:{_NUMERAL.pattern}\b|[\d\N{{VULGAR FRACTION ONE HALF}}])", printed, re.IGNORECASE
    )
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
    return {row.printed: row for row in rows(Notation) if row.meaning == "scan" and row.language == "la"}


_WITHIN = ("g", "j", "s", "d")  # letters that stand for a sign only at the head of a word: gviij, Jij


def _before_figures(line: Sequence[Token], at: int) -> Found | None:
    """Read a sign before figures that end a line or clause: "Z 3", "\N{SECTION SIGN} 2"."""
    row = _scans().get(line[at].text.lower()) if line[at].text in _NEVER_A_FIGURE else None
    figures = line[at + 1] if at + 1 < len(line) else None
    if row is None or figures is None or figures.kind != "number" or not _ends_clause(line, at + 2):
        return None
    value = float(number(figures.text))
    amount = Amount(value, value, value, printed_of(line[at : at + 2]))
    return Found(Quantity((Measured(amount, row.value.split()[0], "sign"),)), at + 2)


def _ends_clause(line: Sequence[Token], at: int) -> bool:
    return at >= len(line) or line[at].text in ",;.)|" or line[at].kind == "break"


_NEVER_A_FIGURE = ("Z", "z", "\N{SECTION SIGN}")
_BEFORE_J = ("s", "d")  # of these only before a numeral that ends in j: six, di are words


def _scanned_sign(line: Sequence[Token], at: int) -> Found | None:
    """Read ``3ij``, ``f3ij``, ``5ss``, ``Zij``: a sign that a scan took for a figure or a letter."""
    fluid = line[at].text == "f" and at + 1 < len(line) and line[at + 1].start - line[at].end <= 1
    first = at + fluid
    token = line[first]
    if (figures := _before_figures(line, first)) is not None:
        return figures
    if token.kind == "word" and token.text[0] == "f" and _NUMERAL.fullmatch(token.text[2:]):  # fZij
        fluid, token = True, token._replace(text=token.text[1:])
    row = _scans().get(token.text.lower())
    numeral, after = (line[first + 1].text, first + 2) if row is not None and first + 1 < len(line) else ("", first)
    if row is not None and (token.text.lower() in _WITHIN or line[first + 1 :][:1] == ()):
        return None
    parted = row is not None and line[first + 1].start > token.end
    if parted and (line[first + 1].start > token.end + 1 or (len(numeral) == 1 and not _ends_clause(line, after))):
        return None
    if row is None and token.kind == "word" and len(token.text) > 1 and _NUMERAL.fullmatch(token.text[1:]):
        row, numeral, after = _scans().get(token.text[0].lower()), token.text[1:], first + 1
        row = None if row and row.printed in _BEFORE_J and not numeral.lower().endswith("j") else row
    value = roman(numeral) if _NUMERAL.fullmatch(numeral) else None
    if row is None or value is None:
        return None
    unit = f"{'fluid_' if fluid else ''}{row.value.split()[0]}"
    amount = Amount(float(value), float(value), float(value), printed_of(line[at:after]))
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
    amount = Amount(value, value, value, printed_of(line[first : mark.after]))
    return Found(Quantity((Measured(amount, row.value, row.written),)), mark.after)
