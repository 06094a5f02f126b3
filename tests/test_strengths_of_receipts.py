"""Strengths from the page to grams: what is read, what it may have meant, how spirit and water shrink."""

import json
from collections.abc import Callable, Iterable

import numpy as np
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

import reconlab as rl
from reconlab.cli import shell
from reconlab.errors import InputError
from reconlab.formula import Formula
from reconlab.reasons import Decision
from reconlab.receipts import Setting
from reconlab.spirit import (
    SIXTY_F,
    by_weight,
    content_density,
    filled_up,
    flash_point,
    lost_on_mixing,
    mix,
    percents_from_gravity,
    solution_gravity,
    solution_question,
    spirit_density,
    strength_of,
    strength_readings,
    water_by_volume,
)

ENGLAND = {"years": "1911", "place": "England", "book": "dispensing"}


def made(text: str, *decisions: Decision, **setting: str) -> Formula:
    return rl.translate(rl.read(text, **(setting or ENGLAND)), decisions)


def settled(question: str, option: str) -> Decision:
    return Decision(question=question, option=option, because="for the test")


# ---- reading ------------------------------------------------------------------------------------------------

# As printed by Piesse 1857, Henley 1914, Spon 1894, Bogardus 1907 and the Ladies' book of 1860, or after their manner.
LINES = [
    ("Alcohol (60 o.p.),\n8 oz.", "Alcohol", "60 o.p.", 8, "ounce"),
    ("60 over proof spirit, 1 gallon", "spirit", "60 over proof", 1, "gallon"),
    ("5 pints spirit 58 o.p.", "spirit", "58 o.p.", 5, "pint"),
    ("2 pints rectified spirit (sp. gr. .837)", "rectified spirit", "sp. gr. .837", 2, "pint"),
    ("Spirit (brandy 60 o.p.), 1 gallon.", "Spirit brandy", "60 o.p.", 1, "gallon"),
    ("Alcohol, 90 per cent.......5,000 parts", "Alcohol", "90 per cent", 5000, "part"),
    ("Alcohol, 90 per cent. by volume, 10 oz.", "Alcohol", "90 per cent. by volume", 10, "ounce"),
    ("1 pint spirit of wine of 36\N{DEGREE SIGN}", "spirit of wine", "36\N{DEGREE SIGN}", 1, "pint"),
    ("Trois-six 36 degrees Cartier, 2 litres", "Trois-six", "36 degrees Cartier", 2, "liter"),
    ("188 proof alcohol, 1 gallon", "alcohol", "188 proof", 1, "gallon"),
    ("15 gal. spirit 40 above proof", "spirit", "40 above proof", 15, "gallon"),
    ("26 gal. sugar syrup 25\N{DEGREE SIGN} Baumé", "sugar syrup", "25\N{DEGREE SIGN} Baumé", 26, "gallon"),
    ("Strongest ammonia .880, 2 drs.", "Strongest ammonia", ".880", 2, "drachm"),
    ("Liq. ammon. fort. .880 .... 1 oz.", "Liq. ammon. fort", ".880", 1, "ounce"),
    ("Muriatic acid 1.16, 1 oz.", "Muriatic acid", "1.16", 1, "ounce"),
    ("1 quart of 95 alcohol", "alcohol", "95", 1, "quart"),
    ("Water at 60\N{DEGREE SIGN} F., 1 pint", "Water at 60\N{DEGREE SIGN} F.", "", 1, "pint"),
    ("1 pint proof spirit", "proof spirit", "", 1, "pint"),
    ("Starch 1.25 oz.", "Starch", "", 1.25, "ounce"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "name", "strength", "amount", "unit"), LINES, ids=[line[0][:30] for line in LINES])
def test_a_strength_is_read_apart_from_name_and_amount(
    text: str, name: str, strength: str, amount: float, unit: str
) -> None:
    (item,) = rl.read(text).items
    (part,) = item.quantities[0].parts
    assert (item.name, item.strength, part.amount.value, part.unit) == (name, strength, amount, unit)


