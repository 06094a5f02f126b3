"""Do the whole job as a person does, in a real JupyterLab, and hold what is shown to what the library says."""

from __future__ import annotations

import signal
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import psutil
import pytest
from playwright.sync_api import Page, expect

from reconlab.benchwork import bench
from reconlab.record import formula_of, open_record
from reconlab.writeup import write

from .looking import LOOKS, PANEL, kept, pick, picture, run_here, serious, until

TEXT = """Parade White.
Flake white ............ 1 oz.
Oxide of zinc .......... ½ oz.
French chalk ........... 2 dr.
Glycerine .............. 3 fl. dr.
Rose water ............. to 8 fl. oz."""
SAVED_S = 2.0  # longer than what is typed takes to be in the record
Open = Callable[..., Page]
GoTo = Callable[..., None]
Tables = Callable[..., list[list[list[str]]]]


def shown_formula(page: Page, tables: Tables) -> list[list[str]]:
    """Return the rows of the table that has grams and shares."""
    found = [table for table in tables(page.locator(PANEL)) if table and len(table[0]) == 3 and "%" not in table[0][0]]
    return found[0] if found else []


def rows(result: Any) -> list[list[str]]:
    return [[cell.strip() for cell in row] for row in result.card().tables[0].rows]


@pytest.mark.parametrize(
    ("notebook", "cells"),
    [("00_the_whole_job.ipynb", 14), ("02_which_ounce_which_pint.ipynb", 19)],
    ids=lambda words: str(words)[:2],
)
def test_a_notebook_runs_without_a_fault(window: Open, notebook: str, cells: int) -> None:
    page = window(notebook)
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.get_by_role("menuitem", name="Run All Cells", exact=True).click()
    answer = page.locator(".jp-CodeCell").last
    expect(answer.locator(".jp-InputPrompt")).to_have_text(f"[{cells}]:", timeout=60_000)
    expect(answer.locator(".jp-OutputArea-output")).to_contain_text("not yet")
    assert page.locator("[data-mime-type='application/vnd.jupyter.stderr']").count() == 0
    assert page.locator(".jp-RenderedText[data-mime-type*=error]").count() == 0


def test_the_panel_of_a_book_settles_for_the_book_and_says_what_each_field_is_for(
    window: Open, lab: Any, go_to: GoTo
) -> None:
    notebook, path = lab.own("of-a-book")
    page = window(notebook)
    run_here(page)
    go_to(page, "The receipt as printed")
    page.keyboard.insert_text(TEXT)
    kept(path, lambda record: "Rose water" in record.transcription)
    page.locator(".jp-CodeCell").last.locator(".cm-content").click()
    page.keyboard.press("Control+A")
    page.keyboard.insert_text("rl.book_panel(work)")
    page.keyboard.press("Control+Enter")
    panel = page.locator(PANEL).last
    expect(panel.get_by_role("heading", name="What the signs of a book came to")).to_be_visible()
    field = panel.get_by_label("What the author says of his weights")
    field.focus()
    assert "before all customs" in str(field.get_attribute("title"))
    field.press_sequentially("all weights are troy")
    panel.get_by_role("button", name="Undo").focus()  # what is left is told
    kept(path, lambda record: record.source.rule == "all weights are troy")


def test_a_receipt_goes_from_the_page_to_the_article_by_keyboard_alone(
    window: Open, lab: Any, go_to: GoTo, tables: Tables, tmp_path: Path
) -> None:
    notebook, path = lab.own("by-keyboard")
    page = window(notebook)
    run_here(page)

    go_to(page, "The receipt as printed")
    page.keyboard.insert_text(TEXT)  # as a paste gives it
    took = until(lambda: "Rose water" in open_record(path).transcription)
    print(f"\npasted text in the record after {took:.2f} s")
    go_to(page, "Year")
    page.keyboard.type("1911")
    kept(path, lambda record: record.source.years == "1911")
    go_to(page, "Place")
    page.keyboard.type("England")
    kept(path, lambda record: record.source.place == "England")
    go_to(page, "Kind of book")
    pick(page, "dispensing")
    record = kept(path, lambda record: record.source.kind == "dispensing")
    until(lambda: shown_formula(page, tables) == rows(formula_of(record)))

    go_to(page, "Form")
    pick(page, "liquid face white")
    go_to(page, "Law")
    pick(page, "EU")
    kept(path, lambda record: record.use and record.use.law == "EU")

    go_to(page, "Question")
    pick(page, "Whose pounds and ounces")
    expect(page.locator(f"{PANEL} .widget-radio-box label").first).to_contain_text("avoirdupois")
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    go_to(page, "Because")
    page.keyboard.type("the counter scale is marked so")
    go_to(page, "Settle it")
    page.keyboard.press("Enter")
    record = kept(path, lambda record: record.decisions)
    assert (record.decisions[0].question, record.decisions[0].option) == ("weights", "avoirdupois")
    assert record.decisions[0].because == "the counter scale is marked so"
    until(lambda: shown_formula(page, tables) == rows(formula_of(record)))

    go_to(page, "Take out")
    pick(page, "Flake white")
    go_to(page, "Put in")
    page.keyboard.type("zinc oxide")
    go_to(page, "Name of the version")
    page.keyboard.type("zinc for lead")
    go_to(page, "Because")
    page.keyboard.type("zinc is the harmless white")
    go_to(page, "Replace")
    page.keyboard.press("Enter")
    record = kept(path, lambda record: record.versions)
    until(lambda: shown_formula(page, tables) == rows(formula_of(record, "zinc for lead")))

    go_to(page, "Version to make")
    pick(page, "zinc for lead")
    go_to(page, "Plan the bench")
    page.keyboard.press("Enter")
    record = kept(path, lambda record: record.batches)
    plan = bench(formula_of(record, "zinc for lead"), make="50 g", balance="0.01 g", use=record.use)
    assert len(plan.lines) == 5
    until(lambda: rows(plan) in tables(page.locator(PANEL)))

    go_to(page, "Write")
    page.keyboard.press("Enter")
    until(lambda: list((lab.folder / "out").glob("*.html")))
    expect(page.locator(PANEL)).to_contain_text("Written:")
    for ours in write(open_record(path), tmp_path):
        assert (lab.folder / "out" / ours.name).read_bytes() == ours.read_bytes()
    assert page.locator(".jp-Cell").count() == 4  # no key of ours was taken for one of the notebook's


