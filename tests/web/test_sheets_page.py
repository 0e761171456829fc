"""Sheets: each can be looked at, printed and taken along, and a garden file taken in."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from gardens import SMALL
from haulm.desk.garden.editing import parts_of

Door = Callable[[Path], TestClient]
OTHER = SMALL.replace("Quill Yard", "Ink Yard").replace('name = "North"', 'name = "Hedge"')


def own(client: TestClient) -> Path:
    """Give the notebook whose pages a client shows."""
    path: Path = client.app.state.shelf.own  # type: ignore[attr-defined]
    return path


def words_of(content: bytes) -> str:
    """Give the words of a PDF."""
    return "\n".join(page.extract_text() for page in PdfReader(BytesIO(content)).pages)


def test_every_sheet_is_listed_and_the_first_is_shown(visit: TestClient) -> None:
    """The beds, the strips, the tide and the shopping list are listed; a bed's sheet is drawn."""
    text = visit.get("/sheets").text
    for title in ("Bed sheets of North", "Bed strips", "Larder tide", "Shopping list"):
        assert title in text
    assert "<title>Bed sheet of North" in text


@pytest.mark.parametrize("sheet", ["bed-strips", "larder-tide", "shopping-list", "beds/south"])
def test_any_sheet_can_be_looked_at(visit: TestClient, sheet: str) -> None:
    """A sheet chosen from the list is drawn as it is printed."""
    answer = visit.get("/sheets", params={"sheet": sheet})
    assert answer.status_code == 200
    assert 'class="sheet"' in answer.text
    assert "<svg" in answer.text.split('class="sheet"', 1)[1]


@pytest.mark.parametrize(
    "asked",
    [{"sheet": "beds/none"}, {"sheet": "../x"}, {"page": "0"}, {"page": "999"}, {"page": "<b>"}],
)
def test_no_such_sheet_or_page_is_said_to_be_none(visit: TestClient, asked: dict[str, str]) -> None:
    """What is not among the sheets is answered so."""
    assert visit.get("/sheets", params=asked).status_code == 404
    assert visit.get("/sheets/print/beds/none").status_code == 404
    assert visit.get("/sheets/file/none.csv").status_code == 404


def test_one_sheet_prints_as_a_pdf_that_names_its_bed(visit: TestClient) -> None:
    """The PDF of a bed's sheet opens in the browser and has the bed's name in its text."""
    answer = visit.get("/sheets/print/beds/north")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.headers["content-disposition"].startswith("inline")
    assert "North" in words_of(answer.content)
    assert "South" not in words_of(answer.content)


def test_the_whole_set_prints_as_one_pdf(visit: TestClient) -> None:
    """Every bed, the strips, the tide and the list are in one PDF."""
    whole = words_of(visit.get("/sheets/print").content)
    for words in ("North", "South", "garlic"):
        assert words in whole


def test_paper_is_chosen_once_and_kept(visit: TestClient) -> None:
    """Letter is 8.5 × 11 in, 612 × 792 points; once chosen it stays, A4 (210 × 297 mm) before."""

    def size() -> tuple[int, int]:
        page = PdfReader(BytesIO(visit.get("/sheets/print/beds/north").content)).pages[0]
        return round(page.mediabox.width), round(page.mediabox.height)

    assert size() == (595, 842)
    visit.get("/sheets", params={"paper": "letter"})
    assert size() == (612, 792)
    visit.get("/sheets", params={"paper": "a napkin"})
    assert size() == (612, 792)


@pytest.mark.parametrize(
    ("name", "starts"),
    [
        ("calendar.ics", b"BEGIN:VCALENDAR"),
        ("plan.json", b"{"),
        ("plantings.csv", b""),
        ("garden.toml", b""),
    ],
)
def test_files_can_be_taken_along(visit: TestClient, name: str, starts: bytes) -> None:
    """Calendar, plan, tables and the garden itself come as files with a name."""
    answer = visit.get(f"/sheets/file/{name}")
    assert answer.status_code == 200
    assert answer.headers["content-disposition"] == f"attachment; filename*=UTF-8''{name}"
    assert answer.content.startswith(starts)
    assert len(answer.content) > 100


def test_a_garden_without_a_record_hands_out_none(visit: TestClient) -> None:
    """Where there is no daily record there is no file of one, and none is listed."""
    assert "weather.csv" not in visit.get("/sheets").text
    assert visit.get("/sheets/file/weather.csv").status_code == 404


def test_without_a_plan_only_the_garden_can_be_taken(door: Door, unplanned: Path) -> None:
    """Without a plan there are no sheets; the garden's own file is there all the same."""
    pages = door(unplanned)
    assert "This page is drawn from a plan." in pages.get("/sheets").text
    assert pages.get("/sheets/print").status_code == 404
    assert b"Quill Yard" in pages.get("/sheets/file/garden.toml").content


def test_a_garden_file_is_looked_into_before_it_replaces(visit: TestClient) -> None:
    """What would be replaced is said first; nothing changes until it is answered."""
    before = parts_of(own(visit))
    asked = visit.post("/sheets/garden", files={"file": ("garden.toml", OTHER.encode())})
    assert "This would be replaced" in asked.text
    assert "Ink Yard" in asked.text
    assert parts_of(own(visit)) == before


def test_a_garden_file_is_taken_in_when_asked(visit: TestClient) -> None:
    """After the answer the garden is that of the file."""
    mark = visit.app.state.shelf.garden.mark  # type: ignore[attr-defined]
    typed = {"content": OTHER, "seen": mark}
    visit.post("/sheets/garden/take", data=typed)
    assert parts_of(own(visit))["bed"][0]["name"] == "Hedge"


def test_a_garden_changed_meanwhile_is_asked_about_again(visit: TestClient) -> None:
    """Where the garden is no longer what was shown as replaced, it is shown again first."""
    before = parts_of(own(visit))
    typed = {"content": OTHER, "seen": "another"}
    answer = visit.post("/sheets/garden/take", data=typed)
    assert "This would be replaced" in answer.text
    assert parts_of(own(visit)) == before


@pytest.mark.parametrize(
    "content", [b"", b"\x00\x01\x02\xff" * 50, b"[garden\n", b"PK\x03\x04rest", b"x = 1\n" * 10]
)
def test_a_file_that_is_no_garden_is_refused_with_a_reason(
    visit: TestClient, content: bytes
) -> None:
    """Binary, cut and foreign files are refused in words, and nothing changes."""
    before = parts_of(own(visit))
    answer = visit.post("/sheets/garden", files={"file": ("garden.toml", content)})
    assert answer.status_code == 422
    assert "To mend" in answer.text
    assert parts_of(own(visit)) == before


def test_no_file_chosen_is_said(visit: TestClient) -> None:
    """Pressing the button without a file says so beside it."""
    answer = visit.post("/sheets/garden")
    assert answer.status_code == 422
    assert "no file was chosen" in answer.text
