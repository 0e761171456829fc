"""Pins told: what of them could not be kept and why, and those that speak of nothing on offer."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date
from functools import partial

from haulm.growing.records import Sowing
from haulm.measure.findings import Finding, Grade
from haulm.plan.records import Bound, BrokenRule, Pin, PinRule
from haulm.planner.arrays import Floats
from haulm.planner.pins import NEAR_M2, asked_m2, forbidden, keeping, matches
from haulm.planner.question import BedGround, PlanQuestion
from haulm.planner.rules.closed_beds import open_to
from haulm.planner.rules.least_patch import least_patch_m2
from haulm.planner.rules.registry import PIN
from haulm.planner.rules.sun import sunny_enough
from haulm.planner.settle import Kept
from haulm.planner.tables import Tables
from haulm.planner.words import MONTHS, area, name

Place = tuple[Sowing, BedGround]
Test = Callable[[Sowing, BedGround], bool]
Telling = Callable[[PlanQuestion, Sowing, BedGround], str]


def broken_pins(tables: Tables, area_m2: Floats) -> Iterator[BrokenRule]:
    """Tell every pin that is not kept as it was asked: how far from it, why, what is planted.

    ``area_m2`` (P) is the plan's ground. The price is that of what might have been kept; what no
    plan could keep has none.
    """
    question = tables.question
    settled = {kept.number: kept for kept in tables.kept}
    for number, pin in keeping(question):
        asked = asked_m2(question, pin)
        kept = settled.get(number)
        held = 0.0 if kept is None else float(area_m2[kept.pairs].sum())
        off = abs(asked - held) if pin.area_m2 is not None else max(0.0, asked - held)
        if asked <= 0 or off <= NEAR_M2:
            continue
        apart = 0.0 if kept is None else abs(held - kept.settled_m2)
        stood = sum(p.area_m2 for p in question.standing if matches(pin, p.sowing, p.bed))
        done = [
            f"{area(question, m2)} {verb}"
            for m2, verb in ((stood, "stands"), (held, "is planted"))
            if m2 > 0
        ]
        yield BrokenRule(
            rule=PIN.name,
            where=f"pin {number + 1}",
            amount=off,
            unit="m²",
            price=question.prices.pin_m2 * apart if apart > NEAR_M2 else 0.0,
            sentence=(
                f"kept by hand, {_what(question, pin)}:"
                f" {' and '.join(done) or 'it is not planted'}, for {_why(tables, pin, kept, held)}"
            ),
        )


def bound_by_hand(tables: Tables, pair: int) -> Iterator[Bound]:
    """Say of a patch that it was settled by hand, and whether its size was."""
    question = tables.question
    for kept in tables.kept:
        if pair in kept.pairs:
            asked = question.pins[kept.number].area_m2
            sentence = "it was settled by hand that it is planted; its size was left to the plan"
            if asked is not None:
                sentence = f"it was settled by hand, at {area(question, asked)}"
            yield Bound(PIN.name, sentence)


def idle_pins(question: PlanQuestion) -> Iterator[Finding]:
    """Tell the pins that forbid what is not on offer anyway."""
    beds = [bed.id for bed in question.beds]
    for number, pin in enumerate(question.pins):
        on_offer = any(matches(pin, sowing, bed) for sowing in question.sowings for bed in beds)
        if pin.rule is PinRule.KEEP or on_offer:
            continue
        stands = any(matches(pin, stand.sowing, stand.bed) for stand in question.standing)
        why = "it stands already, and what stands is not moved" if stands else "none is on offer"
        yield Finding(
            f"pin {number + 1}",
            f"it forbids {_what(question, pin)}: {why}.",
            "Take it out, or name another kind, bed or week.",
            Grade.WARNING,
        )


def _what(question: PlanQuestion, pin: Pin) -> str:
    """Name what a pin speaks of: *leek, winter, in Abacus on 6.00 m²*."""
    words = name(question, pin.kind)
    if pin.method is not None:
        words += f", {name(question, pin.method)},"
    if pin.bed is not None:
        words += f" in {name(question, pin.bed)}"
    if pin.sow_on is not None:
        words += f" sown in the week of {_day(pin.sow_on)}"
    if pin.area_m2 is not None:
        words += f" on {area(question, pin.area_m2)}"
    return words


def _why(tables: Tables, pin: Pin, kept: Kept | None, held_m2: float) -> str:
    """Say what kept a pin from being kept."""
    if kept is None:
        return _unfit(tables.question, pin)
    question, ground = tables.question, tables.ground
    asked, least = asked_m2(question, pin), float(ground.least_m2[kept.pairs].min())
    if asked < least and held_m2 <= least + NEAR_M2:
        return f"the smallest patch of it worth having is {area(question, least)}"
    if held_m2 > asked:
        return "another pin keeps more of it"
    beds = sorted({int(bed) for bed in ground.pair_bed[kept.pairs]})
    room = sum(ground.beds[bed].area_m2 for bed in beds)
    one = len(beds) == 1
    where = name(question, ground.beds[beds[0]].id) if one else "the beds it may have"
    if room < asked and len(kept.pairs) == len(beds):
        return f"{where} {'holds' if one else 'hold'} no more than {area(question, room)}"
    return f"what stands, or another pin keeps, has the rest of {where} at that time"


def _unfit(question: PlanQuestion, pin: Pin) -> str:
    """Find the first thing that leaves a pin no sowing and no bed, and say it."""
    kinds = [sowing for sowing in question.sowings if sowing.kind == pin.kind]
    ways = [sowing for sowing in kinds if pin.method in {None, sowing.method}]
    sowings = [sowing for sowing in ways if matches(replace(pin, bed=None), sowing, "")]
    beds = [bed for bed in question.beds if pin.bed in {None, bed.id}]
    if not kinds:
        return "no sowing of it can be made within these weeks"
    if not ways:
        offered = sorted({name(question, sowing.method) for sowing in kinds})
        return f"it is not started so here, only {' or '.join(offered)}"
    if not sowings:
        first, last = (_day(pick(sowing.sow_on for sowing in ways)) for pick in (min, max))
        return f"it can be sown from {first} to {last}, and not in that week"
    if not beds:
        return f"there is no bed “{pin.bed}”"
    return _unfit_bed(question, [(sowing, bed) for sowing in sowings for bed in beds])


def _unfit_bed(question: PlanQuestion, places: list[Place]) -> str:
    """Find the first thing that leaves some sowings no bed, and say it of the last bed left."""
    tests: tuple[tuple[Test, Telling], ...] = (
        (lambda s, b: s.under_cover == b.under_cover, _other_side),
        (partial(open_to, question), _closed),
        (partial(sunny_enough, question), _dark),
        (lambda s, b: b.area_m2 >= least_patch_m2(question, s, b), _small),
        (lambda s, b: not forbidden(question, s, b.id), _forbidden),
    )
    for fits, tell in tests:
        fit = [place for place in places if fits(*place)]
        if not fit:
            return tell(question, *max(places, key=lambda place: place[1].area_m2))
        places = fit
    return "no bed can take it"


def _other_side(question: PlanQuestion, sowing: Sowing, bed: BedGround) -> str:
    side, other = ("under cover", "in the open")[:: 1 if sowing.under_cover else -1]
    return f"it is grown {side} then, and {name(question, bed.id)} lies {other}"


def _closed(question: PlanQuestion, sowing: Sowing, bed: BedGround) -> str:
    last = max(
        (one for one in question.closures if one.keeps_off(bed.id, sowing.family, sowing.crop)),
        key=lambda closure: closure.until_year,
    )
    kept_off = name(question, last.crop) if last.crop else f"the {name(question, sowing.family)}"
    return f"{name(question, bed.id)} is closed to {kept_off} until {last.until_year}"


def _dark(question: PlanQuestion, _sowing: Sowing, bed: BedGround) -> str:
    return f"{name(question, bed.id)} gets less sun than it needs"


def _small(question: PlanQuestion, sowing: Sowing, bed: BedGround) -> str:
    least = area(question, least_patch_m2(question, sowing, bed))
    held = area(question, bed.area_m2)
    return f"the smallest patch of it is {least}, and {name(question, bed.id)} holds {held}"


def _forbidden(_: PlanQuestion, _sowing: Sowing, _bed: BedGround) -> str:
    return "another pin forbids it"


def _day(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
