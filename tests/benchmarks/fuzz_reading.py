"""Throw spoilt pages at the reader for a named time, and print every way in which it breaks a promise.

The promises: ``read`` and ``read_all`` raise nothing but the documented errors; what they take from a page stands
there, once; what is not blank is in some part of the page; spans lie in their lines; a page is read in a time bounded
by its length; and reading twice gives the same. Pages are real lines (those of the files given, one receipt or page a
line as JSON with ``text`` or ``lines``) cut, doubled, crossed and spoilt, random text of mixed scripts, and long
repeats. With ``--engine atheris`` the same pages are drawn from bytes that coverage guides (``pip install atheris``).

    python tests/benchmarks/fuzz_reading.py --minutes 60 [--seed 1] [--engine hypothesis] [--failures FILE] [FILE ...]
"""

import argparse
import importlib
import itertools
import json
import random
import sys
import time
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import seed as seeded
from hypothesis import strategies as st
from score_names import LOCKED

import reconlab as rl
from reconlab.errors import InputError, NoIngredientError, SeveralReceiptsError
from reconlab.reading import check_text
from reconlab.receipts import Line, Page, Receipt

FIXED, EACH = 0.25, 0.0008  # seconds a text may take, and each of its characters
LONGEST = 40_000  # characters of a page
LINES = (
    "COLD CREAM.",
    "White wax . . . . . . 1 oz.",
    "Take of rose-water two ounces, and of spirit of wine 1\N{VULGAR FRACTION ONE HALF} pint.",
    "R. Acidi borici, \N{OUNCE SIGN}ij; Glycerini, f\N{LATIN SMALL LETTER EZH}iss; Aquae ad \N{OUNCE SIGN}viij. M.",
    "Oil of lemon }",
    "  bergamot   } of each 3 drachms",
    'Ditto " cloves, do.',
    "II.",
    "(b) Another.",
    "Huile d'amandes douces, 500 gr. 25 centigr.",
    "Weisses Wachs 2 1/2 Loth, von jedem",
    "                  THE TOILET TABLE.                     41",
    "* To be had of the druggists.",
    "Dose, a teaspoonful three times a day. Price 6d.",
    "| Starch | 2 oz. | 60 Gm. |",
    "Melt the wax in the oil, and stir till cold.",
)
MARKS = (
    *"0123456789 .,;:-/'\"()[]{}|_*=&%$^#~<>\t\n",
    *"\N{OUNCE SIGN}\N{LATIN SMALL LETTER EZH}\N{SCRUPLE}\N{VULGAR FRACTION ONE HALF}\N{EM DASH}",
    "\N{REPLACEMENT CHARACTER}",
    *"\u200f\u202e\u00ad\u200d\ufeff\x00\x0c\x1c\u2028\x85\N{LATIN SMALL LETTER LONG S}\N{LATIN SMALL LIGATURE FI}",
    *"\N{COMBINING MACRON}\N{ARABIC LETTER BEH}\N{HEBREW LETTER ALEF}\N{SUPERSCRIPT TWO}\N{ROMAN NUMERAL FOUR}",
    *("\ud800", "aa", "of each", " of ", "ss", "1/", "/0", "ij", "No. ", "lb", "oz.", "--", "each ", "10**9"),
)


