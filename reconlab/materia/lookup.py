"""Where a name stands in the tables, by rule alone: nothing here goes by likeness, and every answer says its way."""

from __future__ import annotations

import re
from collections.abc import Callable, Container, Iterable, Iterator, Mapping, Sequence
from functools import cache, lru_cache

from reconlab.materia.harm import harmful
from reconlab.materia.index import DECLINED, OPENING, Found, by_name, head_words, joined, name_index, root_of, roots_of
from reconlab.materia.left_off import without
from reconlab.materia.poisons import alarms
from reconlab.materia.things import UNKNOWN, thing
from reconlab.materia.tongues import (
    ABROAD,
    compounds,
    english,
    opens_with_poison,
    readings,
    spelled,
    spelled_of_old,
    uninflected,
)
from reconlab.materia.words import JOINING, LONGEST, MOST_WORDS, declined, folded
from reconlab.tables import Name, NameWord, PoisonWord, rows

_SHORTENED = re.compile(r"([^\W\d_]{3,})\.")  # a word printed with its point
# Endings of one pattern: Latin first, second and third declension.
_DECLENSIONS = tuple(
    re.compile(rf"(?:{endings})$")
    for endings in ("a|ae|am|arum|is", "um|us|i|o|orum|is", "[^aeiou]is|[^aeiou]e|ium|ibus|es")
)
_SALT_WORD = re.compile(r"(?:ates?|ites?|ides?|urets?)$")
_PLAIN = re.compile(r"e?(?:'?s)?$")
_COLOURS = frozenset({"black", "blue", "brown", "green", "grey", "red", "white", "yellow"})
_MOST_MEANINGS = 4  # a short form that fits more names than this says nothing


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
        lambda: without(words, _whole),
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
        alarms(" ".join(words))
        or any(opens_with_poison(word) for word in set(words) - _plain_words() if uninflected(word) not in _german())
    )


@cache
def _plain_words() -> frozenset[str]:
    """Return the words of English and Latin names: phosphoric is no compound that opens with phosphor."""
    return frozenset(word for row in rows(Name) if row.language in DECLINED for word in folded(row.name).split())


@cache
def _german() -> frozenset[str]:
    """Return the German and French words on file: phosphorsauer is no phosphor."""
    return frozenset(uninflected(row.word) for row in rows(NameWord) if row.language in ABROAD and row.stands_for)


def _rewritten(key: str) -> Found | None:
    index = name_index()
    named = index.joined.get(joined(key))
    if named:
        return Found(named, "spelling", "found with its words joined or parted", sure=_of_one_meaning(named))
    roots = roots_of(key)
    named = index.rooted.get(roots)
    if not named or (not _poisoned_roots().isdisjoint(roots) and not any(harmful(row.meaning) for row in named)):
        return None
    if (
        len(roots) == 1
        and key not in head_words()
        and not any(_same_declension(key, folded(row.name)) for row in named)
    ):
        return None  # carmina is no case of carmine: it may be anybody's brand
    return Found(named, "inflection", "found by its Latin case, head or older spelling", sure=_of_one_meaning(named))


def _translated(words: Sequence[str], short: Container[str] = ()) -> Found | None:
    """Find a French, German or Latin name by its older spelling, or by what its words are in English."""
    whole = "".join(words)
    named = _spelled_names().get(spelled(whole)) or _uninflected_names().get(tuple(map(uninflected, words)))
    named = named or _names_of_old().get(spelled_of_old(whole))
    if named and _may_be_only(named, roots_of(" ".join(words))):
        return Found(named, "spelling", "found by its older or newer spelling", sure=_of_one_meaning(named))
    if found := _powdered(words):
        return found
    each = [meant for meant in readings(words, short) if not _COLOURS.issuperset(meant)]  # jaune is no one thing
    for meant in each:
        roots = roots_of(" ".join(meant))
        named = name_index().rooted.get(roots) or _names_in_english().get(roots)
        found = None if named else by_name(" ".join(meant)) or _salt(meant)
        named = found.rows if found else named
        if named and _is_water(words) and _is_plant(named):
            continue  # aqua menthae is no water mint
        if named and _may_be_only(named, roots):
            sure = found.sure if found else _of_one_meaning(named)
            return Found(named, "translation", "found by its words in English", sure)
    loose = ((meant, without(meant, _in_english)) for meant in each)
    fit = (one for meant, one in loose if one and _may_be_only(one.rows, roots_of(" ".join(meant))))
    return next((one for one in fit if not (_is_water(words) and _is_plant(one.rows))), None)


def _is_water(words: Sequence[str]) -> bool:
    first = head_words().get(words[0]) or " ".join(english(words[:1]))
    return len(words) > 1 and first == "water"


