"""What signs and words weighed and held: against the books of law, the custom of each place and year, and pint.

Every check value is a printed one and names its source.
"""

from collections.abc import Callable
from fractions import Fraction

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import reconlab as rl
from reconlab import units as units_module
from reconlab.errors import InputError, ReconlabError
from reconlab.materia import drop, identify
from reconlab.measures import (
    convert,
    custom_question,
    liquids_question,
    parse_quantity,
    quantity_text,
    size,
    unit_reason,
)
from reconlab.measures import readings as readings_module
from reconlab.measures.customs import nearby
from reconlab.reading import read
from reconlab.reasons import Decision, Reason
from reconlab.receipts import Setting
from reconlab.tables import Custom, CustomUnit, Measure, by_id, rows
from reconlab.translation import translate

# NIST Handbook 44, Appendix C, General Tables of Units of Measurement, sections 2 to 4 [g]
NIST_HB44_APP_C_MASS = [
    ("grain", "0.06479891"),
    ("scruple_apothecaries", "1.2959782"),  # 20 grains
    ("drachm_apothecaries", "3.8879346"),  # 60 grains
    ("ounce_troy", "31.1034768"),  # 480 grains
    ("pound_troy", "373.2417216"),  # 5760 grains
    ("dram_avoirdupois", "1.7718451953125"),  # 27 11/32 grains
    ("ounce_avoirdupois", "28.349523125"),  # 437.5 grains
    ("pound_avoirdupois", "453.59237"),  # 7000 grains
]
# The same tables: gallon of 231 cubic inches; inch of 25.4 mm, so 231 x 2.54^3 = 3785.411784 mL
NIST_HB44_APP_C_VOLUME = [
    ("gallon_wine", "3785.411784"),
    ("quart_wine", "946.352946"),
    ("pint_wine", "473.176473"),
    ("gill_wine", "118.29411825"),
    ("fluid_ounce_wine", "29.5735295625"),
    ("fluid_drachm_wine", "3.6966911953125"),
]
# UK Weights and Measures Act 1985, c. 72, Sch. 1 [g or mL]: pound 0.453 592 37 kg, ounce troy 12/175 lb, gallon
# 4.546 09 L
UK_WMA_1985 = [
    ("pound_avoirdupois", "453.59237"),
    ("ounce_avoirdupois", "28.349523125"),
    ("ounce_troy", str(Fraction("453.59237") * 12 / 175)),
    ("gallon_imperial", "4546.09"),
    ("quart_imperial", "1136.5225"),
    ("pint_imperial", "568.26125"),
    ("gill_imperial", "142.0653125"),
    ("fluid_ounce_imperial", "28.4130625"),
]


@pytest.mark.parametrize(
    ("key", "printed"), [*NIST_HB44_APP_C_MASS, *NIST_HB44_APP_C_VOLUME], ids=lambda value: str(value)[:24]
)
def test_sizes_are_those_of_nist_handbook_44_appendix_c(key: str, printed: str) -> None:
    assert by_id(Measure)[key].size == Fraction(printed)


@pytest.mark.parametrize(("key", "exact"), UK_WMA_1985, ids=[f"act {key}" for key, _ in UK_WMA_1985])
def test_sizes_are_those_of_the_weights_and_measures_act_1985(key: str, exact: str) -> None:
    assert by_id(Measure)[key].size == Fraction(exact)


@pytest.mark.parametrize(
    ("great", "times", "small"),
    [
        ("scruple_apothecaries", 20, "grain"),
        ("drachm_apothecaries", 3, "scruple_apothecaries"),
        ("ounce_troy", 8, "drachm_apothecaries"),
        ("pound_troy", 12, "ounce_troy"),
        ("pound_avoirdupois", 7000, "grain"),
        ("pound_avoirdupois", 16, "ounce_avoirdupois"),
        ("ounce_avoirdupois", 16, "dram_avoirdupois"),
        ("hundredweight_imperial", 112, "pound_avoirdupois"),
        # Royle and Headland 1865, p. 6: the Dublin drachm of 1850 is an eighth of 437.5 grains; the scruple a third
        ("ounce_avoirdupois", 8, "drachm_dublin"),
        ("drachm_dublin", 3, "scruple_dublin"),
        # Order in Council of 14 August 1879, as printed by Cooley 1880: 60 minims, 8 fluid drachms, 20 fluid ounces
        ("fluid_drachm_imperial", 60, "minim_imperial"),
        ("fluid_ounce_imperial", 8, "fluid_drachm_imperial"),
        ("pint_imperial", 20, "fluid_ounce_imperial"),
        ("gallon_imperial", 8, "pint_imperial"),
        # Griffith 1854, p. 24: 60 minims, 8 fluidrachms, 16 fluidounces, 8 pints
        ("fluid_drachm_wine", 60, "minim_wine"),
        ("fluid_ounce_wine", 8, "fluid_drachm_wine"),
        ("pint_wine", 16, "fluid_ounce_wine"),
        ("gallon_wine", 8, "pint_wine"),
    ],
)
def test_measures_divide_as_their_tables_say(great: str, times: int, small: str) -> None:
    assert by_id(Measure)[great].size == times * by_id(Measure)[small].size


