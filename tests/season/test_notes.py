"""What the diary says of plantings: what went otherwise is noted, what went as planned is not."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from haulm.plan.records import Plan, Planting
from haulm.plan.state import Became
from haulm.season.notes import notes_of
from haulm.season.records import Entry, EntryKind, Severity, planting_key
from season.diary_by_hand import entry, pieces


@pytest.fixture(scope="module")
def planting(plan: Plan) -> Planting:
    """Give a planting that is yet to be started."""
    return next(one for one in plan.plantings if not one.standing)


def of(planting: Planting) -> str:
    """Name a planting as the diary does."""
    return planting_key(planting.kind, planting.method, planting.sow_on, planting.bed)


def noted(plan: Plan, *entries: Entry) -> list[Became]:
    """Give what becomes of a plan's plantings by some entries."""
    return [note.what for note in notes_of(entries, plan)]


def test_what_was_lost_failed(plan: Plan, planting: Planting) -> None:
    """Rust that took all of it, or none come up, and the planting is no more."""
    day = planting.sow_on + timedelta(weeks=4)
    lost = entry(
        EntryKind.TROUBLE, day, planting=of(planting), trouble="rust", severity=Severity.LOST
    )
    none_up = entry(EntryKind.EMERGED, day, planting=of(planting), amount=pieces(0))
    assert noted(plan, lost, none_up) == [Became.FAILED, Became.FAILED]
    bad = replace(lost, about=replace(lost.about, severity=Severity.BAD))
    some_up = replace(none_up, amount=pieces(3))
    assert noted(plan, bad, some_up) == []


def test_a_bed_cleared_early_is_news_and_in_time_is_not(plan: Plan, planting: Planting) -> None:
    """Cleared a month before its time the ground is free; cleared when it was due is as planned."""
    in_time = entry(EntryKind.CLEARED, planting.clear_by, planting=of(planting))
    early = replace(in_time, day=planting.clear_by - timedelta(days=30))
    assert noted(plan, in_time) == []
    assert noted(plan, early) == [Became.CLEARED]


@pytest.mark.parametrize(("days", "late"), [(0, None), (6, None), (13, None), (21, 15)])
def test_a_sowing_is_late_by_the_days_after_its_week(
    plan: Plan, planting: Planting, days: int, late: int | None
) -> None:
    """Sown in its week or the next is in time; three weeks on it is late by as much."""
    monday = planting.sow_on - timedelta(days=planting.sow_on.weekday())
    sown = entry(EntryKind.SOWN, monday + timedelta(days=days), planting=of(planting))
    found = notes_of([sown], plan)
    assert [note.days for note in found] == ([] if late is None else [late])


def test_an_entry_of_no_planting_notes_nothing(plan: Plan) -> None:
    """Frost, rain and what is eaten say nothing of a planting."""
    day = date(2027, 5, 1)
    assert noted(plan, entry(EntryKind.FROST, day), entry(EntryKind.CLEARED, day, bed="x")) == []


def test_what_befell_an_earlier_planting_is_not_laid_to_the_next(
    plan: Plan, planting: Planting
) -> None:
    """An entry of a planting that only an earlier plan had says nothing of another of the same kind
    in the same bed; one that names the kind and the bed alone speaks of what grows there.
    """
    day = planting.sow_on + timedelta(weeks=4)
    before = planting_key(planting.kind, planting.method, date(2020, 3, 2), planting.bed)
    none_up = entry(EntryKind.EMERGED, day, planting=before, amount=pieces(0))
    about = replace(none_up.about, kind=planting.kind, bed=planting.bed)
    assert noted(plan, replace(none_up, about=about)) == []
    of_kind = replace(none_up, about=replace(about, planting=None))
    assert noted(plan, of_kind) == [Became.FAILED]
