"""Where does a person work? The desk: a record file and its past; each step is saved, and can be undone.

Everything here is thin: a step changes the record and saves it; what is shown is worked out from the record by the
library's functions.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from reconlab.benchwork import Plan, bench
from reconlab.errors import (
    InputError,
    ReconlabError,
    RecordError,
    UnknownNameError,
)
from reconlab.formula import Formula, Replacement
from reconlab.materia import folded
from reconlab.measures import check_rule
from reconlab.reading.given import check_text, in_known_words
from reconlab.reasons import Decision, Scope
from reconlab.receipts import LAWS, Use, kind_of_book
from reconlab.record import (
    LITERAL,
    Observation,
    Reconstruction,
    Source,
    Version,
    batch_of,
    formulas_of,
    line_key,
    preferred_answer,
    still_planned,
)
from reconlab.workdesk._given import listed, refuse_examples
from reconlab.workdesk._memory import Remembered, recalled, remember, shelf, taken_back
from reconlab.workdesk._page import printed_line, read_picture, refuse_several, title_on
from reconlab.workdesk._spreadsheet import text_of_table
from reconlab.workdesk._views import Views, receipt_in
from reconlab.workdesk.asking import Answer, Asked, on_offer
from reconlab.writeup import write

__all__ = ["Answer", "Asked", "Desk", "desk", "on_offer"]

_OPEN: dict[Path, Desk] = {}  # desks of this process, by record
_PAGE = re.compile(r"(?P<book>.*\S),\s+(?P<page>(?:pp?|fol|ff?|leaf)\.?\s*\d\S*)", re.IGNORECASE | re.DOTALL)


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
    if place.suffix.lower() != ".yaml":  # one ending: its past states are kept under the name without it
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


class Desk(Views):
    """One record at work. Make it by `desk`; the last line of a cell shows how far the work has come."""

    def __init__(self, path: Path) -> None:
        super().__init__(path)
        self._undone: list[tuple[Reconstruction, Remembered]] = []  # with what was forgotten when it was undone
        self._took: Remembered = ()  # what any step of this session took over

    def look_again(self) -> bool:
        """Read the record again as it now stands on disk; return whether another program has changed it."""
        changed = super().look_again()
        if changed:
            self._undone.clear()
        return changed

    def close(self) -> None:
        """Give the record free for another notebook; the operating system does so too when this one ends."""
        super().close()
        if _OPEN.get(self.path) is self:
            del _OPEN[self.path]

    def _step(self, record: Reconstruction, *, half_typed: bool = False) -> Desk:
        """Save the record as changed; but for a page that may be half typed, only what can be worked out."""
        receipt = receipt_in(record)
        try:
            made = formulas_of(record, receipt) if receipt else {}
        except ReconlabError:
            if not half_typed:
                raise
            made = {}
        record = _with_plans_that_hold(self.record, record, made)
        try:
            self._keep(record)
        except RecordError as fault:  # it speaks of a line of the file, which was not written
            raise InputError(fault.found, fault.where.rpartition(", ")[2], fault.remedy) from fault
        if receipt:
            self.receipt, self._made = receipt, made
        self._undone.clear()
        return self

    def _recalling(self, record: Reconstruction) -> Desk:
        """Take a step, and take over what was settled for this book, and the person's own words, where it is asked."""
        of_others = [one for book, one in self._took if book not in ("", shelf(record.source))]  # a title half typed
        record = replace(record, decisions=tuple(one for one in record.decisions if one not in of_others))
        record, took_over, self.memory_fault = recalled(self.path.parent, record)
        self._step(record, half_typed=True)
        self.recalled = took_over
        self._took += took_over
        return self

    def undo(self) -> Desk:
        """Take the last step back; steps of earlier days too."""
        before = self._take_back()
        self._undone.append((before, ()))
        forgotten = taken_back(self.path.parent, before, self.record)
        self._undone[-1] = (before, forgotten)
        for book, decision in forgotten:
            was = (d for d in self.record.decisions if (d.question, d.at) == (decision.question, ""))
            earlier = next((d for d in was if not book or d.scope == "book"), None)
            remember(self.path.parent, book, decision.question, earlier)
        return self

    def redo(self) -> Desk:
        """Take the last undo back."""
        if not self._undone:
            raise InputError("nothing was undone", str(self.path), "Redo takes back an undo of this session.")
        record, forgotten = self._undone[-1]
        self._keep(record)
        self._undone.pop()
        for book, decision in forgotten:
            remember(self.path.parent, book, decision.question, decision)
        return self

    # Steps.

    @in_known_words
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
        text_years: str = "",
        text_place: str = "",
        title: str = "",
        several: bool = False,
    ) -> Desk:
        """Put a receipt on the desk as printed; decisions already taken are kept.

        Of a page of several receipts, the title says which the work is about; several=True leaves that open. A page at
        the end of the source, as in "day-book, p. 14", is kept apart, so that p. 15 is of the same book.
        """
        check_text(text)
        refuse_examples(
            "read", text=text, source=source, author=author, page=page, years=years, place=place, book=book, rule=rule
        )
        source, found_page = _book_and_page(source, page)
        page = found_page or ""
        was = self.record.source
        if source and was.book and folded(source) != folded(was.book):  # nothing known of one book is said of another
            was = Source()
        found = Source(
            book=source or was.book,
            author=author or was.author,
            page=page or was.page,
            years=years or was.years,
            place=place or was.place,
            kind=kind_of_book(book) or was.kind,
            rule=rule or was.rule,
            text_years=text_years or was.text_years,
            text_place=text_place or was.text_place,
            publisher=was.publisher,
            address=was.address,
            seen=was.seen,
            note=was.note,
        )
        check_rule(found.rule)
        record = replace(self.record, transcription=text.strip("\n") + "\n", source=found)
        if title:
            record = replace(record, title=title)
        elif not several:
            refuse_several(record)
        receipt = receipt_in(record)
        return self._recalling(replace(record, title=receipt.title) if receipt else record)

    def read_page(self, text: str, **said: str) -> Desk:
        """Put a page on the desk that may hold several receipts; `choose` says which of them the work is about."""
        return self.read(text, several=True, **said)

    def read_image(self, picture: str | Path, *, languages: str | Sequence[str] = (), **said: str) -> Desk:
        """Put the picture of a page on the desk, its words as Tesseract reads them: to be looked through."""
        found = read_picture(self, picture, languages, said)
        self.read_page(found.text, **said)
        self.pictured = found
        return self

    def choose(self, title: str) -> Desk:
        """Say which receipt of the page the work is about, by its title."""
        self._needs_text("choose")
        return self._step(replace(self.record, title=title_on(self.page, title)), half_typed=True)

    def correct(self, line: str, reads: str, *, because: str = "", sources: str | Sequence[str] = ()) -> Desk:
        """Say how a printed line should read, where print or scan is at fault; the page is kept as printed."""
        self._needs_text("correct")
        refuse_examples("correct", line=line, reads=reads, because=because)
        key = printed_line(self.record, line)
        others = tuple(d for d in self.record.decisions if d.question != key)
        if line_key(reads) == key:  # as printed after all
            return self._step(replace(self.record, decisions=others), half_typed=True)
        taken = Decision(question=key, option=reads.strip(), because=because, sources=listed(sources), when=_today())
        return self._step(replace(self.record, decisions=(*others, taken)), half_typed=True)

    @in_known_words
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
        text_years: str = "",
        text_place: str = "",
    ) -> Desk:
        """Put a receipt out of a spreadsheet on the desk: a CSV with a column text, or the columns name and amount."""
        text = text_of_table(Path(path))
        return self.read(
            text,
            source=source,
            author=author,
            page=page,
            years=years,
            place=place,
            book=book,
            rule=rule,
            text_years=text_years,
            text_place=text_place,
        )

    def setting(
        self,
        *,
        years: str | None = None,
        place: str | None = None,
        book: str | None = None,
        source: str | None = None,
        author: str | None = None,
        page: str | None = None,
        rule: str | None = None,
        text_years: str | None = None,
        text_place: str | None = None,
    ) -> Desk:
        """Say when, where and in what kind of book the receipt was printed, and its author's own rule of weights.

        Of a reprint or translation, text_years and text_place say when and where its words were first written. What is
        left out stays as it was; an empty text says that it is not known after all.
        """
        refuse_examples(
            "setting", years=years, place=place, book=book, source=source, author=author, page=page, rule=rule
        )
        if source:
            source, page = _book_and_page(source, page)
        said = {
            "years": years,
            "place": place,
            "kind": None if book is None else kind_of_book(book),
            "book": source,
            "author": author,
            "page": page,
        }
        said |= {"rule": rule, "text_years": text_years, "text_place": text_place}
        was = self.record.source
        if source and was.book and folded(source) != folded(was.book):
            was = replace(was, publisher="", address="", seen="", note="")
        found = replace(was, **{field: words for field, words in said.items() if words is not None})
        check_rule(found.setting.rule)  # making the setting has checked the rest
        return self._recalling(replace(self.record, source=found))

    def settle(
        self,
        question: str,
        answer: str = "",
        *,
        because: str = "",
        sources: str | Sequence[str] = (),
        figure: float | None = None,
        scope: Scope = "receipt",
        at: str = "",
        who: str = "",
    ) -> Desk:
        """Answer a question, by its key or its words; with scope "book" for every receipt of that book."""
        self._needs_text("settle")
        if scope == "book" and not self.record.source.book:
            raise InputError("no book is named", self.path.name, 'First: work.setting(source="the book").')
        refuse_examples("settle", answer=answer, because=because, at=at, who=who)
        if answer and figure is not None:
            raise InputError("two answers were given", "settle", "Give the answer in words, or figure=..., not both.")
        if scope == "book" and at:
            raise InputError("one line is not the whole book", "settle", 'Leave out at=..., or scope="book".')
        key, at = self._key_of(question, at)
        decision = Decision(
            question=key,
            option=answer,
            figure=figure,
            because=because,
            sources=listed(sources),
            who=who,
            when=_today(),
            scope=scope,
            at=at,
            answered=preferred_answer(self.literal.ways.every_question, key),
        )
        others = tuple(d for d in self.record.decisions if (d.question, d.at) != (key, at))
        self._step(replace(self.record, decisions=(*others, decision)))
        if scope == "book":
            remember(self.path.parent, shelf(self.record.source), key, decision)
        return self

    def call(self, name: str, thing_: str, *, because: str = "", sources: Sequence[str] = ()) -> Desk:
        """Say what a printed name was, in a modern name or in words of your own; it is remembered as your word."""
        self._needs_text("call")
        if not folded(name) or not thing_.strip():
            raise InputError(
                "nothing is said of what it was", "call", 'Say both: work.call("the name", "what it was").'
            )
        refuse_examples("call", it=thing_, because=because)
        key, _ = self._key_of(f"name: {folded(name)}", "")
        decision = Decision(
            question=key,
            option=thing_,
            because=because,
            sources=listed(sources),
            when=_today(),
            answered=preferred_answer(self.literal.ways.every_question, key),
        )
        others = tuple(d for d in self.record.decisions if d.question != key)
        self._step(replace(self.record, decisions=(*others, decision)))
        remember(self.path.parent, "", key, decision)
        return self

    def use(self, *, form: str, law: str = "", on: str = "", wearer: str = "adult") -> Desk:
        """Say what it is made as, under which law, on which day, for whom."""
        refuse_examples("use", form=form, law=law, on=on)
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
        sources: str | Sequence[str] = (),
    ) -> Desk:
        """Make a version in which one line is replaced; the same name again adds a change to it."""
        self._needs_text("replace")
        if not isinstance(into, Mapping):
            remedy = 'Say how much for one of what was there: {"kaolin": 1}; {} leaves the line out.'
            raise InputError(f"{into!r} does not say how much", "replace", remedy)
        refuse_examples("replace", name=name, because=because, expected=expected, **dict.fromkeys(into, ""))
        if not name.strip():
            raise InputError("the version has no name", "name", 'Give it one, such as name="safe".')
        change = Replacement(
            out=out,
            into=dict(into),
            basis=basis,
            kind=kind,
            because=because,
            expected=expected,
            sources=listed(sources),
        )
        known = {version.name: version for version in self.record.versions}
        before = known.get(name, Version(name=name, parent=parent))
        if parent not in (LITERAL, before.parent):
            remedy = "Leave out parent=..., or give the version another name."
            raise InputError(f"{name!r} starts from {before.parent!r} already", "parent", remedy)
        known[name] = replace(before, changes=(*before.changes, change))
        return self._step(replace(self.record, versions=tuple(known.values())))

    def drop(self, version: str) -> Desk:
        """Take a version out of the record, with its plan; one that was made or written about stays."""
        if version not in self.versions or version == LITERAL:
            names = ", ".join(self.versions[1:]) or "none yet"
            raise UnknownNameError(f"{version!r} is no version of yours", "drop", f"Your versions are: {names}.")
        held = [one.name for one in self.record.versions if one.parent == version]
        batches = [batch for batch in self.record.batches if batch.version == version]
        if held:
            raise InputError(f"{', '.join(held)} starts from {version!r}", "drop", "Drop that one first.")
        noted = {seen.of for seen in self.record.observations}
        if any(b.made_on or b.weighed for b in batches) or version in noted or (batches and noted - {*self.versions}):
            found = f"{version!r} was made, or what you wrote down of a batch counts on it"
            raise InputError(found, "drop", "It stays in the record; go on from another version.")
        return self._step(
            replace(
                self.record,
                versions=tuple(one for one in self.record.versions if one.name != version),
                batches=tuple(batch for batch in self.record.batches if batch not in batches),
            )
        )

    def bench(self, version: str = LITERAL, *, make: str, balance: str, jar: str = "") -> Plan:
        """Plan a batch, or say why it is not made; either is kept in the record, word for word."""
        plan = bench(self[version], make=make, balance=balance, jar=jar, use=self._use("bench"))
        batches = list(self.record.batches)
        only_planned = (n for n, b in enumerate(batches) if b.version == version and not (b.made_on or b.weighed))
        place = next(only_planned, len(batches))  # a note on "batch 2" goes on meaning that batch
        batches[place : place + 1] = [batch_of(plan)]
        self._step(replace(self.record, batches=tuple(batches)))
        return plan

    def note(self, what: str, *, of: str = LITERAL, after: str = "") -> Desk:
        """Write down what was seen, of a version or of "batch 1"."""
        if not what.strip():
            raise InputError("nothing was written down", "note", 'Say what was seen: work.note("pale, no smell").')
        seen = Observation(of=of, what=what, on=_today(), after=after)
        return self._step(replace(self.record, observations=(*self.record.observations, seen)))

    def write(self, folder: str | Path) -> tuple[Path, ...]:
        """Write the article and the bench sheets into a folder."""
        self._needs_text("write")
        return write(self.record, Path(folder))


def _with_plans_that_hold(
    before: Reconstruction, record: Reconstruction, made: Mapping[str, Formula]
) -> Reconstruction:
    """Return a record whose plans are of its formulas: one changed since it was planned is to be planned again."""
    if replace(before, batches=(), observations=(), tables=record.tables) == replace(
        record, batches=(), observations=()
    ):  # nothing a formula hangs on: a plan stands as it was shown, whatever the tables say now
        return record
    return replace(record, batches=tuple(still_planned(b, made.get(b.version), record.use) for b in record.batches))


def _book_and_page(source: str, page: str | None) -> tuple[str, str | None]:
    """Return a source without the page at its end, and the page, unless another is given."""
    found = _PAGE.fullmatch(source.strip())
    if found is None or (page and page.strip() != found["page"]):
        return source, page
    return found["book"], found["page"]


def _today() -> str:
    return datetime.now(tz=UTC).date().isoformat()
