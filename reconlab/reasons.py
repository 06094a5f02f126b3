"""Why, and who says so: citations, reasons, figures with their ranges, questions and decisions."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Literal

from reconlab.display import Card, Shown, Table, chain_lines
from reconlab.units import quantity

if TYPE_CHECKING:
    from pint import Quantity

Standing = Literal["likely", "possible", "unlikely"]
Scope = Literal["line", "receipt", "book"]
STANDINGS: tuple[Standing, ...] = ("likely", "possible", "unlikely")  # the surest first
RANGE_MATTERS = 0.02  # a range wider than 2 % of the figure is shown

_CITATION = re.compile(r"(?P<key>[a-z0-9_]+)(?:\[(?P<place>[^\]]+)\])?")


@dataclass(frozen=True, slots=True)
class Citation:
    """A source by its key in ``sources.json``, and the place in it."""

    key: str
    place: str = ""

    def __str__(self) -> str:
        """Return key and place as shown in chains."""
        return f"{self.key}, {self.place}" if self.place else self.key


def citations(cell: str) -> tuple[Citation, ...]:
    """Return the citations of a table cell, ``key[place] | key``.

    Parameters
    ----------
    cell : str
        Keys with their places, joined by ``|``.

    Returns
    -------
    tuple of Citation
        In the order of the cell; empty for an empty cell.

    Raises
    ------
    ValueError
        If a citation has not the form ``key[place]``.

    Examples
    --------
    >>> citations("a_book[p. 4] | from_memory")
    (Citation(key='a_book', place='p. 4'), Citation(key='from_memory', place=''))
    """
    found = []
    for part in filter(None, cell.split(" | ")):
        match = _CITATION.fullmatch(part)
        if match is None:
            raise ValueError(f"{part!r} is not key[place]")
        found.append(Citation(match["key"], match["place"] or ""))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Reason:
    """A sentence, who says it, and what it rests on."""

    says: str
    sources: tuple[Citation, ...] = ()
    because: tuple[Reason, ...] = ()

    def __str__(self) -> str:
        """Return the whole chain as indented lines."""
        return "\n".join(chain_lines(self))

    def all_sources(self) -> tuple[Citation, ...]:
        """Return every citation of the chain, each once, in order."""
        found = dict.fromkeys(self.sources)
        for step in self.because:
            found.update(dict.fromkeys(step.all_sources()))
        return tuple(found)


@dataclass(frozen=True, slots=True, repr=False)
class Value:
    """A figure, how far it may lie off, its unit and its reason."""

    number: float
    low: float
    high: float
    unit: str
    reason: Reason

    @property
    def quantity(self) -> Quantity[float]:
        """The figure as a pint quantity."""
        return quantity(self.number, self.unit)

    @property
    def wide(self) -> bool:
        """Whether the range matters: wider than 2 % of the figure."""
        return self.high - self.low > RANGE_MATTERS * abs(self.number)

    def explain(self) -> Card:
        """Return the chain from the printed words to the published source."""
        return Card(str(self), chains=(self.reason,))

    def __str__(self) -> str:
        """Show the range only where it matters."""
        return f"{figure(self.number)} {self.unit}" + (
            f" ({figure(self.low)} to {figure(self.high)})" if self.wide else ""
        )

    __repr__ = __str__  # the whole chain is for `explain`


def figure(number: float) -> str:
    """Return a figure with three significant digits, never in powers of ten.

    Parameters
    ----------
    number : float
        The figure [any].

    Returns
    -------
    str
        As a person writes it.

    Examples
    --------
    >>> figure(453.59237), figure(0.06479), figure(0.0000123), figure(100.0)
    ('454', '0.0648', '0.0000123', '100')
    """
    if number == 0:
        return "0"
    text = f"{number:.3g}"
    return f"{float(text):.10f}".rstrip("0").rstrip(".") if "e" in text or "." in text else text


@dataclass(frozen=True, slots=True)
class Option:
    """One answer to a question."""

    key: str
    standing: Standing
    reason: Reason
    label: str = ""  # how a person reads it; the key when empty

    @property
    def words(self) -> str:
        """The answer as a person reads it."""
        return self.label or self.key


@dataclass(frozen=True, slots=True, repr=False)
class Question(Shown):
    """Something the page leaves open: the same key in the same book is one question, on every line.

    ``only_if`` names the answers it hangs on, as (question id, answers). ``settled`` holds the decision that closed it.
    """

    key: str
    asks: str
    options: tuple[Option, ...]
    book: str = ""
    only_if: tuple[tuple[str, tuple[str, ...]], ...] = ()
    settled: Decision | None = None
    dropped: tuple[Option, ...] = ()  # the answers a decision has shut out
    preferred_before: str = ""  # what was preferred before the decision
    decides: tuple[str, ...] = ()  # what would decide between the answers

    @property
    def id(self) -> str:
        """Key with the book, where the book is another than the receipt's."""
        return f"{self.key} ({self.book})" if self.book else self.key

    @property
    def open(self) -> bool:
        """Whether there is still something to settle."""
        return self.settled is None and len(self.options) > 1

    @property
    def chosen(self) -> Option | None:
        """The answer that holds, or None where nothing on file prefers one."""
        first = self.options[0]
        return first if len(self.options) == 1 or first.standing == "likely" else None

    @property
    def prefers(self) -> str:
        """Key of the answer the tables prefer, whatever a person has settled; empty where they prefer none."""
        if self.settled:
            return self.preferred_before
        return self.chosen.key if self.chosen else ""

    def card(self) -> Card:
        """Return every answer with its standing and why, and what would decide."""
        settled = f"settled: {self.settled.because or 'no reason given'}" if self.settled else ""
        open_ = "" if self.settled or self.chosen else "nothing on file prefers one of them"
        decides = f"what would decide: {'; '.join(self.decides)}" if self.decides else ""
        answers = tuple((option.words, option.standing) for option in self.options)
        table = Table("", ("answer", "standing"), answers)
        return Card(
            self.asks,
            tuple(filter(None, (settled, open_, decides))),
            (table,),
            tuple(option.reason for option in self.options),
        )

    def decided(self, decision: Decision) -> Question:
        """Return the question closed by a decision; an answer not on the list is the person's own and is added."""
        own = Option(decision.option, "likely", Reason(f"own answer: {decision.because}", decision.cited))
        kept = next((option for option in self.options if option.key == decision.option), own)
        because = Reason(f"settled: {decision.because or 'no reason given'}", decision.cited, (kept.reason,))
        chosen = replace(kept, standing="likely", reason=because)
        dropped = tuple(option for option in self.options if option.key != decision.option)
        return replace(self, options=(chosen,), settled=decision, dropped=dropped, preferred_before=self.prefers)

    def merged(self, other: Question) -> Question:
        """Return one question with the options of both; the worst standing of an answer is kept, none is lost."""
        found = {option.key: option for option in self.options}
        for option in other.options:
            kept = found.get(option.key)
            if kept is None or STANDINGS.index(option.standing) > STANDINGS.index(kept.standing):
                found[option.key] = option
        only_if = self.only_if if self.only_if == other.only_if else ()  # asked on one line without condition: asked
        return replace(
            self,
            options=in_order(found.values()),
            settled=self.settled or other.settled,
            only_if=only_if,
            preferred_before=self.preferred_before if self.preferred_before == other.preferred_before else "",
            decides=tuple(dict.fromkeys((*self.decides, *other.decides))),
        )


