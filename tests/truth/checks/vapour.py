"""Water vapour, against the worked examples and tables of FAO-56."""

from functools import partial

from haulm.site import vapour
from truth.checks.sources import EXAMPLES_QUOTED, FAO_56
from truth.published import Check, Section, Table


def saturation(temperature_c: float) -> float:
    """Give the saturation vapour pressure [kPa]."""
    return float(vapour.saturation_vapour_pressure_kpa(temperature_c))


def slope(temperature_c: float) -> float:
    """Give the slope of the saturation curve [kPa/°C]."""
    return float(vapour.saturation_slope_kpa_c(temperature_c))


def mean_saturation(tmin_c: float, tmax_c: float) -> float:
    """Give a day's mean saturation vapour pressure [kPa]."""
    return float(vapour.mean_saturation_vapour_pressure_kpa(tmin_c, tmax_c))


def of_example_5() -> float:
    """Give the vapour pressure of 18 to 25 °C and 54 to 82 % [kPa]."""
    return float(vapour.vapour_pressure_from_extreme_humidities_kpa(18.0, 25.0, 0.54, 0.82))


SECTION = Section(
    "Water vapour",
    (
        Table(
            claim="Saturated air holds the vapour that the table prints.",
            source=f"{FAO_56}, table 2.3 and example 3",
            unit="kPa",
            tolerance=0.001,
            why="printed to three decimals",
            checks=tuple(
                Check(f"saturation vapour pressure at {at:g} °C", printed, partial(saturation, at))
                for at, printed in (
                    (5, 0.872),
                    (10, 1.228),
                    (15, 1.705),
                    (20, 2.338),
                    (24.5, 3.075),
                    (30, 4.243),
                    (35, 5.623),
                    (40, 7.376),
                )
            ),
        ),
        Table(
            claim="The saturation curve is as steep as the table prints.",
            source=f"{FAO_56}, table 2.4",
            unit="kPa/°C",
            tolerance=0.001,
            why="printed to three decimals",
            checks=tuple(
                Check(f"slope of saturation at {at} °C", printed, partial(slope, at))
                for at, printed in (
                    (5, 0.061),
                    (10, 0.082),
                    (15, 0.110),
                    (20, 0.145),
                    (25, 0.189),
                    (30, 0.243),
                )
            ),
        ),
        Table(
            claim="The vapour in the air is what the examples work out, each by what was measured.",
            source=f"{FAO_56}, examples 3 to 6",
            unit="kPa",
            tolerance=0.005,
            why="printed to two decimals",
            checks=(
                Check("mean saturation, 15 to 24.5 °C", 2.39, partial(mean_saturation, 15, 24.5)),
                Check("saturation at the mean, the wrong way", 2.30, partial(saturation, 19.75)),
                Check("saturation at 25 °C", 3.168, partial(saturation, 25)),
                Check("saturation at a wet bulb of 19.5 °C", 2.267, partial(saturation, 19.5)),
                Check(
                    "from a dry bulb of 25.6 and a wet one of 19.5 °C at 1200 m",
                    1.91,
                    lambda: float(
                        vapour.vapour_pressure_from_wet_bulb_kpa(25.6, 19.5, 0.000662, 1200.0)
                    ),
                ),
                Check("from 54 to 82 % at 18 to 25 °C", 1.70, of_example_5),
                Check(
                    "from the mean humidity of the same day",
                    1.78,
                    lambda: float(vapour.vapour_pressure_from_mean_humidity_kpa(18, 25, 0.68)),
                ),
                Check(
                    "what the same air lacks",
                    0.91,
                    lambda: mean_saturation(18, 25) - of_example_5(),
                ),
            ),
        ),
        Table(
            claim="Where only a minimum is known, the air is taken as saturated at it.",
            source=f"{FAO_56}, equation 48 and table 2.3",
            unit="kPa",
            tolerance=0.001,
            why="printed to three decimals",
            checks=(
                Check(
                    "from a minimum of 15 °C",
                    1.705,
                    lambda: float(vapour.vapour_pressure_from_minimum_kpa(15.0)),
                ),
            ),
        ),
        Table(
            claim="Air weighs what the example works out.",
            source=f"{FAO_56}, example 4",
            unit="kPa",
            tolerance=0.05,
            why="printed to one decimal",
            checks=(Check("at 1200 m", 87.9, lambda: vapour.atmospheric_pressure_kpa(1200)),),
        ),
        Table(
            claim="Air at 1800 m weighs what the example works out.",
            source=f"{FAO_56}, example 2",
            unit="kPa",
            tolerance=0.05,
            why="printed to one decimal",
            read=EXAMPLES_QUOTED,
            checks=(Check("at 1800 m", 81.8, lambda: vapour.atmospheric_pressure_kpa(1800)),),
        ),
        Table(
            claim="The psychrometric constant at 1800 m is that of the example.",
            source=f"{FAO_56}, example 2",
            unit="kPa/°C",
            tolerance=0.0005,
            why="printed to three decimals",
            read=EXAMPLES_QUOTED,
            checks=(Check("at 1800 m", 0.054, lambda: vapour.psychrometric_constant_kpa_c(1800)),),
        ),
    ),
)
