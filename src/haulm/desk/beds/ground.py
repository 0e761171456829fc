"""The ground as the planner asks for it: beds, closed ground, and what stands there."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from haulm.catalogue.records import Catalogue, Kind
from haulm.ground.closures import DiseaseClock, closure_sentence, closures, last_year_of_family
from haulm.ground.records import Bed, Closure, Cover, Sun
from haulm.growing.records import Sowing
from haulm.growing.remaining import still_to_come
from haulm.growing.sowings import standing_sowing
from haulm.growing.taking_turns import in_turn
from haulm.growing.weather import GrowingWeather
from haulm.measure.findings import Finding, Grade
from haulm.measure.weeks import Horizon
from haulm.notebook.garden import Garden, StandingCrop
from haulm.planner.question import BedGround, LastingStand, Standing
from haulm.planting.swaths import narrowest_swath_m

SUN_ORDER = (Sun.FULL, Sun.PART, Sun.SHADE)
"""From the most sun to the least."""


def family_of_crop(catalogue: Catalogue) -> Mapping[str, str]:
    """Give the family of every crop."""
    return {crop.id: crop.family for crop in catalogue.crops.values()}


def bed_grounds(garden: Garden, catalogue: Catalogue) -> tuple[BedGround, ...]:
    """Give every bed's size, cover and past as the planner needs them."""
    families = family_of_crop(catalogue)
    return tuple(
        BedGround(
            id=bed.id,
            name=bed.name,
            area_m2=bed.outline.area_m2,
            under_cover=is_covered(bed),
            last_year_of_family=last_year_of_family(bed, families),
            row_m=narrowest_swath_m(bed.outline),
        )
        for bed in garden.beds
    )


def is_covered(bed: Bed) -> bool:
    """Say whether a bed lies under a tunnel or glass."""
    return bed.cover is not Cover.OPEN


def too_dark(garden: Garden, kinds: Iterable[Kind]) -> frozenset[tuple[str, str]]:
    """Find every bed and kind of which the bed gets less sun than the kind needs."""
    return frozenset(
        (bed.id, kind.id)
        for bed in garden.beds
        for kind in kinds
        if SUN_ORDER.index(bed.sun) > SUN_ORDER.index(Sun(kind.least_sun))
    )


def closed_ground(garden: Garden, catalogue: Catalogue) -> tuple[Closure, ...]:
    """Find what disease keeps off each bed, and until when."""
    clocks = {
        disease.id: DiseaseClock(
            disease=disease.id,
            name=disease.name,
            closes=disease.closes,
            common_years=int(disease.common_years.value),
            published_years=int(disease.published_years.value),
            closes_crops=tuple(
                (crop, catalogue.crops[crop].family) for crop in disease.closes_crops
            ),
        )
        for disease in catalogue.diseases.values()
    }
    return closures(garden.beds, clocks)


def kept_off(closure: Closure, catalogue: Catalogue) -> str:
    """Name what a closure keeps off its bed: a family, or one crop."""
    if closure.crop is not None:
        return catalogue.crops[closure.crop].name
    return catalogue.families[closure.family].name


def closures_told(garden: Garden, catalogue: Catalogue) -> tuple[Finding, ...]:
    """Note what is kept off each bed and until when, by common advice and by published survival."""
    names = {bed.id: bed.name for bed in garden.beds}
    return tuple(
        Finding(
            where="closed ground",
            what=closure_sentence(
                closure,
                names[closure.bed],
                kept_off(closure, catalogue),
                catalogue.diseases[closure.disease].name,
            )
            + ".",
            grade=Grade.NOTE,
        )
        for closure in closed_ground(garden, catalogue)
    )


def _lasting(kind: Kind, planted_on: date, *, southern: bool) -> LastingStand | None:
    """Give what a stand that stays for years is re-added from; None for what does not."""
    if kind.perennial is None:
        return None
    return LastingStand(
        planted_on=planted_on,
        southern=southern,
        year_shares=tuple((one.number, one.share.value) for one in kind.perennial.years),
        full_kg_m2=tuple((given.food, given.yield_kg_m2.value) for given in kind.givings),
    )


def standing_plantings(
    garden: Garden, catalogue: Catalogue, weather: GrowingWeather, horizon: Horizon
) -> tuple[Standing, ...]:
    """Give what stands in the beds today, with what it will still give."""
    beds = {bed.id: bed for bed in garden.beds}
    families = family_of_crop(catalogue)
    standing = []
    for stand in garden.standing:
        kind = catalogue.kinds[stand.kind]
        method = next(method for method in kind.methods if method.id == stand.method)
        sowing = standing_sowing(
            kind,
            families[kind.crop],
            method,
            stand.sown_on + timedelta(days=stand.late_days),
            is_covered(beds[stand.bed]),
            weather,
            horizon,
        )
        lasting = _lasting(kind, stand.sown_on, southern=garden.place.southern)
        so_far = (stand.taken, stand.hoped, stand.late_days)
        if so_far != ((), 1.0, 0):
            sowing = _so_far(sowing, stand)
        standing.append(Standing(sowing, stand.bed, stand.area_m2, lasting, *so_far))
    return _in_turn(standing, beds)


def _in_turn(standing: Sequence[Standing], beds: Mapping[str, Bed]) -> tuple[Standing, ...]:
    """Clear what stands in time for what is to follow on in its bed."""
    ended: dict[int, Sowing] = {}
    for bed in beds.values():
        here = [number for number, stand in enumerate(standing) if stand.bed == bed.id]
        held = [(standing[number].sowing, standing[number].area_m2) for number in here]
        ended |= zip(here, in_turn(held, bed.outline.area_m2), strict=True)
    return tuple(replace(stand, sowing=ended[number]) for number, stand in enumerate(standing))


def _so_far(sowing: Sowing, stand: StandingCrop) -> Sowing:
    """Give what a planting still gives, by the days it was started on and under an id of its own.

    Two plantings of one sowing may have fared differently, so the bed belongs to the id.
    """
    late = timedelta(days=stand.late_days)
    left = still_to_come(sowing, stand.area_m2, dict(stand.taken), stand.hoped)
    return replace(
        left,
        id=f"{sowing.id}:{stand.bed}",
        sow_on=sowing.sow_on - late,
        set_on=sowing.set_on - late,
    )
