"""Hold imports to one direction, and the names of functions apart from the names of modules."""

import ast
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

import pytest

import reconlab

# Lowest first: a module may import only from below its own step.
# fmt: off
LADDER = [
    "errors", "units", "display", "pictures", "reasons", "tables", "sources", "receipts", "spirit", "reading",
    "materia", "domestic", "measures", "liquids", "reducing", "ways", "formula", "translation", "properties", "rulings",
    "screening",
    "customs", "substitution", "benchwork", "comparison", "trials", "record", "writeup", "workdesk", "panels", "cli",
]
# fmt: on
FACE = "reconlab"  # the package's own list of names: it loads any module, so only the shell may stand on it
STEP = {name: height for height, name in enumerate([*LADDER[:-1], FACE, LADDER[-1], "__main__"])}


def module_of(path: PurePosixPath) -> str:
    return path.parts[0].removesuffix(".py")


def imported(path: PurePosixPath, text: str) -> Iterator[str]:
    """Yield each module of the library that a file imports, wherever in the file the import stands."""
    package = ["reconlab", *path.parts[:-1]]
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            dotted = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            stem = ".".join([*base, *([node.module] if node.module else [])])
            # `from reconlab import tables` names a module only in what it takes
            dotted = [f"{stem}.{alias.name}" for alias in node.names] if stem == "reconlab" else [stem]
        else:
            continue
        for name in dotted:
            top, *below = name.split(".")
            if top == "reconlab":
                step = below[0] if below else FACE
                yield step if step in STEP else FACE


def looks_up(path: PurePosixPath, text: str) -> list[str]:
    """Return the imports of a file that do not look down, as `module -> imported`."""
    module = module_of(path)
    return [
        f"{module} -> {found}"
        for found in imported(path, text)
        if STEP[found] >= STEP[module] and not (found == module and len(path.parts) > 1)
    ]


def sources() -> Iterator[tuple[PurePosixPath, str]]:
    folder = Path(reconlab.__file__).parent
    for file in sorted(folder.rglob("*.py")):
        path = PurePosixPath(file.relative_to(folder).as_posix())
        # what stands beside the modules: the list of public names, and folders that are data
        if path.parts[0] not in {"__init__.py", "reference_tables", "notebooks"}:
            yield path, file.read_text(encoding="utf-8")


def test_every_module_has_its_step() -> None:
    strays = {module_of(path) for path, _ in sources()} - set(STEP)
    assert not strays, f"not in the ladder: {sorted(strays)}"


def test_imports_point_one_way() -> None:
    wrong = [fault for path, text in sources() if module_of(path) in STEP for fault in looks_up(path, text)]
    assert wrong == []


def test_no_public_name_is_the_name_of_a_module() -> None:
    both = sorted(set(LADDER) & set(reconlab.__all__))
    assert not both, f"importing a module of this name puts the module in its place: {both}"


@pytest.mark.parametrize(
    ("path", "text", "faults"),
    [
        ("tables.py", "from reconlab.measures import convert", ["tables -> measures"]),
        ("tables.py", "from reconlab import errors, measures", ["tables -> measures"]),
        ("tables.py", "import reconlab.measures as m", ["tables -> measures"]),
        ("tables.py", "from .measures import convert", ["tables -> measures"]),
        ("tables.py", "def late():\n    from reconlab import cli", ["tables -> cli"]),
        ("tables.py", "import reconlab as rl", ["tables -> reconlab"]),
        ("tables.py", "from reconlab import convert", ["tables -> reconlab"]),
        ("reading/amounts.py", "from ..measures import convert", ["reading -> measures"]),
        ("reading/__init__.py", "from .amounts import amount", []),
        ("reading/amounts.py", "from . import signs\nfrom ..tables import rows", []),
        ("tables.py", "import csv\nfrom reconlab.errors import TableError", []),
        ("cli.py", "import reconlab as rl", []),
    ],
)
def test_an_import_that_looks_up_is_found(path: str, text: str, faults: list[str]) -> None:
    assert looks_up(PurePosixPath(path), text) == faults
