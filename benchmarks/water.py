"""Time 30 years of daily water balance for 40 beds, and ET₀ against the reference library's.

Every bed holds three patches and its bare ground, each watered when it is due. The library is given
the humidity, sun and wind that ours has to estimate. Processor seconds, the best of three.
Run with ``python -m benchmarks.water`` from the root.
"""

from collections.abc import Callable
from time import process_time

import numpy as np
import refet

from haulm.catalogue.loader import load_catalogue
from haulm.water.balance_tables import balance_tables
from haulm.water.crops import crop_water
from haulm.water.ground_balance import ground_balance
from haulm.water.records import Climate, Patch, WaterBed, Watering
from haulm.water.reference import Air, reference_use
from haulm.water.soils import soil_middle

YEARS, DAYS, BEDS, LATITUDE, HEIGHT = 30, 365, 40, 47.0, 400.0
KINDS = ("onion/sets", "cabbage/summer", "tomato/bush")


def invented_air() -> Air:
    """Draw 30 years of temperatures."""
    dice = np.random.default_rng(1)
    season = 10 - 10 * np.cos(2 * np.pi * np.arange(DAYS) / DAYS)
    low = season - 4 + dice.normal(0, 3, (YEARS, DAYS))
    high = low + dice.uniform(3, 14, (YEARS, DAYS))
    return Air(LATITUDE, HEIGHT, np.arange(1, DAYS + 1), low, high)


def beds() -> list[WaterBed]:
    """Lay out 40 beds of 8 m², one crop after another and beside one another."""
    catalogue = load_catalogue()
    season = np.arange(1, 121) / 120
    patches = tuple(
        Patch(
            kind, 2.5, 60 + 60 * at, 180 + 60 * at, season, crop_water(catalogue.kinds[kind].water)
        )
        for at, kind in enumerate(KINDS)
    )
    return [WaterBed(f"bed {n}", 8.0, soil_middle("loam"), patches) for n in range(BEDS)]


def best_of_three(work: Callable[[], object]) -> float:
    """Give the least processor time of three goes [s]."""
    times = []
    for _ in range(3):
        started = process_time()
        work()
        times.append(process_time() - started)
    return min(times)


def theirs(air: Air) -> object:
    """Reckon the same ET₀ series by the reference library."""
    vapour = 0.6108 * np.exp(17.27 * air.tmin_c / (air.tmin_c + 237.3))
    return refet.Daily(
        tmin=air.tmin_c, tmax=air.tmax_c, ea=vapour, rs=np.full_like(air.tmin_c, 15.0),
        uz=np.full_like(air.tmin_c, 2.0), zw=2.0, elev=HEIGHT, lat=LATITUDE, doy=air.day_of_year,
        method="asce", rso_type="simple",
    ).eto()  # fmt: skip


def main() -> None:
    """Reckon, time and print."""
    air = invented_air()
    use = reference_use(air)
    rain = np.random.default_rng(2).gamma(0.3, 8.0, (YEARS, DAYS))
    climate = Climate(rain, use.use_mm, use.least_humidity_pct.mean(axis=0), use.wind_m_s)
    ground = beds()

    def balance() -> object:
        """Reckon the 40 beds."""
        return ground_balance(balance_tables(ground, climate), climate, Watering(when_due=True))

    ours_s, theirs_s = (
        best_of_three(work) for work in (lambda: reference_use(air), lambda: theirs(air))
    )
    balance_s = best_of_three(balance)
    print(f"ET0 of {YEARS} years, ours with its estimates  {ours_s:7.4f} s")
    print(f"ET0 of {YEARS} years, reference library        {theirs_s:7.4f} s")
    print(f"ours against the library: {ours_s / theirs_s:.2f}")
    whole_s = balance_s + ours_s
    print(f"balance of {BEDS} beds, {YEARS} years, with ET0: {whole_s:.2f} s (aim: under 2 s)")


if __name__ == "__main__":
    main()
