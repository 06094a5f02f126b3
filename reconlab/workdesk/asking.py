"""How is a question put to a person? With its answers, what each does, and the words that will do."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from reconlab.display import Card, Table
from reconlab.errors import InputError
from reconlab.formula import Formula
from reconlab.reasons import Decision, Question, Spread, Standing
from reconlab.receipts import BOOK_KINDS
from reconlab.record.parts import BASES, CHANGE_KINDS
from reconlab.tables import FormRow, LawText, Rule, rows

_OF_BOOK = ("weights", "measures", "liquids", "parts")
_SIZES = ("size: ", "drop: ", "weight: ")  # spoons, drops and counted things


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

    @property
    def takes_own(self) -> bool:
        """Whether an answer that is not on the list will do: a figure, or what a thing was."""
        return bool(self.unit) or self.key.startswith("name: ")

    @property
    def of_a_name(self) -> bool:
        """Whether it asks what a thing was, or how strong."""
        return self.key.startswith(("name: ", "strength: "))

    @property
    def of_the_print(self) -> bool:
        """Whether it asks how printed words are to be read."""
        return self.key.startswith(("reading: ", "amount: "))

    @property
    def of_the_book(self) -> bool:
        """Whether it asks about the measures of the book, the same in all its receipts."""
        return self.key in _OF_BOOK or self.key.startswith(_SIZES)


def asked(formula: Formula) -> tuple[Asked, ...]:
    r"""Return every question of a formula: open ones first, those that matter most before others.

    Parameters
    ----------
    formula : Formula
        The receipt in grams, as settled.

    Returns
    -------
    tuple of Asked
        Each with what each of its answers does.

    Examples
    --------
    >>> from reconlab.record import Reconstruction, formula_of
    >>> page = Reconstruction(transcription="Starch, 3 oz.\nRose water, 1 pint")
    >>> {question.key for question in asked(formula_of(page))} >= {"weights", "measures"}
    True
    """
    does = {(s.question, s.answer): str(s).removeprefix(f"if {s.answer}: ") for s in formula.swings()}
    settled = [question for question in formula.ways.every_question if question.settled]
    return tuple(_asked(question, does) for question in (*formula.open_questions(), *settled))


def open_card(title: str, formula: Formula) -> Card:
    """Return what is open, what is taken meanwhile, and what each other answer does.

    Parameters
    ----------
    title : str
        The title of the record.
    formula : Formula
        The receipt in grams, as settled.

    Returns
    -------
    Card
        One table, a row a question.

    Examples
    --------
    >>> from reconlab.record import Reconstruction, formula_of
    >>> print(open_card("Water", formula_of(Reconstruction(transcription="Water, 3 g"))))
    Water: questions
    <BLANKLINE>
    - Nothing is open.
    """
    swings = formula.swings()
    found = []
    for question in formula.open_questions():
        taken = question.options[0].words if isinstance(question, Question) else f"{question.usual:.3g} {question.unit}"
        does = "; ".join(str(swing) for swing in swings if swing.question == question.id) or "changes nothing shown"
        found.append((question.id, question.asks, taken, does))
    heads = ("key", "question", "taken meanwhile", "the other answers")
    note = () if found else ("Nothing is open.",)
    return Card(f"{title}: questions", note, (Table("", heads, tuple(found)),) if found else ())


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
