"""One line of a receipt in pieces: its amounts, strengths and marks, and the words between them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from reconlab.reading.carried import carried_at
from reconlab.reading.counted import PIECE, counted_at, head_before, is_sized
from reconlab.reading.damage import damaged_at, may_be_figure, may_be_sign, torn_at
from reconlab.reading.plain import plain_at
from reconlab.reading.quantities import Found, count_at, has_nothing_below, quantity_at
from reconlab.reading.scanned import may_be_scanned, scanned_at
from reconlab.reading.strengths import Strong, basis_after, is_gravity, links_before, names_spirit, strength_at
from reconlab.reading.tokens import Mark, Token, Words, mark_at
from reconlab.reading.tokens import number as token_value
from reconlab.receipts import Amount, Measured, Quantity

AMOUNTS = ("quantity", "enough", "each")
_ONE_PART = Quantity((Measured(Amount(1, 1, 1, "equal parts"), "part"),))


class Piece(NamedTuple):
    """A run of tokens: a quantity, text, or one of the marks of `_MARKED`."""

    kind: str
    first: int
    after: int
    quantity: Quantity | None = None
    counted: bool = False  # a count, with the name of the thing behind it
    second: Piece | None = None  # the same amount in other units, printed beside it


def pieces_of(line: Sequence[Token]) -> list[Piece]:
    """Return a line in pieces, strengths told from amounts, counts before their names.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.

    Returns
    -------
    list of Piece
        In the order they are read in.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> [piece.kind for piece in pieces_of(tokens("Starch, 3 oz."))]
    ['text', 'point', 'quantity']
    """
    return _counts_first(list(_strengths(list(raw_pieces(line)), line)), line)


def raw_pieces(line: Sequence[Token]) -> Iterator[Piece]:
    """Cut a line into pieces, the longest reading of each place first.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.

    Returns
    -------
    iterator of Piece
        In the order of the line.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> [piece.kind for piece in raw_pieces(tokens("of each 20 drops"))]
    ['each', 'quantity']
    """
    if type(line) is not Words:
        return _cut(line)
    if line.cut is None:
        line.cut = tuple(_cut(line))
    return iter(line.cut)


def _cut(line: Sequence[Token]) -> Iterator[Piece]:
    at = 0
    seen = False  # an amount with a unit
    while at < len(line):
        mark = mark_at(line, at)
        if mark is None and line[at].kind == "word" and _is_plain_word(line[at].text):
            yield Piece("text", at, at + 1)
            at += 1
            continue
        aside = _no_amount_at(line, at) if line[at].text in _LIKE_AMOUNTS else None
        if aside is not None:
            yield aside
            at = aside.after
            continue
        plain = plain_at(line, at)
        strong = None if plain is not None else _strength_at(line, at, mark)
        amount = plain and Piece("quantity", at, plain.after, plain.quantity)
        if plain is None and strong is None and _may_be_amount(line[at], mark):
            amount = _amount_at(line, at, seen=seen)
        seen = seen or amount is not None
        if amount is not None and _in_use(line, at, amount.after):
            yield from (Piece("text", one, one + 1) for one in range(at, amount.after))
            at = amount.after
            continue
        piece = Piece(strong.kind, at, strong.after) if strong else amount or _marked(line, at, mark)
        yield piece
        at = piece.after


@lru_cache(maxsize=1 << 16)
def _is_plain_word(word: str) -> bool:
    """Return whether a word that the notation table does not know is text wherever it stands."""
    token = Token("word", word, 0, len(word))
    return word not in _LIKE_AMOUNTS and not _may_be_amount(token, None)


_OPENS_AMOUNT = frozenset(("unit", "number", "approximate", "some", "same", "scan"))


def _is_scanned(line: Sequence[Token], at: int) -> bool:
    """Return whether a percentage is a fraction that a scan misread: "2% oz."."""
    return at + 1 < len(line) and line[at + 1].text == "%" and scanned_at(line, at) is not None


def _strength_at(line: Sequence[Token], at: int, mark: Mark | None) -> Strong | None:
    return strength_at(line, at) if _may_be_strength(line[at], mark) and not _is_scanned(line, at) else None


def _may_be_strength(token: Token, mark: Mark | None) -> bool:
    return token.kind == "number" or (mark is not None and "strength" in mark.meanings)


def _may_be_amount(token: Token, mark: Mark | None) -> bool:
    """Return whether an amount, whole or spoilt, or a time may start at a token: most of a page's cannot."""
    if token.kind == "number" or (mark is not None and not _OPENS_AMOUNT.isdisjoint(mark.meanings)):
        return True
    if token.kind == "word":
        return may_be_figure(token.text) or may_be_scanned(token)
    return token.kind == "sign" or (token.kind == "point" and (token.text == "-" or may_be_sign(token.text)))


