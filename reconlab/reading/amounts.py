"""Roman numerals as receipts print them, and which unit goes on the amount of which."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

_SHARP_S, _BETA = "\N{LATIN SMALL LETTER SHARP S}", "\N{GREEK SMALL LETTER BETA}"
_ROMAN = re.compile(rf"(?P<whole>[ivxlcj]*)(?P<half>ss|s{_SHARP_S}|{_SHARP_S}|{_BETA})?")
_ROMAN_VALUES = {"i": 1, "j": 1, "v": 5, "x": 10, "l": 50, "c": 100}
_SYSTEM_NAMED = re.compile(r"_(?:avdp|troy|imperial|wine|ale)$")
# A smaller unit behind a greater one is added to it; only the order matters here, the sizes are table rows.
_DESCENDING = (
    ("hundredweight", "quarter_weight", "stone", "pound", "ounce", "drachm", "scruple", "grain"),
    ("pound", "ounce", "pennyweight", "grain"),
    ("bushel", "peck", "gallon", "pottle", "quart", "pint", "gill", "fluid_ounce", "fluid_drachm", "fluid_scruple"),
    ("gallon", "pottle", "quart", "pint", "noggin", "fluid_ounce", "fluid_drachm", "fluid_scruple", "minim"),
    ("gallon", "quart", "pint", "gill", "fluid_ounce", "fluid_drachm", "minim"),
    ("gallon", "quart", "pint", "cupful", "gill", "wineglassful", "tablespoonful", "dessertspoonful", "teaspoonful"),
    ("gallon", "quart", "pint", "gill", "ounce", "drachm", "minim"),  # an ounce behind a pint is a fluid one
    ("gallon", "quart", "pint", "chopin", "mutchkin", "gill"),
    ("livre", "quarteron", "once", "gros", "scrupule", "grain"),
    ("livre", "marc", "once", "gros", "denier", "grain"),
    ("livre", "once", "drachme", "scrupule", "grain"),
    ("pinte", "chopine", "demi_setier", "poisson", "roquille"),
    ("libbra", "oncia", "dramma", "scrupolo", "grano"),
    ("libbra", "oncia", "dramma", "denaro", "grano"),
    ("pound", "onza", "dracma", "escrupulo", "grano"),
    ("pound", "cuarteron", "onza", "adarme", "tomin", "grano"),
    ("pound", "onca", "oitava", "escropulo", "grao"),
    ("arratel", "onca", "oitava", "escropulo", "grao"),
    ("pond", "ons", "drachme", "skrupel", "grein"),
    ("pond", "ons", "lood", "wigtje", "korrel"),
    ("pund", "lod", "kvintin", "ort"),
    ("pund", "kvint", "ort"),
    ("pund", "unse", "drakme", "skrupel", "grain"),
    ("skalpund", "lod", "kvintin"),
    ("skalpund", "ort", "korn"),
    ("pud", "funt", "lot_russia", "zolotnik", "dolya"),
    ("funt", "unciya", "drakhma", "skrupul", "gran_russia"),
    ("funt", "lut"),
    ("kanna", "stop", "kvarter", "jungfru"),
    ("pot", "paegl"),
    ("vedro", "shtof", "charka", "shkalik"),
    ("almude", "canada", "quartilho"),
    ("cantara", "azumbre", "cuartillo", "copa"),
    ("pfund", "loth", "quentchen"),
    ("pfund", "neuloth", "quint"),
    ("pfund", "unze", "drachme", "skrupel", "grain"),
    ("maass", "seidel", "pfiff"),
    ("maass", "schoppen"),
)


@lru_cache(maxsize=1 << 12)
def roman(text: str) -> Fraction | None:
    """Return the value of a Roman numeral as receipts print it, with a final j and ss for a half.

    Parameters
    ----------
    text : str
        Such as ``"iij"`` or ``"vijss"``.

    Returns
    -------
    fractions.Fraction or None
        The value [1]; None where the text is no numeral.

    Examples
    --------
    >>> roman("iij"), roman("ijss"), roman("iv"), roman("xl"), roman("oil")
    (Fraction(3, 1), Fraction(5, 2), Fraction(4, 1), Fraction(40, 1), None)
    """
    match = _ROMAN.fullmatch(text.lower())
    if not text or match is None:
        return None
    if re.search(r"l.*l|v.*v|c{4}|x{5}|i{6}", match["whole"].replace("j", "i")):  # "ll" is a scan's eleven
        return None
    values = [_ROMAN_VALUES[letter] for letter in match["whole"]]
    whole = sum(-value if value < max(values[i:]) else value for i, value in enumerate(values))
    return whole + (Fraction(1, 2) if match["half"] else Fraction(0))


def smaller(unit: str | None, than: str | None) -> bool:
    """Return whether a unit behind another goes on its amount: ounces behind pounds, of one kind of weight.

    Parameters
    ----------
    unit, than : str or None
        Unit tokens, which may end in the name of a system.

    Returns
    -------
    bool
        Whether the first is a smaller one of the same order.

    Examples
    --------
    >>> smaller("ounce", "pound"), smaller("pound", "ounce"), smaller("ounce", "pint")
    (True, False, True)
    """
    unit, than = (_SYSTEM_NAMED.sub("", str(u)) for u in (unit, than))
    return any(unit in order and than in order and order.index(unit) > order.index(than) for order in _DESCENDING)
