"""A week's jobs: the plan's own, agreeing with the calendar, adding up to its hours."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
import vobject

from haulm.catalogue.caution_records import Caution, Deed
from haulm.catalogue.records import Giving, Picking, Role
from haulm.sheets.acts import JobKind
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.calendar import calendar_ics
from haulm.sheets.week_jobs import jobs_between
from sheets.page_reading import ODD_BUNDLES, ODD_IDS
from sheets.schoolhouse import HORIZON, bundle

ALWAYS = (date(2026, 1, 1), date(2030, 1, 1))


def kinds(jobs: tuple[object, ...]) -> list[str]:
    """Give what each job is, in order."""
    return [str(getattr(job, "kind", "")) for job in jobs]


def lifted_at_once(whole: SheetBundle, picking: Picking = Picking.ONCE) -> SheetBundle:
    """Say of maincrop potatoes how they are taken."""
    kind = whole.catalogue.kinds["potato/maincrop"]
    span = kind.stand.depth_m
    giving = Giving("potatoes", Role.MAIN, "ripe", picking, span, span)
    tables = dict(whole.catalogue.kinds)
    tables["potato/maincrop"] = replace(kind, givings=(giving,))
    return replace(whole, catalogue=replace(whole.catalogue, kinds=tables))


@pytest.mark.parametrize("odd", ODD_BUNDLES, ids=ODD_IDS)
def test_jobs_can_be_asked_for_at_any_time(odd: SheetBundle) -> None:
    """Before the plan, within it and after it a question for jobs has its answer."""
    every = jobs_between(odd, *ALWAYS)
    assert len({job.id for job in every}) == len(every)
    assert jobs_between(odd, date(2020, 1, 6), date(2020, 1, 12)) == ()
    for job in every:
        assert job.first_day <= job.last_day
        assert job.what
        assert job.place


def test_what_is_due_first_stands_first(schoolhouse: SheetBundle) -> None:
    """Jobs are in order of their last day."""
    days = [job.last_day for job in jobs_between(schoolhouse, *ALWAYS)]
    assert days == sorted(days)


def test_jobs_and_calendar_never_disagree(schoolhouse: SheetBundle) -> None:
    """Each day of sowing, setting out and clearing in the calendar is that of a job, and back."""
    calendar = vobject.readOne(calendar_ics(schoolhouse).decode())
    days = {
        event.uid.value.split("@")[0]: event.dtstart.value
        for event in calendar.vevent_list
        if "-ready-" not in event.uid.value
    }
    tags = {
        JobKind.SOW: "sow", JobKind.PLANT: "sow", JobKind.SOW_TRAYS: "sow",
        JobKind.SET_OUT: "set", JobKind.CLEAR: "clear",
    }  # fmt: skip
    told = {
        f"{job.planting}-{tags[job.kind]}": (
            job.last_day if job.kind == JobKind.CLEAR else job.first_day
        )
        for job in jobs_between(schoolhouse, *ALWAYS)
        if job.kind in tags
    }
    assert told == days


def test_a_week_shows_its_own_jobs(schoolhouse: SheetBundle) -> None:
    """In the week of 19 April potatoes are planted and leeks sown in trays; beans are not."""
    jobs = jobs_between(schoolhouse, date(2027, 4, 19), date(2027, 4, 25))
    said = {job.what: job for job in jobs}
    assert "Plant potatoes, maincrop" in said
    assert "Sow leeks, winter, in trays" in said
    assert not any("beans" in words for words in said)
    potatoes = said["Plant potatoes, maincrop"]
    assert potatoes.place == "Atlas"
    assert potatoes.amount == "160 tubers on 24 m², 40 cm apart, 12 cm deep"
    assert potatoes.is_last_day(date(2027, 4, 25))
    assert potatoes.days_late(date(2027, 4, 28)) == 3
    assert potatoes.days_late(date(2027, 4, 20)) == 0
    assert potatoes.latest_day == date(2027, 4, 19) + timedelta(days=26)


def test_picking_says_what_to_expect_with_its_spread(schoolhouse: SheetBundle) -> None:
    """13 kg of celeriac may be 10 to 17: the whole planting's spread."""
    jobs = jobs_between(schoolhouse, *ALWAYS)
    pick = next(job for job in jobs if job.kind == JobKind.PICK and job.planting == "celeriac-1")
    assert pick.amount == "13 kg; 8 years in 10 from 10 to 17 kg"


def test_cautions_come_with_the_food(schoolhouse: SheetBundle) -> None:
    """Beans are never eaten raw: the caution stands with their picking, and whom to ask."""
    jobs = jobs_between(schoolhouse, *ALWAYS)
    beans = [job for job in jobs if job.kind == JobKind.PICK and job.planting == "bean-1"]
    assert all("Never eat these beans raw" in job.cautions[0] for job in beans)
    assert all("Ask the national food safety authority." in job.cautions[0] for job in beans)
    stored = next(job for job in jobs if job.kind == JobKind.PUT_BY and job.id.startswith("potato"))
    assert "green" in stored.cautions[0]


def test_what_is_lifted_at_once_is_not_cleared_again(schoolhouse: SheetBundle) -> None:
    """Lifting potatoes clears their ground: one job, not two."""
    jobs = [
        job
        for job in jobs_between(lifted_at_once(schoolhouse), *ALWAYS)
        if job.planting == "potato-1"
    ]
    assert kinds(tuple(jobs)) == [JobKind.PLANT, JobKind.LIFT]


