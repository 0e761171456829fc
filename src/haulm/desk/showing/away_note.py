"""The note for whoever looks after the garden, written as a file."""

from pathlib import Path

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.sheets.away_note import AwaySheet, draw_away_note
from haulm.sheets.bundle import Paper
from haulm.sheets.paper import to_pdf


def write_away_note(sheet: AwaySheet, paper: Paper, out: Path) -> Path:
    """Write the note as a PDF, and give its path.

    Raises
    ------
    FaultsFoundError
        When the file cannot be written.
    """
    try:
        out.write_bytes(away_pdf(sheet, paper))
    except OSError as error:
        what = f"it cannot be written: {error.strerror}."
        raise FaultsFoundError([Finding(str(out), what, "Name another file.")]) from None
    return out


def away_pdf(sheet: AwaySheet, paper: Paper) -> bytes:
    """Put the note on paper."""
    return to_pdf(draw_away_note(sheet, paper))
