"""The goal: unmet appetite first, then priced breaks, then hours, ground and separate sowings."""

from collections import defaultdict

import numpy as np

from haulm.catalogue.records import Role
from haulm.planner.assembler import Assembler
from haulm.planner.columns import Columns
from haulm.planner.rules.harvest import ground_of
from haulm.planner.rules.hours import MINUTES_AN_HOUR, work
from haulm.planner.tables import Tables


def price_everything(model: Assembler, tables: Tables, columns: Columns) -> None:
    """Charge every column what it costs, in kilograms of unmet appetite of middle priority.

    Separate sowings and breaks of rotation and spread depend on which pairs are used; they are
    charged where that is chosen (``rules.patch_size``, ``rules.rotation``, ``rules.spread``), and
    so is staying with the plan before, beside what leaving all of it would cost.
    """
    prices = tables.question.prices
    _price_shortage(model, tables, columns)
    _price_glut(model, tables, columns)
    _, worked, minutes = work(tables, columns)
    model.price(worked, minutes / MINUTES_AN_HOUR * prices.hour)
    model.price(columns.area, prices.area_m2 + prices.rotation_m2 * tables.ground.missing)
    model.price(columns.seed_kept, prices.glut_kg)
    model.price(columns.overtime, prices.overtime_hour)
    model.price(columns.over_cells, prices.over_tray_cell)
    model.price(columns.over_store, prices.over_store_l)
    model.price(columns.stock_bought, np.array([n.seed.buy_price_unit for n in tables.seed_needs]))
    exact = np.array([kept.exact for kept in tables.kept], dtype=np.bool_)
    model.price(columns.pin_short, prices.pin_m2)
    model.price(columns.pin_over, np.where(exact, prices.pin_m2, 0.0))
    model.price(columns.over_allotment, prices.allotment_m2 * columns.rests_spent)
    model.price(columns.staying, tables.staying_price)


def _price_shortage(model: Assembler, tables: Tables, columns: Columns) -> None:
    """Charge each slice of each want its price, weighted by the line's priority: convex."""
    prices = tables.question.prices
    weight = np.array([prices.priority_weight[a.priority - 1] for a in tables.question.appetites])
    each = np.array([price for _, price in prices.shortage_slices])
    model.price(columns.short, np.outer(weight[tables.food.want_line], each))


def _price_glut(model: Assembler, tables: Tables, columns: Columns) -> None:
    """Charge what a kind's main foods give and nobody takes.

    Written as a charge on all that grows less a discount on all that is taken.
    """
    food, price = tables.food, tables.question.prices.glut_kg
    grown: dict[int, float] = defaultdict(float)
    for number, gift in enumerate(food.gifts):
        if gift.role is Role.MAIN:
            whole = gift.yield_kg_m2 if gift.stands else sum(gift.kg_m2)
            for column, sign in ground_of(tables, columns, number):
                grown[column] += sign * whole * price
    model.price(np.array(list(grown), dtype=np.int64), np.array(list(grown.values())))
    main = np.array(food.pool_main, dtype=np.bool_)
    model.price(columns.fresh[main[food.fresh_pool]], -price)
    lots = np.array(
        [n for n, lot in enumerate(food.lodgings) if not lot.in_hand and main[lot.pool]],
        dtype=np.int64,
    )
    model.price(columns.put_by[lots], -price)


def unreachable_cost(tables: Tables) -> float:
    """Price the appetite that no sowing and no lot can reach: no plan could meet it."""
    food, prices = tables.food, tables.question.prices
    reached = np.zeros(len(food.want_kg), dtype=np.bool_)
    reached[food.fresh_want] = True
    reached[food.kept_want] = True
    each = sum(share * price for share, price in prices.shortage_slices)
    weight = np.array([prices.priority_weight[a.priority - 1] for a in tables.question.appetites])
    return float((food.want_kg * weight[food.want_line] * each)[~reached].sum())
