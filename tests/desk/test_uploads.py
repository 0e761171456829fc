from collections.abc import Mapping
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from gardens import SMALL, small_garden
from haulm.desk.garden.editing import (
    Change,
    change_garden,
    garden_text,
    history,
    load_garden,
    load_record,
    mark_of,
    parts_of,
    record_csv,
    undo_last,
)
from haulm.desk.garden.exchange import export_garden, import_garden
from haulm.desk.garden.opening import open_garden
from haulm.desk.garden.uploads import plain_name
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Grade
from haulm.site.records import DailyRecord, MonthlyNormals

AT = datetime(2027, 2, 1, 12, 0, tzinfo=UTC)
GRID = {"grid": True}


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """Give a notebook of the small garden."""
    toml = small_garden(tmp_path)
    path, _ = import_garden(toml, None)
    toml.unlink()
    return path


def days(years: int = 4) -> bytes:
    """Write a daily record of some years: cool winters, warm summers, some rain."""
    lines = ["date,tmin_c,tmax_c,rain_mm"]
    for ordinal in range(date(2012, 1, 1).toordinal(), date(2012 + years, 1, 1).toordinal()):
        day = date.fromordinal(ordinal)
        warm = 10 - abs(day.month - 7) * 2
        lines.append(f"{day},{warm - 2 + ordinal % 5},{warm + 9},{ordinal % 4}")
    return "\n".join(lines).encode()


def test_a_record_takes_the_place_of_the_weather(book: Path) -> None:
    """A record dropped on the page is the garden's weather from then on, is given back day by day,
    and can be taken back.
    """
    before = parts_of(book)
    load_record(book, "days.csv", days(), None, AT)
    weather = open_garden(book).garden.weather
    assert isinstance(weather, DailyRecord)
    assert weather.tmin_c.size == 1461
    assert parts_of(book)["weather"] == ({"record": "days.csv"},)
    given_back = record_csv(book)
    assert given_back is not None
    assert given_back.count(b"\n") == 1462
    load_record(book, "again.csv", given_back, None, AT)
    again = open_garden(book).garden.weather
    assert isinstance(again, DailyRecord)
    assert (again.tmin_c == weather.tmin_c).all()
    assert undo_last(book) == "the daily record “again.csv” loaded"
    assert undo_last(book) == "the daily record “days.csv” loaded"
    assert parts_of(book) == before
    assert record_csv(book) is None
    assert isinstance(open_garden(book).garden.weather, MonthlyNormals)


def test_a_record_given_up_can_be_had_back(book: Path) -> None:
    """Whoever takes the grid in place of a record, and thinks again, has every day of it back."""
    load_record(book, "days.csv", days(), None, AT)
    kept = record_csv(book)
    (seen,) = parts_of(book)["weather"]
    told = change_garden(book, [Change("weather", mark_of(seen), GRID)], AT)
    assert [finding.place for finding in told] == [("weather", "grid")]
    assert record_csv(book) is None
    undo_last(book)
    assert record_csv(book) == kept


def test_columns_of_its_own_are_told_by_the_grower(book: Path) -> None:
    """A record in °F under names of its own is read by the names given for them."""
    text = days().decode().replace("date,tmin_c,tmax_c,rain_mm", "when,low,high,wet")
    with pytest.raises(FaultsFoundError, match=r"date.*map of columns") as refused:
        load_record(book, "days.csv", text.encode(), None, AT)
    assert "[" not in str(refused.value)
    columns = {"date": "when", "tmin_f": "low", "tmax_f": "high"}
    load_record(book, "days.csv", text.encode(), columns, AT)
    assert parts_of(book)["weather"] == ({"record": "days.csv", "columns": columns},)
    weather = open_garden(book).garden.weather
    assert isinstance(weather, DailyRecord)
    assert weather.tmin_c.max() < 0
    with pytest.raises(FaultsFoundError):
        load_record(book, "days.csv", text.encode(), columns | {"moon": "wet"}, AT)


HEADER = b"date,tmin_c,tmax_c,rain_mm\n"
REFUSED: Mapping[str, tuple[bytes, str]] = {
    "nothing": (b"", "empty"),
    "a packed file": (b"PK\x03\x04" + bytes(200), "packed file or a spreadsheet"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(200), "picture"),
    "noise": (bytes(range(256)) * 40, "not UTF-8"),
    "no text": (b"date,tmin_c\n\0\0\0\0", "no text file"),
    "too large": (HEADER + b"1" * 20_000_000, "larger than 20 MB"),
    "cut short": (days()[:-3], "number of cells"),
    "a header alone": (HEADER, "."),
    "two days thousands of years apart": (
        HEADER + b"1900-01-01,1,2,0\n9999-12-31,1,2,0\n",
        "run over 8",
    ),
    "a few days": (b"\n".join(days().splitlines()[:40]), "."),
    "a page": (b"<html><script>alert(1)</script></html>" * 9, "."),
    "an open quotation": (HEADER + b'"2012-01-01,1,2,3\n' * 20_000, "."),
    "one endless line": (b"date,tmin_c," + b"x" * 3_000_000, "line 1 is too long"),
    "a million columns": (b"date" + b",tmin_c" * 1_000_000, "line 1 is too long"),
    "figures without end": (HEADER + b"2012-01-01,1e400,-1e400,nan\n" * 400, "."),
}


