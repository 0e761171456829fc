"""From the document as typed to the Garden that everything else works with."""

from collections.abc import Sequence
from dataclasses import replace

from haulm.ground.records import Bed
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import faults
from haulm.measure.units import parse_area_m2
from haulm.notebook.beds import beds_from, ph_from
from haulm.notebook.document import (
    GardenDocument,
    GardenPart,
    NormalsPart,
    PlacePart,
    Units,
)
from haulm.notebook.faults import Gathered
from haulm.notebook.faults import Place as Where
from haulm.notebook.garden import Garden
from haulm.notebook.holdings import (
    lots_from,
    prices_from,
    standing_from,
    stock_from,
    stores_from,
    tanks_from,
)
from haulm.notebook.noted import noted_from
from haulm.notebook.own import own_from
from haulm.notebook.settled import allotments_from, pins_from
from haulm.notebook.table_lines import household_from
from haulm.notebook.values import MONTHS
from haulm.notebook.watch_parts import watch_means_from
from haulm.notebook.watering import means_from, rules_from
from haulm.site.height import at_height
from haulm.site.known_frosts import with_known_frosts
from haulm.site.records import DailyRecord, KnownFrosts, MonthlyNormals, Place, Weather
from haulm.site.world import LIMITS, normals_at

USUAL_LEAST_PATCH_M2 = 0.5
HIGHEST_LATITUDE = 90
HIGHEST_LONGITUDE = 180
LOWEST_LAND_M = -430
HIGHEST_LAND_M = 8850
COLDEST_MEAN_C = -70
WARMEST_MEAN_C = 55
NO_WEATHER = MonthlyNormals("", (), (), ())
"""What stands for the weather where a fault keeps a garden from having any."""


def garden_from(
    document: GardenDocument,
    record: DailyRecord | None,
    gathered: Gathered,
) -> Garden:
    """Make the garden of a document; warnings are left in ``gathered``.

    Parameters
    ----------
    document
        The garden as typed.
    record
        The daily record that the document names, or None when it has normals.
    gathered
        Where findings go.

    Raises
    ------
    FaultsFoundError
        With every finding gathered, when a fault is among them.
    """
    part = document.garden
    own = own_from(document, gathered)
    place_ph = ph_from(("place", "ph"), document.place.ph, gathered)
    beds = beds_from(document.bed, gathered, place_ph)
    place = _place(document.place, part.name, gathered)
    household = household_from(document, gathered)
    stores = stores_from(document.store, gathered)
    lots = lots_from(document, gathered)
    standing = standing_from(document, beds, gathered)
    stock = stock_from(document, gathered)
    prices = prices_from(document.price, gathered)
    pins = pins_from(document, gathered)
    allotments = allotments_from(document, gathered)
    noted = noted_from(document, gathered)
    tanks = tanks_from(document.tank, gathered)
    watering = means_from(document, gathered)
    water_rules = rules_from(document, gathered)
    watch = watch_means_from(document.lookout, gathered)
    weather = _at_garden(document, place, _weather(document, record, gathered), gathered)
    kinds_wanted = _kinds_wanted(part, gathered)
    least_patch_m2 = gathered.above_nothing(
        ("garden", "least_patch"), part.least_patch, parse_area_m2
    )
    _check_today(part, gathered)
    gathered.stop_at_faults()
    least_m2 = USUAL_LEAST_PATCH_M2 if least_patch_m2 is None else least_patch_m2
    _warn_of_small_beds(beds, least_m2, gathered)
    return Garden(
        name=part.name,
        invented=bool(part.invented),
        units="us" if part.units is Units.US else "metric",
        place=place,
        weather=weather,
        household=household,
        beds=beds,
        stores=stores,
        lots=lots,
        standing=standing,
        stock=stock,
        prices=prices,
        kinds_wanted=kinds_wanted,
        tray_cells=part.tray_cells,
        least_patch_m2=least_m2,
        pins=pins,
        allotments=allotments,
        noted=noted,
        today=part.today,
        tanks=tanks,
        own=own,
        watering=watering,
        water_rules=water_rules,
        watch=watch,
    )


