"""Beds whose nights are other than the garden's."""

from dataclasses import replace

import numpy as np
import pytest

from haulm.ground.records import Spot
from haulm.site.frost import frost_odds
from haulm.site.records import Place
from haulm.site.spots import night_gain, night_gain_c, spot_frosts
from stations import PLACES, read_real


@pytest.mark.parametrize("spot", Spot)
def test_every_spot_has_its_figure(spot: Spot) -> None:
    """A hollow is colder, a wall and fleece are warmer, each by a figure that says its basis."""
    assert night_gain(spot).note
    assert (night_gain(spot).value < 0) == (spot is Spot.FROST_HOLLOW)


def test_fleece_is_within_what_the_handbook_prints() -> None:
    """Spun covers protect by 1 °C when thin to 5 °C when thick (Snyder and de Melo-Abreu, Frost
    protection, FAO 2005, volume 1, chapter 6).
    """
    assert 1.0 <= night_gain_c([Spot.FLEECE]) <= 5.0


def test_gains_add_up() -> None:
    """Fleece over a bed in a hollow wins back some of what the hollow costs."""
    hollow, both = (
        night_gain_c(spots) for spots in ([Spot.FROST_HOLLOW], [Spot.FROST_HOLLOW, Spot.FLEECE])
    )
    assert hollow < both < 0


@pytest.mark.parametrize("name", ["fulda", "baltimore", "seattle"])
def test_a_hollows_frosts_are_those_of_colder_nights(name: str) -> None:
    """Its odds equal those of the same record with every night colder by the hollow's figure."""
    record, place = read_real(name), PLACES[name]
    colder = replace(record, tmin_c=record.tmin_c + night_gain_c([Spot.FROST_HOLLOW]))
    here, there = spot_frosts(record, place, [Spot.FROST_HOLLOW]), frost_odds(colder, place, 0.0)
    np.testing.assert_allclose(
        np.array(here.last_spring, dtype=float), np.array(there.last_spring, dtype=float)
    )
    garden = frost_odds(record, place, 0.0)
    assert (here.last_spring[2] or 0) > (garden.last_spring[2] or 0)
    assert (here.first_autumn[2] or 0) < (garden.first_autumn[2] or 0)


def test_no_spot_is_the_gardens_own(place: Place) -> None:
    """A bed like the rest has the garden's frosts."""
    record = read_real("fulda")
    assert spot_frosts(record, place, ()) == frost_odds(record, place, 0.0)
