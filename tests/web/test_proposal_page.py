"""A proposed plan: what would change is told before it is kept, and nothing is kept unseen."""

import re
import shutil
from collections.abc import Callable
from datetime import UTC, date, datetime
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.desk.garden.editing import Change, change_garden
from haulm.desk.planning.plans import kept_plan, plan_garden, proposed_plan
from haulm.planner.solve import EFFORTS

DAY, NOW = date(2027, 2, 1), datetime(2027, 2, 1, 9, 0, tzinfo=UTC)
Door = Callable[[Path], TestClient]


@pytest.fixture(scope="module")
def proposed_once(planned_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Forbid the small garden's garlic and have a plan proposed around that, once."""
    notebook = Path(shutil.copy(planned_once, tmp_path_factory.mktemp("proposed") / "yard.haulm"))
    kinds = ("garlic/hard-necked", "garlic/soft-necked")
    pins = [Change("pin", "", {"rule": "forbid", "kind": kind}) for kind in kinds]
    change_garden(notebook, pins, NOW)
    plan_garden(notebook, DAY, EFFORTS["quick"], 1, propose=True)
    return notebook


@pytest.fixture
def proposed(proposed_once: Path, tmp_path: Path) -> Path:
    """Give a notebook with a plan that waits to be kept or left."""
    return Path(shutil.copy(proposed_once, tmp_path / "yard.haulm"))


def words(html: str) -> str:
    """Give the words of a page."""
    return unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html)))


def number_on(page: str) -> str:
    """Give the number by which the page's form keeps its proposal."""
    found = re.search(r'name="number" value="(\d+)"', page)
    assert found is not None
    return found.group(1)


def test_what_would_change_is_said_before_it_is_kept(door: Door, proposed: Path) -> None:
    """The garlic that was forbidden is said to go, its line to be short, and its patch is crossed
    out on the strips of the plan one has; both plans' closeness to the best stands there.
    """
    page = door(proposed).get("/proposal").text
    told = words(page)
    assert re.search(r"garlic.* will not be planted in \w+ any more", told)
    assert re.search(r"Garlic will be [\d.]+ kg more short", told)
    assert told.count("of the best there can be") == 2
    assert "patch gone" in page
    assert kept_plan(proposed).plan.plantings


def test_every_line_of_the_table_is_summed_before_and_after(door: Door, proposed: Path) -> None:
    """What each line wants, lacks now and would lack stands in one row, by the line's name."""
    page = door(proposed).get("/proposal").text
    rows = re.findall(r'<tr><th scope="row">([^<]+)</th><td>([^<]+)</td>', page)
    names = [name.strip().lower() for name, _ in rows]
    assert [name for name in names if name == "garlic"] == ["garlic"]
    assert all(re.search(r"\d", wanted) for _, wanted in rows)


def test_kept_the_new_plan_holds(door: Door, proposed: Path) -> None:
    """Keeping puts the new plan in the old one's place; nothing waits any more."""
    visit = door(proposed)
    page = visit.get("/proposal").text
    told = visit.post("/proposal/keep", data={"number": number_on(page)}).text
    assert "The new plan is kept." in told
    assert proposed_plan(proposed) is None
    assert not [p for p in kept_plan(proposed).plan.plantings if p.crop == "garlic"]
    assert "No new plan waits" in visit.get("/proposal").text


def test_left_the_old_plan_goes_on(door: Door, proposed: Path) -> None:
    """Leaving the new plan changes nothing in the one that holds."""
    visit = door(proposed)
    before = kept_plan(proposed).plan
    assert "goes on holding" in visit.post("/proposal/leave").text
    assert proposed_plan(proposed) is None
    assert kept_plan(proposed).plan == before


@pytest.mark.parametrize("number", ["0", "999", "-1", "", "<b>"])
def test_a_plan_that_was_not_looked_at_is_not_kept(door: Door, proposed: Path, number: str) -> None:
    """Only the very proposal that was shown can be kept; any other is refused in words."""
    answer = door(proposed).post("/proposal/keep", data={"number": number})
    assert answer.status_code == 422
    assert "no longer the newest" in answer.text
    assert proposed_plan(proposed) is not None


def test_a_garden_changed_since_is_said_and_the_plan_cannot_be_kept(
    door: Door, proposed: Path
) -> None:
    """Whoever changes the garden after a plan was proposed sees that it is out of date, and is
    offered to plan again; a form that still keeps it is refused.
    """
    visit = door(proposed)
    number = number_on(visit.get("/proposal").text)
    change_garden(proposed, [Change("pin", "", {"rule": "forbid", "kind": "leek/winter"})], NOW)
    page = visit.get("/proposal").text
    assert "has changed since this plan was proposed" in page
    assert 'action="/proposal/keep"' not in page
    answer = visit.post("/proposal/keep", data={"number": number})
    assert answer.status_code == 422
    assert "has changed since" in answer.text


def test_without_a_proposal_the_page_says_so(visit: TestClient) -> None:
    """Where no plan waits, the page says that, and leads back to the Year."""
    text = visit.get("/proposal").text
    assert "No new plan waits" in text
    assert 'href="/year"' in text
