"""Units that a record does not tell, guessed from its figures."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import numpy as np
import pytest

from haulm.measure.errors import FaultsFoundError
from haulm.site.readers.choose import read_record
from haulm.site.readers.likely import likely_units
from haulm.site.readers.plain import guess_units
from haulm.site.readers.readings import Reading
from haulm.site.records import DailyRecord
from stations import PLACES, read_real

RAINY = ("baltimore", "fulda", "seattle")


def readings_of(record: DailyRecord) -> list[Reading]:
    """Give a record's days as its reader had them."""
    return [
        Reading(number, record.first_day + timedelta(days=number), *map(float, values))
        for number, values in enumerate(
            zip(record.tmin_c, record.tmax_c, record.rain_mm, strict=True)
        )
    ]


def in_fahrenheit(one: Reading) -> Reading:
    """Give a day as a thermometer in °F shows it."""
    return replace(one, tmin_c=one.tmin_c * 1.8 + 32, tmax_c=one.tmax_c * 1.8 + 32)


def in_inches(one: Reading) -> Reading:
    """Give a day as a gauge in inches shows it."""
    return replace(one, rain_mm=round(one.rain_mm / 25.4, 2))


@pytest.mark.parametrize("name", PLACES)
def test_celsius_and_millimetres_are_not_doubted(name: str) -> None:
    """None of the records that are in °C and mm is taken for another."""
    assert likely_units(readings_of(read_real(name))) == likely_units([])


@pytest.mark.parametrize("name", PLACES)
def test_fahrenheit_is_seen(name: str) -> None:
    """The same records in °F are seen to be so, and why is said."""
    units = likely_units([in_fahrenheit(one) for one in readings_of(read_real(name))])
    assert units.degrees == "f"
    assert units.why_degrees


@pytest.mark.parametrize("name", RAINY)
def test_inches_are_seen(name: str) -> None:
    """The same rain in inches is seen to be so; a record without rain is not asked about."""
    units = likely_units([in_inches(one) for one in readings_of(read_real(name))])
    assert units.depth == "in"
    assert units.degrees == "c"


def test_a_cold_winter_alone_in_fahrenheit_is_seen_by_its_swing() -> None:
    """A record of one cold winter in °F never reads 60, but its days swing too widely for °C."""
    days = [
        Reading(number, read_real("fulda").first_day + timedelta(days=number), 10.0, 31.0, np.nan)
        for number in range(90)
    ]
    assert likely_units(days).degrees == "f"


def test_a_desert_s_drizzle_is_not_taken_for_inches() -> None:
    """Where it hardly ever rains, small figures may well be millimetres."""
    first = read_real("fulda").first_day
    days = [
        Reading(number, first + timedelta(days=number), 10.0, 24.0, 0.4 if number % 20 == 0 else 0)
        for number in range(365)
    ]
    assert likely_units(days).depth == "mm"


def table_of_record(record: DailyRecord, header: str, *, us: bool) -> str:
    """Write a record as a table under a header, in °F and inches where asked."""
    lines = [header]
    for one in readings_of(record)[:800]:
        day = in_inches(in_fahrenheit(one)) if us else one
        lines.append(f"{day.day},{day.tmin_c:.1f},{day.tmax_c:.1f},{day.rain_mm:g}")
    return "\n".join(lines)


def test_what_looks_like_fahrenheit_is_not_swallowed(tmp_path: Path) -> None:
    """A table in °F and inches whose header does not say so is refused, and both are named."""
    path = tmp_path / "us.csv"
    text = table_of_record(read_real("seattle"), "date,tmin,tmax,rain", us=True)
    path.write_text(text, encoding="utf-8")
    with pytest.raises(FaultsFoundError) as caught:
        read_record(path)
    words = " ".join(one.what for one in caught.value.findings)
    assert "look like °F" in words
    assert "looks like inches" in words
    told = {"date": "date", "tmin_f": "tmin", "tmax_f": "tmax", "rain_in": "rain"}
    record, _ = read_record(path, told)
    np.testing.assert_allclose(record.tmax_c, read_real("seattle").tmax_c[:800], atol=0.06)


def test_told_units_are_taken_as_told(tmp_path: Path) -> None:
    """A desert in °C keeps its wide days where the header says °C."""
    path = tmp_path / "told.csv"
    rows = "\n".join(f"2020-{1 + d // 28:02d}-{1 + d % 28:02d},2,24,0.5" for d in range(84))
    path.write_text("date,tmin_c,tmax_c,rain_mm\n" + rows, encoding="utf-8")
    assert np.nanmax(read_record(path)[0].tmax_c) == 24


def test_a_guess_names_columns_and_units() -> None:
    """Of a table without units the columns are named by the table's own names, with the units that
    its figures look like; where units stand in the header nothing is guessed.
    """
    text = table_of_record(read_real("seattle"), "Date,Low,High,Rain", us=True)
    guess = guess_units(text, "us.csv")
    assert guess is not None
    assert guess.columns == {"date": "Date", "tmin": "Low", "tmax": "High", "rain": "Rain"}
    assert (guess.units.degrees, guess.units.depth) == ("f", "in")
    named = table_of_record(read_real("seattle"), "date,tmin_c,tmax_c,rain_mm", us=False)
    assert guess_units(named, "named.csv") is None
    assert guess_units("nothing,at,all\n1,2,3", "odd.csv") is None
