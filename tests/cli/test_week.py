"""The week on the command line: told, cut, for a wet day, printed, as data."""

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
from pypdf import PdfReader

from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.planning.plans import UNLAID, kept_plan
from haulm.desk.season.ahead import tell_days
from haulm.season.ahead import DayAhead
from shell import Haulm


@pytest.fixture(scope="module")
def busy(planned_once: Path) -> str:
    """Give the Monday of the week that asks most hours."""
    plan = kept_plan(planned_once, UNLAID).plan
    return plan.horizon.monday(max(plan.hours, key=lambda one: one.asked_h).week).isoformat()


def test_the_week_is_told_with_what_waiting_costs(haulm: Haulm, planned: Path, busy: str) -> None:
    """The list says hours, jobs, what is lost, and what falls out of a short week."""
    out = haulm("week", planned, "--on", busy, "--hours", "0.25").out
    assert "15 min in all, 15 min left" in out
    assert "Falls out of the hours there are" in out
    assert "In all, what falls out costs" in out


def test_a_wet_day_has_no_hoeing(haulm: Haulm, planned: Path, busy: str) -> None:
    """For a wet day what wants a dry one is left out; for a dry day it comes first."""
    wet = haulm("week", planned, "--on", busy, "--wet").out
    dry = haulm("week", planned, "--on", busy, "--dry").out
    assert "a dry day" not in wet
    assert "a dry day" in dry


def test_the_week_as_data_names_every_job(haulm: Haulm, planned: Path, busy: str) -> None:
    """Other programs have every job with its loss, day by day."""
    told = json.loads(haulm("week", planned, "--on", busy, "--json").out)
    assert told["jobs"]
    assert {"stands", "waits", "next_week", "wants"} <= set(told["jobs"][0])


def test_the_week_is_printed(haulm: Haulm, planned: Path, busy: str, tmp_path: Path) -> None:
    """A PDF for the shed door; where it cannot be written it is said so."""
    file = tmp_path / "week.pdf"
    assert haulm("week", planned, "--on", busy, "--pdf", file).code == 0
    assert len(PdfReader(file).pages) == 1
    refused = haulm("week", planned, "--on", busy, "--pdf", tmp_path / "no" / "week.pdf")
    assert refused.code == 1
    assert "cannot be written" in refused.out + refused.err


def test_paper_is_of_the_size_its_readers_have(
    haulm: Haulm, planned: Path, busy: str, tmp_path: Path
) -> None:
    """In a garden measured in feet and pounds the week is printed on Letter, elsewhere on A4;
    what is named goes before.
    """
    file = tmp_path / "week.pdf"

    def width_pt(*asked: str) -> int:
        assert haulm("week", planned, "--on", busy, "--pdf", file, *asked).code == 0
        return round(float(PdfReader(file).pages[0].mediabox.width))

    assert width_pt() == round(210 / 25.4 * 72)
    at = datetime(2027, 1, 1, tzinfo=UTC)
    told = dict(parts_of(planned)["garden"][0])
    change_garden(planned, [Change("garden", mark_of(told), told | {"units": "us"})], at)
    assert width_pt() == round(8.5 * 72)
    assert width_pt("--paper", "a4") == round(210 / 25.4 * 72)


def test_days_ahead_lay_the_week_out(haulm: Haulm, planned: Path, busy: str) -> None:
    """Told that Monday is dry and Tuesday wet, the jobs stand day by day."""
    monday = datetime.fromisoformat(busy).date()
    at = datetime(2027, 1, 1, tzinfo=UTC)
    told = (
        DayAhead(monday, at, rain_mm=0.0),
        DayAhead(monday.replace(day=monday.day + 1), at, rain_mm=9.0),
    )
    tell_days(planned, told)
    out = haulm("week", planned, "--on", busy).out
    assert "Day by day, by the weather told" in out
    assert ", dry" in out


@pytest.mark.parametrize("words", [("--of", "soon"), ("--hours", "many")])
def test_what_cannot_be_read_is_refused(haulm: Haulm, planned: Path, words: tuple[str]) -> None:
    """No such week, no such hours: nothing is guessed."""
    assert haulm("week", planned, *words).code == 1


def test_without_a_plan_the_week_says_what_is_needed(haulm: Haulm, unplanned: Path) -> None:
    """There are no jobs without a plan."""
    ran = haulm("week", unplanned)
    assert ran.code == 1
    assert "plan" in ran.out + ran.err
