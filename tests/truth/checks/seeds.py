"""Seeds in an ounce, against seed merchants' charts."""

from functools import partial

from haulm.catalogue.loader import load_catalogue
from stated import stated
from truth.published import Check, Rule, Section, Span, Table
from truth.rows import rows_of

KG_AN_OUNCE = 0.028349523
LOTS_DIFFER = 0.15
CHARTS = {
    "seed-chart-olds": "Olds Seeds, approximate seed count of garden vegetables",
    "seed-chart-fedco": "Fedco Seeds, Vegetable Planting Guide, average seeds in an ounce",
}


def seeds_an_ounce(kind: str) -> Span:
    """Give the seeds in an ounce as lots of one crop may differ, 15 % to either side."""
    methods = load_catalogue().kinds[kind].methods
    count = stated(next(one for one in methods if one.unit == "seed").units_per_kg).value
    return (1 - LOTS_DIFFER) * count * KG_AN_OUNCE, (1 + LOTS_DIFFER) * count * KG_AN_OUNCE


SECTION = Section(
    "Seeds to the ounce",
    tuple(
        Table(
            claim="An ounce holds as many seeds as the chart counts.",
            source=title,
            unit="seeds an ounce",
            rule=Rule.MEETS,
            why="ours 15 % to either side, as lots differ; the charts differ up to twofold",
            carried=True,
            checks=tuple(
                Check(
                    row["kind"],
                    (float(row["least_an_ounce"]), float(row["most_an_ounce"])),
                    partial(seeds_an_ounce, row["kind"]),
                    row["why_ours_differs"],
                )
                for row in rows_of("catalogue_seeds.csv")
                if row["source"] == source
            ),
        )
        for source, title in CHARTS.items()
    ),
)
