"""When each food could be eaten at a place, fresh or out of a store, and what ground it takes."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from haulm.catalogue.records import Catalogue, Kind
from haulm.desk.beds.ground import family_of_crop
from haulm.desk.beds.weather import weather_around
from haulm.growing.records import Sowing
from haulm.growing.sowings import SowingChoice, sowings
from haulm.growing.weather import GrowingWeather
from haulm.larder.keeping import keep_rules
from haulm.larder.records import KeepRule, StorePlace
from haulm.measure.weeks import WEEKS_A_YEAR, Horizon
from haulm.site.records import MonthlyNormals, Place

YEAR_LOOKED_AT = Horizon(date(2001, 1, 1))
"""Two years of whole weeks from 1 January: the second shows what the first was sown for."""

RUNS, SEED = 10, 1
"""Fewer runs than for a plan: only weeks are wanted here, and at once."""


@dataclass(frozen=True, slots=True)
class FoodSeason:
    """What one food gives at a place.

    Attributes
    ----------
    fresh, kept
        Weeks of the year, from 0 at 1 January, in which it can be eaten fresh and out of a store.
    family
        The family of the kind that gives it from the least ground.
    ground_m2_kg, ground_weeks_kg
        Square metres it takes for each kilogram, and those times the weeks they are held, by the
        sowing that holds least.
    """

    fresh: frozenset[int]
    kept: frozenset[int]
    family: str
    ground_m2_kg: float
    ground_weeks_kg: float


def food_seasons(
    place: Place,
    normals: MonthlyNormals,
    catalogue: Catalogue,
    stores: Sequence[StorePlace],
    least_sound: float,
) -> Mapping[str, FoodSeason]:
    """Work out what can be grown in the open at a place, by food.

    Parameters
    ----------
    place, normals
        Where, and its climate.
    catalogue
        What there is to grow.
    stores
        The household's places to keep food in.
    least_sound
        Kept food counts while this share of a lot is still sound [1].

    Returns
    -------
    A season for each food that some kind can give here; a food that cannot be sown is left out.
    """
    weather = weather_around(normals, place, YEAR_LOOKED_AT, RUNS, SEED)
    families = family_of_crop(catalogue)
    made = [
        sowing for kind in catalogue.kinds.values() for sowing in _open(kind, families, weather)
    ]
    rules = keep_rules(catalogue.kinds.values(), stores)
    return {
        food: season
        for food in catalogue.foods
        if (season := _season(food, made, rules, least_sound)) is not None
    }


def longest_season(weeks: Iterable[int], longest_gap: float) -> tuple[int, int] | None:
    """Find the longest stretch of weeks round the year, gaps up to a length passed over.

    Returns
    -------
    First and last week, the last before the first where it runs over the year's end; None without
    any week. A stretch all round the year is (0, 51).
    """
    known = sorted(set(weeks))
    if not known:
        return None
    gaps = [
        (later - earlier) % WEEKS_A_YEAR or WEEKS_A_YEAR
        for earlier, later in zip(known, known[1:] + known[:1], strict=True)
    ]
    breaks = [number for number, gap in enumerate(gaps) if gap > longest_gap + 1]
    if not breaks:
        return 0, WEEKS_A_YEAR - 1
    stretches = [
        (known[(earlier + 1) % len(known)], known[later])
        for earlier, later in zip(breaks[-1:] + breaks[:-1], breaks, strict=True)
    ]
    return max(stretches, key=lambda stretch: (stretch[1] - stretch[0]) % WEEKS_A_YEAR)


def weeks_long(season: tuple[int, int]) -> int:
    """Count the weeks of a season, both ends included."""
    return (season[1] - season[0]) % WEEKS_A_YEAR + 1


def _open(kind: Kind, families: Mapping[str, str], weather: GrowingWeather) -> tuple[Sowing, ...]:
    return sowings(kind, families[kind.crop], weather, YEAR_LOOKED_AT, SowingChoice())


def _season(
    food: str, made: Sequence[Sowing], rules: Sequence[KeepRule], least_sound: float
) -> FoodSeason | None:
    """Gather a food's season from every sowing that gives it; None where none does."""
    fresh: set[int] = set()
    kept: set[int] = set()
    takes: list[tuple[float, float, str]] = []
    for sowing in made:
        keeping = [rule for rule in rules if (rule.kind, rule.food) == (sowing.kind, food)]
        held = sowing.ground_until_week - sowing.ground_from_week
        for given in sowing.foods:
            if given.food != food:
                continue
            weeks = {week for week, _ in given.week_shares if week >= WEEKS_A_YEAR}
            fresh |= {week % WEEKS_A_YEAR for week in weeks}
            kept |= {
                (week + age) % WEEKS_A_YEAR
                for rule in keeping
                for week in weeks
                for age, sound in enumerate(rule.sound)
                if age >= rule.wait_weeks and sound >= least_sound
            }
            takes.append((held / given.yield_kg_m2, 1.0 / given.yield_kg_m2, sowing.family))
    if not fresh:
        return None
    ground_weeks_kg, ground_m2_kg, family = min(takes)
    return FoodSeason(frozenset(fresh), frozenset(kept), family, ground_m2_kg, ground_weeks_kg)
