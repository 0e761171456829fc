"""Reference evapotranspiration for runs of weather, with what was not measured estimated.

Source: Allen, Pereira, Raes, Smith, *Crop evapotranspiration*, FAO Irrigation and Drainage
Paper 56, Rome 1998, chapters 3 and 4.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.site.day_length import extraterrestrial_radiation_mj_m2
from haulm.site.radiation import (
    MM_A_MJ,
    clear_sky_radiation_mj_m2,
    net_longwave_mj_m2,
    net_shortwave_mj_m2,
    reference_evapotranspiration_mm,
    solar_radiation_from_temperature_mj_m2,
)
from haulm.site.vapour import saturation_vapour_pressure_kpa, vapour_pressure_from_minimum_kpa
from haulm.water.figures import water_figures
from haulm.water.records import Array
from haulm.water.stages import HUMIDITY_RANGE_PCT

_NO_SUN_MJ_M2 = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class Air:
    """What is known of the air on each day at a place.

    Attributes
    ----------
    latitude_deg, height_m
        Where: north positive [°]; above the sea [m], None where nobody gave it.
    day_of_year
        Days of the year, 1 to 366, shape (days,).
    tmin_c, tmax_c
        Lowest and highest temperatures, shape (days,) or (runs, days) [°C].
    vapour_kpa, solar_mj_m2, wind_m_s
        Vapour pressure [kPa], solar radiation [MJ/m² a day] and wind at 2 m [m/s] where measured,
        shaped as the temperatures; NaN on days without, None throughout.
    soil_heat_mj_m2
        Heat that goes into the soil [MJ/m² a day]; 0 for single days (equation 42).
    coastal
        Whether large water lies near, for the sun estimated from temperature.
    dry_air_c
        Taken off the lowest temperature before humidity is estimated from it: 0 where the ground
        is watered or it rains, 2 to 3 in dry country [°C].
    """

    latitude_deg: float
    height_m: float | None
    day_of_year: NDArray[np.int64]
    tmin_c: Array
    tmax_c: Array
    vapour_kpa: Array | None = None
    solar_mj_m2: Array | None = None
    wind_m_s: Array | None = None
    soil_heat_mj_m2: float = 0.0
    coastal: bool = False
    dry_air_c: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class ReferenceUse:
    """What short grass that wants for nothing gives to the air.

    Attributes
    ----------
    use_mm
        Reference evapotranspiration, shaped as the temperatures [mm a day].
    least_humidity_pct
        The day's least relative humidity, same shape, held to the 20 to 80 that crop coefficients
        may be adjusted with [%].
    wind_m_s
        Mean wind at 2 m over all days [m/s].
    assumed
        What was not measured and how it was estimated, in words.
    """

    use_mm: Array
    least_humidity_pct: Array
    wind_m_s: float
    assumed: tuple[str, ...]


def reference_use(air: Air) -> ReferenceUse:
    """Give the reference evapotranspiration of each day by Penman-Monteith.

    What was not measured is estimated as the paper says: humidity from the lowest temperature,
    the sun from the day's range of temperature, wind as 2 m/s, an unknown height as sea level.
    Never under 0: dew is not counted.

    Raises
    ------
    FaultsFoundError
        When shapes differ, a temperature is missing, or a highest lies under its lowest.

    Notes
    -----
    FAO-56, equations 6, 37 to 40, 48 and 50. By day, valid from the tropics to the polar circles.
    """
    _refuse_wrong(air)
    height_m = air.height_m or 0.0
    top = extraterrestrial_radiation_mj_m2(air.latitude_deg, air.day_of_year)
    clear = np.maximum(clear_sky_radiation_mj_m2(top, height_m), _NO_SUN_MJ_M2)
    assumed: list[str] = []
    vapour = _measured_or(
        air.vapour_kpa,
        vapour_pressure_from_minimum_kpa(air.tmin_c - air.dry_air_c),
        _humidity_words(air.dry_air_c),
        assumed,
    )
    estimated = solar_radiation_from_temperature_mj_m2(
        air.tmin_c, air.tmax_c, top, coastal=air.coastal
    )
    solar = _measured_or(
        air.solar_mj_m2,
        np.minimum(estimated, clear),
        "sunshine from the day's range of temperature",
        assumed,
    )
    usual = water_figures().wind_m_s.value
    wind = _measured_or(
        air.wind_m_s, np.full_like(air.tmin_c, usual), f"wind as {usual:g} m/s", assumed
    )
    if air.height_m is None:
        assumed.append("height as sea level")
    # The longwave takes the share of clear-sky sun, which has no meaning in the polar night.
    lost = net_longwave_mj_m2(air.tmin_c, air.tmax_c, vapour, np.minimum(solar, clear), clear)
    energy = net_shortwave_mj_m2(solar) - lost - air.soil_heat_mj_m2
    use = reference_evapotranspiration_mm(air.tmin_c, air.tmax_c, vapour, energy, wind, height_m)
    least = 100.0 * vapour / saturation_vapour_pressure_kpa(air.tmax_c)
    return ReferenceUse(
        np.maximum(use, 0.0),
        np.clip(least, *HUMIDITY_RANGE_PCT),
        float(np.mean(wind)),
        tuple(assumed),
    )


def hargreaves_use_mm(
    tmin_c: Array, tmax_c: Array, latitude_deg: float, day_of_year: NDArray[np.int64]
) -> Array:
    """Give the reference evapotranspiration from temperature alone, for comparison [mm a day].

    Shapes as in `Air`. Known to run high in moist and low in windy places.
    Source: FAO-56, equation 52.
    """
    top_mm = MM_A_MJ * extraterrestrial_radiation_mj_m2(latitude_deg, day_of_year)
    mean = (tmin_c + tmax_c) / 2.0
    span = np.maximum(tmax_c - tmin_c, 0.0)
    return np.asarray(np.maximum(0.0023 * (mean + 17.8) * np.sqrt(span) * top_mm, 0.0))


def _humidity_words(dry_air_c: float) -> str:
    """Say how humidity was estimated."""
    if not dry_air_c:
        return "humidity from the day's lowest temperature"
    return f"humidity from {dry_air_c:g} °C under the day's lowest temperature"


def _measured_or(given: Array | None, estimate: Array, words: str, assumed: list[str]) -> Array:
    """Take what was measured, the estimate on days without, and say so."""
    if given is None:
        assumed.append(words)
        return estimate
    missing = np.isnan(given)
    if missing.any():
        assumed.append(f"{words} on {int(missing.sum())} of {given.size} days")
    return np.where(missing, estimate, given)


def _refuse_wrong(air: Air) -> None:
    """Refuse what cannot be reckoned with, all at once."""
    findings = []
    days = air.day_of_year.shape[-1]
    optional = {"humidity": air.vapour_kpa, "sunshine": air.solar_mj_m2, "wind": air.wind_m_s}
    shape = air.tmin_c.shape
    if air.tmax_c.shape != shape or not shape or shape[-1] != days:
        findings.append(("temperatures", "lowest, highest and days are of different lengths."))
    elif not (np.isfinite(air.tmin_c) & np.isfinite(air.tmax_c)).all():
        findings.append(("temperatures", "a day has none."))
    elif (air.tmax_c < air.tmin_c).any():
        findings.append(("temperatures", "a day's highest lies under its lowest."))
    findings += [
        (name, "it has another length than the temperatures.")
        for name, values in optional.items()
        if values is not None and values.shape != shape
    ]
    if findings:
        raise FaultsFoundError([Finding(where, what, "Mend it.") for where, what in findings])
