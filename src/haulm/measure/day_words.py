"""Days, months and spans of days in words."""

from datetime import date

_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
# Abbreviated as an almanac does: never below four letters unless the name is cut at three.
_SHORT = ("Jan", "Feb", "Mar", "Apr", "May", "June", "July", "Aug", "Sept", "Oct", "Nov", "Dec")


def month_name(month: int) -> str:
    """Name a month in full."""
    return _MONTHS[month - 1]


def short_month(month: int) -> str:
    """Name a month as short as an axis allows."""
    return _SHORT[month - 1]


def day_text(day: date, *, year: bool = False) -> str:
    """Write a day, as in 8 Mar or, with its year, 8 Mar 2027."""
    text = f"{day.day} {_SHORT[day.month - 1]}"
    return f"{text} {day.year}" if year else text


def span_text(first: date, last: date, *, year: bool = True) -> str:
    """Write a span of days, as in 8 to 28 Oct 2027; a span into another year names both years."""
    if first == last:
        return day_text(first, year=year)
    if (first.year, first.month) == (last.year, last.month):
        return f"{first.day} to {day_text(last, year=year)}"
    other = first.year != last.year
    return f"{day_text(first, year=other)} to {day_text(last, year=year or other)}"


def long_day(day: date) -> str:
    """Write a day in full, as in 12 July 2027."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def long_span(first: date, last: date) -> str:
    """Write a span of days in full, as in 24 October to 9 November 2027."""
    if first == last:
        return long_day(first)
    if first.year != last.year:
        return f"{long_day(first)} to {long_day(last)}"
    if first.month == last.month:
        return f"{first.day} to {long_day(last)}"
    return f"{first.day} {_MONTHS[first.month - 1]} to {long_day(last)}"
