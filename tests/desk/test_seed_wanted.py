"""What the plan still plants from the household's own store."""

from datetime import timedelta

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.desk.season.seed_wanted import seed_wanted
from haulm.plan.records import Plan, Planting
from haulm.season.records import Entry, EntryKind
from season.diary_by_hand import entry


@pytest.fixture(scope="module")
def garlic(plan: Plan) -> Planting:
    """Give the garlic that is still to be planted."""
    return next(p for p in plan.plantings if p.kind.startswith("garlic/") and not p.standing)


def planted(garlic: Planting, years_before: int = 0) -> Entry:
    """Say by kind and bed alone that garlic was planted, so many years before it is to be."""
    on = garlic.set_on - timedelta(days=365 * years_before)
    return entry(EntryKind.SET, on, kind=garlic.kind, bed=garlic.bed)


def wanted(plan: Plan, garlic: Planting, *entries: Entry) -> list[str]:
    """Name the kinds still to be planted on the garlic's day."""
    found = seed_wanted(plan, load_catalogue(), entries, garlic.set_on)
    return [one.kind for one in found if one.on == garlic.set_on]


def test_what_was_planted_is_no_longer_kept_from_the_kitchen(plan: Plan, garlic: Planting) -> None:
    """Cloves that are in the ground are not wanted of the store."""
    assert wanted(plan, garlic) == [garlic.kind]
    assert wanted(plan, garlic, planted(garlic)) == []


def test_a_planting_of_another_year_is_not_this_years(plan: Plan, garlic: Planting) -> None:
    """Garlic set in the same bed in years before leaves this year's cloves to be kept."""
    before = planted(garlic, years_before=1), planted(garlic, years_before=4)
    assert wanted(plan, garlic, *before) == [garlic.kind]
