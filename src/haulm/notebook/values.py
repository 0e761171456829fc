"""What may be typed as a value of garden.toml: numbers, quantities, days, texts.

A form of a page sends everything as text, and so may a hurried hand in a file: a number written as
a text is read as the number.
"""

import re
from datetime import date, datetime
from typing import Annotated

from pydantic import AfterValidator, BeforeValidator, Field, PlainSerializer
from pydantic_core import PydanticCustomError

MONTHS = 12
EARLIEST_YEAR = 1900
LATEST_YEAR = 2200
MANY = 1_000_000
"""No count in a garden is larger."""

MOST = 1e12
"""No amount in a garden is larger; it also keeps out what is not a number."""

_WHOLE = re.compile(r"[-+]?[0-9]{1,18}")
_DECIMAL = re.compile(r"[-+]?(?:[0-9]{1,18}(?:[.,][0-9]{0,18})?|[.,][0-9]{1,18})")
_GROUPED = re.compile(r"[-+]?[1-9][0-9]{0,2},[0-9]{3}")


def _fault(what: str) -> PydanticCustomError:
    """Make the error that pydantic turns into a misfit."""
    return PydanticCustomError("typed_wrongly", "{what}", {"what": what})


def _quantity(value: object) -> object:
    """Let a number or a text pass."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        message = "this must be a number, or a number with its unit."
        raise _fault(message)
    if not isinstance(value, str) and not abs(value) <= MOST:
        message = f"{value} is no amount."
        raise _fault(message)
    return value


def _number(value: object) -> object:
    """Let a number pass, written as a text too."""
    if isinstance(value, str):
        text = value.strip().replace("−", "-")
        if _GROUPED.fullmatch(text):
            message = f"in “{value}” the comma may group thousands or mark decimals."
            raise _fault(message)
        if not _DECIMAL.fullmatch(text):
            message = f"“{value}” is no number." if text else "a number is needed here."
            raise _fault(message)
        return _whole(text) if _WHOLE.fullmatch(text) else float(text.replace(",", "."))
    return _quantity(value)


def _whole(value: object) -> object:
    """Make a whole number of one written as a text; anything else is left for others to judge."""
    if isinstance(value, str) and _WHOLE.fullmatch(value.strip().replace("−", "-")):
        return int(value.strip().replace("−", "-"))
    return value


def _day(value: object) -> object:
    """Let a day of the calendar pass, written by TOML or as a text."""
    if isinstance(value, str):
        try:
            return date.fromisoformat(value.strip())
        except ValueError:
            message = f"“{value}” is no day of the calendar."
            raise _fault(message) from None
    if isinstance(value, datetime) or not isinstance(value, date):
        message = "this must be a day."
        raise _fault(message)
    return value


def _text(value: str) -> str:
    """Let a text with something in it pass."""
    if not value.strip():
        message = "the text is empty."
        raise _fault(message)
    return value


def listed(value: object) -> object:
    """Make a list of one text."""
    return (value,) if isinstance(value, str) else value


def _one_or_several(values: tuple[str, ...]) -> str | list[str]:
    """Give one text as it is, several as a list."""
    return values[0] if len(values) == 1 else list(values)


Quantity = Annotated[int | float | str, BeforeValidator(_quantity)]
Number = Annotated[int | float, BeforeValidator(_number)]
Day = Annotated[date, BeforeValidator(_day)]
Text = Annotated[str, AfterValidator(_text)]
Texts = Annotated[
    tuple[Text, ...],
    BeforeValidator(listed, json_schema_input_type=str | tuple[str, ...]),
    PlainSerializer(_one_or_several),
]
Whole = Annotated[
    int, BeforeValidator(_whole, json_schema_input_type=int), Field(strict=True, ge=-MANY, le=MANY)
]
Year = Annotated[
    int,
    BeforeValidator(_whole, json_schema_input_type=int),
    Field(strict=True, ge=EARLIEST_YEAR, le=LATEST_YEAR),
]
Count = Annotated[
    int, BeforeValidator(_whole, json_schema_input_type=int), Field(strict=True, ge=0, le=MANY)
]
TwelveQuantities = Annotated[tuple[Quantity, ...], Field(min_length=MONTHS, max_length=MONTHS)]
TwelveNumbers = Annotated[tuple[Number, ...], Field(min_length=MONTHS, max_length=MONTHS)]
Corner = Annotated[tuple[Quantity, ...], Field(min_length=2, max_length=2)]
