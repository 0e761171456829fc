"""A year lived by a plan: the diary that a grower would write who did, weighed and ate as planned.

Each planting may have fared otherwise: given more or less, been begun late, or been lost.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.plan.records import Lot, Plan, Planting
from haulm.season.records import Entry, EntryKind, Severity, key_of
from season.diary_by_hand import entry, kg


@dataclass(frozen=True, slots=True)
class Luck:
    """How one planting fared: the share it gave, weeks late, and whether it was lost."""

    share: float = 1.0
    late_weeks: int = 0
    lost: bool = False


AS_PLANNED = Luck()


def diary_of_year(
    plan: Plan, until: date, luck: Mapping[str, Luck] | None = None
) -> tuple[Entry, ...]:
    """Write the diary of a plan lived until a day; ``luck`` is by a planting's name in it.

    What is put by and eaten from store is as planned, less where less was picked.
    """
    luck = luck or {}
    written = [e for p in plan.plantings for e in _of_planting(plan, p, luck.get(p.id, AS_PLANNED))]
    written += list(_of_stores(plan, luck))
    return tuple(one for one in written if one.day <= until)


def _of_planting(plan: Plan, planting: Planting, fared: Luck) -> Iterator[Entry]:
    key, monday = key_of(planting), plan.horizon.monday
    late = timedelta(weeks=fared.late_weeks)
    if not planting.standing:
        minutes = sum(m for week, m in planting.minutes if week == planting.from_week)
        yield entry(EntryKind.SOWN, planting.sow_on + late, planting=key, minutes=minutes)
    if fared.lost:
        yield entry(
            EntryKind.TROUBLE,
            planting.in_ground_from + timedelta(days=20),
            planting=key,
            trouble="slugs",
            severity=Severity.LOST,
        )
        return
    for pick in planting.picks:
        if pick.kg * fared.share > 0:
            day = monday(pick.week) + timedelta(days=2) + late
            amount = kg(pick.kg * fared.share)
            yield entry(EntryKind.PICKED, day, planting=key, food=pick.food, amount=amount)


def _of_stores(plan: Plan, luck: Mapping[str, Luck]) -> Iterator[Entry]:
    """Put by what the plan puts by, in proportion to what was picked that week, and eat it."""
    monday = plan.horizon.monday
    for lot in plan.lots:
        if lot.in_hand:
            yield from _of_lot_in_hand(plan, lot)
            continue
        picks = [
            (p.id, pick.kg)
            for p in plan.plantings
            if p.kind == lot.kind
            for pick in p.picks
            if (pick.food, pick.week) == (lot.food, lot.put_by_week)
        ]
        planned = sum(each for _, each in picks)
        came = sum(
            each * (0.0 if luck.get(name, AS_PLANNED).lost else luck.get(name, AS_PLANNED).share)
            for name, each in picks
        )
        share = min(1.0, came / planned) if planned else 1.0
        if share <= 0:
            continue
        place = {"food": lot.food, "kind": lot.kind, "form": lot.form, "store": lot.place}
        put_by = entry(
            EntryKind.PUT_BY,
            monday(lot.put_by_week) + timedelta(days=3),
            amount=kg(lot.kg_in * share),
            **place,
        )
        yield put_by
        for week, eaten in lot.eaten:
            day = monday(week) + timedelta(days=4)
            yield entry(EntryKind.EATEN, day, amount=kg(eaten * share), lot=put_by.id)


def _of_lot_in_hand(plan: Plan, lot: Lot) -> Iterator[Entry]:
    """Eat of what lay in store before, as planned."""
    place = {"food": lot.food, "kind": lot.kind or None, "form": lot.form, "store": lot.place}
    for week, eaten in lot.eaten:
        day = plan.horizon.monday(week) + timedelta(days=4)
        yield entry(EntryKind.EATEN, day, amount=kg(eaten), **place)
