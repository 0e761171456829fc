"""What to look out for: one record with its lines, each with place, reason, last day and source."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from haulm.plan.records import Planting
from haulm.season.blight_rules import BlightBy


@dataclass(frozen=True, slots=True)
class WatchMeans:
    """What a garden's look-out goes by.

    Attributes
    ----------
    blight
        The rules on blight it goes by; all where none is chosen.
    fleece_m2
        The fleece there is to lay over beds for a night [m²]; None where it is not told.
    """

    blight: tuple[BlightBy, ...] = ()
    fleece_m2: float | None = None

    def goes_by(self, rule: BlightBy) -> bool:
        """Say whether a rule on blight counts."""
        return not self.blight or rule in self.blight


class Heed(StrEnum):
    """What a line is about."""

    FROST = "frost"
    BLIGHT = "blight"
    SEEN = "seen"
    NOT_UP = "not come up"
    READY = "ready"


@dataclass(frozen=True, slots=True)
class LookOut:
    """One line of the look-out.

    Attributes
    ----------
    about
        What it is about.
    what
        The line itself: what to do, or to look at, in one sentence.
    beds
        Names of the beds it is about, the most pressing first.
    why
        The reasons, a sentence each.
    do
        What else to do, a sentence each.
    by
        The last day for it; None where there is none.
    sources
        What it rests on.
    """

    about: Heed
    what: str
    beds: tuple[str, ...] = ()
    why: tuple[str, ...] = ()
    do: tuple[str, ...] = ()
    by: date | None = None
    sources: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Watch:
    """What to look out for on a day.

    Attributes
    ----------
    day
        The day.
    lines
        The lines, the most pressing first.
    untold
        What cannot be said, and what would have to be told for it.
    """

    day: date
    lines: tuple[LookOut, ...]
    untold: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Stands:
    """A planting that stands today.

    Attributes
    ----------
    planting
        The planting, as the plan has it.
    since
        The day on which it was sown, set or set out: as the diary says, else as planned.
    told
        Whether the diary says so.
    up
        The share of years in which it is above ground by today [1]; 1 where it was seen.
    left_kg
        What it is still to give [kg].
    """

    planting: Planting
    since: date
    told: bool
    up: float
    left_kg: float
