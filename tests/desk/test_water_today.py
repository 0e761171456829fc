"""Water today, by what truly fell and was given."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from haulm.desk.beds.bed_water import From, RainTold, water_weather
from haulm.desk.beds.dry_spell import dry_days_of
from haulm.desk.beds.stood import as_stood
from haulm.desk.beds.water_course import Asked
from haulm.desk.beds.water_diary import water_on
from haulm.desk.beds.water_today import cans_for, water_today
from haulm.desk.beds.water_today_records import Haste, PatchToday, WaterToday
from haulm.desk.planning.plans import UNLAID, Made, kept_plan
from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.ground.records import Watered
from haulm.season.ahead import DayAhead
from haulm.season.records import Amount, Entry, EntryKind, Measured, key_of
from haulm.site.records import DailyRecord
from haulm.water.records import Tank, WateringMeans
from haulm.water.rules import WaterRule
from season.diary_by_hand import entry

JUNE = date(2027, 6, 24)
START = date(2017, 1, 1)


def with_record(made: Made, last_rain: date, until: date = JUNE) -> Made:
    """Give the garden a record of warm days with rain every third day, and none after a day."""
    days = (until - START).days
    low = 6 + 6 * np.sin(np.arange(days) / 365 * 2 * np.pi - 1.8)
    rain = np.where(np.arange(days) % 3 == 0, 9.0, 0.0)
    rain[(last_rain - START).days + 1 :] = 0.0
    record = DailyRecord("a record", START, low, low + 10, rain)
    return replace(made, garden=replace(made.garden, weather=record))


def gauge(readings: dict[date, float]) -> tuple[Entry, ...]:
    """Write readings of a gauge."""
    return tuple(
        entry(EntryKind.RAINED, day, amount=Amount(mm, Measured.MILLIMETRES))
        for day, mm in readings.items()
    )


def poured(litres: float, day: date = JUNE, **where: str) -> Entry:
    """Write a watering."""
    amount = Amount(litres, Measured.LITRES)
    return entry(EntryKind.WATERED, day, amount=amount, **where)


def first(found: WaterToday) -> PatchToday:
    """Give the crop in the greatest need."""
    return found.order[0]


def test_where_all_is_known_there_is_one_figure(made: Made) -> None:
    """With a record up to this morning and a diary of water, what ground lacks has no spread."""
    known = with_record(made, date(2027, 6, 1))
    start = (*gauge({date(2027, 1, 2): 0.0}), poured(0.0, date(2027, 1, 2), bed="north"))
    told = water_today(Asked(known, JUNE, start))
    assert told.known_until == JUNE
    for one in told.order:
        assert one.lacks_mm.high - one.lacks_mm.low < 1e-3
    drawn = water_today(Asked(made, JUNE))
    assert any(one.lacks_mm.high - one.lacks_mm.low > 1 for one in drawn.order)


def test_what_was_given_is_no_longer_lacking(made: Made) -> None:
    """Twenty litres on a planting are taken off what its ground lacks, and off no other's."""
    known = with_record(made, date(2027, 6, 1))
    start = (poured(0.0, date(2027, 1, 2), bed="north"),)
    before = water_today(Asked(known, JUNE, start))
    thirsty = first(before)
    key = next(key_of(p) for p in made.plan.plantings if p.id == thirsty.planting)
    some = 0.5 * thirsty.fill_l
    after = water_today(Asked(known, JUNE, (*start, poured(some, planting=key))))
    lacks = {one.planting: one.lacks_mm.middle for one in after.order}
    assert lacks[thirsty.planting] == pytest.approx(
        thirsty.lacks_mm.middle - some / thirsty.area_m2, abs=0.01
    )
    for one in before.order[1:]:
        assert lacks[one.planting] == pytest.approx(one.lacks_mm.middle, abs=0.01)


def test_a_whole_bed_s_water_is_shared_by_area(made: Made) -> None:
    """Water on a bed falls on all that stands there, to one depth."""
    known = with_record(made, date(2027, 6, 1))
    start = (poured(0.0, date(2027, 1, 2), bed="north"),)
    before = water_today(Asked(known, JUNE, start))
    bed = first(before).bed
    there = [one for one in before.order if one.bed == bed]
    area = sum(one.area_m2 for one in there)
    after = water_today(Asked(known, JUNE, (*start, poured(2 * area, bed=bed))))
    lacks = {one.planting: one.lacks_mm.middle for one in after.order}
    for one in there:
        assert one.lacks_mm.middle - lacks[one.planting] == pytest.approx(2.0, abs=0.01)


