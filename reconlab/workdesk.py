"""Where does a person work? The desk: a record file and its past; each step is saved, and can be undone.

Everything here is thin: a step changes the record and saves it; what is shown is worked out from the record by the
library's functions.
"""

from __future__ import annotations

import csv
import hashlib
import json
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path

from filelock import FileLock, Timeout

from reconlab.benchwork import Plan, bench
from reconlab.comparison import Comparison, compare
from reconlab.display import Card, Shown, Table
from reconlab.errors import FileError, InputError, ReconlabError, RecordError, UnknownNameError
from reconlab.formula import Formula, Replacement
from reconlab.materia import folded, thing
from reconlab.measures import custom_question
from reconlab.reasons import Decision, Question, Scope, Spread, Standing
from reconlab.receipts import BOOK_KINDS, Receipt, Use
from reconlab.record import (
    LITERAL,
    Observation,
    Reconstruction,
    Source,
    Stale,
    Version,
    batch_of,
    formula_of,
    open_record,
    orphans,
    past_states,
    preferred_answer,
    receipt_of,
    save,
    stale,
    stamped,
    step_back,
)
from reconlab.record.parts import BASES, CHANGE_KINDS
from reconlab.screening import LAWS, RESEARCH_AID, Screening, screen
from reconlab.substitution import StandIns, substitutes
from reconlab.tables import FormRow, LawText, Rule, overlay_folder, rows
from reconlab.writeup import write

_Remembered = tuple[tuple[str, Decision], ...]  # answers by the book they are remembered for

_SHOWN = 3  # questions put first on the card
_OPEN: dict[Path, Desk] = {}  # desks of this process, by record
_PAGE = re.compile(r"(?P<book>.*\S),\s+(?P<page>(?:pp?|fol|ff?|leaf)\.?\s*\d\S*)", re.IGNORECASE | re.DOTALL)
_PATIENCE_S = 5  # for another notebook to finish remembering
_OWN_WORDS = "own-words"
_LONGEST = 60  # letters of a book's title in the name of the file that remembers it


def desk(path: str | Path) -> Desk:
    r"""Return the desk of a record: the file is made if it is not there, and every step is saved in it.

    Asked again for the same file in one notebook, the same desk is returned, as the file now stands.

    Parameters
    ----------
    path : str or pathlib.Path
        A record, such as ``"violet-powder.yaml"``.

    Returns
    -------
    Desk
        Where the work is done.

    Raises
    ------
    InputError
        If the name does not end in .yaml.
    FileError
        If the record cannot be made, or was moved away from its past states.
    RecordError
        If the record does not keep its format.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     work = desk(Path(folder) / "powder.yaml")
    ...     _ = work.read("Starch, 3 oz.\nOrris root, 1 oz.", years="1911", place="England")
    ...     print(round(work.literal.share("orris root").number))
    ...     work.close()
    25
    """
    place = Path(path).expanduser().resolve()
    if place.suffix.lower() not in (".yaml", ".yml"):
        raise InputError(
            f"{Path(path).name!r} is no name for a record", "desk", 'End it in .yaml, such as "violet.yaml".'
        )
    work = _OPEN.get(place) or Desk(place)
    try:
        work.look_again()
    except ReconlabError:
        if place not in _OPEN:
            work.close()
        raise
    _OPEN[place] = work
    return work


