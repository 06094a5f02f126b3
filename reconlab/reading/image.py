"""What does the picture of a page say? Tesseract, started as a program, gives words and where each stands.

The words become the text of the page, its columns and indents kept as blanks; each keeps its box, so that a line read
can be shown beside its piece of the picture. What the program misreads is not mended here: the reading asks about it.
"""

from __future__ import annotations

import csv
import io
import os
import shutil
import subprocess
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from dataclasses import replace as changed
from itertools import groupby, pairwise
from pathlib import Path
from statistics import median

from reconlab.errors import InputError, nearest
from reconlab.reading.given import in_known_words
from reconlab.reading.pages import read_page
from reconlab.reading.rules import read_rule
from reconlab.receipts import Item, Line, Page, PagePart, Receipt, Setting, Span

KINDS = (".png", ".jpg", ".jpeg", ".tif", ".tiff", ".bmp", ".webp")
_PROGRAM = "tesseract"
SURE = 80.0  # of 100: what the program is less sure of than this, a person looks at
_PATIENCE_S = 300  # for a page; one takes seconds
_WORD = "5"  # level of a row that is a word
_COLUMN = 3  # blanks from which on a gap between words is a column
_ROOM = 12  # dots of the picture shown around a line
_LOW = 0.4  # height of a row of dots, in heights of a word
_EMPTY = 1.6  # steps from line to line from which on an empty line stands between
_LONG = 4  # its length in its own heights
_INDENT = 4  # blanks from which on a line stands further in than the page


@dataclass(frozen=True, slots=True)
class _Language:
    name: str
    code: str  # as the program calls it
    countries: tuple[str, ...] = ()


