"""Compound preparations: read whole, of known things, as strong as their sources print them, their poisons heard."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import reconlab as rl
from reconlab.formula import Formula
from reconlab.materia import identify, thing
from reconlab.reasons import Decision
from reconlab.receipts import Setting
from reconlab.tables import Name, Preparation, by_id, rows
from reconlab.translation import _lookup

ALCOHOL_15C = 0.7939  # g/mL of absolute alcohol at 15.56 C, by which the pharmacopoeias state per cent by volume


def made(key: str, amount: str = "100 g") -> Formula:
    receipt = rl.read(f"Sea foam, {amount}", years="1898", place="London", book="household")
    return rl.translate(receipt, [Decision(question="name: sea foam", option=key, because="as the test says")])


def grams(formula: Formula, substance: str) -> float:
    held = (row[0] for part, row in zip(formula.parts, formula.amount, strict=True) if part.substance == substance)
    return float(sum(held))


def weight_in_weight(key: str, substance: str) -> float:
    return grams(made(key), substance)


def weight_in_volume(key: str, substance: str) -> float:
    formula = made(key)
    return 100 * grams(formula, substance) / float(formula.volume_ml[0])


# What stands on file


@pytest.mark.parametrize("key", list(by_id(Preparation)))
def test_every_line_is_one_thing_on_file_with_an_amount(key: str) -> None:
    receipt = _lookup._preparation_receipt(key)
    assert receipt.lines
    for line in receipt.lines:
        (item,) = line.items
        assert item.quantities, line.text
        assert identify(item.name, receipt.setting) is not None, line.text


@pytest.mark.parametrize("key", list(by_id(Preparation)))
def test_every_preparation_comes_to_a_hundred_per_cent_of_base_substances(key: str) -> None:
    formula = made(key)
    assert not formula.unweighed
    assert formula.amount[:, 0].sum() == pytest.approx(100, abs=1e-9)
    assert (formula.amount[:, 0] >= 0).all()
    assert all(thing(part.substance).on_file for part in formula.parts)
    assert not {part.substance for part in formula.parts} & set(by_id(Preparation))


@pytest.mark.parametrize("key", list(by_id(Preparation)))
def test_a_preparation_has_a_name_that_leads_to_it_in_its_own_years(key: str) -> None:
    row = by_id(Preparation)[key]
    names = [name for name in rows(Name) if name.meaning == key]
    assert names
    setting = _lookup._preparation_receipt(key).setting
    for name in names:
        question = identify(name.name, setting)
        assert question is not None
        found = {option.key: option.standing for option in question.options}
        assert key in found, (name.name, row.name)
        if name.standing == "likely" and setting.within(name.regions, name.from_year, name.to_year):
            assert found[key] == "likely"


@given(st.sampled_from(sorted(by_id(Preparation))), st.floats(0.5, 500))
def test_twice_the_preparation_is_twice_each_thing_in_it(key: str, weight: float) -> None:
    once, twice = made(key, f"{weight:.3f} g"), made(key, f"{2 * float(f'{weight:.3f}'):.3f} g")
    assert np.allclose(2 * once.amount[:, 0], twice.amount[:, 0], rtol=1e-9)


# As strong as printed

EPITOME = "Epitome of the U.S.P. and N.F., 1924, after U.S.P. IX and N.F. IV"
KINGS = "King's American Dispensatory, 1898"
USD = "Dispensatory of the United States, 1918"

# (preparation, per cent of absolute alcohol by volume, figure as printed, source)
ALCOHOL = [
    ("spirit_of_lavender_usp_1910", 90, "about 90 per cent", EPITOME),
    ("compound_tincture_of_lavender_usp_1910", 70, "about 70 per cent", EPITOME),
    ("tincture_of_musk_usp_1910", 48, "about 48 per cent", EPITOME),
    ("compound_spirit_of_orange_usp_1910", 69, "about 69 per cent", EPITOME),
    ("tincture_of_saffron_nf", 45, "about 45 per cent", EPITOME),
    ("spirit_of_spearmint_usp_1890", 85, "about 85 per cent", EPITOME),
    # N.F. IV: the same things as the N.F. 1896 has, and for bay rum the same figures (Culbreth, Pimenta acris).
    ("perfumed_spirit_nf_1896", 80, "about 80 per cent", EPITOME),
    ("spirit_of_myrcia_usp_1890", 58, "about 58 per cent", EPITOME),
]


@pytest.mark.parametrize(("key", "percent", "printed", "source"), ALCOHOL, ids=lambda value: str(value)[:40])
def test_alcohol_agrees_with_what_is_printed(key: str, percent: float, printed: str, source: str) -> None:
    assert printed.startswith("about"), source  # hence to within a per cent and a half
    assert weight_in_volume(key, "ethanol") / ALCOHOL_15C == pytest.approx(percent, abs=1.5)


# (preparation, substance, per cent of weight in weight, tolerance by the printed figure, figure as printed, source)
BY_WEIGHT = [
    ("mucilage_of_acacia_usp_1910", "acacia_gum", 35, 0.5, "Acacia (35%)", EPITOME),
    ("rose_water_ointment_usp_1910", "borax", 0.5, 0.05, "Sodium borate (0.5%)", EPITOME),
    ("simple_ointment_usp_1910", "beeswax_white", 20, 0.5, "White wax (20%)", EPITOME),
    ("cerate_usp_1890", "beeswax_white", 30, 0.5, "White wax (30%)", EPITOME),
    ("mucilage_of_tragacanth_usp_1890", "tragacanth", 6, 0.5, "Tragacanth (6%)", EPITOME),
    ("mucilage_of_tragacanth_usp_1890", "glycerin", 18, 0.5, "glycerin (18%)", EPITOME),
    ("camphor_liniment_usp_1890", "camphor", 20, 0.5, "Camphor (20%)", EPITOME),
    ("diachylon_ointment_usp_1910", "lead_plaster", 50, 0.5, "Lead plaster (50%)", EPITOME),
    ("lead_water_usp_1910", "lead_subacetate", 4, 0.5, "Solution of lead subacetate (4%)", EPITOME),
    ("camphor_cerate_usp_1890", "camphor", 2, 0.5, "about 2 percent of camphor", KINGS),
    ("ointment_of_salicylic_acid_bp_1885", "salicylic_acid", 100 / 28, 0.05, "1 in 28", KINGS),
    ("lead_water_bp_1885", "lead_subacetate", 1.25, 0.02, "1.25 per cent", "Blyth, Poisons"),
    ("simple_syrup_usp", "sugar", 64.7, 0.5, "850 g to 1000 mL, sp. gr. 1.313", "USP 32, Syrup"),
    ("simple_syrup_bp", "sugar", 66.7, 0.1, "1000 to 1500", "Encyclopaedia Britannica, 11th ed., Syrup"),
]


@pytest.mark.parametrize(("key", "substance", "percent", "within", "printed", "source"), BY_WEIGHT, ids=str)
def test_shares_by_weight_agree_with_what_is_printed(  # noqa: PLR0917 - one printed figure, its place and its name
    key: str, substance: str, percent: float, within: float, printed: str, source: str
) -> None:
    assert weight_in_weight(key, substance) == pytest.approx(percent, abs=within), (printed, source)


# (preparation, substance, grams in 100 mL, tolerance by the printed figure, figure as printed, source)
BY_MEASURE = [
    ("tincture_of_musk_usp_1910", "musk", 5, 0.1, "Musk (5%)", EPITOME),
    ("syrup_of_acacia_usp_1910", "acacia_gum", 10, 0.1, "Acacia (10%)", EPITOME),
    ("tincture_of_benzoin_usp_1910", "benzoin", 20, 0.1, "Benzoin (20%)", EPITOME),
    ("tincture_of_benzoin_compound_usp_1910", "storax", 8, 0.1, "storax (8%)", EPITOME),
    ("tincture_of_benzoin_compound_usp_1910", "aloes", 2, 0.1, "aloes (2%)", EPITOME),
    ("spirit_of_camphor_usp_1890", "camphor", 10, 0.1, "Camphor (10%)", EPITOME),
    ("tincture_of_krameria_usp_1890", "rhatany", 20, 0.1, "Krameria (20%)", EPITOME),
    ("tincture_of_cantharides_usp_1890", "cantharides", 5, 0.1, "1:20", KINGS),
    # A grain of 0.0648 g in 20 minims of 0.0616 mL, to the nearest grain or minim.
    ("tincture_of_musk_usp_1890", "musk", 5.26, 0.3, "a grain of musk in 20 minims", KINGS),
    # Half a grain of lime in the fluid ounce, 0.0324 g in 28.41 mL, printed "about".
    ("lime_water_bp_1867", "quicklime", 0.114, 0.02, "about 0.5 grain in the fl. oz.", "Garrod, Essentials"),
]


@pytest.mark.parametrize(("key", "substance", "percent", "within", "printed", "source"), BY_MEASURE, ids=str)
def test_grams_in_a_hundred_millilitres_agree_with_what_is_printed(  # noqa: PLR0917 - as above
    key: str, substance: str, percent: float, within: float, printed: str, source: str
) -> None:
    kinds = {"benzoin": ("benzoin_siam", "benzoin_sumatra")}.get(substance, (substance,))
    assert sum(weight_in_volume(key, kind) for kind in kinds) == pytest.approx(percent, abs=within), (printed, source)


# (one, another, substance, how many times as strong, as printed, source)
COMPARED = [
    ("tincture_of_quillaja_usp_1890", "tincture_of_quillaia_bp_1914", "quillaja", 4, "one-fourth the strength", USD),
    ("tincture_of_myrrh_bp_1914", "tincture_of_myrrh_usp_1890", "myrrh", 1, "equivalent to the U.S.", USD),
    ("spirit_of_rosemary_bp_1914", "spirit_of_rosemary_bp_1885", "oil_rosemary", 5, "5 times the proportion", KINGS),
]


@pytest.mark.parametrize(("one", "other", "substance", "times", "printed", "source"), COMPARED, ids=str)
def test_editions_differ_as_their_dispensatories_say(  # noqa: PLR0917 - as above
    one: str, other: str, substance: str, times: float, printed: str, source: str
) -> None:
    ratio = weight_in_volume(one, substance) / weight_in_volume(other, substance)
    assert ratio == pytest.approx(times, rel=0.01), (printed, source)


def test_syrup_is_as_heavy_as_the_pharmacopoeia_asks() -> None:
    # USP 32, Syrup: specific gravity not less than 1.30; Encyclopaedia Britannica, 11th ed.: that of the B.P. 1.33.
    assert 100 / float(made("simple_syrup_usp").volume_ml[0]) >= 1.30
    assert 100 / float(made("simple_syrup_bp").volume_ml[0]) == pytest.approx(1.33, abs=0.01)


# Poisons


def poisonous() -> list[str]:
    return sorted(key for key in by_id(Preparation) if any(thing(s).never_handled for s in made(key).possible()))


def test_the_poisons_of_the_counter_are_on_file_as_such() -> None:
    assert set(poisonous()) >= {
        "ammoniated_mercury_ointment_usp_1910",
        "black_wash_potter",
        "camphor_ice_nf_1896",
        "cantharidin_lotion_bpc_1911",
        "compound_mucilage_of_acacia_bpc_1911",
        "diachylon_ointment_usp_1910",
        "essence_of_bitter_almond_askinson_1892",
        "goulards_cerate_usp",
        "lead_lotion_bp_1898",
        "lead_water_bp_1885",
        "lead_water_usp_1910",
        "tincture_of_cantharides_usp_1890",
        "tincture_of_cantharides_usp_1910",
        "white_lead_ointment_bp_1898",
        "yellow_wash_potter",
    }


@pytest.mark.parametrize("key", poisonous())
def test_a_poison_inside_a_preparation_is_never_handled_by_any_of_its_names(key: str) -> None:
    for name in {row.name for row in rows(Name) if row.meaning == key}:
        formula = rl.translate(rl.read(f"{name}, 1 oz.\nWater, 9 oz.", years="1898", place="London"))
        found = rl.screen(formula, rl.Use(form="skin lotion", law="EU", on="2026-11-25")).findings
        assert any(finding.gate == "never handled" for finding in found), name


@pytest.mark.parametrize(
    ("name", "years", "place", "key", "parts"),
    [
        # Buchheister 1893, part II, p. 22: 4, 5, 32, 16 parts
        ("Unguentum leniens", "1895", "Berlin", "unguentum_leniens_buchheister_1893", {"beeswax_white": 4 / 57}),
        ("Myrrhentinktur", "1895", "Berlin", "tinctura_myrrhae_buchheister_1893", {"myrrh": 1 / 6}),
    ],
)
def test_a_german_name_leads_to_the_formula_of_its_druggists(
    name: str, years: str, place: str, key: str, parts: dict[str, float]
) -> None:
    asked = identify(name, Setting(years=years, place=place))
    assert asked is not None
    assert key in {option.key for option in asked.options if option.standing == "likely"}
    for substance, share in parts.items():
        assert weight_in_weight(key, substance) == pytest.approx(100 * share, rel=1e-6)


def test_the_british_ointment_is_reckoned_by_avoirdupois_and_the_imperial_pint() -> None:
    # 5 and 2 ounces of 28.3495 g, 1 pint of 568.261 mL of oil at 0.912 to 0.920 g/mL
    assert weight_in_weight("spermaceti_ointment_homoeopathic", "spermaceti") == pytest.approx(19.7, abs=0.1)
