"""What the water room hands on."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class SoilWater:
    """What a soil holds, as shares of its volume [m³/m³]: ``(lowest, highest)`` of its class."""

    name: str
    field_capacity: tuple[float, float]
    wilting_point: tuple[float, float]


@dataclass(frozen=True, slots=True)
class CropStages:
    """The four stages of a crop's season [days] and its coefficients at start, middle and end."""

    start_days: int
    growth_days: int
    middle_days: int
    late_days: int
    kc_start: float
    kc_middle: float
    kc_end: float


@dataclass(frozen=True, slots=True)
class Balance:
    """The root zone day by day; every array is shaped as the rain it was reckoned from [mm]."""

    depletion_mm: NDArray[np.float64]
    crop_use_mm: NDArray[np.float64]
    drained_mm: NDArray[np.float64]
    stress: NDArray[np.float64]
