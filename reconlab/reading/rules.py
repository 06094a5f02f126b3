"""What an author says of his own weights and measures: "oz. and lb. are avoirdupois, a teaspoonful is a fluid drachm".

A small grammar: units and groups (subjects) and what is said of them (a system, "by weight"), and amounts said to be
one ("4 tablespoonfuls = 1 wineglass = half a gill"). A word that is not understood is never passed over: the whole
rule is refused.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from reconlab.errors import InputError
from reconlab.reading.rule_words import (
    ALL,
    BY_MEASURE,
    BY_WEIGHT,
    EXAMPLES,
    LIQUIDS,
    MEASURES,
    PARTS,
    SIGNS,
    SOLIDS,
    STOP,
    WEIGHTS,
    Piece,
    Said,
    Subject,
    Word,
    pieces,
)

__all__ = [
    "ALL",
    "BY_MEASURE",
    "BY_WEIGHT",
    "LIQUIDS",
    "MEASURES",
    "PARTS",
    "SIGNS",
    "SOLIDS",
    "WEIGHTS",
    "Claim",
    "read_rule",
]


@dataclass(frozen=True, slots=True)
class Claim:
    """One thing an author says: of a group or of one unit, that it is of a system, goes by weight, or holds so many."""

    group: str  # of the words above; empty where one unit is meant
    unit: str
    written: str  # sign, abbreviation or word: how the unit stands in the rule
    system: str = ""  # words of a system or a custom
    how: str = ""  # by weight or by measure
    count: Fraction = Fraction(0)  # so many of another unit make one
    of: str = ""
    substance: str = ""  # what it holds so much of, where the author says it: "of water"
    divided: bool = False  # said of the greater unit, to tell the size of the smaller
    every: bool = False  # "all ounces", those of liquids too

    def __str__(self) -> str:
        """Return the claim in plain words."""
        subject = self.group or f"{'the sign of the ' if self.written == 'sign' else ''}{self.unit.replace('_', ' ')}"
        if self.count:
            of = f" of {self.substance}" if self.substance else ""
            weighed = f" {self.how}" if self.how else ""
            return f"{subject}: {float(self.count):g} {self.of.replace('_', ' ')}{of}{weighed}"
        return f"{subject or 'all'}: {self.system or self.how}"


@lru_cache(maxsize=256)
def read_rule(text: str) -> tuple[Claim, ...]:
    """Return what an author's own rule says, claim by claim.

    Parameters
    ----------
    text : str
        The rule in words, or the key or label of a custom; empty where the author says nothing.

    Returns
    -------
    tuple of Claim
        In the order of the text.

    Raises
    ------
    InputError
        If a word is not understood, or nothing is said of a unit that is named.

    Examples
    --------
    >>> [str(claim) for claim in read_rule("oz. and lb. are avoirdupois, dr. and gr. troy")]
    ['ounce: avoirdupois', 'pound: avoirdupois', 'drachm: troy', 'grain: troy']
    >>> str(read_rule("the pint is of 16 ounces")[0])
    'pint: 16 ounce'
    >>> [str(claim) for claim in read_rule("4 tablespoonfuls = 1 wineglass = half a gill")]
    ['wineglassful: 4 tablespoonful', 'wineglassful: 0.5 gill']
    """
    if not text.strip():
        return ()
    claims: list[Claim] = []
    clause: list[Piece] = []
    last: Subject | None = None
    for piece in pieces(text):
        if piece != STOP:
            clause.append(piece)
        elif clause:
            sentence = _Sentence(text, last)  # "a spoonful of sugar weighs an ounce; of flour half an ounce"
            claims += sentence.read(clause)
            clause, last = [], sentence.last
    if not claims:
        raise InputError(f"{text!r} says nothing of weights and measures", "rule", EXAMPLES)
    return tuple(dict.fromkeys(claims))


@dataclass(slots=True)
class _Amount:
    """One side of "1 pint = 20 fluid ounces", with what it is said of."""

    subject: Subject
    substance: str = ""
    of_one_before: bool = False  # "16 ounces of 437 1/2 grains": it is one ounce that holds them
    divided: bool = False
    how: str = ""


@dataclass(slots=True)
class _Sentence:
    """The claims of one clause: equal amounts first taken out, the rest paired by `_Clause`."""

    text: str
    last: Subject | None = None
    rest: list[Subject | Said] = field(default_factory=list)
    claims: list[Claim] = field(default_factory=list)

    def read(self, clause: Sequence[Piece]) -> list[Claim]:
        for piece in clause:
            if _is_number(piece) and not any(isinstance(one, Subject) and one.unit for one in clause):
                raise self._no_unit()
        for read in _parts(clause):
            part = self._completed(read)
            amounts = [piece for piece in part if isinstance(piece, Subject) and piece.unit]
            units = {piece.unit for piece in amounts}
            counted = any(piece.count is not None for piece in amounts)
            alike = len(amounts) == 2 and all(p in amounts or _is_joint(p) for p in part)  # noqa: PLR2004 - "ounces are fluid ounces"
            if len(units) > 1 and (counted or alike):
                self._flush()
                self._equal(part)
            elif counted and (subject := self._subject_of(part, units)):
                self._equal((subject, *part))
            else:
                self.rest += [self._plain(piece) for piece in part if not _is_joint(piece)]
            self.last = next((piece for piece in amounts if piece.count in (None, 1)), self.last)
        self._flush()
        return self.claims

    def _completed(self, part: Sequence[Piece]) -> Sequence[Piece]:
        """Give a number the unit of the amounts before, and what is divided its whole."""
        if any(map(_is_number, part)):
            of = next((claim.of for claim in reversed(self.claims) if claim.count), "")
            if not of:
                raise self._no_unit()
            return tuple(
                Subject(unit=of, count=p.count) if isinstance(p, Subject) and _is_number(p) else p for p in part
            )
        begins = isinstance(part[0], Word) and part[0].kind == "divided"
        return (self.last, *part) if begins and self.last is not None else part

    def _no_unit(self) -> InputError:
        return InputError(f"a number in the author's rule {self.text!r} has no unit", "rule", EXAMPLES)

    def _subject_of(self, part: Sequence[Piece], units: set[str]) -> Subject | None:
        """Return what an amount alone is said of: "teaspoonful: 5 cc", "in syrups half an ounce, in water three"."""
        lone = self.rest[-1] if self.rest else None
        if isinstance(lone, Subject) and lone.unit and {lone.unit} != units:
            self.rest.pop()
            return lone
        of_another = any(isinstance(piece, Word) and piece.kind == "substance" for piece in part)
        told = self.last is not None and {self.last.unit} != units
        return self.last if told and (of_another or isinstance(lone, Said)) else None

    def _plain(self, piece: Piece) -> Subject | Said:
        """Return a piece of a clause without amounts: in it a number, a substance or a choice says nothing."""
        if isinstance(piece, Word) or (isinstance(piece, Subject) and piece.count not in (None, 1)):
            raise self._unclear(
                f"{piece.text or piece.kind!r}" if isinstance(piece, Word) else piece.unit.replace("_", " ")
            )
        return piece

    def _unclear(self, words: str) -> InputError:
        return InputError(f"the author's rule {self.text!r} does not say what {words} is", "rule", EXAMPLES)

    def _flush(self) -> None:
        if self.rest:
            self.claims += _claims(self.rest, self.text)
            self.rest = []

    def _equal(self, part: Sequence[Piece]) -> None:
        amounts = self._amounts(part[1:] if _is_heading(part[0]) else part)
        chain = [amounts[0]]
        for amount in amounts[1:]:
            before = chain[-1]
            if amount.subject.unit == before.subject.unit and before.subject.count is None:
                amount.substance = amount.substance or before.substance  # "the pint is the pint of 20 ounces"
                chain[-1] = amount
                continue
            chain.append(amount)
            self.claims.append(self._pair(before, amount))
        if len(chain) == 1:
            raise self._unclear(chain[0].subject.unit.replace("_", " "))

    def _amounts(self, part: Sequence[Piece]) -> list[_Amount]:
        side = _Side()
        for at, piece in enumerate(part):
            if isinstance(piece, Subject) and piece.unit:
                if side.system:
                    self._of_system(piece, side.system)
                side.take(piece)
            elif isinstance(piece, Said) and piece.system:
                side.system = self._system_of(side.last.subject if side.last and not side.of else None, piece.system)
            elif isinstance(piece, Word) and piece.kind != "substance":
                side.of = side.of or piece.kind == "of"
                side.divided = side.divided or piece.kind == "divided"
            else:
                side.hear(piece, within=at > 0 and _is_within(part[at - 1]))
        if side.system or side.substance:
            raise self._unclear(side.system or side.substance)
        for amount in side.found:
            amount.how = side.how
        return side.found

    def _system_of(self, before: Subject | None, system: str) -> str:
        """Claim a system for the unit before it; without one it belongs to the next."""
        if before is None:
            return system
        self._of_system(before, system)
        return ""

    def _of_system(self, subject: Subject, system: str) -> None:
        self.claims.append(Claim("", subject.unit, subject.written, system))

    def _pair(self, one: _Amount, other: _Amount) -> Claim:
        first = Fraction(1) if other.of_one_before else one.subject.count or Fraction(1)
        second = other.subject.count or Fraction(1)
        substance = one.substance or other.substance
        if one.substance and other.substance and one.substance != other.substance:
            raise self._unclear(other.substance)
        if not first or not second:
            raise self._unclear("nothing of a unit")
        if first != 1 and second == 1:  # "16 ounces to the pint", "60 drops make a teaspoonful"
            one, other, first, second = other, one, second, first
        subject = one.subject
        how = one.how if substance or one.how == BY_WEIGHT else ""
        ratio = second / first
        return Claim(
            "", subject.unit, subject.written, "", how, ratio, other.subject.unit, substance, divided=other.divided
        )


def _parts(clause: Sequence[Piece]) -> Iterator[tuple[Piece, ...]]:
    """Give what stands between commas and "and"."""
    part: list[Piece] = []
    first = True
    for piece, behind in pairwise((*clause, STOP)):
        if not (isinstance(piece, Word) and piece.kind == "and"):
            part.append(piece)
            continue
        going_on = isinstance(behind, Word) and behind.kind == "or"  # "four tablespoonfuls, or two fluid ounces"
        heading = piece.text == ":" and part and isinstance(part[-1], Subject) and part[-1].group
        # "Measures: 1 pint = 16 ounces" has a heading, and "Weights: avoirdupois"
        if part and not (going_on or heading or (first and _is_lone_amount(part))):
            yield tuple(part)
            part, first = [], False
    if part:
        yield tuple(part)


def _is_heading(piece: Piece) -> bool:
    return isinstance(piece, Subject) and piece.group in (WEIGHTS, MEASURES)


def _is_lone_amount(part: Sequence[Piece]) -> bool:
    """Return whether a clause begins with an amount and goes on: "four drachms, by measure, make a spoonful"."""
    return len(part) == 1 and isinstance(part[0], Subject) and bool(part[0].unit) and part[0].count not in (None, 1)


def _is_number(piece: Piece) -> bool:
    return isinstance(piece, Subject) and not piece.unit and not piece.group


def _is_joint(piece: Piece) -> bool:
    return isinstance(piece, Word) and piece.kind == "of"


def _is_within(piece: Piece) -> bool:
    """Return whether "in" stands before a substance: "a spoon holds in syrups half an ounce"."""
    return isinstance(piece, Word) and piece.text in ("in", "en")


@dataclass(slots=True)
class _Side:
    """Amounts as they are read, and what was read before one and belongs to it."""

    found: list[_Amount] = field(default_factory=list)
    of: bool = False
    divided: bool = False
    how: str = ""
    substance: str = ""
    system: str = ""

    @property
    def last(self) -> _Amount | None:
        return self.found[-1] if self.found else None

    def take(self, subject: Subject) -> None:
        behind_many = self.last is not None and self.last.subject.count not in (None, 1)
        self.found.append(_Amount(subject, self.substance, self.of and behind_many, self.divided))
        self.of, self.divided, self.substance, self.system = False, False, "", ""

    def hear(self, piece: Piece, *, within: bool) -> None:
        """Hear how an amount is told, or of what thing."""
        if isinstance(piece, Said):
            self.how = piece.how
        elif isinstance(piece, Subject) and piece.group in (WEIGHTS, MEASURES):  # "a teaspoonful measures a drachm"
            self.how = BY_MEASURE if piece.group == MEASURES else BY_WEIGHT
        elif not (isinstance(piece, Subject) and piece.group == ALL):
            said = piece.text if isinstance(piece, Word) else piece.group
            if self.last and (self.last.subject.count is not None or not within):
                self.last.substance = said
            else:
                self.substance = said
            self.of = False


@dataclass(slots=True)
class _Clause:
    """Pairs subjects with what is said of them, whichever comes first."""

    said_first: bool
    subjects: list[Subject] = field(default_factory=list)
    said: Said | None = None
    claims: list[Claim] = field(default_factory=list)
    last: tuple[Subject, ...] = ()

    def close(self) -> None:
        if self.said is None:
            return
        said = self.said
        meant = [s for s in self.subjects if s.group != ALL] or self.subjects or [Subject(group=said.kind)]
        every = any(s.group == ALL for s in self.subjects)
        self.claims += [
            Claim(s.group, s.unit, s.written, said.system, said.how, every=every and bool(s.unit)) for s in meant
        ]
        self.last, self.subjects, self.said = tuple(meant), [], None


def _claims(clause: Sequence[Subject | Said], text: str) -> list[Claim]:
    if len(clause) == 1 and _is_heading(clause[0]):
        return []
    pairs = _Clause(said_first=isinstance(clause[0], Said))
    for piece in clause:
        if isinstance(piece, Subject):
            pairs.subjects.append(piece)
            continue
        if pairs.said_first:
            pairs.close()
            pairs.said = piece
        else:
            pairs.said = piece
            pairs.close()
    pairs.close()
    again = {(s.group, s.unit) for s in pairs.last}
    left = [s for s in pairs.subjects if s.group != ALL and (s.group, s.unit) not in again]
    if left:
        named = " and ".join(s.group or s.unit.replace("_", " ") for s in left)
        raise InputError(f"the author's rule {text!r} does not say what {named} is", "rule", EXAMPLES)
    return pairs.claims
