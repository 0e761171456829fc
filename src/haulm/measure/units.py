"""Quantities as growers write them, read into one base unit each, and shown again.

A plain number (an int or a float) is taken to be in the base unit named by the function; a text
must name its unit, because "15" alone may be centimetres or metres; only nothing is the same in
every unit, so a bare "0" is read, but for a temperature. Decimal point and decimal
comma are both read; a comma or a space that may group thousands is refused, never guessed.

Conversion factors come from pint's registry (exact international yard and pound definitions).
"""

import math
import re
from functools import cache
from typing import Literal

import pint

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding
from haulm.measure.near import near_names
from haulm.measure.unit_words import BASE, DOUBTFUL, EXAMPLE, NAMED, UNITS

AT_LEAST_NOTHING = "Write 0 or more."

Value = str | float
Term = tuple[float, str]
"""A number and the word written behind it; the word is empty where none was written."""

_FRACTIONS = str.maketrans(
    {
        "½": " 1/2 ",
        "⅓": " 1/3 ",
        "⅔": " 2/3 ",
        "¼": " 1/4 ",
        "¾": " 3/4 ",
        "⅛": " 1/8 ",
        "⅜": " 3/8 ",
        "⅝": " 5/8 ",
        "⅞": " 7/8 ",
        "⁄": "/",
        "−": "-",
        "\u00a0": " ",
        "\u202f": " ",
    }
)
_POWER = re.compile(r"(?<=[A-Za-z])\^?([23])(?![\d/])")
_TERM = re.compile(r"\s*(\d[\d.,]*(?:/\d+|\s+\d+/\d+)?|[.,]\d+)\s*([^\d.,+\s][^\d,+]*)?")
_WITH_FRACTION = re.compile(r"(?:(\d+)\s+)?(\d+)/(\d+)")
_DECIMAL = re.compile(r"\d*[.,]\d+|\d+")
_GROUPED = re.compile(r"[1-9]\d{0,2}(?:,\d{3})+")
_TIMES = re.compile(r"\s*[x×*]\s*|\s+by\s+", re.IGNORECASE)


def parse_length_m(value: Value, where: str) -> float:
    """Read a length [m], as in ``1.2 m``, ``15 cm``, ``6 ft 3 in`` or ``½ in``; may be negative.

    Parameters
    ----------
    value
        What was written; a plain number is in metres.
    where
        The place in the user's data, for the finding.

    Raises
    ------
    FaultsFoundError
        With one finding: no number, no unit, an unknown unit, a unit of something else, or a
        comma that may group thousands.
    """
    return _read(value, "length", where)


def parse_area_m2(value: Value, where: str) -> float:
    """Read an area [m²]; a plain number is in square metres. Refuses what is under nothing."""
    return _at_least_nothing(_read(value, "area", where), value, where)


def parse_mass_kg(value: Value, where: str) -> float:
    """Read a mass [kg]; a plain number is in kilograms. Refuses what is under nothing."""
    return _at_least_nothing(_read(value, "mass", where), value, where)


def parse_volume_l(value: Value, where: str) -> float:
    """Read a volume [litres]; a plain number is in litres. Refuses what is under nothing."""
    return _at_least_nothing(_read(value, "volume", where), value, where)


def parse_rain_mm(value: Value, where: str) -> float:
    """Read a depth of rain [mm]; a plain number is in millimetres. Refuses what is under nothing.

    A litre on a square metre is a millimetre.
    """
    return _at_least_nothing(_read(value, "rain", where), value, where)


def parse_duration_min(value: Value, where: str) -> float:
    """Read a length of time [minutes]; a plain number is in minutes. Refuses less than nothing."""
    return _at_least_nothing(_read(value, "duration", where), value, where)


def parse_temperature_c(value: Value, where: str) -> float:
    """Read a temperature [°C]; a plain number is in degrees Celsius."""
    return _read(value, "temperature", where)


def parse_quantity(value: Value, quantity: str, where: str) -> float:
    """Read any quantity of `haulm.measure.unit_words`, in that quantity's base unit.

    A plain number is in the base unit; it may be under nothing.

    Raises
    ------
    FaultsFoundError
        With one finding, as in `parse_length_m`.
    """
    return _read(value, quantity, where)


def parse_dimensions_m(text: str, where: str) -> tuple[float, float]:
    """Read two lengths [m], as in ``1.2 x 4.8 m``, ``4 × 16 ft`` or ``120 cm by 4.8 m``.

    A first length without a unit takes the unit of the second, as it is spoken.

    Raises
    ------
    FaultsFoundError
        With a finding for each length that cannot be read, or one where there are not two.
    """
    parts = _TIMES.split(_plain_signs(text).strip())
    if len(parts) != 2:  # noqa: PLR2004 - a rectangle has two sides
        raise _fault(
            where,
            f"“{text}” is not two lengths.",
            "Write width × length with a unit, as in 1.2 x 4.8 m or 4 x 16 ft.",
        )
    shared = _shared_word(parts[1])
    if shared and _is_bare(parts[0]):
        parts[0] = f"{parts[0]} {shared}"
    lengths: list[float] = []
    findings: list[Finding] = []
    for part in parts:
        try:
            lengths.append(_read(part, "length", where))
        except FaultsFoundError as refused:
            findings.extend(refused.findings)
    if findings:
        raise FaultsFoundError(findings)
    return lengths[0], lengths[1]


