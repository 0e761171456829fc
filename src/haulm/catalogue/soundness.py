"""What must hold across the catalogue's tables once each of them has been read."""

from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass

from haulm.catalogue.records import Catalogue, Crop, Figure, Food, Giving, Keeping, Kind, Role
from haulm.catalogue.stand import station_spacing
from haulm.catalogue.standing_soundness import standing_at_fault
from haulm.measure.findings import Finding
from haulm.measure.near import near_names

#: Fields that are a share of something: above 0 and at most 1.
SHARES = frozenset({"germination", "survival", "kitchen_share", "depletion_fraction", "share"})

#: Fields that may be 0 or below.
MAY_BE_NOTHING = frozenset(
    {
        "cure_weeks",
        "work_min_kg",
        "base_c",
        "killing_frost_c",
        "germination_min_c",
        "compost_m",
        "common_years",
        "published_years",
        "resting_frost_c",
        "rest_weeks",
        "after_days",
        "later_days",
    }
)

#: Shares given to three decimals may miss their sum by so much [1].
ROUNDING = 0.002

#: What a method starts from where it sows.
SEED = "seed"

FEEDS = ("light", "middle", "heavy")
SUN = ("full", "part", "shade")


def crossings(catalogue: Catalogue) -> tuple[Finding, ...]:
    """Find every place where the catalogue's tables do not agree with one another."""
    return (
        *_figures_at_fault(catalogue),
        *_crops_at_fault(catalogue),
        *_cautions_at_fault(catalogue),
        *_diseases_at_fault(catalogue),
        *_green_manures_at_fault(catalogue),
        *(finding for kind in catalogue.kinds.values() for finding in kind_at_fault(kind)),
        *_foods_at_fault(catalogue),
    )


def figures_of(record: object, where: str = "") -> Iterator[tuple[str, str, Figure]]:
    """Walk the figures of a record: where each stands, its field's name, and the figure itself."""
    if isinstance(record, tuple):
        for part in record:
            yield from figures_of(part, where)
        return
    if not is_dataclass(record):
        return
    name = next(
        (getattr(record, key) for key in ("id", "food", "form", "year") if hasattr(record, key)),
        "",
    )
    here = f"{where}, {name}" if where and name else where or str(name)
    for field in fields(record):
        value = getattr(record, field.name)
        if isinstance(value, Figure):
            yield here, field.name, value
        else:
            yield from figures_of(value, here)


def _figures_at_fault(catalogue: Catalogue) -> Iterator[Finding]:
    """Find figures with unknown sources or impossible values."""
    for table in (catalogue.kinds, catalogue.foods, catalogue.families, catalogue.diseases):
        for record in table.values():
            for where, name, figure in figures_of(record):
                yield from _figure_at_fault(catalogue, f"{where}, {name}", name, figure)


def _figure_at_fault(
    catalogue: Catalogue, where: str, name: str, figure: Figure
) -> Iterator[Finding]:
    """Find what is wrong with one figure."""
    for one in (figure, *figure.others):
        if one.source is not None and one.source not in catalogue.sources:
            yield _unknown(where, "source", one.source, catalogue.sources)
    if name in SHARES and not 0 < figure.value <= 1:
        yield Finding(where, f"{figure.value:g} is no share.", "Give it between 0 and 1.")
    elif name not in MAY_BE_NOTHING and figure.value <= 0:
        yield Finding(where, f"{figure.value:g} cannot be.", "Give it above 0.")


def _crops_at_fault(catalogue: Catalogue) -> Iterator[Finding]:
    """Find unknown families and cautions, and crops without kinds."""
    for crop in catalogue.crops.values():
        if crop.family not in catalogue.families:
            yield _unknown(f"{crop.id}, crop", "family", crop.family, catalogue.families)
        if not any(kind.crop == crop.id for kind in catalogue.kinds.values()):
            yield Finding(f"{crop.id}, kinds", "the crop has no kind.", "Add one.")
    things: tuple[Crop | Food, ...] = (*catalogue.crops.values(), *catalogue.foods.values())
    for thing in things:
        for caution in thing.cautions:
            if caution not in catalogue.cautions:
                yield _unknown(f"{thing.id}, cautions", "caution", caution, catalogue.cautions)


def _cautions_at_fault(catalogue: Catalogue) -> Iterator[Finding]:
    """Find cautions with unknown sources, foods or families."""
    for caution in catalogue.cautions.values():
        if caution.source is not None and caution.source not in catalogue.sources:
            yield _unknown(caution.id, "source", caution.source, catalogue.sources)
        for food in caution.foods:
            if food not in catalogue.foods:
                yield _unknown(f"{caution.id}, foods", "food", food, catalogue.foods)
        for family in caution.families:
            if family not in catalogue.families:
                yield _unknown(f"{caution.id}, families", "family", family, catalogue.families)


def _green_manures_at_fault(catalogue: Catalogue) -> Iterator[Finding]:
    """Find unknown sources of what green manures give back."""
    for kind in catalogue.kinds.values():
        source = kind.green_manure.source if kind.green_manure else None
        if source is not None and source not in catalogue.sources:
            yield _unknown(f"{kind.id}, green_manure", "source", source, catalogue.sources)


