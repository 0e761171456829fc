"""What warnings go by: late blight's weather, how far a forecast errs, when to lift."""

from functools import partial
from statistics import NormalDist

from haulm.season.blight_rules import blight_rules
from haulm.season.ready_signs import ready_signs
from haulm.season.watch_figures import watch_figures
from truth.published import Basis, Check, Rule, Section, Table

RULES = blight_rules()
HUTTON, SMITH, IRISH, WALLIN = RULES.hutton, RULES.smith, RULES.irish, RULES.wallin
MSU = "Potato late blight model, Michigan State University (hours over 80 % relative humidity)"
PRINTED = {
    "45 to 53 °F": ((45, 53), (16, 19, 22)),
    "54 to 59 °F": ((54, 59), (13, 16, 19, 22)),
    "60 to 80 °F": ((60, 80), (10, 13, 16, 19)),
}
"""Bands of temperature, and the least hours of severity 1, 2, 3 and 4, as printed."""


def least_hours(band: int, severity: int) -> float:
    """Give the least hours of a severity in a band of temperature."""
    return WALLIN.hours[band][severity - 1]


def within_two_degrees() -> float:
    """Give the share of first-night minima within 2 °C of the forecast [%]."""
    error = NormalDist(0.0, watch_figures().forecast_min_error_c.value)
    return 100 * (error.cdf(2.0) - error.cdf(-2.0))


def green_leaves() -> tuple[float, float]:
    """Give the green leaves between which garlic is ready."""
    sign = ready_signs()["garlic"]
    return sign.last, sign.first


SECTION = Section(
    "Warnings",
    (
        Table(
            claim="Late blight's weather is judged by the thresholds of the Hutton Criteria.",
            source="Development of the Hutton Criteria, AHDB project 11120018 (James Hutton "
            "Institute), 2014-2017",
            unit="°C, h, d",
            carried=True,
            checks=(
                Check("days in a row", 2, lambda: HUTTON.days),
                Check("lowest temperature of each", 10, lambda: HUTTON.least_c),
                Check("hours at 90 % humidity in each", 6, lambda: HUTTON.hours),
            ),
        ),
        Table(
            claim="The Irish Rules count a spell's hours beyond the eleventh.",
            source="Technical Note 13, Irish Meteorological Service, 1953",
            unit="h, °C, %",
            carried=True,
            checks=(
                Check("least spell", 12, lambda: IRISH.hours),
                Check("taken off", 11, lambda: IRISH.less_h),
                Check("temperature", 10, lambda: IRISH.least_c),
                Check("relative humidity", 90, lambda: IRISH.humidity),
            ),
        ),
        Table(
            claim="A warning by the Irish Rules is due at twelve effective hours.",
            source="Irish Farmers Journal, on the Irish Rules",
            unit="h",
            carried=True,
            checks=(Check("effective hours", 12, lambda: IRISH.warn_h),),
        ),
        Table(
            claim="Wallin's severities begin at the hours printed.",
            source=MSU,
            unit="h",
            carried=True,
            checks=tuple(
                Check(
                    f"severity {severity + 1} at {name}",
                    hours,
                    partial(least_hours, band, severity + 1),
                )
                for band, (name, (_, printed)) in enumerate(PRINTED.items())
                for severity, hours in enumerate(printed)
            ),
        ),
        Table(
            claim="A forecast minimum errs as often as the forecaster's own verification says.",
            source="Accuracy performance: minimum temperature, first night of forecast, Met Office",
            unit="% within 2 °C",
            tolerance=0.2,
            why="the deviation is held to two decimals",
            checks=(Check("119 stations, 36 months", 86.5, within_two_degrees),),
        ),
        Table(
            claim="Garlic is ready with about as many green leaves left as is printed.",
            source="Harvesting Onions and Garlic, K-State Research and Extension, Butler County",
            unit="green leaves",
            rule=Rule.HOLDS,
            why="the text says approximately",
            carried=True,
            checks=(Check("green leaves left", 5, green_leaves),),
        ),
        Table(
            claim="Onions are ready once at least so many of the tops are down.",
            source="Harvest Onions When Tops Fall Over, K-State Research and Extension, 2024",
            unit="share of tops",
            carried=True,
            checks=(Check("tops down", 0.5, lambda: ready_signs()["onion"].first),),
        ),
    ),
)

REMEMBERED = (
    Table(
        claim="The Smith Period wants as many humid hours as is remembered.",
        source="L. P. Smith, Plant Pathology, 1956; one page read gives ten hours and then eleven",
        unit="h",
        carried=True,
        basis=Basis.FROM_MEMORY,
        checks=(Check("hours at 90 % humidity", 11, lambda: SMITH.hours),),
    ),
)
