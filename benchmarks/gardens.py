"""Reference gardens, drawn from a seed: every figure invented, every record a real one."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from haulm.catalogue.records import Form, Picking, Role, StoreKind
from haulm.growing.records import ReadyDates, Sowing, SowingFood, Window
from haulm.household.records import Appetite, Wanted
from haulm.larder.records import KeepRule, StorePlace
from haulm.measure.weeks import Horizon
from haulm.planner.question import BedGround, PlanQuestion

FIRST_DAY = date(2027, 1, 4)
YEAR_WEEKS = 52
FAMILIES = 8


@dataclass(frozen=True, slots=True)
class Size:
    """How large a reference garden is."""

    name: str
    crops: int
    beds: int
    weeks: int


SMALL = Size("small", 12, 4, 52)
MEDIUM = Size("medium", 30, 10, 78)
LARGE = Size("large", 50, 12, 104)
MARKET = Size("market", 70, 60, 104)


@dataclass(frozen=True, slots=True)
class _Crop:
    """What was drawn for one crop."""

    name: str
    family: str
    sown: tuple[int, ...]
    growing: int
    picking: Picking
    span: int
    yield_kg_m2: float
    keeps_weeks: float
    kg_week: float
    priority: int


def reference_garden(size: Size, seed: int = 1) -> PlanQuestion:
    """Draw a garden of a size: crops with their seasons, beds with a past, a household's wants.

    Land is about what the wants ask for, so that shortage and separate sowings both matter.
    """
    draw = np.random.default_rng([seed, size.crops, size.beds, size.weeks])
    horizon = Horizon(FIRST_DAY, size.weeks)
    crops = [_draw_crop(draw, number) for number in range(size.crops)]
    sowings = [
        _sowing(crop, week, horizon)
        for crop in crops
        for year in range(-1, size.weeks // YEAR_WEEKS + 1)
        for week in (week + YEAR_WEEKS * year for week in crop.sown)
        if 0 <= week < size.weeks - crop.growing
    ]
    kept = [crop for crop in crops if crop.keeps_weeks > 0]
    return PlanQuestion(
        garden=f"{size.name} reference garden",
        made_on=FIRST_DAY,
        horizon=horizon,
        beds=tuple(_draw_bed(draw, number, size.crops / size.beds) for number in range(size.beds)),
        sowings=tuple(sowings),
        appetites=tuple(_appetite(crop, size.weeks) for crop in crops),
        keep_rules=tuple(_keep_rule(crop) for crop in kept),
        stores=(StorePlace("cellar", "cellar", StoreKind.CELLAR, 900.0),),
        hours_week=(14.0,) * size.weeks,
        rotation_gap_years={f"family-{n}": int(draw.integers(0, 4)) for n in range(FAMILIES)},
        names={},
        tray_cells=1200,
        seed=seed,
    )


def _draw_crop(draw: np.random.Generator, number: int) -> _Crop:
    first = int(draw.integers(8, 26))
    picking = (Picking.ONCE, Picking.SPREAD, Picking.STAND)[int(draw.integers(0, 3))]
    stored = picking is not Picking.SPREAD and draw.random() < 0.6
    step = int(draw.integers(2, 5))
    return _Crop(
        name=f"crop-{number:02d}",
        family=f"family-{int(draw.integers(0, FAMILIES))}",
        sown=tuple(range(first, first + int(draw.integers(4, 17)), step)),
        growing=int(draw.integers(6, 24)),
        picking=picking,
        span=1 if picking is Picking.ONCE else int(draw.integers(4, 13)),
        yield_kg_m2=float(draw.uniform(1.0, 5.0)),
        keeps_weeks=float(draw.uniform(10, 35)) if stored else 0.0,
        kg_week=float(draw.uniform(0.2, 1.0)),
        priority=int(draw.integers(1, 6)),
    )


def _draw_bed(draw: np.random.Generator, number: int, crops_a_bed: float) -> BedGround:
    past = draw.choice(FAMILIES, size=2, replace=False)
    return BedGround(
        id=f"bed-{number + 1}",
        name=f"bed {number + 1}",
        area_m2=round(float(draw.uniform(1.5, 3.0)) * crops_a_bed, 1),
        under_cover=False,
        last_year_of_family=tuple(
            (f"family-{family}", 2026 - year) for year, family in enumerate(past)
        ),
    )


def _sowing(crop: _Crop, week: int, horizon: Horizon) -> Sowing:
    day, ready = horizon.monday(week), week + crop.growing
    weeks = range(ready, ready + crop.span)
    share = 1.0 if crop.picking is Picking.STAND else 1.0 / crop.span
    return Sowing(
        id=f"{crop.name}/kind:direct:{horizon.label(week)}",
        kind=f"{crop.name}/kind",
        crop=crop.name,
        family=crop.family,
        method="direct",
        under_cover=False,
        sow_on=day,
        set_on=day,
        ground_from_week=week,
        ground_until_week=ready + crop.span,
        plants_m2=16.0,
        stock_m2=22.0,
        stock_unit="seed",
        stock_units_per_kg=100_000.0,
        tray_weeks=(week, week),
        cells_m2=0.0,
        work_min_m2=((week, 12.0), *((w, 1.5) for w in range(week + 1, ready))),
        foods=(
            SowingFood(
                food=f"{crop.name}-food",
                role=Role.MAIN,
                picking=crop.picking,
                ready=ReadyDates(
                    horizon.monday(ready - 1), horizon.monday(ready), horizon.monday(ready + 1)
                ),
                first_week=ready,
                week_shares=tuple((w, share) for w in weeks if w < horizon.weeks),
                yield_kg_m2=crop.yield_kg_m2,
                yield_low_kg_m2=0.7 * crop.yield_kg_m2,
                yield_high_kg_m2=1.3 * crop.yield_kg_m2,
                pick_min_kg=5.0,
            ),
        ),
        window=Window(
            kind=f"{crop.name}/kind",
            method="direct",
            under_cover=False,
            first_day=day - timedelta(weeks=4),
            last_day=day + timedelta(weeks=4),
            first_rule="the soil is warm enough",
            last_rule="time to be ready before winter",
        ),
    )


def _appetite(crop: _Crop, weeks: int) -> Appetite:
    return Appetite(
        line=f"{crop.name}-food",
        name=crop.name,
        foods=(f"{crop.name}-food",),
        wanted=Wanted.EITHER,
        priority=crop.priority,
        kg=(crop.kg_week,) * weeks,
    )


def _keep_rule(crop: _Crop) -> KeepRule:
    """Keep soundness by a Weibull curve of shape 3; it ends where under 0.3 is sound."""
    ages = np.arange(104)
    sound = np.exp(-((ages / crop.keeps_weeks) ** 3))
    return KeepRule(
        food=f"{crop.name}-food",
        kind=f"{crop.name}/kind",
        form=Form.CELLARED,
        place="cellar",
        wait_weeks=0,
        sound=tuple(float(share) for share in sound[sound >= 0.3]),
        space_l_kg=2.5,
        work_min_kg=2.0,
    )
