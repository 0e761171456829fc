"""What stays for years: what is noticed of a garden's stands, and what a new one would take."""

from collections.abc import Iterator
from dataclasses import replace

from haulm.catalogue.lasting import Perennial
from haulm.catalogue.records import Catalogue, Figure, Food, Kind
from haulm.desk.planning.question import Asked, kinds_that_last
from haulm.growing.perennials import (
    PerennialStand,
    first_year,
    midwinter,
    past_its_life,
    picking_years,
    winter_kill,
)
from haulm.growing.windows import windows
from haulm.household.records import Appetite
from haulm.larder.keeping import keep_rules
from haulm.larder.need import NeedCase, ReadyInfo, need_for
from haulm.larder.records import KeepRule, NeedSum, SumStep
from haulm.measure.day_words import day_text
from haulm.measure.findings import Finding, Grade
from haulm.measure.units import Units, show_area, show_mass
from haulm.measure.weeks import WEEKS_A_YEAR
from haulm.notebook.garden import Garden, StandingCrop

NEARLY_FULL = 0.95
"""From this share of the full yield on a stand is called full-grown [1]."""


def stands_told(garden: Garden, catalogue: Catalogue, asked: Asked) -> tuple[Finding, ...]:
    """Note stands that are past their life, too young to pick, or likely to die in winter."""
    found: list[Finding] = []
    for number, crop in enumerate(garden.standing, start=1):
        kind = catalogue.kinds[crop.kind]
        if kind.perennial is not None:
            where = f"standing {number}, {kind.name}"
            stand = _stand_of(crop, kind, asked)
            found.extend(_age_told(where, stand, kind.perennial, asked))
            found.extend(_winter_told(where, stand, asked))
    return tuple(found)


def _stand_of(crop: StandingCrop, kind: Kind, asked: Asked) -> PerennialStand:
    method = next(method for method in kind.methods if method.id == crop.method)
    covered = next(bed.under_cover for bed in asked.question.beds if bed.id == crop.bed)
    return PerennialStand(kind, kind.crop, method, crop.sown_on, covered)


def _age_told(
    where: str, stand: PerennialStand, perennial: Perennial, asked: Asked
) -> Iterator[Finding]:
    southern = asked.weather.place.southern
    day = asked.question.made_on
    over = past_its_life(stand, day, southern=southern)
    planted = first_year(stand.planted_on, southern=southern)
    if over:
        life = round(perennial.stand_years.value)
        yield Finding(
            where,
            f"planted in {stand.planted_on.year}, it is past the {life} years a stand is worth its "
            "ground; it is counted as if it still bore.",
            "Plant a new one on fresh ground, and clear this once that bears.",
            Grade.NOTE,
        )
    first = planted + perennial.years[0].number - 1
    now = first_year(day, southern=southern)
    if first > now:
        start = midwinter(first, southern=southern)
        yield Finding(
            where,
            "it is too young to pick: the first picking is in the year from"
            f" {day_text(start, year=True)} on.",
            grade=Grade.NOTE,
        )


def _winter_told(where: str, stand: PerennialStand, asked: Asked) -> Iterator[Finding]:
    killed = winter_kill(stand, asked.weather, asked.question.horizon)
    killing = stand.kind.warmth.killing_frost_c
    if killed is not None and isinstance(killing, Figure):
        yield Finding(
            where,
            f"a frost of {killing.value:g} °C kills it uncovered; by {day_text(killed, year=True)}"
            " one has come in more than 2 years of 10, and nothing it gives after that is counted"
            " on.",
            "Cover its crowns with straw or earth before winter, or grow it under cover.",
            Grade.NOTE,
        )


def no_stand(garden: Garden, catalogue: Catalogue, asked: Asked) -> tuple[Finding, ...]:
    """Tell, for each line that only plants kept for years could serve, what a stand would take."""
    question = asked.question
    stood = {food for stand in question.standing for food in _foods(catalogue, stand.sowing.kind)}
    found = []
    for appetite in question.appetites:
        foods = set(appetite.foods)
        if not foods <= set(question.lasting_foods) or foods & stood or not any(appetite.kg):
            continue
        sums = lasting_needs(appetite, garden, catalogue, asked)
        told = (_told(total, catalogue, asked, garden.units) for total in sums[:1])
        what = "only plants that stay for years give it, and the garden tells of none that stands."
        found.append(
            Finding(
                where=f"table, {appetite.name}",
                what=" ".join([what, *told]),
                remedy="A plan of two seasons plants none of it. Plant it by hand; then tell it "
                "under [[standing]] with the day it was planted.",
                grade=Grade.WARNING,
            )
        )
    return tuple(found)


