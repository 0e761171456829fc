"""Weather drawn by chance."""

from collections.abc import Callable
from datetime import date, timedelta
from time import perf_counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from haulm.measure.errors import FaultsFoundError
from haulm.site.calendar import days_from
from haulm.site.generator import draw, fit_normals, fit_record
from haulm.site.records import DailyRecord, MonthlyNormals, Place, Seasons, Soil
from haulm.site.weather_model import WeatherModel

NEW_YEAR = date(2027, 1, 1)
RECORDS = ("baltimore", "fulda", "melbourne", "seattle")


def monthly_means(values: NDArray[np.float64], first_day: date) -> NDArray[np.float64]:
    """Average over each month of the year, along the last axis and over all runs."""
    month = days_from(first_day, values.shape[-1]).month
    return np.array([np.nanmean(values[..., month == number]) for number in range(1, 13)])


def drawn(model: WeatherModel, runs: int = 200) -> Seasons:
    """Draw whole years."""
    return draw(model, NEW_YEAR, 365, runs, 11)


@pytest.mark.parametrize("name", RECORDS)
def test_monthly_means_of_a_record_are_kept(
    name: str, real: Callable[[str], DailyRecord], place: Place
) -> None:
    """Drawn minima and maxima keep the record's monthly means to 0.6 °C and rain to 15 %."""
    record = real(name)
    seasons = drawn(fit_record(record, place))
    for ours, theirs in (
        (seasons.tmin_c, record.tmin_c),
        (seasons.tmax_c, record.tmax_c),
    ):
        expected = monthly_means(theirs, record.first_day)
        np.testing.assert_allclose(monthly_means(ours, NEW_YEAR), expected, atol=0.6)
    if np.isfinite(record.rain_mm).any():
        expected = monthly_means(record.rain_mm, record.first_day)
        # A month of few showers (July at Seattle) is told less sharply.
        np.testing.assert_allclose(
            monthly_means(seasons.rain_mm, NEW_YEAR), expected, rtol=0.15, atol=0.15
        )


def test_monthly_means_of_normals_are_kept(normals: MonthlyNormals, place: Place) -> None:
    """Weather drawn from normals gives those normals back."""
    seasons = drawn(fit_normals(normals, place), runs=400)
    np.testing.assert_allclose(monthly_means(seasons.tmin_c, NEW_YEAR), normals.tmin_c, atol=0.6)
    np.testing.assert_allclose(monthly_means(seasons.tmax_c, NEW_YEAR), normals.tmax_c, atol=0.6)
    rain = monthly_means(seasons.rain_mm, NEW_YEAR) * 365 / 12
    np.testing.assert_allclose(rain, normals.rain_mm, rtol=0.15)


@pytest.mark.parametrize("name", RECORDS)
def test_spread_of_a_record_is_kept(
    name: str, real: Callable[[str], DailyRecord], place: Place
) -> None:
    """Drawn days differ among themselves, and from one day to the next, as the record's do."""
    record = real(name)
    seasons = drawn(fit_record(record, place))
    for ours, theirs in (
        (seasons.tmin_c, record.tmin_c),
        (seasons.tmax_c, record.tmax_c),
    ):
        assert ours.std() == pytest.approx(np.nanstd(theirs), rel=0.04)
        assert np.diff(ours).std() == pytest.approx(np.nanstd(np.diff(theirs)), rel=0.04)


@pytest.mark.parametrize("name", ["baltimore", "fulda", "seattle"])
def test_wet_days_of_a_record_are_kept(
    name: str, real: Callable[[str], DailyRecord], place: Place
) -> None:
    """As many days are wet as on record, and wet days follow each other as often."""
    record = real(name)
    seasons = drawn(fit_record(record, place))
    ours, theirs = seasons.rain_mm >= 0.2, record.rain_mm >= 0.2
    pairs_ours = (ours[:, 1:] & ours[:, :-1]).mean()
    pairs_theirs = (theirs[1:] & theirs[:-1]).mean()
    # The gamma's smallest amounts fall under the 0.2 mm that make a wet day.
    assert (seasons.rain_mm > 0).mean() == pytest.approx(theirs.mean(), abs=0.03)
    assert pairs_ours == pytest.approx(pairs_theirs, abs=0.06)
    year_mm = seasons.rain_mm.sum(axis=1)
    assert 0.08 < year_mm.std() / year_mm.mean() < 0.25


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 2**32 - 1), st.dates(date(2024, 1, 1), date(2030, 1, 1)))
def test_drawn_weather_is_possible(seed: int, first_day: date) -> None:
    """No maximum lies under its minimum, no rain is under 0, and nothing is missing."""
    normals = MonthlyNormals("invented", (0.0,) * 12, (9.0,) * 12, (0.0, 80.0) * 6)
    place = Place("Torrenz", 46.4, 10.0, 410.0, Soil.LOAM)
    seasons = draw(fit_normals(normals, place), first_day, 400, 3, seed)
    assert seasons.tmin_c.shape == (3, 400)
    assert (seasons.tmax_c > seasons.tmin_c).all()
    assert (seasons.rain_mm >= 0).all()
    assert np.isfinite(seasons.tmin_c).all()


def test_the_same_seed_draws_the_same_weather(normals: MonthlyNormals, place: Place) -> None:
    """A plan can be made again: one seed always draws the same weather, another seed other."""
    model = fit_normals(normals, place)
    one, two, other = (draw(model, NEW_YEAR, 30, 2, seed) for seed in (5, 5, 6))
    np.testing.assert_array_equal(one.tmin_c, two.tmin_c)
    assert not np.array_equal(one.tmin_c, other.tmin_c)


