"""How does a receipt come out of a spreadsheet? A line for each row of its CSV."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from reconlab.errors import FileError, InputError


def text_of_table(path: Path) -> str:
    """Return a receipt out of a spreadsheet's CSV, a line for each row."""
    if path.suffix.lower() not in (".csv", ".tsv", ".txt"):
        raise InputError(f"{path.name!r} is no CSV", "read_table", "Save it from your spreadsheet as CSV (UTF-8).")
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as fault:
        raise FileError("it is not in UTF-8", str(path), "Save it from your spreadsheet as CSV (UTF-8).") from fault
    except OSError as fault:
        raise FileError(f"it cannot be read ({fault.strerror})", str(path), "Check the name and the folder.") from fault
    mark = max(",;\t", key=text.partition("\n")[0].count)
    lines = []
    for row in csv.DictReader(io.StringIO(text, newline=""), delimiter=mark):
        cells = ((head, cell) for head, cell in row.items() if isinstance(cell, str))
        said = {(head or "").strip().lower(): " ".join(cell.split()) for head, cell in cells}
        lines.append(said.get("text") or ", ".join(filter(None, (said.get("name"), said.get("amount")))))
    if not any(lines):
        heads = "Its first row names the columns: text, or name and amount."
        raise InputError("there is no receipt in it", str(path), heads)
    return "\n".join(filter(None, lines))
