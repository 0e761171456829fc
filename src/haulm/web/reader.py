"""How this reader likes figures and dates: units, decimal mark, order of day and month."""

import re
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from babel.dates import format_date
from babel.numbers import format_decimal

from haulm.measure.customary import show_temperatures
from haulm.measure.units import (
    NOT_KNOWN,
    Units,
    show_area,
    show_length,
    show_mass,
    show_rain,
    show_temperature,
    show_volume,
)
from haulm.web.words import language

COOKIE = "reading"


class Numbers(StrEnum):
    """How a number is marked: 1,234.5 or 1.234,5 or 1 234,5."""

    POINT = "point"
    COMMA = "comma"
    SPACE = "space"


class Dates(StrEnum):
    """The order of a date: 12 July 2027, July 12, 2027, or 2027-07-12."""

    DAY_FIRST = "day"
    MONTH_FIRST = "month"
    YEAR_FIRST = "year"


_LOCALE = {Numbers.POINT: "en", Numbers.COMMA: "de", Numbers.SPACE: "fr"}
_LONG = {
    Dates.DAY_FIRST: "d MMM y",
    Dates.MONTH_FIRST: "MMM d, y",
    Dates.YEAR_FIRST: "yyyy-MM-dd",
}
_SHORT = {Dates.DAY_FIRST: "d MMM", Dates.MONTH_FIRST: "MMM d", Dates.YEAR_FIRST: "MM-dd"}
_FULL = {
    Dates.DAY_FIRST: "EEEE d MMMM y",
    Dates.MONTH_FIRST: "EEEE, MMMM d, y",
    Dates.YEAR_FIRST: "EEEE yyyy-MM-dd",
}
_DRAWING = re.compile(r"<svg\b.*?</svg>", re.DOTALL)
_WORDS = re.compile(r">[^<]+<")
_ISO_DAY = re.compile(r"\b\d{4}-\d{2}-\d{2}\b")
_DECIMAL_POINT = re.compile(r"(?<=\d)\.(?=\d)")


@dataclass(frozen=True, slots=True)
class Reader:
    """Writes figures and dates as this reader likes them.

    Attributes
    ----------
    units
        Metric or us, as the garden says.
    numbers, dates
        Which marks and which order.
    """

    units: Units = "metric"
    numbers: Numbers = Numbers.POINT
    dates: Dates = Dates.DAY_FIRST

    def number(self, value: float | None, decimals: int = 0) -> str:
        """Write a number, with thousands grouped; what is missing is said to be not known."""
        if value is None or value != value:  # noqa: PLR0124 - only what is no number differs so
            return NOT_KNOWN
        pattern = "#,##0" + ("." + "0" * decimals if decimals else "")
        return format_decimal(value, pattern, locale=_LOCALE[self.numbers]).replace("-", "−")

    def mass(self, kg: float) -> str:
        """Write a mass."""
        return self.said(show_mass(kg, self.units))

    def area(self, m2: float) -> str:
        """Write an area."""
        return self.said(show_area(m2, self.units))

    def length(self, m: float) -> str:
        """Write a length."""
        return self.said(show_length(m, self.units))

    def volume(self, litres: float) -> str:
        """Write a volume."""
        return self.said(show_volume(litres, self.units))

    def rain(self, mm: float) -> str:
        """Write a depth of rain."""
        return self.said(show_rain(mm, self.units))

    def temperature(self, celsius: float) -> str:
        """Write a temperature."""
        return self.said(show_temperature(celsius, self.units))

    def share(self, part: float, decimals: int = 0) -> str:
        """Write a share as per cent."""
        return f"{self.number(part * 100, decimals)} %"

    def said(self, sentence: str) -> str:
        """Give a sentence of the engine with the reader's own degrees and decimal mark."""
        sentence = show_temperatures(sentence, self.units)
        if self.numbers is Numbers.POINT:
            return sentence
        return _DECIMAL_POINT.sub(",", sentence)

    def with_days(self, words: str) -> str:
        """Give words with the days in them, written 2027-02-05, in the reader's own order."""
        return _ISO_DAY.sub(self._day_or_words, words)

    def _day_or_words(self, found: re.Match[str]) -> str:
        try:
            return self.day(date.fromisoformat(found.group()))
        except ValueError:
            return found.group()

    def drawn(self, html: str) -> str:
        """Give a page with the reader's own decimal mark in the words of its drawings."""
        if self.numbers is Numbers.POINT:
            return html
        return _DRAWING.sub(lambda svg: _WORDS.sub(self._marked, svg.group()), html)

    def _marked(self, words: re.Match[str]) -> str:
        return self.said(words.group())

    def day(self, when: date) -> str:
        """Write a day with its year."""
        return format_date(when, _LONG[self.dates], locale=language())

    def short_day(self, when: date) -> str:
        """Write a day without its year."""
        return format_date(when, _SHORT[self.dates], locale=language())

    def month(self, when: date) -> str:
        """Write the month of a day with its year."""
        return format_date(when, "MMMM y", locale=language())

    def weekday(self, when: date) -> str:
        """Write a day with its weekday, without its year."""
        return f"{format_date(when, 'EEE', locale=language())} {self.short_day(when)}"

    def full_day(self, when: date) -> str:
        """Write a day with its weekday, month in full and year."""
        return format_date(when, _FULL[self.dates], locale=language())


def reader_from(cookie: str | None, units: Units) -> Reader:
    """Read a reader's choices from the cookie that holds them, as ``comma.day``."""
    numbers, _, dates = (cookie or "").partition(".")
    return Reader(
        units,
        Numbers(numbers) if numbers in set(Numbers) else Numbers.POINT,
        Dates(dates) if dates in set(Dates) else Dates.DAY_FIRST,
    )


def cookie_of(numbers: str, dates: str) -> str:
    """Write choices as a cookie; what is not known falls back to the first of its kind."""
    reader = reader_from(f"{numbers}.{dates}", "metric")
    return f"{reader.numbers.value}.{reader.dates.value}"
