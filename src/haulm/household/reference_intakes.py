"""Reference intakes: what an eater is advised to take in a day, and what all at home are."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from haulm.household.portions import adult_energy_kcal, eaters_at_home, portions_of
from haulm.household.records import Eater, Household
from haulm.measure.weeks import Horizon

ENERGY = "energy_kcal"
ADULT_AGE = 31
"""An eater whose age is not told counts as an adult of 31 to 50, as for portions."""


@dataclass(frozen=True, slots=True)
class ReferenceIntake:
    """What is advised of one nutrient in a day, in the unit its name ends with.

    Attributes
    ----------
    nutrient
        Its id, as in ``vitamin_c_mg``.
    goal
        *recommended* (enough for nearly all healthy people) or *adequate* (less surely known).
    source
        The table's title, publisher and where it was read.
    bands
        From which age, men and boys, women and girls; youngest first.
    """

    nutrient: str
    goal: str
    source: str
    bands: tuple[tuple[int, float, float], ...]

    def a_day(self, age: int | None) -> float | None:
        """Give the mean of both sexes at an age; None under the youngest band."""
        years = ADULT_AGE if age is None else age
        fitting = [band for band in self.bands if band[0] <= years]
        return (fitting[-1][1] + fitting[-1][2]) / 2 if fitting else None


@cache
def reference_intakes() -> Mapping[str, ReferenceIntake]:
    """Give the reference intake of each nutrient that has one, by its id; energy aside.

    Sources and goals stand in ``data/reference_intakes.toml``.
    """
    text = (files("haulm.household") / "data" / "reference_intakes.toml").read_text(
        encoding="utf-8"
    )
    data = tomllib.loads(text)
    sources = {
        id_: f"{source['title']}, {source['publisher']}" for id_, source in data["sources"].items()
    }
    return {
        nutrient: ReferenceIntake(
            nutrient,
            told["goal"],
            sources[told["source"]],
            tuple((int(age), float(men), float(women)) for age, men, women in told["bands"]),
        )
        for nutrient, told in data["nutrients"].items()
    }


def needed_a_day(nutrient: str, eater: Eater) -> float | None:
    """Give what an eater needs of a nutrient in a day, in its unit; None where nobody says.

    Energy is the eater's portions of an adult's, so that what the household told of appetites is
    kept; all else goes by age, without regard to portions.
    """
    if nutrient == ENERGY:
        return portions_of(eater) * adult_energy_kcal()
    intake = reference_intakes().get(nutrient)
    return None if intake is None else intake.a_day(eater.age)


def needed_at_home(
    nutrient: str, household: Household, horizon: Horizon
) -> NDArray[np.float64] | None:
    """Add up what all eaters at home need of a nutrient on each day, shape (weeks × 7,).

    An eater of whom no need is known is left out, see :func:`left_out`. None where nobody is left.

    Raises
    ------
    FaultsFoundError
        With a finding for each absence that ends before it starts or names no known eater.
    """
    needs = [needed_a_day(nutrient, eater) for eater in household.eaters]
    if all(need is None for need in needs):
        return None
    each = np.array([need or 0.0 for need in needs], dtype=np.float64)
    daily: NDArray[np.float64] = eaters_at_home(household, horizon).T.astype(np.float64) @ each
    return daily


def left_out(nutrient: str, household: Household) -> tuple[str, ...]:
    """Name the eaters whose need of a nutrient nobody says, such as infants under 1."""
    return tuple(eater.name for eater in household.eaters if needed_a_day(nutrient, eater) is None)