def pages(draw: Callable[[int], int], known: Sequence[str]) -> str:
    """Return a page, every choice taken by ``draw``, which gives a whole number below its argument."""
    lines = [_line(draw, known) for _ in range(draw(9))]
    text = ("\n", "\n", "\n\n", " ", "\r\n", "\n    ")[draw(6)].join(lines)
    if not draw(12):
        piece = text[: 1 + draw(40)] or MARKS[draw(len(MARKS))]
        text = (piece * (LONGEST // len(piece)))[: draw(LONGEST)]
    return text[:LONGEST]


def _line(draw: Callable[[int], int], known: Sequence[str]) -> str:
    way = draw(10)
    if way == 0:
        return "".join(MARKS[draw(len(MARKS))] for _ in range(draw(60)))
    if way == 1:
        return "".join(chr((draw(96) + 32, draw(0x2FFF), draw(0x110000))[draw(3)]) for _ in range(draw(40)))
    line = known[draw(len(known))]
    if way == 2:
        other = known[draw(len(known))]
        line = line[: draw(len(line) + 1)] + other[draw(len(other) + 1) :]
    for _ in range(draw(6) if way > 3 else 0):
        at, end = sorted((draw(len(line) + 1), draw(len(line) + 1)))
        change = draw(4)
        middle = (MARKS[draw(len(MARKS))], "", line[at:end] * 2, line[at:end].swapcase())[change]
        line = line[:at] + middle + line[at if change == 0 else end :]
    return line


def broken(text: str) -> str:
    """Return which promise the reader breaks on a text; empty where it keeps them."""
    said = ""
    for attempt in range(2):  # a machine that does something else may be slow once
        began = time.process_time()
        said = _broken(text)
        took = time.process_time() - began
        if took <= FIXED + 2 * EACH * len(text):
            break
        if attempt:
            return f"slow: {took:.2f} s for {len(text)} characters"
    return said


def _broken(text: str) -> str:
    try:
        page = rl.read_all(text)
    except InputError as error:
        return _not_plain(error) or ("" if _refused(text) else "refused with no reason of its own")
    said = _wrong_places(page)
    try:
        receipt = rl.read(text)
    except (SeveralReceiptsError, NoIngredientError, InputError) as error:
        return said or _not_plain(error)
    return said or _wrong_lines(receipt)


def _refused(text: str) -> bool:
    try:
        check_text(text)
    except InputError:
        return True
    return False


def _not_plain(error: InputError) -> str:
    return "" if error.found and error.remedy and len(str(error)) < LONGEST + 1000 else "an error that says nothing"


def _wrong_places(page: Page) -> str:
    taken = sorted((at, at + length) for part in page.parts for _, at, length in part.places)
    if any(one[1] > two[0] for one, two in itertools.pairwise(taken)):
        return "words taken twice"
    left, start = [], 0
    for at, end in [*taken, (len(page.text), len(page.text))]:
        left.append(page.text[start:at])
        start = end
    if any(sign.isalnum() for sign in "".join(left)):
        return "words lost"
    for part in page.parts:
        if any(part.text[start : start + length] != page.text[at : at + length] for start, at, length in part.places):
            return "a part that is not on the page"
    return next(filter(None, map(_wrong_lines, page.receipts)), "")


def _wrong_lines(receipt: Receipt) -> str:
    ids = [line.id for line in receipt.lines]
    if len(set(ids)) < len(ids):
        return "two lines of one id"
    return next(filter(None, map(_wrong_spans, receipt.lines)), "")


def _wrong_spans(line: Line) -> str:
    taken = [span for item in line.items for spans in item.spans.values() for span in spans]
    if any(not 0 <= start <= end <= len(line.text) for start, end in [*taken, *line.unread]):
        return "a span outside its line"
    rest = list(line.text)
    for start, end in [*taken, *line.unread]:
        rest[start:end] = " " * (end - start)
    return "figures lost" if any(sign.isdecimal() for sign in rest) else ""


class Found:
    """What was found: one example of each promise broken in one place, the shortest."""

    def __init__(self, path: Path | None) -> None:
        self.path = path
        self.examples = 0
        self.shortest: dict[str, str] = {}

    def try_(self, text: str) -> None:
        self.examples += 1
        try:
            said = broken(text)
        except Exception as error:  # noqa: BLE001 - that is what is looked for
            frames = [frame for frame in traceback.extract_tb(error.__traceback__) if "reconlab" in frame.filename]
            last = frames[-1] if frames else None
            said = f"{type(error).__name__} in {last.name if last else '?'}: {str(error)[:80]}"
        kind = said.split(":", maxsplit=1)[0]
        if said and (kind not in self.shortest or len(text) < len(self.shortest[kind])):
            new = kind not in self.shortest
            self.shortest[kind] = text
            if self.path is not None:
                self.path.write_text(json.dumps(self.shortest, indent=1), encoding="utf-8")
            if new:
                print(f"{said}\n      {text[:300]!r}", flush=True)


def known_lines(paths: Sequence[Path]) -> list[str]:
    found = list(LINES)
    for path in paths:
        with path.open(encoding="utf-8") as records:
            for record in map(json.loads, records):
                if record.get("book") not in LOCKED:
                    found += [line["text"] for line in record.get("lines", ())] or record["text"].splitlines()
    return [line for line in dict.fromkeys(found) if line.strip()]


def by_hypothesis(found: Found, known: Sequence[str], until: float, seed: int) -> None:
    @st.composite
    def a_page(draw: st.DrawFn) -> str:
        free = draw(st.randoms(use_true_random=False, note_method_calls=False))
        return draw(st.text(max_size=200)) if free.random() < 0.1 else pages(free.randrange, known)

    for turn in itertools.count(seed):
        if time.monotonic() >= until:
            return

        @seeded(turn)
        @settings(
            max_examples=500,
            deadline=None,
            database=None,
            phases=[Phase.generate],
            suppress_health_check=list(HealthCheck),
        )
        @given(a_page())
        def once(text: str) -> None:
            if time.monotonic() < until:
                found.try_(text)

        once()


def by_atheris(path: Path | None, known: Sequence[str], minutes: float, seed: int) -> None:
    import atheris  # type: ignore[import-not-found]  # noqa: PLC0415 - a tool of this bench only

    for name in [name for name in sys.modules if name.partition(".")[0] == "reconlab"]:
        del sys.modules[name]
    with atheris.instrument_imports(include=["reconlab"]):
        guided = importlib.import_module("fuzz_reading")
    found = guided.Found(path)

    def once(data: bytes) -> None:
        bytes_ = atheris.FuzzedDataProvider(data)
        found.try_(guided.pages(lambda below: bytes_.ConsumeIntInRange(0, max(0, below - 1)), known))
        if found.examples % 1000 == 0:  # the engine ends the program itself
            print(f"{found.examples} examples, {time.process_time() / 60:.1f} minutes of machine time", flush=True)

    options = [
        f"-max_total_time={60 * minutes:.0f}",
        f"-seed={seed}",
        "-max_len=4096",
        "-len_control=20",
        "-timeout=600",
    ]
    atheris.Setup([sys.argv[0], *options, "-verbosity=0"], once)
    atheris.Fuzz()


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("files", type=Path, nargs="*")
    parser.add_argument("--minutes", type=float, default=60)
    parser.add_argument("--seed", type=int, default=random.randrange(10**6))  # noqa: S311 - printed below
    parser.add_argument("--engine", choices=("hypothesis", "atheris"), default="hypothesis")
    parser.add_argument("--failures", type=Path)
    parser.add_argument("--again", action="store_true", help="read the texts of --failures once more, and nothing else")
    asked = parser.parse_args()
    if asked.again:
        for kind, text in json.loads(asked.failures.read_text(encoding="utf-8")).items():
            print(f"{kind}: now {broken(text) or 'kept'}")
        return
    known, found = known_lines(asked.files), Found(asked.failures)
    print(f"{asked.engine}, seed {asked.seed}, {len(known)} lines, {asked.minutes:g} minutes", flush=True)
    began = time.process_time()
    try:
        if asked.engine == "atheris":
            by_atheris(asked.failures, known, asked.minutes, asked.seed)
        else:
            by_hypothesis(found, known, time.monotonic() + 60 * asked.minutes, asked.seed)
    finally:
        took = (time.process_time() - began) / 60
        print(f"{found.examples} examples, {took:.1f} minutes of machine time, {len(found.shortest)} kinds of failure")


if __name__ == "__main__":
    main()
