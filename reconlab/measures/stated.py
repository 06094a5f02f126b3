"""What an author says one of his units is: "a teaspoonful = 1 fluid drachm", "l'once de 32 grammes".

Such a figure is exact for his book. A vessel is followed through all he says to a unit whose size is known; a unit of
law has his size only where no custom of his place and time has it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from reconlab.domestic import is_domestic
from reconlab.measures.customs import custom_question, own_claims
from reconlab.measures.own_rule import defined_unit, unit_of_system
from reconlab.measures.said_of import check_substances, is_such, kind_said, substance_said
from reconlab.measures.sizes import FLUID, kinds_of, metric, size
from reconlab.reading.rules import BY_WEIGHT, Claim
from reconlab.receipts import Setting
from reconlab.tables import Measure

# The vessel that keeps its size on file where an author only says how vessels go into one another.
_FIRST = ("teaspoonful", "tablespoonful", "wineglassful", "teacupful", "cupful", "dessertspoonful", "spoonful")

_GOODS = ("ton", "hundredweight", "quarter_weight", "stone", "bushel", "peck")  # bulk goods went by avoirdupois
_WEIGHED = ("handful", "pugil", "fascicle", "pinch")  # hands, not vessels: their ounces are weights


@dataclass(frozen=True, slots=True)
class Stated:
    """So many of a unit that make one of the author's."""

    factor: Fraction
    unit: str
    said: tuple[Claim, ...]
    substance: str = ""  # id of the thing it holds so much of: its room is told by that thing's density
    weighed: bool = False  # its ounces are weights

    @property
    def words(self) -> str:
        """What the author says, as read."""
        return "; ".join(map(str, self.said))


@lru_cache(maxsize=4096)
def stated(unit: str, written: str, setting: Setting, key: str) -> Stated | None:
    """Return what the author says one of a unit is.

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
    Stated or None
        None where he does not say it, or only what a custom has.

    Raises
    ------
    InputError
        If the rule cannot be read.

    Examples
    --------
    >>> found = stated("tablespoonful", "word", Setting(rule="4 tablespoonfuls = 1 wineglass = half a gill"), "")
    >>> found.factor, found.unit
    (Fraction(1, 8), 'gill')
    """
    claims = own_claims(setting)
    if not claims or metric(unit):
        return None
    check_substances(setting.rule)
    for claim in claims:
        if claim.system and claim.unit == unit and (claim.written == "sign") <= (written == "sign"):
            return Stated(Fraction(1), unit_of_system(claim), (claim,))
    return _of_substance(unit, claims, key) or _through(unit, claims, setting) or _part_of(unit, claims, setting)


def not_said_of(unit: str, setting: Setting, key: str) -> str:
    """Say that the author sizes a unit only for other things than this one.

    Parameters
    ----------
    unit : str
        Unit token.
    setting : Setting
        When and where, with the author's rule.
    key : str
        Id of the substance; empty where none is named.

    Returns
    -------
    str
        In words; empty where he sizes it for this thing, or not at all.

    Examples
    --------
    >>> not_said_of("spoonful", Setting(rule="a spoonful of syrups is half an ounce"), "talc")
    "the author's rule speaks of a spoonful of syrups only, so his figure is not used"
    """
    of = [claim.substance for claim in own_claims(setting) if claim.unit == unit and claim.substance]
    if not of or stated(unit, "word", setting, key):
        return ""
    return (
        f"the author's rule speaks of a {unit.replace('_', ' ')} of {' and '.join(of)} only, so his figure is not used"
    )


def _is_vessel(unit: str) -> bool:
    """Return whether no law or custom sizes a unit: a spoon, a glass, a hand, a drop."""
    return is_domestic(unit) or not (kinds_of(unit) or metric(unit))


def _of_substance(unit: str, claims: Sequence[Claim], key: str) -> Stated | None:
    """Return what it holds of this thing, or of such; what it holds of water tells its room for anything."""
    own = [claim for claim in claims if claim.substance and claim.unit == unit]
    fits = [c for c in own if key and not kind_said(c.substance) and substance_said(c.substance) == key]
    fits += [claim for claim in own if key and kind_said(claim.substance) and is_such(kind_said(claim.substance), key)]
    if fits:
        claim = fits[0]
        return Stated(claim.count, claim.of, (claim,), weighed=claim.of in FLUID)
    by_water = [claim for claim in own if not kind_said(claim.substance) and substance_said(claim.substance) == "water"]
    if not by_water:
        return None
    return Stated(by_water[0].count, by_water[0].of, (by_water[0],), "water", weighed=True)


