"""Chill, the soil's warmth at depth, height, covers: against what was printed of each."""

from functools import partial

import numpy as np

from haulm.site.chill import chill_hours, chill_units
from haulm.site.figures import air_figure
from haulm.site.soil_warmth import damping_depth, wave_left
from truth.checks.warmth import celsius
from truth.published import Check, Rule, Section, Table

DAVIS = (
    "About Chilling Hours, Units and Portions, Fruit and Nut Research and Information Center, "
    "University of California, Davis"
)
RAIN_OR_SHINE = "Rain or Shine, section 13.4, Oklahoma State University Libraries"
CASCADES = (
    "Minder, Mote and Lundquist, Surface temperature lapse rates over complex terrain, Journal of "
    "Geophysical Research 115 (2010) D14122, abstract"
)
UTAH = {
    33.0: 0.0, 34.0: 0.0, 34.1: 0.5, 36.0: 0.5, 36.1: 1.0, 42.0: 1.0, 48.0: 1.0, 48.1: 0.5,
    54.0: 0.5, 54.1: 0.0, 60.0: 0.0, 60.1: -0.5, 65.0: -0.5, 65.1: -1.0, 80.0: -1.0,
}  # fmt: skip
DIFFUSIVITY_M2_S = 0.5e-6


def units_of(fahrenheit: float) -> float:
    """Give what an hour at a temperature counts by the Utah model."""
    return float(chill_units(np.array([celsius(fahrenheit)]))[0])


def hour_of(fahrenheit: float) -> float:
    """Give whether an hour at a temperature is a chill hour."""
    return float(chill_hours(np.array([celsius(fahrenheit)]))[0])


def day_s_depth_cm() -> float:
    """Give the damping depth of the day's wave [cm]."""
    return damping_depth(DIFFUSIVITY_M2_S, 1.0) * 100.0


def year_against_day() -> float:
    """Give how many times deeper the year's wave goes than the day's."""
    return damping_depth(DIFFUSIVITY_M2_S, 365.0) / damping_depth(DIFFUSIVITY_M2_S, 1.0)


def swing_at_10_cm() -> float:
    """Give what is left at 10 cm of a swing of 7 °C."""
    return 7.0 * wave_left(0.10, damping_depth(DIFFUSIVITY_M2_S, 1.0))


def mean_lapse() -> float:
    """Give how much the mean of day and night falls for each kilometre."""
    return (air_figure("lapse_minimum_c_km") + air_figure("lapse_maximum_c_km")) / 2.0


SECTION = Section(
    "Chill, soil warmth, height and covers",
    (
        Table(
            claim="An hour counts by its temperature as the Utah model has it.",
            source=DAVIS,
            unit="chill units",
            checks=tuple(
                Check(f"an hour at {f:g} °F", counts, partial(units_of, f))
                for f, counts in UTAH.items()
            ),
        ),
        Table(
            claim="An hour between 32 and 45 °F is a chill hour.",
            source=DAVIS,
            unit="hours",
            checks=tuple(
                Check(f"an hour at {f:g} °F", counts, partial(hour_of, f))
                for f, counts in ((31, 0), (32, 1), (40, 1), (45, 1), (46, 0))
            ),
        ),
        Table(
            claim="The day's warmth goes so deep into a soil.",
            source=RAIN_OR_SHINE,
            unit="cm",
            tolerance=0.05,
            why="printed to a tenth",
            checks=(Check("thermal diffusivity 0.50e-6 m²/s", 11.7, day_s_depth_cm),),
        ),
        Table(
            claim="The year's wave goes so many times deeper than the day's.",
            source=RAIN_OR_SHINE,
            unit="1",
            tolerance=0.05,
            why="printed to a tenth",
            checks=(Check("365 days against one", 19.1, year_against_day),),
        ),
        Table(
            claim="A swing of 7 °C at the surface is so large 10 cm down.",
            source=RAIN_OR_SHINE,
            unit="°C",
            tolerance=0.5,
            why="read off a figure, told in whole degrees",
            checks=(Check("thermal diffusivity 0.50e-6 m²/s", 3.0, swing_at_10_cm),),
        ),
        Table(
            claim="It is so much colder for each kilometre higher, over the year.",
            source=CASCADES,
            unit="°C/km",
            rule=Rule.WITHIN,
            carried=True,
            read="its abstract",
            checks=(Check("mean of day and night", (3.9, 5.2), mean_lapse),),
        ),
        Table(
            claim="Days of spring and nights of late summer bound what one rate can be.",
            source=CASCADES,
            unit="°C/km",
            rule=Rule.WITHIN,
            carried=True,
            read="its abstract",
            checks=(
                Check("nights", (2.5, 7.5), partial(air_figure, "lapse_minimum_c_km")),
                Check("days", (2.5, 7.5), partial(air_figure, "lapse_maximum_c_km")),
            ),
        ),
        Table(
            claim="The usual rate of 6.5 holds for maxima.",
            source="Blandford and others, Seasonal and synoptic variations in near-surface air "
            "temperature lapse rates, Journal of Applied Meteorology and Climatology 47 (2008)",
            unit="°C/km",
            carried=True,
            read="its abstract",
            checks=(Check("days", 6.5, partial(air_figure, "lapse_maximum_c_km")),),
        ),
        Table(
            claim="Spun covers protect by so much, thin to thick.",
            source="Snyder and de Melo-Abreu, Frost protection: fundamentals, practice and "
            "economics, volume 1, chapter 6, FAO 2005",
            unit="°C",
            rule=Rule.WITHIN,
            carried=True,
            checks=(
                Check("garden fleece", (1.0, 5.0), partial(air_figure, "night_gain_fleece_c")),
            ),
        ),
        Table(
            claim="An unheated plastic tunnel is so much warmer.",
            source="Savage, Plastic tunnels, Agrochemophysica 12 (1980)",
            unit="°C",
            carried=True,
            read="its abstract",
            checks=(
                Check("maxima", 4.2, partial(air_figure, "tunnel_day_gain_c")),
                Check("minima", 1.3, partial(air_figure, "tunnel_night_gain_c")),
            ),
        ),
    ),
)
