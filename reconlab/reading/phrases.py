"""Words and phrases of a page that are none of an ingredient: rows of ``page_words.csv``, found in a text."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from reconlab.tables import PageWord, rows

_WORD = re.compile(r"[^\W\d_]+(?:['\N{RIGHT SINGLE QUOTATION MARK}-][^\W\d_]+)*")
_LONGEST = 40  # characters of a word; none of the table is longer


@dataclass(frozen=True, slots=True)
class Phrase:
    """A phrase of the table in a text."""

    meaning: str
    value: str
    start: int
    end: int


@cache
def _index() -> Mapping[str, tuple[tuple[tuple[str, ...], PageWord], ...]]:
    """Return the phrases by their first word, longest first."""
    found: dict[str, list[tuple[tuple[str, ...], PageWord]]] = {}
    for row in rows(PageWord):
        words = tuple(_WORD.findall(row.printed.lower()))
        if words:
            found.setdefault(words[0], []).append((words, row))
    return {first: tuple(sorted(them, key=lambda one: -len(one[0]))) for first, them in found.items()}


def phrases(text: str) -> Iterator[Phrase]:
    """Return every phrase of the table in a text, of each meaning the longest that starts at a word.

    Parameters
    ----------
    text : str
        A line or sentence.

    Returns
    -------
    iterator of Phrase
        In the order of the text; they may overlap.

    Examples
    --------
    >>> [(found.meaning, found.start) for found in phrases("Boil down to a pint. Dose, one ounce twice a day")]
    [('yield', 0), ('made', 0), ('no_name', 5), ('made', 10), ('section', 21), ('dose', 21), ('dose', 37), ('dose', 43)]
    """
    return iter(_remembered(text) if len(text) <= _SHORT_TEXT else _found(text))


_SHORT_TEXT = 400  # characters; the steps that read a page look at such a text several times each


@lru_cache(maxsize=1 << 8)
def _remembered(text: str) -> tuple[Phrase, ...]:
    return tuple(_found(text))


def _found(text: str) -> Iterator[Phrase]:
    matches = tuple(_WORD.finditer(text))
    words = tuple(match[0].lower().replace("\N{RIGHT SINGLE QUOTATION MARK}", "'") for match in matches)
    for at, word in enumerate(words):
        rows_ = _index().get(word) if len(word) <= _LONGEST else None
        seen: set[str] = set()
        for phrase, row in rows_ or ():
            if row.meaning in seen or words[at : at + len(phrase)] != phrase:
                continue
            seen.add(row.meaning)
            yield Phrase(row.meaning, row.value, matches[at].start(), matches[at + len(phrase) - 1].end())


def whole(text: str, meaning: str) -> str | None:
    """Return the value of the phrase of a meaning that a text is, points and marks left off; None where it is none.

    Parameters
    ----------
    text : str
        Words of a heading.
    meaning : str
        Such as ``"section"``.

    Returns
    -------
    str or None
        The value of the row, which may be empty.

    Examples
    --------
    >>> whole("_Directions_:", "section"), whole("Another.", "variant"), whole("Cold Cream", "section")
    ('direction', '', None)
    """
    words = tuple(word.lower() for word in _WORD.findall(text))
    if not words or re.search(r"\d", text):
        return None
    for phrase, row in _index().get(words[0], ()):
        if row.meaning == meaning and phrase == words:
            return row.value
    return None


def tells_of_people(text: str) -> bool:
    """Return whether words tell a story, as those of no receipt do.

    Parameters
    ----------
    text : str
        Some sentences.

    Returns
    -------
    bool
        Whether a phrase of the table says so.

    Examples
    --------
    >>> tells_of_people("She drank a pint of ale."), tells_of_people("Take a pint of ale.")
    (True, False)
    """
    return any(phrase.meaning == "story" for phrase in phrases(text))
