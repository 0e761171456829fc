"""The water of the root zone, against the worked examples and tables of FAO-56."""

from dataclasses import dataclass
from functools import partial

import numpy as np

from haulm.water import evaporation
from haulm.water.records import Balance
from haulm.water.root_zone import day_by_day, easy_share, total_water_mm
from haulm.water.soils import soil_waters
from haulm.water.stages import season_curve
from truth.checks.sources import FAO_56
from truth.published import Check, Section, Span, Table


@dataclass(frozen=True, slots=True)
class Stages:
    """A season's four stages [days] and its coefficients at start, middle and end [1]."""

    days: tuple[float, float, float, float]
    coefficients: tuple[float, float, float]


DRY_BEAN = Stages((25, 25, 30, 20), (0.15, 1.19, 0.35))
DRY_BEAN_BASAL = Stages((25, 25, 30, 20), (0.15, 1.14, 0.25))

# Root depth [m], depletion fraction, and by soil: total and easily taken water [mm].
REACHED = {
    "onion": (0.4, 0.30, ((36, 11), (68, 20), (48, 14))),
    "tomato": (0.8, 0.40, ((72, 29), (136, 54), (96, 38))),
    "maize": (1.2, 0.55, ((108, 59), (204, 112), (144, 79))),
}
HELD = {"loamy sand": (0.15, 0.06), "silt": (0.32, 0.15), "silty clay": (0.35, 0.23)}

# Water at field capacity and at wilting point, lowest and highest [m³/m³].
TABLE_19 = {
    "sand": ((0.07, 0.17), (0.02, 0.07)),
    "loamy sand": ((0.11, 0.19), (0.03, 0.10)),
    "sandy loam": ((0.18, 0.28), (0.06, 0.16)),
    "loam": ((0.20, 0.30), (0.07, 0.17)),
    "silt loam": ((0.22, 0.36), (0.09, 0.21)),
    "silt": ((0.28, 0.36), (0.12, 0.22)),
    "silty clay loam": ((0.30, 0.37), (0.17, 0.24)),
    "silty clay": ((0.30, 0.42), (0.17, 0.29)),
    "clay": ((0.32, 0.40), (0.20, 0.24)),
}


def reached(soil: str, root_m: float, share: float = 1.0) -> float:
    """Give the water that roots reach, or a share of it [mm]."""
    return total_water_mm(*HELD[soil], root_m) * share


def coefficient(stages: Stages, *days: int) -> float:
    """Give the crop coefficient on a day, or the mean of some [1]."""
    whole = sum(stages.days)
    first, second, third, last = (length / whole for length in stages.days)
    progress = np.array(days) / whole
    return float(np.mean(season_curve((first, second, third, last), stages.coefficients, progress)))


def ten_days(stages: Stages, ten: int) -> float:
    """Give the mean coefficient of the season's days in one of its tens [1]."""
    return coefficient(stages, *range(10 * ten + 1, 10 * ten + 11))


def ten_days_use(ten: int) -> float:
    """Give the mean use of dry bean in one of the season's tens [mm a day]."""
    return ten_days(DRY_BEAN, ten) * TEN_DAY_REFERENCE_MM[ten]


def easily(use_mm: float) -> float:
    """Give the share easily taken, of a table's 0.45, on a day of so much use [1]."""
    return float(easy_share(0.45, np.array([use_mm]))[0])


def depletion(day: int) -> float:
    """Give the depletion at the end of a day of example 38 [mm]."""
    return float(schedule().depletion_mm[day - 1])


def schedule() -> Balance:
    """Carry the ten days of example 38, draining before the crop drinks.

    Crop use of days 1 to 9 is printed in example 35, and that it holds here too is our reading;
    that of day 10 is printed in example 38.
    """
    use = np.array([5.5, 6.1, 4.0, 2.9, 2.5, 2.7, 4.7, 2.8, 2.2, 6.3])
    rain, watering = np.zeros(10), np.zeros(10)
    rain[5], watering[[0, 9]] = 6.0, (40.0, 27.0)
    return day_by_day(rain, watering, use, 39.0, 0.6, 23.0)


def held(soil: str, at: str) -> Span:
    """Give the water a class of soil holds [m³/m³]."""
    waters = soil_waters()[soil]
    return waters.field_capacity if at == "field capacity" else waters.wilting_point


DEPLETION_MM = (5, 12, 16, 18, 21, 18, 22, 25, 27, 6)
TEN_DAY_KC = (0.15, 0.15, 0.20, 0.57, 0.98, 1.19, 1.19, 1.19, 0.98, 0.56)
TEN_DAY_USE_MM = (0.5, 0.5, 0.8, 2.4, 4.4, 6.1, 6.7, 7.1, 5.4, 2.9)
TEN_DAY_REFERENCE_MM = (3.0, 3.4, 4.0, 4.2, 4.5, 5.1, 5.6, 6.0, 5.5, 5.2)

