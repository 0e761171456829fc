"""Photos of the diary: beside their entries, in a backup, and as files beside the table."""

import shutil
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from gardens import small_garden
from haulm.desk.garden.exchange import import_garden
from haulm.desk.garden.safekeeping import back_up
from haulm.desk.season.diary import diary_of, put_right, write_entry
from haulm.desk.season.diary_files import ColumnMap, diary_csv, import_table
from haulm.desk.season.diary_photo_files import export_photos, import_photos
from haulm.desk.season.diary_photos import entries_with_photo, keep_photo, photo_of
from haulm.desk.season.diary_typed import TypedEntry, Written
from haulm.measure.errors import FaultsFoundError
from haulm.season.records import Entry

AT, TODAY = datetime(2027, 8, 1, 12, tzinfo=UTC), date(2027, 8, 1)
SCAN = b"\xff\xda\x00\x08\x01\x01\x00\x00\x3f\x00"


def photo(number: int) -> bytes:
    """Make a photo, told apart by a byte of its scan, with a comment that is not to be kept."""
    return b"\xff\xd8\xff\xfe\x00\x08secret" + SCAN + bytes([number]) + b"\xff\xd9"


@pytest.fixture
def notebook(tmp_path: Path) -> Path:
    """Give the small garden's notebook."""
    return import_garden(small_garden(tmp_path), tmp_path / "yard.haulm")[0]


def rust(path: Path, id_: str, **said: str) -> Entry:
    """Write down rust on a bed."""
    told = {"bed": "north", "trouble": "rust"} | said
    typed = TypedEntry("trouble seen", "2027-07-20", **told)
    return write_entry(path, typed, Written(id_, AT, "laptop"), TODAY)


def test_a_photo_is_kept_bare_beside_its_entry(notebook: Path) -> None:
    """What the camera wrote beside the picture is gone; the entry is as it was."""
    entry = rust(notebook, "one")
    keep_photo(notebook, entry.id, photo(1))
    kept = photo_of(notebook, entry.id)
    assert kept is not None
    assert kept.media_type == "image/jpeg"
    assert b"secret" not in kept.picture
    assert entries_with_photo(notebook) == {"one"}
    assert photo_of(notebook, "two") is None


def test_a_photo_of_no_entry_is_not_kept(notebook: Path) -> None:
    """A photo never lies about without the entry it belongs to."""
    with pytest.raises(FaultsFoundError, match="no entry"):
        keep_photo(notebook, "nothing", photo(1))
    assert entries_with_photo(notebook) == frozenset()


def test_a_backup_has_the_photos(notebook: Path) -> None:
    """A copy of the notebook is whole, pictures included."""
    keep_photo(notebook, rust(notebook, "one").id, photo(1))
    copy = back_up(notebook, None, AT)
    assert photo_of(copy, "one") == photo_of(notebook, "one")


def test_photos_go_out_beside_the_table_and_come_in_again(notebook: Path, tmp_path: Path) -> None:
    """Each is found by its row, also of rows that say the same, and of one that was put right."""
    for number, id_ in enumerate(("one", "two", "three")):
        keep_photo(notebook, rust(notebook, id_).id, photo(number))
    typed = TypedEntry("trouble seen", "2027-07-20", bed="north", trouble="white rot")
    put_right(notebook, "three", typed, Written("four", AT, "laptop"), TODAY)
    table, folder = tmp_path / "diary.csv", tmp_path / "photos"
    table.write_text(diary_csv(notebook), encoding="utf-8")
    assert export_photos(notebook, folder) == 3
    other = import_garden(small_garden(tmp_path), tmp_path / "other.haulm")[0]
    import_table(other, table, ColumnMap(), AT, TODAY)
    (folder / "holiday.jpg").write_bytes(photo(9))
    taken, told = import_photos(other, folder)
    assert taken == 3
    assert [one.where for one in told] == ["holiday.jpg"]
    assert import_photos(other, folder)[0] == 0
    seen: dict[str | None, set[int]] = {}
    for entry in diary_of(other).entries:
        there = photo_of(other, entry.id)
        assert there is not None
        seen.setdefault(entry.about.trouble, set()).add(there.picture[-3])
    assert seen == {"rust": {0, 1}, "white rot": {2}}


def test_a_folder_that_cannot_be_written_is_told(notebook: Path, tmp_path: Path) -> None:
    """Where a file stands in the folder's place, or there is none, that is said."""
    keep_photo(notebook, rust(notebook, "one").id, photo(1))
    taken = Path(shutil.copy(notebook, tmp_path / "taken"))
    with pytest.raises(FaultsFoundError, match="cannot be written"):
        export_photos(notebook, taken)
    with pytest.raises(FaultsFoundError, match="cannot be read"):
        import_photos(notebook, tmp_path / "nowhere")
