"""What a soil test means for a crop: advice with its source, and never an amount of lime."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Basis
from haulm.catalogue.soil import Lime, dislikes_lime, lime_for, lime_sentence, soil_aims

CROPS = load_catalogue().crops


def said(crop: str, ph: float) -> str:
    """Say what a pH means for a crop."""
    return lime_sentence(soil_aims().of(CROPS[crop]), ph, crop)


@pytest.mark.parametrize(
    ("crop", "ph", "lime"),
    [
        # Clubroot: lime works only from pH 7.0 at planting (SARE OW15-005, Oregon State).
        ("cabbage", 6.0, Lime.WANTED),
        ("kale", 6.8, Lime.DISPUTED),
        ("swede", 7.0, Lime.ENOUGH),
        # Arable ground on mineral soil is held at 6.5 (AHDB, RB209); vegetables do best at 5.8 to
        # 6.5 (Clemson, HGIC 1650).
        ("leek", 5.5, Lime.WANTED),
        ("leek", 6.2, Lime.DISPUTED),
        ("leek", 6.5, Lime.ENOUGH),
        # Potatoes: 5.0 to 5.2 against common scab, up to 6.0 otherwise (PVGA, 2017).
        ("potato", 4.8, Lime.WANTED),
        ("potato", 5.6, Lime.ENOUGH),
        ("potato", 6.5, Lime.TOO_MUCH),
    ],
)
def test_a_soil_test_is_read_as_the_texts_read_it(crop: str, ph: float, lime: Lime) -> None:
    """Lime is wanted below what every text asks, disputed where they differ, and not above it."""
    assert lime_for(soil_aims().of(CROPS[crop]), ph) is lime


def test_cabbages_are_limed_and_potatoes_are_not() -> None:
    """Acid soil is limed for cabbages; potatoes in soil that has much lime are told of scab, and
    nothing is said where nothing is to do.
    """
    assert "for cabbage 7 or so is wanted (clubroot" in said("cabbage", 6)
    assert "for potato 6 or less is better (common scab" in said("potato", 6.8)
    assert said("leek", 6.6) == ""
    assert said("leek", 7.4) == ""
    assert dislikes_lime(soil_aims().of(CROPS["potato"]))
    assert not dislikes_lime(soil_aims().of(CROPS["leek"]))


@given(st.sampled_from(sorted(CROPS)), st.floats(3, 10))
def test_no_sentence_names_an_amount_of_lime(crop: str, ph: float) -> None:
    """No text with amounts was read that could be vouched for, so none is ever told."""
    assert not re.search(r"\d\s*(g|kg|lb|oz)\b", said(crop, round(ph, 1)))


def test_every_aim_has_its_source() -> None:
    """Each pH that is aimed at was read in a text that the catalogue lists, its rivals too."""
    aims, catalogue = soil_aims(), load_catalogue()
    assert aims.families.keys() <= catalogue.families.keys()
    assert aims.crops.keys() <= catalogue.crops.keys()
    for aim in (aims.any_crop, *aims.families.values(), *aims.crops.values()):
        for figure in (aim.ph, *aim.ph.others):
            assert figure.basis is Basis.PUBLISHED
            assert figure.source in catalogue.sources
            spread = (figure.low, figure.value, figure.high)
            assert [*filter(None, spread)] == sorted(filter(None, spread))
