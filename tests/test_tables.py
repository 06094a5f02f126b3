"""Hold the reference tables to their schema, every row to a listed source, and the figures to their own laws.

A fault reads `file:line: column: what`.
"""

import csv
import io
import json
import re
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

FOLDER = Path(__file__).parents[1] / "reference_tables"
OPEN_KEYS = {"from_memory", "common_practice"}  # say that no publication stands behind a row
FIELD_RULES = {"required", "unique", "pattern", "enum"}  # what the checks below know how to hold
BLANK = re.compile(r"^\s|\s$|\s\s|[^\S ]")  # at an end, doubled, or anything but a plain blank
YEARS = range(1650, 1931)
BOOKS = ["pharmacopoeia", "dispensing", "trade", "perfumer", "household"]

# Exact by definition; the grain is one in all systems. NIST Handbook 44, Appendix C, General Tables of Units
# of Measurement: grain 64.79891 mg; gallon 231 cubic inches, 128 fluid ounces. Weights and Measures Act 1985,
# Schedule 1: gallon 4.54609 L, 160 fluid ounces.
SIZES = {
    "grain": Fraction("0.06479891"),
    "gallon_imperial": Fraction("4546.09"),
    "gallon_wine": 231 * Fraction("2.54") ** 3,
    "gram": Fraction(1),
    "milliliter": Fraction(1),
}
# So are these: one of the first is so many of the last.
RATIOS = [
    ("scruple_apothecaries", 20, "grain"),
    ("drachm_apothecaries", 3, "scruple_apothecaries"),
    ("drachm_apothecaries", 60, "grain"),
    ("ounce_troy", 8, "drachm_apothecaries"),
    ("ounce_troy", 480, "grain"),
    ("pound_troy", 12, "ounce_troy"),
    ("pound_troy", 5760, "grain"),
    ("ounce_avoirdupois", Fraction("437.5"), "grain"),
    ("ounce_avoirdupois", 16, "dram_avoirdupois"),
    ("ounce_avoirdupois", 8, "drachm_dublin"),
    ("drachm_dublin", 3, "scruple_dublin"),
    ("pound_avoirdupois", 16, "ounce_avoirdupois"),
    ("pound_avoirdupois", 7000, "grain"),
    ("hundredweight_imperial", 112, "pound_avoirdupois"),
    *(
        (f"{large}_{system}", number, f"{small}_{system}")
        for system, ounces in (("imperial", 20), ("wine", 16))
        for large, number, small in (
            ("fluid_drachm", 60, "minim"),
            ("fluid_ounce", 8, "fluid_drachm"),
            ("gill", Fraction(ounces, 4), "fluid_ounce"),
            ("pint", ounces, "fluid_ounce"),
            ("quart", 2, "pint"),
            ("gallon", 8, "pint"),
        )
    ),
    ("kilogram", 1000, "gram"),
    ("gram", 1000, "milligram"),
    ("liter", 1000, "milliliter"),
]
# The measures of old: the figure as the source prints it, and how each divides.
OF_OLD = json.loads((Path(__file__).parent / "data" / "old_measures.json").read_text(encoding="utf-8"))
IN = {
    "g": Fraction(1),
    "mL": Fraction(1),
    "grain": Fraction("0.06479891"),
    "pound": Fraction("453.59237"),
    "cubic inch": Fraction("2.54") ** 3,
    "Paris cubic inch": Fraction("952.146") / 48,  # Pinte: 48 cubic inches of the King's foot are 952.146 mL
}
SIZES |= {key: Fraction(printed) * IN[unit] for key, (printed, unit, _) in OF_OLD["sizes"].items()}
RATIOS += [(large, number, small) for large, number, small in OF_OLD["chains"]]


@dataclass(frozen=True)
class Table:
    """One CSV file with its part of the data package."""

    file: str
    fields: dict[str, dict[str, Any]]
    schema: dict[str, Any]
    header: list[str]
    rows: list[tuple[int, dict[str, str]]]  # each with its line
    misshapen: list[int]  # lines with too many or too few cells
    raw: bytes

    def column(self, *names: str) -> set[tuple[str, ...]]:
        return {tuple(row[name] for name in names) for _, row in self.rows}


