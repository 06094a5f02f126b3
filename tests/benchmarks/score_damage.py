"""Print how ruined print is read: real lines of scans, and lines made from clean ones, apart.

Real lines stand with their source in ``tests/data/ruined_lines.csv``; the rules were made with them at hand. Made ones
are clean amounts of each kind, spoilt as scans spoil them: a sign for a figure, a letter for a figure, a stroke or a
fraction lost. Right first means the item's own amount; among the answers, one of its other readings; silent, that a
wrong amount was said to be certain.

    python tests/benchmarks/score_damage.py
"""

import csv
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from reconlab.errors import ReconlabError
from reconlab.reading import read
from reconlab.receipts import Item

DATA = Path(__file__).parents[1] / "data" / "ruined_lines.csv"
Wanted = tuple[float | None, str]
# Confusions seen in scans: what stands for which sign of weight.
SIGNS = {"drachm": ("3", "5", "z", "Z", "3 ", "g"), "ounce": ("3", "5", "§", "g", "J"), "scruple": ("9", "3", "Э")}
NUMERALS = {"j": 1, "ij": 2, "iij": 3, "iv": 4, "vj": 6, "viij": 8, "ss": 0.5, "iss": 1.5}
UNITS = {"oz.": "ounce", "drachms": "drachm", "lb.": "pound", "pints": "pint"}
HALVES = {"1½": "112", "2½": "21/2", "3¼": "314", "1¾": "13/4", "4½": "41/2", "2¾": "234"}
# What Tesseract made of oz., fl. oz. and fractions on the drawn pages of score_pictures.py, and their like.
UNIT_SCANS = {"02.": "ounce", "0z.": "ounce", "o2": "ounce", "fl. 02.": "fluid_ounce", "1b.": "pound", "Ib.": "pound"}
FRACTION_SCANS = {"%": (0.5, 0.25, 0.75), "Yi": (0.5,), "Yz": (0.5,), "Y4": (0.25,)}
VALUES = {"½": 0.5, "¼": 0.25, "¾": 0.75}


def real() -> Iterator[tuple[str, str, Wanted]]:
    with DATA.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            yield "real", row["line"], (float(row["amount"]) if row["amount"] else None, row["unit"])


def scanned() -> Iterator[tuple[str, str, Wanted]]:
    for letters, unit in UNIT_SCANS.items():
        for whole in (1, 2, 8, 12):
            yield "made: letters of a unit", f"Spirit of wine, {whole} {letters}", (whole, unit)
            yield "made: letters of a unit", f"Spirit of wine .... {whole}{letters}", (whole, unit)
    for printed, unit in UNITS.items():
        for sign, values in FRACTION_SCANS.items():
            for value in values:
                yield "made: sign for a fraction", f"Lard, {sign} {printed}", (value, unit)
                yield "made: sign for a fraction", f"3{sign} {printed} of lard", (3 + value, unit)


def made() -> Iterator[tuple[str, str, Wanted]]:
    for unit, signs in SIGNS.items():
        for sign in signs:
            for numeral, value in NUMERALS.items():
                if not (sign == "J" and numeral == "ss"):
                    yield f"made: {unit} sign", f"Tincture of myrrh, {sign}{numeral}.", (value, unit)
    for printed, unit in UNITS.items():
        for whole, spoilt in HALVES.items():
            kind = "stroke kept" if "/" in spoilt else "stroke lost"
            yield (
                f"made: fraction, {kind}",
                f"Spirit of wine, {spoilt} {printed}",
                (int(whole[0]) + VALUES[whole[1]], unit),
            )
            yield f"made: fraction, {kind}", f"{spoilt}{printed} of lard", (int(whole[0]) + VALUES[whole[1]], unit)
        for letter, value in (("l", 1.0), ("I", 1.0), ("J", 0.5)):
            yield "made: letter for a figure", f"Starch, {letter} {printed}", (value, unit)
        for spoilt, value in (
            ("1O", 10.0),
            ("2l", 21.0),
            ("l/2", 0.5),
            ("1 l/2", 1.5),
            ("3i", 3.5),
            ("1J", 1.5),
            ("2^", 2.5),
        ):
            yield "made: figure torn", f"{spoilt} {printed} of starch", (value, unit)
        yield "made: hyphen for a stroke", f"Starch, 1-2 {printed}", (0.5, unit)
        yield "made: hyphen for a stroke", f"Starch, 3-4 {printed}", (0.75, unit)


def amount(item: Item) -> Wanted | None:
    parts = item.quantities[0].parts if item.quantities else ()
    return (parts[0].amount.value, str(parts[0].unit)) if len(parts) == 1 else None


def judged(line: str, wanted: Wanted) -> str:
    try:
        items = read(line, title="one line").items
    except ReconlabError:
        return "not read"
    if len(items) != 1:
        return "not read"
    (item,) = items
    if amount(item) == wanted:
        return "right first"
    if wanted in [amount(reading.item) for reading in item.readings]:
        return "among the answers"
    return "silent" if item.certain else "wrong, asked about"


def main() -> None:
    kinds = ("right first", "among the answers", "wrong, asked about", "not read", "silent")
    found: dict[str, Counter[str]] = {}
    for kind, line, wanted in (*real(), *scanned(), *made()):
        found.setdefault(kind, Counter())[judged(line, wanted)] += 1
    print(f"{'':32}{'lines':>7}{''.join(f'{kind:>20}' for kind in kinds)}")
    for kind, counts in found.items():
        print(f"{kind:32}{counts.total():7}{''.join(f'{counts[each]:20}' for each in kinds)}")


if __name__ == "__main__":
    main()
