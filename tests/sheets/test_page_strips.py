"""The strips on a page: every patch is a link, told in full, true in area and time."""

from dataclasses import replace
from datetime import date
from xml.etree.ElementTree import Element

import pytest

from haulm.sheets.bundle import SheetBundle
from haulm.sheets.page.strips import page_bed, page_strip_names, page_strips, strip_parts
from haulm.sheets.page.view import (
    FOOT_PX,
    HEAD_PX,
    LEAST_ROW_PX,
    Change,
    YearView,
    axis_of,
    row_height_px,
    scale_for,
)
from sheets.page_reading import ODD_BUNDLES, ODD_IDS, beyond, links, of_name, parsed, written
from sheets.schoolhouse import BEDS

VIEW = YearView(prefix="/year?planting=", weeks=104)


def figures(element: Element, *names: str) -> list[float]:
    """Give attributes of an element as figures."""
    return [float(element.get(name, "nan")) for name in names]


def hatched(patch: Element) -> Element:
    """Give the growing hatch of a patch, the largest of its pieces."""
    return next(rect for rect in patch.iter() if rect.get("fill") == "url(#strips-growing)")


@pytest.mark.parametrize("odd", ODD_BUNDLES, ids=ODD_IDS)
def test_every_garden_has_its_strips(odd: SheetBundle) -> None:
    """Nothing planted, no frost, one bed, the south, odd names: the strips can be read."""
    for view in (YearView(), YearView(first_week=52, weeks=52, week_px=12.0)):
        root, names = parsed(page_strips(odd, view)), parsed(page_strip_names(odd, view))
        assert root.get("height") == names.get("height")
    for bed in odd.beds:
        assert bed.name in (parsed(page_bed(odd, bed.id, view)).get("aria-label") or "")


def test_every_patch_is_a_link_once(schoolhouse: SheetBundle) -> None:
    """Each planting has one link, in order of bed, then date."""
    wanted = [
        f"/year?planting={planting.id}"
        for bed in BEDS
        for planting in schoolhouse.plantings_in(bed.id)
    ]
    assert [address for address, _ in links(page_strips(schoolhouse, VIEW))] == wanted


def test_a_patch_is_told_in_full(schoolhouse: SheetBundle) -> None:
    """Name, bed, ground, start and when it is ready stand in the label, years and all."""
    labels = dict(links(page_strips(schoolhouse, VIEW)))
    assert labels["/year?planting=leek-1"] == (
        "Leeks, winter, Atlas, 6 m², set out 15 July 2027, ready 2 November to 6 December 2027"
    )
    assert labels["/year?planting=garlic-1"].startswith(
        "Garlic, hard-necked, Atlas, 6 m², standing since 2 November 2026"
    )
    assert "planted 19 April 2027" in labels["/year?planting=potato-1"]


def test_a_patch_has_its_share_of_its_band_and_its_days(schoolhouse: SheetBundle) -> None:
    """Potatoes on two thirds of Atlas from 19 April to 24 September are drawn just so."""
    root = parsed(page_strips(schoolhouse, VIEW))
    patch = next(a for a in of_name(root, "a") if "potato-1" in a.get("href", ""))
    x, width, height = figures(hatched(patch), "x", "width", "height")
    px_a_day = VIEW.week_px / 7
    first_day = schoolhouse.plan.horizon.first_day
    assert x == pytest.approx((date(2027, 4, 19) - first_day).days * px_a_day, abs=0.02)
    assert width == pytest.approx((date(2027, 9, 24) - date(2027, 4, 19)).days * px_a_day, abs=0.02)
    assert height == pytest.approx(24 * VIEW.m2_px, rel=0.01)


def test_an_id_is_quoted_in_its_address(schoolhouse: SheetBundle) -> None:
    """Sweet corn and worse lead to themselves: blanks and signs are quoted as in a URL."""
    odd = replace(schoolhouse.plan.plantings[0], id="sweet corn?#/&1")
    layout = replace(schoolhouse.layouts[odd.bed][0], name=odd.id)
    bare = replace(
        schoolhouse,
        plan=replace(schoolhouse.plan, plantings=(odd,)),
        layouts={odd.bed: (layout,)},
    )
    ((address, _),) = links(page_strips(bare, VIEW))
    assert address == "/year?planting=sweet%20corn%3F%23%2F%261"


def test_areas_and_days_are_true_for_all(schoolhouse: SheetBundle) -> None:
    """On the paper of the page every patch takes its square metres times its days, no more."""
    root = parsed(page_strips(schoolhouse, VIEW))
    px_a_day = VIEW.week_px / 7
    axis = axis_of(schoolhouse, VIEW)
    plantings = {f"/year?planting={one.id}": one for one in schoolhouse.plan.plantings}
    for patch in of_name(root, "a"):
        planting = plantings[patch.get("href", "")]
        start = max(planting.in_ground_from, axis.first_day)
        days = (min(planting.clear_by, axis.end_day) - start).days
        share = sum(
            piece.share_to - piece.share_from for piece in schoolhouse.layout_of(planting).pieces
        )
        ground = share * schoolhouse.bed(planting.bed).outline.area_m2
        width, height = figures(hatched(patch), "width", "height")
        assert width * height == pytest.approx(ground * days * VIEW.m2_px * px_a_day, rel=0.01)


