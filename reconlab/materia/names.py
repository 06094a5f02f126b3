"""What a period name may have meant, given when and where the book was written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache, lru_cache

from reconlab.errors import AmbiguousError, UnknownNameError, text_given
from reconlab.materia.harm import harmful
from reconlab.materia.index import SPIRIT, Found, by_name
from reconlab.materia.likeness import by_likeness
from reconlab.materia.lookup import by_rule
from reconlab.materia.old_spelling import modern_spellings
from reconlab.materia.phrases import by_phrase
from reconlab.materia.poisons import alarms
from reconlab.materia.things import UNKNOWN, thing
from reconlab.materia.words import LONGEST, MOST_WORDS, folded
from reconlab.reasons import Option, Question, Reason, Standing, in_order
from reconlab.receipts import Setting, one_setting
from reconlab.spirit import spirit_options
from reconlab.tables import Name, Strength, Substance, by_id, rows

_SAY_WHAT = "say what it is, and on whose word"
_NEAR_NAME = "the page itself, seen again: which of the names it prints, or another"


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
    found = list(_of_today(wanted) or dict.fromkeys(row.id for row in rows(Substance) if words.strip() in row.cas))
    if not found:
        named = by_name(words)
        found = sorted({row.meaning for row in named.rows if row.kind == "substance"}) if named else []
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


def identify(
    name: str, setting: Setting | None = None, *, years: str = "", place: str = "", book: str = ""
) -> Question | None:
    """Return what a period name may have meant, as a question with every meaning on file.

    A meaning attested only for other years or regions stays on the list as unlikely: a name is never made
    harmless by its date.

    Parameters
    ----------
    name : str
        The name as printed.
    setting : Setting, optional
        When and where; without it every meaning stands as its source has it.
    years, place, book : str
        The same in words, in place of a setting.

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
    found = _found(text_given(name, "name"))
    if found is None:
        return None
    options: dict[str, Option] = {}
    for option in _options(name, found, one_setting(setting, Setting(years, place, book))):
        options.setdefault(option.key, option)
    if not found.sure:
        options.update((option.key, option) for option in not_identified(name, "possible").options)
    asks = f"What was \N{LEFT DOUBLE QUOTATION MARK}{name}\N{RIGHT DOUBLE QUOTATION MARK}?"
    # one name in any form is one question; where the form leaves a doubt it is a question of its own
    key = folded(name if found.way == "exact" or not found.sure else found.rows[0].name)
    return Question(f"name: {key}", asks, in_order(options.values()), decides=_decides(found))


def not_identified(name: str, standing: Standing = "likely") -> Question:
    """Return the question a name is that the tables do not know: a person says what it was.

    Parameters
    ----------
    name : str
        The name as printed.
    standing : str
        How sure it is that it is none of the things on file.

    Returns
    -------
    Question
        Its one answer is the thing nobody has identified; a decision brings another.

    Examples
    --------
    >>> not_identified("sea foam").options[0].key
    'not identified: sea foam'
    """
    says = f"nothing on file is called {name!r}; {_SAY_WHAT}"
    if len(name) > LONGEST or len(folded(name).split()) > MOST_WORDS:
        says = f"too long for the name of one thing; give the name alone, or have the line read, or {_SAY_WHAT}"
    elif not folded(name):
        says = f"no name is given; {_SAY_WHAT}"
    option = Option(f"{UNKNOWN}{folded(name)}", standing, Reason(says), f"{name} (not identified)")
    return Question(f"name: {folded(name)}", f"What was {name}?", (option,))


def _options(name: str, found: Found, setting: Setting) -> Iterator[Option]:
    spirits = dict.fromkeys(row.meaning for row in found.rows if row.kind == SPIRIT)
    yield from (
        _sure_as(found, option) for option in spirit_options((by_id(Strength)[key] for key in spirits), setting)
    )
    things = [row for row in found.rows if row.kind != SPIRIT]
    here = [row for row in things if setting.within(row.regions, row.from_year, row.to_year)]
    tongue = _TONGUES.get(setting.of_text.region[:2], "")
    own = any(row.language == tongue for row in here)
    for row in (*here, *(row for row in things if row not in here)):
        was = "was" if found.sure else "may have been"
        says = f"{name!r} {was} {thing(row.meaning).name}: {row.because} ({found.told})"
        standing: Standing = row.standing
        if row not in here:
            says = f"{says}; attested {_attested(row)}, not here"
            standing = "unlikely" if here else _at_most_possible(standing)
        elif own and row.language != tongue and row.language in _TONGUES.values():
            says = f"{says}; in another tongue than that of the place"  # French mauve is mallow, English mauve a dye
            standing = _at_most_possible(standing)
        yield _sure_as(found, Option(row.meaning, standing, row.reason(says), thing(row.meaning).name))
    for key in found.poisons:
        says = f"{name!r} may be {thing(key).name!r}, behind which a poison may stand ({found.told})"
        yield Option(key, "possible", Reason(says, (), tuple(alarm.reason for alarm in alarms(thing(key).name))), key)


