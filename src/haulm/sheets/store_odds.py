"""What many seasons say of the stores, as the larder tide shows it: fans and run-out dates."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from haulm.forecast.records import RunOut
from haulm.plan.records import Plan
from haulm.sheets.tide_sums import Weekly, lots_of

Seasons = NDArray[np.float32]
"""What lies in store at each week's end, season by season, shape (seasons, weeks) [kg]."""

FAN: tuple[tuple[float, str, str], ...] = (
    (0.1, "in a poor year, one in ten", "1 2"),
    (0.5, "in a middle year", "5 2 1 2"),
    (0.9, "in a good year, one in ten", "4 2"),
)
"""The fan's lines: the share of seasons below each [1], its words, its dashes in line widths."""

NOTHING_KG = 0.05


@dataclass(frozen=True, slots=True, eq=False)
class StoreOdds:
    """What many seasons say of the stores.

    Attributes
    ----------
    in_store_kg
        By food: what lies in store.
    run_out
        When each food in store has run out, early, in a middle year and late.
    """

    in_store_kg: Mapping[str, Seasons]
    run_out: tuple[RunOut, ...]


@dataclass(frozen=True, slots=True, eq=False)
class StoreFan:
    """The fan of some lines' stores.

    ``levels_kg`` are those of ``FAN``, shape (3, weeks) [kg]: of all the foods together in each
    season, since their poor years are not the same. ``run_out`` are those of the foods.
    """

    levels_kg: Weekly
    run_out: tuple[RunOut, ...]

    @property
    def most_kg(self) -> float:
        """The most that lies there in a good year [kg]."""
        return float(self.levels_kg.max(initial=0.0))


def store_fan(
    odds: StoreOdds | None, plan: Plan, lines: Collection[str] | None = None
) -> StoreFan | None:
    """Give the fan of what the tide shows of all lines of the table, or of some.

    None where no odds were reckoned, where nothing lies in store, or where other lines' stores of
    the same food could not be told apart from theirs.
    """
    if odds is None:
        return None
    theirs = None if lines is None else lots_of(plan, lines)
    foods = {lot.food for lot in plan.lots if theirs is None or lot.id in theirs}
    shared = theirs is not None and any(
        lot.food in foods and lot.id not in theirs for lot in plan.lots
    )
    held = [odds.in_store_kg[food] for food in sorted(foods) if food in odds.in_store_kg]
    if shared or not held:
        return None
    together = np.sum(held, axis=0, dtype=np.float64)
    levels = np.quantile(together, [share for share, _words, _dash in FAN], axis=0)
    if levels.max() <= NOTHING_KG:
        return None
    return StoreFan(levels, tuple(out for out in odds.run_out if out.food in foods))


def run_out_days(plan: Plan, out: RunOut) -> tuple[date | None, date | None]:
    """Give the Mondays by which a food has run out early and late; None: not by the plan's end."""
    early, _middle, late = out.weeks
    monday = plan.horizon.monday
    return (None if early is None else monday(early)), (None if late is None else monday(late))
