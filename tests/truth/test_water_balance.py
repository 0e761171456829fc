"""The water room against the worked examples of FAO-56 (Rome, 1998), as printed there."""

import numpy as np
import pytest

from haulm.water.records import CropStages
from haulm.water.root_zone import day_by_day, easy_share, total_water_mm
from haulm.water.soils import soil_waters
from haulm.water.stages import crop_coefficient


@pytest.mark.parametrize(
    ("held", "wilted", "root_m", "share", "total", "easy"),
    [
        (0.15, 0.06, 0.4, 0.30, 36, 11),
        (0.32, 0.15, 0.8, 0.40, 136, 54),
        (0.35, 0.23, 1.2, 0.55, 144, 79),
    ],
)
def test_what_roots_can_reach(
    *, held: float, wilted: float, root_m: float, share: float, total: int, easy: int
) -> None:
    """Onion, tomato and maize reach the water of FAO-56, example 36, rounded to 1 mm."""
    reached = total_water_mm(held, wilted, root_m)
    assert reached == pytest.approx(total, abs=0.5)
    assert reached * share == pytest.approx(easy, abs=0.6)


def test_dry_bean_curve() -> None:
    """Dry bean at Kimberly: 0.15 on day 20 and 0.77 on day 40, FAO-56, example 28."""
    bean = CropStages(25, 25, 30, 20, 0.15, 1.19, 0.35)
    curve = crop_coefficient(bean, np.array([20.0, 40.0, 70.0]))
    assert curve == pytest.approx([0.15, 0.77, 1.19], abs=0.005)


def test_ten_days_of_a_schedule() -> None:
    """The depletion of FAO-56, example 38, within 1 mm, draining before the crop drinks.

    Crop use of days 1 to 9 is printed in example 35, and that it holds here too is our reading;
    that of day 10 is printed in example 38.
    """
    use = np.array([5.5, 6.1, 4.0, 2.9, 2.5, 2.7, 4.7, 2.8, 2.2, 6.3])
    rain = np.zeros(10)
    rain[5] = 6.0
    watering = np.zeros(10)
    watering[[0, 9]] = 40.0, 27.0
    told = day_by_day(rain, watering, use, 39.0, 0.6, 23.0)
    assert told.depletion_mm == pytest.approx([5, 12, 16, 18, 21, 18, 22, 25, 27, 6], abs=1.0)
    assert told.drained_mm[0] == pytest.approx(17.0)


def test_easy_share_follows_the_days_use() -> None:
    """At 5 mm a day the table's share holds; it stays within 0.1 to 0.8 (FAO-56, table 22)."""
    share = easy_share(0.45, np.array([5.0, 2.5, 40.0, -20.0]))
    assert share == pytest.approx([0.45, 0.55, 0.1, 0.8])


def test_silty_clay_holds_what_table_19_says() -> None:
    """Silty clay holds 0.30 to 0.42 at field capacity, 0.17 to 0.29 at wilting point."""
    soil = soil_waters()["silty clay"]
    assert (soil.field_capacity, soil.wilting_point) == ((0.30, 0.42), (0.17, 0.29))
    assert len(soil_waters()) == 9
