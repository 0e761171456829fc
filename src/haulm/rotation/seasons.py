"""The four seasons of a year, by which a rotation counts its ground.

A season is a quarter of the calendar year, counted on without end: 4 · year + quarter. Its ground
is looked at in its middle, so that what follows on within the year may share a bed.
"""

from datetime import date

QUARTERS = 4
MIDDLES = ((2, 15), (5, 15), (8, 15), (11, 15))
"""Month and day of the middle of each quarter."""
NORTHERN = ("winter", "spring", "summer", "autumn")
LONG_DAYS = 28
"""What holds ground for as long as this in a season keeps a green manure out of it [d]."""
SOUTHERN = ("summer", "autumn", "winter", "spring")


def season_of(year: int, quarter: int) -> int:
    """Give the number of a quarter (0 to 3) of a year."""
    return QUARTERS * year + quarter


def year_of(season: int) -> int:
    """Give the calendar year of a season."""
    return season // QUARTERS


def middle(season: int) -> date:
    """Give the day on which a season's ground is looked at."""
    return date(year_of(season), *MIDDLES[season % QUARTERS])


def first_open(day: date) -> int:
    """Give the first season whose middle has not gone by on a day."""
    season = season_of(day.year, 0)
    while middle(season) < day:
        season += 1
    return season


def held(ground_from: date, until: date) -> tuple[int, ...]:
    """Give the seasons in whose middle ground is held, from a day until another, not counted.

    What comes and goes between two middles is counted in the season nearest to its own middle.
    """
    first = season_of(ground_from.year, 0)
    last = season_of(until.year, QUARTERS - 1)
    met = tuple(s for s in range(first, last + 1) if ground_from <= middle(s) < until)
    if met:
        return met
    own = ground_from + (until - ground_from) / 2
    return (min(range(first, last + 1), key=lambda s: abs((middle(s) - own).days)),)


def touched(ground_from: date, until: date) -> tuple[int, ...]:
    """Give the seasons of which ground is held for four weeks or more, and what it is held in."""
    first = season_of(ground_from.year, 0)
    last = season_of(until.year, QUARTERS - 1)
    long = {s for s in range(first, last + 1) if _days_in(s, ground_from, until) >= LONG_DAYS}
    met = long | set(held(ground_from, until))
    return tuple(range(min(met), max(met) + 1))


def _days_in(season: int, ground_from: date, until: date) -> int:
    """Count the days of a season between two days, the last not counted."""
    return (min(until, first_day(season + 1)) - max(ground_from, first_day(season))).days


def first_day(season: int) -> date:
    """Give the first day of a season."""
    return date(year_of(season), 3 * (season % QUARTERS) + 1, 1)


def season_name(season: int, *, southern: bool) -> str:
    """Name a season with its year: *autumn 2028*."""
    names = SOUTHERN if southern else NORTHERN
    return f"{names[season % QUARTERS]} {year_of(season)}"
