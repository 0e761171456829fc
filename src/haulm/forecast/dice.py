"""Chance by name: the same season is dealt the same whatever else is asked, and in what blocks."""

from collections.abc import Callable
from dataclasses import dataclass
from zlib import crc32

import numpy as np

from haulm.forecast.records import Floats

SHEET = 250
"""So many seasons are drawn at once; a block of seasons is cut out of whole sheets of them."""


@dataclass(frozen=True, slots=True)
class Dice:
    """Draws for a run of seasons.

    Every thing that chance decides has a name and a stream of its own, so that a season's weather,
    its good year for carrots and the mice in its cellar stay the same when another planting is
    added, or when its seasons are lived in larger blocks.

    Attributes
    ----------
    seed
        The seed.
    first, seasons
        The first season, counted from 0, and how many.
    """

    seed: int
    first: int
    seasons: int

    def normal(self, name: str, weeks: int | None = None) -> Floats:
        """Draw standard normal values, shape (seasons,) or (weeks, seasons)."""
        return self._cut(name, weeks, lambda rng, shape: rng.standard_normal(shape))

    def uniform(self, name: str) -> Floats:
        """Draw values evenly from 0 to 1, shape (seasons,)."""
        return self._cut(name, None, lambda rng, shape: rng.random(shape))

    def _cut(
        self,
        name: str,
        weeks: int | None,
        drawn: Callable[[np.random.Generator, tuple[int, ...]], Floats],
    ) -> Floats:
        """Draw whole sheets and cut the seasons out of them."""
        key = crc32(name.encode())
        shape = (SHEET,) if weeks is None else (weeks, SHEET)
        last = self.first + self.seasons
        sheets = range(self.first // SHEET, -(-last // SHEET))
        values = [
            drawn(np.random.Generator(np.random.SFC64([self.seed, key, sheet])), shape)
            for sheet in sheets
        ]
        start = self.first - sheets.start * SHEET
        return np.concatenate(values, axis=-1)[..., start : start + self.seasons]
