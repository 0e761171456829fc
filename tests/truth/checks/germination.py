"""Soil temperatures for seed, against Harrington's tables."""

from collections.abc import Mapping
from functools import partial

import numpy as np

from haulm.catalogue.emergence import Emergence, load_emergence
from haulm.catalogue.loader import load_catalogue
from haulm.growing.emergence import days_at, rate_a_day, share_up
from truth.checks.sources import HARRINGTON, HARRINGTON_MINGES
from truth.published import Check, Rule, Section, Span, Table
from truth.rows import rows_of

TRIED = rows_of("emergence.csv")

# Least, best and most soil temperature [°F].
LIMITS_F: Mapping[str, tuple[int, int, int]] = {
    "beetroot/summer": (40, 85, 95),
    "cabbage/summer": (40, 85, 100),
    "carrot/early": (40, 80, 95),
    "cauliflower/autumn": (40, 80, 100),
    "chard/summer": (40, 85, 95),
    "sweet corn/early": (50, 95, 105),
    "cucumber/ridge": (60, 95, 105),
    "aubergine/long": (60, 85, 95),
    "lettuce/summer": (35, 75, 95),
    "melon/early": (60, 90, 100),
    "onion/seed": (35, 75, 95),
    "parsley/summer": (40, 75, 90),
    "parsnip/winter": (35, 65, 85),
    "pea/early": (40, 75, 85),
    "pepper/sweet": (60, 85, 95),
    "pumpkin/trailing": (60, 95, 100),
    "radish/summer": (40, 85, 95),
    "spinach/spring": (35, 70, 85),
    "winter squash/small": (60, 95, 100),
    "tomato/bush": (50, 85, 95),
    "turnip/early": (40, 85, 105),
    "watermelon/early": (60, 95, 105),
}


def limit_f(kind: str, field: str) -> float:
    """Give one of a kind's soil temperatures for seed [°F]."""
    figure = getattr(load_catalogue().kinds[kind].warmth, field)
    return float(figure.value * 1.8 + 32)


# Least share of seed that comes up, as sold [%]: 7 CFR 201.31.
FEDERAL: Mapping[str, int] = {
    "aubergine": 60,
    "beetroot": 65,
    "broad bean": 75,
    "brussels sprouts": 70,
    "cabbage": 75,
    "calabrese": 75,
    "cardoon": 60,
    "carrot": 55,
    "cauliflower": 75,
    "celeriac": 55,
    "celery": 55,
    "chard": 65,
    "chicory": 65,
    "Chinese cabbage": 75,
    "collard": 80,
    "cowpea": 75,
    "cucumber": 80,
    "dill": 60,
    "endive": 70,
    "french bean": 70,
    "garden cress": 75,
    "kale": 75,
    "kohlrabi": 75,
    "lamb's lettuce": 70,
    "land cress": 60,
    "leek": 60,
    "lettuce": 80,
    "lima bean": 70,
    "melon": 75,
    "mizuna": 75,
    "New Zealand spinach": 40,
    "okra": 50,
    "onion": 70,
    "pak choi": 75,
    "parsley": 60,
    "parsnip": 60,
    "pea": 80,
    "pepper": 55,
    "physalis": 50,
    "pumpkin": 75,
    "radish": 75,
    "runner bean": 75,
    "salsify": 75,
    "soya": 75,
    "spinach": 60,
    "summer savory": 55,
    "swede": 75,
    "sweet corn": 75,
    "tomatillo": 50,
    "tomato": 75,
    "turnip": 80,
    "watermelon": 70,
    "winter squash": 75,
}

# The same by New Hampshire's rules, for what the federal ones lack.
NEW_HAMPSHIRE: Mapping[str, int] = {
    "basil": 70,
    "chervil": 65,
    "coriander": 70,
    "Florence fennel": 60,
    "grain maize": 75,
    "rocket": 60,
}


def comes_up_percent(crop: str) -> Span:
    """Give the share of a crop's seed that comes up, over its kinds and methods [%]."""
    shares = [
        100 * method.germination.value
        for kind in load_catalogue().kinds.values()
        for method in kind.methods
        if kind.crop == crop and method.unit == "seed"
    ]
    return min(shares), max(shares)


def lawful(source: str, least: Mapping[str, int]) -> Table:
    """Hold what comes up to the least that a law lets be sold."""
    return Table(
        claim="As much seed is counted on as the law lets be sold at the least.",
        source=source,
        unit="%",
        carried=True,
        checks=tuple(
            Check(crop, percent, partial(comes_up_percent, crop)) for crop, percent in least.items()
        ),
    )


def limits(name: str, field: str, at: int) -> Table:
    """Hold one of the three temperatures to the table."""
    return Table(
        claim=f"Seed's {name} soil temperature is that of the table.",
        source=HARRINGTON,
        unit="°F",
        tolerance=0.11,
        why="ours is held in tenths of a °C",
        carried=True,
        checks=tuple(
            Check(kind, printed[at], partial(limit_f, kind, field))
            for kind, printed in LIMITS_F.items()
        ),
    )


def least_c(kind: str) -> float:
    """Give a kind's least soil temperature for seed [°C]."""
    return load_catalogue().kinds[kind].warmth.germination_min_c.value


def table_of(kind: str) -> Emergence:
    """Give the table a kind's crop goes by."""
    return load_emergence()[load_catalogue().kinds[kind].crop]


