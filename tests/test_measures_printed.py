"""Quantities as a person types them from a page: spoilt signs, counts, spoonfuls by weight, words of two meanings."""

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from reconlab.errors import InputError, ReconlabError
from reconlab.measures import convert, convert_table
from reconlab.measures.printed import understood
from reconlab.reading.tokens import tokens
from reconlab.receipts import Setting
from reconlab.reducing import strength
from reconlab.spirit import strength_readings

GRAIN, OUNCE, POUND = 0.06479891, 28.349523125, 453.59237
DRACHM = 60 * GRAIN
WINE_DRACHM = 3.6966911953125


def chosen(text: str, years: str, place: str, book: str = "", of: str = "") -> float:
    answer = convert(text, years=years, place=place, book=book, of=of).chosen
    assert answer is not None
    return float(answer.volume_ml if answer.mass_g is None else answer.mass_g)  # type: ignore[arg-type]


# The Household Physician, about 1905, ch. 27, as scanned: "f3j", "3ss"; Rhodes, Pocket Dose Book 1893: "3i";
# Meyers 1888, Apothekergewicht: "ʒjjjβ heißt demnach 3½ Drachmen"; Endecott 1681, p. 31: "ʒ i s"
@pytest.mark.parametrize(
    ("text", "years", "place", "comes_to"),
    [
        ("f3j", "1905", "United States", WINE_DRACHM),
        ("3ss", "1905", "United States", DRACHM / 2),
        ("3i", "1893", "United States", DRACHM),
        ("drachms iij", "1896", "United States", 3 * DRACHM),
        ("ʒjjjβ", "1840", "Preußen", 3.5 * 350.783 / 96),
        ("ʒ i s", "1681", "New England", 1.5 * DRACHM),
    ],
)
def test_signs_as_scans_and_old_hands_print_them(text: str, years: str, place: str, comes_to: float) -> None:
    assert chosen(text, years, place, "dispensing") == pytest.approx(comes_to, rel=1e-3)


def test_a_mended_sign_says_so_and_leaves_the_other_open() -> None:
    found = convert("3ij", years="1890", place="England", book="dispensing")
    assert "makes no sense as it stands" in found.notes[-1]
    assert any("ounce" in other.measure for other in found.others)


# American dose books set a fraction with a hyphen: "1-6 grain" is a sixth
def test_a_hyphen_for_a_stroke() -> None:
    assert chosen("1-6 grain", "1890", "United States", "dispensing") == pytest.approx(GRAIN / 6)
    plural = convert("gr. 1-10", years="1890", place="United States", book="dispensing")
    assert plural.chosen is not None
    assert plural.chosen.mass_g == pytest.approx(5.5 * GRAIN)
    assert any(other.mass_g == pytest.approx(GRAIN / 10) for other in plural.others)


# Law of 4 July 1837: metric weights alone from 1 January 1840
@pytest.mark.parametrize(("years", "grams"), [("1850", 250.0), ("1890", 250.0), ("1780", 250 * 489.50585 / 9216)])
def test_gr_is_a_gramme_where_the_gramme_is_law(years: str, grams: float) -> None:
    assert chosen("250 gr.", years, "Paris", "trade", "savon") == pytest.approx(grams, rel=1e-5)
    table = convert_table(["250 gr."], years=years, place="Paris", book="trade", of="savon")
    assert table.mass_g[0] == pytest.approx(grams, rel=1e-5)


def test_gr_stays_a_grain_in_english_books_and_before_roman_numerals() -> None:
    assert chosen("5 gr.", "1890", "England", "dispensing") == pytest.approx(5 * GRAIN)
    assert all(way.quantity.parts[0].unit == "grain" for way in understood("gr. x", Setting("1890", "Paris")))


def test_a_decimal_by_itself_is_grams_in_metric_lands_only() -> None:
    assert chosen("10,0", "1900", "Deutschland", "dispensing") == 10
    with pytest.raises(ReconlabError):
        convert("10,0", years="1900", place="England")


# Hahnemann, Apothekerlexikon, Apothekermaße: M. Manip. j, a handful; the minim is of the London Pharmacopoeia of 1809
def test_m_is_a_handful_before_the_minim_and_minims_after() -> None:
    assert understood("M. ij", Setting("1700", "England"))[0].quantity.parts[0].unit == "handful"
    assert chosen("M xv", "1890", "England", "dispensing") == pytest.approx(15 * 3.5516328125 / 60)
    assert understood("P. j", Setting("1700", "England"))[0].quantity.parts[0].unit == "pugil"


