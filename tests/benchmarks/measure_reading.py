"""Print how fast lines are read: lines a second, no two alike, and the time of ever longer ones.

The lines are made of the names and units on file, in the layouts that receipts use, each printed once; with the path of
a corpus its lines are read too, those of locked books left out. Longer texts, no two of their lines alike, show whether
the work grows as the text: lines run in to one, and a page of receipts, with the most memory held so far. Time is that
of the processor, so that other work of the machine hardly counts.

    python tests/benchmarks/measure_reading.py [CORPUS.jsonl ...] [--longest 10_000_000]
"""

import argparse
import itertools
import random
import string
import sys
import time
from collections.abc import Sequence
from pathlib import Path

from score_names import receipts

from reconlab.reading import read_all
from reconlab.reading.lines import read_line
from reconlab.tables import Name, rows

LAYOUTS = (
    "{name}, {count} {unit}",
    "{name} .... {count} {unit}",
    "{count} {unit} of {name}",
    "{name}     {count} {unit}",
    "{name}, finely powdered, {count} {unit}",
    "{count} {unit} {name}, and {more} {unit} of {other}",
    "{name} and {other}, of each {count} {unit}",
)
COUNTS = ("2", "1½", "12", "2.5", "half", "three", "1-1/2", "20")
UNITS = ("oz.", "drachms", "grains", "pints", "lb.", "fl. oz.", "parts", "drops")
LINES = 20_000
RUNS = 3
IN_RECEIPT = 6  # lines
TOLD = "Melt the wax and stir in the oil, then let it cool."
SHORTEST = 32  # signs, so that there are lines enough for the longest text
LONGEST_LINE = 1_000_000


def made(count: int) -> list[str]:
    """Return lines, no two alike, always the same ones."""
    chance = random.Random(17)  # noqa: S311 - lines to read, no secret
    names = sorted({row.name for row in rows(Name) if row.name.isascii()})
    chance.shuffle(names)
    pairs = zip(itertools.cycle(names), itertools.cycle(names[1:-1]), strict=False)
    lines = (
        chance.choice(LAYOUTS).format(
            name=name, other=other, count=chance.choice(COUNTS), more=chance.choice(COUNTS), unit=chance.choice(UNITS)
        )
        for name, other in pairs
    )
    return list(itertools.islice(dict.fromkeys(itertools.islice(lines, 2 * count)), count))


def of_corpus(paths: Sequence[Path]) -> list[str]:
    """Return the lines of a corpus, each once."""
    texts = (line["text"] for receipt in receipts(paths, locked=False) for line in receipt["lines"])
    return list(dict.fromkeys(texts))


def report(what: str, lines: Sequence[str]) -> None:
    best = 1e9
    for _ in range(RUNS):
        start = time.process_time()
        for number, line in enumerate(lines, start=1):
            read_line(line, number, among_ingredients=True)
        best = min(best, time.process_time() - start)
    signs = sum(map(len, lines))
    print(
        f"{what:<28}{len(lines):>8} lines of {signs / len(lines):4.0f} signs {len(lines) / best:>9,.0f} a second "
        f"{signs / best / 1e6:>7.2f} MB/s"
    )


def page(lines: Sequence[str]) -> str:
    """Return a page of receipts: a title, six lines and what is done with them, again and again."""
    receipts_ = (
        f"{title(number)}.\n\n{chr(10).join(lines[at : at + IN_RECEIPT])}\n\n{TOLD}\n"
        for number, at in enumerate(range(0, len(lines), IN_RECEIPT))
    )
    return "\n".join(receipts_)


def title(number: int) -> str:
    """Return a title of its own for each number."""
    letters = string.ascii_uppercase
    return "POMADE " + "".join(letters[number // len(letters) ** place % len(letters)] for place in range(4))


def growth(what: str, text: str, sizes: Sequence[int], *, paged: bool) -> None:
    """Print the time of the beginning of a text and of longer ones, for each million signs, and the memory."""
    for size in sizes:
        whole = text[:size]
        start = time.process_time()
        if paged:
            read_all(whole)
        else:
            read_line(whole, 1, among_ingredients=True)
        spent = time.process_time() - start
        print(
            f"{what:<28}{len(whole):>12,} signs {spent:>7.1f} s, {spent / len(whole) * 1e6:>5.1f} for each million"
            f"{most_memory():>8}"
        )


def most_memory() -> str:
    """Return the most memory the process has held so far, where the system tells it."""
    try:
        import resource  # noqa: PLC0415 - not there on Windows
    except ImportError:  # Windows
        return ""
    unit = 1 if sys.platform == "darwin" else 1024  # bytes, or kilobytes
    return f"{resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * unit / 1e6:,.0f} MB"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("paths", nargs="*", type=Path)
    parser.add_argument("--longest", type=int, default=1_000_000, help="signs of the longest text")
    asked = parser.parse_args()
    longest = asked.longest
    lines = made(max(LINES, longest // SHORTEST))
    read_line(lines[0], 1, among_ingredients=True)  # once unmeasured: it reads the tables
    report("made lines", lines[:LINES])
    if asked.paths:
        report("lines of the corpus", of_corpus(asked.paths))
    sizes = [size for size in (10_000, 100_000, 1_000_000, 3_000_000, 10_000_000) if size <= longest]
    growth("one line, run in", "; ".join(lines), [size for size in sizes if size <= LONGEST_LINE], paged=False)
    growth("a page of receipts", page(lines), sizes, paged=True)


if __name__ == "__main__":
    main()
