"""Draw the README's pictures from the newest plan of a notebook: ``make pictures``."""

import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from haulm.desk.planning.plans import kept_plan
from haulm.desk.showing.sheets import bundle_of
from haulm.sheets.pictures import draw_pictures

LAPTOP = {"width": 1280, "height": 1180}
PHONE = {"width": 360, "height": 780}
OPENED = "carrot"
"""A planting of this crop is shown opened, of all there are the one that brings most."""


@contextmanager
def served(notebook: Path) -> Iterator[str]:
    """Serve a notebook while the block runs; give its opening address."""
    command = [sys.executable, "-m", "haulm", "serve", str(notebook), "--no-browser", "--port", "0"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)  # noqa: S603 - ours
    try:
        found = re.search(r"http\S+", process.stdout.readline() if process.stdout else "")
        if found is None:
            message = "the pages were not served"
            raise RuntimeError(message)
        yield found.group()
    finally:
        process.terminate()
        process.wait()


def photograph(browser: Browser, address: str, pages: dict[str, str], size: dict[str, int]) -> None:
    """Take a picture of each page, by the file it goes into."""
    context = browser.new_context(viewport={"width": size["width"], "height": size["height"]})
    page = context.new_page()
    page.goto(address)
    for file, path in pages.items():
        page.goto(address.partition("/open/")[0] + path, wait_until="networkidle")
        page.screenshot(path=file)
        sys.stdout.write(f"Drew {file}\n")
    context.close()


def main(notebook: str, folder: str, day: str) -> None:
    """Draw the pictures of a notebook's newest plan into a folder, as printed on a day."""
    made = kept_plan(Path(notebook))
    for path in draw_pictures(bundle_of(made, date.fromisoformat(day)), Path(folder)):
        sys.stdout.write(f"Drew {path}\n")
    chosen = max(
        (one for one in made.plan.plantings if one.crop == OPENED and not one.standing),
        key=lambda one: sum(serves.kg for serves in one.serves),
    )
    laptop = {f"{folder}/year.png": f"/year/{chosen.id}", f"{folder}/table.png": "/table"}
    with sync_playwright() as playwright, served(Path(notebook)) as address:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox", "--disable-gpu"]
        )
        photograph(browser, address, laptop, LAPTOP)
        photograph(browser, address, {f"{folder}/week.png": "/week"}, PHONE)
        browser.close()


if __name__ == "__main__":
    main(*sys.argv[1:])
