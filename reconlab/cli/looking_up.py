"""The verbs that ask one thing: a quantity, a strength, a name, what could stand in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

import click

from reconlab.cli._given import csv_rows, in_setting, use_asked
from reconlab.cli._shell import (
    NOTHING_CHOSEN,
    file_named,
    json_option,
    law_option,
    on_option,
    setting_options,
    shell,
    strict_option,
)
from reconlab.errors import InputError, ReconlabError

if TYPE_CHECKING:
    from reconlab.liquids import LiquidAnswer
    from reconlab.measures import Conversion
    from reconlab.reducing import Reducing, StrengthAnswer


class _Amounts(click.Command):
    """A verb whose words may begin with a minus sign: an amount, not an option, unless two stand there."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        known = {word for option in self.get_params(ctx) for word in option.opts}
        for word in (arg.partition("=")[0] for arg in args if arg[:2] == "--" and arg != "--"):
            if word not in known:
                raise click.NoSuchOption(word, possibilities=get_close_matches(word, sorted(known)), ctx=ctx)
        return super().parse_args(ctx, args)


@shell.command(cls=_Amounts, context_settings={"ignore_unknown_options": True})
@click.argument("text", required=False)
@click.option(
    "--file", "path", type=click.Path(path_type=Path), help="CSV with a column `text` (and year, place, book, of)."
)
@click.option("--csv", "table", type=click.Path(path_type=Path), help="The same, however long; prints a CSV table.")
@setting_options
@click.option("--of", "of", default="", help="The substance: tells solid from liquid.")
@json_option
@strict_option
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
    from reconlab.cli._shown import answer_json, exit_where_strict, number_json, print_json, table_text
    from reconlab.measures import convert as converted
    from reconlab.measures import convert_table

    given = {**asked, "of": of}
    bad: list[str] = []
    if table is not None:
        csv_rows(table, ("text",))
        if as_json:
            raise InputError("--csv prints a table", "--json", "Use --file for JSON.")
        filled = convert_table(table, of=of, **in_setting(asked))
        click.echo(table_text(filled), nl=False)
        exit_where_strict(strict=strict, notes=[fault for fault in filled.fault if fault])
        return
    if path is not None:
        found, bad = _rows_converted(path, given)
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
    notes = [f"{c.text}: {NOTHING_CHOSEN}" for c in found if c.chosen is None]
    notes += [f"{c.text}: {note}" for c in found for note in c.notes] + bad
    if as_json:
        print_json({"text": text, **file_named(path), **given}, results if path else results[0], notes, cited)
    else:
        _echo_converted(found, bad, with_reasons=path is None)
    exit_where_strict(strict=strict, notes=notes)


def _rows_converted(path: Path, given: Mapping[str, str]) -> tuple[list[Conversion], list[str]]:
    """Return the answers of a file's rows; one that cannot be read is named and does not keep back the others."""
    from reconlab.measures import convert as converted

    found, bad = [], []
    for at, row in enumerate(csv_rows(path, ("text",)), start=1):
        asked = {**given, **{key: row[key] for key in given if row.get(key)}}
        try:
            found.append(converted(row["text"], of=asked["of"], **in_setting(asked)))
        except ReconlabError as fault:
            bad.append(f"row {at}, {row['text']}: {fault}")
    if not found:
        raise InputError("no row can be read", str(path), " ".join(bad[:3]))
    return found, bad


def _echo_converted(found: Sequence[Conversion], bad: Sequence[str], *, with_reasons: bool) -> None:
    from reconlab.cli._shown import amount_words

    for c in found:
        click.echo(f"{c.text}: {amount_words(c.chosen)}" if c.chosen else f"{c.text}: {NOTHING_CHOSEN}")
        for other in c.others:
            click.echo(f"  {other.standing}: {amount_words(other)}")
        if c.chosen and with_reasons:
            click.echo(str(c.chosen.reason))
        for note in c.notes:
            click.echo(f"  {note}")
    for fault in bad:
        click.echo(fault, err=True)


@shell.command()
@click.argument("text")
@click.option("--of", default="", help='The liquid, where it is no spirit and the words do not name it: "lye".')
@click.option("--to", default="", help='Strength to reduce it to with water, such as "proof".')
@click.option("--by", default="water", help="What is added: water, or the strength of a weaker spirit.")
@click.option("--amount", default="", help='How much of the spirit to reduce, such as "1 gallon".')
@setting_options
@json_option
@strict_option
def strength(
    text: str, of: str, to: str, by: str, amount: str, asked: Mapping[str, str], *, as_json: bool, strict: bool
) -> None:
    """Say how strong a spirit was, on every scale, or how much water lets it down; or how strong another liquid was.

    Example: reconlab strength "60 o.p." --to proof --amount "1 gallon" --year 1880 --place England
    """
    from reconlab.cli._shown import exit_where_strict, print_json, strength_json
    from reconlab.reducing import dilute
    from reconlab.reducing import strength as strong

    if amount and not to:
        raise InputError("an amount, and no strength to reduce it to", "--to", 'Add one, such as --to "proof".')
    years, place, book = (in_setting(asked)[name] for name in ("years", "place", "book"))
    answer: StrengthAnswer | LiquidAnswer | Reducing = strong(text, of=of, years=years, place=place, book=book)
    if to:
        answer = dilute(text, to, amount, by=by, years=years, place=place, book=book)
    notes = [] if answer.chosen else [f"{text}: {NOTHING_CHOSEN}"]
    if as_json:
        print_json(
            {"text": text, "of": of, "to": to, "by": by, "amount": amount, **asked}, *strength_json(answer, notes)
        )
    else:
        click.echo(str(answer))
    exit_where_strict(strict=strict, notes=notes)


@shell.command()
@click.argument("name", required=False)
@click.option("--file", "path", type=click.Path(path_type=Path), help="CSV with columns name, year, place.")
@setting_options
@json_option
@strict_option
def identify(name: str | None, path: Path | None, asked: Mapping[str, str], *, as_json: bool, strict: bool) -> None:
    """Say what a period name may have meant.

    Example: reconlab identify "flake white" --year 1911 --place England
    """
    from reconlab.cli._shown import exit_where_strict, identified_json, print_json
    from reconlab.materia import not_identified
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
        print_json({"name": name, **file_named(path), **asked}, result, notes, reasons)
        names = results = ()
    for n, found in zip(names, results, strict=True):
        unknown = "" if found["candidates"] else f" not identified; {not_identified(n).options[0].reason.says}"
        click.echo(f"{n}:{unknown}")
        for candidate in found["candidates"]:
            inci = candidate["inci"] or "no INCI name on file"
            click.echo(f"  {candidate['standing']}: {candidate['name']} ({inci}); {candidate['because']}")
        for words in (*found["settles_by"], *found["cautions"]):
            click.echo(f"  {words}")
    exit_where_strict(strict=strict, notes=notes)


@shell.command()
@click.argument("substance")
@click.option("--form", default="", help="Form it is made in.")
@law_option
@on_option
@json_option
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
