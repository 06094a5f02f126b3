"""Hold a record to its promises: read as written, every fault named, never half on disk."""

import dataclasses
import json
import os
import pickle
import re
import subprocess
import sys
import textwrap
from collections.abc import Callable
from pathlib import Path

import jsonschema
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from reconlab.errors import FileError, InputError, ReconlabError, RecordError, UnknownNameError
from reconlab.formula import Replacement
from reconlab.reasons import Decision, Question, Spread
from reconlab.receipts import Use
from reconlab.record import (
    Batch,
    Inquiry,
    Observation,
    Plan,
    Reconstruction,
    Source,
    TablesUsed,
    Version,
    dump,
    files,
    formula_of,
    json_schema,
    open_record,
    orphans,
    parse,
    past_states,
    preferred_answer,
    receipt_of,
    save,
    stale,
    stamped,
    step_back,
)
from reconlab.record.checking import plain
from reconlab.record.yaml_text import read_tree, write_over, write_tree

PAGE = "Starch, 10 oz.\nOrris root, powdered, 2 oz.\nTalc, 4 oz.\nRose water, 1 pint\n"
SAFE = Version(
    name="safe",
    changes=(Replacement(out="talc", into={"calcium carbonate": 1}, kind="safety", because="dust", sources=("own",)),),
)
FULL = Reconstruction(
    title="Violet Powder",
    invented=True,
    question=Inquiry(asked="How did it feel?", success="it dusts", departures=("no talc",), touches="the maker's hand"),
    source=Source(
        book="A Book of Powders",
        author="A. N. Other",
        years="1911",
        place="England",
        kind="dispensing",
        page="14",
        seen="2026-08",
        rule="",
        note="Spine: lettered # 3",
    ),
    transcriber="me",
    transcription=PAGE,
    decisions=(
        Decision(question="weights", option="avoirdupois", because="preface, p. iv", answered="avoirdupois"),
        Decision(question="drop: bergamot oil", figure=0.031, when="2026-08-02", scope="book", at="bergamot"),
    ),
    use=Use(form="loose face powder", law="EU", on="2026-11-01"),
    versions=(SAFE, Version(name="safer", parent="safe")),
    batches=(
        Batch(
            version="safe",
            made_on="2026-08-03",
            weighed={"1": 28.35, "2": 5.7},
            plan=Plan(
                lines={"1": "28.35 g"}, container="60 mL jar", balance="0.01 g", cautions=("A mask.",), text="Mix.\n"
            ),
        ),
        Batch(refused="lead"),
    ),
    observations=(Observation(of="batch 1", what="pale", on="2026-08-04", after="1 day"),),
    tables=TablesUsed(overlay="0011223344556677", library="0.1.0"),
)


def fault_of(text: str) -> str:
    with pytest.raises(RecordError) as caught:
        parse(text, "violet.yaml")
    return str(caught.value)


def with_lines(*lines: str) -> str:
    return "\n".join(("format: 1", *lines))


# Round trips.


def test_a_full_record_is_read_as_written() -> None:
    assert parse(dump(FULL)) == FULL


def test_an_empty_record_is_read_as_written() -> None:
    assert parse(dump(Reconstruction())) == Reconstruction()


TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=60)
LINES = st.lists(st.sampled_from(["Starch, 10 oz.", "", " in", "a: b", "# c", "- d", "NO", "x "]), max_size=6)
ANY_TEXT = (
    TEXT | LINES.map("\n".join) | st.sampled_from(["NO", "null", "1911", "1e3", ".inf", "2026-11-01", "~", "0x1"])
)
FIGURE = st.floats(min_value=1e-12, max_value=1e12)
DECISIONS = st.builds(
    Decision,
    question=ANY_TEXT,
    option=ANY_TEXT.filter(bool),
    figure=st.none() | st.floats(allow_nan=False, allow_infinity=False),
    because=ANY_TEXT,
    sources=st.lists(ANY_TEXT, max_size=2).map(tuple),
)
CHANGES = st.builds(Replacement, out=ANY_TEXT, into=st.dictionaries(ANY_TEXT, FIGURE, max_size=3), because=ANY_TEXT)
RECORDS = st.builds(
    Reconstruction,
    title=ANY_TEXT,
    invented=st.booleans(),
    question=st.builds(Inquiry, asked=ANY_TEXT, departures=st.lists(ANY_TEXT, max_size=2).map(tuple)),
    source=st.builds(Source, book=ANY_TEXT, note=ANY_TEXT),
    transcription=ANY_TEXT,
    decisions=st.lists(DECISIONS, max_size=2).map(tuple),
    versions=st.lists(CHANGES, max_size=2).map(lambda changes: (Version(name="safe", changes=tuple(changes)),)),
    batches=st.builds(
        Batch,
        plan=st.builds(Plan, lines=st.dictionaries(ANY_TEXT, ANY_TEXT, max_size=3), text=ANY_TEXT),
        weighed=st.dictionaries(ANY_TEXT, FIGURE, max_size=3),
    ).map(lambda batch: (batch,)),
)


