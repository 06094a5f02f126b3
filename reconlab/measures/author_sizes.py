"""The size of a unit that the author himself gives, as a receipt or a card takes it."""

from __future__ import annotations

from reconlab.domestic import is_domestic
from reconlab.domestic import size as usual_size
from reconlab.measures.readings import Sized, place_of_chosen, readings
from reconlab.measures.sizes import kinds_of
from reconlab.measures.stated import Stated, stated
from reconlab.reasons import Spread
from reconlab.receipts import Measured, Setting


def stated_spread(unit: str, written: str, setting: Setting, key: str) -> Spread | None:
    """Return the size of a unit that the author himself gives.

    Parameters
    ----------
    unit, written : str
        Unit token, and how it was printed.
    setting : Setting
        When and where, with the author's rule.
    key : str
        Id of the substance; empty where none is named.

    Returns
    -------
    Spread or None
        In g or mL, as its ``unit`` says, with what else it may be; None where he does not give it.

    Examples
    --------
    >>> found = stated_spread("teaspoonful", "word", Setting("1890", "England", rule="a teaspoonful = 5 cc"), "")
    >>> found.usual, found.unit
    (5.0, 'mL')
    """
    said = stated(unit, written, setting, key)
    if said is None:
        return None
    found = readings(((unit, written),), setting, key)
    first = found[place_of_chosen([reading.standing for reading in found]) or 0]
    kind = "mL" if _room(first.sized[0], said) else "g"
    sizes = [_room(r.sized[0], said) or r.sized[0].g for r in found if r.standing != "unlikely" or r is first]
    figures = [size for size in sizes if size is not None]
    usual = (_room(first.sized[0], said) or first.sized[0].g or (0.0,))[0]
    words = unit.replace("_", " ")
    low, high = min(size[1] for size in figures), max(size[2] for size in figures)
    asks = f"How much was the author's {words}?"
    return Spread(f"size: {words}", asks, usual, low, high, kind, first.sized[0].reason)


def size_here(part: Measured, setting: Setting, key: str, name: str) -> Spread | None:
    """Return the author's own size of a unit, or how much a drop, spoonful, handful or piece of a thing usually is.

    Parameters
    ----------
    part : Measured
        An amount in that unit.
    setting : Setting
        When and where, with the author's rule.
    key : str
        Id of the substance; empty where none is named.
    name : str
        Its name in the receipt.

    Returns
    -------
    Spread or None
        In g or mL, as its ``unit`` says; None where a custom gives the size, or nobody.

    Examples
    --------
    >>> from reconlab.receipts import Amount
    >>> spoon = Measured(Amount(1, 1, 1, "1 teaspoonful"), "teaspoonful")
    >>> size_here(spoon, Setting("1890", "England"), "glycerin", "glycerine").unit
    'mL'
    """
    by_author = stated_spread(str(part.unit), part.written, setting, key)
    return by_author or usual_size(part.unit, key, name, setting)


def _room(one: Sized, said: Stated) -> tuple[float, float, float] | None:
    """Return what a size holds; of one told by a weight of this thing nothing."""
    measured = said.substance or "volume" in kinds_of(said.unit) or is_domestic(said.unit)
    return one.ml if measured else None
