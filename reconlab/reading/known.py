"""Is a run of words the name of something on file? Only to tell where one printed name ends and the next begins."""

from __future__ import annotations

import re
from functools import cache

from reconlab.tables import Name, NameWord, rows

_HEADS = ("oils", "essences", "extracts", "tinctures", "spirits", "flowers", "seeds", "powders", "waters", "ottos")


def is_known(name: str) -> bool:
    """Return whether a name is on file as it stands.

    Parameters
    ----------
    name : str
        Words of a name.

    Returns
    -------
    bool
        Whether it is; capitals do not matter.

    Examples
    --------
    >>> is_known("Rose water"), is_known("water and oil")
    (True, False)
    """
    return _folded(name) in _names()


def takes_head(head: str, name: str) -> bool:
    """Return whether a name on file is made of the head of another and a name: "oil of" and "bergamot".

    Parameters
    ----------
    head : str
        The words up to "of".
    name : str
        The name without a head.

    Returns
    -------
    bool
        Whether there is one.

    Examples
    --------
    >>> takes_head("Oils of ", "bergamot"), takes_head("Oil of ", "musk-rat")
    (True, False)
    """
    words = _folded(head).split()
    if not words[1:] or words[-1] != "of":  # a head and "of"
        return False
    noun = words[-2].removesuffix("s") if words[-2] in _HEADS else words[-2]
    name = _folded(name)
    listed = _names()  # spermaceti oil is on file, but whoever prints "spermaceti" means that
    return f"{noun} of {name}" in listed or (name not in listed and f"{name} {noun}" in listed)


def is_head(word: str) -> bool:
    """Return whether a short word is the head of names: the "tinct" of "tinct. myrrhae".

    Parameters
    ----------
    word : str
        The word without its stop.

    Returns
    -------
    bool
        Whether it is one on file.

    Examples
    --------
    >>> is_head("tinct"), is_head("viv")
    (True, False)
    """
    return word.lower() in _heads()


def is_short_head(word: str) -> bool:
    """Return whether a word is the head of names in Latin or short, and no other word of names: "tinctur".

    Parameters
    ----------
    word : str
        The word without its stop.

    Returns
    -------
    bool
        Whether it is one on file.

    Examples
    --------
    >>> is_short_head("tinctura"), is_short_head("anodyne")
    (True, False)
    """
    return word.lower() in _short_heads()


def is_part(word: str) -> bool:
    """Return whether a word names only a part of a plant, which says nothing without the plant: "roots".

    Parameters
    ----------
    word : str
        The word.

    Returns
    -------
    bool
        Whether it is one on file.

    Examples
    --------
    >>> is_part("roots"), is_part("madder")
    (True, False)
    """
    return word.lower().removesuffix("s") in _parts()


def is_whole_word(word: str) -> bool:
    """Return whether a word of names on file is printed whole, so that a full stop behind it shortens nothing.

    Parameters
    ----------
    word : str
        A word before a full stop.

    Returns
    -------
    bool
        Whether it is; a short word, or one with which a longer Latin one begins, may be shortened.

    Examples
    --------
    >>> is_whole_word("Hydrargyri"), is_whole_word("Hydrarg"), is_whole_word("Tinct")
    (True, False, False)
    """
    return len(word) > _SHORT and word.lower() in _words()


def is_word_of_names(word: str) -> bool:
    """Return whether a word is one of those that names on file are made of.

    Parameters
    ----------
    word : str
        The word in small letters, without a hyphen.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> is_word_of_names("almond"), is_word_of_names("mond")
    (True, False)
    """
    return word.replace("\N{LATIN SMALL LETTER LONG S}", "s") in _words_of_names()


@cache
def _words_of_names() -> frozenset[str]:
    return frozenset(word for name in _names() for word in name.split())


_SHORT = 4  # letters


@cache
def _words() -> frozenset[str]:
    shortened = {match[1] for row in rows(Name) for match in re.finditer(r"([^\W\d_]+)\.", row.name.lower())}
    latin = (row.word.lower() for row in rows(NameWord) if row.language == "la")
    shortened |= {word[:end] for word in latin for end in range(_SHORT, len(word))}
    return _words_of_names() - shortened


@cache
def _parts() -> frozenset[str]:
    return frozenset(row.word.removesuffix("s") for row in rows(NameWord) if row.role == "part")


@cache
def _short_heads() -> frozenset[str]:
    listed = (row for row in rows(NameWord) if row.role == "head" and row.language not in ("fr", "de"))
    return frozenset(row.word.lower() for row in listed)


@cache
def _heads() -> frozenset[str]:
    return frozenset(row.word.lower() for row in rows(NameWord))


def _folded(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").replace("\N{LATIN SMALL LETTER LONG S}", "s").split())


@cache
def _names() -> frozenset[str]:
    return frozenset(_folded(row.name) for row in rows(Name))
