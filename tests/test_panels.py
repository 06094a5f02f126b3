"""The panels only call the desk: what they show, keep and say is the library's."""

import ast
import re
import time
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import ipywidgets
import pytest

import reconlab as rl
import reconlab.panels
from reconlab.display import Card, Table
from reconlab.errors import InputError
from reconlab.panels.asking import Choice, Message
from reconlab.panels.calls import Call, Calls
from reconlab.panels.parts import sheet, show
from reconlab.panels.receipt import Panel
from reconlab.panels.saving import SETTLES_S, Later
from reconlab.workdesk import Asked, Desk, on_offer

POWDER = """Violet Powder.
Starch, 3 oz.
Pearl white, 2 drachms.
Orris root, 1 oz.
French chalk, 1 oz.
Oil of bergamot, 10 drops.
Flowers of Jupiter, 1 dr.
Rose water, q.s."""
FOLDER = Path(reconlab.panels.__file__).parent
MAY_IMPORT = {"workdesk", "display", "errors", "receipts", "panels"}
RECKONS = {"sum", "round", "abs", "min", "max", "pow", "divmod"}


@pytest.fixture
def work(tmp_path: Path) -> Iterator[Desk]:
    """Return an empty desk."""
    made = rl.desk(tmp_path / "violet.yaml")
    yield made
    made.close()


@pytest.fixture
def panel(work: Desk) -> Panel:
    """Return a panel with a receipt typed in."""
    made = rl.panel(work)
    made.text.value = POWDER
    for key, said in {"source": "day-book", "years": "1905", "place": "England", "book": "dispensing"}.items():
        made.fields[key].value = said
    made.typed.now()
    return made


def on_disk(panel: Panel) -> rl.Reconstruction:
    return rl.open_record(panel.work.path)


def words_of(html: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


def settle(panel: Panel, key: str, answer: str, because: str = "") -> None:
    """Choose the answer that begins so, and press."""
    panel.question.value = key
    panel.choice.answers.value = next(n for words, n in panel.choice.answers.options if words.startswith(answer))
    panel.because.value = because
    panel.settle.click()


def use_it(panel: Panel) -> None:
    for key, said in {"form": "loose face powder", "law": "EU", "on": "2026-11-01"}.items():
        panel.uses[key].value = said
    panel.typed.now()


def make_safe(panel: Panel) -> None:
    panel.out.value = "French chalk, 1 oz."
    panel.into.value, panel.name.value, panel.why.value = "calcium carbonate", "safe", "no talc in a loose powder"
    panel.kind.value = "safety"
    panel.replace.click()


# What stands in the source.


def faults(text: str) -> list[str]:
    """Return where a source reckons, or reaches past the desk."""
    found = []
    for node in ast.walk(ast.parse(text)):
        sums = isinstance(node, (ast.BinOp, ast.AugAssign)) and not isinstance(node.op, ast.BitOr)
        calls = isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in RECKONS
        if sums or calls:
            found.append(f"reckons: {ast.unparse(node)}")
        elif isinstance(node, ast.Import):
            found += [f"imports {a.name}" for a in node.names if a.name.split(".")[0] in {"numpy", "math", "reconlab"}]
        elif isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] in {"numpy", "math", "reconlab"}:
            _, *below = (node.module or "").split(".")
            if not below or below[0] not in MAY_IMPORT:
                found.append(f"imports {node.module}")
    return found


@pytest.mark.parametrize("file", sorted(FOLDER.glob("*.py")), ids=lambda file: file.name)
def test_panels_reckon_nothing_and_know_only_the_desk(file: Path) -> None:
    assert faults(file.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "text",
    [
        "share = 100 * part / whole",
        "total += grams",
        "sum(shares)",
        "from reconlab.formula import Formula",
        "import reconlab.measures",
        "from reconlab import bench",
        "import numpy as np",
    ],
)
def test_a_panel_that_reckons_is_found(text: str) -> None:
    assert faults(text)


# What is shown and kept.


def test_what_is_typed_is_in_the_record_and_every_number_shown_is_the_librarys(panel: Panel) -> None:
    record = on_disk(panel)
    assert record.transcription.strip() == POWDER
    source = record.source
    assert (source.book, source.years, source.place, source.kind) == ("day-book", "1905", "England", "dispensing")
    shown = words_of(panel.formula.value)
    formula = rl.formula_of(record)
    for row in formula.card().tables[0].rows:
        assert words_of(" ".join(row)).strip() in shown
    assert formula.picture().text in shown
    assert str(panel) == str(panel.work.sheet)


