"""The first visit: three answers make a garden, and nothing is guessed in silence."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from gardens import SMALL
from haulm.desk.garden.editing import parts_of
from haulm.web.planning import Planner

Door = Callable[[Path], TestClient]
ANSWERS = {
    "place_name": "Zürich",
    "adults": "2",
    "children": "1",
    "ground_m2": "40 m2",
    "units": "metric",
}


@pytest.fixture
def newcomer(door: Door, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> TestClient:
    """Give the pages before there is a garden; plans are ordered, but none is made."""
    monkeypatch.setattr(Planner, "start", lambda _planner, order: order)
    return door(tmp_path / "mine.haulm")


def notebook(client: TestClient) -> Path:
    """Give the notebook that a client's pages would make."""
    own: Path = client.app.state.shelf.own  # type: ignore[attr-defined]
    return own


def test_whoever_comes_without_a_garden_is_asked_three_questions(newcomer: TestClient) -> None:
    """Every page leads a newcomer to the three questions."""
    for address in ("/", "/table", "/week", "/sheets"):
        answer = newcomer.get(address)
        assert answer.url.path == "/first"
        for question in ("Where is it?", "Who eats?", "How much ground?"):
            assert question in answer.text


def test_three_answers_make_a_garden(newcomer: TestClient) -> None:
    """A town, the eaters and the ground are enough for a garden with a table and beds."""
    answer = newcomer.post("/first", data=ANSWERS, follow_redirects=False)
    assert answer.headers["location"] == "/first/plan"
    parts = parts_of(notebook(newcomer))
    assert parts["garden"][0]["name"] == "Zürich"
    assert len(parts["eater"]) == 3
    assert parts["table"]
    assert parts["weather"][0]["grid"] is True


def test_what_was_taken_for_granted_is_told(newcomer: TestClient) -> None:
    """After the answers the page tells the climate's limits and what was assumed, with links."""
    text = newcomer.post("/first", data=ANSWERS).text
    assert "What was taken for granted" in text
    assert "the soil is taken to be loam" in text.lower()
    assert "frost dates can be weeks off" in text
    for address in ("/table", "/place", "/ground"):
        assert f'href="{address}"' in text


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("place_name", "", "Name the town near you."),
        ("place_name", "Qwxzzy", "no town called"),
        ("adults", "two", "is no number of people"),
        ("adults", "", "they are not counted"),
        ("children", "-1", "is no number of people"),
        ("adults", "99", "people eat here"),
        ("ground_m2", "", "it is not given"),
        ("ground_m2", "40 kg", "40 kg"),
        ("ground_m2", "1000000 m2", "is no ground that can be planned for"),
        ("latitude_deg", "north", "is not degrees"),
        ("height_m", "up there", "up there"),
    ],
)
def test_a_wrong_answer_is_told_beside_its_field(
    newcomer: TestClient, field: str, typed: str, said: str
) -> None:
    """What cannot be taken is told at the field, all else that was typed is kept, none written."""
    answers = ANSWERS | {field: typed}
    if field == "height_m":
        answers |= {"latitude_deg": "47.4", "longitude_deg": "8.5"}
    answer = newcomer.post("/first", data=answers)
    assert answer.status_code == 422
    assert said in answer.text
    assert answer.text.count("at-fault") >= 1
    for kept in set(ANSWERS) - {field, "units"}:
        assert f'value="{ANSWERS[kept]}"' in answer.text
    assert not notebook(newcomer).exists()


@pytest.mark.parametrize(("ground", "units"), [("40 m2", "metric"), ("400 sq ft", "us")])
def test_units_need_not_be_chosen_where_the_ground_has_them(
    newcomer: TestClient, ground: str, units: str
) -> None:
    """Who types square feet is read in feet and pounds without being asked."""
    newcomer.post("/first", data=ANSWERS | {"ground_m2": ground, "units": ""})
    assert parts_of(notebook(newcomer))["garden"][0]["units"] == units


def test_bare_ground_and_no_units_are_asked_about(newcomer: TestClient) -> None:
    """Forty of nothing in particular is no size of ground."""
    answer = newcomer.post("/first", data=ANSWERS | {"ground_m2": "40", "units": ""})
    assert answer.status_code == 422
    assert "given without a unit" in answer.text


def test_every_fault_is_told_at_once(newcomer: TestClient) -> None:
    """Nothing answered: each question is told what it lacks, in one go."""
    answer = newcomer.post("/first", data={})
    assert answer.text.count('<p class="fault"') == 5


def test_a_name_of_several_towns_is_asked_about(newcomer: TestClient) -> None:
    """A name that many towns have is not guessed: they are offered, and the chosen one is taken."""
    answers = ANSWERS | {"place_name": "Springfield"}
    offered = newcomer.post("/first", data=answers)
    assert offered.status_code == 422
    assert "Which one?" in offered.text
    key = "39.92 -83.81 Springfield"
    assert f'value="{key}"' in offered.text
    newcomer.post("/first", data=answers | {"town": key})
    assert parts_of(notebook(newcomer))["place"][0]["longitude"] == -83.81


