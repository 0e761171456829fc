"""The larder as a garden tells of it: how food keeps in its stores, and what lay there before."""

from datetime import date

from haulm.catalogue.known import known
from haulm.catalogue.records import Keeping, Role
from haulm.desk.garden.opening import Opened
from haulm.forecast.rules import forecast_rules
from haulm.larder.keeping import keeping_curve, sound_by_week
from haulm.larder.need import seed_units_per_kg
from haulm.notebook.file import open_notebook
from haulm.season.larder import Larder
from haulm.season.ledger import lot_told
from haulm.season.ledger_records import Keeps, LedgerLot, LotKey
from haulm.season.records import Purpose


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


def lots_told(opened: Opened, larder: Larder, day: date) -> tuple[LedgerLot, ...]:
    """Give the lots that the garden itself tells of, sound as told on the day of its first plan.

    A lot whose keeping nobody knows is left out; the garden's own check tells of it.
    """
    sound_on = _told_on(opened, day)
    told = []
    for number, lot in enumerate(opened.garden.lots, start=1):
        key = (lot.food, lot.kind, lot.form.value, lot.place)
        keeps = larder.keeping_or_worst(key)
        if keeps is not None:
            one = LedgerLot(f"lot-{number}", key, lot.put_by, lot.kg, Purpose.EAT, keeps)
            told.append(lot_told(one, sound_on))
    return tuple(told)


def _told_on(opened: Opened, day: date) -> date:
    """Give the day on which the lots that a garden tells of were sound: that of its first plan."""
    if opened.notebook is None:
        return day
    with open_notebook(opened.notebook) as notebook:
        plans = notebook.plans()
    return min(plans[0].made_on, day) if plans else day
