"""The article: what was asked, what was printed, how it was read, what was in it, what follows, and who says so."""

from __future__ import annotations

from collections.abc import Iterator

from reconlab.materia import UNKNOWN, settles_by, thing
from reconlab.pictures import stacked_bar
from reconlab.reasons import Decision, Option, Question, Reason, Spread
from reconlab.receipts import Item, Measured
from reconlab.record import Source, orphans, stale
from reconlab.writeup.blocks import (
    BOOK,
    RECORD,
    Block,
    Cited,
    Drawing,
    Figure,
    Grid,
    Listing,
    NoteList,
    Page,
    Paragraph,
    ReferenceList,
    Run,
    Section,
    Strong,
    Text,
    Verbatim,
    from_value,
    joined,
    kept,
    plain,
    printed,
    sentence,
)
from reconlab.writeup.findings import law_and_sense
from reconlab.writeup.limits import limits
from reconlab.writeup.making import at_the_bench, beside_each_other, made_and_seen
from reconlab.writeup.matter import Matter, why_of

_OWN = "in the words of the record"
_INVENTED = "Invented source: made for a demonstration, printed nowhere"


def article(matter: Matter) -> Page:
    r"""Return the article about a reconstruction.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.

    Returns
    -------
    Page
        To be written as HTML or Markdown.

    Examples
    --------
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> page = article(gathered(Reconstruction(title="Powder", transcription="Starch, 3 oz.\nOrris root, 1 oz.")))
    >>> [section.title for section in page.sections][1:4]
    ['The source', 'The receipt as printed', 'How it was read']
    """
    record = matter.record
    sections = (
        Section("The question", tuple(_question(matter))),
        Section("The source", tuple(_source(matter))),
        Section("The receipt as printed", (Verbatim(record.transcription, "The receipt as printed"), *_transcriber(matter))),
        Section("How it was read", tuple(_reading(matter))),
        Section("What each thing was", tuple(_identities(matter))),
        Section("The formula", tuple(_formula(matter))),
        Section("What is still open", tuple(_open(matter))),
        Section("What was settled", tuple(_settled(matter))),
        law_and_sense(matter),
        Section("The versions beside each other", tuple(beside_each_other(matter))),
        at_the_bench(matter),
        Section("What was made and seen", tuple(made_and_seen(matter))),
        Section("What this page does not know", tuple(limits(matter))),
        Section("Notes on the figures", (NoteList(),)),
        Section("References", (ReferenceList(),)),
        Section("How to cite this page", (Paragraph((_cite(matter),)),)),
    )
    return page_of(matter, record.title or matter.receipt.title, "article", tuple(_head(matter)), sections)


def page_of(matter: Matter, title: str, kind: str, head: tuple[Block, ...], sections: tuple[Section, ...]) -> Page:
    """Return a page with the references and the last line every page of a reconstruction has.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.
    title : str
        Title of the page.
    kind : str
        ``"article"`` or ``"sheet"``.
    head : tuple of Block
        What stands before the sections.
    sections : tuple of Section
        The sections.

    Returns
    -------
    Page
        To be written.

    Examples
    --------
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> page_of(gathered(Reconstruction(transcription="Starch, 3 oz.\\nOrris, 1 oz.")), "A", "sheet", (), ()).title
    'A'
    """
    return Page(title, kind, head, sections, (_tables_used(matter),), source_in_words(matter), _record_in_words(matter))


def source_in_words(matter: Matter) -> str:
    """Return the source of the receipt as a reference names it.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.

    Returns
    -------
    str
        Author, book, place, publisher, years, page, address; and that it is invented, where it is.

    Examples
    --------
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> source_in_words(gathered(Reconstruction(transcription="Starch, 3 oz.\\nOrris, 1 oz.")))
    'Source of the receipt, not named in the record.'
    """
    source: Source = matter.record.source
    named = (source.author, source.book, source.place, source.publisher, source.years, source.page)
    words = ", ".join(filter(None, named)) or "Source of the receipt, not named in the record"
    words += f", {source.address}" if source.address else ""
    words += f", seen {source.seen}" if source.seen else ""
    return f"{words}. {_INVENTED}." if matter.record.invented else f"{words}."


