"""The words, signs and numbers of a printed line, and what the notation table says they mark.

Text is never normalised before it is read: NFKC would turn 1½ into eleven halves and the drachm sign into Z.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from functools import cache, lru_cache
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from reconlab.reading.pieces import Piece
from reconlab.tables import Notation, rows


class Token(NamedTuple):
    """A piece of a line: ``kind`` is number, sign, word, leader, break or point."""

    kind: str
    text: str
    start: int
    end: int


class Words(tuple[Token, ...]):  # noqa: SLOT001 - a tuple can have no slots of its own
    """The tokens of a line, with what the notation table knows at each of them."""

    marks: list[Mark | None]
    said: frozenset[str]  # its words and signs in small letters
    cut: tuple[Piece, ...] | None = None  # by `pieces`, once


class Mark(NamedTuple):
    """A run of tokens the notation table knows."""

    meanings: Mapping[str, Notation]  # meaning -> row
    after: int  # first token behind it


class _Step:
    """Where a reader of phrases stands: the rows of the phrase that ends here, and the words that may follow."""

    __slots__ = ("below", "rows")

    def __init__(self) -> None:
        self.rows: dict[str, Notation] = {}
        self.below: dict[str, _Step] = {}


_FRACTION = "".join(chr(code) for code in (*range(0xBC, 0xBF), *range(0x2150, 0x215F), 0x2189))
_SLASH = "/\N{FRACTION SLASH}\N{DIVISION SLASH}"
_NUMBER = rf"""
    \d+(?:\s*-\s*|\s+)\d+[{_SLASH}]\d+          # 1-1/2, 1 1/2
  | \d+[ ][137]-[248](?![\d/-])                # 1 1-2, as American books set it
  | \d+[{_SLASH}]\d+                            # 1/2
  | [1-7]\ ?[{_SLASH}]\ ?[2348]\b                # 3/ 4
  | \d+(?:\s?|-)[{_FRACTION}] | [{_FRACTION}]   # 1½, 1-½, ½
  | \d{{1,3}}(?:,\d{{3}})+(?!\d)                # 1,000
  | [1-9]\d{{0,2}}(?:[ \xa0\u202f]\d{{3}})*[ \xa0\u202f]000(?![\d]|[.,]\d)  # 10 000
  | [1-9]\d{{0,2}}(?:[ \xa0\u202f]\d{{3}})+(?=\s?(?:k?g|gr|grm|gramm\w*|ccm|ml|litres?|[Ll]iter)\b)  # 2 500 g
  | \d+[.,\N{{MIDDLE DOT}}]\d+ | (?<![^\W\d_])[.\N{{MIDDLE DOT}}]\d+ | \d+  # 4.5, 4·5, .5, 4; no ".2" in "N. F.2"
