"""The garden as typed: pydantic models that mirror ``garden.toml`` part by part.

Nothing is converted here, so whatever was typed can be given back: ``"12 ft"`` stays ``"12 ft"``.
What was not typed stays None; the defaults are applied when the document becomes a Garden.
"""

from datetime import date
from enum import StrEnum
from typing import Annotated

from pydantic import BeforeValidator

from haulm.catalogue.records import Form, StoreKind
from haulm.ground.records import Cover, Spot, Sun, Watered
from haulm.household.records import Wanted
from haulm.notebook.declaring import Part, key, part
from haulm.notebook.own_parts import OwnFigurePart, OwnKindPart, OwnPacePart
from haulm.notebook.settled_parts import AllotmentPart, NotedPart, PinPart
from haulm.notebook.values import (
    MONTHS,
    Corner,
    Count,
    Day,
    Number,
    Quantity,
    Text,
    Texts,
    TwelveNumbers,
    TwelveQuantities,
    Whole,
    Year,
    listed,
)
from haulm.notebook.watch_parts import LookoutPart
from haulm.notebook.water_parts import WateringPart, WaterRulePart
from haulm.site.records import Soil

_LISTED = BeforeValidator(listed, json_schema_input_type=Spot | tuple[Spot, ...])
Spots = Annotated[tuple[Spot, ...], _LISTED]


class Units(StrEnum):
    """How quantities are shown."""

    METRIC = "metric"
    US = "us"


class GardenPart(Part):
    """[garden]: what the garden is called and how it is run."""

    name: Text = key("What the garden is called.", "The old schoolhouse")
    invented: bool | None = key(
        "True for an example that is no real garden; said on every sheet. Default false.",
        example=True,
        default=None,
        strict=True,
    )
    units: Units | None = key(
        'How quantities are shown: "metric" (default) or "us".', "us", default=None
    )
    least_patch: Quantity | None = key(
        "The smallest patch worth having, an area. Default 0.5 m².", "0.5 m2", default=None
    )
    tray_cells: Count | None = key(
        "How many tray cells there is room for at one time. Not limited when left out.",
        400,
        default=None,
    )
    grow: Texts = key(
        "Kinds to choose from. Any kind that the table can use when left out.",
        ["garlic/hard-necked", "leek/winter"],
        default=(),
    )
    certainty: Number | None = key(
        "In how many years of ten what a plan promises is to hold, from 5 to 9.5. Plans are made "
        "of means when left out.",
        8,
        default=None,
    )
    today: Day | None = key(
        "The day that counts as today; for an invented garden only. The true day when left out.",
        date(2027, 2, 1),
        default=None,
    )


class PlacePart(Part):
    """[place]: where the garden lies."""

    latitude: Number = key("Degrees north of the equator; south is negative.", 46.4)
    longitude: Number = key("Degrees east of Greenwich; west is negative.", 8.9)
    height: Quantity | None = key(
        "Height above the sea, a length. Not known when left out.", "410 m", default=None
    )
    soil: Soil = key("The soil's class.", "loam")
    ph: Number | None = key(
        "The pH that the soil tested at, for beds without a test of their own.",
        6.3,
        default=None,
    )
    last_frost: Text | None = key(
        "The usual day of the last frost of spring, month and day; the weather is drawn to it.",
        "05-10",
        default=None,
    )
    first_frost: Text | None = key(
        "The usual day of the first frost of autumn, month and day.", "10-15", default=None
    )


class ColumnsPart(Part):
    """[weather.columns]: what the daily record's columns are called."""

    date: Text = key("The column of days, written 2027-01-31.", "date")
    tmin_c: Text | None = key("Daily minimum [°C].", "low", default=None)
    tmax_c: Text | None = key("Daily maximum [°C].", "high", default=None)
    rain_mm: Text | None = key("Daily rain [mm].", "rain", default=None)
    tmin_f: Text | None = key("Or the daily minimum [°F].", "low", default=None)
    tmax_f: Text | None = key("Or the daily maximum [°F].", "high", default=None)
    rain_in: Text | None = key("Or daily rain [inches].", "rain", default=None)


class NormalsPart(Part):
    """[weather.normals]: twelve monthly means each, January first."""

    tmin: TwelveQuantities = key(
        "Mean daily minimum of each month, a temperature.",
        [-4, -3, 0, 3, 7, 10, 12, 12, 8, 5, 0, -3],
    )
    tmax: TwelveQuantities = key(
        "Mean daily maximum of each month, a temperature.",
        [3, 5, 10, 14, 18, 22, 25, 24, 20, 14, 8, 4],
    )
    rain: TwelveQuantities = key(
        "Rain of each month, a depth.", [60, 58, 68, 82, 100, 100, 90, 100, 88, 82, 67, 55]
    )