def _record_in_words(matter: Matter) -> str:
    record = matter.record
    who = f"{record.transcriber}, " if record.transcriber else ""
    return f"{who}record of the reconstruction {record.title or matter.receipt.title!r}: what was found, settled, made and seen."


def _tables_used(matter: Matter) -> str:
    tables = matter.record.tables
    said = [f"Written {matter.made}" if matter.made else "", f"library version {tables.library}" if tables.library else ""]
    said.append(f"with tables of the writer's own, checksum {tables.overlay}" if tables.overlay else "with the shipped tables only")
    return f"{'; '.join(filter(None, said))}. Every figure was reckoned again for this page from the record."


def _cite(matter: Matter) -> str:
    record = matter.record
    who = record.transcriber or next((d.who for d in record.decisions if d.who), "")
    day = f" {matter.made}." if matter.made else ""
    begin = f"{who}. " if who else ""
    after = source_in_words(matter).rstrip(".")
    return f"{begin}{record.title or matter.receipt.title}: a reconstruction.{day} After: {after}. Research aid; figures reckoned with reconlab."


def _head(matter: Matter) -> Iterator[Block]:
    if matter.record.invented:
        yield Paragraph((_INVENTED,), "label")
    source = matter.record.source
    where = ", ".join(filter(None, (source.book, source.place, source.years)))
    refused = matter.refused(matter.literal.name)
    done = " It is described here, and as printed it is not to be made." if refused else ""
    lead = f"A receipt from {where}, read, weighed and looked at again." if where else "A period receipt, read, weighed and looked at again."
    yield Paragraph((f"{lead}{done}",), "lead")


def _question(matter: Matter) -> Iterator[Block]:
    asked = matter.record.question
    why = kept(_OWN)
    if asked.asked:
        yield Paragraph(sentence(asked.asked, why))
    told = (
        ("It would be answered by", asked.success),
        ("It may differ from the page in", "; ".join(asked.departures)),
        ("It is meant to touch", asked.touches),
    )
    items = tuple((Strong(head), ": ", *sentence(words, why)) for head, words in told if words)
    if items:
        yield Listing(items)
    if not asked.asked and not items:
        yield Paragraph(("The record does not say what was to be found out.",))


def _source(matter: Matter) -> Iterator[Block]:
    yield Paragraph((source_in_words(matter), Cited(Reason("the source of the receipt", (BOOK,)))))
    source, setting = matter.record.source, matter.receipt.setting
    told = (
        ("Kind of book", source.kind),
        ("Read as of", str(setting)),
        ("The author's own rule of weights", source.rule),
        ("Note", source.note),
    )
    yield Listing(tuple((Strong(head), ": ", *sentence(words, kept(_OWN))) for head, words in told if words))


def _transcriber(matter: Matter) -> Iterator[Block]:
    if matter.record.transcriber:
        yield Paragraph((f"Copied out by {matter.record.transcriber}; nothing was corrected.",))


def _reading(matter: Matter) -> Iterator[Block]:
    rows = tuple(_read_row(line.id, line.text, item) for line in matter.receipt.lines for item in line.items)
    if rows:
        yield Grid("What each line says", ("name as printed", "line", "amount", "unit", "for, and how prepared"), rows, "figures")
    unread = []
    for line in matter.receipt.lines:
        if line.kind == "ingredient":
            unread += [f"line {line.id}: {line.text[start:end]!r}" for start, end in line.unread]
    others = [f"line {line.id} is a {line.kind}: {line.text}" for line in matter.receipt.lines if line.kind != "ingredient"]
    if unread:
        yield Paragraph(("Words that were not read: ", "; ".join(unread), "."), "care")
    yield from [Listing(tuple(sentence(words, printed(Reason(_PRINTED))) for words in others))] if others else []


_PRINTED = "printed so"


