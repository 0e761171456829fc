"""What eaters need of each nutrient in a day."""

from datetime import date

import pytest

from haulm.catalogue.food_facts import NUTRIENTS
from haulm.household.portions import adult_energy_kcal, portion_share
from haulm.household.records import Away, Eater, Household
from haulm.household.reference_intakes import (
    ENERGY,
    left_out,
    needed_a_day,
    needed_at_home,
    reference_intakes,
)
from haulm.measure.weeks import Horizon

WEEK = Horizon(date(2027, 1, 4), 1)

PRINTED = {
    ("protein_g", 40): (56, 46),
    ("protein_g", 9): (34, 34),
    ("fibre_g", 71): (30, 21),
    ("vitamin_a_ug", 16): (900, 700),
    ("vitamin_c_mg", 3): (15, 15),
    ("vitamin_c_mg", 25): (90, 75),
    ("vitamin_e_mg", 13): (11, 11),
    ("vitamin_k_ug", 60): (120, 90),
    ("folate_ug", 8): (200, 200),
    ("calcium_mg", 60): (1000, 1200),
    ("calcium_mg", 18): (1300, 1300),
    ("iron_mg", 30): (8, 18),
    ("iron_mg", 55): (8, 8),
    ("magnesium_mg", 30): (400, 310),
    ("potassium_mg", 14): (3000, 2300),
    ("zinc_mg", 5): (5, 5),
}
"""Men, women; read from the tables of the National Academies named in reference_intakes.toml:
Macronutrients (NBK56068, table 4), Vitamins (docslib.org/doc/459083), Elements (NBK545442, J-3)."""


@pytest.mark.parametrize(("nutrient", "age"), PRINTED)
def test_the_need_is_the_mean_of_the_printed_intakes_of_both_sexes(nutrient: str, age: int) -> None:
    """Sixteen pairs of cells of the published tables come out as their mean."""
    men, women = PRINTED[nutrient, age]
    assert needed_a_day(nutrient, Eater("Ada", age)) == (men + women) / 2


def test_no_infant_and_no_unlisted_nutrient_has_a_need() -> None:
    """Under the first birthday milk feeds an infant; of fat and carbohydrate none is printed that
    would do: all these are told as not known.
    """
    assert needed_a_day("vitamin_c_mg", Eater("Ida", 0)) is None
    assert needed_a_day("fat_g", Eater("Ada", 40)) is None
    assert left_out("vitamin_c_mg", Household((Eater("Ida", 0), Eater("Ada", 40)), (), (), ())) == (
        "Ida",
    )


def test_energy_follows_portions_and_all_else_follows_age() -> None:
    """Who eats a third more than an adult needs a third more energy, but no more vitamin C."""
    hungry = Eater("Bo", 40, portions=4 / 3)
    assert needed_a_day(ENERGY, hungry) == pytest.approx(4 / 3 * adult_energy_kcal())
    assert needed_a_day(ENERGY, Eater("Mia", 9)) == pytest.approx(
        portion_share(9) * adult_energy_kcal()
    )
    assert needed_a_day("vitamin_c_mg", hungry) == needed_a_day("vitamin_c_mg", Eater("Al"))


def test_days_away_need_nothing() -> None:
    """A week with one of two adults away for two days needs twelve days' vitamin C."""
    away = Away(date(2027, 1, 5), date(2027, 1, 6), ("Bo",))
    household = Household((Eater("Ada", 40), Eater("Bo", 40)), (away,), (), (3.0,) * 12)
    needed = needed_at_home("vitamin_c_mg", household, WEEK)
    assert needed is not None
    assert needed.sum() == pytest.approx(12 * 82.5)
    assert needed_at_home("fat_g", household, WEEK) is None


def test_every_reference_intake_is_of_a_nutrient_that_foods_tell() -> None:
    """No need stands without a nutrient to meet it; ages rise, and every one names its table."""
    known = {nutrient.id for nutrient in NUTRIENTS}
    for intake in reference_intakes().values():
        assert intake.nutrient in known
        ages = [age for age, _, _ in intake.bands]
        assert ages == sorted(set(ages))
        assert "Dietary Reference Intakes" in intake.source
        assert intake.goal in {"recommended", "adequate"}
