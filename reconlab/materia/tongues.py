"""A name in French, German or pharmacy Latin as the words an English book would have for it.

Every word must be on file for one of these languages: a name of which one word is not known is not translated.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from functools import cache

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
_ENDING = re.compile(r"(?<=\w{4})(?:es|er|en|em|e|n|s|x)$")
_LINKS = ("", "n", "en", "s", "es", "er")  # what joins the words of a compound
_SHORTEST = 3  # letters of the first word of a compound
_OPENING = 4  # letters of a short form
_LONG_HEAD = 7  # letters of a Latin head that ends German compounds: Rosmarinspiritus
_LONGEST_PHRASE = 4  # words of a name that are on file together


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
    """
    plain = [_ELIDED.sub("", word) for word in words]
    plain = [word for word in plain if word not in _JOINING]
    if meant := _opened_phrase(plain, short):
        return tuple(meant.split())
    plain = _with_phrases(plain)
    own = [
        _phrases().get(word, "")
        or _meaning(word)
        or _latin(word)
        or (_named(word, alone=len(plain) == 1) if named else "")
        or _parted(word, named=named)
        or (_opened(word) if word in short and word not in _shared() else "")
        for word in plain
    ]
    told = [
        one or _shared().get(word) or _shared().get(declined(word), "") for one, word in zip(own, plain, strict=True)
    ]
    if not any(own) or not all(told):
        return ()
    return tuple(dict.fromkeys(each for one in told for each in one.split()))  # gelbes Bienenwachs is yellow but once


def _with_phrases(words: Sequence[str]) -> list[str]:
    """Return words with those together that are on file together: capilli veneris."""
    joined: list[str] = []
    at = 0
    while at < len(words):
        spans = range(min(_LONGEST_PHRASE, len(words) - at), 1, -1)
        known = ((length, one) for length in spans if (one := _phrase(words[at : at + length])) in _phrases())
        length, one = next(known, (1, words[at]))
        joined.append(one)
        at += length
    return joined


def _phrase(words: Iterable[str]) -> str:
    return " ".join(declined(_ENDING.sub("", spelled(word))) for word in words)


@cache
def _phrases() -> Mapping[str, str]:
    """Return what words mean together, each without its ending."""
    listed = (row for row in rows(NameWord) if abroad(row) and row.role in _TRANSLATED and " " in row.word)
    found = {
        _phrase(part for part in folded(row.word).split() if part not in _JOINING): row.stands_for for row in listed
    }
    return {phrase: meant for phrase, meant in found.items() if " " in phrase and meant}


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


def _named(word: str, *, alone: bool = False) -> str:
    """Return the English name of a thing that has this German, French or Latin name of one word."""
    if word in _shared():
        return ""  # a head, whatever name it may be alone
    names, key = _names(), spelled(word)
    found = names.get(key) or names.get(_ENDING.sub("", key), "")
    return found or ("" if alone else _latin_names().get(word) or _latin_names().get(declined(word), ""))


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
        known[spelled(row.word)] = row.stands_for
    for row in listed:
        known.setdefault(_ENDING.sub("", spelled(row.word)), row.stands_for)
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


def _of_one_word(tongues: Container[str]) -> Iterator[Name]:
    """Give the names of one word that mean one thing, for which there is an English name."""
    meanings: dict[str, set[str]] = {}
    for row in rows(Name):
        meanings.setdefault(folded(row.name), set()).add(row.meaning)
    for row in rows(Name):
        key = folded(row.name)
        if row.language in tongues and " " not in key and len(meanings[key]) == 1 and row.meaning in _in_english():
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
