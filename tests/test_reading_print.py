"""Lines as the trade printed them, and as scans spoil them: dittos, braces, prose, two columns, ruined figures."""

import csv
import json
import random
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from reconlab.errors import ReconlabError
from reconlab.reading import read
from reconlab.reading.lines import read_line
from reconlab.receipts import Item

HERE = Path(__file__).parent
RUINED = HERE / "data" / "ruined_lines.csv"
SCORER = HERE / "benchmarks" / "score_reading.py"


def shown(item: Item) -> str:
    """Return an item as "name = 2 ounce [+ 1 drachm]"; a range by its ends."""
    parts = item.quantities[0].parts if item.quantities else ()
    figures = []
    for part in parts:
        low, high = part.amount.low, part.amount.high
        figure = "?" if low is None or high is None else f"{low:g}" if low == high else f"{low:g}-{high:g}"
        figures.append(f"{figure} {part.unit}")
    return f"{item.name} = {' + '.join(figures) or 'none'}"


# Lines of published books, cut short; " / " ends a printed line.
PUBLISHED = [
    (
        "Beasley, The Druggist's General Receipt Book, 1872, Pot Pourri 2",
        "Calamus root, yellow sauders, of each 1 oz., vanilla 1 dr., musk 8 gr.",
        ["Calamus root = 1 ounce", "yellow sauders = 1 ounce", "vanilla = 1 drachm", "musk = 8 grain"],
    ),
    (
        "The American Pictorial Home Book, p. 643, Lady's Bouquet",
        "Oils of lavender and bergamot, each 3 drachms; oils of sandal wood and red cedar wood, each 20 drops",
        [
            "Oils of lavender = 3 drachm",
            "Oils of bergamot = 3 drachm",
            "oils of sandal wood = 20 drop",
            "red cedar wood = 20 drop",
        ],
    ),
    (
        "Enquire Within upon Everything, 1676, Aromatic Moth Repellant",
        "Take of cloves, caraway seeds, nutmeg, mace, cinnamon, and Tonquin beans, of each one ounce",
        [f"{name} = 1 ounce" for name in ("cloves", "caraway seeds", "nutmeg", "mace", "cinnamon", "Tonquin beans")],
    ),
    (
        "Enquire Within upon Everything, 1681, The Hands",
        "Take a wineglassful of eau-de-Cologne, and another of lemon juice; then scrape two cakes of soap",
        ["eau-de-Cologne = 1 wineglassful", "lemon juice = 1 wineglassful", "soap = 2 piece"],
    ),
    (
        "Dwight, The Golden Age Cook Book, Fine Lavender Water",
        "Two ounces finest oil of lavender, one ounce essence of musk, one-half / ounce essence of ambergris",
        ["oil of lavender = 2 ounce", "essence of musk = 1 ounce", "essence of ambergris = 0.5 ounce"],
    ),
    (
        "Triemens, The Handy Cyclopedia of Things Worth Knowing, Fine Lavender Water",
        "a pint of inodorous spirit of wine, an ounce of oil of lavender, and a tablespoonful of oil of ambergris",
        ["inodorous spirit of wine = 1 pint", "oil of lavender = 1 ounce", "oil of ambergris = 1 tablespoonful"],
    ),
    (
        "Ritter, Mother's Remedies, Thomas's Electric Oil",
        "Gum Camphor 1 dram / Balsam fir 2 drams / Alcohol, to make 1 pint / Alkanet sufficient to color",
        ["Gum Camphor = 1 drachm", "Balsam fir = 2 drachm", "Alcohol = 1 pint", "Alkanet = none"],
    ),
    (
        "Piesse, The Art of Perfumery, 1857",
        'Otto of lemons, } each, 1/4 oz. / " bergamot, } / Extract of musk, } each, 1 oz. / " ambergris, }',
        [
            "Otto of lemons = 0.25 ounce",
            "Otto of bergamot = 0.25 ounce",
            "Extract of musk = 1 ounce",
            "Extract of ambergris = 1 ounce",
        ],
    ),
    (
        "Puckner, Epitome of the Pharmacopeia, 1916",
        "aloes and asafetida (each 0.09 Gm. or 1-1/2 grains) with soap",
        ["aloes = 0.09 gram", "asafetida = 0.09 gram", "soap = none"],
    ),
    (
        "Spons' Household Manual, 1894",
        "3 oz. mace infused in 1 qt. 95 per cent. alcohol; ½ lb. cinnamon infused in ½ gal. water",
        ["mace = 3 ounce", "alcohol = 1 quart", "cinnamon = 0.5 pound", "water = 0.5 gallon"],
    ),
]


