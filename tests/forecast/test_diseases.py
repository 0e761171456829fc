"""Diseases: what they take on average is given back, and who shares them."""

from dataclasses import replace
from datetime import date
from math import exp

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from forecast.seasons_by_hand import FOOD, WEEKS, coming
from haulm.catalogue.loader import load_catalogue
from haulm.catalogue.records import Picking
from haulm.forecast.blight import OCCASIONS, blight_days, favourable_days, occasion_odds
from haulm.forecast.diseases import DiseaseChance, LivesIn, disease_chances
from haulm.forecast.luck import Dealt, draw_luck
from haulm.forecast.records import Blight, Coming, Floats
from haulm.forecast.rules import forecast_rules
from haulm.growing.days import NEVER
from haulm.site.records import Seasons

SEASONS = 100_000
ROT = next(disease for disease in disease_chances() if disease.id == "white rot")
BLIGHT = next(disease for disease in disease_chances() if disease.id == "late blight")


def onions(planting: str, bed: str, kg: float = 1.0) -> Coming:
    """Describe a planting of onions in a bed."""
    return replace(
        coming(kg, Picking.ONCE, 20, spread=0.35, planting=planting), bed=bed, family="onion"
    )


def yields(*comings: Coming, diseases: tuple[DiseaseChance, ...] = (ROT,)) -> list[Floats]:
    """Draw the yields of some plantings."""
    luck = draw_luck(Dealt(comings, [], [], WEEKS, diseases), SEASONS, 1)
    return [luck.yields[one.planting, FOOD] for one in comings]


def test_disease_moves_the_spread_and_not_the_mean() -> None:
    """The catalogue's mean holds usual disease: with diseases dealt by name mean and mean square
    stay what they were, and only the worst years are worse.
    """
    (sick,) = yields(onions("a", "North"))
    (well,) = yields(onions("a", "North"), diseases=())
    fails = forecast_rules().failure_share.value
    assert sick.mean() == pytest.approx(1.0, abs=0.005)
    assert (sick**2).mean() == pytest.approx(exp(0.35**2) / (1 - fails), rel=0.02)
    assert np.quantile(sick, 0.04) < np.quantile(well, 0.04)


def test_one_bed_is_lost_whole_where_two_are_not() -> None:
    """What lives in soil takes every onion of its bed: in one bed two plantings fall together
    more often than in two beds, whatever else they share.
    """

    def both_poor(*beds: str) -> float:
        """Give the share of seasons in which both plantings give under half."""
        one, other = yields(onions("a", beds[0]), onions("b", beds[1]))
        return float(np.mean((one < 0.5) & (other < 0.5)))

    assert both_poor("North", "North") > 1.5 * both_poor("North", "South")


def test_a_planting_added_leaves_the_luck_of_the_others_alone() -> None:
    """What happens to the onions in the north bed does not depend on what else is planted."""
    alone = yields(onions("a", "North"))[0]
    beside = yields(onions("b", "South"), onions("a", "North"))[1]
    assert np.array_equal(alone, beside)


@given(cut=st.integers(1, 899), seed=st.integers(0, 100))
def test_seasons_are_the_same_in_whatever_parts_they_are_drawn(cut: int, seed: int) -> None:
    """Nine hundred seasons drawn in two parts are the nine hundred drawn at once."""
    dealt = Dealt([onions("a", "North")], [FOOD], ["cellar"], 8, (ROT,))
    whole = draw_luck(dealt, 900, seed)
    parts = draw_luck(dealt, cut, seed), draw_luck(dealt, 900 - cut, seed, cut)
    assert np.array_equal(np.concatenate([part.run for part in parts]), whole.run)
    for name in ("yields", "ageing", "wants"):
        for key, drawn in getattr(whole, name).items():
            joined = np.concatenate([getattr(part, name)[key] for part in parts])
            assert np.array_equal(joined, drawn)