def test_an_ounce_by_weight_weighs_though_the_thing_is_liquid() -> None:
    found = convert("8 oz. (by weight)", years="1880", place="England", book="trade", of="glycerin")
    assert found.chosen is not None
    assert found.chosen.mass_g == pytest.approx(8 * OUNCE)
    assert not any("fluid" in other.measure for other in found.others)


# ---- spoons, cups and eggs, each with its book ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "of", "years", "place", "grams"),
    [
        # Benton, How to Cook Well 1886: 1 tablespoonful butter about 1 oz.; Neil 1918, all level: 2 to the ounce
        ("1 tablespoonful", "butter", "1886", "United States", OUNCE),
        ("2 tablespoons", "butter", "1918", "United States", OUNCE),
        # Price 1921: 4 tablespoons flour 1 ounce, 2 cups granulated sugar 1 pound; Neil 1918: 1 cup rice 8 ounces
        ("4 tablespoons", "flour", "1921", "United States", OUNCE),
        ("2 cups", "sugar", "1921", "United States", POUND),
        ("1 cup", "rice", "1918", "United States", 8 * OUNCE),
        # Buckeye Cookery, p. 331: 1 table-spoon, well heaped, of granulated sugar 1 oz.
        ("a heaped tablespoonful", "sugar", "1880", "United States", OUNCE),
        # Steel and Gardiner 1909, p. 18: full and pressed down, one ounce of most things, of suet half an ounce
        ("a tablespoonful", "sugar", "1909", "England", OUNCE),
        ("a tablespoonful", "suet", "1909", "England", OUNCE / 2),
        # Kitchiner, Cook's Oracle: a large table-spoonful of flour about half an ounce
        ("a large table-spoonful", "flour", "1825", "England", OUNCE / 2),
        # Davidis, Praktisches Abmessen: 1 gehäufter Eßlöffel 25 g Mehl; Prato 1872: Zucker like a Loth
        ("1 gehäufter Eßlöffel", "Mehl", "1900", "Deutschland", 25),
        ("1 Eßlöffel", "Zucker", "1872", "Graz", 17.5),
        # Hoodless 1898: butter the size of an egg 2 ounces
        ("butter the size of an egg", "", "1898", "Canada", 2 * OUNCE),
    ],
)
def test_a_spoonful_weighs_what_the_books_of_the_country_say(
    text: str, of: str, years: str, place: str, grams: float
) -> None:
    assert chosen(text, years, place, "household", of) == pytest.approx(grams, rel=1e-4)


def test_a_smaller_spoon_is_filled_like_the_greater() -> None:
    table, dessert = (chosen(text, "1909", "England", of="sugar") for text in ("a tablespoonful", "a dessertspoonful"))
    assert dessert == pytest.approx(table / 2, rel=0.05)  # 2 and 4 drachms in every English book of the time


def test_a_spoonful_of_another_country_goes_by_the_spoon() -> None:
    butter = convert("1 tablespoonful", years="1890", place="Sweden", of="butter").chosen
    assert butter is not None
    assert butter.volume_ml is not None
    assert butter.mass_g == pytest.approx(butter.volume_ml * POUND / 473.176473, rel=1e-3)  # a pint packed is a pound


# Hiller, Left-Over Foods: 9 to 10 eggs without shells 1 pound; Neil 1918: 10 or 9 medium eggs 1 pound
@pytest.mark.parametrize("text", ["9 eggs", "nine fresh eggs"])
def test_eggs_are_counted_without_a_name_beside_them(text: str) -> None:
    assert POUND * 0.85 < chosen(text, "1918", "United States", "household") < POUND * 1.1


def test_the_text_names_the_part_of_the_egg() -> None:
    white, yolk = (chosen(text, "1914", "United States") for text in ("the whites of 2 eggs", "the yolks of 2 eggs"))
    # Henley 1914: 604.2 in 1,000 of the egg without its shell is white, 288.9 yolk
    assert white / yolk == pytest.approx(604.2 / 288.9, rel=0.1)


def test_a_thing_named_behind_the_quantity_is_taken_and_what_nobody_knows_is_left_open() -> None:
    assert chosen("2 oz. of borax", "1890", "England", "trade") == pytest.approx(2 * OUNCE)
    assert convert("2 oz. of moon dust", years="1890", place="England", book="trade").chosen is None


# ---- drops, glasses, casks ------------------------------------------------------------------------------------


