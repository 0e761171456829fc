"""Each rule of the plan, in a garden where it is the one that bites."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from haulm.catalogue.records import Form, Picking, Role, StoreKind
from haulm.ground.records import Closure
from haulm.larder.records import LotInHand, StorePlace
from haulm.plan.records import Plan
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion, Prices, SeedBack, Standing
from haulm.planner.rules.registry import RULES
from planner.tiny_gardens import (
    FIRST_DAY,
    HORIZON,
    USUAL,
    bed,
    covered,
    food,
    garden,
    keeps,
    sowing,
    wants,
)

ROOT = Path(__file__).parents[2]
CHARD = sowing("chard", 2, 16, food("chard", range(8, 16)), family="leaves")
BEET = sowing("beet", 2, 14, food("beet", [13], 4.0, Picking.ONCE))


def plan(question: PlanQuestion) -> Plan:
    """Make the plan of a tiny garden, audited."""
    return make_plan(question, USUAL)


def broken(made: Plan, rule: str) -> float:
    """Add up what a plan says it broke of a rule."""
    return sum(each.amount for each in made.broken if each.rule == rule)


def eaten(made: Plan, line: str) -> float:
    """Add up what a line of the table gets."""
    return sum(row.fresh_kg + row.stored_kg for row in made.table if row.line == line)


def test_appetite() -> None:
    """What is eaten and what is short come to what was wanted, and no more is grown for."""
    made = plan(garden([CHARD], [wants("chard", range(8, 20))]))
    assert sum(row.wanted_kg for row in made.table) == pytest.approx(12.0)
    for row in made.table:
        assert row.fresh_kg + row.stored_kg + row.short_kg == pytest.approx(row.wanted_kg)
    assert eaten(made, "chard") == pytest.approx(8.0)


def test_harvest_of_food_that_comes_week_by_week() -> None:
    """Chard picked over eight weeks gives an eighth of its yield in each, and no more."""
    made = plan(garden([CHARD], [wants("chard", range(8, 16), kg=5.0)]))
    for row in made.table:
        assert row.fresh_kg <= 4.0 * 2.0 / 8 + 1e-6


def test_harvest_of_food_that_stands() -> None:
    """Food that waits in the ground may all be taken in the one week it is wanted."""
    leek = sowing("leek", 2, 20, food("leek", range(12, 20), 3.0, Picking.STAND))
    made = plan(garden([leek], [wants("leek", [19], kg=9.0)]))
    assert eaten(made, "leek") == pytest.approx(9.0, rel=1e-4)


def test_ground_taken_early_gives_no_main_food() -> None:
    """A square metre lifted as green garlic gives no cured bulbs, but its stems cost nothing."""
    garlic = sowing(
        "garlic",
        0,
        20,
        food("green", [8], 3.0, Picking.ONCE, Role.INSTEAD),
        food("stems", [14], 0.2, Picking.ONCE, Role.BY_PRODUCT),
        food("bulbs", [19], 2.0, Picking.ONCE),
        family="onions",
    )
    asked = [wants("green", [8], 30.0), wants("stems", [14], 30.0), wants("bulbs", [19], 30.0)]
    made = plan(garden([garlic], asked))
    (planting,) = made.plantings
    green, stems, bulbs = (eaten(made, line) for line in ("green", "stems", "bulbs"))
    assert green > 0
    assert green / 3.0 + bulbs / 2.0 <= planting.area_m2 + 1e-6
    assert stems <= 0.2 * (planting.area_m2 - green / 3.0) + 1e-6


def test_keeping() -> None:
    """Of what is put by for eight weeks on at half sound, twice what is eaten must go in."""
    question = garden(
        [BEET], [wants("beet", [21], kg=4.0)], [bed()], [keeps("beet", [1.0] * 8 + [0.5])]
    )
    (lot,) = plan(question).lots
    assert lot.kg_in == pytest.approx(8.0, rel=1e-4)
    assert lot.lost_kg == pytest.approx(4.0, rel=1e-4)


def test_keeping_waits_for_the_cure() -> None:
    """Nothing is eaten from a lot before it is cured."""
    rule = keeps("beet", [1.0] * 12, wait_weeks=4)
    made = plan(garden([BEET], [wants("beet", range(14, 25))], [bed()], [rule]))
    weeks = [week for lot in made.lots for week, _ in lot.eaten]
    assert min(weeks) == 17


def test_food_in_hand_is_eaten_while_sound() -> None:
    """A lot in store feeds the table by its age, and nothing when past keeping."""
    hand = LotInHand("beet", "beet/kind", Form.CELLARED, "cellar", 3.0, HORIZON.monday(-4))
    question = garden([], [wants("beet", range(10))], [bed()], [keeps("beet", [1.0] * 7)])
    made = plan(replace(question, lots=(hand,)))
    assert eaten(made, "beet") == pytest.approx(3.0)
    assert max(week for lot in made.lots for week, _ in lot.eaten) == 2


def test_food_in_hand_of_unknown_keeping_is_told() -> None:
    """A lot of which nobody knows how it keeps is left out, and a finding says so."""
    hand = LotInHand("beet", None, Form.FROZEN, "cellar", 3.0, FIRST_DAY)
    made = plan(replace(garden([], [wants("beet", range(4))]), lots=(hand,)))
    assert eaten(made, "beet") == 0
    assert "lot 1 in hand" in made.findings[0].where


def test_ground() -> None:
    """Two crops that want the whole bed at once must share it."""
    asked = [wants("chard", range(8, 16), 3.0), wants("beet", [13], 20.0)]
    made = plan(garden([CHARD, BEET], asked))
    assert sum(planting.area_m2 for planting in made.plantings) <= 4.0 + 1e-6
    assert any(bound.rule == "ground" for p in made.plantings for bound in p.bounds)
    assert any("no ground free in" in shortage.sentence for shortage in made.shortages)


def test_what_follows_on_takes_the_bed_the_week_it_is_free() -> None:
    """A crop set in the very week the bed is cleared has the whole of it."""
    kale = sowing("kale", 14, 25, food("kale", [24], 4.0, Picking.ONCE), family="leaves")
    made = plan(garden([BEET, kale], [wants("beet", [13], 16.0), wants("kale", [24], 16.0)]))
    assert [p.area_m2 for p in made.plantings] == pytest.approx([4.0, 4.0])


def test_patch_size() -> None:
    """A crop of which one would want a hand's breadth gets the smallest patch worth having."""
    made = plan(garden([BEET], [wants("beet", [13], 1.0)]))
    (planting,) = made.plantings
    assert planting.area_m2 == pytest.approx(0.5)
    assert any(bound.rule == "patch size" for bound in planting.bounds)