PINT_AGREES = {
    "grain": "grain",
    "scruple_apothecaries": "scruple",
    "drachm_apothecaries": "apothecary_dram",
    "ounce_troy": "apothecary_ounce",
    "pound_troy": "apothecary_pound",
    "dram_avoirdupois": "dram",
    "ounce_avoirdupois": "ounce",
    "pound_avoirdupois": "pound",
    "hundredweight_imperial": "UK_hundredweight",
    "minim_imperial": "imperial_minim",
    "fluid_drachm_imperial": "imperial_fluid_drachm",
    "fluid_ounce_imperial": "imperial_fluid_ounce",
    "gill_imperial": "imperial_gill",
    "pint_imperial": "imperial_pint",
    "quart_imperial": "imperial_quart",
    "gallon_imperial": "imperial_gallon",
    "minim_wine": "minim",
    "fluid_drachm_wine": "fluid_dram",
    "fluid_ounce_wine": "fluid_ounce",
    "gill_wine": "gill",
    "pint_wine": "pint",
    "quart_wine": "quart",
    "gallon_wine": "gallon",
}


@pytest.mark.parametrize(("key", "name"), PINT_AGREES.items())
def test_pint_agrees_where_it_means_the_same_measure(key: str, name: str) -> None:
    row = by_id(Measure)[key]
    theirs = pint.Quantity(1, name).to("gram" if row.kind == "mass" else "milliliter").magnitude
    assert float(row.size) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "grams", "millilitres"),
    [
        # pint: "2 fl oz" is two femtolitre ounces; here two imperial fluid ounces, 2 x 28.4130625
        ("2 fl oz", None, 56.826125),
        # pint: "1½ oz" is refused or cut; here 1.5 x 28.349523125
        ("1½ oz", 42.5242846875, None),
        # pint: "2 lb 3 oz" is a product, pound times ounce; here 2 x 453.59237 + 3 x 28.349523125
        ("2 lb 3 oz", 992.233309375, None),
        # the sign kept 480 grains beside the avoirdupois word: 2 x 31.1034768
        ("℥ij", 62.2069536, None),
        # pint: "dr" is 27 11/32 grains and "min" a minute; here 60 grains and a sixtieth of the fluid drachm
        ("2 dr", 7.7758692, None),
        ("30 min", None, 1.77581640625),
    ],
)
def test_the_silent_traps_of_general_unit_libraries_do_not_happen_here(
    text: str, grams: float | None, millilitres: float | None
) -> None:
    chosen = convert(text, years="1890", place="England", book="dispensing").chosen
    assert chosen.mass_g == (pytest.approx(grams, rel=1e-12) if grams else None)
    assert chosen.volume_ml == (pytest.approx(millilitres, rel=1e-12) if millilitres else None)
    try:  # and the trap is one: pint reads the words as something else, or not at all
        theirs = pint.Quantity(text)
        same = theirs.to("gram" if grams else "milliliter").magnitude == pytest.approx(grams or millilitres, rel=1e-3)
    except Exception:  # noqa: BLE001 - whatever it refuses with
        same = False
    assert not same


def test_three_drachms_in_england_in_1890_weigh_eleven_grams_and_two_thirds() -> None:
    # 3 x 60 x 0.06479891 g = 11.6638038 g
    answer = convert("ʒiij", years="1890", place="England")
    assert answer.chosen.mass_g == pytest.approx(11.6638038, rel=1e-12)
    said = str(answer.chosen.reason)
    for words in ("'ʒiij' is 3 drachm", "60 grains", "nist_hb44_app_c", "likely for England, 1890", "Redwood, 1877"):
        assert words in said
    assert {other.custom for other in answer.others} >= {"imperial", "avoirdupois, the dram too"}


def standings(which: str, years: str, place: str, book: str) -> dict[str, str]:
    return {o.key: o.standing for o in custom_question(which, Setting(years, place, book)).options}


LIKELY, POSSIBLE, UNLIKELY = "likely", "possible", "unlikely"
WEIGHTS = [  # year, place, kind of book, standing of apothecaries' weight, of avoirdupois, of Dublin's of 1850
    # Royle and Headland 1865, p. 6; Beasley: the colleges ordered by troy weight
    ("1809", "London", "pharmacopoeia", LIKELY, UNLIKELY, None),
    ("1849", "Dublin", "dispensing", LIKELY, UNLIKELY, None),
    # ... London and Edinburgh until the British Pharmacopoeia of 1864, Dublin until 1850
    ("1855", "Edinburgh", "pharmacopoeia", LIKELY, POSSIBLE, None),
    ("1855", "Dublin", "pharmacopoeia", POSSIBLE, POSSIBLE, LIKELY),
    ("1870", "Dublin", "pharmacopoeia", POSSIBLE, POSSIBLE, POSSIBLE),
    ("1864", "London", "pharmacopoeia", POSSIBLE, LIKELY, None),
    ("1866", "London", "dispensing", POSSIBLE, POSSIBLE, None),
    # Redwood, 1877: oz. is 437.5 grains, the sign 480
    ("1885", "London", "pharmacopoeia", UNLIKELY, LIKELY, None),
    ("1885", "London", "dispensing", POSSIBLE, LIKELY, None),
    # Order in Council of 14 August 1879: 60 grains the drachm again, in Ireland too
    ("1890", "Dublin", "pharmacopoeia", POSSIBLE, LIKELY, UNLIKELY),
    # Goods went by avoirdupois; the Act of 1878 leaves troy to retail drugs
    ("1800", "London", "trade", POSSIBLE, LIKELY, None),
    # Malynes 1636, by the English Cyclopaedia: grocery wares, butter, flesh, tallow and wax by avoirdupois
    ("1700", "London", "household", POSSIBLE, LIKELY, None),
    ("1890", "London", "trade", UNLIKELY, LIKELY, None),
    ("1890", "London", "household", POSSIBLE, LIKELY, None),
    # The Edinburgh Encyclopædia, Weights: soap, sugar, wax and groceries by avoirdupois
    ("1800", "Scotland", "trade", POSSIBLE, LIKELY, None),
    # Bartholow: until the Pharmacopoeia of 1890, and chiefly after it, American drugs were compounded by troy
    ("1850", "Philadelphia", "pharmacopoeia", LIKELY, UNLIKELY, None),
    ("1900", "Philadelphia", "dispensing", LIKELY, POSSIBLE, None),
    ("1887", "Chicago", "household", POSSIBLE, LIKELY, None),
    # Canada: British and American books side by side; avoirdupois the standard from 1873
    ("1896", "London, Ontario", "household", POSSIBLE, LIKELY, None),
    ("1896", "Toronto", "dispensing", POSSIBLE, POSSIBLE, None),
]


