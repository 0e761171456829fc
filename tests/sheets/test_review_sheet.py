"""The printed review: just two pages, whatever the garden, and nothing left out untold."""

from dataclasses import replace
from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from haulm.sheets.bundle import Paper
from haulm.sheets.columns import Section, Told
from haulm.sheets.review_sheet import CameRow, CameTable, ReviewSheet, review_pdf, review_sheets

WORDS = "so many words that they take a line or two of a column on this page, and more"
LONG = "3 of 9 promises held, 5 hold in the mean of many seasons: an unlucky year, " * 3


def row(number: int, picked_kg: float | None = 8.0) -> CameRow:
    """Make a food of which ten kilograms were planned."""
    told = "·" if picked_kg is None else f"{picked_kg:g} kg"
    return CameRow(f"Food {number}", ("10 kg", told), 10.0, picked_kg, (7.0, 13.0))


def year(foods: int, beds: int, lines: int) -> ReviewSheet:
    """Make the review of a garden of so many foods, beds and things to say."""
    heads = ("planned", "picked")
    told = tuple(Told(f"line-{one}:", WORDS) for one in range(lines))
    return ReviewSheet(
        garden="Quill Yard",
        invented=True,
        first_day=date(2027, 2, 1),
        last_day=date(2028, 1, 2),
        whole=True,
        verdict="an ordinary year, better than 5 in 10 drawn.",
        tables=(
            CameTable("Food by food", heads, tuple(row(number) for number in range(foods))),
            CameTable("Bed by bed", heads, tuple(row(100 + number) for number in range(beds))),
        ),
        sections=(
            Section("Why it parted", told, 4, 1, "haulm review"),
            Section("The regret ledger", (Told("1.", WORDS),), 1, 5, turns=True),
        ),
    )


def text_of(pdf: bytes) -> list[str]:
    """Give the words of each page, as another program reads them."""
    return [" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(pdf)).pages]


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("size", [(1, 1, 1), (9, 4, 12), (32, 11, 60), (70, 40, 200)])
def test_the_review_is_two_pages_whatever_the_garden(
    paper: Paper, size: tuple[int, int, int]
) -> None:
    """One bed or forty, it is two pages of the paper asked for, with the regrets on the second."""
    pdf, _ = review_pdf(year(*size), paper)
    pages = PdfReader(BytesIO(pdf)).pages
    assert len(pages) == 2
    for page in pages:
        shown = (float(page.mediabox.width), float(page.mediabox.height))
        assert shown == pytest.approx([mm * 72 / 25.4 for mm in paper.upright], abs=0.5)
    assert "The regret ledger" in text_of(pdf)[1]


def test_every_row_is_on_paper_or_counted() -> None:
    """Of more foods than a page holds the last are left out and counted; every bed stands."""
    pdf, left_out = review_pdf(year(70, 11, 3), Paper.A4)
    first, second = text_of(pdf)
    gone = dict(left_out)["Food by food"]
    assert gone > 0
    assert f"Food {69 - gone} " in first
    assert f"Food {70 - gone} " not in first
    assert "Food 110 " in first
    assert f"{gone} of food by food" in second


def test_a_small_garden_leaves_nothing_out() -> None:
    """Nine foods and four beds leave room on the first page for what is told."""
    pdf, left_out = review_pdf(year(9, 4, 8), Paper.LETTER)
    assert left_out == ()
    assert "Why it parted" in text_of(pdf)[0]


def test_what_nobody_wrote_has_no_stroke_and_a_dot() -> None:
    """A food nobody wrote of shows what was promised alone, and so does one never planned."""
    heads = ("planned", "picked")

    def drawn(one: CameRow) -> str:
        told = replace(year(1, 1, 1), tables=(CameTable("Food by food", heads, (one,)),))
        return review_sheets(told, Paper.A4)[0]

    stroke = 'stroke-width="1.1"'
    written, unwritten = drawn(row(1)).count(stroke), drawn(row(1, None)).count(stroke)
    # One stroke stands in the key.
    assert (written, unwritten) == (2, 1)
    assert drawn(replace(row(1), planned_kg=0.0)).count(stroke) == 1


def test_more_than_twice_the_plan_is_marked_as_going_on() -> None:
    """A glut beyond the chart's end stands at its end with an arrow."""
    heads = ("planned", "picked")
    for kg, arrows in ((19.0, 0), (40.0, 1)):
        told = replace(year(1, 1, 1), tables=(CameTable("Food by food", heads, (row(1, kg),)),))
        assert review_sheets(told, Paper.A4)[0].count('fill="#000" stroke="#000"') == arrows


def test_a_long_verdict_moves_the_tables_down() -> None:
    """However long the sentence about the year, it stands clear of the tables."""
    told = replace(year(40, 11, 3), verdict=LONG)
    pdf, left_out = review_pdf(told, Paper.LETTER)
    assert "an unlucky year" in text_of(pdf)[0]
    assert sum(number for _, number in left_out) > sum(
        number for _, number in review_pdf(year(40, 11, 3), Paper.LETTER)[1]
    )
