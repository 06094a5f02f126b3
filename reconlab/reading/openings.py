"""How a paragraph opens: with a title, with the number of a variant, with the heading of a part, or with none.

"_Cold Cream._--Take of ...", "COLD CREAM.--", "445. _Simple Ointment._--", "No. 2.", "(b)", "Another.", "Directions:".
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from reconlab.reading.counted import counted_at
from reconlab.reading.known import is_short_head, is_word_of_names
from reconlab.reading.leads import lead_of
from reconlab.reading.lines import amounts_in, has_amount
from reconlab.reading.page_lines import GAP, Run, is_capitals, is_titled
from reconlab.reading.phrases import phrases, whole
from reconlab.reading.tokens import mark_at, tokens

_LONGEST_TITLE = 160  # characters, with the Latin names and synonyms some books put into it
_LONGEST_ALONE = 90
_MOST_WORDS = 12
_MOST_OF_A_SECTION = 5  # words in the heading of a part
_FEW = 4  # words of a title that may end in a point
DEEP = 8  # blanks by which a centred line stands further in than the page
_LABEL = re.compile(
    r"""(?P<mark>\[\d{1,4}\]\s?)?                                   # the mark of a footnote before a title
        (?: (?P<number>\d{1,4})[.)](?:\s+(?=[^\W\d_]|[_=*~"'(])|(?=[A-Z][a-z ])) )?  # 445. Title
        (?: (?P<variant> [\[(][_*]?(?:\d{1,2}|[a-zA-Z]|[ivx]{1,4}|[IVX]{1,4})[_*]?[\])][.:]?
                       | [Nn](?:[Oo]s?|[\N{MASCULINE ORDINAL INDICATOR}\N{DEGREE SIGN}]|r|ro|UMBER|umber)
                         [.\s\N{MASCULINE ORDINAL INDICATOR}\N{DEGREE SIGN}]{0,3}\d{1,3}\b[.:]?
                       | \N{NUMERO SIGN}\s?\d{1,3}\b[.:]?
                       | (?:[IVX]{1,5}|[A-H])[.)]?(?=\s*(?:--|[\N{EM DASH}\N{EN DASH}]))
                       | (?:[IVX]{1,5}|[A-H])[.)]?(?=\s*$)
                       | (?:I{2,3}|IV|VI{0,3}|IX)[.)](?=\s) | I[.)](?=\s+(?:\d|Take|Mix)) )\s*
        )?""",
    re.VERBOSE,
)
_DASH = re.compile(r"--+|[\N{EM DASH}\N{EN DASH}]+|\s-\s|(?<=[._=])-(?=\S)")
_ABBREVIATED = re.compile(r"[\s,]*(?:(?<![^\W\d_])[a-z]\.\s?)*(?<![^\W\d_])[a-z](?=\.|$)")
_STOPPED_BY_DASH = re.compile(r"[.:](?:--+|[\N{EM DASH}\N{EN DASH}]+)$")  # "Cucumber Pomade.--", over its list
_OF_BOOK = re.compile(r"(?:Ph|Pharm|Cod|Disp)\b")  # "3. Han. Ph. Wax": the authority goes on
_MARKS = "_=*~#"
_FIGURE = re.compile(r"\d(?!\d*\))")
_STRIPPED = " \t\n.:;,-\N{EM DASH}\N{EN DASH}" + _MARKS


@dataclass(frozen=True, slots=True)
class Opening:
    """What a paragraph opens with: title, variant, section or nothing, and where its body begins."""

    kind: str = ""
    title: str = ""
    value: str = ""  # of a section
    body: int = 0
    sure: bool = False
    numbered: bool = False


def opening(run: Run, *, first: bool = False, deep: int = DEEP, over: bool = False) -> Opening:
    """Return what a paragraph opens with.

    Parameters
    ----------
    run : Run
        The paragraph.
    first : bool
        Whether it is the first of the page.
    deep : int
        Blanks before a line from which on it is centred [blanks].
    over : bool
        Whether it stands over words that say what is taken.

    Returns
    -------
    Opening
        With an empty kind where it opens with its own words.

    Examples
    --------
    >>> from reconlab.reading.page_lines import runs
    >>> [opening(run).title for run in runs("445. _Simple Ointment._--Melt one part of wax.")]
    ['Simple Ointment']
    """
    text = run.text
    label = _LABEL.match(text)
    start = label.end() if label else 0
    numbered = bool(label and label["number"])
    variant = (label["variant"] or "").strip() if label else ""
    rest = text[start:]
    if not rest.strip(_STRIPPED):
        return Opening("variant", variant.strip(_STRIPPED), body=len(text), sure=True) if variant else Opening()
    told = _section(text) or (_other(rest, len(text)) if numbered else None)
    if told is not None:
        return told
    found = (
        (_in_brackets(rest) if numbered else None)
        or _run_in(rest, numbered=numbered or bool(variant))
        or _alone(rest, run, first=first or (over and run.blanks > 0), numbered=numbered, deep=deep, over=over)
        or _counted_without_stop(text, run, first=first)
    )
    if found is not None:
        found = Opening(found.kind, found.title, found.value, found.body + start, found.sure, numbered)
    if found is None:
        dash = _DASH.match(text, start)
        body = (
            dash.end()
            if dash and variant
            else start
            if variant
            else label.end("mark")
            if label and label["mark"]
            else 0
        )
        return Opening("variant", variant.strip(_STRIPPED), body=body) if variant else Opening(body=0)
    if whole(found.title, "variant") is not None:
        return Opening("variant", found.title, body=found.body, sure=True)
    if variant:
        return Opening(
            "title", f"{found.title} ({variant.strip(_STRIPPED + '()')})", "", found.body, found.sure, numbered
        )
    return found


def _other(rest: str, end: int) -> Opening | None:
    """Return the heading of another receipt for the same thing, behind a number alone: "201. Or,"."""
    words = rest.strip(_STRIPPED)
    return Opening("variant", words, body=end, sure=True) if whole(words, "variant") is not None else None


def _section(text: str) -> Opening | None:
    """Return the heading of a part: "Directions:", "_Recipe_:", "DOSAGE: 1 pill"."""
    head = text[:60]
    for stop in re.finditer(r"[:.]|--|\N{EM DASH}|$", head):
        words = head[: stop.end()]
        value = whole(words, "section")
        if value is None:
            if len(words.split()) > _MOST_OF_A_SECTION:
                break
            continue
        after = stop.end()
        while after < len(text) and text[after] in _STRIPPED:
            after += 1
        told = stop[0] not in (".", "") or after >= len(text.rstrip()) or text[:1] in _MARKS or words.isupper()
        if told:
            return Opening("section", words.strip(_STRIPPED), value, after, sure=True)
    return None


_BRACKETED = re.compile(r"\(([A-Z][^()]{2,80})\)[.:]?\s+(?=[A-Z\"\N{LEFT DOUBLE QUOTATION MARK}])")


def _in_brackets(text: str) -> Opening | None:
    """Return a title in brackets behind the number of its receipt: "3. (Aqua Orientalis.) From silver"."""
    found = _BRACKETED.match(text)
    if found is None or not _may_be_title(found[1]):
        return None
    return Opening("title", found[1].strip(_STRIPPED), "", found.end(), sure=True)


def _run_in(text: str, *, numbered: bool) -> Opening | None:
    """Return a title before the words of its paragraph."""
    head = text[:_LONGEST_TITLE]
    for dash in _DASH.finditer(head):
        title, body = head[: dash.start()], dash.end()
        if body >= len(text.rstrip()):
            return None
        if (numbered or title[:1] in _MARKS or is_capitals(title) or is_titled(title)) and _may_be_title(title):
            return Opening("title", title.strip(_STRIPPED), "", body, sure=True)
        if len(title.split()) > _MOST_WORDS:
            break
    marked = re.match(r"([_=*~]+)([^_=*~]{2,90})\1[.:]*(?=\s)", head)
    stopped = marked and (marked[0].rstrip(_MARKS).endswith((".", ":")) or marked[2].rstrip().endswith((".", ":")))
    if marked and stopped and _may_be_title(marked[2]):
        return Opening("title", marked[2].strip(_STRIPPED), "", marked.end(), sure=True)
    for stop in re.finditer(r"[.:]\s+(?=\S)", head):
        title = head[: stop.start()]
        if len(title.split()) > _MOST_WORDS:
            break
        short = _ABBREVIATED.sub("", title)  # "ROSA GALLICA, u. s. l. e. d."
        if _goes_on(title, short, head, stop.end()):
            continue
        title = short
        if (is_capitals(title) or (numbered and not _tells(title) and not _FIGURE.search(title))) and _may_be_title(
            title
        ):
            return Opening("title", title.strip(_STRIPPED), "", stop.end(), sure=True)
    return _before_taking(head) or _before_first_name(text) or _before_stop(text)


def _before_stop(text: str) -> Opening | None:
    """Return a title in common type before a receipt in prose: "Pommade en Creme. Melt together 1 dr. of wax, ..."."""
    stop = re.search(r"[^\W\d_]{2}\.\s+(?=[A-Z])", text[:_LONGEST_ALONE])
    title = text[: stop.start() + 2] if stop else ""
    if stop is None or not 1 < len(title.split()) <= _MOST_WORDS or not _may_be_title(title) or _tells(title):
        return None
    behind = text[stop.end() : stop.end() + _NEAR]
    if (
        _DIRECTING.isdisjoint(title.lower().split())
        and amounts_in(behind, ("quantity",)) >= _LEAST
        and _is_headline(title)
    ):
        return Opening("title", title.strip(_STRIPPED), "", stop.end(), sure=False)
    return None


_NEAR = 200  # characters that hold the first amounts of a receipt
_LEAST = 2  # amounts of a receipt
_DIRECTING = frozenset(
    {"is", "are", "it", "this", "these", "them", "be", "was", "you", "will", "which", "may", "should"}
)


_KINDS = (("kind", ""), ("again", "noun"))  # onguent, lotion


def _is_headline(title: str) -> bool:
    """Return whether words are set as titles are or name what is made: "Rose Pomatum, for", "Onguent contre"."""
    if is_titled(title.partition(",")[0]):
        return True
    return any(phrase.start == 0 and (phrase.meaning, phrase.value) in _KINDS for phrase in phrases(title))


def _before_first_name(text: str) -> Opening | None:
    """Return a title in common type that a stop parts from its list: "Hair Wash. Rosemary water, half a pint; ..."."""
    lead = lead_of(text)
    start, end = lead.words[-1] if lead.words else (0, 0)
    title = text[start:end].strip(_STRIPPED)
    if lead.doubtful or not _may_be_title(title) or _tells(title):
        return None
    return Opening("title", title, "", lead.after, sure=False)


def _goes_on(title: str, short: str, head: str, at: int) -> bool:
    """Return whether a title goes on behind a stop: in short words, in a number, a book's name, or in brackets."""
    if title.rpartition(" ")[2].lower() in _BEFORE_NUMBER or _is_short_word(title):
        return True
    shortened = short != title and _ABBREVIATED.match(head, at)
    return bool(shortened or _OF_BOOK.match(head, at)) or title.count("(") != title.count(")")


