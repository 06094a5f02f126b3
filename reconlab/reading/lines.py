"""One line of a receipt: which words are amount, name, preparation and purpose, and what was left unread.

A line is cut into sentences, a sentence into clauses (at semicolons), a clause into pieces. Then the order of its
first pieces tells how to read it: amount first ("two ounces of starch") or amount last ("Starch .... 2 oz.").
"""

from __future__ import annotations

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass
from dataclasses import replace as changed
from functools import lru_cache

from reconlab.reading.carried import has_head, resolved, with_head_of_list, with_suspended_heads
from reconlab.reading.certainty import doubted, in_doubt
from reconlab.reading.drafts import Draft, named
from reconlab.reading.grouping import grouped
from reconlab.reading.items import is_empty, item_of, with_ids
from reconlab.reading.leads import lead_of
from reconlab.reading.order import PREPOSITIONS, ends_with_name, has_sign_first, opens_with_amount, order_of
from reconlab.reading.parallel import across_gap
from reconlab.reading.pieces import AMOUNTS, Piece, pieces_of, raw_pieces
from reconlab.reading.sides import amount_first, amount_last, bare
from reconlab.reading.solvents import solvents_aside
from reconlab.reading.tokens import Token, begins_phrase, mark_at, says_none, tokens, words_of
from reconlab.reading.unmeasured import drafts_added, with_directions
from reconlab.reading.unread import unread_of
from reconlab.receipts import Item, Line, LineKind


def read_line(text: str, number: int, *, among_ingredients: bool, before: Item | None = None) -> Line:
    """Return a line as read.

    Parameters
    ----------
    text : str
        The printed line; line breaks may stand in it.
    number : int
        Number of the line, from which the ids of its items are made [1].
    among_ingredients : bool
        Whether it stands between ingredient lines: only then is a short line without an amount an ingredient.
    before : Item or None
        The last item before it on the page, for ditto marks.

    Returns
    -------
    Line
        Items with their spans; what was not read is listed.

    Examples
    --------
    >>> line = read_line("Oil of bergamot, oil of lemon, of each 20 drops.", 1, among_ingredients=True)
    >>> [(item.name, item.quantities[0].parts[0].unit, item.each) for item in line.items]
    [('Oil of bergamot', 'drop', True), ('oil of lemon', 'drop', True)]
    """
    line = tokens(text)
    lead = lead_of(text)
    if lead.after:
        line = words_of(token for token in line if token.start >= lead.after)
    pieces = solvents_aside(grouped(with_directions(pieces_of(line), line, text), line), line)
    drafts: list[Draft] = []
    for sentence in _sentences(pieces, line):
        if not _holds_amount(sentence):
            alone = bare(sentence, line) if among_ingredients or len(named(sentence)) < len(sentence) else []
            drafts += alone or drafts_added(sentence, line, text)
            continue
        drafts += _of_sentence(sentence, line, text)
    built = across_gap(_built(drafts, line, text, before, str(number)), text)
    if lead.doubtful and built:
        built[0] = in_doubt(built[0])
    unread = unread_of(built, text, line)
    items = with_ids(doubted(built, line, unread), number)
    kind: LineKind = "ingredient" if items else "direction" if line else "remark"
    return Line(id=str(number), text=text, kind=kind, items=items, unread=(*lead.words, *unread))


def _of_sentence(sentence: Sequence[Piece], line: Sequence[Token], text: str) -> list[Draft]:
    """Return the items of a sentence with amounts, clause by clause."""
    drafts: list[Draft] = []
    opens: bool | None = None
    for clause in _clauses(sentence, line):
        order = order_of(clause, line)
        if _holds_amount(clause):
            opens = opens_with_amount(clause, line, order) or (bool(opens) and ends_with_name(clause))
        elif any(piece.kind == "direction" for piece in clause):
            drafts += drafts_added(clause, line, text)
            continue
        elif opens is None:
            opens = opens_with_amount(sentence, line, order_of(sentence, line))
        found = amount_first(clause, line) if opens else amount_last(clause, line)
        drafts += _in_doubt(found) if order.at_odds(opens=opens) else found
    return drafts


def _holds_amount(pieces: Sequence[Piece]) -> bool:
    return any(piece.kind in AMOUNTS for piece in pieces)


def _in_doubt(drafts: Sequence[Draft]) -> list[Draft]:
    return [changed(draft, doubtful=True) for draft in drafts]


