"""Plans small enough to reckon by hand: one crop, one line of the table, one store."""

from collections.abc import Sequence
from datetime import date

import numpy as np

from haulm.catalogue.records import Form, Picking, StoreKind
from haulm.forecast.records import Coming, Luck
from haulm.forecast.trial import Household
from haulm.household.records import Appetite, Wanted
from haulm.larder.records import KeepRule, StorePlace
from haulm.measure.weeks import Horizon
from haulm.plan.records import Helping, Lot, Plan, SolverReport, TableWeek

FIRST_DAY = date(2027, 3, 1)
WEEKS = 52
CELLAR = StorePlace("cellar", "Cellar", StoreKind.CELLAR, None)
FOOD, KIND = "onion", "onion/sets"


def coming(
    kg: float,
    picking: Picking,
    week: int,
    span: int = 1,
    spread: float = 0.0,
    planting: str = "onion-1",
) -> Coming:
    """Describe a food that comes in the same weeks in every year."""
    return Coming(
        planting=planting,
        crop="onion",
        kind=KIND,
        food=FOOD,
        picking=picking,
        kg=kg,
        spread=spread,
        span_weeks=span,
        first_week=np.array([week]),
        until_week=np.array([week + span]),
        whole=np.ones(1),
    )


def appetite(kg: Sequence[float], wanted: Wanted = Wanted.EITHER, line: str = FOOD) -> Appetite:
    """Describe what one line wants, week by week."""
    return Appetite(line, line, (FOOD,), wanted, 3, tuple(kg))


def keep_rule(sound: Sequence[float], space_l_kg: float = 1.0) -> KeepRule:
    """Describe how the food keeps in the cellar."""
    return KeepRule(FOOD, KIND, Form.CELLARED, "cellar", 0, tuple(sound), space_l_kg, 1.0)


def lot(week: int, kg: float, sound: Sequence[float], eaten_kg: Sequence[float] = ()) -> Lot:
    """Describe a lot that the plan means to put by, and what it means to take from it each week."""
    return Lot(
        id=f"lot-{week}",
        food=FOOD,
        kind=KIND,
        form=Form.CELLARED,
        place="cellar",
        put_by_week=week,
        kg_in=kg,
        eaten=tuple((number, taken) for number, taken in enumerate(eaten_kg) if taken > 0),
        seed_kg=0.0,
        seed_week=None,
        left_kg=0.0,
        lost_kg=0.0,
        sound=tuple(sound),
        space_l_kg=1.0,
        work_min_kg=1.0,
    )


def plan_of(
    lots: Sequence[Lot] = (),
    promised_kg: Sequence[float] = (),
    from_store_kg: Sequence[float] = (),
) -> Plan:
    """Describe a plan by its lots, and by what it promises its one line, fresh or from store."""
    return Plan(
        garden="by hand",
        made_on=FIRST_DAY,
        horizon=Horizon(FIRST_DAY, WEEKS),
        beds=(),
        plantings=(),
        table=tuple(TableWeek(FOOD, week, kg, kg, 0.0, 0.0) for week, kg in enumerate(promised_kg)),
        helpings=tuple(
            Helping(FOOD, FOOD, week, kg, "lot") for week, kg in enumerate(from_store_kg) if kg > 0
        ),
        lots=tuple(lots),
        hours=(),
        shortages=(),
        broken=(),
        solver=SolverReport(0.0, 0.0, 0.0, 0.0, 0.0, 0, "usual", 1),
    )


def plain_luck(comings: Sequence[Coming], household: Household, yields: np.ndarray) -> Luck:
    """Deal given yields and nothing else: stores and appetite are as told."""
    seasons = yields.size
    return Luck(
        run=np.zeros(seasons, dtype=np.int64),
        yields={(c.planting, c.food): yields for c in comings},
        ageing={store.id: np.ones(seasons) for store in household.stores},
        wants={a.line: np.ones((seasons, len(a.kg))) for a in household.appetites},
    )
