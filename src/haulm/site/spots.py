"""Beds whose nights are other than the garden's: a frost hollow, a warm wall, fleece."""

from collections.abc import Iterable

from haulm.ground.records import Spot
from haulm.site.figures import AirFigure, air_figures
from haulm.site.frost import FROST_C, USUAL_ODDS, frost_odds
from haulm.site.records import FrostOdds, Place, Weather

_NAMES = {
    Spot.FROST_HOLLOW: "night_gain_frost_hollow_c",
    Spot.WARM_WALL: "night_gain_warm_wall_c",
    Spot.FLEECE: "night_gain_fleece_c",
}


def night_gain(spot: Spot) -> AirFigure:
    """Give the figure of how much warmer nights are at one sort of spot than in the garden [°C]."""
    return air_figures()[_NAMES[spot]]


def night_gain_c(spots: Iterable[Spot]) -> float:
    """Add up how much warmer nights are at a bed than in the garden, under 0 for colder [°C]."""
    return sum(night_gain(spot).value for spot in spots)


def spot_frosts(weather: Weather, place: Place, spots: Iterable[Spot], seed: int = 1) -> FrostOdds:
    """Give the odds of frost at a bed whose nights are other than the garden's.

    Where nights are 2 °C colder it freezes whenever the garden's own go down to 2 °C: the odds are
    those of the garden at a threshold so much higher, told as odds of frost.

    Raises
    ------
    FaultsFoundError
        If the weather known is too little to fit the generator to.

    Notes
    -----
    One gain for every night, though a hollow is colder on clear nights alone: those are the nights
    that matter to the last and the first frost.
    """
    return frost_odds(weather, place, FROST_C - night_gain_c(spots), USUAL_ODDS, seed)
