"""A page as Markdown: the same words, its references as numbers in brackets, its chains at the end."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

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
    Weighings,
)
from reconlab.writeup.notes import Notes
from reconlab.writeup.references import References

_SIGNS = re.compile(r"([\\`*_{}\[\]<>#|~&$])")
_LINE_START = re.compile(r"^(\s*)([-+=]|\d+[.)])(?=\s|$|[-=])")


def markdown_page(page: Page) -> str:
    r"""Return a page as Markdown.

    Parameters
    ----------
    page : Page
        The page.

    Returns
    -------
    str
        Text that reads as it is, too.

    Examples
    --------
    >>> print(markdown_page(Page("A *B*", "article", (), (Section("One", (Paragraph(("x",)),)),), (), "", "")))
    # A \*B\*
    <BLANKLINE>
    ## One
    <BLANKLINE>
    x
    <BLANKLINE>
    """
    return _Markdown(page).whole()


@dataclass
class _Markdown:
    """One page while it is written."""

    page: Page
    references: References = field(init=False)
    notes: Notes = field(init=False)

    def __post_init__(self) -> None:
        self.references = References(self.page)
        self.notes = Notes(self.references)

    def whole(self) -> str:
        blocks = [f"# {_plain(self.page.title)}"]
        blocks += [self.block(block, self.page.title) for block in self.page.head]
        blocks += [self.section(section, 2) for section in self.page.sections if not section.empty]
        blocks += [f"---\n\n{self.text(self.page.foot, '')}"] if self.page.foot else []
        return "\n\n".join(block for block in blocks if block) + "\n"

    def section(self, section: Section, rank: int) -> str:
        blocks = [f"{'#' * rank} {_plain(section.title)}"]
        blocks += [self.block(block, section.title) for block in section.blocks]
        blocks += [self.section(one, rank + 1) for one in section.under if not one.empty]
        return "\n\n".join(block for block in blocks if block)

    def block(self, block: Block, place: str) -> str:  # noqa: PLR0911 - one answer a kind of block
        match block:
            case Paragraph(text, kind):
                shown = _line(self.text(text, place))
                return f"**{shown}**" if kind == "label" else f"> {shown}" if kind in ("care", "stop") else shown
            case Listing(items, kind):
                sign = {"steps": "1.", "ticks": "- [ ]"}.get(kind, "-")
                return "\n".join(f"{sign} {_line(self.text(item, place))}" for item in items)
            case Grid():
                return self._grid(block)
            case Weighings(steps):
                return "\n".join(
                    _plain(step) if isinstance(step, str) else f"1. {_plain(step.what)} {self.text(step.amount, place)}"
                    for step in steps
                )
            case Verbatim(words, _):
                fence = "`" * max(3, 1 + max((len(run) for run in re.findall("`+", words)), default=0))
                return f"{fence}text\n{words.rstrip(chr(10))}\n{fence}"
            case Drawing(_, caption, text):
                return f"*{_plain(caption)}* {self.text(text, caption)}"
            case NoteList():
                return "\n".join(
                    f"- **{_line(_plain(head))}**: {self._chain(step)}" for head, step in self.notes.listed()
                )
            case ReferenceList():
                unpublished = self.text(self.references.unpublished(), place)
                return f"{unpublished}\n\n" + "\n".join(
                    f"[{number}] {_plain(words)}  " for number, words in self.references.listed()
                )

    def _grid(self, grid: Grid) -> str:
        with_marks = any(self.references.runs(cell) for row in grid.rows for cell in row)
        headings = (*grid.headings, "sources") if with_marks else grid.headings
        lines = [_row(_plain(heading) for heading in headings), _row("---" for _ in headings)]
        for row in grid.rows:
            first = "".join(run for run in row[0] if isinstance(run, str))
            places = (grid.caption, *(", ".join(filter(None, (first, heading))) for heading in grid.headings[1:]))
            cells = [self._runs(cell, place) for cell, place in zip(row, places, strict=True)]
            marks = self.marks(tuple(run for cell in row for run in cell))
            lines.append(_row((*cells, marks) if with_marks else cells))
        return f"*{_plain(grid.caption)}*\n\n" + "\n".join(lines)

    def text(self, text: Text, place: str) -> str:
        return f"{self._runs(text, place)} {self.marks(text)}".strip()

    def _runs(self, text: Text, place: str) -> str:
        return "".join(self._run(run, place) for run in text)

    def _run(self, run: Run, place: str) -> str:
        match run:
            case str():
                return _plain(run)
            case Strong(words):
                return f"**{_plain(words)}**"
            case Blank(_, box):
                return "[ ]" if box else "\\_\\_\\_\\_\\_\\_"
            case Typed(words):
                fence = "``" if "`" in words else "`"
                return f"{fence}{words}{fence}"
            case Cited(why):
                self.notes.cite(why)
                return ""
            case Figure(_, words, why, low, high, unit):
                self.notes.keep(why, place)
                shown = f"{words} {unit}".strip()
                return _plain(f"{shown} ({low[1]} to {high[1]})" if low and high else shown)

    def marks(self, text: Text) -> str:
        runs = self.references.runs(text)
        numbers = ", ".join(f"{first}" if first == last else f"{first}\N{EN DASH}{last}" for first, last in runs)
        return f"[{numbers}]" if numbers else ""

    def _chain(self, why: Reason) -> str:
        return "; ".join(f"{_line(_plain(says))}{self._sources(sources)}" for says, sources in self.notes.steps(why))

    def _sources(self, sources: Iterable[Citation]) -> str:
        return "".join(
            f" [{self.references.number(citation)}{f', {_plain(citation.place)}' if citation.place else ''}]"
            for citation in sources
        )


def _row(cells: Iterable[str]) -> str:
    return f"| {' | '.join(_line(cell) for cell in cells)} |"


def _plain(words: str) -> str:
    """Return words in which nothing is taken for a mark of Markdown."""
    shown = _SIGNS.sub(r"\\\1", words)
    return (
        _LINE_START.sub(r"\1\\\2", shown)
        if not shown[:1].isdigit()
        else re.sub(r"^(\d+)([.)])(?=\s)", r"\1\\\2", shown)
    )


def _line(words: str) -> str:
    return " ".join(words.split("\n"))