@dataclass(frozen=True)
class Package:
    """The whole folder, read once."""

    folder: Path
    described: dict[str, Any]
    tables: dict[str, Table]
    entries: list[dict[str, Any]]  # of sources.json

    @property
    def keys(self) -> set[str]:
        return {entry["id"] for entry in self.entries} | OPEN_KEYS

    def ids(self, table: str) -> set[str]:
        return {cell for (cell,) in self.tables[table].column("id")}

    def rule(self, table: str, field: str, name: str) -> set[str]:
        return set(self.tables[table].fields[field][name])


def described(folder: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((folder / "datapackage.json").read_text(encoding="utf-8"))
    return found


def read(folder: Path) -> Package:
    package = described(folder)
    tables = {}
    for resource in package["resources"]:
        raw = (folder / resource["path"]).read_bytes()
        reader = csv.reader(io.StringIO(raw.decode("utf-8"), newline=""), strict=True)
        header = next(reader, [])
        rows, misshapen = [], []
        for cells in reader:
            if len(cells) == len(header):
                rows.append((reader.line_num, dict(zip(header, cells, strict=True))))
            else:
                misshapen.append(reader.line_num)  # no cell of it can be trusted
        fields = {field["name"]: field.get("constraints", {}) for field in resource["schema"]["fields"]}
        tables[resource["name"]] = Table(resource["path"], fields, resource["schema"], header, rows, misshapen, raw)
    entries = json.loads((folder / "sources.json").read_text(encoding="utf-8"))
    return Package(folder, package, tables, entries)


Check = Callable[[Package], Iterator[str]]


@cache
def ours() -> Package:
    return read(FOLDER)


def citations(cell: str) -> list[str]:
    return [citation.split("[")[0] for citation in cell.split(" | ")] if cell else []


def is_cas_number(text: str) -> bool:
    if not re.fullmatch(r"[1-9]\d{1,6}-\d\d-\d", text):
        return False
    *body, check = map(int, text.replace("-", ""))
    return sum(i * digit for i, digit in enumerate(reversed(body), start=1)) % 10 == check


# ---- one table against its schema -------------------------------------------------------------------------


def shape_faults(package: Package, name: str) -> Iterator[str]:
    table = package.tables[name]
    if table.raw.startswith(b"\xef\xbb\xbf"):
        yield f"{table.file}:1: file: starts with a byte order mark"
    if b"\r" in table.raw:
        yield f"{table.file}:1: file: lines must end with LF alone"
    if not table.raw.endswith(b"\n"):
        yield f"{table.file}:{len(table.raw.splitlines())}: file: the last line has no end"
    if table.header != list(table.fields):
        yield f"{table.file}:1: header: {table.header}, the schema has {list(table.fields)}"
    for line in table.misshapen:
        yield f"{table.file}:{line}: row: not {len(table.header)} cells"


def cell_faults(package: Package, name: str) -> Iterator[str]:
    table = package.tables[name]
    seen: dict[str, dict[str, int]] = defaultdict(dict)
    for line, row in table.rows:
        for field, rule in table.fields.items():
            at, cell = f"{table.file}:{line}: {field}", row.get(field, "")
            if BLANK.search(cell):
                yield f"{at}: stray blank in {cell!r}"
            if rule.get("required") and not cell:
                yield f"{at}: empty"
            if cell and "pattern" in rule and not re.fullmatch(rule["pattern"], cell):
                yield f"{at}: {cell!r} is not of the form {rule['pattern']}"
            if cell and "enum" in rule and cell not in rule["enum"]:
                yield f"{at}: {cell!r} is none of {', '.join(rule['enum'])}"
            if rule.get("unique") and cell in seen[field]:
                yield f"{at}: {cell!r} stands in line {seen[field][cell]} already"
            seen[field].setdefault(cell, line)
            if field == "cas":
                yield from (
                    f"{at}: {cas} has a wrong check digit" for cas in cell.split("|") if cas and not is_cas_number(cas)
                )


def key_faults(package: Package, name: str) -> Iterator[str]:
    table = package.tables[name]
    seen: dict[tuple[str, ...], int] = {}
    primary = table.schema["primaryKey"]
    for line, row in table.rows:
        key = tuple(row.get(field, "") for field in primary)
        if key in seen:
            yield f"{table.file}:{line}: {', '.join(primary)}: {key} stands in line {seen[key]} already"
        seen.setdefault(key, line)
    for foreign in table.schema["foreignKeys"]:
        reference = foreign["reference"]
        known = package.tables[reference["resource"]].column(*reference["fields"])
        for line, row in table.rows:
            key = tuple(row.get(field, "") for field in foreign["fields"])
            if any(key) and key not in known:
                fields = ", ".join(foreign["fields"])
                yield f"{table.file}:{line}: {fields}: {', '.join(key)!r} is not in {reference['resource']}"


def source_faults(package: Package, name: str) -> Iterator[str]:
    table = package.tables[name]
    for line, row in table.rows:
        for citation, key in zip(row.get("sources", "").split(" | "), citations(row.get("sources", "")), strict=False):
            if key not in package.keys:
                yield f"{table.file}:{line}: sources: {citation} is not in sources.json"


def order_faults(package: Package, name: str) -> Iterator[str]:
    """Yield spans that end before they begin, and days no calendar has."""
    table = package.tables[name]
    spans = [("from_year", "to_year"), ("state_of", "read_on"), ("applies_from", "applies_until")]
    spans += [("low", middle) for middle in ("value", "ratio")] + [(middle, "high") for middle in ("value", "ratio")]
    for line, row in table.rows:
        for first, last in spans:
            low, high = row.get(first), row.get(last)
            if low and high and in_order(low) > in_order(high):
                yield f"{table.file}:{line}: {last}: {high} comes before {first} {low}"
        for field, cell in row.items():
            if re.fullmatch(r"\d{4}-\d\d-\d\d", cell):
                try:
                    date.fromisoformat(cell)
                except ValueError:
                    yield f"{table.file}:{line}: {field}: {cell} is no day"


def in_order(cell: str) -> Fraction | str:
    return Fraction(cell) if re.fullmatch(r"-?\d+(\.\d+)?", cell) else cell  # a date is in order as text


CHECKS = [shape_faults, cell_faults, key_faults, source_faults, order_faults]


def table_faults(package: Package, name: str) -> list[str]:
    return [fault for check in CHECKS for fault in check(package, name)]


# ---- the package itself -----------------------------------------------------------------------------------


def package_faults(package: Package) -> Iterator[str]:
    resources = package.described["resources"]
    names = [resource["name"] for resource in resources]
    if len(set(names)) != len(names):
        yield "datapackage.json: resources: a name stands twice"
    unlisted = {path.name for path in package.folder.glob("*.csv")} - {resource["path"] for resource in resources}
    yield from (f"datapackage.json: resources: {file} is not listed" for file in sorted(unlisted))
    for key in ("$schema", "name", "title"):
        if not package.described.get(key):
            yield f"datapackage.json: {key}: missing"
    for resource in resources:
        yield from resource_faults(resource, {each["name"]: each for each in resources})


def resource_faults(resource: dict[str, Any], resources: dict[str, dict[str, Any]]) -> Iterator[str]:
    at, schema = f"datapackage.json: {resource['name']}", resource["schema"]
    fields = [field["name"] for field in schema["fields"]]
    for key in ("title", "description", "checked_on"):
        if not resource.get(key):
            yield f"{at}: {key}: missing"
    if resource["path"] != f"{resource['name']}.csv":
        yield f"{at}: path: {resource['path']} is not named after the table"
    if len(set(fields)) != len(fields):
        yield f"{at}: fields: a name stands twice"
    if "sources" not in fields:
        yield f"{at}: fields: no sources"
    if schema["missingValues"] != [""]:
        yield f"{at}: missingValues: only the empty cell is a missing value"
    for field in schema["fields"]:
        yield from field_faults(f"{at}.{field['name']}", field)
    yield from (f"{at}: primaryKey: {name} is no field" for name in schema["primaryKey"] if name not in fields)
    for key in schema["foreignKeys"]:
        there = resources.get(key["reference"]["resource"], {"schema": {"fields": []}})
        theirs = {field["name"] for field in there["schema"]["fields"]}
        if not set(key["fields"]) <= set(fields) or not set(key["reference"]["fields"]) <= theirs:
            yield f"{at}: foreignKeys: {key} leads nowhere"


def field_faults(at: str, field: dict[str, Any]) -> Iterator[str]:
    rule = field.get("constraints", {})
    if not re.fullmatch(r"[a-z][a-z0-9_]*", field["name"]):
        yield f"{at}: name: not lower-case ASCII"
    if field.get("type") != "string":
        yield f"{at}: type: cells are read as text"
    if not field.get("description", "").endswith("."):
        yield f"{at}: description: not a sentence"
    if unknown := set(rule) - FIELD_RULES:
        yield f"{at}: constraints: nothing checks {sorted(unknown)}"
    if "pattern" in rule:
        try:
            re.compile(rule["pattern"])
        except re.error as error:
            yield f"{at}: pattern: {error}"
    if "enum" in rule and len(set(rule["enum"])) != len(rule["enum"]):
        yield f"{at}: enum: a word stands twice"


def bibliography_faults(package: Package) -> Iterator[str]:
    """Yield what is wrong with sources.json: CSL-JSON items, each with a lasting key, each cited."""
    code = "\n".join(path.read_text(encoding="utf-8") for path in (package.folder.parent / "reconlab").rglob("*.py"))
    cited = {
        key for table in package.tables.values() for _, row in table.rows for key in citations(row.get("sources", ""))
    }
    cited |= set(re.findall(r"[a-z0-9_]+", code)) | OPEN_KEYS  # a method names its source in its docstring
    seen = set()
    for entry in package.entries:
        key = str(entry.get("id", ""))
        if not re.fullmatch(r"[a-z0-9_]+", key):
            yield f"sources.json: {key!r}: id: not lower-case letters, figures and _"
        if key in seen:
            yield f"sources.json: {key}: id: twice"
        seen.add(key)
        if not entry.get("title") or not entry.get("type"):
            yield f"sources.json: {key}: a title and a type are needed"
        if key not in cited:
            yield f"sources.json: {key}: nothing cites it"


# ---- what the tables say of each other --------------------------------------------------------------------


def reference_faults(package: Package) -> Iterator[str]:
    """Yield words that should lead to a row or a list elsewhere, where no foreign key can say so."""
    substances, preparations = package.ids("substances"), package.ids("preparations")
    classes = {f"class:{word}" for word in package.rule("substances", "class", "enum")}
    liquids = {word for (cell,) in package.tables["drops"].column("liquid") for word in cell.split("|")}
    kinds = {cell for (cell,) in package.tables["made_kinds"].column("kind")}
    of_things_made = {word for word in liquids if word.removeprefix("made:").split(" of ")[0] in kinds}
    states = {f"state:{word}" for word in package.rule("substances", "state", "enum")}
    physical = package.rule("uses", "physical", "enum")
    body = {part for (cell,) in package.tables["uses"].column("on") for part in cell.split("|")}
    regions = {region for (region,) in package.tables["regions"].column("region")}
    known = {
        ("property_values", "substance"): substances
        | preparations
        | package.ids("strengths")
        | classes
        | states
        | {f"part:{part}" for role, part in package.tables["name_words"].column("role", "stands_for") if role == "part"}
        | {"any_liquid", "any_solid"},
        ("drops", "liquid"): substances | preparations | classes | {"any"} | of_things_made,
        ("domestic_measures", "states"): package.rule("substances", "state", "enum"),
        ("cautions", "about"): substances | classes | states | {f"form:{word}" for word in physical} | {"any"},
        ("custom_units", "custom"): {custom for (custom,) in package.tables["customs"].column("custom")} | {"any"},
        ("measures", "rival_of"): package.ids("measures"),
        ("customs", "custom"): {custom for (custom,) in package.tables["custom_units"].column("custom")},
        ("customs", "regions"): regions,
        ("names", "regions"): regions,
        ("preparations", "place"): {place for (place,) in package.tables["regions"].column("place")},
        ("preparations", "class"): package.rule("substances", "class", "enum"),
        ("phases", "class"): package.rule("substances", "class", "enum"),
        ("rules", "on"): body,
        ("rules", "physical"): physical,
        ("substitutes", "forms"): physical,
    }
    for (name, field), words in known.items():
        table = package.tables[name]
        for line, row in table.rows:
            yield from (
                f"{table.file}:{line}: {field}: {word!r} is not on file"
                for word in row[field].split("|")
                if word and word not in words
            )
    for line, row in package.tables["names"].rows:
        if row["kind"] == "made":
            yield from made_faults(package, line, row["meaning"])
        elif row["meaning"] not in {"substance": substances, "preparation": preparations}[row["kind"]]:
            yield f"names.csv:{line}: meaning: no {row['kind']} has the id {row['meaning']!r}"


def made_faults(package: Package, line: int, meaning: str) -> Iterator[str]:
    """Yield what a preparation without a formula is made of and that is not on file, or its kind if there is none."""
    head, _, of = meaning.removeprefix("formula not on file: ").partition(" of ")
    kinds = {kind for (kind,) in package.tables["made_kinds"].column("kind")}
    if not any(head == kind or head.endswith(f" {kind}") for kind in kinds):
        yield f"names.csv:{line}: meaning: no kind of preparation is {head!r}"
    for one in set(of.split(" + ")) - package.ids("substances"):
        yield f"names.csv:{line}: meaning: no substance has the id {one!r}"


def ratio_faults(package: Package) -> Iterator[str]:
    """Yield sizes that break an exact ratio, and measures no ratio holds (a mistyped id is one)."""
    rows = {row["id"]: (line, Fraction(row["size"])) for line, row in package.tables["measures"].rows}
    for key, exact in SIZES.items():
        if key in rows and rows[key][1] != exact:
            yield f"measures.csv:{rows[key][0]}: size: {key} is {exact} exactly"
    held = set(SIZES)
    for large, number, small in RATIOS:
        if large in rows and small in rows:
            held |= {large, small}
            if rows[large][1] != number * rows[small][1]:
                yield f"measures.csv:{rows[large][0]}: size: {large} is not {number} x {small}"
    for key in sorted(set(rows) - held):
        yield f"measures.csv:{rows[key][0]}: id: no exact size or ratio is stated for {key}"


def custom_faults(package: Package) -> Iterator[str]:
    """Yield pairs of rows both likely for one question, region, year and kind of book, of all things or one liquid."""
    likely = [(line, row) for line, row in package.tables["customs"].rows if row["standing"] == "likely"]
    for (first, one), (second, other) in combinations(likely, 2):
        regions = set(one["regions"].split("|")) & set(other["regions"].split("|"))
        books = set(one["books"].split("|") if one["books"] else BOOKS)
        books &= set(other["books"].split("|") if other["books"] else BOOKS)
        years = [year for year in YEARS if in_force(one, year) and in_force(other, year)]
        apart = bool(one["liquids"]) != bool(other["liquids"])  # a custom of one liquid stands beside that of all
        if one["question"] == other["question"] and regions and books and years and not apart:
            where, when = "|".join(sorted(regions)), f"{years[0]}-{years[-1]}"
            shared = f"{one['question']}, {where}, {when}, {'|'.join(sorted(books))}"
            yield f"customs.csv:{second}: standing: likely, as line {first} is, for {shared}"


def in_force(row: dict[str, str], year: int) -> bool:
    return int(row["from_year"] or 0) <= year <= int(row["to_year"] or 9999)


def poison_faults(package: Package) -> Iterator[str]:
    poisons = {
        row["id"]: row["never_handled"] or row["class"]
        for _, row in package.tables["substances"].rows
        if row["never_handled"] or row["class"] == "poison"
    }
    for line, row in package.tables["substitutes"].rows:
        if why := poisons.get(row["substitute"]):
            yield f"substitutes.csv:{line}: substitute: {row['substitute']} is never to be handled ({why})"


PACKAGE_CHECKS = [
    package_faults,
    bibliography_faults,
    reference_faults,
    ratio_faults,
    custom_faults,
    poison_faults,
]

# ---- the tests --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [resource["name"] for resource in described(FOLDER)["resources"]])
def test_table_keeps_its_schema(name: str) -> None:
    faults = table_faults(ours(), name)
    assert not faults, "\n" + "\n".join(faults)


@pytest.mark.parametrize("check", PACKAGE_CHECKS, ids=lambda check: check.__name__.removesuffix("_faults"))
def test_tables_agree(check: Check) -> None:
    faults = list(check(ours()))
    assert not faults, "\n" + "\n".join(faults)


# ---- the checks, on made-up tables ------------------------------------------------------------------------

SOURCED = {"sources": "book_1865[p. 6]"}
GRAIN = {
    "id": "grain",
    "name": "grain",
    "system": "apothecaries",
    "kind": "mass",
    "size": "6479891/100000000",
} | SOURCED
SCRUPLE = GRAIN | {"id": "scruple_apothecaries", "name": "scruple", "size": "6479891/5000000"}
DRACHM = GRAIN | {"id": "drachm_apothecaries", "name": "drachm", "size": "19439673/5000000"}
OUNCE = GRAIN | {"id": "ounce_troy", "name": "ounce", "size": "19439673/625000"}
MEASURES = [GRAIN, SCRUPLE, DRACHM, OUNCE]
TALC = {
    "id": "talc", "name": "talc", "cas": "14807-96-6", "state": "powder", "class": "filler",
    "functions": "slip", "availability": "common",
} | SOURCED  # fmt: skip
WHITE_LEAD = TALC | {"id": "white_lead", "name": "white lead", "cas": "1319-46-6", "never_handled": "lead"}
SWAP = {
    "id": "swap", "substance": "talc", "did": "slip", "substitute": "talc", "basis": "mass", "low": "0.5",
    "ratio": "1", "high": "2", "because": "so", "lost": "slip",
} | SOURCED  # fmt: skip
NAME = {
    "name": "french chalk", "language": "en", "meaning": "talc", "kind": "substance", "standing": "likely",
    "because": "so",
} | SOURCED  # fmt: skip
TROY = {
    "id": "troy", "question": "weights", "custom": "troy", "label": "troy", "regions": "US",
    "from_year": "1820", "to_year": "1890", "standing": "likely", "because": "so",
} | SOURCED  # fmt: skip
ITEM = {"id": "book_1865", "type": "book", "title": "A Book"}


@pytest.fixture
def made_up(tmp_path: Path) -> Callable[..., Package]:
    """Return a maker of small packages: our schema, with the rows given and no others."""

    def make(entries: tuple[dict[str, str], ...] = (ITEM,), **tables: list[dict[str, str]]) -> Package:
        folder = tmp_path / "reference_tables"
        folder.mkdir()
        (folder / "datapackage.json").write_bytes((FOLDER / "datapackage.json").read_bytes())
        (folder / "sources.json").write_text(json.dumps(entries), encoding="utf-8")
        for resource in described(FOLDER)["resources"]:
            fields = [field["name"] for field in resource["schema"]["fields"]]
            with (folder / resource["path"]).open("w", encoding="utf-8", newline="") as lines:
                writer = csv.DictWriter(lines, fields, lineterminator="\n")
                writer.writeheader()
                writer.writerows(tables.get(resource["name"], []))
        return read(folder)

    return make


def test_sound_tables_pass(made_up: Callable[..., Package]) -> None:
    package = made_up(measures=MEASURES, substances=[TALC, WHITE_LEAD], substitutes=[SWAP], names=[NAME])
    assert [fault for name in package.tables for fault in table_faults(package, name)] == []
    assert [fault for check in PACKAGE_CHECKS for fault in check(package)] == []


@pytest.mark.parametrize(
    ("table", "rows", "fault"),
    [
        ("measures", [*MEASURES[:3], OUNCE | {"sources": "book_1856[p. 6]"}],
         "measures.csv:5: sources: book_1856[p. 6] is not in sources.json"),
        ("measures", [*MEASURES[:3], OUNCE | {"sources": "book_1865[p. 6] | book_1856"}],
         "measures.csv:5: sources: book_1856 is not in sources.json"),
        ("measures", [GRAIN, DRACHM | {"size": "3.89"}],
         "measures.csv:3: size: '3.89' is not of the form [0-9]+(/[0-9]+)?"),
        ("measures", [GRAIN, GRAIN], "measures.csv:3: id: 'grain' stands in line 2 already"),
        ("measures", [GRAIN | {"name": " grain"}], "measures.csv:2: name: stray blank in ' grain'"),
        ("measures", [GRAIN | {"name": ""}], "measures.csv:2: name: empty"),
        ("substances", [TALC | {"cas": "14807-96-5"}],
         "substances.csv:2: cas: 14807-96-5 has a wrong check digit"),
        ("substances", [TALC | {"cas": "1975-09-02"}],
         "substances.csv:2: cas: 1975-09-02 has a wrong check digit"),
        ("substitutes", [SWAP | {"substitute": "chalk"}],
         "substitutes.csv:2: substitute: 'chalk' is not in substances"),
        ("substitutes", [SWAP | {"low": "3"}], "substitutes.csv:2: ratio: 1 comes before low 3"),
        ("customs", [TROY | {"from_year": "1891"}],
         "customs.csv:2: to_year: 1890 comes before from_year 1891"),
        ("laws", [{"id": "eu", "state_of": "2026-02-30"}], "laws.csv:2: state_of: 2026-02-30 is no day"),
    ],
)  # fmt: skip
def test_a_fault_in_a_table_is_named_with_its_line(
    made_up: Callable[..., Package], table: str, rows: list[dict[str, str]], fault: str
) -> None:
    assert fault in table_faults(made_up(**{"substances": [TALC], table: rows}), table)


@pytest.mark.parametrize(
    ("check", "tables", "fault"),
    [
        (ratio_faults, {"measures": [GRAIN, SCRUPLE, DRACHM | {"size": "389/100"}]},
         "measures.csv:4: size: drachm_apothecaries is not 60 x grain"),
        (ratio_faults, {"measures": [GRAIN, DRACHM | {"id": "drahm"}]},
         "measures.csv:3: id: no exact size or ratio is stated for drahm"),
        (custom_faults, {"customs": [TROY, TROY | {"from_year": "1890", "to_year": "", "books": "trade"}]},
         "customs.csv:3: standing: likely, as line 2 is, for weights, US, 1890-1890, trade"),
        (poison_faults,
         {"substances": [TALC, WHITE_LEAD], "substitutes": [SWAP | {"substitute": "white_lead"}]},
         "substitutes.csv:2: substitute: white_lead is never to be handled (lead)"),
        (reference_faults, {"names": [NAME | {"meaning": "chalk"}]},
         "names.csv:2: meaning: no substance has the id 'chalk'"),
        (reference_faults, {"names": [NAME | {"kind": "preparation"}], "substances": [TALC]},
         "names.csv:2: meaning: no preparation has the id 'talc'"),
        (bibliography_faults, {}, "sources.json: book_1865: nothing cites it"),
        (bibliography_faults, {"entries": (ITEM, ITEM)}, "sources.json: book_1865: id: twice"),
    ],
)  # fmt: skip
def test_a_fault_between_tables_is_named(
    made_up: Callable[..., Package], check: Check, tables: dict[str, Any], fault: str
) -> None:
    assert fault in list(check(made_up(**tables)))


@pytest.mark.parametrize(
    ("raw", "fault"),
    [
        (b"id,name\r\n", "lines must end with LF alone"),
        (b"\xef\xbb\xbfid,name\n", "starts with a byte order mark"),
        (b"id,name", "the last line has no end"),
        (b"name,id\n", "the schema has"),
        (b"id,name\ngrain\n", "measures.csv:2: row: not 2 cells"),
    ],
)
def test_a_misshapen_file_is_found(made_up: Callable[..., Package], raw: bytes, fault: str) -> None:
    folder = made_up().folder
    (folder / "measures.csv").write_bytes(raw)
    assert fault in "\n".join(shape_faults(read(folder), "measures"))


def test_lasting_likelihoods_that_do_not_meet_are_no_fault(made_up: Callable[..., Package]) -> None:
    apart = [
        TROY | {"from_year": "1891", "to_year": ""},
        TROY | {"regions": "GB"},
        TROY | {"question": "measures"},
    ]
    assert list(custom_faults(made_up(customs=[TROY, *apart]))) == []
