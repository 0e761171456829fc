"""Rain tanks: how long a roof's rain lasts a garden, and what size would do."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.water.records import Array, Tank, TankRun
from haulm.water.tank_stock import DROP_L, TankStock

_HALVINGS = 30


def run_tanks(
    tanks: Sequence[Tank], rain_mm: Array, wanted_l: Array, full_share: float = 1.0
) -> TankRun:
    """Carry tanks through runs of days.

    Each morning its roof's rain runs in and what finds no room spills over; then what the garden
    wants is drawn, from each in proportion to what lies in it.

    Parameters
    ----------
    tanks
        The tanks, each with its roof.
    rain_mm, wanted_l
        Rain [mm] and what is wanted [l], shape (runs, days).
    full_share
        How full they are on the first morning [1].

    Raises
    ------
    FaultsFoundError
        When shapes differ, or the rain is not known.
    """
    if rain_mm.shape != wanted_l.shape or not np.isfinite(rain_mm).all():
        what = "rain and need are of different lengths, or the rain of some day is not known."
        raise FaultsFoundError([Finding("tanks", what, "Give a record with rain.")])
    stock = TankStock(tanks, rain_mm.shape[0], full_share)
    told = tuple(np.empty(rain_mm.shape) for _ in range(4))
    for day in range(rain_mm.shape[1]):
        spilt = stock.fill(rain_mm[:, day])
        given = stock.draw(wanted_l[:, day])
        of_day = (stock.lying_l, given, wanted_l[:, day] - given, spilt)
        for values, value in zip(told, of_day, strict=True):
            values[:, day] = value
    return TankRun(*told)


def years_met(told: TankRun) -> float:
    """Give the share of runs in which nothing that was wanted was missing [1]."""
    return float(np.mean(told.short_l.sum(axis=1) <= DROP_L))


def size_that_would_do(
    tanks: Sequence[Tank], rain_mm: Array, wanted_l: Array, certainty: float = 0.8
) -> float | None:
    """Give the litres that tanks on these roofs would have to hold to meet a garden's need.

    Every tank is taken larger or smaller by one share. They start full.

    Parameters
    ----------
    tanks, rain_mm, wanted_l
        As in `run_tanks`.
    certainty
        In what share of years they must never run dry [1].

    Returns
    -------
    What all would hold together [l]; None where no tank would do, the roofs being too small.
    """
    whole = sum(tank.holds_l for tank in tanks)

    def does(size: float) -> bool:
        """Say whether tanks of this size in all would do."""
        sized = [replace(tank, holds_l=tank.holds_l * size / whole) for tank in tanks]
        return years_met(run_tanks(sized, rain_mm, wanted_l)) >= certainty

    # Tanks start full, so ones that hold a whole year's need would do without any roof: none is
    # tried that the roofs could not fill in a middle year.
    most = float(
        min(
            np.quantile(wanted_l.sum(axis=1), certainty),
            np.median(rain_mm.sum(axis=1)) * sum(t.roof_m2 * t.caught_share for t in tanks),
        )
    )
    if not does(most):
        return None
    low, high = 0.0, most
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if does(middle) else (middle, high)
    return high
