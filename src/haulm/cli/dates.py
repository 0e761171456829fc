"""The verbs about dates: when to sow again, what follows, what stands in winter, what to decide."""

from datetime import date
from typing import Annotated

import typer

from haulm.cli import show, show_dates
from haulm.cli.options import AsJson, Garden, Notebook, On, Seed
from haulm.desk.dates import follow_on, successions
from haulm.desk.dates import winter as winters
from haulm.desk.garden import exchange
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning import plans
from haulm.desk.worth import deciding_anew

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
def decide(
    notebook: Notebook = None,
    anew: Annotated[
        bool,
        typer.Option("--anew", help="Say too what is lost if all else is planned anew without it."),
    ] = False,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Tell until when each choice of the plan may wait, and what waiting costs; takes minutes."""
    path = exchange.notebook_here(notebook)
    day = show.day_of(on, path)
    with show.working("Asking every choice anew") as tell:
        made, found = deciding_anew.decided(
            path, day, lambda one: tell(f"Asking anew: {one.name}"), anew=anew
        )
    show.aside(made.since)
    show.data(found) if as_json else show_dates.decisions(found, made, day)


@dates_app.command()
def follow(
    garden: Garden,
    bed: Annotated[str, typer.Argument(help="A bed, by id or name.")],
    free: Annotated[
        str | None, typer.Option("--free", metavar="DATE", help="The day the bed comes free.")
    ] = None,
    on: On = None,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Say what a bed could take when it comes free, and what to raise in modules beforehand."""
    opened = open_garden(garden)
    day, kept = show.day_of(on, garden), plans.newest_kept(opened)
    with show.working("Following every kind through the seasons"):
        found = follow_on.follow(opened, kept, bed, day, _day(free), seed)
    show.data(found) if as_json else show_dates.follow(found, opened.garden.units)


@dates_app.command()
def winter(
    garden: Garden,
    years: Annotated[
        float, typer.Option("--years", help="Years in 10 in which it is to suffice: 5 to 9.")
    ] = 8.0,
    on: On = None,
    seed: Seed = 1,
    as_json: AsJson = False,
) -> None:
    """Size what has to stand when days fall under ten hours, to feed the table till spring."""
    opened = open_garden(garden)
    day, kept = show.day_of(on, garden), plans.newest_kept(opened)
    found = winters.winter(opened, kept, day, years / 10, seed)
    show.data(found) if as_json else show_dates.winter(found, opened.garden.units)


def _day(text: str | None) -> date | None:
    """Read a day where one was typed."""
    return None if text is None else show.day_of(text)
