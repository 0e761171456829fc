"""What the look-out is worked out from: plan, diary, what was told of the weather, and names."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from haulm.catalogue.records import Catalogue
from haulm.desk.season.watch_standing import DayKnown, OfPlanting
from haulm.growing.weather import GrowingWeather
from haulm.measure.units import Units
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan, Planting
from haulm.season.ahead import DayAhead, HourTold
from haulm.season.records import Entry
from haulm.season.watch_records import Stands, WatchMeans


@dataclass(frozen=True, slots=True, eq=False)
class Asking:
    """What the look-out is worked out from.

    Attributes
    ----------
    garden, catalogue, plan, names
        The garden, the plan that is kept, and display names by id.
    day
        The day that counts as today.
    entries
        What the diary says up to today.
    told
        What the diary tells of each planting.
    stands
        What stands today.
    ahead
        What was told of days, from three weeks before today on.
    hours
        Temperature and humidity by the hour, as told.
    known
        What is known of single days' weather.
    weather
        Runs of the season's weather, the known days in them.
    means
        The rules on blight and the fleece that are gone by.
    """

    garden: Garden
    catalogue: Catalogue
    plan: Plan
    names: Mapping[str, str]
    day: date
    entries: tuple[Entry, ...]
    told: Mapping[str, OfPlanting]
    stands: tuple[Stands, ...]
    ahead: tuple[DayAhead, ...]
    hours: tuple[HourTold, ...]
    known: tuple[DayKnown, ...]
    weather: GrowingWeather
    means: WatchMeans

    @property
    def units(self) -> Units:
        """Metric or us, as the garden says."""
        return self.garden.units

    def name(self, planting: Planting) -> str:
        """Give a planting's kind by name."""
        return self.names.get(planting.kind, planting.kind)

    def bed(self, bed: str) -> str:
        """Give a bed's name."""
        return self.names.get(bed, bed)

    def told_on(self, day: date) -> DayAhead | None:
        """Give what was told of one day; None where nothing was."""
        return next((one for one in self.ahead if one.day == day), None)


def day_words(day: date, today: date | None = None) -> str:
    """Write a day short: Tue 4 May; with its year where that is not today's."""
    year = f" {day.year}" if today is not None and day.year != today.year else ""
    return f"{day:%a} {day.day} {day:%b}{year}"
