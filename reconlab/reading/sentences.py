"""A paragraph of a receipt, sentence by sentence: what goes in, what is done, what it is for, what it costs.

The line reader finds amounts; here those are kept that go into the preparation. Doses, residues, yields, prices, the
mixture itself measured out again: their words stay on the page, as directions or remarks.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from dataclasses import replace as changed
from functools import cache

from reconlab.reading.counted import head_before
from reconlab.reading.goes_in import going_in, is_priced
from reconlab.reading.lines import has_amount, read_line
from reconlab.reading.openings import heads_columns, opens_prescription
from reconlab.reading.page_lines import Run
from reconlab.reading.phrases import Phrase, phrases
from reconlab.reading.pieces import is_bare_decimal, raw_pieces
from reconlab.reading.tokens import mark_at, tokens
from reconlab.reading.unmeasured import added_at
from reconlab.reading.unread import unread_of
from reconlab.receipts import Item, Line
from reconlab.tables import NameWord, Notation, rows

_STOP = re.compile(
    r"""[.!?][\])"'_=*~\N{RIGHT DOUBLE QUOTATION MARK}]*(?:\s+|(?:\s*(?:--+|[\N{EM DASH}\N{EN DASH}]+)\s*))
        (?=["'(_\N{LEFT DOUBLE QUOTATION MARK}]*[^\W\d_])""",
    re.VERBOSE,
)
_SHORT = 4  # letters of a word whose stop may be that of an abbreviation
_LONGEST_SENTENCE = 6_000  # characters; what is longer is no line of a receipt
_LONGEST_NAME = 8  # words
_NEAR = 60  # characters around an amount that say what it is for
_CLAUSE = re.compile(r"[,;:.]\s|\s[\N{EM DASH}]|--|\(")


@dataclass(frozen=True, slots=True)
class Piece:
    """Some sentences of one kind: ingredient, direction, dose, price or remark."""

    kind: str
    run: Run
    line: Line | None = None  # of an ingredient


def sentences(text: str) -> Iterator[tuple[int, int]]:
    """Yield where the sentences of a paragraph stand; the stop of an abbreviation ends none.

    Parameters
    ----------
    text : str
        The paragraph.

    Yields
    ------
    tuple of int
        Start and end.

    Examples
    --------
    >>> page = "Tinct. Myrrhae, 2 oz. Mix well. Dose, a teaspoonful."
    >>> [page[start:end] for start, end in sentences(page)]
    ['Tinct. Myrrhae, 2 oz. ', 'Mix well. ', 'Dose, a teaspoonful.']
    """
    signed = opens_prescription(text)
    start = 0
    for stop in _STOP.finditer(text):
        if stop.end() > start and _ends(text, start, stop, signed=signed):
            yield start, stop.end()
            start = stop.end()
    if start < len(text):
        yield start, len(text)


def _ends(text: str, start: int, stop: re.Match[str], *, signed: bool) -> bool:
    before = re.search(r"[^\W\d_]+$", text[max(start, stop.start() - 40) : stop.start()])
    last = before[0] if before else ""
    behind = text[stop.end() : stop.end() + 40].lstrip("_(\"'\N{LEFT DOUBLE QUOTATION MARK}")
    if len(last) == 1 and last.isupper():
        return False
    if _begins_told(behind) or (signed and _begins_latin(behind)):
        return True
    if signed or not behind[:1].isupper():
        return False
    if last and (last.lower() in _abbreviations() or (len(last) <= _SHORT and last[0].isupper())):
        return _begins_sentence(behind)
    return not last or last[:1].islower() or _begins_sentence(behind)


_STARTERS = frozenset(
    """the this it when after if let these to in for then that they there one as at by every use some a an les le la on
    cette ce il elle quand si das die der dies diese dieses es man wenn da dann bei this those but such all when while
    as before from with you we i its""".split()  # noqa: SIM905 - a list of words
)


def _begins_sentence(text: str) -> bool:
    word = re.match(r"[^\W\d_]+", text)
    return word is not None and word[0].lower() in _STARTERS


def _begins_told(text: str) -> bool:
    """Return whether words say what is done: a direction, a use, a dose."""
    if not text[:1].isupper():
        return False
    mark = mark_at(tokens(text), 0)
    if mark is not None and "direction" in mark.meanings:
        return True
    told = ("made", "dose", "goes_on")
    return any(found.start == 0 and found.meaning in told for found in phrases(text))


def _begins_latin(text: str) -> bool:
    """Return whether words of a prescription say what is done or how it is taken: "cola et adde", "cap. ii.", "m."."""
    mark = mark_at(tokens(text), 0)
    row = mark.meanings.get("direction") if mark is not None else None
    taken = any(found.start == 0 and found.meaning == "dose" for found in phrases(text))
    return taken or (row is not None and row.language == "la")


@cache
def _abbreviations() -> frozenset[str]:
    found = {row.printed.lower() for row in rows(Notation) if row.written == "abbreviation"}
    return frozenset(found | {row.word.lower() for row in rows(NameWord) if len(row.word) <= _SHORT})


def pieces(run: Run, *, section: str, among: bool, before: Item | None = None) -> list[Piece]:
    """Return a paragraph as what goes in, what is done, and what is said of it.

    Parameters
    ----------
    run : Run
        The paragraph, its heading left off.
    section : str
        What its heading says it is: ingredients, direction, dose, remark; empty where it says nothing.
    among : bool
        Whether it is a line of a list, so that a name without an amount is an ingredient.
    before : Item or None
        The last item before it, for ditto marks.

    Returns
    -------
    list of Piece
        In order; together they are the paragraph.

    Examples
    --------
    >>> from reconlab.reading.page_lines import runs
    >>> page = "Two ounces of wax and a pint of oil. Melt. Boil down to a pint."
    >>> [(piece.kind, piece.run.text) for piece in pieces(runs(page)[0], section="", among=False)]
    [('ingredient', 'Two ounces of wax and a pint of oil.'), ('direction', 'Melt. Boil down to a pint.')]
    """
    if heads_columns(run.text):
        return [Piece("heading", run)]
    found: list[Piece] = []
    spans = [(0, len(run.text))] if among and not _tells_more(run.text) else sentences(run.text)
    cuts = (cut for start, end in spans for cut in _behind_announcement(run.cut(start, end)))
    for sentence in (clause for cut in cuts for clause in _told_apart(cut, among=among)):
        for piece in _of_sentence(sentence, section, before, among=among):
            before = piece.line.items[-1] if piece.line is not None else before
            last = found[-1] if found else None
            if last is not None and last.kind == piece.kind != "ingredient":
                whole = run.cut(_at(run, last.run.start), _at(run, piece.run.end, end=True))
                found[-1] = changed(last, run=whole or last.run)
            else:
                found.append(piece)
    return found


def _behind_announcement(run: Run | None) -> Iterator[Run]:
    """Cut a sentence behind words that announce a receipt: "take the following: two ounces of ..."."""
    if run is None:
        return
    at = run.text.find(":")
    if 0 < at < len(run.text) - _NEAR // 2 and any(p.meaning == "announce" for p in phrases(run.text[:at])):
        yield from filter(None, (run.cut(0, at + 1), run.cut(at + 1, len(run.text))))
    else:
        yield run


_TOLD = re.compile(r"[,;:]\s+(?:(?:and|und|et|then|puis|dann|ensuite|alsdann)\s+)?(?=[^\W\d_])")


def _told_apart(run: Run, *, among: bool) -> Iterator[Run]:
    """Cut a sentence where a clause says what is done: "2 oz. of wax, melt them and add 1 oz. of oil"."""
    text = run.text
    starts = {p.start for p in phrases(text) if p.meaning in ("made", "goes_on")} if not among else set()
    cuts = [0, *(found.end() for found in _TOLD.finditer(text) if found.end() in starts), len(text)]
    yield from filter(None, (run.cut(start, end) for start, end in itertools.pairwise(cuts)))


def _at(run: Run, on_page: int, *, end: bool = False) -> int:
    """Return the place in a text of a place on the page."""
    for first, page, length in run.places:
        if page <= on_page - end < page + length:
            return first + on_page - page
    return len(run.text) if end else 0


def _tells_more(text: str) -> bool:
    return len(text) > 2 * _NEAR or any(_begins_told(text[stop.end() :][:40]) for stop in _STOP.finditer(text))


def _of_sentence(
    run: Run, section: str, before: Item | None, *, among: bool, composed: bool = False
) -> Iterator[Piece]:
    text = run.text
    if section in ("dose", "remark") or len(text) > _LONGEST_SENTENCE or "=" in text[1:-1]:
        yield Piece("dose" if section == "dose" else "remark", run)
        return
    told = list(phrases(text))
    if not among and not has_amount(text) and not added_at(text):
        yield Piece(_kind(text, told), run)
        return
    if not among and not opens_prescription(text):
        at, composed_here = _before_amounts(text, told)
        head, rest = run.cut(0, at), run.cut(at, len(text))
        if at and head is not None and rest is not None:
            yield Piece("direction", head)
            yield from _of_sentence(rest, section, before, among=among, composed=composed_here)
            return
    at = 0 if among else _behind_leading(text, told)
    head, rest = run.cut(0, at), run.cut(at, len(text))
    if at and head is not None and rest is not None:
        yield Piece("direction", head)
        yield from _of_sentence(rest, section, before, among=among, composed=composed)
        return
    line = read_line(text, 1, among_ingredients=among, before=before)
    kept = going_in(line.items, text, told, among=among, composed=composed)
    if is_priced(kept, text, told):
        yield Piece("price", run)
        return
    if not kept:
        yield Piece(_kind(text, told), run)
        return
    if len(kept) < len(line.items):
        line = changed(line, items=kept, unread=unread_of(kept, text, tokens(text)))
    yield Piece("ingredient", run, line)


def _before_amounts(text: str, told: Sequence[Phrase]) -> tuple[int, bool]:
    """Return where what goes in begins behind the words that lead to it, and whether they say what it is made of."""
    line = tokens(text)
    told_of = list(raw_pieces(line))
    at_first = next((at for at, piece in enumerate(told_of) if piece.kind in ("quantity", "enough")), len(told_of))
    first, behind_it = (*told_of[at_first : at_first + 2], None, None)[:2]
    if behind_it is not None and behind_it.kind == "each":
        return 0, False  # lemon juice and rose water, two ounces of each
    if first is None or not first.first or first.after >= len(line) or is_bare_decimal(first.quantity):
        return 0, False
    head = head_before(line, first.first) if first.counted else ()  # the yolks of two eggs
    at, behind = line[first.first - len(head)].start, line[first.after]
    ends = [p.end for p in told if p.meaning == "made" and p.value == "names" and p.end <= at]
    if ends and re.search(r"[^\W\d_]{3}", text[ends[-1] : at]):
        return ends[-1], True
    led = any(phrase.meaning in ("made", "goes_on") and phrase.start < at for phrase in told)
    return (at, bool(ends)) if led and first.kind == "quantity" and behind.kind == "word" else (0, False)


def _behind_leading(text: str, told: Sequence[Phrase]) -> int:
    """Return where the names begin behind words that say the same receipt goes on: "and add to it turpentine 2 oz."."""
    return max((p.end for p in told if p.meaning == "goes_on" and p.start == 0 and " " in text[: p.end]), default=0)


def _kind(text: str, told: Sequence[Phrase]) -> str:
    meanings = {phrase.meaning for phrase in told}
    if "dose" in meanings and "made" not in meanings:
        return "dose"
    mark = mark_at(tokens(text[:_NEAR]), 0)
    doing = mark is not None and "direction" in mark.meanings
    return "direction" if doing or {"made", "goes_on", "yield", "dose"} & meanings else "remark"