@pytest.mark.parametrize(("setting", "troy", "avoirdupois", "dublin"), [(row[:3], *row[3:]) for row in WEIGHTS])
def test_whose_weights_by_year_place_and_kind_of_book(
    setting: tuple[str, str, str], troy: str, avoirdupois: str, dublin: str | None
) -> None:
    found = standings("weights", *setting)
    assert (found["apothecaries"], found.get("avoirdupois") or found["avoirdupois_short"]) == (troy, avoirdupois)
    assert found.get("avoirdupois_dublin") == dublin
    assert found["avoirdupois_throughout"] == UNLIKELY  # sixteen drams to the ounce: never lost, never preferred


MEASURES = [  # year, place, kind of book, standing of wine measure, of imperial
    ("1760", "London", "household", LIKELY, UNLIKELY),  # the gallon of Queen Anne, 231 cubic inches
    ("1830", "London", "pharmacopoeia", LIKELY, POSSIBLE),  # London kept wine measure until 1836
    ("1830", "London", "trade", POSSIBLE, LIKELY),  # imperial law from 1 January 1826
    ("1837", "London", "pharmacopoeia", POSSIBLE, LIKELY),
    ("1837", "Edinburgh", "pharmacopoeia", LIKELY, POSSIBLE),  # Edinburgh followed in 1839
    ("1845", "Dublin", "pharmacopoeia", LIKELY, POSSIBLE),  # Dublin in 1850
    ("1852", "Dublin", "pharmacopoeia", POSSIBLE, LIKELY),
    ("1855", "Dublin", "pharmacopoeia", UNLIKELY, LIKELY),
    ("1845", "London", "household", POSSIBLE, LIKELY),
    ("1890", "London", "household", UNLIKELY, LIKELY),
    ("1854", "Philadelphia", "pharmacopoeia", LIKELY, UNLIKELY),  # Griffith 1854: wine measure
    ("1872", "New York", "trade", LIKELY, POSSIBLE),  # Dick 1872 names the Imperial pint here and there
    ("1860", "Toronto", "household", POSSIBLE, POSSIBLE),
    ("1896", "London, Ontario", "household", POSSIBLE, LIKELY),  # Act of 1873; wine measure not legal, often used
]


@pytest.mark.parametrize(("years", "place", "book", "wine", "imperial"), MEASURES)
def test_whose_pints_by_year_place_and_kind_of_book(
    years: str, place: str, book: str, wine: str, imperial: str
) -> None:
    found = standings("measures", years, place, book)
    assert (found.pop("wine"), found.pop("imperial")) == (wine, imperial)
    assert set(found.values()) <= {UNLIKELY}  # ale measure, for beer and milk, is never preferred


@pytest.mark.parametrize("which", ["weights", "measures"])
@pytest.mark.parametrize("setting", [Setting(), Setting("1890"), Setting(place="England"), Setting("1400", "England")])
def test_without_year_or_place_no_custom_is_chosen_and_every_one_of_the_place_is_shown(
    which: str, setting: Setting
) -> None:
    asked = custom_question(which, setting)
    assert asked.chosen is None
    assert all(option.standing == "possible" for option in asked.options)
    offered = {
        row.custom
        for row in rows(Custom)
        if row.question == which and ("GB" in row.regions if setting.place else row.unplaced == "yes")
    }
    assert {option.key for option in asked.options} == offered
    assert offered >= ({"wine", "imperial"} if which == "measures" else {"apothecaries", "avoirdupois"})


def test_years_on_both_sides_of_a_change_leave_both_customs_standing() -> None:
    for years, which in (("1863-1864", "weights"), ("1835-1836", "measures"), ("c. 1864", "weights")):
        found = standings(which, years, "London", "pharmacopoeia")
        assert sorted(found.values()).count("possible") >= 2
        assert "likely" not in found.values()


def test_where_the_kind_of_book_is_not_known_neither_kind_rules_the_other_out() -> None:
    # England 1830: physicians by troy (trade weight unlikely), shops by avoirdupois. A pound by one kind alone would be
    # 373.24 or 453.59 g, and neither is chosen.
    assert standings("weights", "1830", "England", "")["avoirdupois"] == POSSIBLE
    answer = convert("1 lb.", years="1830", place="England")
    assert answer.chosen is None
    assert {round(other.mass_g, 2) for other in answer.others} == {373.24, 453.59}


