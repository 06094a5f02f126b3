"""Amounts and the names they belong to: amount first ("two ounces of starch") or amount last ("Starch .... 2 oz.")."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from dataclasses import replace as changed

from reconlab.reading.carried import WHOLE
from reconlab.reading.pieces import Piece
from reconlab.reading.quantities import compound
from reconlab.reading.tokens import Token
from reconlab.receipts import Amount, Measured, Purpose, Quantity

FEW_WORDS = 6  # a line without an amount that is longer than this is prose, not an ingredient


@dataclass
class Draft:
    """An item being read: the pieces that make it up."""

    names: list[Piece] = field(default_factory=list)
    quantity: Piece | None = None
    purpose: Purpose = "ingredient"
    purpose_pieces: list[Piece] = field(default_factory=list)
    each: bool = False
    aside: bool = False  # words behind a direction: an ingredient only if words of sufficiency follow


def amount_first(clause: Sequence[Piece], line: Sequence[Token]) -> list[Draft]:  # noqa: C901 - a branch a kind
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
    drafts: list[Draft] = []
    each, total = False, False
    for at, piece in enumerate(clause):
        last = drafts[-1] if drafts else None
        if piece.kind == "quantity" and last and _closes_each(clause, at) and named(last.names):
            _give_each(drafts, piece, line)
            each = False
        elif piece.kind == "quantity" and total and last and not _names_follow(clause, piece):
            _close_total(drafts, piece, line)
            each, total = False, False
        elif piece.kind == "enough" and last and last.aside and named(last.names) and not _opens_name(clause, at):
            last.aside, last.purpose = False, "enough"
            last.purpose_pieces.append(piece)
        elif piece.kind in ("quantity", "enough", "some"):
            drafts.append(_opened(piece, each=each and not drafts))
        elif piece.kind == "each":
            each = True
            _share(drafts, piece)
        elif last and piece.kind == "total":
            total = True
            last.purpose_pieces.append(piece)
        elif piece.kind in ("direction", "ends"):
            if last and named(last.names):
                drafts.append(Draft(aside=True))
        elif last:
            last.names.append(piece)
    return _spread_out([draft for draft in drafts if not draft.aside or draft.purpose != "ingredient"], line)


def _closes_each(clause: Sequence[Piece], at: int) -> bool:
    """Return whether an amount ends a list: "coral, and sorrel seed, of each half a dram"."""
    before = [piece for piece in clause[max(at - 2, 0) : at] if piece.kind not in ("point", "joining")]
    return bool(before) and before[-1].kind == "each" and not _opens_name(clause, at)


def _give_each(drafts: list[Draft], amount: Piece, line: Sequence[Token]) -> None:
    """Give an amount to the names before it that have none; the first of a list may have one of its own."""
    last = drafts[-1]
    parts = _parts(last.names, line)
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


def _opened(piece: Piece, *, each: bool) -> Draft:
    if piece.kind == "enough":
        return Draft(purpose="enough", purpose_pieces=[piece])
    if piece.kind == "some":
        return Draft(names=[piece])
    return Draft(quantity=piece, each=each)


def _share(drafts: list[Draft], piece: Piece) -> None:
    """Note that an amount is for each of several; "equal parts of" is an amount itself."""
    if piece.quantity is not None:
        drafts.append(Draft(quantity=piece))
    if drafts and not drafts[-1].aside:
        drafts[-1].each = True


def _names_follow(clause: Sequence[Piece], amount: Piece) -> bool:
    """Return whether an amount has a name of its own behind it: "1 ounce of wax to 1 pound of oil" makes no total."""
    behind = (piece.kind for piece in clause if piece.first > amount.first and piece.kind in ("quantity", "text"))
    return next(behind, "") == "text"


def _close_total(drafts: list[Draft], amount: Piece, line: Sequence[Token]) -> None:
    """Give "... and water to make 8 oz." its own item: the last name before the words is the one that fills up."""
    last = drafts[-1]
    *kept, filler = _parts(last.names, line) or [[]]
    if last.quantity is None:  # sufficient rosewater to make up four ounces
        last.purpose, last.quantity, last.aside = "total", amount, False
    elif kept:
        words = [piece for piece in last.purpose_pieces if piece.kind == "total"]
        last.purpose_pieces = [piece for piece in last.purpose_pieces if piece.kind != "total"]
        last.names = [piece for part in kept for piece in part]
        drafts.append(Draft(names=filler, quantity=amount, purpose="total", purpose_pieces=words))
    else:  # an amount to make of nothing named: left unread
        last.purpose_pieces = []


def amount_last(clause: Sequence[Piece], line: Sequence[Token]) -> list[Draft]:  # noqa: C901, PLR0912 - as above
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
    drafts: list[Draft] = []
    draft = Draft()
    ended = False  # the name has ended, and its amount is still to come: "Magnesia to clear it, 2 oz."
    for at, piece in enumerate(clause):
        if piece.kind == "each" and piece.quantity is None:
            (drafts[-1] if drafts and not named(draft.names) else draft).each = True  # "one drachm each" too
        elif piece.kind == "total":
            draft.purpose = "total"
            draft.purpose_pieces.append(piece)
        elif piece.kind == "enough":
            drafts.append(_enough(draft, piece))
            draft = Draft()
        elif piece.kind == "quantity" or piece.quantity is not None:
            draft.each = draft.each or piece.kind == "each"
            if drafts and _goes_on(drafts[-1], draft, piece):
                draft = Draft()
                continue
            if draft.purpose == "ingredient" and _turns(clause, at, drafts, draft, line):
                drafts += [draft] if draft.names and draft.names[0].kind == "some" else []
                rest = [later for later in clause if later.first >= piece.first]  # ten drops, and a pint of spirit
                return _spread_out(drafts, line) + amount_first(rest, line)
            draft.quantity = piece
            drafts.append(draft)
            draft, ended = Draft(), False
        elif piece.kind == "ditto" and named(draft.names) and _is_amount(clause, at, line):
            draft.quantity = ditto(piece, line)
            drafts.append(draft)
            draft, ended = Draft(), False
        elif piece.kind == "direction" and drafts and not draft.names:
            break
        elif piece.kind == "ends" and line[piece.first].text.lower() == "to" and named(draft.names):
            ended = True
        elif ended:
            continue
        elif piece.kind == "ends":
            draft.names += [Piece("text", one, one + 1) for one in range(piece.first, piece.after)]
        else:
            behind = piece.kind == "preparation" and not named(draft.names) and _ends(clause, piece, line)
            (drafts[-1] if drafts and behind else draft).names.append(piece)
    if named(draft.names) and not drafts:
        drafts.append(draft)
    elif _goes_with(draft, line):
        drafts += [Draft(names=part) for part in _parts(draft.names, line)]
    elif drafts and drafts[-1].quantity and drafts[-1].quantity.second and 0 < len(named(draft.names)) <= FEW_WORDS:
        drafts.append(draft)  # aloes (0.13 Gm. or 2 grains), and soap
    return _spread_out(drafts, line)


def _goes_with(draft: Draft, line: Sequence[Token]) -> bool:
    """Return whether names without an amount close a list: "..., 2 grains, with sugar and tragacanth"."""
    words = named(draft.names)
    first = next((line[piece.first].text.lower() for piece in draft.names if piece.kind != "point"), "")
    return first == "with" and 0 < len(words) <= FEW_WORDS


def _turns(clause: Sequence[Piece], at: int, drafts: Sequence[Draft], draft: Draft, line: Sequence[Token]) -> bool:
    """Return whether a list goes over from amounts behind names to amounts before them: "..., and 2 oz. of wax"."""
    if not drafts:
        return False
    of = at + 1 < len(clause) and line[clause[at + 1].first].text.lower() == "of"
    if named(draft.names):
        return of and draft.names[0].kind == "some"
    return _names_follow(clause, clause[at])


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
    return changed(piece, kind="quantity", quantity=Quantity((Measured(amount, WHOLE),)))


def _enough(draft: Draft, piece: Piece) -> Draft:
    draft.purpose = "total" if draft.purpose == "total" else "enough"
    draft.purpose_pieces.append(piece)
    return draft


def _spread_out(drafts: Sequence[Draft], line: Sequence[Token]) -> list[Draft]:
    return [single for draft in drafts for single in (_shared(draft, line) if draft.each else [draft])]


def _goes_on(previous: Draft, draft: Draft, amount: Piece) -> bool:
    """Give an amount to the item before it where it goes on with that: q.s. ad 8 oz., and 1 lb., 4 oz."""
    if previous.purpose == "enough" and not named(draft.names):
        previous.purpose, previous.quantity = "total", amount
        previous.purpose_pieces += draft.purpose_pieces
        return True
    first = previous.quantity
    if named(draft.names) or first is None or first.quantity is None or amount.quantity is None:
        return False
    both = compound(first.quantity, amount.quantity)
    if both is not None:
        previous.quantity = Piece("quantity", first.first, amount.after, both)
    return both is not None


def _ends(clause: Sequence[Piece], piece: Piece, line: Sequence[Token]) -> bool:
    """Return whether only points stand behind a piece: "2 oz. in fine powder."."""
    return all(line[p.first].kind == "point" or p.kind == "preparation" for p in clause if p.first > piece.first)


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


def named(pieces: Sequence[Piece]) -> list[Piece]:
    """Return the pieces that are words of a name.

    Parameters
    ----------
    pieces : sequence of Piece
        Of a clause or a draft.

    Returns
    -------
    list of Piece
        Those of plain words.

    Examples
    --------
    >>> from reconlab.reading.pieces import pieces_of
    >>> from reconlab.reading.tokens import tokens
    >>> line = tokens("the white wax")
    >>> len(named(pieces_of(line)))
    2
    """
    return [piece for piece in pieces if piece.kind == "text"]


def _parts(names: Sequence[Piece], line: Sequence[Token]) -> list[list[Piece]]:
    """Split names at commas, breaks and "and"; a part of preparation words alone stays with the one before it."""
    parts: list[list[Piece]] = [[]]
    for piece in names:
        if line[piece.first].text.lower() in (",", "and", "&", "et", "und", "with", "{", "}") or piece.kind == "break":
            parts.append([])
        else:
            parts[-1].append(piece)
    joined: list[list[Piece]] = []
    for part in parts:
        if named(part) or not joined:
            joined.append(part)
        else:
            joined[-1] += part
    return [part for part in joined if named(part)]


def _shared(draft: Draft, line: Sequence[Token]) -> list[Draft]:
    """Give a quantity "of each" to every name before or behind it."""
    return [changed(draft, names=part) for part in _parts(draft.names, line)] or [draft]
