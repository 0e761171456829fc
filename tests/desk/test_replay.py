"""The small garden through real years and through drought, from the desk down."""

import json
from pathlib import Path

import numpy as np
import pytest

from haulm.desk.odds.drought import watering_worth
from haulm.desk.odds.replay import Cause, Measure, Replayed, replay_kept, replay_made
from haulm.desk.odds.splitting import splits_of
from haulm.desk.odds.thirst import WateredHow
from haulm.desk.planning.plans import Made
from haulm.measure.errors import FaultsFoundError
from real_years import real_garden
from shell import Haulm


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the small garden's notebook at a place with ten real years, planned."""
    return real_garden(tmp_path_factory.mktemp("real"))


@pytest.fixture(scope="module")
def dry(book: Path) -> Replayed:
    """Give the years of a garden that nobody waters."""
    return replay_kept(book, WateredHow.NONE)


def test_each_year_of_the_record_is_lived_once(dry: Replayed) -> None:
    """A plan of two seasons begun in 1979 to 1986 fits the record of 1979 to 1988; the years that
    it outlasts are named.
    """
    assert dry.told.years == tuple(range(1979, 1987))
    assert dry.unfinished == (1987, 1988)
    assert dry.missing == ()
    missed = np.array(dry.told.missed_kg)
    assert missed[dry.told.worst] == missed.max()
    for line in dry.told.lines:
        assert len(line.eaten_kg) == len(dry.told.years)
        assert all(kg >= 0 for kg in line.missed_kg)


def test_what_is_said_to_have_saved_the_year_was_lived(book: Path, dry: Replayed) -> None:
    """What drought cost the worst year is what the same year has more where it is watered."""
    watered = replay_kept(book, WateredHow.USUAL)
    at = dry.told.worst
    drought = next(one for one in dry.causes if one.cause is Cause.DROUGHT)
    assert drought.saved_kg == pytest.approx(dry.told.missed_kg[at] - watered.told.missed_kg[at])
    water = next(one for one in dry.measures if one.measure is Measure.WATER)
    assert water.saved_kg == pytest.approx(drought.saved_kg)
    assert all(one.cause is not Cause.DROUGHT for one in watered.causes)


def test_the_worst_year_is_short_of_what_it_misses(dry: Replayed) -> None:
    """What one more square metre is given to is the line that the worst year lacked most."""
    at = dry.told.worst
    ground = next(one for one in dry.measures if one.measure is Measure.GROUND)
    most = max(dry.told.lines, key=lambda line: line.missed_kg[at])
    assert ground.line == most.line
    assert [one.saved_kg for one in dry.causes] == sorted(
        (one.saved_kg for one in dry.causes), reverse=True
    )


def test_a_tank_lies_between_watering_and_none(book: Path, dry: Replayed) -> None:
    """From its barrel alone a garden goes short of no less than when watered whenever it is due,
    and of no more than dry, over all years; it is the default where there is a tank.
    """
    tanks = replay_kept(book)
    assert tanks.how is WateredHow.TANKS
    usual = replay_kept(book, WateredHow.USUAL)
    sums = [sum(one.told.missed_kg) for one in (usual, tanks, dry)]
    assert sums == sorted(sums)


def test_watering_is_weighed_in_the_same_seasons(book: Path) -> None:
    """Watered when due, from the tank, not at all: less is eaten each time in the same seasons."""
    told = watering_worth(book, 400)
    assert [way.how for way in told.ways] == [WateredHow.USUAL, WateredHow.TANKS, WateredHow.NONE]
    middles = [way.odds.eaten_kg[1] for way in told.ways]
    assert middles == sorted(middles, reverse=True)
    assert middles[0] > middles[2]
    assert all(0 <= one.lost <= 1 for one in told.thirsty)
    lost = [one.lost for one in told.thirsty]
    assert lost == sorted(lost, reverse=True)


def test_monthly_means_have_no_years(made: Made) -> None:
    """A garden planned by monthly means is told to load a record of days."""
    with pytest.raises(FaultsFoundError, match="no real year"):
        replay_made(made)


def test_a_garden_without_a_tank_cannot_be_watered_from_one(tmp_path: Path) -> None:
    """Asked to water from tanks it does not have, haulm says what to add; unasked, it is watered
    whenever it is due.
    """
    path = real_garden(tmp_path, tank="")
    with pytest.raises(FaultsFoundError, match="no rain tank"):
        replay_kept(path, WateredHow.TANKS)
    assert replay_kept(path).how is WateredHow.USUAL


def test_the_verbs_tell_what_the_desk_found(book: Path, dry: Replayed, haulm: Haulm) -> None:
    """`haulm replay`, `drought` and `split` say on the terminal and as data what was lived."""
    shown = haulm("replay", book, "--watered", "none").out
    for words in (str(dry.worst_year), "(worst)", "When stores had run out", "What would have"):
        assert words in shown
    data = json.loads(haulm("replay", book, "--watered", "none", "--json").out)
    assert data["years"] == list(dry.told.years)
    assert data["worst"]["year"] == dry.worst_year
    shown = haulm("drought", book, "--seasons", 200).out
    assert "not watered" in shown
    assert "from the tanks alone" in shown
    data = json.loads(haulm("drought", book, "--seasons", 200, "--json").out)
    assert [way["watered"] for way in data["ways"]] == ["usual", "tanks", "none"]
    shown = haulm("split", "garlic", book).out
    for words in ("in one bed, all at once", "in 3 beds", "years in 100"):
        assert words in shown
    (crop,) = json.loads(haulm("split", "garlic", book, "--json").out)
    assert crop["crop"] == "garlic"
    assert "Did you mean garlic" in haulm("split", "garlik", book).err


def test_only_crops_that_share_a_sick_bed_are_weighed_unasked(book: Path) -> None:
    """Without a name those crops are weighed that a disease of their bed may take together."""
    told = splits_of(book, None, 2000)
    assert {"garlic", "onion"} <= {one.crop for one in told.crops}
    assert all(one.diseases for one in told.crops)
    lost = [one.splits[1].lost for one in told.crops]
    assert lost == sorted(lost, reverse=True)
