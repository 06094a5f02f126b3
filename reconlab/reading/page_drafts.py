"""The receipts of a page while they are gathered: which parts each has, whether it is one, and the page they make."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed

from reconlab.reading.carried import with_unit_of_column
from reconlab.reading.damage import in_pattern
from reconlab.reading.gram_or_grain import in_grams_or_grains
from reconlab.reading.items import with_ids
from reconlab.reading.one_or_two import TWO, Doubt, asked, settled
from reconlab.reading.phrases import phrases, tells_of_people
from reconlab.reading.sentences import Piece
from reconlab.reasons import Decision, Question
from reconlab.receipts import Item, Line, Page, PagePart, Receipt, Setting


@dataclass
class Draft:
    """A receipt being gathered."""

    title: str = ""
    doubt: Doubt | None = None  # whether it is one of its own
    titled: bool = False
    signed: bool = False  # under the sign of a prescription, or announced
    listed: bool = False  # set as a table
    label: str = ""
    inside: bool = False  # opened by a word inside a paragraph, with which it ends
    parts: list[Piece] = field(default_factory=list)
    last_item: Item | None = None
    since: int = 0  # parts behind its last items
    told: bool = False  # a direction is one of them

    @property
    def has_items(self) -> bool:
        """Whether anything goes into it so far."""
        return self.last_item is not None

    @property
    def lines(self) -> list[Line]:
        """Its lines of ingredients."""
        return [piece.line for piece in self.parts if piece.line is not None]

    def add(self, piece: Piece) -> None:
        """Put the next words of the page into it."""
        self.parts.append(piece)
        if piece.line is not None:
            self.last_item, self.since, self.told = piece.line.items[-1], 0, False
        else:
            self.since, self.told = self.since + 1, self.told or piece.kind == "direction"


def joined(drafts: Sequence[Draft], decisions: Sequence[Decision]) -> tuple[list[Draft], tuple[Question, ...]]:
    """Join drafts that are one receipt, as they are read or as a person settled it; ask where the print is silent.

    Parameters
    ----------
    drafts : sequence of Draft
        In the order of the page.
    decisions : sequence of Decision
        What a person settled.

    Returns
    -------
    tuple
        The drafts that are receipts of their own, or none at all, and the questions of one or two.

    Examples
    --------
    >>> joined([Draft("Lip Salve")], [])[0][0].title
    'Lip Salve'
    """
    kept: list[Draft] = []
    questions: list[Question] = []
    for draft in drafts:
        before = kept[-1] if kept else None
        doubt, draft.doubt = draft.doubt, None
        if before is None or doubt is None or not (before.has_items and draft.has_items):
            kept.append(draft)
        elif not is_receipt(draft):
            before.parts += draft.parts
        else:
            words = next(piece.run.text for piece in draft.parts if piece.line is not None)
            title = draft.title if draft.titled else ""
            question = settled(asked(doubt, title, before.title, words), decisions)
            questions.append(question)
            if question.options[0].key == TWO:
                kept.append(draft)
                draft.doubt = doubt if question.open else None
            else:
                before.parts += draft.parts
    return kept, tuple(questions)


_LEAST = 2  # items of a receipt that has no heading
_NO_UNIT = (None, "ton")  # by tons trade is told, no receipt


def is_receipt(draft: Draft) -> bool:
    """Return whether what was gathered is a receipt: it has a heading, or enough that goes in for its words.

    Parameters
    ----------
    draft : Draft
        What was gathered.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> is_receipt(Draft("Lip Salve", titled=True))
    False
    """
    items = [item for line in draft.lines for item in line.items]
    measured = sum(any(part.unit not in _NO_UNIT for q in item.quantities for part in q.parts) for item in items)
    if not items or not measured:
        return False
    at = next(at for at, piece in enumerate(draft.parts) if piece.line is not None)
    head = at
    while head and not draft.parts[head].run.blanks:  # the words of its paragraph before it
        head -= 1
    words = [piece.run.text for piece in draft.parts[head:at]] + [line.text for line in draft.lines]
    dense = sum(len(text.split()) for text in words) <= _WORDS_EACH * len(items)
    lone = len(items) == 1 and ((not items[0].certain and not dense) or _is_content(items[0]))
    if draft.signed or (draft.titled and not lone) or (draft.listed and any("unit" in item.spans for item in items)):
        return True
    if draft.listed:
        return not _is_analysis(items)
    if tells_of_people(" ".join(words)):
        return False
    lead = " ".join(piece.run.text for piece in draft.parts[head : head + _FEW])[: 2 * _LEAD]
    told = any(p.start < _LEAD and p.meaning == "made" for p in phrases(lead))
    told = told or any(p.start == 0 and p.meaning == "made" for text in words[-_FEW:] for p in phrases(text[:_LEAD]))
    return measured >= _LEAST and (told or dense)


_FOUND = re.compile(r"\d+[.,]\d?[1-46-9]")  # 63,09 was found; 12,50 or 0,25 is weighed
_MOST = 0.5  # share of a table's figures


def _is_analysis(items: Sequence[Item]) -> bool:
    """Return whether figures without a unit are what was found in a thing, as their last places tell."""
    printed = [part.amount.printed for item in items for quantity in item.quantities for part in quantity.parts]
    return sum(_FOUND.fullmatch(figure) is not None for figure in printed) > _MOST * len(printed)


def _is_content(item: Item) -> bool:
    """Return whether an amount tells what a thing holds: "contains 50% of mercury"."""
    return any(part.unit == "percent" for quantity in item.quantities for part in quantity.parts)


_FEW = 3  # parts that hold the words a paragraph begins with
_LEAD = 42  # characters before the word that says what is done
_WORDS_EACH = 9  # words for each item of a receipt without a heading


def page_of(text: str, setting: Setting, gathered: Sequence[Draft], decisions: Sequence[Decision]) -> Page:
    """Return the page that drafts make.

    Parameters
    ----------
    text : str
        The page.
    setting : Setting
        When and where the book was printed.
    gathered : sequence of Draft
        What was gathered, in the order of the page.
    decisions : sequence of Decision
        What a person settled of the questions of one receipt or two.

    Returns
    -------
    Page
        Its receipts, its parts and its questions.

    Examples
    --------
    >>> page_of("INDEX", Setting(), [], []).receipts
    ()
    """
    drafts, questions = joined(gathered, decisions)
    receipts: list[Receipt] = []
    parts: list[PagePart] = []
    for draft in drafts:
        number = len(receipts) if is_receipt(draft) else None
        lines: list[Line] = []
        for piece in draft.parts:
            line = ""
            if number is not None and piece.kind not in _FURNITURE:
                made = _line(piece, len(lines) + 1)
                lines.append(made)
                line = made.id
            of = number if piece.kind not in _OF_PAGE else None
            parts.append(PagePart(_said(piece.kind, number), piece.run.text, piece.run.places, of, line))
        if number is not None:
            start, end = draft.parts[0].run.start, draft.parts[-1].run.end
            receipts.append(
                Receipt(
                    title=draft.title,
                    setting=setting,
                    lines=in_pattern(in_grams_or_grains(with_unit_of_column(lines), setting)),
                    text=text[start:end],
                    sure=draft.doubt is None,
                )
            )
    return Page(text=text, receipts=tuple(receipts), parts=tuple(parts), questions=questions)


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
