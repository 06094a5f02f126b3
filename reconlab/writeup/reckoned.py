"""The middle of the article: the formula, what is still open and what each answer does, what was settled and why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from reconlab.formula import IF_IT_IS, Formula, Swing
from reconlab.materia import thing
from reconlab.reasons import Decision, Question, Reason, Spread, figure
from reconlab.record import orphans, stale
from reconlab.writeup.blocks import (
    RECORD,
    Block,
    Cited,
    Drawing,
    Grid,
    Paragraph,
    Section,
    Strong,
    Text,
    from_value,
    joined,
    kept,
    plain,
    printed,
    sentence,
)
from reconlab.writeup.matter import Matter, why_of

_PRINTED = "printed so"
_ABOVE = "The figures are in the table above."


def reckoned(matter: Matter) -> tuple[Section, ...]:
    r"""Return the sections about what was in it, what is open and what was settled.

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
    >>> [section.title for section in reckoned(gathered(Reconstruction(transcription="Starch, 3 oz.\nOrris, 1 oz.")))]
    ['The formula', 'What is still open', 'What was settled']
    """
    return (
        Section("The formula", tuple(_formula(matter))),
        Section("What is still open", tuple(_open(matter))),
        Section("What was settled", tuple(_settled(matter))),
    )


def _formula(matter: Matter) -> Iterator[Block]:
    formula = matter.literal
    weighed = weighed_in(formula)
    if weighed:
        share = "% w/w of the weighed lines" if formula.unweighed else "% w/w"
        rows = tuple(_formula_row(matter, key) for key in weighed)
        whole = from_value(formula.whole)
        caption = "The receipt as settled, in grams" if formula.unit == "g" else "The receipt as settled, in parts"
        yield Grid(caption, ("substance", "grams" if formula.unit == "g" else "parts", share), rows, "figures")
        yield from [Paragraph((why,)) for why in formula.beyond_the_whole()]
        yield Paragraph(("All weighed lines together: ", replace(whole, unit=formula.unit), "."))
        if len(matter.versions) == 1:
            yield Drawing(
                formula.picture(), "What was in it, by weight; each mark below the bar is a tenth.", (_ABOVE,)
            )
    yield from [Paragraph((f"Not weighed: {u.name} ({u.why}).",), "care") for u in formula.unweighed]
    yield from [Paragraph(sentence(note, printed(Reason(_PRINTED))), "care") for note in formula.notes]


def weighed_in(formula: Formula) -> list[str]:
    r"""Return the substances of a formula that stand in a line with an amount.

    Parameters
    ----------
    formula : Formula
        A version.

    Returns
    -------
    list of str
        Ids, in the order of the receipt.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> from reconlab.translation import translate
    >>> weighed_in(translate(read("Borax, 1 oz.\nCarmine, q.s.")))
    ['borax']
    """
    parts = {part.substance for part in formula.parts}
    return [key for key in formula.substances if key in parts]


def _formula_row(matter: Matter, key: str) -> tuple[Text, ...]:
    formula = matter.literal
    name = thing(key).name + ("" if key in formula.as_chosen() else IF_IT_IS)
    return ((name,), (from_value(formula.mass(key)),), (from_value(formula.share(key)),))


def _open(matter: Matter) -> Iterator[Block]:
    formula = matter.literal
    asked = formula.open_questions()
    if not asked:
        yield Paragraph(("Nothing: every question the page raises has been settled, or has one answer on file.",))
        return
    caption = (
        "What is open, what is taken meanwhile, and what each other answer does; those that change most come first"
    )
    moved = {swing.question for swing in formula.swings() if figure(swing.before) != figure(swing.after)}
    rows = tuple(_open_row(matter, question) for question in asked if question.id in moved)
    if rows:
        yield Grid(caption, ("question", "taken meanwhile", "the other answers"), rows, "figures")
    still = [question.asks for question in asked if question.id not in moved]
    if still:
        yield Paragraph((f"Open too, and no share moves so far that it shows: {' '.join(still)}",))
    decides = dict(_deciding(asked))
    if decides:
        said = joined((sentence(words, why) for words, why in decides.items()), "; ")
        yield Paragraph((Strong("What would decide"), ": ", *said, "."))


def _deciding(asked: Iterable[Question | Spread]) -> Iterator[tuple[str, Reason]]:
    """Give what would decide between the meanings of a name, with the rows of that name behind it."""
    for question in asked:
        if isinstance(question, Question) and question.key.startswith("name: "):
            why = Reason(f"meanings on file: {question.asks}", (), tuple(option.reason for option in question.options))
            for words in question.decides:
                yield words, why


def _open_row(matter: Matter, question: Question | Spread) -> tuple[Text, ...]:
    formula = matter.literal
    if isinstance(question, Spread):
        taken: Text = (plain(question.usual, question.unit if question.unit != "1" else "", printed(question.reason)),)
    else:
        first = question.options[0]
        taken = (
            first.words if question.chosen else f"{first.words}, as if: nothing on file prefers it",
            Cited(first.reason),
        )
    does = [
        swing_in_words(formula, swing, question)
        for swing in formula.swings()
        if swing.question == question.id and figure(swing.before) != figure(swing.after)
    ]
    return ((question.asks,), taken, joined(does, "; "))


def swing_in_words(formula: Formula, swing: Swing, question: Question | Spread | None) -> Text:
    r"""Return what another answer does, with its figures.

    Parameters
    ----------
    formula : Formula
        The version it is about.
    swing : Swing
        What the answer does.
    question : Question, Spread or None
        What is asked.

    Returns
    -------
    tuple
        Words and figures.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> from reconlab.translation import translate
    >>> formula = translate(read("French chalk, 3 oz.\nBorax, 60 grs."))
    >>> swing_in_words(formula, formula.swings()[0], None)[-2]
    ' becomes '
    """
    because = why_of(question, swing.answer) or (question_reason(question) if question else None)
    steps = (*((because,) if because else ()), formula.reason(swing.substance))
    why = printed(Reason(f"if {swing.answer}", (), steps))
    unlikely = ", unlikely" if swing.standing == "unlikely" else ""
    said: Text = sentence(swing.answer, why) if isinstance(question, Spread) else (swing.answer,)
    before, after = plain(swing.before, "", why), plain(swing.after, "%", why)
    start = f"{unlikely}: {thing(swing.substance).name} "
    return ("if ", *said, start, *((before, " becomes ") if swing.before else ()), after)


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
        yield Paragraph(
            ("Nothing was settled by a person: where the page leaves something open, the likeliest answer holds.",)
        )
        return
    lost = orphans(record)
    rows = tuple(_decision(matter, decision) for decision in record.decisions if decision not in lost)
    if rows:
        yield Grid("What was settled, why, and on whose word", ("question", "answer", "because", "by, and when"), rows)
    for decision in lost:
        answer = decision.option or "a figure"
        yield Paragraph(
            (f"Settled, but the page no longer asks it: {decision.question}, {answer}. {decision.because}",),
            "care",
        )
    for one in stale(matter.literal.ways.every_question):
        yield Paragraph(sentence(f"{one}.", kept("as answered when it was settled")), "care")


def _decision(matter: Matter, decision: Decision) -> tuple[Text, ...]:
    asked = matter.question(decision.question)
    why = Reason(f"settled: {decision.because or 'no reason given'}", (*decision.cited, RECORD))
    for_line = f" (for the line {decision.at!r})" if decision.at else ""
    if decision.figure is not None:
        answer: Text = (plain(decision.figure, asked.unit if isinstance(asked, Spread) else "", why),)
    else:
        answer = (
            next(
                (o.words for o in getattr(asked, "options", ()) if o.key == decision.option),
                thing(decision.option).name,
            ),
        )
    by = ", ".join(filter(None, (decision.who, decision.when)))
    own = [citation.place for citation in decision.cited if citation.key == "own"]
    because = decision.because + (f" (on the word of: {'; '.join(own)})" if own else "")
    return (
        (f"{asked.asks if asked else decision.question}{for_line}",),
        answer,
        (*sentence(because, why), Cited(why)),
        (by,),
    )
