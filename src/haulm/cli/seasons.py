"""Live the kept plan again: through real years, without water, in one bed or several."""

from typing import Annotated

import typer

from haulm.cli import show, show_replay
from haulm.cli.options import AsJson, Notebook, Seed
from haulm.desk.garden import exchange
from haulm.desk.odds import drought as droughts
from haulm.desk.odds import forecasting, splitting
from haulm.desk.odds import replay as replaying
from haulm.desk.odds.thirst import WateredHow


def replay(
    notebook: Notebook = None,
    watered: Annotated[
        WateredHow | None,
        typer.Option("--watered", help="How: by default from the tanks, where there are any."),
    ] = None,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Live the newest plan through its record's real years: the worst, why, what would help."""
    path = exchange.notebook_here(notebook)
    with show.working("Living through the years"):
        found = replaying.replay_kept(path, watered, seed)
    show.aside(found.made.since)
    show.data(replaying.as_data(found)) if as_json else show_replay.replay(found)


def drought(
    notebook: Notebook = None,
    seasons: Annotated[
        int, typer.Option("--seasons", help="How many seasons to live through.")
    ] = forecasting.SEASONS,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Tell what watering is worth: the newest plan watered, from its tanks alone, not at all."""
    path = exchange.notebook_here(notebook)
    with show.working("Living through the seasons"):
        found = droughts.watering_worth(path, seasons, seed)
    show.aside(found.made.since)
    show.data(droughts.as_data(found)) if as_json else show_replay.watering(found)


def split(
    crop: Annotated[
        str | None,
        typer.Argument(help="A crop of the plan; leave it out for all that a sick bed takes."),
    ] = None,
    notebook: Notebook = None,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Tell what it is worth to grow a crop in two or three beds, sowings or kinds, not in one."""
    path = exchange.notebook_here(notebook)
    with show.working("Living through the seasons"):
        found = splitting.splits_of(path, crop, seed=seed)
    show.aside(found.made.since)
    show.data(found.crops) if as_json else show_replay.splits(found)