def test_a_number_before_proof_spirit_is_its_amount() -> None:
    (item,) = rl.read("15 proof spirit").items
    assert (item.name, item.strength, item.quantities[0].parts[0].amount.value) == ("proof spirit", "", 15)


def test_a_per_cent_alone_is_an_amount() -> None:
    (item,) = rl.read("Starch 10 per cent").items
    assert (item.strength, item.quantities[0].parts[0].unit) == ("", "percent")


# ---- what it meant ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "setting", "expected"),
    [
        ("60 o.p.", Setting("1880", "England"), {"uk_over_proof": "likely", "us_over_proof": "unlikely"}),
        ("60 o.p.", Setting(), {"uk_over_proof": "possible", "us_over_proof": "possible"}),
        ("95 per cent.", Setting("1890", "England"), {"by_volume": "likely", "by_weight": "possible"}),
        ("95 per cent.", Setting("1911", "England", "dispensing"), {"by_volume": "likely"}),
        ("95 per cent. by weight", Setting("1890", "England"), {"by_weight": "likely"}),
        (
            "90 per cent proof",
            Setting("1907", "Boston"),
            {"by_volume": "possible", "us_proof": "possible", "uk_proof": "unlikely"},
        ),
        (".838", Setting("1880", "England"), {"gravity 15.6 C": "likely"}),
    ],
)
def test_what_is_ambiguous_is_a_question(text: str, setting: Setting, expected: dict[str, str]) -> None:
    found = {each.id: each.standing for each in strength_readings(text, setting)}
    assert found == expected


def test_bare_degrees_are_every_scale_they_fit() -> None:
    found = {each.id: each for each in strength_readings("90\N{DEGREE SIGN}", Setting("1880", "England"))}
    assert {"gay_lussac", "us_proof", "uk_proof", "richter"} <= set(found)  # Tralles is one with Gay-Lussac
    assert {each.standing for each in found.values()} == {"possible"}
    assert "cartier" not in found
    assert next(iter(strength_readings("36\N{DEGREE SIGN}", Setting()))).id == "cartier"


def test_each_answer_gives_its_strength_again() -> None:
    question = made("Alcohol, 95 per cent, 1 pint", years="1895", place="New York").ways.questions[0]
    by_volume, weighed = (strength_of(option.key) for option in question.options)
    assert by_volume is not None
    assert weighed is not None
    assert by_volume.number == pytest.approx(by_weight(95, SIXTY_F))
    assert weighed.number == 95


# ---- grams --------------------------------------------------------------------------------------------------


def test_alcohol_of_the_bp_of_1898_is_90_per_cent_by_volume() -> None:
    # British Pharmaceutical Codex 1911, Alcohol (90 per cent.): 85.65 by weight, sp. gr. 0.834; the imperial fluid
    # ounce is 28.4131 mL
    for name in ("Rectified spirit", "Spt. vini rect.", "S.V.R."):
        formula = made(f"{name}, 10 fl. oz.")
        assert formula.share("ethanol").number == pytest.approx(85.65, abs=0.05)
        assert formula.whole.number == pytest.approx(284.131 * 0.834, rel=1e-5)


def test_a_printed_strength_goes_before_the_name() -> None:
    # Britannica, Proof Spirit: proof is 57.10 by volume, so 60 over proof is 91.36
    formula = made("Rectified spirit (60 o.p.), 1 pint", years="1880", place="England")
    assert formula.share("ethanol").number == pytest.approx(by_weight(91.36, SIXTY_F), abs=0.01)
    assert not any("strength is printed" in note for note in formula.notes)