_TONGUES = {"GB": "en", "IE": "en", "US": "en", "FR": "fr", "DE": "de", "AT": "de"}  # of books from there


def _sure_as(found: Found, option: Option) -> Option:
    return option if found.sure else replace(option, standing=_at_most_possible(option.standing))


def _at_most_possible(standing: Standing) -> Standing:
    return "possible" if standing == "likely" else standing


def _decides(found: Found) -> tuple[str, ...]:
    doubt = () if found.sure else (_NEAR_NAME,)
    return tuple(dict.fromkeys((*(row.decides for row in found.rows if row.decides), *doubt)))


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
    found = _of_today(folded(name))
    return found[0] if len(found) == 1 else ""


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
    found = _found(name)
    return _decides(found) if found else ()


def found_by(name: str) -> str:
    """Return how a name was found; nothing where it was not.

    In the order they are tried: exact, inflection (singular and plural, Latin cases and heads, older spellings), word
    order, spelling (blanks), abbreviation, head noun (without words of quality or origin), form (without a part of the
    plant, a powder as the thing), translation (a French, German or Latin name by its words in English), kind (a
    preparation by its head, whose formula is not on file), alternatives (one thing or another), likeness.

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
    >>> found_by("oxide of zinc"), found_by("zinc oxide"), found_by("oil of burgamot")
    ('exact', 'word order', 'likeness')
    """
    found = _found(name)
    return found.way if found else ""


def _of_today(wanted: str) -> tuple[str, ...]:
    """Return the substances of a folded modern name or id, or else of an INCI name, which several may share."""
    by_name, by_inci = _names_of_today()
    return by_name.get(wanted) or by_inci.get(wanted, ())


@cache
def _names_of_today() -> tuple[Mapping[str, tuple[str, ...]], Mapping[str, tuple[str, ...]]]:
    by_name: dict[str, tuple[str, ...]] = {}
    by_inci: dict[str, tuple[str, ...]] = {}
    for row in rows(Substance):
        for key in {folded(row.id), folded(row.name)}:
            by_name[key] = (*by_name.get(key, ()), row.id)
        if row.inci:
            by_inci[folded(row.inci)] = (*by_inci.get(folded(row.inci), ()), row.id)
    return by_name, by_inci


@lru_cache(maxsize=8192)
def _found(name: str) -> Found | None:
    found = by_rule(name) or by_phrase(name) or _old(name)
    if found is None:
        return by_likeness(name)
    if found.way == "exact" or any(map(harmful, _meanings(found))):
        return found
    near = by_likeness(name, harm_only=True)  # a form no name on file has may be a misprint: tilii is til, or tiglii
    if near is None:
        return found
    either = tuple(dict.fromkeys((*found.rows, *near.rows)))
    return Found(either, found.way, f"{found.told}, or {near.told}", sure=False, poisons=near.poisons)


def _old(name: str) -> Found | None:
    """Find a name by the words of an older spelling; where they may be several words each is an answer."""
    each = [found for words in modern_spellings(name) if (found := by_rule(words, short=False) or by_phrase(words))]
    if not each:
        return None
    named = tuple(dict.fromkeys(row for one in each for row in one.rows))
    poisons = tuple(dict.fromkeys(key for one in each for key in one.poisons))
    sure = all(one.sure for one in each) and len({frozenset(_meanings(one)) for one in each}) == 1
    return Found(named, "spelling", "found by its older spelling", sure, poisons)


def _meanings(found: Found) -> tuple[str, ...]:
    return (*(row.meaning for row in found.rows), *found.poisons)


def _attested(row: Name) -> str:
    where = "/".join(row.regions)
    when = f"{row.from_year or ''}-{row.to_year or ''}" if row.from_year or row.to_year else ""
    return " ".join(filter(None, (where, when))) or "elsewhere"