def _amount_at(line: Sequence[Token], at: int, *, seen: bool) -> Piece | None:
    """Return the amount that starts at a token, plain, counted, taken over from another or mended."""
    found = torn_at(line, at) or quantity_at(line, at)
    count = counted_at(line, at) if found is None else None
    found = found or count or carried_at(line, at, seen=seen) or damaged_at(line, at)
    found = found or _several_at(line, at, seen=seen)
    if found is None:
        return None
    counted = count is not None and not is_sized(count.quantity)
    return Piece("quantity", at, found.after, found.quantity, counted)


def _marked(line: Sequence[Token], at: int, mark: Mark | None) -> Piece:
    """Return a piece that is no amount with a unit: a time, a mark of the table, a bare number or plain text."""
    token = line[at]
    period = _period_at(line, at) if _may_be_amount(token, mark) else None
    if period:
        return Piece("ends", at, period)
    kind = _kind(line, at, mark) if mark is not None else None
    if mark is not None and kind is not None:
        equal_parts = _ONE_PART if kind == "each" and mark.meanings[kind].value == "part" else None
        return Piece(kind, at, mark.after, equal_parts)
    if token.kind == "number" and _bare_number(line, at):
        return Piece("quantity", at, at + 1, _bare_quantity(token))
    kind = {"word": "text", "number": "text", "sign": "text", "key": "point"}.get(token.kind, token.kind)
    return Piece(kind, at, at + 1)


def _kind(line: Sequence[Token], at: int, mark: Mark) -> str | None:
    """Return what a mark is here, or nothing where its letters are only part of a name."""
    kind = next((each for each in _MARKED if each in mark.meanings), None)
    if kind == "heading" and at and line[at - 1].text == "." and line[at - 1].end == line[at].start:
        return None  # the last letter of S.V.R. is no sign of a recipe
    if kind == "ditto" and line[at].text[0] in _DASHES and at and line[at - 1].kind != "break":
        closes = line[at - 1].kind == "number" and len(line[at].text) > 1 and mark.after >= len(line)
        return kind if closes else None  # "4 --" repeats the unit above; another dash leads on to an amount
    if kind == "some" and mark.meanings[kind].language == "de" and not _is_noun(line, mark.after):
        return None  # bis es etwas roth geworden ist
    if _is_in_name(line, at, mark.after, kind) or (kind is not None and _is_of_another_tongue(line, mark, kind)):
        return None
    if kind == "direction" and (_is_initial(line, at) or _is_adjective(line, at, mark) or _is_strained(line, mark)):
        return None  # N. F. is a book, not fiat
    return "ends" if kind == "total" and not _tells_a_total(line, mark) else kind


_ENGLISH = frozenset(("of", "the", "and", "with", "oil", "water", "oz", "ounce", "ounces", "pint", "pints", "drachms"))
_SHORT = 3  # letters of a word that another tongue may have too
_TELLING = ("heading", "direction", "preparation", "period")


def _is_of_another_tongue(line: Sequence[Token], mark: Mark, kind: str) -> bool:
    """Return whether a short French or German word stands in an English line: "nim" opens no receipt in "Nim oil"."""
    row = mark.meanings[kind]
    if kind not in _TELLING or row.language not in ("fr", "de") or len(row.printed) > _SHORT:
        return False
    return any(token.text.lower() in _ENGLISH for token in line)


