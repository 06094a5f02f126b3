"""What every page of a reconstruction carries: its two own references, and the line that says what stands behind it."""

from __future__ import annotations

from reconlab.record import Reconstruction, Source, stamped
from reconlab.writeup.blocks import Block, Page, Section, quoted
from reconlab.writeup.matter import Matter

INVENTED = "Invented source: made for a demonstration, printed nowhere"


def page_of(matter: Matter, title: str, kind: str, head: tuple[Block, ...], sections: tuple[Section, ...]) -> Page:
    r"""Return a page with the references and the last line every page of a reconstruction has.

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
    >>> page_of(gathered(Reconstruction(transcription="Starch, 3 oz.\nOrris, 1 oz.")), "A", "sheet", (), ()).title
    'A'
    """
    return Page(title, kind, head, sections, (_tables_used(matter),), source_in_words(matter), _record_in_words(matter))


def source_in_words(matter: Matter) -> str:
    r"""Return the source of the receipt as a reference names it.

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
    >>> source_in_words(gathered(Reconstruction(transcription="Starch, 3 oz.\nOrris, 1 oz.")))
    'Source of the receipt, not named in the record.'
    """
    source: Source = matter.record.source
    named = (source.author, source.book, source.place, source.publisher, source.years, source.page)
    words = ", ".join(filter(None, named)) or "Source of the receipt, not named in the record"
    words += f", {source.address}" if source.address else ""
    words += f", seen {source.seen}" if source.seen else ""
    return f"{words}. {INVENTED}." if matter.record.invented else f"{words}."


def _record_in_words(matter: Matter) -> str:
    record = matter.record
    who = f"{record.transcriber}, " if record.transcriber else ""
    title = record.title or matter.receipt.title
    return f"{who}record of the reconstruction {quoted(title)}: what was found, settled, made and seen."


def _tables_used(matter: Matter) -> str:
    kept, now = matter.record.tables, stamped(Reconstruction()).tables
    own = f", and the writer's own, checksum {now.overlay}" if now.overlay else ""
    said = [
        f"Written {matter.made}" if matter.made else "",
        f"Reference tables: as shipped with reconlab {now.library}{own}",
    ]
    if kept.library and kept.library != now.library:
        said.append(f"The record was kept with reconlab {kept.library}")
    if kept.overlay and kept.overlay != now.overlay:
        said.append(f"The record was kept with other tables, checksum {kept.overlay}")
    return f"{'. '.join(filter(None, said))}. Every figure was reckoned again for this page from the record."
