"""Rules on watering: which way, which day, which hour, which bed."""

from datetime import date, time

from haulm.ground.records import Watered
from haulm.water.rules import Dates, WaterRule, Weekday, allowed_on, next_allowed

TUESDAY, WEDNESDAY = date(2027, 7, 13), date(2027, 7, 14)
MORNING = (time(6), time(9))


def may(rule: WaterRule, day: date, way: Watered = Watered.HOSE, bed: str = "slate") -> bool:
    """Say whether one rule lets a bed be watered."""
    return allowed_on([rule], bed, way, day).may


def test_a_ban_is_on_the_hose_alone() -> None:
    """Where no hour and no day is allowed a hose may not run at all; a can may, and so it may the
    day after the last day.
    """
    rule = WaterRule("Order", date(2027, 6, 1), TUESDAY)
    assert not may(rule, TUESDAY)
    assert may(rule, TUESDAY, Watered.CAN)
    assert may(rule, WEDNESDAY)
    assert not may(WaterRule("Until further notice", date(2027, 6, 1)), date(2031, 1, 1))


def test_some_days_and_hours_are_free() -> None:
    """On its weekdays a hose may run in its hours; the next such day is told."""
    rule = WaterRule("Order", weekdays=(Weekday.TUESDAY, Weekday.SATURDAY), hours=(MORNING,))
    told = allowed_on([rule], "slate", Watered.HOSE, TUESDAY)
    assert (told.may, told.hours, told.rules) == (True, (MORNING,), ("Order",))
    assert not may(rule, WEDNESDAY)
    assert next_allowed([rule], "slate", Watered.HOSE, TUESDAY) == date(2027, 7, 17)
    assert next_allowed([WaterRule("Ban")], "slate", Watered.HOSE, TUESDAY) is None


def test_odd_and_even_days() -> None:
    """A town that shares water out by dates lets the hose run every second day."""
    rule = WaterRule("Town", dates=Dates.ODD)
    assert may(rule, TUESDAY)
    assert not may(rule, WEDNESDAY)


def test_an_exempt_bed_and_drip_are_free() -> None:
    """A rule does not hold in a bed it exempts, nor for a way it does not name."""
    rule = WaterRule("Order", exempt=frozenset({"tunnel"}))
    assert may(rule, TUESDAY, bed="tunnel")
    assert may(rule, TUESDAY, Watered.DRIP)


def test_several_rules_all_hold() -> None:
    """Under two rules only the hours of both are left; where none are, there is no hose."""
    early = WaterRule("Early", hours=((time(5), time(7)),))
    town = WaterRule("Town", hours=(MORNING,))
    assert allowed_on([early, town], "a", Watered.HOSE, TUESDAY).hours == ((time(6), time(7)),)
    late = WaterRule("Late", hours=((time(20), time(22)),))
    assert not allowed_on([late, town], "a", Watered.HOSE, TUESDAY).may


def test_a_rule_of_every_year_may_run_over_new_year() -> None:
    """A southern summer's rule holds from November to March of every year."""
    rule = WaterRule("Summer", date(2020, 11, 1), date(2020, 3, 31), every_year=True)
    assert not may(rule, date(2028, 1, 10))
    assert may(rule, date(2028, 6, 10))
