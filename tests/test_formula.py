"""A formula is parts by ways: shares add up, changes hold in every way, nothing that may be there is lost."""

from collections.abc import Iterable

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

import reconlab as rl
from reconlab.errors import AmbiguousError, InputError, UnknownNameError
from reconlab.formula import Formula, Replacement
from reconlab.reasons import Decision
from reconlab.translation import formula_of_shares

ENGLAND = {"years": "1890", "place": "England", "book": "trade"}
OUNCE, POUND, FLUID_OUNCE = 28.349523125, 453.59237, 28.4130625  # g, g, mL: avoirdupois and imperial

POWDER = """Starch, 1 lb.
Orris root, 2 oz.
Pearl white, 1 oz.
Oil of bergamot, 20 drops"""
LOTION = """Borax, 1 oz.
Glycerin, 1 oz.
Rose water, to make 8 oz."""


def made(page: str, decisions: Iterable[Decision] = (), **setting: str) -> Formula:
    return rl.translate(rl.read(page, **(setting or ENGLAND)), decisions)


@pytest.fixture(scope="module")
def powder() -> Formula:
    return made(POWDER)


@pytest.fixture(scope="module")
def lotion() -> Formula:
    return made(LOTION)


def sums_to_a_hundred(formula: Formula) -> bool:
    return formula.percent_w_w.sum(axis=0) == pytest.approx(np.full(len(formula.ways), 100.0), rel=1e-9)


# Shares and amounts


@pytest.mark.parametrize(
    "page", [POWDER, LOTION, "Starch, 3 parts\nTalc, 1 part", "Tincture of benzoin, 1 oz.\nRose water, 5 oz."]
)
def test_shares_add_up_to_a_hundred_in_every_way(page: str) -> None:
    assert sums_to_a_hundred(made(page))


def test_one_custom_holds_on_every_line(powder: Formula) -> None:
    # avoirdupois 453.592 / 56.699 = 8; troy 373.242 / 62.207 = 6: never 453.592 / 62.207
    starch, orris = powder.line_amount[0], powder.line_amount[1]
    assert set(np.round(starch / orris, 9)) == {8.0, 6.0}


def test_as_chosen_is_the_first_answer_of_everything(powder: Formula) -> None:
    # 453.59237 + 2 x 28.349523125 + 28.349523125 + 20 x the drop
    drops = powder.mass("bergamot oil").number
    assert powder.whole.number == pytest.approx(POUND + 3 * OUNCE + drops, rel=1e-12)
    assert powder.share("orris_root").number == pytest.approx(100 * 2 * OUNCE / powder.whole.number, rel=1e-12)


def test_a_chosen_value_lies_in_its_range_and_ranges_repeat(powder: Formula) -> None:
    again = made(POWDER)
    for key in powder.substances:
        share, mass = powder.share(key), powder.mass(key)
        assert share.low <= share.number <= share.high
        assert mass.low <= mass.number <= mass.high
        assert (share.low, share.high) == (again.share(key).low, again.share(key).high)


def test_a_substance_in_two_lines_is_summed_before_its_greatest_share_is_taken() -> None:
    formula = made("Talc, 1 oz.\nFrench chalk, 1 oz.\nZinc oxide, 2 oz.")
    assert formula.possible()["talc"] == pytest.approx(50)
    assert formula.mass("talc").number == pytest.approx(2 * OUNCE, rel=1e-12)


@given(st.integers(1, 40), st.integers(1, 40), st.sampled_from([2, 3, 10, 0.5]))
@settings(deadline=None, max_examples=25)
def test_scaling_every_amount_scales_grams_and_leaves_shares_alone(starch: int, oil: int, factor: float) -> None:
    page = "Starch, {} oz.\nOil of bergamot, {} drops\nRose water, {} fl. oz."
    assume(oil * factor not in (112, 114, 134))  # a fraction run into its whole number: another question
    assume(starch * factor not in (112, 114, 134))
    once = made(page.format(starch, oil, starch))
    more = made(page.format(starch * factor, oil * factor, starch * factor))
    np.testing.assert_allclose(more.line_amount, factor * once.line_amount, rtol=1e-12)
    np.testing.assert_allclose(more.percent_w_w, once.percent_w_w, rtol=1e-9, atol=1e-9)


