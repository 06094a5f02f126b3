"""A name in French, German or pharmacy Latin as the words an English book would have for it.

Every word must be on file for one of these languages: a name of which one word is not known is not translated.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from functools import cache, lru_cache

from reconlab.materia.words import declined, folded
from reconlab.tables import Name, NameWord, PoisonWord, rows

ABROAD = ("fr", "de")
_TRANSLATED = ("head", "part", "form", "spelling")
_ELIDED = re.compile(r"^(?:d|l|qu)'(?=\w)")
_JOINING = frozenset({
    "of", "the", "de", "du", "des", "d'", "la", "le", "les", "l'", "a", "au", "aux", "à",
    "von", "vom", "der", "die", "den", "dem", "das", "zu", "zum", "in", "aus", "ein", "eine", "einer", "eines", "einem",
})  # fmt: skip
_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "\N{LATIN SMALL LIGATURE FF}": "ff"})
# What printers of three centuries wrote either way; the order matters.
_EITHER_WAY = tuple(
    (re.compile(pattern), one)
    for pattern, one in (
        ("th", "t"),
        ("ph", "f"),
        ("y", "i"),
        ("[ct]z", "z"),
        ("ck", "k"),
        ("c(?=[ei])", "z"),
        ("c(?!h)", "k"),
        (r"(\w)\1", r"\1"),
        ("ae", "e"),
    )
)
# How French was spelled before its academy: cresme, masle, laict, doulces, febves, mondez.
_OLD_FRENCH = tuple(
    (re.compile(pattern), one)
    for pattern, one in (
        ("ez$", "e"),
        ("(?<=[aeiou])s(?=[tlmnpqcdr])", ""),
        ("(?<=[oa]u)l(?=[fcdtx])", ""),
        ("b(?=v)|c(?=ts?$)", ""),
        ("z", "s"),
    )
)
_ENDING = re.compile(r"(?<=\w{4})(?:es|er|en|em|e|n|s|x)$")
_LINKS = ("", "n", "en", "s", "es", "er")  # what joins the words of a compound
_SHORTEST = 3  # letters of the first word of a compound
_OPENING = 4  # letters of a short form
_KEPT = 1 << 15  # words of the tables are asked for again and again
_LONG_HEAD = 7  # letters of a Latin head that ends German compounds: Rosmarinspiritus
_LONGEST_PHRASE = 4  # words of a name that are on file together


@lru_cache(maxsize=_KEPT)
def spelled(word: str) -> str:
    """Return a word with old and new spelling made equal: accents and umlauts, th, ph, y, ck, c for k, double letters.

    Parameters
    ----------
    word : str
        A folded word.

    Returns
    -------
    str
        The same for every spelling of it.

    Examples
    --------
    >>> spelled("blüthe") == spelled("bluete"), spelled("tinctur") == spelled("tinktur")
    (True, True)
    >>> spelled("térébenthine") == spelled("terebentine")
    True
    """
    plain = unicodedata.normalize("NFKD", unicodedata.normalize("NFC", word).translate(_UMLAUTS))
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
    for pattern, one in _EITHER_WAY:
        plain = pattern.sub(one, plain)
    return plain


@lru_cache(maxsize=_KEPT)
def spelled_of_old(word: str) -> str:
    """Return a French word with the spelling of the seventeenth century and that of today made equal.

    Parameters
    ----------
    word : str
        A folded word.

    Returns
    -------
    str
        The same for both.

    Examples
    --------
    >>> spelled_of_old("cresme") == spelled_of_old("crème"), spelled_of_old("doulces") == spelled_of_old("douces")
    (True, True)
    """
    plain = unicodedata.normalize("NFKD", word)
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter))
    for pattern, one in _OLD_FRENCH:
        plain = pattern.sub(one, plain)
    return spelled(plain)


@lru_cache(maxsize=_KEPT)
def uninflected(word: str) -> str:
    """Return a French or German word by its spelling, without its ending.

    Parameters
    ----------
    word : str
        A folded word.

    Returns
    -------
    str
        The same for every ending of it.

    Examples
    --------
    >>> uninflected("feinem") == uninflected("feines")
    True
    """
    return _ENDING.sub("", spelled(word))


def abroad(row: NameWord) -> bool:
    """Return whether a word is translated only in a name all words of which are French, German or Latin.

    Parameters
    ----------
    row : NameWord
        A word on file.

    Returns
    -------
    bool
        False for English words and for what Latin shares with English names, its heads and parts of plants.

    Examples
    --------
    >>> {row.word: abroad(row) for row in rows(NameWord) if row.word in ("huile", "oleum", "lavandulae", "rind")}
    {'huile': True, 'lavandulae': True, 'oleum': False, 'rind': False}
    """
    return row.language in ABROAD or (row.language == "la" and row.role == "spelling")


def english(words: Iterable[str], short: Container[str] = (), *, named: bool = True) -> tuple[str, ...]:
    """Return the words of a French, German or Latin name in English, in the order they stand in.

    Parameters
    ----------
    words : iterable of str
        Folded words.
    short : container of str
        Those that may be the opening of a Latin word.
    named : bool
        Whether a word may be the whole name of a thing on file.

    Returns
    -------
    tuple of str
        Empty where a word is in no list, or all are heads and parts that English books print too.

    Examples
    --------
    >>> english(["huile", "de", "lavande"]), english(["rosenwasser"]), english(["huile", "de", "lune"])
    (('oil', 'lavender'), ('rose', 'water'), ())
    >>> english(["syr", "aurant"], {"aurant"})
    ('syrup', 'orange')
    >>> english(["feuilles", "de", "lierre", "terrestre"])
    ('leaf', 'ground', 'ivy')
    """
    told: list[str] = []
    plain, foreign = _without_joining(words), False
    if opened := _opened_phrase(plain, short):
        return tuple(opened.split())
    whole = len(plain)
    while plain:
        lengths = range(min(_LONGEST_PHRASE, len(plain)), 1, -1)
        length = next((n for n in lengths if _phrase(plain[:n], named=named and n < whole)), 1)
        own = _phrase(plain[:length], named=named) or _own(plain[0], short, named=named, alone=whole == 1)
        meant = own or _shared().get(plain[0]) or _shared().get(declined(plain[0]), "")
        meant = meant or (_alike().get(spelled(plain[0]), "") if named else "")
        if not meant:
            return ()
        told += meant.split()
        foreign = foreign or bool(own)
        del plain[:length]
    return tuple(dict.fromkeys(told)) if foreign else ()  # gelbes Bienenwachs is yellow but once


def readings(words: Sequence[str], short: Container[str] = ()) -> Iterator[tuple[str, ...]]:
    """Yield a French, German or Latin name in English: word by word, then with the names on file that are in it.

    Parameters
    ----------
    words : sequence of str
        Folded words.
    short : container of str
        Those that may be the opening of a Latin word.

    Yields
    ------
    tuple of str
        English words; nothing where a word is in no list.

    Examples
    --------
    >>> list(readings(["huile", "d'ambre", "jaune"]))[0]
    ('oil', 'ambergris', 'yellow')
    """
    each = (english(words, short, named=False), english(words, short))
    yield from dict.fromkeys(meant for meant in each if meant)


def _without_joining(words: Iterable[str]) -> list[str]:
    return [word for word in (_ELIDED.sub("", word) for word in words) if word not in _JOINING]


def _own(word: str, short: Container[str], *, named: bool, alone: bool) -> str:
    """Return what a French, German or Latin word means in English."""
    return (
        _meaning(word)
        or _latin(word)
        or (_named(word, alone=alone) if named else "")
        or _parted(word, named=named)
        or _binary(word)
        or (_opened(word) if word in short and word not in _shared() else "")
        or (_of_old(word) if named else "")
    )


_BINARY = (("chlor", "chloride"), ("brom", "bromide"), ("jod", "iodide"), ("schwefel", "sulphide"), ("cyan", "cyanide"))


def _binary(word: str) -> str:
    """Return a salt of two elements, as German chemists named it until about 1900: Chlorcalcium, Schwefelblei."""
    for first, salt in _BINARY:
        if word.startswith(first) and (metal := _meaning(word.removeprefix(first))):
            return f"{metal} {salt}"
    return ""


def opens_with_poison(word: str) -> bool:
    """Return whether a German compound opens with the word of a poison: Bleiweißsalbe is no white salve.

    Parameters
    ----------
    word : str
        A folded word.

    Returns
    -------
    bool
        True as well for words that only look so: it serves to refuse, never to find.

    Examples
    --------
    >>> opens_with_poison("quecksilbersalbe"), opens_with_poison("rosenwasser")
    (True, False)
    """
    return spelled(word).startswith(_opening_poisons())


@cache
def _opening_poisons() -> tuple[str, ...]:
    listed = (folded(row.word) for row in rows(PoisonWord))  # a compound may open with a word of another language
    return tuple(spelled(word) for word in listed if " " not in word and len(word) >= _OPENING)


def _meaning(word: str) -> str:
    if word in _as_printed() or word in _shared() or word in _latin_words():
        return _as_printed().get(word, "")  # mellis is honey, and no Melisse
    known, key = _vocabulary(), spelled(word)
    return known.get(key) or known.get(_ENDING.sub("", key), "")


def _of_old(word: str) -> str:
    """Return the meaning of the one French word that an older spelling stands for."""
    if word in _on_file():
        return ""  # mellis is honey, and no older mélisse
    key = spelled_of_old(word)
    meant = _old_words().get(key) or _old_words().get(_ENDING.sub("", key), frozenset())
    return next(iter(meant)) if len(meant) == 1 else ""


@cache
def _on_file() -> frozenset[str]:
    return frozenset(folded(row.word) for row in rows(NameWord) if row.language not in ("", "en"))


@cache
def _old_words() -> Mapping[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    listed = [
        (row.word, row.stands_for)
        for row in rows(NameWord)
        if row.language == "fr" and row.role in _TRANSLATED and row.stands_for and " " not in row.word
    ]
    known = {word for word, _ in listed}
    named = ((folded(row.name), _in_english()[row.meaning]) for row in _of_one_word(("fr",)))
    listed += [(word, meant) for word, meant in named if word not in known]
    plain = {word for word, _ in listed if spelled_of_old(word) == word}
    for word, meant in listed:
        key = spelled_of_old(word)
        for form in {key, _ENDING.sub("", key)} - (plain - {word}):  # roze is rose, and no rosée
            found.setdefault(form, set()).add(meant)
    return {key: frozenset(meant) for key, meant in found.items()}


def _named(word: str, *, alone: bool = False) -> str:
    """Return the English name of a thing that has this German, French or Latin name of one word."""
    if word in _shared():
        return ""  # a head, whatever name it may be alone
    names, key = _names(), spelled(word)
    found = names.get(key) or names.get(_ENDING.sub("", key), "")
    return found or ("" if alone else _latin_names().get(word) or _latin_names().get(declined(word), ""))


def _phrase(words: Sequence[str], *, named: bool) -> str:
    """Return what several French or German words mean, or the English name of a thing that they are the name of."""
    if len(words) == 1:
        return ""
    meant = _phrases_of_words().get(tuple(map(_declined, words)))
    meant = meant or (_phrases().get(_key(words), "") if named else "")
    return meant or _phrases_of_old().get(tuple(map(_key_of_old, words)), "")


def _key(words: Iterable[str]) -> tuple[str, ...]:
    return tuple(map(uninflected, words))


def _parted(word: str, *, named: bool = True) -> str:
    """Return what the words of a German compound mean; its last is a head or a part of a plant."""
    key = spelled(word)
    for head, meant in _compounding():
        if not key.endswith(head) or len(key) - len(head) < _SHORTEST:
            continue
        for first in _unlinked(key.removesuffix(head)):
            known = _meaning(first) or (_named(first, alone=True) if named else "")
            known = known or (_parted(first, named=named) if key.startswith(first) else "")
            if known:
                return f"{meant} {known}" if head in _forms() else f"{known} {meant}"
    return ""


def compounds(word: str) -> Iterator[tuple[str, str]]:
    """Yield what may stand first in a German compound, and what its last word is in English, the longest last first.

    Parameters
    ----------
    word : str
        A folded word.

    Yields
    ------
    tuple of str
        Such as "chinarinde" and "powder".

    Examples
    --------
    >>> ("chinarinde", "powder") in compounds("chinarindenpulver")
    True
    """
    key = spelled(word)
    for head, meant in _compounding():
        if key.endswith(head) and len(key) - len(head) >= _SHORTEST:
            yield from ((first, meant) for first in _unlinked(key.removesuffix(head)))


@cache
def _forms() -> frozenset[str]:
    """Return the German words for a form, which are said of the thing they end: Nelkenpulver is powder of cloves."""
    return frozenset(spelled(row.word) for row in rows(NameWord) if row.language == "de" and row.role == "form")


def _unlinked(first: str) -> Iterator[str]:
    yield from (first[: len(first) - len(link)] for link in _LINKS if first.endswith(link))
    yield f"{first}e"


@cache
def _as_printed() -> Mapping[str, str]:
    """Return what each French and German word is in English: poivre is pepper, poivrée is not."""
    listed = (row for row in rows(NameWord) if row.language in ABROAD and row.role in _TRANSLATED)
    return {folded(row.word): row.stands_for for row in listed if row.stands_for}


@cache
def _vocabulary() -> Mapping[str, str]:
    """Return what each French and German word is in English, by its spelling, whole or without its ending."""
    known: dict[str, str] = {}
    listed = [row for row in rows(NameWord) if row.language in ABROAD and row.role in _TRANSLATED and row.stands_for]
    for row in listed:
        key = spelled(row.word)
        if key == row.word or key not in known:  # rosée is no rose
            known[key] = row.stands_for
    words = {spelled(row.word) for row in rows(NameWord) if row.language in ABROAD}  # frais is no case of fraises
    for row in listed:
        key = uninflected(row.word)
        if key not in words:
            known.setdefault(key, row.stands_for)
    return known


@cache
def _names() -> Mapping[str, str]:
    """Return the English name of each thing with a French or German name of one word, whole or without its ending."""
    named = {spelled(folded(row.name)): _in_english()[row.meaning] for row in _of_one_word(ABROAD)}
    return {**{_ENDING.sub("", word): meant for word, meant in named.items()}, **named}


@cache
def _latin_names() -> Mapping[str, str]:
    """Return the same of Latin names, heads and parts of plants left out."""
    known = {folded(row.name): _in_english()[row.meaning] for row in _of_one_word(("la",))}
    known = {word: meant for word, meant in known.items() if _shared().keys().isdisjoint((word, declined(word)))}
    return {**{declined(word): meant for word, meant in known.items() if len(word) >= _OPENING}, **known}


@cache
def _alike() -> Mapping[str, str]:
    """Return the English and Latin names of one word that French and German books share, none else being on file."""
    listed: dict[str, set[tuple[str, str]]] = {}
    for row in rows(Name):
        listed.setdefault(folded(row.name), set()).add((row.language, row.meaning))
    put = {word for meant in _vocabulary().values() for word in meant.split()}
    return {
        spelled(name): name
        for name, meant in listed.items()
        if len(meant) == 1 and " " not in name and len(name) > _OPENING and name not in put
    }


@cache
def _phrases_of_words() -> Mapping[tuple[str, ...], str]:
    """Return what words of one entry mean together, each without its ending: capilli veneris."""
    listed = (row for row in rows(NameWord) if abroad(row) and row.role in _TRANSLATED and " " in row.word)
    keyed = ((tuple(map(_declined, _without_joining(folded(row.word).split()))), row.stands_for) for row in listed)
    return {key: meant for key, meant in keyed if len(key) > 1 and meant}


def _declined(word: str) -> str:
    return declined(uninflected(word))


def _key_of_old(word: str) -> str:
    return _ENDING.sub("", spelled_of_old(word))


@cache
def _phrases_of_old() -> Mapping[tuple[str, ...], str]:
    """Return the French entries of several words as their older spellings make them."""
    listed = (row for row in rows(NameWord) if row.language == "fr" and row.role == "spelling" and " " in row.word)
    return {tuple(map(_key_of_old, _without_joining(folded(row.word).split()))): row.stands_for for row in listed}


@cache
def _phrases() -> Mapping[tuple[str, ...], str]:
    """Return the same of French and German names of several words."""
    keyed = ((_key(_without_joining(folded(row.name).split())), row) for row in _of_one_meaning(ABROAD))
    return {key: _in_english()[row.meaning] for key, row in keyed if len(key) > 1}


def _of_one_word(tongues: Container[str]) -> Iterator[Name]:
    return (row for row in _of_one_meaning(tongues) if " " not in folded(row.name))


def _of_one_meaning(tongues: Container[str]) -> Iterator[Name]:
    """Give the names that mean one thing, for which there is an English name."""
    meanings: dict[str, set[str]] = {}
    for row in rows(Name):
        meanings.setdefault(folded(row.name), set()).add(row.meaning)
    for row in rows(Name):
        if row.language in tongues and len(meanings[folded(row.name)]) == 1 and row.meaning in _in_english():
            yield row


@cache
def _in_english() -> Mapping[str, str]:
    """Return an English name of each thing that means nothing else: its own, or the first of the shortest."""
    meanings: dict[str, set[str]] = {}
    for row in rows(Name):
        meanings.setdefault(folded(row.name), set()).add(row.meaning)
    found: dict[str, str] = {}
    for row in rows(Name):
        key = folded(row.name)
        if row.language != "en" or row.standing != "likely" or len(meanings[key]) > 1:
            continue
        kept, own = found.get(row.meaning, ""), row.meaning.replace("_", " ")
        if not kept or key == own or (kept != own and len(key.split()) < len(kept.split())):
            found[row.meaning] = key
    return found


@cache
def _compounding() -> tuple[tuple[str, str], ...]:
    """Return German heads and parts, which end a compound, and the long Latin heads; the longest first."""
    heads = {
        spelled(row.word): row.stands_for
        for row in rows(NameWord)
        if (row.language == "de" and row.role in ("head", "part", "form"))
        or (row.language == "la" and row.role == "head" and len(row.word) >= _LONG_HEAD)
    }
    return tuple(sorted(heads.items(), key=lambda one: -len(one[0])))


def _latin(word: str) -> str:
    return _latin_words().get(word) or _latin_words().get(declined(word), "")


def _opened(word: str) -> str:
    """Return what the Latin words mean that open with a short form, where all mean one thing and none is a poison's."""
    if len(word) < _OPENING or any(poison.startswith(word) for poison in _poisons()):
        return ""
    meant = {one for whole, one in _latin_words().items() if whole.startswith(word)}
    return meant.pop() if len(meant) == 1 else ""


