"""What one more would bring, told of a kept plan: in words, in helpings, and planned anew."""

from dataclasses import replace

import pytest

from desk.conftest import DAY, QUICK
from haulm.desk.planning.plans import Made
from haulm.desk.planning.question import Asked
from haulm.desk.worth.anew import planned_anew, with_one_more
from haulm.desk.worth.worth_words import (
    anew_sentence,
    brings,
    left_out_sentence,
    more_sentence,
    worth_telling,
)
from haulm.desk.worth.worths import Worths, question_of, with_left_out, worths_of
from haulm.measure.errors import FaultsFoundError
from haulm.plan.records import Certainty
from haulm.planner.records import Barred, LeftOut, OneMore, Scarce

POUND_KG = 0.45359237


@pytest.fixture(scope="module")
def worths(made: Made) -> Worths:
    """Give what is told beside the small garden's plan."""
    return with_left_out(worths_of(made), made)


def test_the_question_of_a_plan_is_the_one_it_answers(made: Made, asked: Asked) -> None:
    """What one more would bring is asked of the very garden and day the plan was made for."""
    assert replace(question_of(made), before=()) == asked.question


def test_everything_scarce_in_the_small_garden_is_told(worths: Worths, made: Made) -> None:
    """Of each kind of thing what is told has a bed, store or weeks of this garden."""
    beds = {bed.id for bed in made.plan.beds}
    weeks = made.plan.horizon.weeks
    for more in worths.more:
        assert 0 <= more.first_week <= more.last_week < weeks
        assert more.where in beds or more.what is not Scarce.GROUND
        assert 0 < more.worth_kg <= more.at_first_kg + 1e-9


def test_every_kind_that_could_serve_is_planted_or_told(worths: Worths, made: Made) -> None:
    """No kind on offer is passed over in silence."""
    on_offer = {s.kind for s in question_of(made).sowings}
    planted = {p.kind for p in made.plan.plantings}
    told = {left.kind for left in worths.left_out}
    assert planted | told >= on_offer
    assert planted & told == set()


def fed(*lines: tuple[str, float]) -> OneMore:
    """Give a square metre of the north bed that feeds some lines."""
    return OneMore(Scarce.GROUND, "north", 13, 30, 1.0, 3.0, 2.5, lines)


def test_a_square_metre_in_words(worths: Worths) -> None:
    """A bed, its weeks, how much, helpings and the lines that get most are said in one sentence."""
    portion = worths.portions_kg["leek"]
    more = fed(("leek", 4 * portion), ("onion", portion / 2), ("garlic", -0.1))
    sentence = more_sentence(more, worths)
    assert sentence.startswith("one more square metre in North from May to August 2027 would feed ")
    assert "mostly leek" in sentence
    assert sentence.endswith("; 0.1 kg of garlic less")


def test_helpings_are_kilograms_over_a_portion(worths: Worths) -> None:
    """Eight usual portions of leek are eight helpings; less than one is not told."""
    portion = worths.portions_kg["leek"]
    assert "(8 helpings)" in brings((("leek", 8 * portion),), worths)
    assert "helping" not in brings((("leek", 0.4 * portion),), worths)


def test_what_feeds_nobody_says_so(worths: Worths) -> None:
    """Where one more only spares work, or moves food from one line to another, that is said."""
    assert brings((), worths).startswith("would feed no more; it would spare")
    moved = brings((("leek", 0.2), ("onion", -0.2)), worths)
    assert moved == "would feed no more in all, but 0.2 kg of leek more; 0.2 kg of onion less"


def test_other_things_have_their_own_piece(worths: Worths) -> None:
    """An hour, a shelf and a tray are called by their names, a shelf with its litres."""
    last = worths.question.horizon.weeks - 1
    pieces = {
        Scarce.HOURS: ("", 8, 12, 1.0, "one more hour in each week from March to April 2027"),
        Scarce.ROOM: ("shed", 0, last, 40.0, "one more shelf (40 l) in Shed"),
        Scarce.TRAYS: ("", 0, last, 40.0, "one more tray of 40 cells"),
    }
    for what, (where, first, end, piece, words) in pieces.items():
        more = OneMore(what, where, first, end, piece, 1.0, 1.0, (("leek", 1.0),))
        assert more_sentence(more, worths).startswith(f"{words} would feed 1.0 kg more")


def test_in_feet_the_piece_is_ten_square_feet(worths: Worths) -> None:
    """A garden told in feet and pounds is answered in them."""
    us = replace(worths, question=replace(worths.question, units="us"))
    sentence = more_sentence(fed(("leek", 0.45359237)), us)
    assert sentence.startswith("ten more square feet in North")
    assert "1 lb" in sentence
    assert "kg" not in sentence


