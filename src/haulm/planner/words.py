"""How the planner words things: months, kilograms and names, rounded for reading only."""

from haulm.measure.units import FOOT_M, Units, show_area, show_mass, show_volume
from haulm.planner.question import PlanQuestion

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
YEAR_WEEKS = 53
WHOLE_FROM = 10.0
TENTHS_FROM = 1.0
HUNDRED_GRAMS_KG = 0.1
GRAMS_A_KG = 1000.0
MINUTES_AN_HOUR = 60.0
SQUARE_FOOT_M2 = FOOT_M**2


def amount(value: float) -> str:
    """Write a quantity with about two figures, as one would say it."""
    if value >= WHOLE_FROM:
        return f"{value:.0f}"
    return f"{value:.1f}" if value >= TENTHS_FROM else f"{value:.2g}"


def weight(question: PlanQuestion, kilograms: float) -> str:
    """Write a weight, in grams where it is less than a hundred of them; in lb and oz for the US."""
    if question.units == "us":
        return show_mass(kilograms, "us")
    if kilograms >= HUNDRED_GRAMS_KG:
        return f"{amount(kilograms)} kg"
    return f"{max(1.0, kilograms * GRAMS_A_KG):.0f} g"


def area(question: PlanQuestion, square_metres: float) -> str:
    """Write an area as it is pegged out, to a tenth of a square metre or a hundredth."""
    return pegged(question.units, square_metres)


def pegged(units: Units, square_metres: float) -> str:
    """Write an area as it is pegged out, in the units it is to be read in."""
    if units == "us":
        return show_area(square_metres, "us")
    places = 1 if square_metres >= WHOLE_FROM else 2
    return f"{square_metres:.{places}f} m²"


def gives(question: PlanQuestion, kg_m2: float) -> str:
    """Write what a piece of ground gives: *3.1 kg a m²*, *0.63 lb a sq ft*."""
    if question.units == "us":
        return f"{show_mass(kg_m2 * SQUARE_FOOT_M2, 'us')} a sq ft"
    return f"{amount(kg_m2)} kg a m²"


def stands(question: PlanQuestion, plants_m2: float) -> str:
    """Write how densely plants stand: *44 plants a m²*, *4.1 plants a sq ft*."""
    if question.units == "us":
        return f"{amount(plants_m2 * SQUARE_FOOT_M2)} plants a sq ft"
    return f"{amount(plants_m2)} plants a m²"


def one_more(question: PlanQuestion, worth_kg_m2: float) -> tuple[str, str]:
    """Name one more piece of ground, and write what it would bring."""
    if question.units == "us":
        return "square foot", weight(question, worth_kg_m2 * SQUARE_FOOT_M2)
    return "square metre", weight(question, worth_kg_m2)


def room(question: PlanQuestion, litres: float) -> str:
    """Write how much room something takes."""
    return show_volume(litres, "us") if question.units == "us" else f"{amount(litres)} l"


def span(hours: float) -> str:
    """Write a span of work, in minutes where it is less than an hour."""
    if hours >= 1.0:
        return f"{amount(hours)} h"
    return count(max(1, round(hours * MINUTES_AN_HOUR)), "minute")


def count(number: int, unit: str) -> str:
    """Write so many of a thing."""
    return f"{number} {unit}" if number == 1 else f"{number} {unit}s"


def month(question: PlanQuestion, week: int) -> str:
    """Name the month in which a week begins; its year as well in a plan of more than one."""
    day = question.horizon.monday(week)
    called = MONTHS[day.month - 1]
    return f"{called} {day.year}" if question.horizon.weeks > YEAR_WEEKS else called


def stretch(question: PlanQuestion, first: int, last: int) -> str:
    """Name a run of weeks by its months: *in May*, *from May to July 2028*."""
    one, other = month(question, first), month(question, last)
    if one == other:
        return f"in {one}"
    start, end = (question.horizon.monday(week) for week in (first, last))
    if start.year == end.year:
        one = MONTHS[start.month - 1]
    return f"from {one} to {other}"


def name(question: PlanQuestion, label: str) -> str:
    """Give the name shown for an id; the id itself where none was given."""
    return question.names.get(label, label)
