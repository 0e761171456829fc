"""Claims about the audit: a plan that agrees is let pass, and each way of breaking it is told."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from haulm.catalogue.records import Form, Picking, Role, StoreKind
from haulm.ground.records import Closure
from haulm.growing.records import ReadyDates, Sowing, SowingFood, Window
from haulm.household.records import Appetite, Wanted
from haulm.larder.records import KeepRule, LotInHand, StorePlace
from haulm.measure.errors import AuditFailedError
from haulm.measure.weeks import Horizon
from haulm.plan.records import (
    BrokenRule,
    Expects,
    Helping,
    HoursWeek,
    Lot,
    Pick,
    Plan,
    PlanBed,
    Planting,
    Ready,
    Serves,
    Shortage,
    SolverReport,
    TableWeek,
)
from haulm.planner.audit import audit, insist
from haulm.planner.question import BedGround, PlanQuestion, SeedBack, Standing

HORIZON = Horizon(date(2027, 1, 4), 60)
DAY = date(2027, 1, 4)
SOUND = tuple(1 - age / 80 for age in range(56))
Broken = tuple[Plan, PlanQuestion]


def food(name: str, role: Role, picking: Picking, weeks: range, yield_kg_m2: float) -> SowingFood:
    """Offer a food over some weeks, at 10 minutes' picking a kilogram."""
    share = 1.0 if picking is Picking.STAND else 1 / len(weeks)
    return SowingFood(
        food=name,
        role=role,
        picking=picking,
        ready=ReadyDates(DAY, DAY, DAY),
        first_week=weeks[0],
        week_shares=tuple((week, share) for week in weeks),
        yield_kg_m2=yield_kg_m2,
        yield_low_kg_m2=yield_kg_m2 / 2,
        yield_high_kg_m2=yield_kg_m2 * 2,
        pick_min_kg=10.0,
    )


def sowing(
    kind: str, family: str, weeks: tuple[int, int], foods: tuple[SowingFood, ...], trays: int = 0
) -> Sowing:
    """Offer a sowing that holds ground over some weeks, after weeks in trays."""
    sow_on = HORIZON.monday(weeks[0] - trays)
    return Sowing(
        id=f"{kind}:{weeks[0]}",
        kind=kind,
        crop=kind.partition("/")[0],
        family=family,
        method="modules" if trays else "direct",
        under_cover=False,
        sow_on=sow_on,
        set_on=HORIZON.monday(weeks[0]),
        ground_from_week=weeks[0],
        ground_until_week=weeks[1],
        plants_m2=50.0,
        stock_m2=60.0,
        stock_unit="seed",
        stock_units_per_kg=1000.0,
        tray_weeks=(weeks[0] - trays, weeks[0]),
        cells_m2=50.0 if trays else 0.0,
        work_min_m2=((weeks[0], 20.0), (weeks[0] + 4, 5.0)),
        foods=foods,
        window=Window(
            kind=kind,
            method="direct",
            under_cover=False,
            first_day=sow_on,
            last_day=sow_on + timedelta(weeks=3),
            first_rule="frost",
            last_rule="time left",
        ),
    )


BULB = food("garlic bulb", Role.MAIN, Picking.ONCE, range(24, 25), 1.5)
GREEN = food("green garlic", Role.INSTEAD, Picking.SPREAD, range(14, 16), 1.0)
GARLIC = sowing("garlic/soft", "alliums", (1, 26), (BULB, GREEN))
NEXT = sowing(
    "garlic/soft",
    "alliums",
    (42, 77),
    (food("green garlic", Role.INSTEAD, Picking.SPREAD, range(58, 60), 1.0),),
)
LEAVES = food("lettuce leaf", Role.MAIN, Picking.SPREAD, range(16, 20), 2.0)
LETTUCE = sowing("lettuce/loose", "composites", (12, 20), (LEAVES,), trays=4)
SHANK = food("leek shank", Role.MAIN, Picking.STAND, range(12), 2.0)
LEEK = sowing("leek/winter", "alliums", (-20, 12), (SHANK,))


