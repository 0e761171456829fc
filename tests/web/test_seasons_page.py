"""How sure the plan is, on its page."""

import re
from collections.abc import Callable
from pathlib import Path

from starlette.testclient import TestClient

Door = Callable[[Path], TestClient]


def test_every_promise_is_told_the_least_sure_first(visit: TestClient) -> None:
    """The page says of each line in how many years in ten it is served as planned, worst first."""
    html = visit.get("/seasons").text
    first_year = html.split("Eaten from")[1]
    held = [float(share) for share in re.findall(r"([\d.]+) years in 10", first_year)]
    assert held == sorted(held)
    assert all(0 <= share <= 10 for share in held)
    for words in ("Garlic", "Onion", "in a poor year", "When stores run out", "1,000 seasons"):
        assert words in html


def test_the_larder_leads_to_it(visit: TestClient) -> None:
    """Whoever looks at the larder finds how sure it is."""
    assert 'href="/seasons"' in visit.get("/larder").text


def test_without_a_plan_the_page_says_how_to_make_one(door: Door, unplanned: Path) -> None:
    """Where nothing is planned there is nothing to be sure of, and the page says what to do."""
    html = door(unplanned).get("/seasons").text
    assert "years in 10" not in html
    assert "plan" in html.lower()
