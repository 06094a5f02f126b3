"""Print how well a corpus of receipts is read: amount and unit, name, both; per notation and layout, worst first.

Each receipt is read whole, as a user would paste it, so that dittos and units printed once have what they lean on;
what was read is then compared line by line, in the best order-keeping pairing. Right means:

- amount and unit: within 1 %, a range by its two ends, a compound by all its parts, no amount where there is none;
- name: the same words but for case, points, articles, joining words and words of quality or handling, which are scored
  leniently; a reader's correction of a misprint is as good as the misprint.

Items that a careful reader marked `uncertain` count neither way. A false item is one read where the reader found none.
Nothing is printed of the locked books unless the lock is opened, and then one line of totals for all of them.

    python tests/benchmarks/score_reading.py CORPUS.jsonl ... [--show CLASS] [--alone] [--as-given] [--open-lock]
"""

import argparse
import csv
import re
import time
import unicodedata
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from score_names import receipts

from reconlab.errors import ReconlabError
from reconlab.reading import read
from reconlab.receipts import Item, Measured, Quantity, Receipt
from reconlab.tables import Notation, rows

CLOSE = 0.01  # share by which an amount may differ: the corpus rounds thirds
FEW = 30  # a class with fewer lines than this says little
# Units that have a token of their own here and share one in the corpus.
SAME_UNIT = {
    "unze": "ounce", "drachme": "drachm", "skrupel": "scruple", "scrupule": "scruple", "gran": "grain",
    "grain_fr": "grain", "pint_imperial": "pint", "gallon_imperial": "gallon", "size_of_nut": "size_of",
    "ounce_avdp": "ounce", "part_by_weight": "part", "part_by_measure": "part", "quint": "quentchen",
    "knife_point": "pinch",
}  # fmt: skip
PART_OF = {"quarteron": ("livre", 0.25)}  # written in the corpus as a share of the greater unit
OTHER_BOOKS = Path(__file__).parents[1] / "data" / "lines_of_other_books.csv"
CORRECTIONS = Path(__file__).with_name("reading_corrections.csv")  # of the corpus, each with its reason
NOT_TOLD = ("the", "a", "an", "of", "some", "de", "du", "des", "d", "la", "le", "l", "les", "der", "die", "das", "and")
Found = Mapping[str, Any]  # an item of the corpus


def _text(pattern: str, *, folded: bool = True) -> Callable[[str, Sequence[Found]], bool]:
    compiled = re.compile(pattern, re.IGNORECASE if folded else 0)
    return lambda text, _items: compiled.search(text) is not None


def _item(holds: Callable[[Found], Any]) -> Callable[[str, Sequence[Found]], bool]:
    return lambda _text, items: any(holds(item) for item in items)


def _note(*words: str) -> Callable[[str, Sequence[Found]], bool]:
    return _item(lambda item: any(word in (item["note"] or "") for word in words))


_DOMESTIC = "spoonful|cupful|glassful|handful|pinch|lump|size_of|bottle|bunch|coin|worth|sheet"
NOTATIONS: Mapping[str, Callable[[str, Sequence[Found]], bool]] = {
    "apothecary sign": _text("[℥ʒℨ℈♏℔ȝƷ]"),
    "sign written out": _text(r"\[[^\]]*(?:ounce|dra|pound|scruple|minim)[^\]]*\]"),
    "Roman numeral": _text(r"\b[ivxlc]*[ivxj](?:ss)?\b(?![.]?-)|\bss\b"),
    "compound in words": _text(r"and an? half|& demi|cum semisse|et demi|and a quarter|iss\b"),
    "mixed number": _text(r"\d\s?[½¼¾⅓⅔⅛]|\d[- ]\d/\d|\d[.,]\d"),
    "two units joined": _item(lambda item: item.get("plus")),
    "parallel quantities": _item(lambda item: item.get("alt_quantity")),
    "ditto or unit printed once": _note("ditto", "printed once", "unit carried"),
    "brace or broken name": _text(r"\n|[{}]"),
    "each": _item(lambda item: item["each"]),
    "Latin words": _text(r"\b(?:unci|drachm|libra|scrupul|gran[ai]|quantum|partes|gutta)(?:[aeiou]|æ|m|s)+\b|\bana\b"),
    "domestic measure": _item(lambda item: re.search(_DOMESTIC, item["unit"] or "")),
    "counted pieces": _item(lambda item: item["unit"] == "piece"),
    "strength": _item(lambda item: item.get("strength")),
    "parts or percent": _item(lambda item: item["unit"] in ("part", "percent")),
    "metric unit": _item(lambda item: re.search("gram|liter", item["unit"] or "")),
    "head noun carried": _note("head noun"),
    "alternatives": _note("alternative"),
    "range": _item(lambda item: isinstance(item["amount"], list)),
    "q.s. / sufficient": _item(lambda item: item["qs"]),
    "to make": _item(lambda item: item["to_make"]),
    "no amount": _item(lambda item: item["amount"] is None and not item["qs"]),
    "number words": _text(r"\b(?:two|three|four|five|six|eight|ten|twelve|half|quarter|dozen|an?|one) \w"),
    "long s": _text("\N{LATIN SMALL LETTER LONG S}", folded=False),
    "damaged": _note("illegible", "OCR", "scan"),
    "name corrected by the reader": _item(lambda item: item.get("ingredient_norm")),
}
LANGUAGES = (("fr", "French"), ("de", "German"), ("latin", "Latin"), ("rx", "Latin"))


