"""The bed sheet: true to scale, complete, and inside its page."""

import re
from dataclasses import replace
from itertools import product

import pytest

from haulm.ground.records import Bed, Outline, Shape
from haulm.measure.errors import LabelsDifferError
from haulm.measure.units import Units
from haulm.planting.layout import lay_out
from haulm.planting.records import Layout, PatchLayout, Pattern, Piece, Row
from haulm.sheets.bed_detail import Window, clipped
from haulm.sheets.bed_page import SCALES
from haulm.sheets.bed_sheet import draw_bed_sheets
from haulm.sheets.bundle import Paper, SheetBundle
from sheets.reading import outside, overlaps, strokes, texts
from sheets.schoolhouse import BEDS, bundle, planting, rectangle


@pytest.mark.parametrize(("units", "paper"), list(product(("metric", "us"), Paper)))
def test_nothing_runs_off_the_page_or_into_another_text(units: Units, paper: Paper) -> None:
    """On A4 and Letter, in cm and in inches, every text stands free within the margins."""
    made = bundle(units)
    for bed in made.beds:
        for sheet in draw_bed_sheets(made, bed.id, paper):
            assert overlaps(sheet) == []
            assert outside(sheet, 11.5) == []


def test_no_line_is_too_thin_to_print(schoolhouse: SheetBundle) -> None:
    """No stroke is thinner than 0.15 mm, hatches included."""
    for bed in schoolhouse.beds:
        for sheet in draw_bed_sheets(schoolhouse, bed.id, Paper.A4):
            assert min(strokes(sheet)) >= 0.15


def test_sheets_are_black_on_white(schoolhouse: SheetBundle) -> None:
    """Nothing but black and white is put on paper, so that any printer serves."""
    for sheet in draw_bed_sheets(schoolhouse, "set-square", Paper.A4):
        colours = set(re.findall(r'(?:fill|stroke)="(#[0-9a-f]+)"', sheet))
        assert colours == {"#000", "#fff"}


def test_every_row_is_measured_with_a_box_to_tick(schoolhouse: SheetBundle) -> None:
    """Each row of the celeriac stands in the table with its distance, first hole, step, holes."""
    sheet = draw_bed_sheets(schoolhouse, "set-square", Paper.A4)[0]
    words = [text.words for text in texts(sheet)]
    for number, from_base in enumerate((220, 260, 300, 340, 380, 420, 460), start=1):
        assert words.count(f"A{number}") == 2  # at the drawing and in the table
        assert str(from_base) in words
    assert "32 plants" in words
    assert "46 plants" in words


def test_stock_is_a_division_by_survival(schoolhouse: SheetBundle) -> None:
    """32 celeriac at 70 % coming up and 90 % living take 32 / (0.70 × 0.90) = 51 seeds, not 45."""
    sheet = draw_bed_sheets(schoolhouse, "set-square", Paper.A4)[0]
    assert "32 / (0.70 × 0.90) = 51 seeds in 51 cells" in sheet


def test_the_drawing_is_true_to_its_scale(schoolhouse: SheetBundle) -> None:
    """On the sheet at 1:50, holes 40 cm apart stand 8 mm apart and a bed of 600 cm is 120 mm."""
    sheet = draw_bed_sheets(schoolhouse, "set-square", Paper.A4)[0]
    assert "1 : 50" in sheet
    holes = re.findall(r'<circle cx="([\d.]+)" cy="([\d.]+)" r="1.12" fill="#(?:000|fff)"', sheet)
    xs = sorted({float(x) for x, y in holes if y == holes[0][1]})
    assert xs[1] - xs[0] == pytest.approx(8.0, abs=0.02)
    outline = re.search(
        r'd="M([\d.]+) ([\d.]+)L([\d.]+) [^"]*" fill="none" stroke="#000" '
        r'stroke-width="0.9"',
        sheet,
    )
    assert outline is not None
    assert float(outline.group(3)) - float(outline.group(1)) == pytest.approx(120.0, abs=0.02)


def test_every_station_is_drawn_once(schoolhouse: SheetBundle) -> None:
    """The round bed shows 120 lettuces: 12 first holes filled, the other 108 open."""
    sheet = draw_bed_sheets(schoolhouse, "inkwell", Paper.A4)[0]
    grown = re.findall(r'r="[\d.]+" fill="none" stroke="#000" stroke-width="0.15"', sheet)
    assert len(grown) == 120


def test_what_stands_beside_is_outlined_by_name(schoolhouse: SheetBundle) -> None:
    """The sheet for the beans names the potatoes that stand in the same bed, and until when."""
    sheet = draw_bed_sheets(schoolhouse, "atlas", Paper.A4)[1]
    words = [text.words for text in texts(sheet)]
    assert {"Potatoes", "until 24 Sept", "Garlic"} <= set(words)


