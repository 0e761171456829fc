"""The plan lived again on its pages: real years, water, and one bed or several."""

import re
from collections.abc import Callable
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from real_years import real_garden

Door = Callable[[Path], TestClient]


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the small garden's notebook at a place with ten real years, planned."""
    return real_garden(tmp_path_factory.mktemp("real"))


def test_real_years_are_told_with_the_worst_and_what_would_have_helped(
    door: Door, book: Path
) -> None:
    """The page draws a bar for every line and year, tells the same as a table, names the worst year
    and what was tried on it, and which years the record does not follow to their end.
    """
    html = unescape(door(book).get("/seasons/years").text)
    assert re.search(r"The worst: 19(79|8[0-6])", html)
    assert "plan begun in 1987, 1988" in html
    for words in ("One square metre more of", "a week later", "When stores had run out", "1979"):
        assert words in html
    (line,) = re.findall(r"aria-label=\"(Garlic, short in: [^\"]*)\"", html)
    drawn = html.split(line)[1].split("</svg>")[0]
    assert len(re.findall(r'<rect class="(?:short|full)"', drawn)) == 8
    years = re.findall(r"\d{4}", line)
    assert len(re.findall(r'<rect class="short"', drawn)) == len(years)


def test_the_way_of_watering_can_be_chosen(door: Door, book: Path) -> None:
    """From its tank by default; one press shows the same years without water."""
    client = door(book)
    html = client.get("/seasons/years").text
    assert "<strong>watered from the tanks alone</strong>" in html
    assert 'href="/seasons/years?watered=none"' in html
    dry = client.get("/seasons/years?watered=none").text
    assert "<strong>not watered</strong>" in dry
    assert "Water whenever it was due" in dry
    assert client.get("/seasons/years?watered=nonsense").status_code == 200


def test_watering_is_set_side_by_side(door: Door, book: Path) -> None:
    """What is eaten and how many promises hold stands beside one another for each way."""
    html = door(book).get("/seasons/water").text
    for words in ("watered when due", "from the tanks alone", "not watered", "What thirst takes"):
        assert words in html


def test_beds_are_weighed_for_the_crops_that_share_them(door: Door, book: Path) -> None:
    """Garlic and onions share their bed's white rot: each is told in one bed, two and three."""
    html = door(book).get("/seasons/beds").text
    for words in ("Garlic", "Onion", "white rot", "in one bed, all at once", "in 3 beds"):
        assert words in html


def test_where_only_means_are_known_a_record_is_asked_for(visit: TestClient) -> None:
    """Monthly means have no years: the page says so and leads to where a record is loaded; how sure
    it is leads to all three.
    """
    html = visit.get("/seasons/years").text
    assert "no real year" in html
    assert 'href="/place"' in html
    main = visit.get("/seasons").text
    for name in ("years", "water", "beds"):
        assert f'href="/seasons/{name}"' in main


@pytest.mark.parametrize("name", ["years", "water", "beds"])
def test_without_a_plan_there_is_nothing_to_live(door: Door, unplanned: Path, name: str) -> None:
    """Where nothing is planned each page says what to do."""
    told = door(unplanned).get(f"/seasons/{name}")
    assert told.status_code == 200
    assert "plan" in told.text.lower()
    assert "years in 100" not in told.text
