"""Every name on file under each form it may be printed in, and what is found there without leaving a word off."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache, lru_cache
from typing import TypeVar

from reconlab.errors import TableError
from reconlab.materia.made import made_of
from reconlab.materia.tongues import abroad
from reconlab.materia.words import JOINING, LONGEST, declined, folded, stems
from reconlab.tables import Name, NameWord, Preparation, Strength, Substance, by_id, rows

SPIRIT = "spirit"  # kind of a name that stands in the table of strengths
OPENING = 3  # letters a shortened word must keep
DECLINED = ("la", "en")  # English names share their heads with the Latin ones
_SETTLES_STRENGTH = "the pharmacopoeia in force where the book was made, or the strength it states"
_Form = TypeVar("_Form")


@dataclass(frozen=True, slots=True)
class Found:
    """The rows a name was found to stand for, and the way; `sure` where the way leaves no doubt of its own."""

    rows: tuple[Name, ...]
    way: str
    told: str  # the way in words
    sure: bool = True
    poisons: tuple[str, ...] = ()  # things not on file, behind words as near as those of the rows


@dataclass(frozen=True)
class NameIndex:
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
        _fill(self.joined, keyed, joined)
        _fill(self.rooted, [(key, row) for key, row in keyed if row.language in DECLINED], roots_of)
        for roots in self.rooted:
            for root in roots:
                self.openings.setdefault(root[:OPENING], set()).add(roots)


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
    index, key = name_index(), folded(name)
    if key in index.exact:
        return Found(index.exact[key], "exact", "its name on file")
    words = _stems(key)
    if not words:
        return None
    if words in index.inflected:
        return Found(index.inflected[words], "inflection", "found by its singular or plural")
    named = index.ordered.get(tuple(sorted(words)))
    return Found(named, "word order", "found with its words in another order") if named else None


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
    return tuple(name_index().exact)


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
    >>> holds(by_name("borax"), "borax"), holds(by_name("borax"), "best")
    (True, False)
    """
    return all(root_of(word) in roots_of(folded(row.name)) for row in found.rows)


@cache
def name_index() -> NameIndex:
    """Return every name on file under each of its forms: of books of the time, of spirits, of today.

    Returns
    -------
    NameIndex
        Made once.

    Examples
    --------
    >>> [row.meaning for row in name_index().exact["french chalk"]]
    ['talc']
    """
    index = NameIndex()
    index.put((*map(_checked, rows(Name)), *_names_of_spirits()))
    # a name of today speaks where no book of the time is on file with it
    index.put([row for row in _modern_names() if _sorted_stems(folded(row.name)) not in index.ordered])
    return index


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
    """Give every name of the table of strengths as a name; what it meant there and then the strengths say.

    A name of the table of names stays what it is there: its strengths are told where a strength is asked for.
    """
    named = {row.name for row in rows(Name)} | {row.name for row in rows(Substance)}
    for row in rows(Strength):
        for name in row.names:
            if name in named:
                continue
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


def joined(key: str) -> str:
    """Return a folded name with its words run together.

    Parameters
    ----------
    key : str
        A folded name.

    Returns
    -------
    str
        The same letters.

    Examples
    --------
    >>> joined("rose water")
    'rosewater'
    """
    return key.replace(" ", "")


def roots_of(key: str) -> tuple[str, ...]:
    """Return the words of a name in no order, each in English where it is a head or part, without its case.

    Parameters
    ----------
    key : str
        A folded name.

    Returns
    -------
    tuple of str
        Sorted.

    Examples
    --------
    >>> roots_of("oleum bergamottae") == roots_of("oil of bergamotta")
    True
    """
    return tuple(sorted(root_of(word) for word in key.split() if word not in JOINING))


@lru_cache(maxsize=1 << 15)
def root_of(word: str) -> str:
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
    >>> root_of("tinct") == root_of("tincturae") == root_of("tinctures")
    True
    """
    meant, word = head_words(), word.removesuffix("'s")
    return declined(meant.get(word) or meant.get(stems([word])[0], word))


@cache
def head_words() -> Mapping[str, str]:
    """Return the English word a Latin head, a part of a plant or an old spelling stands for.

    Returns
    -------
    mapping
        By the folded word.

    Examples
    --------
    >>> head_words()["oleum"]
    'oil'
    """
    return {
        row.word: row.stands_for
        for row in rows(NameWord)
        if row.stands_for and row.role not in ("quality", "place", "base") and not abroad(row)
    }


def _stems(key: str) -> tuple[str, ...]:
    return stems(word for word in key.split() if word not in JOINING)


def _sorted_stems(key: str) -> tuple[str, ...]:
    return tuple(sorted(_stems(key)))
