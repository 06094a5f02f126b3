"""The plainest amounts, "2 oz." and "three drachms", of which a page is full: each is read once and remembered.

Only an amount that nothing beside it can change is looked for here. All others go the long way, by every rule.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from reconlab.reading.damage import torn_at
from reconlab.reading.quantities import Found, quantity_at
from reconlab.reading.roman import roman
from reconlab.reading.tokens import Token, mark_at, printed_of, tokens
from reconlab.tables import Notation

_ONLY_NUMBER, _ONLY_UNIT = {"number"}, {"unit"}
_LEADING_ON = frozenset(("from", "between", "von", "de", "only"))  # before an amount
_CLOSING = frozenset((",", ";"))
_TOLD_OF = frozenset(("by", "in", "au", "en", "fluid", "liquid"))  # behind a comma, they say how it was measured
_GOING_ON = frozenset(("oder", "weight", "measure", "fluid", "liquid"))
_SHORT = 3  # letters of words that join: or, to, and, cum
_STAND_IN = " wax"  # for any word of a name
_OF_TWO_TONGUES = "six"


def plain_at(line: Sequence[Token], at: int) -> Found | None:
    """Return the amount that starts at a token, if it is one number and one unit, and stands by itself.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Found or None
        None where there is no such amount, or where the words beside it may be part of one.

    Examples
    --------
    >>> plain_at(tokens("2 oz. of wax"), 0).quantity.parts[0].unit
    'ounce'
    >>> plain_at(tokens("2 oz. and a half"), 0) is None
    True
    """
    unit = mark_at(line, at + 1) if _is_number(line, at) else None
    if unit is None or unit.meanings.keys() != _ONLY_UNIT or _needs_more(unit.meanings["unit"]):
        return None
    if at and (line[at - 1].end == line[at].start or line[at - 1].text.lower() in _LEADING_ON):
        return None
    behind = _behind(line, unit.after)
    if behind is None:
        return None
    found = _read(printed_of(line[at : unit.after]), unit.after - at, behind)
    return found and Found(found.quantity, unit.after)


def _needs_more(unit: Notation) -> bool:
    """Return whether a unit is told by more than its own words: a per cent may be a strength, a pot is no measure."""
    return unit.value == "percent" or unit.written == "alone"


def _is_number(line: Sequence[Token], at: int) -> bool:
    """Return whether a token is a number, whatever stands beside it."""
    if line[at].kind == "number":
        return True
    mark = mark_at(line, at)
    only = mark is not None and mark.after == at + 1 and mark.meanings.keys() == _ONLY_NUMBER
    return only and line[at].text.lower() != _OF_TWO_TONGUES


def _behind(line: Sequence[Token], at: int) -> str | None:
    """Return what stands behind an amount and closes it; None where the amount may go on."""
    if at >= len(line):
        return ""
    text, parted = line[at].text, line[at].start > line[at - 1].end
    if text == "of":
        return " of" if parted else None
    if text not in _CLOSING:
        return _STAND_IN if parted and _is_of_name(line, at) else None
    following = line[at + 1] if at + 1 < len(line) else None
    if following is None:
        return text
    mark = mark_at(line, at + 1)
    half = at + 2 < len(line) and following.text.lower() == "and" and line[at + 2].text.lower() in ("a", "an")
    told = half or following.text.lower() in _TOLD_OF or (mark is not None and "system" in mark.meanings)
    return None if told or following.start == line[at].end else text


def _is_of_name(line: Sequence[Token], at: int) -> bool:
    """Return whether a token can only be the first word of a name, which says nothing of the amount before it."""
    word = line[at].text
    plain = line[at].kind == "word" and len(word) > _SHORT and mark_at(line, at) is None
    return plain and word.lower() not in _GOING_ON and roman(word) is None


@lru_cache(maxsize=1 << 14)
def _read(printed: str, length: int, behind: str) -> Found | None:
    """Return the amount that is so many tokens long by all the rules, if it is all they read."""
    line = tokens(printed + behind)
    found = torn_at(line, 0) or quantity_at(line, 0)
    return found if found is not None and found.after == length else None
