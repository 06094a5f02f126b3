"""The same by button: panels for a notebook, which call the desk and reckon nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reconlab.errors import InputError
from reconlab.workdesk import Desk

if TYPE_CHECKING:
    from reconlab.panels.receipt import Panel

__all__ = ["panel"]


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
        remedy = "In a cell: %pip install ipywidgets. Then start the kernel again."
        raise InputError("ipywidgets is not installed", "panel", remedy) from fault
    return Panel(work)
