"""A job of a week with the days on which it may be done."""

from dataclasses import dataclass
from datetime import date

from haulm.growing.coming_up import ComingUp
from haulm.sheets.week_jobs import Job


@dataclass(frozen=True, slots=True)
class DueJob:
    """One job of a week.

    Attributes
    ----------
    job
        The job as the plan gives it.
    days
        For Monday to Sunday, whether it may be done that day.
    goes_on
        Whether it may still be done after this Sunday.
    hangs_on
        What in the weather it waits for, in words; empty where it waits for nothing.
    parts
        For tending, each bed with its minutes; else empty.
    shows
        For seed sown in place, when it should show; None where that is not known.
    """

    job: Job
    days: tuple[bool, ...]
    goes_on: bool
    hangs_on: str = ""
    parts: tuple[tuple[str, float], ...] = ()
    shows: ComingUp | None = None

    @property
    def last_day(self) -> date:
        """The last day on which it may be done, as far as that is known."""
        return self.job.latest_day or self.job.last_day
