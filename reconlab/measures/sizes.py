"""What a unit weighed or held under each custom, exactly, and the parts of a printed quantity."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache

from reconlab.errors import InputError
from reconlab.reading.descending import compound
from reconlab.reading.quantities import WEIGHED, Found, quantity_at
from reconlab.reading.tokens import Token, tokens
from reconlab.reasons import Reason
from reconlab.receipts import Measured, Quantity, Setting
from reconlab.spirit import strength_readings
from reconlab.tables import Custom, CustomUnit, Measure, by_id, rows

# A unit of weight that is also said of liquids, and the measure it then is.
FLUID = {"ounce": "fluid_ounce", "drachm": "fluid_drachm", "quartern": "fluid_quartern"}
AS_WEIGHT = {"firkin": "firkin_weight"}  # a cask that was a weight of solids
_CASKS = (
    "firkin",
    "kilderkin",
    "barrel",
    "hogshead",
    "rundlet",
    "tierce",
    "puncheon",
    "pipe",
    "tun",
    "anker",
    "setier",
)
ONLY_FLUID = frozenset({"minim", *_CASKS})  # too small to heap a powder in: never said of a solid
ANY = "any"  # a row of custom units that holds under every custom: the page itself names the system


def may_be_fluid(parts: Sequence[Measured]) -> bool:
    """Return whether a quantity may be a measure of liquid though its ounces and drachms name weights.

    Parameters
    ----------
    parts : sequence of Measured
        The parts of one quantity: ounces beside pounds or grains are weighed like them.

    Returns
    -------
    bool
        Whether it may be.

    Examples
    --------
    >>> may_be_fluid(parse_quantity("4 oz.").parts), may_be_fluid(parse_quantity("1 lb. 4 oz.").parts)
    (True, False)
    """
    if any(part.written == WEIGHED for part in parts):
        return False  # the page says so: "8 oz. by weight"
    others = {part.unit for part in parts if part.unit not in FLUID}
    return any(part.unit in FLUID for part in parts) and not any("mass" in kinds_of(str(unit)) for unit in others)


@cache
def measures_of(unit: str) -> tuple[Measure, ...]:
    """Return every measure a unit means under some custom.

    Parameters
    ----------
    unit : str
        Unit token of the reading.

    Returns
    -------
    tuple of Measure
        Each once, in the order of the table.

    Examples
    --------
    >>> {"ounce_avoirdupois", "ounce_troy"} <= {measure.id for measure in measures_of("ounce")}
    True
    """
    found = [by_id(Measure)[row.measure] for row in rows(CustomUnit) if row.unit == unit]
    return tuple({measure.id: measure for measure in found}.values())


@cache
def kinds_of(unit: str) -> frozenset[str]:
    """Return whether a unit weighs or measures, under any custom.

    Parameters
    ----------
    unit : str
        Unit token of the reading.

    Returns
    -------
    frozenset of str
        ``"mass"``, ``"volume"`` or both; empty where no size is on file.

    Examples
    --------
    >>> sorted(kinds_of("minim"))
    ['volume']
    """
    metric_size = by_id(Measure).get(unit)
    own = {metric_size.kind} if metric_size is not None and metric_size.system == "metric" else set()
    return frozenset({measure.kind for measure in measures_of(unit)} | own)


def size(unit: str, written: str, custom: str) -> Measure | None:
    """Return the measure a unit means under a custom.

    Parameters
    ----------
    unit : str
        Unit token of the reading.
    written : str
        How it was printed: ``sign``, ``abbreviation`` or ``word``.
    custom : str
        Key of the custom.

    Returns
    -------
    Measure or None
        None where the custom has no such unit.

    Examples
    --------
    >>> size("drachm", "sign", "apothecaries").id
    'drachm_apothecaries'
    """
    found = _custom_unit(unit, written, custom)
    if found:
        return by_id(Measure)[found.measure]
    metric = by_id(Measure).get(unit)  # a gram is a gram under every custom
    return metric if metric and metric.system == "metric" else None


def unit_reason(unit: str, written: str, custom: str) -> Reason:
    """Return why a unit has its size under a custom, with the table rows behind it.

    Parameters
    ----------
    unit, written, custom : str
        As in `size`.

    Returns
    -------
    Reason
        The chain.

    Examples
    --------
    >>> unit_reason("drachm", "sign", "apothecaries").says
    'drachm is the drachm, apothecaries, 3.88793 g'
    """
    measure = size(unit, written, custom)
    if measure is None:
        return Reason(f"no size of a {unit} on file for {custom}")
    row = _custom_unit(unit, written, custom)
    kind = "g" if measure.kind == "mass" else "mL"
    says = f"{unit.replace('_', ' ')} is the {measure.name}, {float(measure.size):.6g} {kind}"
    own = measure.reason(f"{measure.name}: {measure.as_printed}")
    return row.reason(says, own) if row else own


def has_own(unit: str, written: str, custom: str) -> bool:
    """Return whether a custom has a unit of its own, and not only by a row for all customs.

    Parameters
    ----------
    unit, written, custom : str
        As in `size`.

    Returns
    -------
    bool
        Whether it has.

    Examples
    --------
    >>> has_own("stone", "word", "scots_dutch"), has_own("ounce_troy", "word", "avoirdupois")
    (True, False)
    """
    return _own_unit(unit, written, custom) is not None


def _own_unit(unit: str, written: str, custom: str) -> CustomUnit | None:
    by_sign = "sign" if written == "sign" else "word"
    return _custom_units().get((custom, unit, by_sign)) or _custom_units().get((custom, unit, "any"))


def _custom_unit(unit: str, written: str, custom: str) -> CustomUnit | None:
    own = _own_unit(unit, written, custom)
    named = own or _own_unit(unit, written, ANY)
    of_this_kind = named is None or custom == ANY or by_id(Measure)[named.measure].kind in _kinds_of_custom(custom)
    return named if own or of_this_kind else None  # no custom of pints has an opinion on a troy ounce


@cache
def _kinds_of_custom(custom: str) -> frozenset[str]:
    kinds = {"weights": "mass", "measures": "volume"}
    return frozenset(kinds[row.question] for row in rows(Custom) if row.custom == custom)


@cache
def _custom_units() -> Mapping[tuple[str, str, str], CustomUnit]:
    found: dict[tuple[str, str, str], CustomUnit] = {}
    for row in rows(CustomUnit):
        found.setdefault((row.custom, row.unit, row.written), row)
    return found


_UNIT_NOT_KNOWN = re.compile(r"[\d.,/\N{VULGAR FRACTION ONE HALF}]+\s*(?P<word>[^\W\d_]{3,})\.?")  # "1 Zentner"
_ADD_A_UNIT = "Look at its spelling, give the amount in another unit, or add it with its source to your own tables."


def parse_quantity(text: str) -> Quantity:
    """Return the quantity a text is, and nothing else.

    Parameters
    ----------
    text : str
        Such as ``"ʒiij"`` or ``"two drachms and a half"``.

    Returns
    -------
    Quantity
        Its parts.

    Raises
    ------
    InputError
        If the text is not one quantity.

    Examples
    --------
    >>> parse_quantity("1 lb. 4 oz.").parts[1].unit
    'ounce'
    """
    pieces = text.split(" + ")  # as `quantity_text` joins them
    return Quantity(tuple(part for piece in pieces for part in _quantity(piece).parts))


def _quantity(text: str) -> Quantity:
    line = tokens(text)
    found = _with_commas(line, quantity_at(line, 0)) if line else None
    rest = " ".join(token.text for token in line[found.after :] if token.text not in ".,") if found else text
    if found is None and _is_strength(text):
        said = f'Ask rl.strength("{text.strip()}"), at the shell: reconlab strength "{text.strip()}".'
        raise InputError(f"{text.strip()!r} is the strength of a spirit, not a quantity", text, said)
    if found is None or rest:
        unit = _UNIT_NOT_KNOWN.fullmatch(text.strip())
        if found is None and unit is not None:
            raise InputError(f"{unit['word']!r} is no unit on file", text, _ADD_A_UNIT)
        raise InputError(
            f"{rest or text!r} is not an amount with its unit" if found is None else f"{rest!r} was not read",
            text,
            'Write it as printed, such as "1½ oz.", "ʒiij" or "two drachms and a half"; no minus sign.',
        )
    return found.quantity


def _with_commas(line: Sequence[Token], found: Found | None) -> Found | None:
    """Return an amount with the parts that commas cut off: "4 ozs. av., 179 grs."."""
    while found is not None and found.after < len(line) and line[found.after].text == ",":
        behind = quantity_at(line, found.after + 1)
        both = compound(found.quantity, behind.quantity) if behind is not None else None
        if behind is None or both is None:
            break
        found = Found(both, behind.after)
    return found


def _is_strength(text: str) -> bool:
    if not any(map(str.isalpha, text)) and not text.strip().endswith(("%", "\N{DEGREE SIGN}")):
        return False  # a bare figure is nothing yet
    try:
        return bool(strength_readings(text, Setting()))
    except InputError:
        return False


def metric(unit: str | None) -> bool:
    """Return whether a unit is metric, and so the same under every custom.

    Parameters
    ----------
    unit : str or None
        Unit token of the reading.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> metric("gram"), metric("grain")
    (True, False)
    """
    row = by_id(Measure).get(str(unit))
    return row is not None and row.system == "metric"


def quantity_text(quantity: Quantity) -> str:
    """Return a quantity as printed.

    Parameters
    ----------
    quantity : Quantity
        As read.

    Returns
    -------
    str
        Its parts, joined by a plus.

    Examples
    --------
    >>> quantity_text(parse_quantity("1 lb. 4 oz."))
    '1 lb. + 4 oz.'
    """
    return " + ".join(part.amount.printed for part in quantity.parts)
