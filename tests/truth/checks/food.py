"""What foods hold and what eaters need, against published factors and tables."""

from functools import partial

from haulm.catalogue.food_facts import load_food_facts
from haulm.household.records import Eater
from haulm.household.reference_intakes import needed_a_day
from truth.published import Check, Rule, Section, Span, Table

ATWATER = (
    "Primary Energy Sources: general and specific Atwater factors, Nutrition Coordinating Center, "
    "University of Minnesota"
)
DRI = (
    "Dietary Reference Intakes: Recommended Dietary Allowances and Adequate Intakes, "
    "National Academies, {}"
)
LEGUMES, VEGETABLES, FRUITS = (3.47, 8.37, 4.07), (2.62, 8.37, 3.90), (3.36, 8.37, 3.60)


def energy_kcal(food: str) -> float:
    """Give the energy of 100 g of a food [kcal]."""
    held = load_food_facts().facts[food].energy_kcal_100g
    assert held is not None
    return held


def by_factors(food: str, factors: tuple[float, float, float]) -> float:
    """Reckon the energy of 100 g from its protein, fat and carbohydrate [kcal]."""
    facts = load_food_facts().facts[food]
    held = (facts.protein_g_100g, facts.fat_g_100g, facts.carbohydrate_g_100g)
    assert all(amount is not None for amount in held)
    return sum((amount or 0.0) * factor for amount, factor in zip(held, factors, strict=True))


def energies(foods: tuple[str, ...], factors: tuple[float, float, float]) -> tuple[Check, ...]:
    """Hold the energy of some foods to published factors."""
    return tuple(
        Check(food, round(by_factors(food, factors), 2), partial(energy_kcal, food))
        for food in foods
    )


def needed(nutrient: str, age: int) -> float:
    """Give what an eater of an age needs of a nutrient in a day."""
    need = needed_a_day(nutrient, Eater("anybody", age))
    assert need is not None
    return need


def intakes(
    name: str, unit: str, table: str, nutrient: str, by_age: dict[int, float | Span]
) -> Table:
    """Hold the needs of some ages to the printed figures of men and of women."""
    return Table(
        claim=f"The {name} an eater needs in a day lies midway between what is printed for men and "
        "for women.",
        source=DRI.format(table),
        unit=unit,
        rule=Rule.WITHIN,
        why="eaters are not asked their sex; where both are printed alike ours is that figure",
        carried=True,
        checks=tuple(
            Check(f"{name} at {age}", printed, partial(needed, nutrient, age))
            for age, printed in by_age.items()
        ),
    )


SECTION = Section(
    "Food",
    (
        Table(
            claim="The energy of pulses is that of their protein, fat and carbohydrate.",
            source=ATWATER,
            unit="kcal in 100 g",
            tolerance=2.0,
            why="USDA rounds energy to whole kilocalories or kilojoules",
            carried=True,
            checks=energies(
                ("broad beans", "dry beans", "green soya", "lentils", "peas", "sugar peas"),
                LEGUMES,
            ),
        ),
        Table(
            claim="The energy of roots and bulbs is that of their protein, fat and carbohydrate.",
            source=ATWATER,
            unit="kcal in 100 g",
            tolerance=2.0,
            why="the factors are a mean for all vegetables; USDA's differ a little",
            carried=True,
            checks=energies(
                (
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
                ),
                VEGETABLES,
            ),
        ),
        Table(
            claim="The energy of melons is that of their protein, fat and carbohydrate.",
            source=ATWATER,
            unit="kcal in 100 g",
            tolerance=1.0,
            why="USDA rounds energy to whole kilocalories or kilojoules",
            carried=True,
            checks=energies(("melon", "watermelon"), FRUITS),
        ),
        intakes(
            "protein",
            "g",
            "Macronutrients (NCBI Bookshelf NBK56068, table 4)",
            "protein_g",
            {2: 13, 6: 19, 10: 34, 16: (46, 52), 40: (46, 56), 75: (46, 56)},
        ),
        intakes(
            "fibre",
            "g",
            "Macronutrients (NCBI Bookshelf NBK56068, table 4)",
            "fibre_g",
            {2: 19, 6: 25, 10: (26, 31), 16: (26, 38), 40: (25, 38), 60: (21, 30)},
        ),
        intakes(
            "vitamin A",
            "µg",
            "Vitamins (summary table of 2001)",
            "vitamin_a_ug",
            {3: 300, 8: 400, 13: 600, 14: (700, 900), 80: (700, 900)},
        ),
        intakes(
            "vitamin C",
            "mg",
            "Vitamins (summary table of 2001)",
            "vitamin_c_mg",
            {3: 15, 8: 25, 13: 45, 18: (65, 75), 19: (75, 90)},
        ),
        intakes(
            "folate",
            "µg",
            "Vitamins (a copy, docslib.org/doc/459083)",
            "folate_ug",
            {1: 150, 4: 200, 9: 300, 14: 400, 71: 400},
        ),
        intakes(
            "calcium",
            "mg",
            "Elements (NCBI Bookshelf NBK545442, table J-3)",
            "calcium_mg",
            {1: 700, 4: 1000, 9: 1300, 18: 1300, 50: 1000, 51: (1000, 1200), 71: 1200},
        ),
        intakes(
            "iron",
            "mg",
            "Elements (NCBI Bookshelf NBK545442, table J-3)",
            "iron_mg",
            {1: 7, 4: 10, 9: 8, 14: (11, 15), 19: (8, 18), 51: 8},
        ),
        intakes(
            "potassium",
            "mg",
            "Elements (NCBI Bookshelf NBK545442, table J-3)",
            "potassium_mg",
            {1: 2000, 4: 2300, 9: (2300, 2500), 14: (2300, 3000), 19: (2600, 3400)},
        ),
    ),
)
