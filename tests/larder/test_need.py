"""The sum from table to planting stock."""

import re
from dataclasses import replace
from datetime import date
from math import ceil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.records import Form, StoreKind
from haulm.catalogue.stand import plants_m2
from haulm.household.records import Appetite, Wanted
from haulm.larder.keeping import keep_rules
from haulm.larder.need import (
    NeedCase,
    ReadyInfo,
    divide_by_survival,
    need_for,
    seed_units_per_kg,
    with_seed_back,
)
from haulm.larder.records import NeedSum, StorePlace
from haulm.measure.errors import FaultsFoundError
from haulm.measure.weeks import Horizon
from larder.garlic_by_hand import CLOVES, GARLIC, figure, garlic, keeping

HORIZON = Horizon(date(2027, 1, 4), 104)
KIND = garlic(keeping(Form.CURED, StoreKind.SHED, weeks=(20, 40)))
(KEEP,) = keep_rules([KIND], [StorePlace("shed", "Shed", StoreKind.SHED, None)])
CASE = NeedCase(KIND, GARLIC, CLOVES, ReadyInfo(26, 27), KEEP)


def appetite(kg_week: float = 0.1, wanted: Wanted = Wanted.EITHER) -> Appetite:
    """Want the same each week."""
    return Appetite("garlic", "Garlic", ("garlic",), wanted, 3, (kg_week,) * 104)


def step(need: NeedSum, what: str) -> tuple[str, float]:
    """Find the arithmetic and the result of the step that starts with these words."""
    (found,) = [step for step in need.steps if step.what.startswith(what)]
    return found.arithmetic, found.value


def test_250_heads_at_a_quarter_lost_are_334_sown() -> None:
    """Divide by what survives: 250 / 0.75 = 334, where 250 × 1.25 = 313 would leave 235 heads."""
    assert ceil(divide_by_survival(250, 0.75)) == 334
    assert 313 * 0.75 < 250 <= 334 * 0.75


@settings(max_examples=60, deadline=None)
@given(
    wanted=st.floats(1, 1000),
    shares=st.lists(st.floats(0.05, 1.0), min_size=1, max_size=4),
)
def test_what_is_started_leaves_what_is_wanted(wanted: float, shares: list[float]) -> None:
    """After every loss in turn, exactly what was wanted is left."""
    left = divide_by_survival(wanted, *shares)
    for share in shares:
        left *= share
    assert left == pytest.approx(wanted)


@pytest.mark.parametrize("share", [0.0, -0.1, 1.1, float("nan")])
def test_a_share_that_cannot_survive_is_refused(share: float) -> None:
    """Nothing can be divided by a survival of none, or of more than all."""
    with pytest.raises(FaultsFoundError, match="no share"):
        divide_by_survival(10, share)


def test_seed_kept_back_replaces_the_whole_planting() -> None:
    """Bulbs lifted, less those replanted, leave what was wanted.

    100 bulbs wanted, 10 cloves in a bulb, 9 cloves in 10 growing on: each bulb takes 1 / (10 × 0.9)
    of a bulb, so 100 / (1 − 0.111) = 112.5 are lifted and 12.5 go back, giving 112.5 again.
    """
    lifted = with_seed_back(100, 1 / (10 * 0.9))
    assert lifted == pytest.approx(112.5)
    assert lifted is not None
    assert (lifted - 100) * 10 * 0.9 == pytest.approx(lifted)


def test_seed_that_takes_the_whole_harvest_must_be_bought() -> None:
    """A plant that gives no more than it grew from cannot feed anybody."""
    assert with_seed_back(100, 1.0) is None


def test_a_year_is_eaten_fresh_or_from_store_or_left_out() -> None:
    """Every week of the year is served or said not to be.

    Of 52 weeks from the first lifting, two are eaten fresh; the store opens four weeks after the
    last lifting (curing) and serves while 0.3 or more is sound.
    """
    need = need_for(appetite(), HORIZON, CASE)
    stored_weeks = min(len(KEEP.sound), 51) - 4
    assert need.eaten_kg == pytest.approx(0.1 * (2 + stored_weeks))
    left_out = step(need, "left out")[1]
    assert left_out + need.eaten_kg == pytest.approx(5.2)


def test_what_is_lifted_outlasts_the_store() -> None:
    """Kilograms put by for each week, less what spoils until then, are that week's kilograms."""
    need = need_for(appetite(), HORIZON, CASE)
    ages = range(4, min(len(KEEP.sound), 51))
    assert need.lifted_kg == pytest.approx(0.2 + sum(0.1 / KEEP.sound[age] for age in ages))


def test_ground_plants_and_stock_follow_by_division() -> None:
    """Yield gives the ground, the stand the plants, and survival the cloves to set."""
    need = need_for(appetite(), HORIZON, CASE)
    assert plants_m2(KIND.stand) == pytest.approx(50)
    assert need.area_m2 == pytest.approx(need.lifted_kg / 2)
    assert need.plants == ceil(need.area_m2 * 50)
    assert need.stock == ceil(need.plants / (0.95 * 0.9))
    assert need.stock_unit == "clove"


