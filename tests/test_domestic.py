"""Drops, spoons, handfuls and counted things: each size against the book that prints it, and what must hold of all."""

import itertools
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

import reconlab as rl
from reconlab.domestic import held, is_domestic, missing, size
from reconlab.errors import InputError
from reconlab.formula import Formula
from reconlab.materia import Published, density, drop, spread_of
from reconlab.reading.lines import read_line
from reconlab.reasons import Decision, Reason
from reconlab.receipts import Amount, Measured, Setting
from reconlab.tables import CountedThing, DomesticMeasure, Drop, Measure, Notation, by_id, rows

GRAIN = 0.06479891
IMPERIAL_DRACHM, WINE_DRACHM = 3.5516328125, 3.6966911953125
IMPERIAL_OUNCE, WINE_OUNCE = 28.4130625, 29.5735295625
MEASURES = sorted({row.measure for row in rows(DomesticMeasure)})
PLACES = st.sampled_from(["", "England", "Scotland", "Ireland", "United States", "Canada"])
SETTINGS = st.builds(Setting, st.integers(1600, 2020).map(str) | st.just(""), PLACES)


def made(text: str, *decisions: Decision, years: str = "1890", place: str = "England") -> Formula:
    return rl.translate(rl.read(text, title="A receipt", years=years, place=place), decisions)


# ---- the figures, each with the book that prints it ----------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "printed"),
    [
        # Henderson, Text-Book of Materia Medica, Measures of capacity: teaspoon 1 fl dr, dessertspoon 2 fl dr,
        # tablespoon 1/2 fl oz, teacup 5 fl oz, tumbler half a pint
        ("teaspoonful_gb_1910", IMPERIAL_DRACHM),
        ("dessertspoonful_gb_1910", 2 * IMPERIAL_DRACHM),
        ("tablespoonful_gb_1910", IMPERIAL_OUNCE / 2),
        ("teacupful_gb_1910", 5 * IMPERIAL_OUNCE),
        ("tumblerful_gb_1910", 10 * IMPERIAL_OUNCE),
        # Enquire Within Upon Everything, as quoted: wineglass 2 oz, teacup 6 oz
        ("wineglassful_gb_1856", 2 * IMPERIAL_OUNCE),
        ("teacupful_gb_1856", 6 * IMPERIAL_OUNCE),
        # Martindale and Westcott 1901, p. 14: teaspoon 85 minims = 5 cc, tablespoon 15 cc, wineglass 60, tumbler 250
        ("teaspoonful_gb_1901", 5),
        ("tablespoonful_gb_1901", 15),
        ("wineglassful_gb_1901", 60),
        ("tumblerful_gb_1901", 250),
        # Beck, A Reference Hand-Book for Nurses: teaspoon 1 fl dr, wineglass 2 fl oz, teacup 4 fl oz (wine measure)
        ("teaspoonful_us_1905", WINE_DRACHM),
        ("wineglassful_us_1905", 2 * WINE_OUNCE),
        ("teacupful_us_1905", 4 * WINE_OUNCE),
        # White House Cook Book, p. 645 of the scan: a wine-glass is half a gill, two gills a coffeecupful
        ("wineglassful_us_1887", 2 * WINE_OUNCE),
        ("coffee_cupful_us_1887", 8 * WINE_OUNCE),
        # Dutch pharmacopoeia, paras 13-14: 3, 8 and 15 cm3
        ("teaspoonful_nl_1905", 3),
        ("dessertspoonful_nl_1905", 8),
        ("tablespoonful_nl_1905", 15),
        # Bay of Plenty Beacon, 13 December 1948: British Standard cooking spoons of 100 and 300 minims
        ("teaspoonful_gb_cooking_1948", 100 / 60 * IMPERIAL_DRACHM),
        ("tablespoonful_gb_cooking_1948", 300 / 60 * IMPERIAL_DRACHM),
        # Hahnemann, Apothekerlexikon, Apothekermasse: handful 1/2 Unze, pugil 1 Quentchen, fascicle 1 1/2 Unzen;
        # the Nuremberg ounce is 480 Gran of 62.126 mg (Meyers 1905, p. 630)
        ("handful_de_1793", 0.062126 * 240),
        ("pugil_de_1793", 0.062126 * 60),
        ("fascicle_de_1793", 0.062126 * 720),
        # Wyeth 1906, p. 362, as quoted: a pugil is 30 to 60 grains, the eighth part of a handful
        ("pugil_us_1906", 45 * GRAIN),
        ("handful_us_1906", 8 * 45 * GRAIN),
        ("pinch_plant_us_1906", 45 * GRAIN),
        # Two French pages of today: a pinch of flowers or leaves 1 or 2 g, a handful 50 g;
        # a pinch 2 to 3 g, a handful 30 to 40
        ("pinch_plant_fr_2008", 1.5),
        ("handful_plant_fr_2008", 50),
        ("pinch_plant_fr_2012", 2.5),
        ("handful_plant_fr_2012", 35),
        # Gastronomiac, Contenance et capacité: verre à madère, 5 to 6 cl
        ("madeira_glassful_fr", 55),
        # Ewald and Lüdecke 1883, p. 12: Tassenkopf 100 g; Meyers 1905, p. 835: 120 g
        ("cupful_de_1883", 100),
        ("cupful_de_1905", 120),
    ],
)
def test_a_domestic_measure_is_as_its_book_prints_it(key: str, printed: float) -> None:
    assert by_id(DomesticMeasure)[key].value == pytest.approx(printed, rel=1e-4)


