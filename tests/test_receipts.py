"""Where and when a book was printed, and what a preparation is made for, are checked once, at the door."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reconlab.errors import InputError, ReconlabError
from reconlab.receipts import ABOUT_YEARS, BOOK_KINDS, Setting, Use, kind_of_book
from reconlab.tables import BookWord, FormRow, Region, rows

DASH = "\N{EN DASH}"


@pytest.mark.parametrize(
    ("written", "span"),
    [
        ("1890", (1890, 1890)),
        (" 1890 ", (1890, 1890)),
        ("1880-1890", (1880, 1890)),
        (f"1880{DASH}1890", (1880, 1890)),
        ("1880 - 1890", (1880, 1890)),
        ("1880/1890", (1880, 1890)),
        ("1905-11", (1905, 1911)),
        (f"1905{DASH}11", (1905, 1911)),
        ("c. 1880", (1880 - ABOUT_YEARS, 1880 + ABOUT_YEARS)),
        ("c.1880", (1880 - ABOUT_YEARS, 1880 + ABOUT_YEARS)),
        ("C 1880", (1880 - ABOUT_YEARS, 1880 + ABOUT_YEARS)),
        ("circa 1880", (1880 - ABOUT_YEARS, 1880 + ABOUT_YEARS)),
        ("about 1880-1890", (1880 - ABOUT_YEARS, 1890 + ABOUT_YEARS)),
        ("", None),
        ("  ", None),
    ],
)
def test_years_are_read_as_people_write_them(written: str, span: tuple[int, int] | None) -> None:
    assert Setting(years=written).span == span


@pytest.mark.parametrize(
    "written",
    [
        "12",
        "next year",
        "1890-1880",
        "1899-98",
        "18901",
        "1890-",
        "-1890",
        "1890 AD",
        "c.",
        "3000",
        "900",
        "1890-1895-1899",
        "99-05",
    ],
)
def test_a_year_that_is_none_is_refused_with_how_to_write_it(written: str) -> None:
    with pytest.raises(InputError) as refused:
        Setting(years=written)
    assert refused.value.where == "year"
    assert repr(written) in refused.value.found
    assert refused.value.remedy


@given(st.integers(1100, 2000), st.integers(0, 99))
def test_any_span_is_read_back_in_full_and_cut_short(first: int, length: int) -> None:
    last = first + length
    assert Setting(years=f"{first}-{last}").span == (first, last)
    if str(first)[:2] == str(last)[:2]:
        assert Setting(years=f"{first}-{last % 100:02d}").span == (first, last)


@given(st.text(max_size=12))
def test_any_words_for_a_year_are_a_span_or_an_error_of_ours(words: str) -> None:
    try:
        span = Setting(years=words).span
    except ReconlabError:
        return
    assert span is None or span[0] <= span[1]


@pytest.mark.parametrize(
    ("place", "region"),
    [
        ("England", "GB"),
        ("LONDON", "GB"),
        ("Edinburgh", "GB-SCT"),
        ("Dublin", "IE"),
        ("Philadelphia", "US"),
        ("London, Ontario", "CA"),
        ("GB", "GB"),
        ("gb-sct", "GB-SCT"),
        (" ireland ", "IE"),
        ("Paris", "FR"),
        ("Paris, Ontario", "CA"),
        ("Lyons", "FR-69"),
        ("Breslau", "DE-PR"),
        ("Halle an der Saale", "DE-PR"),
        ("Cöln", "DE-PR"),
        ("Leipzig", "DE-SN"),
        ("Nürnberg", "DE-BY"),
        ("Germany", "DE"),
        ("Christiania", "NO"),
        ("Prag", "AT"),
        ("Boston, Mass.", "US"),
        ("Boston, Lincolnshire", "GB"),
        ("", ""),
    ],
)
def test_a_place_is_found_by_name_or_by_code(place: str, region: str) -> None:
    assert Setting(place=place).region == region


@pytest.mark.parametrize("place", ["Atlantis", "Lond", "Timbuktu", "-"])
def test_a_place_not_on_file_is_refused_with_what_to_write(place: str) -> None:
    with pytest.raises(InputError, match="not in the gazetteer") as refused:
        Setting(place=place)
    assert "England" in refused.value.remedy


def test_every_place_of_the_gazetteer_is_found_and_has_one_region() -> None:
    for row in rows(Region):
        assert Setting(place=row.place).region == row.region


def test_every_kind_of_book_is_taken_and_no_other() -> None:
    for kind in BOOK_KINDS:
        assert Setting(book=kind).book == kind
    with pytest.raises(InputError, match="no kind of book") as refused:
        Setting(book="novel")
    assert all(kind in refused.value.remedy for kind in BOOK_KINDS)


def test_what_is_not_known_shuts_no_row_out() -> None:
    assert Setting().within(("US",), 1880, 1890)
    assert Setting(years="1870").within(("US",), None, None)
    assert not Setting(years="1870").within((), 1880, 1890)
    assert not Setting(place="England").within(("US",), None, None)


def test_a_row_for_the_country_speaks_in_its_part() -> None:
    assert Setting(place="Scotland").within(("GB",), None, None)
    assert not Setting(place="England").within(("GB-SCT",), None, None)


@pytest.mark.parametrize(
    ("years", "here"),
    [
        ("1879", False),
        ("1880", True),
        ("1890", True),
        ("1891", False),
        ("1870-1880", True),
        ("1890-1899", True),
        ("1871-1879", False),
    ],
)
def test_a_row_speaks_from_its_first_year_to_its_last(years: str, *, here: bool) -> None:
    assert Setting(years=years).within((), 1880, 1890) is here


@pytest.mark.parametrize(
    ("setting", "words"),
    [
        (Setting(), "year and place not given"),
        (Setting("1890"), "1890"),
        (Setting("1890", "England", "trade"), "England, 1890, trade book"),
        (Setting("1864", "London", "pharmacopoeia"), "London, 1864, pharmacopoeia"),
    ],
)
def test_a_setting_says_itself_in_a_few_words(setting: Setting, words: str) -> None:
    assert str(setting) == words


def test_every_form_on_file_is_a_use_and_no_other() -> None:
    for row in rows(FormRow):
        assert Use(row.form.upper()).row is row
    with pytest.raises(InputError, match="not on file") as refused:
        Use("hat")
    assert rows(FormRow)[0].form in refused.value.remedy


@pytest.mark.parametrize("day", ["2026", "1 November 2026", "2026-11-1", "01-11-2026", "2026-02-30", "2026-13-01"])
def test_a_day_is_written_one_way(day: str) -> None:
    with pytest.raises(InputError, match="is not a day"):
        Use("cold cream", on=day)


@pytest.mark.parametrize(
    ("place", "region"),
    [
        ("Boston", "US"),
        ("Boston, Lincolnshire", "GB"),
        ("Boston, Mass.", "US"),
        ("Belfast, Me.", "US"),
        ("Paris, Texas", "US"),
        ("Kendal, Westmorland", "GB"),
        ("Cambridge (Mass.)", "US"),
        ("Nürnberg, Bayern", "DE-BY"),
        ("Edinburgh and London", "GB-SCT"),
        ("London: Paternoster Row", "GB"),
        ("Co. Kerry", "IE"),
    ],
)
def test_a_land_behind_a_town_tells_which_town_it_is(place: str, region: str) -> None:
    assert Setting(place=place).region == region


def test_two_countries_on_a_title_page_are_asked_about() -> None:
    with pytest.raises(InputError, match="lies in 2 countries") as refused:
        Setting(place="London and New York")
    assert "author's measures" in refused.value.remedy


@pytest.mark.parametrize(
    ("called", "kind"),
    [
        ("dispensatory", "pharmacopoeia"),
        ("The New London Dispensatory", "pharmacopoeia"),
        ("household receipt book", "household"),
        ("Cookery book", "household"),
        ("perfumer's manual", "perfumer"),
        ("druggist's receipt book", "dispensing"),
        ("Encyclopaedia of receipts", "trade"),
        ("formulaire", "dispensing"),
        ("Kochbuch", "household"),
    ],
)
def test_a_book_may_be_called_what_people_call_it(called: str, kind: str) -> None:
    assert Setting(book=called).book == Setting(book=kind).book == kind


@pytest.mark.parametrize("row", rows(BookWord), ids=lambda row: row.word)
def test_every_word_for_a_book_is_the_kind_it_says(row: BookWord) -> None:
    assert kind_of_book(row.word.upper()) == row.kind  # no earlier word hides it
