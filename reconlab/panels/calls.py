"""Which calls do the same? What was done in a panel, as code that can be copied and run."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Call:
    """One call of a desk."""

    method: str
    plain: tuple[object, ...] = ()
    named: tuple[tuple[str, object], ...] = ()

    def __str__(self) -> str:
        """Return it as code."""
        inside = (*(_code(value) for value in self.plain), *(f"{name}={_code(value)}" for name, value in self.named))
        return f"work.{self.method}({', '.join(inside)})"


class Calls:
    """The calls that lead from the record as a panel found it to the record as it stands; an undone call goes."""

    def __init__(self, path: str, record: object, *, empty: bool) -> None:
        begun = "" if empty else "  # as it stood when the panel was opened"
        self._head = f"import reconlab as rl\n\nwork = rl.desk({_code(path)}){begun}"
        self._calls: tuple[Call | str, ...] = ()
        self._known: list[tuple[object, tuple[Call | str, ...]]] = [(record, ())]

    def __str__(self) -> str:
        """Return them as code, one a line."""
        return "\n".join((self._head, *map(str, self._calls)))

    def took(self, call: Call, before: object, after: object, *, says_all: bool = False) -> None:
        """Keep a call, with the record before and after it; `says_all` where the same call before it adds nothing."""
        self.look(before)
        last = self._calls[-1] if self._calls else None
        merged = _merged(last, call, says_all=says_all) if isinstance(last, Call) else None
        self._calls = (*self._calls[:-1], merged) if merged else (*self._calls, call)
        self._known.append((after, self._calls))

    def went_back(self, call: Call, after: object) -> None:
        """Keep an undo or redo: the calls are those that led to the record as it stands now."""
        found = next((calls for record, calls in reversed(self._known) if record == after), None)
        self._calls = (*self._calls, call) if found is None else found
        self._known.append((after, self._calls))

    def look(self, record: object) -> None:
        """Notice where something else than the panel has changed the record."""
        if record != self._known[-1][0]:
            self._calls = (*self._calls, "# here a step was taken outside the panel")
            self._known.append((record, self._calls))


def _merged(last: Call, call: Call, *, says_all: bool) -> Call | None:
    """Return one call for two of a kind in a row, where one can say what both say."""
    if last.method != call.method:
        return None
    if says_all:
        return call
    if call.method == "setting":
        return replace(call, named=tuple({**dict(last.named), **dict(call.named)}.items()))
    return None


def _code(value: object) -> str:
    if isinstance(value, str):
        plain = "\\" not in value and '"' not in value
        if "\n" in value and plain:
            return f'"""{value}"""'
        return f'"{value}"' if plain and "\n" not in value else repr(value)
    if isinstance(value, Mapping):
        return f"{{{', '.join(f'{_code(key)}: {_code(worth)}' for key, worth in value.items())}}}"
    if isinstance(value, Sequence):
        return f"[{', '.join(map(_code, value))}]"
    return repr(value)
