"""What is a page made of? Text with figures and citations in it, lists, tables, drawings: no HTML, no Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from reconlab.pictures import Picture
from reconlab.reasons import Citation, Reason, Value, figure

# Two references of every page that are no rows of sources.json: where the receipt stands, and what was kept about it.
BOOK = Citation("the source of the receipt")
RECORD = Citation("the record of the reconstruction")

# A figure of a sentence: a number with a unit that is measured or reckoned; entries, dates and days are none.
_MEASURED = re.compile(
    r"(?<![\w.])(?P<number>\d+(?:[.,]\d+)?)"
    r"(?P<unit>\N{NO-BREAK SPACE}?\s?(?:%(?: (?:w/w|v/v|w/v))?|(?:k|m|\N{MICRO SIGN})?g|"
    r"m[Ll]|cm|mm|g/m[Ll]|\N{DEGREE SIGN}\s?C|drops?|parts?)(?!\w))|"
    r"(?<![\w.])(?P<bare>\d+\.\d+)(?![\w.]*\d)"
)


@dataclass(frozen=True, slots=True)
class Figure:
    """A measured or reckoned figure as shown, its range where it matters, its unit in words, and why it is so."""

    number: float
    words: str
    why: Reason
    low: tuple[float, str] | None = None
    high: tuple[float, str] | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Cited:
    """Words that stand for nothing but the sources behind them: they join the block's references."""

    why: Reason


@dataclass(frozen=True, slots=True)
class Blank:
    """Room to write on paper: a line or a box."""

    what: str
    box: bool = False


@dataclass(frozen=True, slots=True)
class Strong:
    """Words that carry weight."""

    words: str


@dataclass(frozen=True, slots=True)
class Typed:
    """Words to be typed at the shell as they stand."""

    words: str


Run = str | Figure | Cited | Blank | Strong | Typed
Text = tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph; ``kind`` is nothing, ``lead``, ``label``, ``care``, ``stop`` or ``printed``: on paper only."""

    text: Text
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Listing:
    """A list; ``kind`` is nothing, ``steps`` where the order counts, or ``ticks`` where each is ticked on paper."""

    items: tuple[Text, ...]
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Grid:
    """A table: the first cell names the row; ``kind`` is nothing, ``figures`` or ``signed``."""

    caption: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Text, ...], ...]
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Weighing:
    """One weighing at the bench: what, how much, how it is taken where that is not plain, and room for the figure."""

    what: str
    amount: Text
    how: Text
    taken: Blank


@dataclass(frozen=True, slots=True)
class Weighings:
    """Weighings in the order of work, numbered through; a sentence between them says what comes next."""

    steps: tuple[Weighing | str, ...]


@dataclass(frozen=True, slots=True)
class Verbatim:
    """Words exactly as printed."""

    words: str
    label: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """A picture with its caption and its figures in words."""

    picture: Picture
    caption: str
    text: Text


@dataclass(frozen=True, slots=True)
class NoteList:
    """Where a page prints the notes of its figures, which a reader of a screen opens one by one."""


@dataclass(frozen=True, slots=True)
class ReferenceList:
    """Where a page lists its references; nothing after it cites."""


Block = Paragraph | Listing | Grid | Weighings | Verbatim | Drawing | NoteList | ReferenceList


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and what stands under it."""

    title: str
    blocks: tuple[Block, ...] = ()
    under: tuple[Section, ...] = ()

    @property
    def empty(self) -> bool:
        """Whether nothing stands under it."""
        return not self.blocks and not self.under


@dataclass(frozen=True, slots=True)
class Page:
    """One page that leaves the project; ``kind`` is ``article`` or ``sheet``."""

    title: str
    kind: str
    head: tuple[Block, ...]
    sections: tuple[Section, ...]
    foot: Text
    book: str  # the two references that are no rows of sources.json, in words
    record: str
    language: str = field(default="en")


