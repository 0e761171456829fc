"""The household from garden.toml: eaters, days away, hours, and the table."""

import re
from collections.abc import Sequence

from haulm.household.records import Away, Eater, Household, MonthDay, TableLine, Wanted
from haulm.measure.units import parse_mass_kg
from haulm.notebook.document import (
    AwayPart,
    EaterPart,
    GardenDocument,
    HoursPart,
    TablePart,
)
from haulm.notebook.faults import Gathered, Place
from haulm.notebook.names import suggest
from haulm.notebook.values import MONTHS

HOURS_OF_A_WEEK = 168.0
USUAL_PRIORITY = 3
HIGHEST_PRIORITY = 5
LEAST_YEARS_IN_10, MOST_YEARS_IN_10 = 5, 9.5
"""Between these a plan can be made for a certainty: trials tell little of rarer years."""


def household_from(document: GardenDocument, gathered: Gathered) -> Household:
    """Make the household; what is faulty is noted and left out."""
    return Household(
        eaters=_eaters(document.eater, gathered),
        away=_away(document.away, [eater.name for eater in document.eater], gathered),
        table=table_from(document.table, gathered),
        hours_week=_hours(document.hours, gathered),
        certainty=_certainty(("garden", "certainty"), document.garden.certainty, gathered),
    )


def _eaters(parts: Sequence[EaterPart], gathered: Gathered) -> tuple[Eater, ...]:
    """Make the eaters; none at all is a warning."""
    if not parts and "eater" not in gathered.numbers:
        gathered.warn(
            ("eater",),
            "nobody eats here, so what is wanted by the portion is not wanted at all.",
            "Add each one who eats.",
        )
    gathered.once_each("eater", [part.name for part in parts], key="name")
    for number, part in enumerate(parts):
        if part.age is None and part.portions is None:
            gathered.fault(
                ("eater", number, "age"),
                f"{part.name} has neither an age nor portions.",
                "Give an age in years, or portions: 1 for one who eats as an adult does.",
            )
        if part.portions is not None and part.portions < 0:
            gathered.fault(
                ("eater", number, "portions"),
                f"{part.portions:g} portions is less than nothing.",
                "Write 1 for an adult's portion, 0 for one who eats none.",
            )
    return tuple(Eater(part.name, part.age, part.portions) for part in parts)


def _away(parts: Sequence[AwayPart], eaters: Sequence[str], gathered: Gathered) -> tuple[Away, ...]:
    """Make the days away."""
    for number, part in enumerate(parts):
        if part.last < part.first:
            gathered.fault(
                ("away", number, "to"),
                f"it ends on {part.last} before it begins on {part.first}.",
                "Give the earlier day first.",
            )
        for at, name in enumerate(part.who):
            if name not in eaters and name not in gathered.lost_ids:
                gathered.fault(
                    ("away", number, "who", at),
                    f"nobody here is called “{name}”.",
                    suggest(name, eaters, "Use the name of one who eats here."),
                )
    return tuple(Away(part.first, part.last, part.who) for part in parts)


def _hours(part: HoursPart | None, gathered: Gathered) -> tuple[float, ...]:
    """Give twelve figures [h/week]; where none were told, every hour there is, with a warning."""
    every, by_month = (part.every_week, part.by_month) if part else (None, None)
    if every is not None and by_month is not None:
        gathered.fault(
            ("hours",),
            "hours are given both for every week and by month.",
            "Keep one of the two.",
        )
    if every is None and by_month is None:
        gathered.warn(
            ("hours",),
            "no hours are given, so plans are made as if time had no end.",
            "Say how many hours a week there are.",
        )
        return (HOURS_OF_A_WEEK,) * MONTHS
    hours = by_month if by_month is not None else (every or 0,) * MONTHS
    key = "by_month" if by_month is not None else "every_week"
    for wrong in sorted({h for h in hours if not 0 <= h <= HOURS_OF_A_WEEK}):
        gathered.fault(
            ("hours", key),
            f"{wrong:g} hours are not hours of a week.",
            "Write hours from 0 to 168.",
        )
    return tuple(float(hour) for hour in hours)