@pytest.mark.parametrize(("source", "text", "wanted"), PUBLISHED, ids=[source[:40] for source, _, _ in PUBLISHED])
def test_published_receipts_are_read_as_a_careful_reader_reads_them(source: str, text: str, wanted: list[str]) -> None:
    assert source
    assert [shown(item) for item in read(text.replace(" / ", "\n"), title="A receipt").items] == wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("One part glycerine, 1 of Eau-de-Cologne, 2 of water", ["glycerine", "Eau-de-Cologne", "water"]),
        ("two ounces of wax, the same quantity of lard, and twice as much of oil", ["wax", "lard", "oil"]),
    ],
)
def test_an_amount_that_leans_on_another_is_filled_in_and_never_certain(text: str, wanted: list[str]) -> None:
    first, *others = read(text).items
    assert [first.name, *(item.name for item in others)] == wanted
    assert {item.quantities[0].parts[0].unit for item in others} == {first.quantities[0].parts[0].unit}
    assert not any(item.certain for item in others)


def test_an_amount_behind_a_direction_is_no_part_of_the_one_before() -> None:
    assert [shown(item) for item in read("Boil together olive oil 15 oz., and add 2 dr. of oil of lavender").items] == [
        "olive oil = 15 ounce",
        "oil of lavender = 2 drachm",
    ]


def test_twice_as_much_is_reckoned_from_the_amount_before() -> None:
    assert [shown(item) for item in read("two ounces of wax, and twice as much of oil").items] == [
        "wax = 2 ounce",
        "oil = 4 ounce",
    ]


def test_two_amounts_for_one_thing_are_two_columns() -> None:
    (item,) = read("tannic acid (0.06 Gm. or 1 grain)").items
    assert [(q.column, q.parts[0].amount.value, q.parts[0].unit) for q in item.quantities] == [
        (1, 0.06, "gram"),
        (2, 1, "grain"),
    ]


@pytest.mark.parametrize("text", ["Let it stand 14 days.", "half an hour", "Boil for 20 minutes."])
def test_a_time_is_no_amount(text: str) -> None:
    receipt = read(f"Starch, 2 oz.\nTalc, 1 oz.\n{text}")
    assert [item.name for item in receipt.items] == ["Starch", "Talc"]


@pytest.mark.parametrize("line", ["Talc, N. F. 2 pounds", "Zinc oxide U. S. P. 2 pounds"])
def test_the_pharmacopoeia_whose_quality_is_meant_is_no_direction(line: str) -> None:
    (item,) = read(line).items
    assert (item.preparation.replace(" ", "")[:2], shown(item)[-7:]) in {("N.", "2 pound"), ("U.", "2 pound")}


def ruined() -> list[dict[str, str]]:
    with RUINED.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", ruined(), ids=lambda row: row["line"])
def test_ruined_print_keeps_what_was_printed_among_its_readings(row: dict[str, str]) -> None:
    (item,) = read(row["line"], title=row["source"]).items
    wanted = (float(row["amount"]) if row["amount"] else None, row["unit"])
    readings = [item, *(reading.item for reading in item.readings)]
    found = [(r.quantities[0].parts[0].amount.value, r.quantities[0].parts[0].unit) for r in readings]
    assert row["name"] in item.name
    assert wanted in found
    assert found[0] == wanted or not item.certain


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("White wax 14 lb.\nLard 1 lb.\nOlive oil 2 lb.", True),
        ("White wax 14 lb.\nLard 10 lb.\nOlive oil 12 lb.", False),
        ("White wax 14 lb.", False),
    ],
)
def test_an_amount_out_of_its_receipts_pattern_is_asked_about(text: str, asked: bool) -> None:  # noqa: FBT001
    wax = read(text, title="Cerate").items[0]
    assert wax.certain is not asked
    values = [reading.item.quantities[0].parts[0].amount.value for reading in wax.readings]
    assert values == ([0.25, 1.5, 1.25] if asked else [])


SCRAPS = (
    '3ij 5ss Zij l J $ 1O 3i 1-2 an oz. drachms lb. of each the same of a few drops some } { | ( ) , ; . " do. Otto of '
    "musk Extract wax two ounces and in into which dissolved 1½ 112 to make q.s. (0.06 Gm. or 1 grain) \n"
)
WORDS = st.sampled_from(SCRAPS.split(" "))


@settings(deadline=None)
@given(st.lists(WORDS, max_size=16).map(" ".join))
def test_any_line_is_read_and_its_spans_and_unread_words_lie_in_it(text: str) -> None:
    line = read_line(text, 1, among_ingredients=True)
    spans = [span for item in line.items for found in item.spans.values() for span in found]
    assert all(0 <= start < end <= len(text) for start, end in [*spans, *line.unread])
    assert all(item.name for item in line.items)
    taken = {at for start, end in spans for at in range(start, end)}
    assert taken.isdisjoint(at for start, end in line.unread for at in range(start, end))
    for item in line.items:
        for quantity in item.quantities:
            for part in quantity.parts:
                assert part.unit is None or "ditto" not in part.unit


