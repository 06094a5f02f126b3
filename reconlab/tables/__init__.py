"""What is known: rows of the reference tables and of the person's own overlay folder, each with its source."""

from __future__ import annotations

import csv
import hashlib
import io
import json
from collections.abc import Callable, Mapping
from dataclasses import fields
from fractions import Fraction
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from math import isfinite
from pathlib import Path
from typing import Any, TypeVar

from reconlab.errors import FileError, InputError, TableError
from reconlab.reasons import STANDINGS, citations
from reconlab.tables.rowtypes import (
    KINDS,
    BookWord,
    CartierDegree,
    Caution,
    CountedThing,
    Custom,
    CustomUnit,
    DensityCoefficient,
    DomesticMeasure,
    Drop,
    FlashPoint,
    FormRow,
    LawText,
    MadeKind,
    Measure,
    Name,
    NameWord,
    Notation,
    PageWord,
    Phase,
    PoisonWord,
    Preparation,
    PreparationLine,
    PropertyValue,
    Region,
    Row,
    Rule,
    SolutionDensity,
    Strength,
    StrengthScale,
    Substance,
    Substitute,
    Term,
)

__all__ = [
    "BookWord",
    "CartierDegree",
    "Caution",
    "CountedThing",
    "Custom",
    "CustomUnit",
    "DensityCoefficient",
    "DomesticMeasure",
    "Drop",
    "FlashPoint",
    "FormRow",
    "LawText",
    "MadeKind",
    "Measure",
    "Name",
    "NameWord",
    "Notation",
    "PageWord",
    "Phase",
    "PoisonWord",
    "Preparation",
    "PreparationLine",
    "PropertyValue",
    "Region",
    "Row",
    "Rule",
    "SolutionDensity",
    "Strength",
    "StrengthScale",
    "Substance",
    "Substitute",
    "Term",
    "by_id",
    "counts",
    "overlay_checksum",
    "overlay_folder",
    "root",
    "rows",
    "shipped",
    "source_entries",
    "use_overlay",
]

_overlay: dict[str, Path] = {}  # holds at most one folder, under "folder"; chosen before the first read


AnyRow = TypeVar("AnyRow", bound=Row)


def _words(cell: str) -> tuple[str, ...]:
    return tuple(filter(None, cell.split("|")))


def _figure(cell: str) -> float:
    figure = float(cell)
    if not isfinite(figure):
        raise ValueError("not a finite figure")
    return figure


def _number(cell: str) -> float | None:
    return _figure(cell) if cell else None


def _standing(cell: str) -> str:
    if cell not in STANDINGS:
        raise ValueError(f"not one of {', '.join(STANDINGS)}")
    return cell


def _year(cell: str) -> int | None:
    return int(cell) if cell else None


# A column means the same in every table, so one list says how its cells are read; all others are text.
_READ: Mapping[str, Callable[[str], object]] = {
    "sources": citations,
    "size": Fraction,
    **dict.fromkeys(
        ("value", "coefficient", "degrees", "percent_v_v", "percent_w_w", "sp_gr", "percent", "flash_c"), _figure
    ),
    **dict.fromkeys(("strength_power", "temperature_power"), int),
    "standing": _standing,
    **dict.fromkeys(("drop_mg", "drop_ul", "low", "high", "ratio", "limit_percent"), _number),
    **dict.fromkeys(("reckoned_factor", "modulus", "zero", "reference_c"), _number),
    **dict.fromkeys(("from_year", "to_year"), _year),
    **dict.fromkeys(
        ("regions", "books", "liquids", "cas", "functions", "on", "forms", "names", "said", "said_below", "states"),
        _words,
    ),
}
# Exceptions: a notation's value is a unit token or a number; a rule's physical forms, a word's classes are several.
_READ_IN: Mapping[tuple[str, str], Callable[[str], object]] = {
    ("name_words", "only"): _words,
    ("made_kinds", "of"): _words,
    ("domestic_measures", "of"): _words,
    ("notation", "value"): str,
    ("page_words", "value"): str,
    ("rules", "physical"): _words,
}


