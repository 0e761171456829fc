"""An invented garden, small enough to check by eye: five beds of the Torrenz schoolhouse."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from math import ceil, cos, pi, sin

from haulm.catalogue.caution_records import Caution
from haulm.catalogue.records import (
    Basis,
    Catalogue,
    Crop,
    Family,
    Figure,
    Food,
    Hardy,
    Kind,
    Labour,
    Method,
    SowingSeason,
    Stand,
    StoreKind,
    Warmth,
    Water,
)
from haulm.ground.records import Bed, Closure, Outline, Shape
from haulm.larder.records import StorePlace
from haulm.measure.findings import Finding, Grade
from haulm.measure.units import Units
from haulm.measure.weeks import horizon_from
from haulm.plan.records import (
    Bound,
    BrokenRule,
    Expects,
    Helping,
    HoursWeek,
    Lot,
    Pick,
    Plan,
    PlanBed,
    Planting,
    Ready,
    Serves,
    Shortage,
    SolverReport,
    TableWeek,
)
from haulm.planting.layout import lay_out
from haulm.planting.records import Layout, PatchLayout, Pattern, Piece, Row
from haulm.sheets.bundle import SheetBundle
from haulm.site.records import FrostOdds, Place, Soil

MADE_ON = date(2027, 4, 18)
HORIZON = horizon_from(MADE_ON)
Corners = tuple[tuple[float, float], ...]


def _figure(value: float, unit: str = "1") -> Figure:
    return Figure(value, unit, Basis.JUDGED)


@dataclass(frozen=True, slots=True)
class _Sort:
    """A kind in one line: id, names, family, spacing, depth, start, survival, food."""

    kind: str
    crop_name: str
    name: str
    family: str
    spacing_m: float
    depth_m: float
    method: str
    unit: str
    germination: float
    survival: float
    units_kg: float
    food: str
    cautions: tuple[str, ...] = ()


_SORTS = (
    _Sort("potato/maincrop", "Potatoes", "maincrop", "nightshades", 0.4, 0.12, "tubers", "tuber",
          0.95, 0.92, 16, "potatoes", ("green potatoes",)),
    _Sort("leek/winter", "Leeks", "winter", "alliums", 0.2, 0.015, "modules", "seed",
          0.8, 0.9, 380000, "leeks"),
    _Sort("celeriac/main", "Celeriac", "main", "umbels", 0.4, 0.002, "modules", "seed",
          0.7, 0.9, 2000000, "celeriac"),
    _Sort("cabbage/red", "Cabbage", "red, storing", "brassicas", 0.5, 0.015, "modules", "seed",
          0.85, 0.9, 250000, "cabbage"),
    _Sort("bean/french", "Beans", "French", "legumes", 0.15, 0.04, "direct", "seed",
          0.8, 0.85, 3000, "beans", ("raw beans",)),
    _Sort("lettuce/summer", "Lettuce", "summer", "daisies", 0.25, 0.005, "modules", "seed",
          0.85, 0.9, 800000, "lettuce"),
    _Sort("garlic/hard-necked", "Garlic", "hard-necked", "alliums", 0.15, 0.05, "cloves", "clove",
          0.95, 0.92, 150, "garlic"),
)  # fmt: skip

_FAMILIES = {
    "nightshades": ("Nightshades", "So"), "alliums": ("Onion tribe", "Al"),
    "umbels": ("Carrot tribe", "Um"), "brassicas": ("Cabbage tribe", "Br"),
    "legumes": ("Peas and beans", "Le"), "daisies": ("Lettuce tribe", "As"),
}  # fmt: skip


def catalogue() -> Catalogue:
    """Give the seven kinds of the schoolhouse."""
    kinds, crops, foods = {}, {}, {}
    for sort in _SORTS:
        crop = sort.kind.partition("/")[0]
        spacing = _figure(sort.spacing_m, "m")
        weeks = _figure(6, "weeks") if sort.method == "modules" else None
        method = Method(
            sort.method, sort.unit, _figure(1), _figure(sort.germination), _figure(sort.survival),
            weeks, _figure(sort.units_kg, "1/kg"),
        )  # fmt: skip
        kinds[sort.kind] = Kind(
            id=sort.kind, crop=crop, name=sort.name,
            stand=Stand(spacing, spacing, spacing, _figure(sort.depth_m, "m"), _figure(0.03, "m")),
            methods=(method,),
            warmth=Warmth(
                _figure(4, "°C"), _figure(30, "°C"), _figure(5, "°C"), _figure(20, "°C"),
                Hardy("made by hand"),
            ),
            season=SowingSeason(), phases=(), givings=(),
            labour=Labour(_figure(10), _figure(1), _figure(3)),
            water=Water(*(_figure(value) for value in (0.5, 0.5, 0.7, 1.05, 0.9))),
            feed="middle",
        )  # fmt: skip
        crops[crop] = Crop(crop, sort.crop_name, "", sort.family, sort.cautions)
        foods[sort.food] = Food(
            sort.food, sort.crop_name, crop, _figure(0.9), _figure(0.1, "kg"), "piece",
            _figure(0.3, "kg"), sort.cautions,
        )  # fmt: skip
    families = {
        key: Family(key, name, "", mark, _figure(4, "years"))
        for key, (name, mark) in _FAMILIES.items()
    }
    cautions = {
        "green potatoes": Caution(
            "green potatoes", "Keep potatoes dark; cut away green flesh and sprouts, and throw out "
            "what is green all through.", "the national food safety authority", None,
        ),
        "raw beans": Caution(
            "raw beans", "Never eat these beans raw: boil them hard before they are served.",
            "the national food safety authority", None,
        ),
    }  # fmt: skip
    return Catalogue(crops, kinds, foods, families, {}, cautions, {})


def circle(diameter_m: float, sides: int = 96) -> Outline:
    """Outline a round bed."""
    radius = diameter_m / 2
    turns = (2 * pi * side / sides for side in range(sides))
    corners = tuple((radius + radius * cos(turn), radius + radius * sin(turn)) for turn in turns)
    return Outline(Shape.CIRCLE, corners, pi * radius**2, diameter_m)


def rectangle(width: float, height: float, x: float = 0.0, y: float = 0.0) -> Corners:
    """Give a rectangle's corners [m]."""
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


