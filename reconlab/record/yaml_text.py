"""Text on disk to plain values and back.

Only words, numbers, lists and keys are read; what YAML offers beyond them (tags that make objects, anchors
that multiply, dates) is refused or is text. ``NO`` is text, and so is ``2026-11-01``.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from numbers import Real
from typing import TYPE_CHECKING, Any, TypeGuard

from reconlab.errors import RecordError
from reconlab.record.faults import Fault, KeyPath

if TYPE_CHECKING:
    from ruamel.yaml import YAML

LARGEST = 2_000_000  # characters; a record of two hundred batches has a tenth of it
MOST_VALUES = 50_000
DEEPEST = 12  # a record needs six

_INTEGER = re.compile(r"[-+]?[0-9]{1,20}")
_NUMBER = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")
_WORDS: Mapping[str, bool | None] = {
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
    **dict.fromkeys(("", "~", "null", "Null", "NULL"), None),
}
_OLD_YAML = frozenset({"y", "n", "yes", "no", "on", "off"})  # other programs still read these as true and false

# What the YAML reader says, and what it means to a person.
_SAID = (
    (
        "mapping values",
        "a colon where none can stand",
        "Set this line and the one above in like their neighbours; put text that holds a colon into quotes.",
    ),
    ("\\t", "a tab at the start of a line", "Set lines in by blanks."),
    ("cannot start", "a text begins with a sign that means something to YAML", "Put the text into quotes."),
    ("end of stream", "a quote is opened and not closed", "Close it, or use the other kind of quotes."),
    ("escape", "a backslash in double quotes", "Write the backslash twice, or use single quotes."),
    ("<block end>", "this line is not set in like its neighbours", "Set all keys of a level in by the same blanks."),
    ("',' or", "a bracket is opened and not closed", 'Close it; text that begins with "[" or "{" goes into quotes.'),
    ("expected ':'", "a line without a colon", "Write key: value, or set the line in below its key."),
)


@dataclass(frozen=True, slots=True)
class Tree:
    """Plain values, with the line in which each key stands and each value as it was written."""

    data: object
    lines: Mapping[KeyPath, int]
    written: Mapping[KeyPath, str]
    faults: tuple[Fault, ...]


def read_tree(text: str, where: str) -> Tree:
    r"""Return the plain values of a YAML text, and where they stand in it.

    Parameters
    ----------
    text : str
        One YAML document.
    where : str
        Name of the file, for messages.

    Returns
    -------
    Tree
        Lists, mappings, text, numbers, true and false; with what YAML allows and a record does not.

    Raises
    ------
    RecordError
        If the text is no YAML, empty, or larger than any record.

    Examples
    --------
    >>> read_tree("place: NO\nseen: 2026-11-01\nweighed: [1.5]", "a.yaml").data
    {'place': 'NO', 'seen': '2026-11-01', 'weighed': [1.5]}
    """
    if len(text) > LARGEST:
        raise RecordError(f"{len(text):,} characters are more than a record holds", where, "Check that it is a record.")
    reader = _Reader(_events(text, where), where)
    first = next(reader.events)
    if _is(first, "StreamEnd"):
        raise RecordError("the file is empty", where, "Bring back a past state, or begin a new record.")
    data = reader.value(next(reader.events), ())
    next(reader.events)
    if not _is(after := next(reader.events), "StreamEnd"):
        reader.stop(after, "a second document begins", "Keep each record in a file of its own.")
    return Tree(data, reader.lines, reader.written, tuple(reader.faults))


def _events(text: str, where: str) -> Iterator[Any]:
    from ruamel.yaml import YAML  # noqa: PLC0415 - loaded only when a record is read or written
    from ruamel.yaml.error import MarkedYAMLError, YAMLError  # noqa: PLC0415
    from ruamel.yaml.reader import ReaderError  # noqa: PLC0415

    try:
        events = YAML(typ="safe", pure=True).parse(text)
        next(events)  # the start of the stream
        yield from events
    except MarkedYAMLError as fault:
        said = f"{fault.context or ''} {fault.problem or ''}"
        found, remedy = next((words for sign, *words in _SAID if sign in said), ("this is not YAML", "Mend the line."))
        mark = (fault.context_mark if "not closed" in found else fault.problem_mark) or fault.problem_mark
        line = mark.line + 1 if mark else 1
        raise RecordError(found, f"{where}, line {line}", remedy) from fault
    except ReaderError as fault:
        line = text.count("\n", 0, fault.position) + 1
        sign = f"U+{ord(text[fault.position]):04X}" if fault.position < len(text) else "a sign"
        raise RecordError(f"{sign} cannot stand in a record", f"{where}, line {line}", "Take it out.") from fault
    except (YAMLError, ValueError, IndexError, RecursionError) as fault:  # what else a hostile text may cause
        raise RecordError("this is not YAML", where, "Check that the file is a record.") from fault


@dataclass(slots=True)
class _Reader:
    """Builds plain values out of YAML's events and keeps where they stood."""

    events: Iterator[Any]
    where: str
    lines: dict[KeyPath, int] = field(default_factory=dict)
    written: dict[KeyPath, str] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def stop(self, event: Any, found: str, remedy: str) -> None:  # noqa: ANN401 - an event of an untyped library
        raise RecordError(found, f"{self.where}, line {event.start_mark.line + 1}", remedy)

    def value(self, event: Any, path: KeyPath) -> object:  # noqa: ANN401
        self.lines.setdefault(path, event.start_mark.line + 1)
        if len(path) > DEEPEST:
            self.stop(event, f"more than {DEEPEST} lists and keys inside each other", "No record needs so many.")
        if len(self.lines) > MOST_VALUES:
            self.stop(event, f"more than {MOST_VALUES:,} values", "Check that the file is a record.")
        if getattr(event, "anchor", None) is not None:
            sign = "*" if _is(event, "Alias") else "&"
            self._fault(path, f"{sign}{event.anchor} points to another place", "Write the value out in both places.")
        if getattr(event, "tag", None) is not None:
            self._fault(path, f"a tag, {event.tag}", "Take it out; only text, numbers, lists and keys are read.")
        if _is(event, "SequenceStart"):
            return self._list(path)
        return self._mapping(path) if _is(event, "MappingStart") else self._scalar(event, path)

    def _list(self, path: KeyPath) -> list[object]:
        found: list[object] = []
        while not _is(event := next(self.events), "SequenceEnd"):
            found.append(self.value(event, (*path, len(found))))
        return found

    def _mapping(self, path: KeyPath) -> dict[str, object]:
        found: dict[str, object] = {}
        while not _is(event := next(self.events), "MappingEnd"):
            if not _is(event, "Scalar"):
                self.stop(event, "a key that is not a word", "Put the key into quotes.")
            key, here = event.value, (*path, event.value)
            if key in found:
                again = f"the key stands here and in line {self.lines[here]}"
                self.faults.append(Fault(here, again, "Keep one of the two."))
            self.lines.setdefault(here, event.start_mark.line + 1)
            found[key] = self.value(next(self.events), here)
        return found

    def _scalar(self, event: Any, path: KeyPath) -> object:  # noqa: ANN401
        if _is(event, "Alias"):
            return None
        if any("\ud800" <= sign <= "\udfff" for sign in event.value):
            self._fault(path, "half a sign (a lone surrogate)", "Type the sign again.")
            return ""
        self.written[path] = event.value
        return event.value if event.style else _plain(event.value)

    def _fault(self, path: KeyPath, found: str, remedy: str) -> None:
        self.faults.append(Fault(path, found, remedy))


