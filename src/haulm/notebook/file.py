"""The notebook: one SQLite file that holds a garden, its weather and its plans.

A notebook is open for the length of one transaction. Whatever stops the work inside leaves the
file as it was.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache, lru_cache
from pathlib import Path
from threading import Lock

from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory
from sqlalchemy import URL, Connection, Engine, NullPool, create_engine, event, text
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.exc import DatabaseError, OperationalError
from sqlalchemy.pool import ConnectionPoolEntry

from haulm.measure.errors import FaultsFoundError
from haulm.notebook.copies import keep_before, names_on_disk
from haulm.notebook.faults import refusal
from haulm.notebook.notebook import Notebook

APPLICATION_ID = 0x6861756C
"""Marks an SQLite file as a haulm notebook: the letters h, a, u, l."""

HEAD = "head"
"""The newest revision, in the words of the steps."""

PATIENCE_S = 5.0
"""How long to wait for another program that works in the notebook [s]."""

_ONE_AT_A_TIME = Lock()
"""Alembic knows one connection to work on, whichever thread asks."""

_FOUND_SOUND: dict[Path, tuple[int, ...]] = {}
"""Notebooks that were read through and found sound, each with the state of its file then."""

_SQLITE_MARK = b"SQLite format 3\x00"
_MAKE_AGAIN = "Name a notebook, or make one with haulm import garden.toml."
NOT_A_NOTEBOOK = ("this is not a haulm notebook.", _MAKE_AGAIN)
RESTORE = "Take a copy from before, or read what can be read with haulm rescue."
_NOTHING_WRITTEN = "nothing of this was written, and all from before is there"
_STANDS_IN_THE_WAY = (
    (
        "disk is full",
        f"the disk is full; {_NOTHING_WRITTEN}.",
        "Make room on the disk, then do it again.",
    ),
    (
        "locked",
        "another program is writing in it, and did not end.",
        "Wait for it, or close it, then do it again.",
    ),
    (
        "readonly",
        "it may only be read, not written.",
        "Let the file and its folder be written, or copy it to a place where they may.",
    ),
    (
        "unable to open",
        "neither it nor what has to lie beside it can be opened.",
        "See that the file and its folder may be read and written.",
    ),
    (
        "disk I/O error",
        f"the disk does not take what is to be written; {_NOTHING_WRITTEN}.",
        "See that the disk has room and is sound; put a copy on another one with haulm backup.",
    ),
)
"""What SQLite says when it cannot work, what that is to a grower, and what to do."""


@contextmanager
def create_notebook(
    path: Path, revision: str | None = None, *, finish: bool = True
) -> Iterator[Notebook]:
    """Make a notebook, open while the block runs; there is no file unless the block ends well.

    Parameters
    ----------
    path
        Where it is to be.
    revision
        The revision whose tables it has while the block runs, where rows of an older notebook are
        put into it; it is brought up to date after that. One that is not known counts as none.
    finish
        Whether it is brought up to date in the end, or left at its revision.

    Raises
    ------
    FaultsFoundError
        When there is a file of that name, or none can be made.
    """
    if path.exists():
        raise refusal(path, "there is a file of this name already.", "Choose another name.")
    if not path.parent.is_dir():
        raise refusal(path, "its folder does not exist.", "Make the folder first.")
    unfinished = path.with_name(path.name + ".unfinished")
    unfinished.unlink(missing_ok=True)
    try:
        with _transaction(unfinished) as connection:
            connection.execute(text(f"PRAGMA application_id = {APPLICATION_ID}"))
            older = revision in revisions()
            _bring_up_to_date(connection, revision if older and revision else HEAD)
            yield Notebook(connection, path)
            if older and finish:
                _bring_up_to_date(connection)
        unfinished.replace(path)
        names_on_disk(path.parent)
    finally:
        unfinished.unlink(missing_ok=True)


@contextmanager
def open_notebook(path: Path, *, writing: bool = False) -> Iterator[Notebook]:
    """Open a notebook while the block runs; what the block wrote is kept only if it ends well.

    A notebook of an older haulm is brought up to date in the same transaction, and a copy of it as
    it was is kept beside it. With ``writing``
    nobody else can write from the start of the block to its end, so that what was read in it
    still holds when it writes.

    Raises
    ------
    FaultsFoundError
        When the file is missing, is no notebook, is damaged, or is from a newer haulm.
    """
    check_mark(path)
    with _transaction(path, writing=writing) as connection:
        _check_sound(connection, path)
        up_to_date = _is_up_to_date(connection, path)
        if up_to_date or writing:
            if not up_to_date:
                keep_before(path, _revision(connection))
                _bring_up_to_date(connection)
            yield Notebook(connection, path)
        wrote = _has_written(connection)
    if wrote:
        # By ourselves, whole or not at all.
        _note_sound(path)
    if up_to_date or writing:
        return
    # Two that open an older notebook at once wait for one another only if both mean to write.
    with open_notebook(path, writing=True) as notebook:
        yield notebook


def _has_written(connection: Connection) -> bool:
    """Say whether a transaction has changed any row."""
    driver = connection.connection.driver_connection
    return isinstance(driver, sqlite3.Connection) and driver.total_changes > 0


def check_mark(path: Path) -> None:
    """Refuse what is not there or not an SQLite file, before SQLite makes an empty one of it."""
    try:
        with path.open("rb") as file:
            mark = file.read(len(_SQLITE_MARK))
    except FileNotFoundError:
        raise refusal(path, "there is no such notebook.", _MAKE_AGAIN) from None
    except OSError as error:
        what = f"it cannot be opened: {error.strerror}."
        raise refusal(path, what, "Name a file you may read.") from None
    if not mark:
        raise refusal(path, "the file is empty.", _MAKE_AGAIN)
    if mark != _SQLITE_MARK:
        raise refusal(path, *NOT_A_NOTEBOOK)


def _check_sound(connection: Connection, path: Path) -> None:
    """Refuse another program's file and a damaged one.

    To read a whole file takes long once there are years and pictures in it, so one that nobody but
    haulm wrote in since it was found sound is not read through again.
    """
    now = _state_of(path)
    if now is not None and _FOUND_SOUND.get(path.absolute()) == now:
        return
    mark = connection.execute(text("PRAGMA application_id")).scalar()
    trouble = connection.execute(text("PRAGMA quick_check(1)")).scalar()
    if mark != APPLICATION_ID:
        raise refusal(path, *NOT_A_NOTEBOOK)
    if trouble != "ok":
        raise refusal(path, f"the file is damaged: {trouble}.", RESTORE)
    _note_sound(path)


def _note_sound(path: Path) -> None:
    """Note that a file is sound as it is now."""
    state = _state_of(path)
    if state is not None:
        _FOUND_SOUND[path.absolute()] = state


def _state_of(path: Path) -> tuple[int, ...] | None:
    """Tell one state of a file from another, by what the disk says of it; None where it is gone."""
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino, found.st_size, found.st_mtime_ns


def _is_up_to_date(connection: Connection, path: Path) -> bool:
    """Say whether the file is of the newest revision; one that is not known is refused."""
    revision, known = _revision(connection), revisions()
    if revision is not None and revision not in known:
        raise refusal(
            path,
            "this notebook was written by a newer haulm.",
            "Install that version, or import its garden.toml here.",
        )
    return revision == known[0]


def _revision(connection: Connection) -> str | None:
    """Give the file's revision; None where it has none yet."""
    tables = text("SELECT count(*) FROM sqlite_master WHERE name = 'alembic_version'")
    if not connection.execute(tables).scalar_one():
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def _bring_up_to_date(connection: Connection, revision: str = HEAD) -> None:
    """Run the steps between the file's revision and a later one."""
    config = _steps()
    config.attributes["connection"] = connection
    with _ONE_AT_A_TIME:
        command.upgrade(config, revision)


