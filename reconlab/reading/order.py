"""On which side of its name an amount stands in a clause, and whether the page is at one with itself about it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from reconlab.reading.pieces import AMOUNTS, Piece, is_bare_decimal
from reconlab.reading.tokens import Token, mark_at

_PARTED = frozenset((",", ";", ":", "|"))
_JOINED = frozenset(("and", "&", "et", "und", "with", "mit", "cum", "avec", "then", "add"))
_WORDS = ("text", "preparation", "joining", "strength")
_FEW = 2  # amounts that speak with one voice


class Order(NamedTuple):
    """How many amounts of a clause lead to a name behind them, and how many close the name before them."""

    leading: int
    closing: int

    def at_odds(self, *, opens: bool) -> bool:
        """Return whether an amount stands on the other side of its name than the clause is read.

        Parameters
        ----------
        opens : bool
            Whether it is read with the amounts before their names.

        Returns
        -------
        bool
            Whether one does: which amount is whose may then be wrong in the whole clause.

        Examples
        --------
        >>> Order(leading=2, closing=1).at_odds(opens=True), Order(leading=2, closing=0).at_odds(opens=True)
        (True, False)
        """
        return (self.closing if opens else self.leading) > 0


def order_of(clause: Sequence[Piece], line: Sequence[Token]) -> Order:
    """Return on which side of their names the amounts of a clause stand, as its points and joining words tell.

    Parameters
    ----------
    clause : sequence of Piece
        The pieces.
    line : sequence of Token
        The line they are of.

    Returns
    -------
    Order
        Amounts between two words, or between two points, tell nothing.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("a Maas of vinegar, 4 ounces of alum, 2 ounces of gum")
    >>> order_of(pieces_of(line), line)
    Order(leading=3, closing=0)
    """
    leading = closing = 0
    for at, piece in enumerate(clause):
        if piece.kind != "quantity" or piece.counted:
            continue
        before = clause[at - 1] if at else None
        behind = clause[at + 1] if at + 1 < len(clause) else None
        abbreviated = line[piece.after - 1].text == "."
        ends = behind is None or _parts(behind, line) or behind.kind == "break" or line[behind.first].kind == "key"
        opens = before is None or _parts(before, line) or before.kind in ("direction", "break")
        if opens and not ends and behind is not None and behind.kind in _WORDS and not abbreviated:
            leading += 1
        elif ends and _names_before(clause, at, line):
            closing += 1
    return Order(leading, closing)


def opens_with_amount(clause: Sequence[Piece], line: Sequence[Token], order: Order) -> bool:
    """Return whether the amounts of a clause stand before their names.

    Parameters
    ----------
    clause : sequence of Piece
        The pieces, an amount among them.
    line : sequence of Token
        The line they are of.
    order : Order
        On which side its amounts seem to stand.

    Returns
    -------
    bool
        Whether they do; "then add bay rum one gill, salt ..." has them behind.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("Wax, 1 oz.")
    >>> opens_with_amount(pieces_of(line), line, order_of(pieces_of(line), line))
    False
    """
    kinds = [piece.kind for piece in clause]
    first = next(at for at, kind in enumerate(kinds) if kind in AMOUNTS)
    before = kinds[:first]
    after = clause[first].after
    if "direction" not in before:
        words = [line[piece.first].text.lower() for piece in clause[:first] if piece.kind == "text"]
        if PREPOSITIONS.issuperset(words) or (first and kinds[first] == "quantity" and _leads(clause[first - 1], line)):
            return True
        of = clause[first].kind == "quantity" and after < len(line) and line[after].text.lower() == "of"
        if of and clause[first].quantity is not None and not _closes_with_each(clause, first):
            return True
        if kinds[first] == "each" and clause[first].quantity is not None and kinds[first + 1 : first + 2] == ["text"]:
            return kinds[-1] != "quantity"  # found that equal parts of galls and gum
        if _unit_not_known(clause, line) or _leads_throughout(clause, line):
            return True
        return order.leading >= _FEW and not order.closing and clause[-1].kind != "quantity"
    told = len(before) - 1 - before[::-1].index("direction")
    named = "text" in before[told:]
    ends = after >= len(line) or line[after].text in ",;."
    measured = next((piece for piece in clause[first:] if piece.kind == "quantity"), clause[first])
    behind = ends or has_sign_first(measured, line) or is_bare_decimal(measured.quantity)
    return not (named and (behind or _closed_throughout(clause, first, order)))


PREPOSITIONS = frozenset((
    "zu", "auf", "aus", "in", "dans", "sur", "pour", "avec", "\N{LATIN SMALL LETTER A WITH GRAVE}", "mit",
))  # fmt: skip


_TOLD = ("text", *AMOUNTS)


def ends_with_name(clause: Sequence[Piece]) -> bool:
    """Return whether a name stands behind the last amount of a clause, as where amounts come first.

    Parameters
    ----------
    clause : sequence of Piece
        The pieces, an amount among them.

    Returns
    -------
    bool
        Whether one does.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> ends_with_name(pieces_of(tokens("1 oz. of wax"))), ends_with_name(pieces_of(tokens("Wax, 1 oz.")))
    (True, False)
    """
    told = [piece.kind for piece in clause if piece.kind in ("text", "direction", "ends", *AMOUNTS)]
    return told[-1] == "text" and told[-2:] != ["direction", "text"]


def has_sign_first(piece: Piece, line: Sequence[Token]) -> bool:
    """Return whether an amount has its unit before its numeral, as Latin receipts print it: behind the name.

    Parameters
    ----------
    piece : Piece
        An amount or any other.
    line : sequence of Token
        The line it is of.

    Returns
    -------
    bool
        Whether it has.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> [has_sign_first(pieces_of(line)[0], line) for line in (tokens("gr. xv"), tokens("15 grains"))]
    [True, False]
    """
    mark = mark_at(line, piece.first) if piece.kind == "quantity" else None
    return mark is not None and "unit" in mark.meanings and "number" not in mark.meanings


def _leads(piece: Piece, line: Sequence[Token]) -> bool:
    """Return whether a heading or a preposition leads to amounts before their names: "aus 1 Theil Zinkoxyd und ..."."""
    return piece.kind == "heading" or line[piece.first].text.lower() == "aus"


def _unit_not_known(pieces: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether a clause opens with a number whose unit is not known, as its last name has no amount behind it.

    "Ein Fäßchen Essig, 3/4 Pfund Gallus, 4 Loth Alaun": its amounts belong to the names behind them.
    """
    first = next(piece for piece in pieces if piece.kind in _TOLD)
    mark = mark_at(line, first.first) if first.kind == "text" and line[first.first].kind != "number" else None
    if mark is None or "number" not in mark.meanings or mark.meanings["number"].language not in ("de", "fr"):
        return False
    return next(piece for piece in reversed(pieces) if piece.kind in _TOLD).kind == "text"


