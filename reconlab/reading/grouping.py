"""Brackets and braces of a line: amounts in brackets, two amounts for one thing, names braced together."""

from __future__ import annotations

from collections.abc import Sequence

from reconlab.reading.parallel import times_as_much
from reconlab.reading.pieces import AMOUNTS, Piece
from reconlab.reading.quantities import WIDEST
from reconlab.reading.tokens import Token, says_none
from reconlab.receipts import Quantity

_TWO = 2  # amounts
_METRIC = ("gram", "liter", "centimeter", "percent")
_EQUALS = ("or", "=", "ou", "oder")
_BETWEEN = (*_EQUALS, ",")
_BAR = "|"  # between the cells of a table
_FROM = ("from", "between", "von", "zwischen", "entre")
_TO = ("to", "\N{LATIN SMALL LETTER A WITH GRAVE}", "bis", *_EQUALS)
_BRACKETS, _BRACES = frozenset("("), frozenset("}")


def grouped(pieces: Sequence[Piece], line: Sequence[Token]) -> list[Piece]:
    """Return the pieces of a line in the order they belong together, asides left out.

    Parameters
    ----------
    pieces : sequence of Piece
        The pieces of a line.
    line : sequence of Token
        The line.

    Returns
    -------
    list of Piece
        Amounts in brackets behind their names, the second of two amounts inside the first, names that a brace
        holds together before the amount they share; what stands in other brackets with an amount is left out.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("Aloes (0.13 Gm. or 2 grains)")
    >>> [(piece.kind, piece.second is not None) for piece in grouped(pieces_of(line), line)]
    [('text', False), ('quantity', True)]
    """
    pieces = _told_how_much(_ranges(pieces, line))
    if not says_none(line, _BRACKETS):
        pieces = _bracketed(pieces, line)
    pieces = _two_columns(pieces, line)
    return list(pieces) if says_none(line, _BRACES) else _braced(pieces, line)


def _told_how_much(pieces: Sequence[Piece]) -> list[Piece]:
    """Leave equal parts to the amount that closes them: "wax and lard, of each alike, two ounces"."""
    kept = list(pieces)
    for at, piece in enumerate(kept):
        kinds = [told.kind for told in kept[at + 1 :] if told.kind != "leader"]
        kinds = kinds[1:] if kinds[:1] == ["point"] else kinds
        if piece.kind == "each" and kinds[:1] == ["quantity"] and kinds[1:2] in ([], ["point"], ["break"]):
            kept[at] = piece._replace(quantity=None)
    return kept


def _ranges(pieces: Sequence[Piece], line: Sequence[Token]) -> list[Piece]:
    """Put the second end of a range inside the first, and the word before it: "from 2 drachms to half an ounce"."""
    kept: list[Piece] = []
    at = 0
    while at < len(pieces):
        piece = pieces[at]
        opened = line[kept[-1].first].text.lower() if kept and kept[-1].after == piece.first else ""
        ends = _has_other_end(pieces, at, opened, line)
        if opened in _FROM and (ends or _is_range(piece.quantity)):
            piece = piece._replace(first=kept.pop().first)
        if ends:
            piece = piece._replace(second=pieces[at + 2])
            at += 2
        kept.append(piece)
        at += 1
    return kept


def _is_range(quantity: Quantity | None) -> bool:
    amount = quantity.parts[0].amount if quantity is not None else None
    return amount is not None and amount.low != amount.high


def _has_other_end(pieces: Sequence[Piece], at: int, opened: str, line: Sequence[Token]) -> bool:
    """Return whether an amount in a smaller or greater unit behind "to" is the other end of a range."""
    if at + 2 >= len(pieces) or not is_range_over_units(pieces[at].quantity, pieces[at + 2].quantity):
        return False
    joins = line[pieces[at + 1].first].text.lower()
    one, two = (pieces[place].quantity for place in (at, at + 2))
    assert one is not None and two is not None  # noqa: S101, PT018 - just looked at
    times = times_as_much(one.parts[0], two.parts[0])
    if opened in _FROM:
        return bool(times) and joins in ("and", "und", "et", *_TO)
    closes = at + 3 >= len(pieces) or pieces[at + 3].kind in ("point", "break")
    return joins in _TO and closes and any(1 / WIDEST <= share <= WIDEST for share in times)