def test_settling_a_question_is_kept_and_the_table_follows(panel: Panel) -> None:
    before = panel.formula.value
    settle(panel, "weights", "troy", because="preface, p. iv")
    decision = next(d for d in on_disk(panel).decisions if d.question == "weights")
    assert (decision.option, decision.because) == ("apothecaries", "preface, p. iv")
    assert panel.formula.value != before
    assert str(rl.formula_of(on_disk(panel)).share("orris root")).removesuffix(" % w/w") in words_of(
        panel.formula.value
    )
    assert not panel.work.asked()[0].settled
    assert panel.question.value == panel.work.asked()[0].key


def test_each_answer_says_what_it_does_in_the_words_of_the_library(panel: Panel) -> None:
    swings = {(s.question, s.answer): str(s) for s in panel.work.literal.swings()}
    for (question, answer), words in swings.items():
        panel.question.value = question
        shown = [label for label, _ in panel.choice.answers.options]
        assert words.replace(f"if {answer}: ", f"{answer}: ") in shown
        assert shown[0].endswith(("taken meanwhile", "nothing prefers it"))
        own = question.startswith(("name: ", "drop: ", "size: ", "density: "))
        assert (shown[-1] == "an answer of my own") == own
        assert panel.choice.answers.value is None


def test_an_answer_of_her_own_and_a_figure_of_her_own(panel: Panel) -> None:
    panel.question.value = "drop: bergamot oil"
    panel.choice.answers.value = panel.choice.answers.options[-1][1]
    assert panel.choice.own.layout.display != "none"
    panel.choice.own.value = "0,031"
    panel.settle.click()
    panel.question.value = "name: pearl white"
    panel.choice.answers.value = panel.choice.answers.options[-1][1]
    panel.choice.own.value = "zinc oxide"
    panel.cited.value = "label on the shop's jar"
    panel.settle.click()
    drop, name = on_disk(panel).decisions
    assert drop.figure == pytest.approx(0.031)
    assert (name.option, name.sources) == ("zinc oxide", ("label on the shop's jar",))


def test_a_name_only_she_knows(panel: Panel) -> None:
    assert [value for _, value in panel.unknown.options] == ["flowers of jupiter"]
    panel.was.value, panel.was_because.value = "zinc oxide", "the shop's own label"
    panel.call.click()
    assert panel.work.unidentified == ()
    assert panel.unknown.options == (("none is left", ""),)
    panel.was.value = "chalk"
    panel.call.click()
    assert "nothing is said of what it was" in panel.question_said.text


def test_a_version_a_plan_and_the_files(panel: Panel, tmp_path: Path) -> None:
    use_it(panel)
    panel.out.value = "French chalk, 1 oz."
    panel.ask.click()
    assert words_of(panel.work.substitutes("talc").card().title) in words_of(panel.stand_ins.value)
    make_safe(panel)
    assert panel.version.value == panel.made.value == "safe"
    assert panel.stand_ins.value == ""  # asked before the step
    safe = rl.formula_of(on_disk(panel), "safe")
    assert all(cell in words_of(panel.formula.value) for row in safe.card().tables[0].rows for cell in row)
    assert all(note in words_of(panel.law.value) for note in panel.work.stops("safe").notes)
    assert any(note.startswith("Stops the bench") for note in panel.work.stops("safe").notes)
    panel.do_plan.click()  # white lead stands in its way
    assert on_disk(panel).batches[0].refused
    assert "described, not made" in words_of(panel.plan.value)
    settle(panel, "name: pearl white", "bismuth oxychloride")
    assert panel.plan.value == ""  # of a formula that is no more
    panel.was.value = "rice starch"
    panel.call.click()
    panel.make.value, panel.jar.value = "20 g", "60 mL"
    panel.do_plan.click()
    batch = on_disk(panel).batches[-1]
    assert (batch.version, batch.plan.make) == ("safe", "20 g")
    assert batch.plan.lines
    assert all(grams.removesuffix(" g") in words_of(panel.plan.value) for grams in batch.plan.lines.values())
    panel.folder.value = str(tmp_path / "out")
    panel.write.click()
    assert all(str(file) in panel.write_said.text for file in (tmp_path / "out").glob("*.md"))