"""

# A letter that refers to a note hugs the numeral in a scan: vC, "ssB, jN.O. Those that may be numerals stay.
_KEY = r"[A-HJKMNP-UWYZ](?:\.[A-Z](?![^\W\d_]))*(?![^\W\d_])"
_KEYED = rf"(?<![A-Za-z])(?:[ivx]{{1,5}}j?(?:ss)?|j(?:ss)?|ss)(?={_KEY})"
_LETTERS = rf"(?:[^\W\d_{_FRACTION}][\u0300-\u036f]*)+"  # a letter may carry a stroke set over it, as in early prints
_FILLED_UP = rf"{_LETTERS}\[[^\W\d_]+\](?:{_LETTERS})?"  # q[uantum]
_HUGGED = r"(?:lb|[gG]rs?|gtt|dr)(?=(?:[ivxj]+(?:ss)?|ss)\b)"  # lbij, grx: units that a numeral follows without a blank
_LONGEST_NUMBER = 24  # characters; no page prints a longer one, and a float must hold it


@cache
def _pattern() -> re.Pattern[str]:
    signs = sorted({row.printed for row in rows(Notation) if row.written == "sign"}, key=len, reverse=True)
    firsts = re.escape("".join(sorted({case for sign in signs for case in (sign[0], sign[0].upper())})))
    return re.compile(
        rf"""(?P<break>\n)
           | (?P<leader>\.(?:\.|[ ]\.(?!\d))+[ ]? | _{{2,}} | \N{{HORIZONTAL ELLIPSIS}}+)
           | (?P<number>{_NUMBER})
           | (?P<sign>(?=[{firsts}])(?i:{"|".join(map(re.escape, signs))}))
           | (?P<key>(?<=[ivxjs]){_KEY})
           | (?P<elided>[dDlL]['\N{{RIGHT SINGLE QUOTATION MARK}}](?=[^\W\d_]|\Z))
           | (?P<octarius>o(?=(?:i{{0,3}}j|iv|j?ss)\b))
           | (?P<word>O(?=[ivx]*(?:[ij]|iv|j?ss)\b) | {_HUGGED} | {_KEYED} | {_FILLED_UP}
              | {_LETTERS}(?:['\N{{RIGHT SINGLE QUOTATION MARK}}]{_LETTERS})*)
           | (?P<point>[^\s])""",
        re.VERBOSE,
    )


def tokens(text: str) -> Words:
    """Return the tokens of a line, blanks left out.

    Parameters
    ----------
    text : str
        One line, which may hold line breaks.

    Returns
    -------
    Words
        In order, each with its span.

    Examples
    --------
    >>> [token.text for token in tokens("Starch .... 1½ oz.")]
    ['Starch', '....', '1½', 'oz', '.']
    """
    return _remembered(text) if len(text) <= _SHORT_LINE else _tokens(text)


_SHORT_LINE = 400  # characters; the steps that read a page look at such a line several times each


@lru_cache(maxsize=1 << 8)
def _remembered(text: str) -> Words:
    return _tokens(text)


def _tokens(text: str) -> Words:
    found = list(map(_token, _pattern().finditer(text)))
    return words_of(_mended(found) if "\n" in text else found)


def _mended(line: Sequence[Token]) -> list[Token]:
    """Join a unit or a number that the end of a printed line breaks in two: "drach", "mas duas"."""
    kept: list[Token] = []
    for token in line:
        ends = token.kind == "word" and len(kept) > 1 and kept[-1].kind == "break"
        half = last_half(kept[-3:-1]) if ends else None
        if half is not None and is_broken(half.text, token.text):
            del kept[-3 if half.text.endswith("-") else -2 :]
            kept.append(Token("word", half.text.removesuffix("-") + token.text, half.start, token.end))
        else:
            kept.append(token)
    return kept


def last_half(line: Sequence[Token]) -> Token | None:
    """Return the word that ends a printed line, with a hyphen behind it or none.

    Parameters
    ----------
    line : sequence of Token
        Its tokens.

    Returns
    -------
    Token or None
        The word with its hyphen; None where no word ends it.

    Examples
    --------
    >>> last_half(tokens("Boracis drach-")).text, last_half(tokens("wax, "))
    ('drach-', None)
    """
    hyphen = len(line) > 1 and line[-1].text == "-" and line[-1].start == line[-2].end
    word = line[-2] if hyphen else line[-1] if line else None
    if word is None or word.kind != "word":
        return None
    return word._replace(text=f"{word.text}-", end=line[-1].end) if hyphen else word


_SHORTEST = 2  # letters of half a word


def is_broken(first: str, rest: str) -> bool:
    """Return whether two words are the halves of a unit's or a number's name, and the first says nothing else itself.

    Parameters
    ----------
    first, rest : str
        The last word of a printed line, with the hyphen where one is printed, and the first of the next.

    Returns
    -------
    bool
        Whether they are.

    Examples
    --------
    >>> is_broken("drach", "mas"), is_broken("drachmas", "duas")
    (True, False)
    """
    below = _first_step().below
    first, hyphen = first.removesuffix("-"), first.endswith("-")
    if min(len(first), len(rest)) < _SHORTEST or not rest.islower():
        return False
    step = below.get(folded(first + rest))
    whole = step is not None and bool({"unit", "number"} & set(step.rows))
    if step is None or not whole:
        return False
    half = None if hyphen else below.get(folded(first))
    known = {row.value for row in half.rows.values()} if half is not None else set()
    return known <= {row.value for row in step.rows.values()}  # drach. is an abbreviation of drachmas


def words_of(line: Iterable[Token]) -> Words:
    """Return tokens as a line that knows what the notation table says at each of them.

    Parameters
    ----------
    line : iterable of Token
        The tokens.

    Returns
    -------
    Words
        The same tokens.

    Examples
    --------
    >>> len(words_of(tokens("2 oz")[:1]))
    1
    """
    words = Words(line)
    words.marks = [_mark_at(words, at) if _begins(token.text) else None for at, token in enumerate(words)]
    words.said = frozenset(token.text.lower() for token in words)
    return words


def says_none(line: Sequence[Token], words: frozenset[str]) -> bool:
    """Return whether none of some words stands in a line, so that what they lead to need not be looked for.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    words : frozenset of str
        Words and signs in small letters.

    Returns
    -------
    bool
        Whether all are wanting.

    Examples
    --------
    >>> says_none(tokens("Wax (white)"), frozenset(("[", "]"))), says_none(tokens("Wax (white)"), frozenset("()"))
    (True, False)
    """
    said = line.said if type(line) is Words else (token.text.lower() for token in line)
    return words.isdisjoint(said)


def _token(found: re.Match[str]) -> Token:
    kind, text, (start, end) = found.lastgroup or "", found[0], found.span()
    if kind == "octarius":  # the sign of the pint in a small letter
        return Token("word", text.upper(), start, end)
    if kind == "point" or (kind == "word" and "[" not in text):
        return Token(kind, text, start, end)
    if kind == "elided" or (kind == "number" and end - start > _LONGEST_NUMBER):
        kind = "word"
    elif kind == "word":  # q[uantum] s[ufficit], as an editor fills it up
        text = text.replace("[", "").replace("]", "")
    elif kind == "leader":  # dots may have a blank behind them
        text = text.rstrip()
        end = start + len(text)
    return Token(kind, text, start, end)


_SPACED = re.compile(r"\d{1,3}(?:[ \xa0\u202f]\d{3})+")
_SET_WITH_HYPHEN = re.compile(r"(\d+) ([137])-([248])")


@lru_cache(maxsize=1 << 12)
def number(text: str) -> Fraction:
    """Return the value of a number token.

    Parameters
    ----------
    text : str
        Such as ``"1½"``, ``"1-1/2"``, ``"1,000"``, ``"4.5"``.

    Returns
    -------
    fractions.Fraction
        Its exact value [1].

    Examples
    --------
    >>> number("1½"), number("1-1/2"), number("1,000"), number("0,5")
    (Fraction(3, 2), Fraction(3, 2), Fraction(1000, 1), Fraction(1, 2))
    """
    if text[-1] in _FRACTION:
        part = Fraction(unicodedata.numeric(text[-1])).limit_denominator(10)
        return part + (Fraction(text[:-1].strip(" -")) if len(text) > 1 else 0)
    halves = re.fullmatch(rf"(?:(\d+)(?:\s*-\s*|\s+))?(\d+)\ ?[{_SLASH}]\ ?(\d+)", text) or _SET_WITH_HYPHEN.fullmatch(
        text
    )
    if halves:
        below = int(halves[3])
        return int(halves[1] or 0) + (Fraction(int(halves[2]), below) if below else Fraction(0))
    if _SPACED.fullmatch(text):
        return Fraction("".join(text.split()))
    if re.fullmatch(r"\d{1,3}(?:,\d{3})+", text):
        return Fraction(text.replace(",", ""))
    return Fraction(text.replace(",", ".").replace("\N{MIDDLE DOT}", "."))


@cache
def _first_step() -> _Step:
    """Return the phrases of the table, word by word: after words that no phrase begins with there is nothing more."""
    first = _Step()
    for row in (row for row in rows(Notation) if row.meaning != "asked number"):  # no page is read in those tongues
        step = first
        for token in map(_token, _pattern().finditer(row.printed)):
            if token.kind != "leader" and token.text not in ".-":
                step = step.below.setdefault(token.text, _Step())
        step.rows[row.meaning] = row
    return first


@lru_cache(maxsize=1 << 16)
def folded(word: str) -> str:
    """Return a word in small letters, the long s as it is set today.

    Parameters
    ----------
    word : str
        One word.

    Returns
    -------
    str
        As the table has it.

    Examples
    --------
    >>> folded("Ounces")
    'ounces'
    """
    return word.lower().replace("\N{LATIN SMALL LETTER LONG S}", "s")


def mark_at(line: Sequence[Token], at: int) -> Mark | None:
    """Return the longest run of tokens from here that the notation table knows.

    Capitals in the table must stand as they are; other words match in any case. Full stops and hyphens inside a
    phrase are passed over.

    Parameters
    ----------
    line : sequence of Token
        The tokens of a line.
    at : int
        Token to start from [1].

    Returns
    -------
    Mark or None
        What it marks; None where the table knows nothing.

    Examples
    --------
    >>> mark = mark_at(tokens("fl. oz. of water"), 0)
    >>> mark.meanings["unit"].value, mark.after
    ('fluid_ounce', 4)
    """
    if type(line) is not Words:
        return _mark_at(line, at)
    try:
        return line.marks[at]
    except IndexError:
        return None


def _mark_at(line: Sequence[Token], at: int) -> Mark | None:
    steps = _begins(line[at].text) if at < len(line) and line[at].kind not in _ENDING else None
    if steps is None:
        return None
    printed, small = steps
    best: Mark | None = None
    position, end = at + 1, len(line)
    while True:
        known = (printed and printed.rows) or (small and small.rows)
        if known:
            behind = position < end and line[position].text == "."
            best = Mark(known, position + behind)
        while position < end and line[position].text in _PASSED_OVER:
            position += 1
        if position >= end:
            return best
        kind, text = line[position][:2]
        if kind in _NOT_WITHIN:
            return best
        printed = printed.below.get(text) if printed else None
        small = small.below.get(folded(text)) if small else None
        if printed is None and small is None:
            return best
        position += 1


def begins_phrase(word: str) -> bool:
    """Return whether a phrase of the notation table begins with a word.

    Parameters
    ----------
    word : str
        The word or sign.

    Returns
    -------
    bool
        Whether one does; what does not begin one marks nothing.

    Examples
    --------
    >>> begins_phrase("Half"), begins_phrase("bergamot")
    (True, False)
    """
    return _begins(word) is not None


@lru_cache(maxsize=1 << 16)
def _begins(word: str) -> tuple[_Step | None, _Step | None] | None:
    """Return the phrases that begin with a word as printed, and those that begin with it in small letters."""
    below = _first_step().below
    steps = below.get(word), below.get(folded(word))
    return steps if any(steps) else None


_ENDING = ("number", "leader", "break")  # kinds of token no phrase goes on over
_NOT_WITHIN = (*_ENDING, "point")
_PASSED_OVER = (".", "-")


def printed_of(line: Sequence[Token]) -> str:
    """Return tokens as printed, one blank where there are any, or the line ends.

    Parameters
    ----------
    line : sequence of Token
        The tokens.

    Returns
    -------
    str
        Their text.

    Examples
    --------
    >>> printed_of(tokens("2   oz."))
    '2 oz.'
    """
    printed = "".join((" " if n and token.start > line[n - 1].end else "") + token.text for n, token in enumerate(line))
    return " ".join(printed.split())