def planting(
    name: str, chosen: Sowing, bed: str, area: float, picks: tuple[Pick, ...] = ()
) -> Planting:
    """Plant a sowing on a bed; its work is filled in from ``picks``."""
    minutes = {week: each * area for week, each in chosen.work_min_m2}
    for pick in picks:
        minutes[pick.week] = minutes.get(pick.week, 0.0) + 10 * pick.kg
    return Planting(
        id=name,
        sowing=chosen.id,
        crop=chosen.crop,
        kind=chosen.kind,
        family=chosen.family,
        method=chosen.method,
        bed=bed,
        under_cover=False,
        area_m2=area,
        plants=round(area * 50),
        stock=area * 60,
        stock_unit="seed",
        sow_on=chosen.sow_on,
        set_on=chosen.set_on,
        in_ground_from=HORIZON.monday(chosen.ground_from_week),
        clear_by=HORIZON.monday(chosen.ground_until_week),
        from_week=chosen.ground_from_week,
        until_week=chosen.ground_until_week,
        tray_cells=round(area * chosen.cells_m2),
        tray_weeks=chosen.tray_weeks,
        minutes=tuple(sorted(minutes.items())),
        expects=(),
        ready=(),
        picks=picks,
        serves=(),
        earliest_sowing=chosen.window.first_day,
        latest_sowing=chosen.window.last_day,
        earliest_rule="frost",
        latest_rule="time left",
        sum=(),
        bounds=(),
        standing=chosen is LEEK,
    )


PLANTINGS = (
    replace(
        planting(
            "garlic-1",
            GARLIC,
            "long",
            4.0,
            (Pick("green garlic", 14, 0.5), Pick("garlic bulb", 24, 4.5)),
        ),
        expects=(Expects("garlic bulb", 4.5, 3.0, 6.0),),
        serves=(Serves("garlic", "garlic bulb", 2.2, 28, 59),),
    ),
    planting(
        "lettuce-1",
        LETTUCE,
        "round",
        1.0,
        tuple(Pick("lettuce leaf", week, 0.3) for week in range(16, 20)),
    ),
    planting("garlic-2", NEXT, "round", 2.0),
    planting("leek-1", LEEK, "short", 1.0, (Pick("leek shank", 3, 1.5),)),
)
BULB_WEEKS = tuple(range(28, 50))
IN_STORE = Lot(
    "bulbs-1",
    "garlic bulb",
    "garlic/soft",
    "cured",
    "shed",
    24,
    4.5,
    tuple((week, 0.1) for week in BULB_WEEKS),
    1.0,
    42,
    0.2,
    4.5 - 2.2 - 1.0 - 0.2,
    SOUND,
    3.0,
    2.0,
)
IN_HAND = Lot(
    "potatoes-1",
    "potato",
    "potato/main",
    "clamped",
    "cellar",
    0,
    10.0,
    tuple((week, 0.5) for week in range(10)),
    0.0,
    None,
    1.5,
    3.5,
    SOUND,
    2.0,
    0.0,
    in_hand=True,
    age_weeks=10,
)
HELPINGS = (
    Helping("garlic", "green garlic", 14, 0.1),
    *(Helping("garlic", "garlic bulb", week, 0.1, "bulbs-1") for week in BULB_WEEKS),
    *(Helping("lettuce", "lettuce leaf", week, 0.3) for week in range(16, 20)),
    Helping("leek", "leek shank", 3, 1.5),
    *(Helping("potato", "potato", week, 0.5, "potatoes-1") for week in range(10)),
)
APPETITES = (
    Appetite("garlic", "Garlic", ("garlic bulb", "green garlic"), Wanted.EITHER, 3, (0.1,) * 60),
    Appetite("lettuce", "Lettuce", ("lettuce leaf",), Wanted.FRESH, 3, (0.3,) * 60),
    Appetite("leek", "Leek", ("leek shank",), Wanted.FRESH, 3, (1.5,) * 60),
    Appetite("potato", "Potato", ("potato",), Wanted.KEPT, 3, (0.5,) * 60),
)


