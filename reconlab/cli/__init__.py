"""The same from the shell: each verb is one function of the library, in text or as JSON.

Verbs import what they need when they run, so that the shell answers at once. `_shell` has the options they share.
"""

from __future__ import annotations

import io
import json
import os
import sys
from pathlib import Path

import click

from reconlab.cli import looking_up, on_receipts
from reconlab.cli._shell import json_option, shell
from reconlab.errors import ReconlabError

__all__ = ["looking_up", "main", "on_receipts", "shell"]

EXIT_ERROR = 2


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


@shell.command()
@json_option
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
@json_option
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
