"""The whole job on the shipped demo: four receipts of an invented shop's day-book, from printed words to pages."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from importlib.resources.abc import Traversable
from pathlib import Path

from reconlab.benchwork import bench
from reconlab.errors import FileError
from reconlab.materia import thing
from reconlab.record import Reconstruction, batch_of, formula_of, open_record, save, stamped
from reconlab.screening import RESEARCH_AID, screen
from reconlab.tables import shipped
from reconlab.writeup import write

BATCH, BALANCE, JAR = "50 g", "0.01 g", "100 mL"


def run(folder: Path) -> tuple[list[Path], list[str]]:
    """Copy the demo records into a folder, reconstruct each, and write its pages there.

    A record that is already there is used as it is: nothing a person changed is overwritten.

    Parameters
    ----------
    folder : pathlib.Path
        Made if it is not there.

    Returns
    -------
    tuple of (list of pathlib.Path, list of str)
        What was written, and what is said about it.

    Raises
    ------
    FileError
        If the folder cannot be made.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     written, said = run(Path(folder))
    >>> sum(path.suffix == ".html" for path in written) >= 4
    True
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise FileError(
            f"the folder cannot be made ({fault.strerror})", str(folder), "Name another with --to."
        ) from fault
    blank = folder / "blank-record.yaml"
    if not blank.exists():
        blank.write_text((shipped("notebooks") / blank.name).read_text(encoding="utf-8"), encoding="utf-8")
    written: list[Path] = [blank]
    said = ["Four receipts from an invented day-book of 1911: shop, book and town are made up, the trade is not."]
    for entry in sorted((shipped("notebooks") / "demo").iterdir(), key=lambda entry: entry.name):
        if not entry.name.endswith(".yaml"):
            continue
        path = folder / entry.name
        if not path.exists():
            _copied(entry, path)
        record = _planned(open_record(path))
        save(stamped(record), path)
        pages = write(record, folder / path.stem)
        written += [path, *pages]
        said += ["", *_told(record), *(f"  wrote {page}" for page in pages)]
    said += ["", RESEARCH_AID, "", *_next(folder)]
    return written, said


def _planned(record: Reconstruction) -> Reconstruction:
    """Add a plan for each version that has none yet: a bench sheet, or why there is none."""
    batches = list(record.batches)
    for version in ("literal", *(version.name for version in record.versions)):
        if record.use is not None and version not in {batch.version for batch in batches}:
            plan = bench(formula_of(record, version), make=BATCH, balance=BALANCE, jar=JAR, use=record.use)
            batches.append(batch_of(plan))
    return replace(record, batches=tuple(batches))


def _copied(entry: Traversable, path: Path) -> None:
    try:
        path.write_text(entry.read_text(encoding="utf-8"), encoding="utf-8")
    except OSError as fault:
        raise FileError(
            f"the record cannot be written ({fault.strerror})", str(path), "Name another folder with --to."
        ) from fault


def _told(record: Reconstruction) -> Iterator[str]:
    """Say in a few lines what became of a receipt."""
    formula = formula_of(record)
    yield f"{record.title} ({record.source.page})"
    shares = [formula.share(key) for key in formula.as_chosen() if formula.shares(key)[0] > 0]
    names = [key for key in formula.as_chosen() if formula.shares(key)[0] > 0]
    largest = sorted(zip(shares, names, strict=True), key=lambda pair: -pair[0].number)[:3]
    yield f"  {formula.whole}; most of it: " + ", ".join(f"{thing(name).name} {share}" for share, name in largest)
    for swing in formula.matters()[:2]:
        yield f"  settle first: {swing.asks} {swing}"
    if record.use is None:
        return
    for version in ("literal", *(version.name for version in record.versions)):
        made = formula_of(record, version)
        stops = screen(made, record.use).stops
        if stops:
            yield f"  {version}: described, not made: {stops[0]}"
        else:
            plan = bench(made, make=BATCH, balance=BALANCE, use=record.use)
            yield f"  {version}: bench sheet for {BATCH}, {len(plan.lines)} weighings"


def _next(folder: Path) -> Iterator[str]:
    example = folder / "parade-white.yaml"
    yield "What to do next:"
    article = folder / "parade-white" / "parade-white.html"
    yield f"  open {article} in a browser: each figure opens to its reason and source"
    yield f'  reconlab bench {example} --version "zinc for lead" --make "50 g" --balance "0.01 g" --jar "60 mL"'
    yield '  reconlab convert "ʒiij" --year 1890 --place England'
