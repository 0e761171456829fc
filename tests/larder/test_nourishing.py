"""What the food eaten covers of the need: sums of kilograms, kitchen shares and facts."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.food_facts import NUTRIENTS, load_food_facts
from haulm.catalogue.loader import load_catalogue
from haulm.larder.nourishing import Eaten, NutrientSum, by_day, nourishment

FOODS = load_catalogue().foods
FACTS = load_food_facts().facts
WEEK = np.ones(7, dtype=np.bool_)
KNOWN = ("potato", "carrot", "broad beans", "lamb's lettuce")


def total(sums: tuple[NutrientSum, ...], nutrient: str) -> NutrientSum:
    """Give one nutrient's sum."""
    return next(one for one in sums if one.nutrient.id == nutrient)


def eaten(**weekly_kg: float) -> Eaten:
    """Make a week in which so many kilograms are eaten."""
    names = {food.replace(" ", "_"): food for food in FOODS}
    return Eaten({names[name]: by_day([kg]) for name, kg in weekly_kg.items()}, FOODS, FACTS)


def test_a_kilogram_of_potatoes_by_hand() -> None:
    """A kilogram lifted, so much of it on the plate, 76.96 kcal in 100 g: the sum of the energy."""
    share = FOODS["potato"].kitchen_share.value
    energy = total(nourishment(eaten(potato=1.0), {}, WEEK), "energy_kcal")
    assert energy.eaten == pytest.approx(10 * share * 76.95984703632887)
    assert energy.needed is None
    assert energy.share is None
    assert energy.known_share == 1.0


def test_food_of_which_nothing_is_known_is_missing_not_nothing() -> None:
    """With a kilogram of elephant garlic beside three of potatoes, facts are known of three
    quarters, and the potatoes' energy is as before.
    """
    alone = total(nourishment(eaten(potato=3.0), {}, WEEK), "energy_kcal")
    both = total(nourishment(eaten(potato=3.0, elephant_garlic=1.0), {}, WEEK), "energy_kcal")
    assert both.eaten == alone.eaten
    assert both.known_share == pytest.approx(0.75)


def test_a_blank_in_a_foods_row_is_missing_for_that_nutrient_alone() -> None:
    """Nobody measured the vitamin E of green broad beans: their energy counts, that does not."""
    sums = nourishment(eaten(broad_beans=1.0), {}, WEEK)
    assert total(sums, "energy_kcal").known_share == 1.0
    assert total(sums, "vitamin_e_mg").known_share == 0.0
    assert total(sums, "vitamin_e_mg").eaten == 0.0


def test_a_week_in_which_nothing_is_eaten_covers_nothing() -> None:
    """Where nothing is eaten nothing is met, and how much is known cannot be said."""
    needed = {"vitamin_c_mg": np.full(7, 80.0)}
    vitamin_c = total(nourishment(Eaten({}, FOODS, FACTS), needed, WEEK), "vitamin_c_mg")
    assert vitamin_c.share == 0.0
    assert vitamin_c.known_share is None


@given(
    weekly=st.dictionaries(
        st.sampled_from(KNOWN),
        st.lists(st.floats(0, 20), min_size=3, max_size=3),
        min_size=1,
    ),
    cut=st.integers(0, 21),
)
@settings(max_examples=50, deadline=None)
def test_parts_of_the_time_add_up_to_the_whole(weekly: dict[str, list[float]], cut: int) -> None:
    """However the days are cut in two, both parts together hold and need what the whole does, and
    the foods named hold what their sum does.
    """
    one = Eaten({food: by_day(kg) for food, kg in weekly.items()}, FOODS, FACTS)
    needed = {nutrient.id: np.linspace(1, 2, 21) for nutrient in NUTRIENTS}
    early = np.arange(21) < cut
    parts = [nourishment(one, needed, days) for days in (early, ~early)]
    for number, whole in enumerate(nourishment(one, needed, np.ones(21, dtype=np.bool_))):
        assert sum(part[number].eaten for part in parts) == pytest.approx(whole.eaten)
        assert sum(part[number].needed or 0 for part in parts) == pytest.approx(whole.needed)
        assert sum(amount for _, amount in whole.most_from) == pytest.approx(whole.eaten)
        amounts = [amount for _, amount in whole.most_from]
        assert amounts == sorted(amounts, reverse=True)


def test_twice_the_food_covers_twice_the_share() -> None:
    """Shares grow with what is eaten; the need stays."""
    needed = {"folate_ug": np.full(7, 400.0)}
    once = total(nourishment(eaten(carrot=1.0), needed, WEEK), "folate_ug")
    twice = total(nourishment(eaten(carrot=2.0), needed, WEEK), "folate_ug")
    assert once.share is not None
    assert twice.share == pytest.approx(2 * once.share)
    assert replace(once, needed=0.0).share is None
