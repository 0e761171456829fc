"""Chance by the calendar: what is dealt to a day is that day's, whenever runs of weather begin."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import IntEnum

import numpy as np
from numpy.typing import NDArray

from haulm.site.calendar import Days

Floats = NDArray[np.float64]
Shape = tuple[int, ...]


class Purpose(IntEnum):
    """What chance decides; each has a stream of its own."""

    WET, RAIN, AIR, YEAR, WET_BEFORE, AIR_BEFORE = range(6)


@dataclass(frozen=True, slots=True)
class CalendarChance:
    """Draws for runs of weather, one calendar year at a time.

    What a day is dealt rests on the seed, its year, its place in that year, the run and the purpose
    alone: not on the day the runs begin, nor on how many days or runs there are.

    Attributes
    ----------
    seed
        The seed, 0 or more.
    runs
        How many runs.
    """

    seed: int
    runs: int

    def by_day(
        self,
        purpose: Purpose,
        calendar: Days,
        drawn: Callable[[np.random.Generator, Shape, slice], Floats],
    ) -> Floats:
        """Draw for each day of a calendar of whole years, shape (runs, days, ...).

        ``drawn`` is given the shape to fill and where the year lies in the calendar.
        """
        years, starts = np.unique(calendar.year, return_index=True)
        ends = [*starts[1:], calendar.year.size]
        return np.concatenate(
            [
                drawn(self._source(purpose, year), (self.runs, end - start), slice(start, end))
                for year, start, end in zip(years, starts, ends, strict=True)
            ],
            axis=1,
        )

    def in_year(
        self, purpose: Purpose, year: int, drawn: Callable[[np.random.Generator, int], Floats]
    ) -> Floats:
        """Draw once for each run in a year, shape (runs, ...)."""
        return drawn(self._source(purpose, year), self.runs)

    def _source(self, purpose: Purpose, year: int) -> np.random.Generator:
        # Filled run by run, so that more runs leave the first ones as they are.
        return np.random.default_rng([purpose, self.seed, int(year)])
