"""Hold the reading of pictures to pages drawn for it: words, boxes, languages, and what is said where one lacks."""

import importlib.util
import os
import shutil
import stat
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

import reconlab as rl
from reconlab.errors import FileError, InputError
from reconlab.reading.image import Box, PicturedPage, words_of
from reconlab.reading.straight import opened, straightened

HEAD = [
    *("level", "page_num", "block_num", "par_num", "line_num", "word_num"),
    *("left", "top", "width", "height", "conf", "text"),
]
PAGE = """                COLD CREAM.

White wax ................ 2 ounces.
Oil of sweet almonds ..... 1 pint.
Rose water ............... 8 ounces.

Melt the wax in the oil, and stir in the rose water.

                LIP SALVE.

White wax ................ 3 ounces.
Lard ..................... 12 ounces."""
DOTS = 42  # ten points at 300 dots an inch


def drawing() -> Any:  # noqa: ANN401 - a module
    """Return the module that draws pages, which stands among the benchmarks."""
    path = Path(__file__).parent / "benchmarks" / "drawn_pages.py"
    spec = importlib.util.spec_from_file_location("drawn_pages", path)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


DRAWN = drawing()


def table(*rows: tuple[object, ...]) -> str:
    """Return what Tesseract prints: a row a word, here its line, box, surety and text."""
    made = [
        (5, 1, 1, 1, line, number, left, top, width, height, sure, text)
        for number, (line, left, top, width, height, sure, text) in enumerate(rows)
    ]
    return "\n".join("\t".join(map(str, row)) for row in (HEAD, *made))


@pytest.fixture
def program() -> None:
    """Pass over what needs Tesseract where it is not installed, but never in CI."""
    if shutil.which("tesseract") is None:
        if os.environ.get("CI") == "true":
            pytest.fail("Tesseract was not found: install the Debian package tesseract-ocr")
        pytest.skip("Tesseract was not found, so no picture was read")


def picture(folder: Path, text: str, **looks: float) -> Path:
    path = folder / "page.png"
    DRAWN.draw(text, DRAWN.types()[0], dots=DOTS, **looks).save(path)
    return path


def test_columns_indents_and_empty_lines_are_kept_as_blanks() -> None:
    text, words = words_of(
        table(
            (1, 300, 10, 100, 20, 95, "CREAM"),
            (2, 20, 70, 60, 20, 95, "Wax"),
            (2, 300, 70, 20, 20, 95, "2"),
            (3, 20, 100, 80, 20, 95, "Lard"),
            (4, 20, 130, 80, 20, 95, "Mix."),
        )
    )
    title, empty, first, second, third = text.splitlines()
    assert (title.strip(), title[0], empty, second, third) == ("CREAM", " ", "", "Lard", "Mix.")
    assert first.split() == ["Wax", "2"]
    assert "   " in first
    assert [text[word.start : word.end] for word in words] == text.split()
    assert words[2].box == Box(300, 70, 320, 90)


def test_a_row_of_dots_is_dots_whatever_letters_were_seen_in_it_and_a_dash_stays_a_dash() -> None:
    rows = [(1, 20, 10, 60, 22, 90, "Wax"), (1, 90, 28, 200, 4, 20, "sscccee"), (1, 300, 10, 20, 22, 90, "2")]
    assert set(words_of(table(*rows))[0].split()[1]) == {"."}
    rows[1] = (1, 90, 20, 40, 4, 90, "\N{EM DASH}")
    assert words_of(table(*rows))[0].split()[1] == "\N{EM DASH}"


@given(
    st.lists(
        st.tuples(
            st.integers(1, 5),
            st.integers(0, 3000),
            st.integers(0, 3000),
            st.integers(1, 300),
            st.integers(1, 60),
            st.floats(0, 100),
            st.text("abcxyz0123½ʒ.,—", min_size=1, max_size=8),
        ),
        max_size=20,
    )
)
def test_each_word_stands_in_the_text_where_it_says(rows: list[tuple[object, ...]]) -> None:
    text, words = words_of(table(*sorted(rows, key=lambda row: str(row[0]))))
    assert all(text[word.start : word.end].split() for word in words)
    assert "".join(text[word.start : word.end] for word in words) == "".join(text.split())


@pytest.mark.parametrize(
    "words", ["no table\nat all", "level\ttext\n5\tWax", "\t".join(HEAD) + "\n" + "\t".join("5abcdefghijk")]
)
def test_what_is_no_table_of_words_is_refused(words: str) -> None:
    with pytest.raises(InputError, match="no table of words"):
        words_of(words)


