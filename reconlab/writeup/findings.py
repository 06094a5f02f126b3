"""What law and good sense say, as a section: each finding with its entry, its conditions and the day of its text."""

from __future__ import annotations

from collections.abc import Iterator

from reconlab.materia import thing
from reconlab.screening import RESEARCH_AID, Finding, Screening, cautions
from reconlab.tables import Caution
from reconlab.writeup.blocks import (
    Block,
    Cited,
    Grid,
    Listing,
    Paragraph,
    Section,
    Strong,
    Text,
    from_value,
    joined,
    kept,
    plain,
    sentence,
)
from reconlab.writeup.matter import Matter


def law_and_sense(matter: Matter) -> Section:
    r"""Return what law and good sense say of everything that may be in a receipt and its versions.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.

    Returns
    -------
    Section
        With one part for each version.

    Examples
    --------
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> section = law_and_sense(gathered(Reconstruction(transcription="Starch, 3 oz.\nOrris root, 1 oz.")))
    >>> section.blocks[0].text[0]
    'No use was stated, so no law was asked.'
    """
    record = matter.record
    blocks: list[Block] = []
    if record.use is None:
        blocks.append(Paragraph(("No use was stated, so no law was asked.",)))
    else:
        use = record.use
        law = f"the law of {use.law} as asked for {use.on or 'no stated day'}" if use.law else "no law: only what is never handled was looked at"
        blocks.append(Paragraph((f"Looked at as {use.form}, worn by: {use.wearer}; {law}.",)))
    blocks.append(Paragraph((Strong(RESEARCH_AID),), "care"))
    versions = tuple(
        Section(f"Version {name!r}", tuple(_screened(found))) for name, found in matter.screenings.items() if found.findings
    )
    care = cautions(matter.literal, record.use)
    extra = tuple(
        caution for version in matter.versions[1:] for caution in cautions(version, record.use) if caution not in care
    )
    in_use = Section("In the workshop and in use", (care_grid(tuple(dict.fromkeys((*care, *extra)))),)) if care or extra else Section("")
    return Section("What law and good sense say", tuple(blocks), (*versions, in_use, _texts(matter)))


def care_grid(rows: tuple[Caution, ...]) -> Grid:
    """Return cautions as a table, in the order of work.

    Parameters
    ----------
    rows : tuple of Caution
        The cautions.

    Returns
    -------
    Grid
        Step and caution.

    Examples
    --------
    >>> care_grid(()).caption
    'What to mind, at the step it belongs to'
    """
    steps = list(dict.fromkeys(("weighing", "heating", "mixing", "filling", "wearing", "clearing up")))
    ordered = sorted(rows, key=lambda row: steps.index(row.step))
    return Grid("What to mind, at the step it belongs to", ("step", "mind"), tuple(((row.step,), caution_text(row)) for row in ordered))


def caution_text(row: Caution) -> Text:
    """Return a caution with its figures and its source.

    Parameters
    ----------
    row : Caution
        A row of the table of cautions.

    Returns
    -------
    tuple
        Words and figures.

    Examples
    --------
    >>> from reconlab.tables import rows
    >>> caution_text(rows(Caution)[0])[-1].why.sources == rows(Caution)[0].sources
    True
    """
    why = row.reason(f"caution for {row.step}")
    return (*sentence(row.words, why), Cited(why))


def _screened(found: Screening) -> Iterator[Block]:
    for finding in found.stops:
        yield Paragraph(finding_text(finding), "stop")
    heads = ("substance", "share found, % w/w", "limit, %", "finding", "entry", "conditions and warnings")
    yield Grid("Every substance that may be there", heads, tuple(_row(finding) for finding in found.findings), "figures")
    if found.not_looked_up:
        yield Paragraph((f"Not looked up, which is not the same as allowed: {', '.join(found.not_looked_up)}.",), "care")
    if found.open_questions:
        yield Paragraph(("A finding hangs on what is still open:",))
        yield Listing(tuple(sentence(words, kept("as the open questions stand")) for words in found.open_questions))


def finding_text(finding: Finding) -> Text:
    """Return a finding that stops the bench, in one sentence with its figures.

    Parameters
    ----------
    finding : Finding
        A finding.

    Returns
    -------
    tuple
        Words and figures.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> from reconlab.receipts import Use
    >>> from reconlab.screening import screen
    >>> from reconlab.translation import translate
    >>> found = screen(translate(read("White lead, 1 oz.")), Use("liquid face white", law="EU"))
    >>> finding_text(found.stops[0])[0]
    'White lead (basic lead carbonate) is never handled here, whatever the law'
    """
    name = thing(finding.substance).name
    doubt = f"If it is {name}: {name}" if finding.if_it_is else name[:1].upper() + name[1:]
    if finding.gate == "never handled":
        return (f"{doubt} is never handled here, whatever the law", Cited(finding.reason), ".")
    entry = " ".join(filter(None, (finding.law, finding.entry)))
    share: Text = (", ", from_value(finding.found, "% w/w")) if finding.found else ()
    limit: Text = (", against a limit of ", plain(finding.limit, "%", finding.reason)) if finding.limit is not None else ()
    return (doubt, *share, f": {finding.here} ({entry})", *limit, Cited(finding.reason), ".")


def _row(finding: Finding) -> tuple[Text, ...]:
    name = thing(finding.substance).name
    reckoned = f" reckoned as {finding.reckoned_as}" if finding.reckoned_as else ""
    conditions = [sentence(words, finding.reason) for words in (*finding.conditions, *finding.warnings)]
    never = "never handled, whatever the law" if finding.gate == "never handled" else f"{finding.rule}: {finding.here}"
    return (
        (f"{name} (if it is that)" if finding.if_it_is else name,),
        (from_value(finding.found),) if finding.found else ("not weighed",),
        (plain(finding.limit, "", finding.reason), reckoned) if finding.limit is not None else ("none set",),
        (never, Cited(finding.reason)),
        (" ".join(filter(None, (finding.law if finding.gate != "never handled" else "", finding.entry))),),
        joined(conditions, " "),
    )


def _texts(matter: Matter) -> Section:
    texts = tuple(dict.fromkeys(text for found in matter.screenings.values() for text in found.texts))
    rows = tuple(
        ((text.text, Cited(text.reason(text.text))), (text.state_of,), (text.read_on,), ("yes" if text.whole == "yes" else "no, in part",))
        for text in texts
    )
    grid = Grid("The texts of law behind the findings", ("text", "state of", "last read", "read whole"), rows)
    return Section("Which texts were read, and when", (grid,) if rows else ())
