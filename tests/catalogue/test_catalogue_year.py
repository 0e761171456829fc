"""The shelf feeds a year: what can be taken week by week at sites of record."""

from collections import Counter
from datetime import date, timedelta
from pathlib import Path

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Form, Role
from haulm.growing.sowings import SowingChoice, sowings
from haulm.growing.weather import growing_weather
from haulm.measure.weeks import horizon_from
from haulm.site.readers.plain import read_daily_csv
from haulm.site.records import Place, Soil
from haulm.site.seasons import seasons_from

RECORDS = Path(__file__).parents[1] / "truth" / "data" / "weather"


def foods_by_week(record: str, latitude_deg: float) -> Counter[int]:
    """Count the foods that can be taken from the ground in each week of the second year."""
    place = Place("a site of record", latitude_deg, 0.0, 50.0, Soil.LOAM)
    weather, _ = read_daily_csv(RECORDS / f"{record}.csv")
    horizon = horizon_from(date(2027, 1, 4))
    first_day = horizon.first_day - timedelta(weeks=60)
    years = growing_weather(seasons_from(weather, place, first_day, 7 * 224, 10, 1), place)
    catalogue = load_catalogue()
    ready = {
        (week, food.food)
        for kind in catalogue.kinds.values()
        for sowing in sowings(
            kind, catalogue.crops[kind.crop].family, years, horizon, SowingChoice()
        )
        for food in sowing.foods
        for week, share in food.week_shares
        if share > 0 and 52 <= week < 104
    }
    return Counter(week for week, _ in ready)


@pytest.mark.parametrize(
    ("record", "latitude_deg"), [("seattle_2012_2015", 47.6), ("melbourne_1981_1990", -37.8)]
)
def test_where_winters_are_mild_the_ground_gives_all_year(record: str, latitude_deg: float) -> None:
    """In a mild climate at least three foods can be taken fresh in any week (common practice).

    The fewest come in spring, in the hungry gap; high summer gives the most.
    """
    foods = foods_by_week(record, latitude_deg)
    assert min(foods[week] for week in range(52, 104)) >= 3
    assert max(foods.values()) >= 20


def test_where_winters_are_hard_the_store_takes_over() -> None:
    """At least ten foods keep half sound for 18 weeks or more without a freezer, so that what is
    put by in October is still there in February (common practice).
    """
    keeping = {
        giving.food
        for kind in load_catalogue().kinds.values()
        for giving in kind.givings
        for form in giving.keeping
        if form.form in {Form.CURED, Form.CELLARED, Form.DRIED, Form.FERMENTED}
        and form.sound_50_weeks.value >= 18
        and giving.role is Role.MAIN
    }
    assert len(keeping) >= 10
    assert keeping >= {"potato", "onion", "garlic", "carrot", "winter squash", "dry beans"}
