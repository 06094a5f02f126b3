"""Which customs keep what an author says of his own weights and measures."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

from reconlab.domestic import is_domestic
from reconlab.errors import InputError
from reconlab.measures.said_of import check_substances
from reconlab.measures.sizes import ANY, FLUID, measures_of, metric, size
from reconlab.reading.rules import (
    ALL,
    BY_MEASURE,
    BY_WEIGHT,
    LIQUIDS,
    MEASURES,
    PARTS,
    SIGNS,
    WEIGHTS,
    Claim,
    read_rule,
)
from reconlab.tables import Custom, CustomUnit, Measure, Notation, by_id, rows

_SHORT = {"avoirdupois": "avdp", "apothecaries": "troy"}
_SAME = 0.002  # as printed, "54.7 grains" is 0.02 % off
# The units whose size tells one custom of a question from another.
_TELLING = {"weights": ("ounce", "pound"), "measures": ("pint", "fluid_ounce")}


@dataclass(frozen=True, slots=True)
class Kept:
    """The customs of one question that keep a rule, those it names by their own label, and what none of them has."""

    customs: tuple[str, ...]
    named: frozenset[str]
    own: frozenset[Claim]  # sizes and systems of single units that are the author's alone


@lru_cache(maxsize=1024)
def kept_by_rule(rule: str, which: str, near: tuple[str, ...] = ()) -> Kept | None:
    """Return the customs that agree with what an author says of his weights, or of his measures.

    A system he names may be of anywhere; of a mere figure ("the pound of 16 ounces") the customs near by are asked
    first, then those of English books; a figure that none of them has is the author's own.

    Parameters
    ----------
    rule : str
        The author's words.
    which : str
        ``"weights"`` or ``"measures"``.
    near : tuple of str
        The customs of the book's place and time; empty for all on file.

    Returns
    -------
    Kept or None
        None where the rule says nothing of them.

    Raises
    ------
    InputError
        If the rule cannot be read, or no custom on file keeps it.

    Examples
    --------
    >>> "apothecaries" in kept_by_rule("oz. and lb. are avoirdupois, dr. and gr. troy", "weights").customs
    False
    >>> kept_by_rule("all weights troy", "measures") is None
    True
    >>> [str(claim) for claim in kept_by_rule("the pint is of 17 ounces", "measures", ("wine", "imperial")).own]
    ['pint: 17 ounce']
    """
    customs = _customs(which)
    verdicts = {custom: _verdicts(rule, custom, which) for custom in customs}
    about = [claim for claim in read_rule(rule) if any(found[claim] is not None for found in verdicts.values())]
    if not about:
        return None
    # A custom without the unit does not keep a rule about it.
    named = [claim for claim in about if not claim.count]
    kept = [custom for custom, found in verdicts.items() if all(found[claim] for claim in named)]
    own: set[Claim] = set()
    if not kept:
        kept, own = _most(named, near or customs, verdicts)
        if not all(unit_of_system(claim) for claim in own):
            raise _broken(rule, about, verdicts)
    offered = [custom for custom in kept if custom in near] or (kept if named or not near else list(near))
    figures = [claim for claim in about if claim.count]
    english = [] if named else [custom for custom in kept if _is_english((custom, *near))]
    whole = [[c for c in some if all(verdicts[c][claim] for claim in figures)] for some in (offered, english)]
    if any(whole):  # one custom that keeps every figure is surer than parts of several
        offered, figures = next(filter(None, whole)), []
    for claim in figures:
        keep = [custom for custom in offered if verdicts[custom][claim]]
        offered, own = (keep, own) if keep else (offered, own | {claim})
    while moved := {claim for claim in about if claim.count and claim.of in set(map(defined_unit, own))} - own:
        own |= moved  # a pound of his own ounces is his own
    words = {claim.system for claim in read_rule(rule) if not claim.unit and claim.group != SIGNS}
    called = {row.custom for row in rows(Custom) if words & {row.custom, row.label.lower()}}
    return Kept(tuple(offered), frozenset(called & set(offered)), frozenset(own))


def defined_unit(claim: Claim) -> str:
    """Return the unit of law whose size a claim tells: the greater, unless it is said to be divided.

    Parameters
    ----------
    claim : Claim
        So many of one unit in another.

    Returns
    -------
    str
        Unit token.

    Examples
    --------
    >>> defined_unit(read_rule("the ounce is divided into eight drachms")[0])
    'drachm'
    """
    return claim.of if claim.count and ((claim.divided and not metric(claim.of)) or metric(claim.unit)) else claim.unit


@cache
def _customs(which: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(row.custom for row in rows(Custom) if row.question == which))


def _most(
    claims: Sequence[Claim], near: Sequence[str], verdicts: Mapping[str, Mapping[Claim, bool | None]]
) -> tuple[list[str], set[Claim]]:
    """Return the customs near by that keep most of what is said, and the rest of it."""
    broken = {custom: {claim for claim in claims if not verdicts[custom][claim]} for custom in near}
    least = min(broken.values(), key=len)
    return [custom for custom, lost in broken.items() if lost == least], least


def _is_english(customs: Sequence[str]) -> bool:
    """Return whether customs are all of those an English book of unknown place may keep."""
    english = {row.custom for row in rows(Custom) if row.unplaced == "yes"}
    return english.issuperset(customs)


def unit_of_system(claim: Claim) -> str:
    """Return the unit that is the same under every custom which a claim of a single unit names: a troy ounce.

    Parameters
    ----------
    claim : Claim
        Of one unit and a system.

    Returns
    -------
    str
        Unit token; empty where there is none on file.

    Examples
    --------
    >>> unit_of_system(read_rule("drachms avoirdupois")[0])
    'drachm_avdp'
    """
    token = f"{claim.unit}_{_SHORT.get(claim.system, claim.system)}"
    return token if claim.unit and any(row.custom == ANY and row.unit == token for row in rows(CustomUnit)) else ""


def how_by_rule(rule: str, group: str) -> str:
    """Return whether an author says that his liquids, or his parts, go by weight or by measure.

    Parameters
    ----------
    rule : str
        The author's words.
    group : str
        ``"liquids"``, ``"parts"`` or ``"everything"``.

    Returns
    -------
    str
        ``"by weight"``, ``"by measure"``, or nothing where he does not say.

    Raises
    ------
    InputError
        If the rule cannot be read, or says both.

    Examples
    --------
    >>> how_by_rule("parts by weight", "parts"), how_by_rule("all weights troy", "liquids")
    ('by weight', '')
    """
    said = {claim.how for claim in read_rule(rule) if claim.how and claim.group == group}
    if len(said) > 1:
        raise InputError(f"the author's rule {rule!r} says two things of {group}", "rule", "Leave one of them out.")
    return said.pop() if said else ""


def how_of_units(rule: str, units: Collection[str]) -> str:
    """Return whether an author says that his ounces or drachms go by weight or by measure, those of liquids too.

    Parameters
    ----------
    rule : str
        The author's words.
    units : collection of str
        Unit tokens of one quantity.

    Returns
    -------
    str
        ``"by weight"``, ``"by measure"``, or nothing where he does not say. All ounces of a system that only weighs
        are weighed.

    Raises
    ------
    InputError
        If the rule cannot be read, or says both.

    Examples
    --------
    >>> how_of_units("all ounces are by weight, avoirdupois", ["ounce"]), how_of_units("ounces troy", ["ounce"])
    ('by weight', '')
    """
    own = [claim for claim in read_rule(rule) if claim.unit in units and claim.unit in FLUID]
    said = {claim.how for claim in own if claim.how and not claim.count}
    said |= {BY_WEIGHT for claim in own if claim.every and claim.system and _only_weighs(claim)}
    if len(said) > 1:
        raise InputError(f"the author's rule {rule!r} says two things of one unit", "rule", "Leave one of them out.")
    return said.pop() if said else ""


def _only_weighs(claim: Claim) -> bool:
    found = (_measures_in(unit, claim.written, claim.system) for unit in (claim.unit, FLUID[claim.unit]))
    return {by_id(Measure)[key].kind for keys in found for key in keys} == {"mass"}


def check_rule(rule: str) -> None:
    """Refuse a rule that cannot be read, that no custom keeps, or that says nothing the tables can use.

    Parameters
    ----------
    rule : str
        The author's words; empty where he says nothing.

    Raises
    ------
    InputError
        With what was read and what is near.

    Examples
    --------
    >>> check_rule("fluid ounces imperial")
    """
    _refuse_two_sizes(rule)
    check_substances(rule)
    used = [kept_by_rule(rule, which) for which in ("weights", "measures")]
    how = [how_by_rule(rule, group) for group in (LIQUIDS, PARTS, ALL)]
    unused = [c for c in read_rule(rule) if not c.how and not c.count and not _about_anything(c)]
    if unused:
        said = "; ".join(map(str, unused))
        raise InputError(
            f"nothing on file fits the author's rule, read as {said}", "rule", "Name a unit and a system on file."
        )
    solids = [c for c in read_rule(rule) if c.group == "solids" and c.how == BY_MEASURE]
    if solids or (rule.strip() and not any(used) and not any(how) and not _sizes_or_solids(rule)):
        raise InputError(
            f"{rule!r} settles nothing the library asks", "rule", "Say whose weights or measures they are."
        )


def _refuse_two_sizes(rule: str) -> None:
    """Refuse a rule that gives one unit two sizes in another, or two systems."""
    said: dict[tuple[str, ...], Claim] = {}
    for claim in (claim for claim in read_rule(rule) if claim.unit):
        about = (claim.unit, claim.of, claim.substance) if claim.count else (claim.unit, claim.written)
        other = said.setdefault(about, claim)
        if other != claim:
            raise InputError(
                f"the author's rule {rule!r} says two things: {other}; {claim}", "rule", "Leave one of them out."
            )


def _sizes_or_solids(rule: str) -> bool:
    return all(claim.count or claim.how == BY_WEIGHT for claim in read_rule(rule))


def _about_anything(claim: Claim) -> bool:
    questions = dict.fromkeys((row.custom, row.question) for row in rows(Custom))
    return any(_verdict(claim, custom, which) is not None for custom, which in questions)


def about(claim: Claim, which: str) -> bool:
    """Return whether any custom of a question has an opinion on a claim.

    Parameters
    ----------
    claim : Claim
        One thing an author says.
    which : str
        ``"weights"`` or ``"measures"``.

    Returns
    -------
    bool
        Whether one keeps or breaks it.

    Examples
    --------
    >>> about(read_rule("the pint is of 17 ounces")[0], "measures")
    True
    """
    return any(_verdict(claim, custom, which) is not None for custom in _customs(which))


@lru_cache(maxsize=1024)
def _verdicts(rule: str, custom: str, which: str) -> Mapping[Claim, bool | None]:
    return {claim: _verdict(claim, custom, which) for claim in read_rule(rule)}


def _verdict(claim: Claim, custom: str, which: str) -> bool | None:
    """Return whether a custom agrees with a claim; None where the claim is not about it."""
    vessel = claim.count and (claim.substance or is_domestic(claim.unit) or is_domestic(claim.of))
    if vessel or claim.how or claim.group == PARTS:  # a vessel's size is no custom's
        return None
    if claim.count:
        return _holds_so_many(claim, custom)
    if claim.unit:
        return _is_of_system(claim, custom)
    if claim.group == SIGNS:
        signed = [unit for unit in _signed_units() if _measures_in(unit, "sign", claim.system)]
        told = [_is_of_system(_of_sign(claim, unit), custom) for unit in signed]
        known = [verdict for verdict in told if verdict is not None]
        return all(known) if known else None
    of_system = _customs_of(claim.system, which)
    meant = {WEIGHTS: "weights", MEASURES: "measures"}.get(claim.group)
    if meant is None and not of_system:
        return None  # "troy" alone says nothing of pints
    return None if meant not in (None, which) else custom in of_system


def _of_sign(claim: Claim, unit: str) -> Claim:
    return Claim("", unit, "sign", claim.system)


def _is_of_system(claim: Claim, custom: str) -> bool | None:
    for unit in filter(None, (claim.unit, FLUID.get(claim.unit))):  # "ounces imperial" are fluid ones
        wanted = _measures_in(unit, claim.written, claim.system)
        if wanted:
            own = size(unit, claim.written, custom)
            return None if own is None else own.id in wanted
    return None if size(claim.unit, claim.written, custom) is None else False


@cache
def _measures_in(unit: str, written: str, system: str) -> frozenset[str]:
    """Return the measures a unit may be in a system, or under the customs of that name."""
    found = measures_of(unit)
    if len(found) == 1:  # a grain is a grain in every system
        kinds = {by_id(Measure)[row.measure].kind for row in rows(CustomUnit) if row.custom in _named(system)}
        return frozenset({found[0].id}) if found[0].kind in kinds or found[0].system == system else frozenset()
    of_system = frozenset(measure.id for measure in found if measure.system == system)
    own = (size(unit, written, custom) for custom in _named(system))
    return of_system or frozenset(measure.id for measure in own if measure is not None)


def _named(system: str) -> frozenset[str]:
    """Return the customs called by these words, as key, label or system."""
    called = {row.custom for row in rows(Custom) if system in (row.custom, row.label.lower())}
    return frozenset(called | _of_telling_system(system))


def _of_telling_system(system: str) -> set[str]:
    found = set()
    for row in rows(Custom):
        told = (size(unit, "word", row.custom) for unit in _TELLING.get(row.question, ()))
        if any(measure is not None and measure.system == system for measure in told):
            found.add(row.custom)
    return found


@cache
def _customs_of(system: str, which: str) -> frozenset[str]:
    return frozenset({row.custom for row in rows(Custom) if row.question == which} & _named(system))


def _holds_so_many(claim: Claim, custom: str) -> bool | None:
    whole = size(claim.unit, claim.written, custom)
    for small in filter(None, (claim.of, FLUID.get(claim.of))):  # a pint of 16 ounces is one of fluid ounces
        part = size(small, "word", custom)
        if whole is not None and part is not None and whole.kind == part.kind:
            return abs(float(whole.size / part.size / claim.count) - 1) < _SAME
    return None


@cache
def _signed_units() -> tuple[str, ...]:
    found = (row.value for row in rows(Notation) if row.meaning == "unit" and row.written == "sign")
    return tuple(unit for unit in dict.fromkeys(found) if measures_of(unit))


def _broken(rule: str, about: Sequence[Claim], verdicts: Mapping[str, Mapping[Claim, bool | None]]) -> InputError:
    labels = {row.custom: row.label for row in rows(Custom)}
    breaks = {custom: [claim for claim in about if not found[claim]] for custom, found in verdicts.items()}
    unknown = {custom: sum(found[claim] is None for claim in about) for custom, found in verdicts.items()}
    near = min(verdicts, key=lambda custom: (len(breaks[custom]), unknown[custom]))
    read, lost = "; ".join(map(str, read_rule(rule))), "; ".join(map(str, breaks[near]))
    remedy = f"Nearest is {labels[near]}, but for: {lost}. Mend the rule, or leave it out and settle the question."
    return InputError(f"no custom on file keeps the author's rule {rule!r}, read as {read}", "rule", remedy)