@dataclass(frozen=True, slots=True)
class Spread:
    """A figure known only within limits, such as the weight of a drop."""

    key: str
    asks: str
    usual: float
    low: float
    high: float
    unit: str
    reason: Reason
    settled: Decision | None = None
    book: str = ""  # where the book is another than the receipt's: its spoons are its own
    preferred_before: str = ""  # what was usual before the decision

    @property
    def id(self) -> str:
        """Key with the book, where the book is another than the receipt's."""
        return f"{self.key} ({self.book})" if self.book else self.key

    @property
    def prefers(self) -> str:
        """The figure the tables give, with its unit, whatever a person has settled."""
        return self.preferred_before if self.settled else f"{self.usual:.6g} {self.unit}"

    def decided(self, decision: Decision) -> Spread:
        """Return the spread closed by a figure of the person's own."""
        if decision.figure is None:
            return self
        because = Reason(f"settled: {decision.because or 'no reason given'}", decision.cited, (self.reason,))
        closed = replace(self, reason=because, settled=decision, preferred_before=self.prefers)
        return replace(closed, usual=decision.figure, low=decision.figure, high=decision.figure)


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """What a person settled, why, on whose word, when; ``at`` gives the words of a single line it is for."""

    question: str
    option: str = ""
    figure: float | None = None
    because: str = ""
    sources: tuple[str, ...] = ()
    who: str = ""
    when: str = ""
    scope: Scope = "receipt"
    at: str = ""
    answered: str = field(default="")  # what the tables preferred when it was taken

    @property
    def cited(self) -> tuple[Citation, ...]:
        """The sources as citations."""
        return own_citations(self.sources)


def own_citations(sources: Iterable[str]) -> tuple[Citation, ...]:
    """Return the sources a person gave; words that are no key of ours are kept as they are.

    Parameters
    ----------
    sources : iterable of str
        Each ``key[place]``, or words of the person's own.

    Returns
    -------
    tuple of Citation
        In the same order.

    Examples
    --------
    >>> own_citations(["from_memory", "label on the shop's jar"])
    (Citation(key='from_memory', place=''), Citation(key='own', place="label on the shop's jar"))
    """
    found = ((text, _CITATION.fullmatch(text)) for text in sources)
    return tuple(Citation(m["key"], m["place"] or "") if m else Citation("own", text) for text, m in found)


def in_order(options: Iterable[Option]) -> tuple[Option, ...]:
    """Return options with the surest first, otherwise in the order given.

    Parameters
    ----------
    options : iterable of Option
        The answers.

    Returns
    -------
    tuple of Option
        The same answers.

    Examples
    --------
    >>> why = Reason("so")
    >>> [option.key for option in in_order([Option("b", "possible", why), Option("a", "likely", why)])]
    ['a', 'b']
    """
    return tuple(sorted(options, key=lambda option: STANDINGS.index(option.standing)))
