"""Potato late blight's weather, by published rules on temperature and humidity.

Each rule answers for a span of days: met, not met, or None where what was told does not reach. A
day of which some hours are missing may still meet a rule, but is never said not to.
"""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from enum import StrEnum
from functools import cache
from importlib.resources import files

from haulm.season.ahead import DayAhead, HourTold

HOURS_A_DAY = 24


class BlightBy(StrEnum):
    """The rules on blight, by which a garden may choose to go."""

    HUTTON = "hutton"
    SMITH = "smith"
    IRISH = "irish"
    WALLIN = "wallin"


@dataclass(frozen=True, slots=True)
class DaysRule:
    """A rule of days in a row, each warm enough with so many humid hours.

    ``days`` in a row; ``least_c`` the lowest temperature of each [°C], ``humidity`` [%] and
    ``hours`` the hours at it or more. ``source`` and ``basis`` say what it rests on.
    """

    name: str
    source: str
    basis: str
    days: int
    least_c: float
    humidity: float
    hours: int


@dataclass(frozen=True, slots=True)
class SpellRule:
    """The Irish Rules: a spell of warm humid hours, of which the first ``less_h`` do not count.

    A spell has at least ``hours``; a warning is due at ``warn_h`` effective hours.
    """

    name: str
    source: str
    basis: str
    least_c: float
    humidity: float
    hours: int
    less_h: int
    warn_h: int


@dataclass(frozen=True, slots=True)
class SeverityRule:
    """Wallin's severity of a day by its hours over ``humidity`` [%] and their mean temperature.

    ``bands_f`` are bands of whole degrees Fahrenheit, ``hours`` the least hours of severity 1, 2, 3
    and 4 in each.
    """

    name: str
    source: str
    basis: str
    humidity: float
    bands_f: tuple[tuple[int, int], ...]
    hours: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class BlightRules:
    """The rules, as their data file has them, and the crops late blight hits."""

    hutton: DaysRule
    smith: DaysRule
    irish: SpellRule
    wallin: SeverityRule
    hosts: frozenset[str]


@dataclass(frozen=True, slots=True)
class HumidDay:
    """What is known of one day for the rules.

    Attributes
    ----------
    day
        The day.
    tmin_c
        Its lowest temperature [°C]; None where not known.
    hours
        Its humid hours that are known [h]; None where nothing is.
    whole
        Whether every hour of it is known.
    """

    day: date
    tmin_c: float | None
    hours: float | None
    whole: bool


@cache
def blight_rules() -> BlightRules:
    """Read the rules."""
    text = files("haulm.season").joinpath("data", "blight.toml").read_text(encoding="utf-8")
    raw = tomllib.loads(text)
    wallin = raw["wallin"]
    bands = tuple((low, high) for low, high in wallin.pop("bands_f"))
    hours = tuple(tuple(least) for least in wallin.pop("hours"))
    return BlightRules(
        hutton=DaysRule(**raw["hutton"]),
        smith=DaysRule(**raw["smith"]),
        irish=SpellRule(**raw["irish"]),
        wallin=SeverityRule(**wallin, bands_f=bands, hours=hours),
        hosts=frozenset(raw["hosts"]["crops"]),
    )


def humid_days(
    days: Sequence[DayAhead], hours: Sequence[HourTold], humidity: float
) -> tuple[HumidDay, ...]:
    """Put together what is known of each day: its hours where they were told, else its count.

    A day's count as told is of hours at 90 %; it stands for no other humidity.
    """
    by_day: dict[date, list[HourTold]] = {}
    for hour in hours:
        by_day.setdefault(hour.day, []).append(hour)
    told = {one.day: one for one in days}
    known = blight_rules().hutton.humidity
    found = []
    for day in sorted(by_day.keys() | told.keys()):
        read, one = by_day.get(day, []), told.get(day)
        tmin_c = one.tmin_c if one else None
        if not read:
            count = one.humid_hours if one and humidity == known else None
            found.append(HumidDay(day, tmin_c, count, count is not None))
            continue
        whole = len(read) == HOURS_A_DAY
        least_c = min(hour.temperature_c for hour in read)
        lowest = least_c if whole or tmin_c is None else min(tmin_c, least_c)
        count = float(sum(hour.humidity >= humidity for hour in read))
        found.append(HumidDay(day, lowest if whole or tmin_c is not None else None, count, whole))
    return tuple(found)


