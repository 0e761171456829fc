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
