"""What is the next step? The call to copy: with the answer that holds now, and the others beside it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from reconlab.benchwork import bench
from reconlab.errors import InputError
from reconlab.formula import Formula
from reconlab.materia import thing
from reconlab.reasons import Spread
from reconlab.receipts import BOOK_KINDS, Use
from reconlab.record import CHANGED, LITERAL

if TYPE_CHECKING:
    from reconlab.workdesk._views import Views


@dataclass(frozen=True, slots=True)
class _Step:
    """A call to copy; three dots stand where only a person can fill it in. Some may be left for later."""

    call: str
    optional: bool = False


def next_step(work: Views) -> tuple[str, ...]:
    """Return the next step, as the call to copy; and the one after it, where the first may be left."""
    first, *others = _steps_left(work)
    then = next((step.call for step in others if not step.optional), "")
    return (f"Next: {first.call}", f"Or leave that open: {then}") if first.optional else (f"Next: {first.call}",)


def _steps_left(work: Views) -> Iterator[_Step]:
    if not work.has_receipt:
        if work.record.transcription.strip() and len(work.page.titles) > 1:
            yield _Step(f"work.choose({quoted(work.page.titles[0])})  # or another receipt of the page")
            return
        yield _Step(
            'work.read("""...""", source="...", years="...", place="...")  # such as years="1890", place="London"'
        )
        return
    source, use = work.record.source, work.record.use
    if not source.years or not source.place:
        known = {"years": source.years, "place": source.place, "book": source.kind}
        lacking = ", ".join(f'{field}="..."' for field, said in known.items() if not said)
        kinds = "" if source.kind else f"; book is one of {', '.join(BOOK_KINDS)}"
        yield _Step(f"work.setting({lacking})  # when and where it was printed{kinds}", optional=True)
    for name in work.unidentified:
        yield _Step(f'work.call({quoted(name)}, "...", because="...")  # its modern name, and how you know')
    if use is None:
        yield _Step('work.use(form="...", law="...")  # such as form="cold cream", law="EU"')
        return
    if not any(batch.refused != CHANGED for batch in work.record.batches):  # planned or refused: it may be written up
        yield from _steps_to_the_bench(work, work.versions[-1], use)
    yield _Step('work.write("out")')


def _steps_to_the_bench(work: Views, version: str, use: Use) -> Iterator[_Step]:
    for finding in work.screen(version).stops:
        yield _Step(_instead(work[version], version, finding.substance))
    for swing in work.literal.matters():
        yield _Step(_answered_so(work.literal, swing.question), optional=True)
    call = f'work.bench({quoted(version)}, make="50 g", balance="0.01 g")  # jar="60 mL" asks whether it goes in'
    try:
        bench(work[version], make="50 g", balance="0.01 g", use=use)
    except InputError as fault:
        call = f'work.write("out")  # no bench yet: {fault.found}'
    yield _Step(call)


def _instead(formula: Formula, version: str, substance: str) -> str:
    name = thing(substance).name
    out = name
    try:
        formula.find_line(name)
    except LookupError:  # in more lines than one, or inside a preparation
        items = [part.item for part in formula.parts if part.substance == substance]
        items += [item.item for item in formula.unweighed if substance in item.substances]
        out = (items or [name])[0]
    into = f'{quoted(out)}, {{"...": 1}}, name={quoted("safe" if version == LITERAL else version)}, because="..."'
    return f"work.substitutes({quoted(name)})  # then work.replace({into})"


def _answered_so(literal: Formula, question: str) -> str:
    asked = next(one for one in literal.ways.every_question if one.id == question)
    if isinstance(asked, Spread):
        answer, others = f"figure={asked.usual:.3g}", [f"another figure in {asked.unit}"]
    else:
        held, *others = (option.words for option in asked.options)
        answer = quoted(held)
    other = ", ".join(others)
    return f'work.settle({quoted(question)}, {answer}, because="...")  # or {other}; say how you know'


def quoted(words: str) -> str:
    """Return words as they are written in a call."""
    return json.dumps(words, ensure_ascii=False)
