"""The dual crop coefficient against FAO-56 (Rome, 1998), beside the page of checks."""

import pytest

from haulm.water.evaporation import bare_wet_share, mulched
from haulm.water.figures import water_figures


def test_drip_field() -> None:
    """A field shaded to 0.53, of which drip wets 0.3, would have 0.3 of it bare and wet; the
    paper lets leaves shade part of that and prints 0.19 (FAO-56, example 34).
    """
    assert bare_wet_share(0.53, 0.3) == pytest.approx(0.3)


def test_mulch_keeps_half_in() -> None:
    """Each 10 % of ground under organic mulch takes 5 % off evaporation (FAO-56, chapter 11, as
    quoted by a public text; chapter 10 from memory).
    """
    relief = water_figures().mulch_relief.value
    assert mulched(1.0, 0.1, relief) == pytest.approx(0.95)
    assert mulched(1.0, 0.5, relief) == pytest.approx(0.75)