def on_offer(what: str) -> tuple[str, ...]:
    """Return the words the desk takes where only some will do.

    Parameters
    ----------
    what : str
        ``"book"``, ``"form"``, ``"law"``, ``"wearer"``, ``"kind"`` of change or ``"basis"`` of a replacement.

    Returns
    -------
    tuple of str
        In the order they stand on file.

    Raises
    ------
    InputError
        If there is no such list.

    Examples
    --------
    >>> on_offer("basis")
    ('mass', 'volume')
    """
    lists: dict[str, Iterable[str]] = {
        "book": BOOK_KINDS,
        "form": (row.form for row in rows(FormRow)),
        "law": (row.law for row in rows(LawText)),
        "wearer": ("adult", *(rule.wearer for rule in rows(Rule) if rule.wearer)),
        "kind": CHANGE_KINDS,
        "basis": BASES,
    }
    if what not in lists:
        raise InputError(f"there is no list of {what!r}", "on_offer", f"The lists are: {', '.join(lists)}.")
    return tuple(dict.fromkeys(lists[what]))


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer a question may be given: how it reads, how it stands, and what it does to the formula, in words."""

    words: str
    option: str = ""  # what `settle` is given; empty where the answer is a figure
    standing: Standing = "possible"
    figure: float | None = None
    does: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A question with its answers, the one that holds first; with its unit where the answer is a figure."""

    key: str
    asks: str
    answers: tuple[Answer, ...]
    unit: str = ""
    settled: Decision | None = None


