"""Windows."""

from dataclasses import replace
from datetime import date
from itertools import pairwise

import numpy as np
import pytest

from growing.kinds_by_hand import (
    BEAN,
    HORIZON,
    KINDS,
    ROOT,
    degree_days,
    figure,
    giving,
    kind,
    method,
    place,
    warmth,
    wave_weather,
    yearly_wave,
)
from haulm.catalogue.records import Kind, Picking, SowingSeason
from haulm.growing.records import Window
from haulm.growing.timing import course, main_giving, span_weeks
from haulm.growing.weather import growing_weather
from haulm.growing.windows import why_no_window, windows
from haulm.measure.weeks import Horizon

AUTUMN_SET = kind(
    "bulb/autumn",
    warmth(0, 0, None),
    (degree_days("up", 150), degree_days("ripe", 1500)),
    (giving("bulbs", "ripe", Picking.ONCE, 1),),
    (method("cloves"),),
    SowingSeason(lengthening=False, soil_at_most_c=figure(13, "°C")),
)


def of_2026(found: tuple[Window, ...]) -> Window:
    """Give the one window that opens in 2026."""
    (window,) = [window for window in found if window.first_day.year == 2026]
    return window


def test_a_tender_kind_is_held_by_warm_soil_and_the_frost_of_autumn() -> None:
    """Beans are sown from the day the soil is warm until too little time is left before frost."""
    window = of_2026(
        windows(BEAN, method(), under_cover=False, weather=wave_weather(), horizon=HORIZON)
    )
    assert date(2026, 4, 15) < window.first_day < date(2026, 5, 20)
    assert date(2026, 6, 20) < window.last_day < date(2026, 8, 1)
    assert window.first_rule == "soil at 5 cm reaches 12 °C by then, 8 years in 10"
    assert "killing frost (−0.5 °C)" in window.last_rule
    assert "more often than" in window.last_rule


def test_an_autumn_bulb_is_held_by_cooling_soil_and_the_shortest_day() -> None:
    """A bulb set in autumn waits for the soil to cool and for the shortest day to end its time."""
    window = of_2026(
        windows(
            AUTUMN_SET,
            AUTUMN_SET.methods[0],
            under_cover=False,
            weather=wave_weather(),
            horizon=HORIZON,
        )
    )
    assert window.first_rule == "soil at 5 cm has cooled to 13 °C, 5 years in 10"
    assert window.last_rule == "days no longer shorten after 21 Dec"
    assert window.last_day == date(2026, 12, 21)


def test_south_of_the_equator_the_window_lies_half_a_year_on() -> None:
    """Mirrored weather at the mirrored latitude moves the window by half a year, a week or so."""
    seasons = yearly_wave(9, 9)
    mirrored = replace(
        seasons,
        tmin_c=np.roll(seasons.tmin_c, 183, axis=1),
        tmax_c=np.roll(seasons.tmax_c, 183, axis=1),
    )
    north = of_2026(
        windows(
            AUTUMN_SET, method("cloves"), under_cover=False, weather=wave_weather(), horizon=HORIZON
        )
    )
    found = windows(
        AUTUMN_SET,
        method("cloves"),
        under_cover=False,
        weather=growing_weather(mirrored, place(-47)),
        horizon=HORIZON,
    )
    south = of_2026(found)
    assert abs((north.first_day - south.first_day).days - 182) <= 10
    assert south.last_rule == "days no longer shorten after 21 Jun"


def test_where_it_never_freezes_frost_sets_no_end() -> None:
    """In the tropics a bean may be sown the year round; the weeks looked at are the only ends."""
    weather = wave_weather(mean_c=25, swing_c=2, latitude_deg=5)
    (window,) = windows(BEAN, method(), under_cover=False, weather=weather, horizon=HORIZON)
    assert window.first_rule == "the weeks looked at begin here"
    assert window.last_rule == "the horizon ends"


def test_where_it_never_thaws_there_is_no_window() -> None:
    """Where the soil never warms, nothing may be sown, and no window is given."""
    weather = wave_weather(mean_c=-12, swing_c=8, latitude_deg=80)
    for grown in KINDS:
        assert (
            windows(grown, grown.methods[0], under_cover=False, weather=weather, horizon=HORIZON)
            == ()
        )


def test_seed_is_not_left_lying_in_cold_ground() -> None:
    """No bean is sown in autumn to come up in spring, though no frost could touch it meanwhile."""
    for window in windows(
        BEAN, method(), under_cover=False, weather=wave_weather(), horizon=HORIZON
    ):
        assert window.last_day.month < 9


