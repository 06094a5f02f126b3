"""A name that is on file under nearly the same letters: for scans and odd spelling, and never more than possible.

A word that stands in any name on file is taken as rightly spelt: only words the tables do not know are looked for among
those they know. Poisons are heard one letter further off than harmless things, and stand beside them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import islice, product

from reconlab.materia.harm import harmful
from reconlab.materia.index import Found, holds, names_on_file
from reconlab.materia.lookup import by_rule
from reconlab.materia.poisons import alarms
from reconlab.materia.things import UNKNOWN
from reconlab.materia.words import JOINING, LONGEST, MOST_WORDS, folded, scanned, stems
from reconlab.tables import Name, NameWord, Notation, PoisonWord, rows

_SALT_ENDING = re.compile(r"(?:(?:at|it|id)(?:es?|is|a|um|i|ae|us)?|urets?|as|is|ic|ous)$")
_MOST_UNKNOWN = 2  # words of a name that may be misspelt; with more of them nothing is left to go by
_MOST_TRIED = 48  # readings of one name
_ENDING = 2  # last letters that must agree: chloride, chlorate and chlorite are three things
_HEARD_FROM = 7  # letters of a word that calls up a poison where nothing harmless is near
_ONE_EDIT = 2  # what an edit costs; what a scan confuses costs 1
_SHORT_FORM = re.compile(r"\b([^\W\d_]{1,5})\.")  # a short form is no misprint
# Letters a word must have for one edit and for two, beside known words and alone.
_BESIDE, _ALONE = (5, 10), (7, 11)


def by_likeness(name: str, *, harm_only: bool = False) -> Found | None:
    """Return the rows of the nearest names on file, with every poison as near or one edit further.

    Parameters
    ----------
    name : str
        A name no rule leads to a name on file.
    harm_only : bool
        Whether harmless things are passed over: for a name a rule leads to one of those.

    Returns
    -------
    Found or None
        None where nothing is near.

    Examples
    --------
    >>> by_likeness("oil of burgamot").rows[0].name, by_likeness("flowers of Jupiter")
    ('oil of bergamot', None)
    """
    words = folded(name).split() if len(name) <= LONGEST else []
    if not 0 < len(words) <= MOST_WORDS or alarms(name):  # a poison's word is heard as it stands
        return None
    passed = JOINING.union(short.lower() for short in _SHORT_FORM.findall(name))
    unknown = [at for at, word in enumerate(words) if word not in passed and not _known(word) and _readable(word)]
    if not 0 < len(unknown) <= _MOST_UNKNOWN:
        return None
    alone = len(unknown) == sum(word not in JOINING for word in words)
    found = sorted(_readings(words, unknown, alone=alone), key=lambda one: one.cost)
    if harm_only:
        return _together([one for one in found if one.fair and one.harms], name)
    harmless = next((one.cost for one in found if not one.harms), None)
    if harmless is None:
        told = [one for one in found if one.heard or (one.rows and one.fair)]
        near = [one for one in told if one.cost == told[0].cost]
    else:
        near = [one for one in found if one.cost <= harmless + (_ONE_EDIT if one.harms else 0)]
    return _together(near, name)


@dataclass(frozen=True, slots=True)
class _Reading:
    """What a name would be with its unknown words read as words on file."""

    cost: int  # edits, each counted twice
    fair: bool  # near enough for a harmless thing
    heard: bool  # near enough for a poison alone
    rows: tuple[Name, ...]
    poisons: tuple[str, ...] = ()

    @property
    def harms(self) -> bool:
        return bool(self.poisons) or any(harmful(row.meaning) for row in self.rows)


@dataclass(frozen=True, slots=True)
class _Choice:
    """A word on file that a word of the page may be."""

    word: str
    cost: int = 0  # edits, each counted twice
    fair: bool = False  # near enough for a harmless thing
    heard: bool = True  # near enough for a poison, though nothing harmless is near
    same_ending: bool = False


def _readings(words: Sequence[str], unknown: Sequence[int], *, alone: bool) -> Iterator[_Reading]:
    choices = [_choices(words[at], alone=alone) for at in unknown]
    if len(unknown) > 1:  # one word may name a poison beside another that nobody knows
        choices = [[*few, _Choice(words[at])] for at, few in zip(unknown, choices, strict=True)]
    for picked in islice(product(*choices), _MOST_TRIED):
        put = dict(zip(unknown, picked, strict=True))
        phrase = " ".join(put[at].word if at in put else word for at, word in enumerate(words))
        cost, fair = sum(one.cost for one in picked), all(one.fair for one in picked)
        heard = all(one.heard for one in picked)
        found = by_rule(phrase, short=False)
        if found is not None and found.sure:
            reading = _Reading(cost, fair, heard, found.rows)
            if reading.harms or (fair and all(one.same_ending and holds(found, one.word) for one in picked)):
                yield reading
        elif rung := alarms(phrase):
            yield _Reading(cost, fair, heard, (), tuple(dict.fromkeys(f"{UNKNOWN}{alarm.words}" for alarm in rung)))


def _choices(word: str, *, alone: bool) -> list[_Choice]:
    """Return the words near a word, the nearest first; of poisons those one edit too far as well."""
    budget = sum(len(word) >= least for least in (_ALONE if alone else _BESIDE))
    found = []
    for near, cost in _near(word):
        if (not _readable(near) and not _has_figure(word)) or _another_salt(word, near):
            continue  # nothing is read as a short form, nor as the salt of another acid
        scan = cost < _ONE_EDIT and (_has_figure(word) or len(word) >= _BESIDE[0] - (not alone))
        fair = cost <= _ONE_EDIT * budget or scan
        if fair or (near in _poisonous() and len(word) >= _ALONE[0] and cost <= _ONE_EDIT * (budget + 1)):
            found.append(_Choice(near, cost, fair, fair and _sounds(word, near, cost), _same_ending(word, near)))
    return sorted(found, key=lambda one: (one.cost, one.word not in _poisonous(), one.word))


def _another_salt(word: str, near: str) -> bool:
    """Tell whether two words differ by the ending of a salt alone: a chlorite is no chlorate."""
    one, other = (_SALT_ENDING.split(each) for each in (word, near))
    return word != near and len(one) == len(other) == 2 and one[0] == other[0]  # noqa: PLR2004 - root and ending


def _readable(word: str) -> bool:
    """Tell whether a word has letters enough to go by; figures among letters are a scan's."""
    return len(word) >= _BESIDE[0] - 1 or _has_figure(word)


