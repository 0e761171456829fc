"""Frost odds by the day, read off the dates that are given for a few odds."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from functools import lru_cache

import numpy as np

from haulm.measure.day_words import day_text
from haulm.sheets.draw.time_axis import TimeAxis
from haulm.site.records import FrostOdds


def _season_day(day: date, *, southern: bool) -> int:
    """Count the days since midwinter: from 1 January, or from 1 July south of the equator."""
    year = day.year - (1 if southern and day.month <= 6 else 0)  # noqa: PLR2004 - June
    return (day - date(year, 7 if southern else 1, 1)).days


@lru_cache(maxsize=4096)
def share_later(days: tuple[float | None, ...], odds: tuple[float, ...], day: int) -> float | None:
    """Give the odds on a day by straight lines between the dates given, drawn on at both ends."""
    known = sorted((when, odd) for when, odd in zip(days, odds, strict=True) if when is not None)
    if len(known) < 2:  # noqa: PLR2004 - a line needs two
        return None
    whens, shares = np.array([when for when, _ in known]), np.array([odd for _, odd in known])
    if day < whens[0] or day > whens[-1]:
        end, inner = (0, 1) if day < whens[0] else (-1, -2)
        run = whens[end] - whens[inner]
        slope = (shares[end] - shares[inner]) / run if run else 0.0
        return float(np.clip(shares[end] + slope * (day - whens[end]), 0.0, 1.0))
    return float(np.interp(day, whens, shares))


def frost_still_to_come(frost: FrostOdds, day: date, *, southern: bool) -> float | None:
    """Give the share of years in which a frost comes after a day, before midsummer is past [1].

    None where too few years freeze to say.
    """
    season_day = _season_day(day, southern=southern)
    return share_later(frost.last_spring, frost.odds, season_day)


def frost_has_come(frost: FrostOdds, day: date, *, southern: bool) -> float | None:
    """Give the share of years in which the first autumn frost has come by a day [1].

    None where too few years freeze to say.
    """
    season_day = _season_day(day, southern=southern)
    return share_later(frost.first_autumn, frost.odds, season_day)


def day_for_odds(days: Sequence[float | None], odds: Sequence[float], share: float) -> float | None:
    """Give the day of the season stated for a share of years; None where it is not stated."""
    for when, odd in zip(days, odds, strict=True):
        if abs(odd - share) < 1e-9:  # noqa: PLR2004 - the same odds
            return when
    return None


def frost_days(frost: FrostOdds, axis: TimeAxis, *, southern: bool) -> Iterator[tuple[date, str]]:
    """Give the days on an axis that are named for their frost odds, and what is said of them."""
    for words, days, share in (
        ("frost still to come: 9 in 10", frost.last_spring, 0.9),
        ("frost has come: 1 in 10", frost.first_autumn, 0.1),
        ("1 in 10", frost.last_spring, 0.1),
        ("9 in 10", frost.first_autumn, 0.9),
    ):
        when = day_for_odds(days, frost.odds, share)
        for year in range(axis.first_day.year - 1, axis.end_day.year + 1):
            if when is not None:
                day = date(year, 7 if southern else 1, 1) + timedelta(days=when)
                if axis.first_day < day < axis.end_day:
                    yield day, f"{words} at {day_text(day)}"
