"""The value of splitting: the same crop in one bed or several, from the same luck."""

from dataclasses import replace

import numpy as np
import pytest

from forecast.seasons_by_hand import WEEKS, coming
from haulm.catalogue.records import Picking
from haulm.forecast.diseases import disease_chances
from haulm.forecast.luck import Dealt
from haulm.forecast.records import Coming
from haulm.forecast.splitting import Split, Way, split_crop

SEASONS = 20_000
ROT = tuple(disease for disease in disease_chances() if disease.id == "white rot")


def garlic(planting: str, kg: float, bed: str = "North", kind: str = "soft") -> Coming:
    """Describe a planting of garlic."""
    one = coming(kg, Picking.ONCE, 25, spread=0.3, planting=planting)
    return replace(one, crop="garlic", family="onion", food="garlic", kind=kind, bed=bed)


def ways(*comings: Coming) -> dict[tuple[Way, int, str], Split]:
    """Weigh the garlic of some plantings."""
    told = split_crop(Dealt(comings, [], [], WEEKS, ROT), "garlic", SEASONS, 1)
    assert told is not None
    return {(split.way, split.parts, split.kind): split for split in told.splits}


def test_two_or_three_beds_lose_less_often_than_one() -> None:
    """White rot in one bed takes all of the garlic; of three beds it takes a third."""
    told = ways(garlic("a", 10.0))
    lost = [told[Way.BEDS, beds, ""].lost for beds in (1, 2, 3)]
    assert lost == sorted(lost, reverse=True)
    assert lost[2] < lost[0] / 2
    poor = [told[Way.BEDS, beds, ""].poor_kg for beds in (1, 2, 3)]
    assert poor == sorted(poor)


def test_more_sowings_in_a_sick_bed_help_less_than_more_beds() -> None:
    """Two sowings in one bed share its rot; two beds share less."""
    told = ways(garlic("a", 10.0))
    assert told[Way.BEDS, 2, ""].lost < told[Way.SOWINGS, 2, ""].lost < told[Way.BEDS, 1, ""].lost


def test_one_planting_is_told_as_it_is_planned() -> None:
    """Where the plan has one planting, as planned is one bed: the same luck, the same figures."""
    told = ways(garlic("a", 10.0))
    planned, one = told[Way.PLANNED, 1, ""], told[Way.BEDS, 1, ""]
    assert (planned.poor_kg, planned.middle_kg, planned.lost) == pytest.approx(
        (one.poor_kg, one.middle_kg, one.lost)
    )


def test_kinds_are_weighed_where_there_are_two() -> None:
    """All of either kind is weighed against both together, to the same mean."""
    told = ways(garlic("a", 6.0), garlic("b", 4.0, "South", "hard"))
    kinds = {kind for way, _, kind in told if way is Way.KIND}
    assert kinds == {"soft", "hard"}
    middles = [split.middle_kg for split in told.values()]
    assert np.ptp(middles) < 1.0


def test_what_is_not_grown_is_not_weighed() -> None:
    """Of a crop that does not come there is nothing to tell."""
    assert split_crop(Dealt([garlic("a", 1.0)], [], [], WEEKS, ROT), "leek", 100, 1) is None