def _check_today(part: GardenPart, gathered: Gathered) -> None:
    """Refuse a day that counts as today where the garden is real: its plans would be misdated."""
    if part.today is not None and not part.invented:
        gathered.fault(
            ("garden", "today"),
            "only an invented garden may have a day that counts as today.",
            "Leave the day out, or mark the garden as invented.",
        )


def _warn_of_small_beds(beds: Sequence[Bed], least_m2: float, gathered: Gathered) -> None:
    """Warn of beds with less ground than the smallest patch: nothing is ever planned for them."""
    for number, bed in enumerate(beds):
        if bed.outline.area_m2 < least_m2:
            gathered.warn(
                ("bed", number),
                f"its {bed.outline.area_m2:.2g} m² are less than the smallest patch worth having "
                f"({least_m2:.2g} m²), so nothing will be planned for it.",
                "Give the garden a smaller one, as in 0.1 m².",
            )


def _kinds_wanted(part: GardenPart, gathered: Gathered) -> tuple[str, ...]:
    """Give the kinds to choose from, by the catalogue's ids."""
    return tuple(
        gathered.kind(("garden", "grow", number), kind) for number, kind in enumerate(part.grow)
    )


def _place(part: PlacePart, name: str, gathered: Gathered) -> Place:
    """Make the place; where on earth it cannot be is a fault."""
    if abs(part.latitude) > HIGHEST_LATITUDE:
        gathered.fault(
            ("place", "latitude"),
            f"{part.latitude:g}° is no latitude.",
            "Write degrees from -90 (south) to 90 (north).",
        )
    if abs(part.longitude) > HIGHEST_LONGITUDE:
        gathered.fault(
            ("place", "longitude"),
            f"{part.longitude:g}° is no longitude.",
            "Write degrees from -180 (west) to 180 (east).",
        )
    height_place = ("place", "height")
    height_m = None if part.height is None else gathered.length(height_place, part.height)
    if part.height is None:
        gathered.note(
            height_place,
            "the height above the sea is not given, so how far the garden lies above or below a "
            "weather station, and how much colder or warmer that makes it, is not known.",
        )
    if height_m is not None:
        _refuse_no_land(height_m, height_place, gathered)
    return Place(name, float(part.latitude), float(part.longitude), height_m, part.soil)


def _refuse_no_land(height_m: float, place: Where, gathered: Gathered) -> None:
    """Note a height at which there is no land."""
    if not LOWEST_LAND_M <= height_m <= HIGHEST_LAND_M:
        gathered.fault(
            place,
            f"no land lies at {height_m:g} m above the sea.",
            "Write the height above the sea with its unit.",
        )


def _weather(document: GardenDocument, record: DailyRecord | None, gathered: Gathered) -> Weather:
    """Give the record, the normals or the grid's, whichever was asked for; exactly one must be."""
    part = document.weather
    asked = {
        "a daily record": part.record is not None,
        "monthly normals": part.normals is not None,
        "the world's grid": bool(part.grid),
    }
    named = [name for name, given in asked.items() if given]
    if len(named) > 1:
        what = f"more than one weather is given: {' and '.join(named)}."
        gathered.fault(("weather",), what, "Keep one of them.")
    if not named:
        gathered.fault(
            ("weather",),
            "there is no weather.",
            "Give a daily record, monthly normals, or take the world's grid.",
        )
    if part.columns is not None and part.record is None:
        what = "columns are given, but no record."
        gathered.fault(("weather", "columns"), what, "Add the record, or leave the columns out.")
    if part.normals is not None:
        return _normals(part.normals, gathered)
    if part.grid and named == ["the world's grid"]:
        return _grid(document.place, gathered) or NO_WEATHER
    return record or NO_WEATHER


