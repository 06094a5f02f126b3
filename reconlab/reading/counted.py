"""Things that receipts count: "six lemons", "the yolks of five eggs", "a piece of camphor the size of a walnut"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache

from reconlab.reading.quantities import Found, count_at
from reconlab.reading.tokens import Token, folded, mark_at, tokens
from reconlab.receipts import Amount, Measured, Quantity
from reconlab.tables import CountedThing, Notation, rows

PIECE = "piece"
_SIZED = "size_of_"  # starts the unit tokens of things measured by another's size
_HEAPED = "heap_on_"  # of what will lie on a coin
_BETWEEN = 2  # words that may stand between the number and the thing: "two large ripe lemons"
_BEHIND = (
    "and",
    "with",
    "in",
    "to",
    "or",
    "into",
    "beaten",
    "well",
    "of",
)  # words that end its name


def counted_at(line: Sequence[Token], at: int) -> Found | None:
    """Return the count that starts at a token, if a thing that receipts count follows it.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Found or None
        The count with unit ``piece``; the thing's name is left to be read as a name.

    Examples
    --------
    >>> counted_at(tokens("six lemons, sliced"), 0).quantity.parts[0].unit
    'piece'
    >>> counted_at(tokens("six lemon drops"), 0) is None
    True
    """
    sized = _sized_at(line, at)
    if sized is not None:
        return sized
    found = count_at(line, at, PIECE)
    if found is None:
        return None
    one = float(found.quantity.parts[0].amount.high or 0) <= 1
    part = head_before(line, at)
    start = found.after
    for _ in range(_BETWEEN + 1):
        for words, after in _runs(line, start):
            name = (*part, *words)
            if name in _names() and (part or name in _without_s() or one == _singular(name)) and _ends(line, after):
                return found
            counts = _of_other_tongues()
            if (words in counts or (part in counts and words in _names())) and _ends(line, after):
                return found
        if start >= len(line) or line[start].kind != "word" or _joins(line, start):
            return None
        start += 1
    return None


def is_counted(name: str) -> bool:
    """Return whether a name is one of a thing that receipts count.

    Parameters
    ----------
    name : str
        As printed.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> is_counted("Whites of eggs"), is_counted("Egg powder")
    (True, False)
    """
    words = tuple(_spelt(token.text) for token in tokens(name) if token.text != "-")
    return words in _names() or words in _of_other_tongues()


def head_before(line: Sequence[Token], at: int) -> tuple[str, ...]:
    """Return the words before a count that are part of the thing's name: the "yolks of" in "the yolks of two eggs".

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Where the count starts [1].

    Returns
    -------
    tuple of str
        Two words in one spelling, or none.

    Examples
    --------
    >>> head_before(tokens("the juice of two lemons"), 3)
    ('juice', 'of')
    """
    words = tuple(_spelt(token.text) for token in line[max(at - 2, 0) : at])
    if words in _of_other_tongues():
        return words  # le suc de six citrons, der Saft von 2 Citronen
    return words if len(words) > 1 and any(name[:2] == words for name in _names()) else ()


def is_sized(quantity: Quantity | None) -> bool:
    """Return whether a quantity is measured by another thing's size.

    Parameters
    ----------
    quantity : Quantity or None
        As read.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> is_sized(counted_at(tokens("the size of a walnut"), 0).quantity)
    True
    """
    return quantity is not None and str(quantity.parts[0].unit).startswith((_SIZED, _HEAPED))


def _sized_at(line: Sequence[Token], at: int) -> Found | None:
    times = _TIMES.get(line[at].text.lower(), 1)
    mark = mark_at(line, at + (times != 1))
    row = mark.meanings.get("unit") if mark else None
    if mark is None or row is None or not (row.value.startswith((_SIZED, _HEAPED)) or row.value == "knife_point"):
        return None
    printed = " ".join(token.text for token in line[at : mark.after])
    return Found(Quantity((Measured(Amount(times, times, times, printed), row.value),)), mark.after)


_TIMES = {"half": 0.5, "twice": 2.0, "thrice": 3.0}  # half as big as an egg


def _runs(line: Sequence[Token], start: int) -> list[tuple[tuple[str, ...], int]]:
    """Return the runs of words that start at a token, and the token behind each, the longest first."""
    runs: list[tuple[tuple[str, ...], int]] = []
    words: tuple[str, ...] = ()
    for at in range(start, len(line)):
        if line[at].kind == "word" and len(words) < _longest():
            words = (*words, _spelt(line[at].text))
            runs.append((words, at + 1))
        elif line[at].text != "-" or not words:
            break
    return runs[::-1]


def _ends(line: Sequence[Token], at: int) -> bool:
    """Return whether a name ends here: "six lemon drops" counts no lemons."""
    if at + 1 < len(line) and line[at].text == "-" and line[at - 1].end == line[at].start:
        return False  # lemon-juice
    if at >= len(line) or line[at].kind != "word" or line[at].text.lower() in _BEHIND:
        return True
    mark = mark_at(line, at)
    return mark is not None and not {"unit", "number", "counted"} & set(mark.meanings)


def _singular(name: tuple[str, ...]) -> bool:
    return not any(word.endswith("s") for word in name)


@lru_cache(maxsize=1 << 14)
def _spelt(word: str) -> str:
    """Return a word in one spelling: early prints have egges for eggs, lemmons for lemons, juyce for juice."""
    word = re.sub(r"(.)\1", r"\1", folded(word)).replace("y", "i")
    return re.sub(r"(?<=[^aeiou])es$", "s", word)


@cache
def _names() -> Mapping[tuple[str, ...], str]:
    return {
        tuple(_spelt(token.text) for token in tokens(name)): row.names[0]
        for row in rows(CountedThing)
        for name in row.names
    }


def _joins(line: Sequence[Token], at: int) -> bool:
    """Return whether a word joins two, or is a count: no almond is counted in "un lait d'amande", "1 Mandel Eier"."""
    mark = mark_at(line, at)
    if (_spelt(line[at].text),) in _of_other_tongues():
        return True
    return line[at].text.lower() == "of" or (mark is not None and "joining" in mark.meanings)


@cache
def _of_other_tongues() -> frozenset[tuple[str, ...]]:
    """Return the things that French, German and Latin receipts count."""
    counted = (row.printed for row in rows(Notation) if row.meaning == "counted")
    return frozenset(tuple(_spelt(token.text) for token in tokens(name)) for name in counted)


@cache
def _without_s() -> frozenset[tuple[str, ...]]:
    """Return the German names, told by their capital: "2 Eier" and "3 Eiweiß" are plurals without an s."""
    german = {name for row in rows(CountedThing) for name in row.names if name[0].isupper()}
    return frozenset(tuple(_spelt(token.text) for token in tokens(name)) for name in german)


@cache
def _longest() -> int:
    return max((len(name) for name in (*_names(), *_of_other_tongues())), default=0)
