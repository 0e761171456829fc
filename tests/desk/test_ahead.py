"""The coming days at the desk: typed in the garden's units, or read from tables."""

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from haulm.desk.at_hand import AtHand
from haulm.desk.garden.exchange import import_garden
from haulm.desk.season.ahead import (
    TypedAhead,
    ahead_of,
    hours_of,
    load_ahead,
    tell_ahead,
)
from haulm.measure.errors import FaultsFoundError

DAY = date(2027, 5, 3)
AT = datetime(2027, 5, 2, 16, tzinfo=UTC)


@pytest.fixture
def notebook(small_toml: Path, tmp_path: Path) -> Path:
    """Give the small garden's notebook, without a plan."""
    return import_garden(small_toml, tmp_path / "small.haulm")[0]


def table(tmp_path: Path, text: str) -> Path:
    """Write a table."""
    path = tmp_path / "forecast.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_bare_number_is_in_the_gardens_units(notebook: Path) -> None:
    """Thirty is a hot day in one garden and a frost in another; a unit that is written counts."""
    typed = TypedAhead("2027-05-03", tmin="30", rain="0.5")
    assert tell_ahead(notebook, typed, "us", AT).tmin_c == pytest.approx(-1.1111, abs=1e-3)
    assert tell_ahead(notebook, typed, "metric", AT + timedelta(hours=1)).tmin_c == 30.0
    written = TypedAhead("2027-05-03", tmin="−1,5 °C", odds="30 %", humid="7 h")
    told = tell_ahead(notebook, written, "us", AT + timedelta(hours=2))
    assert (told.tmin_c, told.rain_odds, told.humid_hours) == (-1.5, 0.3, 7.0)
    (kept,) = ahead_of(notebook, DAY)
    assert (kept.tmin_c, kept.rain_mm) == (-1.5, 0.5)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (TypedAhead("3 May", tmin="1"), "“3 May” is no day"),
        (TypedAhead("2027-05-03", tmin="cold"), "not a temperature"),
        (TypedAhead("2027-05-03", tmin="3 mm"), "mm"),
        (TypedAhead("2027-05-03", humid="30"), "cannot be 30"),
        (TypedAhead("2027-05-03"), "nothing is told"),
    ],
)
def test_what_does_not_fit_is_not_taken(notebook: Path, typed: TypedAhead, words: str) -> None:
    """A faulty figure is told of in words, and nothing of that day is written."""
    with pytest.raises(FaultsFoundError) as caught:
        tell_ahead(notebook, typed, "metric", AT)
    assert words in str(caught.value)
    assert ahead_of(notebook, date(2027, 1, 1)) == ()


def test_a_table_of_days_is_read(notebook: Path, tmp_path: Path) -> None:
    """Units stand in the header; an empty cell is not told."""
    text = "day;min_c;max_f;rain_mm;rain_odds\n2027-05-03;-1;57,2;3;60\n2027-05-04;2;;0;\n"
    assert load_ahead(notebook, table(tmp_path, text), AT).days == 2
    first, second = ahead_of(notebook, DAY)
    assert (first.tmin_c, first.rain_odds) == (-1.0, 0.6)
    assert first.tmax_c == pytest.approx(14.0)
    assert (second.tmax_c, second.rain_mm, second.rain_odds) == (None, 0.0, None)
    assert first.origin == "forecast.csv"


def test_a_table_of_hours_is_read(notebook: Path, tmp_path: Path) -> None:
    """An hour's temperature and humidity are kept by the garden's clock; told again, the last
    counts.
    """
    text = "day,time,temperature_f,humidity\n2027-05-03,6:00,50,91\n2027-05-03,07:30,52,88 %\n"
    assert load_ahead(notebook, table(tmp_path, text), AT).hours == 2
    load_ahead(
        notebook,
        table(tmp_path, "day,time,temperature_c,humidity\n2027-05-03,06:00,9,95\n"),
        AT,
    )
    first, second = hours_of(notebook, DAY)
    assert (first.day, first.hour, first.temperature_c, first.humidity) == (DAY, 6, 9.0, 95.0)
    assert (second.hour, second.humidity) == (7, 88.0)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("day,min\n2027-05-03,1\n", "the column “min” is not known"),
        ("min_c\n1\n", "there is no column “day”"),
        ("day,min_c,min_f\n2027-05-03,1,34\n", "stands in two units"),
        ("day,humidity,temperature_c\n2027-05-03,91,10\n", "a table of hours has day, time"),
        ("day,time,temperature_c,humidity\n2027-05-03,25:00,10,91\n", "no time of day"),
        ("day,time,temperature_c,humidity\n2027-05-03,05:00,10,191\n", "191 % cannot be"),
        ("day,min_c\n2027-05-03,1\n2027-05-04,x\n", "line 3"),
        ("day,min_c\n", "no rows"),
    ],
)
def test_a_faulty_table_leaves_everything_as_it_was(
    notebook: Path, tmp_path: Path, text: str, words: str
) -> None:
    """No column is guessed and no row is passed over: nothing is taken, and each fault is told."""
    with pytest.raises(FaultsFoundError) as caught:
        load_ahead(notebook, table(tmp_path, text), AT)
    assert words in str(caught.value)
    assert ahead_of(notebook, date(2027, 1, 1)) == ()


def test_the_pages_see_what_was_told_at_once(notebook: Path) -> None:
    """What is told is there for the next page, past days are not, and no plan has to be made
    again for it.
    """
    garden = AtHand(notebook, lambda: DAY)
    mark = garden.mark
    before = garden.ahead
    assert not before
    tell_ahead(notebook, TypedAhead("2027-05-02", tmin="1"), "metric", AT)
    tell_ahead(notebook, TypedAhead("2027-05-04", tmin="1"), "metric", AT)
    assert [one.day for one in garden.ahead] == [date(2027, 5, 4)]
    assert garden.mark == mark
