"""Look out, on top of This week: what is told there, and that it is there in this week alone."""

import sqlite3

from starlette.testclient import TestClient


def test_what_was_seen_stands_on_top_of_this_week(visit: TestClient) -> None:
    """A trouble written down in the diary is told of at once, with its closed years and what it
    rests on; next week's page does not tell of today.
    """
    seen = {"kind": "trouble seen", "day": "2027-01-31", "bed": "north", "trouble": "white rot"}
    assert visit.post("/diary", data=seen).status_code == 200
    text = visit.get("/week").text
    assert "Look out" in text
    assert "North: white rot" in text
    assert "no onion family until 2048" in text
    assert "UC IPM" in text
    assert text.index("Look out") < text.index("jobs")
    assert "Look out" not in visit.get("/week", params={"of": "2027-W06"}).text


def test_a_quiet_day_has_no_block(visit: TestClient) -> None:
    """Where nothing is to be looked out for, nothing is drawn."""
    assert "Look out" not in visit.get("/week").text


def test_a_forecast_frost_is_not_talked_away_by_the_climate(visit: TestClient) -> None:
    """In July, with −3 °C told for tonight, the page says no more that no frost is to come."""
    shelf = visit.app.state.shelf  # type: ignore[attr-defined]
    with sqlite3.connect(shelf.own) as notebook:
        notebook.execute("UPDATE garden SET today = '2027-07-05'")
    assert "no frost to be expected" in visit.get("/week").text
    sent = {"day": "2027-07-06", "tmin": "-3"}
    assert visit.post("/week/ahead", data=sent).status_code == 200
    text = visit.get("/week").text
    assert "Frost tonight: cover" in text
    assert "no frost to be expected" not in text
