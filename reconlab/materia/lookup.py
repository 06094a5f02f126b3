"""Where a name stands in the tables, by rule alone: nothing here goes by likeness, and every answer says its way."""

from __future__ import annotations

import re
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache
from typing import TypeVar

from reconlab.errors import TableError
from reconlab.materia.harm import harmful
from reconlab.materia.made import made_of
from reconlab.materia.poisons import alarms
from reconlab.materia.things import UNKNOWN, thing
from reconlab.materia.tongues import ABROAD, abroad, english, opens_with_poison, spelled
from reconlab.materia.words import JOINING, LONGEST, MOST_WORDS, declined, folded, stems
from reconlab.tables import Name, NameWord, Notation, PoisonWord, Preparation, Strength, Substance, by_id, rows

SPIRIT = "spirit"  # kind of a name that stands in the table of strengths
_SETTLES_STRENGTH = "the pharmacopoeia in force where the book was made, or the strength it states"
_SHORTENED = re.compile(r"([^\W\d_]{3,})\.")  # a word printed with its point
# Endings of one pattern: Latin first, second and third declension.
_DECLENSIONS = tuple(
    re.compile(rf"(?:{endings})$")
    for endings in ("a|ae|am|arum|is", "um|us|i|o|orum|is", "[^aeiou]is|[^aeiou]e|ium|ibus|es")
)
_PARTS = re.compile(r"\b(?:root|bark|seed|wood|rind|rhizome)s?\b")
_SALT_WORD = re.compile(r"(?:ates?|ites?|ides?|urets?)$")
_PLAIN = re.compile(r"e?(?:'?s)?$")
_OPENING = 3  # letters a shortened word must keep
_HERB = ("leaf", "herb", "tops")  # parts that are the whole plant of the shops
_LOOSENESS = ("quality", "place", "form", "part")  # what may be left off, with least doubt first
_DECLINED = ("la", "en")  # English names share their heads with the Latin ones
_Form = TypeVar("_Form")
_MOST_MEANINGS = 4  # a short form that fits more names than this says nothing


@dataclass(frozen=True, slots=True)
class Found:
    """The rows a name was found to stand for, and the way; `sure` where the way leaves no doubt of its own."""

    rows: tuple[Name, ...]
    way: str
    told: str  # the way in words
    sure: bool = True
    poisons: tuple[str, ...] = ()  # things not on file, behind words as near as those of the rows


@dataclass(frozen=True)
class _Index:
    """Every name on file under each of its forms."""

    exact: dict[str, tuple[Name, ...]] = field(default_factory=dict)
    inflected: dict[tuple[str, ...], tuple[Name, ...]] = field(default_factory=dict)
    ordered: dict[tuple[str, ...], tuple[Name, ...]] = field(default_factory=dict)
    joined: dict[str, tuple[Name, ...]] = field(default_factory=dict)
    rooted: dict[tuple[str, ...], tuple[Name, ...]] = field(default_factory=dict)
    openings: dict[str, set[tuple[str, ...]]] = field(default_factory=dict)

    def put(self, named: Iterable[Name]) -> None:
        """Add rows; a form that other rows have taken before stays theirs."""
        keyed = [(folded(row.name), row) for row in named]
        _fill(self.exact, keyed, str)
        _fill(self.inflected, keyed, _stems)
        _fill(self.ordered, keyed, _sorted_stems)
        _fill(self.joined, keyed, _joined)
        _fill(self.rooted, [(key, row) for key, row in keyed if row.language in _DECLINED], _roots)
        for roots in self.rooted:
            for root in roots:
                self.openings.setdefault(root[:_OPENING], set()).add(roots)


def _fill(form: dict[_Form, tuple[Name, ...]], keyed: Iterable[tuple[str, Name]], of: Callable[[str], _Form]) -> None:
    found: dict[_Form, list[Name]] = {}
    for key, row in keyed:
        found.setdefault(of(key), []).append(row)
    for key_form, named in found.items():
        form.setdefault(key_form, tuple(named))


