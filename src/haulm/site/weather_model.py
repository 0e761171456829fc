"""The generator's records: what must be known of a place's weather to draw it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Months = NDArray[np.float64]
Year = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class RainModel:
    """Rain by month, January first, shape (12,).

    Attributes
    ----------
    wet_after_dry, wet_after_wet
        Chance of a wet day after a dry and after a wet one [1].
    shape, scale_mm
        Gamma distribution of a wet day's rain [1, mm].
    """

    wet_after_dry: Months
    wet_after_wet: Months
    shape: Months
    scale_mm: Months

    @property
    def wet_share(self) -> Months:
        """Share of wet days in the long run [1]."""
        return np.asarray(self.wet_after_dry / (1.0 + self.wet_after_dry - self.wet_after_wet))


@dataclass(frozen=True, slots=True, eq=False)
class WeatherModel:
    """Everything needed to draw weather for a place.

    A day's minimum and maximum, each counted in standard deviations from its mean for the time of
    year, come of the day before's, of whether it rains, and of chance.

    Attributes
    ----------
    origin
        What it was fitted to, in words.
    mean_c, spread_c
        Mean and standard deviation of the minimum and the maximum, shape (365, 2) [°C].
    memory
        Weights of the day before's minimum and maximum in today's, by month, shape (12, 2, 2) [1].
    wet_push
        What a wet day adds beyond a dry one, by month, shape (12, 2) [standard deviations].
    chance
        Lower triangle that turns two independent draws into the day's own part of both, by month,
        shape (12, 2, 2) [standard deviations].
    rain
        The rain; None where none is known, and then all days are drawn alike.
    """

    origin: str
    mean_c: NDArray[np.float64]
    spread_c: NDArray[np.float64]
    memory: NDArray[np.float64]
    wet_push: NDArray[np.float64]
    chance: NDArray[np.float64]
    rain: RainModel | None
