"""Plain daily tables, good and bad."""

from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.site.readers.choose import read_record
from haulm.site.readers.plain import read_daily_csv
from haulm.site.records import DailyRecord

HEADER = "date,tmin_c,tmax_c,rain_mm\n"


def read(
    tmp_path: Path, text: str | bytes, name: str = "torrenz.csv"
) -> tuple[DailyRecord, tuple[Finding, ...]]:
    """Write a file and read it as a record."""
    path = tmp_path / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_record(path)


def faults_of(tmp_path: Path, text: str | bytes) -> list[str]:
    """Read a bad file and give its faults as told."""
    with pytest.raises(FaultsFoundError) as caught:
        read(tmp_path, text)
    assert all(
        finding.remedy for finding in caught.value.findings if finding.grade is not Grade.NOTE
    )
    return [str(finding) for finding in caught.value.findings if finding.grade is Grade.FAULT]


def test_a_good_file_is_read_without_a_word(tmp_path: Path) -> None:
    """Three days in order, with all figures, give those figures and no finding."""
    record, findings = read(
        tmp_path, HEADER + "2027-03-01,-1.5,8,0\n2027-03-02,0,9.5,2.4\n2027-03-03,2,11,0\n"
    )
    assert findings == ()
    assert record.first_day == date(2027, 3, 1)
    np.testing.assert_array_equal(record.tmin_c, [-1.5, 0, 2])
    np.testing.assert_array_equal(record.tmax_c, [8, 9.5, 11])
    np.testing.assert_array_equal(record.rain_mm, [0, 2.4, 0])


@pytest.mark.parametrize(
    "text",
    [
        "\ufeffdate;tmin_c;tmax_c;rain_mm\r\n2027-03-01;-1,5;8,0;2,4\r\n",
        "Date\tTmin (°C)\tTmax (°C)\tRain (mm)\n20270301\t-1.5\t8\t2.4\n",
        "DATE,PRCP,TMAX,TMIN\n2027-03-01,2.4,8.0,−1.5\n",
        "day|low|high|precipitation\n2027-03-01T00:00|-1.5|8|2.4\n",
        'date,min temp,max temp,rainfall\n2027-03-01,"-1,5","8,0","2,4"\n',
    ],
)
def test_usual_tables_are_recognised(tmp_path: Path, text: str) -> None:
    """Delimiters, decimal commas, a byte order mark and usual headers are known, and columns go
    by their names, not their places.
    """
    record, _ = read(tmp_path, text)
    assert (record.tmin_c[0], record.tmax_c[0], record.rain_mm[0]) == (-1.5, 8.0, 2.4)


def test_decimal_commas_are_told(tmp_path: Path) -> None:
    """Decimal commas are read, and it is noted from which line on."""
    _, findings = read(tmp_path, "date;tmin_c;tmax_c\n2027-03-01;1;8\n2027-03-02;1,5;8\n")
    assert any("line 3" in note.where and "decimal commas" in note.what for note in findings)


def test_fahrenheit_and_inches(tmp_path: Path) -> None:
    """Columns in °F and inches, told by header or by map, are turned into °C and mm."""
    text = "date,TMIN (F),TMAX (F),Rain (in)\n2027-03-01,14,50,0.5\n"
    record, _ = read(tmp_path, text)
    assert record.tmin_c[0] == pytest.approx(-10)
    assert record.tmax_c[0] == pytest.approx(10)
    assert record.rain_mm[0] == pytest.approx(12.7)
    path = tmp_path / "mapped.csv"
    path.write_text("when,night,noon,wet,wind\n2027-03-01,14,50,0.5,3\n")
    columns = {"date": "when", "tmin_f": "night", "tmax_f": "noon", "rain_in": "wet"}
    mapped, _ = read_daily_csv(path, columns)
    np.testing.assert_allclose(mapped.tmax_c, record.tmax_c)
    np.testing.assert_allclose(mapped.rain_mm, record.rain_mm)


def test_a_map_that_does_not_fit_is_told_at_once(tmp_path: Path) -> None:
    """A quantity nobody reads and a column the file lacks are both told, with what is there."""
    path = tmp_path / "torrenz.csv"
    path.write_text(HEADER + "2027-03-01,1,8,0\n")
    with pytest.raises(FaultsFoundError) as caught:
        read_daily_csv(path, {"date": "Datum", "tmin_c": "tmin_c", "wind": "wind"})
    told = str(caught.value)
    assert "“Datum”" in told
    assert "date, tmin_c, tmax_c, rain_mm" in told
    assert "“wind” is no quantity" in told


def test_rain_may_be_left_out(tmp_path: Path) -> None:
    """Without a rain column the rain is untold, not 0, and a note says so."""
    record, findings = read(tmp_path, "date,tmin_c,tmax_c\n2027-03-01,1,8\n2027-03-02,1,8\n")
    assert np.isnan(record.rain_mm).all()
    assert [note.what for note in findings] == ["no rain was read on any day."]


