"""The plain rule: so many days without rain, for those who keep no gauge and no record."""

from collections import defaultdict
from collections.abc import Iterable
from datetime import date, timedelta

import numpy as np

from haulm.desk.beds.bed_water import From, WaterWeather
from haulm.desk.beds.ground import is_covered
from haulm.desk.beds.water_today_records import DrySpell
from haulm.ground.records import Bed
from haulm.notebook.garden import Garden
from haulm.season.watered import WaterDiary
from haulm.site.records import Soil
from haulm.water.figures import water_figures

SANDY = frozenset({Soil.SAND, Soil.LOAMY_SAND, Soil.SANDY_LOAM})
CLAYEY = frozenset({Soil.SILTY_CLAY_LOAM, Soil.SILTY_CLAY, Soil.CLAY})


def dry_spell(
    garden: Garden,
    weather: WaterWeather,
    told: WaterDiary,
    day: date,
    planted: frozenset[str],
) -> DrySpell:
    """Count the days since it last rained well, as the grower says, or gauge and record.

    The grower's word is taken for all days since. Of gauge and record every day since must be
    known, for a day that nobody read may have been wet.

    Parameters
    ----------
    garden, weather
        The garden, and its weather up to the day.
    told
        What the diary tells: when it rained well, and when the gauge was read.
    day
        The day.
    planted
        Ids of the beds in which something stands.
    """
    gap = round(water_figures().gauge_days.value)
    kept = any(0 <= (day - one).days <= gap for one in told.gauge_mm)
    said = max((one for one in told.rained_on if one <= day), default=None)
    read, by = _read_rain(weather, day)
    last, who = (read, by) if read and (said is None or read > said) else (said, From.TOLD)
    if last is None:
        return DrySpell(None, None, None, kept, ())
    days = (day - last).days
    beds = [bed for bed in garden.beds if bed.id in planted and not is_covered(bed)]
    return DrySpell(last, days, who, kept, _over(beds, garden.place.soil, days))


def _read_rain(weather: WaterWeather, day: date) -> tuple[date | None, From | None]:
    """Find the last good rain of gauge or record since which every day is known."""
    good = water_figures().good_rain_mm.value
    for column in range(weather.column(day) - 1, -1, -1):
        source = From(int(weather.rain_from[column]))
        if source is From.DRAWN:
            return None, None
        if float(np.median(weather.climate.rain_mm[:, column])) >= good:
            return weather.seasons.first_day + timedelta(days=column), source
    return None, None


def dry_days_of(soil: str) -> int:
    """Give after how many days without rain the plain rule waters on a soil [d]."""
    figures = water_figures()
    if soil in SANDY:
        return round(figures.dry_days_sandy.value)
    return round((figures.dry_days_clayey if soil in CLAYEY else figures.dry_days_loamy).value)


def _over(beds: Iterable[Bed], soil: str, days: int) -> tuple[tuple[int, tuple[str, ...]], ...]:
    named: dict[int, list[str]] = defaultdict(list)
    for bed in beds:
        limit = dry_days_of(bed.soil or soil)
        if days >= limit:
            named[limit].append(bed.name)
    return tuple((limit, tuple(names)) for limit, names in sorted(named.items()))
