"""What a person settled: the questions and spreads of a receipt closed by her decisions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from reconlab import measures
from reconlab.errors import InputError, UnknownNameError
from reconlab.materia import OWN_WORD, UNKNOWN, alarms, folded, own_word, substance_id, thing
from reconlab.reasons import Decision, Question, Spread
from reconlab.tables import Custom, Preparation, by_id, rows
from reconlab.translation._strong import own_strength
from reconlab.units import modern


def decision_for(question: str, settled: Mapping[tuple[str, str], Decision], words: str) -> Decision | None:
    """Return the decision about a question; one about the words of a line goes before the general one."""
    own = [d for (key, at), d in settled.items() if key == question and at and f" {at} " in f" {folded(words)} "]
    return own[-1] if own else settled.get((question, ""))


def close(
    question: Question, settled: Mapping[tuple[str, str], Decision], words: str, *, named: bool = False
) -> Question:
    """Return a question closed by the decision about it; one about the words of a line is for that line alone."""
    decision = decision_for(question.id, settled, words)
    if decision is None:
        return question
    if decision.at:
        question = replace(question, key=f"{question.key} @ {folded(decision.at)}")
    return question.decided(_with_substance(decision, question) if named else _with_option(decision, question))


def _with_option(decision: Decision, question: Question) -> Decision:
    """Let a person give an answer by its words instead of its key."""
    for option in (*question.options, *question.dropped):  # what the author's rule shuts out can still be settled
        if folded(decision.option) in (folded(option.key), folded(option.words)):
            return replace(decision, option=option.key)
    asked = question.key.split(" @ ")[0].split(": ")[0]
    if asked == "liquids" and decision.option in (measures.AS_STATE, measures.BY_WEIGHT, measures.BY_MEASURE):
        return decision
    for row in rows(Custom):  # a custom of elsewhere is an answer where a person says so
        if row.question == asked and folded(decision.option) in (folded(row.custom), folded(row.label)):
            return replace(decision, option=row.custom)
    answers = "; ".join(option.words for option in question.options)
    raise InputError(
        f"{decision.option!r} is no answer to {question.asks!r}", question.id, f"The answers are: {answers}."
    )


def _with_substance(decision: Decision, question: Question) -> Decision:
    """Let a person name a thing by its modern name, or in words of her own where the tables do not know it.

    Her own words for a name behind which a poison may stand keep that name: it goes on being heard.
    """
    if decision.option in by_id(Preparation) or decision.option.startswith((UNKNOWN, OWN_WORD)):
        return decision
    prepared = [row.id for row in rows(Preparation) if folded(row.name) == folded(decision.option)]
    if prepared:
        return replace(decision, option=prepared[0])
    if thing(decision.option).on_file:  # a spirit of some strength too
        return decision
    try:
        return replace(decision, option=substance_id(decision.option))
    except UnknownNameError:
        own = own_strength(decision.option, question)
        if own:
            return replace(decision, option=own)
        printed_name = question.key.removeprefix("name: ").partition(" @ ")[0]
        key = own_word(folded(decision.option), printed_name if alarms(printed_name) else "")
        return replace(decision, option=key)


_IN_WORDS = {"g": "mass", "mL": "volume"}


def close_spread(spread: Spread, settled: Mapping[tuple[str, str], Decision], words: str) -> Spread:
    decision = decision_for(spread.id, settled, words)
    if decision is None:
        return spread
    if decision.at:
        spread = replace(spread, key=f"{spread.key} @ {folded(decision.at)}")
    if decision.figure is None and spread.unit in _IN_WORDS:  # "0.031 g", "14 mL" in words
        decision = replace(decision, figure=modern(decision.option, _IN_WORDS[spread.unit]))
    if decision.figure is None or not 0 < decision.figure < float("inf"):
        found = f"{decision.figure!r} is no figure for {spread.asks!r}"
        raise InputError(found, spread.id, f"Give one above 0 in {spread.unit}.")
    return spread.decided(decision)
