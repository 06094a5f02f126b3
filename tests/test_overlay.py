"""A person's own tables stand over the shipped ones, row by row, and every result says so.

The overlay is chosen once, before the first read, so each check runs in a process of its own.
"""

import json
import subprocess
import sys
from pathlib import Path

import pytest

NAMES = "name,language,meaning,kind,regions,from_year,to_year,standing,because,decides,sources,note\n"
SUBSTANCES = "id,name,inci,cas,formula,state,class,functions,availability,never_handled,sources,note\n"
SIREN = "siren white,en,talc,substance,,,,likely,our own jars bear both names,,own_ledger[p. 3],\n"
TALC = "talc,talc of our own mine,TALC,14807-96-6,,powder,filler,slip,common,,own_ledger[p. 9],\n"
SOURCES = json.dumps([{"id": "own_ledger", "type": "document", "title": "Stock ledger of the shop, 1891"}])
START = "from pathlib import Path; import reconlab as rl; from reconlab import tables; "


@pytest.fixture
def overlay(tmp_path: Path) -> Path:
    """Return a folder with one name and one substance of a person's own."""
    (tmp_path / "names.csv").write_text(NAMES + SIREN, encoding="utf-8")
    (tmp_path / "substances.csv").write_text(SUBSTANCES + TALC, encoding="utf-8")
    (tmp_path / "sources.json").write_text(SOURCES, encoding="utf-8")
    return tmp_path


def run(program: str, folder: Path | None = None) -> str:
    """Run a program, over the tables of a folder, and return what it printed."""
    chosen = f"tables.use_overlay(Path({str(folder)!r})); " if folder else ""
    done = subprocess.run(
        [sys.executable, "-c", START + chosen + program], capture_output=True, encoding="utf-8", check=False
    )
    return done.stdout + done.stderr


def fault(folder: Path, program: str = "rl.identify('talc')") -> str:
    """Return the last line that a program over a broken folder prints: the error in plain words."""
    return run(program, folder).strip().splitlines()[-1]


def test_without_an_overlay_the_name_is_not_identified() -> None:
    assert run("print(rl.identify('siren white'), repr(tables.overlay_checksum()))").strip() == "None ''"


def test_a_name_of_a_persons_own_is_found_beside_the_shipped_ones(overlay: Path) -> None:
    said = run("print(rl.identify('siren white').options[0].key, rl.identify('pearl white').options[0].key)", overlay)
    assert said.split() == ["talc", "bismuth_subnitrate"]


def test_a_row_with_the_same_id_is_replaced_and_the_others_stay(overlay: Path) -> None:
    said = run(
        "rows = tables.rows(tables.Substance); "
        "print([r.name for r in rows if r.id == 'talc'], len(rows), tables.by_id(tables.Substance)['zinc_oxide'].own)",
        overlay,
    )
    plain = run("print(len(tables.rows(tables.Substance)))").strip()
    assert said.strip() == f"['talc of our own mine'] {plain} False"


def test_the_reason_says_which_row_is_the_persons_own_and_where_it_stands(overlay: Path) -> None:
    said = run(
        "f = rl.translate(rl.read('Siren white, 1 oz.', years='1891', place='England', book='trade')); "
        "print(f.mass('talc of our own mine').explain())",
        overlay,
    )
    assert "your own table, names.csv:2" in said
    assert "own_ledger, p. 3" in said


def test_a_source_of_the_persons_own_is_written_out(overlay: Path) -> None:
    said = run(
        "from reconlab.sources import formatted; from reconlab.reasons import Citation; "
        "print(formatted(Citation('own_ledger', 'p. 3')))",
        overlay,
    )
    assert said.strip() == "Stock ledger of the shop, 1891, p. 3"


