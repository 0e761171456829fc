"""How much land the table takes, on its page."""

import re
from collections.abc import Callable
from concurrent.futures import Executor, Future
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from haulm.desk.at_hand import AtHand
from haulm.desk.sizing.land import LandWish
from haulm.desk.sizing.land_at_hand import land_at_hand
from haulm.web.pages import land

Door = Callable[[Path], TestClient]


def test_the_page_tells_land_work_money_and_what_comes_in_when(visit: TestClient) -> None:
    """Numbers, chart with its table, steps, what lies behind them, and the garden's own beds; all
    without a script, and the same again at once when it was worked out before.
    """
    html = visit.get("/land").text
    assert re.search(r"To eat like this takes [\d,.]+ m² in the open", html)
    for words in ("Work in the year", "no price is told", "Paths are not in it", "your beds"):
        assert words in html
    assert html.count('class="drawn"') == 2
    assert "http-equiv" not in html
    rows = re.findall(r"<tr><th scope=\"row\">[\d.,]+ m²", html)
    assert len(rows) >= 12  # seven steps at least, in the chart's table and in their own
    again = visit.get("/land?years=8").text
    assert re.search(r"takes ([\d.]+) m²", again)[1] == re.search(r"takes ([\d.]+) m²", html)[1]  # type: ignore[index]


def test_the_table_leads_to_it(visit: TestClient) -> None:
    """Whoever looks at the table finds how much land it takes."""
    assert 'href="/land"' in visit.get("/table").text


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ("cover=twelve", "twelve"),
        ("years=many", "is no number of years"),
        ("years=10", "10 years in 10"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_words(visit: TestClient, asked: str, told: str) -> None:
    """An area that is none and a certainty nobody has are named; the form stands there still."""
    answer = visit.get(f"/land?{asked}")
    assert answer.status_code == 422
    assert told in answer.text
    assert 'name="cover"' in answer.text


class Slow(Executor):
    """Does nothing yet: everything that is begun stays in the making."""

    def __init__(self) -> None:
        self.begun: list[Future[Any]] = []

    def submit(self, *_: Any, **__: Any) -> Future[Any]:  # noqa: ANN401 - as every executor's
        """Begin something that does not end."""
        self.begun.append(Future())
        return self.begun[-1]


def test_while_it_is_worked_out_nobody_waits_and_nothing_is_begun_twice(planned: Path) -> None:
    """Asked again, the same land in the making is looked for; another wish is begun beside it."""
    slow = Slow()
    garden = AtHand(planned, lambda: date(2027, 2, 1), slow)
    assert land_at_hand(garden, LandWish()) is None
    assert land_at_hand(garden, LandWish()) is None
    assert len(slow.begun) == 1
    assert land_at_hand(garden, LandWish(0.9)) is None
    assert len(slow.begun) == 2


def test_an_unfinished_page_comes_back_by_itself(
    door: Door, planned: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Until the land is known the page says what is going on and looks again without a script."""
    monkeypatch.setattr(land, "land_at_hand", lambda *_: None)
    html = door(planned).get("/land").text
    assert '<noscript><meta http-equiv="refresh"' in html
    assert "being planned" in html