def test_what_a_person_called_the_thing_goes_before_a_printed_strength() -> None:
    text = "Spirit of the moon, 60 o.p., 1 pint"
    assert "ethanol" in made(text, years="1880", place="England").substances
    called = made(text, settled("name: spirit of the moon", "methanol of the moon"), years="1880", place="England")
    assert [key for key in called.substances if key.startswith("own word")]
    proof = made(
        "Alcohol (60 o.p.), 1 pint", settled("name: alcohol", "alcohol_usp_1890"), years="1880", place="England"
    )
    assert proof.share("ethanol").number == pytest.approx(by_weight(91.36, SIXTY_F), abs=0.01)


def test_no_strength_hides_a_poison() -> None:
    for line in ("White lead, 60 o.p., 1 oz.", "Spirit of corrosive sublimate, 60 o.p., 1 oz."):
        formula = made(line, years="1880", place="England")
        stopped = rl.screen(formula, rl.Use("toilet water")).stops
        assert stopped, line


def test_a_strength_of_what_has_no_table_is_said_and_not_reckoned() -> None:
    notes = made("Sugar syrup 25\N{DEGREE SIGN} Baumé, 1 pint\nBorax, 1 oz.").notes
    assert any("a strength is printed and not reckoned with" in note for note in notes)


def test_a_persons_own_strength_is_taken_by_its_words() -> None:
    own = made("Alcohol, 10 oz.", settled("name: alcohol", "92 per cent by volume"))
    assert own.share("ethanol").number == pytest.approx(by_weight(92, SIXTY_F), abs=1e-6)
    ammonia = made("Ammonia, 10 oz.", settled("name: ammonia", "30 per cent"))
    assert ammonia.share("ammonia").number == pytest.approx(30)
    white = made("Flake white, 10 oz.", settled("name: flake white", "92 per cent by volume"))
    assert "ethanol" not in white.substances
    known = made("Alcohol, 10 oz.", settled("name: alcohol", "alcohol_usp_1890"))  # as records on disk have it
    assert known.share("ethanol").number == pytest.approx(91)


def test_a_name_with_a_range_of_strength_is_open_in_it() -> None:
    formula = made("Brandy, 1 pint", years="1895", place="New York")
    share = formula.share("ethanol")
    assert share.low < 40
    assert share.high > 46
    assert any("brandy of the U.S. Pharmacopoeia" in spread.asks for spread in formula.ways.spreads)


# ---- shrinking ----------------------------------------------------------------------------------------------

# Culbreth, Alcohol Dilutum: equal measures of alcohol (94.9) and water come to 97 in 100. Codex of 1911, Alcohol
# (45 per cent.): 50 of alcohol (90 per cent.) and 52.66 of water make 100.


def test_equal_measures_come_to_97_in_100() -> None:
    formula = made("Alcohol, 94.9 per cent. by volume, 50 mL\nWater, 50 mL", years="1910", place="New York")
    assert formula.volume_ml[0] == pytest.approx(97, abs=0.5)


def test_filling_up_takes_more_water_than_the_gap() -> None:
    formula = made("Alcohol, 90 per cent., 50 mL\nWater to make 100 mL")
    added = formula.mass("water").number - 0.1432 * 50 * 0.834
    assert added == pytest.approx(52.66, abs=0.35)
    assert formula.volume_ml[0] == pytest.approx(100, abs=1e-6)


@given(st.floats(1, 1000), st.floats(1.01, 50), st.floats(40, 100))
def test_what_fills_up_comes_to_the_measure(spirit_ml: float, times: float, percent: float) -> None:
    strong = by_weight(percent)
    mass = spirit_ml * spirit_density(strong)
    ethanol = np.array([mass * strong / 100])
    others = (np.array([spirit_ml]), ethanol, mass - ethanol)
    specific = 1 / spirit_density(0)
    water = filled_up(np.array([spirit_ml * times]), others, (np.array([specific]), np.zeros(1), np.ones(1)))[0]
    assert mix(spirit_ml, strong, water * specific).volume_ml == pytest.approx(spirit_ml * times, rel=1e-6)
    assert water * specific > spirit_ml * (times - 1) - 2e-3 * spirit_ml * times  # weak spirit grows by a trace


