"""What does the page say? Text becomes a receipt, and nothing on the page is lost or invented.

Signs and words with a meaning are rows of ``notation.csv``; ``tokens`` finds them, ``quantities`` reads amounts,
``lines`` reads a line, and this module reads the page.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed

from reconlab.errors import NoIngredientError, SeveralReceiptsError
from reconlab.reading.carried import with_unit_of_column
from reconlab.reading.damage import in_pattern
from reconlab.reading.given import check_text, in_known_words
from reconlab.reading.gram_or_grain import in_grams_or_grains
from reconlab.reading.lines import has_amount, read_line
from reconlab.reading.openings import heads_columns, opening
from reconlab.reading.page_lines import Run, runs
from reconlab.reading.pages import read_page
from reconlab.reading.phrases import tells_of_people
from reconlab.reading.pieces import AMOUNTS, raw_pieces
from reconlab.reading.rules import read_rule
from reconlab.reading.sides import FEW_WORDS
from reconlab.reading.tokens import Mark, Token, is_broken, last_half, mark_at, tokens
from reconlab.reading.unmeasured import added_at
from reconlab.reasons import Decision
from reconlab.receipts import Item, Line, Page, Receipt, Setting

__all__ = ["check_text", "read", "read_all"]


@in_known_words
def read(
    text: str,
    *,
    title: str = "",
    years: str = "",
    place: str = "",
    book: str = "",
    rule: str = "",
    text_years: str = "",
    text_place: str = "",
) -> Receipt:
    r"""Return the receipt a period page gives, line by line.

    The first line is taken for the title where it holds no amount. Nothing is corrected: each item keeps the
    places of its words in the line, and what was not read is listed with the line.

    Parameters
    ----------
    text : str
        The page as printed, one line an ingredient or run in.
    title : str
        Title of the receipt, where the page's first line is not it; on a page of several, which one is read.
    years, place, book, rule : str
        Year or years, place and kind of the book, and its author's own rule of weights; empty where not known.
    text_years, text_place : str
        Of a reprint or translation, when and where its words were first written.

    Returns
    -------
    Receipt
        The receipt as read.

    Raises
    ------
    InputError
        If the text is empty or is a web page's code, or if the rule cannot be read.
    SeveralReceiptsError
        If the page holds more than one receipt and no title says which; the message names them.
    NoIngredientError
        If it holds no ingredient with an amount.

    Examples
    --------
    >>> receipt = read("Violet Powder\nStarch, 10 oz.\nOrris root, powdered, 2 oz.", years="1911", place="England")
    >>> receipt.title, [(item.name, item.preparation) for item in receipt.items]
    ('Violet Powder', [('Starch', ''), ('Orris root', 'powdered')])
    """
    check_text(text)
    setting = Setting(years, place, book, rule, text_years, text_place)
    read_rule(rule)
    page = read_page(text, setting)
    one = _named(page, title)
    if one is not None:
        return changed(one, text=text)
    printed = _joined([line for run in runs(text) for line in _printed(run, text)], titled=bool(title))
    opens = len(printed) > 1 and not has_amount(printed[0])
    if title and opens and (_words(printed[0]) == _words(title) or _is_heading(printed[0])):
        printed = printed[1:]  # the title stands on the page too
    if not title and opens and not _goes_on(printed[0]) and not heads_columns(printed[0]):
        title, printed = printed[0], printed[1:]
    amounts = [has_amount(line) for line in printed]
    lines: list[Line] = []
    for at, line in enumerate(printed):
        if heads_columns(line):
            lines.append(Line(id=str(len(lines) + 1), text=line, kind="remark", unread=((0, len(line)),)))
            continue
        among = any(amounts[:at]) and any(amounts[at:])
        before = next((each.items[-1] for each in reversed(lines) if each.items), None)
        lines += _with_directions_apart(read_line(line, len(lines) + 1, among_ingredients=among, before=before), before)
    if not any(item.spans.get("unit") or re.search(r"[^\W\d_]", item.name) for line in lines for item in line.items):
        raise NoIngredientError(
            f"no ingredient with an amount was found in {len(lines)} lines",
            "receipt",
            'Write each as printed, such as "Starch, 10 oz." or "two drachms of borax".',
        )
    if not page.receipts and _is_prose(lines):
        raise NoIngredientError(
            "no receipt was found: what reads like an amount stands in running prose",
            "receipt",
            "Give the words of the receipt alone, with each thing beside its amount, as in: Starch, 10 oz.",
        )
    told = in_grams_or_grains(with_unit_of_column(lines), setting)
    return Receipt(title=title.rstrip(".:"), setting=setting, lines=in_pattern(told), text=text)


@in_known_words
def read_all(
    text: str,
    *,
    years: str = "",
    place: str = "",
    book: str = "",
    rule: str = "",
    text_years: str = "",
    text_place: str = "",
    decisions: Sequence[Decision] = (),
) -> Page:
    r"""Return every receipt of a page, and where each of its words went.

    Titles, numbers of variants, directions, doses, prices, running heads and footnotes are told from ingredients by
    how the page is set and by the words of ``page_words.csv``.

    Parameters
    ----------
    text : str
        The page as printed.
    years, place, book, rule : str
        Year or years, place and kind of the book, and its author's own rule of weights; empty where not known.
    text_years, text_place : str
        Of a reprint or translation, when and where its words were first written.
    decisions : sequence of Decision
        What was settled of the page's own questions: where it does not say whether it holds one receipt or two, it
        asks ``one or two: ...``, and the answers are ``one receipt`` and ``two receipts``.

    Returns
    -------
    Page
        With no receipts where the page holds none.

    Raises
    ------
    InputError
        If the text is empty, no text or a web page's code, or if the rule cannot be read.

    Examples
    --------
    >>> page = read_all("COLD CREAM.\n\nWax, 1 oz.\nOil, 4 oz.\n\nLIP SALVE.\n\nWax, 2 oz.\nLard, 3 oz.\n")
    >>> page.titles
    ('COLD CREAM', 'LIP SALVE')
    """
    check_text(text)
    read_rule(rule)
    return read_page(text, Setting(years, place, book, rule, text_years, text_place), decisions)


def _is_heading(line: str) -> bool:
    """Return whether a line is set as a title: in capitals, in marks of italics, or with a number before it."""
    found = opening(runs(line)[0])
    return found.kind in ("title", "variant") and found.sure and found.body >= len(line.rstrip())


_NARROW = 40  # characters of a line of prose


def _printed(run: Run, text: str) -> list[str]:
    """Return a paragraph of prose as one line, and what is set in lines of its own as it is set."""
    rows = [row.strip() for row in text[run.start : run.end].splitlines() if row.strip()]
    wide = all(len(row) >= _NARROW for row in rows[:-1])
    return [run.text.strip()] if wide and not any(row[-1] in "{}" for row in rows) else rows


def _named(page: Page, title: str) -> Receipt | None:
    """Return the receipt of a title, of a page that holds several; None where the whole text is one."""
    if len(page.receipts) <= 1:
        return None
    wanted = _words(title)
    named = [receipt for receipt in page.receipts if wanted and _words(receipt.title) == wanted]
    if title:
        return named[0] if len(named) == 1 else None
    called = "; ".join(receipt.title or "one without a title" for receipt in page.receipts)
    raise SeveralReceiptsError(
        f"the page holds {len(page.receipts)} receipts: {called}",
        "receipt",
        "rl.read_all(text) gives them all; or give the title of the one that is meant, or only its words.",
    )


_WORDS_EACH = 12  # words for each thing, from which on lines without a sure one are prose
_LONG = 20  # words of no prose yet


def _is_prose(lines: Sequence[Line]) -> bool:
    """Return whether lines tell a story, or hold far more words than things and no thing that is sure."""
    items = [item for line in lines for item in line.items]
    words = [line.text for line in lines if line.items]
    if any(tells_of_people(line.text) for line in lines):
        return True
    sure = any(item.certain or item.strength for item in items)
    told = any(piece.kind == "direction" for text in words for piece in raw_pieces(tokens(text)))
    many = sum(len(text.split()) for text in words)
    return not (sure or told) and many > max(_LONG, _WORDS_EACH * len(items))


def _words(text: str) -> str:
    return " ".join(re.findall(r"[^\W_]+", text.lower()))


def _with_directions_apart(line: Line, item: Item | None) -> list[Line]:
    """Cut the method off a run-in line: "... 12 drops. Melt the wax in the oil." is two lines."""
    if not line.items or not line.unread:
        return [line]
    start, end = line.unread[-1]
    mark = mark_at(tokens(line.text[start:end]), 0)
    method = line.text[start:]
    if (
        mark is None
        or "direction" not in mark.meanings
        or has_amount(method)
        or added_at(method)
        or any(span[1] > start for item in line.items for spans in item.spans.values() for span in spans)
    ):
        return [line]
    number = int(line.id)
    before = read_line(line.text[:start].rstrip(), number, among_ingredients=False, before=item)
    return [before, Line(id=str(number + 1), text=method, kind="direction", unread=((0, len(method)),))]


@dataclass
class _Joined:
    """Printed lines that read on, with what has been counted in them so far."""

    rows: list[str] = field(default_factory=list)
    amounts: int = 0
    quantity: bool = False  # one stands in them
    measured: int | None = None  # the first row with an amount
    depth: int = 0  # brackets still open
    opens: bool = False  # the last row goes on, and nothing has its amount yet

    def add(self, row: str) -> None:
        kinds = _amounts(f"{self.rows[-1]}\n{row}" if self.rows else row)
        self.amounts += len(kinds) - (len(_amounts(self.rows[-1])) if self.rows else 0)
        self.quantity = self.quantity or "quantity" in kinds or "enough" in kinds
        if self.measured is None and (_amounts(row) if self.rows else kinds):
            self.measured = len(self.rows)
        self.depth += row.count("(") - row.count(")")
        self.opens = (_goes_on(row) and not self.quantity) or (not self.rows and self.quantity and _wants_name(row))
        self.rows.append(row)


def _joined(printed: list[str], *, titled: bool) -> list[str]:
    """Join what was broken over lines: names braced together, an amount parted from its unit, prose."""
    joined: list[_Joined] = []
    for line in printed:
        under_title = not (titled or len(joined) > 1)
        goes_on = bool(joined) and (
            joined[-1].opens
            or (not under_title and _shares(line, joined[-1].rows[-1]))
            or _is_rest_of(line, joined[-1])
        )
        if not goes_on:
            joined.append(_Joined())
        joined[-1].add(line)
    return ["\n".join(one.rows) for one in joined]


def _amounts(text: str) -> list[str]:
    return [piece.kind for piece in raw_pieces(tokens(text)) if piece.kind in AMOUNTS]


def _is_rest_of(line: str, before: _Joined) -> bool:
    """Return whether a line goes on with those before it."""
    if line.endswith("}") and any("}" in row for row in before.rows[-_BRACED:]) and not has_amount(line):
        at = before.measured  # a name behind the amount of its brace
        return at is not None and len(before.rows) - 1 - at < at + 1
    if before.depth > 0 and ")" in line and "(" not in line.split(")", maxsplit=1)[0]:
        return True
    if before.quantity and _is_amount_alone(line) and _ends_with_name(before.rows[-1]):
        return True
    last, first = tokens(before.rows[-1])[-1:], tokens(line)
    if not last or not first or first[0].kind != "word":
        return False
    mark, end = mark_at(first, 0), mark_at(last, 0)
    parted = last[0].kind == "number" or (end is not None and bool({"number", "each"} & set(end.meanings)))
    if parted and mark is not None and "unit" in mark.meanings and not has_amount(line.split(",", maxsplit=1)[0]):
        return True
    hanging = end is not None and bool({"number", "joining", "each", "total"} & set(end.meanings))
    opening = re.split("[,;.(]|--", line, maxsplit=1)[0]
    few = 3  # words that may be wanting at the end of a line of prose
    runs = before.amounts > 1 and last[0].kind == "word" and len(opening.split()) <= few and not has_amount(opening)
    half = last_half(tokens(before.rows[-1])[-2:])
    broken = half is not None and is_broken(half.text, first[0].text)
    goes_on = (hanging or runs) and "unit" not in (end.meanings if end else ())
    return broken or _is_latin_numeral_behind(end, mark) or (first[0].text[0].islower() and goes_on)


def _is_latin_numeral_behind(end: Mark | None, mark: Mark | None) -> bool:
    """Return whether a Latin numeral goes on behind a Latin unit at a line's end: "unciam", then "unam"."""
    unit = end.meanings.get("unit") if end is not None else None
    numeral = mark.meanings.get("number") if mark is not None else None
    return unit is not None and numeral is not None and unit.language == numeral.language == "la"


