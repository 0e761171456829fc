"""Copies and rescue: a copy is whole, nothing that can be read is lost, nothing is made worse."""

import sqlite3
import tomllib
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from haulm.desk.garden.safekeeping import back_up, rescued, restore
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.diary import read_entries, write_entries
from haulm.notebook.document import GardenDocument
from haulm.notebook.file import create_notebook, open_notebook
from haulm.season.records import EntryKind
from season.diary_by_hand import entry

SOUND = tomllib.loads((Path(__file__).with_name("data") / "sound.toml").read_text("utf-8"))
REVISION_0001 = Path(__file__).with_name("data") / "revision_0001.sql"
DOCUMENT = GardenDocument.model_validate(SOUND)
NOW = datetime(2027, 7, 20, 18, 30, tzinfo=UTC)
DAYS = 2000


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Give a notebook with a garden and some thousand entries."""
    made = tmp_path / "garden.haulm"
    with create_notebook(made) as notebook:
        notebook.write_garden(DOCUMENT, None)
        write_entries(
            notebook,
            [entry(EntryKind.WORKED, date(2027, 7, 1), minutes=float(n)) for n in range(DAYS)],
        )
    return made


def test_a_copy_is_whole_while_somebody_writes(path: Path) -> None:
    """A copy taken in the middle of a write holds what was there before it, and is sound."""
    with open_notebook(path, writing=True) as notebook:
        write_entries(notebook, [entry(EntryKind.WORKED, date(2027, 7, 2), minutes=1.0)])
        copy = back_up(path, None, NOW)
    with open_notebook(copy) as notebook:
        assert len(read_entries(notebook)) == DAYS
        assert notebook.document() == DOCUMENT
    with open_notebook(path) as notebook:
        assert len(read_entries(notebook)) == DAYS + 1


def test_a_copy_put_back_keeps_what_was_there(path: Path) -> None:
    """Putting a copy back loses neither: the notebook of before lies aside."""
    copy = back_up(path, None, NOW)
    with open_notebook(path) as notebook:
        write_entries(notebook, [entry(EntryKind.WORKED, date(2027, 7, 2), minutes=1.0)])
    aside = restore(copy, path, NOW)
    assert aside is not None
    with open_notebook(path) as notebook:
        assert len(read_entries(notebook)) == DAYS
    with open_notebook(aside) as notebook:
        assert len(read_entries(notebook)) == DAYS + 1
    assert copy.exists()


def test_a_spoilt_copy_is_not_put_back(path: Path) -> None:
    """A copy that cannot be read whole leaves the notebook as it was, byte for byte."""
    copy = back_up(path, None, NOW)
    copy.write_bytes(copy.read_bytes()[:9000])
    before = path.read_bytes()
    with pytest.raises(FaultsFoundError):
        restore(copy, path, NOW)
    assert path.read_bytes() == before


def test_a_copy_that_is_not_there_is_told_by_its_name(path: Path, tmp_path: Path) -> None:
    """Putting back a copy that was misspelt says that it is not there, and changes nothing."""
    before = path.read_bytes()
    with pytest.raises(FaultsFoundError, match=r"nothing\.copy: there is no such file"):
        restore(tmp_path / "nothing.copy", path, NOW)
    assert path.read_bytes() == before


def test_no_copy_is_made_over_another(path: Path) -> None:
    """Two copies of one second do not take each other's place."""
    back_up(path, None, NOW)
    with pytest.raises(FaultsFoundError, match="already"):
        back_up(path, None, NOW)


def test_what_cannot_be_written_is_told(path: Path, tmp_path: Path) -> None:
    """A folder that is a file takes no copy, and it is said so."""
    (tmp_path / "stick").write_text("no folder", encoding="utf-8")
    with pytest.raises(FaultsFoundError, match="no copy could be made"):
        back_up(path, tmp_path / "stick", NOW)


def test_an_older_notebook_is_copied_before_it_is_brought_up_to_date(tmp_path: Path) -> None:
    """A notebook from the first haulm is there twice afterwards: as it was, and up to date."""
    old = tmp_path / "old.haulm"
    with sqlite3.connect(old) as connection:
        connection.executescript(REVISION_0001.read_text(encoding="utf-8"))
    connection.close()
    before = old.read_bytes()
    with open_notebook(old) as notebook:
        assert read_entries(notebook) == ()
    copies = list(tmp_path.glob("old.haulm.*.revision-0001.copy"))
    assert len(copies) == 1
    with sqlite3.connect(copies[0]) as connection:
        found = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    connection.close()
    assert found == ("0001",)
    assert len(copies[0].read_bytes()) == len(before)


@pytest.mark.parametrize("where", [0.3, 0.6, 0.9])
def test_most_of_a_damaged_notebook_is_read(path: Path, tmp_path: Path, where: float) -> None:
    """A page overwritten in the middle costs what stood on it, not the rest; and it is told."""
    whole = path.read_bytes()
    page = 4096
    at = int(len(whole) * where) // page * page
    path.write_bytes(whole[:at] + b"\xa5" * page + whole[at + page :])
    damaged = path.read_bytes()
    new = tmp_path / "rescued.haulm"
    found, told = rescued(path, new)
    assert path.read_bytes() == damaged
    rows = {one.table: one.rows for one in found}
    assert rows["diary"] > 0.85 * DAYS
    assert told or rows["diary"] == DAYS
    with open_notebook(new) as notebook:
        assert len(read_entries(notebook)) == rows["diary"]


def test_a_sound_notebook_is_read_whole(path: Path, tmp_path: Path) -> None:
    """Rescued though nothing was wrong, a notebook lacks nothing."""
    found, told = rescued(path, tmp_path / "rescued.haulm")
    assert told == ()
    with open_notebook(tmp_path / "rescued.haulm") as notebook:
        assert notebook.document() == DOCUMENT
        assert len(read_entries(notebook)) == DAYS
    assert found


def test_what_is_no_database_cannot_be_rescued(tmp_path: Path) -> None:
    """A letter is not a notebook, damaged or not; nothing is made of it."""
    letter = tmp_path / "letter.haulm"
    letter.write_text("Dear neighbour", encoding="utf-8")
    with pytest.raises(FaultsFoundError, match="nothing of it can be read"):
        rescued(letter, tmp_path / "new.haulm")
    assert not (tmp_path / "new.haulm").exists()
