"""The lines of a page: printed lines that read on become one, tables stay line by line, and nothing is lost.

Pages wrap their prose, hyphenate, indent and centre. What belongs together is told by the print alone: a line that
is full goes on, a row of a table does not. Every character keeps its place on the page.
"""

from __future__ import annotations

import itertools
import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from reconlab.reading.known import is_known
from reconlab.reading.pieces import AMOUNTS, raw_pieces
from reconlab.reading.tokens import mark_at, tokens
from reconlab.tables import Name, Notation, rows

_NARROW = 40  # characters; a page whose widest line is shorter does not wrap prose
_TWO = 2  # lines, columns or letters that are no chance yet
_RAGGED = 8  # letters by which lines of running prose differ
GAP = re.compile(r"[^\s.][ \t]*(?:\t| {3}|\.{3}|\. \. ?\.|_{3}|\N{HORIZONTAL ELLIPSIS}|\|)")
_OPEN = (
    "of",
    "and",
    "with",
    "the",
    "a",
    "an",
    "in",
    "to",
    "de",
    "du",
    "des",
    "et",
    "d",
    "von",
    "und",
    "mit",
    "&",
    "or",
)
_CAPITALS = 0.7  # share of letters
_TITLED = 0.75  # share of long words
_LONG_WORD = 3  # letters; shorter ones say nothing of capitals
_FEW_WORDS = 4  # of a heading in small letters
_SLACK = 6  # characters by which a full line may fall short
_LISTED = 0.6  # share of a block's lines with their amount at one edge, from which on it is a list
_LONGEST_LOOK = 300  # characters at each end of a printed line that tell how it is set


@dataclass(frozen=True, slots=True)
class Run:
    """A line as read: its words, and where each stretch of them stands on the page."""

    text: str
    places: tuple[tuple[int, int, int], ...]  # start in the text, start on the page, length
    indent: int = 0
    blanks: int = 0  # empty lines before it
    tabular: bool = False  # one of several lines of a list or table
    heads: bool = False  # the first line of a list, and no row of it

    @property
    def start(self) -> int:
        """Where it begins on the page."""
        return self.places[0][1]

    @property
    def end(self) -> int:
        """Where it ends on the page."""
        return self.places[-1][1] + self.places[-1][2]

    def cut(self, start: int, end: int) -> Run | None:
        """Return the words from one place to another, blanks at both ends left off; None where nothing is left."""
        start += len(self.text[start:end]) - len(self.text[start:end].lstrip())
        end = start + len(self.text[start:end].rstrip())
        places = []
        for first, page, length in self.places:
            low, high = max(first, start), min(first + length, end)
            if low < high:
                places.append((low - start, page + low - first, high - low))
        if not places:
            return None
        return Run(
            self.text[start:end], tuple(places), self.indent, self.blanks if start == 0 else 0, self.tabular, self.heads
        )

    def on_page(self, start: int, end: int) -> Iterator[tuple[int, int]]:
        """Yield where a stretch of the text stands on the page."""
        for first, page, length in self.places:
            low, high = max(first, start), min(first + length, end)
            if low < high:
                yield page + low - first, page + high - first


@dataclass(frozen=True, slots=True)
class Printed:
    """One printed line: its words, where they begin on the page, and how it is set."""

    text: str
    at: int
    indent: int
    blanks: int
    gap: bool = False  # holds a column of blanks or dots
    first: bool = False  # begins with an amount
    last: bool = False  # ends in one
    each: bool = False  # says that an amount is for each of several
    whole: bool = False  # is nothing but an amount
    counts: bool = False  # ends in a number without a unit
    measures: bool = False  # begins with a unit, in small letters
    signed: bool = False  # begins with the sign of a prescription

    @property
    def bare(self) -> bool:
        """Whether no amount stands at its edges."""
        return not self.first and not self.last


def printed_lines(text: str) -> Iterator[Printed]:
    r"""Yield the printed lines of a page, empty ones left out.

    Parameters
    ----------
    text : str
        The page.

    Yields
    ------
    Printed
        In the order of the page.

    Examples
    --------
    >>> [(line.text, line.indent, line.blanks, line.last) for line in printed_lines("Powder\n\n  Starch .... 2 oz.\n")]
    [('Powder', 0, 0, False), ('Starch .... 2 oz.', 2, 1, True)]
    """
    at = blanks = 0
    for whole in text.splitlines(keepends=True):
        words = whole.strip()
        if words:
            indent = len(whole) - len(whole.lstrip())
            yield _set(words, at + indent, indent, blanks)
            blanks = 0
        else:
            blanks += 1
        at += len(whole)


_SIGNED = re.compile(
    r"(?:\d{1,4}\.\s*)?(?:\N{PRESCRIPTION TAKE}|(?:R[xp]?|\N{LATIN CAPITAL LETTER R WITH STROKE})[.,]?(?:\s|$))"
)


