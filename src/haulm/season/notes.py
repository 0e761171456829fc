"""What the diary says of plantings that a plan has to know: lost, cleared early, started late."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta

from haulm.measure.weeks import DAYS_A_WEEK
from haulm.plan.records import Plan, Planting
from haulm.plan.state import Became, Noted
from haulm.season.records import STARTS, Entry, EntryKind, Severity, key_of
from haulm.season.rules import season_rules


def notes_of(entries: Iterable[Entry], plan: Plan) -> tuple[Noted, ...]:
    """Give what the diary says of a plan's plantings that went otherwise than planned.

    An entry of a planting speaks of it alone, and of nothing where the plan does not have it; one
    of a kind and a bed speaks of what grows there of it. What went as planned is no news, and gives
    no note.

    Parameters
    ----------
    entries
        The entries that hold, by day.
    plan
        The plan they are held against.
    """
    plantings = {key_of(planting): planting for planting in plan.plantings}
    return tuple(note for entry in entries for note in _note(entry, plantings))


def _note(entry: Entry, plantings: Mapping[str, Planting]) -> Iterator[Noted]:
    about = entry.about
    planting = plantings.get(about.planting or "")
    if about.planting is not None and planting is None:
        # It speaks of one planting alone, which an earlier plan had.
        return
    kind = planting.kind if planting else about.kind
    bed = planting.bed if planting else about.bed
    if kind is None or bed is None:
        return
    sown = planting.sow_on if planting else None
    if _is_lost(entry):
        yield Noted(Became.FAILED, entry.day, kind, bed, sown)
    elif entry.kind is EntryKind.CLEARED and (planting is None or _early(entry, planting)):
        yield Noted(Became.CLEARED, entry.day, kind, bed, sown)
    elif entry.kind in STARTS and planting is not None:
        late = (entry.day - _last_day(planting.sow_on)).days
        if late > season_rules().started_late_days.value:
            yield Noted(Became.LATE, entry.day, kind, bed, sown, days=late)


def _is_lost(entry: Entry) -> bool:
    """Whether an entry says that nothing is left: a trouble that took all, or none come up."""
    if entry.kind is EntryKind.TROUBLE:
        return entry.about.severity is Severity.LOST
    none_up = entry.amount is not None and entry.amount.number == 0
    return entry.kind is EntryKind.EMERGED and none_up


def _early(entry: Entry, planting: Planting) -> bool:
    early = timedelta(days=round(season_rules().cleared_early_days.value))
    return entry.day < planting.clear_by - early


def _last_day(sow_on: date) -> date:
    """Give the Sunday of the week in which a planting was to be started."""
    return sow_on + timedelta(days=DAYS_A_WEEK - 1 - sow_on.weekday())