def _at_garden(
    document: GardenDocument, place: Place, weather: Weather, gathered: Gathered
) -> Weather:
    """Tell the weather for the garden's own height, and draw it to the frosts that are known."""
    height, read_at_m = document.weather.height, _read_at_m(document, weather, gathered)
    known = KnownFrosts(
        *(
            None if typed is None else gathered.day_of_year(("place", key), typed)
            for key, typed in (
                ("last_frost", document.place.last_frost),
                ("first_frost", document.place.first_frost),
            )
        )
    )
    if weather is NO_WEATHER or faults(gathered.findings):
        # Neither can be reckoned of weather or a place that is faulty itself.
        return weather
    if read_at_m is not None and place.height_m is not None:
        garden_m = place.height_m
        corrected = gathered.take(
            ("weather", "height"), lambda: at_height(weather, read_at_m, garden_m)
        )
        weather = corrected or weather
    elif height is not None:
        gathered.warn(
            ("place", "height"),
            "the weather's height is given, but not the garden's, so it is not corrected for.",
            "Add the garden's height above the sea.",
        )
    if known == KnownFrosts():
        return weather
    try:
        return with_known_frosts(weather, place, known)
    except FaultsFoundError as error:
        gathered.findings += [
            replace(one, where=gathered.where(one.place) if one.place else one.where)
            for one in error.findings
        ]
        return weather


def _read_at_m(document: GardenDocument, weather: Weather, gathered: Gathered) -> float | None:
    """Give the height that the weather is from [m]: as typed, or as the record itself says."""
    typed = document.weather.height
    if typed is None:
        return weather.height_m if isinstance(weather, DailyRecord) else None
    place = ("weather", "height")
    height_m = gathered.length(place, typed)
    if height_m is not None:
        _refuse_no_land(height_m, place, gathered)
    return height_m


def check_record(document: GardenDocument, gathered: Gathered, *, there: bool) -> None:
    """Note a daily record that a garden names and its notebook does not hold."""
    if document.weather.record is not None and not there:
        what = f"the daily record “{document.weather.record}” is not in the notebook."
        gathered.fault(("weather", "record"), what, "Load the record, or choose another weather.")


def _grid(place: PlacePart, gathered: Gathered) -> MonthlyNormals | None:
    """Take the normals of the world's grid, and say how far they can be trusted."""
    if abs(place.latitude) > HIGHEST_LATITUDE or abs(place.longitude) > HIGHEST_LONGITUDE:
        return None
    told = "" if place.last_frost else "tell your usual last frost, "
    remedy = f"Load or fetch a daily record, {told}or give monthly normals."
    gathered.warn(("weather", "grid"), LIMITS, remedy)
    return gathered.take(
        ("place", "latitude"), lambda: normals_at(float(place.latitude), float(place.longitude))
    )


def _normals(part: NormalsPart, gathered: Gathered) -> MonthlyNormals:
    """Make the normals; a minimum above its maximum is a fault."""
    tmin_c = _temperatures("tmin", part.tmin, gathered)
    tmax_c = _temperatures("tmax", part.tmax, gathered)
    for month in range(MONTHS):
        low, high = tmin_c[month], tmax_c[month]
        if low is not None and high is not None and low > high:
            gathered.fault(
                ("weather", "normals", "tmin", month),
                f"the minimum {low:g} °C is above the maximum {high:g} °C of that month.",
                "Swap them, or mend the one that is wrong.",
            )
    rain_mm = [
        gathered.rain(("weather", "normals", "rain", month), typed)
        for month, typed in enumerate(part.rain)
    ]
    return MonthlyNormals(
        "monthly normals given in the garden's file",
        tuple(value or 0.0 for value in tmin_c),
        tuple(value or 0.0 for value in tmax_c),
        tuple(value or 0.0 for value in rain_mm),
    )


def _temperatures(
    key: str, typed: Sequence[int | float | str], gathered: Gathered
) -> list[float | None]:
    """Read twelve temperatures [°C]; one beyond any month on earth is a fault."""
    temperatures = []
    for month, value in enumerate(typed):
        place = ("weather", "normals", key, month)
        read = gathered.temperature(place, value)
        if read is not None and not COLDEST_MEAN_C <= read <= WARMEST_MEAN_C:
            gathered.fault(
                place,
                f"no month on earth has a mean of {read:g} °C.",
                "Write °C, or °F with its unit, as in 55 F.",
            )
        temperatures.append(read)
    return temperatures
