"""What is that stuff, given when and where the book was written? And what later steps must know of it."""

from __future__ import annotations

import statistics
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from reconlab.errors import AmbiguousError, TableError, UnknownNameError
from reconlab.reasons import Option, Question, Reason, Spread, Value, in_order
from reconlab.receipts import Setting
from reconlab.tables import Drop, Name, Preparation, PropertyValue, Row, Substance, by_id, rows

LIQUID_STATES = ("liquid", "oil", "syrup")
UNKNOWN = "not identified: "  # starts the id of a thing nobody has named yet

_LETTERS = str.maketrans(
    {
        "æ": "ae",
        "œ": "oe",
        "\N{LATIN SMALL LETTER LONG S}": "s",
        ".": " ",
        ",": " ",
        "-": " ",
        "\N{HYPHEN}": " ",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "_": " ",
    }
)
_FOUND = {
    "exact": "its name on file",
    "inflection": "found by its singular or plural",
    "word order": "found with its words in another order",
}
_JOINING = frozenset({"of", "the", "de", "du", "von"})


@dataclass(frozen=True, slots=True)
class Thing:
    """A substance or a preparation as later steps need it; an unidentified name is a thing too."""

    id: str
    name: str
    state: str
    class_: str
    never_handled: str
    row: Row | None

    @property
    def identified(self) -> bool:
        """Whether anyone has said what it is."""
        return self.row is not None

    @property
    def liquid(self) -> bool:
        """Whether it flows at 20 degrees Celsius."""
        return self.state in LIQUID_STATES


def folded(name: str) -> str:
    """Return a name as names are compared: lower case, without points, hyphens, ligatures or spare blanks.

    Parameters
    ----------
    name : str
        A name as printed.

    Returns
    -------
    str
        The name to compare.

    Examples
    --------
    >>> folded("Aq. Flor. Aurant."), folded("Rose-water")
    ('aq flor aurant', 'rose water')
    """
    return " ".join(name.lower().translate(_LETTERS).split())


def thing(key: str) -> Thing:
    """Return a substance or preparation by id; any other key is a thing not identified.

    Parameters
    ----------
    key : str
        Id of a substance or a preparation, or ``not identified:`` and a name.

    Returns
    -------
    Thing
        What is known of it.

    Examples
    --------
    >>> thing("talc").name, thing("not identified: sea foam").identified
    ('talc', False)
    """
    found: Substance | Preparation | None = by_id(Substance).get(key) or by_id(Preparation).get(key)
    if found is None:
        return Thing(key, key.removeprefix(UNKNOWN), "unknown", "unknown", "", None)
    poison = found.never_handled if isinstance(found, Substance) else ""
    return Thing(found.id, found.name, found.state, found.class_, poison, found)


def substance_id(words: str) -> str:
    """Return the id of the one substance a person means by its modern name, INCI name, CAS number or id.

    Parameters
    ----------
    words : str
        Such as ``"zinc oxide"`` or ``"ZINC OXIDE"``.

    Returns
    -------
    str
        The id.

    Raises
    ------
    UnknownNameError
        If nothing on file answers to the words.
    AmbiguousError
        If more than one substance does.

    Examples
    --------
    >>> substance_id("Zinc oxide")
    'zinc_oxide'
    """
    wanted = folded(words)
    if not wanted:
        raise UnknownNameError("no name is given", "substance", "Write its modern or INCI name.")
    found = [
        row.id
        for row in rows(Substance)
        if wanted in (folded(row.id), folded(row.name), folded(row.inci)) or words.strip() in row.cas
    ]
    if not found:
        found = sorted({row.meaning for row in _named(words)[0] if row.kind == "substance"})
    if not found:
        from difflib import get_close_matches  # noqa: PLC0415 - only for the message

        near = get_close_matches(wanted, [folded(row.name) for row in rows(Substance)], n=3)
        hint = f" Nearest on file: {', '.join(near)}." if near else ""
        raise UnknownNameError(f"no substance {words!r}", "substances.csv", f"Use its modern or INCI name.{hint}")
    if len(set(found)) > 1:
        raise AmbiguousError(
            f"{words!r} may be {', '.join(by_id(Substance)[key].name for key in found)}",
            "substances.csv",
            "Use one of these names.",
        )
    return found[0]