@dataclass
class Score:
    """What was read of one class: items of the corpus, and how many were read right."""

    lines: int = 0
    whole: int = 0  # lines with every item right and nothing false
    items: int = 0
    amounts: int = 0
    names: int = 0
    both: int = 0
    false: int = 0
    certain: int = 0
    certain_wrong: int = 0

    def add(self, other: "Score") -> None:
        for each in vars(other):
            setattr(self, each, getattr(self, each) + getattr(other, each))

    def line(self, title: str) -> str:
        def share(part: int, whole: int) -> str:
            return f"{100 * part / whole:7.1f}" if whole else "      -"

        few = "few " if self.lines < FEW else "    "
        return (
            f"{title[:34]:34}{self.lines:6}{share(self.whole, self.lines)}{self.items:7}"
            f"{share(self.amounts, self.items)}{share(self.names, self.items)}{share(self.both, self.items)}"
            f"{self.false:6}{self.certain:7}{self.certain_wrong:6} {few}"
        )


HEAD = (
    f"{'':34}{'lines':>6}{'whole':>7}{'items':>7}{'amount':>7}{'name':>7}{'both':>7}{'false':>6}{'sure':>7}{'wrong':>6}"
)


@dataclass
class Miss:
    """A line not read as the careful reader read it."""

    classes: Sequence[str]
    where: str
    text: str
    pairs: list[tuple[str, str]] = field(default_factory=list)


@cache
def _quality() -> frozenset[str]:
    return frozenset(
        word
        for row in rows(Notation)
        if row.meaning == "preparation"
        for word in re.findall(r"\w+", row.printed.lower())
    )


@cache
def folded(name: str, also: str = "") -> str:
    """Return a name as it is compared."""
    words = re.findall(
        r"[^\W_]+", unicodedata.normalize("NFC", name.lower()).replace("\N{LATIN SMALL LETTER LONG S}", "s")
    )
    words = ["oil" if word == "oils" else word for word in words]  # "Oils of rosemary and lemon"
    lenient = {*re.findall(r"[^\W_]+", also.lower()), *_quality(), *NOT_TOLD}
    return " ".join([word for word in words if word not in lenient] or words)


def name_right(found: Found, item: Item) -> bool:
    also = f"{found['prep'] or ''} {found.get('strength') or ''}"
    wanted = (found["ingredient"], found.get("ingredient_norm"), found.get("also"))
    return folded(item.name, also) in {folded(name, also) for name in wanted if name}


def _unit(token: str | None) -> str | None:
    token = re.sub(r"^size_of_.*", "size_of", token or "")
    return SAME_UNIT.get(token, token) or None


def _close(read_: float | None, wanted: float) -> bool:
    return read_ is not None and abs(read_ - wanted) <= CLOSE * max(abs(wanted), 1e-9)


def quantity_right(found: Found, quantity: Quantity | None) -> bool:
    wanted = [found, *found.get("plus", [])]
    if found["amount"] is None and found["unit"] is None:
        return quantity is None or all(part.amount.value is None for part in quantity.parts)
    if quantity is None or len(quantity.parts) != len(wanted):
        return False
    return all(_part_right(each, part) for each, part in zip(wanted, quantity.parts, strict=True))


def _part_right(wanted: Found, part: Measured) -> bool:
    if part.unit in PART_OF and part.amount.value is not None:
        unit, share = PART_OF[part.unit]
        if _unit(wanted["unit"]) == unit:
            return _close(part.amount.value * share, wanted["amount"] or 0)
    if _unit(part.unit) not in {_unit(wanted["unit"]), _unit(wanted.get("unit_implied") or wanted["unit"])}:
        return False
    amount = wanted["amount"]
    if amount is None:
        return part.amount.value is None
    if isinstance(amount, list):
        return _close(part.amount.low, amount[0]) and _close(part.amount.high, amount[1])
    return _close(part.amount.value, amount)


