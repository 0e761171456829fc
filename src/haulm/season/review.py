"""The review: what a plan had meant for a span of weeks, against what came of it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from haulm.measure.findings import Finding
from haulm.plan.records import Plan
from haulm.season.records import STARTED, Entry, EntryKind, Measured, Purpose
from haulm.season.review_books import Books, keep_books
from haulm.season.review_causes import Fared, fared, foods_of, parted, planned_kg
from haulm.season.review_foods import foods_through
from haulm.season.review_picked import pickings
from haulm.season.review_records import BedReview, Picked, PlantingReview, Review, Season
from haulm.season.review_table import lines_through

MINUTES_AN_HOUR = 60


def review(season: Season) -> Review:
    """Hold what came against the plan.

    A figure is None where nobody wrote of it: what is absent from a diary is not nought. What was
    picked and neither put by, given nor thrown counts as eaten fresh.
    """
    told: list[Finding] = []
    picked = pickings(season, told)
    here = tuple(entry for entry in season.entries if season.span.holds(entry.day))
    books = keep_books(season, picked, here)
    all_fared = fared(season)
    plantings = _plantings(season, all_fared, picked)
    minutes = [entry.minutes for entry in here if entry.minutes is not None]
    return Review(
        span=season.span,
        foods=foods_through(season, picked, books),
        beds=_beds(season, plantings, picked, here),
        plantings=plantings,
        lines=lines_through(
            season, books.fresh_kg, books.stored_kg, _unwritten(season, picked, books)
        ),
        parted=parted(season, all_fared, picked),
        asked_h=sum(hours.asked_h for hours in season.plan.hours if season.span.has(hours.week)),
        told_h=sum(minutes) / MINUTES_AN_HOUR if minutes else None,
        water_l=_water_l(here, season.plan),
        covered_share=_covered(plantings),
        picked=picked,
        told=tuple(told),
    )


def _unwritten(
    season: Season, picked: Sequence[Picked], books: Books
) -> Mapping[str, frozenset[int]]:
    """Give by food the weeks in which some may have been eaten that nobody wrote of.

    That is wherever the plan was to eat it fresh and not one picking of it was written, and
    wherever it lay in store, or was to, and nobody ever wrote that any was eaten from there.
    """
    span = season.span
    weeks: dict[str, set[int]] = defaultdict(set)
    written = {one.food for one in picked}
    eaten = {out.food for out in books.from_store if out.kind is EntryKind.EATEN}
    for helping in season.plan.helpings:
        silent = helping.food not in (written if helping.lot is None else eaten)
        if silent and span.has(helping.week):
            weeks[helping.food].add(helping.week)
    for lot in season.closing.lots:
        if lot.purpose is Purpose.EAT and lot.food not in eaten:
            weeks[lot.food].update(
                range(max(span.first_week, span.horizon.week_of(lot.put_by)), span.until_week)
            )
    return {food: frozenset(of) for food, of in weeks.items()}


def _of_span(one: Fared, season: Season) -> bool:
    """Say whether a planting was to be begun or picked in the span."""
    begun = not one.planting.standing and season.span.holds(one.planting.sow_on)
    return begun or bool(foods_of(one.planting, season))


def _plantings(
    season: Season, all_fared: Sequence[Fared], picked: Sequence[Picked]
) -> tuple[PlantingReview, ...]:
    by_key: dict[str, list[Picked]] = defaultdict(list)
    for one in picked:
        by_key[one.key].append(one)
    return tuple(
        _planting(one, season, by_key[one.key]) for one in all_fared if _of_span(one, season)
    )


def _planting(one: Fared, season: Season, mine: Sequence[Picked]) -> PlantingReview:
    begun = [entry.day for entry in one.entries if entry.kind in STARTED]
    ended = ""
    if one.gone is not None:
        troubles = [e.about.trouble for e in one.entries if e.kind is EntryKind.TROUBLE]
        ended = next((name for name in troubles if name), one.gone.what.value)
    return PlantingReview(
        planting=one.planting,
        written=bool(one.entries or mine or one.gone),
        started_on=begun[0] if begun else None,
        first_picked_on=min((each.day for each in mine), default=None),
        area_m2=one.area_m2,
        planned_kg=sum(
            planned_kg(one.planting, food, season) for food in foods_of(one.planting, season)
        ),
        picked_kg=sum(each.kg for each in mine) if mine else None,
        shared=any(each.shared for each in mine),
        ended=ended,
    )


def _beds(
    season: Season,
    plantings: Sequence[PlantingReview],
    picked: Sequence[Picked],
    entries: Sequence[Entry],
) -> tuple[BedReview, ...]:
    found = []
    for bed in season.plan.beds:
        mine = [one for one in plantings if one.planting.bed == bed.id]
        kg = [one.kg for one in picked if one.bed == bed.id]
        here = [entry for entry in entries if bed_of_entry(entry) == bed.id]
        minutes = [entry.minutes for entry in here if entry.minutes is not None]
        found.append(
            BedReview(
                bed=bed.id,
                planned_kg=sum(one.planned_kg for one in mine),
                picked_kg=sum(kg) if kg else None,
                water_l=_water_l(here, season.plan),
                minutes=sum(minutes) if minutes else None,
                plantings=len(mine),
                written_of=sum(one.written for one in mine),
            )
        )
    return tuple(found)


def bed_of_entry(entry: Entry) -> str:
    """Name the bed that an entry is of; empty where it tells none."""
    return entry.about.bed or (entry.about.planting or "").rpartition("@")[2]


def _water_l(entries: Iterable[Entry], plan: Plan) -> float | None:
    """Add up the water that was given [l]; None where none was told in litres or millimetres."""
    area_m2 = {bed.id: bed.area_m2 for bed in plan.beds}
    litres = []
    for entry in entries:
        if entry.kind is not EntryKind.WATERED or entry.amount is None:
            continue
        bed = bed_of_entry(entry)
        if entry.amount.measured is Measured.LITRES:
            litres.append(entry.amount.number)
        elif entry.amount.measured is Measured.MILLIMETRES and bed in area_m2:
            litres.append(entry.amount.number * area_m2[bed])
    return sum(litres) if litres else None


def _covered(plantings: Sequence[PlantingReview]) -> float:
    whole = sum(one.planned_kg for one in plantings)
    return sum(one.planned_kg for one in plantings if one.written) / whole if whole > 0 else 0.0
