"""The cautions of a garden: of what its plan eats and puts by, and of who is at the table."""

from collections.abc import Mapping

from haulm.catalogue.caution_records import Caution, Deed
from haulm.catalogue.cautions import cautions_for, cautions_for_the_young
from haulm.catalogue.records import Catalogue
from haulm.household.records import Household
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan


def ages_at_table(household: Household) -> tuple[int, ...] | None:
    """Give the ages told of those who eat [years]; None where nobody is named."""
    if not household.eaters:
        return None
    return tuple(eater.age for eater in household.eaters if eater.age is not None)


def care_for_the_young(household: Household, catalogue: Catalogue) -> tuple[Caution, ...]:
    """Give the cautions due because an infant eats, whatever is grown."""
    return cautions_for_the_young(catalogue, ages_at_table(household) or ())


def care_in_plan(
    plan: Plan, garden: Garden, catalogue: Catalogue
) -> tuple[tuple[Caution, tuple[str, ...]], ...]:
    """Give the cautions of all that a plan eats and puts by, each with its foods' ids.

    What is due because an infant eats comes last, with no food.
    """
    ages = ages_at_table(garden.household)
    deeds: Mapping[Deed, list[str]] = {
        Deed.EAT: [helping.food for helping in plan.helpings],
        Deed.PUT_BY: [lot.food for lot in plan.lots],
    }
    found: dict[str, tuple[Caution, dict[str, None]]] = {}
    for deed, foods in deeds.items():
        for food in dict.fromkeys(foods):
            for caution in cautions_for(catalogue, (food,), (deed,), ages):
                found.setdefault(caution.id, (caution, {}))[1][food] = None
    young = tuple((caution, ()) for caution in care_for_the_young(garden.household, catalogue))
    return (*((caution, tuple(foods)) for caution, foods in found.values()), *young)
