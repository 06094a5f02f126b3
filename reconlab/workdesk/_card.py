"""What does a desk show? How far the work has come, what to settle first, what stops the bench, and the next step."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from reconlab.display import Card, Table
from reconlab.errors import ReconlabError
from reconlab.formula import Formula
from reconlab.materia import folded, thing
from reconlab.measures import custom_question
from reconlab.reasons import Decision
from reconlab.receipts import Receipt
from reconlab.record import LITERAL, Reconstruction, formula_of, orphans, stale
from reconlab.screening import RESEARCH_AID
from reconlab.workdesk._next import next_step

if TYPE_CHECKING:
    from reconlab.workdesk._views import Views

_SHOWN = 3  # questions put first on the card


def card_of(work: Views) -> Card:
    """Show how far the work has come, what to settle first, what stops the bench, and the next step."""
    if not work.record.transcription.strip():
        return Card(f"{work.path.name}: an empty desk", (work.state,), last=next_step(work))
    if not work.has_receipt:
        titles = work.page.titles
        none = "No line with an amount was read yet; the page is kept as it is typed."
        if len(titles) > 1:
            called = "; ".join(title or "one without a title" for title in titles)
            none = f"The page holds {len(titles)} receipts: {called}. Choose the one to go on with."
        return Card(work.record.title, (none, work.state), last=next_step(work))
    try:
        return _card(work)
    except ReconlabError as fault:  # a record changed in an editor: it is shown what to mend
        return Card(work.record.title, (str(fault), work.state), last=("Next: work.undo()  # or mend the file",))


def _card(work: Views) -> Card:
    formula = work.literal
    read = [line for line in work.receipt.lines if line.items]
    whole = [line for line in read if not line.unread and all(item.certain for item in line.items)]
    matters = formula.matters()[:_SHOWN]
    settle = Table(
        "Settle these first", ("question", "what another answer does"), tuple((s.asks, str(s)) for s in matters)
    )
    notes = (
        f"Read {len(whole)} of {len(read)} ingredient lines{_of_several(work.receipt)}.",
        *formula.notes,
        *law_notes(work, LITERAL),
        *(f"Kept, though it fits no question now: {decision.question}" for decision in _orphans(work)),
        *(str(changed) for changed in stale(formula.ways.every_question)),
        *((f"Nothing is remembered: {work.memory_fault}",) if work.memory_fault else ()),
        *(f"Remembered from {book or 'your own words'}: {_answered(one)}" for book, one in work.recalled),
        *formula.beyond_the_whole(),
        work.state,
    )
    table = formula.card().tables[0]
    tables = (table, *((settle,) if matters else ()), *_every_ounce(work.record, formula))
    bar = formula.picture()
    last = (*next_step(work), RESEARCH_AID)
    return Card(work.record.title, notes, tables, picture=bar.svg, picture_text=bar.text, last=last)


def law_notes(work: Views, version: str) -> tuple[str, ...]:
    if work.record.use is None:
        return ("No use is given yet: nothing was screened.",)
    found = work.screen(version)
    stops = dict.fromkeys(str(finding) for finding in found.stops)
    met = dict.fromkeys(thing(f.substance).name for f in found.findings if f.here == "conditions to meet")
    law = work.record.use.law
    nothing = (f"Nothing found that stops the bench under {law}.",) if law and not stops else ()
    conditions = (f"Conditions to meet, see work.screen(): {', '.join(met)}.",) if met else ()
    return (*(f"Stops the bench: {words}" for words in stops), *nothing, *conditions, *found.law_notes)


def _orphans(work: Views) -> tuple[Decision, ...]:
    """Return the decisions no question asks for now; only where there are any is the receipt read again."""
    settled = [question.settled for question in work.literal.ways.every_question if question.settled]
    answered = {(decision.question, folded(decision.at)) for decision in settled}
    raised = all((decision.question, folded(decision.at)) in answered for decision in work.record.decisions)
    return () if raised else orphans(work.record)


def _of_several(receipt: Receipt) -> str:
    """Say how many ingredients stand in the lines, where that is another number."""
    items, lines = len(receipt.items), sum(bool(line.items) for line in receipt.lines)
    return f", {items} ingredients" if items != lines else ""


def _every_ounce(record: Reconstruction, literal: Formula) -> tuple[Table, ...]:
    """Show the grams for every ounce it could be, as long as nothing on file prefers one."""
    weights = custom_question("weights", record.source.setting)
    if not any(q.key == "weights" and q.chosen is None for q in literal.ways.questions):
        return ()
    made = [
        formula_of(replace(record, decisions=(*record.decisions, Decision(question="weights", option=o.key))))
        for o in weights.options
    ]
    lines = tuple(
        (line.name, *(f"{formula.line_amount[row, 0]:.4g}" for formula in made))
        for row, line in enumerate(literal.lines)
    )
    return (Table("Grams, whosever ounce it is", ("line", *(option.words for option in weights.options)), lines),)


def _answered(decision: Decision) -> str:
    return f"{decision.question} = {decision.option or f'{decision.figure:g}'}"
