"""Sizes an author gives his own units: exact for his book, the rest by its other units.

Check values are the author's own words times NIST Handbook 44, Appendix C (wine measure, avoirdupois, troy), and the
imperial gallon of 4.54609 L (UK Weights and Measures Act 1985, Schedule 1); gram and cubic centimetre as written.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import reconlab as rl
from reconlab.errors import InputError
from reconlab.measures import book_measures, convert, convert_table
from reconlab.reading.rules import read_rule
from reconlab.translation import translate

GRAIN = 0.06479891
AVDP_OZ, TROY_OZ = 437.5 * GRAIN, 480 * GRAIN
IMPERIAL_OZ, WINE_OZ = 4546.09 / 160, 3785.411784 / 128
WATER = 0.997047  # g/mL at 25 C, CRC Handbook; the table's 0.997
LONDON = {"years": "1890", "place": "London"}
PHILADELPHIA = {"years": "1890", "place": "Philadelphia"}
PARIS = {"years": "1845", "place": "Paris"}
BERLIN = {"years": "1880", "place": "Berlin"}


@pytest.mark.parametrize(
    ("rule", "claims"),
    [
        ("4 tablespoonfuls = 1 wineglass = half a gill", "wineglassful: 4 tablespoonful|wineglassful: 0.5 gill"),
        ("a dessert-spoonful is equal to a quarter of an ounce of water", "dessertspoonful: 0.25 ounce of water"),
        ("teaspoonful, 5 cc; tablespoonful: 15 cc", "teaspoonful: 5 milliliter|tablespoonful: 15 milliliter"),
        ("teaspoonful 5 cc, tablespoonful 15 cc", "teaspoonful: 5 milliliter|tablespoonful: 15 milliliter"),
        ("60 drops make a teaspoonful", "teaspoonful: 60 drop"),
        (
            "a spoon holds in syrups half an ounce, in distilled waters three drachms",
            "spoonful: 0.5 ounce of syrups|spoonful: 3 drachm of distilled waters",
        ),
        ("a cup is half a pint and a wineglass two ounces", "cupful: 0.5 pint|wineglassful: 2 ounce"),
        ("the ounce avoirdupois is divided into eight drachms", "ounce: avoirdupois|ounce: 8 drachm"),
        ("the pound of 16 ounces of 437½ grains each", "pound: 16 ounce|ounce: 437.5 grain"),
        ("1 lb = 12 oz = 96 drachms = 288 scruples", "pound: 12 ounce|ounce: 8 drachm|drachm: 3 scruple"),
        ("La livre est de 16 onces, l'once de 8 gros", "livre: 16 once|once: 8 gros"),
        ("Das Pfund hat 32 Loth, das Loth 4 Quentchen", "pfund: 32 loth|loth: 4 quentchen"),
        ("Weights: avoirdupois; measures: 1 pint = 16 ounces", "weights: avoirdupois|pint: 16 ounce"),
        (
            "The wine-glass holds two fluid ounces, the tea-cup five",
            "wineglassful: 2 fluid ounce|teacupful: 5 fluid ounce",
        ),
        (
            "N.B. A wineglassful is four tablespoonfuls, or two ounces",
            "wineglassful: 4 tablespoonful|tablespoonful: 0.5 ounce",
        ),
        ("Weights. 16 drams one ounce, 16 ounces one pound.", "ounce: 16 drachm|pound: 16 ounce"),
        ("Weights: 16 drams one ounce", "ounce: 16 drachm"),
        ("The ounces in this book are always fluid ounces", "ounce: 1 fluid ounce"),
        (
            "a tablespoonful of sugar weighs an ounce; of flour half an ounce",
            "tablespoonful: 1 ounce of sugar by weight|tablespoonful: 0.5 ounce of flour",
        ),
        ("Four drachms, by measure, make a tablespoonful", "tablespoonful: 4 fluid drachm"),
        ("la livre de 500 grammes, divisée en 16 onces", "livre: 500 gram|livre: 16 once"),
        ("the pint is the old wine pint of 16 ounces", "pint: wine|pint: 16 ounce"),
        ("a tablespoonful weighs half an ounce", "tablespoonful: 0.5 ounce by weight"),
    ],
)
def test_equal_amounts_are_read_as_they_stand(rule: str, claims: str) -> None:
    assert "|".join(map(str, read_rule(rule))) == claims


VOLUMES = [  # quantity, rule, setting, mL
    ("2 teaspoonfuls", "1 teaspoonful = 1 fluidram", PHILADELPHIA, 2 * WINE_OZ / 8),
    ("2 teaspoonfuls", "1 teaspoonful = 1 fluidram", LONDON, 2 * IMPERIAL_OZ / 8),
    ("1 dessertspoonful", "a dessert-spoonful is equal to a quarter of an ounce of water", LONDON, AVDP_OZ / 4 / WATER),
    ("2 wineglassfuls", "teaspoonful 5 cc; tablespoonful 15 cc; wineglassful 60 cc", LONDON, 120.0),
    ("1 tablespoonful", "4 tablespoonfuls = 1 wineglass = half a gill", LONDON, 5 * IMPERIAL_OZ / 8),
    ("1 coffee-cupful", "a coffee-cup holds half a pint", LONDON, 10 * IMPERIAL_OZ),
    ("30 drops", "60 drops make a teaspoonful; a teaspoonful is one fluid drachm", LONDON, IMPERIAL_OZ / 16),
    ("1 tablespoonful", "a tablespoon is half an ounce", LONDON, IMPERIAL_OZ / 2),
    ("1 pint", "the pint is of 17 ounces", LONDON, 17 * IMPERIAL_OZ),
    ("1 pint", "the perfumers' pint of 14 ounces", LONDON, 14 * IMPERIAL_OZ),
    ("1 tea-cup", "a breakfast-cup is ten ounces, a tea-cup five, a wineglass two", LONDON, 5 * IMPERIAL_OZ),
    ("1 glass", "the glass holds four ounces", LONDON, 4 * IMPERIAL_OZ),
    ("1 fl. drachm", "the fluid ounce is taken as 30 cc.", PHILADELPHIA, 3.75),
    ("1 gill", "the pint is of 17 ounces", LONDON, 17 * IMPERIAL_OZ / 4),
    ("1 pint", "the pint is of 20 fluid ounces", {"years": "1790", "place": "London"}, 20 * IMPERIAL_OZ),
]


@pytest.mark.parametrize(("text", "rule", "setting", "volume"), VOLUMES)
def test_a_vessel_holds_what_its_author_says(text: str, rule: str, setting: dict[str, str], volume: float) -> None:
    chosen = convert(text, rule=rule, **setting).chosen
    assert chosen is not None
    assert chosen.volume_ml == pytest.approx(volume, rel=1e-4)


WEIGHTS = [  # quantity, rule, setting, g
    ("2 drachms", "the ounce avoirdupois is divided into eight drachms", LONDON, AVDP_OZ / 4),
    ("1 lb.", "the pound of 16 ounces", LONDON, 16 * AVDP_OZ),
    ("1 lb.", "the pound of 18 ounces", LONDON, 18 * AVDP_OZ),  # 18 ounces were Zürich's too: that is no answer here
    ("2 onces", "l'once de 32 grammes", PARIS, 64.0),
    ("2 gros", "l'once de 32 grammes", PARIS, 8.0),  # eight to the once: Codex 1818-37
    ("2 Unzen", "die Unze zu 30 Gramm", BERLIN, 60.0),
    ("2 Loth", "1 Loth = 16 2/3 g", BERLIN, 100 / 3),
    ("2 Pfund", "Pfund = 500 g", BERLIN, 1000.0),
    ("1 dr.", "oz. troy, dr. avoirdupois", LONDON, AVDP_OZ / 16),
    ("1 oz.", "ounces of 480 grains, pounds avoirdupois", LONDON, TROY_OZ),
    ("1 lb.", "ounces of 480 grains, pounds avoirdupois", LONDON, 16 * AVDP_OZ),
    ("1 stone", "the stone is 8 lb.", LONDON, 128 * AVDP_OZ),
    ("1 cwt.", "the hundredweight of 100 lbs", LONDON, 1600 * AVDP_OZ),
    ("1 lb.", "16 ounces to the pound, 8 drachms to the ounce, 60 grains to the drachm", LONDON, 16 * TROY_OZ),
    ("1 dr.", "16 ounces to the pound, 8 drachms to the ounce", LONDON, AVDP_OZ / 8),  # as in Dublin 1850
    ("1 livre", "la livre de 16 onces, l'once de 32 grammes", PARIS, 512.0),
    ("1 stone", "a stone of 8 lbs.", {"years": "1760", "place": "London"}, 128 * AVDP_OZ),
    ("1 Esslöffel", "1 Esslöffel = 15 g, 1 Teelöffel = 5 g", BERLIN, 15.0),
    ("20 gouttes", "20 gouttes = 1 gramme", PARIS, 1.0),
    ("1 once", "la livre de 500 grammes, divisée en 16 onces", PARIS, 31.25),
]


@pytest.mark.parametrize(("text", "rule", "setting", "mass"), WEIGHTS)
def test_a_weight_is_what_its_author_says(text: str, rule: str, setting: dict[str, str], mass: float) -> None:
    chosen = convert(text, rule=rule, **setting).chosen
    assert chosen is not None
    assert chosen.mass_g == pytest.approx(mass, rel=1e-6)


SPOON = "a spoon holds in syrups half an ounce, in distilled waters three drachms"


def test_a_spoon_may_hold_by_weight_what_it_holds_of_each_thing() -> None:
    book = {"years": "1750", "place": "London", "book": "pharmacopoeia", "rule": SPOON}
    assert convert("1 spoonful", of="rose water", **book).chosen.mass_g == pytest.approx(180 * GRAIN)
    assert convert("1 spoonful", of="syrup of violets", **book).chosen.mass_g == pytest.approx(TROY_OZ / 2)
    oil = convert("1 spoonful", of="olive oil", **book)
    assert "speaks of a spoonful of syrups and distilled waters only" in oil.notes[-1]


def test_the_sense_an_author_does_not_speak_of_stays_open() -> None:
    answer = convert("1 oz.", rule="ounces of 480 grains, pounds avoirdupois", **LONDON)
    assert any(other.volume_ml == pytest.approx(IMPERIAL_OZ) for other in answer.others)
    glycerin = convert("1 oz.", of="glycerin", rule="the ounce is of 30 grams", **LONDON).chosen
    assert glycerin.volume_ml == pytest.approx(IMPERIAL_OZ)


def test_what_law_made_of_a_unit_stays_an_answer_beside_the_authors_figure() -> None:
    answer = convert("1 grain", rule="15 grains = 1 gramme", **LONDON)
    assert answer.chosen is not None
    assert answer.chosen.mass_g == pytest.approx(1 / 15)
    assert [other.mass_g for other in answer.others] == pytest.approx([GRAIN])
    assert answer.others[0].standing == "unlikely"


@pytest.mark.parametrize(
    ("rule", "why"),
    [
        ("a tablespoonful of florble is one ounce", "'florble'"),
        ("the pound is 12 ounces; the pound is 16 ounces", "says two things"),
        ("a wineglass is one ounce and two drachms", "does not say"),
        ("16 ounces", "does not say"),
        ("weights troy or avoirdupois", "does not say"),
        ("a teaspoonful is a drachm, more or less", "'more'"),
    ],
)
def test_no_word_of_a_rule_is_passed_over(rule: str, why: str) -> None:
    with pytest.raises(InputError, match=why):
        convert("1 tablespoonful", rule=rule, **LONDON)


def test_receipts_tables_and_the_book_take_the_authors_sizes() -> None:
    rule = "1 teaspoonful = 5 cc; the ounce is of 30 grams; the pint is of 17 ounces"
    receipt = rl.read("Glycerine, 2 teaspoonfuls\nBorax, 2 oz.\nWater, 1 pint", rule=rule, **LONDON)
    formula = translate(receipt)
    assert formula.mass("glycerin").number == pytest.approx(10 * 1.26, rel=2e-3)  # USP: 1.26 g/mL
    assert formula.mass("borax").number == pytest.approx(60)
    assert formula.mass("water").number == pytest.approx(17 * IMPERIAL_OZ * WATER, rel=1e-3)
    table = convert_table(["3 teaspoonfuls", "2 oz."], rule=rule, **LONDON)
    assert [table.volume_ml[0], table.mass_g[1]] == pytest.approx([15, 60])
    shown = book_measures(rule=rule, **LONDON).tables[-1]
    assert ("teaspoonful", "5 mL") in {row[:2] for row in shown.rows}


@settings(deadline=None)
@given(st.integers(1, 400), st.integers(1, 9), st.integers(1, 9))
def test_chained_vessels_multiply(drops: int, spoons: int, cc: int) -> None:
    rule = f"{drops + 1} drops make a teaspoonful, {spoons + 1} teaspoonfuls are {cc + 1} cc"
    chosen = convert("1 drop", rule=rule).chosen
    assert chosen is not None
    assert chosen.volume_ml == pytest.approx((cc + 1) / (spoons + 1) / (drops + 1))
