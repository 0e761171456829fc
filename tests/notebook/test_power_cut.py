"""Power cut while the diary is written, and two who write at once: nothing acknowledged is lost."""

import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from haulm.notebook.diary import read_entries
from haulm.notebook.file import create_notebook, open_notebook

WRITER = """
import sys
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from haulm.notebook.diary import write_entries
from haulm.notebook.file import open_notebook
from haulm.season.records import Entry, EntryKind

path, name, count = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
at = datetime(2027, 7, 20, tzinfo=UTC)
print("ready", flush=True)
for number in range(count):
    entry = Entry(f"{name}-{number}", EntryKind.WORKED, date(2027, 7, 20), at, name, minutes=1.0)
    with open_notebook(path, writing=True) as notebook:
        write_entries(notebook, [entry])
    print(entry.id, flush=True)
"""


def writer(path: Path, name: str, count: int) -> subprocess.Popen[str]:
    """Start a process of its own that writes entries, each acknowledged on a line."""
    return subprocess.Popen(  # noqa: S603 - a program of our own
        [sys.executable, "-c", WRITER, str(path), name, str(count)],
        stdout=subprocess.PIPE,
        text=True,
    )


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Give an empty notebook."""
    made = tmp_path / "garden.haulm"
    with create_notebook(made):
        pass
    return made


@pytest.mark.parametrize("after_s", [0.05, 0.21, 0.4])
def test_power_cut_at_any_write_loses_nothing_acknowledged(path: Path, after_s: float) -> None:
    """Killed in the middle of a write, the diary holds every entry that was said to be written."""
    process = writer(path, "phone", 100_000)
    assert process.stdout is not None
    assert process.stdout.readline() == "ready\n"
    time.sleep(after_s)
    process.send_signal(signal.SIGKILL)
    acknowledged = process.communicate()[0].split("\n")
    with open_notebook(path) as notebook:
        there = {entry.id for entry in read_entries(notebook)}
    whole = {line for line in acknowledged[:-1] if line}
    assert whole <= there
    assert len(there) <= len(whole) + 1 + bool(acknowledged[-1])


def test_two_who_write_at_once_both_keep_all(path: Path) -> None:
    """The pages and the command line write into one diary, and neither loses an entry."""
    both = [writer(path, name, 25) for name in ("laptop", "phone")]
    for process in both:
        process.communicate(timeout=60)
        assert process.returncode == 0
    with open_notebook(path) as notebook:
        assert len(read_entries(notebook)) == 50
