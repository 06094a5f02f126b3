"""A period name as words to compare: what printers vary is folded away, endings that make no difference are cut."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

LONGEST = 200  # characters: no name of a thing is longer, a line of a receipt may be
MOST_WORDS = 12
JOINING = frozenset({"of", "the", "de", "du", "von"})

_KEPT = 1 << 15  # names and words of the tables are asked for again and again
_LETTERS = str.maketrans(
    {
        "æ": "ae",
        "œ": "oe",
        "\N{LATIN SMALL LETTER LONG S}": "s",
        ".": " ",
        ",": " ",
        "-": " ",
        "\N{HYPHEN}": " ",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        **dict.fromkeys('_()[]{}~;:\N{LEFT DOUBLE QUOTATION MARK}\N{RIGHT DOUBLE QUOTATION MARK}"', " "),
    }
)
_SHORTEST_PLURAL = 4
# Latin endings by declension, the longest first. "-is" stays where it tells a salt: sulphis is no sulphas.
_SALT = re.compile(r"(?<=[a-z]{3})(?:atis|ates|ate|as)$")
_LOWER_SALT = re.compile(r"(?<=[a-z]{3})(?:itis|ites|ite|(?<=[pt]h)is|(?<=tr|en)is)$")
_CASES = re.compile(r"(?<=[a-z]{3})(?:arum|orum|uum|ius|ium|io|ii|um|us|ae|is|os|es|e|a|i|o|s)$")
# Nominatives of the third declension that hide their stem: calx, calcis; semen, seminis.
_NOMINATIVES = {
    "adeps": "adip", "calx": "calc", "carbo": "carbon", "cinis": "ciner", "cortex": "cortic", "fel": "fell",
    "flos": "flor", "lac": "lact", "lapis": "lapid", "mater": "matr", "mel": "mell", "nux": "nuc", "pepo": "pepon",
    "pix": "pic", "pulvis": "pulver", "radix": "radic", "ros": "ror", "sanguis": "sanguin", "sapo": "sapon",
    "styrax": "styrac", "thus": "thur",
}  # fmt: skip
_MEN, _AGO = re.compile(r"(?<=[a-z]{2})men$"), re.compile(r"(?<=[a-z])(ag|ig|ug|ed)o$")
# What a worn type or a scan takes for one another.
_SCANNED = (("rn", "m"), ("ii", "u"), ("vv", "w"), ("cl", "d"))
_SCANNED_LETTERS = str.maketrans("1|ij0fe5nv", "lllloscsuu")


@lru_cache(maxsize=_KEPT)
def folded(name: str) -> str:
    """Return a name as names are compared: lower case, without points, hyphens, ligatures or spare blanks.

    Parameters
    ----------
    name : str
        A name as printed.

    Returns
    -------
    str
        The name to compare.

    Examples
    --------
    >>> folded("Aq. Flor. Aurant."), folded("Rose-water")
    ('aq flor aurant', 'rose water')
    """
    return " ".join(name.lower().translate(_LETTERS).split())


def stems(words: Iterable[str]) -> tuple[str, ...]:
    """Return words without the endings that make no difference to a name.

    Parameters
    ----------
    words : iterable of str
        Folded words.

    Returns
    -------
    tuple of str
        In the same order.

    Examples
    --------
    >>> stems(["white", "leads"])
    ('white', 'lead')
    """
    return tuple(_stem(word) for word in words)


@lru_cache(maxsize=_KEPT)
def _stem(word: str) -> str:
    """Strip an English plural; glycerine and glycerin, oxyd and oxide are names of their own in the table."""
    if word.endswith("ies") and len(word) > _SHORTEST_PLURAL + 1:
        return f"{word[:-3]}y"  # cherries
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) >= _SHORTEST_PLURAL else word


def declined(word: str) -> str:
    """Return a word without its Latin case, so that nominative, genitive and ablative are one; English plurals too.

    The salts are kept apart: sulphas, sulphatis and sulphate are one, sulphis, sulphitis and sulphite another.

    Parameters
    ----------
    word : str
        A folded word.

    Returns
    -------
    str
        Its stem.

    Examples
    --------
    >>> [declined(word) for word in ("rosae", "rosarum", "oxidi", "oxidum", "oxide", "sulphatis", "sulphis")]
    ['ros', 'ros', 'oxid', 'oxid', 'oxid', 'sulphat', 'sulphit']
    >>> declined("calx") == declined("calcis"), declined("semen") == declined("seminis")
    (True, True)
    """
    stem = _NOMINATIVES.get(word)
    if stem is not None:
        return stem
    word = _AGO.sub(r"\1in", _MEN.sub("min", word))
    salt = _SALT.sub("at", word)
    if salt != word:
        return salt
    lower = _LOWER_SALT.sub("it", word)
    return lower if lower != word else _CASES.sub("", word)


def scanned(word: str) -> str:
    """Return a word with what scans confuse made equal: rn and m, l, 1 and i, long s and f, c and e, u and n.

    Parameters
    ----------
    word : str
        A folded word.

    Returns
    -------
    str
        The same for every confusion of that word.

    Examples
    --------
    >>> scanned("eamphor") == scanned("camphor"), scanned("fublimate") == scanned("sublimate")
    (True, True)
    """
    for two, one in _SCANNED:
        word = word.replace(two, one)
    return word.translate(_SCANNED_LETTERS)