def _built(drafts: Sequence[Draft], line: Sequence[Token], text: str, before: Item | None, number: str) -> list[Item]:
    """Return the items of a line, with what each takes over from those before it."""
    built: list[Item] = []
    headed: Item | None = None  # the last whose name has a head, as in "oil of cloves"
    for draft in drafts:
        words = named(draft.names)
        item = item_of(draft, line, text, number) if words and not is_empty(words, line) else None
        if item is None or not item.name:
            continue
        if built and _starts_with_number(item.name):
            built[-1] = in_doubt(built[-1])  # unciam unam & dimidiam
            item = in_doubt(item)
        led = with_head_of_list(item, headed, text)
        built.append(resolved(led, built[-1] if built else before, headed))
        headed = built[-1] if has_head(built[-1]) and led.name == item.name else headed
    return with_suspended_heads(built, text)


_LONGEST_NUMBER = 3  # words


def _starts_with_number(name: str) -> bool:
    """Return whether a name starts with a number, which may belong to the amount before it."""
    words = name.split(maxsplit=_LONGEST_NUMBER)[:_LONGEST_NUMBER]
    mark = mark_at(tokens(" ".join(words)), 0) if _may_be_number(words[0]) else None
    return mark is not None and "number" in mark.meanings


@lru_cache(maxsize=1 << 14)
def _may_be_number(word: str) -> bool:
    """Return whether a phrase of the notation table begins with a word."""
    return any(begins_phrase(token.text) for token in tokens(word)[:1])


def amounts_in(text: str, kinds: Container[str] = AMOUNTS) -> int:
    """Return how many amounts stand in a text.

    Parameters
    ----------
    text : str
        A line.
    kinds : container of str
        Kinds of pieces that are counted.

    Returns
    -------
    int
        Their number; words of sufficiency count [1].

    Examples
    --------
    >>> amounts_in("Starch 10 oz.; talc 2 oz."), amounts_in("Mix well.")
    (2, 0)
    """
    return sum(piece.kind in kinds for piece in raw_pieces(tokens(text)))


def has_amount(text: str) -> bool:
    """Return whether any quantity, or word of sufficiency, stands in a text.

    Parameters
    ----------
    text : str
        A line; the number of a title ("Lip Salve No. 2") is no amount.

    Returns
    -------
    bool
        Whether one was found.

    Examples
    --------
    >>> has_amount("Starch 10 oz."), has_amount("Violet Powder")
    (True, False)
    """
    return any(piece.kind in AMOUNTS for piece in raw_pieces(tokens(text)))


def _sentences(pieces: Sequence[Piece], line: Sequence[Token]) -> Iterator[list[Piece]]:
    """Cut at a full stop behind which a new sentence starts; an abbreviation's stop cuts nothing."""
    if all(line[piece.after - 1].text != "." for piece in pieces[:-1]):
        yield from [list(pieces)] if pieces else []
        return
    sentence: list[Piece] = []
    so_far = _SoFar()
    for index, piece in enumerate(pieces):
        sentence.append(piece)
        following = pieces[index + 1] if index + 1 < len(pieces) else None
        stop = line[piece.after - 1].text == "."
        if piece.kind == "quantity" and not so_far.seen and _is_led(sentence[:-1], line):
            so_far.first = "quantity"  # the words before it are no name
        closes = so_far.closes if piece.kind == "quantity" else _is_whole_word(line, piece.first - 1)
        if not (piece.kind == "text" and not so_far.first and line[piece.first].text.lower() in PREPOSITIONS):
            so_far.add(piece, signed=has_sign_first(piece, line))
        if following is None or not stop or not so_far.seen:
            continue
        behind = so_far.opens_before(following) and not has_sign_first(following, line)
        behind = behind and not _closes_part(pieces[index + 2 : index + 3], line)
        capital = line[following.first].text[:1].isupper()
        told = following.kind == "direction"
        if (capital and (told or (closes and not so_far.awaits))) or (behind and closes):
            yield sentence
            sentence, so_far = [], _SoFar()
    if sentence:
        yield sentence


