"""What a period name may have meant, given when and where the book was written."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from reconlab.errors import AmbiguousError, TableError, UnknownNameError
from reconlab.materia.things import thing
from reconlab.reasons import Option, Question, in_order
from reconlab.receipts import Setting
from reconlab.spirit import spirit_options
from reconlab.tables import Name, Preparation, Strength, Substance, by_id, rows

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
        **dict.fromkeys('_()[]{}~;:\N{LEFT DOUBLE QUOTATION MARK}\N{RIGHT DOUBLE QUOTATION MARK}"', " "),
    }
)
_FOUND = {
    "exact": "its name on file",
    "inflection": "found by its singular or plural",
    "word order": "found with its words in another order",
}
_SPIRIT = "spirit"  # kind of a name that stands in the table of strengths
_SETTLES_STRENGTH = "the pharmacopoeia in force where the book was made, or the strength it states"
_JOINING = frozenset({"of", "the", "de", "du", "von"})


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
    spirits = dict.fromkeys(row.meaning for row in found if row.kind == _SPIRIT)
    found_things = [row for row in found if row.kind != _SPIRIT]
    here = [row for row in found_things if setting.within(row.regions, row.from_year, row.to_year)]
    options: dict[str, Option] = {}
    for option in spirit_options((by_id(Strength)[key] for key in spirits), setting):
        options[option.key] = option
    for row in (*here, *(row for row in found_things if row not in here)):
        if row.meaning in options:
            continue
        away = bool(here) and row not in here
        says = f"{name!r} was {thing(row.meaning).name}: {row.because} ({_FOUND[way]})"
        reason = row.reason(f"{says}; attested {_attested(row)}, not here" if away else says)
        standing = "unlikely" if away else row.standing
        options[row.meaning] = Option(row.meaning, standing, reason, thing(row.meaning).name)
    key = folded(name) if way == "exact" else folded(found[0].name)  # one name in any form is one question
    return Question(f"name: {key}", asks, in_order(options.values()))


def modern_thing(name: str) -> str:
    """Return the id of the substance whose modern name, INCI name or id this is, or nothing.

    Parameters
    ----------
    name : str
        A name as a modern label has it.

    Returns
    -------
    str
        The id; empty where no substance on file has that name.

    Examples
    --------
    >>> modern_thing("TITANIUM DIOXIDE"), modern_thing("flake white")
    ('titanium_dioxide', '')
    """
    wanted = folded(name)
    found = {row.id for row in rows(Substance) if wanted in (folded(row.id), folded(row.name), folded(row.inci))}
    return found.pop() if len(found) == 1 else ""


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
    key, words = _key_and_stems(name)
    if key in exact:
        return exact[key], "exact"
    if words in inflected:
        return inflected[words], "inflection"
    return ordered.get(tuple(sorted(words)), ()), "word order"


def _key_and_stems(name: str) -> tuple[str, tuple[str, ...]]:
    key = folded(name)
    return key, stems(word for word in key.split() if word not in _JOINING)


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
    for row in (*rows(Name), *_names_of_spirits()):
        if row.kind != _SPIRIT and row.meaning not in by_id(Substance) and row.meaning not in by_id(Preparation):
            raise TableError(
                f"{row.meaning!r} is no substance or preparation on file",
                f"{row.origin} meaning",
                "Add it to substances.csv, or mend the id.",
            )
        key, words = _key_and_stems(row.name)
        exact[key] = (*exact.get(key, ()), row)
        inflected[words] = (*inflected.get(words, ()), row)
        in_any_order = tuple(sorted(words))
        ordered[in_any_order] = (*ordered.get(in_any_order, ()), row)
    return exact, inflected, ordered


def _names_of_spirits() -> Iterator[Name]:
    """Give every name of the table of strengths as a name; what it meant there and then the strengths say."""
    for row in rows(Strength):
        for name in row.names:
            yield Name(
                sources=row.sources,
                origin=row.origin,
                own=row.own,
                name=name,
                language=row.language,
                meaning=row.id,
                kind=_SPIRIT,
                regions=row.regions,
                from_year=row.from_year,
                to_year=row.to_year,
                standing=row.standing,
                because=row.because,
                decides=_SETTLES_STRENGTH,
            )


def stems(words: Iterable[str]) -> tuple[str, ...]:
    """Return words without the endings that make no difference to a name.

    Parameters
    ----------
    words : iterable of str
        Folded words.

    Returns
    -------
    tuple of str
        In the same order.

    Examples
    --------
    >>> stems(["white", "leads"])
    ('white', 'lead')
    """
    return tuple(_stem(word) for word in words)


def _stem(word: str) -> str:
    """Strip an English plural; glycerine and glycerin, oxyd and oxide are names of their own in the table."""
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word  # noqa: PLR2004
