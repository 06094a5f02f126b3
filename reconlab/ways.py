"""Which readings are open, and what does each cost? Every question answered in every way worth looking at.

A *way* is one answer to every question. Way 0 is the receipt as chosen; then one way for each other answer alone,
which tell what to settle first; the rest draw all open questions at once, which gives the ranges.
"""

from __future__ import annotations

import zlib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from reconlab.reasons import Question, Reason, Spread, Standing, Value

Array = NDArray[np.float64]
Where = NDArray[np.bool_]

# How often each standing is drawn: common practice, no source. Only the widths of ranges depend on it; whether
# something is looked at by screening never does.
DRAWN = {"likely": 4.0, "possible": 2.0, "unlikely": 1.0}
_LOW, _HIGH = 2.5, 97.5  # percentiles of the draws a range covers


@dataclass(frozen=True, slots=True)
class OtherAnswer:
    """One answer other than the chosen."""

    question: str  # id
    option: str
    words: str
    standing: Standing


@dataclass(frozen=True)
class Ways:
    """The columns of a formula."""

    questions: tuple[Question, ...]
    spreads: tuple[Spread, ...] = ()
    draws: int = 2_000

    @property
    def every_question(self) -> tuple[Question | Spread, ...]:
        """Every question, whether its answers are things or figures."""
        return (*self.questions, *self.spreads)

    @cached_property
    def others(self) -> tuple[OtherAnswer, ...]:
        """What the ways after the first change, one answer each."""
        answers = [
            OtherAnswer(q.id, o.key, o.words, o.standing)
            for q in self.questions
            for o in q.options[1:]
            if self.asked(q)
        ]
        ends = [
            OtherAnswer(s.id, end, f"{figure:.3g} {s.unit}", "possible")
            for s in self.spreads
            if s.low < s.high
            for end, figure in (("low", s.low), ("high", s.high))
        ]
        return (*answers, *ends)

    def asked(self, question: Question) -> bool:
        """Return whether the answers a question hangs on are the chosen ones: only then is it put to a person."""
        chosen = {q.id: q.options[0].key for q in self.questions}
        return all(chosen.get(parent, answers[0]) in answers for parent, answers in question.only_if)

    def __len__(self) -> int:
        """Return how many ways there are."""
        return 1 + len(self.others) + self.draws

    def holds(self, question: Question, option: str) -> Array:
        """Return, for every way, 1 where an answer holds and 0 where another does."""
        return self.take(question, {o.key: np.float64(o.key == option) for o in question.options})

    def take(self, question: Question, worth: Mapping[str, Array | np.float64 | float]) -> Array:
        """Return, for every way, what the answer held there is worth; a worth may itself be a figure for every way."""
        answers = self._answers(question)
        taken = np.zeros(len(self))
        for index, option in enumerate(question.options):
            taken = np.where(answers == index, worth[option.key], taken)
        return taken

    def _answers(self, question: Question) -> NDArray[np.int64]:
        keys = [option.key for option in question.options]
        answers = np.zeros(len(self), dtype=np.int64)
        for way, other in enumerate(self.others, start=1):
            if other.question == question.id and other.option in keys:
                answers[way] = keys.index(other.option)
        if len(keys) > 1:
            odds = np.array([DRAWN[option.standing] for option in question.options])
            answers[len(self) - self.draws :] = _stream(question.id).choice(len(keys), self.draws, p=odds / odds.sum())
        return answers

    def between(self, spread: Spread) -> Array:
        """Return a spread's figure in every way."""
        taken = np.full(len(self), spread.usual)
        for way, other in enumerate(self.others, start=1):
            if other.question == spread.id:
                taken[way] = spread.low if other.option == "low" else spread.high
        if spread.low < spread.high:
            drawn = _stream(spread.id).triangular(spread.low, spread.usual, spread.high, self.draws)
            taken[len(self) - self.draws :] = drawn
        return taken

    def value(self, figures: Array, unit: str, reason: Reason, where: Where | None = None) -> Value:
        """Return a figure as chosen; its range holds 95 % of the draws and every single change.

        With `where`, only the ways it names count; if the chosen way is not among them, the first of them is given:
        that in which the least else is changed.
        """
        there = np.ones(len(self), dtype=bool) if where is None or not where.any() else where
        first = len(self) - self.draws
        single, drawn = figures[:first][there[:first]], figures[first:][there[first:]]
        number = float(single[0] if single.size else np.median(drawn))
        ends = [*single, *(np.percentile(drawn, [_LOW, _HIGH]) if drawn.size else ())]
        return Value(number, float(min((*ends, number))), float(max((*ends, number))), unit, reason)


def _stream(key: str) -> np.random.Generator:
    """Return a stream of the question's own, so that a new question leaves other ranges as they were."""
    return np.random.default_rng(zlib.crc32(key.encode()))