def test_the_checksum_changes_with_the_tables_and_with_nothing_else(overlay: Path) -> None:
    ask = "print(tables.overlay_checksum())"
    before = run(ask, overlay)
    (overlay / "notes.txt").write_text("not a table", encoding="utf-8")
    assert run(ask, overlay) == before
    (overlay / "names.csv").write_text(NAMES + SIREN.replace("likely", "possible"), encoding="utf-8")
    assert run(ask, overlay) != before
    assert len(before.strip()) == 16


def test_a_cell_that_cannot_be_read_names_file_line_column_and_remedy(overlay: Path) -> None:
    (overlay / "names.csv").write_text(NAMES + SIREN + SIREN.replace(",,,,likely", ",,soon,,likely"), encoding="utf-8")
    said = fault(overlay)
    assert said.startswith("reconlab.errors.TableError: names.csv:3 from_year: 'soon' cannot be read")
    assert said.endswith("Mend the cell.")


def test_a_source_without_an_entry_names_the_row_and_the_remedy(overlay: Path) -> None:
    (overlay / "names.csv").write_text(NAMES + SIREN.replace("own_ledger", "lost_book"), encoding="utf-8")
    said = fault(overlay)
    assert said.startswith("reconlab.errors.TableError: names.csv:2 sources: no source 'lost_book'. ")
    assert said.endswith("Add it to sources.json, or mend the key.")


def test_a_missing_column_is_named(overlay: Path) -> None:
    (overlay / "names.csv").write_text("name,meaning\nsiren white,talc\n", encoding="utf-8")
    said = fault(overlay)
    assert "names.csv: no column because, decides" in said
    assert said.endswith("Give the table the columns of datapackage.json.")


@pytest.mark.parametrize(
    ("broken", "told"),
    [
        (SIREN.replace(",likely,", ",certain,"), "names.csv:2 standing: 'certain'"),
        ("siren white,en,talc\n", "names.csv:2"),
        (SIREN.replace("\n", ",one cell too many\n"), "names.csv:2"),
        (SIREN.replace("talc,substance", "no_such_thing,substance"), "names.csv:2 meaning: 'no_such_thing'"),
    ],
    ids=["standing", "short row", "long row", "meaning"],
)
def test_a_broken_row_of_a_persons_own_is_one_clear_error(overlay: Path, broken: str, told: str) -> None:
    (overlay / "names.csv").write_text(NAMES + broken, encoding="utf-8")
    said = fault(overlay, "rl.identify('siren white')")
    assert said.startswith("reconlab.errors.TableError: ")
    assert told in said


def test_broken_sources_are_one_clear_error(overlay: Path) -> None:
    (overlay / "sources.json").write_text("{", encoding="utf-8")
    said = fault(overlay)
    assert said.startswith("reconlab.errors.TableError: ")
    assert "sources.json: not a list of CSL-JSON entries" in said


def test_bytes_that_are_no_text_are_one_clear_error(overlay: Path) -> None:
    (overlay / "names.csv").write_bytes(NAMES.encode() + b"siren \xff white\n")
    said = fault(overlay)
    assert said.startswith("reconlab.errors.TableError: ")
    assert "names.csv" in said


def test_a_table_saved_by_a_spreadsheet_with_a_byte_order_mark_is_read(overlay: Path) -> None:
    (overlay / "names.csv").write_text("\N{ZERO WIDTH NO-BREAK SPACE}" + NAMES + SIREN, encoding="utf-8")
    assert run("print(rl.identify('siren white').options[0].key)", overlay).strip() == "talc"


def test_an_overlay_chosen_after_a_read_is_refused(overlay: Path) -> None:
    said = run(f"rl.identify('talc'); tables.use_overlay(Path({str(overlay)!r}))").strip().splitlines()[-1]
    assert said.startswith("reconlab.errors.InputError: ")
    assert said.endswith("tables were already read. Choose the overlay before anything else is asked.")


def test_a_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    said = fault(tmp_path / "nowhere")
    assert said.startswith("reconlab.errors.FileError: ")
    assert said.endswith("Make it, or name the folder of your own tables.")
