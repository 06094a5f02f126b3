"""How much is one of it? Sizes that spread, as published: the middle of what sources say, and its limits."""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from reconlab.materia.things import density, thing
from reconlab.reasons import Citation, Reason, Spread, figure
from reconlab.receipts import Setting
from reconlab.tables import Drop, rows

A_GENERATION = 30  # years within which a source is taken to speak for another book: common practice
_ALONE = 0.25  # how far a size may lie off where one figure alone is on file: common practice
_READ_IN = {"GB": "IE", "DE": "AT", "FR": "BE"}  # whose books another country used: common practice
_ANYWHERE = Setting()


@dataclass(frozen=True, slots=True)
class Published:
    """One published size: its limits, its middle, where and when it was printed, and the row that says so."""

    low: float
    usual: float
    high: float
    regions: tuple[str, ...]
    from_year: int | None
    to_year: int | None
    reason: Reason

    def speaks_for(self, setting: Setting) -> bool:
        """Return whether it was printed in that country within a generation; undated, it speaks for no year."""
        if setting.span is None or not setting.region or self.from_year is None or self.to_year is None:
            return False
        first, last = self.from_year - A_GENERATION, self.to_year + A_GENERATION
        return of_country(self.regions, setting) and setting.within((), first, last)

    def years_from(self, setting: Setting) -> int:
        """Return how many years lie between it and a setting: none where they meet."""
        if setting.span is None or self.from_year is None or self.to_year is None:
            return 0
        return max(self.from_year - setting.span[1], setting.span[0] - self.to_year, 0)


def of_country(regions: tuple[str, ...], setting: Setting) -> bool:
    """Return whether a size was printed for the country of a setting: Britain's books speak for Ireland too.

    So do Germany's for Austria, France's for Belgium: they were read and copied there.

    Parameters
    ----------
    regions : tuple of str
        Where the size was printed; empty where it is not told.
    setting : Setting
        When and where.

    Returns
    -------
    bool
        Whatever the years.

    Examples
    --------
    >>> of_country(("GB",), Setting("1880", "Dublin")), of_country(("IE",), Setting("1880", "London"))
    (True, False)
    """
    return setting.within((*regions, *(_READ_IN[region] for region in regions if region in _READ_IN)), None, None)


def spread_of(
    key: str, asks: str, of: str, unit: str, found: Sequence[Published], *, setting: Setting, all_limits: bool = False
) -> Spread:
    """Return what sources make of a size: the middle and the limits of those that speak for a place and year.

    Parameters
    ----------
    key, asks : str
        Key and question of the spread.
    of : str
        What it is a size of, such as ``a teaspoonful``.
    unit : str
        ``"g"`` or ``"mL"``.
    found : sequence of Published
        Every size on file [g or mL], at least one. Where those that speak agree to the last digit, the limits are
        those of their country at any time, or else of all; of one figure alone, a quarter either way.
    setting : Setting
        When and where; if it is not known, or no source speaks for it, all of them do.
    all_limits : bool
        Whether every source gives the limits, because place and year do not tell them.

    Returns
    -------
    Spread
        The middle [g or mL] is the median of those nearest in time.

    Examples
    --------
    >>> one = Published(3.5, 3.55, 3.6, ("GB",), 1910, 1910, Reason("a book of 1910"))
    >>> spread_of("size: spoon", "How big?", "a spoon", "mL", [one], setting=Setting("1900", "England")).usual
    3.55
    """
    here = [one for one in found if one.speaks_for(setting)]
    country = [one for one in found if setting.region and one.regions and of_country(one.regions, setting)]
    middle = _nearest(here, setting) or ([] if all_limits else country)
    usual = statistics.median(one.usual for one in middle or found)
    within, which = (found, _ALL_DROPPERS) if all_limits else _limiting(here, found, setting)
    low, high = min(one.low for one in within), max(one.high for one in within)
    because = tuple(one.reason for one in within)
    if low == high:  # no household thing is as sure as one printed figure
        low, high, which = low * (1 - _ALONE), high * (1 + _ALONE), ", a quarter either way of the one figure on file"
        because = (*because, Reason("taken a quarter either way", (Citation("common_practice"),)))
    count = f"{len(middle or found)} source{'s' if len(middle or found) > 1 else ''}"
    nearest = " nearest in time" if len(middle) < len(here) else ""
    taken = _which(setting, spoken=bool(here), country=bool(middle))
    says = f"{of}: {figure(usual)} {unit}, the middle of {count}{nearest}; {taken}"
    says += f"; from {figure(low)} to {figure(high)} {unit}{which}"
    return Spread(key, asks, usual, low, high, unit, Reason(says, (), because))


