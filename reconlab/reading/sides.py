"""Amounts on either side of their names: first ("two ounces of starch") or last ("Starch .... 2 oz.")."""

from __future__ import annotations

from collections.abc import Sequence

from reconlab.reading.carried import WHOLE
from reconlab.reading.descending import compound
from reconlab.reading.drafts import Draft, named, parts_of, spread_out
from reconlab.reading.pieces import AMOUNTS, Piece
from reconlab.reading.tokens import Token, mark_at
from reconlab.receipts import Amount, Measured, Quantity

FEW_WORDS = 6  # a line without an amount that is longer than this is prose, not an ingredient


def amount_first(clause: Sequence[Piece], line: Sequence[Token]) -> list[Draft]:
    """Read "Six drams of glycerine, nine ounces of rosewater": an amount opens an item.

    Parameters
    ----------
    clause : sequence of Piece
        The pieces.
    line : sequence of Token
        The line they are of.

    Returns
    -------
    list of Draft
        The items, in order.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("Six drams of wax")
    >>> [len(draft.names) for draft in amount_first(pieces_of(line), line)]
    [2]
    """
    return _AmountFirst(clause, line).read()


class _AmountFirst:
    """Reads a clause whose amounts stand before their names."""

    def __init__(self, clause: Sequence[Piece], line: Sequence[Token]) -> None:
        self.clause, self.line = clause, line
        self.drafts: list[Draft] = []
        self.each = self.total = self.coming = False
        self.late = False  # "of each" stood behind the names, and no amount has come since

    def read(self) -> list[Draft]:
        for at, piece in enumerate(self.clause):
            if piece.kind == "quantity":
                self.amount(piece, at)
            elif piece.kind in ("enough", "some"):
                self.unmeasured(piece, at)
            elif piece.kind == "each" and piece.quantity is None and self.is_before_amount(at):
                self.coming = True
            elif piece.kind == "each":
                self.each = True
                self.late = bool(self.drafts) and bool(named(self.drafts[-1].names))
                _share(self.drafts, piece)
            elif piece.kind in ("direction", "ends"):
                self.drafts += [Draft(aside=True)] if not self.drafts or named(self.drafts[-1].names) else []
            elif self.drafts and piece.kind == "total":
                self.total = True
                self.drafts[-1].purpose_pieces.append(piece)
            elif self.drafts:
                self.drafts += [Draft(aside=True)] if self.is_something_else(piece, at) else []
                self.drafts[-1].names.append(piece)
                self.drafts[-1].doubtful |= self.late and piece.kind == "text"
        return spread_out([d for d in self.drafts if not d.aside or d.purpose != "ingredient"], self.line)

    def amount(self, piece: Piece, at: int) -> None:
        self.late = False
        last = self.drafts[-1] if self.drafts else None
        if last and named(last.names) and _closes_each(self.clause, at):
            _give_each(self.drafts, piece, self.line)
            self.each = False
        elif last and self.total and not _names_follow(self.clause, at):
            _close_total(self.drafts, piece, self.line)
            self.each = self.total = False
        elif last and self.closes(at) and (last.aside or len(_at_last_comma(last.names, self.line)) > 1):
            *kept, name = _at_last_comma(last.names, self.line)
            last.names = [each for part in kept for each in part]
            self.drafts += [Draft(names=name, quantity=piece), Draft(aside=True)]
        elif last and (both := _compound(last, piece)):
            last.quantity = both
        else:
            self.drafts.append(Draft(quantity=piece, each=self.coming or (self.each and not self.drafts)))
            self.coming = False

    def is_before_amount(self, at: int) -> bool:
        """Return whether "each" speaks of the names behind the amount that follows: "je 30 Gr. Myrrhen und Aloe"."""
        amount = self.clause[at + 1] if at + 1 < len(self.clause) else None
        told = bool(self.drafts) and amount is not None and amount.kind == "quantity"
        return told and _opens_name(self.clause, at + 1)

    def is_something_else(self, piece: Piece, at: int) -> bool:
        """Return whether a comma ends the name, in German or French: ", ein halbes Messchen", ", die Schale"."""
        if not at or self.line[self.clause[at - 1].first].text != "," or not named(self.drafts[-1].names):
            return False
        mark = mark_at(self.line, piece.first)
        count = mark.meanings.get("number") if mark is not None else None
        article = self.line[piece.first].text in ("die", "der", "das", "welche")
        return article or (count is not None and count.language in ("de", "fr"))

    def closes(self, at: int) -> bool:
        """Return whether an amount belongs to the name before it: "two ounces of amber, musk six grains, civet ..."."""
        following = self.clause[at + 1] if at + 1 < len(self.clause) else None
        last = self.drafts[-1]
        return bool(named(last.names)) and (following is None or self.line[following.first].text in ",.")

    def unmeasured(self, piece: Piece, at: int) -> None:
        """Take words of sufficiency, or "a little", for those of the name behind them, or before them."""
        last = self.drafts[-1] if self.drafts else None
        if piece.kind == "some":
            self.drafts.append(Draft(names=[piece]))
        elif last and last.aside and named(last.names) and not _opens_name(self.clause, at):
            last.aside, last.purpose = False, "enough"
            last.purpose_pieces.append(piece)
        elif (
            last
            and last.quantity
            and not _opens_name(self.clause, at)
            and len(parts := _at_last_joint(last.names, self.line)) > 1
        ):
            last.names, name = parts  # an ounce of flour, and honey a sufficient quantity
            self.drafts += [Draft(names=name, purpose="enough", purpose_pieces=[piece]), Draft(aside=True)]
        else:
            self.drafts.append(Draft(purpose="enough", purpose_pieces=[piece]))


