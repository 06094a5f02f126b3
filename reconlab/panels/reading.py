"""The panel of a page: pasted, or read from its picture; the printed words and what was read of them side by side."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from reconlab.errors import InputError
from reconlab.panels.asking import Message
from reconlab.panels.desk_panel import DeskPanel, given
from reconlab.panels.names import NamesPanel
from reconlab.panels.parts import button, group, line, offer, page, pick, row, sheet, show
from reconlab.workdesk import Asked

_SHOWN = 70  # letters of a line in the list of lines


class ReadingPanel(DeskPanel):
    """A page, what was read of it, its lines corrected where print or scan is at fault, and the way on."""

    def groups(self) -> tuple[Any, ...]:
        """Return what stands below the bar, in the order of the work."""
        self.text = page(
            "The page as printed",
            about="Paste or type it, line by line. It is saved as you type.",
            example="COLD CREAM.\nWhite wax, 2 oz.\nOil of almonds, 1 pint.",
        )
        self.picture = line("Picture of the page", about="A file beside the record.", example="page.png")
        self.languages = line("Its languages", about="That of the place where empty.", example="English, Latin")
        self.open = button("Read the picture", about="Puts its words into the page above; look them through.")
        self.picture_said = Message()
        self.as_read = sheet()
        self.which = pick("Receipt to go on with", (), about="Which receipt of the page the work is about.")
        self.choose = button("Take this one", about="The other receipts of the page stay in the record.")
        self.which_row = row(self.which, self.choose)
        self.chosen_said = Message()
        self.line = pick("Line to correct", (), about="As it is printed.")
        self.reads = line("It should read", about="The line as the printer meant it.", each_key=True)
        self.reads_because = line(
            "How you know", about="Kept with the correction.", example="the copy at hand is clear"
        )
        self.correct = button("Correct the line", about="Kept as a decision; the page stays as printed.")
        self.corrected_said = Message()
        self.go_on = button("Go on to the names", about="Opens below what the things of the receipt were.")
        self.next_said = Message()
        self.next = widgets.VBox()
        self.question_group = group(
            "What the print leaves open",
            row(self.question),
            self.choice.widget,
            row(self.because, self.cited, self.settle),
            self.question_said.widget,
        )
        return (
            group(
                "The page",
                row(self.text),
                row(self.picture, self.languages, self.open),
                self.picture_said.widget,
                row(*self.fields.values()),
                self.page_said.widget,
            ),
            group("As it was read", self.as_read, self.which_row, self.chosen_said.widget),
            group(
                "Correct a line",
                row(self.line),
                row(self.reads, self.reads_because, self.correct),
                self.corrected_said.widget,
            ),
            self.question_group,
            group("The next stage", row(self.go_on), self.next_said.widget, self.next),
        )

    def presses(self) -> tuple[tuple[Any, Message, Callable[[], object]], ...]:
        """Return each button of the panel's own, where it says how it went, and what it does."""
        return (
            (self.open, self.picture_said, self._open),
            (self.choose, self.chosen_said, self._choose),
            (self.correct, self.corrected_said, self._correct),
            (self.go_on, self.next_said, self._go_on),
        )

    def typed_in(self) -> dict[str, Any]:
        """Return every field whose text is saved as it is typed, by what it says."""
        return {"text": self.text, **self.fields}

    def wire(self) -> None:
        """Tie the controls to what they do."""
        super().wire()
        self.line.observe(lambda _: self._line_picked(), "value")

    def save(self, key: str, field: Any) -> None:  # noqa: ANN401 - widgets have no types
        """Save one field."""
        if key == "text":
            self.step("read_page", field.value)
        else:
            super().save(key, field)

    def scope(self) -> str:
        """Return for what an answer holds: this receipt, for it is about its print."""
        return ""

    def puts(self, asked: Asked) -> bool:
        """Return whether a question is about how the print is to be read."""
        return asked.of_the_print

    # Steps: each is one call of the desk.

    def _open(self) -> None:
        name = self.picture.value.strip()
        if not name:
            raise InputError("no picture is named", self.picture.description, "Write its file name, such as page.png.")
        languages = tuple(filter(None, (word.strip() for word in self.languages.value.split(","))))
        self.step("read_image", name, **given(languages=languages))
        self.fill()
        self.picture_said.say(f"{name} is read. Look each line through beside its piece of the picture.")

    def _choose(self) -> None:
        self.step("choose", self.which.value)
        self.chosen_said.say(f"The work is about: {self.which.value}.")

    def _correct(self) -> None:
        printed, reads = self.line.value, self.reads.value.strip()
        if not printed or not reads:
            raise InputError("nothing is said of how it should read", self.reads.description, "Write the whole line.")
        self.step("correct", printed, reads, **given(because=self.reads_because.value.strip()))
        self.corrected_said.say(f"{printed!r} is to read {reads!r}.")
        self.reads_because.value = ""

    def _go_on(self) -> None:
        if not self.has_text:
            raise InputError(
                "no receipt is read yet", self.which.description, "Choose one above, or correct its lines."
            )
        if not self.next.children:
            self.next.children = (NamesPanel(self.work),)
        self.next_said.say("The names stand below. What stands open in the book's measures: rl.book_panel(work).")

    # Showing.

    def fill(self) -> None:
        """Put into the fields what the record says; what is typed and not saved yet stays."""
        super().fill()
        with self.quiet.filling():
            if "text" not in self._unsaved:
                self.text.value = self.work.record.transcription.strip("\n")

    def drawn(self) -> None:
        """Show the record as it stands now."""
        printed = dict.fromkeys(" ".join(one.split()) for one in self.work.record.transcription.splitlines())
        titles = self.work.page.titles if self.has_page else ()
        with self.quiet.filling():
            picked = self.line.value
            offer(self.line, [(one[:_SHOWN], one) for one in printed if one])
            keep = self.work.receipt.title if self.has_text and not self.which.options else None
            offer(self.which, [(title or "without a title", title) for title in titles], keep=keep)
            if self.line.value != picked:
                self._copy_line()
        if len(titles) > 1:  # hidden until there is a choice, and never again: the keyboard may stand in it
            self.which_row.layout.display = ""
        elif not self.chosen_said.text:
            self.which_row.layout.display = "none"
        super().drawn()
        self.question_group.layout.display = "" if self.question.options else "none"  # what is settled stays in it
        show(self.as_read, self.work.as_read if self.has_page else None)

    def _line_picked(self) -> None:
        if not self.quiet.on:
            self.corrected_said.say("")  # it spoke of another line
            self._copy_line()

    def _copy_line(self) -> None:
        self.reads.value = self.line.value or ""

    @property
    def has_page(self) -> bool:
        """Whether there are words on the desk."""
        return bool(self.work.record.transcription.strip())

    @property
    def messages(self) -> tuple[Message, ...]:
        """Every line that says what was done or went wrong."""
        return (*super().messages, self.picture_said, self.chosen_said, self.corrected_said, self.next_said)

    def shown(self) -> tuple[object, ...]:
        """Return what is shown now."""
        return (self.work.as_read,) if self.has_page else (self.work.card(),)
