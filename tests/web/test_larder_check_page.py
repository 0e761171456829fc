"""A store looked through on one page: every lot at once, all of it or nothing."""

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.desk.season.diary import diary_of
from haulm.season.records import EntryKind
from web.conftest import Door
from web.test_larder_books_page import KIND, PANTRY, write

CHECK = "/larder/check/pantry"


@pytest.fixture
def stocked(door: Door, planned: Path) -> TestClient:
    """Give the pages of a garden with two lots of garlic in the pantry."""
    write(planned, 1, "put by", "2026-08-20", amount="3 kg", **PANTRY, **KIND)
    write(planned, 2, "put by", "2026-08-27", amount="2 kg", purpose="plant", **PANTRY, **KIND)
    return door(planned)


def counts(planned: Path) -> list[tuple[str | None, float]]:
    """Give the counts that the diary holds: lot, and what was sound."""
    entries = diary_of(planned).entries
    return [
        (one.about.lot, one.count.sound)
        for one in entries
        if one.kind is EntryKind.COUNTED and one.count is not None
    ]


def test_every_lot_of_the_store_is_asked_about(stocked: TestClient) -> None:
    """Both lots, seed too, have blanks, what is likely, and what to do with soft ones."""
    text = stocked.get(CHECK).text
    assert text.count("<fieldset>") == 2
    assert "mouldy cloves are thrown away" in text
    assert "%(" not in text


def test_what_was_left_blank_counts_nothing(stocked: TestClient, planned: Path) -> None:
    """One lot counted, the other left blank: one entry."""
    sent = {"day": "2027-01-30", "sent": "s1", "sound e1": "40", "soft e1": "2"}
    assert stocked.post(CHECK, data=sent, follow_redirects=False).status_code == 303
    assert counts(planned) == [("e1", 40.0)]


def test_a_form_sent_twice_counts_once(stocked: TestClient, planned: Path) -> None:
    """A second press of the key writes nothing new."""
    sent = {"day": "2027-01-30", "sent": "s1", "sound e1": "40"}
    stocked.post(CHECK, data=sent)
    stocked.post(CHECK, data=sent)
    assert len(counts(planned)) == 1


def test_one_wrong_field_writes_nothing_and_is_told_beside_it(
    stocked: TestClient, planned: Path
) -> None:
    """Soft ones without what is sound are asked about; the other lot is not written either."""
    sent = {"day": "2027-01-30", "sent": "s1", "soft e1": "2", "sound e2": "30"}
    answer = stocked.post(CHECK, data=sent)
    assert answer.status_code == 422
    assert "Write 0 if nothing is." in answer.text
    assert 'value="30"' in answer.text
    assert counts(planned) == []


def test_a_store_with_nothing_in_it_has_no_sheet(stocked: TestClient) -> None:
    """A store that is not there is not found."""
    assert stocked.get("/larder/check/nowhere").status_code == 404


def test_the_sheet_and_the_table_are_handed_out(stocked: TestClient) -> None:
    """The sheet is a PDF, the table names every lot and leaves what is found blank."""
    assert stocked.get(f"{CHECK}/sheet.pdf").content[:4] == b"%PDF"
    rows = stocked.get(f"{CHECK}/table.csv").text.splitlines()
    assert rows[0].startswith("lot,what,put_by,day,sound,soft,sprouted")
    assert len(rows) == 3
