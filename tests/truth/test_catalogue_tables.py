"""The catalogue's figures against whole published tables, row by row.

The tables stand in the data beside this test, as printed; a row that ours does not follow says why.
"""

import csv
from pathlib import Path

import pytest

from haulm.catalogue.loader import load_catalogue

DATA = Path(__file__).parent / "data"


def rows_of(name: str) -> list[dict[str, str]]:
    """Read one of the tables beside this test."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize(
    "row", rows_of("catalogue_refuse.csv"), ids=lambda row: f"{row['food']}-{row['row'][:5]}"
)
def test_what_the_kitchen_throws_away_is_what_usda_weighed(row: dict[str, str]) -> None:
    """Of each food as much reaches the plate as USDA's refuse leaves, or it is said why not.

    USDA National Nutrient Database for Standard Reference 27, refuse of the raw food as bought.
    Tolerance: half a hundredth, as the refuse is printed in whole per cent.
    """
    ours = load_catalogue().foods[row["food"]].kitchen_share
    leaves = 1 - float(row["refuse_percent"]) / 100
    same = ours.value == pytest.approx(leaves, abs=0.0051)
    assert same == (row["why_ours_differs"] == "")
    if same:
        assert ours.source == "usda-refuse"
