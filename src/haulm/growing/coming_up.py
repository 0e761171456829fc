"""When what is sown in place should show, when to sow again, and how likely a thin stand is."""

from dataclasses import dataclass
from datetime import date
from math import ceil

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.emergence import Emergence, emergence_of
from haulm.catalogue.records import Kind, Method
from haulm.growing.days import NEVER, Days, day_in_share_of_runs
from haulm.growing.emergence import share_up
from haulm.growing.rules import growing_rules
from haulm.growing.timing import LATE, SEED, up_from
from haulm.growing.weather import GrowingWeather


@dataclass(frozen=True, slots=True)
class ComingUp:
    """When a sowing shows above ground.

    Attributes
    ----------
    by
        The day by which it is up in the share of years ``data/rules.toml`` is sure of.
    again
        If nothing shows by this day, sow again.
    thin
        The share of years in which the soil lets less seed come up than the seed was counted for
        [1]; None where nobody has looked at such soil.
    table
        What it rests on.
    """

    by: date
    again: date
    thin: float | None
    table: Emergence


def coming_up(
    kind: Kind, method: Method, sown_on: date, weather: GrowingWeather, *, under_cover: bool
) -> ComingUp | None:
    """Tell when a sowing in place shows.

    None where it is no seed or is raised in trays, where no table of emergence is known, and where
    it does not come up within the weather on hand in nine years of ten.
    """
    table = emergence_of(kind.crop)
    if table is None or method.unit != SEED or method.module_weeks is not None:
        return None
    rules = growing_rules()
    begins = np.full((weather.seasons.runs, 1), weather.column_of(sown_on), dtype=np.int64)
    up = up_from(kind, method, begins, weather, under_cover=under_cover)
    by, late = (
        int(day_in_share_of_runs(up, share)[0]) for share in (rules.certainty_warmth.value, LATE)
    )
    if late == NEVER:
        return None
    first = int(begins[0, 0])
    again = first + ceil(rules.sow_again_wait.value * (late - first))
    return ComingUp(
        by=weather.day_of(by),
        again=weather.day_of(again),
        thin=_thin(table, method, up, begins, weather.around(under_cover=under_cover).soil_day_c),
        table=table,
    )


def _thin(
    table: Emergence, method: Method, up: Days, begins: Days, soil_c: NDArray[np.float64]
) -> float | None:
    """Give the share of years whose soil, from sowing to emergence, lets too little seed up."""
    means = [
        float(soil_c[run, start:end].mean())
        for run, (start, end) in enumerate(zip(begins[:, 0], up[:, 0], strict=True))
        if start < end <= soil_c.shape[1]
    ]
    shares = [share_up(table, mean) for mean in means]
    known = [share for share in shares if share is not None]
    if len(known) < up.shape[0] / 2:
        return None
    return float(np.mean([share < method.germination.value for share in known]))
