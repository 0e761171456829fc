"""Ground closed by disease, and what grew where."""

import pytest

from haulm.ground.closures import (
    DiseaseClock,
    closed_until,
    closure_sentence,
    closures,
    last_year_of_family,
)
from haulm.ground.outlines import rectangle
from haulm.ground.records import Bed, DiseaseFound, PastCrop
from haulm.measure.errors import FaultsFoundError

CLOCKS = {
    "clubroot": DiseaseClock("clubroot", "clubroot", ("cabbage",), 7, 10),
    "white-rot": DiseaseClock("white-rot", "white rot", ("onion",), 4, 20),
    "scab": DiseaseClock("scab", "powdery scab", (), 5, 10, (("potato", "nightshade"),)),
    "blight": DiseaseClock("blight", "late blight", ("nightshade",), 0, 0),
    "slow": DiseaseClock("slow", "a slow one", ("onion", "cabbage"), 12, 3),
}


def bed(*found: DiseaseFound, past: tuple[PastCrop, ...] = ()) -> Bed:
    """Make a bed with what was found on it and what grew there."""
    return Bed("bench", "Bench", rectangle(1.2, 4.8), found=found, past=past)


def test_the_longer_of_the_two_counts_rules_and_both_are_kept() -> None:
    """Ground stays closed for the longer of common advice and published survival."""
    (clubroot,) = closures([bed(DiseaseFound("clubroot", 2024))], CLOCKS)
    assert (clubroot.common_until_year, clubroot.published_until_year) == (2032, 2035)
    assert clubroot.until_year == 2035
    slow = closures([bed(DiseaseFound("slow", 2024))], CLOCKS)
    assert {closure.family: closure.until_year for closure in slow} == {
        "onion": 2037,
        "cabbage": 2037,
    }


def test_the_last_sighting_starts_the_clock() -> None:
    """A disease seen again starts its years anew, in whatever order the sightings are told."""
    (closure,) = closures(
        [bed(DiseaseFound("white-rot", 2024), DiseaseFound("white-rot", 2015))], CLOCKS
    )
    assert closure.found_year == 2024


def test_the_last_disease_to_lift_decides() -> None:
    """Where two diseases close a bed to one family, it stays closed until both are over."""
    all_closed = closures([bed(DiseaseFound("clubroot", 2024), DiseaseFound("slow", 2020))], CLOCKS)
    assert closed_until(all_closed, "bench", "cabbage") == 2035
    assert closed_until(all_closed, "bench", "onion") == 2033
    assert closed_until(all_closed, "bench", "pea") is None
    assert closed_until(all_closed, "long", "cabbage") is None


def test_a_disease_may_keep_off_one_crop_alone() -> None:
    """Powdery scab keeps potatoes off a bed, and lets tomatoes on it."""
    (closure,) = closures([bed(DiseaseFound("scab", 2024))], CLOCKS)
    assert (closure.family, closure.crop, closure.until_year) == ("nightshade", "potato", 2035)
    assert closure.keeps_off("bench", "nightshade", "potato")
    assert not closure.keeps_off("bench", "nightshade", "tomato")
    assert not closure.keeps_off("long", "nightshade", "potato")
    assert closed_until([closure], "bench", "nightshade", "potato") == 2035
    assert closed_until([closure], "bench", "nightshade", "tomato") is None
    assert closed_until([closure], "bench", "nightshade") is None
    assert closure_sentence(closure, "Bench", "potato", "powdery scab").startswith(
        "Bench: no potato until 2035 (powdery scab found 2024"
    )


def test_what_does_not_live_in_soil_closes_none() -> None:
    """Late blight winters in tubers: writing it down closes no bed."""
    assert closures([bed(DiseaseFound("blight", 2024))], CLOCKS) == ()


def test_a_closure_is_said_in_one_sentence() -> None:
    """The sentence names bed, family, year, disease and both counts of years."""
    (closure,) = closures([bed(DiseaseFound("clubroot", 2024))], CLOCKS)
    assert closure_sentence(closure, "Bench", "cabbage tribe", "clubroot") == (
        "Bench: no cabbage tribe until 2035 (clubroot found 2024; common advice 7 years, "
        "published survival 10 or more)"
    )


def test_an_unknown_disease_is_told_with_a_near_name() -> None:
    """A disease haulm does not know is never passed over: the ground might be closed."""
    with pytest.raises(FaultsFoundError, match="clubroot"):
        closures([bed(DiseaseFound("clubrot", 2024))], CLOCKS)


def test_the_last_year_of_each_family_is_known() -> None:
    """Leek in 2023 and garlic in 2025 make 2025 the onion family's last year."""
    families = {"leek": "onion", "garlic": "onion", "pea": "pea"}
    past = (PastCrop("garlic", 2025), PastCrop("leek", 2023), PastCrop("pea", 2024))
    assert last_year_of_family(bed(past=past), families) == (("onion", 2025), ("pea", 2024))
    with pytest.raises(FaultsFoundError, match="garlic"):
        last_year_of_family(bed(past=(PastCrop("garlick", 2025),)), families)