def test_food_that_can_poison_carries_its_caution(schoolhouse: SheetBundle) -> None:
    """The sheet of the beans says that they are never eaten raw, and whom to ask."""
    sheet = draw_bed_sheets(schoolhouse, "ruler", Paper.A4)[0]
    assert "Never eat these beans raw" in sheet
    assert "food safety authority" in sheet


@pytest.mark.parametrize("length_m", [1.0, 2.6, 4.0, 8.0, 14.0, 60.0, 300.0])
def test_the_largest_scale_that_fits_is_used(schoolhouse: SheetBundle, length_m: float) -> None:
    """A small bed is drawn large; one of any length still fits the page."""
    corners = ((0.0, 0.0), (length_m, 0.0), (length_m, 1.0), (0.0, 1.0))
    bed = Bed("inkwell", "Inkwell", Outline(Shape.RECTANGLE, corners, length_m))
    beds = tuple(bed if one.id == "inkwell" else one for one in schoolhouse.beds)
    patch = schoolhouse.layouts["inkwell"][0]
    empty = replace(patch, pieces=())
    layouts = {**schoolhouse.layouts, "inkwell": (empty,)}
    sheet = draw_bed_sheets(replace(schoolhouse, beds=beds, layouts=layouts), "inkwell", Paper.A4)[
        0
    ]
    scale = next(one for one in SCALES if f"1 : {one}<" in sheet)
    assert length_m / scale * 1000 <= 146
    larger = [one for one in SCALES if one < scale]
    # A step smaller is taken only if it brings the measures on the sheet.
    assert not larger or length_m / larger[-1] * 1000 > 146 / 2.0


def test_a_bed_that_is_not_there_has_no_sheet(schoolhouse: SheetBundle) -> None:
    """An unknown bed is refused by name."""
    with pytest.raises(LabelsDifferError, match="attic"):
        draw_bed_sheets(schoolhouse, "attic", Paper.A4)


def test_slivers_that_stand_are_lettered_and_listed(schoolhouse: SheetBundle) -> None:
    """Ground too thin for a name carries a letter, and the sheet says what it stands for."""
    days = ("2027-03-01", "2027-03-01", "2027-06-24", "2027-06-30", "2027-07-08", "2027-10-22")
    thin = [
        planting("bean/french", 10 + number, "ruler", days, standing=True) for number in range(6)
    ]
    layouts = []
    for number, one in enumerate(thin):
        corners = rectangle(0.15, 1, 8 + 0.15 * number)
        piece = Piece(0.7 + number / 100, 0.71 + number / 100, corners, lay_out(corners, 0.15))
        layouts.append(PatchLayout(one.id, 0.15, (piece,)))
    plan = replace(schoolhouse.plan, plantings=(*schoolhouse.plan.plantings, *thin))
    ruler = (*schoolhouse.layouts["ruler"], *layouts)
    full = replace(schoolhouse, plan=plan, layouts={**schoolhouse.layouts, "ruler": ruler})
    sheet = draw_bed_sheets(full, "ruler", Paper.A4)[0]
    assert overlaps(sheet) == []
    words = " ".join(text.words for text in texts(sheet))
    assert "standing" in words
    assert "a Beans until 22 Oct" in words
    assert "f Beans until 22 Oct" in words


def test_ground_too_small_for_the_plan_says_so(schoolhouse: SheetBundle) -> None:
    """A patch that holds no station of 120 tells it on the sheet instead of leaving it out."""
    empty = replace(schoolhouse.layouts["inkwell"][0], pieces=())
    sheets = draw_bed_sheets(
        replace(schoolhouse, layouts={**schoolhouse.layouts, "inkwell": (empty,)}),
        "inkwell",
        Paper.A4,
    )
    words = " ".join(text.words for text in texts(sheets[0]))
    assert "A: this ground holds 0 of the 120 plants." in words