def _leads_throughout(clause: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether each amount behind the first stands between a comma and a name: "Dye with 1 oz. X, 2 oz. Y".

    Where amounts stand behind their names, the first has words and a comma before it, or the last no name behind.
    """
    places = [at for at, piece in enumerate(clause) if piece.kind == "quantity" and not piece.counted]
    if len(places) < _FEW or not places[0] or any(piece.kind in ("enough", "each", "total") for piece in clause):
        return False
    first = clause[places[0] - 1]
    led = first.kind in ("text", "direction", "joining") or line[first.first].text == ":"
    named = all(at + 1 < len(clause) and clause[at + 1].kind in _WORDS for at in places)
    return led and named and all(_parts(clause[at - 1], line) for at in places[1:])


def _closes_with_each(clause: Sequence[Piece], first: int) -> bool:
    """Return whether the first amount is said of the names before it: "wax and lard, two ounces of each"."""
    named = any(piece.kind == "text" for piece in clause[:first])
    return named and next((piece.kind for piece in clause[first + 1 :] if piece.kind != "leader"), "") == "each"


def _closed_throughout(clause: Sequence[Piece], first: int, order: Order) -> bool:
    """Return whether amounts close their names with no points between: "adde gum. ammon. ℈iii aloes ʒss syr. q. s."."""
    runs_on = first + 1 < len(clause) and clause[first + 1].kind == "text"
    return runs_on and clause[-1].kind in AMOUNTS and not order.leading


def _parts(piece: Piece, line: Sequence[Token]) -> bool:
    return line[piece.first].text in _PARTED or _joins(piece, line)


def _joins(piece: Piece, line: Sequence[Token]) -> bool:
    return piece.after == piece.first + 1 and line[piece.first].text.lower() in _JOINED


def _names_before(clause: Sequence[Piece], at: int, line: Sequence[Token]) -> bool:
    """Return whether a name stands before an amount, with a comma or dots between them or without."""
    before = clause[at - 1] if at else None
    if before is None or _joins(before, line):
        return False
    if before.kind in (*_WORDS, "leader"):
        return True
    return at > 1 and line[before.first].text == "," and clause[at - 2].kind in _WORDS
