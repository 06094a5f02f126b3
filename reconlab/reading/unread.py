"""The words of a line that no item took: nothing on the page is lost."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from reconlab.reading.tokens import Token, mark_at
from reconlab.receipts import Item, Span
from reconlab.tables import Notation, rows

_WORDLESS = ("point", "leader", "break")
_UNDERSTOOD = frozenset(("joining", "each", "heading", "ditto", "approximate"))


def unread_of(items: Sequence[Item], text: str, line: Sequence[Token]) -> tuple[Span, ...]:
    """Return the words no item took. Points, blanks, joining words and a lone "M." between items are no loss.

    Parameters
    ----------
    items : sequence of Item
        The items of the line.
    text : str
        The line as printed.
    line : sequence of Token
        Its tokens, from where it begins behind the number of its variant.

    Returns
    -------
    tuple of (int, int)
        Spans of the text.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> unread_of((), "wax, oil", tokens("wax, oil"))
    ((0, 8),)
    """
    taken = bytearray(len(text))  # 1 where an item took a letter
    for item in items:
        for spans in item.spans.values():
            for start, end in spans:
                taken[start:end] = b"\1" * (end - start)
    unread: list[Span] = []
    at = 0
    while at < len(line):
        token = line[at]
        mark = mark_at(line, at)
        if mark is not None and not _UNDERSTOOD.isdisjoint(mark.meanings):
            at = mark.after
            continue
        if not (taken[token.start] or token.kind in _WORDLESS):
            # What stands between two unread words is part of what was not read, unless an item took it.
            if unread and taken.find(1, unread[-1][1], token.start) < 0:
                unread[-1] = (unread[-1][0], token.end)
            else:
                unread.append((token.start, token.end))
        at += 1
    return tuple(span for span in unread if text[span[0] : span[1]] not in _lone_directions())


@cache
def _lone_directions() -> frozenset[str]:
    marks = (row for row in rows(Notation) if row.meaning == "direction" and row.written == "abbreviation")
    return frozenset(row.printed for row in marks)
