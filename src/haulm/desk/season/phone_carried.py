"""What a phone carries to the plot: all that an entry may name, and the jobs of two weeks."""

from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from datetime import date, timedelta

from haulm.catalogue.records import Catalogue
from haulm.desk.at_hand import AtHand
from haulm.desk.planning.plans import Made
from haulm.desk.season.diary_asked import (
    Named,
    beds_offered,
    entry_for,
    kind_name,
    plantings_near,
    stores_offered,
)
from haulm.desk.season.diary_files import as_typed
from haulm.desk.season.ledger import LedgerToday
from haulm.desk.season.week_of import week_of
from haulm.measure.customary import show_temperatures
from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.season.ledger_records import LedgerLot
from haulm.season.records import Entry, key_of
from haulm.sheets.week_due import DueJob
from haulm.sheets.week_list import Stands, WeekList

WEEKS_AHEAD = 2
LATELY = 60
"""So many entries tell what was named last."""
LEAST_KG = 0.005
DO, IF_TIME = Stands.DO, Stands.IF_TIME
USED = ("kind", "planting", "bed", "food", "store", "form", "trouble", "amount")


@dataclass(frozen=True, slots=True)
class CarriedPlanting:
    """A planting that may be named: its lasting name, what it is, where, and its foods."""

    key: str
    name: str
    bed: str
    foods: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CarriedLot:
    """A lot that lies in store: its food, form and store, by id, and what to call it."""

    food: str
    form: str
    store: str
    name: str
    purpose: str


@dataclass(frozen=True, slots=True)
class CarriedJob:
    """A job of a week.

    Attributes
    ----------
    id, what, amount, place, minutes, last_day
        As the week's page tells it.
    waits
        What in the weather it waits for; empty where it waits for nothing.
    may_wait
        Whether there is no time for it this week, or no loss in leaving it.
    done
        When it was done; None while it is not.
    typed
        The entry that says it was done, as far as the plan can fill it in.
    cautions
        What to take care of.
    """

    id: str
    what: str
    amount: str
    place: str
    minutes: float | None
    last_day: date
    waits: str
    may_wait: bool
    done: date | None
    typed: Mapping[str, str]
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CarriedWeek:
    """The jobs of one week, in the order of the week's page."""

    monday: date
    jobs: tuple[CarriedJob, ...]


@dataclass(frozen=True, slots=True)
class Carried:
    """Everything that an entry may name.

    Attributes
    ----------
    garden
        The garden's name.
    day
        The day that counts as today where it is settled; None where the phone's own day counts.
    plantings, beds, stores, foods, kinds, lots, troubles
        What may be named; foods begin with those of the plan.
    lately
        What the last entries named, newest first.
    """

    garden: str
    day: date | None
    plantings: tuple[CarriedPlanting, ...]
    beds: tuple[Named, ...]
    stores: tuple[Named, ...]
    foods: tuple[Named, ...]
    kinds: tuple[Named, ...]
    lots: tuple[CarriedLot, ...]
    troubles: tuple[Named, ...]
    lately: tuple[Mapping[str, str], ...]


def carried_by(garden: AtHand) -> Carried:
    """Gather what a phone carries of a garden as it is.

    Raises
    ------
    FaultsFoundError
        When the garden cannot be opened.
    """
    opened = garden.opened
    unlaid = garden.unlaid
    plan = unlaid.plan if unlaid else None
    beds = dict(beds_offered(opened.garden))
    plantings = tuple(
        CarriedPlanting(
            key_of(one),
            kind_name(opened.catalogue, one),
            beds.get(one.bed, one.bed),
            tuple(expects.food for expects in one.expects),
        )
        for one in plantings_near(plan, opened.catalogue, garden.day)
    )
    ours = {food for planting in plantings for food in planting.foods}
    foods = [(food.id, food.name) for food in opened.catalogue.foods.values()]
    foods.sort(key=lambda food: (food[0] not in ours, food[1]))
    return Carried(
        garden=opened.garden.name,
        day=garden.settled_day,
        plantings=plantings,
        beds=tuple(beds.items()),
        stores=stores_offered(opened.garden),
        foods=tuple(foods),
        kinds=tuple(sorted(_kinds(opened.catalogue), key=lambda kind: kind[1])),
        lots=tuple(_lots(garden.books)),
        troubles=tuple((one.id, one.name) for one in opened.catalogue.diseases.values()),
        lately=tuple(_used(entry) for entry in reversed(garden.diary.entries[-LATELY:])),
    )


def _kinds(catalogue: Catalogue) -> Iterator[Named]:
    for kind in catalogue.kinds.values():
        yield kind.id, kind.name


def _lots(books: LedgerToday) -> Iterator[CarriedLot]:
    """Give each food in one form and store once, however many lots of it there are."""
    given = set()
    for lot in books.ledger.lots:
        food, _, form, store = lot.key
        one = (food, form, store, lot.purpose)
        if one in given or books.sound_kg.get(lot.id, 0.0) <= LEAST_KG:
            continue
        given.add(one)
        yield CarriedLot(food, form, store, _lot_name(lot, books.names), lot.purpose.value)


def _lot_name(lot: LedgerLot, names: Mapping[str, str]) -> str:
    food, _, form, store = lot.key
    return f"{names.get(food, food)}, {form}, {names.get(store, store)}"


def weeks_carried(garden: AtHand) -> tuple[CarriedWeek, ...]:
    """Gather the jobs of this week, what is still open before it, and the jobs of the next."""
    made = garden.unlaid
    first = monday_of(garden.day)
    mondays = [first + timedelta(days=number * DAYS_A_WEEK) for number in range(WEEKS_AHEAD)]
    weeks = [week for monday in mondays if (week := week_of(garden, monday)) is not None]
    if made is None:
        return ()
    units = garden.opened.garden.units
    return tuple(
        CarriedWeek(
            week.monday,
            tuple(
                replace(job, waits=show_temperatures(job.waits, units))
                for job in _jobs(week, made, garden.day, earlier=week is weeks[0])
            ),
        )
        for week in weeks
    )


def _jobs(week: WeekList, made: Made, day: date, *, earlier: bool) -> Iterator[CarriedJob]:
    """Give a week's jobs in the order of what is lost by waiting, and what is open from before."""
    for one in week.jobs:
        typed = _typed(one.due, made, min(day, week.sunday))
        yield _job(one.due, typed, done=one.done, may_wait=one.stands not in {DO, IF_TIME})
    for before in week.still_open if earlier else ():
        yield _job(before.due, _typed(before.due, made, day), may_wait=False)


def _typed(due: DueJob, made: Made, day: date) -> Mapping[str, str]:
    """Give the entry that says a job was done, but for its day: it is told when it is."""
    said = asdict(entry_for(due.job, made.plan, made.names, day))
    return {name: value for name, value in said.items() if value and name != "day"}


def _job(
    due: DueJob, typed: Mapping[str, str], *, may_wait: bool, done: Entry | None = None
) -> CarriedJob:
    job = due.job
    return CarriedJob(
        id=job.id,
        what=job.what,
        amount=job.amount,
        place=job.place or ", ".join(bed for bed, _ in due.parts),
        minutes=job.minutes,
        last_day=due.last_day,
        waits=due.hangs_on,
        may_wait=may_wait,
        done=done.day if done else None,
        typed=typed,
        cautions=job.cautions,
    )


def _used(entry: Entry) -> Mapping[str, str]:
    """Tell what an entry named, to be offered first the next time."""
    typed = asdict(as_typed(entry))
    return {name: typed[name] for name in USED if typed[name]}
