"""Paper: the same bytes, the right size, texts that can be read back."""

import io
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from haulm.sheets.bed_sheet import draw_bed_sheets
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.draw.type import Face, fitted_size, shortened, width_of, wrapped
from haulm.sheets.paper import to_pdf, to_png

MM_A_POINT = 25.4 / 72


@pytest.mark.parametrize("paper", Paper)
def test_pages_have_the_size_of_the_paper(schoolhouse: SheetBundle, paper: Paper) -> None:
    """A4 is 210 × 297 mm (ISO 216), Letter 8.5 × 11 in: 215.9 × 279.4 mm."""
    pdf = PdfReader(io.BytesIO(to_pdf(draw_bed_sheets(schoolhouse, "easel", paper))))
    assert len(pdf.pages) == 2
    for page in pdf.pages:
        width, height = (float(side) * MM_A_POINT for side in page.mediabox[2:])
        assert (width, height) == pytest.approx(paper.upright, abs=0.05)


def test_texts_on_paper_can_be_searched_and_copied(schoolhouse: SheetBundle) -> None:
    """The name of the bed, the crops, the stock and the rows stand as text in the PDF."""
    pdf = PdfReader(io.BytesIO(to_pdf(draw_bed_sheets(schoolhouse, "set-square", Paper.A4)[:1])))
    text = pdf.pages[0].extract_text()
    for words in ("Set-square", "Celeriac", "51 seeds in 51 cells", "A7", "8 to 28 Oct"):
        assert words in text


def test_only_our_faces_are_used(schoolhouse: SheetBundle) -> None:
    """No text falls back to another face: every glyph we print is in the slab or the grotesque."""
    pdf: Any = PdfReader(io.BytesIO(to_pdf(draw_bed_sheets(schoolhouse, "set-square", Paper.A4))))
    fonts = {
        str(value["/BaseFont"])
        for number in range(1, pdf.trailer["/Size"])
        if isinstance(value := pdf.get_object(number), dict) and "/BaseFont" in value
    }
    assert fonts
    assert all("Barlow" in name or "ZillaSlab" in name for name in fonts)


def test_the_same_drawings_give_the_same_bytes(schoolhouse: SheetBundle) -> None:
    """Printed twice, a sheet is the same file: no clock and no chance goes into it."""
    sheets = draw_bed_sheets(schoolhouse, "ruler", Paper.A4)
    assert to_pdf(sheets) == to_pdf(sheets)


def test_a_picture_is_a_png(schoolhouse: SheetBundle) -> None:
    """A drawing can be put on a page as a picture."""
    picture = to_png(draw_bed_sheets(schoolhouse, "ruler", Paper.A4)[0], 50)
    assert picture.startswith(b"\x89PNG")


def test_narrow_faces_are_narrower() -> None:
    """The condensed face sets the same words tighter than the text face."""
    words = "Sprouting broccoli 1234567890"
    assert width_of(words, Face.NARROW, 10) < width_of(words, Face.FIRM, 10)
    assert width_of(words, Face.FIRM, 20) == pytest.approx(2 * width_of(words, Face.FIRM, 10))


@settings(max_examples=40, deadline=None)
@given(st.text("abcdefghij klmno", min_size=1, max_size=60), st.floats(min_value=12, max_value=80))
def test_wrapped_lines_fit_and_lose_no_word(words: str, width: float) -> None:
    """A broken text keeps every word in order, and no line of several words is too wide."""
    lines = wrapped(words, Face.TEXT, 4, width)
    assert " ".join(lines).split() == words.split()
    assert all(width_of(line, Face.TEXT, 4) <= width or " " not in line for line in lines)


def test_a_name_too_long_is_cut_or_set_smaller() -> None:
    """A long bed name never runs into its neighbour: it is cut with an ellipsis or set smaller."""
    name = "The long border under the south wall"
    assert width_of(shortened(name, Face.NAME, 4, 20), Face.NAME, 4) <= 20
    size = fitted_size(name, Face.NAME, 15, 96)
    assert width_of(name, Face.NAME, size) <= 96.001
    assert fitted_size("Atlas", Face.NAME, 15, 96) == 15
