"""Claims about what stays for years: its age, its seasons, its ends, and the ground it holds."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from growing.kinds_by_hand import (
    HORIZON,
    degree_days,
    figure,
    giving,
    kind,
    method,
    warmth,
    wave_weather,
)
from haulm.catalogue.lasting import Perennial, StandYear
from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Kind, Picking
from haulm.growing.perennials import (
    PerennialStand,
    first_year,
    midwinter,
    past_its_life,
    picking_years,
    winter_kill,
)
from haulm.growing.sowings import SowingChoice, sowings, standing_sowing
from haulm.growing.windows import windows

YEARS = (
    StandYear("2", figure(0.5), figure(2, "weeks")),
    StandYear("3", figure(1)),
)
PERENNIAL = Perennial(years=YEARS, stand_years=figure(8, "years"))
WEATHER = wave_weather()


def spears(perennial: Perennial = PERENNIAL, killing_frost_c: float | None = None) -> Kind:
    """Make a perennial that is picked for six weeks once spring has brought its warmth."""
    made = kind(
        "spear/green",
        warmth(5, 8, killing_frost_c),
        (degree_days("up", 150),),
        (giving("spears", "up", Picking.SPREAD, 6),),
        (method("crowns"),),
    )
    return replace(made, perennial=perennial)


def stand(grown: Kind, planted_on: date) -> PerennialStand:
    """Plant a kind in the open."""
    return PerennialStand(grown, "lily", grown.methods[0], planted_on, under_cover=False)


@pytest.mark.parametrize(
    ("planted_on", "southern", "year"),
    [
        (date(2022, 3, 20), False, 2022),
        (date(2022, 6, 30), False, 2022),
        (date(2022, 8, 20), False, 2023),
        (date(2022, 11, 20), False, 2023),
        (date(2022, 9, 1), True, 2022),
        (date(2023, 3, 1), True, 2023),
    ],
)
def test_the_first_growing_season_is_the_one_planted_for(
    planted_on: date, *, southern: bool, year: int
) -> None:
    """What is planted in spring grows that year; what is planted from midsummer on, the next.

    Common practice; south of the equator the year begins on 1 July.
    """
    assert first_year(planted_on, southern=southern) == year


def test_a_stand_gives_by_its_age() -> None:
    """Planted in spring 2025 it gives half for two weeks in 2026, and all for six from 2027."""
    picked = picking_years(stand(spears(), date(2025, 4, 1)), WEATHER, HORIZON)
    assert [(one.year, one.age, one.share) for one in picked] == [(2026, 2, 0.5), (2027, 3, 1.0)]
    assert [one.until_week - one.first_week for one in picked] == [2, 6]
    assert picked[1].first_week - picked[0].first_week in {51, 52, 53}


def test_nothing_is_picked_before_the_first_picking() -> None:
    """A stand in its first year holds its ground and gives nothing."""
    young = stand(spears(), date(2027, 4, 1))
    assert picking_years(young, WEATHER, HORIZON) == ()
    sowing = standing_sowing(
        young.kind,
        "lily",
        young.method,
        date(2025, 9, 1),
        under_cover=False,
        weather=WEATHER,
        horizon=HORIZON,
    )
    assert {one.year for one in sowing.picking_years} == {2027}


def test_it_holds_its_ground_to_the_end_however_long_ago_it_was_planted() -> None:
    """A stand of 2012 holds its ground in every week planned, and its food adds up year by year."""
    old = spears()
    sowing = standing_sowing(
        old,
        "lily",
        old.methods[0],
        date(2012, 4, 1),
        under_cover=False,
        weather=WEATHER,
        horizon=HORIZON,
    )
    assert sowing.ground_from_week < 0
    assert sowing.ground_until_week == HORIZON.weeks
    (food,) = sowing.foods
    assert sum(share for _, share in food.week_shares) == pytest.approx(1)
    assert food.yield_kg_m2 == pytest.approx(2 * 2.0)
    assert food.yield_low_kg_m2 == pytest.approx(2 * 1.2)
    assert {week for week, _ in sowing.work_min_m2} == set(range(HORIZON.weeks))


def test_picking_ends_for_the_plants_sake() -> None:
    """Where picking must end by a day after midwinter, it does, and what is left is not given."""
    whole = picking_years(stand(spears(), date(2012, 4, 1)), WEATHER, HORIZON)[0]
    last_day = HORIZON.monday(whole.first_week + 3)
    days = (last_day - midwinter(2026, southern=False)).days
    bound = replace(PERENNIAL, pick_until_days=figure(days, "d"))
    cut = picking_years(stand(spears(bound), date(2012, 4, 1)), WEATHER, HORIZON)[0]
    assert cut.until_week == whole.first_week + 3
    assert cut.share == pytest.approx(0.5)


def test_a_spring_frost_does_not_end_the_years_picking() -> None:
    """Frost ends the year's picking of what rests in winter only from midsummer on."""
    resting = replace(PERENNIAL, resting_frost_c=figure(0, "°C"))
    picked = picking_years(stand(spears(resting), date(2012, 4, 1)), WEATHER, HORIZON)
    assert [one.share for one in picked] == [1.0, 1.0]