@given(RECORDS)
@settings(max_examples=150, deadline=None)
def test_any_record_is_read_as_written(reconstruction: Reconstruction) -> None:
    text = dump(reconstruction)
    assert parse(text) == reconstruction
    jsonschema.validate(read_tree(text, "").data, json_schema())


@given(ANY_TEXT)
@example("\r\n")
@example("a\tb\nc")
@example("\N{NEXT LINE}")
@example("\N{ZERO WIDTH NO-BREAK SPACE}a")
@example("x" * 3000 + "  y " * 200)
@settings(max_examples=300, deadline=None)
def test_any_text_is_read_as_written(text: str) -> None:
    data = {"a": text, text or "b": [text], "c": {"d": text}}
    assert read_tree(write_tree(data), "").data == data


@given(RECORDS, RECORDS)
@settings(max_examples=60, deadline=None)
def test_writing_over_an_older_text_gives_the_new_record(older: Reconstruction, newer: Reconstruction) -> None:
    with_comment = "# mine\n" + dump(older)
    assert parse(files._with_comments(newer, with_comment.encode()) or dump(newer)) == newer


def test_a_page_stands_as_printed() -> None:
    assert "transcription: |\n  Starch, 10 oz.\n  Orris root, powdered, 2 oz.\n" in dump(FULL)


def test_words_other_programs_misread_are_quoted() -> None:
    text = dump(Reconstruction(title="NO", source=Source(place="GB", page="14", seen="2026-08-01")))
    assert "title: 'NO'" in text
    assert "page: '14'" in text
    assert parse(text).title == "NO"


def test_norway_and_days_are_text_without_quotes() -> None:
    made = parse(with_lines("title: NO", "source:", "  place: GB", "  seen: 2026-08-01"))
    assert (made.title, made.source.seen) == ("NO", "2026-08-01")


def test_a_key_that_says_nothing_is_as_if_left_out() -> None:
    assert parse(with_lines("title: Rouge", "source:", "  author:", "use:")) == Reconstruction(title="Rouge")


def test_numpy_figures_and_lists_can_be_kept() -> None:
    import numpy as np  # noqa: PLC0415

    made = dataclasses.replace(FULL, batches=(Batch(made_on="2026", weighed={"1": np.float64(2.5)}),), observations=())
    assert parse(dump(made)).batches[0].weighed == {"1": 2.5}


def test_what_is_neither_text_nor_number_is_refused() -> None:
    with pytest.raises(RecordError, match="is neither text nor number"):
        dump(Reconstruction(title=Path("a")))  # type: ignore[arg-type]


