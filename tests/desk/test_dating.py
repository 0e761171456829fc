from dataclasses import replace
from datetime import date, timedelta

from haulm.catalogue.records import Form
from haulm.desk.beds.weather import WEEKS_BEFORE
from haulm.desk.garden.dating import not_yet, old_stock, too_long_ago
from haulm.desk.garden.opening import Opened
from haulm.larder.records import LotInHand
from haulm.measure.findings import Grade
from haulm.notebook.garden import Garden, PlantingStock, StandingCrop


def standing_since(garden: Garden, *days: date) -> Garden:
    """Give a garden in which garlic was set on some days."""
    stands = (StandingCrop("north", "garlic/hard-necked", "cloves", day, 1.0) for day in days)
    return replace(garden, standing=tuple(stands))


def test_what_is_started_tomorrow_does_not_stand_today(opened: Opened, day: date) -> None:
    """Of what stands, only what was started up to the day planned from is believed."""
    garden = standing_since(opened.garden, day, day + timedelta(days=1))
    (finding,) = not_yet(garden, day)
    assert finding.where == "standing 2, garlic/hard-necked"
    assert "2027-02-02" in finding.what
    assert finding.remedy


def test_what_is_put_by_tomorrow_is_not_in_store_today(opened: Opened, day: date) -> None:
    """Of what lies in store, only what was put by up to the day planned from is believed."""
    lots = [
        LotInHand("onion", "onion/sets", Form.CURED, "pantry", 3.0, when)
        for when in (day, day + timedelta(days=1))
    ]
    (finding,) = not_yet(replace(opened.garden, lots=tuple(lots)), day)
    assert finding.where == "in store 2, onion"


def test_what_went_in_years_ago_is_asked_about(opened: Opened, day: date) -> None:
    """A planting older than the weather at hand cannot be followed, and is named with its day."""
    first = day - timedelta(weeks=WEEKS_BEFORE)
    garden = standing_since(opened.garden, first, first - timedelta(days=1))
    (finding,) = too_long_ago(garden, day)
    assert finding.where == "standing 2, garlic/hard-necked"
    assert str(first - timedelta(days=1)) in finding.what
    assert not_yet(garden, day) == ()


def test_seed_of_years_ago_is_counted_but_doubted(opened: Opened, day: date) -> None:
    """Last year's seed goes without a word; the seed of years ago is to be tried on damp paper."""
    kept = tuple(PlantingStock("onion/seed", 500.0, day.year - years) for years in (1, 4))
    (note,) = old_stock(replace(opened.garden, stock=kept), day)
    assert note.grade is Grade.NOTE
    assert str(day.year - 4) in note.what
