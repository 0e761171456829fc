"""Every kind of the catalogue can be watered, and what nobody has said is told."""

from dataclasses import replace

import pytest

from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Absent, Kind
from haulm.measure.errors import FaultsFoundError
from haulm.water.crops import crop_water, stood_in
from stated import stated

KINDS = list(load_catalogue().kinds.values())


@pytest.mark.parametrize("kind", KINDS, ids=[kind.id for kind in KINDS])
def test_every_kind_can_be_watered(kind: Kind) -> None:
    """Its four stages make a season, and its leaves take less than leaves and soil together."""
    crop = crop_water(kind.water)
    assert sum(crop.shares) == pytest.approx(1.0)
    assert crop.basal[1] < stated(kind.water.kc_middle).value + 1e-9
    assert crop.basal[2] < stated(kind.water.kc_end).value + 1e-9
    assert 0.05 <= crop.height_m <= 3
    assert 0.1 <= crop.root_m <= 2.5
    assert 0.1 <= crop.table_share <= 0.8


def test_what_nobody_has_said_is_told() -> None:
    """A kind with no figures but those of table 12 is reckoned with usual ones, each named."""
    told = next(kind for kind in KINDS if kind.id == "onion/sets").water
    assert stood_in(told) == ()
    bare = replace(
        told, kcb_initial=None, kcb_middle=None, kcb_end=None, height_m=None,
        stage_initial=None, stage_growth=None, stage_middle=None, stage_late=None,
        yield_response=None,
    )  # fmt: skip
    crop = crop_water(bare)
    assert crop.basal == pytest.approx((0.15, 0.95, 0.65))
    assert crop.shares == pytest.approx((0.2, 0.3, 0.35, 0.15))
    assert crop.yield_response is None
    assert len(stood_in(bare)) == 4


def test_a_crop_whose_roots_nobody_has_measured_is_not_watered_by_guess() -> None:
    """Where the depth of its roots is absent, that is said, with why, and nothing is reckoned."""
    told = next(kind for kind in KINDS if kind.id == "onion/sets").water
    with pytest.raises(FaultsFoundError, match="nobody dug"):
        crop_water(replace(told, rooting_m=Absent("nobody dug", "m")))