@given(st.lists(st.tuples(st.floats(0, 1e4), st.floats(0, 1e4)), min_size=1, max_size=6))
def test_pure_ethanol_and_water_never_grow_and_a_line_alone_keeps_all(parts: Iterable[tuple[float, float]]) -> None:
    ethanol = np.array([[e] for pair in parts for e in (pair[0], 0.0)])
    water = np.array([[w] for pair in parts for w in (0.0, pair[1])])
    assert lost_on_mixing(ethanol, water)[0] >= -1e-9
    assert lost_on_mixing(ethanol[:1], water[:1])[0] == pytest.approx(0, abs=1e-9)


def test_every_way_comes_to_its_own_measure_and_keeps_its_mass() -> None:
    # an imperial pint is 568.26 mL, a wine pint 473.18
    formula = made("Bergamot oil, 1 dr.\nRectified spirit, 10 fl. oz.\nRose water to make 1 pint", years="1880")
    pints = np.where(np.abs(formula.volume_ml - 568.26) < 1, 568.26, 473.18)
    assert formula.volume_ml == pytest.approx(pints, rel=1e-4)
    assert len(set(pints)) == 2
    assert formula.amount.sum(axis=0) == pytest.approx(formula.line_amount.sum(axis=0))
    assert formula.percent_w_w.sum(axis=0) == pytest.approx(np.full(len(formula.ways), 100.0))


def test_without_spirit_volumes_are_added_as_they_were() -> None:
    formula = made("Glycerin, 1 fl. oz.\nRose water to make 1 pint")
    assert formula.volume_ml[0] == pytest.approx((formula.amount / formula.density).sum(axis=0)[0])


# ---- reducing -----------------------------------------------------------------------------------------------


def test_a_strength_on_every_scale() -> None:
    # Green 1895: 188 American proof is 94 per cent, 65 over proof in England. Littré: 85 centesimal is 33 Cartier.
    chosen = rl.strength("188 proof", years="1895", place="New York").chosen
    assert chosen is not None
    scales = dict(chosen.on_scales())
    assert chosen.percent_v_v == pytest.approx(94, abs=0.01)
    (over_proof,) = (shown for label, shown in scales.items() if "over proof" in label)
    assert float(over_proof.split()[0]) == pytest.approx(65, abs=0.5)
    cartier = dict(rl.strength("85 per cent by volume").meanings[0].on_scales())["degrees Cartier"]
    assert float(cartier) == pytest.approx(33, abs=0.1)
    assert rl.strength("rectified spirit").chosen is None


def test_a_gallon_at_60_over_proof_makes_a_gallon_and_six_tenths_of_proof() -> None:
    # Cooley, vol. I: degrees over proof count the measures of proof spirit that a hundred can be let down to.
    way = rl.dilute("60 o.p.", "proof", "1 gallon", years="1880", place="England").chosen
    assert way is not None
    assert way.made_of_one == pytest.approx(1.6, abs=1e-3)
    assert way.spirit_ml == pytest.approx(4546.09)
    assert way.added_for_one > 0.6
    assert way.lost_ml > 0
    masses = way.spirit_ml * way.strong.density + way.added_g
    assert masses == pytest.approx(way.made_ml * way.weak.density, rel=1e-6)


def test_two_spirits_are_mixed_by_the_masses_of_their_ethanol() -> None:
    way = rl.dilute("90 per cent by volume", "60 per cent by volume", by="40 per cent by volume").chosen
    assert way is not None
    strong = way.spirit_ml * way.strong.density
    ethanol = strong * way.strong.value.number + way.added_g * by_weight(40, SIXTY_F)
    assert ethanol / (strong + way.added_g) == pytest.approx(way.weak.value.number)
    made = mix(way.spirit_ml, way.strong.value.number, way.added_ml, by_weight(40, SIXTY_F), SIXTY_F)
    assert way.made_ml == pytest.approx(made.volume_ml)
    assert made.percent_v_v == pytest.approx(60, abs=1e-6)
    assert rl.dilute("90 per cent by volume", "40 per cent by volume").ways[0].added_ml == pytest.approx(
        water_by_volume(100, 90, 40)
    )


