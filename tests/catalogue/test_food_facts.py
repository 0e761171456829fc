"""What foods hold: the rows are USDA's own, and what nobody measured stays unknown."""

import csv
import shutil
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from haulm.catalogue.food_facts import NUTRIENTS, load_food_facts, read_food_facts
from haulm.catalogue.loader import load_catalogue
from haulm.measure.errors import FaultsFoundError


def folder() -> Path:
    """Give the folder of the facts that come with haulm."""
    with as_file(files("haulm.catalogue") / "data" / "food_facts") as found:
        return found


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    """Give a copy of the facts that may be spoilt."""
    return Path(shutil.copytree(folder(), tmp_path / "food_facts"))


def test_every_food_has_its_row_or_the_reason_why_it_has_none() -> None:
    """No food of the catalogue is without facts unless it is said why."""
    known = load_food_facts()
    foods = set(load_catalogue().foods)
    assert set(known.facts) | set(known.absent) == foods
    assert not set(known.facts) & set(known.absent)
    assert all(len(reason) > 10 for reason in known.absent.values())


def test_facts_are_what_stands_in_the_table() -> None:
    """Every amount is the cell of the food's own row, and a blank cell is not known, never 0."""
    known = load_food_facts()
    with (folder() / "usda_rows.csv").open(encoding="utf-8", newline="") as table:
        cells = {row["foodName"]: row for row in csv.DictReader(table)}
    seen = 0
    for facts in known.facts.values():
        for nutrient in NUTRIENTS:
            cell = cells[facts.row][nutrient.column]
            told = facts.of(nutrient)
            assert (told is None) == (cell == "")
            if told is not None:
                assert told == float(cell)
                seen += 1
    assert seen > 800
    assert known.facts["broad beans"].vitamin_e_mg_100g is None


def test_what_is_not_known_has_a_reason_also_for_a_new_food() -> None:
    """A food that nobody has looked for is told as such."""
    known = load_food_facts()
    assert "relative of the leek" in known.why_absent("elephant garlic")
    assert "nobody has looked" in known.why_absent("a new food")


@pytest.mark.parametrize(
    ("file", "old", "new", "told"),
    [
        ("foods.toml", 'row = "Beets, raw"', 'row = "Beats, raw"', "Is Beets, raw"),
        ("foods.toml", 'row = "Beets, raw"', 'rows = "Beets, raw"', "no such field: rows"),
        ("foods.toml", 'row = "Beets, raw"', 'note = "red"', "either a row or the reason"),
        ("usda_rows.csv", '"Arugula, raw"', '"Argula, raw"', "no food is this row"),
        ("usda_rows.csv", "43.0,1.61", "-43.0,1.61", "no amount of energy"),
        ("usda_rows.csv", "43.0,1.61", "much,1.61", "no amount of energy"),
        ("usda_rows.csv", "Iron", "Irn", "no amount of iron"),
    ],
)
def test_a_faulty_copy_is_refused(copied: Path, file: str, old: str, new: str, told: str) -> None:
    """A row that is not there, a food without a row or reason, a row that no food is and an amount
    below nothing are all refused, with the place.
    """
    path = copied / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(FaultsFoundError) as refused:
        read_food_facts(copied)
    assert any(
        told in f"{found.what} {found.remedy}" and file in found.where
        for found in refused.value.findings
    )


def test_the_note_of_origin_stands_beside_the_copy() -> None:
    """Whoever opens the copy finds where it is from and that it is free to use."""
    note = (folder() / "README.md").read_text(encoding="utf-8")
    assert "FoodData Central" in note
    assert "public domain" in note
