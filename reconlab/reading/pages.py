"""A page becomes receipts: what is printed on it is told apart, and nothing is lost.

A page is read in steps, each a module: its lines as they read on (`page_lines`), what each opens with (`openings`),
its sentences and what they are (`sentences`). Here the parts are put together: a heading opens a receipt, so does the
sign of a prescription, or a list behind words that announce one.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed

from reconlab.reading.one_or_two import GOES_ON, NEW_LIST, NEW_PARAGRAPH, UNMARKED
from reconlab.reading.openings import DEEP, Opening, opening, opens_prescription
from reconlab.reading.page_cuts import at_headings, counted, number_end, parts_of, variant_end
from reconlab.reading.page_drafts import Draft, page_of
from reconlab.reading.page_lines import Run, runs
from reconlab.reading.phrases import phrases
from reconlab.reading.price_lists import is_price_row
from reconlab.reading.sentences import Piece, pieces
from reconlab.reading.tokens import tokens
from reconlab.reading.unread import unread_of
from reconlab.reasons import Decision
from reconlab.receipts import Item, Page, Setting

_LONG_HEAD = 6  # letters of a running head; "No. 1" is none
_NUMBER = re.compile(
    r"[\[({]?\s*(?:(?:p|pg|page|pag|seite|s|folio|fol)\.?\s*)?(?:\d{1,4}|[ivxlc]{1,7})\s*[\])}.]?", re.IGNORECASE
)
_VARIANT = re.compile(r"[\[(]?(?:[IVX]{1,5}|[ivx])[\])]?\.?")  # "III" in capitals counts receipts, "iii" pages
_HEAD = re.compile(r"(?:\d{1,4}\s+[^\d]{3,60}|[^\d]{3,60}\s+\d{1,4}[.\]]?)")
_COUNTED = re.compile(r"(?:\bNo?s?\.?|\N{NUMERO SIGN})\s?\d{1,3}[.\]]?$", re.IGNORECASE)  # a title: "FACE WASH. No. 2"
_NOTE = re.compile(r"\[?\s*footnote\b|[*\N{DAGGER}\N{DOUBLE DAGGER}]\s*\w|\[(?:\d{1,3}|[a-z*])\]\s", re.IGNORECASE)
_RULE = re.compile(r"[\s*_=.~\-\N{EM DASH}\N{EN DASH}\N{BULLET}|+#]+")
_LEAST_CAPITALS = 4  # letters that make a line of capitals
_SHORT = 200  # letters of a sentence that may announce a receipt


@dataclass
class _Reader:
    """What is known while a page is read from top to bottom."""

    drafts: list[Draft] = field(default_factory=list)
    base: str = ""  # the last title that is none of a variant
    section: str = ""
    pending: list[Run] = field(default_factory=list)
    announced: bool = False
    numbers: frozenset[str] = frozenset()  # that count the paragraphs of the page
    over_table: bool = False  # the section's heading stands over the rows read now
    analysed: bool = False  # words before the rows read now say that they are an analysis
    priced: bool = False  # the row before is one of a price list

    @property
    def last(self) -> Draft:
        if not self.drafts:
            self.drafts.append(Draft())
        return self.drafts[-1]

    @property
    def last_item(self) -> Item | None:
        """The item that a ditto mark repeats: of a variant's first line the last of the receipt before it."""
        before = self.drafts[-2].last_item if self.last.label and len(self.drafts) > 1 else None
        return self.last.last_item or before


