"""What an author says of his own weights and measures: "oz. and lb. are avoirdupois, dr. and gr. troy".

A small grammar: units and groups (subjects) and what is said of them (a system, "by weight", "of 16 ounces"). Words of
units come from the notation table, those of systems from the tables of customs and measures. A word that is not
understood is never passed over: the whole rule is refused.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache

from reconlab.errors import InputError, nearest
from reconlab.reading.quantities import quantity_at
from reconlab.reading.tokens import Token, mark_at, tokens
from reconlab.tables import Custom, Measure, rows

BY_WEIGHT, BY_MEASURE = "by weight", "by measure"
WEIGHTS, MEASURES, SIGNS, LIQUIDS, SOLIDS, PARTS, ALL = (
    "weights",
    "measures",
    "signs",
    "liquids",
    "solids",
    "parts",
    "everything",
)

_GROUPS: Mapping[tuple[str, ...], str] = {
    **{(word,): WEIGHTS for word in ("weights", "weight")},
    **{(word,): MEASURES for word in ("measures", "measure", "volumes", "volume")},
    **{(kind, word): MEASURES for kind in ("fluid", "liquid") for word in ("measure", "measures")},
    **{(word,): SIGNS for word in ("signs", "sign", "symbols", "symbol")},
    **{(word,): LIQUIDS for word in ("liquids", "liquid", "fluids", "fluid")},
    **{(word,): SOLIDS for word in ("solids", "solid", "powders", "dry")},
    **{(word,): ALL for word in ("everything", "all", "ingredients", "quantities", "amounts")},
}
_KINDS = {"weight": WEIGHTS, "measure": MEASURES}
_HOW: Mapping[tuple[str, ...], str] = {
    ("by", "weight"): BY_WEIGHT,
    ("weighed",): BY_WEIGHT,
    ("by", "measure"): BY_MEASURE,
    ("by", "volume"): BY_MEASURE,
    ("measured",): BY_MEASURE,
}
# Other words for a system than those of the tables.
_SYSTEMS = {"avdp": "avoirdupois", "avoir": "avoirdupois", "av": "avoirdupois", "apoth": "apothecaries"} | {
    "british": "imperial",
    "american": "wine",
    "u.s": "wine",
    "u s": "wine",
    "us": "wine",
}
_FILLERS = frozenset(
    re.findall(
        r"\S+",
        """the a an and are is be being was were of in to by for with this these book books used use here taken as
        reckoned author author's both each or that which means mean meant stands stand counted contains contain
        containing holds hold has have having equal equals it its namely while but also system kind only always
        throughout unless otherwise stated""",
    )
)
_STOPS = ";.:"
_EXAMPLES = (
    'Write it such as "oz. and lb. are avoirdupois, dr. and gr. troy", "all weights troy", "fluid ounces imperial", '
    '"the pint is of 16 ounces", "liquids by measure" or "parts by weight".'
)


@dataclass(frozen=True, slots=True)
class Claim:
    """One thing an author says: of a group or of one unit, that it is of a system, goes by weight, or holds so many."""

    group: str  # of the words above; empty where one unit is meant
    unit: str
    written: str  # sign, abbreviation or word: how the unit stands in the rule
    system: str = ""  # words of a system or a custom
    how: str = ""  # by weight or by measure
    count: float = 0.0  # so many of a smaller unit make one
    of: str = ""

    def __str__(self) -> str:
        """Return the claim in plain words."""
        subject = self.group or f"{'the sign of the ' if self.written == 'sign' else ''}{self.unit.replace('_', ' ')}"
        if self.count:
            return f"{subject}: {self.count:g} {self.of.replace('_', ' ')}"
        return f"{subject or 'all'}: {self.system or self.how}"


@dataclass(frozen=True, slots=True)
class _Subject:
    group: str = ""
    unit: str = ""
    written: str = "word"


@dataclass(frozen=True, slots=True)
class _Said:
    """What is said of subjects, without them."""

    system: str = ""
    how: str = ""
    count: float = 0.0
    of: str = ""
    kind: str = ""  # weights or measures, where the system is called so and nothing else is its subject

    def of_subject(self, subject: _Subject) -> Claim:
        return Claim(subject.group, subject.unit, subject.written, self.system, self.how, self.count, self.of)


_Piece = _Subject | _Said | None  # None ends a clause


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
    """
    if not text.strip():
        return ()
    claims: list[Claim] = []
    clause: list[_Subject | _Said] = []
    for piece in (*_pieces(tokens(text.strip()), text), None):
        if piece is not None:
            clause.append(piece)
        elif clause:
            claims += _claims(clause, text)
            clause = []
    if not claims:
        raise InputError(f"{text!r} says nothing of weights and measures", "rule", _EXAMPLES)
    return tuple(dict.fromkeys(claims))


