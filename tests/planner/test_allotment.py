"""Allotments: a family keeps to the ground that the years ahead leave it in a bed."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.catalogue.records import Picking
from haulm.plan.records import Allotment, Plan
from haulm.planner.audit import audit
from haulm.planner.bound import pooled_bound
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion, Prices
from haulm.planner.tables import tabulate
from planner.tiny_gardens import USUAL, bed, food, garden, sowing, wants

BEET = sowing("beet", 2, 14, food("beet", [13], 4.0, Picking.ONCE))
YEAR = 2027


def two_beds(kg: float = 12.0) -> PlanQuestion:
    """Put the question of beet for two beds of 6 m²."""
    return garden([BEET], [wants("beet", [13], kg)], [bed("east", 6.0), bed("west", 6.0)])


def allotted(question: PlanQuestion, *ground: Allotment, price: float = 0.6) -> PlanQuestion:
    """Hold a question to allotments, at a price."""
    return replace(question, allotments=ground, prices=Prices(allotment_m2=price))


def ground_in(made: Plan, where: str) -> float:
    """Add up what is planted in a bed [m²]."""
    return sum(p.area_m2 for p in made.plantings if p.bed == where)


def test_a_family_goes_where_the_rotation_gave_it_ground() -> None:
    """Two beds alike: the beet goes to the one that was allotted to its family, and nothing of a
    rule is broken by it.
    """
    for where in ("east", "west"):
        made = make_plan(allotted(two_beds(), Allotment(where, YEAR, "roots", 6.0)), USUAL)
        assert ground_in(made, where) == pytest.approx(3.0)
        assert made.broken == ()


def test_what_goes_beyond_an_allotment_is_priced_and_told() -> None:
    """Of 24 kg wanted, 2 m² are allotted and 6 are taken: 4 m² beyond, each at its price, told with
    the family, the bed and the year.
    """
    question = allotted(two_beds(24.0), Allotment("east", YEAR, "roots", 2.0))
    made = make_plan(question, USUAL)
    told = [one for one in made.broken if one.rule == "allotment"]
    assert sum(one.amount for one in told) == pytest.approx(4.0)
    assert sum(one.price for one in told) == pytest.approx(0.6 * 4.0)
    assert "of east in 2027 than the rotation leaves it" in told[0].sentence


def test_a_year_that_was_not_laid_out_holds_nobody() -> None:
    """Allotments of another year leave this one as it was."""
    made = make_plan(allotted(two_beds(24.0), Allotment("east", YEAR + 2, "roots", 1.0)), USUAL)
    assert made.broken == ()
    assert ground_in(made, "east") + ground_in(made, "west") == pytest.approx(6.0)


def test_a_family_without_rest_is_held_to_nothing() -> None:
    """Who may come back the next year spends no rest, and stands where it likes."""
    question = two_beds(24.0)
    question = replace(question, rotation_gap_years=dict.fromkeys(question.rotation_gap_years, 1))
    made = make_plan(allotted(question, Allotment("east", YEAR, "leaves", 1.0)), USUAL)
    assert made.broken == ()


def test_a_plan_that_takes_more_than_was_allotted_untold_is_not_let_pass() -> None:
    """The audit re-adds each family's ground in each bed and year of those laid out."""
    made = make_plan(two_beds(24.0), USUAL)
    question = allotted(two_beds(24.0), Allotment("east", YEAR, "leaves", 1.0))
    assert any("than it was allotted" in finding.what for finding in audit(made, question))


@settings(max_examples=10, deadline=None)
@given(kg=st.floats(1.0, 60.0), east=st.floats(0.0, 6.0), price=st.floats(0.05, 3.0))
def test_the_dearer_an_allotment_the_less_goes_beyond_and_the_bounds_hold(
    kg: float, east: float, price: float
) -> None:
    """At a higher price no more is taken beyond; and the bound of beds counted as one, which knows
    no allotment, lies below the plan.
    """
    ground = Allotment("east", YEAR, "roots", east)
    cheap = make_plan(allotted(two_beds(kg), ground, price=price), USUAL)
    dear = make_plan(allotted(two_beds(kg), ground, price=2 * price), USUAL)
    over = [sum(b.amount for b in m.broken if b.rule == "allotment") for m in (cheap, dear)]
    assert over[1] <= over[0] + 1e-6
    tables = tabulate(allotted(two_beds(kg), ground, price=price))
    assert pooled_bound(tables, 1) <= cheap.solver.objective + 1e-6