def test_what_was_not_read_is_never_zero(tmp_path: Path) -> None:
    """Empty cells, words and codes for missing leave the day untold."""
    record, findings = read(
        tmp_path,
        HEADER + "2027-03-01,1,8,\n2027-03-02,NA,9,1\n2027-03-03,-9999,9,1\n2027-03-04,1,9,1\n",
    )
    np.testing.assert_array_equal(record.rain_mm, [np.nan, 1, 1, 1])
    np.testing.assert_array_equal(record.tmin_c, [1, np.nan, np.nan, 1])
    assert any("line 4" in note.where and "-9999" in note.what for note in findings)


def test_gaps_are_told_and_left_open(tmp_path: Path) -> None:
    """Days without a line are named and counted, and stay untold."""
    record, findings = read(tmp_path, HEADER + "2027-03-01,1,8,0\n2027-03-05,1,8,0\n")
    assert record.tmin_c.size == 5
    assert np.isnan(record.tmin_c[1:4]).all()
    assert np.isnan(record.rain_mm[1:4]).all()
    (gap,) = [finding for finding in findings if finding.grade is Grade.WARNING]
    assert "3 of 5 days are missing (2027-03-02 to 2027-03-04)" in gap.what


def test_days_out_of_order_are_sorted(tmp_path: Path) -> None:
    """A file that runs backwards is sorted by day, and a note says so."""
    record, findings = read(tmp_path, HEADER + "2027-03-02,2,8,0\n2027-03-01,1,8,0\n")
    np.testing.assert_array_equal(record.tmin_c, [1, 2])
    assert "sorted" in findings[0].what


def test_a_day_twice_over(tmp_path: Path) -> None:
    """The same day with the same figures counts once with a note; with others it is a fault that
    names both lines.
    """
    record, findings = read(tmp_path, HEADER + "2027-03-01,1,8,0\n2027-03-01,1,8,0\n")
    assert record.tmin_c.size == 1
    assert findings[0].grade is Grade.NOTE
    (told,) = faults_of(tmp_path, HEADER + "2027-03-01,1,8,0\n2027-03-01,1,9,0\n")
    assert "lines 2 and 3" in told
    assert "different figures" in told


def test_one_swapped_day_is_dropped(tmp_path: Path) -> None:
    """A day whose minimum lies above its maximum is warned of by line and counts as not read;
    its rain stays.
    """
    days = "".join(f"2027-03-{day:02},1,8,0\n" for day in range(1, 21))
    record, findings = read(tmp_path, HEADER + days + "2027-03-21,9,2,3\n")
    (warning,) = [finding for finding in findings if finding.grade is Grade.WARNING]
    assert "line 22" in warning.where
    assert np.isnan(record.tmin_c[20])
    assert np.isnan(record.tmax_c[20])
    assert record.rain_mm[20] == 3


def test_swapped_columns_are_a_fault(tmp_path: Path) -> None:
    """Where every minimum lies above its maximum the columns are swapped, and the file is
    refused.
    """
    days = "".join(f"2027-03-{day:02},8,1,0\n" for day in range(1, 21))
    (told,) = faults_of(tmp_path, HEADER + days)
    assert "are the columns swapped?" in told
    assert "lines 2, 3, 4, 5, 6 and 15 more" in told


@pytest.mark.parametrize("day", ["2027-02-29", "2027-13-01", "01.03.2027", "3/1/2027", ""])
def test_impossible_and_foreign_dates(tmp_path: Path, day: str) -> None:
    """A day the calendar lacks, or written another way, is a fault that shows the right way."""
    (told,) = faults_of(tmp_path, HEADER + f"2027-02-28,1,8,0\n{day},1,8,0\n")
    assert "line 3" in told
    assert f"“{day}”" in told
    assert "2027-03-01" in told


def test_impossible_values(tmp_path: Path) -> None:
    """No place reads 95 °C, and no rain is under 0: both are faults with their lines."""
    temperature, rain = faults_of(
        tmp_path, HEADER + "2027-03-01,60,95,0\n2027-03-02,1,8,-3\n2027-03-03,1,8,0\n"
    )
    assert "line 2" in temperature
    assert "°F" in temperature
    assert "line 3" in rain