# Faults, each in plain words with its line.


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        (
            ["titel: Rouge"],
            "line 2, titel: 'titel' is no key of a record here. Did you mean title? The keys are: format,",
        ),
        (
            ["source:", "  years: 1911"],
            'line 3, source > years: 1911 is a number where text is wanted. Put it in quotes: "1911".',
        ),
        (
            ["source:", "  page: 1.10"],
            'line 3, source > page: 1.10 is a number where text is wanted. Put it in quotes: "1.10".',
        ),
        (["title: true"], 'line 2, title: true is a yes or no where text is wanted. Put it in quotes: "true".'),
        (["title: [a]"], "line 2, title: a list stands where text is wanted. Write it as one text."),
        (
            ["title: {a: b}"],
            "line 2, title: a set of keys stands where text is wanted. Write it as one text; text that",
        ),
        (
            ["invented: yes"],
            "line 2, invented: 'yes' is text where true or false is wanted. Write true or false, without",
        ),
        (
            ["decisions: weights"],
            "line 2, decisions: 'weights' is text where a list is wanted. Begin each entry on a line",
        ),
        (
            ["decisions:", "  - weights"],
            "line 3, decisions > 1: 'weights' is text where a set of keys is wanted. Write each as",
        ),
        (
            ["decisions:", "  - option: troy"],
            'line 3, decisions > 1 > question: the key is missing. Add "question: ...".',
        ),
        (
            ["decisions:", "  - question: weights"],
            'line 3, decisions > 1: the decision gives no answer. Add "option: ..."',
        ),
        (
            ["decisions:", "  - question: weights", "    option: troy", "    scope: all"],
            "line 5, decisions > 1 > scope: 'all' is not on the list. Write 'line', 'receipt' or 'book'.",
        ),
        (
            ["decisions:", "  - question: drop", "    figure: ten"],
            "line 4, decisions > 1 > figure: 'ten' is text where a number is wanted. Write the figure alone, such",
        ),
        (
            ["decisions:", "  - {question: drop, figure: .nan}"],
            "line 3, decisions > 1 > figure: this is no finite number.",
        ),
        (
            ["decisions:", "  - {question: a, option: b, sources: [1]}"],
            "decisions > 1 > sources > 1: 1 is a number where text",
        ),
        (
            ["decisions:", "  - {question: a, option: b, sources: [~]}"],
            "sources > 1: nothing stands where text is wanted.",
        ),
        (
            ["decisions:", "  - {question: a, option: b, when: May}"],
            "line 3, decisions > 1 > when: 'May' is not a day.",
        ),
        (["source:", "  seen: 2026-02-30"], "line 3, source > seen: '2026-02-30' is not a day. Write it as 2026-11-01"),
        (["source:", "  years: soon"], "line 3, source > years: 'soon' is not a year. Write it as 1890, 1880-1890"),
        (
            ["source:", "  place: Atlantis"],
            "line 3, source > place: place 'Atlantis' is not in the gazetteer. Name the",
        ),
        (
            ["source:", "  kind: novel"],
            "line 3, source > kind: 'novel' is no kind of book on file. Use one of: pharmacopoeia",
        ),
        (["use:", "  form: spaceship"], "line 3, use > form: form 'spaceship' is not on file. Use one of: "),
        (["use:", "  form: rouge", "  on: soon"], "line 4, use > on: 'soon' is not a day. Write it as 2026-11-01."),
        (
            ["versions:", "  - name: literal"],
            "versions > 1 > name: a version 'literal' is there already. Give each a name",
        ),
        (["versions:", "  - name: batch 1"], "versions > 1 > name: 'batch 1' cannot name a version. Give it a name"),
        (
            ["versions:", "  - name: safe", "    parent: mild"],
            "parent: no version 'mild'. The versions are: literal, safe.",
        ),
        (
            ["versions:", "  - {name: a, parent: b}", "  - {name: b, parent: a}"],
            "- line 4, versions > 2 > parent: 'b' starts from itself. Let one of the circle start from literal.",
        ),
        (["versions:", "  - {name: a, parent: a}"], "versions > 1 > parent: 'a' starts from itself."),
        (
            ["versions:", "  - {name: a, changes: [{out: talc, into: {}, kind: whim}]}"],
            "kind: 'whim' is not on the list. Write one of: safety, law, availability, cost, ethics, legibility, sc",
        ),
        (
            ["versions:", "  - {name: a, changes: [{out: talc, into: {}, basis: taste}]}"],
            "basis: 'taste' is not on the list. Write one of: mass, volume.",
        ),
        (
            ["versions:", "  - {name: a, changes: [{out: talc, into: {starch: 0}}]}"],
            "versions > 1 > changes > 1 > into > starch: 0 is not above zero. Write how much takes the place of one.",
        ),
        (
            ["versions:", "  - {name: a, changes: [{out: talc, into: {starch: }}]}"],
            "starch: nothing stands where a number is",
        ),
        (
            ["versions:", "  - {name: a, changes: [{out: talc, into: 3}]}"],
            "into: 3 is a number where a set of keys is wanted.",
        ),
        (
            ["batches:", "  - version: safe"],
            "line 3, batches > 1 > version: no version 'safe'. The versions are: literal.",
        ),
        (
            ["batches:", "  - {refused: lead, made_on: 2026-01-01}"],
            "refused: a refused batch has a day or weights. Keep the",
        ),
        (
            ["batches:", "  - {weighed: {1: -2}}"],
            "batches > 1 > weighed > 1: -2 g is less than nothing. Write what was",
        ),
        (
            ["batches:", "  - {plan: {lines: {1: 2.5}}}"],
            'plan > lines > 1: 2.5 is a number where text is wanted. Put it in quotes: "2.5".',
        ),
        (
            ["observations:", "  - {of: batch 1, what: pale}"],
            "of: 'batch 1' is no version or batch. Write one of: literal.",
        ),
    ],
)
def test_a_fault_is_named_with_its_line_and_what_to_do(lines: list[str], message: str) -> None:
    assert message in fault_of(with_lines(*lines))


def test_all_faults_are_reported_at_once_in_the_order_of_the_file() -> None:
    text = fault_of(with_lines("title: 3", "source:", "  years: soon", "  colour: red", "title: 4", "decisions: &a x"))
    assert text.startswith("violet.yaml: 6 things to mend\n- line 2, title:")
    assert [int(number) for number in re.findall(r"- line (\d+)", text)] == [2, 2, 4, 5, 7, 7]
    assert text.endswith("Nothing was changed.")