def _several_at(line: Sequence[Token], at: int, *, seen: bool) -> Found | None:
    """Return a number of things without a unit, in a list of amounts: ", 15 cayenne seeds,"."""
    starts = at == 0 or line[at - 1].text.lower() in (",", ";", "and", "&")
    count = count_at(line, at, PIECE) if starts else None
    seen = seen or (count is not None and line[count.after - 1].text.lower() == "dozen")
    if count is None or not (seen or at == 0):
        return None
    after = count.after
    while after < len(line) and line[after].kind == "word" and after - count.after < _LONGEST_THING:
        mark = mark_at(line, after)
        if mark is not None and not {"preparation", "sized", "joining"} & set(mark.meanings):
            return None
        if line[after].text.lower() in _WORDS_BEHIND:
            break
        after += 1
    ends = after == len(line) or line[after].text.lower() in _WORDS_BEHIND
    plural = (
        after > count.after and line[after - 1].text.lower().endswith("s") and not line[after - 1].text.endswith("ss")
    )
    few = count.quantity.parts[0].amount.high is not None and count.quantity.parts[0].amount.high <= _FEW_THINGS
    return count if ends and plural and (seen or (few and _lists_on(line, after))) else None


def _lists_on(line: Sequence[Token], at: int) -> bool:
    """Return whether a comma stands here, and an amount near behind it."""
    parted = at < len(line) and line[at].text == ","
    return parted and any(quantity_at(line, n) for n in range(at + 1, min(len(line), at + _NEAR)))


_FEW_THINGS = 12  # "24 persons", "100 pastils" open no list
_NEAR = 24  # tokens that hold the first amount behind a count that opens a list
_LONGEST_THING = 5  # words
_WORDS_BEHIND = (",", ";", ".", "of", "in", "with", "and", "or")


_OF = ("of", "de", "du", "des", "d'", "d\N{RIGHT SINGLE QUOTATION MARK}")
_DASHES = "-\N{EM DASH}\N{EN DASH}"


def _is_in_name(line: Sequence[Token], at: int, after: int, kind: str | None) -> bool:
    """Return whether a word of quality, or of something done ("boiled oil"), is part of a name."""
    if kind == "preparation":
        return _is_part_of_name(line, at, after)
    return kind in ("direction", "ends") and _tells_of_a_thing(line, at, after)


def _is_part_of_name(line: Sequence[Token], at: int, after: int) -> bool:
    """Return whether a word of quality belongs to a name: "oven-dried", "new-mown hay", "old New England rum"."""
    hyphens = (at - 1, after)
    if any(0 <= n < len(line) and line[n].text == "-" and _touches(line, n) for n in hyphens):
        return True
    behind = line[after].text if after < len(line) else ""
    proper = line[at].text[:1].isupper() and behind[:1].isupper()
    return proper and at > 0 and line[at - 1].kind == "word" and line[at - 1].text.islower()


def _touches(line: Sequence[Token], at: int) -> bool:
    """Return whether a hyphen stands between two words without a blank."""
    return 0 < at < len(line) - 1 and line[at - 1].end == line[at].start and line[at].end == line[at + 1].start


def _is_strained(line: Sequence[Token], mark: Mark) -> bool:
    """Return whether a direction names what goes in, with an amount behind it: "Colaturae \u2125vii"."""
    return mark.meanings["direction"].value == "thing" and quantity_at(line, mark.after) is not None


def _is_initial(line: Sequence[Token], at: int) -> bool:
    """Return whether a letter is the last of several that stand for a name."""
    before = at - 2 if at and line[at - 1].text == "." else at - 1
    if len(line[at].text) > 1 or before < 0:
        return False
    letter = line[before].text
    return (len(letter) == 1 and letter.isupper()) or letter == "&"


