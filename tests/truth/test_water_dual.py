"""The dual crop coefficient and the coefficients' adjustment, against FAO-56 (Rome, 1998)."""

import numpy as np
import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.water.crops import crop_water
from haulm.water.evaporation import bare_wet_share, covered_share, mulched, soil_coefficient
from haulm.water.figures import water_figures
from haulm.water.ground_balance import ground_balance
from haulm.water.ground_tables import GroundTables
from haulm.water.records import Climate, Watering
from haulm.water.soils import soil_waters
from haulm.water.stages import adjusted_coefficient, season_curve


@pytest.mark.parametrize(
    ("table", "wind", "humidity", "height", "printed"),
    [(1.2, 1.3, 75, 2.0, 1.07), (1.2, 4.6, 44, 2.0, 1.30), (1.15, 2.2, 30, 0.4, 1.19)],
)
def test_coefficients_follow_the_air(
    *, table: float, wind: float, humidity: float, height: float, printed: float
) -> None:
    """Maize takes 1.07 in moist Taipei and 1.30 in windy Mocha (FAO-56, example 27; its 1.20 from
    memory), dry bean 1.19 at Kimberly (box 15).
    """
    assert adjusted_coefficient(table, wind, humidity, height) == pytest.approx(printed, abs=0.006)


def test_a_dry_crop_is_left_alone() -> None:
    """Dry bean ends at 0.35 whatever the air: under 0.45 nothing is adjusted (FAO-56, box 15)."""
    assert adjusted_coefficient(0.35, 4.6, 30, 0.4) == 0.35


def test_basal_curve_of_dry_bean() -> None:
    """Dry bean's basal coefficient is 0.15, 0.63, 1.14 and 0.70 on days 12, 37, 65 and 90 of 100
    (FAO-56, example 30).
    """
    curve = season_curve(
        (0.25, 0.25, 0.30, 0.20), (0.15, 1.14, 0.25), np.array([0.12, 0.37, 0.65, 0.90])
    )
    assert curve == pytest.approx([0.15, 0.63, 1.14, 0.70], abs=0.006)


def test_drip_field() -> None:
    """A field shaded to 0.53, of which drip wets 0.3, would have 0.3 of it bare and wet; the
    paper lets leaves shade part of that and prints 0.19, a coefficient of 0.25 and 1.15 in all
    (FAO-56, example 34).
    """
    assert bare_wet_share(0.53, 0.3) == pytest.approx(0.3)
    soil = soil_coefficient(1.30, 0.90, 1.0, 0.19)
    assert soil == pytest.approx(0.25, abs=0.005)
    assert 0.90 + soil == pytest.approx(1.15, abs=0.005)


@pytest.mark.parametrize(("basal", "least", "most"), [(0.15, 0.0, 0.1), (0.5, 0.1, 0.8)])
def test_shade_of_a_stage(*, basal: float, least: float, most: float) -> None:
    """Shade lies within FAO-56's table 21 at the start of the season and half way up."""
    assert least <= covered_share(basal, 1.2, 0.4, 0.15) <= most


def test_shade_of_a_whole_crop() -> None:
    """In the middle of the season leaves shade 0.8 to 1 of the ground (FAO-56, table 21)."""
    assert 0.8 <= covered_share(1.10, 1.2, 0.4, 0.15) <= 1.0


def test_mulch_keeps_half_in() -> None:
    """Each 10 % of ground under organic mulch takes 5 % off evaporation (FAO-56, chapter 11, as
    quoted by a public text; chapter 10 from memory).
    """
    relief = water_figures().mulch_relief.value
    assert mulched(1.0, 0.1, relief) == pytest.approx(0.95)
    assert mulched(1.0, 0.5, relief) == pytest.approx(0.75)


def test_drip_and_rain_wet_what_table_20_says() -> None:
    """Rain wets the whole ground, drip lines 0.3 to 0.4 of it (FAO-56, table 20)."""
    figures = water_figures()
    assert figures.wetted_by_rain.value == 1.0
    assert 0.3 <= figures.wetted_by_drip.value <= 0.4


@pytest.mark.parametrize(
    ("name", "ready", "top"),
    [
        ("sand", (2, 7), (6, 12)),
        ("loamy sand", (4, 8), (9, 14)),
        ("sandy loam", (6, 10), (15, 20)),
        ("loam", (8, 10), (16, 22)),
        ("silt loam", (8, 11), (18, 25)),
        ("silt", (8, 11), (22, 26)),
        ("silty clay loam", (8, 11), (22, 27)),
        ("silty clay", (8, 12), (22, 28)),
        ("clay", (8, 12), (22, 29)),
    ],
)
def test_drying_top_of_each_soil(
    *, name: str, ready: tuple[int, int], top: tuple[int, int]
) -> None:
    """The top of each soil loses what FAO-56's table 19 prints, freely and at all [mm]."""
    soil = soil_waters()[name]
    assert (soil.ready_mm, soil.top_mm) == (ready, top)


