"""The note for the neighbour on its page."""

from starlette.testclient import TestClient

DAYS = {"from": "2027-07-10", "to": "2027-07-23"}


def test_the_note_is_shown_and_printed(visit: TestClient) -> None:
    """Days typed give the visits, what to pick and to leave, and the same as a PDF."""
    text = visit.get("/week/away", params=DAYS).text
    for words in ("Cans at each visit", "Please leave", "Before we leave"):
        assert words in text
    assert "%(" not in text
    assert visit.get("/week/away/note.pdf", params=DAYS).content.startswith(b"%PDF")


def test_days_that_are_none_are_said(visit: TestClient) -> None:
    """What is no day is said at its field, days that end before they begin are refused in words."""
    assert "this is no day" in visit.get("/week/away", params={"from": "soon", "to": ""}).text
    wrong = {"from": DAYS["to"], "to": DAYS["from"]}
    assert "are no days away" in visit.get("/week/away", params=wrong).text
    assert visit.get("/week/away/note.pdf", params={"from": "soon"}).status_code == 404


def test_without_days_the_page_asks(visit: TestClient) -> None:
    """Where the garden tells no days away the page shows its two fields and no fault."""
    text = visit.get("/week/away").text
    assert "First day away" in text
    assert "To mend" not in text
