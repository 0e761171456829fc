"""Soil temperatures for seed, against Harrington's tables."""

from collections.abc import Mapping
from functools import partial

from haulm.catalogue.loader import load_catalogue
from truth.checks.sources import HARRINGTON
from truth.published import Check, Section, Table

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


SECTION = Section(
    "Seed and soil",
    (
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
    ),
)
