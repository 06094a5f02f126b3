"""Which things can do harm: likeness and short forms must never choose between one of them and a harmless one."""

from __future__ import annotations

from functools import cache, lru_cache

from reconlab.materia.made import made_of
from reconlab.materia.poisons import alarms
from reconlab.materia.things import UNKNOWN, thing
from reconlab.materia.words import folded
from reconlab.reasons import Reason
from reconlab.spirit import solute_of
from reconlab.tables import Name, Rule, Strength, rows


@lru_cache(maxsize=8192)
def harmful(meaning: str) -> bool:
    """Return whether a thing can do harm, as far as the tables go: rather once too often than once too seldom.

    Harmful is what is never handled, what is filed as a poison, what a law on file forbids whatever the use, what a
    name on file or its own calls by a poison's word, and what any of these is dissolved in.

    Parameters
    ----------
    meaning : str
        Id of a substance or preparation, or an unknown thing with its name.

    Returns
    -------
    bool
        False only where none of this holds, which does not make it harmless.

    Examples
    --------
    >>> harmful("white_lead"), harmful("rose_water"), harmful("not identified: sugar of lead")
    (True, False, True)
    """
    if meaning.startswith(UNKNOWN):
        return bool(alarms(meaning.removeprefix(UNKNOWN)))
    if made := made_of(meaning):
        return any(harmful(one.id) for one in made.things) or bool(alarms(made.name))
    dissolved = solute_of(meaning)  # weak or strong: how weak is too weak to harm, no table says
    return _by_itself(meaning) or meaning in _called_so() or bool(dissolved and harmful(dissolved))


@lru_cache(maxsize=1024)
def why_harmful(meaning: str) -> tuple[Reason, ...]:
    """Return who hears a poison behind the names of a thing.

    Parameters
    ----------
    meaning : str
        Id of a substance.

    Returns
    -------
    tuple of Reason
        One for each word heard, with its sources; empty where none is.

    Examples
    --------
    >>> [reason.says for reason in why_harmful("rose_water")]
    []
    """
    if made := made_of(meaning):
        return tuple(reason for one in made.things for reason in why_harmful(one.id))
    called = [row.name for row in rows(Name) if row.meaning == meaning]
    called += [name for row in rows(Strength) if meaning in (row.id, row.solute) for name in row.names]
    heard = {alarm.words: alarm.reason for name in (thing(meaning).name, *called) for alarm in alarms(name)}
    return tuple(heard.values())


def _by_itself(meaning: str) -> bool:
    what = thing(meaning)
    return bool(what.never_handled) or what.class_ == "poison" or meaning in _forbidden() or bool(alarms(what.name))


@cache
def _forbidden() -> frozenset[str]:
    return frozenset(rule.substance for rule in rows(Rule) if rule.rule == "forbidden" and not _bound(rule))


def _bound(rule: Rule) -> bool:
    """Tell whether a rule is about some uses only: a white forbidden in sprays is no poison."""
    return any((rule.on, rule.physical, rule.dust, rule.stays, rule.wearer))


@cache
def _called_so() -> frozenset[str]:
    """Return what a poison's word names where nothing else explains the alarm: flake white makes bismuth none."""
    named: dict[str, list[Name]] = {}
    for row in rows(Name):
        if alarms(row.name):
            named.setdefault(folded(row.name), []).append(row)
    unexplained = (each for each in named.values() if not any(_by_itself(row.meaning) for row in each))
    solutions = (row.id for row in rows(Strength) if any(map(alarms, row.names)))
    return frozenset((*solutions, *(row.meaning for each in unexplained for row in each if row.standing != "unlikely")))
