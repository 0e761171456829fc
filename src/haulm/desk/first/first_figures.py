"""The judged figures that a first garden is made by, read from their data file."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from haulm.catalogue.records import StoreKind
from haulm.household.records import Wanted
from haulm.larder.records import StorePlace


@dataclass(frozen=True, slots=True)
class FirstLine:
    """A line that a first table may have: what is eaten, how often, and how much it matters."""

    name: str
    foods: tuple[str, ...]
    portions: float
    wanted: Wanted
    priority: int


@dataclass(frozen=True, slots=True)
class FirstFigures:
    """Figures of ``data/first_garden.toml`` by part and key, its lines and stores in order.

    Each figure has its unit and basis in the file.
    """

    figures: Mapping[str, float]
    lines: tuple[FirstLine, ...]
    stores: tuple[StorePlace, ...]

    def __getitem__(self, name: str) -> float:
        """Give a figure by part and key, as in ``beds.width_m``."""
        return self.figures[name]


@cache
def first_figures() -> FirstFigures:
    """Read the figures; read once, then kept."""
    text = (files("haulm.desk") / "data" / "first_garden.toml").read_text(encoding="utf-8")
    data = tomllib.loads(text)
    return FirstFigures(
        figures={
            f"{part}.{key}": float(figure["value"])
            for part in ("ground", "beds", "hours", "ages")
            for key, figure in data[part].items()
        },
        lines=tuple(_line(line) for line in data["line"]),
        stores=tuple(
            StorePlace(store["id"], store["name"], StoreKind(store["kind"]), None)
            for store in data["store"]
        ),
    )


def _line(line: Mapping[str, Any]) -> FirstLine:
    foods = tuple(line["eat"])
    return FirstLine(
        name=line.get("name", foods[0]),
        foods=foods,
        portions=float(line["portions"]),
        wanted=Wanted(line.get("wanted", Wanted.EITHER)),
        priority=int(line["priority"]),
    )
