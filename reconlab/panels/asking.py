"""The parts of a panel that keep something: a question put with its answers, and a line that speaks."""

from __future__ import annotations

from html import escape

import ipywidgets as widgets

from reconlab.errors import InputError, ReconlabError
from reconlab.panels.parts import common, figure_of, line, row, told
from reconlab.workdesk import Asked

OWN = "an answer of my own"


class Choice:
    """A question with its answers, each with what it does beside it, and an answer of one's own."""

    def __init__(self) -> None:
        self._asked: Asked | None = None
        self.asks = widgets.HTML()
        self.answers = widgets.RadioButtons(options=(), **told("The answers", "Each says what it does."))
        self.own = line(OWN.capitalize(), about="Counts where that answer is chosen above.")
        self.widget = widgets.VBox((self.asks, self.answers, row(self.own)))
        self.widget.add_class("rl-choice")
        self.answers.add_class("rl-field")
        self.answers.layout.width = "auto"
        self.answers.observe(lambda _: self._own_only_where_chosen(), "value")
        self._own_only_where_chosen()

    def offer(self, asked: Asked | None) -> None:
        """Put a question, or none; nothing is chosen until a person chooses."""
        if asked == self._asked:
            return
        self._asked = asked
        self.asks.value = common(f"<p><strong>{escape(asked.asks)}</strong></p>") if asked else ""
        own = [OWN] if asked and asked.takes_own else []
        answers = [*(_beside(answer.words, answer.does) for answer in (asked.answers if asked else ())), *own]
        self.answers.options = tuple((words, place) for place, words in enumerate(answers))
        self.answers.value = None
        self.own.value = ""
        self.own.description = f"My own answer, in {asked.unit}" if asked and asked.unit else "My own answer"
        self._own_only_where_chosen()

    def answer(self) -> tuple[str, str, float | None]:
        """Return the question, the answer chosen and, where it is one, the figure."""
        if self._asked is None or self.answers.value is None:
            raise InputError("no answer is chosen", self._asked.asks if self._asked else "", "Choose one first.")
        key, answers = self._asked.key, self._asked.answers
        if self.answers.value < len(answers):
            chosen = answers[self.answers.value]
            return key, chosen.option, chosen.figure
        if not self.own.value.strip():
            raise InputError("your own answer is empty", self._asked.asks, "Write it beside the answers.")
        if self._asked.unit:
            return key, "", figure_of(self.own.value, where=self._asked.asks)
        return key, self.own.value.strip(), None

    def _own_only_where_chosen(self) -> None:
        wanted = self._asked is not None and self.answers.value == len(self._asked.answers)
        self.own.layout.display = "" if wanted else "none"


class Message:
    """A line that says what was done or what went wrong; screen readers say it when it changes."""

    def __init__(self) -> None:
        self.text = ""
        self.widget = widgets.HTML(_spoken("", "status"))

    def say(self, words: str) -> None:
        """Say something that needs nothing done."""
        self._put(words, "status")

    def fault(self, error: ReconlabError) -> None:
        """Say what was found, where, and what to do."""
        self._put(str(error), "alert")

    def _put(self, words: str, role: str) -> None:
        self.text = words
        self.widget.value = _spoken(words, role)


def _beside(words: str, does: str) -> str:
    return f"{words}: {does}" if does else words


def _spoken(words: str, role: str) -> str:
    looks = "rl-message rl-fault" if role == "alert" else "rl-message"
    return common(f'<p class="{looks}" role="{role}" aria-live="polite">{escape(words)}</p>')
