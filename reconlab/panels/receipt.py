"""The receipt panel: one desk by button and keyboard, from the page as printed to the files that are written."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from reconlab.display import Shown
from reconlab.errors import InputError, ReconlabError
from reconlab.panels.asking import Message
from reconlab.panels.calls import Call, Calls
from reconlab.panels.controls import Controls
from reconlab.panels.parts import figure_of, offer, show
from reconlab.panels.saving import Later, Quiet
from reconlab.workdesk import Desk

_LITERAL = "literal"
_LOOK_ONLY = (
    "Another notebook is working on this record: here you can look, not write. Close it there, then press Look again."
)


class Panel(Controls):
    """A desk as a panel. As text it is what it shows, so that a notebook without widgets shows the same."""

    def __init__(self, work: Desk) -> None:
        super().__init__()
        self.work = work
        self.quiet = Quiet()
        self.calls = Calls(work.path.name, work.record, empty=not self._has_text)
        self.typed = Later(self.save_typed)
        self._drawn_of: object = None  # what the formula shown was drawn of
        self._unsaved: dict[str, Any] = {}  # fields typed in since they were last saved
        self._looked_at: dict[str, Shown] = {}  # what was asked for and stands until the next step
        self._wire()
        self._fill()
        self._draw()

    def _wire(self) -> None:
        presses = (
            (self.undo, self.bar_said, lambda: self._back("undo")),
            (self.redo, self.bar_said, lambda: self._back("redo")),
            (self.look, self.bar_said, self._look_again),
            (self.call, self.question_said, self._call),
            (self.settle, self.question_said, self._settle),
            (self.compare, self.formula_said, self._compare),
            (self.drop, self.formula_said, self._drop),
            (self.note, self.seen_said, self._note),
            (self.ask, self.replace_said, self._ask_stand_ins),
            (self.replace, self.replace_said, self._replace),
            (self.do_plan, self.bench_said, self._plan),
            (self.write, self.write_said, self._write),
        )
        for button, said, step in presses:
            button.on_click(lambda _, said=said, step=step: self._press(said, step))
        self.show_calls.on_click(lambda _: self._show_calls())
        self.question.observe(lambda _: self._put_question(), "value")
        self.version.observe(lambda _: self.quiet.on or self._guarded(self.bar_said, self._draw_formula), "value")
        fields = {"text": self.text, **self.fields, **{f"use {key}": field for key, field in self.uses.items()}}
        for key, field in fields.items():
            field.observe(lambda change, key=key: self._touched(key, change["owner"]), "value")

    # Saving what is typed.

    def _touched(self, key: str, field: Any) -> None:  # noqa: ANN401 - widgets have no types
        if not self.quiet.on:
            self._unsaved[key.split(" ", maxsplit=1)[0]] = field
            self.typed.touch()

    def save_typed(self) -> None:
        """Save what was typed; what cannot be saved yet stays in its field, and the line below says why."""
        self.page_said.say("")
        self.use_said.say("")
        for key, field in tuple(self._unsaved.items()):
            said = self.use_said if key == "use" else self.page_said
            if self._guarded(said, partial(self._save, key, field)):
                del self._unsaved[key]
        self._draw()

    def _save(self, key: str, field: Any) -> None:  # noqa: ANN401
        if key == "text":
            self._step("read", field.value)
        elif key != "use":
            self._step("setting", **{key: field.value.strip()})
        elif self.uses["form"].value:
            self._step("use", **{name: one.value.strip() for name, one in self.uses.items()})

    # Steps: each is one call of the desk.

    def _step(self, method: str, *plain: object, **named: object) -> Any:  # noqa: ANN401 - what the method gives
        """Call the desk, and keep the call where the record changed."""
        before = self.work.record
        given = getattr(self.work, method)(*plain, **named)
        if self.work.record != before or method == "write":
            call = Call(method, plain, tuple(named.items()))
            self.calls.took(call, before, self.work.record, says_all=self._says_all(call))
            self._looked_at.clear()
        return given

    def _says_all(self, call: Call) -> bool:
        """Return whether the same call before this one adds nothing to it."""
        if call.method == "read":  # a title the page no longer prints is kept from the reading before
            return self.work.record.title.casefold() in str(call.plain).casefold()
        return call.method == "use"

    def _guarded(self, said: Message, step: Callable[[], object]) -> bool:
        """Do something, and say what went wrong if something did; return whether it was done."""
        try:
            step()
        except ReconlabError as error:
            said.fault(error)
            return False
        except Exception as fault:  # noqa: BLE001 - a button that does nothing and says nothing is worse
            found = f"this is a fault of the program ({type(fault).__name__}: {fault})"
            said.fault(InputError(found, "", "The record is as it was last saved; please report the fault."))
            return False
        return True

    def _press(self, said: Message, step: Callable[[], object]) -> None:
        """Do what a button says: what was typed is saved before, all is drawn after."""
        self.typed.now()
        said.say("")
        self._guarded(said, step)
        self._draw()

    def _settle(self) -> None:
        key, option, figure = self.choice.answer()
        answer = {"option": (key, option)} if figure is None else {"option": (key,)}
        sources = tuple(filter(None, (self.cited.value.strip(),)))
        named = _given(
            figure=figure,
            because=self.because.value.strip(),
            sources=sources,
            scope="book" if self.whole_book.value else "",
        )
        self._step("settle", *answer["option"], **named)
        self.question_said.say(f"Settled: {key}.")
        self.because.value = self.cited.value = ""
        self.question.value = None  # the next one follows

    def _call(self) -> None:
        name, was = self.unknown.value, self.was.value.strip()
        if not name or not was:
            raise InputError(
                "nothing is said of what it was",
                name or self.unknown.description,
                "Write a modern name, or words of your own.",
            )
        self._step("call", name, was, **_given(because=self.was_because.value.strip()))
        self.question_said.say(f"{name}: {was}, by your word.")
        self.was.value = self.was_because.value = ""

    def _replace(self) -> None:
        name = self.name.value.strip()
        if not name:
            raise InputError("the version has no name", self.name.description, "Give it one, such as safe.")
        pairs = ((self.into, self.much), (self.into2, self.much2))
        into = {
            what.value.strip(): figure_of(much.value, where=much.description)
            for what, much in pairs
            if what.value.strip()
        }
        more = _given(
            parent=self.parent.value,
            basis=self.basis.value,
            kind=self.kind.value,
            because=self.why.value.strip(),
            expected=self.expected.value.strip(),
        )
        self._step("replace", self.out.value, into, name=name, **more)
        self.replace_said.say(f"{name}: kept, and shown above as a version.")
        self.into.value = self.into2.value = ""
        self._draw(show_version=name)

    def _compare(self) -> None:
        self._looked_at["compared"] = self.work.compare()

    def _drop(self) -> None:
        version = self.version.value
        self._step("drop", version)
        self.formula_said.say(f"{version}: taken out of the record; Undo brings it back.")

    def _note(self) -> None:
        more = _given(of=self.seen_of.value, after=self.after.value.strip())
        self._step("note", self.seen.value.strip(), **more)
        self.seen_said.say(f"Written down of {self.seen_of.value}.")
        self.seen.value = self.after.value = ""

    def _ask_stand_ins(self) -> None:
        names = {line: name for _, line, name in self._lines()}
        self._looked_at = {"stand-ins": self.work.substitutes(names[self.out.value])}

    def _plan(self) -> None:
        more = _given(jar=self.jar.value.strip())
        plan = self._step(
            "bench", self.made.value, make=self.make.value.strip(), balance=self.balance.value.strip(), **more
        )
        self._looked_at = {"plan": plan}
        self.bench_said.say("This plan is kept in the record.")

    def _write(self) -> None:
        files = self._step("write", self.folder.value.strip() or ".")
        self.write_said.say(f"Written: {', '.join(str(file) for file in files)}")

    def _back(self, method: str) -> None:
        getattr(self.work, method)()
        self.calls.went_back(Call(method), self.work.record)
        self._looked_at.clear()
        for said in self.messages:
            said.say("")
        self._fill()

    def _look_again(self) -> None:
        self.work.look_again()
        self._fill()

    def _show_calls(self) -> None:
        hidden = self.code.layout.display == "none"
        self.code.layout.display = "" if hidden else "none"
        self.show_calls.description = "Hide the calls" if hidden else "Show the calls"

    # Showing.

    @property
    def _has_text(self) -> bool:
        return bool(self.work.record.transcription.strip())

    def _fill(self) -> None:
        """Put into the fields what the record says; only where nobody is typing."""
        record = self.work.record
        source, use = record.source, record.use
        self._unsaved.clear()
        with self.quiet.filling():
            self.text.value = record.transcription.strip("\n")
            said = {"source": source.book, "book": source.kind}
            for key, field in self.fields.items():
                field.value = said[key] if key in said else getattr(source, key)
            for key, field in self.uses.items():
                field.value = getattr(use, key) if use else "adult" if key == "wearer" else ""

    def _draw(self, show_version: str | None = None) -> None:
        """Show the record as it stands now."""
        self._guarded(self.bar_said, lambda: self._drawn(show_version))

    def _drawn(self, show_version: str | None) -> None:
        work = self.work
        self.calls.look(work.record)
        self.state.say(f"{work.path.name}, saved at {work.saved_at}" if work.saved_at else work.path.name)
        self.code.value = str(self.calls)
        with self.quiet.filling():
            versions = [(name, name) for name in work.versions]
            offer(self.version, versions, keep=show_version)
            offer(self.parent, versions)
            offer(self.made, versions, keep=show_version)
            batches = [f"batch {number}" for number, _ in enumerate(work.record.batches, start=1)]
            offer(self.seen_of, [*versions, *((name, name) for name in batches)])
            offer(self.out, [(shown, line) for shown, line, _ in self._lines()])
            unknown = work.unidentified if self._has_text else ()
            offer(self.unknown, [(name, name) for name in unknown] or [("none is left", "")])
            asked = {question.key: question for question in (work.asked() if self._has_text else ())}
            self._asked = asked
            offer(self.question, [(f"{q.asks}{' (settled)' if q.settled else ''}", key) for key, q in asked.items()])
        if unknown:  # hidden until it is needed, and never again: the keyboard may stand in it
            self.unknown_row.layout.display = ""
        self._put_question()
        self._draw_formula()
        self._only_look(not work.may_write)

    def _draw_formula(self) -> None:
        work, version = self.work, self.version.value
        other = self._has_text and version != _LITERAL
        drawn = (work.record, work.saved_at, work.may_write, version)
        if drawn != self._drawn_of:
            show(self.formula, work[version] if other else work)
            show(self.law, work.stops(version) if other else None)
            self._drawn_of = drawn
        show(self.stand_ins, self._looked_at.get("stand-ins"))
        show(self.plan, self._looked_at.get("plan"))
        show(self.compared, self._looked_at.get("compared"))

    def _put_question(self) -> None:
        self.choice.offer(self._asked.get(self.question.value))

    def _lines(self) -> list[tuple[str, str, str]]:
        """Return each line as it is shown, as the desk is told it, and by name."""
        if not self._has_text:
            return []
        receipt = self.work.receipt
        texts = [receipt.line_of(item.id).text.strip() for item in receipt.items]
        return [
            (f"{item.name}, in: {text}", item.id, item.name) if texts.count(text) > 1 else (text, text, item.name)
            for item, text in zip(receipt.items, texts, strict=True)
        ]

    def _only_look(self, look: bool) -> None:  # noqa: FBT001
        if look:
            self.bar_said.say(_LOOK_ONLY)
        elif self.bar_said.text == _LOOK_ONLY:
            self.bar_said.say("")
        stays = (self.look, self.show_calls, self.code, self.version, self.compare, self.question)
        for control in self.controls:
            if control not in stays:
                control.disabled = look
        self.whole_book.disabled = look or not self.work.record.source.book

    def __str__(self) -> str:
        """Return what is shown as text."""
        work, version = self.work, self.version.value
        other = self._has_text and version != _LITERAL
        formula = (str(work[version]), str(work.stops(version))) if other else (str(work),)
        shown = (*formula, *map(str, self._looked_at.values()))
        return "\n\n".join((*shown, *(message.text for message in self.messages if message.text)))

    __repr__ = __str__

    def _repr_mimebundle_(self, **_: object) -> dict[str, object]:
        """Return the panel for a notebook: alive, and as text and HTML where nothing is alive."""
        alive = super()._repr_mimebundle_() or {}
        return {**alive, "text/plain": str(self)}


def _given(**named: object) -> dict[str, object]:
    """Return the arguments in which something is said that is not said anyway."""
    untold = ("", (), None, False)
    usual = {"parent": _LITERAL, "basis": "mass", "of": _LITERAL}
    return {name: value for name, value in named.items() if value not in untold and usual.get(name) != value}
