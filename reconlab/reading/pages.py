"""A page becomes receipts: what is printed on it is told apart, and nothing is lost.

A page is read in steps, each a module: its lines as they read on (`page_lines`), what each opens with (`openings`),
its sentences and what they are (`sentences`). Here the parts are put together: a heading opens a receipt, so does the
sign of a prescription, or a list behind words that announce one.
"""

from __future__ import annotations

import itertools
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed

from reconlab.reading.items import with_ids
from reconlab.reading.openings import DEEP, Opening, opening, opens_prescription
from reconlab.reading.page_lines import Run, runs
from reconlab.reading.phrases import phrases
from reconlab.reading.sentences import Piece, pieces
from reconlab.receipts import Item, Line, Page, PagePart, Receipt, Setting

_LONG_HEAD = 6  # letters of a running head; "No. 1" is none
_NUMBER = re.compile(
    r"[\[({]?\s*(?:(?:p|pg|page|pag|seite|s|folio|fol)\.?\s*)?(?:\d{1,4}|[ivxlc]{1,7})\s*[\])}.]?", re.IGNORECASE
)
_VARIANT = re.compile(r"[\[(]?(?:[IVX]{1,5}|[ivx])[\])]?\.?")  # "III" in capitals counts receipts, "iii" pages
_HEAD = re.compile(r"(?:\d{1,4}\s+[^\d]{3,60}|[^\d]{3,60}\s+\d{1,4}[.\]]?)")
_NOTE = re.compile(r"\[?\s*footnote\b|[*\N{DAGGER}\N{DOUBLE DAGGER}]\s*\w|\[(?:\d{1,3}|[a-z*])\]\s", re.IGNORECASE)
_RULE = re.compile(r"[\s*_=.~\-\N{EM DASH}\N{EN DASH}\N{BULLET}|+#]+")
_LEAST_CAPITALS = 4  # letters that make a line of capitals
_SHORT = 200  # letters of a sentence that may announce a receipt


@dataclass
class _Draft:
    """A receipt being gathered."""

    title: str = ""
    sure: bool = True  # that it is one of its own
    titled: bool = False
    signed: bool = False  # under the sign of a prescription, or announced
    label: str = ""
    parts: list[tuple[Piece, str]] = field(default_factory=list)

    @property
    def has_items(self) -> bool:
        return any(piece.kind == "ingredient" for piece, _ in self.parts)

    @property
    def lines(self) -> list[Line]:
        return [piece.line for piece, _ in self.parts if piece.line is not None]


@dataclass
class _Reader:
    """What is known while a page is read from top to bottom."""

    drafts: list[_Draft] = field(default_factory=list)
    base: str = ""  # the last title that is none of a variant
    section: str = ""
    pending: list[Run] = field(default_factory=list)
    announced: bool = False

    @property
    def last(self) -> _Draft:
        if not self.drafts:
            self.drafts.append(_Draft())
        return self.drafts[-1]


def read_page(text: str, setting: Setting) -> Page:
    r"""Return every receipt of a page, and where each of its words went.

    Parameters
    ----------
    text : str
        The page as printed.
    setting : Setting
        When and where the book was printed.

    Returns
    -------
    Page
        Its receipts in order; none where it holds none.

    Examples
    --------
    >>> page = read_page("COLD CREAM.\n\nWax, 1 oz.\nOil, 4 oz.\n\nLIP SALVE.\n\nWax, 2 oz.\nLard, 3 oz.\n", Setting())
    >>> [(receipt.title, len(receipt.items)) for receipt in page.receipts]
    [('COLD CREAM', 2), ('LIP SALVE', 2)]
    """
    reader = _Reader()
    lines = runs(text)
    deep = DEEP + min((run.indent for run in lines), default=0)
    repeated = _repeated(lines)
    for at, run in enumerate(lines):
        kind = _furniture(run, repeated)
        if kind:
            reader.last.parts.append((Piece(kind, run), ""))
            continue
        _read_run(reader, run, at, lines, deep)
    return _page(text, setting, reader.drafts)


def _repeated(lines: Sequence[Run]) -> frozenset[str]:
    """Return short lines that stand on the page more than once beside a page's number: running heads."""
    heads = Counter(
        _headed(run.text) for run in lines if _HEAD.fullmatch(run.text) and len(_headed(run.text)) > _LONG_HEAD
    )
    return frozenset(head for head, times in heads.items() if times > 1 and head)


def _headed(text: str) -> str:
    return re.sub(r"[\W\d_]+", " ", text).strip().lower()


def _furniture(run: Run, repeated: frozenset[str]) -> str:
    """Return what a line is that belongs to the page and to no receipt; empty where it belongs to one."""
    text = run.text
    if _RULE.fullmatch(text):
        return "ornament"
    if run.tabular:
        return ""
    if _NUMBER.fullmatch(text) and not _VARIANT.fullmatch(text):
        return "page number"
    if _HEAD.fullmatch(text) and (_headed(text) in repeated or (_upper(text) and len(_headed(text)) > _LONG_HEAD)):
        return "running head"
    if _NOTE.match(text) and not _upper(text[:20]):
        return "footnote"
    return ""


