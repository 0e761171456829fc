"""The classes of soil and the water they hold."""

import tomllib
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from haulm.water.records import SoilMiddle, SoilWater


@cache
def soil_waters() -> MappingProxyType[str, SoilWater]:
    """Give every class of soil under its name, with lowest and highest water; read once, then kept.

    Source: FAO-56, table 19.
    """
    table = tomllib.loads(
        files("haulm.water").joinpath("data", "soils.toml").read_text(encoding="utf-8")
    )
    return MappingProxyType(
        {
            name: SoilWater(name, **{field: tuple(pair) for field, pair in row.items()})
            for name, row in table["soils"].items()
        }
    )


def soil_middle(name: str) -> SoilMiddle:
    """Give the middles of a class's ranges, which the balance is reckoned with."""
    soil = soil_waters()[name]
    return SoilMiddle(
        sum(soil.field_capacity) / 2,
        sum(soil.wilting_point) / 2,
        sum(soil.ready_mm) / 2,
        sum(soil.top_mm) / 2,
    )
