"""The receipt panel: one desk by button and keyboard, from the page as printed to the files that are written."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from reconlab.errors import InputError
from reconlab.panels.asking import Message
from reconlab.panels.controls import Controls
from reconlab.panels.desk_panel import LITERAL, given
from reconlab.panels.parts import figure_of, offer, show
from reconlab.workdesk import Desk

_SHOWN = 40  # letters of a line that holds several ingredients, beside the name of one


class Panel(Controls):
    """The whole job on one panel."""

    def __init__(self, work: Desk) -> None:
        self._drawn_of: object = None  # what the formula shown was drawn of
        self._batches = len(work.record.batches)
        self._wanted: str | None = None  # a version just made, to be shown next
        super().__init__(work)

    def presses(self) -> tuple[tuple[Any, Message, Callable[[], object]], ...]:
        """Return each button of the panel's own, where it says how it went, and what it does."""
        return (
            (self.call, self.question_said, self._call),
            (self.compare, self.formula_said, self._compare),
            (self.drop, self.formula_said, self._drop),
            (self.note, self.seen_said, self._note),
            (self.ask, self.replace_said, self._ask_stand_ins),
            (self.replace, self.replace_said, self._replace),
            (self.do_plan, self.bench_said, self._plan),
            (self.write, self.write_said, self._write),
        )

    def typed_in(self) -> dict[str, Any]:
        """Return every field whose text is saved as it is typed, by what it says."""
        return {"text": self.text, **self.fields, **{f"use {key}": field for key, field in self.uses.items()}}

    def wire(self) -> None:
        """Tie the controls to what they do."""
        super().wire()
        self.version.observe(lambda _: self.quiet.on or self.guarded(self.bar_said, self._draw_formula), "value")

    def said_of(self, key: str) -> Message:
        """Return where it is said how the saving of a field went."""
        return self.use_said if key.startswith("use") else self.page_said

    def save(self, key: str, field: Any) -> None:  # noqa: ANN401 - widgets have no types
        """Save one field."""
        if key == "text":
            self.step("read", field.value)
        elif key != "use":
            super().save(key, field)
        elif self.uses["form"].value:
            self.step("use", **{name: one.value.strip() for name, one in self.uses.items()})
        elif self.work.record.use:
            raise InputError("no form is picked", self.uses["form"].description, "The record keeps the one it has.")

    def settled(self) -> None:
        """Put back what holds for one answer only."""
        self.whole_book.value = False

    def scope(self) -> str:
        """Return for what an answer holds; empty for this receipt alone."""
        return "book" if self.whole_book.value else ""

    # Steps: each is one call of the desk.

    def _call(self) -> None:
        name, was = self.unknown.value, self.was.value.strip()
        if not name or not was:
            raise InputError(
                "nothing is said of what it was",
                name or self.unknown.description,
                "Write a modern name, or words of your own.",
            )
        self.step("call", name, was, **given(because=self.was_because.value.strip()))
        self.question_said.say(f"{name}: {was}, by your word.")
        self.was.value = self.was_because.value = ""

    def _replace(self) -> None:
        name = self.name.value.strip()
        if not name:
            raise InputError("the version has no name", self.name.description, "Give it one, such as safe.")
        pairs = ((self.into, self.much), (self.into2, self.much2))
        put_in = [(what.value.strip(), much) for what, much in pairs if what.value.strip()]
        into = {what: figure_of(much.value, where=much.description) for what, much in put_in}
        if len(into) < len(put_in):
            raise InputError(f"{put_in[0][0]} is put in twice", self.into2.description, "Name it once, with its sum.")
        more = given(
            parent=self.parent.value,
            basis=self.basis.value,
            kind=self.kind.value,
            because=self.why.value.strip(),
            expected=self.expected.value.strip(),
        )
        self.step("replace", self.out.value, into, name=name, **more)
        in_its_place = " and ".join(f"{figure:g} of {what}" for what, figure in into.items())
        what = f"for 1 of it there is {in_its_place}" if into else "it is left out"
        why = f"because {self.why.value.strip()}" if self.why.value.strip() else "no reason was given"
        self.replace_said.say(f"{name}: {self.out.value} is out, {what}; {why}. Shown above as a version.")
        for field in (self.into, self.into2, self.why, self.expected):
            field.value = ""
        self._wanted = name

    def _compare(self) -> None:
        self.looked_at["compared"] = self.work.compare()

    def _drop(self) -> None:
        version = self.version.value
        self.step("drop", version)
        self.formula_said.say(
            f"{version}: taken out of the record, with its plan if it had one; Undo brings both back."
        )

    def _note(self) -> None:
        more = given(of=self.seen_of.value, after=self.after.value.strip())
        self.step("note", self.seen.value.strip(), **more)
        self.seen_said.say(f"Written down of {self.seen_of.value}.")
        self.seen.value = self.after.value = ""

    def _ask_stand_ins(self) -> None:
        names = {line: name for _, line, name in self._lines()}
        self.looked_at = {}  # those of another line say nothing of this one
        self.looked_at = {"stand-ins": self.work.substitutes(names[self.out.value])}

    def _plan(self) -> None:
        self.looked_at = {}
        more = given(jar=self.jar.value.strip())
        plan = self.step(
            "bench", self.made.value, make=self.make.value.strip(), balance=self.balance.value.strip(), **more
        )
        self.looked_at = {"plan": plan}
        self.bench_said.say(f"Kept in the record: {self.make.value}, on a balance that shows {self.balance.value}.")

    def _write(self) -> None:
        files = self.step("write", self.folder.value.strip() or ".")
        self.write_said.say(f"Written: {', '.join(str(file) for file in files)}")

    # Showing.

    def fill(self) -> None:
        """Put into the fields what the record says; only where nobody is typing."""
        super().fill()
        use = self.work.record.use
        with self.quiet.filling():
            if "text" not in self._unsaved:
                self.text.value = self.work.record.transcription.strip("\n")
            if "use" not in self._unsaved:
                for key, field in self.uses.items():
                    field.value = getattr(use, key) if use else "adult" if key == "wearer" else ""

    def drawn(self) -> None:
        """Show the record as it stands now."""
        work = self.work
        wanted, self._wanted = self._wanted, None
        unknown = work.unidentified if self.has_text else ()
        with self.quiet.filling():
            versions = [(name, name) for name in work.versions]
            offer(self.version, versions, keep=wanted)
            offer(self.parent, versions)
            offer(self.made, versions, keep=wanted)
            batches = [f"batch {number}" for number, _ in enumerate(work.record.batches, start=1)]
            newest = batches[-1] if len(batches) > self._batches else None
            self._batches = len(batches)
            offer(self.seen_of, [*versions, *((name, name) for name in batches)], keep=newest)
            offer(self.out, [(shown, line) for shown, line, _ in self._lines()])
            offer(self.unknown, [(work.as_printed(name), name) for name in unknown] or [("none is left", "")])
        if unknown:  # hidden until it is needed, and never again: the keyboard may stand in it
            self.unknown_row.layout.display = ""
        super().drawn()
        self._draw_formula()
        self.whole_book.disabled = not work.may_write or not work.record.source.book

    def _draw_formula(self) -> None:
        work, version = self.work, self.version.value
        drawn = (work.record, work.saved_at, work.may_write, version)
        if drawn != self._drawn_of:
            formula, *law = self.shown()
            show(self.formula, formula)
            show(self.law, law[0] if law else None)
            self._drawn_of = drawn
        show(self.stand_ins, self.looked_at.get("stand-ins"))
        show(self.plan, self.looked_at.get("plan"))
        show(self.compared, self.looked_at.get("compared"))

    def only_shows(self) -> tuple[Any, ...]:
        """Return the controls that change nothing in the record: they stay where one can only look."""
        return (*super().only_shows(), self.version, self.compare)

    def _lines(self) -> list[tuple[str, str, str]]:
        """Return each line as it is shown, as the desk is told it, and by name."""
        if not self.has_text:
            return []
        receipt = self.work.receipt
        texts = [receipt.line_of(item.id).text.strip() for item in receipt.items]
        return [
            (f"{item.name}, in: {text[:_SHOWN]}", item.id, item.name)
            if texts.count(text) > 1
            else (text, text, item.name)
            for item, text in zip(receipt.items, texts, strict=True)
        ]

    def shown(self) -> tuple[Any, ...]:
        """Return what is shown of the version: the whole desk where it is the receipt itself."""
        version = self.version.value
        if self.has_text and version != LITERAL:
            return self.work[version], self.work.stops(version)
        return (self.work.sheet,)
