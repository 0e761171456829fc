"""What of each bed is taken, and what lies bare, season by season."""

from collections import defaultdict

from haulm.rotation.records import NewStand, RotationQuestion, Share
from haulm.rotation.rests import held_m2, seasons_of
from haulm.rotation.seasons import first_open, season_of


def seasons_planned(question: RotationQuestion) -> range:
    """Give the seasons from the day of asking to the end of the last year."""
    first = min(first_open(question.made_on), season_of(question.first_year, 0))
    return range(first, season_of(question.first_year + question.years, 0))


def bare_m2(
    question: RotationQuestion, shares: tuple[Share, ...], stands: tuple[NewStand, ...]
) -> dict[tuple[str, int], float]:
    """Give what lies bare of each bed in each season, by bed and season [m²]."""
    needs = {need.id: need for need in question.needs}
    taken: dict[tuple[str, int], float] = defaultdict(float)
    for share in shares:
        for season in seasons_of(needs[share.need], share.year):
            taken[share.bed, season] += share.area_m2
    for stand in stands:
        first, until = season_of(stand.planted_year, 1), season_of(stand.last_year + 1, 0)
        for season in range(first, until):
            taken[stand.bed, season] += stand.area_m2
    seasons = set(seasons_planned(question)) | {season for _, season in taken}
    return {
        (bed.id, season): max(
            0.0, bed.area_m2 - held_m2(question, bed.id, season) - taken[bed.id, season]
        )
        for bed in question.beds
        for season in seasons
    }
