"""Does a file keep the format? Every fault at once, in plain words; a sound file is a `Reconstruction`."""

from __future__ import annotations

import difflib
import json
from collections.abc import Mapping
from dataclasses import MISSING, fields
from functools import cache
from typing import TYPE_CHECKING, Any

from reconlab.errors import RecordError
from reconlab.formula import Replacement
from reconlab.reasons import Decision
from reconlab.receipts import BOOK_KINDS, Use
from reconlab.record.faults import Fault, KeyPath, record_error
from reconlab.record.meaning import DAY, meaning_faults
from reconlab.record.parts import (
    BASES,
    CHANGE_KINDS,
    FORMAT,
    Batch,
    Inquiry,
    Observation,
    Plan,
    Reconstruction,
    Source,
    TablesUsed,
    Version,
)
from reconlab.record.yaml_text import read_tree, write_tree

if TYPE_CHECKING:
    from pydantic import TypeAdapter
    from pydantic_core import ErrorDetails

# Which part stands under which key; under the keys of `_FREE` a person's own words are the keys.
_PARTS: Mapping[str, type[Any]] = {
    "": Reconstruction, "question": Inquiry, "source": Source, "decisions": Decision, "versions": Version,
    "changes": Replacement, "use": Use, "batches": Batch, "plan": Plan, "observations": Observation,
    "tables": TablesUsed,
}  # fmt: skip
_FREE = frozenset({"into", "lines", "weighed"})
_ALWAYS = frozenset({"format", "title", "invented", "transcription"})  # written even where they say nothing


def parse(text: str, where: str = "record") -> Reconstruction:
    r"""Return the reconstruction a record's text holds.

    Parameters
    ----------
    text : str
        The YAML of one record.
    where : str
        Name of the file, for messages.

    Returns
    -------
    Reconstruction
        All that is kept.

    Raises
    ------
    RecordError
        If the text does not keep the format: every fault, with its line and what to do.

    Examples
    --------
    >>> parse("format: 1\ntitle: Violet Powder\ntranscription: Starch, 10 oz.").title
    'Violet Powder'
    >>> parse("format: 1\nsource:\n  years: 1911", "violet.yaml")
    Traceback (most recent call last):
    reconlab.errors.RecordError: violet.yaml, line 3, source > years: 1911 is a number where text is wanted.
    Put it in quotes: "1911".
    """
    tree = read_tree(text, where)
    _refuse_other_formats(tree.data, tree.lines, where)
    data = _without_blanks(tree.data)
    made, faults = _shaped(data, tree.written)
    faults = [*tree.faults, *faults, *meaning_faults(data)]
    if made is None or faults:
        raise record_error(faults, tree.lines, where)
    return made


def dump(reconstruction: Reconstruction) -> str:
    r"""Return a reconstruction as the text of a record.

    Parameters
    ----------
    reconstruction : Reconstruction
        All that is kept.

    Returns
    -------
    str
        YAML that `parse` reads again; what was left empty is left out.

    Examples
    --------
    >>> print(dump(Reconstruction(title="Violet Powder", transcription="Starch, 10 oz.\nOrris, 2 oz.\n")))
    format: 1
    title: Violet Powder
    invented: false
    transcription: |
      Starch, 10 oz.
      Orris, 2 oz.
    """
    return write_tree(plain(reconstruction))


def plain(reconstruction: Reconstruction) -> dict[str, object]:
    """Return a reconstruction as plain values, without what was left empty.

    Parameters
    ----------
    reconstruction : Reconstruction
        All that is kept.

    Returns
    -------
    dict of str to object
        Mappings, lists, text and numbers.

    Examples
    --------
    >>> plain(Reconstruction(versions=(Version(name="safe"),)))["versions"]
    [{'name': 'safe'}]
    """
    said = _said(reconstruction)
    return {f.name: said.get(f.name, getattr(reconstruction, f.name)) for f in fields(reconstruction)
            if f.name in said or f.name in _ALWAYS}  # fmt: skip


def json_schema() -> dict[str, Any]:
    """Return the format of a record as JSON Schema, kept beside this package as ``record.schema.json``.

    Returns
    -------
    dict
        A schema of draft 2020-12.

    Examples
    --------
    >>> json_schema()["properties"]["format"]["const"]
    1
    """
    schema = _adapter().json_schema()
    parts = schema["$defs"]
    parts["Replacement"]["properties"]["basis"]["enum"] = list(BASES)
    parts["Replacement"]["properties"]["kind"]["enum"] = ["", *CHANGE_KINDS]
    parts["Replacement"]["properties"]["into"]["additionalProperties"]["exclusiveMinimum"] = 0
    parts["Batch"]["properties"]["weighed"]["additionalProperties"]["minimum"] = 0
    parts["Source"]["properties"]["kind"]["enum"] = ["", *BOOK_KINDS]
    for part, key in (("Source", "seen"), ("Decision", "when"), ("Batch", "made_on"), ("Observation", "on")):
        parts[part]["properties"][key]["pattern"] = f"^({DAY.pattern})?$"
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "required": ["format"]}