def left(**changed: object) -> LeftOut:
    """Give a kind left out, for a sentence."""
    plain = LeftOut(
        "leek", "leek/winter", "x", "south", 1.0, (("leek", 1.2), ("onion", -3.0)), 2.0, 2.5, 5
    )
    return replace(plain, **changed)  # type: ignore[arg-type]


def test_left_out_in_words(worths: Worths) -> None:
    """What it would feed, whose ground it takes, and what would bring it in."""
    known = replace(worths, begun={"x": ("modules", DAY)})
    assert left_out_sentence(left(), known).endswith(
        ": left out; 1.00 m² in South, from modules in February 2027, would feed 1.2 kg of leek and"
        " take ground and work that feed 3.0 kg of onion; it would come in if you wanted leek at"
        " priority 5 or if it gave 2.5 times as much"
    )
    far = left_out_sentence(left(times=None, priority=None), known)
    assert far.endswith("it would not come in at priority 5, nor if it gave 5 times as much")
    near = left_out_sentence(left(cost_kg=-0.1), known)
    assert "planning again, and harder, may find it one" in near


@pytest.mark.parametrize("barred", list(Barred))
def test_what_was_not_tried_says_why(worths: Worths, barred: Barred) -> None:
    """A kind that has no place at all is told with what stands against it."""
    sentence = left_out_sentence(left(barred=barred, sowing="", bed=""), worths)
    assert ": left out; " in sentence
    assert "would come in" not in sentence


def test_what_is_next_to_nothing_is_parted_from_the_rest(worths: Worths) -> None:
    """Crumbs are named, and not told at length; nothing is told twice or lost."""
    for what in Scarce:
        telling, little = worth_telling(worths, what)
        assert [*telling, *little] == [more for more in worths.more if more.what is what]


def test_a_garden_that_lost_its_bed_is_told_to_plan_again(made: Made) -> None:
    """Where a plan no longer fits its garden, nothing is reckoned, and the way out is said."""
    planting = next(p for p in made.plan.plantings if not p.standing)
    other = replace(planting, sowing="leek/none:direct:2027-W10")
    broken = replace(made, plan=replace(made.plan, plantings=(other,)))
    with pytest.raises(FaultsFoundError, match="Plan again"):
        worths_of(broken)


def test_a_sure_plan_counts_what_it_counted_on(made: Made) -> None:
    """Of a plan made for a certainty, one more brings the share of the mean that is counted on."""
    foods = {(f.food, y) for s in question_of(made).sowings for f in s.foods for y in (0, 1)}
    half = Certainty((), tuple((food, year, 0.5) for food, year in sorted(foods)))
    sure = replace(made, plan=replace(made.plan, certainty=half))
    pairs = zip(question_of(made).sowings, question_of(sure).sowings, strict=True)
    for mean, counted in pairs:
        for one, other in zip(mean.foods, counted.foods, strict=True):
            assert other.yield_kg_m2 == pytest.approx(0.5 * one.yield_kg_m2)


def test_planned_anew_with_a_tunnel(made: Made, worths: Worths) -> None:
    """A tunnel is tried beside the beds, and one more of each scarce thing brings what was told."""
    found = planned_anew(made, worths, QUICK)
    (tunnel,) = [each for each in found if each.more is None]
    assert tunnel.area_m2 == pytest.approx(10.0)
    assert anew_sentence(tunnel, worths).startswith("a tunnel of 10.0 m² beside the beds would")
    for each in found:
        assert each.doubt_kg >= 0
        if each.more is not None:
            assert each.worth_kg >= each.more.worth_kg


def test_asked_with_one_more_only_that_is_other(made: Made) -> None:
    """The question with one more differs from the plan's own in that alone."""
    question = question_of(made)
    last = question.horizon.weeks - 1
    ground = with_one_more(question, OneMore(Scarce.GROUND, "north", 0, last, 1.0, 1, 1, ()))
    assert [b.area_m2 - a.area_m2 for a, b in zip(question.beds, ground.beds, strict=True)] == [
        1,
        0,
    ]
    hours = with_one_more(question, OneMore(Scarce.HOURS, "", 3, 5, 1.0, 1, 1, ()))
    assert sum(hours.hours_week) - sum(question.hours_week) == pytest.approx(3.0)
    room = with_one_more(question, OneMore(Scarce.ROOM, "shed", 0, last, 40.0, 1, 1, ()))
    assert [s.capacity_l for s in room.stores] == [200.0, 240.0]
    trays = with_one_more(question, OneMore(Scarce.TRAYS, "", 0, last, 40.0, 1, 1, ()))
    assert trays.tray_cells == 240
