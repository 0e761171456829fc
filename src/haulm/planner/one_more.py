"""What one more would bring: of ground in each bed, hours, room in store and tray cells.

Each answer is the plan's own programme solved once more, patches held where they are, with so much
more of the thing. The rate of the first hair of it comes with the last solving; as what is short is
priced by rising slices and ground only helps while something else does not run out, all of a piece
never brings more than that rate.
"""

from collections.abc import Iterator

import numpy as np

from haulm.catalogue.records import StoreKind
from haulm.larder.records import StorePlace
from haulm.planner.arrays import Flags, Floats
from haulm.planner.held import EVERY_WEEK, FULL_M2, Eaten, HeldPlan
from haulm.planner.pieces import pieces
from haulm.planner.question import PlanQuestion
from haulm.planner.records import Fed, OneMore, Scarce
from haulm.planner.rules.registry import GROUND, HOURS, NURSERY, STORE_SPACE

TELLING_KG = 1e-3
"""What would bring less than a gram is not worth telling [kg]."""


def one_more(held: HeldPlan) -> tuple[OneMore, ...]:
    """Say of everything that is scarce what one more of it would bring, most first in each sort.

    Of each bed: more ground through all weeks, and in each stretch of weeks in which the bed is
    full. Of hours: in each stretch of weeks whose hours are all taken. Of each store and of the
    trays: more room through all weeks.
    """
    found = [*_ground(held), *_hours(held), *_stores(held), *_trays(held)]
    order = list(Scarce)
    return tuple(
        sorted(found, key=lambda m: (order.index(m.what), -m.worth_kg, m.where, m.first_week))
    )


def ground_piece_m2(question: PlanQuestion) -> float:
    """Give how much more ground is asked about [m²]."""
    figures = pieces()
    return (figures.ground_us_m2 if question.units == "us" else figures.ground_m2).value


def store_piece_l(store: StorePlace) -> float:
    """Give how much more room of a store is asked about [l]: a freezer's drawer, or a shelf."""
    figures = pieces()
    return (figures.freezer_drawer_l if store.kind is StoreKind.FREEZER else figures.shelf_l).value


def by_line(held: HeldPlan, before: Eaten, after: Eaten) -> Fed:
    """Say by line what more comes to table after than before [kg], most first; no crumbs."""
    more = before.short_kg - after.short_kg
    lines = [appetite.line for appetite in held.question.appetites]
    told = [
        (line, float(kg)) for line, kg in zip(lines, more, strict=True) if abs(kg) >= TELLING_KG
    ]
    return tuple(sorted(told, key=lambda each: (-each[1], each[0])))


def stretches(telling: Flags) -> Iterator[tuple[int, int]]:
    """Give (first, last) of every run of weeks that are told of."""
    first = None
    for week, tells in enumerate([*telling.tolist(), False]):
        if tells and first is None:
            first = week
        elif not tells and first is not None:
            yield first, week - 1
            first = None


def _ground(held: HeldPlan) -> Iterator[OneMore]:
    """Ask of each bed for more ground in all weeks, and in each stretch in which it is full."""
    tables, worth = held.tables, held.worth_of(GROUND.name)
    full = held.left_m2 < FULL_M2
    piece = ground_piece_m2(held.question)
    for b, bed in enumerate(tables.ground.beds):
        whole = (0, tables.weeks - 1)
        spans = [whole, *(span for span in stretches(full[b]) if span != whole)]
        for first, last in spans:
            here = (tables.ground.clique_bed == b) & (tables.ground.clique_week >= first)
            here &= tables.ground.clique_week <= last
            rows = [held.rows(GROUND.name)[row] for row in np.nonzero(here)[0]]
            every = held.rows(EVERY_WEEK)[b * tables.weeks + first : b * tables.weeks + last + 1]
            at_first = float(worth[here].sum()) * piece
            span = (first, last)
            yield from _asked(held, (Scarce.GROUND, bed.id, piece), span, at_first, [*rows, *every])


def _hours(held: HeldPlan) -> Iterator[OneMore]:
    worth, piece = held.worth_of(HOURS.name), pieces().hours.value
    for first, last in stretches(worth > TELLING_KG):
        rows = held.rows(HOURS.name)[first : last + 1]
        at_first = float(worth[first : last + 1].sum()) * piece
        yield from _asked(held, (Scarce.HOURS, "", piece), (first, last), at_first, [*rows])


def _stores(held: HeldPlan) -> Iterator[OneMore]:
    weeks = held.tables.weeks
    worth = held.worth_of(STORE_SPACE.name)
    for number, store in enumerate(held.question.stores):
        rows = held.rows(STORE_SPACE.name)[number * weeks : (number + 1) * weeks]
        piece = store_piece_l(store)
        at_first = float(worth[number * weeks : (number + 1) * weeks].sum()) * piece
        whole = (0, weeks - 1)
        yield from _asked(held, (Scarce.ROOM, store.id, piece), whole, at_first, [*rows])


def _trays(held: HeldPlan) -> Iterator[OneMore]:
    worth, piece = held.worth_of(NURSERY.name), pieces().tray_cells.value
    at_first = float(worth.sum()) * piece
    whole = (0, held.tables.weeks - 1)
    yield from _asked(held, (Scarce.TRAYS, "", piece), whole, at_first, [*held.rows(NURSERY.name)])


def _asked(
    held: HeldPlan,
    thing: tuple[Scarce, str, float],
    span: tuple[int, int],
    at_first: float,
    rows: list[int],
) -> Iterator[OneMore]:
    """Solve with more on some rows, where the first hair of it brings anything worth telling."""
    what, where, piece = thing
    if at_first < TELLING_KG:
        return
    after = held.with_more(dict.fromkeys(rows, piece))
    worth = max(0.0, held.cost - after.cost)
    if worth >= TELLING_KG:
        fed = by_line(held, held.eaten, after)
        yield OneMore(what, where, *span, piece, at_first, worth, fed)


def worth_by_week(held: HeldPlan) -> tuple[Floats, Floats]:
    """Give (weeks) and (beds, weeks) what a first hair of an hour, of a square metre would bring.

    A bed's worth stands in the week from which it is fullest [weighted kg/h, weighted kg/m²].
    """
    ground = held.tables.ground
    by_bed = np.zeros((len(ground.beds), held.tables.weeks))
    np.add.at(by_bed, (ground.clique_bed, ground.clique_week), held.worth_of(GROUND.name))
    return held.worth_of(HOURS.name), by_bed
