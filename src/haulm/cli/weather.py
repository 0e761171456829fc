"""The verbs about weather: fetch a record, when a grower says so."""

from datetime import UTC, date, datetime
from pathlib import Path
from time import sleep
from typing import Annotated

import typer

from haulm.cli import show, show_ahead
from haulm.cli.options import AsJson, On
from haulm.cli.safe import copied_weekly
from haulm.desk.garden.asking import over_https
from haulm.desk.garden.fetching import Network, fetch_record, place_sent, years_to_fetch
from haulm.desk.garden.fetching_ahead import fetch_ahead, place_asked
from haulm.desk.garden.opening import open_garden
from haulm.desk.season.ahead import TakenAhead, TypedAhead, ahead_of, load_ahead, tell_ahead
from haulm.site.readers.power import SERVICE

weather_app = typer.Typer(
    help="The weather that a garden is planned by.", no_args_is_help=True, add_completion=False
)


@weather_app.callback()
def weather() -> None:
    """Hold the verbs about weather together."""


@weather_app.command()
def fetch(
    garden: Annotated[Path, typer.Argument(help="A notebook (.haulm).")],
    first: Annotated[
        int | None, typer.Option("--from", help="The first year; by default 30 years back.")
    ] = None,
    last: Annotated[
        int | None, typer.Option("--to", help="The last year; by default the last whole one.")
    ] = None,
) -> None:
    """Fetch a daily record for the garden's place from NASA POWER; sends its coordinates there."""
    years = years_to_fetch(first, last, date.today())  # noqa: DTZ011  # the grower's own year
    latitude_deg, longitude_deg = place_sent(garden)
    show.line(
        f"Asking {SERVICE} for {years[0]} to {years[1]}; it is sent latitude {latitude_deg:g} and "
        f"longitude {longitude_deg:g}, and nothing else."
    )
    with show.working("Waiting for the service"):
        fetched = fetch_record(
            garden, years, Network(over_https, sleep), datetime.now(UTC).astimezone()
        )
    show.findings(fetched.findings)
    show.line(f"The record is the garden's weather now; a copy lies at {fetched.copy}")


@weather_app.command()
def ahead(
    notebook: Annotated[Path, typer.Argument(help="A notebook (.haulm).")],
    day: Annotated[
        str, typer.Option("--day", metavar="DATE", help="The day that is told of.")
    ] = "",
    tmin: Annotated[str, typer.Option("--min", help="The night's lowest: -1, 30 °F.")] = "",
    tmax: Annotated[str, typer.Option("--max", help="The day's highest.")] = "",
    rain: Annotated[str, typer.Option("--rain", help="Rain: 3, 0.2 in.")] = "",
    odds: Annotated[str, typer.Option("--odds", help="The odds of rain, in per cent.")] = "",
    humid: Annotated[
        str, typer.Option("--humid", help="Hours at a relative humidity of 90 % or more.")
    ] = "",
    table: Annotated[
        Path | None, typer.Option("--table", help="A table (CSV) of days, or of hours.")
    ] = None,
    ask: Annotated[
        bool,
        typer.Option("--ask", help="Ask MET Norway for it; sends the garden's place there."),
    ] = False,
    on: On = None,
    as_json: AsJson = False,
) -> None:
    """Tell what is forecast: typed, from a table or asked for; then list what is told of it."""
    units = open_garden(notebook).garden.units
    at = datetime.now(UTC).astimezone()
    if table is not None:
        show_ahead.taken(load_ahead(notebook, table, at))
    if ask:
        show_ahead.asking(place_asked(notebook).words())
        with show.working("Waiting for the service"):
            fetched = fetch_ahead(notebook, Network(over_https, sleep), at)
        show_ahead.taken(TakenAhead(fetched.days, fetched.hours))
    typed = TypedAhead(day, tmin, tmax, rain, odds, humid)
    if typed != TypedAhead(""):
        tell_ahead(notebook, typed, units, at)
    if table is not None or ask or typed != TypedAhead(""):
        copied_weekly(notebook)
    days = ahead_of(notebook, show.day_of(on, notebook))
    show.data(days) if as_json else show_ahead.days(days, units)
