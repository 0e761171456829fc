"""Bed strips: area and time are true, every patch has a name."""

import re
from dataclasses import replace
from datetime import date
from itertools import product

import pytest

from haulm.measure.units import Units
from haulm.sheets.bed_strips import bed_strip_sheets, draw_bed_strips
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.draw.time_axis import TimeAxis
from sheets.reading import outside, overlaps, strokes, texts
from sheets.schoolhouse import BEDS, bundle

_BAND = re.compile(
    r'd="M([\d.]+) ([\d.]+)L([\d.]+) [\d.]+L[\d.]+ ([\d.]+)L[^"]*" fill="(#fff|url\([^)]*\))" '
    r'stroke="#000" stroke-width="0.25"'
)


def boxes(sheet: str, fill: str) -> list[tuple[float, float, float]]:
    """Give left end, right end and height of every rectangle with a fill."""
    return [
        (float(left), float(right), float(foot) - float(top))
        for left, top, right, foot, filled in _BAND.findall(sheet)
        if filled == fill
    ]


@pytest.mark.parametrize(("units", "paper"), list(product(("metric", "us"), Paper)))
def test_texts_stand_free_on_every_sheet(units: Units, paper: Paper) -> None:
    """On A4 and Letter no text runs into another or off the page, and no line is too thin."""
    for sheet in bed_strip_sheets(bundle(units), paper):
        assert overlaps(sheet) == []
        assert outside(sheet, 11.5) == []
        assert min(strokes(sheet)) >= 0.15


def test_a_band_is_as_tall_as_its_bed_is_large(schoolhouse: SheetBundle) -> None:
    """Heights of bands stand to one another as the areas of the beds, on every sheet."""
    for sheet in (*bed_strip_sheets(schoolhouse, Paper.A4), draw_bed_strips(schoolhouse)):
        heights = [height for _, _, height in boxes(sheet, "#fff")]
        scales = [height / bed.outline.area_m2 for height, bed in zip(heights, BEDS, strict=True)]
        assert scales == pytest.approx([scales[0]] * len(scales), rel=0.01)


def test_a_patch_has_its_share_of_the_band_and_its_days(schoolhouse: SheetBundle) -> None:
    """Potatoes on two thirds of Atlas from 19 April to 24 September are drawn just so."""
    sheet = draw_bed_strips(schoolhouse)
    left, right, atlas = boxes(sheet, "#fff")[0]
    mm_a_day = (right - left) / (104 * 7)
    start = (date(2027, 4, 19) - date(2027, 4, 12)).days * mm_a_day
    length = (date(2027, 9, 24) - date(2027, 4, 19)).days * mm_a_day
    found = [
        box
        for box in boxes(sheet, "url(#strips-growing)")
        if box[0] == pytest.approx(left + start, abs=0.02)
        and box[1] - box[0] == pytest.approx(length, abs=0.05)
    ]
    assert [height for _, _, height in found] == [pytest.approx(atlas * 6 / 9, rel=0.01)]


def test_every_patch_has_a_name(schoolhouse: SheetBundle) -> None:
    """The smallest patch is named by a letter and a list; no other goes without its name."""
    sheet = draw_bed_strips(schoolhouse)
    words = [text.words for text in texts(sheet)]
    named = sum(
        word.split(" ")[0]
        in {"Garlic", "Potatoes", "Leeks", "Beans", "Celeriac", "Cabbage", "Lettuce"}
        for word in words
    )
    listed = [word for word in words if word.startswith("Ruler: a Lettuce ")]
    assert named + len(listed) == len(schoolhouse.plan.plantings)
    assert len(listed) == 1


def test_the_beds_of_a_large_garden_take_more_sheets_not_thinner_bands(
    schoolhouse: SheetBundle,
) -> None:
    """Twelve times the beds are shared over sheets at one scale, each bed on one sheet a year."""
    beds = tuple(
        replace(bed, id=f"{bed.id}{number}", name=f"{bed.name[:3]} {number}")
        for number in range(12)
        for bed in BEDS
    )
    plan = replace(schoolhouse.plan, plantings=())
    many = replace(
        schoolhouse, plan=plan, beds=beds, layouts={bed.id: () for bed in beds}, closures=()
    )
    sheets = bed_strip_sheets(many, Paper.A4)
    names = [text.words for sheet in sheets for text in texts(sheet)]
    assert all(names.count(bed.name) == 2 for bed in beds)
    for sheet in sheets:
        assert outside(sheet, 11.5) == []


def test_a_closed_bed_says_so(schoolhouse: SheetBundle) -> None:
    """A bed that a family is kept off carries the lozenge edge and the family's letters."""
    sheet = draw_bed_strips(schoolhouse)
    assert "10 m², closed to Al" in sheet
    assert 'fill="url(#strips-closed)"' in sheet


def test_today_is_marked_only_where_it_lies(schoolhouse: SheetBundle) -> None:
    """The line of today stands on the sheet whose weeks hold the day of printing, on no other."""
    first, second = bed_strip_sheets(schoolhouse, Paper.A4)
    assert "today, 21 Apr" in first
    assert "today" not in second


def test_weeks_on_the_axis_are_iso_weeks() -> None:
    """The Monday of 2027-W01 is 4 January 2027 (ISO 8601), a week is a seventh of its days."""
    axis = TimeAxis(date(2027, 1, 4), 52, 0.0, 52.0)
    assert axis.x(date(2027, 1, 11)) == pytest.approx(1.0)
    assert axis.x(date(2026, 1, 1)) == 0.0
    assert axis.end_day == date(2028, 1, 3)
