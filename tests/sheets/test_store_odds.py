"""Poor, middle and good years on the larder tide: the fan is of the stores together."""

from dataclasses import replace

import numpy as np
import pytest

from haulm.forecast.records import RunOut
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.larder_tide import larder_tide_sheets
from haulm.sheets.page.tide import page_tide, tide_key
from haulm.sheets.page.view import YearView
from haulm.sheets.store_odds import FAN, StoreOdds, store_fan
from sheets.page_reading import beyond, parsed
from sheets.reading import outside, texts

SEASONS = 20


def odds(weeks: int) -> StoreOdds:
    """Give two foods that are never poor together: in half of seasons there is only the one, in
    the other half only the other, 10 kg of it; both run out between weeks 30 and 40.
    """
    half = np.repeat([10.0, 0.0], SEASONS // 2)[:, None] * np.ones(weeks)
    there = (np.arange(weeks) < 40).astype(float)
    return StoreOdds(
        {
            "potatoes": (half * there).astype(np.float32),
            "garlic": ((10.0 - half) * there).astype(np.float32),
        },
        (RunOut("potatoes", 20, (30, 35, 40)), RunOut("garlic", 13, (31, None, None))),
    )


@pytest.fixture
def fanned(schoolhouse: SheetBundle) -> SheetBundle:
    """Give the schoolhouse's sheets with the odds of its stores."""
    return replace(schoolhouse, store_odds=odds(schoolhouse.plan.horizon.weeks))


def test_foods_that_fail_apart_do_not_fail_together(fanned: SheetBundle) -> None:
    """The store holds 10 kg in every season, so the fan of the whole is 10 kg in poor and in good
    years, though each food's own is 0 kg in a poor one and 10 in a good one.
    """
    fan = store_fan(fanned.store_odds, fanned.plan)
    assert fan is not None
    assert fan.levels_kg[:, 5].tolist() == [10.0, 10.0, 10.0]
    one = store_fan(fanned.store_odds, fanned.plan, ("potatoes",))
    assert one is not None
    assert (one.levels_kg[0, 5], one.levels_kg[2, 5]) == (0.0, 10.0)
    assert [out.food for out in one.run_out] == ["potatoes"]


def test_nothing_is_drawn_where_nothing_was_reckoned(schoolhouse: SheetBundle) -> None:
    """Without odds the tide is as it was, with no broken line and no word of poor years."""
    assert store_fan(None, schoolhouse.plan) is None
    assert 'stroke-dasharray="9' not in page_tide(schoolhouse)
    assert all("poor year" not in words for _, words in tide_key(schoolhouse))
    for sheet in larder_tide_sheets(schoolhouse, Paper.A4):
        assert all("poor year" not in text.words for text in texts(sheet))


def test_a_food_shared_with_other_lines_has_no_fan_of_its_own(fanned: SheetBundle) -> None:
    """Where part of a food's store is other lines', how much of a poor year's is theirs cannot be
    told, and nothing is drawn.
    """
    extra = replace(fanned.plan.lots[0], id="potatoes-2", eaten=())
    plan = replace(
        fanned.plan,
        lots=(*fanned.plan.lots, extra),
        plantings=tuple(replace(p, serves=()) for p in fanned.plan.plantings),
    )
    assert store_fan(fanned.store_odds, plan, ("potatoes",)) is None
    assert store_fan(fanned.store_odds, plan) is not None


@pytest.mark.parametrize("lines", [None, ("potatoes",)])
def test_the_page_draws_the_fan_and_when_stores_run_out(
    fanned: SheetBundle, lines: tuple[str, ...] | None
) -> None:
    """Three broken lines, told apart by their dashes alone, with a key to them; and a bracket from
    an early to a late running out, all within the drawing.
    """
    drawing = page_tide(fanned, lines, YearView(weeks=104))
    parsed(drawing)
    assert beyond(drawing) == []
    assert "has run out" in drawing
    key = {words: drawn for drawn, words in tide_key(fanned, lines)}
    found = [key[f"in store {words}"] for _share, words, _dash in FAN]
    assert len(set(found)) == len(FAN)


@pytest.mark.parametrize("paper", Paper)
def test_the_sheet_draws_the_fan_and_when_stores_run_out(fanned: SheetBundle, paper: Paper) -> None:
    """On paper the fan has its key, and the days between which foods run out are written."""
    first = larder_tide_sheets(fanned, paper)[0]
    words = " ".join(text.words for text in texts(first))
    assert "in store in a poor year, one in ten" in words
    assert "Run out in 8 years of 10:" in words
    assert "at the earliest" in words
    assert outside(first, 5.0) == []


def test_the_scale_holds_a_good_year(fanned: SheetBundle) -> None:
    """Where a good year brings more than the plan expects, the drawing has room for it."""
    assert fanned.store_odds is not None
    plenty = {food: 50 * kg for food, kg in fanned.store_odds.in_store_kg.items()}
    much = replace(fanned, store_odds=replace(fanned.store_odds, in_store_kg=plenty))
    ys = [
        float(point.split()[1])
        for path in parsed(page_tide(much)).iter()
        for point in (path.get("d") or "").strip("M").split("L")
        if len(point.split()) == 2 and point.split()[1].replace(".", "").replace("-", "").isdigit()
    ]
    assert min(ys) >= 0
