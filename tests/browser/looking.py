"""What the tests in the browser do again and again: run a cell, wait, pick from a list, look for faults."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from pathlib import Path

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page  # noqa: TC002 - as the tests beside it import it

from reconlab.record import Reconstruction, open_record

PANEL = ".rl-panel"
LOOKS = [(1280, False), (1280, True), (768, False), (768, True)]
OURS = ".jp-Cell-outputArea .jp-OutputArea-output"  # JupyterLab's own page has faults that are not ours


def run_here(page: Page) -> None:
    """Run the first code cell by keyboard, and stay in it."""
    page.locator(".jp-CodeCell").first.focus()
    page.keyboard.press("Control+Enter")
    page.locator(PANEL).wait_for()


def until(says: Callable[[], object], seconds: float = 10) -> float:
    """Wait until something is so, and return how long it took."""
    start = time.monotonic()
    while not says():
        assert time.monotonic() - start < seconds, "it did not come about"
        time.sleep(0.02)
    return time.monotonic() - start


def kept(path: Path, says: Callable[[Reconstruction], object]) -> Reconstruction:
    """Return the record once it says so."""
    until(lambda: path.exists() and says(open_record(path)))
    return open_record(path)


def pick(page: Page, words: str) -> None:
    """Choose from the list that has the focus, by typing the beginning of the words."""
    page.keyboard.type(words)
    chosen = page.evaluate("document.activeElement.options[document.activeElement.selectedIndex].text")
    assert chosen.replace("\N{NO-BREAK SPACE}", " ").startswith(words), chosen


def serious(page: Page) -> list[str]:
    """Return what axe finds in what we show."""
    response = Axe().run(page, context={"include": [[OURS]]}).response
    found = [*response["violations"], *(one for one in response["incomplete"] if one["id"] == "duplicate-id-aria")]
    return [
        f"{fault['id']}: {fault['help']}: {node['html'][:200]}"
        for fault in found
        if fault["impact"] in ("serious", "critical")
        for node in fault["nodes"]
    ]


def picture(page: Page, name: str) -> None:
    """Keep a picture of the whole notebook where a folder for pictures is named."""
    if folder := os.environ.get("RECONLAB_PICTURES"):
        whole = page.locator(".jp-WindowedPanel-outer").evaluate(
            "seen => { seen.scrollTop = 0; return seen.firstElementChild.scrollHeight + 150; }"
        )
        page.set_viewport_size({"width": page.viewport_size["width"], "height": min(int(whole), 12_000)})
        page.wait_for_timeout(300)
        page.screenshot(path=Path(folder) / f"{name}.png")