@pytest.mark.parametrize(
    ("key", "printed"),
    [
        # Henley 1914: common hen, net weight of the egg, small 550.54, mean 645.77, large 709.11 grains
        ("egg_us_1914", 645.77 * GRAIN),
        # Leslie, Directions for Cookery: ten eggs weigh a pound; shell 106.9 in 1,000 (Prout in Pereira 1872, p. 1046)
        ("egg_us_1837", 453.59237 / 10 * (1 - 0.1069)),
        # Prout in Pereira 1872: white 604.2 and yolk 288.9 in 1,000 of the whole egg, Henley's mean of 738.35 grains
        ("egg_white_us_1914", 738.35 * 0.6042 * GRAIN),
        ("egg_yolk_us_1914", 738.35 * 0.2889 * GRAIN),
        # U.S. Department of Agriculture, file of weights: 01123 large 50, 01124 white 33, 01125 yolk 17, 09152 lemon
        ("egg_us_usda", 50),
        ("egg_white_us_usda", 33),
        ("egg_yolk_us_usda", 17),
        ("lemon_juice_us_usda", 48),
        # Knight's Cyclopaedia of the Industry of All Nations, Nutmegs: 90 grains each on an average
        ("nutmeg_gb_1850", 90 * GRAIN),
    ],
)
def test_a_counted_thing_weighs_what_its_book_prints(key: str, printed: float) -> None:
    assert by_id(CountedThing)[key].value == pytest.approx(printed, rel=1e-4)


@pytest.mark.parametrize(
    ("key", "milligrams"),
    [
        # Buchheister 1893, p. 43: drops to the gram: heavy oils 20, sulphuric acid 12, nitric acid 13
        ("bitter_almond_oil_bottle", 1000 / 20),
        ("sulphuric_acid_bottle", 1000 / 12),
        ("nitric_acid_bottle", 1000 / 13),
        # Hahnemann, Tropfen, pp. 336-337: 400 drops of water are 405 Gran, of potash lye 340, of sulphuric acid 288
        ("water_glass_lip", 405 / 400 * 62.126),
        ("potash_lye_glass_lip", 340 / 400 * 62.126),
        ("sulphuric_acid_glass_lip", 288 / 400 * 62.126),
        # U.S.P. 32, chapter 1101: a drop of water weighs 45 to 55 mg
        ("water_usp_dropper", 50),
        # Brussels agreement, art. 9, as printed in 1929: 20 drops of distilled water at 15 C weigh 1 gram
        ("water_brussels_1906", 1000 / 20),
    ],
)
def test_a_drop_weighs_what_its_book_prints(key: str, milligrams: float) -> None:
    assert by_id(Drop)[key].drop_mg == pytest.approx(milligrams, rel=2e-3)


# ---- which sources speak ------------------------------------------------------------------------------------


def test_sources_of_the_place_within_a_generation_make_the_size() -> None:
    spoon = size("tablespoonful", "", "", Setting("1890", "England"))
    assert spoon is not None
    # 14.2065 mL (1856), 14.2065 (1861), 15 (1901), 14 to 14.2065 (1910): the middle is half a fluid ounce
    assert (spoon.usual, spoon.low, spoon.high) == pytest.approx((IMPERIAL_OUNCE / 2, 14, 15), rel=1e-4)
    assert "printed there within 30 years" in spoon.reason.says
    assert {source.key for source in spoon.reason.all_sources()} >= {"martindale_1901", "beeton_1861"}


