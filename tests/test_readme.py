"""Hold the README to what the program says: each command of the tour runs, and its picture is today's."""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from reconlab.record import formula_of, open_record

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
PICTURE = ROOT / "notebooks" / "demo" / "parade-white.svg"
ON_WHITE = '<svg style="background:#fff" '  # the drawing is black: a dark page would swallow it


def blocks() -> list[str]:
    """Return the indented blocks of the README that show a command and its answer."""
    indented = re.findall(r"(?:^    .*\n|^\n(?=    ))+", README, re.MULTILINE)
    return [block for block in indented if "    $ reconlab " in block]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("tour")
    shell(["demo"], made)
    return made


def shell(words: list[str], folder: Path) -> str:
    command = [sys.executable, "-c", "from reconlab.cli import main; main()", *words]
    environment = os.environ | {"PYTHONIOENCODING": "utf-8"}
    done = subprocess.run(command, cwd=folder, env=environment, capture_output=True, encoding="utf-8", check=True)
    return done.stdout


@pytest.mark.parametrize(
    "block", blocks(), ids=lambda block: shlex.split(block.strip().split("\n")[0])[2] + str(len(block))
)
def test_a_command_of_the_tour_answers_as_printed(block: str, folder: Path) -> None:
    lines = [line.removeprefix("    ") for line in block.strip("\n").split("\n")]
    answered = [line.rstrip() for line in shell(shlex.split(lines[0])[2:], folder).split("\n")]
    shown = [line for line in lines[1:] if line.strip() != "..."]
    assert answered[: len(shown)] == [line.rstrip() for line in shown]


def test_the_tour_shows_a_command_for_each_step() -> None:
    assert len(blocks()) >= 5


def test_the_picture_is_what_the_library_draws_today() -> None:
    formula = formula_of(open_record(ROOT / "notebooks" / "demo" / "parade-white.yaml"))
    drawn = formula.picture()
    assert PICTURE.read_text(encoding="utf-8") == drawn.svg.replace("<svg ", ON_WHITE, 1) + "\n"
    assert drawn.text in README  # its text twin, as the words shown where the picture cannot be
