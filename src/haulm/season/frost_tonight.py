"""Frost by bed: the odds that a night kills what stands there, and what is lost if it does."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import erf, hypot, sqrt

from haulm.season.watch_figures import watch_figures
from haulm.season.watch_records import Stands


@dataclass(frozen=True, slots=True)
class Night:
    """A night that was told.

    Attributes
    ----------
    tmin_c
        The minimum forecast for the garden [°C].
    ahead
        How many nights ahead it is; tonight is 0.
    """

    tmin_c: float
    ahead: int = 0


@dataclass(frozen=True, slots=True)
class BedNight:
    """What a bed's nights differ by, and what a cover laid over it would add [°C].

    ``gain_c`` is against the garden, under 0 for colder; ``cover_c`` what fleece over it adds, 0
    where it lies there already. ``spread_c`` says how far ``gain_c`` may be off.
    """

    bed: str
    gain_c: float
    cover_c: float
    spread_c: float = 0.0


@dataclass(frozen=True, slots=True)
class Tender:
    """A stand with the air's minimum that kills it [°C]."""

    stands: Stands
    kills_c: float


@dataclass(frozen=True, slots=True)
class BedFrost:
    """What a night threatens in one bed: each stand that it kills in one case of twenty or more.

    Attributes
    ----------
    bed
        The bed's id.
    odds
        The odds that the most tender thing that stands there is killed [1].
    covered
        The same under fleece [1].
    lost_kg
        What is lost on average: odds times what each stand is still to give [kg].
    saved_kg
        What fleece saves of it on average [kg].
    at_risk
        What is threatened, by what is lost, the most first.
    """

    bed: str
    odds: float
    covered: float
    lost_kg: float
    saved_kg: float
    at_risk: tuple[Tender, ...]


def kill_odds(night: Night, kills_c: float, bed: BedNight, *, covered: bool = False) -> float:
    """Give the odds that a night at a bed is as cold as what kills, or colder [1].

    The true minimum is taken as normal about what was forecast plus the bed's own difference; its
    standard deviation puts together the forecast's error, which grows by night, the garden's, and
    how far the bed's difference may be off.
    """
    figures = watch_figures()
    later = figures.later_night_error_c.value * night.ahead
    spread = hypot(
        figures.forecast_min_error_c.value + later,
        figures.garden_min_error_c.value,
        bed.spread_c,
    )
    expected = night.tmin_c + bed.gain_c + (bed.cover_c if covered else 0.0)
    return 0.5 * (1.0 + erf((kills_c - expected) / (spread * sqrt(2.0))))


def frost_by_bed(
    night: Night, beds: Sequence[BedNight], tender: Sequence[Tender]
) -> tuple[BedFrost, ...]:
    """Give what a night threatens in each bed, in order of what is lost on average.

    Beds where nothing stands, or nothing that a frost kills, are not given; what is not sure to be
    above ground counts by the share of years in which it is.
    """
    found = []
    named = watch_figures().named_odds.value
    for bed in beds:
        here = [one for one in tender if one.stands.planting.bed == bed.bed and one.stands.up > 0]
        if not here:
            continue
        losses = {
            one: kill_odds(night, one.kills_c, bed) * one.stands.up * one.stands.left_kg
            for one in here
        }
        here.sort(key=lambda one: -losses[one])
        odds = {one: kill_odds(night, one.kills_c, bed) * one.stands.up for one in here}
        under = {
            one: kill_odds(night, one.kills_c, bed, covered=True) * one.stands.up for one in here
        }
        worst = max(odds.values())
        at_risk = tuple(one for one in here if odds[one] >= min(worst, named))
        saved = sum((odds[one] - under[one]) * one.stands.left_kg for one in at_risk)
        covered, lost = max(under.values()), sum(losses.values())
        found.append(BedFrost(bed.bed, worst, covered, lost, saved, at_risk))
    return tuple(sorted(found, key=lambda one: (-one.lost_kg, -one.odds, one.bed)))
