"""What stands before a first name, behind a numeral or between the halves of a word: lines made for the test."""

import pytest

from reconlab.reading import read, read_all
from reconlab.reading.leads import lead_of
from reconlab.reading.lines import read_line
from reconlab.receipts import Item


def items(line: str) -> tuple[Item, ...]:
    return read_line(line, 1, among_ingredients=False).items


def told(line: str) -> list[tuple[str, float | None, str | None]]:
    parts = [(item.name, item.quantities[0].parts[0]) for item in items(line) if item.quantities]
    return [(name, part.amount.value, part.unit) for name, part in parts]


@pytest.mark.parametrize(
    ("line", "name", "left"),
    [
        ("Charcoal Toothpaste. Chlorate of potash, ½ dram; mint water, 1 ounce.", "Chlorate of potash", "Charcoal"),
        ("Clothes ball. Pipeclay 2lb. whiting 1 oz.", "Pipeclay", "Clothes ball."),
        ("Élixir de vitriol. Teinture aromatique, une chopine ; sucre, trois onces.", "Teinture aromatique", "Élixir"),
        ("To Clean the Teeth Take of soft water, 1 quart; juice of lemon, 2 ozs.", "soft water", "To Clean the Teeth"),
        ("Unguentum Egyptiacum Take of verdigris, five ounces.", "verdigris", "Unguentum Egyptiacum"),
        ("YOU must take Rose water, one pint; and white wax, two ounces.", "Rose water", "YOU must"),
        ("Recettes : Sucre, 100 grammes ; eau, 50 grammes.", "Sucre", "Recettes :"),
        ("LIP SALVE. Wax 2 oz., lard 3 oz.", "Wax", "LIP SALVE."),
        ("195. LOTION FOR FRECKLES. Borax, 6 grains; rose water, 4 ounces.", "Borax", "195."),
        ("COLD CREAM: Wax 1 oz., oil 4 oz.", "Wax", "COLD CREAM"),
        ("Hair Wash: Borax, 1 oz.; water, 1 pint.", "Borax", "Hair Wash"),
        ("Another. Chalk, 2 oz.; orris, 1 oz.", "Chalk", "Another."),
    ],
)
def test_a_title_or_a_lead_in_is_no_part_of_the_first_name(line: str, name: str, left: str) -> None:
    page = read_line(line, 1, among_ingredients=False)
    assert page.items[0].name == name
    assert any(line[start:end].startswith(left) for start, end in page.unread)


@pytest.mark.parametrize(
    "line",
    [
        "Unguentum Hydrargyri. Adipis ℥j. Cerae ʒij.",
        "Pulvis dentifricius. Cretæ ℥j. Myrrhæ ʒij.",
        "Carbolic acid. Crystals, 1 oz.; water, 2 oz.",
        "Rose water. Glycerine, of each 2 oz.",
        "Wachs. Talg, je 10 g",
        "Elder flower water. Borax, 2 oz.",
        "Oil of roses. Oil of lavender, 10 drops each.",
    ],
)
def test_two_names_that_a_full_stop_may_part_are_not_certain(line: str) -> None:
    assert not items(line)[0].certain


@pytest.mark.parametrize("line", ["Tinct. Rhei ʒij.", "Camphor. Pulv. gr. v."])
def test_the_stop_of_a_shortened_word_parts_nothing(line: str) -> None:
    assert lead_of(line).after == 0
    assert items(line)[0].certain


@pytest.mark.parametrize(
    "line",
    [
        "6.\N{EM DASH} Hydrargyri Chloridi gr. viij. Bismuthi Subnitratis gr. xij.",
        "6. Hydrargyri Chloridi gr. viij. Bismuthi Subnitratis gr. xij.",
        "No. 6.\N{EM DASH}Hydrargyri Chloridi gr. viij. Bismuthi Subnitratis gr. xij.",
    ],
)
def test_the_number_of_a_formula_shifts_no_amount(line: str) -> None:
    assert told(line) == [("Hydrargyri Chloridi", 8.0, "grain"), ("Bismuthi Subnitratis", 12.0, "grain")]


def test_what_a_heading_with_an_amount_says_is_no_title() -> None:
    line = "Balsam of Amber one Ounce: common Oyl, I dram"  # Medicina practica, or, Practical physick, 1692
    assert told(line) == [("Balsam of Amber", 1.0, "ounce"), ("common Oyl", 1.0, "drachm")]


