"""Lay out several years: which family stands in which bed, what rests break, and what they cost."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path

from haulm.catalogue.records import Catalogue
from haulm.desk.beds.ground import closed_ground
from haulm.desk.beds.rotation_stands import held_ground, stand_choices
from haulm.desk.garden.editing import Change, change_garden, mark_of, parts_of
from haulm.desk.garden.opening import Opened, open_garden
from haulm.desk.planning.plans import asked_now
from haulm.desk.planning.question import Asked
from haulm.growing.green_manures import cover_starts
from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding, Grade
from haulm.plan.pins import Pin
from haulm.plan.records import Plan
from haulm.planner.make import make_plan
from haulm.planner.question import PlanQuestion, Watcher
from haulm.planner.question import Progress as PlanProgress
from haulm.planner.solve import EFFORTS
from haulm.rotation.make import make_rotation
from haulm.rotation.needs import PlanFacts, family_needs
from haulm.rotation.records import (
    LEAST_YEARS,
    MOST_YEARS,
    CoverChoice,
    Rotation,
    RotationBed,
    RotationPrices,
    RotationQuestion,
)
from haulm.rotation.seasons import QUARTERS, touched

MIDSUMMER_MONTH = 6
"""A rotation asked for after this month begins with the year that follows."""
USUAL_YEARS = 4
PLANNED_SHARE = 0.4
"""The share of the work that is done once the plan it rests on is made [1]."""


@dataclass(frozen=True, slots=True)
class YearsLaid:
    """A rotation with the question it answers, the catalogue it rests on, and what was noticed."""

    rotation: Rotation
    question: RotationQuestion
    catalogue: Catalogue
    findings: tuple[Finding, ...]


def rotation_of(
    path: Path, day: date, years: int, seed: int = 1, watch: Watcher | None = None
) -> YearsLaid:
    """Lay out several years of a garden, in a notebook or garden.toml.

    Raises
    ------
    FaultsFoundError
        When the number of years is out of bounds, or the garden has faults.
    AuditFailedError
        When the rotation does not survive its independent re-adding.
    """
    years_within(years)
    opened = open_garden(path)
    asked = asked_now(opened, day, seed)
    return lay_out_years(opened, asked, years, watch)


def lay_out_years(
    opened: Opened, asked: Asked, years: int, watch: Watcher | None = None
) -> YearsLaid:
    """Lay out several years, the planner's question being put already.

    What families take in a year is read from a plan made for this alone, in which rests and closed
    beds count for nothing: it is what the table would take of this ground.
    """
    years_within(years)
    plan = make_plan(free_question(asked.question), EFFORTS["quick"], watch)
    question = rotation_question(opened, asked, plan, years)
    rotation = make_rotation(question, _passed_on(watch))
    return YearsLaid(
        rotation, question, opened.catalogue, (*opened.findings, *_found(question, rotation))
    )


def years_within(years: int) -> None:
    """Refuse a number of years that no rotation has.

    Raises
    ------
    FaultsFoundError
        When it is out of bounds.
    """
    if not LEAST_YEARS <= years <= MOST_YEARS:
        what = f"{years} years are too {'few' if years < LEAST_YEARS else 'many'} for a rotation."
        remedy = f"Ask for {LEAST_YEARS} to {MOST_YEARS}."
        raise FaultsFoundError([Finding("years", what, remedy)])


def free_question(question: PlanQuestion) -> PlanQuestion:
    """Ask what the table would take of this ground, were no bed to remember anything."""
    pins = tuple(pin for pin in question.pins if not _bound(pin))
    prices = replace(question.prices, rotation_m2=0.0)
    return replace(question, pins=pins, closures=(), before=(), allotments=(), prices=prices)


def _bound(pin: Pin) -> bool:
    """Say whether a pin speaks of beds or of one year's weeks."""
    told = (pin.bed, pin.sow_on, pin.year, *pin.beds, pin.apart_from)
    return any(one is not None for one in told)


