"""The note for whoever looks after the garden."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from haulm.desk.planning.plans import UNLAID, Made, kept_plan
from haulm.desk.season.ahead import tell_days
from haulm.desk.season.away import away_note, next_away, visit_lists
from haulm.ground.records import Cover, DiseaseFound
from haulm.household.records import Away
from haulm.measure.errors import FaultsFoundError
from haulm.season.ahead import DayAhead
from haulm.sheets.away_note import draw_away_note
from haulm.sheets.bundle import Paper
from haulm.sheets.paper import to_pdf
from haulm.web.away_words import neighbour_words, sheet_of
from haulm.web.reader import reader_from

FIRST, LAST = date(2027, 7, 10), date(2027, 7, 23)
TODAY = date(2027, 7, 1)
METRIC = reader_from(None, "metric")


@pytest.fixture
def kept(planned: Path) -> Made:
    """Give the small garden's kept plan."""
    return kept_plan(planned, UNLAID)


def changed(made: Made, **changes: object) -> Made:
    """Change what the garden tells."""
    return replace(made, garden=replace(made.garden, **changes))  # type: ignore[arg-type]


def test_a_dry_fortnight_s_cans_are_told_by_the_visit(planned: Path, kept: Made) -> None:
    """Every visit lies within the days away, three days apart, and gives whole cans; each watering
    says after how much rain it is skipped.
    """
    note = away_note(planned, kept, TODAY, FIRST, LAST)
    assert (note.first, note.last) == (FIRST, LAST)
    days = [day for day, _ in visit_lists(note)]
    assert all(FIRST < day <= LAST for day in days)
    assert {(b - a).days for a, b in pairwise(days)} == {3}
    given = [water for _, told in visit_lists(note) for _, water in told]
    assert given
    assert all(water.cans >= 1 and water.skip_mm > 0 for water in given)


def test_a_tunnel_is_opened_and_always_watered(planned: Path, kept: Made) -> None:
    """A covered bed gets no rain: the note says to water it and when to open and close it."""
    beds = tuple(replace(bed, cover=Cover.TUNNEL) for bed in kept.garden.beds)
    note = away_note(planned, changed(kept, beds=beds), TODAY, FIRST, LAST)
    sheet = sheet_of(note, METRIC)
    assert {row.skip for row in sheet.rows} == {"always water"}
    assert "Open and close" in dict(sheet.blocks)


def test_a_sick_bed_is_visited_last(planned: Path, kept: Made) -> None:
    """A bed closed by a disease comes last, with clean boots."""
    north, south = kept.garden.beds
    sick = replace(north, found=(DiseaseFound("clubroot", 2026),))
    well = replace(south, found=())
    note = away_note(planned, changed(kept, beds=(sick, well)), TODAY, FIRST, LAST)
    both = [told for _, told in visit_lists(note) if len(told) == len(note.beds)]
    assert both
    assert all(told[-1][0].id == "north" for told in both)
    assert "clean boots" in " ".join(dict(neighbour_words(note, METRIC))["Please leave"])


def test_the_garden_s_own_days_away_are_taken(planned: Path, kept: Made) -> None:
    """Without days given the next ones that the garden tells count, and who stays is named."""
    away = (
        Away(date(2027, 3, 1), date(2027, 3, 5)),
        Away(FIRST, LAST, (kept.garden.household.eaters[0].name,)),
    )
    household = replace(kept.garden.household, away=away)
    told = changed(kept, household=household)
    assert next_away(told.garden, TODAY) == away[1]
    note = away_note(planned, told, TODAY, None, None)
    assert (note.first, note.last) == (FIRST, LAST)
    assert note.at_home == tuple(one.name for one in household.eaters[1:])


@pytest.mark.parametrize(
    ("first", "last"), [(LAST, FIRST), (FIRST, None), (FIRST, FIRST + timedelta(days=90))]
)
def test_days_that_are_none_are_refused(
    planned: Path, kept: Made, first: date, last: date | None
) -> None:
    """Days away that end before they begin, that have one end, or that last a season."""
    with pytest.raises(FaultsFoundError):
        away_note(planned, kept, TODAY, first, last)


def test_nothing_told_is_asked_for(planned: Path, kept: Made) -> None:
    """A garden that tells no days away is asked for them."""
    none = changed(kept, household=replace(kept.garden.household, away=()))
    with pytest.raises(FaultsFoundError, match="no days away"):
        away_note(planned, none, TODAY, None, None)


def test_the_note_is_printed(planned: Path, kept: Made) -> None:
    """It is a PDF, with lines left for whom to ring, and boxes to tick."""
    note = away_note(planned, kept, TODAY, FIRST, LAST)
    sheet = sheet_of(note, reader_from(None, "us"))
    assert to_pdf(draw_away_note(sheet, Paper.LETTER)).startswith(b"%PDF")
    (home, *_rest) = sheet.household
    assert home[0] == "Before we leave"
    assert "full on the evening before" in home[1][0]


def test_days_told_ahead_are_used(planned: Path, kept: Made) -> None:
    """Days of the absence that were told stand for drawn ones: the rain forecast is told as such,
    and a cold night as the night it is forecast for; days before and after it count for nothing.
    """
    before = away_note(planned, kept, TODAY, FIRST, LAST)
    at = datetime(2027, 7, 1, 8, tzinfo=UTC)
    told = (
        DayAhead(FIRST - timedelta(days=1), at, tmin_c=-5.0, tmax_c=3.0, rain_mm=90.0),
        DayAhead(FIRST + timedelta(days=1), at, tmin_c=-2.0, tmax_c=15.0, rain_mm=0.0),
        DayAhead(FIRST + timedelta(days=2), at, rain_mm=40.0),
    )
    tell_days(planned, told)
    note = away_note(planned, kept, TODAY, FIRST, LAST)
    assert (before.rain_told, before.frost_nights) == (0, ())
    assert note.rain_told == 2
    assert note.rain_mm >= 40.0
    assert note.frost_nights == (FIRST + timedelta(days=1),)
    assert before.frost_odds < 0.1
    # Nine nights ahead: √((1.34 + 9 × 0.4)² + 1²) = 5.04; −2 °C lies 0.397 of it under 0 °C.
    assert note.frost_odds == pytest.approx(0.654, abs=0.001)
    sheet = sheet_of(note, METRIC)
    assert "By what is forecast for 2 of the days" in " ".join(sheet.lead)
    frost = " ".join(dict(sheet.blocks).get("Frost", ()))
    assert not note.tender or "night that ends on Sun 11 Jul" in frost
