"""The rules of a rotation that need no choosing: what is closed, too dark, too early, too soon."""

from haulm.ground.closures import closed_until
from haulm.rotation.records import FamilyNeed, RotationBed, RotationQuestion, StandChoice
from haulm.rotation.seasons import first_open, season_of, year_of


def seasons_of(need: FamilyNeed, year: int) -> tuple[int, ...]:
    """Give the seasons in which a need holds ground, cleared in a year."""
    return tuple(season_of(year, 0) + offset for offset in need.seasons)


def seasons_touched(need: FamilyNeed, year: int) -> tuple[int, ...]:
    """Give the seasons in which a need, cleared in a year, leaves no room for a green manure."""
    offsets = set(need.touches) | set(need.seasons)
    return tuple(season_of(year, 0) + offset for offset in sorted(offsets))


def may_stand(question: RotationQuestion, need: FamilyNeed, bed: RotationBed, year: int) -> bool:
    """Say whether a need may be met in a bed in a year: cover, sun, disease clocks and the day."""
    seasons = seasons_of(need, year)
    until = closed_until(question.closures, bed.id, need.family, need.crop or "")
    return (
        need.under_cover == bed.under_cover
        and bed.id not in need.dark
        and seasons[0] >= first_open(question.made_on)
        and (until is None or year_of(seasons[0]) >= until)
    )


def in_time(question: RotationQuestion, need: FamilyNeed, year: int) -> bool:
    """Say whether what is cleared in a year can still be begun."""
    return seasons_of(need, year)[0] >= first_open(question.made_on)


def stand_may_be_planted(
    question: RotationQuestion, stand: StandChoice, bed: RotationBed, year: int
) -> bool:
    """Say whether a stand that stays for years may be planted in a bed in a year."""
    until = closed_until(question.closures, bed.id, stand.family)
    return (
        not bed.under_cover
        and bed.id not in stand.dark
        and season_of(year, 1) >= first_open(question.made_on)
        and (until is None or year >= until)
    )


def stand_seasons(stand: StandChoice, planted_year: int) -> tuple[int, int]:
    """Give the first season a stand holds its ground in, and the first in which that is free."""
    return season_of(planted_year, 1), season_of(planted_year + stand.life_years, 0)


def last_stand_year(stand: StandChoice, planted_year: int) -> int:
    """Give the last year in which a stand is worth its ground: it is cleared at its end."""
    return planted_year + stand.life_years - 1


def serves_until(stand: StandChoice, planted_year: int) -> int:
    """Give the last year in which a stand is all its line asks for.

    It is asked for from the year it is planted on: that it bears later cannot be helped, only told.
    Its successor is asked for as many years before it is worn out as that needs to bear.
    """
    return planted_year + stand.life_years - stand.bearing_age


def past_lifts(question: RotationQuestion, bed: RotationBed, family: str) -> tuple[int, ...]:
    """Give the years in which a family is lifted from a bed, whatever the rotation decides."""
    told = [year for one, year in bed.lifted if one == family]
    held = [
        ground.lifted_year
        for ground in question.held
        if (ground.bed, ground.family) == (bed.id, family)
    ]
    return tuple(told + held)


def years_missing(gap: int, year: int, lifted: int) -> int:
    """Count the years of rest missing after an earlier clearing; none in one and the same year."""
    return max(0, gap - (year - lifted)) if year > lifted else 0


def past_missing(question: RotationQuestion, bed: RotationBed, family: str, year: int) -> int:
    """Count the years of rest missing in a year after what is lifted from a bed anyway."""
    gap = question.gap_years[family]
    lifts = past_lifts(question, bed, family)
    return max((years_missing(gap, year, lifted) for lifted in lifts), default=0)


def held_m2(question: RotationQuestion, bed: str, season: int) -> float:
    """Add up the ground of a bed that is taken already in a season [m²]."""
    return sum(
        ground.area_m2
        for ground in question.held
        if ground.bed == bed and season < ground.until_season
    )
