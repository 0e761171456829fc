"""The energy of every food lies where Atwater's factors put it.

Factors: *Primary Energy Sources*, Nutrition Coordinating Center, University of Minnesota, read at
ncc.umn.edu/products/nutrients-nutrient-ratios-and-other-food-components/primary-energy-sources:
general 4, 9 and 4 kcal/g of protein, fat and carbohydrate; vegetables 2.62, 8.37, 3.90. Pulses,
roots and melons are held to their own factors in ``checks/food.py``.
"""

import pytest

from haulm.catalogue.food_facts import load_food_facts
from truth.checks.food import VEGETABLES, by_factors, energy_kcal

GENERAL = (4.0, 9.0, 4.0)


@pytest.mark.parametrize("food", sorted(load_food_facts().facts))
def test_no_food_gives_more_than_the_general_factors_nor_far_less(food: str) -> None:
    """The energy of each food lies under what 4, 9 and 4 kcal/g give, for they take fibre for
    starch; and not more than a quarter under, with a kilocalorie for rounding.
    """
    general = by_factors(food, GENERAL)
    assert 0.75 * general - 1 <= energy_kcal(food) <= general + 1


ABOVE_GROUND = (
    "cabbage",
    "calabrese",
    "cauliflower",
    "courgette",
    "green beans",
    "kale",
    "spinach",
)


@pytest.mark.parametrize("food", ABOVE_GROUND)
def test_leaves_and_pods_lie_a_little_under_the_factors_for_vegetables(food: str) -> None:
    """Leaves, buds and pods lie at most a tenth under the mean factors for vegetables, and not
    above them: USDA counts less for what is mostly leaf.
    """
    mean = by_factors(food, VEGETABLES)
    assert 0.9 * mean <= energy_kcal(food) <= mean
