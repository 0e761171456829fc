"""Which cautions go with a food, a crop or a piece of work, in which act."""

from collections.abc import Collection, Iterable, Iterator

from haulm.catalogue.caution_records import Act, Caution
from haulm.catalogue.records import Catalogue

EVERY_ACT = tuple(Act)


def cautions_for(
    catalogue: Catalogue,
    foods: Iterable[str],
    acts: Collection[Act] = EVERY_ACT,
    ages: Collection[int] | None = None,
    crops: Iterable[str] = (),
) -> tuple[Caution, ...]:
    """Give the cautions of some foods and crops, each once, in their order.

    Parameters
    ----------
    catalogue
        Foods, crops and cautions.
    foods
        Ids of foods; one that the catalogue does not know carries none.
    acts
        What is done with them; every act where none is named.
    ages
        The ages of those at the table [years]: cautions for the very young are left out where
        nobody is so young. None: who eats is not asked, and none is left out.
    crops
        Ids of crops whose own cautions are due whatever is eaten of them.
    """
    ids = [*(id_ for crop in crops for id_ in _of_crop(catalogue, crop))]
    ids += [id_ for food in foods for id_ in _of_food(catalogue, food)]
    found = (catalogue.cautions[id_] for id_ in dict.fromkeys(ids))
    return tuple(caution for caution in found if _due(caution, acts, ages))


def cautions_of_crop(
    catalogue: Catalogue, crop: str, acts: Collection[Act] = EVERY_ACT
) -> tuple[Caution, ...]:
    """Give the cautions of a crop and of all its foods, each once."""
    foods = [food.id for food in catalogue.foods.values() if food.crop == crop]
    return cautions_for(catalogue, foods, acts, crops=(crop,))


def cautions_at_work(catalogue: Catalogue, acts: Collection[Act]) -> tuple[Caution, ...]:
    """Give the cautions that go with the work itself, whatever the crop."""
    return tuple(
        caution
        for caution in catalogue.cautions.values()
        if caution.any_crop and _due(caution, acts, None)
    )


def cautions_for_the_young(catalogue: Catalogue, ages: Collection[int]) -> tuple[Caution, ...]:
    """Give the cautions due because someone at the table is very young, whatever is grown."""
    return tuple(
        caution
        for caution in catalogue.cautions.values()
        if caution.under_age is not None and not caution.foods and _due(caution, EVERY_ACT, ages)
    )


def told(caution: Caution) -> str:
    """Write a caution with whom to ask."""
    return f"{caution.text} Ask {caution.authority}."


def _of_food(catalogue: Catalogue, food: str) -> Iterator[str]:
    """Name all that a food carries: its own, its crop's, and what names it or its family."""
    known = catalogue.foods.get(food)
    if known is not None:
        yield from known.cautions
        yield from (one.id for one in catalogue.cautions.values() if food in one.foods)
        yield from _of_crop(catalogue, known.crop)


def _of_crop(catalogue: Catalogue, crop: str) -> Iterator[str]:
    yield from catalogue.crops[crop].cautions
    family = catalogue.crops[crop].family
    yield from (one.id for one in catalogue.cautions.values() if family in one.families)


def _due(caution: Caution, acts: Collection[Act], ages: Collection[int] | None) -> bool:
    in_act = not caution.acts or any(act in caution.acts for act in acts)
    if caution.under_age is None or ages is None:
        return in_act
    return in_act and any(age < caution.under_age for age in ages)
