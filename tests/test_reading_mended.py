"""Titles in capitals, ranges over units, what a direction adds, tables with bars, "gr." of a year not known."""

import pytest

import reconlab as rl
from reconlab.receipts import Item

Told = tuple[str, list[tuple[float | None, str | None]]]


def told(item: Item) -> Told:
    """Return the name of an item and its amounts, one for each column."""
    return item.name, [(part.amount.value, part.unit) for quantity in item.quantities for part in quantity.parts]


LIST = "\nMarigold flowers, 2 oz.\nRose water, 1 pint."


@pytest.mark.parametrize(
    "title",
    [
        "MARIGOLD HAIR WASH", "Marigold Hair Wash", "ROSEMARY HAIR WASH FOR CHILDREN", "ALMOND SKIN SOAK",
        "CAMOMILE POWDER MIX", "EAU DE COLOGNE RUB", "VINEGAR WASH FOR THE FACE", "WASH FOR THE HAIR",
        "ELDER-FLOWER FACE WASH. No. 2",
    ],
)  # fmt: skip
@pytest.mark.parametrize("page", ["{}." + LIST, "{}\n" + LIST, "{}\n\nTake 2 oz. of wax and 4 oz. of oil; melt them."])
def test_a_title_that_holds_a_word_of_doing_is_whole(title: str, page: str) -> None:
    assert rl.read_all(page.format(title)).titles == (title,)


def test_a_title_that_runs_into_take_ends_before_it() -> None:
    assert rl.read_all("Pilula Ruffi Take of aloes, 2 oz., myrrh, 1 oz. Mix.").titles == ("Pilula Ruffi",)


@pytest.mark.parametrize(
    ("line", "low", "high", "unit"),
    [
        ("Musk, an ounce or an ounce and a half", 1, 1.5, "ounce"),
        ("Rose water, half an ounce to an ounce.", 0.5, 1, "ounce"),
        ("Bergamot, from 2 drachms to 10 drachms", 2, 10, "drachm"),
        ("Orris, between one and two ounces", 1, 2, "ounce"),
        ("Cire blanche, une once \N{LATIN SMALL LETTER A WITH GRAVE} deux onces", 1, 2, "once"),
    ],
)
def test_a_range_whose_ends_have_the_same_unit(line: str, low: float, high: float, unit: str) -> None:
    (item,) = rl.read(line).items
    (part,) = item.quantities[0].parts
    assert (part.amount.low, part.amount.high, part.unit) == (low, high, unit)
    assert " " not in item.name or item.name in ("Rose water", "Cire blanche")  # "between" is no part of it


@pytest.mark.parametrize(
    ("line", "first", "other"),
    [
        ("Oil of cloves, from half an ounce to 2 drachms", (0.5, "ounce"), (2, "drachm")),
        ("Oil of cloves, from 2 drachms to half an ounce.", (2, "drachm"), (0.5, "ounce")),
        ("Oil of cloves, 2 drachms to half an ounce", (2, "drachm"), (0.5, "ounce")),
        ("Oil of cloves, between 1 drachm and half an ounce", (1, "drachm"), (0.5, "ounce")),
    ],
)
def test_a_range_over_units_is_asked_about(line: str, first: tuple[float, str], other: tuple[float, str]) -> None:
    (item,) = rl.read(line).items
    assert told(item) == ("Oil of cloves", [first])  # never the sum of both ends
    assert not item.certain
    assert [told(reading.item) for reading in item.readings] == [("Oil of cloves", [other])]


def test_both_ends_of_a_range_over_units_are_answers() -> None:
    page = "Talc, 1 lb.\nBorax, from 2 drachms to half an ounce."
    borax = rl.translate(rl.read(page, years="1890", place="London", rule="apothecaries")).mass("borax")
    assert borax.number == pytest.approx(2 * 60 * 0.06479891)  # two drachms of 60 grains
    assert borax.high == pytest.approx(240 * 0.06479891)  # half a troy ounce


@pytest.mark.parametrize("line", ["Acetate of lead, 1 drachm to 8 ounces of water", "Alum, 1 ounce to a pint of water"])
def test_a_rate_is_no_range(line: str) -> None:
    item = rl.read(line).items[0]
    assert item.quantities[0].parts[0].amount.low == item.quantities[0].parts[0].amount.high == 1
    assert item.readings == ()


