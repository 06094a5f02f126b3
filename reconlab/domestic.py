"""What did a spoon, a drop, a handful hold, and what did one egg weigh? Sizes no law or custom ever fixed.

A drop hangs on its liquid, a spoonful on its book, a handful and an egg on the thing: each is one `Spread`, with
the sources that speak for its place and year.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from reconlab.materia import Published, Thing, bulk_density, density, drop, folded, of_country, spread_of, thing
from reconlab.reasons import Reason, Spread
from reconlab.receipts import Measured, Setting
from reconlab.tables import CountedThing, DomesticMeasure, rows

_PLANT = "plant part"  # leaves, flowers and roots, as a hand takes them
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
    return unit == "drop" or unit in COUNTED or unit in _measures()


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
    found = _own(str(unit), key, setting)
    if not found and (smaller := _as_the_greater(str(unit), key, name, setting)) is not None:
        return smaller
    found = found or _of_such(thing(key), [row for row in _measures().get(str(unit), ()) if not row.of])
    if not found:
        return None
    words = found[0].measure.replace("_", " ")
    verb = "weigh" if found[0].unit == "g" else "hold"
    asks = f"How big was the {words[8:]}?" if words.startswith("size of") else f"How much did a {words} {verb}?"
    published = [_published(row, row.reason(f"{words}: {row.as_printed}")) for row in found]
    state = " of leaves or flowers" if _PLANT in found[0].states else " of a powder" if found[0].states else ""
    of = f"a {words}{state}"
    of = f"{of} of {thing(key).name}" if found[0].of else of
    key_words = f"{words} of leaves" if _of_plants_apart(found[0]) else words
    return spread_of(f"size: {key_words}", asks, of, found[0].unit, published, setting=setting)


def _of_plants_apart(row: DomesticMeasure) -> bool:
    """Return whether this size is one of leaves and flowers, and all else has another: a pinch, not a handful."""
    return _PLANT in row.states and any(_PLANT not in other.states for other in _measures()[row.measure])


def _own(unit: str, key: str, setting: Setting) -> list[DomesticMeasure]:
    """Return what books of the country say of a spoonful of the thing itself, heaped or level as they filled it."""
    found = [row for row in _measures().get(unit, ()) if key in row.of]
    return [row for row in found if of_country(row.regions, setting)]


_GREATER = {
    "teaspoonful": "tablespoonful",
    "dessertspoonful": "tablespoonful",
    "heaped_teaspoonful": "heaped_tablespoonful",
    "heaped_dessertspoonful": "heaped_tablespoonful",
}


def _as_the_greater(unit: str, key: str, name: str, setting: Setting) -> Spread | None:
    """Return a smaller spoonful of a thing whose tablespoonful was weighed there: filled alike, it holds its share."""
    greater = _GREATER.get(unit, "")
    if not _own(greater, key, setting):
        return None
    whole, plain = size(greater, key, name, setting), unit.removeprefix("heaped_")
    holds, of_whole = size(plain, "", "", setting), size("tablespoonful", "", "", setting)
    if whole is None or holds is None or of_whole is None:
        return None
    share = holds.usual / of_whole.usual
    words = unit.replace("_", " ")
    says = f"a {words} of {thing(key).name}: {share:.2g} of what a {greater.replace('_', ' ')} of it weighed there"
    because = Reason(says, (), (whole.reason, holds.reason, of_whole.reason))
    asks = f"How much did a {words} weigh?"
    return Spread(f"size: {words}", asks, whole.usual * share, whole.low * share, whole.high * share, "g", because)


@cache
def _measures() -> Mapping[str, Sequence[DomesticMeasure]]:
    found: dict[str, list[DomesticMeasure]] = {}
    for row in rows(DomesticMeasure):
        found.setdefault(row.measure, []).append(row)
    return found


def _of_such(what: Thing, sizes: list[DomesticMeasure]) -> list[DomesticMeasure]:
    """Return the sizes that tell of such a thing: a pinch of leaves is more than the pinch of all else, of salt."""
    found = [row for row in sizes if _fits(row, what)]
    of_plants = [row for row in found if _PLANT in row.states]
    others = [row for row in found if _PLANT not in row.states]
    return of_plants if what.state == _PLANT and of_plants else others or found


def _fits(row: DomesticMeasure, what: Thing) -> bool:
    """Return whether a size is one of such a thing: a handful of leaves tells nothing of a handful of salt."""
    return not row.states or not what.on_file or what.state in row.states


def _piece(unit: str, name: str, setting: Setting) -> Spread | None:
    called = _called(name if unit == "piece" else f"{unit} of {name}")
    if not called:
        return None
    found = [row for row in rows(CountedThing) if called in row.names]
    of = found[0].names[0]
    published = [_published(row, row.reason(f"{of}: {row.as_printed}")) for row in found]
    return spread_of(f"weight: one {of}", f"How heavy was each {of}?", f"one {of}", "g", published, setting=setting)


def _called(name: str) -> str:
    """Return the name on file that a printed name comes to, words of size and age left out: "a large fresh lemon"."""
    words = folded(name).split()
    found = [known for row in rows(CountedThing) for known in row.names if _comes_to(words, folded(known).split())]
    return max(found, key=len, default="")


def _comes_to(words: list[str], known: list[str]) -> bool:
    rest = iter(words)
    in_order = all(word in rest for word in known)
    return in_order and words[-1:] == known[-1:] and ("of" in known or "of" not in words)


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


Figures = tuple[float | None, float | None, float | None]  # usual; low and high, which a point has not
_NONE: Figures = (None, None, None)


@dataclass(frozen=True, slots=True)
class Held:
    """What some drops, spoonfuls or pieces come to, in g and in mL, and why."""

    mass_g: Figures
    volume_ml: Figures
    reason: Reason


def held(part: Measured, key: str, setting: Setting) -> Held | None:
    """Return what a printed amount in a domestic unit comes to.

    Parameters
    ----------
    part : Measured
        Number and unit.
    key : str
        Id of the substance or preparation; empty where nobody said what it is.
    setting : Setting
        When and where.

    Returns
    -------
    Held or None
        Masses [g] and volumes [mL]; None where the unit is no domestic one, or no source speaks of such a thing.

    Examples
    --------
    >>> from reconlab.receipts import Amount
    >>> two = Measured(Amount(2, 2, 2, "2 tablespoonfuls"), "tablespoonful")
    >>> [round(figure, 1) for figure in held(two, "glycerin", Setting("1890", "England")).volume_ml]
    [28.4, 28.0, 30.0]
    """
    said = part.amount
    one = size(part.unit, key, thing(key).name, setting)
    if one is None or said.value is None or said.low is None or said.high is None:
        return None
    each = (one.usual * said.value, one.low * said.low, one.high * said.high)
    says = f"{said.printed!r} is {said.value:g} {str(part.unit).replace('_', ' ')}"
    if one.unit == "g":
        return Held(_with_limits(*each), _NONE, Reason(says, (), (one.reason,)))
    if not key:
        return Held(_NONE, _with_limits(*each), Reason(says, (), (one.reason,)))
    dense = bulk_density(key) if thing(key).on_file and not thing(key).liquid else density(key)
    mass = (each[0] * dense.number, each[1] * dense.low, each[2] * dense.high)
    return Held(_with_limits(*mass), _with_limits(*each), Reason(says, (), (one.reason, dense.reason)))


def _with_limits(usual: float, low: float, high: float) -> Figures:
    return (usual, low, high) if low < high else (usual, None, None)
