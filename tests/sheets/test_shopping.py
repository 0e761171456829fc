"""What is to be bought."""

from dataclasses import replace
from itertools import product

import pytest

from haulm.catalogue.caution_records import Caution, Deed
from haulm.catalogue.records import Absent
from haulm.measure.units import Units
from haulm.sheets.bundle import Paper, SheetBundle
from haulm.sheets.shopping_list import shopping_csv, shopping_sheets
from haulm.sheets.shopping_sums import StockLine, compost_lines, stock_lines
from sheets.reading import outside, overlaps, texts
from sheets.schoolhouse import bundle


def line_of(made: SheetBundle, kind: str, year: int) -> StockLine:
    """Give one kind's line of one year."""
    return next(line for line in stock_lines(made) if (line.kind, line.year) == (kind, year))


def test_stock_is_divided_by_survival_and_rounded_up(schoolhouse: SheetBundle) -> None:
    """32 celeriac at 70 % and 90 % take 50.8 seeds: 51 are bought."""
    line = line_of(schoolhouse, "celeriac/main", 2027)
    assert line.needed == pytest.approx(32 / (0.7 * 0.9))
    assert line.to_buy == 51
    assert line.buy_g == pytest.approx(51 / 2_000_000 * 1000)


def test_stock_in_hand_is_taken_off_once(schoolhouse: SheetBundle) -> None:
    """50 leek seeds in hand leave 145 of 195 to buy."""
    line = line_of(schoolhouse, "leek/winter", 2027)
    assert line.in_hand == 50
    assert line.to_buy == 145


def test_stock_in_hand_serves_the_first_sowings(schoolhouse: SheetBundle) -> None:
    """Stock in hand for more than this year is carried to the next, never counted twice."""
    made = replace(schoolhouse, stock_in_hand={"potato/maincrop": 180.0})
    first, second = (line_of(made, "potato/maincrop", year) for year in (2027, 2028))
    assert first.in_hand == pytest.approx(first.needed)
    assert first.in_hand + second.in_hand == pytest.approx(180.0)


def test_stock_kept_back_from_the_harvest_is_not_bought(schoolhouse: SheetBundle) -> None:
    """3 kg of garlic kept back in November give 450 cloves at 150 to the kilogram."""
    line = line_of(schoolhouse, "garlic/hard-necked", 2027)
    assert line.kept_back == pytest.approx(450)
    assert line.to_buy == 65


def test_seed_of_which_nobody_knows_the_weight_is_still_counted(schoolhouse: SheetBundle) -> None:
    """The list gives the count to buy, and says of its weight that it is not known."""
    catalogue = schoolhouse.catalogue
    kind = catalogue.kinds["celeriac/main"]
    uncounted = Absent("sold by the packet", "1/kg")
    methods = tuple(replace(method, units_per_kg=uncounted) for method in kind.methods)
    kinds = {**catalogue.kinds, kind.id: replace(kind, methods=methods)}
    made = replace(schoolhouse, catalogue=replace(catalogue, kinds=kinds))
    line = line_of(made, "celeriac/main", 2027)
    assert line.to_buy == 51
    assert line.buy_g is None
    assert any(text.words == "not known" for text in texts(shopping_sheets(made, Paper.A4)[0]))


def test_what_stands_is_not_bought_again(schoolhouse: SheetBundle) -> None:
    """The garlic in the ground when the plan was made asks for no cloves."""
    assert all(line.year != 2026 for line in stock_lines(schoolhouse))


def test_compost_is_depth_times_area(schoolhouse: SheetBundle) -> None:
    """3 cm on 36 m² is 1080 litres (1 m³ is 1000 litres)."""
    atlas = next(line for line in compost_lines(schoolhouse) if line.bed == "atlas")
    assert atlas.area_m2 == pytest.approx(36)
    assert atlas.litres == pytest.approx(1080)


def test_the_paper_says_what_the_table_says(schoolhouse: SheetBundle) -> None:
    """Every kind to buy stands on paper with its number, and in the table."""
    words = [text.words for text in texts(shopping_sheets(schoolhouse, Paper.A4)[0])]
    table = shopping_csv(schoolhouse)
    for line in stock_lines(schoolhouse):
        assert f",{line.to_buy}," in table
        if line.to_buy:
            assert f"{line.to_buy} {line.unit}s" in words


@pytest.mark.parametrize("units", ["metric", "us"])
def test_seed_too_light_to_weigh_is_a_pinch(units: Units) -> None:
    """51 celeriac seeds weigh 0.03 g: the list gives their number, and no weight so small."""
    words = [text.words for text in texts(shopping_sheets(bundle(units), Paper.A4)[0])]
    assert "51 seeds" in words
    assert "a pinch" in words
    weights = [word for word in words if word.endswith((" g", " oz"))]
    assert all(float(word.split()[0]) >= 0.01 for word in weights)


@pytest.mark.parametrize(("units", "paper"), list(product(("metric", "us"), Paper)))
def test_a_long_list_goes_on_overleaf(units: Units, paper: Paper) -> None:
    """A list longer than a page is shared over pages, each with its heads, none overfull."""
    made = bundle(units)
    plantings = tuple(
        replace(planting, sow_on=planting.sow_on.replace(year=2030 + year))
        for year in range(9)
        for planting in made.plan.plantings
    )
    sheets = shopping_sheets(replace(made, plan=replace(made.plan, plantings=plantings)), paper)
    assert len(sheets) > 1
    for sheet in sheets:
        assert "first needed" in sheet
        assert overlaps(sheet) == []
        assert outside(sheet, 11.5) == []


def test_compost_to_buy_comes_with_its_cautions(schoolhouse: SheetBundle) -> None:
    """The list that asks for sacks of compost says how to carry them and what their dust can do."""
    care = Caution("loads", "Carry small loads.", "someone", None, (Deed.CARRY,), any_crop=True)
    catalogue = replace(schoolhouse.catalogue, cautions={"loads": care})
    sheets = "".join(shopping_sheets(replace(schoolhouse, catalogue=catalogue), Paper.A4))
    assert "Carry small loads. Ask someone." in sheets
