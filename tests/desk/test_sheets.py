from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from haulm.desk.garden.exchange import import_garden
from haulm.desk.odds.stores_lived import lived
from haulm.desk.planning.plans import Made, kept_plan, plan_garden
from haulm.desk.showing.sheets import (
    bundle_of,
    plan_as_json,
    print_plan,
    refuse_blocked,
)
from haulm.measure.errors import FaultsFoundError
from haulm.notebook.garden import PlantingStock
from haulm.planner.question import Effort
from haulm.sheets.bundle import Paper, check_labels


def test_everything_the_sheets_show_is_gathered_under_one_label(made: Made, day: date) -> None:
    """Beds, lines, layouts and the garden's own words reach the sheets, every label known."""
    bundle = bundle_of(made, day)
    check_labels(bundle)
    assert [bed.name for bed in bundle.beds] == ["North", "South"]
    assert bundle.invented
    assert [closure.bed for closure in bundle.closures] == ["south"]
    assert [odds.threshold_c for odds in bundle.frost] == [0.0, -2.2]


def test_stock_in_hand_reaches_the_shopping_list(made: Made, day: date) -> None:
    """Seed the grower has already is known where the shopping list is written; older seed counts
    for less.
    """

    def in_hand(year: int) -> float:
        stock = (PlantingStock("leek/winter", 40, year), PlantingStock("leek/winter", 60, year))
        garden = replace(made.garden, stock=stock)
        return bundle_of(replace(made, garden=garden), day).stock_in_hand["leek/winter"]

    assert in_hand(day.year) == pytest.approx(100)
    assert 0 < in_hand(day.year - 2) < in_hand(day.year - 1) < 100


def test_the_plan_as_data_is_the_plan(made: Made, day: date) -> None:
    """Each bed and planting of the plan stands in its published form, none beside."""
    told = plan_as_json(made, day)
    assert [bed["id"] for bed in told["beds"]] == [bed.id for bed in made.plan.beds]
    assert {one["id"] for one in told["plantings"]} == {one.id for one in made.plan.plantings}
    assert told["made_on"] == "2027-02-01"


def test_sheets_print_the_same_from_the_notebook(
    small_toml: Path, tmp_path: Path, day: date, quick: Effort
) -> None:
    """The sheets of a plan just made and of the same plan kept are the same files, byte by byte."""
    book, _ = import_garden(small_toml, tmp_path / "small.haulm")
    made = plan_garden(book, day, quick, seed=1)
    fresh = print_plan(made, tmp_path / "fresh", Paper.A4, day)
    kept = print_plan(kept_plan(book), tmp_path / "kept", Paper.A4, day)
    names = [path.relative_to(tmp_path / "fresh") for path in fresh]
    assert names == [path.relative_to(tmp_path / "kept") for path in kept]
    assert all(a.read_bytes() == b.read_bytes() for a, b in zip(fresh, kept, strict=True))


@pytest.mark.parametrize("name", ["there", "there/deep/er"])
def test_a_file_in_the_way_of_the_folder_is_named(tmp_path: Path, name: str) -> None:
    """Where a file stands in the way the sheets are refused in words, and the file is kept."""
    (tmp_path / "there").write_text("mine")
    with pytest.raises(FaultsFoundError, match=r"there is a file.*Name another folder"):
        refuse_blocked(tmp_path / name)
    assert (tmp_path / "there").read_text() == "mine"


def test_a_folder_still_to_be_made_is_no_hindrance(tmp_path: Path) -> None:
    """A folder that is there, or can be made, is not refused; nothing is made by looking."""
    refuse_blocked(tmp_path)
    refuse_blocked(tmp_path / "new" / "er")
    assert list(tmp_path.iterdir()) == []


def test_a_file_in_the_way_deeper_down_is_told_too(made: Made, tmp_path: Path, day: date) -> None:
    """Where the folder for bed sheets cannot be made, the sheets are refused in words."""
    (tmp_path / "beds").write_text("mine")
    with pytest.raises(FaultsFoundError, match="cannot be written to"):
        print_plan(made, tmp_path, Paper.A4, day)
    assert [path.name for path in tmp_path.iterdir()] == ["beds"]


def test_without_beds_there_are_no_sheets(made: Made, tmp_path: Path, day: date) -> None:
    """A garden with no beds has nothing to print, and is told to add one."""
    bare = replace(made, garden=replace(made.garden, beds=()))
    with pytest.raises(FaultsFoundError, match="Add a bed"):
        print_plan(bare, tmp_path / "out", Paper.A4, day)
    assert not (tmp_path / "out").exists()


def test_stores_are_kept_season_by_season_for_the_tide(made: Made, day: date) -> None:
    """What lies in store in each season is what the odds were summed up from, food by food; the
    sheets print with it, and without it as before.
    """
    found = lived(made, 200, 1)
    for food, fan in found.odds.in_store_kg.items():
        kg = found.stores.in_store_kg[food]
        assert kg.shape == (200, made.plan.horizon.weeks)
        np.testing.assert_allclose(np.quantile(kg, (0.1, 0.5, 0.9), axis=0), fan, atol=1e-3)
    assert bundle_of(made, day, found.stores).store_odds is found.stores
    assert bundle_of(made, day).store_odds is None
