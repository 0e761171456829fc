"""Kinds made up for the growing tests, and weather simple enough to reckon by hand."""

from datetime import date

import numpy as np

from haulm.catalogue.records import (
    Basis,
    Figure,
    Form,
    Giving,
    Hardy,
    Keeping,
    Kind,
    Labour,
    Method,
    Phase,
    PhaseRule,
    Picking,
    Role,
    SowingSeason,
    Stand,
    StoreKind,
    Warmth,
    Water,
)
from haulm.growing.weather import GrowingWeather, growing_weather
from haulm.measure.weeks import Horizon
from haulm.site.records import Place, Seasons, Soil

HORIZON = Horizon(date(2026, 1, 5), 104)
WEEKS_BEFORE = 60
DAYS = 7 * (60 + 104 + 60)


def figure(value: float, unit: str = "1") -> Figure:
    """Make a judged figure."""
    return Figure(value, unit, Basis.JUDGED)


STAND = Stand(
    spacing_in_row_m=figure(0.1, "m"),
    spacing_between_rows_m=figure(0.25, "m"),
    spacing_offset_m=figure(0.15, "m"),
    depth_m=figure(0.05, "m"),
    compost_m=figure(0.03, "m"),
)
LABOUR = Labour(
    start_min_m2=figure(10, "min/m²"),
    tend_min_m2_week=figure(1, "min/m²"),
    pick_min_kg=figure(6, "min/kg"),
)
WATER = Water(figure(0.5), figure(0.4), figure(0.7), figure(1.0), figure(0.8))
KEEPING = Keeping(
    form=Form.CURED,
    stores=(StoreKind.SHED,),
    cure_weeks=figure(4, "weeks"),
    sound_90_weeks=figure(20, "weeks"),
    sound_50_weeks=figure(30, "weeks"),
    space_l_kg=figure(3, "litres/kg"),
    work_min_kg=figure(5, "min/kg"),
    conditions="cool and dry",
)


def method(id_: str = "direct", module_weeks: float | None = None) -> Method:
    """Make a method losing one unit in five on coming up and one in ten after."""
    return Method(
        id=id_,
        unit="seed",
        units_per_station=figure(2),
        germination=figure(0.8),
        survival=figure(0.9),
        module_weeks=None if module_weeks is None else figure(module_weeks, "weeks"),
        units_per_kg=figure(5000, "1/kg"),
    )


def warmth(base_c: float, germination_min_c: float, killing_frost_c: float | None) -> Warmth:
    """Make what a kind needs of warmth."""
    return Warmth(
        base_c=figure(base_c, "°C"),
        upper_c=figure(30, "°C"),
        germination_min_c=figure(germination_min_c, "°C"),
        germination_best_c=figure(20, "°C"),
        killing_frost_c=Hardy("made by hand")
        if killing_frost_c is None
        else figure(killing_frost_c, "°C"),
    )


def giving(food: str, after: str, picking: Picking, span_weeks: float) -> Giving:
    """Make a main food of two kilograms a square metre."""
    return Giving(
        food=food,
        role=Role.MAIN,
        after=after,
        picking=picking,
        span_weeks=figure(span_weeks, "weeks"),
        yield_kg_m2=Figure(2.0, "kg/m²", Basis.JUDGED, low=1.2, high=3.0),
    )


def degree_days(id_: str, amount: float) -> Phase:
    """Make a phase that ends by warmth."""
    return Phase(id_, PhaseRule.DEGREE_DAYS, figure(amount, "°C d"))


def kind(
    id_: str,
    needs: Warmth,
    phases: tuple[Phase, ...],
    givings: tuple[Giving, ...],
    methods: tuple[Method, ...] = (),
    season: SowingSeason | None = None,
) -> Kind:
    """Make a kind on the common stand."""
    return Kind(
        id=id_,
        crop=id_.partition("/")[0],
        name=id_.partition("/")[2],
        stand=STAND,
        methods=methods or (method(),),
        warmth=needs,
        season=season or SowingSeason(),
        phases=phases,
        givings=givings,
        labour=LABOUR,
        water=WATER,
        feed="middle",
        likes_cover=True,
    )


BEAN = kind(
    "bean/dwarf",
    warmth(8, 12, -0.5),
    (degree_days("up", 70), degree_days("picking", 350)),
    (giving("green-beans", "picking", Picking.SPREAD, 6),),
    (method(), method("modules", 3)),
)
SALAD = kind(
    "salad/quick",
    warmth(4, 5, -6),
    (degree_days("up", 60), degree_days("ready", 400)),
    (giving("leaves", "ready", Picking.SPREAD, 3),),
)
ROOT = kind(
    "root/winter",
    warmth(4, 5, None),
    (degree_days("up", 100), degree_days("ready", 1200)),
    (giving("roots", "ready", Picking.STAND, 20),),
    season=SowingSeason(bolt_day_length_h=figure(13.5, "h")),
)
KINDS = (BEAN, SALAD, ROOT)


def place(latitude_deg: float = 47.0) -> Place:
    """Make an invented place."""
    return Place("Torrenz", latitude_deg, 9.0, 400.0, Soil.LOAM)


def yearly_wave(mean_c: float, swing_c: float, *, runs: int = 20, seed: int = 3) -> Seasons:
    """Make runs of weather on a yearly wave, coldest in mid-January, each day off it by chance.

    Minimum and maximum lie 4 °C either side of the day's mean.
    """
    first = date.fromordinal(HORIZON.first_day.toordinal() - 7 * WEEKS_BEFORE)
    days = np.arange(DAYS) + first.timetuple().tm_yday
    wave = mean_c - swing_c * np.cos(2 * np.pi * (days - 15) / 365.25)
    drawn = np.random.default_rng(seed).normal(0, 2, (runs, DAYS))
    mean = wave + drawn
    return Seasons("a yearly wave", first, mean - 4, mean + 4, np.zeros((runs, DAYS)))


def wave_weather(
    mean_c: float = 9.0, swing_c: float = 9.0, latitude_deg: float = 47.0
) -> GrowingWeather:
    """Make the growing weather of a yearly wave."""
    return growing_weather(yearly_wave(mean_c, swing_c), place(latitude_deg))
