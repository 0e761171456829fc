"""The cautions that foods carry, their own and their crops'."""

from collections.abc import Iterable

from haulm.catalogue.records import Catalogue, Caution


def cautions_of(foods: Iterable[str], catalogue: Catalogue) -> tuple[Caution, ...]:
    """Gather the cautions of some foods, each once, in the order of the foods."""
    ids: dict[str, None] = {}
    for food in foods:
        known = catalogue.foods[food]
        ids |= dict.fromkeys((*known.cautions, *catalogue.crops[known.crop].cautions))
    return tuple(catalogue.cautions[one] for one in ids)
