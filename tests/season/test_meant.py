"""Of which planting an entry of the diary speaks: the one it names, else the nearest that fits."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from haulm.notebook.file import open_notebook
from haulm.plan.records import Plan, Planting
from haulm.season.meant import Meant
from haulm.season.records import EntryKind, key_of
from season.diary_by_hand import entry

APRIL, MAY = date(2027, 4, 5), date(2027, 5, 10)


@pytest.fixture(scope="module")
def plan(planned_once: Path) -> Plan:
    """Give the small garden's plan with two sowings of one kind in one bed, five weeks apart."""
    with open_notebook(planned_once) as notebook:
        plan = notebook.plan()
    one = next(p for p in plan.plantings if not p.standing)
    return replace(plan, plantings=(sowing(one, "first", APRIL), sowing(one, "second", MAY)))


def sowing(like: Planting, name: str, on: date) -> Planting:
    """Give a planting sown in place on a day, that stands for eight weeks."""
    return replace(
        like,
        id=name,
        sow_on=on,
        set_on=on,
        in_ground_from=on,
        clear_by=on + timedelta(weeks=8),
        tray_weeks=(0, 0),
    )


def meant(plan: Plan, what: EntryKind, day: date, **about: str) -> list[str]:
    """Name the plantings that an entry speaks of."""
    return [one.id for one in Meant(plan).of(entry(what, day, **about))]


def where(plan: Plan) -> dict[str, str]:
    """Name the kind and the bed, as someone does who names no planting."""
    return {"kind": plan.plantings[0].kind, "bed": plan.plantings[0].bed}


def test_an_entry_that_names_a_planting_speaks_of_it_alone(plan: Plan) -> None:
    """However far off its day is; and of nothing where the plan has no such planting."""
    second = key_of(plan.plantings[1])
    assert meant(plan, EntryKind.SOWN, APRIL, planting=second, **where(plan)) == ["second"]
    other = second.replace("2027", "2020")
    assert meant(plan, EntryKind.CLEARED, MAY, planting=other, **where(plan)) == []


def test_a_sowing_by_kind_and_bed_is_the_one_planned_nearest_to_it(plan: Plan) -> None:
    """Sown two weeks late in April, it is the April sowing, and the one of May is still to come."""
    late = APRIL + timedelta(days=14)
    assert meant(plan, EntryKind.SOWN, late, **where(plan)) == ["first"]
    assert meant(plan, EntryKind.SOWN, MAY - timedelta(days=3), **where(plan)) == ["second"]
    assert meant(plan, EntryKind.SOWN, MAY + timedelta(days=60), **where(plan)) == []


def test_what_befalls_a_kind_in_a_bed_befalls_all_of_it_there(plan: Plan) -> None:
    """Slugs in May are in both sowings; in October nothing of the kind is there to be eaten."""
    assert meant(plan, EntryKind.TROUBLE, MAY, **where(plan)) == ["first", "second"]
    assert meant(plan, EntryKind.TROUBLE, date(2027, 10, 1), **where(plan)) == []


def test_only_clearing_speaks_of_a_whole_bed(plan: Plan) -> None:
    """A bed cleared is cleared of all it holds; a bed weeded says nothing of a planting."""
    bed = where(plan)["bed"]
    assert meant(plan, EntryKind.CLEARED, MAY, bed=bed) == ["first", "second"]
    assert meant(plan, EntryKind.WEEDED, MAY, bed=bed) == []