@cache
def _adapter() -> TypeAdapter[Reconstruction]:
    from pydantic import TypeAdapter  # noqa: PLC0415 - loaded only when a record is read

    return TypeAdapter(Reconstruction)


def _said(part: Any) -> dict[str, Any]:  # noqa: ANN401 - any part of a record
    """Return what a part says beyond the usual, as plain values."""
    said = {}
    for f in fields(part):
        value = getattr(part, f.name)
        usual = f.default_factory() if f.default_factory is not MISSING else f.default
        if value != usual or type(value) is not type(usual):
            said[f.name] = _as_plain(value)
    return said


def _as_plain(value: Any) -> object:  # noqa: ANN401
    if isinstance(value, tuple | list):
        return [_as_plain(inside) for inside in value]
    if isinstance(value, Mapping):
        return {str(key): _as_plain(inside) for key, inside in value.items()}
    return _said(value) if type(value) in _PARTS.values() else value


# Shape: are the right keys there, each with the right kind of value?


def _refuse_other_formats(data: object, lines: Mapping[KeyPath, int], where: str) -> None:
    if not isinstance(data, dict):
        raise RecordError("this is no record", where, 'A record is keys and values and begins with "format: 1".')
    found = data.get("format")
    if found == FORMAT and not isinstance(found, bool):
        return
    place = f"{where}, line {lines.get(('format',), 1)}"
    if found is None:
        raise RecordError("the record does not say its format", place, 'Begin it with a line "format: 1".')
    if isinstance(found, int) and found > FORMAT:
        newer = f"format {found} is newer than this library reads, which is {FORMAT}"
        raise RecordError(newer, place, "Install a newer reconlab; the file was left as it is.")
    raise RecordError(
        f"{found!r} is no format of a record", place, f'The format is {FORMAT}: write "format: {FORMAT}".'
    )


def _without_blanks(data: object, *, free: bool = False) -> object:
    """Return the values without keys that say nothing; under a person's own words nothing is left out."""
    if isinstance(data, list):
        return [_without_blanks(value) for value in data]
    if not isinstance(data, dict):
        return data
    return {key: _without_blanks(value, free=key in _FREE) for key, value in data.items() if free or value is not None}


def _shaped(data: object, written: Mapping[KeyPath, str]) -> tuple[Reconstruction | None, list[Fault]]:
    from pydantic import ValidationError  # noqa: PLC0415

    try:
        return _adapter().validate_json(json.dumps(data)), []
    except ValidationError as error:
        return None, [_in_words(fault, written) for fault in error.errors()]


def _in_words(error: ErrorDetails, written: Mapping[KeyPath, str]) -> Fault:
    kind, path, value = error["type"], error["loc"], error["input"]
    if kind == "missing":
        return Fault(path, "the key is missing", f'Add "{path[-1]}: ...".')
    if kind == "unexpected_keyword_argument":
        return _unknown_key(path)
    if kind == "value_error":
        fault = error["ctx"]["error"]
        return Fault((*path, fault.where), fault.found, fault.remedy)
    if kind == "literal_error":
        return Fault(path, f"{value!r} is not on the list", f"Write {error['ctx']['expected']}.")
    if kind == "finite_number":
        return Fault(path, "this is no finite number", "Write the figure in digits.")
    wanted, remedy = _WANTED.get(kind, ("something else", "Look it up in record.schema.json."))
    is_, mends = _what_it_is(value, written.get(path, str(value)))
    return Fault(path, f"{is_} where {wanted} is wanted", mends if wanted == "text" else remedy)


_WANTED: Mapping[str, tuple[str, str]] = {
    "string_type": ("text", ""),
    "float_type": ("a number", "Write the figure alone, such as 1.5, without unit or quotes."),
    "bool_type": ("true or false", "Write true or false, without quotes."),
    "tuple_type": ("a list", 'Begin each entry on a line of its own with "- ".'),
    "dict_type": ("a set of keys", 'Write each as "key: value" on a line of its own.'),
    "dataclass_type": ("a set of keys", 'Write each as "key: value" on a line of its own.'),
}


def _what_it_is(value: object, written: str) -> tuple[str, str]:
    """Return what stands there, and how it becomes text."""
    match value:
        case None:
            return "nothing stands", "Write it, or take the line out."
        case bool():
            return f"{written} is a yes or no", f'Put it in quotes: "{written}".'
        case int() | float():
            return f"{written} is a number", f'Put it in quotes: "{written}".'
        case str():
            return f"{value!r} is text", ""
        case list():
            return "a list stands", "Write it as one text."
    return "a set of keys stands", "Write it as one text; text that holds a colon goes into quotes."


def _unknown_key(path: KeyPath) -> Fault:
    part = next((str(key) for key in reversed(path[:-1]) if isinstance(key, str)), "")
    known = [f.name for f in fields(_PARTS[part])]
    near = difflib.get_close_matches(str(path[-1]), known, n=1)
    hint = f"Did you mean {near[0]}? " if near else ""
    return Fault(path, f"{path[-1]!r} is no key of a record here", f"{hint}The keys are: {', '.join(known)}.")
