"""What part of a household's need of energy and nutrients the food it eats would cover."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.food_facts import NUTRIENTS, FoodFacts, Nutrient
from haulm.catalogue.records import Food
from haulm.measure.weeks import DAYS_A_WEEK

HUNDRED_GRAMS_A_KG = 10
NOTHING_KG = 1e-9


@dataclass(frozen=True, slots=True)
class NutrientSum:
    """One nutrient over some days.

    Attributes
    ----------
    nutrient
        Which, with its unit.
    eaten
        What the foods eaten hold of it, as far as it is known, in its unit.
    needed
        What the eaters at home need of it, in its unit; None where nobody says.
    eaten_kg, known_kg
        All that is eaten, as lifted, and that part of it of which the nutrient is known [kg].
    most_from
        (food, amount) of every food that holds any, the most first, in its unit.
    """

    nutrient: Nutrient
    eaten: float
    needed: float | None
    eaten_kg: float
    known_kg: float
    most_from: tuple[tuple[str, float], ...]

    @property
    def share(self) -> float | None:
        """The share of the need that is met [1]; None where no need is known."""
        return None if self.needed is None or self.needed <= 0 else self.eaten / self.needed

    @property
    def known_share(self) -> float | None:
        """The share of what is eaten of which the nutrient is known [1]; None if nothing is."""
        return None if self.eaten_kg <= NOTHING_KG else self.known_kg / self.eaten_kg


@dataclass(frozen=True, slots=True)
class Eaten:
    """Kilograms of each food eaten on each day [kg], as lifted; the foods and their facts."""

    daily_kg: Mapping[str, NDArray[np.float64]]
    foods: Mapping[str, Food]
    facts: Mapping[str, FoodFacts]


def by_day(weekly_kg: Sequence[float]) -> NDArray[np.float64]:
    """Spread each week's kilograms evenly over its seven days, shape (weeks × 7,) [kg]."""
    return np.repeat(np.asarray(weekly_kg, dtype=np.float64) / DAYS_A_WEEK, DAYS_A_WEEK)


def nourishment(
    eaten: Eaten, needed: Mapping[str, NDArray[np.float64] | None], days: NDArray[np.bool_]
) -> tuple[NutrientSum, ...]:
    """Add up every nutrient over some days.

    A food holds its kilograms × the share that reaches the plate × what 100 g of it hold. What
    cooking and keeping take away is not counted. A food without facts, or whose row leaves the
    nutrient blank, adds nothing and is missing from ``known_kg``.

    Parameters
    ----------
    eaten
        What is eaten.
    needed
        What all eaters need on each day, by nutrient, in its unit; None where nobody says.
    days
        Which days are added up, shape (days,).
    """
    kg = {food: float(daily[days].sum()) for food, daily in eaten.daily_kg.items()}
    return tuple(_summed(one, eaten, kg, _over(needed.get(one.id), days)) for one in NUTRIENTS)


def _over(daily: NDArray[np.float64] | None, days: NDArray[np.bool_]) -> float | None:
    return None if daily is None else float(daily[days].sum())


def _summed(
    nutrient: Nutrient, eaten: Eaten, kg: Mapping[str, float], needed: float | None
) -> NutrientSum:
    amounts: dict[str, float] = {}
    known_kg = 0.0
    for food, lifted_kg in kg.items():
        facts = eaten.facts.get(food)
        held = None if facts is None else facts.of(nutrient)
        if held is None:
            continue
        known_kg += lifted_kg
        on_plate_kg = lifted_kg * eaten.foods[food].kitchen_share.value
        amounts[food] = on_plate_kg * HUNDRED_GRAMS_A_KG * held
    most = sorted(amounts.items(), key=lambda one: (-one[1], one[0]))
    return NutrientSum(
        nutrient=nutrient,
        eaten=sum(amounts.values()),
        needed=needed,
        eaten_kg=sum(kg.values()),
        known_kg=known_kg,
        most_from=tuple((food, amount) for food, amount in most if amount > 0),
    )
