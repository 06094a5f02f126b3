"""The panels of the page and of the names in a real JupyterLab: by keyboard, for everybody, in each look."""

from __future__ import annotations

import shutil
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from reconlab.record import open_record

from .looking import LOOKS, PANEL, kept, pick, picture, run_here, serious, until

PAGE = """COLD CREAM.

White vax, 1 oz.
Oil of almonds, 4 oz.

LIP SALVE.

White wax, 112 oz.
Lard, 3 oz."""
NAMES = "Face white.\nSpanish white, 1 oz.\nFlake white, 2 dr.\nBrillantol, 9 gr.\nRose water, 6 oz."
PROMISED_S = 2.0  # from the last key to the record

Open = Callable[..., Page]
GoTo = Callable[..., None]


def panel_of(lab: Any, name: str, kind: str) -> tuple[str, Path]:
    """Return a notebook that shows a panel of this kind, and where its record will be."""
    notebook, record = lab.own(name)
    path = lab.folder / notebook
    path.write_text(path.read_text(encoding="utf-8").replace("rl.panel(", f"rl.{kind}("), encoding="utf-8")
    return notebook, record


def test_a_page_is_pasted_chosen_from_corrected_and_handed_on_by_keyboard(window: Open, lab: Any, go_to: GoTo) -> None:
    notebook, path = panel_of(lab, "page-by-keyboard", "reading_panel")
    page = window(notebook)
    run_here(page)
    go_to(page, "The page as printed")
    page.keyboard.insert_text(PAGE[:-1])
    page.keyboard.type(PAGE[-1])
    start = time.monotonic()
    until(lambda: open_record(path).transcription.strip() == PAGE)
    took = time.monotonic() - start
    print(f"\na page in the record {took:.2f} s after the last key")
    assert took < PROMISED_S
    shown = page.locator(PANEL)
    expect(shown.get_by_role("heading", name="A page with 2 receipts")).to_be_visible()
    drawn = shown.locator("span", has_text="White vax").evaluate("one => getComputedStyle(one).textDecorationStyle")
    assert drawn == "solid"
    assert shown.locator("span", has_text="112").first.evaluate("one => getComputedStyle(one).textDecorationStyle") == (
        "double"
    )

    go_to(page, "Receipt to go on with")
    pick(page, "LIP")
    go_to(page, "Take this one")
    page.keyboard.press("Enter")
    kept(path, lambda record: record.title == "LIP SALVE")
    go_to(page, "Line to correct")
    pick(page, "White vax")
    go_to(page, "It should read")
    expect(page.locator(":focus")).to_have_value("White vax, 1 oz.")  # the line is there to be corrected
    page.keyboard.press("Control+A")
    page.keyboard.type("White wax, 1 oz.")
    go_to(page, "Correct the line")
    page.keyboard.press("Enter")
    record = kept(path, lambda record: record.decisions)
    assert (record.decisions[0].question, record.decisions[0].option) == ("line: White vax, 1 oz.", "White wax, 1 oz.")
    assert record.transcription.strip() == PAGE
    go_to(page, "Go on to the names")
    page.keyboard.press("Enter")
    expect(shown.get_by_role("heading", name="LIP SALVE: what the things were")).to_be_visible()
    assert page.locator(".jp-Cell").count() == 4  # no key of ours was taken for one of the notebook's


def test_a_name_is_settled_and_a_name_of_nothing_on_file_is_told_by_keyboard(
    window: Open, lab: Any, go_to: GoTo
) -> None:
    notebook, path = panel_of(lab, "names-by-keyboard", "names_panel")
    _with_names(path)
    page = window(notebook)
    run_here(page)
    go_to(page, "Question")
    pick(page, "What was")
    expect(page.get_by_role("radio").first).to_be_visible()  # the answers are drawn anew for the question
    page.wait_for_timeout(1000)
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    expect(page.get_by_role("radio", checked=True)).to_have_count(1)
    go_to(page, "Because")
    page.keyboard.type("it is a face white")
    go_to(page, "Settle it")
    page.keyboard.press("Enter")
    record = kept(path, lambda record: record.decisions)
    assert record.decisions[0].question in {"name: spanish white", "name: flake white"}
    assert record.decisions[0].because == "it is a face white"
    go_to(page, "It was")
    page.keyboard.type("gum arabic")
    go_to(page, "Say so")
    page.keyboard.press("Enter")
    record = kept(path, lambda record: len(record.decisions) > 1)
    assert (record.decisions[1].question, record.decisions[1].option) == ("name: brillantol", "gum arabic")
    expect(page.locator(PANEL)).to_contain_text("brillantol: gum arabic, by your word.")


@pytest.mark.parametrize(("width", "dark"), LOOKS, ids=["wide", "wide dark", "narrow", "narrow dark"])
@pytest.mark.parametrize("kind", ["reading_panel", "names_panel"])
def test_a_panel_is_for_everybody_and_fits(
    width: int, dark: bool, kind: str, window: Open, lab: Any, go_to: GoTo
) -> None:
    name = f"{kind}-{width}{'-dark' * dark}"
    notebook, path = panel_of(lab, name, kind)
    page = window(notebook, width=width, dark=dark)
    if kind == "names_panel":
        _with_names(path)
        run_here(page)
    else:
        run_here(page)
        go_to(page, "The page as printed")
        page.keyboard.insert_text(PAGE)
        kept(path, lambda record: record.transcription.strip() == PAGE)
        if shutil.which("tesseract"):
            go_to(page, "Picture of the page")
            page.keyboard.type("demo/old-page.png")
            go_to(page, "Read the picture")
            page.keyboard.press("Enter")
            expect(page.locator(f"{PANEL} img").first).to_be_visible()
            assert page.locator(f"{PANEL} img").first.get_attribute("alt").startswith("in the picture: White wax")
    page.locator(f"{PANEL} table").first.wait_for()
    expect(page.locator(PANEL)).not_to_contain_text("fault of the program")
    assert serious(page) == []
    assert page.locator(PANEL).evaluate("panel => panel.scrollWidth <= panel.clientWidth + 1"), "it is cut off"
    picture(page, name)


@pytest.mark.parametrize(("width", "dark"), LOOKS, ids=["wide", "wide dark", "narrow", "narrow dark"])
def test_the_notebook_of_old_print_is_for_everybody_as_it_is_shipped(width: int, dark: bool, window: Open) -> None:
    page = window("01_reading_old_print.ipynb", width=width, dark=dark)
    page.locator(".jp-OutputArea-output table").first.wait_for()
    assert serious(page) == []
    picture(page, f"01-{width}{'-dark' * dark}")


def _with_names(path: Path) -> None:
    import reconlab as rl  # noqa: PLC0415 - the desk is closed again before the notebook opens it

    work = rl.desk(path).read(NAMES, years="1880", place="London", book="dispensing")
    work.close()
