"""What follows on ground that comes free."""

from datetime import timedelta

import pytest

from growing.kinds_by_hand import BEAN, HORIZON, KINDS, ROOT, SALAD, wave_weather
from haulm.catalogue.records import Kind
from haulm.growing.follow_on import follow_ons
from haulm.growing.timing import ready_dates
from haulm.growing.windows import windows

WEATHER = wave_weather()
JULY = HORIZON.week_of(HORIZON.first_day + timedelta(180))


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.id)
@pytest.mark.parametrize("week", [10, 20, JULY, 34, 40])
def test_a_follow_on_waits_for_its_ground_and_keeps_to_its_window(kind: Kind, week: int) -> None:
    """It is set no sooner than the ground is free and at most four weeks later, sown within a
    window, and ready no later than its sowing's food is counted.
    """
    for one in follow_ons(kind, "any", WEATHER, HORIZON, week, under_cover=False):
        assert week <= one.sowing.ground_from_week <= week + 4
        assert one.waits_weeks == one.sowing.ground_from_week - week
        assert one.sowing.sow_on >= HORIZON.first_day
        method = next(m for m in kind.methods if m.id == one.sowing.method)
        there = windows(kind, method, under_cover=False, weather=WEATHER, horizon=HORIZON)
        assert any(w.first_day <= one.sowing.sow_on <= w.last_day for w in there)
        main = kind.givings[0].food
        spread = ready_dates(kind, method, one.sowing.set_on, WEATHER, under_cover=False)[main]
        assert spread.middle <= one.ready_by <= spread.late


def test_what_is_raised_in_modules_is_sown_beforehand() -> None:
    """Beans that are three weeks in trays are sown three weeks before the bed is free, and are
    ready before those sown in place.
    """
    found = {
        o.sowing.method: o for o in follow_ons(BEAN, "f", WEATHER, HORIZON, 24, under_cover=False)
    }
    modules, direct = found["modules"], found["direct"]
    assert modules.in_trays
    assert not direct.in_trays
    assert modules.sowing.set_on - modules.sowing.sow_on == timedelta(21)
    assert modules.sowing.set_on == HORIZON.monday(24)
    assert modules.ready_by < direct.ready_by


def test_only_what_frost_kills_is_told_a_frost() -> None:
    """The root that no frost on record kills has no such day; the bean has, and is ready before."""
    (root,) = follow_ons(ROOT, "f", WEATHER, HORIZON, 20, under_cover=False)
    assert root.frost_from is None
    for bean in follow_ons(BEAN, "f", WEATHER, HORIZON, 20, under_cover=False):
        assert bean.frost_from is not None
        assert bean.ready_by < bean.frost_from


def test_in_november_nothing_tender_follows() -> None:
    """A bed that comes free in November takes no bean and no salad in the open."""
    november = HORIZON.week_of(HORIZON.first_day + timedelta(310))
    for kind in (BEAN, SALAD):
        assert follow_ons(kind, "f", WEATHER, HORIZON, november, under_cover=False) == ()
