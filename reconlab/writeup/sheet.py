"""The pages for the bench: a sheet to print and write on, or why a version is described and not made."""

from __future__ import annotations

from collections.abc import Iterator

from reconlab.benchwork import Plan
from reconlab.materia import thing
from reconlab.record import Batch
from reconlab.screening import RESEARCH_AID, cautions
from reconlab.tables import Caution, Phase, rows
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
    from_value,
    kept,
    printed,
    quoted,
    sentence,
)
from reconlab.writeup.findings import caution_text
from reconlab.writeup.frame import page_of
from reconlab.writeup.making import moved_by, plan_in_words, plan_rows, planned_line, refusal
from reconlab.writeup.matter import Matter

_STEPS = (
    ("weighing", "Weigh"),
    ("heating", "Warm"),
    ("mixing", "Mix"),
    ("filling", "Fill and label"),
    ("wearing", "Before anyone wears it"),
    ("clearing up", "Clear up"),
)
_LATER = "not in the formula now: ask before you weigh it"


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
    sections = [_step(step, title, care, batch, plan) for step, title in _STEPS]
    known = {row.words for row in care}
    older = tuple(
        sentence(words, kept("kept with the plan"))
        for words in batch.plan.cautions
        if not any(words.endswith(one) for one in known)
    )
    sections.append(Section("Kept with the plan", (Listing(older),) if older else ()))
    sections.append(Section("Signed", (_signed(),)))
    sections.append(Section("References", (ReferenceList(),)))
    head = (
        *_labels(matter),
        Paragraph((Strong(f"Version {quoted(version)}. "), *plan_in_words(batch, plan)), "lead"),
        *_open(plan),
        Paragraph((RESEARCH_AID,), "care"),
    )
    return page_of(matter, f"Bench sheet: {matter.record.title or formula.title}", "sheet", head, tuple(sections))


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
    weighed = [key for key in formula.substances if key in {part.substance for part in formula.parts}]
    share = "% w/w of the weighed lines" if formula.unweighed else "% w/w"
    table = tuple(
        ((thing(key).name,), (from_value(formula.mass(key)),), (from_value(formula.share(key)),)) for key in weighed
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


def _open(plan: Plan | None) -> Iterator[Block]:
    asked = [words.split("?")[0] + "?" for words in plan.open_questions] if plan else []
    if asked:
        yield Paragraph((f"Still open, those that change most: {' '.join(asked)}",), "care")


def _in_the_house(matter: Matter, version: str) -> Iterator[Block]:
    """Give the cautions about what stops the version itself, for whoever still has some."""
    stops = matter.screenings[version].stops if version in matter.screenings else ()
    about = {finding.substance for finding in stops} | {f"class:{thing(finding.substance).class_}" for finding in stops}
    formula = next(one for one in matter.versions if one.name == version)
    mind = tuple(caution_text(row) for row in cautions(formula, matter.record.use) if row.about in about)
    if mind:
        yield Listing(mind)


def _step(step: str, title: str, care: tuple[Caution, ...], batch: Batch, plan: Plan | None) -> Section:
    mind = tuple(caution_text(row) for row in care if row.step == step)
    blocks: list[Block] = [Listing(mind, "ticks")] if mind else []
    if step == "weighing":
        blocks += _weighings(batch, plan)
        blocks += (
            [
                Paragraph((f"Without a weight: {words}. Taken: ", Blank("grams taken"), " g"), "care")
                for words in plan.unweighed
            ]
            if plan
            else []
        )
    if step == "mixing":
        phases = _phases(batch, plan)
        blocks.insert(0, Listing(tuple((phase,) for phase in phases), "steps"))
    if step == "filling" and plan and plan.container:
        fills = plan.container.fills
        blocks.insert(0, Paragraph(("The batch takes ", from_value(fills, "mL"), f"; it {plan.container.says}.")))
    return Section(title, tuple(blocks))


def _weighings(batch: Batch, plan: Plan | None) -> list[Block]:
    """Return one table for each phase, in the order of work."""
    lines = dict(zip(batch.plan.lines, plan_rows(batch, plan), strict=True))
    tables: list[Block] = []
    for phase in _phases(batch, plan):
        mine = tuple(_weighing(line, row, plan) for line, row in lines.items() if _phase(plan, line) == phase)
        tables.append(
            Grid(phase[:1].upper() + phase[1:], ("take", "grams", "how, and rounding", "taken, g"), mine, "bench")
        )
    return tables


def _weighing(line: str, row: tuple[Text, ...], plan: Plan | None) -> tuple[Text, ...]:
    now = planned_line(plan, line)
    how: Text = sentence(now.advice, printed(now.value.reason)) if now and now.advice else ()
    rounding: Text = (
        ("moved ", Figure(now.rounding_percent, moved_by(now), printed(now.value.reason), unit="%"), " by rounding")
        if now
        else ()
    )
    between: Text = ("; ",) if how and rounding else ()
    return row[0], row[2], (*how, *between, *rounding), (Blank(f"grams of {line} taken"),)


def _phases(batch: Batch, plan: Plan | None) -> tuple[str, ...]:
    order = {row.phase: int(row.place) for row in rows(Phase)}
    found = dict.fromkeys(_phase(plan, line) for line in batch.plan.lines)
    return tuple(sorted(found, key=lambda phase: order.get(phase, len(order) + 100)))


def _phase(plan: Plan | None, line: str) -> str:
    now = planned_line(plan, line)
    return now.phase if now else _LATER if plan else "as planned"


def _signed() -> Grid:
    room = (((what,), (Blank(f"{what}, name"),), (Blank(f"{what}, day"),)) for what in ("made by", "looked over by"))
    return Grid("By whom, and when", ("", "name", "day"), tuple(room), "signed")