def by_name(name: str) -> Found | None:
    """Return the rows of a name as printed, by singular and plural, or with its words in another order.

    Parameters
    ----------
    name : str
        The name as printed.

    Returns
    -------
    Found or None
        None where no name on file is that name.

    Examples
    --------
    >>> by_name("chalk, French").way, by_name("chalk of the moon")
    ('word order', None)
    """
    if len(name) > LONGEST:
        return None
    index, key = _index(), folded(name)
    if key in index.exact:
        return Found(index.exact[key], "exact", "its name on file")
    words = _stems(key)
    if not words:
        return None
    if words in index.inflected:
        return Found(index.inflected[words], "inflection", "found by its singular or plural")
    named = index.ordered.get(tuple(sorted(words)))
    return Found(named, "word order", "found with its words in another order") if named else None


@lru_cache(maxsize=8192)
def by_rule(name: str, *, short: bool = True) -> Found | None:
    """Return the rows of a name by every rule short of likeness.

    After the name itself come other ways to write its words (blanks, Latin cases and heads, old spellings), short
    forms printed with a point, and the name without words of quality, origin or form.

    Parameters
    ----------
    name : str
        The name as printed.
    short : bool
        Whether a word may be a short form.

    Returns
    -------
    Found or None
        None where no rule leads to a name on file.

    Examples
    --------
    >>> by_rule("oleo bergamottae").way, by_rule("best powdered Florentine orris root").way
    ('inflection', 'head noun')
    """
    found = by_name(name)
    if found is not None and found.way == "exact":
        return found
    words = folded(name).split() if len(name) <= LONGEST else []
    if not 0 < len(words) <= MOST_WORDS:
        return None
    ways: tuple[Callable[[], Found | None], ...] = (
        lambda: found,
        lambda: _rewritten(" ".join(words)),
        lambda: _salt(words),
        lambda: _shortened(name, words) if short else None,
        lambda: _translated(words, shortened(name, words) if short else ()),
        lambda: _without(words),
    )
    return next((one for way in ways if (one := way()) and honest(words, one)), None)


def honest(words: Sequence[str], found: Found) -> bool:
    """Refuse an answer of harmless things only for words behind which a poison may stand.

    Parameters
    ----------
    words : sequence of str
        The folded words of the name.
    found : Found
        What they led to.

    Returns
    -------
    bool
        False where the answer must not stand.

    Examples
    --------
    >>> honest(["borax"], by_rule("borax"))
    True
    """
    means = [*(row.meaning for row in found.rows), *found.poisons]
    return any(map(harmful, means)) or not (
        alarms(" ".join(words)) or any(map(opens_with_poison, set(words) - _plain_words()))
    )


@cache
def _plain_words() -> frozenset[str]:
    """Return the words of English and Latin names: phosphoric is no compound that opens with phosphor."""
    return frozenset(word for row in rows(Name) if row.language in _DECLINED for word in folded(row.name).split())


def _rewritten(key: str) -> Found | None:
    index = _index()
    named = index.joined.get(_joined(key))
    if named:
        return Found(named, "spelling", "found with its words joined or parted", sure=_of_one_meaning(named))
    roots = _roots(key)
    named = index.rooted.get(roots)
    if not named or (not _poisoned_roots().isdisjoint(roots) and not any(harmful(row.meaning) for row in named)):
        return None
    if len(roots) == 1 and key not in _meant() and not any(_same_declension(key, folded(row.name)) for row in named):
        return None  # carmina is no case of carmine: it may be anybody's brand
    return Found(named, "inflection", "found by its Latin case, head or older spelling", sure=_of_one_meaning(named))


