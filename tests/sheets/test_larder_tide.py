"""The larder tide: sums that agree with the plan, drawn free of one another."""

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from haulm.measure.units import Units
from haulm.plan.records import Lot
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.larder_tide import draw_larder_tide, larder_tide_sheets
from haulm.sheets.tide_sums import hungry_gaps, store_of_lot, tide_of, tide_table
from haulm.sheets.wording import ticks
from sheets.reading import outside, overlaps, strokes, texts
from sheets.schoolhouse import bundle


def lot(**given: object) -> Lot:
    """Put 10 kg by in week 2; half keeps each week after the first."""
    whole = Lot("a", "food", "kind", "cured", "loft", 2, 10.0, (), 0.0, None, 0.0, 0.0,
                (1.0, 0.5, 0.25), 1.0, 1.0)  # fmt: skip
    return replace(whole, **given)  # type: ignore[arg-type]


def test_a_lot_keeps_by_its_curve() -> None:
    """10 kg of which half stays sound each week leave 5 and 2.5 kg, and nothing past the curve."""
    assert store_of_lot(lot(), 7).tolist() == [0, 0, 10, 5, 2.5, 0, 0]


def test_what_is_eaten_no_longer_rots() -> None:
    """4 kg eaten in the first week leave 6, of which half keep."""
    assert store_of_lot(lot(eaten=((2, 4.0),)), 5).tolist() == [0, 0, 6, 3, 1.5]


def test_planting_stock_leaves_the_store_when_it_is_kept_back() -> None:
    """2 kg kept back to plant in week 3 are gone from that week on."""
    assert store_of_lot(lot(seed_kg=2.0, seed_week=3), 5).tolist() == [0, 0, 10, 3, 1.5]


def test_a_lot_in_hand_keeps_from_its_age() -> None:
    """A lot already a week old when the plan is made keeps as one of that age."""
    held = store_of_lot(lot(put_by_week=0, age_weeks=1, in_hand=True), 3)
    assert held.tolist() == [10, 5, 0]


def test_the_tide_adds_up_to_the_table(schoolhouse: SheetBundle) -> None:
    """In every week fresh + from store + short is what the table wants."""
    tide = tide_of(schoolhouse.plan)
    np.testing.assert_allclose(tide.fresh + tide.all_from_store + tide.short, tide.wanted)


def test_the_months_add_up_to_the_weeks(schoolhouse: SheetBundle) -> None:
    """The tide table loses no week: its sums are those of the whole plan."""
    tide = tide_of(schoolhouse.plan)
    months = tide_table(schoolhouse.plan, tide)
    assert sum(row.short_kg for row in months) == pytest.approx(tide.short.sum())
    assert sum(row.fresh_kg for row in months) == pytest.approx(tide.fresh.sum())
    assert len({row.month for row in months}) == len(months)


def test_a_hungry_gap_is_weighed(schoolhouse: SheetBundle) -> None:
    """Weeks on end that lack 30 % or more are one gap; its weight is the sum of its weeks."""
    tide = tide_of(schoolhouse.plan)
    gaps = hungry_gaps(tide)
    assert gaps[0].first_week == 0
    for gap in gaps:
        span = slice(gap.first_week, gap.last_week + 1)
        assert gap.short_kg == pytest.approx(tide.short[span].sum())
        assert (tide.short[span] >= 0.3 * tide.wanted[span]).all()


def test_two_bare_weeks_are_no_hungry_gap(schoolhouse: SheetBundle) -> None:
    """A fortnight's shortage is not yet a hungry gap."""
    rows = tuple(
        replace(row, fresh_kg=row.wanted_kg, stored_kg=0.0, short_kg=0.0)
        if row.week not in {5, 6}
        else replace(row, fresh_kg=0.0, stored_kg=0.0, short_kg=row.wanted_kg)
        for row in schoolhouse.plan.table
    )
    plan = replace(schoolhouse.plan, table=rows, helpings=(), lots=())
    assert hungry_gaps(tide_of(plan)) == ()


@pytest.mark.parametrize(("units", "paper"), list(product(("metric", "us"), Paper)))
def test_texts_stand_free_on_every_sheet(units: Units, paper: Paper) -> None:
    """On A4 and Letter no text runs into another or off the page, and no line is too thin."""
    for sheet in larder_tide_sheets(bundle(units), paper):
        assert overlaps(sheet) == []
        assert outside(sheet, 11.5) == []
        assert min(strokes(sheet)) >= 0.15


def test_the_gap_is_named_dated_and_weighed_on_the_sheet(schoolhouse: SheetBundle) -> None:
    """The hungry gap is written in words, also for those who do not see the chart."""
    sheet = larder_tide_sheets(schoolhouse, Paper.A4)[0]
    words = [text.words for text in texts(sheet)]
    assert "Hungry gap" in words
    assert "12 Apr to 29 Aug 2027" in words
    assert "Hungry gap 12 Apr to 29 Aug 2027" in sheet.split("</desc>")[0]


def test_hungry_gaps_close_together_are_named_apart(schoolhouse: SheetBundle) -> None:
    """Gaps of three weeks with a fed week between never print their words on one another."""
    rows = tuple(
        replace(row, fresh_kg=0.0, stored_kg=0.0, short_kg=row.wanted_kg)
        if row.week % 4
        else replace(row, fresh_kg=row.wanted_kg, stored_kg=0.0, short_kg=0.0)
        for row in schoolhouse.plan.table
    )
    plan = replace(schoolhouse.plan, table=rows, helpings=(), lots=())
    sheets = larder_tide_sheets(replace(schoolhouse, plan=plan), Paper.A4)
    for sheet in sheets:
        assert overlaps(sheet) == []
        assert outside(sheet, 11.0) == []
    assert sheets[0].split("</desc>")[0].count("Hungry gap") == 13


def test_an_empty_larder_is_drawn_too(schoolhouse: SheetBundle) -> None:
    """A plan that stores nothing and eats nothing still has its chart."""
    plan = replace(schoolhouse.plan, table=(), helpings=(), lots=())
    sheet = draw_larder_tide(replace(schoolhouse, plan=plan))
    assert "The larder tide" in sheet


@pytest.mark.parametrize(
    ("most", "marks"),
    [(385.0, [0, 100, 200, 300]), (20.0, [0, 5, 10, 15, 20]), (0.9, [0, 0.5]), (0.0, [0])],
)
def test_the_scale_has_round_marks(most: float, marks: list[float]) -> None:
    """An axis is marked in steps of 1, 2 or 5 times a ten."""
    assert ticks(most, 4 if most > 1 else 2) == pytest.approx(marks)
