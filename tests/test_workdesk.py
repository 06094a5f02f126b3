"""What the desk promises: each step is on disk, can be taken back, and is never written over another's."""

from __future__ import annotations

import contextlib
import dataclasses
import errno
import json
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import filelock
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

import reconlab as rl
from reconlab import workdesk
from reconlab.display import Card
from reconlab.errors import AmbiguousError, FileError, InputError, ReconlabError, RecordError
from reconlab.reasons import Decision, Scope
from reconlab.record import CHANGED, formula_of, open_record, past_states, save
from reconlab.workdesk import Desk

TEXT = "Tooth powder.\nPrepared chalk, 2 oz.\nOrris root, 1 oz."

# Invented, with a line for everything the desk asks about.
VIOLET = """Violet Powder.
Starch, 10 oz.
Orris root, powdered, 2 oz.
Talc, 4 oz.
Oxide of zinc, 1 oz.
Flowers of Jupiter, 1/2 oz.
Oil of bergamot, 20 drops.
"""


@pytest.fixture(autouse=True)
def closed_again() -> Iterator[None]:
    yield
    for desk in [*workdesk._OPEN.values()]:
        desk.close()


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


def test_a_version_can_be_dropped_until_it_was_made_or_written_about(work: Desk) -> None:
    work.use(form="tooth powder", law="EU")
    work.replace("orris root", {"kaolin": 1}, name="a").replace("kaolin", {"talc": 1}, name="b", parent="a")
    with pytest.raises(InputError, match="b starts from 'a'"):
        work.drop("a")
    work.bench("b", make="10 g", balance="0.1 g")
    assert work.drop("b").versions == ("literal", "a")
    assert work.record.batches == ()
    assert work.undo().versions == ("literal", "a", "b")
    with pytest.raises(InputError, match="was made, or what you wrote"):
        work.note("gritty", of="batch 1").drop("b")


def test_a_plan_is_planned_again_once_the_receipt_changed(tmp_path: Path) -> None:
    work = rl.desk(tmp_path / "a.yaml").read("Starch, 3 oz.\nTalc, 1 oz.", years="1911", place="England")
    work.use(form="loose face powder").bench(make="50 g", balance="0.01 g")
    work.note("not made yet")
    assert work.record.batches[0].plan.lines
    work.read("Talc, 3 oz.\nStarch, 1 oz.")  # the same grams on the same lines, of other things
    (batch,) = work.record.batches
    assert (dict(batch.plan.lines), batch.refused) == ({}, CHANGED)
    assert "work.bench" in "".join(work.card().last)
    assert CHANGED in work.write(tmp_path / "out")[0].with_suffix(".md").read_text(encoding="utf-8")


def test_nothing_known_of_one_book_is_said_of_another(work: Desk) -> None:
    work.setting(author="Edith Garroway", page="p. 3")
    work.read(TEXT, source="Another book")
    source = work.record.source
    assert (source.book, source.author, source.page, source.years) == ("Another book", "", "", "")


def test_a_title_half_typed_takes_nothing_over_for_good(work: Desk, tmp_path: Path) -> None:
    work.settle("weights", "troy", scope="book", because="preface")
    other = rl.desk(tmp_path / "b.yaml").read("Powder.\nStarch, 3 oz.")
    assert other.setting(source="An invented day-book").record.decisions
    assert not other.setting(source="An invented day-book of the second shop").record.decisions


def test_two_authors_of_one_title_share_no_memory(work: Desk, tmp_path: Path) -> None:
    work.setting(author="A. Smith").settle("weights", "troy", scope="book")
    other = rl.desk(tmp_path / "b.yaml")
    other.read("Powder.\nStarch, 3 oz.", source="An invented day-book", author="B. Jones")
    assert other.record.decisions == ()


