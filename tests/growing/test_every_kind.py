"""Every kind of the catalogue in climates from the tropics to the ice."""

from datetime import date, timedelta

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Catalogue, Kind, Picking, Role
from haulm.growing.sowings import SowingChoice, sowings
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.growing.windows import why_no_window, windows
from haulm.measure.weeks import Horizon, horizon_from
from haulm.site.records import MonthlyNormals, Place, Soil
from haulm.site.seasons import seasons_from

HORIZON = horizon_from(date(2027, 3, 1))
RAIN = (60.0,) * 12
CLIMATES = {
    "mild maritime": (
        47.6,
        MonthlyNormals(
            "invented",
            (2, 3, 4, 6, 9, 11, 13, 13, 11, 8, 4, 2),
            (8, 10, 12, 15, 19, 22, 25, 25, 21, 15, 11, 8),
            RAIN,
        ),
    ),
    "the same in the south": (
        -47.6,
        MonthlyNormals(
            "invented",
            (13, 13, 11, 8, 4, 2, 2, 3, 4, 6, 9, 11),
            (25, 25, 21, 15, 11, 8, 8, 10, 12, 15, 19, 22),
            RAIN,
        ),
    ),
    "tropical": (5.0, MonthlyNormals("invented", (22,) * 12, (31,) * 12, RAIN)),
    "polar": (
        78.0,
        MonthlyNormals(
            "invented",
            (-16, -16, -15, -11, -5, 0, 3, 2, -1, -6, -11, -14),
            (-9, -9, -8, -4, 1, 4, 7, 6, 3, -1, -5, -8),
            RAIN,
        ),
    ),
}


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    """Give the catalogue as it ships."""
    return load_catalogue()


def weather_of(climate: str, weeks_before: int = 60, weeks_after: int = 60) -> GrowingWeather:
    """Draw a climate's weather around the horizon."""
    latitude_deg, normals = CLIMATES[climate]
    place = Place(climate, latitude_deg, 0.0, 50.0, Soil.LOAM)
    first_day = HORIZON.first_day - timedelta(weeks=weeks_before)
    days = 7 * (weeks_before + HORIZON.weeks + weeks_after)
    return growing_weather(seasons_from(normals, place, first_day, days, 20, 1), place)


@pytest.mark.parametrize("climate", CLIMATES)
def test_every_sowing_keeps_its_word_in_every_climate(catalogue: Catalogue, climate: str) -> None:
    """Wherever and whatever is grown, a sowing lies in its window, holds its ground as long as it
    feeds, feeds only within the plan, and its shares add to one unless the plan's end cuts them.
    """
    weather = weather_of(climate)
    choice = SowingChoice(covers=(False, True))
    for kind in catalogue.kinds.values():
        for sowing in sowings(kind, "family", weather, HORIZON, choice):
            assert sowing.window.first_day <= sowing.sow_on <= sowing.window.last_day, sowing.id
            assert sowing.window.first_rule, sowing.id
            assert sowing.window.last_rule, sowing.id
            for food in sowing.foods:
                weeks = [week for week, _ in food.week_shares]
                total = sum(share for _, share in food.week_shares)
                assert max(0, sowing.ground_from_week) <= weeks[0], sowing.id
                assert weeks[-1] < min(HORIZON.weeks, sowing.ground_until_week), sowing.id
                assert food.ready.early <= food.ready.middle <= food.ready.late, sowing.id
                assert 0 < food.yield_low_kg_m2 <= food.yield_kg_m2 <= food.yield_high_kg_m2
                if food.picking is not Picking.STAND:
                    cut = sowing.ground_until_week > HORIZON.weeks
                    assert total == pytest.approx(1) or (cut and total < 1), sowing.id


@pytest.mark.parametrize("climate", ["mild maritime", "the same in the south"])
def test_nearly_every_kind_has_its_season_in_a_mild_climate(
    catalogue: Catalogue, climate: str
) -> None:
    """Where winters are mild and summers warm enough, nine kinds in ten can be grown outside, and
    of the rest it is said what stands in the way.
    """
    weather = weather_of(climate)
    without = [kind for kind in catalogue.kinds.values() if not any(outside(kind, weather))]
    assert len(without) <= len(catalogue.kinds) / 10, [kind.id for kind in without]
    for kind in without:
        for method in kind.methods:
            told = why_no_window(kind, method, under_cover=False, weather=weather, horizon=HORIZON)
            assert told.startswith("in the week of"), kind.id


def outside(kind: Kind, weather: GrowingWeather) -> list[bool]:
    """Say of each of a kind's methods whether it has a window in the open."""
    return [
        bool(windows(kind, method, under_cover=False, weather=weather, horizon=HORIZON))
        for method in kind.methods
    ]


def test_almost_nothing_grows_on_the_ice(catalogue: Catalogue) -> None:
    """At 78° of latitude under glacier weather no main food outside is ready, and nothing fails."""
    weather = weather_of("polar")
    mains = [
        food.food
        for kind in catalogue.kinds.values()
        for sowing in sowings(kind, "family", weather, HORIZON, SowingChoice())
        for food in sowing.foods
        if food.role is Role.MAIN
    ]
    assert set(mains) <= {"radish", "lettuce", "lamb's lettuce", "spinach"}


def test_weather_that_ends_too_soon_offers_less_and_fails_nothing(catalogue: Catalogue) -> None:
    """With weather for the plan's weeks alone, what would be ready after them is not offered."""
    short = weather_of("mild maritime", weeks_before=0, weeks_after=0)
    for kind in catalogue.kinds.values():
        for sowing in sowings(kind, "family", short, HORIZON, SowingChoice()):
            assert all(
                week < HORIZON.weeks for food in sowing.foods for week, _ in food.week_shares
            )


def test_a_plan_beyond_the_weather_offers_nothing(catalogue: Catalogue) -> None:
    """A plan for years for which no weather was drawn has no sowings, and does not fail."""
    weather = weather_of("mild maritime")
    later = Horizon(date(2040, 1, 2), 52)
    kind = catalogue.kinds["garlic/hard-necked"]
    assert sowings(kind, "onion", weather, later, SowingChoice()) == ()
