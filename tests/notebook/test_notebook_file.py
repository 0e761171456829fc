"""The notebook: kept whole through interruption, age and damage."""

import re
import sqlite3
import tomllib
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import create_engine

from haulm.measure.errors import FaultsFoundError
from haulm.notebook import file
from haulm.notebook.document import GardenDocument
from haulm.notebook.file import create_notebook, open_notebook
from haulm.notebook.tables import METADATA

SOUND = tomllib.loads((Path(__file__).with_name("data") / "sound.toml").read_text("utf-8"))
REVISION_0001 = Path(__file__).with_name("data") / "revision_0001.sql"
DOCUMENT = GardenDocument.model_validate(SOUND)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Give a notebook that holds a garden."""
    made = tmp_path / "garden.haulm"
    with create_notebook(made) as notebook:
        notebook.write_garden(DOCUMENT, None)
    return made


def refusal(path: Path) -> str:
    """Open a notebook that cannot be opened and give what is said."""
    with pytest.raises(FaultsFoundError) as caught, open_notebook(path):
        pass
    return str(caught.value)


def test_writing_a_garden_again_replaces_it(path: Path) -> None:
    """A second import takes the place of the first; nothing of it is left over."""
    smaller = DOCUMENT.model_copy(update={"bed": DOCUMENT.bed[:1], "standing": ()})
    with open_notebook(path) as notebook:
        notebook.write_garden(smaller, None)
    with open_notebook(path) as notebook:
        assert notebook.document() == smaller


@pytest.mark.parametrize("stop", [KeyboardInterrupt, RuntimeError])
def test_work_stopped_half_way_leaves_the_notebook_as_it_was(
    path: Path, stop: type[BaseException]
) -> None:
    """When work in a notebook is stopped, not a byte of the file has changed."""
    before = path.read_bytes()

    def work() -> None:
        """Write, and be stopped."""
        with open_notebook(path) as notebook:
            notebook.write_garden(DOCUMENT.model_copy(update={"bed": ()}), None)
            raise stop

    with pytest.raises(stop):
        work()
    assert path.read_bytes() == before
    assert [file.name for file in path.parent.iterdir()] == [path.name]


def test_a_notebook_stopped_in_the_making_is_not_made(tmp_path: Path) -> None:
    """An import that is stopped leaves no file behind."""

    def work() -> None:
        """Write, and be stopped."""
        with create_notebook(tmp_path / "garden.haulm") as notebook:
            notebook.write_garden(DOCUMENT, None)
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        work()
    assert list(tmp_path.iterdir()) == []


def test_looking_into_a_notebook_does_not_change_it(path: Path) -> None:
    """Opening a notebook to read leaves the file as it is, byte for byte."""
    before = path.read_bytes()
    with open_notebook(path) as notebook:
        notebook.garden(None)
    assert path.read_bytes() == before


def test_a_notebook_is_never_made_over_another_file(path: Path) -> None:
    """A file that is there already is not overwritten by a new notebook."""
    with pytest.raises(FaultsFoundError) as caught, create_notebook(path):
        pass
    assert str(caught.value) == (
        "fault: garden.haulm: there is a file of this name already. Choose another name."
    )


def test_a_notebook_is_not_made_in_a_folder_that_is_not_there(tmp_path: Path) -> None:
    """A notebook in a missing folder is refused before anything is written."""
    with pytest.raises(FaultsFoundError) as caught, create_notebook(tmp_path / "x" / "g.haulm"):
        pass
    assert str(caught.value) == (
        "fault: g.haulm: its folder does not exist. Make the folder first."
    )


def spoil(change: Callable[[bytes], bytes]) -> Callable[[Path], None]:
    """Give a change of a file's bytes."""

    def run(path: Path) -> None:
        """Change the file."""
        path.write_bytes(change(path.read_bytes()))

    return run


def sql(statement: str) -> Callable[[Path], None]:
    """Give a change of a file by SQL."""

    def run(path: Path) -> None:
        """Change the file."""
        connection = sqlite3.connect(path)
        connection.execute(statement)
        connection.commit()
        connection.close()

    return run


