"""An estimate of soil temperature at a depth from the air's."""

from math import exp, pi, sqrt

import numpy as np
from numpy.typing import NDArray

MEMORY = 0.8
DAMPING_DEPTH_M = 2.0
USUAL_DIFFUSIVITY_M2_S = 5e-7
_SURFACE_M = 0.001
DAYS_A_YEAR, SECONDS_A_DAY = 365.25, 86400.0
WHOLE_YEAR_D = 365


def soil_temperature_c(
    tmin_c: NDArray[np.float64],
    tmax_c: NDArray[np.float64],
    depth_m: float,
    mulch_kg_ha: float = 0.0,
) -> NDArray[np.float64]:
    """Estimate each day's mean soil temperature at sowing depth.

    A damped and lagged running mean: each day keeps 0.8 of the day before and takes 0.2 from
    today's air, itself drawn a little toward the mean of all whole years, the more so the deeper.
    Under mulch the ground takes less from the air, and so runs later and evener.

    Parameters
    ----------
    tmin_c, tmax_c
        Daily air temperatures along the last axis [°C]; a year or more, since the mean of its
        first whole years stands for the year's; no NaN. Under a tunnel or fleece, those of the air
        beneath it.
    depth_m
        Depth below the surface, 0.01 to 0.1 m [m]; deeper it damps too much, and
        :func:`soil_at_depth_c` is right.
    mulch_kg_ha
        Dry mass of mulch or crop residue on the ground, 0 for bare ground [kg/ha]; straw 5 cm
        thick is some 5000.

    Returns
    -------
    Soil temperature, same shape [°C].

    Notes
    -----
    Neitsch, Arnold, Kiniry, Williams, *Soil and Water Assessment Tool: theoretical
    documentation*, version 2005, chapter 1:1 (soil temperature: lag coefficient 0.8, depth factor
    with 0.867 and 2.078, weight of cover with 7.563 and 1.297e-4, all from memory), with the
    simplifications that the surface is as warm as the air and the damping depth 2 m. Against the
    wave of equation 13-4 (see :func:`damping_depth`) the year's swing comes out 4 in 100 too small
    at 5 cm, 7 at 10 cm, 14 at 20 cm and 30 at 50 cm. Bare ground in spring sun runs 1 to 3 °C
    warmer (common practice), so it errs on the late side for sowing. Not for snow-covered ground.
    """
    air = (tmin_c + tmax_c) / 2.0
    ratio = depth_m / DAMPING_DEPTH_M
    damping = ratio / (ratio + np.exp(-0.867 - 2.078 * ratio))
    # Part of a year more would make the mean hang on the season in which the series ends.
    whole = air.shape[-1] // WHOLE_YEAR_D * WHOLE_YEAR_D or air.shape[-1]
    target = air + damping * (air[..., :whole].mean(axis=-1, keepdims=True) - air)
    memory = MEMORY + (1.0 - MEMORY) * mulch_weight(mulch_kg_ha)
    soil = np.empty(target.shape)
    # The ten days before the first are not known: take its own first ten instead.
    before = target[..., :10].mean(axis=-1)
    for day in range(target.shape[-1]):
        before = memory * before + (1.0 - memory) * target[..., day]
        soil[..., day] = before
    return soil


def soil_at_depth_c(
    tmin_c: NDArray[np.float64],
    tmax_c: NDArray[np.float64],
    depth_m: float,
    diffusivity_m2_s: float = USUAL_DIFFUSIVITY_M2_S,
    mulch_kg_ha: float = 0.0,
) -> NDArray[np.float64]:
    """Give each day's mean soil temperature at any depth, as heat is conducted down.

    The surface's course, as :func:`soil_temperature_c` estimates it, is taken apart into waves;
    each is damped and delayed by the depth as conduction does it, and all are put together again.

    Parameters
    ----------
    tmin_c, tmax_c
        As there: whole years along the last axis, since the end is taken to lead on into the
        beginning [°C].
    depth_m
        Depth below the surface, 0 or more [m].
    diffusivity_m2_s
        Of the soil [m²/s]: 2e-7 for dry ground or peat, 8e-7 for moist sand; by default 5e-7.
    mulch_kg_ha
        As there [kg/ha].

    Returns
    -------
    Soil temperature, same shape [°C].

    Notes
    -----
    Equation 13-4 of *Rain or Shine*, Oklahoma State University Libraries, section 13.4, for each
    wave of the course. One soil throughout, no frost in it and no snow on it.
    """
    surface = soil_temperature_c(tmin_c, tmax_c, _SURFACE_M, mulch_kg_ha)
    waves = np.fft.rfft(surface, axis=-1)
    days = surface.shape[-1]
    number = np.arange(1, waves.shape[-1])
    depths = np.array([damping_depth(diffusivity_m2_s, days / one) for one in number])
    waves[..., 1:] *= np.exp(-(1 + 1j) * depth_m / depths)
    return np.fft.irfft(waves, n=days, axis=-1)


def mulch_weight(mulch_kg_ha: float) -> float:
    """Give how much of yesterday's warmth the ground under mulch keeps, 0 to under 1 [1].

    Source: as :func:`soil_temperature_c`, equation 1:1.3.11, from memory.
    """
    if mulch_kg_ha <= 0.0:
        return 0.0
    return mulch_kg_ha / (mulch_kg_ha + exp(7.563 - 1.297e-4 * mulch_kg_ha))


def damping_depth(diffusivity_m2_s: float, period_d: float = DAYS_A_YEAR) -> float:
    """Give the depth at which a wave of warmth is 37 in 100 of the surface's [m].

    Parameters
    ----------
    diffusivity_m2_s
        Of the soil, some 2e-7 (dry, or peat) to 8e-7 (moist sand) [m²/s].
    period_d
        Of the wave: a year, or 1 for the day's [d].

    Notes
    -----
    √(α · period / π): *Rain or Shine*, Oklahoma State University Libraries, section 13.4,
    equation 13-5.
    """
    return sqrt(diffusivity_m2_s * period_d * SECONDS_A_DAY / pi)


def wave_left(depth_m: float, damping_depth_m: float) -> float:
    """Give the share of a wave of warmth that is left at a depth [1] (equation 13-4 there)."""
    return exp(-depth_m / damping_depth_m)


def wave_lag_d(depth_m: float, damping_depth_m: float, period_d: float = DAYS_A_YEAR) -> float:
    """Give how much later a wave of warmth comes at a depth [d] (equation 13-4 there)."""
    return depth_m / damping_depth_m * period_d / (2.0 * pi)
