"""Claims about bare ground: every stretch is found, and only green manures that fit are offered."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.ground.records import Closure
from haulm.growing.green_manures import CoverStart
from haulm.plan.records import Plan
from haulm.planner.bare_ground import (
    CoverOffer,
    bare_stretches,
    cover_offers,
)
from haulm.planner.make import make_plan
from haulm.planner.question import BedGround
from planner.tiny_gardens import USUAL, bed, food, garden, sowing, wants

LEAST = (0.5, 3)
HELD = st.lists(
    st.tuples(st.integers(-3, 11), st.integers(1, 8), st.sampled_from((0.5, 1.0, 2.0))), max_size=3
).map(lambda some: [(first, first + span, area) for first, span, area in some])


def largest_by_hand(free: list[float]) -> float:
    """Try every run of weeks for the most square metres × weeks; 0 where none is enough."""
    sizes = [
        min(free[first:until]) * (until - first)
        for first in range(len(free))
        for until in range(first + LEAST[1], len(free) + 1)
        if min(free[first:until]) >= LEAST[0]
    ]
    return max(sizes, default=0.0)


@settings(max_examples=200, deadline=None)
@given(HELD)
def test_each_stretch_is_the_largest_there_is(held: list[tuple[int, int, float]]) -> None:
    """Cut one after another, each stretch is as large as trying every run of weeks finds; none
    lies on held ground, and what is left at last holds no stretch more.
    """
    free = [6.0 - sum(a for first, until, a in held if first <= w < until) for w in range(12)]
    cut = bare_stretches(6.0, held, 12, LEAST)
    for area, first, until in cut:
        assert area * (until - first) == pytest.approx(largest_by_hand(free))
        for week in range(first, until):
            free[week] -= area
            assert free[week] >= -1e-9
    assert largest_by_hand(free) == 0.0
    sizes = [area * (until - first) for area, first, until in cut]
    assert all(one >= other - 1e-9 for one, other in pairwise(sizes))


def plan() -> Plan:
    """Plan roots on half a bed from week 8 to 16; the bed is bare before and after."""
    roots = sowing("roots", 8, 16, food("roots", range(12, 16)))
    return make_plan(garden([roots], [wants("roots", range(12, 16))]), USUAL)


def rye(sow_week: int, family: str = "grass", kind: str = "rye/winter") -> CoverStart:
    """Offer a green manure that takes six weeks and two of rest."""
    crop = kind.partition("/")[0]
    return CoverStart(kind, crop, family, sow_week, sow_week + 5, sow_week + 8)


def offers(
    *starts: CoverStart,
    ground: BedGround | None = None,
    closures: tuple[Closure, ...] = (),
    gaps: dict[str, int] | None = None,
) -> tuple[CoverOffer, ...]:
    """Offer green manures around the roots."""
    asked = replace(
        garden([], []),
        beds=(ground or bed(),),
        rotation_gap_years=gaps or {"grass": 1, "roots": 3, "cabbage": 3},
        closures=closures,
        least_patch_m2=0.5,
    )
    return cover_offers(plan(), asked, {False: starts})


def sown(found: tuple[CoverOffer, ...]) -> set[int]:
    """Give the first weeks in which something is offered to be sown."""
    return {fit.sow_first_week for offer in found for fit in offer.fits}


def test_a_green_manure_is_offered_where_it_has_time_to_grow_and_rest() -> None:
    """Between two crops only what is dug in and rested before the second is offered."""
    held = {(one.from_week, one.until_week) for one in plan().plantings}
    assert held == {(8, 16)}
    assert sown(offers(rye(0))) == {0}
    assert sown(offers(rye(18))) == {18}
    roots = plan().plantings[0].area_m2
    beside = offers(rye(4))
    assert all(offer.stretch.area_m2 <= 4.0 - roots + 1e-6 for offer in beside)
    assert offers(rye(25)) == ()


def test_its_family_rests_as_that_of_any_crop() -> None:
    """White mustard is a cabbage: not on ground that bore cabbage last year, nor before it."""
    mustard = rye(18, "cabbage", "white mustard/quick")
    assert sown(offers(mustard)) == {18}
    assert offers(mustard, ground=replace(bed(), last_year_of_family=(("cabbage", 2026),))) == ()
    of_roots = rye(18, "roots", "root relative/any")
    assert offers(of_roots) == ()


def test_closed_ground_is_offered_nothing_that_carries_the_disease() -> None:
    """Where clubroot closes a bed to cabbages, mustard is not offered, and rye is."""
    closed = Closure("east", "cabbage", "clubroot", 2024, 2035, 2031, 2035)
    mustard = rye(18, "cabbage", "white mustard/quick")
    found = offers(mustard, rye(18), closures=(closed,))
    assert {fit.kind for offer in found for fit in offer.fits} == {"rye/winter"}


def test_a_covered_bed_is_offered_only_what_is_sown_under_cover() -> None:
    """What grows in the open is no offer for a tunnel."""
    assert offers(rye(18), ground=bed(under_cover=True)) == ()