def test_versions_are_compared_noted_and_dropped(panel: Panel) -> None:
    use_it(panel)
    panel.compare.click()
    assert "there is one version only" in panel.formula_said.text
    make_safe(panel)
    panel.compare.click()
    assert words_of(panel.work.compare().card().title) in words_of(panel.compared.value)
    panel.seen_of.value, panel.seen.value = "safe", "pale"
    panel.note.click()
    (seen,) = on_disk(panel).observations
    assert (seen.of, seen.what) == ("safe", "pale")
    assert panel.seen.value == ""
    panel.drop.click()
    assert "was made, or what you wrote down" in panel.formula_said.text
    panel.undo.click()
    panel.version.value = "safe"
    panel.drop.click()
    assert on_disk(panel).versions == ()
    assert panel.version.value == "literal"


def test_a_line_that_stands_twice_is_picked_by_its_number(work: Desk) -> None:
    work.read("Starch, 3 oz.\nStarch, 3 oz.\nOrris root, 1 oz.")
    panel = rl.panel(work)
    first, second, third = (value for _, value in panel.out.options)
    assert first != second
    assert third == "Orris root, 1 oz."


# The calls.


def replayed(panel: Panel, folder: Path) -> rl.Reconstruction:
    """Run the code shown, on a desk of its own."""
    folder.mkdir()
    code = panel.code.value.replace('rl.desk("violet.yaml")', f"rl.desk({str(folder / 'violet.yaml')!r})")
    names: dict[str, Desk] = {}
    exec(code, names)  # noqa: S102 - what is offered to be copied must run
    record = names["work"].record
    names["work"].close()
    return record


def test_the_calls_shown_give_the_same_record(panel: Panel, tmp_path: Path) -> None:
    settle(panel, "weights", "troy", because='he writes "troy" \\ himself')
    panel.was.value = "zinc oxide"
    panel.call.click()
    use_it(panel)
    make_safe(panel)
    panel.undo.click()
    panel.redo.click()
    settle(panel, "name: pearl white", "bismuth oxychloride")
    panel.undo.click()
    panel.do_plan.click()
    assert "undo" not in panel.code.value
    assert panel.code.value.count("work.read(") == panel.code.value.count("work.setting(") == 1
    assert replayed(panel, tmp_path / "again") == panel.work.record == on_disk(panel)


def test_a_record_that_was_begun_before_and_steps_outside_are_named(panel: Panel) -> None:
    later = rl.panel(panel.work)
    assert "as it stood when the panel was opened" in later.code.value
    panel.work.note("smells of violets")
    later.look.click()
    assert later.code.value.endswith("# here a step was taken outside the panel")
    for _ in range(2):  # beyond what this panel knows
        later.undo.click()
    assert later.code.value.endswith("work.undo()")


def test_calls_are_shown_and_hidden(panel: Panel) -> None:
    assert panel.code.layout.display == "none"
    panel.show_calls.click()
    assert (panel.code.layout.display, panel.show_calls.description) == ("", "Hide the calls")
    panel.show_calls.click()
    assert (panel.code.layout.display, panel.show_calls.description) == ("none", "Show the calls")


def test_two_calls_of_a_kind_are_one_only_where_one_can_say_both() -> None:
    calls = Calls("a.yaml", 0, empty=True)
    calls.took(Call("setting", (), (("years", "1890"),)), 0, 1)
    calls.took(Call("setting", (), (("place", "London"),)), 1, 2)
    calls.took(Call("settle", ("weights", "troy")), 2, 3)
    calls.took(Call("settle", ("weights", "troy"), (("at", "gum"),)), 3, 4)
    assert str(calls).splitlines()[3:] == [
        'work.setting(years="1890", place="London")',
        'work.settle("weights", "troy")',
        'work.settle("weights", "troy", at="gum")',
    ]


# Undo, errors, looking only.