_BRACED = 30  # rows of a brace


def _is_amount_alone(line: str) -> bool:
    """Return whether a printed line holds an amount and no name: it belongs to the name that ends the line before."""
    if len(line.split()) > FEW_WORDS:
        return False
    kinds = {piece.kind for piece in raw_pieces(tokens(line))}
    return "quantity" in kinds and kinds <= {"quantity", "point", "leader", "each"}


def _ends_with_name(row: str) -> bool:
    kinds = [piece.kind for piece in raw_pieces(tokens(row)) if piece.kind not in ("point", "leader")]
    return bool(kinds) and kinds[-1] in ("text", "preparation")


def _wants_name(line: str) -> bool:
    """Return whether a printed line ends behind an amount, or words of quality behind one: "8 Loth gute"."""
    kinds = [piece.kind for piece in raw_pieces(tokens(line)) if piece.kind not in ("point", "heading")]
    return "quantity" in kinds and "text" not in kinds and kinds[-1] == "preparation"


def _hangs(line: Sequence[Token]) -> bool:
    """Return whether a printed line ends with a word that joins it to the next: "Gum. Laccae, et"."""
    return bool(line) and line[-1].text.lower() in ("et", "und", "and", "&") and not line[0].text.isupper()


def _shares(line: str, last: str) -> bool:
    """Return whether a line's "of each" speaks of the name in the line before too: it has but one name of its own."""
    pieces = list(raw_pieces(tokens(line)))
    kinds = [piece.kind for piece in pieces]
    if "each" not in kinds or "quantity" not in kinds[kinds.index("each") :] or "text" in kinds[kinds.index("each") :]:
        return False
    found = tokens(line)
    alone = not any(found[piece.first].text.lower() in (",", "and", "et", "&", "und") for piece in pieces[:-1])
    return "text" in kinds[: kinds.index("each")] and alone and not has_amount(last) and len(last.split()) <= FEW_WORDS


def _goes_on(line: str) -> bool:
    found = tokens(line)
    heading = mark_at(found, 0)
    return line.endswith((",", "{", "}")) or _hangs(found) or (heading is not None and "heading" in heading.meanings)
