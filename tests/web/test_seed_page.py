"""The page of seed in hand: what to do about each packet, and its test."""

import re
from datetime import UTC, datetime
from pathlib import Path

from starlette.testclient import TestClient

from haulm.desk.garden.editing import Change, change_garden, parts_of

AT = datetime(2027, 1, 5, 9, tzinfo=UTC)


def sent(visit: TestClient, **typed: str) -> str:
    """Send a test as the page would, and give the page it leads to."""
    mark = re.search(r'name="haulm-garden" value="(\w+)"', visit.get("/seed").text)
    assert mark
    return visit.post("/seed", data={"haulm-garden": mark[1], **typed}).text


def test_a_packet_is_to_be_tested_then_kept(visit: TestClient, planned: Path) -> None:
    """Onion seed of last year is to be tested; eighteen of twenty sprouted, it is kept."""
    typed = {"kind": "onion/seed", "units": 320, "year": 2026}
    change_garden(planned, [Change("stock", "", typed)], AT)
    text = visit.get("/seed").text
    assert "Test first." in text
    assert "Such seed lives about 1 year." in text
    assert "What the plan wants" in text
    text = sent(visit, packet="1", sprouted="18", tried="20")
    assert "Keep." in text
    assert "18 of 20 sprouted" in text


def test_half_a_test_is_asked_about(visit: TestClient, planned: Path) -> None:
    """A test that does not say of how many is not taken."""
    typed = {"kind": "onion/seed", "units": 320, "year": 2026}
    change_garden(planned, [Change("stock", "", typed)], AT)
    assert "Give both." in sent(visit, packet="1", sprouted="18", tried="")
    assert "tried" not in parts_of(planned)["stock"][0]


def test_without_seed_the_page_says_so(visit: TestClient) -> None:
    """Who has told of no packet is shown what the plan wants all the same."""
    text = visit.get("/seed").text
    assert "No planting stock is told in the garden." in text
    assert 'href="/seed"' in visit.get("/crops").text
    assert 'href="/seed"' in visit.get("/sheets").text


def test_a_packet_is_told_of_and_taken_out_on_the_page(visit: TestClient, planned: Path) -> None:
    """A packet is told by the name of its kind, its seeds and its year; what cannot be is said
    beside its field; one that is used up is taken out.
    """
    text = sent(visit, do="add", seen="", kind="onoin", units="lots", year="soon")
    assert "onoin" in text
    assert not parts_of(planned)["stock"]
    text = sent(visit, do="add", seen="", kind="onion from seed", units="320", year="2026")
    assert "320 seeds from 2026" in text
    (packet,) = parts_of(planned)["stock"]
    assert (packet["units"], packet["year"]) == (320, 2026)
    seen = re.search(
        r'name="do" value="remove"><input type="hidden" name="seen" value="(\w+)"', text
    )
    assert seen
    assert "No planting stock" in sent(visit, do="remove", seen=seen[1])
    assert not parts_of(planned)["stock"]