L_CORNERS: Corners = ((0, 0), (6, 0), (6, 2), (2, 2), (2, 4.8), (0, 4.8))
TRIANGLE: Corners = ((0, 0), (5, 0), (1.5, 4))

BEDS = (
    Bed("atlas", "Atlas", Outline(Shape.RECTANGLE, rectangle(9, 4), 36)),
    Bed("set-square", "Set-square", Outline(Shape.CORNERS, L_CORNERS, 17.6)),
    Bed("easel", "Easel", Outline(Shape.CORNERS, TRIANGLE, 10)),
    Bed("inkwell", "Inkwell", circle(3.2)),
    Bed("ruler", "Ruler", Outline(Shape.RECTANGLE, rectangle(12, 1), 12)),
)


def planting(kind: str, number: int, bed: str, days: Sequence[str], **given: object) -> Planting:
    """Make a planting from its days: sown, set, early, middle, late ready, clear."""
    sort = next(sort for sort in _SORTS if sort.kind == kind)
    sow, set_on, early, middle, late, clear = (date.fromisoformat(day) for day in days)
    plants = int(str(given.get("plants", 20)))
    kg = float(str(given.get("kg", 10.0)))
    survival = sort.germination * sort.survival
    first, last = HORIZON.week_of(early), HORIZON.week_of(clear)
    return Planting(
        id=f"{kind.partition('/')[0]}-{number}", sowing=f"{kind}@{sow}", family=sort.family,
        crop=kind.partition("/")[0], kind=kind, method=sort.method, bed=bed, under_cover=False,
        area_m2=float(str(given.get("area_m2", 4.0))), plants=plants, stock=plants / survival,
        stock_unit=sort.unit, sow_on=sow, set_on=set_on, in_ground_from=set_on, clear_by=clear,
        from_week=HORIZON.week_of(set_on), until_week=last,
        tray_cells=ceil(plants / survival) if sort.method == "modules" else 0,
        tray_weeks=(HORIZON.week_of(sow), HORIZON.week_of(set_on)), minutes=(),
        expects=(Expects(sort.food, kg, kg * 0.78, kg * 1.27),),
        ready=(Ready(sort.food, early, middle, late),),
        picks=(Pick(sort.food, last, kg),),
        serves=(Serves(sort.food, sort.food, kg * 0.9, first, last + 12),),
        earliest_sowing=sow - timedelta(days=14), latest_sowing=sow + timedelta(days=20),
        earliest_rule="soil warmth", latest_rule="time left",
        sum=(f"{kg * 0.9:.1f} kg eaten / 0.90 kept = {kg:.1f} kg lifted",),
        bounds=(Bound("ground", f"No ground is free in {bed} in July.", "m²", 1.2),),
        standing=bool(given.get("standing")),
    )  # fmt: skip


