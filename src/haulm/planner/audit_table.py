"""The audit of the table and the work: wanted and eaten, shortages, hours, the solver's figures."""

from collections.abc import Iterator, Mapping

from haulm.growing.records import Sowing
from haulm.household.records import Appetite, Wanted
from haulm.measure.findings import Finding
from haulm.plan.records import Helping, Planting, TableWeek
from haulm.planner.audit_books import KG, MINUTES, Books, add_up

MINUTES_AN_HOUR = 60
NEAR_H = 0.05
"""Overtime is re-added over the whole plan to three minutes and a hundredth [h]."""


def check_table(books: Books) -> Iterator[Finding]:
    """Every week of every line is on the table: what is wanted is eaten fresh, stored, or short."""
    weeks: dict[tuple[str, int], TableWeek] = {}
    for row in books.plan.table:
        if (row.line, row.week) in weeks:
            yield books.wrong(_at(books, row.line, row.week), "it is on the table twice.")
        weeks[row.line, row.week] = row
    lines = {appetite.line for appetite in books.question.appetites}
    for line in sorted({row.line for row in books.plan.table} - lines):
        yield books.wrong(books.name(line), "nobody asked for this line of the table.")
    fresh = add_up(((h.line, h.week), h.kg) for h in books.plan.helpings if h.lot is None)
    stored = add_up(((h.line, h.week), h.kg) for h in books.plan.helpings if h.lot is not None)
    for appetite in books.question.appetites:
        for week, wanted in enumerate(appetite.kg):
            at = (appetite.line, week)
            row = weeks.get(at) or TableWeek(*at, 0.0, 0.0, 0.0, 0.0)
            helped = (fresh.get(at, 0.0), stored.get(at, 0.0))
            yield from _table_week(books, row, wanted, helped)


def _table_week(
    books: Books, row: TableWeek, wanted_kg: float, helped_kg: tuple[float, float]
) -> Iterator[Finding]:
    """One week of a line adds up, to what is wanted and to its helpings."""
    where = _at(books, row.line, row.week)
    if abs(row.wanted_kg - wanted_kg) > KG:
        what = f"{wanted_kg:.3f} kg are wanted, and {row.wanted_kg:.3f} kg on the table."
        yield books.wrong(where, what)
    met = row.fresh_kg + row.stored_kg + row.short_kg
    if abs(row.wanted_kg - met) > 3 * KG:
        what = f"fresh, stored and short make {met:.3f} kg of {row.wanted_kg:.3f} kg wanted."
        yield books.wrong(where, what)
    if min(row.fresh_kg, row.stored_kg, row.short_kg) < -KG:
        yield books.wrong(where, "a figure of it is below nothing.")
    for what, told, helped in (
        ("fresh", row.fresh_kg, helped_kg[0]),
        ("from store", row.stored_kg, helped_kg[1]),
    ):
        if abs(told - helped) > 10 * KG:
            yield books.wrong(where, f"{told:.3f} kg {what}, and helpings of {helped:.3f} kg.")


def check_helpings(books: Books) -> Iterator[Finding]:
    """Each helping is of a food its line takes, in the state it is wanted in."""
    appetites = {appetite.line: appetite for appetite in books.question.appetites}
    forms = {lot.id: lot.form for lot in books.plan.lots}
    for helping in books.plan.helpings:
        appetite = appetites.get(helping.line)
        where = _at(books, helping.line, helping.week)
        if appetite is None:
            yield books.wrong(where, "a helping goes to a line nobody asked for.")
        elif helping.week not in range(books.plan.horizon.weeks):
            yield books.wrong(where, "a helping lies outside the weeks of the plan.")
        elif helping.food not in appetite.foods:
            yield books.wrong(where, f"{books.name(helping.food)} does not serve this line.")
        elif helping.kg < -KG:
            yield books.wrong(where, "a helping is below nothing.")
        elif helping.kg > KG and not _as_wanted(appetite, helping, forms):
            yield books.wrong(where, f"it is wanted {appetite.wanted}, and not served so.")


def _as_wanted(appetite: Appetite, helping: Helping, forms: Mapping[str, str]) -> bool:
    """Say whether a helping is in the state wanted; a lot kept fresh still is."""
    if appetite.wanted is Wanted.FRESH:
        return helping.lot is None or forms.get(helping.lot) == "fresh"
    return appetite.wanted is Wanted.EITHER or helping.lot is not None


def check_helpings_from_lots(books: Books) -> Iterator[Finding]:
    """All that comes out of a lot in a week is helped from it, and of the same food."""
    foods = {lot.id: lot.food for lot in books.plan.lots}
    out = add_up(((lot.id, week), kg) for lot in books.plan.lots for week, kg in lot.eaten)
    helped = add_up(((h.lot, h.week), h.kg) for h in books.plan.helpings if h.lot is not None)
    for helping in books.plan.helpings:
        if helping.lot is not None and foods.get(helping.lot) != helping.food:
            what = f"{books.name(helping.food)} is helped from it, which it does not hold."
            yield books.wrong(f"lot {helping.lot}", what)
    for lot, week in sorted({*out, *helped}):
        taken, eaten = out.get((lot, week), 0.0), helped.get((lot, week), 0.0)
        if abs(taken - eaten) > 10 * KG:
            what = f"{taken:.3f} kg come out in {books.week(week)}, and {eaten:.3f} kg are helped."
            yield books.wrong(f"lot {lot}", what)


