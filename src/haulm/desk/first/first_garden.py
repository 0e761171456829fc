"""A first garden from three answers: where, who eats, how much ground."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil, isfinite

import numpy as np

from haulm.catalogue.loader import load_catalogue
from haulm.desk.first.first_figures import first_figures
from haulm.desk.first.first_seasons import FoodSeason, food_seasons
from haulm.desk.first.first_table import FirstTable, first_table
from haulm.household.portions import portions_of
from haulm.household.records import Eater
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.measure.units import FOOT_M, Units, show_area, show_length
from haulm.notebook.checked import HIGHEST_LAND_M, LOWEST_LAND_M
from haulm.notebook.parts import Parts
from haulm.site.known_frosts import with_known_frosts
from haulm.site.records import KnownFrosts, MonthlyNormals, Place, Soil
from haulm.site.world import normals_at

LEAST_GROUND_M2, MOST_GROUND_M2 = 1.0, 2000.0
GROUND_LIMITS: Mapping[Units, str] = {
    "metric": "from 1 to 2,000 m²",
    "us": "from 11 to 21,500 sq ft",
}
MOST_EATERS = 30
USUAL_NAME = "Our garden"
USUAL_SOIL = Soil.LOAM

Part = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class FirstAnswers:
    """What a stranger has said so far: where the garden is, who eats, how much ground there is.

    ``height_m`` and ``last_frost`` (month and day of the usual last frost, as in 05-10) are None
    where they are not known; ``units`` is metric or us, for display.
    """

    place_name: str
    latitude_deg: float
    longitude_deg: float
    adults: int
    children: int
    ground_m2: float
    units: Units
    height_m: float | None = None
    last_frost: str | None = None


def first_garden(answers: FirstAnswers) -> Parts:
    """Make the parts of a garden's document, each with keys as in garden.toml.

    The table asks for foods that can be grown here in the weeks they can be eaten, and for no more
    than the ground may bring; beds are 1.2 m (4 ft) wide and alike, so many that rotation has
    room; the hours are usual ones; there is a shed and a shelf, since every household has some
    cool and some dry place (a cellar or freezer is not taken for granted).

    Raises
    ------
    FaultsFoundError
        With every answer that cannot be; each finding's place is ("first", the answer's name).
    """
    table = _table(answers)
    return {
        "garden": (_garden(answers),),
        "place": (_place(answers),),
        "weather": ({"grid": True},),
        "eater": tuple({"name": eater.name, "age": eater.age} for eater in _eaters(answers)),
        "hours": ({"by_month": _hours(answers)},),
        "table": tuple(ask.part() for ask in table.asked),
        "bed": _beds(answers),
        "store": tuple(
            {"id": store.id, "name": store.name, "kind": store.kind.value}
            for store in first_figures().stores
        ),
    }


def first_notes(answers: FirstAnswers) -> tuple[Finding, ...]:
    """Say what was taken for granted in a first garden, and what was left off its table and why.

    Raises
    ------
    FaultsFoundError
        As :func:`first_garden`.
    """
    table = _table(answers)
    parts = [ask for ask in table.asked if ask.share < 1.0]
    usual = (
        "portions are usual ones, each food is asked for in the weeks in which it can be eaten "
        "here, and no more than the ground may bring."
    )
    told = [
        ("table", usual),
        ("hours", "hours of work are judged from the ground and the number of adults."),
        ("place", f"the soil is taken to be {USUAL_SOIL.value}."),
        ("store", "a shed and a shelf are taken for granted, with room for all; no freezer."),
    ]
    if table.no_ground:
        told.append(
            (
                "table",
                f"with rotation kept, the ground is too small for {_listed(table.no_ground)}.",
            )
        )
    if parts:
        names = _listed(tuple(f"{ask.line.name} ({ask.share:.0%})" for ask in parts))
        told.append(("table", f"with rotation kept, the ground holds only a share of {names}."))
    if table.asked and not parts and not table.no_ground:
        told.append(("table", "the ground holds all that is asked for, and may hold more."))
    if table.not_here:
        what = f"in the open, this climate has no season for {_listed(table.not_here)}."
        told.append(("table", what))
    return tuple(Finding("first garden", what, "", Grade.NOTE, (part,)) for part, what in told)


def _table(answers: FirstAnswers) -> FirstTable:
    """Check the answers and make the table."""
    _refuse_odd(answers)
    seasons = _seasons(answers.latitude_deg, answers.longitude_deg, answers.last_frost)
    portions = sum(portions_of(eater) for eater in _eaters(answers))
    return first_table(seasons, load_catalogue(), portions, answers.ground_m2)


@lru_cache(maxsize=16)
def _seasons(
    latitude_deg: float, longitude_deg: float, last_frost: str | None
) -> Mapping[str, FoodSeason]:
    """Work out what grows at a place; kept, for people and ground are changed more often."""
    place, normals = _climate(latitude_deg, longitude_deg, last_frost)
    figures = first_figures()
    return food_seasons(
        place,
        normals,
        load_catalogue(),
        figures.stores,
        figures["ground.sound_share"],
    )


def _climate(
    latitude_deg: float, longitude_deg: float, last_frost: str | None
) -> tuple[Place, MonthlyNormals]:
    """Give the place, and the grid's normals there, drawn to the last frost where it is known."""
    place = Place("the first garden", latitude_deg, longitude_deg, None, USUAL_SOIL)
    normals = normals_at(latitude_deg, longitude_deg)
    if last_frost is None:
        return place, normals
    month, _, day = last_frost.partition("-")
    return place, with_known_frosts(normals, place, KnownFrosts((int(month), int(day))))


