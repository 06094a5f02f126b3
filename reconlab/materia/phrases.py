"""Names of more than one thing: a preparation named after what it is made of, one thing or another, and brackets."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import product

from reconlab.materia.harm import harmful
from reconlab.materia.index import SPIRIT, Found, by_name, root_of
from reconlab.materia.lookup import by_rule, honest, shortened
from reconlab.materia.made import Made, heads, kind_of
from reconlab.materia.things import thing
from reconlab.materia.tongues import compounds, readings
from reconlab.materia.words import JOINING, LONGEST, MOST_WORDS, folded
from reconlab.spirit import solute_of
from reconlab.tables import Name, NameWord, Substance, by_id, rows

_BRACKETED = re.compile(r"^(?P<name>[^()\[\]]+?)\s*[(\[](?P<aside>[^()\[\]]+)[)\]]\s*$")
_BRACKETED_OR = re.compile(r"[(\[](or\b[^()\[\]]*)[)\]]")  # rose (or distilled) water
_DEGREES = re.compile(
    r"\s*[,(]?\s*(?:à|a|at|von|de)\s+\d+(?:[.,/]\d+)?\s*(?:[°º%]|deg|grad|p\.? ?100|pour cent)[^;]*$", re.IGNORECASE
)
_OR = re.compile(r",?\s+(?:or|oder|ou|vel|seu|sive|dit|dite|genannt|sogenannte?[rs]?)\s+(?:else\s+)?")
_AND = frozenset({"and", "with", "et", "cum", "und"})
_POMATUM = frozenset({"pomatum", "pomade", "pomatums", "pomades", "pommade"})
_WASHED = frozenset(map(root_of, ("extract", "spirit", "essence")))
_STRONG = frozenset({"strong", "stronger", "strongest", "concentrated"})
_PEELED = frozenset({"pill", "pills", "pil", "pils"})  # so old books spell the peel of a fruit
_LINKING = frozenset({"in", "and", "to", "a", "the", "of", "very"})
_MOST = 4  # meanings of what it is made of, beyond which the name says nothing
_SHORTEST = 5  # letters of a short form inside the name of a preparation
_SURE = ("exact", "inflection", "word order", "spelling", "head noun", "abbreviation", "translation", "form")


@cache
def by_phrase(name: str) -> Found | None:
    """Return what a name of several parts stands for, where no name on file is that name.

    Parameters
    ----------
    name : str
        The name as printed.

    Returns
    -------
    Found or None
        None where a part of it leads nowhere.

    Examples
    --------
    >>> by_phrase("tincture of sumach").rows[0].meaning, by_phrase("white wax or spermaceti").way
    ('formula not on file: tincture of sumac', 'alternatives')
    """
    name = _BRACKETED_OR.sub(r"\1", name) if len(name) <= LONGEST else ""
    words = folded(name).split()
    if not 0 < len(words) <= MOST_WORDS:
        return None
    ways = (_of_a_strength, _trailed, _explained, _either)
    found = len(words) > 1 and (next((one for way in ways if (one := way(name))), None) or _made(words))
    found = found or _made_abroad(name, words)
    return found if found and honest(words, found) else None


def _of_a_strength(name: str) -> Found | None:
    """Read a spirit, an acid or a lye without its printed degrees, which are looked up apart: alcool à 90 degrés."""
    strong = _DEGREES.search(name)
    found = (by_rule(name[: strong.start()]) or by_phrase(name[: strong.start()])) if strong else None
    of_strength = found and all(
        row.kind == SPIRIT or thing(row.meaning).class_ in ("acid", "alkali", "alcohol", "solvent", "wine", "poison")
        for row in found.rows
    )
    return found if of_strength else None


def _trailed(name: str) -> Found | None:
    """Read a name with how it was cut or dried behind a comma: ginger, in moderately fine powder."""
    before, comma, behind = name.partition(",")
    words = folded(behind).split()
    if not comma or not words or not all(word in _trailing() for word in words):
        return None
    return by_rule(before) or by_phrase(before)


@cache
def _trailing() -> frozenset[str]:
    listed = (row.word.split() for row in rows(NameWord) if row.role in ("quality", "form") and not row.only)
    return _LINKING.union(word for words in listed for word in words)


def _explained(name: str) -> Found | None:
    """Read a name with its explanation in brackets: what both mean, or what the one on file means."""
    printed = _BRACKETED.match(name)
    if printed is None:
        return None
    outer, inner = (by_rule(part) or by_phrase(part) for part in printed.group("name", "aside"))
    if outer is None or inner is None:
        found = outer or inner
        # what stands in brackets and is not on file may make another thing of it
        told = f"{found.told}, of a name with words in brackets" if found else ""
        return found and Found(found.rows, found.way, told, sure=found.sure and outer is None, poisons=found.poisons)
    both = [row for row in outer.rows if row.meaning in {other.meaning for other in inner.rows}]
    if both:
        return Found(tuple(both), outer.way, f"{outer.told}; the words in brackets mean it too")
    return Found((*outer.rows, *inner.rows), outer.way, "found by the name and by the words in brackets", sure=False)


def _either(name: str) -> Found | None:
    """Read "white wax or spermaceti", "oil of roses or of neroli": the page leaves it open."""
    parts = [part for part in _OR.split(name) if folded(part)]
    if len(parts) < 2:  # noqa: PLR2004 - one thing or another
        return None
    ways = [tuple(_ways(parts, at)) for at in range(len(parts))]
    if not any(ways):
        return None
    sure = all(ways) and all(way[0].sure for way in ways)
    first = [
        (not part and not at, row) for part, each in enumerate(ways) for at, way in enumerate(each) for row in way.rows
    ]
    harm = any(harmful(row.meaning) for _, row in first)
    named = tuple(row if leads and not harm else _less_sure(row) for leads, row in first)
    return Found(named, "alternatives", "one of the things the page leaves to choose", sure)


def _ways(parts: Sequence[str], at: int) -> Iterator[Found]:
    """Find one part with the last words of the part behind it, with the first words of that before, or alone."""
    words = folded(parts[at]).split()
    while words and words[0] in JOINING:
        words.pop(0)
    behind = folded(parts[-1]).split() if at < len(parts) - 1 else []
    before = folded(parts[0]).split() if at else []
    lent = [[*words, *behind[cut:]] for cut in range(len(behind) - 1, 0, -1)]
    lent += [[*before[:cut], *words] for cut in range(1, len(before))]
    shared = next((found for tried in lent if len(words) == 1 and (found := by_rule(" ".join(tried)))), None)
    if len(words) > 1 and behind and shared is None:  # orange-flower or rose-water: a whole name, with the last word
        whole = by_name(" ".join([*words, behind[-1]]))
        shared = whole if whole and whole.way == "exact" else None
    alone = by_rule(" ".join(words)) or (_made(words) if len(words) > 1 else None)
    if not (shared or alone):
        shared = next((found for tried in lent if (found := _made(tried))), None)
    yield from (found for found in (shared, alone) if found)


def _less_sure(row: Name) -> Name:
    return replace(row, standing="possible") if row.standing == "likely" else row


def _made(words: Sequence[str]) -> Found | None:
    """Find a preparation by its head and what it is made of: its formula is not on file."""
    as_oil = _otto(words)
    if as_oil:
        return as_oil
    if _POMATUM.intersection(words) and _WASHED.intersection(map(root_of, words)):
        words = [word for word in words if word not in _POMATUM]  # the scent of a pomade, washed out with spirit
    if other := _strong(words) or _peel(words) or _no_other(words):
        return other
    for making, head, of in _split(words):
        things = [*_things(of)]
        found = [made for each in things if (made := _kind(head, making, each))]
        if found and len(found) <= _MOST:
            return Found(tuple(_named(made, " ".join(words)) for made in found), "kind", _told(head))
    return None


def _made_abroad(name: str, words: Sequence[str]) -> Found | None:
    """Find a preparation by its French, German or Latin words put into English."""
    for meant in readings(words, shortened(name, words)):
        found = _made(meant)
        if found:
            return found if honest(meant, found) else None
    found = _made_of_first(words)
    return found if found and honest((), found) else None


def _made_of_first(words: Sequence[str]) -> Found | None:
    """Find a preparation by a German compound that opens with a name on file: Chinaextrakt."""
    for first, head in compounds(words[0]) if len(words) == 1 else ():
        found = [made for each in _substances(first) if (made := _kind(head, "", (each,)))]
        if found and len(found) <= _MOST:
            return Found(tuple(_named(made, words[0]) for made in found), "kind", _told(head))
    return None


def _told(head: str) -> str:
    return f"a {head} by its name; no formula of it is on file, so what is in it is not known"


def _strong(words: Sequence[str]) -> Found | None:
    """Read a strong or concentrated acid or alkali as that acid or alkali."""
    if not _STRONG.intersection(words):
        return None
    found = by_rule(" ".join(word for word in words if word not in _STRONG), short=False)
    fit = found and all(thing(row.meaning).class_ in ("acid", "alkali", "poison") for row in found.rows)
    return Found(found.rows, found.way, f"strong as it is; {found.told}", found.sure) if found and fit else None


def _peel(words: Sequence[str]) -> Found | None:
    """Read the pills of a fruit as its peel, where there is one on file."""
    if _PEELED.isdisjoint(words):
        return None
    found = by_rule(" ".join("peel" if word in _PEELED else word for word in words), short=False)
    peels = found and all("peel" in thing(row.meaning).name.split() for row in found.rows)
    return Found(found.rows, found.way, f"pills are peel here; {found.told}", found.sure) if found and peels else None


def _no_other(words: Sequence[str]) -> Found | None:
    """Read a preparation without the words that make no other of it: distilled rose water is rose water."""
    kept = [word for word in words if _makings().get(word) != ""]
    found = by_rule(" ".join(kept), short=False) if kept and len(kept) < len(words) else None
    plant = found and any(thing(row.meaning).state == "plant part" for row in found.rows)  # simple mint water: no plant
    return None if plant else found


def _otto(words: Sequence[str]) -> Found | None:
    """Read the perfumer's otto of a plant as its volatile oil."""
    if "attar" not in map(root_of, words):
        return None
    found = by_rule(" ".join("oil" if root_of(word) == "attar" else word for word in words), short=False)
    oils = found and all(thing(row.meaning).class_ == "volatile oil" for row in found.rows)
    return (
        Found(found.rows, found.way, f"the otto of it is its oil; {found.told}", found.sure) if found and oils else None
    )