def _is(event: object, kind: str) -> bool:
    return type(event).__name__ == f"{kind}Event"


def _plain(written: str) -> object:
    """Return what a word without quotes stands for."""
    if written in _WORDS:
        return _WORDS[written]
    if _INTEGER.fullmatch(written):
        return int(written)
    if _NUMBER.fullmatch(written):
        return float(written)
    return float(written.replace(".", "", 1)) if _NOT_FINITE.fullmatch(written) else written


def write_tree(data: Mapping[str, object]) -> str:
    r"""Return plain values as YAML text.

    Parameters
    ----------
    data : mapping of str to object
        Mappings, lists, text, numbers, true and false.

    Returns
    -------
    str
        One document; text of several lines stands as printed.

    Raises
    ------
    RecordError
        If a value is none of these.

    Examples
    --------
    >>> print(write_tree({"place": "NO", "years": "1911", "text": "Starch, 1 oz.\nOrris, 1 dr.\n"}))
    place: 'NO'
    years: '1911'
    text: |
      Starch, 1 oz.
      Orris, 1 dr.
    """
    return _dumped(_styled(data))


def write_over(text: str, old: Mapping[str, object], new: Mapping[str, object]) -> str:
    r"""Return plain values as YAML text that keeps the comments and the order of an older text.

    Parameters
    ----------
    text : str
        The older text; one that `read_tree` can read.
    old : mapping of str to object
        What it says.
    new : mapping of str to object
        What it is to say.

    Returns
    -------
    str
        The older text with the values changed.

    Examples
    --------
    >>> print(write_over("title: Rouge  # of 1890\n", {"title": "Rouge"}, {"title": "Blush", "invented": True}))
    title: Blush  # of 1890
    invented: true
    """
    tree = _yaml().load(text)
    _merge(tree, old, new)
    return _dumped(tree)