@pytest.mark.parametrize("text", ["1 lb.", "2 oz.", "1 pint", "ʒj"])
@pytest.mark.parametrize("known", [{}, {"years": "1890"}, {"place": "England"}])
def test_an_amount_is_not_chosen_without_year_or_place(text: str, known: dict[str, str]) -> None:
    answer = convert(text, **known)
    assert answer.chosen is None
    assert len(answer.others) > 1
    assert all(other.standing != "likely" for other in answer.others)


@pytest.mark.parametrize(("text", "grams"), [("3 grains", 0.19439673), ("2 g", 2.0), ("5 kilograms", 5000.0)])
def test_an_amount_that_is_the_same_under_every_custom_is_chosen_even_so(text: str, grams: float | None) -> None:
    answer = convert(text)
    assert answer.chosen.mass_g == pytest.approx(grams, rel=1e-12)
    assert answer.others == ()


def test_a_metric_amount_hangs_on_no_custom() -> None:
    answer = convert("2 g")
    assert (answer.chosen.custom, answer.chosen.standing) == ("metric", "likely")


def test_nothing_weighs_nothing_and_is_not_unknown() -> None:
    assert convert("0 oz.", years="1890", place="England", book="trade").chosen.mass_g == 0


def test_a_fraction_over_nothing_is_not_read_as_nought() -> None:
    with pytest.raises(InputError, match="cannot be read"):
        convert("1/0 oz.")


def test_ounces_beside_a_pound_are_weighed_like_it() -> None:
    # 453.59237 + 4 x 28.349523125 = 566.9904625 g; a pound has no fluid sense, so its ounces have none here
    answer = convert("1 lb. 4 oz.", years="1890", place="England", book="trade", of="glycerin")
    assert answer.chosen.mass_g == pytest.approx(566.9904625, rel=1e-12)
    assert not any("fluid" in each.measure for each in (answer.chosen, *answer.others))
    # glycerin of 1.26 g/mL: 566.9904625 / 1.26 = 449.99243 mL
    assert answer.chosen.volume_ml == pytest.approx(566.9904625 / 1.26, rel=1e-12)


def test_a_liquid_is_measured_where_the_page_does_not_say_and_weighing_stays_possible() -> None:
    # 2 x 28.4130625 mL x 1.260 g/mL = 71.6009175 g; weighed 2 x 28.349523125 = 56.69904625 g
    answer = convert("2 oz.", years="1890", place="England", book="trade", of="glycerin")
    assert answer.chosen.mass_g == pytest.approx(71.6009175, rel=1e-12)
    assert answer.chosen.volume_ml == pytest.approx(56.826125, rel=1e-12)
    assert answer.density_used == 1.26
    assert any(each.mass_g == pytest.approx(56.69904625) and each.standing == "possible" for each in answer.others)
    assert liquids_question().options[0].key == "as its state says"


@pytest.mark.parametrize(
    "text", ["", "oz.", "2", "two", "-2 oz.", "2 oz. of 3 oz.", "2 oz. 3 oz.", "2 moons", "1 drop", "3 parts"]
)
def test_what_is_no_amount_with_a_size_is_refused_with_a_remedy(text: str) -> None:
    with pytest.raises(ReconlabError) as refused:
        convert(text)
    assert refused.value.remedy


def test_a_thing_nobody_knows_is_weighed_and_said_not_to_be_on_file() -> None:
    found = convert("1 lb. of moon dust", years="1890", place="London", book="household")
    assert found.chosen is not None
    assert found.chosen.mass_g == pytest.approx(453.59237)
    assert any("moon dust is not on file" in note for note in found.notes)


def test_every_row_of_a_custom_names_a_measure_on_file_and_every_custom_has_units() -> None:
    for row in rows(CustomUnit):
        assert row.measure in by_id(Measure)
        assert not by_id(Measure)[row.measure].rival_of  # a custom takes the preferred figure
    with_units = {row.custom for row in rows(CustomUnit)}
    assert {row.custom for row in rows(Custom)} <= with_units


def test_a_sign_keeps_its_own_ounce_where_the_word_changed() -> None:
    assert size("ounce", "sign", "avoirdupois").id == "ounce_troy"
    assert (
        size("ounce", "word", "avoirdupois").id
        == size("ounce", "abbreviation", "avoirdupois").id
        == "ounce_avoirdupois"
    )
    assert size("ounce", "sign", "avoirdupois_throughout").id == "ounce_avoirdupois"


def test_a_unit_without_a_size_is_said_to_have_none() -> None:
    assert size("handful", "word", "avoirdupois") is None
    assert unit_reason("handful", "word", "avoirdupois").says == "no size of a handful on file for avoirdupois"


AMOUNTS = st.one_of(
    st.integers(1, 2000).map(str),
    st.tuples(st.integers(1, 99), st.sampled_from(["¼", "½", "¾"])).map(lambda pair: f"{pair[0]}{pair[1]}"),
    st.decimals("0.1", 99, places=2).map(str),
)
UNITS = ["grains", "scruples", "drachms", "oz.", "lb.", "minims", "fluid drachms", "fl. oz.", "pints", "gallons"]
SETTINGS = [
    ("1800", "London"),
    ("1855", "Dublin"),
    ("1890", "England"),
    ("1890", "Philadelphia"),
    ("1896", "London, Ontario"),
]


def figures(text: str, years: str, place: str) -> dict[str, float]:
    """Return the figures of every answer, by its custom."""
    answer = convert(text, years=years, place=place, book="dispensing")
    found = (*((answer.chosen,) if answer.chosen else ()), *answer.others)
    return {each.custom: (each.mass_g or each.volume_ml) for each in found}


