"""The forecast's own figures, read from their data file."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from haulm.catalogue.records import Basis, Figure


@dataclass(frozen=True, slots=True)
class ForecastRules:
    """How the luck of a season is shared out, and when a promise is held.

    Each field is a figure of ``data/rules.toml``, where its unit, basis and meaning stand.
    """

    year_share: Figure
    crop_share: Figure
    failure_share: Figure
    nothing_before_share: Figure
    keeping_spread: Figure
    appetite_spread: Figure
    appetite_week_spread: Figure
    held_share: Figure
    empty_kg: Figure
    together_from: Figure


@cache
def forecast_rules() -> ForecastRules:
    """Read the rules' figures."""
    text = files("haulm.forecast").joinpath("data/rules.toml").read_text(encoding="utf-8")
    figures = {
        name: Figure(
            value=float(entry["value"]),
            unit=entry["unit"],
            basis=Basis(entry["basis"]),
            note=entry["note"],
        )
        for name, entry in tomllib.loads(text).items()
    }
    return ForecastRules(**figures)
