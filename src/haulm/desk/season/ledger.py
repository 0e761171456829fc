"""The larder's ledger at the desk: the garden's lots and the diary, kept by the catalogue."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from haulm.catalogue.known import known
from haulm.catalogue.records import Keeping, Role
from haulm.desk.garden.opening import Opened, open_garden
from haulm.forecast.rules import forecast_rules
from haulm.larder.keeping import keeping_curve, sound_by_week
from haulm.larder.need import seed_units_per_kg
from haulm.notebook.diary import Wanted, read_diary
from haulm.notebook.file import open_notebook
from haulm.season.ledger import IN_BOOKS, Larder, keep_ledger, left_kg, lot_told
from haulm.season.ledger_records import Keeps, Ledger, LedgerLot, LotKey
from haulm.season.records import Entry, Purpose


@dataclass(frozen=True, slots=True)
class LedgerToday:
    """The books on a day: the ledger, and what is sound of each lot [kg], by its name."""

    day: date
    ledger: Ledger
    sound_kg: Mapping[str, float]
    names: Mapping[str, str]


def ledger_of(path: Path, day: date) -> LedgerToday:
    """Keep a notebook's books up to a day.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook, or the garden has faults.
    """
    opened = open_garden(path)
    with open_notebook(path) as notebook:
        entries = read_diary(notebook, Wanted(kinds=IN_BOOKS)).entries
    return ledger_today(opened, entries, day)


def ledger_today(opened: Opened, entries: Iterable[Entry], day: date) -> LedgerToday:
    """Keep a garden's books from the entries that hold, up to a day."""
    larder = larder_of(opened)
    ledger = books_on(opened, entries, day, larder)
    sound_kg = {lot.id: left_kg(lot, day) for lot in ledger.lots}
    return LedgerToday(day, ledger, sound_kg, larder.names)


def books_on(opened: Opened, entries: Iterable[Entry], day: date, larder: Larder) -> Ledger:
    """Keep a garden's books from its diary's entries up to a day."""
    told_on = day
    if opened.notebook is not None:
        with open_notebook(opened.notebook) as notebook:
            plans = notebook.plans()
        told_on = min(plans[0].made_on, day) if plans else day
    written = [entry for entry in entries if entry.day <= day]
    return keep_ledger(written, lots_told(opened, larder, told_on), larder)


def larder_of(opened: Opened) -> Larder:
    """Gather how every food keeps in this household's stores, in any that suits its form.

    Where two ways meet in one store and form, the shorter one stands, as in a plan.
    """
    catalogue = opened.catalogue
    keeps: dict[LotKey, Keeps] = {}
    stock_a_kg: dict[str, float] = {}
    for kind in catalogue.kinds.values():
        for giving in kind.givings:
            food = catalogue.foods[giving.food]
            piece_kg = known(food.piece_kg)
            if giving.role is Role.MAIN:
                each = [seed_units_per_kg(method, food) for method in kind.methods]
                stock_a_kg[kind.id] = max((units or 0.0 for units in each), default=0.0)
            for keeping in giving.keeping:
                sound = _sound(keeping)
                for store in opened.garden.stores:
                    key = (giving.food, kind.id, keeping.form.value, store.id)
                    if store.kind in keeping.stores and _shorter(sound, keeps.get(key)):
                        keeps[key] = Keeps(sound, piece_kg)
    names = {food.id: food.name for food in catalogue.foods.values()}
    names |= {kind.id: kind.name for kind in catalogue.kinds.values()}
    names |= {store.id: store.name for store in opened.garden.stores}
    spread = forecast_rules().keeping_spread.value
    return Larder(keeps, names, spread, stock_a_kg, opened.garden.units)


def _sound(keeping: Keeping) -> tuple[float, ...]:
    return sound_by_week(keeping_curve(keeping.sound_90_weeks.value, keeping.sound_50_weeks.value))


def _shorter(sound: tuple[float, ...], before: Keeps | None) -> bool:
    return before is None or sum(sound) < sum(before.sound)


def lots_told(opened: Opened, larder: Larder, told_on: date) -> tuple[LedgerLot, ...]:
    """Give the lots that the garden itself tells of, sound as told on the day of its first plan.

    A lot whose keeping nobody knows is left out; the garden's own check tells of it.
    """
    told = []
    for number, lot in enumerate(opened.garden.lots, start=1):
        key = (lot.food, lot.kind, lot.form.value, lot.place)
        keeps = larder.keeps.get(key) or larder.worst(key)
        if keeps is not None:
            one = LedgerLot(f"lot-{number}", key, lot.put_by, lot.kg, Purpose.EAT, keeps)
            told.append(lot_told(one, told_on))
    return tuple(told)