def test_books_that_agree_have_measured_no_spoon() -> None:
    spoon = size("teaspoonful", "", "", Setting("1860", "United States"))
    assert spoon is not None
    assert spoon.usual == pytest.approx(WINE_DRACHM, rel=1e-4)  # a fluid drachm in every book of the time
    assert spoon.high == pytest.approx(1.5 * WINE_DRACHM, rel=1e-3)  # silver spoons measured: 1 1/2 fluid drams
    assert "these agree" in spoon.reason.says


@pytest.mark.parametrize("setting", [Setting(), Setting("1650", "England"), Setting("1890", "")])
def test_where_no_source_speaks_all_are_taken_and_it_says_so(setting: Setting) -> None:
    spoon = size("teaspoonful", "", "", setting)
    assert spoon is not None
    everything = [row for row in rows(DomesticMeasure) if row.measure == "teaspoonful" and not row.of]
    assert len(spoon.reason.because) == len(everything)
    assert spoon.low == min(row.low or row.value for row in everything)
    assert spoon.high == max(row.high or row.value for row in everything)
    assert "all" in spoon.reason.says


def test_the_source_nearest_in_time_gives_the_middle() -> None:
    # Enquire Within 1856-90: a teacup of 6 oz.; Henderson, about 1910: 5 fl. oz.; Martindale 1901: a teaspoon of 5 mL
    for years, ounces in (("1890", 6), ("1910", 5)):
        assert size("teacupful", "", "", Setting(years, "England")).usual == pytest.approx(
            ounces * IMPERIAL_OUNCE, rel=1e-4
        )
    assert size("teaspoonful", "", "", Setting("1902", "England")).usual == 5
    # Household Discoveries 1909: four saltspoons to the teaspoon, four of these to the tablespoon of half an ounce
    assert size("saltspoonful", "", "", Setting("1909", "New York")).usual == pytest.approx(WINE_DRACHM / 4, rel=1e-4)


def test_where_no_year_is_spoken_for_the_country_gives_the_middle() -> None:
    assert size("teaspoonful", "", "", Setting("1880", "Paris")).usual == 5  # Gastronomiac: cuillère à café, 0,5 cl


def test_an_undated_source_speaks_for_no_year() -> None:
    undated = Published(1, 2, 3, ("GB",), None, None, Reason("a page"))
    assert not undated.speaks_for(Setting("1890", "England"))
    assert replace(undated, from_year=1880, to_year=1880).speaks_for(Setting("1890", "England"))
    assert not replace(undated, from_year=1850, to_year=1850).speaks_for(Setting("1890", "England"))
    assert not replace(undated, from_year=1880, to_year=1880).speaks_for(Setting("1890", "United States"))


@given(SETTINGS, st.sampled_from([*MEASURES, "drop", "piece"]))
def test_a_size_holds_its_usual_and_an_unknown_setting_never_narrows_it(setting: Setting, unit: str) -> None:
    key, name = ("glycerin", "white of egg") if unit in ("drop", "piece") else ("", "")
    known, unknown = size(unit, key, name, setting), size(unit, key, name, Setting())
    assert known is not None
    assert unknown is not None
    assert known.low <= known.usual <= known.high
    assert unknown.low <= known.low
    assert known.high <= unknown.high
    assert unknown.low <= unknown.usual <= unknown.high
    assert known.unit == unknown.unit
    assert known.reason.all_sources()


@given(st.lists(st.floats(0.1, 100), min_size=1, max_size=6), SETTINGS)
def test_any_sources_make_a_spread_that_holds_its_middle(sizes: list[float], setting: Setting) -> None:
    found = [Published(s, s, s, ("GB",), 1700 + 40 * n, 1700 + 40 * n, Reason("a book")) for n, s in enumerate(sizes)]
    spread = spread_of("size: spoon", "How big?", "a spoon", "mL", found, setting=setting)
    assert spread.low < spread.usual < spread.high or min(sizes) < max(sizes)
    assert spread.low <= spread.usual <= spread.high
    if min(sizes) < max(sizes):
        assert min(sizes) <= spread.low
        assert spread.high <= max(sizes)


