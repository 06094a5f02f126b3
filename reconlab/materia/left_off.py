"""What may be left off a name, and of which things: its quality, its place, its form, the part of the plant."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from reconlab.materia.index import OPENING, Found, name_index, root_of, roots_of
from reconlab.materia.things import thing
from reconlab.materia.tongues import ABROAD, uninflected
from reconlab.materia.words import JOINING, declined, folded, stems
from reconlab.tables import NameWord, Notation, rows

_PARTS = re.compile(r"\b(?:root|bark|seed|wood|rind|rhizome)s?\b")
_COLOURS = frozenset(
    {"blanc", "bleu", "brun", "jaune", "noir", "rouge", "vert", "weiß", "blau", "gelb", "rot", "roth", "grün"}
)
_HERB = ("leaf", "herb", "tops")  # parts that are the whole plant of the shops
_GUM, _GUMS = "gum", ("gum", "resin", "balsam")


def without(words: Sequence[str], find: Callable[[Sequence[str]], Found | None]) -> Found | None:
    """Find a name without what may be left off: quality first, then place, then a part of a plant or a form.

    Parameters
    ----------
    words : sequence of str
        The folded words of the name.
    find : callable
        What finds the words that are left.

    Returns
    -------
    Found or None
        None where nothing may be left off, or what is left is no name.

    Examples
    --------
    >>> from reconlab.materia.index import by_name
    >>> without(["best", "borax"], lambda words: by_name(" ".join(words))).told
    "found without 'best', under 'borax'"
    """
    loose = list(_loose(words))
    if not loose:
        return None
    for dropped in _sets(loose):
        gone = {at for one in dropped for at in range(one.at, one.at + one.length)}
        kept = [word for at, word in enumerate(words) if at not in gone]
        while kept and kept[0] in JOINING:
            kept.pop(0)
        found = find(kept) if kept else None
        if found and all(_may_go(one, kept, found) for one in dropped):
            off = " ".join(word for at, word in enumerate(words) if at in gone)
            doubtful = any(one.role == "place" or (one.role == "part" and not _as_good(one, found)) for one in dropped)
            way = "form" if any(one.role in ("part", "form") for one in dropped) else "head noun"
            told = f"found without {off!r}, under {found.rows[0].name!r}"
            return Found(found.rows, way, told, found.sure and not doubtful)
    return None


def _sets(loose: Sequence[_Loose]) -> Iterator[Sequence[_Loose]]:
    """Give what may be left off together: each word alone, then all of quality, of origin too, of form too."""
    yield from ([one] for one in loose)
    last = 1
    for roles in (
        ("quality",),
        ("quality", "place"),
        ("quality", "place", "form"),
        ("quality", "place", "form", "part"),
    ):
        off = [one for one in loose if one.role in roles]
        if len(off) > last:
            yield off
            last = len(off)


@dataclass(frozen=True, slots=True)
class _Loose:
    """Words of a name that may be left off, and for which things."""

    at: int
    length: int
    role: str
    only: tuple[str, ...]
    stands_for: str


def _loose(words: Sequence[str]) -> Iterator[_Loose]:
    known, at = _droppable(), 0
    while at < len(words):
        for length in range(min(6, len(words) - at), 0, -1):
            row = known.get(stems(words[at : at + length])) or known.get(tuple(words[at : at + length]))
            row = row or (_droppable_abroad().get(uninflected(words[at])) if length == 1 else None)
            if row and row[0] == "form" and at and words[at] in _latin_forms():
                row = ("quality", *row[1:])  # rad. rhei pulv. is powdered, not a powder of it
            if row and not (row[0] == "form" and (0 < at < len(words) - length or len(words) == 1)):
                yield _Loose(at, length, *row)
                at += length
                break
        else:
            at += 1


def _may_go(one: _Loose, kept: Sequence[str], found: Found) -> bool:
    things = [thing(row.meaning) for row in found.rows]
    if one.role == "form":  # a powder of a liquid is no such thing; rose powder may be scented starch
        states = ("powder", "solid") if one.at else ("powder", "solid", "plant part")
        return all(what.state in states or _PARTS.search(what.name) for what in things)
    roots = set(roots_of(" ".join(kept)))
    if one.role == "part":
        if _as_good(one, found):
            return True
        return bool(roots & _heads()) and not _another("part", roots, found)
    if one.role == "place" and (_another("place", roots, found) or _COLOURS.issuperset(kept)):
        return False  # a colour of some place is a pigment of its own: jaune de Naples holds lead
    return not one.only or all({what.state, what.class_} & set(one.only) for what in things)


def _as_good(one: _Loose, found: Found) -> bool:
    """Tell whether the part is the thing all the same: orris root, the herb of sage."""
    return _named_so(one, found) or _whole_herb(one, found) or _gum(one, found)


def _named_so(one: _Loose, found: Found) -> bool:
    """Tell whether the thing's own name has that part: orris is orris root."""
    return all(root_of(one.stands_for) in roots_of(folded(thing(row.meaning).name)) for row in found.rows)