def test_seed_kept_back_grows_the_ground() -> None:
    """With seed kept back, the ground feeds the table and plants itself again.

    What the ground gives, less the bulbs its own cloves come from (and those that spoil before
    planting), is what the table needs.
    """
    need = need_for(appetite(), HORIZON, replace(CASE, seed_weeks=15))
    gives = need.area_m2 * 2
    takes = need.area_m2 * 50 / (0.95 * 0.9) / 200 / KEEP.sound[15]
    assert gives - takes == pytest.approx(need.lifted_kg)


def test_stock_comes_from_the_pieces_of_the_harvest() -> None:
    """A bulb of 50 g with 10 cloves gives 200 cloves a kilogram, whatever bought stock weighs."""
    assert seed_units_per_kg(CLOVES, GARLIC) == pytest.approx(10 / 0.05)
    bought = replace(CLOVES, units_per_kg=figure(80, "1/kg"))
    assert seed_units_per_kg(bought, GARLIC) == pytest.approx(200)
    sown = replace(CLOVES, parts_per_unit=None)
    assert seed_units_per_kg(sown, GARLIC) is None
    need = need_for(appetite(), HORIZON, replace(CASE, method=sown, seed_weeks=15))
    assert step(need, "its own harvest cannot give the planting stock")


def test_seed_that_does_not_keep_until_planting_is_bought() -> None:
    """Pieces that would spoil before they can be planted are not counted on."""
    need = need_for(appetite(), HORIZON, replace(CASE, seed_weeks=200))
    assert need.area_m2 == pytest.approx(need.lifted_kg / 2)
    assert step(need, "its own harvest cannot give the planting stock")


def test_food_wanted_fresh_is_never_put_by() -> None:
    """Where only fresh food is wanted, the year is what can be taken from the ground."""
    need = need_for(appetite(wanted=Wanted.FRESH), HORIZON, CASE)
    assert need.lifted_kg == need.eaten_kg == pytest.approx(0.2)


def test_food_wanted_kept_is_eaten_from_store_alone() -> None:
    """Where only kept food is wanted, nothing is eaten in the weeks before it is cured."""
    need = need_for(appetite(wanted=Wanted.KEPT), HORIZON, CASE)
    assert step(need, "eaten fresh and from store")[0].startswith("0 +")
    assert need.eaten_kg == pytest.approx(0.1 * (min(len(KEEP.sound), 52) - 4))


def test_what_reaches_the_plate_is_shown_beside() -> None:
    """Of garlic as lifted, 85 % is eaten; the rest is skin and was in the kilograms all along."""
    need = need_for(appetite(), HORIZON, CASE)
    assert step(need, "of which on the plate")[1] == pytest.approx(0.85 * need.eaten_kg)


def test_a_harvest_late_in_the_horizon_borrows_the_year_before() -> None:
    """Weeks past the horizon's end want what the same week wanted a year before."""
    early = need_for(appetite(), HORIZON, CASE)
    late = need_for(appetite(), HORIZON, replace(CASE, ready=ReadyInfo(98, 99)))
    before = need_for(appetite(), HORIZON, replace(CASE, ready=ReadyInfo(-6, -5)))
    assert late.lifted_kg == pytest.approx(early.lifted_kg) == pytest.approx(before.lifted_kg)


def evaluated(arithmetic: str) -> float:
    """Work a line of arithmetic out, left to right as a grower reads it."""
    plain = arithmetic.replace("×", "*").replace("−", "-")
    assert re.fullmatch(r"[0-9.+\-*/() ]+", plain)
    return float(eval(plain))  # noqa: S307 - only figures and signs, as asserted


@settings(max_examples=25, deadline=None)
@given(kg_week=st.floats(0.01, 20), seed_weeks=st.sampled_from([None, 10, 15]))
def test_every_line_can_be_checked_by_hand(kg_week: float, seed_weeks: int | None) -> None:
    """What stands on the left of each sum gives what stands on the right, as far as rounding goes.

    Counts are rounded up to the next whole plant or clove.
    """
    need = need_for(appetite(kg_week), HORIZON, replace(CASE, seed_weeks=seed_weeks))
    sums = [step for step in need.steps if "=" in step.arithmetic]
    assert len(sums) >= 6
    for line in sums:
        left, right = line.arithmetic.split(" = ")
        assert float(right.replace("−", "-")) == pytest.approx(line.value, rel=0.006, abs=0.01)
        whole = 1.0 if line.unit in {"plants", "clove"} else 0.01
        assert evaluated(left) == pytest.approx(line.value, rel=0.02, abs=whole)


def test_a_food_the_kind_does_not_give_is_refused() -> None:
    """Nobody lifts carrots from garlic."""
    with pytest.raises(FaultsFoundError, match="does not give"):
        need_for(appetite(), HORIZON, replace(CASE, food=replace(GARLIC, id="carrot")))


def test_less_than_a_year_is_refused() -> None:
    """A year's need cannot be told from a season."""
    short = replace(appetite(), kg=(0.1,) * 30)
    with pytest.raises(FaultsFoundError, match="30 weeks"):
        need_for(short, Horizon(HORIZON.first_day, 30), CASE)


def test_several_seeds_at_a_station_are_counted() -> None:
    """Two seeds to a station are twice the seeds."""
    double = replace(CLOVES, units_per_station=figure(2))
    one = need_for(appetite(), HORIZON, CASE)
    two = need_for(appetite(), HORIZON, replace(CASE, method=double))
    assert two.stock == pytest.approx(2 * one.stock, abs=1)
    assert two.plants == one.plants
