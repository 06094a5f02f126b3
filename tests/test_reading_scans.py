"""What columns and scans make of amounts: doubts that are asked about, never a wrong number in silence."""

import pytest

from reconlab.reading import read, read_all
from reconlab.reading.lines import read_line
from reconlab.receipts import Item


def amount(item: Item) -> list[tuple[float | None, str | None]]:
    return [(part.amount.value, part.unit) for quantity in item.quantities for part in quantity.parts]


def only(text: str) -> Item:
    (item,) = read_line(text, 1, among_ingredients=True).items
    return item


def others(item: Item) -> list[list[tuple[float | None, str | None]]]:
    return [amount(reading.item) for reading in item.readings]


@pytest.mark.parametrize("gap", ["      ", "\t", " .... "])
def test_units_across_a_gap_are_one_amount_or_two_batches_and_never_certain(gap: str) -> None:
    item = only(f"Spirit of wine ...... 1 gal.{gap}1 pint")
    assert not item.certain
    assert amount(item) == [(1, "gallon"), (1, "pint")]
    assert others(item) == [[(1, "gallon")], [(1, "pint")]]


def test_units_that_descend_without_a_gap_are_one_amount() -> None:
    item = only("Spirit of wine ...... 1 gal. 1 pint")
    assert item.certain
    assert amount(item) == [(1, "gallon"), (1, "pint")]


@pytest.mark.parametrize("last", ["Water ....... 2 oz.       3 oz.", "Oil of cloves ... 2 oz.      2 drachms"])
def test_columns_that_add_up_nowhere_else_are_two_batches(last: str) -> None:
    rows = ("COLOGNE.\n", "Spirit of wine ... 1 gal.      1 pint", "Bergamot ..... 4 oz.       4 drachms", last)
    for receipt in (read("\n".join(rows)), read_all("\n".join(rows)).receipts[0]):
        first = receipt.items[0]
        assert amount(first) == [(1, "gallon")]
        assert [(1, "gallon"), (1, "pint")] in others(first)
        assert not any(item.certain for item in receipt.items)


@pytest.mark.parametrize(
    ("printed", "value", "unit"),
    [
        # as Tesseract read the drawn pages of tests/benchmarks/score_pictures.py
        ("Spermaceti ......... 1% OZ.", 1.5, "ounce"),
        ("Borax, in fine powder ... % oz.", 0.5, "ounce"),
        ("White wax ....... 2 02.", 2, "ounce"),
        ("Rose water ...... 8 fl. 02.", 8, "fluid_ounce"),
        # other confusions of the same kind
        ("Borax, 3 0z.", 3, "ounce"),
        ("Borax, 3 o2", 3, "ounce"),
        ("Borax, 30z.", 3, "ounce"),
        ("Borax, 3 1b.", 3, "pound"),
        ("2%oz. of borax", 2.5, "ounce"),
        ("Borax, 2 Yi oz.", 2.5, "ounce"),
        ("Borax, Yz oz.", 0.5, "ounce"),
        ("Borax, Z 3", 3, "drachm"),
        ("Borax, fZij", 2, "fluid_drachm"),
        ("Borax, sij.", 2, "drachm"),
        ("Borax, two 02.", 2, "ounce"),
    ],
)
def test_what_scans_make_of_units_and_fractions_is_mended_and_never_certain(
    printed: str, value: float, unit: str
) -> None:
    item = only(printed)
    assert amount(item) == [(value, unit)]
    assert not item.certain


def test_a_misread_fraction_keeps_the_others_it_may_be() -> None:
    assert others(only("Lard, washed ........ 2% lb.")) == [[(2.25, "pound")], [(2.75, "pound")]]
    assert [(1.5, "ounce")] in others(only("Spermaceti ......... 14% oz."))


@pytest.mark.parametrize("printed", ["Alcohol 95%, 2 oz.", "Phenol, 2% solution, 2 oz.", "Ammonia 10% 2 oz."])
def test_a_percentage_is_no_misread_fraction(printed: str) -> None:
    item = only(printed)
    assert item.strength.endswith("%")
    assert amount(item) == [(2, "ounce")]


@pytest.mark.parametrize(("printed", "value", "unit"), [("Water, lbij", 2, "pound"), ("Aloes, grx.", 10, "grain")])
def test_a_numeral_may_hug_its_unit(printed: str, value: float, unit: str) -> None:
    assert amount(only(printed)) == [(value, unit)]


def test_pounds_and_ounces_in_columns_are_added_first_and_asked_about() -> None:
    rows = ("SOAP.\n", "Tallow .... 1 lb.    4 oz.", "Lye ....... 2 lb.    8 oz.", "Palm oil .. 2 lb.    2 oz.")
    first = read("\n".join(rows)).items[0]
    assert amount(first) == [(1, "pound"), (4, "ounce")]
    assert [(1, "pound")] in others(first)
    assert not first.certain


def test_an_o_among_grains_may_be_a_scruple_and_a_gt_a_grain() -> None:
    page = "\N{PRESCRIPTION TAKE} Pulv. ipecac. gr. v.\nPulv. rhei Oj.\nSodae bicarb. gT. x."
    first, second, third = read_all(page).receipts[0].items
    assert first.certain
    assert not second.certain
    assert [(1, "scruple")] in others(second)
    assert not third.certain
    assert [(10, "grain")] in others(third)


