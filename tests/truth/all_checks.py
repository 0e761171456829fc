"""Every published figure that haulm is held to, by subject, and what is known without one."""

from truth.checks import (
    air,
    crop_water,
    dual,
    evaporation,
    food,
    germination,
    kitchen,
    larder,
    packing,
    rotation,
    seasons,
    seeds,
    soil_water,
    stands,
    stores,
    sun,
    vapour,
    warmth,
    warnings,
    yields,
)
from truth.published import Section

PUBLISHED: tuple[Section, ...] = (
    vapour.SECTION,
    sun.SECTION,
    evaporation.SECTION,
    soil_water.SECTION,
    dual.SECTION,
    crop_water.SECTION,
    warmth.DEGREE_DAYS,
    warmth.HARDINESS,
    air.SECTION,
    germination.SECTION,
    seeds.SECTION,
    stands.SECTION,
    yields.SECTION,
    kitchen.SECTION,
    food.SECTION,
    larder.SECTION,
    stores.SECTION,
    seasons.SECTION,
    rotation.SECTION,
    warnings.SECTION,
    packing.SECTION,
)
"""Held to figures read in print."""

UNPUBLISHED: tuple[Section, ...] = (
    Section("Common practice", (*larder.COMMON, *rotation.COMMON)),
    Section("From memory", (*sun.FROM_MEMORY, *warnings.REMEMBERED)),
)
"""Held to what growers know, or to figures not seen in print: not counted as published."""
