"""What makes reading fast changes nothing that is read."""

import itertools

import pytest

from reconlab.reading import read_all
from reconlab.reading.damage import torn_at
from reconlab.reading.lines import read_line
from reconlab.reading.pieces import pieces_of, raw_pieces
from reconlab.reading.plain import plain_at
from reconlab.reading.quantities import quantity_at
from reconlab.reading.tokens import mark_at, says_none, tokens, words_of

COUNTS = ("2", "1\N{VULGAR FRACTION ONE HALF}", "1-1/2", "12", "2.5", "20", "14", "112", "half", "three", "six", "1/0")
UNITS = ("oz.", "oz", "fl. oz.", "drachms", "lb.", "grains", "parts", "pints", "02.", "%", "lot", "gill", "Unzen")
BEFORE = ("", "Wax, ", "from ", "between ", "-", "about ", "a few ", "only ", "von ", "the yolks of ", "X")
BEHIND = (
    "", " of wax", ", and oil", "; oil", " and a half", " or two", " to 3 oz.", ", by weight", ", by measure", " troy",
    ", imperial", ", wine measure", " 4 drachms", ",", ";", " of", "of wax", ",wax", " per cent", ")", "-3",
    " imperial", " starch", " oder 3 oz.", " measure of wax", " weight", " Dell'acqua", " liquid measure",
    ", 3 drachms", "; 3 drachms", ", three drachms", ", powdered", " ij", " viij", " Balsam", " demi",
)  # fmt: skip


@pytest.mark.parametrize("count", COUNTS)
def test_a_plain_amount_is_what_all_the_rules_read(count: str) -> None:
    plain = 0
    for unit, before, behind in itertools.product(UNITS, BEFORE, BEHIND):
        text = f"{before}{count} {unit}{behind}"
        line = tokens(text)
        for at in range(len(line)):
            found = plain_at(line, at)
            if found is not None:
                plain += 1
                assert found == (torn_at(line, at) or quantity_at(line, at)), text
    assert plain


@pytest.mark.parametrize(
    "text", ["2 oz. and a half of wax", "from 2 oz. to 3 oz.", "2 oz., by weight", "-2 oz. of wax"]
)
def test_an_amount_that_may_go_on_is_not_plain(text: str) -> None:
    line = tokens(text)
    assert all(plain_at(line, at) is None for at, token in enumerate(line) if token.text == "2")


def test_a_mark_is_the_longest_phrase_from_its_word() -> None:
    line = tokens("of each 2 fl. oz., q. s. of wax")
    assert [at for at in range(len(line)) if mark_at(line, at) is not None] == [
        at for at in range(len(line)) if mark_at(tuple(line), at) is not None
    ]
    assert mark_at(line, 3) == mark_at(tuple(line), 3)


def test_pieces_are_the_same_however_often_a_line_is_asked() -> None:
    line = tokens("Starch, 3 oz.; talc, 2 oz.")
    assert list(raw_pieces(line)) == list(raw_pieces(line)) == list(raw_pieces(tuple(line)))
    part = words_of(line[:5])
    assert pieces_of(part) == pieces_of(tuple(part))


def test_a_line_knows_what_does_not_stand_in_it() -> None:
    assert says_none(tokens("Wax AND oil"), frozenset(("or",)))
    assert not says_none(tokens("Wax AND oil"), frozenset(("and",)))


def test_a_french_head_is_carried_over_a_wide_gap() -> None:
    text = f"fleurs de sureau, de{' ' * 40}m\N{LATIN SMALL LETTER E WITH ACUTE}lilot, de chaque une once"
    assert [item.name.split()[0] for item in read_line(text, 1, among_ingredients=True).items] == ["fleurs", "fleurs"]


def test_every_receipt_of_a_long_page_is_read_to_the_end() -> None:
    page = "\n".join(
        f"POMADE {n}.\n\nWax, {n} oz.\nOil of lemon, {n} drachms.\n\nMelt the wax.\n" for n in range(1, 100)
    )
    long = read_all(page)
    assert len(long.receipts) == 99
    assert [item.quantities[0].parts[0].amount.value for item in long.receipts[-1].items] == [99, 99]