def test_tinctures_drop_like_alcohol_and_ether_smaller_still() -> None:
    # Whitla 1882, p. 9: 120 drops of tincture of digitalis or opium in sixty minims
    tincture = convert("30 drops", years="1882", place="England", of="tincture of digitalis").chosen
    assert tincture is not None
    assert tincture.mass_g == pytest.approx(30 * 3.5516328125 / 120, rel=0.2)
    # Gorgas, p. 25: ether 172, chloroform 250 drops in sixty minims; Meyers 1905: Äther 50 drops to the gram
    for of, count in (("ether", 172), ("chloroform", 250)):
        found = convert("30 drops", years="1890", place="United States", of=of).chosen
        assert found is not None
        assert found.volume_ml is None or found.volume_ml == pytest.approx(30 * WINE_DRACHM / count, rel=2e-3)
    assert chosen("50 Tropfen", "1905", "Deutschland", "dispensing", "Äther") == pytest.approx(1)


# Meyers 1905, Arzneidosis: Teelöffel 4, Weinglas 120 (Davidis has 125); Edwards and Vavasseur 1829: verre 156.25
@pytest.mark.parametrize(
    ("text", "years", "place", "ml"),
    [
        ("2 Teelöffel", "1905", "Deutschland", 8),
        ("ein Weinglas", "1905", "Deutschland", 122.5),
        ("un verre", "1829", "France", 156.25),
    ],
)
def test_glasses_and_spoons_of_the_continent(text: str, years: str, place: str, ml: float) -> None:
    answer = convert(text, years=years, place=place, book="dispensing").chosen
    assert answer is not None
    assert answer.volume_ml == pytest.approx(ml)


def test_beer_had_a_gallon_of_its_own() -> None:
    # Hutton 1795: the ale gallon of 282 cubic inches, the wine gallon of 231
    assert chosen("a gallon", "1795", "England", "trade", "wine") == pytest.approx(231 * 16.387064)
    answer = convert("a gallon", years="1795", place="England", book="trade", of="ale").chosen
    assert answer is not None
    assert answer.volume_ml == pytest.approx(282 * 16.387064)


def test_a_firkin_of_butter_is_a_weight_and_one_of_beer_a_measure() -> None:
    # A Table of Customary Weights and Measures, about 1825: a firkin of butter is 56 lbs.; of beer 9 gallons
    assert chosen("a firkin", "1880", "England", "trade", "butter") == pytest.approx(56 * POUND)
    beer = convert("a firkin", years="1880", place="England", book="trade", of="beer").chosen
    assert beer is not None
    assert beer.volume_ml == pytest.approx(9 * 4546.09)


def test_a_bottle_is_read_only_where_it_is_asked_for() -> None:
    assert chosen("a bottle", "1880", "England", "household") == pytest.approx(4546.09 / 6, rel=1e-6)  # reputed quart
    assert tokens("a bottle")
    assert not any("unit" in way.because for way in understood("a bottle", Setting("1880", "England")))


def test_the_pinte_is_as_its_standard_was_measured_and_the_rule_stands_beside_it() -> None:
    for text, parts in (("une pinte", 1), ("une chopine", 2), ("un demi-setier", 4), ("un poisson", 8)):
        found = convert(text, years="1765", place="Paris", of="eau")
        assert found.chosen is not None
        assert found.chosen.volume_ml == pytest.approx(931.36 / parts)  # sizes.com, posson: 116.42 mL
        assert any(other.volume_ml == pytest.approx(952.146 / parts) for other in found.others)  # Encyclopédie 1765


def test_quint_is_a_quarter_of_a_loth_outside_the_north_west() -> None:
    # Deutsches Rechtswörterbuch, Quint: the fourth part of a Lot; Lueger 1909: in Hanover the tenth of a Neulot
    assert chosen("1 Quint", "1840", "Preußen", "household") == pytest.approx(chosen("1 Loth", "1840", "Preußen") / 4)
    assert chosen("1 Quint", "1862", "Hannover", "trade") == pytest.approx(5)


def test_german_gravities_and_per_cents() -> None:
    # Die Bierbrauerei, p. 117: 0,900 is 65 per cent by volume, 0,875 is 75; Wagner 1871: 48 Proc. Tr.
    for text, percent in (("spec. Gew. 0,900", 65), ("0,900 spec. Gewicht", 65), ("spez. Gew. 0,875", 75)):
        found = strength(text, years="1865", place="Deutschland").chosen
        assert found is not None
        assert found.percent_v_v == pytest.approx(percent, abs=1.2)
    assert strength_readings("48 Proc. Tr.", Setting("1871", "Bayern"))[0].id == "tralles"


