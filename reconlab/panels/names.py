"""The panel of names: what each thing of a receipt was, settled one by one with the page's words beside it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from reconlab.errors import InputError
from reconlab.panels.asking import Message
from reconlab.panels.desk_panel import DeskPanel, given
from reconlab.panels.parts import button, group, line, offer, pick, row, sheet, show
from reconlab.workdesk import Asked


class NamesPanel(DeskPanel):
    """The names of a receipt, what they were taken for, and what each other meaning does to the formula."""

    def groups(self) -> tuple[Any, ...]:
        """Return what stands below the bar, in the order of the work."""
        self.names, self.formula = sheet(), sheet()
        self.unknown = pick("Not identified", (), about="Names that nothing on file explains.")
        self.was = line("It was", about="A modern name, or words of your own.", example="rice starch")
        self.was_because = line("Because of", about="How you know: kept with your word.")
        self.call = button("Say so", about="Keeps your word; it is remembered for other receipts.")
        self.call_said = Message()
        answer = row(self.because, self.cited, self.settle)
        asked = widgets.VBox((row(self.question), self.choice.widget, answer))
        return (
            group("The book", row(*self.fields.values()), self.page_said.widget),
            self.names,
            group("Names of more than one thing", asked, self.question_said.widget),
            group(
                "Names of nothing on file",
                row(self.unknown, self.was, self.was_because, self.call),
                self.call_said.widget,
            ),
            self.formula,
        )

    def presses(self) -> tuple[tuple[Any, Message, Callable[[], object]], ...]:
        """Return each button of the panel's own, where it says how it went, and what it does."""
        return ((self.call, self.call_said, self._call),)

    def scope(self) -> str:
        """Return for what an answer holds: this receipt, for a name may be another thing in the next."""
        return ""

    def puts(self, asked: Asked) -> bool:
        """Return whether a question is about what a thing was, or how strong."""
        return asked.of_a_name

    def _call(self) -> None:
        name, was = self.unknown.value, self.was.value.strip()
        if not name or not was:
            where = name or self.unknown.description
            raise InputError("nothing is said of what it was", where, "Write a modern name, or words of your own.")
        self.step("call", name, was, **given(because=self.was_because.value.strip()))
        self.call_said.say(f"{name}: {was}, by your word.")
        self.was.value = self.was_because.value = ""

    def drawn(self) -> None:
        """Show the record as it stands now."""
        unknown = self.work.unidentified if self.has_text else ()
        with self.quiet.filling():
            offer(self.unknown, [(self.work.as_printed(name), name) for name in unknown] or [("none is left", "")])
        super().drawn()
        show(self.names, self.work.names if self.has_text else None)
        show(self.formula, self.work.literal if self.has_text else None)

    @property
    def messages(self) -> tuple[Message, ...]:
        """Every line that says what was done or went wrong."""
        return (*super().messages, self.call_said)

    def shown(self) -> tuple[object, ...]:
        """Return what is shown now."""
        return (self.work.names, self.work.literal) if self.has_text else (self.work.card(),)