ADDED = {
    "Boil the rosemary in a quart of water, strain, and add as much camphor as will lie upon a sixpence.": "camphor",
    "Mix, and add as much camphor as will lie upon a sixpence.": "camphor",
    "Colour with a little carmine, and bottle it.": "carmine",
    "When cold stir in a little tincture of benzoin.": "tincture of benzoin",
    "Ajoutez un peu de camphre.": "camphre",
}


@pytest.mark.parametrize("direction", ADDED)
@pytest.mark.parametrize("between", ["\n", "\n\n", " "])
def test_what_a_direction_adds_without_an_amount_is_an_ingredient(direction: str, between: str) -> None:
    page = f"HAIR WASH.\n\nBorax, 1 oz.; rosemary, 2 oz.{between}{direction}"
    (receipt,) = rl.read_all(page).receipts
    item = next(item for item in receipt.items if item.name == ADDED[direction])
    assert not item.certain
    assert item.name in [item.name for item in rl.read(page).items]


def test_as_much_as_the_size_of_a_thing_is_an_amount() -> None:
    (wax, camphor) = rl.read("Wash.\nWax, 1 oz.\nMelt, and add as much camphor as the size of a walnut.").items
    assert told(camphor) == ("camphor", [(1, "size_of_walnut")])
    assert wax.certain
    assert not camphor.certain


def test_an_amount_inside_a_direction_is_an_ingredient() -> None:
    page = "HAIR WASH.\n\nRose water, 1 pint.\n\nDissolve two drachms of borax in the water and add 1 oz. of glycerine."
    items = [told(item) for item in rl.read_all(page).receipts[0].items]
    assert items[1:] == [("borax", [(2, "drachm")]), ("glycerine", [(1, "ounce")])]


def test_what_is_rubbed_on_a_little_at_a_time_is_none() -> None:
    page = "SALVE.\n\nWax, 1 oz.\nOil, 2 oz.\n\nMelt. Rub a little on at night, and wipe it with a little wool."
    assert [item.name for item in rl.read_all(page).receipts[0].items] == ["Wax", "Oil"]


def test_to_this_is_no_name() -> None:
    page = "LOTION.\nRose water, 6 oz.\nAdd to this a piece of camphor the size of a walnut and a pinch of alum."
    items = [told(item) for item in rl.read(page).items]
    assert items[1:] == [("camphor", [(1, "size_of_walnut")]), ("alum", [(1, "pinch")])]


@pytest.mark.parametrize(
    "table",
    [
        "10.00 | 2 fl. ounces | glycerin\n5.00 | 1 fl. ounce | rose water",
        "| 10.00 | 2 fl. ounces | glycerin |\n| 5.00 | 1 fl. ounce | rose water |",
        "glycerin | 10.00 | 2 fl. ounces\nrose water | 5.00 | 1 fl. ounce",
        "Ingredient | Grams | oz.\nglycerin | 10.00 | 2 fl. ounces\nrose water | 5.00 | 1 fl. ounce",
        "Gm. | oz. |\n10.00 | 2 fl. ounces | glycerin\n5.00 | 1 fl. ounce | rose water",
    ],
)
def test_a_table_with_bars_may_have_two_columns_of_amounts(table: str) -> None:
    found = [told(item) for item in rl.read(table).items]
    assert found == [
        ("glycerin", [(2, "fluid_ounce"), (10, None)]),
        ("rose water", [(1, "fluid_ounce"), (5, None)]),
    ]
    assert [told(item) for receipt in rl.read_all(table).receipts for item in receipt.items] == found


@pytest.mark.parametrize(
    "table",
    [
        "name,amount\nStarch,10 oz.\nTalc,2 oz.",
        "Ingredient,Amount,Unit\nStarch,10,oz.\nTalc,2,oz.",
        "Amount\tIngredient\n10 oz.\tStarch\n2 oz.\tTalc",
        "Zutat;Menge\nStarch;10 oz.\nTalc;2 oz.",
    ],
)
def test_a_pasted_table_is_read_by_its_cells(table: str) -> None:
    receipt = rl.read(table)
    assert receipt.title == ""
    assert [told(item) for item in receipt.items] == [("Starch", [(10, "ounce")]), ("Talc", [(2, "ounce")])]
    assert [told(item) for item in rl.read_all(table).receipts[0].items] == [told(item) for item in receipt.items]


