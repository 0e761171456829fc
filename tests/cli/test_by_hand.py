"""What a grower settles and notes from the command line."""

import json
from pathlib import Path

import pytest

from gardens import small_garden
from shell import Haulm


@pytest.fixture
def book(haulm: Haulm, tmp_path: Path) -> Path:
    """Give the small garden's notebook."""
    haulm("import", small_garden(tmp_path))
    return tmp_path / "garden.haulm"


def test_pins_are_settled_listed_and_let_go(haulm: Haulm, book: Path) -> None:
    """Each pin comes last in the list, says what it settles, and goes by its number."""
    assert haulm("pin", book).out == "Nothing is settled by hand.\n"
    haulm("pin", book, "at-least", "Garlic", "--area", "3 m2", "--year", "2027")
    haulm("pin", book, "only-in", "leek/winter", "--bed", "north", "--bed", "south")
    ran = haulm("pin", book, "apart", "onion", "--from", "leek")
    assert ran.out.splitlines() == [
        "1. at least 3.00 m² of garlic sown or set in 2027",
        "2. winter leek only in North and South",
        "3. onion never in one bed with leek at one time",
    ]
    told = json.loads(haulm("pin", book, "--let-go", "2", "--json").out)
    assert [(one["number"], one["rule"]) for one in told] == [(1, "at least"), (2, "apart")]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("at-most", "garlik", "--area", "2 m2"), 'Did you mean "garlic"?'),
        (("at-most", "garlic"), "at most how much is not said."),
        (("roughly", "garlic"), "at least"),
        (("only-in", "garlic", "--bed", "nowhere"), "this garden has no bed “nowhere”."),
        (("--let-go", "4"), "there is no pin 4; there are 0."),
    ],
)
def test_a_pin_that_cannot_be_is_refused(
    haulm: Haulm, book: Path, words: tuple[str, ...], said: str
) -> None:
    """What is wrong is told with what to do, and nothing is written."""
    ran = haulm("pin", book, *words)
    assert ran.code == 1
    assert said in ran.err
    assert haulm("pin", book).out == "Nothing is settled by hand.\n"


def test_notes_are_written_listed_and_taken_back(haulm: Haulm, book: Path) -> None:
    """A failure is noted of a planting by its id, the plan carries on from it, and says so."""
    haulm("plan", book, "--on", "2027-02-01", "--effort", "quick")
    assert haulm("note", book).out == "Nothing is noted.\n"
    ran = haulm("note", book, "onion-1", "failed", "--on", "2027-06-18")
    assert ran.out.startswith("1. onion from sets in North, sown or set on ")
    assert ran.out.endswith(": failed, seen on 18 June 2027\n")
    haulm("note", book, "onion", "eaten-up", "--place", "shed", "--on", "2027-06-18")
    planned = haulm("plan", book, "--on", "2027-06-20", "--effort", "quick").out
    assert "What changes:" in planned
    assert "Onion from sets in North" in planned
    assert "failed, as noted on 18 June 2027." in planned
    assert "the plan of 1 February 2027 is taken as done until 14 June 2027" in planned
    told = json.loads(haulm("note", book, "--take-back", "1", "--json").out)
    assert [one["sentence"] for one in told] == ["onion in Shed: eaten up, seen on 18 June 2027"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("onion-9", "failed"), "the plan has no planting called onion-9."),
        (("onion-1", "late"), "late needs them"),
        (("onion-1", "vanished"), "failed"),
        (("onion", "failed"), "food in store can only be eaten up, not failed."),
        (("--take-back", "3"), "there is no note 3; there are 0."),
    ],
)
def test_a_note_that_cannot_be_is_refused(
    haulm: Haulm, book: Path, words: tuple[str, ...], said: str
) -> None:
    """What is wrong is told with what to do, and nothing is written."""
    haulm("plan", book, "--on", "2027-02-01", "--effort", "quick")
    ran = haulm("note", book, *words)
    assert ran.code == 1
    assert said in ran.err
    assert haulm("note", book).out == "Nothing is noted.\n"