def amount_right(found: Found, item: Item) -> bool:
    return quantity_right(found, item.quantities[0] if item.quantities else None)


def paired(wanted: Sequence[Found], got: Sequence[Item]) -> list[tuple[Found | None, Item | None]]:
    """Return the pairing of two lists, order kept, in which most amounts and names are right."""
    worth = [[1 + 4 * amount_right(w, g) + 6 * name_right(w, g) for g in got] for w in wanted]
    best = [[0] * (len(got) + 1) for _ in range(len(wanted) + 1)]
    for i in range(len(wanted) - 1, -1, -1):
        for j in range(len(got) - 1, -1, -1):
            best[i][j] = max(best[i + 1][j], best[i][j + 1], best[i + 1][j + 1] + worth[i][j])
    pairs: list[tuple[Found | None, Item | None]] = []
    i = j = 0
    while i < len(wanted) or j < len(got):
        if i < len(wanted) and j < len(got) and best[i][j] == best[i + 1][j + 1] + worth[i][j]:
            pairs.append((wanted[i], got[j]))
            i, j = i + 1, j + 1
        elif i < len(wanted) and best[i][j] == best[i + 1][j]:
            pairs.append((wanted[i], None))
            i += 1
        else:
            pairs.append((None, got[j]))
            j += 1
    return pairs


def _read(text: str, title: str) -> Receipt | None:
    try:
        return read(text, title=title or "Receipt")
    except ReconlabError:
        return None


def items_by_line(texts: Sequence[str], title: str, *, alone: bool) -> list[list[Item]]:
    """Return what was read of each line, the lines read together or each alone."""
    if alone:
        return [list(got.items) if (got := _read(text, title)) else [] for text in texts]
    page = "".join(texts)
    places = [n for n, text in enumerate(texts) for sign in text if not sign.isspace()]  # of each sign, its line
    found: list[list[Item]] = [[] for _ in texts]
    squeezed, at = "".join(page.split()), 0
    receipt = _read("\n".join(texts), title)
    for line in receipt.lines if receipt else ():
        signs = "".join(line.text.split())
        at = max(squeezed.find(signs, at), at)
        for item in line.items:
            first = min((span[0] for spans in item.spans.values() for span in spans), default=0)
            found[places[min(at + len("".join(line.text[:first].split())), len(places) - 1)]].append(item)
        at += len(signs)
    return found


def corrected(receipt: dict[str, Any], corrections: Mapping[tuple[str, str], str]) -> dict[str, Any]:
    """Return a receipt with the second answer that a correction gives to some of its items."""
    for line in receipt["lines"]:
        for item in line["items"]:
            also = corrections.get((receipt["id"], item["ingredient"]))
            item.update({"also": also} if also else {})
    return receipt


def corrections() -> dict[tuple[str, str], str]:
    with CORRECTIONS.open(encoding="utf-8", newline="") as file:
        return {(row["receipt"], row["ingredient"]): row["also"] for row in csv.DictReader(file)}


def _shown(found: Found | None) -> str:
    if found is None:
        return "-"
    extra = "".join(f" + {each['amount']} {each['unit']}" for each in found.get("plus", []))
    return f"{found['ingredient']} = {found['amount']} {found['unit']}{extra}"


def _got(item: Item | None) -> str:
    if item is None:
        return "-"
    parts = item.quantities[0].parts if item.quantities else ()
    amounts = (
        f"{p.amount.value}" if p.amount.low == p.amount.high else f"{p.amount.low}-{p.amount.high}" for p in parts
    )
    shown = " + ".join(f"{amount} {part.unit}" for amount, part in zip(amounts, parts, strict=True))
    return f"{item.name} = {shown or None}{' (sure)' if item.certain else ''}"


def scored_line(wanted: Sequence[Found], got: Sequence[Item]) -> tuple[Score, list[tuple[str, str]]]:
    score, wrong = Score(lines=1), []
    for found, item in paired(wanted, got):
        if found is not None and found.get("uncertain"):
            continue
        amount = found is not None and item is not None and amount_right(found, item)
        name = found is not None and item is not None and name_right(found, item)
        score.items += found is not None
        score.amounts += amount
        score.names += name
        score.both += amount and name
        score.false += found is None
        score.certain += item is not None and item.certain
        score.certain_wrong += item is not None and item.certain and not (amount and name)
        if not (amount and name):
            wrong.append((_shown(found), _got(item)))
    score.whole = not wrong
    return score, wrong


