"""Print how fast names are looked up: each way, cold and warm, a book of phrases, and how time grows with length.

    python tests/benchmarks/measure_names.py [CORPUS.jsonl ...]

Without a corpus the phrases are the names on file and misprints of them. A phrase is met once unless it says otherwise.
"""

import random
import statistics
import sys
import time
from collections.abc import Iterable, Sequence
from itertools import cycle, islice
from pathlib import Path

from score_names import names, receipts

from reconlab.materia import found_by, identify
from reconlab.tables import Name, rows

PHRASES = 10_000


def seconds(phrases: Iterable[str]) -> float:
    start = time.process_time()
    for phrase in phrases:
        identify(phrase)
    return time.process_time() - start


def misprinted(name: str, chance: random.Random) -> str:
    at = chance.randrange(len(name))
    return name[:at] + chance.choice("aceilmnorstu") + name[at + 1 :]


def phrases(paths: Sequence[str]) -> list[str]:
    if paths:
        return [name for receipt in receipts(map(Path, paths), locked=False) for name in names(receipt)]
    chance = random.Random(1)  # noqa: S311 - the same misprints each time
    on_file = [row.name for row in rows(Name)]
    return [*on_file, *(misprinted(name, chance) for name in on_file)]


def main() -> None:
    print(f"cold: exact {1e3 * seconds(['talc']):.0f} ms, likeness {1e3 * seconds(['oil of burgamot']):.0f} ms")
    asked = phrases(sys.argv[1:])
    book = list(islice(cycle(asked), PHRASES))
    took: dict[str, list[float]] = {}
    for phrase in dict.fromkeys(asked):
        once = 1e6 * seconds([phrase])
        took.setdefault(found_by(phrase) or "not found", []).append(once)
    print(f"{'':14}{'names':>7}{'median':>9}{'95th':>9}  microseconds of this process, each met once")
    for way, times in sorted(took.items()):
        times.sort()
        print(f"{way:14}{len(times):7}{statistics.median(times):9.0f}{times[int(0.95 * len(times))]:9.0f}")
    print(f"{PHRASES:,} phrases as they come in a book, met before or not: {seconds(book):.2f} s")
    for length in (10_000, 100_000, 1_000_000):
        print(f"{length:9,} characters: {1e3 * seconds(['rose water ' * (length // 11)]):.2f} ms")


if __name__ == "__main__":
    main()
