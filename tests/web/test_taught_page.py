"""The page of what the year taught: asked about, confirmed, planned by and taken back."""

import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from haulm.desk.garden.editing import parts_of
from haulm.desk.season.diary import write_entry
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.desk.season.learning import lessons_of
from haulm.desk.season.lesson_records import Moved, Taught
from haulm.web.pages.taught import bar_of

AT = datetime(2027, 1, 5, 9, tzinfo=UTC)
DAY = date(2027, 2, 1)


def write(path: Path, number: int, kind: str, day: date, **said: str) -> None:
    """Write an entry of onions in the pantry."""
    typed = TypedEntry(kind, day.isoformat(), food="onion", store="pantry", **said)
    write_entry(path, typed, Written(f"e{number}", AT + timedelta(minutes=number), "l"), DAY)


def counted(path: Path, soft: int) -> None:
    """Put a hundred onions by, and find so many of them soft after sixteen weeks."""
    day = date(2026, 8, 15)
    write(path, 1, "put by", day, crop_kind="onion/sets", amount="100 pieces", form="cured")
    found = {"sound": f"{100 - soft} pieces", "soft": f"{soft} pieces"}
    write(path, 2, "counted", day + timedelta(weeks=16), **found)


def sent(visit: TestClient, address: str, **typed: str) -> str:
    """Send a form as the page would, and give the page it leads to."""
    mark = re.search(r'name="haulm-garden" value="(\w+)"', visit.get("/diary").text)
    assert mark
    return visit.post(address, data={"haulm-garden": mark[1], **typed}).text


def test_a_diary_that_teaches_nothing_yet_says_so(visit: TestClient) -> None:
    """Who has weighed nothing is told what would teach."""
    assert "Nothing yet. A planting teaches once" in visit.get("/taught").text
    assert 'href="/taught"' in visit.get("/diary").text


def test_an_odd_count_is_asked_about_and_said_to_be_right(visit: TestClient, planned: Path) -> None:
    """Sixty soft of a hundred waits for a word; said to be right it counts, and can be unsaid."""
    counted(planned, 60)
    text = visit.get("/taught").text
    assert "Is this right?" in text
    assert "counted 40 pieces sound, 60 pieces soft" in text
    text = sent(visit, "/taught/record", entry="e2", said="right")
    assert "Is this right?" not in text
    assert "1 record" in text
    assert "Is this right?" in sent(visit, "/taught/record", entry="e2", said="nothing")
    assert "Set aside: " in sent(visit, "/taught/record", entry="e2", said="aside")


def test_a_figure_is_planned_by_and_taken_back(visit: TestClient, planned: Path) -> None:
    """One press plans by a figure, and one press by the usual again."""
    counted(planned, 25)
    text = visit.get("/taught").text
    assert "Too few records to tell." in text
    key = re.search(r'name="key" value="([^"]+)"', text)
    assert key
    text = sent(visit, "/taught", key=key[1])
    assert "Planned by:" in text
    assert len(parts_of(planned)["own_figure"]) == 2
    sent(visit, "/taught", do="back", key=key[1])
    assert parts_of(planned)["own_figure"] == ()


def test_a_figure_nobody_moved_is_told_as_such(visit: TestClient) -> None:
    """An address that names a figure of another day changes nothing, and says what is wrong."""
    text = sent(visit, "/taught", key="leek/winter methods.modules.survival")
    assert "nothing moves" in text


def test_a_bar_holds_its_figure_the_usual_and_both_spreads(planned: Path) -> None:
    """All that is drawn lies on the scale, in the order of its values."""
    counted(planned, 25)
    (moved,) = [one for one in lessons_of(planned, DAY).moved if one.taught is Taught.KEEPS]
    at = bar_of(moved)
    assert 0 < at.low < at.value < at.high < at.usual < 100


@pytest.mark.parametrize("same", [0.0, 5.0])
def test_a_bar_of_one_value_is_drawn(same: float) -> None:
    """A figure that is known without spread has its place all the same."""
    moved = Moved(Taught.READY, "a", "b", "c", "d", same, same, same, same, 1.0, (), ())
    assert 0 < bar_of(moved).value < 100
