"""What stands before the first name of a line: a formula's number, a title run in with it, a heading, "Take of"."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass

from reconlab.reading.counted import is_counted
from reconlab.reading.known import is_known, is_short_head, is_whole_word
from reconlab.reading.order import ends_with_name, has_sign_first
from reconlab.reading.phrases import whole
from reconlab.reading.pieces import AMOUNTS, Piece, raw_pieces
from reconlab.reading.tokens import Token, mark_at, tokens
from reconlab.receipts import Span

_DASHES = "\N{EM DASH}\N{EN DASH}-"
_NUMBER = re.compile(
    rf"\s*(?:N(?:o|r|[r\N{{DEGREE SIGN}}\N{{MASCULINE ORDINAL INDICATOR}}])\.?\s*)?\d{{1,4}}"
    rf"(?:\.?\s?[{_DASHES}]+|\.(?:\s|(?=[A-Z])))\s*(?=[_=*]?[^\W\d_]|\N{{PRESCRIPTION TAKE}})"
)  # 6.---Hydrargyri with a long dash, 104. Borax
_VARIANT = re.compile(
    r"\s*\|?\s*(?:(?:[IVX]+|[A-Z])\.\s?[\N{EM DASH}\N{EN DASH}]+|\(_?[a-h]_?\))\s*"
)  # II.---Starch with a long dash, (_b_) Starch
_DASHED = re.compile(
    r"\s*[_=*]*(?P<words>[A-Z][^.;,:\d()]{1,60}(?:\([^.;,:\d()]{1,30}\))?)"
    r"(?:\.[_=*]*|[_=*]+\.?)\s?(?:--+|[\N{EM DASH}\N{EN DASH}]+)\s*(?=\S)"
)  # _Family pomade (red)._--Fresh lard
_SENTENCE = re.compile(r"\s*(?P<words>[^\W\d_][^.;,:\d()\n]{1,60}\.)\s+(?=\w)")
_COLON = re.compile(r"\s*(?P<words>[^\W\d_][^.;,:\d()\n]{1,60}):\s+(?=[^\W\d_])")
_SECTION = re.compile(
    r"\s*(?P<words>(?:recettes?|formules?|compositions?|ingr[e\N{LATIN SMALL LETTER E WITH ACUTE}]dien[tz][se]n?|"
    r"receipts?|recipes?|formulae?|rezepte?|recepte?|vorschrift(?:en)?|zusammensetzung|bestandteile|bestandtheile)"
    r"\s*:)\s*(?=\S)",
    re.IGNORECASE,
)
_FULL = re.compile(r"[^\W\d_]{4}(?:us|um|ae|\N{LATIN SMALL LETTER AE}|is)$")  # Latin words with their endings
_SHORT = 4  # letters of an abbreviation
_FOR = frozenset(("for", "to", "pour", "f\N{LATIN SMALL LETTER U WITH DIAERESIS}r"))
_JOINING = frozenset(("of", "for", "de", "du", "des", "pour", "von", "the", "to", "from", "zu", "zum", "zur"))


@dataclass(frozen=True, slots=True)
class Lead:
    """Where a line begins, the words before it that were not read, and whether they may yet be part of the name."""

    after: int = 0
    words: tuple[Span, ...] = ()
    doubtful: bool = False


def lead_of(text: str) -> Lead:
    """Return what stands before the first name of a line.

    Parameters
    ----------
    text : str
        The line as printed.

    Returns
    -------
    Lead
        Where the receipt begins in it [1]; a number or title alone leads to nothing.

    Examples
    --------
    >>> lead_of("104. Borax, 2 drachms").after, lead_of("Borax, 2 drachms").after
    (5, 0)
    >>> lead = lead_of("Silvering powder. Silver dust, 10 grains")
    >>> lead.after, lead.words
    (18, ((0, 17),))
    """
    if not text[:1].strip() and not text.strip():
        return Lead()
    if match := _VARIANT.match(text):
        return Lead(match.end())
    number = _number(text)
    rest = _title(text[number:])
    words = tuple((start + number, end + number) for start, end in rest.words)
    if number:
        words = ((len(text) - len(text.lstrip()), len(text[:number].rstrip())), *words)
    return Lead(number + rest.after, words, rest.doubtful)


def _number(text: str) -> int:
    """Return where a line begins behind the number of its formula, which is never an amount."""
    match = _NUMBER.match(text)
    if match is None:
        return 0
    behind = tokens(text[match.end() :])
    mark = mark_at(behind, 0)
    if mark is not None and {"unit", "number"} & set(mark.meanings):
        return 0  # 4. ounces, 1-half
    told = [piece for piece in raw_pieces(behind) if piece.kind in ("text", "direction", *AMOUNTS)]
    if not any(piece.kind in AMOUNTS for piece in told):
        return 0
    dashed = match[0].rstrip()[-1] in _DASHES
    counts = not dashed and (is_counted(_first_name(behind)) or told[0].kind == told[-1].kind == "text")
    return 0 if counts else match.end()  # 3. Eyer, 2. Loth Zucker


def _first_name(line: Sequence[Token]) -> str:
    """Return the words with which a line begins."""
    words = itertools.takewhile(lambda token: token.kind == "word", line)
    return " ".join(token.text for token in words)


def _title(text: str) -> Lead:
    """Return a title run in with its receipt, or the heading before a colon."""
    if match := _DASHED.match(text) or _SECTION.match(text):
        return Lead(match.end(), (match.span("words"),))
    match = _COLON.match(text)
    if match is not None and (_is_title(match["words"]) or _is_in_capitals(match["words"])):
        return Lead(match.end(), (match.span("words"),)) if _is_plain(match["words"]) else Lead()
    match = _SENTENCE.match(text)
    return _of_sentence(match, text[match.end() :]) if match is not None and _is_plain(match["words"]) else Lead()


def _is_plain(words: str) -> bool:
    """Return whether no amount stands in words, and no "Take of"."""
    return not any(piece.kind in (*AMOUNTS, "heading", "total") for piece in raw_pieces(tokens(words)))


def _of_sentence(match: re.Match[str], behind: str) -> Lead:
    """Return what a first sentence without an amount is, by the name and the amount behind it."""
    line = tokens(behind)
    pieces = list(raw_pieces(line))
    told = next((piece for piece in pieces if piece.kind in AMOUNTS), None)
    name = behind[: line[told.first].start].strip(" ,.\n") if told is not None else ""
    if told is not None and not name and _is_title(match["words"]) and ends_with_name(pieces):
        return Lead(match.end(), (match.span("words"),))
    if told is None or not name:
        return Lead()
    latin = has_sign_first(told, line)
    if name[:1].isupper() and not latin and _is_of_semicolons(pieces, line) and _names_a_thing(match["words"]):
        return Lead(match.end(), (match.span("words"),))  # "Macassar oil. Oil of ben, 1 gallon; alkanet root, ..."
    if _is_shared(told, line) and not match["words"].isupper():
        last = match["words"].strip(" .").split()[-1]
        whole_word = len(last) > _SHORT + 1 or last.islower() or is_known(last) or is_whole_word(last)
        return Lead(doubtful=whole_word and name[:1].isupper() and not latin)  # a stop for a comma, or a title
    if "." in name and not (_is_title(match["words"]) and " " in match["words"]):
        return Lead()  # Liniment. Sap. Comp.
    return _lead(match, name, latin)


def _is_of_semicolons(pieces: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether a list parts its amounts by semicolons alone: a full stop before it is none of its own."""
    amounts = [at for at, piece in enumerate(pieces) if piece.kind in AMOUNTS]
    between = [pieces[one + 1 : two] for one, two in itertools.pairwise(amounts)]
    return len(between) > 1 and all(any(line[piece.first].text == ";" for piece in gap) for gap in between)


