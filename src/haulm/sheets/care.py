"""What plants that stay for years want done once a year, and on which days of the plan."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.growing.perennials import midwinter
from haulm.plan.records import Planting
from haulm.sheets.acts import JobKind
from haulm.sheets.bundle import SheetBundle


@dataclass(frozen=True, slots=True)
class YearlyJob:
    """A yearly job, the day it falls due, and what is to be known of it."""

    kind: JobKind
    day: date
    note: str


def cares_of(bundle: SheetBundle, planting: Planting) -> Iterator[YearlyJob]:
    """Give a planting's yearly jobs within the plan; none of what does not stay for years.

    Each falls due so many days after midwinter, in the north 1 January, in the south 1 July.
    """
    perennial = bundle.kind_of(planting).perennial
    horizon = bundle.plan.horizon
    first, last = horizon.first_day, horizon.monday(horizon.weeks)
    if perennial is None:
        return
    for year in range(first.year - 1, last.year + 1):
        start = midwinter(year, southern=bundle.place.southern)
        for care in perennial.care:
            day = start + timedelta(days=round(care.after_days.value))
            if first <= day < last:
                yield YearlyJob(JobKind(care.id), day, care.after_days.note)