def sandy_loam_of_example_35() -> tuple[GroundTables, Climate, Watering]:
    """Lay out the ten days of example 35.

    Printed and read: reference use, the drying top of 18 mm and the highest coefficient of 1.21.
    From memory, and borne out by the printed coefficients: a basal coefficient that rises from
    0.30 to 0.40 on a crop of 0.3 m, 8 mm lost freely, a top that is spent on the first morning,
    40 mm given on day 1 to 0.8 of the ground, 6 mm of rain on day 6. The root zone is deep enough
    to want for nothing.
    """
    basal = np.linspace(0.30, 0.40, 10)[:, None]
    highest = np.full((10, 1), 1.21)
    row = np.ones(1)
    tables = GroundTables(
        (("field", "crop"),), np.ones((10, 1)), basal, highest,
        covered_share(basal, highest, 0.3, 0.15), np.full((10, 1), 0.3),
        1000 * row, 0.3 * row, 8 * row, 18 * row, 0.6 * row, row, row, row, 0.8 * row,
        np.array([True]), np.array([0]),
    )  # fmt: skip
    use = np.array([[4.5, 5.0, 3.9, 4.2, 4.8, 2.7, 5.8, 5.1, 4.7, 5.2]])
    rain = np.zeros((1, 10))
    rain[0, 5] = 6.0
    given = np.zeros((10, 1))
    given[0] = 40.0
    return tables, Climate(rain, use, np.full(10, 35.0), 1.6), Watering(given_mm=given)


def test_ten_days_of_drying_soil() -> None:
    """Soil and crop lose what FAO-56's example 35 prints, within 0.15 mm a day and 0.05 in the
    coefficient, as its drying shares are rounded to 0.05. Day 3 is left out: its 1.04 does not
    follow from its own 0.70, which gives 0.94. The paper's own corrected example was not seen.
    """
    tables, climate, watering = sandy_loam_of_example_35()
    told = ground_balance(tables, climate, watering, first_lack_mm=np.array([54.0]))
    lost = (told.crop_use_mm + told.evaporated_mm)[0, 0]
    printed = np.array([5.5, 6.1, 4.0, 2.9, 2.5, 2.7, 4.7, 2.8, 2.2, 2.3])
    ratio = np.array([1.21, 1.21, 1.04, 0.70, 0.52, 1.00, 0.82, 0.55, 0.47, 0.44])
    others = np.arange(10) != 2
    assert lost[others] == pytest.approx(printed[others], abs=0.15)
    assert (lost / climate.use_mm[0])[others] == pytest.approx(ratio[others], abs=0.05)


@pytest.mark.parametrize(
    ("kind", "days"),
    [
        ("calabrese/summer", (35, 45, 40, 15)),
        ("cabbage/summer", (40, 60, 50, 15)),
        ("carrot/storing", (30, 50, 90, 30)),
        ("cauliflower/autumn", (35, 50, 40, 15)),
        ("lettuce/summer", (35, 50, 45, 10)),
        ("onion/sets", (15, 25, 70, 40)),
        ("onion/spring", (25, 30, 10, 5)),
        ("spinach/spring", (20, 20, 25, 5)),
        ("radish/summer", (5, 10, 15, 5)),
        ("pepper/sweet", (30, 40, 110, 30)),
        ("cucumber/ridge", (20, 30, 40, 15)),
        ("winter squash/small", (25, 35, 35, 25)),
        ("beetroot/summer", (15, 25, 20, 10)),
        ("potato/maincrop", (30, 35, 50, 30)),
        ("sweet potato/orange", (20, 30, 60, 40)),
        ("french bean/dwarf", (20, 30, 30, 10)),
        ("french bean/for drying", (20, 30, 40, 20)),
        ("broad bean/spring", (15, 25, 35, 15)),
        ("pea/early", (35, 25, 30, 20)),
    ],
)
def test_stages_of_a_season(*, kind: str, days: tuple[int, int, int, int]) -> None:
    """The four stages are the shares of FAO-56's table 11, to the third decimal."""
    shares = crop_water(load_catalogue().kinds[kind].water).shares
    assert shares == pytest.approx(np.array(days) / sum(days), abs=0.001)


@pytest.mark.parametrize(
    ("kind", "printed"),
    [
        ("french bean/for drying", 1.15),
        ("cabbage/summer", 0.95),
        ("sweet corn/early", 1.25),
        ("onion/sets", 1.1),
        ("pea/early", 1.15),
        ("pepper/sweet", 1.1),
        ("potato/maincrop", 1.1),
        ("tomato/bush", 1.05),
    ],
)
def test_what_thirst_costs(*, kind: str, printed: float) -> None:
    """The share of yield lost for each share of water gone without is FAO-56's (table 24)."""
    assert crop_water(load_catalogue().kinds[kind].water).yield_response == printed
