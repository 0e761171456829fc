"""Which cautions go with a food, a crop or a piece of work, in which deed."""

from collections.abc import Collection, Iterable, Iterator

from haulm.catalogue.caution_records import Caution, Deed
from haulm.catalogue.records import Catalogue

EVERY_DEED = tuple(Deed)


def cautions_for(
    catalogue: Catalogue,
    foods: Iterable[str],
    deeds: Collection[Deed] = EVERY_DEED,
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
    deeds
        What is done with them; every deed where none is named.
    ages
        The ages of those at the table [years]: cautions for the very young are left out where
        nobody is so young. None: who eats is not asked, and none is left out.
    crops
        Ids of crops whose own cautions are due whatever is eaten of them.
    """
    ids = [*(id_ for crop in crops for id_ in _of_crop(catalogue, crop))]
    ids += [id_ for food in foods for id_ in _of_food(catalogue, food)]
    found = (catalogue.cautions[id_] for id_ in dict.fromkeys(ids))
    return tuple(caution for caution in found if _due(caution, deeds, ages))


def cautions_of_crop(
    catalogue: Catalogue, crop: str, deeds: Collection[Deed] = EVERY_DEED
) -> tuple[Caution, ...]:
    """Give the cautions of a crop and of all its foods, each once."""
    foods = [food.id for food in catalogue.foods.values() if food.crop == crop]
    return cautions_for(catalogue, foods, deeds, crops=(crop,))


def cautions_at_work(catalogue: Catalogue, deeds: Collection[Deed]) -> tuple[Caution, ...]:
    """Give the cautions that go with the work itself, whatever the crop."""
    return tuple(
        caution
        for caution in catalogue.cautions.values()
        if caution.any_crop and _due(caution, deeds, None)
    )


def cautions_for_the_young(catalogue: Catalogue, ages: Collection[int]) -> tuple[Caution, ...]:
    """Give the cautions due because someone at the table is very young, whatever is grown."""
    return tuple(
        caution
        for caution in catalogue.cautions.values()
        if caution.under_age is not None and not caution.foods and _due(caution, EVERY_DEED, ages)
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


def _due(caution: Caution, deeds: Collection[Deed], ages: Collection[int] | None) -> bool:
    fits = not caution.deeds or any(deed in caution.deeds for deed in deeds)
    if caution.under_age is None or ages is None:
        return fits
    return fits and any(age < caution.under_age for age in ages)