def _no_amount_at(line: Sequence[Token], at: int) -> Piece | None:
    """Return what looks like an amount and is none: a footnote's mark, "of each", a dash, a vessel."""
    if _is_footnote(line, at):
        return Piece("point", at, at + 3)
    if _is_each(line, at):
        return Piece("each", at, at + 1)
    starts = at == 0 or line[at - 1].kind == "break"
    if starts and line[at].text in _DASHES and at + 1 < len(line) and line[at + 1].text.lower() in _OF:
        return Piece("ditto", at, at + 1)  # a dash for the words above: "--- de bergamote"
    tool = _tool_at(line, at)
    return Piece("ends", at, tool) if tool is not None else None


_INTO = ("in", "into", "on", "upon", "with", "from", "over", "dans", "sur", "sous", "fond", "auf", "mit", "aus")
_LIKE_AMOUNTS = frozenset((
    "[", "a", "\N{LATIN SMALL LETTER A WITH GRAVE}", *_DASHES, *_INTO, *(word.capitalize() for word in _INTO),
))  # fmt: skip


def _is_footnote(line: Sequence[Token], at: int) -> bool:
    """Return whether the mark of a footnote hugs a word: "livres[1253]"."""
    hugs = 0 < at < len(line) - 2 and line[at].text == "[" and line[at - 1].end == line[at].start
    return hugs and line[at + 1].kind == "number" and line[at + 2].text == "]"


def _is_each(line: Sequence[Token], at: int) -> bool:
    """Return whether an "a" is what is left of "of each" in Latin: before a sign with its numeral, "a [ounce]ss"."""
    unit = mark_at(line, at + 1) if line[at].text in ("a", "\N{LATIN SMALL LETTER A WITH GRAVE}") else None
    if unit is None or "unit" not in unit.meanings or unit.meanings["unit"].written == "word":
        return False
    found = quantity_at(line, at + 1)
    return found is not None and found.after > unit.after


def _is_noun(line: Sequence[Token], at: int) -> bool:
    return at < len(line) and line[at].text[:1].isupper()


def _is_adjective(line: Sequence[Token], at: int, mark: Mark) -> bool:
    """Return whether a shortened word before an amount belongs to the name: "Aq. Chamam. distil. 16 ounces"."""
    short = at > 0 and line[at - 1].text == "." and line[mark.after - 1].text == "."
    unit = mark_at(line, mark.after) if short else None
    return unit is not None and "unit" in unit.meanings and quantity_at(line, mark.after) is not None


def _tells_of_a_thing(line: Sequence[Token], at: int, after: int) -> bool:
    """Return whether a word of something done stands before a name as a part of it: "add of boiled oil"."""
    opens = at == 0 or line[at - 1].text.lower() in ("of", ",", ";")
    named = after < len(line) and line[after].kind == "word" and mark_at(line, after) is None
    return opens and named and after == at + 1 and line[at].text.lower().endswith("ed")


def _period_at(line: Sequence[Token], at: int) -> int | None:
    """Return the token behind a time that starts here: "for 14 days", "half an hour"."""
    mark = mark_at(line, at)
    start = mark.after if mark is not None and ("approximate" in mark.meanings or "some" in mark.meanings) else at
    count = count_at(line, start, "")
    behind = count.after if count else start
    period = mark_at(line, behind) if behind > at else None
    return period.after if period is not None and "period" in period.meanings else None


def _tells_a_total(line: Sequence[Token], mark: Mark) -> bool:
    """Return whether an amount follows words like "to": "to clear it" tells what a thing is for."""
    at = mark.after
    behind = mark_at(line, at)
    if behind is not None and "approximate" in behind.meanings:
        at = behind.after
    while at < len(line) and (line[at].kind in ("leader", "break") or line[at].text in _BEFORE_TOTAL):
        at += 1
    return at < len(line) and (
        line[at].kind == "number" or quantity_at(line, at) is not None or damaged_at(line, at) is not None
    )


