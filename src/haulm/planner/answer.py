"""The plan, written from the solver's values: every record complete enough to be re-added."""

from collections import defaultdict
from dataclasses import replace

import numpy as np

from haulm.measure.findings import Finding, Grade
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.plan.records import (
    Bound,
    Expects,
    HoursWeek,
    Lot,
    Pick,
    Plan,
    PlanBed,
    Planting,
    Ready,
    Serves,
    SolverReport,
    TableWeek,
)
from haulm.planner.arrays import Floats
from haulm.planner.breaks import broken_rules
from haulm.planner.build import Built
from haulm.planner.dive import Draft
from haulm.planner.food_tables import rule_for_lot
from haulm.planner.pin_words import clashes_told, idle_pins
from haulm.planner.question import PlanQuestion
from haulm.planner.rules.hours import MINUTES_AN_HOUR
from haulm.planner.serving import serves_by_sowing
from haulm.planner.stores import read_helpings, read_lots
from haulm.planner.sums import so_far_lines, sum_lines
from haulm.planner.tables import Tables
from haulm.planner.taken import NOISE, Taken, take
from haulm.planner.why import Worth, bounds_of, shortages, worth


def answer(tables: Tables, built: Built, draft: Draft, report: SolverReport) -> Plan:
    """Write the plan of a draft.

    Parameters
    ----------
    tables, built
        The tables, and the model in areas the draft was last solved in.
    draft
        The plan in the solver's terms.
    report
        How good it is proven to be.
    """
    question = tables.question
    taken = take(tables, built.columns, draft.used, draft.solution.values)
    scarce = worth(tables, built, draft.solution)
    plantings = _plantings(tables, draft, taken, scarce)
    larder = read_lots(tables, built.columns, taken)
    hours = _hours(tables, tuple(plantings.values()), larder.lots)
    table, short = _table(tables, taken)
    pairs = {key: planting for key, planting in plantings.items() if key >= 0}
    return Plan(
        garden=question.garden,
        made_on=question.made_on,
        horizon=question.horizon,
        beds=tuple(PlanBed(b.id, b.name, b.area_m2, b.under_cover) for b in question.beds),
        plantings=tuple(plantings.values()),
        table=table,
        helpings=read_helpings(tables, taken, larder),
        lots=larder.lots,
        hours=hours,
        shortages=shortages(tables, built, draft.solution, short),
        broken=broken_rules(
            tables,
            built.columns,
            (draft.used, taken.area_m2, draft.solution.values),
            pairs,
            hours,
        ),
        solver=report,
        findings=(*_findings(question), *clashes_told(tables)),
    )


def _plantings(tables: Tables, draft: Draft, taken: Taken, scarce: Worth) -> dict[int, Planting]:
    """Write every planting, by its pair; what stands is keyed −1 − its sowing."""
    ground = tables.ground
    held = [
        (int(ground.pair_sowing[pair]), int(ground.pair_bed[pair]), int(pair))
        for pair in np.nonzero(draft.used)[0]
    ]
    held += [
        (s, int(ground.fixed_bed[s]), -1 - s)
        for s in range(ground.chosen_count, len(ground.sowings))
        if ground.fixed_m2[s] > 0
    ]
    held.sort(key=lambda h: (ground.sowings[h[0]].set_on, ground.sowings[h[0]].id, h[1]))
    writer = _Writer(tables, taken)
    counts: dict[str, int] = defaultdict(int)
    plantings = {}
    for s, b, key in held:
        crop = ground.sowings[s].crop
        counts[crop] += 1
        area = float(taken.area_m2[key]) if key >= 0 else float(ground.fixed_m2[s])
        bounds = bounds_of(tables, scarce, key, taken.area_m2) if key >= 0 else ()
        plantings[key] = writer.write(f"{crop}-{counts[crop]}", (s, b), area, bounds)
    return plantings