def test_one_figure_alone_is_not_sure() -> None:
    heaped = size("heaped_tablespoonful", "", "", Setting("1913", "United States"))
    assert heaped is not None
    # Hiller, How to measure: a rounded tablespoon is two level ones, an ounce of wine measure; two of these heap it
    assert (heaped.low, heaped.usual, heaped.high) == pytest.approx((WINE_OUNCE, WINE_OUNCE, 2 * WINE_OUNCE))


def test_a_drop_goes_by_liquid_and_its_middle_by_place_and_year() -> None:
    american, anywhere = drop("ethanol", Setting("1900", "United States")), drop("ethanol")
    assert american is not None
    assert anywhere is not None
    # Gorgas, p. 25: 146 drops of alcohol in sixty minims; a drop weighs that times the density of the thing
    assert american.usual == pytest.approx(WINE_DRACHM / 146 * density("ethanol").number, rel=1e-3)
    assert (american.low, american.high) == (anywhere.low, anywhere.high)  # the dropper is not known from the place


def test_the_droppers_of_codex_and_agreement_make_the_middle_there() -> None:
    # Brussels agreement, art. 9: 20 drops of water to the gram; the Codex of 1884 had the same (from memory)
    for years, place in (("1884", "Paris"), ("1911", "Berlin"), ("1911", "London")):
        water = drop("water", Setting(years, place))
        assert water is not None
        assert water.usual == pytest.approx(0.05), place
    # Meyers 1905, p. 835: 16 drops of water to the gram, before the agreement reached the Arzneibuch
    german = drop("water", Setting("1905", "Berlin"))
    assert german is not None
    assert german.usual == pytest.approx(1 / 16)


def test_a_pinch_of_leaves_is_weighed_and_one_of_salt_filled() -> None:
    # Two French pages of today: 1 or 2 g, 2 to 3 g of flowers or leaves; Wyeth 1906, as quoted: 30 to 60 grains
    leaves = size("pinch", "chamomile", "camomile flowers", Setting("1870", "Paris"))
    salt, unnamed = (size("pinch", key, "", Setting("1870", "Paris")) for key in ("salt", ""))
    assert leaves is not None
    assert (leaves.usual, leaves.unit) == (pytest.approx(2), "g")
    assert salt is not None
    assert unnamed is not None
    assert (salt.unit, unnamed.unit) == ("mL", "mL")
    assert leaves.id != salt.id


@pytest.mark.parametrize(
    ("text", "one", "count"),
    [
        ("2 Eier", "egg", 2),
        ("ein Ei", "egg", 1),
        ("3 Eiweiß", "white of egg", 3),
        ("das Weiße von 2 Eiern", "white of egg", 2),
        ("2 Eidotter", "yolk of egg", 2),
        ("die Dotter von 3 Eiern", "yolk of egg", 3),
        ("un œuf", "egg", 1),
        ("2 jaunes d'oeufs", "yolk of egg", 2),
        ("les blancs de 2 oeufs", "white of egg", 2),
        ("3 glaires d'oeufs", "white of egg", 3),
    ],
)
def test_eggs_are_counted_in_french_and_german(text: str, one: str, count: int) -> None:
    each = size("piece", "", one, Setting("1880", "Paris"))
    chosen = rl.convert(text, years="1880", place="Paris").chosen
    assert each is not None
    assert chosen is not None
    assert chosen.mass_g == pytest.approx(count * each.usual)


def test_what_britain_printed_speaks_for_ireland() -> None:
    # Enquire Within, as quoted: wineglass 2 oz
    irish = size("wineglassful", "", "", Setting("1880", "Dublin"))
    assert irish is not None
    assert irish.usual == pytest.approx(2 * IMPERIAL_OUNCE, rel=1e-4)


def test_a_drop_is_weighed_or_measured_and_one_dropper_is_one_source() -> None:
    assert all((row.drop_mg is None) is not (row.drop_ul is None) for row in rows(Drop))
    oil = drop("lavender_oil")
    assert oil is not None
    # Buchheister 1893: 25 drops of such oils to the gram; Gorgas, p. 25: seven oils, 125 to 136 drops in sixty minims
    assert oil.high == pytest.approx(0.040)
    assert oil.low == pytest.approx(1 / 50)  # the Codex of 1884, about 50 to the gram (from memory)
    american = drop("lavender_oil", Setting("1900", "Philadelphia"))
    assert american is not None
    assert american.usual == pytest.approx(WINE_DRACHM / 130 * density("lavender_oil").number, rel=1e-2)
    german = drop("lavender_oil", Setting("1900", "Berlin"))
    assert german is not None
    assert german.usual == pytest.approx(0.040)  # Meyers 1905 has 25 to the gram too