MAKE = "Name a notebook, or make one with haulm import garden.toml."
RESTORE = "Take a copy from before, or read what can be read with haulm rescue."
NEWER = "Install that version, or import its garden.toml here."
SPOILT = {
    "missing": (Path.unlink, f"there is no such notebook. {MAKE}"),
    "empty": (spoil(lambda _: b""), f"the file is empty. {MAKE}"),
    "text": (spoil(lambda _: b"[garden]\n"), f"this is not a haulm notebook. {MAKE}"),
    "another database": (
        sql("PRAGMA application_id = 7"),
        f"this is not a haulm notebook. {MAKE}",
    ),
    "cut short": (spoil(lambda old: old[:5000]), f"the file is damaged: .+ {RESTORE}"),
    "overwritten": (
        spoil(lambda old: old[:8192] + b"\xa5" * 8192 + old[16384:]),
        f"the file is damaged: .+ {RESTORE}",
    ),
    "newer": (
        sql("UPDATE alembic_version SET version_num = '9999'"),
        f"this notebook was written by a newer haulm. {NEWER}",
    ),
}


@pytest.mark.parametrize(("damage", "words"), SPOILT.values(), ids=SPOILT.keys())
def test_a_file_that_is_no_sound_notebook_is_refused(
    path: Path, damage: Callable[[Path], None], words: str
) -> None:
    """What is missing, empty, foreign, damaged or from a newer haulm is refused, and left alone."""
    damage(path)
    before = path.read_bytes() if path.exists() else None
    assert re.fullmatch(f"fault: garden.haulm: {words}", refusal(path), re.DOTALL)
    assert (path.read_bytes() if path.exists() else None) == before


def test_a_notebook_in_use_elsewhere_is_told_as_such(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While another program writes in a notebook, work in it is refused, not mixed in."""
    monkeypatch.setattr(file, "PATIENCE_S", 0.01)
    other = sqlite3.connect(path)
    other.execute("BEGIN EXCLUSIVE")
    assert refusal(path) == (
        "fault: garden.haulm: another program is writing in it, and did not end. "
        "Wait for it, or close it, then do it again."
    )
    other.close()


def test_an_empty_notebook_says_that_it_holds_no_garden(tmp_path: Path) -> None:
    """A notebook that was never filled says so."""
    path = tmp_path / "garden.haulm"
    with create_notebook(path):
        pass
    with open_notebook(path) as notebook, pytest.raises(FaultsFoundError) as caught:
        notebook.garden(None)
    assert str(caught.value) == (
        "fault: garden.haulm: it holds no garden. Import a garden.toml into it."
    )


def test_an_older_notebook_is_brought_up_to_date_on_opening(path: Path) -> None:
    """A notebook from before the first step gets its tables, and only if the work ends well."""
    connection = sqlite3.connect(path)
    tables = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
    for (table,) in tables:
        if table == "sqlite_sequence":
            continue  # SQLite's own
        connection.execute(f'DROP TABLE "{table}"')
    connection.commit()
    connection.close()
    before = path.read_bytes()
    with pytest.raises(KeyboardInterrupt), open_notebook(path):
        raise KeyboardInterrupt
    assert path.read_bytes() == before
    with open_notebook(path) as notebook:
        notebook.write_garden(DOCUMENT, None)
    with open_notebook(path) as notebook:
        assert notebook.document() == DOCUMENT


def older(path: Path) -> Path:
    """Make a notebook of the first revision."""
    connection = sqlite3.connect(path)
    connection.executescript(REVISION_0001.read_text(encoding="utf-8"))
    connection.close()
    return path


def test_an_older_notebook_may_be_opened_by_several_at_once(tmp_path: Path) -> None:
    """Pages that are asked for all at once, right after a new haulm was installed, all open."""
    path = older(tmp_path / "garden.haulm")

    def names(_: int) -> str:
        """Read the garden's name."""
        with open_notebook(path) as notebook:
            return notebook.document().garden.name

    with ThreadPoolExecutor(6) as pool:
        assert set(pool.map(names, range(12))) == {"Two beds"}


def test_a_notebook_of_the_first_revision_opens_whole(tmp_path: Path) -> None:
    """A notebook written before there were pins and proposals keeps its garden and its plans, which
    all count as kept, and takes in what is new.
    """
    path = older(tmp_path / "garden.haulm")
    with open_notebook(path) as notebook:
        assert notebook.document() == DOCUMENT
        assert [entry.number for entry in notebook.plans()] == [1, 2]
        assert notebook.plan().solver.seed == 2
        assert notebook.proposal() is None
        assert notebook.write_plan(notebook.plan(1), "ghi", "0.2.0", kept=False) == 3


def test_the_steps_lead_to_the_tables_in_use(path: Path) -> None:
    """A notebook brought up to date step by step has just the tables that haulm works with."""
    engine = create_engine(f"sqlite:///{path}")
    with engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
    engine.dispose()