def test_a_page_half_typed_is_kept(tmp_path: Path) -> None:
    work = rl.desk(tmp_path / "a.yaml").read("Violet Powder.\nSt")
    assert open_record(work.path).transcription == "Violet Powder.\nSt\n"
    assert "No line with an amount was read yet" in str(work)
    with pytest.raises(InputError, match="no ingredient with an amount"):
        _ = work.literal
    assert work.read("Violet Powder.\nStarch, 3 oz.").literal.lines


def test_a_memory_that_cannot_be_read_stops_no_work(work: Desk, tmp_path: Path) -> None:
    work.settle("weights", "troy", scope="book")
    for file in (tmp_path / "remembered").glob("*.yaml"):
        file.write_text("format: [", encoding="utf-8")
    other = rl.desk(tmp_path / "b.yaml").read("Powder.\nStarch, 3 oz.", source="An invented day-book")
    assert "Nothing is remembered" in str(other)


def test_her_own_words_do_not_hide_a_poison(tmp_path: Path) -> None:
    page = "Corrosive sublimate, 2 gr.\nRose water, 4 oz."
    work = rl.desk(tmp_path / "a.yaml").read(page, years="1890", place="London").use(form="liquid face white")
    work.call("corrosive sublimate", "our white salt")
    assert work.bench(make="50 g", balance="0.01 g").refused
    later = rl.desk(tmp_path / "b.yaml").read(page, years="1890", place="London").use(form="liquid face white")
    assert later.bench(make="50 g", balance="0.01 g").refused


def test_an_answer_for_one_line_can_be_changed(work: Desk) -> None:
    work.settle("weights", "troy", at="chalk").settle("weights @ chalk", "avoirdupois")
    (decision,) = work.record.decisions
    assert (decision.question, decision.option, decision.at) == ("weights", "avoirdupois", "chalk")


def test_one_source_is_one_source(work: Desk) -> None:
    assert work.settle("weights", "troy", sources="his preface").record.decisions[0].sources == ("his preface",)


def test_a_change_to_a_line_that_is_out_already_is_refused(work: Desk) -> None:
    work.replace("orris root", {"kaolin": 0.5}, name="a")
    with pytest.raises(InputError, match="out of 'a' already; kaolin stands in its place"):
        work.replace("orris root", {"kaolin": 0.5}, name="a")
    assert work.replace("kaolin", {"talc": 1}, name="a").record.versions[0].changes[1].out == "kaolin"


def test_a_note_on_a_batch_goes_on_meaning_it_when_another_is_planned_again(work: Desk) -> None:
    work.use(form="tooth powder", law="EU").replace("orris root", {"kaolin": 1}, name="a")
    for version in ("literal", "a"):
        work.bench(version, make="10 g", balance="0.1 g")
    work.note("gritty", of="batch 2").bench("literal", make="20 g", balance="0.1 g")
    assert [(batch.version, batch.plan.make) for batch in work.record.batches] == [("literal", "20 g"), ("a", "10 g")]


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
        (lambda work: work.settle("weights", "troy", figure=3), "two answers"),
        (lambda work: work.settle("name: frensh chalk", "talc"), "no question .name: frensh"),
        (lambda work: work.call("frensh chalk", "talc"), "'name: frensh chalk'"),
        (lambda work: work.replace(1, {"kaolin": "1"}, name="a"), "not a figure above zero"),
        (lambda work: work.replace(1, {"kaolin": 1e300}, name="a"), "1e.300 of kaolin"),
        (lambda work: work.replace(1, "kaolin", name="a"), "does not say how much"),
        (lambda work: work.setting(years="..."), "says nothing"),
        (lambda work: work.read(" "), "there is no text"),
        (lambda work: work.drop("literal"), "'literal' is no version"),
        (lambda work: work.drop("safe"), "'safe' is no version"),
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


# The whole job, call for call as DESIGN has it.


