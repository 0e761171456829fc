"""What weather each job wants, and a week's jobs laid out on its days."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import cache
from importlib.resources import files

from haulm.catalogue.records import Basis
from haulm.season.waiting_rules import waiting_figure


class Weather(StrEnum):
    """The day a job wants."""

    DRY = "dry"
    DAMP = "damp"
    ANY = "any"
    INDOORS = "indoors"


@dataclass(frozen=True, slots=True)
class Wants:
    """The day a job wants, what that rests on, and why."""

    wants: Weather
    basis: Basis
    note: str


@dataclass(frozen=True, slots=True)
class DayOfWork:
    """One day to lay jobs out on.

    Attributes
    ----------
    day
        The day.
    minutes
        What there is of it [minutes].
    wet
        Whether rain is told for it; None where nothing is told.
    after_rain
        Whether the day before was wet; None where nothing is told of that.
    """

    day: date
    minutes: float
    wet: bool | None = None
    after_rain: bool | None = None


@dataclass(frozen=True, slots=True)
class ToLay:
    """A job to lay out: its name, its minutes, what it wants, and from when to when it may be."""

    id: str
    minutes: float
    wants: Weather
    first_day: date
    last_day: date


@dataclass(frozen=True, slots=True)
class LaidOut:
    """Jobs on their days: by job, (day, minutes); and those that found no day that suits."""

    on: Mapping[str, tuple[tuple[date, float], ...]]
    no_day: tuple[str, ...]


@cache
def weather_wants() -> Mapping[str, Wants]:
    """Read what weather jobs want, by name, from ``data/job_weather.toml``."""
    text = files("haulm.season").joinpath("data", "job_weather.toml").read_text(encoding="utf-8")
    return {
        name: Wants(Weather(told["wants"]), Basis(told["basis"]), told["note"])
        for name, told in tomllib.loads(text).items()
    }


def wants_of(job: str, *of: str, under_cover: bool = False) -> Wants:
    """Give what weather a job wants: of the first name that has its own, else the usual.

    Under cover rain does not matter.

    Raises
    ------
    KeyError
        For a job that is not in the file.
    """
    known = weather_wants()
    own = (known.get(f"{job}.{one}") for one in of)
    found = next((one for one in own if one is not None), known[job])
    if under_cover and found.wants in {Weather.DRY, Weather.DAMP}:
        return Wants(Weather.INDOORS, found.basis, "rain does not reach it")
    return found


def is_wet(rain_mm: float | None, rain_odds: float | None) -> bool | None:
    """Say whether a day counts as wet by the rain told for it; None where none is told.

    Parameters
    ----------
    rain_mm
        Rain [mm].
    rain_odds
        How likely rain is [1]; looked at where no amount is told.
    """
    if rain_mm is not None:
        return rain_mm >= waiting_figure("wet day").value
    if rain_odds is not None:
        return rain_odds >= waiting_figure("wet odds").value
    return None


def suits(wants: Weather, day: DayOfWork) -> int | None:
    """Say how well a day suits a job: 0 is best; None where it does not.

    A day nothing is told of suits everything, but less than one that is known to be right.
    """
    wet = day.wet
    if wants is Weather.DRY:
        if wet is None:
            return 2
        return None if wet else int(bool(day.after_rain))
    if wants is Weather.DAMP:
        return 0 if wet or day.after_rain else 1
    if wants is Weather.INDOORS:
        return 0 if wet else 1
    return 0


def lay_out_days(jobs: Sequence[ToLay], days: Sequence[DayOfWork]) -> LaidOut:
    """Lay jobs out on days, the most pressing first, each on the day that suits it best.

    A job that does not fit into what is left of a day goes on the next day that suits; one that
    takes no minutes, or whose minutes nobody has, goes on the best day.

    Parameters
    ----------
    jobs
        The jobs, the most pressing first.
    days
        The days, in order.
    """
    left = {day.day: day.minutes for day in days}
    on: dict[str, tuple[tuple[date, float], ...]] = {}
    no_day: list[str] = []
    for job in jobs:
        fit = [day for day in days if job.first_day <= day.day <= job.last_day]
        fit = [day for day in fit if suits(job.wants, day) is not None]
        fit.sort(key=lambda day: (suits(job.wants, day) or 0, day.day))
        parts = _parts(job, fit, left)
        if parts:
            on[job.id] = tuple(sorted(parts))
        else:
            no_day.append(job.id)
    return LaidOut(on, tuple(no_day))


def _parts(
    job: ToLay, fit: Sequence[DayOfWork], left: dict[date, float]
) -> list[tuple[date, float]]:
    """Share a job's minutes out over the days that suit it, and take them off what is left."""
    if not fit or job.minutes <= 0:
        return [(fit[0].day, 0.0)] if fit else []
    whole = next((day for day in fit if left[day.day] >= job.minutes - 1e-6), None)
    order = [whole] if whole is not None else list(fit)
    if sum(left[day.day] for day in order) < job.minutes - 1e-6:
        return []
    parts = []
    minutes = job.minutes
    for day in order:
        taken = min(left[day.day], minutes)
        if taken > 0:
            left[day.day] -= taken
            minutes -= taken
            parts.append((day.day, taken))
    return parts
