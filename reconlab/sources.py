"""What is that source? A citation as a reader of the write-up sees it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from reconlab.reasons import Citation
from reconlab.tables import source_entries

NOT_PUBLISHED = ("from_memory", "common_practice", "own")  # keys that name no published source


def formatted(citation: Citation) -> str:
    """Return a source in words: authors, title, edition, publisher, year, place in it, address.

    Parameters
    ----------
    citation : Citation
        Key and place.

    Returns
    -------
    str
        One sentence. A key that is not in ``sources.json`` is shown as the person's own words.

    Examples
    --------
    >>> formatted(Citation("from_memory"))
    'From memory: known to the writer of the row, not read for it'
    >>> formatted(Citation("own", "label on the shop's jar"))
    "label on the shop's jar (given in the record)"
    """
    entry = source_entries().get(citation.key)
    if entry is None:
        return f"{citation.place or citation.key} (given in the record)"
    parts = [
        _people(entry),
        str(entry.get("title", "")),
        _edition(str(entry.get("edition", ""))),
        str(entry.get("container-title", "")),
        ", ".join(str(entry[k]) for k in ("publisher-place", "publisher") if entry.get(k)),
        _year(entry),
        citation.place,
    ]
    text = ", ".join(part for part in parts if part)
    address = str(entry.get("URL", ""))
    return f"{text}, {address}" if address else text


def _people(entry: Mapping[str, Any]) -> str:
    people = entry.get("author") or entry.get("editor") or ()
    names = [
        str(p.get("literal") or ", ".join(str(p[part]) for part in ("family", "given") if p.get(part))) for p in people
    ]
    return "; ".join(names)


def _edition(edition: str) -> str:
    return f"edition {edition}" if edition.isdigit() else edition


def _year(entry: Mapping[str, Any]) -> str:
    issued = entry.get("issued", {})
    parts = issued.get("date-parts") or [[]]
    return str(parts[0][0]) if parts[0] else str(issued.get("literal", ""))
