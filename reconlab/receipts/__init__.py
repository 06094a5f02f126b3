"""What is a receipt: where and when it was printed, its lines as read, and the use it is made for."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, fields
from datetime import date
from functools import cache, cached_property
from typing import Literal, TypedDict

from reconlab.display import Card, Shown
from reconlab.errors import InputError, nearest, text_given
from reconlab.reasons import Question
from reconlab.receipts.as_read import beside, not_sure, printed
from reconlab.tables import BookWord, FormRow, Region, Rule, rows

BookKind = Literal["pharmacopoeia", "dispensing", "trade", "perfumer", "household"]
BOOK_KINDS: tuple[BookKind, ...] = ("pharmacopoeia", "dispensing", "trade", "perfumer", "household")
LineKind = Literal["ingredient", "direction", "remark", "price"]
Purpose = Literal["ingredient", "enough", "total"]
Span = tuple[int, int]

ABOUT_YEARS = 5  # "c. 1880" is read as five years either way: common practice of cataloguers
FIRST_YEAR, LAST_YEAR = 1000, 2100
LAWS = ("EU", "GB", "US", "CA")
_INDEPENDENCE = 1776  # of the United States
_YEARS = re.compile(
    r"(?P<about>(?:c|ca|circa|about)\.?\s*)?(?P<first>\d{3,4})(?:\s*[-\N{EN DASH}/]\s*(?P<last>\d{2,4}))?"
)
_SEVERAL = re.compile(r"\s*(?:\band\b|\bet\b|\bund\b|[&;/:])\s*")  # what stands between two places of a title page


class SettingWords(TypedDict):
    """What is said of a book, as the library's functions ask for it."""

    years: str
    place: str
    book: str
    rule: str
    text_years: str
    text_place: str


@dataclass(frozen=True)
class Setting:
    """When and where a book was printed, what kind of book it is, and its author's own rule of weights.

    ``years`` is text: ``"1890"``, ``"1880-1890"`` or ``"c. 1880"``; empty where nobody knows yet. ``book`` is a kind of
    book or what people call one, kept as its kind (`kind_of_book`). Of a reprint or a translation ``text_years`` and
    ``text_place`` say when and where its words were first written; empty where they are those of the edition. ``rule``
    is what the author says of his weights and measures, as in "oz. and lb. are avoirdupois, dr. and gr. troy";
    `reconlab.reading.rules` reads it.
    """

    years: str = ""
    place: str = ""
    book: str = ""
    rule: str = ""
    text_years: str = ""
    text_place: str = ""

    def __post_init__(self) -> None:
        """Check each word once, here, so that nothing later meets a year or place it cannot use."""
        for each in fields(self):
            text_given(getattr(self, each.name), each.name)
        _ = self.span, self.region, self.of_text
        object.__setattr__(self, "book", kind_of_book(self.book))

    @cached_property
    def span(self) -> tuple[int, int] | None:
        """First and last year, or None where the year is not known."""
        if not self.years.strip():
            return None
        match = _YEARS.fullmatch(self.years.strip().lower())
        if match is None:
            raise InputError(f"{self.years!r} is not a year", "year", 'Write it as 1890, 1880-1890 or "c. 1880".')
        first = int(match["first"])
        last = int(match["first"][: -len(match["last"])] + match["last"]) if match["last"] else first
        if match["about"]:
            first, last = first - ABOUT_YEARS, last + ABOUT_YEARS
        if not FIRST_YEAR <= first <= last <= LAST_YEAR:
            raise InputError(
                f"{self.years!r} is not a span of years from {FIRST_YEAR} to {LAST_YEAR}",
                "year",
                "Write the earlier year first.",
            )
        return first, last

    @cached_property
    def region(self) -> str:
        """Code of the region whose weights and measures hold at the place, or nothing where it is not known."""
        region = region_of(self.place)
        colony = region == "US" and self.span is not None and self.span[1] < _INDEPENDENCE
        return "GB" if colony else region  # the colonies had the weights and measures of England

    @cached_property
    def of_text(self) -> Setting:
        """The setting in which the words were first written: the edition's own, but for a reprint or translation."""
        if not self.text_years and not self.text_place:
            return self
        try:
            return Setting(self.text_years or self.years, self.text_place or self.place, self.book, self.rule)
        except InputError as fault:
            raise InputError(fault.found, f"text {fault.where}", fault.remedy) from fault

    @property
    def of_edition(self) -> Setting:
        """The setting in which the book at hand was printed, whatever the age of its words."""
        return Setting(self.years, self.place, self.book, self.rule)

    def of_kind(self, books: tuple[str, ...]) -> bool:
        """Return whether a row about these kinds of book may speak here; what is not known shuts nothing out."""
        return not books or not self.book or self.book in books

    def within(self, regions: tuple[str, ...], from_year: int | None, to_year: int | None) -> bool:
        """Return whether a row about these regions and years may speak here; what is not known shuts nothing out.

        Of a reprint or translation the years are those of the text, for a thing was what its writer knew; the place may
        be the text's or the edition's, for a translator put the names of his own country in.
        """
        places = set(filter(None, (self.region, self.of_text.region)))
        countries = {region.split("-")[0] for region in places}
        here = not regions or not places or not (places | countries).isdisjoint(regions)
        span = self.of_text.span
        if span is None:
            return here
        first, last = span
        return here and (from_year is None or from_year <= last) and (to_year is None or first <= to_year)

    def __str__(self) -> str:
        """Return place, years and kind of book in a few words, and where the text is of another time or place."""
        kind = f"{self.book} book" if self.book in ("trade", "household", "dispensing") else self.book
        said = ", ".join(filter(None, (self.place, self.years, kind))) or "year and place not given"
        text = ", ".join(filter(None, (self.text_place, self.text_years)))
        return f"{said}; its text {text}" if text else said


