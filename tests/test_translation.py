"""From a receipt and the decisions about it to grams: what is settled closes, what is open stays open."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import reconlab as rl
from reconlab.errors import InputError
from reconlab.formula import Formula
from reconlab.materia import bulk_density
from reconlab.reasons import Decision
from reconlab.receipts import Receipt
from reconlab.tables import Preparation, by_id
from reconlab.translation import _lookup

ENGLAND = {"years": "1890", "place": "England", "book": "trade"}
OUNCE, POUND, FLUID_OUNCE = 28.349523125, 453.59237, 28.4130625  # g, g, mL: avoirdupois and imperial
TROY_OUNCE, TROY_POUND = 31.1034768, 373.2417216  # g

POWDER = """Starch, 1 lb.
Orris root, 2 oz.
Pearl white, 1 oz.
Oil of bergamot, 20 drops"""


def settle(question: str, option: str = "", *, figure: float | None = None, at: str = "") -> Decision:
    return Decision(question=question, option=option, figure=figure, at=at, because="as the test says")


def made(page: str, *decisions: Decision, **setting: str) -> Formula:
    return rl.translate(rl.read(page, **(setting or ENGLAND)), decisions)


def ids(formula: Formula) -> list[str]:
    return [question.id for question in formula.ways.questions]


# Settling


def test_a_name_settled_in_its_printed_words_is_settled_though_the_tables_know_it_by_others() -> None:
    # the tables find "spirit" in it; what the shop's own label says goes before
    for page in ("Spirit of the shop, 2 oz.", "Spirit of the shop (60 o.p.), 2 oz."):
        called = made(page, settle("name: spirit of the shop", "glycerin"))
        assert list(called.substances) == ["glycerin"]
    both = made("Spirit of the shop, 2 oz.\nSpirit, 2 oz.", settle("name: spirit of the shop", "glycerin"))
    assert {"glycerin", "ethanol"} <= set(both.substances)  # the other line is asked about for itself
    on_file = made("Spirit of the shop, 2 oz.", settle("name: spirit", "glycerin"))
    assert list(on_file.substances) == ["glycerin"]  # the name on file does for it too


def test_settling_closes_a_question_and_what_it_opened() -> None:
    formula = made(
        POWDER,
        settle("name: pearl white", "zinc oxide"),
        settle("weights", "avoirdupois"),
        settle("name: starch", "wheat starch"),
    )
    assert "white_lead" not in formula.possible()
    share = formula.share("zinc oxide")
    assert share.high - share.low < 0.02  # only the drops are left open
    assert [question.id for question in formula.open_questions()] == ["drop: bergamot oil"]


def test_a_persons_own_answer_is_added_and_never_dropped() -> None:
    formula = made(POWDER, settle("name: pearl white", "titanium dioxide"))  # on nobody's list
    assert formula.mass("titanium dioxide").number == pytest.approx(OUNCE, rel=1e-12)
    assert "own answer: as the test says" in str(formula.reason("titanium_dioxide"))
    hers = made(POWDER, settle("name: pearl white", "moonstone"))  # in no table at all: kept as her own word
    assert hers.mass("own word: moonstone").number == pytest.approx(OUNCE, rel=1e-12)


def test_a_name_nobody_knows_can_be_called_by_a_modern_name() -> None:
    before = made("Flowers of Jupiter, 1 oz.")
    assert list(before.possible()) == ["not identified: flowers of jupiter"]
    after = made("Flowers of Jupiter, 1 oz.", settle("name: flowers of jupiter", "zinc oxide"))
    assert list(after.possible()) == ["zinc_oxide"]


@pytest.mark.parametrize(
    ("answer", "ounce"), [("troy", TROY_OUNCE), ("apothecaries", TROY_OUNCE), ("Avoirdupois", OUNCE)]
)
def test_weights_are_settled_by_key_or_in_words(answer: str, ounce: float) -> None:
    assert made(POWDER, settle("weights", answer)).mass("orris_root").number == pytest.approx(2 * ounce, rel=1e-12)


def test_a_custom_of_elsewhere_is_an_answer_where_a_person_says_so() -> None:
    # Dublin 1850: a drachm of 54.6875 grains = 3.543690390625 g, in a London book that says it follows Dublin
    formula = made("Starch, 2 drachms\nTalc, 1 oz.", settle("weights", "Dublin 1850"))
    assert formula.mass("talc").number == pytest.approx(OUNCE, rel=1e-12)
    assert formula.line_amount[0, 0] == pytest.approx(2 * 3.543690390625, rel=1e-12)


def test_an_answer_that_is_no_custom_is_refused_with_the_answers_that_are() -> None:
    with pytest.raises(InputError) as refused:
        made(POWDER, settle("weights", "stones"))
    assert refused.value.where == "weights"
    assert "troy" in refused.value.remedy


def test_liquids_may_be_settled_by_measure_for_everything() -> None:
    formula = made("Talc, 1 oz.", settle("liquids", "by measure"))
    assert formula.mass("talc").number == pytest.approx(FLUID_OUNCE * bulk_density("talc").number, rel=1e-12)


def test_a_figure_of_her_own_takes_the_place_of_the_spread() -> None:
    own = made(POWDER, settle("drop: bergamot oil", figure=0.031))
    assert own.mass("bergamot oil").number == pytest.approx(20 * 0.031, rel=1e-12)
    assert own.mass("bergamot oil").high == own.mass("bergamot oil").low
    assert "drop: bergamot oil" not in [question.id for question in own.open_questions()]


@pytest.mark.parametrize("figure", [0.0, -0.03, float("nan"), float("inf")])
def test_a_figure_that_is_none_is_refused(figure: float) -> None:
    with pytest.raises(InputError, match="is no figure for"):
        made(POWDER, settle("drop: bergamot oil", figure=figure))


def test_words_of_a_line_split_that_line_off() -> None:
    formula = made(POWDER, settle("weights", "troy", at="Orris root"))
    assert formula.mass("orris_root").number == pytest.approx(2 * TROY_OUNCE, rel=1e-12)
    assert formula.mass("bismuth_subnitrate").number == pytest.approx(OUNCE, rel=1e-12)
    assert formula.mass("orris_root").low == formula.mass("orris_root").high  # the other lines are still open
    assert {"weights", "weights @ orris root"} <= set(ids(formula))
    white = made(
        "Pearl white, 1 oz.\nPearl white, the best, 2 oz.", settle("name: pearl white", "zinc oxide", at="the best")
    )
    assert white.mass("zinc oxide").number == pytest.approx(2 * OUNCE, rel=1e-12)
    assert white.mass("bismuth_subnitrate").number == pytest.approx(OUNCE, rel=1e-12)


def test_the_last_decision_about_a_question_wins() -> None:
    formula = made(POWDER, settle("weights", "troy"), settle("weights", "avoirdupois"))
    assert formula.mass("orris_root").number == pytest.approx(2 * OUNCE, rel=1e-12)


def test_deciding_what_already_holds_changes_no_figure_as_chosen() -> None:
    plain = made(POWDER)
    settled = made(POWDER, *(settle(q.id, q.options[0].key) for q in plain.ways.questions))
    np.testing.assert_allclose(settled.line_amount[:, 0], plain.line_amount[:, 0], rtol=1e-12)
    assert [s.id for s in settled.open_questions()] == ["drop: bergamot oil"]


# A further question


@pytest.mark.parametrize(
    "line", ["Pearl white, 1 oz.", "Oil of lemon, 5 drops", "Rose water, 1 pint", "Tincture of benzoin, 1 oz."]
)
def test_a_further_line_with_its_questions_leaves_the_other_draws_alone_bit_for_bit(line: str) -> None:
    narrow, wide = made("Starch, 1 lb.\nOrris root, 2 oz."), made(f"Starch, 1 lb.\nOrris root, 2 oz.\n{line}")
    assert np.array_equal(narrow.line_amount[:, -2_000:], wide.line_amount[:2, -2_000:])


def test_a_question_is_one_on_all_lines_and_has_no_line_number() -> None:
    formula = made("Pearl white, 1 oz.\nStarch, 1 oz.\nPearl white, 2 oz.")
    assert ids(formula).count("name: pearl white") == 1
    assert not any(character.isdigit() for question in ids(formula) for character in question)


# Units and readings


def test_liquids_are_measured_and_solids_weighed() -> None:
    # 2 x 28.4130625 mL x 1.260 g/mL = 71.6009175 g; 2 x 28.349523125 g
    formula = made("Glycerin, 2 oz.\nTalc, 2 oz.")
    assert formula.line_amount[:, 0] == pytest.approx([71.6009175, 2 * OUNCE], rel=1e-12)
    by_weight = made("Glycerin, 2 oz.\nTalc, 2 oz.", settle("liquids", "by weight"))
    assert by_weight.line_amount[:, 0] == pytest.approx([2 * OUNCE, 2 * OUNCE], rel=1e-12)


def test_ounces_beside_a_pound_are_weighed_like_it_also_of_a_liquid() -> None:
    assert made("Glycerin, 1 lb. 4 oz.").mass("glycerin").number == pytest.approx(POUND + 4 * OUNCE, rel=1e-12)
    troy = made("Glycerin, 1 lb. 4 oz.", settle("weights", "troy")).mass("glycerin").number
    assert troy == pytest.approx(TROY_POUND + 4 * TROY_OUNCE, rel=1e-12)


@pytest.mark.parametrize(("line", "printed", "other"), [("Starch, 112 oz.", 112, 1.5), ("Starch, 21/2 oz.", 2.5, 10.5)])
def test_a_doubtful_figure_is_a_question_whose_answers_are_whole_readings(
    line: str, printed: float, other: float
) -> None:
    formula = made(f"{line}\nTalc, 1 oz.")
    question = next(q for q in formula.ways.questions if q.key.startswith("reading: "))
    assert formula.line_amount[0, 0] == pytest.approx(printed * OUNCE, rel=1e-12)
    settled = made(f"{line}\nTalc, 1 oz.", settle(question.id, question.options[1].key))
    assert settled.line_amount[0, 0] == pytest.approx(other * OUNCE, rel=1e-12)
    assert any("check the reading" in note for note in formula.notes)


def test_a_printed_range_is_drawn_between_its_ends() -> None:
    mass = made("Oil of bergamot, ten to thirty drops\nTalc, 1 oz.", settle("drop: bergamot oil", figure=0.03)).mass(
        "bergamot oil"
    )
    assert (mass.number, mass.low, mass.high) == (pytest.approx(0.6), pytest.approx(0.3), pytest.approx(0.9))


def test_a_figure_for_a_printed_range_is_in_the_unit_printed() -> None:
    page, drop = "Oil of bergamot, 10 to 20 drops\nTalc, 1 oz.", settle("drop: bergamot oil", figure=0.03)
    own = made(page, drop, settle("amount: 10 to 20 drops Oil of bergamot", figure=12))
    assert own.mass("bergamot oil").number == pytest.approx(12 * 0.03)  # twelve drops
    assert any(other.words == "10 drop" for other in made(page, drop).ways.others)


def test_a_range_in_a_compound_amount_moves_its_own_part_alone() -> None:
    formula = made("Starch, 1 lb. 2 to 4 oz.", settle("weights", "avoirdupois"))
    amounts = formula.line_amount[0]
    assert (amounts.min(), amounts[0], amounts.max()) == pytest.approx(
        (POUND + 2 * OUNCE, POUND + 3 * OUNCE, POUND + 4 * OUNCE), rel=1e-12
    )


def test_parts_beside_weights_are_named_and_not_weighed() -> None:
    formula = made("Starch, 3 parts\nTalc, 1 oz.")
    assert formula.unit == "g"
    assert [(item.name, item.why) for item in formula.unweighed] == [
        ("Starch", "3 parts: parts cannot be set beside weights")
    ]


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ("Talc, 3", "no unit printed with '3'"),
        ("Talc, 1/0 oz.", "no figure in '1/0 oz.'"),
        ("Talc, 3 handfuls", "no size of a handful of it on file"),
        ("Talc, 20 drops", "no drop of it is on file"),
        ("Talc, q.s.", "as much as is needed (q.s.)"),
        ("Talc, 3 minims", "3 minims: a minim measures liquids, and Talc is a solid"),
    ],
)
def test_what_cannot_be_weighed_says_why(line: str, why: str) -> None:
    assert [item.why for item in made(f"{line}\nStarch, 1 oz.").unweighed] == [why]


def test_an_author_who_weighs_everything_is_not_asked_of_a_thing_nobody_knows_whether_it_was_measured() -> None:
    asked = ids(made("Moon dust, 3 oz.\nStarch, 1 oz."))
    assert any(key.startswith("solid or fluid") for key in asked)
    weighed = made("Moon dust, 3 oz.\nStarch, 1 oz.", **ENGLAND, rule="everything by weight")
    assert not any(key.startswith("solid or fluid") for key in ids(weighed))
    assert weighed.line_amount[0, 0] == pytest.approx(3 * weighed.line_amount[1, 0])


def test_without_year_or_place_every_answer_is_shown_and_none_is_chosen() -> None:
    formula = rl.translate(rl.read("Talc, 1 lb."))
    assert [question.chosen for question in formula.ways.questions if question.key == "weights"] == [None]
    assert "Nothing on file prefers an answer" in str(formula)
    assert formula.mass("talc").low == pytest.approx(TROY_POUND)
    assert formula.mass("talc").high == pytest.approx(POUND)


LINES = ["Starch, 3 oz.", "Pearl white, ʒij", "Rose water, ad ℥viij", "Carmine, q.s.", "Sea foam, 2 parts"]
LINES += ["Glycerin, 112 oz.", "Tincture of benzoin, 20 drops", "Alcohol, 1 pint", "Talc 5"]
SETTINGS = [{}, ENGLAND, {"years": "1850-1864", "place": "Dublin"}, {"years": "1892", "place": "US"}]


@given(st.lists(st.sampled_from(LINES), min_size=1, max_size=5), st.sampled_from(SETTINGS))
@settings(deadline=None, max_examples=40)
def test_any_receipt_gives_finite_amounts_and_shares_of_a_hundred_or_nothing(
    lines: list[str], setting: dict[str, str]
) -> None:
    formula = rl.translate(rl.read("\n".join(lines), title="any", **setting))
    assert np.isfinite(formula.amount).all()
    assert (formula.amount >= 0).all()
    whole = formula.percent_w_w.sum(axis=0)
    assert np.isclose(whole, 100).sum() + np.isclose(whole, 0).sum() == len(formula.ways)
    assert set(formula.possible()) == set(formula.substances)


# Preparations


TINCTURE = "Tincture of benzoin, 1 oz.\nTalc, 1 oz."


def test_a_preparation_is_a_receipt_of_another_book_and_is_taken_apart() -> None:
    formula = made(TINCTURE, years="1898", place="London", book="household")
    paths = {part.path for part in formula.parts if part.substance == "ethanol"}
    assert all(path[0].startswith("tincture_of_benzoin") and len(path) == 2 for path in paths)
    rows = [row for part, row in zip(formula.parts, formula.amount, strict=True) if part.item == formula.lines[0].item]
    assert np.sum(rows, axis=0) == pytest.approx(formula.line_amount[0], rel=1e-12)


def test_questions_of_a_preparations_own_book_are_kept_apart_by_book() -> None:
    formula = made(TINCTURE, years="1898", place="London", book="household")
    assert {"weights", "weights (tincture_of_benzoin_askinson_1892)"} <= set(ids(formula))
    troy = made(TINCTURE, settle("weights", "troy"), years="1898", place="London", book="household")
    inner = next(q for q in troy.ways.questions if q.id == "weights (tincture_of_benzoin_askinson_1892)")
    assert inner.settled is None
    assert inner.only_if[0][0] == "name: tincture of benzoin"


def test_questions_inside_a_preparation_that_is_not_chosen_are_not_put_to_a_person() -> None:
    formula = made(TINCTURE, years="1898", place="London", book="household")
    assert not any("askinson" in question.id for question in formula.open_questions())
    chosen = made(
        TINCTURE, settle("name: tincture of benzoin", "tincture_of_benzoin_askinson_1892"), years="1898", place="London"
    )
    assert any("askinson" in question.id for question in chosen.open_questions())


@pytest.mark.parametrize("key", list(by_id(Preparation)))
def test_every_preparation_on_file_is_read_and_adds_up(key: str) -> None:
    row = by_id(Preparation)[key]
    receipt = _lookup._preparation_receipt(key)
    assert all(not line.unread for line in receipt.lines)
    formula = made(
        "Sea foam, 1 oz.", settle("name: sea foam", row.name), years="1898", place="London", book="household"
    )
    assert not formula.unweighed
    assert formula.amount[:, 0].sum() == pytest.approx(formula.line_amount[0, 0], rel=1e-12)
    assert {part.path[0] for part in formula.parts} == {key}


def test_a_preparation_that_needs_itself_is_refused_with_the_way_round(monkeypatch: pytest.MonkeyPatch) -> None:
    real = _lookup._preparation_receipt

    def around(key: str) -> Receipt:
        if key == "tincture_of_benzoin":
            return rl.read("Tincture of benzoin, 1 oz.\nWater, 1 oz.", years="1895", place="Philadelphia")
        return real(key)

    monkeypatch.setattr(_lookup, "_preparation_receipt", around)
    with pytest.raises(InputError, match="needs itself") as refused:
        made(TINCTURE, years="1898", place="London", book="household")
    assert "tincture_of_benzoin" in refused.value.where
    assert "->" in refused.value.where
    assert "preparation_lines.csv" in refused.value.remedy


# Why


def test_each_line_says_how_its_grams_came_about() -> None:
    said = str(made("Pearl white, ʒij\nGlycerin, 1 oz.").reason("glycerin"))
    for words in (
        "printed: Glycerin, 1 oz.",
        "is 1 fluid ounce",
        "28.4131 mL",
        "density of glycerin: 1.26 g/mL",
        "likely for England, 1890",
    ):
        assert words in said


def test_what_was_not_read_is_a_note() -> None:
    notes = made("Starch, 1 oz. in a bag; Talc, 1 oz.").notes
    assert any("not taken for an ingredient: 'in a bag'" in note for note in notes)
    lost = made("Starch, 1 oz.; Talc, 1 oz. 3 oz.")
    assert any("an amount was not read: '3 oz'" in note for note in lost.notes)
    assert lost.unread == ("3 oz",)


def test_a_reading_of_the_persons_own_replaces_the_printed_figure() -> None:
    receipt = rl.read("Bay rum, 112 oz.\nBorax, 10 gr.", years="1890", place="England")
    own = Decision(question="reading: 112 oz. Bay rum", option="12 oz.", because="the next edition prints 12")
    formula = rl.translate(receipt, [own])
    line = next(line for line in formula.lines if line.item == "1")
    assert "'12 oz.' is 12" in str(line.reason)
    assert not any(question.id == own.question for question in formula.open_questions())


def test_one_unknown_name_printed_in_two_cases_is_one_thing() -> None:
    formula = rl.translate(rl.read("Sea foam, 1 oz.\nStarch, 1 oz.\nsea foam, 2 oz.", years="1890", place="England"))
    assert [key for key in formula.substances if "sea foam" in key.lower()] == ["not identified: sea foam"]


@pytest.mark.parametrize(("sign", "grams"), [("3ij", 7.78), ("3j.", 3.89), ("3iij", 11.66), ("ʒij", 7.78)])
def test_the_readings_of_a_doubtful_sign_are_never_added_up(sign: str, grams: float) -> None:
    receipt = rl.read(f"Zinc oxide, {sign}\nStarch, 4 oz.", years="1880", place="London", book="dispensing")
    formula = rl.translate(receipt)
    assert formula.mass("zinc oxide").number == pytest.approx(grams, abs=0.01)  # two drachms of 60 grains: Royle, p. 6


@given(st.sampled_from(["3", "5", "Z", "f3", "ʒ", "J", "11", "41/", "14 "]), st.sampled_from(["i", "ij", "2", " oz."]))
def test_each_reading_of_a_doubtful_amount_has_an_answer_of_its_own(sign: str, numeral: str) -> None:
    receipt = rl.read(f"Borax, {sign}{numeral}\nLard, 4 oz.", years="1880", place="London", book="dispensing")
    for question in rl.translate(receipt).ways.every_question:
        keys = [option.key for option in getattr(question, "options", ())]
        assert len(keys) == len(set(keys))
