"""Roman numerals as receipts print them."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

_SHARP_S, _BETA = "\N{LATIN SMALL LETTER SHARP S}", "\N{GREEK SMALL LETTER BETA}"
_ROMAN = re.compile(rf"(?P<whole>[ivxlcj]*)(?P<half>ss|s{_SHARP_S}|{_SHARP_S}|{_BETA})?")
_NEVER_BEFORE = re.compile(r"[ij][ivxj]*[lc]|v[ivj]*[xlc]|l[ivxj]*c")
_ROMAN_VALUES = {"i": 1, "j": 1, "v": 5, "x": 10, "l": 50, "c": 100}


@lru_cache(maxsize=1 << 12)
def roman(text: str) -> Fraction | None:
    """Return the value of a Roman numeral as receipts print it, with a final j and ss for a half.

    Parameters
    ----------
    text : str
        Such as ``"iij"`` or ``"vijss"``.

    Returns
    -------
    fractions.Fraction or None
        The value [1]; None where the text is no numeral.

    Examples
    --------
    >>> roman("iij"), roman("ijss"), roman("iv"), roman("xl"), roman("oil")
    (Fraction(3, 1), Fraction(5, 2), Fraction(4, 1), Fraction(40, 1), None)
    """
    match = _ROMAN.fullmatch(text.lower().replace("\N{LATIN SMALL LETTER LONG S}", "s"))
    if not text or match is None:
        return None
    if re.search(r"l.*l|v.*v|c{4}|x{5}|i{6}", match["whole"].replace("j", "i")):  # "ll" is a scan's eleven
        return None
    if _NEVER_BEFORE.search(match["whole"]):  # "vC": a numeral with a letter of another kind behind it
        return None
    values = [_ROMAN_VALUES[letter] for letter in match["whole"]]
    whole = sum(-value if value < max(values[i:]) else value for i, value in enumerate(values))
    return whole + (Fraction(1, 2) if match["half"] else Fraction(0))
