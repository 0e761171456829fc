"""What is done for a planting and when: the one source of the calendar and of a week's jobs."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from haulm.measure.sentences import capital
from haulm.plan.records import Planting
from haulm.sheets.moments import doing
from haulm.sheets.wording import from_trays, main_expects


class JobKind(StrEnum):
    """What is done, in a word or two."""

    SOW_TRAYS = "sow in trays"
    SOW = "sow"
    PLANT = "plant"
    SET_OUT = "set out"
    LIFT = "lift"
    PICK = "pick"
    PUT_BY = "put by"
    CLEAR = "clear"
    DIG_IN = "dig in"
    TEND = "tend"
    MULCH = "mulch"
    CUT_DOWN = "cut down"

    @property
    def verb(self) -> str:
        """The word as it starts a sentence."""
        return capital(self.value)


@dataclass(frozen=True, slots=True)
class Act:
    """One thing done for a planting, and the day it is planned for."""

    kind: JobKind
    day: date


def acts_of(planting: Planting, *, stays: bool = False) -> Iterator[Act]:
    """Give what is done to start a planting and to end it.

    What stands is not started again, but set out where it is in trays; what ``stays`` for years is
    not ended.
    """
    if not planting.standing:
        if from_trays(planting):
            yield Act(JobKind.SOW_TRAYS, planting.sow_on)
            yield Act(JobKind.SET_OUT, planting.set_on)
        else:
            yield Act(JobKind(doing(planting)), planting.sow_on)
    elif planting.in_trays:
        yield Act(JobKind.SET_OUT, planting.in_ground_from)
    if not stays:
        ends = JobKind.LIFT if main_expects(planting) else JobKind.CLEAR
        yield Act(ends, planting.clear_by)
