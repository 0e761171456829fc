"""The last day to decide: what waiting costs is the difference of two audited plans."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from haulm.desk.planning.plans import Made
from haulm.desk.worth.deciding import (
    NOTICED_KG,
    Deciding,
    Pending,
    decide,
    deciding_for,
    pending_choices,
)
from haulm.desk.worth.deciding_anew import left_out_anew
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.garden import PlantingStock
from haulm.plan.records import Certainty
from haulm.planner.audit import audit
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion
from planner.brute_force import cheapest
from planner.tiny_gardens import FIRST_DAY, USUAL, bed, food, garden, sowing, wants

DAY = date(2027, 2, 1)


def beets(yields: tuple[float, ...]) -> PlanQuestion:
    """Want beet for ten weeks; it may be sown in weeks 0, 3, 6... each with a yield of its own."""
    sowings = [
        sowing("beet", week, week + 10, food("beet", range(week + 7, week + 10), kg))
        for week, kg in zip(range(0, 30, 3), yields, strict=False)
    ]
    window = replace(sowings[0].window, last_day=sowings[-1].sow_on)
    sowings = [replace(one, window=window) for one in sowings]
    return garden(sowings, [wants("beet", range(7, 20), 0.5)], [bed("east", 2.0)])


def asked(question: PlanQuestion, day: date = FIRST_DAY) -> tuple[Deciding, Pending]:
    """Plan a tiny garden and ask about its only choice."""
    deciding = Deciding(question, make_plan(question, USUAL), day, {}, {"beet": 0.1})
    (pending,) = pending_choices(deciding)
    return deciding, pending


@pytest.mark.parametrize("yields", [(2.0, 2.0, 2.0), (1.0, 3.0, 2.0), (2.0, 1.0)])
def test_waiting_costs_the_difference_of_two_plans(yields: tuple[float, ...]) -> None:
    """For each day waited for: the best plan of what is left, found by trying everything, and
    audited, lacks as much more than the best plan of all.
    """
    question = beets(yields)
    deciding, pending = asked(question)
    decision = decide(deciding, pending)
    whole = make_plan(question, USUAL)
    for delay in decision.delays:
        left = replace(
            question, sowings=tuple(s for s in question.sowings if s.sow_on >= delay.until)
        )
        plan = make_plan(left, USUAL)
        assert audit(plan, left) == ()
        assert plan.solver.objective == pytest.approx(cheapest(left), abs=1e-4)
        more = sum(w.short_kg for w in plan.table) - sum(w.short_kg for w in whole.table)
        assert delay.kg == pytest.approx(more, abs=NOTICED_KG)
        assert delay.portions == pytest.approx(delay.kg / 0.1, rel=1e-6)


def test_waiting_never_costs_less() -> None:
    """The longer one waits, the less is on offer, and the more is lost."""
    decision = decide(*asked(beets((2.0, 2.0, 1.5, 1.0))))
    costs = [delay.kg for delay in decision.delays]
    assert costs == sorted(costs)
    assert decision.never.kg == costs[-1]


def test_the_last_day_is_that_of_the_last_sowing_that_feeds() -> None:
    """What is sown in week 12 is ready in week 19, the last that wants any; what is sown in week 15
    comes too late. So week 12 is the last to decide in.
    """
    decision = decide(*asked(beets((2.0,) * 6)))
    assert decision.decide_by == FIRST_DAY + timedelta(weeks=12)
    assert decision.free_until is not None
    assert decision.free_until < decision.decide_by
    assert decision.week_kg > 0
    assert not decision.can_wait(decision.decide_by)


def test_where_nothing_is_lost_it_says_so() -> None:
    """Where the table wants next to nothing, leaving the sowing out costs nothing that is told."""
    question = beets((2.0,))
    little = replace(question, appetites=(wants("beet", range(7, 10), 0.02),))
    plan = make_plan(question, USUAL)
    deciding = Deciding(little, make_plan(little, USUAL), FIRST_DAY, {}, {"beet": 0.1})
    pending = Pending("beet/kind", "beet", (0, 1), None, 0.0, (FIRST_DAY,), 0.0, "seed")
    decision = decide(deciding, pending)
    assert plan.plantings
    assert decision.decide_by is None
    assert decision.week_kg == 0
    assert decision.can_wait(date(2030, 1, 1))


def test_what_is_not_in_hand_has_to_be_bought() -> None:
    """Of planned stock, what is in hand is taken off."""
    question = beets((2.0, 2.0))
    deciding, pending = asked(question)
    assert pending.buy > 10
    some = replace(deciding, stock_in_hand={"beet/kind": 10.0})
    assert pending_choices(some)[0].buy == pytest.approx(pending.buy - 10)


def test_the_small_garden_knows_its_choices(made: Made) -> None:
    """Each kind that is planned and not yet sown is a choice; garlic is one of them, and each has
    its days in order, none before today.
    """
    deciding = deciding_for(made, DAY)
    choices = pending_choices(deciding)
    assert "garlic" in {choice.kind.split("/")[0] for choice in choices}
    planned = [choice.planned_on for choice in choices if choice.planned_on]
    assert planned == sorted(planned)
    for choice in choices:
        assert list(choice.sow_days) == sorted(choice.sow_days)
        assert choice.sow_days[0] >= DAY


def test_seed_past_sowing_is_not_counted_as_in_hand(made: Made) -> None:
    """Leek seed of ten years ago leaves as much to be bought as none at all, of this year less, and
    of two years ago something between.
    """
    kind = next(p.kind for p in made.plan.plantings if p.crop == "leek")

    def to_have(year: int) -> float:
        garden = replace(made.garden, stock=(PlantingStock(kind, 50.0, year),))
        held = replace(made, garden=garden, now=None)
        choices = pending_choices(deciding_for(held, DAY))
        return sum(choice.buy for choice in choices if choice.kind == kind)

    new, worn, dead = (to_have(DAY.year - age) for age in (0, 2, 10))
    assert 0 < new < worn < dead
    assert dead - new == pytest.approx(50.0)


def test_a_plan_made_to_be_sure_is_asked_with_what_it_counted_on(made: Made) -> None:
    """Where a plan counted on 0.7 of its garlic, so do the plans that waiting is reckoned from."""
    sure = Certainty((("garlic", 0.8),), (("garlic", 0, 0.7), ("garlic", 1, 0.7)))
    careful = deciding_for(replace(made, plan=replace(made.plan, certainty=sure)), DAY)
    plain = deciding_for(made, DAY)
    for one, other in zip(careful.question.sowings, plain.question.sowings, strict=True):
        for counted, mean in zip(one.foods, other.foods, strict=True):
            share = 0.7 if counted.food == "garlic" else 1.0
            assert counted.yield_kg_m2 == pytest.approx(share * mean.yield_kg_m2)


def test_a_day_beyond_the_plan_is_refused(made: Made) -> None:
    """A plan of two years says nothing of a day ten years on."""
    with pytest.raises(FaultsFoundError, match="does not reach"):
        deciding_for(made, date(2037, 1, 1))


def test_planned_anew_no_more_is_lost_than_with_all_else_held() -> None:
    """Two crops share a bed, and one is left out: as planned its ground lies idle; planned anew the
    other may take it. What is lost is the difference of two audited plans, or less.
    """
    beet = sowing("beet", 0, 10, food("beet", range(7, 10), 3.0))
    chard = sowing("chard", 0, 10, food("chard", range(7, 10), 2.0))
    asked_for = [wants("beet", range(7, 10), 1.0), wants("chard", range(7, 10), 2.0)]
    question = garden([beet, chard], asked_for, [bed("east", 2.5)])
    deciding = Deciding(
        question, make_plan(question, USUAL), FIRST_DAY, {}, {"beet": 0.1, "chard": 0.1}
    )
    (choice,) = [one for one in pending_choices(deciding) if one.kind == "beet/kind"]
    decision = decide(deciding, choice)
    anew = left_out_anew(deciding, decision)
    left = make_plan(replace(question, sowings=(chard,)), USUAL)
    more = sum(w.short_kg for w in left.table) - sum(w.short_kg for w in deciding.plan.table)
    assert anew.kg == pytest.approx(max(0.0, more), abs=NOTICED_KG)
    assert anew.kg < decision.never.kg - NOTICED_KG
