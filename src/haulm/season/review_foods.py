"""The review food by food: planned, picked, put by, eaten, given, thrown, rotted."""

from collections.abc import Sequence

from haulm.season.ledger_records import OUT
from haulm.season.records import EntryKind
from haulm.season.review_books import Books, sums
from haulm.season.review_records import FoodReview, Picked, Season


def foods_through(season: Season, picked: Sequence[Picked], books: Books) -> tuple[FoodReview, ...]:
    """Tell of every food that was planned or written of, those the plan had most of first."""
    span, plan = season.span, season.plan
    planned = sums(
        (pick.food, pick.kg)
        for planting in plan.plantings
        for pick in planting.picks
        if span.has(pick.week)
    )
    by = sums(
        (lot.food, lot.kg_in) for lot in plan.lots if not lot.in_hand and span.has(lot.put_by_week)
    )
    meant = sums((one.food, one.kg) for one in plan.helpings if span.has(one.week))
    got = sums((one.food, one.kg) for one in picked)
    laid = sums((food, kg) for _, food, kg in books.put_by)
    fresh = sums((food, kg) for (food, week), kg in books.fresh_kg.items() if span.has(week))
    everywhere = (*books.from_store, *books.as_picked)
    out = {kind: sums((o.food, o.kg) for o in everywhere if o.kind is kind) for kind in OUT}
    stored = sums((o.food, o.kg) for o in books.from_store if o.kind is EntryKind.EATEN)
    foods = dict.fromkeys(
        (*planned, *by, *meant, *got, *laid, *(f for o in out.values() for f in o))
    )
    found = [
        FoodReview(
            food=food,
            planned_kg=planned.get(food, 0.0),
            picked_kg=got.get(food),
            planned_put_by_kg=by.get(food, 0.0),
            put_by_kg=laid.get(food),
            planned_eaten_kg=meant.get(food, 0.0),
            eaten_kg=fresh.get(food, 0.0) + stored.get(food, 0.0)
            if food in fresh or food in stored
            else None,
            given_kg=out[EntryKind.GIVEN].get(food),
            thrown_kg=out[EntryKind.THROWN].get(food),
            opening_kg=books.opening_kg.get(food),
            closing_kg=books.closing_kg.get(food),
            rotted_kg=books.rotted_kg(food),
            unwritten_kg=books.missing_kg(food),
        )
        for food in foods
    ]
    return tuple(sorted(found, key=lambda one: (-one.planned_kg, one.food)))
