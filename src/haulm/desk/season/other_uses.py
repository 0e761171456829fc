"""What else may be done with more of a food than is eaten: kept, planted, left standing."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from haulm.catalogue.caution_records import Deed
from haulm.catalogue.cautions import cautions_for, told
from haulm.catalogue.records import Catalogue, Form, Giving, Picking, Role
from haulm.desk.garden.opening import Opened
from haulm.desk.table.cautions import ages_at_table
from haulm.desk.worth.why_store import room_in_week_l
from haulm.larder.need import seed_units_per_kg
from haulm.larder.records import StorePlace
from haulm.plan.records import Plan
from haulm.season.gluts import OtherUses, OtherWay, PlantedOn
from haulm.season.records import Entry, EntryKind
from haulm.season.rescue import SEEN_DAYS, rescue_ways, troubles_on

_ORDER = (Form.FROZEN, Form.FERMENTED, Form.DRIED, Form.CELLARED, Form.CURED, Form.CLAMPED)


@dataclass(frozen=True, slots=True)
class UsesAsked:
    """By what other uses are told; without a plan, of all kinds and no store's room."""

    opened: Opened
    plan: Plan | None
    entries: Sequence[Entry]
    day: date


def other_uses(asked: UsesAsked, food: str, on: date, lies_in: str = "") -> OtherUses:
    """Say what may be done with more of a food than is eaten.

    Parameters
    ----------
    asked
        By what they are told.
    food
        The food.
    on
        A day of the week in which room is looked for.
    lies_in
        The form in which it lies in store already, left out; empty where it was just picked.
    """
    catalogue = asked.opened.catalogue
    keeps = tuple(way for way in _keeps(asked, food, on) if way.form != lies_in)
    ages = ages_at_table(asked.opened.garden.household)
    way = rescue_ways().get(food) if lies_in != Form.DRIED else None
    kept = bool(keeps or way)
    due = cautions_for(catalogue, [food], (Deed.PUT_BY,), ages) if kept else ()
    standing = any(giving.picking is Picking.STAND for _, giving in givings_of(catalogue, food))
    return OtherUses(
        food,
        standing and not lies_in,
        keeps,
        _planted(asked, food),
        way.keep if way else "",
        tuple(told(one) for one in due),
    )


def givings_of(catalogue: Catalogue, food: str) -> Iterator[tuple[str, Giving]]:
    """Give each kind that gives a food, with how it does."""
    for kind in catalogue.kinds.values():
        for giving in kind.givings:
            if giving.food == food:
                yield kind.id, giving


def _keeps(asked: UsesAsked, food: str, on: date) -> Iterator[OtherWay]:
    """Give the forms in which a food keeps in the stores there are, the handiest first.

    Of the kinds that the plan grows, else of all; where two differ, the shorter keeping stands.
    """
    grown = {planting.kind for planting in asked.plan.plantings} if asked.plan else set()
    grown = {kind for kind, _ in givings_of(asked.opened.catalogue, food) if kind in grown}
    ways: dict[tuple[Form, str], OtherWay] = {}
    for kind, giving in givings_of(asked.opened.catalogue, food):
        if grown and kind not in grown:
            continue
        for keeping in giving.keeping:
            for store in asked.opened.garden.stores:
                if store.kind not in keeping.stores or keeping.form is Form.FRESH:
                    continue
                room = _room_left_l(asked.plan, store, on)
                way = OtherWay(
                    keeping.form.value,
                    store.name,
                    None if room is None else room / keeping.space_l_kg.value,
                    keeping.sound_90_weeks.value,
                )
                before = ways.get((keeping.form, store.id))
                if before is None or way.keeps_weeks < before.keeps_weeks:
                    ways[keeping.form, store.id] = way
    place = {form: number for number, form in enumerate(_ORDER)}
    yield from (
        way for (form, _), way in sorted(ways.items(), key=lambda one: place.get(one[0][0], 9))
    )


def _room_left_l(plan: Plan | None, store: StorePlace, on: date) -> float | None:
    """Give the room that the plan leaves of a store [l]; None where it has no limit or no plan."""
    if plan is None or store.capacity_l is None:
        return None
    week = plan.horizon.week_of(on)
    if not 0 <= week < plan.horizon.weeks:
        return None
    return max(0.0, store.capacity_l - room_in_week_l(plan, store.id, week))


def _planted(asked: UsesAsked, food: str) -> PlantedOn | None:
    """Say what a food is worth as planting stock; None where it is none."""
    catalogue = asked.opened.catalogue
    for kind, giving in givings_of(catalogue, food):
        if giving.role is not Role.MAIN:
            continue
        for method in catalogue.kinds[kind].methods:
            units = seed_units_per_kg(method, catalogue.foods[food])
            if units is not None:
                way = rescue_ways().get(food)
                not_after = way.not_after if way else ()
                barred = troubles_on(kind.partition("/")[0], not_after, _troubles(asked))
                return PlantedOn(method.unit, units, not_after, barred)
    return None


def _troubles(asked: UsesAsked) -> Iterator[Entry]:
    """Give what the diary tells of troubles seen not too long ago."""
    for entry in asked.entries:
        if entry.kind is EntryKind.TROUBLE and (asked.day - entry.day).days <= SEEN_DAYS:
            yield entry