def test_an_amount_may_stand_in_the_cell_before_its_name() -> None:
    items = [told(item) for item in rl.read("2 oz. | Starch\n3 oz. | Talc").items]
    assert items == [("Starch", [(2, "ounce")]), ("Talc", [(3, "ounce")])]


@pytest.mark.parametrize("oz", ["oz.", "OZ.", "Ozs."])
def test_figures_run_together_are_asked_about_in_any_type(oz: str) -> None:
    for others in ("1\u00bc", "2"):
        page = f"POMADE.\nLard ... {others} {oz}\nWax ... 14 {oz}\nOil ... 12 {oz}"
        lard, *doubtful = rl.read(page).items
        assert lard.certain
        assert all(not item.certain and item.readings for item in doubtful)


def test_figures_near_the_others_are_left_alone() -> None:
    assert all(item.certain for item in rl.read("Lard ... 8 OZ.\nWax ... 14 OZ.\nOil ... 12 OZ.").items)


@pytest.mark.parametrize(
    ("years", "unit", "certain"),
    [("1760", "grain", True), ("1845", "gram", False), ("1835-1850", "grain", False), ("", "grain", False)],
)
def test_gr_in_france_is_asked_about_from_the_metric_years_on(years: str, unit: str, certain: bool) -> None:  # noqa: FBT001
    item = rl.read("Poudre.\nAmidon, 100 gr.\nIris, 20 gr.", years=years, place="France").items[0]
    assert (item.quantities[0].parts[0].unit, item.certain) == (unit, certain)


def test_one_drachm_each_of_the_oils_of_several() -> None:
    page = "Take one drachm each of the oils of lavender, bergamot and cloves; rectified spirit, one pint."
    *oils, spirit = rl.read(page).items
    assert [told(item) for item in oils] == [
        (f"oils of {name}", [(1, "drachm")]) for name in ("lavender", "bergamot", "cloves")
    ]
    assert told(spirit) == ("rectified spirit", [(1, "pint")])


# Invented, in the manner of household books of the seventeenth and eighteenth centuries.
@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("Take 6 drops of oil of Limons, as much oil of Cloves, 10 grains of Musk.", [6, 6, 10]),
        ("mix it with a dram of Musk finely beaten, as much Civet, and two ounces of Storax.", [1, 1, 2]),
        ("Prenez deux onces de cire blanche, autant de blanc de baleine, et une once d'huile.", [2, 2, 1]),
        ("Take two ounces of wax, as much water as will cover it.", [2, None]),
    ],
)
def test_as_much_takes_the_amount_before_it_unless_it_is_told_how_much(text: str, wanted: list[float | None]) -> None:
    items = rl.read(text, title="Receipt").items
    assert [item.quantities[0].parts[0].amount.value if item.quantities else None for item in items] == wanted
    assert not items[1].certain


@pytest.mark.parametrize(
    "text",
    [
        "Take the flowers of sage rosemary betony thyme of each a handful.",
        "Take citron peel. Lemon peel. peony seeds. of each six drams.",
        "Take one pound of the best starch you can get.",
    ],
)
def test_what_may_be_several_names_or_a_sentence_is_never_certain(text: str) -> None:
    assert not any(item.certain for item in rl.read(text, title="Receipt").items if len(item.name.split()) > 2)


def test_a_title_says_whose_receipt_it_is() -> None:
    page = rl.read_all(
        "SALBEN.\n\nLippensalbe n. Hager.\n\nOel 60,0\n\nWachs, gelbes 39,0\n\nLippensalbe n. Mohr.\n\nTalg 5,0\n"
    )
    assert [receipt.title for receipt in page.receipts] == ["Lippensalbe n. Hager", "Lippensalbe n. Mohr"]


