"""Pins told: what of them could not be kept and why, what clashes, and what speaks of nothing."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import combinations

from haulm.growing.records import Sowing
from haulm.measure.findings import Finding, Grade
from haulm.measure.sentences import listed
from haulm.plan.pins import ASKING, Pin, PinRule
from haulm.plan.records import Bound, BrokenRule
from haulm.planner.arrays import Floats
from haulm.planner.clashes import Clash
from haulm.planner.pin_sentences import day_words, settled_words, spoken_of
from haulm.planner.pins import (
    NEAR_M2,
    asked_m2,
    asking,
    clash_in,
    forbidden,
    matches,
    names_it,
    speaks_of,
    standing_of,
)
from haulm.planner.question import BedGround, PlanQuestion
from haulm.planner.rules.closed_beds import open_to
from haulm.planner.rules.least_patch import least_patch_m2
from haulm.planner.rules.registry import LIMIT, PIN
from haulm.planner.rules.sun import sunny_enough
from haulm.planner.settle import CLOSE_M2, Kept
from haulm.planner.tables import Tables
from haulm.planner.words import area, name

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
    for number, pin in asking(question):
        asked = asked_m2(question, pin)
        kept = settled.get(number)
        held = 0.0 if kept is None else float(area_m2[kept.pairs].sum())
        off = abs(asked - held) if pin.exact else max(0.0, asked - held)
        if asked <= 0 or off <= NEAR_M2:
            continue
        apart = 0.0 if kept is None else abs(held - kept.settled_m2)
        stood = sum(stand.area_m2 for stand in standing_of(question, pin))
        against = _against(tables.clashes, number)
        why = _why(tables, pin, kept, held) if against is None else against
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
                f"kept by hand, {asked_for(question, pin)}:"
                f" {' and '.join(done) or 'it is not planted'}, for {why}"
            ),
        )


def clashes_told(tables: Tables) -> Iterator[Finding]:
    """Name the pins that cannot all be kept together, the fewest that clash, in one finding each.

    What each could have beside the others is told with them.
    """
    question = tables.question
    for clash in tables.clashes:
        if len(clash.pins) > 1:
            both = "both" if len(clash.pins) == 2 else "all"  # noqa: PLR2004 - two are both
            pins = [(n + 1, question.pins[n]) for n in clash.pins]
            them = "; ".join(f"{n}. {asked_for(question, pin)}" for n, pin in pins)
            ways = "; ".join(_way_out(question, clash, index) for index in range(len(clash.pins)))
            yield Finding(
                f"pins {listed([str(n + 1) for n in clash.pins])}",
                f"they cannot {both} be kept: {them}. Any one of them left out, the rest can.",
                f"Change one of them: {ways}.",
                Grade.WARNING,
            )


def _way_out(question: PlanQuestion, clash: Clash, index: int) -> str:
    """Say what one pin of a clash would have to give up for all the others."""
    number, could = clash.pins[index], clash.could_m2[index]
    pin = question.pins[number]
    if could is None or (pin.rule in ASKING and could <= NEAR_M2):
        return f"pin {number + 1} would have to go"
    if pin.rule is PinRule.AT_MOST:
        return f"pin {number + 1} would have to allow {area(question, could)}"
    return f"pin {number + 1} could have {area(question, could)}"


def _against(told: Sequence[Clash], number: int) -> str | None:
    """Name the other pins that a pin clashes with; None where it clashes with none."""
    for clash in told:
        if number in clash.pins and len(clash.pins) > 1:
            others = [f"pin {other + 1}" for other in clash.pins if other != number]
            stand = "stands" if len(others) == 1 else "together stand"
            return f"{listed(others)} {stand} against it"
    return None


def asked_for(question: PlanQuestion, pin: Pin) -> str:
    """Say what a pin settles, in the question's names and units."""
    return settled_words(pin, question.names, question.units)