def _split(words: Sequence[str]) -> Iterator[tuple[str, str, list[str]]]:
    """Give how it was made, its head word and what it is made of, where a name may be read so."""
    kept, making = _making(words)
    roots = [root_of(word) for word in kept]
    for head, wanted in _heads():
        n = len(wanted)
        if len(kept) <= n or (head == "powder" and not making):
            continue
        if roots[:n] == wanted:
            yield making, head, kept[n:]
        if roots[-n:] == wanted and "of" not in kept:
            yield making, head, kept[:-n]


def _making(words: Sequence[str]) -> tuple[list[str], str]:
    known = _makings()
    making = " ".join(filter(None, dict.fromkeys(known[word] for word in words if word in known)))
    return [word for word in words if word not in known], making


@cache
def _heads() -> tuple[tuple[str, list[str]], ...]:
    """Return every head word of a preparation with its roots, the longest first."""
    return tuple((head, [root_of(word) for word in head.split()]) for head in heads())


@cache
def _makings() -> Mapping[str, str]:
    return {row.word: row.stands_for for row in rows(NameWord) if row.role == "making"}


def _things(of: Sequence[str]) -> Iterator[tuple[Substance, ...]]:
    """Give each set of substances the words may mean; nothing where one of them leads to none."""
    parts: list[list[str]] = [[]]
    for word in of:
        if word in _AND:
            parts.append([])
        elif word not in JOINING or parts[-1]:
            parts[-1].append(word)
    meant = [list(_substances(" ".join(part))) for part in parts if part]
    if not meant or not all(meant):
        return
    yield from product(*meant)


def _substances(name: str) -> Iterator[Substance]:
    found = by_rule(name, short=False) if name else None
    if found is None and (pointed := [f"{word}." for word in name.split() if len(word) >= _SHORTEST]):
        found = by_rule(" ".join(pointed)) if len(pointed) == len(name.split()) else None
    if found is None or found.way not in _SURE or not found.sure:
        return
    for key in dict.fromkeys(solute_of(row.meaning) or row.meaning for row in found.rows):
        if key in by_id(Substance):
            yield by_id(Substance)[key]


def _kind(head: str, making: str, things: tuple[Substance, ...]) -> Made | None:
    kind = kind_of(head, things)
    return Made(kind, making, things) if kind else None


def _named(made: Made, name: str) -> Name:
    return Name(
        sources=made.kind.sources,
        origin=made.kind.origin,
        own=made.kind.own,
        name=name,
        language="en",
        meaning=made.id,
        kind="preparation",
        regions=(),
        from_year=None,
        to_year=None,
        standing="likely",
        because=f"a {made.kind.kind} was made of it",
        decides="the book's own formula, or that of the pharmacopoeia it follows",
    )
