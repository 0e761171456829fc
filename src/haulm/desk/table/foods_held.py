"""What a crop's foods hold in 100 g, side by side, for pages and the terminal."""

from dataclasses import dataclass

from haulm.catalogue.food_facts import NUTRIENTS, ORIGIN, FoodFacts, Nutrient, load_food_facts
from haulm.catalogue.records import Catalogue, Crop, Food

WHOLE_FROM = 100.0


@dataclass(frozen=True, slots=True)
class FoodHeld:
    """A food with its facts; where there are none, ``absent`` says why."""

    food: Food
    facts: FoodFacts | None
    absent: str = ""


@dataclass(frozen=True, slots=True)
class Held:
    """The foods of a crop, each nutrient with its amount in every food, and where they are from.

    ``amounts`` stand in the order of the foods that have facts; None is not known.
    """

    foods: tuple[FoodHeld, ...]
    amounts: tuple[tuple[Nutrient, tuple[float | None, ...]], ...]
    origin: str

    @property
    def known(self) -> tuple[FoodHeld, ...]:
        """The foods that have facts."""
        return tuple(one for one in self.foods if one.facts is not None)

    @property
    def unknown(self) -> tuple[FoodHeld, ...]:
        """The foods that have none."""
        return tuple(one for one in self.foods if one.facts is None)


def held_by(catalogue: Catalogue, crop: Crop) -> Held:
    """Gather what 100 g of the edible part of each of a crop's foods hold."""
    known = load_food_facts()
    foods = tuple(
        FoodHeld(food, known.facts.get(food.id), _why_none(food.id))
        for food in catalogue.foods.values()
        if food.crop == crop.id
    )
    told = [one.facts for one in foods if one.facts is not None]
    amounts = tuple((one, tuple(facts.of(one) for facts in told)) for one in NUTRIENTS)
    return Held(foods, amounts if told else (), ORIGIN)


def amount_text(amount: float | None) -> str:
    """Write an amount to three figures or to a whole number; *not known* where nobody measured."""
    if amount is None:
        return "not known"
    return f"{amount:.0f}" if amount >= WHOLE_FROM else f"{amount:.3g}"


def _why_none(food: str) -> str:
    known = load_food_facts()
    return "" if food in known.facts else known.why_absent(food)
