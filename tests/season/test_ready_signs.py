"""Ready to lift: leaves say so by published signs, and only days told to be dry are dry."""

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.season.ahead import DayAhead
from haulm.season.ready_signs import (
    Far,
    Looked,
    dry_window,
    first_rain,
    how_far,
    is_dry,
    ready_signs,
)
from haulm.season.records import Leaves

DAY = date(2027, 7, 20)
AT = datetime(2027, 7, 20, tzinfo=UTC)
GARLIC, ONION, POTATO = (ready_signs()[crop] for crop in ("garlic", "onion", "potato"))


def seen(leaves: Leaves, days_ago: int = 0) -> Looked:
    """Make what was seen so many days ago."""
    return Looked(DAY - timedelta(days=days_ago), leaves)


def days(*rain: float | None) -> list[DayAhead]:
    """Make days from today on with their rain as told."""
    return [
        DayAhead(DAY + timedelta(days=number), AT, rain_mm=mm) for number, mm in enumerate(rain)
    ]


@pytest.mark.parametrize(
    ("green", "brown", "far"),
    [
        (10, 0, Far.NOT_YET),
        (8, 3, Far.NOT_YET),
        (7, 3, Far.NOT_YET),
        (6, 3, Far.READY),
        (5, 4, Far.READY),
        (4, 4, Far.READY),
        (3, 4, Far.LATE),
        (3, 0, Far.NOT_YET),
        (5, None, Far.READY),
        (7, None, Far.NOT_YET),
    ],
)
def test_garlic_is_ready_with_about_five_green_leaves(
    green: float, brown: float | None, far: Far
) -> None:
    """About five green leaves left, the lower ones brown (K-State; University of Minnesota), is
    the time; more is early, three is late, and a small plant with none brown is not ripe.
    """
    assert how_far(GARLIC, [seen(Leaves(green=green, brown=brown))], DAY) is far


@pytest.mark.parametrize(
    ("down", "far"), [(0.4, Far.NOT_YET), (0.5, Far.READY), (0.8, Far.READY), (0.9, Far.LATE)]
)
def test_onions_are_ready_once_half_of_the_tops_are_down(down: float, far: Far) -> None:
    """At least one half of the tops down (K-State 2024); four fifths is common practice."""
    assert how_far(ONION, [seen(Leaves(down=0.1), 9), seen(Leaves(down=down))], DAY) is far


@pytest.mark.parametrize(
    ("ago", "far"), [(13, Far.NOT_YET), (14, Far.READY), (21, Far.READY), (22, Far.LATE)]
)
def test_potato_skins_set_two_to_three_weeks_after_the_haulm_died(ago: int, far: Far) -> None:
    """The weeks count from the day the haulm was first seen dead (common practice)."""
    looked = [seen(Leaves(down=0.5), 40), seen(Leaves(down=1.0), ago), seen(Leaves(down=1.0))]
    assert how_far(POTATO, looked, DAY) is far


def test_what_nobody_looked_at_is_not_judged() -> None:
    """Without an entry, or with one that tells another sign, nothing is said."""
    assert how_far(GARLIC, [], DAY) is None
    assert how_far(GARLIC, [seen(Leaves(down=0.9))], DAY) is None
    assert how_far(ONION, [seen(Leaves(green=5, brown=4))], DAY) is None
    assert how_far(POTATO, [seen(Leaves(down=0.2))], DAY) is Far.NOT_YET


def test_a_window_is_of_days_told_to_be_dry() -> None:
    """Wet, then three dry days: those are the window; a day without a word of rain ends it."""
    until = DAY + timedelta(days=9)
    assert dry_window(days(4, 0, 1.0, 0, 5), DAY, until) == (
        DAY + timedelta(days=1),
        DAY + timedelta(days=3),
    )
    assert dry_window(days(0, 0, None, 0, 0), DAY, until) is None
    assert dry_window(days(0, 0, 1.1, 0, 0), DAY, until) is None
    assert first_rain(days(0, None, 3), DAY) == DAY + timedelta(days=2)


def test_odds_of_rain_stand_in_where_no_rain_is_told() -> None:
    """At three in ten a day counts as dry, above it not; a depth that is told goes before."""
    assert is_dry(DayAhead(DAY, AT, rain_odds=0.3)) is True
    assert is_dry(DayAhead(DAY, AT, rain_odds=0.31)) is False
    assert is_dry(DayAhead(DAY, AT, rain_odds=0.9, rain_mm=0.0)) is True
    assert is_dry(DayAhead(DAY, AT, tmin_c=5.0)) is None


@given(st.lists(st.none() | st.floats(0, 3), max_size=10))
def test_every_day_of_a_window_is_dry_and_no_earlier_one_was_missed(
    rain: list[float | None],
) -> None:
    """Held against every run of days looked through by hand."""
    told = days(*rain)
    last = max(0, len(rain) - 1)
    found = dry_window(told, DAY, DAY + timedelta(days=last))
    dry = [mm is not None and mm <= 1.0 for mm in rain]
    starts = [number for number in range(len(dry) - 2) if all(dry[number : number + 3])]
    if not starts:
        assert found is None
    else:
        assert found is not None
        assert found[0] == DAY + timedelta(days=starts[0])
        assert all(dry[starts[0] : (found[1] - DAY).days + 1])