def test_degrees_are_taken_before_a_town(newcomer: TestClient) -> None:
    """Latitude and longitude may be typed as they are spoken, the south by its letter."""
    degrees = {"latitude_deg": "33° 52' S", "longitude_deg": "151,2", "place_name": "By the bay"}
    newcomer.post("/first", data=ANSWERS | degrees)
    place = parts_of(notebook(newcomer))["place"][0]
    assert place["latitude"] == pytest.approx(-33 - 52 / 60)
    assert place["longitude"] == 151.2


def test_a_garden_at_sea_is_refused(newcomer: TestClient) -> None:
    """There is no climate for a garden in the sea, and the page says so."""
    answer = newcomer.post("/first", data=ANSWERS | {"latitude_deg": "30", "longitude_deg": "-40"})
    assert answer.status_code == 422
    assert "lies in the sea" in answer.text


@pytest.mark.parametrize(
    ("typed", "units", "area_m2"),
    [
        ("40 m2", "metric", 40.0),
        ("4 x 10 m", "metric", 40.0),
        ("40", "metric", 40.0),
        ("400 sq ft", "us", 37.16),
        ("400", "us", 37.16),
        ("4 x 100", "us", 37.16),
    ],
)
def test_ground_is_read_as_it_is_written(
    newcomer: TestClient, typed: str, units: str, area_m2: float
) -> None:
    """An area, or length × width; a bare number is in the measures chosen (1 sq ft = 0.0929 m²)."""
    answers = ANSWERS | {"ground_m2": typed, "units": units}
    newcomer.post("/first", data=answers)
    garden = newcomer.app.state.shelf.garden.opened.garden  # type: ignore[attr-defined]
    assert sum(bed.outline.area_m2 for bed in garden.beds) == pytest.approx(area_m2, rel=0.01)


def test_towns_are_offered_as_they_are_typed(newcomer: TestClient) -> None:
    """Two letters and more are answered with towns, state and country beside each."""
    offered = newcomer.get("/towns", params={"like": "Springf"}).json()
    names = [town["name"] for town in offered]
    assert "Springfield, Ohio, United States" in names
    assert newcomer.get("/towns").json() == []


def test_a_garden_that_is_there_is_never_overwritten(visit: TestClient) -> None:
    """Where there is a garden the questions are not asked, and answers to them change nothing."""
    assert "it stays as it is" in visit.get("/first").text
    before = parts_of(notebook(visit))
    visit.post("/first", data=ANSWERS)
    visit.post("/first/file", files={"file": ("garden.toml", b"[garden]")})
    assert parts_of(notebook(visit)) == before


def test_a_garden_file_begins_a_garden(newcomer: TestClient) -> None:
    """A garden.toml becomes the garden; one with faults is told what to mend, and none is made."""
    broken = newcomer.post("/first/file", files={"file": ("garden.toml", b"[garden\nname")})
    assert broken.status_code == 422
    assert "To mend" in broken.text
    assert not notebook(newcomer).exists()
    nothing = newcomer.post("/first/file")
    assert "no file was chosen" in nothing.text
    newcomer.post("/first/file", files={"file": ("garden.toml", SMALL.encode())})
    assert parts_of(notebook(newcomer))["garden"][0]["name"] == "Quill Yard"


def test_the_invented_garden_is_marked_and_left_again(newcomer: TestClient) -> None:
    """One press opens the demo, every page says that it is invented, and one link leads back."""
    newcomer.post("/first/demo")
    table = newcomer.get("/crops")
    assert "An invented garden." in table.text
    assert 'href="/first/own"' in table.text
    assert newcomer.get("/first/own").url.path == "/first"


def test_what_was_typed_cannot_break_the_page(newcomer: TestClient) -> None:
    """Signs of HTML in an answer stand on the page as they were typed."""
    answer = newcomer.post("/first", data=ANSWERS | {"place_name": '<b>"x"</b>'})
    assert "<b>" not in answer.text.split("<main", 1)[1]
    assert "&lt;b&gt;" in answer.text


def test_a_form_of_the_other_garden_changes_nothing(door: Door, planned: Path) -> None:
    """A window drawn of one's own garden cannot write into the invented one opened since."""
    visit = door(planned)
    drawn = re.findall(r'name="haulm-garden" value="(\w+)"', visit.get("/table").text)
    assert drawn
    visit.post("/first/demo")
    refused = visit.post("/undo", data={"back": "/table", "haulm-garden": drawn[0]})
    assert refused.status_code == 409
    assert "another garden was opened" in refused.text