def test_the_gauge_goes_before_the_record(made: Made) -> None:
    """What the garden's own gauge says stands, where the station had other rain."""
    known = with_record(made, date(2027, 6, 1)).garden
    told = RainTold({date(2027, 6, 20): 0.0, date(2027, 6, 23): 30.0})
    weather = water_weather(known, JUNE, date(2027, 7, 30), told)
    days = slice(weather.column(date(2027, 6, 20)), weather.column(date(2027, 6, 24)))
    assert weather.climate.rain_mm[0, days].tolist() == [10.0, 10.0, 10.0, 0.0]
    assert [From(int(one)) for one in weather.rain_from[days]] == [From.GAUGE] * 3 + [From.RECORD]
    assert weather.rain_from[weather.column(JUNE)] == From.DRAWN


def test_rain_told_ahead_is_waited_for(made: Made) -> None:
    """Where good rain is told for tomorrow fewer crops come to need water within the fortnight."""
    known = with_record(made, date(2027, 6, 1))
    start = (poured(0.0, date(2027, 1, 2), bed="north"),)
    at = datetime(2027, 6, 24, 6, tzinfo=UTC)
    wet = DayAhead(JUNE + timedelta(days=1), at, rain_mm=40.0, rain_odds=1.0)
    dry, rained = (water_today(Asked(known, JUNE, start, ahead)) for ahead in ((), (wet,)))
    assert first(rained).lost.middle < first(dry).lost.middle
    assert [one.day for one in rained.ahead] == [wet.day]
    half = replace(wet, rain_odds=0.5)
    (told,) = water_today(Asked(known, JUNE, start, (half,))).ahead
    assert told.odds == pytest.approx(0.5, abs=0.05)


def test_too_few_cans_go_where_they_save_most(made: Made) -> None:
    """With three cans no more than three are given, to crops that must be watered; with all there
    are nobody's share is cut.
    """
    known = with_record(made, date(2027, 6, 1))
    start = (poured(0.0, date(2027, 1, 2), bed="north"),)
    few = water_today(Asked(known, JUNE, start, cans=3))
    assert few.cans_wanted > 3
    shares = [one.shared_cans for one in few.order if one.haste is Haste.NOW]
    assert sum(share or 0 for share in shares) == 3
    many = water_today(Asked(known, JUNE, start, cans=few.cans_wanted))
    assert all(one.shared_cans is None for one in many.order)


def test_a_rule_is_on_the_advice(made: Made) -> None:
    """Where the hose may not run, its bed is told so; a bed that is exempt is not."""
    beds = tuple(replace(bed, watered=Watered.HOSE) for bed in made.garden.beds)
    rule = WaterRule("Order", exempt=frozenset({"north"}))
    ruled = replace(made, garden=replace(made.garden, beds=beds, water_rules=(rule,)))
    may = {bed.id: bed.allowed.may for bed in water_today(Asked(ruled, JUNE)).beds}
    assert may["north"]
    assert not may["south"]


def test_a_tank_follows_its_reading_rain_and_cans(made: Made) -> None:
    """A tank read at 300 l, of which 50 l were drawn, holds 250 l and what its roof caught."""
    known = with_record(made, date(2027, 6, 1))
    garden = replace(known.garden, tanks=(Tank("Barn", 10.0, 1000.0, 0.8),))
    tanked = replace(known, garden=garden)
    read = entry(
        EntryKind.TANK_READ, date(2027, 6, 10), tank="Barn", amount=Amount(300, Measured.LITRES)
    )
    drawn = poured(50.0, date(2027, 6, 12), bed="north", tank="Barn")
    (tank,) = water_today(Asked(tanked, JUNE, (read, drawn))).tanks.tanks  # type: ignore[union-attr]
    assert tank.lies_l.middle == pytest.approx(250.0)
    rain = gauge({date(2027, 6, 14): 0.0, date(2027, 6, 15): 10.0})
    (wet,) = water_today(Asked(tanked, JUNE, (read, drawn, *rain))).tanks.tanks  # type: ignore[union-attr]
    assert wet.lies_l.middle == pytest.approx(250.0 + 10 * 10 * 0.8)


