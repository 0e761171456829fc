"""An entry written as one line."""

from datetime import date
from pathlib import Path

import pytest

from haulm.desk.season.diary_line import is_line, typed_line
from haulm.desk.season.diary_typed import TypedEntry
from haulm.measure.errors import FaultsFoundError

DAY = date(2027, 6, 20).isoformat()


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("watered North, 4 cans", {"kind": "watered", "bed": "north", "amount": "4 cans"}),
        ("watered bed north 40 l", {"kind": "watered", "bed": "north", "amount": "40 l"}),
        ("Rained 8 mm", {"kind": "rained", "amount": "8 mm"}),
        ("put by garlic, 6 kg, Pantry", {"kind": "put by", "food": "garlic", "store": "pantry"}),
        ("weeded south", {"kind": "weeded", "bed": "south"}),
    ],
)
def test_a_line_is_read(planned: Path, line: str, said: dict[str, str]) -> None:
    """The kind of entry, names and an amount are found, with or without commas."""
    typed = typed_line(planned, line, DAY)
    assert {key: getattr(typed, key) for key in said} == said
    assert isinstance(typed, TypedEntry)


@pytest.mark.parametrize("line", ["watered norht, 4 cans", "watered north, south", "sang, north"])
def test_nothing_is_guessed(planned: Path, line: str) -> None:
    """A name that is none, a second bed, a word that is no kind of entry: each is refused."""
    with pytest.raises(FaultsFoundError):
        typed_line(planned, line, DAY)


def test_a_kind_alone_is_no_line() -> None:
    """“put by” is a kind of entry whose options tell the rest; “watered north” is a line."""
    assert not is_line("put by")
    assert is_line("watered north")
    assert not is_line("sang north")
