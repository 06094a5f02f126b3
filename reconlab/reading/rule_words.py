"""The words of an author's own rule of weights and measures: units and amounts, systems, groups, what joins them.

Words of units come from the notation table, those of systems from the tables of customs and measures. A word that is
not understood is never passed over: it may be the liquid an amount is said of ("a quarter of an ounce of water"), and
else the whole rule is refused.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from reconlab.errors import InputError, nearest
from reconlab.reading.quantities import count_at, quantity_at
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
EXAMPLES = (
    'Write it such as "oz. and lb. are avoirdupois, dr. and gr. troy", "all weights troy", "fluid ounces imperial", '
    '"the pint is of 16 ounces", "1 teaspoonful = 1 fluid drachm", "liquids by measure" or "parts by weight".'
)

_GROUPS: Mapping[tuple[str, ...], str] = {
    **{(word,): WEIGHTS for word in ("weights", "weight", "gewichte", "gewicht", "poids")},
    **{(word,): MEASURES for word in ("measures", "measure", "volumes", "volume")},
    **{(kind, word): MEASURES for kind in ("fluid", "liquid") for word in ("measure", "measures")},
    **{(word,): SIGNS for word in ("signs", "sign", "symbols", "symbol")},
    **{(word,): LIQUIDS for word in ("liquids", "liquid", "fluids", "fluid", "liquides")},
    **{(word,): LIQUIDS for word in ("flüssigkeit", "flüssigkeiten")},
    **{(word,): SOLIDS for word in ("solids", "solid", "powders", "powder", "dry")},
    **{
        (word,): ALL
        for word in (
            "everything",
            "all",
            "ingredients",
            "quantities",
            "amounts",
            "alles",
            "tout",
            "quantités",
            "mengen",
        )
    },
}
_KINDS = {"weight": WEIGHTS, "measure": MEASURES}
_HOW: Mapping[tuple[str, ...], str] = {
    ("by", "weight"): BY_WEIGHT,
    ("in", "weight"): BY_WEIGHT,
    ("weighed",): BY_WEIGHT,
    ("weighs",): BY_WEIGHT,
    ("weigh",): BY_WEIGHT,
    ("by", "measure"): BY_MEASURE,
    ("in", "measure"): BY_MEASURE,
    ("by", "volume"): BY_MEASURE,
    ("measured",): BY_MEASURE,
    **{
        tuple(words.split()): BY_WEIGHT
        for words in ("nach gewicht", "gewogen", "en poids", "au poids", "pesés", "pesées")
    },
    **{tuple(words.split()): BY_MEASURE for words in ("nach maß", "gemessen", "en volume", "au volume", "mesurés")},
}
# Other words for a system than those of the tables.
_OF_LANDS = {
    "wiener": "viennese",
    "österreichisches": "viennese",
    "preußisches": "prussian",
    "preussisches": "prussian",
    "bayerisches": "bavarian",
    "bayrisches": "bavarian",
    "sächsisches": "saxon",
    "württembergisches": "wuerttemberg",
}
_KINDS_OF_LANDS = {
    "civil": ("gewicht", "handelsgewicht", "civilgewicht", "bürgerliches gewicht"),
    "medicinal": ("medicinalgewicht", "medizinalgewicht", "apothekergewicht"),
}
_GERMAN = {
    f"{land} {weight}": f"{custom}_{kind}"
    for land, custom in _OF_LANDS.items()
    for kind, weights in _KINDS_OF_LANDS.items()
    for weight in weights
} | {f"nürnberger {weight}": "nuremberg" for weight in ("gewicht", *_KINDS_OF_LANDS["medicinal"])}
_FRENCH = {
    "marc": "poids_de_marc",
    "poids médicinal": "poids_de_marc_medicinal",
    "poids de médecine": "poids_de_marc_medicinal",
}
_FRENCH |= dict.fromkeys(("métrique", "métriques", "metrisch", "metrisches", "metrische"), "metric")
_SYSTEMS = (
    _GERMAN
    | _FRENCH
    | {"avdp": "avoirdupois", "avoir": "avoirdupois", "av": "avoirdupois", "apoth": "apothecaries"}
    | {
        "british": "imperial",
        "american": "wine",
        "u.s": "wine",
        "u s": "wine",
        "us": "wine",
    }
)


def _set(words: str) -> frozenset[str]:
    return frozenset(words.split())


_FILLERS = _set(
    """the a an and be being by for this these book books used use here taken as reckoned author author's both each
    which mean meant stands stand counted have having it its namely while but also system kind only always
    throughout unless otherwise stated about that every usually ordinary common commonly generally exactly just my our
    n b nb note n.b much old usually proper standard legal same here
    perfumers perfumer's druggists druggist's kitchen cook's
    work intended employed adopted understood following always
    at some such so called full word term each
    is are was were contains contain containing holds hold has equals equal makes make means goes go to of in with
    le la les l' l un une du ce cette chaque est sont vaut valent contient fait font pèse
    der die das den dem ein eine einen einer jede jeder jedes je genau ist sind hat hält
    enthält gleich macht gilt im nach alle aller werden wird tous toutes ceux celui
    recognized recognised among medicine medicines physic drugs prescriptions made up articles materials receipts
    recipes estimated considered supposed england english france french country town
    where expressed mentioned specified noted indicated directed angegeben bemerkt"""
)
_OF = _set("of de d d' zu von en aus in à")
_DIVIDED = _set("divided geteilt divisé divisée")
_INTO = _set("into en in")
_JOINS = _set(", : and & und et while but with")
_STOPS = ";."
# What follows is said apart: "all weights avoirdupois, except the drachm, which is troy".
_EXCEPT = frozenset(
    tuple(words.split())
    for words in (
        "except",
        "excepting",
        "save",
        "with the exception of",
        "sauf",
        "excepté",
        "à l ' exception de",
        "ausser",
        "außer",
        "mit ausnahme von",
        "mit ausnahme",
        "where not otherwise",
        "when not otherwise",
        "unless the contrary",
        "sauf indication contraire",
        "sauf mention contraire",
        "wo nichts anderes",
        "wo nicht anders",
        "wenn nicht anders",
    )
)
_VESSELS = ("ful", " ful")  # a spoon holds a spoonful


@dataclass(frozen=True, slots=True)
class Subject:
    """A group or a unit that is spoken of, or an amount of one."""

    group: str = ""
    unit: str = ""
    written: str = "word"
    count: Fraction | None = None  # None where no number is printed: "the pint"


@dataclass(frozen=True, slots=True)
class Said:
    """What is said of a subject: a system, or that it goes by weight or by measure."""

    system: str = ""
    how: str = ""
    kind: str = ""  # weights or measures, where the system is called so and nothing else is its subject


@dataclass(frozen=True, slots=True)
class Word:
    """A word that joins: ``and``, ``of``, ``or``, ``divided``, ``stop``; or the ``substance`` an amount is said of."""

    kind: str
    text: str = ""


Piece = Subject | Said | Word
STOP = Word("stop")
_Found = tuple[tuple[Piece, ...], int] | None


def pieces(text: str) -> Iterator[Piece]:
    """Give the pieces of a rule in order, a stop at the end.

    Parameters
    ----------
    text : str
        The author's words.

    Yields
    ------
    Subject, Said or Word
        As they stand.

    Raises
    ------
    InputError
        If a word is not understood and is no substance an amount may be said of.

    Examples
    --------
    >>> [type(piece).__name__ for piece in pieces("ounces troy")]
    ['Subject', 'Said', 'Word']
    """
    line, at = tokens(text.strip()), 0
    before: Piece = STOP
    while at < len(line):
        for reader in _READERS:  # a wine-glass is a vessel before it is of wine measure
            found = reader(line, at)
            if found is not None:
                read, at = found
                before = read[-1]
                yield from read
                break
        else:
            substance = _substance_at(line, at, before)
            if substance is None:
                _refuse_strange(line[at], text)
                at += 1
                continue
            before, at = substance
            yield before
    yield STOP


def _refuse_strange(token: Token, text: str) -> None:
    if token.kind == "word" and token.text.lower() not in _FILLERS:
        hint = nearest(token.text, {word for words in system_words() for word in words})
        raise InputError(f"{token.text!r} in the author's rule {text!r} is not understood", "rule", f"{EXAMPLES}{hint}")
    if token.kind in ("number", "sign"):
        raise InputError(f"{token.text!r} in the author's rule {text!r} has no unit", "rule", EXAMPLES)


def _substance_at(line: Sequence[Token], at: int, before: Piece) -> tuple[Word, int] | None:
    """Read the thing an amount is said of: "half an ounce of water", "in distilled waters three drachms"."""
    behind_amount = isinstance(before, Subject) and before.count is not None
    if not (behind_amount or (isinstance(before, Word) and before.kind == "of")):
        return None
    words = []
    while at < len(line) and _is_strange(line, at):
        words.append(line[at].text.lower())
        at += 1
    return (Word("substance", " ".join(words)), at) if words else None


def _is_strange(line: Sequence[Token], at: int) -> bool:
    known = any(reader(line, at) for reader in (_how_at, _system_at, _amount_at, _unit_at, _group_at))
    return line[at].kind == "word" and not known and line[at].text.lower() not in _FILLERS | _DIVIDED | {"or", "into"}


def _words_at(line: Sequence[Token], at: int, count: int) -> tuple[str, ...]:
    return tuple(token.text.lower() for token in line[at : at + count])


def _how_at(line: Sequence[Token], at: int) -> _Found:
    for length in (2, 1):
        how = _HOW.get(_words_at(line, at, length))
        if how:
            return (Said(how=how),), at + length
    return None


def _system_at(line: Sequence[Token], at: int) -> _Found:
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
            return (Said(system=system_words()[words], kind=kind),), after + bool(kind)
    return None


def _amount_at(line: Sequence[Token], at: int) -> _Found:
    found = quantity_at(line, at)
    if found is None:
        return _vessel_at(line, at)
    joined = any(token.text.lower() in _JOINS for token in line[at : found.after])
    read: list[Piece] = []
    for part in found.quantity.parts:
        if read and joined:
            read.append(Word("and", "and"))
        if part.amount.value is None or part.amount.low != part.amount.high or part.unit is None:
            return None
        read.append(Subject(unit=str(part.unit), written=part.written, count=_exact(part.amount.value)))
    return tuple(read), found.after


def _number_at(line: Sequence[Token], at: int) -> _Found:
    """Read a number whose unit was said before: "a breakfast-cup is ten ounces, a tea-cup five"."""
    if line[at].text.lower() in _FILLERS or line[at].kind == "sign":
        return None
    found = count_at(line, at, "")
    value = found.quantity.parts[0].amount.value if found else None
    return ((Subject(count=_exact(value)),), found.after) if found and value else None


def _exact(value: float) -> Fraction:
    """Return a figure as printed: a third is a third."""
    near = Fraction(value).limit_denominator(1000)
    return near if abs(float(near) - value) < 1e-12 * value else Fraction(repr(value))


def _vessel_at(line: Sequence[Token], at: int) -> _Found:
    """Read "spoon", "coffee-cup" as what fills it, with the article or number before it."""
    counted = line[at].text.lower() in ("a", "an", "one", "1", "each")
    start = at + counted
    for length in (3, 2, 1):
        words = line[start : start + length]
        if len(words) < length or any(token.kind != "word" and token.text != "-" for token in words):
            continue
        for ending in _VESSELS:
            full = tokens(f"{words[0].text}{''.join(f' {t.text}' for t in words[1:] if t.text != '-')}{ending}")
            mark = mark_at(full, 0)
            if mark is not None and "unit" in mark.meanings and mark.after == len(full):
                unit = mark.meanings["unit"]
                one = Fraction(1) if counted else None
                return (Subject(unit=unit.value, written=unit.written, count=one),), start + length
    return None


def _unit_at(line: Sequence[Token], at: int) -> _Found:
    mark = mark_at(line, at)
    if mark is None or "unit" not in mark.meanings:
        return None
    row = mark.meanings["unit"]
    if row.value.startswith("part"):
        said = {"part_by_weight": (Said(how=BY_WEIGHT),), "part_by_measure": (Said(how=BY_MEASURE),)}
        return (Subject(group=PARTS), *said.get(row.value, ())), mark.after
    for ending, system in (("_avdp", "avoirdupois"), ("_troy", "troy")):
        if row.value.endswith(ending):  # "lb. avoirdupois" is a unit of its own on a page
            subject = Subject(unit=row.value.removesuffix(ending), written=row.written)
            return (subject, Said(system=system)), mark.after
    return (Subject(unit=row.value, written=row.written),), mark.after


def _group_at(line: Sequence[Token], at: int) -> _Found:
    for length in (2, 1):
        group = _GROUPS.get(_words_at(line, at, length))
        if group:
            return (Subject(group=group),), at + length
    return None


def _word_at(line: Sequence[Token], at: int) -> _Found:
    text = line[at].text.lower()
    if text in _STOPS or line[at].kind in ("break", "leader"):
        return (STOP,), at + 1
    for length in (5, 4, 3, 2, 1):
        if _words_at(line, at, length) in _EXCEPT:
            return (STOP,), at + length
    if text in _DIVIDED:
        return (Word("divided"),), at + 1 + (_words_at(line, at + 1, 1)[:1] in {(word,) for word in _INTO})
    if text in _JOINS:
        return (Word("and", text),), at + 1
    if text in _OF:
        return (Word("of", text),), at + 1
    return ((Word("or"),), at + 1) if text in ("or", "ou", "oder") else None


_READERS = (_vessel_at, _how_at, _system_at, _amount_at, _unit_at, _group_at, _word_at, _number_at)


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
