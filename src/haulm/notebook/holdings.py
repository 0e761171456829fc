"""What is held, from garden.toml: stores, food in them, standing crops, stock, prices."""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from haulm.catalogue.records import StoreKind
from haulm.ground.records import Bed
from haulm.larder.records import LotInHand, StorePlace
from haulm.measure.units import parse_area_m2, parse_mass_kg, parse_volume_l
from haulm.notebook.document import (
    GardenDocument,
    PricePart,
    StockPart,
    StorePart,
    TankPart,
)
from haulm.notebook.faults import Gathered, Place
from haulm.notebook.garden import PlantingStock, Price, SeedTrial, StandingCrop
from haulm.notebook.names import KnownNames, one_of
from haulm.water.figures import water_figures
from haulm.water.records import Tank

_ROUNDING_M2 = 1e-6


def stores_from(parts: Sequence[StorePart], gathered: Gathered) -> tuple[StorePlace, ...]:
    """Make the stores; jars count by what one holds."""
    gathered.once_each("store", [part.id for part in parts])
    return tuple(
        StorePlace(
            part.id,
            part.name or part.id,
            part.kind,
            _capacity_l(part, number, gathered),
            gathered.above_nothing(("store", number, "racks"), part.racks, parse_area_m2),
        )
        for number, part in enumerate(parts)
    )


def _capacity_l(part: StorePart, number: int, gathered: Gathered) -> float | None:
    """Give a store's room [litres]; None where it was not limited."""
    place = ("store", number)
    if part.room is not None and part.jars is not None:
        gathered.fault(place, "both room and jars are given.", "Keep one of the two.")
    if part.jar is not None and part.jars is None:
        gathered.fault(
            (*place, "jars"), "the size of a jar is given, but not how many.", "Say how many."
        )
    room_l = gathered.above_nothing((*place, "room"), part.room, parse_volume_l)
    jar_l = gathered.above_nothing((*place, "jar"), part.jar, parse_volume_l)
    return room_l if part.jars is None else part.jars * (1.0 if jar_l is None else jar_l)


def tanks_from(parts: Sequence[TankPart], gathered: Gathered) -> tuple[Tank, ...]:
    """Make the rain tanks; the usual share of the rain is caught where none was told."""
    gathered.once_each("tank", [part.name for part in parts], "name")
    usual = water_figures().roof_share.value
    tanks = []
    for number, part in enumerate(parts):
        place = ("tank", number)
        roof_m2 = gathered.above_nothing((*place, "roof"), part.roof, parse_area_m2)
        holds_l = gathered.above_nothing((*place, "holds"), part.holds, parse_volume_l)
        caught = gathered.share((*place, "caught"), usual if part.caught is None else part.caught)
        tanks.append(Tank(part.name, roof_m2 or 0.0, holds_l or 0.0, caught))
    return tuple(tanks)


def lots_from(document: GardenDocument, gathered: Gathered) -> tuple[LotInHand, ...]:
    """Make the lots in hand; one that haulm knows no way to keep could not be counted on."""
    stores = {store.id: store.kind for store in document.store}
    lots = []
    for number, part in enumerate(document.in_store):
        place = ("in_store", number)
        food = gathered.food((*place, "food"), part.food)
        kind = part.kind and gathered.kind((*place, "kind"), part.kind)
        gathered.one_of_ours((*place, "place"), part.place, list(stores), "store")
        kg = gathered.above_nothing((*place, "amount"), part.amount, parse_mass_kg)
        lot = LotInHand(food, kind, part.form, part.place, kg or 0.0, part.put_by)
        if gathered.known is not None and part.place in stores:
            _check_way(lot, number, stores[part.place], gathered.known, gathered)
        lots.append(lot)
    return tuple(lots)


def _check_way(
    lot: LotInHand, number: int, store: StoreKind, known: KnownNames, gathered: Gathered
) -> None:
    """Note a lot whose kind does not give its food, or whose food does not keep that way."""
    foods = known.foods_of_kind.get(lot.kind) if lot.kind else None
    if foods is not None and lot.food not in foods:
        place = ("in_store", number, "kind")
        gathered.fault(place, f"{lot.kind} gives no {lot.food}.", one_of(sorted(foods)))
        return
    ways = [way for way in known.ways if way.food == lot.food and lot.kind in {None, way.kind}]
    if lot.food in known.foods.values() and not any(
        (way.form, way.store) == (lot.form, store) for way in ways
    ):
        ways_known = sorted({f"{way.form} (kind of store: {way.store})" for way in ways})
        gathered.fault(
            ("in_store", number),
            f"haulm knows no way to keep {lot.food} {lot.form} in a store of the kind {store}.",
            f"It knows: {', '.join(ways_known)}." if ways else "Leave it out: it is eaten fresh.",
        )


