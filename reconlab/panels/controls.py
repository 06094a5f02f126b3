"""What stands on the receipt panel: its controls, each with its label and what it is for."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from reconlab.panels.asking import Message
from reconlab.panels.desk_panel import DeskPanel
from reconlab.panels.parts import button, group, line, page, pick, row, sheet, tick
from reconlab.workdesk import on_offer


class Controls(DeskPanel):
    """The controls of the receipt panel, in the order of the work; they do nothing by themselves."""

    def groups(self) -> tuple[Any, ...]:
        """Return what stands below the bar, in the order of the work."""
        self._page()
        self._open()
        self._use()
        self._formula()
        self._replacing()
        self._bench()
        self._seeing()
        self._writing()
        return (
            self.page_group,
            self.question_group,
            self.use_group,
            self.formula_group,
            self.replace_group,
            self.bench_group,
            self.seen_group,
            self.write_group,
        )

    def _page(self) -> None:
        self.text = page(
            "The receipt as printed",
            about="Paste or type it, one line an ingredient. It is saved as you type.",
            example="Violet Powder.\nStarch, 3 oz.\nOrris root, 1 oz.",
        )
        self.page_group = group("The page", row(self.text), row(*self.fields.values()), self.page_said.widget)

    def _open(self) -> None:
        self.unknown = pick("A name not on file", (), about="Nothing on file says what it was.")
        self.was = line("What it was", about="A modern name, or words of your own.", example="zinc oxide")
        self.was_because = line("How you know", about="Kept with the answer.")
        self.call = button("Say what it was", about="Keeps it as your word, for other receipts too.")
        self.unknown_row = row(self.unknown, self.was, self.was_because, self.call)
        self.unknown_row.layout.display = "none"
        self.whole_book = tick("for every receipt of this book", about="The book is then not asked again.")
        self.answer_box = widgets.VBox(
            (row(self.question), self.choice.widget, row(self.because, self.cited, self.whole_book, self.settle))
        )
        self.question_group = group("What is open", self.unknown_row, self.answer_box, self.question_said.widget)

    def _use(self) -> None:
        self.uses = {
            "form": pick("Form", on_offer("form"), about="What it is made as.", nothing="not said yet"),
            "law": pick("Law", on_offer("law"), about="Which law is asked.", nothing="none"),
            "on": line(
                "Day", about="The day the law is asked for; today where empty.", example="2026-11-01", each_key=True
            ),
            "wearer": pick("Worn by", on_offer("wearer"), about="Some rules ask who wears it."),
        }
        self.use_said = Message()
        self.use_group = group("The use", row(*self.uses.values()), self.use_said.widget)

    def _formula(self) -> None:
        self.version = pick("Version shown", (), about="The receipt as decided, or a version of yours.")
        self.formula, self.law, self.compared = sheet(), sheet(), sheet()
        self.compare = button("Compare the versions", about="Sets all versions side by side.")
        self.drop = button("Drop this version", about="Takes it out of the record, unless it was made.")
        self.formula_said = Message()
        self.formula_group = group(
            "The formula",
            row(self.version, self.compare, self.drop),
            self.formula_said.widget,
            self.formula,
            self.law,
            self.compared,
        )

    def _replacing(self) -> None:
        self.out = pick("Take out", (), about="The line that is replaced.")
        self.into = line("Put in", about="A modern name; empty leaves the line out.", example="calcium carbonate")
        self.much = line("How much for 1 of it", about="Amount for one of what was there.", value="1")
        self.into2 = line("And put in", about="A second thing, where two take its place.")
        self.much2 = line("How much of that", about="Amount for one of what was there.", value="1")
        self.basis = pick("Set equal by", on_offer("basis"), about="Weight for weight, or measure for measure.")
        self.name = line("Name of the version", about="A name that is there adds to it.", example="safe")
        self.parent = pick("Starts from", (), about="The version that is changed.")
        self.kind = pick("Kind of change", on_offer("kind"), about="What it is for.", nothing="not said")
        self.why = line("Because", about="Why it is replaced: kept with the version.")
        self.expected = line("What it should do", about="What you expect of the change.")
        self.stand_ins = sheet()
        self.ask = button("What could stand in?", about="Lists documented substitutes for the line.")
        self.replace = button("Replace", about="Makes the version, or adds the change to it.")
        self.replace_said = Message()
        self.replace_group = group(
            "Replace a line",
            row(self.out, self.ask),
            self.stand_ins,
            row(self.into, self.much, self.into2, self.much2, self.basis),
            row(self.name, self.parent, self.kind, self.why, self.expected, self.replace),
            self.replace_said.widget,
        )

    def _bench(self) -> None:
        self.made = pick("Version to make", (), about="Which version the plan is for.")
        self.make = line("Make", about="How much.", value="50 g", example="50 g")
        self.balance = line("Balance shows", about="Its smallest step.", value="0.01 g", example="0.01 g")
        self.jar = line("Jar holds", about="May be left empty.", example="60 mL")
        self.do_plan = button("Plan the bench", about="Plans a batch, or says why it is not made.")
        self.plan, self.bench_said = sheet(), Message()
        fields = row(self.made, self.make, self.balance, self.jar, self.do_plan)
        self.bench_group = group("The bench", fields, self.bench_said.widget, self.plan)

    def _seeing(self) -> None:
        self.seen_of = pick("What was seen", (), about="A version, or a batch of those planned, in their order.")
        self.seen = line("What you saw", about="Kept in the record with the day.", example="pale, spreads well")
        self.after = line("How long after", about="May be left empty.", example="two weeks")
        self.note = button("Write it down", about="Keeps it in the record.")
        self.seen_said = Message()
        fields = row(self.seen_of, self.seen, self.after, self.note)
        self.seen_group = group("What you saw", fields, self.seen_said.widget)

    def _writing(self) -> None:
        self.folder = line("Folder", about="Where the article and the bench sheets are written.", value="out")
        self.write = button("Write", about="Writes the article and the bench sheets.")
        self.write_said = Message()
        self.write_group = group("Write it up", row(self.folder, self.write), self.write_said.widget)

    @property
    def messages(self) -> tuple[Message, ...]:
        """Every line that says what was done or went wrong, but for the one that says when it was saved."""
        more = (self.use_said, self.formula_said, self.replace_said, self.bench_said, self.seen_said, self.write_said)
        return (*super().messages, *more)