def _compound(last: Draft, piece: Piece) -> Piece | None:
    """Return two amounts as one where nothing but a comma parts them: "5 Unzen, 2 Drachmen Honig"."""
    first = last.quantity
    if first is None or first.quantity is None or piece.quantity is None or named(last.names):
        return None
    both = compound(first.quantity, piece.quantity)
    return Piece("quantity", first.first, piece.after, both) if both is not None else None


def _at_last_comma(names: Sequence[Piece], line: Sequence[Token]) -> list[list[Piece]]:
    """Return names in two at their last comma, or whole."""
    commas = [at for at, piece in enumerate(names) if line[piece.first].text == "," and named(names[at:])]
    return [list(names[: commas[-1]]), list(names[commas[-1] + 1 :])] if commas else [list(names)]


def _at_last_joint(names: Sequence[Piece], line: Sequence[Token]) -> list[list[Piece]]:
    """Return names in two at their last comma or "and", or whole."""
    joints = [at for at, piece in enumerate(names) if line[piece.first].text.lower() in _JOINTS and named(names[at:])]
    at = next((joint for joint in reversed(joints) if named(names[:joint])), None)
    return [list(names)] if at is None else [list(names[:at]), list(names[at + 1 :])]


_JOINTS = (",", "and", "with", "et", "und", "&")


def _closes_each(clause: Sequence[Piece], at: int) -> bool:
    """Return whether an amount ends a list: "coral, and sorrel seed, of each half a dram"."""
    before = [piece for piece in clause[max(at - 2, 0) : at] if piece.kind not in ("point", "joining")]
    return bool(before) and before[-1].kind == "each" and not _opens_name(clause, at)


def _give_each(drafts: list[Draft], amount: Piece, line: Sequence[Token]) -> None:
    """Give an amount to the names before it that have none; the first of a list may have one of its own."""
    last = drafts[-1]
    parts = parts_of(last.names, line)
    if last.quantity is None:
        last.quantity, last.each, last.aside = amount, True, False
    elif len(parts) > 1:
        last.each, last.names = False, parts[0]
        comma = Piece("break", parts[0][-1].after, parts[0][-1].after)
        rest = [piece for part in parts[1:] for piece in (*part, comma)]
        drafts.append(Draft(names=rest, quantity=amount, each=True))
    else:
        last.quantity, last.each = amount, True


def _opens_name(clause: Sequence[Piece], at: int) -> bool:
    """Return whether a name follows a piece at once."""
    following = clause[at + 1].kind if at + 1 < len(clause) else ""
    return following in ("text", "preparation", "joining", "strength")


def _share(drafts: list[Draft], piece: Piece) -> None:
    """Note that an amount is for each of several; "equal parts of" is an amount itself."""
    if piece.quantity is not None:
        drafts.append(Draft(quantity=piece))
    if drafts and not drafts[-1].aside:
        drafts[-1].each = True


def _names_follow(clause: Sequence[Piece], at: int) -> bool:
    """Return whether an amount has a name of its own behind it: "1 ounce of wax to 1 pound of oil" makes no total."""
    for following in range(at + 1, len(clause)):
        piece = clause[following]
        if piece.kind in ("quantity", "text"):
            return piece.kind == "text"
    return False


def _close_total(drafts: list[Draft], amount: Piece, line: Sequence[Token]) -> None:
    """Give "... and water to make 8 oz." its own item: the last name before the words is the one that fills up."""
    last = drafts[-1]
    *kept, filler = parts_of(last.names, line) or [[]]
    if last.quantity is None:  # sufficient rosewater to make up four ounces
        last.purpose, last.quantity, last.aside = "total", amount, False
    elif kept:
        words = [piece for piece in last.purpose_pieces if piece.kind == "total"]
        last.purpose_pieces = [piece for piece in last.purpose_pieces if piece.kind != "total"]
        last.names = [piece for part in kept for piece in part]
        drafts.append(Draft(names=filler, quantity=amount, purpose="total", purpose_pieces=words))
    else:  # an amount to make of nothing named: left unread
        last.purpose_pieces = []


