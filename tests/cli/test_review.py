"""The review on a terminal: printed on two pages."""

from io import BytesIO
from pathlib import Path

from pypdf import PdfReader

from shell import Haulm

ON = ("--on", "2027-12-31")


def test_the_review_is_printed_beside_what_is_told(
    haulm: Haulm, planned: Path, tmp_path: Path
) -> None:
    """With a file named, the two pages are written, on A4 in a metric garden, and the year told."""
    out = tmp_path / "year.pdf"
    ran = haulm("review", planned, "--out", out, *ON)
    assert "promises" in ran.out or "does not say" in ran.out
    assert f"Wrote {out}" in ran.out.replace("\n", "")
    pages = PdfReader(BytesIO(out.read_bytes())).pages
    assert len(pages) == 2
    assert round(float(pages[0].mediabox.width) / 72 * 25.4) == 210


def test_a_file_that_cannot_be_written_is_refused(
    haulm: Haulm, planned: Path, tmp_path: Path
) -> None:
    """A folder that is not there is said to be none, in words."""
    ran = haulm("review", planned, "--out", tmp_path / "none" / "year.pdf", *ON)
    assert ran.code != 0
    assert "cannot be written" in ran.err
