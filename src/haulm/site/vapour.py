"""Water vapour in the air, by FAO-56.

Source: Allen, Pereira, Raes, Smith, *Crop evapotranspiration*, FAO Irrigation and Drainage
Paper 56, Rome 1998, chapter 3. All functions work on arrays of any shape, element by element.
"""

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float


def saturation_vapour_pressure_kpa(temperature_c: Values) -> NDArray[np.float64]:
    """Give the saturation vapour pressure [kPa] at an air temperature [°C], equation 11."""
    warmth = np.asarray(temperature_c, dtype=np.float64)
    return np.asarray(0.6108 * np.exp(17.27 * warmth / (warmth + 237.3)))


def mean_saturation_vapour_pressure_kpa(tmin_c: Values, tmax_c: Values) -> NDArray[np.float64]:
    """Give the mean saturation vapour pressure of a day [kPa], equation 12.

    The mean of the pressures at the day's extremes, not the pressure at their mean, which is
    lower.
    """
    warm = saturation_vapour_pressure_kpa(tmax_c)
    return np.asarray((warm + saturation_vapour_pressure_kpa(tmin_c)) / 2.0)


def saturation_slope_kpa_c(temperature_c: Values) -> NDArray[np.float64]:
    """Give the slope of the saturation curve [kPa/°C] at a temperature [°C], equation 13."""
    warmth = np.asarray(temperature_c, dtype=np.float64)
    return np.asarray(4098.0 * saturation_vapour_pressure_kpa(warmth) / (warmth + 237.3) ** 2)


def vapour_pressure_from_extreme_humidities_kpa(
    tmin_c: Values, tmax_c: Values, humidity_min: Values, humidity_max: Values
) -> NDArray[np.float64]:
    """Give the actual vapour pressure [kPa] from a day's least and greatest humidity, equation 17.

    Temperatures in °C; relative humidities as shares [1]. The greatest humidity belongs to the
    coldest hour.
    """
    at_night = saturation_vapour_pressure_kpa(tmin_c) * humidity_max
    return np.asarray((at_night + saturation_vapour_pressure_kpa(tmax_c) * humidity_min) / 2.0)


def vapour_pressure_from_mean_humidity_kpa(
    tmin_c: Values, tmax_c: Values, humidity_mean: Values
) -> NDArray[np.float64]:
    """Give the actual vapour pressure [kPa] from a day's mean humidity as a share, equation 19."""
    return np.asarray(humidity_mean * mean_saturation_vapour_pressure_kpa(tmin_c, tmax_c))


def vapour_pressure_from_minimum_kpa(tmin_c: Values) -> NDArray[np.float64]:
    """Give the actual vapour pressure [kPa] where only the minimum is known, equation 48.

    The air is taken to be saturated at the day's minimum: fair where the ground is watered, too
    moist in dry country, where FAO-56 takes 2 to 3 °C off the minimum first.
    """
    return saturation_vapour_pressure_kpa(tmin_c)


def vapour_pressure_from_wet_bulb_kpa(
    dry_c: Values, wet_c: Values, coefficient: float, height_m: float
) -> NDArray[np.float64]:
    """Give the actual vapour pressure [kPa] from a dry and a wet bulb [°C], equations 15 and 16.

    The coefficient belongs to the instrument: 0.000662 ventilated, 0.000800 naturally ventilated,
    0.001200 indoors [1/°C].
    """
    depression = np.asarray(dry_c, dtype=np.float64) - wet_c
    loss = coefficient * atmospheric_pressure_kpa(height_m) * depression
    return np.asarray(saturation_vapour_pressure_kpa(wet_c) - loss)


def atmospheric_pressure_kpa(height_m: float) -> float:
    """Give the air's mean pressure [kPa] at a height above the sea [m], equation 7."""
    return float(101.3 * ((293.0 - 0.0065 * height_m) / 293.0) ** 5.26)


def psychrometric_constant_kpa_c(height_m: float) -> float:
    """Give the psychrometric constant [kPa/°C] at a height above the sea [m], equation 8."""
    return 0.665e-3 * atmospheric_pressure_kpa(height_m)
