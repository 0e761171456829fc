"""A notebook of every haulm there was opens whole, with a copy of it as it was."""

import json
import sqlite3
from pathlib import Path

import pytest

from haulm.desk.garden.safekeeping import rescued
from haulm.notebook.diary import Wanted, read_diary, read_entries
from haulm.notebook.document import GardenDocument
from haulm.notebook.file import create_notebook, open_notebook, revisions
from haulm.notebook.soundness import look_through

REVISION_0001 = Path(__file__).with_name("data") / "revision_0001.sql"
ENTRY = {
    "id": "e1",
    "kind": "picked",
    "day": "2027-07-20",
    "written_at": "2027-07-20T08:00:00Z",
    "device": "laptop",
    "about": {"planting": None, "bed": None, "kind": None, "food": "garlic"},
    "amount": {"number": 12.0, "measured": "kg"},
    "count": None,
    "minutes": None,
    "words": "",
    "replaces": None,
    "taken_back": False,
}
"""An entry as the first diary wrote it: whatever said nothing was written too."""
RIGHT = {"id": "e2", "replaces": "e1", "amount": {"number": 13.0, "measured": "kg"}}
FIRST_DIARY, FOUND_BY_COLUMN = "0010", "0013"


def notebook_of(path: Path, revision: str) -> Path:
    """Make a notebook as haulm of a revision left it: its steps ended there, with rows in it."""
    with sqlite3.connect(path) as connection:
        connection.executescript(REVISION_0001.read_text(encoding="utf-8"))
    connection.close()
    stopped = path.with_name(f"stopped-{revision}.haulm")
    with create_notebook(stopped, revision, finish=False):
        pass
    with sqlite3.connect(path) as first, sqlite3.connect(stopped) as then:
        tables = [row[0] for row in first.execute("SELECT name FROM sqlite_master")]
        for table in tables:
            _carry(first, then, table)
        if revision >= FIRST_DIARY:
            for said in (ENTRY, ENTRY | RIGHT):
                row = {name: said[name] for name in ("id", "day", "kind")}
                row |= {"entry": json.dumps(said)}
                if revision >= FOUND_BY_COLUMN:
                    row |= {"replaces": said["replaces"]}
                names, marks = ", ".join(row), ", ".join("?" for _ in row)
                statement = f"INSERT INTO diary ({names}) VALUES ({marks})"  # noqa: S608 - ours
                then.execute(statement, list(row.values()))
    first.close()
    then.close()
    path.unlink()
    stopped.rename(path)
    return path


def _carry(first: sqlite3.Connection, then: sqlite3.Connection, table: str) -> None:
    """Carry a table's rows over; a column that must be told and was not there yet is true."""
    if table.startswith(("sqlite_", "alembic_")):
        return
    there = {row[1]: row for row in then.execute(f'PRAGMA table_info("{table}")')}
    had = [row[1] for row in first.execute(f'PRAGMA table_info("{table}")')]
    names = [name for name in had if name in there]
    new = [name for name, row in there.items() if row[3] and row[4] is None and name not in had]
    new = [name for name in new if not there[name][5]]
    listed = ", ".join(f'"{name}"' for name in names)
    for row in first.execute(f'SELECT {listed} FROM "{table}"').fetchall():  # noqa: S608 - ours
        every = ", ".join(f'"{name}"' for name in (*names, *new))
        marks = ", ".join("?" for _ in (*names, *new))
        statement = f'INSERT INTO "{table}" ({every}) VALUES ({marks})'  # noqa: S608 - ours
        then.execute(statement, [*row, *([1] * len(new))])


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> GardenDocument:
    """Give the garden that they all hold."""
    path = tmp_path_factory.mktemp("first") / "first.haulm"
    with sqlite3.connect(path) as connection:
        connection.executescript(REVISION_0001.read_text(encoding="utf-8"))
    connection.close()
    with open_notebook(path) as notebook:
        return notebook.document()


@pytest.mark.parametrize("revision", revisions()[:0:-1])
def test_a_notebook_of_every_revision_opens_whole(
    tmp_path: Path, revision: str, first: GardenDocument
) -> None:
    """Whichever haulm wrote it last, garden, plans and diary are there, and a copy as it was."""
    path = notebook_of(tmp_path / "garden.haulm", revision)
    sound = look_through(path)
    assert [one.grade.value for one in sound.findings] == ["note"]
    with open_notebook(path) as notebook:
        assert notebook.document() == first
        assert [plan.number for plan in notebook.plans()] == [1, 2]
        if revision >= FIRST_DIARY:
            assert [entry.id for entry in read_entries(notebook)] == ["e1", "e2"]
            assert [one.id for one in read_diary(notebook, Wanted(named="e")).entries] == ["e2"]
    assert not look_through(path).findings
    (copy,) = tmp_path.glob(f"garden.haulm.*.revision-{revision}.copy")
    with sqlite3.connect(copy) as connection:
        found = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    connection.close()
    assert found == (revision,)


@pytest.mark.parametrize("revision", ["0001", "0005", "0011"])
def test_an_older_notebook_is_rescued_by_its_own_steps(
    tmp_path: Path, revision: str, first: GardenDocument
) -> None:
    """Rescued, an older notebook has its plans as kept and its diary as put right."""
    path = notebook_of(tmp_path / "garden.haulm", revision)
    before = path.read_bytes()
    new = tmp_path / "new.haulm"
    rescued(path, new)
    assert path.read_bytes() == before
    with open_notebook(new) as notebook:
        assert notebook.document() == first
        assert [plan.number for plan in notebook.plans()] == [1, 2]
        if revision >= FIRST_DIARY:
            assert [one.id for one in read_diary(notebook).entries] == ["e2"]
