"""The public station formats, on invented stations in the documented layouts.

Layouts: GHCN-Daily readme.txt section III and readme-by_station.txt, NOAA National Centers for
Environmental Information.
"""

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from haulm.measure.errors import FaultsFoundError
from haulm.site.readers.choose import read_record
from haulm.site.readers.ghcn import read_ghcn_daily

STATION = "XX000TORRNZ"


def fixed_line(month: str, element: str, values: dict[int, str]) -> str:
    """Lay out one month of one element: 11 + 4 + 2 + 4 columns, then 31 times 5 + 1 + 1 + 1."""
    line = f"{STATION}{month}{element}"
    return line + "".join(values.get(day, "-9999   ") for day in range(1, 32)) + "\n"


def fixed_file(tmp_path: Path) -> Path:
    """Write a station's March 2027 with a flagged value, a trace of rain and missing days."""
    path = tmp_path / f"{STATION}.dly"
    path.write_text(
        fixed_line("202703", "TMAX", {1: "   82  E", 2: "  105  E", 4: "  999 GE"})
        + fixed_line("202703", "TMIN", {1: "  -15  E", 2: "    0  E", 4: "   31  E"})
        + fixed_line("202703", "PRCP", {1: "    0T E", 2: "  124  E", 4: "    3  E"})
        + fixed_line("202703", "SNOW", {1: "   10  E"})
    )
    return path


def test_fixed_width_station_file(tmp_path: Path) -> None:
    """Tenths become units, missing and flagged values stay untold, the flagged are counted, and
    other elements are passed over.
    """
    record, findings = read_record(fixed_file(tmp_path))
    assert record.first_day == date(2027, 3, 1)
    np.testing.assert_array_equal(record.tmax_c, [8.2, 10.5, np.nan, np.nan])
    np.testing.assert_array_equal(record.tmin_c, [-1.5, 0.0, np.nan, 3.1])
    np.testing.assert_array_equal(record.rain_mm, [0.0, 12.4, np.nan, 0.3])
    told = " ".join(finding.what for finding in findings)
    assert "1 values failed a check" in told
    assert "1 of 4 days are missing (2027-03-03)" in told


def test_comma_separated_station_file(tmp_path: Path) -> None:
    """The comma-separated layout gives the same record as the fixed one."""
    path = tmp_path / f"{STATION}.csv"
    path.write_text(
        f"{STATION},20270301,TMAX,82,,,E,\n{STATION},20270301,TMIN,-15,,,E,\n"
        f"{STATION},20270301,PRCP,0,T,,E,0700\n{STATION},20270302,TMAX,105,,,E,\n"
        f"{STATION},20270302,TMIN,0,,,E,\n{STATION},20270302,PRCP,124,,,E,0700\n"
        f"{STATION},20270304,TMAX,999,,G,E,\n{STATION},20270304,TMIN,31,,,E,\n"
        f"{STATION},20270304,PRCP,3,,,E,0700\n{STATION},20270304,SNOW,10,,,E,\n"
    )
    record, _ = read_record(path)
    other, _ = read_record(fixed_file(tmp_path))
    np.testing.assert_array_equal(record.tmin_c, other.tmin_c)
    np.testing.assert_array_equal(record.tmax_c, other.tmax_c)
    np.testing.assert_array_equal(record.rain_mm, other.rain_mm)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (fixed_line("202702", "TMAX", {30: "   82  E"}), "line 1"),
        (fixed_line("202703", "TMAX", {3: " mild  E"}), "line 1"),
        (fixed_line("202703", "TMAX", {3: "   82  E"}) + "nonsense\n", "line 2"),
        (
            fixed_line("202703", "TMAX", {3: "   82  E"}) * 2,
            "line 2: a day's value stands there a second time",
        ),
        (f"{STATION},20270230,TMAX,82,,,E,\n", "line 1"),
        (f"{STATION},20270301,TMAX,82,,,E,\nXX000OTHERS,20270302,TMAX,82,,,E,\n", "2 stations"),
        (fixed_line("202703", "TMAX", {3: "   82  E"}), "no minimum was read"),
        (fixed_line("202703", "SNOW", {3: "   82  E"}), "no day with a figure"),
    ],
)
def test_bad_station_files(tmp_path: Path, text: str, words: str) -> None:
    """A day the month lacks, a value that is no number, a broken or doubled line, two stations or
    no temperatures are told as such.
    """
    path = tmp_path / "station.dly"
    path.write_text(text)
    with pytest.raises(FaultsFoundError, match=words):
        read_ghcn_daily(path)
