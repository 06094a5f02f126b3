"""How much ethanol and water shrink when lines of a formula are put together: over all its ways at once."""

from __future__ import annotations

from functools import cache

import numpy as np

from reconlab.spirit.mixtures import FloatArray, spirit_density

_CELSIUS = 20.0  # bench volumes are for this temperature
_STEPS = 40  # each leaves less than half of what was missing; twelve are enough for most
_ENOUGH = 1e-10  # of the whole


@cache
def _coefficients() -> tuple[float, ...]:
    """Return the density of ethanol and water at the bench as a polynomial in the share of ethanol, lowest first."""
    # At one temperature the formula of the tables is a polynomial of the twelfth power: thirteen points give it back.
    points = (1 - np.cos(np.linspace(0, np.pi, 13))) / 2
    fitted = np.polynomial.Polynomial.fit(points, np.asarray(spirit_density(100 * points, _CELSIUS)), 12)
    return tuple(fitted.convert().coef)


def _volume(ethanol_g: FloatArray, water_g: FloatArray) -> FloatArray:
    """Return the volume of ethanol and water mixed [mL]; of nothing, nothing."""
    whole = ethanol_g + water_g
    share = np.divide(ethanol_g, whole, out=np.zeros_like(whole), where=whole > 0)
    density = np.zeros_like(share)
    for coefficient in reversed(_coefficients()):
        density *= share
        density += coefficient
    return np.asarray(whole / density)


def lost_on_mixing(ethanol_g: FloatArray, water_g: FloatArray) -> FloatArray:
    """Return how much smaller a mixture is than the lines it was made of.

    Each line is taken as mixed in itself already: a spirit has shrunk with its own water. What else stands in a line,
    such as resins and oils, is left out of the reckoning; aromatic waters count as water.

    Parameters
    ----------
    ethanol_g, water_g : array
        Ethanol and water of each line, in each way [g].

    Returns
    -------
    array
        Volume lost in each way, at 20 degrees Celsius [mL].

    References
    ----------
    .. [1] OIML R 22, 1975, general formula. Key ``oiml_r22_1975``.

    Examples
    --------
    >>> ethanol, water = np.array([[394.6], [0.0]]), np.array([[0.0], [499.1]])  # half a litre of each
    >>> lost = lost_on_mixing(ethanol, water)
    >>> bool(34 < lost[0] < 37)
    True
    """
    alone = _volume(ethanol_g, water_g).sum(axis=0)
    return np.asarray(alone - _volume(ethanol_g.sum(axis=0), water_g.sum(axis=0)))


def filled_up(
    wanted_ml: FloatArray, others: tuple[FloatArray, FloatArray, FloatArray], of_a_gram: tuple[FloatArray, ...]
) -> FloatArray:
    """Return how much of a line fills others up to a volume, shrinkage and all.

    Parameters
    ----------
    wanted_ml : array
        Volume to be made in each way [mL].
    others : tuple of three arrays
        Volume of the other lines as they are put in, less what they lose among themselves [mL]; their ethanol and
        their water [g].
    of_a_gram : tuple of three arrays
        Volume of a gram of the line that fills up [mL]; its ethanol and its water [g].

    Returns
    -------
    array
        Its mass in each way [g]; below zero where the others are more than the whole already.

    References
    ----------
    .. [1] OIML R 22, 1975, general formula. Key ``oiml_r22_1975``.

    Examples
    --------
    >>> spirit = (np.array([500.0]), np.array([394.6]), np.array([0.0]))
    >>> water = filled_up(np.array([1000.0]), spirit, (np.array([1.0018]), np.array([0.0]), np.array([1.0])))
    >>> bool(530 < water[0] < 540)  # half a litre and about 36 mL more
    True
    """
    volume, ethanol, water = others
    specific, its_ethanol, its_water = of_a_gram
    mass = (wanted_ml - volume) / specific
    alone, of_gram = _volume(ethanol, water), _volume(its_ethanol, its_water)
    for _ in range(_STEPS):
        taken = np.maximum(mass, 0.0)
        lost = alone + taken * of_gram - _volume(ethanol + taken * its_ethanol, water + taken * its_water)
        missing = wanted_ml - (volume + mass * specific - lost)
        mass = mass + missing / specific
        if np.all(np.abs(missing) <= _ENOUGH * (np.abs(wanted_ml) + np.abs(volume))):
            break
    return np.asarray(mass)
