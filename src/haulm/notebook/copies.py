"""Copies of a notebook: whole at one moment, also while it is in use; put back without loss."""

import os
import sqlite3
from contextlib import closing, suppress
from datetime import UTC, datetime
from pathlib import Path

from haulm.notebook.faults import refusal

COPY = ".copy"
"""How the name of a copy ends, so that it is not taken for a notebook of its own."""

_ROOM = "See that the disk has room and the folder may be written."


def copy_notebook(path: Path, target: Path) -> None:
    """Copy a notebook as it is at one moment; the copy is there whole or not at all.

    SQLite's own backup is used, so that a write going on beside is either in the copy or not. The
    copy is read through and put on the disk before it has its name.

    Raises
    ------
    FaultsFoundError
        When the notebook cannot be read, the copy is not sound, or cannot be written.
    """
    if not path.exists():
        raise refusal(path, "there is no such file.", "Name the notebook, or the copy, you mean.")
    if target.exists():
        raise refusal(target, "there is a file of this name already.", "Choose another name.")
    unfinished = target.with_name(target.name + ".unfinished")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        unfinished.unlink(missing_ok=True)
        with (
            closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as source,
            closing(sqlite3.connect(unfinished)) as copy,
        ):
            source.backup(copy)
            trouble = copy.execute("PRAGMA integrity_check(1)").fetchone()[0]
        if trouble != "ok":
            what = f"the notebook is damaged, and so is its copy: {trouble}."
            raise refusal(path, what, "Read what can be read with haulm rescue.")
        _put_on_disk(unfinished)
        unfinished.replace(target)
        names_on_disk(target.parent)
    except (OSError, sqlite3.Error) as error:
        raise refusal(target, f"no copy could be made: {error}.", _ROOM) from None
    finally:
        with suppress(OSError):
            unfinished.unlink()


def keep_before(path: Path, revision: str | None) -> Path:
    """Keep a copy beside a notebook before it is brought up to date, and give its path.

    It is named for the day on which the notebook was last written, and the revision it is of. One
    that is there already is left: it is the same.

    Raises
    ------
    FaultsFoundError
        When no copy can be made; the notebook is then left as it is.
    """
    last = datetime.fromtimestamp(path.stat().st_mtime, UTC).date()
    copy = path.with_name(f"{path.name}.{last.isoformat()}.revision-{revision or 'none'}{COPY}")
    if not copy.exists():
        copy_notebook(path, copy)
    return copy


def put_back(copy: Path, path: Path, aside: Path) -> None:
    """Put a copy in the place of a notebook; what is there now is kept under another name first.

    Parameters
    ----------
    copy
        The copy; it stays where it is.
    path
        The notebook, which need not be there.
    aside
        Where the notebook that is there now goes.

    Raises
    ------
    FaultsFoundError
        When the copy cannot be read whole, or a file cannot be written; nothing is lost then.
    """
    fresh = path.with_name(path.name + ".put-back")
    fresh.unlink(missing_ok=True)
    copy_notebook(copy, fresh)
    try:
        if path.exists():
            if aside.exists():
                raise refusal(aside, "there is a file of this name already.", "Move it away.")
            _settle(path)
            _keep_as(path, aside)
        fresh.replace(path)
        names_on_disk(path.parent)
    except OSError as error:
        raise refusal(path, f"it could not be put back: {error.strerror}.", _ROOM) from None
    finally:
        fresh.unlink(missing_ok=True)


def _settle(path: Path) -> None:
    """Let SQLite end what a power cut stopped, or move its journal away with the notebook.

    A journal that was left behind would be read into whatever lies under the notebook's name next.
    """
    with suppress(sqlite3.Error), closing(sqlite3.connect(path)) as old:
        old.execute("SELECT count(*) FROM sqlite_master").fetchone()


def _keep_as(path: Path, aside: Path) -> None:
    """Keep a notebook under another name too, so that at no moment there is none of its own."""
    journal = path.with_name(path.name + "-journal")
    if journal.exists():
        journal.rename(aside.with_name(aside.name + "-journal"))
    try:
        os.link(path, aside)
    except OSError:
        # Some disks know one name for a file only.
        path.rename(aside)


def _put_on_disk(path: Path) -> None:
    """See that what was written is on the disk, and not only on its way there."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def names_on_disk(folder: Path) -> None:
    """See that the names in a folder are on the disk, where the system can be asked to."""
    with suppress(OSError):
        held = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(held)
        finally:
            os.close(held)
