"""The same by button: panels for a notebook, which call the desk and reckon nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reconlab.errors import InputError
from reconlab.workdesk import Desk

if TYPE_CHECKING:
    from reconlab.panels.book import BookPanel
    from reconlab.panels.names import NamesPanel
    from reconlab.panels.reading import ReadingPanel
    from reconlab.panels.receipt import Panel

__all__ = ["book_panel", "names_panel", "panel", "reading_panel"]

_NO_WIDGETS = (
    "ipywidgets is not installed",
    "panel",
    "In a cell: %pip install ipywidgets. Then start the kernel again.",
)


def panel(work: Desk) -> Panel:
    """Return the receipt of a desk as a panel: paste, answer, replace, plan and write by button or keyboard.

    Whatever is done in it is a call of the desk, is saved at once, and is shown as code on demand.

    Parameters
    ----------
    work : Desk
        The desk, as `desk` gives it.

    Returns
    -------
    Panel
        An ipywidgets box; as text it is what it shows.

    Raises
    ------
    InputError
        If ipywidgets is not installed.

    Examples
    --------
    >>> import tempfile
    >>> from pathlib import Path
    >>> from reconlab.workdesk import desk
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     work = desk(Path(folder) / "powder.yaml")
    ...     print(str(panel(work)).splitlines()[0])
    ...     work.close()
    powder.yaml: an empty desk
    """
    try:
        from reconlab.panels.receipt import Panel  # noqa: PLC0415 - an extra, and loaded only when a panel is made
    except ImportError as fault:
        raise InputError(*_NO_WIDGETS) from fault
    return Panel(work)


def book_panel(work: Desk) -> BookPanel:
    """Return the measures of a desk's book as a panel: what is settled in it holds for every receipt of the book.

    Parameters
    ----------
    work : Desk
        The desk, as `desk` gives it.

    Returns
    -------
    BookPanel
        An ipywidgets box; as text it is what it shows.

    Raises
    ------
    InputError
        If ipywidgets is not installed.

    Examples
    --------
    >>> import tempfile
    >>> from pathlib import Path
    >>> from reconlab.workdesk import desk
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     work = desk(Path(folder) / "powder.yaml").setting(years="1911", place="London")
    ...     print(str(book_panel(work)).splitlines()[0])
    ...     work.close()
    What the signs of a book came to: London, 1911
    """
    try:
        from reconlab.panels.book import BookPanel  # noqa: PLC0415
    except ImportError as fault:
        raise InputError(*_NO_WIDGETS) from fault
    return BookPanel(work)


def names_panel(work: Desk) -> NamesPanel:
    r"""Return the names of a desk's receipt as a panel: what each thing was, and what each other meaning does.

    Parameters
    ----------
    work : Desk
        The desk, as `desk` gives it.

    Returns
    -------
    NamesPanel
        An ipywidgets box; as text it is what it shows.

    Raises
    ------
    InputError
        If ipywidgets is not installed.

    Examples
    --------
    >>> import tempfile
    >>> from pathlib import Path
    >>> from reconlab.workdesk import desk
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     work = desk(Path(folder) / "powder.yaml").read("White powder.\nFlake white, 1 oz.")
    ...     print(str(names_panel(work)).splitlines()[0])
    ...     work.close()
    White powder: what the things were
    """
    try:
        from reconlab.panels.names import NamesPanel  # noqa: PLC0415
    except ImportError as fault:
        raise InputError(*_NO_WIDGETS) from fault
    return NamesPanel(work)


def reading_panel(work: Desk) -> ReadingPanel:
    r"""Return the page of a desk as a panel: paste it or read its picture, look at what was read, correct, go on.

    Parameters
    ----------
    work : Desk
        The desk, as `desk` gives it.

    Returns
    -------
    ReadingPanel
        An ipywidgets box; as text it is what it shows.

    Raises
    ------
    InputError
        If ipywidgets is not installed.

    Examples
    --------
    >>> import tempfile
    >>> from pathlib import Path
    >>> from reconlab.workdesk import desk
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     work = desk(Path(folder) / "page.yaml").read_page("CREAM.\nWax, 1 oz.\n\nSALVE.\nLard, 2 oz.")
    ...     print(str(reading_panel(work)).splitlines()[0])
    ...     work.close()
    A page with 2 receipts
    """
    try:
        from reconlab.panels.reading import ReadingPanel  # noqa: PLC0415
    except ImportError as fault:
        raise InputError(*_NO_WIDGETS) from fault
    return ReadingPanel(work)