def shipped(folder: str) -> Traversable:
    """Return a folder that is shipped with the library, in an installed wheel or in a checkout.

    Parameters
    ----------
    folder : str
        ``"reference_tables"`` or ``"notebooks"``.

    Returns
    -------
    importlib.resources.abc.Traversable
        The folder.

    Examples
    --------
    >>> (shipped("notebooks") / "demo").is_dir()
    True
    """
    packaged = files("reconlab") / folder
    return packaged if packaged.is_dir() else Path(__file__).parents[2] / folder


def root() -> Traversable:
    """Return the folder of reference tables.

    Returns
    -------
    importlib.resources.abc.Traversable
        The folder.

    Examples
    --------
    >>> (root() / "measures.csv").is_file()
    True
    """
    return shipped("reference_tables")


def use_overlay(folder: Path) -> None:
    """Let the person's own tables stand over the shipped ones, row by row.

    Parameters
    ----------
    folder : pathlib.Path
        A folder with any of the tables, in the same columns, and its own ``sources.json``.

    Raises
    ------
    FileError
        If there is no such folder.
    InputError
        If tables were already read: results would not agree with each other.

    Examples
    --------
    >>> use_overlay(Path("no such folder"))
    Traceback (most recent call last):
    reconlab.errors.FileError: no such folder: there is no such folder. Make it, or name the folder of your own tables.
    """
    if not folder.is_dir():
        raise FileError("there is no such folder", str(folder), "Make it, or name the folder of your own tables.")
    if _rows.cache_info().currsize:
        raise InputError("tables were already read", str(folder), "Choose the overlay before anything else is asked.")
    _overlay["folder"] = folder


def overlay_folder() -> Path | None:
    """Return the folder of the person's own tables, or nothing where none was chosen.

    Returns
    -------
    pathlib.Path or None
        The folder.

    Examples
    --------
    >>> overlay_folder() is None
    True
    """
    return _overlay.get("folder")


def overlay_checksum() -> str:
    """Return a checksum of the overlay's tables, or nothing without an overlay.

    Returns
    -------
    str
        The first sixteen digits of a SHA-256.

    Examples
    --------
    >>> overlay_checksum()
    ''
    """
    if "folder" not in _overlay:
        return ""
    digest = hashlib.sha256()
    for path in sorted(_overlay["folder"].iterdir()):
        if path.suffix in {".csv", ".json"}:
            digest.update(path.name.encode() + path.read_bytes())
    return digest.hexdigest()[:16]


@cache
def source_entries() -> Mapping[str, Mapping[str, Any]]:
    """Return the entries of ``sources.json`` (CSL-JSON) by key, with the overlay's own.

    Returns
    -------
    mapping of str to mapping
        Key to entry.

    Raises
    ------
    TableError
        If a file is not a list of entries with an id.

    Examples
    --------
    >>> source_entries()["from_memory"]["type"]
    'document'
    """
    found: dict[str, Mapping[str, Any]] = {}
    for folder in (root(), _overlay.get("folder")):
        path = folder / "sources.json" if folder else None
        if path is None or not path.is_file():
            continue
        try:
            found |= {entry["id"]: entry for entry in json.loads(path.read_text(encoding="utf-8"))}
        except (ValueError, KeyError, TypeError) as fault:
            raise TableError(
                f"not a list of CSL-JSON entries ({fault})", str(path), "Mend the file; see DEVELOPERS.md."
            ) from fault
    return found


def rows(kind: type[AnyRow]) -> tuple[AnyRow, ...]:
    """Return every row of a table: the overlay's own rows first, then ours that it does not replace.

    Parameters
    ----------
    kind : type
        A row class of this module, such as `Measure`.

    Returns
    -------
    tuple
        The rows, read once per process.

    Examples
    --------
    >>> next(row.name for row in rows(Measure) if row.id == "ounce_troy")
    'ounce, troy and apothecaries'
    """
    return _rows(kind)  # type: ignore[return-value,arg-type]