def test_water_only_weakens() -> None:
    with pytest.raises(InputError, match="does not lie between"):
        rl.dilute("proof", "60 o.p.", years="1880", place="England")


def test_the_verb_of_the_shell() -> None:
    asked = ["strength", "60 o.p.", "--year", "1880", "--place", "England"]
    meaning = json.loads(CliRunner().invoke(shell, [*asked, "--json"]).output)["result"]["meanings"][0]
    assert meaning["by_volume"]["value"] == pytest.approx(91.36, abs=0.01)
    assert meaning["standing"] == "likely"
    asked += ["--to", "proof", "--amount", "1 gallon"]
    reduced = json.loads(CliRunner().invoke(shell, [*asked, "--json"]).output)["result"]["ways"][0]
    assert reduced["makes"]["value"] == pytest.approx(1.6 * 4546.09, rel=1e-3)
    assert "water to 1 of spirit: 0.642" in CliRunner().invoke(shell, asked).output


# ---- ammonia and acids --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("substance", "gravity", "percents"),
    [
        # U.S.P. 1890 in a materia medica: 28 per cent 0.901, 10 per cent 0.960; Practical Therapeutics after the B.P.:
        # the weak solution 0.959, 10 per cent; Treatise on Applied Analytical Chemistry, vol. 1: 25 per cent 0.910
        ("ammonia", 0.901, [28]),
        ("ammonia", 0.960, [10]),
        ("ammonia", 0.959, [10]),
        ("ammonia", 0.910, [25]),
        # U.S.P. 1890, Hydrochloric Acid: 31.9 per cent, about 1.163
        ("hydrochloric_acid", 1.163, [31.9]),
        # Mohr in Dick 1872, no. 3897, a line that is not in ours: 96 per cent 1.069; the weaker is between 65 and 75
        ("acetic_acid", 1.069, [67.5, 96.0]),
    ],
)
def test_strength_from_gravity_by_the_tables(substance: str, gravity: float, percents: list[float]) -> None:
    assert percents_from_gravity(substance, gravity) == pytest.approx(percents, abs=0.5)


def test_old_tables_of_ammonia_lie_lower_at_the_strong_end() -> None:
    # Cooley 1880, vol. I, Ammonia: Ure's table, .9564 10.600, .9090 23.850; Griffin's, .89000 30.016, .88125 32.725
    for gravity, percent, lower in (
        (0.9564, 10.6, 0.6),
        (0.9090, 23.85, 1.7),
        (0.89, 30.016, 2.0),
        (0.88125, 32.725, 2.4),
    ):
        assert -0.2 < percents_from_gravity("ammonia", gravity)[0] - percent < lower


@pytest.mark.parametrize(
    "call",
    [
        lambda: percents_from_gravity("ammonia", 0.86),
        lambda: solution_gravity("ammonia", 40),
        lambda: solution_gravity("talc", 1),
        lambda: solution_question("ammonia", "strong"),
    ],
    ids=["too light", "too strong", "no table", "no strength"],
)
def test_outside_a_table_nothing_is_said(call: Callable[[], object]) -> None:
    with pytest.raises(InputError):
        call()


def test_strongest_ammonia_is_more_than_a_third_gas() -> None:
    formula = made("Strongest ammonia .880, 1 fl. oz.", years="1889", place="England")
    assert formula.share("ammonia").number == pytest.approx(35.8)  # Treatise on Applied Analytical Chemistry
    assert formula.whole.number == pytest.approx(28.4131 * 0.88, rel=2e-3)
    named = made("Liquor ammoniae fortior, 1 fl. oz.", years="1889", place="England").share("ammonia")
    assert (named.low, named.number) == pytest.approx((29.7, 32.5))  # the B.P., and what the table says of its gravity
    assert content_density("ammonia_fortior_bp_1885", 31.6) == pytest.approx(0.891, abs=2e-3)


