"""Whether "gr." is a grain or a gram, and "30,0" grams or parts: by where and when the book was printed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace as changed

from reconlab.receipts import Item, Line, Measured, Reading, Setting
from reconlab.tables import Custom, rows

_GR = re.compile(r"\bgrs?\.?$", re.IGNORECASE)
_DECIMALS_BEHIND = re.compile(r"\d\s?gr\.?\s\d{1,3}$", re.IGNORECASE)  # 2 gr. 50
_LETTER = re.compile(r"[^\W\d_]")
_METRIC = "metric"  # how the ids of the metric customs begin


def in_grams_or_grains(lines: Sequence[Line], setting: Setting) -> list[Line]:
    r"""Return lines in which a "gr." of a country with metric weights is a gram, a grain its other reading.

    Parameters
    ----------
    lines : sequence of Line
        As read: each "gr." a grain.
    setting : Setting
        Where and when the book was printed; where not known nothing changes but "2 gr. 50".

    Returns
    -------
    list of Line
        The same; where metric weights were only possible the gram is the other reading.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> read_in = [read("Poudre\nIris, 10 gr.", years=year, place="France") for year in ("1760", "1880")]
    >>> [receipt.items[0].quantities[0].parts[0].unit for receipt in read_in]
    ['grain', 'gram']
    """
    standing, told = _standing_of_metric(setting) if setting.of_text.region else "", _told_by(lines)
    if not setting.of_text.region or (standing and setting.of_text.span is None):
        standing = told or standing
    # Where law and page both say gram no grain is left over.
    sure = standing == told == "likely" and setting.of_text.region != ""
    read, before = [], None
    for line in lines:
        items = []
        for item in line.items:
            shortened = _is_shortened(item, before)
            items.append(_item(item, standing, shortened=shortened, sure=sure))
            before = item if shortened else None
        read.append(changed(line, items=tuple(items)))
    return read


def _is_shortened(item: Item, before: Item | None) -> bool:
    """Return whether an amount has "gr." for its unit, or a mark for the "gr." of the item before it."""
    printed = item.quantities[0].parts[-1].amount.printed if item.quantities else ""
    return _GR.search(printed) is not None or (before is not None and not _LETTER.search(printed))


def _item(item: Item, standing: str, *, shortened: bool, sure: bool) -> Item:
    part = item.quantities[0].parts[0] if item.quantities and len(item.quantities[0].parts) == 1 else None
    if part is not None and standing == "likely" and _is_in_grams_or_parts(item, part):
        return changed(item, certain=item.readings[0].item.certain, readings=())
    if part is None or part.unit != "grain":
        return item
    if _DECIMALS_BEHIND.search(part.amount.printed):
        return changed(_with(item, part, "gram"), certain=False)
    if not (standing and shortened) or item.readings:
        return item
    gram, grain = _with(item, part, "gram"), item
    if sure:
        return gram
    first, other = (gram, grain) if standing == "likely" else (grain, gram)
    word = "grains" if standing == "likely" else "grams"
    said = changed(part.amount, printed=f"{_GR.sub('', part.amount.printed).rstrip(' »«')} {word}")
    other = _with(other, changed(other.quantities[0].parts[0], amount=said), other.quantities[0].parts[0].unit)
    why = 'books of that time and place shorten both gramme and grain to "gr."'
    return changed(first, certain=False, readings=(Reading(changed(other, certain=False), "possible", why),))


def _is_in_grams_or_parts(item: Item, part: Measured) -> bool:
    """Return whether a decimal without a unit left nothing else open: prescriptions by metric weight mean grams."""
    others = [reading.item.quantities[0].parts[0].unit for reading in item.readings if reading.item.quantities]
    return part.unit == "gram" and others == ["part"]


def _with(item: Item, part: Measured, unit: str | None) -> Item:
    first, *others = item.quantities
    return changed(item, quantities=(changed(first, parts=(changed(part, unit=unit),)), *others))


_METRIC_WORDS = re.compile(r"gramm|kilog|litre|\blit\b|liter|\bkil\b", re.IGNORECASE)
_TONGUES = re.compile(
    r"\b(?:de|du|des|et|en|und|von|mit)\b|\bd['\N{RIGHT SINGLE QUOTATION MARK}]|[äöüßéèêàâîôûç]", re.IGNORECASE
)
_ENGLISH = re.compile(r"\b(?:of|and|the|to)\b", re.IGNORECASE)


def _told_by(lines: Sequence[Line]) -> str:
    """Return how metric weights stand by the words: likely where a French or German receipt has them elsewhere.

    So many grains that they would have been written in gros and ounces are grams too: "125 gr. de beurre".
    """
    text = "\n".join(line.text for line in lines)
    metric = _METRIC_WORDS.search(text) is not None
    if _ENGLISH.search(text) or not (metric or _TONGUES.search(text)):
        return ""
    if not _TONGUES.search(text) and not _GERMAN_LITER.search(text):
        return "possible"
    return "likely" if metric or max(_grains(lines), default=0) > _GREATEST else "possible"


_GERMAN_LITER = re.compile(r"(?<=\d )Liter\b")
_GREATEST = 72  # grains, which make a gros; what is more was written in gros and ounces


def _grains(lines: Sequence[Line]) -> list[float]:
    parts = [item.quantities[0].parts[0] for line in lines for item in line.items if item.quantities]
    return [part.amount.value for part in parts if part.unit == "grain" and part.amount.value is not None]


def _standing_of_metric(setting: Setting) -> str:
    """Return how the customs table stands to metric weights there and then; nothing where it has none.

    Where the year is not known, or metric weights came in within the years, they are possible.
    """
    written = setting.of_text
    span, region = written.span, written.region
    metric = [
        row
        for row in rows(Custom)
        if row.question == "weights"
        and row.custom.startswith(_METRIC)
        and region in row.regions
        and (not row.books or setting.book in row.books)
    ]
    if span is None:
        return "possible" if metric else ""
    first, last = span
    for row in metric:
        if (row.from_year or 0) <= first and (row.to_year is None or row.to_year >= last):
            return row.standing
    overlaps = any((row.from_year or 0) <= last and (row.to_year is None or row.to_year >= first) for row in metric)
    return "possible" if overlaps else ""