def _read_row(line: str, words: str, item: Item) -> tuple[Text, ...]:
    measured = [part for quantity in item.quantities for part in quantity.parts]
    why = printed(Reason(f"printed: {' '.join(words.split())}"))
    amounts = joined((_amount(part, why) for part in measured), " + ")
    units = " + ".join((part.unit or "none printed").replace("_", " ") for part in measured)
    purpose = {"ingredient": "", "enough": "as much as is needed", "total": "to fill up to the amount"}[item.purpose]
    others = "; ".join(f"may also be read {_printed(other.item)!r} ({other.because})" for other in item.readings)
    sure = "" if item.certain else "check this reading"
    how = "; ".join(filter(None, (purpose, item.preparation, item.strength, "of each" if item.each else "", sure, others)))
    return ((item.name,), (line,), amounts or ("none",), (units,), sentence(how, why))


def _printed(item: Item) -> str:
    return " ".join(part.amount.printed for quantity in item.quantities for part in quantity.parts)


def _amount(part: Measured, why: Reason) -> Text:
    amount = part.amount
    if amount.value is None:
        return (amount.printed,)
    if amount.low is not None and amount.high is not None and amount.low < amount.high:
        return (plain(amount.low, "", why), " to ", plain(amount.high, "", why))
    return (plain(amount.value, "", why),)


def _identities(matter: Matter) -> Iterator[Block]:
    asked = [q for q in matter.literal.ways.questions if q.key.startswith("name: ")]
    rows = tuple(_identity(matter, question) for question in asked)
    if not rows:
        return
    yield Grid("What each name is taken for, and what else it may have been", ("asked", "taken for", "why", "may also have been"), rows)
    nothing = [q.asks for q in asked if q.options[0].key.startswith(UNKNOWN)]
    if nothing:
        yield Paragraph(("Not identified: nothing on file has the name. ", " ".join(nothing)), "care")


def _identity(matter: Matter, question: Question) -> tuple[Text, ...]:
    taken = question.options[0]
    before = matter.question(question.id.split(" @ ")[0])
    listed = before.options if isinstance(before, Question) else question.options
    others = [option for option in listed if option.key != taken.key]
    how = "settled" if question.settled else taken.standing if question.chosen else "nothing on file prefers it"
    return (
        (question.asks,),
        (f"{taken.words} ({how})",),
        (*sentence(_why_in_words(taken), printed(taken.reason)), Cited(taken.reason)),
        joined(((f"{option.words} ({option.standing})", Cited(option.reason)) for option in others), "; ") or ("nothing else on file",),
    )


def _why_in_words(option: Option) -> str:
    return option.reason.says


def _formula(matter: Matter) -> Iterator[Block]:
    formula = matter.literal
    weighed = [key for key in formula.substances if key in {part.substance for part in formula.parts}]
    if weighed:
        share = "% w/w of the weighed lines" if formula.unweighed else "% w/w"
        rows = tuple(_formula_row(matter, key) for key in weighed)
        whole = from_value(formula.whole)
        caption = "The receipt as settled, in grams" if formula.unit == "g" else "The receipt as settled, in parts"
        yield Grid(caption, ("substance", "grams" if formula.unit == "g" else "parts", share), rows, "figures")
        yield Paragraph(("All weighed lines together: ", Figure(whole.number, whole.words, whole.why, whole.low, whole.high, formula.unit), "."))
        yield _drawing(matter, weighed)
    yield from [Paragraph((f"Not weighed: {u.name} ({u.why}).",), "care") for u in formula.unweighed]
    yield from [Paragraph(sentence(note, printed(Reason(_PRINTED))), "care") for note in formula.notes]


def _formula_row(matter: Matter, key: str) -> tuple[Text, ...]:
    formula = matter.literal
    name = thing(key).name + ("" if key in formula.certain() else " (if it is that)")
    return ((name,), (from_value(formula.mass(key)),), (from_value(formula.share(key)),))


def _drawing(matter: Matter, keys: list[str]) -> Drawing:
    formula = matter.literal
    names = [thing(key).name for key in keys]
    values = [formula.share(key) for key in keys]
    picture = stacked_bar(f"What was in it: {formula.title}", names, {"": [value.number for value in values]})
    order = sorted(zip(names, values, strict=True), key=lambda pair: -pair[1].number)
    words: list[Text] = [(f"{name} ", from_value(value, "%")) for name, value in order if value.number > 0]
    return Drawing(picture, "What was in it, by weight; each mark below the bar is a tenth.", joined(words, ", "))


