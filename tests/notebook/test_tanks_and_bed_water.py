"""What a garden says of its water: tanks, and a bed's soil, mulch and watering."""

from pathlib import Path

import pytest

from gardens import SMALL
from haulm.desk.garden.opening import open_garden
from haulm.ground.records import Watered
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import faults

TANK = '\n[[tank]]\nname = "Barn"\nroof = "24 m2"\nholds = "1000 l"\n'


def test_a_tank_is_read(tmp_path: Path) -> None:
    """A tank has its roof, what it holds and, where none was told, the usual share caught."""
    (tmp_path / "garden.toml").write_text(SMALL + TANK, encoding="utf-8")
    (tank,) = open_garden(tmp_path / "garden.toml").garden.tanks
    assert (tank.name, tank.roof_m2, tank.holds_l, tank.caught_share) == ("Barn", 24.0, 1000.0, 0.8)


def test_a_bed_has_its_own_soil_and_mulch(tmp_path: Path) -> None:
    """A bed says its soil, its mulch and how it is watered; one that does not has none, bare, by
    can.
    """
    mulched = 'name = "North"\nsoil = "clay"\nmulch = "60 %"\nwatered = "drip"'
    (tmp_path / "garden.toml").write_text(SMALL.replace('name = "North"', mulched), "utf-8")
    north, south = open_garden(tmp_path / "garden.toml").garden.beds
    assert (north.soil, north.mulch_share, north.watered) == ("clay", 0.6, Watered.DRIP)
    assert (south.soil, south.mulch_share, south.watered) == (None, 0.0, Watered.CAN)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (TANK.replace("1000 l", "0 l"), "nothing"),
        (TANK.replace("24 m2", "24 m"), "area"),
        (TANK + 'caught = "120 %"\n', "no share"),
        (TANK + TANK, "taken by number 1"),
    ],
)
def test_a_tank_that_cannot_be_is_refused(tmp_path: Path, typed: str, said: str) -> None:
    """No room, a roof that is no area, more rain than falls, two tanks of one name: each is told
    with its place.
    """
    (tmp_path / "garden.toml").write_text(SMALL + typed, encoding="utf-8")
    with pytest.raises(FaultsFoundError, match=said) as caught:
        open_garden(tmp_path / "garden.toml")
    assert any("[[tank]]" in fault.where for fault in faults(caught.value.findings))