def _names_a_thing(words: str) -> bool:
    """Return whether the stop behind words is no abbreviation's, and they are no sentence of praise."""
    first, *_, last = (words.split(maxsplit=1)[0].lower(), *words.strip(" .").split())
    if first in ("a", "an", "this", "these", "it"):
        return False  # "A splendid article."
    return not is_short_head(last) and (len(last) > _SHORT or is_known(last) or last.lower() in _KINDS)


def _lead(match: re.Match[str], name: str, latin: bool) -> Lead:  # noqa: FBT001
    """Return a title as one where its words and the name behind it say so; else the name is open."""
    words = match["words"].strip(" .")
    capitals = _is_in_capitals(words) and not name.isupper()
    if capitals or (_is_title(words) and name[:1].isupper()):
        return Lead(match.end(), (match.span("words"),), is_known(words) or (not capitals and _may_go_in(words)))
    *before, last = words.split()
    if not name[:1].isupper() or (not before and is_short_head(last)):
        return Lead()  # Tinct. Myrrh
    shortened = latin or (len(last) <= _SHORT and not last.islower() and not is_known(last))
    return Lead(doubtful=not shortened or is_whole_word(last) or _FULL.search(last) is not None)


def _may_go_in(words: str) -> bool:
    """Return whether a preparation is one that goes into others too: "Elder flower water"."""
    told = re.findall(r"[^\W\d_]+", words.lower())
    return told[-1] in _BOTH or (told[0] in _BOTH and told[0] in _KINDS)


