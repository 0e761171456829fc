"""Reference evapotranspiration, against the worked examples of FAO-56."""

import numpy as np

from haulm.site import radiation, vapour
from truth.checks.sources import FAO_56
from truth.checks.sun import BANGKOK, UCCLE, clear, kept, solar
from truth.published import Check, Section, Table


def soil_heat_so_far() -> float:
    """Give Bangkok's soil heat flux in April [MJ/m² a day]."""
    return float(radiation.monthly_soil_heat_flux_so_far_mj_m2(29.2, 30.2))


def bangkok_lost() -> float:
    """Give Bangkok's longwave loss [MJ/m² a day]."""
    sun, cloudless = solar(8.5, BANGKOK), clear(BANGKOK, 2.0)
    return float(radiation.net_longwave_mj_m2(25.6, 34.8, 2.85, sun, cloudless))


def bangkok_net() -> float:
    """Give Bangkok's net radiation [MJ/m² a day]."""
    return kept(solar(8.5, BANGKOK)) - bangkok_lost()


def uccle_vapour() -> float:
    """Give Uccle's vapour pressure [kPa]."""
    return float(vapour.vapour_pressure_from_extreme_humidities_kpa(12.3, 21.5, 0.63, 0.84))


def uccle_wind() -> float:
    """Give Uccle's wind at 2 m [m/s]."""
    return float(radiation.wind_at_two_metres_m_s(10 / 3.6, 10.0))


def uccle_lost() -> float:
    """Give Uccle's longwave loss [MJ/m² a day]."""
    sun, cloudless = solar(9.25, UCCLE), clear(UCCLE, 100.0)
    return float(radiation.net_longwave_mj_m2(12.3, 21.5, uccle_vapour(), sun, cloudless))


def bangkok_water() -> float:
    """Give Bangkok's reference evapotranspiration in April [mm a day]."""
    energy = np.array([bangkok_net() - soil_heat_so_far()])
    return float(radiation.reference_evapotranspiration_mm(25.6, 34.8, 2.85, energy, 2.0, 2.0)[0])


def uccle_water() -> float:
    """Give Uccle's reference evapotranspiration on 6 July [mm]."""
    energy = np.array([kept(solar(9.25, UCCLE)) - uccle_lost()])
    return float(
        radiation.reference_evapotranspiration_mm(
            12.3, 21.5, uccle_vapour(), energy, uccle_wind(), 100.0
        )[0]
    )


SECTION = Section(
    "Reference evapotranspiration",
    (
        Table(
            claim="Reference grass loses what the examples work out.",
            source=f"{FAO_56}, examples 17 and 18",
            unit="mm a day",
            tolerance=0.05,
            why="a rounded chain: example 17 prints two psychrometric constants",
            checks=(
                Check("Bangkok in April", 5.72, bangkok_water),
                Check("Uccle on 6 July", 3.88, uccle_water),
            ),
        ),
        Table(
            claim="On the way there stand the energies of the examples.",
            source=f"{FAO_56}, examples 17 and 18",
            unit="MJ/m² a day",
            tolerance=0.03,
            why="printed to two decimals, from figures rounded at every step",
            checks=(
                Check("Bangkok, lost as longwave", 3.11, bangkok_lost),
                Check("Bangkok, net", 14.33, bangkok_net),
                Check("Bangkok, into the soil", 0.14, soil_heat_so_far),
                Check("Uccle, lost as longwave", 3.71, uccle_lost),
                Check("Uccle, net", 13.28, lambda: kept(solar(9.25, UCCLE)) - uccle_lost()),
            ),
        ),
        Table(
            claim="On the way there stand the vapour pressures of the examples.",
            source=f"{FAO_56}, examples 17 and 18",
            unit="kPa or kPa/°C",
            tolerance=0.002,
            why="printed to three decimals, from rounded figures; the 4.42 and 1.57 to two",
            checks=(
                Check(
                    "Bangkok, slope at 30.2 °C",
                    0.246,
                    lambda: float(vapour.saturation_slope_kpa_c(30.2)),
                ),
                Check(
                    "Bangkok, psychrometric constant",
                    0.0674,
                    lambda: vapour.psychrometric_constant_kpa_c(2.0),
                ),
                Check("Uccle, vapour", 1.409, uccle_vapour),
                Check(
                    "Uccle, mean saturation",
                    1.997,
                    lambda: float(vapour.mean_saturation_vapour_pressure_kpa(12.3, 21.5)),
                ),
                Check(
                    "Uccle, slope at 16.9 °C",
                    0.122,
                    lambda: float(vapour.saturation_slope_kpa_c(16.9)),
                ),
                Check(
                    "Uccle, psychrometric constant",
                    0.0666,
                    lambda: vapour.psychrometric_constant_kpa_c(100.0),
                ),
                Check(
                    "Uccle, what the air lacks",
                    0.589,
                    lambda: (
                        float(vapour.mean_saturation_vapour_pressure_kpa(12.3, 21.5))
                        - uccle_vapour()
                    ),
                ),
            ),
        ),
        Table(
            claim="Bangkok's air can hold, and lacks, what the example works out.",
            source=f"{FAO_56}, example 17",
            unit="kPa",
            tolerance=0.005,
            why="printed to two decimals",
            checks=(
                Check(
                    "mean saturation",
                    4.42,
                    lambda: float(vapour.mean_saturation_vapour_pressure_kpa(25.6, 34.8)),
                ),
                Check(
                    "what the air lacks",
                    1.57,
                    lambda: float(vapour.mean_saturation_vapour_pressure_kpa(25.6, 34.8)) - 2.85,
                ),
            ),
        ),
        Table(
            claim="Uccle's air weighs what the example works out.",
            source=f"{FAO_56}, example 18",
            unit="kPa",
            tolerance=0.05,
            why="printed to one decimal",
            checks=(Check("at 100 m", 100.1, lambda: vapour.atmospheric_pressure_kpa(100.0)),),
        ),
        Table(
            claim="Wind read at 10 m is brought down to 2 m as in the examples.",
            source=f"{FAO_56}, examples 14 and 18",
            unit="m/s",
            tolerance=0.05,
            why="example 14 prints one decimal",
            checks=(
                Check(
                    "3.2 m/s at 10 m",
                    2.4,
                    lambda: float(radiation.wind_at_two_metres_m_s(3.2, 10.0)),
                ),
                Check("10 km/h at 10 m", 2.078, uccle_wind),
            ),
        ),
        Table(
            claim="A month's soil heat is what the example works out.",
            source=f"{FAO_56}, example 13",
            unit="MJ/m² a day",
            tolerance=0.005,
            why="printed to two decimals",
            checks=(
                Check(
                    "Algiers in April",
                    0.33,
                    lambda: float(radiation.monthly_soil_heat_flux_mj_m2(14.1, 18.8)),
                ),
            ),
        ),
    ),
)
