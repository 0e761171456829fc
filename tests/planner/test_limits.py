"""Limits by hand, and the least: how much of a crop there is, where alone, and beside what."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Plan
from haulm.planner.audit import audit
from haulm.planner.bound import pooled_bound
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion, Standing
from haulm.planner.solve import EFFORTS
from haulm.planner.tables import tabulate
from planner.brute_force import cheapest, middling, tiny
from planner.tiny_gardens import FIRST_DAY, USUAL, bed, food, garden, sowing, wants

CHARD = sowing("chard", 2, 16, food("chard", range(8, 16)), family="leaves")
BEET = sowing("beet", 2, 14, food("beet", range(10, 14)))
LATE_BEET = sowing("beet", 14, 26, food("beet", range(22, 26)))
SMALL = garden(
    [CHARD, BEET],
    [wants("chard", range(8, 16)), wants("beet", range(10, 14))],
    [bed("east", 4.0), bed("west", 3.0)],
)


def at_least(crop: str, area_m2: float, bed_id: str | None = None, year: int | None = None) -> Pin:
    """Ask for so much of a crop or more."""
    return Pin(PinRule.AT_LEAST, None, bed_id, area_m2=area_m2, crop=crop, year=year)


def at_most(crop: str, area_m2: float, bed_id: str | None = None) -> Pin:
    """Allow so much of a crop and no more."""
    return Pin(PinRule.AT_MOST, None, bed_id, area_m2=area_m2, crop=crop)


def only_in(crop: str, *beds: str) -> Pin:
    """Allow a crop in some beds alone."""
    return Pin(PinRule.ONLY_IN, None, crop=crop, beds=beds)


def apart(crop: str, other: str) -> Pin:
    """Keep two crops out of one bed at one time."""
    return Pin(PinRule.APART, None, crop=crop, apart_from=other)


def planned(question: PlanQuestion, *pins: Pin) -> Plan:
    """Plan around some pins, audited."""
    return make_plan(replace(question, pins=pins), USUAL)


def ground(plan: Plan, crop: str, bed_id: str | None = None) -> float:
    """Add up the ground of a crop, in one bed or all [m²]."""
    return sum(p.area_m2 for p in plan.plantings if p.crop == crop and bed_id in {None, p.bed})


def broken(plan: Plan) -> list[str]:
    """List the pins told as broken."""
    return [b.sentence for b in plan.broken if b.rule == "pin"]


def drawn(seed: int) -> tuple[Pin, ...]:
    """Draw two to four pins of every rule for a tiny garden."""
    draw = np.random.default_rng(seed)
    pins = []
    for _ in range(int(draw.integers(2, 5))):
        rule = list(PinRule)[int(draw.integers(0, len(PinRule)))]
        sized = rule in {PinRule.KEEP, PinRule.AT_LEAST, PinRule.AT_MOST}
        crop = ("beet", "chard")[int(draw.integers(0, 2))]
        pins.append(
            Pin(
                rule,
                None,
                bed=("east", "west", None)[int(draw.integers(0, 3))]
                if rule not in {PinRule.ONLY_IN, PinRule.APART}
                else None,
                area_m2=float(draw.uniform(0.6, 2.5)) if sized else None,
                crop=crop,
                beds=("east", "west")[: int(draw.integers(1, 3))]
                if rule is PinRule.ONLY_IN
                else (),
                apart_from={"beet": "chard", "chard": "beet"}[crop]
                if rule is PinRule.APART
                else None,
            )
        )
    return tuple(pins)


@pytest.mark.parametrize("seed", range(16))
def test_no_choice_of_patches_beats_the_plan_around_pins_of_every_rule(seed: int) -> None:
    """Around pins that can be kept, the plan costs what the best choice of patches costs."""
    question = tiny(seed)
    question = replace(question, pins=drawn(seed))
    best = cheapest(question)
    plan = make_plan(question, USUAL)
    if np.isfinite(best):
        assert broken(plan) == []
        assert plan.solver.objective == pytest.approx(best, rel=1e-6, abs=1e-6)
        assert pooled_bound(tabulate(question), 10) <= best + 1e-6
    else:
        assert broken(plan) != []


@given(st.integers(0, 10_000))
@settings(max_examples=12, deadline=None)
def test_every_limit_is_kept_whatever_is_asked(seed: int) -> None:
    """Bare ground keeps every limit: however pins clash, the audit finds no limit broken."""
    question = tiny(seed)
    plan = planned(question, *drawn(seed))
    assert audit(plan, replace(question, pins=drawn(seed))) == ()


def test_at_least_so_much_of_a_crop_is_planted_in_all_its_sowings() -> None:
    """Six square metres of beet may be early and late beet, in any bed; more is allowed."""
    question = replace(SMALL, sowings=(CHARD, BEET, LATE_BEET))
    plan = planned(question, at_least("beet", 6.0))
    assert ground(plan, "beet") >= 6.0 - 1e-6
    assert broken(plan) == []
    beet = next(p for p in plan.plantings if p.crop == "beet")
    assert beet.bounds[0].sentence == (
        "it was settled by hand that there is at least 6.00 m² of beet"
    )
    assert ground(planned(SMALL, at_least("beet", 0.6)), "beet") > 0.7


def test_at_most_is_never_passed_and_named_where_it_binds() -> None:
    """One square metre of beet is all there is of it, and the planting says by whose hand."""
    plan = planned(SMALL, at_most("beet", 1.0))
    assert ground(plan, "beet") == pytest.approx(1.0, abs=1e-6)
    beet = next(p for p in plan.plantings if p.crop == "beet")
    assert ("limit", "it was settled by hand that there is at most 1.00 m² of beet") in {
        (bound.rule, bound.sentence) for bound in beet.bounds
    }
    assert ground(planned(SMALL, at_most("beet", 0.3)), "beet") == 0.0


def test_only_in_a_bed_is_nowhere_else() -> None:
    """Beet only in west stands in west, though east has more room."""
    plan = planned(SMALL, only_in("beet", "west"))
    assert ground(plan, "beet") == ground(plan, "beet", "west") > 0
    beet = next(p for p in plan.plantings if p.crop == "beet")
    assert "it was settled by hand: beet only in west" in {b.sentence for b in beet.bounds}


def test_two_crops_kept_apart_share_no_bed_at_one_time() -> None:
    """Beet and chard kept apart take a bed each; late beet may follow chard in its bed."""
    question = replace(SMALL, sowings=(CHARD, BEET, LATE_BEET))
    plan = planned(question, apart("beet", "chard"))
    for one in plan.plantings:
        for other in plan.plantings:
            if (one.crop, other.crop) == ("beet", "chard") and one.bed == other.bed:
                assert one.until_week <= other.from_week or other.until_week <= one.from_week


def test_a_family_is_kept_apart_from_a_crop_of_another() -> None:
    """The roots kept apart from chard: beet, a root, is in no bed with chard."""
    pin = Pin(PinRule.APART, None, family="roots", apart_from="chard")
    plan = planned(SMALL, pin)
    beds = [{p.bed for p in plan.plantings if p.crop == crop} for crop in ("beet", "chard")]
    assert not beds[0] & beds[1]


def test_what_stands_counts_against_a_limit_and_is_told() -> None:
    """Beet that stands on more than is allowed stays, none is added, and it is told."""
    stood = replace(
        sowing("beet", -4, 8, food("beet", range(4, 8))),
        id="beet/kind:direct:before",
        sow_on=FIRST_DAY - timedelta(weeks=4),
    )
    question = replace(SMALL, standing=(Standing(stood, "east", 2.0),))
    plan = planned(question, at_most("beet", 1.5), apart("beet", "chard"))
    assert [p.standing for p in plan.plantings if p.crop == "beet"] == [True]
    assert {p.bed for p in plan.plantings if p.crop == "chard"} <= {"east", "west"}
    assert not any(p.bed == "east" and p.from_week < 8 for p in plan.plantings if p.crop == "chard")
    told = {f.where: f.what for f in plan.findings}
    assert told["pin 1"] == (
        "it limits by hand at most 1.50 m² of beet: it stands already, and what stands is not"
        " moved."
    )


def test_a_year_narrows_a_pin_to_what_is_sown_in_it() -> None:
    """Beet asked for in a year in which none can be sown is told, with when it can be."""
    (told,) = broken(planned(SMALL, at_least("beet", 2.0, year=2031)))
    assert told.endswith("it can be sown from 15 March 2027 to 15 March 2027, and not in that year")


def test_limits_hold_in_a_garden_too_large_to_solve_whole() -> None:
    """By every effort the limits of a larger garden are kept, and the bound lies below the plan."""
    question = middling(1)
    pins = (
        at_least("crop-0", 3.0),
        at_most("crop-1", 1.2),
        only_in("crop-2", "bed-1", "bed-2"),
        apart("crop-3", "crop-4"),
        at_most("crop-5", 0.6, "bed-0"),
    )
    for name in ("quick", "usual"):
        plan = make_plan(replace(question, pins=pins), EFFORTS[name])
        assert broken(plan) == []
        assert ground(plan, "crop-0") >= 3.0 - 1e-6
        assert ground(plan, "crop-1") <= 1.2 + 1e-6
        assert ground(plan, "crop-2", "bed-0") == 0.0
        assert plan.solver.bound <= plan.solver.objective


@pytest.mark.parametrize(
    ("pin", "where"),
    [
        (only_in("beet", "west"), "east"),
        (at_most("beet", 1.0), "west"),
        (apart("beet", "chard"), "west"),
    ],
)
def test_a_plan_that_passes_a_limit_fails_its_audit(pin: Pin, where: str) -> None:
    """A planting moved or grown beyond what was limited by hand is found."""
    question = replace(SMALL, pins=(pin,))
    plan = make_plan(question, USUAL)
    beet = next(p for p in plan.plantings if p.crop == "beet")
    chard = next(p for p in plan.plantings if p.crop == "chard")
    if pin.rule is PinRule.APART:
        where = chard.bed
    more = replace(beet, id="beet-9", bed=where)
    found = audit(replace(plan, plantings=(*plan.plantings, more)), question)
    assert "pin 1" in {finding.where for finding in found}