def test_ten_days_without_rain_are_warned_of(made: Made) -> None:
    """On loam the plain rule warns after ten days, by the grower's word or by the record; where
    nobody says when it rained it asks.
    """
    rained = (entry(EntryKind.RAINED, JUNE - timedelta(days=10)),)
    spell = water_today(Asked(made, JUNE, rained)).dry
    assert (spell.days, spell.by) == (10, From.TOLD)
    assert spell.over[0][0] == dry_days_of("loam") == 10
    later = (entry(EntryKind.RAINED, JUNE - timedelta(days=9)),)
    assert water_today(Asked(made, JUNE, later)).dry.over == ()
    assert water_today(Asked(made, JUNE)).dry.days is None
    record = water_today(Asked(with_record(made, JUNE - timedelta(days=20)), JUNE)).dry
    assert record.by is From.RECORD
    assert record.days is not None
    assert record.days >= 20
    assert dry_days_of("sand") < dry_days_of("loam") < dry_days_of("clay")


def test_minutes_without_a_flow_are_said_not_counted(made: Made) -> None:
    """Minutes of a hose whose flow nobody told are not taken for none, and not guessed."""
    told = entry(EntryKind.WATERED, JUNE, bed="north", amount=Amount(5, Measured.MINUTES))
    assert water_today(Asked(made, JUNE, (told,))).not_counted
    flowing = replace(made, garden=replace(made.garden, watering=WateringMeans(10.0, 12.0)))
    assert water_today(Asked(flowing, JUNE, (told,))).not_counted == ()


def test_cans_are_whole() -> None:
    """Twelve litres are one can of ten, sixteen two; a crop that is watered gets one at least."""
    assert [cans_for(litres, 10.0) for litres in (0.4, 12.0, 16.0)] == [1, 1, 2]


def test_a_planting_stands_from_the_day_it_was_sown(made: Made) -> None:
    """What the diary says of sowing and clearing counts, not the plan's week."""
    planting = next(
        p for p in made.plan.plantings if not p.standing and p.tray_weeks[0] == p.tray_weeks[1]
    )
    late = planting.in_ground_from + timedelta(days=4)
    ended = late + timedelta(days=30)
    said = (
        entry(EntryKind.SOWN, late, planting=key_of(planting)),
        entry(EntryKind.CLEARED, ended, planting=key_of(planting)),
    )
    stood = next(p for p in as_stood(made.plan, said).plantings if p.id == planting.id)
    assert (stood.in_ground_from, stood.clear_by) == (late, ended)
    untold = next(p for p in as_stood(made.plan, ()).plantings if p.id == planting.id)
    assert untold.in_ground_from == planting.in_ground_from


def test_no_bed_is_overfilled_by_what_was_told(made: Made) -> None:
    """Whatever was sown early or cleared late, a bed never holds more than it has."""
    said = tuple(
        entry(EntryKind.SOWN, p.in_ground_from - timedelta(days=25), planting=key_of(p))
        for p in made.plan.plantings
        if not p.standing
    )
    stood = as_stood(made.plan, said)
    areas = {bed.id: bed.area_m2 for bed in stood.beds}
    for planting in stood.plantings:
        day = planting.in_ground_from
        held = sum(
            p.area_m2
            for p in stood.plantings
            if p.bed == planting.bed and p.in_ground_from <= day < p.clear_by
        )
        assert held <= areas[planting.bed] + 1e-6


def test_cans_are_typed_as_cans(planned: Path) -> None:
    """“4 cans” are 40 litres with the usual can, and are read back from the notebook's diary."""
    at = Written("w1", datetime(2027, 6, 21, tzinfo=UTC), "l")
    day = date(2027, 6, 20)
    typed = TypedEntry("watered", day.isoformat(), bed="North", amount="4 cans")
    assert write_entry(planned, typed, at, JUNE).amount == Amount(40.0, Measured.LITRES)
    found = water_on(planned, kept_plan(planned, UNLAID), JUNE)
    assert found.given_since == day
    assert sum(one.given_l for one in found.past) == pytest.approx(40.0)