def printed(why: Reason) -> Reason:
    """Return a chain that ends at the page the receipt is printed on.

    Parameters
    ----------
    why : Reason
        The chain of a figure reckoned from the receipt.

    Returns
    -------
    Reason
        The same chain with its last step.

    Examples
    --------
    >>> printed(Reason("printed: 1 oz.")).all_sources() == (BOOK,)
    True
    """
    return Reason(why.says, why.sources, (*why.because, Reason("the receipt as printed", (BOOK,))))


def kept(says: str) -> Reason:
    """Return the reason of a figure that stands in the record as a person wrote it.

    Parameters
    ----------
    says : str
        What it is.

    Returns
    -------
    Reason
        A chain that ends at the record.

    Examples
    --------
    >>> kept("weighed at the bench").sources == (RECORD,)
    True
    """
    return Reason(says, (RECORD,))


def from_value(value: Value, unit: str = "") -> Figure:
    """Return a reckoned value as a figure, with its range where it matters.

    Parameters
    ----------
    value : Value
        A value reckoned from the receipt.
    unit : str
        The unit to show; empty where a heading names it.

    Returns
    -------
    Figure
        To stand in a text.

    Examples
    --------
    >>> from_value(Value(5.2381, 5.0, 5.7, "% w/w", Reason("so"))).words
    '5.24'
    """
    low, high = ((value.low, figure(value.low)), (value.high, figure(value.high))) if value.wide else (None, None)
    return Figure(value.number, figure(value.number), printed(value.reason), low, high, unit)


def plain(number: float, unit: str, why: Reason) -> Figure:
    """Return a single number as a figure.

    Parameters
    ----------
    number : float
        The number [any].
    unit : str
        The unit to show; empty where a heading names it.
    why : Reason
        Why it is so.

    Returns
    -------
    Figure
        To stand in a text.

    Examples
    --------
    >>> plain(0.2, "g", Reason("readability / 0.05")).words
    '0.2'
    """
    return Figure(number, figure(number), why, unit=unit)


def sentence(words: str, why: Reason) -> Text:
    """Return a sentence in which every number with a unit is a figure of one and the same reason.

    Parameters
    ----------
    words : str
        A sentence of a table or of a person.
    why : Reason
        Who says it.

    Returns
    -------
    tuple
        Words and figures.

    Examples
    --------
    >>> [run if isinstance(run, str) else run.words for run in sentence("at most 25 % (VI 30)", Reason("so"))]
    ['at most ', '25', ' (VI 30)']
    """
    runs: list[Run] = []
    end = 0
    for match in _MEASURED.finditer(words):
        runs += [words[end : match.start()]] if match.start() > end else []
        number = match["number"] or match["bare"]
        runs.append(Figure(float(number.replace(",", ".")), number, why, unit=(match["unit"] or "").strip()))
        end = match.end()
    return (*runs, words[end:]) if end < len(words) else tuple(runs)


def quoted(words: str) -> str:
    """Return words in quotation marks.

    Parameters
    ----------
    words : str
        A name.

    Returns
    -------
    str
        The name between marks.

    Examples
    --------
    >>> len(quoted("safe"))
    6
    """
    return f"\N{LEFT DOUBLE QUOTATION MARK}{words}\N{RIGHT DOUBLE QUOTATION MARK}"


def joined(texts: Iterable[Text], between: str) -> Text:
    """Return several texts as one.

    Parameters
    ----------
    texts : iterable of tuple
        The texts; empty ones are left out.
    between : str
        What stands between two.

    Returns
    -------
    tuple
        One text.

    Examples
    --------
    >>> joined([("a",), (), ("b",)], "; ")
    ('a', '; ', 'b')
    """
    found: list[Run] = []
    for text in texts:
        if text:
            found += [between, *text] if found else text
    return tuple(found)


def reasons_in(text: Text) -> Iterator[Reason]:
    """Give the reason of every figure and citation of a text.

    Parameters
    ----------
    text : tuple
        Words and figures.

    Yields
    ------
    Reason
        In order.

    Examples
    --------
    >>> [why.says for why in reasons_in(("a", Cited(Reason("so"))))]
    ['so']
    """
    return (run.why for run in text if isinstance(run, Figure | Cited))
