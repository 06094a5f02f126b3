"""The book panel: whose ounces and pints a book used, settled once for every receipt of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from reconlab.panels.asking import Message
from reconlab.panels.desk_panel import DeskPanel
from reconlab.panels.parts import group, line, row, sheet, show
from reconlab.workdesk import Asked


class BookPanel(DeskPanel):
    """When and where a book was printed, what it says of its measures, and what then each sign came to."""

    def groups(self) -> tuple[Any, ...]:
        """Return what stands below the bar, in the order of the work."""
        more = {
            "rule": line(
                "What the author says of his weights",
                about="In his words: it goes before all customs.",
                example="oz. and lb. are avoirdupois, dr. and gr. troy",
            ),
            "text_years": line(
                "Text first written", about="Of a reprint or translation: its own year.", example="1840"
            ),
            "text_place": line("Text first written at", about="Of a translation: its own country.", example="Paris"),
        }
        self.fields |= more
        self.measures, self.formula = sheet(), sheet()
        answer = row(self.because, self.cited, self.settle)
        asked = widgets.VBox((row(self.question), self.choice.widget, answer))
        return (
            group("The book", row(*self.fields.values()), self.page_said.widget),
            group("What its receipt leaves open about measures", asked, self.question_said.widget),
            self.measures,
            self.formula,
        )

    def presses(self) -> tuple[tuple[Any, Message, Callable[[], object]], ...]:
        """Return each button of the panel's own: it has none."""
        return ()

    def scope(self) -> str:
        """Return for what an answer holds: the book, as soon as it has a name."""
        return "book" if self.work.record.source.book else ""

    def puts(self, asked: Asked) -> bool:
        """Return whether a question is about the book's measures."""
        return asked.of_the_book

    def drawn(self) -> None:
        """Show the record as it stands now."""
        super().drawn()
        show(self.measures, self.work.measures)
        show(self.formula, self.work.literal if self.has_text else None)

    def shown(self) -> tuple[object, ...]:
        """Return what is shown now."""
        return (self.work.measures, *((self.work.literal,) if self.has_text else ()))
