"""What stands on a page beside receipts is none of them, and what belongs together is read together: invented pages."""

import pytest

import reconlab as rl
from reconlab.reading.lines import read_line


def _items(text: str) -> list[list[tuple[str, str]]]:
    page = rl.read_all(text)
    return [
        [
            (item.name, " ".join(p.amount.printed + " " + str(p.unit) for q in item.quantities for p in q.parts))
            for item in receipt.items
        ]
        for receipt in page.receipts
    ]


def _names(text: str) -> list[list[str]]:
    return [[name for name, _ in items] for items in _items(text)]


@pytest.mark.parametrize(
    "page",
    [
        "PRICES CURRENT.\n\n  ALUM, lb.        3     4\n    Powdered       4     5\n  BORAX, lb.      10    12\n",
        "Alum, in 5 lb. boxes, per lb. ...... 0 03\nOil of cloves, 1 lb. ........... 1 25\n",
        "DOSES.\n\nGallic acid ........ 5 to 20 grains.\nAloes ....... 2 to 6 grains.\n",
        "Two analyses of the powder gave:\n\n  Chalk          63,09\n  Alumina        29,09\n  Lime            0,42\n",
        "  Chalk          63.09\n  Alumina        29.09\n  Lime            0.42\n",
        "Good opium contains from 8 to 10 per cent, and more, of morphia.\n",
    ],
)
def test_prices_doses_and_analyses_are_no_receipts(page: str) -> None:
    assert rl.read_all(page).receipts == ()


def test_a_dose_in_columns_stays_a_dose() -> None:
    page = (
        "TINCTURE OF ALOES\n\nComposed of aloes, 100 parts; alcohol, 400 parts.\n\n"
        "DOSE.--Horses, 1 to 2 oz.; cattle, 2 to 3 oz.; dogs, 3 to 20 m.\n"
    )
    assert _names(page) == [["aloes", "alcohol"]]


def test_what_comes_out_and_what_is_listed_already_does_not_go_in() -> None:
    page = (
        "EXTRACT OF LOBELIA.\n\n Lobelia               8 oz.\n Diluted alcohol       3 pints.\n\n"
        "Macerate the lobelia in a pint of the diluted alcohol; pour on water until two pints are obtained; "
        "evaporate this in a water bath to ten fluid ounces, and add two ounces of sugar.\n"
    )
    assert _names(page) == [["Lobelia", "Diluted alcohol", "sugar"]]


def test_names_above_an_amount_of_each_share_it_in_a_prescription() -> None:
    page = "R. Pulv. Rhei\nSacchari\nMagnes. Carb. aa \N{OUNCE SIGN}ss\nAqu\u00e6 ferventis \N{OUNCE SIGN}j\n"
    half, one = "\N{OUNCE SIGN}ss ounce", "\N{OUNCE SIGN}j ounce"
    assert _items(page) == [[("Rhei", half), ("Sacchari", half), ("Magnes. Carb", half), ("Aqu\u00e6", one)]]


def test_numbered_receipts_inside_a_paragraph_are_told_apart() -> None:
    page = (
        "56. Green Balm or Balm of Mallows Take of oil four pound, wax half a pound. Boil them. It softens "
        "swellings. 57. Brown Balm Take of honey fourteen parts, vinegar seven parts. Boil them.\n"
    )
    assert rl.read_all(page).titles == ("Green Balm or Balm of Mallows", "Brown Balm")
    assert _names(page) == [["oil", "wax"], ["honey", "vinegar"]]


def test_a_title_may_say_what_a_thing_is_for_and_no_byline_is_one() -> None:
    assert rl.read_all("For the redness of the nose.\n\nTake of wax two ounces; oil one pint.\n").titles == (
        "For the redness of the nose",
    )
    page = "EXTRACT OF ROSES.\n\nBY WALTER PINFOLD, JR.\n\nRoses        2 oz.\nSpirit       1 pint.\n"
    assert rl.read_all(page).titles == ("EXTRACT OF ROSES",)


def test_one_empty_line_does_not_part_a_sentence() -> None:
    assert _names("Prenez vinaigre, eau de rose,\n\nhuile d'olive, de chaque deux onces.\n") == [
        ["vinaigre", "eau de rose", "huile d'olive"]
    ]