def _is_short_word(title: str) -> bool:
    """Return whether a title would be one shortened word: the "Spt." of "103. Spt. Nit. Dulc."."""
    few = len(title) <= _FEW and not is_word_of_names(title.lower())
    return title.isalpha() and not title.isupper() and (few or is_short_head(title))


_BEFORE_NUMBER = ("no", "nos", "nr", "dr", "mr", "mrs", "st")


def _before_taking(head: str) -> Opening | None:
    """Return a title that runs into its receipt without a stop: "Pilula Ruffi Take of aloes ..."."""
    taken = next((p for p in phrases(head) if p.meaning == "made" and p.start and head[p.start].isupper()), None)
    title = head[: taken.start].rstrip() if taken else ""
    if taken is None or not 1 < len(title.split()) <= _MOST_WORDS or not title[-1].isalpha():
        return None
    behind = head[taken.end :]
    if not behind[:1].isspace() or not has_amount(behind):
        return None  # "MARIGOLD HAIR WASH.", "Rosemary Hair Wash for Children"
    if not _may_be_title(title) or not is_titled(title):
        return None
    return Opening("title", title.strip(_STRIPPED), "", taken.start, sure=False)


def _counted_without_stop(text: str, run: Run, *, first: bool) -> Opening | None:
    """Return a title that stands alone behind its bare number: "23 Freckle wash"; "2 large lemons" is none."""
    label = _BARE_NUMBER.match(text)
    if label is None or not (first or run.blanks) or counted_at(tokens(text[:_LONGEST_ALONE]), 0) is not None:
        return None
    title = text[label.end() :].strip()
    if not _is_short(title) or len(title.split()) < _LEAST or not _may_be_title(title) or title.endswith("."):
        return None
    return Opening("title", title.strip(_STRIPPED), "", len(text), sure=False, numbered=True)