def classes_of(receipt: Mapping[str, Any], line: Mapping[str, Any]) -> list[str]:
    wanted = line["items"]
    found = [name for name, holds in NOTATIONS.items() if holds(line["text"], wanted)]
    layout = re.split("-", receipt["layout"])
    languages = {language for part, language in LANGUAGES if part in layout}
    return found + sorted(languages or {"English"})


def score(
    paths: Iterable[Path], *, locked: bool, alone: bool, as_given: bool = False
) -> tuple[Score, dict[str, Score], dict[str, Score], list[Miss]]:
    whole, misses = Score(), list[Miss]()
    notations, layouts = defaultdict[str, Score](Score), defaultdict[str, Score](Score)
    also = {} if as_given else corrections()
    for given in receipts(paths, locked=locked):
        receipt = corrected(given, also)
        texts = [line["text"] for line in receipt["lines"]]
        got = items_by_line(texts, receipt["title"] or "", alone=alone)
        for line, items in zip(receipt["lines"], got, strict=True):
            one, wrong = scored_line(line["items"], items)
            classes = classes_of(receipt, line)
            whole.add(one)
            layouts[receipt["layout"]].add(one)
            for name in classes:
                notations[name].add(one)
            if wrong:
                misses.append(Miss([*classes, receipt["layout"], "all"], receipt["id"], line["text"], wrong))
    return whole, notations, layouts, misses


def of_other_books() -> Iterator[tuple[str, list[dict[str, Any]]]]:
    """Yield lines of books that are not in the corpus, with their items: "Name = amount unit; Name = ..."."""
    with OTHER_BOOKS.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            yield row["line"], [_told(item) for item in row["items"].split("; ")]


def _told(item: str) -> dict[str, Any]:
    name, _, quantity = item.partition(" =")
    *figure, unit = quantity.split() or [None]
    found = {"ingredient": name, "prep": "", "amount": float(figure[0]) if figure else None, "unit": unit}
    return {**found, "qs": unit is None, "each": False, "note": ""}


def score_other_books() -> Score:
    whole = Score()
    for text, items in of_other_books():
        receipt = _read(text, "Receipt")
        one, wrong = scored_line(items, receipt.items if receipt else ())
        whole.add(one)
        for wanted, got in wrong:
            print(f"    {wanted}   <>   {got}")
    return whole


def worst_first(classes: Mapping[str, Score]) -> Iterator[str]:
    for name, one in sorted(classes.items(), key=lambda pair: pair[1].both / max(pair[1].items, 1)):
        yield one.line(name)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("paths", nargs="+", type=Path)
    parser.add_argument("--show", help="list the misses of a notation or a layout (all: every miss)")
    parser.add_argument("--sure", action="store_true", help="list what was said to be certain and is wrong")
    parser.add_argument("--alone", action="store_true", help="read each line alone")
    parser.add_argument("--other-books", action="store_true", help="only the lines of books that are not in the corpus")
    parser.add_argument("--as-given", action="store_true", help="leave the corrections of the corpus out")
    parser.add_argument("--open-lock", action="store_true", help="print one line of totals for the locked books")
    asked = parser.parse_args()
    start = time.perf_counter()
    whole, notations, layouts, misses = score(asked.paths, locked=False, alone=asked.alone, as_given=asked.as_given)
    took = time.perf_counter() - start
    if asked.other_books:
        print(f"{score_other_books().line('lines of other books')}")
        return
    for miss in misses:
        if asked.show in miss.classes or (asked.sure and any(got.endswith("(sure)") for _, got in miss.pairs)):
            print(f"{miss.where}: {miss.text!r}")
            for wanted, got in miss.pairs:
                print(f"    {wanted}   <>   {got}")
    print(HEAD)
    print("\n".join(worst_first(notations)))
    print("\nlayouts")
    print("\n".join(worst_first(layouts)))
    print("\n" + HEAD)
    print(whole.line("all books that are not locked"))
    print(f"in {took:.1f} s; certain and wrong: {whole.certain_wrong} of {whole.certain}")
    if asked.open_lock:
        print(score(asked.paths, locked=True, alone=asked.alone)[0].line("all locked books"))
    counted = Counter(name for miss in misses for name in miss.classes)
    print(f"{len(misses)} lines with a miss; most in {', '.join(name for name, _ in counted.most_common(6))}")


if __name__ == "__main__":
    main()
