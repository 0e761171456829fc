"""A week's jobs in words: what waiting costs and whom it feeds, why now, and what weather."""

from collections.abc import Iterable, Mapping
from datetime import date

from haulm.measure.day_words import day_text
from haulm.measure.sentences import capital
from haulm.season.feeding import Lost
from haulm.season.job_weather import DayOfWork, Weather
from haulm.sheets.week_list import Hours, OpenJob, Stands, Timed, WeekJob, WeekList
from haulm.sheets.wording import figure, weight_text

MOST_LINES = 2
"""So many lines of the table are named; of the others it is said how many there are."""
LEAST_SHARE = 0.005
HOUR_MIN = 60
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")

WANTS_WORDS: Mapping[Weather, str] = {
    Weather.DRY: "a dry day",
    Weather.DAMP: "a damp day",
    Weather.ANY: "any day",
    Weather.INDOORS: "indoors or under cover",
}


class WeekWords:
    """Puts a week's jobs into words, in a garden's units.

    Parameters
    ----------
    names
        The display name of each line of the table, by id.
    units
        ``metric`` or ``us``.
    """

    def __init__(self, names: Mapping[str, str], units: str) -> None:
        self._names = names
        self._units = units

    def lost(self, lost: Lost, spread: tuple[float, float] | None = None) -> str:
        """Say what is lost: *1.3 kg (8 years in 10 from 0.8 to 1.9 kg): leek 1.1 kg, 9 % of it*."""
        if not lost.lines:
            return "nothing"
        kg = weight_text(lost.kg, self._units)
        if spread is not None:
            low = weight_text(lost.kg * spread[0], self._units).rsplit(" ", 1)[0]
            kg += f" (8 years in 10 from {low} to {weight_text(lost.kg * spread[1], self._units)})"
        return f"{kg}, {self.portions(lost.portions)}: {', '.join(self._lines(lost))}"

    def _lines(self, lost: Lost) -> Iterable[str]:
        named = lost.lines[:MOST_LINES]
        alone = len(lost.lines) == 1
        for line, kg, share in named:
            name = self._names.get(line, line)
            weight = "" if alone else f" {weight_text(kg, self._units)}"
            part = f" ({share:.0%} of it)" if share >= LEAST_SHARE else ""
            yield f"{name}{weight}{part}"
        rest = len(lost.lines) - len(named)
        if rest:
            yield f"and {rest} more"

    def portions(self, portions: float) -> str:
        """Write a number of a grown-up's portions."""
        told = figure(portions, 2)
        return f"{told} portion{'' if told == '1' else 's'}"

    def why(self, job: WeekJob) -> str:
        """Say what it costs to leave a job, or until when it can be left; of one done, when."""
        if job.done is not None:
            return f"done {day_text(job.done.day)}"
        if not job.told:
            return "nobody has put a figure to what waiting costs"
        if job.stands in {Stands.DO, Stands.FALLS_OUT}:
            return f"left until next week: {self.lost(job.next_week, job.spread)}"
        if not job.waits.never.lines:
            return "nothing of the plan's food is lost by leaving it"
        if job.free_until is None:
            return "what is lost by leaving it no table would notice"
        until = f"can be left until {_day(job.free_until, job)}"
        return f"{until}; not done at all: {self.lost(job.waits.never, job.spread)}"

    def short(self, job: WeekJob) -> str:
        """Say the same as short as a sheet wants it: *left a week: 2.8 kg of new potatoes*."""
        if not job.told:
            return "no figure for what waiting costs"
        if job.stands in {Stands.DO, Stands.FALLS_OUT}:
            return f"left a week: {self._brief(job.next_week)} lost"
        if not job.waits.never.lines or job.free_until is None:
            return "nothing lost by leaving it"
        return f"can wait until {_day(job.free_until, job)}"

    def _brief(self, lost: Lost) -> str:
        kg = weight_text(lost.kg, self._units)
        line, _, _ = lost.lines[0]
        more = " and others" if len(lost.lines) > 1 else ""
        return f"{kg} of {self._names.get(line, line)}{more}"

    def beside(self, job: WeekJob) -> tuple[str, ...]:
        """Say what else there is to know: its last day, what moved it, what nobody needs of it."""
        told = []
        if job.waits.last_day is not None and job.waits.never.lines:
            told.append(f"all of it is lost after {_day(job.waits.last_day, job)}")
        if job.moved is not None:
            told.append(moved_words(job.moved.weeks, job.moved.since))
        if job.over_kg * 1000 >= 50:  # noqa: PLR2004 - under 50 g is a rounding
            over = weight_text(job.over_kg, self._units)
            told.append(f"{over} of it is more than the table takes, and may stay")
        if job.timed is not Timed.KNOWN:
            told.append(f"minutes: {job.timed.value}")
        if job.no_day:
            told.append("no day of those told suits it: wait for one")
        return tuple(told)

    def open(self, job: OpenJob) -> str:
        """Say what is lost by now of a job of an earlier week, and what another week costs."""
        if not job.waits.never.lines:
            return "nothing of the plan's food is lost by leaving it"
        if job.too_late:
            return f"too late: {self.lost(job.waits.never)} lost"
        by_now = f"lost by now {self.lost(job.lost)}" if job.lost.lines else "nothing lost yet"
        return f"{by_now}; by next week {self.lost(job.next_week)}"

    def hours(self, hours: Hours) -> str:
        """Say what hours there are, what was worked of them, and what is left."""
        if hours.given is None:
            return "nobody has told what hours there are, so nothing is cut"
        told = f"{duration(hours.given)} in all"
        if hours.worked:
            told += f", {duration(hours.worked)} worked by the diary"
        if hours.untimed:
            some = "entry tells" if hours.untimed == 1 else "entries tell"
            told += f" ({hours.untimed} {some} no minutes)"
        return f"{told}, {duration(hours.left or 0.0)} left"

    def cut(self, week: WeekList) -> str:
        """Say what is lost by what falls out; empty where nothing does."""
        if not week.standing(Stands.FALLS_OUT):
            return ""
        return f"what falls out costs {self.lost(week.cut_lost)}"