def is_range_over_units(one: Quantity | None, other: Quantity | None) -> bool:
    """Return whether two amounts may be the ends of a range: of one system, each with a unit of its own.

    Parameters
    ----------
    one, other : Quantity or None
        The amounts.

    Returns
    -------
    bool
        Whether they may; "0.5 Gm. or 8 grains" is one amount told twice.

    Examples
    --------
    >>> is_range_over_units(None, None)
    False
    """
    if one is None or other is None or len(one.parts) > 1 or len(other.parts) > 1:
        return False
    units = {one.parts[0].unit, other.parts[0].unit}
    return len(units) > 1 and None not in units and not _other_system(one, other)


def _bracketed(pieces: Sequence[Piece], line: Sequence[Token]) -> list[Piece]:
    """Open brackets that hold the amount of the name before them; leave out those that hold an amount of their own."""
    kept: list[Piece] = []
    opened: int | None = None
    for at, piece in enumerate(pieces):
        kept.append(piece)
        if line[piece.first].text == "(":
            opened = len(kept) - 1
        elif line[piece.first].text == ")" and opened is not None:
            inside = kept[opened + 1 : -1]
            if any(each.kind == "quantity" for each in inside):
                del kept[opened:]
                if _is_amount(inside, line) and _is_wanted(kept, pieces[at + 1 :], inside):
                    kept += _one_amount(inside)
            opened = None
    return kept