_LANGUAGES = (
    _Language("english", "eng", ("GB", "IE", "US", "CA")),
    _Language("french", "fra", ("FR", "BE", "CH-GE")),
    _Language("german", "deu", ("DE", "AT", "CH")),
    _Language("latin", "lat"),
)
_LEARNED = ("pharmacopoeia", "dispensing")  # kinds of book that print Latin beside the country's language


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle of a picture, in dots from its upper left corner."""

    left: int
    top: int
    right: int
    bottom: int


@dataclass(frozen=True, slots=True)
class Word:
    """A word of the picture: its place in the text, its box, and how sure the program is of it, from 0 to 100."""

    start: int
    end: int
    box: Box
    confidence: float


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class PicturedPage(Page):
    """A page read from its picture: all that a page is, and where each word stands in the picture."""

    picture: Path
    turned: float  # by how many degrees, so that its lines are level
    languages: tuple[str, ...]
    words: tuple[Word, ...]

    def boxes(self, span: Span) -> tuple[Box, ...]:
        """Return where a stretch of the text stands in the picture: a box for each printed line of it."""
        start, end = span
        rows: list[list[Box]] = []
        last = -1
        for word in self.words:
            if word.start < end and start < word.end:
                if last < 0 or "\n" in self.text[last : word.start]:
                    rows.append([])
                rows[-1].append(word.box)
                last = word.end
        return tuple(_around(row) for row in rows)

    def boxes_of(self, receipt: int, line: str) -> tuple[Box, ...]:
        """Return where a line of a receipt stands in the picture, the receipts counted from 0."""
        parts = [part for part in self.parts if part.receipt == receipt and part.line == line]
        return tuple(box for part in parts for box in self.boxes(part.span))

    def pictured(self, receipt: int) -> Callable[[Line], Iterable[bytes]]:
        """Return what gives the pieces of picture a line of a receipt stands in, the receipts counted from 0."""
        from reconlab.reading.straight import as_png, opened, turned  # noqa: PLC0415 - needs Pillow, an extra

        whole = turned(opened(self.picture), self.turned)

        def pieces(line: Line) -> Iterator[bytes]:
            boxes = self.boxes_of(receipt, line.id)
            if boxes:
                yield as_png(whole.crop(_with_room(_around(boxes), *whole.size)))

        return pieces

    def crop(self, box: Box) -> bytes:
        """Return a piece of the picture as PNG, with a little of what stands around it."""
        from reconlab.reading.straight import as_png, opened, turned  # noqa: PLC0415 - needs Pillow, an extra

        whole = turned(opened(self.picture), self.turned)
        return as_png(whole.crop(_with_room(box, *whole.size)))


@in_known_words
def read_image(
    picture: str | Path,
    *,
    languages: str | Sequence[str] = (),
    years: str = "",
    place: str = "",
    book: str = "",
    rule: str = "",
    text_years: str = "",
    text_place: str = "",
) -> PicturedPage:
    """Return every receipt of a page that is given as a picture, with the place of each word in it.

    The program Tesseract reads the picture; what it reads is then read like any page, so that its misreadings are asked
    about as ruined print is, and no item is certain that stands on a word it doubts itself. It knows no signs of
    weight and few fractions: look at the piece of picture beside the line.

    Parameters
    ----------
    picture : str or pathlib.Path
        A picture of one page, such as ``"page.png"``; 300 dots an inch or more.
    languages : str or sequence of str
        In which languages the page is printed, such as ``"French"`` or ``("English", "Latin")``; where it is not said,
        that of the place, and Latin beside it in a pharmacopoeia or dispensing book.
    years, place, book, rule : str
        Year or years, place and kind of the book, and its author's own rule of weights; empty where not known.
    text_years, text_place : str
        Of a reprint or translation, when and where its words were first written.

    Returns
    -------
    PicturedPage
        With no receipts where the page holds none.

    Raises
    ------
    FileError
        If the picture is not there or is none.
    InputError
        If the program or the data of a language is not installed, if a language or the rule cannot be read, or if no
        word was found in the picture.

    Examples
    --------
    >>> read_image("page.pdf")
    Traceback (most recent call last):
    reconlab.errors.InputError: page.pdf: this is no picture. Save the page as .png, .jpg or .tif.
    """
    path = Path(picture).expanduser()
    if path.suffix.lower() not in KINDS:
        raise InputError("this is no picture", path.name, "Save the page as .png, .jpg or .tif.")
    setting = Setting(years, place, book, rule, text_years, text_place)
    read_rule(rule)
    codes = _codes(languages, setting)
    page, turned = _straightened(path)
    text, words = words_of(_recognised(page, codes, str(path)))
    if not words:
        raise InputError("no word was found in the picture", str(path), "Give a sharper or larger picture of the page.")
    seen = PicturedPage(text=text, receipts=(), parts=(), picture=path, turned=turned, languages=codes, words=words)
    return _pictured(text, words, setting, seen)


def read_again(page: PicturedPage, text: str, setting: Setting) -> PicturedPage:
    """Return a page with some of its lines corrected: each corrected line stands where the printed one stood.

    Parameters
    ----------
    page : PicturedPage
        As it was read from its picture.
    text : str
        Its text, line for line.
    setting : Setting
        When and where the book was printed.

    Returns
    -------
    PicturedPage
        Its receipts as they now read.

    Raises
    ------
    InputError
        If the text has another number of lines.

    Examples
    --------
    >>> word = Word(0, 6, Box(0, 0, 60, 20), 40.0)
    >>> page = PicturedPage(text="Starcb", receipts=(), parts=(), picture=Path("page.png"), turned=0.0,
    ...                     languages=("eng",), words=(word,))
    >>> read_again(page, "Starch, 3 oz.", Setting()).words
    (Word(start=0, end=13, box=Box(left=0, top=0, right=60, bottom=20), confidence=100.0),)
    """
    before, after = page.text.split("\n"), text.split("\n")
    if len(before) != len(after):
        raise InputError("the page has another number of lines", page.picture.name, "Read the picture again.")
    words: list[Word] = []
    start = at = 0
    for was, now in zip(before, after, strict=True):
        here = [word for word in page.words if start <= word.start < start + len(was)]
        if was == now:
            words += [changed(word, start=word.start + at - start, end=word.end + at - start) for word in here]
        elif here and now.strip():
            words.append(Word(at, at + len(now), _around([word.box for word in here]), 100.0))
        start, at = start + len(was) + 1, at + len(now) + 1
    return _pictured(text, tuple(words), setting, page)


def words_of(tsv: str) -> tuple[str, tuple[Word, ...]]:
    r"""Return the text of a page and its words, from the table Tesseract prints.

    Parameters
    ----------
    tsv : str
        The table: a row for each word, with its line and its box.

    Returns
    -------
    text : str
        A line for each printed line; columns and indents are blanks.
    words : tuple of Word
        In the order of the text.

    Raises
    ------
    InputError
        If it is no such table.

    Examples
    --------
    >>> head = "level page_num block_num par_num line_num word_num left top width height conf text".split()
    >>> rows = [[5, 1, 1, 1, 1, 1, 10, 10, 60, 12, 96, "Starch"], [5, 1, 1, 1, 1, 2, 200, 10, 10, 12, 90, "3"]]
    >>> text, words = words_of("\n".join("\t".join(map(str, row)) for row in [head, *rows]))
    >>> text, words[1].box
    ('Starch             3', Box(left=200, top=10, right=210, bottom=22))
    """
    found = list(_seen(tsv))
    if not found:
        return "", ()
    wide, high = _letter(found)
    edge = min(word.box.left for word in found)
    text, words = "", []
    lines = [list(line) for _, line in groupby(found, key=lambda word: word.line)]
    for row, breaks in zip(lines, _breaks(lines), strict=True):
        indent = int((row[0].box.left - edge) / wide)
        text += "\n" * breaks + " " * (indent if indent >= _INDENT else 0)
        for last, seen in zip([None, *row], row, strict=False):
            said = "." * max(3, int(seen.width / wide)) if seen.is_leader(high) else seen.text
            text += _blanks(last, seen, wide)
            words.append(Word(len(text), len(text) + len(said), seen.box, seen.confidence))
            text += said
    return text, tuple(words)


@dataclass(frozen=True, slots=True)
class _Seen:
    """A word as the program gives it: the numbers of its page, block, paragraph and line, its box, and its text."""

    line: tuple[int, int, int, int]
    box: Box
    confidence: float
    text: str

    @property
    def width(self) -> int:
        """How wide it is, in dots."""
        return self.box.right - self.box.left

    @property
    def height(self) -> int:
        """How high it is, in dots."""
        return self.box.bottom - self.box.top

    def is_leader(self, high: float) -> bool:
        """Whether it is a row of dots that leads to an amount, whatever letters were seen in it: it is low and long."""
        dashes = not self.text.strip("-\N{EN DASH}\N{EM DASH}_")
        return self.height < _LOW * high and self.width > _LONG * self.height and not dashes


def _seen(tsv: str) -> Iterator[_Seen]:
    try:
        for row in csv.DictReader(io.StringIO(tsv), delimiter="\t", quoting=csv.QUOTE_NONE):
            text = (row["text"] or "").strip()
            if row["level"] == _WORD and text:
                page, block, paragraph, line = (int(row[f"{n}_num"]) for n in ("page", "block", "par", "line"))
                left, top, width, height = (int(row[n]) for n in ("left", "top", "width", "height"))
                box = Box(left, top, left + width, top + height)
                yield _Seen((page, block, paragraph, line), box, float(row["conf"]), text)
    except (KeyError, ValueError, TypeError) as fault:
        raise InputError(f"this is no table of words ({fault})", _PROGRAM, "Use Tesseract 4 or newer.") from fault


def _letter(words: Sequence[_Seen]) -> tuple[float, float]:
    """Return how wide a letter is and how high a word, in dots."""
    wide = median(word.width / len(word.text) for word in words)
    return max(1.0, wide), median(word.height for word in words)


def _breaks(lines: Sequence[Sequence[_Seen]]) -> list[int]:
    """Return how many lines down each line stands from the one before it; the program leaves empty lines out."""
    middles = [median((word.box.top + word.box.bottom) / 2 for word in line) for line in lines]
    steps = [after - before for before, after in pairwise(middles)]
    pitch = max(1.0, median(filter(lambda step: step > 0, steps or [1]))) if any(step > 0 for step in steps) else 1.0
    return [0, *(2 if step > _EMPTY * pitch or step < 0 else 1 for step in steps)]


def _blanks(last: _Seen | None, word: _Seen, wide: float) -> str:
    if last is None:
        return ""
    gap = int((word.box.left - last.box.right) / wide)
    return " " * (gap if gap > _COLUMN else 1)


def _around(boxes: Sequence[Box]) -> Box:
    return Box(
        min(box.left for box in boxes),
        min(box.top for box in boxes),
        max(box.right for box in boxes),
        max(box.bottom for box in boxes),
    )


def _pictured(text: str, words: tuple[Word, ...], setting: Setting, page: PicturedPage) -> PicturedPage:
    """Return a page of words as read, of the same picture."""
    read = read_page(text, setting)
    receipts = tuple(_looked_at(receipt, number, read.parts, words) for number, receipt in enumerate(read.receipts))
    return changed(page, text=text, receipts=receipts, parts=read.parts, words=words)


def _looked_at(receipt: Receipt, number: int, parts: Sequence[PagePart], words: Sequence[Word]) -> Receipt:
    """Return a receipt in which no item is certain that stands on a word the program itself doubts."""
    doubted = [(word.start, word.end) for word in words if word.confidence < SURE]
    lines = []
    for line in receipt.lines:
        places = [place for part in parts if part.receipt == number and part.line == line.id for place in part.places]
        doubts = [
            (text + max(start, page) - page, text + min(end, page + length) - page)
            for text, page, length in places
            for start, end in doubted
            if start < page + length and page < end
        ]
        lines.append(changed(line, items=tuple(_doubted(item, doubts) for item in line.items)))
    return changed(receipt, lines=tuple(lines))


def _doubted(item: Item, doubts: Sequence[Span]) -> Item:
    spans = [span for found in item.spans.values() for span in found]
    met = any(start < last and first < end for start, end in spans for first, last in doubts)
    return changed(item, certain=False) if met else item


def _straightened(path: Path) -> tuple[bytes, float]:
    """Return a page ready to be read, as PNG, and by how many degrees it was turned."""
    try:
        from reconlab.reading.straight import as_png, straightened  # noqa: PLC0415
    except ImportError as fault:
        raise InputError("Pillow is not installed", "read_image", "In a cell: %pip install pillow.") from fault
    page, turned = straightened(path)
    return as_png(page), turned


def _with_room(box: Box, width: int, height: int) -> tuple[int, int, int, int]:
    """Return the edges of a piece of a picture, with a little of what stands around it."""
    room = _ROOM
    return max(0, box.left - room), max(0, box.top - room), min(width, box.right + room), min(height, box.bottom + room)


def _codes(languages: str | Sequence[str], setting: Setting) -> tuple[str, ...]:
    """Return the languages of a page as the program calls them."""
    said = [languages] if isinstance(languages, str) else list(languages)
    if any(said):
        return tuple(dict.fromkeys(_code(word) for one in said for word in one.replace("+", ",").split(",")))
    region = setting.region
    country = region.split("-", maxsplit=1)[0]
    spoken = [one.code for wanted in (region, country) for one in _LANGUAGES if wanted in one.countries]
    codes = spoken[:1] or ["eng"]
    return tuple([*codes, "lat"] if setting.book in _LEARNED else codes)


def _code(word: str) -> str:
    wanted = word.strip().lower()
    for one in _LANGUAGES:
        if wanted in (one.name, one.code):
            return one.code
    known = [one.name.capitalize() for one in _LANGUAGES]
    hint = nearest(wanted, known)
    raise InputError(f"{word.strip()!r} is no language read here", "languages", f"Use {', '.join(known)}.{hint}")


def _recognised(page: bytes, codes: tuple[str, ...], where: str) -> str:
    """Return the table the program prints of a picture."""
    program = _program()
    lacking = sorted(set(codes) - set(_run([program, "--list-langs"], b"", where).split()))
    if lacking:
        names = ", ".join(one.name.capitalize() for one in _LANGUAGES if one.code in lacking)
        packages = " ".join(f"tesseract-ocr-{code}" for code in lacking)
        remedy = f"On Debian or Ubuntu: apt install {packages}. Or name the languages that are there: languages=..."
        raise InputError(f"Tesseract has no data for {names}", "languages", remedy)
    # one block of lines: so an amount stays on the line of its name, far as it may stand from it
    return _run([program, "stdin", "stdout", "-l", "+".join(codes), "--psm", "6", "tsv"], page, where)


def _program() -> str:
    found = shutil.which(_PROGRAM)
    if found is None:
        remedy = "On Debian or Ubuntu: apt install tesseract-ocr. Or type the words of the page and use rl.read_all."
        raise InputError("the program Tesseract, which reads pictures, is not installed", "read_image", remedy)
    return found


def _run(words: Sequence[str], given: bytes, where: str) -> str:
    one_core = os.environ | {"OMP_THREAD_LIMIT": "1"}  # more make it slower, not faster
    try:
        ended = subprocess.run(  # noqa: S603 - a program found by its name, no shell
            words, input=given, env=one_core, capture_output=True, check=True, timeout=_PATIENCE_S
        )
    except subprocess.TimeoutExpired as fault:
        raise InputError("it took too long to read", where, "Cut the picture to one page, and try again.") from fault
    except (OSError, subprocess.CalledProcessError) as fault:
        said = (getattr(fault, "stderr", None) or b"").decode("utf-8", "replace").strip().splitlines()
        found = f"Tesseract could not read it ({said[-1] if said else fault})"
        raise InputError(found, where, "Save the page again as .png and try again.") from fault
    return ended.stdout.decode("utf-8", "replace")