_BEFORE_TOTAL = (",", ".", "|", "\N{BULLET}", "\N{MIDDLE DOT}")
VESSELS = ("cup", "teacup", "glass", "wineglass", "tumbler", "bottle", "jar", "bowl", "basin", "dish", "pan", "pot")
_VESSELS = (
    *VESSELS, "sheet", "stick", "lump", "piece",
    "verre", "bouteille", "flacon", "vase", "bassine", "mortier", "plat", "terrine", "vaisseau", "linge", "matras",
    "alambic", "cornue", "chaudron", "spatule", "feu",
    "topf", "topfe", "glas", "glase", "flasche", "schüssel", "mörser", "krug", "kruge", "kolben", "pfanne", "kessel",
    "gefäß", "gefäss", "gefäße", "tuch", "tuche", "holz", "holze", "spatel", "löffel", "feuer", "retorte", "büchse",
)  # fmt: skip


def _in_use(line: Sequence[Token], at: int, after: int) -> bool:
    """Return whether a vessel or tool is only used: "put into a cup", "stir with a stick" hold no amount."""
    before = at - 2 if at > 1 and line[at - 1].text.lower() in _ELIDED else at - 1
    behind = at > 0 and line[before].text.lower() in _INTO
    one = line[at].text.lower() in _ONE
    if at > 1 and line[at - 2].text == "," and after < len(line) and line[after].text.lower() == "of":
        return False  # ..., with a small piece of camphor
    return behind and one and any(token.text.lower() in _VESSELS for token in line[at:after])


_ELIDED = ("d'", "d\N{RIGHT SINGLE QUOTATION MARK}")
_ONE = ("a", "an", "one", "un", "une", "ein", "eine", "einem", "einen", "einer")


def _tool_at(line: Sequence[Token], at: int) -> int | None:
    """Return the token behind a vessel or tool of another tongue: "mit einem Holz", "dans un vase"."""
    if line[at].text.lower() not in _INTO or at + 2 >= len(line) or line[at + 1].text.lower() not in _ONE[3:]:
        return None
    for after in (at + 2, at + 3):  # a word of its kind may stand between: in einem eisernen Mörser
        if after < len(line) and line[after].text.lower() in _VESSELS:
            return after + 1
    return None


def _counts_first(pieces: list[Piece], line: Sequence[Token]) -> list[Piece]:
    """Put a count before the name it stands in: "the yolks of five eggs", "a piece of camphor the size of a walnut"."""
    if not any(piece.counted or is_sized(piece.quantity) for piece in pieces):
        return pieces
    found: list[Piece] = []
    for piece in pieces:
        head = head_before(line, piece.first) if piece.counted else ()
        if head and [before.first for before in found[-len(head) :]] == [piece.first - 2, piece.first - 1]:
            start = len(found) - len(head)
            while start and line[found[start - 1].first].text.lower() in _BEFORE_PART:
                start -= 1
            found.insert(start, piece)
        elif is_sized(piece.quantity) and (at := _lone_count(found)) is not None:
            one = found[at]  # "a piece of", which tells the form, or "as much", which tells nothing
            found[at : at + 1] = [piece, *([one._replace(kind="preparation", quantity=None)] if one.quantity else [])]
        else:
            found.append(piece)
    return found


_BEFORE_PART = frozenset((
    "the", "le", "la", "les", "der", "die", "das", "dem", "den", "yellow", "outer", "thin", "gelbe",
))  # fmt: skip


def _lone_count(pieces: Sequence[Piece]) -> int | None:
    """Return where "a piece of" or "as much" stands, if only words follow it."""
    for at in range(len(pieces) - 1, -1, -1):
        quantity = pieces[at].quantity
        if quantity is not None:
            return at if quantity.parts[0].unit in (PIECE, "lump") else None
        if pieces[at].kind == "some":
            return at
        if pieces[at].kind not in ("text", "joining"):
            return None
    return None


