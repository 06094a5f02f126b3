"""How a result is shown: one card as text, as HTML that works by keyboard, and as a frame.

Knows nothing of the trade. A chain is any object with ``says``, ``sources`` and ``because``.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape
from textwrap import fill
from typing import TYPE_CHECKING, Protocol

from reconlab.errors import InputError

if TYPE_CHECKING:
    import pandas as pd


class Chain(Protocol):
    """Why something is so: a sentence, who says it, and what it rests on."""

    @property
    def says(self) -> str:
        """The sentence."""

    @property
    def sources(self) -> Sequence[object]:
        """Who says it."""

    @property
    def because(self) -> Sequence[Chain]:
        """What it rests on."""


@dataclass(frozen=True, slots=True)
class Table:
    """A small table: a title, headings, rows of text; the first column names the row."""

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Printed:
    """A printed line with its words underlined by what they were understood as, and its piece of the picture."""

    stretches: tuple[tuple[str, str], ...]  # words, and the kind of their line: one of UNDERLINES, or none
    note: str = ""  # what the line is, where that is not seen
    picture: bytes = b""  # PNG


@dataclass(frozen=True, slots=True)
class Beside:
    """Printed lines with what each underline means, and the table of what was understood, side by side."""

    title: str
    lines: tuple[Printed, ...]
    means: tuple[tuple[str, str], ...]  # an underline, and what it marks
    table: Table | None = None


# How a line is drawn under words on a page, and in plain text by signs on the next line.
UNDERLINES = {"double": "=", "solid": "-", "dotted": ".", "dashed": "~", "wavy": "^"}


@dataclass(frozen=True)
class Card:
    """A result as a person sees it: title, notes, tables, and chains that open."""

    title: str
    notes: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    chains: tuple[Chain, ...] = ()
    picture: str = ""  # inline SVG
    picture_text: str = ""
    last: tuple[str, ...] = field(default=())
    beside: tuple[Beside, ...] = ()

    def __str__(self) -> str:
        """Return the card as plain text."""
        blocks = [self.title, "\n".join(f"- {note}" for note in self.notes)]
        blocks += [_text_beside(pair) for pair in self.beside]
        blocks += [_text_table(table) for table in self.tables]
        blocks.append("" if self.tables else self.picture_text)  # a table says the same already
        blocks.append("\n".join("\n".join(chain_lines(chain)) for chain in self.chains))
        blocks.append("\n".join(self.last))
        return "\n\n".join(block for block in blocks if block)

    __repr__ = __str__

    def _repr_html_(self) -> str:
        """Return the card as HTML without ids, colours of its own or anything that needs a mouse."""
        return self.html()

    def html(self, *, labelled: bool = False) -> str:
        """Return the card as HTML; `labelled` where each cell carries its heading, for tables shown row by row."""
        parts = [f"<h3>{escape(self.title)}</h3>"]
        if self.notes:
            parts.append("<ul>" + "".join(f"<li>{escape(note)}</li>" for note in self.notes) + "</ul>")
        parts += [_html_beside(pair, labelled=labelled) for pair in self.beside]
        parts += [_html_table(table, labelled=labelled) for table in self.tables]
        if self.picture:
            parts.append(f"<figure>{self.picture}<figcaption>{escape(self.picture_text)}</figcaption></figure>")
        parts += [_html_chain(chain) for chain in self.chains]
        parts += [f"<p>{escape(line)}</p>" for line in self.last]
        return "<section>" + "".join(parts) + "</section>"

    def to_frame(self) -> pd.DataFrame:
        """Return the first table as a pandas frame of text."""
        import pandas as pd  # noqa: PLC0415 - slow to load, so only when a frame is asked for

        tables = (*(pair.table for pair in self.beside if pair.table), *self.tables)
        if not tables:
            return pd.DataFrame()
        return pd.DataFrame(list(tables[0].rows), columns=list(tables[0].headings), dtype=str)

    def to_clipboard(self) -> None:
        """Copy the first table, to be pasted into a spreadsheet."""
        import pandas as pd  # noqa: PLC0415

        try:
            self.to_frame().to_clipboard(index=False)
        except pd.errors.PyperclipException as fault:
            found, remedy = "this computer lends no clipboard here", 'Write a file: .to_frame().to_csv("table.csv").'
            raise InputError(found, self.title, remedy) from fault


class Shown:
    """A result that is shown by its card, as text and in a notebook."""

    __slots__ = ()

    def card(self) -> Card:
        """Return the card."""
        raise NotImplementedError

    def __str__(self) -> str:
        """Return the card as text."""
        return str(self.card())

    def __repr__(self) -> str:
        """Return the card as text: no ids, times or addresses."""
        return str(self.card())

    def _repr_html_(self) -> str:
        """Return the card as HTML."""
        return self.card()._repr_html_()

    def to_frame(self) -> pd.DataFrame:
        """Return the first table of the card as a pandas frame of text."""
        return self.card().to_frame()

    def to_clipboard(self) -> None:
        """Copy the first table of the card, to be pasted into a spreadsheet."""
        self.card().to_clipboard()


def chain_lines(chain: Chain, depth: int = 0) -> list[str]:
    """Return a chain as indented lines of text.

    Parameters
    ----------
    chain : Chain
        Where the chain starts.
    depth : int
        How many steps to indent by [1].

    Returns
    -------
    list of str
        One line a step.

    Examples
    --------
    >>> from reconlab.reasons import Citation, Reason
    >>> chain_lines(Reason("3 drachms", (Citation("a_book", "p. 4"),)))
    ['3 drachms [a_book, p. 4]']
    """
    sources = f" [{'; '.join(str(source) for source in chain.sources)}]" if chain.sources else ""
    return [
        "  " * depth + chain.says + sources,
        *(line for step in chain.because for line in chain_lines(step, depth + 1)),
    ]


_WIDEST = 110  # a wider table is shown row by row, so that no terminal breaks its lines


def _text_table(table: Table) -> str:
    if sum(max(len(row[i]) for row in (table.headings, *table.rows)) + 2 for i in range(len(table.headings))) > _WIDEST:
        return "\n".join(filter(None, (table.title, *(_text_row(table.headings, row) for row in table.rows))))
    widths = [max(len(row[i]) for row in (table.headings, *table.rows)) for i in range(len(table.headings))]
    lines = [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in (table.headings, *table.rows)
    ]
    if any(table.headings):
        lines.insert(1, "  ".join("-" * width for width in widths))
    else:  # a list needs no heading
        lines = [f"  {line}" for line in lines[1:]]
    return "\n".join([table.title, *lines] if table.title else lines)


def _text_row(headings: tuple[str, ...], row: tuple[str, ...]) -> str:
    first, *rest = row
    if len(rest) == 1:  # two columns read as one sentence
        return fill(f"  {first}: {rest[0]}", _WIDEST, subsequent_indent="    ")
    named = zip(headings[1:], rest, strict=True)
    lines = [f"{heading}: {cell}" if heading else cell for heading, cell in named if cell]
    wrapped = [fill(line, _WIDEST, initial_indent="    ", subsequent_indent="      ") for line in lines]
    return "\n".join([fill(f"  {first}", _WIDEST, subsequent_indent="    "), *wrapped])


def _text_beside(pair: Beside) -> str:
    shown = [pair.title] if pair.title else []
    if pair.means:
        shown.append("  under the words: " + ", ".join(f"{UNDERLINES[kind] * 3} {word}" for kind, word in pair.means))
    for line in pair.lines:
        shown += _text_printed(line)
    return "\n".join(shown) + (f"\n\n{_text_table(pair.table)}" if pair.table else "")


def _text_printed(line: Printed) -> list[str]:
    """Return a printed line, and on the next one the signs of its underlines."""
    words = "".join(text for text, _ in line.stretches)
    signs = "".join(
        "".join(UNDERLINES.get(kind, " ") if sign != "\n" else sign for sign in text) for text, kind in line.stretches
    )
    note = f"  ({line.note})" if line.note else ""
    rows = []
    for text, under in zip(words.split("\n"), signs.split("\n"), strict=True):
        rows += [f"    {text}", f"    {under}".rstrip()]
    rows[-2] += note
    return [row for row in rows if row.strip()]


_LEFT = ' style="text-align: left"'  # a notebook would set words to the right


# Side by side where there is room, one under the other where not; the underlines are drawn in the ink of the page.
_SIDES = ' style="display: flex; flex-wrap: wrap; gap: 0 2rem; align-items: flex-start"'
_SIDE = ' style="flex: 1 1 20rem; max-width: 100%"'
_SCALE = 0.4  # of a picture's dots: all lines of a page stand in one size
_LINE = ' style="margin: 0.35rem 0; line-height: 1.9; white-space: pre-wrap"'


def _html_beside(pair: Beside, *, labelled: bool) -> str:
    title = f"<h4>{escape(pair.title)}</h4>" if pair.title else ""
    means = ", ".join(f"{_underlined(kind, kind)} {escape(word)}" for kind, word in pair.means)
    legend = f"<p>Underlined: {means}.</p>" if means else ""
    lines = "".join(_html_printed(line) for line in pair.lines)
    table = f"<div{_SIDE}>{_html_table(pair.table, labelled=labelled)}</div>" if pair.table else ""
    return f"{title}{legend}<div{_SIDES}><div{_SIDE}>{lines}</div>{table}</div>"


def _html_printed(line: Printed) -> str:
    words = "".join(_underlined(text, kind) for text, kind in line.stretches)
    note = f" <small>({escape(line.note)})</small>" if line.note else ""
    if not line.picture:
        return f"<p{_LINE}>{words}{note}</p>"
    data = b64encode(line.picture).decode()
    said = escape("".join(text for text, _ in line.stretches), quote=True)
    wide = round(_SCALE * int.from_bytes(line.picture[16:20]))  # where a PNG says its width
    looks = f"width: {wide}px; max-width: 100%; height: auto"
    shown = f'<img src="data:image/png;base64,{data}" alt="in the picture: {said}" style="{looks}">'
    return f"<p{_LINE}>{shown}<br>{words}{note}</p>"


def _underlined(words: str, kind: str) -> str:
    if kind not in UNDERLINES:
        return escape(words)
    looks = f"text-decoration: underline {kind}; text-decoration-skip-ink: none; text-underline-offset: 0.25em"
    return f'<span style="{looks}">{escape(words)}</span>'


def _html_table(table: Table, *, labelled: bool = False) -> str:
    head = "".join(f'<th scope="col"{_LEFT}>{escape(heading)}</th>' for heading in table.headings)
    body = "".join(
        f'<tr><th scope="row"{_LEFT}>{escape(first)}</th>'
        + "".join(
            f"<td{_LEFT}{_label(head, cell) if labelled else ''}>{escape(cell)}</td>"
            for head, cell in zip(table.headings[1:], rest, strict=True)
        )
        + "</tr>"
        for first, *rest in table.rows
    )
    caption = f"<caption>{escape(table.title)}</caption>" if table.title else ""
    return f"<table>{caption}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def _label(heading: str, cell: str) -> str:
    return f' data-head="{escape(heading, quote=True)}: "' if heading and cell else ""


def _html_chain(chain: Chain) -> str:
    said = escape(chain_lines(chain)[0])
    if not chain.because:
        return f"<p>{said}</p>"
    return f"<details><summary>{said}</summary>" + "".join(_html_chain(step) for step in chain.because) + "</details>"