@pytest.mark.usefixtures("program")
def test_each_line_is_read_and_its_box_is_where_it_was_drawn(tmp_path: Path) -> None:
    page = rl.read_image(picture(tmp_path, PAGE), place="England")
    assert page.titles == ("COLD CREAM", "LIP SALVE")
    assert page.languages == ("eng",)
    typed = rl.read_all(PAGE, place="England")
    said = [[(item.name, item.quantities[0].parts[0].unit) for item in one.items] for one in page.receipts]
    assert said == [[(item.name, item.quantities[0].parts[0].unit) for item in one.items] for one in typed.receipts]
    rows = PAGE.split("\n")
    for number, receipt in enumerate(page.receipts):
        for line in receipt.lines:
            row = next(n for n, drawn in enumerate(rows) if drawn.startswith(line.text[:9]) and n > 7 * number)
            (box,) = page.boxes_of(number, line.id)
            base = DRAWN.MARGIN + row * int(DOTS * DRAWN.LEADING) + DOTS
            assert box.top < base <= box.bottom + DOTS // 3
            assert page.crop(box).startswith(b"\x89PNG")
    assert "data:image/png;base64" in page._repr_html_()


@pytest.mark.usefixtures("program")
@pytest.mark.parametrize("looks", [{"skew": 0.8, "noise": 0.3}, {"skew": -1.5, "noise": 0.8}], ids=["good", "poor"])
def test_a_page_askew_with_specks_is_read_as_well(tmp_path: Path, looks: dict[str, float]) -> None:
    page = rl.read_image(picture(tmp_path, PAGE, **looks), place="England")
    assert page.titles == ("COLD CREAM", "LIP SALVE")
    assert page.turned == pytest.approx(-looks["skew"], abs=0.25)
    assert [item.name for one in page.receipts for item in one.items].count("White wax") == 2
    doubted = {word for word in page.words if word.confidence < 80}
    for number, receipt in enumerate(page.receipts):
        for line in receipt.lines:
            span = [part.span for part in page.parts if (part.receipt, part.line) == (number, line.id)]
            over = [w for w in doubted for start, end in span if w.start < end and start < w.end]
            assert not over or not all(item.certain for item in line.items) or line.kind != "ingredient"


def test_the_angle_of_a_page_is_found(tmp_path: Path) -> None:
    for skew in (-2.0, 0.0, 1.3):
        assert straightened(picture(tmp_path, PAGE, skew=skew))[1] == pytest.approx(-skew, abs=0.21)


@pytest.mark.usefixtures("program")
@pytest.mark.parametrize(
    ("said", "given", "codes"),
    [
        ({"place": "Paris", "book": "perfumer"}, (), ("fra",)),
        ({"place": "Berlin", "book": "pharmacopoeia"}, (), ("deu", "lat")),
        ({}, (), ("eng",)),
        ({"place": "Paris"}, ("English", "Latin"), ("eng", "lat")),
        ({}, "deu+fra", ("deu", "fra")),
    ],
)
def test_the_language_is_what_is_said_or_that_of_the_place(
    tmp_path: Path, said: dict[str, str], given: str | tuple[str, ...], codes: tuple[str, ...]
) -> None:
    page: PicturedPage = rl.read_image(picture(tmp_path, "Starch, 3 ounces.\nLard, 2 ounces."), languages=given, **said)
    assert page.languages == codes


def test_what_lacks_is_named_with_what_to_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = picture(tmp_path, "Starch, 3 ounces.")
    with pytest.raises(InputError, match=r"'Germna' is no language read here.*Nearest: German"):
        rl.read_image(path, languages="Germna")
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(
        InputError, match=r"Tesseract, which reads pictures, is not installed.*apt install tesseract-ocr"
    ):
        rl.read_image(path)
    stand_in = tmp_path / "tesseract"
    stand_in.write_text("#!/bin/sh\necho 'List of available languages (1):'\necho eng\n", encoding="utf-8")
    stand_in.chmod(stand_in.stat().st_mode | stat.S_IEXEC)
    with pytest.raises(InputError, match=r"no data for French.*apt install tesseract-ocr-fra"):
        rl.read_image(path, place="Paris")


def test_a_file_that_is_no_picture_is_refused(tmp_path: Path) -> None:
    broken = tmp_path / "page.png"
    broken.write_bytes(b"\x89PNG\r\n\x1a\nnothing more")
    with pytest.raises(FileError, match="cannot be read as a picture"):
        rl.read_image(broken)
    with pytest.raises(FileError, match="No such file"):
        opened(tmp_path / "nowhere.png")
    with pytest.raises(InputError, match="this is no picture"):
        rl.read_image(tmp_path / "page.pdf")


@pytest.mark.usefixtures("program")
def test_an_empty_page_says_that_no_word_was_found(tmp_path: Path) -> None:
    Image.new("L", (900, 600), 255).save(tmp_path / "page.png")
    with pytest.raises(InputError, match="no word was found"):
        rl.read_image(tmp_path / "page.png")
