"""Goods in bulk, casks, liquids with a gallon of their own, and liquids that share a solid's name.

Check values: the ale gallon of 282 and the wine gallon of 231 cubic inches (Hebert, Gallon), the Irish gallon of 217.6
(Nicholson, Men and Measures, ch. VIII), the inch of 25.4 mm; the imperial gallon of 4.54609 L and the pound of
453.59237 g (UK Weights and Measures Act 1985); casks by the United States Table Book p. 13 and Wilderspin ch. XII.
"""

import pytest

import reconlab as rl
from reconlab.errors import InputError, ReconlabError
from reconlab.measures import convert, convert_table
from reconlab.translation import translate

INCH = 16.387064  # mL in a cubic inch
ALE, WINE, IRISH, IMPERIAL = 282 * INCH, 231 * INCH, 217.6 * INCH, 4546.09
POUND = 453.59237
HOME = {"years": "1780", "place": "London", "book": "household"}
LONDON = {"years": "1890", "place": "London"}


@pytest.mark.parametrize(
    ("text", "of", "setting", "volume"),
    [
        ("1 pint", "ale", HOME, ALE / 8),
        ("1 pint", "porter", HOME, ALE / 8),
        ("2 quarts", "new milk", HOME, ALE / 2),
        ("1 gallon", "sweet wort", HOME, ALE),
        ("1 pint", "water", HOME, WINE / 8),
        ("1 pint", "port wine", HOME, WINE / 8),
        ("1 quart", "beer", {"years": "1780", "place": "Dublin"}, IRISH / 4),
        ("1 pint", "beer", HOME | {"book": "pharmacopoeia"}, WINE / 8),  # the colleges measured by wine measure
        ("1 pint", "beer", HOME | {"years": "1850"}, IMPERIAL / 8),
        ("1 pint", "beer", HOME | {"rule": "wine measure"}, WINE / 8),
        ("1 hogshead", "beer", HOME, 54 * ALE),
        ("1 hogshead", "cider", HOME, 63 * WINE),
        ("1 anker", "brandy", HOME, 10 * WINE),
        ("1 firkin", "ale", HOME, 9 * ALE),
    ],
)
def test_ale_and_milk_had_a_gallon_of_their_own(text: str, of: str, setting: dict[str, str], volume: float) -> None:
    chosen = convert(text, of=of, **setting).chosen
    assert chosen is not None
    assert chosen.volume_ml == pytest.approx(volume, rel=1e-6)


def test_wine_measure_stays_open_for_beer_and_near_the_change_none_is_chosen() -> None:
    others = convert("1 pint", of="ale", **HOME).others
    assert any(other.standing == "possible" and other.volume_ml == pytest.approx(WINE / 8) for other in others)
    assert convert("1 gallon", of="beer", years="1820-1830", place="London").chosen is None


def test_a_receipt_measures_its_beer_by_ale_measure_and_its_water_by_wine_measure() -> None:
    formula = translate(rl.read("Ale, 1 pint\nWater, 1 pint\nBorax, 1 oz.", **HOME))
    ratio = formula.mass("beer").number / formula.mass("water").number
    assert ratio == pytest.approx(282 / 231 * 1.004 / 0.997, rel=0.01)  # densities on file


@pytest.mark.parametrize(
    ("text", "setting", "pounds"),
    [
        ("One hundred weight", LONDON, 112),
        ("half a hundred weight", LONDON, 56),
        ("1 cwt.", {"years": "1890", "place": "New York"}, 100),
        ("1 ton", LONDON, 2240),
        ("2 cwt. 3 qrs. 14 lbs.", LONDON, 322),
        ("1 stone", LONDON, 14),
    ],
)
def test_goods_in_bulk(text: str, setting: dict[str, str], pounds: float) -> None:
    chosen = convert(text, **setting).chosen
    assert chosen is not None
    assert chosen.mass_g == pytest.approx(pounds * POUND, rel=1e-9)


def test_the_stone_of_eight_pounds_is_an_answer() -> None:  # Sizes, Stone
    others = convert("1 stone", **LONDON).others
    assert any(other.mass_g == pytest.approx(8 * POUND) for other in others)


