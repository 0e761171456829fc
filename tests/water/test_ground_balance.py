"""The water of beds with many patches: nothing is made or lost, and ground keeps what it lacks."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.measure.errors import FaultsFoundError
from haulm.water.balance_tables import balance_tables
from haulm.water.ground_balance import ground_balance
from haulm.water.records import (
    Climate,
    CropWater,
    GroundBalance,
    Patch,
    SoilMiddle,
    Tank,
    WaterBed,
    Watering,
)
from haulm.water.root_zone import day_by_day
from haulm.water.season_use import Stay, left_by_thirst, season_use
from haulm.water.soils import soil_middle

SEEDS = st.integers(0, 10_000)
DAYS = 60
ONION = CropWater((0.1, 0.2, 0.5, 0.2), (0.15, 0.95, 0.65), 0.4, 0.3, 0.3, 1.1)
TOMATO = CropWater((0.2, 0.25, 0.35, 0.2), (0.15, 1.1, 0.7), 1.5, 0.9, 0.4, 1.05)
LOAM = soil_middle("loam")


def patch(id_: str, area: float, first: int, until: int, crop: CropWater = ONION) -> Patch:
    """Give a patch whose season runs evenly over its stay."""
    days = until - first
    return Patch(id_, area, first, until, np.arange(1, days + 1) / days, crop)


def climate(seed: int, runs: int = 2, days: int = DAYS) -> Climate:
    """Invent some weather."""
    dice = np.random.default_rng(seed)
    rain = dice.gamma(0.3, 8.0, (runs, days))
    use = dice.uniform(0.5, 6.0, (runs, days))
    return Climate(rain, use, np.full(days, 50.0), 2.0)


def random_bed(seed: int) -> WaterBed:
    """Invent a bed of three thirds, each with one or two crops after one another."""
    dice = np.random.default_rng(seed)
    patches = []
    for third in range(3):
        turn = int(dice.integers(10, DAYS - 10))
        stay = sorted(int(day) for day in dice.integers(-20, DAYS + 20, 2))
        patches.append(patch(f"first {third}", 2.0, min(stay[0], turn - 1), turn))
        patches.append(patch(f"next {third}", 1.0, turn, turn + 30, TOMATO))
    return WaterBed("bed", 7.0, LOAM, tuple(patches), mulch_share=float(dice.uniform()))


def lacking(told: GroundBalance, day: int) -> np.ndarray:
    """Give what a whole ground lacks at a day's end in each run [l]."""
    lack = np.nan_to_num(told.depletion_mm[..., day]) + np.nan_to_num(told.below_mm[..., day])
    return np.asarray(told.area_m2[:, day] @ lack)


def run(bed: WaterBed, weather: Climate, watering: Watering | None = None) -> GroundBalance:
    """Reckon one bed."""
    return ground_balance(balance_tables([bed], weather), weather, watering)


@settings(max_examples=10, deadline=None)
@given(SEEDS, st.booleans())
def test_a_bed_makes_and_loses_no_water(seed: int, watered: bool) -> None:  # noqa: FBT001
    """What falls on a bed and is given to it is drunk, evaporates, drains or makes it wetter,
    whatever is sown and lifted meanwhile.
    """
    told = run(random_bed(seed), climate(seed), Watering(when_due=watered))
    flow = told.rained_mm + told.watered_mm
    flow = flow - told.crop_use_mm - told.evaporated_mm - told.drained_mm
    gained = np.einsum("rd,rnd->n", told.area_m2, flow)
    assert -gained == pytest.approx(lacking(told, -1), abs=0.05)


@settings(max_examples=10, deadline=None)
@given(SEEDS)
def test_patches_fill_the_bed(seed: int) -> None:
    """On every day the patches and the bare ground between them add up to the bed."""
    told = run(random_bed(seed), climate(seed))
    assert told.area_m2.sum(axis=0) == pytest.approx(np.full(DAYS, 7.0))


@settings(max_examples=10, deadline=None)
@given(SEEDS)
def test_a_watered_crop_never_wilts(seed: int) -> None:
    """Where every patch is watered when its easy water is spent, no crop is held back by more than
    the day's own thirst.
    """
    told = run(random_bed(seed), climate(seed), Watering(when_due=True))
    grown = np.array([label[1] != "" for label in told.labels])
    assert np.nanmin(told.stress[grown]) > 0.7