def _steps() -> Config:
    """Give the steps from revision to revision, as alembic wants to be told of them."""
    config = Config()
    config.set_main_option("script_location", str(Path(__file__).with_name("migrations")))
    return config


@cache
def revisions() -> tuple[str, ...]:
    """List every revision, the newest first."""
    steps = ScriptDirectory.from_config(_steps())
    return tuple(step.revision for step in steps.walk_revisions())


@contextmanager
def _transaction(path: Path, *, writing: bool = True) -> Iterator[Connection]:
    """Open a file for one transaction; whatever is raised inside undoes it all."""
    try:
        with _engine(str(path.absolute()), PATIENCE_S, writing=writing).begin() as connection:
            yield connection
    except OperationalError as error:
        raise _in_the_way(path, str(error.orig)) from None
    except DatabaseError as error:
        # What is not of a narrower class is SQLite's word for a file it cannot read.
        if type(error) is not DatabaseError:
            raise
        _FOUND_SOUND.pop(path.absolute(), None)
        raise refusal(path, f"the file is damaged: {error.orig}.", RESTORE) from None


def _in_the_way(path: Path, said: str) -> FaultsFoundError:
    """Put what SQLite says into the grower's words."""
    for words, what, remedy in _STANDS_IN_THE_WAY:
        if words in said:
            return refusal(path, what, remedy)
    return refusal(path, f"it could not be used: {said}.", "Close what else works in it.")


@lru_cache(maxsize=16)
def _engine(path: str, patience_s: float, *, writing: bool) -> Engine:
    """Make the engine for a file, and keep it: what it learns of statements saves half the time.

    It keeps no connection, so that each transaction opens the file anew, whatever took its place.
    """
    engine = create_engine(
        URL.create("sqlite", database=path),
        connect_args={"timeout": patience_s},
        poolclass=NullPool,
    )
    _begin_for_real(engine, writing=writing)
    return engine


def _begin_for_real(engine: Engine, *, writing: bool) -> None:
    """Make SQLite's driver begin where SQLAlchemy does, so that changes of tables roll back too."""

    @event.listens_for(engine, "connect")
    def _leave_beginning_to_us(driver: DBAPIConnection, _entry: ConnectionPoolEntry) -> None:
        """Keep the driver from beginning transactions of its own."""
        if isinstance(driver, sqlite3.Connection):
            driver.isolation_level = None

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        """Begin a transaction."""
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")