@given(st.text(max_size=12), st.sampled_from(["", "England", "Paris", "Berlin"]))
def test_no_text_breaks_it(text: str, place: str) -> None:
    try:
        ways = understood(text, Setting("1880", place))
    except ReconlabError:
        return
    assert ways


def test_a_table_gives_what_each_quantity_gives() -> None:
    texts = ["3ij", "2 oz. of borax", "250 gr.", "9 eggs", "1-6 grain", "M xv", "112 grains", "2 oz."]
    table = convert_table(pd.DataFrame({"text": texts}), years="1890", place="England", book="dispensing")
    for text, mass, volume in zip(texts, table.mass_g, table.volume_ml, strict=True):
        one = convert(text, years="1890", place="England", book="dispensing").chosen
        assert one is not None
        assert (one.mass_g or 0) == pytest.approx(0 if pd.isna(mass) else mass)
        assert one.mass_g is not None or one.volume_ml == pytest.approx(volume)


# Meyers 1908, Lot, p. 725: "in den Hansestädten und den Staaten des Steuervereins 10 L." of the Zollpfund of 500 g
@pytest.mark.parametrize("place", ["Hannover", "Hamburg", "Bremen"])
def test_the_loth_of_the_north_west_may_be_a_tenth_of_the_zollpfund(place: str) -> None:
    found = convert("1 Loth", years="1862", place=place, book="household")
    answers = (*([found.chosen] if found.chosen else []), *found.others)
    assert any(answer.mass_g == pytest.approx(50) and answer.standing != "unlikely" for answer in answers)
    assert any(14 < float(answer.mass_g or 0) < 16 for answer in answers)  # the old Loth ran on in kitchens


@pytest.mark.parametrize(("text", "place"), [("1.500 Gramm", "Berlin"), ("1,500 grammes", "Paris")])
def test_three_figures_behind_a_stop_or_comma_are_thousands_or_decimals(text: str, place: str) -> None:
    found = convert(text, years="1890", place=place)
    assert found.chosen is not None
    assert {found.chosen.mass_g, *(other.mass_g for other in found.others)} == {1500, 1.5}
    assert "1500 or 1.5" in found.notes[-1]


def test_an_english_page_parts_thousands_by_commas() -> None:
    assert chosen("1,500 grains", "1890", "England", "dispensing") == pytest.approx(1500 * GRAIN)


@pytest.mark.parametrize("text", ["85 per cent by volume", "85 % by volume", "85 Proc. vol."])
def test_what_stands_beside_a_share_is_no_liquid(text: str) -> None:
    # "by volume" was once taken for the name of a liquid, and the share for one by weight
    found = strength(text, years="1890", place="England").chosen
    assert found is not None
    assert found.percent_v_v == pytest.approx(85, abs=0.1)


@pytest.mark.parametrize(("text", "grams"), [("1 lb. white wax", POUND), ("2 oz spermaceti", 2 * OUNCE)])
def test_a_thing_may_stand_behind_any_unit(text: str, grams: float) -> None:
    assert chosen(text, "1898", "London", "household") == pytest.approx(grams)


def test_a_unit_not_on_file_is_named() -> None:
    with pytest.raises(ReconlabError, match="'Zuber' is no unit on file"):
        convert("1 Zuber", years="1860", place="Berlin")


def test_german_shares_say_of_what() -> None:
    for text, percent in (("96 Gewichtsprozent", 97.5), ("90 Volumprozent", 90), ("90 Vol.-%", 90)):
        found = strength(text, years="1890", place="Berlin").chosen
        assert found is not None
        assert found.percent_v_v == pytest.approx(percent, abs=0.1)


def test_a_liquid_without_a_strength_on_file_asks_for_its_figure() -> None:
    with pytest.raises(ReconlabError, match="no strength of 'lemon juice' is on file"):
        strength("lemon juice", years="1890", place="England")


def test_a_french_measure_without_a_number_is_one() -> None:
    # Encyclop\u00e9die, Pinte: the chopine is half the pinte
    paris = {"years": "1764", "place": "Paris", "book": "household"}
    one, both = convert("chopine", **paris).chosen, convert("deux pintes et chopine", **paris).chosen
    assert one is not None
    assert both is not None
    assert both.volume_ml == pytest.approx(5 * float(one.volume_ml or 0), rel=0.002)


