"""The notebooks in a folder of the person's own, and Jupyter open on them."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterable, Iterator
from importlib import import_module
from importlib.metadata import requires
from importlib.resources.abc import Traversable
from importlib.util import find_spec
from pathlib import Path
from urllib.parse import quote

from reconlab.errors import FileError, InputError
from reconlab.tables import shipped

FIRST = "00_the_whole_job.ipynb"
OWN = "09_your_own_receipt.ipynb"
_RECORD_OF_OWN = "my-receipt.yaml"  # as the notebook names it
_QUIET = Path(__file__).parent / "jupyter"  # settings that keep notices of news off the page
_ENDS = (".ipynb", ".yaml", ".svg", ".png")  # what a person uses of the shipped folder


def copy_notebooks(folder: Path) -> list[Path]:
    """Copy the notebooks, the demo's records and the blank record into a folder.

    What is already there stays as it is: nothing a person changed is overwritten.

    Parameters
    ----------
    folder : pathlib.Path
        Made if it is not there.

    Returns
    -------
    list of pathlib.Path
        What was copied now.

    Raises
    ------
    FileError
        If the folder or a file cannot be made.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     first, again = copy_notebooks(Path(folder)), copy_notebooks(Path(folder))
    >>> FIRST in {path.name for path in first}, again
    (True, [])
    """
    copied = []
    for words, entry in _shipped_files():
        place = folder / words
        if _made(place, entry.read_bytes()):
            copied.append(place)
    return copied


def notebook_of(record: Path) -> Path:
    """Return the notebook of a record, beside it: made if it is not there, with the record's name in it.

    Parameters
    ----------
    record : pathlib.Path
        The record; the notebook makes it where there is none.

    Returns
    -------
    pathlib.Path
        The notebook.

    Raises
    ------
    InputError
        If the name does not end in .yaml.
    FileError
        If the notebook cannot be made.

    Examples
    --------
    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     notebook_of(Path(folder) / "rose-cream.yaml").name
    'rose-cream.ipynb'
    """
    if record.suffix.lower() not in (".yaml", ".yml"):
        raise InputError(f"{record.name!r} is no name for a record", "--record", "End it in .yaml.")
    if any(sign in record.name for sign in "\"'\\"):
        raise InputError(f"{record.name!r} holds a quotation mark", "--record", "Give the record a plainer name.")
    page = (shipped("notebooks") / OWN).read_text(encoding="utf-8")
    place = record.with_suffix(".ipynb")
    _made(place, page.replace(_RECORD_OF_OWN, record.name).encode())
    return place


def trust(made: Iterable[Path]) -> None:
    """Tell Jupyter that notebooks just made are ours: else it shows their stored pictures as bare words.

    Parameters
    ----------
    made : iterable of pathlib.Path
        What was made now, and nobody has changed since; what is no notebook is passed over.

    Examples
    --------
    >>> trust([Path("parade-white.yaml")])
    """
    notebooks = [path for path in made if path.suffix == ".ipynb"]
    if not notebooks or find_spec("nbformat") is None:
        return
    notary = import_module("nbformat.sign").NotebookNotary()
    for path in notebooks:
        notary.sign(import_module("nbformat").read(path, as_version=4))


def record_in(folder: Path | None, record: Path) -> tuple[Path, Path]:
    """Return the folder to open, and where in it the record is.

    Parameters
    ----------
    folder : pathlib.Path or None
        The folder asked for; None for the one the record stands in.
    record : pathlib.Path
        The record, by a path from here or from the folder.

    Returns
    -------
    tuple of (pathlib.Path, pathlib.Path)
        Both in full.

    Raises
    ------
    InputError
        If the record is not in the folder: Jupyter shows only what is.

    Examples
    --------
    >>> folder, record = record_in(Path("work"), Path("rose.yaml"))
    >>> folder.name, record.relative_to(folder).as_posix()
    ('work', 'rose.yaml')
    """
    here = record.expanduser().resolve()
    if folder is None:
        return here.parent, here
    whole = folder.expanduser().resolve()
    if here.is_relative_to(whole):
        return whole, here
    inside = (whole / record).resolve()
    if not inside.is_relative_to(whole):
        raise InputError(
            f"the record is not in {folder}", str(record), "Leave the folder out, or copy the record into it."
        )
    return whole, inside


def check_installed(*, classic: bool = False) -> None:
    """Say what to install where Jupyter is not there.

    Parameters
    ----------
    classic : bool
        Whether the plain Notebook is wanted, not JupyterLab.

    Raises
    ------
    InputError
        If it cannot be imported; the remedy is the line that installs it.

    Examples
    --------
    >>> check_installed()
    """
    wanted, name = ("notebook", "Jupyter Notebook") if classic else ("jupyterlab", "JupyterLab")
    if find_spec(wanted) is None or find_spec("ipywidgets") is None:
        missing = name if find_spec(wanted) is None else "ipywidgets, which the panel needs,"
        raise InputError(f"{missing} is not installed here", "reconlab lab", f"Install it with: {install_line()}")


def install_line() -> str:
    """Return the line that installs what the notebooks need, for the Python that runs this.

    Returns
    -------
    str
        A command for the shell.

    Examples
    --------
    >>> "-m pip install ipywidgets jupyterlab" in install_line()
    True
    """
    lines = (line.partition(";") for line in requires("reconlab") or ())
    named = sorted(name.strip() for name, _, marker in lines if re.search(r"extra == ['\"]lab['\"]", marker))
    python = f'"{sys.executable}"' if " " in sys.executable else sys.executable
    return f"{python} -m pip install {' '.join(named)}"


def open_jupyter(folder: Path, notebook: Path, *, classic: bool = False, browser: bool = True) -> int:
    """Run Jupyter on this machine alone, with its token on, until it is ended; return its exit code.

    Parameters
    ----------
    folder : pathlib.Path
        What Jupyter shows.
    notebook : pathlib.Path
        What it opens first.
    classic : bool
        Whether the plain Notebook is wanted, not JupyterLab.
    browser : bool
        Whether to open a browser on it.

    Returns
    -------
    int
        The exit code.

    Examples
    --------
    >>> jupyter_command(Path("work"), Path("work/a.ipynb"))[2:4]
    ['jupyterlab', '--LabApp.default_url=/lab/tree/a.ipynb']
    """
    command = jupyter_command(folder, notebook, classic=classic, browser=browser)
    settings = os.pathsep.join(filter(None, (os.environ.get("JUPYTER_CONFIG_PATH"), str(_QUIET))))
    environment = os.environ | {"JUPYTER_CONFIG_PATH": settings}
    with subprocess.Popen(command, env=environment) as jupyter:  # noqa: S603 - our own words, no shell
        while True:
            try:
                return jupyter.wait()
            except KeyboardInterrupt:  # Jupyter has it too, and asks back; it says when it has ended
                continue


def jupyter_command(folder: Path, notebook: Path, *, classic: bool = False, browser: bool = True) -> list[str]:
    """Return the command that runs Jupyter: a token is asked for unless the person's own settings say otherwise.

    Parameters
    ----------
    folder : pathlib.Path
        What Jupyter shows.
    notebook : pathlib.Path
        What it opens first.
    classic : bool
        Whether the plain Notebook is wanted, not JupyterLab.
    browser : bool
        Whether to open a browser on it.

    Returns
    -------
    list of str
        The words of the command.

    Examples
    --------
    >>> jupyter_command(Path("work"), Path("work/a.ipynb"), browser=False)[-1]
    '--no-browser'
    """
    page = quote(notebook.relative_to(folder).as_posix())
    program, opens = (
        ("notebook", f"--JupyterNotebookApp.default_url=/notebooks/{page}")
        if classic
        else ("jupyterlab", f"--LabApp.default_url=/lab/tree/{page}")
    )
    return [
        *(sys.executable, "-m", program, opens),
        f"--ServerApp.root_dir={folder}",
        "--ServerApp.ip=localhost",
        "--LabApp.news_url=None",  # nothing is fetched
        "--LabApp.check_for_updates_class=jupyterlab.NeverCheckForUpdate",
        *(() if browser else ("--no-browser",)),
    ]


def _shipped_files() -> Iterator[tuple[str, Traversable]]:
    for entry in sorted(shipped("notebooks").iterdir(), key=lambda entry: entry.name):
        if entry.is_dir() and entry.name == "demo":
            yield from (
                (f"demo/{inner.name}", inner)
                for inner in sorted(entry.iterdir(), key=lambda inner: inner.name)
                if inner.name.endswith(_ENDS)
            )
        elif entry.name.endswith(_ENDS):
            yield entry.name, entry


def _made(place: Path, content: bytes) -> bool:
    """Write a file that is not there yet."""
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        with place.open("xb") as file:
            try:
                file.write(content)
                file.flush()
            except OSError:  # a cut file would never be copied again
                place.unlink(missing_ok=True)
                raise
    except FileExistsError as fault:
        if place.is_file():
            return False
        raise FileError(
            "there is a file in the way of a folder", str(fault.filename), "Name another folder."
        ) from fault
    except OSError as fault:
        raise FileError(
            f"it cannot be written ({fault.strerror})", str(place), "Name a folder you may write in."
        ) from fault
    return True
