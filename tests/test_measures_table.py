"""Whole columns of quantities: the same answers as one by one, a fault in its row, and nothing in silence."""

import math
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import reconlab as rl
from reconlab.errors import FileError, InputError, ReconlabError
from reconlab.measures import Conversion, convert, convert_table, factor

HERE = {"years": "1890", "place": "England"}
PRINTED = [
    "1 oz.", "1½ oz.", "ʒiij", "2 lb. 3 oz.", "4 oz. 2 dr.", "two drachms and a half", "gr. xij", "2 to 3 oz.", "0 oz.",
    "1 pint", "20 fl. oz.", "min. 5", "℥ss", "12.75 grains", "2 g", "1,000 grains", "1 lb", "7 scruples", "3.5 fl. dr.",
]  # fmt: skip
COLUMNS = ["text", "mass_g", "volume_ml", "low", "high", "standing", "custom", "others", "reason", "fault"]


def answer(text: str, **asked: str) -> tuple[Conversion | None, str]:
    try:
        return convert(text, **asked), ""
    except ReconlabError as fault:
        return None, str(fault)


def same(cell: float, number: float | None) -> bool:
    return math.isnan(cell) if number is None else cell == pytest.approx(number, rel=1e-12)


@pytest.mark.parametrize("of", ["", "glycerin", "talc", "moon dust"])
@pytest.mark.parametrize("setting", [HERE, {}, {"years": "1820", "place": "London", "book": "pharmacopoeia"}])
def test_a_column_answers_as_one_quantity_does(setting: dict[str, str], of: str) -> None:
    table = convert_table(PRINTED, of=of, **setting)
    assert list(table) == COLUMNS
    for row in table.itertuples():
        one, fault = answer(row.text, of=of, **setting)
        assert row.fault == fault
        if one is None:
            assert math.isnan(row.mass_g)
            continue
        chosen = one.chosen
        assert same(row.mass_g, chosen and chosen.mass_g)
        assert same(row.volume_ml, chosen and chosen.volume_ml)
        assert same(row.low, chosen and chosen.limits and chosen.limits[0])
        assert same(row.high, chosen and chosen.limits and chosen.limits[1])
        assert (row.standing, row.custom) == ((chosen.standing, chosen.custom) if chosen else ("", ""))
        assert row.others.count("; ") == max(len(one.others) - 1, 0)
        assert row.reason


AMOUNTS = st.decimals(0, 9999, places=2, allow_nan=False).map(str) | st.sampled_from(["iij", "xv", "½", "2½", "1/2"])
UNITS = st.sampled_from(
    ["oz.", "drachms", "grains", "lb", "fl. oz.", "pints", "minims", "scruples", "g", "moons", "dr"]
)


@settings(deadline=None)
@given(st.lists(st.tuples(AMOUNTS, UNITS).map(" ".join) | st.text(max_size=12), max_size=6))
def test_any_column_is_filled_and_never_raises(texts: list[str]) -> None:
    table = convert_table(texts, **HERE)
    assert list(table.text) == texts
    for row in table.itertuples():
        assert bool(row.fault) != bool(row.reason)
        one, fault = answer(row.text, **HERE)
        assert row.fault == fault
        assert one is None or same(row.mass_g, one.chosen and one.chosen.mass_g)


def test_a_frame_may_say_year_place_book_and_substance_row_by_row() -> None:
    # 1 oz. of 31.1034768 g by the London Pharmacopoeia of 1820, 28.349523125 g in trade; glycerin of 1.26 g/mL measured
    frame = pd.DataFrame(
        {
            "text": ["1 oz.", "1 oz.", "1 oz.", "1 oz."],
            "years": [1820, 1890, 1890, None],
            "book": ["pharmacopoeia", "trade", "trade", "trade"],
            "of": ["", None, "glycerin", ""],
        }
    )
    table = convert_table(frame, place="London", years="1911")
    expected = [31.1034768, 28.349523125, 28.4130625 * 1.26, 28.349523125]
    assert list(table.mass_g) == [pytest.approx(grams, rel=1e-12) for grams in expected]


