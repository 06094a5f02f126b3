"""What goes in at the shell: pages, tables, records, and the use asked about."""

from __future__ import annotations

import csv
import io
import re
import sys
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from reconlab.cli._decoding import decoded
from reconlab.errors import FileError, InputError

if TYPE_CHECKING:
    from reconlab.benchwork import Plan
    from reconlab.formula import Formula
    from reconlab.reading.image import PicturedPage
    from reconlab.reasons import Question
    from reconlab.receipts import Page, Receipt, SettingWords, Use


PICTURES = (".png", ".jpg", ".jpeg", ".tif", ".tiff", ".bmp", ".webp")

# What a verb may be told of the book; none has a default.
SETTING = {
    "book": "pharmacopoeia, dispensing, trade, perfumer or household.",
    "place": "Country or town of the book.",
    "year": 'Such as 1890, 1880-1890 or "c. 1880".',
    "text_place": "Of a translation: where its words were first written.",
    "text_year": "Of a reprint: when its words were first written.",
    "rule": 'What the author says of his weights: "oz. and lb. avoirdupois, dr. and gr. troy".',
}


def in_setting(asked: Mapping[str, str]) -> SettingWords:
    """Return what was said of a book by the names the library gives it."""
    said = {key: asked.get(key, "") for key in SETTING}
    return {
        "years": said["year"],
        "place": said["place"],
        "book": said["book"],
        "rule": said["rule"],
        "text_years": said["text_year"],
        "text_place": said["text_place"],
    }


def page_text(source: Path) -> str:
    """Return the text of a file, or of what is typed or piped in for "-"."""
    try:
        data = sys.stdin.buffer.read() if str(source) == "-" else source.read_bytes()
    except OSError as fault:
        raise FileError(
            f"the file cannot be read ({fault.strerror})", str(source), "Check the name and the folder."
        ) from fault
    return decoded(data, str(source), lambda note: click.echo(f"reconlab: {note}", err=True))


def page_and_receipts(
    source: Path, asked: Mapping[str, str], languages: tuple[str, ...] = (), title: str = ""
) -> tuple[PicturedPage | None, tuple[Receipt, ...], tuple[Question, ...]]:
    """Return the receipts of a file and what their page asks; of a picture the page too, if it was read as one.

    With a title, only the receipt it names; of a page of one it is that receipt's title.
    """
    from reconlab.reading import read_all

    setting = in_setting(asked)
    if source.suffix.lower() in PICTURES:
        from reconlab.reading.image import read_image

        page = read_image(source, languages=languages, **setting)
        if page.receipts and not title:
            return page, page.receipts, page.questions
        return None, (_of_page(page, page.text, title, str(source), setting),), ()
    if languages:
        raise InputError("a text needs no language", "--language", "Leave it out: it is for the picture of a page.")
    text = page_text(source)
    whole = read_all(text, **setting)
    if len(whole.receipts) > 1 and not title:
        return None, whole.receipts, whole.questions
    return None, (_of_page(whole, text, title, str(source), setting),), whole.questions


def _of_page(page: Page, text: str, title: str, source: str, setting: SettingWords) -> Receipt:
    """Return the one receipt of a page, or the one of several that a title names, whole or by some of its words."""
    from reconlab.reading import read

    if len(page.receipts) <= 1 or not title:
        return read(text, title=title, **setting)
    wanted = _words(title)
    named = [each for each in page.receipts if _words(each.title) == wanted]
    named = named or [each for each in page.receipts if f" {wanted} " in f" {_words(each.title)} "]
    if len(named) == 1 and wanted:
        return named[0]
    how_many = "more than one receipt" if named else "no receipt"
    called = "; ".join(each.title or "one without a title" for each in page.receipts)
    raise InputError(f"{how_many} of the page is called {title!r}", source, f"Its receipts are: {called}.")


def _words(text: str) -> str:
    return " ".join(re.findall(r"[^\W_]+", text.lower()))


def csv_rows(path: Path, needed: tuple[str, ...]) -> list[dict[str, str]]:
    """Return the rows of a CSV file that has the columns needed."""
    reader = csv.DictReader(io.StringIO(page_text(path), newline=""))
    try:
        return _rows(reader, path, needed)
    except csv.Error as fault:
        raise FileError(f"this is no CSV ({fault})", str(path), "Save the table as CSV, in UTF-8.") from fault


def _rows(reader: csv.DictReader[str], path: Path, needed: tuple[str, ...]) -> list[dict[str, str]]:
    missing = [column for column in needed if column not in (reader.fieldnames or ())]
    if missing:
        raise FileError(f"no column {', '.join(missing)}", str(path), f"The first line must name: {', '.join(needed)}.")
    rows = [{key: (value or "").strip() for key, value in row.items() if key} for row in reader]
    if not rows:
        raise FileError("no rows", str(path), "Put one line for each under the heading.")
    return rows


def formula_and_use(
    source: Path, asked: Mapping[str, str], version: str = "literal", title: str = ""
) -> tuple[Formula, Use | None]:
    """Return the formula of a record or of a text, and the use a record has."""
    if source.suffix.lower() in (".yaml", ".yml"):
        if title:
            raise InputError("a record has its own title", "--title", "Leave it out: it is for a page of several.")
        from reconlab.record import formula_of, open_record

        record = open_record(source)
        return formula_of(record, version), record.use
    from reconlab.translation import translate

    _, receipts, _ = page_and_receipts(source, asked, title=title)
    if len(receipts) > 1:
        called = "; ".join(receipt.title or "one without a title" for receipt in receipts)
        found = f"the page holds {len(receipts)} receipts: {called}"
        raise InputError(found, str(source), "Say which is meant with --title; some words of its title do.")
    return translate(receipts[0]), None


def use_asked(form: str, law: str, on: str, recorded: Use | None) -> Use:
    """Return the use asked about: what is given here over what the record says."""
    from reconlab.receipts import Use

    if not form and recorded is None:
        raise InputError("no form is given", "form", 'Say what it is made as, such as --form "cold cream".')
    base = recorded or Use(form)
    return Use(form or base.form, law or base.law, on or base.on or today(), base.wearer)


def today() -> str:
    """Return today's date."""
    return datetime.now(tz=UTC).date().isoformat()


def keep_plan(path: Path, plan: Plan) -> None:
    """Put a plan into its record in place of an earlier one of that version that was never made."""
    from reconlab.record import batch_of, open_record, save, stamped

    record = open_record(path)
    others = (batch for batch in record.batches if batch.version != plan.version or batch.made_on or batch.weighed)
    save(stamped(replace(record, batches=(*others, batch_of(plan)))), path)
