"""The season's records: an entry of the diary, and the diary with its corrections worked in."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum

from haulm.measure.findings import Finding
from haulm.plan.records import Planting


class EntryKind(StrEnum):
    """What an entry of the diary tells: something done, or something seen."""

    SOWN = "sown"
    SET = "set"
    EMERGED = "emerged"
    THINNED = "thinned"
    SET_OUT = "set out"
    WATERED = "watered"
    RAINED = "rained"
    TANK_READ = "tank read"
    FED = "fed"
    WEEDED = "weeded"
    FROST = "frost seen"
    TROUBLE = "trouble seen"
    LOOKED = "looked at"
    PICKED = "picked"
    CURED = "cured"
    PUT_BY = "put by"
    COUNTED = "counted"
    EATEN = "eaten"
    GIVEN = "given"
    THROWN = "thrown"
    CLEARED = "cleared"
    WORKED = "worked"


STARTS = frozenset({EntryKind.SOWN, EntryKind.SET})
"""How a planting is started."""

STARTED = STARTS | {EntryKind.SET_OUT}
"""What says that a planting was started, be it in trays and set out since."""


class Measured(StrEnum):
    """In what an entry's amount is told; each is kept in this one unit."""

    KG = "kg"
    PIECES = "pieces"
    LITRES = "l"
    MINUTES = "min"
    MILLIMETRES = "mm"
    CELSIUS = "°C"
    SQUARE_METRES = "m2"


class Purpose(StrEnum):
    """What a lot is kept for; only what is to be eaten is the kitchen's."""

    EAT = "eat"
    PLANT = "plant"
    GIVE = "give"


class Severity(StrEnum):
    """How bad a pest or disease is."""

    SLIGHT = "slight"
    BAD = "bad"
    LOST = "lost"


@dataclass(frozen=True, slots=True)
class Amount:
    """A number and what it counts; the number is in the unit named."""

    number: float
    measured: Measured


@dataclass(frozen=True, slots=True)
class About:
    """What an entry speaks of; each is an id of plan, garden or catalogue, None where not told.

    ``planting`` is what :func:`planting_key` makes of one, for a plan's short names change from
    plan to plan. ``trouble`` is a disease's id, or the grower's own word for a pest; ``tank`` the
    name of the rain tank that was read, or that water was drawn from.
    """

    planting: str | None = None
    bed: str | None = None
    kind: str | None = None
    food: str | None = None
    store: str | None = None
    form: str | None = None
    lot: str | None = None
    trouble: str | None = None
    severity: Severity | None = None
    purpose: Purpose | None = None
    tank: str | None = None


@dataclass(frozen=True, slots=True)
class StoreCount:
    """What was found of a lot when it was looked through: sound, soft, sprouted, in one measure."""

    sound: float
    soft: float = 0.0
    sprouted: float = 0.0


@dataclass(frozen=True, slots=True)
class Leaves:
    """What the leaves of a stand say of how far it is; None where nobody looked.

    Attributes
    ----------
    green, brown
        Leaves of a usual plant that are green, and that are brown.
    down
        The share of the plants whose tops lie down or are dead [1].
    """

    green: float | None = None
    brown: float | None = None
    down: float | None = None


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of the diary. It is never changed: a correction is another entry.

    Attributes
    ----------
    id
        Made by whoever wrote it, and never used twice, wherever it was written.
    kind, day
        What it tells, and of which day.
    about
        What it speaks of.
    amount
        How much; None where nothing was measured.
    count
        For a store that was looked through: what was found.
    leaves
        For a stand that was looked at: what its leaves say.
    minutes
        What the work took [minutes]; None where nobody looked at the clock.
    words
        Whatever else there was to say.
    written_at, device
        When it was written, by the clock of the device, and which device that was.
    replaces
        The entry that this one puts right or takes back; None for a new one.
    taken_back
        Whether it only takes the other back.
    """

    id: str
    kind: EntryKind
    day: date
    written_at: datetime
    device: str
    about: About = field(default_factory=About)
    amount: Amount | None = None
    count: StoreCount | None = None
    minutes: float | None = None
    words: str = ""
    replaces: str | None = None
    taken_back: bool = False
    leaves: Leaves | None = None


@dataclass(frozen=True, slots=True)
class Diary:
    """The diary with its corrections worked in.

    Attributes
    ----------
    entries
        What holds, by day and then by when it was written.
    before
        For each of them that was put right: what was written before, the newest first.
    taken_back
        What was taken back, by the id of the entry that did so.
    doubts
        What two devices put right differently: told, not settled unseen.
    """

    entries: tuple[Entry, ...]
    before: Mapping[str, tuple[Entry, ...]]
    taken_back: Mapping[str, Entry]
    doubts: tuple[Finding, ...] = ()


def planting_key(kind: str, method: str, sow_on: date, bed: str) -> str:
    """Name a planting so that it is the same in every plan: kind, method, week of sowing, bed."""
    year, week, _ = sow_on.isocalendar()
    return f"{kind}:{method}:{year}-W{week:02d}@{bed}"


def key_of(planting: Planting) -> str:
    """Give the name a planting has in the diary, the same in every plan."""
    return planting_key(planting.kind, planting.method, planting.sow_on, planting.bed)


def as_kg(amount: Amount | None, piece_kg: float | None) -> float | None:
    """Give an amount of food in kilograms [kg]; None where that cannot be known.

    ``piece_kg`` is what a piece of the food weighs [kg]; None where nobody knows.
    """
    if amount is None:
        return None
    if amount.measured is Measured.KG:
        return amount.number
    if amount.measured is Measured.PIECES and piece_kg is not None:
        return amount.number * piece_kg
    return None
