"""The page that looks back on a year."""

from collections.abc import Iterator
from datetime import date
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from haulm.desk.planning.plans import UNLAID, kept_plan
from haulm.notebook.diary import write_entries
from haulm.notebook.file import open_notebook
from haulm.web.app import create_app
from haulm.web.guard import cookie_name
from haulm.web.run import hosts_of
from haulm.web.shelf import Shelf
from season.year_lived import Luck, diary_of_year
from web.conftest import ORIGIN, PORT, TOKEN

NEW_YEAR = date(2027, 12, 31)


@pytest.fixture
def looked_back(planned: Path) -> Iterator[TestClient]:
    """Give the pages at the end of a year in which one planting was lost, and one not written."""
    plan = kept_plan(planned, UNLAID).plan
    lost = next(p for p in plan.plantings if p.crop == "french bean")
    entries = diary_of_year(plan, NEW_YEAR, {lost.id: Luck(lost=True)})
    with open_notebook(planned, writing=True) as notebook:
        write_entries(notebook, [one for one in entries if one.about.food != "onion"])
    shelf = Shelf(planned, lambda: NEW_YEAR)
    app = create_app(shelf, TOKEN, PORT, hosts_of("127.0.0.1", PORT))
    with TestClient(app, base_url=ORIGIN, headers={"Origin": ORIGIN}) as client:
        client.cookies.set(cookie_name(PORT), TOKEN)
        yield client


def test_the_page_tells_the_year(looked_back: TestClient) -> None:
    """It names the plan that counts, tells what came beside what was planned, why it parted, and
    says of what nobody wrote that it is not written; a chart stands for each food.
    """
    text = looked_back.get("/review").text
    assert "the plan of 1 February 2027" in text
    assert "promises held" in text
    assert "lost" in text
    assert "not written" in text
    assert "8 seasons in 10" in text
    assert text.count('class="drawn"') >= 3
    assert "%(" not in text


def test_it_is_found_from_the_diary_and_the_year(looked_back: TestClient) -> None:
    """Diary and Year lead to it."""
    assert 'href="/review"' in looked_back.get("/diary").text
    assert 'href="/review"' in looked_back.get("/year").text


def test_a_year_that_nobody_planned_is_refused_in_words(looked_back: TestClient) -> None:
    """For 2019 the page says that no plan was kept; for words that are no year it shows its own."""
    assert "no plan was kept" in looked_back.get("/review?year=2019").text
    assert "promises held" in looked_back.get("/review?year=last").text


def test_before_the_first_week_is_over_it_says_so(visit: TestClient) -> None:
    """On the day of the plan there is nothing yet to look back on."""
    assert "Look back when a week is over" in visit.get("/review").text


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_it_is_handed_out_on_two_pages(looked_back: TestClient, paper: str) -> None:
    """The page leads to its two printed pages, on either paper; any other paper is not found."""
    text = looked_back.get("/review").text
    assert f'href="/review/{paper}.pdf?year=2027"' in text
    assert text.index("/review/a4.pdf") < text.index("/review/letter.pdf")
    made = looked_back.get(f"/review/{paper}.pdf?year=2027")
    assert made.headers["Content-Type"] == "application/pdf"
    assert len(PdfReader(BytesIO(made.content)).pages) == 2
    assert looked_back.get("/review/a5.pdf").status_code == 404
    assert looked_back.get(f"/review/{paper}.pdf?year=2019").status_code == 404


def test_the_year_that_is_shown_is_the_year_that_is_asked_about(looked_back: TestClient) -> None:
    """Without a year in the address, its form and its presses name the year they look back on."""
    text = looked_back.get("/review").text
    assert text.count('name="of" value="2027"') == 2
    assert 'name="year" inputmode="numeric" size="5" value="2027"' in text
