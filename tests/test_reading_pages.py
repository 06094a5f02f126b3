"""Whole pages become receipts: pages invented in the layouts books print, and what is refused."""

import itertools

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

import reconlab as rl
from reconlab.cli import shell
from reconlab.errors import InputError, ReconlabError, SeveralReceiptsError

PAGE = """          THE TOILET TABLE.                     41

                  COLD CREAM.

White wax . . . . . . . . . . 1 oz.
Almond oil  . . . . . . . . . 4 oz.
Rose water  . . . . . . . . . 2 oz.

Melt the wax in the oil, and stir in the water by degrees. Keep it
for six weeks in the cold. Price 6d. a pot.

                  LIP SALVE.

Take of white wax two ounces, of spermaceti one ounce, and of almond
oil four ounces; melt them together.
"""


def test_each_receipt_of_a_page_has_its_title_and_its_items() -> None:
    page = rl.read_all(PAGE)
    assert page.titles == ("COLD CREAM", "LIP SALVE")
    assert [[item.name for item in receipt.items] for receipt in page.receipts] == [
        ["White wax", "Almond oil", "Rose water"],
        ["white wax", "spermaceti", "almond oil"],
    ]


def test_one_receipt_is_asked_for_by_its_title_and_several_are_named() -> None:
    with pytest.raises(SeveralReceiptsError, match="COLD CREAM; LIP SALVE"):
        rl.read(PAGE)
    assert [item.name for item in rl.read(PAGE, title="Lip salve").items] == ["white wax", "spermaceti", "almond oil"]


def test_a_page_of_prose_has_no_receipt() -> None:
    page = rl.read_all("In the year 1840 she had three sons, and lived 12 miles from the town.\n")
    assert page.receipts == ()
    assert "no receipt" in str(page)


def test_the_card_of_a_page_shows_every_receipt_and_what_stands_around_them() -> None:
    shown = str(rl.read_all(PAGE))
    assert all(words in shown for words in ("1. COLD CREAM", "2. LIP SALVE", "Almond oil", "No part of a receipt"))


def test_the_shell_shows_every_receipt_of_a_page() -> None:
    done = CliRunner().invoke(shell, ["read", "-"], input=PAGE)
    assert done.exit_code == 0
    assert "COLD CREAM" in done.output
    assert "LIP SALVE" in done.output


@pytest.mark.parametrize("text", ["", "  \n ", "<html><body><p>Wax, 1 oz.</p></body></html>"])
def test_what_is_no_page_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        rl.read_all(text)


@given(st.lists(st.sampled_from([*PAGE.splitlines(), "II.", "Another.", "1/0 oz. of", "{", "℥ss", "\u200f", "0"])))
def test_any_page_is_read_or_refused_and_no_word_is_counted_twice(lines: list[str]) -> None:
    try:
        page = rl.read_all("\n".join(lines))
    except ReconlabError:
        return
    taken = sorted((at, at + length) for part in page.parts for _, at, length in part.places)
    assert all(one[1] <= two[0] for one, two in itertools.pairwise(taken))
    for part in page.parts:
        for start, at, length in part.places:
            assert part.text[start : start + length] == page.text[at : at + length]
