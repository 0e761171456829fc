"""An opened planting: its dates, their odds, and the ground of its bed, on one axis."""

import re
from dataclasses import replace

import pytest

from haulm.measure.errors import LabelsDifferError
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.page.fold_out import fold_out, fold_out_rows, free_ground
from haulm.sheets.page.view import YearView, axis_of
from sheets.page_reading import ODD_BUNDLES, ODD_IDS, beyond, crossings, told, written


@pytest.mark.parametrize("odd", ODD_BUNDLES, ids=ODD_IDS)
def test_every_planting_opens(odd: SheetBundle) -> None:
    """Dates of each planting can be read, none over another, none off the drawing."""
    for planting in odd.plan.plantings:
        for view in (YearView(), YearView(weeks=52, week_px=8.0)):
            drawing = fold_out(odd, planting.id, view)
            title, description = told(drawing)
            assert odd.full_name(planting) in title
            assert "Ground free again" in description
            assert crossings(drawing) == []
            assert beyond(drawing) == []


def test_the_bar_spans_eight_years_in_ten(schoolhouse: SheetBundle) -> None:
    """Under the hump of leeks the bar runs from 2 November to 6 December on the strips' axis."""
    view = YearView()
    axis = axis_of(schoolhouse, view)
    leek = next(one for one in schoolhouse.plan.plantings if one.id == "leek-1")
    drawing = fold_out(schoolhouse, "leek-1", view)
    (bar,) = re.findall(r'd="M([\d.]+) [\d.]+L([\d.]+) [\d.]+"[^>]*stroke-width="2.8"', drawing)
    assert float(bar[0]) == pytest.approx(axis.x(leek.ready[0].early), abs=0.02)
    assert float(bar[1]) == pytest.approx(axis.x(leek.ready[0].late), abs=0.02)
    said = [text.words for text in written(drawing)]
    assert "2 Nov to 6 Dec, 8 in 10" in said
    assert {"Sown in trays", "Set out", "Clear by"} <= set(said)


def test_what_stands_is_not_sown_again(schoolhouse: SheetBundle) -> None:
    """Garlic in the ground since autumn has no sowing on its row, but says since when."""
    rows = {row[0]: row[1] for row in fold_out_rows(schoolhouse, "garlic-1").rows}
    assert rows["In the ground since"] == "2 Nov 2026"
    assert "Planted" not in rows


def test_free_ground_is_the_bed_less_what_stands(schoolhouse: SheetBundle) -> None:
    """In every week free ground and patches add up to the bed."""
    for bed in schoolhouse.beds:
        runs = free_ground(schoolhouse, bed.id)
        assert runs[0][0] == 0
        assert runs[-1][1] == schoolhouse.plan.horizon.weeks - 1
        for first, last, free_m2 in runs:
            for week in range(first, last + 1):
                taken = sum(
                    one.area_m2
                    for one in schoolhouse.plantings_in(bed.id)
                    if one.from_week <= week < one.until_week
                )
                assert free_m2 == pytest.approx(max(0, bed.outline.area_m2 - taken), abs=0.06)


def test_an_unknown_planting_is_refused(schoolhouse: SheetBundle) -> None:
    """A planting that is not in the plan is named."""
    with pytest.raises(LabelsDifferError, match="no planting called oak-1"):
        fold_out(schoolhouse, "oak-1", YearView())


def test_a_planting_without_a_known_ready_day_opens(schoolhouse: SheetBundle) -> None:
    """What gives no food has its dates all the same."""
    plain = replace(schoolhouse.plan.plantings[0], ready=(), expects=(), picks=())
    bare = replace(schoolhouse, plan=replace(schoolhouse.plan, plantings=(plain,)))
    assert "Ground free again" in told(fold_out(bare, plain.id, YearView()))[1]
