"""The daily weather record beside garden.toml."""

import csv
from datetime import date, timedelta
from io import StringIO
from pathlib import Path, PurePosixPath

import numpy as np

from haulm.measure.errors import FaultsFoundError
from haulm.notebook.document import WeatherPart
from haulm.notebook.faults import Gathered
from haulm.site.readers.choose import read_record
from haulm.site.records import DailyRecord

HEADER = ("date", "tmin_c", "tmax_c", "rain_mm")


def record_of(part: WeatherPart, folder: Path, gathered: Gathered) -> DailyRecord | None:
    """Read the record that a document names; its findings are noted.

    A file outside the folder is a fault: the record has to have a place beside garden.toml when
    the garden is written out again.
    """
    if part.record is None:
        return None
    inside = PurePosixPath(part.record)
    if inside.is_absolute() or ".." in inside.parts:
        gathered.fault(
            ("weather", "record"),
            f"“{part.record}” lies outside the folder of {gathered.file}.",
            "Put the record beside it and write the file's name.",
        )
        return None
    columns = part.columns.model_dump(exclude_none=True) if part.columns else None
    try:
        record, findings = read_record(folder / inside, columns)
    except FaultsFoundError as error:
        gathered.findings.extend(error.findings)
        return None
    gathered.findings.extend(findings)
    return record


def record_text(record: DailyRecord) -> str:
    """Write a record as CSV, one line a day; a cell nobody read stays empty."""
    text = StringIO()
    lines = csv.writer(text, lineterminator="\n")
    lines.writerow(HEADER)
    columns = (record.tmin_c, record.tmax_c, record.rain_mm)
    for number, values in enumerate(zip(*columns, strict=True)):
        day = record.first_day + timedelta(days=number)
        cells = ["" if np.isnan(value) else repr(float(value)) for value in values]
        lines.writerow([day.isoformat(), *cells])
    return text.getvalue()


def record_from_text(text: str, origin: str) -> DailyRecord:
    """Read back what :func:`record_text` wrote; every value is the same."""
    rows = list(csv.reader(StringIO(text)))[1:]
    values = np.array([[float(cell or "nan") for cell in row[1:]] for row in rows]).T
    return DailyRecord(origin, date.fromisoformat(rows[0][0]), *values)


def write_record(record: DailyRecord, path: Path) -> None:
    """Write a record as CSV into a file."""
    path.write_text(record_text(record), encoding="utf-8", newline="")
