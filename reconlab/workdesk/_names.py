"""What was each thing of a receipt? Its names as printed, what they were taken for, and what would decide."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from reconlab.display import Card, Table
from reconlab.formula import Formula
from reconlab.materia import folded, found_by, identify, thing
from reconlab.reasons import Question, Spread
from reconlab.receipts import Receipt
from reconlab.tables import Substance, by_id

_HEADS = ("printed", "in the line", "it was", "how sure", "found", "or it was", "what would decide")
_NOT_FOUND = "not identified"


def names_card(receipt: Receipt, formula: Formula) -> Card:
    r"""Return every name of a receipt with what it was taken for, what else it may have been, and what decides.

    Parameters
    ----------
    receipt : Receipt
        As read.
    formula : Formula
        The same in grams, as settled.

    Returns
    -------
    Card
        One table, a row for each name; a note for each that is, or may be, a poison.

    Examples
    --------
    >>> from reconlab.record import Reconstruction, formula_of, receipt_of
    >>> page = Reconstruction(transcription="Flake white, 1 oz.\nStarch, 3 oz.")
    >>> print(names_card(receipt_of(page), formula_of(page)).notes[0])
    Flake white is, or may be, white lead (basic lead carbonate): never handled (lead).
    """
    asked = {question.id: question for question in formula.ways.every_question}
    seen: dict[str, tuple[str, str, Question | None]] = {}
    for item in receipt.items:
        key = f"name: {folded(item.name)}"
        settled = asked.get(key)
        question = settled if isinstance(settled, Question) else identify(item.name, receipt.setting)
        seen.setdefault(key, (item.name, receipt.line_of(item.id).text.strip(), question))
    notes = tuple(note for name, _, question in seen.values() for note in _care(name, question))
    table = Table("", _HEADS, tuple(_row(*each, asked) for each in seen.values()))
    return Card(f"{receipt.title}: what the things were", notes, (table,))


def _row(name: str, line: str, question: Question | None, asked: Mapping[str, Question | Spread]) -> tuple[str, ...]:
    first, *others = question.options if question else (None,)
    if question is None or first is None or not thing(first.key).identified:
        own = first.words if question and first and question.settled else _NOT_FOUND
        return (name, line, own, "", "", "", "say what it was, in a modern name or words of your own")
    sure = "settled" if question.settled else first.standing if question.chosen else f"{first.standing}, none preferred"
    way = "your word" if question.settled else found_by(name)
    open_ = "" if question.settled or question.id not in asked else "; ".join(question.decides)
    was = thing(first.key).name if question.settled else first.words
    return (name, line, was, sure, way, "; ".join(f"{o.words} ({o.standing})" for o in others), open_)


def _care(name: str, question: Question | None) -> Iterator[str]:
    for option in question.options if question else ():
        row = by_id(Substance).get(option.key)
        if row is not None and row.never_handled:
            yield f"{name} is, or may be, {option.words}: never handled ({row.never_handled})."
