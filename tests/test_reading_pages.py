"""Whole pages become receipts: pages invented in the layouts books print, and what is refused."""

import itertools

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

import reconlab as rl
from reconlab.cli import shell
from reconlab.errors import InputError, NoIngredientError, ReconlabError, SeveralReceiptsError

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


UNMARKED = "COLD CREAM.\n\nWax, 1 oz.\nOil, 4 oz.\n\nMelt them.\n\nLip salve\nWax, 2 oz.\nLard, 3 oz.\n"


def test_one_receipt_or_two_is_a_question_that_a_decision_settles() -> None:
    page = rl.read_all(UNMARKED)
    (question,) = page.questions
    assert (len(page.receipts), question.open, question.options[0].key) == (2, True, "two receipts")
    assert not page.receipts[1].sure
    one = rl.read_all(UNMARKED, decisions=[rl.Decision(question=question.id, option="one receipt", because="one pot")])
    assert [len(receipt.items) for receipt in one.receipts] == [4]
    assert not one.questions[0].open
    assert "Is 'Lip salve' a receipt of its own" in str(page)


def test_an_amount_far_from_all_others_is_doubted_on_a_page_too() -> None:
    page = rl.read_all("SALVE.\n\nWax, 14 lb.\nLard, 1 lb.\nOil, 2 lb.\n\nCREAM.\n\nWax, 1 oz.\nOil, 4 oz.\n")
    assert [item.certain for item in page.receipts[0].items] == [False, True, True]


def test_two_columns_that_differ_are_doubted() -> None:
    page = rl.read_all("PILLS.\n\nAloes, 0.13 Gm. or 20 grains\nMyrrh, 0.13 Gm. or 2 grains\n")
    assert [item.certain for item in page.receipts[0].items] == [False, True]


@pytest.mark.parametrize(
    ("text", "titles"),
    [
        ("COLD CREAM.\nWax 1 oz.\nOil 4 oz.\nLard 2 oz.\nMix.\nLIP SALVE.\nWax 2 oz.\nLard 3 oz.\n", 2),
        ("III\n\nWax, 1 oz.\nOil, 4 oz.\n\nIV\n\nWax, 2 oz.\nLard, 3 oz.\n", 2),
        ("CHALK. Chalk 2 oz., orris 1 oz.; mix. Or, chalk 3 parts, bole 1 part.\n", 2),
        ("6. (Nugent.) Lard, 2 oz.; wax, 1 oz.\n\n7. Wax, 3 oz.; palm oil, 1 oz.\n", 2),
        ("Pilula Ruffi Take of aloes two ounces, myrrh one ounce.\n", 1),
        ("Prices current.\n\nOil of lavender, per oz. . . . 4s. 6d.\nSpermaceti, per lb. . . . 1s. 10d.\n", 0),
        ("TABLE.\n\n20 grains make 1 scruple\n3 scruples make 1 drachm\n", 0),
        ("1840  12  13.5  88\n1841  13  14.5  89\n1842  14  15.5  90\n", 0),
    ],
)
def test_as_many_receipts_are_read_as_a_page_prints(text: str, titles: int) -> None:
    assert len(rl.read_all(text).receipts) == titles


def test_the_words_of_a_receipt_of_a_page_read_again_give_the_same() -> None:
    for receipt in rl.read_all(PAGE).receipts:
        (again,) = rl.read_all(receipt.text).receipts
        assert (again.title, [line.items for line in again.lines]) == (
            receipt.title,
            [line.items for line in receipt.lines],
        )


def test_a_page_of_figures_is_no_receipt() -> None:
    with pytest.raises(NoIngredientError):
        rl.read("1840  12  13.5  88\n1841  13  14.5  89\n")


def test_two_marks_with_a_gap_between_are_no_title() -> None:
    page = rl.read_all("            ~                   ~                       BRILLIANTINE. Castor oil, 2 oz.")
    assert len(page.receipts) == 1


def test_a_bare_letter_at_the_end_of_a_page_is_not_lost() -> None:
    page = rl.read_all("Mix the wax with the oil. (b) Another.")
    assert "".join(part.text for part in page.parts).endswith("(b) Another.")


@pytest.mark.parametrize(
    "text", ["\x00\x01\x02\x03PNG\x0e\x0f", "\ufffd" * 40, "", "  \n ", "<html><body><p>Wax, 1 oz.</p></body></html>"]
)
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


# Invented, in the manner of druggists' receipt books: titles in common type before prose, or over a list with a dash.
DRUGGIST = """Pommade en Creme. Melt together one drachm each of white wax and spermaceti, and add two ounces of oil.

Rose Pomatum, for softening the skin. Clarified lard 4 lbs., suet 1 lb., rose water 3 oz.; melt the two former.

Cucumber Pomade.\N{EM DASH}
Cucumber juice 2 ounces
White soap 1/2 ounce

Pistachio Milk (Lait de Pistaches).

Soap 2 oz.
Wax 3 oz.
"""
TITLES = [
    "Pommade en Creme",
    "Rose Pomatum, for softening the skin",
    "Cucumber Pomade",
    "Pistachio Milk (Lait de Pistaches)",
]


def test_titles_in_common_type_are_titles() -> None:
    page = rl.read_all(DRUGGIST)
    assert [receipt.title for receipt in page.receipts] == TITLES
    assert [len(receipt.items) for receipt in page.receipts] == [3, 3, 2, 2]


def test_lists_that_each_close_are_receipts_of_their_own() -> None:
    page = rl.read_all(
        "Myrrh, 10 parts; salt, 10 parts; soap, 5 parts; chalk, 500 parts.\n\n\n"
        "Camphor, 5 parts; soap, 10 parts; thymol, 1 part; chalk, 500 parts.\n"
    )
    assert [len(receipt.items) for receipt in page.receipts] == [4, 4]
    assert page.questions


# Invented, in the manner of an encyclopaedia of country life and of a numbered ladies' book.
def test_titles_that_name_what_is_made_or_have_a_bare_number_are_titles() -> None:
    french = rl.read_all(
        "Onguent contre la toux. Fleur de soufre, deux onces; saindoux, quatre onces; mêlez ces substances.\n\n"
        "Eau douce. Prenez trois livres d'eau de rose, deux onces de miel et une once de sel.\n"
    )
    assert [receipt.title for receipt in french.receipts] == ["Onguent contre la toux", "Eau douce"]
    numbered = rl.read_all(
        "20 Cold Cream\n\nTake 2 drachms of white wax, 2 ounces of lard.\n\n"
        "21 Freckle wash\n\nTake 1 drachm of borax, half a pint of rain water.\n"
    )
    assert [receipt.title for receipt in numbered.receipts] == ["Cold Cream", "Freckle wash"]


def test_a_first_sentence_is_no_title() -> None:
    page = rl.read_all("LIP SALVE.\n\nMelt the wax gently. Add two ounces of oil and one ounce of lard.\n")
    assert [receipt.title for receipt in page.receipts] == ["LIP SALVE"]
