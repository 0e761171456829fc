"""The diary's photos as files beside its table, each named for the row it belongs to."""

from collections import Counter
from pathlib import Path

from haulm.desk.season.diary_files import as_typed, row_name
from haulm.desk.season.diary_photos import keep_photo
from haulm.desk.season.diary_typed import TypedEntry
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.diary import Photo, photographed, read_diary, read_entries, read_photo
from haulm.notebook.file import open_notebook

SUFFIX = {"image/jpeg": ".jpg", "image/png": ".png", "image/webp": ".webp"}
BETWEEN = "_"
"""Stands before a row's name in the name of its photo's file."""


def export_photos(path: Path, folder: Path) -> int:
    """Write the photos of all entries that hold into a folder, and give how many there are.

    A file is named for its day, its kind of entry and the name that its row is given when the
    table is read again.

    Raises
    ------
    FaultsFoundError
        When the folder cannot be written.
    """
    found = _photos_by_name(path)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, photo in found.items():
            (folder / f"{name}{SUFFIX[photo.media_type]}").write_bytes(photo.picture)
    except OSError as error:
        what = f"the photos cannot be written: {error.strerror}."
        raise FaultsFoundError([Finding(str(folder), what, "Name another folder.")]) from None
    return len(found)


def import_photos(path: Path, folder: Path) -> tuple[int, tuple[Finding, ...]]:
    """Put a folder's photos beside the entries they are named for, once the table was read.

    Gives how many are there now that were not, and which files belong to no entry or are no photo.

    Raises
    ------
    FaultsFoundError
        When the folder cannot be read.
    """
    try:
        files = sorted(one for one in folder.iterdir() if one.is_file())
    except OSError as error:
        what = f"it cannot be read: {error.strerror}."
        raise FaultsFoundError([Finding(str(folder), what, "Name another folder.")]) from None
    with open_notebook(path) as notebook:
        there = {entry.id for entry in read_entries(notebook)}
        known = photographed(notebook)
    taken, told = 0, []
    for file in files:
        name = file.stem.rpartition(BETWEEN)[2]
        if name in known:
            continue
        if name not in there:
            what = "its name is that of no row of the diary."
            told.append(Finding(file.name, what, "Take in the table it was written with first."))
            continue
        try:
            keep_photo(path, name, file.read_bytes())
            taken += 1
        except FaultsFoundError as error:
            told.extend(error.findings)
    return taken, tuple(told)


def _photos_by_name(path: Path) -> dict[str, Photo]:
    """Give each photo by the name of its file, without its ending."""
    found: dict[str, Photo] = {}
    alike: Counter[TypedEntry] = Counter()
    with open_notebook(path) as notebook:
        diary = read_diary(notebook)
        there = photographed(notebook)
        for entry in diary.entries:
            typed = as_typed(entry)
            alike[typed] += 1
            ids = (entry.id, *(one.id for one in diary.before.get(entry.id, ())))
            photo = next((read_photo(notebook, one) for one in ids if one in there), None)
            if photo is not None:
                words = f"{entry.day.isoformat()}-{entry.kind.value.replace(' ', '-')}"
                found[f"{words}{BETWEEN}{row_name(typed, alike[typed])}"] = photo
    return found
