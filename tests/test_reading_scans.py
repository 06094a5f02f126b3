"""What columns and scans make of amounts: doubts that are asked about, never a wrong number in silence."""

import pytest

from reconlab.reading import read, read_all
from reconlab.reading.lines import read_line
from reconlab.receipts import Item


def amount(item: Item) -> list[tuple[float | None, str | None]]:
    return [(part.amount.value, part.unit) for quantity in item.quantities for part in quantity.parts]


def only(text: str) -> Item:
    (item,) = read_line(text, 1, among_ingredients=True).items
    return item


def others(item: Item) -> list[list[tuple[float | None, str | None]]]:
    return [amount(reading.item) for reading in item.readings]


@pytest.mark.parametrize("gap", ["      ", "\t", " .... "])
def test_units_across_a_gap_are_one_amount_or_two_batches_and_never_certain(gap: str) -> None:
    item = only(f"Spirit of wine ...... 1 gal.{gap}1 pint")
    assert not item.certain
    assert amount(item) == [(1, "gallon"), (1, "pint")]
    assert others(item) == [[(1, "gallon")], [(1, "pint")]]


def test_units_that_descend_without_a_gap_are_one_amount() -> None:
    item = only("Spirit of wine ...... 1 gal. 1 pint")
    assert item.certain
    assert amount(item) == [(1, "gallon"), (1, "pint")]


@pytest.mark.parametrize(
    "last", ["Water ............... 2 oz.       3 oz.", "Oil of cloves ........ 2 oz.      2 drachms"]
)
def test_columns_that_add_up_nowhere_else_are_two_batches(last: str) -> None:
    rows = (
        "COLOGNE.\n",
        "Spirit of wine ...... 1 gal.      1 pint",
        "Oil of bergamot ..... 4 oz.       4 drachms",
        last,
    )
    for receipt in (read("\n".join(rows)), read_all("\n".join(rows)).receipts[0]):
        first = receipt.items[0]
        assert amount(first) == [(1, "gallon")]
        assert [(1, "gallon"), (1, "pint")] in others(first)
        assert not any(item.certain for item in receipt.items)


def test_pounds_and_ounces_in_columns_are_added_first_and_asked_about() -> None:
    rows = ("SOAP.\n", "Tallow .... 1 lb.    4 oz.", "Lye ....... 2 lb.    8 oz.", "Palm oil .. 2 lb.    2 oz.")
    first = read("\n".join(rows)).items[0]
    assert amount(first) == [(1, "pound"), (4, "ounce")]
    assert [(1, "pound")] in others(first)
    assert not first.certain
