"""What the kitchen throws away, against what USDA weighed."""

import csv
from functools import partial
from pathlib import Path

from haulm.catalogue.loader import load_catalogue
from truth.published import Check, Section, Table

DATA = Path(__file__).parents[1] / "data"


def refuse_percent(food: str) -> float:
    """Give the share of a food that does not reach the plate [%]."""
    return 100 * (1 - load_catalogue().foods[food].kitchen_share.value)


def refuse_rows() -> list[dict[str, str]]:
    """Read the table's rows for our foods."""
    with (DATA / "catalogue_refuse.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


SECTION = Section(
    "In the kitchen",
    (
        Table(
            claim="Of each food as much is thrown away as was weighed.",
            source="USDA National Nutrient Database for Standard Reference 27, refuse",
            unit="%",
            tolerance=0.51,
            why="printed in whole per cent",
            carried=True,
            checks=tuple(
                Check(
                    f"{row['food']} ({row['row']})",
                    float(row["refuse_percent"]),
                    partial(refuse_percent, row["food"]),
                    row["why_ours_differs"],
                )
                for row in refuse_rows()
            ),
        ),
    ),
)
