"""What a garden says of its racks to cure on."""

from pathlib import Path

import pytest

from gardens import SMALL
from haulm.desk.garden.opening import open_garden
from haulm.desk.season.larder_care import racks_told_m2
from haulm.measure.errors import FaultsFoundError

STORE = '\n[[store]]\nid = "loft"\nkind = "shelf"\n'


def opened(tmp_path: Path, text: str) -> float | None:
    """Read the racks of a garden."""
    (tmp_path / "garden.toml").write_text(SMALL + text, encoding="utf-8")
    return racks_told_m2(open_garden(tmp_path / "garden.toml").garden.stores)


def test_racks_are_read_in_either_system(tmp_path: Path) -> None:
    """Three square metres are three; twenty square feet are just under two square metres."""
    assert opened(tmp_path, STORE + 'racks = "3 m2"\n') == 3.0
    assert opened(tmp_path, STORE + 'racks = "20 sq ft"\n') == pytest.approx(1.858, abs=0.001)


def test_racks_not_told_are_not_none_at_all(tmp_path: Path) -> None:
    """A garden that tells no racks has an unknown lot of them, not 0."""
    assert opened(tmp_path, STORE) is None


@pytest.mark.parametrize("racks", ["0 m2", "-4 m2"])
def test_racks_of_nothing_are_refused(tmp_path: Path, racks: str) -> None:
    """No racks, and less than none, are told by leaving the key out, and so it is said."""
    with pytest.raises(FaultsFoundError, match=r"nothing\. Write more than 0, or leave it out"):
        opened(tmp_path, STORE + f'racks = "{racks}"\n')


def test_racks_ask_nothing_of_a_plan(tmp_path: Path) -> None:
    """Racks told leave the question of a plan what it is, so that no plan is out of date."""
    (tmp_path / "garden.toml").write_text(SMALL + STORE, encoding="utf-8")
    without = repr(open_garden(tmp_path / "garden.toml").garden.stores)
    (tmp_path / "garden.toml").write_text(SMALL + STORE + "racks = 3\n", encoding="utf-8")
    assert repr(open_garden(tmp_path / "garden.toml").garden.stores) == without
