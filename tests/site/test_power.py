"""Daily files of the POWER service."""

from datetime import date
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import numpy as np
import pytest

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Grade
from haulm.site.readers.choose import read_record
from haulm.site.readers.power import power_address
from power_file import power_file


def written(folder: Path, text: str) -> Path:
    """Write a file."""
    path = folder / "cell.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_address_asks_for_what_is_documented() -> None:
    """Whole years of minimum, maximum and rain are asked for at a point, as CSV, and the place is
    told to a tenth of a degree only.
    """
    parts = urlsplit(power_address(46.4372, -8.9449, 1996, 2025))
    assert parts.scheme == "https"
    assert (parts.netloc, parts.path) == ("power.larc.nasa.gov", "/api/temporal/daily/point")
    asked = {key: values[0] for key, values in parse_qs(parts.query).items()}
    assert asked == {
        "parameters": "T2M_MIN,T2M_MAX,PRECTOTCORR",
        "community": "AG",
        "latitude": "46.4",
        "longitude": "-8.9",
        "start": "19960101",
        "end": "20251231",
        "format": "CSV",
    }


@pytest.mark.parametrize("by_day_of_year", [False, True])
def test_a_file_is_read_with_its_height(tmp_path: Path, *, by_day_of_year: bool) -> None:
    """Days stand as month and day or as day of the year; the cell's height comes with them, and
    the words say that it is no station.
    """
    text = power_file(date(2023, 12, 30), 100, by_day_of_year=by_day_of_year)
    record, told = read_record(written(tmp_path, text))
    assert record.first_day == date(2023, 12, 30)
    assert record.tmin_c.size == 100
    assert record.height_m == pytest.approx(1228.15)
    assert "NASA POWER" in record.origin
    assert any("no station" in one.what for one in told)


def test_what_the_service_could_not_tell_is_not_read(tmp_path: Path) -> None:
    """A day of -999 is missing, never that cold, and the gap is told."""
    record, told = read_record(written(tmp_path, power_file(date(2024, 1, 1), 60, (4, 5))))
    assert np.flatnonzero(np.isnan(record.tmin_c)).tolist() == [4, 5]
    assert np.nanmin(record.tmin_c) > -30
    assert any("2 of 60 days" in one.what for one in told)
    assert all(one.grade is not Grade.FAULT for one in told)


def test_a_file_without_rain_is_read(tmp_path: Path) -> None:
    """Where rain was not asked for it counts as not read."""
    text = power_file(date(2024, 1, 1), 60)
    head, _, body = text.partition("-END HEADER-\n")
    cut = [line.rsplit(",", 1)[0] for line in body.splitlines()]
    record, _ = read_record(written(tmp_path, f"{head}-END HEADER-\n" + "\n".join(cut)))
    assert np.isnan(record.rain_mm).all()
    assert np.isfinite(record.tmax_c).all()


@pytest.mark.parametrize(
    ("was", "now", "words"),
    [
        ("-END HEADER-", "", "cut short"),
        ("Minimum (C)", "Minimum (K)", "T2M_MIN is in K"),
        ("T2M_MAX,PREC", "T2M,PREC", "T2M_MIN and T2M_MAX are needed"),
        ("2024,1,3,", "2024,1,", "layout of the header"),
        ("2024,1,3,", "2024,1,33,", "layout of the header"),
    ],
)
def test_a_broken_file_is_refused(was: str, now: str, words: str, tmp_path: Path) -> None:
    """A file cut short, in another unit or with broken lines is refused with the reason."""
    text = power_file(date(2024, 1, 1), 60)
    assert was in text
    with pytest.raises(FaultsFoundError, match=words):
        read_record(written(tmp_path, text.replace(was, now, 1)))
