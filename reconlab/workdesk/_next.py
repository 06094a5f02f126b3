"""What is the next step? The call to copy: with the answer that holds now, and the others beside it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import TYPE_CHECKING

from reconlab.formula import Formula
from reconlab.materia import thing
from reconlab.reasons import Spread
from reconlab.record import LITERAL

if TYPE_CHECKING:
    from reconlab.workdesk import Desk


def next_step(work: Desk) -> str:
    """Return the next step, as the call to copy."""
    return f"Next: {next(_steps_left(work))}"


def _steps_left(work: Desk) -> Iterator[str]:
    if not work.record.transcription.strip():
        yield 'work.read("""the receipt as printed""", source="the book", years="1890", place="London")'
    source, use = work.record.source, work.record.use
    if not source.years or not source.place:
        said = {
            "years": (source.years, "1890"),
            "place": (source.place, "London"),
            "book": (source.kind, "household"),
        }
        lacking = ", ".join(f'{field}="{such}"' for field, (known, such) in said.items() if not known)
        yield f"work.setting({lacking})"
    for name in work.unidentified:
        yield f'work.call({quoted(name)}, "its modern name", because="how you know")'
    if use is None:
        yield 'work.use(form="cold cream", law="EU")'
    if not work.record.batches:  # what was planned or refused once may be written up
        version = work.versions[-1]
        for finding in work.screen(version).stops:
            yield _instead(work[version], version, finding.substance)
        for swing in work.literal.matters():
            yield _answered_so(work.literal, swing.question)
        yield f'work.bench({quoted(version)}, make="50 g", balance="0.01 g", jar="60 mL")'
    yield 'work.write("out")'


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
    return f'work.settle({quoted(question)}, {answer}, because="how you know")  # or {other}; or leave it open'


def quoted(words: str) -> str:
    """Return words as they are written in a call."""
    return json.dumps(words, ensure_ascii=False)
