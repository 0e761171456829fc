"""A check that looks at every row: sound is told as sound, and each thing spoilt is named."""

import sqlite3
import tomllib
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.garden.exchange import import_garden
from haulm.desk.garden.notebook_check import check_all
from haulm.desk.garden.safekeeping import back_up, copies_of, copy_weekly, drop_oldest
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.diary import Photo, write_entries, write_photo
from haulm.notebook.document import GardenDocument
from haulm.notebook.file import create_notebook
from haulm.notebook.soundness import TOLD, look_through
from haulm.season.records import EntryKind
from season.diary_by_hand import entry, kg

SOUND = tomllib.loads((Path(__file__).with_name("data") / "sound.toml").read_text("utf-8"))
DOCUMENT = GardenDocument.model_validate(SOUND)
DAY = date(2027, 7, 20)
NOW = datetime(2027, 7, 20, 18, 30, tzinfo=UTC)
PICTURE = Photo("image/jpeg", b"\xff\xd8\xff rust")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Give a notebook with a garden, entries, one put right, one taken back, and a picture."""
    made = tmp_path / "garden.haulm"
    picked = entry(EntryKind.PICKED, DAY, id="e-picked", food="garlic", amount=kg(12))
    right = entry(
        EntryKind.PICKED, DAY, id="e-right", food="garlic", amount=kg(13), replaces="e-picked"
    )
    worked = entry(EntryKind.WORKED, DAY, id="e-worked", minutes=30.0)
    back = entry(
        EntryKind.WORKED, DAY, id="e-back", minutes=30.0, replaces="e-worked", taken_back=True
    )
    with create_notebook(made) as notebook:
        notebook.write_garden(DOCUMENT, None)
        write_entries(notebook, [picked, right, worked, back])
        write_photo(notebook, "e-right", PICTURE)
    return made


def spoil(path: Path, *statements: str) -> tuple[Finding, ...]:
    """Change a notebook by SQL, and look through it."""
    with sqlite3.connect(path) as connection:
        for statement in statements:
            connection.execute(statement)
    connection.close()
    return look_through(path).findings


def test_a_sound_notebook_is_told_thing_by_thing(path: Path) -> None:
    """What was looked at is told with how much of it there is, and the file is not touched."""
    before = path.read_bytes()
    found = look_through(path)
    assert path.read_bytes() == before
    assert found.findings == ()
    told = {one.what: one.found for one in found.looked_at}
    assert told["the diary"] == "4 entries read; 1 hold, 1 were put right, 1 taken back"
    assert told["pictures"] == "1, 0.0 MB"
    assert told["plans"] == "none"


def test_an_entry_that_cannot_be_read_is_named(path: Path) -> None:
    """One entry written over is told by its day and kind, and the others are read."""
    (finding,) = spoil(path, "UPDATE diary SET entry = '{\"id' WHERE id = 'e-right'")
    assert finding.where == "the diary of 2027-07-20, picked (e-right)"
    assert finding.what == "it cannot be read."


def test_an_entry_beside_other_columns_is_told(path: Path) -> None:
    """An entry that stands under another day than its own would be overlooked: it is told."""
    (finding,) = spoil(path, "UPDATE diary SET day = '2026-01-01' WHERE id = 'e-right'")
    assert finding.what == "its day, kind or name beside it are not its own."


def test_what_puts_right_an_entry_that_is_not_here_is_told(path: Path) -> None:
    """A correction whose entry is still on another device is told, and is no fault."""
    (finding,) = spoil(path, "DELETE FROM diary WHERE id = 'e-picked'")
    assert finding.grade.value == "warning"
    assert "counts by itself" in finding.what


def test_a_picture_without_its_entry_and_one_that_is_none_are_told(path: Path) -> None:
    """A picture nobody speaks of, and bytes that are no picture, are told."""
    found = spoil(
        path,
        "UPDATE diary_photos SET picture = x'00112233'",
        "UPDATE diary_photos SET entry = 'e-nobody'",
    )
    assert [one.what for one in found] == ["its entry is not in the diary.", "it is no picture."]


def test_a_plan_that_cannot_be_read_is_named(path: Path) -> None:
    """A plan cut short is told by its number."""
    (finding,) = spoil(
        path,
        "INSERT INTO plans VALUES (1, '2027-02-01', 'abc', 1, 'quick', '0.1.0', '{', 1)",
    )
    assert finding.where == "plan 1"


def test_many_of_one_sort_are_counted(path: Path) -> None:
    """A hundred spoilt entries are not a hundred lines: the first are told, the others counted."""
    many = ", ".join(f"('x{n}', '2027-07-20', 'worked', '', NULL)" for n in range(100))
    found = spoil(path, f"INSERT INTO diary VALUES {many}")  # noqa: S608 - ours
    assert len(found) == TOLD + 1
    assert found[-1].what == f"there are {100 - TOLD} more like these."


def test_damage_in_the_middle_is_told_with_what_to_do(path: Path) -> None:
    """A page written over is found by the check, which names rescue and leaves the file alone."""
    whole = path.read_bytes()
    path.write_bytes(whole[:12288] + b"\xa5" * 4096 + whole[16384:])
    damaged = path.read_bytes()
    with pytest.raises(FaultsFoundError, match="haulm rescue"):
        check_all(path, NOW)
    assert path.read_bytes() == damaged


def test_the_age_of_the_newest_copy_is_told(tmp_path: Path) -> None:
    """Without a copy, or with one a month old, the check says so; with one of today, its age."""
    path, _ = import_garden(small_garden(tmp_path), tmp_path / "small.haulm")
    assert "there is no copy" in str(check_all(path, NOW).findings[-1])
    back_up(path, None, datetime(2027, 6, 1, 8, tzinfo=UTC))
    assert "49 days old" in str(check_all(path, NOW).findings[-1])
    back_up(path, None, NOW)
    checked = check_all(path, NOW)
    assert all("copy" not in str(one) for one in checked.findings)
    assert checked.looked_at[-1].found == "2, the newest of today"


def test_a_notebook_is_copied_by_itself_once_a_week_and_only_some_are_kept(
    path: Path, tmp_path: Path
) -> None:
    """Written in every day for twelve weeks, it is copied every seventh day, and the last eight are
    kept; a copy made by hand, however old, stays.
    """
    first = datetime(2027, 3, 1, 8, tzinfo=UTC)
    by_hand = back_up(path, None, first - timedelta(days=40))
    for day in range(84):
        assert copy_weekly(path, first + timedelta(days=day)) == ()
    made = sorted(one.name for one in (tmp_path / "copies").glob("*.weekly.copy"))
    days = [first + timedelta(days=7 * week) for week in range(4, 12)]
    assert made == [f"garden.haulm.{day:%Y-%m-%d}-080000.weekly.copy" for day in days]
    assert by_hand.exists()
    assert copies_of(path)[-1].age_days(first + timedelta(days=83)) == 6
    assert drop_oldest(path, None, 1) == ()


def test_a_copy_that_fails_stops_nothing_and_is_told(path: Path, tmp_path: Path) -> None:
    """Where the copy cannot be made that is said, with what to do; the notebook is as it was."""
    before = path.read_bytes()
    (tmp_path / "copies").write_text("no folder", encoding="utf-8")
    (told,) = copy_weekly(path, NOW)
    assert "what you wrote is kept" in told.what
    assert "haulm backup --to" in told.remedy
    assert path.read_bytes() == before


def test_only_as_many_copies_are_kept_as_asked_for(path: Path, tmp_path: Path) -> None:
    """The oldest copies made by hand go; one from before a step, and any other file, stays."""
    for day in (1, 2, 3, 4):
        back_up(path, None, datetime(2027, 7, day, 8, tzinfo=UTC))
    folder = tmp_path / "copies"
    stays = (
        folder / "garden.haulm.2026-01-01.revision-0009.copy",
        folder / "other.haulm.2026-01-01-080000.copy",
    )
    for one in stays:
        one.write_bytes(b"")
    gone = drop_oldest(path, None, 2)
    assert [one.name for one in gone] == [
        "garden.haulm.2027-07-01-080000.copy",
        "garden.haulm.2027-07-02-080000.copy",
    ]
    assert all(one.exists() for one in stays)
    assert len(copies_of(path)) == 3
