"""A place's climate on one page, from any kind of weather and at any latitude."""

from collections.abc import Callable
from datetime import date

import numpy as np
import pytest

from haulm.measure.errors import FaultsFoundError, LabelsDifferError
from haulm.site.frost import frost_date, frost_odds
from haulm.site.records import DailyRecord, MonthlyNormals, Place, Soil
from haulm.site.summary import summarise


def test_a_record_summed_up(real: Callable[[str], DailyRecord]) -> None:
    """Fulda's page tells its ten years, frosts, zone, warmth, rain and short days."""
    page = summarise(real("fulda"), Place("Fulda", 50.5, 9.7, 280.0, Soil.LOAM))
    assert page.years == 10
    assert "real weather" in page.origin
    assert [month.month for month in page.months] == list(range(1, 13))
    assert page.zone == "7a"
    assert page.rain_mm is not None
    assert page.rain_mm.low < page.rain_mm.middle < page.rain_mm.high
    assert page.warmth[5.0].middle > page.warmth[10.0].middle > 0
    assert page.longest_day[0].month == 6
    assert page.shortest_day[1] < 8
    assert page.ten_hours is not None
    assert page.hard_frost.frost_free_days is not None
    assert page.frost.frost_free_days is not None
    assert page.hard_frost.frost_free_days > page.frost.frost_free_days


def test_a_southern_record_without_rain(
    real: Callable[[str], DailyRecord], southern_place: Place
) -> None:
    """South of the equator January is warm and the longest day in December; rain nobody read is
    not told.
    """
    page = summarise(real("melbourne"), southern_place)
    assert page.rain_mm is None
    assert all(month.rain_mm is None for month in page.months)
    assert page.months[0].tmax_c.middle > page.months[6].tmax_c.middle
    assert page.longest_day[0].month == 12


def test_normals_summed_up(normals: MonthlyNormals, place: Place) -> None:
    """Normals alone give a whole page, with no years of record and the method told."""
    page = summarise(normals, place)
    assert page.years == 0
    assert "drawn by chance" in page.frost.how
    assert "judged" in page.origin
    assert page.frost.last_spring[0] is not None


def test_a_tropical_place_has_no_frost() -> None:
    """Where it never freezes no frost date is made up."""
    normals = MonthlyNormals("invented", (22.0,) * 12, (31.0,) * 12, (150.0,) * 12)
    page = summarise(normals, Place("coast", 5.0, 0.0, 5.0, Soil.CLAY))
    assert page.frost.share_of_years_with_frost == 0
    assert page.frost.last_spring == (None,) * 5
    assert page.frost.first_autumn == (None,) * 5
    assert page.frost.frost_free_days is None
    assert page.ten_hours is None


def test_a_polar_place_can_be_summed_up() -> None:
    """Beyond the polar circle the page is whole: the sun stays up, and frost may come in any
    month.
    """
    normals = MonthlyNormals(
        "invented",
        (-20, -20, -18, -12, -4, 1, 4, 3, -1, -7, -14, -18),
        (-12, -12, -9, -3, 3, 8, 11, 9, 4, -2, -7, -10),
        (20.0,) * 12,
    )
    page = summarise(normals, Place("far north", 71.0, 25.0, 10.0, Soil.LOAM))
    assert page.longest_day[1] == 24.0
    assert page.shortest_day[1] == 0.0
    assert page.frost.share_of_years_with_frost == 1.0
    assert page.frost.frost_free_days is not None


def test_two_years_are_too_few_to_count(real: Callable[[str], DailyRecord], place: Place) -> None:
    """With two years of record the frost odds are drawn from a model fitted to them, and it is
    said so.
    """
    whole = real("fulda")
    record = DailyRecord(
        whole.origin, whole.first_day, whole.tmin_c[:730], whole.tmax_c[:730], whole.rain_mm[:730]
    )
    odds = frost_odds(record, place, 0.0)
    assert "drawn by chance" in odds.how
    assert "2.0 years" in odds.how


def test_half_a_year_is_refused(place: Place) -> None:
    """A record of a single summer tells no frost: it is refused, with a way out."""
    tmin = np.full(100, 12.0)
    record = DailyRecord("summer.csv", date(2026, 6, 1), tmin, tmin + 10, tmin * 0)
    with pytest.raises(FaultsFoundError, match="normals"):
        summarise(record, place)


def test_frost_dates_go_by_their_odds(normals: MonthlyNormals, place: Place) -> None:
    """A frost date is asked for by the odds it was worked out for; others are refused."""
    odds = frost_odds(normals, place, 0.0, (0.2, 0.5))
    late = frost_date(odds, place, 2027, "last_spring", 0.2)
    middle = frost_date(odds, place, 2027, "last_spring", 0.5)
    assert late is not None
    assert middle is not None
    assert date(2027, 3, 15) < middle < late < date(2027, 6, 30)
    with pytest.raises(LabelsDifferError, match=r"0\.2, 0\.5, not at 0\.1"):
        frost_date(odds, place, 2027, "last_spring", 0.1)


def test_a_milder_threshold_lengthens_the_frosts(
    real: Callable[[str], DailyRecord], place: Place
) -> None:
    """Counting slighter frosts never brings spring earlier nor autumn later."""
    record = real("fulda")
    odds = [frost_odds(record, place, threshold) for threshold in (-4.0, -2.2, 0.0, 2.0)]
    springs = [one.last_spring[2] for one in odds]
    autumns = [one.first_autumn[2] for one in odds]
    assert springs == sorted(springs, key=lambda day: day or 0.0)
    assert autumns == sorted(autumns, key=lambda day: -(day or 0.0))
