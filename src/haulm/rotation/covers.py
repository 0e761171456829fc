"""Green manure: what would lie bare over a season is sown, where no rest is spent by it."""

from haulm.ground.closures import closed_until
from haulm.rotation.ground import seasons_planned
from haulm.rotation.records import (
    BedYearFamily,
    CoverChoice,
    CoverSown,
    NewStand,
    RotationBed,
    RotationQuestion,
)
from haulm.rotation.rests import past_lifts
from haulm.rotation.seasons import QUARTERS, season_of, year_of

WORTH_SOWING = 0.5
"""The share of a bed from which on green manure is sown over what lies bare of it [1]."""

Bare = dict[tuple[str, int], float]


def sow_covers(
    question: RotationQuestion,
    families: tuple[BedYearFamily, ...],
    stands: tuple[NewStand, ...],
    bare: Bare,
) -> tuple[CoverSown, ...]:
    """Sow green manures over what lies bare, the longest that fits first.

    A green manure fits where its ground lies bare from the season it is sown in for as long as it
    stands, where no disease keeps its family off, and where that family has its years of rest on
    the bed before it and after it: it never costs food a rest. It is dug in within its last season.
    """
    sown: list[CoverSown] = []
    free = dict(bare)
    longest = sorted(question.covers, key=lambda one: (-one.seasons, one.kind))
    for bed in question.beds:
        years = _years_of(question, bed, families, stands)
        for season in seasons_planned(question):
            for choice in longest:
                area = _fits(question, bed, choice, season, free)
                least = max(question.least_m2, WORTH_SOWING * bed.area_m2)
                if area < least or not _rested(question, choice, season, years):
                    continue
                last = season + choice.seasons - 1
                sown.append(CoverSown(bed.id, choice.kind, choice.family, area, season, last))
                years.append((choice.family, year_of(last)))
                for held in range(season, last + 1):
                    free[bed.id, held] -= area
    return tuple(sown)


def _years_of(
    question: RotationQuestion,
    bed: RotationBed,
    families: tuple[BedYearFamily, ...],
    stands: tuple[NewStand, ...],
) -> list[tuple[str, int]]:
    """List every family that stands in a bed, with its year, before and within the rotation."""
    names = {choice.family for choice in question.covers}
    years = [(name, year) for name in sorted(names) for year in past_lifts(question, bed, name)]
    years += [(one.family, one.year) for one in families if one.bed == bed.id]
    for stand in stands:
        if stand.bed == bed.id:
            years += [(stand.family, y) for y in range(stand.planted_year, stand.last_year + 1)]
    return years


def _fits(
    question: RotationQuestion, bed: RotationBed, choice: CoverChoice, season: int, free: Bare
) -> float:
    """Give how much of a bed a green manure may take from a season on [m²]."""
    seasons = range(season, season + choice.seasons)
    until = closed_until(question.closures, bed.id, choice.family)
    if (
        season % QUARTERS != choice.quarter
        or choice.under_cover != bed.under_cover
        or seasons[-1] >= season_of(question.first_year + question.years, 0)
        or (until is not None and year_of(season) < until)
    ):
        return 0.0
    return min(free[bed.id, held] for held in seasons)


def _rested(
    question: RotationQuestion, choice: CoverChoice, season: int, years: list[tuple[str, int]]
) -> bool:
    """Say whether a family keeps its rest on a bed on both sides of a green manure."""
    year, gap = year_of(season + choice.seasons - 1), question.gap_years[choice.family]
    return all(abs(year - other) >= gap for family, other in years if family == choice.family)
