"""An estimate of soil temperature at sowing depth from the air's."""

import numpy as np
from numpy.typing import NDArray

MEMORY = 0.8
DAMPING_DEPTH_M = 2.0


def soil_temperature_c(
    tmin_c: NDArray[np.float64], tmax_c: NDArray[np.float64], depth_m: float
) -> NDArray[np.float64]:
    """Estimate each day's mean soil temperature.

    A damped and lagged running mean: each day keeps 0.8 of the day before and takes 0.2 from
    today's air, itself drawn a little toward the mean of the whole series, the more so the deeper.

    Parameters
    ----------
    tmin_c, tmax_c
        Daily air temperatures along the last axis [°C]; whole years, since their mean stands for
        the year's; no NaN.
    depth_m
        Depth below the surface, 0.01 to 0.5 m [m].

    Returns
    -------
    Soil temperature, same shape [°C].

    Notes
    -----
    Neitsch, Arnold, Kiniry, Williams, *Soil and Water Assessment Tool: theoretical
    documentation*, version 2005, chapter 1:1 (soil temperature: lag coefficient 0.8, depth factor
    with 0.867 and 2.078, from memory), with two simplifications: the surface is as warm as the
    air, and the damping depth is 2 m for every soil. Bare ground in spring sun runs 1 to 3 °C
    warmer and mulched or wet ground colder (common practice), so it errs on the late side for
    sowing. Not for snow-covered ground.
    """
    air = (tmin_c + tmax_c) / 2.0
    ratio = depth_m / DAMPING_DEPTH_M
    damping = ratio / (ratio + np.exp(-0.867 - 2.078 * ratio))
    target = air + damping * (air.mean(axis=-1, keepdims=True) - air)
    soil = np.empty(target.shape)
    # The ten days before the first are not known: take its own first ten instead.
    before = target[..., :10].mean(axis=-1)
    for day in range(target.shape[-1]):
        before = MEMORY * before + (1.0 - MEMORY) * target[..., day]
        soil[..., day] = before
    return soil
