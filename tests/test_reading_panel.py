"""A page on the desk and in its panel: several receipts, lines corrected, pictures; nothing printed is lost."""

import shutil
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

import reconlab as rl
from reconlab.errors import InputError, SeveralReceiptsError, UnknownNameError
from reconlab.panels.reading import ReadingPanel
from reconlab.panels.saving import SETTLES_S
from reconlab.record import orphans
from reconlab.workdesk import Desk

PAGE = """COLD CREAM.

White vax, 1 oz.
Oil of almonds, 4 oz.

LIP SALVE.

White wax, 112 oz.
Lard, 3 oz."""
PROMISED_S = 2.0  # from the last key to the record


@pytest.fixture
def work(tmp_path: Path) -> Iterator[Desk]:
    made = rl.desk(tmp_path / "page.yaml")
    yield made
    made.close()


@pytest.fixture
def drawn_page(tmp_path: Path) -> Path:
    """Return the picture of a page, drawn in the type that comes with matplotlib."""
    import matplotlib as mpl  # noqa: PLC0415
    from PIL import Image, ImageDraw, ImageFont  # noqa: PLC0415

    font = ImageFont.truetype(str(Path(mpl.get_data_path()) / "fonts" / "ttf" / "DejaVuSerif.ttf"), 42)
    made = Image.new("L", (1200, 500), 255)
    ImageDraw.Draw(made).multiline_text((100, 60), "LIP SALVE.\n\nWhite wax, 2 ounces.\nLard, 3 ounces.", 0, font)
    made.save(tmp_path / "drawn.png")
    return tmp_path / "drawn.png"


@pytest.fixture
def panel(work: Desk) -> ReadingPanel:
    made = rl.reading_panel(work)
    made.text.value = PAGE
    made.typed.now()
    return made


def test_a_page_of_several_is_kept_and_the_one_that_is_meant_is_chosen(work: Desk) -> None:
    with pytest.raises(SeveralReceiptsError, match="COLD CREAM; LIP SALVE"):
        work.read(PAGE)
    work.read_page(PAGE)
    assert "The page holds 2 receipts: COLD CREAM; LIP SALVE" in str(work)
    assert 'work.choose("COLD CREAM")' in str(work)
    with pytest.raises(UnknownNameError, match="There are: COLD CREAM; LIP SALVE"):
        work.choose("Pomade")
    work.choose("lip salve")
    assert [item.name for item in work.receipt.items] == ["White wax", "Lard"]
    work.close()
    again = rl.desk(work.path)
    assert again.receipt.title == "LIP SALVE"
    assert again.record.transcription.strip() == PAGE
    again.close()


def test_a_corrected_line_is_a_decision_and_the_page_stays_as_printed(work: Desk) -> None:
    work.read_page(PAGE).choose("COLD CREAM")
    work.correct("White vax,  1 oz.", "White wax, 1 oz.", because="the other copy is clear")
    assert work.receipt.items[0].name == "White wax"
    assert work.record.transcription.strip() == PAGE
    assert work.record.decisions[0].because == "the other copy is clear"
    assert orphans(work.record) == ()
    assert "is to read 'White wax, 1 oz.', because: the other copy is clear" in str(work.as_read)
    with pytest.raises(UnknownNameError, match="no line 'Talc'"):
        work.correct("Talc", "Chalk")
    work.correct("White vax, 1 oz.", "White vax, 1 oz.")
    assert work.record.decisions == ()
    work.undo()
    assert work.receipt.items[0].name == "White wax"


def test_a_correction_stands_in_the_write_up_with_its_reason(work: Desk, tmp_path: Path) -> None:
    work.read_page(PAGE).choose("COLD CREAM")
    work.correct("White vax, 1 oz.", "White wax, 1 oz.", because="the other copy is clear")
    page = next(path for path in work.write(tmp_path / "out") if path.suffix == ".html").read_text(encoding="utf-8")
    assert "White vax" in page
    assert "the other copy is clear" in page


def test_what_is_typed_is_saved_within_two_seconds_of_the_last_key(work: Desk) -> None:
    panel = rl.reading_panel(work)
    panel.text.value = PAGE
    start = time.monotonic()
    while rl.open_record(work.path).transcription.strip() != PAGE:
        assert time.monotonic() - start < PROMISED_S
        time.sleep(0.05)
    assert SETTLES_S < PROMISED_S


def test_the_panel_chooses_corrects_and_goes_on_by_calls_of_the_desk(panel: ReadingPanel) -> None:
    panel.go_on.click()
    assert "no receipt is read yet" in panel.next_said.text
    panel.which.value = "LIP SALVE"
    panel.choose.click()
    assert [key for _, key in panel.question.options] == ["reading: 112 oz. White wax"]
    panel.line.value = "White vax, 1 oz."
    assert panel.reads.value == "White vax, 1 oz."
    panel.reads.value, panel.reads_because.value = "White wax, 1 oz.", "clear elsewhere"
    panel.correct.click()
    record = rl.open_record(panel.work.path)
    assert (record.title, record.decisions[0].option) == ("LIP SALVE", "White wax, 1 oz.")
    assert 'work.choose("LIP SALVE")' in panel.code.value
    assert 'work.correct("White vax, 1 oz.", "White wax, 1 oz.", because="clear elsewhere")' in panel.code.value
    panel.go_on.click()
    assert len(panel.next.children) == 1
    panel.undo.click()
    assert rl.open_record(panel.work.path).decisions == ()


def test_a_pick_not_taken_yet_outlives_what_is_typed(panel: ReadingPanel) -> None:
    panel.which.value = "LIP SALVE"
    panel.fields["years"].value = "1890"
    panel.choose.click()
    assert panel.work.record.title == "LIP SALVE"


def test_what_a_page_prints_is_never_code(panel: ReadingPanel) -> None:
    panel.text.value = "CREAM.\n<script>alert(1)</script> wax, 2 oz.\nLard & oil, 3 oz."
    panel.typed.now()
    assert "<script" not in panel.as_read.value
    assert "&lt;" in panel.as_read.value


def test_a_picture_that_is_not_there_is_said_in_the_panel(panel: ReadingPanel) -> None:
    panel.open.click()
    assert "no picture is named" in panel.picture_said.text
    panel.picture.value = "nowhere.png"
    panel.open.click()
    assert "nowhere.png" in panel.picture_said.text
    assert panel.work.record.transcription.strip() == PAGE


def test_a_picture_lies_beside_each_line_also_when_the_line_is_corrected(
    panel: ReadingPanel, tmp_path: Path, drawn_page: Path
) -> None:
    if shutil.which("tesseract") is None:
        pytest.skip("Tesseract was not found, so no picture was read")
    shutil.copy(drawn_page, tmp_path / "page.png")
    panel.picture.value = "page.png"
    panel.open.click()
    lines = panel.work.receipt.lines
    assert [item.name for line in lines for item in line.items] == ["White wax", "Lard"]
    assert panel.as_read.value.count("data:image/png;base64") == len(lines)
    panel.line.value = lines[1].text
    panel.reads.value = "Suet, 9 ounces."
    panel.correct.click()
    assert panel.as_read.value.count("data:image/png;base64") == len(lines)
    assert "Suet" in str(panel.work.as_read)
    with pytest.raises(InputError):
        panel.work.read_image("page.pdf")
    panel.text.value = "SOAP.\nSoda, 1 oz.\nFat, 2 oz.\nLye, 3 oz."
    panel.typed.now()
    assert "data:image/png;base64" not in panel.as_read.value