@given(st.permutations(POWDER.splitlines()))
@settings(deadline=None, max_examples=10)
def test_the_order_of_the_lines_changes_nothing(lines: list[str]) -> None:
    formula, first = made("\n".join(lines)), made(POWDER)
    for key in first.substances:
        assert formula.share(key).number == pytest.approx(first.share(key).number, rel=1e-12)
        assert formula.share(key).high == pytest.approx(first.share(key).high, rel=1e-9)


# What may be there


def test_an_unlikely_poison_is_always_seen(powder: Formula) -> None:
    assert powder.possible()["white_lead"] > 5
    assert "white_lead" not in powder.as_chosen()


@pytest.mark.parametrize(
    ("line", "greatest"),
    [("White lead, 0 oz.", 0.0), ("White lead, q.s.", None), ("White lead, 1/0 oz.", None), ("White lead, 3", None)],
)
def test_a_poison_of_no_amount_or_without_one_counts(line: str, greatest: float | None) -> None:
    formula = made(f"{line}\nStarch, 1 oz.")
    assert formula.possible()["white_lead"] == greatest
    assert "white_lead" in formula.as_chosen()


def test_lines_without_an_amount_head_the_percentages_and_stand_in_the_table() -> None:
    shown = str(made("Starch, 1 oz.\nCarmine, q.s."))
    assert "% w/w of the weighed lines" in shown
    assert "Carmine: as much as is needed (q.s.)" in shown
    assert "not weighed" in shown


def test_a_formula_with_nothing_to_weigh_says_so_and_still_names_what_may_be_there() -> None:
    formula = made("White lead, q.s.\nStarch, q.s.")
    assert "nothing was reckoned" in str(formula)
    assert formula.possible()["white_lead"] is None
    assert formula.whole.number == 0


# To make


def test_to_make_fills_the_rest_by_volume_in_every_way(lotion: Formula) -> None:
    # borax 28.3495 g / 1.73 g/mL + glycerin 28.4131 mL + rose water = 8 x 28.4130625 mL
    volumes = lotion.amount / lotion.density
    rose = next(row for row, part in enumerate(lotion.parts) if part.substance == "rose_water")
    left = 8 * FLUID_OUNCE - OUNCE / lotion.density[0, 0] - FLUID_OUNCE
    assert lotion.amount[rose, 0] == pytest.approx(left * lotion.density[rose, 0], rel=1e-12)
    assert volumes[:, 0].sum() == pytest.approx(8 * FLUID_OUNCE, rel=1e-12)


def test_a_total_that_may_be_by_weight_is_a_weight_in_those_ways(lotion: Formula) -> None:
    # "8 oz." is a measure or a weight, by the same answer as the ounces of glycerin: by weight 8 x 28.3495 g in all
    totals = {"measured": 0, "weighed": 0}
    liquids = next(q for q in lotion.ways.questions if q.key == "liquids")
    weights = next(q for q in lotion.ways.questions if q.key == "weights")
    for way in range(len(lotion.ways)):
        if lotion.ways.holds(liquids, "by weight")[way]:
            ounce = {"avoirdupois": OUNCE, "avoirdupois_throughout": OUNCE, "apothecaries": 31.1034768}
            held = next(o.key for o in weights.options if lotion.ways.holds(weights, o.key)[way])
            assert lotion.amount[:, way].sum() == pytest.approx(8 * ounce[held], rel=1e-12)
            totals["weighed"] += 1
        else:
            volume = (lotion.amount / lotion.density)[:, way].sum()
            assert volume == pytest.approx(8 * FLUID_OUNCE, rel=1e-12) or volume == pytest.approx(8 * 29.5735295625)
            totals["measured"] += 1
        if way > 60:
            break
    assert all(totals.values())


