"""The only door to pint: results leave as quantities, and modern units come in from a closed list.

No text of a person or a page ever reaches pint: it reads "2 fl oz" as femtolitre ounces.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from reconlab.errors import InputError

if TYPE_CHECKING:
    from pint import Quantity

# What the library calls a unit -> what pint calls it. "part" has no size, so it is a pure number.
PINT_NAMES = {
    "g": "gram",
    "mL": "milliliter",
    "mg": "milligram",
    "g/mL": "gram / milliliter",
    "% w/w": "percent",
    "part": "dimensionless",
    "1": "dimensionless",
}

# Units a person may write for today's vessels, batches and balances: name -> (kind, size in g or mL).
MODERN = {
    "mg": ("mass", 0.001),
    "g": ("mass", 1.0),
    "kg": ("mass", 1000.0),
    "ml": ("volume", 1.0),
    "cl": ("volume", 10.0),
    "l": ("volume", 1000.0),
}
# No bench weighs less or more; beyond them floats run out.
SMALLEST, LARGEST = 1e-6, 1e9
_MODERN_TEXT = re.compile(r"\s*([0-9]+(?:[.,][0-9]+)?)\s*([A-Za-z]+)\s*")


def quantity(number: float, unit: str) -> Quantity[float]:
    """Return a figure as a quantity of the application's pint registry.

    Parameters
    ----------
    number : float
        The figure [any].
    unit : str
        One of the library's own units: ``g``, ``mL``, ``mg``, ``g/mL``, ``% w/w``, ``part``, ``1``.

    Returns
    -------
    pint.Quantity
        The same figure with its unit.

    Raises
    ------
    InputError
        If the unit is not one of the library's own.

    Examples
    --------
    >>> quantity(3.8879, "g").to("mg")
    <Quantity(3887.9, 'milligram')>
    """
    if unit not in PINT_NAMES:
        raise InputError(
            f"unit {unit!r} is not one the library makes", "quantity", f"Use one of: {', '.join(PINT_NAMES)}."
        )
    import pint  # noqa: PLC0415 - slow to load, so only when a quantity is made

    made: Quantity[float] = pint.Quantity(number, PINT_NAMES[unit])  # the application's registry, never our own
    return made


def modern(text: str, kind: str) -> float:
    """Return a modern amount such as ``"60 mL"`` as grams or millilitres.

    Parameters
    ----------
    text : str
        A number and one of mg, g, kg, mL, cL, L.
    kind : str
        ``"mass"`` or ``"volume"``: what the amount must be.

    Returns
    -------
    float
        Grams for a mass, millilitres for a volume [g or mL].

    Raises
    ------
    InputError
        If the text is not a positive amount of that kind.

    Examples
    --------
    >>> modern("60 mL", "volume")
    60.0
    >>> modern("0,5 kg", "mass")
    500.0
    """
    allowed = [unit for unit, (unit_kind, _) in MODERN.items() if unit_kind == kind]
    match = _MODERN_TEXT.fullmatch(str(text))  # a bare number is an amount without its unit
    unit = match[2].lower() if match else ""
    if match is None or unit not in allowed or float(match[1].replace(",", ".")) <= 0:
        raise InputError(
            f"{text!r} is not a modern {kind}", "amount", f"Write a number above zero and one of {', '.join(allowed)}."
        )
    size = float(match[1].replace(",", ".")) * MODERN[unit][1]
    if not SMALLEST <= size <= LARGEST:
        raise InputError(f"{text[:40]!r} is no {kind} a bench can deal with", "amount", "Check its figures.")
    return size
