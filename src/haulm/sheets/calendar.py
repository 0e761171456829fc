"""The plan's dates as an iCalendar file (RFC 5545), for any calendar that reads one."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from icalendar import Calendar, Event

from haulm.measure.day_words import day_text
from haulm.plan.records import Planting
from haulm.sheets.acts import JobKind, acts_of
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.wording import area_text, food_name, weight_text

_ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class _Entry:
    """One event of a planting: its tag, first day, last day, what to do, and the particulars."""

    tag: str
    first: date
    last: date
    what: str
    more: str


def calendar_ics(bundle: SheetBundle) -> bytes:
    """Write sowing, setting out, ready and clearing of every planting as all-day events.

    Identifiers and time stamps come from the plan, so that the same plan gives the same bytes and
    a calendar that reads it again replaces what it had.
    """
    plan = bundle.plan
    calendar = Calendar()
    calendar.add("prodid", "-//haulm//plan//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("x-wr-calname", plan.garden)
    stamp = datetime.combine(plan.made_on, time(), tzinfo=UTC)
    garden = "".join(letter if letter.isalnum() else "-" for letter in plan.garden.lower())
    for planting in plan.plantings:
        for entry in _entries(bundle, planting):
            event = Event()
            event.add("uid", f"{planting.id}-{entry.tag}@{garden}.haulm.invalid")
            event.add("dtstamp", stamp)
            event.add("dtstart", entry.first)
            event.add("dtend", entry.last + _ONE_DAY)
            event.add("summary", entry.what)
            event.add("description", entry.more)
            event.add("location", bundle.bed(planting.bed).name)
            event.add("transp", "TRANSPARENT")
            calendar.add_component(event)
    return bytes(calendar.to_ical())


def _entries(bundle: SheetBundle, planting: Planting) -> Iterator[_Entry]:
    name = bundle.full_name(planting)
    bed = bundle.bed(planting.bed).name
    ground = area_text(planting.area_m2, bundle.units)
    stock = f"{planting.stock:.0f} × {planting.stock_unit}"
    acts = {act.kind: act.day for act in acts_of(planting, stays=bundle.stays(planting))}
    if JobKind.SOW_TRAYS in acts:
        day = acts[JobKind.SOW_TRAYS]
        text = f"{stock} in {planting.tray_cells} cells, for {planting.plants} plants in {bed}."
        yield _Entry("sow", day, day, f"{JobKind.SOW_TRAYS.verb}: {name}", text)
        day = acts[JobKind.SET_OUT]
        text = f"{planting.plants} plants on {ground}. The bed sheet has every station."
        yield _Entry("set", day, day, f"{JobKind.SET_OUT.verb}: {name}, {bed}", text)
    for kind in (JobKind.SOW, JobKind.PLANT):
        if kind in acts:
            text = f"{stock} on {ground}. The bed sheet has every station."
            yield _Entry("sow", acts[kind], acts[kind], f"{kind.verb}: {name}, {bed}", text)
    for ready in planting.ready:
        food = food_name(bundle.catalogue, ready.food)
        text = (
            f"In 5 years of 10 by {day_text(ready.middle, year=True)}; 8 years in 10 in this span."
        )
        given = [expects for expects in planting.expects if expects.food == ready.food]
        for expects in given:
            text += (
                f" Expect {weight_text(expects.kg, bundle.units)}, 8 years in 10 between "
                f"{weight_text(expects.low_kg, bundle.units)} and "
                f"{weight_text(expects.high_kg, bundle.units)}."
            )
        what = f"Ready, most years: {food}, {bed}"
        yield _Entry(f"ready-{ready.food}", ready.early, ready.late, what, text)
    text = f"The ground of {bed} is wanted or free from this day."
    for kind in (JobKind.LIFT, JobKind.CLEAR):
        if kind in acts:
            what = f"{kind.verb} by today: {name}, {bed}"
            yield _Entry("clear", acts[kind], acts[kind], what, text)
