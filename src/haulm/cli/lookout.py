"""The verb that says what to look out for."""

from datetime import UTC, date, datetime
from typing import Annotated

import typer

from haulm.cli import show
from haulm.cli.options import AsJson, Notebook, On
from haulm.cli.safe import copied_weekly
from haulm.desk.at_hand import AtHand
from haulm.desk.garden.exchange import notebook_here
from haulm.desk.season.watch import watch_of
from haulm.desk.season.watch_means import keep_means, means_asked
from haulm.season.blight_rules import BlightBy
from haulm.season.watch_records import Watch


def lookout(
    notebook: Notebook = None,
    on: On = None,
    blight: Annotated[
        list[BlightBy] | None,
        typer.Option("--blight", help="A rule on blight to go by; once for each."),
    ] = None,
    fleece: Annotated[
        list[str] | None,
        typer.Option("--fleece", help="A piece of fleece there is: 2 m x 10 m; 0 for none."),
    ] = None,
    keep: Annotated[
        bool, typer.Option("--keep", help="Keep these rules and this fleece in the garden.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Say what to look out for: frost, blight, troubles seen, sowings not up, what is ready."""
    path = notebook_here(notebook)
    day = show.day_of(on, path)
    garden = AtHand(path, lambda: day, given=day)
    means = means_asked(garden.opened.garden.watch, tuple(blight or ()), tuple(fleece or ()))
    if keep:
        keep_means(path, tuple(blight or ()), tuple(fleece or ()), datetime.now(UTC))
        copied_weekly(path)
    found = watch_of(garden, day, means)
    if found is None:
        show.aside(garden.plan_findings)
        raise typer.Exit(1)
    show.data(found) if as_json else _print(found)


def _print(found: Watch) -> None:
    if not found.lines:
        show.line(f"Nothing to look out for on {_day(found.day)}, as far as is told.")
    for line in found.lines:
        show.line(line.what)
        for words in (*line.why, *line.do):
            show.line(f"  {words}")
    for words in found.untold:
        show.line(f"Not told: {words}")


def _day(day: date) -> str:
    return day.isoformat()
