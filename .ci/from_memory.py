"""Print how many rows of each reference table rest on memory alone or in part: the number may only fall."""

import csv
import re
from pathlib import Path

total = 0
for path in sorted((Path(__file__).parents[1] / "reference_tables").glob("*.csv")):
    with path.open(encoding="utf-8", newline="") as lines:
        rows = [row["sources"] for row in csv.DictReader(lines)]
    recalled = sum(bool(re.search(r"\bfrom_memory\b", sources)) for sources in rows)
    total += recalled
    print(f"{path.stem:<20}{recalled:>5} of {len(rows):>5}")
print(f"{'all':<20}{total:>5}")
