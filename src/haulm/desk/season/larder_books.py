"""The larder's books as a household uses them: lots, seed, what to eat, how fast, until when."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path

from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.season.books_beside import books_of_file
from haulm.desk.season.larder_besides import told_besides
from haulm.desk.season.larder_care import (
    hung_in,
    lifted_to_cure,
    past_told,
    racks_told_m2,
    sprouted_in,
    weighed_whole,
)
from haulm.desk.season.larder_told import larder_of
from haulm.desk.season.ledger import LedgerToday, ledger_today
from haulm.desk.season.other_uses import UsesAsked, other_uses
from haulm.desk.season.seed_wanted import seed_wanted
from haulm.desk.season.store_wants import ready_again, until_again, wanted_from_store
from haulm.measure.findings import Finding
from haulm.measure.units import Units
from haulm.measure.weeks import DAYS_A_WEEK, monday_of
from haulm.notebook.file import open_notebook
from haulm.plan.records import Plan
from haulm.season.curing import Hung
from haulm.season.eat_first import (
    EatFirst,
    SafeUse,
    eat_first,
    past_keeping_on,
    safe_use,
    weeks_until,
)
from haulm.season.fridge_strip import StripLine, strip_lines
from haulm.season.gluts import OtherUses
from haulm.season.ledger import left_kg, left_within_kg
from haulm.season.ledger_records import Ledger, LedgerLot
from haulm.season.racks import RackWeek, racks_in
from haulm.season.records import Entry
from haulm.season.rescue import Rescue
from haulm.season.run_out import GoneBy, ReadyAgain, run_out, store_luck
from haulm.season.seed_lock import Kitchen, kitchen_of
from haulm.season.use_of_store import Advice, StoreUse, store_use
from haulm.season.weighing import Weighing

SEED = 1
EIGHT_IN_TEN = 1.2816
"""Standard deviations either side of the middle that leave out the lowest and highest in ten."""
LAST_DAYS = 365
NOTHING_KG = 0.005
NEWEST = 4
"""So many of the places where books and diary part are told; the earlier ones when asked for."""
HUNG_OF_LATE_DAYS = 60


@dataclass(frozen=True, slots=True)
class LotTold:
    """One lot as it is told.

    Attributes
    ----------
    lot
        The lot in the books.
    sound_kg, low_kg, high_kg
        What is thought sound today, and what it lies between in 8 years of 10 [kg].
    kept_kg
        What of it the plan keeps back to plant [kg].
    age_weeks
        Its age [weeks].
    """

    lot: LedgerLot
    sound_kg: float
    low_kg: float
    high_kg: float
    kept_kg: float
    age_weeks: int


@dataclass(frozen=True, slots=True)
class FoodTold:
    """One food of the kitchen's.

    Attributes
    ----------
    food
        What it is.
    safe
        What a week may safely take, until it comes anew or is past keeping.
    again
        When it comes anew; None where the plan has none to come.
    wanted_kg
        What the table wants of it from store this week [kg].
    gone
        By when it runs out; None where the table wants none of it from store.
    use
        How fast it is eaten; None where the diary does not say.
    """

    food: str
    safe: SafeUse
    again: ReadyAgain | None
    wanted_kg: float
    gone: GoneBy | None
    use: StoreUse | None


@dataclass(frozen=True, slots=True)
class LarderBooks:
    """All that the books say on a day.

    Attributes
    ----------
    day, units, names
        The day, in which units it is told, and display names by id.
    pieces
        What a piece of each food is called.
    ledger, kitchen
        The books, and what of them the kitchen may use.
    lots, order, foods, strip
        Every lot that has something; the kitchen's in the order in which to eat them; food by food;
        and the strip for the fridge door.
    told
        What is worth knowing: seed first, then where books and counts part.
    hung, racks
        What was hung to cure, and whether this week's racks hold it; None where nothing cures.
    sprouted
        What counts found sprouted, and what it is still good for.
    weighing
        Where what was picked in the last twelve months went, food by food.
    uses
        What else may be done with each food of which more lies there than is eaten in time.
    past
        What is past keeping by its age, and nobody looked at since.
    """

    day: date
    units: Units
    names: Mapping[str, str]
    pieces: Mapping[str, str]
    ledger: Ledger
    kitchen: Kitchen
    lots: tuple[LotTold, ...]
    order: tuple[EatFirst, ...]
    foods: tuple[FoodTold, ...]
    strip: tuple[StripLine, ...]
    told: tuple[Finding, ...]
    hung: tuple[Hung, ...] = ()
    racks: RackWeek | None = None
    sprouted: tuple[Rescue, ...] = ()
    weighing: tuple[Weighing, ...] = ()
    uses: Mapping[str, OtherUses] = field(default_factory=dict)
    past: tuple[Finding, ...] = ()

    @property
    def told_now(self) -> tuple[Finding, ...]:
        """Tell what is worth knowing of seed and past keeping, and where books part lately."""
        return (*self.kitchen.told, *self.past, *self._parted[:NEWEST])

    @property
    def told_before(self) -> tuple[Finding, ...]:
        """The earlier places where books and counts part, the newest first."""
        return self._parted[NEWEST:]

    @property
    def hung_of_late(self) -> tuple[Hung, ...]:
        """What hangs, and what came down these two months with what went in drying."""
        return tuple(
            one
            for one in self.hung
            if one.ended is None or (self.day - one.ended).days <= HUNG_OF_LATE_DAYS
        )

    @property
    def _parted(self) -> tuple[Finding, ...]:
        return self.ledger.worth_knowing[::-1]

    def name(self, id_: str) -> str:
        """Give the display name of an id."""
        return self.names.get(id_, id_)


def larder_books(path: Path, day: date) -> LarderBooks:
    """Tell a notebook's larder on a day.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook, or the garden has faults.
    """
    opened = open_garden(path)
    larder = larder_of(opened)
    books = ledger_today(larder, books_of_file(opened, path, day, larder), day)
    with open_notebook(path) as notebook:
        entries, plan = told_besides(notebook, day), notebook.newest_plan()
    return tell_larder(opened, plan, books, entries)


def tell_larder(
    opened: Opened, plan: Plan | None, books: LedgerToday, entries: Sequence[Entry]
) -> LarderBooks:
    """Tell a garden's larder by its plan and its books, on the day these were kept up to.

    ``entries`` are those of the diary, or such of them as :func:`told_besides` gives.
    """
    day, ledger, names, units = books.day, books.ledger, books.names, opened.garden.units
    seed = seed_wanted(plan, opened.catalogue, entries, day)
    kitchen = kitchen_of(ledger, seed, day, units, names)
    order = eat_first(kitchen.ledger, day)
    foods = _foods(opened, plan, ledger, kitchen, day)
    safe = {one.food: one.safe for one in foods}
    wanted = {one.food: one.wanted_kg for one in foods}
    hung = hung_in(entries, opened.catalogue)
    past = tuple(past_told(ledger.lots, day, units, names))
    return LarderBooks(
        day=day,
        units=units,
        names=names,
        pieces={food.id: food.piece for food in opened.catalogue.foods.values()},
        ledger=ledger,
        kitchen=kitchen,
        lots=_lots(ledger, kitchen, day),
        order=order,
        foods=foods,
        strip=strip_lines(order, safe, wanted, day),
        told=(*kitchen.told, *past, *ledger.worth_knowing),
        past=past,
        hung=hung,
        racks=_racks(opened, plan, hung, day),
        sprouted=sprouted_in(ledger, entries, day),
        weighing=weighed_whole(entries, opened.catalogue, day),
        uses=dict(_uses(UsesAsked(opened, plan, entries, day), foods, order)),
    )


def _uses(
    asked: UsesAsked, foods: Iterable[FoodTold], order: Sequence[EatFirst]
) -> Iterator[tuple[str, OtherUses]]:
    """Give what else may be done with each food that is eaten too slowly, by food."""
    for one in foods:
        if one.use is not None and one.use.advice is Advice.FASTER:
            form = next((first.lot.form for first in order if first.lot.food == one.food), "")
            yield one.food, other_uses(asked, one.food, asked.day, form)


def _racks(opened: Opened, plan: Plan | None, hung: tuple[Hung, ...], day: date) -> RackWeek | None:
    monday = monday_of(day)
    week = (monday, monday + timedelta(days=DAYS_A_WEEK - 1))
    told_m2 = racks_told_m2(opened.garden.stores)
    to_cure = lifted_to_cure(plan, opened.catalogue) if plan else ()
    return racks_in(week, day, told_m2, hung, to_cure)


def _lots(ledger: Ledger, kitchen: Kitchen, day: date) -> tuple[LotTold, ...]:
    """Tell every lot that has something sound, or was counted and may have."""
    told = []
    for lot in ledger.lots:
        if max(min(lot.base_kg, lot.most_kg), lot.aside_kg) <= NOTHING_KG:
            continue
        low, high = left_within_kg(lot, day, EIGHT_IN_TEN)
        if high > NOTHING_KG or lot.aside_kg > NOTHING_KG:
            kept = kitchen.kept_kg.get(lot.id, 0.0)
            age = (day - lot.put_by).days // 7
            told.append(LotTold(lot, left_kg(lot, day), low, high, kept, age))
    return tuple(told)


def _foods(
    opened: Opened, plan: Plan | None, ledger: Ledger, kitchen: Kitchen, day: date
) -> tuple[FoodTold, ...]:
    books = _by_food(ledger.lots)
    lots = _by_food(lot for lot in kitchen.ledger.lots if left_kg(lot, day) > NOTHING_KG)
    in_store = {food: sum(left_kg(lot, day) for lot in some) for food, some in lots.items()}
    wants = wanted_from_store(opened, plan, in_store, day)
    luck = store_luck([lot.store for some in lots.values() for lot in some], SEED)
    told = []
    for food, some in lots.items():
        again = ready_again(plan, food, day)
        weeks = until_again(wants.get(food, ()), day, again)
        safe = safe_use(some, day, _until(some, weeks, again, day))
        if safe is None:
            continue
        gone = run_out(some, weeks, day, luck, again, SEED)
        use = store_use(books[food], some, day, safe)
        told.append(FoodTold(food, safe, again, weeks[0] if weeks else 0.0, gone, use))
    return tuple(told)


def _by_food(lots: Iterable[LedgerLot]) -> Mapping[str, list[LedgerLot]]:
    found: dict[str, list[LedgerLot]] = defaultdict(list)
    for lot in lots:
        found[lot.food].append(lot)
    return found


def _until(
    lots: list[LedgerLot], weeks: tuple[float, ...], again: ReadyAgain | None, day: date
) -> date:
    """Give the day until which a food has to last: it comes anew, is past keeping, or unwanted."""
    latest = day + timedelta(days=LAST_DAYS)
    ends = [again.middle if again else latest]
    ends.append(max(past_keeping_on(lot) or latest for lot in lots))
    before = weeks[: weeks_until(day, again.early)] if again else weeks
    wanted = [number for number, kg in enumerate(before) if kg > 0]
    if wanted:
        ends.append(day + timedelta(weeks=wanted[-1] + 1))
    return min(ends)