def table() -> tuple[TableWeek, ...]:
    """Set the table from the helpings."""
    rows = []
    for appetite in APPETITES:
        for week, wanted in enumerate(appetite.kg):
            mine = [h for h in HELPINGS if (h.line, h.week) == (appetite.line, week)]
            fresh = sum(h.kg for h in mine if h.lot is None)
            stored = sum(h.kg for h in mine if h.lot)
            rows.append(
                TableWeek(appetite.line, week, wanted, fresh, stored, wanted - fresh - stored)
            )
    return tuple(rows)


def hours() -> tuple[HoursWeek, ...]:
    """Add up the work by hand: plantings, and 2 minutes a kilogram of bulbs strung up."""
    asked = dict.fromkeys(range(60), 0.0)
    for each in PLANTINGS:
        for week, minutes in each.minutes:
            if week in asked:
                asked[week] += minutes / 60
    asked[24] += 4.5 * 2 / 60
    return tuple(HoursWeek(week, hours, 3.0) for week, hours in asked.items())


QUESTION = PlanQuestion(
    garden="old schoolhouse",
    made_on=DAY,
    horizon=HORIZON,
    beds=(
        BedGround(
            "long", "Long bed", 5.76, under_cover=False, last_year_of_family=(("alliums", 2020),)
        ),
        BedGround("round", "Round bed", 3.0, under_cover=False),
        BedGround("short", "Short bed", 1.5, under_cover=False),
        BedGround("tunnel", "Tunnel", 4.0, under_cover=True),
    ),
    sowings=(GARLIC, NEXT, LETTUCE),
    appetites=APPETITES,
    keep_rules=(KeepRule("garlic bulb", "garlic/soft", Form.CURED, "shed", 4, SOUND, 3.0, 2.0),),
    stores=(
        StorePlace("shed", "Shed", StoreKind.SHED, 100.0),
        StorePlace("cellar", "Cellar", StoreKind.CELLAR, None),
    ),
    hours_week=(3.0,) * 60,
    rotation_gap_years={"alliums": 4, "composites": 2, "brassicas": 3},
    names={"long": "Long bed", "round": "Round bed", "alliums": "onion family"},
    closures=(Closure("long", "composites", "white mould", 2026, 2031, 2030, 2031),),
    standing=(Standing(LEEK, "short", 1.0),),
    lots=(LotInHand("potato", "potato/main", Form.CLAMPED, "cellar", 10.0, date(2026, 10, 26)),),
    seed_back=(SeedBack("garlic/soft", "garlic bulb", 80.0, 0.0, 0.01),),
    tray_cells=60,
)
PLAN = Plan(
    garden="old schoolhouse",
    made_on=DAY,
    horizon=HORIZON,
    beds=tuple(PlanBed(b.id, b.name, b.area_m2, b.under_cover) for b in QUESTION.beds),
    plantings=PLANTINGS,
    table=table(),
    helpings=HELPINGS,
    lots=(IN_STORE, IN_HAND),
    hours=hours(),
    shortages=tuple(
        Shortage(a.line, 0, 59, sum(r.short_kg for r in table() if r.line == a.line), "no ground")
        for a in APPETITES
    ),
    broken=(),
    solver=SolverReport(198.0, 200.0, 0.01, 0.02, 1.0, 8, "usual", 1),
)


def any_of(changes: dict[str, Any]) -> dict[str, Any]:
    """Let changes be of any type, since a broken plan may hold anything."""
    return changes


def with_planting(number: int, **changes: object) -> Callable[[], Broken]:
    """Alter one planting."""

    def alter() -> Broken:
        altered = list(PLANTINGS)
        altered[number] = replace(altered[number], **any_of(changes))
        return replace(PLAN, plantings=tuple(altered)), QUESTION

    return alter


def with_lot(number: int, **changes: object) -> Callable[[], Broken]:
    """Alter one lot."""

    def alter() -> Broken:
        altered = [IN_STORE, IN_HAND]
        altered[number] = replace(altered[number], **any_of(changes))
        return replace(PLAN, lots=tuple(altered)), QUESTION

    return alter


