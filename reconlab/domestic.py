"""What did a spoon, a drop, a handful hold, and what did one egg weigh? Sizes no law or custom ever fixed.

A drop hangs on its liquid, a spoonful on its book, a handful and an egg on the thing: each is one `Spread`, with
the sources that speak for its place and year.
"""

from __future__ import annotations

from reconlab.materia import Published, Thing, bulk_density, density, drop, folded, spread_of, thing
from reconlab.reasons import Reason, Spread, Value
from reconlab.receipts import Setting
from reconlab.tables import CountedThing, DomesticMeasure, rows

COUNTED = ("piece", "lump", "sheet")  # units that count a thing; what one weighs hangs on what it is


def is_domestic(unit: str | None) -> bool:
    """Return whether a unit is a drop, a vessel, a hand or a count, which have a spread and no exact size.

    Parameters
    ----------
    unit : str or None
        Unit token of the reading.

    Returns
    -------
    bool
        Whether it is one on file.

    Examples
    --------
    >>> is_domestic("teaspoonful"), is_domestic("pint")
    (True, False)
    """
    return unit == "drop" or unit in COUNTED or any(row.measure == unit for row in rows(DomesticMeasure))


def size(unit: str | None, key: str, name: str, setting: Setting) -> Spread | None:
    """Return how much of a thing one drop, spoonful, handful or piece of it is.

    Parameters
    ----------
    unit : str or None
        Unit token of the reading.
    key : str
        Id of the substance or preparation; empty where nobody said what it is.
    name : str
        Its name in the receipt: of counted things the name finds the weight.
    setting : Setting
        When and where.

    Returns
    -------
    Spread or None
        In g or mL, as its ``unit`` says; None where no source on file speaks of such a thing.

    Examples
    --------
    >>> held = size("tablespoonful", "glycerin", "glycerine", Setting("1890", "England"))
    >>> held.usual > 14, held.unit
    (True, 'mL')
    >>> size("piece", "", "white of egg", Setting()).unit
    'g'
    """
    if unit == "drop":
        return drop(key, setting) if key else None
    if unit in COUNTED:
        return _piece(str(unit), name, setting)
    found = [row for row in rows(DomesticMeasure) if row.measure == unit and _fits(row, thing(key))]
    if not found:
        return None
    words = found[0].measure.replace("_", " ")
    asks = f"How much did a {words} {'weigh' if found[0].unit == 'g' else 'hold'}?"
    published = [_published(row, row.reason(f"{words}: {row.as_printed}")) for row in found]
    return spread_of(f"size: {words}", asks, f"a {words}", found[0].unit, published, setting)


def _fits(row: DomesticMeasure, what: Thing) -> bool:
    """Return whether a size is one of such a thing: a handful of leaves tells nothing of a handful of salt."""
    return not row.states or not what.on_file or what.state in row.states


def _piece(unit: str, name: str, setting: Setting) -> Spread | None:
    wanted = {folded(name)} if unit == "piece" else {f"{unit} of {folded(name)}"}
    found = [row for row in rows(CountedThing) if wanted & {folded(known) for known in row.names}]
    if not found:
        return None
    of = found[0].names[0]
    published = [_published(row, row.reason(f"{of}: {row.as_printed}")) for row in found]
    return spread_of(f"weight: one {of}", f"How heavy was one {of}?", f"one {of}", "g", published, setting)


def _published(row: DomesticMeasure | CountedThing, reason: Reason) -> Published:
    low = row.value if row.low is None else row.low
    high = row.value if row.high is None else row.high
    return Published(low, row.value, high, row.regions, row.from_year, row.to_year, reason)


def missing(unit: str) -> str:
    """Say that nothing on file tells how much one of a thing is.

    Parameters
    ----------
    unit : str
        Unit token of the reading.

    Returns
    -------
    str
        In a few words.

    Examples
    --------
    >>> missing("drop"), missing("handful")
    ('no drop of it is on file', 'no size of a handful of it on file')
    """
    if unit == "drop":
        return "no drop of it is on file"
    return f"no {'weight' if unit in COUNTED else 'size'} of a {unit.replace('_', ' ')} of it on file"


def lying(key: str) -> Value:
    """Return the density of a thing in a spoon: a solid lies there with air in it.

    Parameters
    ----------
    key : str
        Id of a substance or preparation.

    Returns
    -------
    Value
        Density [g/mL].

    Examples
    --------
    >>> lying("zinc_oxide").number < density("zinc_oxide").number
    True
    """
    return bulk_density(key) if thing(key).on_file and not thing(key).liquid else density(key)