def _is_amount(inside: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether a bracket holds nothing but an amount, or one amount twice."""
    told = [each for each in inside if each.kind not in ("point", "joining") and line[each.first].text not in _BETWEEN]
    return bool(told) and all(each.kind in ("quantity", "each") for each in told)


def _one_amount(inside: Sequence[Piece]) -> list[Piece]:
    """Return what a bracket holds: each, and one amount with the second inside it."""
    amounts = [each for each in inside if each.kind == "quantity"]
    second = amounts[1] if len(amounts) > 1 else None
    return [*(each for each in inside if each.kind == "each"), amounts[0]._replace(second=second)]


def _is_wanted(before: Sequence[Piece], behind: Sequence[Piece], inside: Sequence[Piece]) -> bool:
    """Return whether a name without an amount stands before a bracket, or its amount in other units."""
    last = next((each for each in reversed(before) if each.kind not in ("point", "leader", "break")), None)
    following = next((each for each in behind if each.kind not in ("leader", "break")), None)
    if last is None:
        return False
    if last.kind == "quantity":
        return _other_system(last.quantity, next(each.quantity for each in inside if each.kind == "quantity"))
    return last.kind in ("text", "preparation", "strength") and (following is None or following.kind not in AMOUNTS)


def _two_columns(pieces: Sequence[Piece], line: Sequence[Token]) -> list[Piece]:
    """Put the second of two amounts for one thing inside the first: "0.5 Gm. or 8 grains"."""
    if [piece.kind for piece in pieces].count("quantity") < _TWO:
        return list(pieces)
    kept: list[Piece] = []
    for at, piece in enumerate(pieces):
        first = _amount_before(kept, line) if piece.kind == "quantity" else None
        cell = _cell_before(kept, piece, line)
        if first is not None and _is_second(pieces, at, kept, first, line):
            kept[first:] = [kept[first]._replace(second=piece)]
        elif cell is not None:
            kept[cell:] = [_measured_first(kept[cell], piece)]
        else:
            kept.append(piece)
    return kept


def _cell_before(kept: Sequence[Piece], piece: Piece, line: Sequence[Token]) -> int | None:
    """Return where an amount in the cell before one stands, empty cells between: "to 10.00 | | to 2 fl. ounces"."""
    at = len(kept) - 1
    while at >= 0 and (line[kept[at].first].text == _BAR or kept[at].kind == "total"):
        at -= 1
    if piece.kind != "quantity" or not 0 <= at < len(kept) - 1 or line[kept[at + 1].first].text != _BAR:
        return None
    before = kept[at]
    if before.quantity is None or piece.quantity is None or before.second is not None:
        return None
    bare = [quantity.parts[0].unit is None for quantity in (before.quantity, piece.quantity)]
    return at if bare[0] != bare[1] or _other_system(before.quantity, piece.quantity) else None


def _measured_first(one: Piece, two: Piece) -> Piece:
    """Return two amounts of a row as one piece: the one with a unit first, for a bare figure says less."""
    if one.quantity is not None and one.quantity.parts[0].unit is None:
        one, two = two, one
    return one._replace(second=two)


def _amount_before(kept: Sequence[Piece], line: Sequence[Token]) -> int | None:
    """Return where an amount stands with nothing but "or", a comma or dots behind it."""
    behind = len(kept) - 1
    while behind >= 0 and kept[behind].kind in ("text", "point") and line[kept[behind].first].text.lower() in _BETWEEN:
        behind -= 1
    while behind >= 0 and kept[behind].kind in ("point", "leader") and line[kept[behind].first].text not in ";:":
        behind -= 1
    return behind if behind >= 0 and kept[behind].kind == "quantity" and kept[behind].second is None else None


def _is_second(pieces: Sequence[Piece], at: int, kept: Sequence[Piece], first: int, line: Sequence[Token]) -> bool:
    if not _other_system(kept[first].quantity, pieces[at].quantity):
        return False
    return line[kept[-1].first].text.lower() in _EQUALS or not _has_own_name(pieces, at, kept, first)


def _has_own_name(pieces: Sequence[Piece], at: int, kept: Sequence[Piece], behind: int) -> bool:
    """Return whether an amount behind a comma opens an item of its own: "starch, 2 Gm., 8 grains of borax"."""
    named_before = behind > 0 and kept[behind - 1].kind in ("text", "point", "leader", "preparation", "strength")
    following = pieces[at + 1].kind if at + 1 < len(pieces) else "point"
    return named_before and following in ("text", "joining", "preparation")


def _other_system(one: Quantity | None, other: Quantity | None) -> bool:
    units = [str(quantity.parts[0].unit) for quantity in (one, other) if quantity is not None]
    metric = [any(word in unit for word in _METRIC) for unit in units]
    return len(units) > 1 and metric[0] != metric[1] and "None" not in units and "part" not in units


def _braced(pieces: Sequence[Piece], line: Sequence[Token]) -> list[Piece]:
    """Put an amount that a brace gives to names before and behind it behind all of them, as one "of each"."""
    if not any(line[piece.first].text == "}" for piece in pieces):
        return list(pieces)
    kept: list[Piece] = []
    start = at = 0  # of the group; of the piece looked at
    while at < len(pieces):
        if pieces[at].kind != "quantity" or not _braces(pieces[start:at], line):
            at += 1
            continue
        names, amount = _without_each(pieces[start:at], line)
        after = _end_of_group(pieces, at, _braces(pieces[start:at], line), line)
        behind = [piece for piece in pieces[at + 1 : after] if line[piece.first].text != "."]
        kept += [*names, *behind, *amount, pieces[at]]
        start = at = after
    return [*kept, *pieces[start:]]


def _braces(pieces: Sequence[Piece], line: Sequence[Token]) -> int:
    return sum(line[piece.first].text == "}" for piece in pieces)


def _without_each(pieces: Sequence[Piece], line: Sequence[Token]) -> tuple[list[Piece], list[Piece]]:
    """Return the names before an amount, and "each"; what stands between brace and amount is said of all."""
    last = max(n for n, piece in enumerate(pieces) if line[piece.first].text == "}")
    each = [piece for piece in pieces[last:] if piece.kind == "each"]
    return list(pieces[: last + 1]), each or [Piece("each", pieces[last].first, pieces[last].first)]


def _end_of_group(pieces: Sequence[Piece], at: int, before: int, line: Sequence[Token]) -> int:
    """Return the piece behind the last name that a brace gives the amount at a place."""
    end, braces = at + 1, 0
    next_amount = next((n for n in range(at + 1, len(pieces)) if pieces[n].kind in AMOUNTS), len(pieces))
    for n in range(at + 1, next_amount):
        if line[pieces[n].first].text == "}" and braces < before:
            end, braces = n + 1, braces + 1
    return end
