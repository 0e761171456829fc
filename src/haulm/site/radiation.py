"""Radiation at the ground and the reference evapotranspiration it drives, by FAO-56.

Source: Allen, Pereira, Raes, Smith, *Crop evapotranspiration*, FAO Irrigation and Drainage
Paper 56, Rome 1998, chapters 2 to 4. Energies are per square metre and day [MJ/m²]; all functions
work on arrays of any shape, element by element.
"""

import numpy as np
from numpy.typing import NDArray

from haulm.site.vapour import (
    Values,
    mean_saturation_vapour_pressure_kpa,
    psychrometric_constant_kpa_c,
    saturation_slope_kpa_c,
)

STEFAN_BOLTZMANN_MJ_K4_M2 = 4.903e-9
GRASS_ALBEDO = 0.23
MM_A_MJ = 0.408
_ABSOLUTE_ZERO_C = -273.16


def solar_radiation_mj_m2(
    sunshine_h: Values, day_length_h: Values, extraterrestrial_mj_m2: Values
) -> NDArray[np.float64]:
    """Give the solar radiation from the hours of bright sun, equation 35 with 0.25 and 0.50."""
    share = np.asarray(sunshine_h, dtype=np.float64) / day_length_h
    return np.asarray((0.25 + 0.50 * share) * extraterrestrial_mj_m2)


def solar_radiation_from_temperature_mj_m2(
    tmin_c: Values, tmax_c: Values, extraterrestrial_mj_m2: Values, *, coastal: bool = False
) -> NDArray[np.float64]:
    """Give the solar radiation from the day's range of temperature, equation 50.

    The adjustment coefficient is 0.16 inland and 0.19 on a coast.
    """
    span = np.asarray(tmax_c, dtype=np.float64) - tmin_c
    return np.asarray((0.19 if coastal else 0.16) * np.sqrt(span) * extraterrestrial_mj_m2)


def clear_sky_radiation_mj_m2(
    extraterrestrial_mj_m2: Values, height_m: float
) -> NDArray[np.float64]:
    """Give the solar radiation of a cloudless day, equation 37."""
    return np.asarray((0.75 + 2e-5 * height_m) * np.asarray(extraterrestrial_mj_m2))


def net_shortwave_mj_m2(solar_mj_m2: Values) -> NDArray[np.float64]:
    """Give the solar radiation kept by the reference grass, equation 38 with albedo 0.23."""
    return np.asarray((1.0 - GRASS_ALBEDO) * np.asarray(solar_mj_m2))


def blackbody_mj_m2(temperature_c: Values) -> NDArray[np.float64]:
    """Give the radiation of a black body at a temperature [°C], FAO-56 table 2.8."""
    kelvin = np.asarray(temperature_c, dtype=np.float64) - _ABSOLUTE_ZERO_C
    return np.asarray(STEFAN_BOLTZMANN_MJ_K4_M2 * kelvin**4)


def net_longwave_mj_m2(
    tmin_c: Values,
    tmax_c: Values,
    vapour_kpa: Values,
    solar_mj_m2: Values,
    clear_sky_mj_m2: Values,
) -> NDArray[np.float64]:
    """Give the net outgoing longwave radiation, equation 39.

    The share of clear-sky radiation is held at 1 or less, as the equation's note asks.
    """
    glow = (blackbody_mj_m2(tmin_c) + blackbody_mj_m2(tmax_c)) / 2.0
    moisture = 0.34 - 0.14 * np.sqrt(vapour_kpa)
    brightness = np.minimum(np.asarray(solar_mj_m2) / clear_sky_mj_m2, 1.0)
    return np.asarray(glow * moisture * (1.35 * brightness - 0.35))


def monthly_soil_heat_flux_mj_m2(before_c: Values, after_c: Values) -> NDArray[np.float64]:
    """Give the soil heat flux of a month from the means of the months beside it, equation 43."""
    return np.asarray(0.07 * (np.asarray(after_c, dtype=np.float64) - before_c))


def monthly_soil_heat_flux_so_far_mj_m2(before_c: Values, mean_c: Values) -> NDArray[np.float64]:
    """Give the soil heat flux of a month whose next month is not known, equation 44."""
    return np.asarray(0.14 * (np.asarray(mean_c, dtype=np.float64) - before_c))


def wind_at_two_metres_m_s(wind_m_s: Values, height_above_ground_m: float) -> NDArray[np.float64]:
    """Bring a wind speed down to 2 m above short grass, equation 47."""
    factor = 4.87 / np.log(67.8 * height_above_ground_m - 5.42)
    return np.asarray(np.asarray(wind_m_s, dtype=np.float64) * factor)


def reference_evapotranspiration_mm(
    tmin_c: Values,
    tmax_c: Values,
    vapour_kpa: Values,
    net_energy_mj_m2: Values,
    wind_m_s: Values,
    height_m: float,
) -> NDArray[np.float64]:
    """Give the reference evapotranspiration of short grass by Penman-Monteith, equation 6.

    Parameters
    ----------
    tmin_c, tmax_c
        The day's extremes of air temperature [°C].
    vapour_kpa
        Actual vapour pressure [kPa].
    net_energy_mj_m2
        Net radiation less the heat that goes into the soil [MJ/m² a day].
    wind_m_s
        Mean wind at 2 m [m/s]; FAO-56 takes 2 where it is not known.
    height_m
        Height above the sea [m].

    Returns
    -------
    Reference evapotranspiration [mm a day].
    """
    mean_c = (np.asarray(tmin_c, dtype=np.float64) + tmax_c) / 2.0
    slope = saturation_slope_kpa_c(mean_c)
    gamma = psychrometric_constant_kpa_c(height_m)
    wind = np.asarray(wind_m_s, dtype=np.float64)
    deficit = mean_saturation_vapour_pressure_kpa(tmin_c, tmax_c) - vapour_kpa
    from_energy = MM_A_MJ * slope * net_energy_mj_m2
    from_air = gamma * 900.0 / (mean_c + 273.0) * wind * deficit
    return np.asarray((from_energy + from_air) / (slope + gamma * (1.0 + 0.34 * wind)))
