"""What law and good sense say, as a section: each finding with its entry, its conditions and the day of its text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from reconlab.formula import IF_IT_IS
from reconlab.materia import thing
from reconlab.reasons import Reason
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
    printed,
    quoted,
    sentence,
)
from reconlab.writeup.matter import Matter

_FIRST_WORDS = 6  # of a caution, to tell its note from others
_OPEN = printed(Reason("nothing on file has the name"))
_WHOLE = {"yes": "the whole of it"}
STEPS = ("weighing", "heating", "mixing", "filling", "wearing", "clearing up")


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
        law = (
            f"law asked about: {use.law}, {f'for {use.on}' if use.on else 'for no stated day'}"
            if use.law
            else "no law: only what is never handled was looked at"
        )
        blocks.append(Paragraph((f"Looked at as {use.form}; wearer: {use.wearer}; {law}.",)))
    blocks.append(Paragraph((Strong(RESEARCH_AID),), "care"))
    versions = tuple(_version(matter, name) for name in matter.screenings)
    return Section("What law and good sense say", tuple(blocks), (*versions, _care(matter), _texts(matter)))


def _care(matter: Matter) -> Section:
    """Return what to mind with any of the versions, each at the step it belongs to."""
    every = dict.fromkeys(row for version in matter.versions for row in cautions(version, matter.record.use))
    steps = []
    for step in STEPS:
        mind = joined((caution_text(row) for row in every if row.step == step), " ")
        steps += [(Strong(f"{step[:1].upper()}{step[1:]}."), " ", *mind)] if mind else []
    return Section("What to mind, at the step it belongs to", (Listing(tuple(steps)),) if steps else ())


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
    why = row.reason(f"caution for {row.step}: {' '.join(row.words.split()[:_FIRST_WORDS])} \N{HORIZONTAL ELLIPSIS}")
    return (*sentence(row.words, why), Cited(why))


def _version(matter: Matter, name: str) -> Section:
    """Return the findings about a version; of a later one only those the first has not."""
    found, first = matter.screenings[name], matter.screenings[matter.literal.name]
    own, before = [_same(f) for f in found.findings], [_same(f) for f in first.findings]
    shown = [f for f in found.findings if found is first or _same(f) not in before]
    blocks: list[Block] = [Paragraph(text, "stop") for text in stops_in_words(f for f in shown if f.stops)]
    rows = tuple(_row(finding) for finding in shown if _says_something(finding))
    if rows:
        heads = ("substance", "share found, % w/w", "finding, entry and limit", "conditions and warnings")
        caption = "What the law says of what may be there" if found is first else "What is found of this version only"
        blocks.append(Grid(caption, heads, rows, "figures"))
        blocks += [Paragraph((why,)) for why in found.on_ranges]
    blocks += _the_rest([f for f in shown if not f.stops and not _says_something(f)])
    blocks += _undecided(found, () if found is first else first.open_questions)
    if found is not first:
        gone = dict.fromkeys(f"{thing(f.substance).name} ({f.here})" for f in first.findings if _same(f) not in own)
        fell = f"No longer found: {'; '.join(gone)}. " if gone else ""
        blocks.append(Paragraph((f"{fell}All else is as for the version {quoted(matter.literal.name)}.",)))
    return Section(f"Version {quoted(name)}", tuple(blocks))


def _same(finding: Finding) -> tuple[str, ...]:
    return finding.substance, finding.rule, finding.here, finding.entry, finding.if_it_is


def _says_something(finding: Finding) -> bool:
    """Whether an entry asks something of this use; what stops the bench is said before the table."""
    if finding.stops or finding.rule in ("none found", "not looked up"):
        return False
    return finding.rule != "listed" or finding.here != "no limit" or bool(finding.warnings)


def _the_rest(findings: list[Finding]) -> Iterator[Block]:
    """Gather what no entry speaks of, or none asks anything of: a sentence each, by name, with the date of the text."""
    sentences: dict[str, list[Finding]] = {}
    for finding in findings:
        law = f"{finding.law}, text of {finding.law_read_as_of}" if finding.law_read_as_of else finding.law
        start = {
            "none found": f"None found ({law}): ",
            "not looked up": f"Not looked up ({law}), which is not the same as allowed: ",
        }.get(finding.rule, f"Listed, nothing asked for this use ({law}): ")
        sentences.setdefault(start, []).append(finding)
    for start, gathered in sentences.items():
        said = joined(_named(gathered), "; ")
        yield Paragraph((start, *said, "."), "care" if start.startswith("Not") else "")


def _named(findings: list[Finding]) -> Iterator[Text]:
    """Give each substance by name, with what is on file of it; what is said of several is said once."""
    notes: dict[str, list[Finding]] = {}
    for finding in findings:
        notes.setdefault(" ".join(finding.conditions).rstrip("."), []).append(finding)
    for noted, same in notes.items():
        names = ", ".join(
            f"{thing(one.substance).name}{IF_IT_IS if one.if_it_is else ''}{f' ({one.entry})' if one.entry else ''}"
            for one in same
        )
        note: Text = (": ", *sentence(noted, same[0].reason)) if noted else ()
        yield (names, *note, *(Cited(one.reason) for one in same))


def _undecided(found: Screening, before: tuple[str, ...]) -> Iterator[Block]:
    yield from [Paragraph(sentence(words, kept("as it was settled")), "care") for words in found.shut_out]
    asked = [words for words in found.open_questions if words not in before]
    if asked:
        why = printed(Reason("reckoned again with the other answer; see the open questions"))
        said = joined((sentence(words, why) for words in asked), " ")
        yield Paragraph((Strong("A finding hangs on what is still open"), ": ", *said))


def stops_in_words(findings: Iterable[Finding]) -> tuple[Text, ...]:
    r"""Return what stops the bench, all that is found of one substance together.

    Parameters
    ----------
    findings : iterable of Finding
        Findings that stop it.

    Returns
    -------
    tuple
        One text for each substance.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> from reconlab.receipts import Use
    >>> from reconlab.screening import screen
    >>> from reconlab.translation import translate
    >>> found = screen(translate(read("White lead, 1 oz.")), Use("liquid face white", law="EU"))
    >>> len(found.stops), len(stops_in_words(found.stops))
    (2, 1)
    """
    gathered: dict[str, list[Text]] = {}
    for finding in findings:
        noted = [sentence(words, finding.reason) for words in finding.conditions]
        gathered.setdefault(finding.substance, []).append(joined((finding_text(finding), *noted), " "))
    return tuple(joined(texts, " ") for texts in gathered.values())


def asked_by_law(found: Screening) -> tuple[Text, ...]:
    r"""Return what the law asks of a version that is made: each entry with a condition, and each still undecided.

    Parameters
    ----------
    found : Screening
        What was found of the version.

    Returns
    -------
    tuple
        One text an entry.

    Examples
    --------
    >>> from reconlab.reading import read
    >>> from reconlab.receipts import Use
    >>> from reconlab.screening import screen
    >>> from reconlab.translation import translate
    >>> found = screen(translate(read("Oxide of zinc, 1 oz.\nStarch, 3 oz.")), Use("cold cream", law="EU"))
    >>> asked_by_law(found)[0][0]
    'zinc oxide (EU IV 144, conditions to meet)'
    """
    said = []
    for finding in found.findings:
        words = " ".join((*finding.conditions, *finding.warnings))
        open_or_asked = finding.here in ("undecided", "conditions to meet")
        if open_or_asked and _says_something(finding) and (finding.limit is not None or words):
            entry = " ".join(filter(None, (finding.law, finding.entry)))
            limit: Text = (": at most ", plain(finding.limit, "%", finding.reason)) if finding.limit is not None else ()
            start = f"{thing(finding.substance).name} ({entry}, {finding.here})"
            said.append(
                (start, *limit, ". " if limit else ": ", *sentence(words, finding.reason), Cited(finding.reason))
            )
    return tuple(said)


def not_known(matter: Matter, version: str) -> str:
    r"""Return what is not identified or not looked up of a version, to stand behind what was found of it.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.
    version : str
        Name of the version.

    Returns
    -------
    str
        Nothing where all is known; else words that begin with a blank.

    Examples
    --------
    >>> from reconlab.receipts import Use
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> record = Reconstruction(transcription="Starch, 3 oz.\nDew of Saturnalia, 1 oz.", use=Use("violet powder"))
    >>> not_known(gathered(record), "literal")
    ' Not identified: dew of saturnalia.'
    """
    formula = next(one for one in matter.versions if one.name == version)
    unknown = [thing(key).name for key in formula.substances if not thing(key).identified]
    found = matter.screenings.get(version)
    missing = [name for name in (found.not_looked_up if found else ()) if name not in unknown]
    said = f" Not identified: {', '.join(unknown)}." if unknown else ""
    return f"{said} Not looked up: {', '.join(missing)}." if missing else said


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
    said = finding.share_of or name
    doubt = f"If it is {name}: {said}" if finding.if_it_is else said[:1].upper() + said[1:]
    if finding.gate == "never handled":
        return (f"{doubt} is never handled here, whatever the law", Cited(finding.reason), ".")
    if not thing(finding.substance).identified:
        return (
            f"{doubt} is not identified: it is not weighed out before someone has said what it is",
            Cited(_OPEN),
            ".",
        )
    entry = " ".join(filter(None, (finding.law, finding.entry)))
    share: Text = (", ", from_value(finding.found, "% w/w")) if finding.found else ()
    limit: Text = (
        (", against a limit of ", plain(finding.limit, "%", finding.reason)) if finding.limit is not None else ()
    )
    return (doubt, *share, f": {finding.here} ({entry})", *limit, Cited(finding.reason), ".")


def _row(finding: Finding) -> tuple[Text, ...]:
    name = thing(finding.substance).name
    conditions = [sentence(words, finding.reason) for words in (*finding.conditions, *finding.warnings)]
    return (
        (f"{name}{IF_IT_IS}" if finding.if_it_is else name,),
        _weighed(finding),
        _said(finding),
        joined(conditions, " "),
    )


def _weighed(finding: Finding) -> Text:
    if finding.found is None:
        return ("not weighed",)
    return (from_value(finding.found), f", {finding.share_of}") if finding.share_of else (from_value(finding.found),)


def _said(finding: Finding) -> Text:
    if finding.gate == "never handled":
        return "never handled, whatever the law", Cited(finding.reason)
    entry = " ".join(filter(None, (finding.law, finding.entry)))
    start = f"{finding.rule}: {finding.here} ({entry})"
    if finding.limit is None:
        return start, Cited(finding.reason)
    reckoned = f", reckoned as {finding.reckoned_as}" if finding.reckoned_as else ""
    return f"{start}, limit ", plain(finding.limit, "%", finding.reason), reckoned


def _texts(matter: Matter) -> Section:
    texts = tuple(dict.fromkeys(text for found in matter.screenings.values() for text in found.texts))
    items = tuple(
        (
            f"{text.text}: state of {text.state_of}, last read {text.read_on}, {_WHOLE.get(text.whole, 'in part')}",
            Cited(text.reason(text.text)),
        )
        for text in texts
    )
    return Section("Which texts were read, and when", (Listing(items),) if items else ())
