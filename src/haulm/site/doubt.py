"""Weather that may be off for a garden as a whole, and what is drawn of that."""

from dataclasses import replace
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from haulm.site.records import SomeWeather


def even_chances(number: int) -> NDArray[np.float64]:
    """Give that many draws of a bell of mean 0 and deviation 1, evenly spread, in order."""
    return np.array([NormalDist().inv_cdf((at + 0.5) / number) for at in range(number)])


def without_doubt(weather: SomeWeather) -> SomeWeather:
    """Give weather as if it were not in doubt, for what only a mean is taken of."""
    return replace(weather, doubt_c=0.0) if weather.doubt_c else weather
