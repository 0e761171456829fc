"""Say what in a garden has changed since its plan was made."""

from collections.abc import Iterator
from math import isclose

from haulm.catalogue.records import Catalogue
from haulm.desk.beds.ground import is_covered
from haulm.measure.day_words import long_day
from haulm.measure.findings import Finding
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan

PLAN_AGAIN = "Plan it again, or bring the garden back to what it was."


def outgrown(plan: Plan, garden: Garden, catalogue: Catalogue) -> tuple[Finding, ...]:
    """Find all that a plan stands on and the garden no longer has; it cannot be shown then."""
    where = f"the plan of {long_day(plan.made_on)}"
    gone = (*_beds(plan, garden), *_names(plan, garden, catalogue))
    return tuple(Finding(where, what, PLAN_AGAIN) for what in gone)


def _beds(plan: Plan, garden: Garden) -> Iterator[str]:
    """Say which beds are gone, or are not what they were."""
    beds = {bed.id: bed for bed in garden.beds}
    for bed in plan.beds:
        now = beds.get(bed.id)
        if now is None:
            yield f"the bed {bed.name} it was made for is gone."
        elif not isclose(now.outline.area_m2, bed.area_m2) or is_covered(now) != bed.under_cover:
            yield f"the bed {bed.name} has another size or cover since."


def _names(plan: Plan, garden: Garden, catalogue: Catalogue) -> Iterator[str]:
    """Say which lines of the table, stores and kinds are gone."""
    used = {
        "line of the table": {row.line for row in plan.table},
        "store": {lot.place for lot in plan.lots},
        "kind": {planting.kind for planting in plan.plantings},
    }
    here = {
        "line of the table": {line.id for line in garden.household.table},
        "store": {store.id for store in garden.stores},
        "kind": set(catalogue.kinds),
    }
    for noun, ids in used.items():
        for gone in sorted(ids - here[noun]):
            yield f"the {noun} “{gone}” it was made for is gone."
