"""English as it was spelled before about 1700: lauender, leaues, waxe; only words no name on file has are respelt."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import islice, product

from reconlab.materia.index import names_on_file
from reconlab.materia.words import folded
from reconlab.tables import NameWord, PoisonWord, rows

_LETTERS = (
    ("vv|uu", "w"),
    ("v", "u"),
    ("[jy]", "i"),
    ("(?<=[aeou])w", "u"),
    ("ph", "f"),
    ("ck", "k"),
    ("c(?=[aoulr]|$)", "k"),
    ("e[ae]", "e"),
    ("o[ao]", "o"),
    ("[ao]e", "e"),
    (r"([^\W\d_])\1", r"\1"),
    ("s$", ""),
    ("ie$", "i"),
    ("e$", ""),
    ("(?<=[^aeiou])(?:[aeo]|ou)r$|(?<=[^aeiou])re$", "r"),
)
_SAME = tuple((re.compile(one), other) for one, other in _LETTERS)
_SHORTEST = 4  # letters
_MOST = 8  # readings of one name


def modern_spellings(name: str) -> tuple[str, ...]:
    """Return a name with the words nobody knows as a modern book would spell them.

    Parameters
    ----------
    name : str
        The name as printed.

    Returns
    -------
    tuple of str
        Each way to spell it by words on file, poisons' words among them; empty where a word has none or none is old.

    Examples
    --------
    >>> modern_spellings("bay leaues"), modern_spellings("flowers of Jupiter")
    (('bay leaves',), ())
    """
    words = folded(name.replace("=", " ")).split()
    spelt = [(word,) if word in _words_on_file() or len(word) < _SHORTEST else _spelled(word) for word in words]
    if not all(spelt) or all(each == (word,) for each, word in zip(spelt, words, strict=True)):
        return ()
    return tuple(dict.fromkeys(" ".join(each) for each in islice(product(*spelt), _MOST)))


def _spelled(word: str) -> tuple[str, ...]:
    same = _by_key()
    found = same.get(_key(word), ())
    return found or (same.get(_key(f"{word}e"), ()) if word.endswith("s") else ())  # greas is no plural


def _key(word: str) -> str:
    """Return what every spelling of a word has in common."""
    for old, same in _SAME:
        word = old.sub(same, word)
    return word


def _every_word() -> Iterator[str]:
    for name in names_on_file():
        yield from name.split()
    for row in rows(NameWord):
        if row.language in ("en", "la"):
            yield from folded(row.word).split()
    for poison in rows(PoisonWord):
        yield from folded(poison.word).split()


@cache
def _words_on_file() -> frozenset[str]:
    return frozenset(_every_word())


@cache
def _by_key() -> Mapping[str, tuple[str, ...]]:
    found: dict[str, dict[str, None]] = {}
    for word in _every_word():
        if word.isalpha() and len(word) >= _SHORTEST:
            found.setdefault(_key(word), {})[word] = None
    return {key: tuple(words) for key, words in found.items()}
