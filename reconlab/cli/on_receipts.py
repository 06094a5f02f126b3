"""The verbs that work on a receipt or a record: read, reckon, screen, plan, compare, write, check."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from reconlab.cli._given import csv_rows, formula_and_use, keep_plan, page_and_receipts, use_asked
from reconlab.cli._shell import (
    json_option,
    language_option,
    law_option,
    on_option,
    setting_options,
    shell,
    strict_option,
    title_option,
)
from reconlab.errors import InputError, ReconlabError

if TYPE_CHECKING:
    from reconlab.receipts import Use
    from reconlab.record import Reconstruction


@shell.command()
@click.argument("source", type=click.Path(path_type=Path, allow_dash=True))
@setting_options
@title_option
@language_option
@json_option
@strict_option
def read(
    source: Path, asked: Mapping[str, str], title: str, languages: tuple[str, ...], *, as_json: bool, strict: bool
) -> None:
    """Read a receipt as printed, or every receipt of a page, line by line; a page may be a picture.

    Example: reconlab read violet.txt --year 1911 --place England
    """
    from reconlab.cli._shown import exit_where_strict, print_json, question_json, receipt_json
    from reconlab.receipts.as_read import not_sure

    page, receipts, questions = page_and_receipts(source, asked, languages, title)
    notes = [note for receipt in receipts for note in not_sure(receipt)]
    if as_json:
        result = {
            "receipts": [receipt_json(receipt, page, number) for number, receipt in enumerate(receipts)],
            "questions": [question_json(question) for question in questions],
        }
        print_json({"source": str(source), **asked}, result, notes, [])
    else:
        click.echo("\n\n".join(str(receipt) for receipt in receipts))
    exit_where_strict(strict=strict, notes=notes)


@shell.command()
@click.argument("source", type=click.Path(path_type=Path, allow_dash=True))
@setting_options
@title_option
@click.option(
    "--form", default="", help='Form it is made in, such as "cold cream": with it the receipt is screened too.'
)
@law_option
@on_option
@json_option
@strict_option
def reconstruct(
    source: Path,
    asked: Mapping[str, str],
    title: str,
    form: str,
    law: str,
    on: str,
    *,
    as_json: bool,
    strict: bool,
) -> None:
    """Turn a receipt, or a record (.yaml), into grams, questions and cautions.

    Example: reconlab reconstruct violet.txt --year 1911 --place England --form "violet powder" --law EU
    """
    from reconlab.cli._shown import exit_where_strict, finding_json, formula_json, print_json, unidentified, use_json
    from reconlab.screening import RESEARCH_AID, cautions, screen

    formula, recorded = formula_and_use(source, asked, title=title)
    use = use_asked(form, law, on, recorded) if form or law or recorded else None
    found = screen(formula, use) if use else None
    care = found.cautions if found else cautions(formula)
    notes = [*formula.notes, *(f"{k}: not identified" for k in unidentified(formula)), RESEARCH_AID]
    if as_json:
        result = formula_json(formula) | {
            "findings": [finding_json(f) for f in found.findings] if found else [],
            "cautions": [{"step": c.step, "words": c.words} for c in care],
        }
        reasons = [formula.reason(key) for key in formula.substances] + [
            f.reason for f in (found.findings if found else ())
        ]
        print_json({"source": str(source), **asked} | use_json(use), result, notes, reasons)
    else:
        click.echo(str(formula))
        click.echo(
            f"\n{found}" if found else "\n" + "\n".join(f"{c.step}: {c.words}" for c in care) + f"\n\n{RESEARCH_AID}"
        )
    exit_where_strict(strict=strict, notes=notes[:-1])


@shell.command()
@click.argument("source", type=click.Path(path_type=Path))
@click.option("--form", default="", help="Form it is made in; a record knows its own.")
@law_option
@on_option
@click.option("--version", "version", default="literal", help="Version of a record.")
@json_option
@strict_option
def screen(source: Path, form: str, law: str, on: str, version: str, *, as_json: bool, strict: bool) -> None:
    """Say what law and good sense find in a record, or in a CSV of ingredient, percent_w_w.

    Example: reconlab screen cream.csv --form "cold cream" --law EU --on 2026-11-01
    """
    from reconlab.cli._shown import exit_where_strict, finding_json, print_json, use_json
    from reconlab.screening import screen as screened
    from reconlab.translation import formula_of_shares

    recorded: Use | None = None
    if source.suffix.lower() == ".csv":
        rows = csv_rows(source, ("ingredient", "percent_w_w"))
        formula = formula_of_shares(source.stem, [(row["ingredient"], row["percent_w_w"]) for row in rows])
    else:
        formula, recorded = formula_and_use(source, {}, version)
    use = use_asked(form, law, on, recorded)
    found = screened(formula, use)
    if as_json:
        result = {"findings": [finding_json(f) for f in found.findings], "not_looked_up": list(found.not_looked_up)}
        print_json(
            {"source": str(source), "version": version} | use_json(use),
            result,
            [str(s) for s in found.stops],
            [f.reason for f in found.findings],
        )
    else:
        click.echo(str(found))
    exit_where_strict(strict=strict, notes=found.not_looked_up)


@shell.command()
@click.argument("record", type=click.Path(path_type=Path))
@click.option("--version", "version", default="literal", help="Version to make.")
@click.option("--make", required=True, help='How much, such as "50 g".')
@click.option("--balance", required=True, help='What the balance reads to, such as "0.01 g".')
@click.option("--jar", default="", help='What the container holds, such as "60 mL".')
@click.option("--keep", is_flag=True, help="Keep the plan in the record: the write-up then prints its bench sheet.")
@click.option("--form", default="", help="Form it is made in; a record knows its own.")
@law_option
@on_option
@json_option
def bench(
    record: Path,
    version: str,
    make: str,
    balance: str,
    jar: str,
    form: str,
    law: str,
    on: str,
    *,
    keep: bool,
    as_json: bool,
) -> None:
    """Plan a small batch for the bench, or say why it is not to be made.

    Example: reconlab bench parade-white.yaml --version "zinc for lead" --make "50 g" --balance "0.01 g"
    """
    from reconlab.benchwork import bench as planned
    from reconlab.cli._shown import plan_json, print_json, use_json

    if record.suffix.lower() not in (".yaml", ".yml"):
        raise InputError(
            "the bench works from a record",
            str(record),
            "Copy blank-record.yaml, put the receipt in, and name that file.",
        )
    formula, recorded = formula_and_use(record, {}, version)
    use = use_asked(form, law, on, recorded)
    plan = planned(formula, make=make, balance=balance, jar=jar, use=use)
    if keep:
        keep_plan(record, plan)
    if not as_json:
        click.echo(f"{plan}\n\nkept in {record}" if keep else str(plan))
        return
    reasons = [line.value.reason for line in plan.lines] + [f.reason for f in plan.refused]
    asked = {"record": str(record), "version": version, "make": make, "balance": balance, "jar": jar} | use_json(use)
    print_json(asked, plan_json(plan), [], reasons)


@shell.command()
@click.argument("record", type=click.Path(path_type=Path))
@click.argument("versions", nargs=-1, required=True)
@json_option
def compare(record: Path, versions: tuple[str, ...], *, as_json: bool) -> None:
    """Set versions of one record side by side.

    Example: reconlab compare parade-white.yaml literal "zinc for lead"
    """
    from reconlab.cli._shown import comparison_json, print_json
    from reconlab.comparison import compare as compared

    formulas = [formula_and_use(record, {}, version) for version in versions]
    found = compared(*(formula for formula, _ in formulas), use=formulas[0][1])
    if not as_json:
        click.echo(str(found))
        return
    reasons = [s.reason for d in found.differences for s in d.shares if s]
    print_json({"record": str(record), "versions": list(versions)}, comparison_json(found, versions), [], reasons)


@shell.command()
@click.argument("record", type=click.Path(path_type=Path))
@click.option(
    "--to", "folder", type=click.Path(path_type=Path), required=True, help="Folder the pages are written into."
)
@json_option
def write(record: Path, folder: Path, *, as_json: bool) -> None:
    """Write the article (HTML and Markdown) and the bench sheets of a record.

    Example: reconlab write parade-white.yaml --to out
    """
    from reconlab.cli._shown import print_json
    from reconlab.record import open_record
    from reconlab.writeup import write as written

    paths = written(open_record(record), folder)
    if as_json:
        print_json({"record": str(record), "to": str(folder)}, {"written": [str(path) for path in paths]}, [], [])
    else:
        click.echo("\n".join(f"wrote {path}" for path in paths))


def _faults_of_versions(record: Reconstruction) -> Sequence[str]:
    """Say what keeps a version from being worked out."""
    from reconlab.record import formula_of

    faults = []
    for version in record.versions:
        try:
            formula_of(record, version.name)
        except ReconlabError as fault:
            faults.append(str(fault))
    return faults


@shell.command()
@click.argument("records", nargs=-1, required=True, type=click.Path(path_type=Path))
@json_option
def check(records: tuple[Path, ...], *, as_json: bool) -> None:
    """Check records: format, reading, names, and decisions that no longer fit.

    Example: reconlab check parade-white.yaml pier-water.yaml
    """
    from reconlab.cli._shown import how_to_name, print_json, unidentified
    from reconlab.record import formula_of, open_record, orphans, stale

    results, notes = [], []
    for path in records:
        record = open_record(path)
        formula = formula_of(record)
        said = [*formula.notes, *(f"{key}: not identified; {how_to_name(key)}" for key in unidentified(formula))]
        lost = orphans(record)
        said += [f"decision on {d.question!r} fits no question; it is kept" for d in lost]
        if lost:
            asked = [question.id for question in formula.ways.every_question]
            said.append(f"the questions are: {'; '.join(asked)}")
        said += [str(changed) for changed in stale(formula.ways.every_question)]
        said += _faults_of_versions(record)
        results.append({"record": str(path), "title": record.title, "notes": said})
        notes += [f"{path}: {words}" for words in said]
    if as_json:
        print_json({"records": [str(path) for path in records]}, {"records": results}, notes, [])
    else:
        click.echo("\n".join(notes) or f"{len(records)} checked, nothing to say")
