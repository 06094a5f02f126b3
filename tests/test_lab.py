"""Hold `reconlab lab` to its word: nothing is overwritten, nobody else gets in, and what is missing is said."""

import importlib.util
import json
import re
import urllib.error
import urllib.request
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any

import nbformat
import pytest
from click.testing import CliRunner, Result
from nbformat.sign import NotebookNotary

from reconlab.cli import laboratory, shell
from reconlab.errors import ReconlabError

ROOT = Path(__file__).parents[1]


@pytest.fixture(autouse=True)
def at_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def lab(*words: str) -> Result:
    return CliRunner().invoke(shell, ["lab", "--copy-only", *words])


def files(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


def test_it_copies_every_notebook_and_every_demo_record() -> None:
    assert lab().exit_code == 0
    shipped = ROOT / "notebooks"
    wanted = {path.relative_to(shipped).as_posix() for path in shipped.rglob("*") if path.suffix in (".ipynb", ".yaml")}
    assert files(Path("reconlab-work")) >= {name for name in wanted if ".ipynb_checkpoints" not in name}
    assert not {name for name in files(Path("reconlab-work")) if name.endswith(".cfg")}


def test_what_is_there_is_never_overwritten() -> None:
    lab("mine")
    changed = Path("mine/00_the_whole_job.ipynb")
    changed.write_text("hers", encoding="utf-8")
    Path("mine/demo/parade-white.yaml").unlink()
    said = lab("mine").output
    assert changed.read_text(encoding="utf-8") == "hers"
    assert Path("mine/demo/parade-white.yaml").exists()
    assert "files copied: 1;" in said


def test_jupyter_trusts_what_was_copied_and_nothing_else() -> None:
    Path("mine").mkdir()
    Path("mine/09_your_own_receipt.ipynb").write_bytes(
        (ROOT / "notebooks" / "09_your_own_receipt.ipynb").read_bytes().replace(b"rl.panel", b"rl. panel")
    )
    lab("mine")
    trusted = {
        path.name: NotebookNotary().check_signature(nbformat.read(path, as_version=4))
        for path in Path("mine").glob("*.ipynb")
    }
    assert trusted.pop("09_your_own_receipt.ipynb") is False
    assert len(trusted) > 1
    assert all(trusted.values())


def test_a_record_has_a_notebook_of_its_own_beside_it() -> None:
    Path("cream").mkdir()
    said = lab("--record", "cream/rose cream.yaml").output
    assert files(Path("cream")) == {"rose cream.ipynb"}  # the record's own folder gets nothing else
    assert "open first: rose cream.ipynb" in said
    cells = json.loads(Path("cream/rose cream.ipynb").read_text(encoding="utf-8"))["cells"]
    assert any('rl.desk("rose cream.yaml")' in "".join(cell["source"]) for cell in cells)
    assert "my-receipt" not in Path("cream/rose cream.ipynb").read_text(encoding="utf-8")


def test_a_record_is_named_from_here_or_from_the_folder() -> None:
    for words in ("mine/rose.yaml", "rose.yaml"):
        assert "open first: rose.ipynb" in lab("mine", "--record", words).output
    assert "00_the_whole_job.ipynb" in files(Path("mine"))


@pytest.mark.parametrize(
    ("words", "found"),
    [
        (("--record", "rose.txt"), "no name for a record"),
        (("--record", 'ro"se.yaml'), "quotation mark"),
        (("mine", "--record", "../rose.yaml"), "not in mine"),
        (("in-the-way",), "in the way"),
    ],
)
def test_a_wrong_name_costs_nothing_and_is_said(words: tuple[str, ...], found: str) -> None:
    Path("in-the-way").write_text("a file", encoding="utf-8")
    fault = lab(*words).exception
    assert isinstance(fault, ReconlabError)
    assert found in str(fault)
    assert fault.remedy


@pytest.mark.parametrize(
    ("missing", "flags"), [("jupyterlab", ()), ("notebook", ("--classic",)), ("ipywidgets", ("--classic",))]
)
def test_without_jupyter_the_line_that_installs_it_is_said(
    missing: str, flags: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    there = importlib.util.find_spec
    monkeypatch.setattr(laboratory, "find_spec", lambda name: None if name == missing else there(name))
    fault = CliRunner().invoke(shell, ["lab", *flags]).exception
    assert isinstance(fault, ReconlabError)
    assert re.search(rf"-m pip install .*\b{missing}\b", fault.remedy)
    assert not files(Path())  # nothing was copied for nothing


def test_the_copied_files_are_there_without_jupyter(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(laboratory, "find_spec", lambda _name: None)
    assert lab().exit_code == 0


@pytest.mark.parametrize(("flags", "door"), [((), "/lab/tree/"), (("--classic",), "/notebooks/")])
def test_it_opens_at_the_first_notebook_and_only_for_who_has_the_token(
    flags: tuple[str, ...], door: str, served: Callable[..., AbstractContextManager[Any]]
) -> None:
    with served(Path("jupyter-home").resolve(), "mine", *flags) as jupyter:
        assert f"{door}00_the_whole_job.ipynb" in jupyter.opens
        assert len(jupyter.token) > 20
        contents = f"{jupyter.address}/api/contents"
        with pytest.raises(urllib.error.HTTPError, match="403") as refused:
            urllib.request.urlopen(contents)
        refused.value.close()
        with urllib.request.urlopen(f"{contents}?token={jupyter.token}") as answer:
            listed = {entry["name"] for entry in json.load(answer)["content"]}
    assert {"00_the_whole_job.ipynb", "09_your_own_receipt.ipynb", "demo"} <= listed
