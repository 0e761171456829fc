"""When a store is due to be looked through, and what is likely to be found there."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from haulm.season.larder_rules import larder_rules
from haulm.season.ledger import left_kg
from haulm.season.ledger_records import LedgerLot

NOTHING_KG = 0.005


@dataclass(frozen=True, slots=True)
class CheckLine:
    """One lot of a store, as a check is likely to find it.

    Attributes
    ----------
    lot
        The lot.
    sound_kg, lost_kg
        What is likely sound, and what has likely gone soft or sprouted since it was last looked
        through [kg].
    due
        The day by which it should be looked through.
    """

    lot: LedgerLot
    sound_kg: float
    lost_kg: float
    due: date


@dataclass(frozen=True, slots=True)
class StoreCheck:
    """A store to be looked through: by when, and lot by lot what is likely to be found."""

    store: str
    due: date
    lines: tuple[CheckLine, ...]


def store_checks(
    lots: Iterable[LedgerLot], day: date, most_days: Mapping[str, int]
) -> tuple[StoreCheck, ...]:
    """Say when each store is to be looked through, the first due first.

    A lot is due once so much of it is likely to be lost since it was last looked through as
    ``data/larder.toml`` says, or when its form has not been looked at for as long as it may go; a
    store when its first lot is.

    Parameters
    ----------
    lots
        All lots, seed too: it rots as well.
    day
        Today.
    most_days
        How long each form may go without being looked through [d].
    """
    by_store: dict[str, list[CheckLine]] = defaultdict(list)
    for lot in lots:
        sound = left_kg(lot, day)
        lost = max(0.0, lot.most_kg - sound)
        if sound + lost > NOTHING_KG:
            by_store[lot.store].append(CheckLine(lot, sound, lost, _due(lot, most_days[lot.form])))
    checks = [
        StoreCheck(
            store,
            min(line.due for line in lines),
            tuple(sorted(lines, key=lambda line: (line.due, line.lot.food, line.lot.put_by))),
        )
        for store, lines in by_store.items()
    ]
    return tuple(sorted(checks, key=lambda check: (check.due, check.store)))


def _due(lot: LedgerLot, most_days: int) -> date:
    """Find the day on which so much is likely to be lost that it should be looked through."""
    rules = larder_rules()
    last = lot.counts[-1].day if lot.counts else lot.put_by
    start = lot.share_on(last)
    least = min(int(rules.check_least_days.value), most_days)
    for days in range(least, most_days):
        on = last + timedelta(days=days)
        share = lot.share_on(on)
        if start <= 0 or share / start <= 1 - rules.check_lost_share.value:
            return on
    return last + timedelta(days=most_days)