def day_meets(day: HumidDay, rule: DaysRule) -> bool | None:
    """Whether one day is warm and humid enough; None where what is known does not tell."""
    warm = None if day.tmin_c is None else day.tmin_c >= rule.least_c
    humid = None if day.hours is None else day.hours >= rule.hours
    if humid is False and not day.whole:
        humid = None
    if warm is False or humid is False:
        return False
    return True if warm and humid else None


def spans_met(days: Sequence[HumidDay], rule: DaysRule) -> tuple[tuple[date, date], ...]:
    """List the spans of days in a row that meet a rule, by first and last day.

    Spans that follow on one another are told as one.
    """
    good = sorted(day.day for day in days if day_meets(day, rule))
    spans: list[list[date]] = []
    for day in good:
        if spans and day - spans[-1][-1] == timedelta(days=1):
            spans[-1].append(day)
        else:
            spans.append([day])
    return tuple((span[0], span[-1]) for span in spans if len(span) >= rule.days)


def can_be_said(days: Sequence[HumidDay], rule: DaysRule, first: date, last: date) -> bool:
    """Whether it is known of every day of a span that it meets a rule or does not."""
    known = {day.day for day in days if day_meets(day, rule) is not None}
    length = (last - first).days + 1
    return all(first + timedelta(days=number) in known for number in range(length))


def effective_hours(hours: Sequence[HourTold], rule: SpellRule) -> tuple[tuple[date, int], ...]:
    """Give the effective blight hours of each spell by the Irish Rules, with the day it ends.

    A spell is of hours in a row, each warm and humid enough; an hour that is not told ends it. Only
    spells of at least ``rule.hours`` are given. What the rules say of leaves that stay wet after
    is left out, since wetness is not told.
    """
    spells: list[list[HourTold]] = []
    before: HourTold | None = None
    for hour in sorted(hours, key=_moment):
        fits = hour.temperature_c >= rule.least_c and hour.humidity >= rule.humidity
        follows = before is not None and _moment(hour) - _moment(before) == timedelta(hours=1)
        if fits and follows and spells:
            spells[-1].append(hour)
        elif fits:
            spells.append([hour])
        before = hour if fits else None
    return tuple(
        (spell[-1].day, len(spell) - rule.less_h) for spell in spells if len(spell) >= rule.hours
    )


def severities(hours: Sequence[HourTold], rule: SeverityRule) -> Mapping[date, int]:
    """Give Wallin's severity of each day of which all hours are told.

    The mean temperature of its hours over the rule's humidity chooses the band, rounded to a whole
    degree Fahrenheit; outside all bands it is 0, and so it is with too few such hours.
    """
    by_day: dict[date, list[HourTold]] = {}
    for hour in hours:
        by_day.setdefault(hour.day, []).append(hour)
    found = {}
    for day, read in sorted(by_day.items()):
        if len(read) == HOURS_A_DAY:
            wet = [hour.temperature_c for hour in read if hour.humidity > rule.humidity]
            found[day] = _severity(wet, rule)
    return found


def _severity(wet: Sequence[float], rule: SeverityRule) -> int:
    if not wet:
        return 0
    mean_f = round(sum(wet) / len(wet) * 9 / 5 + 32)
    for (low, high), least in zip(rule.bands_f, rule.hours, strict=True):
        if low <= mean_f <= high:
            return sum(len(wet) >= hours for hours in least)
    return 0


def _moment(hour: HourTold) -> datetime:
    """Give an hour as a moment by the garden's clock, of which the zone does not matter here."""
    return datetime.combine(hour.day, time(hour.hour))
