"""What a planned garden wants of water."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from gardens import SMALL
from haulm.desk.beds.bed_water import midwinter_before, water_weather
from haulm.desk.beds.watering import bed_named, garden_water, litres_text
from haulm.desk.garden.exchange import import_garden
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import Made, plan_garden
from haulm.ground.records import Cover
from haulm.measure.day_words import long_day
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.garden import Garden
from haulm.planner.question import Effort
from haulm.site.records import DailyRecord, Soil
from haulm.water.records import Tank

DAY = date(2027, 2, 1)
JUNE = date(2027, 6, 14)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Made:
    """Give the small garden with a plan."""
    folder = tmp_path_factory.mktemp("water")
    (folder / "garden.toml").write_text(SMALL, encoding="utf-8")
    return plan_garden(folder / "garden.toml", DAY, Effort("quick", 1, 0.5), seed=1)


def in_garden(made: Made, **changes: object) -> Made:
    """Change what the garden tells."""
    return replace(made, garden=replace(made.garden, **changes))  # type: ignore[arg-type]


def litres_a_year(made: Made) -> float:
    """Give what all beds want in a middle year from June [l]."""
    return sum(bed.year_l.middle for bed in garden_water(made, JUNE).beds)


def test_every_bed_is_told_with_its_odds(made: Made) -> None:
    """Each bed wants more in dry years than in wet, and nothing in weeks before the day."""
    told = garden_water(made, JUNE)
    assert [bed.id for bed in told.beds] == [bed.id for bed in made.garden.beds]
    for bed in told.beds:
        assert 0 <= bed.year_l.low <= bed.year_l.middle <= bed.year_l.high
        assert all(week.monday >= date(2027, 6, 14) for week in bed.weeks)
        assert all(week.monday.weekday() == 0 for week in bed.weeks)
    assert sum(bed.year_l.middle for bed in told.beds) > 100


def test_the_week_gives_what_the_beds_give(made: Made) -> None:
    """A week of the garden is that week of each bed that wants water in it."""
    told = garden_water(made, JUNE)
    monday = told.beds[0].weeks[0].monday
    assert (told.beds[0], told.beds[0].weeks[0].litres) in told.week(monday)
    assert told.week(date(2020, 1, 6)) == ()


def test_the_order_of_need_is_of_what_stands(made: Made) -> None:
    """Only crops in the ground on the day are put in order, what loses most first."""
    order = garden_water(made, JUNE).order
    assert order
    losses = [one.lost.middle for one in order]
    assert losses == sorted(losses, reverse=True)
    stands = {
        planting.id
        for planting in made.plan.plantings
        if planting.in_ground_from <= JUNE < planting.clear_by
    }
    assert {one.planting for one in order} == stands
    assert all(one.fill_l == pytest.approx(one.lacks_mm * one.area_m2) for one in order)


def test_mulch_saves_water(made: Made) -> None:
    """Under mulch the same beds want less."""
    mulched = tuple(replace(bed, mulch_share=1.0) for bed in made.garden.beds)
    assert litres_a_year(in_garden(made, beds=mulched)) < litres_a_year(made)


def test_a_covered_bed_wants_more(made: Made) -> None:
    """A bed that the rain cannot reach wants more than the same bed in the open."""
    covered = tuple(replace(bed, cover=Cover.TUNNEL) for bed in made.garden.beds)
    assert litres_a_year(in_garden(made, beds=covered)) > litres_a_year(made)


def test_a_bed_may_have_its_own_soil(made: Made) -> None:
    """Sand under one bed is told in that bed and not in its neighbour."""
    north, south = made.garden.beds
    sandy = in_garden(made, beds=(replace(north, soil=Soil.SAND.value), south))
    first, second = (garden_water(one, JUNE).beds for one in (made, sandy))
    assert first[0].year_l != second[0].year_l
    assert first[1].year_l == second[1].year_l


def test_what_was_estimated_is_said(made: Made) -> None:
    """Humidity, sun and wind are not on record, and the answer says so."""
    told = " ".join(garden_water(made, JUNE).rests_on)
    for word in ("humidity", "sunshine", "wind"):
        assert word in told
    nowhere = in_garden(made, place=replace(made.garden.place, height_m=None))
    assert "sea level" in " ".join(garden_water(nowhere, JUNE).rests_on)


def test_a_larger_tank_never_does_worse(made: Made) -> None:
    """Tanks are told only where there are some; a larger one meets the need in as many years or
    more and spills less.
    """
    assert garden_water(made, JUNE).tanks is None
    small, large = (
        garden_water(in_garden(made, tanks=(Tank("barn", 30.0, size, 0.8),)), JUNE).tanks
        for size in (200.0, 20_000.0)
    )
    assert small is not None
    assert large is not None
    assert large.met >= small.met
    assert large.spilt_l.middle <= small.spilt_l.middle
    assert large.dry_days.middle <= small.dry_days.middle


def test_an_unknown_bed_is_refused(made: Made) -> None:
    """A bed that the plan has not is refused, with one that may be meant."""
    told = garden_water(made, JUNE)
    assert bed_named(told, "NORTH").id == "north"
    with pytest.raises(FaultsFoundError, match="north"):
        bed_named(told, "nort")


def recorded(garden: Garden, days: int) -> Garden:
    """Give a garden with a record of dry days that begins on 1 January 2017."""
    dice = np.random.default_rng(3)
    low = 5 + dice.normal(0, 3, days)
    record = DailyRecord(
        "a record", date(2017, 1, 1), low, low + dice.uniform(4, 14, days), np.zeros(days)
    )
    return replace(garden, weather=record)


def test_the_record_s_own_days_count_up_to_the_day(made: Made) -> None:
    """Where the record reaches the day, its own days stand in every run up to it and no further."""
    days = (JUNE - date(2017, 1, 1)).days + 30
    weather = water_weather(recorded(made.garden, days), JUNE, date(2027, 12, 31))
    at = weather.column(JUNE)
    assert weather.true_until == JUNE
    assert (weather.seasons.tmin_c[:, :at] == weather.seasons.tmin_c[0, :at]).all()
    assert (weather.seasons.tmin_c[:, at] != weather.seasons.tmin_c[0, at]).any()


def test_where_the_record_ends_is_said(made: Made) -> None:
    """Where it ends before the day, chance takes over there, and the day of it is told."""
    end = JUNE - timedelta(days=20)
    garden = recorded(made.garden, (end - date(2017, 1, 1)).days)
    assert water_weather(garden, JUNE, date(2027, 12, 31)).true_until == end
    told = garden_water(replace(made, garden=garden), JUNE).rests_on[0]
    assert long_day(end) in told


def test_a_record_without_rain_is_refused(made: Made) -> None:
    """Rain that nobody read is not taken as none."""
    days = 4000
    garden = recorded(made.garden, days)
    assert isinstance(garden.weather, DailyRecord)
    rainless = replace(garden.weather, rain_mm=np.full(days, np.nan))
    with pytest.raises(FaultsFoundError, match="no rain"):
        garden_water(in_garden(made, weather=rainless), JUNE)


def test_ground_is_full_at_midwinter(made: Made) -> None:
    """North of the equator that is 1 January, south of it 1 July."""
    place = made.garden.place
    assert midwinter_before(place, JUNE) == date(2027, 1, 1)
    south = replace(place, latitude_deg=-38.0)
    assert midwinter_before(south, JUNE) == date(2026, 7, 1)


@pytest.mark.parametrize(
    ("litres", "text"), [(0.2, "none"), (7.4, "7 l"), (123.0, "120 l"), (6662.0, "6700 l")]
)
def test_litres_are_no_finer_than_they_are_known(litres: float, text: str) -> None:
    """Water is told to two figures and whole litres."""
    assert litres_text(litres, "metric") == text


def test_a_notebook_tells_the_same(tmp_path: Path) -> None:
    """A garden imported to a notebook keeps its tanks."""
    tank = '\n[[tank]]\nname = "Barn"\nroof = "24 m2"\nholds = "1000 l"\n'
    (tmp_path / "garden.toml").write_text(SMALL + tank, encoding="utf-8")
    import_garden(tmp_path / "garden.toml", tmp_path / "garden.haulm")
    garden = open_garden(tmp_path / "garden.haulm").garden
    assert garden.tanks == open_garden(tmp_path / "garden.toml").garden.tanks