def test_no_fault_speaks_the_checking_librarys_own_words() -> None:
    text = fault_of(
        with_lines("title: 3", "decisions: [3]", "invented: 1", "versions: [{name: a, changes: {}}]", "x: 1")
    )
    for word in ("Input should", "valid", "type=", "pydantic", "dataclass", "tuple", "instance", "unexpected"):
        assert word not in text


def test_an_error_survives_pickling() -> None:
    with pytest.raises(RecordError) as caught:
        parse("format: 2", "violet.yaml")
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)  # noqa: S301 - our own bytes


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "format: 2",
            "violet.yaml, line 1: format 2 is newer than this library reads, which is 1. Install a newer reconlab",
        ),
        ("title: x\nformat: 0", "violet.yaml, line 2: 0 is no format of a record. The format is 1"),
        ("format: '1'", "violet.yaml, line 1: '1' is no format of a record."),
        ("format: true", "True is no format of a record."),
        ("title: x", 'the record does not say its format. Begin it with a line "format: 1".'),
        ("- a", 'violet.yaml: this is no record. A record is keys and values and begins with "format: 1".'),
        ("Starch, 10 oz.", "violet.yaml: this is no record."),
        ("", "violet.yaml: the file is empty. Bring back a past state, or begin a new record."),
        ("# only a comment", "violet.yaml: the file is empty."),
    ],
)
def test_another_format_is_told_apart(text: str, message: str) -> None:
    assert message in fault_of(text)


# YAML that is broken or hostile.


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "format: 1\ntitle: soap: white",
            "violet.yaml, line 2: a colon where none can stand",
        ),
        ("format: 1\nsource:\n\tpage: x", "violet.yaml, line 3: a tab at the start of a line. Set lines in by blanks."),
        ("format: 1\ntitle: @x", "violet.yaml, line 2: a text begins with a sign that means something to YAML."),
        ("format: 1\ntitle: 'x\nb: 1\n", "violet.yaml, line 2: a quote is opened and not closed."),
        ('format: 1\ntitle: "\\q"', "violet.yaml, line 2: a backslash in double quotes."),
        ("source:\n  page: x\n seen: y", "violet.yaml, line 3: this line is not set in like its neighbours."),
        ("format: 1\ndecisions: [1\ntitle: x", "violet.yaml, line 2: a bracket is opened and not closed."),
        ("format: 1\ntitle\nsource: x", "violet.yaml, line 3: a line without a colon."),
        ("format: 1\ntitle: \x00", "violet.yaml, line 2: U+0000 cannot stand in a record. Take it out."),
        ("format: 1\n? [a]\n: b", "violet.yaml, line 2: a key that is not a word. Put the key into quotes."),
        ("format: 1\n--- \nformat: 1", "violet.yaml, line 2: a second document begins. Keep each record in a file"),
        ("%FOO\n---\n%", "violet.yaml"),
        ("format: 1\ntitle: a\ntitle: b", "line 2, title: the key stands here and in line 2. Keep one of the two."),
        ('format: 1\ntitle: "\\ud800"', "line 2, title: half a sign (a lone surrogate). Type the sign again."),
        ("format: 1\ntitle: !!python/object/apply:os.system [ls]", "line 2, title: a tag, tag:yaml.org,2002:python"),
        ("format: 1\ntitle: !!str 3", "line 2, title: a tag, tag:yaml.org,2002:str. Take it out; only text,"),
        ("format: 1\ntitle: &a x", "line 2, title: &a points to another place. Write the value out in both places."),
        ("format: 1\nsource: {<<: *a}", "line 2, source > <<: *a points to another place."),
        (
            "format: 1\ntitle: " + "[" * 5000,
            "line 2: more than 12 lists and keys inside each other. No record needs so many.",
        ),
        ("a:\n" + "".join("  " * n + "- \n" for n in range(1, 40)), "more than 12 lists and keys inside each other."),
        (
            "a: [" + "1," * 60_000 + "]",
            "violet.yaml, line 1: more than 50,000 values. Check that the file is a record.",
        ),
        ("a: " + "x" * 2_000_001, "violet.yaml: 2,000,004 characters are more than a record holds."),
        ("format: " + "9" * 6000, "no format of a record"),
    ],
    ids=lambda text: text[:30],
)
def test_broken_or_hostile_yaml_is_refused_in_plain_words(text: str, message: str) -> None:
    assert message in fault_of(text)