def _sounds(word: str, near: str, cost: int) -> bool:
    """Tell whether a word alone calls up a poison: short words are near to too much."""
    one, other = _alike(word), _alike(near)
    return cost < _ONE_EDIT or (len(word) >= _HEARD_FROM and one[0] == other[0] and one[-1] == other[-1])


def _same_ending(word: str, near: str) -> bool:
    if _alike(word) == _alike(near):
        return True
    one, other = stems((word, near))
    affixed = one.endswith(other) or other.endswith(one)  # bicarbonate is no misprint of carbonate
    return one[-_ENDING:] == other[-_ENDING:] and not affixed


def _has_figure(word: str) -> bool:
    return any(letter.isdecimal() for letter in word)


def _together(near: Sequence[_Reading], name: str) -> Found | None:
    named = tuple(dict.fromkeys(row for one in near for row in one.rows))
    poisons = tuple(dict.fromkeys(key for one in near for key in one.poisons))
    if not named and not poisons:
        return None
    heard = (key.removeprefix(UNKNOWN) for key in poisons)
    like = " or ".join(repr(each) for each in dict.fromkeys([*(row.name for row in named), *heard]))
    return Found(named, "likeness", f"not on file; {name!r} is spelt much like {like}", sure=False, poisons=poisons)


# Words


def _known(word: str) -> bool:
    return word in _vocabulary() or stems([word])[0] in _stems_on_file()