def _strengths(pieces: list[Piece], line: Sequence[Token]) -> Iterator[Piece]:
    """Turn what is a strength beside an amount into one: "1 gallon 95 per cent. alcohol", "ammonia .880, 2 oz."."""
    doubtful = {
        piece
        for piece in pieces
        if piece.kind == "degrees"
        or ((piece.quantity or line[piece.first].kind == "number") and _share_or_gravity(piece, line))
    }
    if not doubtful and not any(piece.kind == "strength" for piece in pieces):
        yield from pieces
        return
    others = any(piece.kind in AMOUNTS and piece not in doubtful for piece in pieces)
    kept: list[Piece] = []
    for piece in pieces:
        if kept and piece.first < kept[-1].after:
            continue  # the words of a basis, taken with their per cent
        if piece.kind == "strength" or (others and piece in doubtful):
            first = links_before(line, piece.first)
            while kept and kept[-1].first >= first and kept[-1].kind == "text":
                kept.pop()
            first = first if not kept or kept[-1].after <= first else piece.first
            kept.append(Piece("strength", first, basis_after(line, piece.after)))
        elif piece.kind == "degrees":
            kept += [Piece("text", at, at + 1) for at in range(piece.first, piece.after)]
        else:
            kept.append(piece)
    yield from kept


def _share_or_gravity(piece: Piece, line: Sequence[Token]) -> bool:
    """Return whether an amount may be a strength: in per cents, or a figure without a unit that looks like gravity."""
    if piece.first and line[piece.first - 1].text == "|" and piece.after < len(line) and line[piece.after].text == "|":
        return False  # a cell of its own
    if piece.kind == "text" and line[piece.first].kind == "number":
        return is_gravity(line[piece.first].text) or names_spirit(line, piece.after)
    parts = piece.quantity.parts if piece.quantity else ()
    gravity = len(parts) == 1 and parts[0].unit is None and is_gravity(parts[0].amount.printed)
    return bool(parts) and (gravity or all(part.unit == "percent" for part in parts))


_MARKED = (
    "heading",
    "each",
    "enough",
    "total",
    "ditto",
    "some",
    "ends",
    "preparation",
    "joining",
    "direction",
    "approximate",
)


def _bare_number(line: Sequence[Token], at: int) -> bool:
    """Return whether a number stands alone as an amount: at the start before a word, or at the end of a clause."""
    before = at - 2 if at > 1 and line[at - 1].text == "." else at - 1
    if at and line[before].text.lower() in ("no", "nr", "\N{NUMERO SIGN}"):
        return False
    ends = at + 1 == len(line) or line[at + 1].text in ";.,|" or line[at + 1].kind == "break"
    starts = (at == 0 or line[at - 1].text in ";|") and at + 1 < len(line) and line[at + 1].kind == "word"
    return ends or starts or (at > 0 and is_decimal(line[at].text) and at + 1 < len(line))


_DECIMAL = re.compile(r"\d{1,4},\d{1,2}|0,\d{3}")


def is_decimal(figures: str) -> bool:
    """Return whether figures have a decimal comma, as prescriptions of the continent print grams without a unit.

    Parameters
    ----------
    figures : str
        A number token.

    Returns
    -------
    bool
        Whether they have; "1,000" is a thousand.

    Examples
    --------
    >>> is_decimal("20,0"), is_decimal("1,000"), is_decimal("2.5")
    (True, False, False)
    """
    return _DECIMAL.fullmatch(figures) is not None


def is_bare_decimal(quantity: Quantity | None) -> bool:
    """Return whether an amount is a decimal without a unit, as German prescriptions print grams behind a name.

    Parameters
    ----------
    quantity : Quantity or None
        As read.

    Returns
    -------
    bool
        Whether it is.

    Examples
    --------
    >>> from reconlab.reading.tokens import tokens
    >>> [is_bare_decimal(piece.quantity) for piece in pieces_of(tokens("Myrrh. 2,5"))][-1]
    True
    """
    parts = quantity.parts if quantity is not None else ()
    return len(parts) == 1 and parts[0].unit is None and is_decimal(parts[0].amount.printed)


def _bare_quantity(token: Token) -> Quantity:
    value = None if has_nothing_below(token.text) else float(token_value(token.text))
    return Quantity((Measured(Amount(value, value, value, token.text), None),))