def identify(name: str, setting: Setting | None = None) -> Question | None:
    """Return what a period name may have meant, as a question with every meaning on file.

    A meaning attested only for other years or regions stays on the list as unlikely: a name is never made
    harmless by its date.

    Parameters
    ----------
    name : str
        The name as printed.
    setting : Setting, optional
        When and where; without it every meaning stands as its source has it.

    Returns
    -------
    Question or None
        None where nothing on file has that name: it is not identified.

    Examples
    --------
    >>> identify("French chalk").options[0].key
    'talc'
    >>> identify("flowers of Jupiter") is None
    True
    """
    setting = setting or Setting()
    found, way = _named(name)
    asks = f"What was \N{LEFT DOUBLE QUOTATION MARK}{name}\N{RIGHT DOUBLE QUOTATION MARK}?"
    if not found:
        today = _by_modern_name().get(folded(name))
        if today is None:
            return None
        only = Option(today.id, "likely", today.reason(f"{name!r} is its modern name"), today.name)
        return Question(f"name: {folded(name)}", asks, (only,))
    here = [row for row in found if setting.within(row.regions, row.from_year, row.to_year)]
    options: dict[str, Option] = {}
    for row in (*here, *(row for row in found if row not in here)):
        if row.meaning in options:
            continue
        away = bool(here) and row not in here
        says = f"{name!r} was {thing(row.meaning).name}: {row.because} ({_FOUND[way]})"
        reason = row.reason(f"{says}; attested {_attested(row)}, not here" if away else says)
        standing = "unlikely" if away else row.standing
        options[row.meaning] = Option(row.meaning, standing, reason, thing(row.meaning).name)
    return Question(
        f"name: {folded(name)}",
        asks,
        in_order(options.values()),
    )


def settles_by(name: str) -> tuple[str, ...]:
    """Return what would decide between the meanings of a name.

    Parameters
    ----------
    name : str
        The name as printed.

    Returns
    -------
    tuple of str
        One sentence each; empty where nothing is open or known.

    Examples
    --------
    >>> settles_by("flowers of Jupiter")
    ()
    """
    return tuple(dict.fromkeys(row.decides for row in _named(name)[0] if row.decides))


def found_by(name: str) -> str:
    """Return how a name was found: exact, inflection or word order; nothing where it was not.

    Parameters
    ----------
    name : str
        The name as printed.

    Returns
    -------
    str
        The way.

    Examples
    --------
    >>> found_by("oxide of zinc"), found_by("zinc oxide")
    ('exact', 'word order')
    """
    found, way = _named(name)
    return way if found else "exact" if folded(name) in _by_modern_name() else ""


@cache
def _by_modern_name() -> Mapping[str, Substance]:
    """Return the substances by modern name, for names no book of the time is on file with."""
    return {folded(row.name): row for row in rows(Substance)}


def _attested(row: Name) -> str:
    where = "/".join(row.regions)
    when = f"{row.from_year or ''}-{row.to_year or ''}" if row.from_year or row.to_year else ""
    return " ".join(filter(None, (where, when))) or "elsewhere"


def _named(name: str) -> tuple[tuple[Name, ...], str]:
    exact, inflected, ordered = _index()
    key = folded(name)
    stems = tuple(_stem(word) for word in key.split() if word not in _JOINING)
    if key in exact:
        return exact[key], "exact"
    if stems in inflected:
        return inflected[stems], "inflection"
    return ordered.get(tuple(sorted(stems)), ()), "word order"


_NameIndex = tuple[
    Mapping[str, tuple[Name, ...]],
    Mapping[tuple[str, ...], tuple[Name, ...]],
    Mapping[tuple[str, ...], tuple[Name, ...]],
]


