"""What the bare, wet top of the soil loses to the air; element by element on arrays."""

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64] | float


def top_water_mm(field_capacity: float, wilting_point: float, depth_m: float) -> float:
    """Give the water that can leave the top layer by evaporation [mm]; FAO-56, equation 73."""
    return 1000 * (field_capacity - 0.5 * wilting_point) * depth_m


def highest_coefficient(
    wind_m_per_s: float, least_humidity_pct: Values, height_m: Values, basal: Values
) -> NDArray[np.float64]:
    """Give the most that soil and crop can lose, as a share of reference use [-].

    Source: FAO-56, equation 72.
    """
    air = 0.04 * (wind_m_per_s - 2) - 0.004 * (np.asarray(least_humidity_pct) - 45)
    return np.maximum(1.2 + air * (np.asarray(height_m) / 3) ** 0.3, np.asarray(basal) + 0.05)


def drying(lost_mm: Values, ready_mm: Values, total_mm: Values) -> NDArray[np.float64]:
    """Give how freely the top layer still evaporates: 1 when wet, 0 when spent [-].

    ``lost_mm`` is what it has lost, ``ready_mm`` what it loses freely and ``total_mm`` what it can
    lose at all [mm].
    Source: FAO-56, equation 74.
    """
    left = np.asarray(total_mm, dtype=np.float64) - lost_mm
    return np.clip(left / (np.asarray(total_mm) - ready_mm), 0.0, 1.0)


def covered_share(
    basal: Values, highest: Values, height_m: Values, least: float
) -> NDArray[np.float64]:
    """Give the share of the ground that leaves shade, 0 to 0.99 [1].

    ``least`` is the coefficient of dry bare soil.
    Source: FAO-56, equation 76.
    """
    grown = np.clip((np.asarray(basal) - least) / (np.asarray(highest) - least), 0.0, 1.0)
    return np.minimum(grown ** (1 + 0.5 * np.asarray(height_m)), 0.99)


def bare_wet_share(covered: Values, wetted: Values) -> NDArray[np.float64]:
    """Give the share of the ground that is both bare and wet [1]; FAO-56, equation 75."""
    return np.minimum(1.0 - np.asarray(covered), wetted)


def soil_coefficient(
    highest: Values, basal: Values, drying_share: Values, bare_wet: Values
) -> NDArray[np.float64]:
    """Give the soil's evaporation coefficient [-]; FAO-56, equation 71.

    ``drying_share`` is 1 on wet soil and 0 on dry; ``bare_wet`` the ground both bare and wet.
    """
    return np.minimum(
        np.asarray(drying_share) * (np.asarray(highest) - basal), np.asarray(bare_wet) * highest
    )


def mulched(coefficient: Values, mulch_share: Values, relief: float) -> NDArray[np.float64]:
    """Take off what an organic mulch keeps in, by the share of ground it covers [-].

    ``relief`` is the share of evaporation that a whole cover keeps in.
    Source: FAO-56, chapter 10 (5 % for each 10 % of ground covered).
    """
    return np.asarray(coefficient) * (1.0 - relief * np.asarray(mulch_share))
