"""Print how fast printed quantities are converted: a column of distinct strings here and by pint, and plain arrays."""

import platform
import statistics
import time
from collections.abc import Callable, Sequence

import numpy as np
import pint

from reconlab.measures import convert, convert_table, factor

ROWS, NUMBERS, RUNS = 10_000, 1_000_000, 5
# What the page prints, and what pint calls the same; neither is helped by a cache of whole strings: each is met once.
UNITS = (
    ("oz.", "ounce"),
    ("drachms", "apothecary_dram"),
    ("grains", "grain"),
    ("lb.", "pound"),
    ("scruples", "scruple"),
)
HERE = {"years": "1890", "place": "England"}
# As printed in books: signs, Roman numerals, fractions, words, compound amounts.
PRINTED = (
    "ʒ{roman}",
    "{n}½ oz.",
    "{n} lb. {m} oz.",
    "{n} 1/2 drachms",
    "gr. {roman}",
    "{n} to {m} grains",
    "{n} fl. oz.",
)
ROMAN = ("i", "ij", "iij", "iv", "v", "vj", "vij", "viij", "ix", "x", "xij", "xv", "xx")


def seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def median(work: Callable[[], object]) -> float:
    work()  # once unmeasured: the first run reads the tables
    return statistics.median(seconds(work) for _ in range(RUNS))


def amounts(which: int) -> list[str]:
    return [f"{1 + row / 7:.4f} {UNITS[row % len(UNITS)][which]}" for row in range(ROWS)]


def as_printed() -> list[str]:
    return [
        PRINTED[row % len(PRINTED)].format(n=1 + row // 7, m=2 + row // 7, roman=ROMAN[row % len(ROMAN)])
        for row in range(ROWS)
    ]


def by_pint(texts: Sequence[str]) -> list[float]:
    return [pint.Quantity(text).to("gram").magnitude for text in texts]


def main() -> None:
    print(f"Python {platform.python_version()}, pint {pint.__version__}, {platform.machine()}; medians of {RUNS} runs")
    ours, theirs = amounts(0), amounts(1)
    np.testing.assert_allclose(convert_table(ours, **HERE).mass_g, by_pint(theirs), rtol=1e-9)
    table, pints = median(lambda: convert_table(ours, **HERE)), median(lambda: by_pint(theirs))
    printed = median(lambda: convert_table(as_printed(), **HERE))
    one = median(lambda: [convert(text, **HERE) for text in ours[:1000]]) / 1000
    for what, taken in (
        (f"{ROWS} distinct, convert_table", table),
        (f"{ROWS} distinct, pint", pints),
        (f"{ROWS} as printed in books", printed),
    ):
        print(f"{what:<34}{taken * 1000:>10.1f} ms {taken / ROWS * 1e6:>8.1f} us each")
    print(f"{'one convert, with all its reasons':<34}{'':>10}    {one * 1e6:>8.1f} us")
    print(f"{'times faster than pint':<34}{pints / table:>10.1f}")
    numbers, plain = np.linspace(0.1, 1000, NUMBERS), 28.349523125
    out = np.empty_like(numbers)
    size = factor("oz.", **HERE).number
    ours_, plainly = (median(lambda f=f: [np.multiply(numbers, f, out=out) for _ in range(20)]) for f in (size, plain))
    print(f"{'factor x a million numbers':<34}{ours_ / 20 * 1000:>10.2f} ms, {ours_ / plainly:.2f} times plain numpy")
    print(f"{'factor of a unit, first ask':<34}{seconds(lambda: factor('oz.', **HERE)) * 1e3:>10.2f} ms")


if __name__ == "__main__":
    main()
