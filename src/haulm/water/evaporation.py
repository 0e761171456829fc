"""What the bare, wet top of the soil loses to the air, for one day."""

import math


def top_water_mm(field_capacity: float, wilting_point: float, depth_m: float) -> float:
    """Give the water that can leave the top layer by evaporation [mm]; FAO-56, equation 73."""
    return 1000 * (field_capacity - 0.5 * wilting_point) * depth_m


def highest_coefficient(
    wind_m_per_s: float, least_humidity_pct: float, height_m: float, basal: float
) -> float:
    """Give the most that soil and crop can lose, as a share of reference use [-].

    Source: FAO-56, equation 72.
    """
    air = 0.04 * (wind_m_per_s - 2) - 0.004 * (least_humidity_pct - 45)
    return max(1.2 + air * math.pow(height_m / 3, 0.3), basal + 0.05)


def soil_coefficient(highest: float, basal: float, drying: float, bare_wet_share: float) -> float:
    """Give the soil's evaporation coefficient [-]; FAO-56, equation 71.

    ``drying`` is 1 on wet soil and 0 on dry; ``bare_wet_share`` the ground both bare and wet.
    """
    return min(drying * (highest - basal), bare_wet_share * highest)
