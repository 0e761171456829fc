"""Show what the desk answered, on a terminal."""

import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from rich.console import Console
from rich.table import Table

from haulm.cli.data import as_json
from haulm.desk.garden.opening import day_for
from haulm.desk.showing.sheets import refuse_blocked
from haulm.measure.errors import AuditFailedError, FaultsFoundError, HaulmError
from haulm.measure.findings import Finding, Grade
from haulm.notebook.garden import Garden
from haulm.notebook.values import EARLIEST_YEAR, LATEST_YEAR

PAGE_COLUMNS = 160
"""How wide an answer may be where no terminal says how wide it is [columns]."""

GRADE_WORDS = {Grade.FAULT: "To mend", Grade.WARNING: "Take care", Grade.NOTE: "Note"}


def out() -> Console:
    """Give the console that answers go to; as wide as the words need when it is no terminal."""
    return Console(
        soft_wrap=False, highlight=False, width=None if sys.stdout.isatty() else PAGE_COLUMNS
    )


def line(text: str) -> None:
    """Print one line."""
    out().print(text, markup=False)


def data(value: object) -> None:
    """Print records as JSON."""
    sys.stdout.write(as_json(value) + "\n")


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], title: str = "") -> None:
    """Print a ruled table; heads that start with ``>`` are ranged right."""
    if title:
        line(title)
    ruled = Table(box=None, pad_edge=False)
    for head in heads:
        ruled.add_column(head.lstrip(">"), justify="right" if head.startswith(">") else "left")
    for row in rows:
        ruled.add_row(*row)
    out().print(ruled, markup=False)


def findings(found: Sequence[Finding], console: Console | None = None) -> None:
    """Print findings: the grade, where, what, and how to mend it."""
    for finding in found:
        text = f"{GRADE_WORDS[finding.grade]}: {finding.where}: {finding.what} {finding.remedy}"
        (console or out()).print(text.rstrip(), markup=False, soft_wrap=True)


def aside(found: Sequence[Finding]) -> None:
    """Print findings on standard error, beside the answer."""
    findings(found, Console(stderr=True, highlight=False))


def save(path: Path, content: bytes) -> None:
    """Write a file.

    Raises
    ------
    FaultsFoundError
        When it cannot be written.
    """
    try:
        path.write_bytes(content)
    except OSError as error:
        what = f"it cannot be written: {error.strerror}."
        raise FaultsFoundError([Finding(str(path), what, "Name another file.")]) from None


def save_all(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files into a folder, which is made where it is not there, and say which.

    Raises
    ------
    FaultsFoundError
        When the folder cannot be made, or a file cannot be written.
    """
    refuse_blocked(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        what = f"no folder can be made there: {error.strerror}."
        raise FaultsFoundError([Finding(str(folder), what, "Name another folder.")]) from None
    for name, content in files.items():
        save(folder / name, content)
        wrote(folder / name)


def wrote(path: Path, left_out: Iterable[tuple[str, int]] = ()) -> None:
    """Say that a file was written, and how much of which sections found no room in it."""
    line(f"Wrote {path}")
    for title, number in left_out:
        line(f"Left out for want of room: {number} of {title.lower()}.")


def checked(found: Sequence[Finding]) -> None:
    """Print what a check found, or that there is nothing to mend."""
    findings(found)
    line("Nothing to mend." if found else "Nothing to mend, nothing to note.")


def refusal(error: HaulmError, *, as_json: bool) -> None:
    """Tell why haulm refuses: every finding at once, on standard error or as data."""
    found: Sequence[Finding] = ()
    if isinstance(error, FaultsFoundError | AuditFailedError):
        found = error.findings
    if as_json:
        data({"findings": found or [Finding("haulm", str(error))]})
        return
    console = Console(stderr=True, highlight=False)
    if isinstance(error, AuditFailedError):
        console.print("The plan does not add up when re-added, so it is not shown:", markup=False)
    if found:
        findings(found, console)
    else:
        console.print(str(error), markup=False, soft_wrap=True)


def day_of(text: str | None, garden: Garden | Path | None = None) -> date:
    """Read a day as typed, or take the one that counts as today, in a garden where one is named.

    Raises
    ------
    FaultsFoundError
        When it is no day, or one in no year that a garden knows; where none is typed, with every
        fault in the garden.
    """
    if text is None:
        true_day = date.today()  # noqa: DTZ011  # a garden's today is the grower's own
        return true_day if garden is None else day_for(garden, None, true_day)
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = None
    if day is None or not EARLIEST_YEAR <= day.year <= LATEST_YEAR:
        what = f"{text} is no day from {EARLIEST_YEAR} to {LATEST_YEAR}."
        raise FaultsFoundError([Finding("--on", what, "Write it as in 2027-02-01.")])
    return day


@contextmanager
def working(what: str) -> Iterator[Callable[[str], None]]:
    """Say on standard error that something is being done that takes a moment.

    What it gives says something else in its place.
    """
    with Console(stderr=True).status(what) as status:
        yield status.update
