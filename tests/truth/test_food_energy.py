"""The energy of foods against Atwater's factors.

Factors: *Primary Energy Sources*, Nutrition Coordinating Center, University of Minnesota, read at
ncc.umn.edu/products/nutrients-nutrient-ratios-and-other-food-components/primary-energy-sources:
general 4, 9 and 4 kcal/g of protein, fat and carbohydrate; legumes 3.47, 8.37, 4.07; vegetables
2.62, 8.37, 3.90; fruits 3.36, 8.37, 3.60. USDA reckons energy with specific factors for each food.
"""

import pytest

from haulm.catalogue.food_facts import FoodFacts, load_food_facts

GENERAL = (4.0, 9.0, 4.0)
LEGUMES = (3.47, 8.37, 4.07)
VEGETABLES = (2.62, 8.37, 3.90)
FRUITS = (3.36, 8.37, 3.60)
FACTS = load_food_facts().facts


def energy_kcal(facts: FoodFacts, factors: tuple[float, float, float]) -> float:
    """Reckon the energy of 100 g from protein, fat and carbohydrate [kcal]."""
    held = (facts.protein_g_100g, facts.fat_g_100g, facts.carbohydrate_g_100g)
    assert all(amount is not None for amount in held)
    return sum((amount or 0.0) * factor for amount, factor in zip(held, factors, strict=True))


@pytest.mark.parametrize("food", sorted(FACTS))
def test_no_food_gives_more_than_the_general_factors_nor_far_less(food: str) -> None:
    """The energy of each food lies under what 4, 9 and 4 kcal/g give, for they take fibre for
    starch; and not more than a quarter under, with a kilocalorie for rounding.
    """
    facts = FACTS[food]
    assert facts.energy_kcal_100g is not None
    general = energy_kcal(facts, GENERAL)
    assert 0.75 * general - 1 <= facts.energy_kcal_100g <= general + 1


LEGUME_FOODS = ("broad beans", "dry beans", "green soya", "lentils", "peas", "sugar peas")
UNDERGROUND = (
    "beetroot",
    "carrot",
    "celeriac",
    "garlic",
    "leek",
    "onion",
    "parsnip",
    "shallot",
    "swede",
    "turnip",
)
ABOVE_GROUND = (
    "cabbage",
    "calabrese",
    "cauliflower",
    "courgette",
    "green beans",
    "kale",
    "spinach",
)


@pytest.mark.parametrize("food", LEGUME_FOODS)
def test_pulses_agree_with_the_factors_for_legumes(food: str) -> None:
    """Pulses, dry or shelled green, lie within one part in a hundred of the published factors."""
    facts = FACTS[food]
    assert facts.energy_kcal_100g == pytest.approx(energy_kcal(facts, LEGUMES), rel=0.01)


@pytest.mark.parametrize("food", UNDERGROUND)
def test_roots_and_bulbs_agree_with_the_factors_for_vegetables(food: str) -> None:
    """Roots and bulbs lie within 3 parts in a hundred of the published factors for vegetables."""
    facts = FACTS[food]
    assert facts.energy_kcal_100g == pytest.approx(energy_kcal(facts, VEGETABLES), rel=0.03)


@pytest.mark.parametrize("food", ABOVE_GROUND)
def test_leaves_and_pods_lie_a_little_under_the_factors_for_vegetables(food: str) -> None:
    """Leaves, buds and pods lie at most a tenth under the mean factors for vegetables, and not
    above them: USDA counts less for what is mostly leaf.
    """
    facts = FACTS[food]
    mean = energy_kcal(facts, VEGETABLES)
    assert facts.energy_kcal_100g is not None
    assert 0.9 * mean <= facts.energy_kcal_100g <= mean


@pytest.mark.parametrize("food", ["melon", "watermelon"])
def test_melons_agree_with_the_factors_for_fruits(food: str) -> None:
    """Melons, which USDA counts among the fruits, lie within one part in a hundred."""
    facts = FACTS[food]
    assert facts.energy_kcal_100g == pytest.approx(energy_kcal(facts, FRUITS), rel=0.01)
