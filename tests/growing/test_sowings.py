"""Sowings."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from growing.kinds_by_hand import (
    BEAN,
    HORIZON,
    KEEPING,
    KINDS,
    ROOT,
    SALAD,
    degree_days,
    giving,
    kind,
    method,
    warmth,
    wave_weather,
)
from haulm.catalogue.records import Kind, Picking, Role, SowingSeason
from haulm.growing.records import Sowing
from haulm.growing.sowings import SowingChoice, sowings, standing_sowing
from haulm.growing.weather import GrowingWeather
from haulm.measure.errors import FaultsFoundError
from haulm.measure.weeks import Horizon

WEATHER = wave_weather()
STORER = kind(
    "bulb/stored",
    warmth(0, 0, None),
    (degree_days("up", 100), degree_days("green", 900), degree_days("ripe", 900)),
    (
        replace(giving("bulbs", "ripe", Picking.ONCE, 1), keeping=(KEEPING,)),
        replace(giving("green", "green", Picking.STAND, 40), role=Role.INSTEAD),
    ),
    (method("cloves"),),
    SowingSeason(lengthening=False),
)


@pytest.fixture(scope="module")
def weather() -> GrowingWeather:
    """Give the weather of a cool yearly wave."""
    return WEATHER


def made(grown: Kind, weather: GrowingWeather, **choice: object) -> tuple[Sowing, ...]:
    """Make a kind's sowings in the open."""
    return sowings(grown, "family", weather, HORIZON, SowingChoice(**choice))  # type: ignore[arg-type]


@pytest.mark.parametrize("grown", [*KINDS, STORER])
def test_every_sowing_keeps_its_own_word(grown: Kind, weather: GrowingWeather) -> None:
    """Every sowing lies in its window, holds its ground from setting to last picking, and gives
    what it gives within both.
    """
    found = made(grown, weather)
    assert found
    assert len({sowing.id for sowing in found}) == len(found)
    for sowing in found:
        assert sowing.window.first_day <= sowing.sow_on <= sowing.window.last_day
        assert sowing.sow_on.weekday() == 0
        assert HORIZON.week_of(sowing.set_on) == sowing.ground_from_week
        for food in sowing.foods:
            weeks = [week for week, _ in food.week_shares]
            assert sowing.ground_from_week <= min(weeks)
            assert max(weeks) < sowing.ground_until_week
            assert food.ready.early <= food.ready.middle <= food.ready.late
            assert food.yield_low_kg_m2 <= food.yield_kg_m2 <= food.yield_high_kg_m2


@pytest.mark.parametrize("grown", [*KINDS, STORER])
def test_shares_add_to_one_unless_it_stands_or_the_horizon_cuts(
    grown: Kind, weather: GrowingWeather
) -> None:
    """What is picked over weeks is all picked; of what stands, any week may take all."""
    for sowing in made(grown, weather):
        for food in sowing.foods:
            shares = [share for _, share in food.week_shares]
            if food.picking is Picking.STAND:
                assert set(shares) == {1.0}
            elif sowing.ground_until_week <= HORIZON.weeks:
                assert sum(shares) == pytest.approx(1)
            else:
                assert 0 < sum(shares) <= 1 + 1e-9


def test_a_food_counts_from_the_week_it_is_ready_8_years_in_10(weather: GrowingWeather) -> None:
    """Counting on a food starts neither before its middle date nor after its late one."""
    for sowing in made(BEAN, weather):
        (food,) = sowing.foods
        middle, late = HORIZON.week_of(food.ready.middle), HORIZON.week_of(food.ready.late)
        assert middle <= food.first_week <= late


def test_losses_are_divided_out_once(weather: GrowingWeather) -> None:
    """With 4 in 5 coming up and 9 in 10 living on, a full stand takes 1 / 0.72 as much seed; the
    yield of a square metre is left as the catalogue gives it.
    """
    sowing = made(BEAN, weather)[0]
    assert sowing.stock_m2 == pytest.approx(sowing.plants_m2 * 2 / (0.8 * 0.9))
    assert sowing.foods[0].yield_kg_m2 == pytest.approx(2.0)


def test_modules_take_cells_and_trays_and_nothing_else_does(weather: GrowingWeather) -> None:
    """A module start lies in trays for its three weeks; a start in place has no tray weeks."""
    for sowing in made(BEAN, weather):
        first, until = sowing.tray_weeks
        if sowing.method == "modules":
            assert until - first == 3
            assert sowing.set_on - sowing.sow_on == timedelta(weeks=3)
            assert sowing.cells_m2 == pytest.approx(sowing.plants_m2 / 0.72)
        else:
            assert first == until
            assert sowing.cells_m2 == 0


def test_work_is_the_start_and_a_tending_each_week(weather: GrowingWeather) -> None:
    """Ten minutes to start a square metre and one in every week it stands, trays included."""
    for sowing in made(BEAN, weather):
        weeks_held = sowing.ground_until_week - sowing.ground_from_week
        assert sum(minutes for _, minutes in sowing.work_min_m2) == pytest.approx(10 + weeks_held)
        assert sowing.work_min_m2[0][0] == HORIZON.week_of(sowing.sow_on)


def test_a_storer_is_offered_seldom_and_a_salad_often(weather: GrowingWeather) -> None:
    """One batch of bulbs is enough for the year; leaves are sown again and again."""
    storers = [sowing for sowing in made(STORER, weather) if sowing.sow_on.year == 2026]
    salads = [sowing for sowing in made(SALAD, weather) if sowing.sow_on.year == 2026]
    assert len(storers) <= 4 < len(salads)


