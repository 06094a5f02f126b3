"""What is given to be read: a page in any code, a file of a program, a story, a file's name, one receipt of several."""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

import reconlab as rl
from reconlab.cli import shell
from reconlab.errors import InputError, NoIngredientError, ReconlabError

FRENCH = "Crème froide.\nCire blanche, 2 onces ½.\nHuile d'amandes, 1 livre.\nEau de rose, 3 onces.\n"
TWO = "COLD CREAM.\n\nWax, 1 oz.\nOil, 4 oz.\n\nLIP SALVE.\n\nWax, 2 oz.\nLard, 3 oz.\n"
STORIES = (
    """It is a truth universally acknowledged, that a single man in possession of a good fortune, must be in want of a
wife. However little known the feelings of such a man may be on his first entering a neighbourhood.
"My dear Mr. Bennet," said his lady to him one day.""",
    """They drank two glasses of wine and a cup of tea, and he ate half a pound of cherries.
"Bring me a pint of ale," said he, "and a quart of water for the horse." """,
    "Once upon a time there were three bears.\nThey had a pot of porridge each.",
    "The apothecary sold her two ounces of laudanum and a drachm of opium, and she went home weeping.",
    """Soap is made by boiling fat with lye. The trade in France used 2,000 tons of tallow in 1850, and about 300 tons
of soda. A pound of good soap costs ten cents, and will last a family a month.""",
)


def said(*words: str) -> tuple[dict[str, object], str]:
    """Return the result a verb prints as JSON, and what it says beside it."""
    ran = CliRunner().invoke(shell, [*words, "--json"], catch_exceptions=False)
    return json.loads(ran.stdout)["result"], ran.stderr


def refused(*words: str) -> str:
    """Return what a verb says where it refuses."""
    ran = CliRunner().invoke(shell, words)
    assert isinstance(ran.exception, ReconlabError)
    return str(ran.exception)


@pytest.mark.parametrize(
    ("code", "called"), [("cp1252", "cp1252"), ("latin-1", "cp1252"), ("utf-16", "UTF-16"), ("utf-16-le", "UTF-16")]
)
def test_a_page_in_another_code_is_read_and_said_to_be(tmp_path: Path, code: str, called: str) -> None:
    page = tmp_path / "page.txt"
    page.write_bytes(FRENCH.encode(code))
    result, note = said("read", str(page))
    assert called in note
    (receipt,) = result["receipts"]
    assert receipt["title"] == "Crème froide"
    assert receipt["lines"][0]["text"] == "Cire blanche, 2 onces ½."


def test_utf_8_is_read_without_a_word_about_it(tmp_path: Path) -> None:
    page = tmp_path / "page.txt"
    page.write_bytes(FRENCH.encode("utf-8-sig"))
    assert said("read", str(page))[1] == ""


@pytest.mark.parametrize(("name", "begins"), [("page.docx", b"PK\x03\x04\xff"), ("page.pdf", b"%PDF-1.4\n\xff")])
def test_the_file_of_a_program_is_refused_with_what_to_do(tmp_path: Path, name: str, begins: bytes) -> None:
    page = tmp_path / name
    page.write_bytes(begins)
    assert "plain text" in refused("read", str(page))


@pytest.mark.parametrize("story", STORIES)
def test_a_story_is_no_receipt(story: str) -> None:
    assert rl.read_all(story).receipts == ()
    with pytest.raises(NoIngredientError, match="no receipt was found"):
        rl.read(story)


def test_a_receipt_in_prose_is_one() -> None:
    text = "Boil two ounces of rosemary in a quart of water for ten minutes, strain it, and use it cold every morning."
    assert [item.name for item in rl.read(text).items] == ["rosemary", "water"]


@pytest.mark.parametrize("given", ["page.txt", "C:\\Old receipts\\cold cream.docx", "~/page 12.png", Path("a.txt")])
def test_the_name_of_a_file_is_not_read_as_a_page(given: str) -> None:
    for reads in (rl.read, rl.read_all):
        with pytest.raises(InputError, match="reconlab read NAME"):
            reads(given)


def test_a_title_says_which_receipt_of_a_page_is_meant(tmp_path: Path) -> None:
    page = tmp_path / "page.txt"
    page.write_text(TWO, encoding="utf-8")
    assert "--title" in refused("reconstruct", str(page))
    assert said("reconstruct", str(page), "--title", "Lip salve")[0]["title"] == "LIP SALVE"
    (receipt,) = said("read", str(page), "--title", "cream")[0]["receipts"]
    assert receipt["title"] == "COLD CREAM"
    assert "COLD CREAM; LIP SALVE" in refused("read", str(page), "--title", "pomade")


def test_a_title_that_fits_two_receipts_names_neither(tmp_path: Path) -> None:
    page = tmp_path / "page.txt"
    page.write_text(TWO.replace("LIP SALVE", "CAMPHOR CREAM"), encoding="utf-8")
    assert "more than one receipt" in refused("read", str(page), "--title", "cream")


def test_a_record_takes_no_title(tmp_path: Path) -> None:
    record = tmp_path / "a.yaml"
    record.write_text("format: 1\n", encoding="utf-8")
    assert "--title" in refused("reconstruct", str(record), "--title", "a")


def test_the_shell_runs_as_a_module() -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "reconlab", "--version"], capture_output=True, text=True, check=True, timeout=60
    )
    assert ran.stdout.startswith("reconlab, version")


def test_years_may_be_a_number_and_year_is_years() -> None:
    page = "Starch, 10 oz.\nOrris, 2 oz."
    assert rl.read(page, years=1890).setting.years == rl.read(page, year="1890").setting.years == "1890"
    assert rl.read_all(page, text_year=1790, year=1890).receipts[0].setting.text_years == "1790"


def test_a_mistyped_word_is_answered_with_the_nearest() -> None:
    with pytest.raises(InputError, match=r"'yaer' is nothing it takes\. Nearest: year"):
        rl.read("Starch, 10 oz.", yaer="1890")
    with pytest.raises(InputError, match="'year' is nothing it takes"):
        rl.read("Starch, 10 oz.", years="1890", year="1891")  # which of the two is not ours to say


def test_a_desk_takes_and_refuses_the_same(tmp_path: Path) -> None:
    work = rl.desk(tmp_path / "a.yaml")
    assert work.read("Starch, 10 oz.\nOrris, 2 oz.", year=1890).record.source.years == "1890"
    with pytest.raises(InputError, match="Nearest: place"):
        work.read("Starch, 10 oz.", plcae="London")
    with pytest.raises(InputError, match="name of a file"):
        work.read("page.txt")