def one_setting(given: Setting | None, said: Setting) -> Setting:
    """Return the setting a person means, given whole or in words.

    Parameters
    ----------
    given : Setting or None
        The whole.
    said : Setting
        Of the words given one by one.

    Returns
    -------
    Setting
        The one of the two that says something.

    Raises
    ------
    InputError
        If both do, or the whole is none.

    Examples
    --------
    >>> one_setting(None, Setting("1890")).years
    '1890'
    """
    if given is None:
        return said
    if not isinstance(given, Setting):
        raise InputError(f"{given!r} is no setting", "setting", 'Write years="1890", or Setting("1890", "England").')
    if said != Setting():
        raise InputError("a setting and words beside it", "setting", "Leave one of them out.")
    return given


def kind_of_book(called: str) -> str:
    """Return the kind of a book by what it is called.

    Parameters
    ----------
    called : str
        A kind, or words such as "dispensatory" or "household receipt book"; may be empty.

    Returns
    -------
    str
        One of `BOOK_KINDS`; empty where nothing is said.

    Raises
    ------
    InputError
        If no word of it is on file.

    Examples
    --------
    >>> kind_of_book("dispensatory"), kind_of_book("household receipt book")
    ('pharmacopoeia', 'household')
    """
    said = called.strip().lower()
    if not said or said in BOOK_KINDS:
        return said
    kind = next((row.kind for row in rows(BookWord) if re.search(rf"\b{re.escape(row.word)}", said)), "")
    if not kind:
        raise InputError(f"{called!r} is no kind of book on file", "book", f"Use one of: {', '.join(BOOK_KINDS)}.")
    return kind


