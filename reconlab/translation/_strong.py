"""What is strong in a line: spirit and other solutions, their strength printed or known by their name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from reconlab.errors import InputError, UnknownNameError
from reconlab.materia import ETHANOL, folded, thing
from reconlab.reasons import Question, Spread, Value
from reconlab.receipts import Item, Setting
from reconlab.spirit import spirit_density, spirit_reference_c, strength_of, strength_question
from reconlab.tables import Strength, StrengthScale, rows
from reconlab.ways import Array

_JOINING = frozenset({"of", "from", "the"})


@dataclass(frozen=True)
class Strong:
    """A thing dissolved in water: what, how much of it by weight, and the density at any strength."""

    solute: str
    percent: Spread  # % w/w
    density: Callable[[Array], Array]  # g/mL


def strong(key: str) -> Strong | None:
    """Return what a thing is a solution of, by its key; None where it is none."""
    value = strength_of(key)
    if value is None:
        return None
    celsius = spirit_reference_c(key)

    def dense(percent: Array) -> Array:
        return np.asarray(spirit_density(percent, celsius))

    return Strong(ETHANOL, _spread(key, value), dense)


def _spread(key: str, value: Value) -> Spread:
    """Return a strength as a question of its own only where its range matters: half a printed digit does not."""
    name = thing(key).name
    low, high = (value.low, value.high) if value.wide else (value.number, value.number)
    return Spread(f"strength: {name}", f"How strong was {name}?", value.number, low, high, value.unit, value.reason)


def strength_asked(item: Item, name: Question | None, setting: Setting) -> Question | None:
    """Return the strength printed with a spirit as a question; None where it is no strength of spirit."""
    if not item.strength:
        return None
    try:
        asked = strength_question(item.strength, setting)
    except (InputError, UnknownNameError):
        return None
    sure = _on_scale_of_spirits(item.strength)
    spirits = name is not None and all(
        strength_of(option.key) is not None or option.key == ETHANOL for option in name.options
    )
    if not (spirits or sure or (name is None and _spirit_by_words(item.name))):
        return None
    return replace(asked, asks=f"How strong was the {item.name}, {item.strength.strip(' ().,')}?")


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
    return frozenset(word for row in rows(Strength) for name in row.names for word in folded(name).split())


def _spirit_by_words(name: str) -> bool:
    words = [word for word in folded(name).split() if word not in _JOINING]
    return bool(words) and all(word in _spirit_words() for word in words)


def own_strength(words: str) -> str:
    """Return the key of a strength a person has given in words of her own, or nothing.

    Only words that mean one strength anywhere are taken: "92 per cent by volume", not "92".
    """
    row = next((row for row in rows(Strength) if folded(row.label) == folded(words)), None)
    if row is not None:
        return row.id
    if not any(letter.isdigit() for letter in words):
        return ""
    try:
        chosen = strength_question(words, Setting()).chosen
    except (InputError, UnknownNameError):
        return ""
    return chosen.key if chosen else ""