def test_undo_and_redo_fill_the_fields_again(panel: Panel) -> None:
    panel.fields["years"].value = "1850"
    panel.undo.click()  # what was typed is saved first, so that it is this that is undone
    assert panel.fields["years"].value == on_disk(panel).source.years == "1905"
    panel.redo.click()
    assert panel.fields["years"].value == on_disk(panel).source.years == "1850"
    panel.redo.click()
    assert "nothing was undone" in panel.bar_said.text


def test_undo_past_the_beginning_is_a_message(work: Desk) -> None:
    panel = rl.panel(work)
    for _ in range(3):
        panel.undo.click()
    assert "This is where the record began." in panel.bar_said.text


def press(name: str) -> object:
    return lambda panel: getattr(panel, name).click()


def type_year(panel: Panel) -> None:
    panel.fields["years"].value = "19"
    panel.typed.now()


def type_nothing(panel: Panel) -> None:
    panel.text.value = " "
    panel.typed.now()


def own_without_words(panel: Panel) -> None:
    panel.choice.answers.value = panel.choice.answers.options[-1][1]
    panel.settle.click()


def replace_by(name: str, into: str, much: str) -> object:
    def step(panel: Panel) -> None:
        panel.name.value, panel.into.value, panel.much.value = name, into, much
        panel.replace.click()

    return step


def write_into_a_file(panel: Panel) -> None:
    panel.folder.value = str(panel.work.path)
    panel.write.click()


@pytest.mark.parametrize(
    ("step", "message", "words"),
    [
        (type_year, "page_said", "'19' is not a year"),
        (type_nothing, "page_said", "there is no text"),
        (press("settle"), "question_said", "no answer is chosen"),
        (own_without_words, "question_said", "your own answer is empty"),
        (press("call"), "question_said", "nothing is said of what it was"),
        (replace_by("", "talc", "1"), "replace_said", "the version has no name"),
        (replace_by("safe", "unobtainium", "1"), "replace_said", "unobtainium"),
        (replace_by("safe", "talc", "much"), "replace_said", "'much' is no figure"),
        (replace_by("safe", "talc", "-1"), "replace_said", "not a figure above zero"),
        (press("do_plan"), "bench_said", "no use is given"),
        (write_into_a_file, "write_said", "violet.yaml"),
    ],
)
def test_an_error_is_a_message_and_the_record_stays(panel: Panel, step: object, message: str, words: str) -> None:
    assert callable(step)
    before = on_disk(panel)
    step(panel)
    said: Message = getattr(panel, message)
    assert words in said.text
    assert 'aria-live="polite"' in said.widget.value
    assert on_disk(panel) == before


def test_what_cannot_be_saved_stays_in_its_field_and_is_tried_again(panel: Panel) -> None:
    panel.fields["place"].value = "Nowhereshire"
    panel.typed.now()
    assert panel.fields["place"].value == "Nowhereshire"
    panel.fields["author"].value = "A. Cook"
    panel.typed.now()
    assert "Nowhereshire" in panel.page_said.text
    assert on_disk(panel).source.author == "A. Cook"
    panel.fields["place"].value = "London"
    panel.typed.now()
    assert (panel.page_said.text, on_disk(panel).source.place) == ("", "London")


def test_an_emptied_field_is_empty_in_the_record(panel: Panel) -> None:
    panel.fields["years"].value = ""
    panel.typed.now()
    assert on_disk(panel).source.years == ""


def test_what_is_typed_stays_when_the_file_was_changed_by_another_program(panel: Panel) -> None:
    work = panel.work
    work.path.write_text(work.path.read_text(encoding="utf-8") + "# by hand\n", encoding="utf-8")
    panel.text.value = POWDER + "\nTalc, 1 oz."
    panel.typed.now()
    assert "changed by another program" in panel.page_said.text
    panel.look.click()
    assert on_disk(panel).transcription.strip().endswith("Talc, 1 oz.")


def test_a_step_in_a_cell_is_in_the_fields_at_the_next_look(panel: Panel) -> None:
    panel.work.setting(years="1880").read("Powder.\nStarch, 5 oz.")
    panel.draw()
    assert (panel.fields["years"].value, panel.text.value) == ("1880", "Powder.\nStarch, 5 oz.")


def test_nothing_is_put_in_twice(panel: Panel) -> None:
    panel.out.value = "French chalk, 1 oz."
    panel.into.value = panel.into2.value = "kaolin"
    panel.name.value = "safe"
    panel.replace.click()
    assert "kaolin is put in twice" in panel.replace_said.text


