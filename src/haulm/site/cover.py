"""Weather under an unheated tunnel."""

import numpy as np

from haulm.site.figures import air_figure
from haulm.site.records import Seasons


def under_cover(seasons: Seasons) -> Seasons:
    """Give the weather in an unheated, ventilated plastic tunnel: warmer, and no rain.

    Maxima rise by 4.2 °C and minima by 1.3 °C, the mean gains measured in one plastic tunnel
    (``data/air.toml`` has the source). A tunnel kept shut on a sunny day gains far more, and on a
    clear still night the gain can vanish: these are means, not a promise against a frost.
    """
    return Seasons(
        origin=f"{seasons.origin}; under an unheated tunnel",
        first_day=seasons.first_day,
        tmin_c=seasons.tmin_c + air_figure("tunnel_night_gain_c"),
        tmax_c=seasons.tmax_c + air_figure("tunnel_day_gain_c"),
        rain_mm=np.zeros_like(seasons.rain_mm),
    )