@settings(deadline=None)
@given(AMOUNTS, st.sampled_from(UNITS), st.sampled_from(SETTINGS))
def test_conversion_is_linear_in_the_amount_under_every_custom(
    amount: str, unit: str, setting: tuple[str, str]
) -> None:
    value = parse_quantity(f"{amount} {unit}").parts[0].amount.value
    one = figures(f"1 {unit}", *setting)
    many = figures(f"{amount} {unit}", *setting)
    assert many.keys() == one.keys()
    for custom, figure in many.items():
        assert figure == pytest.approx(value * one[custom], rel=1e-12)


@settings(deadline=None)
@given(st.integers(1, 30), st.integers(1, 15), st.sampled_from(SETTINGS))
def test_a_compound_amount_is_the_sum_of_its_parts(pounds: int, ounces: int, setting: tuple[str, str]) -> None:
    pound, ounce, whole = (
        figures(text, *setting) for text in (f"{pounds} lb.", f"{ounces} oz.", f"{pounds} lb. {ounces} oz.")
    )
    assert whole.keys() == pound.keys()
    for custom, figure in whole.items():
        assert figure == pytest.approx(pound[custom] + ounce[custom], rel=1e-12)


def test_a_weight_named_on_the_page_is_the_same_under_every_custom() -> None:
    # 453.59237 + 4 x 28.349523125 = 566.9904625 g, in a London dispensing book of 1800 too
    answer = convert("1 lb. avoirdupois 4 oz. avoirdupois", years="1800", place="London", book="dispensing")
    assert answer.chosen.mass_g == pytest.approx(566.9904625, rel=1e-12)
    assert answer.others == ()


@settings(deadline=None)
@given(st.text(max_size=25))
def test_any_words_are_an_amount_or_an_error_of_ours(words: str) -> None:
    try:
        answer = convert(words, years="1890", place="England")
    except ReconlabError:
        return
    assert all(each.mass_g is not None or each.volume_ml is not None for each in answer.others)


# Solid or fluid.


def answers(text: str, **asked: str) -> dict[str, str]:
    """Return the answers as measures with their standings, the chosen one marked."""
    found = convert(text, **asked)
    chosen = {found.chosen.measure: "chosen"} if found.chosen else {}
    return chosen | {other.measure: other.standing for other in found.others}


ENGLAND = {"years": "1890", "place": "England", "book": "trade"}
TWO_SENSES = [("2 oz.", "fluid ounce"), ("2 drachms", "fluid drachm"), ("ʒij", "fluid drachm"), ("℥ij", "fluid ounce")]


@pytest.mark.parametrize(("text", "fluid"), TWO_SENSES)
def test_a_unit_with_two_senses_is_told_by_the_state_and_the_other_answer_stays_open(text: str, fluid: str) -> None:
    liquid, solid = answers(text, of="glycerin", **ENGLAND), answers(text, of="talc", **ENGLAND)
    assert liquid.pop(f"{fluid}, imperial") == solid.pop(f"{fluid}, imperial").replace("possible", "chosen")
    assert "possible" in liquid.values()
    assert "chosen" in solid.values()


@pytest.mark.parametrize(("text", "fluid"), TWO_SENSES)
def test_of_a_thing_nobody_knows_both_answers_stand_and_none_is_chosen(text: str, fluid: str) -> None:
    found = convert(text, of="moon dust", **ENGLAND)
    assert found.chosen is None
    possible = [other.measure for other in found.others if other.standing == "possible"]
    assert f"{fluid}, imperial" in possible
    assert len(possible) == 2
    assert any("moon dust is not on file" in note for note in found.notes)


@pytest.mark.parametrize("of", ["talc", "borax", "moon dust", ""])
def test_a_scruple_a_pound_and_a_grain_only_weigh(of: str) -> None:
    for text in ("2 scruples", "1 lb.", "5 grains"):
        found = convert(text, of=of, **ENGLAND)
        assert all(each.volume_ml is None for each in (found.chosen, *found.others))


def test_a_minim_is_never_said_of_a_solid() -> None:
    with pytest.raises(InputError, match="talc is a solid, and the minim on file is a measure of liquids"):
        convert("3 minims", of="talc", **ENGLAND)
    # 3 minims of glycerin: 3 x 454609/7680000 mL x 1.260 g/mL
    assert convert("3 minims", of="glycerin", **ENGLAND).chosen.mass_g == pytest.approx(3 * 454609 / 7680000 * 1.26)


def test_a_solid_by_the_pint_is_a_heap_and_not_a_liquid() -> None:
    # wheat starch is 1.5 g/mL without air (Dengate 1978); 2 x 568.26125 mL of it as it lies holds air
    found = convert("2 pints", of="starch", **ENGLAND).chosen
    assert found.volume_ml == pytest.approx(2 * 568.26125)
    low, high = found.mass_low_g or found.mass_g, found.mass_high_g or found.mass_g
    assert 0 < low <= found.mass_g <= high < 2 * 568.26125 * 1.5
    assert "bulk density" in str(found.reason)


def test_a_pound_of_water_is_plain_and_has_its_volume_too() -> None:
    # 453.59237 g at 0.997 g/mL (CRC: 997.025 kg/m3)
    found = convert("1 lb.", of="water", **ENGLAND).chosen
    assert (found.mass_g, found.volume_ml) == (pytest.approx(453.59237), pytest.approx(453.59237 / 0.997, rel=1e-4))


