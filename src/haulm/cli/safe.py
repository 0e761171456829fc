"""The verbs that keep a notebook safe: copy it, put a copy back, read a damaged one."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from haulm.cli import show
from haulm.cli.options import Notebook
from haulm.desk.garden import safekeeping
from haulm.desk.garden.exchange import notebook_here


def backup(
    notebook: Notebook = None,
    to: Annotated[
        Path | None,
        typer.Option("--to", help="The folder to copy into; by default copies, beside it."),
    ] = None,
) -> None:
    """Copy the notebook, whole at one moment, also while its pages are open."""
    copy = safekeeping.back_up(notebook_here(notebook), to, _now())
    show.line(f"Copied to {copy}")


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