@settings(max_examples=10, deadline=None)
@given(SEEDS)
def test_mulch_never_lets_more_out(seed: int) -> None:
    """Under a whole mulch, bare ground gives less to the air than without."""
    bed = WaterBed("bed", 5.0, LOAM, ())
    weather = climate(seed)
    bare, covered = (run(replace(bed, mulch_share=share), weather) for share in (0.0, 1.0))
    assert (covered.evaporated_mm.sum(axis=-1) <= bare.evaporated_mm.sum(axis=-1) + 1e-3).all()


@settings(max_examples=10, deadline=None)
@given(SEEDS)
def test_it_agrees_with_the_single_root_zone(seed: int) -> None:
    """A crop on soil that never evaporates, with roots grown from the first day, is the plain root
    zone of equations 84 to 88.
    """
    steady = CropWater((0.0, 0.0, 1.0, 0.0), (0.9, 0.9, 0.9), 0.3, 0.3, 0.4)
    dry_top = SoilMiddle(0.25, 0.12, 1e-9, 2e-9)
    weather = replace(climate(seed), least_humidity_pct=np.full(DAYS, 45.0))
    told = run(WaterBed("bed", 1.0, dry_top, (patch("one", 1.0, 0, DAYS, steady),)), weather)
    rain = np.where(weather.rain_mm < 0.2 * weather.use_mm, 0.0, weather.rain_mm)
    plain = day_by_day(rain, np.zeros(rain.shape), 0.9 * weather.use_mm, 39.0, 0.4, 0.0)
    assert told.depletion_mm[0] == pytest.approx(plain.depletion_mm, abs=1e-3)
    assert told.drained_mm[0] == pytest.approx(plain.drained_mm, abs=1e-3)
    assert told.stress[0] == pytest.approx(plain.stress, abs=1e-4)


def dry_spell(days: int = 60) -> Climate:
    """Give rainless weather that takes 4 mm a day."""
    return Climate(np.zeros((1, days)), np.full((1, days), 4.0), np.full(days, 45.0), 2.0)


def test_what_follows_inherits_the_thirst_of_its_ground() -> None:
    """A crop sown where a thirsty one stood finds the ground that much drier; one sown on bare
    ground beside it does not.
    """
    bed = WaterBed(
        "bed", 2.0, LOAM, (patch("tomato", 2.0, -60, 30, TOMATO), patch("onion", 2.0, 30, 60))
    )
    follows = run(bed, dry_spell())
    fresh = run(replace(bed, patches=bed.patches[1:]), dry_spell())
    assert lacking(follows, 30)[0] > lacking(fresh, 30)[0] + 20
    assert lacking(follows, 30)[0] == pytest.approx(
        lacking(follows, 29)[0]
        + 2.0 * float((follows.crop_use_mm + follows.evaporated_mm)[1, 0, 30]),
        abs=1e-3,
    )


def test_ground_is_mixed_by_area() -> None:
    """A crop that takes one square metre of thirsty ground and three of bare lacks their mean."""
    thirsty = patch("tomato", 1.0, -60, 30, TOMATO)
    bed = WaterBed("bed", 4.0, LOAM, (thirsty, patch("onion", 4.0, 30, 60)))
    told = run(bed, dry_spell())
    lack = told.depletion_mm[:, 0, 29] + told.below_mm[:, 0, 29]
    mean = (1.0 * lack[0] + 3.0 * lack[2]) / 4.0
    after = told.depletion_mm[1, 0, 30] + told.below_mm[1, 0, 30]
    used = told.crop_use_mm[1, 0, 30] + told.evaporated_mm[1, 0, 30]
    assert after - used == pytest.approx(mean, abs=1e-3)


def test_neighbours_do_not_touch() -> None:
    """Two crops side by side on one bed need what they need each on a bed of its own."""
    onion, tomato = patch("onion", 2.0, 0, 60), patch("tomato", 3.0, 0, 60, TOMATO)
    both = run(WaterBed("bed", 5.0, LOAM, (onion, tomato)), dry_spell(), Watering(when_due=True))
    for row, one in enumerate((onion, tomato)):
        bed = WaterBed("bed", one.area_m2, LOAM, (one,))
        alone = run(bed, dry_spell(), Watering(when_due=True))
        assert alone.watered_mm[0] == pytest.approx(both.watered_mm[row], abs=1e-3)