def test_the_whole_job_works_as_it_is_designed(tmp_path: Path) -> None:
    work = rl.desk(tmp_path / "violet-powder.yaml")
    assert "empty desk" in str(work)
    work.read(VIOLET, source="day-book, p. 14", years="1905-1911", place="England", book="dispensing")
    assert "Read 6 of 6 ingredient lines." in str(work)
    work.settle("weights", "avoirdupois", because="preface, p. iv")
    work.call("flowers of Jupiter", "zinc oxide", because="the shop's own label, p. 2")
    assert "printed: Oxide of zinc, 1 oz." in str(work.literal["oxide of zinc"].explain())
    work.use(form="loose face powder", law="EU", on="2026-11-01")
    assert "zinc oxide" in str(work.screen())
    assert "calcium carbonate" in str(work.substitutes("talc"))
    work.replace("talc", {"calcium carbonate": 1}, basis="mass", because="dust", sources=["own"], name="safe")
    assert "described, not made" in str(work.bench("safe", make="50 g", balance="0.01 g", jar="60 mL"))
    assert "literal beside safe" in str(work.compare("literal", "safe"))
    assert all(path.exists() for path in work.write(tmp_path / "out"))
    assert work["safe"].share("calcium carbonate").number == pytest.approx(work.literal.share("talc").number)
    reopened = open_record(work.path)
    assert reopened == work.record
    assert [decision.option for decision in reopened.decisions] == ["avoirdupois", "zinc oxide"]
    assert reopened.batches[0].refused


# The past.


def test_undo_reaches_the_very_beginning_after_reopening(work: Desk) -> None:
    for words in ("pale", "paler"):
        work.note(words)
    work.close()
    again = rl.desk(work.path)
    assert again is not work
    for _ in range(3):
        again.undo()
    assert again.record.transcription == ""
    with pytest.raises(InputError, match="there is no earlier step"):
        again.undo()
    for _ in range(3):
        again.redo()
    assert [seen.what for seen in again.record.observations] == ["pale", "paler"]


def test_a_new_step_ends_what_could_be_redone(work: Desk) -> None:
    work.note("pale").undo().note("dark")
    with pytest.raises(InputError, match="nothing was undone"):
        work.redo()


def test_a_long_past_is_kept_and_does_not_slow_a_step(work: Desk) -> None:
    folder = work.path.with_suffix(".past")
    for number in range(2, 2002):
        (folder / f"{number:04}.yaml").write_bytes(work.path.read_bytes() + f"# {number}\n".encode())
    start = time.perf_counter()
    work.note("pale").undo()
    assert time.perf_counter() - start < 0.5
    assert len(past_states(work.path)) == 2001


