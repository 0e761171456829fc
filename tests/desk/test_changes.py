from dataclasses import replace

import pytest

from haulm.desk.garden.changes import PLAN_AGAIN, outgrown
from haulm.desk.planning.plans import Made
from haulm.ground.outlines import rectangle
from haulm.ground.records import Cover
from haulm.notebook.garden import Garden


def test_a_garden_left_alone_still_has_all_its_plan_stands_on(made: Made) -> None:
    """A plan of the garden as it is can be shown; a bed or store more does not hinder it."""
    assert outgrown(made.plan, made.garden, made.catalogue) == ()
    more = replace(made.garden.beds[0], id="new", name="New")
    grown = replace(made.garden, beds=(*made.garden.beds, more))
    assert outgrown(made.plan, grown, made.catalogue) == ()


@pytest.mark.parametrize("change", ["gone", "smaller", "covered"])
def test_a_bed_that_is_not_what_it_was_is_named(made: Made, change: str) -> None:
    """A bed that is gone, smaller or under a tunnel since cannot carry the plan made for it."""
    north, south = made.garden.beds
    changed = {
        "gone": (),
        "smaller": (replace(north, outline=rectangle(1.2, 2.0, "north")),),
        "covered": (replace(north, cover=Cover.TUNNEL),),
    }
    (finding,) = outgrown(
        made.plan, replace(made.garden, beds=(*changed[change], south)), made.catalogue
    )
    assert "North" in finding.what
    assert "1 February 2027" in finding.where
    assert finding.remedy == PLAN_AGAIN


def test_lines_stores_and_kinds_that_are_gone_are_all_named(made: Made) -> None:
    """A line no longer eaten, a store no longer there and a kind no longer known are told at once;
    a store the plan never used is not missed.
    """
    used = {lot.place for lot in made.plan.lots}
    assert used == {"pantry"}
    assert outgrown(made.plan, without(made.garden, "shed"), made.catalogue) == ()
    garden = without(made.garden, "pantry")
    table = tuple(line for line in garden.household.table if line.id != "onion")
    garden = replace(garden, household=replace(garden.household, table=table))
    kinds = {name: kind for name, kind in made.catalogue.kinds.items() if name != "leek/winter"}
    told = outgrown(made.plan, garden, replace(made.catalogue, kinds=kinds))
    text = " ".join(finding.what for finding in told)
    assert "line of the table “onion”" in text
    assert "store “pantry”" in text
    planned = "leek/winter" in {planting.kind for planting in made.plan.plantings}
    assert ("kind “leek/winter”" in text) == planned


def without(garden: Garden, store: str) -> Garden:
    """Give a garden that has lost one of its stores."""
    return replace(garden, stores=tuple(one for one in garden.stores if one.id != store))
