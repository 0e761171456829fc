"""Why a plan made again differs: what was noted, and the ground and the table it left wanting."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from haulm.measure.day_words import long_day
from haulm.measure.sentences import capital
from haulm.measure.units import Units, show_area
from haulm.plan.records import Plan, Planting
from haulm.plan.state import Became, Noted

WORDS = {
    Became.FAILED: "failed",
    Became.NOT_SOWN: "was not sown",
    Became.CLEARED: "was cleared early",
    Became.EATEN_UP: "was eaten up",
}


class Change(StrEnum):
    """What became of a planting, or that a line of the table is met otherwise."""

    NEW = "new"
    GONE = "gone"
    MOVED = "moved"
    RESIZED = "resized"
    SHIFTED = "shifted"
    TABLE = "table"


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing in which a plan differs from the one before.

    Attributes
    ----------
    kind
        What sort of difference.
    before, after
        The planting's id in each plan; None where it has none. Of several plantings of one sowing
        in one bed, the first.
    sentence
        The difference in a grower's words.
    area_before_m2, area_after_m2
        Its ground in each plan [m²]; both 0 for a line of the table.
    line
        The line of the table; None for a planting.
    less_short_kg
        By how much less the line runs short, over the weeks of both plans [kg].
    """

    kind: Change
    before: str | None
    after: str | None
    sentence: str
    area_before_m2: float = 0.0
    area_after_m2: float = 0.0
    line: str | None = None
    less_short_kg: float = 0.0


@dataclass(frozen=True, slots=True)
class Reasons:
    """What was noted to be no more, as the reason of what a plan changes.

    ``noted`` are the plantings that are no more, each with its note; ``names`` display names by id.
    """

    noted: Sequence[tuple[Planting, Noted]]
    names: Mapping[str, str]

    def told(self, units: Units) -> Iterator[Difference]:
        """Tell each planting that is no more, and by which note."""
        for planting, note in self.noted:
            yield Difference(
                Change.GONE,
                planting.id,
                None,
                f"{capital(self._named(planting))} ({show_area(planting.area_m2, units)})"
                f" {WORDS[note.what]}, as noted on {long_day(note.on)}.",
                area_before_m2=planting.area_m2,
            )

    def of_ground(self, told: Difference, after: Plan) -> Difference:
        """Add to what a bed takes anew or more of that something there left its ground free."""
        if told.kind is Change.GONE or told.area_after_m2 <= told.area_before_m2 * _same_bed(told):
            return told
        now = next((p for p in after.plantings if p.id == told.after), None)
        if now is None:
            return told
        for planting, note in self.noted:
            if planting.bed == now.bed and note.on < now.clear_by and _meet(planting, now):
                return replace(told, sentence=self._because(told.sentence, planting, note))
        return told

    def of_line(self, told: Difference) -> Difference:
        """Add to a line of the table that is shorter that what should have served it is no more."""
        for planting, note in self.noted:
            if told.less_short_kg < 0 and any(one.line == told.line for one in planting.serves):
                return replace(told, sentence=self._because(told.sentence, planting, note))
        return told

    def _because(self, sentence: str, planting: Planting, note: Noted) -> str:
        return f"{sentence.removesuffix('.')}, because {self._named(planting)} {WORDS[note.what]}."

    def _named(self, planting: Planting) -> str:
        kind = self.names.get(planting.kind, planting.kind)
        return f"{kind} in {self.names.get(planting.bed, planting.bed)}"


def _same_bed(told: Difference) -> float:
    """Give 1 where a patch stays in its bed, 0 where it is new there."""
    return 1.0 if told.kind in {Change.RESIZED, Change.SHIFTED} else 0.0


def _meet(gone: Planting, now: Planting) -> bool:
    """Say whether a planting takes ground while another would still have held it."""
    return now.in_ground_from < gone.clear_by