class Desk(Shown):
    """One record at work. Make it by `desk`; the last line of a cell shows how far the work has come."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._lock = FileLock(path.with_name(f".{path.name}.lock"), thread_local=False)
        self._why_not = ("", "")  # why nothing can be written, and what to do
        self.may_write = self._take_lock()
        self.record = Reconstruction()
        self._seen = ""  # checksum of the file as this desk last saw it
        self._undone: list[tuple[Reconstruction, _Remembered]] = []  # with what was forgotten when it was undone
        self._recalled: _Remembered = ()  # what the last step took over from other receipts
        self._made: dict[str, Formula] = {}  # versions as worked out from the record as it stands
        self._now_other: tuple[tuple[str, Source], tuple[Stale, ...]] | None = None
        self.saved_at = ""

    # The file.

    def look_again(self) -> None:
        """Read the record again as it now stands on disk."""
        self.may_write = self.may_write or self._take_lock()
        if not self.path.exists():
            self._begin()
        self.record = open_record(self.path)
        now = _checksum(self.path)
        if now != self._seen:
            self._undone.clear()
        self._seen, self._now_other = now, None
        self._forget()

    def close(self) -> None:
        """Give the record free for another notebook; the operating system does so too when this one ends."""
        self._lock.release()
        self.may_write = False
        self._why_not = ("this desk was closed", f'Open it again: work = rl.desk("{self.path.name}").')
        if _OPEN.get(self.path) is self:
            del _OPEN[self.path]

    def _begin(self) -> None:
        if not self.may_write:
            raise FileError(self._why_not[0], str(self.path), "There is no record here yet to look at.")
        states = past_states(self.path)
        if self._seen or states:  # an empty record in its place would hide that it is gone
            held = "work.record" if self._seen else f"rl.open_record({_quoted(str(states[-1]))})"
            back = (
                f"Put it back, or save it again: rl.save({held}, {_quoted(str(self.path))}). Then open the desk again."
            )
            raise FileError("the record was moved or deleted; what it held is kept", str(self.path), back)
        self._keep(Reconstruction(title=self.path.stem.replace("-", " ").capitalize()))

    def _take_lock(self) -> bool:
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            self._lock.acquire(timeout=0)
        except Timeout:
            self._why_not = ("another notebook is working on this record", "Close it there; here you can look.")
            return False
        except OSError as fault:
            found = f"nothing can be written beside it ({fault.strerror or fault})"
            self._why_not = (found, "Work in a folder of your own; here you can look.")
            return False
        return True

    def _step(self, record: Reconstruction) -> Desk:
        """Save the record as changed, if it can be worked out; nothing is saved that cannot be shown again."""
        names = (LITERAL, *(version.name for version in record.versions)) if record.transcription else ()
        made = {name: formula_of(record, name) for name in names}
        try:
            self._keep(record)
        except RecordError as fault:  # it speaks of a line of the file, which was not written
            raise InputError(fault.found, fault.where.rpartition(", ")[2], fault.remedy) from fault
        self._made = made
        self._undone.clear()
        return self

    def _check(self) -> None:
        """Make sure that nothing of another's is written over."""
        if not self.may_write:
            raise FileError(self._why_not[0], str(self.path), self._why_not[1])
        if self._seen and not self.path.exists():
            self._begin()
        if self._seen and _checksum(self.path) != self._seen:
            found = "the file has been changed by another program"
            remedy = "Look at it, then open the desk again: nothing was written over it."
            raise FileError(found, str(self.path), remedy)

    def _keep(self, record: Reconstruction) -> None:
        self._check()
        save(stamped(record), self.path)
        self.record, self._seen = stamped(record), _checksum(self.path)
        self.saved_at = _now()
        self._forget()

    def _forget(self) -> None:
        self._recalled = ()
        self.__dict__.pop("receipt", None)
        self._made = {}

    def undo(self) -> Desk:
        """Take the last step back; steps of earlier days too."""
        self._check()
        if not past_states(self.path):
            raise InputError("there is no earlier step", str(self.path), "This is where the record began.")
        before, self.record = self.record, step_back(self.path)
        self._seen, self.saved_at = _checksum(self.path), _now()
        self._forget()
        forgotten = self._taken_back(before)
        self._undone.append((before, forgotten))
        for book, decision in forgotten:
            was = (d for d in self.record.decisions if (d.question, d.at) == (decision.question, ""))
            self._remember(book, decision.question, next((d for d in was if not book or d.scope == "book"), None))
        return self

    def redo(self) -> Desk:
        """Take the last undo back."""
        if not self._undone:
            raise InputError("nothing was undone", str(self.path), "Redo takes back an undo of this session.")
        record, forgotten = self._undone[-1]
        self._keep(record)
        self._undone.pop()
        for book, decision in forgotten:
            self._remember(book, decision.question, decision)
        return self

    # Steps.

    def read(
        self,
        text: str,
        *,
        source: str = "",
        author: str = "",
        page: str = "",
        years: str = "",
        place: str = "",
        book: str = "",
        rule: str = "",
    ) -> Desk:
        """Put a receipt on the desk as printed; decisions already taken are kept.

        A page at the end of the source, as in "day-book, p. 14", is kept apart, so that p. 15 is of the same book.
        """
        was = self.record.source
        source, found_page = _book_and_page(source, page)
        page = found_page or ""
        found = Source(
            book=source or was.book,
            author=author or was.author,
            page=page or was.page,
            years=years or was.years,
            place=place or was.place,
            kind=book or was.kind,
            rule=rule or was.rule,
            publisher=was.publisher,
            address=was.address,
            seen=was.seen,
            note=was.note,
        )
        record = replace(self.record, transcription=text.strip() + "\n", source=found)
        receipt = receipt_of(record)
        titled = replace(record, title=receipt.title or record.title)
        return self._recalling(titled)

    def read_table(
        self,
        path: str | Path,
        *,
        source: str = "",
        author: str = "",
        page: str = "",
        years: str = "",
        place: str = "",
        book: str = "",
        rule: str = "",
    ) -> Desk:
        """Put a receipt out of a spreadsheet on the desk: a CSV with a column text, or the columns name and amount."""
        text = _text_of_table(Path(path))
        return self.read(text, source=source, author=author, page=page, years=years, place=place, book=book, rule=rule)

    def setting(
        self,
        *,
        years: str | None = None,
        place: str | None = None,
        book: str | None = None,
        source: str | None = None,
        author: str | None = None,
        page: str | None = None,
    ) -> Desk:
        """Say when, where and in what kind of book the receipt was printed.

        What is left out stays as it was; an empty text says that it is not known after all.
        """
        if source:
            source, page = _book_and_page(source, page)
        said = {"years": years, "place": place, "kind": book, "book": source, "author": author, "page": page}
        found = replace(self.record.source, **{field: words for field, words in said.items() if words is not None})
        _ = found.setting.span, found.setting.region
        return self._recalling(replace(self.record, source=found))

    def settle(
        self,
        question: str,
        answer: str = "",
        *,
        because: str = "",
        sources: Sequence[str] = (),
        figure: float | None = None,
        scope: Scope = "receipt",
        at: str = "",
        who: str = "",
    ) -> Desk:
        """Answer a question, by its key or its words; with scope "book" for every receipt of that book."""
        self._needs_text("settle")
        if scope == "book" and not self.record.source.book:
            raise InputError("no book is named", self.path.name, 'First: work.setting(source="the book").')
        if scope == "book" and at:
            raise InputError("one line is not the whole book", "settle", 'Leave out at=..., or scope="book".')
        key = self._key_of(question)
        decision = Decision(
            question=key,
            option=answer,
            figure=figure,
            because=because,
            sources=tuple(sources),
            who=who,
            when=_today(),
            scope=scope,
            at=at,
            answered=preferred_answer(self.record, key),
        )
        others = tuple(d for d in self.record.decisions if (d.question, d.at) != (key, at))
        self._step(replace(self.record, decisions=(*others, decision)))
        if scope == "book":
            self._remember(self.record.source.book, key, decision)
        return self

    def call(self, name: str, thing_: str, *, because: str = "", sources: Sequence[str] = ()) -> Desk:
        """Say what a printed name was, in a modern name or in words of your own; it is remembered as your word."""
        self._needs_text("call")
        if not folded(name) or not thing_.strip():
            raise InputError(
                "nothing is said of what it was", "call", 'Say both: work.call("the name", "what it was").'
            )
        key = f"name: {folded(name)}"
        decision = Decision(
            question=key,
            option=thing_,
            because=because,
            sources=tuple(sources),
            when=_today(),
            answered=preferred_answer(self.record, key),
        )
        others = tuple(d for d in self.record.decisions if d.question != key)
        self._step(replace(self.record, decisions=(*others, decision)))
        self._remember("", key, decision)
        return self

    def use(self, *, form: str, law: str = "", on: str = "", wearer: str = "adult") -> Desk:
        """Say what it is made as, under which law, on which day, for whom."""
        if law and law not in LAWS:
            raise InputError(f"law {law!r} is not one asked about here", "law", f"Use one of: {', '.join(LAWS)}.")
        return self._step(replace(self.record, use=Use(form, law, on or _today(), wearer)))

    def replace(
        self,
        out: str,
        into: Mapping[str, float],
        *,
        name: str,
        parent: str = LITERAL,
        basis: str = "mass",
        kind: str = "",
        because: str = "",
        expected: str = "",
        sources: Sequence[str] = (),
    ) -> Desk:
        """Make a version in which one line is replaced; the same name again adds a change to it."""
        self._needs_text("replace")
        if not name.strip():
            raise InputError("the version has no name", "name", 'Give it one, such as name="safe".')
        change = Replacement(
            out=out,
            into=dict(into),
            basis=basis,
            kind=kind,
            because=because,
            expected=expected,
            sources=tuple(sources),
        )
        known = {version.name: version for version in self.record.versions}
        before = known.get(name, Version(name=name, parent=parent))
        if parent not in (LITERAL, before.parent):
            remedy = "Leave out parent=..., or give the version another name."
            raise InputError(f"{name!r} starts from {before.parent!r} already", "parent", remedy)
        known[name] = replace(before, changes=(*before.changes, change))
        return self._step(replace(self.record, versions=tuple(known.values())))

    def bench(self, version: str = LITERAL, *, make: str, balance: str, jar: str = "") -> Plan:
        """Plan a batch, or say why it is not made; either is kept in the record, word for word."""
        plan = bench(self[version], make=make, balance=balance, jar=jar, use=self._use("bench"))
        others = (b for b in self.record.batches if b.version != version or b.made_on or b.weighed)
        self._step(replace(self.record, batches=(*others, batch_of(plan))))
        return plan

    def note(self, what: str, *, of: str = LITERAL, after: str = "") -> Desk:
        """Write down what was seen, of a version or of "batch 1"."""
        if not what.strip():
            raise InputError("nothing was written down", "note", 'Say what was seen: work.note("pale, no smell").')
        seen = Observation(of=of, what=what, on=_today(), after=after)
        return self._step(replace(self.record, observations=(*self.record.observations, seen)))

    # Views.

    @cached_property
    def receipt(self) -> Receipt:
        """The receipt as read."""
        self._needs_text("the receipt")
        return receipt_of(self.record)

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
    def questions(self) -> Card:
        """What is open, what is taken meanwhile, and what each other answer does."""
        swings = self.literal.swings()
        rows = []
        for question in self.literal.open_questions():
            taken = (
                question.options[0].words if isinstance(question, Question) else f"{question.usual:.3g} {question.unit}"
            )
            does = "; ".join(str(swing) for swing in swings if swing.question == question.id) or "changes nothing shown"
            rows.append((question.id, question.asks, taken, does))
        heads = ("key", "question", "taken meanwhile", "the other answers")
        note = () if rows else ("Nothing is open.",)
        return Card(f"{self.record.title}: questions", note, (Table("", heads, tuple(rows)),) if rows else ())

    def asked(self) -> tuple[Asked, ...]:
        """Return every question with what each answer does: open ones first, those that matter most before others."""
        formula = self.literal
        does = {(s.question, s.answer): str(s).removeprefix(f"if {s.answer}: ") for s in formula.swings()}
        still_open = formula.open_questions()
        known: tuple[Question | Spread, ...] = (*formula.ways.questions, *formula.ways.spreads)
        settled = [question for question in known if question.settled]
        return tuple(_asked(question, does) for question in (*still_open, *settled))

    @property
    def unidentified(self) -> tuple[str, ...]:
        """The names nothing on file explains: say by `call` what they were."""
        return tuple(thing(key).name for key in self.literal.substances if not thing(key).identified)

    def screen(self, version: str = LITERAL) -> Screening:
        """Say what law and good sense find in a version, for its use."""
        return screen(self[version], self._use("screen"))

    def stops(self, version: str = LITERAL) -> Card:
        """Say what stops the bench for a version, and what was not looked up; `screen` says all that was found."""
        return Card(f"What stops the bench ({version})", tuple(self._law_notes(version)), last=(RESEARCH_AID,))

    def substitutes(self, name: str) -> StandIns:
        """List what could stand in for a thing, for the use."""
        return substitutes(name, self.record.use)

    def compare(self, *versions: str) -> Comparison:
        """Set versions side by side; all of them where none is named."""
        self._needs_text("compare")
        if not versions and not self.record.versions:
            remedy = 'First: work.replace("a line", {"what stands in": 1}, name="safe").'
            raise InputError("there is one version only", self.path.name, remedy)
        return compare(*(self[version] for version in versions or self.versions), use=self.record.use)

    def write(self, folder: str | Path) -> tuple[Path, ...]:
        """Write the article and the bench sheets into a folder."""
        self._needs_text("write")
        return write(self.record, Path(folder))

    def card(self) -> Card:
        """Show how far the work has come, what to settle first, what stops the bench, and the next step."""
        if not self.record.transcription.strip():
            return Card(f"{self.path.name}: an empty desk", (self._state(),), last=(self._next(),))
        try:
            return self._card()
        except ReconlabError as fault:  # a record changed in an editor: it is shown what to mend
            return Card(self.record.title, (str(fault), self._state()), last=("Next: work.undo()  # or mend the file",))

    def _card(self) -> Card:
        formula = self.literal
        read = [line for line in self.receipt.lines if line.items]
        whole = [line for line in read if not line.unread and all(item.certain for item in line.items)]
        matters = formula.matters()[:_SHOWN]
        settle = Table(
            "Settle these first", ("question", "what another answer does"), tuple((s.asks, str(s)) for s in matters)
        )
        notes = (
            f"Read {len(whole)} of {len(read)} ingredient lines.",
            *formula.notes,
            *self._law_notes(LITERAL),
            *(f"Kept, though it fits no question now: {decision.question}" for decision in self._orphans()),
            *(str(changed) for changed in self._stale()),
            *(f"Remembered from {book or 'your own words'}: {_answered(one)}" for book, one in self._recalled),
            self._state(),
        )
        table = formula.card().tables[0]
        tables = (table, *((settle,) if matters else ()), *self._every_ounce())
        bar = formula.picture()
        return Card(
            self.record.title, notes, tables, picture=bar.svg, picture_text=bar.text, last=(self._next(), RESEARCH_AID)
        )

    def _every_ounce(self) -> tuple[Table, ...]:
        """Show the grams for every ounce it could be, as long as nothing on file prefers one."""
        weights = custom_question("weights", self.record.source.setting)
        open_weights = any(q.key == "weights" and q.chosen is None for q in self.literal.ways.questions)
        if not open_weights:
            return ()
        made = [
            formula_of(
                replace(self.record, decisions=(*self.record.decisions, Decision(question="weights", option=o.key)))
            )
            for o in weights.options
        ]
        lines = tuple(
            (line.name, *(f"{formula.line_amount[row, 0]:.4g}" for formula in made))
            for row, line in enumerate(self.literal.lines)
        )
        return (Table("Grams, whosever ounce it is", ("line", *(option.words for option in weights.options)), lines),)

    def _law_notes(self, version: str) -> Iterable[str]:
        if self.record.use is None:
            return ("No use is given yet: nothing was screened.",)
        found = self.screen(version)
        stops = dict.fromkeys(str(finding) for finding in found.stops)
        return (*(f"Stops the bench: {words}" for words in stops), *found.law_notes)

    def _orphans(self) -> tuple[Decision, ...]:
        """Return the decisions no question asks for now; only where there are any is the receipt read again."""
        ways = self.literal.ways
        known: tuple[Question | Spread, ...] = (*ways.questions, *ways.spreads)
        settled = [question.settled for question in known if question.settled]
        answered = {(decision.question, folded(decision.at)) for decision in settled}
        asked = all((decision.question, folded(decision.at)) in answered for decision in self.record.decisions)
        return () if asked else orphans(self.record)

    def _stale(self) -> tuple[Stale, ...]:
        """Return the decisions the tables answer otherwise now: asked anew when the page or its setting changes."""
        page = (self.record.transcription, self.record.source)
        if self._now_other is None or self._now_other[0] != page:
            self._now_other = (page, stale(self.record))
        return tuple(one for one in self._now_other[1] if one.decision in self.record.decisions)

    def _state(self) -> str:
        where = f"{self.path.name}, saved at {self.saved_at}" if self.saved_at else self.path.name
        return where if self.may_write else f"{where}: {self._why_not[0]}; here you can only look"

    def _next(self) -> str:
        """Return the next step, as the call to copy."""
        return f"Next: {next(filter(None, self._steps_left()))}"

    def _steps_left(self) -> Iterator[str]:
        if not self.record.transcription.strip():
            yield 'work.read("""the receipt as printed""", source="the book", years="1890", place="London")'
        source, use = self.record.source, self.record.use
        if not source.years or not source.place:
            said = {
                "years": (source.years, "1890"),
                "place": (source.place, "London"),
                "book": (source.kind, "household"),
            }
            lacking = ", ".join(f'{field}="{such}"' for field, (known, such) in said.items() if not known)
            yield f"work.setting({lacking})"
        for name in self.unidentified:
            yield f'work.call({_quoted(name)}, "its modern name", because="how you know")'
        if use is None:
            yield 'work.use(form="cold cream", law="EU")'
        if not self.record.batches:  # what was planned or refused once may be written up
            version = self.versions[-1]
            for finding in self.screen(version).stops:
                yield self._instead(version, finding.substance)
            for swing in self.literal.matters():
                yield self._answered_so(swing.question)
            yield f'work.bench({_quoted(version)}, make="50 g", balance="0.01 g", jar="60 mL")'
        yield 'work.write("out")'

    def _instead(self, version: str, substance: str) -> str:
        formula, name = self[version], thing(substance).name
        try:
            out = name if formula.find_line(name) else ""
        except LookupError:  # in more lines than one, or inside a preparation
            items = [part.item for part in formula.parts if part.substance == substance]
            items += [item.item for item in formula.unweighed if substance in item.substances]
            out = (items or [name])[0]
        into = f'{_quoted(out)}, {{"...": 1}}, name={_quoted("safe" if version == LITERAL else version)}, because="..."'
        return f"work.substitutes({_quoted(name)})  # then work.replace({into})"

    def _answered_so(self, question: str) -> str:
        ways = self.literal.ways
        known: tuple[Question | Spread, ...] = (*ways.questions, *ways.spreads)
        asked = next(one for one in known if one.id == question)
        if isinstance(asked, Spread):
            answer, others = f"figure={asked.usual:.3g}", [f"another figure in {asked.unit}"]
        else:
            held, *others = (option.words for option in asked.options)
            answer = _quoted(held)
        other = ", ".join(others)
        return f'work.settle({_quoted(question)}, {answer}, because="how you know")  # or {other}; or leave it open'

    # Small helps.

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

    def _key_of(self, question: str) -> str:
        """Let a person name a question by its key or by its words."""
        wanted = folded(question)
        ways = self.literal.ways
        asked = {q.id: q.asks for q in ways.questions} | {s.id: s.asks for s in ways.spreads}
        for key, asks in asked.items():
            if wanted in (folded(key), folded(asks), folded(asks.rstrip("?"))):
                return key
        if question.startswith(("reading: ", "name: ")):
            return question
        keys = "; ".join(asked)
        raise UnknownNameError(f"no question {question!r}", self.path.name, f"The questions are: {keys}.")

    # What is remembered: of a book, and under the empty name the person's own words.

    def _remembered(self, book: str) -> tuple[Decision, ...]:
        path = self._memory(book)
        return open_record(path).decisions if path.exists() else ()

    def _remember(self, book: str, question: str, decision: Decision | None) -> None:
        """Remember one answer in place of another to the same question, or none; the record holds it already."""
        path = self._memory(book)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            with FileLock(path.with_name(f".{path.name}.lock"), timeout=_PATIENCE_S):
                others = tuple(d for d in self._remembered(book) if d.question != question)
                taken = () if decision is None else (replace(decision, scope="book"),)
                title = book or "Own words"
                known = Reconstruction(title=title, source=Source(book=book), decisions=(*others, *taken))
                save(stamped(known), path)
        except (ReconlabError, OSError) as fault:
            why = fault.found if isinstance(fault, ReconlabError) else fault.strerror or "another notebook writes there"
            found = f"the step is saved in the record, but what is remembered for other receipts is as it was ({why})"
            raise FileError(found, str(path), "Mend that, then take the step again.") from fault

    def _taken_back(self, before: Reconstruction) -> _Remembered:
        """Return what was remembered by the step just undone: one that settled something, and did nothing else."""
        if replace(self.record, decisions=before.decisions, tables=before.tables) != before:
            return ()
        was, is_ = ({replace(d, scope="book") for d in one.decisions} for one in (before, self.record))
        return tuple(
            (book, decision)
            for book in dict.fromkeys((self.record.source.book, ""))
            for decision in self._remembered(book)
            if decision in was - is_
        )

    def _recalling(self, record: Reconstruction) -> Desk:
        """Take a step, and take over what was settled for this book, and the person's own words, where it is asked."""
        books = dict.fromkeys((record.source.book, ""))
        known = [(book, decision) for book in books for decision in self._remembered(book)]
        recalled = []
        while known and record.transcription.strip() and (found := _first_asked(record, known)):
            known.remove(found)
            book, decision = found
            took = replace(decision, answered=preferred_answer(record, decision.question))
            more = replace(record, decisions=(*record.decisions, took))
            try:
                formula_of(more)
            except ReconlabError:  # it is no answer for this receipt
                continue
            record = more
            recalled.append((book, took))
        self._step(record)
        self._recalled = tuple(recalled)
        return self

    def _memory(self, book: str) -> Path:
        """Return the file that remembers a book, or the person's own words, beside her tables or her records."""
        folder = (overlay_folder() or self.path.parent) / "remembered"
        slug = "-".join("".join(letter if letter.isalnum() else " " for letter in book.lower()).split())
        if book and (slug in ("", _OWN_WORDS) or len(slug) > _LONGEST):  # never two books in one file
            slug = f"{slug[:_LONGEST]}-{hashlib.sha256((slug or book).encode()).hexdigest()[:8]}"
        return folder / f"{slug or _OWN_WORDS}.yaml"


