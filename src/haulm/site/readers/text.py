"""A weather file's text, or the reason why it cannot be read."""

from pathlib import Path

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding


def read_text(path: Path) -> str:
    """Read a file as UTF-8 text, with or without a byte order mark.

    Raises
    ------
    FaultsFoundError
        If the file is missing, is no file, is empty, or is not UTF-8.
    """
    try:
        raw = path.read_bytes()
    except FileNotFoundError:
        raise _fault(path, "there is no such file.", "Check the name and the folder.") from None
    except OSError as error:
        reason = error.strerror or "unknown reason"
        raise _fault(path, f"it cannot be opened: {reason}.", "Give a file you may read.") from None
    if not raw.strip():
        raise _fault(path, "the file is empty.", "Save the record again.")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        what = f"the text is not UTF-8 (first seen on line {line})."
        raise _fault(path, what, "Save it again as UTF-8, also called Unicode.") from None
    if "\0" in text:
        raise _fault(path, "this is no text file.", "Save the record as CSV in UTF-8.")
    return text


def _fault(path: Path, what: str, remedy: str) -> FaultsFoundError:
    """Make the one fault that stops the reading."""
    return FaultsFoundError([Finding(path.name, what, remedy)])
