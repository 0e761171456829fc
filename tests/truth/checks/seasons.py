"""Many seasons, against a textbook's newsvendor, blight forecasts and weighed gardens."""

from collections.abc import Callable
from functools import cache, partial
from math import exp

import numpy as np

from forecast.seasons_by_hand import (
    CELLAR,
    FOOD,
    WEEKS,
    appetite,
    coming,
    keep_rule,
    lot,
    plain_luck,
    plan_of,
)
from haulm.catalogue.figures import Figure
from haulm.catalogue.records import Picking
from haulm.forecast.luck import Dealt, draw_luck
from haulm.forecast.rules import forecast_rules
from haulm.forecast.safety import counted_share, yield_spread
from haulm.forecast.trial import Household, live_through
from haulm.growing.harvest import yield_bounds
from haulm.growing.timing import main_giving
from haulm.larder.keeping import keeping_curve, sound_share
from truth.checks.larder import SQUASH
from truth.checks.yields import cleared_kinds
from truth.published import Check, Rule, Section, Span, Table

SNYDER_SHEN = (
    "Snyder and Shen, Fundamentals of Supply Chain Theory, 2nd edition, Wiley 2019, problem 4.8(b)"
)
SPREAD, LOG_MEAN, OVER, UNDER = 0.3, 6.0, 1.0, 0.1765
"""The problem's lognormal demand, and its costs of too much and too little."""

SEASONS = 40_000


def newsvendor_kg() -> float:
    """Give the quantity that the problem's costs call for, by the share that haulm counts on."""
    mean = exp(LOG_MEAN + SPREAD**2 / 2)
    return mean * counted_share(SPREAD, OVER / (OVER + UNDER))


@cache
def newsvendor_cost() -> float:
    """Give the mean cost of that quantity: one crop, wanted and given, lived through seasons."""
    mean, quantity = exp(LOG_MEAN + SPREAD**2 / 2), newsvendor_kg()
    comings = [coming(mean, Picking.ONCE, 10, spread=SPREAD)]
    want = [quantity if week == 10 else 0.0 for week in range(WEEKS)]
    household = Household([appetite(want)], [], [])
    even = (np.arange(SEASONS) + 0.5) / SEASONS
    drawn = np.array([counted_share(SPREAD, 1 - share) for share in even])
    trial = live_through(plan_of(), comings, household, plain_luck(comings, household, drawn))
    # The crop is the demand of the problem: what is left of it was asked for in vain.
    too_little = trial.glut[FOOD].sum(axis=1).mean()
    too_much = trial.short(FOOD).sum(axis=1).mean()
    return float(OVER * too_much + UNDER * too_little)


def figure(name: str) -> Callable[[], float]:
    """Give one of the forecast's own figures."""
    return lambda: _figure(name).value


def figure_span(name: str) -> Span:
    """Give the bounds of one of them."""
    told = _figure(name)
    assert told.low is not None
    assert told.high is not None
    return told.low, told.high


def _figure(name: str) -> Figure:
    """Find a figure by its name."""
    found = getattr(forecast_rules(), name)
    assert isinstance(found, Figure)
    return found


@cache
def plantings() -> Span:
    """Give what a square metre gives, eight plantings in ten of any kind in any season [kg/m²]."""
    drawn = []
    for kind in cleared_kinds():
        giving = main_giving(kind)
        spread = yield_spread(*yield_bounds(giving.yield_kg_m2))
        one = coming(giving.yield_kg_m2.value, Picking.ONCE, 20, spread=spread, planting=kind.id)
        luck = draw_luck(Dealt([one], [], [], WEEKS), 1000, 1)
        drawn.append(one.kg * luck.yields[kind.id, FOOD])
    low, high = np.quantile(np.concatenate(drawn), (0.1, 0.9))
    return float(low), float(high)


def still_sound(weeks: int) -> float:
    """Give what is sound of a store that nobody eats from, lived for so long [1]."""
    curve = keeping_curve(9, 20)
    sound = tuple(sound_share(curve, week) for week in range(45))
    comings = [coming(1.0, Picking.ONCE, 2)]
    household = Household([appetite([0.0] * WEEKS)], [keep_rule(sound)], [CELLAR])
    plan = plan_of([lot(2, 1.0, sound)])
    trial = live_through(plan, comings, household, plain_luck(comings, household, np.ones(1)))
    return float(trial.in_store[FOOD][0, 2 + weeks])


SECTION = Section(
    "Many seasons",
    (
        Table(
            claim="The share of a mean that is counted on is the newsvendor's lognormal quantity.",
            source=SNYDER_SHEN,
            unit="units",
            tolerance=1e-3,
            why="the share is the lognormal's quantile over its mean",
            read="as the documentation of an inventory library prints its answer",
            checks=(Check("quantity", 295.6266448, newsvendor_kg),),
        ),
        Table(
            claim="Shortage and surplus, lived season by season, cost the newsvendor's sum.",
            source=SNYDER_SHEN,
            unit="cost",
            tolerance=0.02,
            why="40,000 seasons stand for the integral",
            read="as the documentation of an inventory library prints its answer",
            checks=(Check("mean cost", 29.4425435, newsvendor_cost),),
        ),
        Table(
            claim="A day favours late blight by the figures printed.",
            source="R. A. Hyre 1954, in UC IPM, Models: Diseases, Potato late blight",
            unit="°C, mm",
            carried=True,
            read="as a program that cites it quotes them",
            checks=(
                Check("five days' mean under", 25.5, figure("blight_mean_c")),
                Check("ten days' rain from", 30.0, figure("blight_rain_mm")),
                Check("night from", 7.2, figure("blight_least_c")),
            ),
        ),
        Table(
            claim="So many favourable days bring blight, and so long after.",
            source="Krause, Massie and Hyre 1975, Plant Disease Reporter 59",
            unit="d",
            carried=True,
            read="as two pages for users of weather stations sum it up",
            checks=(
                Check("favourable days", 10.0, figure("blight_days")),
                Check("until it is seen", (7.0, 14.0), partial(figure_span, "blight_delay_days")),
            ),
        ),
        Table(
            claim="Means of weighed home gardens lie within the seasons of plantings of all kinds.",
            source=(
                "CoDyre et al., mean of 50 gardens, 1.43; Conk and Porter, 31 gardens, 2.49; "
                "Algert, 10 gardens, 3.66"
            ),
            unit="kg/m²",
            rule=Rule.HOLDS,
            why="a garden grows many kinds; eight plantings in ten lie between ours",
            checks=(Check("lowest to highest of three", (1.43, 3.66), plantings),),
        ),
        Table(
            claim="A store of squash that is lived through loses what was counted in one.",
            source=SQUASH,
            unit="1",
            tolerance=0.015,
            why="printed to ten in a hundred",
            checks=tuple(
                Check(f"sound after {weeks} weeks", share, partial(still_sound, weeks))
                for weeks, share in ((9, 0.9), (15, 0.7), (20, 0.5))
            ),
        ),
    ),
)
