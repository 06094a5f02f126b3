"""Draw the picture of a page: period type, a little askew, with specks and uneven ink, as a scan gives it.

The types are free and come with Debian (fonts-gfs-didot, fonts-century-catalogue, fonts-oldstandard, fonts-ebgaramond;
fonts-junicode for signs); where none is there, the one that comes with matplotlib, which has the signs of weight but is
no period type.
"""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont

TYPES = ("GFS Didot", "CenturyCatalogue", "Old Standard TT", "EB Garamond")
SIGNS = ("Junicode Two Beta", "Junicode", "Symbola", "DejaVu Serif")
MARGIN = 120  # dots
LEADING = 1.5


def types() -> tuple[str, ...]:
    """Return the files of the period types that are installed, or of the one that comes with matplotlib."""
    found = tuple(filter(None, map(file_of, TYPES)))
    return found or (fallback(),)


@cache
def file_of(family: str) -> str:
    """Return the file of a type, upright and of usual weight; empty where it is not installed."""
    lister = shutil.which("fc-list")
    if lister is None:
        return ""
    said = subprocess.run(
        [lister, family, "file", "style"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    lines = [line.split(":", maxsplit=1) for line in said.splitlines() if line.strip()]
    plain = sorted(
        file.strip()
        for file, style in lines
        if style.rpartition("=")[2].split(",")[0] in {"Regular", "Roman", "Medium", ""}
    )
    usual = [file for file in plain if "Medium" not in Path(file).stem] or plain
    return next(iter(usual), "")


@cache
def fallback() -> str:
    import matplotlib as mpl  # noqa: PLC0415

    return str(Path(mpl.get_data_path()) / "fonts" / "ttf" / "DejaVuSerif.ttf")


@cache
def type_of(file: str, dots: int) -> Any:  # noqa: ANN401
    return ImageFont.truetype(file, dots)


@cache
def drawable(file: str, sign: str) -> bool:
    """Return whether a type has a sign: one it has not is drawn as its sign for none."""
    font = type_of(file, 40)
    return bytes(font.getmask(sign)) != bytes(font.getmask("\uffff"))


def pieces(text: str, file: str) -> Iterator[tuple[str, str]]:
    """Yield stretches of text, each with the file of the type that has its signs."""
    others = (*filter(None, map(file_of, SIGNS)), fallback())
    for sign in text:
        yield sign, next((one for one in (file, *others) if sign == " " or drawable(one, sign)), file)


def draw(text: str, file: str, *, dots: int = 42, skew: float = 0.0, noise: float = 0.0, seed: int = 1) -> Image.Image:
    """Return the picture of a page.

    `dots` is the size of the type (42 is ten points at 300 dots an inch), `skew` in degrees, `noise` from 0 to 1.
    """
    lines = text.split("\n")
    high, blank = int(dots * LEADING), type_of(file, dots).getlength("n")
    wide = int(max(sum(_wide(s, f, dots, blank) for s, f in pieces(line, file)) for line in lines))
    page = Image.new("L", (wide + 2 * MARGIN, high * len(lines) + 2 * MARGIN), 255)
    pen = ImageDraw.Draw(page)
    for number, line in enumerate(lines):
        at = float(MARGIN)
        for sign, own in pieces(line, file):
            if sign != " ":
                pen.text((at, MARGIN + number * high + dots), sign, font=type_of(own, dots), fill=0, anchor="ls")
            at += _wide(sign, own, dots, blank)
    if skew:
        page = page.rotate(skew, resample=Image.Resampling.BICUBIC, expand=True, fillcolor=255)
    return _worn(page, noise, seed) if noise else page


def _wide(sign: str, file: str, dots: int, blank: float) -> float:
    return blank * 0.55 if sign == " " else float(type_of(file, dots).getlength(sign))


def _worn(page: Image.Image, noise: float, seed: int) -> Image.Image:
    """Blur the ink, grey the paper, and strew specks."""
    chance = np.random.default_rng(seed)
    ink = np.asarray(page.filter(ImageFilter.GaussianBlur(1.2 * noise)), dtype=float)
    paper = 255 - 40 * noise * np.linspace(0, 1, ink.shape[1])[None, :]
    grey = np.minimum(ink, paper) + chance.normal(0, 22 * noise, ink.shape)
    specks = chance.random(ink.shape) < 0.0006 * noise
    grey[specks] = 40
    return Image.fromarray(np.clip(grey, 0, 255).astype(np.uint8))