def _foods(catalogue: Catalogue, kind: str) -> tuple[str, ...]:
    return tuple(giving.food for giving in catalogue.kinds[kind].givings)


def _told(total: NeedSum, catalogue: Catalogue, asked: Asked, units: Units) -> str:
    """Say in a sentence what a sum takes: ground, plants, when to plant and how long to wait."""
    kind = catalogue.kinds[total.kind]
    stock = f"{total.stock:.0f} {total.stock_unit}{'' if total.stock == 1 else 's'}"
    first, full = bearing_years(kind)
    waits = f"first picked in year {first}, in full bearing from year {full}"
    if first == full:
        waits = f"in full bearing from year {full}"
    when = _planting_time(kind, asked)
    return (
        f"For {show_mass(total.eaten_kg, units)} a year, {kind.name} would take"
        f" {show_area(total.area_m2, units)} and {stock}{when}; {waits}."
    )


def bearing_years(kind: Kind) -> tuple[int, int]:
    """Give the year of a stand in which it is first picked, and the first of full bearing."""
    if kind.perennial is None:
        return 1, 1
    years = kind.perennial.years
    full = next((one.number for one in years if one.share.value >= NEARLY_FULL), years[-1].number)
    return years[0].number, full


def _planting_time(kind: Kind, asked: Asked) -> str:
    """Say in which weeks it may be planted here; empty where in none."""
    horizon = asked.question.horizon
    for method in kind.methods:
        for window in windows(
            kind, method, under_cover=False, weather=asked.weather, horizon=horizon
        ):
            if window.last_day >= horizon.first_day:
                first = max(window.first_day, horizon.first_day)
                return f", planted {day_text(first)} to {day_text(window.last_day, year=True)}"
    return ""


def lasting_needs(
    appetite: Appetite, garden: Garden, catalogue: Catalogue, asked: Asked
) -> tuple[NeedSum, ...]:
    """Sum up what a full-grown stand of each kind would take to serve a line; the best first."""
    found = [
        total
        for kind in kinds_that_last(garden, catalogue)
        for giving in kind.givings
        if giving.food in appetite.foods
        if (total := _lasting_need(appetite, catalogue.foods[giving.food], kind, asked, garden))
    ]
    return tuple(sorted(found, key=lambda total: (-total.eaten_kg, total.area_m2)))


def _lasting_need(
    appetite: Appetite, food: Food, kind: Kind, asked: Asked, garden: Garden
) -> NeedSum | None:
    """Sum up a full-grown stand; None where nothing of it could be eaten."""
    horizon = asked.question.horizon
    _, full = bearing_years(kind)
    southern = asked.weather.place.southern
    long_ago = midwinter(horizon.first_day.year - full - 1, southern=southern)
    stand = PerennialStand(kind, kind.crop, kind.methods[0], long_ago, under_cover=False)
    years = picking_years(stand, asked.weather, horizon)
    picked = next((one for one in years if one.food == food.id and one.first_week >= 0), None)
    if picked is None:
        return None
    rules = [rule for rule in keep_rules((kind,), garden.stores) if rule.food == food.id]
    keep: KeepRule | None = max(rules, key=lambda rule: len(rule.sound), default=None)
    last = min(picked.until_week - 1, picked.first_week + WEEKS_A_YEAR - 1)
    ready = ReadyInfo(picked.first_week, last)
    total = need_for(appetite, horizon, NeedCase(kind, food, kind.methods[0], ready, keep))
    return with_years(total, kind) if total.eaten_kg > 0 else None


def with_years(total: NeedSum, kind: Kind) -> NeedSum:
    """Add to a sum the years until a stand bears, and for which it lasts."""
    if kind.perennial is None:
        return total
    first, full = bearing_years(kind)
    life = kind.perennial.stand_years.value
    steps = (
        SumStep("first picked, so many growing seasons after planting", f"{first}", first, "years"),
        SumStep("in full bearing from this growing season on", f"{full}", full, "years"),
        SumStep("a stand lasts", f"{life:g}", life, "years"),
    )
    return replace(total, steps=(*total.steps, *steps))
