"""How fast a food is eaten against how fast it may be: slow down, speed up, or go on."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from haulm.measure.weeks import DAYS_A_WEEK
from haulm.season.eat_first import SafeUse, Taken, taken_weekly
from haulm.season.larder_rules import larder_rules
from haulm.season.ledger_records import LedgerLot
from haulm.season.records import EntryKind, Purpose


class Advice(StrEnum):
    """What to do about how fast a food is eaten."""

    SLOWER = "slow down"
    FASTER = "speed up"
    GO_ON = "go on"


@dataclass(frozen=True, slots=True)
class StoreUse:
    """How fast a food is eaten from store.

    Attributes
    ----------
    week_kg
        What the diary says was eaten in a week, on the mean [kg].
    weeks
        Over how many weeks that is.
    safe
        What a week may safely take.
    taken
        What becomes of the food if it goes on being eaten like this.
    advice
        What to do.
    """

    week_kg: float
    weeks: float
    safe: SafeUse
    taken: Taken
    advice: Advice


def store_use(
    books: Sequence[LedgerLot], kitchen: Sequence[LedgerLot], day: date, safe: SafeUse
) -> StoreUse | None:
    """Hold what is eaten of a food in a week against what a week may safely take.

    Parameters
    ----------
    books, kitchen
        All lots of the food, and those of them that the kitchen may use.
    day
        Today.
    safe
        What a week may safely take.

    Returns
    -------
    None where the diary does not say what was eaten of it, or not for long enough.
    """
    eaten = [
        move
        for lot in books
        if lot.purpose is Purpose.EAT
        for move in lot.moves
        if move.kind is EntryKind.EATEN
    ]
    if not eaten:
        return None
    rules = larder_rules()
    first = min(lot.put_by for lot in books)
    since = max(day - timedelta(weeks=rules.look_back_weeks.value), first)
    weeks = (day - since).days / DAYS_A_WEEK
    if weeks < rules.least_weeks.value:
        return None
    week_kg = sum(move.kg for move in eaten if move.day > since) / weeks
    taken = taken_weekly(kitchen, day, safe.until, week_kg)
    return StoreUse(week_kg, weeks, safe, taken, _advice(week_kg, safe.week_kg))


def _advice(week_kg: float, safe_kg: float) -> Advice:
    near = larder_rules().pace_near.value
    if week_kg > safe_kg * (1 + near):
        return Advice.SLOWER
    return Advice.FASTER if week_kg < safe_kg * (1 - near) else Advice.GO_ON