def test_a_drachm_that_every_likely_custom_has_alike_is_chosen_though_the_custom_is_open() -> None:
    # England 1866: troy or avoirdupois, and a drachm of 60 grains in both
    assert custom_question("weights", Setting("1866", "England", "dispensing")).chosen is None
    found = convert("ʒij", years="1866", place="England", book="dispensing").chosen
    assert found.mass_g == pytest.approx(7.7758692, rel=1e-12)
    assert set(found.custom.split(" or ")) == {"avoirdupois", "troy"}
    assert convert("ʒij", years="1870", place="Dublin", book="dispensing").chosen is None  # 60 or 54.7 grains


@pytest.mark.parametrize(("place", "region"), [("England", "GB"), ("Toronto", "CA"), ("Dublin", "IE")])
def test_a_setting_no_source_speaks_for_says_what_is_near_and_chooses_nothing(place: str, region: str) -> None:
    here = [row for row in rows(Custom) if row.question == "weights" and region in row.regions]
    oldest, newest = min(row.from_year for row in here), max(row.to_year for row in here)
    before = (oldest - 1, f"the oldest for {place} is of {oldest}")
    after = (newest + 1, f"the newest for {place} ends with {newest}")
    for year, said in (after,) if region == "US" else (before, after):  # before 1776 Britain's customs speak there
        found = convert("1 oz.", years=str(year), place=place)
        assert found.chosen is None
        assert said in found.notes[0]
        assert all(said in str(other.reason) for other in found.others if other.mass_g)
    assert nearby("weights", Setting(str(oldest), place)) == ""


def test_beer_has_its_own_gallon_in_a_receipt_as_in_a_conversion() -> None:
    # the ale gallon of 282 cubic inches, the wine gallon of 231
    where = {"title": "Drink", "years": "1780", "place": "London", "book": "household"}
    page = read("Beer, 1 quart\nWater, 1 quart\nHoney, 1 lb.", **where)
    formula = translate(page)
    assert {question.id for question in formula.ways.questions} >= {"measures", "measures: beer"}
    alone = convert("1 quart", of="beer", years="1780", place="London", book="household").chosen
    assert alone is not None
    assert alone.volume_ml == pytest.approx(282 * 2.54**3 / 4, rel=1e-6)
    assert formula.mass("beer").number == pytest.approx(alone.mass_g, rel=1e-6)
    wine = translate(page, [Decision(question="measures: beer", option="wine")])
    assert wine.mass("beer").number == pytest.approx(alone.mass_g * 231 / 282, rel=1e-6)


@pytest.mark.parametrize(
    ("text", "year", "place", "size"),
    [
        # Nelkenbrecher, pp. 217-218: the Kanne of Dresden 47.0939 Paris cubic inches, that of Leipzig 60.6965
        ("1 Kanne", "1790", "Dresden", 934.172),
        ("1 Kanne", "1790", "Leipzig", 1203.999),
        # the tables of year X, as a Lyon periodical quotes them (p. 501): the poids de ville, 16 ounces of 26.1723 g
        ("une livre", "1785", "Lyon", 418.757),
    ],
)
def test_a_town_goes_by_the_measure_called_after_it(text: str, year: str, place: str, size: float) -> None:
    chosen = convert(text, years=year, place=place, book="household").chosen
    assert chosen is not None
    assert (chosen.mass_g or chosen.volume_ml) == pytest.approx(size, rel=1e-4)


def test_ale_in_ireland_was_sold_by_the_irish_gallon() -> None:
    # Nicholson, Men and Measures, ch. VIII: 217.6 cubic inches for ale, beer and spirits
    chosen = convert("1 quart", of="ale", years="1790", place="Dublin", book="household").chosen
    assert chosen is not None
    assert chosen.volume_ml == pytest.approx(217.6 * 2.54**3 / 4, rel=1e-4)


def test_a_conversion_shows_every_answer_and_its_reason() -> None:
    found = convert("2 oz.", of="glycerin", **ENGLAND)
    for shown in (str(found), found._repr_html_()):
        for words in ("71.6 g", "56.8 mL", "56.7 g", "chosen", "possible", "unlikely", "1/160 imperial gallon"):
            assert words in shown
    assert list(found.to_frame()["mass"]) == ["71.6 g", "56.7 g", "74.5 g", "62.2 g"]


def test_a_figure_of_another_source_stands_among_the_others_as_unlikely(monkeypatch: pytest.MonkeyPatch) -> None:
    # the Act of 1824 had 277.274 cubic inches to the gallon, so 4543.7 mL: made a row of its own here
    own = by_id(Measure)["gallon_imperial"]

    class Rival:
        """A row with the column that names the measure it differs from."""

        name, kind, size = "gallon, imperial, by the inches of 1824", "volume", Fraction("4543.7")
        as_printed, rival_of, rival_standing = "277.274 cubic inches", own.id, ""

        def reason(self, says: str) -> Reason:
            return Reason(says, own.sources)

    monkeypatch.setattr(readings_module, "rows", lambda kind: (*rows(kind), Rival()) if kind is Measure else rows(kind))
    readings_module.readings.cache_clear()
    readings_module._rival_rows.cache_clear()
    try:
        found = convert("1 gallon", **ENGLAND)
    finally:
        readings_module.readings.cache_clear()
        readings_module._rival_rows.cache_clear()
    assert found.chosen.volume_ml == pytest.approx(4546.09)
    rival = next(other for other in found.others if "1824" in other.measure)
    assert (rival.volume_ml, rival.standing) == (pytest.approx(4543.7), "unlikely")
    assert "a figure of another source" in str(rival.reason)