def test_aliases_do_not_multiply() -> None:
    bomb = "format: 1\na: &a [x, x]\n" + "\n".join(
        f"{b}: &{b} [*{a}, *{a}]" for a, b in zip("abcdefghij", "bcdefghijk", strict=True)
    )
    assert "points to another place" in fault_of(bomb)


@given(st.text(max_size=80) | st.text("{}[]&*!|>'\"%@`#-?:, \n\tab1", max_size=40))
@settings(max_examples=400, deadline=None)
def test_any_text_is_read_or_refused_with_our_own_error(text: str) -> None:
    for whole in (text, f"format: 1\ntitle: {text}"):
        try:
            parse(whole)
        except RecordError as fault:
            assert fault.remedy  # noqa: PT017 - either outcome is right


# The schema.


def test_the_kept_schema_is_the_format_of_the_code(project: Path) -> None:
    kept = (project / "reconlab" / "record.schema.json").read_text(encoding="utf-8")
    assert kept == json.dumps(json_schema(), indent=2, ensure_ascii=False) + "\n", "write json_schema() there again"


def test_a_written_record_keeps_the_schema_and_a_wrong_one_does_not() -> None:
    checker = jsonschema.Draft202012Validator(json_schema())
    checker.check_schema(json_schema())
    data = plain(FULL)
    assert not list(checker.iter_errors(json.loads(json.dumps(data))))
    assert list(checker.iter_errors(data | {"colour": "red"}))
    assert list(checker.iter_errors({key: value for key, value in data.items() if key != "format"}))


def test_loading_the_module_loads_no_yaml_and_no_checking_library() -> None:
    code = "import sys, reconlab.record; print(*[n for n in ('pydantic', 'ruamel', 'ruamel.yaml') if n in sys.modules])"
    fresh = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert fresh.stdout.strip() == ""


# Files.


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "violet-powder.yaml"


def test_a_saved_record_opens_as_it_was(path: Path) -> None:
    save(FULL, path)
    assert open_record(path) == FULL
    assert open_record(str(path)) == FULL
    assert [item.name for item in path.parent.iterdir()] == [path.name]


def test_each_state_that_is_replaced_is_kept_and_the_last_is_the_backup(path: Path) -> None:
    for title in ("one", "two", "two", "three"):
        save(Reconstruction(title=title), path)
    assert [state.name for state in past_states(path)] == ["0001.yaml", "0002.yaml"]
    assert [open_record(state).title for state in past_states(path)] == ["one", "two"]


def test_past_states_are_in_order_beyond_their_four_digits(path: Path) -> None:
    (path.parent / "violet-powder.past").mkdir()
    for name in ("9999.yaml", "10000.yaml", "undone.yaml", "0001.yaml"):
        (path.parent / "violet-powder.past" / name).touch()
    assert [state.name for state in past_states(path)] == ["0001.yaml", "9999.yaml", "10000.yaml"]


def test_a_step_back_brings_the_last_state_and_keeps_the_undone_one(path: Path) -> None:
    for title in ("one", "two", "three"):
        save(Reconstruction(title=title), path)
    assert step_back(path).title == open_record(path).title == "two"
    assert open_record(path.parent / "violet-powder.past" / "undone.yaml").title == "three"
    assert step_back(path).title == "one"
    with pytest.raises(FileError, match="it has no past state"):
        step_back(path)
    assert open_record(path).title == "one"


def test_a_step_back_passes_over_a_state_copied_but_not_yet_replaced(path: Path) -> None:
    for title in ("one", "two"):
        save(Reconstruction(title=title), path)
    files._remember(path, path.read_bytes())  # the program is stopped here
    assert step_back(path).title == "one"


def test_a_step_back_repairs_a_missing_or_broken_record(path: Path) -> None:
    for title in ("one", "two"):
        save(Reconstruction(title=title), path)
    path.unlink()
    with pytest.raises(FileError, match=r"there is no such file. Its last past state is .*0001\.yaml"):
        open_record(path)
    assert step_back(path).title == "one"


def test_what_a_person_broke_by_hand_is_kept_before_it_is_replaced(path: Path) -> None:
    save(FULL, path)
    path.write_text("title: [broken", encoding="utf-8")
    save(FULL, path)
    assert open_record(path) == FULL
    assert past_states(path)[-1].read_text(encoding="utf-8") == "title: [broken"


def test_comments_in_a_broken_file_do_not_stop_a_save(path: Path) -> None:
    for old in (b"# mine\ntitle: [broken", b"# mine\ntitle: &a x", b"# caf\xe9"):
        path.write_bytes(old)
        save(FULL, path)
        assert open_record(path) == FULL
        assert past_states(path)[-1].read_bytes() == old


