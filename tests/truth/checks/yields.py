"""Yields and portions, against extension charts, measured gardens and dietary guidelines."""

from functools import partial
from statistics import median

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Kind
from haulm.catalogue.stand import station_spacing
from haulm.growing.timing import main_giving
from haulm.household.portions import portion_share
from truth.checks.sources import MAINE_CHART
from truth.published import Check, Rule, Section, Span, Table
from truth.rows import rows_of

KG_A_POUND = 0.45359237
M_A_FOOT = 0.3048
M_AN_INCH = 0.0254
SQUARE_M_AN_ACRE = 4046.86
ADULT_KCAL = 2250
CHARTS = {
    "kansas-mf315": "C. Marr, Vegetable Garden Planting Guide MF-315, Kansas State University",
    "maine-chart": MAINE_CHART,
}
CHART_ROWS = rows_of("catalogue_rows.csv")

# Where a published row yield lies outside the catalogue's range for a square metre, and why.
EXPLAINED = {
    ("kansas-mf315", "french bean/dwarf"): "half as much again as the Maine chart gives",
    ("kansas-mf315", "chard/summer"): "no row gap seen; at our close spacing plants give less each",
    ("kansas-mf315", "potato/maincrop"): "half of what the Maine chart gives; ours lies between",
    ("kansas-mf315", "beetroot/summer"): "half as much again as the Maine chart gives",
    ("kansas-mf315", "cabbage/white storing"): "one row for all cabbages; ours grow to full size",
    ("kansas-mf315", "kale/curly"): "no row gap seen; the row is of collards and kale together",
    ("kansas-mf315", "mizuna/winter"): "no row gap seen; large mustard, where ours is cut small",
    ("kansas-mf315", "cucumber/ridge"): "rows 1.2 to 1.8 m apart, where ours fill the ground",
    ("maine-chart", "pea/early"): "five times the Kansas chart; pods, where ours are shelled",
    ("maine-chart", "winter squash/small"): "rows 1.8 to 2.4 m apart, where ours fill the ground",
    ("maine-chart", "turnip/autumn"): "three times what the same chart gives for beet and carrot",
}

# Daily energy by age, moderately active, from the lowest of girls or women to the highest of boys
# or men [kcal].
ENERGY = {
    2: (1000, 1400),
    4: (1400, 1600),
    9: (1600, 2200),
    14: (2000, 2800),
    19: (2000, 2800),
    31: (2000, 2600),
    51: (1800, 2400),
}


def chart_kg_m2(row: dict[str, str], kind: Kind) -> float:
    """Spread a chart's pounds for a length of row over the row gap [kg/m²]."""
    kg_m = float(row["pounds"]) * KG_A_POUND / (float(row["feet"]) * M_A_FOOT)
    chart_gap = row["chart_row_gap_in"]
    return kg_m / (float(chart_gap) * M_AN_INCH if chart_gap else station_spacing(kind.stand)[1])


def yield_range(kind: str) -> Span:
    """Give what a square metre gives, eight years in ten [kg/m²]."""
    figure = main_giving(load_catalogue().kinds[kind]).yield_kg_m2
    assert figure.low is not None
    assert figure.high is not None
    return figure.low, figure.high


def energy_kcal(age: int) -> float:
    """Give the daily energy that an eater's portion stands for [kcal]."""
    return portion_share(age) * ADULT_KCAL


def yields() -> list[float]:
    """Give what every kind that is cleared within the year gives of its main food [kg/m²]."""
    return [main_giving(kind).yield_kg_m2.value for kind in cleared_kinds()]


def cleared_kinds() -> list[Kind]:
    """Give the kinds that are grown for food and do not stay for years."""
    kinds = load_catalogue().kinds.values()
    return [kind for kind in kinds if kind.perennial is None and kind.green_manure is None]


def of_chart(source: str) -> Table:
    """Hold the catalogue's yields to one chart."""
    return Table(
        claim="What a row gives by the chart, spread over its row gap, lies in the kind's range.",
        source=CHARTS[source],
        unit="kg/m²",
        rule=Rule.HOLDS,
        why=(
            "eight years in ten; the row gap is the Maine chart's where it gives one, a seed "
            "merchant's for okra and collards, and ours where none does"
        ),
        carried=True,
        checks=tuple(
            Check(
                row["kind"],
                round(chart_kg_m2(row, load_catalogue().kinds[row["kind"]]), 3),
                partial(yield_range, row["kind"]),
                EXPLAINED.get((source, row["kind"]), ""),
            )
            for row in CHART_ROWS
            if row["source"] == source
        ),
    )


SECTION = Section(
    "Yields and appetites",
    (
        of_chart("kansas-mf315"),
        of_chart("maine-chart"),
        Table(
            claim="What a garlic seed field gives lies in the range of both kinds.",
            source="COAREC, Oregon State University, 2012: 14 000 lb an acre",
            unit="kg/m²",
            rule=Rule.HOLDS,
            why="eight years in ten",
            carried=True,
            checks=tuple(
                Check(
                    kind,
                    round(14_000 * KG_A_POUND / SQUARE_M_AN_ACRE, 3),
                    partial(yield_range, kind),
                )
                for kind in ("garlic/hard-necked", "garlic/soft-necked")
            ),
        ),
        Table(
            claim="The middle kind gives what a square metre of weighed gardens gave.",
            source=(
                "CoDyre et al., mean of 50 gardens, 1.43; Conk and Porter, 31 gardens, 2.49; "
                "Algert, 10 gardens, 3.66"
            ),
            unit="kg/m²",
            rule=Rule.WITHIN,
            why="between the lowest and the highest of the three",
            carried=True,
            checks=(Check("middle kind", (1.43, 3.66), lambda: median(yields())),),
        ),
        Table(
            claim="No kind gives more than the best of weighed gardens.",
            source="McDougall et al. 2019, mean of 13 gardens",
            unit="kg/m²",
            rule=Rule.AT_MOST,
            why="a whole garden's mean bounds no single crop; none of ours passes it all the same",
            carried=True,
            checks=(Check("most generous kind", 5.94, lambda: max(yields())),),
        ),
        Table(
            claim="An eater's portion follows the energy needed at that age.",
            source=(
                "Estimated Calorie Needs per Day, moderately active, Dietary Guidelines for "
                "Americans, USDA and HHS"
            ),
            unit="kcal a day",
            rule=Rule.WITHIN,
            tolerance=0.5,
            why="within the range printed for both sexes",
            carried=True,
            read="as Pediatrics table 5-2 and nhlbi.nih.gov reprint it",
            checks=tuple(
                Check(f"from age {age}", span, partial(energy_kcal, age))
                for age, span in ENERGY.items()
            ),
        ),
    ),
)
