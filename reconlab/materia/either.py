"""One line's two names of a thing: its gloss in brackets, or another after ou, oder, vel, seu."""

from __future__ import annotations

import re
from itertools import chain

from reconlab.materia.harm import harmful
from reconlab.materia.lookup import Found, by_rule
from reconlab.materia.poisons import alarms
from reconlab.materia.words import LONGEST

_GLOSS = re.compile(r"^([^()\[\]]+)[(\[]([^()\[\]]+)[)\]]\s*$")
_OTHER = re.compile(r",?\s+(?:ou|oder|vel|seu|sive|dit|dite|dict[ae]|genannt|sogenannt(?:e[rs]?)?)\s+", re.IGNORECASE)
_MARKS = " ~_=*\"'.,;"


def by_either(name: str) -> Found | None:
    """Return the rows of a name that is printed as two: each is looked up, and both answers stand.

    Parameters
    ----------
    name : str
        The name as printed.

    Returns
    -------
    Found or None
        None where it is one name, or where neither is on file. It is sure only where both mean the same.

    Examples
    --------
    >>> found = by_either("Bleizucker (sugar of lead)")
    >>> found.way, found.sure, {row.meaning for row in found.rows}
    ('two names', True, {'lead_acetate'})
    """
    if len(name) > LONGEST:
        return None
    gloss = _GLOSS.match(name)
    parts = [part.strip(_MARKS) for part in (gloss.groups() if gloss else _OTHER.split(name))]
    if len(parts) < 2 or not all(parts):  # noqa: PLR2004 - one name is no two
        return None
    found = [one for part in parts if (one := by_rule(part))]
    rows = tuple(dict.fromkeys(chain.from_iterable(one.rows for one in found)))
    poisons = tuple(dict.fromkeys(chain.from_iterable(one.poisons for one in found)))
    if not rows or (alarms(name) and not any(map(harmful, (*(row.meaning for row in rows), *poisons)))):
        return None
    same = len({frozenset(row.meaning for row in one.rows) for one in found}) == 1
    sure = same and len(found) == len(parts) and all(one.sure for one in found)
    return Found(
        rows, "two names", "found under both its names" if sure else "found under one of its names", sure, poisons
    )
