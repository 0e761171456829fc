"""When seed comes up."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from growing.kinds_by_hand import DAYS, place, yearly_wave
from haulm.catalogue.emergence import Emergence, load_emergence
from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Basis, Kind, Method
from haulm.growing.coming_up import coming_up
from haulm.growing.days import NEVER
from haulm.growing.emergence import days_at, limits_c, rate_a_day, share_up
from haulm.growing.timing import course
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.site.records import Seasons

OWN = Emergence(
    at_c=(10.0, 20.0),
    days=(20.0, 5.0),
    none_at_c=(),
    most_c=30.0,
    share_at_c=(10.0, 20.0),
    share=(0.5, 0.9),
    table="made up",
    basis=Basis.PUBLISHED,
    sources=(),
)
KIN = Emergence(
    at_c=(10.0, 20.0),
    days=(20.0, 5.0),
    none_at_c=(5.0, 25.0),
    most_c=30.0,
    share_at_c=(),
    share=(),
    table="made up",
    basis=Basis.JUDGED,
    sources=(),
)
TABLES = sorted(load_emergence())


def soil_at(soil_c: float) -> GrowingWeather:
    """Make weather whose soil at 5 cm stays at one temperature, on days short of twelve hours."""
    first = yearly_wave(9, 9, runs=1).first_day
    level = np.full((2, DAYS), soil_c)
    seasons = Seasons("steady", first, level - 3, level + 3, np.zeros((2, DAYS)))
    return growing_weather(seasons, place(47.0))


def direct(kind: str) -> tuple[Kind, Method]:
    """Give a kind of the catalogue with its sowing in place."""
    found = load_catalogue().kinds[kind]
    return found, next(method for method in found.methods if method.id == "direct")


def test_days_of_the_table_come_back() -> None:
    """At a tabled temperature seed takes the tabled days."""
    assert days_at(OWN, 4.0, 10.0) == pytest.approx(20)
    assert days_at(OWN, 4.0, 20.0) == pytest.approx(5)


def test_between_two_temperatures_the_rate_lies_between() -> None:
    """Half way between 1/20 and 1/5 of the way a day lies 1/8: at 15 °C seed takes 8 days."""
    assert days_at(OWN, 4.0, 15.0) == pytest.approx(8)


def test_beyond_the_table_the_rate_falls_to_the_limit() -> None:
    """Half way from the last tabled temperature to the limit, seed takes twice as long."""
    assert days_at(OWN, 4.0, 7.0) == pytest.approx(40)
    assert days_at(OWN, 4.0, 25.0) == pytest.approx(10)


def test_nothing_comes_up_where_nothing_was_seen_to() -> None:
    """The rate falls to nothing at the temperature where nothing came up, not at the limit."""
    assert days_at(KIN, 2.0, 7.5) == pytest.approx(40)
    assert days_at(KIN, 2.0, 5.0) is None
    assert days_at(KIN, 2.0, 25.0) is None


def test_seed_seen_to_come_up_outranks_a_limit_but_kin_does_not() -> None:
    """A crop's own seed that came up below the least temperature given moves the limit there."""
    assert limits_c(OWN, 12.0) == (10.0, 30.0)
    assert limits_c(KIN, 12.0) == (12.0, 30.0)
    assert days_at(KIN, 12.0, 11.0) is None


def test_how_much_comes_up_is_not_told_where_nobody_looked() -> None:
    """Between the temperatures tried the share is told; outside them it is not known."""
    assert share_up(OWN, 15.0) == pytest.approx(0.7)
    assert share_up(OWN, 25.0) is None
    assert share_up(KIN, 15.0) is None


@settings(max_examples=200, deadline=None)
@given(crop=st.sampled_from(TABLES), soil_c=st.floats(-10, 50), least_c=st.floats(0, 16))
def test_a_day_never_brings_more_than_the_quickest_tabled(
    crop: str, soil_c: float, least_c: float
) -> None:
    """No soil brings seed up sooner than the quickest day of its table, and none beyond limits."""
    table = load_emergence()[crop]
    rate = float(rate_a_day(table, least_c, np.array([soil_c]))[0])
    assert 0 <= rate <= 1 / min(table.days)
    least, most = limits_c(table, least_c)
    if not least <= soil_c <= most:
        assert rate == 0


@pytest.mark.parametrize(("soil_c", "days"), [(10.0, 17), (15.0, 10), (20.0, 7)])
def test_carrots_in_steady_soil_show_when_their_table_says(soil_c: float, days: int) -> None:
    """In soil that stays at a tabled temperature carrots are up on the tabled day."""
    weather = soil_at(soil_c)
    kind, method = direct("carrot/early")
    begins = np.array([weather.column_of(date(2026, 11, 30))])
    up = course(kind, method, begins, weather, under_cover=False).up
    assert (up[:, 0] - begins[0]).tolist() == [days, days]


def test_cold_soil_brings_nothing_up() -> None:
    """In soil under its limit seed lies for ever, and no day to wait for is told."""
    weather = soil_at(1.0)
    kind, method = direct("carrot/early")
    begins = np.array([weather.column_of(date(2026, 11, 30))])
    assert course(kind, method, begins, weather, under_cover=False).up[0, 0] == NEVER
    assert coming_up(kind, method, date(2026, 11, 30), weather, under_cover=False) is None


def test_a_grower_is_told_when_to_sow_again() -> None:
    """Carrots in soil of 10 °C are up after 17 days; after half as long again they have failed."""
    kind, method = direct("carrot/early")
    told = coming_up(kind, method, date(2026, 11, 30), soil_at(10.0), under_cover=False)
    assert told is not None
    assert told.by == date(2026, 12, 17)
    assert told.again == date(2026, 12, 26)
    assert told.thin == 0


def test_warm_soil_makes_a_thin_stand_of_spinach() -> None:
    """At 25 °C 28 in 100 seeds of spinach make seedlings, fewer than the seed was counted for."""
    kind, method = direct("spinach/spring")
    warm = coming_up(kind, method, date(2026, 11, 30), soil_at(25.0), under_cover=False)
    cool = coming_up(kind, method, date(2026, 11, 30), soil_at(10.0), under_cover=False)
    assert warm is not None
    assert cool is not None
    assert (cool.thin, warm.thin) == (0, 1)


@pytest.mark.parametrize("kind", ["lettuce/summer", "garlic/hard-necked", "soya/early"])
def test_what_has_no_table_or_is_no_seed_is_not_told(kind: str) -> None:
    """Plants from trays, cloves, and crops nobody has a table for are told no day to show."""
    found = load_catalogue().kinds[kind]
    method = found.methods[0]
    assert coming_up(found, method, date(2026, 11, 30), soil_at(15.0), under_cover=False) is None


def test_only_near_kin_stand_in() -> None:
    """A crop goes by the table of another only where the two are of one botanical family."""
    crops = load_catalogue().crops
    owners = {
        table.table: crop
        for crop, table in load_emergence().items()
        if table.basis is Basis.PUBLISHED
    }
    owners["celery"] = "parsley"  # of the carrot family; no crop of the catalogue's own
    for crop, table in load_emergence().items():
        assert crops[crop].family == crops[owners[table.table]].family, crop