def _nearest(here: Sequence[Published], setting: Setting) -> Sequence[Published]:
    least = min((one.years_from(setting) for one in here), default=0)
    return [one for one in here if one.years_from(setting) == least]


_ALL_DROPPERS = " with every dropper on file"


def _limiting(
    here: Sequence[Published], found: Sequence[Published], setting: Setting
) -> tuple[Sequence[Published], str]:
    """Return the sources that give the limits, and a word on them: books that agree have measured no spoon."""
    country = [one for one in found if here and of_country(one.regions, setting)]
    for some, which in ((here, ""), (country, " in that country at any time, since these agree")):
        if len({figure for one in some for figure in (one.low, one.high)}) > 1:
            return some, which
    return found, " in all on file, since these agree" if here else ""


def _which(setting: Setting, *, spoken: bool, country: bool) -> str:
    """Say which sources were taken, and why."""
    if spoken:
        return f"printed there within {A_GENERATION} years"
    if setting.span is None or not setting.region:
        return "year or place is not given, so all on file are taken"
    if country:
        return "no source on file speaks for that year: the middle is the country's, the limits are those of all"
    return "no source on file speaks for this place and year, so all are taken"


def drop(key: str, setting: Setting = _ANYWHERE) -> Spread | None:
    """Return the weight of one drop of a thing: the middle of what was weighed, and its limits.

    A single weighing of its own does not make a drop certain: the limits are those of its class too, and of all
    droppers, since place and year do not tell which was used.

    Parameters
    ----------
    key : str
        Id of a substance or preparation.
    setting : Setting
        When and where: weighings made there and then give the middle, if there are any.

    Returns
    -------
    Spread or None
        Mass of one drop [g]; None where no source speaks for it, its class or any liquid.

    Examples
    --------
    >>> drop("bergamot_oil").unit
    'g'
    """
    what = thing(key)
    own = _drops(key, key) or _drops(f"made:{key.partition(': ')[2]}", key)
    if what.on_file and not what.liquid and not own:
        return None  # a powder does not drop, whatever others of its class do
    class_ = "alcohol" if _spirituous(what.name) else what.class_
    of_class = _drops(f"class:{class_}", key)
    found = [*own, *of_class] or (_drops("any", key) if what.liquid or not what.on_file else [])
    if not found:
        return None
    of = what.name if own else f"a {class_}" if of_class else "any liquid"
    name = f"drop: {what.name}"
    asks = f"How heavy was a drop of {what.name}?"
    spread = spread_of(name, asks, f"a drop of {of}", "g", found, setting=setting, all_limits=True)
    if not own:
        return spread
    usual = spread_of(name, asks, "", "g", own, setting=setting).usual
    return Spread(name, asks, usual, spread.low, spread.high, "g", spread.reason)


def _spirituous(name: str) -> bool:
    """Return whether a thing is a tincture or spirit by its name: it drops like alcohol, whatever is in it."""
    first, _, of = name.lower().removesuffix(_UNMADE).partition(" ")
    return first in _TINCTURES and "ammonia" not in of


_UNMADE = " (formula not on file)"
_TINCTURES = ("tincture", "tinctura", "tinct", "tr", "tinktur", "teinture", "spirit", "spiritus", "laudanum")


def _drops(liquid: str, key: str) -> list[Published]:
    """Return what each dropper or vessel made of a liquid: many liquids out of one dropper are one source."""
    by_method: dict[str, list[tuple[float, Drop, Reason]]] = {}
    for row in rows(Drop):
        if liquid in row.liquid.split("|"):
            by_method.setdefault(row.method, []).append(_one_drop(row, key))
    return [_of_method(method, drops) for method, drops in by_method.items()]


def _of_method(method: str, drops: Sequence[tuple[float, Drop, Reason]]) -> Published:
    weights, (_, first, why) = [weight for weight, *_ in drops], drops[0]
    if len(drops) > 1:
        why = Reason(f"{method}: {len(drops)} liquids", (), tuple(reason for *_, reason in drops))
    middle = statistics.median(weights)
    return Published(min(weights), middle, max(weights), first.regions, first.from_year, first.to_year, why)


def _one_drop(row: Drop, key: str) -> tuple[float, Drop, Reason]:
    """Return the weight of a drop of a thing [g] by one row: weighed, or measured and then as dense as the thing."""
    if row.drop_mg is not None:
        why = row.reason(f"{row.method}: {row.as_printed}, {row.drop_mg:g} mg")
        return row.drop_mg / 1000, row, why
    dense, volume = density(key), row.drop_ul or 0.0
    why = row.reason(f"{row.method}: {row.as_printed}, {volume:g} uL", dense.reason)
    return volume * dense.number / 1000, row, why
