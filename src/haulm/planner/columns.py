"""The unknowns of the plan, one block of columns each."""

from dataclasses import dataclass

import numpy as np

from haulm.catalogue.records import Role
from haulm.planner.allotted import Allotted, allotted
from haulm.planner.arrays import Floats, Ints
from haulm.planner.assembler import Assembler
from haulm.planner.tables import Tables


@dataclass(frozen=True, slots=True)
class Columns:
    """Column numbers of each unknown, in the order of the tables.

    Attributes
    ----------
    area
        (P) area of each pair of sowing and bed [m²].
    total
        (S) area of each sowing over all beds, what stands included [m²].
    given
        (gifts) area given over to a food taken instead of the main one [m²]; −1 for other gifts.
    taken_gift, taken_week, taken
        (T) food that stands, taken week by week [kg].
    fresh, kept
        (E), (V) helpings eaten fresh and from store [kg].
    put_by
        (lodgings) food put by, as lifted [kg].
    short
        (Q, slices) what is short of each want, slice by slice [kg].
    seed_need, seed_lodging, seed_kept
        (D) sound food kept back from a lot for a need of planting stock [kg].
    stock_used, stock_bought
        (needs) stock in hand used, and bought [units].
    overtime, over_cells, over_store
        (weeks), (weeks), (stores × weeks) beyond the hours [h], the trays [cells], the room [l].
    pin_short, pin_over
        (pins) ground less, and more, than was settled by hand [m²].
    allotted, over_allotment
        Beds, years and families where a later year waits for a rest, and the ground beyond what
        is allotted there [m²].
    staying
        Always 1: what leaving every patch of the plan before would cost.
    """

    area: Ints
    total: Ints
    given: Ints
    taken_gift: Ints
    taken_week: Ints
    taken: Ints
    fresh: Ints
    kept: Ints
    put_by: Ints
    short: Ints
    seed_need: Ints
    seed_lodging: Ints
    seed_sound: Floats
    seed_kept: Ints
    stock_used: Ints
    stock_bought: Ints
    overtime: Ints
    over_cells: Ints
    over_store: Ints
    pin_short: Ints
    pin_over: Ints
    allotted: tuple[Allotted, ...]
    over_allotment: Ints
    staying: Ints

    @property
    def rests_spent(self) -> Floats:
        """(allotted) years of rest that each square metre beyond an allotment spends [years]."""
        return np.array([one.years_missing for one in self.allotted], dtype=np.float64)


def lay_columns(model: Assembler, tables: Tables) -> Columns:
    """Add every unknown with its bounds; what it costs is the objective's business."""
    food, ground, weeks = tables.food, tables.ground, tables.weeks
    fixed = ground.fixed_bed >= 0
    instead = np.array([gift.role is Role.INSTEAD for gift in food.gifts], dtype=np.bool_)
    given = np.full(len(food.gifts), -1, dtype=np.int64)
    area = model.columns(len(ground.pair_sowing), upper=ground.most_m2)
    total = model.columns(
        len(ground.sowings),
        lower=np.where(fixed, ground.fixed_m2, 0.0),
        upper=np.where(fixed, ground.fixed_m2, np.inf),
    )
    given[instead] = model.columns(int(instead.sum()))
    standing = [(g, w) for g, gift in enumerate(food.gifts) if gift.stands for w in gift.weeks]
    taken = np.array(standing, dtype=np.int64).reshape(-1, 2)
    slices = tables.question.prices.shortage_slices
    width = np.outer(food.want_kg, [share for share, _ in slices])
    draws = _seed_draws(tables)
    held = allotted(tables)
    return Columns(
        area=area,
        total=total,
        given=given,
        taken_gift=taken[:, 0],
        taken_week=taken[:, 1],
        taken=model.columns(len(taken)),
        fresh=model.columns(len(food.fresh_want)),
        kept=model.columns(len(food.kept_want)),
        put_by=model.columns(
            len(food.lodgings),
            lower=np.array([lot.kg for lot in food.lodgings]),
            upper=np.array([lot.kg if lot.in_hand else np.inf for lot in food.lodgings]),
        ),
        short=model.columns(width.size, upper=width.ravel()).reshape(width.shape),
        seed_need=np.array([need for need, _, _ in draws], dtype=np.int64),
        seed_lodging=np.array([lot for _, lot, _ in draws], dtype=np.int64),
        seed_sound=np.array([sound for _, _, sound in draws], dtype=np.float64),
        seed_kept=model.columns(len(draws)),
        stock_used=model.columns(len(tables.seed_needs)),
        stock_bought=model.columns(len(tables.seed_needs)),
        overtime=model.columns(weeks),
        over_cells=model.columns(weeks if tables.question.tray_cells is not None else 0),
        over_store=model.columns(len(tables.question.stores) * weeks),
        pin_short=model.columns(len(tables.kept)),
        pin_over=model.columns(len(tables.kept)),
        allotted=held,
        over_allotment=model.columns(len(held)),
        staying=model.columns(1 if tables.question.before else 0, lower=1.0, upper=1.0),
    )


def _seed_draws(tables: Tables) -> list[tuple[int, int, float]]:
    """List (need, lodging, sound share) for every lot that can give planting stock in time."""
    return [
        (number, lot, lodging.sound[need.week - lodging.week])
        for number, need in enumerate(tables.seed_needs)
        for lot, lodging in enumerate(tables.food.lodgings)
        if (lodging.kind, lodging.food) == (need.seed.kind, need.seed.food)
        and lodging.wait_weeks <= need.week - lodging.week < len(lodging.sound)
    ]
