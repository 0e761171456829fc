"""The diary held at hand: only what came to it since is read when it has grown."""

from dataclasses import dataclass
from pathlib import Path

from haulm.notebook.diary import Written, read_on
from haulm.notebook.file import open_notebook
from haulm.season.diary import carried_on, in_order
from haulm.season.records import Diary


@dataclass(frozen=True, slots=True)
class DiaryHeld:
    """All that was ever written, and what holds of it."""

    written: Written
    diary: Diary


def diary_held(path: Path, before: DiaryHeld | None) -> DiaryHeld:
    """Read a notebook's diary on from what was read of it before, or from its beginning.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook.
    """
    known = before.written if before else Written()
    with open_notebook(path) as notebook:
        now = read_on(notebook, known)
    number = len(known.entries)
    if before is None or now.entries[:number] != known.entries:
        return DiaryHeld(now, in_order(now.entries))
    if len(now.entries) == number:
        return before
    return DiaryHeld(now, carried_on(before.diary, known.entries, now.entries[number:]))
