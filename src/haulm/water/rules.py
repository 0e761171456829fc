"""Rules that an authority sets on watering: when a hose may run, on which days, over which beds."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time, timedelta
from enum import StrEnum

from haulm.ground.records import Watered

Hours = tuple[time, time]
"""Hours of a day, from and to."""

LOOKED_AHEAD = 31
"""So many days ahead the next day on which watering is allowed is looked for [d]."""


class Weekday(StrEnum):
    """The days of the week, in their order."""

    MONDAY = "monday"
    TUESDAY = "tuesday"
    WEDNESDAY = "wednesday"
    THURSDAY = "thursday"
    FRIDAY = "friday"
    SATURDAY = "saturday"
    SUNDAY = "sunday"


class Dates(StrEnum):
    """Every second day by its number in the month, as some towns share water out."""

    ODD = "odd"
    EVEN = "even"


@dataclass(frozen=True, slots=True)
class WaterRule:
    """One rule on watering.

    Attributes
    ----------
    name
        What it is called.
    first, last
        The days on which it holds, both counted; None for without beginning, or end.
    every_year
        Whether it holds on those days of every year.
    ways
        The ways of watering that it is for; others are free.
    weekdays, dates, hours
        When those ways are allowed all the same. Where all three are empty they are not at all.
    exempt
        Ids of beds that it is not for.
    """

    name: str
    first: date | None = None
    last: date | None = None
    every_year: bool = False
    ways: frozenset[Watered] = frozenset({Watered.HOSE})
    weekdays: tuple[Weekday, ...] = ()
    dates: Dates | None = None
    hours: tuple[Hours, ...] = ()
    exempt: frozenset[str] = frozenset()

    def holds(self, day: date) -> bool:
        """Say whether it holds on a day."""
        if not self.every_year or self.first is None or self.last is None:
            begun = self.first is None or day >= self.first
            return begun and (self.last is None or day <= self.last)
        first, last, now = ((one.month, one.day) for one in (self.first, self.last, day))
        # Over the turn of the year, as from November to March.
        return first <= now <= last if first <= last else now >= first or now <= last

    def lets(self, day: date) -> bool:
        """Say whether it lets its ways of watering run at some hour of a day."""
        if not (self.weekdays or self.dates or self.hours):
            return False
        weekday = not self.weekdays or list(Weekday)[day.weekday()] in self.weekdays
        return weekday and (self.dates is None or (self.dates is Dates.ODD) == bool(day.day % 2))


@dataclass(frozen=True, slots=True)
class Allowed:
    """What rules say of watering a bed on a day.

    Attributes
    ----------
    may
        Whether its way of watering may be used at all.
    hours
        When, from and to; empty for at any hour.
    rules
        The names of the rules that hold; none where nobody limits it.
    """

    may: bool
    hours: tuple[Hours, ...] = ()
    rules: tuple[str, ...] = ()


def allowed_on(rules: Iterable[WaterRule], bed: str, way: Watered, day: date) -> Allowed:
    """Say what all rules together allow of a way of watering a bed on a day."""
    binding = [
        rule for rule in rules if way in rule.ways and bed not in rule.exempt and rule.holds(day)
    ]
    names = tuple(rule.name for rule in binding)
    hours: tuple[Hours, ...] = ()
    for rule in binding:
        if not rule.lets(day):
            return Allowed(may=False, rules=names)
        if rule.hours:
            hours = _both(hours, rule.hours) if hours else rule.hours
            if not hours:
                return Allowed(may=False, rules=names)
    return Allowed(may=True, hours=hours, rules=names)


def next_allowed(rules: Iterable[WaterRule], bed: str, way: Watered, day: date) -> date | None:
    """Give the first day after another on which a way of watering is allowed; None for not soon."""
    rules = tuple(rules)
    for ahead in range(1, LOOKED_AHEAD + 1):
        later = day + timedelta(days=ahead)
        if allowed_on(rules, bed, way, later).may:
            return later
    return None


def _both(some: tuple[Hours, ...], others: tuple[Hours, ...]) -> tuple[Hours, ...]:
    """Give the hours that lie in both."""
    both = ((max(a, c), min(b, d)) for a, b in some for c, d in others)
    return tuple((first, last) for first, last in both if first < last)