# The traps of general unit libraries, one by one, and bad input.


@pytest.mark.parametrize(
    ("text", "grams", "millilitres"),
    [
        ("2 ℥", 62.2069536, None),
        ("1 ℔", 373.2417216, None),  # the sign is the pound of 12 troy ounces
        ("½ oz", 14.1747615625, None),
        ("1½ oz", 42.5242846875, None),
        ("1 1/2 oz", 42.5242846875, None),
        ("1-1/2 oz", 42.5242846875, None),
        ("4 oz. 2 dr.", 4 * 28.349523125 + 2 * 3.8879346, None),
        ("3 drachms", 11.6638038, None),
        ("3 drams", 11.6638038, None),
        ("\N{BLACK-LETTER CAPITAL Z}ij", 7.7758692, None),  # U+2128, which NFKC would turn into a Z
        ("gr. xij", 12 * 0.06479891, None),
        ("gr. vij", 7 * 0.06479891, None),
        ("ʒss", 1.9439673, None),
        ("ʒijss", 9.7198365, None),
        ("2 fl oz", None, 56.826125),
        ("min 5", None, 5 * 0.05919388020833333),
        ("1 C", None, 4546.09),  # congius, a gallon; pint reads a coulomb
        ("1 O", None, 568.26125),  # octarius, a pint
    ],
)
def test_no_trap_of_a_general_unit_library_is_one_here(
    text: str, grams: float | None, millilitres: float | None
) -> None:
    chosen = convert(text, years="1890", place="England", book="dispensing").chosen
    assert chosen.mass_g == (pytest.approx(grams, rel=1e-12) if grams else None)
    assert chosen.volume_ml == (pytest.approx(millilitres, rel=1e-9) if millilitres else None)


@pytest.mark.parametrize(
    "text",
    [
        "1 d", "-2 oz.", "- 2 oz.", "nan oz.", "inf oz.", "1e400 oz.", "9" * 30 + " oz.", "9" * 20 + " lb.", "1/0 oz.",
        "", " ", "\n", "\0", "oz", "二 oz.", "1 талантъ", "1 斤", "1 🜚", "2 oz. + ", " + 2 oz.", "1e3 oz.",
        "\N{FULLWIDTH DIGIT TWO} oz.", "\N{ARABIC-INDIC DIGIT TWO} oz.", "2\N{IDEOGRAPHIC SPACE}oz",
    ],
)  # fmt: skip
def test_bad_input_is_an_error_of_ours_or_read_for_what_it_says(text: str) -> None:
    try:
        found = convert(text, **ENGLAND)
    except ReconlabError as fault:
        assert fault.remedy  # noqa: PT017 - either outcome is right
    else:
        assert found.chosen.mass_g == pytest.approx(2 * 28.349523125)  # another script's two is a two


@settings(deadline=None)
@given(
    st.sampled_from(["2 oz.", "ʒij", "1 pint", "3 minims", "2 g", "1 tablespoonful"]) | st.text(max_size=8),
    st.fixed_dictionaries(
        {},
        optional={
            "years": st.sampled_from(["1890", "c. 1820", "1400"]) | st.text(max_size=5),
            "place": st.sampled_from(["England", "Paris", "Vienna"]) | st.text(max_size=5),
            "book": st.sampled_from(["trade", "perfumer"]) | st.text(max_size=5),
            "of": st.sampled_from(["talc", "glycerin", "starch", "flake white", "cold cream"]) | st.text(max_size=9),
            "rule": st.sampled_from(["all weights troy", "parts by weight"]) | st.text(max_size=9),
            "text_years": st.sampled_from(["1790", ""]) | st.text(max_size=5),
            "text_place": st.sampled_from(["United States"]) | st.text(max_size=5),
        },
    ),
)
def test_whatever_is_asked_an_answer_or_an_error_of_ours_comes_of_it(text: str, asked: dict[str, str]) -> None:
    try:
        found = convert(text, **asked)
    except ReconlabError as fault:
        assert fault.remedy  # noqa: PT017 - either outcome is right
        return
    assert str(found)
    assert found._repr_html_()
    for each in (found.chosen, *found.others):
        assert each is None or each.mass_g is not None or each.volume_ml is not None


def test_no_words_of_a_page_reach_pint(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*words: object) -> None:
        raise AssertionError(words)

    for name in ("quantity", "modern"):
        monkeypatch.setattr(units_module, name, refuse)
    monkeypatch.setattr(pint, "Quantity", refuse)
    monkeypatch.setattr(pint.UnitRegistry, "parse_expression", refuse)
    for text in ("2 fl oz", "min 5", "1½ oz", "ʒiij", "3 dr", "2 g", "1 pint"):
        assert convert(text, of="glycerin", **ENGLAND).chosen
    with pytest.raises(InputError):
        convert("1 femtolitre ounce", **ENGLAND)


# Invariants.


def quantities() -> st.SearchStrategy[str]:
    pounds = st.integers(1, 20).map("{} lb.".format)
    ounces = st.sampled_from(["½ oz.", "3 oz.", "11 oz.", "iij oz."])
    drachms = st.sampled_from(["ʒij", "ʒss", "7 dr.", "2½ drachms"])
    pair = st.tuples(pounds, ounces).map(" ".join)
    return pounds | ounces | drachms | pair | st.tuples(pair, st.just("4 dr.")).map(" ".join)


