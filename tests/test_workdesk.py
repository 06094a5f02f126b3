"""What the desk promises: each step is on disk, can be taken back, and is never written over another's."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import reconlab as rl
from reconlab.errors import FileError, InputError
from reconlab.record import formula_of, open_record
from reconlab.workdesk import Desk

TEXT = "Tooth powder.\nPrepared chalk, 2 oz.\nOrris root, 1 oz."


@pytest.fixture
def work(tmp_path: Path) -> Desk:
    desk = rl.desk(tmp_path / "tooth.yaml")
    desk.read(TEXT, source="An invented day-book, p. 14", years="1890", place="London", book="household")
    return desk


def test_each_step_is_on_disk_and_reads_back_the_same(work: Desk) -> None:
    work.settle("weights", "avoirdupois", because="the shop's scale")
    work.use(form="tooth powder", law="EU", on="2026-01-01")
    assert open_record(work.path) == work.record
    assert str(formula_of(open_record(work.path))) == str(work.literal)


def test_a_page_at_the_end_of_the_source_is_kept_apart(work: Desk) -> None:
    assert (work.record.source.book, work.record.source.page) == ("An invented day-book", "p. 14")


def test_undo_and_redo_take_a_step_back_and_again(work: Desk) -> None:
    before = work.record
    after = work.settle("weights", "avoirdupois", because="the shop's scale").record
    assert work.undo().record == before == open_record(work.path)
    assert work.redo().record == after == open_record(work.path)


@settings(max_examples=20, deadline=None)
@given(st.lists(st.text(st.characters(categories=("L", "N")), min_size=1), min_size=1, max_size=4))
def test_as_many_undos_as_steps_lead_back_to_the_beginning(
    tmp_path_factory: pytest.TempPathFactory, seen: list[str]
) -> None:
    work = rl.desk(tmp_path_factory.mktemp("undo") / "a.yaml").read(TEXT)
    states = [work.record]
    states += [work.note(words).record for words in seen]
    for state in reversed(states[:-1]):
        assert work.undo().record == state


def test_what_is_settled_for_a_book_is_answered_in_its_next_receipt(work: Desk, tmp_path: Path) -> None:
    work.settle("weights", "avoirdupois", because="the shop's scale", scope="book")
    other = rl.desk(tmp_path / "other.yaml").read(
        "Violet powder.\nStarch, 3 oz.", source="An invented day-book, p. 15", years="1890", place="London"
    )
    assert [(d.question, d.option) for d in other.record.decisions] == [("weights", "avoirdupois")]
    assert "Remembered from An invented day-book" in str(other)
    strange = rl.desk(tmp_path / "strange.yaml").read("Violet powder.\nStarch, 3 oz.", source="Another book")
    assert strange.record.decisions == ()


def test_undoing_what_was_settled_for_a_book_forgets_it(work: Desk, tmp_path: Path) -> None:
    work.settle("weights", "avoirdupois", because="the shop's scale", scope="book").undo()
    other = rl.desk(tmp_path / "other.yaml").read("Powder.\nStarch, 3 oz.", source="An invented day-book")
    assert other.record.decisions == ()


def test_a_second_desk_may_look_and_not_write(work: Desk) -> None:
    second = Desk(work.path)
    second.look_again()
    assert second.record == work.record
    with pytest.raises(FileError, match="another notebook is working on this record"):
        second.note("pale")
    assert open_record(work.path) == work.record
    work.close()
    second.look_again()
    assert second.note("pale").record.observations[0].what == "pale"


def test_what_another_program_wrote_is_not_written_over(work: Desk) -> None:
    changed = work.path.read_text(encoding="utf-8").replace("Orris root, 1 oz.", "Orris root, 2 oz.")
    work.path.write_text(changed, encoding="utf-8")
    with pytest.raises(FileError, match="changed by another program"):
        work.note("pale")
    assert work.path.read_text(encoding="utf-8") == changed
    work.look_again()
    assert "2 oz." in work.record.transcription


def test_a_read_only_record_is_refused_and_kept(work: Desk) -> None:
    before = work.path.read_bytes()
    work.path.chmod(0o444)
    with pytest.raises(FileError, match="may not be read or written"):
        work.note("pale")
    assert work.path.read_bytes() == before


def test_a_receipt_comes_out_of_a_spreadsheet(tmp_path: Path) -> None:
    table = tmp_path / "receipt.csv"
    table.write_text("Name;Amount\nPrepared chalk;2 oz.\nOrris root;1 oz.\n", encoding="utf-8-sig")
    work = rl.desk(tmp_path / "a.yaml").read_table(table)
    assert work.record.transcription == "Prepared chalk, 2 oz.\nOrris root, 1 oz.\n"
    table.write_bytes("name;amount\nEau de c\xf4logne;1 oz.\n".encode("cp1252"))
    with pytest.raises(FileError, match="not in UTF-8"):
        work.read_table(table)


@pytest.mark.parametrize(
    ("step", "says"),
    [
        (lambda work: work.settle("nothing such", "a"), "no question"),
        (lambda work: work.use(form="tooth powder", law="Atlantis"), "not one asked about"),
        (lambda work: work.note(" "), "nothing was written down"),
        (lambda work: work.call("", ""), "nothing is said"),
        (lambda work: work.replace("chalk", {"talc": 1}, name="", because="x"), "no name"),
        (lambda work: work.read_table("a.xlsx"), "no CSV"),
        (lambda work: work.redo(), "nothing was undone"),
    ],
)
def test_a_step_that_cannot_be_is_refused_and_nothing_changes(work: Desk, step: object, says: str) -> None:
    before = work.path.read_bytes()
    with pytest.raises((InputError, LookupError), match=says):
        step(work)  # type: ignore[operator]
    assert work.path.read_bytes() == before


def test_the_next_step_on_the_card_is_one_that_can_be_taken(work: Desk) -> None:
    assert "work.use(" in str(work)
    work.use(form="tooth powder", law="EU", on="2026-01-01")
    assert "work.settle(" in str(work) or "work.bench(" in str(work)
