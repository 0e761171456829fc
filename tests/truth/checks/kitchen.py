"""What the kitchen throws away, against what USDA weighed."""

from functools import partial

from haulm.catalogue.loader import load_catalogue
from truth.published import Check, Section, Table
from truth.rows import rows_of


def refuse_percent(food: str) -> float:
    """Give the share of a food that does not reach the plate [%]."""
    return 100 * (1 - load_catalogue().foods[food].kitchen_share.value)


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
                for row in rows_of("catalogue_refuse.csv")
            ),
        ),
    ),
)