def test_a_series_and_a_file_are_columns_too(tmp_path_factory: pytest.TempPathFactory) -> None:
    path = tmp_path_factory.mktemp("csv") / "amounts.csv"
    path.write_text("amount,rule\n1 pint,the pint is of 16 ounces\n1 pint,\n", encoding="utf-8")
    from_file = convert_table(path, column="amount", **HERE)
    assert list(from_file.volume_ml) == [pytest.approx(473.176473), pytest.approx(568.26125)]
    series = convert_table(pd.Series(["1 pint", None], index=["b", "a"]), **HERE)
    assert series.volume_ml["b"] == pytest.approx(568.26125)  # the index is kept, to join the answers to the rest
    assert series.fault["a"]


@pytest.mark.parametrize(
    ("given", "fault"),
    [
        ({"place": "Atlantis"}, "gazetteer"),
        ({"years": "soon"}, "is not a year"),
        ({"rule": "as usual"}, "not understood"),
        ({"of": "starch", "book": "novel"}, "no kind of book"),
    ],
)
def test_a_setting_that_cannot_be_used_is_a_fault_of_its_rows(given: dict[str, str], fault: str) -> None:
    frame = pd.DataFrame([{"text": "1 oz.", **given}, {"text": "1 oz."}])
    table = convert_table(frame, **HERE)
    assert fault in table.fault[0]
    assert table.fault[1] == ""


def test_a_missing_column_or_file_is_said() -> None:
    with pytest.raises(InputError, match="no column 'text'"):
        convert_table(pd.DataFrame({"amount": ["1 oz."]}))
    with pytest.raises(FileError):
        convert_table(Path("nowhere.csv"))


def test_nothing_is_chosen_for_a_row_without_year_or_place_and_every_answer_stands_beside() -> None:
    table = convert_table(["1 oz."])
    assert math.isnan(table.mass_g[0])
    assert "28.3495 g (avoirdupois, possible)" in table.others[0]
    assert "31.1035 g (troy, possible)" in table.others[0]


# The factor of one unit.


@pytest.mark.parametrize(
    ("unit", "of", "number", "kind"),
    [
        ("oz.", "", 28.349523125, "g"),
        ("ʒ", "", 3.8879346, "g"),
        ("drachms", "", 3.8879346, "g"),
        ("fl. oz.", "", 28.4130625, "mL"),
        ("fl. oz.", "glycerin", 28.4130625 * 1.26, "g"),
    ],
)
def test_the_factor_of_a_unit_multiplies_whole_arrays(unit: str, of: str, number: float, kind: str) -> None:
    found = factor(unit, of=of, **HERE)
    assert (found.number, found.unit) == (pytest.approx(number, rel=1e-12), kind)
    assert found.reason.all_sources()
    amounts = np.linspace(0, 100, 1001)
    assert found.number * amounts == pytest.approx(number * amounts)


@pytest.mark.parametrize("unit", ["moons", "", "2 oz.", "oz. of starch"])
def test_what_is_no_unit_has_no_factor(unit: str) -> None:
    with pytest.raises(InputError, match="no unit on file"):
        factor(unit, **HERE)


def test_a_unit_nobody_prefers_a_size_of_has_no_factor_and_its_answers_are_named() -> None:
    with pytest.raises(InputError, match=r"no source prefers one size of 'oz\.'") as refused:
        factor("oz.")
    assert "troy" in refused.value.remedy


def test_the_public_name_is_that_of_the_module() -> None:
    assert rl.convert_table is convert_table


def test_a_column_called_year_is_the_years_and_a_bad_row_says_its_fault() -> None:
    frame = pd.DataFrame({"text": ["1 pint", "5 blorp", "1 pint"], "year": ["1880", "1880", "abcd"], "place": "London"})
    found = convert_table(frame)
    assert found["volume_ml"][0] == pytest.approx(568.26125)
    assert ["'blorp' is no unit on file" in fault for fault in found["fault"]] == [False, True, False]
    assert "'abcd' is not a year" in found["fault"][2]
