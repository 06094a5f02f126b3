"""What is wrong in a record, in which line, and what to do: gathered, then raised as one error."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from reconlab.errors import RecordError

KeyPath = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing to mend: the keys that lead to it, what was found there, and what to do."""

    path: KeyPath
    found: str
    remedy: str


def record_error(faults: Iterable[Fault], lines: Mapping[KeyPath, int], where: str) -> RecordError:
    """Return all faults of a record as one error, in the order of its lines.

    Parameters
    ----------
    faults : iterable of Fault
        At least one.
    lines : mapping of key path to int
        The line in which each key stands.
    where : str
        Name of the file.

    Returns
    -------
    RecordError
        One sentence for one fault, a list for more.

    Examples
    --------
    >>> print(record_error([Fault(("source", "years"), "no year", "Write one.")], {("source",): 4}, "a.yaml"))
    a.yaml, line 4, source > years: no year. Write one.
    """
    found = sorted(dict.fromkeys(faults), key=lambda fault: _line(fault.path, lines))
    places = [_place(fault.path, lines) for fault in found]
    if len(found) == 1:
        return RecordError(found[0].found, f"{where}, {places[0]}", found[0].remedy)
    listed = "\n".join(f"- {place}: {fault.found}. {fault.remedy}" for place, fault in zip(places, found, strict=True))
    return RecordError(f"{len(found)} things to mend\n{listed.removesuffix('.')}", where, "Nothing was changed.")


def _place(path: KeyPath, lines: Mapping[KeyPath, int]) -> str:
    keys = " > ".join(f"{key + 1}" if isinstance(key, int) else key for key in path)  # a person counts from one
    return f"line {_line(path, lines)}, {keys}" if keys else f"line {_line(path, lines)}"


def _line(path: KeyPath, lines: Mapping[KeyPath, int]) -> int:
    """Return the line of a key, or of the nearest above it that stands in the file."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, 1)