class WeatherPart(Part):
    """[weather]: a daily record, twelve monthly normals, or the world's grid."""

    record: Text | None = key(
        "The daily record's file, from the folder of garden.toml.", "weather.csv", default=None
    )
    columns: ColumnsPart | None = key(
        "What the record's columns are called, where haulm does not recognise them.",
        {"date": "day", "tmin_c": "low", "tmax_c": "high", "rain_mm": "rain"},
        default=None,
    )
    normals: NormalsPart | None = key(
        "Monthly normals, where there is no record.",
        {"tmin": [8] * MONTHS, "tmax": [17] * MONTHS, "rain": ["60 mm"] * MONTHS},
        default=None,
    )
    grid: bool | None = key(
        "True to take the climate of the world's grid at the place, until there is a record or "
        "normals.",
        example=True,
        default=None,
        strict=True,
    )
    height: Quantity | None = key(
        "The height above the sea of the station or the grid's cell, a length, to tell "
        "temperatures for the garden's own. Not corrected for when left out.",
        "230 m",
        default=None,
    )


class EaterPart(Part):
    """[[eater]]: one who eats."""

    name: Text = key("The eater's name.", "Ada")
    age: Count | None = key("Age in years.", 9, default=None)
    portions: Number | None = key(
        "Portions counted against an adult's; from age when left out.", 0.7, default=None
    )


class AwayPart(Part):
    """[[away]]: days on which some or all are away."""

    first: Day = key("The first day away.", date(2027, 7, 31), alias="from")
    last: Day = key("The last day away.", date(2027, 8, 14), alias="to")
    who: Texts = key("Who is away; everybody when left out.", ["Ada"], default=())


class HoursPart(Part):
    """[hours]: the hours of work the household can give in a week."""

    every_week: Number | None = key("Hours a week, all year.", 8, default=None)
    by_month: TwelveNumbers | None = key(
        "Hours a week in each month, January first.",
        [2, 3, 6, 10, 12, 12, 10, 10, 10, 8, 4, 2],
        default=None,
    )


class TablePart(Part):
    """[[table]]: a food, or foods that stand in for one another, and how much of it is eaten."""

    eat: Texts = key("The food, or a list of foods that may serve.", "garlic", min_length=1)
    name: Text | None = key(
        "What to call the line; the foods' names when left out.", "potatoes", default=None
    )
    amount: Quantity | None = key(
        "What the whole household at home eats in a week, as lifted or bought; a weight.",
        "0.3 kg",
        default=None,
    )
    portions: Number | None = key("Or portions a week for each adult portion.", 2, default=None)
    first: Text | None = key(
        "The first day of the year it is wanted, month and day; all year when left out.",
        "09-15",
        alias="from",
        default=None,
    )
    last: Text | None = key(
        "The last day of the year it is wanted, month and day.",
        "06-30",
        alias="to",
        default=None,
    )
    wanted: Wanted | None = key("fresh, kept or either. Default either.", "fresh", default=None)
    priority: Whole | None = key(
        "1 (nice to have) to 5 (must not run short). Default 3.", 3, default=None
    )
    grow_share: Quantity | None = key(
        "The share of it the household wants to grow itself. Default all of it.",
        "80 %",
        default=None,
    )
    certainty: Number | None = key(
        "In how many years of ten what is promised of it is to hold, from 5 to 9.5. The garden's "
        "when left out.",
        9,
        default=None,
    )


class PastPart(Part):
    """An entry of a bed's past: what grew there."""

    crop: Text = key("The crop.", "potato")
    year: Year = key("The calendar year it was lifted in.", 2026)


class FoundPart(Part):
    """An entry of a bed's found: a soil-borne disease seen there."""

    disease: Text = key("The disease.", "clubroot")
    year: Year = key("The calendar year it was last seen.", 2025)


class BedPart(Part):
    """[[bed]]: one bed, by its sides, its diameter or its corners."""

    id: Text = key("A short word for the bed, used by the other parts.", "slate")
    name: Text | None = key("What it is called; the id when left out.", "Slate", default=None)
    width: Quantity | None = key("A rectangle's side from west to east.", "1.2 m", default=None)
    length: Quantity | None = key("A rectangle's side from south to north.", "12 m", default=None)
    diameter: Quantity | None = key("How far it is across a round bed.", "3.2 m", default=None)
    corners: tuple[Corner, ...] = key(
        "Corners in order round the bed, each as [east, north].",
        [[0, 0], [6, 0], [6, 2], [0, 2]],
        default=(),
    )
    cover: Cover | None = key("open, tunnel or glass. Default open.", "tunnel", default=None)
    sun: Sun | None = key(
        "full (six hours or more in summer), part (three to six) or shade. Default full. No kind "
        "is given a bed that gets less than it needs.",
        "full",
        default=None,
    )
    spot: Spots = key(
        "What makes its nights other than the garden's: frost hollow, warm wall, fleece. Nothing "
        "when left out.",
        ["frost hollow"],
        default=(),
    )
    soil: Soil | None = key("Its soil's class, where not the place's.", "sandy loam", default=None)
    ph: Number | None = key(
        "What its soil was tested at. The place's when left out.", 6.3, default=None
    )
    mulch: Quantity | None = key("The share under mulch. Default none.", "50 %", default=None)
    watered: Watered | None = key("By can, hose or drip. Default can.", "drip", default=None)
    past: tuple[PastPart, ...] = key(
        "What grew there in past years.", [{"crop": "potato", "year": 2026}], default=()
    )
    found: tuple[FoundPart, ...] = key(
        "Soil-borne diseases seen there.", [{"disease": "clubroot", "year": 2025}], default=()
    )


