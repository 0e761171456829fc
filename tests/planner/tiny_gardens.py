"""Invented gardens small enough to think through: a few beds, a few sowings, a few weeks."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from haulm.catalogue.records import Form, Picking, Role, StoreKind
from haulm.growing.records import ReadyDates, Sowing, SowingFood, Window
from haulm.household.records import Appetite, Wanted
from haulm.larder.records import KeepRule, StorePlace
from haulm.measure.weeks import Horizon
from haulm.planner.question import BedGround, Effort, PlanQuestion

FIRST_DAY = date(2027, 3, 1)
HORIZON = Horizon(FIRST_DAY, 30)
USUAL = Effort()


def food(
    name: str,
    weeks: Sequence[int],
    yield_kg_m2: float = 2.0,
    picking: Picking = Picking.SPREAD,
    role: Role = Role.MAIN,
) -> SowingFood:
    """Describe a food taken in some weeks."""
    share = 1.0 if picking is Picking.STAND else 1.0 / len(weeks)
    day = HORIZON.monday(weeks[0])
    return SowingFood(
        food=name,
        role=role,
        picking=picking,
        ready=ReadyDates(day - timedelta(7), day, day + timedelta(7)),
        first_week=weeks[0],
        week_shares=tuple((week, share) for week in weeks),
        yield_kg_m2=yield_kg_m2,
        yield_low_kg_m2=0.7 * yield_kg_m2,
        yield_high_kg_m2=1.3 * yield_kg_m2,
        pick_min_kg=5.0,
    )


def sowing(crop: str, week: int, until: int, *foods: SowingFood, family: str = "roots") -> Sowing:
    """Describe a sowing that holds its ground from a week until another."""
    day = HORIZON.monday(week)
    return Sowing(
        id=f"{crop}/kind:direct:{HORIZON.label(week)}",
        kind=f"{crop}/kind",
        crop=crop,
        family=family,
        method="direct",
        under_cover=False,
        sow_on=day,
        set_on=day,
        ground_from_week=week,
        ground_until_week=until,
        plants_m2=20.0,
        stock_m2=25.0,
        stock_unit="seed",
        stock_units_per_kg=50_000.0,
        tray_weeks=(week, week),
        cells_m2=0.0,
        work_min_m2=((week, 10.0),),
        foods=foods,
        window=Window(
            kind=f"{crop}/kind",
            method="direct",
            under_cover=False,
            first_day=day,
            last_day=day,
            first_rule="the soil is warm enough",
            last_rule="time is left to be ready",
        ),
    )


def covered(bare: Sowing) -> Sowing:
    """Give the same sowing under cover."""
    return replace(bare, id=f"{bare.id}:cover", under_cover=True)


def bed(name: str = "east", area_m2: float = 4.0, *, under_cover: bool = False) -> BedGround:
    """Describe a bed."""
    return BedGround(name, f"{name} bed", area_m2, under_cover)


def wants(
    name: str,
    weeks: Sequence[int],
    kg: float = 1.0,
    wanted: Wanted = Wanted.EITHER,
    priority: int = 3,
) -> Appetite:
    """Want some of a food in some weeks."""
    week_kg = tuple(kg if week in weeks else 0.0 for week in range(HORIZON.weeks))
    return Appetite(name, name, (name,), wanted, priority, week_kg)


def keeps(name: str, sound: Sequence[float], wait_weeks: int = 0) -> KeepRule:
    """Keep a food of the kind of its own name in the cellar."""
    return KeepRule(
        food=name,
        kind=f"{name}/kind",
        form=Form.CELLARED,
        place="cellar",
        wait_weeks=wait_weeks,
        sound=tuple(sound),
        space_l_kg=2.0,
        work_min_kg=3.0,
    )


def garden(
    sowings: Sequence[Sowing],
    appetites: Sequence[Appetite],
    beds: Sequence[BedGround] = (bed(),),
    keep_rules: Sequence[KeepRule] = (),
) -> PlanQuestion:
    """Ask for a plan of a tiny garden: one cellar, ten hours a week, families rest three years."""
    return PlanQuestion(
        garden="a tiny garden",
        made_on=FIRST_DAY,
        horizon=HORIZON,
        beds=tuple(beds),
        sowings=tuple(sowings),
        appetites=tuple(appetites),
        keep_rules=tuple(keep_rules),
        stores=(StorePlace("cellar", "cellar", StoreKind.CELLAR, 500.0),),
        hours_week=(10.0,) * HORIZON.weeks,
        rotation_gap_years={"roots": 3, "leaves": 0, "onions": 3},
        names={},
    )
