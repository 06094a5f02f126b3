"""A page as HTML: one file that needs nothing else, whose figures open by keyboard and say why."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from html import escape

from reconlab.reasons import Reason
from reconlab.writeup.blocks import (
    Blank,
    Block,
    Cited,
    Drawing,
    Figure,
    Grid,
    Listing,
    NoteList,
    Page,
    Paragraph,
    ReferenceList,
    Run,
    Section,
    Strong,
    Text,
    Verbatim,
    reasons_in,
)
from reconlab.writeup.looks import ARTICLE, SHEET
from reconlab.writeup.notes import Notes
from reconlab.writeup.references import References

_ADDRESS = re.compile(r"https?://[^\s<>\"']+[^\s<>\"'.,;)]")
_TO = "\N{WORD JOINER}\N{EN DASH}\N{WORD JOINER}"
_WITH_ITS_POINT = re.compile(r"(<details.*?</details>)([.,;:)]+)", re.DOTALL)  # no line may begin with these
_DEEPEST = 6  # HTML has six ranks of headings


def html_page(page: Page) -> str:
    """Return a page as one self-contained HTML file.

    Parameters
    ----------
    page : Page
        The page.

    Returns
    -------
    str
        HTML without scripts and without anything loaded from elsewhere.

    Examples
    --------
    >>> page = Page("A & B", "sheet", (), (Section("One", (Paragraph(("x < y",)),)),), (), "", "")
    >>> "A &amp; B" in html_page(page) and "x &lt; y" in html_page(page)
    True
    """
    return _Html(page).whole()


@dataclass
class _Html:
    """One page while it is written."""

    page: Page
    references: References = field(init=False)
    notes: Notes = field(init=False)

    def __post_init__(self) -> None:
        self.references = References(self.page)
        self.notes = Notes(self.references)

    @property
    def with_notes(self) -> bool:
        """Whether every chain is written out somewhere on the page."""
        return any(isinstance(block, NoteList) for section in self.page.sections for block in section.blocks)

    def whole(self) -> str:
        page = self.page
        shown = tuple(section for section in page.sections if not section.empty)
        anchors = _anchors(shown)
        contents = _contents(shown, anchors) if page.kind == "article" else ""
        head = "".join(self.block(block, page.title) for block in page.head)
        body = "".join(self.section(section, 2, anchors[place]) for place, section in enumerate(shown))
        foot = f"<footer>{self.text(page.foot)}</footer>" if page.foot else ""
        style = ARTICLE + (SHEET if page.kind == "sheet" else "")
        return (
            f'<!DOCTYPE html>\n<html lang="{escape(page.language)}">\n<head>\n<meta charset="utf-8">\n'
            '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
            '<meta name="referrer" content="no-referrer">\n<link rel="icon" href="data:,">\n'
            f"<title>{escape(page.title)}</title>\n<style>{style}</style>\n</head>\n"
            f'<body class="{page.kind}">\n<a class="skip" href="#main">To the text</a>\n<div class="page">\n'
            f"<header>\n<h1>{escape(page.title)}</h1>\n{head}</header>\n{contents}"
            f'<main id="main">\n{body}</main>\n{foot}</div>\n</body>\n</html>\n'
        )

    def section(self, section: Section, rank: int, anchor: str = "") -> str:
        named = f' id="{anchor}"' if anchor else ""
        if any(isinstance(block, NoteList) for block in section.blocks):
            return self._printed_notes(section, rank)
        heading = f"<h{rank}>{escape(section.title)}</h{rank}>\n"
        blocks = "".join(self.block(block, section.title) for block in section.blocks)
        under = "".join(self.section(one, min(rank + 1, _DEEPEST)) for one in section.under if not one.empty)
        return f"<section{named}>\n{heading}{blocks}{under}</section>\n"

    def block(self, block: Block, place: str) -> str:  # noqa: PLR0911 - one answer a kind of block
        match block:
            case Paragraph(text, kind):
                return self._paragraph(text, kind, place)
            case Listing(items, kind):
                return self._listing(items, kind, place)
            case Grid():
                return self._grid(block)
            case Verbatim(words, label):
                return f'<figure><pre aria-label="{escape(label)}">{escape(words)}</pre></figure>\n'
            case Drawing(picture, caption, text):
                words = f"{self._runs(text, caption)} {self.marks(text)}"
                return (
                    f'<figure class="drawing">{picture.svg}'
                    f"<figcaption><strong>{escape(caption)}</strong> {words}</figcaption></figure>\n"
                )
            case ReferenceList():
                return self._references()
            case NoteList():
                return ""

    def _paragraph(self, text: Text, kind: str, place: str) -> str:
        name = f"p {kind}".strip()
        return f'<div class="{name}">{self._runs(text, place)} {self.marks(text)}</div>\n'.replace(" </div>", "</div>")

    def _listing(self, items: Sequence[Text], kind: str, place: str) -> str:
        tag = "ol" if kind == "steps" else "ul"
        named = f' class="{kind}"' if kind else ""
        box = '<span class="box"></span>' if kind == "ticks" else ""
        shown = "".join(f"<li>{box}{self._runs(item, place)} {self.marks(item)}</li>\n" for item in items)
        return f"<{tag}{named}>\n{shown}</{tag}>\n".replace(" </li>", "</li>")

    def _grid(self, grid: Grid) -> str:
        cited = [tuple(why for cell in row for why in reasons_in(cell)) for row in grid.rows]
        with_sources = any(cited)
        headings = (*grid.headings, "sources") if with_sources else grid.headings
        head = "".join(f'<th role="columnheader" scope="col">{escape(heading)}</th>' for heading in headings)
        body = []
        for row, reasons in zip(grid.rows, cited, strict=True):
            first = _words(row[0])
            cells = [f'<th role="rowheader" scope="row">{self._runs(row[0], grid.caption)}</th>']
            for cell, heading in zip(row[1:], grid.headings[1:], strict=True):
                shown = self._runs(cell, ", ".join(filter(None, (first, heading))))
                cells.append(f'<td role="cell" data-label="{escape(heading)}">{shown}</td>')
            if with_sources:
                numbers = self._numbers(reasons)
                cells.append(f'<td role="cell" class="marks" data-label="sources">{numbers}</td>')
            body.append(f'<tr role="row">{"".join(cells)}</tr>\n')
        return (
            f'<div class="wrap"><table role="table" class="stack {grid.kind}"><caption>{escape(grid.caption)}</caption>'
            f'<thead role="rowgroup"><tr role="row">{head}</tr></thead>\n'
            f'<tbody role="rowgroup">{"".join(body)}</tbody></table></div>\n'
        )

    def text(self, text: Text) -> str:
        """Return a text with its marks."""
        return f"{self._runs(text, '')} {self.marks(text)}".strip()

    def _runs(self, text: Text, place: str) -> str:
        return _WITH_ITS_POINT.sub(r'<span class="keep">\1\2</span>', "".join(self._run(run, place) for run in text))

    def _run(self, run: Run, place: str) -> str:
        match run:
            case str():
                return escape(run)
            case Strong(words):
                return f"<strong>{escape(words)}</strong>"
            case Blank(what, box):
                name = "box" if box else "blank"
                return f'<span class="{name}" role="img" aria-label="room to write: {escape(what)}"></span>'
            case Figure():
                return self._figure(run, place)
            case Cited(why):
                self.notes.keep(why, place)
                return ""

    def _figure(self, shown: Figure, place: str) -> str:
        self.notes.keep(shown.why, place)
        words = _data(shown.number, shown.words)
        if shown.unit:
            words += f"\N{NO-BREAK SPACE}{escape(shown.unit)}"
        if shown.low and shown.high:
            words += f" ({_data(*shown.low)} to {_data(*shown.high)})"
        return (
            f'<details class="why" name="why"><summary>{words}</summary>'
            f'<div class="note"><ul class="chain">{self._step(shown.why)}</ul></div></details>'
        )

    def _step(self, step: Reason) -> str:
        marks = "".join(f" {self._mark(citation.place, self.references.number(citation))}" for citation in step.sources)
        under = "".join(self._step(one) for one in step.because)
        inside = f'<ul class="chain">{under}</ul>' if under else ""
        return f"<li>{escape(step.says)}{marks}{inside}</li>"

    def _mark(self, place: str, number: int) -> str:
        at = f", {escape(place)}" if place else ""
        return f'<span class="marks">[<a href="#ref-{number}">{number}</a>{at}]</span>'

    def marks(self, text: Text) -> str:
        """Return the references of a text, as they stand at its end."""
        numbers = self._numbers(tuple(reasons_in(text)))
        return f'<span class="marks">[{numbers}]</span>' if numbers else ""

    def _numbers(self, reasons: Sequence[Reason]) -> str:
        runs = self.references.runs(reasons)
        if not self.with_notes:  # then no note names what a run leaves out
            runs = tuple((number, number) for first, last in runs for number in range(first, last + 1))
        return ", ".join(_link(first) if first == last else f"{_link(first)}{_TO}{_link(last)}" for first, last in runs)

    def _printed_notes(self, section: Section, rank: int) -> str:
        items = "".join(
            f'<li><strong>{escape(head)}</strong><ul class="chain">{self._short(step)}</ul></li>\n'
            for head, step in self.notes.listed()
        )
        heading = f"<h{rank}>{escape(section.title)}</h{rank}>"
        blocks = "".join(self.block(block, section.title) for block in section.blocks)
        return f'<section class="printed-notes">{heading}{blocks}<ol class="all">\n{items}</ol></section>\n'

    def _short(self, step: Reason) -> str:
        """Return a step for print, where one that was printed before is named, not printed again."""
        says, again = self.notes.once(step)
        marks = "".join(f" {self._mark(citation.place, self.references.number(citation))}" for citation in step.sources)
        under = "" if again else "".join(self._short(one) for one in step.because)
        inside = f'<ul class="chain">{under}</ul>' if under else ""
        return f"<li>{escape(says)}{marks}{inside}</li>"

    def _references(self) -> str:
        unpublished = self._paragraph(self.references.unpublished(), "", "References")
        items = "".join(
            f'<li id="ref-{number}" value="{number}">{_linked(words)}</li>\n'
            for number, words in self.references.listed()
        )
        return f'{unpublished}<ol class="references">\n{items}</ol>\n'


def _data(number: float, words: str) -> str:
    return f'<data value="{number:.10g}">{escape(words)}</data>'


def _link(number: int) -> str:
    return f'<a href="#ref-{number}">{number}</a>'


def _linked(words: str) -> str:
    """Return words in which an address of the web is a link."""
    shown, end = "", 0
    for match in _ADDRESS.finditer(words):
        address = escape(match[0])
        shown += f'{escape(words[end : match.start()])}<a href="{address}" rel="external">{address}</a>'
        end = match.end()
    return shown + escape(words[end:])


def _words(text: Text) -> str:
    return "".join(run if isinstance(run, str) else getattr(run, "words", "") for run in text)


def _anchors(sections: Iterable[Section]) -> tuple[str, ...]:
    return tuple(f"part-{place}" for place, _ in enumerate(sections, start=1))


def _contents(sections: Sequence[Section], anchors: Sequence[str]) -> str:
    return f'<nav aria-label="Contents">\n<ol>\n{"".join(_content_lines(sections, anchors))}</ol>\n</nav>\n'


def _content_lines(sections: Sequence[Section], anchors: Sequence[str]) -> Iterator[str]:
    for section, anchor in zip(sections, anchors, strict=True):
        if not any(isinstance(block, NoteList) for block in section.blocks):
            yield f'<li><a href="#{anchor}">{escape(section.title)}</a></li>\n'