class StorePart(Part):
    """[[store]]: a place to keep food in."""

    id: Text = key("A short word for the store, used by the other parts.", "cellar")
    name: Text | None = key("What it is called; the id when left out.", "Cellar", default=None)
    kind: StoreKind = key("cellar, shed, freezer or shelf.", "cellar")
    room: Quantity | None = key(
        "Its room, a volume. Not limited when left out.", "400 l", default=None
    )
    jars: Count | None = key("Or how many jars there are.", 60, default=None)
    jar: Quantity | None = key("What one jar holds. Default 1 litre.", "1 l", default=None)
    racks: Quantity | None = key(
        "Its racks, lines and crates for curing, an area. Not told when left out.",
        "3 m2",
        default=None,
    )


class TankPart(Part):
    """[[tank]]: a tank that a roof's rain runs into."""

    name: Text = key("What it is called.", "Barn tank")
    roof: Quantity = key("The ground that its roof covers, an area.", "24 m2")
    holds: Quantity = key("What it holds, a volume.", "1000 l")
    caught: Quantity | None = key("The share of rain caught. Default 80 %.", "90 %", default=None)


class InStorePart(Part):
    """[[in_store]]: food that lies in store already."""

    food: Text = key("The food.", "garlic")
    kind: Text | None = key("Its kind, where known.", "garlic/soft-necked", default=None)
    form: Form = key("How it is kept.", "cured")
    place: Text = key("The id of the store it lies in.", "cellar")
    amount: Quantity = key("What was weighed, a weight.", "4 kg")
    put_by: Day = key("The day it was put by.", date(2026, 8, 20))


class StandingPart(Part):
    """[[standing]]: what stands in a bed now."""

    bed: Text = key("The bed's id.", "slate")
    kind: Text = key("The kind, as haulm crops lists it.", "garlic/hard-necked")
    method: Text = key("How it was started: by which of the kind's methods.", "cloves")
    started: Day = key("The day it was sown, set out or planted in the bed.", date(2026, 11, 2))
    area: Quantity = key("The ground it holds, an area.", "6 m2")


class StockPart(Part):
    """[[stock]]: seed, sets, cloves or tubers in hand."""

    kind: Text = key("The kind.", "leek/winter")
    units: Number = key("How many seeds, sets, cloves or tubers.", 400)
    year: Year = key("The calendar year they are from, or that a packet was packed for.", 2026)
    sprouted: Count | None = key("Seeds that sprouted of those tried.", 14, default=None)
    tried: Count | None = key("Seeds laid on damp paper to try them.", 20, default=None)
    tried_on: Day | None = key("The day they were tried.", date(2027, 1, 10), default=None)


class PricePart(Part):
    """[[price]]: a price the grower knows."""

    what: Text = key("A food (a price by the kilogram) or a kind (by the unit of stock).", "leek")
    each: Number = key("The price of one kilogram or unit.", 3.2)
    currency: Text = key("The currency.", "EUR")


class GardenDocument(Part):
    """All of garden.toml, as typed."""

    garden: GardenPart = part("The garden.")
    place: PlacePart = part("Its place.")
    weather: WeatherPart = part("Its weather.")
    hours: HoursPart | None = part("Hours of work a week.", default=None)
    eater: tuple[EaterPart, ...] = part("Who eats.", default=())
    away: tuple[AwayPart, ...] = part("Days away.", default=())
    table: tuple[TablePart, ...] = part("What is eaten.", default=())
    bed: tuple[BedPart, ...] = part("The beds.", default=())
    store: tuple[StorePart, ...] = part("Where food is kept.", default=())
    in_store: tuple[InStorePart, ...] = part("Food in store.", default=())
    standing: tuple[StandingPart, ...] = part("What stands.", default=())
    stock: tuple[StockPart, ...] = part("Planting stock in hand.", default=())
    price: tuple[PricePart, ...] = part("Prices known.", default=())
    pin: tuple[PinPart, ...] = part("What was settled by hand.", default=())
    allotment: tuple[AllotmentPart, ...] = part("Families to beds, year by year.", default=())
    noted: tuple[NotedPart, ...] = part("What went otherwise than planned.", default=())
    tank: tuple[TankPart, ...] = part("Rain tanks.", default=())
    watering: WateringPart | None = part("With what it is watered.", default=None)
    water_rule: tuple[WaterRulePart, ...] = part("Rules on watering.", default=())
    lookout: LookoutPart | None = part("What the look-out goes by.", default=None)
    own_kind: tuple[OwnKindPart, ...] = part("Kinds of your own.", default=())
    own_figure: tuple[OwnFigurePart, ...] = part("Figures of your own.", default=())
    own_pace: tuple[OwnPacePart, ...] = part("Your own pace at work.", default=())