def test_the_first_and_last_week_of_a_window_are_offered(weather: GrowingWeather) -> None:
    """The sooner and the latest sowing that a window allows are both there to choose."""
    direct = [sowing for sowing in made(BEAN, weather) if sowing.method == "direct"]
    for window in {sowing.window for sowing in direct}:
        days = {sowing.sow_on for sowing in direct if sowing.window == window}
        assert {window.first_day, window.last_day} <= days


def test_a_start_can_follow_on_the_day_ground_falls_free(weather: GrowingWeather) -> None:
    """Told when ground falls free, a bean raised in modules can be set out that very Monday."""
    free = HORIZON.week_of(date(2026, 7, 6))
    found = made(BEAN, weather, ground_free_weeks=(free,))
    assert any(sowing.ground_from_week == free for sowing in found if sowing.method == "modules")


def test_what_comes_all_after_the_horizon_is_left_out(weather: GrowingWeather) -> None:
    """No sowing is offered that feeds nobody within the weeks planned."""
    for grown in KINDS:
        for sowing in made(grown, weather):
            for food in sowing.foods:
                assert all(0 <= week < HORIZON.weeks for week, _ in food.week_shares)
            assert sowing.foods


def test_food_taken_instead_ends_when_the_main_food_is_lifted(weather: GrowingWeather) -> None:
    """Green bulbs can be pulled until the ripe ones are lifted, not after."""
    for sowing in made(STORER, weather):
        by_food = {food.food: food for food in sowing.foods}
        if {"bulbs", "green"} <= set(by_food):
            last_green = max(week for week, _ in by_food["green"].week_shares)
            assert last_green <= by_food["bulbs"].first_week


def test_cover_is_offered_only_to_kinds_that_like_it(weather: GrowingWeather) -> None:
    """A kind that gains nothing from a tunnel is not offered one."""
    covered = made(SALAD, weather, covers=(False, True))
    assert {sowing.under_cover for sowing in covered} == {False, True}
    assert all(sowing.id.endswith(":cover") == sowing.under_cover for sowing in covered)
    open_only = made(replace(SALAD, likes_cover=False), weather, covers=(False, True))
    assert {sowing.under_cover for sowing in open_only} == {False}


def standing(grown: Kind, started_on: date, weather: GrowingWeather) -> Sowing:
    """Make what stands of a kind started on a day."""
    return standing_sowing(
        grown,
        "family",
        method(),
        started_on,
        under_cover=False,
        weather=weather,
        horizon=HORIZON,
    )


def test_a_root_that_stands_is_counted_whole_from_today(weather: GrowingWeather) -> None:
    """Roots sown last June stand in January and can be taken in any week until they bolt."""
    sowing = standing(ROOT, date(2025, 6, 2), weather)
    (food,) = sowing.foods
    assert sowing.ground_from_week < 0 < sowing.ground_until_week
    assert food.first_week < 0
    assert food.week_shares[0] == (0, 1.0)
    assert sowing.window.first_rule == "it stands already"


def test_frosts_gone_by_have_not_killed_what_stands(weather: GrowingWeather) -> None:
    """Roots that many a winter kills are counted on in November only until the hard frosts; if
    they still stand in March, they are counted on then.
    """
    tender = replace(ROOT, warmth=warmth(4, 5, -7))
    last_weeks = []
    for planned_on in (date(2025, 11, 3), date(2026, 1, 12), date(2026, 3, 2)):
        horizon = Horizon(planned_on, 60)
        sowing = standing_sowing(
            tender,
            "family",
            method(),
            date(2025, 6, 30),
            under_cover=False,
            weather=weather,
            horizon=horizon,
        )
        (food,) = sowing.foods
        last_weeks.append(horizon.monday(food.week_shares[-1][0]))
    november, january, march = last_weeks
    assert november < date(2026, 1, 1)
    assert january == date(2026, 1, 12), "frost may come any day, so this week"
    assert march > date(2026, 3, 2)


def test_a_bulb_past_its_week_is_lifted_at_once(weather: GrowingWeather) -> None:
    """Bulbs ripe last summer and not lifted yet are lifted in the first week, not forgotten."""
    sowing = standing(STORER, date(2024, 12, 2), weather)
    bulbs = next(food for food in sowing.foods if food.role is Role.MAIN)
    assert bulbs.week_shares == ((0, 1.0),)
    assert sowing.ground_until_week == 1


def test_what_stands_and_gives_nothing_still_holds_its_ground(weather: GrowingWeather) -> None:
    """Beans from last summer give no food in January, but their ground is full until cleared."""
    sowing = standing(BEAN, date(2025, 5, 12), weather)
    assert sowing.foods == ()
    assert sowing.ground_until_week == 1


def test_what_was_started_before_the_weather_is_told(weather: GrowingWeather) -> None:
    """A planting older than the weather on hand is refused, with its day and what to do."""
    with pytest.raises(FaultsFoundError, match="was started on 2020-05-01") as raised:
        standing(ROOT, date(2020, 5, 1), weather)
    assert raised.value.findings[0].remedy


@settings(max_examples=15, deadline=None)
@given(grown=st.sampled_from(KINDS), days_ago=st.integers(0, 400))
def test_a_standing_planting_holds_ground_now(grown: Kind, days_ago: int) -> None:
    """Whatever stands holds the first week at least, and feeds only in weeks it holds."""
    sowing = standing(grown, HORIZON.first_day - timedelta(days=days_ago), WEATHER)
    assert sowing.ground_from_week <= 0 < sowing.ground_until_week
    for food in sowing.foods:
        assert all(0 <= week < sowing.ground_until_week for week, _ in food.week_shares)
