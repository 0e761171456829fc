"""Numbers in the units that a text prints, turned into those they are kept in."""

import pytest

from haulm.measure.printed_units import USUAL, in_unit
from haulm.measure.units import registry


@pytest.mark.parametrize(("printed", "kept"), USUAL)
@pytest.mark.parametrize("number", [-40.0, -4.0, 0.5, 1.0, 3.0, 41.0, 60.0, 212.0])
def test_what_is_turned_most_is_turned_as_the_registry_does(
    printed: str, kept: str, number: float
) -> None:
    """The short way taken for common units gives what the registry gives, to twelve figures."""
    found = registry().Quantity(number, printed).to(kept).magnitude
    assert in_unit(number, printed, kept, "test") == float(f"{found:.12g}")