def test_between_two_numbers_is_a_range() -> None:
    amount = items("Between one and two ounces of wax.")[0].quantities[0].parts[0].amount
    assert (amount.low, amount.high) == (1.0, 2.0)


def test_a_number_before_a_unit_counts_no_formula() -> None:
    assert told("2. Ounces of wax") == [("wax", 2.0, "ounce")]


@pytest.mark.parametrize(
    ("line", "first", "second"),
    [
        ("Ipecacuanhæ gr. vC. Camphoræ ℈j.", 5.0, 1.0),
        ("Ipecacuanhæ gr. vjC. Camphoræ ℈ij.", 6.0, 2.0),
        ("Scillæ ʒssB. Extract. Hyoscyami ℈ij.", 0.5, 2.0),
        ("Syrupi Tolu f℥jG. Aquæ f℥ij.", 1.0, 2.0),
        ("Syrupi Tolut. f℥ssN.O. Tinct. Castorei fʒij.", 0.5, 2.0),
    ],
)
def test_a_letter_of_reference_behind_a_numeral_is_left_unread(line: str, first: float, second: float) -> None:
    assert [value for _, value, _ in told(line)] == [first, second]
    assert not items(line)[0].certain
    assert read_line(line, 1, among_ingredients=False).unread


def test_two_numerals_in_a_row_are_not_certain() -> None:
    assert not items("Silver dust gr. xv xx, common salt gr. xxx.")[0].certain


def test_the_amount_behind_a_solvent_is_that_of_the_thing() -> None:
    line = "Take of opium dissolved in a sufficient quantity of Lisbon wine, a drachm and a half; camphor, two drachms."
    assert told(line) == [("opium", 1.5, "drachm"), ("camphor", 2.0, "drachm")]
    assert items(line)[0].preparation == "dissolved in a sufficient quantity of Lisbon wine"


def test_a_direction_between_amounts_shifts_none() -> None:
    line = "Liquorish 2 ounces, slice it thin, and a Spoonful of Coriander-Seeds bruised, boil in two Quarts of Water."
    assert told(line) == [
        ("Liquorish", 2.0, "ounce"),
        ("Coriander-Seeds", 1.0, "spoonful"),
        ("Water", 2.0, "quart"),
    ]


def test_a_stray_point_before_a_figure_is_not_certain() -> None:
    assert not items("Dissolve 2 oz. of borax in .3 pints of water.")[1].certain


@pytest.mark.parametrize(
    ("line", "names"),
    [
        (
            "Teintures de myrrhe, quatre onces ; d'aloès, de safran, de chaque trois onces.",
            ["Teintures de myrrhe", "Teintures d'aloès", "Teintures de safran"],
        ),
        ("Girofle, cannelle, iris, autant de l'un que de l'autre, une once.", ["Girofle", "cannelle", "iris"]),
        ("Zimt, Nelken, Muskat, von edem 1 Loth.", ["Zimt", "Nelken", "Muskat"]),
        ("Take Musk .Ambergrise and Civet of each three drachms.", ["Musk", "Ambergrise", "Civet"]),
    ],
)
def test_every_name_of_a_list_has_its_share(line: str, names: list[str]) -> None:
    assert [item.name for item in items(line)] == names


def test_a_head_behind_each_leaves_all_its_names_open() -> None:
    line = "Take of orange, lemon and bergamot, one dram each of the oil; alcohol, 1 pint."
    assert not any(item.certain for item in items(line)[:3])


@pytest.mark.parametrize(
    ("line", "value", "unit"),
    [("Syrupi f 3iss.", 1.5, "fluid_drachm"), ("Syrupi f §iv.", 4.0, "fluid_ounce")],
)
def test_a_fluid_measure_with_a_spoilt_sign(line: str, value: float, unit: str) -> None:
    assert told(line) == [("Syrupi", value, unit)]
    assert not items(line)[0].certain


@pytest.mark.parametrize(
    "text",
    [
        "Recipe Boracis drach\nmas duas, Aquae unciam\nunam, Mellis uncias qua\ntuor.",
        "Recipe Boracis drach-\nmas duas, Aquae un-\nciam unam, Mellis uncias qua-\ntuor.",
    ],
)
def test_words_broken_over_lines_are_whole(text: str) -> None:
    parts = [(item.name, item.quantities[0].parts[0]) for item in read(text).items]
    assert [(name, part.amount.value, part.unit) for name, part in parts] == [
        ("Boracis", 2.0, "drachm"),
        ("Aquae", 1.0, "ounce"),
        ("Mellis", 4.0, "ounce"),
    ]