@pytest.mark.parametrize(
    ("text", "place", "like"),
    [
        ("dos onzas", "Madrid", "2 onzas"),
        ("tre libbre", "Florence", "3 libbre"),
        ("twee oncen", "Amsterdam", "2 oncen"),
    ],
)
def test_numbers_in_other_tongues_count(text: str, place: str, like: str) -> None:
    words, figures = (convert(each, years="1780", place=place, book="household").chosen for each in (text, like))
    assert words is not None
    assert figures is not None
    assert words.mass_g == figures.mass_g


# A vessel or unit named without a number is one of it: the sizes are the published ones of that unit alone.
@pytest.mark.parametrize(
    ("text", "place", "milliliters"),
    [
        ("pint", "London", 568.261),  # United Kingdom Weights and Measures Act 1985: 0.56826125 cubic decimetre
        ("pint of rose water", "London", 568.261),
        ("pint", "Boston", 473.176),  # NIST Handbook 44, Appendix C: 473.176 milliliters
        ("fluid ounce", "Boston", 29.574),  # the same: 29.573 milliliters
        ("Wine glass", "London", 56.826),  # two fluid ounces, as cookery books of the time have it
    ],
)
def test_a_unit_without_a_number_is_one_of_it(text: str, place: str, milliliters: float) -> None:
    found = convert(text, years="1890", place=place)
    assert found.chosen is not None
    assert found.chosen.volume_ml == pytest.approx(milliliters, rel=2e-4)
    assert any("no number" in note for note in found.notes)


@pytest.mark.parametrize("text", ["handfuls", "ounces", "oz.", "lbs", "℥", "Unzen", "Pfunde", "onces"])
def test_several_without_a_number_are_refused(text: str) -> None:
    with pytest.raises(InputError):
        convert(text, years="1840", place="London")


# Enquire Within upon Everything: "two ounces each of orange-flower water and rose water"; a cookery book of 1905:
# "4 fluid oz or 8 tablespoonsful"; The Golden Age Cook Book: "a slightly heaping tablespoonful". The imperial fluid
# ounce is of 28.4130625 mL (Weights and Measures Act 1985).
@pytest.mark.parametrize(
    ("text", "of", "milliliters"),
    [
        ("two ounces each", "rose water", 2 * 28.4130625),
        ("two ounces of each", "rose water", 2 * 28.4130625),
        ("4 fluid oz or 8 tablespoonsful", "oil of lavender", 4 * 28.4130625),
        ("1/2 oz", "Spirits of Hartshorn", 28.4130625 / 2),  # several strengths, all liquid
    ],
)
def test_amounts_of_real_pages_come_to_what_they_say(text: str, of: str, milliliters: float) -> None:
    chosen = convert(text, of=of, years="1898", place="London", book="household").chosen
    assert chosen is not None
    assert chosen.volume_ml == pytest.approx(milliliters)


def test_an_amount_told_in_two_ways_keeps_both() -> None:
    found = convert("4 fluid oz or 8 tablespoonsful", of="oil of lavender", years="1905", place="London")
    assert any(answer.measure == "tablespoonful" for answer in found.others)
    assert any("two ways" in note for note in found.notes)


def test_a_spoon_may_be_heaped_and_unnumbered() -> None:
    chosen = convert("slightly heaping tablespoonful", of="Epsom salts", years="1898", place="London").chosen
    assert chosen is not None
    assert chosen.measure == "heaped tablespoonful"


@pytest.mark.parametrize(
    ("text", "of", "parts"),
    [
        ("4 ozs. av., 179 grs.", "", [(4, "ounce_avdp"), (179, "grain")]),
        ("One pound three quarters of flour", "flour", [(1.75, "pound")]),
        ("butter half as big as a hen's egg", "butter", [(0.5, "size_of_egg")]),
        ("une livre & demie de pommade", "pommade", [(1.5, "livre")]),
        ("1 velte d'esprit 3/6", "esprit 3/6", [(1, "velte")]),
        ("fourty three gallons of water", "water", [(43, "gallon")]),
    ],
)
def test_what_people_type_is_read(text: str, of: str, parts: list[tuple[float, str]]) -> None:
    first = understood(text, Setting())[0]
    assert [(part.amount.value, part.unit) for part in first.quantity.parts] == parts
    assert first.name == of


def test_the_strength_beside_a_spirit_gives_its_density() -> None:
    # OIML R 22: 60 % v/v at 20 C is 0.9091 g/mL; the centesimal degree is that of 15 C, where it is 0.4 % denser
    answer = convert("10 g d'alcool à 60°", years="1890", place="Paris", book="formulary").chosen
    assert answer.volume_ml == pytest.approx(10 / 0.909, rel=5e-3)
