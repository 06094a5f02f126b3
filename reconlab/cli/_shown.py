"""What comes out at the shell: the JSON of every verb, and cards for people."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from reconlab import __version__
from reconlab.liquids import LiquidAnswer, LiquidMeaning
from reconlab.materia import alarms, found_by, identify, thing
from reconlab.reasons import RANGE_MATTERS, figure
from reconlab.receipts.as_read import amount_as_read
from reconlab.reducing import Reducing
from reconlab.sources import formatted
from reconlab.spirit import content_of
from reconlab.tables import Substance

if TYPE_CHECKING:
    import pandas as pd

    from reconlab.benchwork import Plan
    from reconlab.comparison import Comparison
    from reconlab.formula import Formula
    from reconlab.materia import Thing
    from reconlab.measures import Answer
    from reconlab.reading.image import PicturedPage
    from reconlab.reasons import Citation, Question, Reason, Value
    from reconlab.receipts import Item, Line, Receipt, Setting, Use
    from reconlab.reducing import Meaning, Reduction, StrengthAnswer
    from reconlab.screening import Finding
    from reconlab.substitution import StandIn

FORMAT = 1
EXIT_PARTIAL = 1


def print_json(asked: Mapping[str, object], result: object, notes: Sequence[str], reasons: Sequence[Reason]) -> None:
    """Print a result as the JSON document every verb gives."""
    cited: dict[str, Citation] = {str(c): c for reason in reasons for c in reason.all_sources()}
    citations = {key: {"text": formatted(c), "from_memory": c.key == "from_memory"} for key, c in cited.items()}
    document = {
        "reconlab": __version__,
        "format": FORMAT,
        "asked": asked,
        "result": result,
        "notes": list(notes),
        "citations": citations,
    }
    click.echo(json.dumps(document, ensure_ascii=False, indent=1))


def exit_where_strict(*, strict: bool, notes: Sequence[str]) -> None:
    """Leave with 1 where the person asked for that and something was not read."""
    if strict and notes:
        raise SystemExit(EXIT_PARTIAL)


def number_json(
    value: float | None, unit: str, low: float | None = None, high: float | None = None
) -> dict[str, object] | None:
    """Give a number as a figure with its limits, which are itself where it has none, and its unit."""
    if value is None:
        return None
    return {"value": value, "low": value if low is None else low, "high": value if high is None else high, "unit": unit}


def value_json(value: Value) -> dict[str, object]:
    """Give a figure with its range and unit."""
    return {
        "value": value.number,
        "low": value.low,
        "high": value.high,
        "unit": value.unit.replace("% w/w", "percent_w_w"),
    }


def strength_json(
    answer: StrengthAnswer | LiquidAnswer | Reducing, notes: list[str]
) -> tuple[dict[str, object], list[str], list[Reason]]:
    """Give a strength, or how it is reduced, with the notes and what is cited."""
    if isinstance(answer, Reducing):
        return {"ways": [_reduction_json(way) for way in answer.ways]}, notes, [way.reason for way in answer.ways]
    if isinstance(answer, LiquidAnswer):
        liquids = [_liquid_json(meaning) for meaning in answer.meanings]
        return {"of": answer.of, "meanings": liquids}, notes, [meaning.reason for meaning in answer.meanings]
    meanings = [_meaning_json(meaning) for meaning in answer.meanings]
    return {"meanings": meanings}, notes, [meaning.value.reason for meaning in answer.meanings]


def _liquid_json(meaning: LiquidMeaning) -> dict[str, object]:
    return {
        "read_as": meaning.label,
        "standing": meaning.standing,
        "by_weight": value_json(meaning.value) if meaning.value else None,
        "density": number_json(meaning.density, "g_per_mL"),
        "specific_gravity": number_json(meaning.gravity, "1"),
    }


def _meaning_json(meaning: Meaning) -> dict[str, object]:
    return {
        "read_as": meaning.label,
        "standing": meaning.standing,
        "by_weight": value_json(meaning.value),
        "by_volume": number_json(meaning.percent_v_v, "percent_v_v"),
        "density": number_json(meaning.density, "g_per_mL"),
        "specific_gravity": number_json(meaning.gravity, "1"),
        "scales": dict(meaning.on_scales()),
    }


def _reduction_json(way: Reduction) -> dict[str, object]:
    volumes = {"spirit": way.spirit_ml, "added": way.added_ml, "makes": way.made_ml, "lost": way.lost_ml}
    return {
        "standing": way.standing,
        "from": _meaning_json(way.strong),
        "to": _meaning_json(way.weak),
        "measure": way.measure,
        **{name: number_json(millilitres, "mL") for name, millilitres in volumes.items()},
        "by": way.by,
        "added_mass": number_json(way.added_g, "g"),
    }


def answer_json(answer: Answer) -> dict[str, object]:
    """Give what a quantity comes to under one reading."""
    return {
        "mass": number_json(answer.mass_g, "g", answer.mass_low_g, answer.mass_high_g),
        "volume": number_json(answer.volume_ml, "mL", answer.volume_low_ml, answer.volume_high_ml),
        "custom": answer.custom,
        "because": str(answer.reason).splitlines(),
        "sources": [str(c) for c in answer.reason.all_sources()],
    }


def table_text(frame: pd.DataFrame) -> str:
    """Give a frame as CSV; what a spreadsheet would take for a formula is made text."""
    safe = frame.map(lambda cell: f"'{cell}" if isinstance(cell, str) and cell.startswith(("=", "+", "@")) else cell)
    return safe.to_csv(index=False, lineterminator="\n")


def amount_words(answer: Answer) -> str:
    """Say what a quantity comes to under one reading."""
    mass = _ranged(answer.mass_g, answer.mass_low_g, answer.mass_high_g, "g")
    volume = _ranged(answer.volume_ml, answer.volume_low_ml, answer.volume_high_ml, "mL")
    amounts = filter(None, (mass, volume))
    return f"{' = '.join(amounts)} ({answer.measure}; weights and measures: {answer.custom})"


def _ranged(number: float | None, low: float | None, high: float | None, unit: str) -> str:
    if number is None:
        return ""
    matters = low is not None and high is not None and high - low > RANGE_MATTERS * number
    return f"{figure(number)} {unit}" + (f" ({figure(low)} to {figure(high)})" if low and high and matters else "")


def receipt_json(receipt: Receipt, page: PicturedPage | None, number: int) -> dict[str, object]:
    """Give a receipt as read; of a picture each line with the boxes it stands in."""
    lines = [line_json(line) for line in receipt.lines]
    if page is not None:
        for line in lines:
            boxes = page.boxes_of(number, str(line["id"]))
            line["boxes"] = [[box.left, box.top, box.right, box.bottom] for box in boxes]
    doubts = [doubt_json(line, item) for line in receipt.lines for item in line.items if item.readings]
    return {"title": receipt.title, "questions": doubts, "lines": lines}


def doubt_json(line: Line, item: Item) -> dict[str, object]:
    """Give a figure that may be read otherwise, with the answers there are."""
    return {
        "question": f"reading: {amount_as_read(item)} {item.name}".rstrip(),
        "line": line.id,
        "answers": [
            {"answer": amount_as_read(item), "because": "as it stands, or the likeliest mending"},
            *(
                {"answer": amount_as_read(other.item), "standing": other.standing, "because": other.because}
                for other in item.readings
            ),
        ],
    }


def question_json(question: Question) -> dict[str, object]:
    """Give a question of the page itself, such as whether it holds one receipt or two."""
    return {
        "question": question.id,
        "asks": question.asks,
        "answers": [
            {"answer": option.key, "standing": option.standing, "because": option.reason.because}
            for option in question.options
        ],
    }


def line_json(line: Line) -> dict[str, object]:
    """Give a line as read."""
    return {
        "id": line.id,
        "text": line.text,
        "kind": line.kind,
        "unread": [list(s) for s in line.unread],
        "items": [item_json(i) for i in line.items],
    }


def item_json(item: Item) -> dict[str, object]:
    """Give an item as read."""
    return {
        "id": item.id,
        "name": item.name,
        "preparation": item.preparation,
        "strength": item.strength,
        "purpose": item.purpose,
        "each": item.each,
        "certain": item.certain,
        "relative_to": item.relative_to,
        "quantities": [
            {
                "column": q.column,
                "parts": [
                    {
                        "amount": {
                            "value": p.amount.value,
                            "low": p.amount.low,
                            "high": p.amount.high,
                            "printed": p.amount.printed,
                        },
                        "unit": p.unit,
                    }
                    for p in q.parts
                ],
            }
            for q in item.quantities
        ],
        "spans": {kind: [list(span) for span in spans] for kind, spans in item.spans.items()},
        "readings": [item_json(r.item) | {"standing": r.standing, "because": r.because} for r in item.readings],
    }


def _kind(what: Thing) -> str:
    if isinstance(what.row, Substance):
        return "substance"
    return (
        "not identified"
        if not what.on_file
        else "preparation"
        if what.formula_known
        else "preparation without a formula"
    )


def identified_json(name: str, setting: Setting) -> tuple[dict[str, Any], tuple[Reason, ...]]:

    question = identify(name, setting)
    options = question.options if question else ()
    candidates = []
    for option in options:
        what = thing(option.key)
        row = what.row if isinstance(what.row, Substance) else None
        candidates.append(
            {
                "substance": option.key,
                "kind": _kind(what),
                "name": what.name,
                "inci": row.inci if row else "",
                "cas": list(row.cas) if row else [],
                "standing": option.standing,
                "found_by": found_by(name),
                "part_of_plant": None,
                "strength": value_json(content) if (content := content_of(option.key)) else None,
                "because": option.reason.says,
                "sources": [str(c) for c in option.reason.sources],
            }
        )
    poisons = [
        f"may be {thing(o.key).name}, which is never handled ({thing(o.key).never_handled})"
        for o in options
        if thing(o.key).never_handled
    ]
    poisons += [
        f"may be {alarm.words}, behind which a poison may stand"
        for o in options
        if not thing(o.key).on_file
        for alarm in alarms(thing(o.key).name)
    ]
    decides = list(question.decides) if question else []
    return {"candidates": candidates, "settles_by": decides, "cautions": poisons}, tuple(o.reason for o in options)


def finding_json(finding: Finding) -> dict[str, object]:
    """Give a finding."""
    return {
        "substance": finding.substance,
        "rule": finding.rule,
        "here": finding.here,
        "law": finding.law,
        "gate": finding.gate or None,
        "found": value_json(finding.found) if finding.found else None,
        "limit": number_json(finding.limit, "percent_w_w"),
        "reckoned_as": finding.reckoned_as,
        "entry": finding.entry,
        "law_read_as_of": finding.law_read_as_of,
        "conditions": list(finding.conditions),
        "warnings": list(finding.warnings),
        "if_it_is": finding.if_it_is or None,
        "because": str(finding.reason).splitlines(),
        "sources": [str(c) for c in finding.reason.all_sources()],
    }


def formula_json(formula: Formula) -> dict[str, Any]:
    """Give a formula: masses, shares and questions."""
    weighed = {part.substance for part in formula.parts}
    return {
        "title": formula.title,
        "version": formula.name,
        "substances": [
            {
                "substance": key,
                "name": thing(key).name,
                "certain": key in formula.as_chosen(),
                "mass": value_json(formula.mass(key)),
                "share": value_json(formula.share(key)),
            }
            for key in formula.substances
            if key in weighed
        ],
        "unweighed": [
            {"item": u.item, "name": u.name, "substances": list(u.substances), "why": u.why} for u in formula.unweighed
        ],
        "questions": [
            {
                "question": s.question,
                "asks": s.asks,
                "answer": s.answer,
                "substance": s.substance,
                "before": number_json(s.before, "percent_w_w"),
                "after": number_json(s.after, "percent_w_w"),
            }
            for s in formula.matters()
        ],
        "open": [{"question": q.id, "asks": q.asks} for q in formula.open_questions()],
    }


def stand_in_json(stand_in: StandIn) -> dict[str, object]:
    """Give a substitute."""
    row = stand_in.row
    known = any(number is not None for number in (row.low, row.ratio, row.high))
    return {
        "substitute": row.substitute,
        "name": thing(row.substitute).name,
        "did": row.did,
        "basis": row.basis,
        "ratio": {"value": row.ratio, "low": row.low, "high": row.high, "unit": "1"} if known else None,
        "because": row.because,
        "lost": row.lost,
        "also_change": row.also_change,
        "cautions": row.cautions,
        "law": list(stand_in.law),
        "sources": [str(c) for c in stand_in.reason.sources],
    }


def plan_json(plan: Plan) -> dict[str, object]:
    """Give a bench sheet, or a refusal."""
    jar = plan.container
    return {
        "refused": [finding_json(f) for f in plan.refused],
        "instead": list(plan.instead),
        "lines": [
            {
                "item": line.item,
                "name": line.name,
                "phase": line.phase,
                "planned": value_json(line.value),
                "rounded": number_json(line.rounded_g, "g"),
                "weighable": line.weighable,
                "advice": line.advice,
            }
            for line in plan.lines
        ],
        "unweighed": list(plan.unweighed),
        "law": list(plan.law),
        "doubts": list(plan.doubts),
        "container": jar
        and {"holds": number_json(jar.holds_ml, "mL"), "fills": value_json(jar.fills), "says": jar.says},
        "cautions": [{"step": c.step, "words": c.words} for c in plan.cautions],
    }


def comparison_json(found: Comparison, versions: Sequence[str]) -> dict[str, object]:
    """Give versions side by side."""
    return {
        "versions": list(versions),
        "substances": [
            {
                "substance": d.substance,
                "name": thing(d.substance).name,
                "certain": any(d.substance in version.as_chosen() for version in found.versions),
                "shares": [value_json(s) if s else None for s in d.shares],
            }
            for d in found.differences
        ],
        "changes": [
            {
                "version": version,
                "out": c.out,
                "in": {name: number_json(ratio, "1") for name, ratio in c.into.items()},
                "basis": c.basis,
                "kind": c.kind,
                "because": c.because,
                "expected": c.expected,
            }
            for version, c in found.changes
        ],
        "stops": dict(zip(versions, (list(s) for s in found.stopped), strict=True)),
    }


def use_json(use: Use | None) -> dict[str, str]:
    """Give the use asked about."""
    return {"form": use.form, "law": use.law, "on": use.on} if use else {"form": "", "law": "", "on": ""}


def how_to_name(name: str) -> str:
    """Say how a person names a thing the tables do not know."""
    from reconlab.materia import folded

    return f'say what it is in a record: a decision with question "name: {folded(name)}", option and because'


def unidentified(formula: Formula) -> list[str]:
    """Return the names nobody has said what they are."""
    return [thing(key).name for key in formula.substances if not thing(key).identified]
