"""The verb about this week: what to do in the hours there are, on a dry day or a wet one."""

from pathlib import Path
from typing import Annotated

import typer

from haulm.cli import show, show_week
from haulm.cli.options import AsJson, Notebook, On, OnPaper, paper_of
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.season.week_asked import DayKind, printed, week_asked

Hours = Annotated[
    str | None,
    typer.Option(
        "--hours", help="The hours there are: 6, or sat 3, sun 2.5; else the garden's own."
    ),
]


def week(
    notebook: Notebook = None,
    on: On = None,
    hours: Hours = None,
    of: Annotated[
        str | None, typer.Option("--of", metavar="WEEK", help="Another week: 2027-W20.")
    ] = None,
    wet: Annotated[
        bool | None, typer.Option("--wet/--dry", help="What a wet day will do for; or a dry one.")
    ] = None,
    pdf: Annotated[
        Path | None, typer.Option("--pdf", metavar="FILE", help="Print it for the shed door.")
    ] = None,
    paper: OnPaper = None,
    as_json: AsJson = False,
) -> None:
    """Say what to do this week in the hours there are, and what it costs to leave it."""
    path = notebook_here(notebook)
    kind = {None: DayKind.ANY, True: DayKind.WET, False: DayKind.DRY}[wet]
    with show.working("Weighing the week's jobs"):
        found = week_asked(path, show.day_of(on, path), of, hours)
    if pdf is not None:
        show.save(pdf, printed(found.bundle, found.week, paper_of(paper, found.bundle.units)))
        show.wrote(pdf)
    elif as_json:
        show.data(found.week)
    else:
        show_week.week(found, kind)
