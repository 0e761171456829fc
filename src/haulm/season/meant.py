"""Which plantings of a plan an entry of the diary speaks of."""

from collections.abc import Sequence
from datetime import date, timedelta

from haulm.plan.records import Plan, Planting
from haulm.season.records import STARTS, Entry, EntryKind, key_of
from haulm.season.rules import season_rules


class Meant:
    """Finds of which of a plan's plantings an entry speaks.

    An entry that names a planting speaks of it alone, and of nothing where the plan does not have
    it. One that names a kind and a bed and says that it was started, or set out, speaks of that one
    of the kind in the bed which was to be so nearest to the day, within some weeks; any other, of
    all of the kind that the bed holds about then. One that clears a bed without naming a kind
    speaks of all that the bed holds about then; what of it stood on the day, the diary's other
    entries may know better.
    """

    def __init__(self, plan: Plan) -> None:
        self._by_key = {key_of(planting): (planting,) for planting in plan.plantings}
        self._by_bed: dict[str, list[Planting]] = {}
        for planting in plan.plantings:
            self._by_bed.setdefault(planting.bed, []).append(planting)

    def of(self, entry: Entry) -> Sequence[Planting]:
        """Give the plantings that an entry speaks of."""
        about = entry.about
        if about.planting is not None:
            return self._by_key.get(about.planting, ())
        there = self._by_bed.get(about.bed or "", ())
        if about.kind is None:
            cleared = entry.kind is EntryKind.CLEARED
            return [one for one in there if cleared and _held(one, entry.day)]
        mine = [one for one in there if one.kind == about.kind]
        if entry.kind in STARTS:
            return _nearest([(one.sow_on, one) for one in mine], entry.day)
        if entry.kind is EntryKind.SET_OUT:
            return _nearest([(one.set_on, one) for one in mine if _raised(one)], entry.day)
        return [one for one in mine if _held(one, entry.day)]


def _nearest(planned: list[tuple[date, Planting]], day: date) -> Sequence[Planting]:
    near = [(abs(on - day), one.id, one) for on, one in planned if abs(on - day) <= _near()]
    return [min(near, key=lambda each: each[:2])[2]] if near else ()


def _raised(planting: Planting) -> bool:
    return planting.tray_weeks[0] < planting.tray_weeks[1]


def _held(planting: Planting, day: date) -> bool:
    return planting.sow_on - _near() <= day < planting.clear_by + _near()


def _near() -> timedelta:
    return timedelta(days=round(season_rules().meant_within_days.value))