@given(quantities())
def test_a_quantity_is_read_back_from_its_own_words(text: str) -> None:
    read = parse_quantity(text)
    assert parse_quantity(quantity_text(read)) == read


BOUNDARIES = sorted({year for row in rows(Custom) for year in (row.from_year, row.to_year and row.to_year + 1) if year})


@settings(deadline=None)
@given(
    st.sampled_from(["England", "Scotland", "Dublin", "Chicago", "Toronto"]),
    st.sampled_from(["", "pharmacopoeia", "dispensing", "trade", "perfumer", "household"]),
    st.sampled_from(["1 oz.", "ʒj", "1 lb.", "1 pint", "1 fl. oz.", "℥j"]),
    st.integers(0, len(BOUNDARIES) - 2),
    st.data(),
)
def test_nothing_changes_between_documented_changes_of_law(
    place: str, book: str, text: str, at: int, data: st.DataObject
) -> None:
    first, last = BOUNDARIES[at], BOUNDARIES[at + 1] - 1
    one, other = (data.draw(st.integers(first, last)) for _ in range(2))
    said = [
        [(a.mass_g, a.volume_ml, a.standing, a.custom) for a in (found.chosen, *found.others) if a]
        for found in (convert(text, years=str(year), place=place, book=book) for year in (one, other))
    ]
    assert said[0] == said[1]


# Held to the trade: the findings of a second reader.


def test_a_pint_with_ounces_is_all_measure() -> None:
    chosen = convert("1 pint 4 oz", years="1890", place="England").chosen
    assert chosen is not None
    assert chosen.volume_ml == pytest.approx(568.26125 + 4 * 28.4130625)  # Weights and Measures Act 1985


def test_a_name_of_the_book_goes_before_the_pure_thing() -> None:
    # U.S.P. 1890: alcohol of sp. gr. 0.820 at 15.6 C (Brunton); a pint of wine measure is 473.176 mL
    alcohol = convert("1 pint", years="1890", place="United States", book="dispensing", of="alcohol").chosen
    assert alcohol is not None
    assert alcohol.mass_g == pytest.approx(473.176473 * 0.820, rel=5e-3)


def test_a_household_pound_of_berlin_is_not_the_apothecarys() -> None:
    found = convert("1 Pfund", years="1780", place="Berlin", book="household")
    assert found.chosen is None or found.chosen.mass_g != pytest.approx(357.8, rel=1e-2)


def test_a_spoonful_of_what_nobody_knows_has_no_weight() -> None:
    chosen = convert("1 tablespoonful", years="1890", place="England", of="moon dust").chosen
    assert chosen is None or chosen.mass_g is None


def test_a_powder_does_not_drop() -> None:
    assert drop("borax") is None


@given(st.sampled_from(["2 oz.", "1 lb.", "3 tablespoonfuls", "10 drops", "1 pint"]), st.integers(1700, 1910))
def test_limits_hold_the_figure(text: str, year: int) -> None:
    found = convert(text, years=str(year), place="London", book="household", of="glycerin")
    for answer in (found.chosen, *found.others):
        if answer is None:
            continue
        for low, own, high in (
            (answer.mass_low_g, answer.mass_g, answer.mass_high_g),
            (answer.volume_low_ml, answer.volume_ml, answer.volume_high_ml),
        ):
            if own is not None and low is not None and high is not None:
                assert low <= own <= high


@pytest.mark.parametrize("of", ["wine", "zinc white or flake white"])
def test_a_name_of_several_things_still_tells_how_much_it_held(of: str) -> None:
    found = convert("two quarts", years="1875", place="New York", book="household", of=of)
    assert found.chosen is not None
    assert found.chosen.volume_ml == pytest.approx(2 * 946.352946)  # NIST Handbook 44, Appendix C
    assert found.notes


@pytest.mark.parametrize("text", ["60 o.p.", "22° Cartier", "sp. gr. .838", "proof spirit"])
def test_a_strength_is_no_quantity_and_where_to_ask_is_said(text: str) -> None:
    with pytest.raises(InputError, match="strength of a spirit") as refused:
        convert(text, years="1890", place="London")
    assert "strength(" in refused.value.remedy


def test_a_setting_may_be_given_whole_or_in_words() -> None:
    whole = Setting("1890", "England", "household")
    words = {"years": "1890", "place": "England", "book": "household"}
    assert convert("1 pint", whole).chosen == convert("1 pint", **words).chosen
    assert identify("flake white", whole) == identify("flake white", **words)
    with pytest.raises(InputError, match="words beside it"):
        convert("1 pint", whole, place="England")


@pytest.mark.parametrize(
    "ask",
    [
        lambda: convert(None),
        lambda: convert("1 oz.", years=1890),
        lambda: convert("1 oz.", of=3),
        lambda: convert("1 oz.", rule=None),
        lambda: identify(None),
        lambda: identify("starch", "1880"),
        lambda: rl.strength(None),
        lambda: rl.dilute("60 o.p.", "proof", None),
        lambda: Setting(place=None),
        lambda: rl.Use("cold cream", law="France"),
    ],
    ids=["text", "years", "of", "rule", "name", "setting", "strength", "amount", "place", "law"],
)
def test_what_is_no_text_or_no_law_is_refused_in_words(ask: Callable[[], object]) -> None:
    with pytest.raises(InputError):
        ask()
