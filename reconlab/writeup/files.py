"""Pages on disk: the article as HTML and Markdown, and a page for the bench for each version that needs one."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from pathlib import Path

from reconlab.errors import FileError
from reconlab.record import Reconstruction
from reconlab.writeup.article import article
from reconlab.writeup.marked import markdown_page
from reconlab.writeup.markup import html_page
from reconlab.writeup.matter import Matter, gathered
from reconlab.writeup.sheet import bench_sheet, refusal_sheet

_LONGEST = 60  # letters of a file's name


def write(reconstruction: Reconstruction, folder: Path | str, *, made: str = "") -> tuple[Path, ...]:
    r"""Write every page of a reconstruction: the article, its Markdown twin, and pages for the bench.

    Parameters
    ----------
    reconstruction : Reconstruction
        The record.
    folder : pathlib.Path or str
        Where the pages go; made if absent. Pages of the same name are written over.
    made : str
        The day the pages are made, as it is to stand on them; empty leaves it out.

    Returns
    -------
    tuple of pathlib.Path
        The files, the article first.

    Raises
    ------
    FileError
        If the folder or a file cannot be written.

    Examples
    --------
    >>> import tempfile
    >>> record = Reconstruction(title="Violet Powder", transcription="Starch, 3 oz.\nOrris root, 1 oz.")
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     [path.name for path in write(record, Path(folder))]
    ['violet-powder.html', 'violet-powder.md']
    """
    pages, folder = tuple(_pages(gathered(reconstruction, made))), Path(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in pages:
            (folder / name).write_text(text, encoding="utf-8", newline="\n")
    except OSError as fault:
        raise FileError(
            f"the pages cannot be written ({fault.strerror})", str(folder), "Name another folder."
        ) from fault
    return tuple(folder / name for name, _ in pages)


def _pages(matter: Matter) -> Iterator[tuple[str, str]]:
    page = article(matter)
    slug = _slug(page.title) or "reconstruction"
    yield f"{slug}.html", html_page(page)
    yield f"{slug}.md", markdown_page(page)
    taken: set[str] = set()
    for version in matter.versions:
        if matter.refused(version.name):
            sheet, kind = refusal_sheet(matter, version.name), "not-made"
        elif matter.planned(version.name):
            sheet, kind = bench_sheet(matter, version.name), "bench"
        else:
            continue
        name = own = f"{slug}-{kind}-{_slug(version.name) or 'version'}"
        while name in taken:
            name = f"{own}-{len(taken) + 1}"
        taken.add(name)
        yield f"{name}.html", html_page(sheet)


def _slug(words: str) -> str:
    """Return words as the name of a file on any system: lower case, letters and digits without accents, hyphens."""
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain)[:_LONGEST].strip("-")
