"""Words behind which a poison may stand: nothing on a page is harmless because nobody has read it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from reconlab.materia.things import UNKNOWN, thing
from reconlab.materia.words import folded, stems
from reconlab.reasons import Reason
from reconlab.tables import Name, NameWord, PoisonWord, rows

_PARTED_FROM = 7  # letters of a word that may have been printed as two
_LONGEST_PLAIN = 3  # words of a phrase that holds a poison's word and means none


@dataclass(frozen=True, slots=True)
class Alarm:
    """Words of a page behind which a poison may stand, what they may mean, and who says so."""

    words: str
    meanings: tuple[str, ...]
    reason: Reason


def alarms(text: str) -> tuple[Alarm, ...]:
    """Return the words of a text behind which a poison may stand, the longest reading of each place.

    Parameters
    ----------
    text : str
        A name, a line or a title.

    Returns
    -------
    tuple of Alarm
        In the order of the text; empty where none was found, which does not make it harmless.

    Examples
    --------
    >>> [alarm.words for alarm in alarms("Pearl powder or white lead, a pinch")]
    ['white lead']
    >>> alarms("Rose water")
    ()
    """
    words = folded(text).split()
    cut, found, at = stems(words), [], 0
    while at < len(words):
        if plain := next((n for n in range(_LONGEST_PLAIN, 1, -1) if cut[at : at + n] in _plain()), 0):
            at += plain
            continue
        length = next((n for n in _lengths().get(cut[at], ()) if cut[at : at + n] in _dangerous()), 0)
        if not length and (parted := _parted(words, at)):
            found.append(Alarm(" ".join(words[at : at + 2]), *_dangerous()[parted]))
            at += 2
            continue
        if length:
            found.append(Alarm(" ".join(words[at : at + length]), *_dangerous()[cut[at : at + length]]))
        at += length or 1
    return tuple(found)


def _parted(words: Sequence[str], at: int) -> tuple[str, ...]:
    """Return the poison's word that two words are, printed apart: wolf's bane, rats bane."""
    whole = "".join(words[at : at + 2]).replace("'", "").replace("\N{RIGHT SINGLE QUOTATION MARK}", "")
    return stems([whole]) if len(whole) > len(words[at]) and whole in _single() else ()


@cache
def _plain() -> frozenset[tuple[str, ...]]:
    """Return the phrases that hold a poison's word and mean none: soufre sublimé is no sublimate."""
    return frozenset(stems(folded(row.word).split()) for row in rows(NameWord) if row.role == "plain")


@cache
def _single() -> frozenset[str]:
    named = (folded(row.word) for row in rows(PoisonWord))
    return frozenset(word for word in named if " " not in word and len(word) >= _PARTED_FROM)


@cache
def _lengths() -> Mapping[str, tuple[int, ...]]:
    """Return of how many words the phrases are that open with a word, the longest first."""
    found: dict[str, set[int]] = {}
    for words in _dangerous():
        found.setdefault(words[0], set()).add(len(words))
    return {first: tuple(sorted(lengths, reverse=True)) for first, lengths in found.items()}


@cache
def _dangerous() -> Mapping[tuple[str, ...], tuple[tuple[str, ...], Reason]]:
    found: dict[tuple[str, ...], tuple[tuple[str, ...], Reason]] = {}
    for word in rows(PoisonWord):
        reason = word.reason(f"{word.word!r} may stand for a poison: {word.family}")
        found[stems(folded(word.word).split())] = (f"{UNKNOWN}{word.word}",), reason
    meanings: dict[tuple[str, ...], list[Name]] = {}
    for row in rows(Name):
        meanings.setdefault(stems(folded(row.name).split()), []).append(row)
    for words, named in meanings.items():
        # An unlikely meaning is looked at where the name stands for an ingredient, not wherever it is mentioned.
        poisonous = [row for row in named if thing(row.meaning).never_handled and row.standing != "unlikely"]
        if poisonous:
            reason = poisonous[0].reason(f"{poisonous[0].name!r} may have been {thing(poisonous[0].meaning).name}")
            found[words] = tuple(dict.fromkeys(row.meaning for row in named)), reason
    return found
