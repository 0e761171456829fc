"""Ground imagined: a garden as if it had one piece in the open and one under cover, to size land.

One piece and not several beds: beds cut up a number that nobody has yet, and a garden of equal
beds would answer for those beds. What beds are for, rest between stands of a family, is asked of
the whole piece: a family that rests g years holds no more than 1 / (g + 1) of it in a year.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from math import inf

from haulm.catalogue.records import Catalogue
from haulm.desk.beds.weather import planning_weather
from haulm.desk.first.first_figures import first_figures
from haulm.desk.garden.opening import Opened
from haulm.desk.odds.certainty import FRESH, spreads_of
from haulm.desk.odds.living import Setting, odds_in, setting_for
from haulm.desk.planning.question import Asked, OnOffer, all_sowings, ask, kinds_for
from haulm.forecast.records import PlanOdds
from haulm.forecast.safety import counted_share
from haulm.ground.outlines import rectangle
from haulm.ground.records import Bed, Cover
from haulm.measure.weeks import horizon_from
from haulm.notebook.garden import Garden
from haulm.plan.records import Plan
from haulm.planner.counted import Shares
from haulm.planner.make import make_counted
from haulm.planner.question import PlanQuestion, Watcher
from haulm.planner.solve import EFFORTS

OPEN, COVERED = "open ground", "ground under cover"
AMPLE_M2 = 100_000.0
"""More ground than any table takes [m²]."""

LOOKED_OVER_WEEKS = 130
"""From autumn over the whole year of eating to the next winter, for which much is sown by then."""

STARTS_NORTH, STARTS_SOUTH = (10, 1), (4, 1)
"""Autumn: all that is eaten from the next summer on can be sown from then."""

NO_LIMIT_H = 1e5
FRESH_SEASONS = 2000


def imagined(garden: Garden, open_m2: float, covered_m2: float) -> Garden:
    """Give a garden as if it had this ground and no other, and nothing yet in ground or store.

    The ground lies in full sun, in the place's soil, in strips as wide as a usual bed; hands and
    trays are not limited, for how many are wanted is an answer. Place, weather, table, stores,
    kinds and prices stay.
    """
    width_m = first_figures()["beds.width_m"]
    pieces = ((OPEN, open_m2, Cover.OPEN), (COVERED, covered_m2, Cover.TUNNEL))
    beds = tuple(
        Bed(name, name, rectangle(width_m, area_m2 / width_m), cover=cover)
        for name, area_m2, cover in pieces
        if area_m2 > 0
    )
    bare = replace(garden, beds=beds, standing=(), lots=(), stock=(), pins=())
    return replace(bare, tray_cells=None)


def growing_year(day: date, *, southern: bool) -> date:
    """Give the autumn day from which land is planned: the last one on or before a day."""
    starts = STARTS_SOUTH if southern else STARTS_NORTH
    this_year = date(day.year, *starts)
    return this_year if this_year <= day else date(day.year - 1, *starts)


@dataclass(frozen=True, slots=True)
class ImaginedGround:
    """A garden's table, place and stores, to be planned on any piece of ground.

    Attributes
    ----------
    opened
        The garden as it is.
    day, seed
        The day it is planned from, and the seed of every random draw.
    covered_m2
        Ground under cover [m²].
    certainty
        Share of years in which promises are to hold [1].
    offer
        What may be sown.
    counted
        By food and year: the share of its mean yield that is counted on [1].
    """

    opened: Opened
    day: date
    seed: int
    covered_m2: float
    certainty: float
    offer: OnOffer
    counted: Shares

    @property
    def catalogue(self) -> Catalogue:
        """What is known of crops."""
        return self.opened.catalogue

    def garden(self, open_m2: float) -> Garden:
        """Give the garden with so much open ground."""
        return imagined(self.opened.garden, open_m2, self.covered_m2)

    def asked(self, open_m2: float) -> Asked:
        """Put the question of the means, as any garden's with that ground would be put."""
        return ask(self.garden(open_m2), self.catalogue, self.day, self.seed, offer=self.offer)

    def question(self, open_m2: float, *, resting: bool = True) -> PlanQuestion:
        """Ask for a plan of so much open ground, families resting on it or not."""
        question = self.asked(open_m2).question
        gaps = question.rotation_gap_years
        return replace(
            question,
            appetites=tuple(replace(one, certainty=self.certainty) for one in question.appetites),
            hours_week=(NO_LIMIT_H,) * question.horizon.weeks,
            rotation_gap_years=dict.fromkeys(gaps, 0),
            most_of_family=shares_of_ground(gaps) if resting else dict.fromkeys(gaps, inf),
        )

    def plan(self, open_m2: float, watch: Watcher | None = None, *, resting: bool = True) -> Plan:
        """Plan so much open ground, counting on what holds in so many years; audited as any plan.

        Raises
        ------
        AuditFailedError, InterruptedPlanError
            As any plan.
        """
        question = self.question(open_m2, resting=resting)
        return make_counted(question, self.counted, EFFORTS["quick"], watch)

    def fresh_odds(self, plan: Plan) -> PlanOdds:
        """Live a plan through seasons of this place that no plan ever saw."""
        seed = self.seed + FRESH
        return odds_in(_setting(self, seed), plan, FRESH_SEASONS, seed)


def shares_of_ground(gap_years: Mapping[str, int]) -> Mapping[str, float]:
    """Give the share of the ground that each family which rests may hold in a year [1].

    Of g + 1 years a piece of ground carries a family that rests g years in one.
    """
    return {family: 1 / (gap + 1) for family, gap in gap_years.items() if gap > 0}


def imagined_ground(
    opened: Opened,
    day: date,
    seed: int,
    certainty: float,
    covered_m2: float,
) -> ImaginedGround:
    """Make a garden ready to be planned on any piece of ground.

    Of each mean yield the share is counted on that one planting reaches in so many years, by the
    lognormal's closed form: several reach it oftener, disease and losses in store less often. To
    count on ever less of what disease takes whole would add ground, and make nothing sure.

    Parameters
    ----------
    opened
        The garden as it is.
    day, seed
        The day that counts as today, and the seed of every random draw.
    certainty
        Share of years in which promises are to hold [1].
    covered_m2
        Ground under cover [m²].
    """
    start = growing_year(day, southern=opened.garden.place.southern)
    garden, catalogue = imagined(opened.garden, AMPLE_M2, covered_m2), opened.catalogue
    horizon = horizon_from(start, LOOKED_OVER_WEEKS)
    weather = planning_weather(garden, horizon, seed)
    kinds = kinds_for(garden, catalogue)
    choice = all_sowings(garden, catalogue, kinds, (weather, horizon))
    offer = OnOffer(horizon, weather, kinds, choice)
    ground = ImaginedGround(opened, start, seed, covered_m2, certainty, offer, {})
    spreads = spreads_of(ground.question(AMPLE_M2))
    counted = {key: counted_share(spread, certainty) for key, spread in spreads.items()}
    on_table = {food for one in garden.household.table for food in one.foods}
    return replace(ground, counted={k: share for k, share in counted.items() if k[0] in on_table})


def _setting(ground: ImaginedGround, seed: int) -> Setting:
    """Set plans of imagined ground in the weather of its place."""
    garden = ground.garden(AMPLE_M2)
    opened = replace(ground.opened, garden=garden)
    return setting_for(ground.question(AMPLE_M2), opened, seed)