_ROWS: tuple[tuple[Planting, Corners], ...] = (
    (planting("garlic/hard-necked", 1, "atlas",
              ("2026-11-02", "2026-11-02", "2027-06-24", "2027-07-02", "2027-07-12", "2027-07-14"),
              plants=300, kg=13, area_m2=6, standing=True), rectangle(1.5, 4)),
    (planting("potato/maincrop", 1, "atlas",
              ("2027-04-19", "2027-04-19", "2027-08-25", "2027-09-06", "2027-09-20", "2027-09-24"),
              plants=140, kg=90, area_m2=24), rectangle(6, 4, 1.5)),
    (planting("leek/winter", 1, "atlas",
              ("2027-04-20", "2027-07-15", "2027-11-02", "2027-11-20", "2027-12-06", "2028-04-10"),
              plants=140, kg=32, area_m2=6), rectangle(1.5, 4)),
    (planting("bean/french", 1, "atlas",
              ("2027-05-24", "2027-05-24", "2027-07-28", "2027-08-06", "2027-08-16", "2027-09-30"),
              plants=250, kg=14, area_m2=6), rectangle(1.5, 4, 7.5)),
    (planting("celeriac/main", 1, "set-square",
              ("2027-03-08", "2027-05-24", "2027-10-08", "2027-10-18", "2027-10-28", "2027-11-05"),
              plants=32, kg=13, area_m2=5.6), rectangle(2, 2.8, 0, 2)),
    (planting("cabbage/red", 1, "set-square",
              ("2027-04-26", "2027-06-07", "2027-10-15", "2027-10-25", "2027-11-04", "2027-11-10"),
              plants=46, kg=36, area_m2=12), rectangle(6, 2)),
    (planting("lettuce/summer", 1, "inkwell",
              ("2027-04-19", "2027-05-20", "2027-06-24", "2027-06-30", "2027-07-08", "2027-07-22"),
              plants=120, kg=24, area_m2=8.04), BEDS[3].outline.corners_m),
    (planting("cabbage/red", 2, "easel",
              ("2027-04-26", "2027-06-03", "2027-10-15", "2027-10-25", "2027-11-04", "2027-11-10"),
              plants=30, kg=25, area_m2=10), TRIANGLE),
    (planting("lettuce/summer", 2, "ruler",
              ("2027-04-26", "2027-05-20", "2027-06-24", "2027-06-30", "2027-07-08", "2027-07-22"),
              plants=40, kg=7, area_m2=3), rectangle(3, 1)),
    (planting("bean/french", 2, "ruler",
              ("2027-05-20", "2027-05-20", "2027-07-22", "2027-08-01", "2027-08-12", "2027-09-20"),
              plants=180, kg=9, area_m2=4), rectangle(4, 1, 3)),
    (planting("lettuce/summer", 3, "ruler",
              ("2027-07-01", "2027-07-26", "2027-08-28", "2027-09-03", "2027-09-11", "2027-09-27"),
              plants=12, kg=2, area_m2=0.8), rectangle(0.8, 1)),
    (planting("garlic/hard-necked", 2, "set-square",
              ("2027-11-15", "2027-11-15", "2028-06-24", "2028-07-02", "2028-07-12", "2028-07-14"),
              plants=450, kg=19, area_m2=11), rectangle(5.5, 2)),
    (planting("potato/maincrop", 2, "easel",
              ("2028-04-17", "2028-04-17", "2028-08-25", "2028-09-06", "2028-09-20", "2028-09-24"),
              plants=45, kg=30, area_m2=10), TRIANGLE),
)  # fmt: skip


def _celeriac_rows() -> Layout:
    """Give 7 rows 40 cm apart, now 5 holes and now 4 between them: 32 in all."""
    rows = []
    for number in range(7):
        half, holes = number % 2 == 1, 4 if number % 2 else 5
        first, y = (0.4 if half else 0.2), 2.2 + 0.4 * number
        stations = tuple((first + 0.4 * hole, y) for hole in range(holes))
        rows.append(Row(f"{number + 1}", y, first, 0.4, half_step=half, stations_m=stations))
    return Layout(Pattern.OFFSET, 0.4, 0.4, 0.2, 0.0, tuple(rows), 35)


@lru_cache(maxsize=1)
def _layouts() -> Mapping[str, tuple[PatchLayout, ...]]:
    by_bed: dict[str, tuple[PatchLayout, ...]] = {bed.id: () for bed in BEDS}
    for made, corners in _ROWS:
        bed = next(bed for bed in BEDS if bed.id == made.bed)
        spacing = next(sort.spacing_m for sort in _SORTS if sort.kind == made.kind)
        xs = [x for x, _ in corners]
        length = max(x for x, _ in bed.outline.corners_m)
        shares = (min(xs) / length, max(xs) / length)
        if bed.id == "set-square" and made.kind != "garlic/hard-necked":
            shares = (0, 12 / 17.6) if made.crop == "cabbage" else (12 / 17.6, 1)
        round_bed = bed.outline.diameter_m if bed.id == "inkwell" else None
        layout = (
            _celeriac_rows()
            if made.id == "celeriac-1"
            else lay_out(corners, spacing, spacing / 2, diameter_m=round_bed, most=made.plants)
        )
        piece = Piece(*shares, corners, layout)
        by_bed[bed.id] += (PatchLayout(made.id, made.area_m2, (piece,)),)
    return by_bed