def _is_plant(named: Iterable[Name]) -> bool:
    return all(thing(row.meaning).state == "plant part" for row in named)


def _powdered(words: Sequence[str]) -> Found | None:
    """Find a German powder by the name of what was powdered, a part of its plant told: Chinarindenpulver."""
    for first, meant in compounds(words[0]) if len(words) == 1 else ():
        found = _whole([first]) if meant == "powder" else None
        told = any(compounds(first))  # Rosenpulver may be scented starch; Rosenblätterpulver is none
        states = ("powder", "solid", "plant part") if told else ("powder", "solid")
        if found and all(thing(row.meaning).state in states for row in found.rows):
            return Found(found.rows, "form", f"found as the powder of {found.rows[0].name!r}", found.sure)
    return None


def _whole(words: Sequence[str]) -> Found | None:
    """Find words that were left when others went."""
    return _in_english(words) or _translated(words)


def _in_english(words: Sequence[str]) -> Found | None:
    return by_name(" ".join(words)) or _rewritten(" ".join(words))


def _may_be_only(named: Iterable[Name], roots: Iterable[str]) -> bool:
    """Refuse harmless things alone for words that, put into English, name a poison."""
    said = frozenset(roots)
    return any(harmful(row.meaning) for row in named) or not any(each <= said for each in _poisons_by_roots())


@cache
def _spelled_names() -> Mapping[str, tuple[Name, ...]]:
    found: dict[str, list[Name]] = {}
    for row in rows(Name):
        if row.language in ABROAD:
            found.setdefault(spelled(joined(folded(row.name))), []).append(row)
    return {key: tuple(named) for key, named in found.items()}


@cache
def _names_of_old() -> Mapping[str, tuple[Name, ...]]:
    """Return the French names as their older spellings make them, where that is one name alone."""
    found: dict[str, dict[str, list[Name]]] = {}
    for row in rows(Name):
        if row.language == "fr":
            name = joined(folded(row.name))
            found.setdefault(spelled_of_old(name), {}).setdefault(spelled(name), []).append(row)
    return {key: tuple(*named.values()) for key, named in found.items() if len(named) == 1}


@cache
def _uninflected_names() -> Mapping[tuple[str, ...], tuple[Name, ...]]:
    """Return German names of several words without their endings: gelöschten Kalk is gelöschter Kalk."""
    found: dict[tuple[str, ...], list[Name]] = {}
    for row in rows(Name):
        words = folded(row.name).split()
        if row.language == "de" and len(words) > 1:
            found.setdefault(tuple(map(uninflected, words)), []).append(row)
    return {key: tuple(named) for key, named in found.items()}


@cache
def _names_in_english() -> Mapping[tuple[str, ...], tuple[Name, ...]]:
    found: dict[tuple[str, ...], list[Name]] = {}
    for row in rows(Name):
        if row.language != "en":
            words = folded(row.name).split()
            for meant in dict.fromkeys((english(words), english(words, named=False))):
                if meant:
                    found.setdefault(roots_of(" ".join(meant)), []).append(row)
    return {roots: tuple(named) for roots, named in found.items()}


@cache
def _poisons_by_roots() -> frozenset[frozenset[str]]:
    return frozenset(frozenset(roots_of(folded(row.word))) for row in rows(PoisonWord))


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
    asked = [word if word in cut else root_of(word) for word in words if word not in JOINING]
    fits = [name_index().openings.get(each[:OPENING], set()) for each in asked if len(each) >= OPENING]
    if len(fits) != len(asked) or len(asked) == 1:
        return None
    names = [one for one in set.intersection(*fits) if len(one) == len(asked) and _opens(asked, one, cut)]
    found = [row for one in sorted(names) for row in name_index().rooted[one]]
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
    cut = {word.lower() for word in _SHORTENED.findall(name)} - head_words().keys()
    last = len(words) > 1 and words[0] in _latin_heads() and len(words[-1]) >= OPENING
    return cut | {words[-1]} if last else cut


def _opens(asked: Iterable[str], whole: Iterable[str], short: Container[str]) -> bool:
    """Tell whether each word is one of the name, or a short form that opens one."""
    left = list(whole)
    for word in sorted(asked, key=len, reverse=True):
        fit = next(
            (one for one in left if one in (word, root_of(word)) or (word in short and one.startswith(word))), None
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


@cache
def _latin_heads() -> frozenset[str]:
    return frozenset(
        row.word for row in rows(NameWord) if row.language == "la" and row.role in ("head", "part", "form")
    )


@cache
def _single_poison_words() -> Mapping[str, str]:
    words = [folded(row.word) for row in rows(PoisonWord)]
    return {word: declined(word) for word in words if " " not in word}


@cache
def _poisoned_roots() -> frozenset[str]:
    return frozenset(_single_poison_words().values())
