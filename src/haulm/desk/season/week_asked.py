"""A week as it is asked for outside the pages: of a notebook by its path, told or printed."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from pathlib import Path

from haulm.desk.at_hand import AtHand
from haulm.desk.season.week_hours import read_hours
from haulm.desk.season.week_jobs import monday_named
from haulm.desk.season.week_of import jobs_bundle, week_of
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.weeks import monday_of
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.paper import to_pdf
from haulm.sheets.week_list import WeekList
from haulm.sheets.week_sheet import week_sheets
from haulm.sheets.week_words import WeekWords


class DayKind(StrEnum):
    """For what day a week's jobs are wanted."""

    ANY = "any"
    DRY = "dry"
    WET = "wet"


class AsOf(AtHand):
    """A notebook at hand as of a day that was told, whatever day the garden itself names."""

    @property
    def day(self) -> date:
        """The day told."""
        return self._today()


@dataclass(frozen=True, slots=True)
class WeekAsked:
    """A week's list with what it is drawn from, and the words to tell it in."""

    week: WeekList
    bundle: SheetBundle
    words: WeekWords


def week_asked(path: Path, day: date, label: str | None, hours: str | None) -> WeekAsked:
    """Give a notebook's week as of a day.

    Parameters
    ----------
    path
        The notebook.
    day
        The day that counts as today.
    label
        Another week than today's, as in ``2027-W20``.
    hours
        The hours there are, as typed; None for what the household gives.

    Raises
    ------
    FaultsFoundError
        When there is no plan, no such week, or the hours cannot be read.
    """
    wish = read_hours(hours) if hours is not None else None
    monday = monday_of(day) if label is None else monday_named(label)
    if monday is None:
        what = "there is no such week."
        raise FaultsFoundError([Finding(f"week “{label}”", what, "Write it as in 2027-W20.")])
    garden = AsOf(path, lambda: day)
    week, made = week_of(garden, monday, wish), garden.unlaid
    if week is None or made is None:
        raise FaultsFoundError(garden.plan_findings)
    bundle = jobs_bundle(garden, made)
    return WeekAsked(week, bundle, WeekWords(bundle.lines, bundle.units))


def printed(bundle: SheetBundle, week: WeekList, paper: Paper) -> bytes:
    """Put a week's sheet into a PDF."""
    return to_pdf(week_sheets(bundle, week, paper))
