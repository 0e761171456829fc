"""What stands for years, as a rotation asks for it: ground it holds, and stands worth planting."""

from dataclasses import replace
from datetime import date

from haulm.catalogue.records import Catalogue, Kind
from haulm.desk.beds.ground import too_dark
from haulm.desk.beds.perennials import lasting_needs
from haulm.desk.planning.question import Asked
from haulm.growing.perennials import first_year as first_growing_year
from haulm.household.records import Appetite
from haulm.notebook.garden import Garden
from haulm.planner.question import Standing
from haulm.rotation.records import HeldGround, StandChoice
from haulm.rotation.seasons import QUARTERS, held, season_of

SOUTHERN_END = 2
"""In the south a stand's year ends with the second quarter of the next calendar year."""


def held_ground(asked: Asked, catalogue: Catalogue, first_year: int) -> tuple[HeldGround, ...]:
    """Say what ground is taken already, until which season, and in which year it is cleared."""
    return tuple(_held(one, asked, catalogue, first_year) for one in asked.question.standing)


def _held(one: Standing, asked: Asked, catalogue: Catalogue, first_year: int) -> HeldGround:
    sowing, monday = one.sowing, asked.question.horizon.monday
    kind = catalogue.kinds[sowing.kind]
    if kind.perennial is None:
        until = monday(sowing.ground_until_week)
        last = max(held(sowing.set_on, until))
        return HeldGround(one.bed, kind.id, sowing.family, one.area_m2, last + 1, until.year)
    southern = asked.weather.place.southern
    last_year = _last_year(kind, sowing.set_on, southern=southern)
    worn_out = last_year < first_year
    last_year = max(last_year, first_year)
    end = season_of(last_year + 1, SOUTHERN_END if southern else 0)
    return HeldGround(
        bed=one.bed,
        kind=kind.id,
        family=sowing.family,
        area_m2=one.area_m2,
        until_season=end,
        lifted_year=(end - 1) // QUARTERS,
        worn_out=worn_out,
        lasting=True,
    )


def _last_year(kind: Kind, planted_on: date, *, southern: bool) -> int:
    """Give the last year, by its midwinter, in which a stand is worth its ground."""
    life = round(kind.perennial.stand_years.value) if kind.perennial else 1
    return first_growing_year(planted_on, southern=southern) + life - 1


def stand_choices(
    garden: Garden, catalogue: Catalogue, asked: Asked, span: range
) -> tuple[StandChoice, ...]:
    """Give, for each line that only plants which stay for years can serve, what might be planted.

    Of each line the kind that serves most of it is offered, and of those the one that takes least
    ground.
    """
    lasting = set(asked.question.lasting_foods)
    choices = []
    for appetite in asked.question.appetites:
        if set(appetite.foods) <= lasting and any(appetite.kg):
            choice = _choice(appetite, garden, catalogue, asked, span)
            choices += [choice] if choice is not None else []
    return tuple(choices)


def _choice(
    appetite: Appetite, garden: Garden, catalogue: Catalogue, asked: Asked, span: range
) -> StandChoice | None:
    sums = lasting_needs(appetite, garden, catalogue, asked)
    if not sums:
        return None
    kind = catalogue.kinds[sums[0].kind]
    if kind.perennial is None:
        return None
    shares = tuple((year.number, year.share.value) for year in kind.perennial.years)
    weight = asked.question.prices.priority_weight[appetite.priority - 1]
    choice = StandChoice(
        kind=kind.id,
        family=catalogue.crops[kind.crop].family,
        line=appetite.line,
        food=sums[0].food,
        full_m2=sums[0].area_m2,
        eaten_kg=sums[0].eaten_kg,
        weight=weight,
        year_shares=shares,
        life_years=round(kind.perennial.stand_years.value),
        dark=frozenset(bed for bed, _ in too_dark(garden, [kind])),
    )
    there = tuple(
        (year, share)
        for year in span
        if (share := _there(choice, appetite, catalogue, asked, year)) > 0
    )
    return replace(choice, there=there)


def _there(
    choice: StandChoice, appetite: Appetite, catalogue: Catalogue, asked: Asked, year: int
) -> float:
    """Give the share of a line for which what stands is large enough, till its successor is due."""
    southern = asked.weather.place.southern
    total = 0.0
    for stand in asked.question.standing:
        kind = catalogue.kinds[stand.sowing.kind]
        full = [g.yield_kg_m2.value for g in kind.givings if g.food in appetite.foods]
        if kind.perennial is None or not full:
            continue
        planted = stand.sowing.set_on
        last = _last_year(kind, planted, southern=southern) - choice.bearing_age + 1
        if year <= last:
            total += max(full) * stand.area_m2 / choice.eaten_kg
    return min(1.0, total)
