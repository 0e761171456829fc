"""A figure's spread over years."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

_TENTHS = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True)
class Spread:
    """A figure in few, middle and many years: 1, 5 and 9 years in 10 lie below."""

    low: float
    middle: float
    high: float


def spread_of(by_year: NDArray[np.float64]) -> Spread:
    """Give the spread of one figure a year, or a run."""
    low, middle, high = np.quantile(by_year, _TENTHS)
    return Spread(float(low), float(middle), float(high))
