"""The first sections of the article: the question, the source, the page as printed, how it was read, what it names."""

from __future__ import annotations

from collections.abc import Iterator

from reconlab.materia import UNKNOWN
from reconlab.reasons import Question, Reason
from reconlab.receipts import Item, Measured
from reconlab.writeup.blocks import (
    BOOK,
    Block,
    Cited,
    Grid,
    Listing,
    Paragraph,
    Section,
    Strong,
    Text,
    Verbatim,
    joined,
    kept,
    plain,
    printed,
    sentence,
)
from reconlab.writeup.frame import source_in_words
from reconlab.writeup.matter import Matter

_OWN = "in the words of the record"
_PRINTED = "printed so"


def opening(matter: Matter) -> tuple[Section, ...]:
    r"""Return the sections about what was asked, printed and read.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.

    Returns
    -------
    tuple of Section
        In the order of the article.

    Examples
    --------
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> found = opening(gathered(Reconstruction(transcription="Starch, 3 oz.\nOrris, 1 oz.")))
    >>> [section.title for section in found][1:]
    ['The receipt as printed', 'How it was read', 'What the page says to do', 'What each thing was']
    """
    words = matter.record.transcription
    question = tuple(_question(matter))
    return (
        *((Section("The question", question),) if question else ()),
        Section("The source", tuple(_source(matter))),
        Section("The receipt as printed", (Verbatim(words, "The receipt as printed"), *_transcriber(matter))),
        Section("How it was read", tuple(_reading(matter))),
        Section("What the page says to do", tuple(_directions(matter))),
        Section("What each thing was", tuple(_identities(matter))),
    )


def _question(matter: Matter) -> Iterator[Block]:
    asked = matter.record.question
    why = kept(_OWN)
    if asked.asked:
        yield Paragraph(sentence(asked.asked, why))
    told = (
        ("It would be answered by", asked.success),
        ("It may differ from the page in", "; ".join(asked.departures)),
        ("Who it will touch", asked.touches),
    )
    items = tuple((Strong(head), ": ", *sentence(words, why)) for head, words in told if words)
    if items:
        yield Listing(items)


def _source(matter: Matter) -> Iterator[Block]:
    yield Paragraph((source_in_words(matter), Cited(Reason("the source of the receipt", (BOOK,)))))
    source, setting = matter.record.source, matter.receipt.setting
    told = (
        ("Kind of book", source.kind),
        ("Read as of", str(setting)),
        ("The author's own rule of weights", source.rule),
        ("Note", source.note),
    )
    said = tuple((Strong(head), ": ", *sentence(_ended(words), kept(_OWN))) for head, words in told if words)
    yield Paragraph(joined(said, " "))


def _transcriber(matter: Matter) -> Iterator[Block]:
    if matter.record.transcriber:
        yield Paragraph((f"Transcribed by {matter.record.transcriber}; nothing was corrected.",))


def _reading(matter: Matter) -> Iterator[Block]:
    rows = tuple(_read_row(line.id, line.text, item) for line in matter.receipt.lines for item in line.items)
    if rows:
        heads = ("name as printed", "line", "amount", "for, and how prepared")
        yield Grid("What each line says", heads, rows, "figures")
    unread = [
        f"line {line.id}: {line.text[start:end]!r}"
        for line in matter.receipt.lines
        if line.kind == "ingredient"
        for start, end in line.unread
    ]
    if unread:
        yield Paragraph(("Words that were not read: ", "; ".join(unread), "."), "care")
    others = [line for line in matter.receipt.lines if line.kind in ("remark", "price")]
    said = (f"Line {line.id} is a {line.kind}: {line.text.strip()}" for line in others)
    yield from [Listing(tuple(sentence(words, printed(Reason(_PRINTED))) for words in said))] if others else []


def _directions(matter: Matter) -> Iterator[Block]:
    said = directions(matter)
    if said:
        yield Listing(said)
    else:
        yield Paragraph(("The page gives no directions.",))


def directions(matter: Matter) -> tuple[Text, ...]:
    r"""Return the directions of the page as printed: its own method.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.

    Returns
    -------
    tuple
        One text a line.

    Examples
    --------
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> directions(gathered(Reconstruction(transcription="Starch, 3 oz.\nOrris, 1 oz.\nSift well.")))[0][0]
    'Sift well.'
    """
    why = printed(Reason(_PRINTED))
    return tuple(
        (*sentence(" ".join(line.text.split()), why), Cited(why))
        for line in matter.receipt.lines
        if line.kind == "direction"
    )


def _read_row(line: str, words: str, item: Item) -> tuple[Text, ...]:
    measured = [part for quantity in item.quantities for part in quantity.parts]
    why = printed(Reason(f"printed: {' '.join(words.split())}"))
    amounts = joined((_amount(part, why) for part in measured), " + ")
    purpose = {"ingredient": "", "enough": "as much as is needed", "total": "to fill up to the amount"}[item.purpose]
    others = "; ".join(f"may also be read {_printed(other.item)!r} ({other.because})" for other in item.readings)
    sure = "" if item.certain else "check this reading"
    how = "; ".join(
        filter(None, (purpose, item.preparation, item.strength, "of each" if item.each else "", sure, others))
    )
    return ((item.name,), (line,), amounts or ("none",), sentence(how, why))


def _printed(item: Item) -> str:
    return " ".join(part.amount.printed for quantity in item.quantities for part in quantity.parts)


def _amount(part: Measured, why: Reason) -> Text:
    amount = part.amount
    unit = part.unit.replace("_", " ") if part.unit else "(no unit printed)"
    if amount.value is None:
        return (f"{amount.printed} {unit}",)
    if amount.low is not None and amount.high is not None and amount.low < amount.high:
        return (plain(amount.low, "", why), " to ", plain(amount.high, unit, why))
    return (plain(amount.value, unit, why),)


def _identities(matter: Matter) -> Iterator[Block]:
    asked = [q for q in matter.literal.ways.questions if q.key.startswith("name: ")]
    rows = tuple(_identity(matter, question) for question in asked)
    if rows:
        heads = ("asked", "taken for", "why", "may also have been")
        yield Grid("What each name is taken for, and what else it may have been", heads, rows)


def _identity(matter: Matter, question: Question) -> tuple[Text, ...]:
    taken = question.options[0]
    before = matter.question(question.id.split(" @ ")[0])
    listed = before.options if isinstance(before, Question) else question.options
    others = [option for option in listed if option.key != taken.key]
    known = not taken.key.startswith(UNKNOWN)
    how = "settled" if question.settled else taken.standing if question.chosen else "nothing on file prefers it"
    others_in_words = joined(
        (
            (f"{option.words} ({option.standing})", Cited(option.reason))
            if not option.key.startswith(UNKNOWN)
            else ("something not on file",)
            for option in others
        ),
        "; ",
    )
    return (
        (question.asks,),
        (f"{taken.words} ({how})" if known else "not identified",),
        (*sentence(taken.reason.says, printed(taken.reason)), Cited(taken.reason)),
        others_in_words or (("nothing else on file",) if known else ()),
    )


def _ended(words: str) -> str:
    return words if words.endswith((".", "?", "!")) else f"{words}."
