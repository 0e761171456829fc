"""The lots and helpings of a plan, read from what was taken."""

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from haulm.plan.records import Helping, Lot
from haulm.planner.columns import Columns
from haulm.planner.food_tables import Lodging
from haulm.planner.tables import Tables
from haulm.planner.taken import NOISE, Taken


@dataclass(frozen=True, slots=True)
class Larder:
    """Every lot, and the id of the lot each lodging's food is eaten from."""

    lots: tuple[Lot, ...]
    id_of: dict[int, str]


def read_lots(tables: Tables, columns: Columns, taken: Taken) -> Larder:
    """Read every lot that holds something; food kept back to plant lies in a lot of its own."""
    eaten: dict[int, dict[int, float]] = defaultdict(lambda: defaultdict(float))
    for way in np.nonzero(taken.kept_kg)[0]:
        number, week = int(tables.food.kept_lodging[way]), int(tables.food.kept_week[way])
        eaten[number][week] += float(taken.kept_kg[way])
    seed = [
        (int(columns.seed_lodging[d]), tables.seed_needs[int(columns.seed_need[d])].week, d)
        for d in np.nonzero(taken.seed_kg)[0]
    ]
    lots: list[Lot] = []
    id_of: dict[int, str] = {}
    counts: dict[str, int] = defaultdict(int)
    for number, lodging in enumerate(tables.food.lodgings):
        stock = [(week, float(taken.seed_kg[d])) for n, week, d in seed if n == number]
        if lodging.in_hand or taken.put_by_kg[number] > 0:
            kg_in = lodging.kg if lodging.in_hand else float(taken.put_by_kg[number])
            taken_out = sum(kg / lodging.sound[week - lodging.week] for week, kg in stock)
            if lodging.in_hand:
                kg_in -= taken_out
            id_of[number] = _id(lodging, counts)
            out = tuple(sorted(eaten[number].items()))
            lots.append(_lot(tables, lodging, id_of[number], (kg_in, out, 0.0, None)))
        for week, kg in stock:
            kg_in = kg / lodging.sound[week - lodging.week]
            lots.append(_lot(tables, lodging, _id(lodging, counts), (kg_in, (), kg, week)))
    return Larder(tuple(lots), id_of)


def read_helpings(tables: Tables, taken: Taken, larder: Larder) -> tuple[Helping, ...]:
    """Read every helping: line, food, week and kilograms, fresh together and from each lot."""
    food, question = tables.food, tables.question
    kg: dict[tuple[int, int, str, str | None], float] = defaultdict(float)
    for way in np.nonzero(taken.fresh_kg)[0]:
        line = int(food.want_line[food.fresh_want[way]])
        eaten = food.pools[food.fresh_pool[way]][1]
        kg[line, int(food.fresh_week[way]), eaten, None] += float(taken.fresh_kg[way])
    for way in np.nonzero(taken.kept_kg)[0]:
        line = int(food.want_line[food.kept_want[way]])
        number = int(food.kept_lodging[way])
        key = (line, int(food.kept_week[way]), food.lodgings[number].food, larder.id_of[number])
        kg[key] += float(taken.kept_kg[way])
    return tuple(
        Helping(question.appetites[line].line, eaten, week, amount, lot)
        for (line, week, eaten, lot), amount in sorted(
            kg.items(), key=lambda item: (item[0][0], item[0][1], item[0][2], item[0][3] or "")
        )
    )


def _id(lodging: Lodging, counts: dict[str, int]) -> str:
    stem = f"{lodging.food}-{lodging.form}"
    counts[stem] += 1
    return f"{stem}-{counts[stem]}"


def _lot(
    tables: Tables,
    lodging: Lodging,
    name: str,
    what: tuple[float, tuple[tuple[int, float], ...], float, int | None],
) -> Lot:
    """Write one lot; what is left of one in hand is lost as it rots."""
    kg_in, out, seed_kg, seed_week = what
    gone = sum(kg / lodging.sound[week - lodging.week] for week, kg in out)
    if seed_week is not None:
        gone += seed_kg / lodging.sound[seed_week - lodging.week]
    rest = max(0.0, kg_in - gone)
    age = tables.weeks - lodging.week
    left = rest * lodging.sound[age] if rest > NOISE and age < len(lodging.sound) else 0.0
    eaten = sum(kg for _, kg in out)
    return Lot(
        id=name,
        food=lodging.food,
        kind=lodging.kind,
        form=lodging.form,
        place=lodging.place,
        put_by_week=lodging.week,
        kg_in=kg_in,
        eaten=out,
        seed_kg=seed_kg,
        seed_week=seed_week,
        left_kg=left,
        lost_kg=max(0.0, kg_in - eaten - seed_kg - left),
        sound=lodging.since_put_by or lodging.sound,
        space_l_kg=lodging.space_l_kg,
        work_min_kg=lodging.work_min_kg,
        in_hand=lodging.in_hand,
        age_weeks=lodging.age_weeks,
    )
