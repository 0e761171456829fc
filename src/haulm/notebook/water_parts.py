"""What a garden tells of its watering, as typed: with what, and by which rules."""

from datetime import date
from typing import Annotated

from pydantic import BeforeValidator, PlainSerializer

from haulm.ground.records import Watered
from haulm.notebook.declaring import Part, key
from haulm.notebook.values import Count, Day, Quantity, Text, Texts, listed
from haulm.water.rules import Dates, Weekday


def _one_or_list(values: tuple[str, ...]) -> str | list[str]:
    """Give one word as it is, several as a list."""
    return str(values[0]) if len(values) == 1 else [str(value) for value in values]


Ways = Annotated[
    tuple[Watered, ...],
    BeforeValidator(listed, json_schema_input_type=Watered | tuple[Watered, ...]),
    PlainSerializer(_one_or_list),
]
Weekdays = Annotated[
    tuple[Weekday, ...],
    BeforeValidator(listed, json_schema_input_type=Weekday | tuple[Weekday, ...]),
    PlainSerializer(_one_or_list),
]


class WateringPart(Part):
    """[watering]: with what the garden is watered."""

    can: Quantity | None = key(
        "What one watering can holds, a volume. Default 10 litres.", "12 l", default=None
    )
    flow: Quantity | None = key(
        "What the hose gives in one minute, a volume. Waterings told in minutes are not counted "
        "when left out.",
        "15 l",
        default=None,
    )
    cans_a_day: Count | None = key(
        "How many cans the household can carry in a day. Not limited when left out.",
        20,
        default=None,
    )


class WaterRulePart(Part):
    """[[water_rule]]: when an authority lets a hose run, and when not."""

    name: Text = key("What it is called.", "Summer order")
    first: Day | None = key(
        "The first day it holds. From ever when left out.",
        date(2027, 6, 1),
        alias="from",
        default=None,
    )
    last: Day | None = key(
        "The last day it holds. Until further notice when left out.",
        date(2027, 9, 30),
        alias="to",
        default=None,
    )
    every_year: bool | None = key(
        "True where it holds on those days of every year. Default false.",
        example=True,
        default=None,
    )
    ways: Ways = key(
        "The ways of watering it is for: can, hose, drip, or a list. Default hose.",
        ["hose", "drip"],
        default=(),
    )
    weekdays: Weekdays = key(
        "The days of the week on which they are allowed all the same.",
        ["tuesday", "saturday"],
        default=(),
    )
    dates: Dates | None = key(
        "Or every second day: odd or even, by its number in the month.", "odd", default=None
    )
    hours: Texts = key(
        "The hours at which they are allowed; with none of these three they are not at all.",
        ["06:00-09:00", "19:00-22:00"],
        default=(),
    )
    exempt: Texts = key("Beds it is not for, by their ids.", ["tunnel"], default=())
