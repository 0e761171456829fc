"""What a plan plants from the household's own store, and what it keeps back for it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from haulm.catalogue.records import Catalogue
from haulm.larder.need import seed_units_per_kg
from haulm.plan.records import Plan, Planting
from haulm.season.meant import Meant
from haulm.season.records import STARTS, Entry
from haulm.season.rules import season_rules
from haulm.season.seed_lock import SeedWanted


def seed_wanted(
    plan: Plan | None, catalogue: Catalogue, entries: Iterable[Entry], day: date
) -> tuple[SeedWanted, ...]:
    """List the plantings still to be planted whose stock the household's own store may give.

    What the diary says was planted already is left out.
    """
    if plan is None:
        return ()
    meant = Meant(plan)
    begun = {one.id for entry in entries if entry.kind in STARTS for one in meant.of(entry)}
    together: dict[tuple[str, str, date], list[tuple[Planting, float]]] = defaultdict(list)
    waits = timedelta(days=round(season_rules().seed_late_days.value))
    for planting, food, kg in _from_store(plan, catalogue):
        late = planting.set_on + waits < day
        if not late and planting.id not in begun:
            together[food, planting.kind, planting.set_on].append((planting, kg))
    found = []
    for (food, kind, on), some in together.items():
        back_kg, since = _kept_back(plan, food, kind, on)
        plants = sum(planting.plants for planting, _ in some)
        found.append(SeedWanted(food, kind, sum(kg for _, kg in some), plants, on, back_kg, since))
    return tuple(sorted(found, key=lambda one: (one.on, one.kind)))


def _from_store(plan: Plan, catalogue: Catalogue) -> Iterator[tuple[Planting, str, float]]:
    """Give the plantings whose stock is food that keeps, with that food and how much of it."""
    for planting in plan.plantings:
        kind = catalogue.kinds.get(planting.kind)
        method = next((m for m in kind.methods if m.id == planting.method), None) if kind else None
        if kind is None or method is None or not kind.givings or planting.standing:
            continue
        food = kind.givings[0].food
        units_a_kg = seed_units_per_kg(method, catalogue.foods[food])
        if units_a_kg is not None:
            yield planting, food, planting.stock / units_a_kg


def _kept_back(plan: Plan, food: str, kind: str, on: date) -> tuple[float, date]:
    """Give what the plan keeps back of its lots for a week's planting, and since when they lie."""
    week = plan.horizon.week_of(on)
    lots = [
        lot
        for lot in plan.lots
        if (lot.food, lot.kind, lot.seed_week) == (food, kind, week) and lot.seed_kg > 0
    ]
    early = timedelta(days=round(season_rules().seed_early_days.value))
    since = min(
        (date.min if lot.in_hand else plan.horizon.monday(lot.put_by_week) - early for lot in lots),
        default=date.min,
    )
    return sum(lot.seed_kg for lot in lots), since
