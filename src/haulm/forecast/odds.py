"""What many seasons say of a plan: odds of promises, fans of stores, what fails together."""

from collections.abc import Iterator
from itertools import combinations
from math import sqrt

import numpy as np

from haulm.forecast.records import Floats, PlanOdds, Promise, RunOut, Together, Trial
from haulm.forecast.rules import forecast_rules
from haulm.measure.weeks import WEEKS_A_YEAR
from haulm.plan.records import Plan

TENTHS = (0.1, 0.5, 0.9)
"""The shares of seasons that fans and dates are told for."""


def odds_of(plan: Plan, trial: Trial, origin: str) -> PlanOdds:
    """Sum up what came of a plan in many seasons."""
    seasons = next(iter(trial.wanted.values())).shape[0]
    stored = [food for food, kg in trial.in_store.items() if kg.any()]
    return PlanOdds(
        seasons=seasons,
        origin=origin,
        promises=tuple(
            promise
            for line in trial.wanted
            for year in range(plan.horizon.weeks // WEEKS_A_YEAR)
            if (promise := _promise(plan, trial, line, year)) is not None
        ),
        in_store_kg={food: _fan(trial.in_store[food]) for food in stored},
        short_kg={line: _fan(trial.short(line)) for line in trial.wanted},
        run_out=tuple(out for food in stored for out in _run_outs(food, trial.in_store[food])),
        together=_together(trial),
    )


def _promise(plan: Plan, trial: Trial, line: str, year: int) -> Promise | None:
    """Weigh one line's year against what the plan promises; None where it promises nothing."""
    weeks = slice(year * WEEKS_A_YEAR, (year + 1) * WEEKS_A_YEAR)
    rows = [r for r in plan.table if r.line == line and weeks.start <= r.week < weeks.stop]
    promised = sum(row.fresh_kg + row.stored_kg for row in rows)
    if promised <= 0:
        return None
    eaten = (trial.fresh[line] + trial.stored[line])[:, weeks].sum(axis=1)
    told = sum(row.wanted_kg for row in rows)
    # A season that wants less than was told is not held to more than it wants.
    wanted = trial.wanted[line][:, weeks].sum(axis=1)
    asked = np.minimum(promised, promised * wanted / told)
    held = float(np.mean(eaten >= forecast_rules().held_share.value * asked))
    low, middle, high = np.quantile(eaten, TENTHS)
    return Promise(
        line=line,
        year=year,
        promised_kg=promised,
        wanted_kg=told,
        eaten_kg=(float(low), float(middle), float(high)),
        held=held,
        error=sqrt(held * (1 - held) / eaten.size),
    )


def _fan(kg: Floats) -> Floats:
    """Give 1, 5 and 9 seasons of 10, week by week, shape (3, weeks) [kg]."""
    return np.asarray(np.quantile(kg, TENTHS, axis=0))


def _run_outs(food: str, in_store: Floats) -> Iterator[RunOut]:
    """Tell when a food's store has run out, year by year; not for a year in which none lies."""
    empty_kg = forecast_rules().empty_kg.value
    weeks = in_store.shape[1]
    for first in range(0, weeks, WEEKS_A_YEAR):
        mean = in_store[:, first : first + WEEKS_A_YEAR].mean(axis=0)
        if mean.max() <= empty_kg:
            continue
        fullest = first + int(mean.argmax())
        if first and fullest == first:
            continue  # what lies there is what the year before put by
        empty = in_store[:, fullest:] <= empty_kg
        out = np.sort(np.where(empty.any(axis=1), fullest + empty.argmax(axis=1), weeks))
        by = out[[int(np.ceil(share * out.size)) - 1 for share in TENTHS]].tolist()
        early, middle, late = (None if week >= weeks else int(week) for week in by)
        yield RunOut(food, fullest, (early, middle, late))


def _together(trial: Trial) -> tuple[Together, ...]:
    """Find the pairs of lines that are short in the same seasons."""
    shares = {
        line: trial.short(line).sum(axis=1) / np.maximum(wanted.sum(axis=1), 1e-9)
        for line, wanted in trial.wanted.items()
    }
    varying = [line for line, share in shares.items() if share.std() > 0]
    if not varying:
        return ()
    least = forecast_rules().together_from.value
    correlation = np.atleast_2d(np.corrcoef([shares[line] for line in varying]))
    pairs = [
        Together(varying[i], varying[j], float(correlation[i, j]))
        for i, j in combinations(range(len(varying)), 2)
        if correlation[i, j] >= least
    ]
    return tuple(sorted(pairs, key=lambda pair: -pair.correlation))
