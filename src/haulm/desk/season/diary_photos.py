"""Photos beside the diary's entries: taken in bare, and given back."""

from pathlib import Path

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.diary import Photo, entries_there, photographed, read_photo, write_photo
from haulm.notebook.file import open_notebook
from haulm.season.pictures import bare_picture


def keep_photo(path: Path, entry: str, data: bytes) -> None:
    """Put a photo beside an entry, without the place and time that a camera writes into it.

    Raises
    ------
    FaultsFoundError
        When it is no picture that can be kept, or there is no such entry; nothing is written then.
    """
    picture = bare_picture(data)
    with open_notebook(path, writing=True) as notebook:
        if entry not in entries_there(notebook, [entry]):
            what = f"the diary has no entry {entry} for it."
            finding = Finding("the photo", what, "Send the entry first.", place=("photo",))
            raise FaultsFoundError([finding])
        write_photo(notebook, entry, Photo(picture.media_type, picture.data))


def photo_of(path: Path, entry: str) -> Photo | None:
    """Give the photo of an entry; None where it has none."""
    with open_notebook(path) as notebook:
        return read_photo(notebook, entry)


def entries_with_photo(path: Path) -> frozenset[str]:
    """Give the ids of the entries that have a photo."""
    with open_notebook(path) as notebook:
        return photographed(notebook)
