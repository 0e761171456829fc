"""The small plan of a bed: to scale, with what stands in it on a day."""

import re
from dataclasses import replace
from datetime import date

import pytest

from haulm.measure.errors import LabelsDifferError
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.page.bed_plan import page_bed_plan
from sheets.page_reading import ODD_BUNDLES, ODD_IDS, of_name, parsed, told

DAYS = (date(2027, 5, 1), date(2027, 7, 1), date(2027, 10, 30), date(2029, 1, 1))


def area_of(path: str) -> float:
    """Give the area inside a closed path [px²]."""
    points = [tuple(map(float, pair.split())) for pair in re.findall(r"[ML]([\d.]+ [\d.]+)", path)]
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2


@pytest.mark.parametrize("odd", ODD_BUNDLES, ids=ODD_IDS)
def test_every_bed_has_its_plan(odd: SheetBundle) -> None:
    """On any day each bed can be drawn, empty or full, round or slanting."""
    for bed in odd.beds:
        for day in DAYS:
            title, description = told(page_bed_plan(odd, bed.id, day))
            assert bed.name in title
            stands = [
                one for one in odd.plantings_in(bed.id) if one.in_ground_from <= day < one.clear_by
            ]
            assert stands or description == "Nothing stands in it."
            assert all(odd.full_name(one) in description for one in stands)


def test_patches_take_their_true_share(schoolhouse: SheetBundle) -> None:
    """Celeriac on 5.6 and cabbage on 12 of 17.6 m² are drawn in just that proportion."""
    root = parsed(page_bed_plan(schoolhouse, "set-square", date(2027, 7, 1)))
    bed = next(one for one in of_name(root, "path") if one.get("stroke-width") == "2")
    whole = area_of(bed.get("d", ""))
    shares = [
        area_of(path.get("d", "")) / whole
        for path in of_name(root, "path")
        if path.get("fill") == "url(#plan-set-square-growing)"
    ]
    assert shares == pytest.approx([5.6 / 17.6, 12 / 17.6], rel=0.01)


def test_ripe_and_growing_are_told_apart(schoolhouse: SheetBundle) -> None:
    """Cabbage grows in July and is ready in most years at the end of October."""
    july = page_bed_plan(schoolhouse, "set-square", date(2027, 7, 1))
    october = page_bed_plan(schoolhouse, "set-square", date(2027, 10, 30))
    assert 'fill="url(#plan-set-square-ready)"' not in july
    assert 'fill="url(#plan-set-square-ready)"' in october


def test_a_plan_keeps_to_its_room(schoolhouse: SheetBundle) -> None:
    """No drawing is larger than was asked for."""
    for bed in schoolhouse.beds:
        root = parsed(page_bed_plan(schoolhouse, bed.id, DAYS[0], (200.0, 160.0)))
        assert float(root.get("width", "nan")) <= 200.01
        assert float(root.get("height", "nan")) <= 160.01


def test_a_bed_may_be_called_anything(schoolhouse: SheetBundle) -> None:
    """An id full of quotes, brackets and blanks stays within its attribute."""
    hostile = """a" onload='x' <b>)_5f é"""
    bed = replace(schoolhouse.beds[0], id=hostile, name=hostile)
    plan = replace(schoolhouse.plan, plantings=())
    title, _ = told(page_bed_plan(replace(schoolhouse, beds=(bed,), plan=plan), hostile, DAYS[0]))
    assert hostile in title


def test_an_unknown_bed_is_refused(schoolhouse: SheetBundle) -> None:
    """A bed that is not there is named."""
    with pytest.raises(LabelsDifferError, match="No bed is called moon"):
        page_bed_plan(schoolhouse, "moon", DAYS[0])