def amount_last(clause: Sequence[Piece], line: Sequence[Token]) -> list[Draft]:
    """Read "White wax, 1 oz.": an amount closes the item whose name stands before it.

    Parameters
    ----------
    clause : sequence of Piece
        The pieces.
    line : sequence of Token
        The line they are of.

    Returns
    -------
    list of Draft
        The items, in order.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("Wax, 1 oz.")
    >>> [draft.quantity.kind for draft in amount_last(pieces_of(line), line)]
    ['quantity']
    """
    return _AmountLast(clause, line).read()


class _AmountLast:
    """Reads a clause whose amounts stand behind their names."""

    def __init__(self, clause: Sequence[Piece], line: Sequence[Token]) -> None:
        self.clause, self.line = clause, line
        self.drafts: list[Draft] = []
        self.open = Draft()
        self.prose = False  # words that end a name in prose have come since the last amount
        self.joins = set[int]()  # those words
        self.next_amount = 0  # behind the last direction looked at
        self.ended = False  # its name has ended, and its amount is still to come: "Magnesia to clear it, 2 oz."

    def read(self) -> list[Draft]:
        for at, piece in enumerate(self.clause):
            if piece.kind == "quantity" or piece.quantity is not None:
                self.open.each = self.open.each or piece.kind == "each"
                if self.open.purpose == "ingredient" and self.turns(at):
                    self.drafts += [self.open] if self.open.names and self.open.names[0].kind == "some" else []
                    return spread_out(self.drafts, self.line) + amount_first(self.clause[at:], self.line)
                self.amount(piece)
            elif piece.kind == "direction" and self.drafts and not named(self.open.names):
                if self.is_followed(at):
                    self.open, self.prose = Draft(), True  # coque ex aq. font. lb. ij
                elif self.open.names:
                    self.open.names.append(piece)  # 15 oz., and add 2 dr. of ...
                else:
                    break
            elif piece.kind == "enough" and self.drafts and self.is_before_name(at):
                return spread_out(self.drafts, self.line) + amount_first(self.clause[at:], self.line)
            elif piece.kind in ("each", "total", "enough"):
                self.mark(piece)
            elif piece.kind == "ditto" and named(self.open.names) and _is_amount(self.clause, at, self.line):
                self.amount(ditto(piece, self.line))
            else:
                self.word(piece, at)
        return spread_out([*self.drafts, *self.unmeasured()], self.line)

    def is_followed(self, at: int) -> bool:
        """Return whether a name with an amount behind it comes after a direction."""
        if self.next_amount <= at:
            amounts = (later for later in range(at + 1, len(self.clause)) if self.clause[later].kind in _TOLD)
            self.next_amount = next(amounts, len(self.clause))
        found = self.next_amount < len(self.clause)
        return found and self.clause[self.next_amount - 1].kind != "direction"

    def is_before_name(self, at: int) -> bool:
        """Return whether words of sufficiency speak of the name behind them: "ce qu'il faut de sirop"."""
        following = self.clause[at + 1] if at + 1 < len(self.clause) else None
        waits = bool(named(self.open.names))
        return not waits and following is not None and self.line[following.first].text.lower() in _OF_WHAT

    def turns(self, at: int) -> bool:
        """Return whether amounts stand before their names from here: "rose oil, ten drops, and a pint of spirit"."""
        if self.drafts and _goes_on(self.drafts[-1], self.open, self.clause[at], try_only=True):
            return False
        waits = [piece for piece in named(self.open.names) if piece.first not in self.joins]
        if not waits and self.joins and self.drafts and _names_follow(self.clause, at):
            return True  # Eisenvitriol 50,0 gelöst in 260,0 Salzsäure
        if named(self.open.names):
            of = at + 1 < len(self.clause) and self.line[self.clause[at + 1].first].text.lower() == "of"
            return of and bool(self.drafts) and (self.prose or self.open.names[0].kind == "some")
        return bool(self.drafts) and _names_follow(self.clause, at)

    def amount(self, piece: Piece) -> None:
        if not (self.drafts and _goes_on(self.drafts[-1], self.open, piece)):
            self.open.quantity = piece
            self.drafts.append(self.open)
        self.open, self.ended, self.prose, self.joins = Draft(), False, False, set()

    def mark(self, piece: Piece) -> None:
        if piece.kind == "each":
            last = self.drafts[-1] if self.drafts and not named(self.open.names) else self.open
            last.each = True  # "one drachm each" too
            return
        self.open.purpose_pieces.append(piece)
        if piece.kind == "total":
            self.open.purpose = "total"
            return
        self.open.purpose = "total" if self.open.purpose == "total" else "enough"
        self.drafts.append(self.open)
        self.open = Draft()

    def word(self, piece: Piece, at: int) -> None:
        if piece.kind == "ends" and self.line[piece.first].text.lower() == "to" and named(self.open.names):
            self.ended = True
        elif self.ended:
            return
        elif piece.kind == "ends":
            self.prose = True
            self.joins |= set(range(piece.first, piece.after))
            self.open.names += [Piece("text", one, one + 1) for one in range(piece.first, piece.after)]
        else:
            behind = piece.kind == "preparation" and not named(self.open.names) and self.is_last(at)
            (self.drafts[-1] if self.drafts and behind else self.open).names.append(piece)

    def is_last(self, at: int) -> bool:
        """Return whether only points stand behind a piece: "2 oz. in fine powder."."""
        behind = (self.clause[later] for later in range(at + 1, len(self.clause)))
        return all(self.line[piece.first].kind == "point" or piece.kind == "preparation" for piece in behind)

    def unmeasured(self) -> list[Draft]:
        """Return the names without an amount that close the clause."""
        words = named(self.open.names)
        if words and not self.drafts:
            return [self.open]
        if not 0 < len(words) <= FEW_WORDS or not self.drafts:
            return []
        first = next(self.line[piece.first].text.lower() for piece in self.open.names if piece.kind != "point")
        if first == "with":  # "..., 2 grains, with sugar and tragacanth"
            return [Draft(names=part) for part in parts_of(self.open.names, self.line)]
        last = self.drafts[-1].quantity
        return [self.open] if last is not None and last.second else []  # aloes (0.13 Gm. or 2 grains), and soap