def test_a_title_in_marks_may_say_what_to_make_and_be_long() -> None:
    page = rl.read_all(
        "1. _To perfume Gloves._\n\nTake four grains of musk and an ounce of gum.\n\n\n"
        "2. _To preserve red Roses, which is as good as any Conserve, and made with less trouble and cost._\n\n"
        "Take one pound of roses and three pounds of sugar.\n"
    )
    assert [len(receipt.items) for receipt in page.receipts] == [2, 2]
    assert page.receipts[0].title == "To perfume Gloves"


@pytest.mark.parametrize(
    ("text", "units"),
    [
        ("bole 3 parts, chalk 2, ochre 1", ["part", "part", "part"]),
        ("starch 8 oz., orris 2, eggs 3", ["ounce", "ounce", "piece"]),
        ("oil of lemon 20 drops, musk 2", ["drop", None]),
    ],
)
def test_a_unit_printed_once_holds_for_the_bare_numbers_behind_it(text: str, units: list[str | None]) -> None:
    items = rl.read(text, title="Receipt").items
    assert [item.quantities[0].parts[0].unit for item in items] == units
    assert not any(item.certain for item in items[1:] if item.quantities[0].parts[0].unit in ("part", "ounce"))


def test_a_french_essence_is_said_of_every_name_of_its_list() -> None:
    text = "essence de lavande, de romarin, de bergamote, de chaque 10 grammes"
    items = rl.read(text, title="Eau").items
    assert [item.name for item in items] == ["essence de lavande", "essence de romarin", "essence de bergamote"]
    assert not rl.read("eau de rose, de fleurs d'oranger, de chaque 3 onces", title="Eau").items[1].certain


def test_a_fraction_with_a_blank_at_its_stroke_is_one() -> None:
    items = rl.read("3/ 4 Pfund frisches Fett, 1 /2 Loth Zimmt", title="Salbe").items
    assert [item.quantities[0].parts[0].amount.value for item in items] == [0.75, 0.5]


def test_a_dash_between_figure_and_name_stands_for_the_unit_above() -> None:
    items = rl.read("10 Pfund Rosen\n12 \N{EN DASH} Bergamotte\n8 \N{EN DASH} Cedrat", title="Wasser").items
    assert [told(item) for item in items] == [
        ("Rosen", [(10, "pfund")]),
        ("Bergamotte", [(12, "pfund")]),
        ("Cedrat", [(8, "pfund")]),
    ]


def test_a_vessel_before_a_list_is_never_certain() -> None:
    items = rl.read("Jetez dans la cucurbite, feuilles de sauge, de chacune quatre onces", title="Eau").items
    assert not any(item.certain for item in items if "cucurbite" in item.name)


@pytest.mark.parametrize(
    "text",
    [
        "Take one ounce of flour, and honey a sufficient quantity.",
        "Take one ounce of flour, honey enough to make a paste.",
        "Take one ounce of flour and honey q.s.",
    ],
)
def test_enough_behind_a_name_is_of_that_name(text: str) -> None:
    flour, honey = rl.read(text, title="Paste").items
    assert told(flour) == ("flour", [(1, "ounce")])
    assert (told(honey), honey.purpose) == (("honey", []), "enough")


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Melt together in an earthen vessel placed in hot water, white wax 2 drs., lard 1 oz.", "white wax"),
        ("Faites fondre dans un poêlon, cire blanche 2 onces, saindoux 1 once", "cire blanche"),
        ("White wax, in shavings, 2 oz.", "White wax"),
    ],
)
def test_where_a_thing_is_put_is_no_part_of_its_name(text: str, name: str) -> None:
    assert rl.read(text, title="Salve").items[0].name == name


@pytest.mark.parametrize(
    ("line", "first", "second"),
    [
        ("Soft Paraffin, white | 12.50 | | | 1 ounce |", (1, "ounce"), (12.5, None)),
        ("Borax 1.00 | 35 grains", (35, "grain"), (1, None)),
        ("Honey Water | to 100.00 | | | to 20 fl. ounces |", (20, "fluid_ounce"), (100, None)),
    ],
)
def test_two_columns_of_a_pasted_table_are_told_apart(line: str, first: object, second: object) -> None:
    item = rl.read(line, title="Cerate").items[0]
    parts = [quantity.parts[0] for quantity in item.quantities]
    assert [(part.amount.value, part.unit) for part in parts] == [first, second]
    assert not item.strength
    assert not item.certain


