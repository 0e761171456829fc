"""A plan lived through many seasons, against what can be reckoned in closed form."""

from math import ceil, log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import lognorm, norm

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
from haulm.catalogue.records import Picking
from haulm.forecast.luck import Dealt, draw_luck
from haulm.forecast.odds import odds_of
from haulm.forecast.rules import forecast_rules
from haulm.forecast.store_plan import store_plan
from haulm.forecast.trial import Household, live_through
from haulm.household.records import Wanted

SEASONS = 20_000
FOREVER = (1.0,) * 200


def in_one_week(week: int, kg: float) -> list[float]:
    """Want so much in one week and nothing else."""
    return [kg if number == week else 0.0 for number in range(WEEKS)]


@pytest.mark.parametrize("spread", [0.1, 0.3, 0.6])
def test_the_odds_of_one_crop_are_those_of_the_lognormal(spread: float) -> None:
    """A crop eaten as it comes serves a want in as many years as the lognormal law says, failures
    aside: P(yield ≥ want) = Φ((ln(mean / want) − s²/2) / s).
    """
    want, mean = 9.0, 10.0
    comings = [coming(mean, Picking.ONCE, 20, spread=spread)]
    household = Household([appetite(in_one_week(20, want))], [], [])
    luck = draw_luck(Dealt(comings, [], [], WEEKS), SEASONS, 1)
    luck = plain_luck(comings, household, luck.yields["onion-1", FOOD])
    trial = live_through(plan_of(), comings, household, luck)
    fails = forecast_rules().failure_share.value
    served = np.mean(trial.short(FOOD).sum(axis=1) <= 1e-9)
    deviate = (log(mean / (1 - fails) / want) - spread**2 / 2) / spread
    expected = (1 - fails) * norm.cdf(deviate)
    assert served == pytest.approx(expected, abs=4 * np.sqrt(expected * (1 - expected) / SEASONS))


def test_the_mean_shortage_of_one_crop_is_the_newsvendors_loss() -> None:
    """What a want stays short of on average is the lognormal loss: n Φ(d) − m Φ(d − s)."""
    want, mean, spread = 9.0, 10.0, 0.4
    fails = forecast_rules().failure_share.value
    comings = [coming(mean, Picking.ONCE, 20, spread=spread)]
    household = Household([appetite(in_one_week(20, want))], [], [])
    drawn = draw_luck(Dealt(comings, [], [], WEEKS), SEASONS, 2).yields["onion-1", FOOD]
    trial = live_through(plan_of(), comings, household, plain_luck(comings, household, drawn))
    alive = lognorm(s=spread, scale=mean / (1 - fails) * np.exp(-(spread**2) / 2))
    d = log(want / alive.median()) / spread
    loss = want * norm.cdf(d) - alive.mean() * norm.cdf(d - spread)
    expected = (1 - fails) * loss + fails * want
    short = trial.short(FOOD).sum(axis=1)
    assert short.mean() == pytest.approx(expected, abs=4 * short.std() / np.sqrt(SEASONS))


def test_drawn_yields_keep_their_mean_and_their_tenths() -> None:
    """Eight years in ten lie between the catalogue's bounds, and failures leave the mean alone."""
    spread = log(1.3 / 0.7) / (2 * norm.ppf(0.9))
    comings = [coming(1.0, Picking.ONCE, 20, spread=spread)]
    drawn = draw_luck(Dealt(comings, [], [], WEEKS), 200_000, 3).yields["onion-1", FOOD]
    assert drawn.mean() == pytest.approx(1.0, abs=0.005)
    alive = drawn[drawn > 0]
    low, high = np.quantile(alive, (0.1, 0.9))
    assert high / low == pytest.approx(1.3 / 0.7, rel=0.02)


def test_plantings_of_one_crop_share_part_of_their_luck() -> None:
    """Two plantings of a crop in a year do well together, as closely as the shares of luck say."""
    comings = [coming(1.0, Picking.ONCE, 20, spread=0.3, planting=name) for name in ("a", "b")]
    luck = draw_luck(Dealt(comings, [], [], WEEKS), 100_000, 4)
    one, other = luck.yields["a", FOOD], luck.yields["b", FOOD]
    both = (one > 0) & (other > 0)
    rules = forecast_rules()
    expected = rules.year_share.value + rules.crop_share.value
    found = np.corrcoef(np.log(one[both]), np.log(other[both]))[0, 1]
    assert found == pytest.approx(expected, abs=0.02)


@given(stock=st.floats(3.0, 60.0), use=st.floats(0.5, 3.0))
def test_a_store_that_does_not_rot_runs_out_when_it_is_eaten(stock: float, use: float) -> None:
    """Food that keeps for ever runs out after as many weeks as it holds weekly helpings."""
    wanted = [0.0] * 11 + [use] * (WEEKS - 11)
    comings = [coming(stock, Picking.ONCE, 10)]
    household = Household([appetite(wanted)], [keep_rule(FOREVER)], [CELLAR])
    plan = plan_of([lot(10, stock, FOREVER)], from_store_kg=wanted)
    luck = plain_luck(comings, household, np.ones(1))
    odds = odds_of(plan, live_through(plan, comings, household, luck), "")
    (run_out,) = odds.run_out
    left = stock - forecast_rules().empty_kg.value
    last = 10 + ceil(left / use - 1e-9)
    assert run_out.fullest == 10
    assert run_out.weeks == ((last,) * 3 if last < WEEKS else (None,) * 3)


