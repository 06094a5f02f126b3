"""What is remembered from one receipt to the next? What was settled for a book; under no book, a person's own words.

Each memory is a small record, beside her tables or her records.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from filelock import FileLock

from reconlab.errors import FileError, NoIngredientError, ReconlabError
from reconlab.reasons import Decision, Question, Spread
from reconlab.record import Reconstruction, Source, formula_of, open_record, preferred_answer, save, stamped
from reconlab.tables import overlay_folder

Remembered = tuple[tuple[str, Decision], ...]  # answers by the book they are remembered for

_PATIENCE_S = 5  # for another notebook to finish remembering
_OWN_WORDS = "own-words"
_LONGEST = 60  # letters of a book's title in the name of the file that remembers it


def shelf(source: Source) -> str:
    """Return the name a book is remembered by: two authors may give their books one title."""
    return ", ".join(filter(None, (source.author.strip(), source.book.strip()))) if source.book.strip() else ""


def remember(folder: Path, book: str, question: str, decision: Decision | None) -> None:
    """Remember one answer in place of another to the same question, or none; the record holds it already."""
    path = _memory(folder, book)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with FileLock(path.with_name(f".{path.name}.lock"), timeout=_PATIENCE_S):
            others = tuple(d for d in _remembered(folder, book) if d.question != question)
            taken = () if decision is None else (replace(decision, scope="book"),)
            title = book or "Own words"
            known = Reconstruction(title=title, source=Source(book=book), decisions=(*others, *taken))
            save(stamped(known), path)
    except (ReconlabError, OSError) as fault:
        why = fault.found if isinstance(fault, ReconlabError) else fault.strerror or "another notebook writes there"
        found = f"the step is saved in the record, but what is remembered for other receipts is as it was ({why})"
        raise FileError(found, str(path), "Mend that, then take the step again.") from fault


def taken_back(folder: Path, before: Reconstruction, now: Reconstruction) -> Remembered:
    """Return what was remembered by the step just undone: one that settled something, and did nothing else."""
    if replace(now, decisions=before.decisions, tables=before.tables) != before:
        return ()
    was, is_ = ({replace(d, scope="book") for d in one.decisions} for one in (before, now))
    return tuple((book, decision) for book, decision in _known(folder, now) if decision in was - is_)


def recalled(folder: Path, record: Reconstruction) -> tuple[Reconstruction, Remembered, str]:
    """Return a record with what was settled for its book, and the person's own words, where it is asked.

    A memory that cannot be read stops no work: its fault is returned, to be shown.
    """
    try:
        known = list(_known(folder, record))
        asked = formula_of(record).ways.every_question if known and record.transcription.strip() else ()
    except NoIngredientError:  # nothing is asked of a page half typed
        return record, (), ""
    except ReconlabError as fault:
        return record, (), str(fault)
    took_over: list[tuple[str, Decision]] = []
    while found := _first_asked(asked, record.decisions, known):
        known.remove(found)
        book, decision = found
        took = replace(decision, answered=preferred_answer(asked, decision.question))
        more = replace(record, decisions=(*record.decisions, took))
        try:
            asked = formula_of(more).ways.every_question
        except ReconlabError:  # it is no answer for this receipt
            continue
        record = more
        took_over.append((book, took))
    return record, tuple(took_over), ""


def _known(folder: Path, record: Reconstruction) -> Remembered:
    books = dict.fromkeys((shelf(record.source), ""))
    return tuple((book, decision) for book in books for decision in _remembered(folder, book))


def _remembered(folder: Path, book: str) -> tuple[Decision, ...]:
    path = _memory(folder, book)
    return open_record(path).decisions if path.exists() else ()


def _first_asked(
    asked: Iterable[Question | Spread], decisions: Iterable[Decision], known: Sequence[tuple[str, Decision]]
) -> tuple[str, Decision] | None:
    """Return the first remembered answer to something still asked; an answer may raise a question of its own."""
    settled = {decision.question for decision in decisions if not decision.at}
    still = {question.id for question in asked} - settled
    return next((one for one in known if one[1].question in still), None)


def _memory(folder: Path, book: str) -> Path:
    """Return the file that remembers a book, or the person's own words, beside her tables or her records."""
    slug = "-".join("".join(letter if letter.isalnum() else " " for letter in book.lower()).split())
    if book and (slug in ("", _OWN_WORDS) or len(slug) > _LONGEST):  # never two books in one file
        slug = f"{slug[:_LONGEST]}-{hashlib.sha256((slug or book).encode()).hexdigest()[:8]}"
    return (overlay_folder() or folder) / "remembered" / f"{slug or _OWN_WORDS}.yaml"