@cache
def _vocabulary() -> Mapping[str, tuple[str, int]]:
    """Return every word of a name or of a poison, with its letters made equal and as a set of bits."""
    named = (word for name in names_on_file() for word in name.split())
    poisons = (word for row in rows(PoisonWord) for word in folded(row.word).split())
    marks = (word for row in rows(NameWord) for word in (*folded(row.word).split(), *folded(row.stands_for).split()))
    signs = (word for row in rows(Notation) if row.meaning == "preparation" for word in folded(row.printed).split())
    words = dict.fromkeys((*named, *poisons, *marks, *signs))
    return {word: (alike := _alike(word), _bits(alike)) for word in words if word.isalpha() and len(word) > 1}


@cache
def _stems_on_file() -> frozenset[str]:
    return frozenset(stems(_vocabulary()))


@cache
def _poisonous() -> frozenset[str]:
    """Return the words of poisons, and those of names that may mean a harmful thing."""
    found = {word for row in rows(PoisonWord) for word in folded(row.word).split()}
    for row in rows(Name):
        if harmful(row.meaning):
            found.update(folded(row.name).split())
    return frozenset(found)


@cache
def _by_length() -> Mapping[int, tuple[tuple[str, str, int, int], ...]]:
    """Return the words on file by length; a poison's word is looked for one edit further."""
    found: dict[int, list[tuple[str, str, int, int]]] = {}
    for word, (alike, bits) in _vocabulary().items():
        found.setdefault(len(alike), []).append((word, alike, bits, int(word in _poisonous())))
    return {length: tuple(words) for length, words in found.items()}


def _alike(word: str) -> str:
    return scanned(stems([word])[0])


def _bits(word: str) -> int:
    """Return the letters of a word as bits, a second and further one of a kind as a bit of its own."""
    bits = 0
    for letter in word:
        bit = 1 << ord(letter) % 32
        bits |= bit << 32 if bits & bit else bit
    return bits


@lru_cache(maxsize=8192)
def _near(word: str) -> tuple[tuple[str, int], ...]:
    """Return the words on file within three edits, each counted twice; what a scan confuses is half an edit in all."""
    alike = _alike(word)
    fair = sum(len(word) >= min(least) for least in zip(_BESIDE, _ALONE, strict=True))
    bits, found = _bits(alike), []
    for length in range(len(alike) - fair - 1, len(alike) + fair + 2):
        for near, near_alike, near_bits, reach in _by_length().get(length, ()):
            most = fair + reach
            # each edit takes one letter out of the set and puts one in, at most
            if (bits & ~near_bits).bit_count() <= most and (near_bits & ~bits).bit_count() <= most:
                cost = _edits(alike, near_alike, most)
                if cost <= most:
                    found.append((near, _ONE_EDIT * cost or _scan_cost(word, near)))
    return tuple(found)


def _scan_cost(word: str, near: str) -> int:
    """Return what letters confused by a scan cost: in a short word several of them are as much as an edit."""
    return 1 if len(word) >= _HEARD_FROM or _edits(word, near, 1) <= 1 else _ONE_EDIT


def _edits(one: str, other: str, most: int) -> int:
    """Return how many letters are put in, left out, changed or swapped with a neighbour; one over `most` at most."""
    far = most + 1
    if abs(len(one) - len(other)) > most:
        return far
    width = len(other) + 1
    before, last = [far] * width, [j if j <= most else far for j in range(width)]
    for i, letter in enumerate(one, start=1):
        row = [far] * width  # only cells within `most` of the diagonal can matter
        row[0] = min(i, far)
        least = row[0]
        for j in range(max(1, i - most), min(width, i + far)):
            against = other[j - 1]
            cell = last[j - 1] if letter == against else 1 + min(last[j - 1], last[j], row[j - 1])
            if i > 1 and j > 1 and letter != against and letter == other[j - 2] and one[i - 2] == against:
                cell = min(cell, before[j - 2] + 1)
            row[j] = cell
            least = min(least, cell)
        if least > most:
            return far
        before, last = last, row
    return min(last[-1], far)
