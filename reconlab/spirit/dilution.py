"""What spirit and water, or two spirits, come to when they are mixed; how much water or spirit is needed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from reconlab.errors import InputError
from reconlab.spirit.mixtures import (
    SIXTY_F,
    Figures,
    FloatArray,
    by_volume,
    by_weight,
    plain,
    spirit_density,
    within,
)


@dataclass(frozen=True, slots=True)
class Mixture:
    """What two spirits, or a spirit and water, come to when they are mixed."""

    mass_g: Figures
    volume_ml: Figures
    percent_w_w: Figures
    percent_v_v: Figures
    lost_ml: Figures  # how much smaller the mixture is than its parts were; it may grow by a trace


def mix(
    volume_ml: Figures,
    percent_w_w: Figures,
    other_ml: Figures,
    other_percent_w_w: Figures = 0.0,
    temperature_c: Figures = 20.0,
) -> Mixture:
    """Return what a spirit and another, or water, come to: masses add, volumes do not.

    Spirit and water shrink when mixed, most at about equal volumes. A weak spirit (below about 20 %) and water
    grow by a trace; the formula shows it, and so `lost_ml` may be a little below zero there.

    Parameters
    ----------
    volume_ml : float or array
        Volume of the one, at `temperature_c` [mL].
    percent_w_w : float or array
        Its ethanol by weight [% w/w].
    other_ml : float or array
        Volume of the other [mL].
    other_percent_w_w : float or array
        Its ethanol by weight; water where it is not given [% w/w].
    temperature_c : float or array
        Temperature before and after [degrees Celsius].

    Returns
    -------
    Mixture
        Mass [g], volume [mL], strength both ways, and the volume lost [mL].

    Raises
    ------
    InputError
        If a volume is negative, both are nothing, a strength is not from 0 to 100, or a temperature not from
        -20 to 40.

    References
    ----------
    .. [1] OIML R 22, 1975, general formula. Key ``oiml_r22_1975``.

    Examples
    --------
    >>> made = mix(500, by_weight(94.9, SIXTY_F), 500, temperature_c=SIXTY_F)
    >>> round(made.volume_ml), round(made.percent_v_v, 1)  # diluted alcohol, U.S.P.: 48.9 by volume
    (970, 48.9)
    """
    one, other = (within(volume, 0, np.inf, "volume, mL") for volume in (volume_ml, other_ml))
    mass, other_mass = (
        one * spirit_density(percent_w_w, temperature_c),
        other * spirit_density(other_percent_w_w, temperature_c),
    )
    total = np.asarray(mass + other_mass)
    if not (total > 0).all() or np.isinf(total).any():
        raise InputError("there is nothing to mix, or no end to it", "volume, mL", "Give a volume above zero.")
    strength = np.asarray((mass * percent_w_w + other_mass * other_percent_w_w) / total)
    volume = total / spirit_density(plain(strength), temperature_c)
    in_volume = by_volume(plain(strength), temperature_c)
    return Mixture(plain(total), plain(volume), plain(strength), in_volume, plain(np.asarray(one + other - volume)))


def water_by_weight(mass_g: Figures, percent_w_w: Figures, wanted_percent_w_w: Figures) -> Figures:
    """Return how much water brings a spirit down to a strength by weight.

    The mass of ethanol stays the same; no density is needed.

    Parameters
    ----------
    mass_g : float or array
        Mass of the spirit [g].
    percent_w_w : float or array
        Its ethanol by weight [% w/w].
    wanted_percent_w_w : float or array
        Strength it is to have [% w/w].

    Returns
    -------
    float or array
        Mass of water to add [g].

    Raises
    ------
    InputError
        If a mass is negative, a strength is not from 0 to 100, or the wanted strength is nothing or the greater.

    References
    ----------
    .. [1] Balance of mass; worked with the German Spiritus dilutus. Key ``meyers_spiritus_1905``.

    Examples
    --------
    >>> round(water_by_weight(7, 87.2, 61.0), 1)  # Spiritus dilutus: 7 parts of spirit, 3 of water
    3.0
    """
    mass = within(mass_g, 0, np.inf, "mass, g")
    strong, weak = _strong_and_weak(percent_w_w, wanted_percent_w_w, "% w/w")
    return plain(mass * (strong / weak - 1))


def water_by_volume(
    volume_ml: Figures, percent_v_v: Figures, wanted_percent_v_v: Figures, temperature_c: Figures = SIXTY_F
) -> Figures:
    """Return how much water brings a spirit down to a strength by volume, shrinkage and all.

    Parameters
    ----------
    volume_ml : float or array
        Volume of the spirit [mL].
    percent_v_v : float or array
        Its ethanol by volume [% v/v].
    wanted_percent_v_v : float or array
        Strength it is to have [% v/v].
    temperature_c : float or array
        Temperature of all volumes [degrees Celsius].

    Returns
    -------
    float or array
        Volume of water to add [mL]; more than plain arithmetic gives.

    Raises
    ------
    InputError
        If a volume is negative, a strength is not from 0 to 100, the wanted strength is nothing or the greater,
        or a temperature is not from -20 to 40.

    References
    ----------
    .. [1] Balance of mass with the densities of OIML R 22. Key ``oiml_r22_1975``.

    Examples
    --------
    >>> round(water_by_volume(100, 95, 50), 1)  # Buchheister's table of 1893: 95.9
    95.9
    """
    volume = within(volume_ml, 0, np.inf, "volume, mL")
    strong, weak = _strong_and_weak(percent_v_v, wanted_percent_v_v, "% v/v")
    mass = volume * spirit_density(by_weight(plain(strong), temperature_c), temperature_c)
    made = volume * strong / weak * spirit_density(by_weight(plain(weak), temperature_c), temperature_c)
    return plain(np.asarray((made - mass) / spirit_density(0, temperature_c)))


def to_make(
    volume_ml: Figures, wanted_percent_v_v: Figures, percent_v_v: Figures, temperature_c: Figures = SIXTY_F
) -> tuple[Figures, Figures]:
    """Return how much strong spirit and how much water make a volume of a weaker one.

    Parameters
    ----------
    volume_ml : float or array
        Volume to be made [mL].
    wanted_percent_v_v : float or array
        Strength it is to have [% v/v].
    percent_v_v : float or array
        Ethanol by volume of the strong spirit [% v/v].
    temperature_c : float or array
        Temperature of all volumes [degrees Celsius].

    Returns
    -------
    tuple of (float or array, float or array)
        Volumes of spirit and of water [mL]; together more than what is made.

    Raises
    ------
    InputError
        As `water_by_volume`.

    References
    ----------
    .. [1] Balance of mass with the densities of OIML R 22. Key ``oiml_r22_1975``.

    Examples
    --------
    >>> spirit, water = to_make(100, 70, 90)  # alcohol (70 per cent.), Codex of 1911: 77.77 and 24.16
    >>> round(spirit, 2), round(water, 1)
    (77.78, 24.2)
    """
    strong, weak = _strong_and_weak(percent_v_v, wanted_percent_v_v, "% v/v")
    spirit = within(volume_ml, 0, np.inf, "volume, mL") * weak / strong
    return plain(spirit), water_by_volume(plain(spirit), percent_v_v, wanted_percent_v_v, temperature_c)


def alligation(percent_strong: Figures, percent_weak: Figures, percent_wanted: Figures) -> tuple[Figures, Figures]:
    """Return in what shares a strong and a weak spirit give one between them: the rule of alligation.

    The shares are masses where the strengths are by weight. With strengths by volume the rule is only near,
    since volumes shrink: turn them to weight first.

    Parameters
    ----------
    percent_strong, percent_weak : float or array
        Strengths of the two [% w/w].
    percent_wanted : float or array
        Strength of the mixture [% w/w].

    Returns
    -------
    tuple of (float or array, float or array)
        Shares of the strong and of the weak, together 1 [1].

    Raises
    ------
    InputError
        If a strength is not from 0 to 100, or the wanted one does not lie between the other two.

    References
    ----------
    .. [1] The rule of the pharmacist's arithmetic. Key ``common_practice``.

    Examples
    --------
    >>> alligation(90, 40, 60)  # two parts of the strong and three of the weak
    (0.4, 0.6)
    """
    strong, weak, wanted = (
        within(percent, 0, 100, "strength, % w/w") for percent in (percent_strong, percent_weak, percent_wanted)
    )
    if not ((weak <= wanted) & (wanted <= strong) & (weak < strong)).all():
        raise InputError(
            "the wanted strength does not lie between the two", "strength, % w/w", "Give the stronger spirit first."
        )
    share = np.asarray((wanted - weak) / (strong - weak))
    return plain(share), plain(1 - share)


def _strong_and_weak(percent: Figures, wanted: Figures, unit: str) -> tuple[FloatArray, FloatArray]:
    strong, weak = (within(figure, 0, 100, f"strength, {unit}") for figure in (percent, wanted))
    if not ((weak > 0) & (weak <= strong)).all():
        remedy = "Water only weakens: for more strength mix with a stronger spirit, see alligation."
        raise InputError("the wanted strength is nothing, or above that of the spirit", f"strength, {unit}", remedy)
    return strong, weak