def standing_from(
    document: GardenDocument,
    beds: Sequence[Bed],
    gathered: Gathered,
) -> tuple[StandingCrop, ...]:
    """Make what stands now; together it must fit its bed."""
    ids = [bed.id for bed in document.bed]
    standing = []
    for number, part in enumerate(document.standing):
        place = ("standing", number)
        gathered.one_of_ours((*place, "bed"), part.bed, ids, "bed")
        kind = gathered.kind((*place, "kind"), part.kind)
        check_method((*place, "method"), (part.kind, part.method), gathered.methods(kind), gathered)
        area = gathered.above_nothing((*place, "area"), part.area, parse_area_m2)
        standing.append(StandingCrop(part.bed, kind, part.method, part.started, area or 0.0))
    _check_room(standing, {bed.id: bed.outline.area_m2 for bed in beds}, gathered)
    return tuple(standing)


def check_method(
    place: Place,
    typed: tuple[str, str],
    methods: frozenset[str] | None,
    gathered: Gathered,
) -> None:
    """Note a method that a kind is not started by; ``typed`` are the kind and the method."""
    kind, method = typed
    if methods is not None and method not in methods:
        gathered.fault(
            place,
            f"{kind} is not started by “{method}”.",
            one_of(sorted(methods)),
        )


def _check_room(
    standing: Sequence[StandingCrop], area_of_bed: Mapping[str, float], gathered: Gathered
) -> None:
    """Note each standing crop with which its bed holds more than it has ground for."""
    held: dict[str, float] = defaultdict(float)
    for number, crop in enumerate(standing):
        held[crop.bed] += crop.area_m2
        area_m2 = area_of_bed.get(crop.bed)
        if area_m2 is not None and held[crop.bed] > area_m2 + _ROUNDING_M2:
            gathered.fault(
                ("standing", number, "area"),
                f"{held[crop.bed]:.1f} m² would stand on {crop.bed}, which has {area_m2:.1f} m².",
                "Mend the areas standing there, or the bed's size.",
            )


def stock_from(document: GardenDocument, gathered: Gathered) -> tuple[PlantingStock, ...]:
    """Make the planting stock in hand."""
    stock = []
    for number, part in enumerate(document.stock):
        place = ("stock", number)
        kind = gathered.kind((*place, "kind"), part.kind)
        gathered.not_below_nothing((*place, "units"), part.units)
        tried = _trial(part, number, gathered)
        stock.append(PlantingStock(kind, float(part.units), part.year, tried))
    return tuple(stock)


def _trial(part: StockPart, number: int, gathered: Gathered) -> SeedTrial | None:
    """Make how seed was tried; it says how many sprouted, of how many, and when, or nothing."""
    place = ("stock", number)
    if part.sprouted is None and part.tried is None and part.tried_on is None:
        return None
    if part.sprouted is None or part.tried is None or part.tried_on is None:
        lacking = "sprouted" if part.sprouted is None else "tried" if part.tried is None else ""
        what = "the test does not say how many sprouted, of how many, and when."
        gathered.fault((*place, lacking or "tried_on"), what, "Give all three, or none.")
        return None
    if part.tried < 1 or part.sprouted > part.tried:
        what = f"{part.sprouted} cannot have sprouted of {part.tried}."
        gathered.fault((*place, "sprouted"), what, "Mend the one or the other.")
        return None
    if part.tried_on.year < part.year:
        what = f"they were tried before {part.year}, the year they are from."
        gathered.fault((*place, "tried_on"), what, "Mend the day or the year.")
        return None
    return SeedTrial(part.sprouted, part.tried, part.tried_on)


def prices_from(parts: Sequence[PricePart], gathered: Gathered) -> tuple[Price, ...]:
    """Make the prices known."""
    prices = []
    for number, part in enumerate(parts):
        place = ("price", number)
        what = gathered.food_or_kind((*place, "what"), part.what)
        gathered.not_below_nothing((*place, "each"), part.each)
        prices.append(Price(what, float(part.each), part.currency))
    return tuple(prices)
