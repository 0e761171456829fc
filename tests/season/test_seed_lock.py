"""Seed is locked from the kitchen: neither eat-first, nor safe use, nor the strip names it."""

from datetime import date, timedelta

import pytest

from haulm.larder.keeping import keeping_curve, sound_by_week
from haulm.measure.findings import Grade
from haulm.season.eat_first import eat_first, safe_use
from haulm.season.larder import Larder
from haulm.season.ledger import keep_ledger, left_kg
from haulm.season.ledger_records import Keeps, Ledger
from haulm.season.records import Entry, EntryKind, Purpose
from haulm.season.seed_lock import Kitchen, SeedWanted, kitchen_of
from season.diary_by_hand import entry, kg, pieces

K = EntryKind
JULY, OCTOBER = date(2027, 7, 24), date(2027, 10, 15)
TODAY = date(2027, 9, 1)
WHERE = {"food": "garlic", "kind": "garlic/hard", "form": "cured", "store": "loft"}
GARLIC = Keeps(sound_by_week(keeping_curve(17, 26)), piece_kg=0.05)
LARDER = Larder(
    {("garlic", "garlic/hard", "cured", "loft"): GARLIC},
    {"garlic": "garlic", "garlic/hard": "hard-necked garlic"},
    pace_spread=0.2,
    stock_a_kg={"garlic/hard": 120.0},
)


def put_by(amount: float, **said: object) -> Entry:
    """Put garlic by."""
    return entry(K.PUT_BY, JULY, **{**WHERE, "amount": kg(amount), **said})


def wanted(back_kg: float = 0.0) -> SeedWanted:
    """Want 92 plants of garlic in October, of which the plan keeps so much back."""
    return SeedWanted("garlic", "garlic/hard", 0.92, 92, OCTOBER, back_kg)


def kitchen(ledger: Ledger, *seed: SeedWanted, units: str = "metric") -> Kitchen:
    """Give the kitchen its part of the books."""
    return kitchen_of(ledger, seed, TODAY, "us" if units == "us" else "metric", LARDER.names)


def test_what_was_put_by_to_plant_is_never_told_to_be_eaten() -> None:
    """Two kilograms put by to plant are in no list and no weekly amount of the kitchen's."""
    seed = put_by(2, purpose=Purpose.PLANT)
    found = kitchen(keep_ledger([seed, put_by(3)], (), LARDER))
    assert seed.id not in {one.lot.id for one in eat_first(found.ledger, TODAY)}
    use = safe_use(found.ledger.lots, TODAY, OCTOBER)
    assert use is not None
    assert use.sound_kg <= 3


def test_what_the_plan_keeps_back_is_out_of_the_kitchen() -> None:
    """Of three kilograms the plan plants 920 g: the kitchen has what is left beside it."""
    ledger = keep_ledger([put_by(3)], (), LARDER)
    found = kitchen(ledger, wanted(0.92))
    there = left_kg(ledger.lots[0], TODAY)
    kept = sum(found.kept_kg.values())
    assert kept >= 0.92
    assert left_kg(found.ledger.lots[0], TODAY) == pytest.approx(there - kept)


def test_what_is_kept_back_is_sound_enough_on_the_day_it_is_planted() -> None:
    """More than 920 g is kept back in September, so that 920 g are sound in October."""
    ledger = keep_ledger([put_by(3)], (), LARDER)
    found = kitchen(ledger, wanted(0.92))
    on_the_day = left_kg(ledger.lots[0], OCTOBER) - left_kg(found.ledger.lots[0], OCTOBER)
    assert on_the_day == pytest.approx(0.92)


def test_seed_put_by_apart_is_not_kept_back_twice() -> None:
    """Where a kilogram lies apart as seed, the rest is all the kitchen's."""
    ledger = keep_ledger([put_by(1.2, purpose=Purpose.PLANT), put_by(3)], (), LARDER)
    assert kitchen(ledger, wanted(0.92)).kept_kg == {}


