"""Read garden.toml: into the document as typed, the garden made of it, and all that was noticed."""

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.notebook.checked import garden_from
from haulm.notebook.document import GardenDocument
from haulm.notebook.draft import Raw, document_from
from haulm.notebook.faults import Gathered, refusal
from haulm.notebook.garden import Garden
from haulm.notebook.names import KnownNames
from haulm.notebook.weather_file import record_of
from haulm.site.records import DailyRecord

_DECIMAL_COMMA = re.compile(r"=\s*[+-]?\d+,\d+\s*(#.*)?$")
_LINE = re.compile(r"\(at line (\d+), column (\d+)\)|\(at end of document\)")


@dataclass(frozen=True, slots=True)
class GardenRead:
    """What garden.toml held.

    ``record`` is the daily record that the document names; None where it has normals. ``findings``
    are warnings and notes: a fault would have been raised.
    """

    document: GardenDocument
    record: DailyRecord | None
    garden: Garden
    findings: tuple[Finding, ...]


def read_garden_toml(path: Path, known: KnownNames | None) -> tuple[Garden, tuple[Finding, ...]]:
    """Read a garden, with the warnings and notes that came of it.

    Parameters
    ----------
    path
        garden.toml.
    known
        The catalogue's names; None to take every name on trust.

    Raises
    ------
    FaultsFoundError
        With every fault in the file, and in its weather record, at once.
    """
    read = read_toml(path, known)
    return read.garden, read.findings


def read_toml(path: Path, known: KnownNames | None) -> GardenRead:
    """Read a garden together with its document and daily record, as a notebook keeps them.

    Raises
    ------
    FaultsFoundError
        With every fault in the file, and in its weather record, at once.
    """
    gathered = Gathered(path.name, known)
    document = document_from(tables_from(_content(path), path), gathered)
    record = record_of(document.weather, path.parent, gathered)
    document = _with_height(document, record)
    garden = garden_from(document, record, gathered)
    return GardenRead(document, record, garden, tuple(gathered.findings))


def _with_height(document: GardenDocument, record: DailyRecord | None) -> GardenDocument:
    """Keep the height that a record's own file tells, where none is typed."""
    height_m = None if record is None else record.height_m
    if height_m is None or document.weather.height is not None:
        return document
    weather = document.weather.model_copy(update={"height": f"{height_m:g} m"})
    return document.model_copy(update={"weather": weather})


def tables_from(content: bytes, path: Path) -> Raw:
    """Read the tables of a TOML file's content; whatever stands in the way is the one fault told.

    Raises
    ------
    FaultsFoundError
        When it is empty, not UTF-8 or not TOML.
    """
    text = _text(content, path)
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise FaultsFoundError([_syntax_fault(path, text, str(error))]) from None
    except (RecursionError, ValueError):
        what = "its brackets or numbers go on without end."
        raise refusal(path, what, "Give a garden.toml as haulm writes it.") from None


def _content(path: Path) -> bytes:
    """Read the file's bytes; whatever stands in the way is the one fault told."""
    try:
        return path.read_bytes()
    except FileNotFoundError:
        raise refusal(path, "there is no such file.", "Mend the path, or make it.") from None
    except OSError as error:
        what = f"it cannot be read: {error.strerror}."
        raise refusal(path, what, "Name a file you may read.") from None


def _text(content: bytes, path: Path) -> str:
    """Read a file's text; whatever stands in the way is the one fault told."""
    if not content.strip():
        raise refusal(path, "the file is empty.", "docs/garden.md shows what goes in.")
    try:
        return content.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        what = f"line {line} is not written in UTF-8."
        raise refusal(path, what, "Save the file again as UTF-8.") from None


def _syntax_fault(path: Path, text: str, message: str) -> Finding:
    """Say where TOML broke off, and what is likely meant there."""
    at = _LINE.search(message)
    lines = text.splitlines()
    number = int(at[1]) if at and at[1] else len(lines)
    where = f"{path.name}, line {number}"
    if _DECIMAL_COMMA.search(lines[number - 1]):
        return Finding(
            where,
            "a number has a decimal comma.",
            'Write a point, as in 1.2, or the number with its unit in quotes, as in "1,2 m".',
        )
    what = _LINE.sub("", message).strip()
    return Finding(
        where,
        f"this line is not TOML: {what[0].lower()}{what[1:]}.",
        "Texts stand in quotes, days are written 2027-02-01, and every line is key = value.",
    )