def test_a_covered_bed_gets_no_rain() -> None:
    """No rain reaches a bed under a tunnel or glass."""
    bed = WaterBed("bed", 2.0, LOAM, (patch("onion", 2.0, 0, DAYS),), covered=True)
    assert run(bed, climate(1)).rained_mm.sum() == 0


def test_roots_reach_what_the_ground_below_lacks() -> None:
    """As roots deepen into ground that an earlier crop left dry, the root zone's lack grows with
    them, and the whole does not.
    """
    bed = WaterBed(
        "bed", 1.0, LOAM, (patch("tomato", 1.0, -80, 20, TOMATO), patch("next", 1.0, 20, 60))
    )
    told = run(bed, replace(dry_spell(), use_mm=np.full((1, 60), 0.0)))
    thirsty = run(bed, dry_spell())
    assert np.nansum(told.depletion_mm) == 0
    below = thirsty.below_mm[1, 0, 20:]
    assert below[0] > 0
    assert (np.diff(below) <= 1e-4).all()


def test_patches_that_overfill_a_bed_are_refused() -> None:
    """A bed of 2 m² cannot hold 3 m² of onions; the bed is named."""
    bed = WaterBed("slate", 2.0, LOAM, (patch("onion", 3.0, 0, 60),))
    with pytest.raises(FaultsFoundError, match="bed slate"):
        run(bed, dry_spell())


def test_weather_without_rain_is_refused() -> None:
    """Where the rain is not known there is no balance; it is not taken as dry."""
    weather = replace(dry_spell(), rain_mm=np.full((1, 60), np.nan))
    with pytest.raises(FaultsFoundError, match="rain"):
        run(WaterBed("bed", 2.0, LOAM, ()), weather)


def test_what_the_tank_does_not_hold_is_not_given() -> None:
    """Out of a tank no more is given than it held and caught; with a tank large enough the bed is
    watered as if there were no end to it.
    """
    bed, weather = random_bed(3), climate(3)
    roof = Tank("barrel", 4.0, 60.0, 0.8)
    told = run(bed, weather, Watering(when_due=True, tanks=(roof,)))
    given_l = np.einsum("rd,rnd->n", told.area_m2, told.watered_mm)
    held_l = 60.0 + 0.8 * 4.0 * weather.rain_mm.sum(axis=1)
    assert np.all(given_l <= held_l + 1e-3)
    endless = run(bed, weather, Watering(when_due=True))
    sea = run(bed, weather, Watering(when_due=True, tanks=(replace(roof, holds_l=1e9),)))
    assert np.allclose(sea.watered_mm, endless.watered_mm)
    assert told.watered_mm.sum() < endless.watered_mm.sum()


def test_thirst_costs_what_the_leaves_go_without_times_the_response() -> None:
    """A crop keeps 1 − Ky (1 − ETa / ETm), with the soil's own evaporation the same in both
    (FAO-56, equation 90); one that is watered keeps all, and no way of watering leaves more.
    """
    bed = random_bed(5)
    weather = climate(5, runs=60)
    tables = balance_tables([bed], weather)
    stays = [Stay(row, 0, DAYS) for row in range(3)]
    wet = season_use(tables, weather, Watering(when_due=True), stays)
    dry = season_use(tables, weather, None, stays)
    left = left_by_thirst(wet, dry, np.array([1.0, 1.1, 0.0]))
    first = 1 - (wet.by_leaves_mm[0] - dry.by_leaves_mm[0]).clip(0) / wet.in_all_mm[0].clip(1e-9)
    assert left[0] == pytest.approx(first.clip(0, 1))
    assert np.all(left[2] == 1.0)
    assert np.all(left_by_thirst(wet, wet, np.ones(3)) == 1.0)
    # Lived all at once or in parts, the sums are the same.
    whole = ground_balance(tables, weather, None).crop_use_mm[:3].sum(axis=-1)
    assert dry.by_leaves_mm == pytest.approx(whole, rel=1e-4)