_BARE_NUMBER = re.compile(r"\d{1,4}\s+(?=[A-Z])")


def _alone(text: str, run: Run, *, first: bool, numbered: bool, deep: int, over: bool) -> Opening | None:
    """Return a title that stands alone in its line."""
    words = _STOPPED_BY_DASH.sub(".", text.strip())
    words = f"{words[:-1]}." if over and words.endswith(":") else words  # "Gegen das Fieber:", over "Man nehme"
    capitals = is_capitals(words)
    marked = words[0] in _MARKS and words[-1] in _MARKS + "."
    if not _is_short(words, marked=marked and numbered) or not _may_be_title(words) or (run.tabular and not capitals):
        return None
    sure = capitals or numbered or marked
    apart = run.indent >= deep or _names_author(words)
    if not (sure or apart) and (_tells(words) or not _is_set_apart(words, run, first=first, over=over)):
        return None
    centred = run.indent >= deep
    listed = run.heads and not centred and is_titled(words)
    return Opening("title", words.strip(_STRIPPED), "", len(text), sure=sure or listed)


def _names_author(words: str) -> bool:
    """Return whether a line ends with whose receipt it is: "Ceratum labiale n. Dieterich."."""
    by = next((phrase for phrase in phrases(words) if phrase.meaning == "author" and phrase.start), None)
    behind = words[by.end :].strip(_STRIPPED) if by else ""
    return behind[:1].isupper() and len(behind.split()) <= _FEW and not has_amount(words)