@pytest.mark.parametrize(("data", "said"), REFUSED.values(), ids=REFUSED.keys())
def test_what_is_no_record_is_refused_with_a_reason(book: Path, data: bytes, said: str) -> None:
    """Whatever is dropped in place of a record is refused in words, and the garden is as it was."""
    before = book.read_bytes()
    with pytest.raises(FaultsFoundError, match=said) as refused:
        load_record(book, "days.csv", data, None, AT)
    assert all(0 < len(finding.what) < 500 for finding in refused.value.findings)
    assert any(finding.remedy for finding in refused.value.findings)
    assert book.read_bytes() == before


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("days.csv", "days.csv"),
        ("C:\\Users\\ada\\days.csv", "days.csv"),
        ("../../etc/passwd", "passwd.csv"),
        ("garden.toml", "garden.toml.csv"),
        ("/", "record.csv"),
        ("", "record.csv"),
        ("..", "record.csv"),
        ("a\nb\0<c>.csv", "abc.csv"),
        ("station.DLY", "station.DLY"),
        ("x" * 300 + ".csv", "x" * 76 + ".csv"),
    ],
)
def test_a_record_s_name_is_a_plain_name(typed: str, kept: str) -> None:
    """A file's name never leads out of the garden's folder, nor over garden.toml."""
    assert plain_name(typed) == kept


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    changes=st.lists(
        st.tuples(st.integers(0, 700), st.binary(max_size=6), st.integers(0, 40)), max_size=4
    )
)
def test_a_damaged_record_is_answered_in_words(
    book: Path, changes: list[tuple[int, bytes, int]]
) -> None:
    """Bytes put into a record, or lost from it, give a record or findings, never a crash."""
    data = days(1)[:800]
    for at, put, lost in changes:
        data = data[:at] + put + data[at + lost :]
    with pytest.raises(FaultsFoundError):  # a month of days is too few to plan by
        load_record(book, "days.csv", data, None, AT)


def test_the_garden_is_handed_out_and_taken_in_again(book: Path, tmp_path: Path) -> None:
    """The garden file that a page hands out makes the same garden in another notebook."""
    other = tmp_path / "other.haulm"
    assert load_garden(other, garden_text(book).encode(), AT) == ()
    assert open_garden(other).garden == open_garden(book).garden
    assert history(other) == ()
    load_garden(book, SMALL.replace("Quill Yard", "Quill Court").encode(), AT)
    assert open_garden(book).garden.name == "Quill Court"
    assert undo_last(book) == "another garden loaded"
    assert open_garden(book).garden.name == "Quill Yard"


def test_a_garden_whose_record_did_not_come_is_told(book: Path, tmp_path: Path) -> None:
    """A garden file that names a record keeps the notebook's own of that name; elsewhere the grid
    stands in, and it is said so.
    """
    load_record(book, "days.csv", days(), None, AT)
    text = garden_text(book)
    assert load_garden(book, text.encode(), AT) == ()
    assert isinstance(open_garden(book).garden.weather, DailyRecord)
    other = tmp_path / "other.haulm"
    told = load_garden(other, text.encode(), AT)
    assert [(one.grade, one.place) for one in told] == [
        (Grade.WARNING, ("weather", "record")),
        (Grade.WARNING, ("weather", "grid")),
    ]
    assert parts_of(other)["weather"] == (GRID,)
    written = export_garden(book, tmp_path / "garden.toml")
    assert [path.name for path in written] == ["garden.toml", "days.csv"]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "empty"),
        (b"\xff\xfe\x00", "UTF-8"),
        (b"garden = ", "not TOML"),
        (b"a = " + b"[" * 100_000, "without end|not TOML"),
        (b"a = " + b"9" * 10_000, "without end|no part"),
        (b"x" * 2_000_001, "larger than 2 MB"),
        (SMALL.replace('"leek"', '"lek"').encode(), "lek"),
        (b"garden = 1\nweather = 3\nplace = []\n", "a part of its own"),
    ],
)
def test_what_is_no_garden_is_refused_with_a_reason(
    book: Path, tmp_path: Path, content: bytes, said: str
) -> None:
    """A file that is no sound garden.toml changes nothing and makes nothing."""
    before = book.read_bytes()
    with pytest.raises(FaultsFoundError, match=said):
        load_garden(book, content, AT)
    with pytest.raises(FaultsFoundError, match=said):
        load_garden(tmp_path / "new.haulm", content, AT)
    assert book.read_bytes() == before
    assert list(tmp_path.iterdir()) == [book]