SECTION = Section(
    "Water in the soil",
    (
        Table(
            claim="Roots reach the water of the example, in three soils.",
            source=f"{FAO_56}, example 36",
            unit="mm",
            tolerance=0.6,
            why="printed whole, the easily taken part from a total already rounded",
            checks=tuple(
                Check(f"{crop}, {soil}, {name}", amount, partial(reached, soil, root_m, factor))
                for crop, (root_m, share, amounts) in REACHED.items()
                for soil, pair in zip(HELD, amounts, strict=True)
                for name, amount, factor in (
                    ("in all", pair[0], 1.0),
                    ("easily taken", pair[1], share),
                )
            ),
        ),
        Table(
            claim="Soil holds what the table prints for its class.",
            source=f"{FAO_56}, table 19",
            unit="m³/m³",
            carried=True,
            checks=tuple(
                Check(f"{soil}, {name}", span, partial(held, soil, name))
                for soil, spans in TABLE_19.items()
                for name, span in zip(("field capacity", "wilting point"), spans, strict=True)
            ),
        ),
        Table(
            claim="The coefficient of dry bean at Kimberly follows the season as the example says.",
            source=f"{FAO_56}, examples 28 and 30",
            unit="1",
            tolerance=0.005,
            why="printed to two decimals",
            checks=tuple(
                Check(f"{name} coefficient on day {day}", kc, partial(coefficient, stages, day))
                for name, stages, day, kc in (
                    ("single", DRY_BEAN, 20, 0.15),
                    ("single", DRY_BEAN, 40, 0.77),
                    ("basal", DRY_BEAN_BASAL, 12, 0.15),
                    ("basal", DRY_BEAN_BASAL, 37, 0.63),
                    ("basal", DRY_BEAN_BASAL, 65, 1.14),
                    ("basal", DRY_BEAN_BASAL, 90, 0.70),
                )
            ),
        ),
        Table(
            claim="Ten days' mean coefficient of dry bean at Kimberly is that of the figure.",
            source=f"{FAO_56}, figure 36",
            unit="1",
            tolerance=0.03,
            why="the print takes the value near the middle of each ten days, ours their mean",
            checks=tuple(
                Check(f"days {10 * at + 1} to {10 * at + 10}", kc, partial(ten_days, DRY_BEAN, at))
                for at, kc in enumerate(TEN_DAY_KC)
            ),
        ),
        Table(
            claim="Ten days' mean use of dry bean at Kimberly is that of the figure.",
            source=f"{FAO_56}, figure 36",
            unit="mm a day",
            tolerance=0.15,
            why="0.03 in the coefficient at 5 mm a day, as above",
            checks=tuple(
                Check(
                    f"days {10 * at + 1} to {10 * at + 10}",
                    used,
                    partial(ten_days_use, at),
                )
                for at, used in enumerate(TEN_DAY_USE_MM)
            ),
        ),
        Table(
            claim="Ten days of watering leave the depletion that the example prints.",
            source=f"{FAO_56}, example 38",
            unit="mm",
            tolerance=1.0,
            why=(
                "printed whole; drained before the crop drinks, as the example does and equation "
                "88 read literally does not"
            ),
            checks=(
                *(
                    Check(f"depletion at the end of day {day}", mm, partial(depletion, day))
                    for day, mm in enumerate(DEPLETION_MM, start=1)
                ),
                Check("drained on day 1", 17, lambda: float(schedule().drained_mm[0])),
            ),
        ),
        Table(
            claim="The share taken without stress falls as a day asks for more.",
            source=f"{FAO_56}, table 22, note 2",
            unit="1",
            why="arithmetic",
            checks=tuple(
                Check(
                    f"a table's 0.45 on a day of {use:g} mm",
                    share,
                    partial(easily, use),
                )
                for use, share in ((5.0, 0.45), (2.5, 0.55), (40.0, 0.1))
            ),
        ),
        Table(
            claim="The top 0.1 m of sandy loam can lose what the example works out.",
            source=f"{FAO_56}, example 35",
            unit="mm",
            tolerance=0.5,
            why="printed whole",
            checks=(
                Check(
                    "water that can evaporate",
                    18,
                    lambda: evaporation.top_water_mm(0.23, 0.10, 0.1),
                ),
            ),
        ),
        Table(
            claim="Soil and crop together lose what the examples work out.",
            source=f"{FAO_56}, examples 34 and 35",
            unit="1",
            tolerance=0.005,
            why="printed to two decimals",
            checks=(
                Check(
                    "the most at Kcb 0.30",
                    1.21,
                    lambda: float(evaporation.highest_coefficient(1.6, 35, 0.3, 0.30)),
                ),
                Check(
                    "soil of a drip field, 0.19 of it bare and wet",
                    0.25,
                    lambda: float(evaporation.soil_coefficient(1.30, 0.90, 1.0, 0.19)),
                ),
            ),
        ),
    ),
)