def region_of(place: str) -> str:
    """Return the region of a place as title pages name it.

    Parameters
    ----------
    place : str
        A town, land or country, or a town and its land, such as ``"Boston, Mass."``; may be empty.

    Returns
    -------
    str
        Code of the region; empty where nothing is said.

    Raises
    ------
    InputError
        If it is not in the gazetteer, or lies in two countries.

    Examples
    --------
    >>> region_of("Boston"), region_of("Boston, Lincolnshire"), region_of("Edinburgh and London")
    ('US', 'GB', 'GB-SCT')
    """
    said = place.strip().lower()
    if not said or (whole := _in_gazetteer(said)):
        return whole if said else ""
    town, *wider = (_in_gazetteer(part.strip()) for part in re.split("[,(]", said.rstrip(") ")))
    land = next(filter(None, reversed(wider)), "")
    if town and (not land or town.split("-")[0] == land.split("-")[0]):  # "Boston, Mass." is Boston
        return town
    if land:  # "Boston, Lincolnshire" is not the better known one
        return land
    printed_in = dict.fromkeys(filter(None, map(_in_gazetteer, _SEVERAL.split(said))))
    if len({region.split("-")[0] for region in printed_in}) == 1:  # "Edinburgh and London"
        return next(iter(printed_in))
    if printed_in:
        remedy = "Name the one in which the book was written: its author's measures are meant."
        raise InputError(f"{place!r} lies in {len(printed_in)} countries", "place", remedy)
    hint = nearest(said, {row.place for row in rows(Region)})
    remedy = f"Name the country, such as England or United States, or a town on file.{hint}"
    raise InputError(f"place {place!r} is not in the gazetteer", "place", remedy)


def _in_gazetteer(place: str) -> str:
    return _gazetteer().get(place, "")


@cache
def _gazetteer() -> Mapping[str, str]:
    """Return the region of every place on file, and of its own code."""
    codes = {row.region.lower(): row.region for row in rows(Region)}
    return codes | {row.place: row.region for row in reversed(rows(Region))}


@dataclass(frozen=True, slots=True)
class Amount:
    """A printed number: what it says, how far it may lie, and the words it was printed in."""

    value: float | None
    low: float | None
    high: float | None
    printed: str