def test_a_liquid_of_no_weighed_class_takes_the_rules_of_thumb_and_a_powder_none() -> None:
    unknown = drop("not identified: sea water")
    assert unknown is not None
    # half a minim (Thomas 1906) to about one Gran, 62.1 mg (Hahnemann's Apothekerlexikon)
    assert (unknown.low, unknown.high) == pytest.approx((WINE_DRACHM / 120, 0.0621), rel=1e-3)
    assert drop("talc") is None


def test_a_handful_of_leaves_tells_nothing_of_a_handful_of_powder() -> None:
    assert size("handful", "talc", "talc", Setting()) is None
    leaves = size("handful", "not identified: rose petals", "rose petals", Setting())
    assert leaves is not None
    assert leaves.unit == "g"
    assert "leaves or flowers" in leaves.reason.says


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("white of egg", True),
        ("whites of eggs", True),
        ("large fresh lemons", True),
        ("juice of sour lemon", True),
        ("oil of lemon", False),
        ("lemon peel", False),
        ("alkanet root", False),
        ("", False),
    ],
)
def test_a_count_is_of_the_whole_thing_and_not_of_what_is_made_of_it(name: str, *, found: bool) -> None:
    assert (size("piece", "", name, Setting()) is not None) is found


def test_the_juice_of_a_lemon_is_not_the_lemon() -> None:
    juice, lemon = size("piece", "", "juice of sour lemon", Setting()), size("piece", "", "lemons", Setting())
    assert juice is not None
    assert lemon is not None
    assert juice.high < lemon.usual


# ---- reading ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "count", "unit", "name"),
    [
        ("Whites of 2 eggs.", 2, "piece", "Whites of eggs"),
        ("The whites of two eggs", 2, "piece", "whites of eggs"),
        ("2 egg whites", 2, "piece", "egg whites"),
        ("Whites of eggs, 2", 2, "piece", "Whites of eggs"),
        ("The yolk of an egg", 1, "piece", "yolk of egg"),
        ("1 lemon", 1, "piece", "lemon"),
        ("1 lemon, sliced", 1, "piece", "lemon"),
        ("Juice of 1 lemon", 1, "piece", "Juice of lemon"),
        ("the juice of half a lemon", 0.5, "piece", "juice of lemon"),
        ("2 yolks", 2, "piece", "yolks"),
        ("half a dozen eggs", 6, "piece", "eggs"),
        ("Take six new-laid Eggs", 6, "piece", "Eggs"),
        ("Nutmegs, 2", 2, "piece", "Nutmegs"),
        ("a tea-cupful of rose-water", 1, "teacupful", "rose-water"),
        ("a pinch of salt", 1, "pinch", "salt"),
        ("one heaped teaspoonful of borax", 1, "heaped_teaspoonful", "borax"),
        ("one piece of camphor the size of a walnut", 1, "size_of_walnut", "camphor"),
        ("two spoonfuls of brandy", 2, "spoonful", "brandy"),
    ],
)
def test_what_is_counted_is_read(line: str, count: float, unit: str, name: str) -> None:
    read = read_line(line, 1, among_ingredients=True)
    (item,) = read.items
    (part,) = item.quantities[0].parts
    assert (part.amount.value, part.unit, item.name) == (count, unit, name)
    assert not read.unread


@pytest.mark.parametrize(
    "line", ["3 orange flower water", "2 oz. lemon peel", "six lemon drops", "Oil of lemon, 2 drops"]
)
def test_what_is_made_of_a_counted_thing_is_not_counted(line: str) -> None:
    items = read_line(line, 1, among_ingredients=True).items
    assert "piece" not in {part.unit for item in items for q in item.quantities for part in q.parts}


