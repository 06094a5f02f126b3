"""What page lies on a desk? Which of its receipts is meant, which line is corrected, and the picture it came from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from reconlab.errors import InputError, NoIngredientError, UnknownNameError, nearest
from reconlab.materia import folded
from reconlab.receipts import Page
from reconlab.record import Reconstruction, line_key, receipt_of

if TYPE_CHECKING:
    from reconlab.reading.image import PicturedPage
    from reconlab.workdesk._views import Views

_TOLD = ("years", "place", "book", "rule", "text_years", "text_place")


def refuse_several(record: Reconstruction) -> None:
    """Refuse a page of several receipts, of which none is named by anybody."""
    try:
        receipt_of(Reconstruction(transcription=record.transcription, source=record.source))
    except NoIngredientError:
        return


def title_on(page: Page, title: str) -> str:
    """Return the title of a receipt as the page prints it."""
    found = [one for one in page.titles if folded(one) == folded(title)]
    if len(found) == 1:
        return found[0]
    called = "; ".join(one or "one without a title" for one in page.titles) or "none"
    if found:
        remedy = "Put the one that is meant on a desk of its own: work.read with its words only."
        raise InputError(f"{len(found)} receipts are called {title!r}", "choose", remedy)
    hint = nearest(title, page.titles)
    raise UnknownNameError(f"no receipt {title!r} on the page", "choose", f"There are: {called}.{hint}")


def printed_line(record: Reconstruction, line: str) -> str:
    """Return the key of a printed line, which a person gives in its own words."""
    keys = dict.fromkeys(line_key(one) for one in record.transcription.split("\n") if one.strip())
    key = line_key(line)
    if key in keys:
        return key
    hint = nearest(key, keys).replace("line: ", "")
    raise UnknownNameError(f"no line {line!r} on the page", "correct", f"Give a line as it is printed.{hint}")


def is_of(transcription: str, page: PicturedPage) -> bool:
    """Return whether a transcription is that of a picture: line for line, and most of them as they were read."""
    lines, seen = transcription.rstrip("\n").split("\n"), page.text.split("\n")
    same = [one == other for one, other in zip(lines, seen, strict=False) if other.strip()]
    return len(lines) == len(seen) and 2 * sum(same) >= len(same)


def read_picture(
    work: Views, picture: str | Path, languages: str | Sequence[str], said: Mapping[str, str]
) -> PicturedPage:
    """Return the page of a picture, in the setting of the record where nothing else is said."""
    from reconlab.reading.image import read_image  # noqa: PLC0415 - for pictures only

    path = Path(picture).expanduser()
    beside = work.path.parent / path  # a name alone is looked for beside the record
    known = work.record.source.setting
    setting = {name: said.get(name) or getattr(known, name) for name in _TOLD}
    return read_image(beside if beside.exists() else path, languages=languages, **setting)
