"""What does a desk show? Each view is worked out from the record as it stands, by the library's functions."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from reconlab.comparison import Comparison, compare
from reconlab.display import Card
from reconlab.errors import InputError, NoIngredientError, SeveralReceiptsError, UnknownNameError, nearest
from reconlab.formula import Formula
from reconlab.materia import folded, thing
from reconlab.measures import measures_in
from reconlab.receipts import Page, Receipt, Use
from reconlab.record import LITERAL, Reconstruction, corrected, formula_of, page_of, receipt_of
from reconlab.screening import RESEARCH_AID, Screening, screen
from reconlab.substitution import StandIns, substitutes
from reconlab.workdesk._card import card_of, law_notes
from reconlab.workdesk._memory import Remembered
from reconlab.workdesk._names import names_card
from reconlab.workdesk._on_file import OnFile
from reconlab.workdesk._page import is_of
from reconlab.workdesk.asking import Asked, asked, open_card

if TYPE_CHECKING:
    from reconlab.reading.image import PicturedPage


class Views(OnFile):
    """A record at work, as it may be looked at."""

    def __init__(self, path: Path) -> None:
        super().__init__(path)
        self.recalled: Remembered = ()  # what the last step took over from other receipts
        self.memory_fault = ""  # why nothing could be taken over
        self.pictured: PicturedPage | None = None  # the page as it was read from a picture
        self._made: dict[str, Formula] = {}  # versions as worked out from the record as it stands

    def _forget(self) -> None:
        self.recalled = ()
        self.__dict__.pop("receipt", None)
        self._made = {}

    @cached_property
    def receipt(self) -> Receipt:
        """The receipt as read."""
        self._needs_text("the receipt")
        return receipt_of(self.record)

    @property
    def page(self) -> Page:
        """The whole page as read, its lines as corrected; with pieces of its picture where it was read from one."""
        self._needs_text("the page")
        if self.pictured is not None and is_of(self.record.transcription, self.pictured):
            from reconlab.reading.image import read_again  # noqa: PLC0415 - for pictures only

            return read_again(self.pictured, corrected(self.record).rstrip("\n"), self.record.source.setting)
        return page_of(self.record)

    @property
    def as_read(self) -> Card:
        """The printed words of the page, underlined by what they were understood as, and beside them what was read."""
        shown = self.page.card()
        chosen = (f"The work is about: {self.receipt.title}.",) if len(shown.beside) > 1 and self.has_receipt else ()
        mended = (d for d in self.record.decisions if d.question.startswith("line: "))
        notes = (
            f"Corrected: {d.question.removeprefix('line: ')!r} is to read {d.option!r}"
            + (f", because: {d.because}." if d.because else ".")
            for d in mended
        )
        return replace(shown, notes=(*chosen, *notes, *shown.notes))

    @property
    def literal(self) -> Formula:
        """The receipt in grams, as settled."""
        return self[LITERAL]

    def __getitem__(self, version: str) -> Formula:
        """Return a version by its name."""
        self._needs_text("the formula")
        if version not in self._made:
            self._made[version] = formula_of(self.record, version)
        return self._made[version]

    @property
    def versions(self) -> tuple[str, ...]:
        """The names of the versions, the literal one first."""
        return (LITERAL, *(version.name for version in self.record.versions))

    @property
    def measures(self) -> Card:
        """What each sign of the book came to, there and then, and what was settled of it."""
        shown = measures_in(self.record.source.setting)
        settled = (d for d in self.record.decisions if d.question in ("weights", "measures") and not d.at)
        notes = (*(f"Settled: {d.question} are {d.option}." for d in settled), *shown.notes)
        return replace(shown, notes=notes)

    @property
    def questions(self) -> Card:
        """What is open, what is taken meanwhile, and what each other answer does."""
        return open_card(self.record.title, self.literal)

    def asked(self) -> tuple[Asked, ...]:
        """Return every question with what each answer does: open ones first, those that matter most before others."""
        return asked(self.literal)

    @property
    def names(self) -> Card:
        """What each thing of the receipt was taken for, what else it may have been, and what would decide."""
        return names_card(self.receipt, self.literal)

    @property
    def unidentified(self) -> tuple[str, ...]:
        """The names nothing on file explains: say by `call` what they were."""
        return tuple(thing(key).name for key in self.literal.substances if not thing(key).identified)

    def as_printed(self, name: str) -> str:
        """Return a name as the page prints it, capitals and all; one that is not in it as it is."""
        wanted = folded(name)
        return next((item.name for item in self.receipt.items if folded(item.name) == wanted), name)

    def screen(self, version: str = LITERAL) -> Screening:
        """Say what law and good sense find in a version, for its use."""
        return screen(self[version], self._use("screen"))

    def stops(self, version: str = LITERAL) -> Card:
        """Say what stops the bench for a version, and what was not looked up; `screen` says all that was found."""
        return Card(f"What stops the bench ({version})", tuple(law_notes(self, version)), last=(RESEARCH_AID,))

    def substitutes(self, name: str) -> StandIns:
        """List what could stand in for a thing, for the use; a printed name is what it was settled to be."""
        try:
            return substitutes(name, self.record.use)
        except UnknownNameError:
            if not self.has_receipt:
                raise
            meant = self._meant_by(name)
            if meant is None:
                raise
            return substitutes(meant, self.record.use)

    def _meant_by(self, name: str) -> str | None:
        """Return the modern name of what a line is, as chosen; nothing where the tables do not know it."""
        try:
            line = self.literal.find_line(name)
        except LookupError:
            return None
        keys = [part.substance for part in self.literal.parts if part.item == line.item]
        keys += [key for item in self.literal.unweighed if item.item == line.item for key in item.substances]
        return next((thing(key).name for key in keys if thing(key).on_file), None)

    def compare(self, *versions: str) -> Comparison:
        """Set versions side by side; all of them where none is named."""
        self._needs_text("compare")
        if not versions and not self.record.versions:
            remedy = 'First: work.replace("a line", {"what stands in": 1}, name="safe").'
            raise InputError("there is one version only", self.path.name, remedy)
        return compare(*(self[version] for version in versions or self.versions), use=self.record.use)

    def card(self) -> Card:
        """Show how far the work has come, what to settle first, what stops the bench, and the next step."""
        return card_of(self)

    @property
    def sheet(self) -> Card:
        """The card without calls to copy, as panels show it."""
        return replace(card_of(self), last=(RESEARCH_AID,))

    @property
    def has_receipt(self) -> bool:
        """Whether there is a page on the desk, and an ingredient with an amount was read from it."""
        return "receipt" in self.__dict__ or receipt_in(self.record) is not None

    def _needs_text(self, what: str) -> None:
        if not self.record.transcription.strip():
            raise InputError(f"there is no receipt yet for {what}", self.path.name, 'First: work.read("""...""").')

    def _use(self, what: str) -> Use:
        self._needs_text(what)
        if self.record.use is None:
            raise InputError(
                f"no use is given for {what}", self.path.name, 'First: work.use(form="cold cream", law="EU").'
            )
        return self.record.use

    def _key_of(self, question: str, at: str) -> tuple[str, str]:
        """Let a person name a question by its key or by its words; return its key, and the line it is for."""
        wanted = folded(question)
        known = {one.id: one.asks for one in self.literal.ways.every_question}
        for key, asks in known.items():
            if wanted in (folded(key), folded(asks), folded(asks.rstrip("?"))):
                base, _, line = key.partition(" @ ")  # settled for one line: settled anew for that line
                return base, at or line
        decided = {d.question: d for d in self.record.decisions}
        if question in decided:
            return question, at
        on_page = question.startswith("name: ") and f" {wanted.removeprefix('name ')} " in folded(
            f" {self.record.transcription} "
        )
        if on_page or question.startswith("reading: "):
            return question, at
        hint = nearest(question, known)
        raise UnknownNameError(
            f"no question {question!r}", self.path.name, f"The questions are: {'; '.join(known)}.{hint}"
        )


def receipt_in(record: Reconstruction) -> Receipt | None:
    """Return the receipt of a record, or nothing where the page holds none yet, or several and none is chosen."""
    if not record.transcription.strip():
        return None
    try:
        return receipt_of(record)
    except (NoIngredientError, SeveralReceiptsError):
        return None
