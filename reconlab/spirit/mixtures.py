"""Ethanol and water: density, specific gravity, strength by weight and by volume."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
import numpy.typing as npt
from numpy.polynomial.polynomial import polyval2d

from reconlab.errors import InputError
from reconlab.tables import DensityCoefficient, rows

FloatArray = npt.NDArray[np.float64]
Figures = float | FloatArray  # one figure, or many at once

SIXTY_F = (60 - 32) / 1.8  # the temperature of British and American tables [degrees Celsius]
COLDEST, WARMEST = -20.0, 40.0  # the formula is published for these [degrees Celsius]
_SLACK = 1e-9  # what rounding may add at the end of a range
_STEPS = 6  # Newton's method is at the last digit after three


def within(values: Figures, low: Figures, high: Figures, what: str) -> FloatArray:
    """Return figures that lie in a range, as an array.

    Parameters
    ----------
    values : float or array
        The figures [any].
    low, high : float or array
        The range [any].
    what : str
        What they are, for the error.

    Returns
    -------
    array
        The same figures.

    Raises
    ------
    InputError
        If one is outside the range, or no number.

    Examples
    --------
    >>> float(within(90.0, 0, 100, "strength"))
    90.0
    """
    try:
        found = np.asarray(values, dtype=np.float64)
    except (TypeError, ValueError) as fault:
        raise InputError(f"{values!r} is no number", what, "Give a number, or an array of numbers.") from fault
    wrong = ~((found >= low - _SLACK) & (found <= high + _SLACK))  # what is no number is caught too
    if wrong.any():
        remedy = "Check the figure, its unit and its scale."
        raise InputError(f"{found[wrong].flat[0]:g} is outside {low:g} to {high:g}", what, remedy)
    return np.clip(found, low, high)


def plain(values: FloatArray) -> Figures:
    """Return an array, or a plain float where there is one figure.

    Parameters
    ----------
    values : array
        The figures [any].

    Returns
    -------
    float or array
        The same.

    Examples
    --------
    >>> plain(np.asarray(0.8338))
    0.8338
    """
    return float(values) if np.ndim(values) == 0 else values


@cache
def _coefficients() -> FloatArray:
    """Return the coefficients as a matrix, by the powers of strength and of temperature [g/mL]."""
    found = rows(DensityCoefficient)
    shape = (1 + max(row.strength_power for row in found), 1 + max(row.temperature_power for row in found))
    matrix = np.zeros(shape)
    for row in found:
        matrix[row.strength_power, row.temperature_power] = row.coefficient / 1000  # printed in kg/m3
    return matrix


def _density(percent_w_w: npt.ArrayLike, temperature_c: npt.ArrayLike) -> FloatArray:
    share, above = np.broadcast_arrays(np.asarray(percent_w_w) / 100, np.asarray(temperature_c) - 20)
    return np.asarray(polyval2d(share, above, _coefficients()))


def _by_volume(percent_w_w: npt.ArrayLike, temperature_c: npt.ArrayLike) -> FloatArray:
    return np.asarray(percent_w_w) * _density(percent_w_w, temperature_c) / _density(100, temperature_c)


def _inverse(
    of: Callable[[npt.ArrayLike, npt.ArrayLike], FloatArray], wanted: Figures, temperature_c: Figures, what: str
) -> Figures:
    """Return the % w/w at which a function that only rises, or only falls, has the wanted value."""
    degrees = within(temperature_c, COLDEST, WARMEST, "temperature")
    wanted_, degrees = np.broadcast_arrays(np.asarray(wanted, dtype=np.float64), degrees)
    found = np.empty(wanted_.shape)
    grid = np.linspace(0, 100, 2001)
    for temperature in np.unique(degrees):
        here = degrees == temperature
        curve = of(grid, temperature)
        aim = within(wanted_[here], float(curve.min()), float(curve.max()), what)
        slope = np.gradient(curve, grid)
        rising = slice(None) if curve[-1] > curve[0] else slice(None, None, -1)
        percent = np.interp(aim, curve[rising], grid[rising])
        for _ in range(_STEPS):
            percent = np.clip(percent - (of(percent, temperature) - aim) / np.interp(percent, grid, slope), 0, 100)
        found[here] = percent
    return plain(found)


def spirit_density(percent_w_w: Figures, temperature_c: Figures = 20.0) -> Figures:
    """Return the density of ethanol and water.

    The general formula of the International Alcoholometric Tables [1]_, which is also the annex of Directive
    76/766/EEC [2]_. It is given for -20 to 40 degrees Celsius; the printed table begins, for each temperature,
    where the mixture freezes, which the formula does not know.

    Parameters
    ----------
    percent_w_w : float or array
        Ethanol by weight [% w/w].
    temperature_c : float or array
        Temperature [degrees Celsius].

    Returns
    -------
    float or array
        Density [g/mL].

    Raises
    ------
    InputError
        If a strength is not from 0 to 100, or a temperature not from -20 to 40.

    References
    ----------
    .. [1] OIML R 22, 1975, general formula, p. 5, and coefficients, p. 13. Key ``oiml_r22_1975``.
    .. [2] Directive 76/766/EEC, annex, section 4. Key ``eec_76_766``.

    Examples
    --------
    >>> round(spirit_density(100), 5)  # printed: 789.24 kg/m3
    0.78924
    """
    percent = within(percent_w_w, 0, 100, "strength, % w/w")
    return plain(_density(percent, within(temperature_c, COLDEST, WARMEST, "temperature")))


def by_weight_from_density(density: Figures, temperature_c: Figures = 20.0) -> Figures:
    """Return the strength by weight of a spirit of known density: the same formula, turned round.

    Parameters
    ----------
    density : float or array
        Density [g/mL].
    temperature_c : float or array
        Temperature it was taken at [degrees Celsius].

    Returns
    -------
    float or array
        Ethanol by weight [% w/w].

    Raises
    ------
    InputError
        If no mixture of ethanol and water has this density, or a temperature is not from -20 to 40.

    References
    ----------
    .. [1] OIML R 22, 1975, general formula. Key ``oiml_r22_1975``.

    Examples
    --------
    >>> round(by_weight_from_density(0.93518, 20), 1)
    40.0
    """
    return _inverse(_density, density, temperature_c, "density")


def by_volume(percent_w_w: Figures, temperature_c: Figures = 20.0) -> Figures:
    """Return strength by volume from strength by weight.

    The volume the ethanol would have alone, in a hundred volumes of the mixture, both at one temperature. Books
    took 60 degrees Fahrenheit or 15 degrees Celsius; today's law takes 20 degrees Celsius [1]_.

    Parameters
    ----------
    percent_w_w : float or array
        Ethanol by weight [% w/w].
    temperature_c : float or array
        Temperature at which volumes are taken [degrees Celsius].

    Returns
    -------
    float or array
        Ethanol by volume [% v/v].

    Raises
    ------
    InputError
        If a strength is not from 0 to 100, or a temperature not from -20 to 40.

    References
    ----------
    .. [1] Directive 76/766/EEC, annex, sections 1 and 4. Key ``eec_76_766``.

    Examples
    --------
    >>> round(by_volume(49.28, SIXTY_F), 2)  # proof spirit in the Encyclopaedia Britannica: 57.10
    57.1
    """
    percent = within(percent_w_w, 0, 100, "strength, % w/w")
    return plain(_by_volume(percent, within(temperature_c, COLDEST, WARMEST, "temperature")))


def by_weight(percent_v_v: Figures, temperature_c: Figures = 20.0) -> Figures:
    """Return strength by weight from strength by volume.

    Parameters
    ----------
    percent_v_v : float or array
        Ethanol by volume [% v/v].
    temperature_c : float or array
        Temperature at which volumes are taken [degrees Celsius].

    Returns
    -------
    float or array
        Ethanol by weight [% w/w].

    Raises
    ------
    InputError
        If a strength is not from 0 to 100, or a temperature not from -20 to 40.

    References
    ----------
    .. [1] Directive 76/766/EEC, annex, sections 1 and 4. Key ``eec_76_766``.

    Examples
    --------
    >>> round(by_weight(90, SIXTY_F), 1)  # alcohol (90 per cent.) in the Codex of 1911: 85.65
    85.7
    """
    return _inverse(_by_volume, within(percent_v_v, 0, 100, "strength, % v/v"), temperature_c, "strength, % v/v")


def specific_gravity(percent_w_w: Figures, temperature_c: Figures = SIXTY_F, water_c: Figures | None = None) -> Figures:
    """Return the specific gravity of a spirit: its density over that of water.

    Parameters
    ----------
    percent_w_w : float or array
        Ethanol by weight [% w/w].
    temperature_c : float or array
        Temperature of the spirit [degrees Celsius].
    water_c : float or array, optional
        Temperature of the water [degrees Celsius]; that of the spirit where it is not given.

    Returns
    -------
    float or array
        Specific gravity [1].

    Raises
    ------
    InputError
        If a strength is not from 0 to 100, or a temperature not from -20 to 40.

    References
    ----------
    .. [1] OIML R 22, 1975, general formula. Key ``oiml_r22_1975``.

    Examples
    --------
    >>> round(specific_gravity(49.28), 4)  # at 60 degrees Fahrenheit, 0.91976 in the Encyclopaedia Britannica
    0.9198
    """
    water = spirit_density(0, temperature_c if water_c is None else water_c)
    return plain(np.asarray(spirit_density(percent_w_w, temperature_c)) / water)


def by_weight_from_gravity(
    gravity: Figures, temperature_c: Figures = SIXTY_F, water_c: Figures | None = None
) -> Figures:
    """Return the strength by weight of a spirit of known specific gravity.

    Parameters
    ----------
    gravity : float or array
        Specific gravity [1].
    temperature_c : float or array
        Temperature of the spirit [degrees Celsius].
    water_c : float or array, optional
        Temperature of the water [degrees Celsius]; that of the spirit where it is not given.

    Returns
    -------
    float or array
        Ethanol by weight [% w/w].

    Raises
    ------
    InputError
        If no mixture of ethanol and water has this gravity, or a temperature is not from -20 to 40.

    References
    ----------
    .. [1] OIML R 22, 1975, general formula. Key ``oiml_r22_1975``.

    Examples
    --------
    >>> round(by_weight_from_gravity(0.838), 1)  # rectified spirit of 1885: 84
    84.0
    """
    water = spirit_density(0, temperature_c if water_c is None else water_c)
    figures = within(gravity, 0.7, 1.1, "specific gravity of spirit and water")
    return by_weight_from_density(plain(figures * water), temperature_c)
