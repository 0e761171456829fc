"""What has to stand in the ground when the dark weeks begin."""

from datetime import date, timedelta
from math import exp, log
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.dates.winter import winter
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.planning.plans import Made
from haulm.growing.harvest import yield_bounds
from haulm.growing.timing import main_giving
from haulm.measure.errors import FaultsFoundError

DAY = date(2027, 2, 1)


def test_leeks_are_sized_by_hand(opened: Opened, made: Made) -> None:
    """0.4 kg of leek a week through the dark weeks, over what 8 years in 10 give of the mean: the
    lognormal's quantile, exp(−0.8416 s − s² / 2), by hand.
    """
    found = winter(opened, made.plan, DAY, 0.8, seed=1)
    assert found.dark is not None
    (leek,) = [line for line in found.lines if line.name == "leek"]
    weeks = (found.dark.first_long - found.dark.last_long).days / 7
    assert leek.need_kg == pytest.approx(0.4 * weeks)
    (way,) = [way for way in leek.ways if way.stands.kind == "leek/winter"]
    giving = main_giving(opened.catalogue.kinds["leek/winter"])
    low, high = yield_bounds(giving.yield_kg_m2)
    spread = log(high / low) / (2 * 1.28155)
    counted = exp(-0.84162 * spread - spread**2 / 2)
    assert way.counted == pytest.approx(counted, rel=1e-4)
    assert way.area_m2 == pytest.approx(way.need_kg / counted / giving.yield_kg_m2.value, rel=1e-4)
    assert way.stands.sow_by <= way.stands.set_by <= found.dark.last_long
    assert leek.planned_kg is not None


def test_surer_takes_more_ground(opened: Opened) -> None:
    """To suffice in 9 years of 10 more must stand than in 5."""
    grounds = [
        {(line.name, way.name): way.area_m2 for line in found.lines for way in line.ways}
        for found in (winter(opened, None, DAY, sure, seed=1) for sure in (0.5, 0.8, 0.9))
    ]
    assert grounds[0].keys() == grounds[1].keys() == grounds[2].keys()
    assert all(grounds[0][one] < grounds[1][one] < grounds[2][one] for one in grounds[0])


def test_later_in_the_year_less_can_still_be_sown(opened: Opened) -> None:
    """On 1 February leeks can be sown for winter; on 1 October no more."""
    early = winter(opened, None, DAY, 0.8, seed=1)
    late = winter(opened, None, date(2027, 10, 1), 0.8, seed=1)
    assert any(line.ways for line in early.lines if line.name == "leek")
    assert not any(line.ways for line in late.lines if line.name == "leek")


def test_near_the_equator_nothing_is_asked(tmp_path: Path) -> None:
    """At 10° north there are no dark weeks."""
    toml = small_garden(tmp_path, ("latitude = 47.6", "latitude = 10.0"))
    found = winter(open_garden(toml), None, DAY, 0.8, seed=1)
    assert found.dark is None
    assert found.lines == ()


def test_in_the_south_winter_is_in_june(tmp_path: Path) -> None:
    """At 47° south the dark weeks hold the shortest day, in June."""
    toml = small_garden(tmp_path, ("latitude = 47.6", "latitude = -47.6"))
    found = winter(open_garden(toml), None, DAY, 0.8, seed=1)
    assert found.dark is not None
    assert found.dark.last_long < date(2027, 6, 21) < found.dark.first_long
    assert found.dark.first_long - found.dark.last_long > timedelta(70)


def test_a_certainty_out_of_reach_is_refused(opened: Opened) -> None:
    """Ten years of ten can't be promised."""
    with pytest.raises(FaultsFoundError):
        winter(opened, None, DAY, 1.0, seed=1)
