"""Where does a person work? The desk: a record file and its past; each step is saved, and can be undone.

Everything here is thin: a step changes the record and saves it; what is shown is worked out from the record by the
library's functions.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path

from filelock import FileLock, Timeout

from reconlab.benchwork import Plan, bench
from reconlab.comparison import Comparison, compare
from reconlab.display import Card, Shown, Table
from reconlab.errors import FileError, InputError, UnknownNameError
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
from reconlab.screening import RESEARCH_AID, Screening, screen
from reconlab.substitution import StandIns, substitutes
from reconlab.tables import FormRow, LawText, Rule, overlay_folder, rows
from reconlab.writeup import write

_SHOWN = 3  # questions put first on the card
_OPEN: dict[Path, Desk] = {}  # desks of this process, by record


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
    if place not in _OPEN:
        _OPEN[place] = Desk(place)
    _OPEN[place].look_again()
    return _OPEN[place]


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
        self._lock = FileLock(path.with_name(f".{path.name}.lock"))
        self.may_write = self._take_lock()
        self.record = Reconstruction()
        self._seen = ""  # checksum of the file as this desk last saw it
        self._undone: list[Reconstruction] = []
        self._made: dict[str, Formula] = {}  # versions as worked out from the record as it stands
        self._now_other: tuple[tuple[str, Source], tuple[Stale, ...]] | None = None
        self.saved_at = ""

    # The file.

    def look_again(self) -> None:
        """Read the record again as it now stands on disk."""
        if not self.path.exists():
            if not self.may_write:
                raise FileError("another notebook is making this record", str(self.path), "Wait for it, or close it.")
            self._keep(Reconstruction(title=self.path.stem.replace("-", " ").capitalize()))
        self.record = open_record(self.path)
        self._seen = _checksum(self.path)
        self._now_other = None
        self.may_write = self.may_write or self._take_lock()
        self._forget()

    def close(self) -> None:
        """Give the record free for another notebook; the operating system does so too when this one ends."""
        self._lock.release()
        self.may_write = False
        _OPEN.pop(self.path, None)

    def _take_lock(self) -> bool:
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            self._lock.acquire(timeout=0)
        except Timeout:
            return False
        except OSError as fault:
            found = f"nothing can be written beside it ({fault.strerror})"
            raise FileError(found, str(self.path), "Work in a folder of your own.") from fault
        return True

    def _step(self, record: Reconstruction) -> Desk:
        """Save the record as changed, if it can be worked out; nothing is saved that cannot be shown again."""
        names = (LITERAL, *(version.name for version in record.versions)) if record.transcription else ()
        made = {name: formula_of(record, name) for name in names}
        self._keep(record)
        self._made = made
        self._undone.clear()
        return self

    def _check(self) -> None:
        """Make sure that nothing of another's is written over."""
        if not self.may_write:
            raise FileError(
                "another notebook is working on this record", str(self.path), "Close it there; here you can look."
            )
        if self._seen and _checksum(self.path) != self._seen:
            raise FileError(
                "the file has been changed or moved by another program",
                str(self.path),
                "Look at it, then open the desk again: nothing of yours was written over it.",
            )

    def _keep(self, record: Reconstruction) -> None:
        self._check()
        save(stamped(record), self.path)
        self.record, self._seen = stamped(record), _checksum(self.path)
        self.saved_at = _now()
        self._forget()

    def _forget(self) -> None:
        self.__dict__.pop("receipt", None)
        self._made = {}

    def undo(self) -> Desk:
        """Take the last step back; steps of earlier days too."""
        if not past_states(self.path):
            raise InputError("there is no earlier step", str(self.path), "This is where the record began.")
        self._check()
        self._undone.append(self.record)
        self.record, self._seen = step_back(self.path), _checksum(self.path)
        self.saved_at = _now()
        self._forget()
        return self

    def redo(self) -> Desk:
        """Take the last undo back."""
        if not self._undone:
            raise InputError("nothing was undone", str(self.path), "Redo takes back an undo of this session.")
        self._keep(self._undone.pop())
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
        """Put a receipt on the desk as printed; decisions already taken are kept."""
        was = self.record.source
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
        return self._step(self._with_remembered(titled))

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
        said = {"years": years, "place": place, "kind": book, "book": source, "author": author, "page": page}
        found = replace(self.record.source, **{field: words for field, words in said.items() if words is not None})
        _ = found.setting.span, found.setting.region
        return self._step(self._with_remembered(replace(self.record, source=found)))

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
            self._remember(self.record.source.book, decision)
        return self

    def call(self, name: str, thing_: str, *, because: str = "", sources: Sequence[str] = ()) -> Desk:
        """Say what a printed name was, in a modern name or in words of your own; it is remembered as your word."""
        self._needs_text("call")
        decision = Decision(
            question=f"name: {folded(name)}", option=thing_, because=because, sources=tuple(sources), when=_today()
        )
        others = tuple(d for d in self.record.decisions if d.question != decision.question)
        self._step(replace(self.record, decisions=(*others, decision)))
        self._remember("", decision)
        return self

    def use(self, *, form: str, law: str = "", on: str = "", wearer: str = "adult") -> Desk:
        """Say what it is made as, under which law, on which day, for whom."""
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
        return compare(*(self[version] for version in versions or self.versions), use=self.record.use)

    def write(self, folder: str | Path) -> tuple[Path, ...]:
        """Write the article and the bench sheets into a folder."""
        self._needs_text("write")
        return write(self.record, Path(folder))

    def card(self) -> Card:
        """Show how far the work has come, what to settle first, what stops the bench, and the next step."""
        if not self.record.transcription.strip():
            return Card(f"{self.path.name}: an empty desk", (self._state(),), last=(self._next(),))
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
        return where if self.may_write else f"{where}: open in another notebook, here you can only look"

    def _next(self) -> str:
        """Return the next step, as the call to copy."""
        return f"Next: {next(filter(None, self._steps_left()))}"

    def _steps_left(self) -> Iterator[str]:
        if not self.record.transcription.strip():
            yield 'work.read("""the receipt as printed""", source="the book", years="1890", place="London")'
        if not self.record.source.years or not self.record.source.place:
            yield 'work.setting(years="1890", place="London", book="household")'
        for name in self.unidentified:
            yield f'work.call("{name}", "its modern name", because="how you know")'
        if self.record.use is None:
            yield 'work.use(form="cold cream", law="EU")'
        for finding in () if self.record.versions else self.screen().stops:
            name = thing(finding.substance).name
            yield f'work.substitutes("{name}"), then work.replace("{name}", {{"...": 1}}, name="safe", because="...")'
        for swing in self.literal.matters():
            yield f'work.settle("{swing.question}", "the answer", because="how you know"), or leave it open'
        if not self.record.batches:
            yield f'work.bench("{self.versions[-1]}", make="50 g", balance="0.01 g", jar="60 mL")'
        yield 'work.write("out")'

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

    def _remember(self, book: str, decision: Decision) -> None:
        path = self._memory(book)
        known = (
            open_record(path) if path.exists() else Reconstruction(title=book or "Own words", source=Source(book=book))
        )
        others = tuple(d for d in known.decisions if d.question != decision.question)
        path.parent.mkdir(parents=True, exist_ok=True)
        save(stamped(replace(known, decisions=(*others, replace(decision, scope="book")))), path)

    def _with_remembered(self, record: Reconstruction) -> Reconstruction:
        """Add what was settled for this book, and the person's own words, where the receipt asks for it."""
        memories = [path for path in map(self._memory, dict.fromkeys((record.source.book, ""))) if path.exists()]
        if not memories or not record.transcription.strip():
            return record
        asked = {question.id for question in formula_of(replace(record, versions=())).ways.questions}
        settled = {decision.question for decision in record.decisions}
        kept = list(record.decisions)
        for path in memories:
            for decision in open_record(path).decisions:
                if decision.question in asked and decision.question not in settled:
                    kept.append(decision)
                    settled.add(decision.question)
        return replace(record, decisions=tuple(kept))

    def _memory(self, book: str) -> Path:
        """Return the file that remembers a book, or the person's own words, beside her tables or her records."""
        folder = (overlay_folder() or self.path.parent) / "remembered"
        slug = "-".join("".join(letter if letter.isalnum() else " " for letter in book.lower()).split())
        return folder / f"{slug[:60] or 'own-words'}.yaml"


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