def with_plan(**changes: object) -> Callable[[], Broken]:
    """Alter the plan."""
    return lambda: (replace(PLAN, **any_of(changes)), QUESTION)


def with_question(**changes: object) -> Callable[[], Broken]:
    """Alter the question."""
    return lambda: (PLAN, replace(QUESTION, **any_of(changes)))


def beds(**changes: object) -> tuple[BedGround, ...]:
    """Alter the long bed."""
    return (replace(QUESTION.beds[0], **any_of(changes)), *QUESTION.beds[1:])


def shops(litres: float) -> tuple[StorePlace, ...]:
    """Alter the shed's room."""
    return (replace(QUESTION.stores[0], capacity_l=litres), QUESTION.stores[1])


def appetite(number: int, **changes: object) -> tuple[Appetite, ...]:
    """Alter one appetite."""
    altered = list(APPETITES)
    altered[number] = replace(altered[number], **any_of(changes))
    return tuple(altered)


def spread_lettuces() -> tuple[Planting, ...]:
    """Sow two more patches of lettuce, nearly all of it on the long bed: 5.1 of 6.1 m² there."""
    return (
        planting("lettuce-2", LETTUCE, "long", 2.6),
        planting("lettuce-3", LETTUCE, "long", 2.5),
    )


EXTRA = Helping("lettuce", "lettuce leaf", 30, 0.3)
BREAKAGES: dict[str, tuple[Callable[[], Broken], str]] = {
    "more on a bed than it has": (
        with_planting(0, area_m2=5.9),
        "Long bed, 2027-W02: plantings hold 5.900 m² of 5.760",
    ),
    "two on one ground": (with_planting(1, bed="long", area_m2=1.9), "plantings hold 5.900 m²"),
    "a sliver": (with_planting(1, area_m2=0.2), "0.200 m², under the least of 0.5"),
    "two of a name": (
        with_planting(1, id="garlic-1"),
        "planting garlic-1: 2 of them have this name",
    ),
    "another bed's size": (
        with_plan(beds=(PlanBed("long", "Long bed", 6.0, under_cover=False),)),
        "knew it otherwise",
    ),
    "an unknown bed": (with_planting(1, bed="far"), "there is no bed far"),
    "a bed of another garden": (
        with_plan(beds=(PlanBed("far", "Far", 6.0, under_cover=False),)),
        "no such bed",
    ),
    "what stands is forgotten": (
        with_plan(plantings=PLANTINGS[:3]),
        "it stands there on 1 m² but not",
    ),
    "what does not stand": (with_planting(2, standing=True), "more standing than the garden has"),
    "a sowing nobody offered": (with_planting(1, sowing="kale:3"), "there is no sowing kale:3"),
    "an altered sowing": (with_planting(1, family="daisies"), "its family is daisies"),
    "an altered week": (
        with_planting(1, from_week=13),
        "first week in the ground is 13, its sowing's 12",
    ),
    "a date against its week": (
        with_planting(1, clear_by=date(2027, 6, 1)),
        "cleared by 2027-06-01",
    ),
    "an entry against its week": (
        with_planting(1, in_ground_from=DAY),
        "enters the ground on 2027-01-04",
    ),
    "an altered window": (with_planting(1, latest_sowing=date(2027, 9, 9)), "its window is not"),
    "a sowing outside its window": (
        lambda: (
            PLAN,
            replace(
                QUESTION,
                sowings=(
                    GARLIC,
                    NEXT,
                    replace(LETTUCE, window=replace(LETTUCE.window, first_day=date(2027, 3, 15))),
                ),
            ),
        ),
        "sown 2027-03-01, outside 2027-03-15",
    ),
    "an open sowing under cover": (
        with_planting(1, bed="tunnel"),
        "in the open, its bed under cover",
    ),
    "a closed bed": (with_planting(1, bed="long"), "white mould closes the bed to it until 2031"),
    "a bed closed to the crop alone": (
        with_question(
            closures=(
                Closure("round", "composites", "scab", 2026, 2031, 2030, 2031, crop="lettuce"),
            )
        ),
        "scab closes the bed to it until 2031",
    ),
    "a bed too dark": (
        lambda: (PLAN, replace(QUESTION, too_dark=frozenset({("long", PLANTINGS[0].kind)}))),
        "gets less sun than it needs",
    ),
    "a family too soon after another stand": (
        with_planting(2, bed="long"),
        "bed Long bed: garlic-2: sooner than 4 years",
    ),
    "a family too soon after the past": (
        with_question(beds=beds(last_year_of_family=(("alliums", 2025),))),
        "garlic-1: sooner than 4",
    ),
    "a family without a gap": (with_question(rotation_gap_years={"alliums": 4}), "no rotation gap"),
    "a crop all on one bed": (
        with_plan(plantings=(*PLANTINGS, *spread_lettuces())),
        "bed Long bed: it holds 0.22 m² too much of the lettuce of 2027",
    ),
    "too many tray cells": (with_question(tray_cells=40), "50 tray cells are in use of 40"),
    "tray cells from nowhere": (with_planting(1, tray_cells=9), "9 tray cells for 50.0"),
    "too few stations": (with_planting(0, plants=100), "100 stations on ground for 200.0"),
    "too little stock": (with_planting(0, stock=100.0), "stock of 100.0 seed for 240.0"),
    "a pick of nothing grown": (
        with_planting(1, picks=(Pick("potato", 16, 1.0),)),
        "it gives no potato",
    ),
    "a pick too large": (
        with_planting(1, picks=(Pick("lettuce leaf", 16, 1.0),)),
        "1.000 kg of lettuce leaf in 2027-W17, of 0.500",
    ),
    "a pick out of season": (with_planting(1, picks=(Pick("lettuce leaf", 40, 0.1),)), "of 0.000"),
    "a stand lifted twice": (
        with_planting(3, picks=(Pick("leek shank", 3, 1.5), Pick("leek shank", 4, 1.0))),
        "gives what 1.250 m² would, on 1.000",
    ),
    "green and bulb from one ground": (
        with_planting(0, picks=(Pick("green garlic", 14, 1.5), Pick("garlic bulb", 24, 4.5))),
        "gives what 4.500 m² would, on 4.000",
    ),
    "an expectation too large": (
        with_planting(0, expects=(Expects("garlic bulb", 7.0, 3, 9),)),
        "it expects 7.000",
    ),
    "an expectation out of bounds": (
        with_planting(0, expects=(Expects("garlic bulb", 4.0, 5, 9),)),
        "it expects 4.000",
    ),
    "more served than picked": (
        with_planting(0, serves=(Serves("garlic", "garlic bulb", 5.0, 24, 59),)),
        "it serves 5.000",
    ),
    "eaten but not picked": (
        with_plan(helpings=(*HELPINGS, EXTRA)),
        "lettuce leaf, 2027-W31: 0.300 kg are eaten",
    ),
    "put by but not picked": (
        with_lot(0, put_by_week=25),
        "2027-W26: 4.500 kg are eaten or put by",
    ),
    "put by of another kind": (with_lot(0, kind="garlic/hard"), "kg of garlic/hard are put by"),
    "no rule to keep by": (with_lot(0, form="frozen"), "does not keep frozen in shed"),
    "no such store": (with_lot(0, place="attic"), "there is no store attic"),
    "another keeping": (with_lot(0, sound=(1.0,) * 56), "is not the larder's"),
    "eaten before it is cured": (
        with_question(keep_rules=(replace(QUESTION.keep_rules[0], wait_weeks=5),)),
        "eaten in 2027-W29, 5 weeks must pass",
    ),
    "more in hand than was found": (
        with_question(lots=()),
        "10.000 kg clamped in cellar, and 0.000",
    ),
    "kilograms unaccounted for": (with_lot(0, lost_kg=0.0), "went in, 3.400 kg are accounted for"),
    "figures below nothing": (with_lot(0, lost_kg=-1.0), "below nothing"),
    "more out than keeping allows": (
        with_lot(0, kg_in=3.4, lost_kg=0.0),
        "must go in for what comes out sound",
    ),
    "more left than is sound": (with_lot(0, left_kg=1.3, lost_kg=0.0), "1.300 kg are left"),
    "more in hand out than is sound": (with_lot(1, left_kg=5.0, lost_kg=0.0), "5.000 kg are left"),
    "a store too small": (
        with_question(stores=shops(10.0)),
        "litres lie in 10.0, and this is not told",
    ),
    "seed kept of no such kind": (with_question(seed_back=()), "is not replanted so"),
    "seed kept for no week": (with_lot(0, seed_week=None), "for no week of the plan"),
    "more seed kept than planted": (
        with_question(seed_back=(SeedBack("garlic/soft", "garlic bulb", 900.0, 0.0, 0.01),)),
        "900 units are kept back and 360 planted",
    ),
    "a week off the table": (
        with_plan(table=PLAN.table[1:]),
        "0.100 kg are wanted, and 0.000 kg on the table",
    ),
    "a week twice on the table": (
        with_plan(table=(*PLAN.table, PLAN.table[0])),
        "on the table twice",
    ),
    "a line nobody asked for": (
        with_plan(table=(*PLAN.table, TableWeek("kale", 1, 1, 0, 0, 1))),
        "kale: nobody asked",
    ),
    "another appetite": (
        with_question(appetites=appetite(1, kg=(0.5,) * 60)),
        "0.500 kg are wanted, and 0.300",
    ),
    "a table that does not add up": (
        with_plan(table=(replace(PLAN.table[0], short_kg=0.0), *PLAN.table[1:])),
        "make 0.000 kg of 0.100",
    ),
    "a table below nothing": (
        with_plan(table=(replace(PLAN.table[0], short_kg=0.2, fresh_kg=-0.1), *PLAN.table[1:])),
        "below nothing",
    ),
    "a table without its helpings": (
        with_plan(helpings=HELPINGS[1:]),
        "0.100 kg fresh, and helpings of 0.000",
    ),
    "a helping of another food": (
        with_question(appetites=appetite(1, foods=("chard",))),
        "does not serve this line",
    ),
    "a helping for nobody": (
        with_question(appetites=APPETITES[1:]),
        "goes to a line nobody asked for",
    ),
    "kept where fresh is wanted": (
        with_question(appetites=appetite(0, wanted=Wanted.FRESH)),
        "wanted fresh, and not",
    ),
    "fresh where kept is wanted": (
        with_question(appetites=appetite(2, wanted=Wanted.KEPT)),
        "wanted kept, and not",
    ),
    "a helping below nothing": (
        with_plan(helpings=(replace(HELPINGS[0], kg=-0.1), *HELPINGS[1:])),
        "a helping is below nothing",
    ),
    "a lot that feeds nobody": (
        with_plan(helpings=HELPINGS[:2]),
        "0.100 kg come out in 2027-W30, and 0.000",
    ),
    "a lot of another food": (
        with_lot(1, food="yam"),
        "potato is helped from it, which it does not hold",
    ),
    "a shortage untold": (with_plan(shortages=()), "kg are short on the table, and 0.00 kg told"),
    "work forgotten": (with_planting(0, minutes=()), "0.0 minutes of work in 2027-W02, for 80.0"),
    "hours forgotten": (with_plan(hours=()), "the week's hours are not told"),
    "hours made smaller": (
        with_plan(hours=(PLAN.hours[0], replace(PLAN.hours[1], asked_h=0.1), *PLAN.hours[2:])),
        "asks 1.33 h, and 0.10 h are told",
    ),
    "hours from nowhere": (
        with_plan(hours=(replace(PLAN.hours[0], given_h=9.0), *PLAN.hours[1:])),
        "gives 3.00 h, not 9.00",
    ),
    "overtime untold": (
        with_question(hours_week=(1.0,) * 60),
        "h more than is given, and not all of this",
    ),
    "a gap that is not one": (
        with_plan(solver=replace(PLAN.solver, gap=0.001, net_gap=0.1)),
        "the gap is 1.0000%",
    ),
    "another garden's plan": (with_plan(garden="mill"), "its garden: mill; asked for"),
    "other weeks": (with_question(horizon=Horizon(DAY, 59)), "the plan: its weeks"),
    "ready on another day": (
        with_planting(0, ready=(Ready("garlic bulb", DAY, DAY, date(2027, 7, 1)),)),
        "garlic bulb is told ready",
    ),
    "ready in a food it does not give": (
        with_planting(0, ready=(Ready("potato", DAY, DAY, DAY),)),
        "potato is told ready",
    ),
    "a helping after the plan ends": (
        with_plan(helpings=(*HELPINGS, Helping("leek", "leek shank", 60, 1.0))),
        "outside the weeks of the plan",
    ),
    "a bound past the plan": (
        with_plan(solver=replace(PLAN.solver, bound=201.0)),
        "bound 201 lies above",
    ),
    "a plan told cheaper than what it leaves short": (
        with_plan(solver=replace(PLAN.solver, objective=150.0, bound=148.5)),
        "what is priced in it comes to between 196.5",
    ),
    "a plan told dearer than all that is priced in it": (
        with_plan(solver=replace(PLAN.solver, objective=250.0, bound=247.5)),
        "its objective is 250",
    ),
    "a net gap too small": (
        with_plan(solver=replace(PLAN.solver, net_gap=0.0)),
        "cannot be the smaller",
    ),
}