@pytest.mark.parametrize(
    ("text", "of", "figure"),
    [("a quartern", "flour", 3.5 * POUND), ("half a quartern", "gin", IMPERIAL / 64), ("2 bu.", "", 16 * IMPERIAL)],
)
def test_a_quartern_is_weighed_of_flour_and_measured_of_gin(text: str, of: str, figure: float) -> None:
    # Webster 1913, Quartern: the fourth part of a pint; of a stone of 14 pounds
    chosen = convert(text, of=of, **LONDON).chosen
    assert chosen is not None
    assert figure in (pytest.approx(chosen.mass_g), pytest.approx(chosen.volume_ml))


@pytest.mark.parametrize(("text", "ounces"), [("2 oz. fl.", 2), ("3 drs. fl.", 0.375), ("2 ounces fluid", 2)])
def test_the_word_fluid_may_stand_behind(text: str, ounces: float) -> None:
    chosen = convert(text, **LONDON).chosen
    assert chosen is not None
    assert chosen.volume_ml == pytest.approx(ounces * IMPERIAL / 160)


@pytest.mark.parametrize("of", ["laudanum", "black drop", "tincture of opium", "sal volatile", "elixir", "cough syrup"])
def test_a_liquid_preparation_is_no_solid_for_its_drug(of: str) -> None:
    chosen = convert("20 minims", of=of, **LONDON).chosen
    assert chosen is not None
    assert chosen.volume_ml == pytest.approx(20 * IMPERIAL / 160 / 480)
    table = convert_table(["20 minims", "1 drachm"], of=of, **LONDON)
    assert table.volume_ml[0] == pytest.approx(20 * IMPERIAL / 160 / 480)


def test_a_dry_drug_has_no_minims_and_a_few_gives_no_figure() -> None:
    with pytest.raises(InputError, match="is a solid"):
        convert("20 minims", of="opium", **LONDON)
    with pytest.raises(InputError, match="gives no figure"):
        convert("a few drops", of="glycerin", **LONDON)


@pytest.mark.parametrize(
    ("text", "year", "place", "kilograms"),
    [  # Pierer 1857, p. 805; Meyers 1909, p. 890; Nelkenbrecher, p. 154; Littré, Quintal
        ("1 Zentner", "1840", "Berlin", 51.448),
        ("1 Centner", "1840", "München", 56),
        ("1 Ctr.", "1840", "Wien", 56.006),
        ("2 Zentner", "1880", "Berlin", 100),
        ("1 Zentner", "1890", "Wien", 100),
        ("1 quintal", "1780", "Paris", 48.951),
        ("1 quintal", "1870", "Paris", 100),
    ],
)
def test_a_zentner_and_a_quintal_hang_on_place_and_year(text: str, year: str, place: str, kilograms: float) -> None:
    chosen = convert(text, years=year, place=place, book="trade").chosen
    assert chosen is not None
    assert chosen.mass_g == pytest.approx(kilograms * 1000, rel=2e-4)


def test_the_gross_hundredweight_is_possible_in_america() -> None:  # Sizes, Hundredweight
    found = convert("1 cwt.", years="1850", place="New York", book="trade")
    assert found.chosen is not None
    assert found.chosen.mass_g == pytest.approx(100 * POUND)
    assert [(o.standing, round(o.mass_g / POUND)) for o in found.others if o.mass_g] == [("possible", 112)]


def test_a_quarter_of_wheat_is_eight_bushels() -> None:  # Hebert 1835
    chosen = convert("1 quarter of wheat", **LONDON).chosen
    assert chosen is not None
    assert chosen.volume_ml == pytest.approx(64 * 4546.09)


def test_a_pinte_after_1840_may_be_a_litre() -> None:  # Trésor de la langue française, Chopine
    found = convert("1 chopine", years="1850", place="Paris", book="household")
    assert found.chosen is not None
    assert found.chosen.volume_ml == pytest.approx(465.68)
    assert ("possible", 500) in [(other.standing, other.volume_ml) for other in found.others]


def test_a_livre_went_on_meaning_half_a_kilogram() -> None:  # Littré, Livre [2]
    chosen = convert("une demi-livre", years="1890", place="Paris", book="household").chosen
    assert chosen is not None
    assert chosen.mass_g == 250


@pytest.mark.parametrize(
    ("text", "millilitres"), [("a bottle of white wine", 757.682), ("a piece of alum the size of a walnut", 22.18)]
)
def test_bottles_and_lumps_are_read_with_their_thing(text: str, millilitres: float) -> None:
    chosen = convert(text, years="1880", place="London", book="household").chosen
    assert chosen is not None
    assert chosen.volume_ml == pytest.approx(millilitres, rel=1e-3)


