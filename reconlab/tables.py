"""What is known: rows of the reference tables and of the person's own overlay folder, each with its source."""

from __future__ import annotations

import csv
import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from fractions import Fraction
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, ClassVar, TypeVar

from reconlab.errors import FileError, InputError, TableError
from reconlab.reasons import Citation, Reason, Standing, citations

_overlay: dict[str, Path] = {}  # holds at most one folder, under "folder"; chosen before the first read


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What every row carries: who says so, a note, and the file and line it stands in."""

    sources: tuple[Citation, ...]
    origin: str
    own: bool  # from the person's overlay

    def reason(self, says: str, *because: Reason) -> Reason:
        """Return a reason that rests on this row, and says so where the row is the person's own."""
        return Reason(f"{says} (your own table, {self.origin})" if self.own else says, self.sources, because)


@dataclass(frozen=True, slots=True, kw_only=True)
class Region(Row):
    """A place of a title page and the region whose measures hold there."""

    table: ClassVar[str] = "regions"
    place: str
    region: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Notation(Row):
    """A sign, abbreviation or word of a receipt and what it marks."""

    table: ClassVar[str] = "notation"
    printed: str
    meaning: str
    value: str
    written: str
    language: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure(Row):
    """What a measure of one system weighed or held, exactly."""

    table: ClassVar[str] = "measures"
    id: str
    name: str
    system: str
    kind: str
    size: Fraction
    as_printed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Custom(Row):
    """An answer to whose weights or whose measures, where, when and in which books it holds."""

    table: ClassVar[str] = "customs"
    id: str
    question: str
    custom: str
    label: str
    regions: tuple[str, ...]
    from_year: int | None
    to_year: int | None
    books: tuple[str, ...]
    standing: Standing
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CustomUnit(Row):
    """Which measure a unit means under a custom."""

    table: ClassVar[str] = "custom_units"
    custom: str
    unit: str
    written: str
    measure: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Drop(Row):
    """What one drop of a liquid weighed, by one source."""

    table: ClassVar[str] = "drops"
    id: str
    liquid: str
    method: str
    drop_mg: float
    as_printed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Substance(Row):
    """A thing in modern terms."""

    table: ClassVar[str] = "substances"
    id: str
    name: str
    inci: str
    cas: tuple[str, ...]
    formula: str
    state: str
    class_: str
    functions: tuple[str, ...]
    availability: str
    never_handled: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PropertyValue(Row):
    """One published value of one property of one substance."""

    table: ClassVar[str] = "property_values"
    substance: str
    property: str
    low: float | None
    value: float
    high: float | None
    unit: str
    condition: str
    as_printed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Name(Row):
    """One meaning of a name of the time."""

    table: ClassVar[str] = "names"
    name: str
    language: str
    meaning: str
    kind: str
    regions: tuple[str, ...]
    from_year: int | None
    to_year: int | None
    standing: Standing
    because: str
    decides: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Preparation(Row):
    """A compound preparation a receipt calls for by name."""

    table: ClassVar[str] = "preparations"
    id: str
    name: str
    title: str
    book: str
    place: str
    from_year: int | None
    to_year: int | None
    state: str
    class_: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PreparationLine(Row):
    """One ingredient line of a compound preparation, as printed."""

    table: ClassVar[str] = "preparation_lines"
    preparation: str
    line: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FormRow(Row):
    """A form a preparation is made in."""

    table: ClassVar[str] = "uses"
    form: str
    stays: str
    on: tuple[str, ...]
    physical: str
    dust: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LawText(Row):
    """A text of law and the state of it that was read."""

    table: ClassVar[str] = "laws"
    id: str
    law: str
    text: str
    state_of: str
    read_on: str
    whole: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule(Row):
    """What a text of law says of a substance for a use."""

    table: ClassVar[str] = "rules"
    id: str
    text: str
    substance: str
    rule: str
    entry: str
    use: str
    on: tuple[str, ...]
    physical: tuple[str, ...]
    dust: str
    stays: str
    wearer: str
    limit_percent: float | None
    reckoned_as: str
    reckoned_factor: float | None
    conditions: str
    warnings: str
    applies_from: str
    applies_until: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution(Row):
    """What to mind, and at which step."""

    table: ClassVar[str] = "cautions"
    id: str
    about: str
    step: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Phase(Row):
    """Which classes go together at the bench, and in what order."""

    table: ClassVar[str] = "phases"
    class_: str
    phase: str
    place: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Substitute(Row):
    """What may stand in for a substance, by what it did."""

    table: ClassVar[str] = "substitutes"
    id: str
    substance: str
    did: str
    forms: tuple[str, ...]
    substitute: str
    basis: str
    low: float | None
    ratio: float | None
    high: float | None
    because: str
    lost: str
    also_change: str
    cautions: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Term(Row):
    """A figure's name, unit and meaning."""

    table: ClassVar[str] = "terms"
    term: str
    unit: str
    meaning: str


