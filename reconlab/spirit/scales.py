"""Proof and the degrees of hydrometers, to strength by weight and to specific gravity, and back."""

from __future__ import annotations

from functools import cache

import numpy as np

from reconlab.errors import InputError, UnknownNameError, nearest
from reconlab.spirit.mixtures import (
    SIXTY_F,
    Figures,
    FloatArray,
    by_volume,
    by_weight,
    by_weight_from_gravity,
    plain,
    specific_gravity,
    within,
)
from reconlab.tables import CartierDegree, StrengthScale, by_id, rows

OF_GRAVITY = ("lighter", "heavier", "fivefold")  # forms that count gravity, of whatever liquid
_HEAVIER = OF_GRAVITY[1:]  # than water, and so of no spirit


def spirit_scales() -> tuple[StrengthScale, ...]:
    """Return the scales spirits are counted on.

    Returns
    -------
    tuple of StrengthScale
        Those of liquids heavier than water left out.

    Examples
    --------
    >>> "twaddell" in {row.id for row in spirit_scales()}
    False
    """
    return tuple(row for row in rows(StrengthScale) if row.form not in _HEAVIER)


def scale_row(scale: str) -> StrengthScale:
    """Return the row of a scale of strength.

    Parameters
    ----------
    scale : str
        Its id in ``strength_scales.csv``, such as ``"cartier"`` or ``"uk_over_proof"``.

    Returns
    -------
    StrengthScale
        What its degrees mean, where and when, and its sources.

    Raises
    ------
    UnknownNameError
        If no scale of this id is on file.

    Examples
    --------
    >>> scale_row("tralles").form
    'by volume'
    """
    known = by_id(StrengthScale)
    if scale not in known:
        remedy = f"Use one of: {', '.join(known)}.{nearest(scale, known)}"
        raise UnknownNameError(f"no scale {scale!r} is on file", "scale", remedy)
    return known[scale]


def from_degrees(degrees: Figures, scale: str) -> Figures:
    """Return the strength of a spirit from degrees of proof or of a hydrometer.

    British degrees over proof count volumes of proof spirit that a hundred of the spirit can be let down to; under
    proof they are below zero [1]_, [2]_. American proof is twice the per cent by volume [3]_. Gay-Lussac and
    Tralles are per cents by volume [4]_, Richter by weight [5]_. Cartier goes by a table [6]_, straight between
    its lines; Baumé by specific gravity [7]_, [8]_.

    Parameters
    ----------
    degrees : float or array
        Degrees, within the range of the scale [degrees of the scale].
    scale : str
        Its id in ``strength_scales.csv``.

    Returns
    -------
    float or array
        Ethanol by weight [% w/w].

    Raises
    ------
    InputError
        If a degree is outside the scale, or the scale is not one of spirits.
    UnknownNameError
        If no scale of this id is on file.

    References
    ----------
    .. [1] Encyclopaedia Britannica, 14th ed., Proof Spirit. Key ``britannica_1929_proof_spirit``.
    .. [2] Cooley, 6th ed., vol. I, Alcoholometry (57.06 for 57.10). Key ``cooley_1880``.
    .. [3] Law of the United States, in a reprint. Key ``us_proof_cologne_spirits``.
    .. [4] Die Branntweinbrennerei, vol. 2, p. 391. Key ``branntweinbrennerei_2_1``.
    .. [5] Buchheister, 3rd ed., p. 574. Key ``buchheister_1893``.
    .. [6] Maison rustique, vol. III, p. 244. Key ``maison_rustique_1844``.
    .. [7] Beringer, A Text-Book of Assaying. Key ``beringer_assaying``.
    .. [8] Roberts and Etherington, Baumé. Key ``roberts_etherington_baume``.

    Examples
    --------
    >>> round(from_degrees(60, "uk_over_proof"), 1), round(from_degrees(33, "cartier"), 1)
    (87.5, 79.5)
    """
    row = scale_row(scale)
    temperature = row.reference_c or SIXTY_F
    found = _checked(degrees, row)
    if row.form == "by weight":
        return plain(found)
    if row.form in OF_GRAVITY:
        _of_spirits(row)
        return by_weight_from_gravity(gravity_from_degrees(degrees, scale), temperature)
    if row.form == "table":
        shown, percents = _cartier()
        return by_weight(plain(np.interp(found, shown, percents)), temperature)
    share = {"over proof": found + 100, "proof": found, "by volume": found}[row.form]
    percent = share if row.modulus is None else share * row.modulus / 100
    return by_weight(plain(np.minimum(percent, 100)), temperature)  # absolute alcohol is 100.07 by 75.25 over proof


