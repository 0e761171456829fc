"""What is forecast, typed on a page of This week."""

import re

from starlette.testclient import TestClient

from haulm.desk.garden.asking import Reply
from haulm.desk.garden.fetching import Network


def test_a_day_is_told_and_the_next_is_offered(visit: TestClient) -> None:
    """After a day is written down, the form stands at the day after, and This week counts it."""
    assert "Nothing is told" in visit.get("/week/ahead").text
    sent = {"day": "2027-02-02", "tmin": "-3,5", "rain": "0"}
    answer = visit.post("/week/ahead", data=sent)
    assert answer.status_code == 200
    assert 'value="2027-02-03"' in answer.text
    assert "−3.5 °C" in answer.text
    assert "0 mm" in answer.text
    assert "1 day is told" in visit.get("/week").text


def test_rules_on_blight_and_fleece_are_kept(visit: TestClient) -> None:
    """What is ticked and told stays ticked and told; a piece that cannot be read is shown beside
    its field, with what was typed.
    """
    sent = {"seen": "", "blight": ["hutton", "irish"], "fleece": "2 m x 10 m, 12 m2"}
    text = visit.post("/week/ahead/by", data=sent).text
    assert 'value="irish" checked' in text
    assert 'value="smith" checked' not in text
    assert 'value="2 m x 10 m, 12 m2"' in text
    seen = re.search(r'name="seen" value="([^"]+)"', text)
    assert seen is not None
    answer = visit.post("/week/ahead/by", data={"seen": seen[1], "fleece": "2 m x, a roll"})
    assert answer.status_code == 422
    assert 'value="2 m x, a roll"' in answer.text
    assert "“2 m x”" in answer.text
    assert "“a roll”" in answer.text
    text = visit.post("/week/ahead/by", data={"seen": seen[1]}).text
    assert 'irish" checked' not in text
    assert "12 m2," not in text


def test_a_faulty_day_is_shown_beside_its_field(visit: TestClient) -> None:
    """What was typed stays, and the fault stands with the field it lies in."""
    answer = visit.post("/week/ahead", data={"day": "2027-02-02", "tmin": "5", "tmax": "1"})
    assert answer.status_code == 422
    assert 'value="5"' in answer.text
    assert "above the highest" in answer.text


def test_nothing_is_asked_without_a_tick(visit: TestClient) -> None:
    """The page says what would be sent; without the tick nothing is, with it one request is."""
    asked: list[str] = []

    def ask(address: str) -> Reply:
        """Refuse."""
        asked.append(address)
        return Reply(422, b"out of range")

    visit.app.state.shelf.network = Network(ask, lambda _seconds: None)  # type: ignore[attr-defined]
    assert "latitude 47.60, longitude 8.10, height 120 m" in visit.get("/week/ahead").text
    assert "nothing was asked for" in visit.post("/week/ahead/ask", data={}).text
    assert not asked
    assert "out of range" in visit.post("/week/ahead/ask", data={"may": "yes"}).text
    assert len(asked) == 1
