"""A page as HTML: one file that needs nothing else, whose figures open by keyboard and say why."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from html import escape

from reconlab.reasons import Citation, Reason
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
    Typed,
    Verbatim,
    Weighing,
    Weighings,
)
from reconlab.writeup.looks import ARTICLE, SHEET
from reconlab.writeup.notes import Notes
from reconlab.writeup.references import References

_ADDRESS = re.compile(r"https?://[^\s<>\"']+[^\s<>\"'.,;)]")
_TO = "\N{WORD JOINER}\N{EN DASH}\N{WORD JOINER}"
_WITH_ITS_POINT = re.compile(
    r"(<details(?:(?!</details>).)*</details>)([.,;:)]+)", re.DOTALL
)  # no line may begin with these
_WORDY = 24  # letters: a cell with more is words, not figures
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
            case Weighings(steps):
                return self._weighings(steps)
            case Verbatim(words, label):
                return f'<figure><pre aria-label="{escape(label)}">{escape(words)}</pre></figure>\n'
            case Drawing(picture, caption, text):
                words = f"{self._runs(text, caption)}{self.marks(text)}"
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
        return f'<div class="{name}">{self._runs(text, place)}{self.marks(text)}</div>\n'

    def _listing(self, items: Sequence[Text], kind: str, place: str) -> str:
        tag = "ol" if kind == "steps" else "ul"
        named = f' class="{kind}"' if kind else ""
        box = '<span class="box"></span>' if kind == "ticks" else ""
        shown = "".join(f"<li>{box}{self._runs(item, place)}{self.marks(item)}</li>\n" for item in items)
        return f"<{tag}{named}>\n{shown}</{tag}>\n"

    def _grid(self, grid: Grid) -> str:
        head = "".join(f'<th role="columnheader" scope="col">{escape(heading)}</th>' for heading in grid.headings)
        body = []
        for row in grid.rows:
            first = _words(row[0])
            cells = [self._runs(row[0], grid.caption)]
            cells += [
                self._runs(cell, ", ".join(filter(None, (first, heading))))
                for cell, heading in zip(row[1:], grid.headings[1:], strict=True)
            ]
            cells[_wordiest(row)] += self.marks(tuple(run for cell in row for run in cell))
            shown = f'<th role="rowheader" scope="row">{cells[0]}</th>'
            for cell, heading in zip(cells[1:], grid.headings[1:], strict=True):
                shown += f'<td role="cell" data-label="{escape(heading)}">{cell}</td>'
            body.append(f'<tr role="row">{shown}</tr>\n')
        return (
            f'<div class="wrap"><table role="table" class="stack {grid.kind}"><caption>{escape(grid.caption)}</caption>'
            f'<thead role="rowgroup"><tr role="row">{head}</tr></thead>\n'
            f'<tbody role="rowgroup">{"".join(body)}</tbody></table></div>\n'
        )

    def _weighings(self, steps: Sequence[Weighing | str]) -> str:
        shown, count, within = "", 0, False
        for step in steps:
            if isinstance(step, str):
                shown += f'{"</ol>" if within else ""}<p class="now">{escape(step)}</p>\n'
                within = False
                continue
            count += 1
            shown += "" if within else f'<ol class="weighings" start="{count}">\n'
            within = True
            how = f'<span class="how">{self._runs(step.how, step.what)}</span>' if step.how else ""
            shown += (
                f"<li>{self._run(Blank(f'a tick for {step.what}', box=True), '')}"
                f'<span class="what">{escape(step.what)}{how}</span>'
                f'<span class="amount">{self._runs(step.amount, step.what)}</span>'
                f'<span class="taken">taken {self._run(step.taken, "")} g</span></li>\n'
            )
        return f"{shown}{'</ol>' if within else ''}\n"

    def text(self, text: Text) -> str:
        """Return a text with its marks."""
        return f"{self._runs(text, '')}{self.marks(text)}"

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
            case Typed(words):
                return f"<code>{escape(words)}</code>"
            case Cited(why):
                self.notes.cite(why)
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
        under = "".join(self._step(one) for one in step.because)
        inside = f'<ul class="chain">{under}</ul>' if under else ""
        return f"<li>{escape(step.says)}{self._sources(step.sources)}{inside}</li>"

    def _sources(self, sources: Iterable[Citation]) -> str:
        """Return the sources of a step, each with the place in it."""
        return "".join(
            f"{_raised(_link(self.references.number(citation)))}"
            f"{f' <i>{escape(citation.place)}</i>' if citation.place else ''}"
            for citation in sources
        )

    def marks(self, text: Text) -> str:
        """Return the references of a text, as they stand at its end."""
        runs = self.references.runs(text)
        numbers = ", ".join(
            _link(first) if first == last else f"{_link(first)}{_TO}{_link(last)}" for first, last in runs
        )
        return _raised(numbers) if numbers else ""

    def _printed_notes(self, section: Section, rank: int) -> str:
        notes = self.notes.listed()
        items = "".join(f"<li><strong>{escape(head)}:</strong> {self._chain(step)}</li>\n" for head, step in notes)
        heading = f"<h{rank}>{escape(section.title)}</h{rank}>"
        return f'<section class="printed-notes">{heading}<ol class="all">\n{items}</ol></section>\n'

    def _chain(self, why: Reason) -> str:
        """Return a chain for print, in one run of words."""
        return "; ".join(f"{escape(says)}{self._sources(sources)}" for says, sources in self.notes.steps(why))

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
    return f'<a href="#ref-{number}" aria-label="reference {number}">{number}</a>'


def _raised(numbers: str) -> str:
    return f'\N{NARROW NO-BREAK SPACE}<sup class="marks">{numbers}</sup>'


def _linked(words: str) -> str:
    """Return words in which an address of the web is a link."""
    shown, end = "", 0
    for match in _ADDRESS.finditer(words):
        address = escape(match[0])
        shown += f'{escape(words[end : match.start()])}<a href="{address}" rel="external">{address}</a>'
        end = match.end()
    return shown + escape(words[end:])


def _wordiest(row: Sequence[Text]) -> int:
    """Return the place of the cell with the most words, where a row's references stand: never behind a bare figure."""
    lengths = [sum(len(run) for run in cell if isinstance(run, str)) for cell in row[1:]]
    longest = max(lengths, default=0)
    return lengths.index(longest) + 1 if longest > _WORDY else 0


def _words(text: Text) -> str:
    return "".join(run if isinstance(run, str) else getattr(run, "words", "") for run in text)


def _anchors(sections: Iterable[Section]) -> tuple[str, ...]:
    return tuple(f"part-{place}" for place, _ in enumerate(sections, start=1))


def _contents(sections: Sequence[Section], anchors: Sequence[str]) -> str:
    """Return the sections of a page in one running line."""
    links = " \N{MIDDLE DOT} ".join(
        f'<a href="#{anchor}">{escape(section.title)}</a>'
        for section, anchor in zip(sections, anchors, strict=True)
        if not any(isinstance(block, NoteList) for block in section.blocks)
    )
    return f'<nav aria-label="On this page"><span>On this page:</span> {links}</nav>\n'