def table_from(parts: Sequence[TablePart], gathered: Gathered) -> tuple[TableLine, ...]:
    """Make the table's lines; no lines at all is a warning."""
    if not parts and "table" not in gathered.numbers:
        gathered.warn(
            ("table",),
            "nothing is on the table, so there is nothing to plan for.",
            "Add each food that is eaten.",
        )
    lines = tuple(_line(part, number, gathered) for number, part in enumerate(parts))
    ids = [line.id for line in lines]
    gathered.once_each("table", ids, key="name", remedy="Give one of them another name.")
    return lines


def _line(part: TablePart, number: int, gathered: Gathered) -> TableLine:
    """Make one line of the table."""
    place = ("table", number)
    foods = tuple(
        gathered.food((*place, "eat") if len(part.eat) == 1 else (*place, "eat", at), food)
        for at, food in enumerate(part.eat)
    )
    name = part.name or " or ".join(part.eat)
    kg_week, portions_week = _how_much(part, number, gathered)
    first, last = _season(part, number, gathered)
    priority = USUAL_PRIORITY if part.priority is None else part.priority
    if not 1 <= priority <= HIGHEST_PRIORITY:
        gathered.fault(
            (*place, "priority"),
            f"{priority} is no priority.",
            "Write 1 (nice to have) to 5 (must not run short).",
        )
    return TableLine(
        id=slug(name) if part.name or len(foods) > 1 else foods[0],
        name=name,
        foods=foods,
        kg_week=kg_week,
        portions_week=portions_week,
        first=first,
        last=last,
        wanted=part.wanted or Wanted.EITHER,
        priority=priority,
        share_to_grow=gathered.share(
            ("table", number, "grow_share"), 1 if part.grow_share is None else part.grow_share
        ),
        certainty=_certainty((*place, "certainty"), part.certainty, gathered),
    )


def _certainty(place: Place, years_in_10: float | None, gathered: Gathered) -> float | None:
    """Give the share of years in which promises are to hold [1]; None where it was not told."""
    if years_in_10 is None:
        return None
    if not LEAST_YEARS_IN_10 <= years_in_10 <= MOST_YEARS_IN_10:
        gathered.fault(
            place,
            f"{years_in_10:g} years in 10 cannot be planned for.",
            f"Write {LEAST_YEARS_IN_10:g} to {MOST_YEARS_IN_10:g}, or leave it out to plan by "
            "means.",
        )
    return years_in_10 / 10


def slug(name: str) -> str:
    """Make a short id of a name: small letters and figures, joined by hyphens."""
    return re.sub(r"[^\w]+", "-", name.casefold()).strip("-") or name


def _how_much(
    part: TablePart, number: int, gathered: Gathered
) -> tuple[float | None, float | None]:
    """Give the week's kilograms or portions, whichever was given."""
    place = ("table", number)
    if (part.amount is None) == (part.portions is None):
        both = "both an amount and portions are" if part.amount is not None else "no amount is"
        gathered.fault(
            (*place, "amount"),
            f"{both} given.",
            "Give either the household's week by weight, as in 0.3 kg, or portions for each adult.",
        )
    if part.portions is not None and part.portions <= 0:
        gathered.fault(
            (*place, "portions"),
            f"{part.portions:g} portions are nothing.",
            "Write more than 0, or take the line out.",
        )
    kg_week = gathered.above_nothing((*place, "amount"), part.amount, parse_mass_kg)
    return kg_week, None if part.portions is None else float(part.portions)


def _season(
    part: TablePart, number: int, gathered: Gathered
) -> tuple[MonthDay | None, MonthDay | None]:
    """Give the first and last day of the year; None for all year."""
    ends = {"from": part.first, "to": part.last}
    if (part.first is None) != (part.last is None):
        lacking, words = ("to", "last") if part.last is None else ("from", "first")
        gathered.fault(
            ("table", number, lacking),
            f"the {words} day of the season is missing.",
            "Add it, or leave both days out to want it all year.",
        )
    first, last = (
        None if typed is None else gathered.day_of_year(("table", number, key), typed)
        for key, typed in ends.items()
    )
    return first and MonthDay(*first), last and MonthDay(*last)