def wants_words(job: WeekJob) -> str:
    """Say what weather a job wants and why: *a dry day: hoed weeds die*."""
    told = WANTS_WORDS[job.wants.wants]
    return told if job.wants.wants is Weather.ANY else f"{told}: {job.wants.note}"


def moved_words(weeks: int, since: date) -> str:
    """Say how far a planting is from its plan."""
    many = f"{abs(weeks)} week{'' if abs(weeks) == 1 else 's'}"
    way = "later" if weeks > 0 else "earlier"
    return f"{many} {way} than planned, by what was noted on {day_text(since)}"


def _day(day: date, job: WeekJob) -> str:
    """Write a day, with its year where that is not the year of the job."""
    return day_text(day, year=day.year != job.due.job.first_day.year)


def duration(minutes: float) -> str:
    """Write a length of work: 15 min, 1 h 35."""
    if round(minutes) < HOUR_MIN:
        return f"{max(1, round(minutes)) if minutes else 0} min"
    hours, rest = divmod(round(minutes), HOUR_MIN)
    return f"{hours} h {rest:02d}" if rest else f"{hours} h"


def day_words(day: DayOfWork) -> str:
    """Write a day with its weather as told: *Mon 17 May, dry*."""
    told = {None: "weather not told", True: "wet", False: "dry"}[day.wet]
    return f"{WEEKDAYS[day.day.weekday()]} {day_text(day.day)}, {told}"


def stands_heading(stands: Stands) -> str:
    """Head the jobs that stand somewhere."""
    return {
        Stands.DO: "To do, what loses most by waiting first",
        Stands.FALLS_OUT: "Falls out of the hours there are",
    }.get(stands, capital(stands.value))
