"""Print how many names of a corpus of receipts are identified, and by which way.

The corpus holds no answers, so nothing is said of right or wrong: a name is exact, found by rule, by likeness,
ambiguous (found, and nothing on file prefers one meaning) or not found. Names are given as a careful reader corrected
them. Nothing is printed of the locked books unless the lock is opened, and then one line of totals for all of them.

    python tests/benchmarks/score_names.py CORPUS.jsonl ... [--open-lock] [--not-found 40]
"""

import argparse
import json
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from reconlab.errors import ReconlabError
from reconlab.materia import alarms, folded, found_by, identify
from reconlab.receipts import Setting

CLASSES = ("exact", "by rule", "by likeness", "ambiguous", "not found")
LOCKED = frozenset({
    "The Toilet of Flora",
    "The White House Cook Book (Toilet Recipes)",
    "Essentials of Diseases of the Skin",
    "Our Knowledge Box; or, Old Secrets and New Discoveries",
    "Workshop Receipts, First Series",
    "Encyclopedia of Practical Receipts and Processes",
})  # fmt: skip


@dataclass
class Score:
    """Names of one book, by class."""

    classes: Counter[str] = field(default_factory=Counter)
    not_found: Counter[str] = field(default_factory=Counter)
    heard: int = 0  # not found, but a poison's word stops them

    def line(self, title: str) -> str:
        names = sum(self.classes.values())
        shares = "".join(f"{self.classes[each]:7}" for each in CLASSES)
        found = 100 * (names - self.classes["not found"]) / max(names, 1)
        return f"{title[:52]:52}{names:7}{shares}{self.heard:7}{found:8.1f} %"

    def add(self, other: "Score") -> None:
        self.classes += other.classes
        self.not_found += other.not_found
        self.heard += other.heard


def receipts(paths: Iterable[Path], *, locked: bool) -> Iterator[dict[str, Any]]:
    for path in paths:
        with path.open(encoding="utf-8") as lines:
            yield from (receipt for line in lines if ((receipt := json.loads(line))["book"] in LOCKED) == locked)


def names(receipt: dict[str, Any]) -> Iterator[str]:
    for line in receipt["lines"]:
        for item in line["items"]:
            yield item.get("ingredient_norm") or item["ingredient"] or ""


def setting(receipt: dict[str, Any]) -> Setting:
    """Return when and where; what the library cannot place stays open."""
    years, place = str(receipt["year"] or ""), str(receipt["place"] or "")
    for given in ((years, place), (years, ""), ("", place)):
        try:
            return Setting(*given)
        except ReconlabError:
            continue
    return Setting()


def way(name: str, here: Setting) -> str:
    question = identify(name, here)
    if question is None:
        return "not found"
    how = found_by(name)
    if how == "likeness":
        return "by likeness"
    if question.chosen is None:
        return "ambiguous"
    return "exact" if how == "exact" else "by rule"


def score(paths: Iterable[Path], *, locked: bool) -> dict[str, Score]:
    found: dict[str, Score] = {}
    for receipt in receipts(paths, locked=locked):
        book, here = found.setdefault(receipt["book"], Score()), setting(receipt)
        for name in names(receipt):
            how = way(name, here)
            book.classes[how] += 1
            if how == "not found":
                book.not_found[folded(name)] += 1
                book.heard += bool(alarms(name))
    return found


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("paths", nargs="+", type=Path)
    parser.add_argument("--open-lock", action="store_true", help="print one line of totals for the locked books")
    parser.add_argument("--not-found", type=int, default=40, help="how many names not found are listed")
    asked = parser.parse_args()
    print(f"{'':52}{'names':>7}{''.join(f'{each[-6:]:>7}' for each in CLASSES)}{'heard':>7}   found")
    start = time.perf_counter()
    whole = Score()
    for title, book in sorted(score(asked.paths, locked=False).items()):
        print(book.line(title))
        whole.add(book)
    print(whole.line("all books that are not locked"))
    print(f"in {time.perf_counter() - start:.1f} s, tables and corpus read")
    if asked.open_lock:
        shut = Score()
        for book in score(asked.paths, locked=True).values():
            shut.add(book)
        print(shut.line("all locked books"))
    print("\nnot found, in books that are not locked:")
    for name, count in whole.not_found.most_common(asked.not_found):
        print(f"{count:5}  {name}")


if __name__ == "__main__":
    main()