def test_parts_are_the_whole(schoolhouse: SheetBundle) -> None:
    """Head, rows and foot in parts hold the same links and are together as high as the whole."""
    parts = strip_parts(schoolhouse, VIEW)
    whole = page_strips(schoolhouse, VIEW)
    rows = [link for row in parts.rows for link in links(row.field)]
    assert rows == links(whole)
    height = sum(row.height_px for row in parts.rows) + HEAD_PX + FOOT_PX
    assert height == float(parsed(whole).get("height", "nan"))
    assert [row.bed for row in parts.rows] == [bed.id for bed in BEDS]
    for row in parts.rows:
        for drawing in (row.names, row.field):
            assert float(parsed(drawing).get("height", "nan")) == row.height_px


def test_names_and_field_do_not_run_out(schoolhouse: SheetBundle) -> None:
    """No text leaves the column of names or the field of time."""
    parts = strip_parts(schoolhouse, YearView())
    assert beyond(parts.head) == []
    for row in parts.rows:
        assert beyond(row.names) == []
        assert beyond(row.field) == []


def test_the_chosen_planting_is_framed(schoolhouse: SheetBundle) -> None:
    """One patch alone has the frame of 3 px."""
    root = parsed(page_strips(schoolhouse, replace(VIEW, chosen="leek-1")))
    (frame,) = (rect for rect in of_name(root, "rect") if rect.get("stroke-width") == "3")
    patch = next(a for a in of_name(root, "a") if a.get("href", "").endswith("leek-1"))
    sides = ("x", "y", "width", "height")
    assert figures(frame, *sides) == figures(hatched(patch), *sides)


@pytest.mark.parametrize(
    ("change", "mark", "words"),
    [
        (Change.NEW, "6 4", "proposed new"),
        (Change.CHANGED, "2 3", "proposed to change"),
        (Change.GONE, "", "proposed to go"),
    ],
)
def test_a_proposal_is_told_by_shape_and_word(
    schoolhouse: SheetBundle, change: Change, mark: str, words: str
) -> None:
    """New is dashed, changed is dotted, gone is crossed; the label says it too."""
    view = replace(VIEW, changed={"bean-1": change})
    root = parsed(page_strips(schoolhouse, view))
    patch = next(a for a in of_name(root, "a") if a.get("href", "").endswith("bean-1"))
    assert (patch.get("aria-label") or "").endswith(words)
    assert patch.get("class") == f"patch {change}"
    dashes = [one.get("stroke-dasharray") for one in patch.iter() if one.get("stroke-dasharray")]
    assert dashes == ([mark] if mark else [])
    struck = [g for g in of_name(root, "g") if g.get("text-decoration") == "line-through"]
    assert len(struck) == (1 if change == Change.GONE else 0)


def test_each_patch_is_named_or_lettered(schoolhouse: SheetBundle) -> None:
    """At a scale too small for most names every patch has a letter, and the letters are told."""
    small = YearView(weeks=104, week_px=4.0, m2_px=1.0)
    for row in strip_parts(schoolhouse, small).rows:
        said = " ".join(text.words for text in written(row.field))
        for letter, words in row.letters:
            assert letter in said
            assert words in said


def test_letters_that_say_the_same_share_their_words(schoolhouse: SheetBundle) -> None:
    """Two sowings of lettuce that give the same are listed once."""
    rows = strip_parts(schoolhouse, YearView(weeks=104, week_px=4.0, m2_px=1.0)).rows
    for row in rows:
        texts = [text.words for text in written(row.field)]
        for words in {words for _, words in row.letters}:
            assert texts.count(words) == 1


def test_the_scale_follows_the_window(schoolhouse: SheetBundle) -> None:
    """All beds fit the height asked for wherever a square metre keeps its pixel."""
    for height in (300.0, 500.0, 900.0):
        scale = scale_for(schoolhouse, height)
        view = YearView(m2_px=scale)
        rows = sum(row_height_px(bed.outline.area_m2, view) for bed in schoolhouse.beds)
        assert scale in {1.0, 12.0} or HEAD_PX + rows + FOOT_PX <= height
    assert scale_for(schoolhouse, 300.0) <= scale_for(schoolhouse, 900.0)


def test_no_row_is_too_low_for_its_name() -> None:
    """The least bed has room for its name and area."""
    assert row_height_px(0.5, YearView()) == LEAST_ROW_PX
    assert row_height_px(36.0, YearView()) % 4 == 0


def test_weeks_beyond_the_plan_are_left_out(schoolhouse: SheetBundle) -> None:
    """A view that asks for more weeks than there are shows those there are."""
    axis = axis_of(schoolhouse, YearView(first_week=100, weeks=78))
    assert axis.weeks == 4
    assert axis_of(schoolhouse, YearView(first_week=500)).weeks == 1
