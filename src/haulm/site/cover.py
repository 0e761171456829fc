"""Weather under an unheated tunnel."""

import numpy as np

from haulm.site.records import Seasons

MAXIMUM_GAIN_C = 4.2
MINIMUM_GAIN_C = 1.3


def under_cover(seasons: Seasons) -> Seasons:
    """Give the weather in an unheated, ventilated plastic tunnel: warmer, and no rain.

    Maxima rise by 4.2 °C and minima by 1.3 °C, the mean gains measured in one plastic tunnel by
    M. J. Savage, "Plastic tunnels: a study of air temperature", *Agrochemophysica* 12 (1980) 5-13
    (abstract read). A tunnel kept shut on a sunny day gains far more, and on a clear still night
    the gain can vanish: these are means, not a promise against a frost.
    """
    return Seasons(
        origin=f"{seasons.origin}; under an unheated tunnel",
        first_day=seasons.first_day,
        tmin_c=seasons.tmin_c + MINIMUM_GAIN_C,
        tmax_c=seasons.tmax_c + MAXIMUM_GAIN_C,
        rain_mm=np.zeros_like(seasons.rain_mm),
    )
