"""The example gardens are whole, sound and what they say they are."""

from pathlib import Path

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.ground.records import Cover, Shape
from haulm.household.records import TableLine
from haulm.notebook.garden import Garden
from haulm.notebook.names import known_names
from haulm.notebook.toml_reader import read_garden_toml
from haulm.site.records import MonthlyNormals

EXAMPLES = Path(__file__).parents[2] / "src/haulm/examples"
DAYS_A_WEEK = 7


def example(name: str) -> Garden:
    """Read an example by the catalogue's names."""
    garden, findings = read_garden_toml(
        EXAMPLES / name / "garden.toml", known_names(load_catalogue())
    )
    assert findings == ()
    return garden


@pytest.mark.parametrize("name", ["torrenz", "southern"])
def test_an_example_is_sound_and_says_that_it_is_invented(name: str) -> None:
    """Every example reads without a word against it and is marked as no real garden."""
    assert example(name).invented


def test_the_schoolhouse_has_eleven_beds_of_unequal_shape() -> None:
    """The demo's beds: eleven, one an L, one round, one under cover, one with a disease."""
    beds = {bed.name: bed for bed in example("torrenz").beds}
    areas = {name: round(bed.outline.area_m2, 1) for name, bed in beds.items()}
    assert areas == {
        "Atlas": 36.0,
        "Abacus": 30.0,
        "Slate": 28.0,
        "Chalk": 28.0,
        "Bell": 24.0,
        "Satchel": 22.0,
        "Set-square": 17.6,
        "Bench": 16.0,
        "Ruler": 12.0,
        "Tunnel": 12.0,
        "Inkwell": 8.0,
    }
    assert len(beds["Set-square"].outline.corners_m) == 6
    assert beds["Inkwell"].outline.shape is Shape.CIRCLE
    assert [bed.name for bed in beds.values() if bed.cover is not Cover.OPEN] == ["Tunnel"]
    assert [bed.name for bed in beds.values() if bed.found] == ["Bench"]
    assert all({2024, 2025, 2026} <= {past.year for past in bed.past} for bed in beds.values())


def wanted_in(line: TableLine, month: int) -> bool:
    """Whether a line is wanted in the middle of a month."""
    if line.first is None or line.last is None:
        return True
    first, last = (line.first.month, line.first.day), (line.last.month, line.last.day)
    day = (month, 15)
    return first <= day <= last if first <= last else day >= first or day <= last


def test_the_schoolhouse_feeds_five_the_year_round() -> None:
    """Five eat, and every week of the year has a table of 250 to 550 g a day for each of them."""
    garden = example("torrenz")
    assert [eater.age for eater in garden.household.eaters] == [71, 44, 42, 14, 9]
    for month in range(1, 13):
        kg_week = sum(
            line.kg_week or 0 for line in garden.household.table if wanted_in(line, month)
        )
        assert 250 < 1000 * kg_week / DAYS_A_WEEK / 5 < 550, month


def test_the_schoolhouse_lies_in_a_cool_wet_valley() -> None:
    """Torrenz: 46.4° N, 410 m, about 950 mm of rain, January from -4 to 3 °C."""
    garden = example("torrenz")
    assert (garden.place.latitude_deg, garden.place.height_m) == (46.4, 410)
    assert isinstance(garden.weather, MonthlyNormals)
    assert sum(garden.weather.rain_mm) == pytest.approx(950)
    assert (garden.weather.tmin_c[0], garden.weather.tmax_c[0]) == (-4, 3)
    assert (garden.weather.tmin_c[6], garden.weather.tmax_c[6]) == (12, 25)


def test_the_southern_garden_is_in_us_units_and_warm_in_january() -> None:
    """The second example lies south of the equator, counts in feet, and is warm in January."""
    garden = example("southern")
    assert garden.place.southern
    assert garden.units == "us"
    assert len(garden.beds) == 4
    assert garden.beds[0].outline.area_m2 == pytest.approx(5 * 40 * 0.3048**2)
    assert isinstance(garden.weather, MonthlyNormals)
    assert garden.weather.tmax_c[0] > garden.weather.tmax_c[6]