def test_a_long_measure_goes_on_overleaf(schoolhouse: SheetBundle) -> None:
    """A patch of 139 rows is measured out to its last row over further sheets, none off a page."""
    corners = rectangle(0.9, 14)
    rows = tuple(
        Row(
            name=str(number),
            from_base_m=number / 10,
            first_m=0.1 + number / 3000,
            step_m=0.1,
            half_step=False,
            stations_m=tuple((hole / 10 + number / 3000, number / 10) for hole in range(1, 9)),
        )
        for number in range(1, 140)
    )
    layout = Layout(Pattern.SQUARE, 0.1, 0.1, 0.05, 0.0, rows, 8 * 139)
    patch = replace(schoolhouse.layouts["inkwell"][0], pieces=(Piece(0, 1, corners, layout),))
    outline = Outline(Shape.RECTANGLE, corners, 12.6)
    beds = tuple(
        replace(bed, outline=outline) if bed.id == "inkwell" else bed for bed in schoolhouse.beds
    )
    layouts = {**schoolhouse.layouts, "inkwell": (patch,)}
    sheets = draw_bed_sheets(
        replace(schoolhouse, beds=beds, layouts=layouts, units="us"), "inkwell", Paper.LETTER
    )
    words = [text.words for sheet in sheets for text in texts(sheet)]
    assert len(sheets) > 1
    assert all(f"A{number}" in words for number in range(1, 140))
    for sheet in sheets:
        assert outside(sheet, 11.5) == []
        assert overlaps(sheet) == []


@pytest.fixture(scope="module")
def spread() -> SheetBundle:
    """Give a bed of 3 × 12 m in which four small plantings go in within four weeks."""
    made = bundle()
    days = ("2027-05-0{}", "2027-05-2{}", "2027-08-24", "2027-08-30", "2027-09-08", "2027-10-22")
    some, layouts = [], []
    for number, (kind, y) in enumerate(
        (
            ("lettuce/summer", 0.5),
            ("celeriac/main", 0.9),
            ("leek/winter", 6.0),
            ("bean/french", 6.4),
        )
    ):
        sown = [day.format(number + 1) for day in days]
        some.append(planting(kind, 30 + number, "atlas", sown, plants=7))
        corners = rectangle(3, 0.4, 0, y)
        piece = Piece(y / 12, (y + 0.4) / 12, corners, lay_out(corners, 0.4, 0.2))
        layouts.append(PatchLayout(some[-1].id, 1.2, (piece,)))
    outline = Outline(Shape.RECTANGLE, rectangle(3, 12), 36)
    beds = tuple(replace(bed, outline=outline) if bed.id == "atlas" else bed for bed in BEDS)
    plan = replace(made.plan, plantings=tuple(some))
    return replace(made, plan=plan, beds=beds, layouts={"atlas": tuple(layouts)})


def test_small_plantings_in_a_long_bed_are_drawn_larger(spread: SheetBundle) -> None:
    """Four plantings go on one sheet: the bed small, with its length, their ground at 1:50."""
    (sheet,) = draw_bed_sheets(spread, "atlas", Paper.A4)
    words = [text.words for text in texts(sheet)]
    scales = sorted(int(one.removeprefix("1 : ")) for one in words if one.startswith("1 : "))
    assert len(scales) == 2
    assert scales[0] <= 50
    assert "1200 cm" in words
    assert {"AB", "CD"} <= set(words)
    assert "begins 600 cm from base" in words
    # A row keeps its distance from the bed's own base: 6.4 m and half of 40 cm.
    assert "660" in words
    assert overlaps(sheet) == []
    assert outside(sheet, 11.5) == []


def test_each_scale_bar_is_true(spread: SheetBundle) -> None:
    """A bar that says 2 m at 1:50 is 40 mm long, and so in the plan of the whole bed."""
    (sheet,) = draw_bed_sheets(spread, "atlas", Paper.A4)
    found = texts(sheet)
    scales = [(text, int(text.words[4:])) for text in found if text.words.startswith("1 : ")]
    for mark, scale in scales:
        ends = [
            text
            for text in found
            if text.words.endswith(" m") and 0 < text.foot - mark.foot < 4 and text.left > mark.left
        ]
        first, last = (
            min(ends, key=lambda text: text.left),
            max(ends, key=lambda text: text.right if text.left < mark.right + 65 else 0),
        )
        length_mm = (last.left + last.right - first.left - first.right) / 2
        assert length_mm * scale / 1000 == pytest.approx(float(last.words[:-2]), rel=0.01)


def test_a_window_is_cut_to_the_bed() -> None:
    """A detail of an L shows its notch: what lies outside the bed is not drawn as ground."""
    corners = clipped(BEDS[1].outline.corners_m, Window(1.0, 1.0, 4.0, 4.0))
    assert set(corners) == {(1.0, 1.0), (4.0, 1.0), (4.0, 2.0), (2.0, 2.0), (2.0, 4.0), (1.0, 4.0)}


def test_how_to_measure_is_told_once_at_least(schoolhouse: SheetBundle) -> None:
    """On some sheet of every bed stands what the string is pulled from."""
    for bed in schoolhouse.beds:
        sheets = draw_bed_sheets(schoolhouse, bed.id, Paper.A4)
        words = " ".join(text.words for sheet in sheets for text in texts(sheet))
        assert "All figures in cm." in words
