"""A garden goes into its notebook, out to garden.toml and back, and nothing is lost."""

import tempfile
from pathlib import Path

import numpy as np
from hypothesis import given, settings

from haulm.measure.findings import Grade
from haulm.notebook.checked import garden_from
from haulm.notebook.document import GardenDocument
from haulm.notebook.faults import Gathered
from haulm.notebook.file import create_notebook, open_notebook
from haulm.notebook.toml_reader import read_toml
from haulm.notebook.toml_writer import write_garden_toml
from haulm.site.records import DailyRecord
from strategies import daily_records, garden_documents

BRIEFLY = settings(max_examples=15, deadline=None)


def same_days(one: DailyRecord, other: DailyRecord) -> bool:
    """Whether two records hold the same days, values not read included."""
    pairs = [
        (one.tmin_c, other.tmin_c),
        (one.tmax_c, other.tmax_c),
        (one.rain_mm, other.rain_mm),
    ]
    return one.first_day == other.first_day and all(
        np.array_equal(mine, theirs, equal_nan=True) for mine, theirs in pairs
    )


@BRIEFLY
@given(garden_documents())
def test_a_garden_survives_notebook_and_file(document: GardenDocument) -> None:
    """Every value a grower typed comes back from the notebook and from the file written of it."""
    garden = garden_from(document, None, Gathered("garden.toml"))
    with tempfile.TemporaryDirectory() as folder:
        notebook_path, toml_path = Path(folder, "garden.haulm"), Path(folder, "garden.toml")
        with create_notebook(notebook_path) as notebook:
            notebook.write_garden(document, None)
        with open_notebook(notebook_path) as notebook:
            kept = notebook.document()
            assert notebook.garden(None)[0] == garden
        write_garden_toml(kept, None, toml_path)
        read = read_toml(toml_path, None)
    assert kept == document
    assert read.document == document
    assert read.garden == garden


@BRIEFLY
@given(garden_documents(daily=True), daily_records())
def test_a_weather_record_survives_notebook_and_file(
    document: GardenDocument, record: DailyRecord
) -> None:
    """Every day of a record comes back to the last digit, and what nobody read stays unread."""
    with tempfile.TemporaryDirectory() as folder:
        notebook_path, toml_path = Path(folder, "garden.haulm"), Path(folder, "garden.toml")
        with create_notebook(notebook_path) as notebook:
            notebook.write_garden(document, record)
        with open_notebook(notebook_path) as notebook:
            kept = notebook.record()
        assert kept is not None
        assert kept.origin == record.origin
        assert same_days(kept, record)
        written = write_garden_toml(document, kept, toml_path)
        read = read_toml(toml_path, None)
    assert [path.name for path in written] == ["garden.toml", "weather.csv"]
    assert read.record is not None
    assert same_days(read.record, record)
    assert all(finding.grade is not Grade.FAULT for finding in read.findings)
