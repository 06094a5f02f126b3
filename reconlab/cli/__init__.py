"""The same from the shell: each verb is one function of the library, in text or as JSON.

Verbs import what they need when they run, so that the shell answers at once.
"""

from __future__ import annotations

import io
import json
import os
import sys
from collections.abc import Callable, Mapping, Sequence
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from reconlab import __version__
from reconlab.cli._given import SETTING, csv_rows, formula_and_use, in_setting, keep_plan, page_text, use_asked
from reconlab.errors import InputError, ReconlabError

if TYPE_CHECKING:
    from reconlab.receipts import Use
    from reconlab.record import Reconstruction
    from reconlab.reducing import Reducing, StrengthAnswer

EXIT_ERROR = 2
_NOTHING_CHOSEN = "nothing chosen: no source prefers an answer; year, place and kind of book may decide"


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="reconlab")
@click.option(
    "--overlay", type=click.Path(path_type=Path), help="Folder of your own tables, laid over the shipped ones."
)
def shell(overlay: Path | None) -> None:
    """Bring old toilet, cosmetic and pharmacy-counter formulas back to life.

    A research aid, not a safety assessment: local rules and licensed practice come first.
    """
    if overlay is not None:
        from reconlab.tables import use_overlay

        use_overlay(overlay)


def main() -> None:
    """Run a verb; every error ends in one message, or one JSON object, and exit code 2.

    Examples
    --------
    >>> from contextlib import suppress
    >>> from unittest.mock import patch
    >>> with suppress(SystemExit), patch("sys.argv", ["reconlab", "--version"]):
    ...     main()
    reconlab, version 0.1.0
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a terminal without the drachm sign shows a question mark
    try:
        sys.exit(shell.main(prog_name="reconlab", standalone_mode=False) or 0)
    except ReconlabError as fault:
        _say(fault)
    except click.exceptions.NoArgsIsHelpError as fault:
        click.echo(fault.format_message())
    except click.ClickException as fault:
        _say(ReconlabError(fault.format_message().rstrip("."), "", "See reconlab --help."))
    except BrokenPipeError:  # whoever reads the output has gone: let nothing more be said about it
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (KeyboardInterrupt, click.Abort):
        pass
    sys.exit(EXIT_ERROR)


def _say(fault: ReconlabError) -> None:
    if "--json" in sys.argv:
        error = {"found": fault.found, "where": fault.where, "remedy": fault.remedy}
        click.echo(json.dumps({"error": error}, ensure_ascii=False))
    else:
        click.echo(f"reconlab: {fault}", err=True)


def _setting(command: Callable[..., None]) -> Callable[..., None]:
    """Add the options that say when, where and in what kind of book, given to the verb as one; none has a default."""

    @wraps(command)
    def collected(**given: Any) -> None:  # noqa: ANN401 - what click gives
        command(asked={name: given.pop(name) for name in SETTING}, **given)

    for name, words in SETTING.items():
        collected = click.option(f"--{name.replace('_', '-')}", default="", help=words)(collected)
    return collected


def _json(command: Callable[..., None]) -> Callable[..., None]:
    return click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")(command)


_strict = click.option("--strict", is_flag=True, help="Exit with 1 where anything is left unknown.")
_law = click.option("--law", default="", help="Law to ask about: EU, GB, US or CA.")
_on = click.option("--on", default="", help="Day the law is asked for, such as 2026-11-01; today where left out.")
_form = click.option("--form", required=True, help='Form it is made in, such as "cold cream" or "loose face powder".')


def _file(path: Path | None) -> dict[str, str]:
    return {"file": str(path)} if path else {}


# One verb each.


@shell.command(context_settings={"ignore_unknown_options": True})  # a minus sign is an amount, not an option
@click.argument("text", required=False)
@click.option(
    "--file", "path", type=click.Path(path_type=Path), help="CSV with a column `text` (and year, place, book, of)."
)
@click.option("--csv", "table", type=click.Path(path_type=Path), help="The same, however long; prints a CSV table.")
@_setting
@click.option("--of", "of", default="", help="The substance: tells solid from liquid.")
@_json
@_strict
def convert(
    text: str | None,
    path: Path | None,
    table: Path | None,
    asked: Mapping[str, str],
    of: str,
    *,
    as_json: bool,
    strict: bool,
) -> None:
    """Say what a printed quantity weighed or held, there and then.

    Example: reconlab convert "ʒiij" --year 1890 --place England
    """
    from reconlab.cli._shown import amount_words, answer_json, exit_where_strict, number_json, print_json, table_text
    from reconlab.measures import convert as converted
    from reconlab.measures import convert_table

    given = {**asked, "of": of}
    if table is not None:
        csv_rows(table, ("text",))
        if as_json:
            raise InputError("--csv prints a table", "--json", "Use --file for JSON.")
        filled = convert_table(table, of=of, **in_setting(asked))
        click.echo(table_text(filled), nl=False)
        exit_where_strict(strict=strict, notes=[fault for fault in filled.fault if fault])
        return
    if path is not None:
        rows = csv_rows(path, ("text",))
        each = [given | {key: row[key] for key in given if row.get(key)} for row in rows]
        found = [converted(row["text"], of=a["of"], **in_setting(a)) for row, a in zip(rows, each, strict=True)]
    elif text is not None:
        found = [converted(text, of=of, **in_setting(asked))]
    else:
        raise InputError("nothing to convert", "convert", 'Give an amount, such as "1½ oz.", or a file with --file.')
    results = [
        {
            "chosen": answer_json(c.chosen) if c.chosen else None,
            "others": [answer_json(other) | {"standing": other.standing} for other in c.others],
            "density_used": number_json(c.density_used, "g_per_mL"),
        }
        for c in found
    ]
    cited = [answer.reason for c in found for answer in (c.chosen, *c.others) if answer]
    notes = [f"{c.text}: {_NOTHING_CHOSEN}" for c in found if c.chosen is None]
    notes += [f"{c.text}: {note}" for c in found for note in c.notes]
    if as_json:
        print_json({"text": text, **_file(path), **given}, results if path else results[0], notes, cited)
        found = []
    for c in found:
        click.echo(f"{c.text}: {amount_words(c.chosen)}" if c.chosen else f"{c.text}: {_NOTHING_CHOSEN}")
        for other in c.others:
            click.echo(f"  {other.standing}: {amount_words(other)}")
        if c.chosen and not path:
            click.echo(str(c.chosen.reason))
        for note in c.notes:
            click.echo(f"  {note}")
    exit_where_strict(strict=strict, notes=notes)


@shell.command()
@click.argument("text")
@click.option("--to", default="", help='Strength to reduce it to with water, such as "proof".')
@click.option("--by", default="water", help="What is added: water, or the strength of a weaker spirit.")
@click.option("--amount", default="", help='How much of the spirit to reduce, such as "1 gallon".')
@_setting
@_json
@_strict
def strength(
    text: str, to: str, by: str, amount: str, asked: Mapping[str, str], *, as_json: bool, strict: bool
) -> None:
    """Say how strong a spirit was, on every scale, or how much water lets it down.

    Example: reconlab strength "60 o.p." --to proof --amount "1 gallon" --year 1880 --place England
    """
    from reconlab.cli._shown import exit_where_strict, print_json, strength_json
    from reconlab.reducing import dilute
    from reconlab.reducing import strength as strong

    if amount and not to:
        raise InputError("an amount, and no strength to reduce it to", "--to", 'Add one, such as --to "proof".')
    years, place, book = (in_setting(asked)[name] for name in ("years", "place", "book"))
    answer: StrengthAnswer | Reducing = strong(text, years=years, place=place, book=book)
    if to:
        answer = dilute(text, to, amount, by=by, years=years, place=place, book=book)
    notes = [] if answer.chosen else [f"{text}: {_NOTHING_CHOSEN}"]
    if as_json:
        print_json({"text": text, "to": to, "by": by, "amount": amount, **asked}, *strength_json(answer, notes))
    else:
        click.echo(str(answer))
    exit_where_strict(strict=strict, notes=notes)


@shell.command()
@click.argument("source", type=click.Path(path_type=Path, allow_dash=True))
@_setting
@_json
@_strict
def read(source: Path, asked: Mapping[str, str], *, as_json: bool, strict: bool) -> None:
    """Read a receipt as printed, line by line.

    Example: reconlab read violet.txt --year 1911 --place England
    """
    from reconlab.cli._shown import exit_where_strict, line_json, print_json, reading_card, reading_notes
    from reconlab.reading import read as read_page

    receipt = read_page(page_text(source), **in_setting(asked))
    notes = reading_notes(receipt)
    if as_json:
        result = {
            "receipts": [
                {"title": receipt.title, "questions": [], "lines": [line_json(line) for line in receipt.lines]}
            ]
        }
        print_json({"source": str(source), **asked}, result, notes, [])
    else:
        click.echo(str(reading_card(receipt, notes)))
    exit_where_strict(strict=strict, notes=notes)


@shell.command()
@click.argument("name", required=False)
@click.option("--file", "path", type=click.Path(path_type=Path), help="CSV with columns name, year, place.")
@_setting
@_json
@_strict
def identify(name: str | None, path: Path | None, asked: Mapping[str, str], *, as_json: bool, strict: bool) -> None:
    """Say what a period name may have meant.

    Example: reconlab identify "flake white" --year 1911 --place England
    """
    from reconlab.cli._shown import exit_where_strict, identified_json, print_json
    from reconlab.receipts import Setting

    if path is not None:
        rows = csv_rows(path, ("name",))
        each = [{key: row.get(key) or words for key, words in asked.items()} for row in rows]
        results, reasons = zip(
            *(identified_json(r["name"], Setting(**in_setting(a))) for r, a in zip(rows, each, strict=True)),
            strict=True,
        )
        reasons = tuple(reason for each in reasons for reason in each)
        names: Sequence[str] = [row["name"] for row in rows]
    elif name is not None:
        only, reasons = identified_json(name, Setting(**in_setting(asked)))
        results, names = (only,), [name]
    else:
        raise InputError("no name given", "identify", "Give the name as printed, or a file with --file.")
    notes = [f"{n}: not identified" for n, found in zip(names, results, strict=True) if not found["candidates"]]
    if as_json:
        result = results[0] if path is None else list(results)
        print_json({"name": name, **_file(path), **asked}, result, notes, reasons)
        names = results = ()
    for n, found in zip(names, results, strict=True):
        click.echo(f"{n}:" + (" not identified" if not found["candidates"] else ""))
        for candidate in found["candidates"]:
            inci = candidate["inci"] or "no INCI name on file"
            click.echo(f"  {candidate['standing']}: {candidate['name']} ({inci}); {candidate['because']}")
        for words in (*found["settles_by"], *found["cautions"]):
            click.echo(f"  {words}")
    exit_where_strict(strict=strict, notes=notes)


@shell.command()
@click.argument("source", type=click.Path(path_type=Path, allow_dash=True))
@_setting
@click.option(
    "--form", default="", help='Form it is made in, such as "cold cream": with it the receipt is screened too.'
)
@_law
@_on
@_json
@_strict
def reconstruct(
    source: Path, asked: Mapping[str, str], form: str, law: str, on: str, *, as_json: bool, strict: bool
) -> None:
    """Turn a receipt, or a record (.yaml), into grams, questions and cautions.

    Example: reconlab reconstruct violet.txt --year 1911 --place England --form "violet powder" --law EU
    """
    from reconlab.cli._shown import exit_where_strict, finding_json, formula_json, print_json, unidentified, use_json
    from reconlab.screening import RESEARCH_AID, cautions, screen

    formula, recorded = formula_and_use(source, asked)
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
@_law
@_on
@click.option("--version", "version", default="literal", help="Version of a record.")
@_json
@_strict
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
@click.argument("substance")
@click.option("--form", default="", help="Form it is made in.")
@_law
@_on
@_json
def substitutes(substance: str, form: str, law: str, on: str, *, as_json: bool) -> None:
    """List documented substitutes for a substance, by what it did.

    Example: reconlab substitutes spermaceti --form "cold cream" --law EU
    """
    from reconlab.cli._shown import print_json, stand_in_json
    from reconlab.substitution import substitutes as found_for

    found = found_for(substance, use_asked(form, law, on, None) if form or law else None)
    if not as_json:
        click.echo(str(found))
        return
    listed = [stand_in_json(s) for s in found.found]
    notes = [] if listed else ["no documented substitute on file"]
    print_json(
        {"substance": substance, "form": form, "law": law},
        {"substitutes": listed},
        notes,
        [s.reason for s in found.found],
    )


@shell.command()
@click.argument("record", type=click.Path(path_type=Path))
@click.option("--version", "version", default="literal", help="Version to make.")
@click.option("--make", required=True, help='How much, such as "50 g".')
@click.option("--balance", required=True, help='What the balance reads to, such as "0.01 g".')
@click.option("--jar", default="", help='What the container holds, such as "60 mL".')
@click.option("--keep", is_flag=True, help="Keep the plan in the record: the write-up then prints its bench sheet.")
@click.option("--form", default="", help="Form it is made in; a record knows its own.")
@_law
@_on
@_json
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
@_json
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
@_json
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
@_json
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


@shell.command()
@_json
def tables(*, as_json: bool) -> None:
    """Count the rows of the reference tables, and those that rest on memory or common practice.

    Example: reconlab tables
    """
    from reconlab.cli._shown import print_json
    from reconlab.tables import counts, overlay_checksum

    found = counts()
    if as_json:
        result = {
            name: {"rows": n, "from_memory": memory, "common_practice": practice} for name, n, memory, practice in found
        }
        print_json({}, {"tables": result, "overlay": overlay_checksum()}, [], [])
        return
    click.echo(f"{'table':20}{'rows':>6}{'from memory':>13}{'common practice':>17}")
    for name, n, memory, practice in found:
        click.echo(f"{name:20}{n:6}{memory:13}{practice:17}")


@shell.command()
@click.option(
    "--to",
    "folder",
    type=click.Path(path_type=Path),
    default=Path("reconlab-demo"),
    show_default=True,
    help="Folder the demo is written into.",
)
@_json
def demo(folder: Path, *, as_json: bool) -> None:
    """Run the whole job on the shipped demo, an invented shop's day-book of 1911.

    Example: reconlab demo --to my-demo
    """
    from reconlab.cli._shown import print_json
    from reconlab.cli.demonstration import run

    written, said = run(folder)
    if as_json:
        print_json({"to": str(folder)}, {"written": [str(path) for path in written]}, said, [])
    else:
        click.echo("\n".join(said))


@shell.command()
@click.argument("folder", required=False, type=click.Path(path_type=Path))
@click.option("--record", type=click.Path(path_type=Path), help="Open at this record; it is made if it is not there.")
@click.option("--copy-only", is_flag=True, help="Copy, and open nothing: for a Jupyter that already runs.")
@click.option("--no-browser", is_flag=True, help="Print the address instead of opening a browser.")
@click.option("--classic", is_flag=True, help="Open the plain Jupyter Notebook instead of JupyterLab.")
def lab(folder: Path | None, record: Path | None, *, copy_only: bool, no_browser: bool, classic: bool) -> None:
    """Open JupyterLab on the notebooks, in a folder of your own.

    The notebooks and the demo's records are copied there, into reconlab-work where no folder is named; what is already
    there stays as it is. With --record alone, the folder is the record's own and gets nothing but a notebook for it.

    Example: reconlab lab my-work --copy-only
    """
    from reconlab.cli import laboratory

    if not copy_only:
        laboratory.check_installed(classic=classic)
    if record is not None:
        home, record = laboratory.record_in(folder, record)
    else:
        home = (folder or Path("reconlab-work")).expanduser().resolve()
    copied = [] if record is not None and folder is None else laboratory.copy_notebooks(home)
    notebook = home / laboratory.FIRST
    if record is not None:
        new = not record.with_suffix(".ipynb").exists()
        notebook = laboratory.notebook_of(record)
        copied += [notebook] * new
    laboratory.trust(copied)
    click.echo(f"{home}: files copied: {len(copied)}; what was there is as it was")
    click.echo(f"open first: {notebook.relative_to(home)}")
    if not copy_only:
        click.echo("To end: File, Shut Down; or Ctrl and C in this window, twice.")
        sys.exit(laboratory.open_jupyter(home, notebook, classic=classic, browser=not no_browser))


for _verb in shell.commands.values():  # so that help does not break the line of an example, which may be pasted
    _verb.help = (_verb.help or "").replace("Example:", "\b\nExample:")
