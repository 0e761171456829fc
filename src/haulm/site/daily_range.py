"""The daily range of temperature told from what a world grid of monthly means holds."""

import numpy as np

from haulm.site.calendar import MONTH_LENGTHS
from haulm.site.day_length import extraterrestrial_radiation_mj_m2
from haulm.site.weather_model import Months

# Least squares over the four records under tests/truth/data/weather, rounded: degrees for the
# logarithm of the sun's radiation, for each degree of the year's swing, for that of rain.
RANGE_C = 3.6
RANGE_BY_SUN = 2.9
RANGE_BY_SWING = 0.20
RANGE_BY_RAIN = -1.55
RAIN_BASE_MM = 10.0
# Beyond what those records show, the nearest they show is taken.
SUN_MJ_M2 = (7.0, 43.0)
SWING_C = (8.0, 24.0)
LEAST_RANGE_C, GREATEST_RANGE_C = 4.0, 16.0

_MIDDLES = np.cumsum(MONTH_LENGTHS) - np.array(MONTH_LENGTHS) // 2


def range_causes(mean_c: Months, rain_mm: Months, latitude_deg: float) -> Months:
    """Give what the daily range is told from, month by month, shape (12, 4).

    One, the logarithm of mid-month radiation above the air [MJ/m² d], the year's swing between its
    coldest and warmest month [°C], and the logarithm of the month's rain with 10 mm added.
    """
    sun = np.clip(extraterrestrial_radiation_mj_m2(latitude_deg, _MIDDLES), *SUN_MJ_M2)
    swing_c = np.clip(np.ptp(mean_c), *SWING_C)
    ones = np.ones_like(mean_c)
    return np.stack([ones, np.log(sun), ones * swing_c, np.log(rain_mm + RAIN_BASE_MM)], axis=1)


def daily_range_c(mean_c: Months, rain_mm: Months, latitude_deg: float) -> Months:
    """Estimate how far the mean daily maximum lies above the mean daily minimum, shape (12,) [°C].

    Days swing more under a high sun, far from the sea (where the year swings too) and in dry air.

    Parameters
    ----------
    mean_c, rain_mm
        Monthly mean temperature [°C] and rain [mm], January first, shape (12,).
    latitude_deg
        Where [°], south negative.

    Notes
    -----
    Judged: the form is our own, its figures are least squares over four records (39° N, 50° N,
    47° N, 38° S). With one of them left out, its months come within 1.2 °C on average and 2.5 °C
    at the worst. Held between 4 and 16 °C. Not tried in deserts and high mountains; three months
    printed for Bangkok, Lyon and Rio de Janeiro come within 1.8 °C at either end of the day.
    """
    weights = np.array([RANGE_C, RANGE_BY_SUN, RANGE_BY_SWING, RANGE_BY_RAIN])
    told = range_causes(mean_c, rain_mm, latitude_deg) @ weights
    return np.asarray(np.clip(told, LEAST_RANGE_C, GREATEST_RANGE_C))