def test_words_that_an_editor_filled_up() -> None:
    last = items("Boracis drachmas duas, Aquae q[uantum] s[ufficit].")[1]
    assert (last.name, last.purpose) == ("Aquae", "enough")


@pytest.mark.parametrize(
    ("line", "value", "certain"),
    [("Wasser 10 000 g", 10000.0, True), ("Zucker 2 500 g", 2500.0, False), ("Zucker 10.000 g", 10.0, False)],
)
def test_figures_parted_by_blanks(line: str, value: float, certain: bool) -> None:  # noqa: FBT001
    assert told(line)[0][1] == value
    assert items(line)[0].certain is certain


def test_a_dash_for_the_unit_above() -> None:
    receipt = read("Bad\nSoda 10 g\nBorax 5 -\nSalz 3 -")
    parts = [item.quantities[0].parts[0] for item in receipt.items]
    assert [(part.amount.value, part.unit) for part in parts] == [(10.0, "gram"), (5.0, "gram"), (3.0, "gram")]


def test_a_range_whose_ends_have_their_units() -> None:
    amount = items("Water, from a gallon and a half to two gallons; sugar, 1 lb.")[0].quantities[0].parts[0].amount
    assert (amount.low, amount.high) == (1.5, 2.0)


@pytest.mark.parametrize(
    ("line", "name"),
    [
        ("Man nimmt 500 g Zucker, tut dies in 1 Liter Wasser.", "Zucker"),
        ("5 g Pfefferminzöl füllt man in Flaschen.", "Pfefferminzöl"),
        ("Man schmilzt 100 g Wachs unter beständigem Umrühren.", "Wachs"),
        ("Wachs 10 g, dazu: schwarz Pech 3 g.", "Wachs"),
    ],
)
def test_what_is_done_is_no_part_of_a_german_name(line: str, name: str) -> None:
    assert items(line)[0].name == name


@pytest.mark.parametrize(
    ("text", "title", "first"),
    [
        ("Hair Wash. Rosemary water, half a pint; sal volatile, half an ounce. Mix.", "Hair Wash", "Rosemary water"),
        ("Macassar oil. Oil of ben, 1 gallon; alkanet, 2 oz.; rose oil, 9 drops.", "Macassar oil", "Oil of ben"),
        ("Milk of roses. 2 oz. of almonds, 1 pint rose water.", "Milk of roses", "almonds"),
        ("Lippenpomade. 8 Loth gelbes Wachs, 1/2 Pfund Mandel\u00f6l.", "Lippenpomade", "gelbes Wachs"),
        ("Zahnpulver: Calc. carbonica 100,0, Ol. Menthae pip. gtt. XX.", "Zahnpulver", "Calc. carbonica"),
        # no titles: a name with its amount behind the stop, a shortened name, words of praise
        ("Rose water. 2 oz. Orange flower water. 1 pint.", "", "Rose water"),
        ("Tinct. Myrrh, 1 oz.; Tinct. benzoin, 2 oz.; water, 3 oz.", "", "Tinct. Myrrh"),
        ("A splendid article. Borax, 1 oz.; camphor, 2 oz.; water, 1 pint.", "", "Borax"),
    ],
)
def test_a_title_in_common_type_runs_into_its_list(text: str, title: str, first: str) -> None:
    (receipt,) = read_all(text).receipts
    assert (receipt.title, receipt.items[0].name) == (title, first)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Take the yolks of 2 eggs, and 1 oz. of sugar.", [("yolks of eggs", 2, "piece"), ("sugar", 1, "ounce")]),
        ("Take the juyce of two lemmons, 1 oz. sugar.", [("juyce of lemmons", 2, "piece"), ("sugar", 1, "ounce")]),
        ("Take the peel of one lemon, 1 oz. sugar.", [("peel of lemon", 1, "piece"), ("sugar", 1, "ounce")]),
    ],
)
def test_what_is_taken_of_a_counted_thing_stays_in_its_name(text: str, found: list[tuple[str, float, str]]) -> None:
    page = [(item.name, item.quantities[0].parts[0]) for item in read_all(text).receipts[0].items]
    assert [(name, part.amount.value, part.unit) for name, part in page] == found
