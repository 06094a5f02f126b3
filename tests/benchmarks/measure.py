"""Print how long the library takes: to import, to translate and screen a receipt, and at the shell."""

import os
import platform
import statistics
import subprocess
import sys
import sysconfig
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import reconlab as rl

# Twenty lines such as a shop's book has; made up, so that every kind of amount occurs.
RECEIPT = Path(__file__).with_name("receipt.txt").read_text(encoding="utf-8")
IMPORT = "import time; start = time.perf_counter(); import {}; print(time.perf_counter() - start)"


def seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def import_seconds(module: str) -> float:
    """Import a module in a process of its own."""
    command = [sys.executable, "-c", IMPORT.format(module)]
    return float(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def translate_and_screen() -> None:
    receipt = rl.read(RECEIPT, years="1911", place="England", book="dispensing")
    formula = rl.translate(receipt)
    rl.screen(formula, rl.Use(form="cold cream", law="EU", on="2026-11-25"))


def reconstruct(file: Path) -> None:
    """Run the shell command in a process of its own, as a person does."""
    program = Path(sysconfig.get_path("scripts")) / "reconlab"
    command = [program, "reconstruct", file, "--year", "1911", "--place", "England"]
    subprocess.run(command, stdout=subprocess.DEVNULL, check=True)


FIRST_CARD = """
import sys, time
start = time.perf_counter()
import reconlab as rl
work = rl.desk(sys.argv[1])
if not work.record.transcription:
    work.read(sys.argv[2])
work._repr_html_()
print(time.perf_counter() - start)
"""


def first_card(record: Path) -> float:
    """Open a desk in a process of its own, put a receipt on it where there is none, and show it."""
    command = [sys.executable, "-c", FIRST_CARD, record, RECEIPT]
    return float(subprocess.run(command, capture_output=True, text=True, check=True).stdout)


def report(what: str, taken: list[float]) -> None:
    spread = f"{min(taken) * 1000:.1f} - {max(taken) * 1000:.1f}"
    print(f"{what:<34}{statistics.median(taken) * 1000:>10.1f} ms   ({spread}, {len(taken)} runs)", flush=True)


def main() -> None:
    print(f"Python {platform.python_version()}, {platform.machine()}, {os.cpu_count()} cores; medians")
    for module in ("reconlab", "pint"):
        import_seconds(module)  # once unmeasured: the first run compiles
        report(f"import {module}", [import_seconds(module) for _ in range(7)])
    translate_and_screen()  # once unmeasured: the first run reads the tables
    report("read, translate, screen 20 lines", [seconds(translate_and_screen) for _ in range(30)])
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "receipt.txt"
        file.write_text(RECEIPT, encoding="utf-8")
        reconstruct(file)
        report("reconlab reconstruct, cold", [seconds(lambda: reconstruct(file)) for _ in range(7)])
        home = Path(folder)
        report("desk, a new receipt, first card", [first_card(home / f"{run}.yaml") for run in range(7)])
        report("desk, opened again, first card", [first_card(home / "0.yaml") for _ in range(7)])


if __name__ == "__main__":
    main()