def _diseases_at_fault(catalogue: Catalogue) -> Iterator[Finding]:
    """Find diseases that close ground to unknown families or crops, to none, or to one twice."""
    for disease in catalogue.diseases.values():
        if not disease.closes and not disease.closes_crops:
            yield Finding(f"{disease.id}, closes", "it closes ground to nothing.", "Name a family.")
        for crop in disease.closes_crops:
            if crop not in catalogue.crops:
                yield _unknown(f"{disease.id}, closes_crops", "crop", crop, catalogue.crops)
            elif catalogue.crops[crop].family in disease.closes:
                what = f"{crop} is closed with its family already."
                yield Finding(f"{disease.id}, closes_crops", what, "Take it out.")
        for family in disease.closes:
            if family not in catalogue.families:
                yield _unknown(f"{disease.id}, closes", "family", family, catalogue.families)


def _foods_at_fault(catalogue: Catalogue) -> Iterator[Finding]:
    """Find unknown foods, foods of another crop, and foods that nothing gives."""
    given: set[str] = set()
    for kind in catalogue.kinds.values():
        for giving in kind.givings:
            given.add(giving.food)
            food = catalogue.foods.get(giving.food)
            if food is None:
                yield _unknown(f"{kind.id}, givings", "food", giving.food, catalogue.foods)
            elif food.crop != kind.crop:
                yield Finding(
                    f"{kind.id}, givings, {giving.food}",
                    f"that is a food of {food.crop}.",
                    "Give the crop's own.",
                )
    for food_id in sorted(set(catalogue.foods) - given):
        yield Finding(f"{food_id}, foods", "no kind gives this food.", "Add a giving.")


def kind_at_fault(kind: Kind) -> Iterator[Finding]:
    """Find what does not agree within one kind."""
    phases = {phase.id for phase in kind.phases}
    yield from _seed_at_fault(kind)
    if not kind.methods:
        yield Finding(f"{kind.id}, methods", "there is no way to start it.", "Add one.")
    mains = sum(giving.role is Role.MAIN for giving in kind.givings)
    if kind.green_manure is None and mains != 1:
        yield Finding(f"{kind.id}, givings", "exactly one must be the main food.", "Mark one.")
    yield from standing_at_fault(kind)
    for giving in kind.givings:
        if giving.after not in phases:
            yield _unknown(f"{kind.id}, {giving.food}, after", "phase", giving.after, phases)
        yield from _keeping_at_fault(kind, giving)
    if kind.feed not in FEEDS:
        yield _unknown(f"{kind.id}, feed", "feed", kind.feed, FEEDS)
    if kind.least_sun not in SUN:
        yield _unknown(f"{kind.id}, least_sun", "sun", kind.least_sun, SUN)
    yield from _stand_at_fault(kind)
    yield from _stages_at_fault(kind)
    for low, high in (("base_c", "upper_c"), ("germination_min_c", "germination_best_c")):
        if getattr(kind.warmth, low).value >= getattr(kind.warmth, high).value:
            yield Finding(f"{kind.id}, warmth", f"{low} is not below {high}.", "Correct them.")
    earliest, latest = kind.season.earliest_day_length_h, kind.season.latest_day_length_h
    if earliest is not None and latest is not None and earliest.value >= latest.value:
        yield Finding(
            f"{kind.id}, season", "the day lengths are out of order.", "Put the shorter first."
        )


def _stages_at_fault(kind: Kind) -> Iterator[Finding]:
    """Find a season whose stages are not all told, or do not make up the whole of it."""
    water = kind.water
    stages = (water.stage_initial, water.stage_growth, water.stage_middle, water.stage_late)
    told = [stage.value for stage in stages if stage is not None]
    if told and (len(told) < len(stages) or abs(sum(told) - 1) > ROUNDING):
        what = "the four stages of its season do not add up to 1."
        yield Finding(f"{kind.id}, water", what, "Give all four, as shares of the season.")


def _seed_at_fault(kind: Kind) -> Iterator[Finding]:
    """Find seed without a life in years, and planting stock with one that is no seed."""
    for method in kind.methods:
        where = f"{kind.id}, methods, {method.id}, seed_life_years"
        if method.unit == SEED and method.seed_life_years is None:
            remedy = 'Give it, or write { absent = "why nobody has it" }.'
            yield Finding(where, "nothing is said of how long seed lives.", remedy)
        elif method.unit != SEED and method.seed_life_years is not None:
            yield Finding(where, f"a {method.unit} is no seed.", "Take it out.")


def _stand_at_fault(kind: Kind) -> Iterator[Finding]:
    """Find stands whose distances contradict one another."""
    along, _ = station_spacing(kind.stand)
    if kind.stand.spacing_offset_m.value > along + 1e-9:
        yield Finding(
            f"{kind.id}, stand",
            "in rows this wide, stations stand nearer along the row than the offset spacing lets "
            "them.",
            "Make the offset spacing the spacing in the row, or the rows narrower.",
        )


def _keeping_at_fault(kind: Kind, giving: Giving) -> Iterator[Finding]:
    """Find keepings without a store or with a curve that grows."""
    for keeping in giving.keeping:
        where = f"{kind.id}, {giving.food}, {keeping.form}"
        if not keeping.stores:
            yield Finding(where, "it is kept nowhere.", "Name a store.")
        if _grows(keeping):
            yield Finding(
                where, "as much is sound later as sooner.", "The 50 % age must be the longer."
            )


def _grows(keeping: Keeping) -> bool:
    """Tell whether as much is sound later as sooner."""
    return keeping.sound_90_weeks.value >= keeping.sound_50_weeks.value


def _unknown(where: str, what: str, name: str, known: Iterable[str]) -> Finding:
    """Make the finding for a name that no table has."""
    near = near_names(name, known)
    remedy = f"Did you mean {', '.join(near)}?" if near else "Add it, or use a known one."
    return Finding(where, f"no {what} “{name}” is known.", remedy)
