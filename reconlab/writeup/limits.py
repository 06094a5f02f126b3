"""What a page does not know: said as plainly as what it does."""

from __future__ import annotations

from collections.abc import Iterator

from reconlab.materia import UNKNOWN, thing
from reconlab.reasons import Reason
from reconlab.screening import RESEARCH_AID
from reconlab.writeup.blocks import Block, Listing, Text, printed, sentence
from reconlab.writeup.matter import Matter


def limits(matter: Matter) -> Iterator[Block]:
    r"""Give what the page does not know.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.

    Yields
    ------
    Block
        One list.

    Examples
    --------
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> found = next(limits(gathered(Reconstruction(transcription="Starch, 3 oz.\nOrris root, 1 oz."))))
    >>> "how it feels" in "".join(found.items[-2])
    True
    """
    yield Listing(tuple(_said(matter)))


def _said(matter: Matter) -> Iterator[Text]:
    if matter.record.invented:
        yield ("The source is invented: nothing here is evidence of what anyone ever made.",)
    yield from _of_the_page(matter)
    missing = dict.fromkeys(name for found in matter.screenings.values() for name in found.not_looked_up)
    if missing:
        yield (f"Not looked up in the law asked about: {', '.join(missing)}.",)
    if matter.record.use is None:
        yield ("Whether it may touch skin: no use was stated, so nothing was looked up.",)
    if not any(batch.made_on for batch in matter.record.batches):
        yield ("It has not been made for this page: nothing here was weighed, worn or seen.",)
    yield ("Grade, age and make of what was bought then are not known; figures are for the substance on file.",)
    yield ("How long it keeps, how it feels and how it looks are not reckoned here.",)
    yield (RESEARCH_AID,)


def _of_the_page(matter: Matter) -> Iterator[Text]:
    formula = matter.literal
    asked = formula.open_questions()
    if asked:
        yield (f"Still open: {len(asked)} of the questions the page raises. Every range above stands for them alone.",)
    unknown = [thing(key).name for key in formula.substances if key.startswith(UNKNOWN)]
    if unknown:
        yield (f"Not identified: {', '.join(unknown)}. Neither what it does to skin nor what law says is known.",)
    if formula.unweighed:
        names = ", ".join(item.name for item in formula.unweighed)
        yield (f"Not weighed: {names}. Shares are of the weighed lines only.",)
    for question in formula.ways.questions:
        if question.chosen is None:
            yield (f"{question.asks} Nothing on file prefers an answer; the first is shown.",)
    for note in formula.notes:
        yield sentence(note, printed(Reason("as read")))