def test_a_count_stands_between_other_items() -> None:
    items = read_line("Honey 2 oz., white of 1 egg, oil of almonds 1 oz.", 1, among_ingredients=True).items
    read = [(item.name, item.quantities[0].parts[0].amount.value, item.quantities[0].parts[0].unit) for item in items]
    assert read == [("Honey", 2, "ounce"), ("white of egg", 1, "piece"), ("oil of almonds", 1, "ounce")]


def test_every_measure_on_file_can_be_read_and_has_one_unit() -> None:
    read = {row.value for row in rows(Notation) if row.meaning == "unit"}
    assert set(MEASURES) <= read
    for measure, leaves in itertools.product(MEASURES, (True, False)):  # a pinch of leaves is weighed, of salt filled
        of_such = [row for row in rows(DomesticMeasure) if ("plant part" in row.states) is leaves and not row.of]
        assert len({row.unit for row in of_such if row.measure == measure}) <= 1, measure
    assert not set(MEASURES) & set(by_id(Measure))


def test_limits_hold_their_value() -> None:
    for row in (*rows(DomesticMeasure), *rows(CountedThing)):
        assert (row.low or row.value) <= row.value <= (row.high or row.value), row.id
        assert (row.from_year is None) is (row.to_year is None), row.id


def test_a_name_counts_one_thing() -> None:
    first = {name: row.names[0] for row in rows(CountedThing) for name in row.names}
    assert all(first[name] == row.names[0] for row in rows(CountedThing) for name in row.names)


# ---- convert ------------------------------------------------------------------------------------------------


def test_convert_answers_with_limits() -> None:
    answer = rl.convert("2 tablespoonfuls", years="1890", place="England", of="glycerin").chosen
    assert answer is not None
    # Henderson: 14 cc to half a fluid ounce; Martindale 1901: 15 cc; glycerin 1.26 g/mL (B.P.C. 1911)
    assert answer.volume_ml == pytest.approx(IMPERIAL_OUNCE, rel=1e-4)
    assert (answer.volume_low_ml, answer.volume_high_ml) == (28, 30)
    assert answer.mass_g == pytest.approx(IMPERIAL_OUNCE * 1.26, rel=1e-4)
    assert answer.mass_low_g == pytest.approx(28 * 1.26, rel=1e-3)
    assert answer.mass_high_g == pytest.approx(30 * 1.26, rel=3e-3)
    assert answer.custom == "household measure"


def test_convert_of_a_powder_goes_by_its_density_as_it_lies() -> None:
    answer = rl.convert("1 teaspoonful", years="1890", place="England", of="zinc oxide").chosen
    assert answer is not None
    assert answer.mass_g is not None
    assert answer.mass_high_g is not None
    assert answer.mass_g < IMPERIAL_DRACHM * 2  # zinc oxide itself is 5.6 g/mL
    assert answer.mass_low_g is not None
    assert answer.mass_low_g < answer.mass_g < answer.mass_high_g


def test_an_exact_measure_has_no_limits() -> None:
    answer = rl.convert("2 fl. oz.", years="1911", place="England", of="glycerin").chosen
    assert answer is not None
    assert (answer.volume_low_ml, answer.volume_high_ml) == (None, None)
    assert answer.mass_high_g - answer.mass_low_g < 0.002 * answer.mass_g  # the two densities of glycerin on file


def test_convert_counts_drops_and_eggs() -> None:
    drops = rl.convert("20 drops", years="1900", place="United States", of="glycerin").chosen
    eggs = rl.convert("3 pieces", of="white of egg").chosen
    assert drops is not None
    assert eggs is not None
    # Gorgas, p. 25: 67 drops of glycerin in sixty minims, at 1.260
    assert drops.mass_g == pytest.approx(20 * WINE_DRACHM / 67 * 1.26, rel=2e-3)
    assert eggs.mass_g is not None
    assert eggs.volume_ml is None
    assert eggs.mass_low_g == pytest.approx(3 * 20)  # Culbreth: 20 to 25 Gm
    assert eggs.mass_high_g == pytest.approx(3 * 33)  # U.S. Department of Agriculture


@pytest.mark.parametrize(("text", "of"), [("1 handful", "talc"), ("2 pieces", "talc")])
def test_convert_says_what_is_missing(text: str, of: str) -> None:
    with pytest.raises(InputError, match="on file"):
        rl.convert(text, of=of)


def test_a_drop_of_nothing_asks_of_what() -> None:
    with pytest.raises(InputError, match="hangs on the thing") as refused:
        rl.convert("20 drops")
    assert "of=" in refused.value.remedy


