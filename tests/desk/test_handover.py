"""What the handover says of the small garden: its beds, its sickness, its seed, its file."""

from datetime import date

import pytest

from haulm.desk.garden.opening import Opened
from haulm.desk.planning.plans import Made
from haulm.desk.season.ledger import books_held
from haulm.desk.showing.handover import HandedOver, handover_of
from haulm.desk.showing.sheets import bundle_of
from haulm.sheets.handover import Handover


@pytest.fixture(scope="module")
def told(made: Made, opened: Opened) -> Handover:
    """Give the small garden's handover as of the day it was planned."""
    day = date(2027, 2, 1)
    books = books_held(opened, (), day).today
    return handover_of(HandedOver(made, bundle_of(made, day), books, None, "quill.haulm"))


def said(told: Handover, title: str) -> list[str]:
    """Give a section's lines."""
    (section,) = (one for one in told.sections if one.title == title)
    return [f"{line.lead} {line.words}".strip() for line in section.lines]


def test_every_bed_is_told_with_what_comes(told: Handover) -> None:
    """A neighbour finds each bed by its number and name, and what goes into it next."""
    beds = said(told, "The beds")
    assert [line.split(":")[0] for line in beds] == ["1 North", "2 South"]
    assert all("next" in line for line in beds)


def test_white_rot_is_told_with_its_year_and_what_to_do(told: Handover) -> None:
    """The bed with white rot is named with the year until which it is closed, to be visited last.

    The disease's advice is the catalogue's own.
    """
    (line,) = said(told, "Closed beds: visit them last")
    assert line.startswith("South: no onion family until 20")
    assert "white rot found 2026" in line
    assert "visit that bed last" in line
    assert "clean tools" in line


def test_the_year_is_told_month_by_month_by_crop(told: Handover) -> None:
    """The year's rhythm names months and crops, no verb twice."""
    year = said(told, "The year round")
    assert 4 <= len(year) <= 12
    assert any("leek" in line for line in year)
    assert all("Sow" not in line and "in trays," not in line for line in year)


def test_the_file_is_told_with_the_commands_that_open_it(told: Handover) -> None:
    """Whoever finds the paper can open the notebook by two commands."""
    file = " ".join(said(told, "This file"))
    assert "haulm serve quill.haulm" in file
    assert "make serve" in file
