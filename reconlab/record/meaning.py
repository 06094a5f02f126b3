"""Do the words of a record fit each other? Days, places, names of versions, what stands on a list.

Looked at in the plain values, before they become parts, so that a fault of another kind never hides one of these.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from reconlab.errors import InputError
from reconlab.measures import check_rule
from reconlab.receipts import Setting
from reconlab.record.faults import Fault, KeyPath
from reconlab.record.parts import BASES, CHANGE_KINDS, LITERAL

_DAYS = (("source", "seen"), ("decisions", "when"), ("batches", "made_on"), ("observations", "on"))
_SETTING = {key: key for key in ("years", "place", "rule", "text_years", "text_place")} | {"kind": "book"}
DAY = re.compile(r"[0-9]{4}(?:-[0-9]{2}(?:-[0-9]{2})?)?")

Row = tuple[KeyPath, Mapping[str, Any]]


def meaning_faults(data: object) -> list[Fault]:
    """Return what does not fit in the plain values of a record.

    Parameters
    ----------
    data : object
        Mappings, lists, text and numbers; what has the wrong shape is passed over.

    Returns
    -------
    list of Fault
        Empty where all fits.

    Examples
    --------
    >>> [fault.found for fault in meaning_faults({"source": {"seen": "May"}})]
    ["'May' is not a day"]
    """
    checks = (_settings, _days, _decisions, _changes, _versions, _batches, _observations)
    return [fault for check in checks for fault in check(data)]


def _rows(data: object, *keys: str, path: KeyPath = ()) -> Iterator[Row]:
    """Give each mapping under some keys, through lists; what has another shape is passed over."""
    if isinstance(data, list):
        for place, value in enumerate(data):
            yield from _rows(value, *keys, path=(*path, place))
    elif isinstance(data, dict):
        if keys:
            yield from _rows(data.get(keys[0]), *keys[1:], path=(*path, keys[0]))
        else:
            yield path, data


def _one_of(row: Row, key: str, allowed: Iterable[str]) -> Iterator[Fault]:
    path, values = row
    if isinstance(value := values.get(key), str) and value and value not in allowed:
        yield Fault((*path, key), f"{value!r} is not on the list", f"Write one of: {', '.join(allowed)}.")


def _settings(data: object) -> Iterator[Fault]:
    for path, source in _rows(data, "source"):
        for key, asked in _SETTING.items():
            if isinstance(value := source.get(key), str):
                try:
                    check_rule(Setting(**{asked: value}).rule)
                except InputError as fault:
                    yield Fault((*path, key), fault.found, fault.remedy)


def _days(data: object) -> Iterator[Fault]:
    for part, key in _DAYS:
        for path, values in _rows(data, part):
            if isinstance(value := values.get(key), str) and value and not _is_day(value):
                yield Fault(
                    (*path, key),
                    f"{value!r} is not a day",
                    "Write it as 2026-11-01, or only the year or month.",
                )


def _is_day(text: str) -> bool:
    if not DAY.fullmatch(text):
        return False
    try:
        dt.date.fromisoformat(text + "-01-01"[len(text) - len("2026") :])
    except ValueError:
        return False
    return True


def _decisions(data: object) -> Iterator[Fault]:
    for path, decision in _rows(data, "decisions"):
        if decision.get("option", "") == "" and decision.get("figure") is None:
            yield Fault(path, "the decision gives no answer", 'Add "option: ...", or "figure: ..." for a number.')


def _changes(data: object) -> Iterator[Fault]:
    for row in _rows(data, "versions", "changes"):
        yield from _one_of(row, "basis", BASES)
        yield from _one_of(row, "kind", CHANGE_KINDS)
        path, change = row
        for name, amount in _figures(change.get("into")):
            if not amount > 0:
                yield Fault(
                    (*path, "into", name),
                    f"{amount:g} is not above zero",
                    "Write how much takes the place of one.",
                )


def _figures(values: object) -> Iterator[tuple[str, float]]:
    if isinstance(values, dict):
        for name, value in values.items():
            if isinstance(value, int | float) and not isinstance(value, bool):
                yield name, value


def _parents(data: object) -> dict[str, str]:
    """Return which version each starts from, where both are text."""
    found = [(version.get("name"), version.get("parent", LITERAL)) for _, version in _rows(data, "versions")]
    return {name: parent for name, parent in found if isinstance(name, str) and isinstance(parent, str)}


def _versions(data: object) -> Iterator[Fault]:
    parents, seen = _parents(data), {LITERAL}
    for path, version in _rows(data, "versions"):
        name = version.get("name")
        if not isinstance(name, str):
            continue
        if not name.strip() or name.startswith("batch "):
            yield Fault((*path, "name"), f"{name!r} cannot name a version", "Give it a name of its own.")
        if name in seen:
            yield Fault((*path, "name"), f"a version {name!r} is there already", "Give each a name of its own.")
        elif name in parents and parents[name] not in (LITERAL, *parents):
            yield Fault((*path, "parent"), f"no version {parents[name]!r}", _known_versions(parents))
        elif _starts_from_itself(name, parents):
            yield Fault(
                (*path, "parent"),
                f"{name!r} starts from itself",
                f"Let one of the circle start from {LITERAL}.",
            )
        seen.add(name)


def _starts_from_itself(name: str, parents: Mapping[str, str]) -> bool:
    above, seen = parents.get(name, LITERAL), {LITERAL}
    while above not in seen and above != name:
        seen.add(above)
        above = parents.get(above, LITERAL)
    return above == name


def _known_versions(names: Iterable[str]) -> str:
    return f"The versions are: {', '.join([LITERAL, *names])}."


def _batches(data: object) -> Iterator[Fault]:
    names = _parents(data)
    for path, batch in _rows(data, "batches"):
        version = batch.get("version", LITERAL)
        if isinstance(version, str) and version not in (LITERAL, *names):
            yield Fault((*path, "version"), f"no version {version!r}", _known_versions(names))
        if batch.get("refused") and (batch.get("made_on") or batch.get("weighed")):
            yield Fault(
                (*path, "refused"),
                "a refused batch has a day or weights",
                "Keep the reason, or what was made.",
            )
        for line, grams in _figures(batch.get("weighed")):
            if grams < 0:
                yield Fault((*path, "weighed", line), f"{grams:g} g is less than nothing", "Write what was taken.")


def _observations(data: object) -> Iterator[Fault]:
    names = _parents(data)
    batches = [f"batch {number}" for number, _ in enumerate(_rows(data, "batches"), start=1)]
    for path, seen in _rows(data, "observations"):
        of = seen.get("of")
        if isinstance(of, str) and of not in (LITERAL, *names, *batches):
            known = ", ".join((LITERAL, *names, *batches))
            yield Fault((*path, "of"), f"{of!r} is no version or batch", f"Write one of: {known}.")
