"""The rotation, on its page: asked for, kept and dropped."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.desk.garden.opening import open_garden

Door = Callable[[Path], TestClient]


def test_the_ground_leads_to_it_and_it_says_what_it_is(visit: TestClient) -> None:
    """Whoever looks at the beds finds it; nothing is laid out or kept before it is asked for."""
    assert 'href="/rotation"' in visit.get("/ground").text
    html = visit.get("/rotation").text
    assert "None is kept" in html
    assert [int(n) for n in re.findall(r"<option(?: selected)?>(\d)</option>", html)] == [
        3, 4, 5, 6, 7, 8,
    ]  # fmt: skip


@pytest.fixture
def laid(visit: TestClient) -> str:
    """Give the page of three years laid out."""
    return visit.get("/rotation?years=3").text


def test_beds_stand_down_and_years_across_with_families_by_name_and_mark(laid: str) -> None:
    """Each bed has a row and each year a column; a family goes by its two letters and its name, so
    that it is told in black and white; what is broken and what it all costs stands below.
    """
    table = laid.split("<table")[1].split("</table>", maxsplit=1)[0]
    assert re.findall(r'<th scope="col">(\d+)</th>', table) == ["2027", "2028", "2029"]
    for words in ("North", "onion family", '<b class="family-mark">Al</b>'):
        assert words in table
    assert "none could cost less than" in laid
    assert "Rests that are broken" in laid


def test_kept_it_is_part_of_the_garden_and_dropped_it_is_gone(
    visit: TestClient, planned: Path, laid: str
) -> None:
    """The button keeps what was looked at; the page then shows it; another drops it; both can be
    taken back.
    """
    mark = re.search(r'name="haulm-garden" value="(\w+)"', laid)
    assert mark is not None
    sent = {"haulm-garden": mark[1], "do": "keep", "years": "3"}
    html = visit.post("/rotation", data=sent).text
    assert "the next plan is made within it" in html
    assert "This is the rotation that is kept" in html
    assert open_garden(planned).garden.allotments
    html = visit.post("/rotation", data={"haulm-garden": mark[1], "do": "drop"}).text
    assert "None is kept" in html
    assert open_garden(planned).garden.allotments == ()


def test_a_number_of_years_that_no_rotation_has_asks_again(visit: TestClient) -> None:
    """Two, nine or none at all: the page stands as if nothing was asked."""
    for years in ("2", "9", "many", ""):
        assert "None is kept" in visit.get(f"/rotation?years={years}").text
