"""Hold the notebooks to the house form; what they show is compared by nbval, in the same run."""

import re
import subprocess
import sys
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import nbformat
import pytest
from nbclient import NotebookClient
from nbformat import NotebookNode

from reconlab.record import open_record
from reconlab.screening import RESEARCH_AID

ROOT = Path(__file__).parents[1]
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))
OWN = "09_your_own_receipt.ipynb"  # makes a record beside itself, so it is run in a copy, and ships not run
LONGEST = 12  # lines of a cell
WIDEST = 100  # signs of a line: what a page shows of it
CHANGES = re.compile(r"[^\w<]/(?:tmp|var|home|Users)/|[A-Z]:\\|0x[0-9a-f]{6,}|\b(?:[01]\d|2[0-3]):[0-5]\d\b(?!:\d\d)")


def read(path: Path) -> NotebookNode:
    return nbformat.read(path, as_version=4)


def prose(notebook: NotebookNode) -> Iterator[str]:
    yield from (cell.source for cell in notebook.cells if cell.cell_type == "markdown")


def code(notebook: NotebookNode) -> list[NotebookNode]:
    return [cell for cell in notebook.cells if cell.cell_type == "code"]


def run(notebook: NotebookNode, folder: Path) -> NotebookNode:
    """Run every cell in a kernel of its own, in a folder; an error fails the test."""
    return NotebookClient(notebook, timeout=60, resources={"metadata": {"path": str(folder)}}).execute()


def shown(cell: NotebookNode) -> str:
    """Return what a cell shows, as text."""
    return "\n".join(out.get("text") or out.get("data", {}).get("text/plain", "") for out in cell.outputs)


def pytest_says(*words: str | Path) -> str:
    command = [sys.executable, "-m", "pytest", "--config-file=pyproject.toml", "-p", "no:cacheprovider", *words]
    return subprocess.run(command, cwd=ROOT, capture_output=True, encoding="utf-8", check=False).stdout


def test_the_usual_run_compares_every_notebook() -> None:
    collected = pytest_says("--collect-only", "--quiet")
    assert NOTEBOOKS
    for path in NOTEBOOKS:
        cells = collected.count(f"notebooks/{path.name}::Cell")
        assert cells == (0 if path.name == OWN else len(code(read(path)))), path.name


def test_a_figure_that_is_another_than_shown_is_found(tmp_path: Path) -> None:
    page = NOTEBOOKS[0].read_text(encoding="utf-8")
    assert "38.20" in page
    changed = tmp_path / "changed.ipynb"
    changed.write_text(page.replace("38.20", "38.21"), encoding="utf-8")
    said = pytest_says(changed)
    assert "1 failed" in said
    assert "38.21" in said


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.name[:2])
def test_a_notebook_has_the_house_form(path: Path) -> None:
    notebook = read(path)
    first = notebook.cells[0].source.splitlines()
    assert re.match(r"To run .*\*\*Shift\*\* and \*\*Enter\*\*", first[0]), "the first line says how to run a cell"
    assert any(line.startswith("# ") for line in first)
    assert " ".join("\n".join(prose(notebook)).split()).count(RESEARCH_AID) == 1
    assert "widgets" not in notebook.metadata
    for cell in code(notebook):
        assert len(cell.source.splitlines()) <= LONGEST, cell.source
        assert max(map(len, cell.source.splitlines())) <= WIDEST, cell.source
        assert not re.search(r"^\s*[!%]|\binput\(|\bpip\b", cell.source, re.MULTILINE)


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.name[:2])
def test_a_notebook_ships_as_run_from_top_to_bottom(path: Path) -> None:
    cells = code(read(path))
    if path.name == OWN:
        assert not any(cell.outputs or cell.execution_count for cell in cells)
        return
    assert [cell.execution_count for cell in cells] == list(range(1, len(cells) + 1))
    assert not [out for cell in cells for out in cell.outputs if out.output_type == "error"]
    for cell in cells:
        assert not CHANGES.search(re.sub(r"saved at \S+", "", shown(cell))), "a path, an address or a time"


@pytest.mark.parametrize("name", ["00_the_whole_job.ipynb", "02_which_ounce_which_pint.ipynb"])
def test_the_words_before_a_cell_claim_what_it_shows(name: str) -> None:
    """Each figure of the prose stands in what the next cell shows."""
    cells = read(ROOT / "notebooks" / name).cells
    claims = 0
    for words, cell in pairwise(cells):
        if words.cell_type != "markdown" or cell.cell_type != "code" or "## " not in words.source:
            continue
        for figure in re.findall(r"\b\d+\.\d+\b(?! g,)", words.source):
            claims += 1
            assert figure in shown(cell) + cell.source, figure
    assert claims >= 5


@pytest.mark.parametrize(
    ("name", "right", "answer", "said"),
    [
        ("00_the_whole_job.ipynb", "gives 15.28 g", "15.28", "right"),
        ("00_the_whole_job.ipynb", "gives 15.28 g", "38.20", "not yet"),
        ("01_reading_old_print.ipynb", "gives 1.75 ounces", "1.75", "right"),
        ("01_reading_old_print.ipynb", "gives 1.75 ounces", "134", "not yet"),
        ("02_which_ounce_which_pint.ipynb", "gives 21.3 g", "21.3", "right"),
        ("02_which_ounce_which_pint.ipynb", "gives 21.3 g", "23.3", "not yet"),
        ("03_what_was_it.ipynb", "*bismuth subnitrate*", '"Bismuth subnitrate"', "right"),
        ("03_what_was_it.ipynb", "*bismuth subnitrate*", '"talc"', "not yet"),
    ],
)
def test_the_exercise_tells_right_from_not_yet(tmp_path: Path, name: str, right: str, answer: str, said: str) -> None:
    notebook = read(ROOT / "notebooks" / name)
    assert right in notebook.cells[-1].source
    (asked,) = (cell for cell in code(notebook) if cell.source in ("answer = 0", 'answer = ""'))
    asked.source = f"answer = {answer}"
    assert shown(code(run(notebook, tmp_path))[-1]) == repr(said)


def test_the_empty_desk_is_opened_again_as_it_was_left(tmp_path: Path) -> None:
    for _ in range(2):
        done = run(read(ROOT / "notebooks" / OWN), tmp_path)
        kinds = [kind for cell in code(done) for out in cell.outputs for kind in out.get("data", {})]
        assert "application/vnd.jupyter.widget-view+json" in kinds
        assert "Next: " in shown(code(done)[-1])
    assert open_record(tmp_path / "my-receipt.yaml").transcription == ""