def days_to_emerge(kind: str, soil_c: float) -> float:
    """Give the days to emergence in soil held at a temperature [d]."""
    days = days_at(table_of(kind), least_c(kind), soil_c)
    return float("inf") if days is None else days


def rate(kind: str, soil_c: float) -> float:
    """Give the share of the way that a day at a temperature brings [1/d]."""
    return float(rate_a_day(table_of(kind), least_c(kind), np.array([soil_c]))[0])


def percent_up(kind: str, soil_c: float) -> float:
    """Give the share of seed that makes seedlings [%]."""
    share = share_up(table_of(kind), soil_c)
    assert share is not None
    return 100 * share


def coldest_f(kind: str) -> float:
    """Give the lowest whole °F at which ours has seed come up."""
    return float(next(f for f in range(120) if rate(kind, (f - 32) / 1.8 + 0.03) > 0))


def hottest_f(kind: str) -> float:
    """Give the highest whole °F at which ours has seed come up."""
    return float(next(f for f in range(120, 0, -1) if rate(kind, (f - 32) / 1.8 - 0.03) > 0))


# Where the emergence table has seed come up beyond the limits, or nearer than they say.
WIDENED = {
    "cucumber/ridge": "the other table has it come up at 59 °F, in 13 days",
    "pepper/sweet": "the other table has it come up at 59 °F, in 25 days",
    "lettuce/summer": "the other table has it come up at 32 °F, in 49 days",
    "onion/seed": "the other table has it come up at 32 °F, in 136 days",
    "parsnip/winter": "the other table has it come up at 32 °F, in 172 days",
    "spinach/spring": "the other table has it come up at 32 °F, in 63 days",
}
TOO_HOT = {
    "parsnip/winter": "the other table has it come up at 86 °F, in 32 days",
    "pea/early": "the other table has it come up at 86 °F, in 6 days",
    "spinach/spring": "the other table has it come up at 86 °F, in 6 days",
}

SECTION = Section(
    "Seed and soil",
    (
        lawful("7 CFR 201.31, germination standards for vegetable seeds, 59 FR 64491", FEDERAL),
        lawful("New Hampshire Code of Administrative Rules, Agr 2203.01, 2018", NEW_HAMPSHIRE),
        limits("least", "germination_min_c", 0),
        limits("best", "germination_best_c", 1),
        Table(
            claim="The least soil temperature for beans is that of the table.",
            source=HARRINGTON,
            unit="°F",
            tolerance=0.11,
            why="ours is held in tenths of a °C",
            carried=True,
            checks=(
                Check(
                    "french bean/dwarf",
                    60,
                    partial(limit_f, "french bean/dwarf", "germination_min_c"),
                    differs=(
                        "growers sow into soil of 12 to 13 °C by day and night (common practice); "
                        "the table's 60 °F stands as the high end of our range"
                    ),
                ),
            ),
        ),
        Table(
            claim="Seed in soil held at one temperature is up on the day of the experiment.",
            source=f"{HARRINGTON_MINGES}, days to emergence, after Knott's Handbook 1997",
            unit="d",
            tolerance=1.0,
            why="two public copies of the experiment differ by a day",
            read="as a UC Santa Cruz teaching manual and one more copy give it",
            carried=True,
            checks=tuple(
                Check(
                    f"{row['kind']} at {row['temperature_c']} °C",
                    float(row["days"]),
                    partial(days_to_emerge, row["kind"], float(row["temperature_c"])),
                )
                for row in TRIED
                if row["days"].isdigit()
            ),
        ),
        Table(
            claim="Where nothing came up in the experiment, no day brings seed on.",
            source=f"{HARRINGTON_MINGES}, days to emergence, after Knott's Handbook 1997",
            unit="1/d",
            why="little or no germination is taken as none",
            read="as a UC Santa Cruz teaching manual and one more copy give it",
            carried=True,
            checks=tuple(
                Check(
                    f"{row['kind']} at {row['temperature_c']} °C",
                    0.0,
                    partial(rate, row["kind"], float(row["temperature_c"])),
                )
                for row in TRIED
                if row["days"] == "none"
            ),
        ),
        Table(
            claim="No seed comes up in colder soil than the table's least.",
            source=HARRINGTON,
            unit="°F",
            rule=Rule.AT_LEAST,
            why="whole °F; where the experiment saw seed come up beyond, that rules",
            carried=True,
            checks=tuple(
                Check(kind, printed[0], partial(coldest_f, kind), WIDENED.get(kind, ""))
                for kind, printed in LIMITS_F.items()
            ),
        ),
        Table(
            claim="No seed comes up in hotter soil than the table's most.",
            source=HARRINGTON,
            unit="°F",
            rule=Rule.AT_MOST,
            why="whole °F; where the experiment saw seed come up beyond, that rules",
            carried=True,
            checks=tuple(
                Check(kind, printed[2], partial(hottest_f, kind), TOO_HOT.get(kind, ""))
                for kind, printed in LIMITS_F.items()
            ),
        ),
        Table(
            claim="As much seed makes seedlings as in the experiment.",
            source=f"{HARRINGTON_MINGES}, percentage of normal seedlings",
            unit="%",
            carried=True,
            read="as one public copy gives it",
            checks=tuple(
                Check(
                    f"{row['kind']} at {row['temperature_c']} °C",
                    float(row["percent"]),
                    partial(percent_up, row["kind"], float(row["temperature_c"])),
                )
                for row in TRIED
                if row["percent"]
            ),
        ),
    ),
)