def _refuse_odd(answers: FirstAnswers) -> None:
    """Name every answer that cannot be."""
    eaters, units = answers.adults + answers.children, answers.units
    ground = show_area(answers.ground_m2, units) if isfinite(answers.ground_m2) else "this"
    whole = "Give a whole number, 0 or more."
    checks: tuple[tuple[str, bool, str, str], ...] = (
        (
            "ground_m2",
            LEAST_GROUND_M2 <= answers.ground_m2 <= MOST_GROUND_M2,
            f"{ground} is no ground that can be planned for here.",
            f"Give the ground of all beds, {GROUND_LIMITS[units]}.",
        ),
        ("adults", answers.adults >= 0, f"{answers.adults} is no number of adults.", whole),
        ("children", answers.children >= 0, f"{answers.children} is no number of children.", whole),
        (
            "adults",
            1 <= eaters <= MOST_EATERS,
            f"{eaters} people eat here.",
            f"Give from 1 to {MOST_EATERS} people, adults and children together.",
        ),
        (
            "height_m",
            answers.height_m is None or LOWEST_LAND_M <= answers.height_m <= HIGHEST_LAND_M,
            f"no land lies at {show_length(answers.height_m or 0.0, units)} above the sea.",
            "Give the height above the sea, or leave it out.",
        ),
    )
    findings = [
        Finding(_spoken(field), what, remedy, place=("first", field))
        for field, sound, what, remedy in checks
        if not sound
    ]
    findings += _place_faults(answers)
    if findings:
        raise FaultsFoundError(findings)


def _place_faults(answers: FirstAnswers) -> list[Finding]:
    """Say what the world's climate says against the place."""
    fields = {"latitude": "latitude_deg", "longitude": "longitude_deg"}
    try:
        _climate(answers.latitude_deg, answers.longitude_deg, answers.last_frost)
    except FaultsFoundError as refused:
        return [
            replace(found, place=("first", fields.get(str(found.place[1]), str(found.place[1]))))
            for found in refused.findings
        ]
    return []


def _spoken(field: str) -> str:
    """Speak of an answer as its question does."""
    return {"ground_m2": "the ground", "height_m": "the height"}.get(field, f"the {field}")


def _listed(names: tuple[str, ...]) -> str:
    """Join names as a sentence does."""
    return " and ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)