SEEDS = st.integers(0, 2**32 - 1)
FIRST_DAYS = st.dates(date(2024, 1, 1), date(2030, 1, 1))
TORRENZ = fit_normals(
    MonthlyNormals("invented", (0.0,) * 12, (9.0,) * 12, (0.0, 80.0) * 6),
    Place("Torrenz", 46.4, 10.0, 410.0, Soil.LOAM),
)


@settings(max_examples=25)
@given(seed=SEEDS, first_day=FIRST_DAYS, later_d=st.integers(0, 500), more=st.integers(0, 5))
def test_a_day_keeps_its_drawn_weather_when_a_plan_begins_later(
    seed: int, first_day: date, later_d: int, more: int
) -> None:
    """Weather drawn from another day on, in more runs, is the same on every day and in every run
    that both have: rain exactly, the air to a millionth of a degree.
    """
    one = draw(TORRENZ, first_day, 700, 3, seed)
    later = draw(TORRENZ, first_day + timedelta(later_d), 400, 3 + more, seed)
    shared = min(400, 700 - later_d)
    for which in ("tmin_c", "tmax_c", "rain_mm"):
        np.testing.assert_allclose(
            getattr(one, which)[:, later_d : later_d + shared],
            getattr(later, which)[:3, :shared],
            rtol=0,
            atol=0 if which == "rain_mm" else 1e-6,
        )


@settings(max_examples=10)
@given(seed=SEEDS, first_day=FIRST_DAYS, days=st.integers(1, 800))
def test_a_longer_draw_begins_as_the_shorter(seed: int, first_day: date, days: int) -> None:
    """To look further ahead changes nothing of the days before."""
    short, long = (draw(TORRENZ, first_day, length, 3, seed) for length in (days, 900))
    np.testing.assert_array_equal(short.tmin_c, long.tmin_c[:, :days])
    np.testing.assert_array_equal(short.tmax_c, long.tmax_c[:, :days])
    np.testing.assert_array_equal(short.rain_mm, long.rain_mm[:, :days])


@settings(max_examples=10)
@given(seed=SEEDS, year=st.integers(2024, 2030))
def test_years_and_runs_and_seeds_differ(seed: int, year: int) -> None:
    """No year of a run is that of the year after, nor that of another run or another seed."""
    here, after = (draw(TORRENZ, date(one, 3, 1), 300, 2, seed).tmin_c for one in (year, year + 1))
    other = draw(TORRENZ, date(year, 3, 1), 300, 2, seed + 1).tmin_c
    mean = TORRENZ.mean_c[days_from(date(year, 3, 1), 300).slot, 0]
    for strange in (after[0], here[1], other[0]):
        together = np.corrcoef(here[0] - mean, strange - mean)[0, 1]
        assert abs(together) < 0.6


def test_a_record_without_rain_draws_none(
    real: Callable[[str], DailyRecord], southern_place: Place
) -> None:
    """Rain that nobody read is not drawn as drought: it stays untold throughout."""
    model = fit_record(real("melbourne"), southern_place)
    assert model.rain is None
    seasons = drawn(model, runs=2)
    assert np.isnan(seasons.rain_mm).all()
    assert "so none is told" in seasons.origin


def test_a_month_never_read_is_refused(place: Place) -> None:
    """A record of January to May cannot tell a year, and each month it lacks is named."""
    tmin = np.zeros(151)
    record = DailyRecord("half.csv", NEW_YEAR, tmin, tmin + 8.0, tmin)
    with pytest.raises(FaultsFoundError, match="December") as caught:
        fit_record(record, place)
    assert len(caught.value.findings) == 7
    assert "normals" in caught.value.findings[0].remedy


def test_odd_normals_are_refused_all_at_once(place: Place) -> None:
    """Normals with swapped rows, rain under 0 or a month too few are told, each by its month."""
    swapped = MonthlyNormals("invented", (9.0,) * 12, (0.0,) * 12, (-1.0,) + (50.0,) * 11)
    with pytest.raises(FaultsFoundError, match="swapped") as caught:
        fit_normals(swapped, place)
    assert len(caught.value.findings) == 13
    short = MonthlyNormals("invented", (0.0,) * 11, (9.0,) * 12, (50.0,) * 12)
    with pytest.raises(FaultsFoundError, match="11 months are given"):
        fit_normals(short, place)


def test_drawing_is_quick(normals: MonthlyNormals, place: Place) -> None:
    """Thirty runs of four years are drawn in well under a second."""
    model = fit_normals(normals, place)
    start = perf_counter()
    draw(model, NEW_YEAR, 1400, 30, 1)
    assert perf_counter() - start < 1.0


def test_weather_that_never_changes_can_be_fitted(place: Place) -> None:
    """A record of unchanging days is odd but no failure: it draws nearly unchanging days."""
    steady = np.full(365 * 11, 5.0)
    record = DailyRecord("steady", date(2001, 1, 1), steady, steady + 8.0, np.zeros(steady.size))
    seasons = drawn(fit_record(record, place), runs=2)
    assert np.isfinite(seasons.tmin_c).all()
    assert abs(seasons.tmin_c.mean() - 5.0) < 2.0


def test_days_read_one_by_one_can_be_fitted(
    real: Callable[[str], DailyRecord], place: Place
) -> None:
    """A record of every other day says nothing of how days follow each other; the usual ways are
    taken, and the means are still kept.
    """
    whole = real("fulda")
    gaps = np.where(np.arange(whole.tmin_c.size) % 2, np.nan, 0.0)
    record = DailyRecord(
        "every other day", whole.first_day, whole.tmin_c + gaps, whole.tmax_c + gaps, whole.rain_mm
    )
    seasons = drawn(fit_record(record, place))
    expected = monthly_means(record.tmin_c, record.first_day)
    np.testing.assert_allclose(monthly_means(seasons.tmin_c, NEW_YEAR), expected, atol=0.7)
