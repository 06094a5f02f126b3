"""How is the picture of a page made ready to be read? Specks are taken out, the paper is made white, lines level."""

from __future__ import annotations

import io
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageFilter

from reconlab.errors import FileError

_SPECKLED = (
    2.0  # mean change of the paper by taking specks out, from which on they are taken out: it thins the type too
)
_STEP = 8  # dots of the page that are one where the paper is looked at
_SEEN = 600  # dots in width of the small picture the lines are levelled by
_MOST, _LEAST = 3.0, 0.15  # degrees a page is turned by


def straightened(path: Path) -> tuple[Image.Image, float]:
    """Return a page ready to be read, and by how many degrees it was turned.

    Parameters
    ----------
    path : pathlib.Path
        The picture.

    Returns
    -------
    page : PIL.Image.Image
        In greys, on white.
    turned : float
        To the left [degrees].

    Raises
    ------
    FileError
        If it is no picture, or not there.

    Examples
    --------
    >>> straightened(Path("nowhere.png"))  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    reconlab.errors.FileError: nowhere.png: it cannot be read as a picture (No such file or directory). Check ...
    """
    grey = _white(opened(path))
    angle = _askew(grey)
    return turned(grey, angle), angle


def opened(path: Path) -> Image.Image:
    """Return a picture in greys.

    Parameters
    ----------
    path : pathlib.Path
        The file.

    Returns
    -------
    PIL.Image.Image
        The whole of it.

    Raises
    ------
    FileError
        If it is no picture, or not there.

    Examples
    --------
    >>> opened(Path("nowhere.png"))  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    reconlab.errors.FileError: nowhere.png: it cannot be read as a picture (No such file or directory). Check ...
    """
    try:
        with Image.open(path) as whole:
            return whole.convert("L")
    except (OSError, Image.DecompressionBombError, ValueError, SyntaxError) as fault:
        why = getattr(fault, "strerror", "") or "it is none, or broken, or too large"
        remedy = "Check the name and the folder, or save the page again as .png."
        raise FileError(f"it cannot be read as a picture ({why})", str(path), remedy) from fault


def turned(page: Image.Image, angle: float) -> Image.Image:
    """Return a page turned to the left, as large as it then is.

    Parameters
    ----------
    page : PIL.Image.Image
        In greys.
    angle : float
        How far [degrees].

    Returns
    -------
    PIL.Image.Image
        On white.

    Examples
    --------
    >>> turned(Image.new("L", (10, 20), 255), 0).size
    (10, 20)
    """
    return page.rotate(angle, resample=Image.Resampling.BICUBIC, expand=True, fillcolor=255) if angle else page


def as_png(page: Image.Image) -> bytes:
    """Return a picture as the bytes of a PNG file.

    Parameters
    ----------
    page : PIL.Image.Image
        The picture.

    Returns
    -------
    bytes
        The file.

    Examples
    --------
    >>> as_png(Image.new("L", (10, 20), 255))[1:4]
    b'PNG'
    """
    out = io.BytesIO()
    page.save(out, format="PNG", optimize=True)
    return out.getvalue()


def _white(page: Image.Image) -> Image.Image:
    """Return a page without specks, and its paper white from edge to edge."""
    clean = page.filter(ImageFilter.MedianFilter(3))
    before, after = _figures(page), _figures(clean)
    paper = after > np.median(after) - 40
    kept = clean if np.abs(before - after)[paper].mean() > _SPECKLED else page
    small = kept.resize((max(1, page.width // _STEP), max(1, page.height // _STEP)), Image.Resampling.BOX)
    ground = small.filter(ImageFilter.MaxFilter(9)).filter(ImageFilter.GaussianBlur(8))
    level = _figures(kept) / np.maximum(_figures(ground.resize(page.size, Image.Resampling.BILINEAR)), 1)
    return Image.fromarray(np.clip(level * 255, 0, 255).astype(np.uint8))


def _askew(page: Image.Image) -> float:
    """Return by how many degrees a page must be turned for its lines to be level: there the rows differ most."""
    small = page.resize((_SEEN, max(1, page.height * _SEEN // page.width)), Image.Resampling.BOX)
    ink = Image.fromarray(255 - np.asarray(small))

    def sharp(angle: float) -> float:
        rows = _figures(ink.rotate(angle, resample=Image.Resampling.BILINEAR, fillcolor=0)).sum(axis=1)
        return float((np.diff(rows) ** 2).sum())

    about = _best(np.arange(-_MOST, _MOST + 0.01, 0.5), sharp)
    angle = _best(np.arange(about - 0.5, about + 0.51, 0.1), sharp)
    return angle if abs(angle) > _LEAST else 0.0


def _best(angles: Iterable[Any], sharp: Any) -> float:  # noqa: ANN401 - a function of an angle
    return float(max(angles, key=sharp))


def _figures(page: Image.Image) -> Any:  # noqa: ANN401
    return np.asarray(page, dtype=float)