def test_a_step_back_that_fails_changes_nothing(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for title in ("one", "two"):
        save(Reconstruction(title=title), path)

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", fail)
        with pytest.raises(FileError, match="No space left on device"):
            step_back(path)
    assert open_record(path).title == "two"
    assert step_back(path).title == "one"


def test_comments_and_order_of_keys_stay(path: Path) -> None:
    mine = textwrap.dedent("""\
        # my record
        title: Rouge  # as on the spine
        format: 1
        invented: false
        source:
          # the copy in the museum
          seen: 2026-08-01  # a Saturday
          author:
        transcription: |
          Starch, 1 oz.

        # what I settled
        decisions:
          - question: weights
            option: troy  # see preface
        """)
    path.write_text(mine, encoding="utf-8")
    made = open_record(path)
    more = Decision(question="measures", option="wine")
    save(dataclasses.replace(made, title="Red", invented=True, decisions=(*made.decisions, more)), path)
    text = re.sub(r" +#", " #", path.read_text(encoding="utf-8"))  # a comment keeps its column, not its distance
    for kept in (
        "# my record\ntitle: Red # as on the spine\n",
        " # the copy in the museum\n",
        "# a Saturday\n",
        "# what I settled\n",
        "option: troy # see preface\n",
        "  author:\n",
        "question: measures\n",
    ):
        assert kept in text


def test_a_figure_is_not_rewritten_where_it_did_not_change() -> None:
    text = "format: 1\nweighed:\n  1: 28.350  # dusty\n  2: 5\n"
    old = {"format": 1, "weighed": {"1": 28.35, "2": 5}}
    new = write_over(text, old, {"format": 1, "weighed": {"1": 28.35, "2": 6}, "title": "x"})
    assert new == "format: 1\nweighed:\n  1: 28.350  # dusty\n  2: 6\ntitle: x\n"


def test_a_comment_stays_with_its_own_entry_when_another_goes(path: Path) -> None:
    first, second, third = (Decision(question=f"q{n}", option="a") for n in (1, 2, 3))
    entries = "".join(f"  - question: q{n}  # on {n}\n    option: a\n" for n in (1, 2, 3))
    path.write_text(f"format: 1\ninvented: false  # said\ndecisions:\n{entries}", encoding="utf-8")
    assert open_record(path).decisions == (first, second, third)
    save(Reconstruction(decisions=(first, third)), path)
    text = path.read_text(encoding="utf-8")
    assert ["q1  # on 1" in text, "# on 2" in text, "q3  # on 3" in text, "# said" in text] == [True, False, True, True]


def test_what_could_not_be_opened_again_is_never_written(path: Path) -> None:
    save(FULL, path)
    wrong = Reconstruction(versions=(Version(name="safe", parent="mild"),))
    with pytest.raises(RecordError, match="no version 'mild'"):
        save(wrong, path)
    assert open_record(path) == FULL


@pytest.mark.parametrize(
    ("make", "kind", "message"),
    [
        (lambda path: None, FileError, "there is no such file. Check the name and the folder."),  # noqa: ARG005
        (lambda path: path.mkdir(), FileError, "this is a folder. Name the record's file, such as violet-powder.yaml."),
        (lambda path: path.write_bytes(b""), RecordError, "the file is empty. Delete it, and begin a new record."),
        (lambda path: path.write_bytes(b" \n"), RecordError, "the file is empty."),
        (
            lambda path: path.write_bytes(b"format: 1\ntitle: Caf\xe9"),
            RecordError,
            "violet-powder.yaml, line 2: byte 0xe9 is no UTF-8. Save the file as UTF-8 in your editor.",
        ),
        (lambda path: path.write_text("format: 3"), RecordError, "violet-powder.yaml, line 1: format 3 is newer"),
    ],
)
def test_a_file_that_cannot_be_opened_says_why(
    path: Path, make: Callable[[Path], object], kind: type[ReconlabError], message: str
) -> None:
    make(path)
    with pytest.raises(kind, match=re.escape(message)):
        open_record(path)


def test_a_file_with_a_byte_order_mark_or_windows_line_ends_opens(path: Path) -> None:
    path.write_bytes(b"\xef\xbb\xbf" + dump(FULL).replace("\n", "\r\n").encode())
    assert open_record(path) == FULL


def test_saving_into_a_folder_that_is_not_there_says_so(path: Path) -> None:
    with pytest.raises(FileError, match=r"there is no folder .*nowhere\. Make the folder first."):
        save(FULL, path.parent / "nowhere" / "violet.yaml")


def test_saving_over_a_folder_says_so(path: Path) -> None:
    path.mkdir()
    with pytest.raises(FileError, match="this is a folder"):
        save(FULL, path)


@pytest.mark.parametrize("fails", ["os.fsync", "pathlib.Path.replace"])
@pytest.mark.parametrize(
    ("fault", "message"),
    [
        (PermissionError(13, "no"), "it may not be read or written. Close it in other programs and check that you may"),
        (
            OSError(28, "No space left on device"),
            r"it cannot be read or written \(No space left on device\). Mend that",
        ),
    ],
)
def test_a_save_that_fails_leaves_the_old_record_and_nothing_else(
    path: Path, monkeypatch: pytest.MonkeyPatch, fails: str, fault: OSError, message: str
) -> None:
    save(Reconstruction(title="old"), path)

    def fail(*_: object) -> None:
        raise fault

    with monkeypatch.context() as patched:
        patched.setattr(fails, fail)
        with pytest.raises(FileError, match=message):
            save(Reconstruction(title="new"), path)
    assert open_record(path).title == "old"
    assert not list(path.parent.rglob("*.part"))


def test_a_record_without_permission_says_so(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path.touch()

    def fail(*_: object) -> None:
        raise PermissionError(13, "no")

    monkeypatch.setattr(Path, "read_bytes", fail)  # a test may run as one who may read everything
    with pytest.raises(FileError, match="it may not be read or written"):
        open_record(path)


def test_a_link_stays_a_link_and_rights_stay(path: Path) -> None:
    if os.name == "nt":
        pytest.skip("links need rights there")
    real = path.with_name("real.yaml")
    save(Reconstruction(title="old"), real)
    real.chmod(0o640)
    path.symlink_to(real)
    save(Reconstruction(title="new"), path)
    assert path.is_symlink()
    assert open_record(real).title == "new"
    assert real.stat().st_mode & 0o777 == 0o640


def test_what_a_stopped_program_left_is_cleared_when_old(path: Path) -> None:
    left, young = path.with_name(f".{path.name}.00.part"), path.with_name(f".{path.name}.01.part")
    left.touch()
    young.touch()
    os.utime(left, (0, 0))
    save(FULL, path)
    assert (left.exists(), young.exists()) == (False, True)


KILLED = """
import json, os, pathlib, random, signal, sys, time
from reconlab.record import Reconstruction, dump, files, save
path, kills = pathlib.Path(sys.argv[1]), int(sys.argv[2])
chance = random.Random(1)
states = [Reconstruction(title=f"state {n}", transcription="Starch, 10 oz.\\n" * 200 * n) for n in (1, 2)]
texts = [dump(state).encode() for state in states]
save(states[0], path)
broken, seen, part_way = [], set(), 0
for kill in range(kills):
    child = os.fork()
    if not child:
        order = list(zip(states, texts))[:: -1 if kill % 2 else 1]  # a slow machine saves but once
        while True:
            for state, text in order:
                if kill % 4:
                    files._remember(path, path.read_bytes())
                    files._put_in_place(path, text)  # where the danger is
                else:
                    save(state, path)
    time.sleep(chance.uniform(0.001, 0.02))
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    part_way += len(list(path.parent.glob(".*.part")))
    kept = {file: file.read_bytes() if file.exists() else b"" for file in (path, *files.past_states(path))}
    broken += [(kill, file.name) for file, content in kept.items() if content not in texts]
    seen.add(kept[path])
    for file in (*files.past_states(path), *path.parent.rglob(".*.part")):
        file.unlink()
print(json.dumps([broken, len(seen), part_way]))
"""


def test_a_program_killed_while_saving_leaves_the_old_or_the_new_record_whole(path: Path) -> None:
    if not hasattr(os, "fork"):
        pytest.skip("processes are not copied there")
    ran = subprocess.run(
        [sys.executable, "-c", KILLED, str(path), "200"], capture_output=True, text=True, check=True, timeout=60
    )
    broken, seen, part_way = json.loads(ran.stdout)
    assert broken == []
    assert seen == 2, "the kills never met both states"
    assert part_way > 0, "no kill ever met a file half written"


# What follows from a record.


def test_the_receipt_is_read_in_the_setting_of_the_source() -> None:
    receipt = receipt_of(FULL)
    assert (receipt.title, receipt.setting) == ("Violet Powder", FULL.source.setting)
    assert len(receipt.items) == 4


def test_a_printed_title_is_not_taken_for_an_ingredient() -> None:
    page = dataclasses.replace(FULL, title="Demonstration", transcription="VIOLET POWDER.\n" + PAGE)
    assert receipt_of(page).title == "VIOLET POWDER"
    assert len(receipt_of(page).items) == 4


def test_a_record_without_a_transcription_says_what_to_do() -> None:
    with pytest.raises(InputError, match="Paste the receipt"):
        receipt_of(Reconstruction())


PLAIN = dataclasses.replace(FULL, decisions=FULL.decisions[:1])


def test_the_literal_version_is_the_receipt_as_decided() -> None:
    formula = formula_of(PLAIN)
    assert (formula.name, formula.changes) == ("literal", ())
    assert formula.mass("talc").number == pytest.approx(4 * 28.349523125)


def test_changes_are_replayed_along_the_parents() -> None:
    rice = Replacement(out="starch", into={"kaolin": 2}, basis="mass", kind="cost")
    made = dataclasses.replace(
        PLAIN, versions=(Version(name="cheap", parent="safe", changes=(rice,)), SAFE), observations=()
    )
    formula = formula_of(made, "cheap")
    assert (formula.name, formula.parent, formula.changes) == ("cheap", "safe", (*SAFE.changes, rice))
    assert "talc" not in formula.substances
    assert formula.mass("kaolin").number == pytest.approx(20 * 28.349523125)
    assert formula_of(made, "safe").parent == "literal"


def test_a_version_without_changes_has_its_own_name() -> None:
    formula = formula_of(PLAIN, "safer")
    assert (formula.name, formula.parent) == ("safer", "safe")


def test_an_unknown_version_lists_the_versions() -> None:
    with pytest.raises(UnknownNameError, match=r"no version 'wild'\. The versions are: literal, safe, safer."):
        formula_of(PLAIN, "wild")


def test_versions_in_a_circle_are_refused() -> None:
    made = Reconstruction(transcription=PAGE, versions=(Version(name="a", parent="b"), Version(name="b", parent="a")))
    with pytest.raises(RecordError, match=r"'a' starts from itself \(a -> b\). Let one start from literal."):
        formula_of(made, "a")


def test_a_change_whose_line_is_gone_names_version_and_change() -> None:
    page = dataclasses.replace(PLAIN, transcription="Starch, 10 oz.\nOrris root, 1 oz.")
    with pytest.raises(UnknownNameError, match=r"version 'safe', change 1: no line 'talc'\. The lines are: 1 Starch"):
        formula_of(page, "safer")


def test_a_decision_outlives_the_line_that_raised_it() -> None:
    about_water = Decision(question="measures", option="imperial", because="title page")
    one_line = Decision(question="weights", option="troy", at="talc")
    made = dataclasses.replace(PLAIN, decisions=(*PLAIN.decisions, about_water, one_line))
    assert orphans(made) == ()
    page = dataclasses.replace(made, transcription="Starch, 10 oz.\nOrris root, powdered, 2 oz.\n")
    assert orphans(page) == (about_water, one_line)
    assert parse(dump(page)).decisions == made.decisions


def test_a_corrected_spelling_elsewhere_orphans_nothing() -> None:
    page = dataclasses.replace(PLAIN, transcription="A remark in front\n" + PAGE.replace("powdered", "in powder"))
    assert orphans(page) == ()


def asked(record: Reconstruction) -> tuple[Question | Spread, ...]:
    return formula_of(record).ways.every_question


def test_a_decision_taken_on_other_tables_is_stale() -> None:
    now = preferred_answer(asked(PLAIN), "measures")
    assert now == "imperial"
    same = Decision(question="measures", option="wine", answered=now)
    other = Decision(question="measures", option="wine", answered="metric")
    silent = Decision(question="measures", option="wine")
    gone = Decision(question="name: pearl white", option="talc", answered="bismuth")
    assert stale(asked(dataclasses.replace(PLAIN, decisions=(same, silent, gone)))) == ()
    (found,) = stale(asked(dataclasses.replace(PLAIN, decisions=(other,))))
    assert found.decision == other
    assert (
        str(found) == "measures: the tables now suggest imperial; when you settled wine measure they suggested metric"
    )


def test_what_the_tables_prefer_for_a_figure_is_a_figure_with_its_unit() -> None:
    page = dataclasses.replace(PLAIN, transcription=PAGE + "Oil of bergamot, 10 drops\n")
    (drop,) = (one for one in formula_of(page).ways.spreads if one.id.startswith("drop: "))
    assert preferred_answer(asked(page), drop.id) == f"{drop.usual:.6g} g"
    settled = dataclasses.replace(page, decisions=(Decision(question=drop.id, figure=0.05),))
    assert preferred_answer(asked(settled), drop.id) == f"{drop.usual:.6g} g"


def test_a_record_can_be_stamped_with_its_tables() -> None:
    made = stamped(Reconstruction(title="x"))
    assert made.title == "x"
    assert made.tables.library
