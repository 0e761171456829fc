"""What to eat first, how long it lasts, and how much of it a week may safely take."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.measure.weeks import DAYS_A_WEEK
from haulm.season.larder_rules import larder_rules
from haulm.season.ledger import left_kg
from haulm.season.ledger_records import Ledger, LedgerLot
from haulm.season.records import Purpose

AHEAD_WEEKS = 4
NOTHING_KG = 0.005
LAST_WEEKS = 156
HALVINGS = 40
NEARLY = 1e-9
"""A week that lacks no more than this share of what is wanted falls short of nothing."""


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
class PastUnseen:
    """A lot that is past keeping by its age, and was not looked at since.

    Attributes
    ----------
    lot, sound_kg
        The lot, and what of it was sound a week before that, or when it was last told of [kg].
    past_on
        The day from which it is past keeping.
    """

    lot: LedgerLot
    sound_kg: float
    past_on: date


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


@dataclass(frozen=True, slots=True)
class Taken:
    """What becomes of a food if so much of it is eaten every week until a day [kg].

    Attributes
    ----------
    eaten_kg, lost_kg, left_kg
        What is eaten, what rots, and what is still sound on the day.
    missing_kg
        What is wanted and not there.
    short_weeks
        In how many weeks less is there than is wanted.
    gone_on
        The first day of the first such week; None where it lasts.
    """

    eaten_kg: float
    lost_kg: float
    left_kg: float
    missing_kg: float
    short_weeks: int
    gone_on: date | None


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


def past_unseen(lots: Sequence[LedgerLot], day: date) -> tuple[PastUnseen, ...]:
    """List what was sound until it was past keeping by its age, and nobody looked at since.

    The books have nothing of it any more, though nobody told that it was thrown out.
    """
    weeks = larder_rules().past_told_weeks.value
    found = []
    for lot in lots:
        past_on = past_keeping_on(lot)
        if past_on is None or not past_on <= day <= past_on + timedelta(weeks=weeks):
            continue
        looked = [one.day for one in lot.counts]
        last = max([lot.put_by, *looked, *(move.day for move in lot.moves)])
        sound_kg = left_kg(lot, max(last, past_on - timedelta(days=DAYS_A_WEEK)))
        if last < past_on and sound_kg > larder_rules().near_kg.value:
            found.append(PastUnseen(lot, sound_kg, past_on))
    return tuple(found)


def there_to_eat(lots: Sequence[LedgerLot], day: date) -> list[LedgerLot]:
    """Give the lots that have something to eat on a day, what is past keeping soonest first."""
    there = [lot for lot in lots if lot.purpose is Purpose.EAT and left_kg(lot, day) > NOTHING_KG]
    return sorted(there, key=lambda lot: (past_keeping_on(lot) or date.max, lot.put_by, lot.id))


def weeks_until(day: date, until: date) -> int:
    """Count the weeks from a day until another, a begun one as whole; 1 at least."""
    return max(1, -(-(until - day).days // DAYS_A_WEEK))


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
    there = there_to_eat(lots, day)
    if not there:
        return None
    shares = _shares(there, day, weeks_until(day, until))
    sound = sum(left_kg(lot, day) for lot in there)
    low, high = 0.0, sound
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        left = [lot.base_kg for lot in there], [lot.most_kg for lot in there]
        short = any(kg > middle * NEARLY for kg in _lacks(*left, shares, middle))
        low, high = (low, middle) if short else (middle, high)
    return SafeUse(there[0].food, sound, low, until)


def taken_weekly(lots: Sequence[LedgerLot], day: date, until: date, week_kg: float) -> Taken:
    """Say what becomes of a food if the same amount is eaten every week until a day.

    Lots are eaten as in :func:`safe_use`.
    """
    there = there_to_eat(lots, day)
    weeks = weeks_until(day, until)
    taken, short, left = _eaten(there, _shares(there, day, weeks), week_kg)
    at_end = sum(
        max(0.0, min(base * lot.share_on(day + timedelta(weeks=weeks)), most))
        for lot, (base, most) in zip(there, left, strict=True)
    )
    eaten = sum(taken)
    sound = sum(left_kg(lot, day) for lot in there)
    return Taken(
        eaten_kg=eaten,
        lost_kg=max(0.0, sound - eaten - at_end),
        left_kg=at_end,
        missing_kg=weeks * week_kg - eaten,
        short_weeks=len(short),
        gone_on=day + timedelta(weeks=short[0]) if short else None,
    )


def _shares(lots: Sequence[LedgerLot], day: date, weeks: int) -> list[list[float]]:
    """Give the sound share of each lot at the start of each week."""
    days = [day + timedelta(weeks=week) for week in range(weeks)]
    return [[lot.share_on(on) for lot in lots] for on in days]


def _eaten(
    lots: Sequence[LedgerLot], shares: Sequence[Sequence[float]], week_kg: float
) -> tuple[list[float], list[int], list[tuple[float, float]]]:
    """Eat the same amount every week: what is eaten, what falls short, what is left."""
    base, most = [lot.base_kg for lot in lots], [lot.most_kg for lot in lots]
    lacks = list(_lacks(base, most, shares, week_kg))
    short = [week for week, kg in enumerate(lacks) if kg > week_kg * NEARLY]
    return [week_kg - kg for kg in lacks], short, list(zip(base, most, strict=True))


def _lacks(
    base: list[float], most: list[float], shares: Sequence[Sequence[float]], week_kg: float
) -> Iterator[float]:
    """Eat the same amount every week out of what is left, and give what each week lacks [kg]."""
    for of_lots in shares:
        wanted = week_kg
        for number, share in enumerate(of_lots):
            taken = min(wanted, base[number] * share, most[number])
            if taken > 0:
                base[number] -= taken / share
                most[number] -= taken
                wanted -= taken
                if wanted <= 0:
                    break
        yield wanted