def test_what_is_typed_is_kept_and_a_dead_kernel_loses_nothing(
    window: Open, lab: Any, go_to: GoTo, tables: Tables
) -> None:
    notebook, path = lab.own("kernel-dies")
    page = window(notebook)
    run_here(page)
    go_to(page, "The receipt as printed")
    page.keyboard.type("Powder.\nStarch, 3 oz.\nOrris root, 1 oz.", delay=20)
    took = until(lambda: "Orris root, 1 oz." in open_record(path).transcription)
    print(f"\ntyped text in the record {took:.2f} s after the last key")
    go_to(page, "Year")
    page.keyboard.type("1911")
    kept(path, lambda record: record.source.years == "1911")

    kernels = [
        child for child in psutil.Process(lab.process).children(recursive=True) if "ipykernel" in str(child.cmdline())
    ]
    assert len(kernels) == 1
    kernels[0].send_signal(signal.SIGKILL)
    page.locator(".jp-Dialog").get_by_text("restart automatically").wait_for()
    page.locator(".jp-Dialog button.jp-mod-accept").press("Enter")
    page.locator(".jp-Dialog").wait_for(state="detached")
    lab.wait_for_kernel(page, notebook)
    old = page.locator(PANEL).element_handle()
    page.locator(".jp-CodeCell").first.focus()
    page.keyboard.press("Control+Enter")
    until(lambda: page.locator(PANEL).count() and page.evaluate("old => !old.isConnected", old))
    until(lambda: shown_formula(page, tables) == rows(formula_of(open_record(path))))
    assert page.get_by_label("Year").input_value() == "1911"
    go_to(page, "Place")
    page.keyboard.type("England")
    kept(path, lambda record: record.source.place == "England" and "Orris" in record.transcription)


def test_a_second_tab_on_a_record_may_look_and_not_write(window: Open, lab: Any, go_to: GoTo) -> None:
    notebook, path = lab.own("two-tabs")
    other = "two-tabs-again.ipynb"
    (lab.folder / other).write_bytes((lab.folder / notebook).read_bytes())
    first, second = window(notebook), window(other)
    run_here(first)
    go_to(first, "The receipt as printed")
    first.keyboard.type("Starch, 3 oz.")
    kept(path, lambda record: "Starch" in record.transcription)
    run_here(second)
    expect(second.locator(PANEL)).to_contain_text("another notebook is working on this record")
    assert second.get_by_label("The receipt as printed").input_value().strip() == "Starch, 3 oz."
    before = path.read_bytes()
    go_to(second, "Look again")
    second.keyboard.press("Enter")
    time.sleep(SAVED_S)
    assert path.read_bytes() == before
    go_to(first, "Year")
    first.keyboard.type("1911")
    kept(path, lambda record: record.source.years == "1911")


@pytest.mark.parametrize(("width", "dark"), LOOKS, ids=["wide", "wide dark", "narrow", "narrow dark"])
def test_what_we_show_is_for_everybody_and_fits(
    width: int,
    dark: bool,
    window: Open,
    lab: Any,
    go_to: GoTo,
    tables: Tables,
) -> None:
    name = f"looks-{width}{'-dark' * dark}"
    notebook, path = lab.own(name)
    path.write_bytes((lab.folder / "demo" / "parade-white.yaml").read_bytes())
    page = window(notebook, width=width, dark=dark)
    run_here(page)
    until(lambda: shown_formula(page, tables))
    go_to(page, "Plan the bench")
    page.keyboard.press("Enter")
    expect(page.locator(PANEL)).to_contain_text("described, not made")
    assert serious(page) == []
    assert page.locator(PANEL).evaluate("panel => panel.scrollWidth <= panel.clientWidth + 1"), "it is cut off"
    picture(page, f"09-{name}")
    if width == 1280:
        first = window("00_the_whole_job.ipynb", width=width, dark=dark)
        first.locator(".jp-OutputArea-output table").first.wait_for()
        assert serious(first) == []
        picture(first, f"00-{name}")
