"""Settling by hand: which pins a choice writes, and which earlier ones it takes out."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from haulm.desk.garden.applying import apply
from haulm.desk.planning.pinning import (
    Against,
    Choice,
    beds_on_offer,
    same_as_seen,
    seen_mark,
    settle,
    settled,
    speaking_of,
    spots_taken,
    weeks_on_offer,
)
from haulm.desk.planning.plans import Made
from haulm.desk.planning.question import Asked
from haulm.measure.errors import ChangedElsewhereError
from haulm.plan.pins import Pin, PinRule
from haulm.plan.records import Planting
from haulm.planner.pins import matches
from haulm.planner.rules.closed_beds import open_to

Pins = Sequence[Mapping[str, Any]]


@pytest.fixture(scope="module")
def onion(made: Made) -> Planting:
    """Give the onions of the small garden's plan."""
    return next(one for one in made.plan.plantings if one.crop == "onion")


def after(planting: Planting, choice: Choice, value: str, pins: Pins, made: Made) -> Pins:
    """Give a garden's pins after a choice."""
    changes = settle(planting, choice, value, pins, made.plan.plantings)
    return apply({"pin": tuple(pins)}, changes).parts["pin"]


def week_later(planting: Planting) -> str:
    """Give the day a week after a planting is started."""
    return (planting.sow_on + timedelta(days=7)).isoformat()


CHOICES = tuple(Choice)


def value_of(planting: Planting, choice: Choice) -> str:
    """Give something that may be chosen."""
    values = {Choice.AREA: "2 m2", Choice.BED: "south", Choice.WEEK: week_later(planting)}
    return values.get(choice, "")


@settings(max_examples=60, deadline=None)
@given(steps=st.lists(st.sampled_from(CHOICES), min_size=1, max_size=6))
def test_whatever_was_chosen_before_only_the_last_choice_holds(
    made: Made, onion: Planting, steps: list[Choice]
) -> None:
    """However often one planting is settled anew, in the end there is what the last choice writes,
    and nothing at odds with it.
    """
    pins: Pins = ()
    for choice in steps:
        pins = after(onion, choice, value_of(onion, choice), pins, made)
    last = steps[-1]
    alone = after(onion, last, value_of(onion, last), (), made)
    assert list(pins)[-len(alone) :] == list(alone)
    keeps = [pin for pin in pins if pin["rule"] == "keep"]
    assert keeps == [pin for pin in alone if pin["rule"] == "keep"]
    if last in {Choice.KEEP, Choice.AREA}:
        assert list(pins) == list(alone)


def test_a_moved_planting_is_settled_by_both_halves_of_its_move(
    made: Made, onion: Planting
) -> None:
    """The pin that forbids the old week and the one that keeps the new belong together, as long as
    no planting of its own stands where the second speaks of.
    """
    pins = after(onion, Choice.WEEK, week_later(onion), (), made)
    assert len(pins) == 2
    assert settled(onion, pins, made.plan.plantings) == tuple(pins)
    moved = replace(onion, id="onion-9", sow_on=onion.sow_on + timedelta(days=7))
    assert settled(onion, pins, (*made.plan.plantings, moved)) == (pins[0],)
    assert settled(moved, pins, (*made.plan.plantings, moved)) == (pins[1],)


def test_a_pin_of_the_whole_kind_speaks_of_each_of_its_plantings(
    made: Made, onion: Planting
) -> None:
    """That no onions be planted is told at every planting of them, and at no garlic."""
    pins = after(onion, Choice.NOT_AT_ALL, "", (), made)
    garlic = next(one for one in made.plan.plantings if one.crop == "garlic")
    assert speaking_of(onion, pins, made.plan.plantings) == tuple(pins)
    assert speaking_of(garlic, pins, made.plan.plantings) == ()


def test_other_plantings_pins_are_left_alone(made: Made, onion: Planting) -> None:
    """Settling the onions takes nothing from what was settled about the garlic."""
    garlic = next(one for one in made.plan.plantings if one.crop == "garlic")
    pins = after(garlic, Choice.KEEP, "", (), made)
    for choice in CHOICES:
        assert pins[0] in after(onion, choice, value_of(onion, choice), pins, made)


def test_a_planting_moved_to_a_smaller_bed_is_kept_on_what_that_bed_holds(
    made: Made, onion: Planting
) -> None:
    """No pin asks for more ground than its bed has."""
    changes = settle(onion, Choice.BED, "south", (), made.plan.plantings, room_m2=0.3)
    kept = changes[-1].typed
    assert kept is not None
    assert onion.area_m2 > 0.3
    assert kept["area"] == "0.3 m2"


