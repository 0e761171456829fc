"""The page of last days to decide."""

import re
from collections.abc import Callable
from pathlib import Path

from starlette.testclient import TestClient


def test_the_week_leads_to_it(visit: TestClient) -> None:
    """From the jobs of the week a link leads to the page."""
    assert 'href="/week/decide"' in visit.get("/week").text


def test_choices_are_listed_before_anything_is_reckoned(visit: TestClient) -> None:
    """Every choice stands there with its days, and the way to what waiting costs."""
    text = visit.get("/week/decide").text
    assert "What does waiting cost?" in text
    assert "on offer until" in text
    assert "%(" not in text


def test_a_choice_is_reckoned_when_asked_for_and_stays(visit: TestClient) -> None:
    """Its page says by when and how much; after that the list knows it too."""
    address = re.findall(r'href="(/week/decide/\d+/[^"]+)"', visit.get("/week/decide").text)[0]
    text = visit.get(address).text
    decided = "Decide by" in text or "Decide this week" in text
    assert decided or "Nothing is" in text
    if decided:
        assert 'href="?anew"' in text
        assert "planned anew without it" in visit.get(f"{address}?anew").text
    listed = visit.get("/week/decide").text
    assert listed.count(f'data-later="{address}"') == 0


def test_without_a_plan_it_offers_one(unplanned: Path, door: Callable[[Path], TestClient]) -> None:
    """Where no plan is kept, the page says that it is drawn from one."""
    text = door(unplanned).get("/week/decide").text
    assert "drawn from a plan" in text


def test_an_unknown_choice_is_not_found(visit: TestClient) -> None:
    """A kind that is no choice leads nowhere."""
    assert visit.get("/week/decide/0/moon flower").status_code == 404
