"""What a start gave in the weather that truly came."""

from datetime import date, timedelta

import numpy as np

from growing.kinds_by_hand import BEAN, DAYS, HORIZON, SALAD, WEEKS_BEFORE, place
from haulm.growing.grown import Start, TrueWeather, grown
from haulm.growing.records import SowingFood
from haulm.growing.weather import growing_weather
from haulm.site.days_on_record import DaysOnRecord
from haulm.site.records import Seasons

FIRST = HORIZON.first_day - timedelta(weeks=WEEKS_BEFORE)
SOWN = date(2026, 5, 4)


def lived(mean_c: float, read_until: date, frost_on: date | None = None) -> TrueWeather:
    """Make steady weather, read until a day, with one night of frost."""
    mean = np.full((1, DAYS), mean_c)
    tmin = mean - 2
    if frost_on is not None:
        tmin[0, (frost_on - FIRST).days] = -3.0
    seasons = Seasons("steady", FIRST, tmin, mean + 2, np.zeros((1, DAYS)))
    read = np.arange(DAYS) < (read_until - FIRST).days
    return TrueWeather(growing_weather(seasons, place()), DaysOnRecord(seasons, read), HORIZON)


def foods(true: TrueWeather) -> dict[str, SowingFood]:
    """Give what beans sown in May made of a year."""
    return dict(grown(Start(BEAN, BEAN.methods[0], SOWN, under_cover=False), true))


def test_food_is_ready_on_the_day_that_the_warmth_of_that_year_made_it() -> None:
    """Beans of 420 degree-days over 8 °C are ready 42 days after sowing at a steady 18 °C, and
    84 days after it in a year that was 5 °C colder.
    """
    warm, cold = (foods(lived(c, date(2027, 1, 1)))["green-beans"] for c in (18.0, 13.0))
    assert warm.ready.middle == SOWN + timedelta(days=42)
    assert cold.ready.middle == SOWN + timedelta(days=84)
    assert cold.first_week - warm.first_week == 6


def test_food_ready_after_the_records_end_is_not_dated_by_it() -> None:
    """A record that ends two weeks before the beans were ready says nothing of them."""
    ready = SOWN + timedelta(days=42)
    assert not foods(lived(18.0, ready - timedelta(days=14)))
    assert foods(lived(18.0, ready + timedelta(days=1)))


def test_frost_ends_what_it_truly_ended() -> None:
    """A frost two weeks after the first beans leaves two weeks of picking, and a third of the
    yield; one before them leaves none.
    """
    ready = SOWN + timedelta(days=42)
    end = date(2027, 1, 1)
    whole = foods(lived(18.0, end))["green-beans"]
    cut = foods(lived(18.0, end, ready + timedelta(days=14)))["green-beans"]
    assert len(cut.week_shares) == 2
    assert cut.yield_kg_m2 < whole.yield_kg_m2 / 2
    assert not foods(lived(18.0, end, ready - timedelta(days=14)))


def test_what_began_before_the_weather_at_hand_is_not_dated() -> None:
    """Of a start that lies before all weather nothing is said."""
    start = Start(SALAD, SALAD.methods[0], FIRST - timedelta(days=1), under_cover=False)
    assert not grown(start, lived(15.0, date(2027, 1, 1)))