def _open(matter: Matter) -> Iterator[Block]:
    formula = matter.literal
    asked = formula.open_questions()
    if not asked:
        yield Paragraph(("Nothing: every question the page raises has been settled, or has one answer on file.",))
        return
    caption = "What is open, what is taken meanwhile, and what each other answer does; those that change most come first"
    rows = tuple(_open_row(matter, question) for question in asked)
    yield Grid(caption, ("question", "taken meanwhile", "the other answers"), rows, "figures")
    decides = [words for q in asked if q.id.startswith("name: ") for words in settles_by(q.id.removeprefix("name: "))]
    if decides:
        yield Paragraph(("What would decide:",))
        yield Listing(tuple(sentence(words, Reason("as the table of names has it", (RECORD,))) for words in dict.fromkeys(decides)))


def _open_row(matter: Matter, question: Question | Spread) -> tuple[Text, ...]:
    formula = matter.literal
    if isinstance(question, Spread):
        taken: Text = (plain(question.usual, question.unit if question.unit != "1" else "", printed(question.reason)),)
    else:
        first = question.options[0]
        taken = (first.words if question.chosen else f"{first.words}, as if: nothing on file prefers it", Cited(first.reason))
    does: list[Text] = []
    for swing in formula.swings():
        if swing.question == question.id:
            because = why_of(question, swing.answer) or question_reason(question)
            why = printed(Reason(f"if {swing.answer}", (), (because, formula.reason(swing.substance))))
            unlikely = ", unlikely" if swing.standing == "unlikely" else ""
            start: Run = f"if {swing.answer}{unlikely}: {thing(swing.substance).name} "
            if isinstance(question, Spread):
                start = ""
                does.append(("if ", *sentence(swing.answer, why), f": {thing(swing.substance).name} "))
            else:
                does.append((start,))
            does[-1] = (*does[-1], plain(swing.before, "", why), " to ", plain(swing.after, "%", why))
    return ((question.asks,), taken, joined(does, "; ") or ("no share moves",))


def question_reason(question: Question | Spread) -> Reason:
    """Return the reason behind what is taken meanwhile.

    Parameters
    ----------
    question : Question or Spread
        The question.

    Returns
    -------
    Reason
        Of the first option, or of the spread.

    Examples
    --------
    >>> question_reason(Spread("drop: x", "How heavy?", 0.03, 0.02, 0.04, "g", Reason("so"))).says
    'so'
    """
    return question.reason if isinstance(question, Spread) else question.options[0].reason


def _settled(matter: Matter) -> Iterator[Block]:
    record = matter.record
    if not record.decisions:
        yield Paragraph(("Nothing was settled by a person: where the page leaves something open, the likeliest answer on file holds.",))
        return
    lost = orphans(record)
    rows = tuple(_decision(matter, decision) for decision in record.decisions if decision not in lost)
    if rows:
        yield Grid("What was settled, why, and on whose word", ("question", "answer", "because", "by, and when"), rows)
    for decision in lost:
        answer = decision.option or "a figure"
        yield Paragraph((f"Settled, but the page as transcribed no longer asks it: {decision.question}, {answer}. {decision.because}",), "care")
    yield from [Paragraph(sentence(f"{one}.", kept("as answered when it was settled")), "care") for one in stale(record)]


def _decision(matter: Matter, decision: Decision) -> tuple[Text, ...]:
    asked = matter.question(decision.question)
    why = Reason(f"settled: {decision.because or 'no reason given'}", (*decision.cited, RECORD))
    for_line = f" (for the line {decision.at!r})" if decision.at else ""
    if decision.figure is not None:
        answer: Text = (plain(decision.figure, asked.unit if isinstance(asked, Spread) else "", why),)
    else:
        answer = (next((o.words for o in getattr(asked, "options", ()) if o.key == decision.option), thing(decision.option).name),)
    by = ", ".join(filter(None, (decision.who, decision.when)))
    own = [citation.place for citation in decision.cited if citation.key == "own"]
    because = decision.because + (f" (on the word of: {'; '.join(own)})" if own else "")
    return ((f"{asked.asks if asked else decision.question}{for_line}",), answer, (*sentence(because, why), Cited(why)), (by,))
