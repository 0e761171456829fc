"""The crop coefficient through the season."""

import numpy as np
from numpy.typing import NDArray

from haulm.water.records import CropStages


def crop_coefficient(stages: CropStages, day: NDArray[np.float64]) -> NDArray[np.float64]:
    """Give the crop coefficient, shape as ``day`` (counted from 1 at planting) [-].

    Flat at first, straight up, flat, straight to the end; outside the season it is not a number.
    Source: FAO-56, equation 66.
    """
    lengths = (stages.start_days, stages.growth_days, stages.middle_days, stages.late_days)
    heights = (stages.kc_start, stages.kc_start, stages.kc_middle, stages.kc_middle, stages.kc_end)
    turns = np.cumsum((0, *lengths))
    curve = np.interp(day, turns, heights)
    return np.where((day >= 1) & (day <= turns[-1]), curve, np.nan)
