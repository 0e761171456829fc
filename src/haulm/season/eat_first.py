"""What to eat first, how long it lasts, and how much of it a week may safely take."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.measure.weeks import DAYS_A_WEEK
from haulm.season.keeping_pace import age_weeks, sound_at
from haulm.season.ledger import left_kg
from haulm.season.ledger_records import Ledger, LedgerLot
from haulm.season.records import Purpose

AHEAD_WEEKS = 4
NOTHING_KG = 0.005
LAST_WEEKS = 156


@dataclass(frozen=True, slots=True)
class EatFirst:
    """One lot in the order it should be eaten.

    Attributes
    ----------
    lot, sound_kg
        The lot, and what of it is sound today [kg].
    lost_kg
        What of that would be lost within four weeks if nobody ate it [kg].
    past_on
        The day from which it is past keeping; None where that is years away.
    """

    lot: LedgerLot
    sound_kg: float
    lost_kg: float
    past_on: date | None


@dataclass(frozen=True, slots=True)
class SafeUse:
    """How much of a food a week may take so that it lasts.

    Attributes
    ----------
    food, sound_kg
        What, and what of it is sound today [kg].
    week_kg
        The same amount each week that lasts just until the day [kg].
    until
        That day: when the food comes anew.
    """

    food: str
    sound_kg: float
    week_kg: float
    until: date


def eat_first(ledger: Ledger, day: date) -> tuple[EatFirst, ...]:
    """Order the kitchen's lots by what would be lost of each in four weeks, as a share of it.

    Of two that lose alike, what is past keeping sooner comes first. A count not only sets how much
    there is: a lot that was found to age fast comes up in the order.
    """
    found = []
    for lot in ledger.lots:
        sound = left_kg(lot, day)
        if lot.purpose is not Purpose.EAT or sound <= NOTHING_KG:
            continue
        later = left_kg(lot, day + timedelta(weeks=AHEAD_WEEKS))
        found.append(EatFirst(lot, sound, sound - later, past_keeping_on(lot)))
    return tuple(
        sorted(
            found,
            key=lambda one: (
                -one.lost_kg / one.sound_kg,
                one.past_on or date.max,
                one.lot.put_by,
                one.lot.id,
            ),
        )
    )


def past_keeping_on(lot: LedgerLot) -> date | None:
    """Give the day from which a lot is past keeping, at the pace its counts tell."""
    weeks = (len(lot.keeps.sound) - 1) / lot.pace
    if weeks > LAST_WEEKS:
        return None
    return lot.put_by + timedelta(days=int(weeks * DAYS_A_WEEK) + 1)


def safe_use(lots: Sequence[LedgerLot], day: date, until: date) -> SafeUse | None:
    """Give the same weekly amount that lasts from a day until another; None where nothing is left.

    What is kept back goes on rotting: taken each week u, a lot of which R is not taken out lasts
    while Σ u / S(age + t) ≤ R, with S the sound share. Lots are eaten one after another, those that
    are past keeping soonest first; a lot gives nothing once it is past keeping. The amount is found
    by halving.

    Parameters
    ----------
    lots
        The lots of one food.
    day, until
        From when, and until when it has to last; the first weeks are counted whole.
    """
    there = [lot for lot in lots if lot.purpose is Purpose.EAT and left_kg(lot, day) > NOTHING_KG]
    if not there:
        return None
    sound = sum(left_kg(lot, day) for lot in there)
    weeks = max(1, -(-(until - day).days // DAYS_A_WEEK))
    there.sort(key=lambda lot: (past_keeping_on(lot) or date.max, lot.put_by, lot.id))
    low, high = 0.0, sound
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if _lasts(there, day, weeks, middle) else (low, middle)
    return SafeUse(there[0].food, sound, low, until)


def _lasts(lots: Sequence[LedgerLot], day: date, weeks: int, week_kg: float) -> bool:
    """Say whether lots, eaten in this order, give an amount in every one of so many weeks."""
    left = [lot.base_kg for lot in lots]
    most = [lot.most_kg for lot in lots]
    for week in range(weeks):
        wanted = week_kg
        on = day + timedelta(weeks=week)
        for number, lot in enumerate(lots):
            share = sound_at(lot.keeps.sound, age_weeks(lot.put_by, on), lot.pace)
            taken = min(wanted, left[number] * share, most[number])
            if taken <= 0:
                continue
            left[number] -= taken / share
            most[number] -= taken
            wanted -= taken
        if wanted > week_kg * 1e-9:
            return False
    return True