def test_what_rots_is_lost_as_its_keeping_says() -> None:
    """A store nobody eats from holds, at every age, its sound share of what was put by."""
    sound = tuple(0.97**age for age in range(45))
    comings = [coming(10.0, Picking.ONCE, 5)]
    household = Household([appetite([0.0] * WEEKS)], [keep_rule(sound)], [CELLAR])
    plan = plan_of([lot(5, 10.0, sound)])
    trial = live_through(plan, comings, household, plain_luck(comings, household, np.ones(1)))
    assert trial.in_store[FOOD][0, 5 : 5 + 40] == pytest.approx(10.0 * np.array(sound[:40]))


def test_a_store_takes_no_more_than_it_has_room_for() -> None:
    """What does not go into a full cellar is glut, and is told."""
    small = type(CELLAR)("cellar", "Cellar", CELLAR.kind, 4.0)
    comings = [coming(10.0, Picking.ONCE, 5)]
    household = Household([appetite([0.0] * WEEKS)], [keep_rule(FOREVER, 2.0)], [small])
    plan = plan_of([lot(5, 10.0, FOREVER)])
    trial = live_through(plan, comings, household, plain_luck(comings, household, np.ones(1)))
    assert trial.in_store[FOOD][0, 5] == pytest.approx(2.0)
    assert trial.glut[FOOD][0].sum() == pytest.approx(8.0)


@given(
    seed=st.integers(0, 10_000),
    picking=st.sampled_from(Picking),
    wanted=st.sampled_from(Wanted),
    want=st.floats(0.0, 2.0),
)
def test_books_balance_in_every_season(
    seed: int, picking: Picking, wanted: Wanted, want: float
) -> None:
    """Whatever the season, nothing is eaten that was not grown, and nothing is more than wanted."""
    span = 1 if picking is Picking.ONCE else 12
    comings = [coming(20.0, picking, 10, span, 0.4)]
    household = Household([appetite([want] * WEEKS, wanted)], [keep_rule(FOREVER)], [CELLAR])
    plan = plan_of([lot(12, 10.0, FOREVER)], from_store_kg=[want] * WEEKS)
    luck = draw_luck(Dealt(comings, [FOOD], ["cellar"], WEEKS), 40, seed)
    trial = live_through(plan, comings, household, luck)
    grown = 20.0 * luck.yields["onion-1", FOOD]
    eaten = (trial.fresh[FOOD] + trial.stored[FOOD]).sum(axis=1)
    left = trial.in_store[FOOD][:, -1] + trial.glut[FOOD].sum(axis=1)
    assert eaten + left == pytest.approx(grown)
    assert np.all(trial.short(FOOD) >= -1e-9)
    assert np.all(trial.fresh[FOOD] == 0) or wanted is not Wanted.KEPT
    assert np.all(trial.stored[FOOD] == 0) or wanted is not Wanted.FRESH


def test_a_promise_is_held_where_luck_leaves_everything_as_planned() -> None:
    """With nothing left to chance a plan comes true in every season."""
    wanted = [0.0] * 10 + [1.0] * 10 + [0.0] * (WEEKS - 20)
    comings = [coming(10.0, Picking.SPREAD, 10, 10)]
    household = Household([appetite(wanted)], [], [])
    plan = plan_of(promised_kg=wanted)
    luck = plain_luck(comings, household, np.ones(3))
    (promise,) = odds_of(plan, live_through(plan, comings, household, luck), "").promises
    assert promise.held == 1.0
    assert promise.eaten_kg == pytest.approx((10.0, 10.0, 10.0))


def test_the_same_seed_gives_the_same_seasons() -> None:
    """Asked again with the same seed, the forecast says the same."""
    comings = [coming(1.0, Picking.ONCE, 20, spread=0.3)]
    dealt = Dealt(comings, [FOOD], ["cellar"], WEEKS)
    one, again, other = (draw_luck(dealt, 100, seed) for seed in (5, 5, 6))
    assert np.array_equal(one.yields["onion-1", FOOD], again.yields["onion-1", FOOD])
    assert not np.array_equal(one.yields["onion-1", FOOD], other.yields["onion-1", FOOD])


def test_what_lies_beyond_the_plan_is_spread_until_the_next_is_put_by() -> None:
    """A good year's onions are not eaten up at once: what is over lasts to the next lifting."""
    wanted = [0.0] * 11 + [5.0] * (WEEKS - 11)
    meant = [0.0] * 11 + [0.5] * (WEEKS - 11)
    comings = [coming(41.0, Picking.ONCE, 10)]
    household = Household([appetite(wanted)], [keep_rule(FOREVER)], [CELLAR])
    plan = plan_of([lot(10, 20.5, FOREVER, meant)], from_store_kg=meant)
    trial = live_through(plan, comings, household, plain_luck(comings, household, np.ones(1)))
    assert trial.stored[FOOD][0, 11:] == pytest.approx(np.ones(41))


def test_a_plan_knows_what_it_means_to_have_in_store() -> None:
    """What the plan's own lots hold each week is what is put by, less eaten, less rotten."""
    sound = tuple(0.9**age for age in range(30))
    meant = [0.0] * 6 + [1.0, 1.0] + [0.0] * (WEEKS - 8)
    there = store_plan(plan_of([lot(5, 10.0, sound, meant)])).sound_kg[FOOD]
    assert there[4:9] == pytest.approx([0, 10, 9, (9 - 1) * 0.9, (8 * 0.9 - 1) * 0.9])
