from datetime import UTC, date, datetime
from errno import ENOSPC
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.garden import exchange
from haulm.desk.garden.editing import history, undo_last
from haulm.desk.garden.exchange import export_garden, import_garden, notebook_here
from haulm.desk.garden.opening import open_garden
from haulm.desk.planning.plans import kept_plan, plan_garden
from haulm.measure.errors import FaultsFoundError
from haulm.planner.question import Effort


def test_the_only_notebook_here_is_the_one_meant(tmp_path: Path) -> None:
    """Without a name the only notebook in the folder is taken; with none or two, it is asked."""
    with pytest.raises(FaultsFoundError, match=r"haulm import garden\.toml"):
        notebook_here(None, tmp_path)
    (tmp_path / "a.haulm").touch()
    assert notebook_here(None, tmp_path) == tmp_path / "a.haulm"
    (tmp_path / "b.haulm").touch()
    with pytest.raises(FaultsFoundError, match=r"a\.haulm, b\.haulm.*Name the one you mean"):
        notebook_here(None, tmp_path)
    assert notebook_here(Path("elsewhere.haulm"), tmp_path) == Path("elsewhere.haulm")


def test_a_notebook_is_made_beside_its_garden(tmp_path: Path) -> None:
    """Where no name is given, the notebook stands beside garden.toml under the same name."""
    book, findings = import_garden(small_garden(tmp_path), None)
    assert book == tmp_path / "garden.haulm"
    assert findings == ()
    assert book.is_file()


def test_a_garden_comes_back_whole(tmp_path: Path) -> None:
    """What goes into a notebook comes out of it with every value."""
    toml = small_garden(tmp_path)
    book, _ = import_garden(toml, None)
    (back,) = export_garden(book, tmp_path / "back.toml")
    assert open_garden(back).garden == open_garden(toml).garden


def test_importing_again_keeps_the_plans(tmp_path: Path, day: date, quick: Effort) -> None:
    """A garden brought up to date in its notebook keeps the plans made before."""
    toml = small_garden(tmp_path)
    book, _ = import_garden(toml, None)
    made = plan_garden(book, day, quick, seed=1)
    small_garden(tmp_path, ("Quill Yard", "Quill Court"))
    import_garden(toml, None)
    assert open_garden(book).garden.name == "Quill Court"
    assert kept_plan(book).plan == made.plan


def test_a_garden_imported_over_another_can_be_taken_back(tmp_path: Path) -> None:
    """Importing over what was changed on a page loses nothing: the garden of before comes back. An
    import without a time leaves nothing to go back to, for it would not fit.
    """
    toml = small_garden(tmp_path)
    book, _ = import_garden(toml, None)
    small_garden(tmp_path, ("Quill Yard", "Quill Court"))
    import_garden(toml, None, datetime(2027, 2, 1, tzinfo=UTC))
    assert undo_last(book) == "garden.toml imported"
    assert open_garden(book).garden.name == "Quill Yard"
    import_garden(toml, None, datetime(2027, 2, 1, tzinfo=UTC))
    import_garden(toml, None)
    assert history(book) == ()


def test_a_faulty_garden_leaves_the_notebook_as_it_was(tmp_path: Path) -> None:
    """A garden with a fault changes nothing in the notebook it was to go into."""
    book, _ = import_garden(small_garden(tmp_path), None)
    before = book.read_bytes()
    with pytest.raises(FaultsFoundError):
        import_garden(small_garden(tmp_path, ('eat = "leek"', 'eat = "lek"')), None)
    assert book.read_bytes() == before


@pytest.mark.parametrize(
    ("target", "said"), [("none/garden.toml", "folder does not exist"), ("", "this is a folder")]
)
def test_a_garden_is_written_into_a_file_only(tmp_path: Path, target: str, said: str) -> None:
    """A folder that is not there, or a folder in place of a file, is refused in words."""
    book, _ = import_garden(small_garden(tmp_path), None)
    before = sorted(tmp_path.parent.rglob("*"))
    with pytest.raises(FaultsFoundError, match=said):
        export_garden(book, tmp_path / target)
    assert sorted(tmp_path.parent.rglob("*")) == before


def test_a_disk_without_room_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where garden.toml cannot be written, it is said why, in words."""
    book, _ = import_garden(small_garden(tmp_path), None)

    def full(*_: object) -> None:
        raise OSError(ENOSPC, "No space left on device")

    monkeypatch.setattr(exchange, "write_garden_toml", full)
    with pytest.raises(FaultsFoundError, match=r"No space left on device.*disk has room"):
        export_garden(book, tmp_path / "back.toml")
