"""A plan's plantings as they truly stood in their beds: by the diary's days, else as planned."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import timedelta

from haulm.plan.records import Plan, Planting
from haulm.plan.state import GONE, Became, Noted, speaks_of
from haulm.season.meant import Meant
from haulm.season.notes import notes_of
from haulm.season.records import STARTED, Entry, EntryKind
from haulm.season.rules import season_rules

TOLD = STARTED | {EntryKind.CLEARED, EntryKind.EMERGED, EntryKind.TROUBLE}
"""Of what kinds of entry it is told when a planting began and ended."""

_SLACK_M2 = 1e-6


def as_stood(plan: Plan, entries: Sequence[Entry], noted: Iterable[Noted] = ()) -> Plan:
    """Give a plan with each planting on its ground from and to the days that are told of it.

    What is told by nobody stands as planned. A planting begun before its bed had room for it ends
    what was to be cleared first, for two crops cannot stand in one place.

    Parameters
    ----------
    plan
        The plan.
    entries
        The diary's entries; those of other kinds than ``TOLD`` are passed over.
    noted
        What the garden notes beside.
    """
    notes = (*noted, *notes_of(entries, plan))
    spoken: dict[str, list[Entry]] = defaultdict(list)
    meant = Meant(plan)
    for entry in entries:
        if entry.kind in TOLD:
            for planting in meant.of(entry):
                spoken[planting.id].append(entry)
    told = [_told(planting, spoken[planting.id], notes) for planting in plan.plantings]
    beds = {bed.id: bed.area_m2 for bed in plan.beds}
    fitted = [
        one
        for bed, area_m2 in beds.items()
        for one in _fitted([p for p in told if p.bed == bed], area_m2)
    ]
    return replace(plan, plantings=tuple(fitted))


def _told(planting: Planting, entries: Sequence[Entry], notes: Sequence[Noted]) -> Planting:
    """Move a planting's days to those that the entries that speak of it tell."""
    first, until = planting.in_ground_from, planting.clear_by
    raised = planting.tray_weeks[0] < planting.tray_weeks[1]
    started = [
        entry.day
        for entry in entries
        if entry.kind in STARTED and (entry.kind is EntryKind.SET_OUT) == raised
    ]
    if started and not planting.standing:
        late = (started[-1] - first).days
        first = started[-1]
        until += timedelta(days=late if late > season_rules().started_late_days.value else 0)
    for entry in entries:
        if entry.kind is EntryKind.CLEARED and first < entry.day:
            named = entry.about.planting is not None
            until = entry.day if named else min(until, entry.day)
    for note in notes:
        if note.what in GONE and speaks_of(note, planting) and note.on < until:
            until = first if note.what is Became.NOT_SOWN else note.on
    return replace(planting, in_ground_from=first, clear_by=max(first, until))


def _fitted(plantings: list[Planting], area_m2: float) -> list[Planting]:
    """End plantings of a bed that stand where another was begun; the first to be cleared first."""
    order = sorted(plantings, key=lambda one: (one.in_ground_from, one.clear_by, one.id))
    fitted: list[Planting] = []
    for planting in order:
        start = planting.in_ground_from
        if planting.clear_by <= start:
            continue
        over = planting.area_m2 - area_m2 - _SLACK_M2
        over += sum(one.area_m2 for one in fitted if one.in_ground_from <= start < one.clear_by)
        for at in sorted(range(len(fitted)), key=lambda n: fitted[n].clear_by):
            if over <= 0:
                break
            if fitted[at].in_ground_from < start < fitted[at].clear_by:
                over -= fitted[at].area_m2
                fitted[at] = replace(fitted[at], clear_by=start)
        room = planting.area_m2 - max(over, 0.0)
        if room > _SLACK_M2:
            fitted.append(replace(planting, area_m2=room))
    return fitted