_BOTH = frozenset((
    "water", "wasser", "soap", "seife", "savon", "wine", "vinegar", "vinaigre", "salt", "salts", "milk", "lait",
    "extract", "extrakt", "essence", "essenz", "tincture", "teinture", "tinktur", "syrup", "sirop", "solution",
    "balsam", "baume", "decoction",
))  # fmt: skip


def _is_in_capitals(words: str) -> bool:
    return words.isupper() and len(words) > _SHORT


def _is_title(words: str) -> bool:
    """Return whether words name a kind of preparation: "Silvering powder", "\u00c9lixir de vitriol"."""
    if whole(words, "variant") is not None:
        return True
    told = re.findall(r"[^\W\d_]+", words.lower())
    if len(told) == 1:
        return told[0] not in _BOTH and (told[0] in _KINDS or told[0].endswith(_MADE))  # Lotion, Zahnpulver
    return bool(told) and (told[-1] in _KINDS or told[0] in _FOR or (told[0] in _KINDS and told[1] in _JOINING))


# What a shop makes and sells: kinds of preparation a title ends with, or begins with before "of".
_KINDS = frozenset(
    re.findall(
        r"\S+",
        """ball balls balm balsam bath bleach blacking bolus candles cement cologne compound confection cosmetic
        cream cosmetique creme crème decoction dentifrice depilatory dye electuary élixir elixir
        emulsion enamel essence extract fixative fumigator gargle gelee gelée glaze gloss glue ink jelly
        lacquer liniment lotion lozenges lozenge mask milk mixture mouthwash mordant ointment oxymel
        paint paste pastille pastilles pills pill plaster polish pomade pomatum pommade posset potion
        poultice powder powders preserve pâte poudre rinse rouge restorer remover sachet salt salts
        salve scent shampoo snuff soap sirop solution spray stain syrup tablets tincture tonic
        toothpaste toothpowder toothwash troches unguent varnish vinegar wash water wine baume emplâtre
        encre lait onguent opiat opiate savon teinture vernis vinaigre essenz extrakt firnis kitt lack
        mundwasser pflaster puder pulver salbe schminke seife tinktur tinte wasser zahnpulver zahnpasta""",
    )
)


# Ends of a German name, and French words alone, for what a shop makes.
_MADE = (
    "pomade", "pulver", "salbe", "seife", "tinktur", "tinctur", "essenz", "lack", "firnis", "kitt", "pflaster", "paste",
    "pasta", "schminke", "creme", "cr\N{LATIN SMALL LETTER E WITH GRAVE}me", "pommade", "dentifrice", "brillantine",
    "brilliantine", "pomatum", "balsam", "lippensalbe", "mundwasser", "zahnwasser", "waschwasser", "haarwasser",
)  # fmt: skip


def _is_shared(told: Piece, line: Sequence[Token]) -> bool:
    """Return whether the first amount is for each of several names."""
    mark = mark_at(line, told.after)
    return told.kind == "each" or (mark is not None and "each" in mark.meanings)