def _first_asked(record: Reconstruction, known: Sequence[tuple[str, Decision]]) -> tuple[str, Decision] | None:
    """Return the first remembered answer to something still asked; an answer may raise a question of its own."""
    ways = formula_of(replace(record, versions=())).ways
    settled = {decision.question for decision in record.decisions if not decision.at}
    asked = {question.id for question in ways.questions} | {spread.id for spread in ways.spreads}
    asked -= settled
    return next((one for one in known if one[1].question in asked), None)


def _book_and_page(source: str, page: str | None) -> tuple[str, str | None]:
    """Return a source without the page at its end, and the page, unless another is given."""
    found = _PAGE.fullmatch(source.strip())
    if found is None or (page and page.strip() != found["page"]):
        return source, page
    return found["book"], found["page"]


def _text_of_table(path: Path) -> str:
    """Return a receipt out of a spreadsheet's CSV, a line for each row."""
    if path.suffix.lower() not in (".csv", ".tsv", ".txt"):
        raise InputError(f"{path.name!r} is no CSV", "read_table", "Save it from your spreadsheet as CSV (UTF-8).")
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as fault:
        raise FileError("it is not in UTF-8", str(path), "Save it from your spreadsheet as CSV (UTF-8).") from fault
    except OSError as fault:
        raise FileError(f"it cannot be read ({fault.strerror})", str(path), "Check the name and the folder.") from fault
    mark = max(",;\t", key=text.partition("\n")[0].count)
    lines = []
    for row in csv.DictReader(text.splitlines(), delimiter=mark):
        said = {(head or "").strip().lower(): cell.strip() for head, cell in row.items() if isinstance(cell, str)}
        lines.append(said.get("text") or ", ".join(filter(None, (said.get("name"), said.get("amount")))))
    if not any(lines):
        heads = "Its first row names the columns: text, or name and amount."
        raise InputError("there is no receipt in it", str(path), heads)
    return "\n".join(filter(None, lines))


