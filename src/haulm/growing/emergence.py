"""When seed comes up: the daily rate of a published table, added up over the soil's days.

A table gives days to emergence in soil held at one temperature. Their inverse is a rate, the share
of the way that one day at that temperature brings; between the table's temperatures it is taken to
change evenly, as in the thermal-time models of seed science. Once a run of days has added up to 1
the seed is up. Moist soil and a shallow sowing are taken for granted, as in the experiment.
"""

import numpy as np
from numpy.typing import NDArray

from haulm.catalogue.emergence import Emergence
from haulm.catalogue.records import Basis

WHOLE = 1.0 - 1e-9
"""All of the way from sowing to emergence, but for what adding up days loses."""


def limits_c(table: Emergence, least_c: float) -> tuple[float, float]:
    """Give the least and greatest soil temperature at which seed comes up [°C].

    The kind's own least and the table's greatest, widened to where seed of the crop itself was
    seen to come up.
    """
    most = table.at_c[-1] if table.most_c is None else max(table.most_c, table.at_c[-1])
    if table.basis is Basis.PUBLISHED:
        return min(least_c, table.at_c[0]), most
    return least_c, most


def rate_a_day(
    table: Emergence, least_c: float, soil_c: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the share of the way to emergence that a day in soil brings, shape as ``soil_c`` [1/d].

    Parameters
    ----------
    table
        Days to emergence by soil temperature, and where little or nothing came up.
    least_c
        The kind's least soil temperature for seed [°C].
    soil_c
        Soil temperature, any shape [°C].

    Notes
    -----
    Even between tabled temperatures, and nothing where nothing came up. Where no such temperature
    is tabled on the cold or the warm side, the rate falls evenly to nothing at the limit of that
    side. Nothing outside the limits.
    """
    least, most = limits_c(table, least_c)
    rates = dict.fromkeys(table.none_at_c, 0.0)
    if not any(at < table.at_c[0] for at in table.none_at_c):
        rates[least] = 0.0
    if not any(at > table.at_c[-1] for at in table.none_at_c):
        rates[most] = 0.0
    rates |= {at: 1.0 / days for at, days in zip(table.at_c, table.days, strict=True)}
    at_c = sorted(rates)
    rate = np.interp(soil_c, at_c, [rates[at] for at in at_c], left=0.0, right=0.0)
    return np.where((soil_c >= least) & (soil_c <= most), rate, 0.0)


def days_at(table: Emergence, least_c: float, soil_c: float) -> float | None:
    """Give the days to emergence in soil held at one temperature [d]; None where none comes up."""
    rate = float(rate_a_day(table, least_c, np.array([soil_c]))[0])
    return 1.0 / rate if rate > 0 else None


def share_up(table: Emergence, soil_c: float) -> float | None:
    """Give the share of seed that makes seedlings in soil of a temperature [1].

    Even between tabled temperatures; None outside them, where nobody has looked.
    """
    if not table.share_at_c or not table.share_at_c[0] <= soil_c <= table.share_at_c[-1]:
        return None
    return float(np.interp(soil_c, table.share_at_c, table.share))
