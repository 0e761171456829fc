"""Keeping curves and the catalogue's keepings against published storage figures."""

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.larder.keeping import keeping_curve, sound_share


def test_no_single_rate_a_month_fits_squash() -> None:
    """A steady percentage through the first figure would keep far too much at the last.

    Same report: at the rate of the first nine weeks, 79 % would be sound at 20 weeks; 50 % were.
    """
    steady = 0.9 ** (20 / 9)
    assert steady == pytest.approx(0.79, abs=0.005)
    assert sound_share(keeping_curve(9, 20), 20) < steady - 0.25


def test_every_keeping_of_the_catalogue_makes_a_curve() -> None:
    """No keeping in the catalogue has figures that fit no curve."""
    for kind in load_catalogue().kinds.values():
        for giving in kind.givings:
            for keeping in giving.keeping:
                curve = keeping_curve(keeping.sound_90_weeks.value, keeping.sound_50_weeks.value)
                assert curve.shape > 1, f"{kind.id} {giving.food}: losses must come late"
