"""The pages of what follows and of what stands through winter."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from starlette.testclient import TestClient

from gardens import small_garden
from haulm.desk.garden.exchange import import_garden


def test_bed_year_and_planting_lead_there(visit: TestClient) -> None:
    """The bed's page, the Year and an opened planting lead to what could follow; the Year also to
    winter.
    """
    assert 'href="/follow/north"' in visit.get("/ground/north").text
    year = visit.get("/year").text
    assert 'href="/winter"' in year
    assert 'href="/follow/' in year
    assert "free=20" in visit.get("/year/garlic-1").text


def test_what_could_follow_is_told_with_its_odds(visit: TestClient) -> None:
    """A bed free in July: what, when to sow it in trays, ready by when, and what is kept off."""
    text = visit.get("/follow/south", params={"free": "2027-07-05"}).text
    for words in ("free from 5 Jul 2027", "trays", "8 years in 10", "Kept off", "onion family"):
        assert words.lower() in text.lower()
    assert "%(" not in text


def test_a_day_that_is_none_is_told_beside_its_field(visit: TestClient) -> None:
    """Words for a day, and a day that is past."""
    assert visit.get("/follow/north?free=soon").status_code == 422
    assert "is past" in visit.get("/follow/north?free=2026-01-01").text
    assert visit.get("/follow/nowhere").status_code == 404


def test_without_a_plan_the_pages_answer_too(
    unplanned: Path, door: Callable[[Path], TestClient]
) -> None:
    """Both need no plan."""
    pages = door(unplanned)
    assert "free from" in pages.get("/follow/north").text
    assert "Daylight is under ten hours" in pages.get("/winter").text


def test_winter_is_sized_with_its_sum(visit: TestClient) -> None:
    """Leeks: how many plants have to stand, from which sum, and what the plan has."""
    text = visit.get("/winter?years=9").text
    for words in ("Leek", "plants on", "9 years in 10", "a square metre", "The plan takes"):
        assert words in text
    assert "%(" not in text


def test_winter_in_us_units(tmp_path: Path, door: Callable[[Path], TestClient]) -> None:
    """Square feet and pounds where the garden is read in them."""
    toml = small_garden(tmp_path, ("invented = true", 'invented = true\nunits = "us"'))
    notebook, _ = import_garden(toml, None, datetime(2027, 2, 1, tzinfo=UTC))
    text = door(notebook).get("/winter").text
    assert "a square foot" in text
    assert "sq ft" in text
