"""The root zone's books close."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.water.root_zone import day_by_day, litres

SEEDS = st.integers(0, 10_000)


@settings(max_examples=25, deadline=None)
@given(SEEDS)
def test_water_is_neither_made_nor_lost(seed: int) -> None:
    """What falls and is given is drunk, drained, or makes the soil wetter; never out of bounds."""
    dice = np.random.default_rng(seed)
    rain, given_mm, use = (dice.gamma(0.5, 6.0, (3, 60)) for _ in range(3))
    told = day_by_day(rain, given_mm, use, 80.0, 0.4, 20.0)
    gained = (rain + given_mm - told.crop_use_mm - told.drained_mm).sum(axis=-1)
    assert 20.0 - gained == pytest.approx(told.depletion_mm[:, -1])
    assert (told.depletion_mm >= 0).all()
    assert (told.depletion_mm <= 80.0 + 1e-9).all()


@settings(max_examples=25, deadline=None)
@given(SEEDS)
def test_more_rain_never_more_stress(seed: int) -> None:
    """A wetter season never leaves a crop thirstier on any day, at uses below 10 mm a day."""
    dice = np.random.default_rng(seed)
    rain, more = (dice.gamma(0.4, 6.0, 90) for _ in range(2))
    use = dice.uniform(0.0, 10.0, 90)
    dry, wet = (
        day_by_day(fallen, np.zeros(90), use, 80.0, 0.4, 20.0) for fallen in (rain, rain + more)
    )
    assert (wet.stress >= dry.stress - 1e-12).all()


def test_a_millimetre_on_a_square_metre_is_a_litre() -> None:
    """12 mm on 2.5 m² is 30 l."""
    assert litres(12.0, 2.5) == 30.0