def _pieces(line: Sequence[Token], text: str) -> Iterator[_Piece]:
    at = 0
    while at < len(line):
        token = line[at]
        for reader in (_how_at, _system_at, _amount_at, _unit_at, _group_at):
            found = reader(line, at)
            if found is not None:
                pieces, at = found
                yield from pieces
                break
        else:
            if token.text in _STOPS or token.kind == "break":
                yield None
            elif token.kind == "word" and token.text.lower() not in _FILLERS:
                hint = nearest(token.text, {word for words in system_words() for word in words})
                found_words = f"{token.text!r} in the author's rule {text!r} is not understood"
                raise InputError(found_words, "rule", f"{_EXAMPLES}{hint}")
            elif token.kind in ("number", "sign"):
                raise InputError(f"{token.text!r} in the author's rule {text!r} has no unit", "rule", _EXAMPLES)
            at += 1


_FoundPieces = tuple[tuple[_Subject | _Said, ...], int] | None


def _words_at(line: Sequence[Token], at: int, count: int) -> tuple[str, ...]:
    return tuple(token.text.lower() for token in line[at : at + count])


def _how_at(line: Sequence[Token], at: int) -> _FoundPieces:
    for length in (2, 1):
        how = _HOW.get(_words_at(line, at, length))
        if how:
            return (_Said(how=how),), at + length
    return None


def _system_at(line: Sequence[Token], at: int) -> _FoundPieces:
    for length in range(_longest_system(), 0, -1):
        words = _words_at(line, at, length)
        if len(words) == length and words in system_words():
            after = at + length
            while after < len(line) and line[after].text.lower() in (".", "'", "\N{RIGHT SINGLE QUOTATION MARK}"):
                ends = line[after].text == "." and line[after].start > line[after - 1].end
                if ends:
                    break
                after += 1
            # "troy weight", "British measure": the word belongs to the system
            kind = _KINDS.get(line[after].text.lower(), "") if after < len(line) else ""
            return (_Said(system=system_words()[words], kind=kind),), after + bool(kind)
    return None


def _amount_at(line: Sequence[Token], at: int) -> _FoundPieces:
    found = quantity_at(line, at)
    if found is None or len(found.quantity.parts) != 1:
        return None
    part = found.quantity.parts[0]
    if part.amount.value is None or part.unit is None:
        return None
    unit = str(part.unit)
    if part.amount.value == 1:  # "1 pint is 16 ounces"
        return (_Subject(unit=unit, written=part.written),), found.after
    return (_Said(count=part.amount.value, of=unit),), found.after


def _unit_at(line: Sequence[Token], at: int) -> _FoundPieces:
    mark = mark_at(line, at)
    if mark is None or "unit" not in mark.meanings:
        return None
    row = mark.meanings["unit"]
    if row.value.startswith("part"):
        said = {"part_by_weight": (_Said(how=BY_WEIGHT),), "part_by_measure": (_Said(how=BY_MEASURE),)}
        return (_Subject(group=PARTS), *said.get(row.value, ())), mark.after
    for ending, system in (("_avdp", "avoirdupois"), ("_troy", "troy")):
        if row.value.endswith(ending):  # "lb. avoirdupois" is a unit of its own on a page
            return (
                _Subject(unit=row.value.removesuffix(ending), written=row.written),
                _Said(system=system),
            ), mark.after
    return (_Subject(unit=row.value, written=row.written),), mark.after


def _group_at(line: Sequence[Token], at: int) -> _FoundPieces:
    for length in (2, 1):
        group = _GROUPS.get(_words_at(line, at, length))
        if group:
            return (_Subject(group=group),), at + length
    return None


@dataclass(slots=True)
class _Clause:
    """Pairs subjects with what is said of them, whichever comes first."""

    said_first: bool
    subjects: list[_Subject] = field(default_factory=list)
    said: _Said | None = None
    claims: list[Claim] = field(default_factory=list)
    last: tuple[_Subject, ...] = ()

    def close(self) -> None:
        if self.said is None:
            return
        meant = [s for s in self.subjects if s.group != ALL] or self.subjects
        if not meant and self.said.count:
            meant = list(self.last)
        self.claims += [self.said.of_subject(subject) for subject in meant or [_Subject(group=self.said.kind)]]
        self.last, self.subjects, self.said = tuple(meant), [], None


def _claims(clause: Sequence[_Subject | _Said], text: str) -> list[Claim]:
    pairs = _Clause(said_first=isinstance(clause[0], _Said))
    for piece in clause:
        if isinstance(piece, _Subject):
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
        raise InputError(f"the author's rule {text!r} does not say what {named} is", "rule", _EXAMPLES)
    return pairs.claims


@cache
def system_words() -> Mapping[tuple[str, ...], str]:
    """Return the words a system or a custom may be called by.

    Returns
    -------
    mapping of tuple of str to str
        Words, as tokens in small letters, to the system, custom or label they mean.

    Examples
    --------
    >>> system_words()["u", ".", "s"], system_words()["troy",]
    ('wine', 'troy')
    """
    names = {row.system for row in rows(Measure)}
    names |= {row.custom for row in rows(Custom)} | {row.label.lower() for row in rows(Custom)}
    said = {name: name for name in sorted(names)} | _SYSTEMS
    found = {tuple(token.text for token in tokens(words.replace("_", " "))): name for words, name in said.items()}
    found |= {tuple(token.text for token in tokens(name)): name for name in names}
    return {tuple(word.lower() for word in words): name for words, name in found.items()}


@cache
def _longest_system() -> int:
    return max(map(len, system_words()))
