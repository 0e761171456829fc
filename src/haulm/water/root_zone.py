"""The root zone of one patch: what it can hold, what the crop takes, what drains."""

import numpy as np
from numpy.typing import NDArray

from haulm.water.records import Balance


def total_water_mm(field_capacity: float, wilting_point: float, root_depth_m: float) -> float:
    """Give the water roots can reach between field capacity and wilting point [mm].

    Source: FAO-56, equation 82.
    """
    return 1000 * (field_capacity - wilting_point) * root_depth_m


def easy_share(
    table_share: float | NDArray[np.float64], crop_use_mm: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Give the share of the water taken without stress, shape as ``crop_use_mm`` [-].

    ``table_share`` holds at 5 mm a day; the answer is kept within 0.1 to 0.8.
    Source: FAO-56, table 22, note 2; times the total water it is equation 83.
    """
    return np.clip(table_share + 0.04 * (5 - crop_use_mm), 0.1, 0.8)


def stress_factor(
    depletion_mm: NDArray[np.float64],
    total_mm: float | NDArray[np.float64],
    share: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Give the part of its full use a crop still takes, 1 unstressed and 0 at wilting [-].

    Source: FAO-56, equation 84.
    """
    return np.clip((total_mm - depletion_mm) / ((1 - share) * total_mm), 0.0, 1.0)


def day_by_day(
    rain_mm: NDArray[np.float64],
    watering_mm: NDArray[np.float64],
    full_use_mm: NDArray[np.float64],
    total_mm: float,
    table_share: float,
    first_depletion_mm: float,
) -> Balance:
    """Carry the root zone's depletion through the days, shapes ``(days,)`` or ``(runs, days)``.

    Rain and watering enter in the morning and the surplus drains before the crop drinks, as the
    worked example 38 does; equation 88 read literally drains after. Nothing runs off, and nothing
    rises from below. A fixed depth of root; ``total_mm`` must be above 0.
    Source: FAO-56, equations 84 to 88.
    """
    rain, watering, full_use = np.broadcast_arrays(rain_mm, watering_mm, full_use_mm)
    depletion, used, drained, stress = (np.empty(rain.shape) for _ in range(4))
    before = np.full(rain.shape[:-1], first_depletion_mm)
    for day in range(rain.shape[-1]):
        morning = before - rain[..., day] - watering[..., day]
        drained[..., day] = np.maximum(-morning, 0.0)
        morning = np.maximum(morning, 0.0)
        share = easy_share(table_share, full_use[..., day])
        stress[..., day] = stress_factor(morning, total_mm, share)
        wanted = stress[..., day] * full_use[..., day]
        used[..., day] = np.minimum(wanted, np.maximum(total_mm - morning, 0.0))
        before = morning + used[..., day]
        depletion[..., day] = before
    return Balance(depletion, used, drained, stress)


def litres(depth_mm: float, area_m2: float) -> float:
    """Give the litres that lay ``depth_mm`` of water on ``area_m2`` [l]: 1 mm on 1 m² is 1 l."""
    return depth_mm * area_m2
