"""What many seasons say of a plan: odds of promises, fans of stores, what fails together."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from haulm.forecast.records import Floats, PlanOdds, Promise, RunOut, Together, Trial
from haulm.forecast.rules import forecast_rules
from haulm.measure.weeks import WEEKS_A_YEAR
from haulm.plan.records import Plan

Narrow = NDArray[np.float32]

TENTHS = (0.1, 0.5, 0.9)
"""The shares of seasons that fans and dates are told for."""


def odds_of(plan: Plan, trial: Trial, origin: str) -> PlanOdds:
    """Sum up what came of a plan in many seasons."""
    tally = Tally(plan)
    tally.add(trial)
    return tally.odds(origin)


class Tally:
    """What is kept of many seasons, which may be lived in blocks so that memory stays bounded.

    Week by week only what lies in store and what is short is kept, at half the width it was lived
    with; of all else the years' sums.
    """

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._years = range(plan.horizon.weeks // WEEKS_A_YEAR)
        self._in_store: dict[str, list[Narrow]] = defaultdict(list)
        self._short: dict[str, list[Narrow]] = defaultdict(list)
        self._eaten: dict[tuple[str, int], list[Floats]] = defaultdict(list)
        self._wanted: dict[tuple[str, int], list[Floats]] = defaultdict(list)
        self._missed: dict[str, list[Floats]] = defaultdict(list)

    def add(self, trial: Trial) -> None:
        """Add a block of seasons."""
        for food, kg in trial.in_store.items():
            self._in_store[food].append(_narrow(kg))
        for line, wanted in trial.wanted.items():
            short = trial.short(line)
            self._short[line].append(_narrow(short))
            self._missed[line].append(short.sum(axis=1) / np.maximum(wanted.sum(axis=1), 1e-9))
            eaten = trial.fresh[line] + trial.stored[line]
            for year in self._years:
                weeks = slice(year * WEEKS_A_YEAR, (year + 1) * WEEKS_A_YEAR)
                self._eaten[line, year].append(eaten[:, weeks].sum(axis=1))
                self._wanted[line, year].append(wanted[:, weeks].sum(axis=1))

    def odds(self, origin: str) -> PlanOdds:
        """Tell the odds of all seasons added."""
        in_store: dict[str, Floats] = {}
        run_out: list[RunOut] = []
        for food, blocks in self._in_store.items():
            kg = _joined(blocks)
            if kg.any():
                in_store[food] = _fan(kg)
                run_out.extend(_run_outs(food, kg))
        return PlanOdds(
            seasons=sum(block.shape[0] for block in next(iter(self._short.values()))),
            origin=origin,
            promises=tuple(
                promise
                for line in self._short
                for year in self._years
                if (promise := self._promise(line, year)) is not None
            ),
            in_store_kg=in_store,
            short_kg={line: _fan(_joined(blocks)) for line, blocks in self._short.items()},
            run_out=tuple(run_out),
            together=_together(
                {line: np.concatenate(shares) for line, shares in self._missed.items()}
            ),
            eaten_kg=self._eaten_in_all(),
        )

    def _eaten_in_all(self) -> tuple[float, float, float]:
        """Give all that is eaten over the plan's years in 1, 5 and 9 seasons of 10 [kg]."""
        eaten = sum(np.concatenate(blocks) for blocks in self._eaten.values())
        low, middle, high = np.quantile(eaten, TENTHS)
        return float(low), float(middle), float(high)

    def _promise(self, line: str, year: int) -> Promise | None:
        """Weigh one line's year against what the plan promises; None where it promises nothing."""
        first = year * WEEKS_A_YEAR
        rows = [
            row
            for row in self._plan.table
            if row.line == line and first <= row.week < first + WEEKS_A_YEAR
        ]
        promised = sum(row.fresh_kg + row.stored_kg for row in rows)
        if promised <= 0:
            return None
        eaten = np.concatenate(self._eaten[line, year])
        told = sum(row.wanted_kg for row in rows)
        # A season that wants less than was told is not held to more than it wants.
        wanted = np.concatenate(self._wanted[line, year])
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


def _narrow(kg: Floats) -> Narrow:
    """Keep an account at half its width."""
    return kg.astype(np.float32, order="F")


def _joined(blocks: Sequence[Narrow]) -> Narrow:
    """Put the blocks of one account together, shape (seasons, weeks)."""
    return blocks[0] if len(blocks) == 1 else np.concatenate([kg.T for kg in blocks], axis=1).T


def _fan(kg: Narrow) -> Floats:
    """Give 1, 5 and 9 seasons of 10, week by week, shape (3, weeks) [kg]."""
    return np.quantile(kg, TENTHS, axis=0).astype(np.float64)


def _run_outs(food: str, in_store: Narrow) -> Iterator[RunOut]:
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


def _together(shares: Mapping[str, Floats]) -> tuple[Together, ...]:
    """Find the pairs of lines that are short in the same seasons."""
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
