"""The larder's books for other programs, in kilograms and ISO dates."""

from dataclasses import asdict
from typing import Any

from haulm.desk.season.larder_books import FoodTold, LarderBooks, LotTold
from haulm.desk.season.store_counts import checks_of
from haulm.season.ledger import balance
from haulm.season.ledger_records import LedgerLot


def books_json(books: LarderBooks) -> dict[str, Any]:
    """Give the books as plain data: lots, the order to eat them in, foods, the strip, findings."""
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
        "findings": books.told,
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
    }
