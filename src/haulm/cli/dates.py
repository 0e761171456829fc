"""The verbs about dates: when to sow again, what follows, what stands in winter, what to decide."""

from datetime import date
from typing import Annotated

import typer

from haulm.cli import show, show_dates
from haulm.cli.options import AsJson, Garden, Notebook, On, Seed
from haulm.desk import deciding, exchange, successions
from haulm.desk.opening import open_garden

dates_app = typer.Typer()


@dates_app.command()
def succession(  # noqa: PLR0913, PLR0917 - each is a question of its own
    garden: Garden,
    kind: Annotated[str, typer.Argument(help="What is sown, as in lettuce/leaf.")],
    first: Annotated[
        str | None, typer.Option("--from", metavar="DATE", help="Wanted ready from this day on.")
    ] = None,
    until: Annotated[
        str | None, typer.Option("--until", metavar="DATE", help="Wanted ready until this day.")
    ] = None,
    every: Annotated[
        int | None, typer.Option("--every", metavar="DAYS", help="Days between harvests.")
    ] = None,
    on: On = None,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Find when to sow a kind again and again so that it is picked evenly: backwards, by warmth."""
    opened = open_garden(garden)
    wished = successions.Wished(_day(first), _day(until), every)
    named = successions.kind_named(opened.catalogue, kind)
    found = successions.successions(opened, named, wished, show.day_of(on, garden), seed)
    show.data(found) if as_json else show_dates.successions(found)


@dates_app.command()
def decide(notebook: Notebook = None, on: On = None, as_json: AsJson = False) -> None:
    """Tell until when each choice of the plan may wait, and what waiting costs; takes minutes."""
    path = exchange.notebook_here(notebook)
    day = show.day_of(on, path)
    with show.working("Asking every choice anew") as tell:
        made, found = deciding.decided(path, day, lambda one: tell(f"Asking anew: {one.name}"))
    show.aside(made.since)
    show.data(found) if as_json else show_dates.decisions(found, made, day)


def _day(text: str | None) -> date | None:
    """Read a day where one was typed."""
    return None if text is None else show.day_of(text)