def test_every_week_on_offer_is_a_sowing_of_the_kind_that_its_bed_may_have(
    made: Made, asked: Asked, onion: Planting
) -> None:
    """A week is offered where the site allows a sowing of that kind and method then, never the
    week it has, nor one in which some of it is planned there already.
    """
    question, plantings = asked.question, made.plan.plantings
    taken = spots_taken(onion, (), plantings)
    weeks = weeks_on_offer(onion, question, taken)
    assert weeks
    assert onion.sow_on not in {sowing.sow_on for sowing in weeks}
    assert {(sowing.kind, sowing.method) for sowing in weeks} == {(onion.kind, onion.method)}
    other = replace(onion, id="onion-9", sow_on=weeks[0].sow_on)
    fewer = weeks_on_offer(onion, question, spots_taken(onion, (), (*plantings, other)))
    assert fewer == weeks[1:]


def test_a_closed_bed_is_not_offered_and_says_until_when(
    made: Made, asked: Asked, onion: Planting
) -> None:
    """White rot on South closes it to onions: the offer says so, with the year it opens again."""
    (south,) = beds_on_offer(onion, asked.question, spots_taken(onion, (), made.plan.plantings))
    assert south.against is Against.CLOSED
    assert south.until_year is not None
    sowing = next(one for one in asked.question.sowings if one.id == onion.sowing)
    assert not open_to(asked.question, sowing, south.bed)


@pytest.mark.parametrize(
    ("change", "against"),
    [
        ({"under_cover": True}, Against.COVER),
        ({"area_m2": 0.1}, Against.SMALL),
        ({}, None),
    ],
)
def test_a_bed_that_cannot_take_a_planting_says_why(
    made: Made, asked: Asked, onion: Planting, change: dict[str, Any], against: Against | None
) -> None:
    """Cover the planting does not have then, and ground too small for a patch worth having, are
    told; a bed without either is offered.
    """
    beds = tuple(
        replace(bed, **(change if bed.id == "south" else {})) for bed in asked.question.beds
    )
    question = replace(asked.question, beds=beds, closures=())
    (south,) = beds_on_offer(onion, question, spots_taken(onion, (), made.plan.plantings))
    assert south.against is against


def test_a_bed_too_dark_and_one_that_has_some_already_say_so(
    made: Made, asked: Asked, onion: Planting
) -> None:
    """A bed with less sun than it needs, or with some of it from that week, is not offered."""
    dark = replace(asked.question, closures=(), too_dark=frozenset({("south", onion.kind)}))
    (south,) = beds_on_offer(onion, dark, frozenset())
    assert south.against is Against.DARK
    other = replace(onion, id="onion-9", bed="south")
    taken = spots_taken(onion, (), (*made.plan.plantings, other))
    (south,) = beds_on_offer(onion, replace(asked.question, closures=()), taken)
    assert south.against is Against.THERE


def test_a_planting_whose_week_is_past_is_offered_no_bed(asked: Asked, onion: Planting) -> None:
    """What can no longer be started in its week is not offered another bed in it."""
    past = replace(onion, sow_on=onion.sow_on - timedelta(weeks=520))
    assert beds_on_offer(past, asked.question, frozenset()) == ()


def test_kept_and_forbidden_pins_speak_of_the_very_sowing(
    made: Made, asked: Asked, onion: Planting
) -> None:
    """What is written down about a planting is what the planner reads: its sowing in its bed."""
    from_pins = after(onion, Choice.KEEP, "", (), made)[0]
    sowing = next(one for one in asked.question.sowings if one.id == onion.sowing)
    pin = Pin(
        PinRule(from_pins["rule"]),
        from_pins["kind"],
        from_pins["bed"],
        from_pins["method"],
        from_pins["week"],
    )
    assert matches(pin, sowing, onion.bed)
    assert not matches(pin, sowing, "south")


def test_a_form_drawn_before_another_choice_is_not_followed(made: Made, onion: Planting) -> None:
    """The mark of what a form showed differs once the planting was settled or planned otherwise."""
    plantings = made.plan.plantings
    seen = seen_mark(onion, (), plantings)
    same_as_seen(seen, onion, (), plantings)
    pins = after(onion, Choice.KEEP, "", (), made)
    with pytest.raises(ChangedElsewhereError, match="another window"):
        same_as_seen(seen, onion, pins, plantings)
    with pytest.raises(ChangedElsewhereError):
        same_as_seen(seen, replace(onion, bed="south"), (), plantings)