@pytest.mark.parametrize("text", ["as much as will lie on a sixpence", "as much alum as will lie on a shilling"])
def test_what_lies_on_a_coin_is_known_and_has_no_weight_on_file(text: str) -> None:
    with pytest.raises(ReconlabError, match="no size of a heap on"):
        convert(text, years="1750", place="London")


def test_laudanum_has_a_drop_of_its_own() -> None:  # Gorgas, p. 25: 130 drops of it in 60 minims
    found = convert("130 drops of laudanum", years="1900", place="Philadelphia", book="dispensing")
    assert found.chosen is not None
    assert "tincture of opium, 130 drops in sixty minims" in str(found.chosen.reason)
    assert "aconite" not in str(found.chosen.reason).split("from")[0]


def test_a_winchester_quart_is_eighty_fluid_ounces() -> None:  # Sizes, Winchester quart
    chosen = convert("a Winchester quart", years="1880", place="London", book="dispensing").chosen
    assert chosen is not None
    assert chosen.volume_ml == pytest.approx(IMPERIAL / 2, rel=1e-6)


def test_a_mandel_of_eggs_is_not_taken_for_one_egg() -> None:  # Brockhaus 1894, p. 542: a Mandel is fifteen
    with pytest.raises(ReconlabError):
        convert("1 Mandel Eier", years="1890", place="Berlin")


# What a cask, a coin or a grain measure weighed or held, by goods, place and year. Wilderspin, The Infant System,
# ch. XII (tod 28 lb, truss of old hay 56 lb, strike 2 bushels); table of an American arithmetic (flour 196 lb net);
# Table of Customary Weights 1825 (firkin of soap 64 lb); Sizes, Scotland (lippie of wheat 138 3/8, of oats 201 7/8
# cubic inches); Hutton, Shilling (the 62nd part of a pound troy); Britannica, 9th ed., Mint (5.65518 g).
@pytest.mark.parametrize(
    ("text", "years", "place", "grams", "milliliters"),
    [
        ("1 barrel of flour", "1890", "Boston", 196 * 453.59237, None),
        ("1 firkin of soft soap", "1840", "London", 64 * 453.59237, None),
        ("1 tod", "1840", "London", 28 * 453.59237, None),
        ("1 truss of hay", "1840", "London", 56 * 453.59237, None),
        ("a strike", "1840", "London", None, 16 * 4546.09),
        ("1 forpet", "1790", "Edinburgh", None, 138.375 * 16.387064),
        ("1 lippie of oats", "1790", "Edinburgh", None, 201.875 * 16.387064),
        ("the weight of a shilling", "1750", "London", 5760 / 62 * 0.06479891, None),
        ("the weight of a sixpence of camphor", "1840", "London", 5.65518 / 2, None),
        ("3 carats", "1840", "London", 3 * 3.2 * 0.06479891, None),
    ],
)
def test_goods_had_weights_and_measures_of_their_own(
    text: str, years: str, place: str, grams: float | None, milliliters: float | None
) -> None:
    chosen = rl.convert(text, years=years, place=place, book="household").chosen
    assert chosen is not None
    if grams:
        assert chosen.mass_g == pytest.approx(grams, rel=1e-4)
    if milliliters:
        assert chosen.volume_ml == pytest.approx(milliliters, rel=1e-6)


@pytest.mark.parametrize(
    "text", ["a pennyworth of saffron", "2d. worth of borax", "twopennyworth of gum", "3 penn'orth"]
)
def test_a_price_is_no_quantity(text: str) -> None:
    with pytest.raises(InputError) as refused:
        rl.convert(text, years="1840", place="London")
    assert "price" in str(refused.value) or "pennyworth" in str(refused.value)


def test_a_livre_of_the_south_is_not_taken_for_that_of_paris() -> None:
    """A table of old French weights (mesures.org): 408 g at Avignon, 414.6 g at Montpellier, 397.67 g at Aix."""
    found = rl.convert("1 livre", years="1770", place="Marseille", book="perfumer")
    assert found.chosen is None
    assert {408.0, 414.6, 397.67} <= {round(answer.mass_g, 2) for answer in found.others if answer.mass_g}
