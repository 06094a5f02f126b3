"""The shell itself, and the options its verbs share."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import Any

import click

from reconlab import __version__
from reconlab.cli._given import SETTING

NOTHING_CHOSEN = (
    "nothing chosen: each answer below is as well founded as the others; give what is not given of the year, the place "
    "(a town, not a country) and the kind of book, or the author's rule, and look into the book's own table of weights"
)


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


def setting_options(command: Callable[..., None]) -> Callable[..., None]:
    """Add the options that say when, where and in what kind of book, given to the verb as one; none has a default."""

    @wraps(command)
    def collected(**given: Any) -> None:  # noqa: ANN401 - what click gives
        command(asked={name: given.pop(name) for name in SETTING}, **given)

    for name, words in SETTING.items():
        collected = click.option(f"--{name.replace('_', '-')}", default="", help=words)(collected)
    return collected


def json_option(command: Callable[..., None]) -> Callable[..., None]:
    return click.option("--json", "as_json", is_flag=True, help="Print the result as JSON.")(command)


language_option = click.option(
    "--language", "languages", multiple=True, help="Of a picture: English, French, German or Latin; may be repeated."
)
title_option = click.option("--title", default="", help="Of a page of several receipts: which is meant, by its title.")
strict_option = click.option("--strict", is_flag=True, help="Exit with 1 where anything is left unknown.")
law_option = click.option("--law", default="", help="Law to ask about: EU, GB, US or CA.")
on_option = click.option("--on", default="", help="Day the law is asked for, such as 2026-11-01; today where left out.")
form_option = click.option(
    "--form", required=True, help='Form it is made in, such as "cold cream" or "loose face powder".'
)


def file_named(path: Path | None) -> dict[str, str]:
    return {"file": str(path)} if path else {}