def _translated(words: Sequence[str], short: Container[str] = ()) -> Found | None:
    """Find a French, German or Latin name by its older spelling, or by what its words are in English."""
    named = _spelled_names().get(spelled("".join(words)))
    if named and _may_be_only(named, _roots(" ".join(words))):
        return Found(named, "spelling", "found by its older or newer spelling", sure=_of_one_meaning(named))
    meant = english(words, short)
    roots = _roots(" ".join(meant))
    named = _index().rooted.get(roots) or _names_in_english().get(roots)
    if named and _may_be_only(named, roots):
        return Found(named, "translation", "found by its words in English", sure=_of_one_meaning(named))
    found = _without(meant) if meant else None
    return found if found and _may_be_only(found.rows, roots) else None


def _may_be_only(named: Iterable[Name], roots: Iterable[str]) -> bool:
    """Refuse harmless things alone for words that, put into English, name a poison."""
    said = frozenset(roots)
    return any(harmful(row.meaning) for row in named) or not any(each <= said for each in _poisons_by_roots())


@cache
def _spelled_names() -> Mapping[str, tuple[Name, ...]]:
    found: dict[str, list[Name]] = {}
    for row in rows(Name):
        if row.language in ABROAD:
            found.setdefault(spelled(_joined(folded(row.name))), []).append(row)
    return {key: tuple(named) for key, named in found.items()}


@cache
def _names_in_english() -> Mapping[tuple[str, ...], tuple[Name, ...]]:
    found: dict[tuple[str, ...], list[Name]] = {}
    for row in rows(Name):
        if row.language != "en" and (meant := english(folded(row.name).split())):
            found.setdefault(_roots(" ".join(meant)), []).append(row)
    return {roots: tuple(named) for roots, named in found.items()}


@cache
def _poisons_by_roots() -> frozenset[frozenset[str]]:
    return frozenset(frozenset(_roots(folded(row.word))) for row in rows(PoisonWord))


def _salt(words: Sequence[str]) -> Found | None:
    """Find a salt by the older name of its base or acid: muriate of magnesia, sulphuret of potash, bromide of soda.

    Chlorides of the alkalies by the names of their oxides were bleaching liquors, not salts.
    """
    old = _bases()
    if not any(word in old for word in words) or not any(_SALT_WORD.search(word) for word in words):
        return None
    if any(word.startswith("chlorid") for word in words):
        return None
    found = by_name(" ".join(old.get(word, word) for word in words))
    return found and Found(found.rows, "spelling", "found by the newer name of its base or acid", found.sure)


@cache
def _bases() -> Mapping[str, str]:
    return {row.word: row.stands_for for row in rows(NameWord) if row.role == "base"}


def _same_declension(one: str, other: str) -> bool:
    plain = _PLAIN.sub("", one) == _PLAIN.sub("", other)
    return plain or any(ending.search(one) and ending.search(other) for ending in _DECLENSIONS)


def _of_one_meaning(named: Iterable[Name]) -> bool:
    """Tell whether all rows of one form are rows of one name, or of names that mean the same."""
    meanings: dict[str, set[str]] = {}
    for row in named:
        meanings.setdefault(folded(row.name), set()).add(row.meaning)
    first, *others = meanings.values()
    return all(one == first for one in others)


def _shortened(name: str, words: Sequence[str]) -> Found | None:
    """Find a Latin short form: each word printed with a point is the opening of a word of the name on file."""
    cut = shortened(name, words)
    if not cut.intersection(words):
        return None
    asked = [word if word in cut else _root(word) for word in words if word not in JOINING]
    fits = [_index().openings.get(each[:_OPENING], set()) for each in asked if len(each) >= _OPENING]
    if len(fits) != len(asked) or len(asked) == 1:
        return None
    names = [one for one in set.intersection(*fits) if len(one) == len(asked) and _opens(asked, one, cut)]
    found = [row for one in sorted(names) for row in _index().rooted[one]]
    meanings = {row.meaning for row in found}
    poisons = tuple(sorted(_poisons_that_open(cut.intersection(words), found)))
    if not found or len(meanings) > _MOST_MEANINGS:
        return None
    sure = not poisons and _of_one_meaning(found)
    return Found(tuple(found), "abbreviation", "found as the short form of its name", sure, poisons)


