"""What follows from a record: its receipt, its formula in each version, and decisions that want another look.

Nothing is kept: each answer is worked out again from what was found and what was decided.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from importlib.metadata import PackageNotFoundError
from importlib.metadata import version as installed

from reconlab.errors import ReconlabError, RecordError, SeveralReceiptsError, UnknownNameError
from reconlab.formula import Formula
from reconlab.materia import folded
from reconlab.reading import read, read_all
from reconlab.reasons import Decision, Question, Spread
from reconlab.receipts import Page, Receipt, Setting, SettingWords
from reconlab.record.parts import LITERAL, Reconstruction, TablesUsed, Version
from reconlab.tables import overlay_checksum
from reconlab.translation import translate


@dataclass(frozen=True, slots=True)
class Stale:
    """A decision, and the answer the tables prefer now, which was another when it was taken."""

    decision: Decision
    settled: str  # each in the words a person reads
    now: str
    then: str

    def __str__(self) -> str:
        """Say what the tables suggest now, what they suggested then, and what was settled."""
        then = f"when you settled {self.settled} they suggested {self.then}"
        return f"{self.decision.question}: the tables now suggest {self.now}; {then}"


def receipt_of(reconstruction: Reconstruction) -> Receipt:
    r"""Return the receipt of a record, read again from its transcription.

    Parameters
    ----------
    reconstruction : Reconstruction
        The record; its title serves where the page prints none, and says which where the page holds several.

    Returns
    -------
    Receipt
        As read, in the setting of its source.

    Raises
    ------
    SeveralReceiptsError
        If the page holds several receipts and the title of the record is that of none.

    Examples
    --------
    >>> receipt = receipt_of(Reconstruction(title="Powder", transcription="Starch, 3 oz.\nOrris, 1 oz."))
    >>> receipt.title, len(receipt.items)
    ('Powder', 2)
    """
    text, setting = corrected(reconstruction), _said(reconstruction.source.setting)
    try:
        receipt = read(text, **setting)
    except SeveralReceiptsError:
        titles = [folded(title) for title in read_all(text, **setting).titles]
        if titles.count(folded(reconstruction.title)) != 1:
            raise
        receipt = read(text, title=reconstruction.title, **setting)
    return receipt if receipt.title else replace(receipt, title=reconstruction.title)


def page_of(reconstruction: Reconstruction) -> Page:
    r"""Return the whole page of a record, read again from its transcription with its lines as corrected.

    Parameters
    ----------
    reconstruction : Reconstruction
        The record.

    Returns
    -------
    Page
        Every receipt of the page.

    Examples
    --------
    >>> page_of(Reconstruction(transcription="CREAM.\nWax, 3 oz.\nLard, 1 oz.")).titles
    ('CREAM',)
    """
    return read_all(corrected(reconstruction), **_said(reconstruction.source.setting))


def corrected(reconstruction: Reconstruction) -> str:
    r"""Return the transcription of a record with each line as a decision corrects it; the record keeps it as printed.

    Parameters
    ----------
    reconstruction : Reconstruction
        The record; a decision on "line: ..." says how that line should read.

    Returns
    -------
    str
        As many lines as are printed.

    Examples
    --------
    >>> mended = Decision(question="line: Starcb, 3 oz.", option="Starch, 3 oz.")
    >>> corrected(Reconstruction(transcription="Starcb, 3 oz.\nOrris, 1 oz.", decisions=(mended,)))
    'Starch, 3 oz.\nOrris, 1 oz.'
    """
    said = {decision.question: decision.option for decision in reconstruction.decisions}
    lines = reconstruction.transcription.split("\n")
    return "\n".join(_as_corrected(line, said.get(line_key(line))) for line in lines)


def line_key(line: str) -> str:
    """Return the key of the question how a printed line should read.

    Parameters
    ----------
    line : str
        The line as printed.

    Returns
    -------
    str
        The same however it is spaced.

    Examples
    --------
    >>> line_key("  Starcb,   3 oz. ")
    'line: Starcb, 3 oz.'
    """
    return f"line: {' '.join(line.split())}"


def _as_corrected(line: str, option: str | None) -> str:
    if option is None:
        return line
    return line[: len(line) - len(line.lstrip())] + " ".join(option.split())  # it stands as far in as it is printed


def _said(setting: Setting) -> SettingWords:
    """Return a setting as the reading asks for it."""
    return {
        "years": setting.years,
        "place": setting.place,
        "book": setting.book,
        "rule": setting.rule,
        "text_years": setting.text_years,
        "text_place": setting.text_place,
    }


def formula_of(reconstruction: Reconstruction, version: str = LITERAL) -> Formula:
    """Return a version of a record in grams: the receipt as decided, then every change along its parents.

    Parameters
    ----------
    reconstruction : Reconstruction
        The record.
    version : str
        Name of the version; ``"literal"`` is the receipt with nothing replaced.

    Returns
    -------
    Formula
        In every way the receipt can be read.

    Raises
    ------
    UnknownNameError
        If the record has no such version.
    RecordError
        If versions start from each other in a circle.
    ReconlabError
        If a decision or change no longer fits the receipt; the message names the change.

    Examples
    --------
    >>> formula_of(Reconstruction(transcription="Starch, 3 oz."), "safe")
    Traceback (most recent call last):
    reconlab.errors.UnknownNameError: version: no version 'safe'. The versions are: literal.
    """
    steps = _lineage(reconstruction, version)
    return _along(steps, {LITERAL: translate(receipt_of(reconstruction), reconstruction.decisions)})


def formulas_of(reconstruction: Reconstruction, receipt: Receipt) -> dict[str, Formula]:
    r"""Return every version of a record in grams, its receipt translated once.

    Parameters
    ----------
    reconstruction : Reconstruction
        The record.
    receipt : Receipt
        Its receipt, as `receipt_of` gives it.

    Returns
    -------
    dict of str to Formula
        By the name of the version; the literal one first.

    Raises
    ------
    ReconlabError
        As `formula_of`, of whichever version has the fault.

    Examples
    --------
    >>> page = Reconstruction(transcription="Starch, 3 oz.\nOrris, 1 oz.")
    >>> list(formulas_of(page, receipt_of(page)))
    ['literal']
    """
    made = {LITERAL: translate(receipt, reconstruction.decisions)}
    for version in reconstruction.versions:
        _along(_lineage(reconstruction, version.name), made)
    return made


def _along(steps: Iterable[Version], made: dict[str, Formula]) -> Formula:
    """Make each version in turn from its parent, what is made already left as it is; return the last."""
    formula = made[LITERAL]
    for step in steps:
        if step.name not in made:
            made[step.name] = replace(_changed(formula, step), name=step.name, parent=step.parent)
        formula = made[step.name]
    return formula


def orphans(reconstruction: Reconstruction) -> tuple[Decision, ...]:
    r"""Return the decisions whose question the transcription no longer raises: to be shown, never dropped.

    Parameters
    ----------
    reconstruction : Reconstruction
        The record.

    Returns
    -------
    tuple of Decision
        In the order of the record.

    Examples
    --------
    >>> lost = Decision(question="name: pearl white", option="zinc oxide")
    >>> orphans(Reconstruction(transcription="Starch, 3 oz.\nOrris, 1 oz.", decisions=(lost,))) == (lost,)
    True
    """
    receipt = receipt_of(reconstruction)
    printed = {line_key(line) for line in reconstruction.transcription.split("\n")}
    unsettled = {question.id for question in translate(receipt).ways.every_question}
    settled = [q.settled for q in translate(receipt, reconstruction.decisions).ways.every_question if q.settled]
    answered = {(decision.question, folded(decision.at)) for decision in settled}
    return tuple(
        decision
        for decision in reconstruction.decisions
        if (decision.question, folded(decision.at)) not in answered
        and not (decision.question in unsettled and not decision.at)
        and decision.question not in printed
    )


def stale(questions: Iterable[Question | Spread]) -> tuple[Stale, ...]:
    r"""Return the decisions before which the tables preferred another answer than they do now.

    Parameters
    ----------
    questions : iterable of Question or Spread
        Every question of the literal formula of a record.

    Returns
    -------
    tuple of Stale
        Decisions that do not say what the tables preferred are passed over.

    Examples
    --------
    >>> from reconlab.record import Source
    >>> old = Decision(question="measures", option="wine", answered="wine")
    >>> printed_1911 = Source(years="1911", place="England", kind="dispensing")
    >>> page = Reconstruction(source=printed_1911, transcription="Starch, 3 oz.\nRose water, 1 pint", decisions=(old,))
    >>> print(*stale(formula_of(page).ways.every_question))
    measures: the tables now suggest imperial; when you settled wine measure they suggested wine measure
    """
    return tuple(
        _stale(question, question.settled)
        for question in questions
        if question.settled and question.settled.answered and question.prefers not in ("", question.settled.answered)
    )


def _stale(question: Question | Spread, decision: Decision) -> Stale:
    options = (*question.options, *question.dropped) if isinstance(question, Question) else ()
    words = {option.key: option.words for option in options}
    settled, now, then = decision.option or f"{decision.figure:g}", question.prefers, decision.answered
    return Stale(decision, *(words.get(answer, answer) for answer in (settled, now, then)))


def preferred_answer(questions: Iterable[Question | Spread], key: str) -> str:
    r"""Return what the tables prefer for a question now, as it is kept with a decision when it is taken.

    Parameters
    ----------
    questions : iterable of Question or Spread
        Every question of the literal formula of a record; what was decided about this one is left aside.
    key : str
        Id of the question.

    Returns
    -------
    str
        Key of the answer, or a figure with its unit; empty where nothing is preferred or nobody asks.

    Examples
    --------
    >>> from reconlab.record import Source
    >>> printed_1911 = Source(years="1911", place="England", kind="dispensing")
    >>> page = Reconstruction(source=printed_1911, transcription="Starch, 3 oz.\nRose water, 1 pint")
    >>> asked = formula_of(page).ways.every_question
    >>> preferred_answer(asked, "measures"), preferred_answer(asked, "name: pearl white")
    ('imperial', '')
    """
    about = (q for q in questions if q.id == key or (q.settled and q.settled.question == key))
    return next((question.prefers for question in about), "")


def stamped(reconstruction: Reconstruction) -> Reconstruction:
    """Return a record that says which tables and which library stand behind it now.

    Parameters
    ----------
    reconstruction : Reconstruction
        The record, about to be saved.

    Returns
    -------
    Reconstruction
        The same with its tables named.

    Examples
    --------
    >>> stamped(Reconstruction()).tables.overlay
    ''
    """
    try:
        library = installed("reconlab")
    except PackageNotFoundError:
        library = "not installed"
    return replace(reconstruction, tables=TablesUsed(overlay=overlay_checksum(), library=library))


def _lineage(reconstruction: Reconstruction, name: str) -> tuple[Version, ...]:
    """Return the versions from the literal one to this, the first change first."""
    by_name = {version.name: version for version in reconstruction.versions}
    steps: list[Version] = []
    while name != LITERAL:
        if name not in by_name:
            raise UnknownNameError(
                f"no version {name!r}", "version", f"The versions are: {', '.join((LITERAL, *by_name))}."
            )
        if by_name[name] in steps:
            circle = " -> ".join(step.name for step in steps)
            raise RecordError(f"{name!r} starts from itself ({circle})", "version", f"Let one start from {LITERAL}.")
        steps.append(by_name[name])
        name = by_name[name].parent
    return tuple(reversed(steps))


def _changed(formula: Formula, step: Version) -> Formula:
    for number, change in enumerate(step.changes, start=1):
        try:
            formula = formula.replaced(change, step.name)
        except ReconlabError as fault:
            place = f"version {step.name!r}, change {number}"
            raise type(fault)(fault.found, place, fault.remedy) from fault
    return formula
