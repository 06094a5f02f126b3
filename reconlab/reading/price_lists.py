"""Rows of a price list: what stands in them are prices, no amounts of a receipt."""

from __future__ import annotations

import re

_PER = r"(?:lbs?|oz|gals?|galls?|doz|cwt|bots?|bbls?|box(?:es)?|each|ton|per\s+(?!cent)\w+|p\.?\s?(?:lb|oz|doz))"
_FRACTION = "\u00bc-\u00be\u215b-\u215e"  # from a quarter to seven eighths
_PRICE = rf"[$\N{{POUND SIGN}}]?\d{{1,4}}(?:[. ]\d\d|[{_FRACTION}])?"
_FOR_EACH = re.compile(
    rf"(?<!\d\s)\b{_PER}[.,:]*[\s.]+{_PRICE}(?:\s{{2,}}|\s*@\s*){_PRICE}\s*$"  # "Aloin, oz.   40   45"
    rf"|\bper\s+(?!cent)\w+[.,:]*[\s.]*{_PRICE}\s*$"  # "bottles, per doz. .... 4 00"
    rf"|(?<!\d\s)\b{_PER}[.,:]*[\s.]+[$\N{{POUND SIGN}}]\s?\d",
    re.IGNORECASE,
)
_FIGURES = re.compile(rf"(?:\s{{2,}}|\.\.+\s*){_PRICE}(?:\s+(?:@|to|-)?\s*{_PRICE})?\s*$")


def is_price_row(text: str, *, among_prices: bool) -> bool:
    """Return whether a row of a table gives a price.

    Parameters
    ----------
    text : str
        The row.
    among_prices : bool
        Whether the row before it gives one, so that figures without a unit are enough.

    Returns
    -------
    bool
        Whether it does.

    Examples
    --------
    >>> is_price_row("ALOIN, oz.   40   45", among_prices=False), is_price_row("Starch .. 10 oz.", among_prices=True)
    (True, False)
    >>> is_price_row("  Powdered     15    17", among_prices=True), is_price_row("Powdered  15  17", among_prices=False)
    (True, False)
    """
    return _FOR_EACH.search(text) is not None or (among_prices and _FIGURES.search(text) is not None)