def bound_by_hand(tables: Tables, pair: int, area_m2: Floats) -> Iterator[Bound]:
    """Say what was settled by hand about a patch, and whether its size was.

    ``area_m2`` (P) is the plan's ground.
    """
    question = tables.question
    for kept in tables.kept:
        if pair in kept.pairs:
            yield Bound(PIN.name, _kept_words(question, question.pins[kept.number]))
    for cap in tables.limits.caps:
        if pair in cap.pairs and area_m2[cap.pairs].sum() >= cap.most_m2 - CLOSE_M2:
            most = asked_for(question, question.pins[cap.number])
            yield Bound(LIMIT.name, f"it was settled by hand that there is {most}")
    sowing = tables.ground.sowings[tables.ground.pair_sowing[pair]]
    bed = tables.ground.beds[tables.ground.pair_bed[pair]].id
    for pin in question.pins:
        only = pin.rule is PinRule.ONLY_IN and speaks_of(pin, sowing)
        sides = speaks_of(pin, sowing) or names_it(pin.apart_from, sowing)
        if only or (pin.rule is PinRule.APART and pin.bed in {None, bed} and sides):
            yield Bound(LIMIT.name, f"it was settled by hand: {asked_for(question, pin)}")


def _kept_words(question: PlanQuestion, pin: Pin) -> str:
    """Say of a patch what a pin that asks for ground settles about it."""
    if pin.rule is PinRule.AT_LEAST:
        return f"it was settled by hand that there is {asked_for(question, pin)}"
    if pin.area_m2 is None:
        return "it was settled by hand that it is planted; its size was left to the plan"
    return f"it was settled by hand, at {area(question, pin.area_m2)}"


def idle_pins(question: PlanQuestion) -> Iterator[Finding]:
    """Tell the pins that limit what is not on offer anyway, or what stands already."""
    beds = [bed.id for bed in question.beds]
    for number, pin in enumerate(question.pins):
        stands = _stands_against(question, pin)
        on_offer = any(matches(pin, sowing, bed) for sowing in question.sowings for bed in beds)
        if pin.rule in ASKING or (on_offer and (not stands or pin.rule is PinRule.FORBID)):
            continue
        why = "it stands already, and what stands is not moved" if stands else "none is on offer"
        limits = "forbids" if pin.rule is PinRule.FORBID else "limits by hand"
        what = (
            spoken_of(pin, question.names, question.units)
            if pin.rule is PinRule.FORBID
            else asked_for(question, pin)
        )
        yield Finding(
            f"pin {number + 1}",
            f"it {limits} {what}: {why}.",
            "Take it out, or name another kind, bed or week.",
            Grade.WARNING,
        )


def _stands_against(question: PlanQuestion, pin: Pin) -> bool:
    """Say whether what stands breaks a limit already."""
    if pin.rule is PinRule.ONLY_IN:
        return any(
            speaks_of(pin, stand.sowing) and stand.bed not in pin.beds
            for stand in question.standing
        )
    if pin.rule is PinRule.APART:
        return any(
            one.bed == other.bed and clash_in(pin, one.sowing, other.sowing)
            for one, other in combinations(question.standing, 2)
            if pin.bed in {None, one.bed}
        )
    stood = sum(stand.area_m2 for stand in standing_of(question, pin))
    return stood > (pin.area_m2 or 0.0) if pin.rule is PinRule.AT_MOST else stood > 0.0


def _why(tables: Tables, pin: Pin, kept: Kept | None, held_m2: float) -> str:
    """Say what kept a pin from being kept."""
    if kept is None:
        return _unfit(tables.question, pin)
    question, ground = tables.question, tables.ground
    asked, least = asked_m2(question, pin), float(ground.least_m2[kept.pairs].min())
    if asked < least and held_m2 <= least + NEAR_M2:
        return f"the smallest patch of it worth having is {area(question, least)}"
    if held_m2 > asked and pin.exact:
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
    kinds = [
        sowing
        for sowing in question.sowings
        if speaks_of(replace(pin, method=None, sow_on=None, year=None), sowing)
    ]
    ways = [sowing for sowing in kinds if pin.method in {None, sowing.method}]
    sowings = [sowing for sowing in ways if speaks_of(pin, sowing)]
    beds = [bed for bed in question.beds if pin.bed in {None, bed.id}]
    if not kinds:
        return "no sowing of it can be made within these weeks"
    if not ways:
        offered = sorted({name(question, sowing.method) for sowing in kinds})
        return f"it is not started so here, only {' or '.join(offered)}"
    if not sowings:
        first, last = (day_words(pick(sowing.sow_on for sowing in ways)) for pick in (min, max))
        when = "week" if pin.sow_on is not None else "year"
        return f"it can be sown from {first} to {last}, and not in that {when}"
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
