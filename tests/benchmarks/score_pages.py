"""Print how whole pages are read: receipts found, items right, false items; worst pages first.

A receipt is found where one is read under its title, or under none where the page prints none, that holds most of
its items and next to nothing else; it is whole where at least nine tenths of them stand in it. An item is right in
amount, unit and name. Items the corpus marks as uncertain are left out of what is asked. Nothing is printed of the
locked books but totals.

    python tests/benchmarks/score_pages.py PAGES.jsonl [--worst 10] [--show PAGE] [--open-lock]
"""

import argparse
import json
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from score_names import LOCKED

from reconlab.reading import read_all
from reconlab.receipts import Item

MOST, WHOLE = 0.5, 0.9  # share of a receipt's items


# The corpus writes these units of one American book in German by their English names.
ALIKE = {"unze": "ounce", "drachme": "drachm", "skrupel": "scruple", "gran": "grain", "scrupule": "scruple"}


def words(text: str | None) -> str:
    return " ".join(re.findall(r"[^\W_]+", (text or "").lower().replace("\N{LATIN SMALL LETTER LONG S}", "s")))


@dataclass(frozen=True)
class Said:
    """One item, as asked or as read."""

    amount: float | tuple[float, ...] | None
    unit: str | None
    name: str
    every: frozenset[str]  # its words with those of preparation and strength

    def measured_as(self, other: "Said") -> bool:
        return self.unit == other.unit and same(self.amount, other.amount)

    def named_as(self, other: "Said") -> bool:
        return self.name == other.name or self.every == other.every


def same(one: Any, two: Any) -> bool:  # noqa: ANN401 - a number, two or none
    if one is None or two is None:
        return one is two
    one, two = (tuple(x) if isinstance(x, (list, tuple)) else (x, x) for x in (one, two))
    return all(abs(a - b) < 0.006 * max(1, abs(b)) for a, b in zip(one, two, strict=True))


def asked(item: dict[str, Any]) -> Said:
    name = item.get("ingredient_norm") or item["ingredient"]
    every = f"{name} {item.get('prep') or ''} {item.get('strength') or ''}"
    amount = item["amount"]
    return Said(tuple(amount) if isinstance(amount, list) else amount, item["unit"], words(name), _set(every))


def _set(text: str) -> frozenset[str]:
    return frozenset(words(text).split()) - {"of", "the", "a", "and", "de", "d"}


def as_read(item: Item) -> Said:
    part = item.quantities[0].parts[0] if item.quantities else None
    amount = None if part is None else part.amount.value
    if part is not None and part.amount.low != part.amount.high and None not in (part.amount.low, part.amount.high):
        amount = (part.amount.low, part.amount.high)  # type: ignore[assignment]
    name = item.name
    every = f"{name} {item.preparation} {item.strength}"
    return Said(amount, ALIKE.get(str(part.unit), part.unit) if part else None, words(name), _set(every))


def matched(wanted: list[Said], got: list[Said]) -> tuple[int, int]:
    """Return how many items asked for are read right, and how many only in amount and unit."""
    left = list(got)
    right = measured = 0
    rest = []
    for item in wanted:
        hit = next((at for at, one in enumerate(left) if item.measured_as(one) and item.named_as(one)), None)
        if hit is None:
            rest.append(item)
        else:
            left.pop(hit)
            right += 1
    for item in rest:
        hit = next((at for at, one in enumerate(left) if item.measured_as(one)), None)
        if hit is not None:
            left.pop(hit)
            measured += 1
    return right, right + measured


@dataclass
class Score:
    """What was found of some pages."""

    receipts: int = 0
    found: int = 0
    whole: int = 0
    extra: int = 0  # receipts read that the page does not print
    items: int = 0
    right: int = 0
    measured: int = 0
    read: int = 0
    false: int = 0
    notes: list[str] = field(default_factory=list)

    def add(self, other: "Score") -> None:
        for name in ("receipts", "found", "whole", "extra", "items", "right", "measured", "read", "false"):
            setattr(self, name, getattr(self, name) + getattr(other, name))

    def line(self, title: str) -> str:
        def share(one: int, of: int) -> str:
            return f"{one:4}/{of:<4}{100 * one / of:6.1f} %" if of else f"{one:4}/{of:<4}       -"

        return (
            f"{title[:44]:44} receipts {share(self.found, self.receipts)}  whole {share(self.whole, self.receipts)}"
            f"  extra {self.extra:3}  items {share(self.right, self.items)}"
            f"  amount and unit {share(self.measured, self.items)}"
            f"  false {share(self.false, self.read)}"
        )