def _set(words: str, at: int, indent: int, blanks: int) -> Printed:
    bare = words.lstrip("| ")
    head, tail = tokens(bare[:_LONGEST_LOOK]), tokens(words[-_LONGEST_LOOK:])
    begins = next(iter(raw_pieces(head)), None)
    within = [piece for piece in raw_pieces(tail) if tail[piece.first].kind != "point" or piece.kind in AMOUNTS]
    ends = within[-1].kind if within else ""
    unit = mark_at(head, 0)
    amount = within[-1].quantity if within else None
    return Printed(
        words,
        at,
        indent,
        blanks,
        gap=GAP.search(words[:_LONGEST_LOOK]) is not None,
        first=begins is not None and begins.kind in AMOUNTS,
        last=ends in AMOUNTS or ends == "ditto",
        each=any(piece.kind == "each" for piece in within),
        counts=amount is not None and words[-1].isdigit() and amount.parts[-1].unit is None,
        measures=unit is not None and "unit" in unit.meanings and words[0].islower(),
        signed=_SIGNED.match(words) is not None,
        whole=len(words) < _LONGEST_LOOK and all(piece.kind == "quantity" for piece in within) and bool(within),
    )


def runs(text: str) -> list[Run]:
    r"""Return the lines of a page as they read on.

    Parameters
    ----------
    text : str
        The page.

    Returns
    -------
    list of Run
        In the order of the page; their places and blanks are the whole of it.

    Examples
    --------
    >>> page = "Take of rose-water two ounces, and of the finest spirit of wine, to be had of the\ndruggists, one."
    >>> [run.text[-24:] for run in runs(page)]
    ['d of the druggists, one.']
    """
    found: list[Run] = []
    lines = list(printed_lines(text))
    width = _width(lines)
    for block in _blocks(lines):
        for part in _at_lists(block):
            found += _runs_of(part, width)
    return found


def _width(lines: Sequence[Printed]) -> int:
    """Return how wide prose is set, or nothing where the page does not wrap it."""
    widths = sorted(len(line.text) for line in lines if not line.gap)
    widest = widths[-1] if widths else 0
    return widest if _NARROW <= widest <= _LONGEST_LOOK else 0


def _blocks(lines: Iterable[Printed]) -> Iterator[list[Printed]]:
    block: list[Printed] = []
    for line in lines:
        if block and ((line.blanks and not _breaks_off(block[-1], line)) or _parts(block[-1], line)):
            yield block
            block = []
        block.append(line)
    if block:
        yield block


def _breaks_off(line: Printed, following: Printed) -> bool:
    """Return whether one empty line stands inside a sentence, as where a column or page ends."""
    goes_on = following.text[0].islower() and following.blanks == 1
    return goes_on and line.text.endswith(",") and not (line.gap or following.gap or line.last)


def _parts(line: Printed, following: Printed) -> bool:
    """Return whether the print changes between two lines: a heading, a table with rules for its columns."""
    ends = line.text[-1] in ".:;!?)]}|" or line.last
    return (ends and _heads(line, following)) or (line.text[0] == "|") != (following.text[0] == "|")


def _heads(line: Printed, following: Printed) -> bool:
    """Return whether a line is set as a heading, and the line before it is none."""
    if not following.bare or following.gap or following.text[-1] in ",;":
        return False
    if is_capitals(following.text):
        return not is_capitals(line.text)
    words = re.findall(r"[^\W\d_]{3,}", following.text)
    titled = bool(words) and all(word[0].isupper() or word in _OPEN for word in words)
    return titled and len(following.text.split()) <= _FEW_WORDS and not line.last and not is_titled(line.text)


def _at_lists(block: Sequence[Printed]) -> Iterator[Sequence[Printed]]:
    """Cut a block where a list begins or ends that has prose before or behind it, and no empty line between."""
    if len(block) <= _TWO or _is_list(block):
        yield block
        return
    for listed, lines in itertools.groupby(_marked(block), key=lambda one: one[0]):
        del listed
        yield [line for _, line in lines]


def _marked(block: Sequence[Printed]) -> Iterator[tuple[bool, Printed]]:
    """Mark the lines that stand in a list: three in a row, each an item by itself."""
    widest = max(len(line.text) for line in block)
    for single, lines in itertools.groupby(block, key=lambda line: _is_single(line, widest)):
        together = list(lines)
        yield from ((single and len(together) > _TWO, line) for line in together)


def _is_single(line: Printed, widest: int) -> bool:
    """Return whether a line is an item by itself: a name with its amount behind it, short of the full width."""
    return line.last and line.text[:1].isupper() and len(line.text) < widest - _RAGGED and line.text.count(",") <= 1