@dataclass(frozen=True, slots=True)
class Measured:
    """An amount with its unit token; the unit is None where the page prints none."""

    amount: Amount
    unit: str | None
    written: str = "word"  # sign, abbreviation, word or count


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity of an item: its parts are added ("1 lb. 4 oz."); ``column`` tells parallel quantities apart."""

    parts: tuple[Measured, ...]
    column: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One ingredient as read: what, how much, how prepared, for what."""

    id: str
    name: str
    preparation: str = ""
    strength: str = ""
    purpose: Purpose = "ingredient"
    each: bool = False
    certain: bool = True
    relative_to: str | None = None
    quantities: tuple[Quantity, ...] = ()
    spans: dict[str, tuple[Span, ...]] = field(default_factory=dict, hash=False)
    readings: tuple[Reading, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """Another reading of an item, where the print is doubtful."""

    item: Item
    standing: str
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of the receipt: its printed text, what kind it is, the items read from it, and what was not read."""

    id: str
    text: str
    kind: LineKind
    items: tuple[Item, ...] = ()
    unread: tuple[Span, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Receipt(Shown):
    """A receipt as read from a page."""

    title: str
    setting: Setting
    lines: tuple[Line, ...]
    text: str
    sure: bool = True  # that the page prints it as one receipt of its own

    @property
    def items(self) -> tuple[Item, ...]:
        """Every item, in the order of the page."""
        return tuple(item for line in self.lines for item in line.items)

    def card(self) -> Card:
        """Return the printed words, underlined by what they were understood as, and beside them what was read."""
        called = self.title or "receipt without a title"
        return Card(called, tuple(not_sure(self)), beside=(beside(self),))

    def line_of(self, item_id: str) -> Line:
        """Return the line an item stands in."""
        return next(line for line in self.lines if any(item.id == item_id for item in line.items))


@dataclass(frozen=True, slots=True)
class PagePart:
    """Some words of a page, what they are, and the receipt and line they belong to.

    ``places`` says for each stretch of ``text`` where it starts in the text and on the page, and how long it is.
    """

    kind: str
    text: str
    places: tuple[tuple[int, int, int], ...]
    receipt: int | None = None  # place in the page's receipts
    line: str = ""  # id of its line

    @property
    def span(self) -> Span:
        """Where it stands on the page."""
        return self.places[0][1], self.places[-1][1] + self.places[-1][2]


@dataclass(frozen=True, slots=True, kw_only=True, repr=False)
class Page(Shown):
    """A page as read: its receipts, and every part of it in order; between the parts stand only blanks and hyphens."""

    text: str
    receipts: tuple[Receipt, ...]
    parts: tuple[PagePart, ...]
    questions: tuple[Question, ...] = ()  # whether what stands below is one receipt or two

    @property
    def titles(self) -> tuple[str, ...]:
        """What the receipts are called, in the order of the page."""
        return tuple(receipt.title for receipt in self.receipts)

    def card(self) -> Card:
        """Return what was read of each receipt, line by line, and what stands around them."""
        shown = tuple(
            beside(receipt, f"{number}. {receipt.title or 'without a title'}", self.pictured(number - 1))
            for number, receipt in enumerate(self.receipts, start=1)
        )
        notes = tuple(
            f"{receipt.title or 'without a title'}, {words}" for receipt in self.receipts for words in not_sure(receipt)
        )
        around = tuple(f"No part of a receipt: {part.text}" for part in self.parts if part.receipt is None)
        asked = tuple(
            f"{question.asks} Read as {question.options[0].words}: {question.options[0].reason.says}."
            for question in self.questions
        )
        many = {0: "no receipt", 1: "one receipt"}.get(len(self.receipts), f"{len(self.receipts)} receipts")
        return Card(f"A page with {many}", (*asked, *notes), beside=shown, last=around)

    def pictured(self, receipt: int) -> Callable[[Line], Iterable[bytes]] | None:  # noqa: ARG002
        """Return what gives the pieces of picture a line of a receipt stands in; nothing, for this page has none."""
        return None


def printed_amounts(item: Item) -> str:
    """Return what an item's amounts are printed as, or what it is for where it has none.

    Parameters
    ----------
    item : Item
        As read.

    Returns
    -------
    str
        In the words of the page.

    Examples
    --------
    >>> printed_amounts(Item(id="1", name="Starch", purpose="enough", each=False, certain=True))
    'enough'
    """
    return printed(item) or item.purpose


def _is_day(text: str) -> bool:
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def _listed(words: set[str]) -> str:
    return ", ".join(sorted(words))


@dataclass(frozen=True)
class Use:
    """What a preparation is made for: its form, the law asked about, the day, where it goes and who wears it."""

    form: str
    law: str = ""
    on: str = ""  # day the law is asked for, ISO 8601
    wearer: str = "adult"

    def __post_init__(self) -> None:
        """Check the form, the law and the day once, here."""
        for each in fields(self):
            text_given(getattr(self, each.name), each.name)
        _ = self.row
        if self.law and self.law not in LAWS:
            raise InputError(
                f"{self.law!r} is no law that can be asked about", "law", f"Use one of: {', '.join(LAWS)}."
            )
        if self.on and not _is_day(self.on):
            raise InputError(f"{self.on!r} is not a day", "on", "Write it as 2026-11-01.")
        wearers = {"adult", *(rule.wearer for rule in rows(Rule) if rule.wearer)}
        if self.wearer not in wearers:  # a slip here would pass over a rule for small children
            raise InputError(
                f"{self.wearer!r} is no wearer a rule asks about", "wearer", f"Use one of: {_listed(wearers)}."
            )

    @cached_property
    def row(self) -> FormRow:
        """The row of the form."""
        wanted = self.form.strip().lower()
        for row in rows(FormRow):
            if row.form == wanted:
                return row
        known = [row.form for row in rows(FormRow)]
        hint = nearest(wanted, known)
        raise InputError(f"form {self.form!r} is not on file", "form", f"Use one of: {', '.join(known)}.{hint}")