def _shared_word(text: str) -> str:
    """Give the unit's word of a length of one term; empty for feet with inches and the like."""
    found = _TERM.fullmatch(text.strip())
    return (found.group(2) or "").strip() if found else ""


def _is_bare(text: str) -> bool:
    found = _TERM.fullmatch(text.strip())
    return found is not None and found.group(2) is None


def _read(value: Value, quantity: str, where: str) -> float:
    if not isinstance(value, str):
        if isinstance(value, bool) or not math.isfinite(value):
            raise _fault(
                where,
                f"“{value}” is not {NAMED[quantity]}.",
                f"Write it as in {EXAMPLE[quantity]}.",
            )
        return float(value)
    text = _plain_signs(value).strip()
    sign = -1.0 if text.startswith("-") else 1.0
    terms = _terms(text.lstrip("+-"), value, quantity, where)
    if terms == [(0.0, "")] and quantity != "temperature":
        return 0.0
    units = [_unit(word, value, quantity, where) for _, word in terms]
    if quantity == "temperature":
        if len(terms) != 1:
            raise _fault(where, f"“{value}” is not one temperature.", f"Write {EXAMPLE[quantity]}.")
        return _tidy(_celsius(sign * terms[0][0], units[0]))
    sizes = [_factor(unit, quantity) for unit in units]
    for (number, word), size, before in zip(terms[1:], sizes[1:], sizes, strict=False):
        if number * size >= before:
            raise _fault(
                where,
                f"in “{value}” the part {number:g} {word} is not smaller than the unit before it.",
                f"Write it as in {EXAMPLE[quantity]}.",
            )
    return _tidy(sign * sum(number * size for (number, _), size in zip(terms, sizes, strict=True)))


def _plain_signs(text: str) -> str:
    return _POWER.sub(
        lambda power: {"2": "²", "3": "³"}[power.group(1)], text.translate(_FRACTIONS)
    )


def _terms(text: str, written: str, quantity: str, where: str) -> list[Term]:
    """Split a text into numbers with their units, all of it accounted for."""
    terms: list[Term] = []
    at = 0
    while at < len(text.rstrip()):
        found = _TERM.match(text, at)
        if found is None:
            raise _fault(
                where,
                f"“{written}” is not {NAMED[quantity]}: a number with a unit is wanted.",
                f"Write it as in {EXAMPLE[quantity]}.",
            )
        terms.append((_number(found.group(1), written, where), (found.group(2) or "").strip()))
        at = found.end()
    if not terms:
        raise _fault(
            where,
            f"{NAMED[quantity]} is wanted, and nothing is written.",
            f"Write it as in {EXAMPLE[quantity]}.",
        )
    return terms


def _number(text: str, written: str, where: str) -> float:
    if _GROUPED.fullmatch(text):
        raise _fault(
            where,
            f"in “{written}” the comma may group thousands or mark decimals.",
            f"Write {text.replace(',', '')}, or {text.replace(',', '.', 1)} if decimals are meant.",
        )
    fraction = _WITH_FRACTION.fullmatch(text)
    if fraction and int(fraction.group(3)) > 0:
        return int(fraction.group(1) or 0) + int(fraction.group(2)) / int(fraction.group(3))
    if not _DECIMAL.fullmatch(text):
        raise _fault(
            where,
            f"in “{written}” the number {text} cannot be read.",
            "Write it with one decimal mark and nothing between thousands, as in 1234.5.",
        )
    return float(text.replace(",", "."))


def _unit(word: str, written: str, quantity: str, where: str) -> str:
    """Give pint's name for a unit as written, or refuse it with the reason."""
    known = UNITS[quantity]
    plain = " ".join(word.casefold().replace(".", "").split())
    if plain in known:
        return known[plain]
    if not plain:
        raise _fault(
            where,
            f"“{written}” has a number without a unit.",
            f"Write it as in {EXAMPLE[quantity]}.",
        )
    if plain in DOUBTFUL:
        raise _fault(where, f"“{word}” in “{written}” may mean two sizes.", DOUBTFUL[plain])
    others = [other for other, table in UNITS.items() if plain in table]
    if others:
        raise _fault(
            where,
            f"“{written}” is in a unit of {others[0]}, but {NAMED[quantity]} is wanted.",
            f"Write it as in {EXAMPLE[quantity]}.",
        )
    near = near_names(plain, known)
    raise _fault(
        where,
        f"the unit “{word}” in “{written}” is not known.",
        f"Is {' or '.join(near)} meant?" if near else f"Write it as in {EXAMPLE[quantity]}.",
    )


def _at_least_nothing(amount: float, value: Value, where: str) -> float:
    if amount < 0:
        raise _fault(where, f"“{value}” is less than nothing.", AT_LEAST_NOTHING)
    return amount