@pytest.mark.parametrize("into", [{"glycerin": 0.5}, {"water": 1.0}, {"honey-less water": 1.0}, {}])
def test_to_make_is_solved_again_after_each_replacement(lotion: Formula, into: dict[str, float]) -> None:
    if "honey-less water" in into:
        with pytest.raises(UnknownNameError):
            lotion.replaced(Replacement(out="2", into=into), "new")
        return
    new = lotion.replaced(Replacement(out="2", into=into), "new")
    assert (new.amount / new.density)[:, 0].sum() == pytest.approx(8 * FLUID_OUNCE, rel=1e-12)
    assert sums_to_a_hundred(new)


def test_a_rest_below_nothing_is_a_note_and_the_line_is_nought() -> None:
    formula = made("Starch, 2 lb.\nTalc, to make 1 lb.")
    assert formula.amount.min() == 0
    assert formula.mass("talc").number == 0
    assert any("nothing is left for Talc" in note for note in formula.notes)
    mended = formula.replaced(Replacement(out="1", into={"zinc oxide": 0.25}), "less")
    assert not any("nothing is left" in note for note in mended.notes)
    assert mended.mass("talc").number == pytest.approx(POUND / 2, rel=1e-12)


# Replacement


@pytest.mark.parametrize("words", ["3", "Pearl white", "PEARL WHITE", "Pearl white, 1 oz.", "bismuth subnitrate"])
def test_a_line_is_picked_by_number_words_or_modern_name(powder: Formula, words: str) -> None:
    assert powder.find_line(words).item == "3"


def test_a_replacement_takes_out_the_whole_line_in_every_way(powder: Formula) -> None:
    new = powder.replaced(Replacement(out="bismuth subnitrate", into={"zinc oxide": 1.0}, because="poison"), "safe")
    assert not {"bismuth_subnitrate", "bismuth_oxychloride", "white_lead"} & set(new.substances)
    np.testing.assert_allclose(new.amount[-1], powder.line_amount[2], rtol=1e-12)
    np.testing.assert_allclose(new.line_amount, powder.line_amount, rtol=1e-12)
    assert (new.name, new.parent, len(new.changes)) == ("safe", "literal", 1)
    assert "white_lead" in powder.substances  # the old version is as it was
    assert "poison" in str(new.reason("zinc_oxide"))


def test_a_line_may_be_left_out(powder: Formula) -> None:
    new = powder.replaced(Replacement(out="3", into={}), "without")
    assert [line.item for line in new.lines] == ["1", "2", "4"]
    assert sums_to_a_hundred(new)


def test_two_things_may_stand_in_for_one(powder: Formula) -> None:
    new = powder.replaced(Replacement(out="3", into={"zinc oxide": 0.25, "talc": 0.75}), "both")
    assert new.mass("talc").number == pytest.approx(0.75 * OUNCE, rel=1e-12)
    assert new.mass("zinc_oxide").number == pytest.approx(0.25 * OUNCE, rel=1e-12)


def test_by_volume_a_millilitre_stands_for_a_millilitre() -> None:
    formula = made("Glycerin, 1 fl. oz.\nTalc, 1 oz.")
    new = formula.replaced(Replacement(out="glycerin", into={"water": 2.0}, basis="volume"), "thin")
    # 2 x 28.4130625 mL x 0.997 g/mL, in each way two parts of water for one of glycerin
    np.testing.assert_allclose(new.amount[-1] / new.density[-1], 2 * formula.amount[0] / formula.density[0], rtol=1e-12)
    assert new.mass("water").number == pytest.approx(2 * FLUID_OUNCE * new.density[-1, 0], rel=1e-12)


def test_changes_one_after_the_other_keep_their_history(powder: Formula) -> None:
    first = powder.replaced(Replacement(out="3", into={"zinc oxide": 1.0}), "one")
    second = first.replaced(Replacement(out="1", into={"talc": 1.0}), "two")
    assert (second.parent, [change.out for change in second.changes]) == ("one", ["3", "1"])
    other = powder.replaced(Replacement(out="1", into={"talc": 1.0}), "a").replaced(
        Replacement(out="3", into={"zinc oxide": 1.0}), "b"
    )
    assert {key: second.share(key).number for key in second.substances} == pytest.approx(
        {key: other.share(key).number for key in other.substances}, rel=1e-12
    )