def read_page(text: str, setting: Setting, decisions: Sequence[Decision] = ()) -> Page:
    r"""Return every receipt of a page, and where each of its words went.

    Parameters
    ----------
    text : str
        The page as printed.
    setting : Setting
        When and where the book was printed.
    decisions : sequence of Decision
        What a person settled of the questions of one receipt or two.

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
    lines = runs(text)
    reader = _Reader(numbers=counted(lines))
    deep = DEEP + min((run.indent for run in lines), default=0)
    repeated = _repeated(lines)
    for at, run in enumerate(lines):
        reader.priced = run.tabular and is_price_row(run.text, among_prices=reader.priced)
        kind = "price" if reader.priced else _furniture(run, repeated)
        if kind:
            reader.last.add(Piece(kind, run))
            continue
        parts = (run,) if run.tabular else at_headings(run)
        for part in parts:
            leads = lines[at + 1] if at + 1 < len(lines) else None
            _read_run(reader, part, first=at == 0 and part.start == run.start, leads=leads, deep=deep)
    return page_of(text, setting, reader.drafts, decisions)


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
    if (
        _HEAD.fullmatch(text)
        and not _COUNTED.search(text)
        and (_headed(text) in repeated or (_upper(text) and len(_headed(text)) > _LONG_HEAD))
    ):
        return "running head"
    if _NOTE.match(text) and not _upper(text[:20]):
        return "footnote"
    return ""


def _upper(text: str) -> bool:
    letters = [sign for sign in text if sign.isalpha()]
    return len(letters) >= _LEAST_CAPITALS and sum(sign.isupper() for sign in letters) >= 0.8 * len(letters)


def _read_run(reader: _Reader, run: Run, *, first: bool, leads: Run | None, deep: int) -> None:
    over = leads is not None and any(p.meaning == "made" and p.start == 0 for p in phrases(leads.text[:_LEAD]))
    body: Run | None = run
    tabular, titled = run.tabular, False
    for step in range(3):  # a title, the number of a variant, the heading of a part
        if body is None:
            return
        sought = step == 0 or not tabular
        found = opening(body, first=first and step == 0, deep=deep, over=over) if sought else Opening()
        unsure = found.kind == "title" and not found.sure
        again = titled and found.kind == "title"  # "_Pills of Spurge._ Fernelius."
        if not found.kind or again or (unsure and (tabular or not (leads or body.text[found.body :].strip()))):
            break
        _open(reader, found, body.cut(0, found.body))
        body = body.cut(found.body, len(body.text))
        titled = titled or found.kind == "title"
        tabular = tabular and found.value not in ("dose", "remark")  # "DOSE.--Horses, 1 oz.; dogs, 20 m." is no list
    for part in () if body is None else (body,) if tabular else parts_of(body):
        _read_body(reader, part, tabular=tabular)


def _open(reader: _Reader, found: Opening, head: Run | None) -> None:
    if found.kind == "section":
        reader.section, reader.over_table = found.value, True
        if found.value == "remark" and reader.last.titled and reader.last.doubt and not reader.last.has_items:
            reader.last.titled, reader.last.title, reader.base = False, "", ""  # it heads an article, no receipt
        if found.value == "ingredients" and reader.last.has_items:
            reader.drafts.append(Draft(signed=True))
        reader.announced = reader.announced or found.value == "ingredients"
        if head is not None:
            reader.last.add(Piece("heading", head))
        return
    reader.section = ""
    last = reader.last
    if found.kind == "title" and _OTHER_NAME.match(found.title) and last.titled and last.parts[-1].kind == "title":
        last.title = reader.base = f"{last.title}, {found.title}"
    elif found.kind == "title":
        reader.base = found.title
        reader.drafts.append(Draft(found.title, None if found.sure else UNMARKED, titled=True))
    elif last.titled and not last.has_items and not last.label:
        last.title, last.label = f"{last.title}. {found.title}" if last.title else found.title, found.title
    else:
        title = f"{reader.base}. {found.title}" if reader.base else found.title
        reader.drafts.append(Draft(title, None, titled=True, label=found.title))
    if head is not None:
        reader.last.add(Piece("title", head))


_SIGN_ALONE = 4  # letters: "Rp.:"
_OTHER_NAME = re.compile(r"(?:or|ou|oder|vel|sive|seu|vulgo|alias)[\s,]", re.IGNORECASE)


def _read_body(reader: _Reader, run: Run, *, tabular: bool) -> None:
    body = run if tabular else _behind_variant(reader, run)
    if body is None:
        return
    signed = opens_prescription(body.text)
    if signed and reader.last.has_items:
        reader.drafts.append(Draft(signed=True))
    reader.announced = reader.announced or (signed and len(body.text) <= _SIGN_ALONE)
    reader.over_table = reader.over_table and run.tabular
    reader.analysed = reader.analysed and run.tabular
    section = reader.section if reader.over_table or not (tabular or signed) else ""
    section = "remark" if reader.analysed else section
    found = pieces(body, section=section, among=tabular, before=reader.last_item)
    if not (tabular or reader.announced) and _begins_again(reader.last, found):
        goes_on = reader.last.titled and not reader.last.inside
        reader.drafts.append(Draft(reader.base if goes_on else "", GOES_ON if goes_on else NEW_PARAGRAPH))
    for piece in found:
        _take(reader, piece, tabular=tabular, signed=signed, begins=piece.run.start == body.start)
    awaited = reader.last.titled and not reader.last.has_items
    reader.analysed = reader.analysed or (not (tabular or awaited) and _leads_to_analysis(body.text))


def _leads_to_analysis(text: str) -> bool:
    """Return whether the table below tells what was found in a thing: "The analyses gave:"."""
    tail = text[-_SHORT:]
    told = {phrase.meaning for phrase in phrases(tail)} if tail.rstrip("-\N{EM DASH} ").endswith(":") else set()
    return "analysis" in told and told.isdisjoint(("announce", "made"))


def _behind_variant(reader: _Reader, run: Run) -> Run | None:
    """Open the variant that a paragraph begins with, if what stands behind it reads as a receipt; return the rest."""
    text = run.text
    found = opening(run) if text[:1] in "([" else Opening()
    end = variant_end(text) or number_end(text, reader.numbers)
    if found.kind != "variant" and end:
        found = Opening("variant", text[:end].strip(" .:,)-\N{EM DASH}"), body=end, sure=True)
    if found.kind != "variant":
        return run
    behind = run.cut(found.body, len(text))
    if behind is not None and not _would_read(behind):
        return run
    _open(reader, found, run.cut(0, found.body))
    reader.last.inside = bool(variant_end(text))
    return behind


def _begins_again(last: Draft, found: Sequence[Piece]) -> bool:
    """Return whether a paragraph tells again what is taken, behind directions that close what stands before."""
    closed = last.has_items and (last.told or last.inside or _is_whole_list(last))
    if not closed or not found or _says_goes_on(found[0].run.text[:_LEAD]) or _announces(found[0].run.text):
        return False
    at = next((at for at, piece in enumerate(found) if piece.line is not None), len(found))
    measured = sum(bool(item.quantities) for piece in found if piece.line is not None for item in piece.line.items)
    return at <= 1 and measured >= _LEAST


def _is_whole_list(draft: Draft) -> bool:
    """Return whether the last list is a receipt in itself: three amounts or more, semicolons and a full stop."""
    piece = next(piece for piece in reversed(draft.parts) if piece.line is not None and piece.line.items)
    items = piece.line.items if piece.line is not None else ()
    text = piece.run.text.rstrip()
    return text.endswith(".") and text.count(";") >= _LEAST and sum(bool(item.quantities) for item in items) > _LEAST


_LEAD = 24  # characters
_LEAST = 2  # amounts of a receipt


def _would_read(run: Run) -> bool:
    return sum(len(p.line.items) for p in pieces(run, section="", among=False) if p.line is not None) > 0


def _take(reader: _Reader, piece: Piece, *, tabular: bool, signed: bool, begins: bool) -> None:
    """Put a piece into the receipt it belongs to."""
    last = reader.last
    piece = piece if tabular or signed else _without_portions(piece, last)
    if piece.kind == "ingredient":
        if last.has_items and last.since and (tabular or reader.announced) and not _goes_on(last):
            reader.drafts.append(Draft(signed=reader.announced, doubt=None if reader.announced else NEW_LIST))
            last = reader.last
        last.signed, last.listed = last.signed or signed or reader.announced, last.listed or tabular
        reader.announced = False
        if tabular:
            reader.section = ""
        last.add(piece)
        return
    if begins and _announces(piece.run.text) and not _says_goes_on(piece.run.text):
        if last.has_items:
            reader.drafts.append(Draft(signed=True))
        reader.announced = True
        if not reader.last.titled:
            reader.last.title = _named(piece.run.text)
    reader.last.add(piece)


_OF_THE = re.compile(r"\s*(?:of|von)\s+(?:the|the said|der|dem|den)\s+(?:[^\W\d_]+\s+)?|\s*vom\s+", re.IGNORECASE)


def _without_portions(piece: Piece, draft: Draft) -> Piece:
    """Leave out amounts that are a portion of what is listed already: "in a pint of the alcohol"."""
    line = piece.line
    if line is None or not draft.has_items:
        return piece
    listed = [_words(item.name) for before in draft.lines for item in before.items]
    kept = tuple(item for item in line.items if not _is_portion(item, line.text, listed))
    if len(kept) == len(line.items):
        return piece
    if not kept:
        return Piece("direction", piece.run)
    return changed(piece, line=changed(line, items=kept, unread=unread_of(kept, line.text, tokens(line.text))))


def _is_portion(item: Item, text: str, listed: Sequence[frozenset[str]]) -> bool:
    at = min((start for start, _ in item.spans.get("name", ())), default=0)
    end = max((last for kind in ("amount", "unit") for _, last in item.spans.get(kind, ())), default=at)
    words = _words(item.name)
    return bool(words and _OF_THE.fullmatch(text, end, max(at, end))) and sum(words <= name for name in listed) == 1


def _words(name: str) -> frozenset[str]:
    return frozenset(re.findall(r"[^\W\d_]{3,}", name.lower()))


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


def _goes_on(draft: Draft) -> bool:
    piece = draft.parts[-1]
    return piece.kind != "ingredient" and _says_goes_on(piece.run.text)
