"""Draw pages, read their pictures, and print what was lost: letters, then items, and how many of them in silence.

Each page is drawn in every period type that is installed, as it is and as a scan wears it. The error of letters counts
the changes from what was drawn to what Tesseract gives, per letter drawn, blanks and rows of dots left out. An item is
right where it has the amount, unit and name that the typed text gives; one that is wrong is silent where the reading
calls it certain. Pages are invented, or those of a file whose rows have a book, a place, a year and a text.

    python tests/benchmarks/score_pictures.py [PAGES.jsonl] [--show]
"""

import argparse
import json
import re
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from drawn_pages import draw, file_of, types
from score_names import LOCKED

from reconlab.reading import read_all
from reconlab.reading.image import read_image
from reconlab.receipts import Item, Page

WORN = {
    "clean": {},
    "good scan": {"skew": 0.5, "noise": 0.3},
    "poor scan": {"skew": -1.2, "noise": 0.8},
}
LONGEST = 90  # lines of a page that is drawn
PAGES = (
    (
        "table",
        {"place": "England", "book": "trade"},
        """                COLD CREAM.

White wax ................ 2 oz.
Spermaceti ............... 1½ oz.
Oil of sweet almonds ..... 1 pint.
Borax, in fine powder .... ½ oz.
Rose water ............... 8 fl. oz.
Otto of roses ............ 20 drops.

Melt the wax and spermaceti in the oil, by a gentle heat; dissolve the borax
in the rose water, and stir it in.

                LIP SALVE.

White wax ................ 1 lb. 4 oz.
Lard, washed ............. 2¼ lb.
Alkanet root ............. 3 drachms.
Oil of bergamot .......... 5 minims.""",
    ),
    (
        "signs",
        {"place": "England", "book": "dispensing"},
        """                TOOTH POWDER.

Precipitated chalk ....... ℥iv.
Orris root, in powder .... ℥ij.
Camphor .................. ʒiss.
Myrrh .................... ʒij.
Oil of cloves ............ ℈j.
Saccharin ................ gr. v.

Mix, and pass through a sieve.""",
    ),
    (
        "prose",
        {"place": "England", "book": "household"},
        """                A WASH FOR THE HAIR.

Take of rosemary water one pint and a half, of spirit of wine four ounces,
of borax two drachms, and of tincture of cantharides three drachms. Dissolve
the borax in the rosemary water, and add the rest.""",
    ),
    (
        "French",
        {"place": "Paris", "book": "perfumer"},
        """                EAU DE TOILETTE.

Alcool à 85° ............. 2 litres.
Essence de bergamote ..... 15 grammes.
Essence de citron ........ 10 grammes.
Teinture de benjoin ...... 25 grammes.
Eau de rose .............. 500 grammes.

Mêlez et filtrez au bout de huit jours.""",
    ),
    (
        "German",
        {"place": "Berlin", "book": "trade"},
        """                ZAHNPULVER.

Kreide, gefällte ......... 100 g
Veilchenwurzel, gepulvert  50 g
Pfefferminzöl ............ 20 Tropfen
Karmin ................... 1,5 g

Man mische und siebe das Pulver.""",
    ),
    (
        "Latin",
        {"place": "England", "book": "pharmacopoeia"},
        """                UNGUENTUM SIMPLEX.

Recipe:
Cerae albae .............. uncias duas.
Adipis praeparati ........ uncias tres.
Olei amygdalarum ......... uncias tres.

Liquefac lento igne, et misce.""",
    ),
)


@dataclass
class Score:
    """What a kind of page came to."""

    drawn: int = 0
    changed: int = 0
    asked: int = 0
    right: int = 0
    wrong: int = 0
    silent: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        """Return it as a row."""
        return (
            f"{100 * self.changed / max(1, self.drawn):8.1f} %{self.asked:8}"
            f"{100 * self.right / max(1, self.asked):9.1f} %{self.wrong:7}{len(self.silent):8}"
        )

    def add(self, other: "Score") -> None:
        for name in ("drawn", "changed", "asked", "right", "wrong"):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.silent += other.silent


def plain(text: str) -> str:
    return " ".join(re.sub(r"\.{3,}", " ", text).split())


def changes(one: str, other: str) -> int:
    """Return how many letters must be changed, put in or taken out."""
    row = list(range(len(other) + 1))
    for at, letter in enumerate(one, start=1):
        before, row = row, [at]
        for to, its in enumerate(other, start=1):
            row.append(min(before[to] + 1, row[-1] + 1, before[to - 1] + (letter != its)))
    return row[-1]


def said(item: Item) -> tuple[object, ...]:
    parts = tuple((part.amount.value, part.unit) for quantity in item.quantities for part in quantity.parts)
    return (" ".join(re.findall(r"[^\W_]+", item.name.lower())), parts or item.purpose)


def items(page: Page) -> list[Item]:
    return [item for receipt in page.receipts for item in receipt.items]


def score(text: str, setting: dict[str, str], picture: Path) -> Score:
    """Return what a page came to, against the same words typed."""
    found = read_image(picture, **setting)  # type: ignore[arg-type]
    wanted = [said(item) for item in items(read_all(text, **setting))]
    one = Score(drawn=len(plain(text)), changed=changes(plain(text), plain(found.text)), asked=len(wanted))
    for item in items(found):
        if said(item) in wanted:
            wanted.remove(said(item))
            one.right += 1
            continue
        one.wrong += 1
        if item.certain:
            one.silent.append(f"{found.text[:0]}{said(item)}")
    return one


def pages(path: Path | None) -> Iterator[tuple[str, dict[str, str], str]]:
    if path is None:
        yield from PAGES
        return
    for row in path.read_text(encoding="utf-8").splitlines():
        page = json.loads(row)
        text = str(page.get("text") or page.get("page") or "")
        if page.get("book") in LOCKED or not text or text.count("\n") > LONGEST:
            continue
        language = {"fr": "French", "de": "German", "la": "Latin"}.get(
            str(page.get("language") or page.get("lang")), "English"
        )
        yield "real pages", {"languages": language}, text


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("pages", nargs="?", type=Path)
    ask.add_argument("--show", action="store_true", help="print the items that are wrong and called certain")
    asked = ask.parse_args()
    scores: dict[tuple[str, str], Score] = {}
    with tempfile.TemporaryDirectory() as folder:
        picture = Path(folder) / "page.png"
        for kind, setting, text in pages(asked.pages):
            for worn, looks in WORN.items():
                for file in types():
                    draw(text, file, **looks).save(picture)  # type: ignore[arg-type]
                    for where in ((kind, worn), ("all", worn)):
                        scores.setdefault(where, Score()).add(score(text, setting, picture))
    print("types:", ", ".join(Path(file).stem for file in types()), "" if file_of("GFS Didot") else "(no period type)")
    print(f"{'page':12}{'print':12}{'letters':>10}{'items':>8}{'right':>11}{'wrong':>7}{'silent':>8}")
    for (kind, worn), one in scores.items():
        print(f"{kind:12}{worn:12}{one}")
        if asked.show and kind != "all":
            print(*(f"    {words}" for words in one.silent), sep="\n")


if __name__ == "__main__":
    main()