def test_lots_of_one_kind_are_put_by_together(schoolhouse: SheetBundle) -> None:
    """Potatoes of two beds, clamped in one week in one cellar, are one job of both weights."""
    (lot,) = (one for one in schoolhouse.plan.lots if one.id == "potatoes-1")
    again = replace(lot, id="potatoes-2", kg_in=20.0)
    plan = replace(schoolhouse.plan, lots=(*schoolhouse.plan.lots, again))
    jobs = jobs_between(replace(schoolhouse, plan=plan), *ALWAYS)
    (job,) = (one for one in jobs if "otatoes" in one.what and one.kind == JobKind.PUT_BY)
    assert job.what == "Put by Potatoes, maincrop"
    assert job.amount == "120 kg, clamped"
    assert job.minutes == pytest.approx(120 * lot.work_min_kg)


@pytest.mark.parametrize(
    ("picking", "kind"),
    [
        (Picking.ONCE, JobKind.LIFT),
        (Picking.STAND, JobKind.LIFT),
        (Picking.SPREAD, JobKind.PICK),
    ],
)
def test_what_is_taken_again_and_again_is_picked(picking: Picking, kind: JobKind) -> None:
    """Beans are picked; what is lifted once, or stands until wanted, is lifted."""
    jobs = jobs_between(lifted_at_once(bundle(), picking), *ALWAYS)
    assert kind in {job.kind for job in jobs if job.planting == "potato-1"}


def test_the_minutes_of_a_week_add_up(schoolhouse: SheetBundle) -> None:
    """Work of plantings and of putting by is all in a week's jobs, none of it twice."""
    plantings = tuple(
        replace(one, minutes=tuple((week, 7.5) for week in range(one.from_week, one.until_week)))
        for one in schoolhouse.plan.plantings
        if one.from_week >= 0
    )
    worked = replace(schoolhouse, plan=replace(schoolhouse.plan, plantings=plantings))
    for week in range(0, HORIZON.weeks, 3):
        monday = HORIZON.monday(week)
        jobs = jobs_between(worked, monday, monday + timedelta(days=6))
        told = sum(job.minutes or 0.0 for job in jobs if HORIZON.week_of(job.first_day) == week)
        asked = sum(
            minutes for one in plantings for when, minutes in one.minutes if when == week
        ) + sum(lot.kg_in * lot.work_min_kg for lot in worked.plan.lots if lot.put_by_week == week)
        assert told == pytest.approx(asked)


@pytest.mark.parametrize(
    ("depth_m", "sown", "set_out"),
    [(0.015, "1.5 cm deep", "as in the tray"), (0.002, "on the surface", "as in the tray")],
)
def test_seed_in_trays_has_its_own_depth(depth_m: float, sown: str, set_out: str) -> None:
    """Seed is sown as deep as it wants; its plants are set as they stood in the tray."""
    jobs = leeks_at(depth_m)
    assert jobs[JobKind.SOW_TRAYS].endswith(f"cells, {sown}")
    assert jobs[JobKind.SET_OUT].endswith(f"apart, {set_out}")


def test_no_seed_is_sown_at_the_depth_of_a_dibbled_hole() -> None:
    """Leeks are set 15 cm deep; in trays nothing is said of a depth the catalogue lacks."""
    jobs = leeks_at(0.15)
    assert jobs[JobKind.SOW_TRAYS].endswith("cells")
    assert jobs[JobKind.SET_OUT].endswith("apart, 15 cm deep")


def leeks_at(depth_m: float) -> dict[JobKind, str]:
    """Give what is told of each job for leeks, were their depth in the catalogue this."""
    whole = bundle()
    kind = whole.catalogue.kinds["leek/winter"]
    depth = replace(kind.stand.depth_m, value=depth_m)
    kind = replace(kind, stand=replace(kind.stand, depth_m=depth))
    tables = dict(whole.catalogue.kinds) | {kind.id: kind}
    changed = replace(whole, catalogue=replace(whole.catalogue, kinds=tables))
    return {
        job.kind: job.amount for job in jobs_between(changed, *ALWAYS) if job.planting == "leek-1"
    }


def test_us_units_are_kept() -> None:
    """A grower in US units reads pounds, feet and inches."""
    jobs = jobs_between(bundle("us"), date(2027, 4, 19), date(2027, 4, 25))
    potatoes = next(job for job in jobs if job.planting == "potato-1")
    assert potatoes.amount == "160 tubers on 258 sq ft, 15¾ in apart, 4¾ in deep"


def test_each_job_carries_the_cautions_of_its_act(schoolhouse: SheetBundle) -> None:
    """What is due only at sowing stands with sowing, what is due in trays with potting soil, and a
    caution for the very young only where one of them eats.
    """
    catalogue = schoolhouse.catalogue
    sow = Caution("sow", "Keep bulbs apart.", "someone", None, (Deed.SOW,), families=("alliums",))
    dust = Caution("dust", "Breathe no dust.", "someone", None, (Deed.SOW,), any_crop=True)
    young = Caution(
        "young", "None for infants.", "someone", None, under_age=1, families=("alliums",)
    )
    cautions = {one.id: one for one in (*catalogue.cautions.values(), sow, dust, young)}
    told_of = replace(schoolhouse, catalogue=replace(catalogue, cautions=cautions), ages=(40,))
    jobs = jobs_between(told_of, *ALWAYS)
    starts = {JobKind.SOW, JobKind.PLANT, JobKind.SET_OUT, JobKind.SOW_TRAYS}
    for job in jobs:
        crop = job.planting.rsplit("-", 1)[0]
        told = " ".join(job.cautions)
        assert ("Keep bulbs apart" in told) == (crop in {"garlic", "leek"} and job.kind in starts)
        assert ("Breathe no dust" in told) == (job.kind == JobKind.SOW_TRAYS)
        assert "None for infants" not in told
    with_infant = jobs_between(replace(told_of, ages=(40, 0)), *ALWAYS)
    assert any("None for infants" in " ".join(job.cautions) for job in with_infant)
