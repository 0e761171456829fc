"""The classes of soil and the water they hold."""

import tomllib
from importlib.resources import files

from haulm.water.records import SoilWater


def soil_waters() -> dict[str, SoilWater]:
    """Give every class of soil under its name, with lowest and highest water [m³/m³].

    Source: FAO-56, table 19.
    """
    table = tomllib.loads(
        files("haulm.water").joinpath("data", "soils.toml").read_text(encoding="utf-8")
    )
    return {
        name: SoilWater(name, tuple(row["field_capacity"]), tuple(row["wilting_point"]))
        for name, row in table["soils"].items()
    }
