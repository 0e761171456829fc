"""What of each bed is taken, and what lies bare, season by season."""

from collections import defaultdict

from haulm.rotation.records import NewStand, RotationQuestion, Share
from haulm.rotation.rests import held_m2, seasons_of, seasons_touched
from haulm.rotation.seasons import first_open, season_of


def seasons_planned(question: RotationQuestion) -> range:
    """Give the seasons from the day of asking to the end of the last year."""
    return range(first_open(question.made_on), season_of(question.first_year + question.years, 0))


def bare_m2(
    question: RotationQuestion,
    shares: tuple[Share, ...],
    stands: tuple[NewStand, ...],
    *,
    for_cover: bool = False,
) -> dict[tuple[str, int], float]:
    """Give what lies bare of each bed in each season, by bed and season [m²].

    In the middle of the season; or, ``for_cover``, for so much of it that a green manure has room.
    """
    needs = {need.id: need for need in question.needs}
    taken: dict[tuple[str, int], float] = defaultdict(float)
    for share in shares:
        need = needs[share.need]
        here = seasons_touched(need, share.year) if for_cover else seasons_of(need, share.year)
        for season in here:
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