def test_what_winter_kills_is_not_counted_on_after_it() -> None:
    """Where a frost that kills comes in most years, the stand is told to be lost, its food left
    out, and its ground still held.
    """
    tender = stand(spears(killing_frost_c=-5), date(2012, 4, 1))
    killed = winter_kill(tender, WEATHER, HORIZON)
    assert killed is not None
    assert picking_years(tender, WEATHER, HORIZON) == ()
    hardy = stand(spears(killing_frost_c=-40), date(2012, 4, 1))
    assert winter_kill(hardy, WEATHER, HORIZON) is None


def test_a_stand_past_its_life_is_told() -> None:
    """Eight years after planting a stand of eight years is in its ninth: one too many."""
    planted = stand(spears(), date(2018, 4, 1))
    assert past_its_life(planted, date(2025, 5, 1), southern=False) == 0
    assert past_its_life(planted, date(2026, 5, 1), southern=False) == 1


def test_plans_are_offered_no_sowing_of_what_stays_for_years() -> None:
    """A plan of two seasons plants neither perennials nor what is only dug in; yet the weeks for
    planting are told.
    """
    catalogue = load_catalogue()
    for id_ in ("asparagus/green", "strawberry/summer", "rye/winter"):
        grown = catalogue.kinds[id_]
        assert sowings(grown, "family", WEATHER, HORIZON, SowingChoice()) == ()
        told = windows(grown, grown.methods[0], under_cover=False, weather=WEATHER, horizon=HORIZON)
        assert told, id_
        assert all(window.first_rule and window.last_rule for window in told)


@given(st.dates(date(1990, 1, 1), date(2025, 12, 31)))
def test_no_year_gives_more_than_the_full_yield(planted_on: date) -> None:
    """Whenever it was planted, each year's share is that of its age or less, and years differ by
    one in age.
    """
    picked = picking_years(stand(spears(), planted_on), WEATHER, HORIZON)
    for one in picked:
        assert one.share <= (0.5 if one.age == 2 else 1.0)
        assert one.first_week < one.until_week
    assert all(later.age == one.age + 1 for one, later in pairwise(picked))


def test_a_green_manure_that_stands_holds_its_ground_till_it_is_dug_in() -> None:
    """Rye sown in September is dug in as days lengthen after midwinter, and gives no food."""
    rye = load_catalogue().kinds["rye/winter"]
    sown = HORIZON.first_day - timedelta(weeks=15)
    sowing = standing_sowing(
        rye, "grass", rye.methods[0], sown, under_cover=False, weather=WEATHER, horizon=HORIZON
    )
    assert sowing.foods == ()
    dug_in = HORIZON.monday(sowing.ground_until_week)
    assert date(2026, 2, 20) <= dug_in <= date(2026, 4, 10)
