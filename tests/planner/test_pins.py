"""Pins: what is kept by hand is planted, what is forbidden is not, the rest is the best plan."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from haulm.ground.records import Closure
from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Plan
from haulm.planner.audit import audit
from haulm.planner.bound import pooled_bound
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion, Standing
from haulm.planner.solve import EFFORTS
from haulm.planner.tables import tabulate
from planner.brute_force import cheapest, middling, tiny
from planner.tiny_gardens import FIRST_DAY, HORIZON, USUAL, bed, food, garden, sowing, wants

CHARD = sowing("chard", 2, 16, food("chard", range(8, 16)), family="leaves")
BEET = sowing("beet", 2, 14, food("beet", range(10, 14)))
SMALL = garden(
    [CHARD, BEET],
    [wants("chard", range(8, 16)), wants("beet", range(10, 14))],
    [bed("east", 4.0), bed("west", 3.0)],
)


def keep(kind: str, area_m2: float | None = None, bed_id: str | None = None) -> Pin:
    """Keep some of a kind."""
    return Pin(PinRule.KEEP, f"{kind}/kind", bed_id, area_m2=area_m2)


def forbid(kind: str, bed_id: str | None = None) -> Pin:
    """Forbid a kind."""
    return Pin(PinRule.FORBID, f"{kind}/kind", bed_id)


def planned(question: PlanQuestion, *pins: Pin) -> Plan:
    """Plan around some pins, audited."""
    return make_plan(replace(question, pins=pins), USUAL)


def ground(plan: Plan, kind: str, bed_id: str | None = None) -> float:
    """Add up the ground of a kind, in one bed or all [m²]."""
    return sum(p.area_m2 for p in plan.plantings if p.crop == kind and bed_id in {None, p.bed})


def broken(plan: Plan) -> list[tuple[str, float, str]]:
    """List the pins told as broken."""
    return [(b.where, b.amount, b.sentence) for b in plan.broken if b.rule == "pin"]


def drawn_pins(question: PlanQuestion, seed: int) -> tuple[Pin, ...]:
    """Draw one to three pins for a tiny garden."""
    draw = np.random.default_rng(seed)
    pins = []
    for _ in range(int(draw.integers(1, 4))):
        sown = question.sowings[int(draw.integers(0, len(question.sowings)))]
        rule = PinRule.KEEP if draw.random() < 0.7 else PinRule.FORBID
        pins.append(
            Pin(
                rule,
                sown.kind,
                bed=("east", "west", None)[int(draw.integers(0, 3))],
                sow_on=sown.sow_on + timedelta(3) if draw.random() < 0.5 else None,
                area_m2=float(draw.uniform(0.5, 1.5))
                if rule is PinRule.KEEP and draw.random() < 0.7
                else None,
            )
        )
    return tuple(pins)


@pytest.mark.parametrize("seed", range(16))
def test_no_choice_of_patches_beats_the_pinned_plan(seed: int) -> None:
    """Around pins that can be kept, the plan costs what the best choice of patches costs."""
    question = tiny(seed)
    question = replace(question, pins=drawn_pins(question, seed))
    best = cheapest(question)
    plan = make_plan(question, USUAL)
    if np.isfinite(best):
        assert broken(plan) == []
        assert plan.solver.objective == pytest.approx(best, rel=1e-6, abs=1e-6)
        assert pooled_bound(tabulate(question), 10) <= best + 1e-6
    else:
        assert broken(plan) != []


@given(st.integers(0, 10_000))
@settings(max_examples=15, deadline=None)
def test_what_is_forbidden_is_never_planted(seed: int) -> None:
    """Whatever else is pinned, no patch is one that a pin forbids, and the audit agrees."""
    question = tiny(seed)
    pins = drawn_pins(question, seed)
    for p in planned(question, *pins).plantings:
        for pin in pins:
            same = pin.kind == p.kind and pin.bed in {None, p.bed}
            week = pin.sow_on is None or pin.sow_on - timedelta(3) == p.sow_on
            assert pin.rule is PinRule.KEEP or not (same and week)


@given(st.integers(0, 10_000))
@settings(max_examples=15, deadline=None)
def test_one_more_pin_never_makes_a_better_plan(seed: int) -> None:
    """Whoever settles one thing more by hand leaves the plan no better than it was."""
    question = tiny(seed)
    pins = drawn_pins(question, seed)
    assume(all(pin.rule is PinRule.KEEP for pin in pins))
    fewer, more = (planned(question, *some).solver.objective for some in (pins[:-1], pins))
    assert more >= fewer - 1e-5 * (1.0 + fewer)


def test_a_size_pinned_is_the_size_planted() -> None:
    """Five square metres of beet over all beds are five square metres, though less would do."""
    plan = planned(SMALL, keep("beet", 5.0))
    assert ground(plan, "beet") == pytest.approx(5.0, abs=1e-6)
    assert broken(plan) == []


def test_a_pin_without_a_size_is_planted_at_least_smallest() -> None:
    """What nobody eats is planted all the same where it was settled by hand, and no larger."""
    question = replace(SMALL, appetites=SMALL.appetites[:1])
    plan = planned(question, keep("beet", bed_id="west"))
    assert ground(plan, "beet", "west") == pytest.approx(0.5, abs=1e-6)
    (beet,) = (p for p in plan.plantings if p.crop == "beet")
    assert beet.bounds[0].rule == "pin"
    assert "settled by hand" in beet.bounds[0].sentence


def test_a_bed_too_small_holds_what_it_can_of_a_pin() -> None:
    """Six square metres in a bed of four are four, and the plan says why and what is planted."""
    plan = planned(SMALL, keep("beet", 6.0, "east"))
    assert ground(plan, "beet", "east") == pytest.approx(4.0, abs=1e-6)
    ((where, amount, sentence),) = broken(plan)
    assert where == "pin 1"
    assert amount == pytest.approx(2.0, abs=1e-6)
    assert sentence.endswith("4.00 m² is planted, for east holds no more than 4.00 m²")


def test_of_two_pins_that_clash_the_first_is_kept() -> None:
    """Two kinds pinned to all of one bed at one time: the first has it, the second is told."""
    plan = planned(SMALL, keep("beet", 4.0, "east"), keep("chard", 4.0, "east"))
    assert ground(plan, "beet", "east") == pytest.approx(4.0, abs=1e-6)
    ((where, amount, sentence),) = broken(plan)
    assert where == "pin 2"
    assert amount == pytest.approx(4.0, abs=1e-6)
    assert sentence.endswith("it is not planted, for pin 1 stands against it")


def test_ground_full_of_a_broken_pin_is_told_no_wild_worth() -> None:
    """The price of leaving a pin never shows as what a square metre more would feed."""
    plan = planned(SMALL, keep("beet", 6.0, "east"), keep("chard", 6.0, "west"))
    for planting in plan.plantings:
        assert all((bound.worth_kg or 0.0) < 50.0 for bound in planting.bounds)


@pytest.mark.parametrize(
    ("pin", "change", "why"),
    [
        (keep("leek"), {}, "no sowing of it can be made within these weeks"),
        (replace(keep("beet"), method="sets"), {}, "it is not started so here, only direct"),
        (
            replace(keep("beet"), sow_on=date(2027, 6, 1)),
            {},
            "it can be sown from 15 March 2027 to 15 March 2027, and not in that week",
        ),
        (keep("beet", bed_id="north"), {}, "there is no bed “north”"),
        (
            keep("beet", bed_id="east"),
            {"closures": (Closure("east", "roots", "canker", 2026, 2031, 2030, 2031),)},
            "east is closed to the roots until 2031",
        ),
        (
            keep("beet", bed_id="east"),
            {"too_dark": frozenset({("east", "beet/kind")})},
            "east gets less sun than it needs",
        ),
        (
            keep("beet", bed_id="tunnel"),
            {"beds": (*SMALL.beds, bed("tunnel", 3.0, under_cover=True))},
            "it is grown in the open then, and tunnel lies under cover",
        ),
        (
            keep("beet", bed_id="box"),
            {"beds": (*SMALL.beds, bed("box", 0.3))},
            "the smallest patch of it is 0.50 m², and box holds 0.30 m²",
        ),
        (keep("beet", 0.2), {}, "the smallest patch of it worth having is 0.50 m²"),
    ],
)
def test_a_pin_that_cannot_be_kept_says_why(pin: Pin, change: dict[str, object], why: str) -> None:
    """There is always a plan, and what of a pin is not in it is told in garden words."""
    plan = planned(replace(SMALL, **change), pin)  # type: ignore[arg-type]
    ((_, amount, sentence),) = broken(plan)
    assert amount > 0
    assert sentence.startswith("kept by hand, ")
    assert sentence.endswith(f", for {why}")


def test_forbidding_outdoes_keeping() -> None:
    """What is both kept and forbidden is not planted, and the plan says so."""
    plan = planned(SMALL, keep("beet", 2.0), forbid("beet"))
    assert ground(plan, "beet") == 0.0
    assert broken(plan)[0][2].endswith("for pin 2 stands against it")


def test_forbidding_what_nobody_offers_is_told() -> None:
    """A pin that forbids a kind not on offer is not dropped in silence."""
    found = planned(SMALL, forbid("leek", "east")).findings
    assert [(f.where, f.what) for f in found] == [
        ("pin 1", "it forbids leek/kind in east: none is on offer.")
    ]


def test_what_stands_keeps_a_pin() -> None:
    """Beet that stands already counts: what is asked beyond it is planted, and no more."""
    stood = replace(
        sowing("beet", -4, 8, food("beet", range(4, 8))),
        id="beet/kind:direct:before",
        sow_on=FIRST_DAY - timedelta(weeks=4),
    )
    question = replace(SMALL, standing=(Standing(stood, "east", 1.5),))
    assert ground(planned(question, keep("beet", 4.0)), "beet") == pytest.approx(4.0, abs=1e-6)
    met = planned(replace(question, appetites=()), keep("beet", 1.0, "east"), keep("beet"))
    assert [p.standing for p in met.plantings] == [True]
    assert broken(met) == []
    kept_on = planned(question, forbid("beet"))
    assert ground(kept_on, "beet") == pytest.approx(1.5)


def test_pins_hold_in_a_garden_too_large_to_solve_whole() -> None:
    """By every effort the pins of a larger garden are kept, and the bound lies below the plan."""
    question = middling(1)
    pins = (
        Pin(PinRule.KEEP, "crop-1/kind", "bed-2", area_m2=3.0),
        Pin(PinRule.KEEP, "crop-2/kind", area_m2=2.25),
        Pin(PinRule.KEEP, "crop-3/kind", "bed-0"),
        Pin(PinRule.FORBID, "crop-4/kind", "bed-1"),
        Pin(PinRule.FORBID, "crop-5/kind", sow_on=question.sowings[-1].sow_on),
    )
    for name in ("quick", "usual"):
        plan = make_plan(replace(question, pins=pins), EFFORTS[name])
        assert broken(plan) == []
        assert ground(plan, "crop-1", "bed-2") == pytest.approx(3.0, abs=1e-6)
        assert ground(plan, "crop-2") == pytest.approx(2.25, abs=1e-6)
        assert ground(plan, "crop-3", "bed-0") >= 0.5 - 1e-6
        assert ground(plan, "crop-4", "bed-1") == 0.0
        assert plan.solver.bound <= plan.solver.objective


def test_a_plan_that_dropped_a_pin_fails_its_audit() -> None:
    """A planting kept by hand and gone, shrunk, or planted though forbidden is found."""
    pins = (keep("beet", 2.0, "east"), forbid("chard", "west"))
    question = replace(SMALL, pins=pins)
    plan = make_plan(question, USUAL)
    beet = next(p for p in plan.plantings if p.crop == "beet")
    others = tuple(p for p in plan.plantings if p is not beet)
    chard = next(p for p in plan.plantings if p.crop == "chard")
    for altered, pin in (
        (others, "pin 1"),
        ((*others, replace(beet, area_m2=1.9)), "pin 1"),
        ((*plan.plantings, replace(chard, id="chard-9", bed="west")), "pin 2"),
    ):
        found = audit(replace(plan, plantings=altered), question)
        assert pin in {finding.where for finding in found}
    silent = replace(plan, plantings=others, broken=plan.broken)
    assert "pin 1" in {finding.where for finding in audit(silent, question)}


def test_a_break_told_of_no_pin_fails_the_audit() -> None:
    """A plan may not tell a pin broken that is kept, nor one that nobody made."""
    plan = planned(SMALL, keep("beet", 6.0, "east"))
    found = audit(plan, SMALL)
    assert {finding.where for finding in found} == {"pin 1"}
    assert HORIZON.weeks == plan.horizon.weeks


def test_a_shortage_that_a_pin_brings_about_says_so() -> None:
    """Whoever forbids a kind reads that its line is short by their own hand."""
    (short,) = {s.sentence.partition(": ")[2] for s in planned(SMALL, forbid("chard")).shortages}
    assert short == "what could give it is forbidden by hand, or has no bed"