def test_the_head_of_a_salt_is_not_carried() -> None:
    text = "Nitrate of silver, 30 gr.; distilled water, 1 fl. oz.; ammonia sufficient to clear it."
    assert [item.name for item in rl.read(text, title="Dye").items] == [
        "Nitrate of silver",
        "distilled water",
        "ammonia",
    ]


def test_a_head_is_not_carried_to_a_list_with_another_amount() -> None:
    text = "Flowers of Basil, Rue, of each a handful; Mace, Aloes-Wood, of each two ounces"
    assert [item.name for item in rl.read(text, title="Water").items][2:] == ["Mace", "Aloes-Wood"]


@pytest.mark.parametrize(
    ("text", "told_of"),
    [
        ("A good formula is permanganate of potash, 1 dr.; rose water, 3 oz.", "permanganate of potash"),
        ("Acid, 1 oz.; the solution being afterwards diluted with water, 3 oz.", "water"),
        ("Two parts of bismuth, and 150 parts of glycerin are mixed in a vessel.", "glycerin"),
    ],
)
def test_a_sentence_around_a_name_is_no_part_of_it(text: str, told_of: str) -> None:
    assert told_of in [item.name for item in rl.read(text, title="Dye").items]


@pytest.mark.parametrize(
    ("text", "titles"),
    [
        ("3. (Aqua Orientalis.) From silver, 2 dr.; nitric acid, 1 oz.", ["Aqua Orientalis"]),
        ("6. No. 1 Solution. Gallic acid, 7 gr.; water, 1 fl. oz.", ["Solution (No. 1)"]),
        ("Lotion. Oil of lemon, 3 dr.; wax, 2 oz.", ["Lotion"]),
    ],
)
def test_a_numbered_title_is_found(text: str, titles: list[str]) -> None:
    assert [receipt.title for receipt in rl.read_all(text).receipts] == titles


def test_a_stop_for_a_comma_loses_nothing() -> None:
    text = "Use tincture of myrrh, 1 dr.; carbonate of ammonia. 1 dr.; and carbonate of potash, 1 dr.; mix."
    assert len(rl.read(text, title="Wash").items) == 3


def test_the_rind_of_counted_fruits_is_one_name() -> None:
    item = rl.read("Cloves, an ounce; the Yellow Rind of three large Lemons", title="Water").items[1]
    assert told(item) == ("Yellow Rind of Lemons", [(3, "piece")])


def test_what_is_made_already_goes_into_nothing() -> None:
    text = "Brandy, a gallon; cloves, an ounce. To a gallon of this water, add of rose-water a pint."
    assert [item.name for item in rl.read_all(text).receipts[0].items] == ["Brandy", "cloves", "rose-water"]


def test_an_or_behind_a_number_is_another_receipt() -> None:
    page = (
        "200.A Pomatum.\n\nTake an ounce of Lard.\n\n201.Or,\n\nTake half an ounce of Oil, and thirty grains of Borax."
    )
    assert [receipt.title for receipt in rl.read_all(page).receipts] == ["A Pomatum", "A Pomatum. Or"]


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Take wax, 1 oz., and add 1 drachm of oil of almonds, and any perfume you approve.", "oil of almonds"),
        ("Take of lavender flowers, free from stalk, half a pound; mint, one ounce.", "lavender flowers"),
    ],
)
def test_what_goes_on_behind_a_name_is_no_part_of_it(text: str, name: str) -> None:
    assert name in [item.name for item in rl.read(text, title="Cream").items]


def test_what_is_filled_is_never_certain() -> None:
    text = "Boil six eggs, and fill the cavities with myrrh, and sugar candy, of each equal parts."
    assert not any(item.certain for item in rl.read(text, title="Pomatum").items if "cavit" in item.name)


def test_a_receipt_whose_title_is_a_sentence_is_found_by_its_taking() -> None:
    text = (
        "Pommade, als Mittel die Hände zart und weich zu machen und zu erhalten. Aepfel werden in Stücke zerschnitten. "
        "Man nimmt 4 Loth und erhitzt sie mit 12 Loth Butter und 3 1/2 Loth Wachs unter Umrühren."
    )
    assert [item.name for item in rl.read_all(text).receipts[0].items] == ["Butter", "Wachs"]
