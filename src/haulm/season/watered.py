"""What the diary tells of water: the gauge, what was given and where, and tanks that were read."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from haulm.measure.findings import Finding, Grade
from haulm.season.records import Entry, EntryKind, Measured

KINDS = frozenset({EntryKind.WATERED, EntryKind.RAINED, EntryKind.TANK_READ})


@dataclass(frozen=True, slots=True)
class Given:
    """Water that was given on a day, to a whole bed, to one kind on it, or to one planting.

    Just one of ``litres`` and ``depth_mm`` is told [l, mm]; ``tank`` is the rain tank it was drawn
    from, None for not from one; ``number`` says in which order what is told was written.
    """

    number: int
    day: date
    bed: str | None
    planting: str | None
    kind: str | None
    litres: float | None
    depth_mm: float | None
    tank: str | None = None


@dataclass(frozen=True, slots=True)
class TankRead:
    """What lay in a rain tank when it was read [l]; ``number`` as of what was given."""

    number: int
    tank: str
    day: date
    litres: float


@dataclass(frozen=True, slots=True)
class WaterDiary:
    """What the diary tells of water.

    Attributes
    ----------
    gauge_mm
        What was read in the gauge, by day, several of a day added up [mm].
    rained_on
        Days on which it is told to have rained well, unmeasured.
    given
        What was given.
    read
        Tanks that were read.
    first_day
        The first day on which anything of this is told; None where nothing is.
    not_counted
        Waterings whose amount is not known, each said.
    """

    gauge_mm: Mapping[date, float]
    rained_on: tuple[date, ...]
    given: tuple[Given, ...]
    read: tuple[TankRead, ...]
    first_day: date | None
    not_counted: tuple[Finding, ...] = ()


def water_told(entries: Iterable[Entry], flow_l_min: float | None) -> WaterDiary:
    """Gather what entries tell of water.

    Minutes are counted by the hose's flow. Where that was not told the watering is not counted,
    and that is said: water of which nobody knows how much is not none.

    Parameters
    ----------
    entries
        The entries that hold, of any kind.
    flow_l_min
        What the hose gives in a minute [l]; None where nobody told.
    """
    told = [entry for entry in entries if entry.kind in KINDS]
    gauge: dict[date, float] = defaultdict(float)
    rained: list[date] = []
    given: list[Given] = []
    read: list[TankRead] = []
    missing: list[Finding] = []
    for number, entry in enumerate(told):
        amount = entry.amount
        if entry.kind is EntryKind.RAINED:
            if amount is None:
                rained.append(entry.day)
            else:
                gauge[entry.day] += amount.number
        elif amount is None:
            continue
        elif entry.kind is EntryKind.TANK_READ:
            read.append(TankRead(number, entry.about.tank or "", entry.day, amount.number))
        elif amount.measured is Measured.MINUTES and flow_l_min is None:
            missing.append(_no_flow(entry))
        else:
            given.append(_given(number, entry, flow_l_min or 0.0))
    first = min((entry.day for entry in told), default=None)
    return WaterDiary(dict(gauge), tuple(rained), tuple(given), tuple(read), first, tuple(missing))


def _given(number: int, entry: Entry, flow_l_min: float) -> Given:
    about, amount = entry.about, entry.amount
    told = amount.number if amount else 0.0
    measured = amount.measured if amount else Measured.LITRES
    litres: float | None = told
    if measured is Measured.MINUTES:
        litres = told * flow_l_min
    elif measured is Measured.MILLIMETRES:
        litres = None
    depth = told if litres is None else None
    return Given(
        number, entry.day, about.bed, about.planting, about.kind, litres, depth, about.tank
    )


def _no_flow(entry: Entry) -> Finding:
    return Finding(
        f"the diary of {entry.day.isoformat()}, watered {entry.about.bed or ''}".rstrip(),
        "it is told in minutes, and what the hose gives in a minute is not known: not counted.",
        "Fill a can of known size, count the seconds, and tell the flow under Watering.",
        Grade.WARNING,
    )
