"""What the diary tells of water."""

from datetime import date

import numpy as np
import pytest

from haulm.desk.beds.bed_water import WaterWeather
from haulm.desk.beds.water_given import given_to_rows
from haulm.season.records import Amount, EntryKind, Measured
from haulm.season.watered import water_told
from haulm.site.records import Seasons
from haulm.water.balance_tables import balance_tables
from haulm.water.gauge import gauge_rain_mm
from haulm.water.ground_balance import ground_balance
from haulm.water.records import Climate, CropWater, Patch, SoilMiddle, WaterBed, Watering
from haulm.water.reference import Air, reference_use
from season.diary_by_hand import entry

FIRST = date(2027, 5, 10)
DEPLETION_MM = (5, 12, 16, 18, 21, 18, 22, 25, 27, 6)
USE_MM = (5.5, 6.1, 4.0, 2.9, 2.5, 2.7, 4.7, 2.8, 2.2, 6.3)


def litres(number: float) -> Amount:
    """Make an amount of water."""
    return Amount(number, Measured.LITRES)


def millimetres(number: float) -> Amount:
    """Make a depth of rain."""
    return Amount(number, Measured.MILLIMETRES)


def minutes(number: float) -> Amount:
    """Make minutes of a hose."""
    return Amount(number, Measured.MINUTES)


def test_minutes_count_by_the_hose_s_flow() -> None:
    """Ten minutes of 15 litres are 150; of a flow nobody told they are not counted, and said."""
    told = [entry(EntryKind.WATERED, FIRST, bed="slate", amount=minutes(10))]
    (given,) = water_told(told, 15.0).given
    assert given.litres == 150.0
    unknown = water_told(told, None)
    assert unknown.given == ()
    assert "not counted" in unknown.not_counted[0].what


def test_a_day_it_rained_unmeasured_is_no_reading() -> None:
    """That it rained well is told without an amount, and says nothing to the gauge."""
    told = water_told([entry(EntryKind.RAINED, FIRST)], None)
    assert (told.rained_on, dict(told.gauge_mm)) == ((FIRST,), {})


def test_two_readings_of_a_day_add_up() -> None:
    """A gauge emptied twice in a day held both."""
    told = [entry(EntryKind.RAINED, FIRST, amount=millimetres(mm)) for mm in (3, 4)]
    assert water_told(told, None).gauge_mm[FIRST] == 7.0


def test_the_published_schedule_through_the_diary() -> None:
    """Ten days of FAO-56's example 38, told as a grower tells them: 40 mm given on the first day as
    100 litres on 2.5 m², 6 mm read in the gauge on the morning after the sixth, 27 mm on the tenth;
    the ground lacks in the end what the example prints, within its rounding of 1 mm.

    FAO Irrigation and Drainage Paper 56 (1998), example 38, pages 172 and 173. Crop use of days 1
    to 9 is printed in example 35, and that it holds here too is our reading.
    """
    days = len(USE_MM)
    said = [
        entry(EntryKind.WATERED, FIRST, bed="plot", amount=litres(100)),
        entry(EntryKind.RAINED, date(2027, 5, 16), amount=millimetres(6)),
        entry(EntryKind.WATERED, date(2027, 5, 19), bed="plot", amount=litres(67.5)),
    ]
    told = water_told(said, None)
    readings = {(day - FIRST).days: mm for day, mm in told.gauge_mm.items()}
    rain = np.nan_to_num(gauge_rain_mm(readings, days, gap_days=7))
    assert rain.tolist() == [0, 0, 0, 0, 0, 6, 0, 0, 0, 0]
    climate = Climate(rain[None, :], np.array([USE_MM]), np.full(days, 45.0), 2.0)
    steady = CropWater((0.0, 0.0, 1.0, 0.0), (1.0, 1.0, 1.0), 0.3, 0.3, 0.6)
    soil = SoilMiddle(0.23, 0.10, 1e-9, 2e-9)
    bean = Patch("bean", 2.5, 0, days, np.linspace(0.1, 1.0, days), steady)
    tables = balance_tables([WaterBed("plot", 2.5, soil, (bean,))], climate)
    given = given_to_rows(told.given, tables, weather_of(climate, days), ())
    found = ground_balance(
        tables, climate, Watering(given_mm=given.depth_mm), first_lack_mm=np.array([23.0, 0.0])
    )
    assert found.depletion_mm[0, 0] == pytest.approx(DEPLETION_MM, abs=1.0)
    assert found.drained_mm[0, 0, 0] == pytest.approx(17, abs=1.0)


def weather_of(climate: Climate, days: int) -> WaterWeather:
    """Give the days of a climate a calendar."""
    cold = np.zeros((1, days))
    seasons = Seasons("a trial", FIRST, cold, cold + 10, climate.rain_mm)
    use = reference_use(Air(47.0, 100.0, np.arange(1, days + 1), cold, cold + 10))
    drawn = np.zeros(days, dtype=np.int64)
    return WaterWeather(seasons, climate, use, FIRST, drawn, drawn)