@cache
def _index() -> _NameIndex:
    exact: dict[str, tuple[Name, ...]] = {}
    inflected: dict[tuple[str, ...], tuple[Name, ...]] = {}
    ordered: dict[tuple[str, ...], tuple[Name, ...]] = {}
    for row in rows(Name):
        if row.meaning not in by_id(Substance) and row.meaning not in by_id(Preparation):
            raise TableError(
                f"{row.meaning!r} is no substance or preparation on file",
                f"{row.origin} meaning",
                "Add it to substances.csv, or mend the id.",
            )
        key = folded(row.name)
        stems = tuple(_stem(word) for word in key.split() if word not in _JOINING)
        exact[key] = (*exact.get(key, ()), row)
        inflected[stems] = (*inflected.get(stems, ()), row)
        in_any_order = tuple(sorted(stems))
        ordered[in_any_order] = (*ordered.get(in_any_order, ()), row)
    return exact, inflected, ordered


def _stem(word: str) -> str:
    """Strip an English plural; glycerine and glycerin, oxyd and oxide are names of their own in the table."""
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word  # noqa: PLR2004


def density(key: str) -> Value:
    """Return the density of a thing, or a stated wide spread where none is on file.

    Parameters
    ----------
    key : str
        Id of a substance or preparation.

    Returns
    -------
    Value
        Density [g/mL], from the lowest to the highest figure on file.

    Examples
    --------
    >>> print(density("water"))
    0.997 g/mL
    """
    what = thing(key)
    found = properties(key, "density")
    says = f"density of {what.name}"
    if not found:
        default = "any_liquid" if what.liquid else "any_solid"
        found = properties(f"class:{what.class_}", "density") or properties(default, "density")
        says = f"no density of {what.name} on file; taken as usual for its class or state"
    first = found[0]
    low = min(row.low if row.low is not None else row.value for row in found)
    high = max(row.high if row.high is not None else row.value for row in found)
    at = f" at {first.condition}" if first.condition else ""
    reason = first.reason(
        f"{says}: {first.value:g} g/mL{at}, printed {first.as_printed!r}"
        if first.as_printed
        else f"{says}: {first.value:g} g/mL{at}"
    )
    return Value(first.value, low, high, "g/mL", reason)


def properties(key: str, name: str) -> tuple[PropertyValue, ...]:
    """Return the published values of one property of one substance, the preferred first.

    Parameters
    ----------
    key : str
        Id of a substance or preparation, or ``class:`` and a class.
    name : str
        Such as ``"density"``.

    Returns
    -------
    tuple of PropertyValue
        Empty where nobody has looked.

    Examples
    --------
    >>> properties("talc", "colour of the sea")
    ()
    """
    return _properties().get((key, name), ())


@cache
def _properties() -> Mapping[tuple[str, str], tuple[PropertyValue, ...]]:
    found: dict[tuple[str, str], tuple[PropertyValue, ...]] = {}
    for row in rows(PropertyValue):
        found[row.substance, row.property] = (*found.get((row.substance, row.property), ()), row)
    return found


def drop(key: str) -> Spread | None:
    """Return the weight of one drop of a thing: the middle of what was weighed, and its limits.

    Parameters
    ----------
    key : str
        Id of a substance or preparation.

    Returns
    -------
    Spread or None
        Mass of one drop [g]; None where no source speaks for it, its class or any liquid.

    Examples
    --------
    >>> drop("bergamot_oil").unit
    'g'
    """
    what = thing(key)
    for liquid in (key, f"class:{what.class_}", "any"):
        found = [row for row in rows(Drop) if row.liquid == liquid]
        if found:
            milligrams = [row.drop_mg for row in found]
            of = what.name if liquid == key else liquid.removeprefix("class:").replace("any", "any liquid")
            weighed = tuple(row.reason(f"{row.method}: {row.as_printed}, {row.drop_mg:g} mg") for row in found)
            reason = Reason(
                f"a drop of {of}, {min(milligrams):g} to {max(milligrams):g} mg in {len(found)} sources", (), weighed
            )
            return Spread(
                f"drop: {what.name}",
                f"How heavy was a drop of {what.name}?",
                statistics.median(milligrams) / 1000,
                min(milligrams) / 1000,
                max(milligrams) / 1000,
                "g",
                reason,
            )
    return None