def test_one_gravity_of_acetic_acid_is_two_strengths() -> None:
    (question,) = (q for q in made("Acetic acid, sp. gr. 1.070, 1 oz.").ways.questions if q.key.startswith("strength"))
    assert [option.standing for option in question.options] == ["possible", "possible"]


# ---- fire ---------------------------------------------------------------------------------------------------


def test_flash_point_lies_between_the_two_tables() -> None:
    found = flash_point(40)  # 40 by weight: 26 C in the one, 47.4 by volume: between 24 and 26 C in the other
    assert found.high == pytest.approx(26)
    assert 24 < found.low < 25
    assert flash_point(by_weight(70)).low == pytest.approx(21, abs=0.05)
    with pytest.raises(InputError, match="no flash point"):
        flash_point(2)


def test_the_bench_says_from_how_warm_spirit_burns() -> None:
    formula = made("Rectified spirit, 10 fl. oz.\nRose water, 10 fl. oz.\nBergamot oil, 1 dr.")
    plan = rl.bench(formula, make="50 g", balance="0.01 g", jar="60 mL", use=rl.Use("toilet water"))
    assert not plan.refused
    (flash,) = (caution for caution in plan.cautions if caution.id == "flash")
    assert "from about 25 to 26 degrees Celsius" in flash.words
    assert {"ethanol_water_flash_by_weight", "dchas_2015_flash_by_volume"} == {source.key for source in flash.sources}
    assert {"ethanol_air", "ethanol_duty", "ethanol_fire"} <= {caution.id for caution in plan.cautions}
    assert plan.container is not None
    assert "shrink" in plan.container.fills.reason.says
    borax = rl.bench(made("Borax, 1 oz."), make="5 g", balance="0.1 g", use=rl.Use("toilet water"))
    assert not any(caution.id == "flash" for caution in borax.cautions)


def test_degrees_of_a_solution_with_a_table_are_reckoned_with() -> None:
    # 140/(130 + 22) is 0.9211; the table of ammonia by degrees at 60 F has 21.6 % there
    formula = made("Ammonia water 22\N{DEGREE SIGN} B., 2 oz.\nTalc, 4 oz.", years="1890", place="New York")
    line = formula.mass("ammonia").number + formula.mass("water").number
    assert formula.mass("ammonia").number / line == pytest.approx(0.216, abs=0.001)
    assert not any("not reckoned" in note for note in formula.notes)
    (question,) = (q for q in formula.ways.questions if q.id.startswith("strength"))
    assert [option.standing for option in question.options] == ["likely", "unlikely", "unlikely"]  # other hydrometers


def test_degrees_outside_the_table_or_without_one_are_said_not_to_be_reckoned() -> None:
    for line in ("Ammonia water 80\N{DEGREE SIGN} B.", "Silicate of soda 59\N{DEGREE SIGN} Tw."):
        formula = made(f"{line}, 2 oz.\nTalc, 4 oz.", years="1890", place="New York")
        assert any("not reckoned" in note for note in formula.notes)


def test_the_word_strength_behind_a_figure_is_part_of_it() -> None:
    page = "Alcohol 90 per cent strength, 1 pint\nAmmonia, 22\N{DEGREE SIGN} Baum\u00e9 strength, 2 oz."
    plain = page.replace(" strength", "")
    told, same = (made(text, years="1890", place="New York") for text in (page, plain))
    assert told.notes == same.notes == ()
    assert told.mass("ethanol").number == same.mass("ethanol").number
    assert told.mass("ammonia").number == same.mass("ammonia").number