def titled(wanted: str | None, got: str) -> bool:
    return (
        not words(got) if wanted is None else words(wanted) in words(got) or (bool(got) and words(got) in words(wanted))
    )


def score(record: dict[str, Any]) -> Score:
    page = read_all(record["text"], years=str(record["year"]))
    read = [[as_read(item) for item in receipt.items] for receipt in page.receipts]
    found = Score(receipts=len(record["receipts"]), read=sum(map(len, read)))
    free = set(range(len(read)))
    every = [asked(item) for receipt in record["receipts"] for item in receipt["items"]]
    for receipt in record["receipts"]:
        sure = [asked(item) for item in receipt["items"] if not item.get("uncertain")]
        whole = [asked(item) for item in receipt["items"]]
        best = max(free, key=lambda at: (matched(whole, read[at])[1], matched(whole, read[at])[0], -at), default=None)
        found.items += len(sure)
        if best is None or not matched(whole, read[best])[1]:
            found.notes.append(f"not found: {receipt['title']}")
            continue
        free.discard(best)
        right, measured = matched(sure, read[best])
        found.right, found.measured = found.right + right, found.measured + measured
        others = len(read[best]) - matched(whole, read[best])[1]
        ok = titled(receipt["title"], page.receipts[best].title) and others <= (1 - MOST) * len(whole)
        complete = ok and measured >= WHOLE * len(sure)
        ok = ok and measured >= MOST * len(sure)
        found.found, found.whole = found.found + ok, found.whole + complete
        if not ok or right < len(sure):
            found.notes.append(
                f"{'found' if ok else 'NOT found'}: {receipt['title']} read as {page.receipts[best].title!r},"
                f" {right} right, {measured} measured of {len(sure)}, {others} others"
            )
    found.extra = len(free)
    for at in free:
        found.notes.append(f"extra receipt {page.receipts[at].title!r}: {[one.name for one in read[at]]}")
    left = list(every)
    for one in (one for receipt in read for one in receipt):
        hit = next((at for at, item in enumerate(left) if item.measured_as(one)), None)
        hit = next((at for at, i in enumerate(left) if i.measured_as(one) and i.named_as(one)), hit)
        if hit is None:
            found.false += 1
            found.notes.append(f"false: {one.amount} {one.unit} {one.name}")
        else:
            left.pop(hit)
    found.notes += [f"missed: {item.amount} {item.unit} {item.name}" for item in left]
    return found


def pages(path: Path) -> Iterable[dict[str, Any]]:
    with path.open(encoding="utf-8") as lines:
        yield from map(json.loads, lines)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("corpus", type=Path)
    parser.add_argument("--worst", type=int, default=10)
    parser.add_argument("--show", default="")
    parser.add_argument("--open-lock", action="store_true")
    given = parser.parse_args()
    total, locked = Score(), Score()
    each: list[tuple[float, str, Score]] = []
    for record in pages(given.corpus):
        if record["book"] in LOCKED:
            if given.open_lock:
                locked.add(score(record))
            continue
        one = score(record)
        total.add(one)
        faults = one.receipts - one.found + one.extra + one.false + one.items - one.right
        each.append((faults, f"{record['id']} {record['book']}", one))
    for faults, title, one in sorted(each, key=lambda row: -row[0])[: given.worst]:
        if faults or given.show in title:
            print(one.line(title))
            print("".join(f"      {note}\n" for note in one.notes), end="")
    print(total.line(f"{len(each)} pages"))
    if given.open_lock:
        print(locked.line("locked books"))


if __name__ == "__main__":
    main()
