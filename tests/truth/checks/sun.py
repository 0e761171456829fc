"""The sun's path and radiation, against the worked examples and tables of FAO-56."""

from functools import partial

import numpy as np

from haulm.site import day_length, radiation
from truth.checks.sources import FAO_56
from truth.published import Basis, Check, Section, Table

RIO, BANGKOK, UCCLE = (-22.9, 135), (13 + 44 / 60, 105), (50.8, 187)


def hours(latitude_deg: float, day: int) -> float:
    """Give a day's length [h]."""
    return float(day_length.day_length_h(latitude_deg, np.array([day]))[0])


def top(latitude_deg: float, day: int) -> float:
    """Give the radiation at the top of the air [MJ/m² a day]."""
    return float(day_length.extraterrestrial_radiation_mj_m2(latitude_deg, np.array([day]))[0])


def solar(sun_h: float, place: tuple[float, int]) -> float:
    """Give the sun that reaches the ground [MJ/m² a day]."""
    return float(radiation.solar_radiation_mj_m2(sun_h, hours(*place), top(*place)))


def clear(place: tuple[float, int], height_m: float) -> float:
    """Give what a clear day would bring [MJ/m² a day]."""
    return float(radiation.clear_sky_radiation_mj_m2(top(*place), height_m))


def rio_solar() -> float:
    """Give the sun of Rio in May from the figures printed for it [MJ/m² a day]."""
    return float(radiation.solar_radiation_mj_m2(7.1, 10.9, 25.1))


def rio_lost() -> float:
    """Give the longwave loss of Rio in May [MJ/m² a day]."""
    return float(
        radiation.net_longwave_mj_m2(
            19.1, 25.1, 2.1, rio_solar(), radiation.clear_sky_radiation_mj_m2(25.1, 0.0)
        )
    )


def kept(amount: float) -> float:
    """Give what a field keeps of the sun [MJ/m² a day]."""
    return float(radiation.net_shortwave_mj_m2(amount))


def blackbody(temperature_c: float) -> float:
    """Give what a black body sheds [MJ/m² a day]."""
    return float(radiation.blackbody_mj_m2(temperature_c))


SEPTEMBER_3 = np.array([246])

SECTION = Section(
    "The sun and its radiation",
    (
        Table(
            claim="The sun's path at 20° S on 3 September is that of the example.",
            source=f"{FAO_56}, example 8",
            unit="1 or rad",
            tolerance=0.0005,
            why="printed to three decimals",
            checks=(
                Check(
                    "inverse relative distance",
                    0.985,
                    lambda: float(day_length.inverse_relative_distance(SEPTEMBER_3)[0]),
                ),
                Check(
                    "declination",
                    0.120,
                    lambda: float(day_length.solar_declination_rad(SEPTEMBER_3)[0]),
                ),
                Check(
                    "sunset hour angle",
                    1.527,
                    lambda: float(day_length.sunset_hour_angle_rad(-20.0, SEPTEMBER_3)[0]),
                ),
            ),
        ),
        Table(
            claim="Radiation at the top of the air is what the examples work out.",
            source=f"{FAO_56}, examples 8, 10, 17 and 18",
            unit="MJ/m² a day",
            tolerance=0.05,
            why="half the last figure printed, for the coarsest of them",
            checks=(
                Check("20° S, 3 September", 32.2, partial(top, -20.0, 246)),
                Check("Rio de Janeiro, 15 May", 25.1, partial(top, *RIO)),
                Check("Bangkok, 15 April", 38.06, partial(top, *BANGKOK)),
                Check("Uccle, 6 July", 41.09, partial(top, *UCCLE)),
            ),
        ),
        Table(
            claim="Day length is what the examples work out.",
            source=f"{FAO_56}, examples 9, 10, 17 and 18",
            unit="h",
            tolerance=0.06,
            why="printed to one decimal; example 18 prints 16.3 once, a slip for its 16.1",
            checks=(
                Check("20° S, 3 September", 11.7, partial(hours, -20.0, 246)),
                Check("Rio de Janeiro, 15 May", 10.9, partial(hours, *RIO)),
                Check("Bangkok, 15 April", 12.31, partial(hours, *BANGKOK)),
                Check("Uccle, 6 July", 16.1, partial(hours, *UCCLE)),
            ),
        ),
        Table(
            claim="A black body sheds what the table prints.",
            source=f"{FAO_56}, table 2.8",
            unit="MJ/m² a day",
            tolerance=0.01,
            why="printed to two decimals",
            checks=tuple(
                Check(f"σT⁴ at {at} °C", printed, partial(blackbody, at))
                for at, printed in (
                    (5, 29.35),
                    (10, 31.52),
                    (15, 33.81),
                    (20, 36.21),
                    (25, 38.75),
                    (30, 41.41),
                )
            ),
        ),
        Table(
            claim="Rio in May gains and loses what the examples work out.",
            source=f"{FAO_56}, examples 10 to 12",
            unit="MJ/m² a day",
            tolerance=0.06,
            why="printed to one decimal, from figures rounded at every step",
            checks=(
                Check("sun from 7.1 of 10.9 hours", 14.5, rio_solar),
                Check(
                    "clear sky",
                    18.8,
                    lambda: float(radiation.clear_sky_radiation_mj_m2(25.1, 0.0)),
                ),
                Check("kept of the sun", 11.1, lambda: kept(rio_solar())),
                Check("lost as longwave", 3.5, rio_lost),
                Check("net", 7.6, lambda: kept(rio_solar()) - rio_lost()),
            ),
        ),
        Table(
            claim="Bangkok in April and Uccle in July gain what the examples work out.",
            source=f"{FAO_56}, examples 17 and 18",
            unit="MJ/m² a day",
            tolerance=0.02,
            why="printed to two decimals, from figures rounded at every step",
            checks=(
                Check("Bangkok, sun of 8.5 h", 22.65, partial(solar, 8.5, BANGKOK)),
                Check("Bangkok, clear sky", 28.54, partial(clear, BANGKOK, 2.0)),
                Check("Bangkok, kept of the sun", 17.44, lambda: kept(solar(8.5, BANGKOK))),
                Check("Uccle, sun of 9.25 h", 22.07, partial(solar, 9.25, UCCLE)),
                Check("Uccle, clear sky", 30.90, partial(clear, UCCLE, 100.0)),
                Check("Uccle, kept of the sun", 17.00, lambda: kept(solar(9.25, UCCLE))),
            ),
        ),
        Table(
            claim="A megajoule evaporates what the table prints.",
            source=f"{FAO_56}, table 3",
            unit="mm",
            carried=True,
            checks=(Check("1 MJ/m² in water", 0.408, lambda: radiation.MM_A_MJ),),
        ),
    ),
)

FROM_MEMORY = (
    Table(
        claim="The sun of a day is had from its range of temperature.",
        source="FAO-56, example 15, from memory",
        unit="MJ/m² a day",
        tolerance=0.05,
        why="remembered to one decimal",
        basis=Basis.FROM_MEMORY,
        read="not seen",
        checks=(
            Check(
                "14.8 to 26.6 °C under 40.6 MJ/m², inland",
                22.3,
                lambda: float(radiation.solar_radiation_from_temperature_mj_m2(14.8, 26.6, 40.6)),
            ),
        ),
    ),
)
