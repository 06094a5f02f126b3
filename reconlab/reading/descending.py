"""Amounts of several parts: "1 lb. 4 oz.", "a pint and two ounces". Which unit may follow which."""

from __future__ import annotations

import re
from functools import lru_cache

from reconlab.receipts import Quantity

_SYSTEM_NAMED = re.compile(r"_(?:avdp|troy|imperial|wine|ale)$")


# A smaller unit behind a greater one is added to it; only the order matters here, the sizes are table rows.
_DESCENDING = (
    ("ton", "hundredweight", "quarter_weight", "stone", "pound", "ounce", "drachm", "scruple", "grain"),
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


def compound(first: Quantity, behind: Quantity) -> Quantity | None:
    """Return two quantities as one, where the second goes on in smaller units of the same kind.

    Parameters
    ----------
    first, behind : Quantity
        As read one after the other.

    Returns
    -------
    Quantity or None
        None where they are no compound amount.

    Examples
    --------
    >>> from reconlab.reading.quantities import quantity_at
    >>> from reconlab.reading.tokens import tokens
    >>> pound, ounces = (quantity_at(tokens(text), 0).quantity for text in ("1 lb.", "4 oz."))
    >>> [part.unit for part in compound(pound, ounces).parts], compound(ounces, pound)
    (['pound', 'ounce'], None)
    """
    if goes_on(behind.parts[0].unit, first.parts[-1].unit):
        return Quantity((*first.parts, *behind.parts))
    return None


@lru_cache(maxsize=1 << 12)
def goes_on(unit: str | None, than: str | None) -> bool:
    """Return whether an amount in one unit may go on behind an amount in another, as ounces behind pounds.

    Parameters
    ----------
    unit, than : str or None
        The unit behind, and the unit before it.

    Returns
    -------
    bool
        Whether it is a smaller unit of the same kind.

    Examples
    --------
    >>> goes_on("ounce", "pound"), goes_on("pound", "ounce"), goes_on("pint", "pound")
    (True, False, False)
    """
    unit, than = (_SYSTEM_NAMED.sub("", str(u)) for u in (unit, than))
    return any(unit in order and than in order and order.index(unit) > order.index(than) for order in _DESCENDING)
