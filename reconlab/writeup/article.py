"""The article: what was asked, what was printed, how it was read, what was in it, what follows, and who says so."""

from __future__ import annotations

from collections.abc import Iterator

from reconlab.materia import thing
from reconlab.reasons import Reason
from reconlab.writeup.blocks import (
    BOOK,
    Block,
    Cited,
    NoteList,
    Page,
    Paragraph,
    ReferenceList,
    Section,
)
from reconlab.writeup.findings import law_and_sense
from reconlab.writeup.frame import INVENTED, page_of, source_in_words
from reconlab.writeup.limits import limits
from reconlab.writeup.making import at_the_bench, beside_each_other, made_and_seen
from reconlab.writeup.matter import Matter
from reconlab.writeup.opening import opening
from reconlab.writeup.reckoned import reckoned


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
    >>> [section.title for section in page.sections][:3]
    ['The source', 'The receipt as printed', 'How it was read']
    """
    record = matter.record
    sections = (
        *opening(matter),
        *reckoned(matter),
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


def _cite(matter: Matter) -> str:
    record = matter.record
    who = record.transcriber or next((d.who for d in record.decisions if d.who), "")
    day = f" {matter.made}." if matter.made else ""
    begin = f"{who}. " if who else ""
    after = source_in_words(matter).rstrip(".")
    title = record.title or matter.receipt.title
    return f"{begin}{title}: a reconstruction.{day} After: {after}. Research aid; figures reckoned with reconlab."


def _head(matter: Matter) -> Iterator[Block]:
    if matter.record.invented:
        yield Paragraph((INVENTED,), "label")
    source = matter.record.source
    where = ", ".join(filter(None, (source.book, source.place, source.years)))
    stops = matter.stops.get(matter.literal.name, ())
    done = " It is described here, and as printed it is not to be made." if matter.refused(matter.literal.name) else ""
    if stops and not any(thing(finding.substance).identified for finding in stops):
        done = " It is described here; before it is made, what is not identified must be."
    lead = (
        f"A receipt from {where}, read, weighed and looked at again."
        if where
        else "A period receipt, read, weighed and looked at again."
    )
    yield Paragraph((f"{lead}{done}", Cited(Reason("the receipt as printed", (BOOK,)))), "lead")
