"""What does it look like? Pictures from plain labels and numbers, each with its twin in words.

Drawn in one ink, like a plate in an old book: patterns and numbers tell the parts apart, never colour, and the ink is
the page's own, so that a picture reads in print, in grey and on a dark page. It carries no figures: its twin does.
"""

from __future__ import annotations

import textwrap
import zlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from math import isfinite

from reconlab.errors import InputError

# All lengths are in the picture's own units: 360 across, so that letters of 13 stay legible on a phone.
_WIDTH, _MARGIN = 360.0, 4.0
_BAR, _LEADER, _LETTERS, _LINE, _GAP = 34.0, 12.0, 13.0, 19.0, 12.0
_SWATCH = 26.0
_ROW, _DOT = 16.0, 7.0
_LETTER_WIDTH = 6.7  # of an average letter of that size, on the safe side
_MOST_PARTS = 14  # more are gathered into one
_TENTHS = 10

# What fills a part: a tile of strokes in the ink of the page. The first are the easiest to tell apart.
_TILES = (
    (8, '<path d="M0 8L8 0M-2 2L2 -2M6 10L10 6" stroke-width="1.1"/>'),
    (7, '<circle cx="3.5" cy="3.5" r="1.3" fill="currentColor" stroke="none"/>'),
    (8, '<rect width="8" height="8" fill="currentColor" stroke="none" opacity=".16"/>'),
    (5, '<path d="M0 2.5H5" stroke-width="1"/>'),
    (8, '<path d="M0 0L8 8M8 0L0 8" stroke-width=".9"/>'),
    (8, '<rect width="8" height="8" fill="currentColor" stroke="none" opacity=".45"/>'),
    (5, '<path d="M2.5 0V5" stroke-width="1"/>'),
    (5, '<path d="M0 0L5 5M-1 4L1 6M4 -1L6 1" stroke-width="1.7"/>'),
    (10, '<circle cx="5" cy="5" r="3" stroke-width="1"/>'),
    (8, '<path d="M0 0V8M0 0H8" stroke-width="1.2"/>'),
    (8, '<rect width="8" height="8" fill="currentColor" stroke="none" opacity=".82"/>'),
    (10, '<path d="M0 6L5 2L10 6" stroke-width="1.2"/>'),
    (12, '<path d="M3 6H9M6 3V9" stroke-width="1.2"/>'),
    (4, '<path d="M0 2H2M2 0V2" stroke-width="1.2"/>'),
)


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing as SVG, and what it shows in words."""

    svg: str
    text: str

    def png(self, width: int = 900) -> bytes:
        """Return the drawing as a PNG, black on white, for a place that takes no SVG."""
        try:
            import resvg_py  # noqa: PLC0415 - an extra, and loaded only when a PNG is asked for
        except ImportError as fault:
            raise InputError(
                "what turns drawings into PNG is not installed", "png", "pip install 'reconlab[lab]', or use the SVG."
            ) from fault
        return bytes(resvg_py.svg_to_bytes(svg_string=self.svg, background="white", width=width))


@dataclass(frozen=True, slots=True)
class _Part:
    """One stretch of a bar: its place in the key, and where it begins and ends."""

    number: int
    label: str
    begin: float
    end: float

    @property
    def middle(self) -> float:
        return (self.begin + self.end) / 2


def stacked_bar(title: str, labels: Sequence[str], shares: Mapping[str, Sequence[float]]) -> Picture:
    """Return bars of one length divided by shares, one under another, with a numbered key.

    A part is called by its number, and by its name where there is room; lines lead from the numbers to parts too
    narrow for them. The smallest parts of many are drawn as one and named together.

    Parameters
    ----------
    title : str
        What the picture shows.
    labels : sequence of str
        What the parts are, in the order they are drawn.
    shares : mapping of str to sequence of float
        Name of each bar, and its shares in the order of `labels`; the name may be empty where there is one bar.

    Returns
    -------
    Picture
        The drawing and its twin in words.

    Raises
    ------
    InputError
        If a bar has not one share a label, or one that is no finite figure of 0 or more.

    Examples
    --------
    >>> picture = stacked_bar("A toilet water", ["rose water", "glycerin"], {"": [91.0, 9.0]})
    >>> picture.text
    'rose water 91 %, glycerin 9.0 %'
    """
    for name, row in shares.items():
        if len(row) != len(labels) or not all(isfinite(share) and share >= 0 for share in row):
            raise InputError(
                f"bar {name!r} has shares {list(row)!r} for {len(labels)} labels",
                title,
                "Give each label one figure of 0 or more.",
            )
    text = _in_words(labels, shares)
    drawn_labels, drawn = _gathered(labels, shares)
    return Picture(_drawing(title, text, drawn_labels, drawn), text)


def range_plot(title: str, labels: Sequence[str], ranges: Sequence[tuple[float, float, float]], unit: str) -> Picture:
    """Return how far each figure may lie off: a line from its lowest to its highest, a dot where it is taken.

    Parameters
    ----------
    title : str
        What the picture shows.
    labels : sequence of str
        What the figures are of.
    ranges : sequence of (float, float, float)
        Lowest, taken and highest figure of each, in the order of `labels` [any].
    unit : str
        Unit of the figures, for the words.

    Returns
    -------
    Picture
        The drawing and its twin in words.

    Raises
    ------
    InputError
        If there is not one range a label, or one is not in order.

    Examples
    --------
    >>> range_plot("Cold cream", ["white wax"], [(12.1, 12.6, 13.6)], "%").text
    'white wax 12.6 % (12.1 to 13.6)'
    """
    if len(ranges) != len(labels) or not all(0 <= low <= taken <= high for low, taken, high in ranges):
        raise InputError(
            f"{len(labels)} labels have ranges {list(ranges)!r}",
            title,
            "Give each its lowest, taken and highest figure.",
        )
    words = [
        f"{label} {taken:.3g} {unit}" + (f" ({low:.3g} to {high:.3g})" if high > low else "")
        for label, (low, taken, high) in zip(labels, ranges, strict=True)
    ]
    text = ", ".join(words)
    greatest = max((high for *_, high in ranges), default=0.0) or 1.0
    across = _WIDTH - 2 * _MARGIN - _DOT
    body = []
    for row, (said, (low, taken, high)) in enumerate(zip(words, ranges, strict=True)):
        top = _MARGIN + row * (_LINE + _ROW)
        at_low, at_taken, at_high = (_MARGIN + _DOT / 2 + across * figure / greatest for figure in (low, taken, high))
        body.append(_words(_MARGIN, top + _LETTERS, said))
        body.append(_range(at_low, at_taken, at_high, top + _LINE + _ROW / 3))
    height = _MARGIN * 2 + len(labels) * (_LINE + _ROW)
    drawn = f'<g aria-hidden="true">{"".join(body)}</g>'
    return Picture(_framed(title, text, height, drawn), text)


def _range(low: float, taken: float, high: float, height: float) -> str:
    ends = "".join(f"M{x:.1f} {height - 4:g}V{height + 4:g}" for x in (low, high))
    return (
        f'<path d="M{low:.1f} {height:g}H{high:.1f}{ends}" fill="none" stroke="currentColor" stroke-width="1.4"/>'
        f'<circle cx="{taken:.1f}" cy="{height:g}" r="{_DOT / 2:g}"/>'
    )


def _in_words(labels: Sequence[str], shares: Mapping[str, Sequence[float]]) -> str:
    bars = []
    for name, row in shares.items():
        there = sorted(
            ((share, label) for share, label in zip(row, labels, strict=True) if share > 0), key=lambda pair: -pair[0]
        )
        words = ", ".join(f"{label} {_percent(share)}" for share, label in there) or "nothing"
        bars.append(f"{name}: {words}" if name else words)
    return "; ".join(bars)


def _percent(share: float) -> str:
    for least, digits in ((10.0, 0), (1.0, 1), (0.1, 2), (0.01, 3)):
        if share >= least:
            return f"{share:.{digits}f} %"
    return "less than 0.01 %"


def _gathered(labels: Sequence[str], shares: Mapping[str, Sequence[float]]) -> tuple[list[str], dict[str, list[float]]]:
    """Return labels and shares with what is nowhere left out, and the smallest of many added up at the end."""
    greatest = {index: max((row[index] for row in shares.values()), default=0.0) for index in range(len(labels))}
    there = [index for index, share in greatest.items() if share > 0]
    own = sorted(there, key=lambda index: -greatest[index])
    if len(there) > _MOST_PARTS:
        own = own[: _MOST_PARTS - 1]
    kept = [index for index in there if index in own]
    rest = [index for index in there if index not in own]
    names = [labels[index] for index in kept]
    rows = {name: [row[index] for index in kept] for name, row in shares.items()}
    if rest:
        names.append(f"{len(rest)} others: {', '.join(labels[index] for index in rest)}")
        for name, row in shares.items():
            rows[name].append(sum(row[index] for index in rest))
    return names, rows


def _drawing(title: str, text: str, labels: Sequence[str], shares: Mapping[str, Sequence[float]]) -> str:
    own = _own_id("bar", title, text)
    body: list[str] = []
    height = _MARGIN / 2
    for name, row in shares.items():
        if name:
            height += _LINE
            body.append(_words(_MARGIN, height - 5, name, weight="600"))
        body += _bar(own, _parts(labels, row), height)
        height += _LINE + _LEADER + _BAR + _GAP
    key, below = _key(own, labels, height + 4)
    height = below + _MARGIN / 2
    tiles = "".join(_pattern(own, number) for number in range(1, len(labels) + 1))
    drawn = f'<defs>{tiles}</defs><g aria-hidden="true">{"".join((*body, *key))}</g>'
    return _framed(title, text, height, drawn)


def _own_id(kind: str, title: str, text: str) -> str:
    return f"{kind}-{zlib.crc32(repr((title, text)).encode()):08x}"  # the same each time


def _framed(title: str, text: str, height: float, body: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:g} {height:g}" role="img" '
        f'aria-label="{escape(f"{title}: {text}")}" font-family="Georgia, serif" font-size="{_LETTERS:g}" '
        f'fill="currentColor"><title>{escape(title)}</title><desc>{escape(text)}</desc>'
        f"{body}</svg>"
    )


def _pattern(own: str, number: int) -> str:
    size, strokes = _TILES[(number - 1) % len(_TILES)]
    return (
        f'<pattern id="{own}-{number}" width="{size}" height="{size}" patternUnits="userSpaceOnUse">'
        f'<g fill="none" stroke="currentColor">{strokes}</g></pattern>'
    )


def _parts(labels: Sequence[str], row: Sequence[float]) -> list[_Part]:
    whole = sum(row)
    scale = (_WIDTH - 2 * _MARGIN) / whole if whole > 0 else 0.0
    found, begin = [], _MARGIN
    for number, (label, share) in enumerate(zip(labels, row, strict=True), start=1):
        if share > 0:
            found.append(_Part(number, label, begin, begin + share * scale))
            begin += share * scale
    return found


def _bar(own: str, parts: Sequence[_Part], top: float) -> Iterator[str]:
    """Draw one bar with its labels above, lines leading to them, and a tick at each tenth below."""
    words = [_label(part) for part in parts]
    bar_top = top + _LINE + _LEADER
    for part, label, middle in zip(parts, words, _apart(parts, words), strict=True):
        yield _words(middle, top + _LINE - 5, label, anchor="middle")
        way = f"M{middle:.1f} {top + _LINE - 2:g}V{top + _LINE + 1:g}L{part.middle:.1f} {bar_top:g}"
        yield f'<path d="{way}" fill="none" stroke="currentColor" stroke-width=".7"/>'
        yield _box(f"{own}-{part.number}", part.begin, bar_top, part.end - part.begin, _BAR)
    for tenth in range(_TENTHS + 1):
        x = _MARGIN + tenth * (_WIDTH - 2 * _MARGIN) / _TENTHS
        length = 5 if tenth % 5 == 0 else 3
        yield f'<path d="M{x:g} {bar_top + _BAR + 1:g}v{length}" stroke="currentColor" stroke-width=".7"/>'


def _label(part: _Part) -> str:
    whole = f"{part.number} {part.label}"
    return whole if _length(whole) + _LETTERS <= part.end - part.begin else str(part.number)


def _length(words: str) -> float:
    return len(words) * _LETTER_WIDTH


def _apart(parts: Sequence[_Part], words: Sequence[str]) -> list[float]:
    """Return where the middle of each label goes: over its part, or as near as its neighbours let it."""
    places: list[float] = []
    edge = 0.0
    for part, label in zip(parts, words, strict=True):
        half = _length(label) / 2
        places.append(max(part.middle, edge + half))
        edge = places[-1] + half + 5
    edge = _WIDTH
    for index in reversed(range(len(places))):
        half = _length(words[index]) / 2
        places[index] = min(places[index], edge - half)
        edge = places[index] - half - 5
    return places


def _key(own: str, labels: Sequence[str], top: float) -> tuple[list[str], float]:
    """Draw the key, one part a line; return it and where it ends."""
    drawn: list[str] = []
    room = int((_WIDTH - 3 * _MARGIN - _SWATCH - 28) / _LETTER_WIDTH)
    for number, label in enumerate(labels, start=1):
        drawn.append(_box(f"{own}-{number}", _MARGIN, top + 3, _SWATCH, 13))
        drawn.append(_words(_MARGIN + _SWATCH + 26, top + 14, str(number), anchor="end"))
        for line in textwrap.wrap(label, room) or [""]:
            drawn.append(_words(_MARGIN + _SWATCH + 34, top + 14, line))
            top += _LINE
    return drawn, top


def _box(fill: str, x: float, y: float, width: float, height: float) -> str:
    return (
        f'<rect x="{x:.2f}" y="{y:g}" width="{width:.2f}" height="{height:g}" fill="url(#{fill})" '
        'stroke="currentColor" stroke-width=".8"/>'
    )


def _words(x: float, y: float, words: str, *, anchor: str = "start", weight: str = "400") -> str:
    return f'<text x="{x:.1f}" y="{y:g}" text-anchor="{anchor}" font-weight="{weight}">{escape(words)}</text>'
