"""The food's tables: what each sowing gives and when, what is wanted, what may be kept for when."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from haulm.catalogue.records import Picking, Role
from haulm.growing.records import Sowing
from haulm.household.records import Wanted
from haulm.larder.records import KeepRule
from haulm.measure.weeks import DAYS_A_WEEK
from haulm.planner.arrays import Floats, Ints
from haulm.planner.question import PlanQuestion


@dataclass(frozen=True, slots=True)
class Gift:
    """One food of one sowing: its pool (kind and food), and how a square metre gives it.

    ``weeks`` and ``kg_m2`` say what may be taken in each week: for a food that stands, the whole
    yield in any of them; else its share [kg/m²].
    """

    sowing: int
    pool: int
    role: Role
    stands: bool
    first_week: int
    yield_kg_m2: float
    pick_min_kg: float
    weeks: tuple[int, ...]
    kg_m2: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Lodging:
    """Food of one pool that may be put by in one week under one rule, or lies in hand.

    ``sound[age]`` is the share sound at each whole week from ``week``. When it is in hand, ``pool``
    is −1, ``kg`` what lies there, sound, in week 0 [kg], ``age_weeks`` its age then, and
    ``since_put_by`` the share sound by its true age.
    """

    pool: int
    food: str
    kind: str
    form: str
    place: str
    week: int
    wait_weeks: int
    sound: tuple[float, ...]
    space_l_kg: float
    work_min_kg: float
    kg: float = 0.0
    age_weeks: int = 0
    since_put_by: tuple[float, ...] = ()

    @property
    def in_hand(self) -> bool:
        """Whether it lay in store when the plan was made."""
        return self.pool < 0


@dataclass(frozen=True, slots=True)
class FoodTables:
    """Pools (kind, food), gifts, lots, and every way from them to a line of the table.

    Attributes
    ----------
    pools, pool_pick_min, pool_main
        (kind, food); work to lift [min/kg]; whether the food is what its kind is grown for.
    gifts, gifts_of, lodgings
        What sowings give, and the numbers of those of each sowing; what may lie in store.
    want_line, want_week, want_kg
        (Q) line and week in which something is wanted, and how much [kg].
    fresh_want, fresh_pool, fresh_week
        (E) eating fresh: the want it meets, and from where.
    kept_want, kept_lodging, kept_week, kept_sound
        (V) eating from store: the want it meets, from which lot, and the share sound by then [1].
    """

    pools: tuple[tuple[str, str], ...]
    pool_pick_min: Floats
    pool_main: tuple[bool, ...]
    gifts: tuple[Gift, ...]
    gifts_of: Mapping[int, tuple[int, ...]]
    lodgings: tuple[Lodging, ...]
    want_line: Ints
    want_week: Ints
    want_kg: Floats
    fresh_want: Ints
    fresh_pool: Ints
    fresh_week: Ints
    kept_want: Ints
    kept_lodging: Ints
    kept_week: Ints
    kept_sound: Floats


def tabulate_food(question: PlanQuestion, sowings: tuple[Sowing, ...]) -> FoodTables:
    """Tabulate everything between the ground and the table for the sowings given."""
    weeks = question.horizon.weeks
    pools: dict[tuple[str, str], int] = {}
    pick: list[float] = []
    main: list[bool] = []
    gifts: list[Gift] = []
    for s, sowing in enumerate(sowings):
        for food in sowing.foods:
            shares = [(w, share) for w, share in food.week_shares if 0 <= w < weeks and share > 0]
            if not shares or food.yield_kg_m2 <= 0:
                continue
            pool = pools.setdefault((sowing.kind, food.food), len(pools))
            if pool == len(pick):
                pick.append(0.0)
                main.append(food.role is Role.MAIN)
            pick[pool] = max(pick[pool], food.pick_min_kg)
            gifts.append(
                Gift(
                    sowing=s,
                    pool=pool,
                    role=food.role,
                    stands=food.picking is Picking.STAND,
                    first_week=food.first_week,
                    yield_kg_m2=food.yield_kg_m2,
                    pick_min_kg=food.pick_min_kg,
                    weeks=tuple(w for w, _ in shares),
                    kg_m2=tuple(food.yield_kg_m2 * share for _, share in shares),
                )
            )
    ready: dict[int, set[int]] = defaultdict(set)
    of_sowing: dict[int, list[int]] = defaultdict(list)
    for number, gift in enumerate(gifts):
        ready[gift.pool].update(gift.weeks)
        of_sowing[gift.sowing].append(number)
    lodgings = _new_lodgings(question, pools, ready) + _lodgings_in_hand(question)
    want_at, want_line, want_week, want_kg = _wants(question)
    fresh = _fresh(question, pools, ready, want_at)
    kept = _kept(question, lodgings, want_at)
    return FoodTables(
        pools=tuple(pools),
        pool_pick_min=np.array(pick),
        pool_main=tuple(main),
        gifts=tuple(gifts),
        gifts_of={sowing: tuple(numbers) for sowing, numbers in of_sowing.items()},
        lodgings=lodgings,
        want_line=want_line,
        want_week=want_week,
        want_kg=want_kg,
        fresh_want=fresh[0],
        fresh_pool=fresh[1],
        fresh_week=fresh[2],
        kept_want=kept[0],
        kept_lodging=kept[1],
        kept_week=kept[2],
        kept_sound=kept[3],
    )


def rule_for_lot(question: PlanQuestion, lot_at: int) -> KeepRule | None:
    """Find how a lot in hand keeps: by its kind's rule, else by the worst-keeping kind's."""
    lot = question.lots[lot_at]
    fits = [
        rule
        for rule in question.keep_rules
        if rule.food == lot.food
        and rule.form == lot.form
        and rule.place == lot.place
        and lot.kind in {None, rule.kind}
    ]
    return min(fits, key=lambda rule: sum(rule.sound)) if fits else None


def _new_lodgings(
    question: PlanQuestion,
    pools: dict[tuple[str, str], int],
    ready: dict[int, set[int]],
) -> tuple[Lodging, ...]:
    return tuple(
        Lodging(
            pool=pools[rule.kind, rule.food],
            food=rule.food,
            kind=rule.kind,
            form=rule.form.value,
            place=rule.place,
            week=week,
            wait_weeks=rule.wait_weeks,
            sound=rule.sound,
            space_l_kg=rule.space_l_kg,
            work_min_kg=rule.work_min_kg,
        )
        for rule in question.keep_rules
        if (rule.kind, rule.food) in pools
        for week in sorted(ready[pools[rule.kind, rule.food]])
    )


def _lodgings_in_hand(question: PlanQuestion) -> tuple[Lodging, ...]:
    """Read the lots in hand: what was weighed counts as sound on the plan's first day."""
    found = []
    for index, lot in enumerate(question.lots):
        rule = rule_for_lot(question, index)
        if rule is None or lot.kg <= 0:
            continue
        age = max(0, (question.horizon.first_day - lot.put_by).days // DAYS_A_WEEK)
        if age >= len(rule.sound):
            continue
        found.append(
            Lodging(
                pool=-1,
                food=lot.food,
                kind=lot.kind or "",
                form=lot.form.value,
                place=lot.place,
                week=0,
                wait_weeks=max(0, rule.wait_weeks - age),
                sound=tuple(share / rule.sound[age] for share in rule.sound[age:]),
                space_l_kg=rule.space_l_kg,
                work_min_kg=0.0,
                kg=lot.kg,
                age_weeks=age,
                since_put_by=rule.sound,
            )
        )
    return tuple(found)


def _wants(question: PlanQuestion) -> tuple[Ints, Ints, Ints, Floats]:
    weeks = question.horizon.weeks
    kg = np.array([a.kg for a in question.appetites], dtype=np.float64).reshape(-1, weeks)
    line, week = np.nonzero(kg > 0)
    at = np.full(kg.shape, -1, dtype=np.int64)
    at[line, week] = np.arange(len(line))
    return at, line.astype(np.int64), week.astype(np.int64), kg[line, week]


def _fresh(
    question: PlanQuestion,
    pools: dict[tuple[str, str], int],
    ready: dict[int, set[int]],
    want_at: Ints,
) -> tuple[Ints, Ints, Ints]:
    ways = [
        (want_at[line, week], pool, week)
        for line, appetite in enumerate(question.appetites)
        if appetite.wanted is not Wanted.KEPT
        for (_, food), pool in pools.items()
        if food in appetite.foods
        for week in sorted(ready[pool])
        if want_at[line, week] >= 0
    ]
    table = np.array(ways, dtype=np.int64).reshape(-1, 3)
    return table[:, 0], table[:, 1], table[:, 2]


def _kept(
    question: PlanQuestion, lodgings: tuple[Lodging, ...], want_at: Ints
) -> tuple[Ints, Ints, Ints, Floats]:
    """List every helping from store; what could as well be eaten fresh that week is left out."""
    lines_of: dict[str, list[int]] = defaultdict(list)
    for line, appetite in enumerate(question.appetites):
        if appetite.wanted is not Wanted.FRESH:
            for food in appetite.foods:
                lines_of[food].append(line)
    wants: list[Ints] = [np.zeros(0, np.int64)]
    lots: list[Ints] = [np.zeros(0, np.int64)]
    when: list[Ints] = [np.zeros(0, np.int64)]
    sound: list[Floats] = [np.zeros(0)]
    for number, lodging in enumerate(lodgings):
        share = np.array(lodging.sound)
        for line in lines_of[lodging.food]:
            either = question.appetites[line].wanted is Wanted.EITHER
            wait = max(lodging.wait_weeks, 1 if either and not lodging.in_hand else 0)
            span = np.arange(
                lodging.week + wait, min(lodging.week + len(share), question.horizon.weeks)
            )
            span = span[want_at[line, span] >= 0]
            wants.append(want_at[line, span])
            lots.append(np.full(len(span), number, dtype=np.int64))
            when.append(span.astype(np.int64))
            sound.append(share[span - lodging.week])
    return np.concatenate(wants), np.concatenate(lots), np.concatenate(when), np.concatenate(sound)
