"""The sheets of a garden's plan as the pages show and hand them out; each is drawn once."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory

from haulm.desk.at_hand import AtHand
from haulm.desk.garden.opening import open_garden
from haulm.desk.garden.uploads import GARDEN, load_garden
from haulm.measure.findings import Finding
from haulm.notebook.garden import Garden
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.sheet_set import SheetFile, SheetName, files_of, sheet_names, sheet_pages
from haulm.sheets.sheet_set import sheet_pdf as drawn_pdf

__all__ = ["Paper", "SheetName", "files", "pages", "pdf", "read_garden_file", "sheets"]

_TABLES = (".csv", ".ics", ".json")


@dataclass(frozen=True, slots=True)
class GardenFile:
    """A garden that was read from a file and is not taken in yet, with what was noticed in it."""

    garden: Garden
    findings: tuple[Finding, ...]


def sheets(garden: AtHand, bundle: SheetBundle) -> tuple[SheetName, ...]:
    """List the sheets of the plan in the order of their use."""
    return garden.once("sheet names", garden.day, lambda: sheet_names(bundle))


def pages(garden: AtHand, bundle: SheetBundle, sheet: str, paper: Paper) -> tuple[str, ...]:
    """Draw the pages of one sheet as SVG.

    Raises
    ------
    LabelsDifferError
        If the plan has no sheet of that id.
    """
    name = f"sheet {paper.name} {sheet}"
    key = (garden.day, bundle.store_odds is not None)
    return garden.once(name, key, lambda: sheet_pages(bundle, sheet, paper))


def pdf(garden: AtHand, bundle: SheetBundle, sheet: str | None, paper: Paper) -> bytes:
    """Put one sheet, or the whole set, into a PDF.

    Raises
    ------
    LabelsDifferError
        If the plan has no sheet of that id.
    """
    ids = [sheet] if sheet is not None else [one.id for one in sheets(garden, bundle)]
    name = f"pdf {paper.name} {sheet or ''}"
    key = (garden.day, bundle.store_odds is not None)
    return garden.once(name, key, lambda: drawn_pdf(bundle, ids, paper))


def files(bundle: SheetBundle) -> tuple[SheetFile, ...]:
    """List the tables, the calendar and the plan that other programs can read."""
    return tuple(file for file in files_of(bundle, Paper.A4) if file.name.endswith(_TABLES))


def read_garden_file(content: bytes, at: datetime) -> GardenFile:
    """Read a garden.toml as it would be taken in, and write nothing.

    Raises
    ------
    FaultsFoundError
        With every fault at once.
    """
    with TemporaryDirectory() as folder:
        notebook = Path(folder, GARDEN).with_suffix(".haulm")
        findings = load_garden(notebook, content, at)
        return GardenFile(open_garden(notebook).garden, findings)
