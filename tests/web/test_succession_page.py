"""The page of successive sowings."""

from starlette.testclient import TestClient


def test_the_crop_and_the_planting_lead_to_it(visit: TestClient) -> None:
    """A kind's figures and an opened planting both lead to its successive sowings."""
    assert 'href="/succession/leek/winter"' in visit.get("/crops/leek").text
    assert 'href="/succession/' in visit.get("/year/garlic-1").text


def test_it_tells_each_sowing_with_its_odds(visit: TestClient) -> None:
    """For the bean season of the table: days to sow, when ready, how they meet, and a drawing."""
    text = visit.get("/succession/french bean/dwarf").text
    for words in ("Sown direct", "8 years in 10", "days apart in harvest", "<svg", "green beans"):
        assert words in text
    assert "%(" not in text


def test_the_days_can_be_asked(visit: TestClient) -> None:
    """What is typed is used, and stands in the form again."""
    asked = {"from": "2027-07-20", "until": "2027-08-20", "every": "10"}
    text = visit.get("/succession/french bean/dwarf", params=asked).text
    assert 'value="2027-07-20"' in text
    assert 'value="10"' in text
    assert "the season of" not in text


def test_what_cannot_be_asked_is_told_beside_its_field(visit: TestClient) -> None:
    """Words for a day, and a harvest every day, are told and not guessed at."""
    wrong = visit.get("/succession/radish/summer", params={"from": "soon"})
    assert wrong.status_code == 422
    assert "soon is no day" in wrong.text
    assert visit.get("/succession/radish/summer", params={"every": "1"}).status_code == 422


def test_where_none_can_be_ready_the_reason_stands(visit: TestClient) -> None:
    """Beans in January: a killing frost."""
    asked = {"from": "2028-01-01", "until": "2028-01-20", "every": "10"}
    text = visit.get("/succession/french bean/dwarf", params=asked).text
    assert "No sowing serves any of these days" in text
    assert "killing frost" in text


def test_an_unknown_kind_is_not_found(visit: TestClient) -> None:
    """What the catalogue does not have leads nowhere."""
    assert visit.get("/succession/moon flower").status_code == 404
