"""What lies in a garden's rain tanks, morning by morning, in many runs at once."""

from collections.abc import Sequence

import numpy as np

from haulm.water.records import Array, Tank

DROP_L = 1e-6
"""Less than this is nothing [l]."""


class TankStock:
    """Tanks that fill from their roofs and are drawn on together.

    Parameters
    ----------
    tanks
        The tanks, each with its roof.
    runs
        How many runs of weather.
    full_share
        How full they are on the first morning [1].
    """

    def __init__(self, tanks: Sequence[Tank], runs: int, full_share: float = 1.0) -> None:
        self._holds = np.array([tank.holds_l for tank in tanks])[:, None]
        self._caught = np.array([tank.roof_m2 * tank.caught_share for tank in tanks])[:, None]
        self._lying = np.repeat(full_share * self._holds, runs, axis=1)

    @property
    def lying_l(self) -> Array:
        """What lies in all of them, shape (runs,) [l]."""
        return np.asarray(self._lying.sum(axis=0))

    def fill(self, rain_mm: Array) -> Array:
        """Let a morning's rain run in; give what finds no room, shape (runs,) [l]."""
        filled = self._lying + self._caught * rain_mm[None, :]
        self._lying = np.minimum(filled, self._holds)
        return np.asarray((filled - self._lying).sum(axis=0))

    def draw(self, wanted_l: Array) -> Array:
        """Draw what is wanted as far as it is there, from each in proportion; give it [l]."""
        there = self.lying_l
        given = np.minimum(wanted_l, there)
        self._lying = self._lying * (1.0 - given / np.maximum(there, DROP_L))
        return np.asarray(given)
