"""How long disease closes ground, against published survival."""

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.ground.closures import DiseaseClock, closed_until, closure_sentence, closures
from haulm.ground.outlines import rectangle
from haulm.ground.records import Bed, DiseaseFound

FOUND = 2024


def clock(disease: str) -> DiseaseClock:
    """Make the clock of one of the catalogue's diseases."""
    record = load_catalogue().diseases[disease]
    return DiseaseClock(
        disease=record.id,
        name=record.name,
        closes=record.closes,
        common_years=round(record.common_years.value),
        published_years=round(record.published_years.value),
    )


@pytest.mark.parametrize(
    ("disease", "family", "common", "published"),
    [
        # White rot: sclerotia survive over 20 years without alliums (UC IPM, Onion and Garlic Pest
        # Management Guidelines: White Rot), 20 to 30 or more (Pacific Northwest Plant Disease
        # Handbook, Garlic: White Rot, rev. March 2024), 15 or more (University of Massachusetts
        # Extension, Alliums, White Rot). Three to four years is common practice.
        ("white rot", "onion", (3, 4), 20),
        # Clubroot: resting spores live 10 years or longer (Pacific Northwest Plant Disease
        # Handbook, Turnip, Rutabaga: Clubroot); 7 years without a host are advised (University of
        # Connecticut IPM, Rotation periods suggested to help control vegetable diseases).
        ("clubroot", "cabbage", (7, 7), 10),
    ],
)
def test_the_longer_survival_closes_the_ground_and_both_are_shown(
    disease: str, family: str, common: tuple[int, int], published: int
) -> None:
    """Ground stays closed as long as the disease is known to live, not as long as is often said."""
    one = clock(disease)
    assert common[0] <= one.common_years <= common[1]
    assert one.published_years >= published
    bed = Bed("bench", "Bench", rectangle(1.2, 4.8), found=(DiseaseFound(disease, FOUND),))
    closed = closures([bed], {disease: one})
    until = closed_until(closed, "bench", family)
    assert until is not None
    assert until > FOUND + published
    sentence = closure_sentence(closed[0], bed.name, family, one.name)
    assert f"until {until}" in sentence
    assert f"common advice {one.common_years} years" in sentence
    assert f"published survival {one.published_years} or more" in sentence


def test_clubroot_needs_seven_years_even_by_the_shorter_count() -> None:
    """Seven years without a host are advised against clubroot.

    University of Connecticut IPM, Rotation periods suggested to help control vegetable diseases.
    """
    bed = Bed("bench", "Bench", rectangle(1.2, 4.8), found=(DiseaseFound("clubroot", FOUND),))
    (closure, *_) = closures([bed], {"clubroot": clock("clubroot")})
    assert closure.common_until_year - FOUND > 7
    assert closure.until_year >= closure.common_until_year
