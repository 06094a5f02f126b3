"""Which words are a unit here, and of what: a spoon of a size, an ounce by measure, the hyphen of "half-ounce"."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache

from reconlab.reading.tokens import Mark, Token, mark_at
from reconlab.tables import Notation, rows

_OF_ABROAD = frozenset(("de", "d", "di", "del", "dell", "do", "da", "af", "av", "van", "et", "y", "e"))
_OF_NO_SYSTEM = ("ful", "pinch")  # how the units end whose size hangs on the vessel or the hand
_BY_MEASURE = {"ounce": "fluid_ounce", "drachm": "fluid_drachm", "scruple": "fluid_scruple"}
_MEASURED = ("by measure", "in measure", "fluid measure", "liquid measure")


def unit_at(line: Sequence[Token], at: int) -> Mark | None:
    """Return the unit that starts at a token.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to look at [1].

    Returns
    -------
    Mark or None
        None where none does, or where its letters are another word here.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> unit_at(tokens("oz. of wax"), 0).meanings["unit"].value, unit_at(tokens("lot of wax"), 0)
    ('ounce', None)
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


def sized_unit_at(line: Sequence[Token], at: int) -> Mark | None:
    """Read a spoon, cup, glass or hand behind a word of its size: a small teacupful, 2 large handfuls.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to look at [1].

    Returns
    -------
    Mark or None
        Its unit.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> sized_unit_at(tokens("large handful"), 0).meanings["unit"].value
    'handful'
    """
    size = mark_at(line, at)
    if size is None or "size" not in size.meanings:
        return None
    unit = unit_at(line, size.after)
    return unit if unit and unit.meanings["unit"].value.endswith(_OF_NO_SYSTEM) else None


def measured_by(line: Sequence[Token], unit: str, at: int) -> tuple[str, int]:
    """Read "8 oz. by measure", "8 oz. (by measure)": fluid ounces, whatever the thing is.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    unit : str
        The unit read.
    at : int
        Token to look at [1].

    Returns
    -------
    str, int
        The unit meant, and the token behind these words.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> measured_by(tokens("8 oz by measure"), "ounce", 2)
    ('fluid_ounce', 4)
    """
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


def past_hyphen(line: Sequence[Token], at: int) -> int:
    """Pass over the hyphen of "half-ounce", "half-an-ounce".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to look at [1].

    Returns
    -------
    int
        The token behind it, or the same where none stands there.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> past_hyphen(tokens("half-ounce"), 1)
    2
    """
    hugged = 0 < at < len(line) - 1 and line[at - 1].end == line[at].start and line[at].end == line[at + 1].start
    return at + 1 if hugged and line[at].text == "-" else at


def _stands_alone(line: Sequence[Token], at: int) -> bool:
    following = line[at].text.lower() if at < len(line) else ""
    return not any(map(str.isalpha, following)) or following.split("'")[0] in _OF_ABROAD


def unit_in_language(line: Sequence[Token], at: int, unit: Mark) -> Notation:
    """Return the meaning of a unit's word in the tongue of the number before it: "halfe a pinte" is no French one.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token of the number [1].
    unit : Mark
        The unit's word.

    Returns
    -------
    Notation
        The row of the table.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("2 oz.")
    >>> unit_in_language(line, 0, unit_at(line, 1)).value
    'ounce'
    """
    count = mark_at(line, at)
    language = count.meanings["number"].language if count and "number" in count.meanings else ""
    if line[at].text.lower() == "six" and any(
        near.text.lower() in _FRENCH for near in line[max(at - _NEAR, 0) : at + _NEAR]
    ):
        language = "fr"
    row = unit.meanings["unit"]
    return row if row.language == language else _by_language().get((row.printed, language), row)


@cache
def _by_language() -> Mapping[tuple[str, str], Notation]:
    return {(row.printed, row.language): row for row in rows(Notation) if row.meaning == "unit"}


_FRENCH = frozenset(
    {
        "de",
        "d'",
        "d\N{RIGHT SINGLE QUOTATION MARK}",
        "du",
        "des",
        "eau",
        "huile",
        "une",
        "deux",
        "trois",
        "quatre",
        "esprit",
    }
)
_NEAR = 30  # words that tell the tongue of a number
