"""The calendar, read by another program's library."""

from dataclasses import replace
from datetime import timedelta

import vobject

from haulm.sheets.bundle import SheetBundle
from haulm.sheets.calendar import calendar_ics


def test_the_calendar_is_valid_to_another_reader(schoolhouse: SheetBundle) -> None:
    """An independent iCalendar library reads the file and finds it valid (RFC 5545)."""
    calendar = vobject.readOne(calendar_ics(schoolhouse).decode())
    calendar.validate(raiseException=True)
    assert len(calendar.vevent_list) > len(schoolhouse.plan.plantings)


def test_every_planting_to_be_made_has_its_day(schoolhouse: SheetBundle) -> None:
    """Each planting is sown on its day; what stands already is not sown again."""
    calendar = vobject.readOne(calendar_ics(schoolhouse).decode())
    days = {event.uid.value.split("@")[0]: event.dtstart.value for event in calendar.vevent_list}
    for planting in schoolhouse.plan.plantings:
        sown = days.get(f"{planting.id}-sow")
        assert sown == (None if planting.standing else planting.sow_on)
        assert days[f"{planting.id}-clear"] == planting.clear_by


def test_ready_is_a_span_not_a_day(schoolhouse: SheetBundle) -> None:
    """Ready runs from 1 year in 10 to 9 in 10; an all-day event ends on the day after its last."""
    calendar = vobject.readOne(calendar_ics(schoolhouse).decode())
    events = {event.uid.value.split("@")[0]: event for event in calendar.vevent_list}
    event = events["celeriac-1-ready-celeriac"]
    planting = next(one for one in schoolhouse.plan.plantings if one.id == "celeriac-1")
    assert event.dtstart.value == planting.ready[0].early
    assert event.dtend.value == planting.ready[0].late + timedelta(days=1)


def test_the_same_plan_gives_the_same_calendar(schoolhouse: SheetBundle) -> None:
    """Identifiers and stamps come from the plan, so that a second import replaces the first."""
    later = replace(schoolhouse, printed_on=schoolhouse.printed_on + timedelta(days=9))
    assert calendar_ics(schoolhouse) == calendar_ics(later)


def test_no_two_events_share_an_identifier(schoolhouse: SheetBundle) -> None:
    """Every event can be told from every other."""
    calendar = vobject.readOne(calendar_ics(schoolhouse).decode())
    ids = [event.uid.value for event in calendar.vevent_list]
    assert len(set(ids)) == len(ids)