def _merge(node: Any, old: Any, new: Any) -> None:  # noqa: ANN401 - any node of the tree
    """Bring a node of the older text to the new values, and leave alone what did not change."""
    if isinstance(new, Mapping):
        keys = {str(key): key for key in node}  # YAML takes the key 1 for a number
        for key in old.keys() - new.keys():
            del node[keys[key]]
        for place, (key, value) in enumerate(new.items()):
            if key in keys:
                _merge_at(node, keys[key], old.get(key), value)
            else:
                node.insert(min(place, len(node)), key, _styled(value))
        return
    same = next((place for place, (was, now) in enumerate(zip(old, new, strict=False)) if was != now), len(new))
    gone = slice(same, same + max(0, len(old) - len(new)))  # so that a comment stays with its own entry
    del node[gone]
    left = [*old[: gone.start], *old[gone.stop :]]
    for place, value in enumerate(new):
        if place < len(left):
            _merge_at(node, place, left[place], value)
        else:
            node.append(_styled(value))


def _merge_at(node: Any, key: str | int, old: object, new: object) -> None:  # noqa: ANN401
    if old == new and isinstance(old, bool) == isinstance(new, bool):
        return
    if (isinstance(old, dict) and isinstance(new, Mapping)) or (_is_list(old) and _is_list(new)):
        _merge(node[key], old, new)
    else:
        node[key] = _styled(new)


def _is_list(value: object) -> TypeGuard[list[object] | tuple[object, ...]]:
    return isinstance(value, list | tuple)


def _yaml() -> YAML:
    from ruamel.yaml import YAML  # noqa: PLC0415

    yaml = YAML()
    yaml.preserve_quotes = True
    yaml.allow_unicode = True
    yaml.width = LARGEST  # a folded line may lose blanks
    yaml.indent(mapping=2, sequence=4, offset=2)
    return yaml


def _dumped(tree: object) -> str:
    stream = io.StringIO()
    _yaml().dump(tree, stream)
    return stream.getvalue()


def _styled(value: object) -> object:
    """Return a value as the YAML writer takes it, with quotes where text might be taken for something else."""
    from ruamel.yaml.comments import CommentedMap, CommentedSeq  # noqa: PLC0415

    if isinstance(value, Mapping):
        return CommentedMap([(_quoted(str(key)), _styled(inside)) for key, inside in value.items()])
    if _is_list(value):
        return CommentedSeq([_styled(inside) for inside in value])
    if isinstance(value, str):
        return _block(value) if _fits_block(value) else _quoted(value)
    if isinstance(value, bool):
        return value
    if isinstance(value, Real):
        number = float(value)
        return int(number) if number.is_integer() and abs(number) < 10**15 else number
    raise RecordError(f"{value!r} is neither text nor number", "record", "Keep only what can be written down.")


def _block(text: str) -> str:
    from ruamel.yaml.scalarstring import LiteralScalarString  # noqa: PLC0415

    block: str = LiteralScalarString(text)
    return block


def _quoted(text: str) -> str:
    from ruamel.yaml.scalarstring import DoubleQuotedScalarString, SingleQuotedScalarString  # noqa: PLC0415

    if text.isprintable() and isinstance(_plain(text), str) and text.lower() not in _OLD_YAML:
        return text
    # double quotes are the only style that spells signs out
    quoted: str = SingleQuotedScalarString(text) if text.isprintable() else DoubleQuotedScalarString(text)
    return quoted


def _fits_block(text: str) -> bool:
    """Return whether text of several lines can stand as printed; else it is quoted, its signs spelt out."""
    ends = text.removesuffix("\n")
    shown = all(sign.isprintable() or sign in "\n\N{NO-BREAK SPACE}" for sign in text)
    return "\n" in text and shown and not text[0].isspace() and not ends[-1].isspace()