def check_shortages(books: Books) -> Iterator[Finding]:
    """All that is short on the table is told, line by line, to ten grams or a thousandth."""
    short = add_up((row.line, row.short_kg) for row in books.plan.table)
    told = add_up((shortage.line, shortage.kg) for shortage in books.plan.shortages)
    for line in sorted({*short, *told}):
        missing, said = short.get(line, 0.0), told.get(line, 0.0)
        if abs(missing - said) > 0.01 + 1e-3 * missing:
            what = f"{missing:.2f} kg are short on the table, and {said:.2f} kg told."
            yield books.wrong(books.name(line), what)


def check_work(books: Books) -> Iterator[Finding]:
    """Each planting's minutes follow from its ground and from what is picked."""
    weeks = range(books.plan.horizon.weeks)
    for planting in books.plan.plantings:
        sowing = books.sowing_of(planting)
        if sowing is None:
            continue
        told, asked = add_up(planting.minutes), _minutes(books, planting, sowing)
        for week in sorted({*told, *asked}):
            apart = abs(told.get(week, 0.0) - asked.get(week, 0.0))
            if week in weeks and apart > MINUTES:
                said, needed = told.get(week, 0.0), asked.get(week, 0.0)
                what = f"{said:.1f} minutes of work in {books.week(week)}, for {needed:.1f}."
                yield books.wrong(f"planting {planting.id}", what)


def _minutes(books: Books, planting: Planting, sowing: Sowing) -> dict[int, float]:
    """Add up a planting's work by week, from its sowing and its picks [minutes]."""
    tending = [(week, minutes * planting.area_m2) for week, minutes in sowing.work_min_m2]
    picking = [
        (pick.week, pick.kg * food.pick_min_kg)
        for pick in planting.picks
        if (food := books.food_of(planting, pick.food))
    ]
    return add_up(tending + picking)


def check_hours(books: Books) -> Iterator[Finding]:
    """Each week's hours are its work re-added; where they pass what is given, the plan says so."""
    given = dict(enumerate(books.question.hours_week))
    work = [pair for planting in books.plan.plantings for pair in planting.minutes]
    work += [(t.put_by_week, t.kg_in * t.work_min_kg) for t in books.plan.lots if not t.in_hand]
    asked = add_up(work)
    told = {row.week: row for row in books.plan.hours}
    over = 0.0
    for week in range(books.plan.horizon.weeks):
        hours = asked.get(week, 0.0) / MINUTES_AN_HOUR
        row = told.get(week)
        if row is None:
            yield books.wrong(books.week(week), "the week's hours are not told.")
            continue
        if abs(row.asked_h - hours) > 1e-3 + 1e-6 * hours:
            what = f"the week asks {hours:.2f} h, and {row.asked_h:.2f} h are told."
            yield books.wrong(books.week(week), what)
        if abs(row.given_h - given.get(week, 0.0)) > 1e-6:  # noqa: PLR2004 - a millionth of an hour
            what = f"the household gives {given.get(week, 0.0):.2f} h, not {row.given_h:.2f} h."
            yield books.wrong(books.week(week), what)
        over += max(hours - given.get(week, 0.0), 0.0)
    if 0.99 * over - NEAR_H > books.broken_by("hours"):
        what = f"weeks ask {over:.2f} h more than is given, and not all of this is told."
        yield books.wrong("hours", what)


def check_solver(books: Books) -> Iterator[Finding]:
    """Each gap is what bound and objective make it, and the bound is no better than the plan."""
    solver = books.plan.solver
    near = 1e-6 * max(1.0, abs(solver.objective))
    if solver.bound > solver.objective + near:
        what = f"the bound {solver.bound:.6g} lies above the plan's {solver.objective:.6g}."
        yield books.wrong("how good the plan is", what)
    apart = solver.objective - solver.bound
    gap = apart / solver.objective if abs(solver.objective) > near else 0.0
    if abs(gap - solver.gap) > 1e-6:  # noqa: PLR2004 - a ten-thousandth of a percent
        what = f"the gap is {gap:.4%}, and {solver.gap:.4%} is told."
        yield books.wrong("how good the plan is", what)
    if solver.net_gap < solver.gap - near:
        what = "the gap without the appetite no plan could meet cannot be the smaller one."
        yield books.wrong("how good the plan is", what)


def _at(books: Books, line: str, week: int) -> str:
    return f"{books.name(line)}, {books.week(week)}"