def test_warm_maxima_hint_at_fahrenheit(tmp_path: Path) -> None:
    """Maxima of 52 on average are no °C of any place: the remedy names the columns for °F."""
    days = "".join(f"2027-03-{day:02},40,52,0\n" for day in range(1, 21))
    (told,) = faults_of(tmp_path, HEADER + days)
    assert "tmax_f" in told


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    """A file with a bad date, a bad figure, a short line and a doubtful day tells all four."""
    told = faults_of(
        tmp_path,
        HEADER
        + "2027-03-01,1,8,0\n2027-02-30,1,8,0\n2027-03-03,mild,8,0\n2027-03-04,1\n"
        + "2027-03-01,2,8,0\n",
    )
    assert len(told) == 4
    for words in ("“2027-02-30”", "“mild”", "line 5", "lines 2 and 6"):
        assert any(words in line for line in told), words


def test_decimal_commas_between_commas(tmp_path: Path) -> None:
    """Decimal commas in a file parted by commas make too many cells; semicolons are advised."""
    (told,) = faults_of(tmp_path, HEADER + "2027-03-01,1,5,8,0,0,0\n2027-03-02,1,5,8,0,0,0\n")
    assert "semicolons" in told


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (b"", "empty"),
        (b" \n\n", "empty"),
        (b"date;tmin;tmax;note\n2027-03-01;1;8;k\xfchl\n", "not UTF-8 (first seen on line 2)"),
        ("date,tmin,tmax\n2027-03-01,1,8\n".encode("utf-16"), "UTF-8"),
        (b"PK\x03\x04\x00\x00", "no text file"),
        (HEADER.encode(), "no day with a figure"),
        (b"# nothing but a remark\n", "empty"),
        (HEADER.encode() + b'"' + b"2027-03-01,1,8,0\n" * 9000, "a cell has no end"),
        (HEADER.encode() + b"1027-03-01,1,8,0\n2027-03-02,1,8,0\n", "line 2: the year lies"),
        (b"one,two\n1,2\n", "no column for the date"),
        (b"date,tmin_c,tmax_c\n2027-03-01,,\n", "no minimum was read"),
        (b"date,tmin_c,tmin_f,tmax_c\n2027-03-01,1,2,3\n", "both tmin_c and tmin_f"),
        (b"date,tmin,low,tmax\n2027-03-01,1,2,3\n", "two columns could be tmin_c"),
    ],
)
def test_files_that_are_no_record(tmp_path: Path, text: bytes, words: str) -> None:
    """An empty file, another encoding, no table or no columns: each is told as what it is."""
    assert any(words in told for told in faults_of(tmp_path, text))


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    """A missing file, or a folder in its place, is told by its name."""
    with pytest.raises(FaultsFoundError, match=r"gone\.csv: there is no such file"):
        read_record(tmp_path / "gone.csv")
    with pytest.raises(FaultsFoundError, match="cannot be opened"):
        read_record(tmp_path)


def test_untold_units_are_warned_of(tmp_path: Path) -> None:
    """Where no unit stands in the header °C and mm are taken, with a warning that names the
    columns; a file of unknown tenths is refused.
    """
    _, findings = read(tmp_path, "date,TMIN,TMAX,PRCP\n2027-03-01,1,8,0\n")
    assert [finding.grade for finding in findings] == [Grade.WARNING]
    assert "TMIN, TMAX, PRCP; °C and mm are taken" in findings[0].what
    (told,) = faults_of(
        tmp_path, "STATION,DATE,TMAX,TMAX_ATTRIBUTES,TMIN\nXX000TORRNZ,2027-03-01,82,E,-15\n"
    )
    assert "tenths" in told


def test_remarks_are_passed_over(tmp_path: Path) -> None:
    """Lines that begin with # are remarks, and count as lines all the same."""
    record, _ = read(tmp_path, "# read by hand\n" + HEADER + "# frost\n2027-03-01,-1,8,0\n")
    assert record.tmin_c[0] == -1
    (told,) = faults_of(tmp_path, "# read by hand\n" + HEADER + "# frost\n2027-02-30,-1,8,0\n")
    assert "line 4" in told


@settings(
    max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    st.one_of(
        st.binary(max_size=200),
        st.lists(
            st.lists(
                st.sampled_from(
                    ["2027-03-01", "2027-3-1", "1", "-1,5", "1e400", "inf", "x", "", '"', "#", "٣"]
                ),
                max_size=5,
            ),
            max_size=6,
        ).map(lambda rows: (HEADER + "\n".join(",".join(row) for row in rows)).encode()),
    )
)
def test_whatever_the_file_it_is_read_or_refused(tmp_path: Path, text: bytes) -> None:
    """Any file at all either gives a record whose days are possible, or faults with a place and a
    remedy; never a crash.
    """
    path = tmp_path / "any.csv"
    path.write_bytes(text)
    try:
        record, _ = read_record(path)
    except FaultsFoundError as error:
        faults = [finding for finding in error.findings if finding.grade is Grade.FAULT]
        assert faults
        assert all(finding.where and finding.remedy for finding in faults)
    else:
        assert not (record.tmin_c > record.tmax_c).any()
        assert not (np.abs(record.tmin_c) > 90).any()