def shortened(name: str, words: Sequence[str]) -> set[str]:
    """Return the words that may be short forms: printed with a point, or the last behind a Latin head.

    Parameters
    ----------
    name : str
        The name as printed.
    words : sequence of str
        Its folded words.

    Returns
    -------
    set of str
        Some of them.

    Examples
    --------
    >>> shortened("Syr. aurant.", ["syr", "aurant"])
    {'aurant'}
    """
    cut = {word.lower() for word in _SHORTENED.findall(name)} - _meant().keys()
    last = len(words) > 1 and words[0] in _latin_heads() and len(words[-1]) >= _OPENING
    return cut | {words[-1]} if last else cut


def _opens(asked: Iterable[str], whole: Iterable[str], short: Container[str]) -> bool:
    """Tell whether each word is one of the name, or a short form that opens one."""
    left = list(whole)
    for word in sorted(asked, key=len, reverse=True):
        fit = next(
            (one for one in left if one in (word, _root(word)) or (word in short and one.startswith(word))), None
        )
        if fit is None:
            return False
        left.remove(fit)
    return True


def _poisons_that_open(short: Iterable[str], found: Iterable[Name]) -> Iterator[str]:
    kept = " ".join(folded(row.name) for row in found)
    for opening in short:
        opened = [word for word in _single_poison_words() if word.startswith(opening) and word not in kept]
        if opened:
            yield f"{UNKNOWN}{min(opened, key=len)}"


def _without(words: Sequence[str]) -> Found | None:
    """Find a name without what may be left off: quality first, then place, then a part of a plant or a form."""
    loose = list(_loose(words))
    if not loose:
        return None
    for dropped in _sets(loose):
        gone = {at for one in dropped for at in range(one.at, one.at + one.length)}
        kept = [word for at, word in enumerate(words) if at not in gone]
        while kept and kept[0] in JOINING:
            kept.pop(0)
        found = kept and (by_name(" ".join(kept)) or _rewritten(" ".join(kept)) or _translated(kept))
        if found and all(_may_go(one, kept, found) for one in dropped):
            off = " ".join(word for at, word in enumerate(words) if at in gone)
            doubtful = any(one.role == "place" or (one.role == "part" and not _named_so(one, found)) for one in dropped)
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
    roots = set(_roots(" ".join(kept)))
    if one.role == "part":
        if _named_so(one, found) or _whole_herb(one, found):
            return True
        return bool(roots & _heads()) and not _another("part", roots, found)
    if one.role == "place" and _another("place", roots, found):
        return False
    return not one.only or all({what.state, what.class_} & set(one.only) for what in things)


def _named_so(one: _Loose, found: Found) -> bool:
    """Tell whether the thing's own name has that part: orris is orris root."""
    return all(_root(one.stands_for) in _roots(folded(thing(row.meaning).name)) for row in found.rows)


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
    near = set.intersection(*(_index().openings.get(root[:_OPENING], set()) for root in kept))
    others = [one for one in near if kept < set(one) and set(one) - kept <= _roots_of_kind(role)]
    return any(row.meaning not in meanings for one in others for row in _index().rooted[one])


@cache
def _roots_of_kind(role: str) -> frozenset[str]:
    return frozenset(root for row in rows(NameWord) if row.role == role for root in _roots(folded(row.word)))


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
def _meant() -> Mapping[str, str]:
    """Return the English word a Latin head, a part of a plant or an old spelling stands for."""
    return {
        row.word: row.stands_for
        for row in rows(NameWord)
        if row.stands_for and row.role not in ("quality", "place", "base") and not abroad(row)
    }


@cache
def _latin_heads() -> frozenset[str]:
    return frozenset(
        row.word for row in rows(NameWord) if row.language == "la" and row.role in ("head", "part", "form")
    )


