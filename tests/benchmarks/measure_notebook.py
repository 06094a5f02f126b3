"""Print how long a person waits in a notebook: for a kernel, and for the first card of a kernel that has just begun."""

import statistics
import tempfile
import time
from pathlib import Path

from jupyter_client.manager import start_new_kernel

TARGET_S = 1.5
ROUNDS = 7
DESK = "import reconlab as rl\nwork = rl.desk({!r})\n"
READ = 'work.read({!r}, years="1911", place="England", book="dispensing")'
RECEIPT = (Path(__file__).parent / "receipt.txt").read_text(encoding="utf-8")
SHOWN = {"an empty desk": "work", "a receipt of 20 lines": READ.format(RECEIPT), "the panel": "rl.panel(work)"}


def seconds(code: str) -> tuple[float, float]:
    """Return how long a kernel takes to begin, and then to show what the code gives."""
    start = time.perf_counter()
    manager, client = start_new_kernel()
    begun = time.perf_counter()
    client.execute(code)
    while (message := client.get_iopub_msg(timeout=60))["msg_type"] != "execute_result":
        if message["msg_type"] == "error":
            raise SystemExit("\n".join(message["content"]["traceback"]))
    shown = time.perf_counter()
    client.stop_channels()
    manager.shutdown_kernel(now=True)
    return begun - start, shown - begun


def main() -> None:
    for what, code in SHOWN.items():
        with tempfile.TemporaryDirectory() as folder:
            taken = [seconds(DESK.format(f"{folder}/{turn}.yaml") + code) for turn in range(ROUNDS)]
        kernel, card = zip(*taken, strict=True)
        print(
            f"{what:24}first shown after {statistics.median(card):.2f} s, at most {max(card):.2f} s"
            f"   (the kernel itself {statistics.median(kernel):.2f} s)"
        )
    print(f"target: {TARGET_S} s")


if __name__ == "__main__":
    main()
