"""Weeks: the plan's one measure of time, counted from 0 at the Monday of the day it is made."""

from dataclasses import dataclass
from datetime import date, timedelta

DAYS_A_WEEK = 7
WEEKS_A_YEAR = 52


def monday_of(day: date) -> date:
    """Give the Monday on or before a day."""
    return day - timedelta(days=day.weekday())


def week_label(day: date) -> str:
    """Name the week that holds a day by the ISO 8601 calendar, as in ``2027-W14``."""
    year, number, _ = day.isocalendar()
    return f"{year}-W{number:02d}"


@dataclass(frozen=True, slots=True)
class Horizon:
    """The weeks a plan looks over.

    Attributes
    ----------
    first_day
        The Monday on which week 0 starts.
    weeks
        How many weeks the plan covers [weeks].
    """

    first_day: date
    weeks: int = 104

    def week_of(self, day: date) -> int:
        """Count the weeks from the first day to the week that holds a day (may be negative)."""
        return (day - self.first_day).days // DAYS_A_WEEK

    def monday(self, week: int) -> date:
        """Give the Monday of a week; weeks outside the horizon are allowed."""
        return self.first_day + timedelta(days=DAYS_A_WEEK * week)

    def label(self, week: int) -> str:
        """Name a week by the ISO 8601 calendar, as in ``2027-W14``."""
        return week_label(self.monday(week))

    @property
    def last_day(self) -> date:
        """The Sunday on which the last week ends."""
        return self.monday(self.weeks) - timedelta(days=1)


def horizon_from(day: date, weeks: int = 104) -> Horizon:
    """Open a horizon at the Monday of the week that holds a day."""
    return Horizon(monday_of(day), weeks)