def _is_short(words: str, *, marked: bool = False) -> bool:
    """Return whether a line has no more words than titles have; one in marks and with a number may have any."""
    few = marked or (len(words) <= _LONGEST_ALONE and len(words.split()) <= _MOST_WORDS)
    return few and words[-1] not in ",;:\N{EM DASH}-"


_PURPOSES = frozenset(
    ("for", "against", "pour", "contre", "gegen", "wider", "f\N{LATIN SMALL LETTER U WITH DIAERESIS}r")
)


def _is_set_apart(words: str, run: Run, *, first: bool, over: bool) -> bool:
    """Return whether a line is set like a title: over a list, in capitals, or with room around it."""
    spoken = words.lower().rstrip(".").split()
    purpose = spoken[0] in _PURPOSES and "," not in words and _DIRECTING.isdisjoint(spoken)
    closed = (
        words[-1] == "." and len(words.split()) > _FEW and not (purpose or (over and _DIRECTING.isdisjoint(spoken)))
    )
    return run.heads or is_titled(words) or (not closed and (first or run.blanks > 1))


def _may_be_title(text: str) -> bool:
    words = text.strip(_STRIPPED)
    begins = words[:1].isupper() or words[:1] in "\"'\N{LEFT DOUBLE QUOTATION MARK}(" or words[:1].isdigit()
    if not words or not begins or ";" in words or GAP.search(words):
        return False
    if opens_prescription(words) or _BYLINE.match(words):
        return False
    words = _A_LA.sub(" ", words)
    made = _TO_MAKE.match(words)  # "To perfume Gloves", "To make a Cake and to colour it": no amounts
    return not (amounts_in(words[made.end() :], ("quantity",)) if made else has_amount(words))


_BYLINE = re.compile(r"(?:BY|By|PAR|Par)\s+(?:(?:M|Dr|DR|Mr|MM)\.\s?)?[A-Z]")
_A_LA = re.compile(r"\s(?:a|\N{LATIN SMALL LETTER A WITH GRAVE}) la\s")  # no article: "Vinaigre a la Rose"
_TO_MAKE = re.compile(r"To\s+[a-z]+\s+(?:an?\s+)?")


def opens_prescription(text: str) -> bool:
    """Return whether a line opens with the sign of a prescription.

    Parameters
    ----------
    text : str
        The line.

    Returns
    -------
    bool
        Whether it does; "Take" is no sign.

    Examples
    --------
    >>> opens_prescription("R. Sulph. Zinci"), opens_prescription("Take of wax"), opens_prescription("Rose Water")
    (True, False, False)
    """
    mark = mark_at(tokens(text[:12]), 0)
    return mark is not None and "heading" in mark.meanings and mark.meanings["heading"].written != "word"


def _tells(text: str) -> bool:
    """Return whether a text opens like a sentence that says what to do."""
    mark = mark_at(tokens(text), 0)
    direction = mark is not None and bool({"direction", "enough"} & set(mark.meanings))
    opens = any(
        found.start == 0 and found.meaning in ("made", "dose", "goes_on", "yield") for found in phrases(text[:60])
    )
    return direction or (opens and not text.lower().startswith("to "))


_CELLS = re.compile(r"[|\t;,]| {3,}")  # between the cells of a table, pasted or printed


def heads_columns(text: str) -> bool:
    """Return whether a row only says what stands in the columns below it.

    Parameters
    ----------
    text : str
        A printed line, or the first of a pasted table.

    Returns
    -------
    bool
        Whether each of its cells, two or more, is the name of a column or a unit.

    Examples
    --------
    >>> heads_columns("Ingredient | Grams | oz."), heads_columns("name,amount"), heads_columns("| Starch | 2 oz. |")
    (True, True, False)
    """
    cells = [cell.strip() for cell in _CELLS.split(text[:_LONGEST_TITLE]) if cell.strip()]
    return len(cells) > 1 and all(whole(cell, "column") is not None or _is_unit(cell) for cell in cells)


def _is_unit(cell: str) -> bool:
    line = tokens(cell)
    mark = mark_at(line, 0)
    return mark is not None and "unit" in mark.meanings and all(token.text == "." for token in line[mark.after :])
