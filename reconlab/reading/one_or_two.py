"""One receipt or two? Where the print does not say, it is a question, and a person's decision settles it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from reconlab.reasons import Decision, Option, Question, Reason

ONE, TWO = "one receipt", "two receipts"
_LONGEST = 40  # characters of the words that name a doubt


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why words may open a receipt of their own, why they may not, and which is likelier."""

    for_two: str
    for_one: str
    two: bool = True

    @property
    def likelier(self) -> str:
        """The answer that holds while nobody has decided."""
        return TWO if self.two else ONE


UNMARKED = Doubt(
    "its first line is set by itself, as titles are", "the line bears no mark of a title: it may head a part of it"
)
NEW_LIST = Doubt(
    "a new list stands behind the directions of the one before", "no title stands over the list: it may be the rest"
)
NEW_PARAGRAPH = Doubt(
    "the paragraph tells again what is taken, behind directions that close the one before",
    "no title stands over it: it may tell of a second part",
)
GOES_ON = Doubt(
    "the paragraph tells again what is taken, behind directions", "it stands under the same title", two=False
)


def asked(doubt: Doubt, title: str, before: str, words: str) -> Question:
    """Return the question whether words open a receipt of their own.

    Parameters
    ----------
    doubt : Doubt
        What speaks for either answer.
    title : str
        What the second one would be called; empty where the page does not say.
    before : str
        What the first one is called.
    words : str
        The first words of the second.

    Returns
    -------
    Question
        With the likelier answer first.

    Examples
    --------
    >>> question = asked(UNMARKED, "Lip Salve", "COLD CREAM", "Wax, 1 oz.")
    >>> print(question.key, [option.key for option in question.options])
    one or two: Lip Salve ['two receipts', 'one receipt']
    """
    name = title or " ".join(words.split())
    name = name if len(name) <= _LONGEST else f"{name[:_LONGEST].rpartition(' ')[0] or name[:_LONGEST]} ..."
    two = Option(TWO, "likely" if doubt.two else "possible", Reason(doubt.for_two))
    one = Option(ONE, "possible" if doubt.two else "likely", Reason(doubt.for_one))
    of = f" of {before!r}" if before else " of the receipt before it"
    asks = f"Is {name!r} a receipt of its own, or a part{of}?"
    return Question(f"one or two: {name}", asks, (two, one) if doubt.two else (one, two))


def settled(question: Question, decisions: Iterable[Decision]) -> Question:
    """Return a question closed by the decision about it, if there is one; the last one wins.

    Parameters
    ----------
    question : Question
        Of one receipt or two.
    decisions : iterable of Decision
        What a person settled.

    Returns
    -------
    Question
        The same, open or closed.

    Examples
    --------
    >>> question = asked(UNMARKED, "Lip Salve", "COLD CREAM", "Wax, 1 oz.")
    >>> closed = settled(question, [Decision(question=question.key, option=ONE, because="one pot")])
    >>> closed.options[0].key, closed.open
    ('one receipt', False)
    """
    about = [decision for decision in decisions if decision.question == question.id and decision.option in (ONE, TWO)]
    return question.decided(about[-1]) if about else question