def _through(unit: str, claims: Sequence[Claim], setting: Setting) -> Stated | None:
    """Follow equal amounts to a unit whose size is known."""
    equal = [claim for claim in claims if claim.count and not claim.substance]
    if not _is_vessel(unit) and unit not in set(map(defined_unit, equal)):
        return None
    joined: dict[str, Stated] = {unit: Stated(Fraction(1), unit, ())}
    waiting = [unit]
    for now in waiting:  # grows as it goes
        for claim in equal:
            for step in _steps(claim, now):
                if step.unit in joined:
                    continue
                so_far = joined[now]
                said = (*so_far.said, claim)
                weighed = so_far.weighed or claim.how == BY_WEIGHT
                found = Stated(so_far.factor * step.factor, step.unit, said, weighed=weighed)
                fluid = FLUID.get(step.unit) if _holds(unit) and not weighed else None  # its ounces are fluid ones
                if _is_known(fluid or step.unit, equal):
                    return _of_system(_measured(found, unit, setting), claims)
                joined[step.unit] = found
                waiting.append(step.unit)
    first = next((own for own in _FIRST if own in joined), "")
    return joined[first] if first not in ("", unit) else None


def _of_system(found: Stated, claims: Sequence[Claim]) -> Stated:
    """Take the last unit as the author's, where he names its system: his ounce is a troy one."""
    of = next((claim for claim in claims if claim.system and claim.unit == found.unit), None)
    return replace(found, unit=unit_of_system(of), said=(*found.said, of)) if of else found


def _steps(claim: Claim, unit: str) -> Iterator[Stated]:
    if claim.unit == unit and (_is_vessel(unit) or defined_unit(claim) == unit or _is_vessel(claim.of)):
        yield Stated(claim.count, claim.of, (claim,))
    if claim.of == unit and (_is_vessel(unit) or defined_unit(claim) == unit):
        yield Stated(1 / claim.count, claim.unit, (claim,))


def _is_known(unit: str, equal: Iterable[Claim]) -> bool:
    """Return whether a unit has its size without these claims."""
    return metric(unit) or (not _is_vessel(unit) and all(defined_unit(c) != unit or _is_vessel(c.of) for c in equal))


def _holds(unit: str) -> bool:
    """Return whether a unit is a vessel: not a weight, and no hand."""
    return (_is_vessel(unit) and unit not in _WEIGHED) or kinds_of(unit) == {"volume"}


def _measured(found: Stated, unit: str, setting: Setting) -> Stated:
    """Take the ounces and drachms of a vessel as fluid ones, where the book has such."""
    fluid = FLUID.get(found.unit)
    if found.unit == "pound" and unit in _GOODS:
        return Stated(found.factor, "pound_avdp", found.said)
    if _holds(unit) and unit != "drop" and metric(found.unit) and kinds_of(found.unit) == {"mass"}:
        return Stated(found.factor, found.unit, found.said, "water", weighed=True)  # as much water as it holds
    vessel = _is_vessel(unit) or kinds_of(unit) == {"volume"}
    if not _holds(unit) or not fluid or found.weighed:
        return Stated(found.factor, found.unit, found.said, weighed=found.weighed or (vessel and bool(fluid)))
    has = any(size(fluid, "word", option.key) for option in custom_question("measures", setting).options)
    return Stated(found.factor, fluid, found.said) if has else found


def _part_of(unit: str, claims: Sequence[Claim], setting: Setting) -> Stated | None:
    """Return a unit that goes a whole number of times into one the author has sized: his drachm is an eighth of it."""
    if _is_vessel(unit) or unit == "grain":
        return None
    options = (*custom_question("weights", setting).options, *custom_question("measures", setting).options)
    for whole in dict.fromkeys(defined_unit(claim) for claim in claims if claim.count and not claim.substance):
        own = None if _is_vessel(whole) else _through(whole, claims, setting)
        for option in options if own else ():
            great, small, known = (size(token, "word", option.key) for token in (whole, unit, own.unit if own else ""))
            if great and small and own:  # the surest custom that has both
                fits = _goes_into(small, great) and (metric(own.unit) or _above(small, known))
                return Stated(own.factor * small.size / great.size, own.unit, own.said) if fits else None
    return None


def _goes_into(small: Measure, great: Measure) -> bool:
    times = great.size / small.size
    return small.kind == great.kind and times > 1 and times.denominator == 1


def _above(small: Measure, known: Measure | None) -> bool:
    return known is not None and known.kind == small.kind and small.size > known.size
