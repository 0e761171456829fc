"""Why this bed and this week: what the next best would cost, held to planning it so by hand."""

import pytest

from haulm.growing.records import Sowing
from haulm.planner.elsewhere import elsewhere
from haulm.planner.held import patches_of
from haulm.planner.make import make_plan
from planner.brute_force import Reckoning, tiny
from planner.tiny_gardens import USUAL, bed, food, garden, sowing, wants


@pytest.mark.parametrize("seed", range(12))
def test_moved_it_costs_what_another_model_finds(seed: int) -> None:
    """Moved by hand, in a model written apart, a patch costs what it was said to.

    Where others have to give way for it, it costs no less than was said.
    """
    question = tiny(seed)
    patches = patches_of(make_plan(question, USUAL))
    sowings = {s.id: s for s in question.sowings}
    beds = {b.id: b for b in question.beds}
    here = Reckoning(question, [(sowings[s], beds[b]) for s, b in patches]).cost()
    for patch in patches:
        other_beds, other_weeks = elsewhere(question, patches, patch)
        for other in (*other_beds, *other_weeks):
            stay = [(sowings[s], beds[b]) for s, b in patches if (s, b) != patch]
            new = (sowings[other.sowing], beds[other.bed])
            there = Reckoning(question, [*stay, new]).cost()
            assert other.cost_kg <= there - here + 2e-3
            if not any(of is new[1] and _meet(s, new[0]) for s, of in stay):
                assert other.cost_kg == pytest.approx(there - here, abs=2e-3)


def _meet(one: Sowing, other: Sowing) -> bool:
    return (
        one.ground_from_week < other.ground_until_week
        and other.ground_from_week < one.ground_until_week
    )


@pytest.mark.parametrize("seed", range(12))
def test_the_best_plan_has_no_better_place(seed: int) -> None:
    """Of a plan proven best, no patch would be better elsewhere with the smallest sizes kept."""
    question = tiny(seed)
    patches = patches_of(make_plan(question, USUAL))
    sowings = {s.id: s for s in question.sowings}
    beds = {b.id: b for b in question.beds}
    here = Reckoning(question, [(sowings[s], beds[b]) for s, b in patches]).cost()
    for patch in patches:
        for other in elsewhere(question, patches, patch)[0]:
            moved = [p for p in patches if p != patch] + [(other.sowing, other.bed)]
            assert (
                Reckoning(question, [(sowings[s], beds[b]) for s, b in moved]).cost() >= here - 1e-6
            )


def test_the_smaller_bed_costs_what_it_cannot_hold() -> None:
    """Beets that fill four square metres would lose three of them in a bed of one."""
    beets = sowing("beet", 2, 12, food("beet", range(9, 12), 3.0), family="leaves")
    asked = [wants("beet", range(9, 12), 9.0)]
    question = garden([beets], asked, [bed("east", 4.0), bed("nook", 1.0)])
    plan = make_plan(question, USUAL)
    patches = {key: m2 for key, m2 in patches_of(plan).items() if key[1] == "east"}
    (other,), weeks = elsewhere(question, patches, (beets.id, "east"))
    assert other.bed == "nook"
    assert other.area_m2 == pytest.approx(1.0)
    assert dict(other.fed) == {"beet": pytest.approx(-9.0)}
    assert weeks == ()


def test_another_week_is_tried_where_there_is_one() -> None:
    """Sown too late for a week that wants it, a crop is missed in that week."""
    early = sowing("beet", 2, 12, food("beet", range(9, 12), 3.0), family="leaves")
    late = sowing("beet", 4, 14, food("beet", range(11, 14), 3.0), family="leaves")
    question = garden([early, late], [wants("beet", range(9, 12), 1.0)])
    patches = patches_of(make_plan(question, USUAL))
    assert set(patches) == {(early.id, "east")}
    _, (other,) = elsewhere(question, patches, (early.id, "east"))
    assert other.sowing == late.id
    assert dict(other.fed)["beet"] == pytest.approx(-2.0)
    assert other.cost_kg > 2.0
