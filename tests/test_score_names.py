"""The scorer keeps its lock: of a locked book nothing but one line of totals is ever printed."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

SCORER = Path(__file__).parent / "benchmarks" / "score_names.py"


def receipt(book: str, *names: str) -> str:
    lines = [{"text": name, "items": [{"ingredient": name}]} for name in names]
    return json.dumps({"book": book, "year": 1880, "place": "nowhere on file", "lines": lines})


@pytest.fixture
def corpus(tmp_path: Path) -> Path:
    path = tmp_path / "corpus.jsonl"
    locked = receipt("The Toilet of Flora", "essence of secrets", "rose water")
    path.write_text(f"{receipt('Free', 'French chalk', 'rose waters', 'sea foam')}\n{locked}\n", encoding="utf-8")
    return path


def scored(*asked: str | Path) -> str:
    done = subprocess.run([sys.executable, SCORER, *asked], check=True, capture_output=True, text=True)
    return done.stdout


def figures(printed: str, title: str) -> list[int]:
    line = next(line for line in printed.splitlines() if line.startswith(title))
    return [int(each) for each in line.removeprefix(title).split()[:7]]


def test_names_of_free_books_are_counted_by_class_and_listed_where_not_found(corpus: Path) -> None:
    printed = scored(corpus)
    assert figures(printed, "Free") == [3, 1, 1, 0, 0, 1, 0]  # exact, by rule, by likeness, ambiguous, not found, heard
    assert "sea foam" in printed


@pytest.mark.parametrize("lock", [(), ("--open-lock",)])
def test_of_locked_books_only_totals_are_printed_and_only_when_asked(corpus: Path, lock: tuple[str, ...]) -> None:
    printed = scored(corpus, *lock)
    assert "Flora" not in printed
    assert "secrets" not in printed
    assert ("all locked books" in printed) == bool(lock)
    if lock:
        assert figures(printed, "all locked books") == [2, 1, 0, 0, 0, 1, 0]
