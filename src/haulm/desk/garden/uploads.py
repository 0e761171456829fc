"""Take in what a page is handed as a file, and hand out a garden as files."""

import textwrap
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path, PurePosixPath
from tempfile import TemporaryDirectory
from typing import Any

from haulm.desk.garden.applying import Change, apply, mark_of
from haulm.desk.garden.opening import usual_names
from haulm.desk.garden.writing import checked, normal
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade, faults
from haulm.notebook import toml_writer
from haulm.notebook.checked import garden_from
from haulm.notebook.draft import document_from
from haulm.notebook.faults import Gathered
from haulm.notebook.file import create_notebook, open_notebook
from haulm.notebook.history import remember
from haulm.notebook.notebook import Notebook
from haulm.notebook.parts import parts_from
from haulm.notebook.toml_reader import tables_from
from haulm.notebook.weather_file import record_text
from haulm.site.readers.choose import read_record
from haulm.site.records import DailyRecord
from haulm.site.seasons import model_for

MOST_RECORD_BYTES = 20_000_000
MOST_GARDEN_BYTES = 2_000_000
MOST_DAYS = 366 * 300
LONGEST_NAME = 80
LONGEST_LINE = 20_000
LONGEST_TELLING = 400
"""A file with hundreds of columns is not told of column by column [signs]."""

GARDEN = Path("garden.toml")
RECORD_ENDINGS = frozenset({".csv", ".txt", ".tsv", ".dly"})

COLUMNS_PART, COLUMNS_WORDS = "[weather.columns]", "the map of columns"
"""What the readers call the map of columns, after garden.toml, and what a page's reader would."""

STARTS = {
    b"PK\x03\x04": "a packed file or a spreadsheet",
    b"\x1f\x8b": "a packed file",
    b"BZh": "a packed file",
    b"\xfd7zXZ": "a packed file",
    b"%PDF": "a PDF",
    b"\xd0\xcf\x11\xe0": "a spreadsheet",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"SQLite format 3\x00": "a notebook or another database",
}
"""The first bytes of files that are often handed over by mistake."""


def load_record(
    path: Path, file_name: str, data: bytes, columns: Mapping[str, str] | None, at: datetime
) -> tuple[Finding, ...]:
    """Put a daily record in the place of a notebook's weather.

    Parameters
    ----------
    path
        The notebook.
    file_name, data
        The file: a plain table or a GHCN-Daily station file, by its content.
    columns
        For a plain table, our names (date, tmin_c, tmax_c, rain_mm, or tmin_f, tmax_f, rain_in) to
        the file's; None to recognise usual ones.
    at
        The time, by which the change is listed in the history.

    Returns
    -------
    Warnings and notes on the record and on the garden.

    Raises
    ------
    FaultsFoundError
        When it is too large, no text, cut short, or no record to plan by, with every fault at
        once; nothing is written then.
    """
    name = plain_name(file_name)
    record, told = _record_from(name, data, columns)
    weather: dict[str, object] = {"record": name}
    weather |= {"columns": dict(columns)} if columns else {}
    weather |= {"height": f"{record.height_m:g} m"} if record.height_m is not None else {}
    with open_notebook(path, writing=True) as notebook:
        before = notebook.parts()
        seen = mark_of(before["weather"][0]) if before["weather"] else ""
        applied = apply(before, [Change("weather", seen, weather)])
        about = checked(path.name, before, applied, record=record)
        what = f"the daily record “{name}” loaded"
        remember(notebook, before, what, at, record_changes=True)
        notebook.write_parts(normal(applied), before)
        notebook.write_record(record)
        if not faults(about):
            garden, _ = notebook.garden(usual_names())
            model_for(garden.weather, garden.place)
    return (*told, *about)


def load_garden(path: Path, content: bytes, at: datetime) -> tuple[Finding, ...]:
    """Put a garden.toml in the place of a notebook's garden; a notebook is made where none is.

    The daily record that it names cannot be in it: the notebook's own is kept where it has the
    same name, else the world's grid stands in, with a warning.

    Parameters
    ----------
    path
        The notebook.
    content
        The file.
    at
        The time, by which the change is listed in the history.

    Raises
    ------
    FaultsFoundError
        With every fault at once; nothing is written then.
    """
    _refuse_large(GARDEN.name, content, MOST_GARDEN_BYTES)
    raw = tables_from(content, GARDEN)
    if not path.exists():
        with create_notebook(path) as notebook:
            return _take_in(notebook, raw, None)
    with open_notebook(path, writing=True) as notebook:
        return _take_in(notebook, raw, at)