def test_an_o_among_ounces_stays_a_pint() -> None:
    page = "\N{PRESCRIPTION TAKE} Olei amygdal. \N{OUNCE SIGN}v.\nAquae rosae Oj."
    assert others(read_all(page).receipts[0].items[1]) == []


def test_a_z_beside_a_3_is_the_ounce() -> None:
    # as Tesseract read a drawn page of tests/benchmarks/score_pictures.py
    page = "TOOTH POWDER.\n\nPrecipitated chalk .... Ziv.\nOrris root ... 3ij.\nOil of cloves ..... 9j."
    receipt = read_all(page).receipts[0]
    assert [amount(item) for item in receipt.items] == [[(4, "ounce")], [(2, "drachm")], [(1, "scruple")]]
    assert [(4, "drachm")] in others(receipt.items[0])


def test_tb_is_a_pound_or_a_tablespoonful() -> None:
    item = read("Butter, 3 tb.", title="Paste").items[0]
    assert not item.certain
    assert others(item) == [[(3, "tablespoonful")]]


def test_figures_far_from_the_others_may_be_fractions() -> None:
    rows = ("White wax ... 2 oz.", "Spermaceti ... 14 oz.", "Oil of almonds ... 1 oz.", "Borax ... 42 oz.")
    wax, spermaceti, _oil, borax = read("\n".join(rows), title="Cold cream").items
    assert wax.certain
    assert not spermaceti.certain
    assert [(1.5, "ounce")] in others(spermaceti)
    assert not borax.certain
    assert [(0.5, "ounce")] in others(borax)


@pytest.mark.parametrize(
    ("text", "name", "unread"),
    [
        ("(Robertson.) Soft soap, 2 oz.", "Soft soap", "Robertson"),
        ("(Ph. L.) Wax, 2 oz.", "Wax", "Ph. L"),
        ("Han. Ph. Wax, 2 oz.", "Wax", "Han. Ph"),
    ],
)
def test_an_authority_before_a_name_is_no_part_of_it(text: str, name: str, unread: str) -> None:
    line = read_line(text, 1, among_ingredients=True)
    (item,) = line.items
    assert item.name == name
    assert not item.certain
    assert [line.text[start:end] for start, end in line.unread] == [unread]


@pytest.mark.parametrize("text", ["Tinct. Myrrh, 2 oz.", "Ol. Rosae, 2 oz.", "(Pure) carbolic acid, 2 oz."])
def test_heads_and_qualities_are_no_authorities(text: str) -> None:
    line = read_line(text, 1, among_ingredients=True)
    assert line.items[0].certain
    assert not line.unread


def test_a_title_run_in_before_from_is_never_part_of_a_certain_name() -> None:
    assert not only("Lead Cerate.---From white lead, 2 oz.").certain


def test_specific_gravity_is_no_ingredient() -> None:
    page = read_all("Tinctur.\n\nSpiritus 100,0\nZucker 20,0\nSpez. Gew. 1,046")
    assert [item.name for item in page.receipts[0].items] == ["Spiritus", "Zucker"]


def test_enough_to_make_the_fluid_measure_gives_one_item() -> None:
    line = read_line("Enough water to make the fluid measure three ounces.", 1, among_ingredients=True)
    (item,) = line.items
    assert (item.name, item.purpose) == ("water", "total")


def test_a_range_whose_greater_figure_comes_first_is_asked_about() -> None:
    item = only("Starch, 25-10 parts")
    part = item.quantities[0].parts[0]
    assert item.name == "Starch"
    assert (part.amount.low, part.amount.high, part.unit) == (10, 25, "part")
    assert not item.certain
    assert others(item) == [[(25, "part")], [(10, "part")]]


@pytest.mark.parametrize(("text", "name"), [("Nim oil, 1 oz.", "Nim oil"), ("Gib oil, 2 oz.", "Gib oil")])
def test_short_german_words_are_english_names_in_an_english_line(text: str, name: str) -> None:
    assert only(text).name == name


def test_a_lot_of_wax_is_no_loth() -> None:
    items = read_line("Take a lot of wax, 3 oz.", 1, among_ingredients=True).items
    assert all(part != (1, "loth") for item in items for part in amount(item))


def test_a_fraction_run_in_with_its_own_stroke_is_asked_about() -> None:
    # Cooley, Cyclopaedia of Practical Receipts, 6th ed., liniments of turpentine, as a copy on the web has it
    item = only("rose water, 21\N{FRACTION SLASH}2 fl. oz.")
    assert not item.certain
    assert item.quantities[0].parts[0].amount.value == 2.5
    assert [(10.5, "fluid_ounce")] in others(item)


@pytest.mark.parametrize("text", ["Anodyne. Boiled starch 1/4 pint", "4 ounces of al mond oil"])
def test_a_heading_or_a_torn_word_in_a_name_is_never_certain(text: str) -> None:
    assert not only(text).certain


def test_figures_run_into_a_misread_unit_may_be_ounces() -> None:
    assert [(4, "ounce")] in others(only("Soap, 402."))
