"""The handover: just two pages, whatever the garden, and nothing left out untold."""

from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from haulm.sheets.bundle import Paper
from haulm.sheets.columns import Section, Told
from haulm.sheets.handover import BedShape, Handover, fit, handover_pdf

DAY = date(2027, 7, 20)
WORDS = "so many words that they take a line or two of a column on this page, and more"
SQUARE = ((0.0, 0.0), (4.0, 0.0), (4.0, 1.2), (0.0, 1.2))


def lines(name: str, number: int) -> tuple[Told, ...]:
    """Make so many lines, each of its own words."""
    return tuple(Told(f"{name}-{one}:", f"{WORDS} {name}{one}") for one in range(number))


def garden(beds: int, year: int, figures: int) -> Handover:
    """Make the handover of a garden of so many beds, months and own figures."""
    return Handover(
        garden="Quill Yard",
        invented=True,
        day=DAY,
        shapes=tuple(BedShape(f"Bed {number}", SQUARE) for number in range(beds)),
        sections=(
            Section("The beds", lines("bed", beds), 40, 12),
            Section("The year round", lines("month", year), 6, 2, "the calendar"),
            Section("What this garden has taught", lines("figure", figures), 2, 1, "haulm crops"),
            Section("This file", lines("file", 3), 3, 13),
        ),
    )


def text_of(pdf: bytes) -> list[str]:
    """Give the words of each page, as another program reads them."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages]


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("size", [(1, 1, 1), (11, 12, 4), (20, 12, 60), (60, 12, 200)])
def test_the_handover_is_two_pages_whatever_the_garden(
    paper: Paper, size: tuple[int, int, int]
) -> None:
    """One bed or sixty, it is two pages of the paper asked for, with the file told at the end."""
    pdf, _ = handover_pdf(garden(*size), paper)
    pages = PdfReader(BytesIO(pdf)).pages
    assert len(pages) == 2
    for page in pages:
        shown = (float(page.mediabox.width), float(page.mediabox.height))
        assert shown == pytest.approx([mm * 72 / 25.4 for mm in paper.upright], abs=0.5)
    assert "file-2:" in " ".join(text_of(pdf))


def test_every_line_is_on_paper_or_counted() -> None:
    """What is left out is told in its place and at the end, and all the rest can be read."""
    told = garden(11, 12, 200)
    pdf, left_out = handover_pdf(told, Paper.A4)
    read = " ".join(text_of(pdf))
    there = [line for section in told.sections for line in section.lines if line.lead in read]
    everything = sum(len(section.lines) for section in told.sections)
    assert sum(number for _, number in left_out) == everything - len(there)
    ((title, number),) = left_out
    assert title == "What this garden has taught"
    assert f"and {number} more: haulm crops" in read
    assert f"{number} of what this garden has taught" in read


def test_a_small_garden_leaves_nothing_out() -> None:
    """Where there is room, every line stands."""
    assert fit(garden(4, 12, 2), Paper.LETTER).left_out == ()


def test_sections_give_way_in_their_order() -> None:
    """Own figures go before months; beds and the file are the last to lose a line."""
    assert dict(fit(garden(20, 12, 200), Paper.A4).left_out).keys() == {
        "What this garden has taught"
    }
    left_out = dict(fit(garden(90, 12, 200), Paper.A4).left_out)
    assert left_out["What this garden has taught"] >= 198
    assert left_out["The year round"] >= 6
    assert left_out["The beds"] > 0
    assert "This file" not in left_out