def _take_in(notebook: Notebook, raw: dict[str, Any], at: datetime | None) -> tuple[Finding, ...]:
    """Write the garden of raw tables; without a time there is nothing before to remember."""
    gathered = Gathered(GARDEN.name, usual_names())
    stays = _settle_record(notebook, raw, gathered)
    document = document_from(raw, gathered)
    garden_from(document, None, gathered)
    if at is not None:
        what = "another garden loaded"
        remember(notebook, notebook.parts(), what, at, record_changes=not stays)
    notebook.write_parts(parts_from(document))
    if not stays:
        notebook.write_record(None)
    return tuple(gathered.findings)


def _settle_record(notebook: Notebook, raw: dict[str, Any], gathered: Gathered) -> bool:
    """Say whether the notebook's daily record stays; where one is lacking the grid stands in."""
    weather = raw.get("weather")
    if not isinstance(weather, dict) or "record" not in weather:
        return False
    named = weather["record"]
    if any(part.get("record") == named for part in notebook.parts()["weather"]):
        return notebook.record_origin() is not None
    if isinstance(named, str) and "normals" not in weather:
        raw["weather"] = {"grid": True}
        gathered.warn(
            ("weather", "record"),
            f"the daily record “{named}” is a file of its own and did not come with it, so the "
            "world's grid stands in.",
            "Load the record too.",
        )
    return False


def garden_text(path: Path) -> str:
    """Give a notebook's garden as the text of garden.toml, every value as it was typed."""
    with open_notebook(path) as notebook:
        return toml_writer.garden_text(notebook.parts())


def record_csv(path: Path) -> bytes | None:
    """Give a notebook's daily record as CSV in UTF-8; None where it has none."""
    with open_notebook(path) as notebook:
        record = notebook.record()
    return None if record is None else record_text(record).encode()


def plain_name(file_name: str) -> str:
    """Give a file's name without folders, odd signs or an ending that is no record's."""
    last = PurePosixPath(file_name.replace("\\", "/")).name
    clean = "".join(sign for sign in last if sign.isprintable() and sign not in '<>:"|?*')
    kept = PurePosixPath(clean.strip(". ")[-LONGEST_NAME:] or "record")
    return str(kept) if kept.suffix.lower() in RECORD_ENDINGS else f"{kept}.csv"


def _record_from(
    name: str, data: bytes, columns: Mapping[str, str] | None
) -> tuple[DailyRecord, tuple[Finding, ...]]:
    """Read a record from a file's content; its findings are placed at the weather's record."""
    _refuse_large(name, data, MOST_RECORD_BYTES)
    for start, words in STARTS.items():
        if data.startswith(start):
            remedy = "Unpack it, or save the table as CSV, and give that."
            raise FaultsFoundError([_about(Finding(name, f"this is {words}, no record.", remedy))])
    for number, line in enumerate(data.splitlines(), 1):
        if len(line) > LONGEST_LINE:
            what = f"line {number} is too long for a day of weather."
            remedy = "Save the record as CSV, a line for each day."
            raise FaultsFoundError([_about(Finding(name, what, remedy))])
    with TemporaryDirectory() as folder:
        file = Path(folder, name)
        file.write_bytes(data)
        try:
            record, told = read_record(file, columns)
        except FaultsFoundError as error:
            raise FaultsFoundError([_about(finding) for finding in error.findings]) from None
    if record.tmin_c.size > MOST_DAYS:
        years = record.tmin_c.size // 365
        what = f"it would run over {years} years."
        remedy = "Look for a line with a wrong year."
        raise FaultsFoundError([_about(Finding(name, what, remedy))])
    return record, tuple(_about(finding) for finding in told)


def _about(finding: Finding) -> Finding:
    """Place a finding on a record's file at the weather's record, cut to what can be read."""
    return replace(
        finding,
        where=finding.where.replace(COLUMNS_PART, COLUMNS_WORDS),
        what=textwrap.shorten(finding.what, LONGEST_TELLING, placeholder=" …"),
        remedy=finding.remedy.replace(COLUMNS_PART, COLUMNS_WORDS),
        place=("weather", "record"),
    )


def _refuse_large(name: str, data: bytes, most: int) -> None:
    """Refuse a file that is larger than any of its sort."""
    if len(data) > most:
        megabytes = most // 1_000_000
        what = f"the file is larger than {megabytes} MB."
        remedy = "Give the file itself, or a shorter one."
        raise FaultsFoundError([Finding(name, what, remedy, Grade.FAULT)])
