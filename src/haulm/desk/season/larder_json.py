"""The larder's books for other programs, in kilograms and ISO dates."""

from dataclasses import asdict
from typing import Any

from haulm.desk.season.larder_books import FoodTold, LarderBooks, LotTold
from haulm.desk.season.store_counts import checks_of
from haulm.season.curing import Hung, curings, rack_m2
from haulm.season.ledger import balance
from haulm.season.ledger_records import LedgerLot
from haulm.season.racks import RackWeek
from haulm.season.rescue import Rescue


def books_json(books: LarderBooks) -> dict[str, Any]:
    """Give the books as plain data: lots, order, foods, strip, what hangs, sprouted, findings."""
    return {
        "day": books.day,
        "lots": [_lot(one, books) for one in books.lots],
        "eat_first": [
            {"lot": one.lot.id, "lost_in_4_weeks_kg": one.lost_kg, "past_on": one.past_on}
            for one in books.order
        ],
        "foods": [_food(one, books) for one in books.foods],
        "strip": [
            {
                "food": line.food,
                "lots": [lot.id for lot in line.lots],
                "week_kg": line.week_kg,
                "freely": line.freely,
                "soft_kg": line.soft_kg,
                "sprouted_kg": line.sprouted_kg,
            }
            for line in books.strip
        ],
        "checks": [
            {
                "store": check.store,
                "due": check.due,
                "lots": [
                    {"lot": line.lot.id, "sound_kg": line.sound_kg, "lost_kg": line.lost_kg}
                    for line in check.lines
                ],
            }
            for check in checks_of(books)
        ],
        "hung": [_hung(one) for one in books.hung],
        "racks": _racks(books.racks) if books.racks else None,
        "sprouted": [_sprouted(one) for one in books.sprouted],
        "weighing": [
            {**asdict(one), "untold_kg": one.untold_kg, "parts": one.parts}
            for one in books.weighing
        ],
        "findings": books.told,
    }


def _hung(one: Hung) -> dict[str, Any]:
    """Give what was hung, with how it is told to be done and what it takes."""
    how = curings().get(one.food)
    return {
        "entry": one.id,
        "food": one.food,
        "kind": one.kind,
        "store": one.store,
        "begun": one.begun,
        "kg": one.kg,
        "done_on": one.done_on,
        "ended": one.ended,
        "put_by_kg": one.put_by_kg,
        "gone_kg": one.gone_kg,
        "usual_gone": asdict(how.lost) if how else None,
        "rack_m2": rack_m2(one),
        "rack_load": asdict(how.load_kg_m2) if how else None,
        "done_when": how.done if how else None,
        "asks": how.asks if how else None,
        "trim": how.trim if how else None,
    }


def _racks(racks: RackWeek) -> dict[str, Any]:
    return {**asdict(racks), "free_m2": racks.free_m2, "lacking_m2": racks.lacking_m2}


def _sprouted(one: Rescue) -> dict[str, Any]:
    return {
        **_key(one.lot),
        "kg": one.kg,
        "good_for": asdict(one.way) if one.way else None,
        "not_planted_after": [{"trouble": what, "seen": day} for what, day in one.barred],
    }


def _lot(told: LotTold, books: LarderBooks) -> dict[str, Any]:
    lot = told.lot
    return {
        **_key(lot),
        "name": books.name(lot.food),
        "put_by": lot.put_by,
        "purpose": lot.purpose,
        "age_weeks": told.age_weeks,
        "sound_kg": told.sound_kg,
        "low_kg": told.low_kg,
        "high_kg": told.high_kg,
        "kept_back_kg": told.kept_kg,
        "pace": lot.pace,
        "counts": [asdict(count) for count in lot.counts],
        "balance": asdict(balance(lot, books.day)),
    }


def _key(lot: LedgerLot) -> dict[str, Any]:
    return {
        "lot": lot.id,
        "food": lot.food,
        "kind": lot.kind,
        "form": lot.form,
        "store": lot.store,
    }


def _food(one: FoodTold, books: LarderBooks) -> dict[str, Any]:
    return {
        "food": one.food,
        "name": books.name(one.food),
        "safe": asdict(one.safe),
        "wanted_week_kg": one.wanted_kg,
        "comes_anew": asdict(one.again) if one.again else None,
        "gone_by": list(one.gone.gone_by) if one.gone else None,
        "gap": asdict(one.gone.gap) if one.gone and one.gone.gap else None,
        "use": asdict(one.use) if one.use else None,
        "other_uses": asdict(books.uses[one.food]) if one.food in books.uses else None,
    }
