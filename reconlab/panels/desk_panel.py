"""What every panel of a desk does: it keeps what is typed, takes each step by a call of the desk, says what went wrong.

It has the bar above, the fields that say which book it is, and the questions; what else a panel shows is its own.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from functools import partial
from typing import Any

import ipywidgets as widgets

from reconlab.display import Shown
from reconlab.errors import InputError, ReconlabError
from reconlab.panels.asking import Choice, Message
from reconlab.panels.calls import Call, Calls
from reconlab.panels.parts import button, line, offer, page, pick, row, style
from reconlab.panels.saving import Later, Quiet
from reconlab.workdesk import Asked, Desk, on_offer

LITERAL = "literal"
_ARRIVES_S = 0.15  # within which the text of a field that was left by pressing a button has come


class DeskPanel(widgets.VBox):  # type: ignore[misc]  # the widgets have no types
    """A panel over a desk. As text it is what it shows, so that a notebook without widgets shows the same."""

    def __init__(self, work: Desk) -> None:
        super().__init__()
        self.work = work
        self.quiet = Quiet()
        self.calls = Calls(work.path.name, work.record, empty=not self.has_text)
        self.typed = Later(self.save_typed)
        self.looked_at: dict[str, Shown] = {}  # what was asked for and stands until the next step
        self._unsaved: dict[str, Any] = {}  # fields typed in since they were last saved
        self._asked: dict[str, Asked] = {}
        self._filled_of: object = None  # the record the fields were filled from, or that was saved from them
        self._bar()
        self._book_fields()
        self._questions()
        self.children = (self.bar_group, *self.groups())
        self.children = (style(self.controls), *self.children)
        self.add_class("rl-panel")
        self.wire()
        self.fill()
        self.draw()

    # The controls all panels have.

    def _bar(self) -> None:
        self.state, self.bar_said = Message(), Message()
        self.undo = button("Undo", about="Takes the last step back; earlier days too.")
        self.redo = button("Redo", about="Takes the last undo back.")
        self.look = button("Look again", about="Reads the record again as it stands on disk.")
        self.show_calls = button("Show the calls", about="Shows the code that does the same.")
        self.code = page("The calls that do the same, to copy", about="Code for a notebook cell; changes as you work.")
        self.code.layout.display = "none"
        buttons = row(self.undo, self.redo, self.look, self.show_calls)
        self.bar_group = widgets.VBox((self.state.widget, buttons, self.bar_said.widget, row(self.code)))

    def _book_fields(self) -> None:
        self.fields = {  # a title half typed may be another book's: these are told when they are left
            "source": line("Book", about="Its title, as you would cite it.", example="shop's day-book"),
            "author": line("Author", about="Who wrote it."),
            "page": line("Page", about="Where in the book the receipt stands.", example="14"),
            "years": line(
                "Year", about="When the book was printed.", example="1890, 1880-1890 or c. 1880", each_key=True
            ),
            "place": line("Place", about="Town or country it was printed in.", example="London", each_key=True),
            "book": pick(
                "Kind of book", on_offer("book"), about="Decides whose weights are meant.", nothing="not known"
            ),
        }
        self.page_said = Message()

    def _questions(self) -> None:
        self.question = pick("Question", (), about="Those that matter most come first.")
        self.choice = Choice()
        self.because = line("Because", about="Why this answer: kept with the decision.", example="preface, p. iv")
        self.cited = line("Source", about="Who says so, where you have one.")
        self.settle = button("Settle it", about="Takes the answer chosen above; the next question follows.")
        self.question_said = Message()

    def groups(self) -> tuple[Any, ...]:
        """Return what stands below the bar, in the order of the work."""
        raise NotImplementedError

    def presses(self) -> tuple[tuple[Any, Message, Callable[[], object]], ...]:
        """Return each button of the panel's own, where it says how it went, and what it does."""
        raise NotImplementedError

    def typed_in(self) -> dict[str, Any]:
        """Return every field whose text is saved as it is typed, by what it says."""
        return self.fields

    def wire(self) -> None:
        """Tie the controls to what they do."""
        shared = (
            (self.undo, self.bar_said, lambda: self._back("undo")),
            (self.redo, self.bar_said, lambda: self._back("redo")),
            (self.look, self.bar_said, self._look_again),
            (self.settle, self.question_said, self._settle),
        )
        for pressed, said, step in (*shared, *self.presses()):
            pressed.on_click(lambda _, said=said, step=step: self._pressed(said, step))
        self.show_calls.on_click(lambda _: self._show_calls())
        self.question.observe(lambda _: self._picked(), "value")
        for key, field in self.typed_in().items():
            field.observe(lambda change, key=key: self._touched(key, change["owner"]), "value")

    # Saving what is typed.

    def _touched(self, key: str, field: Any) -> None:  # noqa: ANN401 - widgets have no types
        if not self.quiet.on:
            self._unsaved[key.split(" ", maxsplit=1)[0]] = field
            self.typed.touch()

    def save_typed(self) -> None:
        """Save what was typed; what cannot be saved yet stays in its field, and the line below says why."""
        for said in {self.said_of(key) for key in self.typed_in()}:
            said.say("")
        for key, field in tuple(self._unsaved.items()):
            if self.guarded(self.said_of(key), partial(self.save, key, field)):
                del self._unsaved[key]
        self.draw()

    def said_of(self, key: str) -> Message:  # noqa: ARG002 - another panel has more than one place
        """Return where it is said how the saving of a field went."""
        return self.page_said

    def save(self, key: str, field: Any) -> None:  # noqa: ANN401
        """Save one field."""
        self.step("setting", **{key: field.value.strip()})

    # Steps: each is one call of the desk.

    def step(self, method: str, *plain: object, **named: object) -> Any:  # noqa: ANN401 - what the method gives
        """Call the desk, and keep the call where the record changed."""
        before = self.work.record
        given = getattr(self.work, method)(*plain, **named)
        self._filled_of = self.work.record
        if self.work.record != before or method == "write":
            call = Call(method, plain, tuple(named.items()))
            self.calls.took(call, before, self.work.record, says_all=self._says_all(call))
            self.looked_at.clear()
        return given

    def _says_all(self, call: Call) -> bool:
        """Return whether the same call before this one adds nothing to it."""
        if call.method in ("read", "read_page"):  # a title the page no longer prints is kept from the reading before
            return self.work.record.title.casefold() in str(call.plain).casefold()
        return call.method == "use"

    def guarded(self, said: Message, step: Callable[[], object]) -> bool:
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

    def _pressed(self, said: Message, step: Callable[[], object]) -> None:
        """Do what a button says, a moment later: what a quick tap left in a field may arrive after the tap."""
        try:
            asyncio.get_running_loop().call_later(_ARRIVES_S, self._press, said, step)
        except RuntimeError:  # no loop, so nothing is on its way
            self._press(said, step)

    def _press(self, said: Message, step: Callable[[], object]) -> None:
        """Do a step: what was typed is saved before, all is drawn after."""
        self.typed.now()
        said.say("")
        self.guarded(said, step)
        self.draw()

    def _settle(self) -> None:
        key, option, figure = self.choice.answer()
        plain = (key, option) if figure is None else (key,)
        sources = tuple(filter(None, (self.cited.value.strip(),)))
        because = self.because.value.strip()
        self.step("settle", *plain, **given(figure=figure, because=because, sources=sources, scope=self.scope()))
        where = " for every receipt of the book" if self.scope() else ""
        self.question_said.say(f"Settled{where}: {key}; {f'because {because}' if because else 'no reason was given'}.")
        self.because.value = self.cited.value = ""
        self.settled()
        self.question.value = None  # the next one follows

    def settled(self) -> None:
        """Put back what holds for one answer only."""

    def scope(self) -> str:
        """Return for what an answer holds; empty for this receipt alone."""
        raise NotImplementedError

    def _back(self, method: str) -> None:
        getattr(self.work, method)()
        self.calls.went_back(Call(method), self.work.record)
        self.looked_at.clear()
        for said in self.messages:
            said.say("")
        self.fill()

    def _look_again(self) -> None:
        self.work.look_again()
        if self._unsaved:  # the desk is free again: what was typed while another program wrote is saved now
            self.save_typed()

    def _show_calls(self) -> None:
        hidden = self.code.layout.display == "none"
        self.code.layout.display = "" if hidden else "none"
        self.show_calls.description = "Hide the calls" if hidden else "Show the calls"

    # Showing.

    @property
    def has_text(self) -> bool:
        """Whether there is a receipt on the desk."""
        return self.work.has_receipt

    def fill(self) -> None:
        """Put into the fields what the record says; what is typed and not saved yet stays."""
        self._filled_of = self.work.record
        source = self.work.record.source
        said = {"source": source.book, "book": source.kind}
        with self.quiet.filling():
            for key, field in self.fields.items():
                if key not in self._unsaved:
                    field.value = said[key] if key in said else getattr(source, key)

    def draw(self) -> None:
        """Show the record as it stands now."""
        self.guarded(self.bar_said, self.drawn)

    def drawn(self) -> None:
        """Show what all panels show: the state of the record, the calls, and the questions."""
        work = self.work
        if work.record != self._filled_of:  # a step was taken in a cell or in another panel
            self.fill()
        self.calls.look(work.record)
        self.state.say(f"{work.path.name}, saved at {work.saved_at}" if work.saved_at else work.path.name)
        self.code.value = str(self.calls)
        self._asked = {asked.key: asked for asked in (work.asked() if self.has_text else ()) if self.puts(asked)}
        with self.quiet.filling():
            words = [(f"{one.asks}{' (settled)' if one.settled else ''}", key) for key, one in self._asked.items()]
            offer(self.question, words)
        self._put_question()
        self._only_look(not work.may_write)

    def puts(self, asked: Asked) -> bool:  # noqa: ARG002 - another panel puts some only
        """Return whether a question is one of this panel's."""
        return True

    def _picked(self) -> None:
        if not self.quiet.on:
            self.question_said.say("")  # it spoke of another question
        self._put_question()

    def _put_question(self) -> None:
        self.choice.offer(self._asked.get(self.question.value))

    def _only_look(self, look: bool) -> None:  # noqa: FBT001
        if look:
            self.bar_said.say(f"Here you can only look: {self.work.why_not} Then press Look again.")
        elif self.bar_said.text.startswith("Here you can only look"):
            self.bar_said.say("")
        for control in self.controls:
            if control not in self.only_shows():
                control.disabled = look

    def only_shows(self) -> tuple[Any, ...]:
        """Return the controls that change nothing in the record: they stay where one can only look."""
        return (self.look, self.show_calls, self.code, self.question)

    @property
    def controls(self) -> list[Any]:
        """Every control a person can use, in the order of the keyboard."""
        found: list[Any] = []
        waiting = [*self.children]
        while waiting:
            first, *rest = waiting
            inside = getattr(first, "children", None)
            waiting = [*(inside or ()), *rest]
            if inside is None and hasattr(first, "disabled"):
                found.append(first)
        return found

    @property
    def messages(self) -> tuple[Message, ...]:
        """Every line that says what was done or went wrong, but for the one that says when it was saved."""
        return (self.bar_said, self.page_said, self.question_said)

    def shown(self) -> tuple[object, ...]:
        """Return what is shown now, as things that can be said as text."""
        raise NotImplementedError

    def __str__(self) -> str:
        """Return what is shown as text."""
        said = (message.text for message in self.messages if message.text)
        return "\n\n".join((*map(str, (*self.shown(), *self.looked_at.values())), *said))

    __repr__ = __str__

    def _repr_mimebundle_(self, **_: object) -> dict[str, object]:
        """Return the panel for a notebook: alive, and as text and HTML where nothing is alive."""
        alive = super()._repr_mimebundle_() or {}
        return {**alive, "text/plain": str(self)}


def given(**named: object) -> dict[str, object]:
    """Return the arguments in which something is said that is not said anyway.

    Parameters
    ----------
    **named : object
        What the fields hold, by the name of the argument.

    Returns
    -------
    dict of str to object
        Without what is empty or usual.

    Examples
    --------
    >>> given(because="", parent="literal", basis="volume")
    {'basis': 'volume'}
    """
    untold = ("", (), None, False)
    usual = {"parent": LITERAL, "basis": "mass", "of": LITERAL}
    return {name: value for name, value in named.items() if value not in untold and usual.get(name) != value}
