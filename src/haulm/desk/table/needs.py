"""What the table needs, line by line and kind by kind, as a sum that can be checked by hand."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from haulm.catalogue.records import Catalogue, Kind, Picking
from haulm.desk.beds.perennials import lasting_needs
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.planning.plans import asked_now
from haulm.desk.planning.question import Asked
from haulm.desk.planning.unknown_work import hours_left_out
from haulm.desk.table.storing import unkept
from haulm.growing.records import Sowing, SowingFood
from haulm.household.records import Appetite
from haulm.larder.need import NeedCase, ReadyInfo, need_for
from haulm.larder.records import KeepRule, NeedSum
from haulm.measure.findings import Finding, Grade
from haulm.measure.units import Units
from haulm.measure.weeks import WEEKS_A_YEAR


@dataclass(frozen=True, slots=True)
class Needs:
    """Every line's sums, one for each kind that can serve it, and what could not be summed.

    ``names`` are display names by id; ``units`` is metric or us.
    """

    sums: tuple[NeedSum, ...]
    findings: tuple[Finding, ...]
    names: dict[str, str]
    units: Units


def needs_of(path: Path, day: date, seed: int) -> Needs:
    """Sum up what each line of a garden's table needs from each kind that can serve it.

    What stands and lies in store is what the kept plan came to by the day.
    """
    opened = open_garden(path)
    return needs_from(opened, asked_now(opened, day, seed))


def needs_from(opened: Opened, asked: Asked) -> Needs:
    """Sum up what each line of the table needs, the planner's question being put already."""
    sums = []
    findings = [
        *opened.findings,
        *unkept(opened.garden, asked.kinds),
        *hours_left_out(asked.kinds),
    ]
    for appetite in asked.question.appetites:
        found = [
            line_need(appetite, food, kind, asked, opened.catalogue)
            for food in appetite.foods
            for kind in asked.kinds
            if any(giving.food == food for giving in kind.givings)
        ]
        found += lasting_needs(appetite, opened.garden, opened.catalogue, asked)
        served = [total for total in found if total is not None and total.eaten_kg > 0]
        sums += sorted(served, key=lambda total: (-total.eaten_kg, total.area_m2))
        if not served:
            findings.append(
                Finding(
                    where=f"table, {appetite.name}",
                    what="no kind can serve it here, neither fresh nor from a store.",
                    remedy="Want it at another time of year, kept, or let another food stand in.",
                    grade=Grade.WARNING,
                )
            )
    return Needs(tuple(sums), tuple(findings), dict(asked.question.names), opened.garden.units)


def line_need(
    appetite: Appetite, food: str, kind: Kind, asked: Asked, catalogue: Catalogue
) -> NeedSum | None:
    """Sum up one kind's way of serving a line; None where none of its sowings is in time."""
    horizon = asked.question.horizon
    ways = [
        (sowing, given)
        for sowing in asked.question.sowings
        if sowing.kind == kind.id and not sowing.under_cover
        for given in sowing.foods
        if given.food == food and given.first_week >= 0
    ]
    soonest = min((given.first_week for _, given in ways), default=0)
    ways = [way for way in ways if way[1].first_week < soonest + WEEKS_A_YEAR]
    cases = [
        NeedCase(
            kind=kind,
            food=catalogue.foods[food],
            method=next(method for method in kind.methods if method.id == sowing.method),
            ready=ready,
            keep=best_keeping(asked.question.keep_rules, kind.id, food),
            seed_weeks=weeks_to_planting(kind, sowing, ready),
        )
        for sowing, ready in ready_spans(ways)
    ]
    sums = [need_for(appetite, horizon, case) for case in cases]
    return max(sums, key=lambda total: (total.eaten_kg, -total.area_m2), default=None)


def ready_spans(ways: Sequence[tuple[Sowing, SowingFood]]) -> list[tuple[Sowing, ReadyInfo]]:
    """Give the weeks each sowing serves; what is sown again and again is taken as one long span."""
    spans = [
        (sowing, ReadyInfo(given.week_shares[0][0], given.week_shares[-1][0]))
        for sowing, given in ways
        if given.week_shares
    ]
    if not spans or ways[0][1].picking is Picking.ONCE:
        return spans
    first = min(ready.first_week for _, ready in spans)
    last = max(ready.last_week for _, ready in spans)
    return [(spans[0][0], ReadyInfo(first, min(last, first + WEEKS_A_YEAR - 1)))]


def best_keeping(rules: Sequence[KeepRule], kind: str, food: str) -> KeepRule | None:
    """Choose the form and place in which a kind's food stays sound longest."""
    fitting = [rule for rule in rules if rule.kind == kind and rule.food == food]
    return max(fitting, key=lambda rule: len(rule.sound), default=None)


def weeks_to_planting(kind: Kind, sowing: Sowing, ready: ReadyInfo) -> int | None:
    """Count the weeks from lifting until pieces kept back are planted again; None if never kept."""
    method = next(method for method in kind.methods if method.id == sowing.method)
    if method.parts_per_unit is None:
        return None
    return max(0, WEEKS_A_YEAR - (ready.last_week - sowing.ground_from_week))
