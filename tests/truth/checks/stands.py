"""How far apart and how deep crops stand, against planting charts."""

from functools import partial

from haulm.catalogue.loader import load_catalogue
from stated import spread
from truth.checks.sources import MAINE_CHART
from truth.published import Check, Rule, Section, Span, Table
from truth.rows import rows_of

M_AN_INCH = 0.0254
CHARTS = {
    "maine-chart": MAINE_CHART,
    "seed-chart-olds": "Olds Seeds, planting distance and depth of garden vegetables",
}
IN_THE_ROW, DEEP = "in the row", "deep"


def inches(kind: str, measure: str) -> Span:
    """Give a kind's distance in the row, or its depth, from the least to the most used [in]."""
    stand = load_catalogue().kinds[kind].stand
    low, high = spread(stand.spacing_in_row_m if measure == IN_THE_ROW else stand.depth_m)
    return low / M_AN_INCH, high / M_AN_INCH


def of_chart(source: str, measure: str, claim: str, tolerance: float, why: str) -> Table:
    """Hold one measure to one chart."""
    return Table(
        claim=claim,
        source=CHARTS[source],
        unit="in",
        tolerance=tolerance,
        rule=Rule.MEETS,
        why=why,
        carried=True,
        checks=tuple(
            Check(
                row["kind"],
                (float(row["least_in"]), float(row["most_in"])),
                partial(inches, row["kind"], measure),
                row["why_ours_differs"],
            )
            for row in rows_of("catalogue_stands.csv")
            if row["source"] == source and row["measure"] == measure
        ),
    )


SECTION = Section(
    "Distance and depth",
    tuple(
        table
        for source in CHARTS
        for table in (
            of_chart(
                source,
                IN_THE_ROW,
                "Plants stand as far apart along the row as the chart sets them.",
                0.5,
                "printed in whole inches",
            ),
            of_chart(
                source,
                DEEP,
                "Seed lies as deep as the chart sows it.",
                0.25,
                "printed in quarter inches",
            ),
        )
    ),
)
