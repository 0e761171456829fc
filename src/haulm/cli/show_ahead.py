"""Show what is told of the coming days, on a terminal."""

import sys
from collections.abc import Sequence

from haulm.cli import show
from haulm.desk.season.ahead import TakenAhead
from haulm.measure.units import Units, show_rain, show_temperature
from haulm.season.ahead import DayAhead
from haulm.season.point_forecast import SERVICE

NOT_TOLD = "not told"


def taken(found: TakenAhead) -> None:
    """Say how much of a table was taken, beside the answer."""
    hours = f", {found.hours} hours" if found.hours else ""
    sys.stderr.write(f"Taken: {found.days} days{hours}\n")


def asking(sent: str) -> None:
    """Say what is sent, before it is, beside the answer."""
    sys.stderr.write(f"Asking {SERVICE}; it is sent {sent}, and nothing else.\n")


def days(told: Sequence[DayAhead], units: Units) -> None:
    """Print what is told of each day; what is not told is said to be so."""
    if not told:
        show.line("Nothing is told of the days to come.")
        return
    heads = ("day", ">lowest", ">highest", ">rain", ">odds of rain", ">humid hours", "from")
    show.table(heads, (_row(one, units) for one in told))


def _row(one: DayAhead, units: Units) -> tuple[str, ...]:
    return (
        one.day.isoformat(),
        NOT_TOLD if one.tmin_c is None else show_temperature(one.tmin_c, units),
        NOT_TOLD if one.tmax_c is None else show_temperature(one.tmax_c, units),
        NOT_TOLD if one.rain_mm is None else show_rain(one.rain_mm, units),
        NOT_TOLD if one.rain_odds is None else f"{100 * one.rain_odds:.0f} %",
        NOT_TOLD if one.humid_hours is None else f"{one.humid_hours:g} h",
        one.origin,
    )