AnyRow = TypeVar("AnyRow", bound=Row)


def _words(cell: str) -> tuple[str, ...]:
    return tuple(filter(None, cell.split("|")))


def _number(cell: str) -> float | None:
    return float(cell) if cell else None


def _year(cell: str) -> int | None:
    return int(cell) if cell else None


# A column means the same in every table, so one list says how its cells are read; all others are text.
_READ: Mapping[str, Callable[[str], object]] = {
    "sources": citations,
    "size": Fraction,
    "drop_mg": float,
    "value": float,
    **dict.fromkeys(("low", "ratio", "high", "limit_percent", "reckoned_factor"), _number),
    **dict.fromkeys(("from_year", "to_year"), _year),
    **dict.fromkeys(("regions", "books", "cas", "functions", "on", "forms"), _words),
}
# Two exceptions: a notation's value is a unit token or a number, and a rule's physical forms are several.
_READ_IN: Mapping[tuple[str, str], Callable[[str], object]] = {
    ("notation", "value"): str,
    ("rules", "physical"): _words,
}


def root() -> Traversable:
    """Return the folder of reference tables, in an installed wheel or in a checkout.

    Returns
    -------
    importlib.resources.abc.Traversable
        The folder.

    Examples
    --------
    >>> (root() / "measures.csv").is_file()
    True
    """
    packaged = files("reconlab") / "reference_tables"
    return packaged if packaged.is_dir() else Path(__file__).parents[1] / "reference_tables"


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
            raise TableError(f"not a list of CSL-JSON entries ({fault})", str(path), "Mend the file; see DEVELOPERS.md.") from fault
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
    'ounce, troy'
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


@cache
def _by_id(kind: type[Any]) -> Mapping[str, Row]:
    found: dict[str, Row] = {}
    for row in rows(kind):
        found.setdefault(row.id, row)
    return found


@cache
def _rows(kind: type[Row]) -> tuple[Row, ...]:
    name = f"{kind.table}.csv"  # type: ignore[attr-defined]
    ours = _read(root() / name, kind, own=False)
    if "folder" not in _overlay or not (_overlay["folder"] / name).is_file():
        return ours
    theirs = _read(_overlay["folder"] / name, kind, own=True)
    if not hasattr(kind, "id"):
        return (*theirs, *ours)
    replaced = {row.id for row in theirs}  # type: ignore[attr-defined]
    return (*theirs, *(row for row in ours if row.id not in replaced))  # type: ignore[attr-defined]


def _read(path: Traversable, kind: type[Row], *, own: bool) -> tuple[Row, ...]:
    with path.open(encoding="utf-8", newline="") as lines:
        reader = csv.DictReader(lines)
        missing = {_column(f.name) for f in fields(kind)} - {"origin", "own"} - set(reader.fieldnames or ())
        if missing:
            raise TableError(
                f"no column {', '.join(sorted(missing))}", str(path), "Give the table the columns of datapackage.json."
            )
        return tuple(_row(cells, kind, f"{path.name}:{reader.line_num}", own=own) for cells in reader)


def _row(cells: Mapping[str, str], kind: type[Row], origin: str, *, own: bool) -> Row:
    values: dict[str, Any] = {"origin": origin, "own": own}
    for field in fields(kind):
        column = _column(field.name)
        if column in values:
            continue
        read = _READ_IN.get((kind.table, column), _READ.get(column, str))  # type: ignore[attr-defined]
        try:
            values[field.name] = read(cells[column])
        except (ValueError, TypeError, ZeroDivisionError) as fault:
            raise TableError(f"{cells[column]!r} cannot be read ({fault})", f"{origin} {column}", "Mend the cell.") from fault
    for citation in values["sources"]:
        if citation.key not in source_entries():
            raise TableError(f"no source {citation.key!r}", f"{origin} sources", "Add it to sources.json, or mend the key.")
    return kind(**values)


def _column(field: str) -> str:
    return field.rstrip("_")  # a column may bear a word of the language, such as class
