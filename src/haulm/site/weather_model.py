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

    Attributes
    ----------
    origin
        What it was fitted to, in words.
    centre_c, span_c
        Mean of a day's centre and span, shape (365,) [°C].
    centre_spread_c, span_spread
        Standard deviation of the centre [°C] and of the logarithm of the span [1], shape (365,).
    wet_centre_c
        How much warmer a wet day's centre is than a dry day's, by month, shape (12,) [°C].
    wet_span
        A wet day's span as a share of a dry day's, by month, shape (12,) [1].
    coupling
        Correlation of the span with the centre on the same day, by month, shape (12,) [1].
    centre_memory, span_memory
        Correlation from one day to the next [1].
    rain
        The rain; None where none is known, and then all days are drawn alike.
    """

    origin: str
    centre_c: Year
    span_c: Year
    centre_spread_c: Year
    span_spread: Year
    wet_centre_c: Months
    wet_span: Months
    coupling: Months
    centre_memory: float
    span_memory: float
    rain: RainModel | None
