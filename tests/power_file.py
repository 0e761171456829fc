"""A daily file in the documented shape of the POWER service, with invented weather."""

from collections.abc import Sequence
from datetime import date, timedelta
from math import cos, pi

HEADER = """-BEGIN HEADER-
NASA/POWER CERES/MERRA2 Native Resolution Daily Data 
Dates (month/day/year): {first:%m/%d/%Y} through {last:%m/%d/%Y} 
Location: Latitude  46.4   Longitude 8.9 
Elevation from MERRA-2: Average for 0.5 x 0.625 degree lat/lon region = 1228.15 meters
The value for missing source data that cannot be computed or is outside of the sources availability range: -999 
Parameter(s): 
T2M_MIN         MERRA-2 Temperature at 2 Meters Minimum (C) 
T2M_MAX         MERRA-2 Temperature at 2 Meters Maximum (C) 
PRECTOTCORR     MERRA-2 Precipitation Corrected (mm/day) 
-END HEADER-
"""  # noqa: E501, W291


def power_file(
    first: date, days: int, missing: Sequence[int] = (), *, by_day_of_year: bool = False
) -> str:
    """Write so many days from the first on; the days numbered as missing hold -999."""
    last = first + timedelta(days=days - 1)
    lines = ["YEAR,DOY,T2M_MIN,T2M_MAX,PRECTOTCORR"] if by_day_of_year else []
    lines = lines or ["YEAR,MO,DY,T2M_MIN,T2M_MAX,PRECTOTCORR"]
    for number in range(days):
        day = first + timedelta(days=number)
        doy = day.timetuple().tm_yday
        warmth = 8.0 - 10.0 * cos(2 * pi * (doy - 15) / 365)
        values = (
            ("-999.0",) * 3
            if number in missing
            else (f"{warmth - 5:.2f}", f"{warmth + 5:.2f}", f"{number % 4:.2f}")
        )
        when = (day.year, doy) if by_day_of_year else (day.year, day.month, day.day)
        lines.append(",".join(map(str, (*when, *values))))
    return HEADER.format(first=first, last=last) + "\n".join(lines) + "\n"