@pytest.mark.parametrize(("text", "of", "said"), [("1 oz. butter", "water", True), ("2 cups flour", "flour", False)])
def test_a_name_in_the_text_against_the_thing_asked_of_is_said(text: str, of: str, *, said: bool) -> None:
    notes = rl.convert(text, years="1900", place="Boston", of=of).notes
    assert any("The text names butter" in note for note in notes) is said


@given(st.integers(1, 40), st.sampled_from(["tablespoonful", "teaspoonful", "drop", "wineglassful"]))
def test_what_is_held_is_linear_in_the_count(count: int, unit: str) -> None:
    setting = Setting("1890", "England")
    one, many = (held(Measured(Amount(n, n, n, str(n)), unit), "glycerin", setting) for n in (1.0, float(count)))
    assert one is not None
    assert many is not None
    assert many.mass_g == pytest.approx(tuple(count * (figure or 0) for figure in one.mass_g))


def test_words_for_what_is_missing() -> None:
    assert missing("sheet") == "no weight of a sheet of it on file"
    assert is_domestic("drop")
    assert is_domestic("piece")
    assert not is_domestic("ounce")
    assert not is_domestic(None)


# ---- the formula --------------------------------------------------------------------------------------------

CREAM = "Two tablespoonfuls of glycerine\nGlycerine, a tablespoonful\nThe white of one egg\nRose water, 1 pint"


def test_the_spoons_of_one_book_are_one_question() -> None:
    formula = made(CREAM)
    spoons = [spread for spread in formula.ways.spreads if spread.key.startswith("size: ")]
    assert [spread.id for spread in spoons] == ["size: tablespoonful"]
    assert formula.mass("glycerin").number == pytest.approx(3 * IMPERIAL_OUNCE / 2 * 1.26, rel=1e-4)


def test_a_settled_spoon_narrows_every_line() -> None:
    wide = made(CREAM).mass("glycerin")
    for decision in (
        Decision(question="size: tablespoonful", figure=14.0, because="measured"),
        Decision(question="size: tablespoonful", option="14 mL", because="measured"),
    ):
        own = made(CREAM, decision).mass("glycerin")
        assert own.number == pytest.approx(3 * 14 * 1.26)
        assert own.high - own.low < wide.high - wide.low
        assert "settled: measured" in str(own.reason)


def test_a_settled_egg_is_in_grams() -> None:
    own = made(CREAM, Decision(question="weight: one white of egg", option="31 g")).mass("white of egg")
    assert (own.number, own.low, own.high) == pytest.approx((31, 31, 31))


@given(st.integers(1, 30))
def test_a_formula_is_linear_in_the_count(count: int) -> None:
    one, many = (made(f"Glycerine, {n} tablespoonfuls\nStarch, 1 oz.").mass("glycerin") for n in (1, count))
    assert many.number == pytest.approx(count * one.number)
    assert (many.low, many.high) == pytest.approx((count * one.low, count * one.high))


def test_a_spoonful_to_make_up_to_is_a_volume() -> None:
    formula = made("Borax, 60 gr.\nRose water, to make 1 teacupful")
    # between 5 and 6 fluid ounces (Henderson, Enquire Within): the water fills the rest
    assert 130 < formula.whole.number < 185


def test_a_page_with_spoons_and_eggs_is_screened_and_scaled_for_the_bench() -> None:
    page = "Two tablespoonfuls of glycerine\nThe whites of 2 eggs\nOil of bergamot, 5 drops\nRose water, 1/2 pint"
    formula, use = made(page), rl.Use("skin lotion", law="EU", on="2026-11-01")
    assert rl.screen(formula, use).findings
    plan = rl.bench(formula, make="100 g", balance="0.01 g", use=use)
    assert not plan.refused
    assert sum(line.planned_g for line in plan.lines) == pytest.approx(100, rel=1e-3)
    assert not formula.unweighed


def test_a_piece_of_a_thing_is_not_the_whole() -> None:
    (missing_one,) = made("a piece of lemon\nStarch, 1 oz.").unweighed
    assert missing_one.why == "no weight of a piece of it on file"


def test_another_books_spoons_are_its_own() -> None:
    spoon = size("tablespoonful", "", "", Setting())
    assert spoon is not None
    assert replace(spoon, book="a preparation of elsewhere").id != spoon.id