class _Writer:
    """Writes plantings: a sowing in several beds is shared among them by area."""

    def __init__(self, tables: Tables, taken: Taken) -> None:
        self._tables = tables
        self._taken = taken
        self._stood = tables.question.standing
        self._first = tables.ground.chosen_count
        self._serves = serves_by_sowing(tables, taken)
        self._picks: dict[int, list[Pick]] = defaultdict(list)
        self._minutes: dict[int, dict[int, float]] = defaultdict(lambda: defaultdict(float))
        self._given: dict[int, dict[str, float]] = defaultdict(dict)
        for (number, week), kg in sorted(taken.picked_kg.items()):
            gift = tables.food.gifts[number]
            self._picks[gift.sowing].append(Pick(tables.food.pools[gift.pool][1], week, kg))
            minutes = kg * gift.pick_min_kg
            self._minutes[gift.sowing][week] += minutes
        for number, area in taken.given_m2.items():
            gift = tables.food.gifts[number]
            if area > NOISE:
                self._given[gift.sowing][tables.food.pools[gift.pool][1]] = area

    def write(
        self, planting_id: str, where: tuple[int, int], area: float, bounds: tuple[Bound, ...]
    ) -> Planting:
        """Write one planting of a sowing in a bed."""
        question = self._tables.question
        s, b = where
        sowing = self._tables.ground.sowings[s]
        share = area / float(self._taken.total_m2[s])
        given = {food: share * whole for food, whole in self._given[s].items()}
        stands = s >= self._tables.ground.chosen_count
        stood = self._stood[s - self._first] if stands else None
        planting = Planting(
            id=planting_id,
            sowing=sowing.id,
            crop=sowing.crop,
            kind=sowing.kind,
            family=sowing.family,
            method=sowing.method,
            bed=self._tables.ground.beds[b].id,
            under_cover=sowing.under_cover,
            area_m2=area,
            plants=max(1, int(area * sowing.plants_m2 + NOISE)),
            stock=area * sowing.stock_m2,
            stock_unit=sowing.stock_unit,
            sow_on=sowing.sow_on,
            set_on=sowing.set_on,
            in_ground_from=question.horizon.monday(sowing.ground_from_week),
            clear_by=question.horizon.monday(sowing.ground_until_week),
            from_week=sowing.ground_from_week,
            until_week=sowing.ground_until_week,
            tray_cells=int(area * sowing.cells_m2 + NOISE),
            tray_weeks=sowing.tray_weeks,
            minutes=self._work(s, area, share),
            expects=tuple(
                Expects(
                    food.food,
                    food.yield_kg_m2 * given[food.food],
                    food.yield_low_kg_m2 * given[food.food],
                    food.yield_high_kg_m2 * given[food.food],
                )
                for food in sowing.foods
                if food.food in given
            ),
            ready=tuple(
                Ready(f.food, f.ready.early, f.ready.middle, f.ready.late, f.ready.later_days)
                for f in sowing.foods
            ),
            picks=tuple(Pick(p.food, p.week, share * p.kg) for p in self._picks[s]),
            serves=tuple(
                Serves(r.line, r.food, share * r.kg, r.first_week, r.last_week)
                for r in self._serves.get(s, ())
            ),
            earliest_sowing=sowing.window.first_day,
            latest_sowing=sowing.window.last_day,
            earliest_rule=sowing.window.first_rule,
            latest_rule=sowing.window.last_rule,
            sum=(),
            bounds=bounds,
            standing=stands,
            taken=stood.taken if stood else (),
            hoped=stood.hoped if stood else 1.0,
            late_days=stood.late_days if stood else 0,
        )
        sums = (*sum_lines(question, sowing, planting, given), *so_far_lines(question, planting))
        return replace(planting, sum=sums)

    def _work(self, s: int, area: float, share: float) -> tuple[tuple[int, float], ...]:
        minutes: dict[int, float] = defaultdict(float)
        for week, each in self._tables.ground.sowings[s].work_min_m2:
            if 0 <= week < self._tables.weeks and each > 0:
                minutes[week] += each * area
        for week, picking in self._minutes[s].items():
            minutes[week] += picking * share
        return tuple(sorted(minutes.items()))


def _hours(
    tables: Tables, plantings: tuple[Planting, ...], lots: tuple[Lot, ...]
) -> tuple[HoursWeek, ...]:
    """Add up the hours each week asks: beds, picking, and the kitchen."""
    asked = np.zeros(tables.weeks)
    for planting in plantings:
        for week, minutes in planting.minutes:
            asked[week] += minutes
    for lot in lots:
        if not lot.in_hand:
            asked[lot.put_by_week] += lot.work_min_kg * lot.kg_in
    return tuple(
        HoursWeek(week, float(asked[week]) / MINUTES_AN_HOUR, given)
        for week, given in enumerate(tables.question.hours_week)
    )


def _table(tables: Tables, taken: Taken) -> tuple[tuple[TableWeek, ...], Floats]:
    """Write every line in every week, wanted or not, and give what each want is short of [kg]."""
    food, question = tables.food, tables.question
    fresh = np.bincount(food.fresh_want, weights=taken.fresh_kg, minlength=len(food.want_kg))
    kept = np.bincount(food.kept_want, weights=taken.kept_kg, minlength=len(food.want_kg))
    short = np.maximum(0.0, food.want_kg - fresh - kept)
    at = {
        (int(line), int(week)): want
        for want, (line, week) in enumerate(zip(food.want_line, food.want_week, strict=True))
    }
    rows = []
    for line, appetite in enumerate(question.appetites):
        for week, wanted in enumerate(appetite.kg):
            want = at.get((line, week))
            parts = (0.0, 0.0, 0.0)
            if want is not None:
                parts = (float(fresh[want]), float(kept[want]), float(short[want]))
            rows.append(TableWeek(appetite.line, week, wanted, *parts))
    return tuple(rows), short


def _findings(question: PlanQuestion) -> list[Finding]:
    """Tell what of the question could not be used."""
    found = []
    if not question.beds:
        found.append(
            Finding(
                "the beds", "there are none, so nothing can be grown.", "Add a bed.", Grade.WARNING
            )
        )
    for index, lot in enumerate(question.lots):
        where = f"lot {index + 1} in hand, {question.names.get(lot.food, lot.food)}"
        rule = rule_for_lot(question, index)
        age = (question.horizon.first_day - lot.put_by).days // DAYS_A_WEEK
        if rule is not None and age >= len(rule.sound):
            found.append(
                Finding(
                    where,
                    f"at {age} weeks it is past keeping; it is left out of the plan",
                    "Sort it, and give what is sound as put by today.",
                    Grade.WARNING,
                )
            )
        if rule is None:
            found.append(
                Finding(
                    where,
                    f"nothing is known of how it keeps, {lot.form.value}, in {lot.place};"
                    " it is left out of the plan",
                    "Give another form or place, or eat it first.",
                    Grade.WARNING,
                )
            )
    return [*found, *idle_pins(question)]