def _garden(answers: FirstAnswers) -> Part:
    """Name the garden, with a smallest patch that lets a small plot grow several things."""
    figures = first_figures()
    least_m2 = min(
        figures["beds.usual_patch_m2"],
        max(
            figures["beds.least_patch_m2"],
            answers.ground_m2 * figures["beds.least_patch_share"],
        ),
    )
    least = f"{least_m2 / FOOT_M**2:.1f} sq ft" if answers.units == "us" else f"{least_m2:.2g} m2"
    return {
        "name": answers.place_name.strip() or USUAL_NAME,
        "units": answers.units,
        "least_patch": least,
    }


def _place(answers: FirstAnswers) -> Part:
    part: dict[str, object] = {
        "latitude": answers.latitude_deg,
        "longitude": answers.longitude_deg,
        "soil": USUAL_SOIL.value,
    }
    if answers.height_m is not None:
        part["height"] = (
            f"{answers.height_m / FOOT_M:.0f} ft"
            if answers.units == "us"
            else f"{answers.height_m:g} m"
        )
    if answers.last_frost is not None:
        part["last_frost"] = answers.last_frost
    return part


def _eaters(answers: FirstAnswers) -> tuple[Eater, ...]:
    """Count the eaters by name, each with a usual age."""
    figures = first_figures()
    return tuple(
        Eater(f"{name} {number}", age=round(figures[f"ages.{name.lower()}"]))
        for name, count in (("Adult", answers.adults), ("Child", answers.children))
        for number in range(1, count + 1)
    )


def _hours(answers: FirstAnswers) -> list[float]:
    """Give usual hours a week by month: more for more ground, up to what the adults can give.

    Cold months ask for less.
    """
    figures = first_figures()
    most = figures["hours.each_adult"] * max(answers.adults, 1)
    least = figures["hours.least"]
    busiest = max(least, min(figures["hours.each_m2"] * answers.ground_m2, most))
    normals = normals_at(answers.latitude_deg, answers.longitude_deg)
    shares = np.interp(
        (np.array(normals.tmin_c) + np.array(normals.tmax_c)) / 2.0,
        [figures["hours.winter_mean_c"], figures["hours.busy_mean_c"]],
        [figures["hours.winter_share"], 1.0],
    )
    return [round(float(hours), 1) for hours in np.maximum(least / 2, shares * busiest)]


def _beds(answers: FirstAnswers) -> tuple[Part, ...]:
    """Split the ground into beds of one width and length, the last cut to what is left."""
    figures = first_figures()
    us = answers.units == "us"
    unit, unit_m = ("ft", FOOT_M) if us else ("m", 1.0)
    width = figures["beds.width_ft" if us else "beds.width_m"]
    rows = answers.ground_m2 / unit_m / unit_m / width
    length = _bed_length(rows, unit_m)
    count = max(1, ceil(rows / length - 1e-9))
    lengths = [length] * (count - 1) + [rows - length * (count - 1)]
    return tuple(
        {
            "id": f"bed-{number}",
            "name": f"Bed {number}",
            "width": f"{width:g} {unit}",
            "length": f"{run:.2f}".rstrip("0").rstrip(".") + f" {unit}",
        }
        for number, run in enumerate(lengths, start=1)
    )


def _bed_length(rows: float, unit_m: float) -> float:
    """Choose a bed's length, in the unit that the ground's whole length ``rows`` is told in.

    At least four beds where they come to a metre each, of a usual length where there is ground
    for more, longer where there would be too many; in whole or half units once long enough.
    """
    figures = first_figures()
    usual = figures["beds.usual_length_m"] / unit_m
    shortest = figures["beds.least_length_m"] / unit_m
    longest = figures["beds.longest_m"] / unit_m
    length = min(usual, max(shortest, rows / figures["beds.fewest"]))
    length = min(longest, max(length, rows / figures["beds.most_short"]))
    return min(rows, ceil(length * 2 - 1e-9) / 2)