def test_rotation_after_the_past() -> None:
    """A family that stood in a bed last year is set in the other bed."""
    past = replace(bed("west"), last_year_of_family=(("roots", 2026),))
    (planting,) = plan(garden([BEET], [wants("beet", [13], 8.0)], [past, bed("east")])).plantings
    assert planting.bed == "east"


def test_rotation_is_broken_at_a_price_and_told() -> None:
    """With one bed that the family stood in last year, the break is named with its years."""
    past = replace(bed(), last_year_of_family=(("roots", 2026),))
    made = plan(garden([BEET], [wants("beet", [13], 16.0)], [past]))
    area = sum(planting.area_m2 for planting in made.plantings)
    assert area > 0
    assert broken(made, "rotation") == pytest.approx(2 * area)


def test_rotation_within_the_plan() -> None:
    """A second crop of a family does not follow the first on its bed while another is free."""
    turnip = sowing("turnip", 14, 25, food("turnip", [24], 4.0, Picking.ONCE))
    asked = [wants("beet", [13], 8.0), wants("turnip", [24], 8.0)]
    made = plan(garden([BEET, turnip], asked, [bed("east"), bed("west")]))
    assert {p.bed for p in made.plantings} == {"east", "west"}
    assert broken(made, "rotation") == 0


def test_closed_beds() -> None:
    """Where disease closes the only bed to a family, it is not planted, and the reason is told."""
    closure = Closure("east", "roots", "club root", 2026, 2040, 2033, 2040)
    made = plan(replace(garden([BEET], [wants("beet", [13])]), closures=(closure,)))
    assert made.plantings == ()
    assert "no bed may hold" in made.shortages[0].sentence


def test_a_bed_closed_to_one_crop_is_open_to_its_family() -> None:
    """Where disease closes a bed to turnips alone, beet of the same family is planted there and
    turnips are not.
    """
    turnip = replace(BEET, id=BEET.id.replace("beet", "turnip"), kind="turnip/only", crop="turnip")
    closure = Closure("east", "roots", "scab", 2026, 2040, 2033, 2040, crop="turnip")
    asked = [wants("beet", [13])]
    made = plan(replace(garden([BEET], asked), closures=(closure,)))
    assert {planting.crop for planting in made.plantings} == {BEET.crop}
    made = plan(replace(garden([turnip], asked), closures=(closure,)))
    assert made.plantings == ()


def test_a_patch_holds_a_row_of_plants_across_its_bed() -> None:
    """In a wide bed a patch of large plants is a row thick at least, whatever the least patch."""
    wide = replace(bed(), row_m=1.2)
    asked = garden([BEET], [wants("beet", [13], 0.4)], [wide])
    (planting,) = plan(replace(asked, least_patch_m2=0.1, prices=Prices(sowing=0.0))).plantings
    assert planting.area_m2 == pytest.approx(1.2 / BEET.plants_m2**0.5)


def test_sun() -> None:
    """What needs more sun than the only bed gets is not planted, and the reason is told."""
    dark = frozenset({("east", BEET.kind)})
    made = plan(replace(garden([BEET], [wants("beet", [13])]), too_dark=dark))
    assert made.plantings == ()
    assert "no bed may hold" in made.shortages[0].sentence


def test_cover() -> None:
    """What is sown for cover goes under cover, and nothing else does."""
    both = [CHARD, covered(CHARD)]
    beds = [bed("tunnel", under_cover=True), bed("east")]
    made = plan(garden(both, [wants("chard", range(8, 16), 9.0)], beds))
    assert {(p.bed, p.under_cover) for p in made.plantings} == {("tunnel", True), ("east", False)}


