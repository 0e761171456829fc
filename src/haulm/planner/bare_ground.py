"""Bare ground: where and how long a plan leaves it empty, and which green manures would fit."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from haulm.ground.closures import closed_until
from haulm.growing.green_manures import CoverStart
from haulm.plan.records import Plan, Planting
from haulm.planner.question import BedGround, PlanQuestion

AREA_M2 = 1e-6


@dataclass(frozen=True, slots=True)
class BareStretch:
    """Ground of a bed that holds nothing from one week until another, not counted [m²]."""

    bed: str
    area_m2: float
    first_week: int
    until_week: int


@dataclass(frozen=True, slots=True)
class CoverFit:
    """A green manure that fits a stretch: the weeks in which it may be sown there, both counted.

    ``dig_in_week`` is when it is worth digging in, if it is sown in the first of them.
    """

    kind: str
    sow_first_week: int
    sow_last_week: int
    dig_in_week: int


@dataclass(frozen=True, slots=True)
class CoverOffer:
    """A bare stretch with every green manure that fits it, what covers it longest first."""

    stretch: BareStretch
    fits: tuple[CoverFit, ...]


def cover_offers(
    plan: Plan, question: PlanQuestion, starts: Mapping[bool, Sequence[CoverStart]]
) -> tuple[CoverOffer, ...]:
    """Offer green manures for the ground a plan leaves bare; the plan itself stays as it is.

    Parameters
    ----------
    plan, question
        The plan, and the question it answers: its beds with their past, rotation, closed beds and
        the smallest patch.
    starts
        What may be sown when, in the open (False) and under cover (True).

    Returns
    -------
    tuple of CoverOffer
        By bed, the stretch of the most square metres × weeks first. A start fits a stretch when it
        is sown within it and its ground is rested before it ends; when its family has its years of
        rest on the bed from what grew there and to what is planned there; and when no disease
        closes the bed to it.
    """
    offers: list[CoverOffer] = []
    for bed in question.beds:
        known = starts.get(bed.under_cover, ())
        least_weeks = min((one.free_week - one.sow_week for one in known), default=0)
        there = [planting for planting in plan.plantings if planting.bed == bed.id]
        held = [(p.from_week, p.until_week, p.area_m2) for p in there]
        stretches = bare_stretches(
            bed.area_m2, held, plan.horizon.weeks, (question.least_patch_m2, least_weeks)
        )
        for area, first, until in stretches if known else ():
            stretch = BareStretch(bed.id, area, first, until)
            fitting = [
                start
                for start in known
                if first <= start.sow_week
                and start.free_week <= until
                and _allowed(question, bed, start, there)
            ]
            if fitting:
                offers.append(CoverOffer(stretch, _by_kind(fitting)))
    return tuple(offers)


def bare_stretches(
    area_m2: float,
    held: Iterable[tuple[int, int, float]],
    weeks: int,
    least: tuple[float, int],
) -> tuple[tuple[float, int, int], ...]:
    """Cut a bed's empty ground into stretches of one area from one week until another.

    Parameters
    ----------
    area_m2
        The bed [m²].
    held
        (from week, until week, area) of everything that holds ground.
    weeks
        Weeks of the plan.
    least
        Smallest area [m²] and fewest weeks of a stretch.

    Returns
    -------
    (area, first week, until week), the most square metres × weeks first. Each is the largest that
    can be cut from what those before it left.
    """
    free = [area_m2] * weeks
    for first, until, area in held:
        for week in range(max(0, first), min(weeks, until)):
            free[week] -= area
    cut: list[tuple[float, int, int]] = []
    while True:
        best = _largest(free, least)
        if best is None:
            return tuple(cut)
        cut.append(best)
        for week in range(best[1], best[2]):
            free[week] -= best[0]


def _largest(free: Sequence[float], least: tuple[float, int]) -> tuple[float, int, int] | None:
    """Find the stretch of the most square metres × weeks; of equals, the first."""
    best: tuple[float, int, int] | None = None
    most = 0.0
    for first in range(len(free)):
        area = free[first]
        for until in range(first + 1, len(free) + 1):
            area = min(area, free[until - 1])
            if area < least[0] - AREA_M2 or area <= AREA_M2:
                break
            size = area * (until - first)
            if until - first >= least[1] and size > most + AREA_M2:
                best, most = (area, first, until), size
    return best


def _by_kind(starts: Sequence[CoverStart]) -> tuple[CoverFit, ...]:
    """Gather the starts that fit a stretch by their kinds, what covers it longest first."""
    by_kind: dict[str, list[CoverStart]] = {}
    for start in starts:
        by_kind.setdefault(start.kind, []).append(start)
    fits = [
        CoverFit(
            kind,
            min(one.sow_week for one in some),
            max(one.sow_week for one in some),
            min(some, key=lambda one: one.sow_week).dig_in_week,
        )
        for kind, some in by_kind.items()
    ]
    return tuple(sorted(fits, key=lambda fit: (fit.sow_first_week - fit.dig_in_week, fit.kind)))


def _allowed(
    question: PlanQuestion, bed: BedGround, start: CoverStart, there: Sequence[Planting]
) -> bool:
    """Say whether rotation and closed ground let a green manure onto a bed."""
    monday = question.horizon.monday
    year, gap = monday(start.dig_in_week).year, question.rotation_gap_years.get(start.family, 0)
    years = [lifted for family, lifted in bed.last_year_of_family if family == start.family]
    years += [p.clear_by.year for p in there if p.family == start.family]
    until = closed_until(question.closures, bed.id, start.family, start.crop)
    is_open = until is None or until <= monday(start.sow_week).year
    return is_open and all(abs(year - lifted) >= gap for lifted in years)
