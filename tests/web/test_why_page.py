"""Why, on pages: every figure of the plan leads to an answer, without a script."""

import re
from collections.abc import Callable
from html import unescape
from pathlib import Path
from urllib.parse import quote

import pytest
from starlette.testclient import TestClient

from gardens import small_garden
from haulm.desk.garden.exchange import import_garden

Door = Callable[[Path], TestClient]
WHY = re.compile(r'href="(/why[^"]*)"')


def ways(html: str) -> set[str]:
    """Give the addresses of all answers that a page leads to."""
    return {unescape(address) for address in WHY.findall(html)}


def test_what_one_more_would_bring_has_a_page(visit: TestClient) -> None:
    """Ground, hours, room and trays each have their part; the pieces say what they rest on."""
    html = visit.get("/why").text
    assert "What one more would bring" in html
    for head in ("Ground", "Hours", "Room in store", "Trays"):
        assert f"<h2>{head}</h2>" in html
    assert "judged" in html
    assert "/why/left-out" in ways(html)
    assert "/why/tunnel" in ways(html)


@pytest.mark.parametrize("page", ["/ground", "/year", "/larder", "/table", "/year/garlic-1"])
def test_every_page_of_the_plan_leads_to_answers(visit: TestClient, page: str) -> None:
    """The four pages lead to what one more would bring, and their figures each to an answer."""
    html = visit.get(page).text
    found = ways(html)
    assert found
    if page.count("/") == 1:
        assert "/why" in found
    for address in sorted(found - {"/why"})[:6]:
        answer = visit.get(address)
        assert answer.status_code == 200, address
        assert "<h1>" in answer.text


def test_no_figure_of_the_plantings_is_bare(visit: TestClient) -> None:
    """In the table of all plantings every cell but the bed's name leads to its planting's why."""
    html = visit.get("/year").text
    table = html[html.index("all-plantings") :]
    rows = re.findall(r"<tr><th scope=\"row\">.*?</tr>", table)
    assert rows
    for row in rows:
        cells = re.findall(r"<td>(.*?)</td>", row)
        assert all('class="why"' in cell for cell in cells[1:])


def test_an_answer_ends_in_its_sum_and_its_sources(visit: TestClient) -> None:
    """A planting's page has its sum, set apart, and says of each figure what it rests on."""
    html = visit.get("/why/planting/garlic-1").text
    assert 'class="part sum"' in html
    assert "The figures it was reckoned with" in html
    assert "common practice" in html
    assert "<script" not in html.split("<main")[1].split("</main>")[0]


def test_what_was_left_out_has_a_page(visit: TestClient) -> None:
    """The kinds that are not planted are told, or that all of them are."""
    html = visit.get("/why/left-out").text
    assert "What was left out" in html
    assert "left out; " in html or "Every kind that could serve is planted" in html


def test_a_tunnel_is_planned(visit: TestClient) -> None:
    """The garden is planned again with a tunnel, and what it would feed is told with its doubt."""
    html = visit.get("/why/tunnel").text
    assert "A tunnel of 10.0 m² beside the beds would" in html
    assert "may be luck" in html


def test_a_name_that_is_not_there_is_answered_by_near_ones(visit: TestClient) -> None:
    """An address that names nothing on the plan says so, and what may have been meant."""
    answer = visit.get("/why/garlic-l")
    assert answer.status_code == 404
    assert "Did you mean garlic-1" in unescape(answer.text)


def test_what_is_typed_into_an_address_is_shown_as_text(visit: TestClient) -> None:
    """No address can put markup into a page."""
    answer = visit.get("/why/" + quote("<b>x</b>"))
    assert answer.status_code == 404
    assert "<b>x</b>" not in answer.text


def test_without_a_plan_the_way_to_one_is_shown(door: Door, tmp_path: Path) -> None:
    """Where nothing is planned there is nothing to ask why of, and a plan is offered."""
    client = door(import_garden(small_garden(tmp_path), tmp_path / "bare.haulm")[0])
    answer = client.get("/why")
    assert answer.status_code == 200
    assert "Make a plan" in answer.text


def test_figures_are_marked_as_the_reader_likes(visit: TestClient) -> None:
    """A reader of decimal commas finds them in answers too."""
    visit.cookies.set("reading", "comma.day")
    html = visit.get("/why/planting/garlic-1").text
    assert re.search(r"\d,\d+ m²", html)
