"""The tide on a page: the figures drawn are those of the table behind it, and of the plan."""

import re

import pytest

from haulm.measure.errors import LabelsDifferError
from haulm.measure.units import Units
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.page.tide import hungry_gap, page_tide, page_tide_names, tide_key, tide_table
from haulm.sheets.page.view import YearView, axis_of
from haulm.sheets.tide_marks import whole_weight
from haulm.sheets.tide_sums import lots_of, tide_of
from haulm.sheets.tide_sums import tide_table as months_of
from sheets.page_reading import (
    ODD_BUNDLES,
    ODD_IDS,
    beyond,
    crossings,
    parsed,
    told,
    written,
)
from sheets.schoolhouse import bundle


@pytest.mark.parametrize("odd", ODD_BUNDLES, ids=ODD_IDS)
def test_every_garden_has_its_tide(odd: SheetBundle) -> None:
    """Nothing stored, nothing planted, US units, the south: the tide can be read."""
    for view in (YearView(), YearView(weeks=104), YearView(weeks=52, first_week=52)):
        drawing = page_tide(odd, None, view)
        title, description = told(drawing)
        assert odd.plan.garden in title
        assert "in store" in description
        assert parsed(drawing).get("height") == parsed(page_tide_names(odd)).get("height")
        assert beyond(drawing) == []


def test_texts_stand_free(schoolhouse: SheetBundle) -> None:
    """No two texts of the tide stand on one another."""
    assert crossings(page_tide(schoolhouse)) == []
    for width in (88.0, 144.0):
        assert crossings(page_tide_names(schoolhouse, None, width)) == []


def test_the_table_behind_the_tide_loses_nothing(schoolhouse: SheetBundle) -> None:
    """Month by month the rows are the plan's own sums, to the figures that are shown."""
    tide = tide_of(schoolhouse.plan)
    table = tide_table(schoolhouse)
    assert table.head[0] == "month"
    assert all(len(row) == len(table.head) for row in table.rows)
    for column, sums in ((1, tide.fresh), (2, tide.all_from_store), (3, tide.short)):
        added = sum(float(row[column]) for row in table.rows)
        # Each of some 25 months is rounded to two figures that count.
        assert added == pytest.approx(float(sums.sum()), rel=0.03)


def test_the_table_of_a_view_has_the_months_drawn(schoolhouse: SheetBundle) -> None:
    """The months under the chart stand in the table of the same view."""
    view = YearView(weeks=52)
    heads = {row[0].split()[0] for row in tide_table(schoolhouse, None, view).rows}
    drawn = {text.words for text in written(page_tide(schoolhouse, None, view))}
    assert len(heads & drawn) >= 11
    assert len(tide_table(schoolhouse, None, view).rows) <= 13


@pytest.mark.parametrize("units", ["metric", "us"])
def test_each_figure_drawn_is_that_of_its_row(units: Units) -> None:
    """Under every month stand its sums, rounded to the whole unit, in the order of the rows."""
    whole = bundle(units)
    view = YearView(weeks=104)
    drawn = written(page_tide(whole, None, view))
    axis = axis_of(whole, view)
    spans = {month: (start, end) for month, start, end in axis.months()}
    seen = 0
    for row in months_of(whole.plan, tide_of(whole.plan)):
        start, end = spans.get(row.month, (0.0, 0.0))
        if end - start < 2 * view.week_px:
            continue
        column = [text for text in drawn if abs(text.right - (start + min(end - start, 44))) < 0.1]
        words = [text.words for text in sorted(column, key=lambda text: text.foot)][-4:]
        sums = (row.fresh_kg, row.stored_kg, row.short_kg, row.store_kg)
        assert words == [whole_weight(kg, units) for kg in sums]
        seen += 1
    assert seen >= 22


def test_lines_of_the_table_add_up_to_the_whole(schoolhouse: SheetBundle) -> None:
    """What potatoes, leeks and beans lack apart is what the table lacks together."""
    whole = tide_of(schoolhouse.plan)
    apart = [tide_of(schoolhouse.plan, (line,)) for line in schoolhouse.lines]
    assert sum(one.short.sum() for one in apart) == pytest.approx(whole.short.sum())
    assert sum(one.fresh.sum() for one in apart) == pytest.approx(whole.fresh.sum())
    assert sum(one.all_from_store.sum() for one in apart) == pytest.approx(
        whole.all_from_store.sum()
    )


def test_a_lot_nobody_eats_belongs_to_the_line_it_is_grown_for(schoolhouse: SheetBundle) -> None:
    """The clamp of potatoes is the potatoes'; beans in the freezer are the beans'."""
    assert lots_of(schoolhouse.plan, ("potatoes",)) == {"potatoes-1"}
    assert lots_of(schoolhouse.plan, ("beans",)) == {"beans-1"}


def test_some_lines_are_drawn_alone(schoolhouse: SheetBundle) -> None:
    """The tide of potatoes names them and leaves out the rest."""
    title, _ = told(page_tide(schoolhouse, ("potatoes",)))
    assert title == "Larder tide: Potatoes"
    assert "Hungry gap" not in page_tide(schoolhouse, ("potatoes",))
    every = float(tide_of(schoolhouse.plan).wanted.sum())
    assert float(tide_of(schoolhouse.plan, ("potatoes",)).wanted.sum()) < every


def test_an_unknown_line_is_refused(schoolhouse: SheetBundle) -> None:
    """A line the table does not have is named, not drawn as nothing."""
    with pytest.raises(LabelsDifferError, match="no line called turnips"):
        page_tide(schoolhouse, ("turnips",))


def test_the_key_has_the_hatches_in_use(schoolhouse: SheetBundle) -> None:
    """Clamp, loft and freezer are used, jars are not; the tide carries what the key shows."""
    key = {words: drawing for drawing, words in tide_key(schoolhouse)}
    assert list(key) == [
        "cellar and clamp", "cured and hung", "frozen", "fresh from the ground", "short",
    ]  # fmt: skip
    carried = page_tide(schoolhouse)
    for drawing in key.values():
        parsed(drawing)
        for hatch in re.findall(r"url\(#([\w-]+)\)", drawing):
            assert f'id="{hatch}"' in carried


def test_a_hungry_gap_says_which_lines_make_it(schoolhouse: SheetBundle) -> None:
    """What the lines lack in a gap adds up to what the table lacks, the most first."""
    gaps = hungry_gap(schoolhouse)
    assert gaps
    for gap in gaps:
        assert (gap.last_day - gap.first_day).days + 1 == 7 * gap.weeks
        assert sum(kg for _, _, kg in gap.lines) == pytest.approx(gap.short_kg, rel=0.01)
        lacks = [kg for _, _, kg in gap.lines]
        assert lacks == sorted(lacks, reverse=True)
        assert gap.short_kg <= gap.wanted_kg