@settings(deadline=None)
@given(st.lists(WORDS, max_size=16).map(" ".join))
def test_reading_the_words_of_a_receipt_again_gives_the_same(text: str) -> None:
    try:
        receipt = read(text, title="A receipt")
    except ReconlabError:
        return
    again = read("\n".join(line.text for line in receipt.lines), title="A receipt")
    assert [shown(item) for item in again.items] == [shown(item) for item in receipt.items]


def calls(text: str) -> int:
    """Return how many functions reading a line calls: the work done, without a clock."""
    count = 0

    def seen(_frame: object, event: str, _argument: object) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    read_line("Starch, 2 oz.", 1, among_ingredients=True)
    sys.setprofile(seen)
    try:
        read_line(text, 1, among_ingredients=True)
    finally:
        sys.setprofile(None)
    return count


@pytest.mark.parametrize(
    "piece",
    [
        "Starch, 2 oz.; ",
        "two ounces of starch, and ",
        'Extract of musk, } " vanilla, } of each 2 oz. ',
        "Starch, ",
        "(",
        "2 oz. or 3 Gm. ",
        "3ij ",
        "dissolved in ",
        '" ',
    ],
)
def test_a_line_twice_as_long_is_at_most_twice_the_work(piece: str) -> None:
    random.seed(0)
    short, long_ = calls(piece * 200), calls(piece * 400)
    assert long_ < 2.3 * short


def receipt_of(book: str, name: str) -> str:
    found = {"amount": 2, "unit": "ounce", "ingredient": name, "prep": None, "qs": False, "to_make": False}
    line = {"text": f"{name}, 2 oz.", "items": [found | {"each": False, "note": None}]}
    return json.dumps({"id": "1", "book": book, "title": "", "layout": "tabular", "lines": [line]})


@pytest.mark.parametrize("lock", [(), ("--open-lock",)])
def test_the_scorer_prints_only_totals_of_locked_books(tmp_path: Path, lock: tuple[str, ...]) -> None:
    corpus = tmp_path / "corpus.jsonl"
    lines = (receipt_of("Free", "rose water"), receipt_of("The Toilet of Flora", "essence of secrets"))
    corpus.write_text("\n".join(lines) + "\n", encoding="utf-8")
    done = subprocess.run(
        [sys.executable, SCORER, corpus, "--show", "all", *lock], check=True, capture_output=True, text=True
    )
    assert "secrets" not in done.stdout
    assert ("all locked books" in done.stdout) == bool(lock)
    assert "all books that are not locked" in done.stdout


@pytest.mark.parametrize(
    ("page", "found"),
    [
        # a paragraph printed over several lines
        (
            (
                "Take of Camomile-flowers, four Pounds; Dill seed two Pounds and a\n"
                "Half; Leaves of Balm, one Pound; white wax, one Pound."
            ),
            [
                ("Camomile-flowers", 4, "pound"),
                ("Dill seed", 2.5, "pound"),
                ("Leaves of Balm", 1, "pound"),
                ("white wax", 1, "pound"),
            ],
        ),
        # words that lead to a list take none of its amounts
        (
            "Dye with 1 oz. logwood, 3/4 oz. madder, 1/2 oz. weld.",
            [("logwood", 1, "ounce"), ("madder", 0.75, "ounce"), ("weld", 0.5, "ounce")],
        ),
        (
            "Man nahm zu einer solchen Portion: 5 Pfd. Wachs, 12 Pfd. Lein\u00f6l und 1 Pfd. Talg.",
            [("Wachs", 5, "pfund"), ("Lein\u00f6l", 12, "pfund"), ("Talg", 1, "pfund")],
        ),
        # a title in marks of italics runs in
        ("_Family pomade (red)._--Fresh lard 6 lbs., tallow 3 lbs.", [("lard", 6, "pound"), ("tallow", 3, "pound")]),
        # decimal grams of a thing that is also counted
        ("Nelken 20,0\nWeingeist 1000,0", [("Nelken", 20, "gram"), ("Weingeist", 1000, "gram")]),
        ("4 pintes d'eau de vie", [("eau de vie", 4, "pinte")]),
        # so many grains would be gros and ounces; where litres stand, gr. is a gram
        ("Prenez 125 gr. de farine avec 125 gr. de beurre", [("farine", 125, "gram"), ("beurre", 125, "gram")]),
        ("Wasser 1 Liter\nBromkali 3 gr", [("Wasser", 1, "liter"), ("Bromkali", 3, "gram")]),
        # of one to two it were pints
        ("rose water 1-2 pint; borax 1 ounce", [("rose water", 0.5, "pint"), ("borax", 1, "ounce")]),
    ],
)
def test_what_other_books_print_is_read(page: str, found: list[tuple[str, float, str]]) -> None:
    read_as = [(item.name, item.quantities[0].parts[0]) for item in read(page, title="Receipt").items]
    assert [(name, part.amount.value, part.unit) for name, part in read_as] == found
