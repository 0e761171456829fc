"""The verbs that keep a notebook safe: copy it, put a copy back, read a damaged one."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from haulm.cli import show
from haulm.cli.options import AsJson, Garden, Notebook
from haulm.desk.garden import safekeeping
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.garden.notebook_check import check_all
from haulm.desk.garden.opening import TOML


def backup(
    notebook: Notebook = None,
    to: Annotated[
        Path | None,
        typer.Option("--to", help="The folder to copy into; by default copies, beside it."),
    ] = None,
    keep: Annotated[
        int | None,
        typer.Option("--keep", min=1, help="Keep so many of these copies; the oldest go."),
    ] = None,
) -> None:
    """Copy the notebook, whole at one moment, also while its pages are open."""
    path = notebook_here(notebook)
    copy = safekeeping.back_up(path, to, _now())
    show.line(f"Copied to {copy}")
    for old in safekeeping.drop_oldest(path, to, keep) if keep else ():
        show.line(f"Taken out: {old}")


def copied_weekly(path: Path) -> None:
    """Copy a notebook that was written in where it is time, and say what stood in the way."""
    if path.suffix.lower() != TOML:
        show.aside(safekeeping.copy_weekly(path, _now()))


def check(garden: Garden, as_json: AsJson = False) -> None:
    """Check a garden, and of a notebook every row, the newest plan and the copies too."""
    with show.working("Looking through it"):
        found = check_all(garden, _now())
    if as_json:
        show.data(found.findings)
        return
    show.checked(found.findings)
    for one in found.looked_at:
        show.line(f"{one.what[:1].upper()}{one.what[1:]}: {one.found}.")


def restore(
    copy: Annotated[Path, typer.Argument(help="The copy to put back.")],
    notebook: Annotated[Path, typer.Argument(help="The notebook in whose place it goes.")],
) -> None:
    """Put a copy back; the notebook that is there now is kept beside it under another name."""
    aside = safekeeping.restore(copy, notebook, _now())
    show.line(f"{notebook} is the copy now.")
    if aside is not None:
        show.line(f"What was there lies at {aside}")


def rescue(
    damaged: Annotated[Path, typer.Argument(help="The damaged notebook; it is not touched.")],
    new: Annotated[Path, typer.Argument(help="The new notebook to make of what can be read.")],
) -> None:
    """Read what can be read of a damaged notebook into a new one."""
    found, told = safekeeping.rescued(damaged, new)
    show.findings(told)
    rows = sum(one.rows for one in found)
    show.line(f"{rows} rows were read into {new}. Look it over with haulm check.")


def _now() -> datetime:
    return datetime.now(UTC).astimezone()
