"""A plan as it truly stands: what started late comes late, what is lost is no longer to be done.

A planting started some days after its week moves by whole weeks, as a plan carried on counts it;
one started early moves forward by the whole weeks it is early. What was set out late moves from its
setting out on. All its later work, its picking and what is put by of it move with it.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.plan.records import Lot, Pick, Plan, Planting, Ready
from haulm.plan.state import GONE, Became, Noted, speaks_of
from haulm.season.meant import Meant
from haulm.season.records import STARTED, STARTS, Entry


@dataclass(frozen=True, slots=True)
class OffPlan:
    """By how many weeks a planting is later than planned [weeks], and what says so."""

    weeks: int
    since: date
    set_out: bool = False


@dataclass(frozen=True, slots=True)
class PlanToday:
    """A plan as it truly stands.

    Attributes
    ----------
    plan
        The plan, with what moved in its new weeks and what is gone left out.
    moved
        By planting: how far it moved.
    gone
        By planting: the note that says it is no more.
    """

    plan: Plan
    moved: Mapping[str, OffPlan]
    gone: Mapping[str, Noted]


def as_it_stands(plan: Plan, notes: Sequence[Noted], entries: Iterable[Entry]) -> PlanToday:
    """Work what was noted and written in the diary into a plan.

    Parameters
    ----------
    plan
        The plan.
    notes
        What was noted of its plantings, by the garden and by the diary.
    entries
        The diary's entries that hold.
    """
    gone: dict[str, Noted] = {}
    moved: dict[str, OffPlan] = {}
    by_kind_and_bed: dict[tuple[str | None, str | None], list[Noted]] = {}
    for note in notes:
        by_kind_and_bed.setdefault((note.kind, note.bed), []).append(note)
    for planting in plan.plantings:
        for note in by_kind_and_bed.get((planting.kind, planting.bed), ()):
            if speaks_of(note, planting):
                if note.what in GONE:
                    gone.setdefault(planting.id, note)
                elif note.what is Became.LATE:
                    late = (note.days or 0) - planting.late_days
                    moved[planting.id] = OffPlan(-(-late // DAYS_A_WEEK), note.on)
    moved |= _started_otherwise(plan, entries)
    moved = {key: one for key, one in moved.items() if one.weeks and key not in gone}
    if not moved and not gone:
        return PlanToday(plan, {}, {})
    weeks = {key: one.weeks for key, one in moved.items()}
    kept = tuple(
        _moved(one, moved[one.id]) if one.id in moved else one
        for one in plan.plantings
        if one.id not in gone
    )
    lots = tuple(_lots(plan, weeks, frozenset(gone)))
    return PlanToday(replace(plan, plantings=kept, lots=lots), moved, gone)


def _started_otherwise(plan: Plan, entries: Iterable[Entry]) -> dict[str, OffPlan]:
    """Find what was started, or set out, in another week than planned; setting out says last."""
    meant = Meant(plan)
    found: dict[str, OffPlan] = {}
    told = ((entry, one) for entry in entries if entry.kind in STARTED for one in meant.of(entry))
    for entry, planting in told:
        if planting.standing:
            continue
        if entry.kind in STARTS:
            weeks = _weeks_off(entry.day, planting.sow_on)
            if not (planting.id in found and found[planting.id].set_out):
                found[planting.id] = OffPlan(weeks, entry.day)
        else:
            weeks = _weeks_off(entry.day, planting.set_on)
            found[planting.id] = OffPlan(weeks, entry.day, set_out=True)
    return found


def _weeks_off(day: date, planned: date) -> int:
    """Count whole weeks late, after a week's grace, or early; 0 in its week or the next."""
    monday = monday_of(planned)
    late = (day - monday).days - (DAYS_A_WEEK - 1)
    if late > DAYS_A_WEEK:
        return -(-late // DAYS_A_WEEK)
    return -((monday - day).days // DAYS_A_WEEK) if day < monday else 0


def _moved(planting: Planting, by: OffPlan) -> Planting:
    """Move what of a planting is still to come; its start stays where it was planned."""
    weeks, days = by.weeks, timedelta(weeks=by.weeks)
    raised = planting.tray_cells > 0
    start = planting.from_week if not raised or by.set_out else planting.tray_weeks[0]
    in_ground = raised and not by.set_out
    return replace(
        planting,
        set_on=planting.set_on + days if in_ground else planting.set_on,
        in_ground_from=planting.in_ground_from + days if in_ground else planting.in_ground_from,
        from_week=planting.from_week + weeks if in_ground else planting.from_week,
        until_week=planting.until_week + weeks,
        clear_by=planting.clear_by + days,
        minutes=tuple((w + weeks if w > start else w, m) for w, m in planting.minutes),
        ready=tuple(
            Ready(one.food, one.early + days, one.middle + days, one.late + days)
            for one in planting.ready
        ),
        picks=tuple(Pick(one.food, one.week + weeks, one.kg) for one in planting.picks),
        late_days=planting.late_days + DAYS_A_WEEK * weeks,
    )


def _lots(plan: Plan, weeks: Mapping[str, int], gone: frozenset[str]) -> Iterable[Lot]:
    """Give the lots, each put by when what it is of is picked; without what is gone."""
    givers: dict[tuple[str, str, int], list[str]] = {}
    for planting in plan.plantings:
        for pick in planting.picks:
            givers.setdefault((planting.kind, pick.food, pick.week), []).append(planting.id)
    for lot in plan.lots:
        some = givers.get((lot.kind, lot.food, lot.put_by_week), [])
        if lot.in_hand or not some:
            yield lot
            continue
        left = [one for one in some if one not in gone]
        if left:
            by = min(weeks.get(one, 0) for one in left)
            yield replace(lot, put_by_week=lot.put_by_week + by) if by else lot
