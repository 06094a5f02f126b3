"""Print how long an action in the receipt panel takes, on a receipt of twenty lines: median and 95th percentile."""

import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import reconlab as rl

RECEIPT = Path(__file__).with_name("receipt.txt").read_text(encoding="utf-8")
ROUNDS = 40
TARGET_MS = 100


def milliseconds(action: Callable[[], object]) -> float:
    start = time.perf_counter()
    action()
    return 1000 * (time.perf_counter() - start)


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        work = rl.desk(Path(folder) / "cream.yaml")
        panel = rl.panel(work)
        panel.fields["place"].value = "England"
        taken: dict[str, list[float]] = {}

        def act(name: str, action: Callable[[], object]) -> None:
            taken.setdefault(name, []).append(milliseconds(action))

        for turn in range(ROUNDS):
            panel.text.value = RECEIPT + "\n" * 2 + f"{turn + 1} grains of soap."
            act("save the receipt", panel.typed.now)
            panel.fields["years"].value = str(1900 + turn)
            act("save the year", panel.typed.now)
            panel.uses["form"].value, panel.uses["law"].value = "cold cream", "EU"
            panel.uses["on"].value = f"2026-11-{turn % 28 + 1:02}"
            act("save the use", panel.typed.now)
            keys = [value for _, value in panel.question.options]
            panel.question.value = keys[turn % len(keys)]
            panel.choice.answers.value = 0
            panel.because.value = f"reason {turn}"
            act("settle a question", panel.settle.click)
            panel.out.value = panel.out.options[10][1]
            act("what could stand in", panel.ask.click)
            panel.into.value, panel.name.value = "calcium carbonate", "safe"
            act("replace a line", panel.replace.click)
            act("plan the bench", panel.do_plan.click)
            act("undo", panel.undo.click)
            act("redo", panel.redo.click)
            panel.undo.click()
            panel.undo.click()
        work.close()
    everything = [one for many in taken.values() for one in many]
    for name, many in {**taken, "any action": everything}.items():
        percentile = statistics.quantiles(many, n=20)[-1]
        print(f"{name:20}  median {statistics.median(many):4.0f} ms  95th percentile {percentile:4.0f} ms")
    print(f"target: 95th percentile under {TARGET_MS} ms")


if __name__ == "__main__":
    main()