@pytest.mark.parametrize(
    ("line", "read"),
    [
        ("Wax and lard, two ounces of each; oil one pound", {"Wax": 2, "lard": 2, "oil": 1}),
        ("Wachs und Fett, zwei Loth von jedem; Oel ein Pfund", {"Wachs": 2, "Fett": 2, "Oel": 1}),
        ("wax, lard and oil, of each alike, two ounces", {"wax": 2, "lard": 2, "oil": 2}),
        ("vinaigre, eau de rose, autant de l'un que de l'autre", {"vinaigre": 1, "eau de rose": 1}),
        ("Six figs, two drams of salt", {"figs": 6, "salt": 2}),
        ("amber \N{LATIN SMALL LETTER EZH} s, wax \N{LATIN SMALL LETTER EZH} ij", {"amber": 0.5, "wax": 2}),
        ("Lactis oij", {"Lactis": 2}),
        ("Two ounces of manna should be dissolved in half a pint of water", {"manna": 2, "water": 0.5}),
        ("He found that equal parts of galls and gum gave", {"galls": 1, "gum gave": 1}),
    ],
)
def test_amounts_find_their_names(line: str, read: dict[str, float]) -> None:
    items = read_line(line, 1, among_ingredients=True).items
    assert {item.name: item.quantities[0].parts[0].amount.value for item in items} == read


def test_the_letter_of_a_half_is_none_where_it_begins_other_words() -> None:
    assert not any(item.quantities for item in read_line("Aquae \N{OUNCE SIGN} s. a.", 1, among_ingredients=True).items)


@pytest.mark.parametrize(
    ("page", "names"),
    [
        ("INFUSION.\nRose petals, 2 oz.\nSugar, 1 oz.\nBoiling water to 20 oz.", ["Rose petals", "Sugar", "water"]),
        (
            "LOTION. Glycerin 1 oz., diluted acetic acid to 2 oz., and boiled milk to 8 oz.",
            ["Glycerin", "diluted acetic acid", "boiled milk"],
        ),
        ("CAMPHOR ICE. Cold cream, two ounces; camphor, one drachm.", ["Cold cream", "camphor"]),
        (
            "MOUTH WASH\n\nHydrogen peroxide 3 per cent     4 oz.\nAlcohol 90 per cent     50\nGlycerin     20\n",
            ["Hydrogen peroxide", "Alcohol", "Glycerin"],
        ),
        (
            "TOOTH POWDER.\n\nPrepared chalk       8 parts\nOrris and myrrh, each       2\nBorax       1\n",
            ["Prepared chalk", "Orris", "myrrh", "Borax"],
        ),
        (
            "HAIR WASH.\n\n  Rosemary water   oz. 6 to 8\n  Borax         oz. 1 to 2\n  Glycerin      oz. 1 - 2\n",
            ["Rosemary water", "Borax", "Glycerin"],
        ),
        (
            "COLD CREAM.\n\n  White wax, 2 oz.   ....  $0.10\n  Almond oil, 8 oz.  ....  $0.40\n",
            ["White wax", "Almond oil"],
        ),
        (
            (
                "HAIR RESTORER.\n\nAn imitation, founded on the published analysis, is made thus:\n\n"
                "  Milk of sulphur      3 dr.\n  Glycerin             2 oz.\n"
            ),
            ["Milk of sulphur", "Glycerin"],
        ),
        (
            "LOTION. Spirit of rosemary, 1 oz.; borax 1 dr. Dissolve the borax, and add the spirit, 6 oz.",
            ["Spirit of rosemary", "borax", "spirit"],
        ),
        ("Eine Salbe besteht aus:\n\nZinkoxyd        10,0\nVaselin        20,0\n", ["Zinkoxyd", "Vaselin"]),
        ("ELIXIR. Cinnamon 2 oz., spirit 1 pint; 2 oz. of water are evaporated.", ["Cinnamon", "spirit"]),
        ("Pomade. Take of this lard 1 lb., benzoin 1 oz.", ["lard", "benzoin"]),
        ("14. Balm. White wax, 2 oz.; almond oil, 8 oz.", ["White wax", "almond oil"]),
    ],
)
def test_what_looks_like_something_else_still_goes_in(page: str, names: list[str]) -> None:
    assert _names(page) == [names]


@pytest.mark.parametrize(
    "page",
    [
        (
            "Lip Salve.\nTake two ounces of each, wax and spermaceti; oil, four ounces.\n\n"
            "Freckle Wash.\nTake lemon juice and rose water, two ounces of each; sugar candy, half a dram.\n"
        ),
        (
            "Pommade.\n\nPrenez cire blanche, deux onces; huile, quatre onces.\n\n"
            "Eau pour les rousseurs.\n\nPrenez jus de citron et eau de roses, deux onces de chaque.\n"
        ),
        "STREUPULVER.\n\nZinkoxyd     10,0\nTalcum       40,0\n\nOder:\n\nBors\u00e4ure    10,0\nTalcum  90,0\n",
    ],
)
def test_two_receipts_stay_two(page: str) -> None:
    assert len(rl.read_all(page).receipts) == 2


def test_amounts_of_each_behind_names_give_way_to_amounts_before_names() -> None:
    text = "aloes and gum, each an ounce, from fifty to sixty drops of wine and two gills of water"
    line = read_line(text, 1, among_ingredients=True)
    assert [item.name for item in line.items] == ["aloes", "gum", "wine", "water"]
    assert [item.quantities[0].parts[0].unit for item in line.items] == ["ounce", "ounce", "drop", "gill"]