def rotation_question(opened: Opened, asked: Asked, plan: Plan, years: int) -> RotationQuestion:
    """Put the question of several years, what they take read from a plan."""
    garden, catalogue, question = opened.garden, opened.catalogue, asked.question
    weight = question.prices.priority_weight
    closures = closed_ground(garden, catalogue)
    lasting = frozenset(kind.id for kind in catalogue.kinds.values() if kind.perennial is not None)
    first_year = question.made_on.year + (question.made_on.month > MIDSUMMER_MONTH)
    facts = PlanFacts(
        line_weight={one.line: weight[one.priority - 1] for one in question.appetites},
        crops_apart=frozenset(c.crop for c in closures if c.crop is not None),
        too_dark=question.too_dark,
        lasting=lasting,
    )
    return RotationQuestion(
        garden=garden.name,
        made_on=question.made_on,
        first_year=first_year,
        years=years,
        beds=tuple(
            RotationBed(bed.id, bed.area_m2, bed.under_cover, bed.last_year_of_family)
            for bed in question.beds
        ),
        needs=family_needs(plan, facts),
        gap_years=dict(question.rotation_gap_years),
        names=dict(question.names)
        | {kind.id: kind.name for kind in catalogue.kinds.values()}
        | {family.id: family.name for family in catalogue.families.values()},
        held=held_ground(asked, catalogue, first_year),
        closures=closures,
        stands=stand_choices(garden, catalogue, asked, range(first_year, first_year + years)),
        covers=_covers(catalogue, asked),
        least_m2=question.least_patch_m2,
        southern=garden.place.southern,
        units=question.units,
        prices=RotationPrices(
            question.prices.rotation_m2, question.prices.sowing, question.prices.shortage_slices
        ),
        seed=question.seed,
    )


def _covers(catalogue: Catalogue, asked: Asked) -> tuple[CoverChoice, ...]:
    """Say in which quarter each green manure may be sown here, and for how many seasons it stands.

    Of the starts in one quarter the one that is over soonest counts.
    """
    monday = asked.question.horizon.monday
    shortest: dict[tuple[str, bool, int], tuple[int, str]] = {}
    for kind in catalogue.kinds.values():
        for cover in sorted({bed.under_cover for bed in asked.question.beds}):
            family = catalogue.crops[kind.crop].family
            starts = cover_starts(
                kind, family, asked.weather, asked.question.horizon, under_cover=cover
            )
            for start in starts:
                stands = touched(monday(start.sow_week), monday(start.free_week))
                key = (kind.id, cover, stands[0] % QUARTERS)
                shortest[key] = min(shortest.get(key, (len(stands), family)), (len(stands), family))
    return tuple(
        CoverChoice(kind, family, quarter, seasons, cover)
        for (kind, cover, quarter), (seasons, family) in sorted(shortest.items())
    )


def _found(question: RotationQuestion, rotation: Rotation) -> tuple[Finding, ...]:
    """Note what stands for years, and warn of a garden in which no family can be moved."""
    found = [Finding("what stands", f"{note}.", grade=Grade.NOTE) for note in rotation.notes]
    for cover, called in ((False, "in the open"), (True, "under cover")):
        beds = [bed for bed in question.beds if bed.under_cover is cover]
        wanted = [need for need in question.needs if need.under_cover is cover]
        if len(beds) == 1 and wanted:
            name = question.names.get(beds[0].id, beds[0].id)
            what = f"it is the only bed {called}: no family can move away from where it stood."
            remedy = "Part it into beds, with paths between, or grow fewer families in a year."
            found.append(Finding(name, what, remedy, Grade.WARNING))
    return tuple(found)


def _passed_on(watch: Watcher | None) -> Callable[[str, float], None] | None:
    """Tell a planner's watcher of the steps of a rotation."""
    if watch is None:
        return None

    def tell(step: str, done: float) -> None:
        watch(PlanProgress(step, None, None, PLANNED_SHARE + (1 - PLANNED_SHARE) * done))

    return tell


def allotments_of(rotation: Rotation) -> tuple[dict[str, object], ...]:
    """Write a rotation as the parts of a garden: how far each family may spread, bed by bed."""
    return tuple(
        {
            "bed": one.bed,
            "year": one.year,
            "family": one.family,
            "area": f"{one.room_m2:.2f} m2",
        }
        for one in rotation.families
    )


def keep_rotation(path: Path, rotation: Rotation, at: datetime) -> tuple[Finding, ...]:
    """Keep a rotation in a notebook: from now on plans are held to it. The one before is dropped.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook, or the garden no longer has what the rotation stands on.
    """
    changes = [
        *(Change("allotment", mark_of(part), None) for part in allotments_kept(path)),
        *(Change("allotment", "", part) for part in allotments_of(rotation)),
    ]
    return change_garden(path, changes, at)


def drop_rotation(path: Path, at: datetime) -> tuple[Finding, ...]:
    """Take the rotation that is kept out of a notebook; plans are no longer held to it."""
    return change_garden(
        path, [Change("allotment", mark_of(part), None) for part in allotments_kept(path)], at
    )


def allotments_kept(path: Path) -> tuple[dict[str, object], ...]:
    """Give the allotments that a notebook keeps, as typed.

    Raises
    ------
    FaultsFoundError
        When the path is no notebook.
    """
    return tuple(dict(part) for part in parts_of(path).get("allotment", ()))