def _opened_phrase(words: Sequence[str], short: Container[str]) -> str:
    """Return what Latin words mean together, of which some are printed short: bals. peruvian. nigr."""
    cut = [word for word in words if word in short]
    if not cut or len(words) == 1:
        return ""
    meant: set[str] = set()
    for phrase, one in _latin_phrases().get(len(words), ()):
        if all(map(_fits, words, phrase, [word in short for word in words])):
            known = not _poisons().isdisjoint(phrase)
            if not known and any(poison.startswith(word) for word in cut for poison in _poisons()):
                return ""
            meant.add(one)
    return meant.pop() if len(meant) == 1 else ""


def _fits(word: str, whole: str, cut: bool) -> bool:  # noqa: FBT001
    """Tell whether a word is that word in another case, another form of its head, or its opening."""
    if declined(word) == declined(whole) or (cut and len(word) >= _SHORTEST and whole.startswith(word)):
        return True
    return word in _shared() and _shared().get(word) == _shared().get(whole)


@cache
def _latin_phrases() -> Mapping[int, Sequence[tuple[tuple[str, ...], str]]]:
    """Return Latin words that mean something together, by how many they are."""
    found: dict[int, list[tuple[tuple[str, ...], str]]] = {}
    for row in rows(NameWord):
        words = tuple(part for part in folded(row.word).split() if part not in _JOINING)
        if row.language == "la" and row.role == "spelling" and len(words) > 1:
            found.setdefault(len(words), []).append((words, row.stands_for))
    return found


@cache
def _poisons() -> frozenset[str]:
    return frozenset(part for row in rows(PoisonWord) for part in folded(row.word).split())


@cache
def _latin_words() -> Mapping[str, str]:
    known = {row.word: row.stands_for for row in rows(NameWord) if row.language == "la" and row.role == "spelling"}
    return {**{declined(word): meant for word, meant in known.items()}, **known}


@cache
def _shared() -> Mapping[str, str]:
    """Return the Latin heads and parts of plants that English books print among their own words."""
    known = {
        row.word: row.stands_for
        for row in rows(NameWord)
        if row.language == "la" and row.stands_for and not abroad(row)
    }
    return {**{declined(word): meant for word, meant in known.items() if len(word) >= _OPENING}, **known}