def _upper(text: str) -> bool:
    letters = [sign for sign in text if sign.isalpha()]
    return len(letters) >= _LEAST_CAPITALS and sum(sign.isupper() for sign in letters) >= 0.8 * len(letters)


def _read_run(reader: _Reader, run: Run, at: int, lines: Sequence[Run], deep: int) -> None:
    body: Run | None = run
    tabular = run.tabular
    for step in range(3):  # a title, the number of a variant, the heading of a part
        if body is None:
            return
        found = opening(body, first=at == 0 and step == 0, deep=deep) if step == 0 or not tabular else Opening()
        if not found.kind or (tabular and found.kind == "title" and not found.sure):
            break
        head = body.cut(0, found.body)
        if found.kind == "title" and not found.sure and not _leads(lines, at):
            break
        _open(reader, found, head)
        body = body.cut(found.body, len(body.text))
    if body is not None:
        for part in _at_inner_numbers(body):
            _read_body(reader, part, tabular=tabular)


def _leads(lines: Sequence[Run], at: int) -> bool:
    """Return whether a list or a paragraph with amounts stands below a line that may be a title."""
    return at + 1 < len(lines)


def _open(reader: _Reader, found: Opening, head: Run | None) -> None:
    if found.kind == "section":
        reader.section = found.value
        if found.value == "remark" and reader.last.titled and not reader.last.sure and not reader.last.has_items:
            reader.last.titled, reader.last.title, reader.base = False, "", ""  # it heads an article, no receipt
        if found.value == "ingredients" and reader.last.has_items:
            reader.drafts.append(_Draft(signed=True))
        reader.announced = reader.announced or found.value == "ingredients"
        if head is not None:
            reader.last.parts.append((Piece("heading", head), ""))
        return
    reader.section = ""
    last = reader.last
    if found.kind == "title":
        reader.base = found.title
        reader.drafts.append(_Draft(found.title, found.sure, titled=True))
    elif last.titled and not last.has_items and not last.label and all(p.kind != "ingredient" for p, _ in last.parts):
        last.title, last.label = f"{last.title}. {found.title}" if last.title else found.title, found.title
    else:
        title = f"{reader.base}. {found.title}" if reader.base else found.title
        reader.drafts.append(_Draft(title, found.sure, titled=True, label=found.title))
    if head is not None:
        reader.last.parts.append((Piece("title", head), ""))


_INNER = re.compile(r"(?:(?<=\s)|(?<=--)|(?<=\N{EM DASH}))[(\[]_?(\d{1,2}|[a-h])_?[)\]][.:]?\s+(?=[^\W_])")


def _at_inner_numbers(run: Run) -> Iterator[Run]:
    """Cut a paragraph where it counts its receipts: "... 2. (2) Take ..." behind a "(1)"."""
    marks = list(_INNER.finditer(run.text))
    if len(marks) < 1 or not _counts(marks):
        yield run
        return
    cuts = [0, *(mark.start() for mark in marks), len(run.text)]
    for start, end in itertools.pairwise(cuts):
        part = run.cut(start, end)
        if part is not None:
            yield part


def _counts(marks: Sequence[re.Match[str]]) -> bool:
    order = [mark[1] for mark in marks]
    return order in ([str(n) for n in range(first, first + len(order))] for first in (1, 2)) or order in (
        list("abcdefgh"[first : first + len(order)]) for first in (0, 1)
    )


def _read_body(reader: _Reader, run: Run, *, tabular: bool) -> None:
    found = opening(run) if not tabular and run.text[:1] in "([" else Opening()
    body = run
    if found.kind == "variant":
        behind = run.cut(found.body, len(run.text))
        if behind is None:
            _open(reader, found, run)
            return
        if _would_read(behind):
            _open(reader, found, run.cut(0, found.body))
            body = behind
    signed = opens_prescription(body.text)
    if signed and reader.last.has_items:
        reader.drafts.append(_Draft(signed=True))
    section = reader.section if not (tabular or signed) else ""
    for piece in pieces(body, section=section, among=tabular, before=_last_item(reader)):
        _take(reader, piece, tabular=tabular, signed=signed, begins=piece.run.start == body.start)


def _last_item(reader: _Reader) -> Item | None:
    lines = reader.last.lines
    return lines[-1].items[-1] if lines else None


def _would_read(run: Run) -> bool:
    return sum(len(p.line.items) for p in pieces(run, section="", among=False) if p.line is not None) > 0