def _quoted(words: str) -> str:
    """Return words as they are written in a call."""
    return json.dumps(words, ensure_ascii=False)


def _answered(decision: Decision) -> str:
    return f"{decision.question} = {decision.option or f'{decision.figure:g}'}"


def _asked(question: Question | Spread, does: Mapping[tuple[str, str], str]) -> Asked:
    """Return a question as it is put to a person; of what a settled one shut out no figures are known."""
    unit, preferred = "", True
    if isinstance(question, Spread):
        unit = question.unit
        figures = dict.fromkeys((question.usual, question.low, question.high))
        found = [Answer(words=f"{figure:.3g} {unit}", figure=figure) for figure in figures]
    else:
        preferred = question.chosen is not None
        found = [Answer(o.words, o.key, o.standing) for o in (*question.options, *question.dropped)]
    first, *others = found
    held = "settled" if question.settled else "taken meanwhile" if preferred else "shown as if, nothing prefers it"
    other = "what it does is shown once it is settled" if question.settled else "moves no share"
    answers = (replace(first, does=held), *(replace(o, does=does.get((question.id, o.words), other)) for o in others))
    return Asked(key=question.id, asks=question.asks, answers=answers, unit=unit, settled=question.settled)


def _checksum(path: Path) -> str:
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return "gone"


def _now() -> str:
    return datetime.now().astimezone().strftime("%H:%M:%S")


def _today() -> str:
    return datetime.now(tz=UTC).date().isoformat()
