"""A household's own pace at a sort of work: its minutes against the catalogue's."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from haulm.catalogue.records import Basis, Figure, Keeping, Kind
from haulm.measure.findings import Finding

PACE = "own_pace"
MOST_TIMES = 20.0
"""Who takes more than so many times as long as usual does not do the same work."""


class Work(StrEnum):
    """A sort of work that has a pace of its own; *all* stands for each that has none."""

    STARTING = "starting"
    TENDING = "tending"
    PICKING = "picking"
    PUTTING_BY = "putting by"
    ALL = "all"

    @property
    def words(self) -> str:
        """What it is called in a list."""
        return "All work together" if self is Work.ALL else self.value.capitalize()


LABOUR = {
    "start_min_m2": Work.STARTING,
    "tend_min_m2_week": Work.TENDING,
    "pick_min_kg": Work.PICKING,
}
"""Which figures of a kind's labour a pace moves; putting by moves a keeping's ``work_min_kg``."""


@dataclass(frozen=True, slots=True)
class OwnPace:
    """How long a household takes for a sort of work: times the catalogue's minutes [1]."""

    work: Work
    times: float
    note: str = ""


def with_paces(kind: Kind, paces: Iterable[OwnPace]) -> Kind:
    """Put a household's pace into a kind's minutes; minutes that are its own already stay."""
    by_work = {one.work: one for one in paces}
    if not by_work:
        return kind
    labour = {
        field: _paced(getattr(kind.labour, field), by_work, work) for field, work in LABOUR.items()
    }
    givings = tuple(
        replace(giving, keeping=tuple(_kept(way, by_work) for way in giving.keeping))
        for giving in kind.givings
    )
    return replace(kind, labour=replace(kind.labour, **labour), givings=givings)


def paces_at_fault(paces: Iterable[OwnPace]) -> tuple[Finding, ...]:
    """Find paces that cannot be, and sorts of work that have two."""
    found, seen = [], set()
    for number, one in enumerate(paces):
        if not 0 < one.times <= MOST_TIMES:
            what = f"{one.times:g} times the usual minutes cannot be."
            remedy = f"Give it above 0 and at most {MOST_TIMES:g}."
            found.append(_fault((number, "times"), one, what, remedy))
        if one.work in seen:
            what = "you have given this pace already."
            found.append(_fault((number, "work"), one, what, "Take one of them out."))
        seen.add(one.work)
    return tuple(found)


def _kept(way: Keeping, by_work: dict[Work, OwnPace]) -> Keeping:
    return replace(way, work_min_kg=_paced(way.work_min_kg, by_work, Work.PUTTING_BY))


def _paced(figure: Any, by_work: dict[Work, OwnPace], work: Work) -> Any:  # noqa: ANN401 -- a figure, or that there is none
    """Give minutes at the household's pace; what nobody knows stays unknown."""
    pace = by_work.get(work) or by_work.get(Work.ALL)
    if pace is None or not isinstance(figure, Figure) or figure.basis is Basis.OWN:
        return figure
    low, high = (None if end is None else end * pace.times for end in (figure.low, figure.high))
    note = f"{pace.times:.3g} times the catalogue's minutes, your own pace at {work.value}"
    note = f"{note}; {pace.note}" if pace.note else note
    own = Figure(figure.value * pace.times, figure.unit, Basis.OWN, low=low, high=high, note=note)
    return replace(own, replaced=figure)


def _fault(place: tuple[int, str], pace: OwnPace, what: str, remedy: str) -> Finding:
    number, key = place
    return Finding(f"your own pace at {pace.work}", what, remedy, place=(PACE, number, key))
