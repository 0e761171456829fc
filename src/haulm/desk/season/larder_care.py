"""What the larder asks for besides eating: what hangs to cure, and what has sprouted."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from math import ceil, floor

from haulm.catalogue.known import known
from haulm.catalogue.records import Catalogue, Form, Role
from haulm.larder.records import StorePlace
from haulm.measure.day_words import long_day
from haulm.measure.findings import Finding, Grade
from haulm.measure.units import Units, show_mass
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.plan.records import Plan
from haulm.season.curing import CureDays, Hung, hung
from haulm.season.eat_first import past_unseen
from haulm.season.ledger_records import Ledger, LedgerLot
from haulm.season.racks import ToCure
from haulm.season.records import Entry, EntryKind
from haulm.season.rescue import Rescue, rescues
from haulm.season.weighing import WEIGHED, Weighing, weigh_whole

HANGS = frozenset({EntryKind.CURED, EntryKind.PUT_BY})
YEAR_DAYS = 365
HANGS_DAYS = 120
"""Nothing hangs to cure longer than this."""
CURING_FORMS = frozenset({Form.CURED, Form.CELLARED})


def cure_days(catalogue: Catalogue) -> Mapping[tuple[str, str | None], CureDays]:
    """Give how long each kind of a food cures by the catalogue; under None, all kinds' span."""
    days: dict[tuple[str, str | None], CureDays] = {}
    for kind in catalogue.kinds.values():
        for giving in kind.givings:
            for keeping in giving.keeping:
                weeks = keeping.cure_weeks
                if keeping.form not in CURING_FORMS or weeks.value <= 0:
                    continue
                low = weeks.value if weeks.low is None else weeks.low
                high = weeks.value if weeks.high is None else weeks.high
                mine = (
                    floor(low * DAYS_A_WEEK),
                    round(weeks.value * DAYS_A_WEEK),
                    ceil(high * DAYS_A_WEEK),
                )
                any_ = days.get((giving.food, None), mine)
                days[giving.food, kind.id] = mine
                days[giving.food, None] = (
                    min(any_[0], mine[0]),
                    max(any_[1], mine[1]),
                    max(any_[2], mine[2]),
                )
    return days


def hung_in(entries: Iterable[Entry], catalogue: Catalogue) -> tuple[Hung, ...]:
    """Give all that the diary says was hung to cure."""
    told = [
        _with_food(entry, catalogue) if entry.kind is EntryKind.CURED else entry
        for entry in entries
        if entry.kind in HANGS
    ]
    return hung(told, cure_days(catalogue), _piece_kg(catalogue))


def weighed_whole(
    entries: Sequence[Entry], catalogue: Catalogue, day: date
) -> tuple[Weighing, ...]:
    """Say where what was picked in the year up to a day went, food by food."""
    return weighed_between(entries, catalogue, day - timedelta(days=YEAR_DAYS), day)


def weighed_between(
    entries: Sequence[Entry], catalogue: Catalogue, first: date, last: date
) -> tuple[Weighing, ...]:
    """Say where what was picked from one day to another went, food by food."""
    near = _between(entries, first - timedelta(days=HANGS_DAYS), last)
    weighed = [
        _with_food(entry, catalogue)
        for entry in near
        if entry.kind in WEIGHED and entry.day >= first
    ]
    return weigh_whole(weighed, hung_in(near, catalogue), _piece_kg(catalogue), first)


def _between(entries: Sequence[Entry], first: date, last: date) -> Sequence[Entry]:
    """Give the entries from one day to another; they are in order of their days."""
    start = bisect_left(entries, first, key=lambda entry: entry.day)
    end = bisect_right(entries, last, key=lambda entry: entry.day)
    return entries[start:end]


def _piece_kg(catalogue: Catalogue) -> Mapping[str, float]:
    """Give what a piece of each food weighs, where that is known [kg]."""
    return {
        food.id: weight
        for food in catalogue.foods.values()
        if (weight := known(food.piece_kg)) is not None
    }


def _with_food(entry: Entry, catalogue: Catalogue) -> Entry:
    """Name the food of an entry where only its kind or planting is told: the main one."""
    about = entry.about
    kind = catalogue.kinds.get(about.kind or (about.planting or "").partition(":")[0])
    if about.food or about.lot or kind is None:
        return entry
    food = next((giving.food for giving in kind.givings if giving.role is Role.MAIN), None)
    return replace(entry, about=replace(about, food=food))


def sprouted_in(ledger: Ledger, entries: Iterable[Entry], day: date) -> tuple[Rescue, ...]:
    """Say what to do with what was found sprouted."""
    return rescues(ledger.lots, entries, day)


def racks_told_m2(stores: Iterable[StorePlace]) -> float | None:
    """Add up the racks of all stores [m²]; None where none was told any."""
    told = [store.racks_m2 for store in stores if store.racks_m2 is not None]
    return sum(told) if told else None


def lifted_to_cure(plan: Plan, catalogue: Catalogue) -> Iterator[ToCure]:
    """Give what a plan has lifted and put by to cure."""
    days = cure_days(catalogue)
    for lot in plan.lots:
        takes = days.get((lot.food, lot.kind))
        if takes is not None and not lot.in_hand and lot.form in CURING_FORMS:
            lifted = plan.horizon.monday(lot.put_by_week)
            yield ToCure(lot.food, lot.kg_in, lifted, lifted + timedelta(days=takes[1]))


def past_told(
    lots: Sequence[LedgerLot], day: date, units: Units, names: Mapping[str, str]
) -> Iterator[Finding]:
    """Ask what became of each lot that the books gave up for its age alone."""
    for one in past_unseen(lots, day):
        lot = one.lot
        food, store = names.get(lot.food, lot.food), names.get(lot.store, lot.store)
        yield Finding(
            f"{food}, {lot.form}, {store}",
            f"by its age it is past keeping since {long_day(one.past_on)}, and the books have none"
            f" of it any more; some {show_mass(one.sound_kg, units)} were sound till then, and"
            " nobody told what became of them.",
            "Look, and count what is there: the books follow.",
            Grade.WARNING,
        )