def test_spread() -> None:
    """A crop in many patches is not staked on one bed where another could hold some of it."""
    later = [
        sowing("beet", w, w + 12, food("beet", [w + 11], 4.0, Picking.ONCE)) for w in (2, 3, 4)
    ]
    asked = [wants("beet", [13, 14, 15], 8.0)]
    beds = [bed("east", 8.0), bed("west", 8.0)]
    staked = replace(garden(later, asked, beds), prices=Prices(spread_m2=5.0))
    made = plan(staked)
    share = sum(p.area_m2 for p in made.plantings if p.bed == "east") / sum(
        p.area_m2 for p in made.plantings
    )
    assert 0.2 - 1e-6 <= share <= 0.8 + 1e-6


def test_seed_back() -> None:
    """Stock that is dear to buy is kept back from the lot in hand, losses counted."""
    shallot = replace(
        sowing("shallot", 4, 20, food("shallot", [19], 4.0, Picking.ONCE)), stock_m2=20.0
    )
    hand = LotInHand("shallot", "shallot/kind", Form.CELLARED, "cellar", 5.0, FIRST_DAY)
    question = garden(
        [shallot], [wants("shallot", [19], 8.0)], [bed()], [keeps("shallot", [1.0] * 4 + [0.8])]
    )
    back = SeedBack(
        "shallot/kind", "shallot", units_per_kg=40.0, in_hand_units=10.0, buy_price_unit=0.5
    )
    made = plan(replace(question, lots=(hand,), seed_back=(back,)))
    (planting,) = made.plantings
    kept = sum(lot.seed_kg for lot in made.lots)
    assert kept * 40.0 == pytest.approx(planting.stock - 10.0, rel=1e-4)
    (seed,) = [lot for lot in made.lots if lot.seed_kg > 0]
    assert seed.kg_in == pytest.approx(kept / 0.8)


def test_nursery() -> None:
    """With room for twenty cells, what is raised in trays stays within them."""
    raised = replace(CHARD, tray_weeks=(0, 2), cells_m2=20.0)
    question = garden([raised], [wants("chard", range(8, 16), 5.0)])
    tight = replace(question, tray_cells=20, prices=Prices(over_tray_cell=10.0))
    (planting,) = plan(tight).plantings
    assert planting.area_m2 == pytest.approx(1.0, rel=1e-4)
    assert any(bound.rule == "nursery" for bound in planting.bounds)


def test_trays_beyond_their_room_are_told() -> None:
    """Where a cell too many costs little, the plan takes it and says so."""
    raised = replace(CHARD, tray_weeks=(0, 2), cells_m2=20.0)
    question = garden([raised], [wants("chard", range(8, 16), 5.0)])
    made = plan(replace(question, tray_cells=20, prices=Prices(over_tray_cell=0.001)))
    assert broken(made, "nursery") > 0


def test_hours() -> None:
    """With half an hour a week and overtime dear, no more is sown than can be worked."""
    question = garden([CHARD], [wants("chard", range(8, 16), 5.0)])
    tight = replace(question, hours_week=(0.5,) * HORIZON.weeks, prices=Prices(overtime_hour=100.0))
    made = plan(tight)
    assert sum(p.area_m2 for p in made.plantings) == pytest.approx(3.0, rel=1e-4)
    assert broken(made, "hours") == 0
    assert plan(replace(tight, prices=Prices(overtime_hour=0.1))).hours[2].asked_h > 0.5


def test_store_space() -> None:
    """A cellar of six litres takes three kilograms at two litres each."""
    question = garden(
        [BEET], [wants("beet", range(15, 20), 2.0)], [bed()], [keeps("beet", [1.0] * 10)]
    )
    small = StorePlace("cellar", "cellar", StoreKind.CELLAR, 6.0)
    made = plan(replace(question, stores=(small,), prices=Prices(over_store_l=50.0)))
    assert sum(lot.kg_in for lot in made.lots) == pytest.approx(3.0, rel=1e-4)
    assert any("cellar is full" in shortage.sentence for shortage in made.shortages)


def test_what_stands_keeps_its_ground_and_feeds() -> None:
    """A planting that stands already is in the plan, holds its bed, and is eaten from."""
    question = garden([BEET], [wants("chard", range(8, 16), 0.5), wants("beet", [13], 16.0)])
    made = plan(replace(question, standing=(Standing(CHARD, "east", 3.0),)))
    standing = [p for p in made.plantings if p.standing]
    assert [p.area_m2 for p in standing] == [3.0]
    assert eaten(made, "chard") == pytest.approx(4.0)
    assert sum(p.area_m2 for p in made.plantings) <= 4.0 + 1e-6


def test_every_rule_is_documented() -> None:
    """The page of the plan's rules lists each by its name with its sentence, and no other."""
    page = (ROOT / "docs" / "plan-model.md").read_text(encoding="utf-8")
    told = re.findall(r"^### (.+)\n\n> (.+)$", page, flags=re.MULTILINE)
    assert told == [(rule.name, rule.sentence) for rule in RULES]
