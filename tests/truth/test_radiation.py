"""Radiation and reference evapotranspiration, against FAO-56 (Rome 1998) and the refet library.

The print rounds at each step, so the answers are held to 0.05 mm a day and the steps to the last
figure printed or two.
"""

import numpy as np
import pytest
import refet

from haulm.site.day_length import day_length_h, extraterrestrial_radiation_mj_m2
from haulm.site.radiation import (
    MM_A_MJ,
    blackbody_mj_m2,
    clear_sky_radiation_mj_m2,
    monthly_soil_heat_flux_mj_m2,
    monthly_soil_heat_flux_so_far_mj_m2,
    net_longwave_mj_m2,
    net_shortwave_mj_m2,
    reference_evapotranspiration_mm,
    solar_radiation_from_temperature_mj_m2,
    solar_radiation_mj_m2,
    wind_at_two_metres_m_s,
)
from haulm.site.vapour import vapour_pressure_from_extreme_humidities_kpa


def test_sun_and_net_radiation_at_rio_in_may() -> None:
    """7.1 hours of sun a day in Rio in May give 14.5 MJ/m² of sun, 18.8 on a clear day, 11.1
    kept, 3.5 lost as longwave and 7.6 net (FAO-56, examples 10 to 12).
    """
    top, hours = 25.1, 10.9
    solar = solar_radiation_mj_m2(7.1, hours, top)
    clear = clear_sky_radiation_mj_m2(top, 0.0)
    lost = net_longwave_mj_m2(19.1, 25.1, 2.1, solar, clear)
    assert solar == pytest.approx(14.5, abs=0.06)
    assert clear == pytest.approx(18.8, abs=0.05)
    assert net_shortwave_mj_m2(solar) == pytest.approx(11.1, abs=0.06)
    assert lost == pytest.approx(3.5, abs=0.05)
    assert net_shortwave_mj_m2(solar) - lost == pytest.approx(7.6, abs=0.06)


def test_soil_heat_of_a_month() -> None:
    """Algiers in April, between months of 14.1 and 18.8 °C, puts 0.33 MJ/m² a day into the soil
    (FAO-56, example 13).
    """
    assert monthly_soil_heat_flux_mj_m2(14.1, 18.8) == pytest.approx(0.33, abs=0.005)


def test_wind_brought_down_to_two_metres() -> None:
    """3.2 m/s at 10 m are 2.4 m/s at 2 m (FAO-56, example 14)."""
    assert wind_at_two_metres_m_s(3.2, 10.0) == pytest.approx(2.4, abs=0.05)


@pytest.mark.parametrize(
    ("temperature_c", "printed"),
    [(5, 29.35), (10, 31.52), (15, 33.81), (20, 36.21), (25, 38.75), (30, 41.41)],
)
def test_blackbody_radiation(temperature_c: float, printed: float) -> None:
    """A black body glows as FAO-56 prints (table 2.8)."""
    assert blackbody_mj_m2(temperature_c) == pytest.approx(printed, abs=0.01)


def test_a_megajoule_in_evaporation() -> None:
    """One MJ/m² evaporates 0.408 mm (FAO-56, table 3)."""
    assert MM_A_MJ == 0.408


def test_reference_evapotranspiration_at_bangkok_in_april() -> None:
    """Bangkok loses 5.72 mm a day in April (FAO-56, example 17)."""
    latitude, day = 13 + 44 / 60, np.array([105])
    top = extraterrestrial_radiation_mj_m2(latitude, day)
    solar = solar_radiation_mj_m2(8.5, day_length_h(latitude, day), top)
    clear = clear_sky_radiation_mj_m2(top, 2.0)
    lost = net_longwave_mj_m2(25.6, 34.8, 2.85, solar, clear)
    into_soil = monthly_soil_heat_flux_so_far_mj_m2(29.2, 30.2)
    net = net_shortwave_mj_m2(solar) - lost
    assert solar[0] == pytest.approx(22.65, abs=0.02)
    assert clear[0] == pytest.approx(28.54, abs=0.02)
    assert lost[0] == pytest.approx(3.11, abs=0.02)
    assert net[0] == pytest.approx(14.33, abs=0.02)
    assert into_soil == pytest.approx(0.14, abs=0.001)
    water = reference_evapotranspiration_mm(25.6, 34.8, 2.85, net - into_soil, 2.0, 2.0)
    assert water[0] == pytest.approx(5.72, abs=0.05)


def test_reference_evapotranspiration_at_uccle_in_july() -> None:
    """Uccle loses 3.88 mm on 6 July (FAO-56, example 18)."""
    latitude, day = 50.8, np.array([187])
    top = extraterrestrial_radiation_mj_m2(latitude, day)
    solar = solar_radiation_mj_m2(9.25, day_length_h(latitude, day), top)
    vapour = vapour_pressure_from_extreme_humidities_kpa(12.3, 21.5, 0.63, 0.84)
    wind = wind_at_two_metres_m_s(10 / 3.6, 10.0)
    clear = clear_sky_radiation_mj_m2(top, 100.0)
    net = net_shortwave_mj_m2(solar) - net_longwave_mj_m2(12.3, 21.5, vapour, solar, clear)
    assert vapour == pytest.approx(1.409, abs=0.002)
    assert wind == pytest.approx(2.078, abs=0.002)
    assert net[0] == pytest.approx(13.28, abs=0.03)
    water = reference_evapotranspiration_mm(12.3, 21.5, vapour, net, wind, 100.0)
    assert water[0] == pytest.approx(3.88, abs=0.05)


def test_reference_evapotranspiration_against_a_library() -> None:
    """On 200 invented days at any latitude to 60° the loss agrees with the refet library within
    2 % and 0.05 mm; its constants carry more figures than the print.
    """
    rng = np.random.default_rng(17)
    for _ in range(200):
        latitude, height = rng.uniform(-60.0, 60.0), rng.uniform(0.0, 2000.0)
        day, tmin = rng.integers(1, 366), rng.uniform(-2.0, 24.0)
        tmax, wind = tmin + rng.uniform(3.0, 18.0), rng.uniform(0.5, 6.0)
        vapour = 0.6108 * np.exp(17.27 * tmin / (tmin + 237.3)) * rng.uniform(0.6, 1.0)
        top = extraterrestrial_radiation_mj_m2(float(latitude), np.array([day]))
        if top[0] < 8.0:
            continue
        solar = top * rng.uniform(0.35, 0.75)
        clear = clear_sky_radiation_mj_m2(top, height)
        net = net_shortwave_mj_m2(solar) - net_longwave_mj_m2(tmin, tmax, vapour, solar, clear)
        ours = reference_evapotranspiration_mm(tmin, tmax, vapour, net, wind, height)
        theirs = refet.Daily(
            tmin=tmin, tmax=tmax, ea=vapour, rs=solar, uz=wind, zw=2.0, elev=height,
            lat=latitude, doy=day, method="asce", rso_type="simple",
        ).eto()  # fmt: skip
        assert ours[0] == pytest.approx(float(np.ravel(theirs)[0]), rel=0.02, abs=0.05)


def test_sun_from_the_range_of_temperature() -> None:
    """A day from 14.8 to 26.6 °C under 40.6 MJ/m² gets 0.16·√11.8·40.6 of sun inland and more on
    a coast (FAO-56, equation 50; inputs of its example 15, from memory).
    """
    inland = solar_radiation_from_temperature_mj_m2(14.8, 26.6, 40.6)
    assert inland == pytest.approx(22.3, abs=0.05)
    assert solar_radiation_from_temperature_mj_m2(14.8, 26.6, 40.6, coastal=True) > inland