_WHOLE_WORD = re.compile(r"[^\W\d_]+(?:['\N{RIGHT SINGLE QUOTATION MARK}][^\W\d_]+)*")  # Hufeland'sches


def is_titled(text: str) -> bool:
    """Return whether the long words of a text bear capitals, as in a heading.

    Parameters
    ----------
    text : str
        Some words.

    Returns
    -------
    bool
        Whether they do.

    Examples
    --------
    >>> is_titled("Oil of Roses"), is_titled("Melt the white wax")
    (True, False)
    """
    words = [word for word in _WHOLE_WORD.findall(text) if len(word) > _LONG_WORD]
    words = words or re.findall(r"[^\W\d_]{3}", text)
    return bool(words) and sum(word[0].isupper() for word in words) >= _TITLED * len(words)


def is_capitals(text: str) -> bool:
    """Return whether a text is set in capitals.

    Parameters
    ----------
    text : str
        Some words.

    Returns
    -------
    bool
        Whether it is; initials are not.

    Examples
    --------
    >>> is_capitals("LIP SALVE, No. 2"), is_capitals("Lip Salve"), is_capitals("R. A.")
    (True, False, False)
    """
    words = re.findall(r"[^\W\d_]{2,}", text)
    capitals = sum(sign.isupper() for word in words for sign in word)
    return any(len(word) >= _LONG_WORD for word in words) and capitals >= _CAPITALS * sum(map(len, words))


def _runs_of(block: Sequence[Printed], width: int) -> Iterator[Run]:
    widest = max((len(line.text) for line in block if not line.gap), default=0) if len(block) > _TWO else 0
    width = widest if widest >= _NARROW and width - widest > _TWO else width
    shared = _sharing(block) if block[0].signed and _names_a_thing(block[0].text) else set()
    listed = bool(shared) or _is_list(block)
    together: list[Printed] = [block[0]]
    for at, (line, following) in enumerate(itertools.pairwise(block)):
        if at in shared or _reads_on(
            line, following, width, listed=listed, begun=len(together) > 1, first=line is block[0]
        ):
            together.append(following)
        else:
            yield _run(together, listed=listed, heads=together[0] is block[0] and len(block) > 1)
            together = [following]
    yield _run(together, listed=listed, heads=together[0] is block[0] and len(block) > len(together))


def _names_a_thing(text: str) -> bool:
    """Return whether words behind the sign of a prescription name what goes in; "R. Hair Wash" says what is made."""
    sign = _SIGNED.match(text)
    words = text[sign.end() :].strip() if sign else text
    return len(words.split()) < _TWO or any(stop in words for stop in ".:,") or is_known(words)


def _sharing(block: Sequence[Printed]) -> set[int]:
    """Return the lines of a prescription that share the amount of a later one: names alone above an "of each"."""
    found: set[int] = set()
    names: list[int] = []
    for at, line in enumerate(block):
        if line.each:
            found.update(names)
        named = line.bare and not line.gap and not _has_amount(line.text)
        names = [*names, at] if named else []
    return found


def _is_list(block: Sequence[Printed]) -> bool:
    """Return whether a block is a list or table: its lines have their amounts at one edge, or in a column."""
    if len(block) == 1:
        return block[0].gap and (block[0].first or block[0].last) and len(block[0].text) < _LONGEST_LOOK
    rows_ = [line for line in block if not line.text.endswith((":", ":\N{EM DASH}", ":--"))]
    behind = sum(line.last for line in rows_)
    before = sum(line.first for line in rows_)
    columns = sum(line.gap and (line.last or line.first) for line in rows_)
    capitals = all(not line.text[:1].islower() for line in rows_)
    gaps = sum(line.gap for line in rows_)
    if (
        columns >= _TWO
        or (gaps >= _TWO and gaps >= _LISTED * len(rows_))
        or (columns and columns >= _LISTED * len(rows_))
    ):
        return True
    full = sum(len(line.text) for line in rows_[:-1]) / max(1, len(rows_) - 1)
    wraps = full >= _NARROW and max(len(line.text) for line in rows_) - full <= _RAGGED
    share = _LISTED if capitals and not wraps else 1
    return max(behind, before) >= max(2, share * len(rows_))


def _reads_on(line: Printed, following: Printed, width: int, *, listed: bool, begun: bool, first: bool) -> bool:
    """Return whether a printed line goes on in the next: the first sign that tells decides."""
    if "|" in line.text and "|" in following.text:
        return False
    if _is_unfinished(line, following):
        return True
    told = _in_list(line, following, begun=begun, first=first) if listed else None
    return _in_prose(line, following, width, listed=listed) if told is None else told