def test_a_plan_that_agrees_is_let_pass() -> None:
    """A plan worked out by hand that agrees with itself and its question has no findings."""
    assert audit(PLAN, QUESTION) == ()
    assert insist(PLAN, QUESTION) is PLAN


@pytest.mark.parametrize("breakage", list(BREAKAGES))
def test_each_way_of_breaking_a_plan_is_told(breakage: str) -> None:
    """Whatever is altered in a plan that agreed is found, in words that name it."""
    alter, words = BREAKAGES[breakage]
    findings = audit(*alter())
    assert any(words in str(finding) for finding in findings), "\n".join(map(str, findings))
    assert all(finding.where and finding.remedy for finding in findings)


def test_a_plan_that_fails_is_not_given_out() -> None:
    """A plan that fails its audit is refused, and every disagreement is carried along."""
    plan, question = with_planting(0, area_m2=5.9)()
    with pytest.raises(AuditFailedError) as refused:
        insist(plan, question)
    assert refused.value.findings == audit(plan, question)


@pytest.mark.parametrize(
    ("question", "rule", "where", "amount"),
    [
        (replace(QUESTION, tray_cells=40), "nursery", "trays", 40.0),
        (replace(QUESTION, stores=shops(10.0)), "store space", "Shed", 60.0),
        (
            replace(QUESTION, beds=beds(last_year_of_family=(("alliums", 2025),))),
            "rotation",
            "long",
            4.0,
        ),
    ],
)
def test_a_broken_rule_that_is_told_is_no_fault(
    question: PlanQuestion, rule: str, where: str, amount: float
) -> None:
    """A rule may be broken where it must, so long as the plan says where and by how much."""
    broken = BrokenRule(rule, where, amount, "", 1.0, "The onion family comes back too soon.")
    assert audit(PLAN, question)
    assert audit(replace(PLAN, broken=(broken,)), question) == ()


def test_overtime_that_is_told_is_no_fault() -> None:
    """A week may ask more than is given, so long as the plan says so."""
    question = replace(QUESTION, hours_week=(1.0,) * 60)
    told = tuple(replace(row, given_h=1.0) for row in PLAN.hours)
    broken = BrokenRule("hours", "2027-W02", 2.0, "h", 1.0, "")
    assert audit(replace(PLAN, hours=told, broken=(broken,)), question) == ()