def _closes_part(behind: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether a semicolon stands behind an amount, so that it closes: "carbonate of ammonia. 1 dr.; and"."""
    return any(line[piece.first].text == ";" for piece in behind)


_SAYS = 4  # words of a sentence that leads to a list


def _is_led(before: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether words lead to an amount and are no name of it: "Dye with 1 oz.", "man nahm dazu: 5 Pfd."."""
    last = line[before[-1].first].text.lower() if before else ""
    words = sum(piece.kind == "text" for piece in before)
    return last in ("with", "mit", "avec") or (last == ":" and words > _SAYS)


@dataclass
class _SoFar:
    """What a sentence holds so far."""

    first: str = ""  # whether an amount or a word came first
    told: bool = False  # a direction
    seen: bool = False  # an amount
    named: bool = False  # a word since the last amount
    signed: bool = False  # its last amount has the unit before the numeral

    def add(self, piece: Piece, *, signed: bool) -> None:
        self.signed = signed if piece.kind == "quantity" else self.signed and piece.kind != "direction"
        if piece.kind == "direction" and not self.seen:
            self.first, self.named = "", False  # words before "take" say nothing of the order behind it
        if piece.kind in ("quantity", "text"):
            self.first = self.first or piece.kind
            self.named = piece.kind == "text"
        self.told = self.told or piece.kind == "direction"
        self.seen = self.seen or piece.kind in ("quantity", "enough")

    def opens_before(self, following: Piece) -> bool:
        """Return whether amounts stand before their names; where they stand behind, the next may belong to it."""
        if following.quantity is None or following.kind != "quantity":
            return False
        signed = following.quantity.parts[0].written == "sign"  # of a prescription, which has them behind
        return self.first == "quantity" or (self.told and not signed)

    @property
    def awaits(self) -> bool:
        """Whether words wait for their amount, in Latin: the stop of "tinctur. Rhei" ends no sentence."""
        return self.signed and self.first == "text" and self.named

    @property
    def closes(self) -> bool:
        """Whether an amount that comes now belongs to a name before it: the stop is not its unit's alone."""
        return self.first == "text" and self.named


def _is_whole_word(line: Sequence[Token], at: int) -> bool:
    longest_abbreviation = 4
    mark = mark_at(line, at) if at >= 0 else None
    if mark is not None and "opens" in mark.meanings:
        return False  # "20,0 Pulv. Rhiz. Calam. 10,0"
    return at >= 0 and (len(line[at].text) > longest_abbreviation or line[at].kind != "word")


_PARTING = frozenset(";|:")
_BEHIND_COUNT = (",", "and", "&", "in", "into", "with")


def _tells_on(piece: Piece, line: Sequence[Token]) -> bool:
    """Return whether an amount or a direction of another tongue opens the words behind a colon."""
    mark = mark_at(line, piece.after)
    told = mark.meanings.get("direction") or mark.meanings.get("number") if mark is not None else None
    return told is not None and told.language in ("fr", "de", "la")


def _prepares(piece: Piece, line: Sequence[Token]) -> bool:
    """Return whether words of preparation start at a piece, or behind it: "1 lemon, sliced"."""
    behind = mark_at(line, piece.after)
    return piece.kind == "preparation" or (behind is not None and "preparation" in behind.meanings)


def _before_figure(piece: Piece, line: Sequence[Token]) -> bool:
    """Return whether a mark hugs a figure behind it, as a pasted table has it."""
    after = piece.after
    return after < len(line) and line[after].kind == "number" and line[after].start == line[after - 1].end


def _turns(clause: Sequence[Piece], behind: Sequence[Piece], line: Sequence[Token]) -> bool:
    """Return whether amounts behind their names give way to amounts before: "wax, each 1 oz., 2 dr. of oil"."""
    kinds = [piece.kind for piece in clause if piece.kind not in ("point", "leader")]
    if set(kinds[-2:]) != {"each", "quantity"} or "text" not in kinds[:-2] or not behind:
        return False
    after = behind[0].after
    return behind[0].kind == "quantity" and after < len(line) and line[after].text.lower() in ("of", "de", "d'")


def _clauses(sentence: Sequence[Piece], line: Sequence[Token]) -> Iterator[list[Piece]]:
    parted = not says_none(line, _PARTING) and any(line[piece.first].text in _PARTING for piece in sentence)
    if not parted and not any(piece.counted or piece.kind == "each" for piece in sentence):
        yield list(sentence)
        return
    clause: list[Piece] = []
    amounts = counted = seen = False  # of the clause so far: amounts, a count, a name
    for at, piece in enumerate(sentence):
        mark = line[piece.first].text.lower()
        turns = mark == "," and _turns(clause, sentence[at + 1 :], line)
        counts = counted and mark in _BEHIND_COUNT and not _prepares(piece, line)
        opens = piece.counted and amounts
        cell = mark == "|" and not (amounts and seen)  # of a table: "| Starch | 2 oz. |", "2 oz. | Starch"
        closes = mark == ":" and amounts and _tells_on(piece, line)
        cell = cell or (mark == ";" and not amounts and _before_figure(piece, line))  # "Starch;10 oz."
        if (mark in (";", "|") and not cell) or closes or counts or opens or turns:
            if clause:
                yield clause
            clause, amounts, counted, seen = [], False, False, False
            if not opens:
                continue
        if not cell:
            clause.append(piece)
        amounts, counted = amounts or piece.kind in AMOUNTS, counted or piece.counted
        seen = seen or (piece.kind == "text" and line[piece.first].kind == "word")
    if clause:
        yield clause