@cache
def _heads() -> frozenset[str]:
    return frozenset(declined(row.stands_for) for row in rows(NameWord) if row.role == "head" and row.stands_for)


def _stems(key: str) -> tuple[str, ...]:
    return stems(word for word in key.split() if word not in JOINING)


def _sorted_stems(key: str) -> tuple[str, ...]:
    return tuple(sorted(_stems(key)))


def _joined(key: str) -> str:
    return key.replace(" ", "")


def _roots(key: str) -> tuple[str, ...]:
    """Return the words of a name in no order, each in English where it is a head or part, without its case."""
    return tuple(sorted(_root(word) for word in key.split() if word not in JOINING))


def declined_words(word: str) -> str:
    """Return a word as names are compared across languages: in English where it is a head or part, without its case.

    Parameters
    ----------
    word : str
        A folded word.

    Returns
    -------
    str
        Its root.

    Examples
    --------
    >>> declined_words("tinct") == declined_words("tincturae") == declined_words("tinctures")
    True
    """
    return _root(word)


def _root(word: str) -> str:
    meant, word = _meant(), word.removesuffix("'s")
    return declined(meant.get(word) or meant.get(stems([word])[0], word))


@cache
def _single_poison_words() -> Mapping[str, str]:
    words = [folded(row.word) for row in rows(PoisonWord)]
    return {word: declined(word) for word in words if " " not in word}


@cache
def _poisoned_roots() -> frozenset[str]:
    return frozenset(_single_poison_words().values())


@cache
def _index() -> _Index:
    index = _Index()
    index.put((*map(_checked, rows(Name)), *_names_of_spirits()))
    # a name of today speaks where no book of the time is on file with it
    index.put([row for row in _modern_names() if _sorted_stems(folded(row.name)) not in index.ordered])
    return index


def names_on_file() -> tuple[str, ...]:
    """Return every name on file, folded, names of today among them.

    Returns
    -------
    tuple of str
        Each once.

    Examples
    --------
    >>> "rose water" in names_on_file()
    True
    """
    return tuple(_index().exact)


def holds(found: Found, word: str) -> bool:
    """Return whether a word is one of every name that was found, and not one that was left off.

    Parameters
    ----------
    found : Found
        An answer.
    word : str
        A folded word.

    Returns
    -------
    bool
        True where each name has it in some form.

    Examples
    --------
    >>> holds(by_rule("best borax"), "borax"), holds(by_rule("best borax"), "best")
    (True, False)
    """
    return all(_root(word) in _roots(folded(row.name)) for row in found.rows)


def _checked(row: Name) -> Name:
    if row.meaning not in by_id(Substance) and row.meaning not in by_id(Preparation) and not made_of(row.meaning):
        raise TableError(
            f"{row.meaning!r} is no substance or preparation on file",
            f"{row.origin} meaning",
            "Add it to substances.csv, or mend the id.",
        )
    return row


def _modern_names() -> Iterator[Name]:
    for row in rows(Substance):
        yield Name(
            sources=row.sources,
            origin=row.origin,
            own=row.own,
            name=row.name,
            language="en",
            meaning=row.id,
            kind="substance",
            regions=(),
            from_year=None,
            to_year=None,
            standing="likely",
            because="its modern name",
            decides="",
        )


def _names_of_spirits() -> Iterator[Name]:
    """Give every name of the table of strengths as a name; what it meant there and then the strengths say."""
    for row in rows(Strength):
        for name in row.names:
            yield Name(
                sources=row.sources,
                origin=row.origin,
                own=row.own,
                name=name,
                language=row.language,
                meaning=row.id,
                kind=SPIRIT,
                regions=row.regions,
                from_year=row.from_year,
                to_year=row.to_year,
                standing=row.standing,
                because=row.because,
                decides=_SETTLES_STRENGTH,
            )