def _is_unfinished(line: Printed, following: Printed) -> bool:
    """Return whether the print itself leaves a line open: a hyphen, a comma, a brace, an amount apart."""
    words = line.text
    if _ends_in_hyphen(words, following.text):
        return True
    if line.counts and following.measures:
        return True
    named = line.bare and not _has_amount(words)
    return named and ((following.whole and not line.whole) or (words.endswith((",", "{", "}")) and not line.gap))


def _in_list(line: Printed, following: Printed, *, begun: bool, first: bool) -> bool | None:
    """Return whether a row of a list goes on in the next line; None where the list does not tell."""
    lower = following.text[:1].islower()
    bare = line.bare and not line.gap
    if not begun and following.each and bare and line.indent >= following.indent:
        return not _has_amount(line.text) and not first
    ends = line.last and not (lower and following.bare and not following.gap)
    columns = (line.gap or following.gap) and not lower
    return False if ends or columns or (not begun and line.bare and not lower) else None


def _in_prose(line: Printed, following: Printed, width: int, *, listed: bool) -> bool:
    """Return whether a line of prose goes on: it is centred like the next, it is full, or it breaks off."""
    words = line.text
    if _centred(line, following) or words.rpartition(" ")[2].lower() in _OPEN:
        return True
    if following.text[:1].islower() and not (line.last and following.last and len(words) < width - _RAGGED):
        return True
    first_word = following.text.partition(" ")[0]
    full = bool(width) and len(words) + 1 + len(first_word) > width - _SLACK and len(words) <= _LONGEST_LOOK
    return full and not (listed and (line.last or line.first))


_DEEP = 8  # blanks before a line that is centred


def _centred(line: Printed, following: Printed) -> bool:
    both = line.indent >= _DEEP and following.indent >= _DEEP
    return both and line.bare and following.bare and not (line.gap or following.gap) and line.text[-1] not in ".:;"


@cache
def _word_pieces() -> frozenset[str]:
    """Return every word of the tables: what tells a hyphen of the print from one of the word."""
    found = {word.lower() for row in rows(Name) for word in re.findall(r"[^\W\d_]+", row.name)}
    return frozenset(found | {word.lower() for row in rows(Notation) for word in re.findall(r"[^\W\d_]+", row.printed)})


def _has_amount(text: str) -> bool:
    return any(piece.kind in AMOUNTS for piece in raw_pieces(tokens(text)))


def _run(lines: Sequence[Printed], *, listed: bool, heads: bool) -> Run:
    """Join printed lines; where a name goes on behind a comma or brace the break stays, for one amount may serve."""
    parts: list[str] = []
    places: list[tuple[int, int, int]] = []
    length = 0
    for at, line in enumerate(lines):
        words = line.text
        following = lines[at + 1].text if at + 1 < len(lines) else ""
        joint = ""
        if following:
            joint = " "
            if _ends_in_hyphen(words, following):
                joint = ""
                words = words[:-1] if _is_split(words[:-1], following) else words
            elif line.counts and lines[at + 1].measures:
                joint = " "
            elif listed or (words.endswith(("{", "}")) and not _has_amount(words)):
                joint = "\n"
        for first, page, text in _without_marks(words, line.at):
            places.append((length + first, page, len(text)))
        kept = "".join(text for _, _, text in _without_marks(words, line.at))
        parts += [kept, joint]
        length += len(kept) + len(joint)
    opens = lines[0]
    places = [place for place in places if place[2]] or [(0, opens.at, 0)]
    text = "".join(parts)
    heads = heads and listed and opens.bare and not opens.gap and not _has_amount(text)
    return Run(text, tuple(places), opens.indent, opens.blanks, listed and not heads, heads)


_HYPHENED = re.compile(r"[^\W\d_][-\N{NOT SIGN}=\N{EN DASH}]$")  # as printers and scans have the sign


def _ends_in_hyphen(words: str, following: str) -> bool:
    """Return whether a line ends in a hyphen, and the next one goes on with it."""
    return following[:1].islower() and _HYPHENED.search(words) is not None


def _is_split(head: str, tail: str) -> bool:
    """Return whether a hyphen at the end of a line only splits a word: "glyce-rine", not "rose-water"."""
    before = re.search(r"[^\W\d_]*$", head)
    after = re.match(r"[^\W\d_]*", tail)
    if before is None or after is None or not before[0]:
        return False
    one, two = before[0].lower(), after[0].lower()
    known = _word_pieces()
    return one + two in known or not (one in known and two in known)


def _without_marks(words: str, at: int) -> Iterator[tuple[int, int, str]]:
    """Yield stretches of a line between marks that are not seen: directions of writing, soft hyphens, joiners."""
    if words.isascii():
        yield 0, at, words
        return
    start = kept = 0
    for position, sign in enumerate(words):
        if unicodedata.category(sign) == "Cf":
            yield kept, at + start, words[start:position]
            kept += position - start
            start = position + 1
    yield kept, at + start, words[start:]
