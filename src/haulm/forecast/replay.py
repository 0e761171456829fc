"""A plan lived through named years: what came of it in each, with nothing but their weather."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from haulm.forecast.blight import occasion_odds
from haulm.forecast.diseases import disease_chances
from haulm.forecast.luck import Dealt
from haulm.forecast.records import Coming, Floats, Luck, Trial
from haulm.forecast.rules import forecast_rules
from haulm.measure.weeks import WEEKS_A_YEAR
from haulm.plan.records import Plan


@dataclass(frozen=True, slots=True)
class LineReplayed:
    """One line of the table through the years.

    Attributes
    ----------
    line
        Which.
    promised_kg
        What the plan means to serve over all of its weeks [kg].
    eaten_kg
        What was eaten, year by year [kg].
    missed_kg
        What the promises of the plan's years went short by, year by year [kg].
    """

    line: str
    promised_kg: float
    eaten_kg: tuple[float, ...]
    missed_kg: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class StoreReplayed:
    """One food in store through the years, after the week in which most of it lies there.

    ``fullest`` is that week in the mean of the years; ``out`` is the week by which it had run out,
    year by year, None where it had not by the plan's end.
    """

    food: str
    fullest: int
    out: tuple[int | None, ...]


@dataclass(frozen=True, slots=True)
class Replay:
    """A plan lived through named years.

    Attributes
    ----------
    years
        The calendar years in which the plan was begun.
    lines, stores
        Every line that the plan promises anything, and every food that lies in store, once for
        each of the plan's years.
    """

    years: tuple[int, ...]
    lines: tuple[LineReplayed, ...]
    stores: tuple[StoreReplayed, ...]

    @property
    def missed_kg(self) -> tuple[float, ...]:
        """Give what all promises together went short by, year by year [kg]."""
        return tuple(
            float(sum(kg)) for kg in zip(*(one.missed_kg for one in self.lines), strict=True)
        )

    @property
    def worst(self) -> int:
        """Give the place of the year that fell shortest of its promises."""
        return int(np.argmax(self.missed_kg))


Usual = Mapping[tuple[str, str], float]
"""By planting and food: what disease that comes with the weather usually leaves [1]."""


def usual_left(comings: Sequence[Coming]) -> Usual:
    """Give what late blight leaves each planting in the mean of the years [1]."""
    return {
        (one.planting, one.food): float(_left_by_blight(one).mean())
        for one in comings
        if one.blight is not None
    }


def middle_luck(dealt: Dealt, usual: Usual, *, blight: bool = True) -> Luck:
    """Deal nothing but weather: every yield, store and appetite is that of the mean of years.

    Each run of weather is lived once. Of late blight a year has what its weather and the usual
    odds of its coming make of it, against what it ``usual``ly leaves; with ``blight`` false no more
    than usual.
    """
    runs = dealt.comings[0].first_week.size if dealt.comings else 1
    yields = {}
    for one in dealt.comings:
        left = np.ones(runs)
        if blight and (one.planting, one.food) in usual:
            left = _left_by_blight(one) / usual[one.planting, one.food]
        yields[one.planting, one.food] = left
    return Luck(
        run=np.arange(runs),
        yields=yields,
        ageing={store: np.ones(runs) for store in dealt.stores},
        wants={line: np.ones((runs, dealt.weeks)) for line in dealt.lines},
    )


def _left_by_blight(coming: Coming) -> Floats:
    """Give what late blight leaves in each run, its odds of coming counted [1]."""
    left = np.ones(coming.first_week.size)
    for disease in disease_chances():
        if disease.from_weather and coming.blight is not None and disease.strikes(coming):
            left = left * (occasion_odds(disease.chance.value) @ coming.blight.left)
    return left


def replay_of(plan: Plan, trial: Trial, years: Sequence[int]) -> Replay:
    """Tell what came of a plan in every year that it was lived through."""
    return Replay(
        tuple(years),
        tuple(told for line in trial.wanted if (told := _line(plan, trial, line)).promised_kg > 0),
        tuple(
            store
            for food, kg in trial.in_store.items()
            for first in range(0, plan.horizon.weeks, WEEKS_A_YEAR)
            if (store := _store(food, kg, first)) is not None
        ),
    )


def _line(plan: Plan, trial: Trial, line: str) -> LineReplayed:
    """Follow one line."""
    promised = np.zeros(plan.horizon.weeks)
    for row in plan.table:
        if row.line == line:
            promised[row.week] = row.fresh_kg + row.stored_kg
    eaten = trial.fresh[line] + trial.stored[line]
    years = eaten.shape[1] // WEEKS_A_YEAR
    by_year = eaten[:, : years * WEEKS_A_YEAR].reshape(-1, years, WEEKS_A_YEAR).sum(axis=2)
    asked = promised[: years * WEEKS_A_YEAR].reshape(years, WEEKS_A_YEAR).sum(axis=1)
    missed = np.maximum(asked - by_year, 0.0).sum(axis=1)
    return LineReplayed(
        line,
        float(promised.sum()),
        tuple(float(kg) for kg in eaten.sum(axis=1)),
        tuple(float(kg) for kg in missed),
    )


def _store(food: str, in_store: Floats, first: int) -> StoreReplayed | None:
    """Follow one food's store through one of the plan's years; None where none lies there."""
    empty_kg = forecast_rules().empty_kg.value
    mean = in_store[:, first : first + WEEKS_A_YEAR].mean(axis=0)
    fullest = first + int(mean.argmax())
    if mean.max() <= empty_kg or (first and fullest == first):
        return None
    empty = in_store[:, fullest:] <= empty_kg
    return StoreReplayed(
        food,
        fullest,
        tuple(fullest + int(row.argmax()) if row.any() else None for row in empty),
    )