def to_degrees(percent_w_w: Figures, scale: str) -> Figures:
    """Return the degrees a spirit shows on a scale of proof or of a hydrometer.

    Parameters
    ----------
    percent_w_w : float or array
        Ethanol by weight [% w/w].
    scale : str
        Its id in ``strength_scales.csv``.

    Returns
    -------
    float or array
        Degrees of the scale [degrees of the scale].

    Raises
    ------
    InputError
        If a strength is not from 0 to 100, or the scale is not one of spirits or does not reach so far.
    UnknownNameError
        If no scale of this id is on file.

    References
    ----------
    .. [1] As `from_degrees`. Key ``britannica_1929_proof_spirit``.

    Examples
    --------
    >>> round(to_degrees(by_weight(94, SIXTY_F), "us_proof"))  # Green, 1895: 188 proof is 94 per cent
    188
    """
    row = scale_row(scale)
    temperature = row.reference_c or SIXTY_F
    percent = within(percent_w_w, 0, 100, "strength, % w/w")
    if row.form == "by weight":
        return plain(percent)
    if row.form in OF_GRAVITY:
        _of_spirits(row)
        return degrees_from_gravity(specific_gravity(plain(percent), temperature), scale)
    in_volume = np.asarray(by_volume(plain(percent), temperature))
    if row.form == "table":
        shown, percents = _cartier()
        return plain(np.interp(in_volume, percents, shown))
    share = in_volume if row.modulus is None else in_volume / row.modulus * 100
    return plain(np.asarray(share - 100 if row.form == "over proof" else share))


def gravity_from_degrees(degrees: Figures, scale: str) -> Figures:
    """Return the specific gravity from degrees Baumé or Twaddell, of any liquid.

    Parameters
    ----------
    degrees : float or array
        Degrees, within the range of the scale [degrees of the scale].
    scale : str
        Its id in ``strength_scales.csv``, such as ``"baume_heavy_145"`` or ``"twaddell"``.

    Returns
    -------
    float or array
        Specific gravity [1].

    Raises
    ------
    InputError
        If a degree is outside the scale, or its degrees are no measure of gravity.
    UnknownNameError
        If no scale of this id is on file.

    References
    ----------
    .. [1] Beringer, A Text-Book of Assaying. Key ``beringer_assaying``.
    .. [2] Roberts and Etherington, Baumé. Key ``roberts_etherington_baume``.
    .. [3] A letter that quotes the CRC Handbook, 51st ed. Key ``crc_51_baume``.
    .. [4] Webster, 1913, Baumé. Key ``webster_1913``.

    Examples
    --------
    >>> round(gravity_from_degrees(32, "baume_heavy_1443"), 3), round(gravity_from_degrees(25, "twaddell"), 3)
    (1.285, 1.125)
    """
    row = scale_row(scale)
    modulus, zero = _gravity_figures(row)
    found = _checked(degrees, row)
    if row.form == "fivefold":
        return plain(np.asarray(1 + modulus * found))
    return plain(np.asarray(modulus / (zero + found if row.form == "lighter" else zero - found)))


def degrees_from_gravity(gravity: Figures, scale: str) -> Figures:
    """Return degrees Baumé or Twaddell from the specific gravity of any liquid.

    Parameters
    ----------
    gravity : float or array
        Specific gravity [1].
    scale : str
        Its id in ``strength_scales.csv``.

    Returns
    -------
    float or array
        Degrees of the scale [degrees of the scale].

    Raises
    ------
    InputError
        If a gravity is not above zero, the degrees would be outside the scale, or they are no measure of gravity.
    UnknownNameError
        If no scale of this id is on file.

    References
    ----------
    .. [1] As `gravity_from_degrees`. Key ``beringer_assaying``.

    Examples
    --------
    >>> round(degrees_from_gravity(1.125, "twaddell"), 6)
    25.0
    """
    row = scale_row(scale)
    modulus, zero = _gravity_figures(row)
    found = within(gravity, 1e-3, 25, "specific gravity")
    if row.form == "fivefold":
        return plain(_checked(plain(np.asarray((found - 1) / modulus)), row))
    ratio = modulus / found
    return plain(_checked(plain(np.asarray(ratio - zero if row.form == "lighter" else zero - ratio)), row))


def _checked(degrees: Figures, row: StrengthScale) -> FloatArray:
    low = -np.inf if row.low is None else row.low
    high = np.inf if row.high is None else row.high
    return within(degrees, low, high, row.label)


def _of_spirits(row: StrengthScale) -> None:
    if row.form != "lighter":
        raise InputError(
            f"{row.label}, are for liquids heavier than water", "scale", "For them use gravity_from_degrees."
        )


def _gravity_figures(row: StrengthScale) -> tuple[float, float]:
    if row.form not in OF_GRAVITY or row.modulus is None:
        raise InputError(f"{row.label}, are no measure of gravity", "scale", "For spirits use from_degrees.")
    return row.modulus, row.zero or 0.0


@cache
def _cartier() -> tuple[FloatArray, FloatArray]:
    found = sorted((row.degrees, row.percent_v_v) for row in rows(CartierDegree))
    return np.array([degrees for degrees, _ in found]), np.array([percent for _, percent in found])
