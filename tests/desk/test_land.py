"""How much land a table takes, and what less would feed."""

import json
import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from importlib.resources import files
from itertools import combinations, pairwise
from pathlib import Path

import pytest

from gardens import SMALL
from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Role
from haulm.cli.data import as_json
from haulm.desk.garden.opening import open_garden
from haulm.desk.sizing.land import Land, LandWish, as_data, land_of, wish_from
from haulm.desk.sizing.land_frontier import ENOUGH, Frontier, comes_in
from haulm.desk.sizing.land_ground import (
    COVERED,
    OPEN,
    ImaginedGround,
    growing_year,
    imagined_ground,
    shares_of_ground,
)
from haulm.desk.sizing.land_steps import ground_of_families, share_fed
from haulm.desk.sizing.land_told import headline, remarks
from haulm.forecast.safety import counted_share, yield_spread
from haulm.growing.harvest import yield_bounds
from haulm.measure.errors import FaultsFoundError
from shell import Haulm

DAY = date(2027, 2, 1)
ONE_FOOD = (files("haulm.examples") / "one-food" / "garden.toml").read_text(encoding="utf-8")


def without(text: str, *parts: str) -> str:
    """Give a garden.toml without its parts of some names."""
    blocks = text.split("\n[")
    return "\n[".join(b for b in blocks if not b.startswith(tuple(f"[{p}]]" for p in parts)))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a folder for gardens."""
    return tmp_path_factory.mktemp("land")


def written(folder: Path, name: str, text: str) -> Path:
    """Write a garden.toml of its own name."""
    path = folder / f"{name}.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def small(folder: Path) -> Land:
    """Size the land of the small garden: garlic, onions, beans and leeks."""
    return land_of(written(folder, "small", SMALL), DAY, LandWish())


@pytest.fixture(scope="module")
def garlic(folder: Path) -> ImaginedGround:
    """Give imagined ground for half a kilogram of garlic a week in three months after lifting.

    It matters so much that it is worth its cloves however little of a yield is counted on.
    """
    dear = ONE_FOOD.replace("priority = 4", "priority = 5")
    asked = dear.replace('"0.1 kg"', '"0.5 kg"\nfrom = "08-01"\nto = "10-31"')
    opened = open_garden(written(folder, "garlic", without(asked, "bed")))
    return imagined_ground(opened, DAY, 1, 0.8, 0.0)


def test_one_crop_takes_need_over_yield_times_its_counted_share(garlic: ImaginedGround) -> None:
    """Ground for one crop is need / (yield × share), by the lognormal's closed form for the share
    that holds 8 years in 10; it rests g years, so that the land is g + 1 times that.
    """
    kind = garlic.catalogue.kinds["garlic/soft-necked"]
    main = next(giving for giving in kind.givings if giving.role is Role.MAIN)
    share = counted_share(yield_spread(*yield_bounds(main.yield_kg_m2)), 0.8)
    need_kg = 0.5 * 92 / 7
    family = garlic.catalogue.families[garlic.catalogue.crops[kind.crop].family]
    rests = round(family.rotation_gap_years.value)
    planted_m2 = need_kg / (main.yield_kg_m2.value * share)
    frontier = Frontier(garlic, lambda: None)
    # A few in a hundred rot by October, and enough is within a sixteenth of the first guess.
    assert frontier.enough_m2(resting=False) == pytest.approx(planted_m2, rel=0.1)
    assert frontier.enough_m2() == pytest.approx((rests + 1) * planted_m2, rel=0.1)


def test_enough_is_the_least_ground_that_is_found_by_trying_every_size(
    garlic: ImaginedGround,
) -> None:
    """Planned on ground of every size, half a square metre apart, enough comes at the same size."""
    frontier = Frontier(garlic, lambda: None)
    found, wanted = frontier.enough_m2(), ENOUGH * frontier.most_kg
    step = 0.5
    sizes = [step * number for number in range(2, int(1.3 * found / step))]
    fed = [share_fed(garlic.plan(size), southern=False) for size in sizes]
    least = next(size for size, kg in zip(sizes, fed, strict=True) if kg >= wanted)
    assert least - step <= found <= least + found / 16 + step


def test_more_ground_never_feeds_less(small: Land) -> None:
    """Step by step the plans cost no more; and each is proven to lie near the best."""
    costs = [step.plan.solver.objective for step in small.steps]
    assert all(more <= less + 1e-6 for less, more in pairwise(costs))
    assert all(step.plan.solver.gap < 0.05 for step in small.steps)
    assert 6 <= len(small.steps) <= 8
    assert small.steps[0].share_kg < 0.5 * small.enough.share_kg


def test_each_square_metre_more_brings_no_more_than_the_one_before(small: Land) -> None:
    """Between any two steps the proven bound lies no higher than the line that joins their plans:
    so the frontier bends one way, within its gaps.
    """
    for low, middle, high in combinations(small.steps, 3):
        part = (middle.open_m2 - low.open_m2) / (high.open_m2 - low.open_m2)
        ends = [step.plan.solver.objective for step in (low, high)]
        line = (1 - part) * ends[0] + part * ends[1]
        assert middle.plan.solver.bound <= line + 1e-6


def test_no_family_holds_more_than_its_rest_leaves_it(small: Land) -> None:
    """At every step, of families that rest g years each holds at most 1 / (g + 1) of the ground in
    a year, in full plans that their audit let pass.
    """
    shares = shares_of_ground(years_of_rest())
    for step in small.steps:
        for family, area_m2 in ground_of_families(step.plan).items():
            assert area_m2 <= shares.get(family, 1.0) * step.open_m2 + 0.01
        assert not [broken for broken in step.plan.broken if broken.rule == "rest"]
    assert small.without_rest_m2 < small.enough.open_m2
    assert "onion family" in small.enough.full_families


def years_of_rest() -> Mapping[str, int]:
    """Give the years that each family rests."""
    return {
        family.id: round(family.rotation_gap_years.value)
        for family in load_catalogue().families.values()
    }


def test_to_be_surer_takes_more_ground(garlic: ImaginedGround) -> None:
    """Nine years in ten take more ground for the same garlic than eight, as many times as less of
    its mean yield is counted on.
    """
    surer = imagined_ground(garlic.opened, DAY, 1, 0.9, 0.0)
    grounds = [
        Frontier(ground, lambda: None).enough_m2(resting=False) for ground in (garlic, surer)
    ]
    less = garlic.counted["garlic", 0] / surer.counted["garlic", 0]
    assert less > 1.1
    assert grounds[1] / grounds[0] == pytest.approx(less, rel=0.1)


def test_beds_change_nothing_but_their_mark(folder: Path, small: Land) -> None:
    """A garden without beds is told the same land as with its beds; these are marked among the
    steps as so much ground.
    """
    bare = land_of(written(folder, "no-beds", without(SMALL, "bed")), DAY, LandWish())
    assert bare.own_m2 is None
    assert small.own_m2 == pytest.approx(14.4)
    assert bare.enough.open_m2 == small.enough.open_m2
    assert {step.open_m2 for step in small.steps} - {step.open_m2 for step in bare.steps} == {
        small.own_m2
    }


def test_what_stays_for_years_has_ground_of_its_own(folder: Path) -> None:
    """A line of asparagus is in no share of the table; the ground of a full-grown stand is told
    beside, and all else is as without it.
    """
    kinds = '["garlic/soft-necked", "asparagus/green"]'
    line = '[[table]]\neat = "asparagus"\namount = "1 kg"\nfrom = "04-15"\nto = "06-20"\n'
    alone = without(ONE_FOOD, "bed")
    text = alone.replace('["garlic/soft-necked"]', kinds) + "\n" + line
    both, one = (
        land_of(written(folder, name, each), DAY, LandWish())
        for name, each in (("stands", text), ("one", alone))
    )
    assert [(stand.name, stand.kind) for stand in both.stands] == [("asparagus", "green asparagus")]
    assert both.stands[0].area_m2 > 1.0
    assert (both.enough.open_m2, both.most_kg) == (one.enough.open_m2, one.most_kg)
    assert both.never == ()
    assert "full-grown stand of green asparagus" in " ".join(remarks(both))


def test_lines_come_in_once_each_and_none_that_gets_nothing(small: Land) -> None:
    """Every line of the table comes in at one step; at that step it gets half of its most."""
    come = [name for names in comes_in(small.steps) for name in names]
    assert sorted(come) == sorted(one.name for one in small.steps[-1].lines if one.got_kg > 0)
    most = {one.name: one.share for one in small.steps[-1].lines}
    for step, names in zip(small.steps, small.comes_in, strict=True):
        got = {one.name: one.share for one in step.lines}
        assert all(got[name] >= 0.5 * most[name] for name in names)
    nothing = replace(small.steps[-1].lines[0], got_kg=0.0)
    last = replace(small.steps[-1], lines=(nothing, *small.steps[-1].lines[1:]))
    assert nothing.name not in comes_in([last])[0]


def test_ground_under_cover_is_a_piece_of_its_own(garlic: ImaginedGround) -> None:
    """What is asked for under cover is there beside the open ground; none where none is wanted."""
    roofed = replace(garlic, covered_m2=6.0).garden(10.0)
    assert {bed.name: round(bed.outline.area_m2, 6) for bed in roofed.beds} == {
        OPEN: 10.0,
        COVERED: 6.0,
    }
    assert [bed.name for bed in garlic.garden(10.0).beds] == [OPEN]


def test_land_is_planned_from_autumn_on_both_halves_of_the_earth() -> None:
    """From the last October in the north, the last April in the south, that day itself counting."""
    assert growing_year(date(2027, 2, 1), southern=False) == date(2026, 10, 1)
    assert growing_year(date(2027, 10, 1), southern=False) == date(2027, 10, 1)
    assert growing_year(date(2027, 2, 1), southern=True) == date(2026, 4, 1)


def test_what_cannot_be_sized_is_refused_in_words(folder: Path) -> None:
    """No table, a certainty nobody can promise, more under cover than there are houses for."""
    nothing = written(folder, "nothing", without(ONE_FOOD, "table", "bed"))
    with pytest.raises(FaultsFoundError, match="nothing is eaten yet"):
        land_of(nothing, DAY, LandWish())
    some = written(folder, "some", ONE_FOOD)
    with pytest.raises(FaultsFoundError, match="10 years in 10") as refused:
        land_of(some, DAY, LandWish(1.0, 5000.0))
    assert "under cover" in str(refused.value)
    with pytest.raises(FaultsFoundError, match="cover"):
        wish_from(8.0, "12 hands")


def test_a_garden_without_weather_is_told_what_is_missing(folder: Path) -> None:
    """Land cannot be sized where no weather is told; the fault says so, nothing is guessed."""
    text = ONE_FOOD.replace("[weather.normals]", "[weather]")
    lines = [line for line in text.splitlines() if not line.startswith(("tmin", "tmax", "rain"))]
    path = written(folder, "no-weather", "\n".join(lines))
    with pytest.raises(FaultsFoundError, match="weather"):
        land_of(path, DAY, LandWish())


def test_what_nobody_can_grow_here_is_told(folder: Path) -> None:
    """Where nothing on the table can be grown there is no land to tell, and that is said."""
    hot = ONE_FOOD.replace('grow = ["garlic/soft-necked"]', 'grow = ["potato/early"]')
    path = written(folder, "none", hot)
    with pytest.raises(FaultsFoundError, match="can be grown here"):
        land_of(path, DAY, LandWish())


def test_the_command_tells_land_and_money_in_the_gardens_units(folder: Path, haulm: Haulm) -> None:
    """In a garden of feet and pounds land is told in square feet; the food of the year has the
    grower's price, and cloves without a price are named and in no sum.
    """
    us = ONE_FOOD.replace("invented = true", 'invented = true\nunits = "us"')
    price = '\n[[price]]\nwhat = "garlic"\neach = 10\ncurrency = "USD"\n'
    shown = haulm("land", written(folder, "us", us + price), "--on", "2027-02-01")
    assert shown.code == 0
    assert "sq ft in the open" in shown.out
    assert "m²" not in shown.out
    assert re.search(r"– for planting stock; the food would cost [\d.]+ USD at the shop", shown.out)
    assert "for want of a price: soft-necked garlic" in shown.out


def test_money_is_that_of_the_year(small: Land) -> None:
    """What is unpriced of the year's food is all that the lines got, no second year with it."""
    eaten = sum(one.amount for one in small.enough.money.food_unpriced)
    assert eaten == pytest.approx(sum(one.got_kg for one in small.enough.lines), rel=1e-3)


def test_the_data_holds_every_step(small: Land) -> None:
    """What other programs read has each step's ground, shares, hours, money and lines."""
    told = as_data(small)
    assert isinstance(told["steps"], list)
    assert len(told["steps"]) == len(small.steps)
    keys = {"open_m2", "share_kg", "share_helpings", "share_energy", "gap", "work_h", "money"}
    assert keys <= set(told["steps"][0])
    assert json.loads(as_json(told))["open_m2"] == small.enough.open_m2


def test_what_is_said_holds_the_numbers(small: Land) -> None:
    """The sentence at the head names the ground and the odds; what follows says that paths are not
    in it, how much is there for rest, and how the promises held in seasons never seen.
    """
    assert headline(small).endswith("counting on yields that 8 years in 10 reach.")
    said = " ".join(remarks(small))
    for words in ("Paths are not in it", "families rest their years", "seasons that the plan"):
        assert words in said