def _table() -> tuple[tuple[TableWeek, ...], tuple[Helping, ...], tuple[Lot, ...]]:
    table, helpings = [], []
    eaten: list[tuple[int, float]] = []
    for week in range(HORIZON.weeks):
        season = cos(2 * pi * (week - 22) / 52)
        for line, wanted in (("potatoes", 2.5), ("leeks", 1.2), ("beans", 0.9)):
            fresh = wanted * max(0.0, min(1.0, 0.3 + 0.9 * season)) if line != "potatoes" else 0.0
            stored = wanted * 0.9 if line == "potatoes" and 20 <= week < 56 else 0.0
            table.append(TableWeek(line, week, wanted, fresh, stored, wanted - fresh - stored))
            if stored:
                helpings.append(Helping(line, line, week, stored, "potatoes-1"))
                eaten.append((week, stored))
    sound = tuple(max(0.0, 1 - 0.002 * age * age / 4) for age in range(45))
    lots = (
        Lot("potatoes-1", "potatoes", "potato/maincrop", "clamped", "cellar", 20, 100.0,
            tuple(eaten), 4.0, 52, 3.0, 100 - 4 - 3 - sum(kg for _, kg in eaten), sound, 1.6, 0.5),
        Lot("garlic-1", "garlic", "garlic/hard-necked", "cured", "loft", 13, 12.0,
            tuple((week, 0.25) for week in range(18, 44)), 3.0, 31, 0.0, 2.5, sound, 3.0, 2.0),
        Lot("beans-1", "beans", "bean/french", "frozen", "freezer", 16, 5.0,
            tuple((week, 0.2) for week in range(30, 50)), 0.0, None, 1.0, 0.0, (1.0,) * 60, 2.0, 9),
    )  # fmt: skip
    return tuple(table), tuple(helpings), lots


def plan() -> Plan:
    """Give the schoolhouse's plan."""
    table, helpings, lots = _table()
    beds = tuple(PlanBed(bed.id, bed.name, bed.outline.area_m2, under_cover=False) for bed in BEDS)
    return Plan(
        garden="The old schoolhouse", made_on=MADE_ON, horizon=HORIZON, beds=beds,
        plantings=tuple(made for made, _ in _ROWS), table=table, helpings=helpings, lots=lots,
        hours=tuple(HoursWeek(week, 5.0, 8.0) for week in range(HORIZON.weeks)),
        shortages=(Shortage("potatoes", 0, 19, 50.0, "Short 50 kg of potatoes until August."),),
        broken=(BrokenRule("rotation", "Easel", 2.0, "m²", 0.6, "Cabbage a year too soon."),),
        solver=SolverReport(100.0, 101.0, 0.0099, 0.02, 1.5, 8, "usual", 1),
        findings=(Finding("Ruler", "the rows are short.", "None needed.", Grade.NOTE),),
    )  # fmt: skip


FROST = FrostOdds(
    threshold_c=0.0, years=30, share_of_years_with_frost=1.0, odds=(0.1, 0.3, 0.5, 0.7, 0.9),
    last_spring=(130.0, 123.0, 118.0, 113.0, 104.0),
    first_autumn=(273.0, 280.0, 286.0, 292.0, 299.0),
    frost_free_days=168.0, how="counted in 30 invented years",
)  # fmt: skip


def bundle(units: Units = "metric", **changes: object) -> SheetBundle:
    """Gather the schoolhouse's sheets, with named parts changed."""
    whole = SheetBundle(
        plan=plan(), beds=BEDS, layouts=_layouts(), catalogue=catalogue(),
        lines={"potatoes": "Potatoes", "leeks": "Leeks", "beans": "Beans"},
        stores=(StorePlace("cellar", "Cellar", StoreKind.CELLAR, 400.0),),
        closures=(Closure("easel", "alliums", "white-rot", 2025, 2045, 2033, 2045),),
        frost=(FROST,), place=Place("Torrenz", 46.4, 11.0, 410.0, Soil.LOAM),
        stock_in_hand={"leek/winter": 50.0}, units=units, printed_on=date(2027, 4, 21),
        invented=True,
    )  # fmt: skip
    return replace(whole, **changes)  # type: ignore[arg-type]
