"""The hours of a week: what the household gives, or what is told, less what was worked already."""

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.desk.at_hand import AtHand
from haulm.desk.planning.plans import Made
from haulm.desk.season.diary_asked import ENTRY_OF
from haulm.household.appetite import hours_by_week
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.weeks import DAYS_A_WEEK, Horizon
from haulm.season.job_weather import DayOfWork, is_wet
from haulm.season.records import Entry, EntryKind
from haulm.sheets.week_list import Hours

HOUR_MIN = 60.0
HOURS_A_DAY = 24.0
DAY_NAMES = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
WORK = frozenset(ENTRY_OF.values()) | {EntryKind.THINNED, EntryKind.WATERED, EntryKind.CURED}
_PART = re.compile(r"(?:([a-z]{3})[a-z]*\s+)?(\d{1,3}(?:[.,]\d{1,2})?)\s*h?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class HoursWish:
    """The hours there are: in all [h], or by day, Monday first; None where the other is told."""

    in_all: float | None = None
    by_day: tuple[float, ...] | None = None


def read_hours(text: str) -> HoursWish:
    """Read hours as typed: ``6``, or ``sat 3, sun 2.5``; days that are not named have none.

    Raises
    ------
    FaultsFoundError
        When it names no hours, or more than a day or a week has.
    """
    parts = [part.strip() for part in re.split(r"[;/]|,(?!\d)", text) if part.strip()]
    found = [_PART.fullmatch(part) for part in parts]
    named = [(m[1].lower() if m[1] else "", float(m[2].replace(",", "."))) for m in found if m]
    days = [name for name, _ in named]
    if not named or len(named) < len(parts) or not _one_way(days):
        raise _unreadable(text, "it names no hours.")
    if days == [""]:
        if named[0][1] > HOURS_A_DAY * DAYS_A_WEEK:
            raise _unreadable(text, "a week has no more than 168 hours.")
        return HoursWish(in_all=named[0][1])
    if any(hours > HOURS_A_DAY for _, hours in named):
        raise _unreadable(text, "a day has no more than 24 hours.")
    told = dict(named)
    return HoursWish(by_day=tuple(told.get(name, 0.0) for name in DAY_NAMES))


def _one_way(days: Sequence[str]) -> bool:
    """Whether hours are told once for the week, or once for each of some days."""
    if days == [""]:
        return True
    return len(set(days)) == len(days) and all(day in DAY_NAMES for day in days)


def _unreadable(text: str, what: str) -> FaultsFoundError:
    remedy = "Write the hours of the week, as in 6, or of its days, as in sat 3, sun 2.5."
    return FaultsFoundError([Finding(f"hours “{text}”", what, remedy)])


def hours_of(
    garden: AtHand, made: Made, monday: date, wish: HoursWish | None, entries: Sequence[Entry]
) -> Hours:
    """Give a week's hours, what was worked of them by the diary, and the days still to come."""
    sunday = monday + timedelta(days=DAYS_A_WEEK - 1)
    mine = [entry for entry in entries if monday <= entry.day <= sunday]
    worked = sum(entry.minutes or 0.0 for entry in mine)
    untimed = sum(entry.kind in WORK and entry.minutes is None for entry in mine)
    given = _given(made, monday, wish)
    days = [monday + timedelta(days=n) for n in range(DAYS_A_WEEK)]
    days = [day for day in days if day >= garden.day]
    by_day = _by_day(days, given, worked, wish)
    wet = {one.day: is_wet(one.rain_mm, one.rain_odds) for one in garden.ahead}
    rained = {entry.day for entry in entries if _was_wet(entry)}
    return Hours(
        given, worked, untimed, tuple(_of_day(day, by_day[day], wet, rained) for day in days)
    )


def _given(made: Made, monday: date, wish: HoursWish | None) -> float | None:
    """Give the hours there are [minutes]; None where nobody told any."""
    if wish is not None:
        hours = wish.in_all if wish.by_day is None else sum(wish.by_day)
        return None if hours is None else HOUR_MIN * hours
    household = made.garden.household
    if not any(household.hours_week):
        return None
    return HOUR_MIN * hours_by_week(household, Horizon(monday, 1))[0]


def _by_day(
    days: Sequence[date], given: float | None, worked: float, wish: HoursWish | None
) -> Mapping[date, float]:
    """Share what is left of the hours out over the days to come: as told, else evenly."""
    if given is None:
        return dict.fromkeys(days, HOUR_MIN * HOURS_A_DAY)
    left = max(0.0, given - worked)
    if wish is not None and wish.by_day is not None:
        told = {day: HOUR_MIN * wish.by_day[day.weekday()] for day in days}
        # What was worked was worked in the hours of days gone by, as far as those go.
        short = max(0.0, sum(told.values()) - left)
        for day in days:
            taken = min(told[day], short)
            told[day] -= taken
            short -= taken
        return told
    return dict.fromkeys(days, left / len(days)) if days else {}


def _was_wet(entry: Entry) -> bool:
    """Whether the diary says that it rained enough on a day for it to count as wet."""
    rained = entry.kind is EntryKind.RAINED and entry.amount is not None
    return rained and entry.amount is not None and bool(is_wet(entry.amount.number, None))


def _of_day(
    day: date, minutes: float, wet: Mapping[date, bool | None], rained: Collection[date]
) -> DayOfWork:
    """Give one day with its weather as told, and whether it follows a wet one."""
    before = day - timedelta(days=1)
    return DayOfWork(day, minutes, wet.get(day), True if before in rained else wet.get(before))
