"""A week's jobs in the order of what is lost if they wait, cut to the hours there are."""

from dataclasses import dataclass, field
from datetime import date, timedelta
from enum import StrEnum

from haulm.measure.weeks import DAYS_A_WEEK
from haulm.plan.state import Noted
from haulm.season.as_it_stands import OffPlan
from haulm.season.feeding import Lost
from haulm.season.gluts import Glut
from haulm.season.job_weather import DayOfWork, Wants, Weather
from haulm.season.racks import RackWeek
from haulm.season.records import Entry
from haulm.season.waiting import Waits
from haulm.sheets.week_due import DueJob


class Timed(StrEnum):
    """What is known of a job's minutes."""

    KNOWN = "known"
    WITH_OTHERS = "counted with other work"
    NOBODY_KNOWS = "nobody has put minutes to it"


class Stands(StrEnum):
    """Where a job stands in its week."""

    DO = "do"
    IF_TIME = "if there is time"
    FALLS_OUT = "falls out"
    CAN_BE_LEFT = "can be left"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class WeekJob:
    """One job of the week, weighed.

    Attributes
    ----------
    due
        The job and its days.
    stands
        Where it stands.
    waits
        What it costs to leave it, by the day.
    next_week
        What is lost if it is left until next Monday.
    spread
        What that is in a poor and in a good year, 8 years in 10 between, against the middle [1];
        None where nobody has said.
    told
        Whether waiting has a figure at all.
    free_until
        The last day until which it may be left at no loss to notice; None where nothing is lost.
    wants
        What weather it wants.
    timed
        What is known of its minutes.
    bed
        The bed's id; empty for what is done in a store.
    moved
        How far its planting is from its plan; None where it is as planned.
    done
        The entry of the diary that says it was done.
    on
        The days it is laid out on, with the minutes of each; empty where no days are told.
    no_day
        Whether days are told and none of them suits it.
    over_kg
        For picking: what is more than the table takes [kg].
    """

    due: DueJob
    stands: Stands
    waits: Waits
    next_week: Lost
    spread: tuple[float, float] | None
    told: bool
    free_until: date | None
    wants: Wants
    timed: Timed
    bed: str = ""
    moved: OffPlan | None = None
    done: Entry | None = None
    on: tuple[tuple[date, float], ...] = ()
    no_day: bool = False
    over_kg: float = 0.0

    @property
    def id(self) -> str:
        """The job's id."""
        return self.due.job.id

    @property
    def minutes(self) -> float:
        """What it takes, as far as that is known [minutes]."""
        return self.due.job.minutes or 0.0


@dataclass(frozen=True, slots=True)
class OpenJob:
    """A job of an earlier week that nobody ticked.

    Attributes
    ----------
    due
        The job.
    weeks_ago
        How many weeks ago it was to be done [weeks].
    waits
        What it costs to leave it, by the day.
    lost
        What is lost by now, even if it is done today.
    next_week
        What is lost if it is left until next Monday.
    may_note
        Whether it can be noted that it will not be done.
    """

    due: DueJob
    weeks_ago: int
    waits: Waits
    lost: Lost
    next_week: Lost
    may_note: bool

    @property
    def too_late(self) -> bool:
        """Whether all of it is lost by now."""
        return bool(self.waits.steps) and self.lost.weighed_kg >= self.waits.never.weighed_kg


@dataclass(frozen=True, slots=True)
class Hours:
    """The hours of a week.

    Attributes
    ----------
    given
        What there is in all [minutes]; None where nobody told.
    worked
        What the diary says was worked in this week already [minutes].
    untimed
        How many entries of work tell no minutes.
    days
        The days still to come, with what there is of each.
    """

    given: float | None
    worked: float
    untimed: int
    days: tuple[DayOfWork, ...]

    @property
    def left(self) -> float | None:
        """What is left [minutes]; None where nobody told what there is."""
        return None if self.given is None else max(0.0, self.given - self.worked)


@dataclass(frozen=True, slots=True)
class WeekList:
    """A week's jobs, weighed and cut.

    Attributes
    ----------
    monday, label, day
        Its first day, its name by ISO 8601, and the day that counts as today.
    hours
        Its hours.
    jobs
        Every job of it, in the order of what is lost if it waits; what is done comes last.
    still_open
        Jobs of earlier weeks that nobody ticked.
    gone
        Plantings that are no more, each with the note that says so.
    diary_kept
        Whether the diary says of anything done since the plan was made.
    reached
        Whether the plan reaches the week.
    cut_lost
        What is lost by what falls out of the hours.
    racks
        What the week's racks hold and are to hold; None where nothing cures in it.
    gluts
        The foods of which it brings more than the table eats and the stores take.
    """

    monday: date
    label: str
    day: date
    hours: Hours
    jobs: tuple[WeekJob, ...]
    still_open: tuple[OpenJob, ...] = ()
    gone: tuple[tuple[str, Noted], ...] = ()
    diary_kept: bool = False
    reached: bool = True
    cut_lost: Lost = field(default_factory=Lost)
    racks: RackWeek | None = None
    gluts: tuple[Glut, ...] = ()

    @property
    def sunday(self) -> date:
        """Its last day."""
        return self.monday + timedelta(days=DAYS_A_WEEK - 1)

    def standing(self, *stands: Stands) -> tuple[WeekJob, ...]:
        """Give the jobs that stand somewhere, in order."""
        return tuple(job for job in self.jobs if job.stands in stands)

    @property
    def chosen(self) -> tuple[WeekJob, ...]:
        """The jobs to do, in order: what loses by waiting, then what there is time for."""
        return self.standing(Stands.DO, Stands.IF_TIME)

    def suiting(self, *weathers: Weather) -> tuple[WeekJob, ...]:
        """Give the jobs to do that want some weather, in order."""
        return tuple(job for job in self.chosen if job.wants.wants in weathers)

    def on_day(self, day: date) -> tuple[tuple[WeekJob, float], ...]:
        """Give what is laid out on a day, with its minutes there, in order."""
        return tuple((job, minutes) for job in self.chosen for on, minutes in job.on if on == day)

    @property
    def dry_order(self) -> tuple[WeekJob, ...]:
        """The jobs to do on a dry day: what needs it first, then what any day will do for."""
        return (
            *self.suiting(Weather.DRY),
            *self.suiting(Weather.ANY),
            *self.suiting(Weather.DAMP),
            *self.suiting(Weather.INDOORS),
        )

    @property
    def wet_order(self) -> tuple[WeekJob, ...]:
        """The jobs to do on a wet day: what likes it, then indoors, then what any day will do."""
        return (
            *self.suiting(Weather.DAMP),
            *self.suiting(Weather.INDOORS),
            *self.suiting(Weather.ANY),
        )