def test_a_failed_undo_or_redo_loses_nothing(work: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    work.note("pale")
    noted = work.record
    refused_on_a_full_disk(work.undo, monkeypatch)
    assert work.record == noted == open_record(work.path)
    work.undo()
    refused_on_a_full_disk(work.redo, monkeypatch)
    assert work.redo().record == noted


# The file.


def refused_on_a_full_disk(
    step: Callable[[], object], monkeypatch: pytest.MonkeyPatch, where: object = os, what: str = "fsync"
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched:
        patched.setattr(where, what, full)
        with pytest.raises(FileError, match=r"No space left.*the record is as it was"):
            step()


@pytest.mark.parametrize(("where", "what"), [(os, "fsync"), (Path, "replace")])
def test_a_full_disk_loses_nothing(work: Desk, where: object, what: str, monkeypatch: pytest.MonkeyPatch) -> None:
    before, on_disk = work.record, work.path.read_bytes()
    refused_on_a_full_disk(lambda: work.note("pale"), monkeypatch, where, what)
    assert (work.record, work.path.read_bytes()) == (before, on_disk)
    assert not [*work.path.parent.rglob("*.part")]
    work.note("pale")
    assert work.undo().record == before


def test_what_cannot_be_remembered_is_said_and_the_step_is_saved(work: Desk, tmp_path: Path) -> None:
    (tmp_path / "remembered").write_text("in the way", encoding="utf-8")
    with pytest.raises(FileError, match="the step is saved in the record"):
        work.call("prepared chalk", "zinc oxide")
    assert open_record(work.path).decisions[-1].option == "zinc oxide"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("format: 2\ntitle: Rouge\n", "newer"),
        ("format: 1\ntitel: Rouge\n", "did you mean title"),
        ("format: 1\ntitle: [", "line 2"),
        ("", "the file is empty"),
    ],
)
def test_a_record_that_cannot_be_read_is_left_as_it_is_and_free(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "rouge.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(RecordError, match=f"(?i){says}"):
        rl.desk(path)
    assert path.read_text(encoding="utf-8") == text
    path.write_text("format: 1\ntitle: Rouge\n", encoding="utf-8")
    assert rl.desk(path).may_write


@pytest.mark.parametrize(
    "move", [lambda path: path.rename(path.with_name("b.yaml")), Path.unlink], ids=["moved", "deleted"]
)
def test_a_record_moved_or_deleted_is_brought_back_by_the_advice(work: Desk, move: Callable[[Path], object]) -> None:
    work.note("pale")
    held = work.record
    move(work.path)
    for step in (lambda: work.note("dark"), work.undo, lambda: rl.desk(work.path)):
        with pytest.raises(FileError, match="moved or deleted") as caught:
            step()
    assert not work.path.exists()
    exec(advice(caught.value), {"rl": rl, "work": work})  # noqa: S102 - the advice is held to its word
    assert rl.desk(work.path).record == held


def test_a_record_gone_since_yesterday_is_not_begun_anew(work: Desk) -> None:
    work.note("pale")
    work.close()
    work.path.unlink()
    with pytest.raises(FileError, match="moved or deleted") as caught:
        rl.desk(work.path)
    exec(advice(caught.value), {"rl": rl})  # noqa: S102
    assert rl.desk(work.path).record.transcription.startswith("Tooth powder.")


def advice(fault: ReconlabError) -> str:
    return fault.remedy.partition("save it again: ")[2].partition(". Then")[0]


def test_a_record_changed_in_an_editor_to_a_law_nobody_knows_is_refused_in_words(work: Desk) -> None:
    save(dataclasses.replace(work.record, use=rl.Use(form="tooth powder", law="EU")), work.path)
    text = work.path.read_text(encoding="utf-8")
    assert "law: EU" in text
    work.path.write_text(text.replace("law: EU", "law: XX"), encoding="utf-8")
    with pytest.raises(ReconlabError, match="'XX' is no law that can be asked about"):
        rl.desk(work.path)


def test_where_nothing_can_be_written_one_may_look(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    save(rl.Reconstruction(title="Rouge"), tmp_path / "rouge.yaml")

    def refused(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr(filelock.FileLock, "acquire", refused)
    work = rl.desk(tmp_path / "rouge.yaml")
    assert "here you can only look" in str(work)
    with pytest.raises(FileError, match="nothing can be written beside it"):
        work.read(TEXT)
    with pytest.raises(FileError, match="nothing can be written beside it"):
        rl.desk(tmp_path / "new.yaml")


def test_a_closed_desk_says_so(work: Desk) -> None:
    work.close()
    with pytest.raises(FileError, match=r"this desk was closed. Open it again: work = rl.desk"):
        work.note("pale")


def test_two_desks_of_a_notebook_are_one(work: Desk, tmp_path: Path) -> None:
    (tmp_path / "link.yaml").symlink_to(work.path)
    assert rl.desk(tmp_path / "." / "tooth.yaml") is work
    assert rl.desk(tmp_path / "link.yaml") is work


HOLDS = """
import sys, time
import reconlab as rl
work = rl.desk(sys.argv[1])
work.note("theirs")
print("ready", flush=True)
time.sleep(60)
"""


def test_another_process_is_told_and_its_lock_ends_with_it(tmp_path: Path) -> None:
    path = tmp_path / "tooth.yaml"
    with subprocess.Popen([sys.executable, "-c", HOLDS, str(path)], stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "ready\n"
        work = rl.desk(path)
        assert "another notebook is working on this record; here you can only look" in str(work)
        for step in (lambda: work.read(TEXT), work.undo):
            with pytest.raises(FileError, match="another notebook is working on this record"):
                step()
        other.send_signal(signal.SIGKILL)
    assert rl.desk(path).may_write
    assert work.note("ours").record.observations[0].what == "theirs"


# What is remembered.


def test_figures_and_own_words_are_remembered_too(tmp_path: Path) -> None:
    first = rl.desk(tmp_path / "a.yaml").read(VIOLET, source="day-book", years="1911", place="England")
    first.settle("drop: bergamot oil", figure=0.031, because="weighed", scope="book")
    first.call("Flowers of Jupiter", "zinc oxide", because="label")
    second = rl.desk(tmp_path / "b.yaml").read(VIOLET, source="day-book, p. 15", years="1911", place="England")
    taken = {decision.question: decision for decision in second.record.decisions}
    assert taken["drop: bergamot oil"].figure == 0.031
    assert taken["name: flowers of jupiter"].option == "zinc oxide"
    assert not [asked for asked in second.asked() if asked.key in taken and not asked.settled]
    assert open_record(second.path) == second.record
    elsewhere = rl.desk(tmp_path / "c.yaml").read(VIOLET, source="another book", years="1911", place="England")
    assert [decision.question for decision in elsewhere.record.decisions] == ["name: flowers of jupiter"]


def test_undo_of_a_changed_answer_remembers_the_one_before(work: Desk, tmp_path: Path) -> None:
    work.settle("weights", "avoirdupois", scope="book").settle("weights", "troy", scope="book").undo()
    other = rl.desk(tmp_path / "other.yaml").read("Powder.\nStarch, 3 oz.", source="An invented day-book")
    assert [decision.option for decision in other.record.decisions] == ["avoirdupois"]
    work.redo()
    third = rl.desk(tmp_path / "third.yaml").read("Powder.\nStarch, 3 oz.", source="An invented day-book")
    assert [decision.option for decision in third.record.decisions] == ["troy"]


def test_undoing_a_reading_forgets_nothing(work: Desk, tmp_path: Path) -> None:
    work.settle("weights", "avoirdupois", scope="book")
    rl.desk(tmp_path / "b.yaml").read("Powder.\nStarch, 3 oz.", source="An invented day-book").undo()
    third = rl.desk(tmp_path / "c.yaml").read("Powder.\nStarch, 3 oz.", source="An invented day-book")
    assert third.record.decisions


@pytest.mark.parametrize("book", ["own words", "***", "A treatise " * 20, "日記"])
def test_no_two_books_share_what_is_remembered(tmp_path: Path, book: str) -> None:
    work = rl.desk(tmp_path / "a.yaml").read(TEXT, source=book, years="1890", place="London")
    work.settle("weights", "avoirdupois", scope="book")
    for number, other in enumerate(("", "own word", "????", "A treatise " * 19 + "other")):
        desk = rl.desk(tmp_path / f"{number}.yaml").read(TEXT, source=other)
        assert desk.record.decisions == ()
    assert rl.desk(tmp_path / "same.yaml").read(TEXT, source=book).record.decisions


def test_a_book_without_a_name_and_a_single_line_are_not_remembered(tmp_path: Path) -> None:
    work = rl.desk(tmp_path / "a.yaml").read(TEXT)
    with pytest.raises(InputError, match=r"First: work\.setting"):
        work.settle("weights", "avoirdupois", scope="book")
    work.setting(source="day-book")
    with pytest.raises(InputError, match="one line is not the whole book"):
        work.settle("weights", "avoirdupois", scope="book", at="Orris root")
    assert not (tmp_path / "remembered").exists()


OVERLAID = """
import sys
from pathlib import Path
import reconlab as rl
from reconlab.tables import overlay_checksum, use_overlay
home = Path(sys.argv[1])
use_overlay(home / "mine")
before = overlay_checksum()
for name in ("a", "b"):
    work = rl.desk(home / name / "x.yaml").read("Starch, 3 oz.", source="day-book", years="1890", place="London")
    print(len(work.record.decisions), overlay_checksum() == before)
    work.settle("weights", "avoirdupois", scope="book")
"""


def test_what_is_remembered_lives_among_the_tables_of_ones_own_and_is_none_of_them(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    for said in ("0 True\n1 True\n", "1 True\n1 True\n"):  # a second time the tables are read beside it
        command = [sys.executable, "-c", OVERLAID, str(tmp_path)]
        assert subprocess.run(command, capture_output=True, text=True, check=True).stdout == said
    assert (tmp_path / "mine" / "remembered" / "day-book.yaml").exists()


# What is shown.


def test_grams_for_every_ounce_stand_before_year_place_or_law(tmp_path: Path) -> None:
    card = rl.desk(tmp_path / "a.yaml").read(VIOLET).card()
    every = next(table for table in card.tables if table.title.startswith("Grams, whosever"))
    assert every.headings[1:3] == ("troy", "avoirdupois")
    talc = next(row for row in every.rows if row[0] == "Talc")
    assert [float(cell) for cell in talc[1:3]] == pytest.approx([124.41, 113.40], abs=0.05)


def test_at_most_three_are_put_first_each_with_what_it_does(tmp_path: Path) -> None:
    work = rl.desk(tmp_path / "a.yaml").read(VIOLET)
    settle = next(table for table in work.card().tables if table.title == "Settle these first")
    assert len(settle.rows) == 3 < len(work.asked())
    assert all(row[1].startswith("if ") and "%" in row[1] for row in settle.rows)


def test_a_line_not_read_is_counted(tmp_path: Path) -> None:
    card = str(rl.desk(tmp_path / "a.yaml").read(f"{VIOLET}%%% ??? 7"))
    assert "Read 6 of 7 ingredient lines." in card
    assert "'%%% ??? 7'" in card


FILLED = {
    "work.read": (VIOLET, "day-book", "1911", "England"),
    "work.call": ("zinc oxide", "its label"),
    "work.use": ("loose face powder", "EU"),  # in which zinc oxide stops the bench
    "work.settle": ("the preface",),
    "work.substitutes": ("kaolin", "law"),
    "work.bench": (),
    "work.write": (),
}


def test_each_next_call_runs_as_copied_until_the_files_are_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    work = rl.desk("violet.yaml")
    names: dict[str, Any] = {"work": work, "rl": rl}
    taken = []
    for _ in range(20):
        call = str(work.card().last[0]).removeprefix("Next: ")
        method = call.partition("(")[0]
        taken.append(method)
        if "work.substitutes" in call:  # the remark after it is a call too
            exec(call, names)  # noqa: S102
            call = call.partition("# then ")[2]
        else:
            with pytest.raises(ReconlabError) if "..." in call else contextlib.nullcontext():
                exec(call, names)  # noqa: S102 - what is not filled in is no step
        for said in FILLED[method]:
            call = call.replace("...", said, 1)
        exec(call, names)  # noqa: S102
        if "work.write" in call:
            break
    wanted = "read call use substitutes settle bench write"
    assert [*dict.fromkeys(taken)] == [f"work.{step}" for step in wanted.split()]
    assert [*(tmp_path / "out").iterdir()]


def test_what_is_known_of_the_setting_is_not_asked_again(tmp_path: Path) -> None:
    work = rl.desk(tmp_path / "a.yaml").read(TEXT, years="1905")
    assert 'Next: work.setting(place="...", book="...")' in str(work)


def test_a_name_with_quotation_marks_can_be_copied(tmp_path: Path) -> None:
    work = rl.desk(tmp_path / "a.yaml").read('Flowers of "Jupiter", 1 oz.\nStarch, 1 oz.', years="1905", place="London")
    call = str(work.card().last[0]).removeprefix("Next: ")
    exec(call.replace("...", "zinc oxide"), {"work": work})  # noqa: S102
    assert not work.unidentified


def test_reopening_says_what_the_tables_answer_otherwise_now(work: Desk) -> None:
    work.close()
    old = Decision(question="weights", option="troy", because="a guess", answered="troy")
    save(dataclasses.replace(work.record, decisions=(old,)), work.path)
    assert "weights: the tables now suggest avoirdupois; when you settled troy they suggested troy" in str(
        rl.desk(work.path)
    )


def test_a_decision_keeps_what_the_tables_said_then(tmp_path: Path) -> None:
    work = rl.desk(tmp_path / "a.yaml").read(VIOLET, years="1911", place="England", book="dispensing")
    work.settle("weights", "troy").call("starch", "rice starch").call("Flowers of Jupiter", "zinc oxide")
    assert [decision.answered for decision in work.record.decisions] == [
        "avoirdupois",
        "wheat_starch",
        "not identified: flowers of jupiter",
    ]


def test_a_desk_goes_into_a_frame_and_to_the_clipboard(work: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    frame = work.to_frame()
    assert [*frame.columns][:2] == ["substance", "grams"]
    copied: list[pd.DataFrame] = []
    monkeypatch.setattr(pd.DataFrame, "to_clipboard", lambda self, **_: copied.append(self))
    work.questions.to_clipboard()
    work.to_clipboard()
    assert copied[1].equals(frame)
    assert Card("nothing").to_frame().empty


def test_without_a_clipboard_a_file_is_advised(work: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: object, **__: object) -> None:
        raise pd.errors.PyperclipException

    monkeypatch.setattr(pd.DataFrame, "to_clipboard", none)
    with pytest.raises(InputError, match=r"no clipboard here. Write a file: .to_frame\(\).to_csv"):
        work.to_clipboard()


def test_a_spreadsheet_goes_in_and_its_numbers_come_out(tmp_path: Path) -> None:
    table = tmp_path / "receipt.csv"
    table.write_text('text\n"Starch, 3 oz."\n\n"Orris root, 1 oz."\n', encoding="utf-8")
    work = rl.desk(tmp_path / "a.yaml").read_table(table, years="1911", place="England")
    work.to_frame().to_csv(tmp_path / "out.csv", index=False)
    assert "orris root" in (tmp_path / "out.csv").read_text(encoding="utf-8")
    table.write_text("who;what\na;b\n", encoding="utf-8")
    with pytest.raises(InputError, match="text, or name and amount"):
        work.read_table(table)
    with pytest.raises(FileError, match="Check the name"):
        work.read_table(tmp_path / "none.csv")


# Steps out of their order.


@pytest.mark.parametrize(
    "call",
    [
        'work.settle("weights", "troy")',
        'work.call("talc", "kaolin")',
        'work.replace("talc", {"kaolin": 1}, name="safe")',
        'work.bench(make="50 g", balance="0.01 g")',
        "work.screen()",
        "work.compare()",
        'work.write("out")',
        "work.literal",
        "work.receipt",
        "work.questions",
        "work.asked()",
        "work.unidentified",
    ],
)
def test_a_step_before_the_receipt_says_what_to_do_first(tmp_path: Path, call: str) -> None:
    work = rl.desk(tmp_path / "a.yaml")
    with pytest.raises(InputError, match=r"First: work\.read\("):
        eval(call)  # noqa: S307
    assert not past_states(work.path)


def test_one_version_alone_is_not_compared(work: Desk) -> None:
    with pytest.raises(InputError, match=r"First: work\.replace\("):
        work.compare()


def test_the_use_comes_before_the_bench(work: Desk) -> None:
    before = work.path.read_bytes()
    with pytest.raises(InputError, match=r"First: work.use\("):
        work.bench(make="50 g", balance="0.01 g")
    assert work.path.read_bytes() == before


def test_two_matches_for_a_line_are_listed_and_nothing_is_saved(tmp_path: Path) -> None:
    work = rl.desk(tmp_path / "a.yaml").read("Talc, 2 oz.\nFrench chalk, 1 oz.")
    before = work.path.read_bytes()
    with pytest.raises(AmbiguousError, match=r"2 'Talc, 2 oz.'|1 'Talc, 2 oz.'; 2 'French chalk, 1 oz.'"):
        work.replace("talc", {"kaolin": 1}, name="safe")
    assert work.path.read_bytes() == before


def test_a_version_keeps_its_parent(work: Desk) -> None:
    work.replace("orris root", {"kaolin": 1}, name="a").replace("1", {"kaolin": 1}, name="b")
    with pytest.raises(InputError, match="'b' starts from 'literal' already"):
        work.replace("2", {"talc": 1}, name="b", parent="a")


def test_a_fault_of_a_step_names_no_line_of_a_file_never_written(work: Desk) -> None:
    with pytest.raises(InputError, match=r"^observations > 1 > of: 'nope' is no version") as caught:
        work.note("pale", of="nope")
    assert json.dumps(str(work.path)) not in str(caught.value)


# Any steps in any order.


class Working(RuleBasedStateMachine):
    """A person at the desk, who steps, goes back, comes back another day."""

    @initialize()
    def begin(self) -> None:
        self.home = tempfile.TemporaryDirectory()
        self.path = Path(self.home.name) / "a.yaml"
        self.work = rl.desk(self.path)
        self.past = [self.work.record]  # every state to the one now
        self.ahead: list[rl.Reconstruction] = []

    def step(self, call: Callable[[], object]) -> None:
        before = self.path.read_bytes()
        try:
            call()
        except ReconlabError:  # such as a line that is not there: nothing is saved, what could be redone stays
            assert self.path.read_bytes() == before
        else:
            if self.work.record != self.past[-1]:
                self.past.append(self.work.record)
            self.ahead.clear()

    @rule(lines=st.lists(st.sampled_from(VIOLET.splitlines()[1:]), min_size=1, max_size=3, unique=True))
    def read(self, lines: list[str]) -> None:
        self.step(lambda: self.work.read("\n".join(lines), source="day-book", years="1911", place="England"))

    @rule(words=st.sampled_from(["pale", "dark", " "]))
    def note(self, words: str) -> None:
        self.step(lambda: self.work.note(words))

    @rule(option=st.sampled_from(["troy", "avoirdupois", "no such"]), scope=st.sampled_from(["receipt", "book"]))
    def settle(self, option: str, scope: Scope) -> None:
        self.step(lambda: self.work.settle("weights", option, scope=scope))

    @rule(name=st.sampled_from(["starch", "flowers of jupiter", ""]), was=st.sampled_from(["rice starch", "kaolin"]))
    def call(self, name: str, was: str) -> None:
        self.step(lambda: self.work.call(name, was))

    @rule(out=st.sampled_from(["talc", "starch"]), name=st.sampled_from(["a", "b"]))
    def replace(self, out: str, name: str) -> None:
        self.step(lambda: self.work.replace(out, {"kaolin": 1}, name=name))

    @rule(name=st.sampled_from(["a", "b", "literal"]))
    def drop(self, name: str) -> None:
        self.step(lambda: self.work.drop(name))

    @rule()
    def undo(self) -> None:
        if len(self.past) == 1:
            with pytest.raises(InputError, match="no earlier step"):
                self.work.undo()
            return
        self.ahead.append(self.past.pop())
        self.work.undo()

    @rule()
    def redo(self) -> None:
        if not self.ahead:
            with pytest.raises(InputError, match="nothing was undone"):
                self.work.redo()
            return
        self.past.append(self.ahead.pop())
        self.work.redo()

    @rule()
    def come_back(self) -> None:
        self.work.close()
        self.work = rl.desk(self.path)
        self.ahead.clear()

    @invariant()
    def the_file_is_the_desk_and_no_step_is_lost(self) -> None:
        assert self.work.record == self.past[-1] == open_record(self.path)
        assert [open_record(state) for state in past_states(self.path)] == self.past[:-1]

    def teardown(self) -> None:
        self.work.close()
        self.home.cleanup()


TestWorking = Working.TestCase
TestWorking.settings = settings(max_examples=40, stateful_step_count=20, deadline=None)