@pytest.mark.parametrize("words", ["talc", "Talc"])
@pytest.mark.parametrize("page", ["Talc, 1 oz.\nTalc, powdered, 1 oz.", "Talc, 1 oz.\nFrench chalk, 1 oz."])
def test_two_matches_are_an_error_that_lists_them(page: str, words: str) -> None:
    formula = made(page)
    with pytest.raises(AmbiguousError) as refused:
        formula.replaced(Replacement(out=words, into={"kaolin": 1.0}), "new")
    for line in page.splitlines():
        assert repr(line) in refused.value.found
    assert refused.value.remedy == "Use the number of the line."


@pytest.mark.parametrize("words", ["moon", "", " ", "12"])
def test_no_match_is_an_error_that_lists_the_lines(powder: Formula, words: str) -> None:
    with pytest.raises(UnknownNameError) as refused:
        powder.find_line(words)
    assert "1 Starch; 2 Orris root; 3 Pearl white" in refused.value.remedy


@pytest.mark.parametrize(
    "change",
    [
        Replacement(out="3", into={"talc": 1.0}, basis="moles"),
        Replacement(out="3", into={"talc": 0.0}),
        Replacement(out="3", into={"talc": -1.0}),
        Replacement(out="3", into={"talc": float("nan")}),
        Replacement(out="3", into={"talc": float("inf")}),
    ],
)
def test_a_replacement_that_cannot_be_is_refused(powder: Formula, change: Replacement) -> None:
    with pytest.raises(InputError) as refused:
        powder.replaced(change, "new")
    assert refused.value.remedy


def test_a_line_without_an_amount_is_taken_out_and_stays_out() -> None:
    formula = made("Starch, 1 oz.\nWhite lead, q.s.")
    assert "white_lead" not in formula.replaced(Replacement(out="2", into={}), "new").substances


def test_what_replaces_a_line_without_an_amount_is_still_named() -> None:
    formula = made("Starch, 1 oz.\nCarmine, q.s.")
    new = formula.replaced(Replacement(out="carmine", into={"red iron oxide": 1.0}), "new")
    assert new.possible()["red_iron_oxide"] is None


# Parts, shares as given, and the card


def test_parts_are_a_formula_without_grams() -> None:
    formula = made("Starch, 3 parts\nTalc, 1 part")
    assert formula.unit == "part"
    assert formula.share("talc").number == 25
    assert "grams" not in str(formula)


def test_a_modern_formula_is_read_from_names_and_shares() -> None:
    formula = formula_of_shares("cream", [("borax", "1"), ("water", "98,5"), ("sea foam", "0.5")])
    assert formula.share("water").number == pytest.approx(98.5)
    assert formula.possible()["not identified: sea foam"] == pytest.approx(0.5)


@pytest.mark.parametrize("share", ["-1", "101", "much", "", "nan", "1e3"])
def test_a_share_that_is_none_is_refused_with_its_row(share: str) -> None:
    with pytest.raises(InputError, match=r"cream, row 2 \(water\)"):
        formula_of_shares("cream", [("borax", "1"), ("water", share)])


def test_the_question_that_matters_most_comes_first_and_unlikely_answers_last() -> None:
    swings = made("Starch, 1 lb.\nZinc oxide, 1 oz.").swings()
    standings = ["unlikely" if swing.standing == "unlikely" else "other" for swing in swings]
    assert standings == sorted(standings)
    sizes = [swing.size for swing in swings if swing.standing != "unlikely"]
    assert sizes == sorted(sizes, reverse=True)


def test_a_table_says_why_its_shares_come_to_more_than_the_whole() -> None:
    doubtful = rl.translate(rl.read("Cassia, 1 oz.\nOil of lemon, 20 oz.", **ENGLAND))
    assert doubtful.beyond_the_whole()[0] in doubtful.card().last
    assert not rl.translate(rl.read("Borax, 1 oz.\nLard, 2 oz.", **ENGLAND)).beyond_the_whole()
