"""From how warm the vapour of ethanol and water can be set alight."""

from __future__ import annotations

import numpy as np

from reconlab.errors import InputError
from reconlab.reasons import Reason, Value
from reconlab.spirit.mixtures import by_volume
from reconlab.tables import FlashPoint, rows

_BASES = ("percent_w_w", "percent_v_v")


def flash_point(percent_w_w: float) -> Value:
    """Return the flash point of ethanol and water: straight between the lines of the tables on file.

    Two tables print the same figures, one by weight and one by volume, and neither names its method: the lower of the
    two readings is given, the range holds both.

    Parameters
    ----------
    percent_w_w : float
        Ethanol by weight [% w/w].

    Returns
    -------
    Value
        Flash point [degrees Celsius].

    Raises
    ------
    InputError
        If neither table reaches so far.

    References
    ----------
    .. [1] Flash points of ethanol based water solutions, by weight. Key ``ethanol_water_flash_by_weight``.
    .. [2] A letter that quotes them by volume. Key ``dchas_2015_flash_by_volume``.

    Examples
    --------
    >>> print(flash_point(40))
    24.5 C (24.5 to 26)
    """
    strengths = {"percent_w_w": percent_w_w, "percent_v_v": float(by_volume(percent_w_w))}
    found: list[float] = []
    because: list[Reason] = []
    for basis in _BASES:
        lines = sorted((row.percent, row.flash_c) for row in rows(FlashPoint) if row.basis == basis)
        percents, celsius = (np.array(column) for column in zip(*lines, strict=True))
        if percents[0] <= strengths[basis] <= percents[-1]:
            found.append(float(np.interp(strengths[basis], percents, celsius)))
            row = next(row for row in rows(FlashPoint) if row.basis == basis)
            because.append(row.reason(f"{strengths[basis]:.1f} {basis.replace('_', ' ')}: {found[-1]:.0f} C"))
    if not found:
        remedy = "Below the table it hardly burns, above it like pure spirit: take care all the same."
        raise InputError(f"no flash point of {percent_w_w:g} % w/w is on file", "strength, % w/w", remedy)
    says = "flash point of ethanol and water, by tables that do not name their method"
    return Value(min(found), min(found), max(found), "C", Reason(says, (), tuple(because)))
