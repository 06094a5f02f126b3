"""Hold substitutes to what is documented, to the law, and to never naming a poison."""

import dataclasses

import pytest

from reconlab.errors import AmbiguousError, InputError, UnknownNameError
from reconlab.materia import thing
from reconlab.receipts import Use
from reconlab.substitution import substitutes
from reconlab.tables import Substitute, rows

REPLACED = sorted({row.substance for row in rows(Substitute)})
FORMS = ("loose face powder", "dusting powder", "liquid face white", "cold cream")


@pytest.mark.parametrize("substance", REPLACED)
def test_every_substitute_is_a_row_with_its_source(substance: str) -> None:
    found = substitutes(substance).found
    assert [s.row for s in found] == [row for row in rows(Substitute) if row.substance == substance]
    for stand_in in found:
        assert stand_in.reason.sources == stand_in.row.sources
        assert stand_in.row.sources
        assert stand_in.row.did
        assert stand_in.row.lost  # a swap always costs something; the row must say what


@pytest.mark.parametrize("substance", REPLACED)
@pytest.mark.parametrize("form", FORMS)
def test_what_the_law_forbids_for_the_use_comes_last(substance: str, form: str) -> None:
    found = substitutes(substance, Use(form, "EU", "2026-11-01")).found
    forbidden = [any(words.startswith("not allowed") for words in s.law) for s in found]
    assert forbidden == sorted(forbidden)


def test_zinc_oxide_for_lead_is_last_in_a_powder_and_not_in_a_liquid() -> None:
    powder = substitutes("white lead", Use("loose face powder", "EU", "2026-11-01")).found
    assert powder[-1].row.substitute == "zinc_oxide"
    assert "not allowed (EU IV 144)" in powder[-1].law
    liquid = substitutes("white lead", Use("liquid face white", "EU", "2026-11-01")).found
    assert liquid[-1].row.substitute != "zinc_oxide"


@pytest.mark.parametrize("substance", REPLACED)
def test_no_substitute_is_a_poison(substance: str) -> None:
    assert not [s.row.substitute for s in substitutes(substance).found if thing(s.row.substitute).never_handled]


def test_a_poison_in_a_table_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    row = next(row for row in rows(Substitute) if row.substance == "talc")
    poisoned = dataclasses.replace(row, substitute="white_lead")
    monkeypatch.setattr("reconlab.substitution.rows", lambda _: (poisoned, row))
    assert [s.row for s in substitutes("talc").found] == [row]


def test_those_reported_for_the_form_come_first() -> None:
    found = substitutes("spermaceti", Use("hair oil")).found
    assert found[0].row.substitute == "jojoba_oil"  # the one row for an oil


def test_without_a_use_no_law_is_asked_and_nothing_is_hidden() -> None:
    found = substitutes("white lead").found
    assert found
    assert all(s.law == () for s in found)


# United States Pharmacopeia 30, Rose Water Ointment: cetyl esters wax 125 g; Dispensatory of the United States of
# 1918, Unguentum Aquae Rosae: spermaceti 125 g. So 1 for 1.
def test_cetyl_esters_stand_in_for_spermaceti_weight_for_weight_as_in_usp_30() -> None:
    row = next(s.row for s in substitutes("spermaceti").found if s.row.substitute == "cetyl_esters")
    assert (row.ratio, row.basis) == (1, "mass")


# Formula weights: borax decahydrate 381.37 [CRC Handbook, 1303-96-4], two equivalents of alkali in a mole; sodium
# bicarbonate 84.01. Rows give two figures.
BORAX_ALKALIS = [("sodium_bicarbonate", 2 * 84.01)]


def test_no_caustic_alkali_is_offered_weight_for_weight() -> None:
    # Borax was printed in excess of what the wax can use, harmlessly; so much caustic would stay free and burn.
    offered = {s.row.substitute for s in substitutes("borax").found}
    assert not offered & {"sodium_hydroxide", "sodium_carbonate"}


@pytest.mark.parametrize(("alkali", "grams"), BORAX_ALKALIS)
def test_alkalis_for_borax_are_worked_from_formula_weights(alkali: str, grams: float) -> None:
    row = next(
        s.row for s in substitutes("borax").found if s.row.substitute == alkali and s.row.did.startswith("alkali")
    )
    assert row.ratio == pytest.approx(grams / 381.37, abs=0.005)


@pytest.mark.parametrize(
    ("substance", "substitute", "says"),
    [
        ("spermaceti", "cetyl_alcohol", "0.65 (0.5 to 0.8) for 1, by mass"),
        ("spermaceti", "jojoba_oil", "no ratio in the source (by mass)"),
        ("tragacanth", "acacia_gum", "6 to 32 for 1, by mass"),
        ("talc", "kaolin", "1 for 1, by mass"),
    ],
)
def test_a_ratio_is_said_as_wide_as_its_source(substance: str, substitute: str, says: str) -> None:
    assert next(s.ratio for s in substitutes(substance).found if s.row.substitute == substitute) == says


def test_nothing_documented_is_said_and_is_not_the_same_as_none() -> None:
    assert "not looked up, which does not mean there is none" in str(substitutes("water"))


@pytest.mark.parametrize(
    ("words", "fault"), [("moon dust", UnknownNameError), ("", UnknownNameError), (" ", UnknownNameError)]
)
def test_an_unknown_substance_is_an_error_that_helps(words: str, fault: type[Exception]) -> None:
    with pytest.raises(fault) as caught:
        substitutes(words)
    assert "INCI" in str(caught.value)


def test_a_name_of_several_substances_is_an_error_that_lists_them() -> None:
    with pytest.raises(AmbiguousError, match=r"maize starch.*wheat starch"):
        substitutes("starch")


def test_a_law_nobody_knows_is_not_passed_over() -> None:
    with pytest.raises(InputError, match="EU, GB, US, CA"):
        substitutes("talc", Use("cold cream", "FR"))