def test_a_fault_of_the_program_is_a_message_too(panel: Panel, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("no luck")

    monkeypatch.setattr(panel.work, "bench", broken)
    panel.do_plan.click()
    assert "a fault of the program (ZeroDivisionError: no luck)" in panel.bench_said.text


def test_a_desk_that_may_only_look_has_no_controls_and_says_why(panel: Panel) -> None:
    other = Desk(panel.work.path)  # as another notebook would
    other.look_again()
    looking = Panel(other)
    assert "here you can look" in looking.bar_said.text
    free = {looking.look, looking.show_calls, looking.code, looking.version, looking.compare, looking.question}
    assert [control.description for control in looking.controls if not control.disabled and control not in free] == []
    assert str(looking.text.value) == POWDER
    looking.undo.click()
    assert on_disk(panel).transcription.strip() == POWDER
    panel.work.close()
    looking.look.click()
    assert not looking.text.disabled
    assert looking.bar_said.text == ""
    other.close()


# What it stands on.


def test_every_control_has_a_label_and_says_what_it_is_for(panel: Panel) -> None:
    assert len(panel.controls) > 40
    for control in panel.controls:
        assert control.description.strip(), control
        assert control.tooltip, control.description


def test_a_notebook_without_widgets_shows_the_text(panel: Panel) -> None:
    shown = panel._repr_mimebundle_()
    assert shown["text/plain"] == str(panel) == repr(panel)
    assert "wheat starch" in str(shown["text/plain"])
    assert "application/vnd.jupyter.widget-view+json" in shown


def test_typing_is_saved_by_itself_within_two_seconds(work: Desk) -> None:
    panel = rl.panel(work)
    panel.text.value = POWDER  # no loop runs here: the clock is the panel's own
    deadline = time.monotonic() + 10
    while not rl.open_record(work.path).transcription and time.monotonic() < deadline:
        time.sleep(0.05)
    assert rl.open_record(work.path).transcription.strip() == POWDER
    assert SETTLES_S < 2


def test_later_waits_for_the_last_key_and_calls_once() -> None:
    called: list[str] = []
    later = Later(lambda: called.append("once"), quiet_s=60)
    later.now()
    assert called == []
    later.touch()
    later.touch()
    later.now()
    later.now()
    assert called == ["once"]


def test_a_choice_without_a_question_has_no_answer() -> None:
    choice = Choice()
    choice.offer(None)
    with pytest.raises(InputError, match="no answer is chosen"):
        choice.answer()
    choice.offer(Asked(key="weights", asks="Whose?", answers=()))
    assert choice.answers.options == ()  # whose ounce it was is one of those on file
    choice.offer(Asked(key="name: starch", asks="What?", answers=()))
    assert [words for words, _ in choice.answers.options] == ["an answer of my own"]


def test_a_table_is_shown_as_a_table() -> None:
    place = sheet()
    show(place, Table("Shares", ("substance", "%"), (("talc", "30"),)))
    assert "<th scope" in place.value
    assert "<h3>" not in place.value
    show(place, Card("Powder"))
    assert "<h3>Powder</h3>" in place.value
    show(place, None)
    assert place.value == ""


def test_words_on_a_page_are_never_taken_for_html(work: Desk) -> None:
    work.read("<b>Starch</b> & <script>alert(1)</script>, 3 oz.\nOrris root, 1 oz.")
    panel = rl.panel(work)
    everything = "".join(str(place.value) for place in (panel.formula, panel.choice.asks, panel.state.widget))
    assert "<script>" not in everything
    assert "<b>Starch" not in everything


def test_lists_on_offer_are_those_the_library_takes() -> None:
    for form in on_offer("form"):
        rl.Use(form)
    for kind in on_offer("book"):
        rl.Setting(book=kind)
    assert {"EU"} <= set(on_offer("law"))
    assert "adult" in on_offer("wearer")
    with pytest.raises(InputError, match="there is no list"):
        on_offer("colour")


def test_without_ipywidgets_it_says_what_to_install(work: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(__import__("sys").modules, "reconlab.panels.receipt")
    monkeypatch.delattr(reconlab.panels, "receipt")
    monkeypatch.setitem(__import__("sys").modules, "reconlab.panels.receipt", None)
    with pytest.raises(InputError, match="%pip install ipywidgets"):
        rl.panel(work)


def test_the_panel_is_a_widget_that_can_stand_in_another(panel: Panel) -> None:
    assert isinstance(panel, ipywidgets.Box)
    assert ipywidgets.VBox((panel,)).children == (panel,)


# The measures of a book.


def test_what_is_settled_of_a_book_holds_for_its_next_receipt(panel: Panel, tmp_path: Path) -> None:
    book = rl.book_panel(panel.work)
    assert {key for _, key in book.question.options} <= {"weights", "measures", "liquids", "parts"} | {
        key for _, key in book.question.options if key.startswith(("size: ", "drop: ", "weight: "))
    }
    assert words_of(str(panel.work.measures.tables[0].rows[0][0])) in words_of(book.measures.value)
    book.question.value = "weights"
    book.choice.answers.value = next(n for words, n in book.choice.answers.options if words.startswith("troy"))
    book.settle.click()
    (decision,) = on_disk(panel).decisions
    assert (decision.question, decision.scope) == ("weights", "book")
    other = rl.desk(tmp_path / "other.yaml").read("Powder.\nStarch, 3 oz.", source="day-book")
    assert [one.option for one in other.record.decisions] == [decision.option]
    other.close()


def test_what_the_author_says_goes_before_the_customs(panel: Panel) -> None:
    book = rl.book_panel(panel.work)
    book.fields["rule"].value = "all weights are troy"
    book.typed.now()
    assert on_disk(panel).source.rule == "all weights are troy"
    assert "troy" in str(book)
    assert panel.work.literal["French chalk"].number == pytest.approx(31.1034768)
    book.fields["rule"].value = "whatever he likes"
    book.typed.now()
    assert "rule" in book.page_said.text
    assert on_disk(panel).source.rule == "all weights are troy"


# The names of a receipt.

NAMES = "White.\nFlake white, 1 oz.\nSpanish white, 2 oz.\nBrillantol, 1 dr.\nStarch, 2 oz."


def test_the_panel_of_names_puts_names_only_and_warns_of_what_may_be_a_poison(panel: Panel) -> None:
    panel.work.read(NAMES)
    names = rl.names_panel(panel.work)
    assert {key for _, key in names.question.options} >= {"name: flake white", "name: spanish white"}
    assert all(key.startswith(("name: ", "strength: ")) for _, key in names.question.options)
    assert "Flake white is, or may be, white lead (basic lead carbonate): never handled (lead)." in str(names)


def test_a_name_settled_in_the_panel_holds_for_the_receipt(panel: Panel) -> None:
    panel.work.read(NAMES)
    names = rl.names_panel(panel.work)
    names.question.value = "name: spanish white"
    names.choice.answers.value = next(n for words, n in names.choice.answers.options if "chalk" in words)
    names.because.value = "the shop sold it by the stone"
    names.settle.click()
    (decision,) = on_disk(panel).decisions
    assert (decision.question, decision.option, decision.scope) == (
        "name: spanish white",
        "calcium_carbonate",
        "receipt",
    )
    (row,) = [row for row in panel.work.names.tables[0].rows if row[0] == "Spanish white"]
    assert row[2:5] == ("calcium carbonate (chalk)", "settled", "your word")


def test_a_name_of_nothing_on_file_is_said_in_the_panel_and_remembered(panel: Panel, tmp_path: Path) -> None:
    panel.work.read(NAMES)
    names = rl.names_panel(panel.work)
    assert names.unknown.options == (("Brillantol", "brillantol"),)  # shown as the page prints it
    names.call.click()
    assert "nothing is said of what it was" in names.call_said.text
    names.was.value = "rice starch"
    names.call.click()
    assert [key for _, key in names.unknown.options] == [""]
    assert "brillantol: rice starch, by your word." in str(names)
    other = rl.desk(tmp_path / "other.yaml").read("Powder.\nBrillantol, 3 oz.")
    assert [one.option for one in other.record.decisions] == ["rice starch"]
    other.close()


def test_an_empty_desk_has_no_names(tmp_path: Path) -> None:
    empty = rl.desk(tmp_path / "empty.yaml")
    assert str(rl.names_panel(empty)).startswith("empty.yaml: an empty desk")
    empty.close()