_TOLD = (*AMOUNTS, "some")
_OF_WHAT = ("of", "de", "du", "d'", "d\N{RIGHT SINGLE QUOTATION MARK}", "von")


def _is_amount(clause: Sequence[Piece], at: int, line: Sequence[Token]) -> bool:
    """Return whether a ditto mark stands where an amount stands: behind a comma or dots, and at the end."""
    before = clause[at - 1] if at else None
    led = before is not None and (before.kind == "leader" or line[before.first].text in (",", ":"))
    return led and all(piece.kind in ("point", "leader") for piece in clause[at + 1 :])


def ditto(piece: Piece, line: Sequence[Token]) -> Piece:
    """Return a ditto mark as the amount it stands for.

    Parameters
    ----------
    piece : Piece
        The mark.
    line : sequence of Token
        Its line.

    Returns
    -------
    Piece
        A quantity, to be taken over from the item before.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens('Wax, "')
    >>> ditto(pieces_of(line)[-1], line).quantity.parts[0].unit
    'ditto amount'
    """
    amount = Amount(1, 1, 1, line[piece.first].text)
    return piece._replace(kind="quantity", quantity=Quantity((Measured(amount, WHOLE),)))


def _goes_on(previous: Draft, draft: Draft, amount: Piece, *, try_only: bool = False) -> bool:
    """Give an amount to the item before it where it goes on with that: q.s. ad 8 oz., and 1 lb., 4 oz."""
    if any(piece.kind == "direction" for piece in draft.names):
        return False  # 15 oz., and add 2 dr. of ...
    if previous.purpose == "enough" and not named(draft.names):
        if not try_only:
            previous.purpose, previous.quantity = "total", amount
            previous.purpose_pieces += draft.purpose_pieces
        return True
    first = previous.quantity
    if named(draft.names) or first is None or first.quantity is None or amount.quantity is None:
        return False
    both = compound(first.quantity, amount.quantity)
    if both is not None and not try_only:
        previous.quantity = Piece("quantity", first.first, amount.after, both)
    return both is not None


def bare(sentence: Sequence[Piece], line: Sequence[Token]) -> list[Draft]:
    """Read a short line without an amount as an ingredient without one.

    Parameters
    ----------
    sentence : sequence of Piece
        The pieces.
    line : sequence of Token
        The line they are of.

    Returns
    -------
    list of Draft
        One item or none.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("White wax")
    >>> len(bare(pieces_of(line), line))
    1
    """
    words = named(sentence)
    mark = next(
        (at for at, piece in enumerate(sentence) if piece.kind == "ditto" and _is_amount(sentence, at, line)), 0
    )
    if mark and named(sentence[:mark]):
        return [Draft(names=list(sentence[:mark]), quantity=ditto(sentence[mark], line))]
    if (
        any(p.kind == "direction" for p in sentence)
        or not 0 < len(words) <= FEW_WORDS
        or line[sentence[0].first].text == "("
    ):
        return []
    return [Draft(names=list(sentence))]