def by_id(kind: type[AnyRow]) -> Mapping[str, AnyRow]:
    """Return the rows of a table that has ids, by id.

    Parameters
    ----------
    kind : type
        A row class of this module with a column ``id``.

    Returns
    -------
    mapping of str to row
        Id to row.

    Examples
    --------
    >>> by_id(Substance)["talc"].inci
    'TALC'
    """
    return _by_id(kind)  # type: ignore[return-value,arg-type]


def counts() -> tuple[tuple[str, int, int, int], ...]:
    """Return, for each table, its rows, and how many rest on memory or on common practice alone.

    Returns
    -------
    tuple of (str, int, int, int)
        Table, rows, rows that cite memory, rows that cite nothing but common practice [1].

    Examples
    --------
    >>> {name for name, *_ in counts()} >= {"measures", "rules"}
    True
    """
    found = []
    for kind in sorted(KINDS, key=lambda kind: kind.table):
        keys = [{citation.key for citation in row.sources} for row in rows(kind)]
        memory = sum("from_memory" in cited for cited in keys)
        practice = sum(cited == {"common_practice"} for cited in keys)
        found.append((kind.table, len(keys), memory, practice))
    return tuple(found)


@cache
def _by_id(kind: type[Any]) -> Mapping[str, Row]:
    found: dict[str, Row] = {}
    for row in rows(kind):
        found.setdefault(row.id, row)
    return found


@cache
def _rows(kind: type[Row]) -> tuple[Row, ...]:
    name = f"{kind.table}.csv"
    ours = _read(root() / name, kind, own=False)
    if "folder" not in _overlay or not (_overlay["folder"] / name).is_file():
        return ours
    theirs = _read(_overlay["folder"] / name, kind, own=True)
    if not hasattr(kind, "id"):
        return (*theirs, *ours)
    replaced = {row.id for row in theirs}  # type: ignore[attr-defined]
    return (*theirs, *(row for row in ours if row.id not in replaced))  # type: ignore[attr-defined]


def _read(path: Traversable, kind: type[Row], *, own: bool) -> tuple[Row, ...]:
    try:
        text = path.read_text(encoding="utf-8-sig")  # a spreadsheet may have put a byte order mark in front
    except UnicodeDecodeError as fault:
        raise TableError(f"not UTF-8 text ({fault})", str(path), "Save the table as CSV in UTF-8.") from fault
    reader = csv.DictReader(io.StringIO(text, newline=""))
    missing = {_column(f.name) for f in fields(kind)} - {"origin", "own"} - set(reader.fieldnames or ())
    if missing:
        raise TableError(
            f"no column {', '.join(sorted(missing))}", str(path), "Give the table the columns of datapackage.json."
        )
    return tuple(_row(cells, kind, f"{path.name}:{reader.line_num}", own=own) for cells in reader)


def _row(cells: Mapping[str, str], kind: type[Row], origin: str, *, own: bool) -> Row:
    if None in cells or None in cells.values():
        raise TableError("more or fewer cells than headings", origin, "Quote a cell that holds a comma.")
    values: dict[str, Any] = {"origin": origin, "own": own}
    for name, column, read in _readers(kind):  # type: ignore[arg-type]
        try:
            values[name] = read(cells[column])
        except (ValueError, TypeError, ZeroDivisionError) as fault:
            raise TableError(
                f"{cells[column]!r} cannot be read ({fault})", f"{origin} {column}", "Mend the cell."
            ) from fault
    for citation in values["sources"]:
        if citation.key not in source_entries():
            raise TableError(
                f"no source {citation.key!r}", f"{origin} sources", "Add it to sources.json, or mend the key."
            )
    return kind(**values)


@cache
def _readers(kind: type[Row]) -> tuple[tuple[str, str, Callable[[str], object]], ...]:
    """Return field, column and what reads a cell, for each column of a table."""
    named = [(field.name, _column(field.name)) for field in fields(kind) if field.name not in ("origin", "own")]
    return tuple((name, col, _READ_IN.get((kind.table, col), _READ.get(col, str))) for name, col in named)


def _column(field: str) -> str:
    return field.rstrip("_")  # a column may bear a word of the language, such as class
