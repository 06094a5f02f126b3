"""What is strong in a line: spirit and other solutions, their strength printed or known by their name."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from reconlab.errors import InputError, UnknownNameError
from reconlab.liquids import LiquidMeaning, liquid_strength
from reconlab.materia import ETHANOL, UNKNOWN, alarms, folded, thing
from reconlab.materia.made import made_of
from reconlab.reasons import Option, Question, Spread, Value, in_order
from reconlab.receipts import Item, Setting
from reconlab.spirit import (
    content_density,
    content_of,
    has_table,
    solute_of,
    solution_question,
    strength_of,
    strength_question,
)
from reconlab.tables import Strength, StrengthScale, rows
from reconlab.ways import Array

_PLAIN_SOLUTION = "solution"  # kind of a preparation that is one thing in water
_NO_FIGURE = re.compile(r"[\s,]*\b(?:(?:in|of) )?strength\b[\s,)]*$", re.IGNORECASE)  # 90 per cent strength
_JOINING = frozenset({"of", "from", "the"})


@dataclass(frozen=True)
class Strong:
    """A thing dissolved in water: what, how much of it by weight, and the density at any strength."""

    solute: str
    percent: Spread  # % w/w
    density: Callable[[Array], Array]  # g/mL


def strong(key: str) -> Strong | None:
    """Return what a thing is a solution of, by its key; None where it is none."""
    value = content_of(key)
    if value is None:
        return None

    def dense(percent: Array) -> Array:
        return np.asarray(content_density(key, percent))

    return Strong(solute_of(key), _spread(key, value), dense)


def _spread(key: str, value: Value) -> Spread:
    """Return a strength as a question of its own only where its range matters: half a printed digit does not."""
    name = thing(key).name
    low, high = (value.low, value.high) if value.wide else (value.number, value.number)
    return Spread(f"strength: {name}", f"How strong was {name}?", value.number, low, high, value.unit, value.reason)


def strength_asked(item: Item, name: Question | None, setting: Setting) -> Question | None:
    """Return the strength printed with a spirit or solution as a question; None where it is none on file."""
    if not item.strength:
        return None
    dissolved, said = _dissolved(name), _NO_FIGURE.sub("", item.strength)
    try:
        asked = solution_question(dissolved, said) if dissolved else strength_question(said, setting, item.name)
    except (InputError, UnknownNameError):
        return _by_degrees(item, dissolved, setting) if dissolved else None
    if dissolved:
        return replace(asked, asks=_asks(item))
    if name is None:  # no strength hides a poison behind an unknown name
        sure = _on_scale_of_spirits(item.strength) or _spirit_by_words(item.name)
        return replace(asked, asks=_asks(item)) if sure and not alarms(item.name) else None
    spirits = all(strength_of(option.key) is not None or option.key == ETHANOL for option in name.options)
    return replace(asked, asks=_asks(item)) if spirits else None


def _by_degrees(item: Item, dissolved: str, setting: Setting) -> Question | None:
    """Return the degrees of a hydrometer, of a solution with a table, as a question: each maker had his own scale."""
    try:
        answer = liquid_strength(item.strength, setting, item.name)
    except (InputError, UnknownNameError):
        return None
    meanings = [meaning for meaning in answer.meanings if meaning.value is not None] if answer else []
    options = [option for meaning in meanings if (option := _as_option(meaning, dissolved)) is not None]
    told = {option.key: option for option in reversed(options)}
    if not told:
        return None
    words = " ".join(item.strength.strip(" (),").split())
    return Question(f"strength: {dissolved} {words}", _asks(item), tuple(in_order(told.values())))


def _as_option(meaning: LiquidMeaning, dissolved: str) -> Option | None:
    """Return a meaning of degrees as an answer: the share its gravity has by the table of solutions."""
    assert meaning.value is not None  # noqa: S101 - those without one were left out
    share = meaning.value.number
    try:
        found = solution_question(dissolved, f"sp. gr. {meaning.gravity:.4f}").options
    except InputError:
        return None  # the last figure falls outside the table
    near = min(found, key=lambda option: abs(_share(option.key) - share))
    return replace(near, standing=meaning.standing, reason=meaning.reason, label=f"{meaning.label}: {near.words}")


def _share(key: str) -> float:
    value = content_of(key)
    return value.number if value is not None else 0.0


def _asks(item: Item) -> str:
    return f"How strong was the {item.name}, {item.strength.strip(' (),')}?"


def _dissolved(name: Question | None) -> str:
    """Return the one thing other than ethanol that every meaning of a name is, or is a solution of, with a table."""
    solutes = {_in_water(option.key) for option in name.options} if name else set()
    only = solutes.pop() if len(solutes) == 1 else ""
    return only if only != ETHANOL and has_table(only) else ""


def _in_water(key: str) -> str:
    """Return what a thing is a solution of, also of one whose formula is not on file; else itself."""
    made = made_of(key)
    plain = made is not None and made.kind.kind == _PLAIN_SOLUTION and not made.making and len(made.things) == 1
    return solute_of(key) or (made.things[0].id if made is not None and plain else key)


@cache
def _said_of_spirits() -> frozenset[str]:
    """Return the words of scales that are for spirits alone, such as over proof and Cartier."""
    scales = (row for row in rows(StrengthScale) if row.form in ("proof", "over proof", "table", "by volume"))
    return frozenset(words for row in scales for words in (*row.said, *row.said_below))


def _on_scale_of_spirits(strength: str) -> bool:
    words = f" {folded(strength)} "
    return any(f" {said} " in words for said in _said_of_spirits())


@cache
def _spirit_words() -> frozenset[str]:
    spirits = (row for row in rows(Strength) if row.solute == ETHANOL)
    return frozenset(word for row in spirits for name in row.names for word in folded(name).split())


def _spirit_by_words(name: str) -> bool:
    words = [word for word in folded(name).split() if word not in _JOINING]
    return bool(words) and all(word in _spirit_words() for word in words)


def own_strength(words: str, question: Question) -> str:
    """Return the key of a strength a person has given in words of her own, or nothing.

    Only words that mean one strength anywhere are taken ("92 per cent by volume", not "92"), and only of what may be a
    spirit, or a solution with a table: no other name is made harmless by them.
    """
    row = next((row for row in rows(Strength) if folded(row.label) == folded(words)), None)
    if row is not None:
        return row.id
    if not any(letter.isdigit() for letter in words):
        return ""
    dissolved = _dissolved(question)
    if not dissolved and not _may_be_spirit(question):
        return ""
    try:
        asked = solution_question(dissolved, words) if dissolved else strength_question(words, Setting())
    except (InputError, UnknownNameError):
        return ""
    return asked.chosen.key if asked.chosen else ""


def _may_be_spirit(question: Question) -> bool:
    keys = [option.key for option in question.options]
    nobody_knows = all(key.startswith(UNKNOWN) for key in keys) and not any(
        alarms(option.words) for option in question.options
    )
    return nobody_knows or all(key == ETHANOL or strength_of(key) is not None for key in keys)
