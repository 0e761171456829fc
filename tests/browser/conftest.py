"""A real browser before a real server: haulm serve in a process of its own, Chromium headless."""

import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect, sync_playwright

from served import Serve, Served

DAY = date(2027, 2, 1)
LAPTOP = (1440, 900)
PHONE = (360, 740)
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
NAMES = ("chromium", "chromium-browser", "google-chrome")
WCAG = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa")
"""The rules of WCAG 2.2 at levels A and AA, as the checker groups them."""
NO_BROWSER = "These tests need Chromium, and none is installed: install your system's chromium."
PATIENCE_MS = 90_000
"""How long a page may take on a busy machine before a test calls it dead."""

expect.set_options(timeout=PATIENCE_MS)


@pytest.fixture
def serve() -> Iterator[Serve]:
    """Give a function that serves a notebook, there or not yet, as of 1 February 2027."""
    started: list[Served] = []

    def start(notebook: Path) -> Served:
        words = ["serve", str(notebook), "--no-browser", "--port", "0", "--on", DAY.isoformat()]
        command = [sys.executable, "-m", "haulm", *words]
        process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)  # noqa: S603 - ours
        assert process.stdout is not None
        line = process.stdout.readline()
        served = Served(notebook, line.split(" at ", 1)[1].strip(), process)
        started.append(served)
        return served

    yield start
    for served in started:
        served.kill()
        if served.process.stdout is not None:
            served.process.stdout.close()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Give one headless Chromium for all tests of a worker."""
    path = next((found for name in NAMES if (found := shutil.which(name))), None)
    if path is None:
        pytest.fail(NO_BROWSER)
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=path, args=list(FLAGS))
        yield chromium
        chromium.close()


@pytest.fixture
def open_page(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Give a function that opens a page in a window of its own: address, width and height [px]."""
    contexts = []

    def opening(address: str, size: tuple[int, int] = LAPTOP, **more: object) -> Page:
        viewport = {"width": size[0], "height": size[1]}
        context = browser.new_context(viewport=viewport, **more)  # type: ignore[arg-type]
        context.set_default_timeout(PATIENCE_MS)
        contexts.append(context)
        page = context.new_page()
        page.goto(address)
        return page

    yield opening
    for context in contexts:
        context.close()


@pytest.fixture
def accessible() -> Callable[[Page], None]:
    """Give a function that holds a page to WCAG 2.2 AA, as far as a checker can."""

    def check(page: Page) -> None:
        found = Axe().run(page, options={"runOnly": {"type": "tag", "values": list(WCAG)}})
        assert found.violations_count == 0, found.generate_report()

    return check
