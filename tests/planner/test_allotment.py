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
    """Put the question of beet for two beds of 6 m²; its family rests for two years."""
    asked = garden([BEET], [wants("beet", [13], kg)], [bed("east", 6.0), bed("west", 6.0)])
    return replace(asked, rotation_gap_years=dict.fromkeys(asked.rotation_gap_years, 2))


def kept(question: PlanQuestion, *ground: Allotment, price: float = 0.6) -> PlanQuestion:
    """Hold a question to allotments, at a price."""
    return replace(question, allotments=ground, prices=Prices(allotment_m2=price))


def ground_in(made: Plan, where: str) -> float:
    """Add up what is planted in a bed [m²]."""
    return sum(p.area_m2 for p in made.plantings if p.bed == where)


def test_a_bed_that_a_later_year_waits_for_is_left_alone() -> None:
    """Two beds alike: the beet goes to the one where its family has no ground next year, and no
    rule is broken by it.
    """
    for waits, free in (("east", "west"), ("west", "east")):
        made = make_plan(kept(two_beds(), Allotment(waits, YEAR + 1, "roots", 6.0)), USUAL)
        assert ground_in(made, free) == pytest.approx(3.0)
        assert made.broken == ()


def test_what_spends_a_later_rest_is_priced_by_the_years_and_told() -> None:
    """Both beds wait for beet next year, of whose two years of rest one would be missing; 2 m² are
    allotted this year as well, and 6 are wanted: 4 m² beyond, told with family, bed and year.
    """
    question = kept(
        two_beds(24.0),
        Allotment("east", YEAR, "roots", 2.0),
        Allotment("east", YEAR + 1, "roots", 6.0),
        Allotment("west", YEAR + 1, "roots", 6.0),
    )
    made = make_plan(question, USUAL)
    told = [one for one in made.broken if one.rule == "allotment"]
    assert sum(one.amount for one in told) == pytest.approx(4.0)
    assert sum(one.price for one in told) == pytest.approx(0.6 * 1 * 4.0)
    assert "in 2027 than the rotation leaves it; in 2028 1 year of its rest there" in (
        told[0].sentence
    )


def test_the_more_years_would_be_missing_the_dearer_it_is() -> None:
    """Of a rest of three years two are missing next year and one the year after."""
    for later, missing in ((1, 2), (2, 1)):
        question = kept(
            two_beds(24.0),
            *(Allotment(where, YEAR + later, "roots", 6.0) for where in ("east", "west")),
        )
        rests = dict.fromkeys(question.rotation_gap_years, 3)
        made = make_plan(replace(question, rotation_gap_years=rests), USUAL)
        assert sum(b.price for b in made.broken) == pytest.approx(0.6 * missing * 6.0)


def test_where_no_later_year_waits_nobody_is_held() -> None:
    """Ground given this year, or once the rest is over, keeps the family off nothing."""
    for year in (YEAR, YEAR + 2, YEAR - 1):
        made = make_plan(kept(two_beds(24.0), Allotment("east", year, "roots", 1.0)), USUAL)
        assert made.broken == ()
        assert ground_in(made, "east") + ground_in(made, "west") == pytest.approx(6.0)


def test_a_plan_that_spends_a_later_rest_untold_is_not_let_pass() -> None:
    """The audit re-adds each family's ground in each bed that waits for it."""
    made = make_plan(two_beds(24.0), USUAL)
    waiting = [Allotment(where, YEAR + 1, "roots", 6.0) for where in ("east", "west")]
    findings = audit(made, kept(two_beds(24.0), *waiting))
    assert any("than it was allotted" in finding.what for finding in findings)


@settings(max_examples=10, deadline=None)
@given(kg=st.floats(1.0, 60.0), east=st.floats(0.5, 6.0), price=st.floats(0.05, 3.0))
def test_the_dearer_a_rest_the_less_of_it_is_spent_and_the_bounds_hold(
    kg: float, east: float, price: float
) -> None:
    """At a higher price no more is taken beyond; and the bound of beds counted as one, which knows
    no allotment, lies below the plan.
    """
    ground = (Allotment("east", YEAR, "roots", east), Allotment("east", YEAR + 1, "roots", 6.0))
    cheap = make_plan(kept(two_beds(kg), *ground, price=price), USUAL)
    dear = make_plan(kept(two_beds(kg), *ground, price=2 * price), USUAL)
    over = [sum(b.amount for b in m.broken if b.rule == "allotment") for m in (cheap, dear)]
    assert over[1] <= over[0] + 1e-6
    tables = tabulate(kept(two_beds(kg), *ground, price=price))
    assert pooled_bound(tables, 1) <= cheap.solver.objective + 1e-6
