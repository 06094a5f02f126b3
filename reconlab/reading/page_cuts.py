"""Where a paragraph is cut before it is read: at the numbers, the words and the headings that stand inside it."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence

from reconlab.reading.lines import amounts_in
from reconlab.reading.page_lines import Run
from reconlab.reading.phrases import phrases
from reconlab.reading.roman import roman

_INNER = re.compile(r"(?:(?<=\s)|(?<=--)|(?<=\N{EM DASH}))[(\[]_?(\d{1,2}|[a-h])_?[)\]][.:]?\s+(?=[^\W_])")
_DASH = re.compile(r"[.:]?_?\s?(?:--+|\N{EM DASH})")  # behind the heading of a part: "Prep.", "Use."
_COLON = re.compile(r"[:,.]?_?(?:\s|--+|\N{EM DASH})")
_NUMBERED = re.compile(r"(\d{1,3}|[IVX]{1,6})[.)]\s")
_NUMBERED_INSIDE = re.compile(r"(?<=[.;!?)\]]\s)(\d{1,3})\.\s(?=[A-Z])")
_LEAST = 2  # amounts of another receipt behind "or"


def parts_of(run: Run) -> Iterator[Run]:
    """Yield the parts of a paragraph: cut where it counts its receipts, or says "Or:".

    Parameters
    ----------
    run : Run
        The paragraph.

    Yields
    ------
    Run
        In order; together they are the paragraph.

    Examples
    --------
    >>> from reconlab.reading.page_lines import runs
    >>> page = "Chalk 2 oz., orris 1 oz.; mix. Or, chalk 3 parts, bole 1 part."
    >>> [part.text for part in parts_of(runs(page)[0])]
    ['Chalk 2 oz., orris 1 oz.; mix.', 'Or, chalk 3 parts, bole 1 part.']
    """
    text = run.text
    marks = list(_INNER.finditer(text))
    inside = {mark.start() for mark in marks} if marks and _counts(marks) else set()
    again = (at for at in _sentence_starts(text, "variant") if variant_end(text[at : at + _OPENING + _NEAR]))
    yield from _cut(run, {*inside, *again})


def _numbered_titles(text: str) -> Iterator[int]:
    """Yield where a number and a title open another receipt inside a paragraph: "... stitches. 57. Balm Take of"."""
    for mark in _NUMBERED_INSIDE.finditer(text):
        behind = text[mark.end() : mark.end() + _OPENING]
        if any(
            phrase.meaning == "made" and phrase.start and behind[phrase.start].isupper() for phrase in phrases(behind)
        ):
            yield mark.start()


def at_headings(run: Run) -> Iterator[Run]:
    """Yield the parts of a paragraph that have a heading of their own inside it: "Prep." and a dash, "57. Balm Take".

    Parameters
    ----------
    run : Run
        The paragraph.

    Yields
    ------
    Run
        In order; together they are the paragraph.

    Examples
    --------
    >>> from reconlab.reading.page_lines import runs
    >>> [part.text for part in at_headings(runs("OAK BARK. _Prep._--Bark, 1 oz. _Use._--For lotions.")[0])]
    ['OAK BARK.', '_Prep._--Bark, 1 oz.', '_Use._--For lotions.']
    """
    text = run.text
    ends = {phrase.start: phrase.end for phrase in phrases(text) if phrase.meaning == "section"}
    stops = {at: _COLON if text[at : ends[at]].isupper() else _DASH for at in _sentence_starts(text, "section")}
    heads = (at for at, stop in stops.items() if stop.match(text, ends[at]))
    yield from _cut(run, {*(at - (text[at - 1] == "_") for at in heads), *_numbered_titles(text)})


def _cut(run: Run, places: set[int]) -> Iterator[Run]:
    for start, end in itertools.pairwise(sorted({0, len(run.text), *places})):
        part = run.cut(start, end)
        if part is not None:
            yield part


def _counts(marks: Sequence[re.Match[str]]) -> bool:
    order = [mark[1] for mark in marks]
    return order in ([str(n) for n in range(first, first + len(order))] for first in (1, 2)) or order in (
        list("abcdefgh"[first : first + len(order)]) for first in (0, 1)
    )


def _sentence_starts(text: str, meaning: str) -> Iterator[int]:
    """Yield where a sentence inside a text opens with words of a meaning."""
    for phrase in phrases(text):
        if phrase.meaning != meaning or not text[phrase.start].isupper():
            continue
        before = text[max(phrase.start - 4, 0) : phrase.start].rstrip(" _(\n")[-1:]
        if before and before in ".;:-!?)\N{EM DASH}":
            yield phrase.start


def variant_end(text: str) -> int:
    """Return where another receipt begins behind the word that opens it: "Or: 8 oz. of spirits, ...".

    Parameters
    ----------
    text : str
        A paragraph, or the rest of one.

    Returns
    -------
    int
        Place in the text; 0 where none is opened.

    Examples
    --------
    >>> variant_end("Or: 8 oz. spirits of wine, 1 drachm oil of lavender."), variant_end("Or add wax, 1 oz.")
    (4, 0)
    """
    found = next((p for p in phrases(text[:_OPENING]) if p.start == 0 and p.meaning == "variant"), None)
    stop = _COLON.match(text, found.end) if found else None
    if stop is None or stop[0].isspace() or amounts_in(text[stop.end() : stop.end() + _NEAR]) < _LEAST:
        return 0
    return stop.end()


_OPENING = 60  # characters
_NEAR = 200  # characters that hold the first amounts of a receipt


def counted(lines: Sequence[Run]) -> frozenset[str]:
    r"""Return the numbers by which a page counts its paragraphs: those beside which the next one stands too.

    Parameters
    ----------
    lines : sequence of Run
        The paragraphs.

    Returns
    -------
    frozenset of str
        The numbers as printed.

    Examples
    --------
    >>> from reconlab.reading.page_lines import runs
    >>> sorted(counted(runs("6. Lard, 2 oz.\n\n7. Wax, 3 oz.\n\n1872. A good year.")))
    ['6', '7']
    """
    found = {mark[1] for run in lines if (mark := _NUMBERED.match(run.text))}
    figures = {(word.isdigit(), number): word for word in found if (number := _number(word))}
    return frozenset(
        word
        for (decimal, number), word in figures.items()
        if (decimal, number - 1) in figures or (decimal, number + 1) in figures
    )


def _number(word: str) -> int:
    return int(word) if word.isdigit() else int(roman(word) or 0)


def number_end(text: str, numbers: frozenset[str]) -> int:
    """Return where a paragraph begins behind the number that counts it.

    Parameters
    ----------
    text : str
        The paragraph.
    numbers : frozenset of str
        The numbers of the page that count, as printed.

    Returns
    -------
    int
        Place in the text; 0 where none counts it.

    Examples
    --------
    >>> number_end("6. (Nugent.) From white lead, 2 oz.", frozenset({"6", "7"}))
    3
    """
    mark = _NUMBERED.match(text)
    return mark.end() if mark and mark[1] in numbers else 0
