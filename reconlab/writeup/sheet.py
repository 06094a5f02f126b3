"""The pages for the bench: a sheet to print and write on, or why a version is described and not made."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from reconlab.benchwork import Plan
from reconlab.formula import Formula
from reconlab.materia import thing
from reconlab.reasons import Reason
from reconlab.record import Batch
from reconlab.screening import RESEARCH_AID, cautions
from reconlab.tables import Caution
from reconlab.writeup.blocks import (
    Blank,
    Block,
    Figure,
    Grid,
    Listing,
    Page,
    Paragraph,
    ReferenceList,
    Section,
    Strong,
    Text,
    Weighing,
    Weighings,
    from_value,
    joined,
    kept,
    printed,
    quoted,
    sentence,
)
from reconlab.writeup.findings import asked_by_law, caution_text
from reconlab.writeup.frame import page_of
from reconlab.writeup.making import plan_in_words, plan_rows, planned_line, refusal
from reconlab.writeup.matter import Matter
from reconlab.writeup.opening import directions
from reconlab.writeup.reckoned import swing_in_words, weighed_in

_STEPS = (
    ("weighing", "Weigh"),
    ("heating", "Warm"),
    ("mixing", "Mix"),
    ("filling", "Fill and label"),
    ("wearing", "Before anyone wears it"),
    ("clearing up", "Clear up"),
)
_LATER = "what is not in the formula any more; ask before you weigh it"
_SEE = "Figures and sources: see the article "
_MOST_ASKED = 3  # open questions on a sheet
_ROUNDING_SHOWN = 0.05  # %; less is nothing with one digit after the point


def bench_sheet(matter: Matter, version: str) -> Page:
    r"""Return the sheet of a planned version, to be printed and written on.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.
    version : str
        Name of a version whose plan is kept.

    Returns
    -------
    Page
        To be written as HTML.

    Examples
    --------
    >>> from reconlab.record import Batch, Plan, Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> batch = Batch(plan=Plan(lines={"1": "37.50", "2": "12.50"}, balance="0.01 g"))
    >>> record = Reconstruction(title="Powder", transcription="Starch, 3 oz.\nOrris root, 1 oz.", batches=(batch,))
    >>> bench_sheet(gathered(record), "literal").sections[0].title
    'Weigh'
    """
    batch = matter.planned(version) or Batch(version=version)
    plan = matter.plans.get(version)
    formula = next(one for one in matter.versions if one.name == version)
    care = plan.cautions if plan else cautions(formula, matter.record.use)
    sections = [Section(title, tuple(_step(matter, step, care, batch, plan))) for step, title in _STEPS]
    known = {row.words for row in care}
    older = tuple(
        sentence(words, kept("kept with the plan"))
        for words in batch.plan.cautions
        if not any(words.endswith(one) for one in known)
    )
    found = matter.screenings.get(version)
    asked = asked_by_law(found) if found else ()
    sections.append(Section("What the law asks", (Listing(asked, "ticks"),) if asked else ()))
    sections.append(Section("Kept with the plan", (Listing(older),) if older else ()))
    sections.append(Section("Signed", (_signed(), Paragraph((_SEE, quoted(_name(matter)), "."), "printed"))))
    sections.append(Section("References", (ReferenceList(),)))
    head = (
        *_labels(matter),
        Paragraph((Strong(f"Version {quoted(version)}. "), *plan_in_words(batch, plan)), "lead"),
        *_open(matter, formula),
        *_unknown(formula),
        *(Paragraph(sentence(words, printed(Reason("as read"))), "care") for words in (plan.doubts if plan else ())),
        Paragraph((RESEARCH_AID,), "care"),
    )
    return page_of(matter, f"Bench sheet: {_name(matter)}", "sheet", head, tuple(sections))


def _name(matter: Matter) -> str:
    return matter.record.title or matter.receipt.title


def refusal_sheet(matter: Matter, version: str) -> Page:
    r"""Return the page of a version that is described and not made.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.
    version : str
        Name of the version.

    Returns
    -------
    Page
        Why, the formula, and what can stand in.

    Examples
    --------
    >>> from reconlab.receipts import Use
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> matter = gathered(Reconstruction(transcription="White lead, 1 oz.\nWater, 3 oz.", use=Use("liquid face white")))
    >>> refusal_sheet(matter, "literal").title
    'Described, not made: receipt without a title'
    """
    formula = next(one for one in matter.versions if one.name == version)
    share = "% w/w of the weighed lines" if formula.unweighed else "% w/w"
    table = tuple(
        ((thing(key).name,), (from_value(formula.mass(key)),), (from_value(formula.share(key)),))
        for key in weighed_in(formula)
    )
    unit = "grams" if formula.unit == "g" else "parts"
    sections = (
        Section("Why, and what can stand in", tuple(refusal(matter, version))),
        Section(
            "The formula, for the record",
            (Grid("What it would hold", ("substance", unit, share), table, "figures"),) if table else (),
        ),
        Section("If some of it is in the house", tuple(_in_the_house(matter, version))),
        Section("References", (ReferenceList(),)),
    )
    head = (
        *_labels(matter),
        Paragraph((f"Version {quoted(version)}. There is no bench sheet for it.",), "lead"),
        Paragraph((RESEARCH_AID,), "care"),
    )
    return page_of(matter, f"Described, not made: {matter.record.title or formula.title}", "sheet", head, sections)


def _labels(matter: Matter) -> Iterator[Block]:
    if matter.record.invented:
        yield Paragraph(("After an invented source",), "label")


def _open(matter: Matter, formula: Formula) -> Iterator[Block]:
    """Give the open questions that move a share most, with their figures."""
    asked = tuple(
        (f"{swing.asks} ", *swing_in_words(formula, swing, matter.question(swing.question)), ".")
        for swing in formula.matters()[:_MOST_ASKED]
    )
    if asked:
        yield Paragraph((Strong("Still open. "), *joined(asked, " ")))


def _unknown(formula: Formula) -> Iterator[Block]:
    unknown = [thing(key).name for key in formula.substances if not thing(key).identified]
    if unknown:
        yield Paragraph(
            (f"Not identified: {', '.join(unknown)}. Do not handle it before you know what it is.",), "stop"
        )


def _in_the_house(matter: Matter, version: str) -> Iterator[Block]:
    """Give the cautions about what stops the version itself, for whoever still has some."""
    stops = matter.stops.get(version, ())
    about = {finding.substance for finding in stops} | {f"class:{thing(finding.substance).class_}" for finding in stops}
    formula = next(one for one in matter.versions if one.name == version)
    mind = tuple(caution_text(row) for row in cautions(formula, matter.record.use) if row.about in about)
    if mind:
        yield Listing(mind)


def _step(matter: Matter, step: str, care: tuple[Caution, ...], batch: Batch, plan: Plan | None) -> list[Block]:
    mind = tuple(caution_text(row) for row in care if row.step == step)
    blocks: list[Block] = [Listing(mind, "ticks")] if mind else []
    if step == "weighing":
        blocks.append(_weighings(batch, plan))
        blocks += [
            Paragraph((f"Without a weight: {words}. Taken: ", Blank("grams taken"), " g"), "care")
            for words in (plan.unweighed if plan else ())
        ]
    if step == "mixing":
        blocks = [*_method(matter, batch, plan), *blocks]
    if step == "filling" and plan and plan.container:
        fills = plan.container.fills
        blocks.insert(0, Paragraph(("The batch takes ", from_value(fills, "mL"), f"; it {plan.container.says}.")))
    return blocks


def _weighings(batch: Batch, plan: Plan | None) -> Weighings:
    """Return the weighings in the order of work, with a sentence where the next phase begins."""
    lines = dict(zip(batch.plan.lines, plan_rows(batch, plan), strict=True))
    steps: list[Weighing | str] = []
    for place, (phase, mine) in enumerate(_phases(batch, plan).items()):
        steps += [f"{'Now' if place else 'First'} {phase}."] if plan else []
        steps += [_weighing(line, lines[line], plan) for line in mine]
    return Weighings(tuple(steps))


def _weighing(line: str, row: tuple[Text, ...], plan: Plan | None) -> Weighing:
    now = planned_line(plan, line)
    amount = tuple(replace(run, unit="g") if isinstance(run, Figure) else run for run in row[2])
    how: Text = ()
    if now:
        why = printed(now.value.reason)
        how = sentence(now.advice, why) if now.advice else ()
        if abs(now.rounding_percent) >= _ROUNDING_SHOWN:
            moved = Figure(now.rounding_percent, f"{now.rounding_percent:.1f}", why, unit="%")
            how = joined((how, ("moved ", moved, " by rounding")), "; ")
    return Weighing(
        "".join(run for run in row[0] if isinstance(run, str)), amount, how, Blank(f"grams of {line} taken")
    )


def _method(matter: Matter, batch: Batch, plan: Plan | None) -> Iterator[Block]:
    """Give the page's own directions, then the order of work in sentences."""
    said = directions(matter)
    if said:
        yield Paragraph((Strong("The page says: "), *joined(said, " ")))
    names = {line: now.name for line in batch.plan.lines if (now := planned_line(plan, line))}
    phases = _phases(batch, plan) if plan else {}
    steps = []
    for place, (phase, mine) in enumerate(phases.items()):
        start = "Begin with" if not place else "End with" if place == len(phases) - 1 else "Go on with"
        steps.append((f"{start} {phase}: {', '.join(names.get(line, line) for line in mine)}.",))
    if steps:
        yield Listing(tuple(steps), "steps")


def _phases(batch: Batch, plan: Plan | None) -> dict[str, list[str]]:
    """Return the lines of a plan as kept by phase, in the order of work."""
    now = [line.item for line in plan.lines] if plan else []
    place = {line: now.index(found.item) for line in batch.plan.lines if (found := planned_line(plan, line))}
    phases: dict[str, list[str]] = {}
    for line in sorted(batch.plan.lines, key=lambda line: place.get(line, len(now))):
        phases.setdefault(_phase(plan, line), []).append(line)
    return phases


def _phase(plan: Plan | None, line: str) -> str:
    now = planned_line(plan, line)
    return now.phase if now else _LATER


def _signed() -> Grid:
    room = (((what,), (Blank(f"{what}, name"),), (Blank(f"{what}, day"),)) for what in ("made by", "looked over by"))
    return Grid("By whom, and when", ("", "name", "day"), tuple(room), "signed")
