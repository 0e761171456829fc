"""A place's charts: what is drawn, what stands in the table, and the years it rests on."""

from dataclasses import replace
from datetime import date

import pytest

from haulm.sheets.page.drawing import ChartTable
from haulm.sheets.page.place import (
    day_length_chart,
    day_length_rows,
    rain_chart,
    rain_rows,
    rests_on,
    warmth_chart,
    warmth_rows,
)
from haulm.sheets.page.place_frost import frost_chart, frost_rows
from haulm.sheets.page.year_axis import YearAxis
from haulm.site.records import MonthlyNormals, Place, Soil
from haulm.site.summary import SiteSummary, summarise
from sheets.page_reading import beyond, crossings, told
from sheets.schoolhouse import FROST

NORTH = Place("Torrenz", 46.4, 11.0, 410.0, Soil.LOAM)
SOUTH = Place("Lantern", -41.3, 174.8, 20.0, Soil.LOAM)
FAR = Place("Tundra", 69.0, 20.0, 80.0, Soil.LOAM)
NORMALS = MonthlyNormals(
    "invented normals",
    (-4, -3, 1, 4, 8, 12, 14, 13, 9, 5, 0, -3),
    (3, 6, 11, 15, 19, 23, 25, 24, 20, 14, 8, 4),
    (55, 50, 70, 80, 90, 100, 80, 95, 85, 75, 70, 50),
)
TURNED = MonthlyNormals(
    "invented normals",
    NORMALS.tmin_c[6:] + NORMALS.tmin_c[:6],
    NORMALS.tmax_c[6:] + NORMALS.tmax_c[:6],
    NORMALS.rain_mm[6:] + NORMALS.rain_mm[:6],
)


@pytest.fixture(scope="module")
def climates() -> dict[str, tuple[SiteSummary, Place]]:
    """Sum up three invented places: north, south and beyond the polar circle."""
    return {
        "north": (summarise(NORMALS, NORTH, 1), NORTH),
        "south": (summarise(TURNED, SOUTH, 1), SOUTH),
        "far north": (summarise(NORMALS, FAR, 1), FAR),
    }


@pytest.mark.parametrize("where", ["north", "south", "far north"])
@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("width", [328.0, 640.0])
def test_every_place_has_its_charts(
    climates: dict[str, tuple[SiteSummary, Place]], where: str, units: str, width: float
) -> None:
    """On a laptop and on a phone, north and south, the charts can be read and are told in full."""
    climate, place = climates[where]
    odds = (climate.frost, climate.hard_frost)
    soil = [month.tmin_c.middle for month in climate.months]
    charts: list[tuple[str, ChartTable]] = [
        (frost_chart(odds, place, units, width), frost_rows(odds, place, units)),
        (
            warmth_chart(climate, place, units, soil, width),
            warmth_rows(climate, place, units, soil),
        ),
        (rain_chart(climate, place, units, width), rain_rows(climate, place, units)),
        (day_length_chart(climate, place, width), day_length_rows(climate, place)),
    ]
    for drawing, table in charts:
        title, description = told(drawing)
        assert title == table.caption
        assert crossings(drawing) == []
        assert beyond(drawing, 2) == []
        for row in table.rows:
            assert len(row) == len(table.head)
            assert row[0] in description
            assert all(cell in description for cell in row)


def test_a_year_starts_at_midwinter() -> None:
    """The axis starts with January in the north and July in the south."""
    assert YearAxis(southern=False, left=0, right=365).months[0] == 1
    south = YearAxis(southern=True, left=0, right=365)
    assert south.months[0] == 7
    assert south.day_name(0) == "1 July"
    assert south.season_day(182) == 0
    assert south.season_day(1) == 184
    assert YearAxis(southern=False, left=0, right=365).day_name(31) == "1 Feb"


def test_frost_dates_are_those_of_the_record() -> None:
    """One year in ten has frost after 11 May: 130 days after 1 January."""
    rows = {row[0]: row[1:] for row in frost_rows((FROST,), NORTH).rows}
    assert rows["0 °C, 1 year in 10"] == ("11 May", "1 Oct")
    _, description = told(frost_chart((FROST,), NORTH))
    assert "Rests on 30 years: counted in 30 invented years." in description


def test_a_place_without_frost_says_so() -> None:
    """Where too few years freeze no date is made up."""
    none = (None,) * 5
    mild = replace(FROST, last_spring=none, first_autumn=none)
    assert "too few years freeze" in frost_chart((mild,), NORTH)
    assert all(row[1] == "too few frosts to say" for row in frost_rows((mild,), NORTH).rows)
    assert "No frost odds are known here." in told(frost_chart((), NORTH))[1]


def test_a_place_without_rain_on_record_says_so(
    climates: dict[str, tuple[SiteSummary, Place]],
) -> None:
    """Rain nobody measured is not known, never nought."""
    climate, place = climates["north"]
    dry = replace(climate, months=tuple(replace(month, rain_mm=None) for month in climate.months))
    assert "No rain is on record." in rain_chart(dry, place)
    assert {row[1] for row in rain_rows(dry, place).rows} == {"not known"}


def test_a_chart_says_what_it_rests_on(climates: dict[str, tuple[SiteSummary, Place]]) -> None:
    """Normals are said to be normals; a record says its years."""
    climate, _ = climates["north"]
    assert rests_on(climate).startswith("Rests on monthly normals, not on single years")
    assert rests_on(replace(climate, years=1, origin="a file")) == (
        "Rests on 1 year of record: a file."
    )


def test_the_day_is_as_long_as_the_almanac_has_it(
    climates: dict[str, tuple[SiteSummary, Place]],
) -> None:
    """At 20° south on 15 September sunrise and sunset lie 11 h 58 min apart, as the
    astral library has it (FAO-56, whose sun is a point in still air, has 11.8).

    Beyond the polar circle the sun does not rise in mid-December nor set in mid-June.
    """
    climate, _ = climates["south"]
    tropic = replace(SOUTH, latitude_deg=-20.0)
    september = {row[0]: row[1] for row in day_length_rows(climate, tropic).rows}["15 September"]
    assert float(september) == pytest.approx(12.0, abs=0.05)
    far, tundra = climates["far north"]
    rows = {row[0]: row[1] for row in day_length_rows(far, tundra).rows}
    assert rows["15 June"] == "24.0"
    assert rows["15 December"] == "0.0"


def test_the_longest_day_is_told(climates: dict[str, tuple[SiteSummary, Place]]) -> None:
    """The table names the days on which the year turns."""
    climate, place = climates["north"]
    words = [row[0] for row in day_length_rows(climate, place).rows]
    day = climate.longest_day[0]
    assert abs((day - date(day.year, 6, 21)).days) <= 1
    assert any(word.startswith("longest day, 2") for word in words)