def test_runs_of_weather_are_dealt_evenly_from_the_first_season_on() -> None:
    """A few seasons have runs from all over the record, and many have each as often."""
    spread = replace(onions("a", "North"), first_week=np.arange(200))
    few = draw_luck(Dealt([spread], [], [], WEEKS), 10, 1).run
    many = draw_luck(Dealt([spread], [], [], WEEKS), 2000, 1).run
    assert few.min() < 40
    assert few.max() > 160
    assert np.all(np.bincount(many) == 10)


def days(runs: list[tuple[float, float, float]]) -> Seasons:
    """Give forty days of one weather for each run: lowest, highest, rain."""
    low, high, rain = (
        np.repeat(np.array(one)[:, None], 40, axis=1) for one in zip(*runs, strict=True)
    )
    return Seasons("by hand", date(2027, 6, 1), low, high, rain)


def test_late_blight_is_looked_for_after_ten_days_that_favour_it() -> None:
    """Cool days with 30 mm of rain in ten favour late blight; heat, cold nights and drought do
    not. Source: R. A. Hyre 1954, as UC IPM gives it.
    """
    favours = favourable_days(
        days([(12, 20, 3.0), (12, 20, 2.9), (22, 30, 3.0), (7, 20, 3.0), (7.2, 20, 3.0)])
    )
    assert favours is not None
    assert favours[:, 20].tolist() == [1, 0, 0, 0, 1]
    ends = blight_days(favours, np.array([5, 5, 5, 5, 5]))
    # The tenth day from the sixth on, 10 or 11 days, and 21 until the leaves are dead.
    assert ends[0].tolist() == [5 + 9 + 32, NEVER, NEVER, NEVER, 46]
    assert ends[1, 0] == 46 + 10
    assert np.all(ends[OCCASIONS] == NEVER)


def test_blight_comes_on_one_occasion_or_never() -> None:
    """A quarter of all gardens have it on the first occasion, a quarter of the rest on the next."""
    odds = occasion_odds(0.25)
    assert odds.sum() == pytest.approx(1.0)
    assert odds[:3] == pytest.approx([0.25, 0.75 * 0.25, 0.75**2 * 0.25])


def test_without_rain_on_record_blight_is_left_to_chance_alone() -> None:
    """Where nobody measured rain, nothing is made up about which days were wet."""
    dry = days([(12, 20, 3.0)])
    assert favourable_days(replace(dry, rain_mm=np.full_like(dry.rain_mm, np.nan))) is None


def test_blight_spares_what_is_lifted_before_it_and_what_stands_under_glass() -> None:
    """An early potato is out before the blight comes; a maincrop loses what it had still to grow;
    a tomato under glass is not struck.
    """
    never = np.ones((OCCASIONS + 1, 1))
    half = np.where(np.arange(OCCASIONS + 1)[:, None] < OCCASIONS, 0.5, 1.0)
    potato = replace(coming(1.0, Picking.STAND, 24), crop="potato", family="potato")
    for left, least in ((never, 1.0), (half, 0.5)):
        struck = replace(potato, blight=Blight(np.full((OCCASIONS + 1, 1), 30), left), spread=1e-9)
        luck = draw_luck(Dealt([struck], [], [], WEEKS, (BLIGHT,)), 4000, 1)
        drawn = luck.yields["onion-1", FOOD]
        drawn = drawn[drawn > 0]
        assert drawn.min() / drawn.max() == pytest.approx(least)
    assert not BLIGHT.strikes(replace(potato, crop="tomato", under_cover=True))
    assert BLIGHT.strikes(replace(potato, crop="tomato"))


@pytest.mark.parametrize("disease", disease_chances(), ids=lambda disease: disease.id)
def test_the_forecast_and_the_catalogue_know_the_same_diseases(disease: DiseaseChance) -> None:
    """What lives in soil is a disease of the catalogue, and strikes only whom it closes ground to;
    every host is a crop or family that there is.
    """
    catalogue = load_catalogue()
    assert set(disease.families) <= set(catalogue.families)
    assert set(disease.crops) <= set(catalogue.crops)
    if disease.lives_in is LivesIn.SOIL:
        known = catalogue.diseases[disease.id]
        assert set(disease.families) <= set(known.closes)
        for crop in disease.crops:
            assert crop in known.closes_crops or catalogue.crops[crop].family in known.closes
