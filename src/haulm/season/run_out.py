"""When a food in store runs out, in how many years of ten, and how long until it comes anew."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from haulm.measure.weeks import DAYS_A_WEEK
from haulm.season.eat_first import there_to_eat, weeks_until
from haulm.season.keeping_pace import age_weeks
from haulm.season.ledger_records import LedgerLot

Floats = NDArray[np.float64]
DRAWS = 1000
YEARS_IN_TEN = (0.2, 0.5, 0.8)
"""A date is told by which it is gone in 2, 5 and 8 years of ten."""
READY_ODDS = (0.1, 0.5, 0.9)
MET = 1e-6


@dataclass(frozen=True, slots=True)
class ReadyAgain:
    """When a food comes anew: 1, 5 and 9 years in 10."""

    early: date
    middle: date
    late: date


@dataclass(frozen=True, slots=True)
class Gap:
    """Weeks in which a food is wanted and neither in store nor ready.

    ``low``, ``middle`` and ``high`` are weeks in 1, 5 and 9 years in 10; ``share`` is the share of
    years in which there is any such week [1].
    """

    low: int
    middle: int
    high: int
    share: float


@dataclass(frozen=True, slots=True)
class GoneBy:
    """By when a food in store is gone.

    ``gone_by`` are the days by which it is gone in 2, 5 and 8 years of ten; None where in so many
    years it lasts until it may come anew, or through the weeks looked over. ``gap`` is None where
    nobody knows when it comes anew.
    """

    food: str
    gone_by: tuple[date | None, date | None, date | None]
    gap: Gap | None


def store_luck(stores: Sequence[str], seed: int) -> Mapping[str, Floats]:
    """Draw how each store does, in standard deviations of the log of the pace of ageing."""
    draw = np.random.default_rng(seed)
    return {store: draw.standard_normal(DRAWS) for store in sorted(set(stores))}


def run_out(
    lots: Sequence[LedgerLot],
    wanted_kg: Sequence[float],
    day: date,
    luck: Mapping[str, Floats],
    again: ReadyAgain | None,
    seed: int,
) -> GoneBy | None:
    """Eat a food from store as the table wants it, in many years at once.

    Every lot ages at a pace of its own, lognormal about what its counts tell; lots in one store
    have their luck in common, as in the forecast. What is past keeping soonest is eaten first.

    Parameters
    ----------
    lots
        The kitchen's lots of one food.
    wanted_kg
        What the table wants of it from store in each week from ``day`` on [kg].
    day
        Today.
    luck
        By store; see :func:`store_luck`.
    again
        When it comes anew; None where nobody knows.
    seed
        The seed of the day it comes anew.

    Returns
    -------
    None where nothing is there, or nothing of it is wanted.
    """
    there = there_to_eat(lots, day)
    wanted = np.asarray(wanted_kg, dtype=np.float64)
    if not there or not wanted.any():
        return None
    gone = _gone_week(there, wanted, day, luck)
    weeks = [np.quantile(gone, share, method="inverted_cdf") for share in YEARS_IN_TEN]
    # What lasts until it may come anew has not run out.
    end = wanted.size if again is None else min(wanted.size, weeks_until(day, again.early))
    first, middle, last = (
        day + timedelta(weeks=int(week)) if week < end else None for week in weeks
    )
    gap = None if again is None else _gap(gone, wanted, day, again, seed)
    return GoneBy(there[0].food, (first, middle, last), gap)


def _gone_week(
    lots: Sequence[LedgerLot], wanted: Floats, day: date, luck: Mapping[str, Floats]
) -> NDArray[np.int64]:
    """Give the first week in which less is there than is wanted; the number of weeks if none."""
    paces = [lot.pace * np.exp(luck[lot.store] * lot.pace_spread) for lot in lots]
    base = [np.full(DRAWS, lot.base_kg, dtype=np.float64) for lot in lots]
    most = [np.full(DRAWS, lot.most_kg, dtype=np.float64) for lot in lots]
    gone = np.full(DRAWS, wanted.size, dtype=np.int64)
    for week in range(wanted.size):
        left = np.full(DRAWS, wanted[week])
        for number, lot in enumerate(lots):
            if not most[number].any():
                continue
            share = _share(lot, day, week, paces[number])
            taken = np.minimum(np.minimum(left, base[number] * share), most[number])
            base[number] -= np.divide(taken, share, out=np.zeros(DRAWS), where=share > 0)
            most[number] -= taken
            left -= taken
        lacks = left > wanted[week] * MET
        gone = np.where(lacks & (gone == wanted.size), week, gone)
        if (gone < wanted.size).all():
            break
    return gone


def _share(lot: LedgerLot, day: date, week: int, pace: Floats) -> Floats:
    """Give the sound share in a week; until the last count a lot aged as that count says."""
    last = lot.counts[-1].day if lot.counts else lot.put_by
    then = age_weeks(lot.put_by, last)
    since = age_weeks(lot.put_by, day) + week - then
    ages = then * lot.pace + max(since, 0.0) * pace
    table = np.asarray(lot.keeps.sound)
    return np.asarray(np.interp(ages, np.arange(table.size), table, right=0.0))


def _gap(gone: NDArray[np.int64], wanted: Floats, day: date, again: ReadyAgain, seed: int) -> Gap:
    """Count the weeks from run out to ready in which the food is wanted."""
    chance = np.random.default_rng(seed).random(DRAWS)
    told = [(when - day).days / DAYS_A_WEEK for when in (again.early, again.middle, again.late)]
    ready = np.interp(chance, READY_ODDS, told)
    before = np.concatenate(([0], np.cumsum(wanted > 0)))
    come = np.clip(np.floor(ready).astype(np.int64), 0, wanted.size)
    weeks = np.maximum(0, before[come] - before[np.minimum(gone, come)])
    low, middle, high = (
        int(np.quantile(weeks, share, method="inverted_cdf")) for share in READY_ODDS
    )
    return Gap(low, middle, high, float(np.mean(weeks > 0)))