def test_modules_are_sown_weeks_before_they_may_stand_outside() -> None:
    """Beans for modules are sown before beans may be sown outside, and set out after the frosts."""
    weather = wave_weather()
    direct = of_2026(windows(BEAN, method(), under_cover=False, weather=weather, horizon=HORIZON))
    trays = of_2026(
        windows(BEAN, method("modules", 3), under_cover=False, weather=weather, horizon=HORIZON)
    )
    assert trays.first_day < direct.first_day
    assert "when it is set out" in trays.first_rule


def test_cover_widens_a_window() -> None:
    """A tunnel lets a bean be sown sooner and later, never less long."""
    weather = wave_weather()
    outside = of_2026(windows(BEAN, method(), under_cover=False, weather=weather, horizon=HORIZON))
    inside = of_2026(windows(BEAN, method(), under_cover=True, weather=weather, horizon=HORIZON))
    assert inside.first_day <= outside.first_day
    assert inside.last_day >= outside.last_day
    assert inside.under_cover


def test_what_runs_to_seed_must_be_ready_before() -> None:
    """A root sown so late that spring finds it unready would run to seed: that ends its window."""
    window = of_2026(
        windows(ROOT, method(), under_cover=False, weather=wave_weather(), horizon=HORIZON)
    )
    assert "runs to seed" in window.last_rule


@pytest.mark.parametrize(
    ("season", "opens", "closes"),
    [
        (SowingSeason(earliest_day_length_h=figure(12, "h")), "reached 12 h", "shorter than 12 h"),
        (SowingSeason(latest_day_length_h=figure(12, "h")), "no longer than 12 h", "longer than"),
        (SowingSeason(lengthening=True), "lengthen after 21 Dec", "no longer lengthen"),
    ],
)
def test_light_may_set_both_ends(season: SowingSeason, opens: str, closes: str) -> None:
    """Where warmth allows all year, day length sets both ends and is named with its hours."""
    grown = replace(AUTUMN_SET, season=season)
    weather = wave_weather(mean_c=16, swing_c=3)
    found = windows(
        grown,
        method("cloves"),
        under_cover=False,
        weather=weather,
        horizon=Horizon(date(2026, 6, 1), 52),
    )
    ends = {window.first_rule for window in found}, {window.last_rule for window in found}
    assert any(opens in rule for rule in ends[0])
    assert any(closes in rule for rule in ends[1])


@pytest.mark.parametrize("grown", KINDS)
def test_every_week_of_a_window_keeps_its_promise(grown: Kind) -> None:
    """From a week of a window, some 9 years in 10 see no killing frost while it is young and some
    8 in 10 give half the picking; odds are pooled over years and neighbours, so a single week's
    own runs may miss by a little.
    """
    weather, main = wave_weather(), main_giving(grown)
    weeks = span_weeks(main) / 2 if main.picking is Picking.SPREAD else 1
    for window in windows(
        grown, grown.methods[0], under_cover=False, weather=weather, horizon=HORIZON
    ):
        columns = np.arange(
            weather.column_of(window.first_day), weather.column_of(window.last_day) + 1, 7
        )
        fared = course(grown, grown.methods[0], columns, weather, under_cover=False)
        ready = fared.phase_ends[main.after]
        ends = np.minimum(fared.frost, fared.bolts)
        assert ((fared.frost >= np.minimum(ready, fared.up + 42)).mean(axis=0) >= 0.75).all()
        assert ((ends >= ready + 7 * weeks).mean(axis=0) >= 0.6).all()


def test_windows_are_the_same_every_year() -> None:
    """A window's ends lie on the same week each year: chance does not tear it."""
    found = windows(ROOT, method(), under_cover=False, weather=wave_weather(), horizon=HORIZON)
    firsts = [window.first_day for window in found]
    assert len(firsts) == 3
    assert {(later - sooner).days for sooner, later in pairwise(firsts)} == {364}


def test_no_window_has_a_reason() -> None:
    """Where the summer is too short for beans, the nearest week is named and what it lacks."""
    asked = {"under_cover": False, "weather": wave_weather(mean_c=4), "horizon": HORIZON}
    assert windows(BEAN, method(), **asked) == ()  # type: ignore[arg-type]
    told = why_no_window(BEAN, method(), **asked)  # type: ignore[arg-type]
    assert told.startswith("in the week of ")
    assert "12 °C" in told or "killing frost" in told


def test_a_window_needs_no_excuse() -> None:
    """Where there is a window, nothing stands in the way."""
    told = why_no_window(BEAN, method(), under_cover=False, weather=wave_weather(), horizon=HORIZON)
    assert told == ""
