"""Hold the public names to one list, and the import to costing nothing."""

import ast
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

import reconlab

HEAVY = {"ipywidgets", "matplotlib", "numpy", "pandas", "pint", "pydantic", "ruamel"}
HOME = {name: home.removeprefix("reconlab.") for name, home in reconlab._HOME.items()}


def test_import_loads_no_heavy_library() -> None:
    code = "import sys; before = {*sys.modules}; import reconlab; print(*({*sys.modules} - before))"
    fresh = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = {name.split(".")[0] for name in fresh.stdout.split()}
    assert "reconlab" in loaded
    assert not loaded & HEAVY


def editors_view() -> tuple[dict[str, str], list[list[str]]]:
    """Return what editors and the type checker see: the home of each name, and each written list of names."""
    tree = ast.parse(Path(reconlab.__file__).read_text(encoding="utf-8"))
    imports = [node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module]
    homes = {
        alias.name: node.module.removeprefix("reconlab.")
        for node in imports
        if node.module.startswith("reconlab.")
        for alias in node.names
    }
    written = [
        ast.literal_eval(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Assign) and isinstance(node.value, ast.List)
        if ast.unparse(node.targets[0]) == "__all__"
    ]
    return homes, written


def test_public_names_are_the_same_for_editors_and_at_run_time() -> None:
    homes, written = editors_view()
    assert homes == HOME
    assert written, "no written list of the public names"
    assert all(sorted(names) == sorted(HOME) for names in written)
    assert sorted(reconlab.__all__) == sorted(HOME)


def test_dir_lists_the_public_names() -> None:
    assert dir(reconlab) == sorted(reconlab.__all__)


@pytest.mark.parametrize("name", sorted(HOME))
def test_a_public_name_loads_from_its_home(name: str) -> None:
    assert getattr(reconlab, name) is getattr(import_module(f"reconlab.{HOME[name]}"), name)


def test_a_mistyped_name_is_caught() -> None:
    with pytest.raises(AttributeError, match=r"reconlab.*recieve"):
        _ = reconlab.recieve
