"""The site's own figures of air and soil, read from their data file."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class AirFigure:
    """One figure: its value and unit, what it rests on, and the range read where there was one.

    ``read`` says where its source was read.
    """

    value: float
    unit: str
    basis: str
    note: str
    source: str = ""
    read: str = ""
    low: float | None = None
    high: float | None = None


@cache
def air_figures() -> dict[str, AirFigure]:
    """Read every figure of ``data/air.toml``, where its meaning stands, by its name."""
    text = files("haulm.site").joinpath("data", "air.toml").read_text(encoding="utf-8")
    return {
        name: AirFigure(**(entry | {"value": float(entry["value"])}))
        for name, entry in tomllib.loads(text).items()
    }


def air_figure(name: str) -> float:
    """Give the value of one figure by its name."""
    return air_figures()[name].value
