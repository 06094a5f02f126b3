"""A real JupyterLab, as `reconlab lab` opens it, and a real browser."""

from __future__ import annotations

import json
import os
import shutil
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect, sync_playwright

NAMES = ("chromium", "chromium-browser", "google-chrome")
READY = ".jp-Notebook-ExecutionIndicator[data-status=idle]"
SLOW_MS = 30_000  # for whatever a busy machine takes
TABS = 200  # more presses of Tab than any page of ours has stops


@dataclass
class Lab:
    """A folder of notebooks, open in JupyterLab; each page is a window of its own."""

    folder: Path
    address: str
    token: str
    process: int
    browser: Browser
    _number: Iterator[int] = field(default_factory=count)

    def open(self, notebook: str, *, width: int = 1280, height: int = 900, dark: bool = False) -> Page:
        """Open a notebook in a new window, ready to run."""
        context = self.browser.new_context(viewport={"width": width, "height": height})
        context.set_default_timeout(SLOW_MS)
        page = context.new_page()
        self._choose_theme("JupyterLab Dark" if dark else "JupyterLab Light")
        space = f"lab/workspaces/own-{next(self._number)}"
        page.goto(f"{self.address}/{space}/tree/{notebook}?token={self.token}")
        self.wait_for_kernel(page, notebook)
        page.wait_for_function("() => document.activeElement && document.activeElement.closest('.jp-Cell')")
        return page

    def wait_for_kernel(self, page: Page, notebook: str) -> None:
        """Wait until a key that runs a cell is heeded: the server has the kernel, and the page knows it."""
        expect(page.locator(".jp-Toolbar-kernelName")).to_have_text("Python 3 (ipykernel)", timeout=SLOW_MS)
        end = time.monotonic() + SLOW_MS / 1000
        while not any(
            session["path"] == notebook
            and session["kernel"]["execution_state"] == "idle"
            and session["kernel"]["connections"]
            for session in self.sessions()
        ):
            assert time.monotonic() < end, self.sessions()
            page.wait_for_timeout(50)
        page.locator(READY).wait_for(state="attached")

    def sessions(self) -> list[dict[str, Any]]:
        """Return what the server says of its notebooks and their kernels."""
        with urllib.request.urlopen(f"{self.address}/api/sessions?token={self.token}") as answer:
            return json.load(answer)

    def end_kernels(self) -> None:
        """End every kernel."""
        for session in self.sessions():
            address = f"{self.address}/api/sessions/{session['id']}"
            header = {"Authorization": f"token {self.token}"}
            urllib.request.urlopen(urllib.request.Request(address, method="DELETE", headers=header)).close()

    def _choose_theme(self, name: str) -> None:
        setting = (
            self.folder.parent / "jupyter" / "SETTINGS" / "@jupyterlab/apputils-extension/themes.jupyterlab-settings"
        )
        setting.parent.mkdir(parents=True, exist_ok=True)
        setting.write_text(json.dumps({"theme": name}), encoding="utf-8")

    def own(self, record: str) -> tuple[str, Path]:
        """Return a notebook for a record of its own, and where the record will be."""
        name = f"{record}.ipynb"
        cells = json.loads((self.folder / "09_your_own_receipt.ipynb").read_text(encoding="utf-8"))
        text = json.dumps(cells).replace("my-receipt.yaml", f"{record}.yaml")
        (self.folder / name).write_text(text, encoding="utf-8")
        return name, self.folder / f"{record}.yaml"


@pytest.fixture(scope="session")
def chromium() -> str:
    """Return the browser; where there is none the tests are passed over, but never in CI."""
    found = next(filter(None, map(shutil.which, NAMES)), None)
    if found is None and os.environ.get("CI") == "true":
        pytest.fail("no Chromium was found: install the Debian package chromium")
    if found is None:
        pytest.skip("no Chromium was found, so nothing was tried in a browser")
    return found


@pytest.fixture(scope="module")  # no longer: while it stands, its event loop runs, and other tests have their own
def lab(
    chromium: str,
    tmp_path_factory: pytest.TempPathFactory,
    served: Callable[..., AbstractContextManager[Any]],
) -> Iterator[Lab]:
    home = tmp_path_factory.mktemp("lab")
    with served(home / "jupyter", str(home / "work")) as jupyter, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        yield Lab(home / "work", jupyter.address, jupyter.token, jupyter.process, browser)
        browser.close()


@pytest.fixture
def window(lab: Lab) -> Iterator[Callable[..., Page]]:
    """Return what opens a notebook; its windows are closed and their kernels ended after the test."""
    opened: list[Page] = []

    def open_(notebook: str, **looks: Any) -> Page:
        opened.append(lab.open(notebook, **looks))
        return opened[-1]

    yield open_
    for page in opened:
        page.context.close()
    lab.end_kernels()


def focused(page: Page) -> str:
    """Return the label of what has the focus, as a screen reader would say it."""
    return page.evaluate(
        """() => { const on = document.activeElement;
          if (!on) return '';
          const named = on.labels && on.labels.length ? on.labels[0].textContent : '';
          return (on.getAttribute('aria-label') || named || on.textContent || '').trim(); }"""
    )


@pytest.fixture
def go_to() -> Callable[..., None]:
    """Return what presses Tab until the control of that label has the focus."""

    def press(page: Page, label: str, *, key: str = "Tab") -> None:
        passed = []
        for _ in range(TABS):
            page.keyboard.press(key)
            passed.append(focused(page)[:40])
            if passed[-1] == label[:40]:
                return
        pytest.fail(f"{label!r} is not reached by {key}: {passed}")

    return press


@pytest.fixture
def tables() -> Callable[[Locator], list[list[list[str]]]]:
    """Return what reads the tables of a place: the rows of each, without its headings."""

    def read(place: Locator) -> list[list[list[str]]]:
        return place.evaluate(
            """place => [...place.querySelectorAll('table')].map(table => [...table.querySelectorAll('tbody tr')]
               .map(row => [...row.children].map(cell => cell.textContent.trim())))"""
        )

    return read
