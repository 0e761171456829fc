"""Every rule a plan had to break: how much, at what price, and the sentence that says so."""

import numpy as np

from haulm.plan.records import BrokenRule, HoursWeek, Planting
from haulm.planner.allotted import beyond_allotment
from haulm.planner.arrays import Flags, Floats
from haulm.planner.columns import Columns
from haulm.planner.pin_words import broken_pins
from haulm.planner.question import PlanQuestion
from haulm.planner.rules.registry import (
    ALLOTMENT,
    HOURS,
    NURSERY,
    REST,
    ROTATION,
    SPREAD,
    STORE_SPACE,
)
from haulm.planner.rules.rest import beyond_rest
from haulm.planner.rules.rotation import years_missing
from haulm.planner.rules.spread import beyond_share, stakes
from haulm.planner.tables import Tables
from haulm.planner.taken import NOISE
from haulm.planner.words import amount, area, month, name, room, span


def broken_rules(
    tables: Tables,
    columns: Columns,
    what: tuple[Flags, Floats, Floats],
    plantings: dict[int, Planting],
    hours: tuple[HoursWeek, ...],
) -> tuple[BrokenRule, ...]:
    """Name every priced break.

    Parameters
    ----------
    tables, columns
        The tables and columns.
    what
        (P) used, (P) area [m²], and the values of all columns.
    plantings
        The planting of each pair used.
    hours
        The hours asked and given.
    """
    used, area_m2, values = what
    return (
        *_rotation(tables, used, plantings),
        *_rest(tables, area_m2),
        *_allotment(tables, area_m2),
        *_spread(tables, area_m2),
        *_hours(tables, hours),
        *_nursery(tables, values[columns.over_cells]),
        *_store_space(tables, values[columns.over_store]),
        *broken_pins(tables, area_m2),
    )


def _rotation(tables: Tables, used: Flags, plantings: dict[int, Planting]) -> list[BrokenRule]:
    question = tables.question
    missing = years_missing(tables, used)
    return [
        BrokenRule(
            rule=ROTATION.name,
            where=planting.id,
            amount=planting.area_m2 * float(missing[pair]),
            unit="m² × years",
            price=question.prices.rotation_m2 * planting.area_m2 * float(missing[pair]),
            sentence=(
                f"{planting.id} in {name(question, planting.bed)}:"
                f" {_family(question, planting.family)} comes back {_years(missing[pair])}"
                f" too soon on {area(question, planting.area_m2)}"
            ),
        )
        for pair, planting in plantings.items()
        if missing[pair] > 0
    ]


def _rest(tables: Tables, area_m2: Floats) -> list[BrokenRule]:
    question = tables.question
    return [
        BrokenRule(
            rule=REST.name,
            where=f"{one.family}, {one.year}",
            amount=over,
            unit="m²",
            price=question.prices.rest_m2 * over,
            sentence=(
                f"{_family(question, one.family)} takes {area(question, over)} more ground in"
                f" {one.year} than leaves it its years of rest"
                f" {'under cover' if one.under_cover else 'in the open'}"
            ),
        )
        for one, over in beyond_rest(tables, area_m2)
        if over > NOISE
    ]


def _allotment(tables: Tables, area_m2: Floats) -> list[BrokenRule]:
    question = tables.question
    return [
        BrokenRule(
            rule=ALLOTMENT.name,
            where=f"{tables.ground.beds[one.bed].id}, {one.family}, {one.year}",
            amount=over,
            unit="m²",
            price=question.prices.allotment_m2 * one.years_missing * over,
            sentence=(
                f"{_family(question, one.family)} takes {area(question, over)} more of"
                f" {name(question, tables.ground.beds[one.bed].id)} in {one.year} than the rotation"
                f" leaves it; in {one.later_year} {_years(one.years_missing)} of its rest there"
                " will be missing"
            ),
        )
        for one, over in beyond_allotment(tables, area_m2)
        if over > NOISE
    ]


def _family(question: PlanQuestion, family: str) -> str:
    called = name(question, family)
    return f"the {called}" if called.endswith("family") else f"the {called} family"


def _years(years: float) -> str:
    return "1 year" if years == 1 else f"{years:.0f} years"


def _spread(tables: Tables, area_m2: Floats) -> list[BrokenRule]:
    question = tables.question
    return [
        BrokenRule(
            rule=SPREAD.name,
            where=f"{stake.crop}, {tables.ground.beds[bed].id}",
            amount=over,
            unit="m²",
            price=question.prices.spread_m2 * over,
            sentence=(
                f"{name(question, tables.ground.beds[bed].id)} holds more than"
                f" {question.most_in_one_bed:.0%} of the {name(question, stake.crop)}"
                f" cleared in {stake.year}, by {area(question, over)}"
            ),
        )
        for stake in stakes(tables)
        for bed, over in beyond_share(tables, stake, area_m2).items()
        if over > NOISE
    ]


def _hours(tables: Tables, hours: tuple[HoursWeek, ...]) -> list[BrokenRule]:
    question = tables.question
    return [
        BrokenRule(
            rule=HOURS.name,
            where=question.horizon.label(week.week),
            amount=week.asked_h - week.given_h,
            unit="h",
            price=question.prices.overtime_hour * (week.asked_h - week.given_h),
            sentence=(
                f"the week of {question.horizon.monday(week.week):%d %B %Y} asks"
                f" {span(week.asked_h - week.given_h)} more work than there is time for"
            ),
        )
        for week in hours
        if week.asked_h - week.given_h > NOISE
    ]


def _nursery(tables: Tables, over: Floats) -> list[BrokenRule]:
    question = tables.question
    return [
        BrokenRule(
            rule=NURSERY.name,
            where=question.horizon.label(int(week)),
            amount=float(over[week]),
            unit="cells",
            price=question.prices.over_tray_cell * float(over[week]),
            sentence=(
                f"the trays want {amount(float(over[week]))} cells more than there is room for"
                f" in the week of {question.horizon.monday(int(week)):%d %B %Y}"
            ),
        )
        for week in np.nonzero(over > NOISE)[0]
    ]


def _store_space(tables: Tables, over: Floats) -> list[BrokenRule]:
    question, weeks = tables.question, tables.weeks
    found = []
    for number, store in enumerate(question.stores):
        litres = over[number * weeks : (number + 1) * weeks]
        for week in np.nonzero(litres > NOISE)[0]:
            over_l = float(litres[week])
            found.append(
                BrokenRule(
                    rule=STORE_SPACE.name,
                    where=f"{store.id}, {question.horizon.label(int(week))}",
                    amount=over_l,
                    unit="l",
                    price=question.prices.over_store_l * over_l,
                    sentence=(
                        f"{name(question, store.id)} holds {room(question, over_l)} more than it"
                        f" has room for in {month(question, int(week))}"
                    ),
                )
            )
    return found