def _gum(one: _Loose, found: Found) -> bool:
    """Tell whether it is a gum that the name calls a gum: gum mastic is mastic."""
    return one.stands_for == _GUM and all(thing(row.meaning).class_ in _GUMS for row in found.rows)


def _whole_herb(one: _Loose, found: Found) -> bool:
    """Tell whether the thing is a plant of which the herb is used: sage leaves are sage, rose leaves no rose."""
    things = [thing(row.meaning) for row in found.rows]
    return one.stands_for in _HERB and all(
        what.class_ in ("plant drug", "poison") and _parts().isdisjoint(what.name.split()) for what in things
    )


@cache
def _parts() -> frozenset[str]:
    listed = (row for row in rows(NameWord) if row.role == "part")
    return frozenset(word for row in listed for word in (row.stands_for, row.word))


def _another(role: str, kept: set[str], found: Found) -> bool:
    """Tell whether a name on file has the same words and one more of a kind, and means something else.

    Oil of orange flowers is not oil of orange peel, and a chalk of some place may be talc.
    """
    meanings = {row.meaning for row in found.rows}
    near = set.intersection(*(name_index().openings.get(root[:OPENING], set()) for root in kept))
    others = [one for one in near if kept < set(one) and set(one) - kept <= _roots_of_kind(role)]
    return any(row.meaning not in meanings for one in others for row in name_index().rooted[one])


@cache
def _roots_of_kind(role: str) -> frozenset[str]:
    return frozenset(root for row in rows(NameWord) if row.role == role for root in roots_of(folded(row.word)))


@cache
def _droppable() -> Mapping[tuple[str, ...], tuple[str, tuple[str, ...], str]]:
    """Return role, classes and meaning of each word or phrase that may be left off."""
    found: dict[tuple[str, ...], tuple[str, tuple[str, ...], str]] = {}
    for sign in rows(Notation):
        if sign.meaning == "preparation":
            found[tuple(folded(sign.printed).split())] = ("quality", (), "")
    for row in rows(NameWord):
        if row.role in ("quality", "place") or (row.role in ("part", "form") and row.language not in ABROAD):
            words = folded(row.word).split()
            found[tuple(words)] = found[stems(words)] = (row.role, row.only, row.stands_for)
    return found


@cache
def _latin_forms() -> frozenset[str]:
    return frozenset(row.word for row in rows(NameWord) if row.role == "form" and row.language == "la")


@cache
def _droppable_abroad() -> Mapping[str, tuple[str, tuple[str, ...], str]]:
    """Return the same of French and German adjectives, which stand there with any ending."""
    return {
        uninflected(row.word): (row.role, row.only, row.stands_for)
        for row in rows(NameWord)
        if row.language in ABROAD and row.role in ("quality", "place") and " " not in row.word
    }


@cache
def _heads() -> frozenset[str]:
    return frozenset(declined(row.stands_for) for row in rows(NameWord) if row.role == "head" and row.stands_for)