def _take(reader: _Reader, piece: Piece, *, tabular: bool, signed: bool, begins: bool) -> None:
    """Put a piece into the receipt it belongs to."""
    last = reader.last
    if piece.kind == "ingredient":
        since = _since_items(last)
        apart = since is not None and since > 0
        if last.has_items and apart and (tabular or reader.announced) and not _goes_on(last):
            reader.drafts.append(_Draft(signed=reader.announced, sure=reader.announced))
            last = reader.last
        last.signed = last.signed or signed or reader.announced or tabular
        reader.announced = False
        if tabular:
            reader.section = ""
        last.parts.append((piece, "table" if tabular else ""))
        return
    if begins and _announces(piece.run.text) and not _says_goes_on(piece.run.text):
        if last.has_items:
            reader.drafts.append(_Draft(signed=True))
        reader.announced = True
        if not reader.last.titled:
            reader.last.title = _named(piece.run.text)
    reader.last.parts.append((piece, ""))


def _since_items(draft: _Draft) -> int | None:
    """Return how many other pieces stand behind the last items, or None where there are none."""
    for back, (piece, _) in enumerate(reversed(draft.parts)):
        if piece.kind == "ingredient":
            return back
    return None


def _announces(text: str) -> bool:
    tail = text[-160:]
    ends = text.rstrip("-\N{EM DASH}\N{EN DASH} ").endswith((":", ","))
    return any(phrase.meaning == "announce" for phrase in phrases(tail)) and (ends or len(text) < _SHORT)


_QUOTES = '"\N{LEFT DOUBLE QUOTATION MARK}\N{RIGHT DOUBLE QUOTATION MARK}\N{DOUBLE LOW-9 QUOTATION MARK}'
_QUOTED = re.compile(rf"[{_QUOTES}]([^{_QUOTES}]{{3,60}})[{_QUOTES}]")


def _named(text: str) -> str:
    """Return how words that announce a receipt call it: in quotation marks, or behind "the recipe for"."""
    quoted = _QUOTED.search(text)
    if quoted:
        return quoted[1].strip(" ,.;")
    for phrase in phrases(text):
        if phrase.meaning == "announce" and phrase.value == "names":
            name = re.match(r"['\N{RIGHT SINGLE QUOTATION MARK}\s]*([^,.;:(\N{EM DASH}]{3,60})", text[phrase.end :])
            return name[1].strip() if name else ""
    return ""


def _says_goes_on(text: str) -> bool:
    return any(phrase.meaning == "goes_on" for phrase in phrases(text[-90:]))


def _goes_on(draft: _Draft) -> bool:
    piece, _ = draft.parts[-1]
    return piece.kind != "ingredient" and _says_goes_on(piece.run.text)


_LEAST = 2  # items of a receipt that has no heading


def _is_receipt(draft: _Draft) -> bool:
    items = [item for line in draft.lines for item in line.items]
    measured = sum(any(part.unit for q in item.quantities for part in q.parts) for item in items)
    if not items or not measured:
        return False
    if draft.titled or draft.signed:
        return True
    at = next(at for at, (piece, _) in enumerate(draft.parts) if piece.kind == "ingredient")
    head = at
    while head and not draft.parts[head][0].run.blanks:  # the words of its paragraph before it
        head -= 1
    words = [piece.run.text for piece, _ in draft.parts[head:at]] + [line.text for line in draft.lines]
    told = any(p.start < _LEAD and p.meaning == "made" for p in phrases(draft.parts[head][0].run.text[:_LEAD]))
    return measured >= _LEAST and (told or sum(len(text.split()) for text in words) <= _WORDS_EACH * len(items))


_LEAD = 24  # characters
_WORDS_EACH = 9  # words for each item of a receipt without a heading


def _page(text: str, setting: Setting, drafts: Sequence[_Draft]) -> Page:
    receipts: list[Receipt] = []
    parts: list[PagePart] = []
    for draft in drafts:
        number = len(receipts) if _is_receipt(draft) else None
        lines: list[Line] = []
        for piece, _ in draft.parts:
            line = ""
            if number is not None and piece.kind not in _FURNITURE:
                made = _line(piece, len(lines) + 1)
                lines.append(made)
                line = made.id
            of = number if piece.kind not in _OF_PAGE else None
            parts.append(PagePart(_said(piece.kind, number), piece.run.text, piece.run.places, of, line))
        if number is not None:
            start, end = draft.parts[0][0].run.start, draft.parts[-1][0].run.end
            receipts.append(
                Receipt(title=draft.title, setting=setting, lines=tuple(lines), text=text[start:end], sure=draft.sure)
            )
    return Page(text=text, receipts=tuple(receipts), parts=tuple(parts))


_OF_PAGE = ("page number", "running head", "footnote", "ornament")
_FURNITURE = (*_OF_PAGE, "title", "heading")


def _said(kind: str, number: int | None) -> str:
    return kind if number is not None or kind in _OF_PAGE else "unread"


def _line(piece: Piece, number: int) -> Line:
    if piece.line is not None:
        items = piece.line.items
        return changed(piece.line, id=str(number), items=with_ids(items, number))
    kind = {"dose": "direction", "direction": "direction", "price": "price"}.get(piece.kind, "remark")
    text = piece.run.text
    return Line(id=str(number), text=text, kind=kind, unread=((0, len(text)),))  # type: ignore[arg-type]