@cache
def registry() -> pint.UnitRegistry[float]:
    """Make the one registry of units on first use: it takes a tenth of a second."""
    return pint.UnitRegistry()


@cache
def _factor(unit: str, quantity: str) -> float:
    """Give the size of a unit in the quantity's base unit."""
    if unit == BASE[quantity]:
        return 1.0
    return _tidy(float(registry().Quantity(1.0, unit).to(BASE[quantity]).magnitude))


def _celsius(degrees: float, unit: str) -> float:
    if unit == BASE["temperature"]:
        return degrees
    return float(registry().Quantity(degrees, unit).to(BASE["temperature"]).magnitude)


def _tidy(number: float) -> float:
    """Drop the rounding dust of binary arithmetic: 4 ft is 1.2192 m, not 1.2191999999999998."""
    return float(f"{number:.12g}")


def _fault(where: str, what: str, remedy: str) -> FaultsFoundError:
    return FaultsFoundError([Finding(where, what, remedy)])


Units = Literal["metric", "us"]
"""How quantities are shown: in metric units or in those of the United States."""

NOT_KNOWN = "not known"
"""Shown in place of a figure that is missing, never 0."""

FOOT_M = 0.3048
"""The international foot [m], exact by definition."""

INCHES_A_FOOT = 12
OUNCES_A_POUND = 16
INCH_PARTS = 8


def show_mass(kg: float, units: Units) -> str:
    """Show a mass: grams under 1 kg, else kilograms; ounces under 16, as written, else pounds."""
    if units == "metric":
        return _shown(kg * 1000, "g", 0) if abs(kg) < 1 else _shown(kg, "kg")
    pounds = kg / _factor("pound", "mass")
    ounces = kg / _factor("ounce", "mass")
    small = abs(float(f"{ounces:.3g}")) < OUNCES_A_POUND
    return _shown(ounces, "oz") if small else _shown(pounds, "lb")


def show_length(m: float, units: Units) -> str:
    """Show a length: centimetres under 1 m, else metres; feet and inches to the nearest ⅛ inch."""
    if units == "metric" or not math.isfinite(m):
        return _shown(m * 100, "cm", 1) if abs(m) < 1 else _shown(m, "m", 2)
    eighths = round(abs(m) / _factor("inch", "length") * INCH_PARTS)
    feet, rest = divmod(eighths, INCH_PARTS * INCHES_A_FOOT)
    parts = [f"{feet} ft"] if feet else []
    if rest or not feet:
        parts.append(f"{_inches(rest)} in")
    return ("−" if m < 0 and eighths else "") + " ".join(parts)


def show_area(m2: float, units: Units) -> str:
    """Show an area in square metres or square feet."""
    return (
        _shown(m2, "m²") if units == "metric" else _shown(m2 / _factor("foot**2", "area"), "sq ft")
    )


def show_yield(kg_m2: float, units: Units) -> str:
    """Show a yield of ground in kilograms a square metre or pounds a square foot."""
    if units == "metric":
        return _shown(kg_m2, "kg/m²", 2)
    each = _factor("pound", "mass") / _factor("foot**2", "area")
    return _shown(kg_m2 / each, "lb/sq ft", 2)


def show_volume(litres: float, units: Units) -> str:
    """Show a volume in litres or US gallons."""
    if units == "metric":
        return _shown(litres, "l")
    return _shown(litres / _factor("US_liquid_gallon", "volume"), "US gal")


def show_rain(mm: float, units: Units) -> str:
    """Show a depth of rain in whole millimetres or tenths of an inch."""
    if units == "metric":
        return _shown(mm, "mm", 0)
    return _shown(mm / _factor("inch", "rain"), "in", 1)


def fahrenheit(celsius: float) -> float:
    """Give a temperature in degrees Fahrenheit."""
    return celsius * 9 / 5 + 32


def show_temperature(celsius: float, units: Units) -> str:
    """Show a temperature to a tenth of a degree Celsius or a whole degree Fahrenheit."""
    if units == "metric":
        return _shown(celsius, "°C", 1)
    return _shown(fahrenheit(celsius), "°F", 0)


def _inches(eighths: int) -> str:
    whole, part = divmod(eighths, INCH_PARTS)
    shared = math.gcd(part, INCH_PARTS)
    fraction = f"{part // shared}/{INCH_PARTS // shared}" if part else ""
    return " ".join(filter(None, [str(whole) if whole or not part else "", fraction]))


def _shown(amount: float, unit: str, decimals: int | None = None) -> str:
    """Round to three figures or to ``decimals``, end zeros dropped, with a true minus sign."""
    if not math.isfinite(amount):
        return NOT_KNOWN
    if decimals is None:
        size = max(abs(amount), 0.1)
        decimals = max(0, 2 - math.floor(math.log10(size)))
    text = f"{amount:.{min(decimals, 2)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    text = "0" if text == "-0" else text.replace("-", "−")
    return f"{text} {unit}"