def test_eaten_seed_is_told_in_plants_and_by_when_to_buy() -> None:
    """A quarter of the seed eaten is told as so many of 92 plants, with the day of planting."""
    seed = put_by(1, purpose=Purpose.PLANT)
    eaten = entry(K.EATEN, TODAY, lot=seed.id, amount=kg(0.24))
    ledger = keep_ledger([seed, eaten], (), LARDER)
    told = kitchen(ledger, wanted()).told[0]
    assert "you have eaten seed for 24 of 92 plants" in told.what
    assert told.remedy == "Buy or spare by 15 October 2027."
    assert told.grade is Grade.FAULT
    assert [move.kg for move in ledger.by_id[seed.id].moves] == [0.24]


def test_eaten_seed_is_told_in_the_gardens_units() -> None:
    """A US garden is told in ounces."""
    seed = put_by(1, purpose=Purpose.PLANT)
    eaten = entry(K.EATEN, TODAY, lot=seed.id, amount=kg(0.24))
    told = kitchen(keep_ledger([seed, eaten], (), LARDER), wanted(), units="us").told[0]
    assert "oz" in told.what


def test_seed_that_was_eaten_is_kept_back_anew_of_what_may_be_eaten() -> None:
    """After eating into the seed, the kitchen's own garlic is locked for the plan's plants."""
    seed = put_by(0.95, purpose=Purpose.PLANT)
    eaten = entry(K.EATEN, TODAY, lot=seed.id, amount=kg(0.4))
    found = kitchen(keep_ledger([seed, put_by(3), eaten], (), LARDER), wanted(0.92))
    assert sum(found.kept_kg.values()) >= 0.37


def test_seed_that_falls_short_is_told() -> None:
    """Half a kilogram cannot be 920 g of seed: the shortfall is told in plants."""
    found = kitchen(keep_ledger([put_by(0.5)], (), LARDER), wanted(0.92))
    assert "falls short" in found.told[0].what
    assert eat_first(found.ledger, TODAY) == ()


def test_a_harvest_still_to_come_is_not_missed_yet() -> None:
    """Before the garlic is put by, nobody is told that its seed is not there."""
    coming = SeedWanted("garlic", "garlic/hard", 0.92, 92, OCTOBER, 0.92, JULY)
    assert kitchen(keep_ledger([], (), LARDER), coming).told == ()


def test_what_is_planted_comes_out_of_the_seed() -> None:
    """Sixty cloves set, at 120 cloves a kilogram, are half a kilogram of the seed put by."""
    seed = put_by(1, purpose=Purpose.PLANT)
    planted = entry(K.SET, OCTOBER, kind="garlic/hard", bed="bell", amount=pieces(60))
    ledger = keep_ledger([seed, planted], (), LARDER)
    assert [(move.kind, move.kg) for move in ledger.lots[0].moves] == [(K.SET, 0.5)]


def test_planting_without_an_amount_is_asked_about_not_guessed() -> None:
    """Garlic set with no number leaves the seed as it is, and asks how much is left."""
    seed = put_by(1, purpose=Purpose.PLANT)
    planted = entry(K.SET, OCTOBER, kind="garlic/hard", bed="bell")
    ledger = keep_ledger([seed, planted], (), LARDER)
    assert ledger.lots[0].moves == ()
    assert "how much" in ledger.worth_knowing[0].what


def test_seed_of_a_planting_long_past_is_no_news() -> None:
    """Eaten after the rest was planted, what was left over of the seed is told once, not loudly."""
    seed = put_by(1, purpose=Purpose.PLANT)
    eaten = entry(K.EATEN, TODAY, lot=seed.id, amount=kg(0.1))
    planted = entry(K.SET, OCTOBER, kind="garlic/hard", bed="bell", amount=pieces(60))
    ledger = keep_ledger([seed, eaten, planted], (), LARDER)
    later = OCTOBER + timedelta(weeks=1)
    assert kitchen_of(ledger, (), later, "metric", LARDER.names).told == ()
