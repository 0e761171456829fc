"""A full disk, a folder that may only be read, a process killed anywhere: nothing told is lost."""

import os
import random
import resource
import signal
import sqlite3
import subprocess
import sys
import time
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from sqlalchemy import text

from haulm.desk.garden.safekeeping import back_up
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.diary import Photo, read_entries, write_entries, write_photo
from haulm.notebook.file import create_notebook, open_notebook
from haulm.notebook.soundness import look_through
from haulm.season.records import Entry, EntryKind
from season.diary_by_hand import entry

REVISION_0001 = Path(__file__).with_name("data") / "revision_0001.sql"
DAY = date(2027, 7, 20)
NOW = datetime(2027, 7, 20, 18, 30, tzinfo=UTC)
SEED = 7
"""Of the moments at which a process is killed."""

OPENER = """
import sys
from pathlib import Path
from haulm.notebook.file import open_notebook
print("ready", flush=True)
with open_notebook(Path(sys.argv[1])) as notebook:
    notebook.document()
print("opened", flush=True)
"""


def some(number: int, words: str = "") -> list[Entry]:
    """Make entries, each with some words."""
    return [entry(EntryKind.WORKED, DAY, minutes=float(n), words=words) for n in range(number)]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Give a notebook with a few entries."""
    made = tmp_path / "garden.haulm"
    with create_notebook(made) as notebook:
        write_entries(notebook, some(20))
    return made


def write_with(pragma: str, path: Path) -> None:
    """Write a thousand entries with SQLite told to behave in a certain way."""
    with open_notebook(path, writing=True) as notebook:
        notebook.connection.execute(text(pragma))
        write_entries(notebook, some(1000))


def is_whole(path: Path) -> bool:
    """Say whether a notebook is sound in every row."""
    return not look_through(path).findings


def test_a_full_disk_is_told_and_loses_nothing(path: Path) -> None:
    """Where the disk has no room, the entry is refused in plain words, and the others are there."""
    with pytest.raises(FaultsFoundError) as caught:
        write_with("PRAGMA max_page_count = 1", path)
    assert str(caught.value) == (
        "fault: garden.haulm: the disk is full; nothing of this was written, and all from before "
        "is there. Make room on the disk, then do it again."
    )
    with open_notebook(path) as notebook:
        assert len(read_entries(notebook)) == 20
    assert is_whole(path)


@pytest.mark.parametrize("room_kb", [1, 9, 40, 150])
def test_a_disk_that_takes_no_more_bytes_loses_nothing(path: Path, room_kb: int) -> None:
    """Stopped by the system at whatever byte, a write leaves the notebook as it was."""
    allowed = path.stat().st_size + 1000 * room_kb
    child = os.fork()
    if child == 0:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (allowed, allowed))
        try:
            with open_notebook(path, writing=True) as notebook:
                write_entries(notebook, some(4000, "x" * 200))
        except FaultsFoundError as error:
            told = str(error)
            os._exit(0 if "the disk" in told and "all from before is there" in told else 2)
        os._exit(3)
    _, status = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(status) == 0
    with open_notebook(path) as notebook:
        assert len(read_entries(notebook)) == 20
    assert is_whole(path)


def test_a_folder_without_room_takes_no_half_copy(path: Path, tmp_path: Path) -> None:
    """A copy that the disk has no room for is not there at all, and it is told."""
    with open_notebook(path, writing=True) as notebook:
        write_entries(notebook, some(2000, "x" * 200))
    child = os.fork()
    if child == 0:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))
        try:
            back_up(path, tmp_path / "stick", NOW)
        except FaultsFoundError as error:
            os._exit(0 if "no copy could be made" in str(error) else 2)
        os._exit(3)
    _, status = os.waitpid(child, 0)
    assert os.waitstatus_to_exitcode(status) == 0
    assert list((tmp_path / "stick").iterdir()) == []
    assert is_whole(path)


@pytest.mark.skipif(os.geteuid() == 0, reason="whoever may do everything can write everywhere")
def test_a_folder_that_may_only_be_read_is_told(path: Path) -> None:
    """In a folder that may not be written the notebook can be read, and an entry is refused."""
    path.chmod(0o400)
    path.parent.chmod(0o500)
    try:
        with open_notebook(path) as notebook:
            assert len(read_entries(notebook)) == 20
        with (
            pytest.raises(FaultsFoundError, match=r"only be read|can be opened"),
            open_notebook(path, writing=True) as notebook,
        ):
            write_entries(notebook, some(1))
    finally:
        path.parent.chmod(0o700)


def test_a_notebook_that_may_only_be_read_is_told(path: Path) -> None:
    """A notebook opened for reading alone takes no entry, and says why."""
    with pytest.raises(FaultsFoundError, match="it may only be read, not written"):
        write_with("PRAGMA query_only = 1", path)
    assert is_whole(path)


def test_a_picture_cut_off_by_a_power_cut_is_whole_or_not_there(path: Path) -> None:
    """Killed while an entry and its picture are written, both are there, or neither."""
    ready, go = os.pipe()
    child = os.fork()
    if child == 0:
        one = some(1)[0]
        with open_notebook(path, writing=True) as notebook:
            write_entries(notebook, [one])
            write_photo(notebook, one.id, Photo("image/jpeg", b"\xff\xd8\xff" + bytes(2_000_000)))
            os.write(go, b"!")
            time.sleep(60)
    os.read(ready, 1)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    with open_notebook(path) as notebook:
        assert len(read_entries(notebook)) == 20
    assert is_whole(path)


@pytest.mark.parametrize("go", range(6))
def test_power_cut_while_an_older_notebook_is_brought_up_to_date(tmp_path: Path, go: int) -> None:
    """Killed at any moment of its steps, a notebook opens afterwards with all that it held."""
    old = tmp_path / "old.haulm"
    with sqlite3.connect(old) as connection:
        connection.executescript(REVISION_0001.read_text(encoding="utf-8"))
    connection.close()
    process = subprocess.Popen(  # noqa: S603 - a program of our own
        [sys.executable, "-c", OPENER, str(old)], stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    process.stdout.readline()
    time.sleep(random.Random(SEED * 100 + go).uniform(0.0, 0.6))  # noqa: S311 - a moment of chance
    process.kill()
    process.communicate()
    with open_notebook(old) as notebook:
        assert notebook.document().garden.name == "Two beds"
        assert [plan.number for plan in notebook.plans()] == [1, 2]
    assert is_whole(old)
    # The copy of before is whole, or was not made yet; half of one has no name of a copy.
    copies = list(tmp_path.glob("old.haulm.*.revision-0001.copy"))
    assert len(copies) == 1
    with sqlite3.connect(copies[0]) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    connection.close()
