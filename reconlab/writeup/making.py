"""The versions beside each other, the bench, what was made and what was seen: the later sections of the article."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from reconlab.benchwork import TOLERANCE_REASON, Plan, PlannedLine
from reconlab.comparison import Comparison
from reconlab.formula import Formula, Replacement
from reconlab.materia import folded, thing
from reconlab.pictures import stacked_bar
from reconlab.reasons import Citation, Decision, Reason, Value, figure
from reconlab.receipts import Use
from reconlab.record import Batch, Observation
from reconlab.substitution import StandIn, substitutes
from reconlab.writeup.blocks import (
    RECORD,
    Block,
    Cited,
    Drawing,
    Figure,
    Grid,
    Paragraph,
    Run,
    Section,
    Strong,
    Text,
    Typed,
    from_value,
    joined,
    kept,
    plain,
    printed,
    quoted,
    sentence,
)
from reconlab.writeup.findings import not_known, stops_in_words
from reconlab.writeup.matter import Matter, grams_kept
from reconlab.writeup.reckoned import weighed_in

_ABOVE = "The figures are in the table above."
_PLAIN = re.compile(r"[\w ,.()'-]+")  # a name that can be typed at any shell as it stands
_COLUMNS = 4  # of figures that fit beside each other without a break


def beside_each_other(matter: Matter) -> Iterator[Block]:
    r"""Give the versions beside each other, with every change and its reason.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.

    Yields
    ------
    Block
        Nothing where there is one version.

    Examples
    --------
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> list(beside_each_other(gathered(Reconstruction(transcription="Starch, 3 oz.\nOrris root, 1 oz."))))
    []
    """
    found = matter.comparison
    if found is None:
        return
    names = tuple(version.name for version in found.versions)
    rows = tuple(
        (
            (thing(d.substance).name,),
            *(_share(version, d.substance, share) for version, share in zip(found.versions, d.shares, strict=True)),
        )
        for d in found.differences
    )
    yield Grid(
        "Share of each substance in each version, % w/w of the weighed lines",
        ("substance", *names),
        rows,
        "figures" if len(names) <= _COLUMNS else "",
    )
    yield _bars(found, names)
    changes = tuple(_change(name, change) for name, change in _own_changes(found.versions))
    if changes:
        heads = ("version", "taken out", "put in", "kind of reason", "because", "expected effect")
        yield Grid("Every change, its reason, and what it should do", heads, changes)
    if len(changes) > 1:
        yield Paragraph(("Two changes at once cannot be told apart in use: where you can, make one at a time.",))
    for version in found.versions:
        stopped = dict.fromkeys(thing(finding.substance).name for finding in matter.stops.get(version.name, ()))
        nothing = "nothing found that stops the bench; this is not a finding that it is safe."
        nothing += not_known(matter, version.name)
        if matter.record.use:
            yield Paragraph((Strong(version.name), f": stops at {'; '.join(stopped)}." if stopped else f": {nothing}"))


def _share(version: Formula, key: str, share: Value | None) -> Text:
    if share is None:
        return ("\N{EN DASH}",)
    return (from_value(share),) if key in weighed_in(version) else ("not weighed",)


def _bars(found: Comparison, names: tuple[str, ...]) -> Drawing:
    labels = [thing(d.substance).name for d in found.differences]
    columns = zip(*(d.shares for d in found.differences), strict=True)
    shares = {
        name: [share.number if share else 0.0 for share in column] for name, column in zip(names, columns, strict=True)
    }
    caption = "The versions one under another; each mark below a bar is a tenth."
    return Drawing(stacked_bar(f"Versions of {found.title}", labels, shares), caption, (_ABOVE,))


def _own_changes(versions: tuple[Formula, ...]) -> Iterator[tuple[str, Replacement]]:
    """Give each change once, under the version that brought it in."""
    seen: list[Replacement] = []
    for version in versions:
        for change in version.changes:
            if not any(change is one or change == one for one in seen):
                seen.append(change)
                yield version.name, change


def _change(name: str, change: Replacement) -> tuple[Text, ...]:
    why = Reason(f"as {quoted(name)} was set down: {change.because or 'no reason given'}", (*_cited(change), RECORD))
    into = [(f"{what} ", plain(amount, "", why), f" for 1, by {change.basis}") for what, amount in change.into.items()]
    return (
        (name,),
        (change.out,),
        joined(into, " + ") or ("left out",),
        (change.kind or "not said",),
        (*sentence(change.because or "not said", why), Cited(why)),
        sentence(change.expected or "not said", why),
    )


def _cited(change: Replacement) -> tuple[Citation, ...]:
    return Decision(question="", sources=change.sources).cited


def at_the_bench(matter: Matter) -> Section:
    r"""Return what each version is at the bench: a plan, or described and not made.

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
    >>> at_the_bench(gathered(Reconstruction(transcription="Starch, 3 oz.\nOrris root, 1 oz."))).blocks[0].text
    ('No batch was planned.',)
    """
    parts, told = [], set[str]()
    for version in matter.versions:
        name = version.name
        if matter.refused(name):
            parts.append(Section(f"{name}: described, not made", tuple(_told_before(matter, name, told))))
        elif matter.planned(name):
            parts.append(Section(f"{name}: the plan", tuple(_planned(matter, name))))
        elif matter.record.use is not None and version.unit == "g" and version.lines:
            parts.append(Section(f"{name}: no plan is kept", (_how_to_plan(matter, name),)))
    nothing = () if parts else (Paragraph(("No batch was planned.",)),)
    return Section("At the bench", nothing, tuple(parts))


def _how_to_plan(matter: Matter, version: str) -> Paragraph:
    """Say how a version that may be made gets a sheet for the bench."""
    if version in matter.faults:
        return Paragraph((f"It cannot be planned as it is. {matter.faults[version]}",))
    named = version if _PLAIN.fullmatch(version) else "NAME"
    return Paragraph(
        (
            f"Nothing found that stops the bench.{not_known(matter, version)} No plan is kept. For a sheet type: ",
            Typed(f'reconlab bench RECORD --version "{named}" --make "50 g" --balance "0.01 g" --keep'),
            ", with the amount you want and what your balance reads; then write these pages again.",
        )
    )


def _told_before(matter: Matter, version: str, told: set[str]) -> Iterator[Block]:
    """Give what can stand in for what stops a version; why it stops stands with the law, and is not said again."""
    stops = matter.stops.get(version, ())
    yield from _as_settled(matter, version, "; ".join(str(finding) for finding in stops))
    use = matter.record.use
    if not stops or use is None:
        return
    keys = dict.fromkeys(finding.substance for finding in stops)
    with_the_law = {finding.substance for finding in matter.screenings[version].stops}
    said = [thing(key).name for key in keys if key in with_the_law]
    before = " What can stand in is told above." if told.issuperset(keys) else ""
    if said:
        yield Paragraph((f"It stops at {', '.join(said)}: see {quoted('What law and good sense say')}.{before}",))
    other = (finding for finding in stops if finding.substance not in with_the_law)
    yield from [Paragraph(text, "stop") for text in stops_in_words(other)]
    yield from [_stand_ins(key, use) for key in keys if key not in told]
    told.update(keys)


def _as_settled(matter: Matter, version: str, now: str) -> Iterator[Block]:
    """Give a refusal of the record in its own words, where they are not what is found now."""
    for batch in matter.record.batches:
        if batch.version == version and batch.refused and batch.refused != now:
            yield Paragraph(
                (Strong("As settled in the record"), ": ", *sentence(batch.refused, kept("as the batch was refused"))),
                "stop",
            )


def refusal(matter: Matter, version: str) -> Iterator[Block]:
    r"""Give why a version is not made, and what replaces what stops it.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.
    version : str
        Name of the version.

    Yields
    ------
    Block
        Findings that stop it and documented substitutes.

    Examples
    --------
    >>> from reconlab.receipts import Use
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> use = Use("liquid face white")
    >>> matter = gathered(Reconstruction(transcription="White lead, 1 oz.\nWater, 3 oz.", use=use))
    >>> next(refusal(matter, "literal")).text[0]
    'Described, not made. What follows can be published as it is: why, what it did, what can stand in.'
    """
    yield Paragraph(
        ("Described, not made. What follows can be published as it is: why, what it did, what can stand in.",)
    )
    stops = matter.stops.get(version, ())
    yield from _as_settled(matter, version, "; ".join(str(finding) for finding in stops))
    use = matter.record.use
    if use is None:
        return
    yield from [Paragraph(text, "stop") for text in stops_in_words(stops)]
    for key in dict.fromkeys(finding.substance for finding in stops):
        yield _stand_ins(key, use)


def _stand_ins(key: str, use: Use) -> Block:
    name = thing(key).name
    if not thing(key).identified:
        return Paragraph(
            (f"To make it, say what {name} is and how you know: a decision on the question {quoted(f'name: {name}')}.",)
        )
    found = substitutes(key, use).found
    if not found:
        return Paragraph(
            (f"In place of {name} nothing is on file: not looked up, which does not mean there is nothing.",)
        )
    heads = ("substitute", "what it does", "how much for 1", "what is lost, and what else to mind")
    return Grid(f"What could stand in for {name}", heads, tuple(_stand_in(one) for one in found), "figures")


def _stand_in(one: StandIn) -> tuple[Text, ...]:
    row, why = one.row, one.reason
    ratio: Text = ("no ratio in the source",)
    if row.ratio is not None:
        spread = row.low is not None and row.high is not None and row.low < row.high
        low, high = ((end, figure(end)) if spread and end is not None else None for end in (row.low, row.high))
        ratio = (Figure(row.ratio, figure(row.ratio), why, low, high),)
    law = f"By law: {'; '.join(one.law)}" if one.law else ""
    mind = " ".join(_ended(words) for words in (row.lost, row.also_change, row.cautions, law) if words)
    return (
        (thing(row.substitute).name,),
        (*sentence(f"{row.did}: {row.because}", why), Cited(why)),
        (*ratio, f", by {row.basis}"),
        sentence(mind, why),
    )


def _ended(words: str) -> str:
    return words if words.endswith((".", "?", "!")) else f"{words}."


def _planned(matter: Matter, version: str) -> Iterator[Block]:
    batch = matter.planned(version)
    if batch is None:
        return
    plan = matter.plans.get(version)
    yield Paragraph(tuple(plan_in_words(batch, plan)))
    grams = joined(((*row[0], " ", *_with_unit(row[2])) for row in plan_rows(batch, plan)), "; ")
    yield Paragraph((Strong("As planned and kept"), ": ", *grams, ". The bench sheet is a page of its own."))


def _with_unit(amount: Text) -> Text:
    return tuple(replace(run, unit="g") if isinstance(run, Figure) else run for run in amount)


def plan_in_words(batch: Batch, plan: Plan | None) -> Iterator[Run]:
    """Give what a batch is planned for, in words and figures.

    Parameters
    ----------
    batch : Batch
        A batch with its plan as kept.
    plan : Plan, optional
        The plan as the tables give it now.

    Yields
    ------
    Run
        Words and figures: balance, least weighable quantity, container.

    Examples
    --------
    >>> list(plan_in_words(Batch(), None))
    []
    """
    why = kept("as planned")
    if batch.plan.balance:
        yield "On a balance that reads "
        yield from sentence(batch.plan.balance, why)
        if plan:
            yield "; it weighs "
            yield plain(plan.least_weighable_g, "g", TOLERANCE_REASON)
            yield " and more within "
            yield plain(5.0, "%", TOLERANCE_REASON)
        yield ". "
    if batch.plan.container:
        yield "Into a container of "
        yield from sentence(batch.plan.container, why)
        if plan and plan.container:
            yield ": the batch takes "
            yield from_value(plan.container.fills, "mL")
            yield f"; it {plan.container.says}"
        yield "."


def plan_rows(batch: Batch, plan: Plan | None) -> Iterator[tuple[Text, ...]]:
    """Give the lines of a plan as kept, with the phase where the line is still there.

    Parameters
    ----------
    batch : Batch
        A batch with its plan as kept.
    plan : Plan, optional
        The plan as the tables give it now.

    Yields
    ------
    tuple
        Line, phase, grams.

    Examples
    --------
    >>> from reconlab.record import Plan as Kept
    >>> [row[2][0].words for row in plan_rows(Batch(plan=Kept(lines={"starch": "37.50"})), None)]
    ['37.50']
    """
    for line, words in batch.plan.lines.items():
        now = planned_line(plan, line)
        why = kept(f"as planned for line {line}: {words}")
        if now:
            why = Reason(
                why.says, why.sources, (Reason("rounded to what the balance shows", (), (printed(now.value.reason),)),)
            )
        grams = grams_kept(batch).get(line)
        shown: Text = (Figure(grams, words.removesuffix("g").strip(), why),) if grams is not None else (words,)
        name = f"{now.name} (line {line})" if now and now.item == line else line
        yield (name,), (now.phase if now else "not in the formula now",), shown


def planned_line(plan: Plan | None, line: str) -> PlannedLine | None:
    """Return the line of a plan that a kept line means, by its number or its name.

    Parameters
    ----------
    plan : Plan, optional
        The plan as the tables give it now.
    line : str
        Number or name.

    Returns
    -------
    PlannedLine or None
        None where the formula has no such line now.

    Examples
    --------
    >>> planned_line(None, "1") is None
    True
    """
    lines = plan.lines if plan else ()
    by_number = next((one for one in lines if one.item == line), None)
    return by_number or next((one for one in lines if folded(one.name) == folded(line)), None)


def made_and_seen(matter: Matter) -> Iterator[Block]:
    r"""Give the batches as made and what was seen of them.

    Parameters
    ----------
    matter : Matter
        The record and all that follows from it.

    Yields
    ------
    Block
        Nothing where nothing was made or seen.

    Examples
    --------
    >>> from reconlab.record import Reconstruction
    >>> from reconlab.writeup.matter import gathered
    >>> list(made_and_seen(gathered(Reconstruction(transcription="Starch, 3 oz.\nOrris root, 1 oz."))))
    []
    """
    for number, batch in enumerate(matter.record.batches, start=1):
        if batch.made_on or batch.weighed:
            day = f", made on {batch.made_on}" if batch.made_on else ""
            names = matter.line_names(batch.version)
            rows = tuple(_taken(batch, line, names.get(line, line), grams) for line, grams in batch.weighed.items())
            if rows:
                caption = f"Batch {number}, version {quoted(batch.version)}{day}"
                yield Grid(caption, ("line", "grams planned", "grams taken"), rows, "figures")
            else:
                yield Paragraph(
                    (f"Batch {number}, version {quoted(batch.version)}{day}; its weights were not written down.",)
                )
        if batch.notes:
            yield Paragraph((Strong(f"Batch {number}"), ": ", *sentence(batch.notes, kept(f"notes of batch {number}"))))
    seen = tuple(_observed(one) for one in matter.record.observations)
    if seen:
        yield Grid("What was seen", ("of", "when", "what"), seen)


def _taken(batch: Batch, line: str, name: str, grams: float) -> tuple[Text, ...]:
    planned = grams_kept(batch).get(line)
    why = kept(f"weighed at the bench, {batch.made_on or 'day not given'}")
    before: Text = (
        (Figure(planned, batch.plan.lines[line].removesuffix("g").strip(), kept("as planned")),)
        if planned is not None
        else ("not planned",)
    )
    return (name,), before, (Figure(grams, f"{grams:.10g}", why),)


def _observed(one: Observation) -> tuple[Text, ...]:
    why = kept(f"seen of {one.of}, {one.on or 'day not given'}")
    when = "; ".join(filter(None, (one.on, f"after {one.after}" if one.after else "")))
    return (one.of,), (when,), (*sentence(one.what, why), Cited(why))
